//! When the class meets: the days as they are worked back, what decides them, and the lessons.

use super::{Shown, button, choice, day, number, path, text, work};
use crate::view::fields::json;
use maud::{Markup, html};
use seamfall_class::words;
use seamfall_model::class::{Pace, Weekday, Work};
use seamfall_model::{ClassEdit, Scalar, decimal};
use seamfall_plan::words as plan_words;

/// The days, as a table to print.
pub fn timetable(shown: &Shown) -> Markup {
    let (class, timetable) = (shown.class, &shown.plan.timetable);
    html! {
        section aria-labelledby="days-title" {
            h2 #days-title { "Days, worked back from the last" }
            div.wide tabindex="0" role="region" aria-label="Days of the class" {
                table {
                    thead { tr { th scope="col" { "Day" } th scope="col" { "What" } th scope="col" { "Until then must be done" } } }
                    tbody {
                        @if let Some((on, hours)) = timetable.kits { tr { th scope="row" { (words::day(on)) } td { "the teacher begins to cut the kits" } td { (plan_words::hours(hours)) " to the first lesson" } } }
                        @for (number, lesson) in timetable.lessons.iter().enumerate() {
                            tr {
                                th scope="row" { (words::day(lesson.day)) }
                                td { b { "Lesson " (number + 1) ": " (shown.plan.handouts[number].title) } br; span.quiet { (words::works(&class.lessons[number].work)) } }
                                td { (before(shown, number)) }
                            }
                        }
                        tr { th scope="row" { (words::day(class.schedule.last_day)) } td { b { "All quilts are done" } } td {} }
                    }
                }
            }
        }
    }
}

/// What must be done before a lesson, of whoever has most to do, and who needs the time after it.
fn before(shown: &Shown, number: usize) -> Markup {
    let lesson = &shown.plan.timetable.lessons[number];
    // Of several with as much to do the first of the class.
    let most = lesson.parts.iter().enumerate().rev().max_by(|a, b| a.1.before.value.total_cmp(&b.1.before.value));
    let name = |student: usize| &shown.class.students[student].name;
    html! {
        @if let Some((student, part)) = most.filter(|(_, part)| part.before.value > 0.0) {
            details.how id={ "how-lesson-" (number) } {
                summary { (decimal(part.before.value, 1)) " h by " (name(student)) " " span.ask { "how?" } }
                p.working { (part.before.line()) } p.rule { (part.before.rule.sentence()) }
                @if number > 0 { ul { @for home in &shown.plan.handouts[number - 1].home { li { (name(home.student)) ": " (home.reached) } } } }
            }
        } @else { "nothing" }
        @if let Some(student) = lesson.held_by { span.quiet { " " (name(student)) " needs the " (lesson.until_next) " days after it." } }
    }
}

/// What decides the days.
pub fn schedule(shown: &Shown) -> Markup {
    let (schedule, pace) = (&shown.class.schedule, &shown.class.pace);
    let weekdays: Vec<_> = Weekday::ALL
        .iter()
        .map(|each| {
            let value = Scalar::Text(each.word().to_owned());
            (
                words::capital(each.word()),
                ClassEdit::Set { path: path(&["schedule", "weekday"]), value },
                *each == schedule.weekday,
            )
        })
        .collect();
    let kits: Vec<_> = [(true, "the teacher, into kits"), (false, "each student")]
        .map(|(kits, label)| {
            (label.to_owned(), ClassEdit::Set { path: path(&["kits"]), value: Scalar::Bool(kits) }, shown.class.kits == kits)
        })
        .into();
    let without = schedule.without.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let at = |key: &'static str| ["schedule", key];
    html! {
        details.controls #schedule-fields {
            summary { "What decides the days" }
            div.fields {
                (text("class-name", "What the class is called", &shown.class.name, &["name"], false))
                (day("begins", "No lesson before", schedule.begins.map(|day| day.to_string()), &at("begins"), true))
                (day("last-day", "All quilts are done on", Some(schedule.last_day.to_string()), &at("last-day"), false))
                (choice("weekday", "Day of the week", &weekdays))
                (number("lesson-hours", "Hours of a lesson", Some(schedule.lesson_hours), "", &at("lesson-hours")))
                (number("showing-hours", "of which are shown, while nobody sews", Some(schedule.showing_hours), "", &at("showing-hours")))
                (number("home-hours", "Hours a week at home", Some(schedule.home_hours), "", &at("home-hours")))
                (number("teacher-hours", "Hours a week for cutting kits", Some(schedule.teacher_hours), "", &at("teacher-hours")))
                (number("weeks-between", "Weeks between lessons, at least", Some(f64::from(schedule.weeks_between)), "1", &at("weeks-between")))
                (choice("kits", "Cloth is cut by", &kits))
                label.field.whole for="without" { span { "Days without a lesson, like 2027-04-01, 2027-04-08" } input #without type="text" value=(without) autocomplete="off" data-class-days; }
                h3 { "Paces, in minutes" }
                (number("pace-cut", "to cut a piece", pace.cut, &decimal(Pace::USUAL_CUT, 1), &["pace", "cut"]))
                (number("pace-piece", "to sew and press a foot of seam", pace.piece, &decimal(Pace::USUAL_PIECE, 1), &["pace", "piece"]))
                (number("pace-layer", "to layer and trim a section", pace.layer, &decimal(Pace::USUAL_LAYER, 1), &["pace", "layer"]))
                (number("pace-edge", "to finish a foot of edge", pace.edge, "as the plan has it", &["pace", "edge"]))
                (number("pace-times", "Times as long as the maker", pace.times, "1", &["pace", "times"]))
            }
            p.quiet { "Quilting and joining go at the pace of the quilt file. Let the students time themselves in the first lesson." }
        }
    }
}

/// The lessons and what is said of each.
pub fn section(shown: &Shown) -> Markup {
    let lessons = &shown.class.lessons;
    html! {
        section.controls aria-labelledby="lessons-title" {
            h2 #lessons-title { "Lessons" }
            ul.cards { @for number in 0..lessons.len() { li { (card(shown, number)) } } }
            div.actions {
                @for work in Work::ALL.into_iter().filter(|work| lessons.iter().all(|lesson| lesson.work.first() <= Some(work))) {
                    (button(&format!("add-lesson-{}", work.word()), &format!("Add a lesson on {}", work.said()), &ClassEdit::AddLesson { work: vec![work.word().to_owned()] }, &format!("Add a lesson on {}", work.said())))
                }
            }
        }
    }
}

fn card(shown: &Shown, at: usize) -> Markup {
    let lesson = &shown.class.lessons[at];
    let own = at.to_string();
    let id = |what: &str| format!("lesson-{own}-{what}");
    let ticked = ClassEdit::Work { lesson: at, work: Vec::new() };
    html! {
        details id=(id("card")) {
            summary { b { "Lesson " (at + 1) ": " (words::title(lesson)) } " " span.quiet { (words::day(shown.plan.timetable.lessons[at].day)) } }
            div.fields {
                (text(&id("name"), "What it is called", lesson.name.as_deref().unwrap_or_default(), &["lesson", &own, "name"], true))
                (day(&id("date"), "A fixed day; worked back without one", lesson.date.map(|day| day.to_string()), &["lesson", &own, "date"], true))
                (number(&id("hours"), "Hours", lesson.hours, &decimal(shown.class.schedule.lesson_hours, 2), &["lesson", &own, "hours"]))
                (number(&id("ready"), "Of the work before it must be done, in %", Some(lesson.ready), "100", &["lesson", &own, "ready"]))
                div.whole { (work(&id("work"), "What is worked at", &lesson.work, &ticked)) }
                label.field.whole for=(id("note")) { span { "What you want to say on its handout" } textarea id=(id("note")) rows="2" maxlength="2000" data-class=(super::set(&["lesson", &own, "note"])) data-empty=(json(&ClassEdit::Remove { path: path(&["lesson", &own, "note"]) })) { (lesson.note.as_deref().unwrap_or_default()) } }
            }
            p { (button(&id("gone"), "Take the lesson away", &ClassEdit::Remove { path: path(&["lesson", &own]) }, &format!("Take lesson {} away", at + 1))) }
        }
    }
}
