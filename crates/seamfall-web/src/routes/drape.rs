//! The quilt on its bed: the page, and the cloth piece by piece while it settles.

use crate::address::Path;
use crate::drape::{Frame, Run};
use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use crate::view::drape;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use maud::Markup;
use seamfall_store::QuiltId;
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// The page.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    let made = |worked: &Worked| drape::page(&format!("/q/{id}/"), worked.stored.revision, &worked.quilt, &worked.plan);
    let worked = room.work(move |room| room.worked(QuiltId(id))).await.map_err(Trouble::into_page)?;
    Ok(made(&worked))
}

/// Which frame is asked for.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Next {
    revision: i64,
    /// The run that is gone on with; none begins one.
    run: Option<u64>,
    /// Points of the mesh that the page has.
    has: usize,
}

/// The next frame; nothing where the quilt has changed since, so that there is another cloth to drape.
pub async fn frame(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Next>, JsonRejection>,
) -> Result<Json<Option<Frame>>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        if worked.stored.revision.0 != asked.revision {
            return Ok(Json(None));
        }
        let mut run = match asked.run {
            Some(number) => room.runs.take(number, worked.id).ok_or_else(left)?,
            None => begun(room, &worked)?,
        };
        let mut frame = run.frame(asked.has);
        if frame.is_last() {
            frame.html = Some(drape::result(&worked.quilt, run.drape()).into_string());
        } else {
            room.runs.keep(run);
        }
        Ok(Json(Some(frame)))
    })
    .await
}

fn left() -> Trouble {
    Trouble::unusable(tr!("this cloth was put away, since others were draped meanwhile; drape it again"))
}

fn begun(room: &Room, worked: &Worked) -> Result<Run, Trouble> {
    let run = Run::new(room.runs.number(), worked.id, &worked.quilt, &worked.plan);
    let run = run.ok_or_else(|| Trouble::unusable(tr!("there is no bed to lay the quilt on; choose one first")))?;
    run.map_err(|error| Trouble::unusable(error.to_string()))
}
