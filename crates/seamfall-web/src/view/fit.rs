//! The bed that is to be covered, how the quilt hangs on it, and settings that would cover it.

use super::fields::{self, json, remove, set, set_to};
use super::words;
use maud::{Markup, html};
use seamfall_model::{BEDS, Bed, Edit, Length, PerCent, Quilt, Scalar, StandardBed};
use seamfall_plan::Plan;

/// Everything about the bed.
pub fn region(quilt: &Quilt, plan: &Plan) -> Markup {
    html! {
        h2 { "The bed" }
        @if quilt.bed.is_none() {
            p { "For which bed is it? Choose the nearest, then type what you measured: makers differ by an inch." }
        }
        div.fields { (standard(quilt)) @if let Some(bed) = &quilt.bed { (sizes(quilt, bed)) } }
        @if let Some(bed) = &quilt.bed { (shares(bed)) }
    }
}

fn standard(quilt: &Quilt) -> Markup {
    let current = quilt.bed.as_ref();
    let mut options = vec![("no bed".to_owned(), remove(&["bed"]), current.is_none())];
    if let Some(bed) = current.filter(|bed| bed.standard.is_none()) {
        options.push(("as measured".to_owned(), set_to(&["bed", "width"], &words::typed(quilt, bed.width)), true));
    }
    options.extend(BEDS.iter().map(|bed| {
        let chosen = current.and_then(|bed| bed.standard).is_some_and(|standard| standard.key == bed.key);
        (standard_name(quilt, bed), json(&Edit::Bed { standard: bed.key.to_owned() }), chosen)
    }));
    fields::choice("bed-standard", "Standard bed", &options)
}

/// `US queen, 60 × 80 in`.
fn standard_name(quilt: &Quilt, bed: &StandardBed) -> String {
    let (country, name) = bed.key.split_once(' ').unwrap_or(("", bed.key));
    let [width, length] = bed.mattress(quilt.measure);
    format!("{} {name}, {}", country.to_uppercase(), words::size(quilt, width.value(), length.value()))
}

fn sizes(quilt: &Quilt, bed: &Bed) -> Markup {
    let length = |key: &'static str, label: &str, value: Length| {
        fields::text(&format!("bed-{key}"), label, &words::typed(quilt, value), &set(&["bed", key]))
    };
    let posts = [false, true].map(|posts| {
        let edit = Edit::Set { path: vec!["bed".to_owned(), "posts".to_owned()], value: Scalar::Bool(posts) };
        (if posts { "yes" } else { "no" }.to_owned(), json(&edit), bed.posts == posts)
    });
    html! {
        (length("width", "Width of the mattress", bed.width))
        (length("length", "Length of the mattress", bed.length))
        (length("height", "Its top above the floor", bed.height))
        (length("sides", "To hang at the sides", bed.sides))
        (length("foot", "To hang at the foot", bed.foot))
        (length("tuck", "To tuck at the pillows", bed.tuck))
        (fields::choice("bed-posts", "Posts at the foot", &posts))
    }
}

/// What quilting and the first wash take off, each between two bounds.
fn shares(bed: &Bed) -> Markup {
    html! {
        details.card #bed-shares {
            summary { b { "What it loses" } " " span.quiet { "quilting " (range(bed.take_up)) ", first wash " (range(bed.shrinkage)) } }
            p.quiet { "Measure a practice piece before and after it is quilted, and again when it is washed. The top is made so much larger." }
            (share("take-up", "Quilting takes off", bed.take_up))
            (share("shrinkage", "The first wash takes off", bed.shrinkage))
        }
    }
}

fn range(share: PerCent) -> String {
    if share.least.to_bits() == share.most.to_bits() {
        format!("{} %", share.least)
    } else {
        format!("{} to {} %", share.least, share.most)
    }
}

fn share(key: &str, label: &str, share: PerCent) -> Markup {
    let edit = format!(r#"{{"do":"set","path":["bed","{key}"],"value":["$least","$most"]}}"#);
    let field = |name: &str, label: String, value: f64| {
        html! {
            label.field for={ "bed-" (key) "-" (name) } { span { (label) }
                input id={ "bed-" (key) "-" (name) } name=(name) type="number" min="0" max="15" step="any" value=(value) required; }
        }
    };
    html! {
        form.pair data-edit=(edit) data-at-once {
            (field("least", format!("{label}, at least, %"), share.least))
            (field("most", "at most, %".to_owned(), share.most))
        }
    }
}
