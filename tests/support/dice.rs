//! Chance that falls the same way on every run: SplitMix64 (Steele, Lea & Flood 2014).

/// A row of random numbers.
pub struct Dice(u64);

impl Dice {
    /// The row of a seed.
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A number between two, all sizes alike.
    pub fn between_sizes(&mut self, low: f64, high: f64) -> f64 {
        libm::exp(self.between(libm::log(low), libm::log(high)))
    }

    /// A whole number below a limit.
    pub fn below(&mut self, limit: usize) -> usize {
        (self.bits() % limit as u64) as usize
    }

    /// True once in so many times.
    pub fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One of several.
    pub fn pick<'a, T>(&mut self, items: &'a [T]) -> &'a T {
        &items[self.below(items.len())]
    }

    /// A number with few decimals, as people type it.
    pub fn typed(&mut self, low: f64, high: f64) -> f64 {
        let decimals = [1.0, 10.0, 100.0, 1000.0][self.below(4)];
        let value = (self.between(low, high) * decimals).round() / decimals;
        value.max(low).min(high)
    }

    /// Three shares in percent that sum to 100 exactly.
    pub fn shares_pct(&mut self) -> [f64; 3] {
        let (mut a, mut b) = (self.below(1001), self.below(1001));
        if a > b {
            (a, b) = (b, a);
        }
        [a, b - a, 1000 - b].map(|tenths| tenths as f64 / 10.0)
    }
}
