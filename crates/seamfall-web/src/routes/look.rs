//! Photographs of cloths: brought in, shown, and given back.

use super::plain_name;
use crate::address::{Path, Query};
use crate::room::Room;
use crate::trouble::Trouble;
use crate::wanted;
use axum::Json;
use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use seamfall_model::{Edit, NewLook, Scalar};
use seamfall_photo::PhotoError;
use seamfall_store::{NewPhoto, QuiltId};
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// What is said of a photograph that is brought.
#[derive(Deserialize)]
pub struct Brought {
    /// Name of its file.
    #[serde(default)]
    name: String,
    /// How wide the photographed piece of cloth really is.
    width: String,
}

/// Keeps a photograph of a cloth, and answers with the edit that shows it.
pub async fn bring(
    State(room): State<Arc<Room>>,
    Path((id, key)): Path<(i64, String)>,
    Query(brought): Query<Brought>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Json<Edit>, Trouble> {
    let too_large = |error: BytesRejection| match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Trouble::unusable(PhotoError::TooManyBytes(seamfall_photo::MOST_BYTES + 1).to_string()),
        _ => error.into(),
    };
    let file = body.map_err(too_large)?;
    room.work(move |room| {
        let id = QuiltId(id);
        let worked = room.worked(id)?;
        if !worked.quilt.cloths.iter().any(|cloth| cloth.key == key) {
            return Err(Trouble::missing(tr!("the quilt has no cloth `{key}`", key)));
        }
        seamfall_model::parse_length(&brought.width, worked.quilt.measure)
            .map_err(|error| Trouble::unusable(tr!("how wide the photographed piece of cloth really is: {error}", error)))?;
        let wanted = wanted::by();
        let photo =
            seamfall_photo::read_while(&file, &|| wanted.still()).map_err(|error| Trouble::unusable(error.to_string()))?;
        let stem = brought.name.rsplit_once('.').map_or(brought.name.as_str(), |(stem, _)| stem);
        let short: String = plain_name(stem, &key).chars().take(60).collect();
        let name = format!("{short}.jpg");
        let new = NewPhoto { name: &name, hash: &photo.hash, bytes: &photo.jpeg, luminance: photo.luminance };
        let file = room.store.keep_photo(id, new)?;
        // The same name may have been missed before.
        room.forget(id);
        let with = vec![
            ("file".to_owned(), Scalar::Text(file)),
            ("width".to_owned(), Scalar::Text(brought.width)),
            ("pixels".to_owned(), Scalar::Numbers(photo.pixels.map(f64::from).to_vec())),
            ("crop".to_owned(), Scalar::Numbers(vec![0.0; 4])),
        ];
        Ok(Json(Edit::Look { cloth: key, look: Some(NewLook { kind: "photo".to_owned(), with }) }))
    })
    .await
}

/// A photograph in its colours or in greys. Its address says what is seen, so that it may be kept.
pub async fn photo(State(room): State<Arc<Room>>, Path((hash, file)): Path<(String, String)>) -> Result<Response, Trouble> {
    room.work(move |room| {
        let jpeg = room.store.photo(&hash)?.ok_or_else(no_such)?;
        let jpeg = match file.as_str() {
            "colours.jpg" => jpeg,
            "greys.jpg" => seamfall_photo::greys(&jpeg).map_err(|error| Trouble::fault(error.to_string()))?,
            _ => return Err(no_such()),
        };
        let kept = [(CONTENT_TYPE, "image/jpeg"), (CACHE_CONTROL, "private, max-age=31536000, immutable")];
        Ok((kept, jpeg).into_response())
    })
    .await
}

/// A photograph by the name that the quilt file has for it, to lie beside the quilt file.
pub async fn file(State(room): State<Arc<Room>>, Path((id, name)): Path<(i64, String)>) -> Result<Response, Trouble> {
    room.work(move |room| {
        let known = room.store.photos(QuiltId(id))?;
        let photo = known.into_iter().find(|photo| photo.name == name).ok_or_else(no_such)?;
        let jpeg = room.store.photo(&photo.hash)?.ok_or_else(no_such)?;
        // Names from a file may hold what a header must not.
        let plain: String =
            name.chars().map(|c| if c.is_ascii_graphic() && !['"', '\\'].contains(&c) { c } else { '_' }).collect();
        let headers =
            [(CONTENT_TYPE, "image/jpeg".to_owned()), (CONTENT_DISPOSITION, format!("attachment; filename=\"{plain}\""))];
        Ok((headers, jpeg).into_response())
    })
    .await
    .map_err(Trouble::into_page)
}

fn no_such() -> Trouble {
    Trouble::missing(tr!("there is no such photograph"))
}
