//! What lies beside a join: cloths for the thread, threads that hang, lines that wait.
//!
//! In: the joins of the order taken, the sections' quilting. Out: for each join the darker of the two fronts along it; the hanging threads that
//! are taken up after it, and the lines that are quilted after it: those no farther from its seam than the margin, and none that is
//! near a later join as well.

use super::mesh::{Mesh, SAME};
use super::orders::Node;
use super::{Hanging, Waiting};
use crate::draft::Draft;
use crate::lap::LapWork;
use crate::set::Top;
use seamfall_geom::{Edge, Point, Vec2};
use seamfall_model::{Cloth, ClothId, Quilt};

/// A side of a section along which it is joined.
struct Reach {
    join: usize,
    /// The side's direction as its outline runs, and a point of it.
    along: Vec2,
    from: Point,
    long: f64,
    /// Whether the section lies to the right of the join.
    right: bool,
}

impl Reach {
    /// How far within the section a point lies, and how far along the side.
    fn place(&self, at: Point) -> (f64, f64) {
        let way = at - self.from;
        (self.along.cross(way), self.along.dot(way))
    }

    fn is_near(&self, at: Point, near: f64) -> bool {
        let (off, on) = self.place(at);
        off < near + SAME && -near < on && on < self.long + near
    }
}

/// For each section its sides that are joined.
pub(super) struct Beside(Vec<Vec<Reach>>);

impl Beside {
    pub fn new(mesh: &Mesh, nodes: &[Node], sections: usize) -> Self {
        let mut all: Vec<Vec<Reach>> = (0..sections).map(|_| Vec::new()).collect();
        for (join, node) in nodes.iter().enumerate() {
            for one in &mesh.lines[node.line].contacts {
                let [a, b] = one.on;
                if a < node.on[0] - SAME || b > node.on[1] + SAME {
                    continue;
                }
                let along = mesh.direction(node.line).along;
                let (start, end) = (mesh.point(node.line, a), mesh.point(node.line, b));
                all[one.left].push(Reach { join, along, from: start, long: b - a, right: false });
                all[one.right].push(Reach { join, along: -along, from: end, long: b - a, right: true });
            }
        }
        Self(all)
    }

    /// The last join whose seam any of the points is near.
    fn last_near(&self, section: usize, points: impl Iterator<Item = Point> + Clone, near: f64) -> Option<usize> {
        let reaches = self.0[section].iter();
        reaches.filter(|reach| points.clone().any(|at| reach.is_near(at, near))).map(|reach| reach.join).max()
    }

    /// For each join the threads and the lines that follow it.
    pub fn follow(&self, lap: &LapWork, joins: usize) -> Vec<(Vec<Hanging>, Vec<Waiting>)> {
        let mut all = vec![(Vec::new(), Vec::new()); joins];
        for (section, work) in lap.sections.iter().enumerate() {
            let pattern = &lap.patterns[work.pattern];
            for &at in &pattern.hanging {
                let at = at + work.shift;
                if let Some(join) = self.last_near(section, std::iter::once(at), lap.clear) {
                    all[join].0.push(Hanging { section, at });
                }
            }
            for (line, one) in pattern.lines.iter().enumerate().filter(|(_, line)| !line.now) {
                let (Some(first), Some(last)) = (one.edges.first(), one.edges.last()) else { continue };
                let points = [first.from() + work.shift, first.at(0.5) + work.shift, last.to() + work.shift];
                if let Some(join) = self.last_near(section, points.into_iter(), lap.clear) {
                    all[join].1.push(Waiting { section, line });
                }
            }
        }
        all
    }

    /// For each join the cloth that takes most of its seam on either front.
    pub fn fronts(&self, drafts: &[Draft], top: &Top, joins: usize) -> Vec<[Option<ClothId>; 2]> {
        let mut shares: Vec<[Vec<(ClothId, f64)>; 2]> = vec![[Vec::new(), Vec::new()]; joins];
        let mut lay = |section: usize, edge: &Edge, cloth: ClothId| {
            let Edge::Line { from, to } = *edge else { return };
            let (middle, way) = (from.midpoint(to), to - from);
            let side = self.0[section].iter().find(|reach| {
                let (off, on) = reach.place(middle);
                off.abs() < 10.0 * SAME
                    && on > 0.0
                    && on < reach.long
                    && way.cross(reach.along).abs() < SAME * way.hypot2().sqrt().max(1.0)
            });
            let Some(reach) = side else { return };
            let long = way.hypot2().sqrt();
            let share = &mut shares[reach.join][usize::from(reach.right)];
            match share.iter_mut().find(|(known, _)| *known == cloth) {
                Some((_, sum)) => *sum += long,
                None => share.push((cloth, long)),
            }
        };
        for strip in &top.strips {
            strip.outline.edges().iter().for_each(|edge| lay(strip.section, edge, strip.cloth));
        }
        let rims: Vec<Vec<(Edge, usize)>> = drafts.iter().map(rim).collect();
        for place in top.places.iter().filter(|place| place.frame.is_none()) {
            for (edge, part) in &rims[place.block.0] {
                if let Some(&cloth) = place.cloths.get(*part) {
                    lay(place.section, &edge.moved(place.pose), cloth);
                }
            }
        }
        let most =
            |share: &Vec<(ClothId, f64)>| share.iter().max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0))).map(|one| one.0);
        shares.iter().map(|[left, right]| [most(left), most(right)]).collect()
    }
}

/// Edges of patches on the outline of a block, each with its part.
fn rim(draft: &Draft) -> Vec<(Edge, usize)> {
    let sides = draft.outline.edges();
    let on = |at: Point| sides.iter().any(|side| (side.nearest(at) - at).hypot2() < SAME * SAME);
    let patches = draft.patches.iter().filter_map(|patch| Some((patch, patch.part?)));
    patches
        .flat_map(|(patch, part)| patch.outline.edges().iter().filter(|edge| on(edge.at(0.5))).map(move |edge| (*edge, part.0)))
        .collect()
}

/// The darker of two cloths.
pub(super) fn darker(quilt: &Quilt, cloths: [Option<ClothId>; 2]) -> Option<ClothId> {
    let luma =
        |cloth: &Cloth| 299 * u32::from(cloth.colour.0) + 587 * u32::from(cloth.colour.1) + 114 * u32::from(cloth.colour.2);
    let dark =
        |id: &ClothId| quilt.cloths.get(id.0).map(|cloth| (cloth.value, std::cmp::Reverse(luma(cloth)), std::cmp::Reverse(id.0)));
    cloths.into_iter().flatten().max_by_key(dark)
}
