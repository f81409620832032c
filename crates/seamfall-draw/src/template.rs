//! Pattern pieces at true size.
//!
//! The cut outline is a solid line, the sewing line dashed, match marks cross the allowance, and an arrow lies along the straight
//! grain. Lines are heavy enough to survive a photocopy. What does not fit inside the piece is written below it.

use crate::block::{grain, room};
use crate::look::Pictures;
use crate::motif;
use crate::page::{Page, number, ticks};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Loop, Point, Pose, Rect, Vec2};
use seamfall_model::{BlockId, ClothId, Quilt};
use seamfall_plan::draft::{Draft, Template};
use std::collections::BTreeMap;
use std::fmt::Write;
use tr::tr;

/// A pattern piece, ready to be put on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct TemplateDrawing {
    /// The drawing; its `width` and `height` carry the unit, and a unit of its viewBox is one of the document.
    pub svg: String,
    /// Width, in the document's unit.
    pub width: f64,
    /// Height, in the document's unit.
    pub height: f64,
}

/// Sizes on paper, in inches: strokes, text.
const CUT_STROKE: f64 = 0.02;
const SEW_STROKE: f64 = 0.012;
const DASH: f64 = 0.08;
const LETTER: f64 = 0.36;
const TEXT: f64 = 0.125;

/// Template number `template` of block `block`, of which `draft` is the draft; nothing where there is none.
#[must_use]
pub fn template_svg(quilt: &Quilt, draft: &Draft, block: BlockId, template: usize) -> Option<TemplateDrawing> {
    template_svg_with(quilt, draft, block, template, &Pictures::new())
}

/// [`template_svg`], with the pictures of photographs: a template that is laid on a motif is drawn as a window on it.
#[must_use]
pub fn template_svg_with(
    quilt: &Quilt,
    draft: &Draft,
    block: BlockId,
    template: usize,
    pictures: &Pictures,
) -> Option<TemplateDrawing> {
    let name = &quilt.blocks.get(block.0)?.name;
    let piece = draft.templates.get(template)?;
    let inch = quilt.measure.inch();
    let mut lines = vec![name.clone(), tr!("for one block:")];
    lines.extend(counts(quilt, draft, block, template).iter().map(|(cloth, count)| tr!("cut {count} of {cloth}", count, cloth)));
    if piece.cut.is_none() {
        lines.push(tr!("no room for the allowance"));
    }

    let motif = motif::of_template(quilt, draft, block, template);
    lines.extend(motif.map(|motif| motif::words(quilt, motif)));
    let outline = bounds(piece);
    let text = TEXT * inch;
    let wide = lines.iter().map(|line| width(line, text)).fold(0.0, f64::max);
    let step = text * 1.25;
    let count = f64::from(u32::try_from(lines.len()).unwrap_or(u32::MAX));
    let high = LETTER * inch * 1.1 + count * step;
    let middle = piece.finished.label_point();
    let inside = |point: Point| piece.finished.contains(point) && !piece.holes.iter().any(|hole| hole.contains(point));
    // Left of the text there is room for the arrow.
    let arrow_room = 0.4 * inch;
    // What lies on a motif must be seen, and is written below.
    let fits = motif.is_none() && box_points(middle, wide + arrow_room * 2.0, high).all(inside);

    let rim = CUT_STROKE * inch;
    let below = if fits { 0.0 } else { count * step + text * 0.5 };
    let page_width = if fits { outline.width() } else { outline.width().max(wide) } + 2.0 * rim;
    let page_height = outline.height() + 2.0 * rim + below;
    let page = Page { left: outline.x0 - (page_width - outline.width()) / 2.0, top: outline.y1 + rim };
    let mut out = open(quilt, &tr!("{name}, template {letter}", name, letter = piece.letter), page_width, page_height);
    if let Some(motif) = motif {
        motif::window(&mut out, quilt, (piece, motif), (page, inch), pictures);
    }
    outlines(&mut out, piece, page, inch);

    let half = reach(&inside, middle).min(1.5 * inch) * 0.85;
    if fits {
        let at = Point::new(middle.x - wide / 2.0 - arrow_room / 2.0, middle.y);
        grain(&mut out, page.at(at), 90.0, (reach(&inside, at) * 0.85).min(high * 0.5), SEW_STROKE * inch);
        let first = middle.y + high / 2.0 - LETTER * inch * 0.5;
        letter(&mut out, piece, page.at(Point::new(middle.x, first)), LETTER * inch);
        write_lines(&mut out, &lines, page.at(Point::new(middle.x, first - LETTER * inch * 0.6 - step * 0.5)), text, step);
    } else {
        let space = room(std::iter::once(&piece.finished).chain(&piece.holes), middle);
        let size = (space * 1.1).min(LETTER * inch).max(text);
        if half > size * 0.8 && motif.is_none() {
            grain(&mut out, page.at(middle), 90.0, half, SEW_STROKE * inch);
        }
        // Beside the cross that marks the motif.
        let beside = if motif.is_some() { 0.4 * inch } else { 0.0 };
        letter(&mut out, piece, page.at(middle - Vec2::new(0.0, beside)), size);
        write_lines(&mut out, &lines, Point::new(page_width / 2.0, page_height - below + step * 0.5 + text * 0.25), text, step);
    }
    out.push_str("</svg>");
    Some(TemplateDrawing { svg: out, width: rounded(page_width), height: rounded(page_height) })
}

/// Name and number of every cloth that is cut with a template, for one block in its own colouring, in the order of the file.
fn counts(quilt: &Quilt, draft: &Draft, block: BlockId, template: usize) -> Vec<(String, usize)> {
    let mut counts: BTreeMap<Option<ClothId>, usize> = BTreeMap::new();
    let patches = draft.patches.iter().map(|patch| (patch.template, patch.part));
    let overlays = draft.overlays.iter().map(|shape| (shape.template, Some(shape.part)));
    for (_, part) in patches.chain(overlays).filter(|(of, _)| *of == template) {
        let cloth = part.and_then(|part| quilt.blocks[block.0].parts.get(part.0)).map(|part| part.cloth);
        *counts.entry(cloth).or_default() += 1;
    }
    let name = |cloth: Option<ClothId>| {
        cloth
            .and_then(|cloth| quilt.cloths.get(cloth.0))
            .map_or_else(|| tr!("a cloth not chosen yet"), |cloth| cloth.name.clone())
    };
    counts.into_iter().map(|(cloth, count)| (name(cloth), count)).collect()
}

/// Everything that is drawn of a piece.
pub(crate) fn bounds(piece: &Template) -> Rect {
    let outline = piece.cut.iter().fold(piece.finished.bounds(), |all, cut| all.union(cut.bounds()));
    piece.notches.iter().fold(outline, |all, notch| all.union_pt(notch.from).union_pt(notch.to))
}

fn open(quilt: &Quilt, title: &str, width: f64, height: f64) -> String {
    let (w, h, unit) = (number(width), number(height), quilt.measure.sign());
    let title = Escaped(title);
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}{unit}" height="{h}{unit}" viewBox="0 0 {w} {h}" role="img" aria-label="{title}" font-family="sans-serif"><title>{title}</title>"#
    )
}

fn outlines(out: &mut String, piece: &Template, page: Page, inch: f64) {
    let dashes = format!(r#" stroke-dasharray="{} {}""#, number(DASH * inch), number(DASH * inch * 0.6));
    let mut path = |class: &str, loops: &mut dyn Iterator<Item = &Loop>, stroke: f64, dashes: &str| {
        let _ = write!(
            out,
            r##"<path class="{class}" fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round"{dashes} d=""##,
            number(stroke * inch)
        );
        page.loops(out, Pose::IDENTITY, loops);
        out.push_str(r#""/>"#);
    };
    if let Some(cut) = &piece.cut {
        path("cut", &mut std::iter::once(cut), CUT_STROKE, "");
    }
    path("sew", &mut std::iter::once(&piece.finished).chain(&piece.holes), SEW_STROKE, &dashes);
    if !piece.notches.is_empty() {
        let _ =
            write!(out, r##"<path class="notch" fill="none" stroke="#000" stroke-width="{}" d=""##, number(CUT_STROKE * inch));
        for notch in &piece.notches {
            let (from, to) = (page.at(notch.from), page.at(notch.to));
            let _ = write!(out, "M{} {}L{} {}", number(from.x), number(from.y), number(to.x), number(to.y));
        }
        out.push_str(r#""/>"#);
    }
}

fn letter(out: &mut String, piece: &Template, at: Point, size: f64) {
    Label { text: &piece.letter, at, size, anchor: Anchor::Middle, bold: true, tone: Tone::OnLight }.write(out, "");
}

fn write_lines(out: &mut String, lines: &[String], first: Point, size: f64, step: f64) {
    let mut at = first;
    for text in lines {
        Label { text, at, size, anchor: Anchor::Middle, bold: false, tone: Tone::Plain }.write(out, "");
        at.y += step;
    }
}

/// Points of the rim of a box, close enough together that text inside it stays inside a piece.
fn box_points(middle: Point, width: f64, height: f64) -> impl Iterator<Item = Point> {
    (0..=8).flat_map(move |i| {
        let t = f64::from(i) / 8.0 - 0.5;
        [(t, -0.5), (t, 0.5), (-0.5, t), (0.5, t)].map(|(x, y)| Point::new(middle.x + x * width, middle.y + y * height))
    })
}

/// How far one can go up and down from `middle` and stay inside, up to 1,000 small steps.
fn reach(inside: &impl Fn(Point) -> bool, middle: Point) -> f64 {
    const STEP: f64 = 0.02;
    let free = |steps: u32| {
        let far = f64::from(steps) * STEP;
        inside(Point::new(middle.x, middle.y + far)) && inside(Point::new(middle.x, middle.y - far))
    };
    f64::from((0..1_000).find(|&steps| !free(steps)).unwrap_or(1_000)) * STEP
}

/// As it is written in the drawing.
fn rounded(value: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a page is far smaller than 2^53 ten-thousandths")]
    let ticks = ticks(value) as f64;
    ticks / 10_000.0
}
