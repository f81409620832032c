//! Units in words: what is sewn in which step, how many of it, and to which side it is pressed.
//!
//! In: the plan's units, how they are made, and the charts of pressing. Out: a card for each unit, in the order of making. Units that
//! come about only within others that are made in a faster way have none.

use crate::faster::{self, Step};
use crate::figures::{Figure, Figures};
use crate::pressing::Charts;
use crate::words;
use seamfall_model::{ClothId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutPiece, Material, Use, Way};
use seamfall_plan::fall::Fall;
use seamfall_plan::piece::{BendKind, Join, Sewing, Sewn, Unit, UnitPart};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use tr::tr;

/// A unit's card.
#[derive(Debug, Serialize)]
pub struct Card {
    /// `u3`.
    name: String,
    count: usize,
    /// From 1: it needs only units of earlier rounds.
    round: usize,
    figure: Figure,
    /// What it is sewn from, one entry where both parts are alike; of a faster way what is cut for one batch.
    parts: Vec<Part>,
    /// `Seam 4 1/2 in`, `3 seams, 12 in`, and what is to be known of them; or the faster way.
    seam: String,
    /// To which part it is pressed, or where that is drawn.
    press: String,
    /// Blocks it is for; where it is a whole block, which.
    used: String,
}

/// A part of a unit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Part {
    pub times: usize,
    /// Number of the cloth of a single piece.
    pub cloth: Option<usize>,
    /// `u1`, `Cream (c4)`, `Cream (c4), 4 7/8`.
    pub words: String,
}

/// A use of a unit: the join that makes it, in a design and in certain cloths.
struct Made<'a> {
    look: usize,
    design: usize,
    sewing: &'a Sewing,
    join: &'a Join,
    /// Whether it is made in a faster way.
    is_fast: bool,
}

/// What one side of a join is, told apart from the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Unit(usize),
    Piece(Option<ClothId>),
}

/// To which side copies of a unit are pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Press {
    ToFirst,
    ToSecond,
    Open,
    /// Its parts are alike, or its seams fall to different sides.
    AsDrawn,
}

/// Cards of all units.
pub fn cards(quilt: &Quilt, plan: &Plan, charts: &Charts, figures: &mut Figures) -> Vec<Card> {
    let mut made: Vec<Vec<Made>> = plan.units.all.iter().map(|_| Vec::new()).collect();
    for (number, look) in plan.units.looks.iter().enumerate() {
        let sewing = plan.falls.sewing(&plan.piecing, look.design);
        let steps = faster::steps(plan, number, &sewing.joins);
        for ((&unit, join), step) in look.units.iter().zip(&sewing.joins).zip(steps) {
            if step != Step::Within {
                made[unit].push(Made { look: number, design: look.design, sewing, join, is_fast: step == Step::Faster });
            }
        }
    }
    let mut cards = Vec::new();
    for (number, made) in made.iter().enumerate() {
        if !made.is_empty() {
            cards.push(card(quilt, plan, charts, number, made, figures));
        }
    }
    cards
}

fn card(quilt: &Quilt, plan: &Plan, charts: &Charts, number: usize, made: &[Made], figures: &mut Figures) -> Card {
    let unit = &plan.units.all[number];
    let parts = unit.parts.map(|part| part_in_words(quilt, plan, unit, part));
    let faster = faster::of(plan, number);
    let press = match faster {
        // Its earlier seams have no card of their own.
        Some(_) if unit.pieces.len() > 2 => tr!("Press {made}", made = drawn(charts, made)),
        _ => press(plan, charts, unit, &parts, made),
    };
    let (parts, seam) = match (faster, parts) {
        (Some(way), _) => (faster::parts(quilt, plan, way), faster::how(quilt, way)),
        (None, [first, second]) if first == second => (vec![Part { times: 2, ..first }], seam(quilt, plan, unit, made)),
        (None, both) => (both.to_vec(), seam(quilt, plan, unit, made)),
    };
    Card {
        name: unit.name.clone(),
        count: made.iter().map(|one| plan.units.looks[one.look].places.len()).sum(),
        round: unit.depth + 1,
        figure: Figure { path: figures.unit(quilt, unit), alt: alt(quilt, unit) },
        parts,
        seam,
        press,
        used: used(quilt, charts, unit, made),
    }
}

fn alt(quilt: &Quilt, unit: &Unit) -> String {
    let cloths: BTreeSet<ClothId> = unit.pieces.iter().filter_map(|piece| piece.cloth).collect();
    let cloths: Vec<&str> = cloths.iter().map(|cloth| quilt.cloths[cloth.0].name.as_str()).collect();
    tr!(
        "Unit {unit}: {pieces} of {cloths}",
        unit = unit.name,
        pieces = tr!("1 piece" | "{n} pieces" % unit.pieces.len()),
        cloths = cloths.join(", ")
    )
}

/// `u1`, or the cloth of a single piece and its name in the cut list.
fn part_in_words(quilt: &Quilt, plan: &Plan, unit: &Unit, part: UnitPart) -> Part {
    let piece = match part {
        UnitPart::Unit(number) => {
            return Part { times: 1, cloth: None, words: plan.units.all[number].name.clone() };
        }
        UnitPart::Piece(piece) => &unit.pieces[piece],
    };
    let Some(cloth) = piece.cloth else { return Part { times: 1, cloth: None, words: tr!("a patch without cloth") } };
    let block = unit.blocks[0];
    let patch = plan.drafts[block.0].patches.get(piece.piece);
    let is_for = |one: &Use| match (one, patch) {
        (Use::Template { block: of, template, .. }, Some(patch)) => (*of, *template) == (block, patch.template),
        _ => false,
    };
    let by_itself = |cut: &&CutPiece| cut.of == Material::Cloth(cloth) && !matches!(cut.way, Way::Unit(_));
    let cut = plan.cutting.pieces.iter().filter(by_itself).find(|cut| cut.uses.iter().any(is_for));
    let name = &quilt.cloths[cloth.0].name;
    let words = match (cut, patch) {
        (Some(cut), _) => format!("{name} ({})", cut.name),
        (None, Some(_)) => name.clone(),
        (None, None) => tr!("{name} (frame)", name),
    };
    Part { times: 1, cloth: Some(cloth.0 + 1), words }
}

/// How long its seams are when finished, and what they ask for.
fn seam(quilt: &Quilt, plan: &Plan, unit: &Unit, made: &[Made]) -> String {
    let length: f64 = unit.seams.iter().map(|edge| edge.length()).sum();
    let length = format!("{} {}", words::length(quilt, length), quilt.measure.sign());
    let Some(first) = made.first() else { return length };
    let mut said = vec![match first.join.seams.len() {
        0 | 1 => tr!("Seam {length}", length),
        many => tr!("{many} seams, {length}", many, length),
    }];
    let bends = |kind| first.join.bends.iter().filter(|bend| bend.kind == kind).count();
    match bends(BendKind::SetIn) {
        0 => {}
        many => said.push(tr!("set in {many}", many = tr!("1 corner" | "{n} corners" % many))),
    }
    match bends(BendKind::Partial) {
        0 => {}
        1 => said.push(tr!("finishes a seam sewn in part")),
        many => said.push(tr!("finishes {many} seams sewn in part", many)),
    }
    let finishes =
        |other: &&seamfall_plan::piece::Seam| other.continues.is_some_and(|earlier| first.join.seams.contains(&earlier.seam));
    if let Some(later) = first.sewing.seams.iter().find(finishes) {
        let name = &plan.units.all[plan.units.looks[first.look].units[later.join]].name;
        said.push(tr!("sew it in part: {name} finishes it", name));
    }
    said.join("; ")
}

/// To which part it is pressed, with counts where copies differ.
fn press(plan: &Plan, charts: &Charts, unit: &Unit, parts: &[Part; 2], made: &[Made]) -> String {
    let own = unit.parts.map(|part| match part {
        UnitPart::Unit(number) => Side::Unit(number),
        UnitPart::Piece(piece) => Side::Piece(unit.pieces[piece].cloth),
    });
    let mut counts: BTreeMap<Press, usize> = BTreeMap::new();
    for one in made {
        let look = &plan.units.looks[one.look];
        let left = match one.join.left {
            Sewn::Piece(piece) => Side::Piece(look.cloths[piece]),
            Sewn::Join(join) => Side::Unit(look.units[join]),
        };
        for &place in &look.places {
            let falls = &plan.falls.pressing(&plan.piecing, place).falls;
            let mut falls = one.join.seams.iter().map(|&seam| falls[seam]);
            let first = falls.next();
            let press = match first {
                Some(fall) if falls.any(|other| other != fall) => Press::AsDrawn,
                Some(Fall::Open) => Press::Open,
                Some(_) if own[0] == own[1] => Press::AsDrawn,
                Some(fall) if (fall == Fall::Left) == (left == own[0]) => Press::ToFirst,
                Some(_) => Press::ToSecond,
                None => continue,
            };
            *counts.entry(press).or_default() += 1;
        }
    }
    let to = |press: Press| match press {
        Press::ToFirst => tr!("to {parts}", parts = parts[0].words),
        Press::ToSecond => tr!("to {parts}", parts = parts[1].words),
        Press::Open => tr!("open"),
        Press::AsDrawn => drawn(charts, made),
    };
    let many = counts.len() > 1;
    let texts = counts.into_iter().map(|(press, count)| if many { format!("{count} {}", to(press)) } else { to(press) });
    tr!("Press {ways}", ways = texts.collect::<Vec<_>>().join(", "))
}

/// `as seams 3, 5 of P1`: those of its joins, and of what they hold that has no card.
fn drawn(charts: &Charts, made: &[Made]) -> String {
    let Some(first) = made.first() else { return String::new() };
    let mut seams = BTreeSet::new();
    for one in made.iter().filter(|one| one.design == first.design) {
        let mut open = vec![one.join];
        while let Some(join) = open.pop() {
            seams.extend(join.seams.iter().map(|seam| seam + 1));
            if one.is_fast {
                open.extend([join.left, join.right].iter().filter_map(|part| match part {
                    Sewn::Join(number) => Some(&one.sewing.joins[*number]),
                    Sewn::Piece(_) => None,
                }));
            }
        }
    }
    let mut shown: Vec<String> = seams.iter().take(6).map(usize::to_string).collect();
    if seams.len() > shown.len() {
        shown.push("…".to_owned());
    }
    let (numbers, charts) = (shown.join(", "), charts.names_of(first.design));
    if seams.len() == 1 {
        tr!("as seam {numbers} of {charts}", numbers, charts)
    } else {
        tr!("as seams {numbers} of {charts}", numbers, charts)
    }
}

/// `for Churn dash`, or `the block Churn dash: P1, P2`.
fn used(quilt: &Quilt, charts: &Charts, unit: &Unit, made: &[Made]) -> String {
    let mut names: Vec<&str> = unit.blocks.iter().map(|block| quilt.blocks[block.0].name.as_str()).collect();
    if unit.is_whole {
        let designs: BTreeSet<usize> = made.iter().map(|one| one.design).collect();
        let charts: Vec<String> = designs.iter().map(|&design| charts.names_of(design)).collect();
        return tr!("{names}, whole: see {charts}", names = names.join(", "), charts = charts.join(", "));
    }
    let more = names.len().saturating_sub(2);
    names.truncate(2);
    let names = names.join(", ");
    if more > 0 { tr!("For {names} and {more} more", names, more) } else { tr!("For {names}", names) }
}
