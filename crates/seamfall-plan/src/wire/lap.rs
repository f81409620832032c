//! The work in the lap on the wire.
//!
//! Sections that are quilted alike share a pattern; a pattern's coordinates are its own, moved by the section's `at` to the top's.

use super::cutting::WorkingWire;
use super::shape::{EdgeWire, edge, length, outline, point};
use crate::Plan;
use crate::lap::{Bag, End, FoundGap, LapWork, Needleful, Path, Pattern};
use schemars::JsonSchema;
use seamfall_geom::Edge;
use serde::Serialize;

/// How the quilt is quilted in the lap.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LapWire {
    /// From a section's finished outline to where quilting stops before the join.
    pub clear: f64,
    /// Kinds of section.
    pub patterns: Vec<PatternWire>,
    /// Sections, in the order of the plan's sections.
    pub sections: Vec<QuiltedSectionWire>,
    /// Lines proposed along mitres, in the coordinates of the top.
    pub proposals: Vec<Vec<EdgeWire>>,
    /// Gaps wider than the batting allows, the widest first.
    pub gaps: Vec<GapWire>,
    /// The largest gap, if it is wider than half of what the batting allows.
    pub largest_gap: Option<GapWire>,
    /// Thread in a unit of quilting.
    pub thread_rate: WorkingWire,
    /// Thread of all needlefuls before the joins.
    pub thread: f64,
    /// Needlefuls before the joins.
    pub needlefuls: usize,
    /// Starts before the joins.
    pub starts: u64,
    /// No way has fewer starts.
    pub bound: u64,
    /// Knots before the joins.
    pub knots: usize,
    /// Threads left hanging.
    pub hanging: usize,
    /// Hours before the joins.
    pub hours: WorkingWire,
    /// Hours after the joins.
    pub hours_after: WorkingWire,
    /// The work bag, week by week.
    pub bags: Vec<BagWire>,
}

/// A section and how it is quilted.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct QuiltedSectionWire {
    /// `S3`.
    pub section: String,
    /// Number of its pattern, from 0.
    pub pattern: usize,
    /// Where the pattern's origin lies in the top.
    pub at: [f64; 2],
}

/// A section as it is quilted.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PatternWire {
    /// Finished outline.
    pub outline: Vec<EdgeWire>,
    /// The design after the join; what is quilted before is in the paths.
    pub after_join: Vec<Vec<EdgeWire>>,
    /// Where threads are left hanging, or a line goes on into the margin.
    pub hanging: Vec<[f64; 2]>,
    /// Paths of the needle.
    pub paths: Vec<PathWire>,
    /// How many there are.
    pub starts: u64,
    /// There are no fewer.
    pub bound: u64,
    /// How many it would take without hidden travel.
    pub unaided: u64,
    /// Length of the design before the join.
    pub now: f64,
    /// Length of the design after the join.
    pub after: f64,
    /// Length stitched; what is drawn twice counts once.
    pub stitched: f64,
    /// Length of hidden travel.
    pub travelled: f64,
    /// Thread of its needlefuls.
    pub thread: f64,
    /// Its needlefuls.
    pub needlefuls: Vec<NeedlefulWire>,
}

/// A path of the needle.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PathWire {
    /// Its parts, in the needle's direction.
    pub parts: Vec<StretchWire>,
    /// Whether the thread is left hanging at its start.
    pub hangs_at_start: bool,
    /// Whether the thread is left hanging at its end.
    pub hangs_at_end: bool,
}

/// A part of a path.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StretchWire {
    /// Whether the needle goes unseen.
    pub hidden: bool,
    /// Its edges.
    pub edges: Vec<EdgeWire>,
}

/// What is quilted with one thread.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct NeedlefulWire {
    /// Number of its path, from 0.
    pub path: usize,
    /// Where on the path it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Its thread, with tails.
    pub thread: f64,
    /// How it begins.
    pub begins: EndWire,
    /// How it ends.
    pub ends: EndWire,
}

/// How a needleful begins or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum EndWire {
    /// With a knot.
    Knot,
    /// With a hanging thread.
    Hanging,
}

/// A gap among the lines of the joined quilt.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GapWire {
    /// All sections that have it: `S3`.
    pub sections: Vec<String>,
    /// Its middle in the first of them, in the coordinates of the top.
    pub centre: [f64; 2],
    /// Its width.
    pub width: f64,
    /// No gap there is wider.
    pub bound: f64,
    /// The section beyond, where it lies over a join.
    pub over_join_with: Option<String>,
    /// A line that would close it.
    pub line: EdgeWire,
}

/// The work bag of a week.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BagWire {
    /// Sections in it.
    pub sections: Vec<String>,
    /// Needlefuls.
    pub needlefuls: usize,
    /// Thread for them.
    pub thread: f64,
    /// Hours.
    pub hours: f64,
}

impl LapWire {
    pub(super) fn new(plan: &Plan) -> Self {
        let (lap, names) = (&plan.lap, |section: usize| plan.top.sections[section].name.clone());
        let LapWork { totals, .. } = lap;
        Self {
            clear: length(lap.clear),
            patterns: lap.patterns.iter().map(|pattern| PatternWire::new(pattern)).collect(),
            sections: (lap.sections.iter().enumerate())
                .map(|(number, work)| QuiltedSectionWire {
                    section: names(number),
                    pattern: work.pattern,
                    at: point(work.shift.to_point()),
                })
                .collect(),
            proposals: lap.proposals.iter().map(|one| edges(&one.lines)).collect(),
            gaps: lap.gaps.iter().map(|gap| GapWire::new(gap, &names)).collect(),
            largest_gap: lap.largest_gap.as_ref().map(|gap| GapWire::new(gap, &names)),
            thread_rate: WorkingWire::new(&lap.thread_rate),
            thread: length(totals.thread),
            needlefuls: totals.needlefuls,
            starts: totals.starts.0,
            bound: totals.starts.1,
            knots: totals.knots,
            hanging: totals.hanging,
            hours: WorkingWire::new(&totals.hours),
            hours_after: WorkingWire::new(&totals.hours_after),
            bags: lap.bags.iter().map(|bag| BagWire::new(bag, &names)).collect(),
        }
    }
}

/// Edges in their order.
fn edges(edges: &[Edge]) -> Vec<EdgeWire> {
    edges.iter().map(edge).collect()
}

impl PatternWire {
    fn new(pattern: &Pattern) -> Self {
        Self {
            outline: outline(&pattern.outline),
            after_join: pattern.lines.iter().filter(|line| !line.now).map(|line| edges(&line.edges)).collect(),
            hanging: pattern.hanging.iter().map(|at| point(*at)).collect(),
            paths: pattern.paths.iter().map(PathWire::new).collect(),
            starts: pattern.starts,
            bound: pattern.bound,
            unaided: pattern.unaided,
            now: length(pattern.now),
            after: length(pattern.after),
            stitched: length(pattern.stitched),
            travelled: length(pattern.travelled),
            thread: length(pattern.thread),
            needlefuls: pattern.needlefuls.iter().map(NeedlefulWire::new).collect(),
        }
    }
}

impl PathWire {
    fn new(path: &Path) -> Self {
        let parts = path.stretches.iter().map(|part| StretchWire { hidden: part.hidden, edges: edges(&part.edges) });
        Self { parts: parts.collect(), hangs_at_start: path.hangs[0], hangs_at_end: path.hangs[1] }
    }
}

impl NeedlefulWire {
    fn new(one: &Needleful) -> Self {
        let end = |end: End| match end {
            End::Knot => EndWire::Knot,
            End::Hanging => EndWire::Hanging,
        };
        let [begins, ends] = one.ends.map(end);
        Self { path: one.path, from: length(one.from), to: length(one.to), thread: length(one.thread), begins, ends }
    }
}

impl GapWire {
    fn new(gap: &FoundGap, name: &impl Fn(usize) -> String) -> Self {
        Self {
            sections: gap.sections.iter().map(|section| name(*section)).collect(),
            centre: point(gap.centre),
            width: length(gap.width),
            bound: length(gap.bound),
            over_join_with: gap.over_join_with.map(name),
            line: edge(&gap.line),
        }
    }
}

impl BagWire {
    fn new(bag: &Bag, name: &impl Fn(usize) -> String) -> Self {
        Self {
            sections: bag.sections.iter().map(|section| name(*section)).collect(),
            needlefuls: bag.needlefuls,
            thread: length(bag.thread),
            hours: length(bag.hours),
        }
    }
}
