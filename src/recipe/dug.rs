//! Dug ground in buckets: its loose volume against its volume as it lies.

use super::{AMOUNT_LIMIT, Amount, Kept};
use crate::ground::Ground;
use crate::quantity::{Dimension, Unit};

/// Dug ground that cannot be counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DugFault {
    /// The size of a bucket is a volume.
    NotAVolume {
        /// The unit that was given.
        unit: Unit,
    },
    /// A number outside its limits.
    OutOfRange {
        /// The number.
        value: f64,
        /// Least value accepted.
        low: f64,
        /// Greatest value accepted.
        high: f64,
    },
}

/// Loose volume of dug ground over its volume as it lies, on digging day.
pub fn dug_over_lying(ground: &Ground) -> f64 {
    ground.lying_density_kg_m3 / ground.fresh_density_kg_m3()
}

/// Volume as it lies of ground that fills a loose volume once dug, m3.
pub fn lying_m3(ground: &Ground, dug_m3: f64) -> f64 {
    dug_m3 / dug_over_lying(ground)
}

/// Loose volume that ground fills once dug, m3.
pub fn dug_m3(ground: &Ground, lying_m3: f64) -> f64 {
    lying_m3 * dug_over_lying(ground)
}

/// So many buckets of dug ground as the amount that a recipe counts, as it lies; in the bucket's
/// own unit.
///
/// # Errors
/// A size that is no volume, or a number outside its limits.
pub fn buckets_as_they_lay(
    ground: &Ground,
    buckets: f64,
    size: &Amount,
) -> Result<Amount, DugFault> {
    if size.unit.dimension() != Dimension::Volume {
        return Err(DugFault::NotAVolume { unit: size.unit });
    }
    let value = within(buckets)? * within(size.value)? / dug_over_lying(ground);
    Ok(Amount {
        value: within(value)?,
        unit: size.unit,
        kept: Kept::new(),
    })
}

fn within(value: f64) -> Result<f64, DugFault> {
    let (low, high) = (0.0, AMOUNT_LIMIT);
    if value >= low && value <= high {
        return Ok(value);
    }
    Err(DugFault::OutOfRange { value, low, high })
}
