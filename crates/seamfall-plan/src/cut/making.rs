//! How units are made: each patch cut by itself, or a faster way.
//!
//! In: units, and what the maker chose. Out: for every unit that has a faster way what is cut for it, how many are made at a time, how
//! often, and how many are over; and which patches come from it, so that the cut list follows.
//!
//! Taken is what the maker chose. Otherwise the fastest way that pays: of those of which at least one whole batch is needed and no more
//! than a quarter of what is made is over, the one that makes the most at a time. A way that would turn a print with a direction is
//! never taken unasked. Rows within longer rows are not made by themselves, and no unit that holds a strip of a frame is made so.

use super::rules::{self, Table};
use crate::Staged;
use crate::piece::{Look, Piecing, Sewn, UnitKind, Units, unit_kind};
use seamfall_geom::TOLERANCE;
use seamfall_model::{BlockId, ChosenWay, ClothId, Finding, Finished, Length, MakingWay, Print, Quilt, Spot, Working};
use tr::tr;

/// How all units are made.
#[derive(Debug, Clone, PartialEq)]
pub struct Making {
    /// Units that have a faster way, in the order of making.
    pub units: Vec<UnitMaking>,
    /// Places that hold the same in the same cloths, as in [`Units::looks`].
    pub looks: Vec<LookMaking>,
}

/// How a unit is made.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitMaking {
    /// Number of the unit in [`Units::all`].
    pub unit: usize,
    /// What kind of unit it is.
    pub kind: UnitKind,
    /// How many are needed; a row that is part of a longer row is not counted.
    pub count: usize,
    /// The faster ways there are, the fastest first. At least one.
    pub ways: Vec<FasterWay>,
    /// Which of them is taken; none where every patch is cut by itself.
    pub taken: Option<usize>,
    /// Whether the maker chose it.
    pub is_chosen: bool,
}

impl Making {
    /// A patch by which a unit of [`Making::units`] is named in the quilt file: its block, and its number from 0.
    #[must_use]
    pub fn patch_of(&self, unit: usize) -> Option<(BlockId, usize)> {
        self.looks.iter().find_map(|look| Some((look.block, look.units.iter().position(|other| *other == Some(unit))?)))
    }
}

impl UnitMaking {
    /// The way that is taken, if it is a faster one.
    #[must_use]
    pub fn faster(&self) -> Option<&FasterWay> {
        self.taken.map(|taken| &self.ways[taken])
    }
}

/// A faster way to make a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct FasterWay {
    /// Which.
    pub way: MakingWay,
    /// What is cut.
    pub from: Vec<CutFor>,
    /// Of a strip set: where it is cut across, and how many units it gives.
    pub set: Option<StripSet>,
    /// How many are made at a time.
    pub at_a_time: usize,
    /// How often.
    pub batches: Working,
    /// How many are made more than needed.
    pub over: usize,
    /// With every two come two that are their mirror image. They are over.
    pub has_mirrored: bool,
}

/// Squares or strips cut for a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct CutFor {
    /// Their cloth.
    pub cloth: ClothId,
    /// Cut width.
    pub width: Working,
    /// Cut length: the same for squares, the width of the cloth for strips.
    pub length: Working,
    /// How many for one batch.
    pub a_batch: usize,
    /// Finished area of a patch that comes from it.
    pub patch_area: f64,
}

/// A strip set cut up.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSet {
    /// Length of each unit as it is cut off.
    pub cut: Working,
    /// Units from one set.
    pub units: Working,
}

/// How the patches of a look come about.
#[derive(Debug, Clone, PartialEq)]
pub struct LookMaking {
    /// The block.
    pub block: BlockId,
    /// Whether it is sewn as its mirror image.
    pub mirrored: bool,
    /// How many places have it.
    pub places: usize,
    /// Cloth of each patch.
    pub cloths: Vec<Option<ClothId>>,
    /// For each patch the unit it is made in, by its number in [`Making::units`]; nothing where its units have no faster way.
    pub units: Vec<Option<usize>>,
}

impl FasterWay {
    /// Whether it is worth while unasked: at least one whole batch is needed, and no more than a quarter of what is made is over.
    ///
    /// Eight at a time from eight on (but not for nine to eleven), two at a time from two on. Source: common practice for the whole
    /// batch; the quarter was found by weighing a few examples.
    fn pays(&self, count: usize) -> bool {
        count >= self.at_a_time && 4 * self.over <= count + self.over
    }

    /// What a patch of this cloth and finished area is cut from.
    pub(super) fn source(&self, cloth: ClothId, area: f64) -> Option<usize> {
        let off = |each: &CutFor| (each.patch_area - area).abs();
        let own = self.from.iter().enumerate().filter(|(_, each)| each.cloth == cloth);
        own.min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b))).map(|(number, _)| number)
    }

    fn fits(&self, quilt: &Quilt) -> bool {
        let room = |each: &CutFor| quilt.cloths[each.cloth.0].across().value() + TOLERANCE;
        self.at_a_time > 0 && self.from.iter().all(|each| each.width.value <= room(each))
    }

    /// The first cloth whose print is turned from unit to unit in this way.
    fn turned_print(&self, kind: &UnitKind, quilt: &Quilt) -> Option<ClothId> {
        // Half a turn, for two half-square units; quarters for the rest. In a strip set all pieces lie alike, but across the row.
        let half_turn = matches!((self.way, kind), (MakingWay::TwoAtATime, UnitKind::HalfSquares { .. }));
        let is_turned = |cloth: &&ClothId| match quilt.cloths[cloth.0].print {
            Print::None => false,
            Print::TwoWay => !half_turn,
            Print::OneWay => true,
        };
        self.from.iter().map(|each| &each.cloth).find(is_turned).copied()
    }
}

/// Finds how all units are made; `orders` says for each design in which order it is sewn.
///
/// Findings: a way that was chosen for a patch and cannot be had, with those that can; a chosen way that turns a print.
#[must_use]
pub fn making(quilt: &Quilt, piecing: &Piecing, orders: &[usize], units: &Units) -> Staged<Making> {
    let kinds: Vec<Option<UnitKind>> = units.all.iter().map(unit_kind).collect();
    let mut made = Making { units: Vec::new(), looks: Vec::new() };
    let mut counts = vec![0; units.all.len()];
    for look in &units.looks {
        let (made_look, own) = look_of(quilt, piecing, orders[look.design], look, &kinds);
        own.into_iter().for_each(|unit| counts[unit] += look.places.len());
        made.looks.push(made_look);
    }
    let mut numbers = vec![None; units.all.len()];
    for (unit, kind) in kinds.into_iter().enumerate() {
        let Some(kind) = kind.filter(|_| counts[unit] > 0) else { continue };
        let ways = faster_ways(quilt, &kind, counts[unit]);
        if ways.is_empty() {
            continue;
        }
        numbers[unit] = Some(made.units.len());
        let taken = ways.iter().position(|way| way.pays(counts[unit]) && way.turned_print(&kind, quilt).is_none());
        made.units.push(UnitMaking { unit, kind, count: counts[unit], ways, taken, is_chosen: false });
    }
    for unit in made.looks.iter_mut().flat_map(|look| &mut look.units) {
        *unit = unit.and_then(|unit| numbers[unit]);
    }
    let mut findings = Vec::new();
    for chosen in &quilt.ways {
        findings.extend(made.choose(quilt, chosen));
    }
    for unit in made.units.iter().filter(|unit| unit.is_chosen) {
        findings.extend(turned(quilt, unit));
    }
    Staged { result: made, findings }
}

/// The patches of a look, each with its unit by its number among all, and the units that are made, once for each time.
fn look_of(quilt: &Quilt, piecing: &Piecing, order: usize, look: &Look, kinds: &[Option<UnitKind>]) -> (LookMaking, Vec<usize>) {
    let design = &piecing.designs[look.design];
    let patches = design.parts.len();
    let joins = &design.orders[order].joins;
    let mut members: Vec<Vec<usize>> = Vec::with_capacity(joins.len());
    for join in joins {
        let of = |sewn: Sewn| match sewn {
            Sewn::Piece(piece) => vec![piece],
            Sewn::Join(join) => members[join].clone(),
        };
        let both = [of(join.left), of(join.right)].concat();
        members.push(both);
    }
    let (mut units, mut own) = (vec![None; patches], Vec::new());
    // Wholes before their parts: a row that is part of a row is met when its patches have a unit already.
    for (pieces, &unit) in members.iter().zip(&look.units).rev() {
        let is_free = |&piece: &usize| piece < patches && units[piece].is_none();
        // What shows a motif is cut by itself, and so is all that would be cut with it.
        let shows_motif = |&piece: &usize| {
            let cloth = if piece < patches { look.cloths[piece] } else { None };
            cloth.is_some_and(|cloth| quilt.motif(design.block, Some(piece + 1), design.parts[piece], cloth).is_some())
        };
        if kinds[unit].is_some() && pieces.iter().all(is_free) && !pieces.iter().any(shows_motif) {
            pieces.iter().for_each(|&piece| units[piece] = Some(unit));
            own.push(unit);
        }
    }
    let cloths = look.cloths[..patches].to_vec();
    (LookMaking { block: design.block, mirrored: design.mirrored, places: look.places.len(), cloths, units }, own)
}

/// The faster ways of a unit of which `count` are needed, the fastest first.
fn faster_ways(quilt: &Quilt, kind: &UnitKind, count: usize) -> Vec<FasterWay> {
    let table = Table { allowance: quilt.allowance, step: quilt.step };
    let finished = |length: f64| Finished(Length::new(length));
    let mut ways = match kind {
        UnitKind::HalfSquares { side, cloths } => {
            let area = side * side / 2.0;
            let from = |size: &Working| cloths.iter().fold(Vec::new(), |from, &cloth| with(from, square(cloth, size, area)));
            vec![
                batch(MakingWay::EightAtATime, from(&table.eight_half_squares(finished(*side))), 8, count),
                batch(MakingWay::TwoAtATime, from(&table.two_half_squares(finished(*side))), 2, count),
            ]
        }
        UnitKind::QuarterSquares { side, cloths } => {
            let (squares, at_a_time, has_mirrored) = quarter_square_batch(*cloths);
            let (size, area) = (table.quarter_square_units(finished(*side)), side * side / 4.0);
            let from = squares.into_iter().fold(Vec::new(), |from, cloth| with(from, square(cloth, &size, area)));
            let mut way = batch(MakingWay::TwoAtATime, from, at_a_time, count);
            if has_mirrored {
                (way.has_mirrored, way.over) = (true, way.over + way.batches.count() * at_a_time);
            }
            vec![way]
        }
        UnitKind::Goose { width, goose, sky } => {
            let large = square(*goose, &table.goose_square(finished(*width)), width * width / 4.0);
            let small = square(*sky, &table.sky_square(finished(width / 2.0)), width * width / 8.0);
            vec![batch(MakingWay::FourAtATime, vec![large, CutFor { a_batch: 4, ..small }], 4, count)]
        }
        UnitKind::Row { length, strips } => vec![strip_set(quilt, table, *length, strips, count)],
    };
    ways.retain(|way| way.fits(quilt));
    ways
}

fn square(cloth: ClothId, side: &Working, patch_area: f64) -> CutFor {
    CutFor { cloth, width: side.clone(), length: side.clone(), a_batch: 1, patch_area }
}

/// Adds what is cut; what is like something already there is counted with it.
fn with(mut from: Vec<CutFor>, one: CutFor) -> Vec<CutFor> {
    let is_like =
        |other: &&mut CutFor| other.cloth == one.cloth && (other.width.exact - one.width.exact).abs() <= 10.0 * TOLERANCE;
    match from.iter_mut().find(is_like) {
        Some(like) => like.a_batch += one.a_batch,
        None => from.push(one),
    }
    from
}

fn batch(way: MakingWay, from: Vec<CutFor>, at_a_time: usize, count: usize) -> FasterWay {
    // A set that gives nothing is left out later; it must only not divide by nothing here.
    let batches = rules::batches(count, at_a_time.max(1));
    let over = (batches.count() * at_a_time).saturating_sub(count);
    FasterWay { way, from, set: None, at_a_time, batches, over, has_mirrored: false }
}

/// Squares for one batch of quarter-square units, how many units they make, and whether half of them are mirror images besides.
///
/// Each half of the unit is half of a half-square unit; one pair of squares makes two of these, alike, and two of them laid upon one
/// another and cut make a unit and its mirror image. So where both halves are alike one pair of squares makes two units; else two
/// pairs make four, two of them mirrored, which is the same unit when its cloths read the same both ways round.
fn quarter_square_batch([a, b, c, d]: [ClothId; 4]) -> (Vec<ClothId>, usize, bool) {
    let alike = |[p, q]: [ClothId; 2], [r, s]: [ClothId; 2]| (p, q) == (r, s) || (p, q) == (s, r);
    if alike([a, b], [c, d]) {
        return (vec![a, b], 2, false);
    }
    if alike([b, c], [d, a]) {
        return (vec![b, c], 2, false);
    }
    let own_image = a == c || b == d || (a == b && c == d) || (b == c && d == a);
    (vec![a, b, c, d], if own_image { 4 } else { 2 }, !own_image)
}

/// Strips as long as the narrowest of their cloths is wide.
fn strip_set(quilt: &Quilt, table: Table, length: f64, strips: &[(ClothId, f64)], count: usize) -> FasterWay {
    let finished = |length: f64| Finished(Length::new(length));
    let usable = strips.iter().map(|(cloth, _)| quilt.cloths[cloth.0].across().value()).fold(f64::INFINITY, f64::min);
    let cut = table.set_cut(finished(length));
    let units = rules::units_a_set(Length::new(usable), &cut);
    let strip = |&(cloth, width): &(ClothId, f64)| CutFor {
        cloth,
        width: table.set_strip(finished(width)),
        length: rules::length_of_a_set(Length::new(usable)),
        a_batch: 1,
        patch_area: width * length,
    };
    let from = strips.iter().map(strip).fold(Vec::new(), with);
    FasterWay { set: Some(StripSet { cut, units: units.clone() }), ..batch(MakingWay::StripSet, from, units.count(), count) }
}

impl Making {
    /// Takes what the maker chose for the units of a patch, wherever its block stands; what there is to say where that cannot be.
    fn choose(&mut self, quilt: &Quilt, chosen: &ChosenWay) -> Option<Finding> {
        let block = &quilt.blocks[chosen.block.0];
        let number = quilt.ways.iter().position(|way| way == chosen).unwrap_or(0).to_string();
        let warn = |reason: String| {
            let spot = Spot::Patch { block: block.key.clone(), patch: chosen.patch };
            Some(Finding::warn(spot, reason).remove(&["way", &number]))
        };
        let looks = || self.looks.iter().filter(|look| look.block == chosen.block);
        let Some(patches) = looks().map(|look| look.units.len()).next() else {
            return warn(tr!("it is made {way}, but its block stands at no place", way = name(chosen.way)))
                .map(|finding| finding.help(tr!("put the block at a place, or take the way of making out of the file")));
        };
        if chosen.patch > patches {
            return warn(tr!("there is no such patch"))
                .map(|finding| finding.help(tr!("the block has patches 1 to {patches}", patches)));
        }
        let mut units: Vec<usize> = looks().filter_map(|look| look.units[chosen.patch - 1]).collect();
        units.sort_unstable();
        units.dedup();
        if units.is_empty() && chosen.way != MakingWay::Plain {
            return warn(tr!("no unit of it can be made {way}", way = name(chosen.way)))
                .map(|finding| finding.help(tr!("take the way of making out of the file; every patch is cut by itself here")));
        }
        let (mut can, mut other) = (Vec::new(), Vec::new());
        for unit in units {
            let ways = &self.units[unit].ways;
            match ways.iter().position(|way| way.way == chosen.way) {
                Some(way) => can.push((unit, Some(way))),
                None if chosen.way == MakingWay::Plain => can.push((unit, None)),
                None => other.extend(ways.iter().map(|way| name(way.way))),
            }
        }
        if can.is_empty() && chosen.way != MakingWay::Plain {
            other.dedup();
            return warn(tr!("its unit cannot be made {way}", way = name(chosen.way))).map(|finding| {
                finding.help(tr!(
                    "it can be made {other}, or plain",
                    other = other.into_iter().reduce(|all, one| tr!("{all} or {one}", all, one)).unwrap_or_default()
                ))
            });
        }
        for (unit, taken) in can {
            let unit = &mut self.units[unit];
            if unit.is_chosen && unit.taken != taken {
                let now = name(unit.faster().map_or(MakingWay::Plain, |way| way.way));
                return warn(tr!("its unit is made {now}, as another of its patches says", now))
                    .map(|finding| finding.help(tr!("take one of the two ways of making out of the file")));
            }
            (unit.taken, unit.is_chosen) = (taken, true);
        }
        None
    }
}

/// What there is to say of a chosen way that turns a print. In a strip set all pieces lie alike; that is left to the maker.
fn turned(quilt: &Quilt, unit: &UnitMaking) -> Option<Finding> {
    let way = unit.faster().filter(|way| way.way != MakingWay::StripSet)?;
    let cloth = &quilt.cloths[way.turned_print(&unit.kind, quilt)?.0];
    let reason = tr!("its print has a direction, and units made {way} show it turned", way = name(way.way));
    Some(
        Finding::warn(Spot::Cloth(cloth.key.clone()), reason)
            .help(tr!("make these units plain, or take a cloth without a direction")),
    )
}

/// A way in words.
fn name(way: MakingWay) -> String {
    crate::words::making_way(way)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two half-square units, cloths `p` over `q` and `s` over `r` when laid upon one another, sewn and cut apart along the diagonal
    /// across their seams: both units, cloths anticlockwise from the right. Found by folding paper: opened along the cut, what lay on
    /// the top quarter comes to the left and what lay on the right quarter to the bottom.
    fn laid_upon([p, q]: [usize; 2], [s, r]: [usize; 2]) -> [[usize; 4]; 2] {
        [[q, p, s, r], [r, s, p, q]]
    }

    fn is_turned(a: [usize; 4], b: [usize; 4]) -> bool {
        (0..4).any(|turn| (0..4).all(|i| a[i] == b[(i + turn) % 4]))
    }

    #[test]
    fn quarter_square_batches_give_what_they_say() {
        for n in 0..256 {
            let unit = [n % 4, n / 4 % 4, n / 16 % 4, n / 64];
            let (squares, at_a_time, has_mirrored) = quarter_square_batch(unit.map(ClothId));
            let squares: Vec<usize> = squares.into_iter().map(|cloth| cloth.0).collect();
            // From each pair of squares two half-square units, either way up.
            let (first, second) = (&squares[..2], if squares.len() == 4 { &squares[2..] } else { &squares[..2] });
            let ways = |pair: &[usize]| [[pair[0], pair[1]], [pair[1], pair[0]]];
            let laid = ways(first).into_iter().flat_map(|a| ways(second).map(|b| laid_upon(a, b)));
            let good = |units: &[[usize; 4]; 2]| units.iter().filter(|made| is_turned(**made, unit)).count();
            let most = laid.map(|units| good(&units)).max().unwrap_or(0);
            // Two pairs are laid upon one another twice.
            assert_eq!(most * squares.len() / 2, at_a_time, "{unit:?}");
            assert_eq!(has_mirrored, most == 1, "{unit:?}");
        }
    }
}
