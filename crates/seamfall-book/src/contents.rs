//! The contents of the book, as the typesetter reads them.
//!
//! In: a quilt and its plan. Out: words, and names of figures. Text is text to the typesetter, whatever signs are in it: a
//! quilt's name can say nothing but itself.

use crate::bed::{self, Bed};
use crate::cutting::{self, CutUp, Shopping};
use crate::faster;
use crate::figures::{Figure, Figures};
use crate::finishing::{self, Finishing};
use crate::foundations;
use crate::joining::{self, Joining};
use crate::lap::{self, Lap};
use crate::marking::{self, Served};
use crate::pressing::{self, Charts};
use crate::sheets::{self, Sheet};
use crate::templates::{self, Entry, entries};
use crate::truing::{self, Truing};
use crate::units::{self, Card};
use crate::workings::{self, Rules};
use crate::{BookOptions, Paper, words};
use seamfall_model::{Block, BlockId, ClothId, Finding, FrameChoice, Layout, PartId, Quilt, Spot};
use seamfall_plan::Plan;
use seamfall_plan::caution::{self, Caution};
use seamfall_plan::cut::Way;
use seamfall_plan::set::PieceKind;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use tr::tr;

/// The whole book.
#[derive(Debug, Serialize)]
pub struct Contents {
    name: String,
    /// As typst calls it.
    paper: &'static str,
    date: Option<(i32, u8, u8)>,
    /// The date in words.
    day: Option<String>,
    /// `inches` or `centimetres`.
    unit: &'static str,
    cautions: Cautions,
    cover: Figure,
    facts: Vec<(String, String)>,
    findings: Vec<Said>,
    bed: Option<Bed>,
    shopping: Shopping,
    cut_up: Vec<CutUp>,
    blocks: Vec<BlockPage>,
    units: Vec<Card>,
    /// How units are made several at a time: what it is called, and how it is sewn.
    ways: Vec<(String, String)>,
    signs: Vec<pressing::Sign>,
    pressing: Vec<pressing::Chart>,
    pressed_top: pressing::Whole,
    setting: Figure,
    setting_facts: Vec<String>,
    sections: Vec<Section>,
    lap: Option<Lap>,
    truing: Option<Truing>,
    joining: Option<Joining>,
    finishing: Finishing,
    /// On a template sheet, in inches: heights of its heading, of the area for templates, of its strip of test squares.
    heights: (f64, f64, f64),
    sheets: Vec<Sheet>,
    /// Every template and what is cut with it.
    index: Vec<Entry>,
    foundations: Vec<foundations::Words>,
    foundation_sheets: Vec<Sheet>,
    marking: Vec<Served>,
    marking_sheets: Vec<Sheet>,
    workings: Vec<Rules>,
}

/// A caution: what it is about, the words, who says so.
type CautionWords = (String, String, String);

/// What to take care of, where the risk arises.
#[derive(Debug, Serialize)]
struct Cautions {
    buying: Vec<CautionWords>,
    cutting: Vec<CautionWords>,
    pressing: Vec<CautionWords>,
    quilting: Vec<CautionWords>,
    joining: Vec<CautionWords>,
    bed: Vec<CautionWords>,
    finishing: Vec<CautionWords>,
}

fn cautions(plan: &Plan) -> Cautions {
    let words = |cautions: &[Caution]| -> Vec<CautionWords> {
        cautions.iter().map(|caution| (caution.title(), caution.words(), caution.source())).collect()
    };
    Cautions {
        buying: words(&[caution::FIBRES]),
        cutting: words(&[caution::ROTARY_CUTTER]),
        pressing: words(&[caution::IRON]),
        quilting: words(&[caution::NEEDLES]),
        joining: words(&[caution::NEEDLES, caution::MACHINE]),
        bed: plan.fit.as_ref().map_or_else(Vec::new, |fit| words(&fit.cautions)),
        finishing: words(&plan.finish.cautions),
    }
}

/// A finding.
#[derive(Debug, Serialize)]
struct Said {
    grade: &'static str,
    spot: String,
    reason: String,
    help: Option<String>,
}

/// A block's own page.
#[derive(Debug, Serialize)]
struct BlockPage {
    name: String,
    /// What the setting's drawing calls it.
    letter: String,
    shape: String,
    count: usize,
    figure: Figure,
    rows: Vec<PatchRow>,
    notes: Vec<String>,
}

/// Patches of one template and one cloth.
#[derive(Debug, Serialize)]
struct PatchRow {
    letter: String,
    shape: String,
    count: usize,
    cloth: Option<usize>,
    colour: String,
    cloth_name: String,
    cut: String,
    size: String,
}

/// A lap section.
#[derive(Debug, Serialize)]
struct Section {
    name: String,
    size: String,
    places: String,
    strips: String,
}

/// Puts `plan` into words, and has its drawings made.
pub fn contents(quilt: &Quilt, plan: &Plan, options: &BookOptions, figures: &mut Figures) -> Contents {
    let size = words::size(quilt, plan.top.size.x, plan.top.size.y);
    let charts = Charts::new(plan);
    let (pieces, index) = templates::templates(quilt, plan, options.paper, figures);
    let (marking, to_mark) = marking::marking(quilt, plan, options.marking, figures);
    let (foundations, sections) = foundations::foundations(quilt, plan, figures);
    let index = index.into_iter().chain(sections.iter().map(templates::of_foundation)).collect();
    Contents {
        name: quilt.name.clone(),
        paper: match options.paper {
            Paper::Letter => "us-letter",
            Paper::A4 => "a4",
        },
        date: options.date,
        day: options.date.map(|(year, month, day)| seamfall_class::words::date_in_words(year, month, day)),
        unit: match quilt.measure {
            seamfall_model::Measure::Inch => "inches",
            seamfall_model::Measure::Centimetre => "centimetres",
        },
        cautions: cautions(plan),
        cover: Figure {
            path: figures.quilt(quilt, plan),
            alt: tr!(
                "The quilt {name}, {size}, with {places}",
                name = quilt.name,
                size,
                places = tr!("1 block" | "{n} blocks" % plan.top.places.len())
            ),
        },
        facts: facts(quilt, plan, &size),
        findings: plan.findings.iter().map(said).collect(),
        bed: bed::bed(quilt, plan, figures),
        shopping: cutting::shopping(quilt, plan, figures),
        cut_up: cutting::cut_up(quilt, plan, figures),
        blocks: (0..quilt.blocks.len()).map(|i| block_page(quilt, plan, BlockId(i), figures)).collect(),
        ways: faster::instructions(quilt, plan),
        units: units::cards(quilt, plan, &charts, figures),
        signs: pressing::signs(figures),
        pressing: pressing::printed(quilt, plan, &charts, figures),
        pressed_top: pressing::whole(quilt, plan, &charts, figures),
        setting: Figure {
            path: figures.setting(quilt, plan),
            alt: tr!(
                "The setting: {places} named from A1 at the upper left, in {sections}",
                places = tr!("1 place" | "{n} places" % plan.top.places.len()),
                sections = tr!("1 lap section" | "{n} lap sections" % plan.top.sections.len())
            ),
        },
        setting_facts: setting_facts(quilt),
        sections: plan.top.sections.iter().map(|section| section_row(quilt, plan, section)).collect(),
        lap: lap::lap(quilt, plan, figures),
        truing: truing::truing(quilt, plan),
        joining: joining::joining(quilt, plan, figures),
        finishing: finishing::finishing(quilt, plan, figures),
        heights: (sheets::HEADING, sheets::area(options.paper).1, sheets::SQUARES),
        sheets: sheets::lay_out(&pieces, options.paper),
        index,
        foundations,
        foundation_sheets: sheets::lay_out(&sections, options.paper),
        marking,
        marking_sheets: sheets::lay_out(&to_mark, options.paper),
        workings: workings::workings(quilt, plan),
    }
}

fn facts(quilt: &Quilt, plan: &Plan, size: &str) -> Vec<(String, String)> {
    let fact = |what: &str, is: String| (what.to_owned(), is);
    vec![
        fact(&tr!("Finished size"), size.to_owned()),
        fact(&tr!("Blocks"), plan.top.places.len().to_string()),
        fact(&tr!("Kinds of block"), used_blocks(plan).len().to_string()),
        fact(&tr!("Lap sections"), plan.top.sections.len().to_string()),
        fact(&tr!("Cloths"), plan.cutting.bought.iter().filter(|bought| bought.of.cloth().is_some()).count().to_string()),
        fact(&tr!("Seam allowance"), words::allowance(quilt)),
    ]
}

fn used_blocks(plan: &Plan) -> BTreeSet<BlockId> {
    plan.top.places.iter().map(|place| place.block).collect()
}

fn said(finding: &Finding) -> Said {
    Said {
        grade: finding.grade.word(),
        spot: finding.spot.to_string(),
        reason: finding.reason.clone(),
        help: finding.help.clone(),
    }
}

fn block_page(quilt: &Quilt, plan: &Plan, id: BlockId, figures: &mut Figures) -> BlockPage {
    let (block, draft) = (&quilt.blocks[id.0], &plan.drafts[id.0]);
    let rows = patch_rows(quilt, plan, id, figures);
    let letters: Vec<_> = draft.templates.iter().map(|template| template.letter.as_str()).collect();
    BlockPage {
        name: block.name.clone(),
        letter: seamfall_model::letters(id.0),
        shape: words::shape(quilt, block.shape),
        count: plan.top.places.iter().filter(|place| place.block == id).count(),
        figure: Figure {
            path: figures.block(quilt, plan, id),
            alt: tr!(
                "The block {block}: {patches}, templates {letters}",
                block = block.name,
                patches = tr!("1 patch" | "{n} patches" % draft.patches.len()),
                letters = letters.join(", ")
            ),
        },
        rows,
        notes: notes(quilt, plan, id, block),
    }
}

/// Patches by template and part, then shapes laid over.
fn patch_rows(quilt: &Quilt, plan: &Plan, id: BlockId, figures: &mut Figures) -> Vec<PatchRow> {
    let (block, draft) = (&quilt.blocks[id.0], &plan.drafts[id.0]);
    let mut counts: BTreeMap<(usize, Option<PartId>), usize> = BTreeMap::new();
    for patch in &draft.patches {
        *counts.entry((patch.template, patch.part)).or_default() += 1;
    }
    for overlay in &draft.overlays {
        *counts.entry((overlay.template, Some(overlay.part))).or_default() += 1;
    }
    counts
        .into_iter()
        .map(|((template, part), count)| {
            let cloth = part.map(|part| block.parts[part.0].cloth);
            let kind = &draft.templates[template];
            let (cut, size) = one_block(quilt, plan, (id, template), cloth, count);
            PatchRow {
                letter: kind.letter.clone(),
                shape: words::kind(quilt, kind.kind),
                count,
                cloth: cloth.map(|cloth| cloth.0 + 1),
                colour: cloth.map_or_else(|| "#ffffff".to_owned(), |cloth| figures.swatch(quilt, cloth)),
                cloth_name: cloth.map_or_else(|| tr!("no cloth yet"), |cloth| quilt.cloths[cloth.0].name.clone()),
                cut,
                size,
            }
        })
        .collect()
}

/// What is cut for one block: `2 squares, once corner to corner`, and the size.
fn one_block(quilt: &Quilt, plan: &Plan, of: (BlockId, usize), cloth: Option<ClothId>, count: usize) -> (String, String) {
    // Blocks that stand only with other cloths have no entry of their own; the size is the same in every cloth.
    let piece = entries(plan, of).find(|piece| piece.of.cloth() == cloth).or_else(|| entries(plan, of).next());
    let Some(piece) = piece else { return (String::new(), String::new()) };
    let (what, how) = words::way(quilt, piece, count);
    let cut = if how.is_empty() { what } else { format!("{what}, {how}") };
    let size = match piece.way {
        Way::Template { .. } => tr!("strip {width}", width = words::length(quilt, piece.width.value)),
        _ => words::cut_size(quilt, piece),
    };
    (cut, size)
}

fn notes(quilt: &Quilt, plan: &Plan, id: BlockId, block: &Block) -> Vec<String> {
    let mut notes = Vec::new();
    let places = || plan.top.places.iter().filter(|place| place.block == id);
    let mut names: Vec<&str> = places().map(|place| place.name.as_str()).collect();
    if names.len() > 24 {
        names.truncate(24);
        names.push("…");
    }
    if names.is_empty() {
        notes.push(tr!("It does not stand in the quilt."));
    } else {
        notes.push(tr!("Places: {names}.", names = names.join(", ")));
    }
    let usual: Vec<ClothId> = block.parts.iter().map(|part| part.cloth).collect();
    let others = places().filter(|place| place.cloths != usual).count();
    if others > 0 {
        notes.push(tr!(
            "In {others} it has other cloths; the cut list counts them.",
            others = tr!("1 place" | "{n} places" % others)
        ));
    }
    if let Some(FrameChoice::Framed(frame)) = block.frame {
        notes.push(frame_note(quilt, frame));
    } else {
        let frames: BTreeSet<_> = places().filter_map(|place| place.frame).collect();
        notes.extend(frames.into_iter().map(|frame| frame_note(quilt, frame)));
    }
    let about = |spot: &Spot| match spot {
        Spot::Block(key) | Spot::Seam { block: key, .. } | Spot::Patch { block: key, .. } => *key == block.key,
        _ => false,
    };
    for finding in plan.findings.iter().filter(|finding| about(&finding.spot)) {
        notes.push(format!("{}: {}.", finding.grade.said(), finding.reason));
    }
    notes
}

fn frame_note(quilt: &Quilt, frame: seamfall_model::FrameId) -> String {
    let frame = &quilt.frames[frame.0];
    let strips: Vec<String> = frame
        .strips
        .iter()
        .map(|strip| {
            tr!("{width} of {cloth}", width = strip.width.shown_with_unit(quilt.step), cloth = quilt.cloths[strip.cloth.0].name)
        })
        .collect();
    tr!(
        "Frame {frame}: {strips}; {corners}.",
        frame = frame.key,
        strips = strips.into_iter().reduce(|all, one| tr!("{all}, then {one}", all, one)).unwrap_or_default(),
        corners = words::corners(quilt, frame.corners)
    )
}

fn setting_facts(quilt: &Quilt) -> Vec<String> {
    let mut facts = vec![match quilt.setting.layout {
        Layout::Straight => tr!("Rows and columns, square to the edges."),
        Layout::OnPoint { triangles } => {
            tr!("Blocks on point, with side and corner triangles of {triangles}.", triangles = quilt.cloths[triangles.0].name)
        }
        Layout::Rows { .. } => tr!("Rows of different blocks."),
    }];
    if let Some(sashing) = &quilt.sashing {
        let cornerstones = sashing
            .cornerstones
            .map_or_else(String::new, |cloth| tr!(", with cornerstones of {cloth}", cloth = quilt.cloths[cloth.0].name));
        let width = sashing.width.shown_with_unit(quilt.step);
        facts.push(tr!(
            "Sashing: {width} of {cloth}{cornerstones}.",
            width,
            cloth = quilt.cloths[sashing.cloth.0].name,
            cornerstones
        ));
    }
    for (number, band) in quilt.bands.iter().enumerate() {
        let width = band.width.shown_with_unit(quilt.step);
        let cloth = &quilt.cloths[band.cloth.0].name;
        facts.push(tr!(
            "Band {number}: {width} of {cloth}; {corners}.",
            number = number + 1,
            width,
            cloth,
            corners = words::corners(quilt, band.corners)
        ));
    }
    facts
}

fn section_row(quilt: &Quilt, plan: &Plan, section: &seamfall_plan::set::Section) -> Section {
    let places: Vec<_> = section.places.iter().map(|&place| plan.top.places[place].name.as_str()).collect();
    let strips: Vec<_> = strip_counts(plan, section).into_iter().filter_map(|(kind, count)| words::pieces(kind, count)).collect();
    Section {
        name: section.name.clone(),
        size: words::size(quilt, section.size.x, section.size.y),
        places: places.join(", "),
        strips: strips.join(", "),
    }
}

/// What else than framed blocks a section holds, in the order of the plan.
fn strip_counts(plan: &Plan, section: &seamfall_plan::set::Section) -> Vec<(PieceKind, usize)> {
    let mut counts: Vec<(PieceKind, usize)> = Vec::new();
    for &strip in &section.strips {
        let kind = plan.top.strips[strip].kind;
        match counts.iter_mut().find(|(known, _)| std::mem::discriminant(known) == std::mem::discriminant(&kind)) {
            Some((_, count)) => *count += 1,
            None => counts.push((kind, 1)),
        }
    }
    counts
}
