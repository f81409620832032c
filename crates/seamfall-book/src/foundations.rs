//! Foundations: sections at full size, and in words what they are joined to.
//!
//! In: the plan's blocks. Out: for each block that stands in the quilt its sections for the sheets, or why it has none. A block that
//! also stands mirrored has its sections twice, since a foundation is printed the other way round.

use crate::figures::Figures;
use crate::sheets::Piece;
use seamfall_model::{BlockId, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::piece::{Foundation, JoinedPart, foundation};
use serde::Serialize;
use tr::tr;

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
                all.push(Words { block, lines: vec![tr!("None: {why}.", why)] });
                continue;
            }
        };
        let mut lines = vec![of_sections(&found, copies(false) + copies(true))];
        lines.extend(joins(&found));
        for mirrored in [false, true].into_iter().filter(|&mirrored| copies(mirrored) > 0) {
            for section in 0..found.sections.len() {
                match piece(quilt, plan, (id, mirrored), &found, section, figures) {
                    Some(piece) => pieces.push(piece),
                    None => lines
                        .push(tr!("Section {letter} has no room for its allowance.", letter = found.sections[section].letter)),
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
    let sections = tr!("1 section" | "{n} sections" % found.sections.len());
    let copies = times(copies);
    if found.is_fewest && found.sections.len() > 1 {
        tr!("{sections}, and no division has fewer; print {copies}.", sections, copies)
    } else {
        tr!("{sections}; print {copies}.", sections, copies)
    }
}

fn times(copies: usize) -> String {
    match copies {
        1 => tr!("each once"),
        many => tr!("each {many} times", many),
    }
}

/// `Sew C round A. Join A to B, AB to C.`
fn joins(found: &Foundation) -> Option<String> {
    let round = found.sections.iter().filter_map(|section| {
        let base = letters(found, section.base?);
        Some(tr!("Join what {base} is made of first, and sew {letter} round it.", base, letter = section.letter))
    });
    let joins: Vec<String> = found
        .joins
        .iter()
        .map(|join| tr!("{parts} to {found}", parts = letters(found, join.parts[1]), found = letters(found, join.parts[0])))
        .collect();
    let joins = if joins.is_empty() { None } else { Some(tr!("Join {joins}.", joins = joins.join(", then "))) };
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
    let copy = if of.1 { tr!(", for mirrored blocks") } else { String::new() };
    Some(Piece {
        figure,
        alt: tr!(
            "Foundation of {block}{copy}, section {letter}, {steps}, mirrored, full size",
            block,
            copy,
            letter = part.letter,
            steps = tr!("1 patch" | "{n} patches" % part.steps.len())
        ),
        name: if of.1 {
            tr!("{block} foundation {letter} mirrored", block, letter = part.letter)
        } else {
            tr!("{block} foundation {letter}", block, letter = part.letter)
        },
        caption: tr!("{block}, section {letter}{copy}; sew from this side", block, letter = part.letter, copy),
        width,
        height,
        inked: None,
    })
}
