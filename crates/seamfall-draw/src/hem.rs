//! The real edge, laid over the drawing of the top: what is trimmed off, and what is sewn to the edge, to scale.
//!
//! In: the top's outline, its changed corners and how it is finished. Out: one layer above the strips. Cloth that is trimmed off is faded, its
//! cut dashed; scallops and waves are cut out of the top; points, a ruffle and piping stand outside, binding and facing lie inside.

use crate::ink::Inks;
use crate::page::{Page, number};
use seamfall_geom::{Edge, Loop, Point, Pose, TipTrim, Vec2, grow};
use seamfall_model::{ClothId, EdgeFinish, Quilt};
use seamfall_plan::Plan;
use std::fmt::Write;
use std::ops::Range;

/// Id of the layer.
const ID: &str = "quilt-edge";

/// How far what is sewn on stands beyond the top.
pub(crate) fn stands_out(quilt: &Quilt, plan: &Plan) -> f64 {
    match quilt.finish.edge {
        EdgeFinish::PrairiePoints { .. } => plan.finish.point.as_ref().map_or(0.0, |point| point.height.value),
        EdgeFinish::Ruffle { depth, .. } => depth.value(),
        EdgeFinish::Piping { cord, .. } => cord.value(),
        _ => 0.0,
    }
}

/// Whether the edge is more than the rectangle of the top.
pub(crate) fn is_plain(quilt: &Quilt, plan: &Plan) -> bool {
    plan.top.corners.is_empty() && quilt.finish.edge == EdgeFinish::Straight && quilt.binding.is_none()
}

/// Writes the layer, one element; `line` is how wide its lines are.
pub(crate) fn layer(
    out: &mut String,
    quilt: &Quilt,
    plan: &Plan,
    inks: &Inks,
    (page, line): (Page, f64),
    ids: bool,
) -> Option<(String, Range<usize>)> {
    if is_plain(quilt, plan) || plan.top.size.x <= 0.0 || plan.top.size.y <= 0.0 {
        return None;
    }
    let from = out.len();
    let id = if ids { format!(r#" id="{ID}" class="edge""#) } else { String::new() };
    let _ = write!(
        out,
        r##"<g{id} pointer-events="none" fill-rule="evenodd" stroke="#000" stroke-width="{}" stroke-linejoin="round">"##,
        number(line)
    );
    trimmed(out, plan, page, line);
    let mut band = Band { out, inks, page };
    sewn_on(&mut band, quilt, plan, line);
    out.push_str("</g>");
    Some((ID.to_owned(), from..out.len()))
}

/// What is cut off, faded: corners, and what lies outside of scallops and waves. The cuts of the corners are dashed.
fn trimmed(out: &mut String, plan: &Plan, page: Page, line: f64) {
    let off: Vec<&Loop> = plan.top.corners.iter().map(|corner| &corner.away).collect();
    let curved = plan.finish.curved.as_ref().map(|edge| [&edge.plain, &edge.outline]);
    if off.is_empty() && curved.is_none() {
        return;
    }
    let _ = write!(out, r##"<path class="trimmed" fill="#fff" fill-opacity=".8" stroke="none" d=""##);
    page.loops(out, Pose::IDENTITY, off.into_iter().chain(curved.into_iter().flatten()));
    out.push_str(r#""/>"#);
    if plan.top.corners.is_empty() {
        return;
    }
    let dash = number(line * 5.0);
    let _ = write!(
        out,
        r##"<path class="trim" fill="none" stroke-width="{}" stroke-dasharray="{dash} {dash}" d=""##,
        number(line * 1.6)
    );
    plan.top.corners.iter().for_each(|corner| page.chain(out, Pose::IDENTITY, &corner.edge, false));
    out.push_str(r#""/>"#);
}

/// Draws cloth between two outlines.
struct Band<'a, 'q> {
    out: &'a mut String,
    inks: &'a Inks<'q>,
    page: Page,
}

impl Band<'_, '_> {
    /// Cloth between the edge and the edge moved out, or in where `off` is negative; nothing where there is no room for it.
    fn along(&mut self, edge: &Loop, off: f64, cloth: ClothId, class: &str) {
        let Ok(moved) = grow(edge, off, TipTrim::Full) else { return };
        let _ = write!(self.out, r#"<path{} d=""#, self.attributes(cloth, class));
        self.page.loops(self.out, Pose::IDENTITY, [edge, &moved]);
        self.out.push_str(r#""/>"#);
    }

    /// The class of a part of the edge, and the fill of its cloth; that may be a class as well.
    fn attributes(&self, cloth: ClothId, class: &str) -> String {
        let fill = self.inks.fill(Some(cloth));
        match fill.strip_prefix(r#" class=""#) {
            Some(own) => format!(r#" class="{class} {own}"#),
            None => format!(r#" class="{class}"{fill}"#),
        }
    }
}

fn sewn_on(band: &mut Band, quilt: &Quilt, plan: &Plan, line: f64) {
    let edge = plan.finish.edge(&plan.top);
    match quilt.finish.edge {
        EdgeFinish::PrairiePoints { cloth, .. } => points(band, plan, cloth),
        EdgeFinish::Ruffle { cloth, depth, .. } => {
            band.along(edge, depth.value(), cloth, "ruffle");
            gathers(band, plan, depth.value(), line);
        }
        EdgeFinish::Piping { cloth, cord, .. } => band.along(edge, cord.value(), cloth, "piping"),
        EdgeFinish::Facing { depth, .. } => {
            if let Ok(inner) = grow(edge, -depth.value(), TipTrim::Full) {
                let dash = number(line * 4.0);
                let _ = write!(band.out, r#"<path class="facing" fill="none" stroke-dasharray="{dash} {dash}" d=""#);
                band.page.loops(band.out, Pose::IDENTITY, [&inner]);
                band.out.push_str(r#""/>"#);
            }
        }
        EdgeFinish::Straight | EdgeFinish::Scallops(_) | EdgeFinish::Waves(_) => {}
    }
    if let Some(binding) = quilt.binding {
        // A binding shows as wide as the allowance that it covers.
        band.along(edge, -quilt.allowance.0.value(), binding.cloth, "binding");
    }
}

/// Every point, from its base on the edge to its tip.
fn points(band: &mut Band, plan: &Plan, cloth: ClothId) {
    let Some(point) = &plan.finish.point else { return };
    let (base, height) = (point.base.value, point.height.value);
    let _ = write!(band.out, r#"<path{} fill-rule="nonzero" d=""#, band.attributes(cloth, "points"));
    for (side, along) in plan.finish.sides.iter().zip(&plan.finish.points) {
        for i in 0..along.count.count() {
            let start = along.spacing.value * f64::from(u32::try_from(i).unwrap_or(u32::MAX));
            let [from, to] = [start, start + base].map(|at| side.place(at, 0.0).0);
            let tip = side.place(start + base / 2.0, -height).0;
            let lines = [(from, to), (to, tip), (tip, from)].map(|(from, to)| Edge::Line { from, to });
            band.page.chain(band.out, Pose::IDENTITY, &lines, true);
        }
    }
    band.out.push_str(r#""/>"#);
}

/// Short lines out from the edge, half a depth apart: a sign of gathers, not their number.
fn gathers(band: &mut Band, plan: &Plan, depth: f64, line: f64) {
    let _ = write!(band.out, r#"<path class="gathers" fill="none" stroke-width="{}" d=""#, number(line * 0.7));
    for side in &plan.finish.sides {
        let count = (side.length / (depth / 2.0)).floor().max(1.0);
        let mut i = 0.5;
        while i < count {
            let (at, way) = side.place(side.length * i / count, 0.0);
            let out = Vec2::new(way.y, -way.x);
            let line = |share: f64| -> Point { at + out * (depth * share) };
            band.page.chain(band.out, Pose::IDENTITY, &[Edge::Line { from: line(0.1), to: line(0.8) }], false);
            i += 1.0;
        }
    }
    band.out.push_str(r#""/>"#);
}
