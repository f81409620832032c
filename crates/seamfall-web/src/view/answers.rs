//! An answer of the plan: figures with their workings, a drawing, the steps, and what to mind.

use super::{fields, words};
use maud::{Markup, html};
use seamfall_plan::answer::{Answer, Ruler};
use seamfall_plan::caution::Caution;
use tr::tr;

/// An answer; `id` keeps its workings apart from others.
pub fn answer(id: &str, ruler: Ruler, answer: &Answer, picture: &Markup) -> Markup {
    html! {
        h3 { (answer.title()) }
        ul.numbers { @for (number, (figure, sides)) in answer.each_once().into_iter().enumerate() {
            li { (fields::worked(&format!("how-{id}-{number}"), &html! {
                span.what { (words::capital(&figure.working.what)) @if sides > 1 { br; span.quiet { (tr!("on each of {sides} sides", sides)) } } }
                b.amount { (figure.shown(ruler)) }
            }, &[&figure.working])) }
        } }
        (picture)
        @if !answer.steps.is_empty() { ol.steps { @for step in &answer.steps { li { (step) } } } }
        @for note in &answer.notes { p.quiet { (note) } }
    }
}

/// What to take care of, with who says so.
pub fn cautions(cautions: &[Caution]) -> Markup {
    html! { @for caution in cautions { p.caution { b { (caution.title()) ": " } (caution.words()) br; span.quiet { (tr!("Source: {source}.", source = caution.source())) } } } }
}
