//! The blocks: their drawings, patches and templates, the maker's own, and the starter set.

use super::fields::{self, set};
use super::{fussy, words};
use crate::photos::Photos;
use maud::{Markup, PreEscaped, html};
use seamfall_draw::{BlockStyle, Colours, PatchLabels, block_svg_with};
use seamfall_model::{BlockId, Edit, FrameChoice, FrameId, Quilt, starter_blocks};
use seamfall_plan::Plan;
use tr::tr;

const STYLE: BlockStyle = BlockStyle {
    paint: seamfall_draw::Paint::Cloths,
    colours: Colours::Classes,
    labels: PatchLabels::Letters,
    grain: false,
    ids: false,
};

/// The blocks of the quilt and those that can be added. What is linked lies below `base`.
pub fn region(base: &str, quilt: &Quilt, plan: &Plan, photos: &Photos) -> Markup {
    html! {
        p.actions { a.button href={ (base) "draw" } { (tr!("Draw a block")) } }
        @for (i, block) in quilt.blocks.iter().enumerate() {
            @let draft = &plan.drafts[i];
            @let key = block.key.as_str();
            @let id = |what: &str| format!("block-{key}-{what}");
            @let places = plan.top.places.iter().filter(|place| place.block == BlockId(i)).count();
            details.card.block #(id("card")) {
                summary {
                    span.thumb { (PreEscaped(block_svg_with(quilt, draft, BlockId(i), &STYLE, &photos.pictures))) }
                    span { b { (block.name) } br; span.quiet { (words::size(quilt, draft.size.x, draft.size.y)) ", " (tr!("1 place" | "{n} places" % places)) } }
                }
                div.fields {
                    (fields::text(&id("name"), &tr!("Name"), &block.name, &set(&["block", key, "name"])))
                    (fields::text(&id("size"), &tr!("Finished size"), &words::typed_size(quilt, block.shape), &set(&["block", key, "size"])))
                    @for (n, part) in block.parts.iter().enumerate() {
                        (fields::cloth(&id(&format!("part{n}")), &tr!("Cloth of {part}", part = part.name), quilt, Some(part.cloth), |cloth| {
                            fields::json(&Edit::Paint { block: key.to_owned(), part: part.name.clone(), cloth: cloth.to_owned() })
                        }))
                    }
                    (fields::choice(&id("frame"), &tr!("Frame"), &frames(quilt, key, block.frame)))
                }
                h3 { (tr!("Templates")) }
                table {
                    thead { tr { th { (tr!("Letter")) } th { (tr!("Shape, finished")) } th.number { (tr!("In a block")) } th { (tr!("Full size")) } } }
                    tbody {
                        @for template in &draft.templates {
                            tr {
                                td { b { (template.letter) } }
                                td { (words::kind(quilt, template.kind)) }
                                td.number { (template.count) }
                                td { a href={ (base) "templates/" (key) "/" (template.letter) ".svg" } { (tr!("SVG")) } }
                            }
                        }
                    }
                }
                p { a href={ (base) "draw/" (key) } { (tr!("Draw on")) } }
                p { a href={ (base) "templates/" (key) ".dxf" } download={ (key) ".dxf" } { (tr!("All templates as DXF")) } }
                (fussy::section(base, quilt, plan, BlockId(i), photos))
                @if places == 0 { (fields::button(&id("remove"), &tr!("Take this block away"), &fields::remove(&["block", key]), None)) }
            }
        }
        (super::own::card(base))
        details.card #starter-set {
            summary { b { (tr!("Add a block of the starter set")) } }
            ul.starters {
                @for block in starter_blocks() {
                    @let add = Edit::AddStarter { starter: block.key.clone(), key: String::new() };
                    li { button id={ "starter-" (block.key) } type="button" data-edit=(fields::json(&add)) {
                        img src={ "/starter/" (block.key) ".svg" } alt="" loading="lazy" width="72" height="72"; span { (block.name) }
                    } }
                }
            }
        }
    }
}

/// The frames a block can have, with the edit for each.
fn frames(quilt: &Quilt, block: &str, own: Option<FrameChoice>) -> Vec<(String, String, bool)> {
    let path = ["block", block, "frame"];
    let mut options = vec![(tr!("as the setting has it"), fields::remove(&path), own.is_none())];
    options.push((tr!("none"), fields::set_to(&path, "none"), own == Some(FrameChoice::Bare)));
    options.extend(
        quilt.frames.iter().enumerate().map(|(i, frame)| {
            (frame.key.clone(), fields::set_to(&path, &frame.key), own == Some(FrameChoice::Framed(FrameId(i))))
        }),
    );
    options
}
