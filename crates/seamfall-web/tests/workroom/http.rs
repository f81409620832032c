//! What the server answers, and whom it refuses.

use crate::common::{SMALL, Served};
use reqwest::blocking::{Client, Response};
use serde_json::{Value, json};

fn client() -> Client {
    Client::builder().redirect(reqwest::redirect::Policy::none()).build().expect("a client")
}

fn get(served: &Served, path: &str) -> Response {
    client().get(served.url(path)).send().expect("the server answers")
}

fn post(served: &Served, path: &str, body: &Value) -> (u16, Value) {
    let answer = client().post(served.url(path)).json(body).send().expect("the server answers");
    (answer.status().as_u16(), answer.json().expect("data"))
}

/// Makes an edit to what stands now.
fn edit(served: &Served, edit: &Value) -> (u16, Value) {
    post(served, "~/edit", &json!({ "revision": revision(served), "about": "A1", "edit": edit }))
}

/// Places that are painted anew.
fn places(answer: &Value) -> Vec<&str> {
    let elements = answer["elements"].as_array().unwrap().iter().map(|each| each.as_str().unwrap());
    let places = elements.filter(|each| each.contains(r#"class="place""#));
    places.filter_map(|each| each.strip_prefix(r#"<g id=""#)?.split('"').next()).collect()
}

fn revision(served: &Served) -> i64 {
    let state: Value = get(served, "~/state?about=A1").json().unwrap();
    state["revision"].as_i64().unwrap()
}

fn file(served: &Served) -> String {
    get(served, "~/file").text().unwrap()
}

#[test]
fn foreign_hosts_are_refused() {
    let served = Served::quilt(SMALL);
    let port = served.address.port();
    for (host, status) in [
        (format!("127.0.0.1:{port}"), 200),
        (format!("localhost:{port}"), 200),
        (format!("[::1]:{port}"), 200),
        (format!("quilts.example:{port}"), 403),
        ("127.0.0.1".to_owned(), 403),
        (format!("127.0.0.1.example:{port}"), 403),
        (format!("localhost:{}", port ^ 1), 403),
    ] {
        let answer = client().get(served.url("~")).header("host", &host).send().unwrap();
        assert_eq!(answer.status().as_u16(), status, "{host}");
    }
}

#[test]
fn other_sites_can_neither_change_nor_read() {
    let served = Served::quilt(SMALL);
    let own = format!("http://{}", served.address);
    let send = |headers: &[(&str, &str)], post: bool| {
        let request = if post {
            client().post(served.url("~/undo")).json(&json!({"revision": 1, "about": ""}))
        } else {
            client().get(served.url("~"))
        };
        headers.iter().fold(request, |request, (name, value)| request.header(*name, *value)).send().unwrap().status().as_u16()
    };
    // Nothing to undo: 409 is the answer of one who may ask.
    for (headers, status) in [
        (&[][..], 409),
        (&[("origin", own.as_str()), ("sec-fetch-site", "same-origin")], 409),
        (&[("origin", "http://quilts.example"), ("sec-fetch-site", "cross-site")], 403),
        (&[("origin", "null")], 403),
        (&[("sec-fetch-site", "cross-site")], 403),
        // Another port of this machine is another site's page.
        (&[("origin", "http://127.0.0.1:1"), ("sec-fetch-site", "same-site")], 403),
        (&[("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "navigate")], 403),
    ] {
        assert_eq!(send(headers, true), status, "{headers:?}");
    }
    assert_eq!(send(&[("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "no-cors")], false), 403);
    assert_eq!(send(&[("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "navigate")], false), 200);
}

#[test]
fn every_answer_says_what_a_browser_may_do_with_it() {
    let served = Served::quilt(SMALL);
    for path in ["~", "~/quilt.svg", "/assets/workroom.js", "/nothing/here"] {
        let answer = get(&served, path);
        let header = |name: &str| answer.headers().get(name).map(|value| value.to_str().unwrap().to_owned()).unwrap_or_default();
        assert_eq!(header("x-content-type-options"), "nosniff", "{path}");
        for rule in ["default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'"] {
            assert!(header("content-security-policy").contains(rule), "{path}: {rule}");
        }
        let text = answer.text().unwrap();
        assert!(
            !text.contains(" style=\"") && !text.contains("<style") && !text.contains(" onclick="),
            "{path} keeps to its policy"
        );
    }
}

#[test]
fn too_much_is_refused_and_nothing_is_lost() {
    let served = Served::quilt(SMALL);
    for path in ["/import", "~/edit"] {
        let body = "x".repeat(seamfall_model::limits::FILE_BYTES + 1);
        let answer = client().post(served.url(path)).header("content-type", "application/json").body(body).send().unwrap();
        assert_eq!(answer.status().as_u16(), 413, "{path}");
        assert!(answer.json::<Value>().unwrap()["problem"].is_string(), "{path}");
    }
    assert_eq!(file(&served), SMALL);
}

#[test]
fn an_address_that_cannot_be_read_is_answered_in_plain_words() {
    let served = Served::quilt(SMALL);
    let asked = |path: &str, mode: &str| {
        let answer = client().get(served.url(path)).header("sec-fetch-mode", mode).send().expect("an answer");
        (answer.status().as_u16(), answer.text().expect("text"))
    };
    for (path, status, words) in [
        ("/q/first", 404, "there is nothing at this address"),
        ("/q/99999999999999999999/file", 404, "there is nothing at this address"),
        ("~/quilt.png?width=wide", 400, "what follows the `?` of this address cannot be read (width: "),
        ("~/seam", 400, "what follows the `?` of this address cannot be read (missing field `"),
    ] {
        let (told, page) = asked(path, "navigate");
        assert_eq!(told, status, "{path}");
        assert!(page.starts_with("<!DOCTYPE html>") && page.contains(words), "{path}: {page}");
        let (told, data) = asked(path, "cors");
        assert_eq!(told, status, "{path}");
        let data: Value = serde_json::from_str(&data).expect("a script is told in data");
        assert!(data["problem"].as_str().is_some_and(|problem| problem.starts_with(words)), "{path}: {data}");
    }
}

#[test]
fn an_edit_answers_with_what_changed_and_keeps_the_comments() {
    let served = Served::quilt(SMALL);
    // Far places and the band stay; the panel tells that the block is turned.
    let (status, answer) = edit(&served, &json!({"do": "turn", "row": 0, "number": 0, "times": 1}));
    assert_eq!(status, 200, "{answer}");
    assert_eq!(places(&answer), ["A1"]);
    let falls = answer["elements"].as_array().unwrap().iter().filter(|each| each.as_str().unwrap().contains(r#"id="A1.falls""#));
    assert_eq!(falls.count(), 1, "its signs follow");
    assert_eq!((answer["whole"].clone(), answer["said"].clone()), (Value::Null, json!("A1 turned a quarter to the left")));
    assert!(answer["about"].as_str().unwrap().contains("turned a quarter to the left"));
    assert!(file(&served).contains("# made by hand") && file(&served).contains("# all alike"));

    // Another width of the band is another size of the quilt: its blocks only move, and the cut list follows.
    let (status, answer) = edit(&served, &json!({"do": "set", "path": ["band", "0", "width"], "value": "3"}));
    assert_eq!(status, 200, "{answer}");
    // 12 of blocks and 3 on either side.
    assert!(answer["regions"]["head"].as_str().unwrap().contains("18 × 18 in"), "{}", answer["regions"]["head"]);
    // 3 finished and two allowances of 1/4.
    assert!(answer["regions"]["cut"].as_str().unwrap().contains("3 1/2"));
    assert_eq!((answer["whole"].clone(), places(&answer)), (Value::Null, vec![]));
    assert!(answer["attributes"].as_array().unwrap().contains(&json!(["A1", "transform", "translate(3 3)"])), "{answer}");

    // A colour needs no new drawing.
    let (status, answer) = edit(&served, &json!({"do": "set", "path": ["cloth", "rust", "colour"], "value": "#112233"}));
    assert_eq!(status, 200, "{answer}");
    assert_eq!(
        (answer["whole"].clone(), answer["elements"].clone(), answer["colours"].clone()),
        (Value::Null, json!([]), json!(true))
    );
    assert!(get(&served, "~/cloths.css").text().unwrap().contains("#112233"));
}

#[test]
fn undo_and_redo_go_back_and_forth() {
    let served = Served::quilt(SMALL);
    edit(&served, &json!({"do": "put", "row": 1, "number": 1, "block": "plain"}));
    let put = file(&served);
    assert_ne!(put, SMALL);
    let step = |way: &str| post(&served, &format!("~/{way}"), &json!({"revision": revision(&served), "about": ""}));
    let (status, answer) = step("undo");
    assert_eq!((status, file(&served).as_str()), (200, SMALL));
    assert_eq!((answer["undo"].clone(), answer["redo"].clone()), (Value::Null, json!("Plain put at B2")));
    assert_eq!(places(&answer), ["B2"], "only B2 is painted, and falls");
    assert_eq!(step("undo").0, 409);
    assert_eq!(step("redo").0, 200);
    assert_eq!(file(&served), put);
    assert_eq!(step("redo").0, 409);
}

#[test]
fn an_edit_that_cannot_be_made_says_why_and_changes_nothing() {
    let served = Served::quilt(SMALL);
    for bad in [
        json!({"do": "turn", "row": 7, "number": 0, "times": 1}),
        json!({"do": "put", "row": 0, "number": 0, "block": "nowhere"}),
        json!({"do": "set", "path": ["band", "0", "width"], "value": "-3"}),
        json!({"do": "set", "path": ["band", "0", "width"], "value": "6,5"}),
        json!({"do": "remove", "path": ["cloth", "day"]}),
        json!({"do": "paint", "block": "half", "part": "dark", "cloth": "gold"}),
    ] {
        let (status, answer) = edit(&served, &bad);
        assert_eq!(status, 422, "{bad} {answer}");
        assert!(answer["problem"].as_str().unwrap().len() > 10, "{bad} {answer}");
    }
    let (status, _) = edit(&served, &json!({"do": "explode"}));
    assert_eq!(status, 422);
    assert_eq!(file(&served), SMALL);
}

#[test]
fn an_edit_of_an_old_state_is_refused() {
    let served = Served::quilt(SMALL);
    let seen = revision(&served);
    let turn = json!({"do": "turn", "row": 0, "number": 0, "times": 1});
    assert_eq!(edit(&served, &turn).0, 200);
    let (status, answer) = post(&served, "~/edit", &json!({"revision": seen, "about": "", "edit": turn}));
    assert_eq!(status, 409);
    assert!(answer["problem"].as_str().unwrap().contains("changed elsewhere"));
}

#[test]
fn a_file_comes_in_and_goes_out_byte_for_byte() {
    let served = Served::quilt(SMALL);
    let text = SMALL.replace("Small", "Größer").replace('\n', "\r\n");
    let answer = client().post(served.url("/import")).body(text.clone()).send().unwrap();
    assert_eq!(answer.status().as_u16(), 200);
    let open = answer.json::<Value>().unwrap()["open"].as_str().unwrap().to_owned();
    let out = get(&served, &format!("{open}/file"));
    assert_eq!(out.headers()["content-disposition"], "attachment; filename=\"gr-er.quilt.toml\"");
    assert_eq!(out.bytes().unwrap(), text.as_bytes());
}

#[test]
fn a_bad_file_is_refused_with_its_places() {
    let served = Served::quilt(SMALL);
    let import = |body: Vec<u8>| {
        let answer = client().post(served.url("/import")).body(body).send().unwrap();
        (answer.status().as_u16(), answer.json::<Value>().unwrap())
    };
    // The width of the band is the third line from the end.
    let bad = SMALL.replace(r#"width = "2""#, r#"width = "two""#);
    let line = bad.lines().position(|line| line.contains("two")).unwrap() + 1;
    let (status, answer) = import(bad.into_bytes());
    assert_eq!(status, 422);
    assert_eq!(answer["places"][0]["line"], line, "{answer}");
    assert!(answer["places"][0]["column"].as_u64().unwrap() > 1);

    let (status, answer) = import(b"format = 1\nname = \"\xff\"".to_vec());
    assert_eq!(status, 422);
    assert!(answer["problem"].as_str().unwrap().contains("line 2"), "{answer}");
    assert_eq!(import(Vec::new()).0, 422);
}

#[test]
fn everything_can_be_had_as_a_file() {
    let served = Served::quilt(SMALL);
    for (path, kind, opens) in [
        ("~/quilt.svg", "image/svg+xml", "<svg"),
        ("~/plan.json", "application/json", "{"),
        ("~/book.pdf?paper=a4", "application/pdf", "%PDF"),
        ("~/book.pdf?paper=letter&ink=black&type=large&marking=none", "application/pdf", "%PDF"),
        ("~/print", "text/html; charset=utf-8", "<!DOCTYPE html>"),
        ("~/quilt.png?width=300", "image/png", ""),
        ("~/mats?mat=12x24&gap=1/8&face=down", "text/html; charset=utf-8", "<!DOCTYPE html>"),
        ("~/templates/half.dxf", "image/vnd.dxf", ""),
        ("~/templates/half/A.svg", "image/svg+xml", "<svg"),
        ("~/units/u1.svg", "image/svg+xml", "<svg"),
        ("/starter/churn-dash.svg", "image/svg+xml", "<svg"),
        ("/demo/lamplight.svg", "image/svg+xml", "<svg"),
        ("/assets/icon.svg", "image/svg+xml", "<svg"),
    ] {
        let answer = get(&served, path);
        assert_eq!(answer.status().as_u16(), 200, "{path}");
        assert_eq!(answer.headers()["content-type"], kind, "{path}");
        assert!(answer.bytes().unwrap().starts_with(opens.as_bytes()), "{path}");
    }
    for path in [
        "~/units/u9.svg",
        "~/templates/none.dxf",
        "~/templates/half/Z.svg",
        "/q/999",
        "/q/x",
        "/starter/none.svg",
        "/assets/../Cargo.toml",
    ] {
        assert!(matches!(get(&served, path).status().as_u16(), 400 | 404), "{path}");
    }
}

#[test]
fn quilts_are_begun_listed_and_taken_away() {
    let served = Served::quilt(SMALL);
    for (demo, _) in seamfall_web::demo_quilts() {
        let (status, answer) = post(&served, &format!("/new/{demo}"), &json!({}));
        assert_eq!(status, 200, "{demo}: {answer}");
        assert_eq!(get(&served, answer["open"].as_str().unwrap()).status().as_u16(), 200, "{demo}");
    }
    assert_eq!(get(&served, "/").headers()["location"], "/q/5", "the last one opens first");
    let list = get(&served, "/quilts").text().unwrap();
    assert!(list.contains("Small") && list.contains("/q/5"));
    assert_eq!(post(&served, "~/remove", &json!({})).0, 200);
    assert_eq!(get(&served, "~").status().as_u16(), 404);
}

/// Only this machine: a listener that others can reach is not served.
#[test]
fn an_open_listener_is_refused() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let folder = tempfile::tempdir().unwrap();
    let store = seamfall_store::Store::open(&folder.path().join("s.sqlite")).unwrap();
    let refused = runtime.block_on(async {
        let listener = tokio::net::TcpListener::bind("0.0.0.0:0").await.unwrap();
        seamfall_web::serve(listener, store).await
    });
    assert!(refused.unwrap_err().to_string().contains("this machine alone"));
}

/// Two blocks of two halves side by side, one above the other: their seams meet in the join of the rows, and nest by themselves.
fn halves() -> String {
    let block = SMALL.replace("seams = [[0, 0, 2, 2]]", "seams = [[1, 0, 1, 2]]");
    let block = block.replace("dark = [[0.5, 1.5]], light = [[1.5, 0.5]]", "dark = [[0.5, 0.5]], light = [[1.5, 0.5]]");
    let columns = block.replace("columns = 2", "columns = 1");
    columns.split("[[band]]").next().unwrap().to_owned()
}

#[test]
fn a_fall_is_set_here_or_everywhere_and_what_follows_is_said() {
    let served = Served::quilt(&halves());
    let fall = |between: [&str; 2], to: Option<&str>| edit(&served, &json!({"do": "fall", "between": between, "to": to}));
    // In these tests a bare `~` stands for the quilt.
    let about = |seam: &str| get(&served, &format!("~/about/{}", seam.replace('~', "%7E"))).text().unwrap();
    let stacks = || get(&served, "~/plan.json").json::<Value>().unwrap()["sewing"]["stacks"].as_array().map(Vec::len);
    assert!(about("A1.p1~A1.p2").contains("The plan chose it."));

    // Both to their left halves: they fall to the same side of the join and stack.
    let (status, answer) = fall(["A1.p1", "A1.p2"], Some("A1.p1"));
    assert_eq!(status, 200, "{answer}");
    let (_, answer) = fall(["B1.p1", "B1.p2"], Some("B1.p1"));
    assert_eq!(answer["said"], "B1.p1 and B1.p2 fall to B1.p1; 1 stack more");
    assert!(about("A1.p1~A1.p2").contains("Set by hand, here."));
    assert!(about("A1.p2~A1.p1").contains("1 stacks"), "{}", about("A1.p2~A1.p1"));
    assert!(answer["regions"]["fall"].as_str().unwrap().contains("1 meeting stacks."));
    assert_eq!(stacks(), Some(1));

    // Free again, the other one turns over or stays; nothing stacks.
    let (_, answer) = fall(["B1.p1", "B1.p2"], None);
    assert_eq!(answer["said"], "B1.p1 and B1.p2: the fall is free; 1 stack less");
    let (_, _) = fall(["A1.p2", "A1.p1"], None);
    assert!(!file(&served).contains("[[fall]]"), "{}", file(&served));

    // For all copies alike they stack, whichever side is taken; open they lie flat.
    let (_, answer) = fall(["half.p1", "half.p2"], Some("half.p2"));
    assert!(answer["said"].as_str().unwrap().contains("1 stack more"), "{}", answer["said"]);
    assert!(about("B1.p1~B1.p2").contains("Set by hand, for every Half and half."));
    let (_, answer) = fall(["half.p1", "half.p2"], Some("open"));
    assert_eq!(answer["said"], "half.p1 and half.p2 pressed open; 1 stack less");
    assert!(about("B1.p1~B1.p2").contains("Is pressed open"));
}

/// Blocks of 6 within a band of 2, one diagonal each from lower left to upper right.
#[test]
fn the_nearest_seam_is_found_by_a_point_of_the_drawing() {
    let served = Served::quilt(SMALL);
    let near = |x: f64, y: f64| -> Value { get(&served, &format!("~/seam?x={x}&y={y}&reach=0.3")).json().unwrap() };
    let joins = |found: &Value, pieces: [&str; 2]| {
        let found: Vec<&str> = found.as_str().expect("a seam is found").split('~').collect();
        pieces.iter().all(|piece| found.contains(piece))
    };
    assert!(joins(&near(5.1, 5.0), ["A1.p1", "A1.p2"]), "the middle of A1");
    // Columns are joined over both rows, or rows over both columns: a seam is named by any two of its pieces.
    let found = near(8.0, 4.0);
    assert!(joins(&found, ["A1", "A2"]) || joins(&found, ["B1", "B2"]), "between two blocks: {found}");
    assert!(joins(&near(11.0, 10.9), ["B2.p1", "B2.p2"]), "the middle of B2");
    assert_eq!(near(4.0, 3.0), Value::Null, "the middle of a patch");
    assert_eq!(get(&served, "~/seam?x=a&y=0&reach=1").status().as_u16(), 400);
}

#[test]
fn pressings_are_chosen_and_given_back() {
    let served = Served::quilt(&halves());
    let choose = |pressings: Value| edit(&served, &json!({"do": "pressings", "pressings": pressings}));
    let (status, answer) = choose(json!(1));
    assert_eq!(status, 200, "{answer}");
    // One pressing for both copies: both seams fall the same way, and meet.
    assert!(answer["said"].as_str().unwrap().contains("1 stack more"), "{}", answer["said"]);
    let fall = answer["regions"]["fall"].as_str().unwrap();
    assert!(fall.contains("Proven: no pressing has less."), "{fall}");
    let (_, answer) = choose(json!("own"));
    assert!(answer["said"].as_str().unwrap().contains("1 stack less"), "{}", answer["said"]);
    assert!(file(&served).contains(r#"pressings = "own""#));
    choose(Value::Null);
    assert!(!file(&served).contains("pressings"));
}
