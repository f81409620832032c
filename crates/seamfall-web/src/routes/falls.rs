//! What takes longer than an edit: whether turning blocks helps, and the search for a proof. Both go step by step, so that the page
//! shows how far it is and can stop.

use crate::address::{Path, Query};
use crate::offered;
use crate::repaint::{Repaint, Shown};
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view::fall;
use crate::wanted::while_wanted;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use seamfall_plan::fall::Effort;
use seamfall_plan::turning::tried_while;
use seamfall_store::QuiltId;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The most that a proof is searched for, in times of what a plan takes by itself.
const MOST: u32 = 64;

/// Which step of trying turns.
#[derive(Deserialize)]
pub struct Step {
    revision: i64,
    step: usize,
}

/// One step of trying turns.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Turned {
    /// How many steps there are; none are left when it is not more than the step asked for.
    steps: usize,
    /// Stacks left by the best turn of this step, if any leaves fewer than now.
    stacks: Option<usize>,
    /// That turn, in words and with its button.
    html: String,
}

/// Tries some turns.
pub async fn turning(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(asked): Query<Step>,
) -> Result<Json<Turned>, Trouble> {
    room.work_long(move |room| {
        let worked = room.shown(QuiltId(id), asked.revision)?;
        let tried = while_wanted(|wanted| tried_while(&worked.quilt, &worked.plan, asked.step, wanted))?;
        let Some(tried) = tried else {
            return Ok(Json(Turned { steps: asked.step, stacks: None, html: String::new() }));
        };
        let html = tried.best.as_ref().map(|turning| offered::to_her(fall::turning(&worked.plan, turning).into_string()));
        Ok(Json(Turned { steps: tried.steps, stacks: tried.best.map(|turning| turning.stacks), html: html.unwrap_or_default() }))
    })
    .await
}

/// For how long to search.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Longer {
    revision: i64,
    about: String,
    #[serde(default)]
    shown: Option<String>,
    effort: u32,
}

/// Works the quilt out again, the proof searched for longer.
pub async fn search(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Longer>, JsonRejection>,
) -> Result<Json<Repaint>, Trouble> {
    let Json(asked) = body?;
    room.work_long(move |room| {
        let before = room.shown(QuiltId(id), asked.revision)?;
        let after = room.search_on(&before, Effort(asked.effort.clamp(1, MOST)))?;
        let said = fall::proof(after.plan.falls.count());
        Ok(Json(Repaint::new(Some(&before), &after, said, Shown { about: &asked.about, parts: asked.shown.as_deref() })))
    })
    .await
}
