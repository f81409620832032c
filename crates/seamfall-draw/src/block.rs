//! One block: patches, shapes laid over, labels, grain.

use crate::ink::{Colours, Inks, PAGE_HATCH, PAGE_LOOK, Paint, hatchings, signs};
use crate::look::{Pictures, Turn};
use crate::motif::Shown;
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label};
use seamfall_geom::{Edge, Loop, Point, Pose, Vec2};
use seamfall_model::{BlockId, ClothId, PartId, Quilt};
use seamfall_plan::draft::{Draft, OverlayShape};
use std::fmt::Write;

/// What is written on patches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PatchLabels {
    /// Nothing.
    #[default]
    None,
    /// The letter of the template; shapes laid over have theirs too.
    Letters,
    /// The same and the number of the cloth in the file, from 1, such as `A·2`: for paper, where colour may be lost.
    LettersAndCloths,
    /// The number of the patch, from 1.
    Numbers,
}

/// What a drawing of a block shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BlockStyle {
    /// What is shown of the cloths.
    pub paint: Paint,
    /// How fills are written. With classes, hatchings are those of the top's drawing on the same page.
    pub colours: Colours,
    /// What is written on patches.
    pub labels: PatchLabels,
    /// Whether arrows show the straight grain.
    pub grain: bool,
    /// Whether patches have ids, `p1`, `p2`, ... and shapes laid over `o1`, `o2`, ...
    pub ids: bool,
}

/// Block `block` of `quilt`, of which `draft` is the draft, in its own colouring. The viewBox is in the document's unit; empty
/// when there is no such block.
#[must_use]
pub fn block_svg(quilt: &Quilt, draft: &Draft, block: BlockId, style: &BlockStyle) -> String {
    block_svg_with(quilt, draft, block, style, &Pictures::new())
}

/// [`block_svg`], with the pictures of the photographs of its cloths.
#[must_use]
pub fn block_svg_with(quilt: &Quilt, draft: &Draft, block: BlockId, style: &BlockStyle, pictures: &Pictures) -> String {
    let mut out = String::new();
    let Some(drawn) = quilt.blocks.get(block.0) else { return out };
    let (width, height) = (draft.size.x, draft.size.y);
    let long = width.max(height);
    let rim = long / 120.0;
    let prefix = format!("block{}", block.0);
    let class = match (style.colours, style.paint) {
        (Colours::Attributes, _) => "",
        (Colours::Classes, Paint::Cloths) => r#" class="block cloths""#,
        (Colours::Classes, Paint::Values) => r#" class="block values""#,
        (Colours::Classes, Paint::Lines | Paint::Signs) => r#" class="block lines""#,
    };
    let _ = write!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}"{class} role="img" aria-label="{name}" font-family="sans-serif"><title>{name}</title>"#,
        number(-rim),
        number(-rim),
        number(width + 2.0 * rim),
        number(height + 2.0 * rim),
        name = Escaped(&drawn.name),
    );
    if style.paint == Paint::Lines && style.colours == Colours::Attributes {
        hatchings(&mut out, &prefix, long / 32.0);
    }
    if style.paint == Paint::Signs && style.colours == Colours::Attributes {
        signs(&mut out, &prefix, quilt, long / 32.0);
    }
    let hatch = if style.colours == Colours::Classes { PAGE_HATCH } else { &prefix };
    let mut inks = Inks::new(quilt, style.paint, style.colours, hatch, (&format!("{prefix}-{PAGE_LOOK}"), pictures));
    let page = Page { left: 0.0, top: height };
    let cloth = |part: PartId| drawn.parts.get(part.0).map(|part| part.cloth);
    let _ = write!(out, r##"<g stroke="#000" stroke-width="{}" stroke-linejoin="round">"##, number(long / 300.0));
    let mut shape = |id: (char, usize), (cloth, shown): (Option<ClothId>, Shown<'_>), loops: &mut dyn Iterator<Item = &Loop>| {
        out.push_str("<path");
        if style.ids {
            let _ = write!(out, r#" id="{}{}""#, id.0, id.1);
        }
        match cloth.filter(|_| inks.has_look(cloth)) {
            Some(cloth) => {
                if let Some(motif) = shown.motif(quilt, cloth) {
                    return shown.write(&mut out, &mut inks, (cloth, motif), (page, Pose::IDENTITY), loops);
                }
                out.push_str(&inks.look(cloth, Turn::of(shown.up_deg, Pose::IDENTITY)));
            }
            None => out.push_str(inks.fill(cloth)),
        }
        out.push_str(r#" d=""#);
        page.loops(&mut out, Pose::IDENTITY, loops);
        out.push_str(r#""/>"#);
    };
    for (i, patch) in draft.patches.iter().enumerate() {
        shape(
            ('p', i + 1),
            (patch.part.and_then(cloth), Shown::patch(block, i, patch)),
            &mut std::iter::once(&patch.outline).chain(&patch.holes),
        );
    }
    for (i, over) in draft.overlays.iter().enumerate() {
        shape(('o', i + 1), (cloth(over.part), Shown::over(block, over)), &mut std::iter::once(&over.outline));
    }
    out.push_str("</g>");
    if let Some(patterns) = inks.patterns() {
        patterns.write(&mut out);
    }
    let _ =
        write!(out, r##"<path fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round" d=""##, number(long / 120.0));
    page.loops(&mut out, Pose::IDENTITY, [&draft.outline]);
    out.push_str(r#""/>"#);

    let letter = |template: usize, cloth: Option<ClothId>| {
        let letter = draft.templates.get(template).map_or("", |template| template.letter.as_str());
        match cloth {
            Some(cloth) if style.labels == PatchLabels::LettersAndCloths => format!("{letter}·{}", cloth.0 + 1),
            _ => letter.to_owned(),
        }
    };
    for (i, patch) in draft.patches.iter().enumerate() {
        let (spot, room) = uncovered(&patch.outline, &patch.holes, patch.label, &draft.overlays);
        let tone = inks.tone(patch.part.and_then(cloth));
        if style.grain {
            grain(&mut out, page.at(spot), patch.grain_deg, room.min(long / 8.0) * 0.85, long / 300.0);
        }
        let text = match style.labels {
            PatchLabels::None => continue,
            PatchLabels::Letters | PatchLabels::LettersAndCloths => letter(patch.template, patch.part.and_then(cloth)),
            PatchLabels::Numbers => (i + 1).to_string(),
        };
        let size = fitting(&text, room, long, style.grain);
        Label { text: &text, at: page.at(spot), size, anchor: Anchor::Middle, bold: true, tone }.write(&mut out, "");
    }
    if matches!(style.labels, PatchLabels::Letters | PatchLabels::LettersAndCloths) {
        for (i, over) in draft.overlays.iter().enumerate() {
            let (at, room) = uncovered(&over.outline, &[], over.outline.label_point(), &draft.overlays[i + 1..]);
            let text = letter(over.template, cloth(over.part));
            let size = fitting(&text, room, long, false);
            let tone = inks.tone(cloth(over.part));
            Label { text: &text, at: page.at(at), size, anchor: Anchor::Middle, bold: true, tone }.write(&mut out, "");
        }
    }
    out.push_str("</svg>");
    out
}

/// Where a patch or a shape is labelled, and how far that is from the nearest outline: the `usual` point, or the roomiest of a
/// grid of points that none of the shapes laid over it covers.
fn uncovered(outline: &Loop, holes: &[Loop], usual: Point, overlays: &[OverlayShape]) -> (Point, f64) {
    let space = |point| {
        let own = std::iter::once(outline).chain(holes);
        room(own.chain(overlays.iter().map(|shape| &shape.outline)), point)
    };
    let open = |point| {
        let inside = outline.contains(point) && !holes.iter().any(|hole| hole.contains(point));
        inside && !overlays.iter().any(|shape| shape.outline.contains(point))
    };
    if overlays.is_empty() || open(usual) {
        return (usual, space(usual));
    }
    let bounds = outline.bounds();
    let grid = (1..400).map(|i| {
        let (column, row) = (f64::from(i % 20) / 20.0, f64::from(i / 20) / 20.0);
        Point::new(bounds.x0 + column * bounds.width(), bounds.y0 + row * bounds.height())
    });
    let spots = grid.filter(|&point| open(point)).map(|point| (point, space(point)));
    spots.fold((usual, 0.0), |best, spot| if spot.1 > best.1 + 1e-9 { spot } else { best })
}

/// Size at which `text` fits a circle of radius `room`, but readable (a thirty-fourth of the block) and not huge.
pub(crate) fn fitting(text: &str, room: f64, long: f64, beside_arrow: bool) -> f64 {
    let letters = f64::from(u32::try_from(text.chars().count()).unwrap_or(u32::MAX));
    let half_diagonal = (0.09 * letters * letters + 0.1225).sqrt();
    let share = if beside_arrow { 0.55 } else { 1.0 };
    (share * room / half_diagonal).min(long / 12.0).max(long / 34.0)
}

/// Distance from `point` to the nearest of the outlines.
pub(crate) fn room<'a>(loops: impl IntoIterator<Item = &'a Loop>, point: Point) -> f64 {
    let edges = loops.into_iter().flat_map(Loop::edges);
    edges.map(|edge| distance(edge, point)).fold(f64::INFINITY, f64::min)
}

/// Distance from `point` to `edge`; an arc is looked at in 24 places, good enough for the size of a label.
fn distance(edge: &Edge, point: Point) -> f64 {
    match *edge {
        Edge::Line { from, to } => {
            let along = to - from;
            let share = if along.hypot2() > 0.0 { ((point - from).dot(along) / along.hypot2()).clamp(0.0, 1.0) } else { 0.0 };
            (point - (from + along * share)).hypot2().sqrt()
        }
        Edge::Arc { .. } => {
            (0..=24).map(|i| (point - edge.at(f64::from(i) / 24.0)).hypot2().sqrt()).fold(f64::INFINITY, f64::min)
        }
    }
}

/// An arrow with a head at either end through `at` (on the page), `half` to each side: the trade's sign for straight grain.
pub(crate) fn grain(out: &mut String, at: Point, grain_deg: f64, half: f64, stroke: f64) {
    let turned = Pose::turn_deg(grain_deg).apply_vec(Vec2::new(1.0, 0.0));
    // The page's y points down.
    let (along, across) = (Vec2::new(turned.x, -turned.y), Vec2::new(turned.y, turned.x));
    let head = (half * 0.25).min(stroke * 8.0);
    let mut d = String::new();
    let mut line = |points: &[Point]| {
        for (i, p) in points.iter().enumerate() {
            let _ = write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, number(p.x), number(p.y));
        }
    };
    line(&[at - along * half, at + along * half]);
    for end in [half, -half] {
        let (tip, back) = (at + along * end, at + along * (end - head * end.signum()));
        line(&[back + across * head * 0.6, tip, back - across * head * 0.6]);
    }
    for (width, colour) in [(stroke * 5.0, "#fff"), (stroke, "#000")] {
        let width = number(width);
        let _ = write!(
            out,
            r#"<path d="{d}" fill="none" stroke="{colour}" stroke-width="{width}" stroke-linejoin="round" stroke-linecap="round"/>"#
        );
    }
}
