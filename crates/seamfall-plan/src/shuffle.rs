//! Blocks turned in other ways, to see what a quilt could look like.
//!
//! In: a quilt, its plan, which block, and in what manner. Out: for every place by how much to turn it. Places whose block is framed already stay
//! as they are, and a block that is not square turns only by half.

use crate::Plan;
use crate::turning::is_framed;
use seamfall_geom::TOLERANCE;
use seamfall_model::{BlockId, Quilt};
use seamfall_solve::Chance;

/// In what manner blocks are turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Manner {
    /// All as they are drawn.
    Alike,
    /// Every second row half round.
    Rows,
    /// Every second column half round.
    Columns,
    /// Every second block a quarter, as on a draughtboard.
    Checks,
    /// Four blocks turned round the corner in which they meet.
    Fours,
    /// By chance, the same from the same number.
    Chance(u64),
}

/// Row and number of every place that is turned, and by how many quarters to the left, of those of `block` or of all.
#[must_use]
pub fn shuffled(quilt: &Quilt, plan: &Plan, block: Option<BlockId>, manner: Manner) -> Vec<(usize, usize, u8)> {
    let mut chance = match manner {
        Manner::Chance(seed) => Chance::new(seed),
        _ => Chance::new(0),
    };
    let mut turns = Vec::new();
    for (number, place) in plan.top.places.iter().enumerate() {
        let (row, column) = (place.row, place.number);
        let here = &quilt.setting.places[row][column];
        let wanted = match manner {
            Manner::Alike => 0,
            Manner::Rows => 2 * (row % 2),
            Manner::Columns => 2 * (column % 2),
            Manner::Checks => (row + column) % 2,
            // Seen from above, clockwise from the upper left: each a quarter further to the right.
            Manner::Fours => [[0, 3], [1, 2]][row % 2][column % 2],
            Manner::Chance(_) => chance.below(4),
        };
        if block.is_some_and(|block| block != place.block) || is_framed(plan, number) {
            continue;
        }
        let size = plan.drafts[place.block.0].size;
        let wanted = if (size.x - size.y).abs() <= TOLERANCE { wanted } else { wanted / 2 * 2 };
        #[expect(clippy::cast_possible_truncation, reason = "less than four")]
        let by = (wanted as u8 + 4 - here.turns % 4) % 4;
        if by > 0 {
            turns.push((row, column, by));
        }
    }
    turns
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan;

    /// How every place stands after it was turned.
    fn after(quilt: &Quilt, turns: &[(usize, usize, u8)]) -> Vec<Vec<u8>> {
        let mut places: Vec<Vec<u8>> =
            quilt.setting.places.iter().map(|row| row.iter().map(|place| place.turns).collect()).collect();
        turns.iter().for_each(|&(row, number, by)| places[row][number] = (places[row][number] + by) % 4);
        places
    }

    #[test]
    fn each_manner_turns_as_it_says() {
        let quilt = seamfall_testkit::lamplight();
        let plan = plan(&quilt);
        let shown = |manner| after(&quilt, &shuffled(&quilt, &plan, None, manner));
        assert!(shown(Manner::Alike).iter().flatten().all(|&turns| turns == 0));
        assert!(
            shown(Manner::Rows).iter().enumerate().all(|(row, places)| places.iter().all(|&t| usize::from(t) == 2 * (row % 2)))
        );
        let fours = shown(Manner::Fours);
        assert_eq!([fours[0][0], fours[1][0], fours[1][1], fours[0][1]], [0, 1, 2, 3]);
        assert_eq!(shown(Manner::Chance(5)), shown(Manner::Chance(5)));
        assert_ne!(shown(Manner::Chance(5)), shown(Manner::Chance(6)));
    }

    #[test]
    fn only_the_block_that_is_named_is_turned() {
        let quilt = seamfall_testkit::lamplight();
        let plan = plan(&quilt);
        for block in (0..quilt.blocks.len()).map(BlockId) {
            let turns = shuffled(&quilt, &plan, Some(block), Manner::Chance(3));
            assert!(turns.iter().all(|&(row, number, _)| quilt.setting.places[row][number].block == block));
        }
    }
}
