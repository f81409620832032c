//! Whether a layout is what it says, from the definition alone.
//!
//! In: the job and where every copy lies. Out: the stages and the cuts it takes, or the first fault. Each piece is there as often as
//! it is wanted, has its size, is turned only where it may be, lies on the cloth, overlaps no other, and comes out by straight
//! edge-to-edge cuts with a kerf's room for each. Shares no code with the search; knows placements only, not how they were found.
//!
//! Cuts are tried the greedy way: all parallel cuts at once, again and again. A set of pieces that can be separated at all stays so
//! after any full cut, hence the greedy way finds a way whenever there is one.

use thiserror::Error;

use crate::job::Job;
use crate::layout::Placement;

/// What a good layout takes at the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Verified {
    /// Stages of cuts, the last trim not counted: what [`crate::job::Stages`] limits.
    pub stages: u32,
    /// The same with the last trim counted as a stage of its own, where there is one.
    pub stages_with_trim: u32,
    /// Straight cuts, each counted once however long.
    pub cuts: u32,
    /// Where the last piece ends.
    pub used_length: u64,
}

/// What is wrong with a layout. Placements are told by their number in the list, from 0.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Fault {
    /// Not a kind of the job.
    #[error("placement {placement}: there is no kind {kind}")]
    NoSuchKind {
        /// Which placement.
        placement: usize,
        /// What it names.
        kind: usize,
    },
    /// A size that is not the piece's.
    #[error("placement {placement}: `{piece}` has not its size")]
    WrongSize {
        /// Which placement.
        placement: usize,
        /// Its name.
        piece: String,
    },
    /// Turned where that is forbidden.
    #[error("placement {placement}: `{piece}` must not be turned")]
    Turned {
        /// Which placement.
        placement: usize,
        /// Its name.
        piece: String,
    },
    /// Beyond an edge of the cloth.
    #[error("placement {placement}: `{piece}` leaves the cloth")]
    Outside {
        /// Which placement.
        placement: usize,
        /// Its name.
        piece: String,
    },
    /// Too many or too few.
    #[error("`{piece}`: {placed} placed, {wanted} wanted")]
    Count {
        /// Its name.
        piece: String,
        /// Copies placed.
        placed: u64,
        /// Copies wanted.
        wanted: u32,
    },
    /// Two pieces on the same cloth.
    #[error("placements {first} and {second} overlap")]
    Overlap {
        /// One of the two.
        first: usize,
        /// The other.
        second: usize,
    },
    /// No straight cut comes between.
    #[error("no straight cut separates the {pieces} pieces about placement {placement}")]
    Locked {
        /// One of them.
        placement: usize,
        /// How many there are.
        pieces: usize,
    },
    /// More turns of the cloth than allowed.
    #[error("{stages} stages of cuts, {limit} allowed")]
    TooManyStages {
        /// What it takes.
        stages: u32,
        /// What is allowed.
        limit: u8,
    },
}

/// A rectangle: left, lower, right and upper edge.
#[derive(Clone, Copy)]
struct Place {
    low: [u64; 2],
    high: [u64; 2],
}

/// Verifies a layout of `length` against the job, its limit of stages included.
///
/// # Errors
/// The first [`Fault`] found.
pub fn check(job: &Job, placements: &[Placement], length: u64) -> Result<Verified, Fault> {
    let verified = check_box(job.kinds(), job.kerf(), [u64::from(job.width()), length], placements, true)?;
    if verified.stages > u32::from(job.stages().limit()) {
        return Err(Fault::TooManyStages { stages: verified.stages, limit: job.stages().limit() });
    }
    Ok(verified)
}

/// Verifies placements on one rectangle of cloth, whatever the number of stages. Without `whole`, fewer copies than wanted are fine:
/// a sheet carries a part of the list.
pub(crate) fn check_box(
    kinds: &[crate::job::Kind],
    kerf: u32,
    cloth: [u64; 2],
    placements: &[Placement],
    whole: bool,
) -> Result<Verified, Fault> {
    let mut places = Vec::with_capacity(placements.len());
    let mut placed = vec![0_u64; kinds.len()];
    for (number, one) in placements.iter().enumerate() {
        let kind = kinds.get(one.kind).ok_or(Fault::NoSuchKind { placement: number, kind: one.kind })?;
        let piece = || kind.name.clone();
        if one.turned && !kind.turn {
            return Err(Fault::Turned { placement: number, piece: piece() });
        }
        let size = if one.turned { (kind.height, kind.width) } else { (kind.width, kind.height) };
        if (one.width, one.height) != size {
            return Err(Fault::WrongSize { placement: number, piece: piece() });
        }
        let place = Place { low: [one.x, one.y], high: [one.x + u64::from(one.width), one.y + u64::from(one.height)] };
        if place.high[0] > cloth[0] || place.high[1] > cloth[1] {
            return Err(Fault::Outside { placement: number, piece: piece() });
        }
        placed[one.kind] += 1;
        places.push(place);
    }
    for (kind, &placed) in kinds.iter().zip(&placed) {
        if placed > u64::from(kind.count) || (whole && placed < u64::from(kind.count)) {
            return Err(Fault::Count { piece: kind.name.clone(), placed, wanted: kind.count });
        }
    }
    overlaps(&places)?;
    let mut tally = Tally { kerf: u64::from(kerf), stages: 0, stages_with_trim: 0, cuts: 0 };
    if !places.is_empty() {
        let all: Vec<usize> = (0..places.len()).collect();
        tally.separate(&places, all, Place { low: [0, 0], high: cloth }, 1, 0)?;
    }
    Ok(Verified {
        stages: tally.stages,
        stages_with_trim: tally.stages_with_trim,
        cuts: tally.cuts,
        used_length: places.iter().map(|place| place.high[1]).max().unwrap_or(0),
    })
}

/// Sweeps a line along the cloth; what it meets is kept in order across, so that neighbours alone can overlap.
fn overlaps(places: &[Place]) -> Result<(), Fault> {
    let mut events: Vec<(u64, bool, usize)> = Vec::with_capacity(2 * places.len());
    for (number, place) in places.iter().enumerate() {
        events.push((place.low[1], true, number));
        events.push((place.high[1], false, number));
    }
    events.sort_unstable();
    let mut met: std::collections::BTreeMap<u64, usize> = std::collections::BTreeMap::new();
    for (_, opens, number) in events {
        let place = &places[number];
        if !opens {
            met.remove(&place.low[0]);
            continue;
        }
        let before = met.range(..=place.low[0]).next_back().map(|(_, &other)| other);
        if let Some(other) = before.filter(|&other| places[other].high[0] > place.low[0]) {
            return Err(Fault::Overlap { first: other, second: number });
        }
        if let Some((_, &other)) = met.range(place.low[0]..place.high[0]).next() {
            return Err(Fault::Overlap { first: other, second: number });
        }
        met.insert(place.low[0], number);
    }
    Ok(())
}

/// Counts while cutting.
struct Tally {
    kerf: u64,
    stages: u32,
    stages_with_trim: u32,
    cuts: u32,
}

impl Tally {
    /// Cuts `area` apart, trying `axis` (0 across, 1 along) first, after `done` stages.
    fn separate(&mut self, places: &[Place], set: Vec<usize>, area: Place, axis: usize, done: u32) -> Result<(), Fault> {
        if let [only] = set[..] {
            self.trim(&places[only], area, axis, done);
            return Ok(());
        }
        let (axis, done, groups) = match self.groups(places, &set, axis) {
            groups if groups.len() > 1 => (axis, done + 1, groups),
            _ => {
                let groups = self.groups(places, &set, 1 - axis);
                if groups.len() == 1 {
                    return Err(Fault::Locked { placement: set[0], pieces: set.len() });
                }
                (1 - axis, done + 2, groups)
            }
        };
        let mut reached = area.low[axis];
        for (group, low, high) in groups {
            self.cuts += u32::from(low > reached) + u32::from(area.high[axis] > high);
            reached = high + self.kerf.min(area.high[axis] - high);
            let mut part = area;
            part.low[axis] = low;
            part.high[axis] = high;
            self.separate(places, group, part, 1 - axis, done)?;
        }
        Ok(())
    }

    /// Frees one piece: the next cuts run along `axis`, and a side that needs the other axis comes a stage later.
    fn trim(&mut self, piece: &Place, area: Place, axis: usize, done: u32) {
        let sides = |axis: usize| u32::from(piece.low[axis] > area.low[axis]) + u32::from(piece.high[axis] < area.high[axis]);
        let (now, later) = (sides(axis), sides(1 - axis));
        self.cuts += now + later;
        let (stages, with_trim) = match (now > 0, later > 0) {
            (false, false) => (done, done),
            (true, false) => (done, done + 1),
            (_, true) => (done + 1, done + 2),
        };
        self.stages = self.stages.max(stages);
        self.stages_with_trim = self.stages_with_trim.max(with_trim);
    }

    /// The sets that full cuts across `axis` leave, in order, with where each begins and ends.
    fn groups(&self, places: &[Place], set: &[usize], axis: usize) -> Vec<(Vec<usize>, u64, u64)> {
        let mut order = set.to_vec();
        order.sort_unstable_by_key(|&number| (places[number].low[axis], places[number].high[axis], number));
        let mut groups: Vec<(Vec<usize>, u64, u64)> = Vec::new();
        for number in order {
            let (low, high) = (places[number].low[axis], places[number].high[axis]);
            match groups.last_mut() {
                Some((group, _, end)) if low < *end + self.kerf => {
                    group.push(number);
                    *end = (*end).max(high);
                }
                _ => groups.push((vec![number], low, high)),
            }
        }
        groups
    }
}
