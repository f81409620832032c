//! Pieces that no full seam takes apart: the cut with the fewest bends.
//!
//! In: a region without a full cut. Out: a seam from edge to edge of it with bends, such that the region, its parts and theirs
//! are sewn with the fewest bends there can be, and the bound that proves it.
//!
//! Every seam through the region is tried, those with fewer bends first; each leaves two parts with a least number of their own, and
//! no bend is counted twice. Sets of pieces are solved once. A full cut, where a part has one, is always safe to take. Nothing is
//! less than the number of points through which no seam goes straight, nor than one where there is no full cut. Exact up to
//! [`EXACT`] pieces and within the budget of steps; beyond, the best of the first seams found, by that bound. Once the budget is
//! spent, pieces are taken off one by one from the edge, so that an order is always found.

use super::cuts::{Chain, Region};
use super::mesh::{Half, Mesh};
use std::collections::BTreeMap;

/// So many pieces without a full seam are solved exactly.
pub(super) const EXACT: usize = 25;
/// Steps of all searches in one order: a seam tried one stretch further, or a piece of a set looked at.
pub(super) const BUDGET: usize = 1_000_000;
/// Steps of one exact search, and of one look for a good seam.
const EXACT_BUDGET: usize = 400_000;
const LOOK_BUDGET: usize = 100_000;
/// Of seams with equally few bends so many are compared where the answer is not exact.
const COMPARED: usize = 60;

/// How a region is taken apart where no full cut does it.
#[derive(Debug, Clone)]
pub(super) struct BentCut {
    /// The seam.
    pub cut: Chain,
    /// No order of the region has fewer bends.
    pub bound: usize,
    /// Whether that is of this seam alone, and the parts have theirs besides.
    pub alone: bool,
}

/// The cut with the fewest bends; takes its steps from `budget`. Nothing where the pieces do not hang together.
pub(super) fn least(mesh: &Mesh, pieces: &[usize], budget: &mut usize) -> Option<BentCut> {
    if let Some(hole) = set_in(mesh, pieces) {
        return Some(hole);
    }
    let bound = Region::new(mesh, pieces).points_without_a_way_through().max(1);
    let most = EXACT_BUDGET.min(*budget);
    let mut search = Search { mesh, known: BTreeMap::new(), steps: most };
    let exact = if pieces.len() <= EXACT { search.exact(pieces, bound) } else { None };
    *budget -= most - search.steps;
    search.steps = if exact.is_some() { 0 } else { LOOK_BUDGET.min(*budget) };
    let most = search.steps;
    let found = exact.or_else(|| search.first_good(pieces, bound));
    *budget -= most - search.steps;
    found.or_else(|| one_off(mesh, pieces, bound))
}

/// A piece on the edge of the region that can be taken off along one unbroken seam.
fn one_off(mesh: &Mesh, pieces: &[usize], bound: usize) -> Option<BentCut> {
    let region = Region::new(mesh, pieces);
    // No seam parts what does not hang together into two.
    if region.parts([]).len() > 1 {
        return None;
    }
    let seam_round = |piece: usize| -> Option<Chain> {
        let inner = mesh.around(piece).iter().map(|&number| Half::new(number, mesh.stretches[number].left != Some(piece)));
        let mut inner: Vec<Half> = inner.filter(|half| region.holds(*half)).collect();
        let follows = |a: Half, b: Half| mesh.end(a) == mesh.start(b);
        let first = inner
            .iter()
            .position(|&half| region.is_rim(mesh.start(half)) && !inner.iter().any(|&before| follows(before, half)))?;
        let mut chain = vec![inner.swap_remove(first)];
        while let Some(next) = inner.iter().position(|&half| follows(chain[chain.len() - 1], half)) {
            chain.push(inner.swap_remove(next));
        }
        (inner.is_empty() && region.parts([&chain]).len() == 2).then_some(chain)
    };
    let cut = pieces.iter().filter_map(|&piece| seam_round(piece)).take(COMPARED / 6).min_by_key(|chain| mesh.bends(chain))?;
    Some(BentCut { cut, bound, alone: false })
}

/// A piece set into another: its closed seam. Every corner of it is a bend in any order, so that nothing is less.
fn set_in(mesh: &Mesh, pieces: &[usize]) -> Option<BentCut> {
    let region = Region::new(mesh, pieces);
    let hole = mesh.holes.iter().find(|hole| hole.iter().all(|half| region.holds(*half)))?;
    let n = hole.len();
    let corners = mesh.bends(hole);
    let start = (0..n).find(|&i| mesh.onward(hole[(i + n - 1) % n]) != Some(hole[i])).unwrap_or(0);
    let cut: Chain = hole[start..].iter().chain(&hole[..start]).copied().collect();
    Some(BentCut { cut, bound: corners, alone: true })
}

/// What is known of a set of pieces.
#[derive(Debug, Clone, Default)]
struct Known {
    /// It takes more bends than this minus one.
    at_least: usize,
    /// Fewest bends, and the last seam.
    found: Option<(usize, Chain)>,
}

struct Search<'a> {
    mesh: &'a Mesh,
    known: BTreeMap<Vec<usize>, Known>,
    steps: usize,
}

impl Search<'_> {
    fn exact(&mut self, pieces: &[usize], bound: usize) -> Option<BentCut> {
        for limit in bound.. {
            if self.solve(pieces, limit).is_some() {
                let (bound, cut) = self.known.get(pieces).and_then(|known| known.found.clone())?;
                return Some(BentCut { cut, bound, alone: false });
            }
            if self.steps == 0 {
                return None;
            }
        }
        None
    }

    /// Fewest bends of `pieces`, if not more than `limit`.
    fn solve(&mut self, pieces: &[usize], limit: usize) -> Option<usize> {
        if pieces.len() == 1 {
            return Some(0);
        }
        let known = self.known.get(pieces).cloned().unwrap_or_default();
        if let Some((bends, _)) = known.found {
            return (bends <= limit).then_some(bends);
        }
        if known.at_least > limit || self.steps == 0 {
            return None;
        }
        self.steps = self.steps.saturating_sub(pieces.len());
        let region = Region::new(self.mesh, pieces);
        for cut in region.full_cuts() {
            if let [left, right] = region.parts([&cut]).as_slice() {
                let rest = self.solve(left, limit).and_then(|a| Some(a + self.solve(right, limit - a)?));
                return self.note(pieces, limit, rest, cut);
            }
        }
        let bound = region.points_without_a_way_through().max(1).max(known.at_least);
        for bends in bound..=limit {
            for path in Paths::with_at_most(&region, bends, &mut self.steps) {
                if let [left, right] = region.parts([&path.chain]).as_slice() {
                    let left_over = bends - path.bends;
                    let rest = self.solve(left, left_over).and_then(|a| Some(a + self.solve(right, left_over - a)?));
                    if let Some(rest) = rest {
                        return self.note(pieces, limit, Some(rest + path.bends), path.chain);
                    }
                }
            }
        }
        self.note(pieces, limit, None, Vec::new())
    }

    /// Keeps what was found out, unless the budget ended in between.
    fn note(&mut self, pieces: &[usize], limit: usize, found: Option<usize>, cut: Chain) -> Option<usize> {
        let known = self.known.entry(pieces.to_vec()).or_default();
        match found {
            Some(bends) => known.found = Some((bends, cut)),
            None if self.steps > 0 => known.at_least = known.at_least.max(limit + 1),
            None => {}
        }
        found
    }

    /// The seam after which the parts have the fewest points without a way through, of those with the fewest bends.
    fn first_good(&mut self, pieces: &[usize], bound: usize) -> Option<BentCut> {
        let region = Region::new(self.mesh, pieces);
        for bends in 1.. {
            let paths = Paths::with_at_most(&region, bends, &mut self.steps);
            self.steps = self.steps.saturating_sub(3 * pieces.len() * paths.len().min(COMPARED));
            let rated = paths.into_iter().take(COMPARED).filter_map(|path| {
                let parts = region.parts([&path.chain]);
                let bent = |part: &Vec<usize>| Region::new(self.mesh, part).points_without_a_way_through();
                (parts.len() == 2).then(|| (path.bends + parts.iter().map(bent).sum::<usize>(), path.chain))
            });
            if let Some((_, cut)) = rated.min_by_key(|(bends, _)| *bends) {
                return Some(BentCut { cut, bound, alone: false });
            }
            if self.steps == 0 {
                return None;
            }
        }
        None
    }
}

/// A seam from edge to edge.
struct Path {
    chain: Chain,
    bends: usize,
}

/// All seams from edge to edge of a region that bend so often at most, each walked one way.
struct Paths<'a, 's> {
    region: &'a Region<'a>,
    steps: &'s mut usize,
    all: Vec<Path>,
    passed: Vec<usize>,
    chain: Chain,
}

impl<'a, 's> Paths<'a, 's> {
    fn with_at_most(region: &'a Region<'a>, bends: usize, steps: &'s mut usize) -> Vec<Path> {
        let mut paths = Self { region, steps, all: Vec::new(), passed: Vec::new(), chain: Vec::new() };
        let seams: Vec<usize> = region.seams().collect();
        for number in seams {
            for half in [Half::new(number, false), Half::new(number, true)] {
                if region.is_rim(region.mesh.start(half)) {
                    paths.follow(half, 0, bends);
                }
            }
        }
        // Of seams that bend equally often the shorter: a strip is sewn on by itself, and mitred with its neighbour then.
        let length = |path: &Path| path.chain.iter().map(|half| region.mesh.course(*half).length()).sum::<f64>();
        paths.all.sort_by_cached_key(|path| (path.bends, (length(path) * 1e3).round() as i64));
        paths.all
    }

    fn follow(&mut self, half: Half, bent: usize, most: usize) {
        if *self.steps == 0 {
            return;
        }
        *self.steps -= 1;
        let mesh = self.region.mesh;
        let end = mesh.end(half);
        self.chain.push(half);
        if self.region.is_rim(end) {
            if self.chain[0].stretch() <= half.stretch() {
                self.all.push(Path { chain: self.chain.clone(), bends: bent });
            }
        } else if !self.passed.contains(&end) {
            self.passed.push(end);
            for &next in mesh.leaving(end) {
                let straight = mesh.onward(half) == Some(next);
                let bent = bent + usize::from(!straight);
                if next != half.reversed() && bent <= most && self.region.holds(next) {
                    self.follow(next, bent, most);
                }
            }
            self.passed.pop();
        }
        self.chain.pop();
    }
}
