//! What is joined, and the straight cuts that take a group of it apart: a join read backwards.
//!
//! In: the contacts, and groups that are sewn already. Out: for any group the lines that divide it without crossing a piece. A group
//! divided by lines alone is convex as long as the whole is, so that no join leaves a corner into which another has to be set: taking
//! the whole apart by full lines gives all orders that trap no edge, and only those.

use super::mesh::{Extents, Mesh, SAME};
use super::{Part, SewnGroup};
use crate::set::Top;

/// A set of pieces, a bit each.
pub(super) type Set = Vec<u64>;

/// The pieces and the lines between them.
pub(super) struct Pieces<'a> {
    pub mesh: &'a Mesh,
    /// What each piece is.
    pub parts: Vec<Part>,
    /// For each section its piece.
    pub of_section: Vec<usize>,
    /// Area of each piece in thousandths.
    pub areas: Vec<u64>,
    /// Lines that some cut may take.
    pub lines: Vec<CutLine>,
}

/// A line along which pieces touch.
pub(super) struct CutLine {
    /// Number in [`Mesh::lines`].
    pub line: usize,
    pub level: bool,
    /// Pieces wholly to its left, and wholly to its right.
    pub left: Set,
    pub right: Set,
}

/// A thousandth of the unit, so that orders are compared in whole numbers.
pub(super) fn thousandths(value: f64) -> u64 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "sizes of a quilt are small and not negative")]
    let whole = (value * 1000.0).round() as u64;
    whole
}

/// Length of a stretch in thousandths. Its ends are rounded and not the length, so that stretches that follow one another add up to the whole; a bit
/// beside the middle, where no fraction of an inch lies.
pub(super) fn long([from, to]: [f64; 2]) -> u64 {
    #[expect(clippy::cast_possible_truncation, reason = "sizes of a quilt are small")]
    let at = |on: f64| (on * 1000.0 + 0.3).floor() as i64;
    at(to).abs_diff(at(from))
}

/// Words of a set of so many.
pub(super) fn words(count: usize) -> usize {
    count.div_ceil(64)
}

pub(super) fn put(set: &mut Set, piece: usize) {
    set[piece / 64] |= 1 << (piece % 64);
}

pub(super) fn holds(set: &Set, piece: usize) -> bool {
    set[piece / 64] >> (piece % 64) & 1 == 1
}

pub(super) fn and(a: &Set, b: &Set) -> Set {
    a.iter().zip(b).map(|(a, b)| a & b).collect()
}

pub(super) fn meets(a: &Set, b: &Set) -> bool {
    a.iter().zip(b).any(|(a, b)| a & b != 0)
}

/// Members of a set, in order.
pub(super) fn members(set: &Set) -> impl Iterator<Item = usize> + '_ {
    set.iter()
        .enumerate()
        .flat_map(|(word, bits)| (0..64).filter(move |bit| bits >> bit & 1 == 1).map(move |bit| word * 64 + bit))
}

/// The only member, if there is but one.
pub(super) fn only(set: &Set) -> Option<usize> {
    let count: u32 = set.iter().map(|word| word.count_ones()).sum();
    (count == 1).then(|| members(set).next()).flatten()
}

impl<'a> Pieces<'a> {
    /// Sections by themselves, except for what hangs together in `sewn`. Where one lies is told by `extents`, those of the mesh or such that leave out
    /// what is set in.
    pub fn new(mesh: &'a Mesh, top: &Top, sewn: &[SewnGroup], extents: &Extents) -> Self {
        let count = top.sections.len();
        let mut of_section = vec![usize::MAX; count];
        let (mut parts, mut areas, mut groups): (Vec<Part>, Vec<u64>, Vec<Vec<usize>>) = (Vec::new(), Vec::new(), Vec::new());
        for section in 0..count {
            if of_section[section] != usize::MAX {
                continue;
            }
            let group = sewn.iter().find(|group| group.sections.contains(&section));
            let sections = group.map_or_else(|| vec![section], |group| group.sections.clone());
            sections.iter().for_each(|&one| of_section[one] = parts.len());
            areas.push(sections.iter().map(|&one| thousandths(top.sections[one].outline.area())).sum());
            parts.push(group.map_or(Part::Section(section), |group| group.part));
            groups.push(sections);
        }
        let lines = (mesh.lines.iter().enumerate())
            .filter(|(_, line)| line.contacts.iter().any(|one| of_section[one.left] != of_section[one.right]))
            .map(|(number, line)| {
                let (mut left, mut right) = (vec![0; words(parts.len())], vec![0; words(parts.len())]);
                let extents = &extents[line.direction];
                for (piece, sections) in groups.iter().enumerate() {
                    let low = sections.iter().map(|&one| line.off - extents[one][0]).fold(f64::NEG_INFINITY, f64::max);
                    let high = sections.iter().map(|&one| extents[one][1] - line.off).fold(f64::NEG_INFINITY, f64::max);
                    if low < SAME && low < high {
                        put(&mut left, piece);
                    } else if high < SAME {
                        put(&mut right, piece);
                    }
                }
                CutLine { line: number, level: mesh.directions[line.direction].level, left, right }
            })
            .collect();
        Self { mesh, parts, of_section, areas, lines }
    }

    /// All pieces.
    pub fn all(&self) -> Set {
        let mut set = vec![0; words(self.parts.len())];
        (0..self.parts.len()).for_each(|piece| put(&mut set, piece));
        set
    }

    /// The numbers of the lines that take `set` apart.
    pub fn cuts(&self, set: &Set) -> impl Iterator<Item = usize> {
        (0..self.lines.len()).filter(|&number| {
            let line = &self.lines[number];
            let parted = set.iter().zip(line.left.iter().zip(&line.right)).all(|(all, (left, right))| all & !(left | right) == 0);
            parted && meets(set, &line.left) && meets(set, &line.right)
        })
    }

    /// What lies to the left and to the right of a line.
    pub fn split(&self, set: &Set, line: usize) -> [Set; 2] {
        [and(set, &self.lines[line].left), and(set, &self.lines[line].right)]
    }

    /// Area of a set in thousandths.
    pub fn area(&self, set: &Set) -> u64 {
        members(set).map(|piece| self.areas[piece]).sum()
    }

    /// The seam between what lies on the left and on the right of a line: where it begins and ends. Nothing where it has a gap.
    pub fn seam(&self, line: usize, [left, right]: [&Set; 2]) -> Option<[f64; 2]> {
        let contacts = self.mesh.lines[self.lines[line].line].contacts.iter();
        let mut seam: Option<[f64; 2]> = None;
        for one in contacts.filter(|one| holds(left, self.of_section[one.left]) && holds(right, self.of_section[one.right])) {
            match &mut seam {
                None => seam = Some(one.on),
                Some([_, end]) if one.on[0] - *end < SAME => *end = one.on[1],
                Some(_) => return None,
            }
        }
        seam
    }
}
