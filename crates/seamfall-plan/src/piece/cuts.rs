//! Full cuts: seams that run through pieces sewn together, straight or along one circle, from edge to edge.
//!
//! In: some of the pieces of a mesh. Out: every line or arc along which they can be taken apart without a bend, and the families
//! of such cuts that can be sewn last together. Linear in the stretches of the pieces, but for seams that cross.

use super::mesh::{Half, Mesh};
use seamfall_geom::{Edge, Point, Vec2};
use std::collections::BTreeMap;

/// Of several directions in which full seams cross, so many are tried: those with the most seams, then the longest.
const DIRECTIONS: usize = 4;

/// Some of the pieces of a mesh, in rising order.
pub(super) struct Region<'a> {
    pub mesh: &'a Mesh,
    pub pieces: &'a [usize],
    /// Points on its edge, in rising order.
    rim: Vec<usize>,
}

/// A seam from edge to edge of a region, walked one way.
pub(super) type Chain = Vec<Half>;

impl<'a> Region<'a> {
    pub fn new(mesh: &'a Mesh, pieces: &'a [usize]) -> Self {
        let mut region = Self { mesh, pieces, rim: Vec::new() };
        for &number in pieces.iter().flat_map(|&piece| mesh.around(piece)) {
            if !region.holds(Half::new(number, false)) {
                let stretch = &mesh.stretches[number];
                region.rim.extend([stretch.from, stretch.to]);
            }
        }
        region.rim.sort_unstable();
        region.rim.dedup();
        region
    }

    /// Whether a piece is one of the region.
    fn has(&self, piece: Option<usize>) -> bool {
        piece.is_some_and(|piece| self.pieces.binary_search(&piece).is_ok())
    }

    /// Whether both sides of a stretch are pieces of the region.
    pub fn holds(&self, half: Half) -> bool {
        let stretch = &self.mesh.stretches[half.stretch()];
        self.has(stretch.left) && self.has(stretch.right)
    }

    /// Whether a point lies on the edge of the region.
    pub fn is_rim(&self, point: usize) -> bool {
        self.rim.binary_search(&point).is_ok()
    }

    /// The stretches inside the region, each once, in the order of its pieces.
    pub fn seams(&self) -> impl Iterator<Item = usize> + '_ {
        let own = |&piece: &usize| self.mesh.around(piece).iter().map(move |&number| (piece, number));
        self.pieces
            .iter()
            .flat_map(own)
            .filter(|&(piece, number)| self.mesh.stretches[number].left == Some(piece) && self.holds(Half::new(number, false)))
            .map(|(_, number)| number)
    }

    /// Inner points of the region through which no seam goes straight: each is a bend in any order.
    pub fn points_without_a_way_through(&self) -> usize {
        let mut points: Vec<usize> =
            self.seams().flat_map(|number| [self.mesh.stretches[number].from, self.mesh.stretches[number].to]).collect();
        points.sort_unstable();
        points.dedup();
        let through = |&point: &usize| {
            let goes_on =
                |half: &Half| self.holds(*half) && self.mesh.onward(half.reversed()).is_some_and(|next| self.holds(next));
            self.mesh.leaving(point).iter().any(goes_on)
        };
        points.into_iter().filter(|point| !self.is_rim(*point) && !through(point)).count()
    }

    /// Every full cut, each once.
    pub fn full_cuts(&self) -> Vec<Chain> {
        let mut cuts = Vec::new();
        let mut walked = vec![];
        for number in self.seams() {
            let stretch = &self.mesh.stretches[number];
            let starts = [(stretch.from, Half::new(number, false)), (stretch.to, Half::new(number, true))];
            for start in starts.into_iter().filter(|(point, _)| self.is_rim(*point)).map(|(_, half)| half) {
                let chain = self.walk(start);
                let last = chain.last().copied().unwrap_or(start);
                // Found from both of its ends; kept once.
                if self.is_rim(self.mesh.end(last))
                    && start.stretch() <= last.stretch()
                    && (chain.len() > 1 || !start.is_backward())
                {
                    cuts.push(chain);
                }
            }
            if stretch.edge.radius().is_some() {
                walked.push(number);
            }
        }
        cuts.extend(self.circles(&walked));
        cuts
    }

    /// From `start` straight on until the edge of the region is met or nothing goes on.
    fn walk(&self, start: Half) -> Chain {
        let mut chain = vec![start];
        let mut at = start;
        while !self.is_rim(self.mesh.end(at)) {
            match self.mesh.onward(at).filter(|half| self.holds(*half)) {
                Some(next) if next != start => {
                    chain.push(next);
                    at = next;
                }
                _ => break,
            }
        }
        chain
    }

    /// Whole circles inside the region.
    fn circles(&self, arcs: &[usize]) -> Vec<Chain> {
        let mut done: Vec<usize> = Vec::new();
        let mut circles = Vec::new();
        for &number in arcs {
            let start = Half::new(number, false);
            if done.contains(&number) || self.is_rim(self.mesh.start(start)) {
                continue;
            }
            let chain = self.walk(start);
            let last = chain.last().copied().unwrap_or(start);
            if self.mesh.end(last) == self.mesh.start(start) && !self.is_rim(self.mesh.end(last)) && chain.len() > 1 {
                done.extend(chain.iter().map(|half| half.stretch()));
                circles.push(chain);
            }
        }
        circles
    }

    /// Parts of the region when `cut` is taken apart: for each part its pieces, in the order of the region.
    pub fn parts<'c>(&self, cut: impl IntoIterator<Item = &'c Chain>) -> Vec<Vec<usize>> {
        let mut closed: Vec<usize> = cut.into_iter().flatten().map(|half| half.stretch()).collect();
        closed.sort_unstable();
        const NONE: usize = usize::MAX;
        // Of each piece, by where it stands among those of the region.
        let mut part = vec![NONE; self.pieces.len()];
        let mut count = 0;
        for first in 0..self.pieces.len() {
            if part[first] != NONE {
                continue;
            }
            let mut waiting = vec![first];
            part[first] = count;
            while let Some(at) = waiting.pop() {
                for &number in self.mesh.around(self.pieces[at]) {
                    let stretch = &self.mesh.stretches[number];
                    if closed.binary_search(&number).is_ok() {
                        continue;
                    }
                    let place = |piece: Option<usize>| self.pieces.binary_search(&piece?).ok();
                    let (Some(left), Some(right)) = (place(stretch.left), place(stretch.right)) else { continue };
                    for next in [left, right] {
                        if part[next] == NONE {
                            part[next] = count;
                            waiting.push(next);
                        }
                    }
                }
            }
            count += 1;
        }
        let mut parts = vec![Vec::new(); count];
        for (&piece, part) in self.pieces.iter().zip(part) {
            parts[part].push(piece);
        }
        parts
    }

    /// Cuts that can be sewn last together, one family for each way there is: seams that cross no other are always taken first,
    /// else those of one direction.
    pub fn families(&self, cuts: &[Chain], turned: f64) -> Vec<Vec<Chain>> {
        let mut at: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (number, cut) in cuts.iter().enumerate() {
            let inner = cut.iter().map(|half| self.mesh.start(*half)).filter(|point| !self.is_rim(*point));
            inner.for_each(|point| at.entry(point).or_default().push(number));
        }
        let mut crosses = vec![false; cuts.len()];
        for crossing in at.values().filter(|crossing| crossing.len() > 1) {
            for &number in crossing {
                crosses[number] = true;
            }
        }
        let (mut free, mut crossing): (Vec<&Chain>, Vec<&Chain>) = (Vec::new(), Vec::new());
        cuts.iter().zip(&crosses).for_each(|(cut, &crosses)| if crosses { crossing.push(cut) } else { free.push(cut) });
        let (square, slanted): (Vec<&Chain>, Vec<&Chain>) = free.into_iter().partition(|cut| self.is_square(cut));
        let crossing_square = crossing.iter().any(|cut| self.is_square(cut));
        if !square.is_empty() || (!slanted.is_empty() && !crossing_square) {
            // Triangles are sewn to squares before squares are sewn together; the other way is natural too.
            let all: Vec<&Chain> = square.iter().chain(&slanted).copied().collect();
            return if square.is_empty() || slanted.is_empty() {
                vec![self.apart(&all)]
            } else {
                vec![self.apart(&square), self.apart(&all)]
            };
        }
        let last = if slanted.is_empty() { None } else { Some(self.apart(&slanted)) };
        let mut classes: BTreeMap<Direction, Vec<&Chain>> = BTreeMap::new();
        for cut in crossing {
            classes.entry(Direction::of(&self.mesh.course(cut[0]), turned)).or_default().push(cut);
        }
        let long = |class: &Vec<&Chain>| (class.iter().map(|cut| self.length(cut)).sum::<f64>() * 1e3).round() as i64;
        let mut classes: Vec<(Direction, Vec<&Chain>)> = classes.into_iter().collect();
        classes.sort_by_key(|(direction, class)| (std::cmp::Reverse((class.len(), long(class))), direction.clone()));
        classes.into_iter().take(DIRECTIONS).map(|(_, class)| self.apart(&class)).chain(last).collect()
    }

    /// Whether a straight cut meets the edge of the region at a right angle at both of its ends.
    fn is_square(&self, cut: &Chain) -> bool {
        let (first, last) = (cut[0], cut[cut.len() - 1].reversed());
        self.mesh.stretches[first.stretch()].edge.radius().is_none()
            && [first, last].into_iter().all(|half| {
                let way = self.mesh.course(half).direction_from();
                let edge = |&other: &Half| self.has(self.mesh.left(other)) != self.has(self.mesh.left(other.reversed()));
                let mut edges = self.mesh.leaving(self.mesh.start(half)).iter().copied().filter(edge);
                edges.all(|other| self.mesh.course(other).direction_from().dot(way).abs() <= 1e-6)
            })
    }

    fn length(&self, cut: &Chain) -> f64 {
        cut.iter().map(|half| self.mesh.course(*half).length()).sum()
    }

    /// Of cuts that end at one point only the middle one, so that a fan is sewn in halves; sorted from the top down, then from
    /// the left.
    fn apart(&self, cuts: &[&Chain]) -> Vec<Chain> {
        let mut ends: BTreeMap<usize, Vec<(f64, usize)>> = BTreeMap::new();
        for (number, cut) in cuts.iter().enumerate() {
            let (first, last) = (cut[0], cut[cut.len() - 1].reversed());
            for half in [first, last] {
                let way = self.mesh.course(half).direction_from();
                ends.entry(self.mesh.start(half)).or_default().push((libm::atan2(way.y, way.x), number));
            }
        }
        let mut kept = vec![true; cuts.len()];
        for fan in ends.into_values().filter(|fan| fan.len() > 1) {
            let middle = middle_of_fan(fan.iter().map(|(angle, _)| *angle).collect());
            for (i, (_, number)) in fan.iter().enumerate() {
                kept[*number] &= i == middle || fan[middle].1 == *number;
            }
        }
        if !kept.contains(&true) {
            kept[cuts.len() / 2] = true;
        }
        let mut family: Vec<Chain> = cuts.iter().zip(kept).filter(|(_, kept)| *kept).map(|(cut, _)| (*cut).clone()).collect();
        family.sort_by_key(|cut| {
            let middle = self.mesh.course(cut[cut.len() / 2]).at(0.5);
            [-middle.y, middle.x].map(|value| (value * 1e4).round() as i64)
        });
        family
    }

    /// By how many degrees the region is turned against others of its shape: the direction in which its first piece (by colour,
    /// area and distance from the middle) lies from its middle.
    pub fn turned(&self, colours: &[usize]) -> f64 {
        let all: f64 = self.pieces.iter().map(|&piece| self.mesh.middles[piece].1).sum();
        let sum = self.pieces.iter().fold(Vec2::ZERO, |sum, &piece| {
            let (at, area) = self.mesh.middles[piece];
            sum + at.to_vec2() * area
        });
        let middle: Point = (sum / all).to_point();
        let key = |&piece: &usize| {
            let (at, area) = self.mesh.middles[piece];
            (colours[piece], rounded(area), rounded((at - middle).hypot2()))
        };
        let off = self.pieces.iter().filter(|piece| (self.mesh.middles[**piece].0 - middle).hypot2() > 1e-4);
        off.min_by_key(|piece| key(piece)).map_or(0.0, |&piece| {
            let away = self.mesh.middles[piece].0 - middle;
            libm::atan2(away.y, away.x).to_degrees()
        })
    }

    /// What tells regions apart that are not congruent with the same colours: pieces, colours, areas, distances from the middle.
    pub fn likeness(&self, colours: &[usize]) -> Vec<[i64; 3]> {
        let count = self.pieces.len() as f64;
        let sum = self.pieces.iter().fold(Vec2::ZERO, |sum, &piece| sum + self.mesh.middles[piece].0.to_vec2());
        let middle = (sum / count).to_point();
        let mut likeness: Vec<[i64; 3]> = self
            .pieces
            .iter()
            .map(|&piece| {
                let (at, area) = self.mesh.middles[piece];
                [colours[piece] as i64, rounded(area), rounded((at - middle).hypot2())]
            })
            .collect();
        likeness.sort_unstable();
        likeness
    }
}

/// The direction a straight seam runs in, or the centre of a curved one.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Direction {
    /// Thousandths of a degree against the region, half a circle being none.
    Line(i64),
    /// Thousandths of a unit.
    Arc(i64, i64),
}

impl Direction {
    fn of(edge: &Edge, turned: f64) -> Self {
        match edge {
            Edge::Line { from, to } => {
                let way = *to - *from;
                let angle = libm::atan2(way.y, way.x).to_degrees() - turned;
                Self::Line(rounded(angle).rem_euclid(180_000))
            }
            Edge::Arc { centre, .. } => Self::Arc(rounded(centre.x), rounded(centre.y)),
        }
    }
}

/// To a thousandth. The steps are shifted, so that no length or angle that is drawn lies on the edge between two of them.
pub(super) fn rounded(value: f64) -> i64 {
    (value * 1e3 + 0.381_966).floor() as i64
}

/// Which of the directions (in radians) of a fan lies in its middle: the widest gap between two neighbours is outside of it.
fn middle_of_fan(angles: Vec<f64>) -> usize {
    let n = angles.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&a, &b| angles[a].total_cmp(&angles[b]));
    let gap = |i: usize| {
        let (a, b) = (angles[order[i]], angles[order[(i + 1) % n]]);
        if i + 1 == n { b - a + std::f64::consts::TAU } else { b - a }
    };
    let widest = (0..n).max_by(|&a, &b| gap(a).total_cmp(&gap(b)).then(b.cmp(&a))).unwrap_or(0);
    order[(widest + 1 + n / 2) % n]
}
