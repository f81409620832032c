//! Layouts of cloth: the search for less of it, drawings, the page for the table, the cut list.

use super::edit::keyed;
use super::files::{Open, searched};
use super::plain_name;
use crate::address::Path;
use crate::asker::signed;
use crate::repaint::{Repaint, Shown};
use crate::room::{Room, Worked};
use crate::say::said;
use crate::trouble::Trouble;
use crate::view::{table, words};
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use seamfall_draw::{Paint, cloth_svgs, cut_list_csv};
use seamfall_plan::cut::ToBuy;
use seamfall_store::{Edited, May, QuiltId};
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// Which state the page shows.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Seen {
    revision: i64,
    about: String,
    #[serde(default)]
    shown: Option<String>,
}

/// Looks for less of the first cloth that was not searched yet.
pub async fn search(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Json<Seen>, JsonRejection>,
) -> Result<Json<Repaint>, Trouble> {
    let Json(asked) = body?;
    room.work_long(move |room| {
        let before = room.shown(QuiltId(id), asked.revision)?;
        let after = room.less_cloth(&before, 1)?;
        let left = after.plan.cutting.bought.iter().filter(|bought| bought.is_first).count();
        let said = if left > 0 { String::new() } else { tr!("All cloths are laid out.") };
        Ok(Json(Repaint::new(Some(&before), &after, said, Shown { about: &asked.about, parts: asked.shown.as_deref() })))
    })
    .await
}

/// The page to follow at the table.
pub async fn page(State(room): State<Arc<Room>>, Path((id, key)): Path<(i64, String)>) -> Result<Response, Trouble> {
    let others = room.work(|room| Ok(room.quilts()?)).await.map_err(Trouble::into_page)?;
    // A quilt that cannot be read cannot be given anything.
    let others = others.into_iter().filter(|other| other.may >= Some(May::Edit)).map(|other| other.quilt);
    let others = others.filter_map(|other| Some((other.id, seamfall_model::read(&other.text).ok()?.name)));
    let others: Vec<(QuiltId, String)> = others.collect();
    searched(room, id, move |worked| {
        let bought = bought(worked, &key)?;
        let others = others.into_iter().filter(|(other, _)| other.0 != id).collect::<Vec<_>>();
        Ok(table::page(&format!("/q/{id}/"), &worked.quilt, &worked.plan, bought, &others).into_response())
    })
    .await
}

/// The quilt that remnants are kept for.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Keep {
    into: i64,
}

/// Gives what is left of a cloth to another quilt, as a cloth in hand that comes in these sizes.
pub async fn keep(
    State(room): State<Arc<Room>>,
    Path((id, key)): Path<(i64, String)>,
    body: Result<Json<Keep>, JsonRejection>,
) -> Result<Json<Open>, Trouble> {
    let Json(asked) = body?;
    room.work_long(move |room| {
        room.must(QuiltId(asked.into), May::Edit)?;
        let worked = room.searched(QuiltId(id))?;
        let edit = table::left_over(&worked.quilt, bought(&worked, &key)?)
            .ok_or_else(|| Trouble::unusable(tr!("of this nothing is left over that is worth keeping")))?;
        let into = room.worked(QuiltId(asked.into))?;
        let edit = keyed(edit, &into.quilt);
        let (text, _) = seamfall_model::apply_to(&into.stored.text, &into.quilt, &edit)?;
        let what = signed(&said(&into.quilt, &edit));
        let edited = Edited { text: &text, ledger: &into.stored.ledger, what: &what };
        room.store.commit(into.id, into.stored.revision, edited)?;
        Ok(Open::quilt(into.id))
    })
    .await
}

/// A drawing of strips, `0.svg`. It is asked for with what it looks like, so that it may be kept.
pub async fn drawing(
    State(room): State<Arc<Room>>,
    Path((id, key, file)): Path<(i64, String, String)>,
) -> Result<Response, Trouble> {
    let made = move |worked: &Worked| {
        let number: Option<usize> = file.strip_suffix(".svg").and_then(|number| number.parse().ok());
        let drawn = cloth_svgs(&worked.quilt, &worked.plan, bought(worked, &key)?, Paint::Cloths);
        let drawn = number.and_then(|number| drawn.into_iter().nth(number));
        let drawn = drawn.ok_or_else(|| Trouble::missing(tr!("`{key}` has no drawing `{file}`", key, file)))?;
        Ok(([(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")], drawn.svg).into_response())
    };
    room.work(move |room| made(&*room.worked(QuiltId(id))?)).await.map_err(Trouble::into_page)
}

/// The cut list as a table for other programs.
pub async fn list(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    searched(room, id, |worked| {
        let attached = format!("attachment; filename=\"{}-cut-list.csv\"", plain_name(&worked.quilt.name, "quilt"));
        let kind = [(CONTENT_TYPE, "text/csv; charset=utf-8".to_owned()), (CONTENT_DISPOSITION, attached)];
        Ok((kind, cut_list_csv(&worked.quilt, &worked.plan)).into_response())
    })
    .await
}

fn bought<'a>(worked: &'a Worked, key: &str) -> Result<&'a ToBuy, Trouble> {
    let found = worked.plan.cutting.bought.iter().find(|bought| bought.of.key(&worked.quilt) == key);
    found.ok_or_else(|| Trouble::missing(tr!("no cloth `{key}` is cut for this quilt", key = words::short(key))))
}
