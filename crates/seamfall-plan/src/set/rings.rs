//! Strips that run round a rectangle: frames, bands, and sashing round the outside.

use super::{PieceKind, Side};
use seamfall_geom::{Loop, Point, Rect, TOLERANCE};
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

impl Ring {
    /// Its pieces round `inner`: name, kind, cloth and outline of each.
    pub fn pieces(&self, inner: Rect) -> Vec<(String, PieceKind, ClothId, Loop)> {
        let piece = |(part, outline)| {
            let (word, kind) = match (self.band, part) {
                (Some(band), RingPart::Strip(side)) => (format!("band{}", band + 1), PieceKind::Band { band, side }),
                (Some(band), RingPart::Square(_)) => (format!("band{}", band + 1), PieceKind::BandSquare { band }),
                (None, RingPart::Strip(_)) => ("sash.outer".to_owned(), PieceKind::Sash),
                (None, RingPart::Square(_)) => ("cornerstone.outer".to_owned(), PieceKind::Cornerstone),
            };
            (format!("{word}.{}", part.word()), kind, part.cloth(self.corners, self.cloth), outline)
        };
        ring(inner, self.width, self.corners).into_iter().map(piece).collect()
    }
}

impl RingPart {
    /// Its word, for names.
    pub fn word(self) -> String {
        match self {
            Self::Strip(side) => side.word().to_owned(),
            Self::Square(corner) => format!("square{}", corner + 1),
        }
    }

    /// The cloth of its corner square, or that of its strip.
    pub fn cloth(self, corners: Corners, strip: ClothId) -> ClothId {
        match (self, corners) {
            (Self::Square(_), Corners::Squares(square)) => square,
            _ => strip,
        }
    }
}

/// Widths, from the outside in, of what sections at the edge are made of: all rings together if a section can hold them, else
/// each by itself.
pub(super) fn depths(rings: &[Ring], limit: f64) -> Vec<f64> {
    let all: f64 = rings.iter().map(|ring| ring.width).sum();
    match rings {
        [] => Vec::new(),
        _ if all <= limit + TOLERANCE => vec![all],
        _ => rings.iter().rev().map(|ring| ring.width).collect(),
    }
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
