//! The cut list on the wire, with its workings.

use super::block::template_id;
use super::shape::{EdgeWire, length, outline};
use crate::Plan;
use crate::cut::{CutPiece, MotifCut, Use, Way};
use schemars::JsonSchema;
use seamfall_model::{Quilt, Working};
use serde::Serialize;

/// Pieces of one size, cut from one cloth in one way.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CutPieceWire {
    /// `c1`.
    pub name: String,
    /// Key of the cloth, or `batting`.
    pub of: String,
    /// Pieces sewn.
    pub needed: usize,
    /// Squares, rectangles, strips or template pieces cut for them.
    pub cut: usize,
    /// How they are cut.
    pub way: WayWire,
    /// Across: along the width of the cloth where its print has a direction.
    pub width: WorkingWire,
    /// Along.
    pub length: WorkingWire,
    /// `along`: in one piece along the selvage; else `across`.
    pub grain: String,
    /// Strips that it is joined from, where the cloth is not wide enough.
    pub joined: Option<WorkingWire>,
    /// Where it shows a motif: how that is found on the cloth, piece by piece.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motif: Option<MotifWire>,
    /// What they are for.
    pub uses: Vec<UseWire>,
}

/// How pieces are cut.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum WayWire {
    /// As they are: squares or rectangles.
    Rectangle,
    /// From squares cut once from corner to corner.
    HalfSquare,
    /// From squares cut twice from corner to corner.
    QuarterSquare,
    /// For units made in a faster way: squares, or strips of a strip set, sewn before they are cut up.
    Unit {
        /// `two`, `eight`, `four` or `strips`, as in the quilt file.
        making: String,
    },
    /// From strips joined end to end.
    Joined,
    /// As rectangles long enough for mitred ends.
    Mitred,
    /// By a template.
    Template {
        /// Cut outline, grain upright.
        outline: Vec<EdgeWire>,
        /// Whether the template lies on its face.
        reversed: bool,
    },
}

/// What pieces are for.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum UseWire {
    /// Patches of a block.
    Template {
        /// Id of the template: `star.A`.
        template: String,
        /// Pieces sewn.
        count: usize,
    },
    /// Pieces of the top outside the blocks.
    Top {
        /// In words: `band 1, left and right`.
        what: String,
        /// Pieces sewn.
        count: usize,
    },
    /// Backing, batting, binding, practice pieces.
    Besides {
        /// In words: `backing of the sections`.
        what: String,
        /// Pieces.
        count: usize,
    },
}

/// A number and how it came about.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WorkingWire {
    /// What it is.
    pub what: String,
    /// After rounding.
    pub value: f64,
    /// Before rounding.
    pub exact: f64,
    /// In words: `finished + allowance × 2`.
    pub words: String,
    /// In numbers: `5 + 0.25 × 2`.
    pub numbers: String,
    /// The rule, in one sentence.
    pub rule: String,
    /// Where the rule comes from.
    pub source: String,
}

impl WorkingWire {
    pub(super) fn new(working: &Working) -> Self {
        Self {
            what: working.what.clone(),
            value: length(working.value),
            exact: length(working.exact),
            words: working.words.clone(),
            numbers: working.numbers.clone(),
            rule: working.rule.sentence().to_owned(),
            source: working.rule.source().to_owned(),
        }
    }
}

impl CutPieceWire {
    pub(super) fn new(quilt: &Quilt, plan: &Plan, piece: &CutPiece) -> Self {
        let uses = piece.uses.iter().map(|each| match each {
            Use::Template { block, template, count } => UseWire::Template {
                template: template_id(&quilt.blocks[block.0], &plan.drafts[block.0], *template),
                count: *count,
            },
            Use::Top { what, count, .. } => UseWire::Top { what: what.clone(), count: *count },
            Use::Besides { what, count } => UseWire::Besides { what: what.clone(), count: *count },
        });
        Self {
            name: piece.name.clone(),
            of: piece.of.key(quilt).to_owned(),
            needed: piece.needed,
            cut: piece.cut,
            way: match &piece.way {
                Way::Rectangle => WayWire::Rectangle,
                Way::HalfSquare => WayWire::HalfSquare,
                Way::QuarterSquare => WayWire::QuarterSquare,
                Way::Unit(making) => WayWire::Unit { making: making.word().to_owned() },
                Way::Joined { .. } => WayWire::Joined,
                Way::Mitred => WayWire::Mitred,
                Way::Template { outline: edges, reversed } => WayWire::Template { outline: outline(edges), reversed: *reversed },
            },
            width: WorkingWire::new(&piece.width),
            length: WorkingWire::new(&piece.length),
            grain: piece.grain.word().to_owned(),
            joined: piece.joined.as_ref().map(WorkingWire::new),
            motif: piece.motif.as_ref().map(MotifWire::new),
            uses: uses.collect(),
        }
    }
}

/// How pieces that show a motif are got out of their cloth.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MotifWire {
    /// Number of the motif in the file, from 1.
    pub motif: usize,
    /// Motifs side by side, wherever the print begins; nothing where not even one is sure.
    pub across: Option<WorkingWire>,
    /// Rows of them.
    pub rows: WorkingWire,
    /// Length of cloth in which all are found for sure.
    pub length: WorkingWire,
    /// No length is less.
    pub least: WorkingWire,
}

impl MotifWire {
    fn new(cut: &MotifCut) -> Self {
        Self {
            motif: cut.motif + 1,
            across: cut.across.as_ref().map(WorkingWire::new),
            rows: WorkingWire::new(&cut.rows),
            length: WorkingWire::new(&cut.length),
            least: WorkingWire::new(&cut.least),
        }
    }
}
