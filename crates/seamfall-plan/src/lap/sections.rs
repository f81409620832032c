//! The lines of all designs, brought to their sections.
//!
//! In: the designs, drawn once for every kind of area. Out: for every section its lines, in the coordinates of the top; then one
//! pattern for every kind of section. A line that runs across joins is cut where sections end; one along a join belongs to the first of
//! its two sections.

use super::areas::{Area, AreaShape, Areas, At, areas};
use super::findings;
use super::lines::{Given, Misfit, lines};
use super::memo::Memo;
use super::motifs::Chain;
use super::pattern::{Manner, key, pattern};
use super::{Pattern, Proposal};
use crate::Wanted;
use crate::draft::Draft;
use crate::set::Top;
use seamfall_geom::{Edge, Inset, Loop, Rect, Vec2};
use seamfall_model::{Finding, Quilt, QuiltedOn, Quilting, QuiltingDesign};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Lines and arcs of all sections together, at most: the closest stippling of a king has a tenth of it. What goes beyond is left out, design by design.
const MOST_IN_ALL: usize = 500_000;

/// Lines by section, each with the number of its design.
pub(super) struct Laid {
    pub by_section: Vec<Vec<(usize, Chain)>>,
    pub proposals: Vec<Proposal>,
    /// Lines and arcs in all.
    edges: usize,
}

impl Laid {
    fn put(&mut self, section: usize, of: usize, chain: Chain) {
        self.edges += chain.len();
        self.by_section[section].push((of, chain));
    }
}

/// A section with its pattern.
pub(super) struct Placed {
    pub pattern: usize,
    pub shift: Vec2,
    /// The pattern's own number in the memo.
    pub id: i64,
    pub work: Arc<Pattern>,
}

/// Nothing once nobody wants it any more.
pub(super) fn lay(
    quilt: &Quilt,
    drafts: &[Draft],
    top: &Top,
    manner: &Manner,
    findings: &mut Vec<Finding>,
    wanted: Wanted,
) -> Option<Laid> {
    let given = Given { clear: manner.clear, inch: quilt.measure.inch() };
    let mut laid = Laid { by_section: vec![Vec::new(); top.sections.len()], proposals: Vec::new(), edges: 0 };
    let across: Vec<(Rect, Inset)> =
        top.sections.iter().map(|section| (section.outline.bounds(), Inset::new(&section.outline, 0.0))).collect();
    let mut known: Vec<(QuiltedOn, Areas)> = Vec::new();
    for (of, Quilting { on, design }) in quilt.quilting.iter().enumerate() {
        let at = known.iter().position(|(one, _)| one == on).unwrap_or_else(|| {
            known.push((*on, areas(quilt, drafts, top, *on)));
            known.len() - 1
        });
        let all = &known[at].1;
        if all.iter().all(|(_, places)| places.is_empty()) {
            findings.push(findings::nowhere(quilt, *on));
        }
        for (area, places) in all.iter().filter(|(_, places)| !places.is_empty()) {
            wanted().then_some(())?;
            let all = |chains: &[Chain]| places.len() * chains.iter().map(Vec::len).sum::<usize>();
            match lines(design, area, &given) {
                Ok(chains) if laid.edges + all(&chains) > MOST_IN_ALL => {
                    findings.push(findings::misfit(quilt, *on, design, Misfit::TooMany));
                }
                Ok(chains) => {
                    places.iter().for_each(|at| put(&mut laid, &across, of, &chains, at));
                    if stands_up(quilt, *on, design, area, &chains) {
                        let mitres = places.iter().flat_map(|at| area.mitres.iter().map(|mitre| mitre.moved(at.pose)));
                        laid.proposals.push(Proposal { on: *on, lines: mitres.collect() });
                    }
                }
                Err(misfit) => findings.push(findings::misfit(quilt, *on, design, misfit)),
            }
        }
    }
    for (section, lines) in top.sections.iter().zip(&mut laid.by_section) {
        if let Some(kept) = &section.kept {
            *lines = within(kept, lines);
        }
    }
    Some(laid)
}

/// What is drawn within the parts that are kept of a section.
fn within(kept: &[Loop], lines: &[(usize, Chain)]) -> Vec<(usize, Chain)> {
    let insets: Vec<Inset> = kept.iter().map(|one| Inset::new(one, 0.0)).collect();
    let runs = |chain: &Chain| insets.iter().flat_map(|inset| inset.cut(chain)).filter(|run| run.inside).collect::<Vec<_>>();
    lines.iter().flat_map(|(of, chain)| runs(chain).into_iter().map(|run| (*of, run.edges))).collect()
}

/// Puts a design at one of its places.
fn put(laid: &mut Laid, across: &[(Rect, Inset)], of: usize, chains: &[Chain], at: &At) {
    for chain in chains {
        let moved: Chain = chain.iter().map(|edge| edge.moved(at.pose)).collect();
        let Some(section) = at.section else {
            share_out(laid, across, of, moved);
            continue;
        };
        laid.put(section, of, moved);
    }
}

/// Cuts a chain where sections end; each part goes to the first section that holds it.
fn share_out(laid: &mut Laid, across: &[(Rect, Inset)], of: usize, chain: Chain) {
    let mut rest = vec![chain];
    for (section, (bounds, inside)) in across.iter().enumerate() {
        let reach = bounds.inflate(1e-6, 1e-6);
        let mut left = Vec::new();
        for part in rest {
            let meets = |edge: &Edge| {
                let own = edge.bounds();
                own.x0 <= reach.x1 && reach.x0 <= own.x1 && own.y0 <= reach.y1 && reach.y0 <= own.y1
            };
            if !part.iter().any(meets) {
                left.push(part);
                continue;
            }
            for run in inside.cut(&part) {
                if run.inside {
                    laid.put(section, of, run.edges);
                } else {
                    left.push(run.edges);
                }
            }
        }
        rest = left;
        if rest.is_empty() {
            return;
        }
    }
}

/// Whether a motif fills a mitred frame and leaves its corners standing up: nothing is quilted within half the strip's width of the
/// middle of a mitre, and no design goes along the mitres.
fn stands_up(quilt: &Quilt, on: QuiltedOn, design: &QuiltingDesign, area: &Area, chains: &[Chain]) -> bool {
    let AreaShape::Ring(inner) = area.shape else { return false };
    let motif = matches!(design, QuiltingDesign::Motif { .. } | QuiltingDesign::Path { .. });
    let along = |one: &Quilting| one.on == on && matches!(one.design, QuiltingDesign::Mitres | QuiltingDesign::InTheDitch);
    if !motif || area.mitres.is_empty() || quilt.quilting.iter().any(along) {
        return false;
    }
    let half = (area.outline.bounds().width() - inner.width()) / 4.0;
    let bare = |mitre: &Edge| chains.iter().flatten().all(|edge| edge.distance_to(mitre.at(0.5)) >= half - 1e-9);
    area.mitres.iter().any(bare)
}

/// Patterns, and sections with theirs.
pub(super) type Patterns = (Vec<Arc<Pattern>>, Vec<Placed>);

/// One pattern for every kind of section; nothing once nobody wants it any more.
pub(super) fn patterns(top: &Top, laid: &Laid, manner: &Manner, memo: &mut Memo, wanted: Wanted) -> Option<Patterns> {
    let mut numbers: BTreeMap<i64, usize> = BTreeMap::new();
    let mut all: Vec<Arc<Pattern>> = Vec::new();
    let mut placed = Vec::with_capacity(top.sections.len());
    for (section, lines) in top.sections.iter().zip(&laid.by_section) {
        wanted().then_some(())?;
        let bounds = section.outline.bounds();
        let shift = Vec2::new(bounds.x0, bounds.y0);
        let (id, work) =
            memo.pattern(key(&section.outline, section.kept.as_deref(), lines, -shift, manner), |key| pattern(key, manner));
        let number = *numbers.entry(id).or_insert_with(|| {
            all.push(Arc::clone(&work));
            all.len() - 1
        });
        placed.push(Placed { pattern: number, shift, id, work });
    }
    Some((all, placed))
}
