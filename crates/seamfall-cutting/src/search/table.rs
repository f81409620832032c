//! Filling a length with blocks, end to end, within what is still wanted: one table, used across and along alike.
//!
//! Entry `n` of the table is the most value found within `n` steps, with the pieces it takes. An entry is only extended by a block
//! whose pieces are still to be had. That makes it a heuristic where pieces run short (the best filling of a part need not belong
//! to the best of the whole) and exact where they do not.

/// How many pieces of each kind, by place. More than 255 of one kind never lie in one strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Used<const N: usize>(pub [u8; N]);

impl<const N: usize> Used<N> {
    pub const NONE: Self = Self([0; N]);

    /// Whether these and `more` are still to be had.
    #[inline]
    pub fn fits_with(&self, more: &Self, left: &Self) -> bool {
        let mut over = 0_u8;
        for ((have, more), left) in self.0.iter().zip(&more.0).zip(&left.0) {
            over |= u8::from(have.saturating_add(*more) > *left);
        }
        over == 0
    }

    /// Whether these are still to be had.
    #[inline]
    pub fn within(&self, left: &Self) -> bool {
        let mut over = 0_u8;
        for (have, left) in self.0.iter().zip(&left.0) {
            over |= u8::from(have > left);
        }
        over == 0
    }

    /// What is left without `less`.
    #[inline]
    fn minus(&self, less: &Self) -> Self {
        let mut left = *self;
        for (left, less) in left.0.iter_mut().zip(&less.0) {
            *left = left.saturating_sub(*less);
        }
        left
    }

    #[inline]
    pub fn plus(&self, more: &Self) -> Self {
        let mut sum = *self;
        for (have, more) in sum.0.iter_mut().zip(&more.0) {
            *have = have.saturating_add(*more);
        }
        sum
    }
}

/// A block to fill with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Item<const N: usize> {
    /// Its length in the direction of filling.
    pub size: u32,
    pub value: f32,
    pub used: Used<N>,
}

/// The best filling found of one length.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cell<const N: usize> {
    pub value: f32,
    pub used: Used<N>,
    /// The last block, or none when the last step is left over.
    item: u16,
}

const NOTHING: u16 = u16::MAX;

/// Fills every length up to `room`. Items beyond 65,000 are left out.
///
/// A filling worth less than `least` for its length is not extended. Nothing that is worth as much in the end is lost by that: with its
/// densest blocks first, it is worth as much for its length at every block.
pub(crate) fn fill<const N: usize>(items: &[Item<N>], room: u32, left: &Used<N>, least: f32, steps: &mut u64) -> Vec<Cell<N>> {
    let items = &items[..items.len().min(usize::from(NOTHING))];
    // What every comparison needs lies side by side: most end there, and blocks and cells are not looked at.
    let offers: Vec<(u32, f32)> = items.iter().map(|item| (item.size, item.value)).collect();
    let room = room as usize;
    let mut best = vec![-1.0_f32; room + 1];
    best[0] = 0.0;
    let mut cells = vec![Cell { value: -1.0, used: Used::NONE, item: NOTHING }; room + 1];
    *steps += room as u64 / 8 + 10;
    for length in 0..=room {
        let value = best[length];
        if length > 0 {
            let item = cells[length].item;
            if item == NOTHING || value <= best[length - 1] {
                // What is no better than a shorter filling is that filling; it need not be extended again.
                best[length] = best[length - 1];
                cells[length] = Cell { item: NOTHING, ..cells[length - 1] };
                continue;
            }
            let item = &items[usize::from(item)];
            cells[length].used = cells[length - item.size as usize].used.plus(&item.used);
        }
        cells[length].value = value;
        if value < least * length as f32 {
            continue;
        }
        *steps += items.len() as u64 / 4 + 1;
        let free = left.minus(&cells[length].used);
        let beyond = &mut best[length..];
        for (number, &(size, more)) in offers.iter().enumerate() {
            let Some(known) = beyond.get_mut(size as usize) else { continue };
            let value = value + more;
            if value > *known && items[number].used.within(&free) {
                *known = value;
                cells[length + size as usize].item = number as u16;
            }
        }
    }
    cells
}

/// The blocks of the filling of `length`, by their place in `items`.
pub(crate) fn blocks<const N: usize>(cells: &[Cell<N>], items: &[Item<N>], length: usize) -> Vec<usize> {
    let mut found = Vec::new();
    let mut length = length;
    while length > 0 {
        match cells[length].item {
            NOTHING => length -= 1,
            item => {
                found.push(usize::from(item));
                length -= items[usize::from(item)].size as usize;
            }
        }
    }
    found.sort_unstable();
    found
}

/// Whether the filling of `length` ends with a block: the shorter ones that do not are the same again.
pub(crate) fn is_new<const N: usize>(cells: &[Cell<N>], length: usize) -> bool {
    cells[length].item != NOTHING
}
