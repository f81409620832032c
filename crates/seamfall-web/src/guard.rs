//! Who may ask, and what a browser may do with the answer.
//!
//! A page on the web can make a browser send requests to this machine. Therefore: the host asked for must be one of this machine's
//! own names (a foreign name that points here is refused), and what comes from another site is refused, except that a link may
//! lead here. Answers say that they may not be framed, guessed at, or joined by script and style from elsewhere.

use crate::trouble::Trouble;
use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
    form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Lets a request through if it may ask, and adds what goes on every answer.
pub async fn check(State(port): State<u16>, request: Request, next: Next) -> Response {
    let mut answer = match refusal(request.method(), request.headers(), port) {
        Some(trouble) => trouble.into_response(),
        None => next.run(request).await,
    };
    let headers = answer.headers_mut();
    let set = [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, "no-referrer"),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ];
    for (name, value) in set {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    answer
}

fn refusal(method: &Method, headers: &HeaderMap, port: u16) -> Option<Trouble> {
    let own = |host: &str| {
        ["127.0.0.1", "localhost", "[::1]"].iter().any(|name| host == format!("{name}:{port}") || (port == 80 && host == *name))
    };
    let said = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    if !said(HOST.as_str()).is_some_and(own) {
        return Some(Trouble::refused(
            "this address belongs to somebody else; open the workroom at the address it printed when it started",
        ));
    }
    let elsewhere =
        || Some(Trouble::refused("the request came from another site, and only the workroom's own pages may ask this"));
    let changes = method != Method::GET && method != Method::HEAD;
    if let Some(origin) = said(ORIGIN.as_str())
        && !origin.strip_prefix("http://").is_some_and(own)
    {
        return elsewhere();
    }
    match said("sec-fetch-site") {
        None | Some("same-origin" | "none") => None,
        // A link from elsewhere may open a page, and that is all.
        Some(_) if !changes && said("sec-fetch-mode") == Some("navigate") => None,
        Some(_) => elsewhere(),
    }
}
