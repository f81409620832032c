//! Pieces on the cloth, and the lowest place where another fits.
//!
//! In: pieces that lie, a shape, and how far up the cloth it may reach. Out: the lowest place that keeps clear of all of them, at the
//! left or at the right of its level. Levels are those at which some corner comes to lie beside a corner, and a grid between; at a level
//! the no-fit polygons give the intervals that are taken. The place found is then let down and to the side until it touches.

use seamfall_geom::Vec2;

use super::HAIR;
use super::block::Laid;
use super::meeting::{Meeting, Meetings};

/// Levels of the grid in a band of half a piece's height.
const LEVELS: f64 = 12.0;
/// Bands at most.
const MOST_BANDS: f64 = 200.0;
/// Times a piece is let down and to the side.
const SETTLINGS: usize = 4;

/// To which edge pieces are pushed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Left,
    Right,
}

/// Cloth of one width with the pieces that lie on it.
#[derive(Debug, Clone)]
pub(super) struct Bed<'a> {
    pub meetings: &'a Meetings,
    pub width: f64,
    pub laid: Vec<Laid>,
    /// Steps taken: pairs of pieces looked at.
    pub steps: u64,
    /// After so many steps no place is found any more.
    pub most_steps: u64,
}

impl<'a> Bed<'a> {
    pub fn new(meetings: &'a Meetings, width: f64, laid: Vec<Laid>) -> Self {
        Self { meetings, width, laid, steps: 0, most_steps: u64::MAX }
    }

    /// How far up the pieces reach.
    pub fn length(&self) -> f64 {
        self.laid.iter().map(|laid| self.top(laid)).fold(0.0, f64::max)
    }

    /// Upper end of a piece.
    pub fn top(&self, laid: &Laid) -> f64 {
        laid.at.y + self.meetings.shapes[laid.shape].height
    }

    /// The lowest place for `shape` from level `from` on with its upper end at `limit` or below, and the level it was found at.
    pub fn lowest(&mut self, shape: usize, from: f64, limit: f64, side: Side) -> Option<(Laid, f64)> {
        let height = self.meetings.shapes[shape].height;
        let to = limit - height;
        let band = (height / 2.0).max((to - from) / MOST_BANDS);
        let mut low = from;
        while low <= to + HAIR && self.steps <= self.most_steps {
            let high = (low + band).min(to);
            if let Some((x, level)) = self.lowest_in_band(shape, low, high, side) {
                return Some((self.settled(Laid { shape, at: Vec2::new(x, level) }, side), level));
            }
            low += band;
        }
        None
    }

    /// The lowest place with its level between `low` and `high`.
    fn lowest_in_band(&mut self, shape: usize, low: f64, high: f64, side: Side) -> Option<(f64, f64)> {
        let meetings = self.meetings;
        let room = self.width - meetings.shapes[shape].width;
        let near: Vec<(&Meeting, Vec2)> = self
            .laid
            .iter()
            .map(|laid| (meetings.of(laid.shape, shape), laid.at))
            .filter(|(meeting, at)| meeting.across.reach.0 + at.y < high + HAIR && meeting.across.reach.1 + at.y > low - HAIR)
            .collect();
        let step = (high - low) / LEVELS;
        let mut levels: Vec<f64> = (0..=LEVELS as usize).map(|k| low + step * k as f64).collect();
        levels.extend(near.iter().flat_map(|(meeting, at)| meeting.heights.iter().map(|rise| at.y + rise)));
        levels.retain(|&level| level >= low && level <= high + HAIR);
        levels.sort_unstable_by(f64::total_cmp);
        levels.dedup_by(|a, b| (*a - *b).abs() <= HAIR);
        self.steps += (near.len() + self.laid.len() / 8) as u64;
        let mut taken = Vec::new();
        for level in levels {
            taken.clear();
            for (meeting, at) in &near {
                taken.extend(meeting.across.at(level - at.y).map(|(l, h)| (l + at.x, h + at.x)));
            }
            self.steps += taken.len() as u64;
            if let Some(x) = free(&mut taken, room, side) {
                return Some((x, level));
            }
        }
        None
    }

    /// The piece let down and pushed to the side until it touches.
    fn settled(&self, mut piece: Laid, side: Side) -> Laid {
        for _ in 0..SETTLINGS {
            let before = piece.at;
            let mut y: f64 = 0.0;
            for laid in &self.laid {
                let below = self.meetings.of(laid.shape, piece.shape).along.at(piece.at.x - laid.at.x);
                y = below.map(|(_, high)| high + laid.at.y).filter(|&high| high <= piece.at.y + HAIR).fold(y, f64::max);
            }
            piece.at.y = y.min(piece.at.y);
            let room = self.width - self.meetings.shapes[piece.shape].width;
            let mut x = if side == Side::Left { 0.0 } else { room };
            for laid in &self.laid {
                for (low, high) in self.meetings.of(laid.shape, piece.shape).across.at(piece.at.y - laid.at.y) {
                    match side {
                        Side::Left if high + laid.at.x <= piece.at.x + HAIR => x = x.max(high + laid.at.x),
                        Side::Right if low + laid.at.x >= piece.at.x - HAIR => x = x.min(low + laid.at.x),
                        _ => {}
                    }
                }
            }
            piece.at.x = if side == Side::Left { x.min(piece.at.x) } else { x.max(piece.at.x) };
            if (before.x - piece.at.x).abs() <= HAIR && (before.y - piece.at.y).abs() <= HAIR {
                break;
            }
        }
        piece
    }
}

/// The first free place from an edge, between 0 and `room`.
fn free(taken: &mut [(f64, f64)], room: f64, side: Side) -> Option<f64> {
    if room < -HAIR {
        return None;
    }
    match side {
        Side::Left => {
            taken.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut x: f64 = 0.0;
            for &(low, high) in taken.iter() {
                if low >= x - HAIR {
                    break;
                }
                x = x.max(high);
            }
            (x <= room + HAIR).then_some(x)
        }
        Side::Right => {
            taken.sort_by(|a, b| b.1.total_cmp(&a.1));
            let mut x = room;
            for &(low, high) in taken.iter() {
                if high <= x + HAIR {
                    break;
                }
                x = x.min(low);
            }
            (x >= -HAIR).then_some(x)
        }
    }
}
