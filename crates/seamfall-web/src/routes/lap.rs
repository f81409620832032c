//! Quilting: the page of a section, its drawing, the way of the needle, and drawings that a maker brings.

use crate::address::{Path, Query};
use crate::designs;
use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use crate::view::player;
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_draw::{needle_way, section_svg};
use seamfall_plan::lap::End;
use seamfall_store::QuiltId;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tr::tr;

/// From which side a section is seen.
#[derive(Deserialize)]
pub struct Side {
    #[serde(default)]
    back: bool,
}

/// The page of a section.
pub async fn section(
    State(room): State<Arc<Room>>,
    Path((id, name)): Path<(i64, String)>,
    Query(side): Query<Side>,
) -> Result<Markup, Trouble> {
    let page = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        Ok(player::section(&worked, numbered(&worked, &name)?, side.back))
    });
    page.await.map_err(Trouble::into_page)
}

/// A needleful on its way.
#[derive(Serialize)]
struct Needleful {
    /// What is said when it is shown.
    told: String,
    stretches: Vec<Stretch>,
}

#[derive(Serialize)]
struct Stretch {
    hidden: bool,
    d: String,
}

/// The drawing of a section, or the way of the needle through it.
pub async fn file(
    State(room): State<Arc<Room>>,
    Path((id, name, file)): Path<(i64, String, String)>,
    Query(side): Query<Side>,
) -> Result<Response, Trouble> {
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let section = numbered(&worked, &name)?;
        match file.as_str() {
            "way.json" => Ok(Json(way(&worked, section, side.back)).into_response()),
            "lines.svg" => {
                let drawing = section_svg(&worked.quilt, &worked.plan, section, side.back).ok_or_else(no_such)?;
                Ok(([(CONTENT_TYPE, "image/svg+xml")], drawing.svg).into_response())
            }
            _ => Err(no_such()),
        }
    })
    .await
}

fn way(worked: &Worked, section: usize, mirrored: bool) -> Vec<Needleful> {
    let pattern = &worked.plan.lap.patterns[worked.plan.lap.sections[section].pattern];
    let ways = needle_way(&worked.plan, section, mirrored).unwrap_or_default();
    let all = pattern.needlefuls.len();
    let end = |end: End| if end == End::Knot { tr!("a knot") } else { tr!("a hanging thread") };
    let told = pattern.needlefuls.iter().enumerate().map(|(number, one)| {
        tr!(
            "Needleful {number} of {all}, on path {path}: begins with {first}, ends with {last}.",
            number = number + 1,
            all,
            path = one.path + 1,
            first = end(one.ends[0]),
            last = end(one.ends[1])
        )
    });
    let stretches =
        |way: Vec<seamfall_draw::DrawnStretch>| way.into_iter().map(|one| Stretch { hidden: one.hidden, d: one.d }).collect();
    told.zip(ways).map(|(told, way)| Needleful { told, stretches: stretches(way) }).collect()
}

fn numbered(worked: &Worked, name: &str) -> Result<usize, Trouble> {
    worked.plan.top.sections.iter().position(|section| section.name == name).ok_or_else(no_such)
}

fn no_such() -> Trouble {
    Trouble::missing(tr!("there is no such section"))
}

/// The drawing of a quilting design.
pub async fn design(State(room): State<Arc<Room>>, Path(file): Path<String>) -> Result<Response, Trouble> {
    let found = room.work(move |_| {
        file.strip_suffix(".svg").and_then(designs::drawing).ok_or_else(|| Trouble::missing(tr!("there is no such design")))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml"), (CACHE_CONTROL, "max-age=3600")], found.await?).into_response())
}

/// The lines of a drawing that a maker brings, as the path data of one path.
pub async fn drawing(State(room): State<Arc<Room>>, body: Bytes) -> Result<Json<String>, Trouble> {
    room.work(move |_| seamfall_photo::drawing::path_data(&body).map(Json).map_err(Trouble::unusable)).await
}
