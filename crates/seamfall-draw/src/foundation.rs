//! A section of a foundation at true size, as it is printed.
//!
//! It is sewn from its back, so that it is printed mirrored: with a block's own lines the cloth lies on the other side of the paper.
//! Every patch bears the letter of the section and its number in the order of sewing, and below it the number of its cloth where that
//! fits. The sewing line of the section is drawn through, the line to cut along lies an allowance outside it.

use crate::block::room;
use crate::page::{Page, number, ticks};
use crate::template::TemplateDrawing;
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Loop, Pose, TipTrim, grow};
use seamfall_model::{BlockId, Quilt};
use seamfall_plan::draft::Draft;
use seamfall_plan::piece::{Foundation, JoinedPart};
use std::fmt::Write;
use tr::tr;

/// Sizes on paper, in inches: strokes and text.
const CUT_STROKE: f64 = 0.02;
const SEW_STROKE: f64 = 0.014;
const TEXT: f64 = 0.24;
const SMALL: f64 = 0.09;

/// Section `section` of the foundation of `block`; for a block sewn as its mirror image where `mirrored`. Nothing where there is no
/// such section, or no room for its allowance.
#[must_use]
pub fn foundation_svg(
    quilt: &Quilt,
    draft: &Draft,
    (block, mirrored): (BlockId, bool),
    foundation: &Foundation,
    section: usize,
) -> Option<TemplateDrawing> {
    let part = foundation.sections.get(section)?;
    let name = &quilt.blocks.get(block.0)?.name;
    let inch = quilt.measure.inch();
    // Printed mirrored; a block that is mirrored itself comes out as it is drawn.
    let pose = if mirrored { Pose::IDENTITY } else { Pose::mirror() };
    let finished = part.outline.moved(pose);
    let cut = grow(&finished, quilt.allowance.0.value(), TipTrim::Full).ok()?;

    let (bounds, rim) = (cut.bounds(), CUT_STROKE * inch);
    let (wide, high) = (bounds.width() + 2.0 * rim, bounds.height() + 2.0 * rim);
    let page = Page { left: bounds.x0 - rim, top: bounds.y1 + rim };
    let (w, h, unit) = (number(wide), number(high), quilt.measure.sign());
    let title = tr!("{name}, foundation, section {letter}", name, letter = part.letter);
    let title = Escaped(&title);
    let mut out = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}{unit}" height="{h}{unit}" viewBox="0 0 {w} {h}" role="img" aria-label="{title}" font-family="sans-serif"><title>{title}</title>"#
    );
    let mut lines = |class: &str, loops: &[&Loop], pose: Pose, stroke: f64, colour: &str| {
        let stroke = number(stroke * inch);
        let _ = write!(
            out,
            r#"<path class="{class}" fill="none" stroke="{colour}" stroke-width="{stroke}" stroke-linejoin="round" d=""#
        );
        page.loops(&mut out, pose, loops.iter().copied());
        out.push_str(r#""/>"#);
    };
    let patches = |numbers: &[usize]| numbers.iter().map(|&patch| &draft.patches[patch].outline).collect::<Vec<_>>();
    let base = part.base.map_or_else(Vec::new, |base| patches_of(foundation, base));
    lines("base", &patches(&base), pose, SEW_STROKE * 0.5, "#888");
    let own: Vec<usize> = part.steps.iter().map(|step| step.patch).collect();
    lines("sew", &patches(&own), pose, SEW_STROKE, "#000");
    lines("section", &[&finished], Pose::IDENTITY, SEW_STROKE, "#000");
    lines("cut", &[&cut], Pose::IDENTITY, CUT_STROKE, "#000");

    let mut label = |text: &str, at, size, bold| {
        Label { text, at: page.at(at), size, anchor: Anchor::Middle, bold, tone: Tone::OnLight }.write(&mut out, "");
    };
    for (step, patch) in part.steps.iter().map(|step| &draft.patches[step.patch]).enumerate() {
        let outline = patch.outline.moved(pose);
        let (mut at, text) = (outline.label_point(), format!("{}{}", part.letter, step + 1));
        let free = room([&outline], at);
        let size = (free / width(&text, 0.55).max(0.6)).min(TEXT * inch).max(SMALL * inch);
        let cloth = patch.part.and_then(|part| quilt.blocks[block.0].parts.get(part.0)).map(|part| part.cloth.0 + 1);
        if let Some(cloth) = cloth
            && free > (TEXT * 0.7 + SMALL * 1.4) * inch
        {
            at.y += SMALL * inch * 0.7;
            let below = seamfall_geom::Point::new(at.x, at.y - size * 0.5 - SMALL * inch);
            label(&tr!("cloth {cloth}", cloth), below, SMALL * inch, false);
        }
        label(&text, at, size, true);
    }
    if let Some(base) = part.base {
        let middle =
            patches(&patches_of(foundation, base)).iter().map(|outline| outline.moved(pose).bounds()).reduce(|a, b| a.union(b));
        if let Some(middle) = middle {
            label(&tr!("first: {base}", base = letters_of(foundation, base)), middle.center(), TEXT * 0.7 * inch, true);
        }
    }
    out.push_str("</svg>");
    #[expect(clippy::cast_precision_loss, reason = "a page is far smaller than 2^53 ten-thousandths")]
    let rounded = |value: f64| ticks(value) as f64 / 10_000.0;
    Some(TemplateDrawing { svg: out, width: rounded(wide), height: rounded(high) })
}

/// The patches of a part of a foundation.
fn patches_of(foundation: &Foundation, part: JoinedPart) -> Vec<usize> {
    let sections = sections_of(foundation, part);
    sections.iter().flat_map(|&section| foundation.sections[section].steps.iter().map(|step| step.patch)).collect()
}

/// `AB`: the letters of the sections of a part.
fn letters_of(foundation: &Foundation, part: JoinedPart) -> String {
    let mut sections = sections_of(foundation, part);
    sections.sort_unstable();
    sections.iter().map(|&section| foundation.sections[section].letter.as_str()).collect()
}

fn sections_of(foundation: &Foundation, part: JoinedPart) -> Vec<usize> {
    let (mut open, mut sections) = (vec![part], Vec::new());
    while let Some(part) = open.pop() {
        match part {
            JoinedPart::Join(join) => open.extend(foundation.joins[join].parts),
            JoinedPart::Section(section) => {
                sections.push(section);
                open.extend(foundation.sections[section].base);
            }
        }
    }
    sections
}
