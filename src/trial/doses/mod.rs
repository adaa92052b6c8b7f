//! What a plan comes to: one recipe for each treatment, so that the core foretells it; what is
//! weighed out, what a container weighs, what is bought.
//!
//! All containers are filled to the same line, since air and water depend on the height of the soil:
//! the ground is what the addition leaves of the room, settled. A strip of bed keeps its ground, and
//! the addition comes to it. A dose is an amount as sold for one container; a share is one of the
//! container's volume, a rate counts over its surface, so that a dose is the same whatever is added.

mod advice;
mod fill;
mod foretell;

use super::layout::LayoutFault;
use super::plan::{Deed, Treatment, Trial, Vessel};
use crate::blend::Barrow;
use crate::material::Group;
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Bag, Found, Recipe, RecipeError};
pub use advice::PlanAdvice;
use fill::{bare, blend, filled_up, line};
pub use foretell::{Foretold, INFILTRATION_MM};

/// Volume of one container or strip, m3 (a choice: a plug of a seedling to a lorry).
pub const VOLUME_LIMITS_M3: (f64, f64) = (1e-5, 100.0);
/// Height of the soil in a container, or depth of a strip, m (the recipe's limits of a height).
pub const HEIGHT_LIMITS_M: (f64, f64) = (0.01, 3.0);
/// The volume of a container in a unit: least and greatest.
pub fn volume_limits(unit: Unit) -> (f64, f64) {
    let (low, high) = VOLUME_LIMITS_M3;
    let one = Amount::new(1.0, unit).si();
    (low / one, high / one)
}

/// The height of its soil in a unit: least and greatest.
pub fn height_limits(unit: Unit) -> (f64, f64) {
    let (low, high) = HEIGHT_LIMITS_M;
    let one = Amount::new(1.0, unit).si();
    (low / one, high / one)
}

/// Least dose, kg or m3: a dust that no scale shows.
const DOSE_LEAST: f64 = 1e-9;
/// Doses that differ by less are equal: rounding.
const EQUAL: f64 = 1e-9;

/// Why a plan comes to nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum PlanFault {
    /// Nothing to compare with.
    NoControl,
    /// It cannot be set out.
    Layout(LayoutFault),
    /// A container or strip without room, or too large.
    Volume {
        /// As given, m3.
        m3: f64,
        /// Least accepted, m3.
        low_m3: f64,
        /// Greatest accepted, m3.
        high_m3: f64,
    },
    /// Soil too shallow or too deep.
    Height {
        /// As given, m.
        m: f64,
        /// Least accepted, m.
        low_m: f64,
        /// Greatest accepted, m.
        high_m: f64,
    },
    /// An addition without a dose.
    NoDose {
        /// Of which treatment.
        treatment: usize,
    },
    /// A dose in a unit that does not tell how much goes into a container.
    DoseUnit {
        /// Of which treatment.
        treatment: usize,
        /// The unit.
        unit: Unit,
    },
    /// More than the container holds.
    TooMuch {
        /// Of which treatment.
        treatment: usize,
        /// What it takes up alone, settled, L.
        takes_l: f64,
        /// The room, L.
        room_l: f64,
    },
    /// Two treatments are the same.
    Same {
        /// One.
        first: usize,
        /// The other.
        second: usize,
    },
    /// The blend has nothing added, so it is the dug control.
    EmptyBlend {
        /// Which treatment.
        treatment: usize,
    },
    /// There is no ground to fill in.
    NoGround,
    /// The recipe that follows for a treatment has a fault.
    Recipe {
        /// Of which treatment.
        treatment: usize,
        /// What is wrong.
        error: RecipeError,
    },
}

/// What of an addition goes into one container.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// Id of the material.
    pub material: String,
    /// What it is called.
    pub name: String,
    /// As sold, kg.
    pub moist_kg: f64,
    /// Loose as sold, L.
    pub loose_l: f64,
    /// Oven-dry, kg.
    pub dry_kg: f64,
    /// What it costs, where there is a price.
    pub cost: Option<f64>,
    /// The bag it comes in, where one is told.
    pub bag: Option<Bag>,
    /// What kind of thing it is.
    pub group: Group,
}

/// One container of a treatment.
#[derive(Clone, Debug)]
pub struct One {
    /// The recipe of one.
    pub recipe: Recipe,
    /// Ground as dug, moist, kg.
    pub ground_moist_kg: f64,
    /// Ground as it lies, L.
    pub ground_l: f64,
    /// What is added.
    pub added: Vec<Weighed>,
}

/// Something to buy, or the ground to dig.
#[derive(Clone, Debug, PartialEq)]
pub struct Bought {
    /// Id of the material.
    pub material: String,
    /// What it is called.
    pub name: String,
    /// As sold, kg.
    pub moist_kg: f64,
    /// Loose as sold, L.
    pub loose_l: f64,
    /// Whole bags, where one is told.
    pub bags: Option<u32>,
    /// What is used of it costs, where there is a price.
    pub cost: Option<f64>,
}

/// How equal the doses of single additions are: of those at the trial's dose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equality {
    /// Largest over smallest mass as sold.
    pub by_mass: f64,
    /// Largest over smallest loose volume.
    pub by_volume: f64,
    /// Largest over smallest dry mass; infinite where one has none.
    pub by_dry_mass: f64,
}

impl Equality {
    /// Whether all have one mass.
    pub fn equal_mass(&self) -> bool {
        self.by_mass - 1.0 < EQUAL
    }

    /// Whether all have one volume.
    pub fn equal_volume(&self) -> bool {
        self.by_volume - 1.0 < EQUAL
    }
}

/// What a plan comes to, without what the model foretells.
#[derive(Clone, Debug)]
pub struct Doses {
    /// One container of each treatment.
    pub each: Vec<One>,
    /// How many of each.
    pub containers: Vec<usize>,
    /// Ground for all, moist as dug, kg.
    pub ground_moist_kg: f64,
    /// The same as it lies, L.
    pub ground_l: f64,
    /// What is added in all, in the order in which it comes up.
    pub bought: Vec<Bought>,
    /// What all of it costs, where everything has a price.
    pub cost: Option<f64>,
    /// How equal the doses are; none where fewer than two treatments add one thing.
    pub equality: Option<Equality>,
}

/// Volume and area of one, m3 and m2.
fn room(vessel: &Vessel) -> Result<[f64; 2], PlanFault> {
    let (volume, height) = match vessel {
        Vessel::Container { volume, height, .. } => (volume.si(), height.si()),
        Vessel::Strip { area, depth, .. } => (area.si() * depth.si(), depth.si()),
    };
    let (low_m, high_m) = HEIGHT_LIMITS_M;
    // Also refuses what is no number.
    if !(height >= low_m && height <= high_m) {
        let m = height;
        return Err(PlanFault::Height { m, low_m, high_m });
    }
    let (low_m3, high_m3) = VOLUME_LIMITS_M3;
    if !(volume >= low_m3 && volume <= high_m3) {
        let m3 = volume;
        return Err(PlanFault::Volume {
            m3,
            low_m3,
            high_m3,
        });
    }
    Ok([volume, volume / height])
}

/// A dose for one container: kg or litres.
fn dose_amount(
    treatment: usize,
    dose: &Amount,
    [volume_m3, area_m2]: [f64; 2],
) -> Result<Amount, PlanFault> {
    let si = dose.si();
    let kg = |kg: f64| Amount::new(kg, Unit::Kilogram);
    let litres = |m3: f64| Amount::new(m3 * LITRES_PER_M3, Unit::Litre);
    let amount = match dose.unit.dimension() {
        Dimension::Mass => kg(si),
        Dimension::Volume => litres(si),
        Dimension::Length => litres(si * area_m2),
        Dimension::MassPerArea => kg(si * area_m2),
        Dimension::MassPerVolume => kg(si * volume_m3),
        Dimension::ShareOfVolume => litres(si * volume_m3),
        Dimension::Area | Dimension::ShareOfMass | Dimension::Part | Dimension::Bag => {
            let unit = dose.unit;
            return Err(PlanFault::DoseUnit { treatment, unit });
        }
    };
    let is_some = amount.si() >= DOSE_LEAST && amount.value.is_finite();
    is_some
        .then_some(amount)
        .ok_or(PlanFault::NoDose { treatment })
}

/// Units that a dose can have.
pub fn dose_units() -> impl Iterator<Item = Unit> {
    Unit::ALL.iter().copied().filter(|unit| {
        matches!(
            unit.dimension(),
            Dimension::Mass
                | Dimension::Volume
                | Dimension::Length
                | Dimension::MassPerArea
                | Dimension::MassPerVolume
                | Dimension::ShareOfVolume
        )
    })
}

/// What a dose can be in its unit: a share at most all there is.
pub fn dose_limits(unit: Unit) -> (f64, f64) {
    match unit.dimension() {
        Dimension::ShareOfVolume => (AMOUNT_LEAST, 1.0 / Amount::new(1.0, unit).si()),
        _ => (AMOUNT_LEAST, AMOUNT_LIMIT),
    }
}

impl Trial {
    /// The dose of a treatment in kg or litres for one container; none where nothing is added alone.
    ///
    /// # Errors
    /// There is none, or it is in a unit that does not tell.
    pub fn dose_of(&self, treatment: usize) -> Result<Option<Amount>, PlanFault> {
        let Some(Treatment {
            deed: Deed::Addition { .. },
            dose,
            ..
        }) = self.treatments.get(treatment)
        else {
            return Ok(None);
        };
        let dose = dose.as_ref().or(self.dose.as_ref());
        let dose = dose.ok_or(PlanFault::NoDose { treatment })?;
        dose_amount(treatment, dose, room(&self.vessel)?).map(Some)
    }

    /// The recipe of one container of a treatment.
    ///
    /// # Errors
    /// It cannot be filled.
    pub fn recipe_of(&self, base: &Recipe, treatment: usize) -> Result<Recipe, PlanFault> {
        let room = room(&self.vessel)?;
        let bare = bare(base, self, room);
        let deed = self.treatments.get(treatment).map(|of| &of.deed);
        let volume_m3 = room[0];
        let fills = |recipe: Recipe| match &self.vessel {
            Vessel::Container { .. } => filled_up(recipe, treatment, volume_m3),
            Vessel::Strip { .. } => Ok(recipe),
        };
        match deed {
            Some(Deed::Blend) => blend(base, bare, treatment, &self.vessel, volume_m3),
            Some(Deed::Addition { material }) => {
                let dose = self.dose_of(treatment)?;
                let amount = dose.ok_or(PlanFault::NoDose { treatment })?;
                let mut recipe = bare;
                recipe.additions.push(line(base, material, amount));
                fills(recipe)
            }
            // As it lies it takes as much room as it has.
            Some(Deed::Untouched) => Ok(bare),
            Some(Deed::Dug) | None => fills(bare),
        }
    }

    /// Recipes, weights and what is bought.
    ///
    /// # Errors
    /// The first thing that makes no trial.
    pub fn doses(&self, base: &Recipe) -> Result<Doses, PlanFault> {
        let wanted = self.wanted();
        self.layout().map_err(PlanFault::Layout)?;
        if self.control().is_none() {
            return Err(PlanFault::NoControl);
        }
        room(&self.vessel)?;
        self.differ()?;
        let mut each = Vec::with_capacity(self.treatments.len());
        for treatment in 0..self.treatments.len() {
            let recipe = self.recipe_of(base, treatment)?;
            each.push(one(recipe, treatment)?);
        }
        Ok(self.summed(each, wanted.repeats()))
    }

    /// Whether every treatment is another one.
    fn differ(&self) -> Result<(), PlanFault> {
        let mut known: Vec<(&Deed, Option<Amount>)> = Vec::new();
        for (second, treatment) in self.treatments.iter().enumerate() {
            let this = (&treatment.deed, self.dose_of(second)?);
            if let Some(first) = known.iter().position(|known| *known == this) {
                return Err(PlanFault::Same { first, second });
            }
            known.push(this);
        }
        Ok(())
    }

    fn summed(&self, each: Vec<One>, containers: Vec<usize>) -> Doses {
        let counted = || each.iter().zip(&containers);
        let sum = |of: fn(&One) -> f64| counted().map(|(one, n)| of(one) * *n as f64).sum();
        let mut bought: Vec<Bought> = Vec::new();
        let mut bags: Vec<Option<Bag>> = Vec::new();
        for (one, count) in counted() {
            let count = *count as f64;
            for added in &one.added {
                let cost = added.cost.map(|cost| cost * count);
                let known = bought
                    .iter()
                    .position(|known| known.material == added.material);
                if let Some(at) = known {
                    let known = &mut bought[at];
                    known.moist_kg += added.moist_kg * count;
                    known.loose_l += added.loose_l * count;
                    known.cost = known.cost.zip(cost).map(|(one, other)| one + other);
                    bags[at] = bags[at].take().or_else(|| added.bag.clone());
                    continue;
                }
                bags.push(added.bag.clone());
                bought.push(Bought {
                    material: added.material.clone(),
                    name: added.name.clone(),
                    moist_kg: added.moist_kg * count,
                    loose_l: added.loose_l * count,
                    bags: None,
                    cost,
                });
            }
        }
        for (bought, bag) in bought.iter_mut().zip(&bags) {
            bought.bags = bag.as_ref().and_then(|bag| whole_bags(bought, bag));
        }
        let mut costs = bought.iter();
        let cost = costs.try_fold(0.0, |sum, bought| Some(sum + bought.cost?));
        Doses {
            ground_moist_kg: sum(|one| one.ground_moist_kg),
            ground_l: sum(|one| one.ground_l),
            equality: self.equality(&each),
            cost: cost.filter(|_| !bought.is_empty()),
            each,
            containers,
            bought,
        }
    }

    /// How equal the doses of single additions are.
    fn equality(&self, each: &[One]) -> Option<Equality> {
        let both = || self.treatments.iter().zip(each);
        let of = |own: bool| -> Vec<&Weighed> {
            let single = both().filter(|(treatment, _)| {
                matches!(treatment.deed, Deed::Addition { .. }) && (own || treatment.dose.is_none())
            });
            single.filter_map(|(_, one)| one.added.first()).collect()
        };
        // A dose of its own is meant to differ, as that of a powder; where no two share the trial's,
        // all are compared.
        let mut single = of(false);
        if single.len() < 2 {
            single = of(true);
        }
        if single.len() < 2 {
            return None;
        }
        let over = |of: fn(&Weighed) -> f64| {
            let all = single.iter().map(|weighed| of(weighed));
            let most = all.clone().fold(0.0, f64::max);
            let least = all.fold(f64::INFINITY, f64::min);
            if least > 0.0 {
                most / least
            } else {
                f64::INFINITY
            }
        };
        Some(Equality {
            by_mass: over(|weighed| weighed.moist_kg),
            by_volume: over(|weighed| weighed.loose_l),
            by_dry_mass: over(|weighed| weighed.dry_kg),
        })
    }
}

/// What one container takes.
fn one(recipe: Recipe, treatment: usize) -> Result<One, PlanFault> {
    let barrow = Barrow::of(&recipe).map_err(|error| PlanFault::Recipe { treatment, error })?;
    if barrow.ground_dry_kg.is_nan() || barrow.ground_dry_kg <= 0.0 {
        return Err(PlanFault::NoGround);
    }
    let mut added = Vec::with_capacity(recipe.additions.len());
    for (addition, line) in recipe.additions.iter().zip(&barrow.lines) {
        let found = recipe.find(&addition.material);
        let own_bag = match found {
            Some(Found::Own(own, _)) => own.bag.clone(),
            _ => None,
        };
        added.push(Weighed {
            material: addition.material.clone(),
            name: found
                .map_or(addition.material.as_str(), Found::name)
                .to_owned(),
            moist_kg: line.moist_kg,
            loose_l: line.loose_m3 * LITRES_PER_M3,
            dry_kg: line.dry_kg,
            cost: line.cost,
            bag: addition.bag.clone().or(own_bag),
            group: found.map_or(Group::Sand, Found::group),
        });
    }
    Ok(One {
        ground_moist_kg: barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry),
        ground_l: barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3 * LITRES_PER_M3,
        added,
        recipe,
    })
}

/// Whole bags for what is needed.
fn whole_bags(bought: &Bought, bag: &Bag) -> Option<u32> {
    let printed = bag.size.si();
    let (need, holds) = match (bag.size.unit.dimension(), bag.expands) {
        (Dimension::Mass, None) => (bought.moist_kg, printed),
        (Dimension::Mass, Some(expands)) => (bought.loose_l, printed * expands),
        (_, expands) => (
            bought.loose_l,
            printed * LITRES_PER_M3 * expands.unwrap_or(1.0),
        ),
    };
    let count = need / holds;
    // A hair over a bag is that bag.
    let bags = (count - EQUAL).ceil().max(1.0);
    (bags.is_finite() && bags <= 1e6).then_some(bags as u32)
}
