//! From a bed to a quilt in the workroom: the bed chosen, settings found and taken, the corners changed.

use crate::common::SMALL;
use crate::driven::{Page, Window, axe_on, on};
use serde_json::json;

async fn has(page: &Page, id: &str, words: &str) {
    page.until(&format!("return document.getElementById('{id}').textContent.includes({words:?})")).await;
}

async fn choose_bed(page: &Page, name: &str) {
    page.click("#go-fit").await;
    page.settle().await;
    let choose = format!(
        "const all = document.getElementById('bed-standard'); \
         all.value = [...all.options].find((each) => each.text.startsWith({name:?})).value; \
         all.dispatchEvent(new Event('change', {{ bubbles: true }})); return 0"
    );
    page.read(&choose).await;
    page.settle().await;
    has(page, "fit", "Corners at the foot").await;
}

/// A bed is chosen, settings for it are found with a reason each, and one click makes the first of them the quilt, which then hangs as is
/// wished; undo takes it back in one step.
#[test]
fn a_bed_finds_its_quilt() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        choose_bed(&page, "US twin,").await;
        has(&page, "fit", "does not reach beyond the mattress").await;
        page.click("#find-settings button").await;
        page.settle().await;
        has(&page, "settings-found", "earest to the size").await;
        let found = page.read("return document.getElementById('settings-found').textContent").await;
        assert!(found.as_str().is_some_and(|found| found.to_lowercase().contains("least cloth")), "{found}");
        let size = page.read("return document.querySelector('#how-found-0 b').textContent").await;
        let size = size.as_str().unwrap_or_default().to_owned();
        page.click("#take-0").await;
        page.settle().await;
        has(&page, "head", &size).await;
        page.until("return !document.getElementById('fit').textContent.includes('does not reach')").await;
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.click("#undo").await;
        page.settle().await;
        has(&page, "head", "16 × 16 in").await;
        page.close().await;
    });
}

/// A corner is changed: it says how it is trimmed, brings a template, and the edge is measured along the curve.
#[test]
fn a_corner_is_changed_for_the_bed() {
    let large = SMALL.replace("size = \"6\"", "size = \"36\"");
    on(&large, Window::Desk, "~", |page, _| async move {
        choose_bed(&page, "US twin,").await;
        page.click("label[for=corner-level]").await;
        page.settle().await;
        has(&page, "fit", "mark an arc of").await;
        let template = "return fetch(document.querySelector('#fit a[href$=\"corner/1.svg\"]').href).then((got) => got.status)";
        assert_eq!(page.read(template).await, 200);
        page.click("#go-finish").await;
        page.settle().await;
        has(&page, "finish", "along the curves").await;
        page.close().await;
    });
}

/// A drop below the floor is refused with the deepest that can be had, and what stood there stands again.
#[test]
fn a_drop_below_the_floor_is_refused() {
    on(SMALL, Window::Phone, "~", |page, _| async move {
        choose_bed(&page, "US queen,").await;
        page.fill("#bed-sides", "30").await;
        page.until("return document.getElementById('message').textContent.includes('make it 24 in or less')").await;
        assert_eq!(page.read("return document.getElementById('bed-sides').value").await, "12");
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        page.close().await;
    });
}
