//! How far things go in a step, from the start of a cloth's course to its end.
//!
//! In: how far cloth hangs, how far apart its points are, how much threads may give while it moves. Out: the fall in a step and the
//! share of speed that is kept, for every moment of the course.
//!
//! Gravity and stiffness fall together at the end, which leaves the shape and takes the last stretch out of the threads. A cloth
//! that takes over from a coarser one first moves as in syrup, since its points have been put where they do not quite belong.

/// How far things go in one step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pace {
    /// How far a free point falls in its first step: gravity times the step squared.
    pub fall: f64,
    /// Share of its speed that a point keeps.
    pub keep: f64,
}

/// The paces of one cloth, from beginning to end.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Course {
    fall: f64,
    hang: f64,
    /// Steps in which a point falls freely as far as the cloth hangs.
    pub steps_of_a_fall: f64,
    /// It takes over from a coarser one.
    takes_over: bool,
}

/// Share by which threads may give while the cloth moves, before it is tightened.
const STRETCH: f64 = 0.006;
/// Air and the rubbing of threads: the share of its speed that cloth loses in the time of a free fall. A flap that swings about an edge
/// swings no more at about 3.5.
const DRAG: f64 = 3.5;
/// So many times the drag at first, for a cloth that takes over, and until which share of its course.
const SYRUP: (f64, f64) = (8.0, 0.25);
/// By how much gravity has fallen in the end, and from which share of the course on.
const TIGHTER: (f64, f64, f64) = (16.0, 0.6, 0.85);

impl Course {
    /// Steps so short that a chain of `hang` links, its points `step` apart, gives by no more than a small share.
    ///
    /// At rest a pass over the links undoes exactly one step's fall, so the link that carries `n` points is `2 n fall` too long
    /// before it is corrected: the share is `2 (hang / step) fall / step`.
    pub(crate) fn new(step: f64, hang: f64, takes_over: bool) -> Self {
        let fall = STRETCH * step * step / (2.0 * hang);
        Self { fall, hang, steps_of_a_fall: (2.0 * hang / fall).sqrt(), takes_over }
    }

    /// The pace when a share of the course is done.
    pub(crate) fn at(&self, done: f64) -> Pace {
        let late = ((done - TIGHTER.1) / (TIGHTER.2 - TIGHTER.1)).clamp(0.0, 1.0);
        let tighter = 1.0 + (TIGHTER.0 - 1.0) * late;
        let early = if self.takes_over { (1.0 - done / SYRUP.1).max(0.0) } else { 0.0 };
        let fall = self.fall / tighter;
        let drag = DRAG * (1.0 + (SYRUP.0 - 1.0) * early) / (2.0 * self.hang / fall).sqrt();
        Pace { fall, keep: 1.0 - drag.min(1.0) }
    }
}
