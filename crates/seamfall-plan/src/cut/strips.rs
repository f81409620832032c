//! Pieces of the top that are not part of a block: frames, sashing, triangles of the setting, bands.
//!
//! In: their finished outlines, which on point lie turned by 45 degrees, so that sizes are taken along their own edges. Out: what
//! is cut for each. In a cloth whose print has a direction an upright piece is measured as it hangs, across and up.

use super::list::{For, List, Size};
use super::rules::Table;
use super::{Material, Way};
use crate::set::{PieceKind, Side, Top, TopPiece};
use seamfall_geom::{Loop, Point, Pose, TOLERANCE, TipTrim, Vec2, grow};
use seamfall_model::{Cloth, Finding, Finished, Grain, Length, Print, Quilt, Spot};
use std::collections::BTreeSet;
use tr::tr;

/// Narrower strips than this, in inches, are hard to sew: their two allowances lie upon one another. Source: common practice.
const NARROW_IN: f64 = 0.5;

/// Adds the strips, squares and triangles of the top to `list`.
pub(super) fn add(list: &mut List, quilt: &Quilt, top: &Top, findings: &mut Vec<Finding>) {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    let mut narrow = BTreeSet::new();
    for piece in &top.strips {
        let Some((what, side)) = purpose(piece.kind, top) else { continue };
        let cloth = &quilt.cloths[piece.cloth.0];
        let size = size_of(&piece.outline, cloth, grain(piece.kind, quilt, cloth), table);
        let finished = f64::min(size.width.exact, size.length.exact) - 2.0 * quilt.allowance.0.value();
        if matches!(size.way, Way::Rectangle | Way::Mitred | Way::Joined { .. })
            && finished + TOLERANCE < NARROW_IN * quilt.measure.inch()
        {
            narrow.insert(spot(what, quilt));
        }
        list.add(Material::Cloth(piece.cloth), &size, what, side, 1);
    }
    findings.extend(narrow.into_iter().map(|spot| {
        Finding::warn(spot, tr!("a strip finishes narrower than 1/2 in and is hard to sew"))
            .help(tr!("make it at least 1/2 in wide, or sew it wider and trim it after sewing"))
    }));
}

/// What a piece is for, and its side where sides differ. Nothing for a frame of a place that has none, which cannot be.
fn purpose(kind: PieceKind, top: &Top) -> Option<(For, Option<Side>)> {
    Some(match kind {
        PieceKind::Frame { place, strip, side } => (For::Frame { frame: top.places[place].frame?, strip }, Some(side)),
        PieceKind::FrameSquare { place, .. } => (For::FrameSquare { frame: top.places[place].frame? }, None),
        PieceKind::SideTriangle => (For::SideTriangle, None),
        PieceKind::CornerTriangle => (For::CornerTriangle, None),
        PieceKind::Sash => (For::Sash, None),
        PieceKind::Cornerstone => (For::Cornerstone, None),
        PieceKind::Filler => (For::Filler, None),
        PieceKind::Band { band, side } => (For::Band { band }, Some(side)),
        PieceKind::BandSquare { band } => (For::BandSquare { band }, None),
    })
}

/// How the maker wants a strip to lie. In a print with a direction it lies as it hangs in the quilt.
fn grain(kind: PieceKind, quilt: &Quilt, cloth: &Cloth) -> Grain {
    match kind {
        _ if cloth.print != Print::None => Grain::Across,
        PieceKind::Sash => quilt.sashing.as_ref().map_or(Grain::Across, |sashing| sashing.grain),
        PieceKind::Band { band, .. } => quilt.bands[band].grain,
        _ => Grain::Across,
    }
}

/// Where what is up on the cloth points to on a piece of the top as it is cut, in degrees from the x axis.
///
/// A triangle of the setting stands as it hangs, and so does all that is upright in a print with a direction; other strips lie across the cloth,
/// or along it where that is asked for.
#[must_use]
pub fn up_deg(quilt: &Quilt, piece: &TopPiece) -> f64 {
    let corners = true_corners(&piece.outline);
    let cloth = &quilt.cloths[piece.cloth.0];
    let edges = (0..corners.len()).map(|i| corners[(i + 1) % corners.len()] - corners[i]);
    let Some(direction) = edges.max_by(|a, b| a.hypot2().total_cmp(&b.hypot2())).filter(|_| corners.len() == 4) else {
        return UPRIGHT;
    };
    let deg = direction.atan2().to_degrees();
    let along = deg.rem_euclid(180.0);
    match grain(piece.kind, quilt, cloth) {
        _ if cloth.print != Print::None && is_upright(direction) => UPRIGHT,
        Grain::Across if cloth.print == Print::None => {
            let across = along + 90.0;
            if across > 180.0 { across - 180.0 } else { across }
        }
        _ => along,
    }
}

const UPRIGHT: f64 = 90.0;

fn spot(what: For, quilt: &Quilt) -> Spot {
    match what {
        For::Frame { frame, .. } | For::FrameSquare { frame } => Spot::Frame(quilt.frames[frame.0].key.clone()),
        For::Band { band } | For::BandSquare { band } => Spot::Band(band + 1),
        For::Sash | For::Cornerstone => Spot::Sashing,
        _ => Spot::Quilt,
    }
}

/// What is cut for a finished outline of the top.
fn size_of(outline: &Loop, cloth: &Cloth, grain: Grain, table: Table) -> Size {
    let corners = true_corners(outline);
    match corners.as_slice() {
        [a, b, c] => triangle([*a, *b, *c], table),
        [_, _, _, _] => strip(&corners, cloth, grain, table),
        _ => None,
    }
    .unwrap_or_else(|| by_template(outline, table))
}

/// Corners at which the outline turns: where a neighbour's seam meets it half way along it goes straight on.
pub(super) fn true_corners(outline: &Loop) -> Vec<Point> {
    let all: Vec<Point> = outline.corners().collect();
    let n = all.len();
    (0..n)
        .filter(|&i| {
            let (before, after) = (all[i] - all[(i + n - 1) % n], all[(i + 1) % n] - all[i]);
            before.cross(after).abs() > TOLERANCE * (length(before) + length(after))
        })
        .map(|i| all[i])
        .collect()
}

fn length(v: Vec2) -> f64 {
    v.hypot2().sqrt()
}

/// A right triangle with equal legs; straight grain lies along the edge of the quilt or the section, so that it is cut from a
/// square once across where its legs are upright, twice across where its long side is.
fn triangle(corners: [Point; 3], table: Table) -> Option<Size> {
    let (right, leg) = (0..3).find_map(|i| {
        let (a, b) = (corners[(i + 1) % 3] - corners[i], corners[(i + 2) % 3] - corners[i]);
        let square = a.dot(b).abs() <= TOLERANCE * (length(a) + length(b));
        (square && (length(a) - length(b)).abs() <= 2.0 * TOLERANCE).then_some((a, length(a)))
    })?;
    Some(if is_upright(right) {
        Size::square(Way::HalfSquare, table.half_square(Finished(Length::new(leg))))
    } else {
        let long_side = Finished(Length::new(leg * std::f64::consts::SQRT_2));
        Size::square(Way::QuarterSquare, table.quarter_square(long_side))
    })
}

fn is_upright(direction: Vec2) -> bool {
    f64::min(direction.x.abs(), direction.y.abs()) <= TOLERANCE
}

/// A rectangle, or a strip of even width with slanted ends: measured along and across its parallel sides.
fn strip(corners: &[Point], cloth: &Cloth, grain: Grain, table: Table) -> Option<Size> {
    let edge = |i: usize| corners[(i + 1) % 4] - corners[i % 4];
    let slack = |a: Vec2, b: Vec2| TOLERANCE * (length(a) + length(b));
    let parallel = |i: usize| edge(i).cross(edge(i + 2)).abs() <= slack(edge(i), edge(i + 2));
    let along = (0..4).filter(|&i| parallel(i)).max_by(|&i, &j| length(edge(i)).total_cmp(&length(edge(j))))?;
    let direction = edge(along) / length(edge(along));
    let square = edge(along).dot(edge(along + 1)).abs() <= slack(edge(along), edge(along + 1));
    let extent = |axis: Vec2| {
        let shadows = corners.iter().map(|corner| corner.to_vec2().dot(axis));
        shadows.clone().fold(f64::NEG_INFINITY, f64::max) - shadows.fold(f64::INFINITY, f64::min)
    };
    let (long, wide) = (extent(direction), extent(Vec2::new(-direction.y, direction.x)));
    let finished = |length: f64| Finished(Length::new(length));
    let rectangle = square && parallel(along + 1);
    if rectangle && (long - wide).abs() <= TOLERANCE {
        return Some(Size::square(Way::Rectangle, table.side(&tr!("side of the square"), finished(long))));
    }
    let wide = table.side(&tr!("width of the strip"), finished(wide));
    let long = if rectangle { table.side(&tr!("length of the strip"), finished(long)) } else { table.mitred(finished(long)) };
    // In a cloth with a direction an upright piece is cut as it hangs; one that lies on its side has its length across.
    let lies = cloth.print != Print::None && direction.y.abs() <= TOLERANCE;
    let (width, length) = if lies { (long, wide) } else { (wide, long) };
    let across = if cloth.print == Print::None { f64::max(width.value, length.value) } else { width.value };
    let too_long = grain == Grain::Across && across > cloth.across().value() + TOLERANCE;
    let way = match (too_long, rectangle) {
        (true, _) => Way::Joined { lost: table.allowance.0 + table.allowance.0 },
        (false, true) => Way::Rectangle,
        (false, false) => Way::Mitred,
    };
    Some(Size { way, width, length, grain, motif: None })
}

/// Any other shape of the top, cut by a template as it lies there.
fn by_template(outline: &Loop, table: Table) -> Size {
    let allowance = table.allowance.0.value();
    let at_origin = |outline: &Loop| outline.moved(Pose::shift(-outline.bounds().origin().to_vec2()));
    // A convex piece of the top can always be grown; should one not be, its outline stands in, an allowance round its bounds.
    let cut = grow(outline, allowance, TipTrim::Aligned);
    let bounds = cut.as_ref().map_or_else(|_| outline.bounds().inflate(allowance, allowance), Loop::bounds);
    let cut = at_origin(cut.as_ref().unwrap_or(outline));
    Size {
        width: table.template(&tr!("width of the template"), Length::new(bounds.width())),
        length: table.template(&tr!("length of the template"), Length::new(bounds.height())),
        way: Way::Template { outline: cut, reversed: false },
        grain: Grain::Across,
        motif: None,
    }
}
