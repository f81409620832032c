//! What is sewn: units in the order of making, each with how many the quilt takes and its picture.

use super::fields::swatch;
use maud::{Markup, html};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::piece::{Unit, UnitPart};
use std::hash::{DefaultHasher, Hash, Hasher};
use tr::tr;

/// So many units are pictured; a quilt of many hundred is worked block by block.
const PICTURED: usize = 200;

/// The units of the quilt. Their pictures lie below `base`.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan) -> Markup {
    let units = &plan.units.all;
    html! {
        h2 { (tr!("What to sew, in the order of making")) }
        p { (tr!("{units}. Units that are alike are sewn in one batch, one after another.", units = tr!("1 unit" | "{n} units" % units.len()))) }
        (bends(quilt, plan))
        (super::ways::list(quilt, plan))
        ol.units {
            @for unit in units.iter().take(PICTURED) { (line(base, quilt, plan, unit)) }
        }
        @if units.len() > PICTURED { p.quiet { (tr!("And {more} more, which the book shows block by block.", more = units.len() - PICTURED)) } }
    }
}

/// Where seams bend, by block; that none does is said too. Inner corners of mitred frames are set in whatever the block is.
fn bends(quilt: &Quilt, plan: &Plan) -> Markup {
    let mut mitred = false;
    let designs = plan.piecing.designs.iter().enumerate().filter_map(|(number, design)| {
        let sewing = plan.falls.sewing(&plan.piecing, number);
        let [partial, set_in] = design.bends(sewing);
        mitred |= sewing.bends > partial + set_in;
        (partial + set_in > 0).then_some((design, partial, set_in, sewing.bends == sewing.bends_bound))
    });
    let designs: Vec<_> = designs.collect();
    html! {
        @if designs.is_empty() { p { (tr!("In every block seams run straight through, or along one arc.")) } } @else {
            ul.plain #bends { @for (design, partial, set_in, proven) in designs { li {
                b { (quilt.blocks[design.block.0].name) @if design.mirrored { ", " (tr!("mirrored")) } } ": "
                @if partial > 0 { (tr!("1 seam sewn in part first" | "{n} seams sewn in part first" % partial)) }
                @if partial > 0 && set_in > 0 { " " (tr!("and")) " " }
                @if set_in > 0 { (tr!("1 corner set in" | "{n} corners set in" % set_in)) }
                @if proven { "; " (tr!("no order has fewer.")) } @else { "; " (tr!("the fewest found.")) }
            } } }
        }
        @if mitred { p.quiet { (tr!("The four inner corners of a mitred frame are set in.")) } }
    }
}

fn line(base: &str, quilt: &Quilt, plan: &Plan, unit: &Unit) -> Markup {
    let blocks = unit.blocks.iter().map(|block| quilt.blocks[block.0].name.as_str()).collect::<Vec<_>>().join(", ");
    html! {
        li id={ "unit-" (unit.name) } {
            img.thumb src={ (base) "units/" (unit.name) ".svg?" (look(quilt, unit)) } alt="" loading="lazy" width="64" height="64";
            span.what {
                b { (unit.name) } @if unit.is_whole { ", " (tr!("whole block")) } " " span.quiet { (tr!("for {blocks}", blocks)) } br;
                (part(quilt, plan, unit, 0)) " " (tr!("and")) " " (part(quilt, plan, unit, 1))
                @if unit.bends > 0 { br; span.quiet { (tr!("{bends} in this seam", bends = tr!("1 bend" | "{n} bends" % unit.bends))) } }
            }
            b.amount { (unit.count) " ×" }
        }
    }
}

/// What the picture of a unit is made of, in short: pictures are asked for when they come into view, and again when they look otherwise.
fn look(quilt: &Quilt, unit: &Unit) -> String {
    let mut hasher = DefaultHasher::new();
    for piece in &unit.pieces {
        (piece.cloth, piece.cloth.map(|cloth| quilt.cloths[cloth.0].colour.hex())).hash(&mut hasher);
        for corner in piece.outline.corners() {
            [corner.x, corner.y].map(|value| (value * 1e4).round() as i64).hash(&mut hasher);
        }
    }
    format!("{:x}", hasher.finish())
}

/// A part of a unit: another unit, or a piece by its template and cloth.
fn part(quilt: &Quilt, plan: &Plan, unit: &Unit, part: usize) -> Markup {
    match unit.parts[part] {
        UnitPart::Unit(number) => html! { (plan.units.all[number].name) },
        UnitPart::Piece(piece) => {
            let piece = &unit.pieces[piece];
            let draft = unit.blocks.first().and_then(|block| plan.drafts.get(block.0));
            let template = draft.and_then(|draft| draft.templates.get(draft.patches.get(piece.piece)?.template));
            html! { span.nowrap {
                @if let Some(cloth) = piece.cloth { (swatch(cloth)) " " }
                @match template { Some(template) => (template.letter), None => (tr!("strip")) }
                @if let Some(cloth) = piece.cloth { " " (tr!("in {cloth}", cloth = quilt.cloths[cloth.0].name)) }
            } }
        }
    }
}
