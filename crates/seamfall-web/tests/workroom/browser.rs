//! The workroom in a real browser: with the mouse, with the keyboard alone, on a phone, and as a screen reader finds it.

use crate::common::SMALL;
use crate::driven::{Window, axe, on};
use serde_json::json;
use thirtyfour::Key;

fn shape(id: &str) -> String {
    format!("return document.getElementById('{id}').getAttribute('d')")
}

fn class(id: &str) -> String {
    format!("return document.getElementById('{id}').getAttribute('class')")
}

const SAID: &str = "return document.getElementById('said').textContent";
const CHOSEN: &str = "return document.querySelector('#about h2')?.textContent ?? ''";
const SIZE: &str = "return document.querySelector('#head p').textContent";

#[test]
fn a_block_is_turned_and_turned_back() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        let (before, far) = (page.read(&shape("A1.p1")).await, page.read(&shape("B2.p1")).await);
        page.click("#A1\\.p1").await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("A1"));
        page.click("#turn-right").await;
        assert_ne!(page.read(&shape("A1.p1")).await, before, "the drawing follows");
        assert_eq!(page.read(&shape("B2.p1")).await, far, "the rest stays");
        assert_eq!(page.read(SAID).await, "A1 turned a quarter to the right");
        assert_eq!(page.read("return document.getElementById('A1').namespaceURI").await, "http://www.w3.org/2000/svg");
        assert_eq!(page.read("return document.activeElement.id").await, "turn-right", "the focus stays where it was");
        page.click("#undo").await;
        assert_eq!(page.read(&shape("A1.p1")).await, before);
        page.click("#redo").await;
        assert_ne!(page.read(&shape("A1.p1")).await, before);
        page.close().await;
    });
}

#[test]
fn a_patch_is_painted_here_and_everywhere() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        // Cloths stand in the order of the file: night, day, rust.
        page.click_beside("#A1\\.p1", 0.25, 0.25).await;
        let night = page.read(&class("A1.p1")).await;
        page.click("#paint-rust").await;
        assert_eq!(page.read(&class("A1.p1")).await, "c2");
        assert_eq!(page.read(&class("B2.p1")).await, night);
        page.click("#everywhere").await;
        page.click("#paint-rust").await;
        assert_eq!(page.read(&class("B2.p1")).await, "c2");
        assert_eq!(page.read("return document.getElementById('everywhere').checked").await, true, "the choice is kept");
        // What to buy follows, and is written when it is looked at.
        page.click("#go-cut").await;
        page.settle().await;
        assert_eq!(page.read("return document.getElementById('cut').textContent.includes('Rust')").await, true);
        page.close().await;
    });
}

#[test]
fn everything_works_with_the_keyboard_alone() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        for _ in 0..40 {
            page.press(&[], Key::Tab).await;
            if page.read("return document.activeElement.matches('g.place')").await == json!(true) {
                break;
            }
        }
        assert_eq!(page.read("return document.activeElement.id").await, "A1");
        page.press(&[], Key::Right).await;
        page.press(&[], Key::Down).await;
        assert_eq!(page.read("return document.activeElement.id").await, "B2");
        assert_eq!(page.read(CHOSEN).await, "B2 Half and half");
        assert_eq!(page.read("return document.activeElement.getAttribute('aria-label')").await, "B2: Half and half");

        let before = page.read(&shape("B2.p1")).await;
        page.press(&[], 'm').await;
        assert_eq!(page.read(SAID).await, "B2 mirrored");
        assert_eq!(page.read("return document.activeElement.id").await, "B2", "the focus outlives the repaint");
        page.press(&[], 'r').await;
        page.press(&[Key::Control], 'z').await;
        page.press(&[Key::Control], 'z').await;
        assert_eq!(page.read(&shape("B2.p1")).await, before);
        page.press(&[Key::Control], 'y').await;
        assert_eq!(page.read(SAID).await, "done again: B2 mirrored");
        page.press(&[Key::Control, Key::Shift], 'Z').await;
        assert_eq!(page.read(SAID).await, "done again: B2 turned a quarter to the right");

        page.press(&[], 'p').await;
        assert_eq!(page.read("return document.querySelector('#about h3').textContent.startsWith('Patch 1')").await, true);

        // Exchange with A2: x, up, Enter.
        page.press(&[], 'x').await;
        page.press(&[], Key::Up).await;
        page.press(&[], Key::Enter).await;
        assert_eq!(page.read(SAID).await, "B2 exchanged with A2");

        page.press(&[], '?').await;
        assert_eq!(page.read("return document.getElementById('keys').open").await, true);
        page.press(&[], Key::Escape).await;
        assert_eq!(page.read("return document.getElementById('keys').open").await, false);
        page.close().await;
    });
}

#[test]
fn sizes_rows_and_bands_follow_the_fields() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        // 2 blocks of 6 and a band of 2 on either side.
        assert!(page.read(SIZE).await.as_str().unwrap().starts_with("16 × 16 in"));
        page.fill("#quilt-columns", "3").await;
        assert!(page.read(SIZE).await.as_str().unwrap().starts_with("22 × 16 in"));
        page.fill("#band0-width", "2 1/2").await;
        assert!(page.read(SIZE).await.as_str().unwrap().starts_with("23 × 17 in"));
        page.click("#sash-add").await;
        // Two strips of 2 across, one up.
        assert!(page.read(SIZE).await.as_str().unwrap().starts_with("27 × 19 in"));
        page.click("#sash-remove").await;
        page.click("#band0-remove").await;
        assert!(page.read(SIZE).await.as_str().unwrap().starts_with("18 × 12 in"));

        page.fill("#quilt-section", "6,5").await;
        assert_eq!(page.read("return document.getElementById('message').hidden").await, false, "what is not understood is said");
        assert_eq!(page.read("return document.getElementById('quilt-section').value").await, "24", "and what stands is shown");

        page.click("#go-cloths").await;
        page.click("#cloth-rust-card > summary").await;
        page.fill("#cloth-rust-name", "Brick").await;
        page.fill("#cloth-add-name", "Moss green").await;
        page.click("#cloth-add button").await;
        let names = "return [...document.querySelectorAll('#cloths summary b')].map((each) => each.textContent).join()";
        assert_eq!(page.read(names).await, "Night,Day,Brick,Moss green");

        page.click("#go-draft").await;
        page.click("#starter-set > summary").await;
        page.click("#starter-churn-dash").await;
        assert_eq!(page.read("return document.querySelectorAll('#draft .card.block').length").await, 3);
        page.close().await;
    });
}

#[test]
fn every_number_shows_its_working() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("#go-cut").await;
        let read = "return [...document.querySelectorAll('#cut li')].map((line) => line.querySelector('.how .working')?.textContent ?? '')";
        let lines = page.read(read).await;
        let lines = lines.as_array().unwrap();
        // Two cloths to buy; of each a square for the triangles, and of one the band's sides and its top and bottom.
        assert!(lines.len() >= 6 && lines.iter().all(|line| line.as_str().unwrap().contains('=')), "{lines:?}");
        page.click("#cut .how summary").await;
        assert_eq!(page.read("return document.querySelector('#cut .how .rule').checkVisibility()").await, true);
        page.close().await;
    });
}

#[test]
fn a_phone_scrolls_one_way_only_and_can_be_touched() {
    on(SMALL, Window::Phone, "~", |page, _| async move {
        assert_eq!(page.read("return innerWidth").await, 360);
        page.click("#A1\\.p1").await;
        for stage in ["cloths", "draft", "set", "piece", "fall", "cut"] {
            page.click(&format!("#go-{stage}")).await;
            page.read("document.querySelectorAll('.side details').forEach((each) => { each.open = true; })").await;
            let wide = page.read("return document.documentElement.scrollWidth").await;
            assert_eq!(wide, 360, "{stage}");
            let small = page
                .read(
                    "return [...document.querySelectorAll('button, select, input:not([type=checkbox], [type=radio]), .switch')]
                        .filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < 43.5)
                        .map((each) => each.outerHTML.slice(0, 80))",
                )
                .await;
            assert_eq!(small, json!([]), "{stage}: touch targets of 44 pixels");
        }
        let top = "return document.getElementById('drawing').getBoundingClientRect().bottom <= document.querySelector('.side').getBoundingClientRect().top + 1";
        assert_eq!(page.read(top).await, true, "the drawing stands above the panel");
        page.close().await;
    });
}

#[test]
fn the_drawing_zooms_and_pans() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        let shown = "return svg().getAttribute('viewBox')";
        let whole = page.read(shown).await;
        page.click("#zoom-in").await;
        let near = page.read(shown).await;
        assert_ne!(near, whole);
        // A drag moves what is seen and chooses nothing.
        page.wait_for(
            "const at = (type, x, y) => document.querySelector('#B2').dispatchEvent(new PointerEvent(type, { bubbles: true, pointerId: 1, clientX: x, clientY: y }));
             $('drawing').setPointerCapture = () => {};
             at('pointerdown', 500, 500); at('pointermove', 450, 460); at('pointermove', 400, 420); at('pointerup', 400, 420);
             document.querySelector('#B2').dispatchEvent(new MouseEvent('click', { bubbles: true })); done(0);",
        )
        .await;
        assert_ne!(page.read(shown).await, near);
        assert_eq!(page.read("return chosen").await, "");
        page.click("#zoom-fit").await;
        assert_eq!(page.read("return view.width === all.width && view.x === all.x").await, true);
        page.close().await;
    });
}

#[test]
fn files_come_in_and_bad_ones_say_where() {
    on(SMALL, Window::Desk, "/quilts", |page, folder| async move {
        let (good, bad) = (folder.join("good.quilt.toml"), folder.join("bad.quilt.toml"));
        std::fs::write(&bad, SMALL.replace("[[band]]\nwidth = \"2\"", "[[band]]\nwidht = \"2\"")).unwrap();
        std::fs::write(&good, SMALL.replace("\"Small\"", "\"Brought in\"")).unwrap();
        page.give("#file", &bad).await;
        page.until("return !document.getElementById('message').hidden").await;
        let message = page.read("return document.getElementById('message').textContent").await;
        let line = SMALL.lines().position(|line| line == "[[band]]").unwrap() + 2;
        assert!(message.as_str().unwrap().contains(&format!("Line {line}, column 1")), "{message}");
        assert!(message.as_str().unwrap().contains("width"), "a suggestion: {message}");
        page.give("#file", &good).await;
        page.until("return location.pathname.startsWith('/q/')").await;
        page.until("return document.querySelector('h1')?.textContent === 'Brought in'").await;
        let out = page.wait_for("fetch(base + 'file').then((answer) => answer.text()).then(done)").await;
        assert_eq!(out.as_str().unwrap(), SMALL.replace("\"Small\"", "\"Brought in\""));
        page.close().await;
    });
}

/// WCAG 2.2 A and AA, as far as a program can tell (axe-core), in every part of the page.
#[test]
fn nothing_stands_in_the_way_of_anybody() {
    let broken = SMALL.replace("seams = [[0, 0, 2, 2]]", "seams = [[0, 0, 2, 2], [0, 1, 0.5, 1]]");
    on(&broken, Window::Desk, "~", |page, _| async move {
        let run = format!(
            "{}; axe.run(document, {{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }})
                .then((found) => done(found.violations.map((each) => [each.id, each.help, each.nodes.map((node) => node.html.slice(0, 160))])));",
            axe()
        );
        page.click("#A1\\.p1").await;
        for stage in ["set", "cloths", "draft", "piece", "fall", "cut"] {
            page.click(&format!("#go-{stage}")).await;
            page.read("document.querySelectorAll('.side details').forEach((each) => { each.open = true; })").await;
            assert_eq!(page.wait_for(&run).await, json!([]), "{stage}");
        }
        page.press(&[], '?').await;
        assert_eq!(page.wait_for(&run).await, json!([]), "keys");
        page.press(&[], Key::Escape).await;
        page.read("location.assign('/quilts')").await;
        page.until("return document.querySelector('h1')?.textContent === 'Quilts'").await;
        assert_eq!(page.wait_for(&run).await, json!([]), "quilts");
        page.close().await;
    });
}
