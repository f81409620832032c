//! The door to the local network: closed unless the maker gives out a key, for one quilt.
//!
//! A phone that scans a key's code may see the sewing pages of that quilt and, where the key allows it, tick off what is done there; nothing
//! else is served. A key is 128 bits from the system's own source of chance. It ends at its hour, when it is taken back, with the door, or when
//! somebody has tried too many wrong ones; the door closes with its last key. Whoever asks too often waits. The door listens on one address of
//! this machine, in the open: whoever can read the network's traffic can read a key too, so that it belongs into a home and not into a café.

use crate::address::Path;
use crate::guard;
use crate::guild::needs::Needs;
use crate::keys::{self, same};
use crate::offered::Viewer;
use crate::patience::Patience;
use crate::room::Room;
use crate::routes;
use crate::trouble::Trouble;
use axum::extract::connect_info::ConnectInfo;
use axum::extract::{Extension, Request, State};
use axum::http::header::SET_COOKIE;
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use seamfall_store::{May, QuiltId};
use serde::Deserialize;
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use tokio::net::TcpListener;
use tokio::task::AbortHandle;
use tr::tr;

/// For so many hours a key can be given out.
pub const HOURS: [u8; 3] = [1, 4, 12];

/// So many keys can be out at once.
pub const MOST_KEYS: usize = 12;

/// So many wrong keys close the door.
const WRONG_KEYS: u32 = 20;

/// So many requests a second from one address, in the long run; a page with its pictures asks for some dozens at once.
pub const A_SECOND: f64 = 20.0;
/// So many requests at once from one address.
pub const AT_ONCE: f64 = 200.0;

/// Name of the cookie that holds the key on the phone.
const KEY_COOKIE: &str = "seamfall-key";

/// What a key allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// The sewing pages are seen.
    Look,
    /// They are seen, and what is done is ticked off.
    Tick,
}

impl Role {
    /// What it is in the words of a guild.
    pub const fn may(self) -> May {
        match self {
            Self::Look => May::Look,
            Self::Tick => May::Tick,
        }
    }
}

/// What is served through the door, and what each address needs; a test holds it against the routes.
pub const TABLE: &[(&str, &str, Needs)] = &[
    ("GET", "/join/{key}", Needs::Nothing),
    ("GET", "/assets/{name}", Needs::Nothing),
    ("GET", "/q/{id}/sewing", Needs::On(May::Look)),
    ("GET", "/q/{id}/sewn", Needs::On(May::Look)),
    ("GET", "/q/{id}/revision", Needs::On(May::Look)),
    ("POST", "/q/{id}/tick", Needs::On(May::Tick)),
    ("GET", "/q/{id}/join/{file}", Needs::On(May::Look)),
    ("GET", "/q/{id}/section/{name}", Needs::On(May::Look)),
    ("GET", "/q/{id}/section/{name}/{file}", Needs::On(May::Look)),
];

/// Who came through the door: stands with every request that was let in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Guest {
    quilt: QuiltId,
    /// What the key allows.
    pub role: Role,
}

/// The door.
#[derive(Default)]
pub struct Door(Mutex<Option<Open>>);

struct Open {
    keys: Vec<Key>,
    /// Keys are numbered in the order in which they were given out, from 1.
    given: u32,
    quilt: QuiltId,
    address: SocketAddr,
    wrong: u32,
    listening: AbortHandle,
}

struct Key {
    number: u32,
    bits: String,
    role: Role,
    until: Instant,
}

/// What is shown of a key that is out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitation {
    /// Its number, to take it back.
    pub number: u32,
    /// What it allows.
    pub role: Role,
    /// For how long.
    pub left: Duration,
    /// The address that a phone opens, with the key.
    pub url: String,
}

impl Open {
    fn keys(&self) -> impl Iterator<Item = &Key> {
        let now = Instant::now();
        self.keys.iter().filter(move |key| key.until > now)
    }
}

impl Door {
    fn locked(&self) -> std::sync::MutexGuard<'_, Option<Open>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The keys that are out to a quilt.
    pub fn invitations(&self, quilt: QuiltId) -> Vec<Invitation> {
        let open = self.locked();
        let Some(open) = open.as_ref().filter(|open| open.quilt == quilt) else { return Vec::new() };
        let invitation = |key: &Key| Invitation {
            number: key.number,
            role: key.role,
            left: key.until.saturating_duration_since(Instant::now()),
            url: format!("http://{}/join/{}", open.address, key.bits),
        };
        open.keys().map(invitation).collect()
    }

    /// Closes the door; keys that were given out are worth nothing any more.
    pub fn close(&self) {
        if let Some(open) = self.locked().take() {
            open.listening.abort();
        }
    }

    /// Takes a key back; with the last one the door closes.
    pub fn take_back(&self, number: u32) {
        let mut door = self.locked();
        if let Some(open) = door.as_mut() {
            open.keys.retain(|key| key.number != number);
        }
        drop(door);
        self.close_without_keys();
    }

    /// Closes the door where no key to it is left.
    fn close_without_keys(&self) {
        let mut door = self.locked();
        if let Some(open) = door.take_if(|open| open.keys().next().is_none()) {
            open.listening.abort();
        }
    }

    /// Whom `bits` let in now. Wrong ones are counted.
    fn opens(&self, bits: &str) -> Option<(Guest, Duration)> {
        let mut door = self.locked();
        let open = door.as_mut()?;
        let found = open.keys().find(|key| same(bits, &key.bits));
        if let Some(key) = found {
            let left = key.until.saturating_duration_since(Instant::now());
            return Some((Guest { quilt: open.quilt, role: key.role }, left));
        }
        // A key that has ended is no attempt to get in.
        if open.keys.iter().any(|key| same(bits, &key.bits)) {
            return None;
        }
        open.wrong += 1;
        if open.wrong >= WRONG_KEYS {
            open.listening.abort();
            *door = None;
        }
        None
    }
}

/// Gives out a key to a quilt, for so long; a door to another quilt closes.
///
/// # Errors
/// When the machine is on no network, nothing can listen there, or [`MOST_KEYS`] are out.
pub async fn give(room: &Arc<Room>, quilt: QuiltId, role: Role, lasting: Duration) -> Result<(), Trouble> {
    let ip = network().ok_or_else(|| Trouble::unusable(tr!("this machine is on no local network; join one and try again")))?;
    give_at(room, quilt, role, lasting, ip).await
}

/// [`give`] at a given address.
async fn give_at(room: &Arc<Room>, quilt: QuiltId, role: Role, lasting: Duration, ip: IpAddr) -> Result<(), Trouble> {
    let is_open = room.door.locked().as_ref().is_some_and(|open| open.quilt == quilt && open.keys().next().is_some());
    if !is_open {
        open_at(room, quilt, ip).await?;
    }
    let bits = keys::Key::fresh()?.letters();
    let mut door = room.door.locked();
    let Some(open) = door.as_mut().filter(|open| open.quilt == quilt) else {
        return Err(Trouble::unusable(tr!("the door was closed in the meantime; try again")));
    };
    let now = Instant::now();
    open.keys.retain(|key| key.until > now);
    if open.keys.len() >= MOST_KEYS {
        return Err(Trouble::unusable(tr!("{most} keys are out, as many as can be; take one back first", most = MOST_KEYS)));
    }
    open.given += 1;
    open.keys.push(Key { number: open.given, bits, role, until: now + lasting });
    drop(door);
    let room = Arc::downgrade(room);
    tokio::spawn(async move {
        tokio::time::sleep(lasting).await;
        if let Some(room) = room.upgrade() {
            room.door.close_without_keys();
        }
    });
    Ok(())
}

/// Listens at an address, as yet without keys.
async fn open_at(room: &Arc<Room>, quilt: QuiltId, ip: IpAddr) -> Result<(), Trouble> {
    let refused =
        |error: std::io::Error| Trouble::unusable(tr!("nothing can listen at {address}: {error}", address = ip, error = error));
    let listener = TcpListener::bind((ip, 0)).await.map_err(refused)?;
    let address = listener.local_addr().map_err(refused)?;
    room.door.close();
    let patience = Arc::new(Patience::new(A_SECOND, AT_ONCE));
    let pages = routes::shared(Arc::clone(room))
        .layer(axum::middleware::from_fn_with_state(Arc::clone(room), holds_key))
        .layer(axum::middleware::from_fn_with_state(patience, not_too_often))
        .layer(axum::middleware::from_fn_with_state(guard::Hosts::only(address), guard::check));
    let listening = tokio::spawn(async move {
        if let Err(error) = axum::serve(listener, pages.into_make_service_with_connect_info::<SocketAddr>()).await {
            tracing::error!("the door to the network is closed: {error}");
        }
    });
    let listening = listening.abort_handle();
    *room.door.locked() = Some(Open { keys: Vec::new(), given: 0, quilt, address, wrong: 0, listening });
    Ok(())
}

/// Lets through who does not ask too often.
async fn not_too_often(
    State(patience): State<Arc<Patience<IpAddr>>>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    if patience.allows(&from.ip()) { next.run(request).await } else { Trouble::too_often().into_response() }
}

/// The address of this machine on its network: that from which it would speak to the world. Nothing is sent; the address
/// asked about is one that is reserved for documentation (RFC 5737).
fn network() -> Option<IpAddr> {
    let socket = UdpSocket::bind(("0.0.0.0", 0)).ok()?;
    socket.connect(("192.0.2.1", 9)).ok()?;
    let ip = socket.local_addr().ok()?.ip();
    (!ip.is_loopback() && !ip.is_unspecified()).then_some(ip)
}

/// The code of an address, to be scanned.
pub fn code(url: &str) -> String {
    let code = qrcode::QrCode::new(url)
        .map(|code| code.render::<qrcode::render::svg::Color<'_>>().min_dimensions(240, 240).quiet_zone(true).build());
    // From the element on: a page holds no XML declaration.
    code.ok().and_then(|svg| svg.find("<svg").map(|at| svg[at..].to_owned())).unwrap_or_default()
}

/// A phone comes with a key: it is kept there, and the sewing page follows.
pub async fn join(State(room): State<Arc<Room>>, Path(key): Path<String>) -> Result<Response, Trouble> {
    let (guest, left) = room.door.opens(&key).ok_or_else(|| closed().into_page())?;
    let cookie = format!("{KEY_COOKIE}={key}; HttpOnly; SameSite=Lax; Path=/; Max-Age={}", left.as_secs());
    Ok(([(SET_COOKIE, cookie)], Redirect::to(&format!("/q/{}/sewing", guest.quilt))).into_response())
}

fn closed() -> Trouble {
    Trouble::refused(&tr!("this key opens nothing, or no longer; scan the code that the workroom shows now"))
}

/// Lets through who holds a key, to the quilt that it opens.
async fn holds_key(State(room): State<Arc<Room>>, mut request: Request, next: Next) -> Response {
    let path = request.uri().path();
    if path.starts_with("/join/") || path.starts_with("/assets/") {
        return next.run(request).await;
    }
    let guest = keys::shown(request.headers(), KEY_COOKIE).and_then(|key| room.door.opens(key));
    let asked = path.strip_prefix("/q/").and_then(|rest| rest.split('/').next()).and_then(|id| id.parse().ok().map(QuiltId));
    match (guest, asked) {
        (Some((guest, _)), Some(asked)) if guest.quilt == asked => {
            request.extensions_mut().insert(guest);
            Viewer::guest(guest).answered(next.run(request).await).await
        }
        (Some(_), _) => Trouble::refused(&tr!("the key opens the sewing pages of one quilt, and this is none of them"))
            .into_page()
            .into_response(),
        (None, _) => closed().into_page().into_response(),
    }
}

/// Lets through whose key allows to tick off.
pub async fn may_tick(Extension(guest): Extension<Guest>, request: Request, next: Next) -> Response {
    match guest.role {
        Role::Tick => next.run(request).await,
        Role::Look => Trouble::refused(&tr!("this key is for looking only; ask for one that may tick off")).into_response(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_store::Store;

    fn asked(address: &str, path: &str, cookie: Option<&str>) -> (u16, String, Option<String>) {
        let client = reqwest::blocking::Client::builder().redirect(reqwest::redirect::Policy::none()).build().unwrap();
        let mut request = client.get(format!("http://{address}{path}"));
        if let Some(cookie) = cookie {
            request = request.header("cookie", format!("{KEY_COOKIE}={cookie}"));
        }
        let answer = request.send().unwrap();
        let to = answer.headers().get("location").map(|to| to.to_str().unwrap().to_owned());
        (answer.status().as_u16(), answer.text().unwrap(), to)
    }

    const HOUR: Duration = Duration::from_secs(3600);

    /// A room with keys out at the loopback, its address and the keys.
    struct Opened {
        runtime: tokio::runtime::Runtime,
        room: Arc<Room>,
        address: String,
        keys: Vec<String>,
        _folder: tempfile::TempDir,
    }

    const QUILT: QuiltId = QuiltId(1);

    fn opened(keys: &[(Role, Duration)]) -> Opened {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(&folder.path().join("seamfall.sqlite")).unwrap();
        assert_eq!(crate::last_or_demo(&store).unwrap(), QUILT);
        store.create(crate::demo_quilts()[1].1, "").unwrap();
        let room = Room::new(store);
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().worker_threads(2).build().unwrap();
        for &(role, lasting) in keys {
            runtime.block_on(give_at(&room, QUILT, role, lasting, IpAddr::from([127, 0, 0, 1]))).unwrap();
        }
        let urls: Vec<_> = room.door.invitations(QUILT).into_iter().map(|invitation| invitation.url).collect();
        let parts: Vec<_> = urls.iter().map(|url| url.strip_prefix("http://").unwrap().split_once("/join/").unwrap()).collect();
        let (address, keys) = (parts[0].0.to_owned(), parts.iter().map(|part| part.1.to_owned()).collect());
        Opened { runtime, room, address, keys, _folder: folder }
    }

    fn ticked(address: &str, key: &str) -> u16 {
        let edit = serde_json::json!({"do": "state", "sections": ["S1"], "state": "pieced"});
        let client = reqwest::blocking::Client::new();
        let request = client.post(format!("http://{address}/q/1/tick")).json(&serde_json::json!({"revision": 1, "edit": edit}));
        request.header("cookie", format!("{KEY_COOKIE}={key}")).send().unwrap().status().as_u16()
    }

    #[test]
    fn the_key_opens_the_sewing_pages_of_its_quilt_and_nothing_else() {
        let Opened { room, address, keys, .. } = &opened(&[(Role::Tick, HOUR)]);
        let (address, key) = (address.as_str(), keys[0].as_str());
        let wrong = "0".repeat(32);
        assert_eq!(asked(address, "/q/1/sewing", None).0, 403);
        assert_eq!(asked(address, "/q/1/sewing", Some(&wrong)).0, 403);
        assert_eq!(asked(address, &format!("/join/{wrong}"), None).0, 403);
        let (status, _, to) = asked(address, &format!("/join/{key}"), None);
        assert_eq!((status, to.as_deref()), (303, Some("/q/1/sewing")));
        assert_eq!(asked(address, "/q/1/sewing", Some(key)).0, 200);
        assert_eq!(asked(address, "/q/1/section/S1", Some(key)).0, 200);
        for other in
            ["/q/2/sewing", "/q/1", "/q/1/file", "/quilts", "/q/1/edit", "/q/1x/sewing", "/q//sewing", "/q/1/../2/sewing"]
        {
            let status = asked(address, other, Some(key)).0;
            assert!(status == 403 || status == 404, "{other}: {status}");
        }
        room.door.close();
        assert!(room.door.invitations(QUILT).is_empty() && room.door.opens(key).is_none(), "a closed door has no key");
    }

    #[test]
    fn one_key_looks_and_another_ticks() {
        let Opened { address, keys, .. } = &opened(&[(Role::Look, HOUR), (Role::Tick, HOUR)]);
        assert_eq!(ticked(address, &keys[0]), 403);
        let (status, page, _) = asked(address, "/q/1/sewing", Some(&keys[0]));
        assert!(status == 200 && !page.contains("data-tick"), "what looks only shows nothing to tick");
        assert!(!asked(address, "/q/1/sewn", Some(&keys[0])).1.contains("data-tick"));
        assert!(asked(address, "/q/1/sewing", Some(&keys[1])).1.contains("data-tick"));
        assert_eq!(ticked(address, &keys[1]), 200);
    }

    #[test]
    fn a_page_leads_nowhere_that_the_key_does_not_open() {
        let Opened { address, keys, .. } = &opened(&[(Role::Look, HOUR), (Role::Tick, HOUR)]);
        for (key, what) in keys.iter().zip(["you may look; to tick off", "you may look, and tick off"]) {
            for path in ["/q/1/sewing", "/q/1/section/S1"] {
                let page = asked(address, path, Some(key)).1;
                assert_eq!(page.contains(what), path.ends_with("sewing"), "{path}");
                let links: Vec<&str> = page.split(" href=\"/").skip(1).filter_map(|rest| rest.split(['"', '#']).next()).collect();
                assert!(links.len() > 4, "{path}: {links:?}");
                for link in links {
                    assert_eq!(asked(address, &format!("/{link}"), Some(key)).0, 200, "{path}: {link}");
                }
                assert!(!page.contains("ledger/import"), "{path}");
            }
        }
    }

    #[test]
    fn a_key_ends_at_its_hour_and_can_be_taken_back() {
        let Opened { runtime, room, address, keys, .. } = &opened(&[(Role::Tick, HOUR), (Role::Look, HOUR)]);
        let short = Duration::from_millis(300);
        runtime.block_on(give_at(room, QUILT, Role::Look, short, IpAddr::from([127, 0, 0, 1]))).unwrap();
        let last = room.door.invitations(QUILT).pop().unwrap();
        let (_, ending) = last.url.split_once("/join/").unwrap();
        assert_eq!(asked(address, "/q/1/sewing", Some(ending)).0, 200);
        std::thread::sleep(short + Duration::from_millis(50));
        for _ in 0..2 * WRONG_KEYS {
            assert_eq!(asked(address, "/q/1/sewing", Some(ending)).0, 403, "its hour is over, and it is no wrong key");
        }
        room.door.take_back(1);
        assert_eq!(asked(address, "/q/1/sewing", Some(&keys[0])).0, 403);
        assert_eq!(asked(address, "/q/1/sewing", Some(&keys[1])).0, 200);
        room.door.take_back(2);
        assert!(room.door.locked().is_none(), "with the last key the door closes");
    }

    #[test]
    fn so_many_keys_and_no_more() {
        let Opened { runtime, room, .. } = &opened(&[(Role::Look, HOUR); MOST_KEYS]);
        let more = || runtime.block_on(give_at(room, QUILT, Role::Look, HOUR, IpAddr::from([127, 0, 0, 1])));
        assert!(more().is_err());
        room.door.take_back(1);
        assert!(more().is_ok());
    }

    #[test]
    fn too_many_wrong_keys_close_the_door() {
        let Opened { room, keys, .. } = &opened(&[(Role::Tick, HOUR)]);
        for _ in 0..WRONG_KEYS - 1 {
            assert!(room.door.opens("no").is_none());
        }
        assert!(room.door.opens(&keys[0]).is_some());
        assert!(room.door.opens("no").is_none());
        assert!(room.door.invitations(QUILT).is_empty());
    }

    #[test]
    fn who_asks_too_often_waits() {
        let Opened { address, keys, .. } = &opened(&[(Role::Look, HOUR)]);
        let often = 2 * AT_ONCE as usize;
        let answers: Vec<u16> = (0..often).map(|_| asked(address, "/assets/icon.svg", Some(&keys[0])).0).collect();
        assert!(answers[..AT_ONCE as usize].iter().all(|&status| status == 200));
        assert!(answers.contains(&429), "{answers:?}");
    }

    #[test]
    fn a_foreign_name_for_the_address_is_refused() {
        let Opened { address, keys, .. } = &opened(&[(Role::Look, HOUR)]);
        let client = reqwest::blocking::Client::new();
        let request = client.get(format!("http://{address}/q/1/sewing")).header("cookie", format!("{KEY_COOKIE}={}", keys[0]));
        assert_eq!(request.header("host", "elsewhere.example").send().unwrap().status().as_u16(), 403);
    }

    #[test]
    fn the_code_is_a_drawing() {
        let svg = code("http://192.168.1.2:5000/join/00112233445566778899aabbccddeeff");
        assert!(svg.starts_with("<svg") && svg.contains("<path"), "{svg}");
    }
}
