//! What the years do to a blend: decay and settling, top-ups, and what holds a level.
//!
//! [`aged`] gives the same recipe as it is after so many years, as a recipe, so that everything
//! that is told of a blend can be told of what it becomes.
//!
//! ```
//! use barrowmix::recipe::Recipe;
//! use barrowmix::seasons::{Climate, Seasons};
//!
//! let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/mushroom-compost-20.json"));
//! let recipe = Recipe::from_json(text).expect("it reads");
//! let years = Seasons::of(&recipe, &Climate::of(&recipe), None, &[0.0, 5.0])?;
//! let kept = years[1].kept_pct.expect("compost was added");
//! assert!(kept.typical > 0.0 && kept.typical < 100.0);
//! # Ok::<(), barrowmix::seasons::SeasonsError>(())
//! ```

mod ageing;
mod climate;
pub mod decay;
pub mod humus;
mod matter;
mod report;
pub mod settling;

pub use ageing::{aged, aged_with};
pub use climate::{
    Climate, MEAN_TEMPERATURE_C, SURPLUS_LIMITS_MM, SURPLUS_MM, TEMPERATURE_LIMITS_C,
};
pub use report::{HOLD_YEARS, Hold, Season, Seasons, ground_nitrogen_kg, hold, organic_matter_pct};

use crate::figure::Figure;
use crate::recipe::{Amount, RecipeError};
use climate::is_within;

/// Fewest and most years.
pub const YEARS_LIMITS: (f64, f64) = (0.0, 100.0);
/// Fewest and most years between two top-ups.
pub const EVERY_LIMITS: (f64, f64) = (1.0, 100.0);
/// Levels of organic matter that can be asked for, %.
pub const LEVEL_LIMITS_PCT: (f64, f64) = (0.1, 90.0);

/// Something that is mixed in again and again, at the end of a year.
#[derive(Clone, Debug, PartialEq)]
pub struct TopUp {
    /// Id of a material of the catalogue or of the recipe.
    pub material: String,
    /// How much each time; a share counts as if it alone were mixed into the ground.
    pub amount: Amount,
    /// Years from one to the next.
    pub every_years: u32,
}

/// What the years cannot be told of.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum SeasonsError {
    /// A number that is none, or outside its limits.
    OutOfRange {
        /// Of what.
        of: Asked,
        /// The number, as its typical value.
        value: f64,
        /// Least value accepted.
        low: f64,
        /// Greatest value accepted.
        high: f64,
    },
    /// Nothing to top up with.
    NoTopUp,
    /// The recipe has a fault.
    Recipe(RecipeError),
    /// The top-up has one; its path is that of the one addition of a recipe.
    TopUp(RecipeError),
}

/// What can be outside its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Years.
    Years,
    /// Mean temperature, C.
    MeanTemperature,
    /// Surplus of water, mm a year.
    Surplus,
    /// Years between two top-ups.
    Every,
    /// A level of organic matter, %.
    Level,
}

/// Whether all that is asked lies within limits; a number that is none does not.
fn check(years: f64, climate: &Climate, top_up: Option<&TopUp>) -> Result<(), SeasonsError> {
    let every = top_up.map_or(1.0, |top_up| f64::from(top_up.every_years));
    for (of, figure, limits) in [
        (Asked::Years, Figure::exact(years), YEARS_LIMITS),
        (
            Asked::MeanTemperature,
            climate.mean_temperature_c,
            TEMPERATURE_LIMITS_C,
        ),
        (Asked::Surplus, climate.surplus_mm, SURPLUS_LIMITS_MM),
        (Asked::Every, Figure::exact(every), EVERY_LIMITS),
    ] {
        held(of, figure, limits)?;
    }
    match top_up {
        Some(top_up) if !(top_up.amount.value >= 0.0 && top_up.amount.value.is_finite()) => {
            Err(SeasonsError::NoTopUp)
        }
        _ => Ok(()),
    }
}

fn held(of: Asked, figure: Figure, limits: (f64, f64)) -> Result<(), SeasonsError> {
    if is_within(figure, limits) {
        return Ok(());
    }
    let (low, high) = limits;
    Err(SeasonsError::OutOfRange {
        of,
        value: figure.typical,
        low,
        high,
    })
}
