//! Sentences of the section on what to buy.

pub mod find;
pub mod labels;
pub mod list;
pub mod sale;
pub mod sweep;

pub use labels::ERRAND_OPENS;

use crate::quantity::{LITRES_PER_M3, Unit, round_significant};
use crate::words::{Speech, Units, shown, unit_name};

/// Significant digits of what is bought and carried.
const DIGITS: usize = 3;

/// A volume in m3 as it is bought: litres, or cubic feet as on US bags.
pub fn volume_text(m3: f64, speech: Speech) -> String {
    let (value, unit) = match speech.units {
        Units::Metric => (m3 * LITRES_PER_M3, Unit::Litre),
        Units::Us => (m3 / Unit::CubicFoot.factor(), Unit::CubicFoot),
    };
    [
        &shown(round_significant(value, DIGITS)),
        " ",
        unit_name(unit),
    ]
    .concat()
}

/// A mass in kg as it is carried.
pub fn mass_text(kg: f64, speech: Speech) -> String {
    let (value, unit) = match speech.units {
        Units::Metric if kg < 1.0 => (kg * 1000.0, Unit::Gram),
        Units::Metric => (kg, Unit::Kilogram),
        Units::Us => (kg / Unit::Pound.factor(), Unit::Pound),
    };
    [
        &shown(round_significant(value, DIGITS)),
        " ",
        unit_name(unit),
    ]
    .concat()
}
