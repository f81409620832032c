//! What can be had on paper, as a picture, and for cutting machines: the page to choose on, the book, pictures, mats.

use super::files::{download, made, searched};
use super::plain_name;
use crate::address::{Path, Query};
use crate::photos;
use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use crate::view::print as view;
use crate::wanted;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use seamfall_book::{BookError, BookOptions, Ink, Marking, Paper, TypeSize, png};
use seamfall_draw::{QuiltStyle, mat_dxf, mat_svg, quilt_drawing_with};
use seamfall_model::{Measure, Quilt, parse_length};
use seamfall_plan::mats::{Mat, mats};
use seamfall_store::QuiltId;
use serde::Deserialize;
use std::sync::Arc;
use tr::tr;

/// The page to choose on.
pub async fn page(State(room): State<Arc<Room>>, Path(id): Path<i64>) -> Result<Response, Trouble> {
    made(room, id, |worked| Ok(view::page(worked).into_response())).await
}

/// How the book is wanted; what is not said is as usual.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wanted {
    paper: Option<String>,
    ink: Option<String>,
    #[serde(rename = "type")]
    size: Option<String>,
    marking: Option<String>,
}

/// One of some words, the first where none is said.
fn one_of<T: Copy>(what: &str, said: Option<&str>, words: &[(&str, T)]) -> Result<T, Trouble> {
    let Some(said) = said else { return Ok(words[0].1) };
    let found = words.iter().find(|(word, _)| *word == said).map(|(_, is)| *is);
    found.ok_or_else(|| {
        let known: Vec<String> = words.iter().map(|(word, _)| format!("`{word}`")).collect();
        Trouble::unusable(tr!(
            "there is no {what} `{said}`; ask for {known}",
            what,
            said,
            known = known.join(&format!(" {} ", tr!("or")))
        ))
        .into_page()
    })
}

/// The book.
pub async fn book(State(room): State<Arc<Room>>, Path(id): Path<i64>, Query(wanted): Query<Wanted>) -> Result<Response, Trouble> {
    let said = |one: &Option<String>| one.clone();
    let options = BookOptions {
        date: None,
        paper: one_of(&tr!("paper"), said(&wanted.paper).as_deref(), &[("letter", Paper::Letter), ("a4", Paper::A4)])?,
        ink: one_of(&tr!("ink"), said(&wanted.ink).as_deref(), &[("colour", Ink::Colour), ("black", Ink::Black)])?,
        size: one_of(&tr!("type"), said(&wanted.size).as_deref(), &[("usual", TypeSize::Usual), ("large", TypeSize::Large)])?,
        marking: one_of(
            &tr!("marking"),
            said(&wanted.marking).as_deref(),
            &[("front", Marking::Front), ("none", Marking::None), ("both", Marking::Both)],
        )?,
    };
    searched(room, id, move |worked| {
        let wanted = wanted::by();
        let pdf = seamfall_book::book_while(&worked.quilt, &worked.plan, &options, &|| wanted.still()).map_err(unset)?;
        let shown = format!("inline; filename=\"{}.pdf\"", plain_name(&worked.quilt.name, "quilt"));
        Ok(([(CONTENT_TYPE, "application/pdf".to_owned()), (CONTENT_DISPOSITION, shown)], pdf).into_response())
    })
    .await
}

/// Why there is no book.
pub(super) fn unset(error: BookError) -> Trouble {
    if error == BookError::NotWanted { wanted::gone() } else { Trouble::fault(error.to_string()) }
}

/// How wide a picture is.
#[derive(Deserialize)]
pub struct Wide {
    width: Option<u32>,
}

/// The quilt as a picture.
pub async fn picture(State(room): State<Arc<Room>>, Path(id): Path<i64>, Query(wide): Query<Wide>) -> Result<Response, Trouble> {
    let drawn = room.work(move |room| {
        let worked = room.worked(QuiltId(id))?;
        let pictures = photos::within(&room.store, worked.id, &worked.quilt)?;
        let svg = quilt_drawing_with(&worked.quilt, &worked.plan, &QuiltStyle::default(), &pictures).svg;
        let picture = png(&svg, wide.width.unwrap_or(1600)).map_err(|error| Trouble::unusable(error.to_string()))?;
        Ok(download("image/png", &format!("{}.png", plain_name(&worked.quilt.name, "quilt")), picture))
    });
    drawn.await.map_err(Trouble::into_page)
}

/// The mat, as it is typed.
#[derive(Deserialize)]
pub struct Typed {
    mat: String,
    gap: Option<String>,
    face: Option<String>,
}

impl Typed {
    fn read(&self, quilt: &Quilt) -> Result<Mat, Trouble> {
        let length = |text: &str| {
            parse_length(text, quilt.measure).map(|length| length.value()).map_err(|error| Trouble::unusable(error.to_string()))
        };
        let (width, long) = self
            .mat
            .split_once(['x', '×', 'X'])
            .ok_or_else(|| Trouble::unusable(tr!("`{mat}` is no size of a mat; write it like 12 x 24", mat = self.mat)))?;
        let usual = if quilt.measure == Measure::Inch { 0.125 } else { 0.3 };
        let gap = self.gap.as_deref().filter(|gap| !gap.trim().is_empty()).map_or(Ok(usual), length)?;
        let mat = Mat { width: length(width)?, length: length(long)?, gap, face_down: self.face.as_deref() == Some("down") };
        mat.check(quilt).map_err(Trouble::unusable)?;
        Ok(mat)
    }
}

/// All mats, to take them one by one.
pub async fn all_mats(
    State(room): State<Arc<Room>>,
    Path(id): Path<i64>,
    Query(typed): Query<Typed>,
) -> Result<Response, Trouble> {
    made(room, id, move |worked| {
        let mat = typed.read(&worked.quilt)?;
        let asked =
            format!("mat={}x{}&gap={}&face={}", mat.width, mat.length, mat.gap, if mat.face_down { "down" } else { "up" });
        Ok(view::mats(worked, &mat, &mats(&worked.quilt, &worked.plan, &mat), &asked).into_response())
    })
    .await
}

/// One mat, `night-1.dxf` or `night-1.svg`.
pub async fn mat(
    State(room): State<Arc<Room>>,
    Path((id, file)): Path<(i64, String)>,
    Query(typed): Query<Typed>,
) -> Result<Response, Trouble> {
    room.work(move |room| {
        let worked: &Worked = &*room.worked(QuiltId(id))?;
        let (quilt, plan) = (&worked.quilt, &worked.plan);
        let mat = typed.read(quilt)?;
        let all = mats(quilt, plan, &mat);
        let named = all.iter().flat_map(|cloth| (1..).zip(&cloth.mats).map(move |(number, laid)| (cloth, number, laid)));
        let drawn = named.into_iter().find_map(|(cloth, number, laid)| {
            let stem = format!("{}-{number}", quilt.cloths[cloth.cloth.0].key);
            match file.strip_prefix(&stem)? {
                ".dxf" => Some(("image/vnd.dxf", mat_dxf(quilt, plan, &mat, cloth, laid))),
                ".svg" => Some(("image/svg+xml", mat_svg(quilt, plan, &mat, cloth, laid))),
                _ => None,
            }
        });
        let (kind, text) = drawn.ok_or_else(|| Trouble::missing(tr!("there is no mat `{file}`", file)))?;
        Ok(download(kind, &file, text.into_bytes()))
    })
    .await
    .map_err(Trouble::into_page)
}
