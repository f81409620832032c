//! Falls in the workroom: the layer over the drawing, seams chosen and set by mouse, keyboard and finger, and the lists beside it.

use crate::common::SMALL;
use crate::driven::{Window, axe, on};
use serde_json::json;
use thirtyfour::Key;

const SAID: &str = "return document.getElementById('said').textContent";
const CHOSEN: &str = "return document.querySelector('#about h2')?.textContent ?? ''";
const SHOWN: &str = "return getComputedStyle(svg().querySelector('.falls')).display !== 'none'";
const PRESSED: &str = "return [...document.querySelectorAll('#about .sides [aria-pressed=true]')].map((each) => each.id).join()";

fn signs(id: &str) -> String {
    format!("return document.getElementById('{id}').getAttribute('d')")
}

/// Two blocks of two halves, one above the other: their seams meet where the rows are joined.
fn halves() -> String {
    let block = SMALL.replace("seams = [[0, 0, 2, 2]]", "seams = [[1, 0, 1, 2]]");
    let block = block.replace("dark = [[0.5, 1.5]], light = [[1.5, 0.5]]", "dark = [[0.5, 0.5]], light = [[1.5, 0.5]]");
    block.replace("columns = 2", "columns = 1").split("[[band]]").next().unwrap().to_owned()
}

#[test]
fn the_layer_is_off_until_it_is_asked_for_and_then_kept() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        assert_eq!(page.read(SHOWN).await, false);
        assert_eq!(page.read("return document.getElementById('legend').checkVisibility()").await, false);
        page.press(&[], 'f').await;
        assert_eq!(page.read(SHOWN).await, true);
        let legend = page.read("return document.getElementById('legend').innerText").await;
        for word in ["falls to this side", "pressed open", "set by hand", "stacks"] {
            assert!(legend.as_str().unwrap().contains(word), "{legend}");
        }
        page.read("location.reload()").await;
        page.until("return typeof svg === 'function' && document.getElementById('show-falls').checked").await;
        assert_eq!(page.read(SHOWN).await, true, "kept from visit to visit");
        page.click("#show-falls").await;
        assert_eq!(page.read(SHOWN).await, false);
        page.close().await;
    });
}

/// A1's block spans from 2 to 8 in; its diagonal runs through its middle.
#[test]
fn a_seam_is_pointed_at_and_set() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("#A1\\.p1").await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("A1"), "without the layer a click means a patch");
        page.press(&[], 'f').await;
        page.click("#A1").await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("Seam of A1"), "{}", page.read(CHOSEN).await);
        assert_eq!(page.read("return document.querySelectorAll('#pick.seam path').length").await, 2, "it is marked");
        let (before, was) = (page.read(&signs("A1.falls")).await, page.read(PRESSED).await);
        assert_eq!(page.read("return document.getElementById('stage-fall').checkVisibility()").await, true);

        // To the other side: the sign turns over, and has the bar of what was set by hand.
        let other = if was == "fall-a" { "#fall-b" } else { "#fall-a" };
        page.click(other).await;
        assert_eq!(page.read(PRESSED).await, other[1..]);
        assert_ne!(page.read(&signs("A1.falls")).await, before);
        assert!(
            page.read("return document.getElementById('about').textContent")
                .await
                .as_str()
                .unwrap()
                .contains("Set by hand, here.")
        );
        assert!(page.read(SAID).await.as_str().unwrap().contains(" fall to A1.p"), "{}", page.read(SAID).await);
        page.click("#fall-free").await;
        assert_eq!(page.read(&signs("A1.falls")).await, before);

        // In every copy.
        let far = page.read(&signs("B2.falls")).await;
        page.click("#every-copy").await;
        page.click("#fall-open").await;
        assert_ne!(page.read(&signs("B2.falls")).await, far);
        page.click("#undo").await;
        assert_eq!(page.read(&signs("B2.falls")).await, far);

        // The middle of a patch is no seam.
        page.click_beside("#A1\\.p1", 0.3, 0.3).await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("A1"));
        page.close().await;
    });
}

#[test]
fn seams_are_set_with_the_keyboard_alone() {
    on(&halves(), Window::Desk, "~", |page, _| async move {
        for _ in 0..50 {
            page.press(&[], Key::Tab).await;
            if page.read("return document.activeElement.matches('g.place')").await == json!(true) {
                break;
            }
        }
        page.press(&[], Key::Enter).await;
        page.press(&[], 's').await;
        assert_eq!(page.read(SHOWN).await, true, "the layer shows by itself");
        assert_eq!(page.read(CHOSEN).await, "Seam of A1 between patch 1 and patch 2");
        assert!(page.read(SAID).await.as_str().unwrap().starts_with("Seam of A1: falls "), "{}", page.read(SAID).await);
        page.press(&[], 'a').await;
        assert_eq!(page.read(PRESSED).await, "fall-a");
        // The dark half lies to the left of the upright seam.
        let sides = page
            .read("return ['a', 'b'].map((each) => $(`fall-${each}`).innerText.replace(/\\s+/g, ' ')).sort().join('; ')")
            .await;
        assert_eq!(sides, "← left, to patch 1, Night a; → right, to patch 2, Day b");
        page.press(&[], 'b').await;
        assert_eq!(page.read(PRESSED).await, "fall-b");
        page.press(&[], 'o').await;
        assert_eq!(page.read(PRESSED).await, "fall-open");
        page.press(&[], 'n').await;
        assert_ne!(page.read(PRESSED).await, "fall-open");
        assert_eq!(page.read("return document.activeElement.id").await, "A1", "the focus stays on the block");
        page.press(&[], Key::Escape).await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("A1"));
        page.press(&[], Key::Down).await;
        assert_eq!(page.read("return document.activeElement.id").await, "B1", "arrows go over the blocks again");
        page.close().await;
    });
}

/// A block of four squares has its two short seams and the long one that joins them; the join of the rows lies beside it.
#[test]
fn arrows_go_from_seam_to_seam_round_the_block() {
    let four = halves().replace("seams = [[1, 0, 1, 2]]", "seams = [[1, 0, 1, 2], [0, 1, 2, 1]]");
    let four = four.replace(
        "dark = [[0.5, 0.5]], light = [[1.5, 0.5]]",
        "dark = [[0.5, 0.5], [1.5, 1.5]], light = [[1.5, 0.5], [0.5, 1.5]]",
    );
    on(&four, Window::Desk, "~", |page, _| async move {
        page.click("#A1\\.p1").await;
        page.press(&[], 's').await;
        let first = page.read("return course()").await;
        let mut seen = vec![first.clone()];
        for _ in 0..3 {
            page.read("document.activeElement.blur()").await;
            page.press(&[], Key::Right).await;
            let next = page.read("return course()").await;
            assert!(!seen.contains(&next), "{next}");
            seen.push(next);
        }
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("Seam of the top"), "{}", page.read(CHOSEN).await);
        page.press(&[], 'o').await;
        assert!(page.read(SAID).await.as_str().unwrap().starts_with("A1 and B1 pressed open"), "{}", page.read(SAID).await);
        page.press(&[], Key::Right).await;
        assert_eq!(page.read("return course()").await, first, "three seams and a join, then the first again");
        page.press(&[], Key::Left).await;
        assert_eq!(page.read("return course()").await, seen[3]);
        page.press(&[], Key::Escape).await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("A1"), "back to the block one came from");
        page.close().await;
    });
}

/// Both seams set to the same side: the way from the list to the place, and out.
#[test]
fn a_stack_is_listed_shown_and_pressed_away() {
    on(&halves(), Window::Desk, "~", |page, _| async move {
        page.click("#go-fall").await;
        assert!(
            page.read("return document.getElementById('fall').textContent")
                .await
                .as_str()
                .unwrap()
                .contains("No meeting stacks.")
        );
        // One pressing for both copies.
        page.click("#pressings-1").await;
        assert!(page.read(SAID).await.as_str().unwrap().contains("1 stack more"), "{}", page.read(SAID).await);
        assert_eq!(page.read("return document.getElementById('pressings-1').checked").await, true);
        let whole = page.read("return svg().getAttribute('viewBox')").await;
        page.click("#stack-1").await;
        assert_eq!(page.read(SHOWN).await, true);
        assert_ne!(page.read(&signs("stacks")).await, "", "the layer has come, which was not sent while it was hidden");
        assert_ne!(page.read("return svg().getAttribute('viewBox')").await, whole, "it is looked at closely");
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("Seam of"));
        assert_eq!(page.read("return document.querySelectorAll('#pick.seam').length").await, 1);
        // Pressed open it lies flat.
        page.click("#fall-open").await;
        assert!(page.read(SAID).await.as_str().unwrap().contains("1 stack less"), "{}", page.read(SAID).await);
        assert_eq!(page.read(&signs("stacks")).await, "");
        page.click("#undo").await;
        page.click("#pressings-free").await;
        assert_eq!(page.read("return document.getElementById('pressings-free').checked").await, true);
        assert_eq!(page.read(&signs("stacks")).await, "");
        page.close().await;
    });
}

#[test]
fn the_layer_follows_a_block_that_is_turned() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.press(&[], 'f').await;
        // The sign stands on the seam, whose course the block carries with it.
        let on_seam = "const box = (id) => document.getElementById(id).getBoundingClientRect(), sign = box('A1.falls'), patch = box('A1.p1');
             return [sign.x + sign.width / 2 - patch.x - patch.width / 2, sign.y + sign.height / 2 - patch.y - patch.height / 2].every((each) => Math.abs(each) < patch.width / 8)";
        assert_eq!(page.read(on_seam).await, true);
        let before = page.read(&signs("A1.falls")).await;
        page.click("#A1").await;
        page.press(&[], Key::Escape).await;
        page.click("#turn-right").await;
        assert_ne!(page.read(&signs("A1.falls")).await, before);
        assert_eq!(page.read(on_seam).await, true);
        assert_eq!(page.read(SHOWN).await, true);
        page.close().await;
    });
}

#[test]
fn units_are_listed_with_their_pictures_in_the_order_of_making() {
    on(&halves(), Window::Desk, "~", |page, _| async move {
        page.click("#go-piece").await;
        let line = page.read("return document.querySelector('#piece .units li').innerText").await;
        // One unit, the block; two of it; of two rectangles.
        for word in ["u1", "whole block", "2 ×", "Night", "Day"] {
            assert!(line.as_str().unwrap().contains(word), "{line}");
        }
        assert_eq!(page.read("return document.querySelectorAll('#piece .units li').length").await, 1);
        page.until("return document.querySelector('#piece .units img').naturalWidth > 0").await;
        // The links to the templates of a block.
        page.click("#go-draft").await;
        let bad = page
            .wait_for(
                "Promise.all([...document.querySelectorAll('#draft a')].map((link) => fetch(link.href).then((answer) => answer.ok ? '' : link.href)))
                     .then((all) => done([all.length > 2, ...all.filter(Boolean)]))",
            )
            .await;
        assert_eq!(bad, json!([true]), "every link of the blocks leads somewhere");
        page.close().await;
    });
}

/// Four squares of two triangles are made two at a time from squares of 6 + 7/8 in (see the rule); plain, each triangle is cut.
#[test]
fn the_way_a_unit_is_made_is_chosen() {
    on(SMALL, Window::Desk, "~", |page, _| async move {
        page.click("#go-piece").await;
        let shown = "return document.querySelector('#way-u1').selectedOptions[0].textContent";
        assert_eq!(page.read(shown).await, "the plan chooses: two at a time");
        let choose = |label: &str| {
            format!(
                "const choice = document.querySelector('#way-u1'); choice.selectedIndex = [...choice].findIndex((each) => each.textContent.startsWith('{label}'));
                 choice.dispatchEvent(new Event('change', {{ bubbles: true }}));"
            )
        };
        page.read(&choose("patch by patch")).await;
        page.settle().await;
        assert_eq!(page.read(shown).await, "patch by patch");
        assert!(page.read(SAID).await.as_str().unwrap().ends_with("made patch by patch"), "{}", page.read(SAID).await);
        page.read(&choose("the plan chooses")).await;
        page.settle().await;
        assert_eq!(page.read(shown).await, "the plan chooses: two at a time");
        page.close().await;
    });
}

#[test]
fn a_finger_finds_a_seam() {
    on(SMALL, Window::Phone, "~", |page, _| async move {
        page.click("#show-falls").await;
        page.click("#A1").await;
        assert!(page.read(CHOSEN).await.as_str().unwrap().starts_with("Seam of A1"));
        let wide = page.read("return document.documentElement.scrollWidth").await;
        assert_eq!(wide, 360);
        let small = page
            .read("return [...document.querySelectorAll('#about button, .pressings .switch')].filter((each) => each.checkVisibility() && each.getBoundingClientRect().height < 43.5).map((each) => each.outerHTML.slice(0, 80))")
            .await;
        assert_eq!(small, json!([]), "touch targets of 44 pixels");
        page.close().await;
    });
}

/// WCAG 2.2 A and AA, as far as a program can tell (axe-core).
#[test]
fn falls_stand_in_the_way_of_nobody() {
    let one = format!("pressings = 1\n{}", halves().replace("# made by hand\n", ""));
    on(&one, Window::Desk, "~", |page, _| async move {
        let run = format!(
            "{}; axe.run(document, {{ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }})
                .then((found) => done(found.violations.map((each) => [each.id, each.help, each.nodes.map((node) => node.html.slice(0, 160))])));",
            axe()
        );
        page.press(&[], 'f').await;
        page.click("#go-fall").await;
        page.click("#stack-1").await;
        for stage in ["fall", "piece"] {
            page.click(&format!("#go-{stage}")).await;
            page.read("document.querySelectorAll('.side details').forEach((each) => { each.open = true; })").await;
            assert_eq!(page.wait_for(&run).await, json!([]), "{stage}");
        }
        page.close().await;
    });
}
