//! Units: what is sewn alike is made in one batch.
//!
//! In: the order in which every design is sewn, and the cloths of every place. Out: each unit once, with how many the quilt
//! takes, the two parts it is sewn from, and its picture. Units are alike when they are congruent by turning alone, with the same
//! cloths piece for piece; a mirrored unit is another unit.

use super::cuts::rounded;
use super::mesh::middle;
use super::{Piecing, Sewn};
use crate::draft::{Draft, Lie, lie};
use crate::set::Top;
use seamfall_geom::{Edge, Loop, Point, Pose, Vec2};
use seamfall_model::{BlockId, ClothId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Units of more pieces than this are compared by the block they belong to alone.
const COMPARED: usize = 80;

/// What is sewn in one step, wherever in the quilt it is needed.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// `u1`, `u2`, ... in the order of making: parts before wholes.
    pub name: String,
    /// How many the quilt takes.
    pub count: usize,
    /// What it is sewn from.
    pub parts: [UnitPart; 2],
    /// Its pieces, as they lie where it is first used.
    pub pieces: Vec<UnitPiece>,
    /// The seams of this step.
    pub seams: Vec<Edge>,
    /// How often this step bends: corners set in, seams finished.
    pub bends: usize,
    /// Blocks it is used in.
    pub blocks: Vec<BlockId>,
    /// Whether it is a whole block, with its frame.
    pub is_whole: bool,
    /// How many steps must come before it, one upon the other.
    pub depth: usize,
}

/// A part of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitPart {
    /// A single piece, by its number in [`Unit::pieces`].
    Piece(usize),
    /// Another unit, by its number.
    Unit(usize),
}

/// A piece of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitPiece {
    /// Finished outline, shared by all units that the piece is in: in a sheet of squares it is in hundreds.
    pub outline: Arc<Loop>,
    /// Its cloth; none is a finding of the draft.
    pub cloth: Option<ClothId>,
    /// Patch of the block it is in the unit's first use, or a piece of its frame, numbered after the patches.
    pub piece: usize,
}

/// Where a unit is first used.
#[derive(Debug, Clone, PartialEq)]
pub struct Units {
    /// The units.
    pub all: Vec<Unit>,
    /// For every design and every look of it (cloths that its places share) the unit of each join.
    pub looks: Vec<Look>,
}

/// Places that hold one design in the same cloths.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// The design.
    pub design: usize,
    /// The places.
    pub places: Vec<usize>,
    /// Cloth of each piece.
    pub cloths: Vec<Option<ClothId>>,
    /// For each join of the design's order its unit, by number.
    pub units: Vec<usize>,
}

/// Finds the units of the quilt, where `orders` says for each design in which order it is sewn.
#[must_use]
pub fn units(drafts: &[Draft], top: &Top, piecing: &Piecing, orders: &[usize]) -> Units {
    let mut gathered = Gathered { shapes: BTreeMap::new(), known: BTreeMap::new(), all: Vec::new() };
    let mut looks = looks(top, piecing);
    for look in &mut looks {
        gathered.add(drafts, piecing, orders[look.design], look);
    }
    gathered.finish(looks)
}

/// Places by design and cloths.
fn looks(top: &Top, piecing: &Piecing) -> Vec<Look> {
    let mut known: BTreeMap<(usize, Vec<Option<ClothId>>), usize> = BTreeMap::new();
    let mut looks: Vec<Look> = Vec::new();
    for (number, (place, held)) in top.places.iter().zip(&piecing.holds).enumerate() {
        let patches = piecing.designs[held.design].parts.iter().map(|part| part.map(|part| place.cloths[part.0]));
        let frame = held.frame_strips.iter().map(|&strip| Some(top.strips[strip].cloth));
        let cloths: Vec<Option<ClothId>> = patches.chain(frame).collect();
        let next = looks.len();
        let look = *known.entry((held.design, cloths.clone())).or_insert(next);
        if look == next {
            looks.push(Look { design: held.design, places: Vec::new(), cloths, units: Vec::new() });
        }
        looks[look].places.push(number);
    }
    looks
}

/// What tells units apart: their pieces (shape, cloth) and where these lie, seen from a corner of the unit's own.
type Key = Vec<(usize, Option<ClothId>, i64, i64, i64)>;

struct Gathered {
    /// Numbers of the shapes met.
    shapes: BTreeMap<crate::draft::ShapeKey, usize>,
    known: BTreeMap<Key, usize>,
    all: Vec<Unit>,
}

/// A piece and how it lies.
struct Lying {
    outline: Arc<Loop>,
    shape: usize,
    lie: Lie,
    middle: Point,
}

impl Gathered {
    fn add(&mut self, drafts: &[Draft], piecing: &Piecing, order: usize, look: &mut Look) {
        let design = &piecing.designs[look.design];
        let draft = &drafts[design.block.0];
        let seen = if design.mirrored { Pose::mirror() } else { Pose::IDENTITY };
        let patches = draft.patches.iter().map(|patch| (&patch.outline, patch.holes.as_slice()));
        let pieces = patches.chain(design.frame_pieces.iter().map(|outline| (outline, [].as_slice())));
        let lying: Vec<Lying> = pieces
            .map(|(outline, holes)| {
                let outline = outline.moved(seen);
                let holes: Vec<Loop> = holes.iter().map(|hole| hole.moved(seen)).collect();
                let lie = lie(&outline, &holes);
                let next = self.shapes.len();
                let shape = *self.shapes.entry(lie.key.clone()).or_insert(next);
                let (middle, _) = middle(&outline);
                Lying { outline: Arc::new(outline), shape, lie, middle }
            })
            .collect();
        let sewing = &design.orders[order];
        let mut members: Vec<Vec<usize>> = Vec::new();
        for (number, join) in sewing.joins.iter().enumerate() {
            let of = |sewn: Sewn| match sewn {
                Sewn::Piece(piece) => vec![piece],
                Sewn::Join(join) => members[join].clone(),
            };
            let mut pieces = of(join.left);
            pieces.extend(of(join.right));
            pieces.sort_unstable();
            let is_whole = number + 1 == sewing.joins.len();
            let key = key(&lying, &look.cloths, &pieces, look.design);
            let next = self.all.len();
            let unit = *self.known.entry(key).or_insert(next);
            if unit == next {
                let part = |sewn: Sewn| match sewn {
                    Sewn::Piece(piece) => UnitPart::Piece(pieces.binary_search(&piece).expect("a join holds its pieces")),
                    Sewn::Join(join) => UnitPart::Unit(look.units[join]),
                };
                let parts = [part(join.left), part(join.right)];
                let below = parts.iter().map(|part| match part {
                    UnitPart::Piece(_) => 0,
                    UnitPart::Unit(unit) => self.all[*unit].depth + 1,
                });
                let depth = below.max().unwrap_or(0);
                let piece =
                    |&piece: &usize| UnitPiece { outline: Arc::clone(&lying[piece].outline), cloth: look.cloths[piece], piece };
                let edges = join.seams.iter().flat_map(|&seam| sewing.seams[seam].edges());
                self.all.push(Unit {
                    name: String::new(),
                    count: 0,
                    parts,
                    pieces: pieces.iter().map(piece).collect(),
                    seams: edges.map(|edge| edge.moved(seen)).collect(),
                    bends: join.bends.len(),
                    blocks: Vec::new(),
                    is_whole,
                    depth,
                });
            }
            let unit_made = &mut self.all[unit];
            unit_made.count += look.places.len();
            unit_made.is_whole |= is_whole;
            if !unit_made.blocks.contains(&design.block) {
                unit_made.blocks.push(design.block);
            }
            look.units.push(unit);
            members.push(pieces);
        }
    }

    /// Units in the order of making.
    fn finish(self, mut looks: Vec<Look>) -> Units {
        let mut order: Vec<usize> = (0..self.all.len()).collect();
        order.sort_by_key(|&unit| (self.all[unit].depth, unit));
        let mut renumbered = vec![0; order.len()];
        for (new, &old) in order.iter().enumerate() {
            renumbered[old] = new;
        }
        let mut all = self.all;
        for unit in &mut all {
            for part in &mut unit.parts {
                if let UnitPart::Unit(other) = part {
                    *other = renumbered[*other];
                }
            }
        }
        looks.iter_mut().flat_map(|look| &mut look.units).for_each(|unit| *unit = renumbered[*unit]);
        let mut sorted: Vec<(usize, Unit)> = renumbered.into_iter().zip(all).collect();
        sorted.sort_by_key(|(number, _)| *number);
        let named = |(number, unit): (usize, Unit)| Unit { name: format!("u{}", number + 1), ..unit };
        Units { all: sorted.into_iter().map(named).collect(), looks }
    }
}

/// The smallest of the descriptions of a unit, one from every corner of it that may count as its own.
fn key(lying: &[Lying], cloths: &[Option<ClothId>], pieces: &[usize], design: usize) -> Key {
    if pieces.len() > COMPARED {
        let own = |&piece: &usize| (design, cloths[piece], piece as i64, -1, -1);
        return pieces.iter().map(own).collect();
    }
    // Of a row of squares the one or two in its middle, instead of all of them.
    let sum = pieces.iter().fold(Vec2::ZERO, |sum, &piece| sum + lying[piece].middle.to_vec2());
    let middle = (sum / pieces.len() as f64).to_point();
    let rank = |piece: usize| (lying[piece].shape, cloths[piece], rounded((lying[piece].middle - middle).hypot2().sqrt()));
    let first = pieces.iter().map(|&piece| rank(piece)).min();
    let candidates = pieces.iter().filter(|&&piece| Some(rank(piece)) == first);
    let descriptions = candidates.flat_map(|&piece| &lying[piece].lie.starts).map(|start| {
        let mut all: Key = pieces
            .iter()
            .map(|&piece| {
                let at = start.seen(lying[piece].middle);
                // Of a piece that looks the same after a turn the first of its starts by angle.
                let turned = lying[piece]
                    .lie
                    .starts
                    .iter()
                    .map(|own| rounded((own.deg - start.deg).rem_euclid(360.0)).rem_euclid(360_000));
                (lying[piece].shape, cloths[piece], rounded(at.x), rounded(at.y), turned.min().unwrap_or(0))
            })
            .collect();
        all.sort_unstable();
        all
    });
    descriptions.min().unwrap_or_default()
}
