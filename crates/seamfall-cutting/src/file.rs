//! Lists and layouts as JSON text.
//!
//! In: the text of a list, `{"strip_width" or "sheets", "pieces": [{"id", "w", "h", "count", "rotate"}], "kerf", "stages"}` with sizes in
//! the list's own unit, for sheets with their `"price"`, `"available"` and `"first_cut"` (`"h"` across, else any). Out: a job in whole ticks; and a layout as text, `{"length", "bound", "placements": [{"id", "x", "y", "w", "h",
//! "rotated"}]}`. Other keys are left alone: lists of the literature carry their best known values along. Reads and writes text
//! only; the caller opens the files. A list with `"items"` instead of pieces is one of templates: [`crate::nest::list`].

use serde::Serialize;
use serde_json::Value;
use thiserror::Error;

use crate::Cutting;
use crate::job::{Job, JobError, Kind, Stages};
use crate::layout::Placement;
use crate::nest::{self, NestError};
use crate::sheets::{FirstCut, Sheet, SheetCutting, SheetJob};
use tr::tr;

/// Ticks to a unit that are tried, coarsest first: halves to 64ths of an inch, tenths and hundredths of a centimetre, thirds.
const GRIDS: [u32; 14] = [1, 2, 4, 8, 5, 10, 16, 20, 32, 64, 100, 3, 6, 1000];
/// How near to the grid a size must lie, in ticks.
const ON_GRID: f64 = 1e-6;

/// A list as read.
#[derive(Debug, Clone)]
pub struct Order {
    /// Name of the list, empty when it has none.
    pub name: String,
    /// Its unit, as written; inches when nothing is.
    pub unit: String,
    /// Ticks of the cutting grid to one unit.
    pub ticks_per_unit: u32,
    /// What is to be cut.
    pub task: Task,
}

/// From what a list is cut.
#[derive(Debug, Clone)]
pub enum Task {
    /// Cloth of one width and any length.
    Length(Job),
    /// Sheets of several sizes and prices.
    Sheets(SheetJob),
    /// Curved and odd templates from cloth of one width.
    Templates(nest::list::List),
}

/// Why a list could not be read.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FileError {
    /// Not JSON.
    #[error("{}", tr!("this is not JSON: {reason} (a size must be a plain number, not NaN)", reason))]
    Syntax {
        /// What the reader says, with line and column.
        reason: String,
    },
    /// Something that must be there is not.
    #[error("{}", tr!("{place} has no `{key}`: {remedy}", place, key, remedy))]
    Missing {
        /// Which piece, sheet or list.
        place: String,
        /// What is missing.
        key: &'static str,
        /// What to write.
        remedy: &'static str,
    },
    /// Not a number that can be cut.
    #[error("{}", tr!("{place}: `{key}` is {found}, not {wanted}", place, key, found, wanted))]
    NotANumber {
        /// Which piece, sheet or list.
        place: String,
        /// Which entry.
        key: &'static str,
        /// What stands there.
        found: String,
        /// What should.
        wanted: &'static str,
    },
    /// A size between the ticks of every grid.
    #[error("{}", tr!("{place}: `{key}` is {found}, which is on no cutting grid: round it up to a 1/64 or a 1/1000 of the unit", place, key, found))]
    OffGrid {
        /// Which piece or sheet.
        place: String,
        /// Which entry.
        key: &'static str,
        /// What stands there.
        found: f64,
    },
    /// A list that cannot be cut.
    #[error(transparent)]
    Job(#[from] JobError),
    /// Templates that cannot be nested.
    #[error(transparent)]
    Nest(#[from] NestError),
}

/// A size as read, with what it belongs to.
struct Size {
    place: String,
    key: &'static str,
    value: f64,
}

/// Reads a list. `stages` overrides what the list says; a list that says nothing may be cut in five.
///
/// # Errors
/// [`FileError`] with the piece and the remedy.
pub fn read(text: &str, stages: Option<Stages>) -> Result<Order, FileError> {
    let root: Value = serde_json::from_str(text).map_err(|error| FileError::Syntax { reason: error.to_string() })?;
    if !root["items"].is_null() {
        let task = Task::Templates(nest::list::read(&root)?);
        return Ok(Order { name: word(&root, "name", ""), unit: word(&root, "unit", "in"), ticks_per_unit: 1, task });
    }
    let stages = match (stages, &root["stages"]) {
        (Some(stages), _) => stages,
        (None, Value::Null) => Stages::FIVE,
        (None, written) => Stages::new(whole("the list", "stages", written, 1)?.min(255) as u8)?,
    };
    let pieces = list(&root, "pieces", "list the pieces, each with id, w, h, count and rotate")?;
    let sheets = if !root["strip_width"].is_null() {
        &[][..]
    } else {
        list(&root, "sheets", "give the cloth's width, or list the sheets, each with w, h and price")?
    };
    let mut sizes = Vec::new();
    if sheets.is_empty() {
        sizes.push(size("the list", "strip_width", &root)?);
    }
    for (key, entries, word) in [("id", pieces, "piece"), ("id", sheets, "sheet")] {
        for (number, entry) in entries.iter().enumerate() {
            let place = format!("{word} `{}`", name(entry, key, number));
            sizes.push(size(&place, "w", entry)?);
            sizes.push(size(&place, "h", entry)?);
        }
    }
    let kerf = if root["kerf"].is_null() {
        Size { place: "the list".into(), key: "kerf", value: 0.0 }
    } else {
        size("the list", "kerf", &root)?
    };
    sizes.push(kerf);
    let grid = grid(&sizes)?;
    let mut ticks = sizes.iter().map(|size| tick(size.value, grid));
    let width = if sheets.is_empty() { ticks.next().expect("the width was pushed first") } else { 0 };
    let mut pair = || (ticks.next().expect("a width each"), ticks.next().expect("a height each"));
    let mut kinds = Vec::new();
    for (number, entry) in pieces.iter().enumerate() {
        let name = name(entry, "id", number);
        let place = format!("piece `{name}`");
        let count = whole(&place, "count", &entry["count"], 1)?;
        let (width, height) = pair();
        let turn = entry["rotate"].as_bool().unwrap_or(true);
        kinds.push(Kind { name, width, height, count, turn });
    }
    let mut sizes_of_sheets = Vec::new();
    for (number, entry) in sheets.iter().enumerate() {
        let name = name(entry, "id", number);
        let place = format!("sheet `{name}`");
        let price = number_of(&place, "price", &entry["price"], "a price of 0 or more")?;
        let price = (price * 100.0).round().min(1e15) as u64;
        let available =
            if entry["available"].is_null() { None } else { Some(whole(&place, "available", &entry["available"], 0)?) };
        let (width, height) = pair();
        sizes_of_sheets.push(Sheet { name, width, height, price, available });
    }
    let kerf = ticks.next().expect("the kerf was pushed last");
    let first_cut = if root["first_cut"] == "h" { FirstCut::Across } else { FirstCut::Any };
    let task = if sheets.is_empty() {
        Task::Length(Job::new(width, kerf, stages, kinds)?)
    } else {
        Task::Sheets(SheetJob::new(sizes_of_sheets, kerf, stages, first_cut, kinds)?)
    };
    Ok(Order { name: word(&root, "name", ""), unit: word(&root, "unit", "in"), ticks_per_unit: grid, task })
}

fn word(root: &Value, key: &str, other: &str) -> String {
    root[key].as_str().unwrap_or(other).to_owned()
}

pub(crate) fn list<'a>(root: &'a Value, key: &'static str, remedy: &'static str) -> Result<&'a [Value], FileError> {
    let missing = || FileError::Missing { place: "the list".into(), key, remedy };
    Ok(root[key].as_array().ok_or_else(missing)?)
}

pub(crate) fn name(entry: &Value, key: &str, number: usize) -> String {
    match &entry[key] {
        Value::String(name) => name.clone(),
        Value::Number(name) => name.to_string(),
        _ => format!("{}", number + 1),
    }
}

pub(crate) fn number_of(place: &str, key: &'static str, value: &Value, wanted: &'static str) -> Result<f64, FileError> {
    match value.as_f64() {
        Some(number) if number.is_finite() && number >= 0.0 => Ok(number),
        _ if value.is_null() => Err(FileError::Missing { place: place.into(), key, remedy: "write it as a number" }),
        _ => Err(FileError::NotANumber { place: place.into(), key, found: value.to_string(), wanted }),
    }
}

fn size(place: &str, key: &'static str, entry: &Value) -> Result<Size, FileError> {
    let value = number_of(place, key, &entry[key], "a length of 0 or more")?;
    Ok(Size { place: place.into(), key, value })
}

/// A count; one that is missing is `other`.
pub(crate) fn whole(place: &str, key: &'static str, value: &Value, other: u32) -> Result<u32, FileError> {
    if value.is_null() {
        return Ok(other);
    }
    let number = number_of(place, key, value, "a whole number of 0 or more")?;
    if number.fract() != 0.0 {
        return Err(FileError::NotANumber { place: place.into(), key, found: value.to_string(), wanted: "a whole number" });
    }
    Ok(number.min(f64::from(u32::MAX)) as u32)
}

/// The coarsest grid on which all sizes lie.
fn grid(sizes: &[Size]) -> Result<u32, FileError> {
    let lies = |size: &Size, grid: u32| {
        let ticks = size.value * f64::from(grid);
        (ticks - ticks.round()).abs() <= ON_GRID * f64::from(grid)
    };
    if let Some(&grid) = GRIDS.iter().find(|&&grid| sizes.iter().all(|size| lies(size, grid))) {
        return Ok(grid);
    }
    let off = sizes.iter().find(|size| GRIDS.iter().all(|&grid| !lies(size, grid)));
    let off = off.or_else(|| sizes.iter().find(|size| !lies(size, 1000))).expect("some size is off the finest grid");
    Err(FileError::OffGrid { place: off.place.clone(), key: off.key, found: off.value })
}

fn tick(value: f64, grid: u32) -> u32 {
    (value * f64::from(grid)).round().min(f64::from(u32::MAX)) as u32
}

#[derive(Serialize)]
struct WrittenLayout<'a> {
    length: f64,
    bound: f64,
    placements: Vec<WrittenPlace<'a>>,
}

/// One copy as written.
#[derive(Serialize)]
pub(crate) struct WrittenPlace<'a> {
    id: &'a str,
    x: f64,
    y: f64,
    w: f64,
    h: f64,
    rotated: bool,
}

/// One copy in the list's own unit.
pub(crate) fn written<'a>(kinds: &'a [Kind], placement: &Placement, ticks_per_unit: u32) -> WrittenPlace<'a> {
    let unit = f64::from(ticks_per_unit);
    WrittenPlace {
        id: &kinds[placement.kind].name,
        x: placement.x as f64 / unit,
        y: placement.y as f64 / unit,
        w: f64::from(placement.width) / unit,
        h: f64::from(placement.height) / unit,
        rotated: placement.turned,
    }
}

#[derive(Serialize)]
struct WrittenSheet<'a> {
    sheet: &'a str,
    times: u32,
    placements: Vec<WrittenPlace<'a>>,
}

#[derive(Serialize)]
struct WrittenSheets<'a> {
    price: f64,
    bound: f64,
    sheets: Vec<WrittenSheet<'a>>,
}

/// Cut sheets in the list's own unit, one line of JSON: `{"price", "bound", "sheets": [{"sheet", "times", "placements"}]}`.
#[must_use]
pub fn write_sheets(job: &SheetJob, cutting: &SheetCutting, ticks_per_unit: u32) -> String {
    let places = |sheet: &crate::sheets::CutSheet| {
        let placements = sheet.placements(job);
        placements.iter().map(|placement| written(job.kinds(), placement, ticks_per_unit)).collect()
    };
    let sheets = cutting
        .sheets
        .iter()
        .map(|cut| WrittenSheet { sheet: &job.sheets()[cut.sheet].name, times: cut.times, placements: places(cut) })
        .collect();
    let written = WrittenSheets { price: cutting.price as f64 / 100.0, bound: cutting.bound as f64 / 100.0, sheets };
    serde_json::to_string(&written).expect("numbers and words can always be written")
}

/// A layout in the list's own unit with the length that none is shorter than, one line of JSON: `{"length", "bound",
/// "placements"}`.
#[must_use]
pub fn write(job: &Job, cutting: &Cutting, ticks_per_unit: u32) -> String {
    let placements = cutting.layout.placements(job);
    let placements = placements.iter().map(|placement| written(job.kinds(), placement, ticks_per_unit)).collect();
    let length = |ticks: u64| ticks as f64 / f64::from(ticks_per_unit);
    let written = WrittenLayout { length: length(cutting.layout.length), bound: length(cutting.bound.length), placements };
    serde_json::to_string(&written).expect("numbers and words can always be written")
}
