//! Curved and odd templates: how they lie together in strips, which are then cut from the cloth like any other rectangle.
//!
//! In: the cut outline of a template, how many pieces, and the cloth. Out: blocks of interlocking rows, low enough to be handled, each with
//! the places of its pieces: as many full ones as the count fills, and one for the rest. Between the rows nothing is proven; how much of a
//! block becomes pieces is told.

use seamfall_cutting::nest::{Cloth, Place, Row, Strip, Template, Turns, rows};
use seamfall_geom::{Loop, Pose, Rect};
use seamfall_model::Print;

/// Rows of a block at most, and its height in inches: a strip that is cut off and laid on the table. Found by trying.
const ROWS: usize = 4;
const HIGHEST_IN: f64 = 14.0;

/// Widths that are tried for the pieces that fill no whole block, counted in pieces of its first row.
const WIDTHS: usize = 8;

/// Pieces of one template that are cut from one rectangle.
#[derive(Debug, Clone, PartialEq)]
pub struct Nest {
    /// What it takes across the cloth.
    pub width: f64,
    /// What it takes along the cloth.
    pub height: f64,
    /// From the template's own drawing to the rectangle with its lower left corner at the origin.
    pub places: Vec<Pose>,
    /// Share of the rectangle that becomes pieces.
    pub density: f64,
}

/// Blocks of `count` pieces of `outline` on cloth of a usable width, each with how often it is cut. None where the template cannot be
/// nested; it is then cut by its bounds.
pub(super) fn blocks(outline: &Loop, count: usize, width: f64, print: Print, inch: f64) -> Vec<(Nest, usize)> {
    let turns = match print {
        Print::None => Turns::Quarter,
        Print::TwoWay => Turns::Half,
        Print::OneWay => Turns::None,
    };
    let copies = u32::try_from(count).unwrap_or(u32::MAX);
    let template = Template { name: String::new(), outline: outline.clone(), count: copies, turns };
    let Ok(patterns) = rows(&template, Cloth { width, gap: 0.0 }) else { return Vec::new() };
    let highest = HIGHEST_IN * inch;
    let full = patterns
        .iter()
        .flat_map(|row| (1..=ROWS).map(|rows| row.strip(rows)))
        .filter(|strip| !strip.places.is_empty() && strip.places.len() <= count)
        .filter(|strip| strip.height <= highest || strip.places.len() == 1)
        .map(|strip| Nest::new(outline, &strip))
        .min_by(|a, b| a.cloth_each().total_cmp(&b.cloth_each()).then(a.height.total_cmp(&b.height)));
    let mut blocks = Vec::new();
    let mut left = count;
    if let Some(full) = full {
        let times = count / full.places.len();
        left = count % full.places.len();
        blocks.push((full, times));
    }
    if left > 0 {
        match rest(&template, &patterns, left, width) {
            Some(rest) => blocks.push((rest, 1)),
            None => return Vec::new(),
        }
    }
    blocks
}

/// The smallest rectangle found for `count` pieces, fewer than fill a block.
fn rest(template: &Template, patterns: &[Row], count: usize, width: f64) -> Option<Nest> {
    let outline = &template.outline;
    // As wide as the first pieces of a row, for one, two, three ... of them.
    let mut widths: Vec<f64> = patterns
        .iter()
        .flat_map(|row| {
            let mut ends: Vec<f64> = row.strip(1).places.iter().map(|place| bounds(outline, place).x1).collect();
            ends.sort_by(f64::total_cmp);
            ends.truncate(count.min(WIDTHS));
            ends
        })
        .chain([width])
        .collect();
    widths.sort_by(f64::total_cmp);
    // Widths that differ by less than a hundredth of the cloth's are one.
    widths.dedup_by(|a, b| *a - *b < width / 100.0);
    let tried = widths.into_iter().filter_map(|width| rows(template, Cloth { width: width + 1e-6, gap: 0.0 }).ok());
    let strips = tried.flat_map(|patterns| patterns.into_iter().filter_map(|row| row.strip_of(count)).collect::<Vec<Strip>>());
    strips.map(|strip| Nest::new(outline, &strip)).min_by(|a, b| {
        let area = |nest: &Nest| nest.width * nest.height;
        area(a).total_cmp(&area(b)).then(a.height.total_cmp(&b.height))
    })
}

fn bounds(outline: &Loop, place: &Place) -> Rect {
    outline.moved(place.pose()).bounds()
}

impl Nest {
    fn new(outline: &Loop, strip: &Strip) -> Self {
        let all: Vec<Rect> = strip.places.iter().map(|place| bounds(outline, place)).collect();
        let left = all.iter().map(|one| one.x0).fold(f64::INFINITY, f64::min);
        let right = all.iter().map(|one| one.x1).fold(f64::NEG_INFINITY, f64::max);
        let places: Vec<Pose> =
            strip.places.iter().map(|place| place.pose().then(Pose::shift(seamfall_geom::Vec2::new(-left, 0.0)))).collect();
        let (width, height) = (right - left, strip.height);
        let density = outline.area() * f64::from(u32::try_from(places.len()).unwrap_or(u32::MAX)) / (width * height);
        Self { width, height, places, density }
    }

    fn cloth_each(&self) -> f64 {
        self.width * self.height / self.places.len() as f64
    }
}
