//! What there is to say about the quilt, each with the way to its place.

use super::words;
use maud::{Markup, html};
use seamfall_model::{Grade, Spot};
use seamfall_plan::Plan;
use seamfall_plan::set::PieceKind;

/// The findings.
pub fn region(plan: &Plan) -> Markup {
    let count = |grade| plan.findings.iter().filter(|finding| finding.grade == grade).count();
    let (stop, warn, note) = (count(Grade::Stop), count(Grade::Warn), count(Grade::Note));
    html! {
        @if plan.findings.is_empty() {
            p.quiet { "Nothing to say against this quilt." }
        } @else {
            details #findings-list open[stop > 0] {
                summary { span.count { "Findings: " (stop) " stop, " (warn) " warn, " (note) " note" } }
                ul {
                    @for finding in &plan.findings {
                        li class=(finding.grade.word()) {
                            button type="button" data-go=(target(plan, &finding.spot)) {
                                span.grade { span aria-hidden="true" { (words::sign(finding)) } " " (finding.grade.word()) }
                                " " span { (finding.spot) ": " (finding.reason) }
                            }
                            @if let Some(help) = &finding.help { p.help { "Help: " (help) } }
                        }
                    }
                }
            }
        }
    }
}

/// The element a finding is about, or the panel: `C4`, `stage:draft`.
fn target(plan: &Plan, spot: &Spot) -> String {
    let top = &plan.top;
    let place = |found: Option<usize>| found.and_then(|i| top.places.get(i)).map(|place| place.name.clone());
    let strip =
        |wanted: &dyn Fn(PieceKind) -> bool| top.strips.iter().find(|strip| wanted(strip.kind)).map(|strip| strip.name.clone());
    let found = match spot {
        Spot::Place(name) => Some(name.clone()),
        Spot::Row(row) => place(top.places.iter().position(|place| place.row + 1 == *row)),
        Spot::Column(column) => place(top.places.iter().position(|place| place.number + 1 == *column)),
        Spot::Sashing => strip(&|kind| matches!(kind, PieceKind::Sash)),
        Spot::Band(band) => strip(&|kind| matches!(kind, PieceKind::Band { band: each, .. } if each + 1 == *band)),
        Spot::Section(name) => {
            let section = top.sections.iter().find(|section| section.name == *name);
            place(section.and_then(|section| section.places.first().copied()))
        }
        Spot::Block(_) | Spot::Seam { .. } | Spot::Patch { .. } => Some("stage:draft".to_owned()),
        Spot::Cloth(_) => Some("stage:cloths".to_owned()),
        Spot::Falls => Some("stage:fall".to_owned()),
        Spot::Batting => Some("stage:cut".to_owned()),
        Spot::Edge | Spot::Cover => Some("stage:finish".to_owned()),
        Spot::Frame(_) | Spot::Quilt | Spot::Joins | Spot::Join(_) | Spot::Bed | Spot::FootCorners => None,
    };
    found.unwrap_or_else(|| "stage:set".to_owned())
}
