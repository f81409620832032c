//! In which order pieces are sewn: which seams last, which before them.
//!
//! In: pieces in groups that are sewn by themselves first (the patches of a block; all of a lap section). Out: the natural orders,
//! each a list of joins of two units. In a natural order a unit is taken apart along full seams, all of one direction at once; where
//! seams of several directions cross, each direction gives an order, and units that are alike are sewn alike. Only where no full
//! seam is left is one with bends taken, see [`bends`](super::bends).

use super::bends::{self, BentCut};
use super::cuts::{Chain, Region};
use super::mesh::Mesh;
use crate::Wanted;
use std::collections::BTreeMap;
use std::rc::Rc;

/// One way to sew pieces together.
#[derive(Debug, Clone, Default)]
pub(crate) struct Order {
    /// Joins, each after those it needs.
    pub joins: Vec<Joint>,
    /// What all of it becomes; nothing where a part was too hard.
    pub whole: Option<Sewn>,
    /// Bends of this order.
    pub bends: usize,
    /// No order has fewer bends.
    pub bound: usize,
    /// Pieces of a part for which no seam was found within the budget.
    pub stuck: Vec<usize>,
}

/// Two units sewn together along one seam, or several at once where they close a ring.
#[derive(Debug, Clone)]
pub(crate) struct Joint {
    /// What lies to the left of the seams.
    pub left: Sewn,
    /// What lies to their right.
    pub right: Sewn,
    /// The seams.
    pub paths: Vec<Chain>,
}

/// A piece, or what a join has made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sewn {
    /// A piece, by its number.
    Piece(usize),
    /// The unit that a join makes, by its number.
    Join(usize),
}

/// Pieces, and which of them are sewn by themselves before they meet the others.
pub(crate) struct Grouped<'a> {
    /// The pieces.
    pub mesh: &'a Mesh,
    /// Pieces of each group, in rising order.
    pub groups: Vec<Vec<usize>>,
    /// Tells pieces of one shape apart that are not cut from one cloth.
    pub colours: &'a [usize],
}

/// All natural orders, those of seams with the most parallel neighbours first; at most `most`. Nothing once nobody wants them any more, which every unit
/// that is taken apart asks.
pub(crate) fn natural(pieces: &Grouped, most: usize, wanted: Wanted) -> Option<Vec<Order>> {
    let mut group = vec![0; pieces.mesh.pieces];
    for (number, members) in pieces.groups.iter().enumerate() {
        members.iter().for_each(|&piece| group[piece] = number);
    }
    let outer = pieces.mesh.grouped(&group, pieces.groups.len());
    let mut orders = Vec::new();
    let mut script = Vec::new();
    let mut known = BTreeMap::new();
    let mut budget = bends::BUDGET;
    loop {
        let met = BTreeMap::new();
        let order = Order::default();
        let mut sewing = Sewing { wanted, script: &mut script, known: &mut known, budget: &mut budget, met, order };
        sewing.all(pieces, &outer);
        wanted().then_some(())?;
        let met = sewing.met.len();
        orders.push(sewing.order);
        script.truncate(met);
        while script.last().is_some_and(|choice: &Choice| choice.taken + 1 >= choice.of) {
            script.pop();
        }
        match script.last_mut() {
            Some(choice) if orders.len() < most => choice.taken += 1,
            _ => return Some(orders),
        }
    }
}

/// Which of several directions is sewn last in every unit of one kind.
struct Choice {
    taken: usize,
    of: usize,
}

/// One order while it is made.
struct Sewing<'s> {
    wanted: Wanted<'s>,
    script: &'s mut Vec<Choice>,
    /// How units were taken apart before, by the number of pieces of the mesh and those of the unit.
    known: &'s mut BTreeMap<(usize, Vec<usize>), Rc<Ways>>,
    /// Steps left for finding seams with bends.
    budget: &'s mut usize,
    /// The entries of the script that this order has come to, by what the units have in common.
    met: BTreeMap<Rc<[[i64; 3]]>, usize>,
    order: Order,
}

/// A unit while it is taken apart.
struct Part {
    pieces: Vec<usize>,
    /// Whether its bends are counted already, with those of what it is part of.
    counted: bool,
    /// Its parts, by their number, and the seams between them.
    split: Option<(Vec<usize>, Vec<Vec<Chain>>)>,
}

impl Sewing<'_> {
    fn all(&mut self, pieces: &Grouped, outer: &Mesh) {
        let apart = |sewing: &mut Self, group: &Vec<usize>| match group.as_slice() {
            [piece] => Some(Sewn::Piece(*piece)),
            many => sewing.one(pieces.mesh, many, pieces.colours, Sewn::Piece),
        };
        let made: Option<Vec<Sewn>> = pieces.groups.iter().map(|group| apart(self, group)).collect();
        let Some(made) = made else { return };
        let all: Vec<usize> = (0..outer.pieces).collect();
        let plain = vec![0; outer.pieces];
        self.order.whole = self.one(outer, &all, &plain, |group| made[group]);
    }

    /// Sews `pieces` of a mesh together, each of them already what `made` says.
    fn one(&mut self, mesh: &Mesh, pieces: &[usize], colours: &[usize], made: impl Fn(usize) -> Sewn) -> Option<Sewn> {
        let mut parts = vec![Part { pieces: pieces.to_vec(), counted: false, split: None }];
        let mut next = 0;
        while next < parts.len() {
            (self.wanted)().then_some(())?;
            if parts[next].pieces.len() > 1 {
                let counted = parts[next].counted;
                let apart = self.take_apart(mesh, &parts[next].pieces, colours, counted);
                if apart.parts.len() > 1 {
                    let first = parts.len();
                    parts[next].split = Some(((first..first + apart.parts.len()).collect(), apart.seams));
                    let part = |pieces| Part { pieces, counted: apart.counted, split: None };
                    parts.extend(apart.parts.into_iter().map(part));
                } else {
                    self.order.stuck.extend(&parts[next].pieces);
                }
            }
            next += 1;
        }
        self.put_together(mesh, &parts, made)
    }

    /// The seams sewn last in a unit, and the parts they join.
    fn take_apart(&mut self, mesh: &Mesh, pieces: &[usize], colours: &[usize], counted: bool) -> Apart {
        let key = (mesh.pieces, pieces.to_vec());
        let known = self.known.entry(key).or_insert_with(|| Rc::new(Ways::of(mesh, pieces, colours, self.budget)));
        let ways = Rc::clone(known);
        let taken = if ways.families.len() > 1 { self.choose(&ways) } else { 0 };
        if let Some(bent) = &ways.bent {
            self.order.bends += mesh.bends(&bent.cut);
            if !counted {
                self.order.bound += bent.bound;
            }
        }
        let (seams, parts) = ways.families.get(taken.min(ways.families.len().saturating_sub(1))).cloned().unwrap_or_default();
        Apart { seams, parts, counted: counted || ways.bent.as_ref().is_some_and(|bent| !bent.alone) }
    }

    /// Which direction is taken here: that of the first unit like it.
    fn choose(&mut self, ways: &Ways) -> usize {
        let next = self.met.len();
        let entry = *self.met.entry(Rc::clone(&ways.likeness)).or_insert(next);
        if entry == self.script.len() {
            self.script.push(Choice { taken: 0, of: ways.families.len() });
        }
        self.script[entry].taken
    }

    /// Joins in the order of sewing: parts before wholes.
    fn put_together(&mut self, mesh: &Mesh, parts: &[Part], made: impl Fn(usize) -> Sewn) -> Option<Sewn> {
        let single = |part: &Part| if let [piece] = part.pieces[..] { Some(made(piece)) } else { None };
        let mut units: Vec<Option<Sewn>> = parts.iter().map(single).collect();
        let mut waiting = vec![0];
        while let Some(&at) = waiting.last() {
            let Some((children, seams)) = &parts[at].split else {
                waiting.pop();
                continue;
            };
            let open = children.iter().rev().filter(|child| units[**child].is_none() && parts[**child].split.is_some());
            let before = waiting.len();
            waiting.extend(open);
            if waiting.len() == before {
                waiting.pop();
                units[at] = Some(self.join(mesh, parts, children, seams, &units)?);
            }
        }
        units[0]
    }

    /// Joins the parts of one unit, seam after seam.
    fn join(
        &mut self,
        mesh: &Mesh,
        parts: &[Part],
        children: &[usize],
        seams: &[Vec<Chain>],
        units: &[Option<Sewn>],
    ) -> Option<Sewn> {
        let mut of_piece: Vec<(usize, usize)> = Vec::new();
        for (number, &child) in children.iter().enumerate() {
            of_piece.extend(parts[child].pieces.iter().map(|piece| (*piece, number)));
        }
        of_piece.sort_unstable();
        let part_of = |piece: Option<usize>| {
            let at = of_piece.binary_search_by_key(&piece?, |(piece, _)| *piece).ok()?;
            Some(of_piece[at].1)
        };
        let mut sewn: Vec<Option<Sewn>> = children.iter().map(|child| units[*child]).collect();
        let mut last = None;
        for paths in seams {
            let first = paths[0][0];
            let left = sewn[part_of(mesh.left(first))?]?;
            let right = sewn[part_of(mesh.left(first.reversed()))?]?;
            self.order.joins.push(Joint { left, right, paths: paths.clone() });
            last = Some(Sewn::Join(self.order.joins.len() - 1));
            for unit in &mut sewn {
                if *unit == Some(left) || *unit == Some(right) {
                    *unit = last;
                }
            }
        }
        last
    }
}

/// A unit taken apart.
struct Apart {
    /// Seams, in the order in which they are sewn.
    seams: Vec<Vec<Chain>>,
    /// What they join; nothing where no seam was found.
    parts: Vec<Vec<usize>>,
    /// Whether the bends of the parts are counted already.
    counted: bool,
}

/// Seams in the order in which they are sewn, and the parts they join.
type Split = (Vec<Vec<Chain>>, Vec<Vec<usize>>);

/// How a unit can be taken apart.
struct Ways {
    /// One for each direction of full seams, or the one seam with bends; none where nothing was found.
    families: Vec<Split>,
    /// The seam with bends.
    bent: Option<BentCut>,
    /// What units alike have in common, where there is a choice.
    likeness: Rc<[[i64; 3]]>,
}

impl Ways {
    fn of(mesh: &Mesh, pieces: &[usize], colours: &[usize], budget: &mut usize) -> Self {
        let region = Region::new(mesh, pieces);
        let cuts = region.full_cuts();
        if !cuts.is_empty() {
            let families = region.families(&cuts, region.turned(colours));
            let split = |family: Vec<Chain>| {
                let parts = region.parts(&family);
                (parts.len() == family.len() + 1).then(|| (family.into_iter().map(|cut| vec![cut]).collect(), parts))
            };
            let mut families: Vec<Split> = families.into_iter().filter_map(split).collect();
            if families.is_empty() {
                families.extend(one_or_two(&region, &cuts, budget).map(|(seams, parts)| (vec![seams], parts)));
            }
            if !families.is_empty() {
                let likeness = if families.len() > 1 { region.likeness(colours) } else { Vec::new() };
                return Self { families, bent: None, likeness: likeness.into() };
            }
        }
        let bent = bends::least(mesh, pieces, budget);
        let families = bent.iter().map(|bent| (vec![vec![bent.cut.clone()]], region.parts([&bent.cut]))).collect();
        Self { families, bent, likeness: Rc::default() }
    }
}

/// Where a region has a hole, a full seam need not part it: one that does, or two that do it together. Takes its steps from `budget`, one for every
/// piece whenever seams are tried.
fn one_or_two(region: &Region, cuts: &[Chain], budget: &mut usize) -> Option<(Vec<Chain>, Vec<Vec<usize>>)> {
    let mut two_parts = |seams: Vec<Chain>| {
        *budget = budget.checked_sub(region.pieces.len())?;
        let parts = region.parts(&seams);
        (parts.len() == 2).then_some((seams, parts))
    };
    if let Some(one) = cuts.iter().find_map(|cut| two_parts(vec![cut.clone()])) {
        return Some(one);
    }
    let mut pairs = cuts.iter().enumerate().flat_map(|(i, a)| cuts[i + 1..].iter().map(move |b| vec![a.clone(), b.clone()]));
    pairs.find_map(two_parts)
}
