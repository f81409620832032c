//! The page to sew from: every section with how far it is, to be ticked off. Made for a phone and one thumb.
//!
//! A button carries the edit of the ledger it makes in `data-tick`; `$today` in it stands for the day by the phone's own calendar.

use super::fields::json;
use super::{answers, join, page, words};
use crate::asker;
use crate::room::Worked;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::progress_svg;
use seamfall_model::{LedgerEdit, SewnState};
use seamfall_plan::caution::{MACHINE, NEEDLES};
use tr::tr;

/// The page, with all that a maker may do; `whose` says to others whose quilt it is and what they may.
pub fn page(worked: &Worked, whose: &Markup) -> Markup {
    let base = format!("/q/{}/", worked.id);
    let body = html! {
        body.plain.sewing data-base=(base) data-revision=(worked.stored.revision.0) {
            main {
                p.back {
                    a href=(base.trim_end_matches('/')) { (tr!("Back to the workroom")) }
                    @if asker::here().is_none() { " · " a href={ (base) "share" } { (tr!("Sew with a phone")) } }
                }
                (whose)
                h1 { (worked.quilt.name) }
                div #message role="alert" hidden {}
                p #said role="status" aria-live="polite" {}
                div #sewn { (region(worked)) }
                section {
                    h2 { (tr!("The ledger as a file")) }
                    p { a href={ (base) "ledger" } download { (tr!("Save it")) } }
                    label.field for="ledger-file" { span { (tr!("Bring one in, in place of this: a file that ends in .ledger.toml")) } input #ledger-file type="file" accept=".toml" data-bring={ (base) "ledger/import" }; }
                }
            }
        }
    };
    page::plain(&tr!("Sewing {name}", name = worked.quilt.name), &body)
}

/// The picture of it, then sections by how far they are, with buttons to tick off.
pub fn region(worked: &Worked) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let at = |state: SewnState| -> Vec<usize> {
        (0..plan.top.sections.len()).filter(|&section| plan.sewn.sections[section].state == state).collect()
    };
    let open = SewnState::ALL.into_iter().find(|&state| !at(state).is_empty());
    html! {
        div.progress-picture { (PreEscaped(progress_svg(quilt, plan))) }
        @for state in SewnState::ALL {
            @let sections = at(state);
            @if !sections.is_empty() {
                details.sewn id={ "state-" (state.word()) } open[open == Some(state)] {
                    summary { b { (state.said()) } " " span.quiet { (tr!("1 section" | "{n} sections" % sections.len())) } }
                    @if let Some(next) = next(state) && sections.len() > 1 {
                        p { button type="button" id={ "all-" (state.word()) } data-tick=(ticked(worked, &sections, next)) { (tr!("All of these are {next}", next = next.said())) } }
                    }
                    ul { @for section in sections { (line(worked, section)) } }
                }
            }
        }
        @if !plan.join.steps.is_empty() {
            details.sewn #joins {
                summary { b { (tr!("joins")) } " " span.quiet { (tr!("{count} of {joins} sewn", count = plan.join.steps.iter().filter(|step| step.join.sewn).count(), joins = plan.join.steps.len())) } }
                (answers::cautions(&[NEEDLES, MACHINE]))
                (join::steps(&format!("/q/{}/", worked.id), quilt, plan, "tick"))
            }
        }
    }
}

/// The state that follows when a section is ticked off; joins are ticked off join by join.
fn next(state: SewnState) -> Option<SewnState> {
    SewnState::ALL.into_iter().find(|&next| next > state && next != SewnState::Joined)
}

fn ticked(worked: &Worked, sections: &[usize], state: SewnState) -> String {
    let from = sections.first().map(|&section| worked.plan.sewn.sections[section].state.word().to_owned());
    let names = sections.iter().map(|&section| worked.plan.top.sections[section].name.clone()).collect();
    json(&LedgerEdit::State { sections: names, state: state.word().to_owned(), from, date: Some("$today".to_owned()) })
}

fn line(worked: &Worked, number: usize) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let (section, sewn) = (&plan.top.sections[number], &plan.sewn.sections[number]);
    let places: Vec<&str> = section.places.iter().map(|&place| plan.top.places[place].name.as_str()).collect();
    let before = SewnState::ALL.into_iter().rev().find(|&before| before < sewn.state);
    let pattern = &plan.lap.patterns[plan.lap.sections[number].pattern];
    html! {
        li id={ "sewn-" (section.name) } {
            div.what {
                b { (section.name) } @if !places.is_empty() { " " span.quiet { (places.join(", ")) } }
                @if sewn.at != number { " " span.quiet { (tr!("goes to the place of {section}", section = plan.top.sections[sewn.at].name)) } }
                @if let Some(with) = &sewn.with { br; span.quiet { (tr!("with {with}", with)) } }
                @if let Some(note) = &sewn.note { br; span.quiet { (note) } }
                @if let Some(date) = &sewn.date { br; span.quiet { (tr!("{state} on {date}", state = sewn.state.said(), date)) } }
                @if sewn.state == SewnState::Layered && !pattern.paths.is_empty() { br; span.quiet { (words::quilted(quilt, pattern)) } }
                br; a href={ "/q/" (worked.id) "/section/" (section.name) } { (tr!("How it is quilted")) }
            }
            div.ticks {
                @if let Some(next) = next(sewn.state) {
                    button.tick type="button" id={ "tick-" (section.name) } data-tick=(ticked(worked, &[number], next)) { "✓ " (next.said()) }
                }
                @if let Some(before) = before && sewn.state != SewnState::Joined {
                    button type="button" id={ "untick-" (section.name) } data-tick=(ticked(worked, &[number], before)) aria-label=(tr!("Only {before}", before = before.said())) { "↶" }
                }
            }
        }
    }
}
