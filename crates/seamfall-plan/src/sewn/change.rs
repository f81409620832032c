//! What a change of the design does to what is sewn.
//!
//! In: the quilt and its plan before and after. Out: which sections are wasted by it, with the reason in words; what the others are
//! called now; and which entries of the ledger have nothing left to say. A section is kept when its place asks for the very same piece of
//! work as before; where it does not, but another place that is free does (two were exchanged), it goes there, unless it is joined.
//!
//! How much must be the same depends on how far it is: cut and pieced blocks may still be turned and get more strips round them, framed ones
//! may get more strips, what is layered stays as it is, and what is quilted has its quilting.

use crate::draft::Draft;
use crate::lap::LapWork;
use crate::set::{PieceKind, PlacedBlock, Section, Top};
use crate::{Designed, Plan};
use seamfall_geom::{Loop, Point, Vec2};
use seamfall_model::{ClothId, Corners, FrameId, LedgerEdit, Quilt, SewnState, mark, spoken};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use tr::tr;

/// What a change of the design does to what is sewn.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Change {
    /// Sections that are wasted by it, in the order of their numbers.
    pub wasted: Vec<Waste>,
    /// What sections are called now that had another name; no two have one name.
    pub renamed: BTreeMap<String, String>,
    /// Sections whose entries go: those that are wasted, and those planned ones that have no place any more.
    pub dropped: Vec<String>,
}

/// A section that is wasted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waste {
    /// Its name before the change.
    pub section: String,
    /// How far it is.
    pub state: SewnState,
    /// Why, in words that follow its name.
    pub reason: String,
}

impl fmt::Display for Waste {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {}: {}", self.section, self.state.word(), self.reason)
    }
}

impl Change {
    /// The edit by which the ledger of `before` becomes that of `after`; nothing when it need not change.
    #[must_use]
    pub fn edit(&self, before: &Quilt, after: &Quilt) -> Option<LedgerEdit> {
        let quilt = (before.name != after.name).then(|| after.name.clone());
        if quilt.is_none() && self.renamed.is_empty() && self.dropped.is_empty() {
            return None;
        }
        Some(LedgerEdit::Rename { quilt, sections: self.renamed.clone(), dropped: self.dropped.clone() })
    }
}

/// What becomes of the sections when the design changes.
#[must_use]
pub fn wasted((before, plan): (&Quilt, &Plan), (after, designed): (&Quilt, &Designed)) -> Change {
    let sewn = &plan.sewn;
    let before = Side { quilt: before, drafts: &plan.drafts, top: &plan.top, lap: &plan.lap };
    let after = Side { quilt: after, drafts: &designed.drafts, top: &designed.top, lap: &designed.lap };
    let mut places = same_places(&before, &after);
    let states: Vec<SewnState> = sewn.sections.iter().map(|section| section.state).collect();
    let mut why: BTreeMap<usize, String> = BTreeMap::new();
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    for (section, progress) in sewn.sections.iter().enumerate().filter(|(_, progress)| progress.state >= SewnState::Cut) {
        let reason = match places[progress.at] {
            None => Some(tr!("its place is gone")),
            Some(place) => difference((&before, section), (&after, place), progress.state),
        };
        match (reason, places[progress.at]) {
            (None, Some(place)) => drop(taken.insert(place)),
            (reason, _) => drop(why.insert(section, reason.unwrap_or_default())),
        }
    }
    // Those farthest along choose first.
    let mut homeless: Vec<usize> = why.keys().copied().filter(|&section| sewn.sections[section].at == section).collect();
    homeless.retain(|&section| sewn.groups[sewn.group_of(section)].len() == 1);
    homeless.sort_by_key(|&section| (std::cmp::Reverse(states[section]), section));
    for section in homeless {
        let fits =
            |place: &usize| !taken.contains(place) && difference((&before, section), (&after, *place), states[section]).is_none();
        let Some(place) = (0..after.top.sections.len()).find(fits) else { continue };
        taken.insert(place);
        why.remove(&section);
        // Whoever had that number gets the other, so that no two have one.
        let own = places[section];
        if let Some(other) = places.iter().position(|at| *at == Some(place)) {
            places[other] = own;
        }
        places[section] = Some(place);
    }
    let name = |side: &Side, section: usize| side.top.sections[section].name.clone();
    let wasted =
        why.into_iter().map(|(section, reason)| Waste { section: name(&before, section), state: states[section], reason });
    let wasted: Vec<Waste> = wasted.collect();
    let numbered = places.iter().enumerate();
    let renamed =
        numbered.filter_map(|(old, new)| Some((name(&before, old), name(&after, (*new)?)))).filter(|(old, new)| old != new);
    let gone = (0..places.len()).filter(|&section| places[section].is_none()).map(|section| name(&before, section));
    let dropped: BTreeSet<String> = wasted.iter().map(|waste| waste.section.clone()).chain(gone).collect();
    Change { renamed: renamed.collect(), dropped: dropped.into_iter().collect(), wasted }
}

/// A quilt before or after.
struct Side<'a> {
    quilt: &'a Quilt,
    drafts: &'a [Draft],
    top: &'a Top,
    lap: &'a LapWork,
}

/// For each section before the one that has its place after: that with its first block, or, of strips alone, that which lies as it did.
fn same_places(before: &Side, after: &Side) -> Vec<Option<usize>> {
    let named: BTreeMap<&str, &PlacedBlock> = after.top.places.iter().map(|place| (place.name.as_str(), place)).collect();
    let both = before.top.places.iter().find_map(|place| Some((place, *named.get(place.name.as_str())?)));
    let shift = both.map_or(Vec2::ZERO, |(was, is)| is.outline.bounds().center() - was.outline.bounds().center());
    let mut taken = BTreeSet::new();
    let place_of = |section: &Section| match section.places.first() {
        Some(&first) => named.get(before.top.places[first].name.as_str()).map(|place| place.section),
        None => after.top.sections.iter().position(|other| {
            let (was, is) = (section.outline.bounds(), other.outline.bounds());
            other.places.is_empty()
                && near(was.origin() + shift, is.origin())
                && near(was.origin() + was.size().to_vec2() + shift, is.origin() + is.size().to_vec2())
        }),
    };
    before.top.sections.iter().map(|section| place_of(section).filter(|place| taken.insert(*place))).collect()
}

fn near(a: Point, b: Point) -> bool {
    (a - b).hypot2() < 1e-6
}

/// Why a section that is so far cannot be the other; nothing when it is just that.
fn difference((before, section): (&Side, usize), (after, place): (&Side, usize), state: SewnState) -> Option<String> {
    let (was, is) = (&before.top.sections[section], &after.top.sections[place]);
    if was.places.len() != is.places.len() {
        return Some(tr!("it is made of other blocks now"));
    }
    if before.quilt.allowance != after.quilt.allowance || before.quilt.measure != after.quilt.measure {
        return Some(tr!("the seam allowance is another now"));
    }
    let pairs =
        was.places.iter().map(|&place| &before.top.places[place]).zip(is.places.iter().map(|&place| &after.top.places[place]));
    let anchors = [before.anchor(was), after.anchor(is)];
    for (block, other) in pairs {
        let lies = |block: &PlacedBlock, anchor: Point| block.outline.bounds().center() - anchor;
        let reason = block_differs((before, block), (after, other), state).or_else(|| {
            let apart = lies(block, anchors[0]) - lies(other, anchors[1]);
            (state >= SewnState::Framed && apart.hypot2() > 1e-6).then(|| tr!("its blocks lie otherwise now"))
        });
        if let Some(reason) = reason {
            // Of one block there is no doubt which.
            return Some(if was.places.len() == 1 { reason } else { format!("{}: {reason}", block.name) });
        }
    }
    strips_differ((before, was), (after, is), anchors, state)
        .or_else(|| {
            (state >= SewnState::Layered && before.back() != after.back()).then(|| tr!("its backing is of another cloth now"))
        })
        .or_else(|| (state >= SewnState::Quilted).then(|| quilting_differs((before, section), (after, place))).flatten())
}

/// A block with its frame.
fn block_differs((before, was): (&Side, &PlacedBlock), (after, is): (&Side, &PlacedBlock), state: SewnState) -> Option<String> {
    let (drawn, other) = (&before.drafts[was.block.0], &after.drafts[is.block.0]);
    let says = Some;
    if (drawn.size - other.size).hypot2() > 1e-6 {
        return says(tr!("its block has another size now"));
    }
    let shapes = |draft: &Draft| {
        let patches = draft.patches.iter().map(|patch| (patch.outline.clone(), patch.holes.clone()));
        let overlays = draft.overlays.iter().map(|overlay| (overlay.outline.clone(), Vec::new()));
        patches.chain(overlays).collect::<Vec<_>>()
    };
    if was.block == is.block && drawn == other {
        // Most often nothing was drawn anew.
    } else if shapes(drawn) != shapes(other) {
        return says(tr!("another block is there now"));
    }
    if before.colours(was, drawn) != after.colours(is, other) {
        return says(tr!("its block is of other cloths now"));
    }
    if was.pose.is_mirrored() != is.pose.is_mirrored() {
        return says(tr!("its block is mirrored now"));
    }
    if state >= SewnState::Framed
        && (was.pose.apply_vec(Vec2::new(1.0, 0.0)) - is.pose.apply_vec(Vec2::new(1.0, 0.0))).hypot2() > 1e-6
    {
        return says(tr!("its block is turned now"));
    }
    frame_differs(before.frame(was.frame), after.frame(is.frame))
}

fn frame_differs(was: Option<FrameContent>, is: Option<FrameContent>) -> Option<String> {
    let reason = match (was, is) {
        (None, None) => return None,
        (Some(_), None) => tr!("it has no frame now"),
        (None, Some(_)) => tr!("it has a frame now"),
        (Some(was), Some(is)) if was == is => return None,
        (Some(was), Some(is)) => {
            let width = |frame: &FrameContent| frame.strips.iter().map(|(width, _)| width).sum::<f64>();
            let wider = width(&is) - width(&was);
            if wider.abs() > 1e-6 {
                if wider > 0.0 { tr!("its frame is wider now") } else { tr!("its frame is narrower now") }
            } else if was.strips.iter().map(|(width, _)| width).ne(is.strips.iter().map(|(width, _)| width)) {
                tr!("the strips of its frame have other widths now")
            } else if was.corners != is.corners {
                tr!("its frame has other corners now")
            } else {
                tr!("its frame is of another cloth now")
            }
        }
    };
    Some(reason)
}

/// A frame with the keys of its cloths.
#[derive(Debug, Clone, PartialEq)]
struct FrameContent {
    corners: String,
    strips: Vec<(f64, String)>,
}

/// A piece that is part of no block: what it is, its corners as seen from the section's anchor, its cloth.
type Piece = (&'static str, Vec<(i64, i64)>, String);

impl Side<'_> {
    fn cloth(&self, cloth: ClothId) -> String {
        self.quilt.cloths[cloth.0].key.clone()
    }

    fn back(&self) -> Option<String> {
        self.quilt.backing.as_ref().map(|backing| self.cloth(backing.cloth))
    }

    /// The cloth of each patch and overlay of a block in its place.
    fn colours(&self, placed: &PlacedBlock, draft: &Draft) -> Vec<Option<String>> {
        let parts = draft.patches.iter().map(|patch| patch.part).chain(draft.overlays.iter().map(|overlay| Some(overlay.part)));
        parts.map(|part| part.map(|part| self.cloth(placed.cloths[part.0]))).collect()
    }

    fn frame(&self, frame: Option<FrameId>) -> Option<FrameContent> {
        let frame = &self.quilt.frames[frame?.0];
        let corners = match frame.corners {
            Corners::Mitred => "mitred".to_owned(),
            Corners::Butted => "butted".to_owned(),
            Corners::Squares(cloth) => format!("squares of {}", self.cloth(cloth)),
        };
        let strips = frame.strips.iter().map(|strip| (strip.width.value(), self.cloth(strip.cloth))).collect();
        Some(FrameContent { corners, strips })
    }

    /// The middle of its first block, or the corner of its bounds.
    fn anchor(&self, section: &Section) -> Point {
        let bounds = section.outline.bounds();
        section.places.first().map_or(bounds.origin(), |&place| self.top.places[place].outline.bounds().center())
    }

    /// The pieces of a section that are part of no block and no frame.
    fn pieces(&self, section: &Section, anchor: Point) -> BTreeSet<Piece> {
        let strips = section.strips.iter().map(|&strip| &self.top.strips[strip]);
        strips.filter_map(|strip| Some((kind(strip.kind)?, corners(&strip.outline, anchor), self.cloth(strip.cloth)))).collect()
    }
}

/// What a piece is called; nothing for one of a frame.
fn kind(kind: PieceKind) -> Option<&'static str> {
    match kind {
        PieceKind::Frame { .. } | PieceKind::FrameSquare { .. } => None,
        PieceKind::SideTriangle | PieceKind::CornerTriangle => Some(mark!("triangle")),
        PieceKind::Sash | PieceKind::Cornerstone => Some(mark!("sashing")),
        PieceKind::Filler => Some(mark!("filler")),
        PieceKind::Band { .. } | PieceKind::BandSquare { .. } => Some(mark!("band")),
    }
}

/// Corners in ten-thousandths, the least one first, so that pieces that lie alike are alike.
fn corners(outline: &Loop, anchor: Point) -> Vec<(i64, i64)> {
    let ticks = |x: f64| (x * 1e4).round() as i64;
    let mut corners: Vec<(i64, i64)> =
        outline.corners().map(|point| (ticks(point.x - anchor.x), ticks(point.y - anchor.y))).collect();
    let least = (0..corners.len()).min_by_key(|&corner| corners[corner]).unwrap_or(0);
    corners.rotate_left(least);
    corners
}

/// Sashing, bands and triangles. More of them are no harm until the section is layered.
fn strips_differ(
    (before, was): (&Side, &Section),
    (after, is): (&Side, &Section),
    anchors: [Point; 2],
    state: SewnState,
) -> Option<String> {
    let (was, is) = (before.pieces(was, anchors[0]), after.pieces(is, anchors[1]));
    if let Some(missing) = was.difference(&is).next() {
        let dyed = is.iter().any(|other| (&other.0, &other.1) == (&missing.0, &missing.1));
        let what = spoken(missing.0);
        return Some(if dyed { tr!("its {what} is of another cloth now", what) } else { tr!("its {what} is another now", what) });
    }
    let more = is.difference(&was).next()?;
    (state >= SewnState::Layered).then(|| tr!("{more} is to be sewn to it now", more = spoken(more.0)))
}

/// The lines that are quilted before the joins and those after.
fn quilting_differs((before, section): (&Side, usize), (after, place): (&Side, usize)) -> Option<String> {
    let lines = |side: &Side, section: usize| -> BTreeSet<(bool, Vec<i64>)> {
        let lap = side.lap;
        let pattern = &lap.patterns[lap.sections[section].pattern];
        let ticks = |point: Point| [(point.x * 1e3).round() as i64, (point.y * 1e3).round() as i64];
        let line = |line: &crate::lap::Line| {
            line.edges.iter().flat_map(|edge| [edge.from(), edge.at(0.5), edge.to()]).flat_map(ticks).collect()
        };
        pattern.lines.iter().map(|each| (each.now, line(each))).collect()
    };
    let (was, is) = (lines(before, section), lines(after, place));
    if was == is {
        return None;
    }
    Some(if was.is_subset(&is) { tr!("more is to be quilted on it now") } else { tr!("its quilting is another now") })
}
