//! Chance that is the same every time: xorshift (G. Marsaglia, "Xorshift RNGs", 2003), in whole numbers only.

/// A seeded source of numbers.
pub(crate) struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    pub fn next(&mut self) -> u64 {
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
    pub fn rarity(&mut self) -> u64 {
        let number = self.next() | 1;
        let zeros = u64::from(number.leading_zeros());
        let rest = (number << zeros << 1) >> 48;
        (zeros << 16) + (0xffff - rest)
    }
}
