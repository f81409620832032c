//! The page that gives out keys to the local network and takes them back.

use super::page;
use crate::room::Worked;
use crate::share::{HOURS, Invitation, Role, code};
use maud::{Markup, PreEscaped, html};
use std::time::Duration;
use tr::tr;

/// The page, with the keys that are out.
pub fn page(worked: &Worked, invitations: &[Invitation]) -> Markup {
    let base = format!("/q/{}", worked.id);
    let to = format!("{base}/share");
    let title = tr!("Sew with a phone");
    let body = html! {
        body.plain {
            main {
                p.back { a href=(base) { (tr!("Back to {quilt}", quilt = worked.quilt.name)) } }
                h1 { (title) }
                div #message role="alert" hidden {}
                p { (tr!("A phone on the same network can show the sewing pages of this quilt and tick off what is done, for as long as this machine is awake and the workroom is open.")) }
                @if invitations.is_empty() { p { b { (tr!("It is closed:")) } " " (tr!("only this machine can see the quilt.")) } }
                @for invitation in invitations { (key(&to, invitation)) }
                (form(&to))
                @if invitations.len() > 1 { p { button type="button" data-share=(to) data-body=r#"{"do":"close"}"# { (tr!("Take all back and close it")) } } }
                p.caution { b { (tr!("At home only:")) } " " (tr!("whoever has a code can use it, and what is sent is not encrypted. Take it back when you are done.")) }
                p { a href={ (base) "/sewing" } { (tr!("The sewing page on this machine")) } }
            }
        }
    };
    page::plain(&format!("{title} - {}", worked.quilt.name), &body)
}

/// What a key allows, in words.
fn allows(role: Role) -> String {
    match role {
        Role::Look => tr!("may look"),
        Role::Tick => tr!("may look and tick off"),
    }
}

/// What one may do who holds a key, for the page that she sees.
pub fn what(role: Role) -> Markup {
    html! { p.whose { (match role {
        Role::Look => tr!("With this key you may look; to tick off what is sewn, ask for a key that may."),
        Role::Tick => tr!("With this key you may look, and tick off what is sewn."),
    }) } }
}

/// `3 h 20 min`.
fn left(left: Duration) -> String {
    let minutes = left.as_secs().div_ceil(60);
    tr!("{hours} h {minutes} min", hours = minutes / 60, minutes = minutes % 60)
}

fn key(to: &str, invitation: &Invitation) -> Markup {
    let name = tr!("Key {number}", number = invitation.number);
    html! {
        section.key aria-label=(name) {
            h2 { (name) ": " (allows(invitation.role)) }
            p { (tr!("Scan this code with the phone, or type the address:")) }
            div.code role="img" aria-label=(tr!("Code of the address")) { (PreEscaped(code(&invitation.url))) }
            p { a href=(invitation.url) { (invitation.url) } }
            p { (tr!("It ends in {time}, when you take it back, and when the workroom is closed.", time = left(invitation.left))) }
            p { button type="button" data-share=(to) data-body={ r#"{"do":"take-back","number":"# (invitation.number) "}" } { (tr!("Take it back")) } }
        }
    }
}

fn form(to: &str) -> Markup {
    html! {
        form #give data-give=(to) {
            h2 { (tr!("Give out a key")) }
            label.field for="key-role" { span { (tr!("Whoever has it")) } select #key-role name="role" {
                option value="tick" { (allows(Role::Tick)) }
                option value="look" { (allows(Role::Look)) }
            } }
            label.field for="key-hours" { span { (tr!("for")) } select #key-hours name="hours" {
                @for hours in HOURS { option value=(hours) selected[hours == 4] { (tr!("one hour" | "{n} hours" % hours)) } }
            } }
            p { button type="submit" { (tr!("Open it to this network")) } }
        }
    }
}
