//! The job as the search and the bounds see it: kerf inside the pieces, sizes in the largest step they share.
//!
//! A kerf between neighbours is the same as pieces and cloth a kerf larger and cuts without width: `n` pieces and `n - 1` kerfs fit
//! into a width just when `n` enlarged pieces fit into the enlarged width. Everything is then divided by what divides all
//! pieces; of the cloth's width only whole steps can be used.

use crate::job::{Job, Kind};

/// One way of laying a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lie {
    /// Place in the list of kinds.
    pub kind: usize,
    /// Turned by a quarter.
    pub turned: bool,
    /// Across the cloth, in steps, kerf included.
    pub width: u32,
    /// Along the cloth, in steps, kerf included.
    pub height: u32,
}

/// A job in steps.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    /// Usable width in steps.
    pub width: u32,
    /// Ticks to a step.
    pub step: u32,
    /// What one cut takes away, in ticks.
    pub kerf: u32,
    /// Copies wanted of each kind.
    pub wanted: Vec<u32>,
    /// The ways to lay each kind across the cloth; a square has one.
    pub lies: Vec<Lie>,
}

fn common(mut a: u32, mut b: u32) -> u32 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

impl Grid {
    pub fn of(job: &Job) -> Self {
        let step = Self::step(job.kinds(), job.kerf());
        Self::with(job.kinds(), job.kerf(), job.width(), u32::MAX, step)
    }

    /// The largest step that all the enlarged sides are whole numbers of.
    pub fn step(kinds: &[Kind], kerf: u32) -> u32 {
        kinds.iter().flat_map(|kind| [kind.width, kind.height]).fold(0, |step, side| common(step, side + kerf))
    }

    /// The grid of a rectangle `width` by `height` ticks.
    pub fn with(kinds: &[Kind], kerf: u32, width: u32, height: u32, step: u32) -> Self {
        let width = (width + kerf) / step;
        let height = height.saturating_add(kerf) / step;
        let mut lies = Vec::new();
        for (place, kind) in kinds.iter().enumerate() {
            let (across, along) = ((kind.width + kerf) / step, (kind.height + kerf) / step);
            let ways = [(false, across, along), (true, along, across)];
            for (turned, across, along) in ways.into_iter().take(if kind.turn && across != along { 2 } else { 1 }) {
                if across <= width && along <= height {
                    lies.push(Lie { kind: place, turned, width: across, height: along });
                }
            }
        }
        Self { width, step, kerf, wanted: kinds.iter().map(|kind| kind.count).collect(), lies }
    }

    /// A length of cloth in ticks from one in steps: the last strip needs no kerf behind it.
    pub fn length(&self, steps: u64) -> u64 {
        (steps * u64::from(self.step)).saturating_sub(u64::from(self.kerf))
    }

    /// A side of a panel in ticks.
    pub fn side(&self, steps: u32) -> u32 {
        steps * self.step - self.kerf
    }
}
