//! What comes of an order of sewing: the seams, and every point at which earlier ones meet a later one.
//!
//! In: pieces and the order of their joins. Out: seams (a join with bends is one a leg; a seam finished later is one with
//! what was sewn of it before) and, along each, the points at which something ends on it from either side or may. A unit carries the
//! ends of seams on its edge, at each point only the one sewn last: its allowance lies over the others.

use super::mesh::{Half, Mesh};
use super::order::{Joint, Order, Sewn};
use super::{Bend, BendKind, Continued, End, Join, RimEnd, Seam, SeamPoint, SeamStretch, Sewing};
use seamfall_geom::{Edge, Point, Vec2};

/// Ends nearer to each other than this are at one point.
const NEAR: f64 = 2e-5;

/// Sews the pieces of `mesh` in an order; `open` has the ends of seams on the edge of each piece.
pub(super) fn sew(mesh: &Mesh, order: &Order, open: &dyn Fn(usize) -> Vec<RimEnd>) -> Sewing {
    let mut sewer = Sewer { mesh, sewing: Sewing::default(), units: Vec::with_capacity(order.joins.len()) };
    for joint in &order.joins {
        sewer.join(joint, open);
    }
    let rim = match order.whole {
        Some(Sewn::Join(last)) => std::mem::take(&mut sewer.units[last]),
        Some(Sewn::Piece(piece)) => open(piece),
        None => Vec::new(),
    };
    let mut sewing = sewer.sewing;
    sewing.rim = rim;
    sewing.whole = order.whole;
    (sewing.bends, sewing.bends_bound) = (order.bends, order.bound);
    sewing.stuck.clone_from(&order.stuck);
    sewing
}

struct Sewer<'a> {
    mesh: &'a Mesh,
    sewing: Sewing,
    /// Ends on the edge of what each join has made, until it is sewn in.
    units: Vec<Vec<RimEnd>>,
}

/// One straight or round part of a seam while it is sewn.
struct Leg {
    halves: Vec<Half>,
    bends_at_start: bool,
    bends_at_end: bool,
}

/// Along a leg: how far, the point, and how many seams end there on the left and on the right.
type Met = (f64, SeamPoint, [u32; 2]);

impl Leg {
    /// Whether it is a whole circle.
    fn is_closed(&self, mesh: &Mesh) -> bool {
        mesh.start(self.halves[0]) == mesh.end(self.halves[self.halves.len() - 1]) && !self.bends_at_start
    }
}

impl Sewer<'_> {
    fn join(&mut self, joint: &Joint, open: &dyn Fn(usize) -> Vec<RimEnd>) {
        let mut take = |sewn| match sewn {
            Sewn::Piece(piece) => open(piece),
            Sewn::Join(join) => std::mem::take(&mut self.units[join]),
        };
        let (mut left, mut right) = (take(joint.left), take(joint.right));
        let join = self.sewing.joins.len();
        let (mut seams, mut bends, mut new) = (Vec::new(), Vec::new(), Vec::new());
        for path in &joint.paths {
            for leg in legs(self.mesh, path) {
                let seam = self.sewing.seams.len();
                self.sewing.seams.push(self.seam(&leg, join));
                seams.push(seam);
                let covered = self.meet(seam, &leg, &mut left, &mut right);
                let (start, end) = (self.sewing.seams[seam].from(), self.sewing.seams[seam].to());
                if leg.is_closed(self.mesh) {
                    continue;
                }
                let ends = [(start, true, leg.bends_at_start), (end, false, leg.bends_at_end)];
                for ((at, at_start, bent), covered) in ends.into_iter().zip(covered) {
                    if !bent {
                        new.push(RimEnd { at, end: End::Own { seam, at_start }, seams: covered + 1 });
                    } else if at_start {
                        bends.push(Bend { at, kind: BendKind::SetIn });
                    }
                }
            }
        }
        self.finish_partial(&mut bends, &mut left, &mut right, &seams);
        left.append(&mut right);
        left.append(&mut new);
        self.units.push(left);
        self.sewing.joins.push(Join { left: joint.left, right: joint.right, seams, bends });
    }

    fn seam(&self, leg: &Leg, join: usize) -> Seam {
        let stretch = |&half: &Half| SeamStretch {
            edge: self.mesh.course(half),
            left: self.mesh.left(half).expect("a seam has a piece on either side"),
            right: self.mesh.left(half.reversed()).expect("a seam has a piece on either side"),
        };
        Seam { course: leg.halves.iter().map(stretch).collect(), join, continues: None }
    }

    /// Records what ends along a leg on either side, and takes those ends off the units: the new seam lies over them. Says how
    /// many seams end where the leg starts and where it ends.
    fn meet(&mut self, seam: usize, leg: &Leg, left: &mut Vec<RimEnd>, right: &mut Vec<RimEnd>) -> [u32; 2] {
        let course = whole(&self.sewing.seams[seam].course);
        let length: f64 = course.iter().map(Edge::length).sum();
        let mut points: Vec<Met> = Vec::new();
        let ends = [(0.0, course[0].from(), leg.bends_at_start), (length, course[course.len() - 1].to(), leg.bends_at_end)];
        for (along, at, bend) in ends.into_iter().filter(|_| !leg.is_closed(self.mesh)) {
            points.push((along, SeamPoint { seam, at, left: None, right: None, weight: 0, bend, is_end: true }, [0, 0]));
        }
        for (side, open) in [&mut *left, &mut *right].into_iter().enumerate() {
            open.retain(|open| {
                let Some(along) = along(&course, open.at) else { return true };
                let known = points.iter().position(|(other, ..)| (other - along).abs() <= NEAR);
                // At a bend what ends there stays free until the seam has gone round the corner.
                if known.is_some_and(|known| points[known].1.bend) {
                    return true;
                }
                let known = known.unwrap_or_else(|| {
                    let point = SeamPoint { seam, at: open.at, left: None, right: None, weight: 0, bend: false, is_end: false };
                    points.push((along, point, [0, 0]));
                    points.len() - 1
                });
                let (_, point, seams) = &mut points[known];
                *(if side == 0 { &mut point.left } else { &mut point.right }) = Some(open.end);
                seams[side] += open.seams;
                false
            });
        }
        let covered = [0, 1].map(|end| points.get(end).filter(|(_, point, _)| point.is_end).map_or(0, |(_, _, [l, r])| l + r));
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        self.sewing.points.extend(points.into_iter().map(|(_, mut point, [l, r])| {
            point.weight = (l + r).saturating_sub(1);
            point
        }));
        covered
    }

    /// At each bend: an earlier seam that ends there in line with a leg was sewn in part, and the leg finishes it. What else ended
    /// at the bend lies inside now.
    fn finish_partial(&mut self, bends: &mut [Bend], left: &mut Vec<RimEnd>, right: &mut Vec<RimEnd>, seams: &[usize]) {
        for bend in bends {
            let here = |open: &RimEnd| (open.at - bend.at).hypot2() <= NEAR * NEAR;
            let ended: Vec<RimEnd> = left.iter().chain(right.iter()).filter(|open| here(open)).copied().collect();
            left.retain(|open| !here(open));
            right.retain(|open| !here(open));
            for earlier in ended {
                let End::Own { seam: first, at_start } = earlier.end else { continue };
                let in_line = |&&leg: &&usize| self.goes_on(first, at_start, leg, bend.at);
                if let Some(&leg) = seams.iter().find(in_line) {
                    bend.kind = BendKind::Partial;
                    let starts = (self.sewing.seams[leg].from() - bend.at).hypot2() <= NEAR * NEAR;
                    self.sewing.seams[leg].continues = Some(Continued { seam: first, reversed: at_start == starts });
                }
            }
        }
    }

    /// Whether a leg goes on where seam `first` ends, straight or along its circle.
    fn goes_on(&self, first: usize, at_start: bool, leg: usize, at: Point) -> bool {
        let out = |seam: &Seam, at_start: bool| {
            let course = &seam.course;
            if at_start { course[0].edge } else { course[course.len() - 1].edge.reversed() }
        };
        let earlier = out(&self.sewing.seams[first], at_start);
        let seam = &self.sewing.seams[leg];
        let starts = (seam.from() - at).hypot2() <= NEAR * NEAR;
        let later = out(seam, starts);
        let (a, b) = (earlier.direction_from(), later.direction_from());
        let same_kind = match (earlier, later) {
            (Edge::Line { .. }, Edge::Line { .. }) => true,
            (Edge::Arc { centre, .. }, Edge::Arc { centre: other, .. }) => (centre - other).hypot2() <= NEAR * NEAR,
            _ => false,
        };
        same_kind && a.dot(b) < 0.0 && a.cross(b).abs() <= 1e-6
    }
}

/// The legs of a path: it is cut where it bends. A closed path without a bend is one leg.
fn legs(mesh: &Mesh, path: &[Half]) -> Vec<Leg> {
    let n = path.len();
    let closed = mesh.end(path[n - 1]) == mesh.start(path[0]);
    let bends_after = |i: usize| (i + 1 < n || closed) && mesh.onward(path[i]) != Some(path[(i + 1) % n]);
    let mut legs: Vec<Leg> = Vec::new();
    for (i, &half) in path.iter().enumerate() {
        let bent = i > 0 && bends_after(i - 1) || i == 0 && bends_after(n - 1);
        match legs.last_mut() {
            Some(leg) if !bent => leg.halves.push(half),
            _ => legs.push(Leg { halves: vec![half], bends_at_start: bent, bends_at_end: false }),
        }
        if let Some(leg) = legs.last_mut() {
            leg.bends_at_end = bends_after(i);
        }
    }
    legs
}

/// The course of a leg in as few edges as it takes.
pub(super) fn whole(course: &[SeamStretch]) -> Vec<Edge> {
    let edges: Vec<Edge> = course.iter().map(|stretch| stretch.edge).collect();
    match edges[0] {
        Edge::Line { from, .. } => vec![Edge::Line { from, to: edges[edges.len() - 1].to() }],
        Edge::Arc { .. } => edges,
    }
}

/// How far along a course a point lies; nothing where it lies beside it.
fn along(course: &[Edge], point: Point) -> Option<f64> {
    let mut before = 0.0;
    for edge in course {
        if (edge.nearest(point) - point).hypot2() <= NEAR * NEAR {
            return Some(before + so_far(edge, point));
        }
        before += edge.length();
    }
    None
}

/// Length of an edge from its start to a point on it.
fn so_far(edge: &Edge, point: Point) -> f64 {
    if (edge.from() - point).hypot2() <= NEAR * NEAR {
        return 0.0;
    }
    match *edge {
        Edge::Line { from, .. } => {
            let away: Vec2 = point - from;
            away.hypot2().sqrt()
        }
        Edge::Arc { from, centre, turn, .. } => Edge::Arc { from, to: point, centre, turn }.length(),
    }
}
