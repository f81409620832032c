//! Changes of mind: versions that are kept, compared and gone back to, and blocks turned in other ways.

use super::edit::commit;
use super::files::Open;
use super::plain_name;
use crate::address::{Path, Query};
use crate::repaint::{Repaint, Shown};
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view::versions::{self, Column};
use crate::wanted::while_wanted;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_draw::{QuiltStyle, quilt_svg};
use seamfall_model::{BlockId, Edit, read, read_ledger};
use seamfall_plan::shuffle::{Manner, shuffled};
use seamfall_plan::{Effort, Memo, costs::costs, plan_while};
use seamfall_store::{QuiltId, Version, VersionId};
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// So many versions stand side by side at most.
const SIDE_BY_SIDE: usize = 3;

/// Letters of the longest name of a version.
const LONGEST_NAME: usize = 80;

type Body<T> = Result<Json<T>, JsonRejection>;

/// Which versions to lay side by side, `0` for the quilt as it stands.
#[derive(Deserialize)]
pub struct Beside {
    #[serde(default)]
    with: String,
}

/// The page of versions.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>, Query(beside): Query<Beside>) -> Result<Markup, Trouble> {
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let kept = room.store.versions(worked.id)?;
        let asked: Vec<i64> = beside.with.split(',').filter_map(|number| number.parse().ok()).collect();
        let known = |number: &i64| *number == 0 || kept.iter().any(|version| version.id.0 == *number);
        let mut chosen: Vec<i64> = asked.into_iter().filter(known).take(SIDE_BY_SIDE).collect();
        if chosen.is_empty() {
            chosen =
                std::iter::once(0).chain(kept.iter().rev().take(SIDE_BY_SIDE - 1).rev().map(|version| version.id.0)).collect();
        }
        let columns = chosen.iter().map(|&number| {
            let version = kept.iter().find(|version| version.id.0 == number);
            let text = version.map_or(&worked.stored.text, |version| &version.text);
            let quilt = read(text)?;
            // What is sewn may not go with every version; what it costs is told for the whole quilt.
            let ledger = read_ledger(&worked.stored.ledger, &quilt).unwrap_or_default();
            let plan = while_wanted(|wanted| plan_while(&quilt, &ledger, Effort::FIRST, &mut Memo::default(), wanted))?;
            Ok(Column { version: number, name: version.map(|version| version.name.clone()), costs: costs(&quilt, &plan) })
        });
        let columns = columns.collect::<Result<Vec<_>, Trouble>>()?;
        Ok(versions::page(&worked, &kept, &columns))
    })
    .await
    .map_err(Trouble::into_page)
}

/// A name that is given.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Named {
    name: String,
}

impl Named {
    fn checked(&self) -> Result<&str, Trouble> {
        let name = self.name.trim();
        if name.is_empty() || name.chars().count() > LONGEST_NAME {
            return Err(Trouble::unusable(tr!("a version needs a name of 1 to {most} letters; type one", most = LONGEST_NAME)));
        }
        Ok(name)
    }
}

/// Keeps the quilt as it stands.
pub async fn keep(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Named>) -> Result<Json<Open>, Trouble> {
    let Json(named) = body?;
    room.work(move |room| {
        room.store.keep_version(QuiltId(id), named.checked()?)?;
        Ok(Open::page(format!("/q/{id}/versions")))
    })
    .await
}

/// Gives a version another name.
pub async fn rename(
    State(room): State<Arc<Room>>,
    Path((id, version)): Path<(i64, i64)>,
    body: Body<Named>,
) -> Result<Json<Open>, Trouble> {
    let Json(named) = body?;
    room.work(move |room| {
        room.store.rename_version(QuiltId(id), VersionId(version), named.checked()?)?;
        Ok(Open::page(format!("/q/{id}/versions")))
    })
    .await
}

/// Lets go of a version.
pub async fn let_go(State(room): State<Arc<Room>>, Path((id, version)): Path<(i64, i64)>) -> Result<Json<Open>, Trouble> {
    room.work(move |room| {
        room.store.drop_version(QuiltId(id), VersionId(version))?;
        Ok(Open::page(format!("/q/{id}/versions")))
    })
    .await
}

/// Going back to a version.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// The state the page shows.
    revision: i64,
    /// Whether what is sewn may be wasted by it.
    #[serde(default)]
    waste: bool,
}

/// Goes back to a version: an edit like any other, which can be undone.
pub async fn take(
    State(room): State<Arc<Room>>,
    Path((id, version)): Path<(i64, i64)>,
    body: Body<Taken>,
) -> Result<Json<Open>, Trouble> {
    let Json(taken) = body?;
    room.work(move |room| {
        let before = room.shown(QuiltId(id), taken.revision)?;
        let version = room.store.version(before.id, VersionId(version))?;
        let quilt = read(&version.text)?;
        commit(room, &before, (&version.text, quilt), &tr!("back to {version}", version = version.name), taken.waste)?;
        Ok(Open::quilt(before.id))
    })
    .await
}

async fn version(room: &Arc<Room>, id: i64, version: i64) -> Result<Version, Trouble> {
    room.work(move |room| Ok(room.store.version(QuiltId(id), VersionId(version))?)).await.map_err(Trouble::into_page)
}

/// A version as a quilt file.
pub async fn file(State(room): State<Arc<Room>>, Path((id, number)): Path<(i64, i64)>) -> Result<Response, Trouble> {
    let version = version(&room, id, number).await?;
    let disposition = format!("attachment; filename=\"{}.quilt.toml\"", plain_name(&version.name, "version"));
    Ok(([(CONTENT_TYPE, "application/toml".to_owned()), (CONTENT_DISPOSITION, disposition)], version.text).into_response())
}

/// The drawing of a version, to stand alone.
pub async fn drawing(State(room): State<Arc<Room>>, Path((id, number)): Path<(i64, i64)>) -> Result<Response, Trouble> {
    let version = version(&room, id, number).await?;
    let svg = room.work(move |room| {
        let quilt = read(&version.text)?;
        let plan = room.plan(QuiltId(id), &quilt, &Default::default(), Effort::FIRST)?;
        Ok(quilt_svg(&quilt, &plan, &QuiltStyle::default()))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], svg.await?).into_response())
}

/// Other turns.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Shuffle {
    /// The state the browser shows.
    revision: i64,
    about: String,
    #[serde(default)]
    shown: Option<String>,
    /// Key of the block whose copies are turned; nothing for all.
    block: String,
    manner: String,
    /// What chance starts from.
    seed: u32,
    #[serde(default)]
    waste: bool,
}

/// Turns blocks in another manner.
pub async fn shuffle(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Shuffle>) -> Result<Json<Repaint>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let before = room.shown(QuiltId(id), asked.revision)?;
        let quilt = &before.quilt;
        let block = match asked.block.as_str() {
            "" => None,
            key => {
                let found = quilt.blocks.iter().position(|block| block.key == key).map(BlockId);
                Some(found.ok_or_else(|| Trouble::missing(tr!("there is no block `{key}` in this quilt", key)))?)
            }
        };
        let (manner, said) = match asked.manner.as_str() {
            "alike" => (Manner::Alike, tr!("all turned alike")),
            "rows" => (Manner::Rows, tr!("every second row turned round")),
            "columns" => (Manner::Columns, tr!("every second column turned round")),
            "checks" => (Manner::Checks, tr!("every second block turned a quarter")),
            "fours" => (Manner::Fours, tr!("blocks turned in fours")),
            "chance" => (Manner::Chance(asked.seed.into()), tr!("blocks turned by chance")),
            other => return Err(Trouble::unusable(tr!("blocks cannot be turned in the manner `{other}`", other))),
        };
        let shown = Shown { about: &asked.about, parts: asked.shown.as_deref() };
        let turns = shuffled(quilt, &before.plan, block, manner);
        if turns.is_empty() {
            return Ok(Json(Repaint::new(Some(&before), &before, tr!("{said}, as they were", said), shown)));
        }
        let (text, turned) = seamfall_model::apply_to(&before.stored.text, quilt, &Edit::TurnSeveral { turns })?;
        let after = commit(room, &before, (&text, turned), &said, asked.waste)?;
        Ok(Json(Repaint::new(Some(&before), &after, said, shown)))
    })
    .await
}
