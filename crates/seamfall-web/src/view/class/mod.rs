//! The page of a class: students, lessons and their days, who brings what, cloth cut for all, handouts.
//!
//! A control carries the edit of the class it makes in `data-class`; `$` in it stands for what is typed or chosen, and `data-empty` is made instead
//! where nothing is. What is worked out stands in tables and lists that print; controls do not.

mod bring;
mod cloth;
mod handouts;
mod lessons;
mod said;
mod students;

pub use said::said;

use super::fields::json;
use super::{guild, page};
use crate::class::WorkedClass;
use maud::{Markup, html};
use seamfall_class::ClassPlan;
use seamfall_model::class::{Class, Work};
use seamfall_model::{ClassEdit, FileError, Scalar, decimal};
use tr::tr;

/// What every part of the page is written from.
struct Shown<'a> {
    base: String,
    revision: i64,
    worked: &'a WorkedClass,
    class: &'a Class,
    plan: &'a ClassPlan,
}

/// The page.
pub fn page(worked: &WorkedClass) -> Markup {
    let (quilt, id) = (&worked.worked.quilt, worked.worked.id);
    let base = format!("/q/{id}/");
    let body = html! {
        body.plain.class data-base=(base) data-class-revision=(worked.stored.revision.0) {
            link rel="stylesheet" href="/assets/class.css";
            script src="/assets/class.js" defer {}
            main {
                p.back { a href=(base.trim_end_matches('/')) { (tr!("Back to {name}", name = quilt.name)) } }
                (guild::whose())
                div #message role="alert" hidden {}
                p #said role="status" aria-live="polite" {}
                div #class { (region(worked)) }
                section.controls aria-labelledby="class-file-title" {
                    h2 #class-file-title { (tr!("The class as a file")) }
                    p { a href={ (base) "class/file" } download { (tr!("Save it")) } ", " (tr!("to stand beside the quilt file.")) }
                    label.field for="class-file" { span { (tr!("Bring one in, in place of this: a file that ends in .class.toml")) } input #class-file type="file" accept=".toml" data-bring={ (base) "class/file" }; }
                    p.quiet { (tr!("Names of students stay on this machine, in this store and in the files you save.")) }
                }
            }
        }
    };
    page::plain(&tr!("A class that makes {name}", name = quilt.name), &body)
}

/// All of it that changes with the class.
pub fn region(worked: &WorkedClass) -> Markup {
    let undo = html! {
        div.actions {
            button #class-undo type="button" data-class-step="undo" disabled[worked.stored.undo.is_none()] title=[&worked.stored.undo] { span aria-hidden="true" { "↶ " } (tr!("Undo")) }
            button #class-redo type="button" data-class-step="redo" disabled[worked.stored.redo.is_none()] title=[&worked.stored.redo] { span aria-hidden="true" { "↷ " } (tr!("Redo")) }
        }
    };
    match worked.planned.as_deref() {
        None => {
            html! { h1 { (tr!("A class that makes {name}", name = worked.worked.quilt.name)) } @if worked.stored.undo.is_some() { (undo) } (begin()) }
        }
        Some(Err(error)) => {
            html! { h1 { (tr!("A class that makes {name}", name = worked.worked.quilt.name)) } (undo) (unreadable(error)) }
        }
        Some(Ok((class, plan))) => {
            let shown =
                Shown { base: format!("/q/{}/", worked.worked.id), revision: worked.stored.revision.0, worked, class, plan };
            html! { h1 { (class.name) } (undo) (whole(&shown)) }
        }
    }
}

fn begin() -> Markup {
    html! {
        p { (tr!("Students who each make this quilt, in their own size and cloths; lessons with their days worked back from the last one; cloth bought together and cut into kits; a handout for each lesson.")) }
        form.fields data-class-begin {
            label.field for="begin-name" { span { (tr!("What the class is called")) } input #begin-name name="name" required maxlength="200" value=(tr!("Thursday evenings")) autocomplete="off"; }
            label.field for="begin-students" { span { (tr!("How many students")) } input #begin-students name="students" type="number" min="1" max="60" required value="6"; }
            label.field for="begin-last" { span { (tr!("The day on which all quilts are done")) } input #begin-last name="last_day" type="date" required; }
            div.whole { button type="submit" { (tr!("Begin the class")) } }
        }
        p.quiet data-for="class/begin" { (tr!("Students begin as Student 1, Student 2 and so on; names you write stay on this machine.")) }
    }
}

fn unreadable(error: &FileError) -> Markup {
    html! {
        p { (tr!("The class does not go with the quilt as it stands; nothing of it is lost:")) }
        ul { @for problem in &error.problems { li { (tr!("Line {line}: {reason}", line = problem.line, reason = problem.reason)) @if let Some(help) = &problem.help { "; " (help) } } } }
        p { (tr!("Change the quilt back, or save the class, mend its file and bring it in again.")) }
    }
}

fn whole(shown: &Shown) -> Markup {
    let base = &shown.base;
    html! {
        p { (tr!("{students} students make {quilt}.", students = shown.class.students.len(), quilt = shown.worked.worked.quilt.name)) " "
            a href={ (base) "class/handouts.pdf?paper=letter" } { (tr!("Handouts, strips and kits (PDF, Letter)")) } " · "
            a href={ (base) "class/handouts.pdf?paper=a4" } { "A4" } }
        (findings(shown.plan))
        (lessons::timetable(shown))
        (lessons::schedule(shown))
        (students::section(shown))
        (lessons::section(shown))
        (bring::section(shown))
        (cloth::section(shown))
        (handouts::section(shown))
    }
}

fn findings(plan: &ClassPlan) -> Markup {
    html! {
        @if !plan.findings.is_empty() {
            ul.said-of aria-label=(tr!("What there is to say")) {
                @for finding in &plan.findings {
                    li class=(finding.grade.word()) { b { (finding.grade.said()) } ": " (finding.reason) "."
                        @if let Some(help) = &finding.help { p.help { (tr!("Help: {help}.", help)) } } }
                }
            }
        }
    }
}

fn path(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// Sets the value at a path to what is typed or chosen.
fn set(words: &[&str]) -> String {
    json(&ClassEdit::Set { path: path(words), value: Scalar::Text("$".to_owned()) })
}

fn remove(words: &[&str]) -> String {
    json(&ClassEdit::Remove { path: path(words) })
}

/// A line of text; where it is emptied the key is taken away.
fn text(id: &str, label: &str, value: &str, at: &[&str], may_be_empty: bool) -> Markup {
    html! { label.field for=(id) { span { (label) } input id=(id) type="text" value=(value) autocomplete="off" data-class=(set(at)) data-empty=[may_be_empty.then(|| remove(at))]; } }
}

/// A number; without one the usual one holds, which is told in its place.
fn number(id: &str, label: &str, value: Option<f64>, usual: &str, at: &[&str]) -> Markup {
    let value = value.map(|value| decimal(value, 2));
    html! { label.field for=(id) { span { (label) } input id=(id) type="number" min="0" step="any" inputmode="decimal" value=[value] placeholder=(usual) autocomplete="off" data-class=(set(at)) data-empty=(remove(at)); } }
}

/// A day; without one its key is taken away, where it may be.
fn day(id: &str, label: &str, value: Option<String>, at: &[&str], may_be_empty: bool) -> Markup {
    html! { label.field for=(id) { span { (label) } input id=(id) type="date" value=[value] data-class=(set(at)) data-empty=[may_be_empty.then(|| remove(at))]; } }
}

/// A choice; each option is an edit.
fn choice(id: &str, label: &str, options: &[(String, ClassEdit, bool)]) -> Markup {
    html! { label.field for=(id) { span { (label) } select id=(id) { @for (label, edit, chosen) in options { option data-class=(json(edit)) selected[*chosen] { (label) } } } } }
}

/// Boxes for the kinds of work; `edit` makes the edit from those that are ticked.
fn work(id: &str, label: &str, ticked: &[Work], edit: &ClassEdit) -> Markup {
    html! {
        fieldset.work id=(id) data-class-work=(json(edit)) {
            legend { (label) }
            @for work in Work::ALL {
                label.switch { input id={ (id) "-" (work.word()) } type="checkbox" value=(work.word()) checked[ticked.contains(&work)]; " " (work.said()) }
            }
        }
    }
}

fn button(id: &str, label: &str, edit: &ClassEdit, name: &str) -> Markup {
    html! { button id=(id) type="button" data-class-do=(json(edit)) aria-label=(name) { (label) } }
}
