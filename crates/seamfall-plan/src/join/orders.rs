//! Orders of joins: rows, columns and halves.
//!
//! In: the pieces. Out: a tree of joins as a list, each after those it needs; or what cannot be joined so. The whole is taken apart by full
//! lines, and the cuts are read backwards. Strips are sewn first, each from its beginning, then one to another from the top or from the left.

use super::pieces::{Pieces, Set, members, only};
use super::{Part, Stuck};

/// A join of a tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Node {
    /// What lies to the left and to the right of its seam.
    pub parts: [Part; 2],
    /// Number of its line in the mesh.
    pub line: usize,
    /// Where its seam begins and ends along it.
    pub on: [f64; 2],
    /// Area of both parts in thousandths.
    pub area: u64,
    /// Whether it is sewn already.
    pub sewn: bool,
    /// Whether it joins whole strips, in an order that has them.
    pub between: bool,
}

/// A tree as it grows. It begins with what is sewn.
pub(super) struct Tree<'a, 'b> {
    pub pieces: &'a Pieces<'b>,
    pub nodes: Vec<Node>,
}

impl Tree<'_, '_> {
    /// Joins two parts along a line.
    pub fn join(&mut self, line: usize, sides: [(Part, &Set); 2], between: bool) -> Result<Part, Stuck> {
        let [left, right] = sides;
        let sets = [left.1, right.1];
        let on = self.pieces.seam(line, sets).ok_or_else(|| stuck(self.pieces, left.1))?;
        let area = sets.iter().map(|set| self.pieces.area(set)).sum();
        let line = self.pieces.lines[line].line;
        self.nodes.push(Node { parts: [left.0, right.0], line, on, area, sewn: false, between });
        Ok(Part::Join(self.nodes.len() - 1))
    }

    /// Joins `set` strip by strip, `level` strips where it can be divided into them.
    pub fn strips(&mut self, set: &Set, level: bool, outermost: bool) -> Result<Part, Stuck> {
        if let Some(piece) = only(set) {
            return Ok(self.pieces.parts[piece]);
        }
        let (lines, strips) = strips(self.pieces, set, level).ok_or_else(|| stuck(self.pieces, set))?;
        // Strips of strips run the other way wherever they can; a strip that can only be divided as before is so.
        let parts = strips.iter().map(|strip| self.strips(strip, level, false)).collect::<Result<Vec<Part>, Stuck>>()?;
        let (mut done, mut part) = (strips[0].clone(), parts[0]);
        for ((line, strip), next) in lines.into_iter().zip(&strips[1..]).zip(&parts[1..]) {
            part = self.join(line, [(part, &done), (*next, strip)], outermost)?;
            done.iter_mut().zip(strip).for_each(|(all, more)| *all |= more);
        }
        Ok(part)
    }

    /// Joins halves: each group is made of two as nearly equal as can be; of equals the shorter seam, then the earlier line.
    pub fn halves(&mut self, set: &Set) -> Result<Part, Stuck> {
        if let Some(piece) = only(set) {
            return Ok(self.pieces.parts[piece]);
        }
        let pieces = self.pieces;
        let cost = |line: usize| {
            let [left, right] = pieces.split(set, line);
            let on = pieces.seam(line, [&left, &right]);
            let long = on.map_or(u64::MAX, super::pieces::long);
            (pieces.area(&left).abs_diff(pieces.area(&right)), long, line)
        };
        let best = pieces.cuts(set).min_by_key(|&line| cost(line)).ok_or_else(|| stuck(pieces, set))?;
        let [left, right] = pieces.split(set, best);
        let parts = [self.halves(&left)?, self.halves(&right)?];
        self.join(best, [(parts[0], &left), (parts[1], &right)], false)
    }
}

/// The lines that divide `set` into strips, level ones if there are any, and the strips, from the top or from the left.
pub(super) fn strips(pieces: &Pieces, set: &Set, level: bool) -> Option<(Vec<usize>, Vec<Set>)> {
    let all: Vec<usize> = pieces.cuts(set).collect();
    let first = all.iter().find(|&&line| pieces.lines[line].level == level).or(all.first())?;
    let direction = |line: usize| pieces.mesh.lines[pieces.lines[line].line].direction;
    // Lines of a direction are sorted from the bottom or from the right: what lies to their left comes first.
    let lines: Vec<usize> = all.iter().rev().copied().filter(|&line| direction(line) == direction(*first)).collect();
    let (mut rest, mut strips) = (set.clone(), Vec::new());
    for &line in &lines {
        let [strip, more] = pieces.split(&rest, line);
        strips.push(strip);
        rest = more;
    }
    strips.push(rest);
    Some((lines, strips))
}

/// Whether what is sewn fits an order in strips: every group lies in one strip, or is made of whole ones. `pieces` are single sections, so
/// that a section is its piece. What does not is given back.
pub(super) fn against_strips(pieces: &Pieces, set: &Set, level: bool, sewn: &[super::SewnGroup]) -> Option<usize> {
    let (_, strips) = strips(pieces, set, level)?;
    for (number, group) in sewn.iter().enumerate() {
        let inside = |strip: &Set| members(strip).filter(|section| group.sections.contains(section)).count();
        let touched: Vec<&Set> = strips.iter().filter(|strip| inside(strip) > 0).collect();
        let whole = |strip: &&Set| inside(strip) == members(strip).count();
        if touched.len() > 1 && !touched.iter().all(whole) {
            return Some(number);
        }
    }
    strips.iter().find_map(|strip| against_strips(pieces, strip, level, sewn))
}

fn stuck(pieces: &Pieces, set: &Set) -> Stuck {
    let inside = |section: &usize| members(set).any(|piece| piece == pieces.of_section[*section]);
    Stuck { sections: (0..pieces.of_section.len()).filter(inside).collect() }
}
