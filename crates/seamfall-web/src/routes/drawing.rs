//! A block drawn on the screen: the page, what the sheet shows, and the way into the quilt.

use super::edit::{keyed_block, make};
use super::own::own_design;
use crate::address::{Path, Query};
use crate::room::{Room, Worked};
use crate::sheet::{self, ArcSeen, Asked, Sheet};
use crate::trouble::Trouble;
use crate::view::drawing::{Begun, page};
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use maud::Markup;
use seamfall_model::{Drawing, Edit, Quilt, Shape, starter_blocks, write_own_block};
use seamfall_store::QuiltId;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tr::tr;

type Body<T> = Result<Json<T>, JsonRejection>;

/// What a new block begins with: `starter:churn-dash`, `block:lantern`, `own:3`.
#[derive(Deserialize)]
pub struct From {
    from: Option<String>,
}

/// The page for a new block.
pub async fn new(State(room): State<Arc<Room>>, Path(id): Path<i64>, Query(from): Query<From>) -> Result<Markup, Trouble> {
    let made = move |room: &Room| {
        let worked = room.worked(QuiltId(id))?;
        let drawing = match from.from.as_deref() {
            None => empty(&worked.quilt),
            Some(from) => taken(room, &worked.quilt, from)?,
        };
        let own = room.own_blocks()?;
        Ok(page(&worked, &Begun { block: None, drawing, own: &own }))
    };
    room.work(made).await.map_err(Trouble::into_page)
}

/// The page for a block of the quilt.
pub async fn of(State(room): State<Arc<Room>>, Path((id, key)): Path<(i64, String)>) -> Result<Markup, Trouble> {
    let made = move |room: &Room| {
        let worked = room.worked(QuiltId(id))?;
        let drawing = block_of(&worked.quilt, &key)?;
        let own = room.own_blocks()?;
        Ok(page(&worked, &Begun { block: Some(&key), drawing, own: &own }))
    };
    room.work(made).await.map_err(Trouble::into_page)
}

fn block_of(quilt: &Quilt, key: &str) -> Result<Drawing, Trouble> {
    let block = quilt.blocks.iter().find(|block| block.key == key);
    let block =
        block.ok_or_else(|| Trouble::missing(tr!("the quilt has no block `{key}`", key = crate::view::words::short(key))))?;
    Ok(Drawing::of(quilt, block))
}

/// A drawing to go on from.
fn taken(room: &Room, quilt: &Quilt, from: &str) -> Result<Drawing, Trouble> {
    let nothing = || Trouble::missing(tr!("there is no block `{key}` to go on from", key = crate::view::words::short(from)));
    let (kind, key) = from.split_once(':').ok_or_else(nothing)?;
    match kind {
        "starter" => {
            let design = starter_blocks().iter().find(|block| block.key == key).ok_or_else(nothing)?;
            Ok(Drawing::taken(design, seamfall_model::Measure::Inch, quilt))
        }
        "block" => block_of(quilt, key),
        "own" => own_design(room, key.parse().map_err(|_| nothing())?, quilt),
        _ => Err(nothing()),
    }
}

/// An empty square of the size of those in the quilt, on a grid of four.
fn empty(quilt: &Quilt) -> Drawing {
    let side = quilt.setting.places.iter().flatten().find_map(|place| match quilt.blocks[place.block.0].shape {
        Shape::Square { side } => Some(crate::view::words::typed(quilt, side)),
        _ => None,
    });
    let usual = if quilt.measure == seamfall_model::Measure::Inch { "12" } else { "30" };
    Drawing {
        name: tr!("New block"),
        shape: "square".to_owned(),
        size: side.unwrap_or_else(|| usual.to_owned()),
        angle: None,
        grid: Some([4, 4]),
        seams: Vec::new(),
        parts: Vec::new(),
        overlay: Vec::new(),
    }
}

/// What the sheet shows once something is done.
pub async fn sheet(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Asked>) -> Result<Json<Sheet>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| Ok(Json(sheet::shown(&room.worked(QuiltId(id))?.quilt, &asked)?))).await
}

/// Two points that an arc is to be drawn between.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ends {
    drawing: Drawing,
    ends: [f64; 4],
}

/// The arcs that are usual there.
pub async fn arcs(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Ends>) -> Result<Json<Vec<ArcSeen>>, Trouble> {
    let Json(asked) = body?;
    room.work(move |room| Ok(Json(sheet::arcs(&room.worked(QuiltId(id))?.quilt, &asked.drawing, asked.ends)?))).await
}

/// A drawing that is to be saved.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Save {
    /// The state of the quilt that the page knows.
    revision: i64,
    /// The block that is drawn anew; a new one without it.
    block: Option<String>,
    drawing: Drawing,
    /// Whether what is sewn may be wasted by it.
    #[serde(default)]
    waste: bool,
}

/// Where it stands then.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Saved {
    revision: i64,
    block: String,
    said: String,
}

/// Saves a drawing into the quilt.
pub async fn save(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Save>) -> Result<Json<Saved>, Trouble> {
    let Json(save) = body?;
    room.work(move |room| {
        let before = room.shown(QuiltId(id), save.revision)?;
        let block = save.block.unwrap_or_else(|| keyed_block(&before.quilt, &save.drawing.name));
        let name = save.drawing.name.clone();
        let (after, _) = saved(room, &before, block.clone(), save.drawing, save.waste)?;
        let said = tr!("{name} is saved in {quilt}", name, quilt = before.quilt.name);
        Ok(Json(Saved { revision: after.stored.revision.0, block, said }))
    })
    .await
}

/// Draws a block of the quilt.
pub(super) fn saved(
    room: &Room,
    before: &Arc<Worked>,
    block: String,
    drawing: Drawing,
    waste: bool,
) -> Result<(Arc<Worked>, String), Trouble> {
    make(room, before, &Edit::Draw { block, drawing: Box::new(drawing) }, waste)
}

/// A drawing that is to be kept among the maker's own blocks.
#[derive(Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Keep {
    drawing: Drawing,
}

/// Keeps a drawing among the maker's own blocks.
pub async fn keep(State(room): State<Arc<Room>>, Path(id): Path<i64>, body: Body<Keep>) -> Result<Json<String>, Trouble> {
    let Json(Keep { drawing }) = body?;
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let block = drawing.block(&worked.quilt).map_err(sheet::unusable)?;
        super::own::keep(room, &write_own_block(&block, worked.quilt.measure))?;
        Ok(Json(tr!("{block} is kept among your own blocks", block = block.name)))
    })
    .await
}
