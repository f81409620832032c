//! A guild: one server for many members, each with her own quilts and those that are shared with her.
//!
//! In: a listener, a store, the name of the guild and its public address. Out: the pages of the workroom behind one door. Every request passes it: who
//! asks is told by her cookie, what the address needs by a table (`needs`), and what is not in the table is refused. The pages and edits behind it are those
//! of a single maker; whose things are whose is looked up where they are listed (`belongings`).
//!
//! There are no passwords, and no mail is sent: an invitation is a link that is used once, and a member comes back with a key of her own. TLS is not
//! spoken here; a proxy in front does that.

mod address;
pub(crate) mod door;
pub(crate) mod needs;

pub use address::{Address, AddressError};

use crate::guard::{self, Hosts};
use crate::keys::Key;
use crate::patience::Patience;
use crate::room::Room;
use crate::routes;
use crate::share::{A_SECOND, AT_ONCE};
use crate::trouble::Trouble;
use axum::Router;
use seamfall_store::{MemberId, Role, Store, StoreError};
use std::future::Future;
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};
use tokio::net::TcpListener;

const DAY: i64 = 24 * 60 * 60;

/// For so many days an invitation can be given out.
pub const DAYS: [i64; 3] = [1, 7, 30];

/// For so many days the first invitation of a keeper holds.
const FIRST_DAYS: i64 = 7;

/// So long a browser stays signed in.
pub const SIGNED_IN: i64 = 90 * DAY;

/// So many wrong keys from one address at once, and one more every half minute.
const WRONG_AT_ONCE: f64 = 10.0;
const WRONG_A_SECOND: f64 = 1.0 / 30.0;

/// A guild.
pub struct Guild {
    /// The store, and what is remembered.
    pub room: Arc<Room>,
    /// What it is called.
    pub name: Arc<str>,
    /// Where it is reached.
    pub address: Address,
    /// How often a member may ask.
    members: Patience<MemberId>,
    /// How often one who is not signed in may ask.
    strangers: Patience<IpAddr>,
    /// How often one may show a wrong key.
    wrong: Patience<IpAddr>,
}

/// Seconds since 1970.
pub fn now() -> i64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    i64::try_from(since).unwrap_or(i64::MAX)
}

/// An invitation for a keeper, as its address: for the first one, and for when all have lost their keys.
///
/// # Errors
/// What the store says, or that the system has no chance to give.
pub fn invite_keeper(store: &Store, address: &Address) -> Result<String, String> {
    let words = |error: StoreError| error.to_string();
    let key = Key::fresh().map_err(|trouble| trouble.problem().to_owned())?;
    let number = store.invite(&key.hash(), Role::Keeper, now() + FIRST_DAYS * DAY).map_err(words)?;
    Ok(address.page(&format!("/join/{}", key.numbered(number.0))))
}

/// Whether the guild has no member yet.
///
/// # Errors
/// What the store says.
pub fn is_new(store: &Store) -> Result<bool, StoreError> {
    Ok(store.members()?.is_empty())
}

/// Serves a guild until the future is dropped, the listener fails, or `closing` is over: then what was asked is still answered, and nothing more is heard.
///
/// # Errors
/// When the listener fails.
pub async fn serve(
    listener: TcpListener,
    store: Store,
    name: &str,
    address: Address,
    closing: impl Future<Output = ()> + Send + 'static,
) -> io::Result<()> {
    let pages = pages(store, name, address).into_make_service_with_connect_info::<SocketAddr>();
    axum::serve(listener, pages).with_graceful_shutdown(closing).await
}

/// What is served, without the network. From where a request comes stands with it as axum's `ConnectInfo`.
pub fn pages(store: Store, name: &str, address: Address) -> Router {
    let hosts = Hosts::public(address.scheme(), address.host().to_owned());
    let guild = Arc::new(Guild {
        room: Room::for_guild(store),
        name: name.into(),
        address,
        members: Patience::new(A_SECOND, AT_ONCE),
        strangers: Patience::new(A_SECOND, AT_ONCE),
        wrong: Patience::new(WRONG_A_SECOND, WRONG_AT_ONCE),
    });
    routes::all(Arc::clone(&guild.room))
        .merge(routes::guild(Arc::clone(&guild)))
        .layer(axum::middleware::from_fn_with_state(guild, door::check))
        .layer(axum::middleware::from_fn_with_state(hosts, guard::check))
}

impl Guild {
    /// Does blocking work on the store. Unlike planning it waits for no turn.
    pub async fn ask<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        let guild = Arc::clone(self);
        let asker = crate::asker::here();
        match tokio::task::spawn_blocking(move || crate::asker::for_her(asker, || work(&guild))).await {
            Ok(done) => done,
            Err(_) => {
                Err(Trouble::fault(tr::tr!("this could not be done, which is a fault of the program; nothing was changed")))
            }
        }
    }
}
