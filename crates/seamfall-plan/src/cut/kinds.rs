//! From pieces to what the cutting engine takes: rectangles on the grid of the ruler.
//!
//! In: the pieces of one material and the width it comes in. Out: kinds with the piece that each is a part of. A strip joined from several
//! becomes strips as long as the cloth is wide and one that is the rest. In a print with a direction no piece is turned, and neither
//! is one that lies along the selvage.

use super::nest::{self, Nest};
use super::{CutPiece, MotifCut, Way};
use seamfall_cutting::job::Kind;
use seamfall_model::{Grain, Length, MakingWay, Print, Step};
use tr::tr;

/// What a kind of rectangle is to its piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Part {
    /// All of it.
    Whole,
    /// A strip across the whole width, joined to others.
    Strip,
    /// The last of these, as long as is still wanted.
    Rest,
    /// All pieces that show a motif: a length of the cloth in which they are found.
    Motifs,
    /// Several pieces by template, by the number of the block in [`ToBuy::nests`](super::ToBuy::nests).
    Nest(usize),
}

/// Which piece a kind of rectangle is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct KindOf {
    /// Number of the piece in [`Cutting::pieces`](super::Cutting::pieces).
    pub piece: usize,
    /// How much of it.
    pub part: Part,
}

/// Steps of the ruler in one unit, in which the engine counts.
#[must_use]
pub fn ticks_per_unit(step: Step) -> u32 {
    match step {
        Step::Eighth => 8,
        Step::Sixteenth => 16,
        Step::Millimetre => 10,
    }
}

/// A rectangle to cut, and what it is for; pieces by template bring how they lie in it, and their part counts from there.
pub(super) type Lies = (Kind, KindOf, Option<Nest>);

/// What a material is like to cut.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lying {
    pub step: Step,
    pub print: Print,
    /// Usable width, where it is cut off a length; of sizes that of the widest.
    pub width: Length,
    /// An inch in the document's unit.
    pub inch: f64,
    /// Whether it is cut off a length.
    pub off_the_bolt: bool,
    /// Whether templates are nested; else each takes its bounds.
    pub nests: bool,
}

/// A size that is on the step, in ticks.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "sizes are at most 1,000 yd and not negative")]
fn ticks(step: Step, size: f64) -> u32 {
    (size * f64::from(ticks_per_unit(step))).round() as u32
}

/// The least whole number of ticks that holds a size.
pub(super) fn ticks_up(step: Step, size: Length) -> u32 {
    ticks(step, step.up(size).value())
}

/// The most whole ticks that a size holds.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "sizes are at most 1,000 yd and not negative")]
pub(super) fn ticks_down(step: Step, size: Length) -> u32 {
    (size.value() * f64::from(ticks_per_unit(step)) + 1e-4).floor() as u32
}

impl Lying {
    /// The rectangles of `piece`, which has the number `number`.
    pub fn kinds(self, number: usize, piece: &CutPiece) -> Vec<Lies> {
        let [across, along] = self.as_it_lies(piece);
        let free = self.print == Print::None && piece.grain == Grain::Across && piece.way != Way::Unit(MakingWay::StripSet);
        let kind = |name: String, width: u32, height: u32, count: usize, part| {
            let count = u32::try_from(count).unwrap_or(u32::MAX);
            (Kind { name, width, height, count, turn: free && part != Part::Strip }, KindOf { piece: number, part }, None)
        };
        if let Some(motif) = &piece.motif {
            return vec![self.motifs(number, piece, motif)];
        }
        let whole = || vec![kind(piece.name.clone(), across, along, piece.cut, Part::Whole)];
        if let (Way::Template { outline, .. }, true) = (&piece.way, self.nests) {
            let blocks = nest::blocks(outline, piece.cut, self.width.value(), self.print, self.inch);
            let nested = blocks.into_iter().enumerate().map(|(i, (nest, times))| {
                let name = tr!("{piece} block {i}", piece = piece.name, i = i + 1);
                let [width, height] = [nest.width, nest.height].map(|size| ticks_up(self.step, Length::new(size)));
                let (kind, of, _) = kind(name, width, height, times, Part::Nest(i));
                (kind, of, Some(nest))
            });
            let nested: Vec<Lies> = nested.collect();
            return if nested.is_empty() { whole() } else { nested };
        }
        let Way::Joined { lost } = &piece.way else { return whole() };
        let (width, lost) = (ticks_down(self.step, self.width), ticks_up(self.step, *lost));
        let [long, high] = if across > width { [across, along] } else { [along, across] };
        if width <= lost || high > width {
            return whole();
        }
        let all = u64::from(long) * piece.cut as u64;
        let strips = all.saturating_sub(u64::from(lost)).div_ceil(u64::from(width - lost)).max(1);
        let rest = all - (strips - 1) * u64::from(width - lost);
        let rest = u32::try_from(rest).expect("the rest is no longer than the cloth is wide");
        let full = usize::try_from(strips - 1).expect("strips are counted");
        let mut kinds = Vec::new();
        if full > 0 {
            kinds.push(kind(piece.name.clone(), width, high, full, Part::Strip));
        }
        kinds.push(kind(tr!("{piece} rest", piece = piece.name), rest, high, 1, Part::Rest));
        kinds
    }

    /// A length across the whole width that holds all motifs; out of sizes a piece for each, in which one is found wherever the print begins.
    fn motifs(self, number: usize, piece: &CutPiece, motif: &MotifCut) -> Lies {
        let name = piece.name.clone();
        let (part, [width, height], count) = if self.off_the_bolt {
            (Part::Motifs, [ticks_down(self.step, self.width), ticks(self.step, motif.length.value)], 1)
        } else {
            let room = [&motif.room[0], &motif.room[1]].map(|side| ticks(self.step, side.value));
            (Part::Whole, room, u32::try_from(piece.cut).unwrap_or(u32::MAX))
        };
        (Kind { name, width, height, count, turn: false }, KindOf { piece: number, part }, None)
    }

    /// Sides across and along, in ticks: as the piece is listed, and a strip that lies along with its length along.
    fn as_it_lies(self, piece: &CutPiece) -> [u32; 2] {
        let [width, length] = [&piece.width, &piece.length].map(|side| ticks(self.step, side.value));
        match (&piece.way, piece.grain) {
            (Way::Unit(MakingWay::StripSet), _) => [length, width],
            (_, Grain::Along) => [width.min(length), width.max(length)],
            _ => [width, length],
        }
    }
}
