//! The door to the local network: closed unless the maker opens it, for one quilt, with a key.
//!
//! A phone that scans the key's code may see the sewing pages of that quilt and tick off what is done there; nothing else is served. The
//! key is 128 bits from the system's own source of chance; it ends with the door, after twelve hours at the latest, or when
//! somebody has tried too many wrong ones. The door listens on one address of this machine, in the open: whoever can read
//! the network's traffic can read the key too, so that it belongs into a home and not into a café.

use crate::guard;
use crate::room::Room;
use crate::routes;
use crate::trouble::Trouble;
use axum::extract::{Path, Request, State};
use axum::http::header::{COOKIE, SET_COOKIE};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use seamfall_store::QuiltId;
use std::fmt::Write;
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::task::AbortHandle;
use tr::tr;

/// After this the door closes by itself.
const OPEN_FOR: Duration = Duration::from_secs(12 * 60 * 60);

/// So many wrong keys close it.
const WRONG_KEYS: u32 = 20;

/// Name of the cookie that holds the key on the phone.
const KEY_COOKIE: &str = "seamfall-key";

/// The door.
#[derive(Default)]
pub struct Door(Mutex<Option<Open>>);

struct Open {
    key: String,
    quilt: QuiltId,
    address: SocketAddr,
    wrong: u32,
    listening: AbortHandle,
}

/// What is shown of an open door.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitation {
    /// The quilt that can be seen through it.
    pub quilt: QuiltId,
    /// The address that a phone opens, with the key.
    pub url: String,
}

impl Door {
    fn locked(&self) -> std::sync::MutexGuard<'_, Option<Open>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How to come in, while it is open.
    pub fn invitation(&self) -> Option<Invitation> {
        self.locked()
            .as_ref()
            .map(|open| Invitation { quilt: open.quilt, url: format!("http://{}/join/{}", open.address, open.key) })
    }

    /// Closes the door; keys that were given out are worth nothing any more.
    pub fn close(&self) {
        if let Some(open) = self.locked().take() {
            open.listening.abort();
        }
    }

    /// Whether `key` opens the door now, and to which quilt. Wrong ones are counted.
    fn opens(&self, key: &str) -> Option<QuiltId> {
        let mut open = self.locked();
        let door = open.as_mut()?;
        if same(key, &door.key) {
            return Some(door.quilt);
        }
        door.wrong += 1;
        if door.wrong >= WRONG_KEYS {
            door.listening.abort();
            *open = None;
        }
        None
    }
}

/// Compares in a time that does not tell how much of a key is right.
fn same(one: &str, other: &str) -> bool {
    one.len() == other.len() && one.bytes().zip(other.bytes()).fold(0, |all, (a, b)| all | (a ^ b)) == 0
}

/// Opens the door of a room to a quilt; one that was open closes.
///
/// # Errors
/// When the machine is on no network, or nothing can listen there.
pub async fn open(room: &Arc<Room>, quilt: QuiltId) -> Result<(), Trouble> {
    let ip = network().ok_or_else(|| Trouble::unusable(tr!("this machine is on no local network; join one and try again")))?;
    open_at(room, quilt, ip).await
}

/// [`open`] at a given address.
async fn open_at(room: &Arc<Room>, quilt: QuiltId, ip: IpAddr) -> Result<(), Trouble> {
    let refused = |error: std::io::Error| Trouble::unusable(tr!("nothing can listen at {ip}: {error}", ip, error));
    let listener = TcpListener::bind((ip, 0)).await.map_err(refused)?;
    let address = listener.local_addr().map_err(refused)?;
    let mut bits = [0; 16];
    getrandom::fill(&mut bits).map_err(|error| Trouble::fault(tr!("the system has no chance to give: {error}", error)))?;
    let key = bits.iter().fold(String::new(), |mut key, byte| {
        let _ = write!(key, "{byte:02x}");
        key
    });
    room.door.close();
    let serving = Arc::clone(room);
    let pages = routes::shared(Arc::clone(room))
        .layer(axum::middleware::from_fn_with_state(Arc::clone(room), holds_key))
        .layer(axum::middleware::from_fn_with_state(guard::Hosts::only(address), guard::check));
    let listening = tokio::spawn(async move {
        let served = tokio::time::timeout(OPEN_FOR, async { axum::serve(listener, pages).await });
        if served.await.is_err() {
            tracing::info!("the door to the network has been open long enough and is closed");
        }
        *serving.door.locked() = None;
    });
    *room.door.locked() = Some(Open { key, quilt, address, wrong: 0, listening: listening.abort_handle() });
    Ok(())
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

/// A phone comes with the key: it is kept there, and the sewing page follows.
pub async fn join(State(room): State<Arc<Room>>, Path(key): Path<String>) -> Result<Response, Trouble> {
    let quilt = room.door.opens(&key).ok_or_else(|| closed().into_page())?;
    let cookie = format!("{KEY_COOKIE}={key}; HttpOnly; SameSite=Lax; Path=/; Max-Age={}", OPEN_FOR.as_secs());
    Ok(([(SET_COOKIE, cookie)], Redirect::to(&format!("/q/{quilt}/sewing"))).into_response())
}

fn closed() -> Trouble {
    Trouble::refused(&tr!("this key opens nothing, or no longer; scan the code that the workroom shows now"))
}

/// Lets through who holds the key, to the quilt that it opens.
async fn holds_key(State(room): State<Arc<Room>>, request: Request, next: Next) -> Response {
    let path = request.uri().path();
    if path.starts_with("/join/") || path.starts_with("/assets/") {
        return next.run(request).await;
    }
    let cookies = request.headers().get_all(COOKIE).iter().filter_map(|value| value.to_str().ok());
    let mut cookies = cookies.flat_map(|value| value.split(';')).filter_map(|cookie| cookie.trim().split_once('='));
    let quilt = cookies.find(|(name, _)| *name == KEY_COOKIE).and_then(|(_, key)| room.door.opens(key));
    let asked = path.strip_prefix("/q/").and_then(|rest| rest.split('/').next()).and_then(|id| id.parse().ok().map(QuiltId));
    match (quilt, asked) {
        (Some(quilt), Some(asked)) if quilt == asked => next.run(request).await,
        (Some(_), _) => Trouble::refused(&tr!("the key opens the sewing pages of one quilt, and this is none of them"))
            .into_page()
            .into_response(),
        (None, _) => closed().into_page().into_response(),
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

    /// A room whose door stands open at the loopback, its address and its key.
    fn opened() -> (tokio::runtime::Runtime, Arc<Room>, String, String, tempfile::TempDir) {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(&folder.path().join("seamfall.sqlite")).unwrap();
        let quilt = crate::last_or_demo(&store).unwrap();
        store.create(crate::demo_quilts()[1].1, "").unwrap();
        let room = Room::new(store);
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().worker_threads(2).build().unwrap();
        runtime.block_on(open_at(&room, quilt, IpAddr::from([127, 0, 0, 1]))).unwrap();
        let url = room.door.invitation().unwrap().url;
        let (address, key) = url.strip_prefix("http://").unwrap().split_once("/join/").unwrap();
        let (address, key) = (address.to_owned(), key.to_owned());
        (runtime, room, address, key, folder)
    }

    #[test]
    fn the_key_opens_the_sewing_pages_of_its_quilt_and_nothing_else() {
        let (_runtime, room, address, key, _folder) = opened();
        let wrong = "0".repeat(32);
        assert_eq!(asked(&address, "/q/1/sewing", None).0, 403);
        assert_eq!(asked(&address, "/q/1/sewing", Some(&wrong)).0, 403);
        assert_eq!(asked(&address, &format!("/join/{wrong}"), None).0, 403);
        let (status, _, to) = asked(&address, &format!("/join/{key}"), None);
        assert_eq!((status, to.as_deref()), (303, Some("/q/1/sewing")));
        assert_eq!(asked(&address, "/q/1/sewing", Some(&key)).0, 200);
        assert_eq!(asked(&address, "/q/1/section/S1", Some(&key)).0, 200);
        for other in
            ["/q/2/sewing", "/q/1", "/q/1/file", "/quilts", "/q/1/edit", "/q/1x/sewing", "/q//sewing", "/q/1/../2/sewing"]
        {
            let status = asked(&address, other, Some(&key)).0;
            assert!(status == 403 || status == 404, "{other}: {status}");
        }
        room.door.close();
        assert!(room.door.invitation().is_none() && room.door.opens(&key).is_none(), "a closed door has no key");
    }

    #[test]
    fn too_many_wrong_keys_close_the_door() {
        let (_runtime, room, _, key, _folder) = opened();
        for _ in 0..WRONG_KEYS - 1 {
            assert!(room.door.opens("no").is_none());
        }
        assert!(room.door.opens(&key).is_some());
        assert!(room.door.opens("no").is_none());
        assert!(room.door.invitation().is_none());
    }

    #[test]
    fn a_foreign_name_for_the_address_is_refused() {
        let (_runtime, _room, address, key, _folder) = opened();
        let client = reqwest::blocking::Client::new();
        let request = client.get(format!("http://{address}/q/1/sewing")).header("cookie", format!("{KEY_COOKIE}={key}"));
        assert_eq!(request.header("host", "elsewhere.example").send().unwrap().status().as_u16(), 403);
    }

    #[test]
    fn the_code_is_a_drawing() {
        let svg = code("http://192.168.1.2:5000/join/00112233445566778899aabbccddeeff");
        assert!(svg.starts_with("<svg") && svg.contains("<path"), "{svg}");
    }
}
