//! One or two amounts of a recipe across a range, and every figure of the outcome along it.
//!
//! ```
//! use barrowmix::draws::Strata;
//! use barrowmix::recipe::Recipe;
//! use barrowmix::sweep::{Axis, Run, Swept};
//!
//! let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/sand-half.json"));
//! let recipe = Recipe::from_json(text).expect("it reads");
//! let axis = Axis::usual(&recipe, 0).expect("it has an addition");
//! let mut run = Run::of(&recipe, &[axis]).expect("it can be swept");
//! let mut strata = Strata::default();
//! run.step(&mut strata);
//! let first = run.point(0, 0).expect("the low end: none of it");
//! let pores = Swept::find("pore_space").and_then(|of| first.figure(of));
//! assert!(pores.is_some_and(|pores| pores.is_in_doubt()));
//! ```

mod crossing;
mod figures;
mod run;

pub use crossing::{Crossing, Reach, Stretch, crossings, stretches};
pub use figures::{Swept, usual_threshold};
pub use run::{FEW, MAP_STEPS, POINTS, Point, Run};

use crate::figure::within;
use crate::quantity::{Dimension, magnitude, round_significant, ten_to};
use crate::recipe::{AMOUNT_LIMIT, Recipe};

/// Room that shares leave for the rest when a range is proposed, %.
const LEFT_PCT: f64 = 5.0;
/// The least share that a range is proposed to where it fits, %.
const SHARE_PCT: f64 = 40.0;
/// Ends of a range that is proposed: these, times a power of ten.
const ENDS: [f64; 8] = [1.0, 1.2, 1.6, 2.0, 3.0, 4.0, 6.0, 8.0];
/// Significant digits of an amount that is taken from a sweep: what a bucket can measure.
const DIGITS: usize = 3;

/// The amount of an addition from low to high, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Which addition.
    pub line: usize,
    /// From how much.
    pub low: f64,
    /// To how much.
    pub high: f64,
}

/// Why nothing can be swept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AxisFault {
    /// There is no such addition.
    NoAddition,
    /// An end is no number within the limits of amounts.
    Outside {
        /// What was given.
        value: f64,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// The range ends where it begins, or before.
    Backwards,
    /// Twice the same addition.
    Twice,
}

impl Axis {
    /// A range for an addition that holds what it has now: from none to about twice that. None
    /// where there is no such addition.
    pub fn usual(recipe: &Recipe, line: usize) -> Option<Axis> {
        let addition = recipe.additions.get(line)?;
        let now = addition.amount.value;
        let dimension = addition.amount.unit.dimension();
        let mut high = if now > 0.0 {
            end_above(2.0 * now)
        } else {
            match dimension {
                Dimension::Part => 1.0,
                Dimension::MassPerArea | Dimension::MassPerVolume => 4.0,
                _ => 40.0,
            }
        };
        if matches!(dimension, Dimension::ShareOfVolume | Dimension::ShareOfMass) {
            let others = recipe.additions.iter().enumerate();
            let others = others.filter(|(at, other)| {
                *at != line && other.amount.unit.dimension() == dimension && !other.is_on_top()
            });
            let taken: f64 = others.map(|(_, other)| other.amount.value).sum();
            let left = (100.0 - taken - LEFT_PCT).max(1.0);
            high = high.max(SHARE_PCT).min(left).max(now);
        }
        Some(Axis {
            line,
            low: 0.0,
            high: high.min(AMOUNT_LIMIT),
        })
    }

    /// Whether a recipe can be swept along it.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn check(&self, recipe: &Recipe) -> Result<(), AxisFault> {
        if self.line >= recipe.additions.len() {
            return Err(AxisFault::NoAddition);
        }
        for value in [self.low, self.high] {
            if !(0.0..=AMOUNT_LIMIT).contains(&value) {
                let (low, high) = (0.0, AMOUNT_LIMIT);
                return Err(AxisFault::Outside { value, low, high });
            }
        }
        if self.low < self.high {
            Ok(())
        } else {
            Err(AxisFault::Backwards)
        }
    }

    /// The amount at a step of so many, the ends exact.
    pub fn at(&self, step: usize, steps: usize) -> f64 {
        if step >= steps {
            return self.high;
        }
        self.low + (self.high - self.low) * step as f64 / steps as f64
    }

    /// Where an amount lies, 0 at the low end and 1 at the high one, not held at them.
    pub fn share(&self, amount: f64) -> f64 {
        (amount - self.low) / (self.high - self.low)
    }

    /// The amount at a share of the range, held at its ends, with as many digits as one measures.
    pub fn amount(&self, share: f64) -> f64 {
        // What is no number is the low end.
        let share = within(share, 0.0, 1.0);
        let amount = self.low + (self.high - self.low) * share;
        round_significant(amount, DIGITS)
            .max(self.low)
            .min(self.high)
    }
}

/// The first end of a range that is not below a value.
fn end_above(value: f64) -> f64 {
    let scale = ten_to(magnitude(value));
    let mut ends = ENDS.into_iter().map(|end| end * scale);
    // A hair of rounding is no reason for the next.
    ends.find(|end| *end >= value * (1.0 - 1e-12))
        .unwrap_or(10.0 * scale)
}
