//! Curved and odd templates: how they lie together in strips, which are then cut from the cloth like any other rectangle.
//!
//! In: the cut outline of a template, how many pieces, and the cloth. Out: blocks of interlocking rows, low enough to be handled, each with
//! the places of its pieces: as many full ones as the count fills, and one for the rest. Between the rows nothing is proven; how much of a
//! block becomes pieces is told.

use seamfall_cutting::nest::{Cloth, Place, Strip, Template, Turns, rows};
use seamfall_geom::{Loop, Pose, Rect, Vec2};
use seamfall_model::Print;

/// Rows of a block at most, and its height in inches: a strip that is cut off and laid on the table. Found by trying.
const ROWS: usize = 4;
const HIGHEST_IN: f64 = 14.0;

/// Patterns that are looked at, the densest first. Found by trying.
const PATTERNS: usize = 12;

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
    let strips: Vec<Strip> = patterns.iter().take(PATTERNS).flat_map(|row| (1..=ROWS).map(|rows| row.strip(rows))).collect();
    let highest = HIGHEST_IN * inch;
    let low = |strip: &&Strip| strip.height <= highest || strip.places.len() == 1;
    let full = strips
        .iter()
        .filter(low)
        .filter(|strip| (1..=count).contains(&strip.places.len()))
        .map(|strip| Nest::new(outline, strip.height, &strip.places))
        .min_by(|a, b| a.cloth_each().total_cmp(&b.cloth_each()).then(a.height.total_cmp(&b.height)));
    let mut blocks = Vec::new();
    let mut left = count;
    if let Some(full) = full {
        let times = count / full.places.len();
        left = count % full.places.len();
        blocks.push((full, times));
    }
    if left > 0 {
        match strips.iter().filter(low).filter_map(|strip| Nest::leftmost(outline, strip, left)).min_by(|a, b| {
            let area = |nest: &Nest| nest.width * nest.height;
            area(a).total_cmp(&area(b)).then(a.height.total_cmp(&b.height))
        }) {
            Some(rest) => blocks.push((rest, 1)),
            None => return Vec::new(),
        }
    }
    blocks
}

fn bounds(outline: &Loop, place: &Place) -> Rect {
    outline.moved(place.pose()).bounds()
}

impl Nest {
    fn new(outline: &Loop, height: f64, of: &[Place]) -> Self {
        let all: Vec<Rect> = of.iter().map(|place| bounds(outline, place)).collect();
        let left = all.iter().map(|one| one.x0).fold(f64::INFINITY, f64::min);
        let right = all.iter().map(|one| one.x1).fold(f64::NEG_INFINITY, f64::max);
        let to_origin = Pose::shift(Vec2::new(-left, 0.0));
        let places: Vec<Pose> = of.iter().map(|place| place.pose().then(to_origin)).collect();
        let width = right - left;
        let density = outline.area() * places.len() as f64 / (width * height);
        Self { width, height, places, density }
    }

    /// The `count` pieces of a strip that end furthest to the left; nothing where it has fewer.
    fn leftmost(outline: &Loop, strip: &Strip, count: usize) -> Option<Self> {
        let mut ends: Vec<(f64, &Place)> = strip.places.iter().map(|place| (bounds(outline, place).x1, place)).collect();
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let places: Vec<Place> = ends.get(..count)?.iter().map(|(_, place)| **place).collect();
        Some(Self::new(outline, strip.height, &places))
    }

    fn cloth_each(&self) -> f64 {
        self.width * self.height / self.places.len() as f64
    }
}
