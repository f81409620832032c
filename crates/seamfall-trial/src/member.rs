//! A guild, asked for anything by those who may not do everything.
//!
//! In: requests (`asked`), each by one who may look at the first quilt, one who may tick off in it, or a stranger; none of them has a part in the second.
//! Out: whatever they ask, the design of neither quilt is changed, the ledger of the first by her alone who may tick off, and nobody sees the second, is given
//! a part in a quilt, or another role, or invites anybody.

use crate::asked::{Answer, Asked, PORT, answer, asked};
use crate::kept::{Copied, kept, pattern, sound};
use axum::Router;
use seamfall_store::{May, Member, MemberId, QuiltId, Role, Store};
use seamfall_web::guild::{Address, invite_keeper, pages};
use std::path::Path;
use std::sync::LazyLock;

/// A word that stands in the quilt that nobody may see, and nowhere else.
const UNSEEN: &str = "Xylographica";
/// The quilt that is shared.
const SHARED: QuiltId = QuiltId(1);
/// The quilt that is not.
const HIDDEN: QuiltId = QuiltId(2);

struct Guild {
    store: Vec<u8>,
    looker: String,
    ticker: String,
}

static GUILD: LazyLock<Guild> = LazyLock::new(|| {
    let mut cookies = [String::new(), String::new()];
    let store = pattern(|file| cookies = found(file));
    let [looker, ticker] = cookies;
    Guild { store, looker, ticker }
});

fn address() -> Address {
    Address::plain(([127, 0, 0, 1], PORT).into())
}

/// A guild of a keeper with two quilts and of two members; the cookies of the two.
fn found(file: &Path) -> [String; 2] {
    let store = Store::open(file).expect("a new store");
    let first = invite_keeper(&store, &address()).expect("an invitation");
    let pages = pages(Store::open(file).expect("the same store"), "Lap", address());
    let keeper = joins(&pages, &first, "Ada");
    let text = include_str!("small.quilt.toml");
    let hidden = text.replace("\"Small\"", &format!("\"{UNSEEN}\""));
    for text in [text, &hidden] {
        let import = format!("POST /import\nsec-fetch-site: same-origin\ncontent-type: application/toml\n\n{text}");
        assert!(ask(&pages, &import, Some(&keeper)).status.is_success());
    }
    let cookies = ["Bea", "Cleo"].map(|name| {
        let page = form(&pages, "/members/invite", "role=member&days=7", Some(&keeper));
        let page = String::from_utf8_lossy(&page.body).into_owned();
        let link = page.split(['"', '<', '>']).find(|part| part.contains("/join/")).expect("the link is shown");
        joins(&pages, link, name)
    });
    store.share(SHARED, MemberId(2), Some(May::Look)).expect("a part");
    store.share(SHARED, MemberId(3), Some(May::Tick)).expect("a part");
    cookies
}

fn joins(pages: &Router, link: &str, name: &str) -> String {
    let (_, key) = link.split_once("/join/").expect("an invitation");
    let answer = form(pages, &format!("/join/{key}"), &format!("name={name}"), None);
    let cookie = answer.headers.get("set-cookie").expect("she is signed in").to_str().expect("letters");
    cookie.split(';').next().expect("its value").to_owned()
}

fn form(pages: &Router, path: &str, fields: &str, cookie: Option<&str>) -> Answer {
    let origin = format!("origin: http://127.0.0.1:{PORT}");
    ask(pages, &format!("POST {path}\n{origin}\ncontent-type: application/x-www-form-urlencoded\n\n{fields}"), cookie)
}

fn ask(pages: &Router, request: &str, cookie: Option<&str>) -> Answer {
    answer(pages, &asked(request.as_bytes())[0], cookie)
}

/// What nobody who is asked for here may change.
#[derive(Debug, PartialEq)]
struct Held {
    members: Vec<(MemberId, Role)>,
    invitations: usize,
    parts: [Vec<(MemberId, May)>; 2],
}

fn held(store: &Store) -> Held {
    let members = store.members().expect("they can be read");
    let parts = |quilt| store.parts(quilt).expect("they can be read").into_iter().map(|(member, _, may)| (member, may)).collect();
    Held {
        members: members.iter().map(|Member { id, role, .. }| (*id, *role)).collect(),
        invitations: store.invitations(0).expect("they can be read").len(),
        parts: [SHARED, HIDDEN].map(parts),
    }
}

pub fn trial(data: &[u8]) {
    let asked = asked(data);
    if asked.is_empty() {
        return;
    }
    let copied = Copied::of(&GUILD.store);
    let store = copied.open();
    let pages = pages(copied.open(), "Lap", address());
    let parts = held(&store);
    let mut before = kept(&store);
    for asked in &asked {
        let cookie = match asked.who {
            "looker" => Some(GUILD.looker.as_str()),
            "ticker" => Some(GUILD.ticker.as_str()),
            _ => None,
        };
        let answer = answer(&pages, asked, cookie);
        assert!(names_it(asked) || !contains(&answer.body, UNSEEN), "who has no part in a quilt is shown it");
        assert_eq!(held(&store), parts, "a part or a role that nobody gave");
        let after = kept(&store);
        for (number, id) in [SHARED, HIDDEN].into_iter().enumerate() {
            let [before, after] =
                [&before, &after].map(|kept| kept.quilts.iter().find(|quilt| quilt.id == id).expect("it is still there"));
            assert_eq!(after.text, before.text, "quilt {id} was changed by one who may not");
            if number == 1 || asked.who != "ticker" {
                assert_eq!(after, before, "something of quilt {id} was changed by one who may not");
            }
        }
        before = after;
    }
    drop(pages);
    sound(&store);
}

/// Whether she knew the word before.
fn names_it(asked: &Asked) -> bool {
    contains(asked.body, UNSEEN) || asked.names(UNSEEN)
}

fn contains(bytes: &[u8], word: &str) -> bool {
    bytes.windows(word.len()).any(|window| window == word.as_bytes())
}
