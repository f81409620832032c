//! One section as it is quilted in the lap, for screen and bag.
//!
//! Signs are those of `quilting`. Every path bears its number beside its start, and arrows in the needle's direction; a bar across it
//! says where a new needleful begins. Numbers stand where they cover least (`numbering`).

use crate::numbering::{Crowd, Spot};
use crate::page::{Page, number, open};
use crate::quilting::{Pens, path};
use crate::text::{Anchor, Label, Tone, width};
use seamfall_geom::{Loop, Point, Pose, Rect, TipTrim, Vec2, grow};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::lap::{Path, Pattern};
use std::fmt::Write;
use tr::tr;

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

/// One section at its full size, as it is quilted in the lap: seams to find one's way, the free margin, paths with numbers and arrows.
/// `mirrored` for marking from the back; words and numbers are never mirrored. Nothing where there is no such section.
#[must_use]
pub fn section_svg(quilt: &Quilt, plan: &Plan, section: usize, mirrored: bool) -> Option<SectionDrawing> {
    let (set, work) = (plan.top.sections.get(section)?, plan.lap.sections.get(section)?);
    let pattern = &plan.lap.patterns[work.pattern];
    let bounds = set.outline.bounds();
    let (w, h) = (bounds.width(), bounds.height());
    let pens = Pens::new(w.max(h).max(1.0), 300.0);
    // Room for rings on the outline.
    let rim = pens.now * 2.5;
    let pose = from_front(w, mirrored);
    let title = tr!("Section {section} of {quilt}", section = set.name, quilt = quilt.name);
    let title = if mirrored { tr!("{title}, from the back", title) } else { title };
    let mut out = String::new();
    open(&mut out, (-rim, -rim, w + 2.0 * rim, h + 2.0 * rim), &title);
    let page = Page { left: 0.0, top: h };
    let on_sheet = Pose::shift(-work.shift).then(pose);
    seams(&mut out, plan, section, page, on_sheet, pens.now * 0.4);
    let _ = write!(out, r##"<g fill="none" stroke="#000" stroke-width="{}">"##, number(pens.now * 0.5));
    let inner: Vec<Loop> = set.left().iter().filter_map(|one| grow(one, -plan.lap.clear, TipTrim::Full).ok()).collect();
    for (outlines, class) in [(std::slice::from_ref(&set.outline), "outline"), (inner.as_slice(), "margin")] {
        for outline in outlines {
            let _ = write!(out, r#"<path class="{class}" d=""#);
            page.loops(&mut out, on_sheet, [outline]);
            out.push_str(r#""/>"#);
        }
    }
    if let Some(kept) = &set.kept {
        trimmed(&mut out, kept, page, on_sheet, pens.now);
    }
    out.push_str("</g>");
    lines(&mut out, pattern, page, pose, &pens);
    Signs { pattern, page, pose, pens: &pens, sheet: Rect::new(-rim, -rim, w + rim, h + rim) }.write(&mut out);
    out.push_str("</svg>");
    Some(SectionDrawing { svg: out, width: w + 2.0 * rim, height: h + 2.0 * rim })
}

/// What is left of a section once the corner of the quilt is trimmed, in long dashes.
pub(crate) fn trimmed(out: &mut String, kept: &[Loop], page: Page, pose: Pose, pen: f64) {
    let (dash, gap) = (number(pen * 8.0), number(pen * 4.0));
    let _ = write!(
        out,
        r##"<path class="trim" fill="none" stroke="#000" stroke-width="{}" stroke-dasharray="{dash} {gap}" d=""##,
        number(pen)
    );
    page.loops(out, pose, kept);
    out.push_str(r#""/>"#);
}

/// From a pattern's coordinates to those of its drawing, `w` wide: as they are, or seen from the back.
pub(crate) fn from_front(w: f64, mirrored: bool) -> Pose {
    if mirrored { Pose::mirror().then(Pose::shift(Vec2::new(w, 0.0))) } else { Pose::IDENTITY }
}

/// Outlines of patches and strips, thin and grey.
pub(crate) fn seams(out: &mut String, plan: &Plan, section: usize, page: Page, pose: Pose, stroke: f64) {
    let _ = write!(out, r##"<g class="seams" fill="none" stroke="#999" stroke-width="{}">"##, number(stroke));
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

/// A point on a path.
struct Along {
    at: Point,
    /// The needle's direction there.
    way: Vec2,
    hidden: bool,
}

/// The point a length along a path.
fn along(path: &Path, length: f64) -> Option<Along> {
    let mut rest = length;
    let edges = path.stretches.iter().flat_map(|part| part.edges.iter().map(|edge| (edge, part.hidden)));
    let mut last = None;
    for (edge, hidden) in edges {
        let long = edge.length();
        if rest <= long {
            let share = if long > 0.0 { rest / long } else { 0.0 };
            let (a, b) = (edge.at((share - 0.01).max(0.0)), edge.at((share + 0.01).min(1.0)));
            return Some(Along { at: edge.at(share), way: direction(b - a), hidden });
        }
        rest -= long;
        last = Some(Along { at: edge.to(), way: edge.direction_to(), hidden });
    }
    last
}

fn direction(way: Vec2) -> Vec2 {
    let long = way.hypot2().sqrt();
    if long > 0.0 { way / long } else { way }
}

/// Signs and numbers of the paths of a section.
struct Signs<'a> {
    pattern: &'a Pattern,
    page: Page,
    pose: Pose,
    pens: &'a Pens,
    /// All of the drawing.
    sheet: Rect,
}

impl Signs<'_> {
    /// The point a length along a path, as it lies on the drawing.
    fn placed(&self, path: &Path, length: f64) -> Option<Along> {
        let Along { at, way, hidden } = along(path, length)?;
        let way = self.pose.apply_vec(way);
        Some(Along { at: self.page.at(self.pose.apply(at)), way: Vec2::new(way.x, -way.y), hidden })
    }

    fn write(&self, out: &mut String) {
        // Numbers get smaller where there are many of them.
        let count = self.pattern.paths.len();
        let high = self.pens.sign * if count > 150 { 1.1 } else { 1.7 };
        let mut crowd = self.crowd(high);
        for (index, path) in self.pattern.paths.iter().enumerate() {
            self.arrows(out, path, &mut crowd);
            for needleful in self.pattern.needlefuls.iter().filter(|one| one.path == index && one.from > 0.0) {
                let Some(Along { at, way, .. }) = self.placed(path, needleful.from) else { continue };
                self.pens.bar(out, at, way);
                crowd.mark(at, 3.0);
            }
            if let (Some(start), false) = (self.placed(path, 0.0), path.hangs[0]) {
                self.pens.dot(out, start.at);
                crowd.mark(start.at, 4.0);
            }
        }
        for (index, path) in self.pattern.paths.iter().enumerate() {
            self.number(out, (index, path), high, &mut crowd);
        }
    }

    /// What is better not covered by numbers: lines and rings.
    fn crowd(&self, high: f64) -> Crowd {
        let mut crowd = Crowd::new(high);
        let on_sheet = |at: Point| self.page.at(self.pose.apply(at));
        for part in self.pattern.paths.iter().flat_map(|path| &path.stretches) {
            for edge in &part.edges {
                let points = (edge.length() / (high * 0.2)).ceil().clamp(1.0, 10_000.0);
                let weight = if part.hidden { 0.4 } else { 1.0 };
                (0..points as u32).for_each(|k| crowd.mark(on_sheet(edge.at(f64::from(k) / points)), weight));
            }
        }
        self.pattern.hanging.iter().for_each(|at| crowd.mark(on_sheet(*at), 4.0));
        crowd
    }

    /// Arrows along a path: one in the middle of a short one, none where it is hardly longer than an arrow or hidden.
    fn arrows(&self, out: &mut String, path: &Path, crowd: &mut Crowd) {
        let (size, whole) = (self.pens.sign, path.length());
        if whole < size * 3.0 {
            return;
        }
        let arrows = (whole / (size * 24.0)).floor().clamp(1.0, 40.0);
        for k in 0..arrows as u32 {
            let Some(Along { at, way, hidden: false }) = self.placed(path, whole * (f64::from(k) + 0.5) / arrows) else {
                continue;
            };
            self.pens.arrow(out, at, way);
            crowd.mark(at, 3.0);
        }
    }

    /// The number of a path beside its start, with a thin line to it where it had to stand farther off.
    fn number(&self, out: &mut String, (index, path): (usize, &Path), high: f64, crowd: &mut Crowd) {
        let text = (index + 1).to_string();
        let (spots, leads): (Vec<Spot>, Vec<Option<Point>>) = self.spots(path, width(&text, high), high).into_iter().unzip();
        let Some(best) = crowd.settle(&spots) else { return };
        let at = spots[best].room.center();
        if let Some(from) = leads[best] {
            let [x0, y0, x1, y1] = [from.x, from.y, at.x, at.y].map(number);
            let stroke = number(self.pens.now * 0.35);
            let _ = write!(
                out,
                r##"<path class="leader" d="M{x0} {y0}L{x1} {y1}" fill="none" stroke="#000" stroke-width="{stroke}"/>"##
            );
        }
        Label { text: &text, at, size: high, anchor: Anchor::Middle, bold: true, tone: Tone::OnLight }.write(out, "");
    }

    /// Where the number of a path may stand: round its start and a little along it, and from where a line leads to it if it is farther off.
    fn spots(&self, path: &Path, wide: f64, high: f64) -> Vec<(Spot, Option<Point>)> {
        // With white on either side, or two numbers in a row would read as one.
        let half = Vec2::new(wide / 2.0 + high * 0.2, high * 0.45);
        let mut spots = Vec::new();
        for far in [0.0, 1.0, 2.0] {
            let length = high * 1.5 * far;
            // On the first half of the path, or a number would seem to be that of its end.
            if far > 0.0 && length > path.length() / 2.0 {
                break;
            }
            let Some(Along { at, way, .. }) = self.placed(path, length) else { break };
            for (off, worse) in [(0.3, 0.0), (1.0, 2.0), (1.8, 4.0)] {
                for [sine, cosine] in TURNS {
                    let to = Vec2::new(-way.y * sine - way.x * cosine, way.x * sine - way.y * cosine);
                    let middle = at + Vec2::new(to.x * (half.x + off * high), to.y * (half.y + off * high));
                    let room = Rect::from_points(middle - half, middle + half);
                    let inside = self.sheet.union(room) == self.sheet;
                    let total = worse + far * 1.5 + if inside { 0.0 } else { 200.0 };
                    spots.push((Spot { room, worse: total }, (worse > 0.0).then_some(at)));
                }
            }
        }
        spots
    }
}

/// Directions from a start: sine and cosine of turns by 45 degrees, beginning to the right of the needle.
const TURNS: [[f64; 2]; 8] = {
    const HALF: f64 = std::f64::consts::FRAC_1_SQRT_2;
    [[1.0, 0.0], [-1.0, 0.0], [HALF, HALF], [-HALF, HALF], [0.0, 1.0], [HALF, -HALF], [-HALF, -HALF], [0.0, -1.0]]
};
