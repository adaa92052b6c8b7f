//! A shuffle that any program can repeat from a text: FNV-1a for the seed, SplitMix64 for the
//! numbers, Fisher and Yates for the order.

/// The 64-bit FNV-1a hash of a text (Fowler, Noll & Vo; constants of the published algorithm).
pub fn fnv1a(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// SplitMix64 (Steele, Lea & Flood 2014; constants of the published algorithm).
#[derive(Clone, Debug)]
pub struct SplitMix64(u64);

impl SplitMix64 {
    /// The sequence of a seed.
    pub fn new(seed: u64) -> SplitMix64 {
        SplitMix64(seed)
    }

    /// The next number.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = self.0;
        let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `n`, each as likely as the others; `n` is at least 1.
    pub fn below(&mut self, n: u64) -> u64 {
        // What is above the last whole multiple of n would favour the small ones.
        let over = (u64::MAX % n + 1) % n;
        loop {
            let value = self.next_u64();
            if value <= u64::MAX - over {
                return value % n;
            }
        }
    }

    /// The numbers from 0 to `count` - 1 in an order of chance.
    pub fn order(&mut self, count: u32) -> Vec<u32> {
        let mut order: Vec<u32> = (0..count).collect();
        for last in (1..order.len()).rev() {
            let at = self.below(last as u64 + 1) as usize;
            order.swap(last, at);
        }
        order
    }
}
