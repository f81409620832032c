//! Files that come in and go out.

use super::plain_name;
use crate::address::Path;
use crate::asker::signed;
use crate::demo_quilts;
use crate::photos;
use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use seamfall_draw::{Paint, QuiltStyle, edge_template_svg, quilt_drawing_with, template_dxf, template_svg_with, unit_svg};
use seamfall_model::{BlockId, Ledger, read_ledger, write_ledger};
use seamfall_store::{Edited, QuiltId};
use serde::Serialize;
use std::sync::Arc;
use tr::tr;

/// Where to go next.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Open {
    open: String,
}

impl Open {
    pub(super) fn quilt(id: QuiltId) -> Json<Self> {
        Self::page(format!("/q/{id}"))
    }

    pub(super) fn page(open: String) -> Json<Self> {
        Json(Self { open })
    }
}

/// Begins a quilt from a demo quilt.
pub async fn new(State(room): State<Arc<Room>>, Path(demo): Path<String>) -> Result<Json<Open>, Trouble> {
    let text = demo_quilts().into_iter().find(|(key, _)| *key == demo).map(|(_, text)| text);
    let text = text.ok_or_else(|| Trouble::missing(tr!("there is no demo quilt `{demo}`", demo)))?;
    room.work(move |room| Ok(Open::quilt(room.begin(text)?))).await
}

/// Brings in a quilt file.
pub async fn import(State(room): State<Arc<Room>>, body: Result<Bytes, BytesRejection>) -> Result<Json<Open>, Trouble> {
    let bytes = body?;
    room.work(move |room| {
        let text = text_of(&bytes)?;
        seamfall_model::read(text)?;
        Ok(Open::quilt(room.bring_in(text)?))
    })
    .await
}

/// The ledger of what has been sewn, as a file.
pub async fn ledger(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    let worked = room.work(move |room| room.worked(QuiltId(id))).await.map_err(Trouble::into_page)?;
    let ledger = if worked.stored.ledger.is_empty() {
        write_ledger(&Ledger::default(), &worked.quilt)
    } else {
        worked.stored.ledger.clone()
    };
    let disposition = format!("attachment; filename=\"{}.ledger.toml\"", plain_name(&worked.quilt.name, "quilt"));
    Ok(([(CONTENT_TYPE, "application/toml".to_owned()), (CONTENT_DISPOSITION, disposition)], ledger).into_response())
}

/// Brings in the ledger of a quilt, in place of the one it has.
pub async fn bring_ledger(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Json<Open>, Trouble> {
    let bytes = body?;
    room.work(move |room| {
        let text = text_of(&bytes)?;
        let worked = room.worked(QuiltId(id))?;
        read_ledger(text, &worked.quilt)?;
        let edited = Edited { text: &worked.stored.text, ledger: text, what: &signed(&tr!("ledger brought in")) };
        room.store.commit(worked.id, worked.stored.revision, edited)?;
        Ok(Json(Open { open: format!("/q/{id}/sewing") }))
    })
    .await
}

/// The text of a file that was sent.
pub(super) fn text_of(bytes: &[u8]) -> Result<&str, Trouble> {
    std::str::from_utf8(bytes).map_err(|error| {
        let line = bytes[..error.valid_up_to()].split(|&byte| byte == b'\n').count();
        Trouble::unusable(tr!("this is no text: line {line} holds bytes that are not UTF-8; save the file as UTF-8", line))
    })
}

/// Takes a quilt away.
pub async fn remove(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Json<Open>, Trouble> {
    room.work(move |room| {
        room.store.remove(QuiltId(id))?;
        Ok(Json(Open { open: "/quilts".to_owned() }))
    })
    .await
}

/// The quilt file, byte for byte as it stands; a text that cannot be read any more is given out too.
pub async fn export(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    let stored = room.work(move |room| Ok(room.store.get(QuiltId(id))?)).await.map_err(Trouble::into_page)?;
    let name =
        seamfall_model::read(&stored.text).map_or_else(|_| format!("quilt-{id}"), |quilt| plain_name(&quilt.name, "quilt"));
    Ok(download("application/toml", &format!("{name}.quilt.toml"), stored.text.into_bytes()))
}

/// The drawing, to stand alone.
pub async fn drawing(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    let drawn = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let pictures = photos::within(&room.store, worked.id, &worked.quilt)?;
        Ok(quilt_drawing_with(&worked.quilt, &worked.plan, &QuiltStyle::default(), &pictures).svg)
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], drawn.await.map_err(Trouble::into_page)?).into_response())
}

/// The template of a curved edge, full size.
pub async fn edge(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    made(room, id, |worked| {
        let edge = worked.plan.finish.curved.as_ref().ok_or_else(|| Trouble::missing(tr!("this edge has no template")))?;
        Ok(([(CONTENT_TYPE, "image/svg+xml")], edge_template_svg(edge, worked.quilt.measure).svg).into_response())
    })
    .await
}

/// The plan.
pub async fn plan(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    searched(room, id, |worked| {
        Ok(([(CONTENT_TYPE, "application/json")], seamfall_plan::wire::to_json(&worked.quilt, &worked.plan)).into_response())
    })
    .await
}

/// All templates of a block, `KEY.dxf`.
pub async fn all_templates(State(room): State<Arc<Room>>, Path((id, file)): Path<(i64, String)>) -> Result<Response, Trouble> {
    made(room, id, move |worked| {
        let block = file.strip_suffix(".dxf").and_then(|key| block(worked, key)).ok_or_else(|| no_block(&file))?;
        let dxf = template_dxf(&worked.quilt, &worked.plan.drafts[block]);
        Ok(download("image/vnd.dxf", &file, dxf.into_bytes()))
    })
    .await
}

/// One template of a block at full size, `A.svg`.
pub async fn template(
    State(room): State<Arc<Room>>,
    Path((id, key, file)): Path<(i64, String, String)>,
) -> Result<Response, Trouble> {
    let drawn = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let block = block(&worked, &key).ok_or_else(|| no_block(&key))?;
        let draft = &worked.plan.drafts[block];
        let template = file.strip_suffix(".svg").and_then(|letter| draft.templates.iter().position(|each| each.letter == letter));
        let pictures = photos::within(&room.store, worked.id, &worked.quilt)?;
        let drawn = template.and_then(|template| template_svg_with(&worked.quilt, draft, BlockId(block), template, &pictures));
        drawn.ok_or_else(|| Trouble::missing(tr!("block `{key}` has no template `{file}`", key, file)))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], drawn.await.map_err(Trouble::into_page)?.svg).into_response())
}

/// The picture of a unit, `u3.svg`. It is asked for with what it looks like, so that it may be kept.
pub async fn unit(State(room): State<Arc<Room>>, Path((id, file)): Path<(i64, String)>) -> Result<Response, Trouble> {
    made(room, id, move |worked| {
        let unit = file.strip_suffix(".svg").and_then(|name| worked.plan.units.all.iter().find(|unit| unit.name == name));
        let unit = unit.ok_or_else(|| Trouble::missing(tr!("the quilt has no unit `{file}`", file)))?;
        let kept = [(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")];
        Ok((kept, unit_svg(&worked.quilt, unit, Paint::Cloths)).into_response())
    })
    .await
}

pub(super) async fn made(
    room: Arc<Room>,
    id: i64,
    make: impl FnOnce(&Worked) -> Result<Response, Trouble> + Send + 'static,
) -> Result<Response, Trouble> {
    room.work(move |room| make(&*room.worked(QuiltId(id))?)).await.map_err(Trouble::into_page)
}

/// What is made once all cloths are searched.
pub(super) async fn searched(
    room: Arc<Room>,
    id: i64,
    make: impl FnOnce(&Worked) -> Result<Response, Trouble> + Send + 'static,
) -> Result<Response, Trouble> {
    room.work_long(move |room| make(&*room.searched(QuiltId(id))?)).await.map_err(Trouble::into_page)
}

fn block(worked: &Worked, key: &str) -> Option<usize> {
    worked.quilt.blocks.iter().position(|block| block.key == key)
}

fn no_block(key: &str) -> Trouble {
    Trouble::missing(tr!("the quilt has no block `{key}`", key))
}

pub(super) fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    let attached = format!("attachment; filename=\"{name}\"");
    ([(CONTENT_TYPE, kind.to_owned()), (CONTENT_DISPOSITION, attached)], bytes).into_response()
}
