//! The sewing order: patches into units, units into blocks, blocks and strips into the top.
//!
//! In: drafts and the top. Out: for every design (a block with its frame) and for the top the natural orders in which it can be sewn,
//! each with its seams and the points at which earlier seams meet a later one. Which order is taken is for the fall to say, as it
//! can be the whole difference between many stacks and none.
//!
//! In the order of work: `mesh` finds the stretches between pieces, `cuts` the full seams, `bends` what is done where there is
//! none, `order` the orders, `sew` the seams and their points.

mod bends;
mod cuts;
mod design;
mod foundation;
mod memo;
mod mesh;
mod order;
mod sew;
#[cfg(test)]
mod tests;
mod units;
mod ways;

use crate::{Staged, Wanted, draft::Draft, set::Top};
use seamfall_geom::{Edge, Loop, Point};
use seamfall_model::{BlockId, Finding, FrameId, PartId, Quilt, Spot};

pub use foundation::{Foundation, FoundationSection, FoundationStep, JoinedPart, NoFoundation, SectionJoin, foundation};
pub use memo::Memo;
pub use order::Sewn;
use std::sync::Arc;
use tr::tr;
pub use units::{Look, Unit, UnitPart, UnitPiece, Units, units};
pub use ways::{UnitKind, unit_kind};

/// How everything can be sewn.
#[derive(Debug, Clone, PartialEq)]
pub struct Piecing {
    /// What stands at places, each design once, in order of first use.
    pub designs: Vec<Design>,
    /// For each place of the top what it holds.
    pub holds: Vec<Held>,
    /// The pieces the top is sewn of.
    pub top_pieces: Vec<TopRef>,
    /// The natural orders of the top; its pieces are those of `top_pieces`.
    pub top: Vec<Sewing>,
}

/// A block with its frame, wherever it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// `star`, `star+shade` with frame `shade`, `star.mirrored+shade`; numbered where a frame lies differently.
    pub name: String,
    /// The block.
    pub block: BlockId,
    /// Whether it is sewn as its mirror image. Everything here is drawn unmirrored all the same.
    pub mirrored: bool,
    /// Its frame.
    pub frame: Option<FrameId>,
    /// Part of each patch. Patches are numbered first.
    pub parts: Vec<Option<PartId>>,
    /// Pieces of the frame in the block's coordinates; they are numbered after the patches.
    pub frame_pieces: Vec<Loop>,
    /// The points of its outline at which seams end.
    pub rim: Vec<Point>,
    /// The natural orders.
    pub orders: Arc<Vec<Sewing>>,
}

/// What a place holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Number of the design.
    pub design: usize,
    /// For each piece of the design's frame its number in [`Top::strips`].
    pub frame_strips: Vec<usize>,
}

/// A piece the top is sewn of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TopRef {
    /// A block with its frame, by the number of its place.
    Place(usize),
    /// A strip, by its number in [`Top::strips`].
    Strip(usize),
}

/// One order in which pieces are sewn, and what comes of it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sewing {
    /// Joins in order, each after those it needs.
    pub joins: Vec<Join>,
    /// What all of it becomes; nothing where a part cannot be sewn.
    pub whole: Option<Sewn>,
    /// Seams.
    pub seams: Vec<Seam>,
    /// Points along the seams, seam by seam from its start: its ends, and all at which earlier seams end on it.
    pub points: Vec<SeamPoint>,
    /// What lies on top where seams end on the outline.
    pub rim: Vec<RimEnd>,
    /// How often seams bend.
    pub bends: usize,
    /// No order has fewer bends.
    pub bends_bound: usize,
    /// Pieces for which no seam was found.
    pub stuck: Vec<usize>,
}

impl Sewing {
    /// Whether a seam starts at one of its own ends, else it ends there.
    pub(crate) fn starts_at(&self, point: &SeamPoint) -> bool {
        point.at == self.seams[point.seam].from()
    }

    /// The end of its own seam at a point that is one.
    pub(crate) fn own_end(&self, point: &SeamPoint) -> End {
        End::Own { seam: point.seam, at_start: self.starts_at(point) }
    }
}

/// Two units sewn together.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    /// What lies to the left of its seams.
    pub left: Sewn,
    /// What lies to their right.
    pub right: Sewn,
    /// Its seams: one, unless it bends or closes a ring.
    pub seams: Vec<usize>,
    /// Where it bends.
    pub bends: Vec<Bend>,
}

/// A corner in the middle of a join.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Where.
    pub at: Point,
    /// How it is sewn.
    pub kind: BendKind,
}

/// How a bend is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BendKind {
    /// The seam was sewn in part before, and is finished now.
    Partial,
    /// Stitching stops, the work is turned, stitching goes on.
    SetIn,
}

/// What one join sews along one straight line or one circle.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Its stretches from start to end.
    pub course: Vec<SeamStretch>,
    /// Number of the join that sews it.
    pub join: usize,
    /// The seam that it finishes.
    pub continues: Option<Continued>,
}

/// A seam sewn in part before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Continued {
    /// Its number.
    pub seam: usize,
    /// Whether it runs the other way.
    pub reversed: bool,
}

impl Seam {
    /// Where it starts.
    #[must_use]
    pub fn from(&self) -> Point {
        self.course[0].edge.from()
    }

    /// Where it ends.
    #[must_use]
    pub fn to(&self) -> Point {
        self.course[self.course.len() - 1].edge.to()
    }

    /// Its course in as few edges as it takes.
    #[must_use]
    pub fn edges(&self) -> Vec<Edge> {
        sew::whole(&self.course)
    }

    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.course.iter().map(|stretch| stretch.edge.length()).sum()
    }
}

/// A stretch of a seam between two pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeamStretch {
    /// Its course, in the direction of the seam.
    pub edge: Edge,
    /// Piece to the left.
    pub left: usize,
    /// Piece to the right.
    pub right: usize,
}

/// A point of a seam at which something may meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeamPoint {
    /// The seam.
    pub seam: usize,
    /// Where.
    pub at: Point,
    /// What ends there on the unit to its left, sewn last of all that does.
    pub left: Option<End>,
    /// The same on its right.
    pub right: Option<End>,
    /// What a stack here would weigh: one, and one more for every seam that ends under the two on top.
    pub weight: u32,
    /// Whether the seam bends there: stitching stops, and what ends there stays free.
    pub bend: bool,
    /// Whether the seam starts or ends there.
    pub is_end: bool,
}

impl SeamPoint {
    /// Both ends, where two seams meet here.
    #[must_use]
    pub fn meeting(&self) -> Option<(End, End)> {
        if self.bend { None } else { self.left.zip(self.right) }
    }
}

/// An end of a seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Of a seam of this sewing.
    Own {
        /// The seam.
        seam: usize,
        /// Its start, else its end.
        at_start: bool,
    },
    /// Whatever lies on top at a point of the outline of a block in the top.
    Rim {
        /// The piece of the top.
        piece: usize,
        /// Number of the point in [`Design::rim`].
        rim: usize,
    },
}

/// An end of a seam on an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RimEnd {
    /// Where.
    pub at: Point,
    /// The end that lies on top.
    pub end: End,
    /// How many seams end there, it and those under it.
    pub seams: u32,
}

/// Finds the natural orders of every design and of the top.
///
/// Findings: blocks that bend (a note, with how often and that no order does it less), blocks of one patch, and pieces for which no
/// order was found within the budget of steps.
#[must_use]
pub fn derive(quilt: &Quilt, drafts: &[Draft], top: &Top) -> Staged<Piecing> {
    derive_while(quilt, drafts, top, &mut Memo::default(), &|| true).expect("it is wanted")
}

/// The same; orders that `memo` knows are not found again. The result is the same with any memo; nothing once nobody wants it any more,
/// which is asked unit by unit.
pub fn derive_while(quilt: &Quilt, drafts: &[Draft], top: &Top, memo: &mut Memo, wanted: Wanted) -> Option<Staged<Piecing>> {
    let mut findings = Vec::new();
    let (designs, holds) = design::designs(quilt, drafts, top, memo, wanted)?;
    for design in &designs {
        said_of(quilt, design, &mut findings);
    }
    let (top_pieces, orders) = design::top(drafts, top, &designs, &holds, wanted)?;
    if orders.iter().any(|order| !order.stuck.is_empty()) {
        let finding = Finding::stop(Spot::Quilt, tr!("no order was found in which the top can be sewn together"));
        findings
            .push(finding.help(tr!("lay blocks, sashing and bands so that seams between them run straight from edge to edge")));
    }
    Some(Staged { result: Piecing { designs, holds, top_pieces, top: orders }, findings })
}

/// The natural orders of a block by itself, without a frame.
#[must_use]
pub fn block_orders(draft: &Draft) -> Vec<Sewing> {
    design::orders(draft, &[], &[], &|| true).expect("they are wanted")
}

fn said_of(quilt: &Quilt, design: &Design, findings: &mut Vec<Finding>) {
    let order = &design.orders[0];
    let spot = || Spot::Block(quilt.blocks[design.block.0].key.clone());
    if !order.stuck.is_empty() {
        let text = tr!(
            "no order was found in which its {stuck} middle patches can be sewn; the search was stopped",
            stuck = order.stuck.len()
        );
        findings.push(
            Finding::stop(spot(), text).help(tr!("carry a seam through from edge to edge of the block, or lay the shapes over")),
        );
    }
    let [partial, set_in] = design.bends(order);
    if partial + set_in > 0 {
        let seams = (partial > 0).then(|| tr!("1 seam sewn in part first" | "{n} seams sewn in part first" % partial));
        let corners = (set_in > 0).then(|| tr!("1 set-in corner" | "{n} set-in corners" % set_in));
        let bends = match (seams, corners) {
            (Some(seams), Some(corners)) => tr!("{seams} and {corners}", seams, corners),
            (one, other) => one.or(other).unwrap_or_default(),
        };
        let proof = if order.bends == order.bends_bound {
            tr!("no order has fewer")
        } else {
            tr!("at least {bends_bound} in any order", bends_bound = order.bends_bound)
        };
        findings.push(Finding::note(spot(), tr!("sewing it takes {bends}; {proof}", bends, proof)));
    }
}
