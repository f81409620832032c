//! Falls that the maker has set or has already pressed: the names in the files, found among designs, places and strips.
//!
//! In: the words of the ledger and of the quilt. Out: pairs of pieces and the side to fall to. A word on a block holds for all its
//! copies; one on a place makes that place a copy with a pressing of its own. What is pressed holds before what is chosen. Findings:
//! names of nothing, pieces that no seam joins, contradictions.

use super::SeamRef;
use super::model::between;
use crate::Plan;
use crate::piece::{Piecing, Sewing, TopRef};
use crate::set::Top;
use seamfall_model::{FallTo, Finding, FixedFall, Quilt, Spot};
use std::collections::BTreeMap;
use tr::tr;

/// All falls set by hand.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Hand {
    /// On every copy of a design.
    pub of_designs: Vec<Wish>,
    /// On one place.
    pub of_places: Vec<Wish>,
    /// On seams of the top.
    pub of_top: Vec<Wish>,
}

/// One fall set by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wish {
    /// Number of the design or the place; 0 for the top.
    pub on: usize,
    /// The pieces on either side.
    pub pieces: [usize; 2],
    /// Where the seam falls.
    pub side: Side,
    /// Where that is said.
    pub word: SetBy,
}

/// Where the fall of a seam is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SetBy {
    /// In the ledger: it is pressed so. Number of the word in [`Sewn::pressed`](crate::sewn::Sewn::pressed).
    Pressed(usize),
    /// In the quilt file: it was chosen. Number of the word in [`Quilt::falls`].
    Chosen(usize),
}

impl SetBy {
    /// Whether it was pressed, and not only chosen.
    #[must_use]
    pub fn is_pressed(self) -> bool {
        matches!(self, Self::Pressed(_))
    }

    /// The file that says it.
    fn file(self) -> String {
        if self.is_pressed() { tr!("ledger") } else { tr!("file") }
    }
}

/// Where a seam falls, seen from a pair of pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    First,
    Second,
    Open,
}

/// What a name of the file means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Named {
    /// A patch of a block, wherever it stands.
    Patch { block: usize, patch: usize },
    /// A piece of what a place holds.
    Piece { place: usize, piece: usize },
    /// A place as a whole.
    Place(usize),
    /// A strip of the top.
    Strip(usize),
}

/// Finds what the words mean, those of the ledger first.
pub(super) fn read(quilt: &Quilt, pressed: &[FixedFall], top: &Top, piecing: &Piecing, findings: &mut Vec<Finding>) -> Hand {
    let mut hand = Hand::default();
    let pressed = pressed.iter().enumerate().map(|(number, fall)| (SetBy::Pressed(number), fall));
    let chosen = quilt.falls.iter().enumerate().map(|(number, fall)| (SetBy::Chosen(number), fall));
    for (word, fall) in pressed.chain(chosen) {
        let names = names(quilt, top, piecing, (word, fall));
        let Ok([a, b]) = names else {
            findings.extend(names.err());
            continue;
        };
        let side = match fall.to {
            FallTo::First => Side::First,
            FallTo::Second => Side::Second,
            FallTo::Open => Side::Open,
        };
        if !hand.add(piecing, [a, b], side, word) {
            findings.push(
                Finding::warn(
                    spot(fall, top),
                    tr!("no seam joins {between} and {fall}", between = fall.between[0], fall = fall.between[1]),
                )
                .help(tr!("name two pieces that lie side by side, or take the fall out of the {file}", file = word.file())),
            );
        }
    }
    hand.contradictions(quilt, top, piecing, findings);
    hand
}

/// Seams whose fall is pressed or set by hand, each with the word that holds: what is pressed before what is chosen, one about all
/// copies of a block before one about a place, and else the first.
#[must_use]
pub fn set_by_hand(quilt: &Quilt, plan: &Plan) -> BTreeMap<SeamRef, SetBy> {
    let piecing = &plan.piecing;
    let mut set = BTreeMap::new();
    if quilt.falls.is_empty() && plan.sewn.pressed.is_empty() {
        return set;
    }
    let hand = read(quilt, &plan.sewn.pressed, &plan.top, piecing, &mut Vec::new());
    for pressed in [true, false] {
        hand.of(pressed).set(plan, &mut set);
    }
    set
}

/// The place of a word, as near as it can be said.
fn spot(fall: &FixedFall, top: &Top) -> Spot {
    let name = fall.between[0].split('.').next().unwrap_or_default();
    if top.places.iter().any(|place| place.name == name) { Spot::Place(name.to_owned()) } else { Spot::Falls }
}

fn names(quilt: &Quilt, top: &Top, piecing: &Piecing, (word, fall): (SetBy, &FixedFall)) -> Result<[Named; 2], Finding> {
    let named = |name: &str| {
        meant(quilt, top, piecing, name).ok_or_else(|| {
            Finding::warn(spot(fall, top), tr!("a fall is set beside `{name}`, which is nothing in this quilt", name))
                .help(tr!("the names of pieces are shown in the drawing; or take the fall out of the {file}", file = word.file()))
        })
    };
    Ok([named(&fall.between[0])?, named(&fall.between[1])?])
}

fn meant(quilt: &Quilt, top: &Top, piecing: &Piecing, name: &str) -> Option<Named> {
    let place = |name: &str| top.places.iter().position(|place| place.name == name);
    if let Some(place) = place(name) {
        return Some(Named::Place(place));
    }
    if let Some((of, patch)) =
        name.rsplit_once(".p").and_then(|(of, patch)| Some((of, patch.parse::<usize>().ok()?.checked_sub(1)?)))
    {
        if let Some(place) = place(of) {
            return Some(Named::Piece { place, piece: patch });
        }
        return quilt.blocks.iter().position(|block| block.key == of).map(|block| Named::Patch { block, patch });
    }
    let strip = top.strips.iter().position(|strip| strip.name == name)?;
    let framed = |held: &crate::piece::Held| held.frame_strips.iter().position(|other| *other == strip);
    let in_frame = piecing.holds.iter().enumerate().find_map(|(place, held)| Some((place, framed(held)?)));
    Some(match in_frame {
        Some((place, piece)) => Named::Piece { place, piece: frame_start(piecing, place) + piece },
        None => Named::Strip(strip),
    })
}

/// Number of the first piece of a place's frame: they come after the patches.
fn frame_start(piecing: &Piecing, place: usize) -> usize {
    piecing.designs[piecing.holds[place].design].parts.len()
}

impl Hand {
    /// Adds a word; false where no seam joins the two.
    fn add(&mut self, piecing: &Piecing, [a, b]: [Named; 2], side: Side, word: SetBy) -> bool {
        match (a, b) {
            (Named::Patch { block, patch: a }, Named::Patch { block: same, patch: b }) if block == same => {
                let before = self.of_designs.len();
                for (on, design) in piecing.designs.iter().enumerate().filter(|(_, design)| design.block.0 == block) {
                    if between(&design.orders[0].seams, [a, b]).is_some() {
                        self.of_designs.push(Wish { on, pieces: [a, b], side, word });
                    }
                }
                // A block that stands nowhere has no seam to press, and the word does no harm.
                self.of_designs.len() > before || piecing.designs.iter().all(|design| design.block.0 != block)
            }
            (Named::Piece { place, piece: a }, Named::Piece { place: same, piece: b }) if place == same => {
                self.on_place(piecing, Wish { on: place, pieces: [a, b], side, word })
            }
            // A frame's strip and its own block: the seam along the block is that of any of its patches there.
            (Named::Piece { place, piece }, Named::Place(same)) if place == same => {
                self.beside(piecing, place, piece, (side, word))
            }
            (Named::Place(same), Named::Piece { place, piece }) if place == same => {
                let turned = match side {
                    Side::First => Side::Second,
                    Side::Second => Side::First,
                    Side::Open => Side::Open,
                };
                self.beside(piecing, place, piece, (turned, word))
            }
            (a, b) => {
                let piece = |named| match named {
                    Named::Place(place) => piecing.top_pieces.iter().position(|piece| *piece == TopRef::Place(place)),
                    Named::Strip(strip) => piecing.top_pieces.iter().position(|piece| *piece == TopRef::Strip(strip)),
                    _ => None,
                };
                let Some(pieces) = piece(a).zip(piece(b)).map(|(a, b)| [a, b]) else { return false };
                let found = between(&piecing.top[0].seams, pieces).is_some();
                if found {
                    self.of_top.push(Wish { on: 0, pieces, side, word });
                }
                found
            }
        }
    }

    fn on_place(&mut self, piecing: &Piecing, wish: Wish) -> bool {
        let found = between(&sewing(piecing, wish.on).seams, wish.pieces).is_some();
        if found {
            self.of_places.push(wish);
        }
        found
    }

    /// The seam between a piece of the frame and the block.
    fn beside(&mut self, piecing: &Piecing, place: usize, strip: usize, (side, word): (Side, SetBy)) -> bool {
        let patches = frame_start(piecing, place);
        let beside = sewing(piecing, place).seams.iter().flat_map(|seam| &seam.course).find_map(|stretch| {
            match (stretch.left, stretch.right) {
                (left, right) if left == strip && right < patches => Some(right),
                (left, right) if right == strip && left < patches => Some(left),
                _ => None,
            }
        });
        beside.is_some_and(|patch| self.on_place(piecing, Wish { on: place, pieces: [strip, patch], side, word }))
    }

    /// What is pressed, or what is chosen.
    pub(super) fn of(&self, pressed: bool) -> Self {
        let those = |wishes: &[Wish]| wishes.iter().filter(|wish| wish.word.is_pressed() == pressed).copied().collect();
        Self { of_designs: those(&self.of_designs), of_places: those(&self.of_places), of_top: those(&self.of_top) }
    }

    /// Notes the words on seams that have none yet.
    fn set(&self, plan: &Plan, set: &mut BTreeMap<SeamRef, SetBy>) {
        let piecing = &plan.piecing;
        let mut on_place = |place: usize, wish: &Wish| {
            let sewing = plan.falls.sewing(piecing, piecing.holds[place].design);
            if let Some((seam, _)) = between(&sewing.seams, wish.pieces) {
                set.entry(SeamRef::Place { place, seam }).or_insert(wish.word);
            }
        };
        for wish in &self.of_designs {
            let here = piecing.holds.iter().enumerate().filter(|(_, held)| held.design == wish.on);
            here.for_each(|(place, _)| on_place(place, wish));
        }
        self.of_places.iter().for_each(|wish| on_place(wish.on, wish));
        for wish in &self.of_top {
            if let Some((seam, _)) = between(&plan.falls.top_sewing(piecing).seams, wish.pieces) {
                set.entry(SeamRef::Top { seam }).or_insert(wish.word);
            }
        }
    }

    /// Words that cannot both be: of one seam, one to this side and one to that.
    fn contradictions(&self, quilt: &Quilt, top: &Top, piecing: &Piecing, findings: &mut Vec<Finding>) {
        let mut check = |mut wishes: Vec<Wish>, seams: &Sewing, spot: Spot| {
            wishes.sort_by_key(|wish| !wish.word.is_pressed());
            let mut known: Vec<(usize, Option<bool>, SetBy)> = Vec::new();
            for wish in wishes {
                let Some((seam, turned)) = between(&seams.seams, wish.pieces) else { continue };
                let falls = match wish.side {
                    Side::Open => None,
                    Side::First => Some(!turned),
                    Side::Second => Some(turned),
                };
                match known.iter().find(|(other, ..)| *other == seam) {
                    Some((_, other, word)) if *other != falls => findings.push(contradiction(spot.clone(), *word, wish.word)),
                    Some(_) => {}
                    None => known.push((seam, falls, wish.word)),
                }
            }
        };
        for (on, design) in piecing.designs.iter().enumerate() {
            let own: Vec<Wish> = self.of_designs.iter().filter(|wish| wish.on == on).copied().collect();
            let key = &quilt.blocks[design.block.0].key;
            check(own.clone(), &design.orders[0], Spot::Block(key.clone()));
            for place in (0..top.places.len()).filter(|&place| piecing.holds[place].design == on) {
                let here: Vec<Wish> = self.of_places.iter().filter(|wish| wish.on == place).copied().collect();
                if !here.is_empty() {
                    check(
                        own.iter().chain(&here).copied().collect(),
                        &design.orders[0],
                        Spot::Place(top.places[place].name.clone()),
                    );
                }
            }
        }
        check(self.of_top.clone(), &piecing.top[0], Spot::Falls);
    }
}

fn sewing(piecing: &Piecing, place: usize) -> &Sewing {
    &piecing.designs[piecing.holds[place].design].orders[0]
}

/// Two words on one seam, the one that holds first.
fn contradiction(spot: Spot, holds: SetBy, other: SetBy) -> Finding {
    if holds.is_pressed() && !other.is_pressed() {
        return Finding::warn(spot, tr!("a seam is pressed otherwise than the file says; as it is pressed holds"))
            .help(tr!("take that fall out of the file, or press the seam anew and say so in the ledger"));
    }
    Finding::stop(spot, tr!("one seam is set to fall both ways; the first word on it holds here"))
        .help(tr!("take one of the two falls out of the {file}", file = holds.file()))
}
