//! Units made in a faster way, in words: what is cut for one batch, how it is sewn and cut apart, how often.
//!
//! In: the plan's making. Out: for each join whether it is sewn by itself, and the words of a card.

use crate::units::Part;
use crate::words;
use seamfall_model::{MakingWay, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutFor, FasterWay, Material, Way};
use seamfall_plan::piece::{Join, Sewn, UnitKind};
use std::collections::BTreeSet;
use tr::tr;

/// How a join comes about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// It is sewn by itself.
    Plain,
    /// Its unit is made in a faster way.
    Faster,
    /// It comes about within such a unit.
    Within,
}

/// The faster way that is taken for a unit.
pub fn of(plan: &Plan, unit: usize) -> Option<&FasterWay> {
    plan.making.units.iter().find(|making| making.unit == unit)?.faster()
}

/// How each of the `joins` of a look comes about.
pub fn steps(plan: &Plan, look: usize, joins: &[Join]) -> Vec<Step> {
    let (units, making) = (&plan.units.looks[look].units, &plan.making.looks[look]);
    let first_piece = |mut sewn: Sewn| loop {
        match sewn {
            Sewn::Piece(piece) => return piece,
            Sewn::Join(join) => sewn = joins[join].left,
        }
    };
    let mut steps = vec![Step::Plain; joins.len()];
    // Wholes before their parts.
    for number in (0..joins.len()).rev() {
        let own = || making.units.get(first_piece(joins[number].left)).copied().flatten().map(|own| &plan.making.units[own]);
        if steps[number] == Step::Plain && own().is_some_and(|own| own.unit == units[number] && own.taken.is_some()) {
            steps[number] = Step::Faster;
        }
        if steps[number] != Step::Plain {
            for part in [joins[number].left, joins[number].right] {
                if let Sewn::Join(join) = part {
                    steps[join] = Step::Within;
                }
            }
        }
    }
    steps
}

/// What is cut for one batch.
pub fn parts(quilt: &Quilt, plan: &Plan, way: &FasterWay) -> Vec<Part> {
    let part = |from: &CutFor| {
        let same = |a: f64, b: f64| (a - b).abs() < 1e-4;
        let mut pieces =
            plan.cutting.pieces.iter().filter(|piece| piece.of == Material::Cloth(from.cloth) && piece.way == Way::Unit(way.way));
        let piece = pieces
            .find(|piece| same(piece.width.exact, from.width.exact) && same(piece.length.exact, from.length.exact))
            .map_or_else(String::new, |piece| format!(" ({})", piece.name));
        let name = &quilt.cloths[from.cloth.0].name;
        Part {
            times: from.a_batch,
            cloth: Some(from.cloth.0 + 1),
            words: format!("{name}{piece}, {}", words::length(quilt, from.width.value)),
        }
    };
    way.from.iter().map(part).collect()
}

/// `Two at a time, 12 times; 2 over`.
pub fn how(quilt: &Quilt, way: &FasterWay) -> String {
    let times = match way.batches.value {
        once if once < 1.5 => tr!("once"),
        many => tr!("{many} times", many = format_args!("{many:.0}")),
    };
    let across = way.set.as_ref().map(|set| tr!(", cut across every {cut}", cut = words::length(quilt, set.cut.value)));
    let over = match way.over {
        0 => String::new(),
        over if way.has_mirrored => tr!("; {over} over, half of all as mirror images", over),
        over => tr!("; {over} over", over),
    };
    format!("{}, {times}{}{over}", seamfall_class::words::capital(&words::making_way(way.way)), across.unwrap_or_default())
}

/// How each way that is taken in the quilt is sewn, and what it is called.
pub fn instructions(quilt: &Quilt, plan: &Plan) -> Vec<(String, String)> {
    let taken: BTreeSet<(usize, bool)> =
        plan.making.units.iter().filter_map(|making| Some(rank(making.faster()?.way, &making.kind))).collect();
    taken.into_iter().map(|one| instruction(quilt, one)).collect()
}

/// The ways in the order of the book; units of four triangles have their own.
fn rank(way: MakingWay, kind: &UnitKind) -> (usize, bool) {
    let number = match way {
        MakingWay::Plain => 0,
        MakingWay::TwoAtATime => 1,
        MakingWay::FourAtATime => 2,
        MakingWay::EightAtATime => 3,
        MakingWay::StripSet => 4,
    };
    (number, matches!(kind, UnitKind::QuarterSquares { .. }))
}

fn instruction(quilt: &Quilt, (number, of_quarters): (usize, bool)) -> (String, String) {
    let by = words::allowance(quilt);
    let (title, text) = match (number, of_quarters) {
        (1, false) => (
            tr!("Two at a time"),
            tr!("Lay two squares right sides together, sew {by} to either side of a diagonal, and cut along it.", by),
        ),
        (1, true) => (
            tr!("Two at a time, of four triangles"),
            tr!(
                "Make half-square units of two squares each, lay two of these right sides together with their seams nested, \
                 sew {by} to either side of the diagonal that crosses the seams, and cut along it.",
                by
            ),
        ),
        (2, _) => (
            tr!("Four at a time"),
            tr!(
                "Lay two small squares on opposite corners of the large one, sew {by} to either side of the diagonal through both, and cut along it. \
                 Press, lay a small square on the corner that is left of each half, sew {by} to either side of its diagonal out of that corner, and cut along it.",
                by
            ),
        ),
        (3, _) => (
            tr!("Eight at a time"),
            tr!(
                "Lay two squares right sides together, sew {by} to either side of both diagonals, and cut along them and across both middles.",
                by
            ),
        ),
        (4, _) => (tr!("From a strip set"), tr!("Sew the strips side by side along their length, press, and cut across.")),
        _ => (tr!("Plain"), tr!("Sew patch by patch.")),
    };
    (title, text)
}
