//! The layout: one template in a pattern, the others round it, then what sticks out put further down.
//!
//! In: templates and cloth. Out: the shortest of all layouts tried. Tried are, for each of the templates with the most cloth, its best
//! patterns over the whole width and over less of it; the others are put to the lowest places left, or follow in blocks of their
//! own. The best of them are then shortened: pieces that reach over a lower line are taken off and put where there is room
//! below it. Of a template with very many copies, equal blocks are repeated first.

use seamfall_geom::Vec2;

use super::bed::{Bed, Side};
use super::block::{Block, Laid, block};
use super::lattice::{Lattice, lattices};
use super::meeting::Meetings;
use super::rows::{pairs, spread};
use super::shape::shapes;
use super::strips::{add, strips};
use super::{Budget, Cloth, HAIR, MOST_COPIES, NestError, Nesting, Strip, Template, Turns};

/// Copies in a block that is repeated, where a row does not hold more. Of twice as many, equal blocks are cut.
const REPEATED: (usize, usize) = (150, 250);
/// Sizes of such a block that are tried.
const BLOCK_SIZES: usize = 100;
/// Turns, over all templates, of which patterns are made; each with its half turn.
const TURNED: usize = 48;
/// Patterns of a template that are tried.
const PATTERNS: usize = 10;
/// Templates that may be the first.
const FIRST: usize = 3;
/// Narrower widths for a pattern.
const NARROWER: usize = 10;
/// Steps that a piece costs in a block: all patterns and shifts are tried.
const BLOCK_STEPS: usize = 200;
/// Tenths of the budget after which no other pattern is tried; the rest is for shortening.
const FILLING: u64 = 7;
/// Layouts that are shortened.
const SHORTENED: usize = 4;

/// One template's shapes, how many of it are left to place, and its patterns.
struct Kind {
    shapes: Vec<usize>,
    count: usize,
    area: f64,
    patterns: Vec<Lattice>,
}

/// The shortest layout found.
///
/// # Errors
/// [`NestError`] with the template and the remedy.
pub fn cut(templates: &[Template], cloth: Cloth, budget: Budget) -> Result<Nesting, NestError> {
    checked(templates, cloth)?;
    let meetings = meetings(templates, cloth)?;
    let mut kinds: Vec<Kind> = Vec::new();
    for (number, template) in templates.iter().enumerate() {
        let own: Vec<usize> = (0..meetings.shapes.len()).filter(|&i| meetings.shapes[i].template == number).collect();
        let area = meetings.shapes[own[0]].area;
        kinds.push(Kind { shapes: own, count: template.count as usize, area, patterns: Vec::new() });
    }
    let area: f64 = kinds.iter().map(|kind| kind.area * kind.count as f64).sum();
    let mut told: Vec<Strip> = Vec::new();
    let turns = (TURNED / kinds.len()).max(2);
    for kind in &mut kinds {
        kind.patterns = patterns(&meetings, kind, cloth.width, turns);
        repeat(&meetings, kind, cloth.width, &mut told);
    }
    for strip in strips(&meetings, &search(&meetings, &kinds, cloth.width, budget)) {
        let times = strip.times;
        add(&mut told, strip, times);
    }
    told.sort_by(|a, b| b.height.total_cmp(&a.height));
    let cuts: u32 = told.iter().map(|strip| strip.times).sum();
    let heights: f64 = told.iter().map(|strip| strip.height * f64::from(strip.times)).sum();
    let length = heights + cloth.gap * f64::from(cuts.saturating_sub(1));
    Ok(Nesting { length, area_bound: area / cloth.width, strips: told })
}

/// Whether the list can be worked on at all.
pub(super) fn checked(templates: &[Template], cloth: Cloth) -> Result<(), NestError> {
    let Cloth { width, gap } = cloth;
    if !(width.is_finite() && gap.is_finite() && width > 0.0 && gap >= 0.0) {
        return Err(NestError::Cloth { width, gap });
    }
    if templates.is_empty() {
        return Err(NestError::NoTemplates);
    }
    for template in templates {
        let name = || template.name.clone();
        if template.count == 0 || template.count > MOST_COPIES {
            return Err(NestError::Count { name: name(), count: template.count });
        }
        if matches!(&template.turns, Turns::Listed(angles) if !angles.iter().any(|angle| angle.is_finite())) {
            return Err(NestError::NoTurn { name: name() });
        }
    }
    Ok(())
}

/// The shapes of all templates.
pub(super) fn meetings(templates: &[Template], cloth: Cloth) -> Result<Meetings, NestError> {
    let mut all = Vec::new();
    for (number, template) in templates.iter().enumerate() {
        all.extend(shapes(number, template, cloth.width)?);
    }
    Ok(Meetings::new(all, cloth.gap))
}

/// The patterns of a kind, those that need the least length for its count first.
fn patterns(meetings: &Meetings, kind: &Kind, width: f64, turns: usize) -> Vec<Lattice> {
    let mut found: Vec<(f64, Lattice)> = Vec::new();
    let count = kind.count.min(repeated(meetings, kind, width).1);
    for (shape, half_turn) in pairs(&meetings.shapes, &kind.shapes).into_iter().take(turns) {
        let even = |closest: f64| spread(meetings, shape, width, closest);
        let across = lattices(meetings, shape, half_turn, Vec2::new(1.0, 0.0), &even);
        let along = lattices(meetings, shape, half_turn, Vec2::new(0.0, 1.0), &|_| Vec::new());
        for lattice in across.into_iter().chain(along) {
            if let Some(Block { length, .. }) = block(meetings, &lattice, width, count) {
                found.push((length, lattice));
            }
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.dedup_by(|b, a| (a.0 - b.0).abs() <= HAIR && (a.1.cell() - b.1.cell()).abs() <= HAIR);
    found.truncate(PATTERNS);
    found.into_iter().map(|(_, lattice)| lattice).collect()
}

/// Fewest and most copies in a block that is repeated: a few rows.
fn repeated(meetings: &Meetings, kind: &Kind, width: f64) -> (usize, usize) {
    let shape = &meetings.shapes[kind.shapes[0]];
    let row = (width * shape.height / shape.area) as usize;
    (REPEATED.0.max(2 * row), REPEATED.1.max(3 * row))
}

/// Takes equal blocks off a kind with very many copies.
fn repeat(meetings: &Meetings, kind: &mut Kind, width: f64, told: &mut Vec<Strip>) {
    let (fewest, most) = repeated(meetings, kind, width);
    if kind.count <= 2 * most {
        return;
    }
    let mut best: Option<(f64, Block)> = None;
    for pattern in kind.patterns.iter().take(3) {
        for count in (fewest..=most).step_by((most - fewest).div_ceil(BLOCK_SIZES)) {
            let Some(found) = block(meetings, pattern, width, count) else { continue };
            let each = (found.length + meetings.gap) / count as f64;
            if best.as_ref().is_none_or(|(least, _)| each < least - HAIR / most as f64) {
                best = Some((each, found));
            }
        }
    }
    let Some((_, best)) = best else { return };
    let times = (kind.count - fewest) / best.laid.len();
    kind.count -= times * best.laid.len();
    for part in strips(meetings, &best.laid) {
        let each = part.times;
        add(told, part, each * times as u32);
    }
}

/// Layouts tried so far, the shortest first.
struct Tried<'a> {
    meetings: &'a Meetings,
    kinds: &'a [Kind],
    width: f64,
    best: Vec<(f64, Vec<Laid>)>,
    steps: u64,
    budget: u64,
}

fn search(meetings: &Meetings, kinds: &[Kind], width: f64, budget: Budget) -> Vec<Laid> {
    let mut tried = Tried { meetings, kinds, width, best: Vec::new(), steps: 0, budget: budget.steps };
    let mut sizes: Vec<usize> = (0..kinds.len()).collect();
    sizes.sort_by(|&a, &b| kinds[b].area.total_cmp(&kinds[a].area));
    tried.in_blocks(&sizes);
    let mut firsts = sizes.clone();
    firsts.sort_by(|&a, &b| (kinds[b].area * kinds[b].count as f64).total_cmp(&(kinds[a].area * kinds[a].count as f64)));
    for order in [&sizes, &firsts] {
        if !tried.spent(FILLING) {
            tried.filled(Vec::new(), order, Side::Left, true);
        }
    }
    for rank in 0..PATTERNS {
        for &first in firsts.iter().take(FIRST) {
            tried.round_pattern(first, rank, &sizes);
        }
    }
    tried.shorten();
    tried.best.swap_remove(0).1
}

impl Tried<'_> {
    fn keep(&mut self, bed: Bed) {
        let (length, laid) = (bed.length(), bed.laid);
        let place = self.best.partition_point(|(other, _)| *other <= length + HAIR);
        let same = place > 0 && (self.best[place - 1].0 - length).abs() <= HAIR;
        if !same {
            self.best.insert(place, (length, laid));
            self.best.truncate(SHORTENED);
        }
    }

    /// Whether so many tenths of the budget are spent.
    fn spent(&self, tenths: u64) -> bool {
        self.steps > self.budget / 10 * tenths
    }

    /// Each kind in a block of its own, one after the other: always an answer.
    fn in_blocks(&mut self, order: &[usize]) {
        let mut laid = Vec::new();
        for &kind in order {
            self.add_block(&mut laid, kind, self.kinds[kind].count);
        }
        self.keep(Bed::new(self.meetings, self.width, laid));
    }

    /// Adds so many of a kind in the pattern that is shortest for that number; box beside box where it has none, as a needle.
    fn add_block(&mut self, laid: &mut Vec<Laid>, kind: usize, count: usize) {
        self.steps += (count * BLOCK_STEPS) as u64;
        let blocks = self.kinds[kind].patterns.iter().filter_map(|pattern| block(self.meetings, pattern, self.width, count));
        let least = blocks.min_by(|a, b| a.length.total_cmp(&b.length)).map(|block| block.laid);
        let block = least.unwrap_or_else(|| in_boxes(self.meetings, &self.kinds[kind].shapes, self.width, count));
        drop_block(self.meetings, laid, &block, self.width);
    }

    /// One kind in its pattern of that rank, at the whole width and at less, and the others where there is room.
    fn round_pattern(&mut self, first: usize, rank: usize, sizes: &[usize]) {
        let kind = &self.kinds[first];
        let Some(pattern) = kind.patterns.get(rank) else { return };
        let others: Vec<usize> = sizes.iter().copied().filter(|&kind| kind != first).collect();
        let mut width = self.width;
        for _ in 0..if sizes.len() > 1 { NARROWER } else { 1 } {
            if self.spent(FILLING) {
                return;
            }
            let Some(own) = block(self.meetings, pattern, width, kind.count) else { return };
            let right = |laid: &Laid| laid.at.x + self.meetings.shapes[laid.shape].width;
            let reach = own.laid.iter().map(right).fold(0.0, f64::max);
            if own.length >= self.best[0].0 * 1.25 {
                return;
            }
            for (side, then_blocks) in [(Side::Left, false), (Side::Right, false), (Side::Left, true)] {
                if !then_blocks || !others.is_empty() {
                    self.filled(own.laid.clone(), &others, side, then_blocks);
                }
            }
            width = reach - 0.02 * self.meetings.shapes[kind.shapes[0]].width;
        }
    }

    /// These kinds beside what lies: all of them in the lowest places, or only while the layout gets no longer by it and then the
    /// rest in a block.
    fn filled(&mut self, laid: Vec<Laid>, kinds: &[usize], side: Side, then_blocks: bool) {
        let limit = self.best.last().map_or(f64::INFINITY, |(length, _)| length * 1.1);
        let mut bed = Bed::new(self.meetings, self.width, laid);
        bed.most_steps = self.budget.saturating_sub(self.steps);
        for &kind in kinds {
            let Kind { shapes, count, .. } = &self.kinds[kind];
            let limit = if then_blocks { bed.length() } else { limit };
            let rest = count - put(&mut bed, shapes, *count, limit, side);
            if rest > 0 && !then_blocks {
                self.steps += bed.steps;
                return;
            }
            if rest > 0 {
                self.add_block(&mut bed.laid, kind, rest);
            }
        }
        self.steps += bed.steps;
        self.keep(bed);
    }

    /// Takes the uppermost pieces of the best layouts off and puts them further down, while that goes.
    fn shorten(&mut self) {
        for (length, laid) in std::mem::take(&mut self.best) {
            let mut best = (length, laid);
            let mut share = 0.04;
            while share > 0.0005 && !self.spent(10) {
                match [Side::Left, Side::Right].into_iter().find_map(|side| self.shortened(&best, share, side)) {
                    Some(shorter) => best = shorter,
                    None => share /= 2.0,
                }
            }
            self.keep(Bed::new(self.meetings, self.width, best.1));
        }
    }

    /// The layout, shorter by a share, or nothing.
    fn shortened(&mut self, layout: &(f64, Vec<Laid>), share: f64, side: Side) -> Option<(f64, Vec<Laid>)> {
        let limit = layout.0 * (1.0 - share);
        let highest = |laid: &Laid| laid.at.y + self.meetings.shapes[laid.shape].height;
        for depth in [0.0, 0.5, 1.2] {
            if self.spent(10) {
                return None;
            }
            let line = |laid: &Laid| limit - depth * self.meetings.shapes[laid.shape].height;
            let (off, on): (Vec<Laid>, Vec<Laid>) = layout.1.iter().partition(|laid| highest(laid) > line(laid) + HAIR);
            let mut bed = Bed::new(self.meetings, self.width, on);
            bed.most_steps = self.budget.saturating_sub(self.steps);
            let mut kinds: Vec<usize> = (0..self.kinds.len()).collect();
            kinds.sort_by(|&a, &b| self.kinds[b].area.total_cmp(&self.kinds[a].area));
            let fits = kinds.into_iter().all(|kind| {
                let shapes = &self.kinds[kind].shapes;
                let count = off.iter().filter(|laid| shapes.contains(&laid.shape)).count();
                put(&mut bed, shapes, count, limit, side) == count
            });
            self.steps += bed.steps;
            if fits {
                return Some((bed.length(), bed.laid));
            }
        }
        None
    }
}

/// Puts `count` pieces to the lowest places, each in the turn that ends lowest, while there is one below `limit`; how many
/// there were.
fn put(bed: &mut Bed, shapes: &[usize], count: usize, limit: f64, side: Side) -> usize {
    // Where a shape did not fit it does not fit later, with more pieces on the cloth.
    let mut from: Vec<Option<f64>> = vec![Some(0.0); shapes.len()];
    for number in 0..count {
        let mut best: Option<(f64, Laid)> = None;
        for (from, &shape) in from.iter_mut().zip(shapes) {
            let Some(level) = *from else { continue };
            let found = bed.lowest(shape, level, limit, side);
            *from = found.map(|(_, level)| level);
            if let Some((laid, _)) = found
                && best.is_none_or(|(least, _)| bed.top(&laid) < least - HAIR)
            {
                best = Some((bed.top(&laid), laid));
            }
        }
        let Some((_, laid)) = best else { return number };
        bed.laid.push(laid);
    }
    count
}

/// So many pieces in rows, each in a box of its own, in the turn that is lowest.
fn in_boxes(meetings: &Meetings, shapes: &[usize], width: f64, count: usize) -> Vec<Laid> {
    let step =
        |shape: usize| Vec2::new(meetings.shapes[shape].width + meetings.gap, meetings.shapes[shape].height + meetings.gap);
    let in_a_row = |shape: usize| (((width + meetings.gap + HAIR) / step(shape).x) as usize).clamp(1, count);
    let length = |shape: usize| count.div_ceil(in_a_row(shape)) as f64 * step(shape).y;
    let lowest = shapes.iter().copied().min_by(|&a, &b| length(a).total_cmp(&length(b))).expect("a template has a shape");
    let (step, in_a_row) = (step(lowest), in_a_row(lowest));
    let place = |number: usize| Vec2::new((number % in_a_row) as f64 * step.x, (number / in_a_row) as f64 * step.y);
    (0..count).map(|number| Laid { shape: lowest, at: place(number) }).collect()
}

/// Lets a block down on the pieces that lie, as one.
fn drop_block(meetings: &Meetings, laid: &mut Vec<Laid>, block: &[Laid], width: f64) {
    let reach = block.iter().map(|l| l.at.x + meetings.shapes[l.shape].width).fold(0.0, f64::max);
    // From above and from below, so that most pairs are too far apart to be looked at.
    laid.sort_by(|a, b| b.at.y.total_cmp(&a.at.y));
    let clearance = |shift: f64| {
        let mut needed: f64 = 0.0;
        for below in laid.iter() {
            for piece in block {
                let meeting = meetings.of(below.shape, piece.shape);
                let rise = below.at.y - piece.at.y;
                if rise + meeting.across.reach.1 > needed {
                    needed = needed.max(meeting.along.far(piece.at.x + shift - below.at.x) + rise);
                }
            }
        }
        needed
    };
    let shifts = (0..=8).map(|k| (width - reach).max(0.0) * f64::from(k) / 8.0);
    let best = shifts.map(|shift| (clearance(shift), shift)).min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, 0.0));
    let moved: Vec<Laid> = block.iter().map(|l| Laid { at: l.at + Vec2::new(best.1, best.0), ..*l }).collect();
    laid.extend(moved);
}
