//! Lists of templates and their layouts as JSON.
//!
//! In: `{"strip_width", "items": [{"id", "polygon": [[x, y], ...], "count", "turns"}], "kerf"}` in the list's own unit, `turns` in
//! degrees (`[0, 180]`; as drawn only, where there are none) or one of the words `none`, `half`, `quarter`, `free`. Out: a [`List`]
//! that [`cut`](super::cut) can work on; and a layout as text, `{"length", "area_bound", "density", "strips": [{"height", "times",
//! "placements": [{"id", "turn", "x", "y"}]}]}`, each polygon turned about its own origin and then moved by `x` and `y` from the lower
//! left corner of its strip.

use seamfall_geom::{Loop, Point};
use serde::Serialize;
use serde_json::Value;

use super::search::{checked, meetings};
use super::{Cloth, MOST_COPIES, NestError, Nesting, Template, Turns};
use crate::file::{FileError, list, name, number_of, whole};

/// Templates to be cut from cloth, checked.
#[derive(Debug, Clone, PartialEq)]
pub struct List {
    /// The templates.
    pub templates: Vec<Template>,
    /// The cloth.
    pub cloth: Cloth,
}

impl List {
    /// A list that can be cut.
    ///
    /// # Errors
    /// [`NestError`] with the template and the remedy.
    pub fn new(templates: Vec<Template>, cloth: Cloth) -> Result<Self, NestError> {
        checked(&templates, cloth)?;
        meetings(&templates, cloth)?;
        Ok(Self { templates, cloth })
    }
}

/// Reads a list.
pub(crate) fn read(root: &Value) -> Result<List, FileError> {
    let items = list(root, "items", "list the templates, each with id, polygon, count and turns")?;
    let width = number_of("the list", "strip_width", &root["strip_width"], "a length of 0 or more")?;
    let gap = if root["kerf"].is_null() { 0.0 } else { number_of("the list", "kerf", &root["kerf"], "a length of 0 or more")? };
    // Wider than the cloth it would be where no piece can lie.
    if gap > width {
        return Err(FileError::NotANumber {
            place: "the list".into(),
            key: "kerf",
            found: root["kerf"].to_string(),
            wanted: "a length no wider than the cloth",
        });
    }
    let mut templates = Vec::new();
    for (number, item) in items.iter().enumerate() {
        let name = name(item, "id", number);
        let place = format!("template `{name}`");
        let outline = Loop::polygon(&corners(&place, item)?);
        let count = whole(&place, "count", &item["count"], 1)?.min(MOST_COPIES + 1);
        let turns = turns(&place, &item["turns"])?;
        templates.push(Template { name, outline, count, turns });
    }
    Ok(List::new(templates, Cloth { width, gap })?)
}

fn corners(place: &str, item: &Value) -> Result<Vec<Point>, FileError> {
    let corners = item["polygon"].as_array().ok_or_else(|| FileError::Missing {
        place: place.into(),
        key: "polygon",
        remedy: "list its corners in order, each as [x, y]",
    })?;
    let corner = |value: &Value| match value.as_array().map(Vec::as_slice) {
        Some([x, y]) => Some(Point::new(x.as_f64()?, y.as_f64()?)),
        _ => None,
    };
    let wrong = |value: &Value| FileError::NotANumber {
        place: place.into(),
        key: "polygon",
        found: value.to_string(),
        wanted: "a corner as two numbers, [x, y]",
    };
    corners.iter().map(|value| corner(value).ok_or_else(|| wrong(value))).collect()
}

fn turns(place: &str, value: &Value) -> Result<Turns, FileError> {
    let wrong = || FileError::NotANumber {
        place: place.into(),
        key: "turns",
        found: value.to_string(),
        wanted: "a list of angles in degrees, from -360 to 360, or one of `none`, `half`, `quarter`, `free`",
    };
    let angle = |value: &Value| value.as_f64().filter(|angle| angle.abs() <= 360.0);
    match value {
        Value::Null => Ok(Turns::None),
        Value::String(word) => match word.as_str() {
            "none" => Ok(Turns::None),
            "half" => Ok(Turns::Half),
            "quarter" => Ok(Turns::Quarter),
            "free" => Ok(Turns::Free),
            _ => Err(wrong()),
        },
        Value::Array(angles) => {
            let angles: Option<Vec<f64>> = angles.iter().map(angle).collect();
            angles.map(Turns::Listed).ok_or_else(wrong)
        }
        _ => Err(wrong()),
    }
}

#[derive(Serialize)]
struct WrittenNesting<'a> {
    length: f64,
    area_bound: f64,
    density: f64,
    strips: Vec<WrittenStrip<'a>>,
}

#[derive(Serialize)]
struct WrittenStrip<'a> {
    height: f64,
    times: u32,
    placements: Vec<WrittenPlace<'a>>,
}

#[derive(Serialize)]
struct WrittenPlace<'a> {
    id: &'a str,
    turn: f64,
    x: f64,
    y: f64,
}

/// A layout in the list's own unit, one line of JSON.
#[must_use]
pub fn write(list: &List, nesting: &Nesting) -> String {
    // Nine digits after the point: far below what touches, and no tails of rounding.
    let round = |value: f64| (value * 1e9).round() / 1e9;
    let place = |place: &super::Place| WrittenPlace {
        id: &list.templates[place.template].name,
        turn: place.turn,
        x: round(place.shift.x),
        y: round(place.shift.y),
    };
    let strip = |strip: &super::Strip| WrittenStrip {
        height: round(strip.height),
        times: strip.times,
        placements: strip.places.iter().map(place).collect(),
    };
    let written = WrittenNesting {
        length: round(nesting.length),
        area_bound: round(nesting.area_bound),
        density: round(nesting.density()),
        strips: nesting.strips.iter().map(strip).collect(),
    };
    serde_json::to_string(&written).expect("numbers and words can always be written")
}
