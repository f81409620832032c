//! What is sewn: ticked off by phone and laptop, measured, brought in and saved, and never wasted without a word.

use crate::common::{SMALL, Served};
use crate::driven::{Window, axe_on, on};
use serde_json::{Value, json};

/// The small quilt, every block with its part of the band a section of its own.
fn four_sections() -> String {
    SMALL.replacen("measure = \"inch\"", "measure = \"inch\"\nlargest-section = \"8\"", 1)
}

fn post(served: &Served, path: &str, body: &Value) -> (u16, Value) {
    let answer = reqwest::blocking::Client::new().post(served.url(path)).json(body).send().unwrap();
    (answer.status().as_u16(), answer.json().unwrap())
}

fn get(served: &Served, path: &str) -> String {
    reqwest::blocking::get(served.url(path)).unwrap().text().unwrap()
}

fn state(section: &str, state: &str) -> Value {
    json!({ "do": "state", "sections": [section], "state": state, "date": "2026-03-07" })
}

#[test]
fn two_pages_tick_different_sections_and_nothing_is_lost() {
    let served = Served::quilt(&four_sections());
    let seen: i64 = get(&served, "~/revision").parse().unwrap();
    // Both pages show the first state.
    let (status, first) = post(&served, "~/tick", &json!({ "revision": seen, "edit": state("S1", "cut") }));
    assert_eq!((status, first["said"].as_str()), (200, Some("S1 cut")));
    let (status, second) = post(&served, "~/tick", &json!({ "revision": seen, "edit": state("S2", "cut") }));
    assert_eq!(status, 200, "{second}");
    // The same once more is nothing new.
    let (_, again) = post(&served, "~/tick", &json!({ "revision": seen, "edit": state("S2", "cut") }));
    assert_eq!(again["revision"], second["revision"]);
    let ledger = get(&served, "~/ledger");
    assert!(ledger.contains("name = \"S1\"") && ledger.contains("name = \"S2\"") && ledger.contains("2026-03-07"), "{ledger}");
    let plan: Value = serde_json::from_str(&get(&served, "~/plan.json")).unwrap();
    assert_eq!(plan["sewn"]["sections"][1]["state"], "cut", "{}", plan["sewn"]);
    // Undo takes back the last tick alone.
    let revision = second["revision"].as_i64().unwrap();
    let (status, undone) = post(&served, "~/undo", &json!({ "revision": revision, "about": "" }));
    assert_eq!((status, undone["said"].as_str()), (200, Some("undone: S2 cut")));
    assert!(!get(&served, "~/ledger").contains("name = \"S2\""));
}

#[test]
fn a_change_that_would_waste_what_is_sewn_says_so_first() {
    let served = Served::quilt(&four_sections());
    let (_, ticked) = post(&served, "~/tick", &json!({ "revision": 1, "edit": state("S1", "quilted") }));
    let revision = ticked["revision"].as_i64().unwrap();
    let put = json!({ "do": "put", "row": 0, "number": 0, "block": "plain" });
    let (status, refused) = post(&served, "~/edit", &json!({ "revision": revision, "about": "", "edit": put }));
    assert_eq!(status, 422);
    assert!(refused["wasted"][0].as_str().unwrap().starts_with("S1, quilted: "), "{refused}");
    assert_eq!(get(&served, "~/revision"), revision.to_string(), "nothing was changed");
    // What is not sewn yet may be changed.
    let other = json!({ "do": "put", "row": 1, "number": 1, "block": "plain" });
    assert_eq!(post(&served, "~/edit", &json!({ "revision": revision, "about": "", "edit": other })).0, 200);
    let now: i64 = get(&served, "~/revision").parse().unwrap();
    let (status, _) = post(&served, "~/edit", &json!({ "revision": now, "about": "", "edit": put, "waste": true }));
    assert_eq!(status, 200);
    assert!(!get(&served, "~/ledger").contains("S1"));
}

#[test]
fn a_ledger_is_brought_in_and_a_bad_one_refused_with_its_places() {
    let served = Served::quilt(&four_sections());
    let client = reqwest::blocking::Client::new();
    let bring = |text: &str| client.post(served.url("~/ledger/import")).body(text.to_owned()).send().unwrap();
    let good =
        "format = 1\nquilt = \"Small\"\n\n[[section]] # by hand\nname = \"S3\"\nstate = \"pieced\"\nmeasured = \"8 1/2\"\n";
    assert_eq!(bring(good).status().as_u16(), 200);
    assert_eq!(get(&served, "~/ledger"), good, "byte for byte");
    for (bad, words) in [
        (good.replace("Small", "Another"), "Another"),
        (good.replace("8 1/2", "0"), "measured"),
        (good.replace("pieced", "sewed"), "state"),
        (format!("{good}{}", &good[good.find("[[section]]").unwrap()..]), "S3"),
    ] {
        let answer = bring(&bad);
        assert_eq!(answer.status().as_u16(), 422);
        let answer: Value = answer.json().unwrap();
        assert_eq!(answer["problem"], "the ledger cannot be used");
        assert!(answer["places"].to_string().contains(words), "{words}: {answer}");
    }
    assert_eq!(get(&served, "~/ledger"), good, "the last good state is kept");
}

/// On a phone a section is ticked off with one tap, sees what was ticked elsewhere, and axe finds nothing.
#[test]
fn sections_are_ticked_off_on_a_phone() {
    on(&four_sections(), Window::Phone, "~/sewing", |page, _| async move {
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        let size = page
            .read("const box = document.getElementById('tick-S1').getBoundingClientRect(); return [box.width, box.height]")
            .await;
        assert!(size[0].as_f64().unwrap() >= 60.0 && size[1].as_f64().unwrap() >= 60.0, "a thumb finds it: {size}");
        page.click("#tick-S1").await;
        page.until("return document.querySelector('#state-cut #sewn-S1') !== null").await;
        page.until("return document.getElementById('said').textContent === 'S1 cut'").await;
        // Somebody else, on the laptop.
        page.read("fetch(`${base}tick`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ revision: sewnAt, edit: { do: 'state', sections: ['S4'], state: 'cut' } }) }); return 0").await;
        page.until("return document.querySelector('#state-cut #sewn-S4') !== null").await;
        page.click("#all-planned").await;
        page.until("return document.getElementById('state-planned') === null").await;
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.close().await;
    });
}

/// Sides are typed one after another; what is short is said with the way out; a change of places is taken with one click; axe finds nothing.
#[test]
fn measured_sides_are_typed_in_and_trued() {
    on(&four_sections(), Window::Desk, "~", |page, _| async move {
        page.click("#go-true").await;
        page.fill("#measure-S1", "8 1/2").await;
        page.read("document.getElementById('measure-S1').focus(); return 0").await;
        page.press(&[], '\u{E007}').await;
        page.until("return document.activeElement.id === 'measure-S2'").await;
        page.fill("#measure-S2", "8 3/8 x 8 1/2").await;
        page.until("return document.getElementById('true').innerText.includes('trimmed to')").await;
        page.until("return document.getElementById('measure-S2').value === '8 3/8 x 8 1/2'").await;
        // What cannot be is refused, and the field shows again what stands.
        page.fill("#measure-S3", "0").await;
        page.until("return !document.getElementById('message').hidden").await;
        page.until("return document.getElementById('measure-S3').value === ''").await;
        // What is known of a section stands beside it.
        page.read("choose(document.querySelector('g.place').id); return 0").await;
        page.until("return document.getElementById('sewn-with') !== null").await;
        page.fill("#sewn-with", "Ada").await;
        page.until("return document.getElementById('said').textContent === 'Ada has S1'").await;
        page.click("#state-of-quilted").await;
        page.until("return document.getElementById('about').innerText.includes('quilted')").await;
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.close().await;
    });
}

/// The steps of the order that is taken can be ticked off in their order only, and taken back.
#[test]
fn joins_are_ticked_off_and_taken_back() {
    on(&four_sections(), Window::Desk, "~", |page, _| async move {
        page.click("#go-join").await;
        page.until("return document.querySelectorAll('#join .join').length === 3").await;
        assert_eq!(page.read("return document.getElementById('sewn-join-3')").await, Value::Null, "it waits for the others");
        // It is fetched when it is looked at.
        page.read("document.querySelector('#join-1 img').scrollIntoView(); return 0").await;
        page.until(
            "return document.querySelector('#join-1 img').complete && document.querySelector('#join-1 img').naturalWidth > 0",
        )
        .await;
        page.click("#sewn-join-1").await;
        page.until("return document.getElementById('joins-done') !== null").await;
        assert_eq!(page.wait_for(&axe_on("document.getElementById('join')")).await, json!([]));
        page.read("document.getElementById('joins-done').open = true; return 0").await;
        page.click("[id^=unjoin-]").await;
        page.until("return document.getElementById('joins-done') === null").await;
        page.click("#join-order-columns").await;
        page.until("return document.querySelector('#join-orders .taken').innerText.includes('columns')").await;
        page.close().await;
    });
}
