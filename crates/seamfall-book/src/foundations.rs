//! Foundations: sections at full size, and in words what they are joined to.
//!
//! In: the plan's blocks. Out: for each block that stands in the quilt its sections for the sheets, or why it has none. A block that
//! also stands mirrored has its sections twice, since a foundation is printed the other way round.

use crate::figures::Figures;
use crate::sheets::Piece;
use crate::words;
use seamfall_model::{BlockId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::piece::{Foundation, JoinedPart, foundation};
use serde::Serialize;

/// What is said about the foundation of a block.
#[derive(Debug, Serialize)]
pub struct Words {
    block: String,
    lines: Vec<String>,
}

/// The foundations of all blocks in the quilt: words, and sections to be laid out on sheets.
pub fn foundations(quilt: &Quilt, plan: &Plan, figures: &mut Figures) -> (Vec<Words>, Vec<Piece>) {
    let (mut all, mut pieces) = (Vec::new(), Vec::new());
    for (number, draft) in plan.drafts.iter().enumerate() {
        let id = BlockId(number);
        let copies =
            |mirrored| plan.top.places.iter().filter(|place| place.block == id && place.pose.is_mirrored() == mirrored).count();
        // One patch is no foundation.
        if copies(false) + copies(true) == 0 || draft.patches.len() < 2 {
            continue;
        }
        let block = quilt.blocks[number].name.clone();
        let found = match foundation(draft) {
            Ok(found) => found,
            Err(why) => {
                all.push(Words { block, lines: vec![format!("None: {why}.")] });
                continue;
            }
        };
        let mut lines = vec![of_sections(&found, copies(false) + copies(true))];
        lines.extend(joins(&found));
        for mirrored in [false, true].into_iter().filter(|&mirrored| copies(mirrored) > 0) {
            for section in 0..found.sections.len() {
                match piece(quilt, plan, (id, mirrored), &found, section, figures) {
                    Some(piece) => pieces.push(piece),
                    None => lines.push(format!("Section {} has no room for its allowance.", found.sections[section].letter)),
                }
            }
        }
        all.push(Words { block, lines });
    }
    // The highest first share sheets best.
    pieces.sort_by(|a, b| b.height.total_cmp(&a.height));
    (all, pieces)
}

fn of_sections(found: &Foundation, copies: usize) -> String {
    let fewest = if found.is_fewest && found.sections.len() > 1 { ", and no division has fewer" } else { "" };
    format!("{}{fewest}; print {}.", words::count(found.sections.len(), "section"), times(copies))
}

fn times(copies: usize) -> String {
    match copies {
        1 => "each once".to_owned(),
        many => format!("each {many} times"),
    }
}

/// `Sew C round A. Join A to B, AB to C.`
fn joins(found: &Foundation) -> Option<String> {
    let round = found.sections.iter().filter_map(|section| {
        let base = letters(found, section.base?);
        Some(format!("Join what {base} is made of first, and sew {} round it.", section.letter))
    });
    let joins: Vec<String> = found
        .joins
        .iter()
        .map(|join| format!("{} to {}", letters(found, join.parts[1]), letters(found, join.parts[0])))
        .collect();
    let joins = if joins.is_empty() { None } else { Some(format!("Join {}.", joins.join(", then "))) };
    let all: Vec<String> = round.chain(joins).collect();
    if all.is_empty() { None } else { Some(all.join(" ")) }
}

/// `AB`: the letters of the sections of a part, in their order.
fn letters(found: &Foundation, part: JoinedPart) -> String {
    let (mut open, mut sections) = (vec![part], Vec::new());
    while let Some(part) = open.pop() {
        match part {
            JoinedPart::Join(join) => open.extend(found.joins[join].parts),
            JoinedPart::Section(section) => {
                sections.push(section);
                open.extend(found.sections[section].base);
            }
        }
    }
    sections.sort_unstable();
    sections.iter().map(|&section| found.sections[section].letter.as_str()).collect()
}

fn piece(
    quilt: &Quilt,
    plan: &Plan,
    of: (BlockId, bool),
    found: &Foundation,
    section: usize,
    figures: &mut Figures,
) -> Option<Piece> {
    let (figure, (width, height)) = figures.foundation(quilt, &plan.drafts[of.0.0], of, found, section)?;
    let part = &found.sections[section];
    let block = &quilt.blocks[of.0.0].name;
    let copy = if of.1 { ", for mirrored blocks" } else { "" };
    Some(Piece {
        figure,
        alt: format!(
            "Foundation of {block}{copy}, section {}, {}, mirrored, full size",
            part.letter,
            words::count(part.steps.len(), "patch")
        ),
        name: format!("{block} foundation {}{}", part.letter, if of.1 { " mirrored" } else { "" }),
        caption: format!("{block}, section {}{copy}; sew from this side", part.letter),
        width,
        height,
        inked: None,
    })
}
