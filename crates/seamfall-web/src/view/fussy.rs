//! Motifs chosen for the parts of a block: pointed at on the photograph, seen through the template, counted on the cloth.

use super::fields;
use crate::photos::Photos;
use maud::{Markup, html};
use seamfall_model::{BlockId, ClothId, Edit, Fussy, FussyOf, Look, PartId, Photo, Quilt, Scalar, Working, decimal};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutPiece, Use};
use tr::tr;

/// A motif for every part of a block that is cut from a photographed cloth. What is linked lies below `base`.
pub fn section(base: &str, quilt: &Quilt, plan: &Plan, block: BlockId, photos: &Photos) -> Markup {
    let parts = quilt.blocks[block.0].parts.iter().enumerate();
    html! {
        @for (number, part) in parts {
            @if let Some(Look::Photo(photo)) = &quilt.cloths[part.cloth.0].look {
                (one(&Chosen { base, quilt, plan, block, part: PartId(number), cloth: part.cloth, photo }, photos))
            }
        }
    }
}

/// A part and the photograph of its cloth.
struct Chosen<'a> {
    base: &'a str,
    quilt: &'a Quilt,
    plan: &'a Plan,
    block: BlockId,
    part: PartId,
    cloth: ClothId,
    photo: &'a Photo,
}

fn one(chosen: &Chosen<'_>, photos: &Photos) -> Markup {
    let Chosen { quilt, block, part, cloth, photo, .. } = *chosen;
    let (key, name) = (&quilt.blocks[block.0].key, &quilt.blocks[block.0].parts[part.0].name);
    let of = format!("{key}.{name}");
    let id = |what: &str| format!("motif-{key}-{}-{what}", part.0);
    let here = quilt.fussy.iter().position(|fussy| (fussy.block, fussy.of, fussy.cloth) == (block, FussyOf::Part(part), cloth));
    let [left, top, right, bottom] = photo.crop;
    let middle = [left + (100.0 - left - right) / 2.0, top + (100.0 - top - bottom) / 2.0];
    let turn = here.map_or(0.0, |here| quilt.fussy[here].turn_deg);
    let edit = |at| fields::json(&Edit::Fussy { of: of.clone(), cloth: quilt.cloths[cloth.0].key.clone(), at, turn });
    html! {
        h3 { (tr!("Motif for {name}, {cloth}", name, cloth = quilt.cloths[cloth.0].name)) }
        @if let Some(picture) = photos.pictures.get(&photo.file) {
            (pointed(&picture.colours, photo, here.map(|here| &quilt.fussy[here]), &edit(Some([-1.0, -1.0]))))
        }
        @match here {
            None => p { (fields::button(&id("choose"), &tr!("Choose the middle of the photograph"), &edit(Some(middle)), None)) " " (tr!("or point at a motif.")) },
            Some(number) => {
                div.fields {
                    (share(&id("across"), &tr!("Across, % from the left"), quilt.fussy[number].at[0], &["fussy", &number.to_string(), "at", "0"]))
                    (share(&id("down"), &tr!("Down, % from the top"), quilt.fussy[number].at[1], &["fussy", &number.to_string(), "at", "1"]))
                    (share(&id("turn"), &tr!("Turned to the left, degrees"), turn, &["fussy", &number.to_string(), "turn"]))
                    (fields::button(&id("none"), &tr!("Cut it as usual"), &edit(None), None))
                }
                (seen(chosen, number, key))
            }
        }
    }
}

/// The photograph to point at; the edit's place, which is below nothing, is filled in by the script.
fn pointed(address: &str, photo: &Photo, motif: Option<&Fussy>, edit: &str) -> Markup {
    let high = 100.0 * f64::from(photo.pixels[1]) / f64::from(photo.pixels[0]);
    let [left, top, right, bottom] = photo.crop;
    let (x, y, width, height) = (left, high * top / 100.0, 100.0 - left - right, high * (100.0 - top - bottom) / 100.0);
    let cross = motif.map(|motif| format!("M{} {}m-5 0h10m-5-5v10", motif.at[0], motif.at[1] * high / 100.0));
    html! {
        svg.motif-picture viewBox={ "0 0 100 " (decimal(high, 3)) } role="img" aria-label=(tr!("The photograph: point at the motif; its place can be typed below")) data-motif=(edit) {
            image href=(address) width="100" height=(decimal(high, 3)) preserveAspectRatio="none" {}
            rect x=(x) y=(y) width=(width) height=(height) {}
            @if let Some(cross) = cross { path.under d=(cross) {} path d=(cross) {} }
        }
    }
}

fn share(id: &str, label: &str, value: f64, path: &[&str]) -> Markup {
    let path = path.iter().map(|&word| word.to_owned()).collect();
    let edit = fields::json(&Edit::Set { path, value: Scalar::Text("$".to_owned()) });
    html! {
        label.field for=(id) { span { (label) } input id=(id) type="number" step="any" required value=(decimal(value, 2)) autocomplete="off" data-edit=(edit); }
    }
}

/// The templates as windows, and the cloth that the motif takes.
fn seen(chosen: &Chosen<'_>, motif: usize, key: &str) -> Markup {
    let pieces = chosen.plan.cutting.pieces.iter().filter(|piece| piece.motif.as_ref().is_some_and(|cut| cut.motif == motif));
    let pieces: Vec<&CutPiece> = pieces.collect();
    let mut templates: Vec<usize> = pieces.iter().flat_map(|piece| &piece.uses).filter_map(template_of(chosen.block)).collect();
    templates.sort_unstable();
    templates.dedup();
    let fussy = &chosen.quilt.fussy[motif];
    // Asked for again when it looks otherwise.
    let mark = format!("{}-{}-{}-{}", fussy.at[0], fussy.at[1], fussy.turn_deg, chosen.photo.width.value());
    html! {
        div.windows { @for &template in &templates {
            @let letter = &chosen.plan.drafts[chosen.block.0].templates[template].letter;
            img src={ (chosen.base) "templates/" (key) "/" (letter) ".svg?" (mark) } alt=(tr!("Template {letter} as a window on the motif", letter)) loading="lazy";
        } }
        @if pieces.is_empty() { p.quiet { (tr!("No patch is cut from it: the block stands at no place.")) } }
        @for piece in pieces { (counted(chosen.quilt, piece)) }
    }
}

fn template_of(block: BlockId) -> impl Fn(&Use) -> Option<usize> {
    move |of| if let Use::Template { block: other, template, .. } = of { (*other == block).then_some(*template) } else { None }
}

fn counted(quilt: &Quilt, piece: &CutPiece) -> Markup {
    let Some(cut) = &piece.motif else { return html! {} };
    let show = |working: &Working| working.length().shown_with_unit(quilt.step);
    let across = cut.across.as_ref().map_or_else(|| tr!("not one for sure"), |across| decimal(across.value, 0));
    let line = html! { span.what {
        b { (piece.cut) } " " (tr!("by the motif, one by one: {across} side by side, {rows},", across, rows = tr!("1 row" | "{n} rows" % cut.rows.count()))) " " b { (show(&cut.length)) } " " (tr!("of cloth; no less than {least}", least = show(&cut.least)))
    } };
    fields::worked(&format!("motif-cut-{}", piece.name), &line, &cut.workings().collect::<Vec<_>>())
}
