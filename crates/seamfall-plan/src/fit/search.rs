//! Settings that reach a size: every one within limits is looked at, and the best are told with the reason for their rank.
//!
//! In: the size to piece, what may vary, what stays. Out: the best settings of several kinds, and how many there were.
//!
//! The search is exact. Width depends on the columns alone and length on the rows alone, so that for each choice of widths those that come
//! within the tolerance are found by halving, and every pair of them is weighed; no other setting can be within it. Where none is, the
//! tolerance becomes the least miss that can be had. Of equal settings that which is plainer goes first, then less cloth, fewer hours, fewer
//! blocks, and at last the one that comes first by layout, block, frame, sashing, bands, columns and rows, each from the least up.

use super::settings::{Base, Figures, Setting, Side, Standing};
use super::wish::Wishes;
use crate::answer::{Impossible, Ruler};
use seamfall_geom::Vec2;
use seamfall_model::{Length, Working};
use tr::tr;

/// Why settings are among the best.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// Nearest to the size.
    Nearest,
    /// Least cloth.
    LeastCloth,
    /// Fewest hours.
    FewestHours,
    /// Fewest blocks.
    FewestBlocks,
    /// Fewest kinds of strips.
    Plainest,
    /// Nearest with blocks as they are now.
    OwnBlocks,
    /// Nearest with the blocks straight.
    Straight,
    /// Nearest with the blocks on point.
    OnPoint,
}

impl Rank {
    /// Every one, in the order in which they are told.
    pub const ALL: [Self; 8] = [
        Self::Nearest,
        Self::LeastCloth,
        Self::FewestHours,
        Self::FewestBlocks,
        Self::Plainest,
        Self::OwnBlocks,
        Self::Straight,
        Self::OnPoint,
    ];

    /// How many of a kind are told.
    fn quota(self) -> usize {
        match self {
            Self::Nearest => 3,
            Self::LeastCloth | Self::FewestHours => 2,
            _ => 1,
        }
    }

    fn words(self) -> String {
        match self {
            Self::Nearest => tr!("nearest to the size"),
            Self::LeastCloth => tr!("least cloth"),
            Self::FewestHours => tr!("fewest hours"),
            Self::FewestBlocks => tr!("fewest blocks"),
            Self::Plainest => tr!("plainest: fewest kinds of strips"),
            Self::OwnBlocks => tr!("nearest with the blocks as they are"),
            Self::Straight => tr!("nearest with the blocks straight"),
            Self::OnPoint => tr!("nearest with the blocks on point"),
        }
    }
}

/// Settings that are among the best.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// How the blocks stand.
    pub standing: Standing,
    /// Places in a row; on point, in the longer rows.
    pub columns: u32,
    /// Rows; on point, the longer ones.
    pub rows: u32,
    /// How many blocks that are.
    pub blocks: u32,
    /// Finished width and height of a block without its frame.
    pub block: Vec2,
    /// Width of the outermost strip of its frame; 0 for none.
    pub frame: f64,
    /// Width of the sashing; 0 for none.
    pub sashing: f64,
    /// Widths of the bands, the innermost first, those that are none with them.
    pub bands: Vec<f64>,
    /// Size of the top.
    pub size: Vec2,
    /// What it comes to.
    pub figures: Figures,
    /// Why it is told: its ranks, and which of its kind it is, from 1.
    pub ranks: Vec<(Rank, usize)>,
    /// That in words.
    pub reason: String,
    /// Width, length, miss, seams, cloth, hours.
    pub workings: [Working; 6],
}

impl Candidate {
    /// `7 × 8 blocks of 9 in, straight; frame 1 in; sashing 2 in; bands 2 in, 6 in`.
    #[must_use]
    pub fn words(&self, ruler: Ruler) -> String {
        let shown = |value: f64| ruler.shown(Length::new(value));
        let is_square = (self.block.x - self.block.y).abs() < 1e-9;
        let block = if is_square { shown(self.block.x) } else { format!("{} × {}", shown(self.block.x), shown(self.block.y)) };
        let standing = if self.standing == Standing::OnPoint { tr!("on point") } else { tr!("straight") };
        let mut text =
            tr!("{columns} × {rows} blocks of {block}, {standing}", columns = self.columns, rows = self.rows, block, standing);
        for (what, width) in [(tr!("frame"), self.frame), (tr!("sashing"), self.sashing)] {
            if width > 0.0 {
                text += &format!("; {what} {}", shown(width));
            }
        }
        let bands: Vec<String> = self.bands.iter().filter(|width| **width > 0.0).map(|width| shown(*width)).collect();
        if !bands.is_empty() {
            text += "; ";
            text += &tr!("band {widths}" | "bands {widths}" % bands.len(), widths = bands.join(", "));
        }
        text
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The best, in the order of their ranks, each once.
    pub best: Vec<Candidate>,
    /// How many settings there are within the limits.
    pub settings: u64,
    /// How many of them come within the tolerance.
    pub within: u64,
    /// The tolerance; more than was wished where nothing came within that.
    pub tolerance: f64,
}

/// Settings that reach what is wished.
///
/// # Errors
/// Limits that leave nothing, that lie beyond what can be sewn, or that leave more choices than can be looked at.
pub fn search(wishes: &Wishes, base: &Base, ruler: Ruler) -> Result<Found, Impossible> {
    wishes.check(base, ruler)?;
    let widths = Widths::new(wishes, base);
    if widths.is_empty() {
        let reason = tr!("no width of the block gives it a height that can be measured");
        return Err(Impossible::new(
            reason,
            tr!("let widths vary by {height_step} less", height_step = ruler.shown(Length::new(wishes.height_step))),
            wishes.height_step,
        ));
    }
    let mut best = Best::default();
    let mut tolerance = wishes.tolerance;
    widths.each(|setting| best.weigh(&setting, wishes, base, &widths, tolerance));
    if best.within == 0 {
        // Nothing is near enough: then what is nearest.
        tolerance = best.least_miss;
        widths.each(|setting| best.weigh(&setting, wishes, base, &widths, tolerance));
    }
    let settings = widths.choices() * (widths.columns.len() * widths.rows.len()) as u64;
    let within = best.within;
    Ok(Found { best: best.told(wishes, base, &widths, ruler), settings, within, tolerance })
}

/// All widths and numbers, each from the least up.
struct Widths {
    standings: Vec<Standing>,
    blocks: Vec<f64>,
    frames: Vec<f64>,
    sashes: Vec<f64>,
    /// Every choice of widths for all the bands.
    bands: Vec<Vec<f64>>,
    columns: Vec<u32>,
    rows: Vec<u32>,
}

impl Widths {
    fn new(wishes: &Wishes, base: &Base) -> Self {
        let whole = |height: f64| (height / wishes.height_step - (height / wishes.height_step).round()).abs() < 1e-6;
        let mut blocks = wishes.blocks.values();
        blocks.retain(|width| base.tall == 1.0 || whole(width * base.tall));
        let mut bands = vec![Vec::new()];
        for steps in &wishes.bands {
            let with = |before: &Vec<f64>| {
                steps.values().into_iter().map(|width| [before.as_slice(), &[width]].concat()).collect::<Vec<_>>()
            };
            bands = bands.iter().flat_map(with).collect();
        }
        let mut standings = wishes.standings.clone();
        standings.sort_unstable();
        standings.dedup();
        // Only squares stand on their corners.
        standings.retain(|standing| *standing == Standing::Straight || base.tall == 1.0);
        let counts = |(least, most): (u32, u32)| (least..=most).filter(|count| wishes.parity.takes(*count)).collect();
        let (columns, rows) = (counts(wishes.columns), counts(wishes.rows));
        Self { standings, blocks, frames: wishes.frame.values(), sashes: wishes.sashing.values(), bands, columns, rows }
    }

    fn is_empty(&self) -> bool {
        self.standings.is_empty() || self.blocks.is_empty()
    }

    fn choices(&self) -> u64 {
        let counts = [self.standings.len(), self.blocks.len(), self.frames.len(), self.sashes.len(), self.bands.len()];
        counts.into_iter().map(|count| count as u64).product()
    }

    /// Every choice of widths, with one column and one row.
    fn each(&self, mut look: impl FnMut(Setting<'_>)) {
        for &standing in &self.standings {
            for &block in &self.blocks {
                for &frame in &self.frames {
                    for &sashing in &self.sashes {
                        for bands in &self.bands {
                            look(Setting { standing, columns: 1, rows: 1, block, frame, sashing, bands });
                        }
                    }
                }
            }
        }
    }
}

/// What orders settings: the figures of its rank in whole steps, then which came first.
type Key = ([i64; 5], u64);

/// One setting that is kept.
#[derive(Debug, Clone)]
struct Kept {
    key: Key,
    standing: Standing,
    columns: u32,
    rows: u32,
    block: f64,
    frame: f64,
    sashing: f64,
    bands: Vec<f64>,
}

/// The best of every rank so far.
struct Best {
    kept: [Vec<Kept>; Rank::ALL.len()],
    within: u64,
    least_miss: f64,
    seen: u64,
}

impl Default for Best {
    fn default() -> Self {
        Self { kept: Default::default(), within: 0, least_miss: f64::INFINITY, seen: 0 }
    }
}

/// Two misses nearer to each other than this are one.
const SLACK: f64 = 1e-9;

impl Best {
    /// Weighs one choice of widths with every number of columns and rows that comes within the tolerance.
    fn weigh(&mut self, one: &Setting<'_>, wishes: &Wishes, base: &Base, widths: &Widths, tolerance: f64) {
        let across = Line::new(one, base, Side::Across, &widths.columns, wishes.size.x);
        let down = Line::new(one, base, Side::Down, &widths.rows, wishes.size.y);
        self.least_miss = self.least_miss.min(f64::max(across.least_miss(), down.least_miss()));
        let rows = down.within(tolerance);
        for &columns in across.within(tolerance) {
            for &rows in rows {
                self.within += 1;
                let setting = Setting { columns, rows, ..*one };
                self.offer(&setting, wishes, base);
            }
        }
    }

    fn offer(&mut self, setting: &Setting<'_>, wishes: &Wishes, base: &Base) {
        self.seen += 1;
        let figures = setting.figures(base, setting.size(base), wishes.size);
        for (at, rank) in Rank::ALL.into_iter().enumerate() {
            let Some(first) = key(rank, setting, &figures, wishes) else { continue };
            let key = (first, self.seen);
            let list = &mut self.kept[at];
            let most = if rank == Rank::Nearest { TOLD } else { rank.quota() };
            if list.len() == most && list.last().is_some_and(|last| last.key <= key) {
                continue;
            }
            let Setting { standing, columns, rows, block, frame, sashing, bands } = *setting;
            let place = list.partition_point(|kept| kept.key < key);
            list.insert(place, Kept { key, standing, columns, rows, block, frame, sashing, bands: bands.to_vec() });
            list.truncate(most);
        }
    }

    /// Rank by rank, each setting once with all its ranks; the nearest fill up what is left.
    fn told(self, wishes: &Wishes, base: &Base, widths: &Widths, ruler: Ruler) -> Vec<Candidate> {
        let mut all: Vec<(Kept, Vec<(Rank, usize)>)> = Vec::new();
        let quotas = Rank::ALL
            .into_iter()
            .zip(&self.kept)
            .flat_map(|(rank, list)| list.iter().take(rank.quota()).enumerate().map(move |(n, kept)| (rank, n + 1, kept)));
        let rest = self.kept[0].iter().enumerate().skip(Rank::Nearest.quota()).map(|(n, kept)| (Rank::Nearest, n + 1, kept));
        for (rank, number, kept) in quotas.chain(rest) {
            match all.iter().position(|(other, _)| other.key.1 == kept.key.1) {
                Some(at) if number <= rank.quota() => all[at].1.push((rank, number)),
                None if all.len() < TOLD => all.push((kept.clone(), vec![(rank, number)])),
                _ => {}
            }
        }
        let several = widths.standings.len() > 1;
        all.into_iter().map(|(kept, ranks)| candidate(&kept, ranks, wishes, base, several, ruler)).collect()
    }
}

/// How many are told.
const TOLD: usize = 12;

/// What a rank orders by; nothing where a setting is not of its kind.
fn key(rank: Rank, setting: &Setting<'_>, figures: &Figures, wishes: &Wishes) -> Option<[i64; 5]> {
    // A thousandth of the unit, and of an hour: finer differences are none.
    #[expect(clippy::cast_possible_truncation, reason = "sizes of quilts in thousandths are far from the largest whole number")]
    let steps = |value: f64| (value * 1000.0).round() as i64;
    let (miss, cloth, hours) = (steps(figures.miss), steps(figures.cloth), steps(figures.hours));
    let (blocks, plain) = (i64::from(setting.blocks()), setting.extras() as i64);
    let nearest = [miss, plain, cloth, hours, blocks];
    match rank {
        Rank::Nearest => Some(nearest),
        Rank::LeastCloth => Some([cloth, miss, plain, hours, blocks]),
        Rank::FewestHours => Some([hours, miss, plain, cloth, blocks]),
        Rank::FewestBlocks => Some([blocks, miss, plain, cloth, hours]),
        Rank::Plainest => Some([plain, miss, cloth, hours, blocks]),
        Rank::OwnBlocks => wishes.own_block.filter(|own| (own - setting.block).abs() < SLACK).map(|_| nearest),
        Rank::Straight => (setting.standing == Standing::Straight && wishes.standings.len() > 1).then_some(nearest),
        Rank::OnPoint => (setting.standing == Standing::OnPoint && wishes.standings.len() > 1).then_some(nearest),
    }
}

fn candidate(kept: &Kept, ranks: Vec<(Rank, usize)>, wishes: &Wishes, base: &Base, several: bool, ruler: Ruler) -> Candidate {
    let Kept { standing, columns, rows, block, frame, sashing, ref bands, .. } = *kept;
    let setting = Setting { standing, columns, rows, block, frame, sashing, bands };
    let size = setting.size(base);
    let figures = setting.figures(base, size, wishes.size);
    let told = ranks.iter().filter(|(rank, _)| several || !matches!(rank, Rank::Straight | Rank::OnPoint));
    let words: Vec<String> = told.map(|&(rank, number)| ranked(rank, number)).collect();
    let off = ruler.shown(Length::new(figures.miss));
    let reason = if figures.miss < SLACK {
        tr!("{words}; exact", words = words.join("; "))
    } else {
        tr!("{words}; {off} off", words = words.join("; "), off)
    };
    Candidate {
        standing,
        columns,
        rows,
        blocks: setting.blocks(),
        block: Vec2::new(block, block * base.tall),
        frame,
        sashing,
        bands: bands.clone(),
        size,
        figures,
        reason,
        workings: setting.workings(base, wishes.size),
        ranks,
    }
}

fn ranked(rank: Rank, number: usize) -> String {
    match number {
        1 => rank.words(),
        2 => tr!("{rank}, second", rank = rank.words()),
        3 => tr!("{rank}, third", rank = rank.words()),
        _ => tr!("{rank}, {number}th", rank = rank.words(), number),
    }
}

/// Sizes along one side by number: a straight line, one pitch a number.
struct Line<'a> {
    counts: &'a [u32],
    /// Size with no place at all, which may be less than nothing.
    start: f64,
    pitch: f64,
    wanted: f64,
}

impl<'a> Line<'a> {
    fn new(one: &Setting<'_>, base: &Base, side: Side, counts: &'a [u32], wanted: f64) -> Self {
        let first: f64 = one.along(base, side);
        let second: f64 = Setting { columns: 2, rows: 2, ..*one }.along(base, side);
        Self { counts, start: first - (second - first), pitch: second - first, wanted }
    }

    fn size(&self, count: u32) -> f64 {
        self.start + f64::from(count) * self.pitch
    }

    /// The numbers whose size is no farther off than that.
    fn within(&self, tolerance: f64) -> &'a [u32] {
        let from = self.counts.partition_point(|&count| self.size(count) < self.wanted - tolerance - SLACK);
        let to = self.counts.partition_point(|&count| self.size(count) <= self.wanted + tolerance + SLACK);
        &self.counts[from..to.max(from)]
    }

    fn least_miss(&self) -> f64 {
        let above = self.counts.partition_point(|&count| self.size(count) < self.wanted);
        let miss = |at: Option<&u32>| at.map_or(f64::INFINITY, |&count| (self.size(count) - self.wanted).abs());
        f64::min(miss(self.counts.get(above)), miss(above.checked_sub(1).and_then(|at| self.counts.get(at))))
    }
}
