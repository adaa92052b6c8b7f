//! Two treatments by their own spreads, and whether spreads are too unlike to be one.

use super::super::chance::f_above;
use super::super::compare::{Pair, Sample};
use super::super::power::{Design, SURE};
use super::{Measure, Read};

/// Spreads that differ by more than this are not taken as one (common practice).
const SPREADS_APART: f64 = 3.0;
/// Containers of each below which spreads are not compared.
const SPREADS_FROM: usize = 4;

/// The two by themselves; in blocks by the differences within those that have each once.
pub(super) fn pair(measure: &Measure, read: &Read, treatment: usize) -> Option<Pair> {
    match measure.design {
        Design::Random => {
            let sample = |of| Sample::of(&read.of_treatment(of));
            Pair::of(&sample(treatment)?, &sample(measure.control)?)
        }
        Design::Blocks => {
            let only = |block: usize, of: usize| {
                let mut found = read
                    .points
                    .iter()
                    .filter(|point| point.block == block && point.treatment == of);
                let first = found.next()?.value;
                found.next().is_none().then_some(first)
            };
            let own = read
                .points
                .iter()
                .filter(|point| point.treatment == treatment);
            let differences: Vec<f64> = own
                .filter_map(|point| {
                    let own = only(point.block, treatment)?;
                    Some(own - only(point.block, measure.control)?)
                })
                .collect();
            Pair::within(&differences)
        }
        Design::Latin => None,
    }
}

/// How many times the widest spread is the narrowest, where containers stand at random, there are
/// enough of each, and it is both more than threefold and more than chance does.
pub(super) fn spreads_differ(measure: &Measure, read: &Read) -> Option<f64> {
    if measure.design != Design::Random {
        return None;
    }
    let mut spreads: Vec<(f64, f64)> = Vec::new();
    for treatment in 0..measure.treatments {
        let values = read.of_treatment(treatment);
        if values.is_empty() {
            continue;
        }
        if values.len() < SPREADS_FROM {
            return None;
        }
        let sample = Sample::of(&values)?;
        spreads.push((sample.variance?, values.len() as f64 - 1.0));
    }
    let by_variance = |a: &&(f64, f64), b: &&(f64, f64)| a.0.total_cmp(&b.0);
    let narrow = spreads.iter().min_by(by_variance)?;
    let wide = spreads.iter().max_by(by_variance)?;
    let ratio = (wide.0 / narrow.0).sqrt();
    let pairs = (spreads.len() * spreads.len().saturating_sub(1)) as f64;
    let chance = pairs * f_above(ratio * ratio, [wide.1, narrow.1]);
    (ratio > SPREADS_APART && ratio.is_finite() && chance < 1.0 - SURE).then_some(ratio)
}
