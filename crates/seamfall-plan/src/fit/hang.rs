//! How a quilt of a known size hangs on its bed.
//!
//! In: the bed, the size as pieced, the block in the corner. Out: the drops that are left after quilting and the wash, by how much they miss, and
//! how far down each shape of corner would reach.
//!
//! Corners are compared as deep as they may hang, with the least that quilting and the wash take off. Each is taken as cut to the drops
//! as they then are; one that is cut to the drops of the top before it is quilted lies within a hundredth or two of that.

use super::corner::{CornerCut, Drops, corner_cut};
use super::wanted::remains;
use crate::answer::{Answer, Impossible, Ruler};
use seamfall_geom::{Rect, TOLERANCE, Vec2};
use seamfall_model::{Bed, CornerShape, FitRule, Length, Working, term};
use tr::tr;

/// A quilt on its bed.
#[derive(Debug, Clone, PartialEq)]
pub struct OnBed {
    /// Drop at the sides: least, most.
    pub side: [Working; 2],
    /// Drop at the foot: least, most.
    pub foot: [Working; 2],
    /// By how much the drop at the sides misses the wanted one, in the middle of its range; more is positive.
    pub side_miss: Working,
    /// The same at the foot.
    pub foot_miss: Working,
    /// How each shape of corner hangs, that with the most cloth first.
    pub corners: Vec<CornerHang>,
}

/// How a corner hangs.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerHang {
    /// Its shape.
    pub shape: CornerShape,
    /// The corner; or why there is none.
    pub cut: Result<CornerCut, Impossible>,
    /// How far it hangs beyond the floor; negative where it hangs free.
    pub beyond_floor: Option<Working>,
    /// Whether it drags on the floor.
    pub drags: bool,
}

/// The top as pieced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pieced {
    /// Its size.
    pub size: Vec2,
    /// Bounds of the block in the lower left corner, without its frame, from the lower left corner of the top; where there is one.
    pub corner_block: Option<Rect>,
}

/// Hangs a top over `bed`.
#[must_use]
pub fn on_bed(bed: &Bed, top: Pieced, ruler: Ruler) -> OnBed {
    let remains = remains(bed.take_up, bed.shrinkage, ruler);
    let kept = |pieced: f64, at: usize| term(&tr!("pieced"), pieced) * term(&tr!("remains"), remains[at].value);
    let side = [tr!("side drop at least"), tr!("side drop at most")];
    let side = [0, 1].map(|at| {
        let drop = (kept(top.size.x, at) - term(&tr!("mattress"), bed.width.value())) / 2.0;
        ruler.exact(FitRule::SideDrop, &side[at], drop)
    });
    let foot = [tr!("foot drop at least"), tr!("foot drop at most")];
    let foot = [0, 1].map(|at| {
        let drop = kept(top.size.y, at) - term(&tr!("mattress"), bed.length.value()) - term(&tr!("tuck"), bed.tuck.value());
        ruler.exact(FitRule::FootDrop, &foot[at], drop)
    });
    let miss = |what: &str, [least, most]: &[Working; 2], wanted: Length| {
        let between = (term(&tr!("least"), least.value) + term(&tr!("most"), most.value)) / 2.0;
        ruler.exact(FitRule::Miss, what, between - term(&tr!("wanted"), wanted.value()))
    };
    let (side_miss, foot_miss) =
        (miss(&tr!("misses at the sides"), &side, bed.sides), miss(&tr!("misses at the foot"), &foot, bed.foot));
    let over = |[_, most]: &[Working; 2]| Length::new(most.value.max(0.0));
    let drops = Drops { side: over(&side), foot: over(&foot) };
    let legs = set_back(top, remains[1].value);
    let corners = CornerShape::ALL.map(|shape| corner(shape, bed, drops, legs, ruler)).into();
    OnBed { side, foot, side_miss, foot_miss, corners }
}

/// What the cut along the diagonal of the block in the corner takes along the foot and up the side, drawn out to the edges.
fn set_back(top: Pieced, remains: f64) -> [Length; 2] {
    let Some(block) = top.corner_block.filter(|block| block.width() > 0.0 && block.height() > 0.0) else {
        return [Length::ZERO; 2];
    };
    let slope = block.height() / block.width();
    let up = block.y1 + block.x0 * slope;
    [up / slope, up].map(|leg| Length::new(leg * remains))
}

fn corner(shape: CornerShape, bed: &Bed, drops: Drops, legs: [Length; 2], ruler: Ruler) -> CornerHang {
    let cut = corner_cut(shape, drops, legs, ruler);
    let beyond_floor = cut.as_ref().ok().map(|cut| cut.on_the_floor(bed.height, ruler));
    let drags = cut.as_ref().is_ok_and(|cut| cut.drags(bed.height));
    CornerHang { shape, cut, beyond_floor, drags }
}

impl CornerHang {
    /// How far from the floor it ends: `drags 2 in`, `9 5/8 in above it`; nothing where it cannot be cut.
    #[must_use]
    pub fn to_the_floor(&self, ruler: Ruler) -> Option<String> {
        let beyond = self.beyond_floor.as_ref()?.length();
        Some(if self.drags {
            tr!("drags {beyond}", beyond = ruler.shown(beyond))
        } else {
            tr!("{beyond} above it", beyond = ruler.shown(beyond * -1.0))
        })
    }
}

impl OnBed {
    /// Whether the quilt reaches beyond the mattress all round, whatever is taken off it.
    #[must_use]
    pub fn covers(&self) -> bool {
        self.side[0].value > -TOLERANCE && self.foot[0].value > -TOLERANCE
    }

    /// How a shape hangs.
    #[must_use]
    pub fn corner(&self, shape: CornerShape) -> Option<&CornerHang> {
        self.corners.iter().find(|corner| corner.shape == shape)
    }

    /// The drops as an answer, then each corner.
    #[must_use]
    pub fn answers(&self, bed: &Bed, ruler: Ruler) -> Vec<Answer> {
        let figures = [
            ("side-least", &self.side[0]),
            ("side-most", &self.side[1]),
            ("side-miss", &self.side_miss),
            ("foot-least", &self.foot[0]),
            ("foot-most", &self.foot[1]),
            ("foot-miss", &self.foot_miss),
        ];
        let corners = self.corners.iter().filter_map(|corner| corner.cut.as_ref().ok());
        std::iter::once(Answer::new("drops", figures)).chain(corners.map(|cut| cut.answer(bed.height, ruler))).collect()
    }
}
