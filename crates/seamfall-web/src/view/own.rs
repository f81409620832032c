//! The maker's own blocks, as the draft stage offers them.

use maud::{Markup, html};
use seamfall_model::read_own_block;
use seamfall_store::OwnBlock;
use tr::tr;

/// The card that the script fills once it is unfolded; `base` is `/q/1/`.
pub fn card(base: &str) -> Markup {
    html! {
        details.card #own-blocks data-own={ (base) "own" } {
            summary { b { (tr!("Your own blocks")) } }
            div #own-list { p.quiet { (tr!("One moment …")) } }
        }
    }
}

/// Each with what can be done with it, and the way for one to come in.
pub fn list(base: &str, blocks: &[OwnBlock]) -> Markup {
    html! {
        @if blocks.is_empty() { p.quiet { (tr!("There are none yet. Draw a block, and keep it among your own: it is offered here in every quilt.")) } }
        ul.own { @for own in blocks {
            @let name = read_own_block(&own.text).map_or_else(|_| tr!("a block that cannot be read"), |(block, _)| block.name);
            li {
                img src={ "/own/" (own.id) ".svg" } alt="" loading="lazy" width="72" height="72";
                div {
                    p { b { (name) } }
                    div.actions {
                        button id={ "own-" (own.id) "-take" } type="button" data-take={ "own/" (own.id) "/take" } aria-label=(tr!("Add {name} to this quilt", name)) { (tr!("Add to this quilt")) }
                        a.button href={ (base) "draw?from=own:" (own.id) } aria-label=(tr!("Draw on from {name}", name)) { (tr!("Draw on")) }
                        a.button href={ "/own/" (own.id) ".toml" } download aria-label=(tr!("Save {name} as a file", name)) { (tr!("Save as file")) }
                        button type="button" data-own-remove={ "/own/" (own.id) "/remove" } data-name=(name) aria-label=(tr!("Take {name} away from your own blocks", name)) { (tr!("Take away")) }
                    }
                    label.field for={ "own-" (own.id) "-name" } { span { (tr!("Name")) } input id={ "own-" (own.id) "-name" } type="text" value=(name) autocomplete="off" data-own-name={ "/own/" (own.id) "/name" }; }
                }
            }
        } }
        label.field for="own-file" { span { (tr!("Bring in a block file, one that ends in .block.toml")) } input #own-file type="file" accept=".toml" data-own-file="/own"; }
        p #own-said role="status" aria-live="polite" {}
    }
}
