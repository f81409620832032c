//! The maker's own blocks: kept in the store, offered in every quilt, as small files in and out.

use super::edit::keyed_block;
use super::files::{download, text_of};
use super::{drawing, plain_name};
use crate::address::Path;
use crate::repaint::{Repaint, Shown};
use crate::room::Room;
use crate::starter;
use crate::trouble::Trouble;
use crate::view::own::list;
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::{BytesRejection, JsonRejection};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_model::{Drawing, Quilt, read_own_block, write_own_block};
use seamfall_store::{OwnBlockId, QuiltId, StoreError};
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// Blocks of her own that one maker keeps, at most.
pub const MOST: usize = 500;

/// Keeps a text, unless there are too many.
pub(super) fn keep(room: &Room, text: &str) -> Result<OwnBlockId, Trouble> {
    if room.own_blocks()?.len() >= MOST {
        return Err(Trouble::unusable(tr!("there are {most} blocks of your own already; take one away first", most = MOST)));
    }
    Ok(room.keep_block(text)?)
}

/// One of them as a drawing for a quilt.
pub(super) fn own_design(room: &Room, id: i64, quilt: &Quilt) -> Result<Drawing, Trouble> {
    let (block, measure) = read_own_block(&room.own_block(OwnBlockId(id))?.text)?;
    Ok(Drawing::taken(&block, measure, quilt))
}

/// The list, for a quilt.
pub async fn all(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(list(&format!("/q/{id}/"), &room.own_blocks()?))).await
}

/// Its drawing, `3.svg`, or its file, `3.toml`.
pub async fn file(State(room): State<Arc<Room>>, Path(file): Path<String>) -> Result<Response, Trouble> {
    let made = move |room: &Room| {
        let (number, kind) = file.split_once('.').ok_or(StoreError::NoSuchBlock)?;
        let own = room.own_block(OwnBlockId(number.parse().map_err(|_| StoreError::NoSuchBlock)?))?;
        let (block, _) = read_own_block(&own.text)?;
        match kind {
            "svg" => Ok(([(CONTENT_TYPE, "image/svg+xml")], starter::draw(&block)).into_response()),
            "toml" => {
                let name = format!("{}.block.toml", plain_name(&block.name, "block"));
                Ok(download("application/toml", &name, own.text.into_bytes()))
            }
            _ => Err(StoreError::NoSuchBlock.into()),
        }
    };
    room.work(made).await.map_err(Trouble::into_page)
}

/// Brings one in.
pub async fn import(State(room): State<Arc<Room>>, body: Result<Bytes, BytesRejection>) -> Result<Json<String>, Trouble> {
    let bytes = body?;
    room.work(move |room| {
        let text = text_of(&bytes)?;
        let (block, _) = read_own_block(text)?;
        keep(room, text)?;
        Ok(Json(tr!("{block} is one of your own blocks now", block = block.name)))
    })
    .await
}

/// Another name.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Name {
    name: String,
}

/// Gives one another name.
pub async fn rename(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Name>, JsonRejection>,
) -> Result<Json<String>, Trouble> {
    let Json(Name { name }) = body?;
    room.work(move |room| {
        let (mut block, measure) = read_own_block(&room.own_block(OwnBlockId(id))?.text)?;
        block.name = name;
        let text = write_own_block(&block, measure);
        // The new name is held against what a name may be.
        read_own_block(&text).map_err(crate::sheet::unusable)?;
        room.store.change_block(OwnBlockId(id), &text)?;
        Ok(Json(tr!("It is called {block} now", block = block.name)))
    })
    .await
}

/// Takes one away.
pub async fn remove(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Json<String>, Trouble> {
    room.work(move |room| {
        let own = room.own_block(OwnBlockId(id))?;
        room.store.remove_block(own.id)?;
        Ok(Json(tr!("Taken away from your own blocks; quilts that have it keep it")))
    })
    .await
}

/// What the workroom shows while it asks for one.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Take {
    revision: i64,
    about: String,
    #[serde(default)]
    shown: Option<String>,
    #[serde(default)]
    waste: bool,
}

/// Takes one into the quilt.
pub async fn take(
    State(room): State<Arc<Room>>,
    Path((id, own)): Path<(i64, i64)>,
    body: Result<Json<Take>, JsonRejection>,
) -> Result<Json<Repaint>, Trouble> {
    let Json(take) = body?;
    room.work(move |room| {
        let before = room.shown(QuiltId(id), take.revision)?;
        let design = own_design(room, own, &before.quilt)?;
        let key = keyed_block(&before.quilt, &design.name);
        let (after, said) = drawing::saved(room, &before, key, design, take.waste)?;
        Ok(Json(Repaint::new(Some(&before), &after, said, Shown { about: &take.about, parts: take.shown.as_deref() })))
    })
    .await
}
