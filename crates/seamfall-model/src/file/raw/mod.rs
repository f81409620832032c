//! The quilt file, the ledger and the class as they are written: one definition that is the parser and the schema.
//!
//! In: a parsed TOML tree. Out: the same in types, every value with its place in the text where a check may have to point at
//! it. Nothing here is checked beyond its kind; see [`check`](super::check).

mod bed;
mod class;
mod finish;
mod joining;
mod ledger;
mod look;
mod materials;
mod quilting;
mod sewing;

pub(super) use bed::*;
pub(super) use class::*;
pub(super) use finish::*;
pub(super) use joining::*;
pub(super) use ledger::*;
pub(super) use look::*;
pub(super) use materials::*;
pub(super) use quilting::*;
pub(super) use sewing::*;

use crate::mark;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

/// What a seam is written like, and what the corners of a frame are; said in words of the language where a file is refused.
pub(super) const SEAM_LIKE: &str = "a seam like [x, y, x, y] or { arc = [x, y, x, y], centre = [x, y] }";
pub(super) const CORNERS_LIKE: &str = "\"mitred\", \"butted\" or { squares = \"CLOTH\" }";

/// A value and where it stands in the text.
#[derive(Debug, Clone)]
pub(super) struct At<T>(toml::Spanned<T>);

impl<T> At<T> {
    /// A value that stands in no text.
    pub(super) fn made(value: T) -> Self {
        Self(toml::Spanned::new(0..0, value))
    }

    /// Bytes of the text.
    pub(super) fn span(&self) -> Range<usize> {
        self.0.span()
    }
}

impl<T> std::ops::Deref for At<T> {
    type Target = T;
    fn deref(&self) -> &T {
        self.0.get_ref()
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        toml::Spanned::deserialize(from).map(Self)
    }
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A table whose keys are names given by the maker, in the order of the file.
#[derive(Debug, Clone)]
pub(super) struct Named<T>(pub(super) Vec<(At<String>, T)>);

impl<T> Default for Named<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Named<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Entries<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for Entries<T> {
            type Value = Named<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(mark!("a table of names"))
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Named<T>, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Named(entries))
            }
        }
        from.deserialize_map(Entries(std::marker::PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for Named<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("Named_{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let mut schema = generator.subschema_for::<std::collections::BTreeMap<String, T>>();
        let names = schemars::json_schema!({ "pattern": super::check::KEY_PATTERN });
        schema.insert("propertyNames".to_owned(), names.to_value());
        schema
    }
}

/// A quilt file of Seamfall: what the maker decided.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
#[schemars(title = "Seamfall quilt file, format 1")]
pub(super) struct RawQuilt {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: At<i64>,
    /// What the maker calls the quilt.
    pub name: At<String>,
    /// The unit of every length that does not name its own.
    pub measure: RawMeasure,
    /// Seam allowance; 1/4 in or 0.75 cm unless said.
    pub seam: Option<At<Typed>>,
    /// The step to which lengths are shown and cut sizes rounded up: 1/8, 1/16, or 1 mm.
    pub step: Option<At<Typed>>,
    /// Longest side of a lap section; 24 in or 60 cm unless said.
    pub largest_section: Option<At<Typed>>,
    /// In how many ways the copies of one block may be pressed: 1 to 4, or `own`; the plan's choice unless said.
    pub pressings: Option<At<RawPressings>>,
    /// The bed that is to be covered.
    pub bed: Option<At<RawBed>>,
    /// The two corners at its foot; square unless said.
    pub corners: Option<RawFootCorners>,
    /// Cloths by key.
    #[serde(default)]
    pub cloth: Named<RawCloth>,
    /// Blocks by key.
    #[serde(default)]
    pub block: Named<At<RawBlock>>,
    /// Frames by key.
    #[serde(default)]
    pub frame: Named<RawFrame>,
    /// How the blocks are put together.
    pub setting: At<RawSetting>,
    /// What single places do differently.
    #[serde(default)]
    pub place: Vec<RawPlace>,
    /// Strips between the blocks.
    pub sashing: Option<RawSashing>,
    /// Borders round the whole top, the innermost first.
    #[serde(default)]
    pub band: Vec<RawBand>,
    /// Seams that fall as it is said here.
    #[serde(default)]
    pub fall: Vec<RawFall>,
    /// Units that are made as it is said here.
    #[serde(default)]
    pub way: Vec<RawWay>,
    /// Motifs of photographed cloths that are cut for patches.
    #[serde(default)]
    pub fussy: Vec<RawFussy>,
    /// Bought of every cloth on top of what is needed; nothing unless said.
    pub reserve: Option<At<Typed>>,
    /// Stages of straight cuts at most: 2 for strips and sub-cuts, up to 5, which takes the least cloth; 5 unless said.
    #[schemars(range(min = 2, max = 5))]
    pub cutting_stages: Option<At<i64>>,
    /// The strip round the edge.
    pub binding: Option<RawBinding>,
    /// The back of every lap section.
    pub backing: Option<RawBacking>,
    /// The middle layer of every lap section.
    pub batting: Option<At<RawBatting>>,
    /// Pieces to practise the quilting on.
    pub sample: Option<RawSample>,
    /// The thread for piecing.
    pub thread: Option<RawThread>,
    /// How the quilting is done in the lap.
    pub lap: Option<RawLap>,
    /// Quilting designs and where they go.
    #[serde(default)]
    pub quilting: Vec<RawQuilting>,
    /// How sections are joined.
    pub join: Option<RawJoining>,
    /// What the edge of the quilt is.
    pub finish: Option<RawFinish>,
    /// A tube along the upper edge, for a rod.
    pub sleeve: Option<RawSleeve>,
    /// A label on the back.
    pub label: Option<RawLabel>,
    /// The quilt as a cover with an insert.
    pub cover: Option<RawCover>,
}

/// The unit a quilt is made in.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum RawMeasure {
    /// Inches.
    Inch,
    /// Centimetres.
    Cm,
}

/// A length, typed as people type it, or a number of the file's unit.
#[derive(Debug, Clone, serde::Deserialize, JsonSchema)]
#[serde(untagged, expecting = "a length is text like \"2 1/2\" or a number")]
#[schemars(inline)]
pub(super) enum Typed {
    /// As text, such as `2 1/2`, `2.5`, `2½`, `6,5 cm`, `1 yd`.
    Text(String),
    /// As a number.
    Number(f64),
}

/// A cloth to cut from.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawCloth {
    /// What the maker calls it; its key unless said.
    pub name: Option<At<String>>,
    /// How it looks on the screen: #rrggbb.
    #[schemars(regex(pattern = r"^#[0-9a-fA-F]{6}$"))]
    pub colour: At<String>,
    /// How light it is; worked out from the colour unless said.
    pub value: Option<RawValue>,
    /// How it looks where it is more than one colour.
    pub look: Option<At<RawLook>>,
    /// Which way its print runs; none unless said.
    pub print: Option<RawPrint>,
    /// Usable width, after selvages and wash; 42 in or 107 cm unless said.
    pub width: Option<At<Typed>>,
    /// What it loses of its length in the wash before it is cut, in per cent; 0 unless said.
    #[schemars(range(min = 0, max = 25))]
    pub shrinkage: Option<At<f64>>,
    /// What a yard or a metre costs.
    #[schemars(range(min = 0))]
    pub price: Option<At<f64>>,
    /// The sizes in which it comes; off the bolt unless said.
    #[serde(default)]
    pub from: Vec<RawSupply>,
}

/// How light or dark a cloth is.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum RawValue {
    /// Light.
    Light,
    /// Medium.
    Medium,
    /// Dark.
    Dark,
}

/// How a print restricts turning.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum RawPrint {
    /// May be turned at will.
    None,
    /// Half turns only.
    TwoWay,
    /// One way up.
    OneWay,
}

/// A block: drawn here, or taken from the starter set.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawBlock {
    /// What the maker calls it; its key, or the starter's name, unless said.
    pub name: Option<At<String>>,
    /// Key of the starter block it is taken from.
    pub starter: Option<At<String>>,
    /// Its outline.
    pub shape: Option<At<RawShape>>,
    /// Side; for a rectangle width and height, `9 x 12`.
    pub size: Option<At<Typed>>,
    /// Sharp angle of a diamond, in degrees.
    pub angle: Option<At<f64>>,
    /// Divisions of a side; two numbers for a rectangle. Without it points are lengths.
    pub grid: Option<At<RawGrid>>,
    /// Seams.
    pub seams: Option<At<Vec<At<RawSeam>>>>,
    /// Points inside the patches of each part.
    pub patches: Option<At<Named<Points>>>,
    /// Cloth of each part.
    pub cloths: Option<At<Named<At<String>>>>,
    /// Shapes laid over the patches, the lowest first.
    pub overlay: Option<At<Vec<RawOverlay>>>,
    /// Its own frame, or `none`.
    pub frame: Option<At<String>>,
}

/// A block as a file of its own.
#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawBlockFile {
    /// Version of the format: 1.
    pub format: At<i64>,
    /// The unit of its lengths.
    pub measure: RawMeasure,
    /// The block.
    pub block: At<RawBlock>,
}

/// Points, `x, y` each.
type Points = Vec<At<Vec<f64>>>;

/// The outline of a block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum RawShape {
    /// A square.
    Square,
    /// A rectangle.
    Rectangle,
    /// An equilateral triangle on its base.
    Triangle,
    /// Half a square, its right angle at the lower left.
    RightTriangle,
    /// A diamond on one side.
    Diamond,
    /// A regular hexagon on a flat side.
    Hexagon,
}

/// Divisions of the drafting grid.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(untagged, expecting = "a grid is a whole number like 4, or two like [3, 4]")]
#[schemars(inline)]
pub(super) enum RawGrid {
    /// The same both ways.
    Both(u32),
    /// Along the first and the second axis.
    Each([u32; 2]),
}

/// A seam: `x, y, x, y` and more points, or an arc.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(super) enum RawSeam {
    /// Straight from point to point.
    Line(Vec<f64>),
    /// A circular arc.
    Arc(RawArc),
}

impl<'de> Deserialize<'de> for RawSeam {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> Visitor<'de> for Either {
            type Value = RawSeam;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(SEAM_LIKE)
            }
            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<RawSeam, A::Error> {
                Vec::deserialize(SeqAccessDeserializer::new(list)).map(RawSeam::Line)
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<RawSeam, A::Error> {
                RawArc::deserialize(MapAccessDeserializer::new(map)).map(RawSeam::Arc)
            }
        }
        from.deserialize_any(Either)
    }
}

/// A circular arc.
#[derive(Debug, Clone, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct RawArc {
    /// From and to: `x, y, x, y`.
    #[schemars(length(equal = 4))]
    pub arc: Vec<f64>,
    /// Its centre.
    #[schemars(length(equal = 2))]
    pub centre: Vec<f64>,
    /// Whether the longer way round is meant; of half a circle, the clockwise one.
    #[serde(default)]
    pub long: bool,
}

/// A shape laid over the patches.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawOverlay {
    /// Its part.
    pub part: At<String>,
    /// Allowance that is turned under; 3/16 in or 0.5 cm unless said.
    pub turn_under: Option<At<Typed>>,
    /// A closed chain of lines and arcs.
    pub outline: At<Vec<At<RawSeam>>>,
}

/// A border round one block.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawFrame {
    /// How its corners are sewn; butted unless said.
    pub corners: Option<RawCorners>,
    /// Strips from the block outward.
    pub strips: At<Vec<RawStrip>>,
}

/// A strip of a frame.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawStrip {
    /// Finished width.
    pub width: At<Typed>,
    /// Its cloth.
    pub cloth: At<String>,
}

/// How strips meet at a corner.
#[derive(Debug, JsonSchema)]
#[schemars(untagged)]
pub(super) enum RawCorners {
    /// Mitred or butted.
    Plain(PlainCorners),
    /// A square of a cloth in each corner.
    Squares(CornerSquares),
}

/// Corners without squares.
#[derive(Debug, Clone, Copy, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum PlainCorners {
    /// On the diagonal.
    Mitred,
    /// The sides first, then top and bottom over their ends.
    Butted,
}

/// Corners with squares.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct CornerSquares {
    /// Their cloth.
    pub squares: At<String>,
}

impl<'de> Deserialize<'de> for RawCorners {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Either;
        impl<'de> Visitor<'de> for Either {
            type Value = RawCorners;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(CORNERS_LIKE)
            }
            fn visit_str<E: serde::de::Error>(self, word: &str) -> Result<RawCorners, E> {
                PlainCorners::deserialize(serde::de::value::StrDeserializer::new(word)).map(RawCorners::Plain)
            }
            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<RawCorners, A::Error> {
                CornerSquares::deserialize(MapAccessDeserializer::new(map)).map(RawCorners::Squares)
            }
        }
        from.deserialize_any(Either)
    }
}

/// How the blocks are put together.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawSetting {
    /// The kind of layout.
    pub layout: RawLayout,
    /// Places in a row; on point, in the longer rows.
    pub columns: Option<At<i64>>,
    /// Rows; on point, the longer ones.
    pub rows: Option<At<i64>>,
    /// Blocks, line by line, repeated over the places; for `rows`, every row in full.
    pub pattern: At<Vec<At<Vec<At<String>>>>>,
    /// Frame of every block that does not say otherwise.
    pub frame: Option<At<String>>,
    /// On point: cloth of the side and corner triangles.
    pub triangles: Option<At<String>>,
    /// Rows: cloth that fills up shorter rows.
    pub filler: Option<At<String>>,
}

/// Kinds of layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum RawLayout {
    /// Rows and columns.
    Straight,
    /// Blocks on their corners.
    OnPoint,
    /// Rows of different blocks.
    Rows,
}

/// What one place does differently.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawPlace {
    /// Which place: `B3` is row B, third from the left.
    pub at: At<String>,
    /// Another block than the pattern's.
    pub block: Option<At<String>>,
    /// Quarter turns to the left.
    #[schemars(range(min = 0, max = 3))]
    pub turn: Option<At<i64>>,
    /// Whether it is mirrored, before it is turned.
    #[serde(default)]
    pub mirror: bool,
    /// Cloths used instead of others, here only.
    #[serde(default)]
    pub swap: Named<At<String>>,
    /// Its own frame, or `none`.
    pub frame: Option<At<String>>,
}

/// Strips between the blocks.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawSashing {
    /// Finished width.
    pub width: At<Typed>,
    /// Its cloth.
    pub cloth: At<String>,
    /// Cloth of the squares at the crossings; without it the strips between the rows run through.
    pub cornerstones: Option<At<String>>,
    /// Whether it also runs round the outside.
    #[serde(default)]
    pub around: bool,
    /// How its strips lie on the cloth; across unless said.
    #[serde(default)]
    pub cut: RawGrain,
}

/// A border round the whole top.
#[derive(Debug, serde::Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct RawBand {
    /// Finished width.
    pub width: At<Typed>,
    /// Its cloth.
    pub cloth: At<String>,
    /// How its corners are sewn; butted unless said.
    pub corners: Option<RawCorners>,
    /// How its strips lie on the cloth; across unless said.
    #[serde(default)]
    pub cut: RawGrain,
}
