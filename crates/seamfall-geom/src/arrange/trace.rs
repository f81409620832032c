//! Walking round the faces.
//!
//! In: vertices, and edges that meet only at them. Out: the faces, and for each edge the face on either side.
//!
//! Every edge is two halves, one each way. At a vertex the halves that leave it are put in order round it; a walk that always
//! takes the next one clockwise keeps one face to its left. Walks that turn anticlockwise are outlines, the others holes or the
//! outside of the frame. Each half belongs to exactly one walk, and the areas of all walks cancel: that is why the faces always
//! add up to the frame.

use std::cmp::Ordering;

use super::{ArrangedEdge, Face, Source, incidence};
use crate::outline::swept_area;
use crate::plane::distance;
use crate::{Edge, Loop, Point, Rect, TOLERANCE, Vec2};

const NONE: u32 = u32::MAX;

/// A closed walk.
struct Walk {
    halves: Vec<u32>,
    area: f64,
    outside: bool,
}

/// See the head of the module.
pub(super) fn faces(vertices: &[Point], edges: &mut [ArrangedEdge]) -> Vec<Face> {
    if edges.is_empty() {
        return Vec::new();
    }
    let mut bounds_something = vec![true; edges.len()];
    let (walks, walk_of) = loop {
        drop_dangling(vertices.len(), edges, &mut bounds_something);
        let (walks, walk_of) = walks(vertices, edges, &bounds_something);
        let mut dropped = false;
        for (i, edge) in edges.iter().enumerate() {
            // The same walk on both sides: the edge only ties outlines together.
            if bounds_something[i] && walk_of[2 * i] == walk_of[2 * i + 1] && !matches!(edge.source, Source::Frame(_)) {
                bounds_something[i] = false;
                dropped = true;
            }
        }
        if !dropped {
            break (walks, walk_of);
        }
    };

    let mut faces = Vec::new();
    let mut face_of = vec![NONE; walks.len()];
    for (w, walk) in walks.iter().enumerate() {
        if walk.area > 0.0 && !walk.outside {
            face_of[w] = faces.len() as u32;
            faces.push(outline(walk, edges));
        }
    }
    let places = Places::new(&faces, vertices, edges, &bounds_something, &walks, &face_of);
    for (w, walk) in walks.iter().enumerate() {
        if walk.area > 0.0 || walk.outside {
            continue;
        }
        let edge = &edges[walk.halves[0] as usize / 2];
        let parent = places.innermost(&faces, vertices[edge.from], Some(places.part(edge.from)));
        // Nothing encloses it only when the frame itself is tangled; the areas still add up.
        if let Some(parent) = parent.or((!faces.is_empty()).then_some(0)) {
            face_of[w] = parent as u32;
            let hole = walk.halves.iter().map(|&half| directed(half, edges)).collect();
            faces[parent].holes.push(Loop::new(hole));
        }
    }
    let side = |half: usize| match walk_of[half] {
        NONE => None,
        walk => Some(face_of[walk as usize]).filter(|&face| face != NONE).map(|face| face as usize),
    };
    let sides: Vec<_> = (0..edges.len())
        .map(|i| {
            if bounds_something[i] {
                (side(2 * i), side(2 * i + 1))
            } else {
                let around = places.innermost(&faces, edges[i].edge.at(0.5), None);
                (around, around)
            }
        })
        .collect();
    in_order(faces, sides, edges)
}

/// Drops edges with a loose end until none is left.
fn drop_dangling(vertices: usize, edges: &[ArrangedEdge], kept: &mut [bool]) {
    let mut count = vec![0u32; vertices];
    let ends: Vec<(u32, u32)> = edges.iter().map(|e| (e.from as u32, e.to as u32)).collect();
    for &(from, to) in ends.iter().zip(kept.iter()).filter_map(|(ends, kept)| kept.then_some(ends)) {
        count[from as usize] += 1;
        count[to as usize] += 1;
    }
    let mut loose: Vec<usize> = (0..vertices).filter(|&v| count[v] == 1).collect();
    if loose.is_empty() {
        return;
    }
    let (starts, items) = incidence(vertices, &ends);
    while let Some(v) = loose.pop() {
        for &half in &items[starts[v] as usize..starts[v + 1] as usize] {
            let i = half as usize / 2;
            if kept[i] && count[v] == 1 {
                kept[i] = false;
                let other = if edges[i].from == v { edges[i].to } else { edges[i].from };
                count[v] -= 1;
                count[other] -= 1;
                if count[other] == 1 {
                    loose.push(other);
                }
            }
        }
    }
}

/// All walks, and the walk of every half-edge. Half `2 i` runs along edge `i`, half `2 i + 1` against it.
fn walks(vertices: &[Point], edges: &[ArrangedEdge], kept: &[bool]) -> (Vec<Walk>, Vec<u32>) {
    let ends: Vec<(u32, u32)> = edges.iter().map(|e| (e.from as u32, e.to as u32)).collect();
    let (starts, items) = incidence(vertices.len(), &ends);
    let mut next = vec![NONE; 2 * edges.len()];
    let mut ring: Vec<(Vec2, u32)> = Vec::new();
    for v in 0..vertices.len() {
        let leaving = || items[starts[v] as usize..starts[v + 1] as usize].iter().filter(|&&half| kept[half as usize / 2]);
        let reach = leaving().map(|&half| reach(&edges[half as usize / 2].edge)).fold(f64::INFINITY, f64::min) / 2.0;
        ring.clear();
        ring.extend(leaving().map(|&half| (direction_at(&directed(half, edges), reach), half)));
        if ring.len() > 2 {
            ring.sort_by(|a, b| by_angle(a.0, b.0).then(a.1.cmp(&b.1)));
        }
        for k in 0..ring.len() {
            // Arriving by the twin of one, leave by the one before it in anticlockwise order.
            next[(ring[k].1 ^ 1) as usize] = ring[(k + ring.len() - 1) % ring.len()].1;
        }
    }
    let area_of: Vec<f64> = edges.iter().map(|e| swept_area(&e.edge, vertices[0])).collect();
    let mut walks = Vec::new();
    let mut walk_of = vec![NONE; next.len()];
    for start in 0..next.len() {
        if next[start] == NONE || walk_of[start] != NONE {
            continue;
        }
        let mut walk = Walk { halves: Vec::new(), area: 0.0, outside: false };
        let mut half = start;
        while walk_of[half] == NONE {
            walk_of[half] = walks.len() as u32;
            walk.halves.push(half as u32);
            walk.area += if half % 2 == 0 { area_of[half / 2] } else { -area_of[half / 2] };
            walk.outside |= half % 2 == 1 && matches!(edges[half / 2].source, Source::Frame(_));
            half = next[half] as usize;
        }
        walks.push(walk);
    }
    (walks, walk_of)
}

fn directed(half: u32, edges: &[ArrangedEdge]) -> Edge {
    let edge = edges[half as usize / 2].edge;
    if half.is_multiple_of(2) { edge } else { edge.reversed() }
}

/// Distance from its start up to which an edge only goes away from it: the chord, or the diameter.
fn reach(edge: &Edge) -> f64 {
    match edge.sweep() {
        Some(sweep) if sweep > std::f64::consts::PI => 2.0 * edge.radius().unwrap_or(0.0),
        _ => distance(edge.from(), edge.to()),
    }
}

/// Direction from the start of an edge to the point of it at distance `reach`.
///
/// Edges that do not cross leave a small circle round their common start in the order in which they leave the start itself;
/// but on the circle those that start out along one tangent have parted.
fn direction_at(edge: &Edge, reach: f64) -> Vec2 {
    let along = edge.direction_from();
    let Edge::Arc { turn, .. } = *edge else { return along };
    // Angle between tangent and chord, from the triangle of chord and two radii.
    let sin = turn.sign() * (reach / (2.0 * edge.radius().unwrap_or(1.0))).min(1.0);
    let cos = (1.0 - sin * sin).max(0.0).sqrt();
    Vec2::new(along.x * cos - along.y * sin, along.y * cos + along.x * sin)
}

/// Anticlockwise order, from the right.
fn by_angle(a: Vec2, b: Vec2) -> Ordering {
    let lower = |v: Vec2| v.y < 0.0 || (v.y == 0.0 && v.x < 0.0);
    lower(a).cmp(&lower(b)).then(0.0_f64.total_cmp(&a.cross(b)).then(Ordering::Equal))
}

/// The face of an anticlockwise walk, from its lowest, then leftmost corner.
fn outline(walk: &Walk, edges: &[ArrangedEdge]) -> Face {
    let key = |half: &u32| {
        let p = directed(*half, edges).from();
        (snapped(p.y), snapped(p.x))
    };
    let mut halves = walk.halves.clone();
    let first = (0..halves.len()).min_by(|&a, &b| {
        let (a, b) = (key(&halves[a]), key(&halves[b]));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    halves.rotate_left(first.unwrap_or(0));
    Face {
        outline: Loop::new(halves.iter().map(|&half| directed(half, edges)).collect()),
        edges: halves.iter().map(|&half| half as usize / 2).collect(),
        holes: Vec::new(),
    }
}

/// Whole steps of a coordinate, so that rounding does not decide an order.
fn snapped(x: f64) -> f64 {
    (x / TOLERANCE).round() + 0.0
}

/// Finds the face round a point.
struct Places {
    bounds: Vec<Rect>,
    areas: Vec<f64>,
    /// For every vertex, a number shared by all that hang together with it.
    parts: Vec<u32>,
    /// For every face, the part its outline belongs to.
    part_of_face: Vec<u32>,
}

impl Places {
    fn new(faces: &[Face], vertices: &[Point], edges: &[ArrangedEdge], kept: &[bool], walks: &[Walk], face_of: &[u32]) -> Self {
        fn root(parts: &mut [u32], mut v: u32) -> u32 {
            while parts[v as usize] != v {
                parts[v as usize] = parts[parts[v as usize] as usize];
                v = parts[v as usize];
            }
            v
        }
        let mut parts: Vec<u32> = (0..vertices.len() as u32).collect();
        for edge in edges.iter().zip(kept).filter_map(|(edge, kept)| kept.then_some(edge)) {
            let (a, b) = (root(&mut parts, edge.from as u32), root(&mut parts, edge.to as u32));
            parts[a.max(b) as usize] = a.min(b);
        }
        let parts: Vec<u32> = (0..vertices.len() as u32).map(|v| root(&mut parts, v)).collect();
        let mut part_of_face = vec![0; faces.len()];
        for (walk, &face) in walks.iter().zip(face_of).filter(|(_, face)| **face != NONE) {
            part_of_face[face as usize] = parts[edges[walk.halves[0] as usize / 2].from];
        }
        let bounds = faces.iter().map(|face| face.outline.bounds()).collect();
        let areas = faces.iter().map(|face| face.outline.area()).collect();
        Self { bounds, areas, parts, part_of_face }
    }

    fn part(&self, vertex: usize) -> u32 {
        self.parts[vertex]
    }

    /// The smallest face round `point` that does not belong to `part`.
    fn innermost(&self, faces: &[Face], point: Point, part: Option<u32>) -> Option<usize> {
        let round = |&face: &usize| {
            let bounds = self.bounds[face];
            part != Some(self.part_of_face[face])
                && bounds.x0 <= point.x
                && point.x <= bounds.x1
                && bounds.y0 <= point.y
                && point.y <= bounds.y1
                && faces[face].outline.encloses(point)
        };
        (0..faces.len()).filter(round).min_by(|&a, &b| self.areas[a].total_cmp(&self.areas[b]))
    }
}

/// Sorts the faces from the top down, then from left to right, and writes them beside the edges.
fn in_order(faces: Vec<Face>, sides: Vec<(Option<usize>, Option<usize>)>, edges: &mut [ArrangedEdge]) -> Vec<Face> {
    let mut order: Vec<(f64, f64, usize)> = faces
        .iter()
        .enumerate()
        .map(|(i, face)| {
            let bounds = face.outline.bounds();
            (-snapped(bounds.y1), snapped(bounds.x0), i)
        })
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut place = vec![0; faces.len()];
    for (new, &(_, _, old)) in order.iter().enumerate() {
        place[old] = new;
    }
    for (edge, (left, right)) in edges.iter_mut().zip(sides) {
        edge.left = left.map(|face| place[face]);
        edge.right = right.map(|face| place[face]);
    }
    let mut sorted: Vec<(usize, Face)> = place.into_iter().zip(faces).collect();
    sorted.sort_by_key(|(place, _)| *place);
    sorted.into_iter().map(|(_, face)| face).collect()
}
