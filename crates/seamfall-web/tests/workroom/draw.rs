//! A block drawn on the screen: what the server answers, and the same block by mouse and by keyboard.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on};
use reqwest::blocking::Client;
use serde_json::{Value, json};
use thirtyfour::Key;

fn post(served: &Served, path: &str, body: &Value) -> (u16, Value) {
    let answer = Client::new().post(served.url(path)).json(body).send().expect("the server answers");
    (answer.status().as_u16(), answer.json().expect("data"))
}

fn get(served: &Served, path: &str) -> String {
    reqwest::blocking::get(served.url(path)).expect("the server answers").text().expect("text")
}

/// An empty square of 6 in on a grid of 4.
fn empty() -> Value {
    json!({ "name": "Kite", "shape": "square", "size": "6", "grid": [4, 4], "seams": [], "parts": [], "overlay": [] })
}

/// The sheet once something is done to a drawing.
fn done(served: &Served, drawing: &Value, what: &Value) -> Value {
    let mut body = json!({ "drawing": drawing });
    body.as_object_mut().expect("an object").extend(what.as_object().expect("an object").clone());
    let (status, sheet) = post(served, "~/drawing", &body);
    assert_eq!(status, 200, "{sheet}");
    sheet
}

/// Four half-square triangles about the middle, one of them painted: counted by hand.
#[test]
fn patches_findings_and_templates_come_with_every_seam() {
    let served = Served::quilt(SMALL);
    let loose = done(&served, &empty(), &json!({ "act": { "do": "line", "from": [0, 0], "to": [2, 2] } }));
    let findings = loose["findings"].as_str().unwrap();
    assert!(findings.contains("touches nothing") && findings.contains(r#"data-u="2""#), "{findings}");
    let all = done(
        &served,
        &loose["drawing"],
        &json!({ "act": { "do": "line", "from": [0, 0], "to": [2, 2], "repeat": ["quarter"] } }),
    );
    assert_eq!(all["drawing"]["seams"].as_array().unwrap().len(), 4);
    assert_eq!(all["patches"].as_array().unwrap().len(), 4);
    assert!(all["findings"].as_str().unwrap().contains("none of its 4 patches has a cloth"));
    let painted = done(&served, &all["drawing"], &json!({ "paint": { "cloth": "night", "at": [2, 3] } }));
    assert_eq!(painted["drawing"]["parts"], json!([{ "name": "night", "cloth": "night", "points": [[2.0, 3.0]] }]));
    assert!(painted["findings"].as_str().unwrap().contains("it has no cloth"));
    let rest = done(&served, &painted["drawing"], &json!({ "paint": { "cloth": "day" } }));
    assert!(rest["findings"].as_str().unwrap().contains("Nothing to say"));
    // The triangle on its long side: 6 in finished. Both outlines are drawn, and the cut one is larger by the allowance.
    let templates = rest["templates"].as_str().unwrap();
    assert!(
        templates.contains("quarter-square triangle, long side 6, 4 patches") && templates.contains(r#"class="cut""#),
        "{templates}"
    );
    assert!(rest["points"].as_array().unwrap().iter().any(|each| each["what"] == "corner" && each["grid"] == json!([4.0, 4.0])));
}

/// A seam from one corner's neighbour inward, repeated over all that the shape has: as many as its symmetry group has elements, or half of
/// that where it lies on a mirror line. Orders: H. S. M. Coxeter, "Introduction to Geometry", 1961, chapter 2.
#[test]
fn every_shape_is_drawn_on_with_its_own_lines_and_turns() {
    let served = Served::quilt(SMALL);
    for (shape, keys, order) in [
        ("square", &["upright", "quarter"][..], 8),
        ("rectangle", &["upright", "level"], 4),
        ("triangle", &["upright", "third"], 6),
        ("right-triangle", &["rising"], 2),
        ("diamond", &["rising", "half"], 4),
        ("hexagon", &["level", "sixth"], 12),
    ] {
        let sheet = done(&served, &empty(), &json!({ "act": { "do": "shape", "shape": shape } }));
        assert_eq!((&sheet["drawing"]["shape"], sheet["patches"].as_array().unwrap().len()), (&json!(shape), 1));
        let (from, to) = if shape == "hexagon" { ([4.5, 1.0], [5.0, 1.5]) } else { ([0.5, 0.25], [1.0, 0.25]) };
        let act = json!({ "act": { "do": "line", "from": from, "to": to, "repeat": keys }, "repeat": keys });
        let drawn = done(&served, &sheet["drawing"], &act);
        assert_eq!(drawn["drawing"]["seams"].as_array().unwrap().len(), order, "{shape}");
        assert_eq!(drawn["images"].as_array().unwrap().len(), order - 1, "{shape}");
        assert!(drawn["settings"].as_str().unwrap().contains(&format!("repeat-{}", keys[0])), "{shape}");
        let templates = drawn["templates"].as_str().unwrap();
        assert!(templates.contains("class=\"sew\""), "{shape}: {templates}");
    }
}

#[test]
fn what_cannot_be_drawn_is_refused_in_words() {
    let served = Served::quilt(SMALL);
    for (body, status, word) in [
        (json!({ "drawing": empty(), "act": { "do": "grid", "grid": [0, 0] } }), 422, "1 to 240 divisions"),
        (json!({ "drawing": empty(), "act": { "do": "remove", "seam": 3 } }), 422, "there is no seam 3"),
        (json!({ "drawing": empty(), "paint": { "cloth": "velvet" } }), 422, "there is no cloth `velvet`"),
        (json!({ "drawing": empty(), "paint": { "cloth": "day", "at": [9, 9] } }), 422, "there is no patch"),
        (json!({ "drawing": { "name": "A", "shape": "square", "size": "6", "seams": [7] } }), 422, "a seam is like"),
        (json!({ "drawing": empty(), "act": { "do": "sew" } }), 422, "unknown variant"),
        (json!({ "drawing": { "name": "", "shape": "square", "size": "6" } }), 422, "the name is empty"),
        (
            json!({ "drawing": { "name": "A", "shape": "square", "size": "6", "grid": [4, 4], "seams": vec![[0, 0, 1, 1]; 2_001] } }),
            422,
            "more than the 2000",
        ),
    ] {
        let (found, answer) = post(&served, "~/drawing", &body);
        let problem = answer["problem"].as_str().unwrap();
        assert!(found == status && problem.contains(word), "{word}: {found} {problem}");
    }
    let bad = Client::new().post(served.url("~/drawing")).header("content-type", "application/json").body("{").send().unwrap();
    assert_eq!(bad.status().as_u16(), 400);
    assert!(bad.json::<Value>().unwrap()["problem"].as_str().is_some_and(|problem| !problem.is_empty()));
}

#[test]
fn saving_is_an_edit_that_can_be_undone() {
    let served = Served::quilt(SMALL);
    let drawn = done(&served, &empty(), &json!({ "act": { "do": "line", "from": [0, 0], "to": [4, 4] } }));
    let drawn = done(&served, &drawn["drawing"], &json!({ "paint": { "cloth": "rust" } }));
    let before = get(&served, "~/file");
    let save = |revision: &Value, block: Value| {
        post(&served, "~/drawing/save", &json!({ "revision": revision, "block": block, "drawing": drawn["drawing"] }))
    };
    let revision: Value = serde_json::from_str(&get(&served, "~/revision")).unwrap();
    let (status, saved) = save(&revision, Value::Null);
    assert_eq!((status, &saved["block"]), (200, &json!("kite")));
    let file = get(&served, "~/file");
    assert!(file.contains("[block.kite]") && file.contains("seams = [\n  [0, 0, 4, 4],\n]"), "{file}");
    assert!(get(&served, "~/templates/kite/A.svg").contains("cut 2 of Rust"));
    // Another one of that name has another key; the one that is drawn on keeps its own.
    let (_, second) = save(&saved["revision"], Value::Null);
    assert_eq!(second["block"], "kite-2");
    let (status, answer) = save(&revision, json!("kite"));
    assert_eq!(status, 409, "{answer}");
    for _ in 0..2 {
        post(&served, "~/undo", &json!({ "revision": 1, "about": "" }));
    }
    assert_eq!(get(&served, "~/file"), before);
    // A block in the rows of the quilt stays one that can stand there.
    let revision: Value = serde_json::from_str(&get(&served, "~/revision")).unwrap();
    let mut hexagon = empty();
    hexagon["shape"] = json!("hexagon");
    let (status, answer) = post(&served, "~/drawing/save", &json!({ "revision": revision, "block": "half", "drawing": hexagon }));
    assert!(
        status == 422 && answer["problem"].as_str().unwrap().contains("only squares and rectangles can stand in rows"),
        "{answer}"
    );
}

#[test]
fn own_blocks_are_kept_for_every_quilt_renamed_taken_out_and_brought_in() {
    let served = Served::quilt(SMALL);
    let drawn = done(
        &served,
        &empty(),
        &json!({ "act": { "do": "arc", "from": [2, 0], "to": [0, 2], "through": [2.0_f64.sqrt(), 2.0_f64.sqrt()] } }),
    );
    let drawn = done(&served, &drawn["drawing"], &json!({ "paint": { "cloth": "day" } }));
    assert_eq!(
        post(&served, "~/drawing/keep", &json!({ "drawing": drawn["drawing"] })),
        (200, json!("Kite is kept among your own blocks"))
    );
    let text = get(&served, "/own/1.toml");
    assert!(text.starts_with("format = 1\nmeasure = \"inch\"\n\n[block]\nname = \"Kite\"") && !text.contains("cloths"), "{text}");
    assert!(get(&served, "/own/1.svg").starts_with("<svg"));
    assert_eq!(post(&served, "/own/1/name", &json!({ "name": "Fan" })).0, 200);
    let (status, answer) = post(&served, "/own/1/name", &json!({ "name": " " }));
    assert!(status == 422 && answer["problem"].as_str().unwrap().contains("the name is empty"), "{answer}");
    // In another quilt, which is in centimetres.
    let other: Value = Client::new().post(served.url("/new/market-rows")).send().unwrap().json().unwrap();
    let other = other["open"].as_str().unwrap();
    assert!(get(&served, &format!("{other}/own")).contains("Fan"));
    let page = get(&served, &format!("{other}/draw?from=own:1"));
    assert!(page.contains("&quot;name&quot;:&quot;Fan&quot;"));
    let revision: Value = serde_json::from_str(&get(&served, &format!("{other}/revision"))).unwrap();
    let (status, repaint) =
        post(&served, &format!("{other}/own/1/take"), &json!({ "revision": revision, "about": "", "shown": "draft" }));
    assert_eq!((status, &repaint["said"]), (200, &json!("Fan drawn")));
    let file = get(&served, &format!("{other}/file"));
    assert!(file.contains("[block.fan]") && file.contains("arc = [2, 0, 0, 2], centre = [0, 0]"));
    // Out and in again, byte for byte.
    let text = get(&served, "/own/1.toml");
    let bring = |text: String| {
        let answer = Client::new().post(served.url("/own")).header("content-type", "application/toml").body(text).send().unwrap();
        (answer.status().as_u16(), answer.json::<Value>().unwrap())
    };
    assert_eq!(bring(text.clone()).0, 200);
    assert_eq!(get(&served, "/own/2.toml"), text);
    let (status, answer) = bring(text.replace("shape", "form"));
    assert_eq!((status, &answer["places"][0]["line"]), (422, &json!(6)), "{answer}");
    assert_eq!(post(&served, "/own/1/remove", &json!({})).0, 200);
    assert_eq!(post(&served, "/own/1/remove", &json!({})).0, 404);
    assert!(get(&served, &format!("{other}/file")).contains("[block.fan]"), "a quilt that has it keeps it");
}

#[test]
fn blocks_to_go_on_from_are_found() {
    let served = Served::quilt(SMALL);
    for path in ["~/draw", "~/draw/half", "~/draw?from=starter:churn-dash", "~/draw?from=block:half"] {
        assert!(get(&served, path).contains("id=\"sheet\""), "{path}");
    }
    for path in ["~/draw/none", "~/draw?from=starter:none", "~/draw?from=own:7", "~/draw?from=half"] {
        assert_eq!(reqwest::blocking::get(served.url(path)).unwrap().status().as_u16(), 404, "{path}");
    }
}

/// Where a point of the sheet lies in the window, as shares of the sheet from its middle.
async fn place(page: &Page, u: f64, v: f64) -> (f64, f64) {
    let script = format!(
        "const svg = document.querySelector('#sheet-drawing > svg'); const box = document.getElementById('sheet').getBoundingClientRect(); \
         const at = new DOMPoint({u} * 1.5, 6 - {v} * 1.5).matrixTransform(svg.getScreenCTM()); \
         return [(at.x - box.left) / box.width - 0.5, (at.y - box.top) / box.height - 0.5];"
    );
    let at = page.read(&script).await;
    (at[0].as_f64().expect("a number"), at[1].as_f64().expect("a number"))
}

async fn drag(page: &Page, from: [f64; 2], to: [f64; 2]) {
    let (from, to) = (place(page, from[0], from[1]).await, place(page, to[0], to[1]).await);
    page.drag("#sheet", from, to).await;
}

async fn point_at(page: &Page, [u, v]: [f64; 2]) {
    let (right, down) = place(page, u, v).await;
    page.click_beside("#sheet", right, down).await;
}

/// A bow under a roof: two slanting seams, mirrored, and two quarter circles. By mouse.
async fn by_mouse(page: &Page) {
    page.settle().await;
    page.click("#repeat-upright").await;
    drag(page, [0.0, 2.0], [2.03, 3.96]).await;
    page.click("[name=tool][value=arc]").await;
    drag(page, [0.0, 2.0], [2.0, 0.0]).await;
    page.settle().await;
    let root = 2.0_f64.sqrt();
    point_at(page, [2.0 - root, 2.0 - root]).await;
    page.click("[name=tool][value=paint]").await;
    page.click("[name=cloth][value=rust]").await;
    point_at(page, [2.0, 2.0]).await;
    page.click("[name=cloth][value=day]").await;
    page.click("#paint-rest").await;
}

/// The same by keyboard alone.
async fn by_keyboard(page: &Page) {
    page.settle().await;
    page.read("document.getElementById('sheet').focus(); return 0").await;
    let press = async |keys: &str| {
        for key in keys.chars() {
            match key {
                '<' => page.press(&[], Key::Left).await,
                '>' => page.press(&[], Key::Right).await,
                '^' => page.press(&[], Key::Up).await,
                '_' => page.press(&[], Key::Down).await,
                '!' => page.press(&[], Key::Enter).await,
                other => page.press(&[], other).await,
            }
        }
    };
    press("1^^!>>^^!").await;
    // The arc is taken that the live region calls a quarter about the middle.
    press("a<<__!>>__!").await;
    for _ in 0..24 {
        if page
            .read("return document.getElementById('said').textContent")
            .await
            .as_str()
            .is_some_and(|said| said.contains("quarter of a circle about 2 across, 2 up"))
        {
            break;
        }
        press(">").await;
        page.wait_for("requestAnimationFrame(() => requestAnimationFrame(() => done(0)))").await;
    }
    press("!").await;
    // Cloths go round: night, day, rust.
    press("b^^ccfCF").await;
    page.settle().await;
}

async fn saved(page: &Page) -> Value {
    page.fill("#draw-name", "Bow").await;
    page.click("#draw-save").await;
    page.until("return document.getElementById('said').textContent.includes('is saved in')").await;
    page.read("return location.pathname").await
}

#[test]
fn the_same_block_by_mouse_and_by_keyboard_is_the_same_file() {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    let mut files = Vec::new();
    for keyboard in [false, true] {
        let served = Served::quilt(SMALL);
        let url = served.url("~/draw");
        runtime.block_on(async {
            let page = Page::open(&url, Window::Desk).await;
            if keyboard {
                by_keyboard(&page).await;
            } else {
                by_mouse(&page).await;
            }
            assert_eq!(saved(&page).await, json!(format!("/q/{}/draw/bow", served.quilt)));
            page.close().await;
        });
        let file = get(&served, "~/file");
        assert!(file.contains("[0, 2, 2, 4]") && file.contains("[4, 2, 2, 4]") && file.contains("centre = [2, 2]"), "{file}");
        // Four corners and the bow; two templates: the triangle, the corner below and the bow.
        assert!(get(&served, "~/templates/bow/A.svg").contains("<svg"));
        files.push(file);
    }
    assert_eq!(files[0], files[1]);
}

#[test]
fn seams_are_moved_deleted_undone_and_kept_over_a_reload() {
    crate::driven::on(SMALL, Window::Desk, "~/draw/half", |page, _| async move {
        page.settle().await;
        let seams = "return document.querySelectorAll('#sheet-drawing .seam').length";
        assert_eq!(page.read(seams).await, json!(1));
        page.read("document.getElementById('sheet').focus(); return 0").await;
        page.press(&[], 's').await;
        page.press(&[], 'e').await;
        // One step of the grid of 2 to the right, along the lower edge.
        page.press(&[], Key::Right).await;
        page.press(&[], Key::Enter).await;
        page.until("return document.getElementById('said').textContent.includes('Seam 1 moved')").await;
        page.press(&[], 's').await;
        page.until("return document.getElementById('said').textContent.includes('from 1 across, 0 up to 2 across, 2 up')").await;
        page.press(&[], Key::Delete).await;
        assert_eq!(page.read(seams).await, json!(0));
        page.press(&[Key::Control], 'z').await;
        assert_eq!(page.read(seams).await, json!(1));
        page.press(&[Key::Control], 'y').await;
        assert_eq!(page.read(seams).await, json!(0));
        page.read("location.reload(); return 0").await;
        page.until("return typeof busy !== 'undefined' && !!document.querySelector('#sheet-drawing svg')").await;
        assert_eq!(page.read(seams).await, json!(0));
        assert_eq!(page.read("return document.getElementById('restored').hidden").await, json!(false));
        page.click("#draw-anew").await;
        assert_eq!(page.read(seams).await, json!(1));
        page.close().await;
    });
}

#[test]
fn the_page_is_sound_and_fits_a_phone() {
    crate::driven::on(SMALL, Window::Desk, "~/draw/half", |page, _| async move {
        page.settle().await;
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.read("document.getElementById('sheet').focus(); return 0").await;
        page.press(&[], '?').await;
        assert_eq!(page.read("return document.getElementById('keys').open").await, json!(true));
        page.close().await;
    });
    crate::driven::on(SMALL, Window::Phone, "~/draw", |page, _| async move {
        page.settle().await;
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, json!(true));
        let small = "return [...document.querySelectorAll('button, select, summary, a, input:not([type=radio], [type=checkbox]), label')].filter((each) => each.checkVisibility() && each.getClientRects().length && each.getBoundingClientRect().height < 43.5 && !each.matches('.skip, .field')).map((each) => each.outerHTML.slice(0, 80))";
        assert_eq!(page.read(small).await, json!([]));
        // Tapped, not dragged: the ends one after the other.
        point_at(&page, [0.0, 0.0]).await;
        point_at(&page, [4.0, 4.0]).await;
        page.settle().await;
        assert_eq!(page.read("return document.querySelectorAll('#sheet-drawing .seam').length").await, json!(1));
        assert_eq!(page.wait_for(&axe_on("document")).await, json!([]));
        page.close().await;
    });
}
#[test]
fn what_is_seen_nearer_is_drawn_to_as_exactly() {
    crate::driven::on(SMALL, Window::Desk, "~/draw", |page, _| async move {
        page.settle().await;
        page.read("document.getElementById('sheet').focus(); return 0").await;
        let width = "return document.querySelector('#sheet-drawing > svg').viewBox.baseVal.width";
        let whole = page.read(width).await.as_f64().expect("a width");
        for _ in 0..3 {
            page.press(&[], '+').await;
        }
        let near = page.read(width).await.as_f64().expect("a width");
        assert!((whole / near - 1.5_f64 * 1.5 * 1.5).abs() < 1e-6, "{whole} {near}");
        // The cursor stands in the lower left corner, and stays in sight.
        drag(&page, [0.0, 0.0], [1.0, 1.02]).await;
        assert_eq!(page.read("return document.querySelectorAll('#sheet-drawing .seam').length").await, json!(1));
        assert_eq!(page.read(width).await.as_f64(), Some(near), "it is seen as near as before");
        for _ in 0..4 {
            page.press(&[], Key::Right).await;
        }
        let seen = "const box = document.querySelector('#sheet-drawing > svg').viewBox.baseVal; return box.x <= 6 && box.x + box.width >= 6";
        assert_eq!(page.read(seen).await, json!(true), "the sheet goes with the cursor");
        page.press(&[], '0').await;
        assert_eq!(page.read(width).await.as_f64(), Some(whole));
        page.close().await;
    });
}

#[test]
fn own_blocks_stand_beside_the_starter_set() {
    let served = Served::quilt(SMALL);
    let drawn = done(&served, &empty(), &json!({ "paint": { "cloth": "day" } }));
    assert_eq!(post(&served, "~/drawing/keep", &json!({ "drawing": drawn["drawing"] })).0, 200);
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let page = Page::open(&served.url("~"), Window::Desk).await;
        page.click("#go-draft").await;
        page.click("#own-blocks > summary").await;
        page.until("return !!document.getElementById('own-1-take')").await;
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.fill("#own-1-name", "Sail").await;
        page.until("return document.getElementById('own-said').textContent === 'It is called Sail now'").await;
        page.click("#own-1-take").await;
        page.until("return !!document.getElementById('block-sail-card')").await;
        // The card is written anew with its panel, and filled again.
        page.until("return !!document.getElementById('own-1-take')").await;
        page.close().await;
    });
    assert!(get(&served, "~/file").contains("[block.sail]\nname = \"Sail\""));
}
