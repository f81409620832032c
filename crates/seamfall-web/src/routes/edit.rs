//! Edits, undo and redo, each answered with what has to be painted anew.

use super::plain_name;
use crate::address::{Path, Query};
use crate::asker::signed;
use crate::repaint::{Repaint, Shown};
use crate::room::{Room, Worked};
use crate::say::{followed, said};
use crate::seams;
use crate::sewn;
use crate::trouble::Trouble;
use crate::view::words::short;
use crate::view::{about, find};
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use maud::{Markup, PreEscaped};
use seamfall_geom::Point;
use seamfall_model::{Edit, Quilt};
use seamfall_store::{Edited, QuiltId, Revision, Stored};
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// An edit, as the script sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// The state the browser shows.
    revision: i64,
    /// What is pointed at: its panel comes with the answer.
    about: String,
    /// The part of the page that is shown.
    #[serde(default)]
    shown: Option<String>,
    /// The edit.
    edit: Edit,
    /// Whether what is sewn may be wasted by it.
    #[serde(default)]
    waste: bool,
}

/// Undo or redo, as the script sends it.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// The state the browser shows.
    revision: i64,
    /// What is pointed at.
    about: String,
    /// The part of the page that is shown.
    #[serde(default)]
    shown: Option<String>,
}

/// What the browser shows.
#[derive(Deserialize)]
pub struct Seen {
    about: String,
    #[serde(default)]
    shown: Option<String>,
}

type Body<T> = Result<Json<T>, JsonRejection>;

/// Makes an edit.
pub async fn edit(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Change>) -> Result<Json<Repaint>, Trouble> {
    let Json(change) = body?;
    let id = QuiltId(id);
    room.work(move |room| {
        let before = room.shown(id, change.revision)?;
        let shown = Shown { about: &change.about, parts: change.shown.as_deref() };
        let edit = keyed(change.edit, &before.quilt);
        let (after, what) = make(room, &before, &edit, change.waste)?;
        Ok(Json(Repaint::new(Some(&before), &after, what, shown)))
    })
    .await
}

/// Records another text of a quilt, as it was read, and works it out.
pub(super) fn commit(
    room: &Room,
    before: &Worked,
    (text, quilt): (&str, Quilt),
    what: &str,
    waste: bool,
) -> Result<Arc<Worked>, Trouble> {
    let ledger = sewn::ledger_after(room, before, &quilt, waste)?;
    room.commit(before, Edited { text, ledger: &ledger, what: &signed(what) }, quilt)
}

/// Makes an edit and says what it did; the quilt as it was where there is nothing to change.
pub(super) fn make(room: &Room, before: &Arc<Worked>, edit: &Edit, waste: bool) -> Result<(Arc<Worked>, String), Trouble> {
    let (text, quilt) = seamfall_model::apply_to(&before.stored.text, &before.quilt, edit)?;
    let what = said(&before.quilt, edit);
    if text == before.stored.text {
        return Ok((Arc::clone(before), tr!("nothing to change")));
    }
    let after = commit(room, before, (&text, quilt), &what, waste)?;
    let what = what + &followed(before, &after, edit);
    Ok((after, what))
}

/// Goes one edit back.
pub async fn undo(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Step>) -> Result<Json<Repaint>, Trouble> {
    let Json(step) = body?;
    room.work(move |room| {
        let stored = room.store.undo(QuiltId(id))?;
        let what = tr!("undone: {what}", what = stored.redo.as_deref().unwrap_or_default());
        stepped(room, QuiltId(id), stored, &step, what)
    })
    .await
}

/// Goes one edit forth again.
pub async fn redo(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Step>) -> Result<Json<Repaint>, Trouble> {
    let Json(step) = body?;
    room.work(move |room| {
        let stored = room.store.redo(QuiltId(id))?;
        let what = tr!("done again: {what}", what = stored.undo.as_deref().unwrap_or_default());
        stepped(room, QuiltId(id), stored, &step, what)
    })
    .await
}

fn stepped(room: &Room, id: QuiltId, stored: Stored, step: &Step, what: String) -> Result<Json<Repaint>, Trouble> {
    let before = room.remembered(id, Revision(step.revision));
    let after = room.work_out(id, stored)?;
    Ok(Json(Repaint::new(before.as_deref(), &after, what, Shown { about: &step.about, parts: step.shown.as_deref() })))
}

/// All of it, for a browser that has lost track.
pub async fn state(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(seen): Query<Seen>,
) -> Result<Json<Repaint>, Trouble> {
    room.work(move |room| {
        let shown = Shown { about: &seen.about, parts: seen.shown.as_deref() };
        Ok(Json(Repaint::new(None, &*room.worked(QuiltId(id))?, String::new(), shown)))
    })
    .await
}

/// The panel about an element of the drawing.
pub async fn about(State(room): State<Arc<Room>>, Path((id, element)): Path<(i64, String)>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(about::region(&*room.worked(QuiltId(id))?, &element))).await
}

/// A part of the page.
pub async fn region(State(room): State<Arc<Room>>, Path((id, name)): Path<(i64, String)>) -> Result<Markup, Trouble> {
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let html = worked.region(&name).ok_or_else(|| Trouble::missing(tr!("there is no such part of the page")))?;
        Ok(PreEscaped(html.to_owned()))
    })
    .await
}

/// The elements of a layer of the drawing, as they are now.
pub async fn layer(State(room): State<Arc<Room>>, Path((id, name)): Path<(i64, String)>) -> Result<Json<Vec<String>>, Trouble> {
    room.work(move |room| Ok(Json(room.worked(QuiltId(id))?.layer(&name).into_iter().map(str::to_owned).collect()))).await
}

/// Words that are looked for.
#[derive(Deserialize)]
pub struct Words {
    #[serde(rename = "for")]
    words: String,
}

/// What is found in the quilt for some words.
pub async fn find(State(room): State<Arc<Room>>, Path(id): Path<i64>, Query(asked): Query<Words>) -> Result<Markup, Trouble> {
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        Ok(find::found(&format!("/q/{id}/"), &worked.quilt, &worked.plan, &short(&asked.words)))
    })
    .await
}

/// A point of the drawing, and how far around it to look.
#[derive(Deserialize)]
pub struct Near {
    x: f64,
    y: f64,
    reach: f64,
}

/// The seam nearest to a point of the drawing.
pub async fn seam(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(near): Query<Near>,
) -> Result<Json<Option<String>>, Trouble> {
    room.work(move |room| {
        let plan = &room.worked(QuiltId(id))?.plan;
        // The drawing's y runs down from the top.
        let at = Point::new(near.x, plan.top.size.y - near.y);
        Ok(Json(seams::nearest(plan, at, near.reach).map(|seam| seams::name(plan, seam))))
    })
    .await
}

/// What is added without a key gets one made of its name.
pub(super) fn keyed(mut edit: Edit, quilt: &Quilt) -> Edit {
    let (key, name, taken): (_, _, Vec<&str>) = match &mut edit {
        Edit::AddCloth { key, name, .. } => (key, name.clone(), quilt.cloths.iter().map(|cloth| cloth.key.as_str()).collect()),
        Edit::AddStarter { key, starter } => {
            (key, starter.clone(), quilt.blocks.iter().map(|block| block.key.as_str()).collect())
        }
        Edit::AddFrame { key, .. } => (key, "frame".to_owned(), quilt.frames.iter().map(|frame| frame.key.as_str()).collect()),
        _ => return edit,
    };
    if key.is_empty() {
        *key = free_key(&plain_name(&name, "new"), &taken);
    }
    edit
}

/// A key for a new block of this name.
pub(super) fn keyed_block(quilt: &Quilt, name: &str) -> String {
    let taken: Vec<&str> = quilt.blocks.iter().map(|block| block.key.as_str()).collect();
    free_key(&plain_name(name, "block"), &taken)
}

/// A name as a key, with a number behind it where it is taken; short enough to be one.
fn free_key(plain: &str, taken: &[&str]) -> String {
    let start = plain.chars().take(36).collect::<String>();
    let start = start.trim_matches('-');
    let more = (2..).map(|number| format!("{start}-{number}"));
    std::iter::once(start.to_owned()).chain(more).find(|each| !taken.contains(&each.as_str())).expect("numbers do not end")
}
