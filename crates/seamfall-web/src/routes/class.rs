//! A class that makes the quilt: its page, its edits with undo of their own, its file, and what is printed.

use super::plain_name;
use super::print::unset;
use crate::address::{Path, Query};
use crate::asker::signed;
use crate::class::{WorkedClass, read};
use crate::offered;
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view::class as view;
use crate::wanted;
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::{BytesRejection, JsonRejection};
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_book::Paper;
use seamfall_class::ClassPlan;
use seamfall_draw::{Paint, cloth_svgs};
use seamfall_model::class::{Class, Day};
use seamfall_model::{ClassEdit, apply_class, new_class};
use seamfall_plan::Plan;
use seamfall_store::{QuiltId, Revision, StoreError};
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tr::tr;

/// What the page shows from now on.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Shown {
    revision: i64,
    html: String,
    said: String,
}

fn shown(class: &WorkedClass, said: impl Into<String>) -> Json<Shown> {
    Json(Shown { revision: class.stored.revision.0, html: offered::to_her(view::region(class).into_string()), said: said.into() })
}

/// The page.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(view::page(&*room.class(QuiltId(id))?))).await.map_err(Trouble::into_page)
}

/// The class as it stands, for a page that has lost track.
pub async fn state(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Json<Shown>, Trouble> {
    room.work(move |room| Ok(shown(&*room.class(QuiltId(id))?, ""))).await
}

/// An edit, as the page sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// The state that the page shows.
    revision: i64,
    edit: ClassEdit,
}

type Body<T> = Result<Json<T>, JsonRejection>;

/// Changes the class.
pub async fn edit(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Change>) -> Result<Json<Shown>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let before = seen(room, id, asked.revision)?;
        let (text, class) = read(&before.worked, &before.stored.text)?;
        let said = view::said(&before.worked.quilt, &class, &asked.edit);
        let text = apply_class(&text, &before.worked.quilt, &keyed(asked.edit))?;
        room.store.commit_class(QuiltId(id), before.stored.revision, &text, &signed(&said))?;
        Ok(shown(&*room.class(QuiltId(id))?, said))
    })
    .await
}

/// A cloth that is added without a key gets one made of its name.
fn keyed(edit: ClassEdit) -> ClassEdit {
    match edit {
        ClassEdit::AddCloth { key, name, colour } if key.is_empty() => {
            ClassEdit::AddCloth { key: plain_name(&name, "cloth"), name, colour }
        }
        edit => edit,
    }
}

/// The class, if it still stands as it is shown.
fn seen(room: &Room, id: i64, revision: i64) -> Result<Arc<WorkedClass>, Trouble> {
    let class = room.class(QuiltId(id))?;
    if class.stored.revision.0 == revision { Ok(class) } else { Err(StoreError::ChangedElsewhere.into()) }
}

/// What a class begins with.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Begin {
    revision: i64,
    name: String,
    students: usize,
    last_day: String,
}

/// Begins a class.
pub async fn begin(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Begin>) -> Result<Json<Shown>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let before = seen(room, id, asked.revision)?;
        let quilt = &before.worked.quilt;
        let day = day(&asked.last_day).ok_or_else(|| Trouble::unusable(tr!("choose the day on which all quilts are done")))?;
        let most = seamfall_model::limits::STUDENTS;
        if !(1..=most).contains(&asked.students) {
            return Err(Trouble::unusable(tr!(
                "a class has 1 to {most} students; write how many, more can be added later",
                most
            )));
        }
        let text = new_class(quilt, asked.name.trim(), day, asked.students);
        read(&before.worked, &text)?;
        room.store.commit_class(QuiltId(id), before.stored.revision, &text, &signed(&tr!("class begun")))?;
        Ok(shown(&*room.class(QuiltId(id))?, tr!("The class is begun.")))
    })
    .await
}

/// A day as a browser gives it; whether there is such a day is told by the class.
fn day(text: &str) -> Option<Day> {
    let mut parts = text.split('-');
    let day = Day { year: parts.next()?.parse().ok()?, month: parts.next()?.parse().ok()?, day: parts.next()?.parse().ok()? };
    parts.next().is_none().then_some(day)
}

/// Undo or redo, as the page sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Step {
    revision: i64,
}

/// Goes one edit of the class back.
pub async fn undo(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Step>) -> Result<Json<Shown>, Trouble> {
    step(room, id, body, false).await
}

/// Goes one edit of the class forth again.
pub async fn redo(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Step>) -> Result<Json<Shown>, Trouble> {
    step(room, id, body, true).await
}

async fn step(room: Arc<Room>, id: i64, body: Body<Step>, forth: bool) -> Result<Json<Shown>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| {
        let before = room.store.class(QuiltId(id))?;
        if before.revision != Revision(asked.revision) {
            return Err(StoreError::ChangedElsewhere.into());
        }
        let said = if forth {
            room.store.redo_class(QuiltId(id))?;
            tr!("Done again: {what}.", what = before.redo.unwrap_or_default())
        } else {
            room.store.undo_class(QuiltId(id))?;
            tr!("Taken back: {what}.", what = before.undo.unwrap_or_default())
        };
        Ok(shown(&*room.class(QuiltId(id))?, said))
    })
    .await
}

/// The class as a file, byte for byte as it stands.
pub async fn export(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    room.work(move |room| {
        let class = room.class(QuiltId(id))?;
        if class.stored.text.is_empty() {
            return Err(Trouble::missing(tr!("this quilt has no class yet")));
        }
        let attached = format!("attachment; filename=\"{}.class.toml\"", plain_name(&class.worked.quilt.name, "quilt"));
        let kind = [(CONTENT_TYPE, "application/toml".to_owned()), (CONTENT_DISPOSITION, attached)];
        Ok((kind, class.stored.text.clone()).into_response())
    })
    .await
    .map_err(Trouble::into_page)
}

/// Where to go next.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Open {
    open: String,
}

/// Brings a class in, in place of the one there is; that can be taken back.
pub async fn import(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Json<Open>, Trouble> {
    let bytes = body?;
    room.work(move |room| {
        let text = std::str::from_utf8(&bytes).map_err(|_| Trouble::unusable(tr!("this is no text; save the file as UTF-8")))?;
        let before = room.class(QuiltId(id))?;
        let (text, _) = read(&before.worked, text)?;
        room.store.commit_class(QuiltId(id), before.stored.revision, &text, &signed(&tr!("class brought in")))?;
        Ok(Json(Open { open: format!("/q/{id}/class") }))
    })
    .await
}

/// Which paper.
#[derive(Deserialize)]
pub struct OnPaper {
    #[serde(default)]
    paper: String,
}

/// What is printed: dates, handouts, strips, kits.
pub async fn handouts(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(on): Query<OnPaper>,
) -> Result<Response, Trouble> {
    room.work_long(move |room| {
        let class = room.class(QuiltId(id))?;
        let (of, plan) = planned(&class)?;
        let paper = if on.paper == "a4" { Paper::A4 } else { Paper::Letter };
        let wanted = wanted::by();
        let pdf = seamfall_book::class_pdf_while(&class.worked.quilt, of, plan, paper, &|| wanted.still()).map_err(unset)?;
        let attached = format!("inline; filename=\"{}-class.pdf\"", plain_name(&class.worked.quilt.name, "quilt"));
        Ok(([(CONTENT_TYPE, "application/pdf".to_owned()), (CONTENT_DISPOSITION, attached)], pdf).into_response())
    })
    .await
    .map_err(Trouble::into_page)
}

fn planned(class: &WorkedClass) -> Result<(&Class, &ClassPlan), Trouble> {
    match class.planned.as_deref() {
        Some(Ok((class, plan))) => Ok((class, plan)),
        Some(Err(error)) => Err(error.clone().into()),
        None => Err(Trouble::missing(tr!("this quilt has no class yet"))),
    }
}

/// A drawing of strips that are cut for all, `0.svg`. It is asked for with the state it shows, so that it may be kept.
pub async fn drawing(
    State(room): State<Arc<Room>>,
    Path((id, key, file)): Path<(i64, String, String)>,
) -> Result<Response, Trouble> {
    room.work(move |room| {
        let class = room.class(QuiltId(id))?;
        let (_, plan) = planned(&class)?;
        let pool = &plan.pool;
        let bought = pool.cutting.bought.iter().find(|bought| bought.of.key(&pool.quilt) == key);
        let bought = bought.ok_or_else(|| Trouble::missing(tr!("this cloth is not bought together")))?;
        let number: Option<usize> = file.strip_suffix(".svg").and_then(|number| number.parse().ok());
        let drawn = Plan { cutting: pool.cutting.clone(), ..plan.teachers().plan.clone() };
        let drawn = cloth_svgs(&pool.quilt, &drawn, bought, Paint::Cloths);
        let drawn = number.and_then(|number| drawn.into_iter().nth(number));
        let drawn = drawn.ok_or_else(|| Trouble::missing(tr!("there is no such drawing")))?;
        Ok(([(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")], drawn.svg).into_response())
    })
    .await
    .map_err(Trouble::into_page)
}
