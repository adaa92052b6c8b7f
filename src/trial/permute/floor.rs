//! Differences of either sign, and how small a chance can be at all.

use super::{AS_LARGE, ROUNDING};

/// The chance that differences within blocks, each of either sign, add up to as much; none of none
/// or of more than twenty.
pub fn sign_flips(differences: &[f64]) -> Option<f64> {
    let count = differences.len();
    if !(1..=20).contains(&count) || differences.iter().any(|value| !value.is_finite()) {
        return None;
    }
    let size: f64 = differences.iter().map(|value| value.abs()).sum();
    let limit = differences.iter().sum::<f64>().abs() * (1.0 - AS_LARGE) - ROUNDING * size;
    let all = 1_u32 << count;
    let as_large = |signs: &u32| {
        let mut sum = 0.0;
        for (at, value) in differences.iter().enumerate() {
            sum += if signs >> at & 1 == 0 {
                *value
            } else {
                -*value
            };
        }
        sum.abs() >= limit
    };
    let hits = (0..all).filter(as_large).count();
    Some(hits as f64 / f64::from(all))
}

/// The smallest chance that sign flips of so many blocks can come to.
pub fn least_of_sign_flips(blocks: u32) -> f64 {
    2.0 / libm::exp2(f64::from(blocks))
}

/// The smallest chance of two treatments that stand at random, so many containers of each.
pub fn least_of_two(each: u32) -> f64 {
    // Beyond a thousand there is nothing left of it.
    let each = each.min(1_000);
    let ways = (1..=each).map(|number| f64::from(each + number) / f64::from(number));
    2.0 / ways.product::<f64>()
}

/// The smallest chance of so many treatments, each once in every block.
pub fn least_of_blocks(treatments: u32, blocks: u32) -> f64 {
    let [treatments, blocks] = [treatments, blocks].map(|number| number.min(1_000));
    let orders: f64 = (1..=treatments).map(f64::from).product();
    (1..blocks).map(|_| 1.0 / orders).product()
}
