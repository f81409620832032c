//! The endpoints that a guild has beside those of the workroom, and those of the door to the local network, one a line.

use super::table::{Answer, Body, ENDPOINTS, Endpoint, PAGE, SVG, data, form, get, may, of, post};
use crate::guild::needs::{Needs, TABLE};
use crate::routes::guild::{As, Invite, Named, ShareWith, Typed};
use crate::routes::sewing::{Sewn, Tick};

const THERE: Answer = Answer::Goes("303");

/// The guild's own, in the order of its router.
pub const GUILD: &[Endpoint] = &[
    get("/sign-in", "The page to sign in on; `to` is where one goes on to.", &[may("to", "text")], PAGE),
    form!("/sign-in", "Signs a browser in by a member's way back.", Typed => THERE),
    get("/join/{key}", "What an invitation is; looking does not use it up.", &[], PAGE),
    form!("/join/{key}", "Makes a member of her who opens an invitation, and shows her way back.", Named => PAGE),
    post("/sign-out", "Signs this browser out.", Body::None, THERE),
    post("/sign-out-everywhere", "Signs all browsers of the member out.", Body::None, THERE),
    get("/me", "The member's own page.", &[], PAGE),
    form!("/me/name", "Gives the member another name.", Named => THERE),
    post("/me/way-back", "Gives the member another way back; the old one opens nothing any more.", Body::None, PAGE),
    get("/members", "The members.", &[], PAGE),
    form!("/members/invite", "Makes an invitation, for 1, 7 or 30 days, and shows its link this once.", Invite => PAGE),
    post("/members/invitation/{invitation}/take-back", "Takes an invitation back.", Body::None, THERE),
    form!("/members/member/{member}/role", "Makes a member a keeper, or a keeper a member.", As => THERE),
    post("/members/member/{member}/way-back", "Gives a member who has lost hers another way back.", Body::None, PAGE),
    post("/members/member/{member}/remove", "Takes a member away; her quilts go to the keeper who does.", Body::None, THERE),
    get("/q/{id}/members", "With whom a quilt is shared.", &[], PAGE),
    form!("/q/{id}/members", "Lets a member look, tick off or edit, or shuts the quilt to her.", ShareWith => THERE),
];

/// Those of the door to the local network, in the order of its router.
pub const DOOR: &[Endpoint] = &[
    get("/join/{key}", "Takes a key in, and leads on to the page to sew from.", &[], THERE),
    get("/assets/{name}", "Script, style, icon.", &[], Answer::Is(&["text/javascript", "text/css", "image/svg+xml"])),
    get("/q/{id}/sewing", "The page to sew from.", &[], PAGE),
    get("/q/{id}/sewn", "What is sewn, for a page that has lost track.", &[], Answer::Json(of::<Sewn>)),
    get("/q/{id}/revision", "The state that the quilt stands on.", &[], Answer::Json(of::<i64>)),
    data!("/q/{id}/tick", "Ticks something off.", Tick => Sewn),
    get("/q/{id}/join/{file}", "The drawing of a join, `1.svg`.", &[], SVG),
    get("/q/{id}/section/{name}", "The page of a lap section.", &[may("back", "flag")], PAGE),
    get(
        "/q/{id}/section/{name}/{file}",
        "The drawing of a section, `lines.svg`, or the way of the needle, `way.json`.",
        &[may("back", "flag")],
        Answer::Is(&["image/svg+xml", "application/json"]),
    ),
];

/// All that a guild serves: its own, and of the workroom what is not shut there.
pub fn all() -> impl Iterator<Item = (&'static Endpoint, Needs)> {
    ENDPOINTS.iter().chain(GUILD).filter_map(|endpoint| Some((endpoint, needs(TABLE, endpoint)?)))
}

/// What an endpoint needs by a table; nothing where it is shut.
pub fn needs(table: &[(&str, &str, Needs)], endpoint: &Endpoint) -> Option<Needs> {
    let row = table.iter().find(|(method, path, _)| method.eq_ignore_ascii_case(endpoint.method) && *path == endpoint.path);
    row.map(|(.., needs)| *needs).filter(|needs| *needs != Needs::Shut)
}
