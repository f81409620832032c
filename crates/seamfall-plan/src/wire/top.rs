//! The top on the wire: places, strips, sections.

use super::shape::{EdgeWire, SizeWire, edges, length, matrix, outline, point, size};
use crate::set::{ChangedCorner, CutInto, PieceKind, PlacedBlock, Section, Top, TopPiece};
use schemars::JsonSchema;
use seamfall_model::Quilt;
use serde::Serialize;

/// A block in its place. Coordinates are the top's: its lower left corner is at the origin.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PlaceWire {
    /// `C4`: row from the top, place in the row from the left.
    pub name: String,
    /// Row from the top, from 1.
    pub row: usize,
    /// Place in the row from the left, from 1.
    pub number: usize,
    /// Key of the block.
    pub block: String,
    /// `[a, b, c, d, e, f]`: from the block's coordinates to the top's by x' = a x + c y + e, y' = b x + d y + f.
    pub matrix: [f64; 6],
    /// Whether the block is mirrored here.
    pub mirrored: bool,
    /// Finished outline of the block, without its frame.
    pub outline: Vec<EdgeWire>,
    /// Key of the cloth of each part of the block, here, in the order of its parts.
    pub cloths: Vec<String>,
    /// Key of its frame, if it has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<String>,
    /// Name of its section.
    pub section: String,
}

/// A piece of the top that is not part of a block.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StripWire {
    /// `B3.frame1.top`, `band1.left.2`.
    pub name: String,
    /// What it is.
    pub kind: StripKind,
    /// Name of the place, for a piece of a frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Key of its cloth.
    pub cloth: String,
    /// Finished outline, anticlockwise.
    pub outline: Vec<EdgeWire>,
    /// Name of its section.
    pub section: String,
}

/// What a piece of the top is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StripKind {
    /// A strip of a frame.
    Frame,
    /// A corner square of a frame.
    FrameSquare,
    /// A side triangle of a setting on point.
    SideTriangle,
    /// A corner triangle of a setting on point.
    CornerTriangle,
    /// A strip of sashing.
    Sash,
    /// A square where sashing crosses, or the part of one at the edge.
    Cornerstone,
    /// A strip that fills up a row.
    Filler,
    /// A strip of a band.
    Band,
    /// A corner square of a band.
    BandSquare,
}

/// A corner at the foot that is not square; it is sewn whole and trimmed after the last join.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ChangedCornerWire {
    /// `lower left` or `lower right`.
    pub at: String,
    /// `set-back`, `level`, `straight` or `notch`.
    pub shape: String,
    /// Its finished edge, in the direction of the outline; it is cut an allowance outside.
    pub edge: Vec<EdgeWire>,
    /// The corner of the mattress, where there is a bed: the centre of a level hem.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mattress: Option<[f64; 2]>,
    /// Radius of its edge, where that is an arc.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub radius: Option<f64>,
    /// Area cut off.
    pub away: f64,
    /// Places and strips of which something is cut off.
    pub cuts: Vec<CutIntoWire>,
    /// How it is marked and trimmed.
    pub trimming: String,
}

/// What is cut off one piece of the top.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CutIntoWire {
    /// Name of the place or of the strip.
    pub name: String,
    /// Area cut off; of a place without its frame.
    pub away: f64,
    /// Whether nothing of it is left.
    pub whole: bool,
}

/// What is layered and quilted as one.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SectionWire {
    /// `S3`.
    pub name: String,
    /// Its outline.
    pub outline: Vec<EdgeWire>,
    /// What is left of it once the corners of the quilt are trimmed, part by part; not there where that is all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kept: Option<Vec<Vec<EdgeWire>>>,
    /// Along its own seams.
    pub size: SizeWire,
    /// Names of the places in it.
    pub places: Vec<String>,
    /// Names of the strips in it.
    pub strips: Vec<String>,
}

impl PlaceWire {
    pub(super) fn new(quilt: &Quilt, top: &Top, place: &PlacedBlock) -> Self {
        Self {
            name: place.name.clone(),
            row: place.row + 1,
            number: place.number + 1,
            block: quilt.blocks[place.block.0].key.clone(),
            matrix: matrix(place.pose),
            mirrored: place.pose.is_mirrored(),
            outline: outline(&place.outline),
            cloths: place.cloths.iter().map(|cloth| quilt.cloths[cloth.0].key.clone()).collect(),
            frame: place.frame.map(|frame| quilt.frames[frame.0].key.clone()),
            section: top.sections[place.section].name.clone(),
        }
    }
}

impl StripWire {
    pub(super) fn new(quilt: &Quilt, top: &Top, strip: &TopPiece) -> Self {
        let (kind, place) = match strip.kind {
            PieceKind::Frame { place, .. } => (StripKind::Frame, Some(place)),
            PieceKind::FrameSquare { place, .. } => (StripKind::FrameSquare, Some(place)),
            PieceKind::SideTriangle => (StripKind::SideTriangle, None),
            PieceKind::CornerTriangle => (StripKind::CornerTriangle, None),
            PieceKind::Sash => (StripKind::Sash, None),
            PieceKind::Cornerstone => (StripKind::Cornerstone, None),
            PieceKind::Filler => (StripKind::Filler, None),
            PieceKind::Band { .. } => (StripKind::Band, None),
            PieceKind::BandSquare { .. } => (StripKind::BandSquare, None),
        };
        Self {
            name: strip.name.clone(),
            kind,
            place: place.map(|place| top.places[place].name.clone()),
            cloth: quilt.cloths[strip.cloth.0].key.clone(),
            outline: outline(&strip.outline),
            section: top.sections[strip.section].name.clone(),
        }
    }
}

impl ChangedCornerWire {
    pub(super) fn new(quilt: &Quilt, top: &Top, corner: &ChangedCorner) -> Self {
        let cut = |name: &String, cut: &CutInto| CutIntoWire { name: name.clone(), away: length(cut.away), whole: cut.whole };
        let places = corner.places.iter().map(|one| cut(&top.places[one.number].name, one));
        let strips = corner.strips.iter().map(|one| cut(&top.strips[one.number].name, one));
        Self {
            at: if corner.is_right { "lower right" } else { "lower left" }.to_owned(),
            shape: corner.shape.word().to_owned(),
            edge: edges(&corner.edge),
            mattress: corner.mattress.map(point),
            radius: corner.radius().map(length),
            away: length(corner.away.area()),
            cuts: places.chain(strips).collect(),
            trimming: corner.trimming(quilt, top),
        }
    }
}

impl SectionWire {
    pub(super) fn new(top: &Top, section: &Section) -> Self {
        Self {
            name: section.name.clone(),
            outline: outline(&section.outline),
            kept: section.kept.as_ref().map(|kept| kept.iter().map(outline).collect()),
            size: size(section.size),
            places: section.places.iter().map(|&place| top.places[place].name.clone()).collect(),
            strips: section.strips.iter().map(|&strip| top.strips[strip].name.clone()).collect(),
        }
    }
}
