//! The quilting laid over the drawing of the top, and the way of the needle through one section.
//!
//! Each kind of section is drawn once and used wherever it stands. Every line is drawn twice, a wide one below a narrow one, so that it
//! is seen on any cloth; the page gives them their colours. What is quilted now is solid, what waits for the join in dashes, and a
//! hanging thread ends in a ring.

use crate::page::{Page, number};
use crate::section::from_front;
use seamfall_geom::{Edge, Point, Pose};
use seamfall_plan::Plan;
use std::fmt::Write;
use std::ops::Range;

/// Id of the layer.
const ID: &str = "quilting";

/// Writes the layer, one element.
pub(crate) fn layer(out: &mut String, plan: &Plan, page: Page) -> (String, Range<usize>) {
    let from = out.len();
    let _ = write!(out, r#"<g id="{ID}" class="quilting" pointer-events="none" fill="none"><defs>"#);
    let ring = plan.top.size.x.max(plan.top.size.y) / 260.0;
    // Drawn with its origin at the page's, and moved from there.
    let origin = Page { left: 0.0, top: 0.0 };
    for (number, pattern) in
        plan.lap.patterns.iter().enumerate().filter(|(number, _)| plan.lap.sections_of(*number).next().is_some())
    {
        for now in [false, true] {
            let _ = write!(
                out,
                r#"<path id="quilting{}{number}" vector-effect="non-scaling-stroke" d=""#,
                if now { "-now" } else { "-after" }
            );
            let lines = pattern.lines.iter().filter(|line| line.now == now);
            lines.for_each(|line| origin.chain(out, Pose::IDENTITY, &line.edges, false));
            out.push_str(r#""/>"#);
        }
        let _ = write!(out, r#"<path id="quilting-hanging{number}" vector-effect="non-scaling-stroke" d=""#);
        pattern.hanging.iter().for_each(|at| circle(out, origin.at(*at), ring));
        out.push_str(r#""/>"#);
    }
    out.push_str("</defs>");
    for (part, class) in [("-after", "after-join"), ("-now", "now"), ("-hanging", "hanging")] {
        for below in [true, false] {
            let _ = write!(out, r#"<g class="{class}{}">"#, if below { " below" } else { "" });
            for work in &plan.lap.sections {
                let at = page.at(Point::ZERO + work.shift);
                let _ =
                    write!(out, r##"<use href="#quilting{part}{}" x="{}" y="{}"/>"##, work.pattern, number(at.x), number(at.y));
            }
            out.push_str("</g>");
        }
    }
    out.push_str("</g>");
    (ID.to_owned(), from..out.len())
}

fn circle(out: &mut String, at: Point, radius: f64) {
    let r = number(radius);
    let _ = write!(
        out,
        "M{} {}a{r} {r} 0 0 1 {} 0a{r} {r} 0 0 1 -{} 0z",
        number(at.x - radius),
        number(at.y),
        number(radius * 2.0),
        number(radius * 2.0)
    );
}

/// All lines of the quilting as a small picture: heavy, on the outlines of the sections.
#[must_use]
pub fn design_svg(plan: &Plan) -> String {
    let size = plan.top.size;
    let page = Page { left: 0.0, top: size.y };
    let mut out = format!(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {} {}">"#, number(size.x), number(size.y));
    let pen = size.x.max(size.y) / 45.0;
    let _ = write!(out, r##"<path fill="#fff" stroke="#bbb" stroke-width="{}" d=""##, number(pen));
    page.loops(&mut out, Pose::IDENTITY, plan.top.sections.iter().map(|section| &section.outline));
    let _ = write!(
        out,
        r##""/><path fill="none" stroke="#000" stroke-width="{}" stroke-linecap="round" stroke-linejoin="round" d=""##,
        number(pen)
    );
    for work in &plan.lap.sections {
        for line in &plan.lap.patterns[work.pattern].lines {
            page.chain(&mut out, Pose::shift(work.shift), &line.edges, false);
        }
    }
    out.push_str(r#""/></svg>"#);
    out
}

/// A stretch of the needle's way as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnStretch {
    /// Whether it goes unseen between the layers.
    pub hidden: bool,
    /// Path data, in the coordinates of [`section_svg`](crate::section_svg).
    pub d: String,
    /// Its length.
    pub length: f64,
}

/// The needle's way through a section, path by path, cut where a new needleful begins: the stretches of each needleful. Nothing where there is
/// no such section.
#[must_use]
pub fn needle_way(plan: &Plan, section: usize, mirrored: bool) -> Option<Vec<Vec<DrawnStretch>>> {
    let (set, work) = (plan.top.sections.get(section)?, plan.lap.sections.get(section)?);
    let pattern = &plan.lap.patterns[work.pattern];
    let bounds = set.outline.bounds();
    let page = Page { left: 0.0, top: bounds.height() };
    let pose = from_front(bounds.width(), mirrored);
    let way = pattern.needlefuls.iter().map(|needleful| {
        let mut before = 0.0;
        let mut stretches = Vec::new();
        for stretch in &pattern.paths[needleful.path].stretches {
            let mut edges: Vec<Edge> = Vec::new();
            for edge in &stretch.edges {
                let length = edge.length();
                let within = [needleful.from - before, needleful.to - before].map(|at| (at / length).clamp(0.0, 1.0));
                if length > 0.0 && within[1] - within[0] > 1e-9 {
                    edges.push(edge.part(edge.at(within[0]), edge.at(within[1])));
                }
                before += length;
            }
            if !edges.is_empty() {
                let mut d = String::new();
                page.chain(&mut d, pose, &edges, false);
                stretches.push(DrawnStretch { hidden: stretch.hidden, d, length: edges.iter().map(Edge::length).sum() });
            }
        }
        stretches
    });
    Some(way.collect())
}
