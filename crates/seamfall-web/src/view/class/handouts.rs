//! What belongs to each lesson, to be read on the page; with its drawings it is in the PDF.

use super::Shown;
use crate::view::answers;
use maud::{Markup, html};
use seamfall_class::{Handout, words};
use seamfall_plan::words as plan_words;
use tr::tr;

pub fn section(shown: &Shown) -> Markup {
    html! {
        section aria-labelledby="handouts-title" {
            h2 #handouts-title { (tr!("Handouts")) }
            p.quiet { (tr!("With their drawings they are in the PDF.")) }
            @for handout in &shown.plan.handouts { (one(shown, handout)) }
        }
    }
}

fn one(shown: &Shown, handout: &Handout) -> Markup {
    let bring = shown.plan.supplies.iter().filter(|supply| supply.is_told(&handout.work));
    html! {
        details.handout id={ "handout-" (handout.lesson) } {
            summary { b { (tr!("Lesson {lesson}: {title}", lesson = handout.lesson + 1, title = handout.title)) } " " span.quiet { (words::day(handout.day)) ", " (plan_words::hours(handout.hours)) } }
            @if let Some(note) = &handout.note { p { (note) } }
            ol.steps { @for step in &handout.steps { li { (step.text) } } }
            h3 { (tr!("To bring")) }
            ul { @for supply in bring { li { (supply.what) span.quiet { ", " (words::bringer(supply.by)) } } } }
            h3 { (tr!("At home, until {day}", day = words::day(handout.until))) }
            ul { @for home in &handout.home { li {
                b { (shown.class.students[home.student].name) } ": "
                @if home.hours > 0.0 { (tr!("{hours}, then", hours = plan_words::hours(home.hours))) " " } @else { (tr!("nothing;")) " " }
                (home.reached)
            } } }
            (answers::cautions(&handout.cautions))
        }
    }
}
