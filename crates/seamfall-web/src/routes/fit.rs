//! The bed: settings that reach its size, searched when they are asked for, and the template of a changed corner.

use super::numbered;
use crate::address::{Path, Query};
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view;
use axum::extract::State;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use maud::Markup;
use seamfall_draw::corner_template_svg;
use seamfall_model::parse_length;
use seamfall_plan::answer::{Impossible, Ruler};
use seamfall_plan::fit::{Parity, Standing, search, wishes};
use seamfall_store::QuiltId;
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// What is wished; lengths as people type them.
#[derive(Deserialize)]
pub struct Wished {
    /// `straight`, `on-point`, or nothing for either.
    standing: String,
    /// `odd`, `even`, or nothing.
    parity: String,
    from: String,
    to: String,
    /// `whole` or `half`.
    steps: String,
    within: String,
}

/// Settings that reach the size the bed wants.
pub async fn settings(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(wished): Query<Wished>,
) -> Result<Markup, Trouble> {
    room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let quilt = &worked.quilt;
        let fit = worked.plan.fit.as_ref().ok_or_else(|| Trouble::missing(tr!("the quilt has no bed; choose one first")))?;
        let (mut all, base) = wishes(quilt, fit.wanted.to_piece()).map_err(|none| cannot(&none))?;
        let length = |typed: &str| -> Result<f64, Trouble> {
            parse_length(typed, quilt.measure).map(|length| length.value()).map_err(|error| Trouble::unusable(error.to_string()))
        };
        match wished.standing.as_str() {
            "straight" => all.standings.retain(|one| *one == Standing::Straight),
            "on-point" => all.standings.retain(|one| *one == Standing::OnPoint),
            _ => {}
        }
        all.parity = match wished.parity.as_str() {
            "odd" => Parity::Odd,
            "even" => Parity::Even,
            _ => Parity::Any,
        };
        all.tolerance = length(&wished.within)?;
        if wished.steps == "whole" {
            all.in_whole_steps(quilt.measure);
        }
        // Blocks that cannot change their size stay as they are.
        if all.blocks.count() > 1 {
            (all.blocks.from, all.blocks.to) = (length(&wished.from)?, length(&wished.to)?);
        }
        let found = search(&all, &base, Ruler::of(quilt)).map_err(|none| cannot(&none))?;
        Ok(view::fit::found(quilt, &found))
    })
    .await
}

fn cannot(none: &Impossible) -> Trouble {
    Trouble::unusable(format!("{}; {}", none.reason, none.nearest))
}

/// The template of a changed corner, full size.
pub async fn corner(State(room): State<Arc<Room>>, Path((id, file)): Path<(i64, String)>) -> Result<Response, Trouble> {
    let drawing = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let drawing = numbered(&file).and_then(|number| corner_template_svg(&worked.quilt, &worked.plan.top, number));
        drawing.ok_or_else(|| Trouble::missing(tr!("there is no such corner")))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], drawing.await?.svg).into_response())
}
