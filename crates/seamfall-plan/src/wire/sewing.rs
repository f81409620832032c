//! Units, orders, falls and meetings on the wire.
//!
//! Names: piece 3 of block `star` is its patch `star.p3`; the second piece of the frame of design `star+shade` is `star+shade.f2`; seams
//! and joins of a design are `star+shade.s4` and `star+shade.j2`, the same seam where it stands `B3.s4`, those of the top `top.s7` and
//! `top.j1`. Seams and joins are numbered in the order taken.

use super::shape::{EdgeWire, edge, length, outline, point};
use crate::Plan;
use crate::fall::{Count, Fall, Meeting, Proof, Stack, State, seam_name};
use crate::piece::{BendKind, Design, Seam, Sewing, Sewn, TopRef, Unit, UnitPart};
use schemars::JsonSchema;
use seamfall_model::{Pressings, Quilt};
use seamfall_solve::Argument;
use serde::Serialize;

/// How the quilt is sewn and pressed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SewingWire {
    /// What is sewn alike, parts before wholes.
    pub units: Vec<UnitWire>,
    /// Blocks with their frames, each sewn in the order taken.
    pub designs: Vec<DesignWire>,
    /// The top, sewn in the order taken.
    pub top: OrderWire,
    /// How each seam of the top falls, in the order of its seams.
    pub top_falls: Vec<FallWire>,
    /// Every meeting.
    pub meetings: Vec<MeetingWire>,
    /// The meetings that stack, with the reason and the way out.
    pub stacks: Vec<StackWire>,
    /// Stacks for one, two, three and four pressings a block, and for every copy by itself.
    pub counts: Vec<CountWire>,
    /// Which of the counts is taken, from 0.
    pub taken: usize,
    /// Most layers of cloth at one point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickest: Option<ThickestWire>,
}

/// A unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct UnitWire {
    /// `u1`.
    pub id: String,
    /// How many the quilt takes.
    pub count: usize,
    /// What it is sewn from: units, or `cloth:` and the key of a cloth for a single piece.
    pub parts: [String; 2],
    /// How often this step bends.
    pub bends: usize,
    /// Keys of the blocks it is used in.
    pub blocks: Vec<String>,
    /// Whether it is a whole block, with its frame.
    pub whole: bool,
    /// Its pieces, as they lie where it is first used.
    pub pieces: Vec<UnitPieceWire>,
}

/// A piece of a unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct UnitPieceWire {
    /// Key of its cloth.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cloth: Option<String>,
    /// Finished outline.
    pub outline: Vec<EdgeWire>,
}

/// A block with its frame.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DesignWire {
    /// `star+shade`.
    pub id: String,
    /// Key of the block.
    pub block: String,
    /// Whether it is sewn as its mirror image; everything here is drawn unmirrored.
    pub mirrored: bool,
    /// Names of the places that hold it.
    pub places: Vec<String>,
    /// How it is sewn.
    pub order: OrderWire,
    /// How it is pressed: one entry for each way.
    pub pressings: Vec<PressingWire>,
}

/// An order of sewing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OrderWire {
    /// Steps: two parts sewn together.
    pub joins: Vec<JoinWire>,
    /// Seams.
    pub seams: Vec<SeamWire>,
    /// How often seams bend in all, and how often in any order at least.
    pub bends: [usize; 2],
}

/// Two parts sewn together.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JoinWire {
    /// `star.j1`.
    pub id: String,
    /// What lies left of its seams: a piece or a join.
    pub left: String,
    /// What lies right of its seams.
    pub right: String,
    /// Its seams.
    pub seams: Vec<String>,
    /// Where it bends.
    pub bends: Vec<BendWire>,
}

/// A bend.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BendWire {
    /// Where.
    pub at: [f64; 2],
    /// Whether a seam sewn in part before is finished here; else the corner is set in.
    pub partial: bool,
}

/// A seam.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SeamWire {
    /// `star.s1`.
    pub id: String,
    /// Its course, from its start on.
    pub course: Vec<EdgeWire>,
    /// Its length.
    pub length: f64,
    /// The pieces along it, left and right, stretch by stretch.
    pub between: Vec<[String; 2]>,
    /// The seam it finishes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub continues: Option<String>,
}

/// One way to press a design.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PressingWire {
    /// The places pressed so.
    pub places: Vec<String>,
    /// How each seam falls.
    pub falls: Vec<FallWire>,
}

/// To which side of its direction a seam falls.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FallWire {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Pressed open.
    Open,
}

/// Two earlier seams that come together in a later one.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MeetingWire {
    /// Where in the top.
    pub at: [f64; 2],
    /// The later seam.
    pub seam: String,
    /// The seams that come together.
    pub meet: [String; 2],
    /// How.
    pub state: StateWire,
    /// Layers of cloth.
    pub layers: u32,
    /// What a stack weighs here.
    pub weight: u32,
}

/// How two seams meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StateWire {
    /// They fall to opposite sides.
    Nests,
    /// They fall to the same side.
    Stacks,
    /// One of them at least is pressed open.
    Flat,
}

/// A meeting that stacks.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StackWire {
    /// Number of the meeting in the list, from 0.
    pub meeting: usize,
    /// Where, in words.
    pub place: String,
    /// Why it cannot nest.
    pub reason: String,
    /// What can be done.
    pub ways_out: Vec<String>,
}

/// How many stacks remain.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CountWire {
    /// `1` to `4` pressings a block, or `own` for every copy by itself.
    pub pressings: String,
    /// Meetings that stack.
    pub stacks: usize,
    /// What is made least: the weight of all stacks.
    pub objective: u64,
    /// No fall and no natural order has less.
    pub bound: u64,
    /// The argument for the bound.
    pub by: ArgumentWire,
    /// Whether objective and bound meet.
    pub proven: bool,
}

/// Why there is nothing below a bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ArgumentWire {
    /// Nothing stacks at all.
    Balanced,
    /// Every seam end is in one meeting at most, and an odd ring costs its cheapest.
    Rings,
    /// Steps that keep the least led to nothing left, or to a rest of which nothing is said.
    Reduced,
    /// All cases, variable by variable.
    Elimination,
    /// Odd cycles that share nothing.
    Cycles,
    /// All cases but those that a bound rules out.
    Search,
    /// Variable by variable over parts of the cases, each part at its own least.
    Buckets,
    /// Nodes without which more odd parts are left than they are; said of paths, never of falls.
    Barrier,
    /// At every level between two sizes at least so many neighbours differ; said of placings, never of falls.
    Levels,
    /// What every section costs by itself at its place, dealt out as cheaply as can be; said of placings, never of falls.
    Dealt,
    /// What each block costs by itself in its best order, over its copies.
    Alone,
}

/// The thickest point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ThickestWire {
    /// Layers.
    pub layers: u32,
    /// Where in the top.
    pub at: [f64; 2],
}

impl SewingWire {
    pub(super) fn new(quilt: &Quilt, plan: &Plan) -> Self {
        let (piecing, falls) = (&plan.piecing, &plan.falls);
        let designs = piecing.designs.iter().enumerate();
        let top = falls.top_sewing(piecing);
        Self {
            units: plan.units.all.iter().map(|unit| UnitWire::new(quilt, plan, unit)).collect(),
            designs: designs.map(|(number, design)| DesignWire::new(quilt, plan, number, design)).collect(),
            top: OrderWire::new(top, "top", &|piece| top_piece(plan, piece)),
            top_falls: falls.top.iter().map(|fall| FallWire::new(*fall)).collect(),
            meetings: falls.meetings.iter().map(|meeting| MeetingWire::new(plan, meeting)).collect(),
            stacks: falls.stacks.iter().map(StackWire::new).collect(),
            counts: falls.counts.iter().map(CountWire::new).collect(),
            taken: falls.taken,
            thickest: falls.thickest.map(|(layers, at)| ThickestWire { layers, at: point(at) }),
        }
    }
}

/// Name of a piece of the top.
fn top_piece(plan: &Plan, piece: usize) -> String {
    match plan.piecing.top_pieces[piece] {
        TopRef::Place(place) => plan.top.places[place].name.clone(),
        TopRef::Strip(strip) => plan.top.strips[strip].name.clone(),
    }
}

impl UnitWire {
    fn new(quilt: &Quilt, plan: &Plan, unit: &Unit) -> Self {
        let cloth = |piece: usize| unit.pieces[piece].cloth.map(|cloth| quilt.cloths[cloth.0].key.clone());
        let part = |part: &UnitPart| match *part {
            UnitPart::Unit(number) => plan.units.all[number].name.clone(),
            UnitPart::Piece(piece) => format!("cloth:{}", cloth(piece).unwrap_or_default()),
        };
        let piece = |number: usize| UnitPieceWire { cloth: cloth(number), outline: outline(&unit.pieces[number].outline) };
        Self {
            id: unit.name.clone(),
            count: unit.count,
            parts: [part(&unit.parts[0]), part(&unit.parts[1])],
            bends: unit.bends,
            blocks: unit.blocks.iter().map(|block| quilt.blocks[block.0].key.clone()).collect(),
            whole: unit.is_whole,
            pieces: (0..unit.pieces.len()).map(piece).collect(),
        }
    }
}

impl DesignWire {
    fn new(quilt: &Quilt, plan: &Plan, number: usize, design: &Design) -> Self {
        let key = &quilt.blocks[design.block.0].key;
        let piece = |piece: usize| match piece.checked_sub(design.parts.len()) {
            None => format!("{key}.p{}", piece + 1),
            Some(frame) => format!("{}.f{}", design.name, frame + 1),
        };
        let places = |pressing: Option<usize>| {
            let here = |place: &usize| {
                plan.piecing.holds[*place].design == number
                    && pressing.is_none_or(|pressing| plan.falls.of_place[*place] == pressing)
            };
            (0..plan.top.places.len()).filter(here).map(|place| plan.top.places[place].name.clone()).collect()
        };
        let pressings = plan.falls.pressings[number].iter().enumerate();
        let pressings = pressings.map(|(number, pressing)| PressingWire {
            places: places(Some(number)),
            falls: pressing.falls.iter().map(|fall| FallWire::new(*fall)).collect(),
        });
        Self {
            id: design.name.clone(),
            block: key.clone(),
            mirrored: design.mirrored,
            places: places(None),
            order: OrderWire::new(plan.falls.sewing(&plan.piecing, number), &design.name, &piece),
            pressings: pressings.collect(),
        }
    }
}

impl OrderWire {
    fn new(sewing: &Sewing, name: &str, piece: &dyn Fn(usize) -> String) -> Self {
        let part = |sewn: Sewn| match sewn {
            Sewn::Piece(number) => piece(number),
            Sewn::Join(number) => format!("{name}.j{}", number + 1),
        };
        let id = |seam: usize| format!("{name}.s{}", seam + 1);
        let joins = sewing.joins.iter().enumerate().map(|(number, join)| JoinWire {
            id: format!("{name}.j{}", number + 1),
            left: part(join.left),
            right: part(join.right),
            seams: join.seams.iter().map(|seam| id(*seam)).collect(),
            bends: join
                .bends
                .iter()
                .map(|bend| BendWire { at: point(bend.at), partial: bend.kind == BendKind::Partial })
                .collect(),
        });
        let seams = sewing.seams.iter().enumerate().map(|(number, seam): (usize, &Seam)| SeamWire {
            id: id(number),
            course: seam.edges().iter().map(edge).collect(),
            length: length(seam.length()),
            between: seam.course.iter().map(|stretch| [piece(stretch.left), piece(stretch.right)]).collect(),
            continues: seam.continues.map(|continued| id(continued.seam)),
        });
        Self { joins: joins.collect(), seams: seams.collect(), bends: [sewing.bends, sewing.bends_bound] }
    }
}

impl FallWire {
    fn new(fall: Fall) -> Self {
        match fall {
            Fall::Left => Self::Left,
            Fall::Right => Self::Right,
            Fall::Open => Self::Open,
        }
    }
}

impl MeetingWire {
    fn new(plan: &Plan, meeting: &Meeting) -> Self {
        Self {
            at: point(meeting.at),
            seam: seam_name(plan, meeting.seam),
            meet: [seam_name(plan, meeting.left), seam_name(plan, meeting.right)],
            state: match meeting.state {
                State::Nests => StateWire::Nests,
                State::Stacks => StateWire::Stacks,
                State::Flat => StateWire::Flat,
            },
            layers: meeting.layers,
            weight: meeting.weight,
        }
    }
}

impl StackWire {
    fn new(stack: &Stack) -> Self {
        Self {
            meeting: stack.meeting,
            place: stack.place.clone(),
            reason: stack.reason.clone(),
            ways_out: stack.ways_out.clone(),
        }
    }
}

impl CountWire {
    fn new(count: &Count) -> Self {
        Self {
            pressings: match count.pressings {
                Pressings::Shared(many) => many.to_string(),
                Pressings::Own => "own".to_owned(),
            },
            stacks: count.stacks,
            objective: count.weight,
            bound: count.bound,
            by: match count.by {
                Proof::Alone => ArgumentWire::Alone,
                Proof::Solved(argument) => ArgumentWire::new(argument),
            },
            proven: count.is_proven(),
        }
    }
}

impl ArgumentWire {
    /// The word for what the solver says.
    pub(super) fn new(argument: Argument) -> Self {
        match argument {
            Argument::Balanced => Self::Balanced,
            Argument::Rings => Self::Rings,
            Argument::Reduced => Self::Reduced,
            Argument::Elimination => Self::Elimination,
            Argument::Cycles => Self::Cycles,
            Argument::Search => Self::Search,
            Argument::Buckets => Self::Buckets,
            Argument::Barrier => Self::Barrier,
            Argument::Levels => Self::Levels,
            Argument::Dealt => Self::Dealt,
        }
    }
}
