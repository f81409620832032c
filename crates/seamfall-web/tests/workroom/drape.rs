//! The quilt on its bed: it settles while it is shown, is turned and stopped, and says how its corners hang.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on, on};
use serde_json::json;
use thirtyfour::Key;

/// Five by five blocks of 18 in and a band of 4 in, 98 in a side, on a mattress of 76 by 80: 11 in hang at the sides, 18 at the foot.
fn on_a_bed() -> String {
    let large = SMALL.replace("size = \"6\"", "size = \"18\"").replace("width = \"2\"", "width = \"4\"");
    let large = large.replace("rows = 2", "rows = 5").replace("columns = 2", "columns = 5");
    large.replace(
        "[cloth.night]",
        "[bed]\nwidth = \"76\"\nlength = \"80\"\nheight = \"25\"\nsides = \"11\"\nfoot = \"18\"\ntake-up = [0, 0]\nshrinkage = [0, 0]\n\n[cloth.night]",
    )
}

const PICTURE: &str = "return document.getElementById('drape-picture').toDataURL()";

async fn settled(page: &Page) {
    page.until("return document.getElementById('drape-told').textContent === 'The quilt has settled.'").await;
}

/// A square corner of 11 and 18 in reaches √(11² + 18²) = 21.1 in down, to 3 7/8 in above the floor. Plane geometry.
#[test]
fn a_quilt_settles_on_its_bed_and_can_be_turned() {
    on(&on_a_bed(), Window::Desk, "~/drape", |page, _| async move {
        settled(&page).await;
        let said = page.read("return document.getElementById('drape-result').innerText").await;
        let said = said.as_str().unwrap_or_default();
        for word in ["Foot, left", "Foot, right", "3 7/8 in", "The hem touches the floor nowhere"] {
            assert!(said.contains(word), "{word}: {said}");
        }
        let before = page.read(PICTURE).await;
        page.read("document.getElementById('drape-picture').focus(); return 0").await;
        page.press(&[], Key::Right).await;
        page.wait_for("requestAnimationFrame(() => requestAnimationFrame(() => done(0)))").await;
        let turned = page.read(PICTURE).await;
        assert_ne!(before, turned, "an arrow key turns it");
        page.click("#drape-up").await;
        page.wait_for("requestAnimationFrame(() => requestAnimationFrame(() => done(0)))").await;
        assert_ne!(turned, page.read(PICTURE).await, "a button turns it");
        let label = page.read("return document.getElementById('drape-picture').getAttribute('aria-label')").await;
        assert!(label.as_str().is_some_and(|label| label.contains("seen from")), "{label}");
        assert_eq!(page.wait_for(&axe_on("document.querySelector('main')")).await, json!([]));
        page.close().await;
    });
}

#[test]
fn it_can_be_stopped_and_draped_again() {
    on(&on_a_bed(), Window::Phone, "~/drape", |page, _| async move {
        page.until("return !document.getElementById('drape-stop').hidden").await;
        page.click("#drape-stop").await;
        page.until("return document.getElementById('drape-told').textContent.startsWith('Stopped')").await;
        assert_eq!(page.read("return document.getElementById('drape-result').textContent").await, "");
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        // With still pictures only, nothing is painted before the end.
        page.read("matchMedia = () => ({ matches: true }); return 0").await;
        let before = page.read(PICTURE).await;
        page.click("#drape-again").await;
        page.until("return /[1-9]\\d %/.test(document.getElementById('drape-share').textContent)").await;
        let meanwhile = page.read("return [document.getElementById('drape-share').textContent !== '', document.getElementById('drape-picture').toDataURL()]").await;
        assert!(meanwhile == json!([true, before]) || meanwhile[0] == false);
        settled(&page).await;
        assert_ne!(before, page.read(PICTURE).await);
        page.close().await;
    });
}

#[test]
fn without_a_bed_there_is_nothing_to_lay_it_on() {
    let served = Served::quilt(SMALL);
    let browser = reqwest::blocking::Client::new();
    let page = browser.get(served.url("~/drape")).send().expect("an answer").text().expect("a page");
    assert!(page.contains("With a bed the quilt is laid over it here"));
    let asked = |body: serde_json::Value| {
        let answer = browser.post(served.url("~/drape")).json(&body).send().expect("an answer");
        (answer.status().as_u16(), answer.text().expect("words"))
    };
    let revision = page.split("data-revision=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a revision");
    let revision: i64 = revision.parse().expect("a number");
    let (status, words) = asked(json!({ "revision": revision, "has": 0 }));
    assert!(status == 422 && words.contains("choose one first"), "{status} {words}");
    let (status, words) = asked(json!({ "revision": revision, "run": 7, "has": 0 }));
    assert!(status == 422 && words.contains("drape it again"), "{status} {words}");
    let (status, nothing) = asked(json!({ "revision": revision + 1, "has": 0 }));
    assert_eq!((status, nothing.as_str()), (200, "null"), "the quilt has changed since");
    assert_eq!(asked(json!({ "revision": revision, "has": 0, "points": 9 })).0, 422);
}
