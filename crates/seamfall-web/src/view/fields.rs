//! Controls that make an edit, and the working of a number.

use maud::{Markup, html};
use seamfall_model::{ClothId, Edit, Quilt, Scalar, Working};
use serde::Serialize;
use tr::tr;

/// An edit of the quilt or of its ledger, as the script sends it.
pub fn json(edit: &impl Serialize) -> String {
    serde_json::to_string(edit).expect("an edit is text and numbers")
}

/// Sets the value at a path to what is typed or chosen.
pub fn set(path: &[&str]) -> String {
    set_to(path, "$")
}

/// Sets the value at a path.
pub fn set_to(path: &[&str], value: &str) -> String {
    json(&Edit::Set { path: owned(path), value: Scalar::Text(value.to_owned()) })
}

/// Takes away what is at a path.
pub fn remove(path: &[&str]) -> String {
    json(&Edit::Remove { path: owned(path) })
}

fn owned(path: &[&str]) -> Vec<String> {
    path.iter().map(|&word| word.to_owned()).collect()
}

/// A line of text.
pub fn text(id: &str, label: &str, value: &str, edit: &str) -> Markup {
    html! {
        label.field for=(id) { span { (label) } input id=(id) type="text" value=(value) autocomplete="off" data-edit=(edit); }
    }
}

/// A line of text that may be empty, which makes an edit of its own.
pub fn optional(id: &str, label: &str, value: &str, edit: &str, empty: &str) -> Markup {
    html! {
        label.field for=(id) { span { (label) } input id=(id) type="text" value=(value) autocomplete="off" data-edit=(edit) data-empty=(empty); }
    }
}

/// A number that may be left out.
pub fn number(id: &str, label: &str, value: &str, path: &[&str], step: &str) -> Markup {
    html! {
        label.field for=(id) { span { (label) } input id=(id) type="number" min="0" step=(step) value=(value) autocomplete="off" data-edit=(set(path)) data-empty=(remove(path)); }
    }
}

/// A choice. Each option has the edit it makes.
pub fn choice(id: &str, label: &str, options: &[(String, String, bool)]) -> Markup {
    html! {
        label.field for=(id) {
            span { (label) }
            select id=(id) {
                @for (label, edit, chosen) in options { option data-edit=(edit) selected[*chosen] { (label) } }
            }
        }
    }
}

/// A choice of cloth; `edit` makes the edit from a cloth's key.
pub fn cloth(id: &str, label: &str, quilt: &Quilt, current: Option<ClothId>, edit: impl Fn(&str) -> String) -> Markup {
    choice(id, label, &cloth_options(quilt, current, edit))
}

/// An option for every cloth.
pub fn cloth_options(quilt: &Quilt, current: Option<ClothId>, edit: impl Fn(&str) -> String) -> Vec<(String, String, bool)> {
    let options = quilt.cloths.iter().enumerate();
    options.map(|(i, cloth)| (cloth.name.clone(), edit(&cloth.key), current == Some(ClothId(i)))).collect()
}

/// A button that makes an edit; `key` is pressed for it on the keyboard.
pub fn button(id: &str, label: &str, edit: &str, key: Option<&str>) -> Markup {
    html! {
        button id=(id) type="button" data-edit=(edit) data-key=[key] aria-keyshortcuts=[key] {
            (label) @if let Some(key) = key { " " kbd { (key) } }
        }
    }
}

/// A piece of cloth to look at.
pub fn swatch(cloth: ClothId) -> Markup {
    html! { svg.swatch viewBox="0 0 10 10" aria-hidden="true" { rect class={ "c" (cloth.0) } width="10" height="10" {} } }
}

/// How numbers came about, folded up.
pub fn how(id: &str, workings: &[&Working]) -> Markup {
    html! { details.how id=(id) { summary { span.ask { (tr!("how?")) } } (lines(workings)) } }
}

/// A line with numbers in it that unfolds to how they came about.
pub fn worked(id: &str, line: &Markup, workings: &[&Working]) -> Markup {
    html! { details.how.line id=(id) { summary { (line) " " span.ask { (tr!("how?")) } } (lines(workings)) } }
}

/// The same with more below the workings.
pub fn worked_with(id: &str, line: &Markup, workings: &[&Working], more: &Markup) -> Markup {
    html! { details.how.line id=(id) { summary { (line) " " span.ask { (tr!("how?")) } } (lines(workings)) (more) } }
}

fn lines(workings: &[&Working]) -> Markup {
    html! {
        @for (i, working) in workings.iter().enumerate() {
            p.working { (working.line()) }
            @if workings.get(i + 1).is_none_or(|next| next.rule != working.rule) {
                p.rule { (tr!("{sentence} Source: {source}.", sentence = working.rule.sentence(), source = working.rule.source())) }
            }
        }
    }
}
