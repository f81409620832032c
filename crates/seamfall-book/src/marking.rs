//! Marking sheets: the lines to mark of every kind of section, at full size.
//!
//! In: the plan's lap work. Out: pieces for the sheets, named `M1`, `M2`, ..., and in words what each serves. Kinds of section that
//! differ only by a turn, or in lines along seams, which need no mark, share one.

use crate::Marking;
use crate::figures::Figures;
use crate::lap::{KINDS, name, names};
use crate::sheets::Piece;
use seamfall_draw::{is_marked, marked_course};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use serde::Serialize;
use std::collections::BTreeMap;
use tr::tr;

/// What a marking sheet serves.
#[derive(Debug, Serialize)]
pub struct Served {
    name: String,
    cards: String,
    sections: String,
    /// Whose seams it shows.
    seams: String,
    /// The drawing of its first sheet.
    figure: String,
}

/// Kinds of section with the same lines to mark, and by how many quarters to the left the sheet of the first is turned for each.
struct Alike {
    kinds: Vec<(usize, u32)>,
}

/// The lines to mark: what each piece serves, and the pieces; of the first kinds, as many as have cards.
pub fn marking(quilt: &Quilt, plan: &Plan, wanted: Marking, figures: &mut Figures) -> (Vec<Served>, Vec<Piece>) {
    let (mut served, mut pieces) = (Vec::new(), Vec::new());
    let sides: &[bool] = match wanted {
        Marking::None => return (served, pieces),
        Marking::Front => &[false],
        Marking::Both => &[false, true],
    };
    for (number, one) in alike(quilt, plan).iter().enumerate() {
        let mark = format!("M{}", number + 1);
        let sections: Vec<usize> = one.kinds.iter().flat_map(|&(kind, _)| plan.lap.sections_of(kind)).collect();
        let Some(&first) = sections.first() else { continue };
        let printed = sides.iter().filter_map(|&mirrored| piece(quilt, plan, first, (&mark, mirrored), figures));
        let from = pieces.len();
        pieces.extend(printed);
        let Some(figure) = pieces.get(from).map(|piece: &Piece| piece.figure.clone()) else { continue };
        served.push(Served {
            name: mark,
            cards: one.kinds.iter().copied().map(turned).collect::<Vec<_>>().join(", "),
            sections: names(plan, &sections).join(", "),
            seams: plan.top.sections[first].name.clone(),
            figure,
        });
    }
    (served, pieces)
}

fn alike(quilt: &Quilt, plan: &Plan) -> Vec<Alike> {
    let mut all: Vec<Alike> = Vec::new();
    let mut known: BTreeMap<Vec<[i64; 7]>, usize> = BTreeMap::new();
    let quilted = plan.lap.patterns.iter().enumerate().filter(|(_, pattern)| !pattern.lines.is_empty());
    for (number, pattern) in quilted.take(KINDS) {
        if !pattern.lines.iter().any(|line| is_marked(quilt, line)) {
            continue;
        }
        // Turned so, it lies as one before it.
        let found = (0..4).find_map(|quarters| Some((*known.get(&marked_course(quilt, pattern, quarters))?, quarters)));
        match found {
            // And that one is turned the other way to lie on it.
            Some((one, quarters)) => all[one].kinds.push((number, (4 - quarters) % 4)),
            None => {
                known.insert(marked_course(quilt, pattern, 0), all.len());
                all.push(Alike { kinds: vec![(number, 0)] });
            }
        }
    }
    all
}

/// A card, and how the sheet is turned for it.
fn turned((kind, quarters): (usize, u32)) -> String {
    let name = name(kind);
    match quarters {
        0 => name,
        1 => tr!("{name} (sheet turned a quarter to the left)", name),
        2 => tr!("{name} (sheet turned by half)", name),
        _ => tr!("{name} (sheet turned a quarter to the right)", name),
    }
}

fn piece(quilt: &Quilt, plan: &Plan, section: usize, (mark, mirrored): (&str, bool), figures: &mut Figures) -> Option<Piece> {
    let (figure, drawing) = figures.marking(quilt, plan, section, mirrored)?;
    let inch = quilt.measure.inch();
    let (side, from) = if mirrored { (tr!(", mirrored"), tr!(", seen from the back")) } else { (String::new(), String::new()) };
    Some(Piece {
        figure,
        alt: tr!("Lines to mark {mark}{from}, full size", mark, from),
        name: tr!("Lines to mark {mark}{side}", mark, side),
        caption: format!("{mark}{from}"),
        width: drawing.width / inch,
        height: drawing.height / inch,
        inked: Some(drawing.inked.iter().map(|corners| corners.map(|at| at / inch)).collect()),
    })
}
