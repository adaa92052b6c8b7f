//! Draws by Latin hypercube: each input visits every stratum of its distribution once, in an order
//! that its own name decides. So the order of a recipe's lines changes nothing, and any program
//! can repeat it.

mod normal;
mod percentile;
mod sequence;
mod spread;

pub use normal::{NINETIETH, NINETY_FIFTH, quantile};
pub use percentile::{ends, share_of};
pub use sequence::{SplitMix64, fnv1a};
pub use spread::{Spread, TABULATED};

/// How many draws an outcome rests on, always and everywhere.
pub const DRAWS: u32 = 1024;
/// Orders that are remembered at the most.
const REMEMBERED: usize = 512;

/// The strata of so many draws, and the orders already shuffled: making them anew at each move of
/// a slider would cost more than the blends.
#[derive(Clone, Debug)]
pub struct Strata {
    /// Standard normal quantile of each stratum's middle.
    scores: Vec<f64>,
    orders: Vec<(u64, Vec<u32>)>,
}

impl Strata {
    /// The strata of so many draws, an even number.
    pub fn of(draws: u32) -> Strata {
        let share = |stratum: u32| (f64::from(stratum) + 0.5) / f64::from(draws);
        Strata {
            scores: (0..draws).map(|stratum| quantile(share(stratum))).collect(),
            orders: Vec::new(),
        }
    }

    /// How many draws.
    pub fn draws(&self) -> usize {
        self.scores.len()
    }

    /// The share below the middle of a stratum.
    pub fn share(&self, stratum: usize) -> f64 {
        (stratum as f64 + 0.5) / self.draws() as f64
    }

    /// The standard normal quantile of each stratum's middle.
    pub fn scores(&self) -> impl Iterator<Item = f64> {
        self.scores.iter().copied()
    }

    /// The share of the standard normal distribution below a score, straight between the strata.
    pub fn share_below(&self, score: f64) -> f64 {
        let above = self.scores.partition_point(|known| *known < score);
        let last = self.draws() - 1;
        let high = above.max(1).min(last);
        let low = high - 1;
        let part = (score - self.scores[low]) / (self.scores[high] - self.scores[low]);
        let share = self.share(low) + part / self.draws() as f64;
        share
            .max(self.share(0) * 0.5)
            .min(1.0 - self.share(0) * 0.5)
    }

    /// Place of the order of an input, for [`Strata::ordered`].
    pub(crate) fn order(&mut self, id: &str) -> usize {
        let seed = fnv1a(id);
        if let Some(at) = self.orders.iter().position(|(known, _)| *known == seed) {
            return at;
        }
        if self.orders.len() >= REMEMBERED {
            self.orders.clear();
        }
        let order = SplitMix64::new(seed).order(self.scores.len() as u32);
        self.orders.push((seed, order));
        self.orders.len() - 1
    }

    /// Which stratum each draw takes.
    pub(crate) fn ordered(&self, order: usize) -> &[u32] {
        &self.orders[order].1
    }

    /// Which stratum of an input each draw takes.
    pub fn strata_of(&mut self, id: &str) -> &[u32] {
        let order = self.order(id);
        self.ordered(order)
    }
}

impl Default for Strata {
    fn default() -> Strata {
        Strata::of(DRAWS)
    }
}
