//! The graph of the lines quilted now, and its paths.
//!
//! In: the lines cut where they cross, the ends that hang, and the needle's reach. Out: the problem for the solver, and its steps as
//! stretches of line.
//!
//! Stretches that follow one another with nothing else there are one line. Ways are all pairs of odd points within the reach, ends
//! that hang left out; and, between groups of lines that no such pair links, the shortest way from line to line: where it starts in the
//! middle of a line, that line gets a point there.

use super::pattern::Manner;
use super::{Path, Stretch};
use seamfall_geom::{Edge, Noded, NodedEdge, Point, Rect};
use seamfall_solve::paths::{Lines, Link, Paths, Step, fewest};
use seamfall_solve::{Budget, Proven};

/// Steps of the solver for one section: a few tenths of a second. What takes longer keeps its bound.
const STEPS: u64 = 400_000_000;

/// A line between two nodes: edges in their order, each maybe the other way.
struct Course {
    ends: [usize; 2],
    edges: Vec<Edge>,
    length: f64,
}

pub(super) struct Graph {
    nodes: Vec<Point>,
    courses: Vec<Course>,
    hangs: Vec<bool>,
    ways: Vec<([usize; 2], f64)>,
    ticks: f64,
}

impl Graph {
    pub fn new(noded: &Noded, hanging: &[Point], manner: &Manner) -> Self {
        let (mut points, mut edges) = (noded.vertices.clone(), noded.edges.clone());
        let hangs = marked(&points, hanging);
        let degrees = degrees(points.len(), &edges);
        let mut odd: Vec<usize> = (0..points.len()).filter(|&v| degrees[v] % 2 == 1 && !hangs[v]).collect();
        let mut ways = pairs(&points, &mut odd, manner.reach);
        let links = if manner.reach > 0.0 { between_groups(&points, &edges, &hangs, &ways, manner.reach) } else { Vec::new() };
        let mut kept = vec![false; points.len()];
        for link in links {
            let ends = link.map(|(edge, point)| part(&mut points, &mut edges, edge, point));
            kept.resize(points.len(), false);
            ends.iter().for_each(|&end| kept[end] = true);
            ways.push((ends, (points[ends[1]] - points[ends[0]]).hypot2().sqrt()));
        }
        let mut hangs = hangs;
        hangs.resize(points.len(), false);
        contract(&points, &edges, hangs, &kept, ways, manner.ticks)
    }

    /// Length of all lines.
    pub fn length(&self) -> f64 {
        self.courses.iter().map(|course| course.length).sum::<f64>() + 0.0
    }

    /// Where threads hang, each place once however many lines end there.
    pub fn hanging(&self) -> Vec<Point> {
        self.nodes.iter().zip(&self.hangs).filter(|(_, hangs)| **hangs).map(|(at, _)| *at).collect()
    }

    pub fn solve(&self) -> Proven<Paths> {
        let tick = |length: f64| (length * self.ticks).round().clamp(0.0, 4e9) as u32;
        let lines = self.courses.iter().map(|course| Link { ends: course.ends, length: tick(course.length) }).collect();
        let ways = self.ways.iter().map(|&(ends, length)| Link { ends, length: tick(length) }).collect();
        let problem = Lines::new(self.nodes.len(), lines, ways).expect("lines and ways lie between nodes of the graph");
        fewest(&problem, &mut Budget::steps(STEPS))
    }

    /// Steps as stretches, with whether either end hangs.
    pub fn path(&self, steps: &[Step]) -> Path {
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut ends = [None; 2];
        for step in steps {
            let (hidden, edges, nodes) = match *step {
                Step::Line { line, back } => {
                    let course = &self.courses[line];
                    let edges = course.edges.iter();
                    let edges = if back { edges.rev().map(Edge::reversed).collect() } else { edges.copied().collect::<Vec<_>>() };
                    (false, edges, if back { [course.ends[1], course.ends[0]] } else { course.ends })
                }
                Step::Way { way, back } => {
                    let [a, b] = self.ways[way].0;
                    let nodes = if back { [b, a] } else { [a, b] };
                    (true, vec![Edge::Line { from: self.nodes[nodes[0]], to: self.nodes[nodes[1]] }], nodes)
                }
            };
            ends[0].get_or_insert(nodes[0]);
            ends[1] = Some(nodes[1]);
            match stretches.last_mut() {
                Some(last) if !hidden && !last.hidden => last.edges.extend(edges),
                _ => stretches.push(Stretch { hidden, edges }),
            }
        }
        Path { stretches, hangs: ends.map(|end| end.is_some_and(|end| self.hangs[end])) }
    }
}

fn degrees(points: usize, edges: &[NodedEdge]) -> Vec<u32> {
    let mut degrees = vec![0; points];
    edges.iter().flat_map(|edge| [edge.from, edge.to]).for_each(|end| degrees[end] += 1);
    degrees
}

/// Which points lie at one of `marks`.
fn marked(points: &[Point], marks: &[Point]) -> Vec<bool> {
    const NEAR: f64 = 1e-5;
    let mut sorted: Vec<Point> = marks.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x));
    let at = |point: &Point| {
        let first = sorted.partition_point(|mark| mark.x < point.x - NEAR);
        sorted[first..].iter().take_while(|mark| mark.x <= point.x + NEAR).any(|mark| (*mark - *point).hypot2() < NEAR * NEAR)
    };
    points.iter().map(at).collect()
}

/// All pairs of `chosen` points within `reach`, by a sweep from left to right.
fn pairs(points: &[Point], chosen: &mut [usize], reach: f64) -> Vec<([usize; 2], f64)> {
    chosen.sort_by(|&a, &b| points[a].x.total_cmp(&points[b].x).then(a.cmp(&b)));
    let mut pairs = Vec::new();
    if reach <= 0.0 {
        return pairs;
    }
    for (k, &a) in chosen.iter().enumerate() {
        for &b in chosen[k + 1..].iter().take_while(|&&b| points[b].x <= points[a].x + reach) {
            let far = (points[b] - points[a]).hypot2().sqrt();
            if far <= reach + 1e-9 {
                pairs.push(([a.min(b), a.max(b)], far));
            }
        }
    }
    pairs.sort_by_key(|pair| pair.0);
    pairs
}

/// Disjoint sets of points.
struct Sets(Vec<usize>);

impl Sets {
    fn of(&mut self, mut node: usize) -> usize {
        while self.0[node] != node {
            self.0[node] = self.0[self.0[node]];
            node = self.0[node];
        }
        node
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.of(a), self.of(b));
        self.0[a.max(b)] = a.min(b);
    }
}

/// The shortest way between every two groups of lines that are not linked yet, as an edge and a point on it at either end.
fn between_groups(
    points: &[Point],
    edges: &[NodedEdge],
    hangs: &[bool],
    ways: &[([usize; 2], f64)],
    reach: f64,
) -> Vec<[(usize, Point); 2]> {
    let mut groups = Sets((0..points.len()).collect());
    edges.iter().for_each(|edge| groups.join(edge.from, edge.to));
    let of_edge: Vec<usize> = edges.iter().map(|edge| groups.of(edge.from)).collect();
    let mut linked = Sets((0..points.len()).map(|point| groups.of(point)).collect());
    ways.iter().for_each(|(ends, _)| linked.join(ends[0], ends[1]));
    let mut members: Vec<(usize, Vec<usize>, Rect)> = Vec::new();
    let mut number = vec![usize::MAX; points.len()];
    for (edge, &group) in of_edge.iter().enumerate() {
        if number[group] == usize::MAX {
            number[group] = members.len();
            members.push((group, Vec::new(), edges[edge].edge.bounds()));
        }
        let (_, list, bounds) = &mut members[number[group]];
        list.push(edge);
        *bounds = bounds.union(edges[edge].edge.bounds());
    }
    members.sort_by(|a, b| a.2.x0.total_cmp(&b.2.x0).then(a.0.cmp(&b.0)));
    let hanging: Vec<Point> = (0..points.len()).filter(|&v| hangs[v]).map(|v| points[v]).collect();
    let mut links = Vec::new();
    for (k, (a, first, bounds)) in members.iter().enumerate() {
        for (b, second, others) in members[k + 1..].iter().take_while(|(_, _, others)| others.x0 <= bounds.x1 + reach) {
            let beside = others.y0 <= bounds.y1 + reach && bounds.y0 <= others.y1 + reach;
            if beside && linked.of(*a) != linked.of(*b) {
                links.extend(shortest(edges, first, second, reach, &hanging).map(|(_, link)| link));
            }
        }
    }
    links
}

/// The shortest way between two groups, if it is within reach and starts at no end that hangs.
fn shortest(
    edges: &[NodedEdge],
    first: &[usize],
    second: &[usize],
    reach: f64,
    hanging: &[Point],
) -> Option<(f64, [(usize, Point); 2])> {
    let mut best: Option<(f64, [(usize, Point); 2])> = None;
    for &a in first {
        let near = edges[a].edge.bounds().inflate(reach, reach);
        for &b in second {
            let (one, other) = (&edges[a].edge, &edges[b].edge);
            let bounds = other.bounds();
            if bounds.x0 > near.x1 || near.x0 > bounds.x1 || bounds.y0 > near.y1 || near.y0 > bounds.y1 {
                continue;
            }
            // From a few points to and fro: each step can only come nearer.
            for share in [0.5, 0.0, 1.0, 0.25, 0.75] {
                let mut p = one.at(share);
                let mut q = other.nearest(p);
                for _ in 0..4 {
                    p = one.nearest(q);
                    q = other.nearest(p);
                }
                let far = (p - q).hypot2().sqrt();
                let hangs = |point: Point| hanging.iter().any(|hanging| (*hanging - point).hypot2() < 1e-10);
                if far <= reach + 1e-9 && best.is_none_or(|(least, _)| far < least - 1e-9) && !hangs(p) && !hangs(q) {
                    best = Some((far, [(a, p), (b, q)]));
                }
            }
        }
    }
    best
}

/// Makes `point` on an edge a point of the graph: one of its ends, or one between, the edge cut in two.
fn part(points: &mut Vec<Point>, edges: &mut Vec<NodedEdge>, edge: usize, point: Point) -> usize {
    const NEAR: f64 = 1e-10;
    // Parts cut off before lie behind the others; the one that passes the point is found again.
    let given = edges[edge].given;
    let on = |one: &NodedEdge| one.edge.distance_to(point) < 1e-6;
    let edge = if on(&edges[edge]) { edge } else { edges.iter().position(|one| one.given == given && on(one)).unwrap_or(edge) };
    let whole = edges[edge];
    for end in [whole.from, whole.to] {
        if (points[end] - point).hypot2() < NEAR {
            return end;
        }
    }
    points.push(point);
    let new = points.len() - 1;
    edges[edge] = NodedEdge { edge: whole.edge.part(whole.edge.from(), point), to: new, ..whole };
    edges.push(NodedEdge { edge: whole.edge.part(point, whole.edge.to()), from: new, ..whole });
    new
}

/// Joins edges that follow one another with nothing else there. Points that hang, that are `kept`, or that do not have two ends
/// stay; of a ring without any the first point stays.
fn contract(
    points: &[Point],
    edges: &[NodedEdge],
    hangs: Vec<bool>,
    kept: &[bool],
    ways: Vec<([usize; 2], f64)>,
    ticks: f64,
) -> Graph {
    let mut at: Vec<Vec<usize>> = vec![Vec::new(); points.len()];
    for (number, edge) in edges.iter().enumerate() {
        at[edge.from].push(number);
        at[edge.to].push(number);
    }
    let stays = |v: usize| at[v].len() != 2 || hangs[v] || kept.get(v).copied().unwrap_or(false);
    let mut used = vec![false; edges.len()];
    let mut courses = Vec::new();
    let walk = |start: usize, first: usize, used: &mut Vec<bool>| {
        let (mut node, mut edge) = (start, first);
        let mut course = Course { ends: [start, start], edges: Vec::new(), length: 0.0 };
        loop {
            used[edge] = true;
            let here = &edges[edge];
            let ahead = here.from == node;
            course.edges.push(if ahead { here.edge } else { here.edge.reversed() });
            course.length += here.edge.length();
            node = if ahead { here.to } else { here.from };
            match at[node].iter().find(|&&next| !used[next]) {
                Some(&next) if !stays(node) && node != start => edge = next,
                _ => break,
            }
        }
        course.ends[1] = node;
        course
    };
    for v in (0..points.len()).filter(|&v| stays(v)) {
        for &edge in &at[v] {
            if !used[edge] {
                courses.push(walk(v, edge, &mut used));
            }
        }
    }
    for (v, around) in at.iter().enumerate() {
        if let Some(&edge) = around.iter().find(|&&edge| !used[edge]) {
            courses.push(walk(v, edge, &mut used));
        }
    }
    Graph { nodes: points.to_vec(), courses, hangs, ways, ticks }
}
