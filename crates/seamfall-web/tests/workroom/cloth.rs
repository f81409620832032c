//! Cloth: what to buy, the search for less of it, the page for the table, and the fields of what lies below the top.

use crate::common::{SMALL, Served};
use crate::driven::{Window, axe_on, on};
use serde_json::{Value, json};

/// The cut stage shows plain strips at once, and less cloth once it has been looked for; book, plan and the page for the table have
/// what was found.
#[test]
fn less_cloth_is_looked_for_one_cloth_after_another() {
    let served = Served::quilt(&demo());
    let search = || {
        let client = reqwest::blocking::Client::new();
        let answer = client.post(served.url("~/cloth/search")).json(&json!({ "revision": 1, "about": "" })).send().unwrap();
        assert_eq!(answer.status().as_u16(), 200);
        answer.json::<Value>().unwrap()["regions"]["cut"].as_str().unwrap_or_default().to_owned()
    };
    let page = asked_text(&served, "~/region/cut");
    assert!(page.contains("Looking for less cloth: ") && page.contains("id=\"less-cloth\""), "{page}");
    let mut regions = Vec::new();
    loop {
        let region = search();
        if region.is_empty() {
            break;
        }
        let done = !region.contains("less-cloth");
        regions.push(region);
        if done {
            break;
        }
        assert!(regions.len() < 12, "it comes to an end");
    }
    assert!(regions.len() > 2, "one cloth after another");
    // What was found is remembered: a turned block changes no cloth.
    let client = reqwest::blocking::Client::new();
    let turn = json!({ "revision": 1, "about": "", "edit": { "do": "turn", "row": 0, "number": 1, "times": 1 } });
    assert_eq!(client.post(served.url("~/edit")).json(&turn).send().unwrap().status().as_u16(), 200);
    assert!(!asked_text(&served, "~/region/cut").contains("Looking for less cloth"));

    let plan: Value = serde_json::from_str(&asked_text(&served, "~/plan.json")).unwrap();
    let night = plan["buy"].as_array().unwrap().iter().find(|bought| bought["of"] == "night").unwrap();
    let table = asked_text(&served, "~/cloth/night");
    let shown = night["shown"].as_str().unwrap();
    assert!(
        table.contains(&format!("Night blue, {shown}")) && table.contains("<svg") && table.contains("class=\"cuts\""),
        "{shown}"
    );
    assert!(asked_text(&served, "~/cloth/night/0.svg").starts_with("<svg"));
    assert!(asked_text(&served, "~/cut-list.csv").starts_with("material,piece,cut"));
    for missing in ["~/cloth/nobody", "~/cloth/night/99.svg", "~/cloth/night/x"] {
        assert_eq!(reqwest::blocking::get(served.url(missing)).unwrap().status().as_u16(), 404, "{missing}");
    }
    // What is left over becomes a cloth of another quilt.
    let client = reqwest::blocking::Client::new();
    let other: Value = client.post(served.url("/new/tide-pool")).send().unwrap().json().unwrap();
    let other = other["open"].as_str().unwrap().to_owned();
    let number: i64 = other.rsplit('/').next().unwrap().parse().unwrap();
    assert!(asked_text(&served, "~/cloth/night").contains("Add it there as a cloth"));
    let keep = |into: i64| client.post(served.url("~/cloth/night/keep")).json(&json!({ "into": into })).send().unwrap();
    assert_eq!(keep(number).json::<Value>().unwrap()["open"], other.as_str());
    let file = asked_text(&served, &format!("{other}/file"));
    assert!(file.contains("[cloth.night-blue-left-over]") && file.contains("from = [{ size = \""), "{file}");
    assert_eq!(keep(number + 1).status().as_u16(), 404);
    // A state that is shown no more is not searched.
    let old = client.post(served.url("~/cloth/search")).json(&json!({ "revision": 1, "about": "" })).send().unwrap();
    assert_eq!(old.status().as_u16(), 409);
}

fn demo() -> String {
    seamfall_web::demo_quilts()[0].1.to_owned()
}

fn asked_text(served: &Served, path: &str) -> String {
    reqwest::blocking::get(served.url(path)).unwrap().text().unwrap()
}

/// Backing and batting are chosen in the cut stage, a price is typed and taken away again, and all of it is bought; axe finds nothing.
#[test]
fn what_lies_below_the_top_is_chosen() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("[data-stage=cut]").await;
        page.read("document.getElementById('materials').open = true; return 0").await;
        for (select, option) in [("backing-cloth", "Day"), ("sample-cloth", "Day")] {
            let choose = format!(
                "const all = document.getElementById('{select}'); \
                 all.value = [...all.options].find((each) => each.text === '{option}').value; \
                 all.dispatchEvent(new Event('change', {{ bubbles: true }})); return 0"
            );
            page.read(&choose).await;
            page.until(&format!("return document.getElementById('{select}').selectedOptions[0].text === '{option}'")).await;
        }
        page.read("document.getElementById('batting-roll-add').click(); return 0").await;
        page.until("return document.getElementById('batting-price') !== null").await;
        let price = |price: &str| {
            format!(
                "const field = document.getElementById('batting-price'); field.value = '{price}'; \
                 field.dispatchEvent(new Event('change', {{ bubbles: true }})); return 0"
            )
        };
        page.read(&price("9.5")).await;
        page.until("return document.getElementById('how-buy-batting').innerText.includes('.')").await;
        let bought = page.read("return document.getElementById('cut').innerText").await.as_str().unwrap().to_owned();
        for words in ["backing of the sections", "batting of the sections", "practice pieces", "All that has a price"] {
            assert!(bought.contains(words), "{words}: {bought}");
        }
        page.read(&price("")).await;
        page.until("return !document.getElementById('cut').innerText.includes('All that has a price')").await;
        page.until("return document.getElementById('less-cloth') === null").await;
        assert_eq!(page.wait_for(&axe_on("document.getElementById('cut')")).await, json!([]));
        page.close().await;
    });
}

/// The page to follow at the table fits a phone, and axe finds nothing on it.
#[test]
fn the_page_for_the_table_fits_a_phone() {
    on(SMALL, Window::Phone, "~/cloth/night", |page, _| async move {
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        assert_eq!(page.read("return document.querySelectorAll('.strips svg').length > 0").await, true);
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.close().await;
    });
}

/// A server that was stopped is asked now and then whether it is back, not as fast as the browser can.
#[test]
fn what_goes_on_by_itself_waits_where_nobody_answers() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        let nobody = "window.asked_for = 0; window.fetch = () => { asked_for += 1; return Promise.reject(new TypeError('nobody')); };
            $('cut').innerHTML = '<p id=\"less-cloth\" data-left=\"3\"></p><button id=\"less-cloth-stop\"></button><button id=\"less-cloth-go\"></button>';
            delete $('cut').dataset.stale; stage('cut'); setTimeout(() => done(asked_for), 1500);";
        let asked = page.wait_for(nobody).await.as_u64().expect("a number");
        assert!((1..=3).contains(&asked), "{asked} requests in a second and a half");
    });
}
