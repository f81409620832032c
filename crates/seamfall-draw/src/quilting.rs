//! Quilting: the whole joined quilt, and one section for the bag.
//!
//! What is quilted now is a heavy solid line, what waits for the join a thinner one in long dashes, where the needle goes unseen a row
//! of dots; a thread left hanging ends in an open ring. They are told apart by that alone, black on white. On a section's drawing every
//! path bears its number at its start and arrows in the needle's direction; a bar across it says where a new needleful begins.

use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone};
use seamfall_geom::{Edge, Point, Pose, TipTrim, Vec2, grow};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::lap::{Path, Pattern};
use std::fmt::Write;

/// A section's drawing, and what it measures in the document's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionDrawing {
    /// The drawing; its viewBox is in the document's unit.
    pub svg: String,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
}

/// Widths of lines and sizes of signs, as shares of a length.
struct Pens {
    now: f64,
    sign: f64,
}

impl Pens {
    fn new(long: f64, fine: f64) -> Self {
        Self { now: long / fine, sign: long / fine * 5.0 }
    }

    /// Opens a group of what is quilted now.
    fn open_now(&self, out: &mut String) {
        let width = number(self.now);
        let _ = write!(
            out,
            r##"<g class="now" fill="none" stroke="#000" stroke-width="{width}" stroke-linejoin="round" stroke-linecap="round">"##
        );
    }

    /// Opens a group of what waits for the join.
    fn open_after(&self, out: &mut String) {
        let n = |times: f64| number(self.now * times);
        let _ = write!(
            out,
            r##"<g class="after-join" fill="none" stroke="#000" stroke-width="{}" stroke-dasharray="{} {}">"##,
            n(0.55),
            n(5.0),
            n(3.0)
        );
    }

    /// Opens a group of hidden ways: dots.
    fn open_hidden(&self, out: &mut String) {
        let n = |times: f64| number(self.now * times);
        let _ = write!(
            out,
            r##"<g class="hidden-way" fill="none" stroke="#000" stroke-width="{}" stroke-linecap="round" stroke-dasharray="0 {}">"##,
            n(0.8),
            n(2.4)
        );
    }

    /// Opens a group of rings for threads left hanging.
    fn open_hanging(&self, out: &mut String) {
        let _ = write!(out, r##"<g class="hanging" fill="#fff" stroke="#000" stroke-width="{}">"##, number(self.now * 0.6));
    }

    fn ring(&self, out: &mut String, at: Point) {
        let _ = write!(out, r#"<circle cx="{}" cy="{}" r="{}"/>"#, number(at.x), number(at.y), number(self.now * 1.4));
    }
}

fn open(out: &mut String, (left, top, width, height): (f64, f64, f64, f64), name: &str) {
    let _ = write!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}" role="img" aria-label="{name}" font-family="sans-serif"><title>{name}</title>"#,
        number(left),
        number(top),
        number(width),
        number(height),
        name = Escaped(name),
    );
}

fn path(out: &mut String, page: Page, pose: Pose, edges: &[Edge]) {
    out.push_str(r#"<path d=""#);
    page.chain(out, pose, edges, false);
    out.push_str(r#""/>"#);
}

/// The quilting over the joined quilt: sections in thin lines, what is quilted now and what after the joins, gaps that are too wide as
/// rings of dots. The viewBox is in the document's unit.
#[must_use]
pub fn quilting_svg(quilt: &Quilt, plan: &Plan) -> String {
    let size = plan.top.size;
    let long = size.x.max(size.y).max(1.0);
    let pens = Pens::new(long, 500.0);
    let page = Page { left: 0.0, top: size.y };
    let mut out = String::new();
    let rim = long / 150.0;
    open(&mut out, (-rim, -rim, size.x + 2.0 * rim, size.y + 2.0 * rim), &format!("Quilting of {}", quilt.name));
    let _ = write!(out, r##"<g class="sections" fill="#fff" stroke="#000" stroke-width="{}">"##, number(pens.now / 3.0));
    for section in &plan.top.sections {
        out.push_str(r#"<path d=""#);
        page.loops(&mut out, Pose::IDENTITY, [&section.outline]);
        out.push_str(r#""/>"#);
    }
    out.push_str("</g>");
    for now in [false, true] {
        if now {
            pens.open_now(&mut out)
        } else {
            pens.open_after(&mut out)
        }
        for work in &plan.lap.sections {
            let lines = plan.lap.patterns[work.pattern].lines.iter().filter(|line| line.now == now);
            lines.for_each(|line| path(&mut out, page, Pose::shift(work.shift), &line.edges));
        }
        out.push_str("</g>");
    }
    pens.open_hanging(&mut out);
    for work in &plan.lap.sections {
        plan.lap.patterns[work.pattern].hanging.iter().for_each(|at| pens.ring(&mut out, page.at(*at + work.shift)));
    }
    out.push_str("</g>");
    pens.open_hidden(&mut out);
    for gap in &plan.lap.gaps {
        let at = page.at(gap.centre);
        let _ =
            write!(out, r#"<circle class="gap" cx="{}" cy="{}" r="{}"/>"#, number(at.x), number(at.y), number(gap.width / 2.0));
        path(&mut out, page, Pose::IDENTITY, &[gap.line]);
    }
    out.push_str("</g></svg>");
    out
}

/// One section at its full size, as it is quilted in the lap: seams to find one's way, the free margin, paths with numbers and arrows.
/// `mirrored` for marking from the back; words and numbers are never mirrored. Nothing where there is no such section.
#[must_use]
pub fn section_svg(quilt: &Quilt, plan: &Plan, section: usize, mirrored: bool) -> Option<SectionDrawing> {
    let (set, work) = (plan.top.sections.get(section)?, plan.lap.sections.get(section)?);
    let pattern = &plan.lap.patterns[work.pattern];
    let bounds = set.outline.bounds();
    let (w, h) = (bounds.width(), bounds.height());
    let pens = Pens::new(w.max(h).max(1.0), 300.0);
    let rim = pens.now * 2.0;
    let page = Page { left: 0.0, top: h };
    let pose = if mirrored { Pose::mirror().then(Pose::shift(Vec2::new(w, 0.0))) } else { Pose::IDENTITY };
    let side = if mirrored { ", from the back" } else { "" };
    let mut out = String::new();
    open(&mut out, (-rim, -rim, w + 2.0 * rim, h + 2.0 * rim), &format!("Section {} of {}{side}", set.name, quilt.name));
    seams(&mut out, plan, section, page, Pose::shift(-work.shift).then(pose), &pens);
    let _ = write!(out, r##"<g fill="none" stroke="#000" stroke-width="{}">"##, number(pens.now * 0.5));
    let inner = grow(&set.outline, -plan.lap.clear, TipTrim::Full).ok();
    for (outline, class) in [(Some(&set.outline), "outline"), (inner.as_ref(), "margin")] {
        if let Some(outline) = outline {
            let _ = write!(out, r#"<path class="{class}" d=""#);
            page.loops(&mut out, Pose::shift(-work.shift).then(pose), [outline]);
            out.push_str(r#""/>"#);
        }
    }
    out.push_str("</g>");
    lines(&mut out, pattern, page, pose, &pens);
    for (number, path) in pattern.paths.iter().enumerate() {
        signs(&mut out, pattern, (number, path), page, pose, &pens);
    }
    out.push_str("</svg>");
    Some(SectionDrawing { svg: out, width: w + 2.0 * rim, height: h + 2.0 * rim })
}

/// Outlines of patches and strips, thin and grey.
fn seams(out: &mut String, plan: &Plan, section: usize, page: Page, pose: Pose, pens: &Pens) {
    let _ = write!(out, r##"<g class="seams" fill="none" stroke="#999" stroke-width="{}">"##, number(pens.now * 0.4));
    let set = &plan.top.sections[section];
    for place in set.places.iter().map(|&place| &plan.top.places[place]) {
        for patch in &plan.drafts[place.block.0].patches {
            out.push_str(r#"<path d=""#);
            page.loops(out, place.pose.then(pose), std::iter::once(&patch.outline).chain(&patch.holes));
            out.push_str(r#""/>"#);
        }
    }
    for strip in set.strips.iter().map(|&strip| &plan.top.strips[strip]) {
        out.push_str(r#"<path d=""#);
        page.loops(out, pose, [&strip.outline]);
        out.push_str(r#""/>"#);
    }
    out.push_str("</g>");
}

/// The lines after the join, those of the paths, hidden ways, and rings where threads hang.
fn lines(out: &mut String, pattern: &Pattern, page: Page, pose: Pose, pens: &Pens) {
    pens.open_after(out);
    pattern.lines.iter().filter(|line| !line.now).for_each(|line| path(out, page, pose, &line.edges));
    out.push_str("</g>");
    for hidden in [false, true] {
        if hidden {
            pens.open_hidden(out)
        } else {
            pens.open_now(out)
        }
        let parts = pattern.paths.iter().flat_map(|path| &path.stretches).filter(|part| part.hidden == hidden);
        parts.for_each(|part| path(out, page, pose, &part.edges));
        out.push_str("</g>");
    }
    pens.open_hanging(out);
    pattern.hanging.iter().for_each(|at| pens.ring(out, page.at(pose.apply(*at))));
    out.push_str("</g>");
}

/// The point a length along a path, with the needle's direction there.
fn along(path: &Path, length: f64) -> Option<(Point, Vec2)> {
    let mut rest = length;
    let edges = path.stretches.iter().flat_map(|part| &part.edges);
    let mut last = None;
    for edge in edges {
        let long = edge.length();
        if rest <= long {
            let share = if long > 0.0 { rest / long } else { 0.0 };
            let (a, b) = (edge.at((share - 0.01).max(0.0)), edge.at((share + 0.01).min(1.0)));
            return Some((edge.at(share), direction(b - a)));
        }
        rest -= long;
        last = Some((edge.to(), edge.direction_to()));
    }
    last
}

fn direction(way: Vec2) -> Vec2 {
    let long = way.hypot2().sqrt();
    if long > 0.0 { way / long } else { way }
}

/// The number of a path at its start, arrows along it, and bars where a needleful begins.
fn signs(out: &mut String, pattern: &Pattern, (index, path): (usize, &Path), page: Page, pose: Pose, pens: &Pens) {
    let placed = |length: f64| {
        along(path, length).map(|(at, way)| {
            let way = pose.apply_vec(way);
            (page.at(pose.apply(at)), Vec2::new(way.x, -way.y))
        })
    };
    let size = pens.sign;
    let mut shape = |points: &[Point], class: &str| {
        let _ = write!(out, r#"<path class="{class}" d="M"#);
        for (k, point) in points.iter().enumerate() {
            let _ = write!(out, "{}{} {}", if k > 0 { "L" } else { "" }, number(point.x), number(point.y));
        }
        let _ = write!(out, r##"" fill="#000" stroke="#000" stroke-width="{}"/>"##, number(pens.now * 0.5));
    };
    // An arrow after the start and then one about every twelve signs, none in hidden ways of its own accord.
    let whole = path.length();
    let arrows = (whole / (size * 24.0)).floor().clamp(1.0, 40.0);
    for k in 0..arrows as u32 {
        let Some((at, way)) = placed(whole * (f64::from(k) + 0.5) / arrows) else { continue };
        let across = Vec2::new(-way.y, way.x);
        shape(
            &[
                at + way * (size * 0.5),
                at - way * (size * 0.5) + across * (size * 0.35),
                at - way * (size * 0.5) - across * (size * 0.35),
            ],
            "arrow",
        );
    }
    for needleful in pattern.needlefuls.iter().filter(|one| one.path == index && one.from > 0.0) {
        let Some((at, way)) = placed(needleful.from) else { continue };
        let across = Vec2::new(-way.y, way.x) * (size * 0.6);
        shape(&[at + across, at - across], "needleful");
    }
    if let Some((at, way)) = placed(0.0) {
        let text = (index + 1).to_string();
        let beside = at + Vec2::new(way.y, -way.x) * (size * 0.9);
        Label { text: &text, at: beside, size: size * 1.3, anchor: Anchor::Middle, bold: true, tone: Tone::OnLight }
            .write(out, "");
    }
}
