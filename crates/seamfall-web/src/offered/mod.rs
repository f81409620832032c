//! What is offered to her who may not do everything: what she may not do, she is not shown.
//!
//! In: a page, or a part of one, as it is written for a quilt's maker; and what she who looks at it may do. Out: the same without what she may
//! not. A control says in its attributes what it asks the server for ([`asks`]), and the table of needs says what that needs: so the rule stands here
//! and nowhere else, and a view writes what there is. What shows a value stays and cannot be changed; a button, a link and a form that only
//! does something goes, and with it what held nothing else ([`leave_out`]).
//!
//! It keeps nobody out: that is the door's.

mod leave_out;

use crate::asker::{self, Asker};
use crate::guild::needs::{self, Needs, TABLE};
use crate::share::{self, Guest};
use axum::body::{Body, to_bytes};
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use axum::http::{HeaderName, HeaderValue};
use axum::response::Response;
use seamfall_store::{May, Role};

/// The header that tells with every answer about a quilt what she may do with it now, so that a page notices when that was changed.
const MAY: HeaderName = HeaderName::from_static("seamfall-may");

/// For whom a page is written.
#[derive(Debug, Clone, Copy)]
pub struct Viewer {
    may: May,
    is_keeper: bool,
    table: &'static [(&'static str, &'static str, Needs)],
}

impl Viewer {
    /// A member who asks about a quilt.
    pub fn member(asker: &Asker) -> Option<Self> {
        Some(Self { may: asker.may?, is_keeper: asker.role == Role::Keeper, table: TABLE })
    }

    /// Who holds a key to the sewing pages.
    pub fn guest(guest: Guest) -> Self {
        Self { may: guest.role.may(), is_keeper: false, table: share::TABLE }
    }

    /// Whether a request would be let in. What begins with no `/` stays on the page.
    fn allows(&self, method: &str, address: &str) -> bool {
        let path = address.split(['?', '#']).next().unwrap_or_default();
        !path.starts_with('/')
            || match needs::of(self.table, method, path) {
                Needs::Nothing | Needs::Member | Needs::Photo => true,
                Needs::Keeper => self.is_keeper,
                Needs::On(needed) => self.may >= needed,
                Needs::Shut => false,
            }
    }

    /// What of a page she is offered.
    pub fn offered(&self, html: &str) -> String {
        leave_out::left_out(html, |name, attributes| {
            asks(name, attributes).all(|(method, address)| self.allows(method, &address))
        })
    }

    /// An answer as she gets it.
    pub async fn answered(&self, answer: Response) -> Response {
        let (mut parts, body) = answer.into_parts();
        parts.headers.insert(MAY, HeaderValue::from_static(word(self.may)));
        let is_page = parts.headers.get(CONTENT_TYPE).is_some_and(|kind| kind.as_bytes().starts_with(b"text/html"));
        if self.may == May::Make || !is_page {
            return Response::from_parts(parts, body);
        }
        let page = to_bytes(body, usize::MAX).await.unwrap_or_default();
        parts.headers.remove(CONTENT_LENGTH);
        Response::from_parts(parts, Body::from(self.offered(&String::from_utf8_lossy(&page))))
    }
}

/// What she may do, in a word for the script and for programs.
pub const fn word(may: May) -> &'static str {
    match may {
        May::Look => "look",
        May::Tick => "tick",
        May::Edit => "edit",
        May::Make => "make",
    }
}

/// Whether the member who asks would be let in with a request; anybody is where there are no members.
pub fn may_ask(method: &str, address: &str) -> bool {
    asker::here().as_ref().and_then(Viewer::member).is_none_or(|viewer| viewer.allows(method, address))
}

/// Whether she may change the quilt.
pub fn may_edit() -> bool {
    may_ask("POST", "/q/0/edit")
}

/// What of a part of a page is offered to the member who asks; all of it where there are no members.
pub fn to_her(html: String) -> String {
    match asker::here().as_ref().and_then(Viewer::member) {
        Some(viewer) if viewer.may < May::Make => viewer.offered(&html),
        _ => html,
    }
}

/// Attributes of which the script makes a request that changes the quilt, and where below the quilt it goes. The script knows the address by itself.
const BELOW: [(&str, &str); 17] = [
    ("data-edit", "edit"),
    ("data-form-edit", "edit"),
    ("data-everywhere", "edit"),
    ("data-exchange", "edit"),
    ("data-motif", "edit"),
    ("data-drawing", "edit"),
    ("data-shuffle", "shuffle"),
    ("data-note", "ledger"),
    ("data-noted", "ledger"),
    ("data-tick", "tick"),
    ("data-class", "class/edit"),
    ("data-class-do", "class/edit"),
    ("data-class-form", "class/edit"),
    ("data-class-work", "class/edit"),
    ("data-class-days", "class/edit"),
    ("data-class-begin", "class/begin"),
    ("data-class-step", "class/undo"),
];

/// Attributes that hold the address of a request, and its method.
const HELD: [(&str, &str); 13] = [
    ("data-send", "POST"),
    ("data-bring", "POST"),
    ("data-photo", "POST"),
    ("data-keep", "POST"),
    ("data-own", "GET"),
    ("data-own-name", "POST"),
    ("data-own-file", "POST"),
    ("data-own-remove", "POST"),
    ("data-remove", "POST"),
    ("data-new", "POST"),
    ("data-share", "POST"),
    ("data-give", "POST"),
    ("data-way", "GET"),
];

/// What an element asks the server for when it is used: method and address, the quilt's number a `0` where the element does not say it.
///
/// `data-for` stands on what is about a request without making it, as a heading or a sentence: where it would go below the quilt.
fn asks<'a>(name: &'a str, attributes: &'a [(&'a str, &'a str)]) -> impl Iterator<Item = (&'a str, String)> {
    let value = |of: &str| attributes.iter().find(|(name, _)| *name == of).map(|(_, value)| *value);
    let method = if value("method") == Some("post") { "POST" } else { "GET" };
    attributes.iter().filter_map(move |&(attribute, value)| match attribute {
        "href" if name == "a" => Some(("GET", value.to_owned())),
        "action" => Some((method, value.to_owned())),
        "data-for" | "data-take" => Some(("POST", format!("/q/0/{value}"))),
        _ => BELOW
            .iter()
            .find(|(each, _)| *each == attribute)
            .map(|(_, to)| ("POST", format!("/q/0/{to}")))
            .or_else(|| HELD.iter().find(|(each, _)| *each == attribute).map(|(_, method)| (*method, value.to_owned()))),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn who(may: May) -> Viewer {
        Viewer { may, is_keeper: false, table: TABLE }
    }

    #[test]
    fn a_looker_is_offered_what_she_may_and_a_ticker_more() {
        let page = r##"<a href="/q/1/file">save</a><a href="/q/1/draw">draw</a><a href="#x">there</a><button data-note="{}">sewn</button><button data-edit="{}">turn</button>"##;
        let (look, tick, edit) = (who(May::Look).offered(page), who(May::Tick).offered(page), who(May::Edit).offered(page));
        assert_eq!(look, r##"<a href="/q/1/file">save</a><a href="#x">there</a>"##);
        assert_eq!(tick, r##"<a href="/q/1/file">save</a><a href="#x">there</a><button data-note="{}">sewn</button>"##);
        assert_eq!(edit, page);
    }

    #[test]
    fn a_guest_is_offered_what_the_door_to_the_network_serves() {
        let guest = |may| Viewer { may, is_keeper: false, table: share::TABLE };
        let page = r#"<a href="/q/1/section/S1">how</a><a href="/q/1">back</a><button data-tick="{}">sewn</button>"#;
        assert_eq!(guest(May::Look).offered(page), r#"<a href="/q/1/section/S1">how</a>"#);
        assert_eq!(guest(May::Tick).offered(page), r#"<a href="/q/1/section/S1">how</a><button data-tick="{}">sewn</button>"#);
    }

    /// What a script reads of an element and sends is in one of the lists, so that nothing is offered for want of a line here.
    #[test]
    fn every_address_that_an_attribute_stands_for_is_in_the_table() {
        for (attribute, to) in BELOW {
            assert_ne!(needs::of(TABLE, "POST", &format!("/q/0/{to}")), Needs::Shut, "{attribute}");
        }
    }
}
