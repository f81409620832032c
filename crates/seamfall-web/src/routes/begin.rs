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
use tr::tr;

/// The page to choose on.
pub async fn page() -> Markup {
    view::page()
}

/// What was chosen.
#[derive(Deserialize, schemars::JsonSchema)]
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
        let name = match chosen.name.trim() {
            "" => tr!("New quilt"),
            name => name.to_owned(),
        };
        let beginning = Beginning {
            name: &name,
            measure: if chosen.measure == "cm" { Measure::Centimetre } else { Measure::Inch },
            bed: (!chosen.bed.is_empty()).then_some(chosen.bed.as_str()),
            block: &chosen.block,
            cloths: palette.ok_or_else(|| {
                Trouble::unusable(tr!("there are no cloths `{palette}`; choose some of those shown", palette = chosen.palette))
            })?,
        };
        let text = begin(&beginning).map_err(Trouble::unusable)?;
        Ok(Open::quilt(room.begin(&text)?))
    })
    .await
}
