//! The arcs that are usual between two points: half a circle to either side, and those about a point of the grid.
//!
//! In: a block and the two ends. Out: arcs that bulge within the block, from one side to the other. A free arc needs none of them: it goes through
//! any third point.

use super::act::{apex, arc};
use super::rounded;
use crate::{Arc, Block, GridPoint};
use seamfall_geom::TOLERANCE;

/// Most that are told: more cannot be told apart.
const MOST: usize = 12;

/// Share of a circle, in degrees, below which an arc is too flat to be asked for. Found by trying.
const FLATTEST_DEG: f64 = 30.0;

/// An arc between two points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsualArc {
    /// Its point farthest from the line between the ends.
    pub through: GridPoint,
    /// Its centre.
    pub centre: GridPoint,
    /// Share of a full circle, in degrees.
    pub sweep_deg: f64,
}

/// The usual arcs from `from` to `to`, from the one that bulges farthest to the left.
#[must_use]
pub fn usual_arcs(block: &Block, from: GridPoint, to: GridPoint) -> Vec<UsualArc> {
    let (a, b) = (block.to_plane(from), block.to_plane(to));
    let chord = b - a;
    if chord.length() <= TOLERANCE {
        return Vec::new();
    }
    let outline = block.shape.outline();
    let side = |arc: &UsualArc| chord.cross(block.to_plane(arc.through) - a);
    let mut arcs: Vec<UsualArc> = Vec::new();
    let middle = rounded(GridPoint { u: f64::midpoint(from.u, to.u), v: f64::midpoint(from.v, to.v) });
    for centre in std::iter::once(middle).chain(on_the_grid(block, from, to)) {
        for long_way in [false, true] {
            let top = apex(block, &Arc { from, to, centre, long_way });
            let through = block.to_grid(top);
            let inside = outline.contains(top) || outline.edges().iter().any(|edge| (edge.nearest(top) - top).length() <= 1e-4);
            let Ok(made) = arc(block, from, to, through) else { continue };
            let radius = (a - block.to_plane(centre)).length();
            let short = 2.0 * libm::asin((chord.length() / (2.0 * radius)).min(1.0)).to_degrees();
            let sweep_deg = if made.long_way { 360.0 - short } else { short };
            if inside && sweep_deg >= FLATTEST_DEG {
                arcs.push(UsualArc { through, centre, sweep_deg });
            }
        }
    }
    // The flattest are the least use.
    arcs.sort_by(|a, b| side(b).abs().total_cmp(&side(a).abs()));
    arcs.truncate(MOST);
    arcs.sort_by(|a, b| side(b).total_cmp(&side(a)));
    arcs
}

/// Points of the grid, also beyond the block, that are as far from one end as from the other.
fn on_the_grid(block: &Block, from: GridPoint, to: GridPoint) -> Vec<GridPoint> {
    let Some((n, m)) = block.grid.map(|(n, m)| (f64::from(n), f64::from(m))) else { return Vec::new() };
    let (a, b) = (block.to_plane(from), block.to_plane(to));
    // Nought on the middle line, and growing evenly along either axis.
    let off = |u: f64, v: f64| {
        let p = block.to_plane(GridPoint { u, v });
        (p - a).hypot2() - (p - b).hypot2()
    };
    let still = off(0.0, 0.0);
    let (along, up) = (off(1.0, 0.0) - still, off(0.0, 1.0) - still);
    let steps = |n: f64| (0..).map(f64::from).map(move |step: f64| step - n).take_while(move |step| *step <= 2.0 * n);
    let whole = |value: f64| (value - value.round()).abs() < 1e-6;
    let points: Vec<GridPoint> = if along.abs() > up.abs() {
        steps(m).map(|v| GridPoint { u: -(still + up * v) / along, v }).collect()
    } else {
        steps(n).map(|u| GridPoint { u, v: -(still + along * u) / up }).collect()
    };
    let near = |p: &GridPoint| whole(p.u) && whole(p.v) && p.u >= -n && p.u <= 2.0 * n && p.v >= -m && p.v <= 2.0 * m;
    let points = points.into_iter().filter(near).map(|p| GridPoint { u: p.u.round(), v: p.v.round() });
    let middle = GridPoint { u: f64::midpoint(from.u, to.u), v: f64::midpoint(from.v, to.v) };
    points.filter(|p| (block.to_plane(*p) - block.to_plane(middle)).length() > TOLERANCE).collect()
}
