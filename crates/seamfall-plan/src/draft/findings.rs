//! What there is to say about a block.
//!
//! In: what the other files of this stage came across. Out: findings, each with its place, its reason and its remedy.

use super::patches::Piece;
use super::say;
use super::seams::Drawn;
use seamfall_geom::{Arrangement, OffsetError, Point, Source};
use seamfall_model::{Block, Finding, Grade, Length, Mark, PartId, Quilt, Spot, mark, spoken};
use std::collections::BTreeMap;
use tr::tr;

/// Findings of one sort that are told one by one; the rest are counted.
const TOLD: usize = 20;

/// Findings on one block.
pub(super) struct Found<'a> {
    pub quilt: &'a Quilt,
    pub block: &'a Block,
    all: Vec<(Finding, Option<Point>)>,
    /// How many there are of each sort that can come in numbers.
    many: BTreeMap<(Grade, &'static str), usize>,
}

impl<'a> Found<'a> {
    pub fn new(quilt: &'a Quilt, block: &'a Block) -> Self {
        Self { quilt, block, all: Vec::new(), many: BTreeMap::new() }
    }

    /// All findings. Of a sort that comes in great numbers the first are told, and how many more there are.
    pub fn finish(self) -> Vec<Finding> {
        self.placed().into_iter().map(|(finding, _)| finding).collect()
    }

    /// The same, each with the point it is about, where it is about one.
    pub fn placed(mut self) -> Vec<(Finding, Option<Point>)> {
        for ((grade, sort), count) in &self.many {
            if *count > TOLD {
                let spot = Spot::Block(self.block.key.clone());
                let reason = tr!("it has {count} more {sort}", count = count - TOLD, sort = spoken(sort));
                let help = Some(tr!("mend those that are told first"));
                self.all.push((Finding { grade: *grade, spot, reason, help, cure: None }, None));
            }
        }
        self.all
    }

    /// Tells a finding of which there may be many.
    fn one_of(&mut self, sort: &'static str, at: impl Into<Option<Point>>, finding: Finding) {
        let count = self.many.entry((finding.grade, sort)).or_default();
        *count += 1;
        if *count <= TOLD {
            self.all.push((finding, at.into()));
        }
    }

    fn seam(&self, number: usize) -> Spot {
        Spot::Seam { block: self.block.key.clone(), seam: number + 1 }
    }

    fn patch(&self, number: usize) -> Spot {
        Spot::Patch { block: self.block.key.clone(), patch: number + 1 }
    }

    fn at(&self, point: Point) -> String {
        say::point(self.block.to_grid(point))
    }

    fn part(&self, part: PartId) -> &str {
        self.block.parts.get(part.0).map_or("?", |part| part.name.as_str())
    }

    fn length(&self, length: Length) -> String {
        length.shown_with_unit(self.quilt.step)
    }

    /// A seam that is a point.
    pub fn no_length(&mut self, seam: usize) {
        let at = match &self.block.seams[seam] {
            seamfall_model::Seam::Line(points) => points[0],
            seamfall_model::Seam::Arc(arc) => arc.from,
        };
        self.one_of(
            mark!("seams without length"),
            self.block.to_plane(at),
            Finding::warn(self.seam(seam), tr!("it starts and ends at one point and has no length, so it is left out"))
                .help(tr!("draw it between two different points, or take it away")),
        );
    }

    /// Seams that cross more often than is worked out.
    pub fn too_many_crossings(&mut self) {
        let finding = Finding::stop(
            Spot::Block(self.block.key.clone()),
            tr!("its seams cross more than {crowd} times, so no patches were made", crowd = super::crowd::MOST),
        )
        .help(tr!("draw fewer seams, or divide the design into several blocks"));
        self.all.push((finding, None));
    }

    pub fn too_many_in_all(&mut self) {
        let reason = tr!(
            "no patches were made of it, since the blocks before it have most of the {most} that all blocks together may have",
            most = super::crowd::MOST_IN_ALL
        );
        let help = tr!("draw fewer seams, or take blocks out that stand nowhere");
        self.all.push((Finding::stop(Spot::Block(self.block.key.clone()), reason).help(help), None));
    }

    /// Seams that end nowhere, run along one another, leave the block or part nothing.
    pub fn seams(&mut self, drawn: &Drawn, arranged: &Arrangement) {
        let mut loose = vec![false; self.block.seams.len()];
        for end in &arranged.loose_ends {
            let seam = drawn.seam[end.given];
            loose[seam] = true;
            self.one_of(
                mark!("loose seam ends"),
                end.at,
                Finding::stop(self.seam(seam), tr!("it ends at {at} and touches nothing there", at = self.at(end.at)))
                    .help(tr!("carry it on to another seam or to the edge of the block, or take it away")),
            );
        }
        self.overlaps(drawn, arranged);
        let mut outside: Vec<usize> = arranged.outside.iter().map(|given| drawn.seam[*given]).collect();
        outside.dedup();
        for seam in outside {
            self.one_of(
                mark!("seams that leave it"),
                None,
                Finding::warn(self.seam(seam), tr!("it leaves the block; what lies outside is left out"))
                    .help(tr!("end it on the edge of the block, or move it inside")),
            );
        }
        self.idle(drawn, arranged, &loose);
    }

    /// Stretches drawn twice.
    fn overlaps(&mut self, drawn: &Drawn, arranged: &Arrangement) {
        for overlap in &arranged.overlaps {
            let at = self.at(overlap.at);
            let (given, other) = match (overlap.second, overlap.first) {
                (Source::Given(given), other) | (other, Source::Given(given)) => (given, other),
                (Source::Frame(_), Source::Frame(_)) => continue,
            };
            let seam = drawn.seam[given];
            let (reason, help) = match other {
                Source::Frame(_) => (
                    tr!("it runs along the edge of the block at {at}", at),
                    tr!("take that stretch away: the edge needs no seam"),
                ),
                Source::Given(other) if drawn.seam[other] == seam => {
                    (tr!("it runs back along itself at {at}", at), tr!("take the second stretch away"))
                }
                Source::Given(other) => (
                    tr!("it runs along seam {other} at {at}, and counts there once", other = drawn.seam[other] + 1, at),
                    tr!("keep one of the two, or begin the one where the other ends"),
                ),
            };
            self.one_of(
                mark!("stretches of seam that run along another"),
                overlap.at,
                Finding::warn(self.seam(seam), reason).help(help),
            );
        }
    }

    /// Seams, not loose ones, that have a stretch with one patch on both sides.
    fn idle(&mut self, drawn: &Drawn, arranged: &Arrangement, loose: &[bool]) {
        let idle = arranged.edges.iter().filter(|edge| edge.left == edge.right);
        let mut idle: Vec<usize> = idle
            .filter_map(|edge| if let Source::Given(given) = edge.source { Some(drawn.seam[given]) } else { None })
            .filter(|seam| !loose[*seam])
            .collect();
        idle.sort_unstable();
        idle.dedup();
        let middle = |seam: usize| {
            let stretch = arranged
                .edges
                .iter()
                .find(|edge| edge.left == edge.right && matches!(edge.source, Source::Given(given) if drawn.seam[given] == seam));
            stretch.map(|stretch| stretch.edge.at(0.5))
        };
        for seam in idle {
            self.one_of(
                mark!("seams that part nothing"),
                middle(seam),
                Finding::warn(self.seam(seam), tr!("a stretch of it has the same patch on both sides and parts nothing"))
                    .help(tr!("carry it on until it parts two patches, or take it away")),
            );
        }
    }

    /// A mark that no patch can be told by.
    pub fn mark_in_no_patch(&mut self, mark: &Mark) {
        let at = self.block.to_plane(mark.at);
        let place = if self.block.shape.outline().contains(at) { tr!("on a seam") } else { tr!("outside the block") };
        self.one_of(
            mark!("points that name no patch"),
            at,
            Finding::warn(
                Spot::Block(self.block.key.clone()),
                tr!(
                    "the point {at} of `{part}` lies {place}, so it names no patch",
                    at = say::point(mark.at),
                    part = self.part(mark.part),
                    place
                ),
            )
            .help(tr!("move the point well inside a patch")),
        );
    }

    /// A patch that two parts lay claim to.
    pub fn two_parts(&mut self, patch: usize, first: PartId, second: PartId) {
        let (first, second) = (self.part(first), self.part(second));
        self.one_of(
            mark!("patches of two parts"),
            None,
            Finding::stop(self.patch(patch), tr!("it has points of two parts in it, `{first}` and `{second}`", first, second))
                .help(tr!("take one of the points away, or draw the seam between them")),
        );
    }

    /// Patches without a part; said once when no patch has any.
    pub fn no_cloth(&mut self, parts: &[Option<PartId>], labels: &[Point]) {
        let bare: Vec<usize> = (0..parts.len()).filter(|i| parts[*i].is_none()).collect();
        if bare.len() > 1 && bare.len() == parts.len() {
            let finding = Finding::stop(
                Spot::Block(self.block.key.clone()),
                tr!("none of its {bare} patches has a cloth", bare = bare.len()),
            )
            .help(tr!("name a part under `patches` for a point inside each, such as {labels}", labels = self.at(labels[0])));
            self.all.push((finding, None));
            return;
        }
        for patch in bare {
            self.one_of(
                mark!("patches without a cloth"),
                labels[patch],
                Finding::stop(self.patch(patch), tr!("it has no cloth: no part names a point inside it"))
                    .help(tr!("add the point {patch} to one of the parts under `patches`", patch = self.at(labels[patch]))),
            );
        }
    }

    /// A patch narrower than the allowance: the allowance of one seam would reach beyond the next.
    ///
    /// The trade's rule is the same figure, 1/4 in; source: common practice.
    pub fn too_thin(&mut self, patch: usize, width: f64) {
        let allowance = self.length(self.quilt.allowance.0);
        let (width, unit) = (say::number(width), self.quilt.measure.sign());
        self.one_of(
            mark!("patches too thin to sew"),
            None,
            Finding::warn(
                self.patch(patch),
                tr!(
                    "it is {width} {unit} wide, less than the seam allowance of {allowance}, and too thin to sew",
                    width,
                    unit,
                    allowance
                ),
            )
            .help(tr!("move a seam so that it is at least {allowance} wide, or lay it over as a narrow shape", allowance)),
        );
    }

    /// A patch that holds another one.
    pub fn holds_another(&mut self, patch: usize) {
        self.one_of(
            mark!("patches with another one inside"),
            None,
            Finding::note(self.patch(patch), tr!("another patch lies wholly inside it and touches no other seam"))
                .help(tr!("lay the inner one over it, or carry seams from it to the edge of the block")),
        );
    }

    /// A piece round which the allowance does not fit.
    pub fn no_room(&mut self, patch: usize, piece: &Piece, error: OffsetError) {
        let allowance = self.length(self.quilt.allowance.0);
        let (reason, help) = self.room(&piece.outline, &allowance, &tr!("seam allowance"), error);
        self.one_of(
            mark!("patches without room for the allowance"),
            None,
            Finding::stop(self.patch(patch), tr!("its {reason}", reason)).help(help),
        );
    }

    /// A shape laid over whose turn-under does not fit.
    pub fn no_room_over(&mut self, overlay: usize, shape: &seamfall_geom::Loop, turn_under: Length, error: OffsetError) {
        let (reason, help) = self.room(shape, &self.length(turn_under), &tr!("turn-under"), error);
        self.overlay(overlay, Finding::stop, &tr!("its {reason}", reason), &help);
    }

    fn room(&self, outline: &seamfall_geom::Loop, width: &str, what: &str, error: OffsetError) -> (String, String) {
        match error {
            OffsetError::HollowTooTight { edge, at } => {
                let radius = outline.edges().get(edge).and_then(seamfall_geom::Edge::radius).unwrap_or(0.0);
                (
                    tr!(
                        "hollow curve at {at} has a radius of {radius} {unit}, tighter than the {what} of {width}",
                        at = self.at(at),
                        radius = say::number(radius),
                        unit = self.quilt.measure.sign(),
                        what,
                        width
                    ),
                    tr!("draw the curve wider than {width}, or choose a narrower {what}", width, what),
                )
            }
            OffsetError::Collides { at } => (
                tr!("{what} of {width} runs into itself at {at}", what, width, at = self.at(at)),
                tr!("widen the gap there to more than twice {width}, or divide the patch by a seam", width),
            ),
        }
    }

    /// A finding on a shape laid over, by its number from 0.
    pub fn overlay(&mut self, number: usize, grade: fn(Spot, String) -> Finding, reason: &str, help: &str) {
        let spot = Spot::Block(self.block.key.clone());
        self.all.push((grade(spot, tr!("shape {number} laid over: {reason}", number = number + 1, reason)).help(help), None));
    }
}
