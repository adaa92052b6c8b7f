//! Texture by shaking soil in a jar of water: sand settles first, then silt, then clay.

use super::settling::{SettlingFault, settling_time_s};
use crate::figure::{Figure, within};
use crate::texture::{Class, classify};

/// Dry mass in the volume of a fresh deposit that stays under water, kg/m3, of sand, silt and clay
/// (Lara & Pemberton 1963, reservoir always submerged; from memory).
const DEPOSIT_KG_M3: [f64; 3] = [1550.0, 1120.0, 416.0];
/// Reading error, percentage points, of sand and clay (common practice).
const READING_ERROR_SAND: f64 = 7.0;
/// As above.
const READING_ERROR_CLAY: f64 = 10.0;
/// Greatest height accepted, mm (a choice: no jar is deeper).
pub const HEIGHT_MOST_MM: f64 = 1000.0;
/// How far the layers may be from the whole, as a share of the whole (a choice: about 2 mm in a
/// layer of 40 mm).
const ADD_UP_WITHIN: f64 = 0.05;
/// Sizes at which sand and silt end, um (Soil Survey Manual 2017, chapter 3; verified).
const LEAST_UM: [f64; 2] = [50.0, 2.0];

/// A height read off a jar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JarHeight {
    /// The sand.
    Sand,
    /// The silt.
    Silt,
    /// The clay.
    Clay,
    /// All soil together.
    Total,
}

/// The layers, from the bottom up.
const LAYERS: [JarHeight; 3] = [JarHeight::Sand, JarHeight::Silt, JarHeight::Clay];

/// A jar that cannot be read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JarFault {
    /// A height, or the mark on top of its layer, lies outside its limits or is no number.
    Outside {
        /// Which height.
        which: JarHeight,
        /// As given, mm.
        value_mm: f64,
        /// The least accepted, mm.
        low_mm: f64,
        /// The greatest accepted, mm.
        high_mm: f64,
    },
    /// All heights, or the total, are 0.
    Empty,
    /// The layers and the total as measured differ by more than 5 % of the total.
    LayersDoNotAddUp {
        /// Of the layers, mm.
        sum: f64,
        /// As measured, mm.
        total: f64,
    },
    /// The mark on top of a layer lies below the mark before it.
    MarkFalls {
        /// The layer under the mark.
        which: JarHeight,
        /// The mark, mm.
        mark_mm: f64,
        /// The mark before it, mm.
        before_mm: f64,
    },
}

/// Sand, silt and clay as a jar tells them, in two ways: loose clay takes more room than sand of
/// the same weight, so heights overstate clay; poorly dispersed clay settles as silt, so weights may
/// understate it. The truth mostly lies between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JarReading {
    /// Heights of the layers as given, mm.
    pub heights_mm: [f64; 3],
    /// Share of the height, %.
    pub by_height_pct: [f64; 3],
    /// Share of the mass, %, with the density of each deposit.
    pub by_mass_pct: [f64; 3],
}

impl JarReading {
    /// From the heights of the layers of sand, silt and clay, mm, and of all soil together if it
    /// was measured. Only their proportions count.
    ///
    /// # Errors
    /// Heights that are no heights, are all 0 or do not add up.
    pub fn of_layers(heights_mm: [f64; 3], total_mm: Option<f64>) -> Result<JarReading, JarFault> {
        for (which, height) in LAYERS.into_iter().zip(heights_mm) {
            checked(which, height)?;
        }
        let sum: f64 = heights_mm.iter().sum();
        if let Some(total) = total_mm {
            checked(JarHeight::Total, total)?;
            // A hair, so that binary fractions do not move the limit.
            if total > 0.0 && (sum - total).abs() > total * (ADD_UP_WITHIN + 1e-9) {
                return Err(JarFault::LayersDoNotAddUp { sum, total });
            }
        }
        let [sand, silt, clay] = heights_mm;
        let masses = [
            sand * DEPOSIT_KG_M3[0],
            silt * DEPOSIT_KG_M3[1],
            clay * DEPOSIT_KG_M3[2],
        ];
        match (shares_pct(heights_mm), shares_pct(masses)) {
            (Some(by_height_pct), Some(by_mass_pct)) if total_mm != Some(0.0) => Ok(JarReading {
                heights_mm,
                by_height_pct,
                by_mass_pct,
            }),
            _ => Err(JarFault::Empty),
        }
    }

    /// From the height of the surface, mm above the bottom, when sand has settled, when silt has,
    /// and at the end. A mark at the height of the one before says that there is nothing between.
    ///
    /// # Errors
    /// Marks that are no heights, are all 0 or fall.
    pub fn of_marks(marks_mm: [f64; 3]) -> Result<JarReading, JarFault> {
        let mut before_mm = 0.0;
        let mut heights = [0.0; 3];
        for ((which, mark_mm), height) in LAYERS.into_iter().zip(marks_mm).zip(&mut heights) {
            checked(which, mark_mm)?;
            if mark_mm < before_mm {
                return Err(JarFault::MarkFalls {
                    which,
                    mark_mm,
                    before_mm,
                });
            }
            *height = mark_mm - before_mm;
            before_mm = mark_mm;
        }
        JarReading::of_layers(heights, None)
    }

    /// The classes by height and by mass.
    pub fn classes(&self) -> [Class; 2] {
        [classify(self.by_height_pct), classify(self.by_mass_pct)]
    }

    /// Sand, silt and clay, %, with their doubt. Typical is the middle of both answers, brought to
    /// a sum of 100: neither bias is known to be the greater (a choice). The ends are the lower and
    /// the higher of both answers, widened by the reading error. Silt lies between two marks, so
    /// the errors of sand and clay both move it: the root of the sum of their squares.
    pub fn band(&self) -> [Figure; 3] {
        let both =
            READING_ERROR_SAND * READING_ERROR_SAND + READING_ERROR_CLAY * READING_ERROR_CLAY;
        let errors = [READING_ERROR_SAND, both.sqrt(), READING_ERROR_CLAY];
        let mut middle = [0.0; 3];
        for (index, middle) in middle.iter_mut().enumerate() {
            *middle = (self.by_height_pct[index] + self.by_mass_pct[index]) / 2.0;
        }
        let typical = shares_pct(middle).unwrap_or(middle);
        let mut index = 0;
        typical.map(|typical| {
            let (one, other) = (self.by_height_pct[index], self.by_mass_pct[index]);
            let error = errors[index];
            index += 1;
            Figure::between(
                within(one.min(other) - error, 0.0, typical),
                typical,
                within(one.max(other) + error, typical, 100.0),
            )
        })
    }
}

fn checked(which: JarHeight, value_mm: f64) -> Result<(), JarFault> {
    if (0.0..=HEIGHT_MOST_MM).contains(&value_mm) {
        return Ok(());
    }
    Err(JarFault::Outside {
        which,
        value_mm,
        low_mm: 0.0,
        high_mm: HEIGHT_MOST_MM,
    })
}

/// Percent of the sum; none of nothing.
fn shares_pct(values: [f64; 3]) -> Option<[f64; 3]> {
    let sum: f64 = values.iter().sum();
    // So small a sum would lose the shares.
    (sum > f64::MIN_POSITIVE).then(|| values.map(|value| within(value / sum * 100.0, 0.0, 100.0)))
}

/// When to read a jar, s after it was put down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingTimes {
    /// All sand is down.
    pub sand_s: f64,
    /// All silt is down. Clay takes days.
    pub silt_s: f64,
}

/// When the finest sand (50 um) and the finest silt (2 um) have fallen through water of this height,
/// by Stokes' law.
///
/// # Errors
/// A height or temperature outside its limits.
pub fn reading_times(water_height_mm: f64, celsius: f64) -> Result<ReadingTimes, SettlingFault> {
    let [sand_um, silt_um] = LEAST_UM;
    Ok(ReadingTimes {
        sand_s: settling_time_s(sand_um, water_height_mm, celsius)?,
        silt_s: settling_time_s(silt_um, water_height_mm, celsius)?,
    })
}
