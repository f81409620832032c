//! The pages of a guild in a real browser: an invited member comes in with the keyboard, and axe finds nothing on any of them.

use crate::common::SMALL;
use crate::driven::{Page, Window, axe_on};
use crate::guild::Guild;
use serde_json::json;

/// Nothing is wrong with the page, nothing is wider than the window, and everything to be pressed is large enough for a thumb.
async fn sound(page: &Page, what: &str) {
    assert_eq!(page.wait_for(&axe_on("document")).await, json!([]), "{what}");
    assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true, "{what}");
    let small = "return [...document.querySelectorAll('button, select, input:not([type=hidden]), summary, nav a, a.button')]
        .filter((each) => each.checkVisibility() && !each.closest('details:not([open]) > :not(summary)'))
        .filter((each) => each.getBoundingClientRect().height < 43.5).map((each) => each.outerHTML.slice(0, 90))";
    assert_eq!(page.read(small).await, json!([]), "{what}");
}

pub async fn go(page: &Page, path: &str) {
    page.read(&format!("location.assign('{path}'); return 0")).await;
    page.until(&format!("return location.pathname === '{path}' && document.readyState === 'complete'")).await;
}

/// Presses Enter in a form's field, as a hand does, and waits for the page that answers.
pub async fn sends(page: &Page, form: &str, heading: &str) {
    page.read(&format!("document.querySelector('{form}').requestSubmit(); return 0")).await;
    page.until(&format!(
        "return document.readyState === 'complete' && document.querySelector('h1')?.textContent.includes('{heading}')"
    ))
    .await;
}

fn walk(window: Window) {
    let guild = Guild::new();
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let page = Page::open(&format!("http://{}/join/{}", guild.address, guild.first), window).await;
        sound(&page, "the invitation").await;
        page.read("document.getElementById('join-name').value = 'Ada Lovejoy'; return 0").await;
        sends(&page, "main form", "You are a member").await;
        sound(&page, "the welcome").await;
        let key = page.read("return document.querySelector('.written').textContent").await;
        go(&page, "/members").await;
        sound(&page, "the members").await;
        sends(&page, "form[action=\"/members/invite\"]", "Members").await;
        page.until("return document.getElementById('made') !== null").await;
        sound(&page, "an invitation that was made").await;
        let link = page.read("return document.querySelector('.written').textContent").await;
        let link = link.as_str().and_then(|link| link.rsplit('/').next()).expect("a key").to_owned();
        std::thread::scope(|other| other.spawn(|| guild.joined(&link, "Ruth")).join().expect("she joins"));
        go(&page, "/members").await;
        page.read("document.querySelectorAll('details').forEach((each) => { each.open = true; }); return 0").await;
        sound(&page, "what a keeper can do").await;
        page.wait_for(&format!("ask('/import', {}).then(() => done(0))", json!(SMALL))).await;
        go(&page, "/quilts").await;
        sound(&page, "the quilts").await;
        go(&page, "/q/1/members").await;
        sound(&page, "sharing").await;
        sends(&page, "main form", "Share").await;
        page.until("return document.querySelectorAll('.members li').length === 2").await;
        sound(&page, "what is shared").await;
        go(&page, "/me").await;
        sound(&page, "her own page").await;
        sends(&page, "form[action=\"/sign-out\"]", "Come in").await;
        sound(&page, "the way in").await;
        let typed = format!("document.getElementById('way-back').value = {key}; return 0");
        page.read(&typed).await;
        sends(&page, "main form", "Quilts").await;
        go(&page, "/q/1").await;
        assert_eq!(page.read("return document.querySelector('#menu a[href$=\"/members\"]') !== null").await, true);
        page.close().await;
    });
}

#[test]
fn the_pages_of_a_guild_hold_on_a_phone() {
    walk(Window::Phone);
}

#[test]
fn the_pages_of_a_guild_hold_on_a_desk() {
    walk(Window::Desk);
}

const ENTER: &str = "\u{e007}";

/// Goes to an element with Tab, presses Enter there, and waits for what follows.
async fn enters(page: &Page, css: &str, then: &str) {
    page.tab_to(css).await;
    page.keys(ENTER).await;
    page.until(&format!("return document.readyState === 'complete' && Boolean({then})")).await;
}

/// Source: WCAG 2.2, 2.1.1: all that the pages do can be done by keyboard alone.
#[test]
fn a_keeper_joins_changes_a_role_and_takes_a_member_away_by_keyboard_alone() {
    let guild = Guild::new();
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let page = Page::open(&format!("http://{}/join/{}", guild.address, guild.first), Window::Desk).await;
        page.tab_to("#join-name").await;
        page.keys(&format!("Ada Lovejoy{ENTER}")).await;
        page.until("return document.querySelector('h1')?.textContent.includes('You are a member')").await;
        enters(&page, "a[href=\"/quilts\"]", "location.pathname === '/quilts'").await;
        enters(&page, "nav a[href=\"/members\"]", "document.getElementById('invite-role')").await;
        enters(&page, "form[action=\"/members/invite\"] button", "document.getElementById('made')").await;
        let link = page.read("return document.querySelector('#made .written').textContent").await;
        let link = link.as_str().and_then(|link| link.rsplit('/').next()).expect("a key").to_owned();
        std::thread::scope(|other| other.spawn(|| guild.joined(&link, "Ruth")).join().expect("she joins"));
        enters(&page, "nav a[href=\"/members\"]", "document.querySelector('#member-2')").await;
        for (role, word) in [("keeper", "keeper"), ("member", "member")] {
            let summary = "#member-2 summary";
            enters(&page, summary, "document.querySelector('#member-2 details').open").await;
            let changes = format!("form[action$=\"/2/role\"]:has([value={role}]) button");
            enters(&page, &changes, &format!("document.querySelector('#member-2 p.quiet')?.textContent.startsWith('{word}')"))
                .await;
        }
        enters(&page, "#member-2 summary", "document.querySelector('#member-2 details').open").await;
        enters(&page, "form[action$=\"/2/remove\"] button", "!document.querySelector('#member-2')").await;
        assert_eq!(page.read("return document.querySelectorAll('.members > li').length").await, 1);
        page.close().await;
    });
}
