//! How units are made, on the wire: the faster ways there are, and which is taken.

use super::WorkingWire;
use super::shape::length;
use crate::Plan;
use crate::cut::{CutFor, FasterWay, Material, UnitMaking, Way};
use crate::words;
use schemars::JsonSchema;
use seamfall_model::{MakingWay, Quilt};
use serde::Serialize;

/// A unit that can be made faster than patch by patch.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MakingWire {
    /// Id of the unit: `u3`.
    pub unit: String,
    /// What it is, in words: `half-square unit, 3`.
    pub what: String,
    /// How many are needed. A row that is part of a longer row is not counted.
    pub count: usize,
    /// Patches it can be named by in the quilt file: `star.p3`, those of its first block.
    pub patches: Vec<String>,
    /// The way that is taken.
    pub taken: MakingWayWire,
    /// Whether the quilt file says so.
    pub chosen: bool,
    /// The faster ways, the fastest first.
    pub ways: Vec<FasterWayWire>,
}

/// How a unit is made, as in the quilt file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MakingWayWire {
    /// Every patch cut by itself.
    Plain,
    /// Two at a time.
    Two,
    /// Eight at a time.
    Eight,
    /// Four at a time.
    Four,
    /// Strips sewn side by side and cut across.
    Strips,
}

/// A faster way.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FasterWayWire {
    /// Which.
    pub way: MakingWayWire,
    /// What is cut for it.
    pub from: Vec<CutForWire>,
    /// How many are made at a time.
    pub at_a_time: usize,
    /// How often.
    pub batches: WorkingWire,
    /// How many are over.
    pub over: usize,
    /// Whether half of what is made is mirrored, and over.
    pub mirrored: bool,
    /// Of a strip set: where it is cut across.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cut_across: Option<WorkingWire>,
    /// Of a strip set: how many units it gives.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub a_set: Option<WorkingWire>,
}

/// Squares or strips cut for a unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CutForWire {
    /// Key of the cloth.
    pub cloth: String,
    /// How many for one batch.
    pub a_batch: usize,
    /// Cut width.
    pub width: WorkingWire,
    /// Cut length.
    pub length: WorkingWire,
    /// Finished area of a patch that comes from it.
    pub patch_area: f64,
    /// Its piece in the cut list, where this way is taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
}

impl From<MakingWay> for MakingWayWire {
    fn from(way: MakingWay) -> Self {
        match way {
            MakingWay::Plain => Self::Plain,
            MakingWay::TwoAtATime => Self::Two,
            MakingWay::EightAtATime => Self::Eight,
            MakingWay::FourAtATime => Self::Four,
            MakingWay::StripSet => Self::Strips,
        }
    }
}

impl MakingWire {
    pub(super) fn new(quilt: &Quilt, plan: &Plan, number: usize, making: &UnitMaking) -> Self {
        let first = plan.making.looks.iter().find(|look| look.units.contains(&Some(number)));
        let patches = first.map_or_else(Vec::new, |look| {
            let own = look.units.iter().enumerate().filter(|(_, unit)| **unit == Some(number));
            own.map(|(patch, _)| format!("{}.p{}", quilt.blocks[look.block.0].key, patch + 1)).collect()
        });
        let way = |(way, faster): (usize, &FasterWay)| FasterWayWire::new(quilt, plan, faster, making.taken == Some(way));
        Self {
            unit: plan.units.all[making.unit].name.clone(),
            what: words::unit_kind(quilt, &making.kind),
            count: making.count,
            patches,
            taken: making.faster().map_or(MakingWay::Plain, |way| way.way).into(),
            chosen: making.is_chosen,
            ways: making.ways.iter().enumerate().map(way).collect(),
        }
    }
}

impl FasterWayWire {
    fn new(quilt: &Quilt, plan: &Plan, faster: &FasterWay, is_taken: bool) -> Self {
        let from = faster.from.iter().map(|from| CutForWire {
            cloth: quilt.cloths[from.cloth.0].key.clone(),
            a_batch: from.a_batch,
            width: WorkingWire::new(&from.width),
            length: WorkingWire::new(&from.length),
            patch_area: length(from.patch_area),
            piece: if is_taken { piece(plan, faster, from) } else { None },
        });
        Self {
            way: faster.way.into(),
            from: from.collect(),
            at_a_time: faster.at_a_time,
            batches: WorkingWire::new(&faster.batches),
            over: faster.over,
            mirrored: faster.has_mirrored,
            cut_across: faster.set.as_ref().map(|set| WorkingWire::new(&set.cut)),
            a_set: faster.set.as_ref().map(|set| WorkingWire::new(&set.units)),
        }
    }
}

/// Name of the entry in the cut list.
fn piece(plan: &Plan, faster: &FasterWay, from: &CutFor) -> Option<String> {
    let mut pieces =
        plan.cutting.pieces.iter().filter(|piece| piece.of == Material::Cloth(from.cloth) && piece.way == Way::Unit(faster.way));
    pieces
        .find(|piece| {
            (piece.width.exact - from.width.exact).abs() < 1e-4 && (piece.length.exact - from.length.exact).abs() < 1e-4
        })
        .map(|piece| piece.name.clone())
}
