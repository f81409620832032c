//! Templates at full size, and their index: what each is cut for, how often and out of which cloth.
//!
//! In: a quilt, its plan, the paper. Out: pieces for the sheets, and an entry of the index for every template, printed or not. The page is the
//! typesetter's to find: it looks for the sheet with the entry's drawing.

use crate::Paper;
use crate::figures::Figures;
use crate::sheets::{self, Piece};
use crate::{finishing, words};
use seamfall_model::{BlockId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutPiece, Use, Way};
use seamfall_plan::draft::Kind;
use serde::Serialize;
use tr::tr;

/// A template in the index.
#[derive(Debug, Serialize)]
pub struct Entry {
    name: String,
    shape: String,
    /// What is cut with it in the whole quilt: `16 of Barn red, c45`.
    cut: Vec<String>,
    /// Its drawing, by which its sheets are found; nothing where it is not printed.
    figure: Option<String>,
    /// Why it is not printed.
    why: Option<String>,
}

/// Entries of the cut list that are for a template.
pub fn entries(plan: &Plan, of: (BlockId, usize)) -> impl Iterator<Item = &CutPiece> {
    plan.cutting.pieces.iter().filter(move |piece| count(piece, of) > 0)
}

/// How many pieces of an entry are for a template.
fn count(piece: &CutPiece, of: (BlockId, usize)) -> usize {
    let own = |one: &Use| match one {
        Use::Template { block, template, count } if (*block, *template) == of => *count,
        _ => 0,
    };
    piece.uses.iter().map(own).sum()
}

/// Pieces for the sheets, and the index.
pub fn templates(quilt: &Quilt, plan: &Plan, paper: Paper, figures: &mut Figures) -> (Vec<Piece>, Vec<Entry>) {
    let (mut pieces, mut index) = (Vec::new(), Vec::new());
    for id in (0..quilt.blocks.len()).map(BlockId) {
        let mut of_block: Vec<Piece> = Vec::new();
        for number in 0..plan.drafts[id.0].templates.len() {
            let why = left_out(quilt, plan, (id, number), paper);
            let printed = if why.is_none() { piece(quilt, plan, (id, number), figures) } else { None };
            let template = &plan.drafts[id.0].templates[number];
            index.push(Entry {
                name: name(quilt, plan, (id, number)),
                shape: words::kind(quilt, template.kind),
                cut: cut(quilt, plan, (id, number)),
                figure: printed.as_ref().map(|piece| piece.figure.clone()),
                why,
            });
            of_block.extend(printed);
        }
        of_block.sort_by(|a, b| b.height.total_cmp(&a.height));
        pieces.extend(of_block);
    }
    let edge = finishing::templates(quilt, plan, figures);
    index.extend(edge.iter().map(|piece| entry(piece, piece.caption.clone())));
    pieces.extend(edge);
    (pieces, index)
}

/// The entry of a section of a foundation; how often it is printed stands with its block.
pub fn of_foundation(piece: &Piece) -> Entry {
    entry(piece, tr!("a foundation to sew on"))
}

fn entry(piece: &Piece, shape: String) -> Entry {
    Entry { name: piece.name.clone(), shape, cut: Vec::new(), figure: Some(piece.figure.clone()), why: None }
}

fn name(quilt: &Quilt, plan: &Plan, (block, template): (BlockId, usize)) -> String {
    format!("{} {}", quilt.blocks[block.0].name, plan.drafts[block.0].templates[template].letter)
}

/// Why a template is not printed.
fn left_out(quilt: &Quilt, plan: &Plan, of: (BlockId, usize), paper: Paper) -> Option<String> {
    let template = &plan.drafts[of.0.0].templates[of.1];
    let Some(cut) = &template.cut else { return Some(tr!("its allowance does not fit; see what is said before you cut")) };
    let (room_x, room_y) = sheets::area(paper);
    let (wide, high) = (cut.bounds().width() / quilt.measure.inch(), cut.bounds().height() / quilt.measure.inch());
    let plain = matches!(template.kind, Kind::Square { .. } | Kind::Rectangle { .. });
    let beyond = wide.min(high) > room_x.min(room_y) || wide.max(high) > room_x.max(room_y);
    (plain && beyond).then(|| tr!("larger than the paper, and cut by the ruler"))
}

/// `16 of Barn red, c45`, an entry of the cut list a line.
fn cut(quilt: &Quilt, plan: &Plan, of: (BlockId, usize)) -> Vec<String> {
    entries(plan, of)
        .map(|piece| {
            tr!("{count} of {cloth}, {piece}", count = count(piece, of), cloth = piece.of.name(quilt), piece = piece.name)
        })
        .collect()
}

fn piece(quilt: &Quilt, plan: &Plan, of: (BlockId, usize), figures: &mut Figures) -> Option<Piece> {
    let draft = &plan.drafts[of.0.0];
    let (name, shape) = (name(quilt, plan, of), words::kind(quilt, draft.templates[of.1].kind));
    let (figure, (width, height)) = figures.template(quilt, draft, of.0, of.1)?;
    let alt = tr!("Template {name}, {shape}, full size", name, shape);
    let reversed = entries(plan, of).any(|piece| matches!(piece.way, Way::Template { reversed: true, .. }));
    let caption = if reversed { tr!("{shape}; some pieces with the cloth wrong side up", shape) } else { shape };
    Some(Piece { figure, alt, name, caption, width, height, inked: None })
}
