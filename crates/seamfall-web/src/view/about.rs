//! The panel about what is pointed at: what it is, its sizes with their working, and what can be done with it.

use super::fields::{self, how, json, swatch};
use super::{cut, lap, seam, setting, truing, words};
use crate::offered;
use crate::room::Worked;
use crate::seams;
use maud::{Markup, html};
use seamfall_model::{ClothId, Edit, FrameChoice, FrameId, PartId};
use seamfall_plan::Plan;
use seamfall_plan::cut::{TopPart, Use};
use seamfall_plan::set::{PieceKind, PlacedBlock, TopPiece};
use tr::tr;

/// The panel about an element of the drawing by its id, or about a seam by its name; an invitation where there is none of that id.
/// `lap:` before the id asks for its quilting, `true:` for what is sewn of its section.
pub fn region(worked: &Worked, element: &str) -> Markup {
    let top = &worked.plan.top;
    let (stage, element) = element.split_once(':').unwrap_or(("", element));
    if let Some(seam) = seams::find(&worked.plan, element) {
        return seam::about(worked, seam, element);
    }
    if let Some(strip) = top.strips.iter().find(|strip| strip.name == element) {
        return match stage {
            "lap" => lap::about_strip(worked, strip),
            "true" => truing::about(worked, strip.section),
            _ => about_strip(worked, strip),
        };
    }
    let (place, piece) = element.split_once('.').unwrap_or((element, ""));
    let found = top.places.iter().find(|each| each.name == place);
    match (found, stage) {
        (Some(place), "lap") => lap::about_place(worked, place),
        (Some(place), "true") => truing::about(worked, place.section),
        (Some(place), _) => about_place(worked, place, piece),
        (None, "lap" | "true") => html! {},
        (None, _) => invitation(),
    }
}

fn invitation() -> Markup {
    let what = if offered::may_edit() {
        tr!("Point at a patch, a frame, the sashing or a band to see what it is and to change it. With the falls shown")
    } else {
        tr!("Point at a patch, a frame, the sashing or a band to see what it is. With the falls shown")
    };
    html! { p.quiet { (what) " (" kbd { "f" } "), " (tr!("point at a seam. With the keyboard: move to the drawing, then use the arrows;")) " " kbd { "?" } " " (tr!("lists all keys.")) } }
}

fn about_place(worked: &Worked, place: &PlacedBlock, piece: &str) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let (block, draft) = (&quilt.blocks[place.block.0], &plan.drafts[place.block.0]);
    let here = &quilt.setting.places[place.row][place.number];
    let (row, number) = (place.row, place.number);
    let part_of = |id: &str| -> Option<(String, PartId, usize)> {
        let at = id.get(1..)?.parse::<usize>().ok()?.checked_sub(1)?;
        match id.get(..1)? {
            "p" => draft.patches.get(at).and_then(|patch| Some((tr!("Patch {at}", at = at + 1), patch.part?, patch.template))),
            "o" => draft.overlays.get(at).map(|shape| (tr!("Shape {at} laid over", at = at + 1), shape.part, shape.template)),
            _ => None,
        }
    };
    let turn = |times| json(&Edit::Turn { row, number, times });
    let puts: Vec<_> = quilt
        .blocks
        .iter()
        .enumerate()
        .map(|(i, each)| (each.name.clone(), json(&Edit::Put { row, number, block: each.key.clone() }), i == place.block.0))
        .collect();
    let exchange = r#"{"do":"exchange","row":ROW,"number":NUMBER,"with_row":"$row","with_number":"$number"}"#
        .replace("ROW", &row.to_string())
        .replace("NUMBER", &number.to_string());
    html! {
        h2 { (place.name) " " span.quiet { (block.name) (turned(here.turns, here.mirrored)) } }
        @if let Some((title, part, template)) = part_of(piece) {
            (about_patch(worked, place, &title, part, template))
        }
        div.actions {
            (fields::button("turn-left", &tr!("Turn left"), &turn(1), Some("l")))
            (fields::button("turn-right", &tr!("Turn right"), &turn(3), Some("r")))
            (fields::button("mirror", &tr!("Mirror"), &json(&Edit::Mirror { row, number }), Some("m")))
            button #exchange type="button" data-exchange=(exchange) data-key="x" aria-keyshortcuts="x" { (tr!("Exchange with …")) " " kbd { "x" } }
            @if let Some(seam) = first_seam(worked, place) {
                button #seams-of-place type="button" data-go=(seam) data-key="s" aria-keyshortcuts="s" { (tr!("Its seams")) " " kbd { "s" } }
            }
        }
        div.fields {
            (fields::choice("put", &tr!("Block here"), &puts))
            (fields::choice("place-frame", &tr!("Frame here"), &frames(worked, row, number, here.frame)))
        }
        p.quiet { (tr!("{size} finished", size = words::size(quilt, draft.size.x, draft.size.y)))
            @if let Some(section) = plan.top.sections.get(place.section) {
                ", " (tr!("in lap section {section} ({size})", section = section.name, size = words::size(quilt, section.size.x, section.size.y)))
            } "." }
        @if let Some(section) = plan.top.sections.get(place.section) {
            (how("how-section", &section.workings.iter().collect::<Vec<_>>()))
        }
        @if draft.patches.len() + draft.overlays.len() > 1 {
            details #patches-of-place {
                summary { (tr!("All patches of this block")) }
                div.patches {
                    @for (i, patch) in draft.patches.iter().enumerate() {
                        (go(&format!("{}.p{}", place.name, i + 1), patch.part, place, &(i + 1).to_string()))
                    }
                    @for (i, shape) in draft.overlays.iter().enumerate() {
                        (go(&format!("{}.o{}", place.name, i + 1), Some(shape.part), place, &tr!("over {i}", i = i + 1)))
                    }
                }
            }
        }
    }
}

/// The name of the seam of a place that is sewn first.
fn first_seam(worked: &Worked, place: &PlacedBlock) -> Option<String> {
    let number = worked.plan.top.places.iter().position(|each| each.name == place.name)?;
    seams::round(&worked.plan, number).into_iter().next()
}

fn go(id: &str, part: Option<PartId>, place: &PlacedBlock, label: &str) -> Markup {
    html! { button type="button" data-go=(id) {
        @if let Some(part) = part { (swatch(place.cloths[part.0])) } (label)
    } }
}

fn about_patch(worked: &Worked, place: &PlacedBlock, title: &str, part: PartId, template: usize) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    let block = &quilt.blocks[place.block.0];
    let cloth = place.cloths[part.0];
    let usual = quilt.cloths[block.parts[part.0].cloth.0].key.clone();
    let template_here = plan.drafts[place.block.0].templates.get(template);
    let wanted = |each: &Use| matches!(each, Use::Template { block, template: t, .. } if *block == place.block && *t == template);
    html! {
        section.card.here {
            h3 { (tr!("{title}, part {part}:", title, part = block.parts[part.0].name)) " " (swatch(cloth)) " " (quilt.cloths[cloth.0].name) }
            @if let Some(template) = template_here {
                p { (tr!("Template")) " " b { (template.letter) } ", " (words::kind(quilt, template.kind)) "." }
            }
            @for piece in cut::pieces_for(plan, cloth, wanted) {
                p { (tr!("Cut size")) " " b { (words::cut_size(quilt, piece)) " " (quilt.measure.sign()) }
                    @if !words::way(&piece.way).is_empty() { ", " (words::way(&piece.way)) } "." }
                (how(&format!("how-here-{}", piece.name), &cut::workings(piece)))
            }
            fieldset.palette {
                legend { (tr!("Cloth of this part")) }
                label.switch data-for="edit" { input #everywhere type="checkbox" data-keep; " " (tr!("in every {block}, not only here", block = block.name)) }
                div.swatches {
                    @for (i, each) in quilt.cloths.iter().enumerate() {
                        @let here = Edit::Swap { row: place.row, number: place.number, from: usual.clone(), to: each.key.clone() };
                        @let all = Edit::Paint { block: block.key.clone(), part: block.parts[part.0].name.clone(), cloth: each.key.clone() };
                        button id={ "paint-" (each.key) } type="button" data-edit=(json(&here)) data-everywhere=(json(&all))
                            aria-pressed=(if cloth == ClothId(i) { "true" } else { "false" }) { (swatch(ClothId(i))) span { (each.name) } }
                    }
                }
            }
        }
    }
}

fn about_strip(worked: &Worked, strip: &TopPiece) -> Markup {
    let (quilt, plan) = (&worked.quilt, &worked.plan);
    // A strip in a setting on point lies askew: sizes are those of its own edges, the longest and the shortest.
    let lengths: Vec<f64> = strip.outline.edges().iter().map(|edge| edge.length()).collect();
    let (short, long) = lengths.iter().fold((f64::INFINITY, 0.0_f64), |(short, long), &each| (short.min(each), long.max(each)));
    let place = match strip.kind {
        PieceKind::Frame { place, .. } | PieceKind::FrameSquare { place, .. } => plan.top.places.get(place),
        _ => None,
    };
    let part_here = match strip.kind {
        PieceKind::Band { band, .. } | PieceKind::BandSquare { band } => TopPart::Band(band),
        PieceKind::Frame { .. } | PieceKind::FrameSquare { .. } => TopPart::Frame,
        PieceKind::Sash => TopPart::Sash,
        PieceKind::Cornerstone => TopPart::Cornerstone,
        PieceKind::SideTriangle => TopPart::SideTriangle,
        PieceKind::CornerTriangle => TopPart::CornerTriangle,
        PieceKind::Filler => TopPart::Filler,
    };
    let wanted = |each: &Use| matches!(each, Use::Top { part, .. } if *part == part_here);
    let pieces = cut::pieces_for(plan, strip.cloth, wanted);
    html! {
        h2 { (words::capital(&words::piece_kind(strip.kind))) @if let Some(place) = place { " " (tr!("of {place}", place = place.name)) } }
        p { (swatch(strip.cloth)) " " (quilt.cloths[strip.cloth.0].name) ". " (tr!("Finished edges")) " " b { (tr!("{shortest} to {longest} {sign}", shortest = words::length(quilt, short), longest = words::length(quilt, long), sign = quilt.measure.sign())) }
            @if let Some(section) = plan.top.sections.get(strip.section) { ", " (tr!("in lap section {section}", section = section.name)) } "." }
        @if !pieces.is_empty() {
            details #cut-here {
                summary { (tr!("What is cut for it")) }
                @for piece in pieces {
                    p { (piece.cut) " × " b { (words::cut_size(quilt, piece)) } " " (tr!("{way} for {uses}", way = words::way(&piece.way), uses = words::uses(quilt, plan, &piece.uses))) }
                    (how(&format!("how-here-{}", piece.name), &cut::workings(piece)))
                }
            }
        }
        @match strip.kind {
            PieceKind::Band { band, .. } | PieceKind::BandSquare { band } => { (setting::band(quilt, band, "here-")) }
            PieceKind::Sash | PieceKind::Cornerstone => { (setting::sashing(quilt, "here-")) }
            PieceKind::Frame { .. } | PieceKind::FrameSquare { .. } => {
                @if let Some(place) = place {
                    @let here = &quilt.setting.places[place.row][place.number];
                    div.fields { (fields::choice("place-frame", &tr!("Frame here"), &frames(worked, place.row, place.number, here.frame))) }
                    @if let FrameChoice::Framed(FrameId(frame)) = here.frame {
                        h3 { (tr!("Frame {key}, wherever it is used", key = quilt.frames[frame].key)) }
                        (setting::frame(quilt, frame, "here-"))
                    }
                }
            }
            PieceKind::SideTriangle | PieceKind::CornerTriangle => {
                (fields::cloth("here-triangles", &tr!("Cloth of the triangles"), quilt, Some(strip.cloth), |key| fields::set_to(&["setting", "triangles"], key)))
            }
            PieceKind::Filler => {
                (fields::cloth("here-filler", &tr!("Cloth of the fillers"), quilt, Some(strip.cloth), |key| fields::set_to(&["setting", "filler"], key)))
            }
        }
    }
}

/// Frames a place can have. What is chosen is what is sewn there, wherever it was decided.
fn frames(worked: &Worked, row: usize, number: usize, here: FrameChoice) -> Vec<(String, String, bool)> {
    let edit = |frame: Option<&str>| json(&Edit::Frame { row, number, frame: frame.map(str::to_owned) });
    let mut options = vec![(tr!("none"), edit(Some("none")), here == FrameChoice::Bare)];
    options.extend(
        worked
            .quilt
            .frames
            .iter()
            .enumerate()
            .map(|(i, frame)| (frame.key.clone(), edit(Some(&frame.key)), here == FrameChoice::Framed(FrameId(i)))),
    );
    options.push((tr!("as its block or the setting has it"), edit(None), false));
    options
}

fn turned(turns: u8, mirrored: bool) -> String {
    let turn = match turns % 4 {
        1 => Some(tr!("turned a quarter to the left")),
        2 => Some(tr!("turned half round")),
        3 => Some(tr!("turned a quarter to the right")),
        _ => None,
    };
    mirrored.then(|| tr!("mirrored")).into_iter().chain(turn).map(|how| format!(", {how}")).collect()
}

/// What a section is pointed at by.
pub fn element(plan: &Plan, number: usize) -> Option<&String> {
    let section = &plan.top.sections[number];
    let place = section.places.first().map(|&place| &plan.top.places[place].name);
    place.or_else(|| section.strips.first().map(|&strip| &plan.top.strips[strip].name))
}
