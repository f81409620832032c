//! The most worth of bars that fit end to end, exactly, in whole numbers.

/// Bars of one size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Bar {
    /// How long each is.
    pub size: u32,
    /// What each is worth.
    pub worth: u64,
    /// How many there are.
    pub limit: u32,
}

/// One pass over the table: `copies` bars of one size taken together, once or again and again.
struct Pass {
    bar: usize,
    copies: u32,
    again: bool,
}

/// Most worth within `room`, and how many of each bar reach it.
pub(crate) fn most_worth(bars: &[Bar], room: u32) -> (u64, Vec<u32>) {
    let room = room as usize;
    let mut best = vec![0_u64; room + 1];
    let passes = passes(bars, room);
    let mut taken = vec![false; passes.len() * (room + 1)];
    for (pass, taken) in passes.iter().zip(taken.chunks_mut(room + 1)) {
        let bar = bars[pass.bar];
        let (size, worth) = (bar.size as usize * pass.copies as usize, bar.worth * u64::from(pass.copies));
        let mut improve = |space: usize, best: &mut Vec<u64>| {
            if best[space - size] + worth > best[space] {
                best[space] = best[space - size] + worth;
                taken[space] = true;
            }
        };
        if pass.again {
            (size..=room).for_each(|space| improve(space, &mut best));
        } else {
            (size..=room).rev().for_each(|space| improve(space, &mut best));
        }
    }
    let mut counts = vec![0; bars.len()];
    let mut space = room;
    for (number, pass) in passes.iter().enumerate().rev() {
        while taken[number * (room + 1) + space] {
            counts[pass.bar] += pass.copies;
            space -= bars[pass.bar].size as usize * pass.copies as usize;
            if !pass.again {
                break;
            }
        }
    }
    (best[room], counts)
}

/// Bars that never run out are taken again and again; others in lots of 1, 2, 4 and so on, which make up every number to the limit.
fn passes(bars: &[Bar], room: usize) -> Vec<Pass> {
    let mut passes = Vec::new();
    for (place, bar) in bars.iter().enumerate().filter(|(_, bar)| bar.worth > 0 && bar.size as usize <= room) {
        let fit = (room / bar.size as usize) as u32;
        if bar.limit >= fit {
            passes.push(Pass { bar: place, copies: 1, again: true });
            continue;
        }
        let (mut left, mut lot) = (bar.limit, 1);
        while left > 0 {
            let copies = lot.min(left);
            if copies as usize * bar.size as usize <= room {
                passes.push(Pass { bar: place, copies, again: false });
            }
            left -= copies;
            lot *= 2;
        }
    }
    passes
}

/// Which sums of bars, each as often as there are, are possible up to `most`.
pub(crate) struct Sums {
    words: Vec<u64>,
    most: usize,
}

impl Sums {
    pub fn of(bars: &[(u32, u32)], most: u64) -> Self {
        let most = most as usize;
        let mut sums = Self { words: vec![0; most / 64 + 1], most };
        sums.words[0] = 1;
        for &(size, count) in bars {
            let (mut left, mut lot) = (count.min((most / size as usize) as u32), 1);
            while left > 0 {
                let copies = lot.min(left);
                sums.shift(size as usize * copies as usize);
                left -= copies;
                lot *= 2;
            }
        }
        sums
    }

    fn shift(&mut self, by: usize) {
        let (words, bits) = (by / 64, by % 64);
        for place in (words..self.words.len()).rev() {
            let low = self.words[place - words] << bits;
            let carried = if bits > 0 && place > words { self.words[place - words - 1] >> (64 - bits) } else { 0 };
            self.words[place] |= low | carried;
        }
    }

    /// The least possible sum from `least` on; `least` itself when none is known.
    pub fn next(&self, least: u64) -> u64 {
        let possible = |sum: usize| self.words[sum / 64] >> (sum % 64) & 1 == 1;
        (least as usize..=self.most).find(|&sum| possible(sum)).map_or(least, |sum| sum as u64)
    }
}
