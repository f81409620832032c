//! The real edge of the top: its corners at the foot, changed so that they do not drag.
//!
//! In: the top as it is laid, the bed, and the shape that is wished. Out: the outline of the top with lines and arcs, and for each corner what is
//! cut off it: along which course, out of which places and strips, and which of them are cut off whole. The course is that of
//! [`fit`](crate::fit), brought to both corners. All of it is sewn whole and trimmed after the last join.

mod say;
#[cfg(test)]
mod tests;

use super::Top;
use crate::answer::Ruler;
use crate::fit::{Drops, corner_edge};
use seamfall_geom::{Edge, Face, Loop, Point, Pose, Rect, TOLERANCE, Vec2, arrange};
use seamfall_model::{CornerShape, Finding, Length, Quilt, Spot};
use tr::tr;

/// A corner at the foot that is not square.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangedCorner {
    /// Whether it is the right one as the top lies.
    pub is_right: bool,
    /// Its shape.
    pub shape: CornerShape,
    /// The new edge, in the direction of the outline. Finished: it is cut an allowance outside, as every edge of the quilt.
    pub edge: Vec<Edge>,
    /// What is cut off, finished, anticlockwise.
    pub away: Loop,
    /// The corner of the mattress, where there is a bed.
    pub mattress: Option<Point>,
    /// Places, by number, of which something is cut off.
    pub places: Vec<CutInto>,
    /// Strips, by number, of which something is cut off.
    pub strips: Vec<CutInto>,
}

/// What is cut off one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutInto {
    /// Its number.
    pub number: usize,
    /// Area cut off.
    pub away: f64,
    /// Whether nothing of it is left.
    pub whole: bool,
}

impl ChangedCorner {
    /// `lower left` or `lower right`.
    #[must_use]
    pub fn name(&self) -> String {
        if self.is_right { tr!("lower right") } else { tr!("lower left") }
    }

    /// Radius of the finished edge, where it is an arc.
    #[must_use]
    pub fn radius(&self) -> Option<f64> {
        self.edge.iter().find_map(Edge::radius)
    }
}

/// How the corners of a top are changed: seen from the corner of the mattress, outward at the side first, outward at the foot second.
struct Course {
    /// The new edge, from the hem at the side to the hem at the foot.
    edges: Vec<Edge>,
    /// Where the corner of the quilt lies: how far it reaches beyond the mattress at the side and at the foot.
    corner: Vec2,
    /// Whether it is seen from a mattress in earnest.
    has_bed: bool,
}

/// Changes the corners of `top` as `quilt` wishes.
pub(super) fn change(quilt: &Quilt, top: &mut Top, findings: &mut Vec<Finding>) {
    if quilt.corners == CornerShape::Square || top.size.x <= 0.0 || top.size.y <= 0.0 {
        return;
    }
    match course(quilt, top) {
        Ok(course) => {
            lay(top, quilt.corners, &course);
            findings.extend(say::findings(quilt, top));
        }
        Err(finding) => findings.push(finding),
    }
}

/// The new edge of a corner; or why there is none.
fn course(quilt: &Quilt, top: &Top) -> Result<Course, Finding> {
    let overhang = quilt.bed.map(|bed| {
        let across = (top.size.x - bed.width.value()) / 2.0;
        Vec2::new(across, top.size.y - bed.tuck.value() - bed.length.value())
    });
    if quilt.corners == CornerShape::SetBack {
        return set_back(top, overhang);
    }
    let Some(corner) = overhang else {
        let reason = tr!(
            "a corner that is `{word}` is drawn from the corner of the mattress, and there is no bed",
            word = quilt.corners.word()
        );
        let help = tr!("write the bed under `[bed]`, or take `square` or `set-back`");
        return Err(Finding::stop(Spot::FootCorners, reason).help(help));
    };
    for (over, what) in [(corner.x, tr!("the sides")), (corner.y, tr!("the foot"))] {
        if over <= TOLERANCE {
            let reason =
                tr!("the quilt does not reach beyond the mattress at {what}, so that nothing hangs at its corners", what);
            return Err(Finding::warn(Spot::FootCorners, reason).help(tr!("make the quilt larger, or leave the corners square")));
        }
    }
    let drops = Drops { side: Length::new(corner.x), foot: Length::new(corner.y) };
    let ruler = Ruler::of(quilt);
    let edges = corner_edge(quilt.corners, drops, Length::ZERO, ruler)
        .map_err(|trouble| Finding::stop(Spot::FootCorners, trouble.reason).help(trouble.nearest))?;
    Ok(Course { edges: off_the_hem(edges, corner), corner, has_bed: true })
}

/// An edge without what runs along the hem at the side at its start, and along the hem at the foot at its end.
fn off_the_hem(edges: Vec<Edge>, corner: Vec2) -> Vec<Edge> {
    let near = |a: f64, b: f64| (a - b).abs() <= TOLERANCE;
    let at_side = |edge: &Edge| near(edge.from().x, corner.x) && near(edge.to().x, corner.x);
    let at_foot = |edge: &Edge| near(edge.from().y, corner.y) && near(edge.to().y, corner.y);
    let first = edges.iter().position(|edge| !at_side(edge)).unwrap_or(edges.len());
    let last = edges.iter().rposition(|edge| !at_foot(edge)).map_or(first, |last| last + 1);
    edges.get(first..last).unwrap_or_default().to_vec()
}

/// The cut along the diagonal of the block in the corner, drawn out to the edges of the top; on point along that of the corner triangle's
/// neighbour, half a block in from the corner.
fn set_back(top: &Top, overhang: Option<Vec2>) -> Result<Course, Finding> {
    let nothing = || {
        let reason = tr!("there is no block in the corner that could be cut");
        Finding::stop(Spot::FootCorners, reason).help(tr!("set blocks down to the foot, or leave the corners square"))
    };
    let lowest = top.places.iter().map(|place| place.row).max().ok_or_else(nothing)?;
    let place = top.places.iter().find(|place| place.row == lowest).ok_or_else(nothing)?;
    let block = place.outline.bounds();
    // Through the upper left and the lower right corner of the block, out to the sides of the top.
    let (slope, way) = (block.height() / block.width(), Vec2::new(block.x0, block.y1));
    let up = way.y + way.x * slope;
    let along = up / slope;
    if 2.0 * along > top.size.x + TOLERANCE || up > top.size.y + TOLERANCE {
        let reason = tr!("set back along the diagonal of the block, both corners together take more than the whole foot");
        return Err(Finding::warn(Spot::FootCorners, reason).help(tr!("make the quilt larger, or leave the corners square")));
    }
    let corner = overhang.unwrap_or(Vec2::new(along, up));
    let edges = vec![Edge::Line { from: Point::new(corner.x, corner.y - up), to: Point::new(corner.x - along, corner.y) }];
    if let Some(over) = overhang {
        // Where the mattress's corner lies beyond the cut it would be bare.
        let bare = corner.x / along + corner.y / up < 1.0 - TOLERANCE;
        if bare || over.x <= 0.0 || over.y <= 0.0 {
            let reason = tr!("set back along the diagonal of the block, the cloth leaves the corner of the mattress bare");
            return Err(Finding::warn(Spot::FootCorners, reason).help(tr!("make the quilt larger, or leave the corners square")));
        }
    }
    Ok(Course { edges, corner, has_bed: overhang.is_some() })
}

/// Brings the new edge to both corners and cuts into what lies there.
fn lay(top: &mut Top, shape: CornerShape, course: &Course) {
    let left = Pose::turn_deg(180.0).then(Pose::shift(course.corner));
    // Mirrored at the middle of the top.
    let right = left.then(Pose::mirror()).then(Pose::shift(Vec2::new(top.size.x, 0.0)));
    for (is_right, pose) in [(false, left), (true, right)] {
        let mut edge: Vec<Edge> = course.edges.iter().map(|edge| edge.moved(pose)).collect();
        if is_right {
            edge.reverse();
            edge.iter_mut().for_each(|edge| *edge = edge.reversed());
        }
        let away = cut_off(&edge, pose.apply(course.corner.to_point()));
        let places = cut_into(top.places.iter().map(|place| &place.outline), &edge, &away);
        let strips = cut_into(top.strips.iter().map(|strip| &strip.outline), &edge, &away);
        let mattress = course.has_bed.then(|| pose.apply(Point::ORIGIN));
        top.corners.push(ChangedCorner { is_right, shape, edge, away, mattress, places, strips });
    }
    top.outline = outline(top);
    let cuts: Vec<(Vec<Edge>, Loop)> = top.corners.iter().map(|corner| (corner.edge.clone(), corner.away.clone())).collect();
    for section in &mut top.sections {
        section.kept = kept(&section.outline, &cuts);
    }
}

/// What a new edge cuts off: back from its end to the corner of the quilt, and to its start.
fn cut_off(edge: &[Edge], corner: Point) -> Loop {
    let (Some(first), Some(last)) = (edge.first(), edge.last()) else { return Loop::polygon(&[]) };
    let round = edge.iter().rev().map(Edge::reversed);
    let line = |from, to| Edge::Line { from, to };
    Loop::new([line(first.from(), corner), line(corner, last.to())].into_iter().chain(round).collect())
}

/// The outline of a top with its corners, from the foot on, anticlockwise.
fn outline(top: &Top) -> Loop {
    let [left, right] = &top.corners[..] else { return Loop::rect(Rect::new(0.0, 0.0, top.size.x, top.size.y)) };
    let upper = [Point::new(top.size.x, top.size.y), Point::new(0.0, top.size.y)];
    let (mut edges, mut at) = (left.edge.clone(), left.edge.last().map_or(Point::ORIGIN, Edge::to));
    let mut go = |edges: &mut Vec<Edge>, to: Point| {
        // Where the foot is no longer than both corners take, they meet.
        if (to - at).hypot2() > TOLERANCE * TOLERANCE {
            edges.push(Edge::Line { from: at, to });
        }
        at = to;
    };
    if let (Some(first), Some(last)) = (right.edge.first(), right.edge.last()) {
        go(&mut edges, first.from());
        edges.extend(&right.edge);
        go(&mut Vec::new(), last.to());
    }
    upper.into_iter().for_each(|corner| go(&mut edges, corner));
    if let Some(first) = left.edge.first() {
        go(&mut edges, first.from());
    }
    Loop::new(edges)
}

/// The pieces of which something lies in `away`, whose inner border is `edge`.
fn cut_into<'a>(outlines: impl Iterator<Item = &'a Loop>, edge: &[Edge], away: &Loop) -> Vec<CutInto> {
    let near = away.bounds();
    let cut = |(number, outline): (usize, &Loop)| {
        if !near.overlaps(outline.bounds()) {
            return None;
        }
        let faces = arrange(outline, edge).faces;
        let lost = faces.iter().filter(|face| away.contains(face.outline.label_point())).map(Face::area).sum::<f64>();
        let whole = outline.area();
        // A thread's width along a side is not cut into.
        let least = TOLERANCE * outline.perimeter();
        (lost > least).then_some(CutInto { number, away: lost, whole: whole - lost <= least })
    };
    outlines.enumerate().filter_map(cut).collect()
}

/// What is left of a section, part by part; nothing said where all of it is.
fn kept(section: &Loop, cuts: &[(Vec<Edge>, Loop)]) -> Option<Vec<Loop>> {
    if !cuts.iter().any(|(_, away)| away.bounds().overlaps(section.bounds())) {
        return None;
    }
    let edges: Vec<Edge> = cuts.iter().flat_map(|(edge, _)| edge.iter().copied()).collect();
    let faces = arrange(section, &edges).faces;
    let is_away = |face: &Face| cuts.iter().any(|(_, away)| away.contains(face.outline.label_point()));
    if !faces.iter().any(is_away) {
        return None;
    }
    Some(faces.into_iter().filter(|face| !is_away(face)).map(|face| face.outline).collect())
}
