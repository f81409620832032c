//! What a member is offered who may not do everything with a quilt: a looker, a ticker and an editor go through the same pages.
//!
//! Source of what is expected: the table of what each address needs (`src/guild/needs.rs`), and the roles as `docs/guild.md` states them. That nothing
//! else is offered is no list of controls: `offered.js` uses whatever is enabled, and what it asks for is held against the table.

use crate::common::SMALL;
use crate::driven::{Page, Window, axe_on};
use crate::guild::{Browser, Guild};
use crate::guild_pages::{go, sends};
use serde_json::json;
use std::collections::BTreeSet;
use std::future::Future;

const STAGES: [&str; 11] = ["fit", "cloths", "draft", "set", "piece", "fall", "cut", "lap", "true", "join", "finish"];

/// Parts in a quilt, from the least on; whoever has one may do what those before it may.
const PARTS: [&str; 4] = ["Look", "Tick", "Edit", "Make"];

/// What a request needs by the table: 0 for nothing or a member, else 1 for looking, 2 for ticking off and so on; nothing where it is not served.
fn needed(asked: &str) -> Option<usize> {
    let (method, address) = asked.split_once(' ').expect("a method and an address");
    let lines = include_str!("../../src/guild/needs.rs").lines().filter_map(|line| line.trim().strip_prefix("(\""));
    let rows = lines.filter_map(|line| {
        let mut quoted = line.split('"');
        let (of, path) = (quoted.next()?, quoted.nth(1)?);
        Some((of, path, quoted.next()?.trim_start_matches([',', ' ']).trim_end_matches([',', ')', ' '])))
    });
    let is_at = |path: &str| {
        let (path, address): (Vec<_>, Vec<_>) = (path.split('/').collect(), address.split('/').collect());
        path.len() == address.len() && path.iter().zip(&address).all(|(part, here)| part.starts_with('{') || part == here)
    };
    let fitting = rows.filter(|(of, path, _)| *of == method && is_at(path));
    let (.., needs) = fitting.min_by_key(|(_, path, _)| path.matches('{').count())?;
    match needs {
        "Nothing" | "Member" | "Photo" => Some(0),
        "Shut" | "Keeper" => None,
        on => Some(1 + PARTS.iter().position(|part| on == format!("On({part}")).expect("a part")),
    }
}

/// A quilt of Ruth's that has all that can be looked at, in which Mei, who is not in yet, will have a part.
struct Shared {
    guild: Guild,
    ruth: Browser,
    quilt: i64,
    invitation: String,
}

fn shared() -> Shared {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let invitation = keeper.invite("member");
    let text = SMALL
        .replacen("measure = \"inch\"", "measure = \"inch\"\nlargest-section = \"8\"", 1)
        .replacen("[[band]]", "[sashing]\nwidth = \"1\"\ncloth = \"rust\"\n\n[frame.thin]\nstrips = [{ width = \"1\", cloth = \"rust\" }]\ncorners = \"mitred\"\n\n[[band]]", 1);
    let quilt = ruth.quilt(&format!(
        "{text}\n[bed]\nstandard = \"us twin\"\nheight = 20\n\n[[quilting]]\non = \"half\"\ndesign = \"outline\"\n"
    ));
    assert_eq!((ruth.edits(quilt), ruth.edits(quilt), ruth.ticks(quilt)), (200, 200, 200));
    let at = |path: &str| format!("/q/{quilt}/{path}");
    let revision = || ruth.text(&at("revision")).parse::<i64>().expect("a number");
    assert_eq!(ruth.post(&at("undo"), &json!({ "revision": revision(), "about": "" })).status(), 200);
    assert_eq!(ruth.post(&at("versions"), &json!({ "name": "calm" })).status(), 200);
    let begin = json!({ "revision": 0, "name": "Thursdays", "students": 2, "last_day": "2026-12-01" });
    assert_eq!(ruth.post(&at("class/begin"), &begin).status(), 200);
    let student = json!({ "revision": 1, "edit": { "do": "add-student", "name": "Ines" } });
    assert_eq!(ruth.post(&at("class/edit"), &student).status(), 200);
    Shared { guild, ruth, quilt, invitation }
}

const MEI: i64 = 3;

impl Shared {
    /// Mei's browser, in which she joins.
    async fn mei(&self, window: Window) -> Page {
        let page = Page::open(&format!("http://{}/join/{}", self.guild.address, self.invitation), window).await;
        page.read("document.getElementById('join-name').value = 'Mei'; return 0").await;
        sends(&page, "main form", "You are a member").await;
        page
    }

    fn lets(&self, may: &str) {
        // Her blocking client has a runtime of its own, which cannot be within another.
        std::thread::scope(|other| {
            other.spawn(|| assert_eq!(self.ruth.shares(self.quilt, MEI, may), 303)).join().expect("it is shared")
        });
    }

    fn path(&self, page: &str) -> String {
        format!("/q/{}{page}", self.quilt)
    }
}

fn block_on(test: impl Future<Output = ()>) {
    tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime").block_on(test);
}

/// What is asked for by one who uses all that she is offered on every page of the quilt.
async fn asked(shared: &Shared, page: &Page) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    for path in ["", "/sewing", "/versions", "/class", "/print", "/drape", "/section/S1", "/cloth/night"] {
        go(page, &shared.path(path)).await;
        // A script of its own for each step: a browser on a busy machine takes its time.
        let mut steps = vec!["useAll()".to_owned()];
        if path.is_empty() {
            steps.extend(STAGES.iter().map(|stage| format!("useStage('{stage}')")));
            steps.extend(["set", "lap", "true"].map(|stage| format!("useAbout('{stage}')")));
            steps.push("useSeam()".to_owned());
        }
        page.read(&format!("(0, eval)({}); return 0", json!(include_str!("offered.js")))).await;
        for step in steps {
            let script = format!("{step}.then(() => done([...recorded]), (error) => done([`${{error.stack}}`]));");
            let found = page.wait_long_for(&script).await;
            for one in found.as_array().expect("a list") {
                let one = one.as_str().expect("a text");
                assert!(one.starts_with("GET /") || one.starts_with("POST /"), "{path}: {one}");
                all.insert(one.to_owned());
            }
        }
    }
    all
}

/// Nothing is offered that would be refused, and what may be done is.
fn offers_what_she_may(may: &str, also: &[&str], not: &[&str]) {
    let shared = shared();
    block_on(async {
        let page = shared.mei(Window::Desk).await;
        shared.lets(may);
        let all = asked(&shared, &page).await;
        let may = 1 + PARTS.iter().position(|part| part.to_lowercase() == may).expect("a part");
        let requests = || all.iter();
        let refused: Vec<_> = requests().filter(|one| needed(one).is_none_or(|needed| needed > may)).collect();
        assert_eq!(refused, Vec::<&String>::new(), "offered, and refused");
        let has = |one: &&&str| {
            let (method, path) = one.split_once(' ').expect("a method");
            requests().any(|each| *each == format!("{method} {}", shared.path(path)))
        };
        assert_eq!(also.iter().filter(|one| !has(one)).collect::<Vec<_>>(), Vec::<&&str>::new(), "not offered");
        assert_eq!(not.iter().filter(has).collect::<Vec<_>>(), Vec::<&&str>::new());
        assert!(requests().any(|one| one.ends_with("/way.json")), "the needle is not played");
    });
}

const TO_SEE: [&str; 10] = [
    "GET /file",
    "GET /book.pdf",
    "GET /print",
    "GET /quilt.svg",
    "GET /versions",
    "GET /sewing",
    "GET /class",
    "GET /find",
    "POST /cloth/search",
    "GET /settings",
];
const TO_TICK: [&str; 2] = ["POST /ledger", "POST /tick"];
const TO_EDIT: [&str; 12] = [
    "POST /edit",
    "POST /undo",
    "POST /redo",
    "POST /shuffle",
    "POST /versions",
    "POST /class/edit",
    "POST /class/undo",
    "POST /class/file",
    "POST /ledger/import",
    "POST /cloth/night/photo",
    "GET /draw",
    "POST /versions/1/name",
];

#[test]
fn a_looker_is_offered_to_look() {
    offers_what_she_may("look", &TO_SEE, &[&TO_TICK[..], &TO_EDIT].concat());
}

#[test]
fn a_ticker_is_offered_to_look_and_to_tick_off() {
    offers_what_she_may("tick", &[&TO_SEE[..], &TO_TICK].concat(), &TO_EDIT);
}

#[test]
fn an_editor_is_offered_all_but_what_is_the_makers() {
    offers_what_she_may("edit", &[&TO_SEE[..], &TO_TICK, &TO_EDIT].concat(), &["GET /members", "GET /share"]);
}

/// Nothing is wrong with the page, and nothing is wider than the window.
async fn sound(page: &Page, what: &str) {
    assert_eq!(page.wait_for(&axe_on("document")).await, json!([]), "{what}");
    assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true, "{what}");
}

/// Every stage as a looker sees it: axe finds nothing, all fits the window, and what stands in the quilt can be read.
fn holds(window: Window) {
    let shared = shared();
    block_on(async {
        let page = shared.mei(window).await;
        shared.lets("look");
        go(&page, &shared.path("")).await;
        let whose = page.read("return document.querySelector('.whose').textContent").await;
        assert_eq!(whose, "Ruth makes this quilt. You may look; to tick off what is sewn or to change it, ask Ruth.");
        for stage in STAGES {
            page.read(&format!("stage('{stage}'); return 0")).await;
            page.settle().await;
            sound(&page, stage).await;
        }
        page.read("stage('set'); return 0").await;
        assert_eq!(page.read("return document.getElementById('quilt-name').value").await, "Small");
        page.read("choose('A1.p1', true); return 0").await;
        page.settle().await;
        sound(&page, "a patch").await;
        assert!(page.read("return document.getElementById('about').textContent").await.to_string().contains("Cut size"));
        for path in ["/sewing", "/versions", "/class"] {
            go(&page, &shared.path(path)).await;
            assert_eq!(page.read("return document.querySelectorAll('.whose').length").await, 1, "{path}");
            sound(&page, path).await;
        }
        page.close().await;
    });
}

#[test]
fn what_a_looker_sees_holds_on_a_desk() {
    holds(Window::Desk);
}

#[test]
fn what_a_looker_sees_holds_on_a_phone() {
    holds(Window::Phone);
}

#[test]
fn a_page_says_that_a_part_was_changed_while_it_was_open() {
    let shared = shared();
    block_on(async {
        let page = shared.mei(Window::Desk).await;
        shared.lets("edit");
        go(&page, &shared.path("")).await;
        let change = "return document.getElementById('changed-since')?.textContent ?? ''";
        assert_eq!(page.read(change).await, "");
        shared.lets("look");
        // The refusal itself says it.
        page.read("send('undo'); return 0").await;
        page.settle().await;
        assert_eq!(
            page.read(change).await,
            "What you may do with this quilt was changed while this page was open.Show the page anew"
        );
        page.click("#changed-since button").await;
        page.until("return document.readyState === 'complete' && document.documentElement.dataset.may === 'look'").await;
        assert_eq!(page.read(change).await, "");
        assert_eq!(page.read("return document.getElementById('undo')").await, json!(null));
        // Without anything being done, within the time in which a page looks whether the quilt was changed.
        shared.lets("tick");
        let until = |is: &str| format!("const look = () => ({is} ? done(true) : setTimeout(look, 50)); look()");
        page.wait_for(&until("document.getElementById('changed-since')")).await;
        go(&page, &shared.path("/sewing")).await;
        shared.lets("nothing");
        page.wait_for(&until("document.querySelector('#changed-since button')?.textContent === 'All quilts'")).await;
    });
}
