//! The quilt's name and its finished size.

use super::words;
use maud::{Markup, html};
use seamfall_model::Quilt;
use seamfall_plan::Plan;

/// The head of the page.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    let size = plan.top.size;
    html! {
        h1 { (quilt.name) }
        p { (words::size(quilt, size.x, size.y)) " finished, " (words::count(plan.top.places.len(), "block", "blocks")) ", "
            (words::count(plan.top.sections.len(), "lap section", "lap sections")) }
    }
}
