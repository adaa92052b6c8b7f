//! What the user measured, of the ground as it lies and of the settled blend.

use super::{Kept, Recipe};
use crate::figure::Figure;

fields! {
    /// Something that was measured.
    Measurement {
        /// Dry mass over volume, by can or core, kg/m3.
        BulkDensity "bulk_density_kg_m3" 200.0 .. 2200.0;
        /// Water that drained out of a soaked pot, % of the volume of the soil in it.
        Drained "drained_pct" 0.0 .. 100.0;
        /// How fast the water in a soaked hole drops, mm/h.
        Hole "hole_mm_h" 0.01 .. 10000.0;
        /// How fast an inch of water goes in a ring at the second reading, mm/h.
        Ring "ring_mm_h" 0.01 .. 10000.0;
        /// Water left once it stopped draining, % of dry mass.
        WaterPerDry "water_per_dry_pct" 0.0 .. 300.0;
    }
}

/// Error of a can or core of soil, as a share of its density (common practice).
const DENSITY_ERROR: f64 = 0.06;
/// Error of the water drained out of a pot, % of volume (common practice).
const DRAINED_ERROR_PCT: f64 = 3.0;
/// Error of the water left in soil, % of dry mass (common practice).
const WATER_ERROR_PCT: f64 = 2.5;
/// One reading of a ring is right within this factor each way (common practice: readings side by
/// side lie 2 to 10 times apart).
const RING_FACTOR: f64 = 3.0;
/// One of a hole within this: its walls add to it.
const HOLE_FACTOR: f64 = 3.6;

impl Measurement {
    /// Whether it errs by a factor and not by so much.
    pub fn errs_by_factor(self) -> bool {
        matches!(self, Measurement::Hole | Measurement::Ring)
    }

    /// The figure with its 10th and 90th percentile: an end that states no doubt is that of the
    /// usual error.
    #[must_use]
    pub fn with_error(self, figure: Figure) -> Figure {
        let value = figure.typical;
        let arm = match self {
            Measurement::BulkDensity => value * DENSITY_ERROR,
            Measurement::Drained => DRAINED_ERROR_PCT,
            Measurement::WaterPerDry => WATER_ERROR_PCT,
            Measurement::Hole | Measurement::Ring => 0.0,
        };
        let (mut low, mut high) = (value - arm, value + arm);
        if self.errs_by_factor() {
            let factor = if self == Measurement::Hole {
                HOLE_FACTOR
            } else {
                RING_FACTOR
            };
            (low, high) = (value / factor, value * factor);
        }
        let ends = figure.ends();
        if ends.low < value {
            low = ends.low;
        }
        if ends.high > value {
            high = ends.high;
        }
        Figure::between(low, value, high)
    }
}

/// What was measured of either sample.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Measured {
    /// In the order of [`Sample::ALL`].
    pub samples: [Option<Measurements>; Sample::ALL.len()],
    /// Fields of a later release.
    pub kept: Kept,
}

/// What was measured of one sample.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Measurements {
    /// In the order of [`Measurement::ALL`].
    pub figures: [Option<Figure>; Measurement::ALL.len()],
    /// Fields of a later release in the ranges.
    pub ranges_kept: Vec<(Measurement, Kept)>,
    /// Fields of a later release.
    pub kept: Kept,
}

words! {
    /// Of what something was measured.
    Sample {
        /// The ground as it lies.
        Ground "ground";
        /// The blend, settled.
        Blend "blend";
    }
}

impl Recipe {
    /// What was measured, as typed.
    pub fn measured(&self, sample: Sample, of: Measurement) -> Option<Figure> {
        self.measured.as_ref()?.samples[sample as usize]
            .as_ref()?
            .figures[of as usize]
    }

    /// Sets or clears what was measured.
    pub fn set_measured(&mut self, sample: Sample, of: Measurement, figure: Option<Figure>) {
        let measured = self.measured.get_or_insert_default();
        let known = &mut measured.samples[sample as usize];
        let measurements = known.get_or_insert_default();
        measurements.figures[of as usize] = figure;
        if *measurements == Measurements::default() {
            *known = None;
        }
        if *measured == Measured::default() {
            self.measured = None;
        }
    }
}
