//! What to cut, where every piece lies, and what to buy.
//!
//! In: templates and places, sections, how units are made, and what the edge takes. Out: every piece with its exact and its rounded cut size, count and
//! material; for every material a layout with a bound that is proven, and what to buy of it; thread. Pieces of one size and material are one
//! entry, whatever they are for; those of units made in a faster way are cut as the squares and strips of that way.

mod buy;
mod edge;
mod fussy;
mod kinds;
mod layers;
mod list;
mod making;
mod mirror;
mod nest;
mod patches;
pub mod rules;
mod strips;
mod table;
#[cfg(test)]
mod tests;
mod thread;

use crate::{Staged, Wanted, draft::Draft, set::Top};
use list::List;
use seamfall_cutting::Budget;
use seamfall_geom::Loop;
use seamfall_model::{BlockId, ClothId, Finding, FussyOf, Grain, Length, MakingWay, Quilt, Spot, Working};

pub use buy::{
    KindOf, Laid, OffTheBolt, OutOfSizes, Part, ToBuy, price_of, searched, searched_while, shown_length, ticks_per_unit,
};
pub use edge::{EdgePiece, EdgeUse};
pub use fussy::MotifCut;
pub use making::{CutFor, FasterWay, LookMaking, Making, StripSet, UnitMaking, making};
pub use nest::Nest;
pub use strips::up_deg;
pub use table::{CutLine, CutSheet, kind_name, sheets};
pub use thread::ThreadToBuy;
use tr::tr;

/// The cut list.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Every kind of piece, by material, then the largest first.
    pub pieces: Vec<CutPiece>,
    /// What to buy of each material that is used: cloths in the order of the file, then the batting.
    pub bought: Vec<ToBuy>,
    /// Thread for piecing.
    pub thread: ThreadToBuy,
}

impl Cutting {
    /// What all that has a price costs, in hundredths; nothing where nothing has.
    #[must_use]
    pub fn price(&self) -> Option<u64> {
        let prices = self.bought.iter().map(|bought| bought.price).chain([self.thread.price]);
        prices.flatten().reduce(|sum, price| sum + price)
    }
}

/// What a piece is cut from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Material {
    /// A cloth.
    Cloth(ClothId),
    /// The batting.
    Batting,
}

impl Material {
    /// The cloth, if it is one.
    #[must_use]
    pub fn cloth(self) -> Option<ClothId> {
        if let Self::Cloth(cloth) = self { Some(cloth) } else { None }
    }

    /// What the maker calls it.
    #[must_use]
    pub fn name(self, quilt: &Quilt) -> String {
        match self {
            Self::Cloth(cloth) => quilt.cloths[cloth.0].name.clone(),
            Self::Batting => quilt.batting.as_ref().map_or_else(|| tr!("Batting"), |batting| batting.name.clone()),
        }
    }

    /// Usable width of the cloth off the bolt; of the batting off the roll, if there is one.
    #[must_use]
    pub fn width(self, quilt: &Quilt) -> Option<Length> {
        match self {
            Self::Cloth(cloth) => Some(quilt.cloths[cloth.0].width),
            Self::Batting => quilt.batting.as_ref()?.roll.map(|roll| roll.width),
        }
    }

    /// Its name in files and addresses: the key of a cloth, or `batting`.
    #[must_use]
    pub fn key(self, quilt: &Quilt) -> &str {
        match self {
            Self::Cloth(cloth) => &quilt.cloths[cloth.0].key,
            Self::Batting => "batting",
        }
    }
}

/// Pieces of one size, cut from one cloth in one way.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Stable name: `c1`, `c2`, ...
    pub name: String,
    /// What it is cut from.
    pub of: Material,
    /// How many pieces are sewn.
    pub needed: usize,
    /// How many squares, rectangles or strips are cut for them: half as many squares as half-square triangles.
    pub cut: usize,
    /// What is cut.
    pub way: Way,
    /// Across, after rounding up: width of the square, rectangle, strip or template's bounds.
    ///
    /// In a cloth whose print has a direction `width` runs across the print and `length` along it, whichever is the longer.
    pub width: Working,
    /// Along, after rounding up; the same as `width` for a square.
    pub length: Working,
    /// How the maker wants it to lie.
    pub grain: Grain,
    /// Strips that it is joined from, where the cloth is not wide enough.
    pub joined: Option<Working>,
    /// Where it shows a motif: how that is found on the cloth, piece by piece.
    pub motif: Option<MotifCut>,
    /// What it is for: `Churn dash, A` or `band 1, left and right`.
    pub uses: Vec<Use>,
}

/// A part of the top that is no block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TopPart {
    /// A strip or a corner square of a frame.
    Frame,
    /// A side triangle of a setting on point.
    SideTriangle,
    /// A corner triangle of a setting on point.
    CornerTriangle,
    /// Sashing.
    Sash,
    /// Where sashes cross.
    Cornerstone,
    /// What fills a row.
    Filler,
    /// A strip or a corner square of a band, counted from 0.
    Band(usize),
}

/// What a piece is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Use {
    /// A template of a block.
    Template {
        /// The block.
        block: BlockId,
        /// Number of the template in its draft.
        template: usize,
        /// Pieces sewn.
        count: usize,
    },
    /// Frames, sashing, bands and triangles of the setting, in words.
    Top {
        /// Of what.
        part: TopPart,
        /// `band 1, left and right`.
        what: String,
        /// Pieces sewn.
        count: usize,
    },
    /// What is not part of the top: backing, batting, practice pieces and what the edge takes, in words.
    Besides {
        /// `backing of the sections`.
        what: String,
        /// Pieces.
        count: usize,
    },
}

/// How a piece is cut.
#[derive(Debug, Clone, PartialEq)]
pub enum Way {
    /// As it is: a square or a rectangle.
    Rectangle,
    /// A square cut once corner to corner: two triangles.
    HalfSquare,
    /// A square cut twice corner to corner: four triangles.
    QuarterSquare,
    /// For units made in a faster way: a square, or for a strip set a strip across the width. It is sewn before it is cut up.
    Unit(MakingWay),
    /// A strip longer than the width of the cloth: joined from several.
    Joined {
        /// What each join takes of the length.
        lost: Length,
    },
    /// With a template, out of a strip as high as it; `reversed` pieces are cut from the cloth turned over.
    Template {
        /// The cut outline, its grain upright.
        outline: Loop,
        /// Whether the template lies on its face.
        reversed: bool,
    },
    /// With mitred ends: cut as a rectangle, long enough for the mitre.
    Mitred,
}

/// Works out the cut list, what to buy, and where every piece lies.
#[must_use]
pub fn derive(
    quilt: &Quilt,
    drafts: &[Draft],
    top: &Top,
    making: &Making,
    edge: &[EdgePiece],
    budget: Budget,
) -> Staged<Cutting> {
    derive_while(quilt, drafts, top, making, edge, budget, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more, which is asked cloth by cloth.
pub fn derive_while(
    quilt: &Quilt,
    drafts: &[Draft],
    top: &Top,
    making: &Making,
    edge: &[EdgePiece],
    budget: Budget,
    wanted: Wanted,
) -> Option<Staged<Cutting>> {
    let mut findings = Vec::new();
    let mut list = List::new(quilt);
    patches::add(&mut list, quilt, drafts, top, making);
    strips::add(&mut list, quilt, top, &mut findings);
    layers::add(&mut list, quilt, top, edge);
    let pieces = list.finish();
    let bought = buy::derive(quilt, &pieces, budget, &mut findings, wanted)?;
    findings.extend(unsure(quilt, &pieces));
    let thread = thread::derive(quilt, drafts, top);
    Some(Staged { result: Cutting { pieces, bought, thread }, findings })
}

/// Says of which motifs not even one is sure to lie whole on the width of its cloth.
fn unsure(quilt: &Quilt, pieces: &[CutPiece]) -> Vec<Finding> {
    let unsure = pieces.iter().filter(|piece| piece.motif.as_ref().is_some_and(|motif| motif.across.is_none()));
    let told = unsure.filter_map(|piece| {
        let spot = Spot::Cloth(quilt.cloths[piece.of.cloth()?.0].key.clone());
        let reason = tr!(
            "a motif cut {width} wide may not lie whole on the width of the cloth",
            width = piece.width.length().shown_with_unit(quilt.step)
        );
        Some(Finding::warn(spot, reason).help(tr!(
            "measure on the cloth where the motif lies before you buy, or choose one nearer to the middle of the width"
        )))
    });
    let shown = |motif: usize| pieces.iter().any(|piece| piece.motif.as_ref().is_some_and(|cut| cut.motif == motif));
    let unseen = quilt.fussy.iter().enumerate().filter(|(motif, _)| !shown(*motif)).map(|(_, fussy)| {
        let block = &quilt.blocks[fussy.block.0];
        let spot = match fussy.of {
            FussyOf::Patch(patch) => Spot::Patch { block: block.key.clone(), patch },
            FussyOf::Part(_) => Spot::Block(block.key.clone()),
        };
        let cloth = &quilt.cloths[fussy.cloth.0].name;
        Finding::note(spot, tr!("a motif of {cloth} is chosen, and no patch is cut from it there", cloth))
            .help(tr!("give the part that cloth, put the block at a place, or take the motif away"))
    });
    told.chain(unseen).collect()
}
