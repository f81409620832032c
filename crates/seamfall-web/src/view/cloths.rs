//! The cloths: how they look, and what they are like to cut.

use super::fields::{self, set, set_to, swatch};
use super::{key_words, look, materials, words};
use crate::photos::Photos;
use maud::{Markup, html};
use seamfall_model::{ClothId, Edit, Quilt};
use seamfall_plan::Plan;
use tr::tr;

/// The list of cloths. What is linked lies below `base`.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan, photos: &Photos) -> Markup {
    html! {
        (everywhere(quilt))
        @for (i, cloth) in quilt.cloths.iter().enumerate() {
            @let key = cloth.key.as_str();
            @let id = |what: &str| format!("cloth-{key}-{what}");
            @let used = plan.cutting.bought.iter().find(|bought| bought.of.cloth() == Some(ClothId(i)));
            details.card #(id("card")) {
                summary { (swatch(ClothId(i))) " " b { (cloth.name) } " "
                    span.quiet { (words::value(cloth.value)) @if let Some(bought) = used { ", " (bought.shown(quilt)) } @else { ", " (tr!("not used")) } } }
                div.fields {
                    (fields::text(&id("name"), &tr!("Name"), &cloth.name, &set(&["cloth", key, "name"])))
                    label.field for=(id("colour")) { span { (tr!("Colour")) }
                        input id=(id("colour")) type="color" value=(cloth.colour.hex()) data-edit=(set(&["cloth", key, "colour"])); }
                    (options(&id("value"), &tr!("Value"), &["cloth", key, "value"], &["light", "medium", "dark"], cloth.value.word()))
                    (options(&id("print"), &tr!("Print runs"), &["cloth", key, "print"], &["none", "two-way", "one-way"], cloth.print.word()))
                    (fields::text(&id("width"), &tr!("Usable width"), &words::typed(quilt, cloth.width), &set(&["cloth", key, "width"])))
                    (fields::number(&id("price"), &materials::per(quilt), &cloth.price.map_or(String::new(), seamfall_model::Price::shown), &["cloth", key, "price"], "0.01"))
                    (fields::number(&id("shrinkage"), &tr!("Lost in the wash, %"), &cloth.shrinkage.per_cent(), &["cloth", key, "shrinkage"], "0.1"))
                    @for (number, supply) in cloth.from.iter().enumerate() { (materials::supply(quilt, &["cloth", key, "from"], number, supply, &tr!("Comes as"))) }
                    (fields::button(&id("from-add"), &tr!("It comes in sizes"), &set_to(&["cloth", key, "from", &cloth.from.len().to_string(), "size"], usual_size(quilt)), None))
                    @if used.is_none() {
                        (fields::button(&id("remove"), &tr!("Take away"), &fields::remove(&["cloth", key]), None))
                    }
                }
                (look::section(base, quilt, ClothId(i), photos))
            }
        }
        form.card.fields #cloth-add data-edit=(add()) {
            h3 { (tr!("Add a cloth")) }
            label.field for="cloth-add-name" { span { (tr!("Name")) } input #cloth-add-name name="name" required autocomplete="off"; }
            label.field for="cloth-add-colour" { span { (tr!("Colour")) } input #cloth-add-colour name="colour" type="color" value="#a8763e"; }
            button type="submit" { (tr!("Add")) }
        }
    }
}

/// A fat quarter, to begin with.
fn usual_size(quilt: &Quilt) -> &'static str {
    if quilt.measure == seamfall_model::Measure::Inch { "20 x 18" } else { "50 x 45" }
}

/// Cloths changed wherever they are used.
fn everywhere(quilt: &Quilt) -> Markup {
    if quilt.cloths.len() < 2 {
        return html! {};
    }
    let pairs = |cloths: &[(&str, &str)]| {
        let cloths = cloths.iter().map(|(from, to)| ((*from).to_owned(), (*to).to_owned())).collect();
        fields::json(&Edit::Recolour { cloths })
    };
    let pick = |id: &str, name: &str, label: &str, first: usize| {
        html! { label.field for=(id) { span { (label) }
        select id=(id) name=(name) data-keep-choice { @for (i, cloth) in quilt.cloths.iter().enumerate() { option value=(cloth.key) selected[i == first] { (cloth.name) } } } } }
    };
    html! {
        form.card.fields #cloth-everywhere data-for="edit" {
            h3 { (tr!("Change cloths everywhere")) }
            (pick("everywhere-from", "from", &tr!("This cloth"), 0))
            (pick("everywhere-to", "to", &tr!("And this one"), 1))
            button #everywhere-exchange type="submit" data-form-edit=(pairs(&[("$from", "$to"), ("$to", "$from")])) { (tr!("Exchange the two")) }
            button #everywhere-instead type="submit" data-form-edit=(pairs(&[("$from", "$to")])) { (tr!("The second for the first")) }
            div.whole { (fields::button("light-for-dark", &tr!("Light for dark"), &pairs(&light_for_dark(quilt)), None)) }
        }
    }
}

/// The lightest cloth and the darkest exchanged, the next ones, and so on to the middle.
fn light_for_dark(quilt: &Quilt) -> Vec<(&str, &str)> {
    let mut keys: Vec<_> = quilt.cloths.iter().map(|cloth| (cloth.value, cloth.key.as_str())).collect();
    keys.sort_by_key(|(value, _)| *value);
    let turned = keys.iter().rev();
    keys.iter().zip(turned).map(|((_, from), (_, to))| (*from, *to)).filter(|(from, to)| from != to).collect()
}

fn add() -> String {
    fields::json(&Edit::AddCloth { key: String::new(), name: "$name".to_owned(), colour: "$colour".to_owned(), from: Vec::new() })
}

fn options(id: &str, label: &str, path: &[&str], all: &[&str], current: &str) -> Markup {
    let options: Vec<_> = all.iter().map(|&each| (key_words::said(each), fields::set_to(path, each), each == current)).collect();
    fields::choice(id, label, &options)
}
