//! Rows and columns of places.
//!
//! In: the problem. Out: which places hang together by their sides 1 and 3 (a row) and by their sides 2 and 0 (a column), each in its order.
//! Meetings of other sides, and a second one at the same side, are left out: what is left bounds the whole from below.

use super::{Meeting, Placing};

/// Rows are direction 0, columns direction 1.
pub(super) struct Lines {
    /// The lines of each direction, their places in order.
    pub lines: [Vec<Vec<usize>>; 2],
    /// For each direction the line of every place.
    pub of: [Vec<usize>; 2],
}

/// The side that looks ahead in each direction; the opposite one looks back.
pub(super) const AHEAD: [usize; 2] = [1, 2];

impl Lines {
    pub fn new(problem: &Placing) -> Self {
        let places = problem.kinds.len();
        let mut lines = [Vec::new(), Vec::new()];
        let mut of = [vec![usize::MAX; places], vec![usize::MAX; places]];
        for direction in 0..2 {
            let (next, last) = links(problem, AHEAD[direction]);
            // Lines from their first place; then rings, if there are any, from their lowest.
            let firsts = (0..places).filter(|&place| last[place].is_none()).chain(0..places);
            for first in firsts {
                if of[direction][first] != usize::MAX {
                    continue;
                }
                let mut line = Vec::new();
                let mut at = Some(first);
                while let Some(place) = at.filter(|&place| of[direction][place] == usize::MAX) {
                    of[direction][place] = lines[direction].len();
                    line.push(place);
                    at = next[place];
                }
                lines[direction].push(line);
            }
        }
        Self { lines, of }
    }

    /// Whether no row and no column have two places in common.
    pub fn cross_once(&self) -> bool {
        let mut pairs: Vec<_> = self.of[0].iter().zip(&self.of[1]).collect();
        pairs.sort_unstable();
        pairs.windows(2).all(|two| two[0] != two[1])
    }

    /// Whether every row crosses every column once: a rectangle, or at least as many places as one.
    pub fn is_full(&self) -> bool {
        self.cross_once() && self.lines[0].len() * self.lines[1].len() == self.of[0].len()
    }

    /// Places across and up, counted along the lines from wherever the first place is, none below 0. Nothing where the lines do not agree or
    /// do not hang together.
    pub fn positions(&self) -> Option<Vec<(i64, i64)>> {
        let places = self.of[0].len();
        let mut at: Vec<Option<(i64, i64)>> = vec![None; places];
        let mut row_known = vec![false; self.lines[0].len()];
        let mut column_known = vec![false; self.lines[1].len()];
        let mut open = if places > 0 { vec![0] } else { Vec::new() };
        if let Some(first) = at.first_mut() {
            *first = Some((0, 0));
        }
        while let Some(place) = open.pop() {
            let (x, y) = at[place].expect("known before it is opened");
            for direction in 0..2 {
                let line = self.of[direction][place];
                let known = if direction == 0 { &mut row_known } else { &mut column_known };
                if std::mem::replace(&mut known[line], true) {
                    continue;
                }
                let members = &self.lines[direction][line];
                let own = members.iter().position(|&member| member == place).expect("a place is in its line") as i64;
                for (number, &member) in members.iter().enumerate() {
                    let ahead = number as i64 - own;
                    let found = if direction == 0 { (x + ahead, y) } else { (x, y + ahead) };
                    match at[member] {
                        None => {
                            at[member] = Some(found);
                            open.push(member);
                        }
                        Some(known) if known != found => return None,
                        Some(_) => {}
                    }
                }
            }
        }
        let at: Vec<(i64, i64)> = at.into_iter().collect::<Option<_>>()?;
        let (left, low) = (at.iter().map(|p| p.0).min()?, at.iter().map(|p| p.1).min()?);
        Some(at.into_iter().map(|(x, y)| (x - left, y - low)).collect())
    }
}

/// For every place the one that its side `ahead` meets with its opposite side, and the other way round.
fn links(problem: &Placing, ahead: usize) -> (Vec<Option<usize>>, Vec<Option<usize>>) {
    let places = problem.kinds.len();
    let (mut next, mut last) = (vec![None; places], vec![None; places]);
    for Meeting { ends: [(a, s), (b, t)] } in problem.meetings.iter().copied() {
        let (from, to) = match (s, t) {
            (s, t) if s == ahead && (t + 2) % 4 == ahead => (a, b),
            (s, t) if t == ahead && (s + 2) % 4 == ahead => (b, a),
            _ => continue,
        };
        if next[from].is_none() && last[to].is_none() {
            (next[from], last[to]) = (Some(to), Some(from));
        }
    }
    (next, last)
}
