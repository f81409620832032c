//! What is sewn: the page to tick it off, and the door to the local network.

use super::numbered;
use crate::address::Path;
use crate::asker::signed;
use crate::offered::{self, Viewer};
use crate::repaint::{Repaint, Shown};
use crate::room::{Room, Worked};
use crate::share::{self, Guest, Role};
use crate::trouble::Trouble;
use crate::view;
use axum::Json;
use axum::extract::rejection::JsonRejection;
use axum::extract::{Extension, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_draw::join_step_svg;
use seamfall_model::LedgerEdit;
use seamfall_store::{QuiltId, Revision};
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use std::time::Duration;
use tr::tr;

/// The page to sew from, on this machine.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(view::sewing::page(&*room.worked(QuiltId(id))?, &view::guild::whose())))
        .await
        .map_err(Trouble::into_page)
}

/// The page to sew from, through the door.
pub async fn shared_page(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Extension(guest): Extension<Guest>,
) -> Result<Markup, Trouble> {
    let page = room.work(move |room| Ok(view::sewing::page(&*room.worked(QuiltId(id))?, &view::share::what(guest.role))));
    page.await.map_err(Trouble::into_page)
}

/// The state that the quilt stands on: another when it has been changed.
pub async fn revision(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Json<i64>, Trouble> {
    room.work(move |room| Ok(Json(room.store.get(QuiltId(id))?.revision.0))).await
}

/// What a sewing page shows from now on.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Sewn {
    revision: i64,
    html: String,
    said: String,
}

fn sewn(worked: &Worked, said: String) -> Sewn {
    Sewn { revision: worked.stored.revision.0, html: offered::to_her(view::sewing::region(worked).into_string()), said }
}

/// All of it, for a page that has lost track.
pub async fn all_sewn(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Json<Sewn>, Trouble> {
    room.work(move |room| Ok(Json(sewn(&*room.worked(QuiltId(id))?, String::new())))).await
}

/// All of it, through the door.
pub async fn shared_sewn(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Extension(guest): Extension<Guest>,
) -> Result<Json<Sewn>, Trouble> {
    let sewn = room.work(move |room| Ok(sewn(&*room.worked(QuiltId(id))?, String::new()))).await?;
    Ok(Json(Sewn { html: Viewer::guest(guest).offered(&sewn.html), ..sewn }))
}

/// An edit of the ledger, as a sewing page sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Tick {
    /// The state that the page shows.
    revision: i64,
    edit: LedgerEdit,
}

/// Ticks something off.
pub async fn tick(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Tick>, JsonRejection>,
) -> Result<Json<Sewn>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let worked = noted(room, QuiltId(id), Revision(asked.revision), &asked.edit)?;
        Ok(Json(sewn(&worked, asked.edit.said())))
    })
    .await
}

/// An edit of the ledger, as the workroom sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Noted {
    /// The state that the browser shows.
    revision: i64,
    /// What is pointed at.
    about: String,
    /// The part of the page that is shown.
    #[serde(default)]
    shown: Option<String>,
    edit: LedgerEdit,
}

/// Notes something in the ledger.
pub async fn note(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Noted>, JsonRejection>,
) -> Result<Json<Repaint>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let before = room.remembered(QuiltId(id), Revision(asked.revision));
        let after = noted(room, QuiltId(id), Revision(asked.revision), &asked.edit)?;
        let shown = Shown { about: &asked.about, parts: asked.shown.as_deref() };
        Ok(Json(Repaint::new(before.as_deref(), &after, asked.edit.said(), shown)))
    })
    .await
}

/// Writes an edit into the ledger as it stands: what others have ticked off since `seen` stays.
fn noted(room: &Room, id: QuiltId, seen: Revision, edit: &LedgerEdit) -> Result<Arc<Worked>, Trouble> {
    let stored = room.store.edit_ledger(id, seen, |now| -> Result<_, Trouble> {
        let quilt = seamfall_model::read(&now.text)?;
        Ok((seamfall_model::apply_ledger(&now.ledger, &quilt, edit)?, signed(&edit.said())))
    })?;
    room.work_out(id, stored)
}

/// The drawing of a join.
pub async fn join(State(room): State<Arc<Room>>, Path((id, file)): Path<(i64, String)>) -> Result<Response, Trouble> {
    let drawing = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let drawing = numbered(&file).and_then(|number| join_step_svg(&worked.quilt, &worked.plan, number));
        drawing.ok_or_else(|| Trouble::missing(tr!("there is no such join")))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], drawing.await?).into_response())
}

/// The page that gives out keys and takes them back.
pub async fn sharing(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    let page = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        Ok(view::share::page(&worked, &room.door.invitations(QuiltId(id))))
    });
    page.await.map_err(Trouble::into_page)
}

/// What is done with keys.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Share {
    /// One is given out.
    Give {
        /// What it allows.
        role: Role,
        /// For so many hours, one of [`share::HOURS`].
        hours: u8,
    },
    /// One is taken back.
    TakeBack {
        /// Its number.
        number: u32,
    },
    /// All are.
    Close,
}

/// Gives out a key, or takes one back.
pub async fn share(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Share>, JsonRejection>,
) -> Result<Json<usize>, Trouble> {
    let Json(asked) = body?;
    match asked {
        Share::Give { role, hours } if share::HOURS.contains(&hours) => {
            room.store.get(QuiltId(id))?;
            share::give(&room, QuiltId(id), role, Duration::from_secs(60 * 60 * u64::from(hours))).await?;
        }
        Share::Give { .. } => return Err(Trouble::unusable(tr!("a key is for 1, 4 or 12 hours"))),
        Share::TakeBack { number } => room.door.take_back(number),
        Share::Close => room.door.close(),
    }
    Ok(Json(room.door.invitations(QuiltId(id)).len()))
}
