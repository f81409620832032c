//! What there is to say about the quilt, each with the way to its place and to what mends it.

use super::fields::{self, json};
use super::words;
use maud::{Markup, html};
use seamfall_model::{Cure, Edit, Finding, Grade, Scalar, Spot};
use seamfall_plan::Plan;
use seamfall_plan::set::PieceKind;
use tr::tr;

/// The findings.
pub fn region(plan: &Plan) -> Markup {
    let count = |grade| plan.findings.iter().filter(|finding| finding.grade == grade).count();
    let (stop, warn, note) = (count(Grade::Stop), count(Grade::Warn), count(Grade::Note));
    html! {
        @if plan.findings.is_empty() {
            p.quiet { (tr!("Nothing to say against this quilt.")) }
        } @else {
            details #findings-list open[stop > 0] {
                summary { span.count { (tr!("Findings: {stop} stop, {warn} warn, {note} note", stop, warn, note)) } }
                ul {
                    @for (number, finding) in plan.findings.iter().enumerate() {
                        li class=(finding.grade.word()) {
                            button type="button" data-go=(target(plan, &finding.spot)) {
                                span.grade { span aria-hidden="true" { (words::sign(finding)) } " " (finding.grade.said()) }
                                " " span { (finding.spot) ": " (finding.reason) }
                            }
                            @if let Some(help) = &finding.help { p.help { (tr!("Help: {help}", help)) } }
                            (cure(number, finding))
                        }
                    }
                }
            }
        }
    }
}

/// What mends it with one click, or leads to where that is decided.
fn cure(number: usize, finding: &Finding) -> Markup {
    let id = format!("cure-{number}");
    match finding.cure.as_deref() {
        None => html! {},
        Some(Cure::Set(path, value)) => {
            let edit = Edit::Set { path: path.clone(), value: Scalar::Text(value.clone()) };
            html! { p.cure { (fields::button(&id, &tr!("Do that"), &json(&edit), None)) } }
        }
        Some(Cure::Remove(path)) => {
            html! { p.cure { (fields::button(&id, &tr!("Take it out"), &json(&Edit::Remove { path: path.clone() }), None)) } }
        }
        Some(Cure::Decide(path)) => {
            html! { p.cure { button id=(id) type="button" data-decide=(json(path)) { (tr!("Go to where that is decided")) } } }
        }
    }
}

/// The element a finding is about, or the panel and what to look at in it: `C4`, `stage:draft block-star-card`.
pub fn target(plan: &Plan, spot: &Spot) -> String {
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
        Spot::Block(block) | Spot::Seam { block, .. } | Spot::Patch { block, .. } => {
            Some(format!("stage:draft block-{block}-card"))
        }
        Spot::Cloth(key) => Some(format!("stage:cloths cloth-{key}-card")),
        Spot::Frame(key) => Some(format!("stage:set frame-{key}-width0")),
        Spot::Falls => Some("stage:fall".to_owned()),
        Spot::Batting => Some("stage:cut".to_owned()),
        Spot::Edge | Spot::Cover => Some("stage:finish".to_owned()),
        Spot::Joins => Some("stage:join".to_owned()),
        Spot::Join(number) => Some(format!("stage:join join-{number}")),
        Spot::Bed => Some("stage:fit".to_owned()),
        Spot::FootCorners => Some("stage:fit fit-corners".to_owned()),
        Spot::Quilt => None,
    };
    found.unwrap_or_else(|| "stage:set".to_owned())
}
