//! Lime and sulfur for another reaction, in doses. Every function takes any number.

use super::amounts::{Slice, sound};
use super::reaction::{ACID_OF_SULFUR_CMOL_KG, BASE_OF_LIME_CMOL_KG, FREE_LIME_PH};
use crate::figure::{Figure, within};
use crate::material::{Entry, Property};

/// What ground limestone does of what its carbonate would, at worst (thesis of the University of
/// Georgia; blends count all of it).
pub const GROUND_LIME: f64 = 0.73;
/// Ground limestone in the catalogue.
const LIMESTONE: &str = "lime_calcitic";
/// What it neutralises as sold where the catalogue does not tell, % (common practice).
const LIMESTONE_PCT: f64 = 95.0;
/// Advice for the same change differs so much, and so do soils: half to twice (98 to 270 g/m2 of
/// sulfur for one unit in clay, older advice of the United States and the RHS).
pub const BAND: f64 = 2.0;
/// Months between two doses of lime (Penn State, from memory).
pub const LIME_MONTHS: u32 = 6;
/// Months until a dose of sulfur has worked in warm moist soil: test again then (common practice:
/// weeks to a season).
pub const SULFUR_MONTHS: u32 = 3;
/// Reaction above which the fizz test is asked for where free lime is not known: sulfur may be in vain.
pub const ASK_FIZZ_PH: f64 = FREE_LIME_PH;

/// What ground limestone of the catalogue neutralises of its mass as sold, as carbonate, %: what a
/// blend counts of it.
pub fn limestone_pct() -> f64 {
    let typical = |of: Property| {
        let figure = Entry::find(LIMESTONE)?.properties.get(of)?;
        Some(figure.typical)
    };
    let less = |of: Property| 1.0 - typical(of).unwrap_or(0.0) / 100.0;
    let dry_pct = typical(Property::CarbonateEquivalent).unwrap_or(LIMESTONE_PCT);
    dry_pct * less(Property::WaterPerWet) * less(Property::Coarse)
}

/// Most that is given in one dose, kg/m2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtOnce {
    /// Ground lime.
    pub lime_kg_m2: f64,
    /// Elemental sulfur.
    pub sulfur_kg_m2: f64,
}

impl AtOnce {
    /// The same rates on another area, for one square metre of this one.
    #[must_use]
    pub fn on(self, share_of_area: f64) -> AtOnce {
        let share = sound(share_of_area);
        AtOnce {
            lime_kg_m2: self.lime_kg_m2 * share,
            sulfur_kg_m2: self.sulfur_kg_m2 * share,
        }
    }
}

/// Charge that moves a layer by a step of pH, cmol/m2.
fn charge_cmol_m2(soil_kg: f64, buffer_cmol_kg_ph: f64, step_ph: f64) -> f64 {
    sound(soil_kg) * sound(buffer_cmol_kg_ph) * sound(step_ph)
}

/// Lime for a step of pH upward, kg, for so much dry soil, kg, of a buffering, cmol/kg for a unit;
/// by what it neutralises of its mass as carbonate, %, and how much of it acts, as a fraction. Never
/// below nothing.
pub fn lime_kg(
    soil_kg: f64,
    buffer_cmol_kg_ph: f64,
    step_ph: f64,
    equivalent_pct: f64,
    acts: f64,
) -> f64 {
    let pure = charge_cmol_m2(soil_kg, buffer_cmol_kg_ph, step_ph) / BASE_OF_LIME_CMOL_KG;
    sound(
        pure / (within(sound(equivalent_pct), 1.0, 200.0) / 100.0 * within(sound(acts), 0.01, 1.0)),
    )
}

/// What so much lime moves the reaction by, as long as buffering is all that it meets.
pub fn rise_ph(lime_kg: f64, equivalent_pct: f64, soil_kg: f64, buffer_cmol_kg_ph: f64) -> f64 {
    let base = sound(lime_kg) * sound(equivalent_pct) / 100.0 * BASE_OF_LIME_CMOL_KG;
    let buffer = sound(soil_kg) * sound(buffer_cmol_kg_ph);
    if buffer > 0.0 {
        sound(base / buffer)
    } else {
        0.0
    }
}

/// Elemental sulfur for a step of pH downward, kg; free lime not counted. Never below nothing.
pub fn sulfur_kg(soil_kg: f64, buffer_cmol_kg_ph: f64, step_ph: f64) -> f64 {
    charge_cmol_m2(soil_kg, buffer_cmol_kg_ph, step_ph) / ACID_OF_SULFUR_CMOL_KG
}

/// Sulfur that free lime eats before anything changes, kg, by carbonate in %.
pub fn sulfur_for_lime_kg(soil_kg: f64, carbonate_pct: f64) -> f64 {
    let lime = sound(soil_kg) * within(sound(carbonate_pct), 0.0, 100.0) / 100.0;
    lime * BASE_OF_LIME_CMOL_KG / ACID_OF_SULFUR_CMOL_KG
}

/// A need in doses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doses {
    /// In all, kg/m2.
    pub kg_m2: Figure,
    /// How many.
    pub count: u32,
    /// Each, kg/m2.
    pub each_kg_m2: f64,
    /// Months from one to the next, and until the next test.
    pub months: u32,
}

fn with_band(typical: f64, acts_at_worst: f64) -> Figure {
    Figure::between(
        typical / BAND,
        typical,
        sound(typical * BAND / acts_at_worst),
    )
}

fn in_doses(kg_m2: Figure, at_once_kg_m2: f64, months: u32) -> Doses {
    let all = kg_m2.typical;
    let cap = sound(at_once_kg_m2).max(LEAST_AT_ONCE_KG_M2);
    // What passes a cap by rounding is one dose; beyond a hundred it is no garden.
    let count = within((all / cap - 1e-9).ceil(), 0.0, 100.0) as u32;
    let count = count.max(u32::from(all > 0.0));
    Doses {
        kg_m2,
        count,
        each_kg_m2: if count > 0 {
            all / f64::from(count)
        } else {
            0.0
        },
        months,
    }
}

/// No dose is smaller, kg/m2 (a choice: a gram).
const LEAST_AT_ONCE_KG_M2: f64 = 0.001;

/// Lime, kg/m2, in doses that keep to the most at once.
pub fn lime_doses(kg_m2: f64, at_once: AtOnce) -> Doses {
    let kg_m2 = with_band(sound(kg_m2), GROUND_LIME);
    in_doses(kg_m2, at_once.lime_kg_m2, LIME_MONTHS)
}

/// Sulfur, kg/m2, in doses that keep to the most at once.
pub fn sulfur_doses(kg_m2: f64, at_once: AtOnce) -> Doses {
    let kg_m2 = with_band(sound(kg_m2), 1.0);
    in_doses(kg_m2, at_once.sulfur_kg_m2, SULFUR_MONTHS)
}

/// What is known of free lime.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FreeLime {
    /// Nothing: neither a fizz nor a carbonate.
    Unknown,
    /// It does not fizz.
    None,
    /// So much carbonate, %.
    Pct(f64),
}

/// What to give for another reaction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Advice {
    /// It is there already.
    Nothing,
    /// Ground lime.
    Lime(Doses),
    /// Elemental sulfur.
    Sulfur(Doses),
    /// Sulfur may be in vain: do the fizz test first.
    AskFizz,
    /// Free lime would eat so much sulfur, kg/m2, before anything changed: choose other plants, or
    /// soil without lime in a pot.
    InVain {
        /// Sulfur that the free lime alone takes, kg/m2.
        eaten_kg_m2: f64,
    },
    /// Sodium is, or may be, what makes it so basic: calcium comes before sulfur.
    SodiumFirst,
    /// Free lime holds it, and more lifts it no further.
    Held,
    /// One of both reactions is none.
    NoReaction,
}

/// What to give a layer for another reaction.
pub fn advice(
    slice: Slice,
    buffer_cmol_kg_ph: f64,
    from_ph: f64,
    to_ph: f64,
    free_lime: FreeLime,
    at_once: AtOnce,
) -> Advice {
    let is_ph = |ph: f64| (0.0..=14.0).contains(&ph);
    if !is_ph(from_ph) || !is_ph(to_ph) {
        return Advice::NoReaction;
    }
    let soil = slice.soil_kg_m2();
    let (up, down) = (to_ph - from_ph, from_ph - to_ph);
    // Closer than anyone can measure.
    if up.abs() < 0.05 {
        return Advice::Nothing;
    }
    if up > 0.0 {
        let kg_m2 = lime_kg(soil, buffer_cmol_kg_ph, up, limestone_pct(), 1.0);
        return Advice::Lime(lime_doses(kg_m2, at_once));
    }
    match free_lime {
        FreeLime::Pct(pct) if pct > 0.0 => Advice::InVain {
            eaten_kg_m2: sulfur_for_lime_kg(soil, pct),
        },
        FreeLime::Unknown if from_ph > ASK_FIZZ_PH => Advice::AskFizz,
        _ => Advice::Sulfur(sulfur_doses(
            sulfur_kg(soil, buffer_cmol_kg_ph, down),
            at_once,
        )),
    }
}
