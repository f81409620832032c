//! What is marked on a section before it is quilted, at true size.
//!
//! In: the lines of a kind of section. Out: a drawing without any text, so that it can be mirrored, and where its lines run, so that
//! sheets of paper on which there are none can be left out. What runs along a seam needs no mark and is drawn as a seam.

use crate::page::{Page, number, ticks};
use crate::quilting::path;
use crate::section::{from_front, seams, trimmed};
use crate::text::Escaped;
use seamfall_geom::{Edge, Loop, Pose, Rect, TipTrim, Vec2, grow};
use seamfall_model::{Quilt, QuiltingDesign};
use seamfall_plan::Plan;
use seamfall_plan::lap::{Line, Pattern};
use std::fmt::Write;
use tr::tr;

/// A marking sheet, before it is spread over paper.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkingDrawing {
    /// The drawing; its `width` and `height` carry the unit, and a unit of its viewBox is one of the document.
    pub svg: String,
    /// Width, in the document's unit.
    pub width: f64,
    /// Height, in the document's unit.
    pub height: f64,
    /// Boxes `[left, top, right, bottom]` that hold all its lines but the seams, in the document's unit from the upper left corner.
    pub inked: Vec<[f64; 4]>,
}

/// Widths on paper, in inches.
const NOW: f64 = 0.03;
const AFTER: f64 = 0.018;
const OUTLINE: f64 = 0.02;
const MARGIN: f64 = 0.01;
const SEAM: f64 = 0.007;

/// Longest piece of a line that gets a box of its own, and how far the box reaches beyond its ends, in inches: half a stroke, and
/// what a piece of an arc of 1/10 in bulges.
const PIECE: f64 = 0.25;
const BEYOND: f64 = 0.1;

/// Whether a line has to be marked: not where it runs along a seam.
#[must_use]
pub fn is_marked(quilt: &Quilt, line: &Line) -> bool {
    quilt.quilting.get(line.of).is_some_and(|one| !matches!(one.design, QuiltingDesign::InTheDitch | QuiltingDesign::Mitres))
}

/// What is to be marked on a kind of section, turned to the left by so many quarters: equal for kinds that can share a sheet of paper.
///
/// Every line as its ends and its middle, in hundred-thousandths of the unit, in no order of the maker's.
#[must_use]
pub fn marked_course(quilt: &Quilt, pattern: &Pattern, quarters: u32) -> Vec<[i64; 7]> {
    let turned = Pose::turn_deg(90.0 * f64::from(quarters));
    let bounds = pattern.outline.moved(turned).bounds();
    let pose = turned.then(Pose::shift(Vec2::new(-bounds.x0, -bounds.y0)));
    let whole = |value: f64| (value * 1e5).round() as i64;
    let course = |kind: i64, edge: &Edge| {
        let [a, middle, b] = [edge.from(), edge.at(0.5), edge.to()].map(|at| pose.apply(at)).map(|at| [whole(at.x), whole(at.y)]);
        let (low, high) = (a.min(b), a.max(b));
        [kind, low[0], low[1], middle[0], middle[1], high[0], high[1]]
    };
    let mut all: Vec<[i64; 7]> = pattern.outline.edges().iter().map(|edge| course(0, edge)).collect();
    all.extend(pattern.kept.iter().flatten().flat_map(|one| one.edges()).map(|edge| course(3, edge)));
    for line in pattern.lines.iter().filter(|line| is_marked(quilt, line)) {
        all.extend(line.edges.iter().map(|edge| course(if line.now { 1 } else { 2 }, edge)));
    }
    all.sort_unstable();
    all
}

/// The lines to mark on section `section`; `mirrored` for its back. Nothing where there is no such section.
#[must_use]
pub fn marking_svg(quilt: &Quilt, plan: &Plan, section: usize, mirrored: bool) -> Option<MarkingDrawing> {
    let (set, work) = (plan.top.sections.get(section)?, plan.lap.sections.get(section)?);
    let pattern = &plan.lap.patterns[work.pattern];
    let inch = quilt.measure.inch();
    let bounds = pattern.outline.bounds();
    let rim = NOW * inch;
    let (wide, high) = (bounds.width() + 2.0 * rim, bounds.height() + 2.0 * rim);
    let pose = from_front(bounds.width(), mirrored);
    let page = Page { left: -rim, top: bounds.height() + rim };
    let (w, h, unit) = (number(wide), number(high), quilt.measure.sign());
    let title = tr!("Lines to mark on section {section}", section = set.name);
    let title = if mirrored { tr!("{title}, from the back", title) } else { title };
    let title = Escaped(&title);
    let mut out = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}{unit}" height="{h}{unit}" viewBox="0 0 {w} {h}" role="img" aria-label="{title}"><title>{title}</title>"#
    );
    seams(&mut out, plan, section, page, Pose::shift(-work.shift).then(pose), SEAM * inch);
    let mut inked = Vec::new();
    let mut ink = |edges: &[Edge]| inked.extend(edges.iter().flat_map(|edge| boxes(edge, page, pose, inch)));
    let whole = std::slice::from_ref(&pattern.outline);
    let kept = pattern.kept.as_deref();
    let inner = kept.unwrap_or(whole).iter().filter_map(|one| grow(one, -plan.lap.clear, TipTrim::Full).ok());
    let inner: Vec<Loop> = inner.collect();
    let outlines = whole.iter().map(|one| (one, "outline", OUTLINE));
    for (outline, class, stroke) in outlines.chain(inner.iter().map(|one| (one, "margin", MARGIN))) {
        let _ = write!(out, r##"<path class="{class}" fill="none" stroke="#000" stroke-width="{}" d=""##, number(stroke * inch));
        page.loops(&mut out, pose, [outline]);
        out.push_str(r#""/>"#);
        ink(outline.edges());
    }
    if let Some(kept) = kept {
        trimmed(&mut out, kept, page, pose, OUTLINE * inch);
        kept.iter().for_each(|one| ink(one.edges()));
    }
    for (now, class, stroke, dashes) in [(false, "after-join", AFTER, true), (true, "now", NOW, false)] {
        let dashes =
            if dashes { format!(r#" stroke-dasharray="{} {}""#, number(0.2 * inch), number(0.1 * inch)) } else { String::new() };
        let _ = write!(
            out,
            r##"<g class="{class}" fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round"{dashes}>"##,
            number(stroke * inch)
        );
        for line in pattern.lines.iter().filter(|line| line.now == now && is_marked(quilt, line)) {
            path(&mut out, page, pose, &line.edges);
            ink(&line.edges);
        }
        out.push_str("</g>");
    }
    out.push_str("</svg>");
    #[expect(clippy::cast_precision_loss, reason = "a page is far smaller than 2^53 ten-thousandths")]
    let rounded = |value: f64| ticks(value) as f64 / 10_000.0;
    Some(MarkingDrawing { svg: out, width: rounded(wide), height: rounded(high), inked })
}

/// Boxes that hold an edge, piece by piece.
fn boxes(edge: &Edge, page: Page, pose: Pose, inch: f64) -> Vec<[f64; 4]> {
    let pieces = (edge.length() / (PIECE * inch)).ceil().clamp(1.0, 10_000.0);
    let at = |k: f64| page.at(pose.apply(edge.at(k / pieces)));
    let of = |k: u32| {
        let room = Rect::from_points(at(f64::from(k)), at(f64::from(k + 1))).inflate(BEYOND * inch, BEYOND * inch);
        [room.x0, room.y0, room.x1, room.y1]
    };
    (0..pieces as u32).map(of).collect()
}
