//! Who may ask, and what a browser may do with the answer.
//!
//! A page on the web can make a browser send requests to this machine. Therefore: the host asked for must be one of this machine's
//! own names (a foreign name that points here is refused), and what comes from another site is refused, except that a link may
//! lead here. Answers say that they may not be framed, guessed at, or joined by script and style from elsewhere.

use crate::trouble::Trouble;
use axum::extract::{Request, State};
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HOST, HeaderName, HeaderValue, ORIGIN, REFERRER_POLICY, STRICT_TRANSPORT_SECURITY,
    X_CONTENT_TYPE_OPTIONS,
};
use axum::http::{HeaderMap, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::Arc;
use tr::tr;

const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
    form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Names by which this machine may be asked, and how.
#[derive(Debug, Clone)]
pub struct Hosts {
    names: Arc<[String]>,
    /// Before a name in an address: `http://`.
    scheme: &'static str,
    /// What a page may say of itself to the next: its own forms have to say where they come from.
    referrer: &'static str,
}

impl Hosts {
    /// Those of the loopback.
    pub fn own(port: u16) -> Self {
        let names = ["127.0.0.1", "localhost", "[::1]"];
        let plain = names.iter().filter(|_| port == 80).map(|name| (*name).to_owned());
        let names = names.iter().map(|name| format!("{name}:{port}")).chain(plain).collect();
        Self { names, scheme: "http://", referrer: "no-referrer" }
    }

    /// One address.
    pub fn only(address: SocketAddr) -> Self {
        Self { names: [address.to_string()].into(), scheme: "http://", referrer: "no-referrer" }
    }

    /// A name in public, behind `http://` or `https://`.
    pub fn public(scheme: &'static str, name: String) -> Self {
        Self { names: [name].into(), scheme, referrer: "same-origin" }
    }
}

/// Lets a request through if it may ask, and adds what goes on every answer.
pub async fn check(State(hosts): State<Hosts>, request: Request, next: Next) -> Response {
    let mut answer = match refusal(request.method(), request.headers(), &hosts) {
        Some(trouble) => trouble.into_response(),
        None => next.run(request).await,
    };
    let headers = answer.headers_mut();
    let set = [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, hosts.referrer),
        (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ];
    for (name, value) in set {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if hosts.scheme == "https://" {
        headers.insert(STRICT_TRANSPORT_SECURITY, HeaderValue::from_static("max-age=31536000"));
    }
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    answer
}

fn refusal(method: &Method, headers: &HeaderMap, hosts: &Hosts) -> Option<Trouble> {
    let own = |host: &str| hosts.names.iter().any(|name| name == host);
    let said = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    if !said(HOST.as_str()).is_some_and(own) {
        return Some(Trouble::refused(&tr!(
            "this address belongs to somebody else; open the workroom at the address it printed when it started"
        )));
    }
    let elsewhere =
        || Some(Trouble::refused(&tr!("the request came from another site, and only the workroom's own pages may ask this")));
    let changes = method != Method::GET && method != Method::HEAD;
    if let Some(origin) = said(ORIGIN.as_str())
        && !origin.strip_prefix(hosts.scheme).is_some_and(own)
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
