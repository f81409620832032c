//! Strips that run round a rectangle: frames, bands, and sashing round the outside.

use super::Side;
use seamfall_geom::{Loop, Point, Rect};
use seamfall_model::{ClothId, Corners, Layout, Quilt};

/// A ring of the top outside the body: a band, or sashing that runs round a setting on point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ring {
    /// Number of the band; none for sashing.
    pub band: Option<usize>,
    pub width: f64,
    pub cloth: ClothId,
    pub corners: Corners,
}

/// A piece of a ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RingPart {
    Strip(Side),
    /// A corner square, numbered from the lower left anticlockwise.
    Square(usize),
}

/// The rings outside the body, the innermost first.
///
/// Sashing round a straight setting is part of its rows and columns; round a setting on point it is a ring.
pub(super) fn of(quilt: &Quilt) -> Vec<Ring> {
    let on_point = matches!(quilt.setting.layout, Layout::OnPoint { .. });
    let sashing = quilt.sashing.iter().filter(|sashing| on_point && sashing.around).map(|sashing| Ring {
        band: None,
        width: sashing.width.value(),
        cloth: sashing.cloth,
        corners: sashing.cornerstones.map_or(Corners::Butted, Corners::Squares),
    });
    let bands = quilt.bands.iter().enumerate().map(|(number, band)| Ring {
        band: Some(number),
        width: band.width.value(),
        cloth: band.cloth,
        corners: band.corners,
    });
    sashing.chain(bands).collect()
}

/// The pieces of a ring `width` wide round `inner`.
///
/// Butted corners: the sides are as long as `inner` is high, top and bottom run over their ends (common practice).
pub(super) fn ring(inner: Rect, width: f64, corners: Corners) -> Vec<(RingPart, Loop)> {
    let outer = inner.inflate(width, width);
    let [low, high] = [Rect::new(outer.x0, outer.y0, outer.x1, inner.y0), Rect::new(outer.x0, inner.y1, outer.x1, outer.y1)];
    let upright = [
        (Side::Left, Rect::new(outer.x0, inner.y0, inner.x0, inner.y1)),
        (Side::Right, Rect::new(inner.x1, inner.y0, outer.x1, inner.y1)),
    ];
    match corners {
        Corners::Mitred => {
            let (i, o) = (corners_of(inner), corners_of(outer));
            [(Side::Bottom, 0, 1), (Side::Right, 1, 2), (Side::Top, 2, 3), (Side::Left, 3, 0)]
                .map(|(side, a, b)| (RingPart::Strip(side), Loop::polygon(&[o[a], o[b], i[b], i[a]])))
                .to_vec()
        }
        Corners::Butted => upright
            .into_iter()
            .chain([(Side::Bottom, low), (Side::Top, high)])
            .map(|(side, rect)| (RingPart::Strip(side), Loop::rect(rect)))
            .collect(),
        Corners::Squares(_) => {
            let level = [low, high].map(|rect| Rect::new(inner.x0, rect.y0, inner.x1, rect.y1));
            let strips = upright.into_iter().chain([(Side::Bottom, level[0]), (Side::Top, level[1])]);
            let squares = corners_of(inner).into_iter().zip(corners_of(outer)).enumerate();
            strips
                .map(|(side, rect)| (RingPart::Strip(side), Loop::rect(rect)))
                .chain(squares.map(|(k, (i, o))| (RingPart::Square(k), Loop::rect(Rect::from_points(i, o)))))
                .collect()
        }
    }
}

/// Corners from the lower left, anticlockwise.
fn corners_of(rect: Rect) -> [Point; 4] {
    [Point::new(rect.x0, rect.y0), Point::new(rect.x1, rect.y0), Point::new(rect.x1, rect.y1), Point::new(rect.x0, rect.y1)]
}
