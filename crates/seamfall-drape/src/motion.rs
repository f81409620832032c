//! One small step of the cloth: it falls, its ties pull, it bends back, it is put outside of what it rests on.
//!
//! In: the mesh and where its points are. Out: where they are a step later. A point's speed is what it has moved since the step
//! before (L. Verlet, 1967). Ties are corrected colour by colour, each once, half at either end, as all points weigh the same.

use crate::contact::Rounded;
use crate::mesh::{Mesh, Tie};
use crate::pace::Pace;
use crate::scene::Hand;
use crate::vector::{Vector, dot, length, minus, plus, times};

/// What the cloth rests on.
#[derive(Debug, Clone, Default)]
pub(crate) struct Rests {
    pub boxes: Vec<Rounded>,
    /// Height of the middle of cloth that lies on the floor.
    pub floor: Option<f64>,
}

#[derive(Debug)]
pub(crate) struct Motion {
    pub mesh: Mesh,
    pub at: Vec<Vector>,
    before: Vec<Vector>,
    /// Points that are held, and how far each is carried a step.
    pub held: Vec<(u32, Vector)>,
    is_held: Vec<bool>,
    rests: Rests,
    hand: Hand,
    pull: Vec<Vector>,
    /// Threads that carry much, by colour: corrected again and again in a step.
    busy: [Vec<Tie>; 4],
    pub pace: Pace,
    steps: usize,
}

/// How often more the threads that carry most are corrected in a step. Found by trying: more changes nothing.
const PASSES: usize = 3;
/// Bending is so much softer than the threads that it is reckoned with only once in so many steps, as much stronger
/// (M. Tuckerman, B. Berne, G. Martyna, "Reversible multiple time scale molecular dynamics", 1992).
const BENDING: usize = 4;
/// How many cells about a place are attended to.
const ATTENDED: f64 = 10.0;

impl Motion {
    /// A cloth at rest where `at` says.
    pub(crate) fn new(mesh: Mesh, at: Vec<Vector>, held: Vec<(u32, Vector)>, rests: Rests, hand: Hand, pace: Pace) -> Self {
        let mut is_held = vec![false; at.len()];
        held.iter().for_each(|&(point, _)| is_held[point as usize] = true);
        Self {
            busy: Default::default(),
            before: at.clone(),
            pull: vec![[0.0; 3]; at.len()],
            mesh,
            at,
            held,
            is_held,
            rests,
            hand,
            pace,
            steps: 0,
        }
    }

    /// From now on threads about these places are corrected again and again in a step.
    pub(crate) fn attend(&mut self, places: &[[f64; 2]]) {
        let [x, y] = self.mesh.step.map(|step| ATTENDED * step);
        let flat = &self.mesh.flat;
        let near = |point: u32| {
            let at = flat[point as usize];
            places.iter().any(|place| (at[0] - place[0]).abs() < x && (at[1] - place[1]).abs() < y)
        };
        let busy = |ties: &Vec<Tie>| ties.iter().filter(|tie| near(tie.a) && near(tie.b)).copied().collect();
        self.busy = self.mesh.threads.each_ref().map(busy);
    }

    /// One step.
    pub(crate) fn step(&mut self) {
        if self.steps.is_multiple_of(BENDING) {
            self.bend();
        }
        self.fall();
        for colour in self.mesh.threads.iter().chain((0..PASSES).flat_map(|_| &self.busy)) {
            straighten(&mut self.at, colour, 0.0);
            hold(&mut self.at, &self.held, &self.before);
        }
        let give = self.mesh.step[0] * self.mesh.step[1] / (self.hand.shear_length * self.pace.fall);
        for colour in &self.mesh.bias {
            straighten(&mut self.at, colour, give);
        }
        hold(&mut self.at, &self.held, &self.before);
        self.rest();
        self.steps += 1;
    }

    /// Gathers how far bending would move each point in a step: minus the gradient of the energy of three points in a row, across and along,
    /// and of the twist of each cell.
    ///
    /// Explicit, thus held below what the step can follow (a sum of squares with eigenvalues up to 64 times its weight).
    fn bend(&mut self) {
        self.pull.fill([0.0; 3]);
        let [x, y] = self.mesh.step;
        let stiff =
            self.hand.bending_length * self.hand.bending_length * self.hand.bending_length * self.pace.fall * BENDING as f64;
        let weight = |by: f64| (stiff / by).min(1.0 / 48.0);
        for (way, by) in [(0, weight(x * x * x * x)), (1, weight(y * y * y * y))] {
            for &[a, b, c] in &self.mesh.rows[way] {
                let [a, b, c] = [a, b, c].map(|point| point as usize);
                let bent = times(minus(plus(self.at[a], self.at[c]), times(self.at[b], 2.0)), by);
                self.pull[a] = minus(self.pull[a], bent);
                self.pull[b] = plus(self.pull[b], times(bent, 2.0));
                self.pull[c] = minus(self.pull[c], bent);
            }
        }
        let by = 2.0 * weight(x * x * y * y);
        for corners in &self.mesh.squares {
            let [a, b, c, d] = corners.map(|point| point as usize);
            let twist = times(minus(plus(self.at[a], self.at[c]), plus(self.at[b], self.at[d])), by);
            for (point, sign) in [(a, -1.0), (b, 1.0), (c, -1.0), (d, 1.0)] {
                self.pull[point] = plus(self.pull[point], times(twist, sign));
            }
        }
    }

    /// Moves every point on by its speed, its weight and what bending says; never by more than half a cell.
    fn fall(&mut self) {
        let most = 0.5 * self.mesh.step[0].min(self.mesh.step[1]);
        let Pace { fall, keep } = self.pace;
        let bent = self.steps.is_multiple_of(BENDING);
        for (point, at) in self.at.iter_mut().enumerate() {
            let mut by = times(minus(*at, self.before[point]), keep);
            if bent {
                by = plus(by, self.pull[point]);
            }
            by[2] -= fall;
            let square = dot(by, by);
            if square > most * most {
                by = times(by, most / square.sqrt());
            }
            self.before[point] = *at;
            *at = plus(*at, by);
        }
        for &(point, by) in &self.held {
            self.at[point as usize] = plus(self.before[point as usize], by);
        }
    }

    /// Puts points outside of what they rest on. Friction keeps a point from sliding by up to its share of how far it was put out
    /// (M. Macklin et al., "Unified particle physics for real-time applications", 2014, section 6.1).
    fn rest(&mut self) {
        for (point, at) in self.at.iter_mut().enumerate() {
            if self.is_held[point] {
                continue;
            }
            for solid in &self.rests.boxes {
                if let Some((way, far)) = solid.way_out(*at) {
                    *at = slowed(plus(*at, times(way, far)), self.before[point], way, self.hand.friction * far);
                }
            }
            if let Some(floor) = self.rests.floor
                && at[2] < floor
            {
                let far = floor - at[2];
                *at = slowed([at[0], at[1], floor], self.before[point], [0.0, 0.0, 1.0], self.hand.friction * far);
            }
        }
    }

    /// How far the points have moved in the last step: the root of the mean square.
    pub(crate) fn moved(&self) -> f64 {
        let squares = self.at.iter().zip(&self.before).map(|(at, before)| minus(*at, *before)).map(|by| dot(by, by));
        (squares.sum::<f64>() / self.at.len() as f64).sqrt()
    }

    /// By how much the most stretched thread is longer than it was, as a share.
    pub(crate) fn stretch(&self) -> f64 {
        let ties = self.mesh.threads.iter().flatten();
        ties.map(|tie| length(minus(self.at[tie.b as usize], self.at[tie.a as usize])) / tie.rest - 1.0).fold(0.0, f64::max)
    }
}

/// Brings both ends of each tie towards each other, or apart, until it is as long as it was; less when it gives.
///
/// Without a root: `1 - rest / far` is `2 (q - 1) / (3 q + 1)` for `q = (far / rest)²` near 1, to the second order, and never past the mark.
fn straighten(at: &mut [Vector], ties: &[Tie], give: f64) {
    let share = 1.0 / (2.0 + give);
    for tie in ties {
        let (a, b) = (at[tie.a as usize], at[tie.b as usize]);
        let between = minus(b, a);
        let (square, rest) = (dot(between, between), tie.rest * tie.rest);
        let by = times(between, 2.0 * share * (square - rest) / (3.0 * square + rest));
        at[tie.a as usize] = plus(a, by);
        at[tie.b as usize] = minus(b, by);
    }
}

/// Held points go back to where they are held.
fn hold(at: &mut [Vector], held: &[(u32, Vector)], before: &[Vector]) {
    for &(point, by) in held {
        at[point as usize] = plus(before[point as usize], by);
    }
}

/// A point that slides along what it rests on, with its sliding taken back by up to `most`.
fn slowed(at: Vector, before: Vector, way: Vector, most: f64) -> Vector {
    let by = minus(at, before);
    let slide = minus(by, times(way, dot(by, way)));
    let square = dot(slide, slide);
    if square <= most * most { minus(at, slide) } else { minus(at, times(slide, most / square.sqrt())) }
}
