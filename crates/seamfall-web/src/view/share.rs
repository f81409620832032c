//! The page that opens and closes the door to the local network.

use super::page;
use crate::room::Worked;
use crate::share::{Invitation, code};
use maud::{Markup, PreEscaped, html};
use tr::tr;

/// The page; `invitation` while the door stands open to this quilt.
pub fn page(worked: &Worked, invitation: Option<&Invitation>) -> Markup {
    let base = format!("/q/{}", worked.id);
    let body = html! {
        body.plain {
            main {
                p.back { a href=(base) { (tr!("Back to {name}", name = worked.quilt.name)) } }
                h1 { (tr!("Sew with a phone")) }
                div #message role="alert" hidden {}
                p { (tr!("A phone on the same network can show the sewing pages of this quilt and tick off what is done, for as long as this machine is awake and the workroom is open.")) }
                @if let Some(invitation) = invitation {
                    p { b { (tr!("It is open.")) } " " (tr!("Scan this code with the phone, or type the address:")) }
                    div.code role="img" aria-label=(tr!("Code of the address")) { (PreEscaped(code(&invitation.url))) }
                    p { a href=(invitation.url) { (invitation.url) } }
                    p { button type="button" data-share={ (base) "/share" } data-open="false" { (tr!("Close it")) } }
                    p.quiet { (tr!("The key in the address ends when you close it, when the workroom is closed, and after twelve hours.")) }
                } @else {
                    p { b { (tr!("It is closed:")) } " " (tr!("only this machine can see the quilt.")) }
                    p { button type="button" data-share={ (base) "/share" } data-open="true" { (tr!("Open it to this network")) } }
                }
                p.caution { b { (tr!("At home only:")) " " } (tr!("whoever has the code can see this quilt and tick it off, and what is sent is not encrypted. Close it when you are done.")) }
                p { a href={ (base) "/sewing" } { (tr!("The sewing page on this machine")) } }
            }
        }
    };
    page::plain(&tr!("Sew with a phone - {name}", name = worked.quilt.name), &body)
}
