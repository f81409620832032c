//! When the class meets: the days as they are worked back, what decides them, and the lessons.

use super::{Shown, button, choice, day, number, path, text, work};
use crate::view::fields::json;
use maud::{Markup, html};
use seamfall_class::words;
use seamfall_model::class::{Pace, Weekday, Work};
use seamfall_model::{ClassEdit, Scalar, decimal};
use seamfall_plan::words as plan_words;
use tr::tr;

/// The days, as a table to print.
pub fn timetable(shown: &Shown) -> Markup {
    let (class, timetable) = (shown.class, &shown.plan.timetable);
    html! {
        section aria-labelledby="days-title" {
            h2 #days-title { (tr!("Days, worked back from the last")) }
            div.wide tabindex="0" role="region" aria-label=(tr!("Days of the class")) {
                table {
                    thead { tr { th scope="col" { (tr!("Day")) } th scope="col" { (tr!("What")) } th scope="col" { (tr!("Until then must be done")) } } }
                    tbody {
                        @if let Some((on, hours)) = timetable.kits { tr { th scope="row" { (words::day(on)) } td { (tr!("the teacher begins to cut the kits")) } td { (tr!("{hours} to the first lesson", hours = plan_words::hours(hours))) } } }
                        @for (number, lesson) in timetable.lessons.iter().enumerate() {
                            tr {
                                th scope="row" { (words::day(lesson.day)) }
                                td { b { (tr!("Lesson {number}: {title}", number = number + 1, title = shown.plan.handouts[number].title)) } br; span.quiet { (words::works(&class.lessons[number].work)) } }
                                td { (before(shown, number)) }
                            }
                        }
                        tr { th scope="row" { (words::day(class.schedule.last_day)) } td { b { (tr!("All quilts are done")) } } td {} }
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
                summary { (tr!("{hours} h by {name}", hours = decimal(part.before.value, 1), name = name(student))) " " span.ask { (tr!("how?")) } }
                p.working { (part.before.line()) } p.rule { (part.before.rule.sentence()) }
                @if number > 0 { ul { @for home in &shown.plan.handouts[number - 1].home { li { (name(home.student)) ": " (home.reached) } } } }
            }
        } @else { (tr!("nothing")) }
        @if let Some(student) = lesson.held_by { span.quiet { " " (tr!("{name} needs the {days} days after it.", name = name(student), days = lesson.until_next)) } }
    }
}

fn weekday(day: Weekday) -> String {
    match day {
        Weekday::Monday => tr!("Monday"),
        Weekday::Tuesday => tr!("Tuesday"),
        Weekday::Wednesday => tr!("Wednesday"),
        Weekday::Thursday => tr!("Thursday"),
        Weekday::Friday => tr!("Friday"),
        Weekday::Saturday => tr!("Saturday"),
        Weekday::Sunday => tr!("Sunday"),
    }
}

/// What decides the days.
pub fn schedule(shown: &Shown) -> Markup {
    let (schedule, pace) = (&shown.class.schedule, &shown.class.pace);
    let weekdays: Vec<_> = Weekday::ALL
        .iter()
        .map(|each| {
            let value = Scalar::Text(each.word().to_owned());
            (weekday(*each), ClassEdit::Set { path: path(&["schedule", "weekday"]), value }, *each == schedule.weekday)
        })
        .collect();
    let kits: Vec<_> = [(true, tr!("the teacher, into kits")), (false, tr!("each student"))]
        .map(|(kits, label)| {
            (label.to_owned(), ClassEdit::Set { path: path(&["kits"]), value: Scalar::Bool(kits) }, shown.class.kits == kits)
        })
        .into();
    let without = schedule.without.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let at = |key: &'static str| ["schedule", key];
    html! {
        details.controls #schedule-fields {
            summary { (tr!("What decides the days")) }
            div.fields {
                (text("class-name", &tr!("What the class is called"), &shown.class.name, &["name"], false))
                (day("begins", &tr!("No lesson before"), schedule.begins.map(|day| day.to_string()), &at("begins"), true))
                (day("last-day", &tr!("All quilts are done on"), Some(schedule.last_day.to_string()), &at("last-day"), false))
                (choice("weekday", &tr!("Day of the week"), &weekdays))
                (number("lesson-hours", &tr!("Hours of a lesson"), Some(schedule.lesson_hours), "", &at("lesson-hours")))
                (number("showing-hours", &tr!("of which are shown, while nobody sews"), Some(schedule.showing_hours), "", &at("showing-hours")))
                (number("home-hours", &tr!("Hours a week at home"), Some(schedule.home_hours), "", &at("home-hours")))
                (number("teacher-hours", &tr!("Hours a week for cutting kits"), Some(schedule.teacher_hours), "", &at("teacher-hours")))
                (number("weeks-between", &tr!("Weeks between lessons, at least"), Some(f64::from(schedule.weeks_between)), "1", &at("weeks-between")))
                (choice("kits", &tr!("Cloth is cut by"), &kits))
                label.field.whole for="without" { span { (tr!("Days without a lesson, like 2027-04-01, 2027-04-08")) } input #without type="text" value=(without) autocomplete="off" data-class-days; }
                h3 { (tr!("Paces, in minutes")) }
                (number("pace-cut", &tr!("to cut a piece"), pace.cut, &decimal(Pace::USUAL_CUT, 1), &["pace", "cut"]))
                (number("pace-piece", &tr!("to sew and press a foot of seam"), pace.piece, &decimal(Pace::USUAL_PIECE, 1), &["pace", "piece"]))
                (number("pace-layer", &tr!("to layer and trim a section"), pace.layer, &decimal(Pace::USUAL_LAYER, 1), &["pace", "layer"]))
                (number("pace-edge", &tr!("to finish a foot of edge"), pace.edge, &tr!("as the plan has it"), &["pace", "edge"]))
                (number("pace-times", &tr!("Times as long as the maker"), pace.times, "1", &["pace", "times"]))
            }
            p.quiet { (tr!("Quilting and joining go at the pace of the quilt file. Let the students time themselves in the first lesson.")) }
        }
    }
}

/// The lessons and what is said of each.
pub fn section(shown: &Shown) -> Markup {
    let lessons = &shown.class.lessons;
    html! {
        section.controls aria-labelledby="lessons-title" {
            h2 #lessons-title { (tr!("Lessons")) }
            ul.cards { @for number in 0..lessons.len() { li { (card(shown, number)) } } }
            div.actions {
                @for work in Work::ALL.into_iter().filter(|work| lessons.iter().all(|lesson| lesson.work.first() <= Some(work))) {
                    (button(&format!("add-lesson-{}", work.word()), &tr!("Add a lesson on {said}", said = work.said()), &ClassEdit::AddLesson { work: vec![work.word().to_owned()] }, &tr!("Add a lesson on {said}", said = work.said())))
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
            summary { b { (tr!("Lesson {at}: {title}", at = at + 1, title = words::title(lesson))) } " " span.quiet { (words::day(shown.plan.timetable.lessons[at].day)) } }
            div.fields {
                (text(&id("name"), &tr!("What it is called"), lesson.name.as_deref().unwrap_or_default(), &["lesson", &own, "name"], true))
                (day(&id("date"), &tr!("A fixed day; worked back without one"), lesson.date.map(|day| day.to_string()), &["lesson", &own, "date"], true))
                (number(&id("hours"), &tr!("Hours"), lesson.hours, &decimal(shown.class.schedule.lesson_hours, 2), &["lesson", &own, "hours"]))
                (number(&id("ready"), &tr!("Of the work before it must be done, in %"), Some(lesson.ready), "100", &["lesson", &own, "ready"]))
                div.whole { (work(&id("work"), &tr!("What is worked at"), &lesson.work, &ticked)) }
                label.field.whole for=(id("note")) { span { (tr!("What you want to say on its handout")) } textarea id=(id("note")) rows="2" maxlength="2000" data-class=(super::set(&["lesson", &own, "note"])) data-empty=(json(&ClassEdit::Remove { path: path(&["lesson", &own, "note"]) })) { (lesson.note.as_deref().unwrap_or_default()) } }
            }
            p { (button(&id("gone"), &tr!("Take the lesson away"), &ClassEdit::Remove { path: path(&["lesson", &own]) }, &tr!("Take lesson {at} away", at = at + 1))) }
        }
    }
}
