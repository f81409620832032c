//! Students: their names, sizes, cloths and hours.

use super::{Shown, button, choice, number, path, text};
use crate::view::fields::json;
use maud::{Markup, html};
use seamfall_class::words;
use seamfall_model::class::{StudentSize, Work};
use seamfall_model::{BEDS, ClassEdit, ClothId, decimal};
use seamfall_plan::words as plan_words;
use tr::tr;

pub fn section(shown: &Shown) -> Markup {
    let class = shown.class;
    html! {
        section aria-labelledby="students-title" {
            h2 #students-title { (tr!("Students")) }
            @if !class.students.is_empty() { (hours(shown)) }
            div.controls {
                ul.cards { @for number in 0..class.students.len() { li { (card(shown, number)) } } }
                form.fields data-class-form=(json(&ClassEdit::AddStudent { name: "$name".to_owned() })) {
                    label.field for="new-student" { span { (tr!("Another student")) } input #new-student name="name" required maxlength="200" autocomplete="off" value=(tr!("Student {number}", number = class.students.len() + 1)); }
                    div { button type="submit" { (tr!("Add her")) } }
                }
                (cloths(shown))
            }
        }
    }
}

/// Size, cloths and hours of all, as a table to print.
fn hours(shown: &Shown) -> Markup {
    let (class, plan) = (shown.class, shown.plan);
    let quilt = &shown.worked.worked.quilt;
    html! {
        div.wide tabindex="0" role="region" aria-label=(tr!("Sizes and hours of all students")) {
            table {
                thead { tr { th scope="col" { (tr!("Student")) } th scope="col" { (tr!("Quilt")) } @for work in Work::ALL { th.amount scope="col" { (words::capital(&work.said())) } } th.amount scope="col" { (tr!("All, h")) } } }
                tbody { @for (number, student) in class.students.iter().enumerate() {
                    @let hours = &plan.students[number].hours;
                    @let own = words::cloths(quilt, class, number);
                    tr {
                        th scope="row" { (student.name) }
                        td { (words::size(plan.look(number))) @if !own.is_empty() { br; span.quiet { (own) } } }
                        @for hours in &hours.each { td.amount title=(hours.line()) { (decimal(hours.value, 1)) } }
                        td.amount { b { (decimal(hours.all.value, 1)) } }
                    }
                } }
            }
        }
        @if let Some(first) = plan.students.first() {
            details.how #how-hours { summary { span.ask { (tr!("how the hours of {student} come about", student = class.students[0].name)) } }
                @for working in first.hours.each.iter().chain([&first.hours.all]).chain(&first.hours.kit) {
                    p.working { (working.line()) } p.rule { (tr!("{sentence} Source: {source}.", sentence = working.rule.sentence(), source = working.rule.source())) }
                }
            }
        }
    }
}

fn card(shown: &Shown, at: usize) -> Markup {
    let student = &shown.class.students[at];
    let own = at.to_string();
    let id = |what: &str| format!("student-{own}-{what}");
    let hours = plan_words::hours(shown.plan.students[at].hours.all.value);
    html! {
        details id=(id("card")) {
            summary { b { (student.name) } " " span.quiet { (words::size(shown.plan.look(at))) ", " (hours) } }
            div.fields {
                (text(&id("name"), &tr!("Name"), &student.name, &["student", &own, "name"], false))
                (size(shown, at))
                @if let StudentSize::Blocks { .. } | StudentSize::AsPlanned = student.size { (rows(shown, at)) }
                (number(&id("home"), &tr!("Hours a week at home"), student.home_hours, &decimal(shown.class.schedule.home_hours, 2), &["student", &own, "home-hours"]))
                (number(&id("times"), &tr!("Times as long as the maker"), student.times, &decimal(shown.class.pace.times.unwrap_or(1.0), 2), &["student", &own, "times"]))
            }
            details id=(id("cloths")) { summary { (tr!("Her own cloths")) } div.fields { @for cloth in 0..shown.worked.worked.quilt.cloths.len() { (swap(shown, at, ClothId(cloth))) } } }
            p { (button(&id("gone"), &tr!("Take her off the list"), &ClassEdit::Remove { path: path(&["student", &own]) }, &tr!("Take {student} off the list", student = student.name))) }
        }
    }
}

fn size(shown: &Shown, at: usize) -> Markup {
    let now = shown.class.students[at].size;
    let [rows, columns] = shown.plan.look(at).blocks.map(|count| u32::try_from(count).unwrap_or(1));
    let edit = |rows: Option<u32>, columns: Option<u32>, covers: Option<&str>| ClassEdit::Size {
        student: at,
        rows,
        columns,
        covers: covers.map(str::to_owned),
    };
    let mut options = vec![
        (tr!("as the quilt is planned"), edit(None, None, None), now == StudentSize::AsPlanned),
        (tr!("in rows and columns"), edit(Some(rows), Some(columns), None), matches!(now, StudentSize::Blocks { .. })),
    ];
    options.extend(
        BEDS.iter()
            .map(|bed| (tr!("covers {key}", key = bed.key), edit(None, None, Some(bed.key)), now == StudentSize::Covers(bed))),
    );
    choice(&format!("student-{at}-size"), &tr!("Size"), &options)
}

fn rows(shown: &Shown, at: usize) -> Markup {
    let own = at.to_string();
    let [rows, columns] = shown.plan.look(at).blocks;
    html! {
        @for (key, label, count) in [("rows", tr!("Rows"), rows), ("columns", tr!("Columns"), columns)] {
            label.field for={ "student-" (at) "-" (key) } { span { (label) }
                input id={ "student-" (at) "-" (key) } type="number" min="1" max="100" value=(count) autocomplete="off" data-class=(super::set(&["student", &own, key])) data-empty=(super::remove(&["student", &own, key])); }
        }
    }
}

fn swap(shown: &Shown, at: usize, from: ClothId) -> Markup {
    let quilt = &shown.worked.worked.quilt;
    let own = shown.class.students[at].swaps.iter().find(|(other, _)| *other == from).map(|(_, to)| *to);
    let cloth = &quilt.cloths[from.0];
    let all = quilt.cloths.iter().chain(&shown.class.cloths).enumerate();
    let options: Vec<_> = all
        .map(|(number, other)| {
            let to = (number != from.0).then(|| other.key.clone());
            (other.name.clone(), ClassEdit::Swap { student: at, from: cloth.key.clone(), to }, own.unwrap_or(from).0 == number)
        })
        .collect();
    choice(&format!("student-{at}-cloth-{}", cloth.key), &tr!("Instead of {cloth}", cloth = cloth.name), &options)
}

/// Cloths that the quilt does not have.
fn cloths(shown: &Shown) -> Markup {
    let add = ClassEdit::AddCloth { key: String::new(), name: "$name".to_owned(), colour: "$colour".to_owned() };
    html! {
        details #class-cloths {
            summary { (tr!("Cloths that the quilt does not have")) }
            ul { @for cloth in &shown.class.cloths {
                li { (cloth.name) " " (button(&format!("cloth-{}-gone", cloth.key), &tr!("Take it away"), &ClassEdit::Remove { path: path(&["cloth", &cloth.key]) }, &tr!("Take {cloth} away", cloth = cloth.name))) }
            } }
            form.fields data-class-form=(json(&add)) {
                label.field for="new-cloth" { span { (tr!("Its name")) } input #new-cloth name="name" required maxlength="40" autocomplete="off"; }
                label.field for="new-colour" { span { (tr!("Its colour")) } input #new-colour name="colour" type="color" value="#c98a8a"; }
                div { button type="submit" { (tr!("Add the cloth")) } }
            }
        }
    }
}
