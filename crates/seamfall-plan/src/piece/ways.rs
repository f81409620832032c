//! Units that can be made faster than by cutting and sewing every patch by itself.
//!
//! In: the pieces of a unit. Out: what kind of unit it is, if it is one that has a faster way, with its finished sizes and its cloths.
//! What is cut for it and how many are made at a time is reckoned by the stage that cuts; here shapes are recognised.

use super::{Unit, UnitPiece};
use seamfall_geom::{Edge, Loop, Point, Vec2};
use seamfall_model::ClothId;

/// Lengths and points of neighbours differ by rounding only, which is far less.
const NEAR: f64 = 1e-4;

/// A unit that has a faster way; finished sizes in the document's unit.
#[derive(Debug, Clone, PartialEq)]
pub enum UnitKind {
    /// A square of two half-square triangles.
    HalfSquares {
        /// Its side.
        side: f64,
        /// Of both triangles.
        cloths: [ClothId; 2],
    },
    /// A square of four quarter-square triangles.
    QuarterSquares {
        /// Its side.
        side: f64,
        /// Of the triangles, anticlockwise.
        cloths: [ClothId; 4],
    },
    /// A flying goose: a quarter-square triangle, a half-square triangle of one cloth on both of its short sides.
    Goose {
        /// Along the long side of the goose; its height is half of that.
        width: f64,
        /// Of the goose.
        goose: ClothId,
        /// Of the sky.
        sky: ClothId,
    },
    /// Rectangles side by side, equally long.
    Row {
        /// The length they share, along the seams.
        length: f64,
        /// Cloth and width of each, from one end of the row to the other.
        strips: Vec<(ClothId, f64)>,
    },
}

/// What kind of unit it is; nothing where it has no faster way, or a patch has no cloth.
#[must_use]
pub fn unit_kind(unit: &Unit) -> Option<UnitKind> {
    let pieces = unit.pieces.as_slice();
    match pieces {
        [a, b] => half_squares(a, b),
        [a, b, c] => goose([a, b, c]),
        [a, b, c, d] => quarter_squares([a, b, c, d]),
        _ => None,
    }
    .or_else(|| row(pieces))
}

/// A right triangle with equal legs.
struct Triangle {
    /// The corner at the right angle.
    apex: Point,
    /// The ends of its long side.
    ends: [Point; 2],
    /// Length of either leg.
    leg: f64,
    cloth: ClothId,
}

impl Triangle {
    fn new(piece: &UnitPiece) -> Option<Self> {
        let corners = corners::<3>(&piece.outline)?;
        let cloth = piece.cloth?;
        (0..3).find_map(|i| {
            let (apex, a, b) = (corners[i], corners[(i + 1) % 3], corners[(i + 2) % 3]);
            let (v, w) = (a - apex, b - apex);
            let leg = length(v);
            let is_right = v.dot(w).abs() <= NEAR * leg && (leg - length(w)).abs() <= NEAR;
            is_right.then_some(Self { apex, ends: [a, b], leg, cloth })
        })
    }

    fn long_side(&self) -> f64 {
        length(self.ends[1] - self.ends[0])
    }
}

/// The corners of an outline of so many straight sides.
fn corners<const N: usize>(outline: &Loop) -> Option<[Point; N]> {
    let straight = outline.edges().iter().all(|edge| matches!(edge, Edge::Line { .. }));
    let corners: Vec<Point> = outline.corners().collect();
    if straight { corners.try_into().ok() } else { None }
}

fn length(v: Vec2) -> f64 {
    v.hypot2().sqrt()
}

fn near(a: Point, b: Point) -> bool {
    length(a - b) <= NEAR
}

/// Whether two sides are one.
fn is_shared(a: [Point; 2], b: [Point; 2]) -> bool {
    (near(a[0], b[0]) && near(a[1], b[1])) || (near(a[0], b[1]) && near(a[1], b[0]))
}

fn half_squares(a: &UnitPiece, b: &UnitPiece) -> Option<UnitKind> {
    let [a, b] = [Triangle::new(a)?, Triangle::new(b)?];
    let one_square = is_shared(a.ends, b.ends) && !near(a.apex, b.apex);
    one_square.then_some(UnitKind::HalfSquares { side: a.leg, cloths: [a.cloth, b.cloth] })
}

fn goose(pieces: [&UnitPiece; 3]) -> Option<UnitKind> {
    let mut triangles: Vec<Triangle> = pieces.into_iter().map(Triangle::new).collect::<Option<_>>()?;
    triangles.sort_by(|a, b| b.leg.total_cmp(&a.leg));
    let [goose, a, b] = triangles.as_slice() else { return None };
    let on_leg = |sky: &Triangle| goose.ends.into_iter().position(|end| is_shared(sky.ends, [goose.apex, end]));
    let both = matches!((on_leg(a), on_leg(b)), (Some(one), Some(other)) if one != other);
    (both && a.cloth == b.cloth).then(|| UnitKind::Goose { width: goose.long_side(), goose: goose.cloth, sky: a.cloth })
}

fn quarter_squares(pieces: [&UnitPiece; 4]) -> Option<UnitKind> {
    let mut triangles: Vec<Triangle> = pieces.into_iter().map(Triangle::new).collect::<Option<_>>()?;
    let (apex, leg) = (triangles[0].apex, triangles[0].leg);
    if !triangles.iter().all(|other| near(other.apex, apex) && (other.leg - leg).abs() <= NEAR) {
        return None;
    }
    let way = |triangle: &Triangle| {
        let middle = triangle.ends[0].midpoint(triangle.ends[1]) - apex;
        libm::atan2(middle.y, middle.x)
    };
    triangles.sort_by(|a, b| way(a).total_cmp(&way(b)));
    let side = triangles[0].long_side();
    let cloths: Vec<ClothId> = triangles.iter().map(|triangle| triangle.cloth).collect();
    Some(UnitKind::QuarterSquares { side, cloths: cloths.try_into().ok()? })
}

/// Rectangles side by side. Each spans the whole row along its seams, so that nothing but its place across is left to compare.
fn row(pieces: &[UnitPiece]) -> Option<UnitKind> {
    let [a, b, c, _] = corners::<4>(&pieces.first()?.outline)?;
    let axes = [(b - a) / length(b - a), (c - b) / length(c - b)];
    if axes[0].dot(axes[1]).abs() > NEAR || pieces.len() < 2 {
        return None;
    }
    let rectangle = |piece: &UnitPiece| {
        let corners = corners::<4>(&piece.outline)?;
        let spans = axes.map(|axis| Span::new(&corners, axis));
        // A shape of four corners is the rectangle of its spans when it is as large.
        let is_whole = (spans[0].width() * spans[1].width() - piece.outline.area()).abs() <= NEAR * piece.outline.perimeter();
        is_whole.then_some((piece.cloth?, spans))
    };
    let all: Vec<(ClothId, [Span; 2])> = pieces.iter().map(rectangle).collect::<Option<_>>()?;
    let along = (0..2).find(|&axis| all.iter().all(|(_, spans)| spans[axis].is_same(&all[0].1[axis])))?;
    let mut across: Vec<(ClothId, &Span)> = all.iter().map(|(cloth, spans)| (*cloth, &spans[1 - along])).collect();
    across.sort_by(|a, b| a.1.from.total_cmp(&b.1.from));
    let is_close = across.windows(2).all(|pair| (pair[0].1.to - pair[1].1.from).abs() <= NEAR);
    let strips = across.iter().map(|(cloth, span)| (*cloth, span.width())).collect();
    is_close.then(|| UnitKind::Row { length: all[0].1[along].width(), strips })
}

/// How far a shape reaches along an axis.
struct Span {
    from: f64,
    to: f64,
}

impl Span {
    fn new(corners: &[Point], axis: Vec2) -> Self {
        let shadows = || corners.iter().map(|corner| corner.to_vec2().dot(axis));
        Self { from: shadows().fold(f64::INFINITY, f64::min), to: shadows().fold(f64::NEG_INFINITY, f64::max) }
    }

    fn width(&self) -> f64 {
        self.to - self.from
    }

    fn is_same(&self, other: &Self) -> bool {
        (self.from - other.from).abs() <= NEAR && (self.to - other.to).abs() <= NEAR
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A unit of polygons, each with the number of its cloth.
    fn kind(pieces: &[(usize, &[(f64, f64)])]) -> Option<UnitKind> {
        let piece = |(cloth, corners): &(usize, &[(f64, f64)])| UnitPiece {
            outline: Loop::polygon(&corners.iter().map(|&corner| corner.into()).collect::<Vec<Point>>()).into(),
            cloth: Some(ClothId(*cloth)),
            piece: 0,
        };
        let unit = Unit {
            name: String::new(),
            count: 1,
            parts: [super::super::UnitPart::Piece(0); 2],
            pieces: pieces.iter().map(piece).collect(),
            seams: Vec::new(),
            bends: 0,
            blocks: Vec::new(),
            is_whole: false,
            depth: 0,
        };
        unit_kind(&unit)
    }

    const LOW: &[(f64, f64)] = &[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0)];
    const HIGH: &[(f64, f64)] = &[(0.0, 0.0), (4.0, 4.0), (0.0, 4.0)];

    #[test]
    fn two_triangles_on_one_long_side_are_a_square() {
        let cloths = [ClothId(0), ClothId(1)];
        assert_eq!(kind(&[(0, LOW), (1, HIGH)]), Some(UnitKind::HalfSquares { side: 4.0, cloths }));
        // Leg to leg they are a larger triangle, moved along the long side a shape of their own.
        assert_eq!(kind(&[(0, LOW), (1, &[(4.0, 0.0), (8.0, 0.0), (4.0, 4.0)])]), None);
        assert_eq!(kind(&[(0, LOW), (1, &[(1.0, 1.0), (5.0, 5.0), (1.0, 5.0)])]), None);
        assert_eq!(kind(&[(0, &[(0.0, 0.0), (5.0, 0.0), (5.0, 4.0)]), (1, &[(0.0, 0.0), (5.0, 4.0), (0.0, 4.0)])]), None);
    }

    #[test]
    fn four_triangles_about_a_point_are_a_square() {
        let quarters: [&[(f64, f64)]; 4] = [
            &[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0)],
            &[(4.0, 0.0), (4.0, 4.0), (2.0, 2.0)],
            &[(4.0, 4.0), (0.0, 4.0), (2.0, 2.0)],
            &[(0.0, 4.0), (0.0, 0.0), (2.0, 2.0)],
        ];
        let pieces = [(0, quarters[0]), (2, quarters[2]), (1, quarters[1]), (3, quarters[3])];
        let Some(UnitKind::QuarterSquares { side, cloths }) = kind(&pieces) else { panic!("a square of four") };
        assert_eq!(side, 4.0);
        let at = cloths.iter().position(|cloth| cloth.0 == 0).expect("the first cloth is one of them");
        assert_eq!([1, 2, 3].map(|next| cloths[(at + next) % 4].0), [1, 2, 3], "anticlockwise");
        assert_eq!(kind(&[(0, quarters[0]), (1, quarters[1]), (0, quarters[2])]), None);
    }

    #[test]
    fn a_goose_flies_between_two_pieces_of_one_sky() {
        let goose: &[(f64, f64)] = &[(0.0, 0.0), (4.0, 0.0), (2.0, 2.0)];
        let left: &[(f64, f64)] = &[(0.0, 0.0), (2.0, 2.0), (0.0, 2.0)];
        let right: &[(f64, f64)] = &[(4.0, 0.0), (4.0, 2.0), (2.0, 2.0)];
        let wanted = UnitKind::Goose { width: 4.0, goose: ClothId(0), sky: ClothId(1) };
        assert_eq!(kind(&[(1, left), (0, goose), (1, right)]), Some(wanted));
        assert_eq!(kind(&[(1, left), (0, goose), (2, right)]), None, "a sky of two cloths is sewn side by side");
    }

    #[test]
    fn rectangles_side_by_side_are_a_row() {
        let strip = |from: f64, to: f64| [(from, 0.0), (to, 0.0), (to, 3.0), (from, 3.0)];
        let (a, b, c) = (strip(0.0, 1.0), strip(1.0, 3.0), strip(3.0, 4.0));
        let strips = vec![(ClothId(0), 1.0), (ClothId(1), 2.0), (ClothId(0), 1.0)];
        assert_eq!(kind(&[(1, &b), (0, &a), (0, &c)]), Some(UnitKind::Row { length: 3.0, strips }));
        assert_eq!(kind(&[(0, &a), (0, &c)]), None, "there is a gap");
        assert_eq!(kind(&[(0, &a), (1, &[(1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0)])]), None, "one is shorter");
        assert_eq!(kind(&[(0, &a), (1, &[(1.0, 0.0), (3.0, 0.0), (2.0, 3.0), (1.0, 3.0)])]), None, "one is slanted");
    }
}
