//! Getting around: from a bed to a book by hand, finding by words and keys, findings that are mended, a dark room, a lid that was closed.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on, on};
use serde_json::json;

/// A bed, a block, some cloths: four choices and one button, then the quilt covers the bed, and its book can be had.
#[test]
fn from_a_bed_to_a_book() {
    on(SMALL, Window::Desk, "/begin", |page: Page, _| async move {
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.read("document.querySelector('#begin-bed').value = 'us twin'").await;
        page.click("input[value=Orchard]").await;
        page.click("input[value='ohio-star'], input[value='sawtooth-star']").await;
        page.click("#begin-make").await;
        page.until("return document.body.matches('.workroom') && document.readyState === 'complete'").await;
        page.click("#go-fit").await;
        assert_eq!(
            page.read("return document.querySelector('#bed-standard').selectedOptions[0].text.startsWith('US twin')").await,
            json!(true)
        );
        let stops = page.read("return document.querySelectorAll('#findings li.stop').length").await;
        assert_eq!(stops, json!(0), "nothing stops the work");
        let book = page
            .wait_for(
                "fetch(base + 'book.pdf?paper=a4').then(async (book) => done([book.status, (await book.text()).slice(0, 5)]));",
            )
            .await;
        assert_eq!(book, json!([200, "%PDF-"]));
        page.close().await;
    });
}

/// What is typed is found among cloths, places and settings, and Enter leads there; every stage can be gone to by keys.
#[test]
fn what_is_looked_for_is_found_by_the_keyboard() {
    on(SMALL, Window::Desk, "~", |page: Page, _| async move {
        page.press(&[], '/').await;
        page.until("return document.querySelectorAll('#found li').length > 8").await;
        page.read("$('find-for').value = 'rus'; lookUp()").await;
        page.until("return document.querySelector('#found button')?.textContent.startsWith('Rust')").await;
        assert_eq!(page.wait_for(&axe_on("$('find')")).await, json!([]));
        page.press(&[], '\u{e007}').await;
        page.until(
            "return !$('find').open && !$('stage-cloths').hidden && $('cloth-rust-card')?.contains(document.activeElement)",
        )
        .await;

        page.press(&[], '/').await;
        page.read("$('find-for').value = 'b2'; lookUp()").await;
        page.until("return document.querySelector('#found button')?.dataset.go === 'B2'").await;
        page.press(&[], '\u{e015}').await;
        page.press(&[], '\u{e007}').await;
        page.until("return chosen === 'B2' && $('about').textContent.includes('B2')").await;

        page.read("$('find-for').value = 'zzz'; lookUp()").await;
        page.until("return $('found').textContent.startsWith('Nothing of that name')").await;
        page.read("document.activeElement.blur()").await;
        for stage in ["piece", "fall", "cut", "lap", "true", "join", "finish"] {
            page.press(&[], ']').await;
            assert_eq!(page.read("return shown").await, stage);
        }
        page.press(&[], '[').await;
        assert_eq!(page.read("return shown").await, "join");
        page.close().await;
    });
}

/// A finding leads to its place and is mended with one click.
#[test]
fn a_finding_is_mended_where_it_stands() {
    let text = SMALL.replace("[block.half]", "[cloth.spare]\ncolour = \"#808080\"\n\n[block.half]");
    on(&text, Window::Desk, "~", |page: Page, _| async move {
        page.read("$('findings-list').open = true").await;
        let spare = "[...document.querySelectorAll('#findings li')].find((each) => each.textContent.includes('cloth spare'))";
        page.read(&format!("{spare}.querySelector('[data-go]').click()")).await;
        page.until("return !$('stage-cloths').hidden && document.activeElement.closest('#cloth-spare-card') !== null").await;
        page.read(&format!("{spare}.querySelector('.cure button').click()")).await;
        page.settle().await;
        assert_eq!(page.read("return $('said').textContent").await, "cloth spare taken away");
        assert_eq!(page.read(&format!("return {spare} === undefined")).await, json!(true));
        page.close().await;
    });
}

/// Every stage in the dark: nothing that axe finds, contrast included; the choice outlives the page.
#[test]
fn the_room_can_be_dark() {
    on(SMALL, Window::Desk, "~", |page: Page, _| async move {
        page.read("document.querySelector('.lights [data-light=dark]').click()").await;
        for stage in ["fit", "cloths", "draft", "set", "piece", "fall", "cut", "lap", "true", "join", "finish"] {
            page.click(&format!("#go-{stage}")).await;
            assert_eq!(page.wait_for(&axe_on("document")).await, json!([]), "{stage}");
        }
        page.read("location.reload()").await;
        page.until("return document.readyState === 'complete' && document.documentElement.dataset.light === 'dark'").await;
        page.close().await;
    });
}

/// On the narrowest phone and on a tablet no stage is wider than the screen.
#[test]
fn no_stage_is_wider_than_its_screen() {
    for (window, width) in [(Window::Phone, 360), (Window::Tablet, 1024)] {
        on(SMALL, window, "~", |page: Page, _| async move {
            for stage in ["fit", "cloths", "draft", "set", "piece", "fall", "cut", "lap", "true", "join", "finish"] {
                page.read(&format!("$('go-{stage}').click()")).await;
                page.settle().await;
                assert_eq!(page.read("return document.documentElement.scrollWidth").await, json!(width), "{stage}");
            }
            page.close().await;
        });
    }
}

/// The lid is closed while an edit is under way: it was sent, its answer never comes. What the page shows is then what the store has.
#[test]
fn an_answer_that_never_comes_loses_nothing() {
    on(SMALL, Window::Desk, "~", |page: Page, _| async move {
        page.read("window.realFetch = fetch; fetch = async (...asked) => { await realFetch(...asked); throw new TypeError('the lid'); }")
            .await;
        page.read("choose('A1'); send('edit', { edit: { do: 'turn', row: 0, number: 0, times: 1 } })").await;
        page.until("return !$('message').hidden").await;
        assert_eq!(
            page.read("return $('message').textContent.includes('nothing that was said to be done is lost')").await,
            json!(true)
        );
        page.read("fetch = realFetch").await;
        page.until("return $('undo').title === 'A1 turned a quarter to the left'").await;
        page.read("$('undo').click()").await;
        page.settle().await;
        assert_eq!(page.read("return $('undo').disabled").await, json!(true), "one edit was made, and one was taken back");
        page.close().await;
    });
}

/// A second window on the same quilt sees the first one's edit, and neither writes over the other.
#[test]
fn two_windows_on_one_quilt() {
    let served = Served::quilt(SMALL);
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let [first, second] =
            [Page::open(&served.url("~"), Window::Desk).await, Page::open(&served.url("~"), Window::Desk).await];
        first.read("send('edit', { edit: { do: 'turn', row: 0, number: 0, times: 1 } })").await;
        first.settle().await;
        second.read("send('edit', { edit: { do: 'turn', row: 0, number: 1, times: 1 } })").await;
        second.until("return !$('message').hidden").await;
        assert_eq!(second.read("return $('message').textContent.includes('changed elsewhere')").await, json!(true));
        assert_eq!(second.read("return revision").await, first.read("return revision").await, "it shows the other's edit");
        second.read("send('edit', { edit: { do: 'turn', row: 0, number: 1, times: 1 } })").await;
        second.settle().await;
        let last = second.read("return revision").await;
        first.until(&format!("return revision === {last}")).await;
        first.close().await;
        second.read("fetch = fetch").await;
    });
}
