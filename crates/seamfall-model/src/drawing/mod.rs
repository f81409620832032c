//! A block as it is drawn on the screen.
//!
//! In: numbers and words as a page sends them. Out: a checked [`Block`], under the very checks of a file, or what is wrong; and from a
//! block its drawing again. What is drawn becomes a block's table, and that is read as a file is: the screen can draw nothing that
//! a file cannot say. [`act`] changes a drawing, [`repeat`] knows over which lines and turns a shape is the same, [`arcs`] finds the arcs
//! that are usual between two points, [`own`] writes a drawing as a small file of its own.
//!
//! Patches are not known here: which cloth a patch keeps when seams change is told by the plan.

mod act;
mod arcs;
mod own;
mod repeat;

#[cfg(test)]
mod tests;

pub use act::{DrawAct, point_images};
pub use arcs::{UsualArc, usual_arcs};
pub use own::{read_own_block, write_own_block};
pub use repeat::{Repeat, shares};

use crate::file::{self, FileError, exact_length};
use crate::{Arc, Block, GridPoint, Measure, Overlay, PartId, Quilt, Seam, Shape};
use serde::{Deserialize, Serialize};
use toml_edit::{Array, InlineTable, Item, Table, Value};

/// A block as it is drawn: what the file has under `[block.KEY]`, the parts with their cloths and points together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Drawing {
    /// What the maker calls it.
    pub name: String,
    /// `square`, `rectangle`, `triangle`, `right-triangle`, `diamond` or `hexagon`.
    pub shape: String,
    /// As it is typed: `12`, `9 x 12`.
    pub size: String,
    /// Sharp angle of a diamond, in degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle: Option<f64>,
    /// Divisions along the first and the second axis; without them points are lengths.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grid: Option<[u32; 2]>,
    /// Seams.
    #[serde(default)]
    pub seams: Vec<DrawnSeam>,
    /// Parts of the colouring.
    #[serde(default)]
    pub parts: Vec<DrawnPart>,
    /// Shapes laid over.
    #[serde(default)]
    pub overlay: Vec<DrawnOverlay>,
}

/// A seam: `[x, y, x, y]` and more points, or an arc.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(untagged, expecting = "a seam is like [x, y, x, y] or {arc: [x, y, x, y], centre: [x, y], long: false}")]
pub enum DrawnSeam {
    /// Straight from point to point.
    Line(Vec<f64>),
    /// A circular arc.
    Arc(DrawnArc),
}

/// A circular arc.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrawnArc {
    /// From and to.
    pub arc: [f64; 4],
    /// Its centre.
    pub centre: [f64; 2],
    /// Whether the longer way round is meant; of half a circle, the clockwise one.
    #[serde(default)]
    pub long: bool,
}

/// A part of the colouring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrawnPart {
    /// Its name in the block.
    pub name: String,
    /// Key of its cloth.
    pub cloth: String,
    /// One point inside each of its patches.
    #[serde(default)]
    pub points: Vec<[f64; 2]>,
}

/// A shape laid over the patches.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct DrawnOverlay {
    /// Its part.
    pub part: String,
    /// Allowance that is turned under, as it is typed.
    pub turn_under: String,
    /// A closed chain of lines and arcs.
    pub outline: Vec<DrawnSeam>,
}

impl Drawing {
    /// A block of a quilt as a drawing.
    #[must_use]
    pub fn of(quilt: &Quilt, block: &Block) -> Self {
        Self::made(block, quilt.measure, |part| quilt.cloths[block.parts[part].cloth.0].key.clone())
    }

    /// A block as a drawing; `cloth` gives the key of each part's cloth.
    pub(crate) fn made(block: &Block, measure: Measure, cloth: impl Fn(usize) -> String) -> Self {
        let typed = |length| exact_length(length, measure).trim_matches('"').to_owned();
        let points = |id: usize| block.marks.iter().filter(move |mark| mark.part.0 == id).map(|mark| [mark.at.u, mark.at.v]);
        let part = |(id, part): (usize, &crate::Part)| DrawnPart {
            name: part.name.clone(),
            cloth: cloth(id),
            points: points(id).collect(),
        };
        let over = |over: &Overlay| DrawnOverlay {
            part: block.parts[over.part.0].name.clone(),
            turn_under: typed(over.turn_under),
            outline: over.outline.iter().map(DrawnSeam::of).collect(),
        };
        Self {
            name: block.name.clone(),
            shape: file::shape_key(block.shape).to_owned(),
            size: match block.shape {
                Shape::Rectangle { width, height } => format!("{} x {}", typed(width), typed(height)),
                other => typed(other.sides().0),
            },
            angle: if let Shape::Diamond { angle_deg, .. } = block.shape { Some(angle_deg) } else { None },
            grid: block.grid.map(|(n, m)| [n, m]),
            seams: block.seams.iter().map(DrawnSeam::of).collect(),
            parts: block.parts.iter().enumerate().map(part).collect(),
            overlay: block.overlays.iter().map(over).collect(),
        }
    }

    /// The block that is drawn, with the cloths of `quilt`, under every check of a file.
    ///
    /// # Errors
    /// What is wrong with it. Its places are those of a text that nobody sees; the reasons name seams by their numbers.
    pub fn block(&self, quilt: &Quilt) -> Result<Block, FileError> {
        let cloths = quilt.cloths.iter().map(|cloth| cloth.key.clone()).collect();
        file::read_block("drawn", &self.table().to_string(), quilt.measure, cloths)
    }

    /// Keys and values as they stand in the file, in the order of its documentation.
    pub(crate) fn entries(&self) -> Vec<(&'static str, Value)> {
        let mut entries: Vec<(&str, Value)> =
            vec![("name", self.name.as_str().into()), ("shape", self.shape.as_str().into()), ("size", self.size.as_str().into())];
        entries.extend(self.angle.map(|angle| ("angle", number(angle))));
        entries.extend(self.grid.map(|grid| ("grid", self.grid_value(grid))));
        if !self.seams.is_empty() {
            entries.push(("seams", lines(self.seams.iter().map(DrawnSeam::value))));
        }
        let named = self.named();
        if !named.is_empty() {
            entries.push(("patches", Value::InlineTable(named.iter().map(|part| (&part.name, points(part))).collect())));
        }
        let mut cloths = InlineTable::new();
        for part in self.parts.iter().filter(|part| part.name != part.cloth) {
            cloths.insert(&part.name, part.cloth.as_str().into());
        }
        if !cloths.is_empty() {
            entries.push(("cloths", cloths.into()));
        }
        if !self.overlay.is_empty() {
            entries.push(("overlay", lines(self.overlay.iter().map(DrawnOverlay::value))));
        }
        entries
    }

    fn table(&self) -> Table {
        let mut table = Table::new();
        for (key, value) in self.entries() {
            table.insert(key, Item::Value(value));
        }
        table
    }

    /// One number where both are the same, but two for a rectangle.
    fn grid_value(&self, [n, m]: [u32; 2]) -> Value {
        let [one, other] = [n, m].map(i64::from);
        if n == m && self.shape != "rectangle" { one.into() } else { [one, other].into_iter().collect::<Array>().into() }
    }

    /// The parts that have to be named under `patches`: all but those at the end that are only laid over, in the order of the shapes.
    fn named(&self) -> &[DrawnPart] {
        let mut over: Vec<&str> = Vec::new();
        for shape in &self.overlay {
            if !over.contains(&shape.part.as_str()) {
                over.push(&shape.part);
            }
        }
        let rest_is_laid_over = |first: usize| {
            let rest = &self.parts[first..];
            let later = over.iter().filter(|name| self.parts[..first].iter().all(|part| part.name != **name));
            rest.iter().all(|part| part.points.is_empty()) && later.copied().eq(rest.iter().map(|part| part.name.as_str()))
        };
        let first = (0..=self.parts.len()).find(|&first| rest_is_laid_over(first));
        &self.parts[..first.unwrap_or(self.parts.len())]
    }
}

impl DrawnSeam {
    fn of(seam: &Seam) -> Self {
        match seam {
            Seam::Line(points) => Self::Line(points.iter().flat_map(|point| [point.u, point.v]).collect()),
            Seam::Arc(Arc { from, to, centre, long_way }) => {
                Self::Arc(DrawnArc { arc: [from.u, from.v, to.u, to.v], centre: [centre.u, centre.v], long: *long_way })
            }
        }
    }

    /// As the file has it.
    pub(crate) fn value(&self) -> Value {
        match self {
            Self::Line(numbers) => list(numbers),
            Self::Arc(DrawnArc { arc, centre, long }) => {
                let mut table = InlineTable::new();
                table.insert("arc", list(arc));
                table.insert("centre", list(centre));
                if *long {
                    table.insert("long", true.into());
                }
                table.into()
            }
        }
    }
}

impl DrawnOverlay {
    fn value(&self) -> Value {
        let mut table = InlineTable::new();
        table.insert("part", self.part.as_str().into());
        table.insert("turn-under", self.turn_under.as_str().into());
        table.insert("outline", self.outline.iter().map(DrawnSeam::value).collect::<Array>().into());
        table.into()
    }
}

fn points(part: &DrawnPart) -> Value {
    part.points.iter().map(|point| list(point)).collect::<Array>().into()
}

fn list(numbers: &[f64]) -> Value {
    numbers.iter().map(|each| number(*each)).collect::<Array>().into()
}

/// Whole numbers are written as such; adding nothing turns -0 into 0.
fn number(value: f64) -> Value {
    crate::edit::number_value(value + 0.0)
}

/// A list with a line of its own for each.
fn lines(values: impl Iterator<Item = Value>) -> Value {
    let mut list: Array = values.map(|value| value.decorated("\n  ", "")).collect();
    list.set_trailing("\n");
    list.set_trailing_comma(true);
    list.into()
}

/// A point of the file, rounded so that it can be read, and still exact on the grid: 9 decimals of a grid step are less than the tolerance
/// of the plane, for the largest block that can be sewn.
pub(crate) fn rounded(point: GridPoint) -> GridPoint {
    let round = |value: f64| (value * 1e9).round() / 1e9 + 0.0;
    GridPoint { u: round(point.u), v: round(point.v) }
}

/// A part for `cloth`: the first one that has it, or a new one that is named like it.
#[must_use]
pub fn part_for(quilt: &Quilt, block: &mut Block, cloth: crate::ClothId) -> PartId {
    if let Some(there) = block.parts.iter().position(|part| part.cloth == cloth) {
        return PartId(there);
    }
    let plain = &quilt.cloths[cloth.0].key;
    let more = (2..).map(|number| format!("{}-{number}", plain.chars().take(36).collect::<String>().trim_end_matches('-')));
    let is_free = |name: &String| block.parts.iter().all(|part| part.name != *name);
    let name = std::iter::once(plain.clone()).chain(more).find(is_free).expect("numbers do not end");
    block.parts.push(crate::Part { name, cloth });
    PartId(block.parts.len() - 1)
}
