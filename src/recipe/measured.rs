//! What the user measured, of the ground as it lies and of the settled blend.

use super::object::Object;
use super::write::Fields;
use super::{Kept, Recipe, Tree};
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

/// How many can be measured of a sample.
const EACH: usize = Measurement::ALL.len();
/// How many can be measured of both.
const BOTH: usize = EACH * Sample::ALL.len();

/// What was measured; an object of a recipe that holds nothing is none.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Measured {
    figures: [Option<Figure>; BOTH],
    /// Fields of a later release: in a range, then of a sample, then of the whole.
    kept: Vec<(u8, Kept)>,
}

/// Where fields of a later release stand that are of a sample.
const OF_SAMPLE: usize = BOTH;
/// And those of the whole.
const OF_ALL: usize = BOTH + Sample::ALL.len();

impl Measured {
    /// Whether fields of a later release are kept in it.
    pub(super) fn keeps_unknown_fields(&self) -> bool {
        !self.kept.is_empty()
    }

    fn keep(&mut self, at: usize, kept: Kept) {
        if !kept.is_empty() {
            self.kept.push((at as u8, kept));
        }
    }

    fn kept(&self, at: usize) -> &[(String, Tree)] {
        for (of, kept) in &self.kept {
            if usize::from(*of) == at {
                return kept;
            }
        }
        &[]
    }

    /// Takes what was measured out of a recipe that is read.
    pub(super) fn read(root: &mut Object) -> Measured {
        let mut measured = Measured::default();
        let Some(mut whole) = root.object("measured") else {
            return measured;
        };
        for (at, sample) in Sample::ALL.iter().enumerate() {
            let Some(mut object) = whole.object(sample.spelling()) else {
                continue;
            };
            for (of, field) in Measurement::ALL.iter().enumerate() {
                let (figure, kept) = object.figure(field.name(), field.limits());
                measured.figures[at * EACH + of] = figure;
                measured.keep(at * EACH + of, kept);
            }
            measured.keep(OF_SAMPLE + at, object.finish());
        }
        measured.keep(OF_ALL, whole.finish());
        measured
    }

    /// Puts it where a recipe is written.
    pub(super) fn write(&self, root: &mut Fields) {
        let mut whole = Fields::default();
        for (at, sample) in Sample::ALL.iter().enumerate() {
            let mut fields = Fields::default();
            for (of, field) in Measurement::ALL.iter().enumerate() {
                let at = at * EACH + of;
                fields.figure(field.name(), self.figures[at], self.kept(at));
            }
            whole.filled(sample.spelling(), fields, self.kept(OF_SAMPLE + at));
        }
        root.filled("measured", whole, self.kept(OF_ALL));
    }
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
        self.measured.figures[sample as usize * EACH + of as usize]
    }

    /// Sets or clears what was measured.
    pub fn set_measured(&mut self, sample: Sample, of: Measurement, figure: Option<Figure>) {
        self.measured.figures[sample as usize * EACH + of as usize] = figure;
    }
}
