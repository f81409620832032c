//! The page on which a quilt is begun: a bed, a block, some cloths, and there it is.

use super::{page, words};
use maud::{Markup, html};
use seamfall_model::BEDS;
use seamfall_plan::begin::{PALETTES, blocks};
use tr::tr;

/// The bed and the block that are chosen at first.
const USUAL: (&str, &str) = ("us queen", "churn-dash");

/// The page.
pub fn page() -> Markup {
    let body = html! {
        body.plain.begin {
            main {
                p.back { a href="/quilts" { (tr!("All quilts")) } }
                h1 { (tr!("Begin a quilt")) }
                div #message role="alert" hidden {}
                form data-send="/begin" {
                    div.fields {
                        label.field for="begin-bed" { span { (tr!("For which bed")) }
                            select #begin-bed name="bed" {
                                @for bed in BEDS { option value=(bed.key) selected[bed.key == USUAL.0] { (words::bed_name(bed)) } }
                                option value="" { (tr!("no bed: four by five blocks")) }
                            }
                        }
                        label.field for="begin-measure" { span { (tr!("In")) }
                            select #begin-measure name="measure" { option value="inch" { (tr!("inches")) } option value="cm" { (tr!("centimetres")) } }
                        }
                        label.field.whole for="begin-name" { span { (tr!("Its name")) } input #begin-name name="name" autocomplete="off" maxlength="80" placeholder=(tr!("New quilt")); }
                    }
                    fieldset.choices {
                        legend { (tr!("From which cloths, to be changed at any time")) }
                        div.palettes { @for palette in &PALETTES {
                            label {
                                input type="radio" name="palette" value=(palette.name) checked[palette.name == PALETTES[0].name];
                                svg viewBox="0 0 40 10" aria-hidden="true" { @for (at, (_, colour, _)) in palette.cloths.iter().enumerate() { rect x=(at * 10) width="10" height="10" fill=(colour) {} } }
                                span { (seamfall_model::spoken(palette.name)) }
                            }
                        } }
                    }
                    p.go { button #begin-make type="submit" { (tr!("Make the quilt")) } }
                    fieldset.choices {
                        legend { (tr!("From which block")) }
                        div.starters { @for block in blocks() {
                            label {
                                input type="radio" name="block" value=(block.key) checked[block.key == USUAL.1];
                                img src={ "/starter/" (block.key) ".svg" } alt="" loading="lazy" width="72" height="72";
                                span { (block.name) }
                            }
                        } }
                    }
                }
            }
        }
    };
    page::plain(&tr!("Begin a quilt - Seamfall"), &body)
}
