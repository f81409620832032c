//! What is done to a drawing: seams drawn, moved and taken away, each also wherever the chosen lines and turns take it; shape, size and grid.
//!
//! In: a drawing, the block it is, and one [`DrawAct`]. Out: the drawing after it, not checked yet. Cloths are not touched: which patch keeps
//! which is told by the plan.

use super::repeat::{self, Map, Repeat};
use super::{Drawing, DrawnSeam, rounded};
use crate::edit::{EditError, would_break};
use crate::{Arc, Block, GridPoint, Seam, Shape};
use seamfall_geom::{Point, TOLERANCE};
use serde::{Deserialize, Serialize};
use tr::tr;

/// Something that is done to a drawing. Points are those of the file; seams count from 1; `repeat` names lines and turns of [`Repeat`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(tag = "do", rename_all = "kebab-case", deny_unknown_fields)]
#[expect(missing_docs, reason = "the sentence of each says what its fields are")]
pub enum DrawAct {
    /// Draws a straight seam.
    Line {
        from: [f64; 2],
        to: [f64; 2],
        #[serde(default)]
        repeat: Vec<String>,
    },
    /// Draws an arc between two points through a third one.
    Arc {
        from: [f64; 2],
        to: [f64; 2],
        through: [f64; 2],
        #[serde(default)]
        repeat: Vec<String>,
    },
    /// Takes a seam away.
    Remove {
        seam: usize,
        #[serde(default)]
        repeat: Vec<String>,
    },
    /// Moves one point of a seam, from 0; of an arc 0 and 1 are its ends, whose bulge keeps its share, and 2 is a point it goes through.
    MovePoint { seam: usize, point: usize, to: [f64; 2] },
    /// Moves a whole seam.
    Move { seam: usize, by: [f64; 2] },
    /// Takes every seam away.
    Clear,
    /// Gives the block another shape; seams stay at their points.
    Shape { shape: String },
    /// Gives it another size, as it is typed; seams grow with it.
    Size { size: String },
    /// Gives a diamond another sharp angle, in degrees.
    Angle { angle: f64 },
    /// Divides the grid otherwise; seams stay where they are.
    Grid { grid: [u32; 2] },
}

impl Drawing {
    /// The drawing once `act` is done; `block` is what it draws.
    ///
    /// # Errors
    /// [`EditError`] where the act names what is not there or draws nothing.
    pub fn after(&self, block: &Block, act: &DrawAct) -> Result<Self, EditError> {
        let mut after = self.clone();
        match act {
            DrawAct::Line { from, to, repeat } => {
                let seam = Seam::Line(vec![point(*from), point(*to)]);
                after.add(block, &seam, repeat)?;
            }
            DrawAct::Arc { from, to, through, repeat } => {
                let seam = Seam::Arc(arc(block, point(*from), point(*to), bare(*through))?);
                after.add(block, &seam, repeat)?;
            }
            DrawAct::Remove { seam, repeat } => {
                let gone = images(block, drawn(block, *seam)?, repeat)?;
                let stays = |seam: &Seam| !gone.iter().any(|gone| is_same(block, gone, seam));
                let stay: Vec<bool> = block.seams.iter().map(stays).collect();
                let mut each = stay.iter();
                after.seams.retain(|_| *each.next().unwrap_or(&true));
            }
            DrawAct::MovePoint { seam, point: held, to } => {
                after.seams[*seam - 1] = DrawnSeam::of(&point_moved(block, drawn(block, *seam)?, *held, *to)?);
            }
            DrawAct::Move { seam, by: [along, up] } => {
                let moved = |p: GridPoint| rounded(GridPoint { u: p.u + along, v: p.v + up });
                let seam_moved = each_point(drawn(block, *seam)?, moved);
                after.seams[*seam - 1] = DrawnSeam::of(&seam_moved);
            }
            DrawAct::Clear => after.seams.clear(),
            DrawAct::Shape { shape } => after.reshape(block, shape),
            DrawAct::Size { size } => after.size.clone_from(size),
            DrawAct::Angle { angle } => after.angle = Some(*angle),
            DrawAct::Grid { grid } => after.grid = Some(*grid),
        }
        Ok(after)
    }

    /// Brings seams, points of patches and shapes laid over from the grid, or the size, of `before` to that of `block`, which is what is
    /// drawn with the numbers as they are, so that all stays at the same shares of its sides.
    #[must_use]
    pub fn follow(mut self, before: &Block, block: &Block) -> Self {
        let moved = |p: GridPoint| repeat::shares(before, block, p);
        let seams = |seams: &[Seam]| seams.iter().map(|seam| DrawnSeam::of(&each_point(seam, moved))).collect();
        self.seams = seams(&block.seams);
        for part in &mut self.parts {
            part.points.iter_mut().for_each(|at| {
                let GridPoint { u, v } = moved(point(*at));
                *at = [u, v];
            });
        }
        for (over, drawn) in block.overlays.iter().zip(&mut self.overlay) {
            drawn.outline = seams(&over.outline);
        }
        self
    }

    /// Draws a seam and its images, where they are not drawn yet.
    fn add(&mut self, block: &Block, seam: &Seam, repeat: &[String]) -> Result<(), EditError> {
        let mut there = block.seams.clone();
        for image in images(block, seam, repeat)? {
            if !there.iter().any(|seam| is_same(block, seam, &image)) {
                self.seams.push(DrawnSeam::of(&image));
                there.push(image);
            }
        }
        if there.len() == block.seams.len() {
            return Err(would_break(tr!("this seam is there already"), &tr!("draw it elsewhere")));
        }
        Ok(())
    }

    fn reshape(&mut self, block: &Block, shape: &str) {
        let side = self.size.split(['x', '×', 'X']).next().unwrap_or_default().trim().to_owned();
        shape.clone_into(&mut self.shape);
        self.size = if shape == "rectangle" { format!("{side} x {side}") } else { side };
        self.angle = (shape == "diamond").then_some(match block.shape {
            Shape::Diamond { angle_deg, .. } => angle_deg,
            _ => 60.0,
        });
        self.grid = self.grid.map(|[n, m]| if matches!(shape, "triangle" | "hexagon") { [n, n] } else { [n, m] });
    }
}

fn point([u, v]: [f64; 2]) -> GridPoint {
    rounded(GridPoint { u, v })
}

/// A point that is not written down, only gone through.
fn bare([u, v]: [f64; 2]) -> GridPoint {
    GridPoint { u, v }
}

fn drawn(block: &Block, seam: usize) -> Result<&Seam, EditError> {
    let there = seam.checked_sub(1).and_then(|number| block.seams.get(number));
    there.ok_or_else(|| EditError::NoSuch(tr!("there is no seam {seam}; the block has {seams}", seam, seams = block.seams.len())))
}

/// A seam and where the lines and turns of these words take it.
fn images(block: &Block, seam: &Seam, repeat: &[String]) -> Result<Vec<Seam>, EditError> {
    let keys: Vec<&str> = repeat.iter().map(String::as_str).collect();
    if let Some(unknown) = keys.iter().find(|key| Repeat::find(block.shape, key).is_none()) {
        let known: Vec<&str> = Repeat::of(block.shape).iter().map(|each| each.key).collect();
        return Err(EditError::NoSuch(tr!(
            "this shape cannot be repeated by `{unknown}`; it can by {known}",
            unknown,
            known = known.join(", ")
        )));
    }
    Ok(repeat::all(block.shape, &keys).iter().map(|map| image(block, map, seam)).collect())
}

/// Where the lines and turns of these words take a point, itself first.
///
/// # Errors
/// [`EditError::NoSuch`] where the shape of the block has no such line or turn.
pub fn point_images(block: &Block, at: GridPoint, repeat: &[String]) -> Result<Vec<GridPoint>, EditError> {
    let line = Seam::Line(vec![at]);
    let first = |seam: Seam| if let Seam::Line(points) = seam { points[0] } else { at };
    Ok(images(block, &line, repeat)?.into_iter().map(first).collect())
}

fn image(block: &Block, map: &Map, seam: &Seam) -> Seam {
    let moved = each_point(seam, |p| rounded(repeat::image(block, map, p)));
    match moved {
        // Seen in a mirror an arc runs the other way round.
        Seam::Arc(arc) if repeat::mirrors(map) => Seam::Arc(Arc { from: arc.to, to: arc.from, ..arc }),
        other => other,
    }
}

fn each_point(seam: &Seam, moved: impl Fn(GridPoint) -> GridPoint) -> Seam {
    match seam {
        Seam::Line(points) => Seam::Line(points.iter().map(|point| moved(*point)).collect()),
        Seam::Arc(arc) => Seam::Arc(Arc { from: moved(arc.from), to: moved(arc.to), centre: moved(arc.centre), ..*arc }),
    }
}

/// Whether two seams are one, either way along.
fn is_same(block: &Block, one: &Seam, other: &Seam) -> bool {
    let near = |a: GridPoint, b: GridPoint| (block.to_plane(a) - block.to_plane(b)).length() <= TOLERANCE;
    match (one, other) {
        (Seam::Line(one), Seam::Line(other)) => {
            let along = || one.iter().zip(other).all(|(a, b)| near(*a, *b));
            one.len() == other.len() && (along() || one.iter().zip(other.iter().rev()).all(|(a, b)| near(*a, *b)))
        }
        (Seam::Arc(one), Seam::Arc(other)) => {
            let along = near(one.from, other.from) && near(one.to, other.to);
            let back = near(one.from, other.to) && near(one.to, other.from);
            // Half a circle there and back are the two halves.
            let way =
                if is_half(block, one) { along == (one.long_way == other.long_way) } else { one.long_way == other.long_way };
            (along || back) && near(one.centre, other.centre) && way
        }
        _ => false,
    }
}

/// Whether an arc is half a circle, as the plan sees it.
fn is_half(block: &Block, arc: &Arc) -> bool {
    let (from, to, centre) = (block.to_plane(arc.from), block.to_plane(arc.to), block.to_plane(arc.centre));
    (from - centre).cross(to - centre).abs() <= TOLERANCE * (from - to).length()
}

/// The arc from `from` to `to` through a third point.
pub(super) fn arc(block: &Block, from: GridPoint, to: GridPoint, through: GridPoint) -> Result<Arc, EditError> {
    let (a, b, p) = (block.to_plane(from), block.to_plane(to), block.to_plane(through));
    let (chord, aside) = (b - a, p - a);
    let cross = chord.cross(aside);
    if cross.abs() <= TOLERANCE * (chord.length() + aside.length()).max(1.0) {
        let reason = tr!("the third point lies on the line of the two ends, so it makes no arc");
        return Err(would_break(reason, &tr!("move it aside, or draw a straight seam")));
    }
    // Circumcentre, from `a`: plane geometry.
    let square = (chord.hypot2(), aside.hypot2());
    let x = (square.0 * aside.y - square.1 * chord.y) / (2.0 * cross);
    let y = (square.1 * chord.x - square.0 * aside.x) / (2.0 * cross);
    let centre = on_the_grid(rounded(block.to_grid(Point::new(a.x + x, a.y + y))));
    let arc = Arc { from, to, centre, long_way: false };
    if is_half(block, &arc) {
        // Anticlockwise from end to end it lies to the right of the line between them.
        return Ok(if cross < 0.0 { arc } else { Arc { from: to, to: from, ..arc } });
    }
    let middle = block.to_plane(centre) - a;
    Ok(Arc { long_way: (chord.cross(middle) > 0.0) == (cross > 0.0), ..arc })
}

/// A centre that misses a point of the grid by no more than was lost in the reckoning lies on it.
fn on_the_grid(centre: GridPoint) -> GridPoint {
    let near = |value: f64| if (value - value.round()).abs() < 1e-7 { value.round() + 0.0 } else { value };
    GridPoint { u: near(centre.u), v: near(centre.v) }
}

/// A seam with one of its points elsewhere.
fn point_moved(block: &Block, seam: &Seam, held: usize, to: [f64; 2]) -> Result<Seam, EditError> {
    let no_point = || EditError::NoSuch(tr!("this seam has no point {held}", held = held + 1));
    match seam {
        Seam::Line(points) => {
            let mut points = points.clone();
            *points.get_mut(held).ok_or_else(no_point)? = point(to);
            Ok(Seam::Line(points))
        }
        Seam::Arc(one) => {
            let top = block.to_grid(apex(block, one));
            match held {
                0 | 1 => {
                    let (from, end) = if held == 0 { (point(to), one.to) } else { (one.from, point(to)) };
                    let (a, b) = (block.to_plane(one.from), block.to_plane(one.to));
                    // The highest point as seen from the chord stays so.
                    let chord = b - a;
                    let aside = block.to_plane(top) - a;
                    let (along, up) = (aside.dot(chord) / chord.hypot2(), chord.cross(aside) / chord.hypot2());
                    let (a, b) = (block.to_plane(from), block.to_plane(end));
                    let chord = b - a;
                    let across = seamfall_geom::Vec2::new(-chord.y, chord.x);
                    Ok(Seam::Arc(arc(block, from, end, block.to_grid(a + chord * along + across * up))?))
                }
                2 => Ok(Seam::Arc(arc(block, one.from, one.to, bare(to))?)),
                _ => Err(no_point()),
            }
        }
    }
}

/// The point of an arc farthest from the line between its ends.
pub(super) fn apex(block: &Block, arc: &Arc) -> Point {
    let (from, to, centre) = (block.to_plane(arc.from), block.to_plane(arc.to), block.to_plane(arc.centre));
    let radius = (from - centre).length();
    let chord = to - from;
    let right = seamfall_geom::Vec2::new(chord.y, -chord.x) / chord.length();
    // The shorter way bulges away from the centre; half a circle, anticlockwise, to the right.
    let away = if is_half(block, arc) || (from - centre).cross(to - centre) > 0.0 { right } else { -right };
    centre + if arc.long_way { -away * radius } else { away * radius }
}
