//! A class of twelve on the page: begun, made each student's own, changed, taken back, and told when it was changed elsewhere.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on, on};
use seamfall_store::{QuiltId, Store};
use serde_json::{Value, json};

async fn begun(page: &Page, students: u32) {
    page.read("document.getElementById('begin-last').value = '2027-05-27'; return 0").await;
    page.read(&format!("document.getElementById('begin-students').value = '{students}'; return 0")).await;
    page.click("form[data-class-begin] button").await;
    page.until("return document.getElementById('days-title') !== null").await;
}

async fn words(page: &Page, css: &str) -> String {
    page.read(&format!("return document.querySelector({css:?}).innerText")).await.as_str().unwrap_or_default().to_owned()
}

/// Chooses an option of a list by its words, as a hand does.
async fn choose(page: &Page, id: &str, option: &str) {
    let script = format!(
        "const list = document.getElementById('{id}'); list.value = [...list.options].find((each) => each.text === {option:?}).value; \
         list.dispatchEvent(new Event('change', {{ bubbles: true }})); return 0"
    );
    page.read(&script).await;
    page.settle().await;
}

async fn unfold(page: &Page, id: &str) {
    page.read(&format!("document.getElementById('{id}').open = true; return 0")).await;
}

#[test]
fn a_class_of_twelve_is_planned_and_made_each_students_own() {
    on(SMALL, Window::Desk, "~/class", |page, folder| async move {
        begun(&page, 12).await;
        assert!(words(&page, "#class").await.contains("12 students make Small"));
        unfold(&page, "student-1-card").await;
        page.fill("#student-1-name", "Second").await;
        unfold(&page, "student-1-card").await;
        page.fill("#student-1-rows", "3").await;
        assert!(
            words(&page, "#student-1-card summary").await.contains("16 × 22 in, 3 rows of 2"),
            "two by three of 6 in, and a band of 2"
        );
        unfold(&page, "student-1-cloths").await;
        choose(&page, "student-1-cloth-night", "Rust").await;
        assert!(words(&page, "#students-title ~ .wide").await.contains("Rust instead of Night"));
        choose(&page, "student-2-size", "covers us crib").await;
        assert!(!words(&page, "#student-2-card summary").await.contains("2 rows of 2"));
        // A day without a lesson moves the lessons on it and before it.
        unfold(&page, "schedule-fields").await;
        let before = words(&page, "#days-title ~ .wide").await;
        assert!(before.contains("Thursday, 13 May 2027"), "{before}");
        page.fill("#without", "2027-05-13").await;
        let after = words(&page, "#days-title ~ .wide").await;
        assert!(!after.contains("Thursday, 13 May 2027") && after.contains("Thursday, 6 May 2027"), "{after}");
        // What all buy together is never more than what all alone would buy; it is said for each cloth, and drawn.
        unfold(&page, "together-day").await;
        assert!(words(&page, "#together-day summary").await.contains("where all alone would buy"));
        page.until("const drawn = document.querySelector('#together-day img'); drawn.loading = 'eager'; return drawn.complete && drawn.naturalWidth > 0").await;
        assert!(words(&page, "#together-day table").await.contains("Second: "));
        unfold(&page, "kit-1").await;
        assert!(words(&page, "#kit-1").await.contains(" of "));
        assert_eq!(page.wait_for(&axe_on("document.querySelector('main')")).await, json!([]));
        // Every change is in the store, and can be taken back.
        let stored = || Store::open(&folder.join("seamfall.sqlite")).expect("it opens").class(QuiltId(1)).expect("it is read");
        assert!(stored().text.contains("without = [\"2027-05-13\"]") && stored().text.contains("name = \"Second\""));
        page.click("#class-undo").await;
        assert!(!stored().text.contains("without"));
        assert!(words(&page, "#said").await.contains("Taken back"));
        page.click("#class-redo").await;
        assert!(stored().text.contains("without"));
        page.close().await;
    });
}

#[test]
fn what_cannot_be_is_refused_in_words_and_nothing_is_lost() {
    on(SMALL, Window::Phone, "~/class", |page, folder| async move {
        begun(&page, 2).await;
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        page.read("document.querySelectorAll('#class details').forEach((each) => { each.open = true; }); return 0").await;
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true, "unfolded too");
        assert_eq!(page.wait_for(&axe_on("document.querySelector('main')")).await, json!([]));
        page.read("const field = document.getElementById('home-hours'); field.value = '0'; field.dispatchEvent(new Event('change', { bubbles: true })); return 0").await;
        page.settle().await;
        assert!(words(&page, "#message").await.contains("`home-hours` is 0, but must lie between 0.25 and 80"));
        assert_eq!(page.read("return document.getElementById('home-hours').value").await, "7", "it is as it was");
        // Another window changes the class: this one says so, shows it, and writes nothing over it.
        let store = Store::open(&folder.join("seamfall.sqlite")).expect("it opens");
        let now = store.class(QuiltId(1)).expect("it is read");
        let elsewhere = now.text.replace("Student 2", "Elsewhere");
        store.commit_class(QuiltId(1), now.revision, &elsewhere, "elsewhere").expect("it is kept");
        page.read("const field = document.getElementById('home-hours'); field.value = '4'; field.dispatchEvent(new Event('change', { bubbles: true })); return 0").await;
        page.settle().await;
        assert!(words(&page, "#message").await.contains("changed in another window"));
        assert!(words(&page, "#class").await.contains("Elsewhere"));
        assert_eq!(store.class(QuiltId(1)).expect("it is read").text, elsewhere);
        page.read("return 0").await;
    });
}

#[test]
fn the_class_goes_out_as_file_and_as_handouts_and_comes_in_again() {
    let served = Served::quilt(SMALL);
    let browser = reqwest::blocking::Client::new();
    let post = |path: &str, body: Value| browser.post(served.url(path)).json(&body).send().expect("an answer");
    assert_eq!(browser.get(served.url("~/class/file")).send().expect("an answer").status().as_u16(), 404);
    let begin = json!({ "revision": 0, "name": "Evenings", "students": 3, "last_day": "2027-05-27" });
    let answer = post("~/class/begin", begin.clone());
    assert_eq!(answer.status().as_u16(), 200);
    assert_eq!(post("~/class/begin", begin).status().as_u16(), 409, "it is begun already");
    for (field, value) in
        [("students", json!(0)), ("students", json!(61)), ("last_day", json!("soon")), ("last_day", json!("2027-02-30"))]
    {
        let mut begin = json!({ "revision": 1, "name": "Evenings", "students": 3, "last_day": "2027-05-27" });
        begin[field] = value;
        assert_eq!(post("~/class/begin", begin).status().as_u16(), 422, "{field}");
    }
    let file = browser.get(served.url("~/class/file")).send().expect("an answer").text().expect("text");
    assert!(file.contains("quilt = \"Small\"") && file.contains("Student 3"));
    for paper in ["letter", "a4"] {
        let pdf = browser.get(served.url(&format!("~/class/handouts.pdf?paper={paper}"))).send().expect("an answer");
        assert!(pdf.bytes().expect("bytes").starts_with(b"%PDF-"));
    }
    let bring = |text: String| browser.post(served.url("~/class/file")).body(text).send().expect("an answer");
    assert_eq!(bring(file.replace("Student 3", "Third")).status().as_u16(), 200);
    let refused = bring(file.replace("[schedule]", "[scedule]"));
    assert_eq!(refused.status().as_u16(), 422);
    assert!(refused.text().expect("words").contains("did you mean `schedule`?"));
    let page = browser.get(served.url("~/class")).send().expect("an answer").text().expect("a page");
    assert!(page.contains("Third"), "what could not be read has changed nothing");
}
