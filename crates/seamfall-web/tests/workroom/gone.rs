//! What is worked out for a browser that goes away, or for longer than a request may take.
//!
//! There are two turns, and one of them for what takes long. Whoever hangs up gives the turn back long before the work would be done, which a small
//! question that needs the same turn shows.

use crate::common::{SMALL, Served};
use reqwest::blocking::Client;
use seamfall_model::class::Day;
use seamfall_model::{Block, Shape, starter_blocks};
use seamfall_store::{QuiltId, Store};
use serde_json::json;
use std::fmt::Write as _;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Answered at once by any turn.
const SMALL_QUESTION: &str = "~/revision";

/// Answered at once, in the turn of what takes long.
const SMALL_LONG_QUESTION: &str = "~/cut-list.csv";

/// Longer than any test takes.
const NEVER: Duration = Duration::from_secs(600);

fn client() -> Client {
    Client::builder().timeout(NEVER).build().expect("a client")
}

/// Waits for the whole of an answer; how long that took.
fn answered(asked: reqwest::blocking::RequestBuilder) -> Duration {
    let begun = Instant::now();
    let answer = asked.send().expect("the server answers");
    assert_eq!(answer.status().as_u16(), 200, "{}", answer.url());
    answer.bytes().expect("the whole answer");
    begun.elapsed()
}

fn got(served: &Served, path: &str) -> Duration {
    answered(client().get(served.url(path)))
}

/// Asks as a browser does that is closed meanwhile.
fn asked(served: &Served, path: &str, body: Option<&[u8]>) -> TcpStream {
    let mut browser = TcpStream::connect(served.address).expect("it listens");
    let address = served.url(path);
    let path = address.split_once(&served.address.to_string()).expect("an address of the server").1;
    let (method, body) = body.map_or(("GET", [].as_slice()), |body| ("POST", body));
    let head = format!("{method} {path} HTTP/1.1\r\nHost: {}\r\nContent-Type: application/json\r\n", served.address);
    write!(browser, "{head}Content-Length: {}\r\n\r\n", body.len()).expect("it can be asked");
    browser.write_all(body).expect("it can be asked");
    browser
}

/// Hangs up after a while, when none has been answered yet.
fn hang_up(browsers: Vec<TcpStream>, after: Duration) {
    sleep(after);
    for browser in &browsers {
        browser.set_nonblocking(true).expect("it is a socket");
        assert!((&mut &*browser).read(&mut [0]).is_err(), "it is not done so soon");
    }
}

/// Hangs up while what takes `whole` is at work. The small question waits for less than a third of that.
fn stops(served: &Served, browsers: Vec<TcpStream>, small: &str, whole: Duration) {
    hang_up(browsers, whole / 10);
    let waited = got(served, small);
    assert!(waited < whole / 3, "waited {waited:?} for what nobody waits for; one takes {whole:?}");
}

/// A quilt of so many blocks, each once, with so many seams both ways that no two patches are alike: `chance` tells one such quilt from another.
fn patches(blocks: usize, seams: u32, mut chance: u32) -> String {
    let mut next = |below: u32| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) % below
    };
    let cell = 12.0 / f64::from(seams + 1);
    let mut text = String::from("format = 1\nname = \"Patches\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n");
    let keys: Vec<String> = (0..blocks).map(|block| format!("b{block}")).collect();
    for key in &keys {
        let mut at = |seam: u32| cell * (f64::from(seam) + f64::from(next(80)) / 100.0);
        let lines = (1..=seams).flat_map(|seam| {
            let (x, y) = (at(seam), at(seam));
            [format!("[{x:.4}, 0, {x:.4}, 12]"), format!("[0, {y:.4}, 12, {y:.4}]")]
        });
        let lines = lines.collect::<Vec<_>>().join(", ");
        let middle = |patch: u32| cell * (f64::from(patch) + 0.9);
        let points = (0..=seams).flat_map(|x| (0..=seams).map(move |y| format!("[{:.4}, {:.4}]", middle(x), middle(y))));
        let points = points.collect::<Vec<_>>().join(", ");
        let _ = writeln!(
            text,
            "[block.{key}]\nshape = \"square\"\nsize = \"12\"\nseams = [{lines}]\npatches = {{ red = [{points}] }}"
        );
    }
    let _ = writeln!(text, "[setting]\nlayout = \"straight\"\ncolumns = {blocks}\nrows = 1\npattern = [{keys:?}]");
    text
}

/// A square of so many blocks along a side, of nine kinds dealt, turned and mirrored by chance, so that no proof is found within the steps it is given.
fn turned(side: usize) -> String {
    let mut chance = 1_u32;
    let mut next = |below: u32| {
        chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (chance >> 16) % below
    };
    let mut text = String::from(
        "format = 1\nname = \"Turned\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n[cloth.blue]\ncolour = \"#3333aa\"\n",
    );
    let square = |block: &&Block| matches!(block.shape, Shape::Square { .. }) && block.overlays.is_empty();
    let blocks: Vec<&Block> = starter_blocks().iter().filter(square).take(9).collect();
    for block in &blocks {
        let cloths =
            block.parts.iter().zip(["red", "blue"].iter().cycle()).map(|(part, cloth)| format!("{} = \"{cloth}\"", part.name));
        let (key, cloths) = (&block.key, cloths.collect::<Vec<_>>().join(", "));
        let _ = writeln!(text, "[block.{key}]\nstarter = \"{key}\"\nsize = \"6\"\ncloths = {{ {cloths} }}");
    }
    let mut row = || (0..side).map(|_| blocks[next(9) as usize].key.as_str()).collect::<Vec<_>>();
    let pattern: Vec<Vec<&str>> = (0..side).map(|_| row()).collect();
    let _ = writeln!(text, "[setting]\nlayout = \"straight\"\ncolumns = {side}\nrows = {side}\npattern = {pattern:?}");
    for place in 0..side * side {
        let at = seamfall_model::place_name(place / side, place % side);
        let _ = writeln!(text, "[[place]]\nat = \"{at}\"\nturn = {}\nmirror = {}", next(4), next(2) == 0);
    }
    text
}

#[test]
fn a_plan_that_nobody_waits_for_is_not_made() {
    let texts: Vec<String> = (1..=3).map(|chance| patches(12, 10, chance)).collect();
    let served = Served::quilts(&[SMALL, &texts[0], &texts[1], &texts[2]], NEVER);
    let whole = got(&served, "/q/2");
    let browsers = ["/q/3", "/q/4"].map(|path| asked(&served, path, None));
    stops(&served, browsers.into(), SMALL_QUESTION, whole);
    // And what was stopped can be had again.
    got(&served, "/q/3");
}

#[test]
fn a_book_that_nobody_waits_for_is_not_set() {
    let served = Served::quilts(&[SMALL, include_str!("../../../../quilts/lamplight.quilt.toml")], NEVER);
    got(&served, SMALL_LONG_QUESTION);
    // The first one plans and searches the cloth too; what is measured is the setting of another one.
    got(&served, "/q/2/book.pdf?marking=none");
    let whole = got(&served, "/q/2/book.pdf?paper=a4&type=large");
    let browser = asked(&served, "/q/2/book.pdf?ink=black&type=large", None);
    stops(&served, vec![browser], SMALL_LONG_QUESTION, whole);
    got(&served, "/q/2/book.pdf?ink=black&type=large");
}

/// Two cloths would show only that it stops between them.
#[test]
fn a_search_for_one_cloth_that_nobody_waits_for_is_stopped() {
    let texts: Vec<String> = (1..=2).map(|chance| patches(2, 10, chance)).collect();
    let served = Served::quilts(&[SMALL, &texts[0], &texts[1]], NEVER);
    got(&served, SMALL_LONG_QUESTION);
    got(&served, "/q/2");
    got(&served, "/q/3");
    let whole = got(&served, "/q/2/cut-list.csv");
    let browser = asked(&served, "/q/3/cut-list.csv", None);
    stops(&served, vec![browser], SMALL_LONG_QUESTION, whole);
}

/// Every student makes a quilt of another size.
#[test]
fn a_class_handout_that_nobody_waits_for_is_not_made() {
    let texts = [patches(3, 10, 1), patches(3, 10, 2)];
    let served = Served::quilts(&[SMALL, &texts[0], &texts[1]], NEVER);
    let store = Store::open(&served.folder.path().join("seamfall.sqlite")).expect("it opens");
    for (text, id) in texts.iter().zip([2, 3]) {
        let quilt = seamfall_model::read(text).expect("it reads");
        let class = seamfall_model::new_class(&quilt, "Class", Day { year: 2027, month: 5, day: 27 }, 5);
        let student = |class: String, rows: usize| {
            let name = format!("name = \"Student {rows}\"");
            class.replace(&name, &format!("{name}\nrows = {}", rows + 1))
        };
        let class = (1..=5).fold(class, student);
        let now = store.class(QuiltId(id)).expect("it can be asked");
        store.commit_class(QuiltId(id), now.revision, &class, "a class").expect("it is kept");
    }
    got(&served, SMALL_LONG_QUESTION);
    let whole = got(&served, "/q/2/class/handouts.pdf");
    got(&served, "/q/3");
    let browser = asked(&served, "/q/3/class/handouts.pdf", None);
    stops(&served, vec![browser], SMALL_LONG_QUESTION, whole);
}

/// It is asked for 64 times the usual steps, and still at work after four times as long as the usual ones take.
#[test]
fn a_long_search_for_falls_that_nobody_waits_for_is_stopped() {
    let served = Served::quilts(&[SMALL, &turned(14)], NEVER);
    got(&served, SMALL_LONG_QUESTION);
    got(&served, "/q/2");
    let revision: i64 = client().get(served.url("/q/2/revision")).send().and_then(|answer| answer.json()).expect("its state");
    let longer = |effort: u32| json!({ "revision": revision, "about": "", "effort": effort }).to_string();
    let address = served.url("/q/2/search");
    let post = client().post(address).header("content-type", "application/json").body(longer(1));
    let whole = 40 * answered(post);
    let browser = asked(&served, "/q/2/search", Some(longer(64).as_bytes()));
    stops(&served, vec![browser], SMALL_LONG_QUESTION, whole);
}

#[test]
fn a_photograph_that_nobody_waits_for_is_not_read() {
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_pixel(7_000, 7_000, image::Rgb([200, 80, 40]))
        .write_to(&mut png, image::ImageFormat::Png)
        .expect("a picture");
    let served = Served::quilts(&[SMALL], NEVER);
    let path = "~/cloth/night/photo?name=moss.png&width=8";
    let whole = answered(client().post(served.url(path)).body(png.get_ref().clone()));
    let browsers = [(); 2].map(|()| asked(&served, path, Some(png.get_ref())));
    stops(&served, browsers.into(), SMALL_QUESTION, whole);
}

/// What takes longer than a request may is answered in words, and its work is stopped.
#[test]
fn what_takes_too_long_is_stopped_and_said() {
    let texts: Vec<String> = (1..=2).map(|chance| patches(20, 20, chance)).collect();
    let longest = Duration::from_secs(1);
    let served = Served::quilts(&[SMALL, &texts[0], &texts[1]], longest);
    let browser = asked(&served, "/q/3", None);
    let answer = client().get(served.url("/q/2")).send().expect("the server answers");
    assert_eq!(answer.status().as_u16(), 503);
    let words = answer.text().expect("words");
    assert!(words.contains("this took longer than a minute and was stopped"), "{words}");
    drop(browser);
    let waited = got(&served, SMALL_QUESTION);
    assert!(waited < longest, "waited {waited:?}");
}
