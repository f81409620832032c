//! What is bought besides the cloths of the top: backing, batting, practice pieces, thread; and how cloth is cut and bought.

use super::answers;
use super::fields::{self, number, optional, remove, set, set_to};
use super::words;
use maud::{Markup, html};
use seamfall_model::{ClothId, Edit, Measure, Quilt, Scalar, Supply};
use seamfall_plan::caution::FIBRES;
use tr::tr;

/// All of it, folded up.
pub fn region(quilt: &Quilt) -> Markup {
    html! {
        details.card #materials {
            summary { b { (tr!("Backing, batting, thread")) } " " span.quiet { (missing(quilt)) } }
            div.fields {
                h3 { (tr!("Backing")) }
                (with_cloth("backing", &tr!("Cloth"), quilt, quilt.backing.map(|backing| backing.cloth)))
                @if let Some(backing) = &quilt.backing {
                    (fields::text("backing-oversize", &tr!("Beyond each side"), &words::typed(quilt, backing.oversize), &set(&["backing", "oversize"])))
                }
                h3 { (tr!("Batting")) }
                (batting(quilt))
                div.whole { (answers::cautions(&[FIBRES])) }
                h3 { (tr!("Practice pieces")) }
                (with_cloth("sample", &tr!("Cloth of the front"), quilt, quilt.sample.map(|sample| sample.cloth)))
                @if let Some(sample) = &quilt.sample {
                    (fields::text("sample-size", &tr!("Side as it is cut"), &words::typed(quilt, sample.size), &set(&["sample", "size"])))
                    (number("sample-count", &tr!("How many"), &sample.count.to_string(), &["sample", "count"], "1"))
                }
                h3 { (tr!("Thread")) }
                (optional("thread-spool", &tr!("Length on a spool"), &quilt.thread.map_or(String::new(), |thread| words::long(quilt, thread.spool.value())),
                    &set(&["thread", "spool"]), &remove(&["thread"])))
                @if let Some(thread) = &quilt.thread {
                    (number("thread-price", &tr!("A spool costs"), &thread.price.map_or(String::new(), seamfall_model::Price::shown), &["thread", "price"], "0.01"))
                }
                h3 { (tr!("All cloths")) }
                (optional("reserve", &tr!("Bought in reserve of each"), &if quilt.reserve.value() > 0.0 { words::typed(quilt, quilt.reserve) } else { String::new() },
                    &set(&["reserve"]), &remove(&["reserve"])))
                (fields::choice("cutting-stages", &tr!("How it may be cut"), &stages(quilt)))
            }
        }
    }
}

/// What is not planned yet.
fn missing(quilt: &Quilt) -> String {
    let all = [(quilt.backing.is_none(), tr!("backing")), (quilt.batting.is_none(), tr!("batting"))];
    let missing: Vec<String> = all.into_iter().filter(|(missing, _)| *missing).map(|(_, what)| what).collect();
    if missing.is_empty() { tr!("all chosen") } else { tr!("not chosen yet: {missing}", missing = missing.join(", ")) }
}

/// A choice of cloth for something that can also be left out.
fn with_cloth(what: &str, label: &str, quilt: &Quilt, current: Option<ClothId>) -> Markup {
    let mut options = vec![(tr!("none yet"), remove(&[what]), current.is_none())];
    options.extend(fields::cloth_options(quilt, current, |key| set_to(&[what, "cloth"], key)));
    fields::choice(&format!("{what}-cloth"), label, &options)
}

fn batting(quilt: &Quilt) -> Markup {
    let usual = if quilt.measure == Measure::Inch { "90" } else { "230" };
    let package = if quilt.measure == Measure::Inch { "72 x 90" } else { "180 x 230" };
    let Some(batting) = &quilt.batting else {
        return html! {
            (fields::button("batting-roll-add", &tr!("Off a roll"), &set_to(&["batting", "roll"], usual), None))
            (fields::button("batting-package-add", &tr!("Packaged"), &set_to(&["batting", "packages", "0", "size"], package), None))
        };
    };
    html! {
        (fields::text("batting-name", &tr!("Name"), &batting.name, &set(&["batting", "name"])))
        (fields::text("batting-oversize", &tr!("Beyond each side"), &words::typed(quilt, batting.oversize), &set(&["batting", "oversize"])))
        (optional("batting-roll", &tr!("Width of the roll"), &batting.roll.map_or(String::new(), |roll| words::typed(quilt, roll.width)),
            &set(&["batting", "roll"]), &remove(&["batting", "roll"])))
        @if let Some(roll) = &batting.roll {
            (number("batting-price", &per(quilt), &roll.price.map_or(String::new(), seamfall_model::Price::shown), &["batting", "price"], "0.01"))
        }
        @for (i, supply) in batting.packages.iter().enumerate() { (self::supply(quilt, &["batting", "packages"], i, supply, &tr!("Package"))) }
        (fields::button("batting-package-add", &tr!("Add a package"), &set_to(&["batting", "packages", &batting.packages.len().to_string(), "size"], package), None))
        (fields::button("batting-remove", &tr!("No batting"), &remove(&["batting"]), None))
    }
}

/// `A yard costs`.
pub fn per(quilt: &Quilt) -> String {
    if quilt.measure == Measure::Inch { tr!("A yard costs") } else { tr!("A metre costs") }
}

/// A size in which something comes: its size, how many, its price.
pub fn supply(quilt: &Quilt, path: &[&str], number: usize, supply: &Supply, what: &str) -> Markup {
    let place = number.to_string();
    let at = |key: &'static str| -> Vec<&str> { path.iter().copied().chain([place.as_str(), key]).collect() };
    let whole: Vec<&str> = path.iter().copied().chain([place.as_str()]).collect();
    let id = |key: &str| format!("{}-{number}-{key}", path.join("-"));
    let size = format!("{} x {}", words::typed(quilt, supply.width), words::typed(quilt, supply.length));
    html! {
        div.supply {
            (fields::text(&id("size"), &format!("{what} {}", number + 1), &size, &set(&at("size"))))
            (fields::number(&id("count"), &tr!("How many"), &supply.count.map_or(String::new(), |count| count.to_string()), &at("count"), "1"))
            (fields::number(&id("price"), &tr!("One costs"), &supply.price.shown(), &at("price"), "0.01"))
            (fields::button(&id("remove"), &tr!("Take away"), &remove(&whole), None))
        }
    }
}

fn stages(quilt: &Quilt) -> Vec<(String, String, bool)> {
    let words = [
        tr!("strips, then what is cut off them"),
        tr!("parts turned once"),
        tr!("parts turned twice"),
        tr!("as the least cloth asks"),
    ];
    (2..=5_u8)
        .zip(words)
        .map(|(stages, word)| {
            let edit = Edit::Set { path: vec!["cutting-stages".to_owned()], value: Scalar::Number(f64::from(stages)) };
            (word, fields::json(&edit), quilt.cutting_stages == stages)
        })
        .collect()
}
