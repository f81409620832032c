//! The patterns of one template in rows across the cloth.
//!
//! In: a template and cloth. Out: [`Row`]s, the densest first: all the same way up, turned by turns within the row or from row to row,
//! going to and fro; as drawn or in any turn that is allowed.

use seamfall_geom::Vec2;

use super::block::{Block, block, rows_of};
use super::lattice::{Lattice, lattices};
use super::meeting::Meetings;
use super::search::checked;
use super::shape::{Shape, shapes};
use super::strips::strip;
use super::{Cloth, HAIR, NestError, Strip, Template};

/// A pattern of rows across the cloth.
#[derive(Debug, Clone)]
pub struct Row {
    /// The turns in which pieces lie, in degrees.
    pub turns: Vec<f64>,
    /// From a piece to the next of the same turn in its row.
    pub pitch: f64,
    /// From a row to the next like it, along the cloth.
    pub up: Vec2,
    /// Height of one row by itself.
    pub height: f64,
    /// Share of cloth without end that becomes pieces.
    pub density: f64,
    lattice: Lattice,
    meetings: std::rc::Rc<Meetings>,
    width: f64,
}

impl Row {
    /// A strip of `rows` interlocking rows with all the pieces that the cloth's width gives.
    #[must_use]
    pub fn strip(&self, rows: usize) -> Strip {
        strip(&self.meetings, &rows_of(&self.meetings, &self.lattice, self.width, rows))
    }

    /// The lowest strip of this pattern with `count` pieces.
    #[must_use]
    pub fn strip_of(&self, count: usize) -> Option<Strip> {
        let Block { laid, .. } = block(&self.meetings, &self.lattice, self.width, count)?;
        Some(strip(&self.meetings, &laid))
    }
}

/// The patterns of rows of `template` on `cloth`, the densest first.
///
/// # Errors
/// [`NestError`] where the outline, the cloth or the count cannot be used.
pub fn rows(template: &Template, cloth: Cloth) -> Result<Vec<Row>, NestError> {
    checked(std::slice::from_ref(template), cloth)?;
    let meetings = std::rc::Rc::new(Meetings::new(shapes(0, template, cloth.width)?, cloth.gap));
    let all: Vec<usize> = (0..meetings.shapes.len()).collect();
    let mut found: Vec<Row> = Vec::new();
    for (shape, half_turn) in pairs(&meetings.shapes, &all) {
        let across = Vec2::new(1.0, 0.0);
        for lattice in lattices(&meetings, shape, half_turn, across, &|closest| spread(&meetings, shape, cloth.width, closest)) {
            let mut turns: Vec<f64> = lattice.members.iter().map(|&(shape, _)| meetings.shapes[shape].turn).collect();
            turns.sort_by(f64::total_cmp);
            turns.dedup();
            let row = Row {
                turns,
                pitch: lattice.along.x,
                up: lattice.up,
                height: meetings.shapes[shape].height,
                density: meetings.shapes[shape].area / lattice.cloth_each(),
                lattice,
                meetings: meetings.clone(),
                width: cloth.width,
            };
            let near = |a: Vec2, b: Vec2| (a.x - b.x).abs() <= HAIR && (a.y - b.y).abs() <= HAIR;
            let same =
                |other: &Row| other.turns == row.turns && (other.pitch - row.pitch).abs() <= HAIR && near(other.up, row.up);
            if !found.iter().any(same) {
                found.push(row);
            }
        }
    }
    found.sort_by(|a, b| b.density.total_cmp(&a.density));
    Ok(found)
}

/// Each shape, with its half turn where that is another shape; the half turn does not come again.
pub(super) fn pairs(shapes: &[Shape], of: &[usize]) -> Vec<(usize, Option<usize>)> {
    let opposite = |i: usize, j: usize| ((shapes[i].turn - shapes[j].turn).abs() - 180.0).abs() <= 1e-6;
    let mut pairs = Vec::new();
    for (k, &i) in of.iter().enumerate() {
        if of[..k].iter().any(|&j| opposite(i, j)) {
            continue;
        }
        pairs.push((i, of[k + 1..].iter().copied().find(|&j| opposite(i, j))));
    }
    pairs
}

/// Pitches at which rows come out even with the cloth's width: so many pieces, and so many and a half.
pub(super) fn spread(meetings: &Meetings, shape: usize, width: f64, closest: f64) -> Vec<f64> {
    let room = width - meetings.shapes[shape].width;
    let steps = ((room + HAIR) / closest).floor();
    let even = [room / steps, room / (steps - 0.5)];
    even.into_iter().filter(|pitch| pitch.is_finite() && *pitch > closest + HAIR && *pitch < 2.0 * closest).collect()
}
