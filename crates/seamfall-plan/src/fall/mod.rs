//! To which side every seam falls, over the whole quilt.
//!
//! In: the natural sewing orders, what is pressed already, and the maker's own words. Out: one order for every design and for the top, a fall for every seam, and
//! every meeting with whether it nests or stacks. The weight of all stacks is the least there is over falls and orders, with
//! the bound that proves it; then more length falls to the darker cloth. How many stacks remain with one, two, three and four
//! pressings a block, and with every copy by itself, is found side by side.
//!
//! Seams are nodes of a signed graph, meetings its edges, and the fewest stacks its frustration index (F. Harary, "On the notion of
//! balance of a signed graph", 1953). In the order of work: `hand` reads the maker's words, `copies` deals out pressings, `model`
//! states the graph, `search` goes over orders, `prefer` chooses among equals, `layers` counts cloth, `stacks` says what remains.

mod copies;
mod hand;
mod layers;
mod model;
mod names;
mod prefer;
mod redeal;
mod search;
mod stacks;
#[cfg(test)]
mod tests;

use crate::piece::{Piecing, Sewing};
use crate::set::Top;
use crate::words;
use crate::{Staged, Wanted};
pub use hand::{SetBy, set_by_hand};
use model::Model;
pub use names::{patches_beside, pieces_beside, seam, seam_name};
use seamfall_geom::Point;
use seamfall_model::{Finding, FixedFall, Pressings, Quilt, Spot};
use seamfall_solve::Argument;
use search::{Best, Search};
use tr::tr;

/// To which side every seam falls.
#[derive(Debug, Clone, PartialEq)]
pub struct Falls {
    /// Stacks for one, two, three and four pressings a block, and for every copy by itself.
    pub counts: Vec<Count>,
    /// Which of the counts is taken: the maker's choice, else the fewest pressings up to two with the fewest stacks.
    pub taken: usize,
    /// For each design the number of the order in which it is sewn.
    pub orders: Vec<usize>,
    /// The number of the order in which the top is sewn.
    pub top_order: usize,
    /// For each design its pressings, each with the fall of every seam.
    pub pressings: Vec<Vec<Pressing>>,
    /// For each place the number of its pressing.
    pub of_place: Vec<usize>,
    /// The fall of every seam of the top.
    pub top: Vec<Fall>,
    /// Every meeting of the quilt: place by place, then those of the top.
    pub meetings: Vec<Meeting>,
    /// What stacks, in the order of the meetings.
    pub stacks: Vec<Stack>,
    /// Most layers at any one point, and where.
    pub thickest: Option<(u32, Point)>,
}

/// How many stacks remain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    /// In how many ways copies of one block are pressed.
    pub pressings: Pressings,
    /// Meetings that stack.
    pub stacks: usize,
    /// Their weight: one each, and one more for every further seam that ends there.
    pub weight: u64,
    /// No fall and no natural order has less weight.
    pub bound: u64,
    /// Why.
    pub by: Proof,
}

/// The argument for a bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// That of the solver, over all falls in the best order.
    Solved(Argument),
    /// What each block costs by itself in its best order, over its copies.
    Alone,
}

impl Count {
    /// Whether it is proven that no pressing is better.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        self.weight == self.bound
    }
}

/// To which side a seam is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fall {
    /// To the left of its direction.
    Left,
    /// To the right.
    Right,
    /// Open.
    Open,
}

/// One way to press a design.
#[derive(Debug, Clone, PartialEq)]
pub struct Pressing {
    /// How each seam falls; sides are those of the block drawn unmirrored.
    pub falls: Vec<Fall>,
    /// Layers at each point of [`Sewing::points`].
    pub layers: Vec<u32>,
    /// How many places are pressed so.
    pub places: usize,
}

/// Two earlier seams that come together in a later one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Where, in the top's coordinates.
    pub at: Point,
    /// The later seam.
    pub seam: SeamRef,
    /// What ends on its left.
    pub left: SeamRef,
    /// What ends on its right.
    pub right: SeamRef,
    /// How they meet.
    pub state: State,
    /// Layers of cloth at the thickest.
    pub layers: u32,
    /// What a stack weighs here.
    pub weight: u32,
}

/// A seam of the quilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeamRef {
    /// Of what a place holds.
    Place {
        /// The place.
        place: usize,
        /// The seam, in the order taken.
        seam: usize,
    },
    /// Of the top.
    Top {
        /// The seam, in the order taken.
        seam: usize,
    },
}

/// How two seams meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// They fall to opposite sides.
    Nests,
    /// They fall to the same side.
    Stacks,
    /// One of them at least is pressed open.
    Flat,
}

/// A meeting that stacks.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// Number of the meeting in [`Falls::meetings`].
    pub meeting: usize,
    /// Where, in words: `B3`, or `between A1 and A2`.
    pub place: String,
    /// Why it cannot nest.
    pub reason: String,
    /// What can be done about it.
    pub ways_out: Vec<String>,
}

impl Falls {
    /// The count that is taken.
    #[must_use]
    pub fn count(&self) -> &Count {
        &self.counts[self.taken]
    }

    /// The order in which the top is sewn.
    #[must_use]
    pub fn top_sewing<'a>(&self, piecing: &'a Piecing) -> &'a Sewing {
        &piecing.top[self.top_order]
    }

    /// The order in which a design is sewn.
    #[must_use]
    pub fn sewing<'a>(&self, piecing: &'a Piecing, design: usize) -> &'a Sewing {
        &piecing.designs[design].orders[self.orders[design]]
    }

    /// The pressing of what a place holds.
    #[must_use]
    pub fn pressing(&self, piecing: &Piecing, place: usize) -> &Pressing {
        &self.pressings[piecing.holds[place].design][self.of_place[place]]
    }
}

/// How long a proof is searched for: one is what a plan takes by itself, about a tenth of a second at most; ten is ten times that.
/// Counted in steps, so that the same effort gives the same answer on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort(pub u32);

impl Effort {
    /// What an edit waits for: a small part of what a plan takes by itself. A third and a fourth pressing are looked at only where the maker
    /// asks for them.
    pub const OF_AN_EDIT: Self = Self(0);
}

impl Default for Effort {
    fn default() -> Self {
        Self(1)
    }
}

/// Chooses the side to which every seam is pressed; those in `pressed` are.
///
/// Findings: every kind of stack that remains, with its reason and the way out; words of the maker that mean nothing or contradict
/// one another; a search that ended at its budget.
#[must_use]
pub fn derive(quilt: &Quilt, pressed: &[FixedFall], top: &Top, piecing: &Piecing, effort: Effort) -> Staged<Falls> {
    derive_while(quilt, pressed, top, piecing, effort, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more, which is asked before every problem that the solver is given.
pub fn derive_while(
    quilt: &Quilt,
    pressed: &[FixedFall],
    top: &Top,
    piecing: &Piecing,
    effort: Effort,
    wanted: Wanted,
) -> Option<Staged<Falls>> {
    let mut findings = Vec::new();
    let hand = hand::read(quilt, pressed, top, piecing, &mut findings);
    let search = Search::new(quilt, top, piecing, &hand, effort, wanted);
    let all = search.all();
    let wanted = quilt.pressings.unwrap_or_else(|| if all[1].cost < all[0].cost { all[1].pressings } else { all[0].pressings });
    let taken = all.iter().position(|best| best.pressings == wanted).unwrap_or(0);
    let counts = all.iter().map(|best| count(piecing, best, &hand)).collect();
    let best = search.natural(&all[taken]);
    if search.is_stopped() {
        return None;
    }
    let falls = read_back(quilt, top, piecing, &best, &hand, counts, taken);
    said(&falls, &mut findings);
    Some(Staged { result: falls, findings })
}

fn count(piecing: &Piecing, best: &Best, hand: &hand::Hand) -> Count {
    let model = Model::new(piecing, &best.orders, &best.copies, hand);
    let stacked = |a: model::Seen, b: model::Seen| {
        !model.open[a.0] && !model.open[b.0] && (best.values[a.0] == best.values[b.0]) != (a.1 == b.1)
    };
    let mut stacks = 0;
    for (place, held) in piecing.holds.iter().enumerate() {
        let pressing = best.copies.of_place[place];
        let meetings = model.sewing(held.design).points.iter().filter_map(crate::piece::SeamPoint::meeting);
        let end = |end| model.end(held.design, pressing, end);
        stacks += meetings.filter(|(a, b)| stacked(end(*a), end(*b))).count();
    }
    let meetings = model.top_sewing().points.iter().filter_map(crate::piece::SeamPoint::meeting);
    stacks += meetings.filter(|(a, b)| stacked(model.top_end(*a), model.top_end(*b))).count();
    Count { pressings: best.pressings, stacks, weight: best.cost, bound: best.bound, by: best.by }
}

/// Reads the answer back into falls, meetings and layers.
fn read_back(
    quilt: &Quilt,
    top: &Top,
    piecing: &Piecing,
    best: &Best,
    hand: &hand::Hand,
    counts: Vec<Count>,
    taken: usize,
) -> Falls {
    let model = Model::new(piecing, &best.orders, &best.copies, hand);
    let mut values = best.values.clone();
    let across = model::Across::new(piecing, best.orders.top, &best.copies);
    prefer::settle(quilt, top, &model, &model.graph(&across), &mut values);
    let fall = |(node, reversed): model::Seen| match (model.open[node], values[node] != reversed) {
        (true, _) => Fall::Open,
        (false, true) => Fall::Left,
        (false, false) => Fall::Right,
    };
    let mut pressings: Vec<Vec<Pressing>> = Vec::new();
    let mut outlines: Vec<Vec<Vec<layers::Beside>>> = Vec::new();
    for (design, pressings_of) in best.copies.places(piecing).into_iter().enumerate() {
        let sewing = model.sewing(design);
        let (mut own, mut beside) = (Vec::new(), Vec::new());
        for (pressing, places) in pressings_of.into_iter().enumerate() {
            let falls: Vec<Fall> = (0..sewing.seams.len()).map(|seam| fall(model.seam(design, pressing, seam))).collect();
            let (layers, outline) = layers::count(sewing, &falls, |_, _| [1, 1]);
            own.push(Pressing { falls, layers, places: places as usize });
            beside.push(outline);
        }
        pressings.push(own);
        outlines.push(beside);
    }
    let sewing = model.top_sewing();
    let falls: Vec<Fall> = (0..sewing.seams.len()).map(|seam| fall(model.top_seam(seam))).collect();
    let rim = |piece: usize, rim: usize| {
        let crate::piece::TopRef::Place(place) = piecing.top_pieces[piece] else { return [1, 1] };
        let design = piecing.holds[place].design;
        let [a, b] = outlines[design][best.copies.of_place[place]][rim];
        if piecing.designs[design].mirrored { [b, a] } else { [a, b] }
    };
    let (top_layers, _) = layers::count(sewing, &falls, rim);
    let mut all = Falls {
        counts,
        taken,
        orders: best.orders.designs.iter().map(|order| order.unwrap_or(0)).collect(),
        top_order: best.orders.top,
        pressings,
        of_place: best.copies.of_place.clone(),
        top: falls,
        meetings: Vec::new(),
        stacks: Vec::new(),
        thickest: None,
    };
    stacks::list(top, piecing, &model, &values, &top_layers, &mut all);
    all
}

fn said(falls: &Falls, findings: &mut Vec<Finding>) {
    let count = falls.count();
    if count.stacks > 0 {
        let proof = match (count.is_proven(), count.pressings) {
            (true, Pressings::Own) => tr!("no fall and no order has less"),
            (true, shared) => tr!("with {shared} no fall and no order has less", shared = words::pressings(shared)),
            (false, _) => tr!("that it is the least is not proven, at least {bound} it is", bound = count.bound),
        };
        let reason = tr!("1 meeting stacks; {proof}" | "{n} meetings stack; {proof}" % count.stacks, proof);
        let better =
            falls.counts.iter().filter(|other| other.stacks < count.stacks).min_by_key(|other| (other.stacks, other.pressings));
        let help = better.map_or_else(
            || tr!("press one of each pair open, or turn a block: the list of meetings says which"),
            |other| {
                tr!("with {pressings} there are {stacks}", pressings = words::pressings(other.pressings), stacks = other.stacks)
            },
        );
        findings.push(Finding::note(Spot::Falls, reason).help(help));
    }
}
