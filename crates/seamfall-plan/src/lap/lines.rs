//! The lines of a design on an area.
//!
//! In: a design, an area in its own coordinates, and how far from an edge lines are kept where there is a choice. Out: chains of lines and
//! arcs within the area; or why the design does not go there ([`Misfit`]).

use super::areas::{Area, AreaShape};
use super::motifs::{Chain, arcs, cable_round, motif, outline};
use super::stipple::{stippling, too_fine};
use seamfall_geom::{Edge, Inset, Loop, Pose, Rect, TipTrim, Vec2, grow, svg_chains};
use seamfall_model::{Motif, QuiltingDesign, limits};

/// Why a design does not go on an area.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Misfit {
    /// It is larger than its place.
    TooLarge,
    /// It has more lines than can be planned.
    TooMany,
    /// Nothing of it comes to lie there.
    Nothing,
}

/// More edges than one design may have.
const MOST_EDGES: usize = 20_000;

/// Squares of a grid of arcs are about so wide unless said, in inches. A choice.
const ARCS_IN: f64 = 2.0;

/// What a design needs to know beside its area.
pub(super) struct Given {
    /// Distance kept from edges where there is a choice.
    pub clear: f64,
    /// An inch in the document's unit.
    pub inch: f64,
}

/// The lines of `design` on `area`.
pub(super) fn lines(design: &QuiltingDesign, area: &Area, given: &Given) -> Result<Vec<Chain>, Misfit> {
    let chains = match design {
        QuiltingDesign::InTheDitch => area.seams.iter().map(|seam| vec![*seam]).collect(),
        QuiltingDesign::Mitres => area.mitres.iter().map(|seam| vec![*seam]).collect(),
        QuiltingDesign::Outline { distance } => inside(&area.patches, distance.value()),
        QuiltingDesign::Echo { distance, count } => echoes(area, distance.value(), *count),
        QuiltingDesign::Parallel { angle_deg, spacing } => hatch(area, *angle_deg, spacing.value())?,
        QuiltingDesign::Crossed { angle_deg, spacing } => {
            let mut both = hatch(area, *angle_deg, spacing.value())?;
            both.extend(hatch(area, *angle_deg + 90.0, spacing.value())?);
            both
        }
        QuiltingDesign::Stippling { spacing } => wander(area, spacing.value())?,
        QuiltingDesign::Motif { motif, size, repeats } => {
            let size = size.map(|[width, height]| (width.value(), height.value()));
            motifs(area, *motif, size, *repeats, given)?
        }
        QuiltingDesign::Path { data, size: [width, height], repeats } => {
            let (w, h) = (width.value(), height.value());
            let tolerance = limits::PATH_TOLERANCE_IN * given.inch;
            let one = svg_chains(data, w, h, tolerance, limits::PATH_LINES).unwrap_or_default();
            placed(area, (w, h), *repeats, given, |_, _| one.clone())?
        }
    };
    let chains: Vec<Chain> = chains.into_iter().filter(|chain| !chain.is_empty()).collect();
    match chains.iter().map(Vec::len).sum::<usize>() {
        0 => Err(Misfit::Nothing),
        edges if edges > MOST_EDGES => Err(Misfit::TooMany),
        _ => Ok(chains),
    }
}

/// Every patch's outline moved in; a patch too small for it has none.
fn inside(patches: &[Vec<Loop>], distance: f64) -> Vec<Chain> {
    patches.iter().flatten().filter_map(|one| grow(one, -distance, TipTrim::Full).ok()).map(|one| outline(&one)).collect()
}

/// Outside of what is laid over; else inside the outline, or outward from the inner edge of a ring.
fn echoes(area: &Area, distance: f64, count: u32) -> Vec<Chain> {
    let steps = || (1..=count).map(|k| distance * f64::from(k));
    if !area.overlays.is_empty() {
        let within = Inset::new(&area.outline, 0.0);
        let grown = area.overlays.iter().flat_map(|shape| steps().map_while(move |d| grow(shape, d, TipTrim::Full).ok()));
        return grown.flat_map(|one| kept(&within, one.edges(), true)).collect();
    }
    match area.shape {
        AreaShape::Ring(inner) => {
            let width = (area.outline.bounds().width() - inner.width()) / 2.0;
            steps().filter(|d| *d < width).map(|d| outline(&Loop::rect(inner.inflate(d, d)))).collect()
        }
        _ => steps().map_while(|d| grow(&area.outline, -d, TipTrim::Full).ok()).map(|one| outline(&one)).collect(),
    }
}

/// The runs of a chain that lie within, or without.
fn kept(area: &Inset, chain: &[Edge], within: bool) -> Vec<Chain> {
    area.cut(chain).into_iter().filter(|run| run.inside == within).map(|run| run.edges).collect()
}

/// Parallel lines, one of them through the middle.
fn hatch(area: &Area, angle_deg: f64, spacing: f64) -> Result<Vec<Chain>, Misfit> {
    let bounds = area.outline.bounds();
    let reach = bounds.size().to_vec2().hypot2().sqrt() / 2.0;
    let count = (reach / spacing).floor();
    if count > 2_000.0 {
        return Err(Misfit::TooMany);
    }
    let turn = Pose::turn_deg(angle_deg);
    let (along, off) = (turn.apply_vec(Vec2::new(reach + 1.0, 0.0)), turn.apply_vec(Vec2::new(0.0, spacing)));
    let within = Inset::new(&area.outline, 0.0);
    let hole = match area.shape {
        AreaShape::Ring(inner) => Some(Inset::new(&Loop::rect(inner), 0.0)),
        _ => None,
    };
    let count = count as i64;
    let mut chains = Vec::new();
    for k in -count..=count {
        let middle = bounds.center() + off * k as f64;
        let whole = [Edge::Line { from: middle - along, to: middle + along }];
        for part in kept(&within, &whole, true) {
            match &hole {
                Some(hole) => chains.extend(kept(hole, &part, false)),
                None => chains.push(part),
            }
        }
    }
    // A line that only runs along the outline is no line of the design.
    let beside = |chain: &Chain| area.outline.edges().iter().any(|side| side.distance_to(chain[0].at(0.5)) <= 1e-6);
    chains.retain(|chain| !beside(chain));
    Ok(chains)
}

fn wander(area: &Area, spacing: f64) -> Result<Vec<Chain>, Misfit> {
    if too_fine(&area.outline, spacing) {
        return Err(Misfit::TooMany);
    }
    Ok(match area.shape {
        AreaShape::Ring(_) => area.patches.iter().flatten().filter_map(|strip| stippling(strip, spacing)).collect(),
        _ => stippling(&area.outline, spacing).into_iter().collect(),
    })
}

fn motifs(area: &Area, one: Motif, size: Option<(f64, f64)>, repeats: Option<u32>, given: &Given) -> Result<Vec<Chain>, Misfit> {
    if let (AreaShape::Ring(inner), Motif::Cable) = (area.shape, one) {
        return round(area, inner, size, repeats, given);
    }
    let room = |length: f64, width: f64| usual(area, one, length, width, given);
    if one == Motif::Arcs {
        return grid(area, size, repeats, given);
    }
    match size {
        Some(size) => placed(area, size, repeats, given, |_, _| motif(one, size.0, size.1)),
        None => {
            let rows = area.rows();
            let (length, width) = rows.first().map_or_else(
                || {
                    let bounds = area.outline.bounds();
                    let share = repeats.map_or(1.0, f64::from);
                    ((bounds.width() - 2.0 * given.clear) / share, (bounds.height() - 2.0 * given.clear) / share)
                },
                |&(_, length, width)| (length, width),
            );
            if length <= 0.0 || width <= 0.0 {
                return Err(Misfit::Nothing);
            }
            let size = room(length, width);
            let share = repeats.filter(|_| !rows.is_empty()).map_or(f64::INFINITY, |n| length / f64::from(n));
            let size = (size.0.min(share), size.1);
            placed(area, size, repeats, given, |_, _| motif(one, size.0, size.1))
        }
    }
}

/// Width and height of a motif where the file has none: what there is room for, in the proportions it is usually drawn in. A choice.
fn usual(area: &Area, one: Motif, length: f64, width: f64, given: &Given) -> (f64, f64) {
    if area.shape == AreaShape::Block {
        return match one {
            Motif::Oval => (length, 0.6 * width),
            Motif::Leaf => (length, 0.5 * width),
            Motif::Cable | Motif::Feather => (length, width / 3.0),
            Motif::Circle | Motif::Fan | Motif::Arcs => (length, width),
        };
    }
    let height = (width - 2.0 * given.clear).max(width / 2.0);
    match one {
        Motif::Oval | Motif::Leaf | Motif::Cable => ((2.0 * height).min(length), height),
        Motif::Feather => (length - height, height),
        Motif::Circle | Motif::Fan | Motif::Arcs => (height.min(length), height),
    }
}

/// Motifs of a size in rows: along a strip or the sides of a ring, or in as many rows as columns on a block.
fn placed(
    area: &Area,
    (w, h): (f64, f64),
    repeats: Option<u32>,
    given: &Given,
    draw: impl Fn(f64, f64) -> Vec<Chain>,
) -> Result<Vec<Chain>, Misfit> {
    let slack = 1e-9;
    let mut chains = Vec::new();
    let mut put =
        |pose: Pose| chains.extend(draw(w, h).iter().map(|chain| chain.iter().map(|edge| edge.moved(pose)).collect::<Chain>()));
    let fit = |room: f64, size: f64| ((room + slack) / size).floor();
    match area.shape {
        AreaShape::Block => {
            let bounds = area.outline.bounds();
            let (width, height) = (bounds.width(), bounds.height());
            if w > width + slack || h > height + slack {
                return Err(Misfit::TooLarge);
            }
            let room =
                |side: f64, size: f64| if side - 2.0 * given.clear >= size - slack { side - 2.0 * given.clear } else { side };
            let (room_w, room_h) = (room(width, w), room(height, h));
            let (columns, rows) = repeats.map_or((fit(room_w, w), fit(room_h, h)), |n| (f64::from(n), f64::from(n)));
            if columns * rows > 10_000.0 {
                return Err(Misfit::TooMany);
            }
            if repeats.is_some() && (columns * w > width + slack || rows * h > height + slack) {
                return Err(Misfit::TooLarge);
            }
            for j in 0..rows as u32 {
                for i in 0..columns as u32 {
                    let share = |k: u32, of: f64, room: f64| room * ((f64::from(k) + 0.5) / of - 0.5);
                    put(Pose::shift(bounds.center().to_vec2() + Vec2::new(share(i, columns, room_w), share(j, rows, room_h))));
                }
            }
        }
        AreaShape::Strip | AreaShape::Ring(_) => {
            for (row, length, width) in area.rows() {
                if w > length + slack || h > width + slack {
                    return Err(Misfit::TooLarge);
                }
                let count = repeats.map_or(fit(length, w), f64::from);
                if count * w > length + slack {
                    return Err(Misfit::TooLarge);
                }
                for k in 0..count as u32 {
                    put(Pose::shift(Vec2::new(length * ((f64::from(k) + 0.5) / count - 0.5), 0.0)).then(row));
                }
            }
        }
    }
    Ok(chains)
}

/// A grid of arcs, its squares shared: what fills the block, or the rows.
fn grid(area: &Area, size: Option<(f64, f64)>, repeats: Option<u32>, given: &Given) -> Result<Vec<Chain>, Misfit> {
    let count = |room: f64, size: f64| repeats.unwrap_or(((room + 1e-9) / size).floor().max(1.0) as u32);
    let fits = |room: f64, size: Option<f64>| room > 0.0 && size.is_none_or(|size| size <= room + 1e-9);
    let mut chains = Vec::new();
    let mut put = |pose: Pose, room: (f64, f64), columns: u32, rows: u32| -> Result<(), Misfit> {
        if columns * rows > 2_500 {
            return Err(Misfit::TooMany);
        }
        let rect = Rect::new(-room.0 / 2.0, -room.1 / 2.0, room.0 / 2.0, room.1 / 2.0);
        chains.extend(arcs(rect, columns, rows).iter().map(|chain| chain.iter().map(|edge| edge.moved(pose)).collect::<Chain>()));
        Ok(())
    };
    let (sw, sh) = (size.map(|size| size.0), size.map(|size| size.1));
    if area.shape == AreaShape::Block {
        let bounds = area.outline.bounds();
        let room = |side: f64| side - 2.0 * given.clear;
        let (w, h) = (room(bounds.width()), room(bounds.height()));
        if !fits(w, sw) || !fits(h, sh) {
            return Err(Misfit::TooLarge);
        }
        let square = ARCS_IN * given.inch;
        let (columns, rows) = (count(w, sw.unwrap_or(square)), count(h, sh.unwrap_or(square)));
        let taken = |room: f64, size: Option<f64>, n: u32| size.map_or(room, |size| size * f64::from(n));
        let (w, h) = (taken(w, sw, columns), taken(h, sh, rows));
        // The outer arcs bulge by (√2 - 1) / 2 of a square beyond the grid.
        put(Pose::shift(bounds.center().to_vec2()), (w, h), columns, rows)?;
    } else {
        for (row, length, width) in area.rows() {
            let height = sh.unwrap_or((width - 2.0 * given.clear).max(width / 2.0));
            if !fits(width, Some(height)) || !fits(length, sw) {
                return Err(Misfit::TooLarge);
            }
            let columns = count(length, sw.unwrap_or(height));
            put(row, (length, height), columns, 1)?;
        }
    }
    let within = Inset::new(&area.outline, 0.0);
    Ok(chains.iter().flat_map(|chain| kept(&within, chain, true)).collect())
}

/// A cable round a ring: whole periods on every side.
fn round(area: &Area, inner: Rect, size: Option<(f64, f64)>, repeats: Option<u32>, given: &Given) -> Result<Vec<Chain>, Misfit> {
    let width = (area.outline.bounds().width() - inner.width()) / 2.0;
    let height = size.map_or((width - 2.0 * given.clear).max(width / 2.0), |size| size.1);
    // Half as high as the strip is wide it would reach the corner it turns about.
    if height >= width - 1e-9 && size.is_some() || size.is_some_and(|size| size.0 > inner.width().min(inner.height())) {
        return Err(Misfit::TooLarge);
    }
    let period = size.map_or(2.0 * height, |size| size.0);
    let periods = |side: f64| repeats.unwrap_or((side / period).round().max(1.0) as u32);
    Ok(cable_round(inner, width, height / 2.0, periods))
}
