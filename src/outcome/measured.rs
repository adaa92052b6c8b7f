//! What was measured weighs the draws: the better one agrees with it, the more it counts.

use super::Measure;
use super::drawn::WATER_KG_M3;
use crate::blend::{Barrow, Blend};
use crate::draws::{NINETIETH, effective, ends};
use crate::figure::{Ends, Figure};
use crate::ground::GroundFault;
use crate::material::SETTLED_SHARE_OF_GRAIN;
use crate::recipe::{Fault, Measurement, Path, Recipe, RecipeError, Sample};
use libm::{exp, log};

/// Conductivity over the drop in a hole 30 cm wide with 20 to 28 cm of water (steady well, Zhang et
/// al. 1998: 0.027 to 0.122 from compacted clay to crumbs; the middle of their logarithms).
const CONDUCTIVITY_OVER_DROP: f64 = 0.06;
/// A ring lets water spread sideways and reads so many times too fast (common practice: 2 to 3).
const RING_OVER_CONDUCTIVITY: f64 = 2.5;

/// What the draws say of what was measured, in its own unit; nothing where they do not have it.
fn said<'a>(
    sample: Sample,
    measurement: Measurement,
    column: &impl Fn(Measure) -> &'a [f64],
) -> Option<Vec<f64>> {
    let [density, through, [held, dry]] = match sample {
        Sample::Ground => [
            [Measure::LyingDensity; 2],
            [Measure::LyingDrainage; 2],
            [Measure::LyingFieldCapacity, Measure::LyingDensity],
        ],
        Sample::Blend => [
            [Measure::SettledDensity; 2],
            [Measure::Drainage; 2],
            [Measure::WateredMass, Measure::DryMass],
        ],
    };
    let mut values = column(match measurement {
        Measurement::BulkDensity => density[0],
        // Only a pot whose height is told has drained as this one has.
        Measurement::Drained if sample == Sample::Blend => Measure::PotAir,
        Measurement::Drained => return None,
        Measurement::Hole | Measurement::Ring => through[0],
        Measurement::WaterPerDry => held,
    })
    .to_vec();
    for (value, dry) in values.iter_mut().zip(column(dry)) {
        *value = match (measurement, sample) {
            (Measurement::Hole, _) => *value / CONDUCTIVITY_OVER_DROP,
            (Measurement::Ring, _) => *value * RING_OVER_CONDUCTIVITY,
            // % of the volume over kg/m3.
            (Measurement::WaterPerDry, Sample::Ground) => *value * WATER_KG_M3 / dry,
            (Measurement::WaterPerDry, Sample::Blend) => (*value / dry - 1.0) * 100.0,
            _ => *value,
        };
    }
    Some(values)
}

/// Fewer draws than these are too few for an end that only one in twenty passes (a choice: five of
/// them lie beyond it).
pub(super) const FEW_DRAWS: f64 = 100.0;
/// An arm of an error below this is a matter of digits (a choice; in any of the units, and of
/// logarithms).
const LEAST_ARM: f64 = 1e-6;
/// Doublings of an error that no draw agrees with, and halvings of the last one.
const DOUBLINGS: u32 = 64;
const HALVINGS: u32 = 12;

/// What the measurements did to an outcome.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredOutcome {
    /// How many draws of equal weight would tell as much as agree with what was measured.
    pub effective_draws: f64,
    /// Of how many.
    pub of: f64,
    /// How many times as large the errors were taken: 1, or more where too few draws agree.
    pub widened: f64,
    /// Measurements that lie outside what was expected, by more than their own error.
    pub disagreements: Vec<Disagreement>,
    /// Measurements that nothing could be compared with.
    pub unused: Vec<(Sample, Measurement)>,
}

/// A measurement outside what was expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disagreement {
    /// Of what.
    pub sample: Sample,
    /// Which.
    pub measurement: Measurement,
    /// As measured.
    pub value: f64,
    /// The range of the draws before they were weighed.
    pub expected: Ends,
}

impl Disagreement {
    /// The field that holds it.
    pub fn path(&self) -> Path {
        path(self.sample, self.measurement)
    }
}

pub(super) fn path(sample: Sample, measurement: Measurement) -> Path {
    let sample = Path::from("measured").field(sample.spelling());
    sample.field(measurement.name())
}

/// Refuses a density that the solids cannot have.
pub(super) fn check(recipe: &Recipe, barrow: &Barrow, blend: &Blend) -> Result<(), RecipeError> {
    let masses = &blend.masses;
    let solids = [
        barrow.ground.solid_density_kg_m3,
        masses.dry_kg / masses.solid_m3,
    ];
    for (sample, solid_kg_m3) in Sample::ALL.iter().zip(solids) {
        let limit_kg_m3 = SETTLED_SHARE_OF_GRAIN * solid_kg_m3;
        if let Some(figure) = recipe.measured(*sample, Measurement::BulkDensity)
            && figure.typical > limit_kg_m3
        {
            let fault = GroundFault::DenserThanSolids {
                lying_kg_m3: figure.typical,
                limit_kg_m3,
                solid_kg_m3,
            };
            return Err(Fault::Ground(fault).at(path(*sample, Measurement::BulkDensity)));
        }
    }
    Ok(())
}

/// One weight for each draw, 1 in the mean, and what the measurements did; nothing where nothing
/// was measured that a draw has.
pub(super) fn weigh<'a>(
    recipe: &Recipe,
    column: impl Fn(Measure) -> &'a [f64],
) -> Option<(Vec<f64>, MeasuredOutcome)> {
    let mut scores: Vec<f64> = Vec::new();
    let mut disagreements = Vec::new();
    let mut unused = Vec::new();
    let all = Sample::ALL.iter().flat_map(|sample| {
        let of = Measurement::ALL.iter();
        of.map(move |measurement| (*sample, *measurement))
    });
    for (sample, measurement) in all {
        let Some(figure) = recipe.measured(sample, measurement) else {
            continue;
        };
        let values = said(sample, measurement, &column).unwrap_or_default();
        // What no draw has cannot be compared.
        let Some(expected) = ends(&values) else {
            unused.push((sample, measurement));
            continue;
        };
        let figure = measurement.with_error(figure);
        let Ends { low, high } = figure.ends();
        if high < expected.low || low > expected.high {
            disagreements.push(Disagreement {
                sample,
                measurement,
                value: figure.typical,
                expected,
            });
        }
        scores.resize(values.len(), 0.0);
        add(&mut scores, &values, figure, measurement.errs_by_factor());
    }
    let best = scores.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !best.is_finite() {
        // Nothing weighs.
        let draws = column(Measure::DryMass).len() as f64;
        let measured = MeasuredOutcome {
            effective_draws: draws,
            of: draws,
            widened: 1.0,
            disagreements,
            unused,
        };
        return (!measured.unused.is_empty()).then_some((Vec::new(), measured));
    }
    for score in &mut scores {
        *score -= best;
    }
    let mut weights = scores.clone();
    let effective_draws = weights_of(&scores, 1.0, &mut weights);
    let mut widened = 1.0;
    if effective_draws < FEW_DRAWS {
        widened = widening(&scores, &mut weights);
        weights_of(&scores, widened, &mut weights);
    }
    let sum: f64 = weights.iter().sum();
    let of = weights.len() as f64;
    for weight in &mut weights {
        *weight *= of / sum;
    }
    let measured = MeasuredOutcome {
        effective_draws,
        of,
        widened,
        disagreements,
        unused,
    };
    Some((weights, measured))
}

/// Adds the logarithm of how likely each value makes a measurement: two halves of normal curves
/// that meet at what was measured. What is no number cannot be.
fn add(scores: &mut [f64], values: &[f64], figure: Figure, by_factor: bool) {
    let scale = |value: f64| if by_factor { log(value) } else { value };
    let Ends { low, high } = figure.ends();
    let middle = scale(figure.typical);
    let below = (middle - scale(low)).max(LEAST_ARM);
    let above = (scale(high) - middle).max(LEAST_ARM);
    for (score, value) in scores.iter_mut().zip(values) {
        let apart = scale(*value) - middle;
        let arm = if apart < 0.0 { below } else { above };
        let z = apart / arm * NINETIETH;
        let likely = -0.5 * z * z;
        *score += if likely.is_finite() {
            likely
        } else {
            f64::NEG_INFINITY
        };
    }
}

/// The weights where every error is so many times as large, and how many draws they leave.
fn weights_of(scores: &[f64], widened: f64, weights: &mut [f64]) -> f64 {
    for (weight, score) in weights.iter_mut().zip(scores) {
        *weight = exp(score / (widened * widened));
    }
    effective(weights)
}

/// How many times as large the errors must be for enough draws to agree.
fn widening(scores: &[f64], weights: &mut [f64]) -> f64 {
    let (mut low, mut high) = (1.0, 2.0);
    for _ in 0..DOUBLINGS {
        if weights_of(scores, high, weights) >= FEW_DRAWS {
            break;
        }
        low = high;
        high *= 2.0;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if weights_of(scores, middle, weights) >= FEW_DRAWS {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}
