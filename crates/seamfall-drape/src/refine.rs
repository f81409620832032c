//! From few points to more: where the points of a finer mesh lie on a coarser cloth.
//!
//! In: the coarser cloth and the finer mesh. Out: a place for each of its points, by the shares of the coarser triangle it lies in
//! on the flat cloth; a point just outside goes on in the plane of the nearest one.

use crate::mesh::Mesh;
use crate::vector::{Vector, plus, times};

pub(crate) fn refined(coarse: &Mesh, at: &[Vector], fine: &Mesh) -> Vec<Vector> {
    let place = |flat: &[f64; 2]| {
        let (corners, shares) = coarse.locate(*flat);
        (0..3).fold([0.0; 3], |sum, k| plus(sum, times(at[corners[k] as usize], shares[k])))
    };
    fine.flat.iter().map(place).collect()
}
