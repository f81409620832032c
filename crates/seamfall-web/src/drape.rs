//! The quilt laid over its bed, and the cloths that are being draped.
//!
//! In: a quilt with a bed, and its top. Out: the scene for the simulation, and frames of it while it settles: one for each time the page asks,
//! so that nothing is worked out for a page that has gone away.

use seamfall_drape::{Bed, Drape, Hand, Post, Scene};
use seamfall_geom::{Edge, Loop, Point, TOLERANCE, Vec2};
use seamfall_model::{Measure, Quilt};
use seamfall_plan::Plan;
use seamfall_store::QuiltId;
use serde::Serialize;
use std::collections::VecDeque;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Points that the workroom follows: enough for a fold to be round, in about a second.
const POINTS: usize = 10_000;
/// For how long the cloth is followed before a frame is shown.
const FRAME: Duration = Duration::from_millis(60);
/// Cloths that are being draped at one time: one for each of a few windows. One left behind makes room for the next.
const AT_ONCE: usize = 3;
/// Places are sent as whole numbers of so many to a unit.
const FINE: f64 = 200.0;

/// Units of the document in a metre.
fn metre(quilt: &Quilt) -> f64 {
    if quilt.measure == Measure::Inch { 1.0 / 0.0254 } else { 100.0 }
}

/// How a top lies on its bed.
#[derive(Clone, Copy)]
struct Laid {
    /// Where its lower left corner lies.
    at: Vec2,
    /// What quilting and the wash leave of a length.
    remains: f64,
}

impl Laid {
    /// Centred from side to side, the upper edge as far beyond the head as is to be tucked in at the pillows. As large as it can be, with
    /// the least that quilting and the wash take off: so the fit stage judges its corners.
    fn of(quilt: &Quilt, plan: &Plan) -> Option<Self> {
        let (bed, hang, size) = (quilt.bed.as_ref()?, plan.fit.as_ref()?.hang.as_ref()?, plan.top.size);
        let remains = (bed.width.value() + 2.0 * hang.side[1].value) / size.x;
        let at = Vec2::new(-size.x / 2.0 * remains, bed.length.value() / 2.0 + bed.tuck.value() - size.y * remains);
        Some(Self { at, remains })
    }

    fn point(self, of_top: Point) -> Point {
        Point::ORIGIN + self.at + of_top.to_vec2() * self.remains
    }

    /// The point of the top that lies here.
    fn of_top(self, [x, y]: [f64; 2]) -> Vec2 {
        (Vec2::new(x, y) - self.at) / self.remains
    }

    /// The outline as it lies, without what is folded away beyond `head`, where it is a rectangle; nothing if that is all.
    fn outline(self, outline: &Loop, head: f64) -> Option<Loop> {
        let line = |point: Point| {
            let laid = self.point(point);
            Point::new(laid.x, laid.y.min(head))
        };
        let edges = outline.edges().iter().map(|edge| match *edge {
            Edge::Line { from, to } => Edge::Line { from: line(from), to: line(to) },
            Edge::Arc { from, to, centre, turn } => {
                Edge::Arc { from: self.point(from), to: self.point(to), centre: self.point(centre), turn }
            }
        });
        let edges: Vec<Edge> = edges.filter(|edge| edge.length() > TOLERANCE).collect();
        let closes = (0..edges.len()).all(|i| edges[i].to().distance(edges[(i + 1) % edges.len()].from()) < 10.0 * TOLERANCE);
        (closes && edges.len() > 2).then(|| Loop::new(edges))
    }
}

/// The scene of a quilt on its bed; nothing where it has none, or where all its cloth is tucked in.
///
/// Edges of the mattress are rounded by 2.5 cm, common practice of mattresses. Posts are 8 cm thick, outside of the foot corners.
pub fn scene(quilt: &Quilt, plan: &Plan) -> Option<Scene> {
    let bed = quilt.bed.as_ref()?;
    let (width, length, height) = (bed.width.value(), bed.length.value(), bed.height.value());
    let metre = metre(quilt);
    let outline = Laid::of(quilt, plan)?.outline(&plan.top.outline, length / 2.0)?;
    let post = |hand: f64| {
        let thick = 0.08 * metre;
        let at = [hand * (width + thick) / 2.0, -(length + thick) / 2.0];
        Post { at, thickness: thick, round: false, height: height + 0.4 * metre }
    };
    let posts = if bed.posts { vec![post(-1.0), post(1.0)] } else { Vec::new() };
    let edge = (0.025 * metre).min(width.min(length).min(height) / 2.0);
    Some(Scene { bed: Bed { width, length, height, edge, posts }, outline, hand: Hand::quilt(metre), points: POINTS })
}

/// A moment of the draping, as the page draws it.
#[derive(Serialize, schemars::JsonSchema)]
pub struct Frame {
    run: u64,
    done: f64,
    finished: bool,
    /// The mesh, where it is another than the page has.
    #[serde(skip_serializing_if = "Option::is_none")]
    mesh: Option<Mesh>,
    /// x, y and z of every point.
    at: Vec<i32>,
    /// What is said of it in the end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub html: Option<String>,
}

impl Frame {
    /// Whether no other follows.
    pub fn is_last(&self) -> bool {
        self.finished
    }
}

/// What is the same for many frames.
#[derive(Serialize, schemars::JsonSchema)]
struct Mesh {
    fine: f64,
    /// Where on the drawing of the top each point lies, of ten thousand parts from the left and from above.
    flat: Vec<i32>,
    cells: Vec<u32>,
    bed: Furniture,
}

/// What stands there besides the cloth.
#[derive(Serialize, schemars::JsonSchema)]
struct Furniture {
    width: f64,
    length: f64,
    height: f64,
    edge: f64,
    metre: f64,
    /// Middle, thickness and height of each.
    posts: Vec<[f64; 4]>,
}

/// A cloth that is being draped.
pub struct Run {
    number: u64,
    quilt: QuiltId,
    drape: Drape,
    bed: Bed,
    metre: f64,
    laid: Laid,
    /// Of the top.
    size: Vec2,
}

impl Run {
    /// Begins, if the quilt has a bed.
    pub fn new(number: u64, id: QuiltId, quilt: &Quilt, plan: &Plan) -> Option<Result<Self, seamfall_drape::SceneError>> {
        let scene = scene(quilt, plan)?;
        let (bed, laid) = (scene.bed.clone(), Laid::of(quilt, plan)?);
        let run = |drape| Self { number, quilt: id, drape, bed, metre: metre(quilt), laid, size: plan.top.size };
        Some(Drape::new(scene).map(run))
    }

    /// Goes on for a moment; the page knows the mesh of `has` points.
    pub fn frame(&mut self, has: usize) -> Frame {
        let start = Instant::now();
        let mut progress = self.drape.progress();
        // The first frame is the cloth as it is laid.
        while has > 0 && !progress.finished && start.elapsed() < FRAME {
            progress = self.drape.advance();
        }
        let whole = |number: f64| (number * FINE).round() as i32;
        let at = self.drape.points().iter().flatten().map(|&number| whole(number)).collect();
        let mesh = (self.drape.points().len() != has).then(|| self.mesh());
        Frame { run: self.number, done: progress.done, finished: progress.finished, mesh, at, html: None }
    }

    /// The cloth.
    pub fn drape(&self) -> &Drape {
        &self.drape
    }

    fn mesh(&self) -> Mesh {
        let parts = |share: f64| (share * 10_000.0).round() as i32;
        let flat = self.drape.flat().iter().flat_map(|&flat| {
            let at = self.laid.of_top(flat);
            [parts(at.x / self.size.x), parts(1.0 - at.y / self.size.y)]
        });
        let posts = self.bed.posts.iter().map(|post| [post.at[0], post.at[1], post.thickness, post.height]);
        let Bed { width, length, height, edge, .. } = self.bed;
        Mesh {
            fine: FINE,
            flat: flat.collect(),
            cells: self.drape.cells().iter().flatten().copied().collect(),
            bed: Furniture { width, length, height, edge, metre: self.metre, posts: posts.collect() },
        }
    }
}

/// The cloths that are being draped.
#[derive(Default)]
pub struct Runs(Mutex<(u64, VecDeque<Run>)>);

impl Runs {
    /// A number that no other has.
    pub fn number(&self) -> u64 {
        let mut runs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        runs.0 += 1;
        runs.0
    }

    /// Keeps one until it is asked for again.
    pub fn keep(&self, run: Run) {
        let mut runs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        runs.1.push_front(run);
        runs.1.truncate(AT_ONCE);
    }

    /// Takes out the one of this number.
    pub fn take(&self, number: u64, quilt: QuiltId) -> Option<Run> {
        let mut runs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = runs.1.iter().position(|run| run.number == number && run.quilt == quilt)?;
        runs.1.remove(at)
    }
}
