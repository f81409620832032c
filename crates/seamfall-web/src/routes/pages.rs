//! Pages, and what they are made of.

use crate::address::Path;
use crate::asker;
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view::page;
use crate::{demo_quilts, language, last_or_demo, starter};
use axum::extract::State;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use maud::Markup;
use rust_embed::RustEmbed;
use seamfall_draw::{QuiltStyle, quilt_svg};
use seamfall_store::{QuiltId, Shared};
use std::sync::Arc;
use tr::tr;

#[derive(RustEmbed)]
#[folder = "assets/"]
struct Assets;

/// The quilt worked on last.
pub async fn first(State(room): State<Arc<Room>>) -> Result<Redirect, Trouble> {
    if asker::here().is_some() {
        return Ok(Redirect::to("/quilts"));
    }
    let id = room.work(|room| Ok(last_or_demo(&room.store)?)).await.map_err(Trouble::into_page)?;
    Ok(Redirect::to(&format!("/q/{id}")))
}

/// All quilts.
pub async fn quilts(State(room): State<Arc<Room>>) -> Result<Markup, Trouble> {
    room.work(|room| {
        let lines: Vec<_> = room
            .quilts()?
            .into_iter()
            .map(|Shared { quilt, may, maker }| page::Line {
                id: quilt.id,
                name: name(&quilt.text),
                states: quilt.states,
                may,
                maker,
            })
            .collect();
        let demos = demo_quilts().map(|(key, text)| (key, name(text).unwrap_or_else(|_| key.to_owned())));
        Ok(page::quilts(&lines, &demos))
    })
    .await
    .map_err(Trouble::into_page)
}

fn name(text: &str) -> Result<String, String> {
    seamfall_model::read(text).map(|quilt| quilt.name).map_err(|error| error.to_string())
}

/// The workroom on a quilt.
pub async fn workroom(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Markup, Trouble> {
    room.work(move |room| Ok(page::workroom(&*room.worked(QuiltId(id))?))).await.map_err(Trouble::into_page)
}

/// The colours of a quilt's cloths.
pub async fn cloths(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    let css = room.work(move |room| Ok(room.worked(QuiltId(id))?.painted.css.clone())).await?;
    Ok(([(CONTENT_TYPE, "text/css")], css).into_response())
}

/// Script, style, icon.
pub async fn asset(Path(name): Path<String>) -> Result<Response, Trouble> {
    if name == "words.js" {
        return Ok(([(CONTENT_TYPE, "text/javascript"), (CACHE_CONTROL, "no-cache")], language::script()).into_response());
    }
    let file = Assets::get(&name).ok_or_else(|| Trouble::missing(tr!("there is no such file")))?;
    let kind = match name.rsplit('.').next() {
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        _ => "image/svg+xml",
    };
    Ok(([(CONTENT_TYPE, kind), (CACHE_CONTROL, "no-cache")], file.data.into_owned()).into_response())
}

/// The texts of all scripts.
pub fn scripts() -> Vec<String> {
    let names = Assets::iter().filter(|name| name.ends_with(".js"));
    names.filter_map(|name| Some(String::from_utf8_lossy(&Assets::get(&name)?.data).into_owned())).collect()
}

/// The drawing of a starter block.
pub async fn starter(State(room): State<Arc<Room>>, Path(file): Path<String>) -> Result<Response, Trouble> {
    let drawing = room
        .work(move |_| {
            file.strip_suffix(".svg")
                .and_then(starter::drawing)
                .ok_or_else(|| Trouble::missing(tr!("there is no such starter block")))
        })
        .await?;
    Ok(([(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")], drawing).into_response())
}

/// The drawing of a demo quilt.
pub async fn demo(State(room): State<Arc<Room>>, Path(file): Path<String>) -> Result<Response, Trouble> {
    let drawing = room.work(move |_| {
        let demo = demo_quilts().into_iter().find(|(key, _)| file.strip_suffix(".svg") == Some(key));
        let (_, text) = demo.ok_or_else(|| Trouble::missing(tr!("there is no such demo quilt")))?;
        let quilt = seamfall_model::read(text)?;
        Ok(quilt_svg(&quilt, &seamfall_plan::plan(&quilt), &QuiltStyle::default()))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")], drawing.await?).into_response())
}

/// Anything else.
pub async fn nothing_here() -> Trouble {
    Trouble::missing(tr!("there is nothing at this address")).into_page()
}
