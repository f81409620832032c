//! The endpoints, one a line: method, address, what it is, what is asked with it, and what is answered.

use crate::{repaint, routes, sheet};
use schemars::{Schema, SchemaGenerator};
use seamfall_model::Edit;

/// Makes the schema of a type.
pub type Make = fn(&mut SchemaGenerator) -> Schema;

/// What can be asked for.
pub struct Endpoint {
    /// In small letters.
    pub method: &'static str,
    /// As the router has it.
    pub path: &'static str,
    /// In a sentence.
    pub what: &'static str,
    /// Behind the address.
    pub query: &'static [Query],
    /// What is sent along.
    pub body: Body,
    /// What comes back when all is well.
    pub answer: Answer,
}

/// Something asked behind the address.
pub struct Query {
    /// Its name.
    pub name: &'static str,
    /// Whether it must be there.
    pub required: bool,
    /// `revision`, `count`, `number`, `flag` or `text`.
    pub kind: &'static str,
}

/// What is sent along.
#[derive(Clone, Copy)]
pub enum Body {
    /// Nothing.
    None,
    /// Data of a type.
    Json(Make),
    /// The fields of a form, as a browser sends it.
    Form(Make),
    /// A file, said to be of one of these kinds.
    Bytes(&'static [&'static str]),
}

/// What comes back.
#[derive(Clone, Copy)]
pub enum Answer {
    /// Data of a type.
    Json(Make),
    /// A page, a drawing or a file, of one of these kinds.
    Is(&'static [&'static str]),
    /// Where it stands instead, with this status.
    Goes(&'static str),
}

/// A page.
pub const PAGE: Answer = Answer::Is(&["text/html"]);
/// A drawing.
pub const SVG: Answer = Answer::Is(&["image/svg+xml"]);
const TOML: Answer = Answer::Is(&["application/toml"]);
const PDF: Answer = Answer::Is(&["application/pdf"]);
const TEXT: Body = Body::Bytes(&["application/toml", "text/plain"]);

/// The schema of a type.
pub fn of<T: schemars::JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.subschema_for::<T>()
}

const fn must(name: &'static str, kind: &'static str) -> Query {
    Query { name, required: true, kind }
}

/// What may be asked.
pub const fn may(name: &'static str, kind: &'static str) -> Query {
    Query { name, required: false, kind }
}

/// Something to get.
pub const fn get(path: &'static str, what: &'static str, query: &'static [Query], answer: Answer) -> Endpoint {
    Endpoint { method: "get", path, what, query, body: Body::None, answer }
}

/// Something to do.
pub const fn post(path: &'static str, what: &'static str, body: Body, answer: Answer) -> Endpoint {
    Endpoint { method: "post", path, what, query: &[], body, answer }
}

/// Data in, data out.
macro_rules! data {
    ($path:literal, $what:literal, $in:ty => $out:ty) => {
        post($path, $what, Body::Json(of::<$in>), Answer::Json(of::<$out>))
    };
}

/// A form in, and what comes back.
macro_rules! form {
    ($path:literal, $what:literal, $in:ty => $out:expr) => {
        post($path, $what, Body::Form(of::<$in>), $out)
    };
}

pub(super) use {data, form};

type Open = routes::files::Open;
type Repaint = repaint::Repaint;

/// All of them, in the order of the router.
pub const ENDPOINTS: &[Endpoint] = &[
    get("/", "The quilt worked on last.", &[], Answer::Goes("303")),
    get("/api.json", "This description.", &[], Answer::Is(&["application/json"])),
    get("/quilts", "All quilts.", &[], PAGE),
    get("/q/{id}", "The workroom on a quilt.", &[], PAGE),
    get("/q/{id}/cloths.css", "The colours of a quilt's cloths.", &[], Answer::Is(&["text/css"])),
    get("/assets/{name}", "Script, style, icon.", &[], Answer::Is(&["text/javascript", "text/css", "image/svg+xml"])),
    get("/favicon.ico", "The icon.", &[], Answer::Goes("308")),
    get("/starter/{file}", "The drawing of a starter block, `churn-dash.svg`.", &[], SVG),
    get("/demo/{file}", "The drawing of a demo quilt, `lamplight.svg`.", &[], SVG),
    get(
        "/q/{id}/state",
        "All of the quilt, for a browser that has lost track.",
        &[must("about", "text"), may("shown", "text")],
        Answer::Json(of::<Repaint>),
    ),
    get("/q/{id}/about/{element}", "The panel about an element of the drawing.", &[], PAGE),
    get("/q/{id}/region/{name}", "A part of the page.", &[], PAGE),
    get(
        "/q/{id}/seam",
        "The seam nearest to a point of the drawing.",
        &[must("x", "number"), must("y", "number"), must("reach", "number")],
        Answer::Json(of::<Option<String>>),
    ),
    get("/q/{id}/find", "What is found in the quilt for some words.", &[must("for", "text")], PAGE),
    get("/q/{id}/layer/{name}", "The elements of a layer of the drawing.", &[], Answer::Json(of::<Vec<String>>)),
    data!("/q/{id}/edit", "Makes an edit.", routes::edit::Change => Repaint),
    data!("/q/{id}/undo", "Goes one edit back.", routes::edit::Step => Repaint),
    data!("/q/{id}/redo", "Goes one edit forth again.", routes::edit::Step => Repaint),
    get(
        "/q/{id}/turning",
        "Tries some turns of blocks for fewer stacks.",
        &[must("revision", "revision"), must("step", "count")],
        Answer::Json(of::<routes::falls::Turned>),
    ),
    data!("/q/{id}/search", "Searches for longer that no fewer stacks exist.", routes::falls::Longer => Repaint),
    data!("/q/{id}/shuffle", "Turns blocks in another manner.", routes::versions::Shuffle => Repaint),
    get("/q/{id}/versions", "The page of versions.", &[may("with", "text")], PAGE),
    data!("/q/{id}/versions", "Keeps the quilt as it stands.", routes::versions::Named => Open),
    data!("/q/{id}/versions/{version}/name", "Gives a version another name.", routes::versions::Named => Open),
    post("/q/{id}/versions/{version}/drop", "Lets go of a version.", Body::None, Answer::Json(of::<Open>)),
    data!("/q/{id}/versions/{version}/take", "Goes back to a version.", routes::versions::Taken => Open),
    get("/q/{id}/versions/{version}/file", "A version as a quilt file.", &[], TOML),
    get("/q/{id}/versions/{version}/quilt.svg", "The drawing of a version.", &[], SVG),
    data!("/q/{id}/cloth/search", "Looks for less of the first cloth that was not searched yet.", routes::cloth::Seen => Repaint),
    data!("/q/{id}/cloth/{key}/keep", "Gives what is left of a cloth to another quilt.", routes::cloth::Keep => Open),
    get("/q/{id}/cloth/{key}", "The page to follow at the table.", &[], PAGE),
    Endpoint {
        query: &[may("name", "text"), must("width", "text")],
        ..post(
            "/q/{id}/cloth/{key}/photo",
            "Keeps a photograph of a cloth, and answers with the edit that shows it.",
            Body::Bytes(&["image/jpeg", "image/png", "image/heic"]),
            Answer::Json(of::<Edit>),
        )
    },
    get("/photo/{hash}/{file}", "A photograph, `colours.jpg` or `greys.jpg`.", &[], Answer::Is(&["image/jpeg"])),
    get("/q/{id}/photo/{name}", "A photograph by the name that the quilt file has for it.", &[], Answer::Is(&["image/jpeg"])),
    get("/q/{id}/cloth/{key}/{file}", "A drawing of strips, `0.svg`.", &[], SVG),
    get("/q/{id}/drape", "The page of the quilt on its bed.", &[], PAGE),
    data!("/q/{id}/drape", "The next frame of the cloth while it settles; nothing where the quilt has changed since.", routes::drape::Next => Option<crate::drape::Frame>),
    get("/q/{id}/draw", "The page for a new block.", &[may("from", "text")], PAGE),
    get("/q/{id}/draw/{block}", "The page for a block of the quilt.", &[], PAGE),
    data!("/q/{id}/drawing", "What the sheet shows once something is done.", sheet::Asked => sheet::Sheet),
    data!("/q/{id}/drawing/arcs", "The arcs that are usual between two points.", routes::drawing::Ends => Vec<sheet::ArcSeen>),
    data!("/q/{id}/drawing/save", "Saves a drawing into the quilt.", routes::drawing::Save => routes::drawing::Saved),
    data!("/q/{id}/drawing/keep", "Keeps a drawing among the maker's own blocks.", routes::drawing::Keep => String),
    get("/q/{id}/own", "The maker's own blocks, for a quilt.", &[], PAGE),
    data!("/q/{id}/own/{own}/take", "Takes one into the quilt.", routes::own::Take => Repaint),
    post("/own", "Brings in a block.", TEXT, Answer::Json(of::<String>)),
    get("/own/{own}", "Its drawing, `3.svg`, or its file, `3.toml`.", &[], Answer::Is(&["image/svg+xml", "application/toml"])),
    data!("/own/{own}/name", "Gives one another name.", routes::own::Name => String),
    post("/own/{own}/remove", "Takes one away.", Body::None, Answer::Json(of::<String>)),
    get("/q/{id}/class", "The page of a class.", &[], PAGE),
    get("/q/{id}/class/state", "The class as it stands.", &[], Answer::Json(of::<routes::class::Shown>)),
    data!("/q/{id}/class/edit", "Changes the class.", routes::class::Change => routes::class::Shown),
    data!("/q/{id}/class/begin", "Begins a class.", routes::class::Begin => routes::class::Shown),
    data!("/q/{id}/class/undo", "Goes one edit of the class back.", routes::class::Step => routes::class::Shown),
    data!("/q/{id}/class/redo", "Goes one edit of the class forth again.", routes::class::Step => routes::class::Shown),
    get("/q/{id}/class/file", "The class as a file.", &[], TOML),
    post("/q/{id}/class/file", "Brings a class in, in place of the one there is.", TEXT, Answer::Json(of::<routes::class::Open>)),
    get("/q/{id}/class/handouts.pdf", "What is printed for a class.", &[may("paper", "text")], PDF),
    get("/q/{id}/class/cloth/{key}/{file}", "A drawing of strips that are cut for all, `0.svg`.", &[], SVG),
    get("/q/{id}/cut-list.csv", "The cut list as a table.", &[], Answer::Is(&["text/csv"])),
    get("/q/{id}/share", "The page that gives out keys and takes them back.", &[], PAGE),
    data!("/q/{id}/share", "Gives out a key, or takes one back; answers how many there are.", routes::sewing::Share => usize),
    get("/q/{id}/sewing", "The page to sew from.", &[], PAGE),
    get("/q/{id}/sewn", "What is sewn, for a page that has lost track.", &[], Answer::Json(of::<routes::sewing::Sewn>)),
    get("/q/{id}/revision", "The state that the quilt stands on.", &[], Answer::Json(of::<i64>)),
    data!("/q/{id}/tick", "Ticks something off.", routes::sewing::Tick => routes::sewing::Sewn),
    get("/q/{id}/join/{file}", "The drawing of a join, `1.svg`.", &[], SVG),
    get("/q/{id}/ledger", "The ledger as a file.", &[], TOML),
    data!("/q/{id}/ledger", "Notes something in the ledger.", routes::sewing::Noted => Repaint),
    post("/q/{id}/ledger/import", "Brings in the ledger of a quilt.", TEXT, Answer::Json(of::<Open>)),
    get("/design/{file}", "The drawing of a quilting design, `cable.svg`.", &[], SVG),
    post("/drawing", "The lines of an SVG drawing, as path data.", Body::Bytes(&["image/svg+xml"]), Answer::Json(of::<String>)),
    get("/q/{id}/section/{name}", "The page of a lap section.", &[may("back", "flag")], PAGE),
    get(
        "/q/{id}/section/{name}/{file}",
        "The drawing of a section, `lines.svg`, or the way of the needle, `way.json`.",
        &[may("back", "flag")],
        Answer::Is(&["image/svg+xml", "application/json"]),
    ),
    get("/begin", "The page to begin a quilt on.", &[], PAGE),
    data!("/begin", "Begins a quilt.", routes::begin::Chosen => Open),
    post("/new/{demo}", "Begins a quilt from a demo quilt.", Body::None, Answer::Json(of::<Open>)),
    post("/import", "Brings in a quilt file.", TEXT, Answer::Json(of::<Open>)),
    post("/q/{id}/remove", "Takes a quilt away.", Body::None, Answer::Json(of::<Open>)),
    get("/q/{id}/file", "The quilt file, byte for byte as it stands.", &[], TOML),
    get("/q/{id}/quilt.svg", "The drawing, to stand alone.", &[], SVG),
    get("/q/{id}/edge.svg", "The template of a curved edge.", &[], SVG),
    get(
        "/q/{id}/settings",
        "Settings that reach the size the bed wants.",
        &[
            must("standing", "text"),
            must("parity", "text"),
            must("from", "text"),
            must("to", "text"),
            must("steps", "text"),
            must("within", "text"),
        ],
        PAGE,
    ),
    get("/q/{id}/corner/{file}", "The template of a changed corner, `1.svg`.", &[], SVG),
    get("/q/{id}/plan.json", "The plan; `seamfall schema plan` describes it.", &[], Answer::Is(&["application/json"])),
    get(
        "/q/{id}/book.pdf",
        "The book.",
        &[may("paper", "text"), may("ink", "text"), may("type", "text"), may("marking", "text")],
        PDF,
    ),
    get("/q/{id}/print", "The page of what can be had on paper.", &[], PAGE),
    get("/q/{id}/quilt.png", "The quilt as a picture.", &[may("width", "count")], Answer::Is(&["image/png"])),
    get("/q/{id}/mats", "All mats for a cutting machine.", &[must("mat", "text"), may("gap", "text"), may("face", "text")], PAGE),
    get(
        "/q/{id}/mats/{file}",
        "One mat, `night-1.dxf` or `night-1.svg`.",
        &[must("mat", "text"), may("gap", "text"), may("face", "text")],
        Answer::Is(&["image/vnd.dxf", "image/svg+xml"]),
    ),
    get("/q/{id}/units/{file}", "The drawing of a unit, `1.svg`.", &[], SVG),
    get("/q/{id}/templates/{block}", "All templates of a block, `lantern.dxf`.", &[], Answer::Is(&["image/vnd.dxf"])),
    get("/q/{id}/templates/{block}/{file}", "One template of a block, `A.svg`.", &[], SVG),
];

#[cfg(test)]
mod tests {
    use super::super::guild::{DOOR, GUILD};
    use super::{ENDPOINTS, Endpoint};
    use std::collections::BTreeSet;

    const WORKROOM_AND_DOOR: &str = include_str!("../mod.rs");

    /// Whatever a router names, by its text: `.route("/begin", get(begin::page).post(begin::create))`.
    fn served<'a>(source: &'a str, router: &str) -> BTreeSet<(&'a str, &'static str)> {
        let all = source.split(router).nth(1).and_then(|rest| rest.split("\n}").next()).expect("the router");
        let mut served = BTreeSet::new();
        for route in all.split(".route(\"").skip(1) {
            let (path, rest) = route.split_once('"').expect("an address in quotes");
            let told = rest.split("\n        .").next().unwrap_or(rest);
            for method in ["get", "post", "put", "delete", "patch"] {
                if told.contains(&format!(" {method}(")) || told.contains(&format!(".{method}(")) {
                    served.insert((path, method));
                }
            }
        }
        served
    }

    #[test]
    fn exactly_what_is_served_is_described() {
        let guild = include_str!("../guild.rs");
        for (source, router, table, least) in [
            (WORKROOM_AND_DOOR, "pub fn all(", ENDPOINTS, 80),
            (guild, "pub fn guild(", GUILD, 15),
            (WORKROOM_AND_DOOR, "pub fn shared(", DOOR, 9),
        ] {
            let served = served(source, router);
            let described: BTreeSet<_> = table.iter().map(|endpoint: &Endpoint| (endpoint.path, endpoint.method)).collect();
            assert_eq!(described.len(), table.len(), "one is described twice");
            let missing: Vec<_> = served.difference(&described).collect();
            let gone: Vec<_> = described.difference(&served).collect();
            assert!(
                missing.is_empty() && gone.is_empty(),
                "{router}: write into the table in `routes/api`: {missing:?}; take out of it: {gone:?}"
            );
            assert!(served.len() >= least, "{router}");
        }
    }
}
