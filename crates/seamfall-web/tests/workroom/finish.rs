//! The end of the work in the workroom: edges chosen one after another, what they ask for, what they cannot be.

use crate::common::SMALL;
use crate::driven::{Page, Window, axe_on, on};
use serde_json::json;

async fn choose(page: &Page, select: &str, option: &str) {
    let choose = format!(
        "const all = document.getElementById('{select}'); \
         all.value = [...all.options].find((each) => each.text.startsWith('{option}')).value; \
         all.dispatchEvent(new Event('change', {{ bubbles: true }})); return 0"
    );
    page.read(&choose).await;
    page.settle().await;
    page.until(&format!("return document.getElementById('{select}').selectedOptions[0].text.startsWith('{option}')")).await;
}

async fn text(page: &Page, id: &str) -> String {
    page.read(&format!("return document.getElementById('{id}').textContent")).await.as_str().unwrap_or_default().to_owned()
}

/// Scallops with a binding on the straight are warned of, and the finding leads to where it is mended; on the bias the square is drawn
/// step by step; one edge gives way to the next; axe finds nothing.
#[test]
fn an_edge_is_chosen_and_bound() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("#go-finish").await;
        choose(&page, "binding-cloth", "Rust").await;
        page.fill("#binding-width", "2 1/4").await;
        page.until("return document.getElementById('said').textContent.includes('2 1/4')").await;
        choose(&page, "finish-edge", "scallops").await;
        page.fill("#finish-width", "4").await;
        page.fill("#finish-depth", "1").await;
        page.until("return document.getElementById('finish').innerText.includes('along the curves')").await;
        page.until("return document.getElementById('findings').textContent.includes('on the straight of')").await;

        page.click("#go-set").await;
        page.read("document.getElementById('findings-list').open = true; \
                   [...document.querySelectorAll('#findings-list button')].find((each) => each.textContent.includes('on the straight of')).click(); return 0").await;
        page.until("return !document.getElementById('stage-finish').hidden").await;
        choose(&page, "binding-on", "on the bias").await;
        page.until("return document.querySelectorAll('#finish .steps-drawn svg').length === 2").await;
        assert!(text(&page, "finish").await.contains("Side of the square"));
        assert_eq!(
            page.read("return fetch(document.querySelector('#finish a[href$=\"edge.svg\"]').href).then((got) => got.status)")
                .await,
            200
        );

        choose(&page, "finish-edge", "prairie points").await;
        page.fill("#finish-square", "2").await;
        page.until("return document.getElementById('finish').innerText.includes('on each of 4 sides')").await;
        choose(&page, "finish-edge", "a ruffle").await;
        page.until("return document.getElementById('finish-fullness') !== null").await;
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.close().await;
    });
}

/// A scallop deeper than the band has room for is said with what would do, and nothing is lost.
#[test]
fn what_cannot_be_had_names_what_can() {
    on(SMALL, Window::Phone, "~", |page, _| async move {
        page.click("#go-finish").await;
        choose(&page, "finish-edge", "scallops").await;
        page.fill("#finish-width", "4").await;
        page.fill("#finish-depth", "1 7/8").await;
        page.until("return document.getElementById('findings').textContent.includes('Help: make')").await;
        let said = text(&page, "findings").await;
        assert!(said.contains("1 1/2 in"), "the nearest depth is named: {said}");
        page.fill("#finish-depth", "0").await;
        page.until("return !document.getElementById('message').hidden").await;
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        page.close().await;
    });
}

/// A cover comes with its cautions and their source, and its lining is bought.
#[test]
fn a_cover_comes_with_its_cautions() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("#go-finish").await;
        choose(&page, "cover-lining", "Day").await;
        page.fill("#cover-ties", "6").await;
        page.until("return document.getElementById('finish').innerText.includes('ASTM F1816')").await;
        page.click("#go-cut").await;
        page.until("return document.getElementById('cut').innerText.includes('lining of the cover')").await;
        page.close().await;
    });
}
