//! What is wished of a quilt, and within which limits its settings may vary.
//!
//! In: sizes and steps. Out: the same, found to leave something to search and no more than can be.

use super::settings::{Base, Standing};
use crate::answer::{Impossible, Ruler};
use seamfall_geom::Vec2;
use seamfall_model::{Length, Measure, limits};
use tr::tr;

/// Most choices of widths that are looked at: a second's work.
const CHOICES: u64 = 4_000_000;

/// Values from one to another, step by step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steps {
    /// The least.
    pub from: f64,
    /// The most.
    pub to: f64,
    /// From one to the next.
    pub step: f64,
}

impl Steps {
    /// One value alone.
    #[must_use]
    pub fn only(value: f64) -> Self {
        Self { from: value, to: value, step: 1.0 }
    }

    /// How many there are; none where the least is beyond the most.
    #[must_use]
    pub fn count(&self) -> usize {
        let steps = ((self.to - self.from) / self.step + 1e-9).floor();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "it is not negative, and a cast stops at the most"
        )]
        let steps = if steps >= 0.0 { steps as usize + 1 } else { 0 };
        steps
    }

    pub(super) fn values(&self) -> Vec<f64> {
        // To a millionth, so that steps of a tenth are written as such.
        (0..self.count()).map(|i| ((self.from + i as f64 * self.step) * 1e6).round() / 1e6).collect()
    }
}

/// Which numbers of columns and rows are wished.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Parity {
    /// Whichever.
    #[default]
    Any,
    /// Odd ones: one block stands in the middle.
    Odd,
    /// Even ones.
    Even,
}

impl Parity {
    pub(super) fn takes(self, count: u32) -> bool {
        match self {
            Self::Any => true,
            Self::Odd => count % 2 == 1,
            Self::Even => count.is_multiple_of(2),
        }
    }
}

/// What is wished of a quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Wishes {
    /// Width and length to reach.
    pub size: Vec2,
    /// How far off either may be.
    pub tolerance: f64,
    /// How blocks may stand.
    pub standings: Vec<Standing>,
    /// Widths of a block without its frame.
    pub blocks: Steps,
    /// Its height must come out on this step too, where it is not square.
    pub height_step: f64,
    /// Columns, least and most.
    pub columns: (u32, u32),
    /// Rows, least and most.
    pub rows: (u32, u32),
    /// Which numbers of either.
    pub parity: Parity,
    /// Widths of the outermost strip of a frame; 0 for none.
    pub frame: Steps,
    /// Widths of sashing; 0 for none.
    pub sashing: Steps,
    /// Widths of each band, the innermost first; 0 for none.
    pub bands: Vec<Steps>,
    /// The width that blocks have now.
    pub own_block: Option<f64>,
}

impl Wishes {
    /// Square blocks from 6 to 16 in (15 to 40 cm) with or without sashing and a band, for a size; what is usual where there is no quilt yet.
    #[must_use]
    pub fn usual(measure: Measure, size: Vec2) -> Self {
        let round = |inches: f64, centimetres: f64| if measure == Measure::Inch { inches } else { centimetres };
        let step = round(0.5, 1.0);
        let steps = |from: f64, to: f64| Steps { from, to, step };
        Self {
            size,
            tolerance: round(1.0, 2.5),
            standings: vec![Standing::Straight, Standing::OnPoint],
            blocks: steps(round(6.0, 15.0), round(16.0, 40.0)),
            height_step: step,
            columns: (1, 30),
            rows: (1, 30),
            parity: Parity::Any,
            frame: Steps::only(0.0),
            sashing: steps(0.0, round(3.0, 8.0)),
            bands: vec![steps(0.0, round(10.0, 25.0))],
            own_block: None,
        }
    }

    /// Sizes of whole inches, or of whole multiples of 2.5 cm as the trade has them, and no halves.
    pub fn in_whole_steps(&mut self, measure: Measure) {
        let whole = if measure == Measure::Inch { 1.0 } else { 2.5 };
        for steps in [&mut self.blocks, &mut self.frame, &mut self.sashing].into_iter().chain(&mut self.bands) {
            if steps.count() > 1 {
                (steps.from, steps.step) = ((steps.from / whole).ceil() * whole, whole);
            }
        }
    }

    /// Whether there is something to search, and no more than can be.
    pub(super) fn check(&self, base: &Base, ruler: Ruler) -> Result<(), Impossible> {
        let shown = |value: f64| ruler.shown(Length::new(value));
        let most = limits::SIDE_IN * base.measure.inch();
        for (side, what) in [(self.size.x, tr!("wide")), (self.size.y, tr!("long"))] {
            if !(side > 0.0 && side <= most) {
                let reason = tr!("a quilt cannot be {side} {what}", side = shown(side.max(0.0)), what);
                return Err(Impossible::new(
                    reason,
                    tr!("make it {most} or less, and more than nothing", most = shown(most)),
                    most,
                ));
            }
        }
        let least_block = ruler.step.size();
        let named = [
            (&self.blocks, tr!("the block"), least_block),
            (&self.frame, tr!("the frame"), 0.0),
            (&self.sashing, tr!("the sashing"), 0.0),
        ];
        for (steps, what, least) in named.into_iter().chain(self.bands.iter().map(|band| (band, tr!("a band"), 0.0))) {
            if steps.step <= 0.0 {
                return Err(Impossible::new(
                    tr!("{what} varies by nothing", what),
                    tr!("let it vary by {least_block} or more", least_block = shown(least_block)),
                    least_block,
                ));
            }
            if steps.from < least {
                return Err(Impossible::new(
                    tr!("{what} is nothing", what),
                    tr!("let it be {least} or more", least = shown(least)),
                    least,
                ));
            }
            if steps.count() == 0 {
                let reason = tr!(
                    "{what} is to be at least {steps} and at most {to}",
                    what,
                    steps = shown(steps.from),
                    to = shown(steps.to.max(0.0))
                );
                return Err(Impossible::new(
                    reason,
                    tr!("let it be up to {steps} or more", steps = shown(steps.from)),
                    steps.from,
                ));
            }
        }
        let rows = limits::ROWS as u32;
        for ((least, most), what) in [(self.columns, tr!("columns")), (self.rows, tr!("rows"))] {
            if least < 1 || most > rows || !(least..=most).any(|count| self.parity.takes(count)) {
                let reason = tr!("there are no such numbers of {what}", what);
                return Err(Impossible::new(reason, tr!("let them be 1 to {rows}, the least first", rows), f64::from(rows)));
            }
        }
        let counts = [&self.blocks, &self.frame, &self.sashing].into_iter().chain(&self.bands).map(|steps| steps.count() as f64);
        let choices = counts.product::<f64>() * self.standings.len() as f64;
        if self.standings.is_empty() || choices > CHOICES as f64 {
            let reason = tr!(
                "there are {choices} choices of widths, and from 1 to {most} are looked at",
                choices = format_args!("{choices:.0}"),
                most = CHOICES
            );
            return Err(Impossible::new(reason, tr!("let fewer of them vary, or by larger steps"), CHOICES as f64));
        }
        Ok(())
    }
}
