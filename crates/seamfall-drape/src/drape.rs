//! A cloth that is being draped, in pieces small enough to show it meanwhile or to stop.
//!
//! In: a scene. Out: after each piece the share done and where the cloth is; at last how low its corners hang, what lies on the floor,
//! and by how much it has given.

use std::collections::BTreeMap;

use crate::contact::Rounded;
use crate::mesh::Mesh;
use crate::motion::{Motion, Rests};
use crate::pace::Course;
use crate::refine::refined;
use crate::scene::{Bed, Scene, SceneError};

/// The fewest points of the first, coarsest cloth.
const FEWEST: usize = 300;
/// For how many free falls a cloth of so many points is followed; one with a quarter of the points for twice as many, which costs a
/// quarter. Found by trying on a king: four times as long lifts its corners by another 0.2 in.
const FALLS: (f64, f64) = (2.0, 20_000.0);
/// A cloth is at rest when its points on average move less, in the time of a free fall, than this share of the fall.
const REST: f64 = 0.02;
/// Points times steps in one piece: some hundredths of a second.
const PIECE: usize = 200_000;

/// How far the draping has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Share done, 0 to 1; never falls.
    pub done: f64,
    /// Nothing is left to do.
    pub finished: bool,
}

/// How the cloth hangs at a corner of the mattress, if any lies beyond it both ways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The corner of the mattress, from above.
    pub mattress: [f64; 2],
    /// How far from it the farthest point of that part of the cloth is, laid flat.
    pub reach: f64,
    /// Height above the floor of the lowest point of that part.
    pub height: f64,
    /// The height were the cloth to hang straight down from the corner: that of the mattress less the reach, not below the floor.
    pub straight: f64,
}

/// A cloth on its way to rest.
#[derive(Debug)]
pub struct Drape {
    scene: Scene,
    rests: Rests,
    hang: f64,
    motion: Motion,
    course: Course,
    /// Points of the cloth that is followed now, and of those still to come, the coarsest last.
    points: usize,
    finer: Vec<usize>,
    steps_done: usize,
    work_done: f64,
    work_all: f64,
    at_rest: bool,
    finished: bool,
}

impl Drape {
    /// Lays the cloth flat over the bed.
    ///
    /// # Errors
    /// Why the scene cannot be, with the nearest that could.
    pub fn new(scene: Scene) -> Result<Self, SceneError> {
        scene.check()?;
        let half = scene.hand.thickness / 2.0;
        let boxes = std::iter::once(Rounded::bed(&scene.bed, scene.hand.thickness))
            .chain(scene.bed.posts.iter().map(|post| Rounded::post(post, scene.hand.thickness)));
        let rests = Rests { boxes: boxes.collect(), floor: Some(half) };
        let mut finer = vec![scene.points];
        while finer[finer.len() - 1] / 4 >= FEWEST {
            finer.push(finer[finer.len() - 1] / 4);
        }
        let points = finer.pop().expect("there is at least one cloth");
        let mesh = Mesh::new(&scene.outline, points);
        let hang = hang(&scene, &mesh);
        let laid = |flat: &[f64; 2]| {
            let tops = rests.boxes.iter().filter_map(|solid| solid.top_over(*flat));
            [flat[0], flat[1], tops.fold(scene.bed.height + half, f64::max)]
        };
        let at = mesh.flat.iter().map(laid).collect();
        let course = Course::new(mesh.step[0].min(mesh.step[1]), hang, false);
        let mut motion = Motion::new(mesh, at, Vec::new(), rests.clone(), scene.hand, course.at(0.0));
        motion.attend(&busy_places(&scene.bed));
        let mut drape = Self {
            scene,
            rests,
            hang,
            motion,
            course,
            points,
            finer,
            steps_done: 0,
            work_done: 0.0,
            work_all: 0.0,
            at_rest: false,
            finished: false,
        };
        drape.work_all = drape.finer.iter().chain([&drape.points]).map(|&points| drape.work(points)).sum();
        Ok(drape)
    }

    /// Goes on for some hundredths of a second.
    pub fn advance(&mut self) -> Progress {
        let mut piece = PIECE;
        while !self.finished && piece > 0 {
            self.motion.step();
            self.steps_done += 1;
            piece = piece.saturating_sub(self.motion.at.len());
            let all = self.steps_of(self.points);
            self.motion.pace = self.course.at(self.steps_done as f64 / all as f64);
            if self.steps_done >= all {
                self.next();
            }
        }
        self.progress()
    }

    /// How far it has come.
    #[must_use]
    pub fn progress(&self) -> Progress {
        let all = self.steps_of(self.points);
        let part = if self.finished { 0.0 } else { self.work(self.points) * self.steps_done as f64 / all as f64 };
        Progress { done: ((self.work_done + part) / self.work_all).min(1.0), finished: self.finished }
    }

    /// Steps for a cloth.
    fn steps_of(&self, points: usize) -> usize {
        let bounds = self.scene.outline.bounds();
        let step = (bounds.area() / points as f64).sqrt();
        let falls = FALLS.0 * (FALLS.1 / points as f64).sqrt();
        (Course::new(step, self.hang, false).steps_of_a_fall * falls).ceil() as usize
    }

    fn work(&self, points: usize) -> f64 {
        self.steps_of(points) as f64 * points as f64
    }

    /// Passes to the next finer cloth, or ends.
    fn next(&mut self) {
        self.work_done += self.work(self.points);
        let Some(points) = self.finer.pop() else {
            self.at_rest = self.speed() < REST;
            self.finished = true;
            return;
        };
        let mesh = Mesh::new(&self.scene.outline, points);
        let at = refined(&self.motion.mesh, &self.motion.at, &mesh);
        self.course = Course::new(mesh.step[0].min(mesh.step[1]), self.hang, true);
        self.motion = Motion::new(mesh, at, Vec::new(), self.rests.clone(), self.scene.hand, self.course.at(0.0));
        self.motion.attend(&busy_places(&self.scene.bed));
        (self.points, self.steps_done) = (points, 0);
    }

    /// How far the points move in the time of a free fall, the root of the mean square, as a share of that fall.
    #[must_use]
    pub fn speed(&self) -> f64 {
        self.motion.moved() * self.course.steps_of_a_fall / self.hang
    }

    /// Whether the cloth has come to rest. A cloth that has run out of time, moving yet, has not.
    #[must_use]
    pub fn settled(&self) -> bool {
        self.at_rest
    }

    /// Where every point is: the middle of the cloth's thickness.
    #[must_use]
    pub fn points(&self) -> &[[f64; 3]] {
        &self.motion.at
    }

    /// Where every point was on the cloth laid flat.
    #[must_use]
    pub fn flat(&self) -> &[[f64; 2]] {
        &self.motion.mesh.flat
    }

    /// Cells, each as four points anticlockwise; a triangle names its last point twice.
    #[must_use]
    pub fn cells(&self) -> &[[u32; 4]] {
        &self.motion.mesh.cells
    }

    /// Height above the floor of the lowest point.
    #[must_use]
    pub fn lowest(&self) -> f64 {
        self.motion.at.iter().map(|at| at[2]).fold(f64::INFINITY, f64::min)
    }

    /// By how much the most stretched thread is longer than it was, as a share.
    #[must_use]
    pub fn stretch(&self) -> f64 {
        self.motion.stretch()
    }

    /// The corners of the mattress over which cloth hangs both ways, foot first, left first.
    #[must_use]
    pub fn corners(&self) -> Vec<Corner> {
        let (x, y) = (self.scene.bed.width / 2.0, self.scene.bed.length / 2.0);
        [[-1.0, -1.0], [1.0, -1.0], [-1.0, 1.0], [1.0, 1.0]]
            .iter()
            .filter_map(|&[a, b]| self.corner([a * x, b * y], [a, b]))
            .collect()
    }

    fn corner(&self, mattress: [f64; 2], way: [f64; 2]) -> Option<Corner> {
        let mut corner = Corner { mattress, reach: 0.0, height: f64::INFINITY, straight: 0.0 };
        for (flat, at) in self.flat().iter().zip(self.points()) {
            let beyond = [0, 1].map(|axis| (flat[axis] - mattress[axis]) * way[axis]);
            if beyond[0] > 0.0 && beyond[1] > 0.0 {
                corner.reach = corner.reach.max((beyond[0] * beyond[0] + beyond[1] * beyond[1]).sqrt());
                corner.height = corner.height.min(at[2]);
            }
        }
        corner.straight = (self.scene.bed.height - corner.reach).max(0.0);
        (corner.reach > 0.0).then_some(corner)
    }

    /// Length of the hem that lies on the floor.
    #[must_use]
    pub fn hem_on_floor(&self) -> f64 {
        let mut sides: BTreeMap<(u32, u32), usize> = BTreeMap::new();
        for cell in self.cells() {
            for k in (0..4).filter(|&k| cell[k] != cell[(k + 1) % 4]) {
                let (a, b) = (cell[k], cell[(k + 1) % 4]);
                *sides.entry((a.min(b), a.max(b))).or_default() += 1;
            }
        }
        let on_floor = self.scene.hand.thickness / 2.0 * 1.001;
        let low = |point: u32| self.points()[point as usize][2] <= on_floor;
        let far = |a: u32, b: u32| {
            let (a, b) = (self.flat()[a as usize], self.flat()[b as usize]);
            ((b[0] - a[0]) * (b[0] - a[0]) + (b[1] - a[1]) * (b[1] - a[1])).sqrt()
        };
        sides.iter().filter(|&(&(a, b), &count)| count == 1 && low(a) && low(b)).map(|(&(a, b), _)| far(a, b)).sum()
    }
}

/// Where threads carry most: a whole flap hangs from each corner of the mattress.
fn busy_places(bed: &Bed) -> [[f64; 2]; 4] {
    let (x, y) = (bed.width / 2.0, bed.length / 2.0);
    [[-x, -y], [x, -y], [-x, y], [x, y]]
}

/// How far the cloth can hang: the farthest of it from the mattress, no farther than a little more than the floor, and not too little for
/// a pace to be taken from it.
fn hang(scene: &Scene, mesh: &Mesh) -> f64 {
    let (x, y) = (scene.bed.width / 2.0, scene.bed.length / 2.0);
    let beyond = |flat: &[f64; 2]| {
        let (a, b) = ((flat[0].abs() - x).max(0.0), (flat[1].abs() - y).max(0.0));
        (a * a + b * b).sqrt()
    };
    let far = mesh.flat.iter().map(beyond).fold(0.0, f64::max);
    far.min(1.5 * scene.bed.height).max(4.0 * mesh.step[0].max(mesh.step[1]))
}
