//! In the lap: designs chosen and placed, the margin changed, the way of the needle played, drawings brought.

use crate::common::{SMALL, Served};
use crate::driven::{Window, axe_on, on};
use serde_json::{Value, json};

/// A design is chosen for the block that is pointed at; its lines lie on the drawing, now and after the join apart by their dashes; a
/// wider margin leaves fewer of them for now; the way of the needle is played; axe finds nothing.
#[test]
fn a_design_is_placed_and_the_margin_followed() {
    // Every block is a section of its own, so that the margin lies on it.
    let quilt = SMALL.replacen("measure = \"inch\"", "measure = \"inch\"\nlargest-section = \"8\"", 1);
    on(&quilt, Window::Desk, "~", |page, _| async move {
        page.click("#go-lap").await;
        page.read("choose(document.querySelector('g.place').id); return 0").await;
        page.settle().await;
        page.read("document.querySelector('#about details[id^=choose]').open = true; return 0").await;
        page.click("#about [id^=quilt-][id$=-crossed]").await;
        page.until("return document.querySelectorAll('#quilting defs path').length > 0").await;
        let drawn = "return [...document.querySelectorAll('#quilting defs path')].map((each) => each.getAttribute('d').length)";
        page.until("return document.getElementById('quilting').getBoundingClientRect().width > 100").await;
        let dashes = page.read(
            "return ['now', 'after-join'].map((kind) => getComputedStyle(document.querySelector(`#quilting .${kind}:not(.below)`)).strokeDasharray)",
        );
        let dashes = dashes.await;
        assert_eq!(dashes[0], "none");
        assert_ne!(dashes[1], "none");

        let before = page.read(drawn).await;
        page.fill("#lap-margin", "1").await;
        page.until("return document.getElementById('said').textContent.includes('margin')").await;
        page.settle().await;
        assert_ne!(page.read(drawn).await, before, "the lines follow the margin");

        page.click("#about [data-play=on]").await;
        page.until("return document.querySelectorAll('.played path').length > 0").await;
        page.until("return document.querySelector('.told').textContent.startsWith('Needleful 1 of ')").await;
        page.click("#about [data-play=run]").await;
        page.until("return document.querySelector('.told').textContent.startsWith('Needleful 3 of ')").await;
        page.click("#about [data-play=run]").await;
        page.until("return document.querySelector('[data-play=run]').textContent === 'Play'").await;

        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.close().await;
    });
}

/// A path comes out of an SVG file, with its transform worked in.
#[test]
fn a_drawing_of_the_makers_own_is_quilted() {
    on(&quilted("path", "path = \"M0 0L1 1\"\nsize = \"3\""), Window::Desk, "~", |page, folder| async move {
        let file = folder.join("wave.svg");
        let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><script>x</script><g transform="scale(2)"><path d="M1 2L3 2" stroke="red"/></g></svg>"#;
        std::fs::write(&file, svg).unwrap();
        page.click("#go-lap").await;
        page.read("document.getElementById('quilting-0-card').open = true; return 0").await;
        page.give("#quilting-0-file", &file).await;
        page.until("return document.getElementById('quilting-0-path').value === 'M2 4L6 4'").await;
        page.close().await;
    });
}

/// The page of a section fits a phone, from both sides, and axe finds nothing on it.
#[test]
fn the_page_of_a_section_fits_a_phone() {
    on(&quilted("crossed", "spacing = \"1\""), Window::Phone, "~/section/S1?back=true", |page, _| async move {
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        assert_eq!(page.read("return document.querySelector('h1').textContent.includes('from the back')").await, true);
        page.click("[data-play=on]").await;
        page.until("return document.querySelectorAll('.played path').length > 0").await;
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.close().await;
    });
}

#[test]
fn the_way_of_the_needle_is_all_that_is_quilted_now() {
    let served = Served::quilt(&quilted("crossed", "spacing = \"1\""));
    let get = |path: &str| reqwest::blocking::get(served.url(path)).unwrap();
    let plan: Value = get("~/plan.json").json().unwrap();
    let way: Value = get("~/section/S1/way.json").json().unwrap();
    let pattern = &plan["lap"]["patterns"][plan["lap"]["sections"][0]["pattern"].as_u64().unwrap_or(0) as usize];
    assert_eq!(way.as_array().unwrap().len(), pattern["needlefuls"].as_array().unwrap().len());
    let first = &way[0];
    assert!(
        first["told"].as_str().unwrap().starts_with("Needleful 1 of ")
            && first["stretches"][0]["d"].as_str().unwrap().starts_with('M')
    );
    assert!(get("~/section/S1/lines.svg").text().unwrap().starts_with("<svg"));
    for missing in ["~/section/S99", "~/section/S1/lines.png", "/design/nobody.svg"] {
        assert_eq!(get(missing).status().as_u16(), 404, "{missing}");
    }
}

#[test]
fn a_drawing_that_cannot_be_read_says_why() {
    let served = Served::quilt(SMALL);
    let client = reqwest::blocking::Client::new();
    let answer = client.post(served.url("/drawing")).body("<html></html>").send().unwrap();
    assert_eq!(answer.status().as_u16(), 422);
    assert!(answer.json::<Value>().unwrap()["problem"].as_str().unwrap().contains("not an SVG drawing"));
}

/// The small quilt with a design on its first block.
fn quilted(design: &str, more: &str) -> String {
    let quilt = seamfall_model::read(SMALL).unwrap();
    format!("{SMALL}\n[[quilting]]\non = \"{}\"\ndesign = \"{design}\"\n{more}\n", quilt.blocks[0].key)
}
