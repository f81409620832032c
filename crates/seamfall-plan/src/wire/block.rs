//! Blocks on the wire: patches, overlays, templates.

use super::shape::{EdgeWire, SizeWire, length, outline, point, size};
use crate::draft::{Draft, Kind, Notch, OverlayShape, Patch, Template};
use schemars::JsonSchema;
use seamfall_model::{Block, PartId, Quilt};
use serde::Serialize;

/// A block. Coordinates are its own: the lower left corner of its bounds is at the origin.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BlockWire {
    /// Its name in the file.
    pub key: String,
    /// What the maker calls it.
    pub name: String,
    /// Finished size of its bounds.
    pub size: SizeWire,
    /// Finished outline, anticlockwise.
    pub outline: Vec<EdgeWire>,
    /// Parts of the colouring.
    pub parts: Vec<PartWire>,
    /// Patches, from the top down, then from the left.
    pub patches: Vec<PatchWire>,
    /// Shapes laid over the patches, the lowest first.
    pub overlays: Vec<OverlayWire>,
    /// Templates, in order of first use.
    pub templates: Vec<TemplateWire>,
}

/// A part of a block's colouring.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PartWire {
    /// Its name in the block.
    pub name: String,
    /// Key of the cloth it is cut from, unless a place says otherwise.
    pub cloth: String,
}

/// A patch.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PatchWire {
    /// `star.p3`.
    pub id: String,
    /// Its number in the block, from 1.
    pub number: usize,
    /// Finished outline, anticlockwise.
    pub outline: Vec<EdgeWire>,
    /// What is cut out of it, each clockwise.
    pub holes: Vec<Vec<EdgeWire>>,
    /// Finished area.
    pub area: f64,
    /// Name of its part; missing where no part was named for it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// Id of its template.
    pub template: String,
    /// Direction of the straight grain, in degrees from the x axis.
    pub grain_deg: f64,
    /// A point inside, good for a label.
    pub label: [f64; 2],
}

/// A shape laid over.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OverlayWire {
    /// `star.o1`.
    pub id: String,
    /// Its number in the block, from 1.
    pub number: usize,
    /// Finished outline, anticlockwise.
    pub outline: Vec<EdgeWire>,
    /// Name of its part.
    pub part: String,
    /// Id of its template.
    pub template: String,
}

/// A pattern piece, its straight grain upright.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TemplateWire {
    /// `star.A`.
    pub id: String,
    /// `A`, unique within the block.
    pub letter: String,
    /// What kind of shape it is.
    pub shape: KindWire,
    /// Sewing outline.
    pub finished: Vec<EdgeWire>,
    /// Sewing outlines of holes.
    pub holes: Vec<Vec<EdgeWire>>,
    /// Cut outline; missing where the allowance does not fit, which is a finding.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut: Option<Vec<EdgeWire>>,
    /// Match marks across the allowance.
    pub notches: Vec<NotchWire>,
    /// Patches cut by it in one block.
    pub count: usize,
}

/// A match mark.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct NotchWire {
    /// On the seam line.
    pub from: [f64; 2],
    /// Towards the cut edge.
    pub to: [f64; 2],
}

/// Shapes with a usual way of cutting, in finished sizes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum KindWire {
    /// A square.
    Square {
        /// Its side.
        side: f64,
    },
    /// A rectangle, the longer side along the grain.
    Rectangle {
        /// Longer side.
        long: f64,
        /// Shorter side.
        short: f64,
    },
    /// A right triangle with equal legs, grain along the legs.
    HalfSquare {
        /// Short side.
        leg: f64,
    },
    /// A right triangle with equal legs, grain along the long side.
    QuarterSquare {
        /// Long side.
        long_side: f64,
    },
    /// An equilateral triangle.
    Equilateral {
        /// Its height.
        height: f64,
    },
    /// A diamond.
    Diamond {
        /// Its side.
        side: f64,
        /// Between parallel sides.
        width: f64,
        /// Its sharp angle.
        angle_deg: f64,
    },
    /// A regular hexagon.
    Hexagon {
        /// Its side.
        side: f64,
        /// Between flat sides.
        flats: f64,
    },
    /// Any other shape of straight edges.
    Straight,
    /// A shape with an arc.
    Curved,
    /// A shape laid over.
    Overlay,
}

impl BlockWire {
    pub(super) fn new(quilt: &Quilt, block: &Block, draft: &Draft) -> Self {
        let parts = block.parts.iter();
        Self {
            key: block.key.clone(),
            name: block.name.clone(),
            size: size(draft.size),
            outline: outline(&draft.outline),
            parts: parts
                .map(|part| PartWire { name: part.name.clone(), cloth: quilt.cloths[part.cloth.0].key.clone() })
                .collect(),
            patches: draft.patches.iter().enumerate().map(|(i, patch)| PatchWire::new(block, draft, i + 1, patch)).collect(),
            overlays: draft
                .overlays
                .iter()
                .enumerate()
                .map(|(i, overlay)| OverlayWire::new(block, draft, i + 1, overlay))
                .collect(),
            templates: draft.templates.iter().map(|template| TemplateWire::new(block, template)).collect(),
        }
    }
}

/// Id of a template.
pub(super) fn template_id(block: &Block, draft: &Draft, template: usize) -> String {
    format!("{}.{}", block.key, draft.templates[template].letter)
}

fn part(block: &Block, part: PartId) -> String {
    block.parts[part.0].name.clone()
}

impl PatchWire {
    fn new(block: &Block, draft: &Draft, number: usize, patch: &Patch) -> Self {
        Self {
            id: format!("{}.p{number}", block.key),
            number,
            outline: outline(&patch.outline),
            holes: patch.holes.iter().map(outline).collect(),
            area: length(patch.area),
            part: patch.part.map(|id| part(block, id)),
            template: template_id(block, draft, patch.template),
            grain_deg: length(patch.grain_deg),
            label: point(patch.label),
        }
    }
}

impl OverlayWire {
    fn new(block: &Block, draft: &Draft, number: usize, overlay: &OverlayShape) -> Self {
        Self {
            id: format!("{}.o{number}", block.key),
            number,
            outline: outline(&overlay.outline),
            part: part(block, overlay.part),
            template: template_id(block, draft, overlay.template),
        }
    }
}

impl TemplateWire {
    fn new(block: &Block, template: &Template) -> Self {
        Self {
            id: format!("{}.{}", block.key, template.letter),
            letter: template.letter.clone(),
            shape: KindWire::new(template.kind),
            finished: outline(&template.finished),
            holes: template.holes.iter().map(outline).collect(),
            cut: template.cut.as_ref().map(outline),
            notches: template.notches.iter().map(NotchWire::new).collect(),
            count: template.count,
        }
    }
}

impl NotchWire {
    fn new(notch: &Notch) -> Self {
        Self { from: point(notch.from), to: point(notch.to) }
    }
}

impl KindWire {
    fn new(kind: Kind) -> Self {
        match kind {
            Kind::Square { side } => Self::Square { side: length(side) },
            Kind::Rectangle { long, short } => Self::Rectangle { long: length(long), short: length(short) },
            Kind::HalfSquare { leg } => Self::HalfSquare { leg: length(leg) },
            Kind::QuarterSquare { long_side } => Self::QuarterSquare { long_side: length(long_side) },
            Kind::Equilateral { height } => Self::Equilateral { height: length(height) },
            Kind::Diamond { side, width, angle_deg } => {
                Self::Diamond { side: length(side), width: length(width), angle_deg: length(angle_deg) }
            }
            Kind::Hexagon { side, flats } => Self::Hexagon { side: length(side), flats: length(flats) },
            Kind::Straight => Self::Straight,
            Kind::Curved => Self::Curved,
            Kind::Overlay => Self::Overlay,
        }
    }
}
