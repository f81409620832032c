//! Measured sections: where they are typed in, to what size all are trimmed, which goes where, and what is to be eased.

use super::about::element;
use super::fields::{self, json};
use super::words;
use crate::room::Worked;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::progress_svg;
use seamfall_model::{LedgerEdit, Length, Measured, Quilt, SewnState};
use seamfall_plan::Plan;
use seamfall_plan::truing::{Eased, Remedy, Trued};
use tr::tr;

/// So many seams are listed; what is beyond is counted.
const LISTED: usize = 60;

/// Everything about trimming and placing.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let truing = &plan.truing;
    html! {
        h2 { (tr!("To what size to trim")) }
        @if truing.sections.is_empty() {
            p { (tr!("Nothing is measured yet.")) " " span data-for="ledger" { (tr!("Measure each section from raw edge to raw edge when it is quilted, and type it in below: one number where all sides are alike, width x height, or lower; right; upper; left.")) } }
        } @else {
            (sizes(quilt, plan))
            @if let Some(size) = &truing.size {
                (fields::worked("how-trued-size", &html! { span.what { (tr!("The quilt then finishes at")) } b.amount { (words::size(quilt, size[0].value, size[1].value)) } }, &[&size[0], &size[1]]))
            }
            (places(quilt, plan))
            (seams(quilt, plan))
        }
        h2 { (tr!("What is there")) }
        div.progress-picture { (PreEscaped(progress_svg(quilt, plan))) }
        p data-for="tick" { a href={ (base) "sewing" } { (tr!("To tick off, on a phone too")) } }
        (measures(quilt, plan))
    }
}

fn show(quilt: &Quilt, value: f64) -> String {
    Length::new(value).shown(quilt.step)
}

fn sizes(quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        ul.numbers { @for (at, size) in plan.truing.sizes.iter().enumerate() { li {
            (fields::worked(&format!("how-trimmed-{at}"), &html! {
                span.what { (tr!("Sides planned {planned} are trimmed to", planned = show(quilt, size.planned))) br;
                    span.quiet { @match size.guide { Some(guide) => { (tr!("{section} is the guide", section = plan.top.sections[guide].name)) }, None => (tr!("as planned")) } "; " (tr!("{measured} of {of} measured", measured = size.measured, of = size.of)) } }
                b.amount { (show(quilt, size.trimmed.value)) " " (quilt.measure.sign()) }
            }, &[&size.trimmed, &size.least]))
        } } }
    }
}

/// Which section goes where.
fn places(quilt: &Quilt, plan: &Plan) -> Markup {
    let Some(places) = &plan.truing.places else { return html! {} };
    let name = |section: usize| plan.top.sections[section].name.clone();
    let moved = places.moved.iter().map(|&section| (name(section), Some(name(places.at[section])))).collect();
    html! {
        h3 { (tr!("Which goes where")) }
        @if places.moved.is_empty() {
            p { (tr!("All together")) " " b { (show(quilt, places.before)) " " (quilt.measure.sign()) } " " (tr!("are to be eased where the sections are now. {proof}", proof = proof(quilt, plan))) }
        } @else {
            p { (tr!("Where the sections are now,")) " " b { (show(quilt, places.before)) } " " (tr!("are to be eased in all; with these in other places only")) " " b { (show(quilt, places.after)) " " (quilt.measure.sign()) } ". " (proof(quilt, plan)) }
            ul.plain { @for &section in &places.moved { li { b { (name(section)) } " " (tr!("to the place of {name}", name = name(places.at[section]))) } } }
            p { button #take-places type="button" data-note=(json(&LedgerEdit::Place { places: moved })) { (tr!("Place them so")) } }
        }
    }
}

fn proof(quilt: &Quilt, plan: &Plan) -> String {
    match &plan.truing.places {
        Some(places) if places.is_proven() => tr!("No other places need less; that is proven."),
        Some(places) => tr!("No places need less than {ease}.", ease = show(quilt, places.bound)),
        None => String::new(),
    }
}

/// Seams that need more than cloth takes, then those that are eased.
fn seams(quilt: &Quilt, plan: &Plan) -> Markup {
    let of = |how: Eased| plan.truing.seams.iter().filter(move |seam| seam.how == how);
    let even = of(Eased::Even).count();
    let line = |at: usize, seam: &seamfall_plan::truing::EasedSeam| {
        let names = seam.sections.map(|section| plan.top.sections[section].name.as_str());
        html! { li { (fields::worked(&format!("how-eased-{at}"), &html! {
            span.what { (tr!("{first} and {second}", first = names[0], second = names[1])) @if seam.how == Eased::Beyond { br; b { (tr!("more than cloth takes")) } } }
            b.amount { (show(quilt, seam.easing.value)) " " (quilt.measure.sign()) }
        }, &[&seam.easing, &seam.most])) } }
    };
    let listed: Vec<_> = of(Eased::Beyond).chain(of(Eased::Eased)).collect();
    html! {
        h3 { (tr!("What is eased")) }
        @if listed.is_empty() { p { (tr!("All measured seams are even.")) } } @else {
            ul.numbers { @for (at, seam) in listed.iter().take(LISTED).enumerate() { (line(at, seam)) } }
            @if listed.len() > LISTED { p.quiet { (tr!("And {more} more.", more = listed.len() - LISTED)) } }
            p.quiet { (tr!("{other} even.", other = tr!("1 other seam is" | "{n} other seams are" % even))) }
        }
    }
}

/// A line a section to type its sides into.
fn measures(quilt: &Quilt, plan: &Plan) -> Markup {
    let allowance = 2.0 * quilt.allowance.0.value();
    html! {
        table #measures {
            thead { tr { th scope="col" { (tr!("Section")) } th scope="col" { (tr!("Planned")) } th scope="col" { (tr!("Measured")) } th scope="col" { (tr!("Then")) } } }
            tbody { @for (number, section) in plan.top.sections.iter().enumerate() {
                @let sewn = &plan.sewn.sections[number];
                tr {
                    th scope="row" { button.plain type="button" data-go=[element(plan, number)] { (section.name) } }
                    td.nowrap { (show(quilt, section.size.x + allowance)) " × " (show(quilt, section.size.y + allowance)) }
                    td { input.measure id={ "measure-" (section.name) } type="text" inputmode="text" autocomplete="off" aria-label=(tr!("Measured sides of {section}", section = section.name))
                        value=(sewn.measured.map_or(String::new(), |sides| typed(quilt, sides))) data-section=(section.name) data-for="ledger"; }
                    td { @if let Some(trued) = plan.truing.sections.iter().find(|one| one.section == number) { (verdict(quilt, trued)) } }
                }
            } }
        }
    }
}

fn typed(quilt: &Quilt, sides: Measured) -> String {
    let text = |length: Length| words::typed(quilt, length);
    match sides {
        Measured::One(all) => text(all),
        Measured::Two(both) => both.map(text).join(" x "),
        Measured::Four(four) => four.map(text).join("; "),
    }
}

fn verdict(quilt: &Quilt, trued: &Trued) -> Markup {
    let off = trued.off.iter().any(|&off| off > 1e-9);
    html! {
        @if trued.short > 1e-9 { b { (tr!("{length} short", length = show(quilt, trued.short))) } " "
            @if let Some(first) = trued.remedies.first() { (first.in_words(quilt)) }
        } @else if off { (tr!("trim {width} × {height}", width = show(quilt, trued.off[0]), height = show(quilt, trued.off[1]))) } @else { (tr!("fits")) }
    }
}

/// What is known of the section that holds an element, and what is to be done about it.
pub fn about(worked: &Worked, number: usize) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let (Some(section), Some(sewn)) = (plan.top.sections.get(number), plan.sewn.sections.get(number)) else { return html! {} };
    let name = section.name.as_str();
    let field = |id: &str, label: &str, value: Option<&str>, edit: &dyn Fn(Option<String>) -> LedgerEdit| {
        html! {
            label.field for=(id) { span { (label) } input id=(id) type="text" autocomplete="off" value=[value] data-noted=(json(&edit(Some("$".to_owned())))) data-noted-empty=(json(&edit(None))); }
        }
    };
    let state = |state: SewnState| LedgerEdit::State {
        sections: vec![name.to_owned()],
        state: state.word().to_owned(),
        from: None,
        date: Some("$today".to_owned()),
    };
    html! {
        h2 { (tr!("Section {name}", name)) " " span.quiet { (sewn.state.said()) @if let Some(date) = &sewn.date { ", " (date) } } }
        div.buttons role="group" aria-label=(tr!("How far {name} is", name)) {
            @for each in SewnState::ALL.into_iter().filter(|&each| each != SewnState::Joined) {
                button type="button" id={ "state-of-" (each.word()) } aria-pressed=(if sewn.state == each { "true" } else { "false" }) disabled[sewn.state == SewnState::Joined] data-note=(json(&state(each))) { (each.said()) }
            }
        }
        div.fields {
            (field("sewn-with", &tr!("Who has it"), sewn.with.as_deref(), &|with| LedgerEdit::With { sections: vec![name.to_owned()], with }))
            (field("sewn-note", &tr!("Note"), sewn.note.as_deref(), &|note| LedgerEdit::Note { section: name.to_owned(), note }))
        }
        @if sewn.at != number { p { (tr!("It takes the place of {section}.", section = plan.top.sections[sewn.at].name)) " "
            button type="button" id="own-place" data-note=(json(&LedgerEdit::Place { places: vec![(name.to_owned(), None)] })) { (tr!("Its own place again")) } } }
        @if let Some(trued) = plan.truing.sections.iter().find(|one| one.section == number) && trued.short > 1e-9 {
            p { (tr!("It is")) " " b { (tr!("{length} {sign} short", length = show(quilt, trued.short), sign = quilt.measure.sign())) } ". " (tr!("The ways out, the mildest first:")) }
            ul.plain { @for (at, one) in trued.remedies.iter().enumerate() { li { (one.in_words(quilt))
                @match one {
                    Remedy::Ease { short, most } => (fields::how(&format!("how-remedy-{at}"), &[short, most])),
                    Remedy::WiderSeam { by } => (fields::how(&format!("how-remedy-{at}"), &[by])),
                    Remedy::FrameAnew { cut } => (fields::how(&format!("how-remedy-{at}"), &[cut])),
                    Remedy::Remake => {}
                }
            } } }
        }
    }
}
