//! Every page in a made-up language: what a person reads was said with `tr!`, or was written by the maker.
//!
//! The language holds for the whole process: these tests are run each in one of its own, as `cargo nextest` does.

use crate::common::{SMALL, Served};
use reqwest::blocking::Client;
use seamfall_model::starter_blocks;
use seamfall_testkit::made_up::{MadeUp, names, outside};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Signs of units and countries, names of formats and keys: the same in every language.
const SIGNS: &[&str] = &[
    "in", "cm", "mm", "yd", "ft", "kg", "min", "US", "UK", "EU", "AU", "SVG", "DXF", "PDF", "CSV", "JSON", "PNG", "Seamfall",
    // Keys that a keyboard calls so.
    "Ctrl", "Shift",
];

fn speak() {
    seamfall_model::speak(MadeUp);
    seamfall_cutting::speak(MadeUp);
    seamfall_drape::speak(MadeUp);
    seamfall_plan::speak(MadeUp);
    seamfall_class::speak(MadeUp);
    seamfall_draw::speak(MadeUp);
    seamfall_book::speak(MadeUp);
    seamfall_photo::speak(MadeUp);
    seamfall_store::speak(MadeUp);
    seamfall_web::speak(MadeUp);
}

/// What a person reads of a page, a part of one or a drawing: its text, and what is said in attributes.
fn read(html: &str) -> Vec<String> {
    let mut read = Vec::new();
    let mut rest = html;
    while let Some(start) = rest.find('<') {
        read.push(rest[..start].to_owned());
        let tag = &rest[start..];
        let end = end_of_tag(tag);
        let (opened, after) = tag.split_at(end);
        for said in ["title", "aria-label", "alt", "placeholder", "data-said", "data-confirm", "data-name"] {
            read.extend(attribute(opened, said).map(str::to_owned));
        }
        // A style of a drawing is no text.
        rest = if opened.starts_with("<style") { after.split_once("</style").map_or("", |(_, rest)| rest) } else { after };
    }
    read.push(rest.to_owned());
    read.retain(|text| !text.trim().is_empty());
    read.iter()
        .map(|text| {
            text.replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&#39;", "'")
        })
        .collect()
}

/// Where a tag ends: at the first `>` outside of its values.
fn end_of_tag(tag: &str) -> usize {
    let mut quoted = false;
    for (at, letter) in tag.char_indices() {
        match letter {
            '"' => quoted = !quoted,
            '>' if !quoted => return at + 1,
            _ => {}
        }
    }
    tag.len()
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let (_, value) = tag.split_once(&format!(" {name}=\""))?;
    value.split('"').next()
}

/// What the script only compares: the shape of a drawing, parts of the page that are to be fetched, an address.
const KEYS: [&str; 5] = ["shape", "stale", "stale_layers", "open", "repeat"];

/// Every text in data that the script shows: what stands in it is html, or a sentence.
fn texts(data: &Value, found: &mut Vec<String>) {
    match data {
        Value::String(text) => found.push(text.clone()),
        Value::Array(all) => all.iter().for_each(|each| texts(each, found)),
        Value::Object(all) => {
            let shown = all.iter().filter(|(key, _)| !KEYS.contains(&key.as_str()));
            shown.for_each(|(_, each)| texts(each, found));
        }
        _ => {}
    }
}

/// What is read on some pages of a quilt and was not said in the made-up language.
struct Reader {
    served: Served,
    known: Vec<String>,
    outside: BTreeSet<(String, String)>,
}

impl Reader {
    fn of(text: &str) -> Self {
        speak();
        let quilt = seamfall_model::read(text).expect("it is a quilt");
        let mut known = names(&quilt);
        known.extend(SIGNS.iter().map(|&sign| sign.to_owned()));
        // Blocks of the starter set are called as they always were, quilts and versions as their makers called them.
        known.extend(starter_blocks().iter().map(|block| block.name.clone()));
        known.extend(seamfall_web::demo_quilts().iter().filter_map(|(_, text)| Some(seamfall_model::read(text).ok()?.name)));
        known.extend(["calm", "Evenings", "Rust", "Student"].map(str::to_owned));
        Self { served: Served::quilt(text), known, outside: BTreeSet::new() }
    }

    fn note(&mut self, at: &str, html: &str) {
        let known: Vec<&str> = self.known.iter().map(String::as_str).collect();
        for text in read(html) {
            self.outside.extend(outside(&text, &known).into_iter().map(|words| (words, at.to_owned())));
        }
    }

    /// Reads a page; whatever its status, it is one.
    fn page(&mut self, path: &str) {
        let answer = Client::new().get(self.served.url(path)).send().expect("the server answers");
        let kind = answer.headers()["content-type"].to_str().expect("ascii").to_owned();
        let body = answer.text().expect("text");
        if kind.contains("json") { self.data(path, &serde_json::from_str(&body).expect("data")) } else { self.note(path, &body) }
    }

    fn data(&mut self, path: &str, data: &Value) {
        let mut found = Vec::new();
        texts(data, &mut found);
        for text in found {
            self.note(path, &text);
        }
    }

    /// Sends data and reads the answer.
    fn send(&mut self, path: &str, body: &Value) -> Value {
        let answer = Client::new().post(self.served.url(path)).json(body).send().expect("the server answers");
        let text = answer.text().expect("text");
        let data: Value = serde_json::from_str(&text).unwrap_or_else(|_| panic!("{path} answers {text}"));
        self.data(path, &data);
        data
    }

    fn revision(&self) -> Value {
        let url = self.served.url("~/state?about=A1");
        let state: Value = reqwest::blocking::get(url).expect("the server answers").json().expect("data");
        state["revision"].clone()
    }

    fn edit(&mut self, edit: &Value) {
        let body = json!({ "revision": self.revision(), "about": "A1", "edit": edit });
        self.send("~/edit", &body);
    }

    #[track_caller]
    fn ends(self) {
        let lines: Vec<String> = self.outside.iter().map(|(words, at)| format!("{at}: {words}")).collect();
        assert!(lines.is_empty(), "{} texts are not in the language:\n{}", lines.len(), lines.join("\n"));
    }
}

const REGIONS: [&str; 13] =
    ["head", "findings", "fit", "cloths", "draft", "setting", "piece", "fall", "cut", "lap", "true", "join", "finish"];

/// Everything there is to see of a quilt.
fn every_page(text: &str) {
    let mut reader = Reader::of(text);
    let quilt = seamfall_model::read(text).expect("it is a quilt");
    let plan = seamfall_plan::plan(&quilt);
    let block = quilt.blocks[0].key.clone();
    let section = plan.top.sections[0].name.clone();
    let mut pages: Vec<String> = [
        "/quilts",
        "/begin",
        "~",
        "/nothing",
        "~/versions",
        "~/print",
        "~/share",
        "~/sewing",
        "~/sewn",
        "~/drape",
        "~/draw",
        "~/own",
    ]
    .map(str::to_owned)
    .into();
    pages.extend(REGIONS.map(|region| format!("~/region/{region}")));
    pages.extend(quilt.cloths.iter().map(|cloth| format!("~/cloth/{}", cloth.key)));
    pages.extend([
        format!("~/draw/{block}"),
        format!("~/section/{section}"),
        "~/mats?mat=24x36&gap=1/8&face=up".to_owned(),
        "~/mats?mat=large".to_owned(),
        "~/find?for=".to_owned(),
        "~/find?for=a".to_owned(),
        "~/turning?revision=1&step=0".to_owned(),
        "~/settings?standing=&parity=&from=6&to=12&steps=half&within=2".to_owned(),
        "~/state?about=A1&shown=set".to_owned(),
        "~/quilt.svg".to_owned(),
        "~/edge.svg".to_owned(),
        "~/join/1.svg".to_owned(),
        "~/corner/1.svg".to_owned(),
        "~/book.pdf?paper=none".to_owned(),
        format!("~/section/{section}/0.svg"),
        format!("~/templates/{block}/a.svg"),
    ]);
    let places = plan.top.places.iter().take(2).map(|place| place.name.clone());
    let patches = plan.top.places.iter().take(2).flat_map(|place| [1, 2].map(|patch| format!("{}.p{patch}", place.name)));
    let mut kinds = Vec::new();
    let mut strips = Vec::new();
    for strip in &plan.top.strips {
        let kind = std::mem::discriminant(&strip.kind);
        if !kinds.contains(&kind) {
            kinds.push(kind);
            strips.push(strip.name.clone());
        }
    }
    let elements: Vec<String> = places.chain(patches).chain(strips).collect();
    for element in elements {
        pages.extend(["", "lap:", "true:"].map(|stage| format!("~/about/{stage}{element}")));
    }
    pages.push("~/about/A1.p1~A1.p2".to_owned());
    for page in pages {
        reader.page(&page);
    }
    reader.ends();
}

#[test]
fn pages_of_a_small_quilt_are_in_the_language() {
    every_page(SMALL);
}

#[test]
fn pages_of_a_large_quilt_are_in_the_language() {
    every_page(seamfall_web::demo_quilts()[0].1);
}

#[test]
fn pages_of_a_quilt_on_point_are_in_the_language() {
    every_page(seamfall_web::demo_quilts()[2].1);
}

#[test]
fn pages_of_a_quilt_in_centimetres_are_in_the_language() {
    every_page(seamfall_web::demo_quilts()[3].1);
}

/// What is told after an edit, and why one cannot be made.
#[test]
fn answers_to_edits_are_in_the_language() {
    let mut reader = Reader::of(SMALL);
    for edit in [
        json!({ "do": "turn", "row": 0, "number": 0, "times": 1 }),
        json!({ "do": "mirror", "row": 0, "number": 1 }),
        json!({ "do": "exchange", "row": 0, "number": 0, "with_row": 1, "with_number": 1 }),
        json!({ "do": "put", "row": 0, "number": 0, "block": "plain" }),
        json!({ "do": "put", "row": 0, "number": 0, "block": "missing" }),
        json!({ "do": "resize", "rows": 3, "columns": 2 }),
        json!({ "do": "set", "path": ["lap", "minutes-a-foot"], "value": "5" }),
        json!({ "do": "set", "path": ["band", "0", "width"], "value": "as wide as the sea" }),
        json!({ "do": "set", "path": ["cloth", "rust", "value"], "value": "dark" }),
        json!({ "do": "remove", "path": ["cloth", "night"] }),
        json!({ "do": "remove", "path": ["cloth", "rust"] }),
        json!({ "do": "add-cloth", "key": "", "name": "Rust", "colour": "#123456" }),
        json!({ "do": "bed", "standard": "us queen" }),
        json!({ "do": "edge", "edge": "prairie-points", "cloth": null }),
        json!({ "do": "add-quilting", "on": "block half", "design": "in-the-ditch" }),
        json!({ "do": "add-sashing", "width": "1", "cloth": "day" }),
        json!({ "do": "pressings", "pressings": 2 }),
        json!({ "do": "fall", "between": ["half.p1", "half.p2"], "to": "open" }),
    ] {
        reader.edit(&edit);
    }
    for step in ["~/undo", "~/redo"] {
        let body = json!({ "revision": reader.revision(), "about": "" });
        reader.send(step, &body);
    }
    reader.send("~/undo", &json!({ "revision": -1, "about": "" }));
    for manner in ["alike", "rows", "checks", "sideways"] {
        let body = json!({ "revision": reader.revision(), "about": "", "manner": manner, "block": "", "seed": 1 });
        reader.send("~/shuffle", &body);
    }
    let body = json!({ "name": "calm" });
    reader.send("~/versions", &body);
    reader.page("~/versions?with=0,1");
    reader.ends();
}

/// The sheet on which a block is drawn.
#[test]
fn the_sheet_of_a_block_is_in_the_language() {
    let mut reader = Reader::of(SMALL);
    let mut drawing = json!({ "name": "Half and half", "shape": "square", "size": "6", "grid": [4, 4], "seams": [], "parts": [], "overlay": [] });
    for act in [
        json!({ "act": { "do": "line", "from": [0, 0], "to": [4, 4] } }),
        json!({ "act": { "do": "arc", "from": [0, 4], "to": [4, 0], "through": [3, 3] } }),
        json!({ "act": { "do": "line", "from": [1, 0], "to": [2, 1] } }),
        json!({ "paint": { "cloth": "night", "at": [1, 3] } }),
        json!({ "paint": { "cloth": "day" } }),
        json!({ "act": { "do": "shape", "shape": "hexagon" } }),
        json!({ "paint": { "cloth": "none" } }),
    ] {
        let mut body = json!({ "drawing": drawing });
        body.as_object_mut().expect("an object").extend(act.as_object().expect("an object").clone());
        let sheet = reader.send("~/drawing", &body);
        if sheet["drawing"].is_object() {
            drawing = sheet["drawing"].clone();
        }
    }
    reader.send("~/drawing/arcs", &json!({ "drawing": drawing, "ends": [0, 0, 2, 2] }));
    reader.ends();
}

/// A class, from its beginning to what is printed.
#[test]
fn pages_of_a_class_are_in_the_language() {
    let mut reader = Reader::of(seamfall_web::demo_quilts()[1].1);
    reader.page("~/class");
    reader.send("~/class/begin", &json!({ "revision": 0, "name": "Evenings", "students": 2, "last_day": "2027-05-27" }));
    reader.page("~/class");
    reader.page("~/class/state");
    let at = reader.served.url("~/class/state");
    let revision = || -> Value {
        reqwest::blocking::get(&at).expect("the server answers").json::<Value>().expect("data")["revision"].clone()
    };
    for edit in [
        json!({ "do": "add-student", "name": "Rust" }),
        json!({ "do": "set", "path": ["schedule", "lesson-hours"], "value": 4 }),
        json!({ "do": "set", "path": ["student", "0", "rows"], "value": 400 }),
        json!({ "do": "add-lesson", "work": ["cut"] }),
    ] {
        let body = json!({ "revision": revision(), "edit": edit });
        reader.send("~/class/edit", &body);
    }
    let body = json!({ "revision": revision() });
    reader.send("~/class/undo", &body);
    reader.ends();
}

/// Words that the scripts say are served in the language, and asked for by every page.
#[test]
fn the_scripts_are_in_the_language() {
    let mut reader = Reader::of(SMALL);
    reader.page("/nothing");
    let page = reqwest::blocking::get(reader.served.url("/quilts")).expect("the server answers").text().expect("text");
    assert!(page.contains(r#"<html lang="x-made-up">"#) && page.contains(r#"src="/assets/words.js""#), "{}", &page[..600]);
    let script = reqwest::blocking::get(reader.served.url("/assets/words.js")).expect("the server answers").text().expect("text");
    let words = script.strip_prefix("const words = ").and_then(|rest| rest.trim_end().strip_suffix(';')).expect("one constant");
    let words: Value = serde_json::from_str(words).expect("data");
    let words = words.as_object().expect("an object");
    assert!(words.len() > 40, "{} messages", words.len());
    for (english, said) in words {
        assert_eq!(said, &json!(format!("⟦{english}⟧")));
    }
}

/// In English nothing is asked for.
#[test]
fn english_needs_no_words() {
    let served = Served::quilt(SMALL);
    let page = reqwest::blocking::get(served.url("/quilts")).expect("the server answers").text().expect("text");
    assert!(page.contains(r#"<html lang="en">"#) && !page.contains("words.js"));
}
