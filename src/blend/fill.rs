//! So much of a blend that it fills a place once settled.
//!
//! Every amount that stands for itself is multiplied by one factor. Shares, parts and g/L follow
//! from the rest, and depths and rates count over an area that stays, so the blend itself stays
//! what it was and every volume of it grows by that factor.

use super::{Barrow, Blend};
use crate::quantity::{Dimension, round_significant};
use crate::recipe::{AMOUNT_LIMIT, Amount, Path, Recipe, RecipeError, Soil};

/// Limits of a volume to fill, m3 (a choice: from a seedling's plug to a large field).
pub const TARGET_LIMITS_M3: (f64, f64) = (1e-6, 1e6);
/// Limits of the share of a room that is filled (a choice: heaped up, at most half as much again).
pub const SHARE_LIMITS: (f64, f64) = (0.01, 1.5);
/// Digits that amounts are rounded to: what a bucket and a bathroom scale can tell.
pub const FILL_DIGITS: usize = 3;

/// A volume to fill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FillTarget {
    /// All the room there is, m3.
    pub room_m3: f64,
    /// The share of it that is filled, once settled.
    pub share: f64,
}

/// What keeps a place from being filled.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum FillFault {
    /// The recipe's place has no volume.
    NoRoom,
    /// A volume outside its limits.
    Volume {
        /// The volume, m3.
        m3: f64,
        /// Least accepted, m3.
        low_m3: f64,
        /// Greatest accepted, m3.
        high_m3: f64,
    },
    /// A share of the room outside its limits.
    Share {
        /// The share.
        value: f64,
        /// Least accepted.
        low: f64,
        /// Greatest accepted.
        high: f64,
    },
    /// Nothing in the recipe could be more or less.
    NothingToScale,
    /// An amount that would pass its limits.
    Amount {
        /// Its field.
        path: Path,
        /// What it would be, in its own unit.
        value: f64,
        /// The greatest accepted.
        limit: f64,
    },
    /// The recipe has a fault of its own.
    Recipe(RecipeError),
}

impl From<RecipeError> for FillFault {
    fn from(error: RecipeError) -> FillFault {
        FillFault::Recipe(error)
    }
}

impl FillTarget {
    /// All of a volume.
    pub fn of(room_m3: f64) -> FillTarget {
        FillTarget {
            room_m3,
            share: 1.0,
        }
    }

    /// The room of the recipe's place, of all its containers together.
    ///
    /// # Errors
    /// [`FillFault::NoRoom`] where the recipe does not say.
    pub fn of_place(recipe: &Recipe) -> Result<FillTarget, FillFault> {
        let place = recipe.place.as_ref().ok_or(FillFault::NoRoom)?;
        let volume = place.volume.as_ref().ok_or(FillFault::NoRoom)?;
        Ok(FillTarget::of(volume.si() * place.count.unwrap_or(1.0)))
    }

    /// The same room filled to a share.
    #[must_use]
    pub fn filled_to(self, share: f64) -> FillTarget {
        FillTarget { share, ..self }
    }

    /// The settled volume wanted, m3.
    ///
    /// # Errors
    /// A volume or share outside its limits.
    pub fn m3(self) -> Result<f64, FillFault> {
        let (low, high) = SHARE_LIMITS;
        if !(self.share >= low && self.share <= high) {
            let value = self.share;
            return Err(FillFault::Share { value, low, high });
        }
        volume(self.room_m3 * self.share)
    }
}

fn volume(m3: f64) -> Result<f64, FillFault> {
    let (low_m3, high_m3) = TARGET_LIMITS_M3;
    if m3 >= low_m3 && m3 <= high_m3 {
        return Ok(m3);
    }
    Err(FillFault::Volume {
        m3,
        low_m3,
        high_m3,
    })
}

/// What it takes to fill a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// What every amount was multiplied by.
    pub factor: f64,
    /// Volume after a season of rain, m3.
    pub settled_m3: f64,
    /// Volume on the day, m3: what must be heaped up.
    pub fresh_m3: f64,
    /// Ground as dug, moist, kg.
    pub ground_moist_kg: f64,
    /// Ground, loose, m3.
    pub ground_loose_m3: f64,
    /// The additions in the recipe's order.
    pub lines: Vec<FilledLine>,
}

/// One addition of what it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilledLine {
    /// Mass as sold, kg.
    pub moist_kg: f64,
    /// Loose volume as sold, m3.
    pub loose_m3: f64,
    /// Laid on top; it is as it was and fills nothing.
    pub on_top: bool,
}

impl Filled {
    /// What a recipe fills, as it is after a scaling by a factor.
    fn of(recipe: &Recipe, factor: f64) -> Result<Filled, RecipeError> {
        let barrow = Barrow::of(recipe)?;
        let volumes = Blend::of(&barrow, &recipe.soil).volumes;
        Ok(Filled {
            factor,
            settled_m3: volumes.settled_m3,
            fresh_m3: volumes.fresh_m3,
            ground_moist_kg: barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry),
            ground_loose_m3: barrow.ground_loose_m3(),
            lines: barrow
                .lines
                .iter()
                .map(|line| FilledLine {
                    moist_kg: line.moist_kg,
                    loose_m3: line.loose_m3,
                    on_top: line.on_top,
                })
                .collect(),
        })
    }
}

/// The recipe with its amounts scaled so that it settles to a volume, m3, and what that takes.
///
/// # Errors
/// A volume outside its limits, an amount that would pass its own, or a fault of the recipe.
pub fn filled(recipe: &Recipe, target_m3: f64) -> Result<(Recipe, Filled), FillFault> {
    let target_m3 = volume(target_m3)?;
    let barrow = Barrow::of(recipe)?;
    let settled_m3 = Blend::of(&barrow, &recipe.soil).volumes.settled_m3;
    let factor = target_m3 / settled_m3;
    if !factor.is_finite() || factor <= 0.0 {
        return Err(FillFault::NothingToScale);
    }
    let scaled = scaled(recipe, |path, amount| {
        let value = amount.value * factor;
        if value > AMOUNT_LIMIT {
            let limit = AMOUNT_LIMIT;
            return Err(FillFault::Amount { path, value, limit });
        }
        amount.value = value;
        Ok(())
    })?;
    let filled = Filled::of(&scaled, factor)?;
    Ok((scaled, filled))
}

/// The recipe with the amounts that [`filled`] scales rounded to so many significant digits, and
/// what it then fills. The factor is 1.
///
/// # Errors
/// A fault of the recipe.
pub fn rounded(recipe: &Recipe, digits: usize) -> Result<(Recipe, Filled), FillFault> {
    // A double has no more than seventeen.
    let digits = digits.clamp(1, 17);
    let rounded = scaled(recipe, |_, amount| {
        amount.value = round_significant(amount.value, digits);
        Ok(())
    })?;
    let filled = Filled::of(&rounded, 1.0)?;
    Ok((rounded, filled))
}

/// The recipe with every amount that stands for itself changed.
fn scaled(
    recipe: &Recipe,
    change: impl Fn(Path, &mut Amount) -> Result<(), FillFault>,
) -> Result<Recipe, FillFault> {
    let mut out = recipe.clone();
    match &mut out.soil {
        Soil::Amount(amount) => change("soil.value".into(), amount)?,
        Soil::Bed { depth, .. } => change("soil.depth.value".into(), depth)?,
    }
    for (index, addition) in out.additions.iter_mut().enumerate() {
        if !addition.is_on_top() && stands_for_itself(addition.amount.unit.dimension()) {
            let path = Path::from("additions").item(index).field("amount");
            change(path.field("value"), &mut addition.amount)?;
        }
    }
    Ok(out)
}

/// Whether an amount is what it is, and not counted against the rest.
fn stands_for_itself(dimension: Dimension) -> bool {
    match dimension {
        Dimension::Mass
        | Dimension::Volume
        | Dimension::Length
        | Dimension::MassPerArea
        | Dimension::Bag => true,
        Dimension::Area
        | Dimension::ShareOfVolume
        | Dimension::ShareOfMass
        | Dimension::Part
        | Dimension::MassPerVolume => false,
    }
}
