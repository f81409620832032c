//! Chance that is the same every time: xorshift (G. Marsaglia, "Xorshift RNGs", 2003), in whole numbers only.

/// A seeded source of numbers: the same from the same seed, on every machine.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// The numbers that follow from `seed`.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below `limit`, which is far below 2^32.
    pub fn below(&mut self, limit: usize) -> usize {
        (self.next() >> 32) as usize % limit
    }

    /// How rare the next number is, in 65536ths: it is above `k` about once in 2^k times. Straight lines between whole `k`.
    pub(crate) fn rarity(&mut self) -> u64 {
        let number = self.next() | 1;
        let zeros = u64::from(number.leading_zeros());
        let rest = (number << zeros << 1) >> 48;
        (zeros << 16) + (0xffff - rest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of 65536 numbers about half are rarer than 1, a quarter than 2, and so on: within three deviations of a fair coin.
    #[test]
    fn a_number_is_rarer_than_k_once_in_two_to_the_k_times() {
        let mut chance = Chance::new(1);
        let drawn: Vec<u64> = (0..1 << 16).map(|_| chance.rarity()).collect();
        for k in 0..8u32 {
            let (share, expected) = (drawn.iter().filter(|&&rarity| rarity >= u64::from(k) << 16).count(), 65536 >> k);
            assert!(share.abs_diff(expected) <= 3 * (expected as f64).sqrt() as usize, "{k}: {share}");
        }
    }
}
