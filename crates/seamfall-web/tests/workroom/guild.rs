//! A guild from outside: who is let in, to what, and who is not. The tests try to get in.
//!
//! Source of what is expected: the roles and keys as `docs/guild.md` states them; the ways tried are those of the OWASP web security testing guide
//! (session fixation, forged and stolen cookies, direct references to what is another's, path traversal, cross-site requests).

use crate::common::SMALL;
use reqwest::blocking::{Client, Response};
use reqwest::redirect::Policy;
use seamfall_store::{InvitationId, Store};
use serde_json::{Value, json};
use std::net::SocketAddr;
use std::path::PathBuf;

/// A guild that is served until the test ends.
pub struct Guild {
    pub address: SocketAddr,
    /// The first keeper's invitation.
    pub first: String,
    pub folder: tempfile::TempDir,
    _runtime: tokio::runtime::Runtime,
}

impl Guild {
    /// A guild without a member.
    pub fn new() -> Self {
        Self::at(None)
    }

    /// One that is reached from outside at a name.
    fn at(name: Option<&str>) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("seamfall.sqlite")).expect("a new store opens");
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().expect("a runtime");
        let listener = runtime.block_on(tokio::net::TcpListener::bind("127.0.0.1:0")).expect("a free port");
        let address = listener.local_addr().expect("it listens");
        let public = name.map_or_else(|| seamfall_web::guild::Address::plain(address), |name| name.parse().expect("an address"));
        let first = seamfall_web::guild::invite_keeper(&store, &public).expect("it is written");
        let first = first.split_once("/join/").expect("a link").1.to_owned();
        runtime.spawn(seamfall_web::guild::serve(listener, store, "Patch and Thimble", public, std::future::pending()));
        Self { address, first, folder, _runtime: runtime }
    }

    fn store(&self) -> Store {
        Store::open(&self.file()).expect("it opens")
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("seamfall.sqlite")
    }

    /// A browser without a cookie.
    pub fn stranger(&self) -> Browser {
        let client = Client::builder().redirect(Policy::none()).build().expect("a client");
        Browser { client, at: format!("http://{}", self.address), cookie: String::new() }
    }

    /// A browser of one who joins with an invitation, and her way back.
    pub fn joined(&self, invitation: &str, name: &str) -> (Browser, String) {
        let mut browser = self.stranger();
        let answer = browser.form(&format!("/join/{invitation}"), &[("name", name)]);
        assert_eq!(answer.status(), 200);
        browser.cookie = cookie(&answer).expect("she is signed in");
        let page = answer.text().expect("a page");
        (browser, written(&page))
    }

    /// A keeper and a member, each with her browser.
    pub fn two(&self) -> (Browser, Browser) {
        let (keeper, _) = self.joined(&self.first, "Ada");
        let (member, _) = self.joined(&keeper.invite("member"), "Ruth");
        (keeper, member)
    }
}

/// A browser, or what pretends to be one.
#[derive(Clone)]
pub struct Browser {
    client: Client,
    at: String,
    pub cookie: String,
}

/// What an answer sets, `name=key`.
fn cookie(answer: &Response) -> Option<String> {
    let set = answer.headers().get("set-cookie")?.to_str().expect("text").to_owned();
    Some(set.split(';').next().expect("a cookie").to_owned())
}

/// The key that a page shows to be written down.
fn written(page: &str) -> String {
    let (_, rest) = page.split_once("class=\"written\">").expect("a key is shown");
    rest.split('<').next().expect("it ends").to_owned()
}

impl Browser {
    fn get(&self, path: &str) -> Response {
        self.client.get(format!("{}{path}", self.at)).header("cookie", &self.cookie).send().expect("an answer")
    }

    fn status(&self, path: &str) -> u16 {
        self.get(path).status().as_u16()
    }

    pub fn text(&self, path: &str) -> String {
        let answer = self.get(path);
        assert_eq!(answer.status(), 200, "{path}");
        answer.text().expect("a page")
    }

    fn form(&self, path: &str, fields: &[(&str, &str)]) -> Response {
        let body = fields.iter().map(|(name, value)| format!("{name}={value}")).collect::<Vec<_>>().join("&");
        let request = self.client.post(format!("{}{path}", self.at)).header("cookie", &self.cookie);
        request.header("content-type", "application/x-www-form-urlencoded").body(body).send().expect("an answer")
    }

    pub fn post(&self, path: &str, body: &Value) -> Response {
        self.client.post(format!("{}{path}", self.at)).header("cookie", &self.cookie).json(body).send().expect("an answer")
    }

    /// Invites, and gives the key of the link.
    pub fn invite(&self, role: &str) -> String {
        let page = self.form("/members/invite", &[("role", role), ("days", "7")]).text().expect("a page");
        let (_, rest) = page.split_once("/join/").expect("the link is shown");
        rest.split(['"', '<']).next().expect("it ends").to_owned()
    }

    /// Brings a quilt in, and gives its number.
    pub fn quilt(&self, text: &str) -> i64 {
        let request = self.client.post(format!("{}/import", self.at)).header("cookie", &self.cookie).body(text.to_owned());
        let open: Value = request.send().expect("an answer").json().expect("where it is");
        open["open"].as_str().expect("a page").rsplit('/').next().expect("a number").parse().expect("a number")
    }

    /// Tries an edit, and gives what became of it.
    pub fn edits(&self, quilt: i64) -> u16 {
        let revision =
            self.get(&format!("/q/{quilt}/revision")).text().ok().and_then(|text| text.parse::<i64>().ok()).unwrap_or(1);
        let edit = json!({ "do": "turn", "row": 0, "number": 0, "times": 1 });
        self.post(&format!("/q/{quilt}/edit"), &json!({ "revision": revision, "about": "", "edit": edit })).status().as_u16()
    }

    /// Tries to tick something off.
    pub fn ticks(&self, quilt: i64) -> u16 {
        let revision =
            self.get(&format!("/q/{quilt}/revision")).text().ok().and_then(|text| text.parse::<i64>().ok()).unwrap_or(1);
        let edit = json!({ "do": "state", "sections": ["S1"], "state": "cut", "date": "2026-03-07" });
        self.post(&format!("/q/{quilt}/tick"), &json!({ "revision": revision, "edit": edit })).status().as_u16()
    }

    pub fn shares(&self, quilt: i64, member: i64, may: &str) -> u16 {
        self.form(&format!("/q/{quilt}/members"), &[("member", &member.to_string()), ("may", may)]).status().as_u16()
    }
}

const ADA: i64 = 1;
const RUTH: i64 = 2;

#[test]
fn without_a_cookie_only_the_way_in_is_open() {
    let guild = Guild::new();
    let (keeper, _) = guild.two();
    let quilt = keeper.quilt(SMALL);
    let stranger = guild.stranger();
    for path in ["/", "/quilts", "/members", "/me", "/begin", "/nowhere", "/demo/lamplight.svg", "/own/1.svg"] {
        let answer = stranger.get(path);
        assert_eq!((answer.status().as_u16(), answer.headers()["location"].to_str().unwrap()), (303, "/sign-in"), "{path}");
    }
    let to = stranger.get(&format!("/q/{quilt}/sewing")).headers()["location"].to_str().unwrap().to_owned();
    assert_eq!(to, format!("/sign-in?to=/q/{quilt}/sewing"), "she is led on to it afterwards");
    for path in ["/sign-in", "/assets/workroom.css", "/sign-in?to=https://elsewhere.example"] {
        assert_eq!(stranger.status(path), 200, "{path}");
    }
    for path in ["/import", "/begin", "/new/lamplight", "/members/invite", "/sign-out", "/own", "/drawing"] {
        assert_eq!(stranger.post(path, &json!({})).status(), 401, "{path}");
    }
    assert_eq!(stranger.edits(quilt), 401);
}

#[test]
fn a_forged_cookie_is_nobody() {
    let guild = Guild::new();
    let (keeper, member) = guild.two();
    let (name, key) = keeper.cookie.split_once('=').expect("a cookie");
    let (number, letters) = key.split_once('-').expect("a number and a key");
    let other = member.cookie.split_once('-').expect("a key").1;
    let flipped = if letters.ends_with('0') { "1" } else { "0" };
    for forged in [
        format!("{number}-{}", "0".repeat(32)),
        format!("{number}-{}{flipped}", &letters[..31]),
        format!("{number}-{other}"),
        format!("{number}-"),
        format!("99-{letters}"),
        letters.to_owned(),
        format!("{number}-{letters}0"),
        format!("{number} OR 1=1-{letters}"),
        String::new(),
    ] {
        let browser = Browser { cookie: format!("{name}={forged}"), ..keeper.clone() };
        assert_eq!(browser.status("/quilts"), 303, "{forged}");
    }
    assert_eq!(keeper.status("/quilts"), 200);
    // What is in the store opens nothing: it holds hashes.
    let stored = std::fs::read(guild.file()).expect("the store");
    assert!(!stored.windows(letters.len()).any(|part| part == letters.as_bytes()));
}

#[test]
fn anothers_quilt_is_not_there() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let (mei, _) = guild.joined(&keeper.invite("member"), "Mei");
    let quilt = ruth.quilt(SMALL);
    let gone = quilt + 50;
    let is_alike =
        |one: &str, other: &str| one.replace(&format!("quilt {quilt} "), "") == other.replace(&format!("quilt {gone} "), "");
    for path in
        ["", "/file", "/state?about=", "/book.pdf", "/plan.json", "/sewing", "/versions", "/members", "/photo/a.jpg", "/draw"]
    {
        let (hers, none) = (mei.get(&format!("/q/{quilt}{path}")), mei.get(&format!("/q/{gone}{path}")));
        assert_eq!((hers.status().as_u16(), none.status().as_u16()), (404, 404), "{path}");
        assert!(is_alike(&hers.text().unwrap(), &none.text().unwrap()), "{path} tells that it is there");
    }
    assert_eq!((mei.edits(quilt), mei.ticks(quilt), mei.shares(quilt, 3, "edit")), (404, 404, 404));
    for path in
        ["undo", "redo", "remove", "ledger", "ledger/import", "class/edit", "drawing/save", "versions", "cloth/day/photo?width=1"]
    {
        assert_eq!(mei.post(&format!("/q/{quilt}/{path}"), &json!({})).status(), 404, "{path}");
    }
    assert!(!mei.text("/quilts").contains("Small"));
    // A keeper sees it, and that is all.
    assert!(keeper.text("/quilts").contains("Small"));
    assert_eq!(keeper.status(&format!("/q/{quilt}")), 200);
    assert_eq!((keeper.edits(quilt), keeper.ticks(quilt), keeper.shares(quilt, ADA, "edit")), (403, 403, 403));
    assert_eq!(ruth.edits(quilt), 200);
}

#[test]
fn what_is_left_over_goes_into_no_quilt_of_anothers() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let (hers, other) = (ruth.quilt(SMALL), keeper.quilt(SMALL));
    let before = keeper.text(&format!("/q/{other}/file"));
    let answer = ruth.post(&format!("/q/{hers}/cloth/day/keep"), &json!({ "into": other }));
    assert_eq!(answer.status(), 403);
    assert_eq!(keeper.text(&format!("/q/{other}/file")), before);
    assert!(!ruth.text(&format!("/q/{hers}/cloth/day")).contains(&format!("value=\"{other}\"")), "it is not offered");
}

#[test]
fn each_part_in_a_quilt_allows_what_it_says() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let (mei, _) = guild.joined(&keeper.invite("member"), "Mei");
    let quilt = ruth.quilt(&SMALL.replacen("measure = \"inch\"", "measure = \"inch\"\nlargest-section = \"8\"", 1));
    for (may, edits, ticks) in [("look", 403, 403), ("tick", 403, 200), ("edit", 200, 200)] {
        assert_eq!(ruth.shares(quilt, 3, may), 303);
        assert!(mei.text("/quilts").contains("Small"));
        assert_eq!(mei.status(&format!("/q/{quilt}")), 200);
        assert_eq!((may, mei.edits(quilt), mei.ticks(quilt)), (may, edits, ticks));
        assert_eq!(mei.text(&format!("/q/{quilt}/sewing")).contains("data-tick"), ticks == 200, "{may}");
        let undo = mei.post(&format!("/q/{quilt}/undo"), &json!({ "revision": 0, "about": "" })).status().as_u16();
        assert_eq!(undo, edits, "{may}");
        // None of them shares it on, takes it away, or opens the door of a single machine.
        assert_eq!((mei.shares(quilt, 3, "edit"), mei.status(&format!("/q/{quilt}/members"))), (403, 403), "{may}");
        assert_eq!(mei.post(&format!("/q/{quilt}/remove"), &json!({})).status(), 403);
        assert_eq!(mei.post(&format!("/q/{quilt}/share"), &json!({ "do": "give", "role": "tick", "hours": 1 })).status(), 403);
    }
    assert_eq!(ruth.shares(quilt, 3, "make"), 422, "nobody is made its maker");
    assert_eq!(ruth.shares(quilt, 3, "nothing"), 303);
    assert_eq!(mei.status(&format!("/q/{quilt}")), 404);
}

#[test]
fn the_words_of_undo_say_who_made_the_edit() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let quilt = ruth.quilt(SMALL);
    assert_eq!(ruth.shares(quilt, ADA, "edit"), 303);
    assert_eq!(keeper.edits(quilt), 200);
    assert!(ruth.text(&format!("/q/{quilt}")).contains("title=\"Ada: "), "undo tells that it was Ada");
}

#[test]
fn own_blocks_and_photographs_are_a_members_own() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let block = seamfall_model::write_own_block(&seamfall_model::starter_blocks()[0], seamfall_model::Measure::Inch);
    let kept = ruth.client.post(format!("{}/own", ruth.at)).header("cookie", &ruth.cookie).body(block).send().expect("an answer");
    assert_eq!(kept.status(), 200);
    assert_eq!((ruth.status("/own/1.svg"), keeper.status("/own/1.svg"), keeper.status("/own/1.toml")), (200, 404, 404));
    for path in ["/own/1/name", "/own/1/remove"] {
        assert_eq!(keeper.post(path, &json!({ "name": "Mine" })).status(), 404, "{path}");
    }
    let (hers, other) = (ruth.quilt(SMALL), keeper.quilt(SMALL));
    assert_eq!(keeper.status(&format!("/q/{other}/draw?from=own:1")), 404);
    assert!(!keeper.text(&format!("/q/{other}/own")).contains("/own/1.svg"));
    assert!(ruth.text(&format!("/q/{hers}/own")).contains("/own/1.svg"));
    // A photograph is reached through a quilt that shows it, and not by its name alone.
    let (mei, _) = guild.joined(&keeper.invite("member"), "Mei");
    let photo = seamfall_store::NewPhoto { name: "moss.jpg", hash: "0abc", bytes: b"picture", luminance: 0.5 };
    guild.store().put_photo(seamfall_store::QuiltId(hers), photo).expect("it is kept");
    let sees = |who: &Browser| who.status("/photo/0abc/colours.jpg");
    assert_eq!((sees(&ruth), sees(&mei), sees(&guild.stranger())), (200, 404, 303));
    assert_eq!(ruth.shares(hers, 3, "look"), 303);
    assert_eq!(sees(&mei), 200);
}

#[test]
fn an_invitation_is_used_once_ends_and_is_taken_back() {
    let guild = Guild::new();
    let (keeper, _) = guild.joined(&guild.first, "Ada");
    let closed = |key: &str, why: &str| {
        let stranger = guild.stranger();
        assert_eq!(stranger.status(&format!("/join/{key}")), 404, "{why}");
        let tried = stranger.form(&format!("/join/{key}"), &[("name", "Eve")]);
        assert_eq!((tried.status().as_u16(), cookie(&tried)), (404, None), "{why}");
    };
    closed(&guild.first, "used");
    let back = keeper.invite("member");
    assert_eq!(guild.stranger().status(&format!("/join/{back}")), 200, "looking does not use it up");
    assert_eq!(guild.stranger().status(&format!("/join/{back}")), 200);
    assert_eq!(guild.stranger().form(&format!("/join/{back}"), &[("name", " ")]).status(), 422);
    let number = back.split('-').next().expect("a number");
    assert_eq!(keeper.form(&format!("/members/invitation/{number}/take-back"), &[]).status(), 303);
    closed(&back, "taken back");
    // One that has ended: its hour is set back in the store.
    let late = keeper.invite("keeper");
    let database = rusqlite_times(&guild.file(), late.split('-').next().expect("a number"));
    assert_eq!(database, 1);
    closed(&late, "over");
    for wrong in [&format!("{number}-{}", "0".repeat(32)), "x", "1-"] {
        closed(wrong, "wrong");
    }
    let names: Vec<_> = guild.store().members().expect("a list").into_iter().map(|member| member.name).collect();
    assert_eq!(names, ["Ada"]);
    assert!(guild.store().invitation(InvitationId(1), 0).is_err());
}

/// Lets an invitation end a moment ago; how many there were.
fn rusqlite_times(file: &std::path::Path, number: &str) -> usize {
    let database = rusqlite::Connection::open(file).expect("it opens");
    database.execute("UPDATE invitation SET ends = unixepoch() - 1 WHERE id = ?1", [number]).expect("it is there")
}

#[test]
fn only_keepers_invite_change_roles_and_take_away() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    for (path, fields) in [
        ("/members/invite", &[("role", "keeper"), ("days", "7")][..]),
        ("/members/member/2/role", &[("role", "keeper")]),
        ("/members/member/1/remove", &[]),
        ("/members/member/1/way-back", &[]),
        ("/members/invitation/1/take-back", &[]),
    ] {
        assert_eq!(ruth.form(path, fields).status(), 403, "{path}");
    }
    let page = ruth.text("/members");
    assert!(page.contains("Ada") && !page.contains("<form"), "a member sees who is there, and nothing to do about it");
    // The last keeper stays one.
    assert_eq!(keeper.form("/members/member/1/role", &[("role", "member")]).status(), 409);
    assert_eq!(keeper.form("/members/member/1/remove", &[]).status(), 422);
    assert_eq!(keeper.form("/members/member/2/role", &[("role", "keeper")]).status(), 303);
    assert_eq!(ruth.form("/members/member/1/role", &[("role", "member")]).status(), 303);
    assert_eq!(keeper.form("/members/invite", &[("role", "keeper"), ("days", "7")]).status(), 403, "it holds at once");
    for wrong in [[("role", "owner"), ("days", "7")], [("role", "member"), ("days", "365")]] {
        assert_eq!(ruth.form("/members/invite", &wrong).status(), 422);
    }
}

#[test]
fn a_member_taken_away_keeps_nothing_open() {
    let guild = Guild::new();
    let (keeper, _) = guild.joined(&guild.first, "Ada");
    let (ruth, back) = guild.joined(&keeper.invite("member"), "Ruth");
    let (quilt, shared) = (ruth.quilt(SMALL), keeper.quilt(&SMALL.replace("\"Small\"", "\"Other\"")));
    assert_eq!(keeper.shares(shared, RUTH, "edit"), 303);
    assert_eq!((ruth.edits(shared), ruth.edits(quilt)), (200, 200));
    assert_eq!(keeper.form("/members/member/2/remove", &[]).status(), 303);
    assert_eq!((ruth.edits(shared), ruth.edits(quilt), ruth.status("/quilts")), (401, 401, 303));
    assert_eq!(guild.stranger().form("/sign-in", &[("key", &back)]).status(), 403);
    assert_eq!(keeper.edits(quilt), 200, "her quilt goes to the keeper");
}

#[test]
fn the_way_back_lets_in_until_it_is_renewed_and_wrong_ones_are_counted() {
    let guild = Guild::new();
    let (first, back) = guild.joined(&guild.first, "Ada");
    let mut second = guild.stranger();
    let answer = second.form("/sign-in", &[("key", &back.to_uppercase())]);
    assert_eq!(answer.headers()["location"], "/quilts");
    let set = answer.headers()["set-cookie"].to_str().unwrap().to_owned();
    assert!(set.contains("; HttpOnly; SameSite=Lax; Path=/; Max-Age=7776000") && !set.contains("Secure"), "{set}");
    second.cookie = cookie(&answer).expect("she is signed in");
    assert_eq!((first.status("/quilts"), second.status("/quilts")), (200, 200));
    let onwards = |to: &str| {
        let answer = guild.stranger().form("/sign-in", &[("key", &back), ("to", to)]);
        answer.headers()["location"].to_str().unwrap().to_owned()
    };
    assert_eq!(onwards("/q/7/sewing"), "/q/7/sewing");
    for elsewhere in ["https://elsewhere.example", "//elsewhere.example", "/q//elsewhere", "/q/1%0d%0aset-cookie:a=b", "/q/../x"]
    {
        assert_eq!(onwards(elsewhere), "/quilts", "{elsewhere}");
    }
    let renewed = written(&second.form("/me/way-back", &[]).text().unwrap());
    assert_ne!(renewed, back);
    assert_eq!(guild.stranger().form("/sign-in", &[("key", &back)]).status(), 403);
    assert_eq!(guild.stranger().form("/sign-in", &[("key", &renewed)]).status(), 303);
    // Whoever has the browser signs it out, or all of them.
    assert_eq!(second.form("/sign-out", &[]).status(), 303);
    assert_eq!((first.status("/quilts"), second.status("/quilts")), (200, 303));
    assert_eq!(first.form("/sign-out-everywhere", &[]).status(), 303);
    assert_eq!(first.status("/quilts"), 303);
    // Wrong ones: some are answered, then nobody from there may try for a while, not even with the right one.
    let wrong = format!("1-{}", "0".repeat(32));
    let answers: Vec<u16> = (0..12).map(|_| guild.stranger().form("/sign-in", &[("key", &wrong)]).status().as_u16()).collect();
    assert!(answers[..8].iter().all(|&status| status == 403) && answers.ends_with(&[429]), "{answers:?}");
    assert_eq!(guild.stranger().form("/sign-in", &[("key", &renewed)]).status(), 429);
}

#[test]
fn a_keeper_lets_a_member_in_again_who_lost_her_key() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let page = keeper.form("/members/member/2/way-back", &[]).text().expect("a page");
    assert_eq!(ruth.status("/quilts"), 303, "whoever had it is signed out");
    let answer = guild.stranger().form("/sign-in", &[("key", &written(&page))]);
    let ruth = Browser { cookie: cookie(&answer).expect("she is signed in"), ..ruth };
    assert!(ruth.text("/me").contains("<h1>Ruth</h1>"));
}

/// Session fixation: a cookie that was planted in a browser before she signs in is worth nothing afterwards.
#[test]
fn signing_in_begins_a_session_that_nobody_knew_before() {
    let guild = Guild::new();
    let (keeper, back) = guild.joined(&guild.first, "Ada");
    let (eve, _) = guild.joined(&keeper.invite("member"), "Eve");
    for planted in [eve.cookie.clone(), format!("seamfall-member=77-{}", "a".repeat(32))] {
        let browser = Browser { cookie: planted.clone(), ..guild.stranger() };
        let signed = cookie(&browser.form("/sign-in", &[("key", &back)])).expect("she is signed in");
        assert_ne!(signed, planted);
        let known = Browser { cookie: planted, ..guild.stranger() };
        assert!(known.status("/me") != 200 || known.text("/me").contains("<h1>Eve</h1>"), "what was planted is not Ada's");
        assert!(Browser { cookie: signed, ..guild.stranger() }.text("/me").contains("<h1>Ada</h1>"));
    }
}

#[test]
fn tricks_with_paths_lead_nowhere() {
    let guild = Guild::new();
    let (keeper, ruth) = guild.two();
    let quilt = keeper.quilt(SMALL);
    let hers = ruth.quilt(SMALL);
    let raw = |path: &str| {
        use std::io::{Read, Write};
        let mut stream = std::net::TcpStream::connect(guild.address).expect("it listens");
        let request =
            format!("GET {path} HTTP/1.1\r\nhost: {}\r\ncookie: {}\r\nconnection: close\r\n\r\n", guild.address, ruth.cookie);
        stream.write_all(request.as_bytes()).expect("it is sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("an answer");
        String::from_utf8_lossy(&answer).into_owned()
    };
    for path in [
        format!("/q/{hers}/../{quilt}/file"),
        format!("/q/{hers}/%2e%2e/{quilt}/file"),
        format!("/q/%2e%2e/q/{quilt}/file"),
        format!("//q/{quilt}/file"),
        format!("/q/{hers}%2f..%2f{quilt}/file"),
        format!("/q/{quilt}%00/file"),
        format!("/q/0{quilt}/file"),
        format!("/q/+{quilt}/file"),
        format!("/q/{quilt}/FILE"),
        format!("/Q/{quilt}/file"),
        format!("/q/{quilt}/file/"),
        "/assets/..%2f..%2f..%2fetc%2fpasswd".to_owned(),
        "/assets/../../seamfall.sqlite".to_owned(),
        "/photo/../seamfall.sqlite/colours.jpg".to_owned(),
    ] {
        let answer = raw(&path);
        assert!(!answer.starts_with("HTTP/1.1 200"), "{path}: {answer}");
        assert!(!answer.contains("made by hand") && !answer.contains("root:"), "{path}");
    }
    assert!(raw(&format!("/q/{hers}/file")).contains("made by hand"));
}

#[test]
fn other_hosts_and_other_sites_are_refused() {
    let guild = Guild::at(Some("https://quilts.example"));
    let client = || Client::builder().redirect(Policy::none()).build().expect("a client");
    let at = |path: &str| format!("http://{}{path}", guild.address);
    let join = |host: &str, origin: Option<&str>, site: Option<&str>| {
        let request = client().post(at(&format!("/join/{}", guild.first))).header("host", host).body("name=Ada");
        let request = request.header("content-type", "application/x-www-form-urlencoded");
        let request = origin.map_or_else(
            || request.try_clone().expect("a body"),
            |origin| request.try_clone().expect("a body").header("origin", origin),
        );
        site.map_or_else(
            || request.try_clone().expect("a body"),
            |site| request.try_clone().expect("a body").header("sec-fetch-site", site),
        )
        .send()
        .expect("an answer")
    };
    for (host, origin, site) in [
        ("elsewhere.example", None, None),
        ("127.0.0.1", None, None),
        ("quilts.example:8080", None, None),
        ("quilts.example.elsewhere.example", None, None),
        ("quilts.example", Some("https://elsewhere.example"), None),
        ("quilts.example", Some("http://quilts.example"), None),
        ("quilts.example", Some("https://quilts.example.elsewhere.example"), None),
        ("quilts.example", Some("null"), None),
        ("quilts.example", None, Some("cross-site")),
        ("quilts.example", None, Some("same-site")),
    ] {
        assert_eq!(join(host, origin, site).status(), 403, "{host} {origin:?} {site:?}");
    }
    let joined = join("quilts.example", Some("https://quilts.example"), Some("same-origin"));
    assert_eq!(joined.status(), 200);
    let set = joined.headers()["set-cookie"].to_str().unwrap().to_owned();
    assert!(set.starts_with("__Host-seamfall=") && set.ends_with("; Secure"), "{set}");
    for (name, value) in [("x-content-type-options", "nosniff"), ("referrer-policy", "same-origin")] {
        assert_eq!(joined.headers()[name], value);
    }
    assert!(joined.headers().contains_key("strict-transport-security"));
    assert!(joined.headers()["content-security-policy"].to_str().unwrap().contains("frame-ancestors 'none'"));
    // A cookie of the open name is not taken where the way is encrypted.
    let key = cookie(&joined).expect("she is signed in");
    let ask = |cookie: String| {
        client()
            .get(at("/quilts"))
            .header("host", "quilts.example")
            .header("cookie", cookie)
            .send()
            .expect("an answer")
            .status()
            .as_u16()
    };
    assert_eq!(ask(key.clone()), 200);
    assert_eq!(ask(key.replace("__Host-seamfall", "seamfall-member")), 303);
    // Behind a proxy wrong keys are counted by whom the proxy names last.
    let tries = |from: &str| {
        let request = client().post(at("/sign-in")).header("host", "quilts.example").header("x-forwarded-for", from);
        let request = request.header("content-type", "application/x-www-form-urlencoded");
        request.body(format!("key=1-{}", "0".repeat(32))).send().expect("an answer").status().as_u16()
    };
    assert!((0..10).all(|number| tries(&format!("10.0.0.{number}, 192.0.2.7")) == 403));
    assert_eq!((tries("10.0.0.99, 192.0.2.7"), tries("192.0.2.7, 192.0.2.8")), (429, 403));
}
