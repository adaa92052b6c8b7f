//! How a number of which only the ends are known spreads.

use super::normal::NINETIETH;
use crate::figure::{Figure, within};

/// Shares at which a measured error is tabulated.
pub const TABULATED: [f64; 7] = [0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95];
/// Each arm of a measured error is widened by this before it is drawn: ranges taken from all other
/// sources held 87 % of a source that they had not seen, and 91 % so widened.
const WIDENED: f64 = 1.15;

/// A distribution that is drawn from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Two half normals that meet at the typical value, so that half lies below it; the ends are
    /// the 10th and 90th percentile. What passes the limits stays on them.
    TwoPiece {
        /// Ends and middle.
        figure: Figure,
        /// The least and the greatest value that can be.
        limits: (f64, f64),
    },
    /// Errors as measured, at the shares [`TABULATED`], straight between and beyond, and widened.
    Errors([f64; 7]),
}

impl Spread {
    /// The value that a share `u` lies below, where `z` is the standard normal quantile of `u`.
    pub fn value(&self, u: f64, z: f64) -> f64 {
        match self {
            Spread::TwoPiece { figure, limits } => {
                let ends = figure.ends();
                let arm = if z < 0.0 {
                    figure.typical - ends.low
                } else {
                    ends.high - figure.typical
                };
                let value = figure.typical + z * (arm / NINETIETH);
                within(value, limits.0, limits.1)
            }
            Spread::Errors(quantiles) => {
                let middle = quantiles[3];
                let piece = (1..6).find(|at| u < TABULATED[*at]).map_or(5, |at| at - 1);
                let [low, high] = [quantiles[piece], quantiles[piece + 1]];
                let share = (u - TABULATED[piece]) / (TABULATED[piece + 1] - TABULATED[piece]);
                middle + WIDENED * (low + (high - low) * share - middle)
            }
        }
    }
}
