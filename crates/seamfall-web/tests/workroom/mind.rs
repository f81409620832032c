//! A change of mind: cloths exchanged everywhere, blocks turned in other ways, versions kept, laid side by side, and gone back to.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on, on};
use reqwest::blocking::Client;
use serde_json::{Value, json};

fn text_of(served: &Served) -> String {
    reqwest::blocking::get(served.url("~/file")).unwrap().text().unwrap()
}

fn post(served: &Served, path: &str, body: &Value) -> (u16, Value) {
    let answer = Client::new().post(served.url(path)).json(body).send().unwrap();
    (answer.status().as_u16(), answer.json().unwrap_or(Value::Null))
}

fn revision(served: &Served) -> Value {
    reqwest::blocking::get(served.url("~/revision")).unwrap().json().unwrap()
}

/// Going back to a version is an edit: it can be undone, and a second window that has changed the quilt meanwhile is not overrun.
#[test]
fn a_version_is_gone_back_to_by_an_edit() {
    let served = Served::quilt(SMALL);
    assert_eq!(post(&served, "~/versions", &json!({"name": " calm "})).0, 200);
    let edit = json!({"revision": revision(&served), "about": "", "edit": {"do": "recolour", "cloths": [["night", "rust"], ["rust", "night"]]}});
    assert_eq!(post(&served, "~/edit", &edit).0, 200);
    let changed = text_of(&served);
    assert!(changed.contains("cloths = { dark = \"rust\", light = \"day\" }"), "{changed}");

    let page = reqwest::blocking::get(served.url("~/versions?with=0,1")).unwrap().text().unwrap();
    assert!(page.contains("As it stands") && page.contains("calm") && page.contains("Meetings that stack"), "{page}");

    let (status, told) = post(&served, "~/versions/1/take", &json!({"revision": edit["revision"]}));
    assert_eq!(status, 409, "{told}");
    assert_eq!(text_of(&served), changed);
    assert_eq!(post(&served, "~/versions/1/take", &json!({"revision": revision(&served)})).0, 200);
    assert_eq!(text_of(&served), SMALL);
    let (_, undone) = post(&served, "~/undo", &json!({"revision": revision(&served), "about": ""}));
    assert_eq!(undone["said"], "undone: back to calm");
    assert_eq!(text_of(&served), changed);

    for (path, body, status) in [
        ("~/versions", json!({"name": "  "}), 422),
        ("~/versions", json!({"name": "x".repeat(81)}), 422),
        ("~/versions/9/take", json!({"revision": revision(&served)}), 404),
        ("~/versions/9/name", json!({"name": "other"}), 404),
        ("~/versions/1/name", json!({"name": "calmer"}), 200),
        ("~/versions/1/drop", json!({}), 200),
        ("~/versions/1/drop", json!({}), 404),
    ] {
        assert_eq!(post(&served, path, &body).0, status, "{path} {body}");
    }
}

#[test]
fn turns_that_cannot_be_meant_are_refused() {
    let served = Served::quilt(SMALL);
    let ask = |block: &str, manner: &str| {
        post(
            &served,
            "~/shuffle",
            &json!({"revision": revision(&served), "about": "", "block": block, "manner": manner, "seed": 1}),
        )
    };
    assert_eq!(ask("nothing", "rows").0, 404);
    assert_eq!(ask("half", "upside-down").0, 422);
    assert_eq!(ask("half", "alike").1["said"], "all turned alike, as they were");
    assert_eq!(ask("half", "checks").0, 200);
    assert!(text_of(&served).contains("at = \"A2\"\nturn = 1"), "{}", text_of(&served));
}

/// Kept, changed in bulk, shuffled, laid side by side, and gone back to, by hand.
#[test]
fn a_change_of_mind_from_beginning_to_end() {
    on(SMALL, Window::Desk, "~/versions", |page: Page, _| async move {
        page.fill("#version-name", "calm").await;
        page.click("form[data-send$=versions] button").await;
        page.until("return document.querySelector('.kept') !== null").await;

        page.click(".back a").await;
        page.until("return document.body.matches('.workroom') && document.readyState === 'complete'").await;
        page.click("#go-cloths").await;
        page.read("$('everywhere-to').value = 'rust'").await;
        page.click("#everywhere-exchange").await;
        assert_eq!(page.read("return $('said').textContent").await, "Rust instead of Night, Night instead of Rust");
        assert_eq!(page.read("return $('everywhere-to').value").await, "rust", "what was chosen stays chosen");
        page.click("#go-set").await;
        page.click("#shuffle-chance").await;
        assert_eq!(page.read("return $('said').textContent").await, "blocks turned by chance");

        page.read("location.assign(base + 'versions')").await;
        page.until("return document.querySelectorAll('.compared thead tr:first-child th').length === 2 && [...document.images].every((image) => image.complete && image.naturalWidth > 0)").await;
        let rust = "[...document.querySelectorAll('.compared tbody tr')].find((row) => row.cells[0].textContent === 'Rust')";
        assert_eq!(page.read(&format!("return {rust}.cells[2].textContent")).await, "none", "the calm one takes none of it");
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.click("#version-1-take").await;
        page.until("return document.body.matches('.workroom') && document.readyState === 'complete'").await;
        assert_eq!(page.read("return $('undo').title").await, "back to calm");
        page.close().await;
    });
}
