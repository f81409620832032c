//! Who brings what: a list to print, and what decides it.

use super::{Shown, button, choice, number, path, text, work};
use crate::view::fields::json;
use maud::{Markup, html};
use seamfall_class::{Supply, words};
use seamfall_model::class::{Bringer, Item};
use seamfall_model::{ClassEdit, Scalar};
use seamfall_plan::cut::Material;
use tr::tr;

pub fn section(shown: &Shown) -> Markup {
    let add = ClassEdit::AddItem { name: "$name".to_owned(), by: "student".to_owned() };
    html! {
        section aria-labelledby="bring-title" {
            h2 #bring-title { (tr!("Who brings what")) }
            @for by in Bringer::ALL { (list(shown, by)) }
            details.controls #bring-fields {
                summary { (tr!("Change who brings what")) }
                div.fields {
                    (by(shown, "bring-cloth", &tr!("Cloth"), &["bring", "cloth"], shown.class.brings.cloth))
                    (by(shown, "bring-batting", &tr!("Batting"), &["bring", "batting"], shown.class.brings.batting))
                    (by(shown, "bring-thread", &tr!("Thread"), &["bring", "thread"], shown.class.brings.thread))
                }
                ul.cards { @for (number, item) in shown.class.items.iter().enumerate() { li { (tool(shown, number, item)) } } }
                form.fields data-class-form=(json(&add)) {
                    label.field for="new-item" { span { (tr!("Something else")) } input #new-item name="name" required maxlength="200" autocomplete="off"; }
                    div { button type="submit" { (tr!("Add it")) } }
                }
            }
        }
    }
}

fn list(shown: &Shown, by: Bringer) -> Markup {
    let own: Vec<&Supply> = shown.plan.supplies.iter().filter(|supply| supply.by == by).collect();
    html! {
        @if !own.is_empty() {
            h3 { (words::capital(&words::bringer(by))) }
            div.wide tabindex="0" role="region" aria-label=(tr!("What is brought: {bringer}", bringer = words::bringer(by))) {
                table {
                    thead { tr { th scope="col" { (tr!("What")) } th.amount scope="col" { (tr!("In all")) } th scope="col" { (tr!("Each")) } th scope="col" { (tr!("For")) } } }
                    tbody { @for supply in own { tr {
                        th scope="row" { (supply.what) @if let Some(note) = &supply.note { br; span.quiet { (note) } } }
                        td.amount { (supply.all) }
                        td { (each(shown, supply)) }
                        td { (words::works(&supply.work)) }
                    } } }
                }
            }
        }
    }
}

/// What each student needs: once where it is the same for all.
fn each(shown: &Shown, supply: &Supply) -> Markup {
    let own: Vec<(usize, &str)> = (0..supply.each.len()).filter_map(|student| Some((student, supply.of(student)?))).collect();
    let alike = own.len() == supply.each.len() && own.windows(2).all(|pair| pair[0].1 == pair[1].1);
    html! {
        @match own.first() {
            None => {}
            Some((_, first)) if alike => { (first) }
            Some(_) => { ul.each { @for (student, amount) in own { li { (shown.class.students[student].name) ": " (amount) } } } }
        }
    }
}

fn by(_: &Shown, id: &str, label: &str, at: &[&str], now: Bringer) -> Markup {
    let options: Vec<_> = Bringer::ALL
        .iter()
        .map(|each| {
            let value = Scalar::Text(each.word().to_owned());
            (words::bringer(*each).to_owned(), ClassEdit::Set { path: path(at), value }, *each == now)
        })
        .collect();
    choice(id, label, &options)
}

fn tool(shown: &Shown, at: usize, item: &Item) -> Markup {
    let own = at.to_string();
    let id = |what: &str| format!("item-{own}-{what}");
    let ticked = ClassEdit::ItemWork { item: at, work: Vec::new() };
    html! {
        details id=(id("card")) {
            summary { b { (item.name) } " " span.quiet { (words::bringer(item.by)) } }
            div.fields {
                (text(&id("name"), &tr!("What it is"), &item.name, &["item", &own, "name"], false))
                (by(shown, &id("by"), &tr!("Who brings it"), &["item", &own, "by"], item.by))
                (number(&id("count"), &tr!("How many"), Some(f64::from(item.count)), "1", &["item", &own, "count"]))
                (number(&id("among"), &tr!("for so many students"), item.among.map(f64::from), &tr!("one, or all"), &["item", &own, "among"]))
                div.whole { (work(&id("work"), &tr!("What it is for; all of it where nothing is ticked"), &item.work, &ticked)) }
            }
            p { (button(&id("gone"), &tr!("Take it off the list"), &ClassEdit::Remove { path: path(&["item", &own]) }, &tr!("Take {item} off the list", item = item.name))) }
        }
    }
}

/// The name of a material in an address.
pub fn key(shown: &Shown, of: Material) -> String {
    of.key(&shown.plan.pool.quilt).to_owned()
}
