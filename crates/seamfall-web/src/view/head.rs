//! The quilt's name and its finished size.

use super::words;
use maud::{Markup, html};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use tr::tr;

/// The head of the page.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    let size = plan.top.size;
    html! {
        h1 { (quilt.name) }
        p { (tr!("{size} finished, {blocks}, {lap}", size = words::size(quilt, size.x, size.y), blocks = tr!("1 block" | "{n} blocks" % plan.top.places.len()), lap = tr!("1 lap section" | "{n} lap sections" % plan.top.sections.len()))) }
    }
}
