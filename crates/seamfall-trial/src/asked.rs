//! What a server is asked, and what every answer must be.
//!
//! In: requests, one below the other, parted by lines of three dashes: `POST /q/1/edit`, header lines, an empty line, what is sent along. Out: the answers
//! of the pages themselves, without a network, each held to what all answers have in common.

use axum::Router;
use axum::body::{Body, Bytes, to_bytes};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, Request, StatusCode, Uri};
use std::sync::LazyLock;
use tokio::runtime::{Builder, Runtime};
use tower::ServiceExt;

/// So many requests of an input are asked.
const MOST: usize = 6;

/// The port that the pages believe to be served at.
pub const PORT: u16 = 8080;

static RUNTIME: LazyLock<Runtime> =
    LazyLock::new(|| Builder::new_current_thread().enable_all().build().expect("the system gives what it needs"));

/// A request, as it stands in an input.
pub struct Asked<'a> {
    pub method: Method,
    uri: Uri,
    headers: HeaderMap,
    pub body: &'a [u8],
    /// Who asks, from a line `as: ...`; empty where there is none.
    pub who: &'a str,
}

/// What came back.
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub body: Bytes,
}

impl Asked<'_> {
    /// Whether it asks to see and not to change.
    pub fn only_looks(&self) -> bool {
        self.method.is_safe()
    }

    /// Whether a word stands in its address.
    pub fn names(&self, word: &str) -> bool {
        self.uri.to_string().contains(word)
    }
}

/// The requests of an input: those that a server of HTTP would hand on.
pub fn asked(data: &[u8]) -> Vec<Asked<'_>> {
    split(data, b"\n---\n").into_iter().take(MOST).filter_map(read).collect()
}

fn split<'a>(mut data: &'a [u8], at: &[u8]) -> Vec<&'a [u8]> {
    let mut parts = Vec::new();
    while let Some(here) = data.windows(at.len()).position(|window| window == at) {
        parts.push(&data[..here]);
        data = &data[here + at.len()..];
    }
    parts.push(data);
    parts
}

fn read(data: &[u8]) -> Option<Asked<'_>> {
    let end = data.windows(2).position(|window| window == b"\n\n");
    let (head, body) = end.map_or((data, &[][..]), |end| (&data[..end], &data[end + 2..]));
    let mut lines = std::str::from_utf8(head).ok()?.lines();
    let (method, uri) = lines.next()?.split_once(' ')?;
    let uri: Uri = uri.parse().ok().filter(|uri: &Uri| uri.path().starts_with('/'))?;
    let mut asked = Asked { method: method.parse().ok()?, uri, headers: HeaderMap::new(), body, who: "" };
    asked.headers.insert("host", HeaderValue::from_str(&format!("127.0.0.1:{PORT}")).expect("plain letters"));
    for line in lines {
        let (name, value) = line.split_once(": ")?;
        if name == "as" {
            asked.who = value;
        } else {
            asked.headers.insert(name.parse::<HeaderName>().ok()?, HeaderValue::from_str(value).ok()?);
        }
    }
    Some(asked)
}

/// Asks, and holds the answer to what every answer must be.
pub fn answer(pages: &Router, asked: &Asked, cookie: Option<&str>) -> Answer {
    let mut request = Request::new(Body::from(asked.body.to_vec()));
    *request.method_mut() = asked.method.clone();
    *request.uri_mut() = asked.uri.clone();
    *request.headers_mut() = asked.headers.clone();
    if let Some(cookie) = cookie {
        request.headers_mut().insert("cookie", HeaderValue::from_str(cookie).expect("what the server gave out"));
    }
    let answer = RUNTIME.block_on(async {
        let (head, body) = pages.clone().oneshot(request).await.expect("a router always answers").into_parts();
        Answer { status: head.status, headers: head.headers, body: to_bytes(body, usize::MAX).await.expect("it is all there") }
    });
    let of = format!("{} {}: {}", asked.method, asked.uri, answer.status);
    holds(asked, &answer).unwrap_or_else(|law| panic!("{of}: {law}\n{}", String::from_utf8_lossy(&answer.body)));
    answer
}

fn holds(asked: &Asked, answer: &Answer) -> Result<(), &'static str> {
    let header = |name: &str| answer.headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let law = |holds: bool, law: &'static str| if holds { Ok(()) } else { Err(law) };
    law(!answer.status.is_server_error() || answer.status == StatusCode::SERVICE_UNAVAILABLE, "a fault of the program")?;
    law(header("content-security-policy").contains("default-src 'none'"), "a page that may load anything")?;
    law(header("x-content-type-options") == "nosniff", "an answer whose kind may be guessed")?;
    let refused = answer.status.is_client_error() || answer.status.is_server_error();
    // What a method that is not served is answered with says by a header what is.
    law(
        !refused || asked.method == Method::HEAD || !answer.body.is_empty() || !header("allow").is_empty(),
        "refused without a word",
    )?;
    if asked.method == Method::HEAD || answer.body.is_empty() {
        return Ok(());
    }
    let text = || std::str::from_utf8(&answer.body).map_err(|_| "a text of no letters");
    match header("content-type").split(';').next().unwrap_or_default() {
        "application/json" => law(serde_json::from_slice::<serde_json::Value>(&answer.body).is_ok(), "broken JSON"),
        "image/svg+xml" => law(roxmltree::Document::parse(text()?).is_ok(), "a drawing that is no XML"),
        "application/pdf" => law(answer.body.starts_with(b"%PDF-"), "a book that is none"),
        "" => Err("an answer of no kind"),
        _ => Ok(()),
    }
}
