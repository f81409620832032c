//! What is cut besides the top: the back and the batting of every lap section, pieces to practise on, and what the edge takes.
//!
//! In: the sections with their finished outlines. Out: their pieces in the cut list, each larger than its section by an allowance and
//! the oversize on every side. Half a square is cut as half a square, everything else as the rectangle it is handled by.

use super::list::{For, List, Size};
use super::rules::{self, Table};
use super::strips::true_corners;
use super::{EdgePiece, Material, Way};
use crate::set::{Section, Top};
use seamfall_geom::TOLERANCE;
use seamfall_model::{Finished, Grain, Length, Quilt};
use tr::tr;

/// Adds the pieces of the layers below the top, and of the edge.
pub(super) fn add(list: &mut List, quilt: &Quilt, top: &Top, edge: &[EdgePiece]) {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    let layers = [
        quilt.backing.map(|backing| (Material::Cloth(backing.cloth), For::Backing, backing.oversize)),
        quilt.batting.as_ref().map(|batting| (Material::Batting, For::Batting, batting.oversize)),
    ];
    for (material, what, oversize) in layers.into_iter().flatten() {
        for section in &top.sections {
            list.add(material, &of_section(section, table, oversize), what, None, 1);
        }
        if let Some(sample) = &quilt.sample {
            list.add(material, &square(table, sample.size), For::Sample, None, sample.count as usize);
        }
    }
    if let Some(sample) = &quilt.sample {
        list.add(Material::Cloth(sample.cloth), &square(table, sample.size), For::Sample, None, sample.count as usize);
    }
    for piece in edge {
        let size = Size {
            way: piece.way.clone(),
            width: piece.width.clone(),
            length: piece.length.clone(),
            grain: piece.grain,
            motif: None,
        };
        list.add(Material::Cloth(piece.cloth), &size, For::Edge(piece.what), None, piece.count);
    }
}

fn square(table: Table, side: Length) -> Size {
    Size::square(Way::Rectangle, rules::given(&tr!("side of the square"), side, table.step))
}

fn of_section(section: &Section, table: Table, oversize: Length) -> Size {
    if let Some(leg) = leg_of_half_a_square(section) {
        return Size::square(Way::HalfSquare, table.half_square_layer(Finished(leg), oversize));
    }
    let side = |what, finished: f64| table.layer(what, Finished(Length::new(finished)), oversize);
    if (section.size.x - section.size.y).abs() <= TOLERANCE {
        return Size::square(Way::Rectangle, side(&tr!("side of the square"), section.size.x));
    }
    let (narrow, long) = (section.size.x.min(section.size.y), section.size.x.max(section.size.y));
    Size {
        way: Way::Rectangle,
        width: side(&tr!("shorter side"), narrow),
        length: side(&tr!("longer side"), long),
        grain: Grain::Across,
        motif: None,
    }
}

/// The short side of a right triangle with two equal sides.
fn leg_of_half_a_square(section: &Section) -> Option<Length> {
    let [a, b, c] = true_corners(&section.outline)[..] else { return None };
    let mut sides = [a - b, b - c, c - a].map(|side| side.hypot2().sqrt());
    sides.sort_by(f64::total_cmp);
    let [leg, other, long] = sides;
    let equal = (leg - other).abs() <= 2.0 * TOLERANCE && (long - leg * std::f64::consts::SQRT_2).abs() <= 4.0 * TOLERANCE;
    equal.then(|| Length::new(other))
}
