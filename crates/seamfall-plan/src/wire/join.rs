//! The joins on the wire.
//!
//! Joins and steps are numbered from 0 in the order they stand in; a part of one is a section by its name or an earlier join by its number.

use super::cutting::WorkingWire;
use super::shape::{length, point};
use crate::Plan;
use crate::join::{CrossSection, Crossing, Join, Joins, LayerKind, Order, Part, Side, Step, instructions};
use schemars::JsonSchema;
use seamfall_model::{ClothId, JoinOrder, Quilt};
use serde::Serialize;

/// How the sections are joined.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JoinsWire {
    /// Orders that can be had, the simplest first.
    pub orders: Vec<JoinOrderWire>,
    /// Those that cannot.
    pub left_out: Vec<LeftOutWire>,
    /// The order that is recommended; nothing where there is none.
    pub recommended: Option<JoinOrderKind>,
    /// Why.
    pub reason: String,
    /// The order that is taken.
    pub taken: Option<JoinOrderKind>,
    /// Its steps.
    pub steps: Vec<StepWire>,
    /// A join cut across.
    pub cross_section: CrossSectionWire,
}

/// Kinds of order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum JoinOrderKind {
    /// Sections into rows, then the rows.
    Rows,
    /// Sections into columns, then the columns.
    Columns,
    /// Always two groups that are as nearly equal as can be.
    Halves,
    /// The least weight at the machine.
    Best,
}

/// An order of joins.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JoinOrderWire {
    /// Its kind.
    pub kind: JoinOrderKind,
    /// Its joins.
    pub joins: Vec<SewnJoinWire>,
    /// Joins within rows or columns; nothing for other orders.
    pub within: Option<usize>,
    /// Joins between them.
    pub between: Option<usize>,
    /// The longest seam.
    pub longest: WorkingWire,
    /// What lies at the machine in the heaviest join, in grams.
    pub heaviest: WorkingWire,
    /// What lies at the machine over all that is still to be sewn, in grams.
    pub mean_weight: WorkingWire,
    /// Length sewn at the machine.
    pub machine: WorkingWire,
    /// Length sewn by hand.
    pub hand: WorkingWire,
    /// Hours.
    pub hours: WorkingWire,
    /// Crossings that stack.
    pub stacks: usize,
    /// Whether it is proven that no order keeps the weight at the machine lower.
    pub is_best: bool,
}

/// A join of an order.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SewnJoinWire {
    /// What lies to the left of its seam.
    pub left: PartOfJoinWire,
    /// What lies to the right.
    pub right: PartOfJoinWire,
    /// Where its seam starts.
    pub from: [f64; 2],
    /// Where it ends.
    pub to: [f64; 2],
    /// What both parts weigh, in grams.
    pub weight: f64,
    /// Whether it is sewn already.
    pub sewn: bool,
}

/// A side of a join.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum PartOfJoinWire {
    /// A section: `S3`.
    Section(String),
    /// What an earlier join of the order made.
    Join(usize),
}

/// An order that cannot be had.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeftOutWire {
    /// Its kind.
    pub kind: JoinOrderKind,
    /// Why.
    pub reason: String,
}

/// What is done at a join.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StepWire {
    /// Sections to the left of its seam.
    pub left: Vec<String>,
    /// Sections to its right.
    pub right: Vec<String>,
    /// Where its seam starts.
    pub from: [f64; 2],
    /// Where it ends.
    pub to: [f64; 2],
    /// Whether it is sewn already.
    pub sewn: bool,
    /// The side to which the allowance of the fronts falls, whose backing lies flat and whose batting is cut back.
    pub falls_to: JoinSideWire,
    /// Whether that is how the falls of the top have it; nothing where they have none.
    pub as_the_top: Option<bool>,
    /// The later steps whose seams pass at its start and at its end; nothing at the edge of the quilt.
    pub ends_on: [Option<usize>; 2],
    /// Whether an allowance is left free at its start and at its end.
    pub free: [bool; 2],
    /// How far hand stitching stops from a trimmed edge that is still to be joined.
    pub stops_short: WorkingWire,
    /// What both parts weigh, in grams.
    pub weight: WorkingWire,
    /// Pins, in and out.
    pub pins: WorkingWire,
    /// Clips, in and out.
    pub clips: WorkingWire,
    /// Slip stitches on its back.
    pub slip_stitches: WorkingWire,
    /// Where earlier joins end on it.
    pub crossings: Vec<CrossingWire>,
    /// A corner at which it turns.
    pub set_in: Option<[f64; 2]>,
    /// Cloth whose colour the thread of the front has.
    pub front_thread: Option<String>,
    /// Cloth whose colour the thread of the back has.
    pub back_thread: Option<String>,
    /// Hanging threads that are taken up after it.
    pub hanging: Vec<TakenUpWire>,
    /// Lines that are quilted after it.
    pub waiting: Vec<WaitingWire>,
    /// All that in sentences.
    pub instructions: Vec<String>,
}

/// A side of a seam in its direction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum JoinSideWire {
    /// To the left.
    Left,
    /// To the right.
    Right,
}

/// Where earlier joins end on a later one.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CrossingWire {
    /// Where.
    pub at: [f64; 2],
    /// The earlier step on its left.
    pub left: Option<usize>,
    /// The earlier step on its right.
    pub right: Option<usize>,
    /// Whether they nest.
    pub nests: Option<bool>,
    /// Layers of cloth of the joined quilt.
    pub layers: u32,
    /// How thick it is.
    pub thickness: WorkingWire,
    /// Layers of cloth under the foot.
    pub layers_under_the_foot: u32,
    /// How thick that is.
    pub under_the_foot: WorkingWire,
    /// Whether the machine will balk.
    pub balks: bool,
}

/// A thread that is taken up.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakenUpWire {
    /// Its section.
    pub section: String,
    /// Where it hangs.
    pub at: [f64; 2],
}

/// A line that waited.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WaitingWire {
    /// Its section.
    pub section: String,
    /// Its number among the lines of the section's pattern that are quilted after a join, from 0.
    pub after_join: usize,
}

/// A join cut across: 0 is the seam, to the right lies the side to which the fronts fall.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CrossSectionWire {
    /// Whether one batting is caught.
    pub caught: bool,
    /// Whether the batting is too thick for that.
    pub too_thick: bool,
    /// How much batting is cut back on the side to which the fronts fall.
    pub cut_back_towards: WorkingWire,
    /// And on the other.
    pub cut_back_away: WorkingWire,
    /// Layers from the front to the back.
    pub layers: Vec<LayerWire>,
}

/// A layer of it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LayerWire {
    /// What it is.
    pub kind: LayerKindWire,
    /// Whether it is of the side to which the fronts fall.
    pub towards: bool,
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How thick it is.
    pub thickness: f64,
}

/// What a layer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LayerKindWire {
    /// A front.
    Front,
    /// The allowance of a front.
    Allowance,
    /// A batting.
    Batting,
    /// The backing that lies flat.
    FlatBacking,
    /// What is turned under of the other.
    TurnedUnder,
    /// The other backing.
    Backing,
}

fn kind(order: JoinOrder) -> JoinOrderKind {
    match order {
        JoinOrder::Rows => JoinOrderKind::Rows,
        JoinOrder::Columns => JoinOrderKind::Columns,
        JoinOrder::Halves => JoinOrderKind::Halves,
        JoinOrder::Best => JoinOrderKind::Best,
    }
}

impl JoinsWire {
    pub(super) fn new(quilt: &Quilt, plan: &Plan) -> Self {
        let joins = &plan.join;
        let of = |number: usize| joins.orders.get(number).map(|order| kind(order.kind));
        let left_out = joins.left_out.iter().map(|(order, reason)| LeftOutWire { kind: kind(*order), reason: reason.clone() });
        Self {
            orders: joins.orders.iter().map(|order| JoinOrderWire::new(plan, order)).collect(),
            left_out: left_out.collect(),
            recommended: of(joins.recommended),
            reason: joins.reason.clone(),
            taken: of(joins.taken),
            steps: (0..joins.steps.len()).map(|number| StepWire::new(quilt, plan, number)).collect(),
            cross_section: CrossSectionWire::new(&joins.manner.section),
        }
    }
}

impl JoinOrderWire {
    fn new(plan: &Plan, order: &Order) -> Self {
        Self {
            kind: kind(order.kind),
            joins: order.joins.iter().map(|join| SewnJoinWire::new(plan, join)).collect(),
            within: order.within_and_between.map(|[within, _]| within),
            between: order.within_and_between.map(|[_, between]| between),
            longest: WorkingWire::new(&order.longest),
            heaviest: WorkingWire::new(&order.heaviest),
            mean_weight: WorkingWire::new(&order.mean_weight),
            machine: WorkingWire::new(&order.machine),
            hand: WorkingWire::new(&order.hand),
            hours: WorkingWire::new(&order.hours),
            stacks: order.stacks,
            is_best: order.is_best(),
        }
    }
}

impl SewnJoinWire {
    fn new(plan: &Plan, join: &Join) -> Self {
        let part = |part: Part| match part {
            Part::Section(section) => PartOfJoinWire::Section(plan.top.sections[section].name.clone()),
            Part::Join(join) => PartOfJoinWire::Join(join),
        };
        Self {
            left: part(join.parts[0]),
            right: part(join.parts[1]),
            from: point(join.seam[0]),
            to: point(join.seam[1]),
            weight: plan.join.manner.weight(join.area).value,
            sewn: join.sewn,
        }
    }
}

impl StepWire {
    fn new(quilt: &Quilt, plan: &Plan, number: usize) -> Self {
        let (joins, step): (&Joins, &Step) = (&plan.join, &plan.join.steps[number]);
        let (manner, long) = (&joins.manner, step.join.length());
        let name = |section: usize| plan.top.sections[section].name.clone();
        let [left, right] = step.join.parts.map(|part| joins.sections(part).into_iter().map(name).collect());
        let cloth = |id: Option<ClothId>| id.and_then(|id| quilt.cloths.get(id.0)).map(|cloth| cloth.key.clone());
        let after = |section: usize, line: usize| {
            let lines = &plan.lap.patterns[plan.lap.sections[section].pattern].lines;
            lines[..line].iter().filter(|one| !one.now).count()
        };
        Self {
            left,
            right,
            from: point(step.join.seam[0]),
            to: point(step.join.seam[1]),
            sewn: step.join.sewn,
            falls_to: if step.falls_to == 0 { JoinSideWire::Left } else { JoinSideWire::Right },
            as_the_top: step.as_the_top,
            ends_on: step.ends,
            free: step.free,
            stops_short: WorkingWire::new(&manner.stops_short()),
            weight: WorkingWire::new(&manner.weight(step.join.area)),
            pins: WorkingWire::new(&manner.pins(long, step.crossings.len())),
            clips: WorkingWire::new(&manner.clips(long)),
            slip_stitches: WorkingWire::new(&manner.slip_stitches(long)),
            crossings: step.crossings.iter().map(|crossing| CrossingWire::new(plan, crossing)).collect(),
            set_in: step.set_in.map(point),
            front_thread: cloth(step.front_thread),
            back_thread: cloth(step.back_thread),
            hanging: step.hanging.iter().map(|one| TakenUpWire { section: name(one.section), at: point(one.at) }).collect(),
            waiting: step
                .waiting
                .iter()
                .map(|one| WaitingWire { section: name(one.section), after_join: after(one.section, one.line) })
                .collect(),
            instructions: instructions(quilt, &plan.top, joins, number),
        }
    }
}

impl CrossingWire {
    fn new(plan: &Plan, crossing: &Crossing) -> Self {
        let manner = &plan.join.manner;
        Self {
            at: point(crossing.at),
            left: crossing.ends[0],
            right: crossing.ends[1],
            nests: crossing.nests,
            layers: crossing.layers,
            thickness: WorkingWire::new(&manner.thickness(crossing.layers)),
            layers_under_the_foot: crossing.under_the_foot,
            under_the_foot: WorkingWire::new(&manner.under_the_foot(crossing.under_the_foot)),
            balks: crossing.balks,
        }
    }
}

impl CrossSectionWire {
    fn new(section: &CrossSection) -> Self {
        let kind = |kind| match kind {
            LayerKind::Front => LayerKindWire::Front,
            LayerKind::Allowance => LayerKindWire::Allowance,
            LayerKind::Batting => LayerKindWire::Batting,
            LayerKind::FlatBacking => LayerKindWire::FlatBacking,
            LayerKind::TurnedUnder => LayerKindWire::TurnedUnder,
            LayerKind::Backing => LayerKindWire::Backing,
        };
        let layers = section.layers.iter().map(|layer| LayerWire {
            kind: kind(layer.kind),
            towards: layer.side == Side::Towards,
            from: length(layer.from),
            to: length(layer.to),
            thickness: length(section.thickness(layer)),
        });
        Self {
            caught: section.caught,
            too_thick: section.too_thick,
            cut_back_towards: WorkingWire::new(&section.cut_back(Side::Towards)),
            cut_back_away: WorkingWire::new(&section.cut_back(Side::Away)),
            layers: layers.collect(),
        }
    }
}
