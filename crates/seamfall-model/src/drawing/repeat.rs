//! Lines and turns over which the shape of a block is the same, so that what is drawn once can be drawn all round.
//!
//! In: a shape. Out: its mirror lines and turns, each as a map of shares: a point of the block by how far along the two axes of its
//! shape it lies, in sides. In these every map has whole coefficients, so that points on the grid come out on the grid, exactly.
//! Which images several of them give together is found by putting them behind one another until nothing new comes.

use crate::{Block, GridPoint, Shape, mark, spoken};
use seamfall_geom::{Point, Vec2};

/// A map of shares: `along = a·along + b·up + c`, `up = d·along + e·up + f`.
pub(super) type Map = [i8; 6];

const SAME: Map = [1, 0, 0, 0, 1, 0];

/// More images than any shape has: a hexagon's twelve.
const MOST: usize = 12;

/// A mirror line or a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeat {
    /// Its word: `upright`, `level`, `rising`, `falling`, `half`, `third`, `quarter`, `sixth`.
    pub key: &'static str,
    /// Marked words.
    words: &'static str,
    /// Of a mirror line its two ends, in shares.
    pub line: Option<[f64; 4]>,
    map: Map,
}

const fn mirror(key: &'static str, words: &'static str, line: [f64; 4], map: Map) -> Repeat {
    Repeat { key, words, line: Some(line), map }
}

const fn turn(key: &'static str, words: &'static str, map: Map) -> Repeat {
    Repeat { key, words, line: None, map }
}

/// Of what has four sides and is the same both ways.
const RECTANGLE: &[Repeat] = &[
    mirror("upright", mark!("mirror, left and right"), [0.5, 0.0, 0.5, 1.0], [-1, 0, 1, 0, 1, 0]),
    mirror("level", mark!("mirror, top and bottom"), [0.0, 0.5, 1.0, 0.5], [1, 0, 0, 0, -1, 1]),
    turn("half", mark!("half turn"), [-1, 0, 1, 0, -1, 1]),
];

const SQUARE: &[Repeat] = &[
    RECTANGLE[0],
    RECTANGLE[1],
    DIAMOND[0],
    DIAMOND[1],
    RECTANGLE[2],
    turn("quarter", mark!("quarter turns"), [0, -1, 1, 1, 0, 0]),
];

const DIAMOND: &[Repeat] = &[
    mirror("rising", mark!("mirror over the rising diagonal"), [0.0, 0.0, 1.0, 1.0], [0, 1, 0, 1, 0, 0]),
    mirror("falling", mark!("mirror over the falling diagonal"), [1.0, 0.0, 0.0, 1.0], [0, -1, 1, -1, 0, 1]),
    RECTANGLE[2],
];

/// Half a square, its right angle at the origin.
const RIGHT_TRIANGLE: &[Repeat] =
    &[mirror("rising", mark!("mirror from the right angle"), [0.0, 0.0, 0.5, 0.5], [0, 1, 0, 1, 0, 0])];

/// Corners at the origin and one side along each axis.
const TRIANGLE: &[Repeat] = &[
    mirror("upright", mark!("mirror, left and right"), [0.0, 1.0, 0.5, 0.0], [-1, -1, 1, 0, 1, 0]),
    mirror("rising", mark!("mirror from the lower left corner"), [0.0, 0.0, 0.5, 0.5], [0, 1, 0, 1, 0, 0]),
    mirror("falling", mark!("mirror from the lower right corner"), [1.0, 0.0, 0.0, 0.5], [1, 0, 0, -1, -1, 1]),
    turn("third", mark!("third turns"), [-1, -1, 1, 1, 0, 0]),
];

/// About its middle, one side along each axis.
const HEXAGON: &[Repeat] = &[
    mirror("upright", mark!("mirror, left and right"), [1.5, 0.0, 0.5, 2.0], [-1, -1, 3, 0, 1, 0]),
    mirror("level", mark!("mirror, top and bottom"), [0.0, 1.0, 2.0, 1.0], [1, 1, -1, 0, -1, 2]),
    turn("half", mark!("half turn"), [-1, 0, 2, 0, -1, 2]),
    turn("third", mark!("third turns"), [-1, -1, 3, 1, 0, 0]),
    turn("sixth", mark!("sixth turns"), [0, -1, 2, 1, 1, -1]),
];

impl Repeat {
    /// What it does, as a person reads it.
    #[must_use]
    pub fn words(&self) -> String {
        spoken(self.words)
    }

    /// Those of a shape.
    #[must_use]
    pub fn of(shape: Shape) -> &'static [Self] {
        match shape {
            Shape::Square { .. } => SQUARE,
            Shape::Rectangle { .. } => RECTANGLE,
            Shape::EquilateralTriangle { .. } => TRIANGLE,
            Shape::RightTriangle { .. } => RIGHT_TRIANGLE,
            Shape::Diamond { .. } => DIAMOND,
            Shape::Hexagon { .. } => HEXAGON,
        }
    }

    /// The one of a word; nothing where the shape has none such.
    pub(super) fn find(shape: Shape, key: &str) -> Option<&'static Self> {
        Self::of(shape).iter().find(|each| each.key == key)
    }

    /// Where several of them together take a point of the plane: for each image but the first, which is the point itself, `origin`
    /// and what comes of the two axes.
    #[must_use]
    pub fn images(shape: Shape, keys: &[&str]) -> Vec<(Point, Vec2, Vec2)> {
        let block = |map: &Map| {
            let at = |along, up| in_plane(shape, moved(map, [along, up]));
            let origin = at(0.0, 0.0);
            (origin, at(1.0, 0.0) - origin, at(0.0, 1.0) - origin)
        };
        all(shape, keys).iter().skip(1).map(block).collect()
    }
}

fn in_plane(shape: Shape, [along, up]: [f64; 2]) -> Point {
    let (a, b) = shape.sides();
    let bare = Block { shape, ..crate::file::bare_block() };
    bare.to_plane(GridPoint { u: along * a.value(), v: up * b.value() })
}

/// All maps that come of those of these words, the one that moves nothing first.
pub(super) fn all(shape: Shape, keys: &[&str]) -> Vec<Map> {
    let given: Vec<Map> = keys.iter().filter_map(|key| Repeat::find(shape, key)).map(|repeat| repeat.map).collect();
    let mut all = vec![SAME];
    let mut next = 0;
    while next < all.len() && all.len() <= MOST {
        for map in &given {
            let behind = after(map, &all[next]);
            if !all.contains(&behind) {
                all.push(behind);
            }
        }
        next += 1;
    }
    all
}

/// `map` after `first`.
fn after(map: &Map, first: &Map) -> Map {
    let [a, b, c, d, e, f] = *map;
    let [g, h, i, j, k, l] = *first;
    [a * g + b * j, a * h + b * k, a * i + b * l + c, d * g + e * j, d * h + e * k, d * i + e * l + f]
}

/// Whether it mirrors.
pub(super) fn mirrors([a, b, _, d, e, _]: &Map) -> bool {
    a * e - b * d < 0
}

fn moved(map: &Map, [along, up]: [f64; 2]) -> [f64; 2] {
    let [a, b, c, d, e, f] = map.map(f64::from);
    [a * along + b * up + c, d * along + e * up + f]
}

/// Where a map takes a point of the block.
pub(super) fn image(block: &Block, map: &Map, point: GridPoint) -> GridPoint {
    let (n, m) = divisions(block);
    let [a, b, c, d, e, f] = map.map(f64::from);
    // Where both axes are divided alike nothing is divided, so that points on the grid stay exact.
    let (more, less) = if n == m { (1.0, 1.0) } else { (n / m, m / n) };
    GridPoint { u: a * point.u + b * more * point.v + c * n + 0.0, v: d * less * point.u + e * point.v + f * m + 0.0 }
}

/// Grid steps, or lengths, along each side.
fn divisions(block: &Block) -> (f64, f64) {
    let (a, b) = block.shape.sides();
    block.grid.map_or((a.value(), b.value()), |(n, m)| (f64::from(n), f64::from(m)))
}

/// The point of `into` at the same shares of its sides as `point` of `from`.
#[must_use]
pub fn shares(from: &Block, into: &Block, point: GridPoint) -> GridPoint {
    let ((n, m), (to_n, to_m)) = (divisions(from), divisions(into));
    let share = |value: f64, from: f64, to: f64| if from == to { value } else { value * to / from };
    super::rounded(GridPoint { u: share(point.u, n, to_n), v: share(point.v, m, to_m) })
}
