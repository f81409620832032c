//! Seams as the workroom names them, finds them and compares them.
//!
//! A seam is named by two pieces it joins, `A1.p1~A1.p2`, `A1~sash.1.2`: numbers of seams change when another order of sewing is
//! taken, pieces do not. A third word may follow, the place from which one came: `A1~B1~A1`. In: a plan. Out: a seam, by its name or by a point beside it; and which seams of two plans fall otherwise.

use seamfall_geom::{Point, Pose};
use seamfall_model::{FixedFall, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::fall::{self, Fall, SeamRef, SetBy, pieces_beside};
use seamfall_plan::piece::{Seam, TopRef};
use std::collections::BTreeMap;
use tr::tr;

/// The name of a seam.
pub fn name(plan: &Plan, seam: SeamRef) -> String {
    pieces_beside(plan, seam).join("~")
}

/// The seam of a name.
pub fn find(plan: &Plan, name: &str) -> Option<SeamRef> {
    let mut words = name.split('~');
    let (a, b) = (words.next()?, words.next()?);
    let joins = |seam: &Seam, a: usize, b: usize| {
        seam.course.iter().any(|each| (each.left, each.right) == (a, b) || (each.left, each.right) == (b, a))
    };
    let place = |name: &str| plan.top.places.iter().position(|place| Some(place.name.as_str()) == name.split('.').next());
    if let Some(place) = place(a).filter(|&here| place(b) == Some(here)) {
        let (a, b) = (piece_of(plan, place, a)?, piece_of(plan, place, b)?);
        let seam = of_place(plan, place).iter().position(|seam| joins(seam, a, b))?;
        return Some(SeamRef::Place { place, seam });
    }
    let piece = |name: &str| plan.piecing.top_pieces.iter().position(|piece| top_piece(plan, *piece) == name);
    let (a, b) = (piece(a)?, piece(b)?);
    let seam = of_top(plan).iter().position(|seam| joins(seam, a, b))?;
    Some(SeamRef::Top { seam })
}

/// Seams of what a place holds, in the order taken.
pub fn of_place(plan: &Plan, place: usize) -> &[Seam] {
    &plan.falls.sewing(&plan.piecing, plan.piecing.holds[place].design).seams
}

fn of_top(plan: &Plan) -> &[Seam] {
    &plan.falls.top_sewing(&plan.piecing).seams
}

/// Number of a piece of a place: a patch, or a strip of its frame.
fn piece_of(plan: &Plan, place: usize, name: &str) -> Option<usize> {
    let held = &plan.piecing.holds[place];
    let patches = plan.piecing.designs[held.design].parts.len();
    if let Some(strip) = held.frame_strips.iter().position(|&strip| plan.top.strips[strip].name == name) {
        return Some(patches + strip);
    }
    let patch = name.rsplit_once(".p")?.1.parse::<usize>().ok()?.checked_sub(1)?;
    (patch < patches).then_some(patch)
}

fn top_piece(plan: &Plan, piece: TopRef) -> &str {
    match piece {
        TopRef::Place(place) => &plan.top.places[place].name,
        TopRef::Strip(strip) => &plan.top.strips[strip].name,
    }
}

/// Number in the top of the strip that a piece beside a seam is; nothing for a patch or a block.
pub fn strip(plan: &Plan, seam: SeamRef, piece: usize) -> Option<usize> {
    match seam {
        SeamRef::Place { place, .. } => {
            let held = &plan.piecing.holds[place];
            held.frame_strips.get(piece.checked_sub(plan.piecing.designs[held.design].parts.len())?).copied()
        }
        SeamRef::Top { .. } => match plan.piecing.top_pieces[piece] {
            TopRef::Strip(strip) => Some(strip),
            TopRef::Place(_) => None,
        },
    }
}

/// Name of a piece beside a seam, as [`pieces_beside`] has it.
pub fn piece_name(plan: &Plan, seam: SeamRef, piece: usize) -> String {
    match (strip(plan, seam, piece), seam) {
        (Some(strip), _) => plan.top.strips[strip].name.clone(),
        (None, SeamRef::Place { place, .. }) => format!("{}.p{}", plan.top.places[place].name, piece + 1),
        (None, SeamRef::Top { .. }) => top_piece(plan, plan.piecing.top_pieces[piece]).to_owned(),
    }
}

/// The place a seam is seen from: its own, or the one that its name says.
pub fn seen_from(plan: &Plan, seam: SeamRef, name: &str) -> Option<usize> {
    match seam {
        SeamRef::Place { place, .. } => Some(place),
        SeamRef::Top { .. } => {
            name.split('~').nth(2).and_then(|from| plan.top.places.iter().position(|place| place.name == from))
        }
    }
}

/// Names of the seams round a place, to go from one to the next: its own in the order taken, then those of the top beside it.
pub fn round(plan: &Plan, place: usize) -> Vec<String> {
    let own = (0..of_place(plan, place).len()).map(|seam| name(plan, SeamRef::Place { place, seam }));
    let piece = plan.piecing.top_pieces.iter().position(|piece| *piece == TopRef::Place(place));
    let beside = |seam: &Seam| seam.course.iter().any(|each| Some(each.left) == piece || Some(each.right) == piece);
    let joins = of_top(plan).iter().enumerate().filter(|(_, seam)| beside(seam));
    let from = &plan.top.places[place].name;
    own.chain(joins.map(|(seam, _)| format!("{}~{from}", name(plan, SeamRef::Top { seam })))).collect()
}

/// Every seam of the quilt, and where it lies.
pub fn all(plan: &Plan) -> impl Iterator<Item = (SeamRef, &Seam, Pose)> {
    let places = plan.top.places.iter().enumerate().flat_map(move |(place, placed)| {
        let seams = of_place(plan, place).iter().enumerate();
        seams.map(move |(number, seam)| (SeamRef::Place { place, seam: number }, seam, placed.pose))
    });
    let top = of_top(plan).iter().enumerate().map(|(number, seam)| (SeamRef::Top { seam: number }, seam, Pose::IDENTITY));
    places.chain(top)
}

/// The seam nearest to a point of the top, no farther than `reach` from it.
pub fn nearest(plan: &Plan, at: Point, reach: f64) -> Option<SeamRef> {
    let mut best = (reach * reach, None);
    let mut last: Option<(Pose, Point)> = None;
    for (name, seam, pose) in all(plan) {
        // Seams of one place lie alike.
        let here = match last {
            Some((known, here)) if known == pose => here,
            _ => pose.inverse().apply(at),
        };
        last = Some((pose, here));
        for stretch in &seam.course {
            let away = (stretch.edge.nearest(here) - here).hypot2();
            if away < best.0 {
                best = (away, Some(name));
            }
        }
    }
    best.1
}

/// To which side a seam falls: left and right are those of [`pieces_beside`].
pub fn fall(plan: &Plan, seam: SeamRef) -> Fall {
    match seam {
        SeamRef::Place { place, seam } => plan.falls.pressing(&plan.piecing, place).falls[seam],
        SeamRef::Top { seam } => plan.falls.top[seam],
    }
}

/// Seams of `after` that lie between the same two pieces as in `before` and fall otherwise. Places with another block are left out.
pub fn turned_over(before: &Plan, after: &Plan) -> Vec<SeamRef> {
    let mut turned = Vec::new();
    let design = |plan: &Plan, place: usize| {
        let design = &plan.piecing.designs[plan.piecing.holds[place].design];
        (design.block, design.parts.len(), design.frame_pieces.len())
    };
    for place in 0..before.top.places.len().min(after.top.places.len()) {
        if design(before, place) == design(after, place) {
            let falls = |plan| -> &[Fall] { falls_of(plan, place) };
            let seams = changed((of_place(before, place), falls(before)), (of_place(after, place), falls(after)));
            turned.extend(seams.into_iter().map(|seam| SeamRef::Place { place, seam }));
        }
    }
    if before.piecing.top_pieces == after.piecing.top_pieces {
        let seams = changed((of_top(before), &before.falls.top), (of_top(after), &after.falls.top));
        turned.extend(seams.into_iter().map(|seam| SeamRef::Top { seam }));
    }
    turned
}

fn falls_of(plan: &Plan, place: usize) -> &[Fall] {
    &plan.falls.pressing(&plan.piecing, place).falls
}

/// Numbers of the seams that fall to another piece than between the same two before.
fn changed(before: (&[Seam], &[Fall]), after: (&[Seam], &[Fall])) -> Vec<usize> {
    if before == after {
        return Vec::new();
    }
    // Of two pieces, the lower number first: whether the seam falls to it.
    let sides = |seam: &Seam, fall: Fall| -> Vec<([usize; 2], Option<bool>)> {
        let side = |left: usize, right: usize| match fall {
            Fall::Open => None,
            Fall::Left => Some(left < right),
            Fall::Right => Some(right < left),
        };
        seam.course
            .iter()
            .map(|each| ([each.left.min(each.right), each.left.max(each.right)], side(each.left, each.right)))
            .collect()
    };
    let known: BTreeMap<_, _> = before.0.iter().zip(before.1).flat_map(|(seam, fall)| sides(seam, *fall)).collect();
    let turned = |(seam, fall): (&Seam, &Fall)| {
        sides(seam, *fall).iter().any(|(pieces, side)| known.get(pieces).is_some_and(|known| known != side))
    };
    let numbers = after.0.iter().zip(after.1).enumerate();
    numbers.filter(|(_, seam)| turned(*seam)).map(|(number, _)| number).collect()
}

/// Whether a word about a fall is about this seam.
pub fn is_between(quilt: &Quilt, plan: &Plan, seam: SeamRef, [a, b]: &[String; 2]) -> bool {
    if find(plan, &format!("{a}~{b}")) == Some(seam) {
        return true;
    }
    let SeamRef::Place { place, .. } = seam else { return false };
    let design = &plan.piecing.designs[plan.piecing.holds[place].design];
    let key = &quilt.blocks[design.block.0].key;
    let names = |piece: usize| format!("{key}.p{}", piece + 1);
    fall::seam(plan, seam).course.iter().any(|each| {
        let [left, right] = [names(each.left), names(each.right)];
        (&left, &right) == (a, b) || (&left, &right) == (b, a)
    })
}

/// Whether the first of two pieces that a seam joins lies to its left.
pub fn is_left(plan: &Plan, seam: SeamRef, [a, b]: &[String; 2]) -> bool {
    let pieces = match seam {
        SeamRef::Place { place, .. } => {
            // A block named as a whole is whatever lies beyond the strip of its frame.
            [a, b].map(|name| piece_of(plan, place, name))
        }
        SeamRef::Top { .. } => {
            [a, b].map(|name| plan.piecing.top_pieces.iter().position(|piece| top_piece(plan, *piece) == name))
        }
    };
    let is = |known: Option<usize>, piece: usize| known.is_none_or(|known| known == piece);
    fall::seam(plan, seam).course.iter().any(|each| is(pieces[0], each.left) && is(pieces[1], each.right))
}

/// Where a seam is, in words: `in B3`, `in the top`.
pub fn whose(plan: &Plan, seam: SeamRef) -> String {
    match seam {
        SeamRef::Place { place, .. } => tr!("in {place}", place = plan.top.places[place].name),
        SeamRef::Top { .. } => tr!("in a join of the top"),
    }
}

/// The word of the maker that holds on a seam, and whether it is about all copies of a block.
pub struct Word<'a> {
    /// The word.
    pub fall: &'a FixedFall,
    /// Whether it names patches of a block wherever it stands.
    pub of_block: bool,
    /// Whether the seam is pressed so, as the ledger says; else it was chosen.
    pub is_pressed: bool,
}

impl<'a> Word<'a> {
    /// The word on a seam, if there is one.
    pub fn on(quilt: &'a Quilt, plan: &'a Plan, seam: SeamRef) -> Option<Self> {
        let word = *fall::set_by_hand(quilt, plan).get(&seam)?;
        let fall = match word {
            SetBy::Pressed(number) => &plan.sewn.pressed[number],
            SetBy::Chosen(number) => &quilt.falls[number],
        };
        let of_block =
            quilt.blocks.iter().any(|block| fall.between[0].rsplit_once(".p").is_some_and(|(key, _)| key == block.key));
        Some(Self { fall, of_block, is_pressed: word.is_pressed() })
    }
}
