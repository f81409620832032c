//! Which cloth each patch has while a block is drawn.
//!
//! In: a block before and after its seams changed. Out: the block after with one point in every patch that has a cloth: a patch that is still
//! there keeps its own, both halves of a patch that was parted keep that of the whole, patches that became one have the cloth of the largest, and where
//! a seam was moved both sides keep theirs. Also cloths painted onto patches by points. Patches are looked up by shares of the block's sides, so that size and grid may change as well.

use super::findings::Found;
use super::patches::{self, Piece};
use super::{crowd, seams};
use seamfall_geom::{Point, arrange};
use seamfall_model::{Block, ClothId, GridPoint, Mark, PartId, Quilt, part_for, shares};

/// `after` with the cloths that its patches had in `before`, whose points and parts it still has.
#[must_use]
pub fn carried(quilt: &Quilt, before: &Block, after: &Block) -> Block {
    let (old, new) = (pieces(quilt, before), pieces(quilt, after));
    let had = parts(before, &old);
    let old_at = |at: Point| {
        let at = before.to_plane(shares(after, before, after.to_grid(at)));
        (0..old.len()).find(|&i| old[i].contains(at))
    };
    let same = as_many(before, after, &old, &new);
    let mut marks = Vec::new();
    for (i, piece) in new.iter().enumerate() {
        if let Some(same) = &same {
            // A point that lies in the patch still stays where it is.
            let part = had[same[i]];
            let kept = after.marks.iter().find(|mark| Some(mark.part) == part && piece.contains(after.to_plane(mark.at)));
            let at = || kept.map_or_else(|| short(after, piece, patches::label(piece)), |mark| mark.at);
            marks.extend(part.map(|part| Mark { at: at(), part }));
            continue;
        }
        let inside = after.marks.iter().filter(|mark| piece.contains(after.to_plane(mark.at)));
        let area = |mark: &Mark| old_at(after.to_plane(mark.at)).map_or(0.0, |i| old[i].area);
        // The first of equally large ones, so that nothing changes without need.
        let kept = inside.copied().reduce(|best, next| if area(&next) > area(&best) { next } else { best });
        marks.extend(kept.or_else(|| {
            let label = patches::label(piece);
            let part = old_at(label).and_then(|i| had[i])?;
            Some(Mark { at: short(after, piece, label), part })
        }));
    }
    in_order(after, marks)
}

/// More patches than this are not compared pair by pair.
const COMPARED: usize = 300;

/// Where there are as many patches as before, so that a seam was only moved: for each the one that it was. Those that are as they were
/// first, then so that middles and sizes change least.
fn as_many(before: &Block, after: &Block, old: &[Piece], new: &[Piece]) -> Option<Vec<usize>> {
    if old.len() != new.len() || new.len() > COMPARED {
        return None;
    }
    let frame = |block: &Block| block.shape.outline().area();
    let middle = |block: &Block, piece: &Piece| {
        let at = shares(block, after, block.to_grid(piece.outline.bounds().center()));
        (after.to_plane(at), (piece.area / frame(block) * frame(after)).max(0.0).sqrt())
    };
    let was: Vec<(Point, f64)> = old.iter().map(|piece| middle(before, piece)).collect();
    let is: Vec<(Point, f64)> = new.iter().map(|piece| middle(after, piece)).collect();
    let off = |i: usize, j: usize| (is[i].0 - was[j].0).hypot2() + (is[i].1 - was[j].1) * (is[i].1 - was[j].1);
    let mut left: Vec<usize> = (0..old.len()).collect();
    let mut same: Vec<Option<usize>> = vec![None; new.len()];
    for i in 0..new.len() {
        if let Some(at) = left.iter().position(|&j| old[j].outline == new[i].outline && old[j].holes == new[i].holes) {
            same[i] = Some(left.remove(at));
        }
    }
    let open: Vec<usize> = (0..new.len()).filter(|&i| same[i].is_none()).collect();
    let mut best = left;
    // Two are exchanged as long as that brings both nearer.
    let better = |best: &[usize]| {
        (0..open.len())
            .flat_map(|a| (0..a).map(move |b| (a, b)))
            .find(|&(a, b)| off(open[a], best[b]) + off(open[b], best[a]) + 1e-9 < off(open[a], best[a]) + off(open[b], best[b]))
    };
    for _ in 0..10 * COMPARED {
        let Some((a, b)) = better(&best) else { break };
        best.swap(a, b);
    }
    open.iter().zip(best).for_each(|(&i, j)| same[i] = Some(j));
    same.into_iter().collect()
}

/// A block whose patches at `points` have `cloth`; nothing where none of them lies in a patch.
#[must_use]
pub fn painted(quilt: &Quilt, block: &Block, points: &[GridPoint], cloth: ClothId) -> Option<Block> {
    let mut after = block.clone();
    let pieces = pieces(quilt, block);
    let at = |point: &GridPoint| pieces.iter().position(|piece| piece.contains(block.to_plane(*point)));
    let mut hit: Vec<usize> = points.iter().filter_map(at).collect();
    hit.sort_unstable();
    hit.dedup();
    let part = part_for(quilt, &mut after, cloth);
    (!hit.is_empty()).then(|| marked(&after, &pieces, &hit, part))
}

/// A block in which every patch that has no cloth has `cloth`.
#[must_use]
pub fn rest_painted(quilt: &Quilt, block: &Block, cloth: ClothId) -> Block {
    let pieces = pieces(quilt, block);
    let bare: Vec<usize> = parts(block, &pieces).iter().enumerate().filter(|(_, part)| part.is_none()).map(|(i, _)| i).collect();
    let mut after = block.clone();
    let part = part_for(quilt, &mut after, cloth);
    marked(&after, &pieces, &bare, part)
}

/// The block with a point of `part` in each of these patches, in place of those that lay in them.
fn marked(block: &Block, pieces: &[Piece], hit: &[usize], part: PartId) -> Block {
    let mut marks = block.marks.clone();
    for &i in hit {
        let lies_here = |mark: &Mark| pieces[i].contains(block.to_plane(mark.at));
        let old = marks.iter().find(|mark| lies_here(mark)).map(|mark| mark.at);
        marks.retain(|mark| !lies_here(mark));
        let at = old.unwrap_or_else(|| short(block, &pieces[i], patches::label(&pieces[i])));
        marks.push(Mark { at, part });
    }
    in_order(block, marks)
}

/// The block with these points, in the order of its parts; parts that nothing has any more are left out.
fn in_order(block: &Block, mut marks: Vec<Mark>) -> Block {
    let used =
        |part: usize| marks.iter().any(|mark| mark.part.0 == part) || block.overlays.iter().any(|over| over.part.0 == part);
    let stays: Vec<usize> = (0..block.parts.len()).filter(|&part| used(part)).collect();
    // Parts that are only laid over come last, as they do when the block is read.
    let (first, last): (Vec<usize>, Vec<usize>) = stays.iter().partition(|&&part| marks.iter().any(|mark| mark.part.0 == part));
    let mut over: Vec<usize> = Vec::new();
    for part in block.overlays.iter().map(|over| over.part.0).filter(|part| last.contains(part)) {
        if !over.contains(&part) {
            over.push(part);
        }
    }
    let order: Vec<usize> = first.into_iter().chain(over).collect();
    let new = |part: PartId| PartId(order.iter().position(|&old| old == part.0).unwrap_or(0));
    marks.iter_mut().for_each(|mark| mark.part = new(mark.part));
    marks.sort_by_key(|mark| mark.part);
    let mut after = Block { marks, parts: order.iter().map(|&part| block.parts[part].clone()).collect(), ..block.clone() };
    after.overlays.iter_mut().for_each(|over| over.part = new(over.part));
    after
}

/// The patches of a block without their templates.
fn pieces(quilt: &Quilt, block: &Block) -> Vec<Piece> {
    let mut found = Found::new(quilt, block);
    let drawn = seams::drawn(&mut found);
    let edges = if crowd::crosses_too_often(&drawn.edges) { &[][..] } else { &drawn.edges };
    patches::pieces(&arrange(&block.shape.outline(), edges))
}

fn parts(block: &Block, pieces: &[Piece]) -> Vec<Option<PartId>> {
    if block.marks.is_empty() && block.parts.len() == 1 && pieces.len() == 1 {
        return vec![Some(PartId(0))];
    }
    let part = |piece: &Piece| block.marks.iter().find(|mark| piece.contains(block.to_plane(mark.at))).map(|mark| mark.part);
    pieces.iter().map(part).collect()
}

/// A point of a piece in as few decimals as leave it well inside.
fn short(block: &Block, piece: &Piece, point: Point) -> GridPoint {
    let full = block.to_grid(point);
    let with = |scale: f64| {
        let round = |value: f64| (value * scale).round() / scale + 0.0;
        GridPoint { u: round(full.u), v: round(full.v) }
    };
    let room = piece.outline.edges().iter().chain(piece.holes.iter().flat_map(|hole| hole.edges()));
    let room = room.map(|edge| (edge.nearest(point) - point).length()).fold(f64::INFINITY, f64::min);
    let near = |at: &GridPoint| (block.to_plane(*at) - point).length() < room / 2.0;
    [1.0, 10.0, 100.0, 1_000.0, 1e6].into_iter().map(with).find(near).unwrap_or(full)
}
