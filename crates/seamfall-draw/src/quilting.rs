//! Quilting over the whole joined quilt, and the signs that all drawings of quilting share.
//!
//! What is quilted now is a heavy solid line, what waits for the join a thinner one in long dashes, where the needle goes unseen a row
//! of dots; a thread left hanging ends in an open ring. They are told apart by that alone, black on white.

use crate::page::{Page, number, open};
use crate::section::trimmed;
use seamfall_geom::{Edge, Point, Pose, Vec2};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use std::fmt::Write;
use tr::tr;

/// Widths of lines and sizes of signs, as shares of a length.
pub(crate) struct Pens {
    /// Width of what is quilted now.
    pub now: f64,
    /// Length of an arrow.
    pub sign: f64,
}

impl Pens {
    /// For a drawing so long, a `fine`th of which is the width of a line.
    pub fn new(long: f64, fine: f64) -> Self {
        Self { now: long / fine, sign: long / fine * 5.0 }
    }

    /// Opens a group of what is quilted now.
    pub fn open_now(&self, out: &mut String) {
        let width = number(self.now);
        let _ = write!(
            out,
            r##"<g class="now" fill="none" stroke="#000" stroke-width="{width}" stroke-linejoin="round" stroke-linecap="round">"##
        );
    }

    /// Opens a group of what waits for the join.
    pub fn open_after(&self, out: &mut String) {
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
    pub fn open_hidden(&self, out: &mut String) {
        let n = |times: f64| number(self.now * times);
        let _ = write!(
            out,
            r##"<g class="hidden-way" fill="none" stroke="#000" stroke-width="{}" stroke-linecap="round" stroke-dasharray="0 {}">"##,
            n(0.8),
            n(2.4)
        );
    }

    /// Opens a group of rings for threads left hanging.
    pub fn open_hanging(&self, out: &mut String) {
        let _ = write!(out, r##"<g class="hanging" fill="#fff" stroke="#000" stroke-width="{}">"##, number(self.now * 0.6));
    }

    /// A ring in such a group.
    pub fn ring(&self, out: &mut String, at: Point) {
        let _ = write!(out, r#"<circle cx="{}" cy="{}" r="{}"/>"#, number(at.x), number(at.y), number(self.now * 1.4));
    }

    /// A dot where a path begins with a knot.
    pub fn dot(&self, out: &mut String, at: Point) {
        let _ = write!(
            out,
            r##"<circle class="start" cx="{}" cy="{}" r="{}" fill="#000"/>"##,
            number(at.x),
            number(at.y),
            number(self.now * 1.4)
        );
    }

    /// An arrow in the needle's direction.
    pub fn arrow(&self, out: &mut String, at: Point, way: Vec2) {
        let (size, across) = (self.sign, Vec2::new(-way.y, way.x) * (self.sign * 0.35));
        let back = at - way * (size * 0.5);
        self.shape(out, "arrow", &[at + way * (size * 0.5), back + across, back - across]);
    }

    /// A bar across a path, where a needleful begins.
    pub fn bar(&self, out: &mut String, at: Point, way: Vec2) {
        let across = Vec2::new(-way.y, way.x) * (self.sign * 0.6);
        self.shape(out, "needleful", &[at + across, at - across]);
    }

    fn shape(&self, out: &mut String, class: &str, points: &[Point]) {
        let _ = write!(out, r#"<path class="{class}" d="M"#);
        for (k, point) in points.iter().enumerate() {
            let _ = write!(out, "{}{} {}", if k > 0 { "L" } else { "" }, number(point.x), number(point.y));
        }
        let _ = write!(out, r##"" fill="#000" stroke="#000" stroke-width="{}"/>"##, number(self.now * 0.5));
    }
}

/// Edges that follow one another.
pub(crate) fn path(out: &mut String, page: Page, pose: Pose, edges: &[Edge]) {
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
    open(&mut out, (-rim, -rim, size.x + 2.0 * rim, size.y + 2.0 * rim), &tr!("Quilting of {name}", name = quilt.name));
    let _ = write!(out, r##"<g class="sections" fill="#fff" stroke="#000" stroke-width="{}">"##, number(pens.now / 3.0));
    for section in &plan.top.sections {
        out.push_str(r#"<path d=""#);
        page.loops(&mut out, Pose::IDENTITY, [&section.outline]);
        out.push_str(r#""/>"#);
    }
    out.push_str("</g>");
    if !plan.top.corners.is_empty() {
        trimmed(&mut out, std::slice::from_ref(&plan.top.outline), page, Pose::IDENTITY, pens.now);
    }
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

/// What a legend of the quilting explains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum QuiltingSign {
    /// A line quilted before the join.
    Now,
    /// A line quilted after the join.
    AfterJoin,
    /// Where the needle goes unseen.
    HiddenWay,
    /// A thread left hanging.
    Hanging,
    /// Where a path begins with a knot.
    Start,
    /// Which way the needle goes.
    Arrow,
    /// Where a new needleful begins.
    Needleful,
    /// A gap wider than the batting allows, with the line that would close it.
    Gap,
}

impl QuiltingSign {
    /// All signs, in the order of a legend.
    pub const ALL: [Self; 8] =
        [Self::Now, Self::AfterJoin, Self::HiddenWay, Self::Hanging, Self::Start, Self::Arrow, Self::Needleful, Self::Gap];

    /// What it says.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::Now => tr!("quilted now"),
            Self::AfterJoin => tr!("quilted after the join"),
            Self::HiddenWay => tr!("needle hidden between the layers"),
            Self::Hanging => tr!("thread left hanging"),
            Self::Start => tr!("path begins with a knot, its number beside it"),
            Self::Arrow => tr!("way of the needle"),
            Self::Needleful => tr!("new needleful"),
            Self::Gap => tr!("gap wider than the batting allows"),
        }
    }

    /// A picture of it, twenty units wide and ten high.
    #[must_use]
    pub fn svg(self) -> String {
        let mut out = String::from(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 -5 20 10" aria-hidden="true">"#);
        let (pens, page) = (Pens { now: 1.0, sign: 5.0 }, Page { left: 0.0, top: 0.0 });
        let across = |long: f64| [Edge::Line { from: Point::new(-long, 0.0), to: Point::new(long, 0.0) }];
        let lined = !matches!(self, Self::AfterJoin | Self::HiddenWay | Self::Gap);
        match self {
            Self::AfterJoin => pens.open_after(&mut out),
            Self::HiddenWay | Self::Gap => pens.open_hidden(&mut out),
            _ => pens.open_now(&mut out),
        }
        let from = if matches!(self, Self::Hanging | Self::Start) { 0.0 } else { -9.0 };
        if lined {
            path(&mut out, page, Pose::IDENTITY, &[Edge::Line { from: Point::new(from, 0.0), to: Point::new(9.0, 0.0) }]);
        } else if self == Self::Gap {
            out.push_str(r#"<circle cx="0" cy="0" r="4.4"/>"#);
            path(&mut out, page, Pose::IDENTITY, &across(4.4));
        } else {
            path(&mut out, page, Pose::IDENTITY, &across(9.0));
        }
        out.push_str("</g>");
        match self {
            Self::Hanging => {
                pens.open_hanging(&mut out);
                pens.ring(&mut out, Point::ZERO);
                out.push_str("</g>");
            }
            Self::Start => pens.dot(&mut out, Point::ZERO),
            Self::Arrow => pens.arrow(&mut out, Point::ZERO, Vec2::new(1.0, 0.0)),
            Self::Needleful => pens.bar(&mut out, Point::ZERO, Vec2::new(1.0, 0.0)),
            _ => {}
        }
        out.push_str("</svg>");
        out
    }
}
