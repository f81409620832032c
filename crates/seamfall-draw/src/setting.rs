//! Line diagram of the setting: places with their names, sections, dimensions.

use crate::dimension::{Course, chain, depth};
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Point, Pose, Rect, Vec2};
use seamfall_model::{Layout, Length, Quilt, letters};
use seamfall_plan::{
    Plan,
    set::{PieceKind, PlacedBlock},
};
use std::fmt::Write;
use tr::tr;

/// The setting of `quilt`: every place with its name, `block` and the block's letter, turned ones with an arrow towards the
/// block's own top; sections in heavy lines; below and to the right the widths and heights along one row and one column, and
/// those of the whole top. The viewBox is in the document's unit.
#[must_use]
pub fn setting_svg(quilt: &Quilt, plan: &Plan) -> String {
    let size = plan.top.size;
    let long = size.x.max(size.y).max(1.0);
    let text = long / 50.0;
    let rim = long / 150.0;
    let margin = 2.0 * depth(text) + text;
    let page = Page { left: 0.0, top: size.y };
    let mut out = String::new();
    let _ = write!(
        out,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="{} {} {} {}" role="img" aria-label="{name}" font-family="sans-serif"><title>{name}</title>"#,
        number(-rim),
        number(-rim),
        number(size.x + rim + margin),
        number(size.y + rim + margin),
        name = Escaped(&tr!("Setting of {name}", name = quilt.name)),
    );
    let _ = write!(out, r##"<g fill="#fff" stroke="#000" stroke-width="{}" stroke-linejoin="round">"##, number(long / 800.0));
    let strips = plan.top.strips.iter().map(|strip| &strip.outline);
    for outline in strips.chain(plan.top.places.iter().map(|place| &place.outline)) {
        out.push_str(r#"<path d=""#);
        page.loops(&mut out, Pose::IDENTITY, [outline]);
        out.push_str(r#""/>"#);
    }
    let heavy = plan.top.sections.iter().map(|section| section.size.y).fold(long / 5.0, f64::min).max(long / 16.0) / 40.0;
    let _ = write!(out, r##"</g><g fill="none" stroke="#000" stroke-width="{}" stroke-linejoin="round">"##, number(heavy));
    for section in &plan.top.sections {
        out.push_str(r#"<path d=""#);
        page.loops(&mut out, Pose::IDENTITY, [&section.outline]);
        out.push_str(r#""/>"#);
    }
    out.push_str("</g>");
    for place in &plan.top.places {
        label(&mut out, quilt, place, page, long / 18.0);
    }

    let shown = |length: f64| Length::new(length).shown(quilt.step);
    let with_unit = |length: f64| Length::new(length).shown_with_unit(quilt.step);
    let across = stops(quilt, plan, false);
    // The page's y runs down from the top.
    let down: Vec<_> = stops(quilt, plan, true).iter().rev().map(|y| size.y - y).collect();
    let mut at = text;
    if across.len() > 2 || down.len() > 2 {
        chain(&mut out, Course::Across, &across, size.y + at, text, &shown);
        chain(&mut out, Course::Down, &down, size.x + at, text, &shown);
        at += depth(text);
    }
    chain(&mut out, Course::Across, &[0.0, size.x], size.y + at, text, &with_unit);
    chain(&mut out, Course::Down, &[0.0, size.y], size.x + at, text, &with_unit);
    out.push_str("</svg>");
    out
}

fn label(out: &mut String, quilt: &Quilt, place: &PlacedBlock, page: Page, largest: f64) {
    let bounds = place.outline.bounds();
    let side = bounds.width().min(bounds.height());
    // A block on its corner has room for words in its middle alone: in a square of half its bounds.
    let room = if place.outline.area() < 0.75 * bounds.area() { side * 0.56 } else { side };
    let middle = page.at(place.outline.label_point());
    let size = (room * 0.32).min(room * 0.6 * room / width(&place.name, room)).min(largest);
    let mut line = |text: &str, down: f64, size: f64, bold: bool| {
        Label { text, at: Point::new(middle.x, middle.y + down), size, anchor: Anchor::Middle, bold, tone: Tone::OnLight }
            .write(out, "");
    };
    line(&place.name, -0.35 * size, size, true);
    let letter = tr!("block {block}", block = letters(place.block.0));
    let small = (size * 0.6).min(size * room * 0.7 / width(&letter, size));
    line(&letter, 0.55 * size, small, false);
    let here = quilt.setting.places.get(place.row).and_then(|row| row.get(place.number));
    if here.is_some_and(|here| here.mirrored) {
        line(&tr!("mirrored"), 0.55 * size + 1.2 * small, small * 0.85, false);
    }
    if here.is_some_and(|here| here.turns % 4 != 0) {
        let up = place.pose.apply_vec(Vec2::new(0.0, 1.0));
        let (up, across) = (Vec2::new(up.x, -up.y), Vec2::new(up.y, up.x));
        let tip = page.at(bounds.center()) + up * side * 0.46;
        let back = tip - up * side * 0.09;
        let (left, right) = (back + across * side * 0.06, back - across * side * 0.06);
        let n = number;
        let _ = write!(
            out,
            r##"<path d="M{} {}L{} {}L{} {}z" fill="#000"/>"##,
            n(tip.x),
            n(tip.y),
            n(left.x),
            n(left.y),
            n(right.x),
            n(right.y)
        );
    }
}

/// Where bands, sashing, frames and blocks begin and end along the last row (or up the first column). On point, where seams
/// lean, the bands alone.
fn stops(quilt: &Quilt, plan: &Plan, up: bool) -> Vec<f64> {
    let top = &plan.top;
    let leaning = matches!(quilt.setting.layout, Layout::OnPoint { .. });
    let side = |bounds: Rect| if up { (bounds.y0, bounds.y1) } else { (bounds.x0, bounds.x1) };
    let other = |bounds: Rect| if up { (bounds.x0, bounds.x1) } else { (bounds.y0, bounds.y1) };
    let Some(along) = top.places.iter().rev().find(|place| place.number == 0) else { return vec![0.0, side_length(plan, up)] };
    let middle = along.outline.bounds().center();
    let line = if up { middle.x } else { middle.y };
    let mut stops = vec![0.0, side_length(plan, up)];
    let pieces =
        top.strips.iter().filter(|strip| !leaning || matches!(strip.kind, PieceKind::Band { .. })).map(|strip| &strip.outline);
    let places = top.places.iter().filter(|_| !leaning).map(|place| &place.outline);
    for bounds in pieces.chain(places).map(|outline| outline.bounds()) {
        let (low, high) = other(bounds);
        if low < line && line < high {
            let (from, to) = side(bounds);
            stops.extend([from, to]);
        }
    }
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
    stops
}

fn side_length(plan: &Plan, up: bool) -> f64 {
    if up { plan.top.size.y } else { plan.top.size.x }
}
