//! What the server answers, and whom it refuses.

#[allow(dead_code, reason = "each test file uses a part of it")]
mod common;

use common::{SMALL, Served};
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
fn an_edit_answers_with_what_changed_and_keeps_the_comments() {
    let served = Served::quilt(SMALL);
    // Far places and the band stay; the panel tells that the block is turned.
    let (status, answer) = edit(&served, &json!({"do": "turn", "row": 0, "number": 0, "times": 1}));
    assert_eq!(status, 200, "{answer}");
    let elements = answer["elements"].as_array().unwrap();
    assert_eq!(elements.len(), 1);
    assert!(elements[0].as_str().unwrap().starts_with(r#"<g id="A1""#));
    assert_eq!((answer["whole"].clone(), answer["said"].clone()), (Value::Null, json!("A1 turned a quarter to the left")));
    assert!(answer["about"].as_str().unwrap().contains("turned a quarter to the left"));
    assert!(file(&served).contains("# made by hand") && file(&served).contains("# all alike"));

    // Another width of the band is another size of the quilt: painted whole, and the cut list follows.
    let (status, answer) = edit(&served, &json!({"do": "set", "path": ["band", "0", "width"], "value": "3"}));
    assert_eq!(status, 200, "{answer}");
    // 12 of blocks and 3 on either side.
    assert!(answer["regions"]["head"].as_str().unwrap().contains("18 × 18 in"), "{}", answer["regions"]["head"]);
    // 3 finished and two allowances of 1/4.
    assert!(answer["regions"]["cut"].as_str().unwrap().contains("3 1/2"));
    assert!(answer["whole"].as_str().unwrap().starts_with("<svg"));

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
    assert_eq!(answer["elements"].as_array().unwrap().len(), 1, "only B2 is painted");
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
        ("~/templates/half.dxf", "image/vnd.dxf", ""),
        ("~/templates/half/A.svg", "image/svg+xml", "<svg"),
        ("/starter/churn-dash.svg", "image/svg+xml", "<svg"),
        ("/demo/lamplight.svg", "image/svg+xml", "<svg"),
        ("/assets/icon.svg", "image/svg+xml", "<svg"),
    ] {
        let answer = get(&served, path);
        assert_eq!(answer.status().as_u16(), 200, "{path}");
        assert_eq!(answer.headers()["content-type"], kind, "{path}");
        assert!(answer.bytes().unwrap().starts_with(opens.as_bytes()), "{path}");
    }
    for path in ["~/templates/none.dxf", "~/templates/half/Z.svg", "/q/999", "/q/x", "/starter/none.svg", "/assets/../Cargo.toml"]
    {
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
