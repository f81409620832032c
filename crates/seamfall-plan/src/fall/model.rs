//! All seams of the quilt as one signed graph: what stacks is an edge that is not met.
//!
//! In: an order for every design and for the top, and how copies of a design share their pressing. Out: a node for each seam of
//! each pressing and of the top, an edge for each meeting: met when it nests. A seam's value is true where it falls to the left of
//! its direction. Round its start such a seam falls anticlockwise, round its end clockwise, and mirrored the other way; a
//! meeting nests when both ends fall the same way round it.

use super::hand::{Hand, Side};
use crate::piece::{End, Piecing, Seam, Sewing, TopRef};
use seamfall_solve::stacks::{Signed, SignedEdge};
use std::collections::BTreeMap;

/// Which copies of a design are pressed alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Copies {
    /// For each place the number of its pressing among those of its design.
    pub of_place: Vec<usize>,
    /// How many pressings each design has.
    pub count: Vec<usize>,
}

impl Copies {
    /// For each pressing of each design how many places are pressed so.
    pub fn places(&self, piecing: &Piecing) -> Vec<Vec<u32>> {
        let mut places: Vec<Vec<u32>> = self.count.iter().map(|&count| vec![0; count]).collect();
        for (held, &pressing) in piecing.holds.iter().zip(&self.of_place) {
            places[held.design][pressing] += 1;
        }
        places
    }
}

/// An order for each design, and one for the top. A design without one stands for all of its orders: it has no meetings of its own,
/// and what ends on its outline is tied to nothing else, so that what the graph costs is no more than in any order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Orders {
    pub designs: Vec<Option<usize>>,
    pub top: usize,
}

/// The graph, and which node is which seam.
pub(super) struct Model<'a> {
    pub piecing: &'a Piecing,
    pub orders: &'a Orders,
    pub copies: &'a Copies,
    /// First node of each pressing of each design.
    first: Vec<Vec<usize>>,
    /// First node of the top.
    top: usize,
    pub nodes: usize,
    /// Seams pressed open by hand.
    pub open: Vec<bool>,
    /// Seams whose fall is given by hand.
    pub fixed: Vec<(usize, bool)>,
}

/// An end of a seam: its node, and whether the seam's value is turned over as seen from there.
pub(super) type Seen = (usize, bool);

impl<'a> Model<'a> {
    pub fn new(piecing: &'a Piecing, orders: &'a Orders, copies: &'a Copies, hand: &Hand) -> Self {
        let mut nodes = 0;
        let mut first = Vec::new();
        for (design, &count) in copies.count.iter().enumerate() {
            let held = &piecing.designs[design];
            let seams = orders.designs[design].map_or(held.rim.len(), |order| held.orders[order].seams.len());
            first.push((0..count).map(|pressing| nodes + pressing * seams).collect());
            nodes += count * seams;
        }
        let top = nodes;
        nodes += piecing.top[orders.top].seams.len();
        let mut model = Self { piecing, orders, copies, first, top, nodes, open: vec![false; nodes], fixed: Vec::new() };
        model.fix(hand);
        model
    }

    /// The order in which a design is sewn.
    pub fn sewing(&self, design: usize) -> &'a Sewing {
        self.chosen(design).expect("every design has its order by now")
    }

    fn chosen(&self, design: usize) -> Option<&'a Sewing> {
        Some(&self.piecing.designs[design].orders[self.orders.designs[design]?])
    }

    /// The order in which the top is sewn.
    pub fn top_sewing(&self) -> &'a Sewing {
        &self.piecing.top[self.orders.top]
    }

    /// Node of a seam of a pressing, and whether it runs the other way: a seam that finishes another is one with it.
    pub fn seam(&self, design: usize, pressing: usize, seam: usize) -> Seen {
        let (seam, reversed) = origin(&self.sewing(design).seams, seam);
        (self.first[design][pressing] + seam, reversed)
    }

    /// Node of a seam of the top.
    pub fn top_seam(&self, seam: usize) -> Seen {
        let (seam, reversed) = origin(&self.top_sewing().seams, seam);
        (self.top + seam, reversed)
    }

    /// Number of the seam of the top that a node is.
    pub fn top_number(&self, node: usize) -> usize {
        node - self.top
    }

    /// An end of a seam of a design, drawn unmirrored.
    pub fn end(&self, design: usize, pressing: usize, end: End) -> Seen {
        let End::Own { seam, at_start } = end else { unreachable!("a design is made of patches") };
        let (node, reversed) = self.seam(design, pressing, seam);
        (node, reversed == at_start)
    }

    /// An end of a seam of the top, or what lies on top at a point of a place's outline.
    pub fn top_end(&self, end: End) -> Seen {
        let (end, turned) = TopEnd::of(self.piecing, self.orders.top, self.copies, end);
        let (node, turned_there) = self.at(end);
        (node, turned != turned_there)
    }

    /// Node of an end that meets another in the top, and whether its value is turned over against the end's own sense.
    fn at(&self, end: TopEnd) -> Seen {
        match end {
            TopEnd::Seam(seam) => (self.top + seam, false),
            TopEnd::Rim { design, pressing, rim } => match self.chosen(design) {
                Some(sewing) => self.end(design, pressing, sewing.rim[rim].end),
                None => (self.first[design][pressing] + rim, false),
            },
        }
    }

    /// The signed graph of all meetings that are not pressed flat; `across` has those of the top.
    pub fn graph(&self, across: &Across) -> Signed {
        let mut edges = Vec::new();
        for (design, pressings) in self.copies.places(self.piecing).iter().enumerate() {
            for (pressing, &copies) in pressings.iter().enumerate() {
                self.meetings_of(design, pressing, copies, &mut edges);
            }
        }
        for ((a, b, turned), weight) in &across.0 {
            let ((a, of_a), b) = (self.at(*a), self.at(*b));
            self.edge((a, of_a != *turned), b, *weight, &mut edges);
        }
        Signed::new(self.nodes, edges, &self.fixed).expect("nodes are counted here, and given once")
    }

    /// Edges for the meetings within so many copies of a pressing.
    pub fn meetings_of(&self, design: usize, pressing: usize, copies: u32, edges: &mut Vec<SignedEdge>) {
        for point in self.chosen(design).map_or([].as_slice(), |sewing| &sewing.points) {
            if let Some((a, b)) = point.meeting() {
                self.edge(self.end(design, pressing, a), self.end(design, pressing, b), point.weight * copies, edges);
            }
        }
    }

    fn edge(&self, a: Seen, b: Seen, weight: u32, edges: &mut Vec<SignedEdge>) {
        if !self.open[a.0] && !self.open[b.0] {
            edges.push(SignedEdge { a: a.0, b: b.0, same: a.1 == b.1, weight });
        }
    }

    /// Seams whose fall the maker has set, those that are pressed first.
    fn fix(&mut self, hand: &Hand) {
        for pressed in [true, false] {
            self.fix_all(&hand.of(pressed));
        }
    }

    fn fix_all(&mut self, hand: &Hand) {
        for wish in &hand.of_designs {
            for pressing in 0..self.copies.count[wish.on] {
                self.fix_one(self.wished(wish.on, pressing, wish.pieces), wish.side);
            }
        }
        for wish in &hand.of_places {
            let design = self.piecing.holds[wish.on].design;
            self.fix_one(self.wished(design, self.copies.of_place[wish.on], wish.pieces), wish.side);
        }
        for wish in &hand.of_top {
            let found = between(&self.top_sewing().seams, wish.pieces).map(|(seam, turned)| {
                let (node, reversed) = self.top_seam(seam);
                (node, reversed != turned)
            });
            self.fix_one(found, wish.side);
        }
    }

    fn wished(&self, design: usize, pressing: usize, pieces: [usize; 2]) -> Option<Seen> {
        let (seam, turned) = between(&self.chosen(design)?.seams, pieces)?;
        let (node, reversed) = self.seam(design, pressing, seam);
        Some((node, reversed != turned))
    }

    /// The first word on a seam holds; that it was contradicted is found where words are read.
    fn fix_one(&mut self, seen: Option<Seen>, side: Side) {
        let Some((node, turned)) = seen else { return };
        let known = self.open[node] || self.fixed.iter().any(|(other, _)| *other == node);
        match side {
            _ if known => {}
            Side::Open => self.open[node] = true,
            Side::First => self.fixed.push((node, !turned)),
            Side::Second => self.fixed.push((node, turned)),
        }
    }
}

/// The meetings of the top, those that tie the same ends of the same designs counted together.
pub(super) struct Across(Vec<((TopEnd, TopEnd, bool), u32)>);

/// An end that meets another in the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum TopEnd {
    /// Of a seam of the top.
    Seam(usize),
    /// Of whatever lies on top at a point of a design's outline.
    Rim { design: usize, pressing: usize, rim: usize },
}

impl TopEnd {
    /// What an end is, wherever its copies stand, and whether it is seen turned over there.
    fn of(piecing: &Piecing, top: usize, copies: &Copies, end: End) -> (Self, bool) {
        match end {
            End::Own { seam, at_start } => {
                let (seam, reversed) = origin(&piecing.top[top].seams, seam);
                (Self::Seam(seam), reversed == at_start)
            }
            End::Rim { piece, rim } => {
                let TopRef::Place(place) = piecing.top_pieces[piece] else { unreachable!("strips have no seams") };
                let design = piecing.holds[place].design;
                (Self::Rim { design, pressing: copies.of_place[place], rim }, piecing.designs[design].mirrored)
            }
        }
    }
}

impl Across {
    pub fn new(piecing: &Piecing, top: usize, copies: &Copies) -> Self {
        let end = |end| TopEnd::of(piecing, top, copies, end);
        let mut counted = BTreeMap::new();
        for point in &piecing.top[top].points {
            if let Some((a, b)) = point.meeting() {
                let ((a, of_a), (b, of_b)) = (end(a), end(b));
                *counted.entry((a.min(b), a.max(b), of_a != of_b)).or_default() += point.weight;
            }
        }
        Self(counted.into_iter().collect())
    }
}

/// The seam that was begun first of those that are one line, and whether it runs the other way.
fn origin(seams: &[Seam], seam: usize) -> (usize, bool) {
    let (mut at, mut reversed) = (seam, false);
    while let Some(continued) = seams[at].continues {
        (at, reversed) = (continued.seam, reversed != continued.reversed);
    }
    (at, reversed)
}

/// The seam between two pieces, and whether the first of them lies to its right.
pub(super) fn between(seams: &[Seam], [a, b]: [usize; 2]) -> Option<(usize, bool)> {
    seams.iter().enumerate().find_map(|(number, seam)| {
        seam.course.iter().find_map(|stretch| match (stretch.left, stretch.right) {
            (left, right) if (left, right) == (a, b) => Some((number, false)),
            (left, right) if (left, right) == (b, a) => Some((number, true)),
            _ => None,
        })
    })
}
