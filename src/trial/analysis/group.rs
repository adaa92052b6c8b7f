//! What the containers of one treatment read.

use super::super::compare::Sample;
use super::super::fit::Fit;
use super::{Limits, Measure, Read, Scale};

/// A mean with its range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Back {
    /// The mean.
    pub mean: f64,
    /// Its 95 % range, for this treatment alone.
    pub range: Option<[f64; 2]>,
}

/// What the containers of one treatment read, in the unit of the measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Containers that were read.
    pub count: usize,
    /// Readings that are limits alone.
    pub limits: usize,
    /// The middle one; none where it is a limit alone.
    pub median: Option<f64>,
    /// Mean with the range of its own spread; none with limits, and of scores.
    pub own: Option<Back>,
    /// The spread.
    pub spread: Option<f64>,
    /// The spread over the mean.
    pub cv: Option<f64>,
    /// The mean of logarithms, turned back, with the range of its own spread.
    pub geometric: Option<Back>,
    /// The mean on the scale that is compared, turned back, with blocks taken out and the range of
    /// the spread of all treatments.
    pub model: Option<Back>,
}

pub(super) fn groups(
    measure: &Measure,
    read: &Read,
    fit: Option<&Fit>,
    limits: &mut Limits,
) -> Vec<Group> {
    let mut raw: Vec<Vec<f64>> = vec![Vec::new(); measure.treatments];
    for (point, value) in read.points.iter().zip(&read.raw) {
        raw[point.treatment].push(*value);
    }
    let group = |(treatment, values): (usize, Vec<f64>)| {
        let has_sizes = values.iter().all(|value| value.is_finite()) && read.scale != Scale::Score;
        let sample = has_sizes.then(|| Sample::of(&values)).flatten();
        let spread = sample.and_then(|sample| sample.spread());
        let mut logs = || -> Option<Back> {
            if !has_sizes || values.iter().any(|value| *value <= 0.0) {
                return None;
            }
            let logs: Vec<f64> = values.iter().map(|value| libm::log(*value)).collect();
            let sample = Sample::of(&logs)?;
            let back = own(&sample, limits);
            // Turned back and forth, what is all the same would not be.
            if let Some(same) = all_same(&values) {
                let range = back.range.map(|_| [same; 2]);
                return Some(Back { mean: same, range });
            }
            Some(Back {
                mean: libm::exp(back.mean),
                range: back.range.map(|range| range.map(libm::exp)),
            })
        };
        let geometric = logs();
        Group {
            count: values.len(),
            limits: values.iter().filter(|value| value.is_infinite()).count(),
            median: median(&values),
            own: sample.map(|sample| own(&sample, limits)),
            spread,
            cv: sample.and_then(|sample| {
                let cv = spread? / sample.mean;
                (sample.mean > 0.0 && cv.is_finite()).then_some(cv)
            }),
            geometric,
            model: fit.and_then(|fit| {
                let back = model(fit, treatment, values.len(), read.scale, limits)?;
                // Of what fits to the last digit the last digits are rounding.
                let mean = match all_same(&values) {
                    Some(same) if fit.is_exact && near(same, back.mean) => same,
                    _ => back.mean,
                };
                Some(Back { mean, ..back })
            }),
        }
    };
    raw.into_iter().enumerate().map(group).collect()
}

/// The value of containers that all read the same.
fn all_same(values: &[f64]) -> Option<f64> {
    let first = *values.first()?;
    values.iter().all(|value| *value == first).then_some(first)
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(1e-9)
}

fn own(sample: &Sample, limits: &mut Limits) -> Back {
    let count = sample.count as f64;
    let half = sample.variance.and_then(|variance| {
        let limit = limits.alone(count - 1.0)?;
        Some(limit * (variance / count).sqrt())
    });
    around(sample.mean, half)
}

fn around(mean: f64, half: Option<f64>) -> Back {
    Back {
        mean,
        range: half.map(|half| [mean - half, mean + half]),
    }
}

fn model(
    fit: &Fit,
    treatment: usize,
    count: usize,
    scale: Scale,
    limits: &mut Limits,
) -> Option<Back> {
    let mean = fit.adjusted_mean(treatment)?;
    let half = match fit.spread() {
        Some(spread) if !fit.is_exact => {
            let limit = limits.alone(fit.error.degrees as f64);
            limit.map(|limit| limit * spread / (count as f64).sqrt())
        }
        _ => None,
    };
    let back = around(mean, half);
    let turned = |value: f64| match scale {
        Scale::Log => libm::exp(value),
        Scale::LogOfOneMore => libm::expm1(value * std::f64::consts::LN_10),
        Scale::Raw | Scale::Score => value,
    };
    Some(Back {
        mean: turned(back.mean),
        range: back.range.map(|range| range.map(turned)),
    })
}

fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let high = *sorted.get(half)?;
    let middle = if sorted.len() % 2 == 1 {
        high
    } else {
        0.5 * (sorted[half - 1] + high)
    };
    middle.is_finite().then_some(middle)
}
