//! A quilt begun from a bed and a block.

use super::files::Open;
use crate::room::Room;
use crate::trouble::Trouble;
use crate::view::begin as view;
use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use maud::Markup;
use seamfall_model::Measure;
use seamfall_plan::begin::{Beginning, PALETTES, begin};
use serde::Deserialize;
use std::sync::Arc;

/// The page to choose on.
pub async fn page() -> Markup {
    view::page()
}

/// What was chosen.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chosen {
    name: String,
    /// `inch` or `cm`.
    measure: String,
    /// Name of a standard bed; empty for none.
    bed: String,
    block: String,
    palette: String,
}

/// Begins it.
pub async fn create(State(room): State<Arc<Room>>, body: Result<Json<Chosen>, JsonRejection>) -> Result<Json<Open>, Trouble> {
    let Json(chosen) = body?;
    room.work(move |room| {
        let palette = PALETTES.iter().find(|palette| palette.name == chosen.palette);
        let beginning = Beginning {
            name: if chosen.name.trim().is_empty() { "New quilt" } else { chosen.name.trim() },
            measure: if chosen.measure == "cm" { Measure::Centimetre } else { Measure::Inch },
            bed: (!chosen.bed.is_empty()).then_some(chosen.bed.as_str()),
            block: &chosen.block,
            cloths: palette.ok_or_else(|| {
                Trouble::unusable(format!("there are no cloths `{}`; choose some of those shown", chosen.palette))
            })?,
        };
        let text = begin(&beginning).map_err(Trouble::unusable)?;
        Ok(Open::quilt(room.store.create(&text, "")?))
    })
    .await
}
