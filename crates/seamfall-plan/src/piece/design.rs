//! What is sewn by itself: every design once, and the top of designs and strips.

use super::memo::Memo;
use super::mesh::Mesh;
use super::order::{Grouped, natural};
use super::sew::sew;
use super::{Bend, BendKind, Design, End, Held, RimEnd, Sewing, TopRef};
use crate::Wanted;
use crate::draft::Draft;
use crate::set::{PieceKind, Top};
use seamfall_geom::{Loop, Point};
use seamfall_model::Quilt;
use std::collections::BTreeMap;
use std::sync::Arc;

/// So many natural orders of a design are compared at most, and so many of a top.
const ORDERS: usize = 16;
const TOP_ORDERS: usize = 4;
/// Points nearer than this to an outline lie on it.
const NEAR: f64 = 2e-5;

/// Designs, and what each place holds.
type Designs = (Vec<Design>, Vec<Held>);

/// Every design once, and what each place holds; nothing once nobody wants it any more.
pub(super) fn designs(quilt: &Quilt, drafts: &[Draft], top: &Top, memo: &mut Memo, wanted: Wanted) -> Option<Designs> {
    let mut frames: Vec<Vec<usize>> = vec![Vec::new(); top.places.len()];
    for (number, strip) in top.strips.iter().enumerate() {
        if let PieceKind::Frame { place, .. } | PieceKind::FrameSquare { place, .. } = strip.kind {
            frames[place].push(number);
        }
    }
    let mut designs: Vec<Design> = Vec::new();
    let mut holds = Vec::new();
    for (place, strips) in top.places.iter().zip(frames) {
        wanted().then_some(())?;
        let back = place.pose.inverse();
        let mut lying: Vec<(Loop, usize)> = strips.iter().map(|&strip| (top.strips[strip].outline.moved(back), strip)).collect();
        lying.sort_by_key(|(outline, _)| {
            let middle = outline.bounds().center();
            [middle.y, middle.x].map(|value| (value * 1e4).round() as i64)
        });
        let (frame_pieces, frame_strips): (Vec<Loop>, Vec<usize>) = lying.into_iter().unzip();
        let same = |design: &Design| {
            (design.block, design.mirrored, design.frame) == (place.block, place.pose.is_mirrored(), place.frame)
                && design.frame_pieces.iter().zip(&frame_pieces).all(|(a, b)| is_same(a, b))
        };
        let known = designs.iter().position(same);
        if known.is_none() {
            let mirrored = place.pose.is_mirrored();
            let cloth = |&strip: &usize| top.strips[strip].cloth.0;
            let clothes: Vec<usize> = frame_strips.iter().map(cloth).collect();
            let mut design = Design {
                name: String::new(),
                block: place.block,
                mirrored,
                frame: place.frame,
                parts: drafts[place.block.0].patches.iter().map(|patch| patch.part).collect(),
                frame_pieces,
                rim: Vec::new(),
                orders: Arc::default(),
            };
            design.name = name(quilt, &design, &designs);
            match designs.iter().find(|other| other.is_image_of(&design)) {
                Some(image) => (design.rim, design.orders) = (image.rim.clone(), Arc::clone(&image.orders)),
                None => design.sew(&drafts[place.block.0], &clothes, memo, wanted)?,
            }
            designs.push(design);
        }
        let design = known.unwrap_or(designs.len() - 1);
        holds.push(Held { design, frame_strips });
    }
    memo.forget();
    Some((designs, holds))
}

/// The name of a design: its block, whether it is mirrored, its frame, and a number where that is not enough.
fn name(quilt: &Quilt, design: &Design, others: &[Design]) -> String {
    let mut name = quilt.blocks[design.block.0].key.clone();
    if design.mirrored {
        name.push_str(".mirrored");
    }
    if let Some(frame) = design.frame {
        name.push('+');
        name.push_str(&quilt.frames[frame.0].key);
    }
    let alike =
        others.iter().filter(|other| (other.block, other.mirrored, other.frame) == (design.block, design.mirrored, design.frame));
    match alike.count() {
        0 => name,
        more => format!("{name}.{}", more + 1),
    }
}

/// Whether two outlines are one, corner by corner.
fn is_same(a: &Loop, b: &Loop) -> bool {
    let near = |p: Point, q: Point| (p - q).hypot2() <= NEAR * NEAR;
    let corners: Vec<Point> = b.corners().collect();
    a.corners().count() == corners.len() && a.corners().all(|corner| corners.iter().any(|other| near(corner, *other)))
}

impl Design {
    /// Whether it is the same but for the mirror.
    fn is_image_of(&self, other: &Self) -> bool {
        (self.block, self.frame) == (other.block, other.frame)
            && self.frame_pieces.iter().zip(&other.frame_pieces).all(|(a, b)| is_same(a, b))
    }

    /// How often an order has seams sewn in part and corners set in, those of the block within its frame left out: the four inner
    /// corners of a mitred frame are set in whatever the block is.
    #[must_use]
    pub fn bends(&self, order: &Sewing) -> [usize; 2] {
        let own = || order.joins.iter().flat_map(|join| &join.bends).filter(|bend| !self.in_frame(bend));
        [BendKind::Partial, BendKind::SetIn].map(|kind| own().filter(|bend| bend.kind == kind).count())
    }

    /// Whether a bend is a corner of the block within its frame.
    fn in_frame(&self, bend: &Bend) -> bool {
        self.frame_pieces.iter().flat_map(Loop::corners).any(|corner| (corner - bend.at).hypot2() <= NEAR * NEAR)
    }

    /// Finds its orders; nothing once nobody wants them any more.
    fn sew(&mut self, draft: &Draft, frame_cloths: &[usize], memo: &mut Memo, wanted: Wanted) -> Option<()> {
        let find = || orders(draft, &self.frame_pieces, frame_cloths, wanted);
        self.orders = memo.orders(draft, &self.frame_pieces, frame_cloths, find)?;
        self.rim = self.orders[0].rim.iter().map(|end| end.at).collect();
        debug_assert!(self.orders.iter().all(|order| order.rim.len() == self.rim.len()), "seams end where they end in any order");
        Some(())
    }

    /// Its outline with the frame.
    pub(super) fn outline(&self, draft: &Draft) -> Loop {
        let bounds = self.frame_pieces.iter().map(Loop::bounds).fold(draft.outline.bounds(), |all, piece| all.union(piece));
        if self.frame_pieces.is_empty() { draft.outline.clone() } else { Loop::rect(bounds) }
    }
}

/// The natural orders of a block with the pieces of a frame, whose cloths are given by number. The block is sewn first. Nothing once nobody wants them any
/// more.
pub(super) fn orders(draft: &Draft, frame: &[Loop], frame_cloths: &[usize], wanted: Wanted) -> Option<Vec<Sewing>> {
    let patches = draft.patches.iter().map(|patch| (&patch.outline, patch.holes.as_slice()));
    let mesh = Mesh::new(patches.chain(frame.iter().map(|piece| (piece, [].as_slice()))));
    let count = draft.patches.len();
    let part = |patch: &crate::draft::Patch| patch.part.map_or(0, |part| part.0 + 1);
    // The cloth of a frame is never that of a patch here: a block does not know its own cloths.
    let colours: Vec<usize> = draft.patches.iter().map(part).chain(frame_cloths.iter().map(|cloth| 1_000_000 + cloth)).collect();
    let mut groups = vec![(0..count).collect::<Vec<usize>>()];
    groups.extend((count..mesh.pieces).map(|piece| vec![piece]));
    groups.retain(|group| !group.is_empty());
    let orders = natural(&Grouped { mesh: &mesh, groups, colours: &colours }, ORDERS, wanted)?;
    let sewn = orders.iter().map(|order| {
        let mut sewing = sew(&mesh, order, &|_| Vec::new());
        sewing.rim.sort_by_key(|end| [end.at.x, end.at.y].map(|value| (value * 1e4).round() as i64));
        sewing
    });
    Some(sewn.collect())
}

/// Pieces, and the orders in which they are sewn.
type Pieced = (Vec<TopRef>, Vec<Sewing>);

/// The pieces of the top, and the orders in which it is sewn: each lap section by itself first. Nothing once nobody wants them any more.
pub(super) fn top(drafts: &[Draft], top: &Top, designs: &[Design], holds: &[Held], wanted: Wanted) -> Option<Pieced> {
    let mut pieces: Vec<TopRef> = (0..top.places.len()).map(TopRef::Place).collect();
    let is_frame = |kind| matches!(kind, PieceKind::Frame { .. } | PieceKind::FrameSquare { .. });
    pieces.extend((0..top.strips.len()).filter(|&strip| !is_frame(top.strips[strip].kind)).map(TopRef::Strip));
    let outlines: Vec<Loop> = pieces
        .iter()
        .map(|piece| match *piece {
            TopRef::Place(place) => {
                let design = &designs[holds[place].design];
                design.outline(&drafts[design.block.0]).moved(top.places[place].pose)
            }
            TopRef::Strip(strip) => top.strips[strip].outline.clone(),
        })
        .collect();
    let mesh = Mesh::new(outlines.iter().map(|outline| (outline, [].as_slice())));
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (number, piece) in pieces.iter().enumerate() {
        let section = match *piece {
            TopRef::Place(place) => top.places[place].section,
            TopRef::Strip(strip) => top.strips[strip].section,
        };
        groups.entry(section).or_default().push(number);
    }
    let colours: Vec<usize> = pieces.iter().map(|piece| usize::from(matches!(piece, TopRef::Strip(_)))).collect();
    let grouped = Grouped { mesh: &mesh, groups: groups.into_values().collect(), colours: &colours };
    let orders = natural(&grouped, TOP_ORDERS, wanted)?;
    let open = |piece: usize| match pieces[piece] {
        TopRef::Strip(_) => Vec::new(),
        TopRef::Place(place) => {
            let pose = top.places[place].pose;
            let ends = designs[holds[place].design].orders[0].rim.iter().enumerate();
            ends.map(|(rim, end)| RimEnd { at: pose.apply(end.at), end: End::Rim { piece, rim }, seams: end.seams }).collect()
        }
    };
    let orders: Vec<Sewing> = orders.iter().map(|order| sew(&mesh, order, &open)).collect();
    Some((pieces, orders))
}
