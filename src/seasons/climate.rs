//! Warmth and wetness of a place, and the cases between which what decays lies.

use crate::figure::{Figure, within};
use crate::recipe::Recipe;

/// Mean temperature of a year where it is not told, C (a choice: gardens of temperate lands).
pub const MEAN_TEMPERATURE_C: Figure = Figure::between(8.0, 11.0, 14.0);
/// Rain and watering less what evaporates where it is not told, mm a year (a choice: a garden that
/// is watered).
pub const SURPLUS_MM: Figure = Figure::between(-100.0, 100.0, 300.0);
/// Limits of the mean temperature, C: as in a recipe.
pub const TEMPERATURE_LIMITS_C: (f64, f64) = (-30.0, 40.0);
/// Limits of the surplus of water, mm a year.
pub const SURPLUS_LIMITS_MM: (f64, f64) = (-2000.0, 5000.0);
/// How far a soil's own rate may be off (a choice: long trials of added organic matter came out
/// within 3 t of carbon a hectare, Levavasseur et al. 2020).
const HUMUS_RATE: [f64; 2] = [1.4, 0.7];

/// What the weather and the ground's past do to decay.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    /// Mean temperature of the year, C.
    pub mean_temperature_c: Figure,
    /// Rain and watering less what evaporates, mm a year.
    pub surplus_mm: Figure,
    /// Whether it was old grass until now: more of its organic matter is active then.
    pub grass: bool,
}

impl Climate {
    /// What a recipe says of it, and what is usual.
    pub fn of(recipe: &Recipe) -> Climate {
        let told = recipe.place.as_ref();
        let told = told.and_then(|place| place.mean_temperature_c);
        Climate {
            mean_temperature_c: told.map_or(MEAN_TEMPERATURE_C, Figure::exact),
            surplus_mm: SURPLUS_MM,
            grass: false,
        }
    }

    /// The typical case.
    pub(super) fn typical(&self) -> Case {
        Case {
            kept: 1,
            mean_c: self.mean_temperature_c.typical,
            surplus_mm: self.surplus_mm.typical,
            humus: 1.0,
            grass: self.grass,
        }
    }

    /// Pairs of cases: each turns one thing towards less that is left, then towards more.
    fn pairs(&self) -> [[Case; 2]; 4] {
        let typical = self.typical();
        let (warm, wet) = (self.mean_temperature_c.ends(), self.surplus_mm.ends());
        [
            [0, 2].map(|kept| Case { kept, ..typical }),
            [warm.high, warm.low].map(|mean_c| Case { mean_c, ..typical }),
            [wet.high, wet.low].map(|surplus_mm| Case {
                surplus_mm,
                ..typical
            }),
            HUMUS_RATE.map(|humus| Case { humus, ..typical }),
        ]
    }

    /// What a figure comes to typically, and how far it goes down and up: the arms of all doubts
    /// in quadrature.
    pub(super) fn over_cases(&self, of: impl Fn(&Case) -> f64) -> Figure {
        let typical = of(&self.typical());
        let [mut below, mut above] = [0.0; 2];
        for pair in self.pairs() {
            let [one, other] = pair.map(|case| of(&case) - typical);
            let (down, up) = (one.min(other).min(0.0), one.max(other).max(0.0));
            below += down * down;
            above += up * up;
        }
        Figure::between(typical - below.sqrt(), typical, typical + above.sqrt())
    }
}

/// One way that things may go.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    /// Which end of what a material keeps: low, typical, high.
    pub(super) kept: usize,
    pub(super) mean_c: f64,
    pub(super) surplus_mm: f64,
    /// How much faster a soil's own organic matter goes.
    pub(super) humus: f64,
    pub(super) grass: bool,
}

/// A figure whose numbers are in order and within limits.
pub(super) fn is_within(figure: Figure, (low, high): (f64, f64)) -> bool {
    let ends = figure.ends();
    let held = |value: f64| within(value, low, high) == value;
    held(ends.low)
        && held(figure.typical)
        && held(ends.high)
        && ends.low <= figure.typical
        && figure.typical <= ends.high
}
