//! From a photograph to cloth at true scale on the quilt.

use crate::common::{SMALL, Served};
use crate::driven::{Page, Window, axe_on, on};
use image::{Rgb, RgbImage};
use reqwest::blocking::Client;
use serde_json::{Value, json};
use std::path::Path;

/// 800 by 600 pixels of light cloth with a dark bar of 8 pixels every 100: where the piece is 8 in wide, bars lie 1 in apart.
fn marked(file: &Path) {
    let bar = |x: u32| x % 100 < 8;
    RgbImage::from_fn(800, 600, |x, _| if bar(x) { Rgb([20, 20, 20]) } else { Rgb([235, 225, 200]) }).save(file).unwrap();
}

async fn bring(page: &Page, cloth: &str, file: &Path, width: &str) {
    page.click("#go-cloths").await;
    page.settle().await;
    page.read(&format!("document.getElementById('cloth-{cloth}-card').open = true; return 0")).await;
    page.give(&format!("#cloth-{cloth}-look-file"), file).await;
    page.fill(&format!("#cloth-{cloth}-look-across"), width).await;
    page.click(&format!("#cloth-{cloth}-look-bring button")).await;
}

/// Bars along the middle of the block at A1, in the pixels of a drawing of 40 to the inch: where each begins to be dark.
const BARS: &str = "
    const text = await (await fetch(document.body.dataset.base + 'quilt.svg')).text();
    const [left, top, width, height] = /viewBox=\"([^\"]+)\"/.exec(text)[1].split(' ').map(Number);
    const image = new Image(width * 40, height * 40);
    const sized = text.replace('<svg ', `<svg width=\"${width * 40}\" height=\"${height * 40}\" `);
    image.src = `data:image/svg+xml,${encodeURIComponent(sized)}`;
    await image.decode();
    // A picture within a picture may come a moment later.
    await new Promise((then) => setTimeout(then, 300));
    const canvas = Object.assign(document.createElement('canvas'), { width: width * 40, height: height * 40 });
    const pen = canvas.getContext('2d');
    pen.drawImage(image, 0, 0);
    const y = Math.round((ROW - top) * 40);
    const from = Math.round((FROM - left) * 40), to = Math.round((TO - left) * 40);
    const row = pen.getImageData(from, y, to - from, 1).data;
    const dark = [];
    for (let x = 1; x < to - from; x += 1) if (row[4 * x] < 128 && row[4 * x - 4] >= 128) dark.push(x);
    return dark;";

async fn bars(page: &Page, row: f64, from: f64, to: f64) -> Vec<f64> {
    let script = BARS.replace("ROW", &row.to_string()).replace("FROM", &from.to_string()).replace("TO", &to.to_string());
    let found = page.wait_for(&format!("(async () => {{ {script} }})().then(done, (why) => done(String(why)))")).await;
    found.as_array().unwrap_or_else(|| panic!("{found}")).iter().filter_map(Value::as_f64).collect()
}

#[test]
fn a_photograph_is_seen_at_true_scale_and_in_grey() {
    let plain = SMALL.replace("pattern = [[\"half\"]]", "pattern = [[\"plain\"]]");
    on(&plain, Window::Desk, "~", |page, folder| async move {
        let file = folder.join("My moss.png");
        marked(&file);
        bring(&page, "day", &file, "8").await;
        page.until("return document.getElementById('said').textContent.includes('true scale')").await;
        // Four blocks of 6 in inside a band of 2 in, all of one cloth: from 2.2 in to 13.8 in a bar every inch.
        let bars = bars(&page, 5.3, 2.2, 13.8).await;
        assert!((11..=12).contains(&bars.len()), "{bars:?}");
        for pair in bars.windows(2) {
            assert!((pair[1] - pair[0] - 40.0).abs() <= 1.0, "an inch apart: {bars:?}");
        }
        let kept = page.read("return document.getElementById('cloth-day-look-width').value").await;
        assert_eq!(kept, "8");
        assert_eq!(page.read("return document.querySelector('#looks pattern').getAttribute('width')").await, "8");
        page.click("#cloth-day-look-take-how summary").await;
        page.until("return document.getElementById('cloths').textContent.includes('CIE 15')").await;
        let seen =
            "return ['colours', 'greys'].map((each) => getComputedStyle(document.querySelector(`#looks .in-${each}`)).display)";
        assert_eq!(page.read(seen).await, json!(["inline", "none"]));
        page.read("document.querySelector('[name=paint][value=values]').click(); return 0").await;
        assert_eq!(page.read(seen).await, json!(["none", "inline"]));
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        page.click("#undo").await;
        page.settle().await;
        assert_eq!(page.read("return document.getElementById('looks')").await, Value::Null);
        page.close().await;
    });
}

#[test]
fn stripes_are_made_of_a_few_sizes() {
    on(SMALL, Window::Phone, "~", |page, _| async move {
        page.click("#go-cloths").await;
        page.settle().await;
        page.read("document.getElementById('cloth-night-card').open = true; return 0").await;
        page.read("const all = document.getElementById('cloth-night-look-kind'); all.value = 'stripes'; all.dispatchEvent(new Event('change', { bubbles: true })); return 0").await;
        page.settle().await;
        page.fill("#cloth-night-look-repeat", "3/4").await;
        page.fill("#cloth-night-look-size", "1/4").await;
        page.until("return document.querySelector('#looks rect[width=\".25\"]') !== null").await;
        page.fill("#cloth-night-look-size", "2").await;
        page.until("return document.getElementById('message').textContent.includes('nothing of the ground is seen')").await;
        assert_eq!(page.read("return document.getElementById('cloth-night-look-size').value").await, "1/4");
        assert_eq!(page.read("return document.documentElement.scrollWidth <= innerWidth").await, true);
        page.close().await;
    });
}

#[test]
fn what_is_no_photograph_is_refused_and_nothing_is_lost() {
    let served = Served::quilt(SMALL);
    let text = || reqwest::blocking::get(served.url("~/file")).unwrap().text().unwrap();
    let before = text();
    for (cloth, width, body, status, words) in [
        ("day", "8", b"Dear Ann".to_vec(), 422, "no photograph"),
        ("day", "8", b"\0\0\0\x18ftypavif".to_vec(), 422, "save it as JPEG"),
        ("day", "8", vec![0xff; seamfall_photo::MOST_BYTES + 100], 422, "more than the 33 MB"),
        ("day", "wide", Vec::new(), 422, "how wide the photographed piece"),
        ("moss", "8", Vec::new(), 404, "no cloth `moss`"),
    ] {
        let to = served.url(&format!("~/cloth/{cloth}/photo?name=a.jpg&width={width}"));
        let answer = Client::new().post(to).body(body).send().unwrap();
        let (is, told) = (answer.status().as_u16(), answer.text().unwrap());
        assert!(is == status && told.contains(words), "{is} {told}");
    }
    assert_eq!(text(), before);
}

/// A photograph is brought, a motif is pointed at, seen on the patch and through the template, and the cut list counts it one by one.
#[test]
fn from_a_photograph_to_fussy_cut_patches() {
    on(SMALL, Window::Desk, "~", |page, folder| async move {
        let file = folder.join("moss.png");
        marked(&file);
        bring(&page, "day", &file, "8").await;
        page.until("return document.getElementById('said').textContent.includes('true scale')").await;
        page.click("#go-draft").await;
        page.settle().await;
        page.read("document.getElementById('block-half-card').open = true; return 0").await;
        page.click_beside("#block-half-card .motif-picture", 0.25, 0.0).await;
        page.until("return document.getElementById('motif-half-1-across') !== null || document.getElementById('motif-half-0-across') !== null").await;
        let across = "return Number(document.querySelector('[id^=motif-half][id$=across]').value)";
        let across = page.read(across).await.as_f64().unwrap();
        assert!((across - 75.0).abs() < 1.5, "a quarter to the right of the middle: {across}");
        // All four copies refer to the one motif.
        assert_eq!(page.read("return document.querySelectorAll('#drawing path[fill*=motif-0]').length").await, 4);
        page.until(
            "return [...document.querySelectorAll('.windows img')].every((image) => image.complete && image.naturalWidth > 0)",
        )
        .await;
        assert_eq!(page.wait_for(&axe_on("document.querySelector('.side')")).await, json!([]));
        let told = page.read("return document.getElementById('draft').textContent").await;
        // By hand: triangles finished 6 in are cut in 6 7/8 of width, more than half of the repeat of 8: down((42 - 6.85 - 8) / 8) + 1 = 4 side by side.
        assert!(told.as_str().is_some_and(|told| told.contains("4 by the motif, one by one: 4 side by side, 1 row")), "{told}");
        page.click("#go-cut").await;
        page.settle().await;
        page.until("return document.getElementById('cut').textContent.includes('by the motif, one by one')").await;
        page.click("#undo").await;
        page.settle().await;
        page.until("return !document.getElementById('cut').textContent.includes('by the motif, one by one')").await;
        page.close().await;
    });
}
