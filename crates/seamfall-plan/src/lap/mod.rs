//! In the lap: what is quilted before the join and what after it, along which paths, with how much thread, in which time.
//!
//! In: the quilting designs, the drafts and the top. Out: for every section its lines, cut at the free margin ([`Line`]); the paths
//! along those quilted now, with the fewest starts and the proof ([`Pattern`]); needlefuls, thread and hours; the largest gap over the
//! joined quilt; lines proposed along mitres. Definitions: `docs/quilting.md`.
//!
//! In the order of work: `areas` finds what designs lie on, `lines` draws each design once (`motifs`, `stipple`), `sections` brings the
//! lines to their sections, `pattern` cuts and routes each kind of section once (`graph`, `needlefuls`), `gaps` looks at the
//! joined quilt, `findings` has the words. Equal sections share a pattern; what was worked out once is kept in a [`Memo`].

mod areas;
mod bag;
mod findings;
mod gaps;
mod graph;
mod lines;
mod memo;
mod motifs;
mod needlefuls;
mod pattern;
mod sections;
mod stipple;
#[cfg(test)]
mod tests;

pub use bag::Bag;
pub use gaps::FoundGap;
pub use memo::Memo;

use crate::draft::Draft;
use crate::set::Top;
use crate::{Staged, Wanted};
use pattern::Manner;
use seamfall_geom::{Edge, Loop, Point, Vec2};
use seamfall_model::{Quilt, QuiltedOn, Rounding, Rule, Working, term};
use std::sync::Arc;
use tr::tr;

/// The work in the lap.
#[derive(Debug, Clone, PartialEq)]
pub struct LapWork {
    /// Distance from a section's finished outline to where quilting stops before the join: the free margin less the allowance.
    pub clear: f64,
    /// Kinds of section, in order of first use.
    pub patterns: Vec<Arc<Pattern>>,
    /// One a section of the top.
    pub sections: Vec<SectionWork>,
    /// Lines proposed along mitres that would stand up.
    pub proposals: Vec<Proposal>,
    /// Gaps wider than the batting allows, the widest first, one a kind of place.
    pub gaps: Vec<FoundGap>,
    /// The largest circle over the joined quilt that no line enters, if it is wider than half of what the batting allows.
    pub largest_gap: Option<FoundGap>,
    /// Thread in a unit of quilting.
    pub thread_rate: Working,
    /// All sections together.
    pub totals: Totals,
    /// What goes into the work bag, week by week.
    pub bags: Vec<Bag>,
}

impl LapWork {
    /// Numbers of the sections of a kind, in order.
    pub fn sections_of(&self, pattern: usize) -> impl Iterator<Item = usize> {
        self.sections.iter().enumerate().filter(move |(_, work)| work.pattern == pattern).map(|(section, _)| section)
    }
}

/// A section and how it is quilted.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionWork {
    /// Number of its pattern in [`LapWork::patterns`].
    pub pattern: usize,
    /// From the pattern's coordinates to the top's.
    pub shift: Vec2,
}

/// A section as it is quilted, in its own coordinates: the lower left corner of its bounds at the origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its finished outline, as it is sewn.
    pub outline: Loop,
    /// What is left of it once the corners of the quilt are trimmed; nothing where that is all of it. What is drawn beyond is left out.
    pub kept: Option<Vec<Loop>>,
    /// The design, cut at the margin; together all of it, exactly as drawn.
    pub lines: Vec<Line>,
    /// Where lines go on into the margin, each place once.
    pub hanging: Vec<Point>,
    /// The paths along all that is quilted now.
    pub paths: Vec<Path>,
    /// How many there are.
    pub starts: u64,
    /// There are no fewer than this.
    pub bound: u64,
    /// How many it would take without hidden travel.
    pub unaided: u64,
    /// Length of the design within the margin, as drawn.
    pub now: f64,
    /// Length of the design that is quilted after the join.
    pub after: f64,
    /// Length stitched now: what is drawn twice counts once.
    pub stitched: f64,
    /// Length of hidden travel.
    pub travelled: f64,
    /// Needlefuls, path by path.
    pub needlefuls: Vec<Needleful>,
    /// Thread of all needlefuls with their tails.
    pub thread: f64,
    /// Whether there are more lines than can be routed; then there are no paths.
    pub too_many: bool,
}

impl Default for Pattern {
    fn default() -> Self {
        Self {
            outline: Loop::polygon(&[]),
            kept: None,
            lines: Vec::new(),
            hanging: Vec::new(),
            paths: Vec::new(),
            starts: 0,
            bound: 0,
            unaided: 0,
            now: 0.0,
            after: 0.0,
            stitched: 0.0,
            travelled: 0.0,
            needlefuls: Vec::new(),
            thread: 0.0,
            too_many: false,
        }
    }
}

/// A part of a design's line, on one side of the margin.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Number of the design in [`Quilt::quilting`].
    pub of: usize,
    /// Quilted now, not after the join.
    pub now: bool,
    /// Its edges, each starting where the one before ends.
    pub edges: Vec<Edge>,
}

/// A path of the needle, from its first stitch to its last.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Its parts in their order. Stitched ones stand apart; of two hidden ones that follow one another the needle comes up between them, on a line.
    pub stretches: Vec<Stretch>,
    /// Whether the thread is left hanging at its start and at its end.
    pub hangs: [bool; 2],
}

/// A part of a path.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Whether the needle goes unseen between the layers.
    pub hidden: bool,
    /// Its edges, in the needle's direction.
    pub edges: Vec<Edge>,
}

impl Stretch {
    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }
}

/// How a needleful begins or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// With a knot pulled into the batting.
    Knot,
    /// With a thread left hanging at the margin, taken up again after the join.
    Hanging,
}

/// What is quilted with one thread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Needleful {
    /// Number of the path in [`Pattern::paths`].
    pub path: usize,
    /// Where on the path it begins, as a length along it.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Thread, tails and all.
    pub thread: f64,
    /// How it begins and ends.
    pub ends: [End; 2],
}

impl Pattern {
    /// Knots made, and threads left hanging.
    #[must_use]
    pub fn knots_and_hanging(&self) -> (usize, usize) {
        let ends = || self.needlefuls.iter().flat_map(|one| one.ends);
        let hanging = ends().filter(|end| *end == End::Hanging).count();
        (ends().count() - hanging, hanging)
    }
}

/// A line proposed along mitred seams.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// The frame or band.
    pub on: QuiltedOn,
    /// Its mitres, in the coordinates of the top.
    pub lines: Vec<Edge>,
}

/// All sections together.
#[derive(Debug, Clone, PartialEq)]
pub struct Totals {
    /// Length stitched before the joins.
    pub stitched: f64,
    /// Length quilted after the joins.
    pub after: f64,
    /// Starts, and the bound of their number.
    pub starts: (u64, u64),
    /// Needlefuls before the joins.
    pub needlefuls: usize,
    /// Knots before the joins.
    pub knots: usize,
    /// Threads left hanging.
    pub hanging: usize,
    /// Thread of the needlefuls before the joins.
    pub thread: f64,
    /// Hours before the joins.
    pub hours: Working,
    /// Hours after the joins.
    pub hours_after: Working,
}

/// Works out the quilting of `quilt`.
#[must_use]
pub fn derive(quilt: &Quilt, drafts: &[Draft], top: &Top) -> Staged<LapWork> {
    derive_while(quilt, drafts, top, &mut Memo::default(), &|| true).expect("it is wanted")
}

/// Works out the quilting of `quilt`; what `memo` knows from before is not worked out again. The result is the same with any memo; nothing
/// once nobody wants it any more, which is asked section by section.
pub fn derive_while(quilt: &Quilt, drafts: &[Draft], top: &Top, memo: &mut Memo, wanted: Wanted) -> Option<Staged<LapWork>> {
    let manner = Manner::new(quilt);
    let mut findings = Vec::new();
    let laid = sections::lay(quilt, drafts, top, &manner, &mut findings, wanted)?;
    let (patterns, sections) = sections::patterns(top, &laid, &manner, memo, wanted)?;
    let (gaps, largest_gap) = gaps::find(quilt, top, &sections, memo, wanted)?;
    memo.forget();
    let works: Vec<SectionWork> = sections.iter().map(|one| SectionWork { pattern: one.pattern, shift: one.shift }).collect();
    findings::sections(top, &patterns, &works, &mut findings);
    findings::proposals(quilt, &laid.proposals, &mut findings);
    findings::gaps(quilt, top, &gaps, &mut findings);
    let totals = totals(quilt, &patterns, &works);
    let bags = bag::pack(quilt, top, &patterns, &works);
    let result = LapWork {
        clear: manner.clear,
        patterns,
        sections: works,
        proposals: laid.proposals,
        gaps,
        largest_gap,
        thread_rate: needlefuls::thread_working(quilt),
        totals,
        bags,
    };
    Some(Staged { result, findings })
}

/// Hours that a length of quilting takes, at the maker's own pace.
pub(crate) fn hours(quilt: &Quilt, what: &str, length: f64) -> Working {
    let feet = length / (12.0 * quilt.measure.inch());
    let hours = term(&tr!("feet"), feet) * term(&tr!("minutes a foot"), quilt.lap.minutes_a_foot) / 60.0;
    Working::new(Rule::QuiltingHours, what, hours, Rounding::Exact)
}

fn totals(quilt: &Quilt, patterns: &[Arc<Pattern>], works: &[SectionWork]) -> Totals {
    let all = || works.iter().map(|work| &patterns[work.pattern]);
    let (knots, hanging) = all().map(|one| one.knots_and_hanging()).fold((0, 0), |(a, b), (c, d)| (a + c, b + d));
    // Nothing at all adds up to -0, which adding nothing turns into 0.
    let sum = |of: fn(&Pattern) -> f64| all().map(|one| of(one)).sum::<f64>() + 0.0;
    let (stitched, after) = (sum(|one| one.stitched), sum(|one| one.after));
    Totals {
        stitched,
        after,
        starts: (all().map(|one| one.starts).sum(), all().map(|one| one.bound).sum()),
        needlefuls: all().map(|one| one.needlefuls.len()).sum(),
        knots,
        hanging,
        thread: sum(|one| one.thread),
        hours: hours(quilt, &tr!("hours before the joins"), stitched),
        hours_after: hours(quilt, &tr!("hours after the joins"), after),
    }
}
