//! What is sewn: the page to tick it off, and the door to the local network.

use crate::room::Room;
use crate::share;
use crate::trouble::Trouble;
use crate::view;
use axum::Json;
use axum::extract::rejection::JsonRejection;
use axum::extract::{Path, State};
use maud::Markup;
use seamfall_store::QuiltId;
use serde::Deserialize;
use std::sync::Arc;

/// The page to sew from.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(view::sewing::page(&*room.worked(QuiltId(id))?))).await.map_err(Trouble::into_page)
}

/// The page that opens and closes the door.
pub async fn sharing(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    let page = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let invitation = room.door.invitation().filter(|invitation| invitation.quilt == QuiltId(id));
        Ok(view::share::page(&worked, invitation.as_ref()))
    });
    page.await.map_err(Trouble::into_page)
}

/// Whether the door is to stand open.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Share {
    open: bool,
}

/// Opens or closes the door.
pub async fn share(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Share>, JsonRejection>,
) -> Result<Json<bool>, Trouble> {
    let Json(asked) = body?;
    if asked.open {
        room.store.get(QuiltId(id))?;
        share::open(&room, QuiltId(id)).await?;
    } else {
        room.door.close();
    }
    Ok(Json(asked.open))
}
