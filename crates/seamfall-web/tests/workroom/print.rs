//! Paper, pictures and mats from the workroom's menu, at a desk and on a phone.

use crate::common::SMALL;
use crate::driven::{Page, Window, axe_on, on};
use serde_json::json;

/// A book in black and large type is made on the page, with a line that says so meanwhile; what is stopped is told, and makes none.
#[test]
fn a_book_is_made_on_the_page_and_can_be_stopped() {
    on(SMALL, Window::Phone, "~/print", |page: Page, _| async move {
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        let wide = page.read("return document.documentElement.scrollWidth <= innerWidth").await;
        assert_eq!(wide, json!(true), "it fits a phone");
        page.read("document.querySelector('#print-ink').value = 'black'; document.querySelector('#print-type').value = 'large'")
            .await;
        page.click("#book-make").await;
        page.until("return !document.querySelector('#book-done').hidden").await;
        let made = page
            .read("const link = document.querySelector('#book-link'); return [link.href.startsWith('blob:'), link.download.endsWith('.pdf'), /[.][1-9] MB/.test(link.textContent)]")
            .await;
        assert_eq!(made, json!([true, true, true]));
        assert_eq!(page.read("return document.querySelector('#book-progress').hidden").await, json!(true));

        // As long as it is made there is a clock and a way to stop; a slow book is stood in for by an answer that never comes.
        page.read("window.fetch = (_, how) => new Promise((_, fail) => how.signal.addEventListener('abort', () => fail(new DOMException('', 'AbortError'))))").await;
        page.click("#book-make").await;
        page.until("return document.querySelector('#book-said').textContent.includes('1 s')").await;
        page.click("#book-stop").await;
        page.until("return document.querySelector('#message').textContent.startsWith('Stopped')").await;
        assert_eq!(page.read("return document.querySelector('#book-make').disabled").await, json!(false));
        page.close().await;
    });
}

/// Mats are laid, each with its files, and what is typed wrongly is told.
#[test]
fn mats_are_laid_and_can_be_taken() {
    on(SMALL, Window::Desk, "~/mats?mat=12x24&face=down", |page: Page, _| async move {
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        let files = page
            .wait_for(
                "Promise.all([...document.querySelectorAll('td a')].map(async (link) => (await fetch(link.href)).status)).then(done);",
            )
            .await;
        let files = files.as_array().expect("there are files");
        assert!(!files.is_empty() && files.len() % 2 == 0 && files.iter().all(|status| *status == 200), "{files:?}");
        let wrong = page
            .wait_for("fetch('mats?mat=12').then(async (answer) => done([answer.status, (await answer.text()).includes('write it like 12 x 24')]));")
            .await;
        assert_eq!(wrong, json!([422, true]));
        page.close().await;
    });
}
