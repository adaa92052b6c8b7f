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

/// A measurement of a sample, what the draws have of it, and what that stands beside.
type Compared = (Sample, Measurement, Measure, Measure);

/// Conductivity over the drop in a hole 30 cm wide with 20 to 28 cm of water (steady well, Zhang et
/// al. 1998: 0.027 to 0.122 from compacted clay to crumbs; the middle of their logarithms).
const CONDUCTIVITY_OVER_DROP: f64 = 0.06;
/// A ring lets water spread sideways and reads so many times too fast (common practice: 2 to 3).
const RING_OVER_CONDUCTIVITY: f64 = 2.5;

/// What each measurement is compared with, and beside which other figure. Only a pot whose height
/// is told has drained as the one measured has.
static COMPARED: &[Compared] = {
    use Measure::*;
    use Measurement::*;
    use Sample::*;
    &[
        (Ground, BulkDensity, LyingDensity, LyingDensity),
        (Ground, Hole, LyingDrainage, LyingDensity),
        (Ground, Ring, LyingDrainage, LyingDensity),
        (Ground, WaterPerDry, LyingFieldCapacity, LyingDensity),
        (Blend, BulkDensity, SettledDensity, DryMass),
        (Blend, Drained, PotAir, DryMass),
        (Blend, Hole, Drainage, DryMass),
        (Blend, Ring, Drainage, DryMass),
        (Blend, WaterPerDry, WateredMass, DryMass),
    ]
};

/// What a draw has, in the unit that was measured in.
fn said(sample: Sample, measurement: Measurement, value: f64, beside: f64) -> f64 {
    match measurement {
        Measurement::Hole => value / CONDUCTIVITY_OVER_DROP,
        Measurement::Ring => value * RING_OVER_CONDUCTIVITY,
        Measurement::WaterPerDry if sample == Sample::Blend => (value / beside - 1.0) * 100.0,
        // % of the volume over kg/m3.
        Measurement::WaterPerDry => value * WATER_KG_M3 / beside,
        _ => value,
    }
}

/// Fewer draws than these are too few for an end that only one in twenty passes (a choice: five of
/// them lie beyond it).
pub(super) const FEW_DRAWS: f64 = 100.0;
/// An arm of an error below this is a matter of digits (a choice; in any of the units, and of
/// logarithms).
const LEAST_ARM: f64 = 1e-6;
/// Errors are widened by less than this, and so often is the range of factors halved.
const MOST_WIDENED: f64 = 1e19;
const HALVINGS: u32 = 20;

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

#[cfg(not(feature = "page"))]
impl super::Outcome {
    /// Whether a recipe has an outcome, without drawing one.
    ///
    /// # Errors
    /// What [`Outcome::of`](super::Outcome::of) would refuse.
    pub fn check(recipe: &Recipe) -> Result<(), RecipeError> {
        let barrow = Barrow::of(recipe)?;
        check(recipe, &barrow, &Blend::of(&barrow, &recipe.soil))
    }
}

/// Fills one weight for each draw in, 1 for the best, and tells what the measurements did; nothing
/// where nothing was measured that a draw has. The values are those of each measure in turn.
#[inline(never)]
pub(super) fn weigh(
    recipe: &Recipe,
    has_ground: bool,
    values: &[f64],
    draws: usize,
    weights: &mut Vec<f64>,
) -> Option<MeasuredOutcome> {
    let mut scores = vec![0.0; draws];
    let mut compared = false;
    let mut disagreements = Vec::new();
    let mut unused = Vec::new();
    if recipe
        .measured(Sample::Ground, Measurement::Drained)
        .is_some()
    {
        unused.push((Sample::Ground, Measurement::Drained));
    }
    let column = |of: Measure| values.chunks_exact(draws).nth(of as usize).unwrap_or(&[]);
    for (sample, measurement, of, beside) in COMPARED {
        let Some(figure) = recipe.measured(*sample, *measurement) else {
            continue;
        };
        if *sample == Sample::Ground && !has_ground {
            unused.push((*sample, *measurement));
            continue;
        }
        let mut said_by = Vec::with_capacity(draws);
        for (value, beside) in column(*of).iter().zip(column(*beside)) {
            said_by.push(said(*sample, *measurement, *value, *beside));
        }
        let of = (*sample, *measurement);
        if compare(of, figure, &said_by, &mut scores, &mut disagreements) {
            compared = true;
        } else {
            unused.push(of);
        }
    }
    let mut best = f64::NEG_INFINITY;
    for score in &scores {
        if *score > best {
            best = *score;
        }
    }
    if !compared || !best.is_finite() {
        // Nothing weighs.
        return (!unused.is_empty()).then_some(MeasuredOutcome {
            effective_draws: draws as f64,
            of: draws as f64,
            widened: 1.0,
            disagreements,
            unused,
        });
    }
    *weights = vec![0.0; draws];
    let effective_draws = weights_of(&scores, best, 1.0, weights);
    let mut widened = 1.0;
    if effective_draws < FEW_DRAWS {
        // By halving a range of factors.
        let mut more = MOST_WIDENED;
        for _ in 0..HALVINGS {
            more = more.sqrt();
            if weights_of(&scores, best, widened * more, weights) < FEW_DRAWS {
                widened *= more;
            }
        }
        widened *= more;
        weights_of(&scores, best, widened, weights);
    }
    Some(MeasuredOutcome {
        effective_draws,
        of: draws as f64,
        widened,
        disagreements,
        unused,
    })
}

/// Compares what was measured with the draws, if they have it.
#[inline(never)]
fn compare(
    (sample, measurement): (Sample, Measurement),
    figure: Figure,
    column: &[f64],
    scores: &mut [f64],
    disagreements: &mut Vec<Disagreement>,
) -> bool {
    let Some(expected) = ends(column) else {
        return false;
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
    add(scores, column, figure, measurement.errs_by_factor());
    true
}

/// Adds the logarithm of how likely each value makes a measurement: two halves of normal curves
/// that meet at what was measured. What is no number cannot be.
#[inline(never)]
fn add(scores: &mut [f64], values: &[f64], figure: Figure, by_factor: bool) {
    let Ends { low, high } = figure.ends();
    let middle = scale(figure.typical, by_factor);
    for (score, value) in scores.iter_mut().zip(values) {
        let apart = scale(*value, by_factor) - middle;
        let end = if apart < 0.0 { low } else { high };
        let arm = (scale(end, by_factor) - middle).abs().max(LEAST_ARM);
        let z = apart / arm * NINETIETH;
        let likely = *score - 0.5 * z * z;
        *score = if likely.is_finite() {
            likely
        } else {
            f64::NEG_INFINITY
        };
    }
}

#[inline(never)]
fn scale(value: f64, by_factor: bool) -> f64 {
    if by_factor { log(value) } else { value }
}

/// The weights where every error is so many times as large, and how many draws they leave.
#[inline(never)]
fn weights_of(scores: &[f64], best: f64, widened: f64, weights: &mut [f64]) -> f64 {
    for (weight, score) in weights.iter_mut().zip(scores) {
        *weight = exp((score - best) / (widened * widened));
    }
    effective(weights)
}
