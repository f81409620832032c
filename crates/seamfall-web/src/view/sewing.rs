//! The page to sew from: every section with how far it is. Made for a phone and one thumb.

use super::{page, words};
use crate::room::Worked;
use maud::{Markup, html};

/// The page.
pub fn page(worked: &Worked) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let base = format!("/q/{}/", worked.id);
    let body = html! {
        body.plain.sewing data-base=(base) data-revision=(worked.stored.revision.0) {
            main {
                h1 { (quilt.name) }
                div #message role="alert" hidden {}
                ul.sewn {
                    @for (section, work) in plan.top.sections.iter().zip(&plan.lap.sections) {
                        li id={ "sewn-" (section.name) } {
                            h2 { (section.name) }
                            p.quiet { (words::quilted(quilt, &plan.lap.patterns[work.pattern])) }
                            p { a href={ (base) "section/" (section.name) } { "Follow it, step by step" } }
                        }
                    }
                }
            }
        }
    };
    page::plain(&format!("Sewing {}", quilt.name), &body)
}
