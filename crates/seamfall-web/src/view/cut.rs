//! What to buy and what to cut, every number with its working, and the layout of every cloth.

use super::fields::{self, swatch};
use super::{answers, materials, words};
use maud::{Markup, html};
use seamfall_model::{ClothId, Measure, Quilt, Working, shown_money};
use seamfall_plan::Plan;
use seamfall_plan::caution::ROTARY_CUTTER;
use seamfall_plan::cut::{CutPiece, Laid, Material, ToBuy, Use};
use std::hash::{DefaultHasher, Hash, Hasher};
use tr::tr;

/// What to buy, then what to cut of each material and how it lies. A line unfolds to its working.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let heading = match quilt.measure {
        Measure::Inch => tr!("What to cut, in inches"),
        Measure::Centimetre => tr!("What to cut, in centimetres"),
    };
    html! {
        h2 { (tr!("What to buy")) }
        (search(plan))
        ul.numbers {
            @for bought in &plan.cutting.bought { li { (line(quilt, bought)) } }
            li { (thread(quilt, plan)) }
            @if let Some(total) = plan.cutting.price() { li.total { span.what { (tr!("All that has a price")) } b.amount { (shown_money(total)) } } }
        }
        p.quiet { (words::holds(quilt)) }
        p { a href={ (base) "cut-list.csv" } download { (tr!("Cut list (CSV)")) } }
        (materials::region(quilt))
        h2 { (heading) }
        (answers::cautions(&[ROTARY_CUTTER]))
        @for bought in &plan.cutting.bought { (material(base, quilt, plan, bought)) }
    }
}

/// How far the search for less cloth is; it goes on by itself while this is shown.
fn search(plan: &Plan) -> Markup {
    let (all, left) = (plan.cutting.bought.len(), plan.cutting.bought.iter().filter(|bought| bought.is_first).count());
    if left == 0 {
        return html! {};
    }
    html! {
        p #less-cloth data-left=(left) {
            (tr!("Looking for less cloth: {left} of {all} done.", left = all - left, all)) " "
            button #less-cloth-stop type="button" { (tr!("Stop")) }
            button #less-cloth-go type="button" hidden { (tr!("Go on")) }
        }
    }
}

fn line(quilt: &Quilt, bought: &ToBuy) -> Markup {
    let workings: Vec<&Working> = match &bought.laid {
        Some(Laid::OffTheBolt(laid)) => vec![&laid.needed, &laid.length],
        _ => Vec::new(),
    };
    let what = html! {
        span.what { (sign(bought.of)) " " (bought.of.name(quilt)) br; span.quiet { (width(quilt, bought)) } }
        b.amount { (bought.shown(quilt)) @if let Some(price) = bought.price { br; span.quiet { (shown_money(price)) } } }
    };
    let more = html! {
        p.working { (words::proof(quilt, bought)) }
        @if let Some(instead) = &bought.instead { p.rule { (tr!("Bought the other way it would be {instead}.", instead)) } }
    };
    fields::worked_with(&format!("how-buy-{}", bought.of.key(quilt)), &what, &workings, &more)
}

fn sign(of: Material) -> Markup {
    match of {
        Material::Cloth(cloth) => swatch(cloth),
        Material::Batting => html! {},
    }
}

fn width(quilt: &Quilt, bought: &ToBuy) -> String {
    if let Some(Laid::OutOfSizes(_)) = bought.laid {
        return tr!("out of the sizes it comes in");
    }
    bought.of.width(quilt).map_or_else(String::new, |width| {
        let width = width.shown_with_unit(quilt.step);
        if bought.of == Material::Batting { tr!("off the roll, {width} wide", width) } else { tr!("{width} wide", width) }
    })
}

fn thread(quilt: &Quilt, plan: &Plan) -> Markup {
    let thread = &plan.cutting.thread;
    let workings: Vec<&Working> = thread.workings().collect();
    let what = html! {
        span.what { (tr!("Thread for piecing")) br; span.quiet { (tr!("needle and bobbin together")) } }
        b.amount { (words::thread(quilt, thread)) @if let Some(price) = thread.price { br; span.quiet { (shown_money(price)) } } }
    };
    fields::worked("how-buy-thread", &what, &workings)
}

fn material(base: &str, quilt: &Quilt, plan: &Plan, bought: &ToBuy) -> Markup {
    let key = bought.of.key(quilt);
    let offcuts = words::offcuts(quilt, bought);
    html! {
        h3 { (sign(bought.of)) " " (bought.of.name(quilt)) }
        ul.numbers {
            @for piece in plan.cutting.pieces.iter().filter(|piece| piece.of == bought.of) {
                li { (fields::worked(&format!("how-cut-{}", piece.name), &html! {
                    b.amount { (tr!("{cut} of", cut = piece.cut)) }
                    span.what { b { (words::cut_size(quilt, piece)) } " " (words::way(&piece.way)) @if piece.motif.is_some() { ", " (tr!("by the motif, one by one")) } " " span.quiet { "(" (piece.name) ")" }
                        br; span.quiet { (words::uses(quilt, plan, &piece.uses)) } }
                }, &workings(piece))) }
            }
        }
        @if bought.laid.is_some() {
            details.layout id={ "layout-" (key) } {
                summary { @match bought.of { Material::Cloth(_) => (tr!("How it lies on the cloth")), Material::Batting => (tr!("How it lies on the batting")) } }
                p { (words::proof(quilt, bought)) }
                p { a href={ (base) "cloth/" (key) } { (tr!("To follow at the table")) } }
                img.cloth src={ (base) "cloth/" (key) "/0.svg?" (look(quilt, plan, bought)) } alt=(tr!("The first strips of {of}", of = bought.of.name(quilt))) loading="lazy";
                @if !offcuts.is_empty() { p { b { (tr!("Left over")) } ", " (tr!("worth keeping: {offcuts}.", offcuts = offcuts.join("; "))) } }
            }
        }
    }
}

/// What the drawings of a layout are made of, in short: they are asked for again when they look otherwise.
fn look(quilt: &Quilt, plan: &Plan, bought: &ToBuy) -> String {
    let mut hasher = DefaultHasher::new();
    bought.of.cloth().map(|cloth| quilt.cloths[cloth.0].colour.hex()).hash(&mut hasher);
    for of in &bought.kinds {
        (of, &plan.cutting.pieces[of.piece].name).hash(&mut hasher);
    }
    match &bought.laid {
        Some(Laid::OffTheBolt(laid)) => (laid.job.width(), &laid.cutting.layout).hash(&mut hasher),
        Some(Laid::OutOfSizes(laid)) => (laid.job.sheets(), &laid.cutting.sheets).hash(&mut hasher),
        None => {}
    }
    format!("{:x}", hasher.finish())
}

/// The workings of a piece, once where both are the same.
pub fn workings(piece: &CutPiece) -> Vec<&Working> {
    let sizes = if piece.width == piece.length { vec![&piece.width] } else { vec![&piece.width, &piece.length] };
    sizes.into_iter().chain(&piece.joined).chain(piece.motif.iter().flat_map(|motif| motif.workings())).collect()
}

/// Pieces cut from `cloth` that are for something that `wanted` knows.
pub fn pieces_for(plan: &Plan, cloth: ClothId, wanted: impl Fn(&Use) -> bool) -> Vec<&CutPiece> {
    plan.cutting.pieces.iter().filter(|piece| piece.of == Material::Cloth(cloth) && piece.uses.iter().any(&wanted)).collect()
}
