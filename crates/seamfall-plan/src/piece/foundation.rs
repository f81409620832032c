//! Foundation order: patch after patch, each added along one straight seam.
//!
//! In: a block. Out: its sections, each with the order of its patches and the lines they are sewn along, and the order in which
//! sections are joined; or why it cannot be had.
//!
//! Every part here is cut off along a straight seam from edge to edge, so that all parts are convex. A patch can be added last when
//! all its seams lie in one line; taking it off first spoils this for no other patch, so that a part has an order exactly when
//! patches can be taken off until one is left. A part without an order is divided along a full seam, or what cannot be taken off in
//! its midst is sewn before and the rest added round it, whichever leaves fewer sections: every division is tried, parts that come
//! up again are solved once. Beyond [`BUDGET`] the first seams of [`Division::cuts`] are taken, and the number is the best found.
//!
//! Lines and outlines lie as the finished block is seen from the front. A foundation is printed mirrored, since it is sewn from its
//! back; that is left to who prints it, and so are the allowances round each section.

use super::cuts::{Chain, Region, rounded};
use super::mesh::{Half, Mesh};
use crate::draft::Draft;
use seamfall_geom::{Edge, Loop, Point, TOLERANCE};
use seamfall_model::letters;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use tr::tr;

/// Patches looked at while divisions are tried; about a quarter of a second.
const BUDGET: usize = 2_000_000;
/// Blocks of more patches are not looked at: nobody prints them on a foundation.
const MOST: usize = 600;

/// How a block is sewn on a foundation.
#[derive(Debug, Clone, PartialEq)]
pub struct Foundation {
    /// Its sections: those that others start from first, else in the order of their first patches.
    pub sections: Vec<FoundationSection>,
    /// How sections are joined, each after those it needs.
    pub joins: Vec<SectionJoin>,
    /// Whether no division along full straight seams has fewer sections.
    pub is_fewest: bool,
}

/// A part of a block that is sewn on one piece of foundation.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundationSection {
    /// `A`, `B`, ...
    pub letter: String,
    /// What is laid down first where that is not a patch but sections joined before.
    pub base: Option<JoinedPart>,
    /// Its patches in the order of sewing: without a base the first is laid down, every other is added.
    pub steps: Vec<FoundationStep>,
    /// Finished outline, its base within, anticlockwise, from corner to corner.
    pub outline: Loop,
}

/// A patch is added.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundationStep {
    /// Number of the patch in [`Draft::patches`].
    pub patch: usize,
    /// The seam it is added along, over the full side of what is sewn so far, which lies to its left. None for a patch that is laid down first.
    pub line: Option<Edge>,
}

/// Two sections, or what was joined of them, are sewn together.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionJoin {
    /// What is joined: to the left of the line, and to its right.
    pub parts: [JoinedPart; 2],
    /// The seam.
    pub line: Edge,
}

/// A part of a join of sections.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JoinedPart {
    /// A section, by its number.
    Section(usize),
    /// What an earlier join made, by its number.
    Join(usize),
}

/// Why a block has no foundation order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoFoundation {
    /// Some seam is curved.
    Curved,
    /// A patch is set into this one, so that it has seams all round.
    SetIn {
        /// Number of the patch that has a hole.
        patch: usize,
    },
    /// No straight seam runs through these patches from edge to edge.
    NoFullSeam {
        /// Numbers of the patches.
        patches: Vec<usize>,
    },
    /// There are more patches than are looked at.
    TooMany,
    /// There are no patches.
    Empty,
}

impl fmt::Display for NoFoundation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Curved => f.write_str(&tr!("a foundation takes straight seams only, and this block has curved ones")),
            Self::SetIn { patch } => {
                f.write_str(&tr!("a patch is set into patch {patch}, and a foundation takes no set-in seam", patch = patch + 1))
            }
            Self::NoFullSeam { patches } => {
                let numbers: Vec<String> = patches.iter().map(|patch| (patch + 1).to_string()).collect();
                f.write_str(&tr!(
                    "no straight seam runs from edge to edge through patches {patches}",
                    patches = numbers.join(", ")
                ))
            }
            Self::TooMany => f.write_str(&tr!("a foundation order is looked for in blocks of up to {most} patches", most = MOST)),
            Self::Empty => f.write_str(&tr!("the block has no patches")),
        }
    }
}

/// Finds the foundation order of a block.
///
/// # Errors
/// [`NoFoundation`] where seams are curved or some patches cannot be parted by a straight seam from edge to edge.
pub fn foundation(draft: &Draft) -> Result<Foundation, NoFoundation> {
    let outlines = || draft.patches.iter().flat_map(|patch| patch.outline.edges());
    if outlines().any(|edge| matches!(edge, Edge::Arc { .. })) {
        return Err(NoFoundation::Curved);
    }
    if let Some(patch) = draft.patches.iter().position(|patch| !patch.holes.is_empty()) {
        return Err(NoFoundation::SetIn { patch });
    }
    if draft.patches.is_empty() {
        return Err(NoFoundation::Empty);
    }
    if draft.patches.len() > MOST {
        return Err(NoFoundation::TooMany);
    }
    let mesh = Mesh::new(draft.patches.iter().map(|patch| (&patch.outline, patch.holes.as_slice())));
    let mut division = Division { mesh: &mesh, known: BTreeMap::new(), steps: BUDGET, is_fewest: true };
    let all: Vec<usize> = (0..mesh.pieces).collect();
    let tree = division.divide(&all)?;
    let mut made = Foundation { sections: Vec::new(), joins: Vec::new(), is_fewest: division.is_fewest };
    tree.collect(&mesh, &mut made);
    Ok(made.in_order())
}

/// How a part is divided.
#[derive(Debug, Clone)]
enum Tree {
    /// Not at all: patches in the order of sewing, with the seams they are added along.
    Section(Vec<(usize, Chain)>),
    /// Patches added round what is sewn before.
    Round(Box<Tree>, Vec<(usize, Chain)>),
    /// Along a seam, into what lies to its left and to its right.
    Divided(Chain, Box<[Tree; 2]>),
}

impl Tree {
    /// Twice the number of sections, and one more for each that has a base: of as few sections those joined edge to edge are best.
    fn cost(&self) -> usize {
        match self {
            Self::Section(_) => 2,
            Self::Round(base, _) => 3 + base.cost(),
            Self::Divided(_, parts) => parts.iter().map(Self::cost).sum(),
        }
    }

    fn patches(&self) -> Vec<usize> {
        match self {
            Self::Section(order) => order.iter().map(|(patch, _)| *patch).collect(),
            Self::Round(base, order) => base.patches().into_iter().chain(order.iter().map(|(patch, _)| *patch)).collect(),
            Self::Divided(_, parts) => parts.iter().flat_map(Self::patches).collect(),
        }
    }

    /// Adds its sections and joins to `made`, and says what it is there.
    fn collect(&self, mesh: &Mesh, made: &mut Foundation) -> JoinedPart {
        let step = |(patch, seam): &(usize, Chain)| FoundationStep { patch: *patch, line: line(mesh, seam) };
        let (base, order) = match self {
            Self::Divided(seam, parts) => {
                let parts = [parts[0].collect(mesh, made), parts[1].collect(mesh, made)];
                made.joins.extend(line(mesh, seam).map(|line| SectionJoin { parts, line }));
                return JoinedPart::Join(made.joins.len() - 1);
            }
            Self::Round(base, order) => (Some(base.collect(mesh, made)), order),
            Self::Section(order) => (None, order),
        };
        let steps = order.iter().map(step).collect();
        let outline = outline(mesh, &self.patches());
        made.sections.push(FoundationSection { letter: String::new(), base, steps, outline });
        JoinedPart::Section(made.sections.len() - 1)
    }
}

impl Foundation {
    /// How many sections stand one upon the other in a part.
    fn depth(&self, part: JoinedPart) -> usize {
        match part {
            JoinedPart::Section(section) => self.sections[section].base.map_or(0, |base| 1 + self.depth(base)),
            JoinedPart::Join(join) => self.joins[join].parts.iter().map(|part| self.depth(*part)).max().unwrap_or(0),
        }
    }

    /// Sections in their order, lettered so.
    fn in_order(mut self) -> Self {
        let mut order: Vec<usize> = (0..self.sections.len()).collect();
        order.sort_by_key(|&section| {
            let first = self.sections[section].steps.iter().map(|step| step.patch).min();
            (self.depth(JoinedPart::Section(section)), first)
        });
        let mut renumbered = vec![0; order.len()];
        for (new, &old) in order.iter().enumerate() {
            renumbered[old] = new;
        }
        let bases = self.sections.iter_mut().filter_map(|section| section.base.as_mut());
        for part in self.joins.iter_mut().flat_map(|join| &mut join.parts).chain(bases) {
            if let JoinedPart::Section(section) = part {
                *section = renumbered[*section];
            }
        }
        let mut sorted: Vec<(usize, FoundationSection)> = renumbered.into_iter().zip(self.sections).collect();
        sorted.sort_by_key(|(number, _)| *number);
        self.sections =
            sorted.into_iter().map(|(number, section)| FoundationSection { letter: letters(number), ..section }).collect();
        self
    }
}

/// The search for the fewest sections.
struct Division<'a> {
    mesh: &'a Mesh,
    known: BTreeMap<Vec<usize>, Tree>,
    steps: usize,
    is_fewest: bool,
}

impl Division<'_> {
    /// The division of a part with the fewest sections; of equal ones the first by [`Self::cuts`].
    fn divide(&mut self, pieces: &[usize]) -> Result<Tree, NoFoundation> {
        if let Some(known) = self.known.get(pieces) {
            return Ok(known.clone());
        }
        let tree = match self.take_off(pieces) {
            (order, midst) if midst.is_empty() => Tree::Section(order),
            (order, midst) => self.best_of(pieces, order, &midst)?,
        };
        self.known.insert(pieces.to_vec(), tree.clone());
        Ok(tree)
    }

    /// The best division of a part of which `order` can be taken off and `midst` cannot.
    fn best_of(&mut self, pieces: &[usize], order: Vec<(usize, Chain)>, midst: &[usize]) -> Result<Tree, NoFoundation> {
        let mut best = if order.is_empty() { None } else { Some(Tree::Round(Box::new(self.divide(midst)?), order)) };
        for Cut { seam, parts: [left, right], least } in self.cuts(pieces) {
            if best.as_ref().is_some_and(|best| best.cost() <= least) {
                break;
            }
            if best.is_some() && self.steps == 0 {
                self.is_fewest = false;
                break;
            }
            let tree = Tree::Divided(seam, Box::new([self.divide(&left)?, self.divide(&right)?]));
            if best.as_ref().is_none_or(|best| tree.cost() < best.cost()) {
                best = Some(tree);
            }
        }
        best.ok_or_else(|| NoFoundation::NoFullSeam { patches: pieces.to_vec() })
    }

    /// The full seams of a part, those first that leave the fewest sections at the least, then those that part off the most
    /// patches as one section, then from the top down and from the left.
    fn cuts(&mut self, pieces: &[usize]) -> Vec<Cut> {
        let region = Region::new(self.mesh, pieces);
        let mut cuts: Vec<([i64; 4], Cut)> = Vec::new();
        for seam in region.full_cuts() {
            self.steps = self.steps.saturating_sub(pieces.len());
            let Ok::<[Vec<usize>; 2], _>([first, second]) = region.parts([&seam]).try_into() else { continue };
            let left = self.mesh.left(seam[0]);
            let parts = if left.is_some_and(|left| first.contains(&left)) { [first, second] } else { [second, first] };
            let whole = [0, 1].map(|side: usize| self.take_off(&parts[side]).1.is_empty());
            let least = whole.map(|whole| if whole { 2 } else { 4 }).iter().sum();
            let parted = [0, 1].map(|side: usize| if whole[side] { parts[side].len() as i64 } else { 0 });
            let middle = self.mesh.course(seam[seam.len() / 2]).at(0.5);
            let [down, across] = [-middle.y, middle.x].map(|value| (value * 1e4).round() as i64);
            cuts.push(([least as i64, -parted[0].max(parted[1]), down, across], Cut { seam, parts, least }));
        }
        cuts.sort_by_key(|(rank, _)| *rank);
        cuts.into_iter().map(|(_, cut)| cut).collect()
    }

    /// Patches that can be taken off a part, in the order in which they are sewn, each added along one straight seam; and what
    /// cannot, which is nothing where the part has an order.
    ///
    /// The patch with the highest number that can be is added last, so that a row is sewn from its top or left.
    fn take_off(&mut self, pieces: &[usize]) -> (Vec<(usize, Chain)>, Vec<usize>) {
        self.steps = self.steps.saturating_sub(pieces.len());
        let mut left = Left { mesh: self.mesh, inside: vec![false; self.mesh.pieces] };
        pieces.iter().for_each(|&piece| left.inside[piece] = true);
        let mut free: BTreeSet<usize> = pieces.iter().copied().filter(|&piece| left.only_seam(piece).is_some()).collect();
        let mut order: Vec<(usize, Chain)> = Vec::with_capacity(pieces.len());
        while order.len() + 1 < pieces.len()
            && let Some(highest) = free.last().copied()
        {
            let is_last_but_one = order.len() + 2 == pieces.len();
            let first = if is_last_but_one { self.first_of_two(pieces, &free, order.last()) } else { None };
            let next = free.iter().copied().rfind(|piece| Some(*piece) != first).unwrap_or(highest);
            let Some(seam) = left.only_seam(next) else { break };
            free.remove(&next);
            left.inside[next] = false;
            for neighbour in seam.iter().filter_map(|half| self.mesh.left(*half)) {
                if left.only_seam(neighbour).is_some() {
                    free.insert(neighbour)
                } else {
                    free.remove(&neighbour)
                };
            }
            order.push((next, seam));
        }
        let mut midst: Vec<usize> = pieces.iter().copied().filter(|&piece| left.inside[piece]).collect();
        if let [first] = midst[..] {
            order.push((first, Vec::new()));
            midst.clear();
        }
        order.reverse();
        (order, midst)
    }

    /// Of the last `two` patches of a part the one that is laid down first. In a row that is its end: the one on which the third is
    /// not sewn. Otherwise it is the one nearer to the middle of the part. Only two patches come as they are numbered.
    fn first_of_two(&self, pieces: &[usize], two: &BTreeSet<usize>, third: Option<&(usize, Chain)>) -> Option<usize> {
        let (_, third) = third?;
        let (lower, higher) = (*two.first()?, *two.last()?);
        let between = self.mesh.around(lower).iter().find(|number| self.mesh.around(higher).contains(number))?;
        let way = |half: Half| self.mesh.course(half).direction_from();
        let sewn_on = |piece: usize| third.iter().any(|half| self.mesh.left(*half) == Some(piece));
        let is_row = way(Half::new(*between, false)).cross(way(*third.first()?)).abs() <= TOLERANCE;
        let middle = middle(self.mesh, pieces);
        let away = |piece: usize| rounded((self.mesh.middles[piece].0 - middle).hypot2());
        match (is_row, sewn_on(lower), sewn_on(higher)) {
            (true, true, false) => Some(higher),
            (true, false, true) => Some(lower),
            _ if away(higher) < away(lower) => Some(higher),
            _ => Some(lower),
        }
    }
}

/// A seam that divides a part.
struct Cut {
    seam: Chain,
    /// What lies to its left and to its right.
    parts: [Vec<usize>; 2],
    /// The parts cost at least so much.
    least: usize,
}

/// What is left of a part while patches are taken off.
struct Left<'a> {
    mesh: &'a Mesh,
    inside: Vec<bool>,
}

impl Left<'_> {
    /// The seams of `piece` with what is left, each walked with the piece to its right.
    fn seams(&self, piece: usize) -> impl Iterator<Item = Half> + '_ {
        self.mesh.around(piece).iter().filter_map(move |&number| {
            let forward = Half::new(number, false);
            let half = if self.mesh.left(forward) == Some(piece) { forward.reversed() } else { forward };
            self.mesh.left(half).filter(|&other| other != piece && self.inside[other]).map(|_| half)
        })
    }

    /// The one straight line that all seams of `piece` with what is left lie in, from its start; nothing where they do not.
    fn only_seam(&self, piece: usize) -> Option<Chain> {
        let mut seam: Chain = self.seams(piece).collect();
        let way = self.mesh.course(*seam.first()?).direction_from();
        let along = |half: &Half| self.mesh.points[self.mesh.start(*half)].to_vec2().dot(way);
        seam.sort_by(|a, b| along(a).total_cmp(&along(b)));
        let goes_on = seam.windows(2).all(|pair| self.mesh.onward(pair[0]) == Some(pair[1]));
        goes_on.then_some(seam)
    }
}

/// Middle of all patches of a part.
fn middle(mesh: &Mesh, pieces: &[usize]) -> Point {
    let area: f64 = pieces.iter().map(|&piece| mesh.middles[piece].1).sum();
    let sum = pieces.iter().map(|&piece| mesh.middles[piece].0.to_vec2() * mesh.middles[piece].1);
    (sum.fold(seamfall_geom::Vec2::ZERO, |sum, one| sum + one) / area).to_point()
}

/// A straight chain as one line; none where it is empty.
fn line(mesh: &Mesh, seam: &Chain) -> Option<Edge> {
    let (first, last) = (seam.first()?, seam.last()?);
    Some(Edge::Line { from: mesh.points[mesh.start(*first)], to: mesh.points[mesh.end(*last)] })
}

/// The outline of a convex part.
fn outline(mesh: &Mesh, pieces: &[usize]) -> Loop {
    let mut inside = vec![false; mesh.pieces];
    pieces.iter().for_each(|&piece| inside[piece] = true);
    let mut next: BTreeMap<usize, usize> = BTreeMap::new();
    for &piece in pieces {
        for &number in mesh.around(piece) {
            let forward = Half::new(number, false);
            let half = if mesh.left(forward) == Some(piece) { forward } else { forward.reversed() };
            if !mesh.left(half.reversed()).is_some_and(|other| inside[other]) {
                next.insert(mesh.start(half), mesh.end(half));
            }
        }
    }
    let start = next.keys().next().copied().unwrap_or(0);
    let round = std::iter::successors(next.get(&start).copied(), |at| next.get(at).copied().filter(|_| *at != start));
    let points: Vec<Point> = round.take(next.len()).map(|point| mesh.points[point]).collect();
    let n = points.len();
    let is_corner = |i: &usize| {
        let (before, after) = (points[*i] - points[(i + n - 1) % n], points[(i + 1) % n] - points[*i]);
        before.cross(after) > TOLERANCE * (before.hypot2() * after.hypot2()).sqrt()
    };
    let corners: Vec<Point> = (0..n).filter(is_corner).map(|i| points[i]).collect();
    Loop::polygon(&corners)
}
