//! What takes longer than an edit: whether turning blocks helps, the search for a proof, and the choice of how a unit is made.

use crate::common::{SMALL, Served};
use crate::driven::{Window, axe_on, on};
use serde_json::{Value, json};

/// Nine-patches side by side: with one pressing they stack along every join.
fn nines() -> String {
    let block =
        "[block.half]\nstarter = \"nine-patch\"\nsize = \"6\"\ncloths = { light = \"day\", dark = \"night\" }\n\n[block.plain]";
    let (before, rest) = SMALL.split_once("[block.half]").expect("the sample has it");
    let (_, after) = rest.split_once("[block.plain]").expect("and that");
    format!("{before}{block}{after}").replace("measure = \"inch\"", "measure = \"inch\"\npressings = 1\nlargest-section = \"8\"")
}

#[test]
fn blocks_are_turned_where_that_helps() {
    on(&nines(), Window::Desk, "~", |page, _| async move {
        page.click("[data-stage=fall]").await;
        page.click("#try-turns").await;
        page.until("return document.getElementById('turn-them') !== null").await;
        let said = page.read("return document.getElementById('turning').innerText").await;
        assert!(said.as_str().unwrap().contains("Nothing stacks when these are turned"), "{said}");
        assert!(said.as_str().unwrap().contains("looks as it does now"), "{said}");
        assert_eq!(page.read("return document.getElementById('stop-task').hidden").await, true, "it is done");
        page.click("#turn-them").await;
        page.until("return document.getElementById('try-turns') === null").await;
        assert_eq!(page.read("return document.getElementById('fall').innerText.includes('No meeting stacks')").await, true);
        page.click("#undo").await;
        page.until("return document.getElementById('try-turns') !== null").await;
        page.close().await;
    });
}

#[test]
fn a_unit_is_made_the_way_she_chooses() {
    on(&nines(), Window::Desk, "~", |page, _| async move {
        page.click("[data-stage=piece]").await;
        page.until("return document.querySelector('[id^=way-u]') !== null").await;
        let choose = "const all = document.querySelector('select[id^=way-u]'); \
            all.value = [...all.options].find((each) => each.text === 'patch by patch').value; \
            all.dispatchEvent(new Event('change', { bubbles: true })); return all.id";
        page.read(choose).await;
        page.until("return !document.getElementById('undo').disabled").await;
        let taken = page.read("return document.querySelector('select[id^=way-u]').selectedOptions[0].text").await;
        assert_eq!(taken, "patch by patch");
        assert_eq!(page.wait_for(&axe_on("document.getElementById('piece')")).await, json!([]));
        page.close().await;
    });
}

fn asked(served: &Served, path: &str) -> (u16, Value) {
    let answer = reqwest::blocking::get(served.url(path)).expect("it answers");
    (answer.status().as_u16(), answer.json().expect("it answers with JSON"))
}

#[test]
fn turns_are_tried_step_by_step() {
    let served = Served::quilt(&nines());
    let (status, first) = asked(&served, "~/turning?revision=1&step=0");
    assert_eq!(status, 200, "{first}");
    assert!(first["steps"].as_u64().unwrap() >= 1 && first["stacks"] == 0, "{first}");
    let (_, past) = asked(&served, &format!("~/turning?revision=1&step={}", first["steps"]));
    assert_eq!((past["stacks"].clone(), past["html"].clone()), (Value::Null, json!("")), "beyond the last step there is nothing");
    let (status, _) = asked(&served, "~/turning?revision=7&step=0");
    assert_eq!(status, 409, "of another state nothing is said");
}

#[test]
fn a_search_goes_on_for_the_state_it_was_asked_of() {
    let served = Served::quilt(&nines());
    let search = |body: Value| {
        let client = reqwest::blocking::Client::new();
        client
            .post(served.url("~/search"))
            .header("content-type", "application/json")
            .body(body.to_string())
            .send()
            .expect("it answers")
    };
    let answer = search(json!({ "revision": 1, "about": "", "effort": 4 }));
    assert_eq!(answer.status().as_u16(), 200);
    let answer: Value = answer.json().expect("JSON");
    assert!(answer["said"].as_str().unwrap().contains("Proven"), "{}", answer["said"]);
    assert_eq!(answer["elements"], json!([]), "the answer was proven before, so nothing is painted anew");
    assert_eq!(search(json!({ "revision": 3, "about": "", "effort": 4 })).status().as_u16(), 409);
    assert_eq!(search(json!({ "revision": 1, "about": "", "effort": "long" })).status().as_u16(), 422);
}
