//! A bound from rows and columns, level by level.
//!
//! In: the problem. Out: a number that no placing is below.
//!
//! Rows have meetings of upright sides (1 and 3), columns of level ones (2 and 0). Take a level between two neighbouring values of such sides. An item with
//! both sides above it is *high* there, with both below *low*, else it *switches*. A row with a high and a low item is *mixed*: going along
//! it, there is a change from above to below at least once, twice where both ends are of one sort; every change is a meeting that crosses the
//! level or an item that switches. So the meetings of rows that cross the level are at least the changes of mixed rows less the items that
//! switch, and the cost is at least the sum over levels of their gap times that.
//!
//! How many rows and columns are mixed follows from counting. Items high in rows and in columns stand where a row with high items
//! crosses a column with high items, so there are no more of them than such rows times such columns; the same holds for low ones, and for the two
//! sorts across. A level of rows and one of columns are taken together for a common part of their gaps; each gap is used once.

use super::Placing;
use super::lines::{AHEAD, Lines};
use crate::Budget;

/// No number of lines does it.
const NEVER: u32 = u32::MAX / 4;

/// Where an item stands to a level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stand {
    Low = 1,
    High = 2,
    Switch = 4,
}

/// A level of one direction.
struct Level {
    gap: u64,
    stands: Vec<Stand>,
    /// By lines with high items and, of these, lines without low ones: the fewest crossings, [`NEVER`] if it cannot be.
    table: Vec<Vec<u32>>,
    /// The same where there are at least so many of the first and at most so many of the second.
    least: Vec<Vec<u32>>,
    high: usize,
}

pub(super) fn bound(problem: &Placing, budget: &mut Budget) -> u64 {
    let lines = Lines::new(problem);
    let levels = [0, 1].map(|direction| levels(problem, &lines, direction, budget));
    let Some([rows, columns]) = both(levels) else { return 0 };
    let alone = |level: &Level| u64::from(*level.table.iter().flatten().min().unwrap_or(&0));
    let single = [rows.iter().map(alone).collect::<Vec<_>>(), columns.iter().map(alone).collect::<Vec<_>>()];
    let mut left =
        [rows.iter().map(|level| level.gap).collect::<Vec<_>>(), columns.iter().map(|level| level.gap).collect::<Vec<_>>()];
    let mut sum = 0;
    if lines.cross_once() {
        let full = lines.is_full();
        let mut pairs = Vec::new();
        for (i, j) in likely(&rows, &columns) {
            let cost = (rows[i].table.len() * rows[i].table.len() * 4 + problem.kinds.len()) as u64;
            if !budget.spend(cost) {
                break;
            }
            let together = u64::from(together(&rows[i], &columns[j], full));
            if together > single[0][i] + single[1][j] {
                pairs.push((together - single[0][i] - single[1][j], i, j));
            }
        }
        pairs.sort_unstable_by_key(|&(gain, i, j)| (std::cmp::Reverse(gain), i.abs_diff(j), i, j));
        for (gain, i, j) in pairs {
            let part = left[0][i].min(left[1][j]);
            left[0][i] -= part;
            left[1][j] -= part;
            sum += part * (gain + single[0][i] + single[1][j]);
        }
    }
    for (gaps, singles) in left.iter().zip(&single) {
        sum += gaps.iter().zip(singles).map(|(gap, single)| gap * single).sum::<u64>();
    }
    sum
}

fn both([rows, columns]: [Option<Vec<Level>>; 2]) -> Option<[Vec<Level>; 2]> {
    Some([rows?, columns?])
}

/// Pairs of levels worth a look: for each level of rows the columns' that have about as many high items.
fn likely(rows: &[Level], columns: &[Level]) -> Vec<(usize, usize)> {
    let mut pairs = Vec::new();
    for (i, row) in rows.iter().enumerate() {
        let mut near: Vec<usize> = (0..columns.len()).collect();
        near.sort_by_key(|&j| (columns[j].high.abs_diff(row.high), j));
        pairs.extend(near.into_iter().take(6).map(|j| (i, j)));
    }
    pairs
}

/// The levels of a direction; nothing where the budget is too small.
fn levels(problem: &Placing, lines: &Lines, direction: usize, budget: &mut Budget) -> Option<Vec<Level>> {
    let [ahead, back] = [AHEAD[direction], (AHEAD[direction] + 2) % 4];
    let mut values: Vec<i64> = problem.sides.iter().flat_map(|sides| [sides[ahead], sides[back]]).collect();
    values.sort_unstable();
    values.dedup();
    let count = lines.lines[direction].len();
    let cost = values.len() * (problem.kinds.len() * 4 + count * count * count);
    if !budget.spend(cost as u64) {
        return None;
    }
    let level = |two: &[i64]| {
        let stand = |sides: &[i64; 4]| match (sides[ahead] >= two[1], sides[back] >= two[1]) {
            (true, true) => Stand::High,
            (false, false) => Stand::Low,
            _ => Stand::Switch,
        };
        let stands: Vec<Stand> = problem.sides.iter().map(stand).collect();
        let table = table(problem, &lines.lines[direction], &stands);
        let mut least = table.clone();
        for touched in (0..=count).rev() {
            for full in 0..=count {
                let more = if touched < count { least[touched + 1][full] } else { NEVER };
                let fewer = if full > 0 { least[touched][full - 1] } else { NEVER };
                least[touched][full] = least[touched][full].min(more).min(fewer);
            }
        }
        let high = stands.iter().filter(|stand| **stand == Stand::High).count();
        Level { gap: two[0].abs_diff(two[1]), stands, table, least, high }
    };
    Some(values.windows(2).map(level).collect())
}

/// What a line can be, and what it costs to be mixed.
struct Sort {
    can_be_low: bool,
    can_be_high: bool,
    mixed: u32,
    /// Places in it that can take a high item, and a low one.
    room: [usize; 2],
}

/// [`Level::table`].
fn table(problem: &Placing, lines: &[Vec<usize>], stands: &[Stand]) -> Vec<Vec<u32>> {
    let sorts = sorts(problem, lines, stands);
    let count = lines.len();
    let mut table = vec![vec![NEVER; count + 1]; count + 1];
    table[0][0] = 0;
    for (number, sort) in sorts.iter().enumerate() {
        for touched in (0..=number + 1).rev() {
            for full in (0..=touched).rev() {
                let mut least = if sort.can_be_low { table[touched][full] } else { NEVER };
                if touched > 0 {
                    least = least.min(table[touched - 1][full] + sort.mixed);
                    if sort.can_be_high && full > 0 {
                        least = least.min(table[touched - 1][full - 1]);
                    }
                }
                table[touched][full] = least.min(NEVER);
            }
        }
    }
    let number = |stand| stands.iter().filter(|one| **one == stand).count();
    let room = |which: usize| {
        let mut rooms: Vec<usize> = sorts.iter().map(|sort| sort.room[which]).collect();
        rooms.sort_unstable_by_key(|&room| std::cmp::Reverse(room));
        std::iter::once(0)
            .chain(rooms.into_iter().scan(0, |sum, room| {
                *sum += room;
                Some(*sum)
            }))
            .collect::<Vec<usize>>()
    };
    let (high_room, low_room) = (room(0), room(1));
    let (high, low, switch) = (number(Stand::High), number(Stand::Low), number(Stand::Switch) as u32);
    for (touched, row) in table.iter_mut().enumerate() {
        for (full, cell) in row.iter_mut().enumerate() {
            *cell = if *cell >= NEVER || high > high_room[touched] || low > low_room[count - full] {
                NEVER
            } else {
                cell.saturating_sub(switch)
            };
        }
    }
    table
}

fn sorts(problem: &Placing, lines: &[Vec<usize>], stands: &[Stand]) -> Vec<Sort> {
    let kinds = problem.kinds.iter().max().map_or(0, |most| most + 1);
    let mut of_kind = vec![0u8; kinds];
    for (item, stand) in stands.iter().enumerate().filter(|(item, _)| !problem.fixed[*item]) {
        of_kind[problem.kinds[item]] |= *stand as u8;
    }
    // What can stand in a place.
    let can = |place: usize| if problem.fixed[place] { stands[place] as u8 } else { of_kind[problem.kinds[place]] };
    let sort = |line: &Vec<usize>| {
        let ends = [can(line[0]), can(line[line.len() - 1])];
        let alike = ends == [Stand::Low as u8; 2] || ends == [Stand::High as u8; 2];
        let room = |stand: Stand| line.iter().filter(|place| can(**place) & stand as u8 != 0).count();
        Sort {
            can_be_low: line.iter().all(|&place| can(place) != Stand::High as u8),
            can_be_high: line.iter().all(|&place| can(place) != Stand::Low as u8),
            mixed: if alike { 2 } else { 1 },
            room: [room(Stand::High), room(Stand::Low)],
        }
    };
    lines.iter().map(sort).collect()
}

/// The fewest crossings of a level of rows and one of columns in one placing.
fn together(rows: &Level, columns: &Level, full: bool) -> u32 {
    let count = |row: Stand, column: Stand| {
        rows.stands.iter().zip(&columns.stands).filter(|(one, other)| **one == row && **other == column).count()
    };
    let both_high = count(Stand::High, Stand::High);
    let both_low = count(Stand::Low, Stand::Low);
    let (row_high, row_low) = (count(Stand::High, Stand::Low), count(Stand::Low, Stand::High));
    let all =
        |test: &dyn Fn(Stand, Stand) -> bool| rows.stands.iter().zip(&columns.stands).all(|(row, column)| test(*row, *column));
    // On a whole rectangle: a column without low items has a high one in every row, if what is not low in columns is high in rows; and so on.
    let column_fills = full && all(&|row, column| column == Stand::Low || row == Stand::High);
    let row_fills = full && all(&|row, column| row == Stand::Low || column == Stand::High);
    let (of_rows, of_columns) = (rows.table.len() - 1, columns.table.len() - 1);
    let mut least = NEVER;
    for touched in 0..=of_columns {
        let bare = of_columns - touched;
        for filled in 0..=touched {
            let cost = columns.table[touched][filled];
            if cost >= least {
                continue;
            }
            let unfilled = of_columns - filled;
            let need = |items: usize, lines: usize| {
                if items == 0 {
                    Some(0)
                } else if lines == 0 {
                    None
                } else {
                    Some(items.div_ceil(lines))
                }
            };
            // Rows with high items, and rows with low ones, that are needed to hold each sort.
            let needs = [need(both_high, touched), need(row_high, unfilled), need(both_low, unfilled), need(row_low, touched)];
            let [Some(a), Some(b), Some(c), Some(d)] = needs else { continue };
            let (mut with_high, with_low) = (a.max(b), c.max(d));
            if with_high > of_rows || with_low > of_rows {
                continue;
            }
            let mut most_full = of_rows - with_low;
            if column_fills && filled > 0 {
                with_high = of_rows;
            }
            if row_fills && bare > 0 {
                most_full = 0;
            }
            least = least.min(cost.saturating_add(rows.least[with_high][most_full]).min(NEVER));
        }
    }
    if least >= NEVER { 0 } else { least }
}
