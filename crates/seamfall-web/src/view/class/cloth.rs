//! Cloth bought together: how long, how good, where every piece lies, whose it is; and the kits.

use super::Shown;
use super::bring::key;
use maud::{Markup, html};
use seamfall_class::{Pooled, words};
use seamfall_draw::{Paint, cloth_svgs};
use seamfall_plan::Plan;
use seamfall_plan::caution::ROTARY_CUTTER;
use seamfall_plan::cut::{ToBuy, shown_length};
use tr::tr;

pub fn section(shown: &Shown) -> Markup {
    let pool = &shown.plan.pool;
    let together: Vec<(&Pooled, &ToBuy)> =
        pool.materials.iter().filter_map(|pooled| Some((pooled, &pool.cutting.bought[pooled.bought?]))).collect();
    html! {
        section aria-labelledby="together-title" {
            h2 #together-title { (tr!("Cloth together, and kits cut from it")) }
            @if together.is_empty() { p.quiet { (tr!("Each student buys her own cloth and batting.")) } }
            @else {
                (crate::view::answers::cautions(&[ROTARY_CUTTER]))
                @for (pooled, bought) in &together { (material(shown, pooled, bought)) }
                h3 { (tr!("Kits")) }
                @for student in 0..shown.class.students.len() { (kit(shown, &together, student)) }
            }
        }
    }
}

fn material(shown: &Shown, pooled: &Pooled, bought: &ToBuy) -> Markup {
    let pool = &shown.plan.pool;
    let name = pooled.of.name(&pool.quilt);
    let key = key(shown, pooled.of);
    let alone = pooled.all_alone.as_ref().map(|all| shown_length(all, pool.quilt.measure));
    html! {
        details.together id={ "together-" (key) } {
            summary { b { (name) ": " (bought.shown(&pool.quilt)) } @if let Some(alone) = &alone { span.quiet { (tr!("where all alone would buy {alone}", alone)) } } }
            p { (words::pooled(shown.plan, pooled).unwrap_or_default()) }
            @if let Some(laid) = pool.together(pooled) {
                p.working { (laid.needed.line()) } p.working { (laid.length.line()) }
            }
            @for number in 0..drawings(shown, bought) {
                img.cloth src={ (shown.base) "class/cloth/" (key) "/" (number) ".svg?" (shown.worked.worked.stored.revision.0) "-" (shown.revision) } alt=(tr!("Strips of {name}, drawing {number}", name, number = number + 1)) loading="lazy";
            }
            table {
                caption { (tr!("Whose pieces come off which strip")) }
                thead { tr { th scope="col" { (tr!("Strip")) } th scope="col" { (tr!("Label")) } } }
                tbody { @for strips in &pooled.strips { tr { th scope="row" { (words::strips(strips)) } td { (words::gives(shown.class, pool, bought, strips)) } } } }
            }
        }
    }
}

/// How many drawings show a cloth.
fn drawings(shown: &Shown, bought: &ToBuy) -> usize {
    let pool = &shown.plan.pool;
    let drawn = Plan { cutting: pool.cutting.clone(), ..shown.plan.teachers().plan.clone() };
    cloth_svgs(&pool.quilt, &drawn, bought, Paint::Cloths).len()
}

fn kit(shown: &Shown, together: &[(&Pooled, &ToBuy)], student: usize) -> Markup {
    let pool = &shown.plan.pool;
    html! {
        details.kit id={ "kit-" (student) } {
            summary { b { (shown.class.students[student].name) } " " span.quiet { (words::size(shown.plan.look(student))) } }
            @for (pooled, bought) in together {
                @let own: Vec<_> = pooled.kits.iter().filter(|piece| piece.student == student).collect();
                @if !own.is_empty() {
                    h4 { (pooled.of.name(&pool.quilt)) }
                    ul { @for piece in own { li { (words::kit_piece(pool, bought, piece)) } } }
                }
            }
        }
    }
}
