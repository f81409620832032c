//! One join cut across, to scale: where every layer begins and ends.
//!
//! In: the allowance, the batting's thickness, whether it is caught. Out: layers from the front to the back, and how much of each batting is
//! cut back. Zero is the seam; to the right lies the side towards which the allowance of the fronts falls, to the left the other.
//!
//! All layers are trimmed as one, so that before the join each ends an allowance beyond the seam. A batting that is caught falls with the
//! allowance, so it is that of the side away from the fall, and ends an allowance beyond the seam on the other: there the other batting is
//! cut back by two allowances. Where none is caught each is cut back by one. The backing towards the fall lies flat, the other is turned
//! under, so that the thickness of the front lies on one side of the seam and that of the back on the other.

use seamfall_model::{Quilt, Rounding, Rule, Working, term};
use tr::tr;

/// Batting thicker than this is not to be caught, in inches. Source: common practice catches light and medium batting, and medium is 4 oz
/// a square yard, 3/8 in thick (check value `fabric.batt.poly_4oz`); the next, 8 oz, is 3/4 in.
pub const THICKEST_CAUGHT_IN: f64 = 3.0 / 8.0;

/// Thickness of one cotton, in inches. Source: check value `lap.use.301_quilt`, two cottons in 0.022 in.
pub const CLOTH_IN: f64 = 0.011;

/// A side of a join.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Towards which the allowance of the fronts falls.
    Towards,
    /// The other.
    Away,
}

/// What a layer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LayerKind {
    /// The front, as it is seen.
    Front,
    /// The allowance of a front, folded back at the seam.
    Allowance,
    /// The batting.
    Batting,
    /// The backing that lies flat.
    FlatBacking,
    /// What is turned under of the other.
    TurnedUnder,
    /// The other backing, as it is seen.
    Backing,
}

/// A layer of the cross-section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// What it is.
    pub kind: LayerKind,
    /// Whose.
    pub side: Side,
    /// Where it begins and ends; at the far ends the section goes on.
    pub from: f64,
    /// Its other end.
    pub to: f64,
}

/// A join cut across.
#[derive(Debug, Clone, PartialEq)]
pub struct CrossSection {
    /// The seam allowance.
    pub allowance: f64,
    /// Thickness of the batting, and of one cloth.
    pub batting: f64,
    /// Thickness of one cloth.
    pub cloth: f64,
    /// How far the fold of the turned backing lies beyond the seam.
    pub overlap: f64,
    /// Whether one batting is caught.
    pub caught: bool,
    /// Whether the batting is too thick for that.
    pub too_thick: bool,
    /// How far to either side it is drawn.
    pub reach: f64,
    /// Layers, from the front to the back: of those over one point each lies on the next.
    pub layers: Vec<Layer>,
}

/// How a join is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// The seam allowance.
    pub allowance: f64,
    /// Thickness of the batting.
    pub batting: f64,
    /// Thickness of one cloth.
    pub cloth: f64,
    /// How far the fold of the turned backing lies beyond the seam.
    pub overlap: f64,
    /// Thickest batting that may be caught.
    pub thickest_caught: f64,
    /// Whether one batting is to be caught; wherever it is thin enough unless said.
    pub catch: Option<bool>,
}

impl Options {
    /// Those of a quilt.
    #[must_use]
    pub fn of(quilt: &Quilt) -> Self {
        let inch = quilt.measure.inch();
        Self {
            allowance: quilt.allowance.0.value(),
            batting: quilt.joining.batting_thickness.value(),
            cloth: CLOTH_IN * inch,
            overlap: quilt.joining.back_overlap.value(),
            thickest_caught: THICKEST_CAUGHT_IN * inch,
            catch: quilt.joining.catch_batting,
        }
    }
}

impl CrossSection {
    /// The join that `options` make.
    #[must_use]
    pub fn new(options: Options) -> Self {
        let Options { allowance, batting, cloth, overlap, .. } = options;
        // A thousandth: 3/8 in typed in centimetres is not 3/8 in to the last bit.
        let too_thick = batting > options.thickest_caught * 1.001;
        let caught = options.catch.unwrap_or(true) && !too_thick;
        let reach = 4.0 * (allowance + overlap);
        let mut section = Self { allowance, batting, cloth, overlap, caught, too_thick, reach, layers: Vec::new() };
        let [towards, away] = [Side::Towards, Side::Away].map(|side| section.cut_back(side).exact);
        let layer = |kind, side, from, to| Layer { kind, side, from, to };
        section.layers = vec![
            layer(LayerKind::Front, Side::Away, -reach, 0.0),
            layer(LayerKind::Front, Side::Towards, 0.0, reach),
            layer(LayerKind::Allowance, Side::Towards, 0.0, allowance),
            layer(LayerKind::Allowance, Side::Away, 0.0, allowance),
            layer(LayerKind::Batting, Side::Away, -reach, allowance - away),
            layer(LayerKind::Batting, Side::Towards, towards - allowance, reach),
            layer(LayerKind::FlatBacking, Side::Towards, -allowance, reach),
            layer(LayerKind::TurnedUnder, Side::Away, overlap - allowance, overlap),
            layer(LayerKind::Backing, Side::Away, -reach, overlap),
        ];
        section
    }

    /// How much of a batting is cut back from the trimmed edge.
    #[must_use]
    pub fn cut_back(&self, side: Side) -> Working {
        let allowance = || term(&tr!("allowance"), self.allowance);
        let back = match (self.caught, side) {
            (true, Side::Away) => term(&tr!("caught"), 0.0),
            (true, Side::Towards) => allowance() * 2.0,
            (false, _) => allowance(),
        };
        Working::new(Rule::CutBack, &tr!("batting cut back"), back, Rounding::Exact)
    }

    /// How far a backing must reach beyond the seam.
    #[must_use]
    pub fn back_needed(&self, side: Side) -> f64 {
        match side {
            Side::Towards => self.allowance,
            Side::Away => self.allowance + self.overlap,
        }
    }

    /// The layers over a point, from the front to the back.
    pub fn over(&self, at: f64) -> impl Iterator<Item = &Layer> {
        self.layers.iter().filter(move |layer| layer.from < at && at < layer.to)
    }

    /// How thick a layer is.
    #[must_use]
    pub fn thickness(&self, layer: &Layer) -> f64 {
        if layer.kind == LayerKind::Batting { self.batting } else { self.cloth }
    }

    /// Where layers begin and end, from left to right.
    #[must_use]
    pub fn breaks(&self) -> Vec<f64> {
        let mut all: Vec<f64> = self.layers.iter().flat_map(|layer| [layer.from, layer.to]).collect();
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn options(allowance: f64, batting: f64, catch: Option<bool>, overlap: f64) -> Options {
        Options { allowance, batting, cloth: CLOTH_IN, overlap, thickest_caught: THICKEST_CAUGHT_IN, catch }
    }

    /// What is over the middle of every stretch between two breaks.
    fn stretches(section: &CrossSection) -> Vec<(f64, Vec<LayerKind>)> {
        let middle = |pair: &[f64]| f64::midpoint(pair[0], pair[1]);
        section.breaks().windows(2).map(middle).map(|at| (at, section.over(at).map(|layer| layer.kind).collect())).collect()
    }

    proptest! {
        /// No layer is over and none is short: everywhere one front is seen and one backing, one batting lies between them, no raw edge shows on
        /// the back, and the fold lies over the seam.
        #[test]
        fn the_layers_close(allowance in 0.06_f64..1.0, batting in 0.01_f64..2.0, catch in proptest::option::of(any::<bool>()), overlap in 0.0_f64..1.0) {
            // The flat backing reaches an allowance beyond; the fold lies no farther than what the other backing has beyond it.
            let section = CrossSection::new(options(allowance, batting, catch, overlap.min(allowance)));
            for (at, kinds) in stretches(&section) {
                let count = |kind| kinds.iter().filter(|each| **each == kind).count();
                prop_assert_eq!(count(LayerKind::Front), 1, "at {}", at);
                prop_assert_eq!(count(LayerKind::Batting), 1, "at {}", at);
                let seen = *kinds.last().expect("there are layers");
                prop_assert_eq!(seen, if at < section.overlap { LayerKind::Backing } else { LayerKind::FlatBacking });
                // What is turned under lies between the flat backing and its own, its raw edge covered.
                prop_assert!(count(LayerKind::TurnedUnder) == 0 || kinds.ends_with(&[LayerKind::TurnedUnder, LayerKind::Backing]));
                prop_assert!(count(LayerKind::TurnedUnder) == 0 || at < -allowance || count(LayerKind::FlatBacking) == 1);
            }
            let edge = |kind, side| section.layers.iter().find(|layer| layer.kind == kind && layer.side == side).expect("it is there");
            // The fold.
            prop_assert_eq!(edge(LayerKind::Backing, Side::Away).to, edge(LayerKind::TurnedUnder, Side::Away).to);
            prop_assert!((edge(LayerKind::TurnedUnder, Side::Away).to - edge(LayerKind::TurnedUnder, Side::Away).from - allowance).abs() < 1e-12);
            prop_assert!(edge(LayerKind::Backing, Side::Away).to >= 0.0);
            // The battings butt, and what was cut off them is what lay twice: an allowance on either side of the seam.
            prop_assert!((edge(LayerKind::Batting, Side::Away).to - edge(LayerKind::Batting, Side::Towards).from).abs() < 1e-12);
            let cut: f64 = [Side::Towards, Side::Away].map(|side| section.cut_back(side).exact).into_iter().sum();
            prop_assert!((cut - 2.0 * allowance).abs() < 1e-12);
            // A batting that is caught lies under its own allowance.
            let caught = edge(LayerKind::Batting, Side::Away).to > 1e-9;
            prop_assert_eq!(caught, section.caught);
            prop_assert!(!(section.caught && batting > THICKEST_CAUGHT_IN * 1.001));
        }
    }

    /// The trade's numbers at a seam of 1/4 in: 1/2 in where the other is caught, 1/4 in off each where neither is. Source: common practice;
    /// half an inch is also what check value `lap.back_beyond` has (Sew Blooms, 2015: batting 0.5 in inside the block's edge on the joined side).
    #[test]
    fn batting_is_cut_back_as_the_trade_has_it() {
        let cut = |catch| {
            [Side::Away, Side::Towards].map(|side| CrossSection::new(options(0.25, 0.125, catch, 0.0)).cut_back(side).value)
        };
        assert_eq!(cut(Some(true)), [0.0, 0.5]);
        assert_eq!(cut(Some(false)), [0.25, 0.25]);
        let thick = CrossSection::new(options(0.25, 0.75, Some(true), 0.0));
        assert!(thick.too_thick && !thick.caught);
        assert!(CrossSection::new(options(0.25, 0.375, None, 0.0)).caught);
    }

    /// Check value `lap.join.back_needed`: a turn of 1/4 in and an overlap of 1/4 in take 1/2 in on the lapping side, 1/4 in on the flat one.
    #[test]
    fn backings_reach_as_far_as_the_source_says() {
        let section = CrossSection::new(options(0.25, 0.125, None, 0.25));
        assert_eq!([Side::Away, Side::Towards].map(|side| section.back_needed(side)), [0.5, 0.25]);
    }
}
