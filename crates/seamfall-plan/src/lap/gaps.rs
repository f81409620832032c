//! Gaps over the joined quilt: the largest circle that no line of quilting enters.
//!
//! In: the patterns in their places. Out: the gaps that are wider than the batting allows, each with a line that would close it. All
//! lines count, those after the join too, and so does the edge of the quilt, which the binding holds. So the two margins along a join
//! are one gap wherever no line crosses it.
//!
//! A section is looked at with what lies round it as far as the batting's limit; sections that are alike, and whose neighbours are, are
//! looked at once. Widths are told apart to an eighth of an inch, and below half of the limit not at all.

use super::memo::Memo;
use super::sections::Placed;
use crate::Wanted;
use crate::set::Top;
use seamfall_geom::{Edge, Gap, Loop, Point, Rect, Vec2, largest_gap};
use seamfall_model::Quilt;

/// Radii are told apart to this, in inches.
const TOLERANCE_IN: f64 = 1.0 / 16.0;

/// Steps along a line at most, until the next one is met.
const STEPS: usize = 200;

/// A gap among the lines of the joined quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundGap {
    /// A section that holds its middle.
    pub section: usize,
    /// All sections that have one like it.
    pub sections: Vec<usize>,
    /// Its middle, in the coordinates of the top.
    pub centre: Point,
    /// Its width: twice the radius of the circle.
    pub width: f64,
    /// No gap there is wider than this.
    pub bound: f64,
    /// A line that would close it: through its middle, along the join where it lies on one; of a gap that is too wide as far as the next
    /// lines, so that a long gap is closed as a whole.
    pub line: Edge,
    /// The section on the other side, where it lies over a join.
    pub over_join_with: Option<usize>,
}

/// Gaps wider than the limit, the widest first; and the widest of all, if it is wider than half the limit.
type Gaps = (Vec<FoundGap>, Option<FoundGap>);

/// The gaps of all sections; nothing once nobody wants them any more.
pub(super) fn find(quilt: &Quilt, top: &Top, sections: &[Placed], memo: &mut Memo, wanted: Wanted) -> Option<Gaps> {
    if quilt.quilting.is_empty() {
        return Some((Vec::new(), None));
    }
    let limit = quilt.lap.largest_gap.value();
    let tolerance = TOLERANCE_IN * quilt.measure.inch();
    let bounds: Vec<Rect> = sections.iter().zip(&top.sections).map(|(_, section)| section.outline.bounds()).collect();
    let edge = top.outline.clone();
    let mut found: Vec<(Vec<i64>, Gap, Vec<usize>)> = Vec::new();
    for number in 0..sections.len() {
        wanted().then_some(())?;
        let near = neighbours(&bounds, number, limit);
        let key = key(sections, &near, number, limit, &edge);
        let gap = memo.gap(key.clone(), || {
            let gap = look(top, sections, &near, number, &edge, tolerance, limit / 4.0)?;
            // As wide as what was looked at reaches: look at everything.
            let all: Vec<usize> = (0..sections.len()).collect();
            if gap.radius >= limit { look(top, sections, &all, number, &edge, tolerance, limit / 4.0) } else { Some(gap) }
        });
        let Some(gap) = gap else { continue };
        match found.iter_mut().find(|(known, _, _)| *known == key) {
            Some((_, _, alike)) => alike.push(number),
            None => found.push((key, gap, vec![number])),
        }
    }
    found.sort_by(|a, b| b.1.radius.total_cmp(&a.1.radius).then(a.2.cmp(&b.2)));
    let mut gaps = found.into_iter().map(|(_, gap, alike)| told(&bounds, sections, gap, alike)).peekable();
    let largest = gaps.peek().cloned();
    let mut wide: Vec<FoundGap> = gaps.take_while(|gap| gap.width > limit + 1e-6).collect();
    for gap in &mut wide {
        gap.line = to_the_next_lines(gap, &bounds, sections, &edge, tolerance);
    }
    Some((wide, largest))
}

/// Sections within `reach` of one, itself first.
fn neighbours(bounds: &[Rect], number: usize, reach: f64) -> Vec<usize> {
    let own = bounds[number].inflate(reach, reach);
    let near = |other: &Rect| other.x0 < own.x1 && own.x0 < other.x1 && other.y0 < own.y1 && own.y0 < other.y1;
    let others = (0..bounds.len()).filter(|&other| other != number && near(&bounds[other]));
    std::iter::once(number).chain(others).collect()
}

/// What a section's gap depends on: patterns round it, where they lie, and how far the quilt's edge is.
fn key(sections: &[Placed], near: &[usize], number: usize, limit: f64, edge: &Loop) -> Vec<i64> {
    let micro = |x: f64| (x * 1e6).round() as i64;
    let own = sections[number].shift;
    let corner = edge.bounds();
    let mut key = vec![
        micro(limit),
        micro(corner.x0 - own.x),
        micro(corner.y0 - own.y),
        micro(corner.x1 - own.x),
        micro(corner.y1 - own.y),
    ];
    // The edge matters only as far as the limit reaches; beyond that it is as good as nowhere.
    let bounds = sections[number].work.outline.bounds();
    let far = micro(limit * 2.0 + bounds.width() + bounds.height());
    key[1..].iter_mut().for_each(|x| *x = (*x).clamp(-far, far));
    for &other in near {
        let off = sections[other].shift - own;
        key.extend([sections[other].id, micro(off.x), micro(off.y)]);
    }
    key
}

/// The largest gap of one section, in its pattern's coordinates.
fn look(top: &Top, sections: &[Placed], near: &[usize], number: usize, edge: &Loop, tolerance: f64, floor: f64) -> Option<Gap> {
    let own = &sections[number];
    let outline = &own.work.outline;
    let reach = if near.len() == sections.len() { top.size.x + top.size.y } else { 4.0 * floor };
    let around = outline.bounds().inflate(reach, reach);
    let moved = |edge: &Edge, by: Vec2| edge.moved(seamfall_geom::Pose::shift(by));
    let mut lines: Vec<Edge> = edge.edges().iter().map(|side| moved(side, -own.shift)).collect();
    for &other in near {
        let by = sections[other].shift - own.shift;
        let all = sections[other].work.lines.iter().flat_map(|line| &line.edges).map(|edge| moved(edge, by));
        lines.extend(all.filter(|edge| {
            let bounds = edge.bounds();
            bounds.x0 <= around.x1 && around.x0 <= bounds.x1 && bounds.y0 <= around.y1 && around.y0 <= bounds.y1
        }));
    }
    let left = own.work.kept.as_deref().unwrap_or(std::slice::from_ref(outline)).iter();
    let widest = |a: Gap, b: Gap| if b.radius > a.radius { b } else { a };
    left.filter_map(|one| largest_gap(one, &lines, tolerance, floor)).reduce(widest)
}

/// A gap in the coordinates of the top, with the line that would close it.
fn told(bounds: &[Rect], sections: &[Placed], gap: Gap, alike: Vec<usize>) -> FoundGap {
    let section = alike[0];
    let centre = gap.centre + sections[section].shift;
    let own = &sections[section].work.outline;
    let side = own.edges().iter().min_by(|a, b| a.distance_to(gap.centre).total_cmp(&b.distance_to(gap.centre)));
    let near = |side: &&Edge| side.distance_to(gap.centre) < gap.radius;
    let beyond = side.filter(near).and_then(|side| {
        let foot = side.nearest(gap.centre);
        let out = foot + Vec2::new(side.direction_from().y, -side.direction_from().x) * 0.01 + sections[section].shift;
        (0..sections.len()).find(|&other| other != section && bounds[other].contains(out))
    });
    let way = match (side, beyond) {
        (Some(side), Some(_)) => side.direction_from(),
        _ => Vec2::new(1.0, 0.0),
    };
    let line = Edge::Line { from: centre - way * gap.radius, to: centre + way * gap.radius };
    FoundGap { section, sections: alike, centre, width: 2.0 * gap.radius, bound: 2.0 * gap.bound, line, over_join_with: beyond }
}

/// The line of a gap, drawn out both ways to the next lines of the quilting or the edge of the quilt.
fn to_the_next_lines(gap: &FoundGap, bounds: &[Rect], sections: &[Placed], edge: &Loop, tolerance: f64) -> Edge {
    let way = gap.line.direction_from();
    // What lies within the gap's width of its line, however far along it.
    let far = edge.bounds().width() + edge.bounds().height();
    let strip = Rect::from_points(gap.centre - way * far, gap.centre + way * far).inflate(gap.width, gap.width);
    let near = (0..sections.len()).filter(|&number| bounds[number].overlaps(strip));
    let lines = near.flat_map(|number| {
        let by = seamfall_geom::Pose::shift(sections[number].shift);
        sections[number].work.lines.iter().flat_map(|line| &line.edges).map(move |one| one.moved(by))
    });
    let lines: Vec<Edge> = lines.chain(edge.edges().iter().copied()).collect();
    // As far as the nearest line is away nothing is met; so it goes on until one is all but reached.
    let reach = |way: Vec2| {
        let mut along = 0.0;
        for _ in 0..STEPS {
            let here = gap.centre + way * along;
            let free = lines.iter().map(|line| line.distance_to(here)).fold(f64::INFINITY, f64::min);
            if free < tolerance {
                break;
            }
            along += free;
        }
        gap.centre + way * along
    };
    Edge::Line { from: reach(-way), to: reach(way) }
}
