//! Whether turning blocks leaves fewer stacks.
//!
//! In: a quilt and its plan. Out: places and by how much to turn them, so that with the same number of pressings less stacks than
//! now, nothing at best. Asked for, not part of every plan: each try is a plan of its own. Tried are, in this order, turns that do not
//! change how the quilt looks (a block that looks the same after a quarter turn still has its seams turned), every second place of
//! a block along rows, columns or both; then a single place beside a stack; then the same with turns that do change the look.

use crate::draft::{Draft, Patch};
use crate::fall::{Effort, SeamRef};
use crate::{Plan, Wanted, fall, piece, set};
use seamfall_geom::{Point, TOLERANCE};
use seamfall_model::{Quilt, SewnState};

/// So many turns are tried at most.
pub const TRIES: usize = 96;

/// Places to turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turning {
    /// Number of each place in the top, and how many quarter turns to the left it is turned more.
    pub places: Vec<(usize, u8)>,
    /// Meetings that stack then.
    pub stacks: usize,
    /// Whether the quilt looks as it does now.
    pub keeps_look: bool,
}

/// The turns that leave the fewest stacks of all that are tried; nothing where none leaves fewer than now.
#[must_use]
pub fn turning(quilt: &Quilt, plan: &Plan) -> Option<Turning> {
    (0..).map_while(|step| tried(quilt, plan, step)).reduce(better).and_then(|tried| tried.best)
}

/// Some of the turns tried, so that a caller can show how far it is, and stop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tried {
    /// The best of these.
    pub best: Option<Turning>,
    /// How many steps there are in all.
    pub steps: usize,
}

/// Turns tried in one step.
const A_STEP: usize = 8;

/// One step of trying; nothing when all have been done.
#[must_use]
pub fn tried(quilt: &Quilt, plan: &Plan, step: usize) -> Option<Tried> {
    tried_while(quilt, plan, step, &|| true).expect("it is wanted")
}

/// The same; nothing at all once nobody wants it any more.
pub fn tried_while(quilt: &Quilt, plan: &Plan, step: usize, wanted: Wanted) -> Option<Option<Tried>> {
    let now = plan.falls.count().stacks;
    let quilt = Quilt { pressings: Some(plan.falls.count().pressings), ..quilt.clone() };
    let all = if now == 0 { Vec::new() } else { candidates(&quilt, plan) };
    let steps = all.len().min(TRIES).div_ceil(A_STEP);
    if step >= steps {
        return Some(None);
    }
    let mut best: Option<Turning> = None;
    for (places, keeps_look) in all.into_iter().take(TRIES).skip(step * A_STEP).take(A_STEP) {
        let stacks = stacks(&quilt, plan, &places, wanted)?;
        if stacks < best.as_ref().map_or(now, |best| best.stacks) {
            best = Some(Turning { places, stacks, keeps_look });
        }
    }
    Some(Some(Tried { best, steps }))
}

/// The better of two: fewer stacks, and of equal ones the earlier.
#[must_use]
pub fn better(one: Tried, other: Tried) -> Tried {
    let fewer = match (&one.best, &other.best) {
        (Some(a), Some(b)) => b.stacks < a.stacks,
        (None, _) => true,
        (Some(_), None) => false,
    };
    if fewer { other } else { one }
}

/// Stacks once places are turned; nothing once nobody wants to know.
fn stacks(quilt: &Quilt, plan: &Plan, places: &[(usize, u8)], wanted: Wanted) -> Option<usize> {
    let mut turned = quilt.clone();
    for &(place, turns) in places {
        let at = &plan.top.places[place];
        let place = &mut turned.setting.places[at.row][at.number];
        place.turns = (place.turns + turns) % 4;
    }
    let top = set::derive(&turned).result;
    let piecing = piece::derive_while(&turned, &plan.drafts, &top, &mut piece::Memo::default(), wanted)?.result;
    let falls = fall::derive_while(&turned, &plan.sewn.pressed, &top, &piecing, Effort::default(), wanted)?.result;
    Some(falls.count().stacks)
}

/// What to try, those that keep the look first.
fn candidates(quilt: &Quilt, plan: &Plan) -> Vec<(Vec<(usize, u8)>, bool)> {
    let mut all: Vec<(Vec<(usize, u8)>, bool)> = Vec::new();
    let kept = |places: &[(usize, u8)]| places.iter().all(|&(place, turns)| looks_the_same(quilt, plan, place, turns));
    let mut add = |places: Vec<(usize, u8)>| {
        if !places.is_empty() && places.iter().all(|&(place, turns)| fits(quilt, plan, place, turns)) {
            let kept = kept(&places);
            all.push((places, kept));
        }
    };
    let rules: [fn(usize, usize) -> bool; 3] =
        [|row, number| (row + number) % 2 == 1, |row, _| row % 2 == 1, |_, number| number % 2 == 1];
    for block in 0..quilt.blocks.len() {
        for turns in [1, 2, 3] {
            for rule in rules {
                let places = plan.top.places.iter().enumerate();
                let chosen = places.filter(|(number, place)| {
                    place.block.0 == block && rule(place.row, place.number) && !is_framed(plan, *number)
                });
                add(chosen.map(|(number, _)| (number, turns)).collect());
            }
        }
    }
    let mut beside: Vec<usize> = plan
        .falls
        .stacks
        .iter()
        .map(|stack| plan.falls.meetings[stack.meeting])
        .flat_map(|meeting| [meeting.seam, meeting.left, meeting.right])
        .filter_map(|seam| match seam {
            SeamRef::Place { place, .. } => Some(place),
            SeamRef::Top { .. } => None,
        })
        .collect();
    beside.sort_unstable();
    beside.dedup();
    for place in beside {
        [1, 2, 3].into_iter().for_each(|turns| add(vec![(place, turns)]));
    }
    all.sort_by_key(|(_, kept)| !kept);
    all
}

/// Whether a place can be turned so: a block that is not square only by half a turn.
fn fits(quilt: &Quilt, plan: &Plan, place: usize, turns: u8) -> bool {
    let size = plan.drafts[plan.top.places[place].block.0].size;
    let alone = quilt
        .falls
        .iter()
        .chain(&plan.sewn.pressed)
        .any(|fall| fall.between.iter().any(|name| name.split('.').next() == Some(&plan.top.places[place].name)));
    !alone && !is_framed(plan, place) && (turns == 2 || (size.x - size.y).abs() <= TOLERANCE)
}

/// Whether strips are sewn to what a place holds, so that it cannot be turned any more.
pub(crate) fn is_framed(plan: &Plan, place: usize) -> bool {
    plan.sewn.sections[plan.top.places[place].section].state >= SewnState::Framed
}

/// Whether what a place holds looks the same after so many quarter turns.
fn looks_the_same(quilt: &Quilt, plan: &Plan, place: usize, turns: u8) -> bool {
    let placed = &plan.top.places[place];
    let draft: &Draft = &plan.drafts[placed.block.0];
    let middle = draft.outline.bounds().center();
    let turned = |point: Point| {
        (0..turns).fold(point, |point, _| {
            let away = point - middle;
            Point::new(middle.x - away.y, middle.y + away.x)
        })
    };
    let cloth = |patch: &Patch| patch.part.map(|part| placed.cloths[part.0]);
    let centre = |patch: &Patch| patch.outline.bounds().center();
    let same = |patch: &Patch| {
        let at = turned(centre(patch));
        let image = |other: &&Patch| {
            (centre(other) - at).hypot2() <= 1e-8 && other.template == patch.template && cloth(other) == cloth(patch)
        };
        draft.patches.iter().any(|other| image(&other))
    };
    let directions = placed.cloths.iter().any(|cloth| quilt.cloths[cloth.0].print != seamfall_model::Print::None);
    !directions && draft.overlays.is_empty() && draft.patches.iter().all(same)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan;
    use seamfall_model::{Pressings, read};

    /// Nine-patches side by side stack with one pressing, since each is the image of its neighbour. Every second one turned by a
    /// quarter looks the same and nests along every join. Source: common practice (alternate blocks are turned).
    #[test]
    fn every_second_block_turned_nests_and_looks_the_same() {
        let text = r##"
format = 1
name = "Nine-patches"
measure = "inch"
pressings = 1
largest-section = "14"
[cloth.light]
colour = "#f0eadc"
[cloth.dark]
colour = "#22304f"
[block.nine]
starter = "nine-patch"
size = "12"
cloths = { light = "light", dark = "dark" }
[setting]
layout = "straight"
columns = 4
rows = 3
pattern = [["nine"]]
"##;
        let quilt = read(text).expect("it reads");
        let before = plan(&quilt);
        assert!(before.falls.count().pressings == Pressings::Shared(1) && before.falls.count().stacks > 0);
        let turning = turning(&quilt, &before).expect("there is one");
        assert!(turning.keeps_look && turning.stacks < before.falls.count().stacks, "{turning:?}");
        let mut turned = quilt.clone();
        for &(place, turns) in &turning.places {
            let at = &before.top.places[place];
            turned.setting.places[at.row][at.number].turns = turns;
        }
        assert_eq!(plan(&turned).falls.count().stacks, turning.stacks, "what was promised is had");
    }

    #[test]
    fn where_nothing_stacks_nothing_is_turned() {
        let quilt = seamfall_testkit::lamplight();
        assert_eq!(turning(&quilt, &plan(&quilt)), None);
    }
}
