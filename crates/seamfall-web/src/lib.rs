//! The workroom in the browser. The only HTTP of the house.
//!
//! In: a listener on this machine's loopback and a store. Out: pages, drawings and answers to edits. An edit goes to the document's
//! text, the text to the store, and the plan is computed anew; the browser gets those elements of the drawing and those parts of
//! the page that came out differently (`repaint`). Nothing is computed about the quilt here and nothing is kept but the store;
//! the last few plans are remembered for speed only (`room`).
//!
//! Only this machine may talk to it: see `guard`; and whom the maker lets in: see `share`. A guild serves many members by the same pages: see `guild`. Pages hold no inline script or style and ask nothing of the network.

mod address;
mod asker;
mod belongings;
mod class;
mod designs;
mod drape;
mod guard;
pub mod guild;
mod keys;
mod language;
mod offered;
mod patience;
mod photos;
mod remembered;
mod repaint;
mod room;
mod routes;
mod say;
mod seams;
mod sewn;
mod share;
mod sheet;
mod starter;
mod trouble;
mod view;
mod wanted;

pub use language::speak;
pub use routes::{Server, api_json};

use axum::Router;
use room::Room;
use seamfall_store::{QuiltId, Store, StoreError};
use std::io;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tr::tr;

/// The demo quilts, each with its name in a web address.
#[must_use]
pub fn demo_quilts() -> [(&'static str, &'static str); 4] {
    [
        ("lamplight", include_str!("../../../quilts/lamplight.quilt.toml")),
        ("tide-pool", include_str!("../../../quilts/tide-pool.quilt.toml")),
        ("hill-farm", include_str!("../../../quilts/hill-farm.quilt.toml")),
        ("market-rows", include_str!("../../../quilts/market-rows.quilt.toml")),
    ]
}

/// Takes the texts of a quilt file and of its ledger into the store, an empty one while nothing has been sewn; a quilt that stands on these
/// very texts is taken up again instead.
///
/// The caller has read them and found them to be a quilt and its ledger.
///
/// # Errors
/// What the store says.
pub fn bring_in(store: &Store, text: &str, ledger: &str) -> Result<QuiltId, StoreError> {
    match store.list()?.into_iter().find(|quilt| quilt.text == text && quilt.ledger == ledger) {
        Some(there) => Ok(there.id),
        None => store.create(text, ledger),
    }
}

/// The quilt worked on last, or the first demo quilt in a store that has none.
///
/// # Errors
/// What the store says.
pub fn last_or_demo(store: &Store) -> Result<QuiltId, StoreError> {
    match store.last()? {
        Some(last) => Ok(last),
        None => store.create(demo_quilts()[0].1, ""),
    }
}

/// Serves the workroom until the future is dropped or the listener fails.
///
/// # Errors
/// When the listener is not on the loopback, which is refused, or fails.
pub async fn serve(listener: TcpListener, store: Store) -> io::Result<()> {
    serve_hurried(listener, store, wanted::LONGEST).await
}

/// The same, where a request is worked at no longer than this.
///
/// # Errors
/// As [`serve`].
pub async fn serve_hurried(listener: TcpListener, store: Store, longest: Duration) -> io::Result<()> {
    let address = listener.local_addr()?;
    if !address.ip().is_loopback() {
        return Err(io::Error::other(tr!(
            "the workroom serves this machine alone, and {address} can be reached from others",
            address
        )));
    }
    axum::serve(listener, around(Room::hurried(store, longest), address.port())).await
}

/// What is served at a port of the loopback, without the network.
pub fn pages(store: Store, port: u16) -> Router {
    around(Room::new(store), port)
}

fn around(room: Arc<Room>, port: u16) -> Router {
    routes::all(room).layer(axum::middleware::from_fn_with_state(guard::Hosts::own(port), guard::check))
}
