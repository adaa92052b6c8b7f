//! How much gypsum it takes to replace sodium, the water that this needs, and whether there is any
//! reason for it. Every function takes any number.

use super::amounts::{Slice, sound};
use super::sodicity::{ESP_WATCH_PCT, MagnesiumCase, SodiumClass};
use crate::figure::{Figure, within};

/// Gypsum in a mole of charge, kg (CaSO4.2H2O, IUPAC atomic masses).
pub const GYPSUM_KG_MOL: f64 = 0.086_085_5;
/// Share of the calcium that goes for sodium (Oster & Frenkel 1980, from memory: one part in 1.1 to
/// 1.3, less as less sodium is left).
pub const EFFICIENCY: Figure = Figure::between(0.75, 0.80, 0.90);
/// Gypsum in what is sold as such (common practice: mined 70 to 95 %, ground wallboard 80 to 95).
pub const PURITY: Figure = Figure::between(0.70, 0.90, 0.95);
/// Water that dissolves a kilogram on a square metre, mm (2.4 to 2.6 g to the litre, from memory).
pub const DISSOLVES_MM: f64 = 400.0;
/// Depth of water for a depth of soil that washes out some four fifths of its salt (common practice).
pub const WASHES: f64 = 1.0;
/// Most gypsum at once, kg/m2: 5 short tons on an acre, which take some 450 mm of water (a choice
/// near what extension offices split at).
pub const AT_ONCE_KG_M2: f64 = 1.12;
/// Pores and fine roots of a clay let so much water through in a season of rain, mm (a choice: what
/// falls on a garden in half a year and is not used).
const SEASON_MM: Figure = Figure::between(100.0, 250.0, 500.0);

/// Sodium to be replaced, cmol/kg, from a share of the capacity to another, %; never below nothing.
pub fn sodium_to_replace_cmol_kg(esp_pct: f64, target_pct: f64, cec_cmol_kg: f64) -> f64 {
    let esp = within(sound(esp_pct), 0.0, 100.0);
    ((esp - sound(target_pct)) / 100.0).max(0.0) * sound(cec_cmol_kg)
}

/// Pure gypsum for so much sodium, kg/m2.
pub fn pure_kg_m2(slice: Slice, sodium_cmol_kg: f64) -> f64 {
    slice.soil_kg_m2() * sound(sodium_cmol_kg) * MOL_IN_CMOL * GYPSUM_KG_MOL
}

/// Moles in a hundredth of a mole.
const MOL_IN_CMOL: f64 = 0.01;

/// Sodium that so much pure gypsum, kg, replaces in so much dry soil, kg, once it is washed through,
/// cmol/kg.
pub fn replaces_cmol_kg(pure_kg: f64, soil_kg: f64) -> f64 {
    let cmol = sound(pure_kg) / (GYPSUM_KG_MOL * MOL_IN_CMOL);
    let soil = sound(soil_kg);
    if soil > 0.0 {
        sound(cmol * EFFICIENCY.typical / soil)
    } else {
        0.0
    }
}

/// What is to be bought for pure gypsum, in its unit, by purity and efficiency as fractions: both
/// are held to what can be.
pub fn product(pure: f64, purity: f64, efficiency: f64) -> f64 {
    sound(pure) / (within(purity, 0.1, 1.0) * within(efficiency, 0.1, 1.0))
}

/// The same with the range of both.
pub fn product_in_doubt(pure: f64) -> Figure {
    let (purity, efficiency) = (PURITY.ends(), EFFICIENCY.ends());
    Figure::between(
        product(pure, purity.high, efficiency.high),
        product(pure, PURITY.typical, EFFICIENCY.typical),
        product(pure, purity.low, efficiency.low),
    )
}

/// Elemental sulfur that does in a limy soil what pure gypsum does, in the unit of the gypsum.
pub fn sulfur_for(pure: f64) -> f64 {
    let mol = sound(pure) / GYPSUM_KG_MOL;
    mol / (super::reaction::ACID_OF_SULFUR_CMOL_KG * MOL_IN_CMOL)
}

/// Why gypsum, or why not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// Nothing shows that it would loosen this clay.
    NoneNeeded,
    /// Enough sodium for clay to disperse in rain: try it, after a jar test.
    Watch,
    /// So much sodium that calcium is needed before water.
    Sodic,
    /// Little sodium, but magnesium that does the same.
    Magnesium,
}

impl Reason {
    /// By the shares of the capacity, %.
    pub fn of(esp_pct: f64, calcium_pct: f64, magnesium_pct: f64) -> Reason {
        match SodiumClass::of(esp_pct) {
            SodiumClass::Sodic => Reason::Sodic,
            SodiumClass::Watch => Reason::Watch,
            SodiumClass::Low
                if MagnesiumCase::of(calcium_pct, magnesium_pct) == MagnesiumCase::Likely =>
            {
                Reason::Magnesium
            }
            SodiumClass::Low => Reason::NoneNeeded,
        }
    }
}

/// What a verdict about gypsum rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestsOn {
    /// A measured share of sodium.
    Given,
    /// An estimate of it: only a test tells.
    Estimated,
}

/// Whether gypsum is called for, how much, and what it takes to work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Requirement {
    /// Why, or why not.
    pub reason: Reason,
    /// What that rests on.
    pub rests_on: RestsOn,
    /// Sodium to be replaced, cmol/kg.
    pub sodium_cmol_kg: f64,
    /// Pure gypsum, kg/m2.
    pub pure_kg_m2: f64,
    /// As sold, kg/m2.
    pub product_kg_m2: Figure,
    /// Water that dissolves it, mm.
    pub dissolves_mm: f64,
    /// Water that must pass through and away with the sodium, mm: a way out is needed.
    pub leaches_mm: f64,
    /// Doses to split it in.
    pub doses: u32,
    /// Half years of rain that both take where nothing is watered.
    pub seasons: Figure,
}

impl Requirement {
    /// For a layer with such shares of its capacity, %, to a share of sodium that is aimed at. Where
    /// there is no reason it is nothing.
    pub fn of(
        slice: Slice,
        cec_cmol_kg: f64,
        [calcium_pct, magnesium_pct, sodium_pct]: [f64; 3],
        rests_on: RestsOn,
        target_pct: f64,
    ) -> Requirement {
        let reason = Reason::of(sodium_pct, calcium_pct, magnesium_pct);
        let sodium = match reason {
            Reason::Watch | Reason::Sodic => {
                sodium_to_replace_cmol_kg(sodium_pct, target_pct, cec_cmol_kg)
            }
            Reason::NoneNeeded | Reason::Magnesium => 0.0,
        };
        let pure = pure_kg_m2(slice, sodium);
        let product_kg_m2 = product_in_doubt(pure);
        let dissolves_mm = DISSOLVES_MM * pure;
        let leaches_mm = if pure > 0.0 {
            WASHES * sound(slice.depth_m) * MM_IN_M
        } else {
            0.0
        };
        let water = dissolves_mm + leaches_mm;
        Requirement {
            reason,
            rests_on,
            sodium_cmol_kg: sodium,
            pure_kg_m2: pure,
            product_kg_m2,
            dissolves_mm,
            leaches_mm,
            doses: doses(product_kg_m2.typical),
            seasons: rain_half_years(water),
        }
    }

    /// Water that dissolves it and then carries the sodium away, mm.
    pub fn water_mm(&self) -> f64 {
        self.dissolves_mm + self.leaches_mm
    }

    /// The same, aimed at the share that is watched from.
    pub fn to_watch(
        slice: Slice,
        cec_cmol_kg: f64,
        shares_pct: [f64; 3],
        rests_on: RestsOn,
    ) -> Requirement {
        Requirement::of(slice, cec_cmol_kg, shares_pct, rests_on, ESP_WATCH_PCT)
    }
}

/// Half years of rain for so much water, mm, where nothing is watered.
pub fn rain_half_years(water_mm: f64) -> Figure {
    let (water, season) = (sound(water_mm), SEASON_MM.ends());
    Figure::between(
        water / season.high,
        water / SEASON_MM.typical,
        water / season.low,
    )
}

/// Millimetres in a metre.
const MM_IN_M: f64 = 1000.0;

/// In how many doses to give it; none where nothing is given.
pub fn doses(kg_m2: f64) -> u32 {
    // At most a hundred: what is beyond is no garden.
    within((sound(kg_m2) / AT_ONCE_KG_M2).ceil(), 0.0, 100.0) as u32
}
