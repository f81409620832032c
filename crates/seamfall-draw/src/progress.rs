//! How far the quilt is: every section filled from its foot as far as its work has come.
//!
//! A section that is planned only is white; it fills up, in grey with a line at its level, as it is cut, pieced, framed, layered, quilted and
//! trimmed, and its word stands in it. Sections that are joined have no line between them and one heavy line round them. So it is told in
//! black and white, and by words.

use crate::page::{Page, number, open};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Loop, Point, Pose};
use seamfall_model::{Quilt, SewnState};
use seamfall_plan::Plan;
use std::fmt::Write;
use tr::tr;

/// The picture. Every section is a group with the id `progress-S3`.
#[must_use]
pub fn progress_svg(quilt: &Quilt, plan: &Plan) -> String {
    let size = plan.top.size;
    let long = size.x.max(size.y).max(1.0);
    let (pen, rim) = (long / 500.0, long / 200.0);
    let page = Page { left: 0.0, top: size.y };
    let done = plan.sewn.sections.iter().filter(|section| section.state >= SewnState::Quilted).count();
    let name = tr!(
        "How far {name} is: {done} of {sections} sections are quilted",
        name = quilt.name,
        done,
        sections = plan.top.sections.len()
    );
    let mut out = String::new();
    open(&mut out, (-rim, -rim, size.x + 2.0 * rim, size.y + 2.0 * rim), &name);
    let (joined, alone): (Vec<_>, Vec<_>) = plan.sewn.groups.iter().partition(|group| group.len() > 1);
    alone.into_iter().flatten().for_each(|&at| section(&mut out, plan, page, at, pen, "#000"));
    for group in joined {
        // The line round them lies below: what is drawn over it leaves its outer half, and nothing between two that are joined.
        let _ = write!(out, r##"<g fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round">"##, number(pen * 6.0));
        for &at in group {
            let _ = write!(out, r#"<path d="{}"/>"#, data(page, &plan.top.sections[at].outline));
        }
        out.push_str("</g>");
        group.iter().for_each(|&at| section(&mut out, plan, page, at, pen, "none"));
    }
    out.push_str("</svg>");
    out
}

fn data(page: Page, outline: &Loop) -> String {
    let mut data = String::new();
    page.loops(&mut data, Pose::IDENTITY, [outline]);
    data
}

/// One section, filled as far as it is, with a line round it.
fn section(out: &mut String, plan: &Plan, page: Page, at: usize, pen: f64, line: &str) {
    let (section, state) = (&plan.top.sections[at], plan.sewn.sections[at].state);
    let (bounds, shape, name) = (section.outline.bounds(), data(page, &section.outline), Escaped(&section.name));
    let high = bounds.height() * f64::from(state as u8) / f64::from(SewnState::Joined as u8);
    let foot = page.at(Point::new(bounds.x0, bounds.y0));
    let _ = write!(
        out,
        r##"<g id="progress-{name}"><title>{name}: {}</title><clipPath id="progress-clip-{at}"><path d="{shape}"/></clipPath><path d="{shape}" fill="#fff" stroke="{line}" stroke-width="{}"/><path clip-path="url(#progress-clip-{at})" d="M{} {}h{}v{}h-{}z" fill="#ccc"/>"##,
        state.said(),
        number(pen),
        number(foot.x),
        number(foot.y - high),
        number(bounds.width()),
        number(high),
        number(bounds.width()),
    );
    words(out, page, &section.outline, &section.name, state);
    out.push_str("</g>");
}

/// The section's name, and below it how far it is.
fn words(out: &mut String, page: Page, outline: &Loop, name: &str, state: SewnState) {
    let bounds = outline.bounds();
    let middle = page.at(outline.label_point());
    let said = if state == SewnState::Planned { String::new() } else { state.said() };
    let size = (bounds.height() * 0.2).min(bounds.width() * 0.8 / width("quilted", 1.0));
    for (text, below, bold) in [(name, -0.15, true), (&said, 0.95, false)] {
        let at = Point::new(middle.x, middle.y + size * below);
        Label { text, at, size: if bold { size } else { size * 0.8 }, anchor: Anchor::Middle, bold, tone: Tone::OnLight }
            .write(out, "");
    }
}
