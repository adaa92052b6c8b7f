//! What is on sale: how much one buys at once, what it costs, and what of it reaches the blend.

use crate::material::{Group, Material};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{Addition, Amount, Bag, Fault, Kept, Path, Price, Recipe, RecipeError};

/// Most offers in a recipe (a choice: more than a garden centre has for soil).
pub const OFFERS_LIMIT: usize = 40;
/// Most lots of one offer (a choice: several lorries).
pub const LOTS_LIMIT: f64 = 10_000.0;
/// Share of what is bought that never reaches the blend, %: spilt, or left in the bag.
pub const WASTE_LIMITS_PCT: (f64, f64) = (0.0, 50.0);

/// Grain size at which damp sand bulks most, mm, and by how much: 20 to 40 %, fine sand most
/// (two notes of civil engineers, verified; the sizes are a choice).
const BULKS_MOST: (f64, f64) = (0.25, 0.40);
/// Bulking lost for each doubling of the grain: 20 % at 1 mm and none at 4 mm (a choice).
const BULKING_PER_DOUBLING: f64 = 0.10;
/// Water per dry mass between which sand bulks most (same notes: 5 to 8 %).
const BULKING_WATER: (f64, f64) = (0.05, 0.08);
/// Water per dry mass at which sand is flooded and lies as when dry (a choice: loose sand of 40 %
/// pores holds 25 %).
const FLOODED_WATER: f64 = 0.25;

/// Something on sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Id of the material.
    pub material: String,
    /// What is bought at once: a bag as printed, or the least that is poured loose.
    pub lot: Bag,
    /// Poured loose, not in bags.
    pub loose: bool,
    /// What it costs, per bag (one lot), mass or volume.
    pub price: Option<Price>,
    /// Money for bringing a load of it.
    pub delivery: Option<f64>,
    /// Most in one load, as a mass or a volume; absent: all of it comes at once.
    pub load: Option<Amount>,
    /// How many lots there are.
    pub most: Option<f64>,
    /// Moisture as sold, % of moist mass, where it is not the material's own.
    pub water_per_wet_pct: Option<f64>,
    /// Invented, to try it.
    pub invented: bool,
    /// Fields of a later release.
    pub kept: Kept,
}

/// One lot, as bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lot {
    /// Mass as sold, kg: what is carried.
    pub moist_kg: f64,
    /// Oven-dry mass, kg.
    pub dry_kg: f64,
    /// Loose volume as sold, m3: what is shovelled.
    pub loose_m3: f64,
    /// Loose volume that counts in a blend, m3: at the moisture that the material's density is told
    /// at, so that a litre of bulked sand counts as what is in it.
    pub counted_m3: f64,
    /// Money for one, not rounded: what is paid is rounded once.
    pub price: f64,
    /// Money for a load of it.
    pub delivery: f64,
    /// Lots that come in one load; infinite where all come at once.
    pub per_load: f64,
    /// How many lots there are, where that is told.
    pub most: Option<u32>,
}

/// How much more room damp sand takes than dry sand, as a fraction: grains held apart by films of
/// water. Finest most, none from 4 mm.
///
/// Valid for loose sand; `water_per_wet` is mass of water over moist mass.
pub fn bulking(grain_mm: f64, water_per_wet: f64) -> f64 {
    let (finest_mm, most) = BULKS_MOST;
    let doublings = libm::log2(grain_mm.max(finest_mm) / finest_mm);
    let peak = (most - BULKING_PER_DOUBLING * doublings).max(0.0);
    let per_dry = water_per_wet / (1.0 - water_per_wet).max(1e-9);
    let (rises_to, falls_from) = BULKING_WATER;
    let share = if per_dry < rises_to {
        per_dry / rises_to
    } else if per_dry <= falls_from {
        1.0
    } else {
        ((FLOODED_WATER - per_dry) / (FLOODED_WATER - falls_from)).max(0.0)
    };
    peak * share
}

/// Whether damp grains of a group lie looser than dry ones.
fn bulks(group: Group) -> bool {
    matches!(group, Group::Sand | Group::Grit)
}

/// Money to the cent.
pub fn to_the_cent(money: f64) -> f64 {
    (money * 100.0).round() / 100.0
}

impl Offer {
    /// A lot of a material, not yet priced.
    pub fn new(material: impl Into<String>, size: Amount) -> Offer {
        Offer {
            material: material.into(),
            lot: Bag {
                size,
                expands: None,
            },
            loose: false,
            price: None,
            delivery: None,
            load: None,
            most: None,
            water_per_wet_pct: None,
            invented: false,
            kept: Kept::new(),
        }
    }

    /// What one lot is, and costs; `at` is the path of the offer.
    ///
    /// # Errors
    /// A material that is not there, a lot of nothing, no price, a load that holds no lot: each with
    /// the path of its field.
    pub fn lot(&self, recipe: &Recipe, at: &Path) -> Result<Lot, RecipeError> {
        let price = self.price.as_ref().ok_or_else(|| {
            let path = at.field("price");
            Fault::Missing.at(path)
        })?;
        let lot = self.contents(recipe, at)?;
        let per = price.per.si();
        let lots = match price.per.unit.dimension() {
            Dimension::Mass => lot.moist_kg / per,
            Dimension::Volume => lot.loose_m3 / per,
            _ => 1.0 / per,
        };
        let value = price.value * lots;
        let (low, high) = (0.0, crate::recipe::AMOUNT_LIMIT);
        // Also refuses what is no number.
        if value >= low && value <= high {
            Ok(Lot {
                price: value,
                ..lot
            })
        } else {
            Err(Fault::OutOfRange { value, low, high }.at(at.field("price")))
        }
    }

    /// The same without asking for its price.
    ///
    /// # Errors
    /// As [`Offer::lot`].
    pub fn contents(&self, recipe: &Recipe, at: &Path) -> Result<Lot, RecipeError> {
        let found = recipe.find(&self.material).ok_or_else(|| {
            let found = self.material.clone();
            Fault::UnknownMaterial { found }.at(at.field("material"))
        })?;
        let own = found
            .material()
            .map_err(|misfit| Fault::Misfit(misfit).at(at.field("material")))?;
        let sold = self.as_sold(own, at)?;
        let size = self.lot.size.si();
        let by_mass = self.lot.size.unit.dimension() == Dimension::Mass;
        let lot = match (by_mass, self.lot.expands) {
            (true, None) => Contents::of_mass(size, &sold),
            (true, Some(expands)) => Contents::of_volume(size * expands / LITRES_PER_M3, &sold),
            (false, expands) => Contents::of_volume(size * expands.unwrap_or(1.0), &sold),
        };
        let (low, high) = (crate::recipe::AMOUNT_LEAST, crate::recipe::AMOUNT_LIMIT);
        // Also what is no number.
        let is_something = lot.moist_kg > 0.0 && lot.loose_m3 > 0.0 && lot.moist_kg.is_finite();
        if !is_something {
            let value = self.lot.size.value;
            let fault = Fault::OutOfRange { value, low, high };
            return Err(fault.at(at.field("bag").field("value")));
        }
        let per_load = match &self.load {
            None => f64::INFINITY,
            Some(load) => {
                let in_one = match load.unit.dimension() {
                    Dimension::Mass => load.si() / lot.moist_kg,
                    _ => load.si() / lot.loose_m3,
                };
                // A hair, so that a load of three lots holds three.
                let whole = (in_one * (1.0 + 1e-9)).floor();
                if whole < 1.0 {
                    let value = load.value;
                    let low = load.value / in_one;
                    let fault = Fault::OutOfRange { value, low, high };
                    return Err(fault.at(at.field("load").field("value")));
                }
                whole
            }
        };
        Ok(Lot {
            moist_kg: lot.moist_kg,
            dry_kg: lot.dry_kg,
            loose_m3: lot.loose_m3,
            counted_m3: if bulks(own.group) {
                lot.dry_kg / own.fresh_dry_density_kg_m3
            } else {
                lot.loose_m3
            },
            price: 0.0,
            delivery: to_the_cent(self.delivery.unwrap_or(0.0)),
            per_load,
            most: self.most.map(|most| most as u32),
        })
    }

    /// How the material is as sold.
    fn as_sold(&self, own: Material, at: &Path) -> Result<Sold, RecipeError> {
        let water = self.water_per_wet_pct.map(|pct| pct * 0.01);
        let water_per_wet = water.unwrap_or(own.water_per_wet);
        let path = || at.field("water_per_wet_pct");
        let dry_kg_m3 = if bulks(own.group) {
            let room = |water| 1.0 + bulking(own.grain_mm, water);
            own.fresh_dry_density_kg_m3 * room(own.water_per_wet) / room(water_per_wet)
        } else {
            own.with_water(water_per_wet, true)
                .map_err(|misfit| Fault::Misfit(misfit).at(path()))?
                .fresh_dry_density_kg_m3
        };
        if dry_kg_m3 <= 0.0 && water_per_wet >= 1.0 && own.packs() {
            let (value, low, high) = (water_per_wet * 100.0, 0.0, 99.0);
            return Err(Fault::OutOfRange { value, low, high }.at(path()));
        }
        Ok(Sold {
            water_per_wet,
            dry_kg_m3,
            loose_kg_m3: own.loose_density_kg_m3,
        })
    }

    /// The addition that so many lots are in a recipe, with the waste taken off.
    pub fn addition(&self, recipe: &Recipe, lot: &Lot, lots: f64, waste_pct: f64) -> Addition {
        let used = lots * (1.0 - waste_pct * 0.01);
        let group = recipe.find(&self.material).map(|found| found.group());
        let sand = group.is_some_and(bulks);
        let size = &self.lot.size;
        let by_mass = size.unit.dimension() == Dimension::Mass && self.lot.expands.is_none();
        let amount = if sand && self.water_per_wet_pct.is_some() {
            Amount::new(used * lot.counted_m3 * LITRES_PER_M3, Unit::Litre)
        } else if by_mass {
            Amount::new(used * size.value, size.unit)
        } else {
            Amount::new(used * lot.loose_m3 * LITRES_PER_M3, Unit::Litre)
        };
        Addition {
            water_per_wet_pct: self
                .water_per_wet_pct
                .filter(|_| !sand)
                .map(crate::figure::Figure::exact),
            bag: Some(self.lot.clone()),
            price: self.price.clone(),
            ..Addition::new(&*self.material, amount)
        }
    }
}

/// A material as it is sold.
struct Sold {
    water_per_wet: f64,
    dry_kg_m3: f64,
    loose_kg_m3: f64,
}

struct Contents {
    moist_kg: f64,
    dry_kg: f64,
    loose_m3: f64,
}

impl Contents {
    fn of_mass(moist_kg: f64, sold: &Sold) -> Contents {
        let dry_kg = moist_kg * (1.0 - sold.water_per_wet);
        Contents {
            moist_kg,
            dry_kg,
            loose_m3: if sold.dry_kg_m3 > 0.0 {
                dry_kg / sold.dry_kg_m3
            } else {
                moist_kg / sold.loose_kg_m3
            },
        }
    }

    fn of_volume(loose_m3: f64, sold: &Sold) -> Contents {
        let dry_kg = loose_m3 * sold.dry_kg_m3;
        Contents {
            moist_kg: if sold.water_per_wet < 1.0 && dry_kg > 0.0 {
                dry_kg / (1.0 - sold.water_per_wet)
            } else {
                loose_m3 * sold.loose_kg_m3
            },
            dry_kg,
            loose_m3,
        }
    }
}

impl Lot {
    /// Money for so many lots with what bringing them costs, to the cent.
    pub fn cost(&self, lots: u32) -> f64 {
        if lots == 0 {
            return 0.0;
        }
        to_the_cent(self.price * f64::from(lots) + self.delivery * f64::from(self.loads(lots)))
    }

    /// How many loads bring so many lots.
    pub fn loads(&self, lots: u32) -> u32 {
        match lots {
            0 => 0,
            _ if self.per_load.is_infinite() => 1,
            _ => (f64::from(lots) / self.per_load).ceil() as u32,
        }
    }
}
