//! The quilt on its bed: a picture that turns, and in words how it hangs.

use super::{page, words};
use crate::drape::scene;
use maud::{Markup, html};
use seamfall_drape::{Corner, Drape};
use seamfall_model::{Measure, Quilt};
use seamfall_plan::Plan;
use seamfall_store::Revision;
use std::hash::{DefaultHasher, Hash, Hasher};
use tr::tr;

/// The picture, its buttons and what is said below it. The script fills it once it is seen; `base` is `/q/1/`.
pub fn panel(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let Some(scene) = scene(quilt, plan) else {
        return html! { section #drape aria-label=(tr!("On the bed")) { p.quiet { (tr!("With a bed the quilt is laid over it here, and can be turned.")) } } };
    };
    // Another scene is another cloth to drape; the colours alone are not.
    let mut hasher = DefaultHasher::new();
    format!("{scene:?}").hash(&mut hasher);
    html! {
        section #drape aria-labelledby="drape-title" data-drape={ (base) "drape" } data-picture={ (base) "quilt.svg" } data-scene=(hasher.finish()) {
            h3 #drape-title { (tr!("On the bed")) }
            canvas #drape-picture width="800" height="600" tabindex="0" role="img" aria-label=(tr!("The quilt on its bed")) aria-describedby="drape-told" {
                (tr!("The quilt on its bed. How it hangs is said below."))
            }
            div.actions {
                button #drape-left type="button" data-turn="1 0" { (tr!("Turn left")) }
                button #drape-right type="button" data-turn="-1 0" { (tr!("Turn right")) }
                button #drape-up type="button" data-turn="0 1" { (tr!("From higher")) }
                button #drape-down type="button" data-turn="0 -1" { (tr!("From lower")) }
                button #drape-stop type="button" hidden { (tr!("Stop")) }
                button #drape-again type="button" hidden { (tr!("Drape it again")) }
            }
            p.quiet #drape-share {}
            p #drape-told role="status" aria-live="polite" {}
            div #drape-result {}
            p.quiet { (tr!("Drag the picture, or turn it with the arrow keys. The quilt is as large as it can be, with the least that quilting and the wash take off. Its cloth is followed point by point, as a quilt of two cottons and a thin batting that is quilted all over; edges of the mattress are rounded by {rounding}. Folds may pass through each other.", rounding = rounding(quilt))) }
        }
    }
}

fn rounding(quilt: &Quilt) -> &'static str {
    if quilt.measure == Measure::Inch { "1 in" } else { "2.5 cm" }
}

/// The panel as a page of its own.
pub fn page(base: &str, revision: Revision, quilt: &Quilt, plan: &Plan) -> Markup {
    let body = html! {
        body.plain.on-the-bed data-base=(base) data-revision=(revision.0) {
            main {
                p.back { a href=(base.trim_end_matches('/')) { (tr!("Back to {name}", name = quilt.name)) } }
                h1 { (tr!("{name}, on its bed", name = quilt.name)) }
                div #message role="alert" hidden {}
                (panel(base, quilt, plan))
            }
        }
    };
    page::plain(&tr!("{name}, on its bed - Seamfall", name = quilt.name), &body)
}

/// How the cloth hangs, once it has settled.
pub fn result(quilt: &Quilt, drape: &Drape) -> Markup {
    let shown = |value: f64| rounded(quilt, value);
    let corners = drape.corners();
    let floor = drape.hem_on_floor();
    html! {
        @if corners.is_empty() { p { (tr!("No cloth hangs from a corner of the mattress. The hem's lowest point is")) " " b { (shown(drape.lowest())) } " " (tr!("above the floor.")) } }
        @else {
            table {
                thead { tr { th scope="col" { (tr!("Corner")) } th.amount scope="col" { (tr!("Above the floor")) } th.amount scope="col" { (tr!("By geometry")) } th scope="col" { (tr!("Difference")) } } }
                tbody { @for corner in &corners { tr {
                    th scope="row" { (corner_name(corner)) }
                    td.amount { (shown(corner.height)) } td.amount { (shown(corner.straight)) } td { (difference(quilt, corner)) }
                } } }
            }
            p.quiet { (tr!("By geometry a corner reaches as far down as its farthest point is from the corner of the mattress. Round a rounded edge it reaches farther; where it stands out in a fold, less far; and cloth gives a little on the bias.")) }
        }
        p { @if floor > 0.0 { b { (shown(floor)) } " " (tr!("of the hem lies on the floor.")) " " } @else { (tr!("The hem touches the floor nowhere.")) " " }
            (tr!("The most stretched thread is {part} % longer.", part = format!("{:.1}", 100.0 * drape.stretch())))
            @if !drape.settled() { " " (tr!("It was still moving a little when it was left.")) } }
    }
}

fn corner_name(corner: &Corner) -> String {
    match (corner.mattress[0] < 0.0, corner.mattress[1] < 0.0) {
        (true, true) => tr!("Foot, left"),
        (false, true) => tr!("Foot, right"),
        (true, false) => tr!("Head, left"),
        (false, false) => tr!("Head, right"),
    }
}

fn difference(quilt: &Quilt, corner: &Corner) -> String {
    // Of the heights as they are told, so that the line adds up.
    let told = |value: f64| (value / quilt.step.size()).round() * quilt.step.size();
    let off = told(corner.height) - told(corner.straight);
    let far = rounded(quilt, off.abs());
    match off {
        off if off.abs() < quilt.step.size() / 2.0 => tr!("none"),
        off if off < 0.0 => tr!("{far} lower", far),
        _ => tr!("{far} higher", far),
    }
}

/// A length to the quilt's step, with its unit: a drape is no more exact.
fn rounded(quilt: &Quilt, value: f64) -> String {
    let step = quilt.step.size();
    let unit = if quilt.measure == Measure::Inch { "in" } else { "cm" };
    format!("{} {unit}", words::length(quilt, (value / step).round() * step))
}
