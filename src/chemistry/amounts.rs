//! What a laboratory prints, turned into other units: shares of a layer of ground, cations, organic
//! matter. Every function takes any number: what is no number or below nothing counts as nothing.

use crate::figure::{Figure, within};
use crate::quantity::Unit;

/// Greatest number that anything here is taken to be.
const GREATEST: f64 = 1e12;
/// Parts per million in one.
const MILLION: f64 = 1e6;
/// Soil in the layer of an acre that American laboratories count on, lb ("furrow slice": University
/// of Florida IFAS HS1229; Purdue University).
const FURROW_LB_ACRE: f64 = 2e6;
/// Depth of that layer, in (the same: 6 2/3).
const FURROW_IN: f64 = 20.0 / 3.0;
/// Organic matter over organic carbon by the old convention of laboratories (58 % carbon).
pub const ORGANIC_OVER_CARBON_OLD: f64 = 1.724;
/// Organic matter over organic carbon by theory (Pribyl 2010, Geoderma 156:75-83).
pub const ORGANIC_OVER_CARBON_THEORY: f64 = 2.0;
/// Where eight in ten soils lie (a choice, inside the 1.4 to 2.5 that Pribyl 2010 found plausible).
pub const ORGANIC_OVER_CARBON_ENDS: (f64, f64) = (1.6, 2.2);
/// What loss on ignition without calibration may be too high or too low by on clay, points (a
/// choice: uncalibrated it reads some 1.5 to 3 high at 40 % clay).
pub const LOSS_ON_CLAY: (f64, f64) = (2.0, 0.5);
/// Clay from which that holds in full, and to which it is only the smaller of both, % (a choice).
const LOSS_CLAY_PCT: (f64, f64) = (15.0, 35.0);

/// A number that can be: nothing where it is none or below nothing.
pub(super) fn sound(value: f64) -> f64 {
    // What is no number is not above nothing either.
    if value > 0.0 {
        value.min(GREATEST)
    } else {
        0.0
    }
}

/// A layer of ground of one square metre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// Its depth, m.
    pub depth_m: f64,
    /// Its dry mass over its volume, kg/m3.
    pub density_kg_m3: f64,
}

impl Slice {
    /// The layer that American laboratories count on: 2,000,000 lb on an acre, 6 2/3 in deep, which
    /// is dry ground of 1323.84 kg/m3.
    pub fn furrow() -> Slice {
        let depth_m = FURROW_IN * Unit::Inch.factor();
        Slice {
            depth_m,
            density_kg_m3: FURROW_LB_ACRE * lb_acre_kg_m2() / depth_m,
        }
    }

    /// The same density, another depth, m.
    pub fn furrow_to(depth_m: f64) -> Slice {
        Slice {
            depth_m: sound(depth_m),
            ..Slice::furrow()
        }
    }

    /// Dry ground in it, kg/m2.
    pub fn soil_kg_m2(self) -> f64 {
        sound(self.depth_m) * sound(self.density_kg_m3)
    }

    /// Of pounds on an acre, mg/kg; nothing where there is no ground.
    pub fn ppm_of_lb_acre(self, lb_acre: f64) -> f64 {
        self.ppm_of_kg_m2(sound(lb_acre) * lb_acre_kg_m2())
    }

    /// Of mg/kg, pounds on an acre.
    pub fn lb_acre_of_ppm(self, ppm: f64) -> f64 {
        self.kg_m2_of_ppm(ppm) / lb_acre_kg_m2()
    }

    /// Of mg/kg, kg on a hectare.
    pub fn kg_ha_of_ppm(self, ppm: f64) -> f64 {
        self.kg_m2_of_ppm(ppm) * Unit::SquareMetre.factor() * SQUARE_METRES_IN_HECTARE
    }

    fn kg_m2_of_ppm(self, ppm: f64) -> f64 {
        self.soil_kg_m2() * sound(ppm) / MILLION
    }

    fn ppm_of_kg_m2(self, kg_m2: f64) -> f64 {
        let soil = self.soil_kg_m2();
        if soil > 0.0 {
            sound(kg_m2 / soil * MILLION)
        } else {
            0.0
        }
    }
}

/// Square metres in a hectare (exact).
const SQUARE_METRES_IN_HECTARE: f64 = 1e4;

/// One pound on an acre, kg/m2.
pub fn lb_acre_kg_m2() -> f64 {
    Unit::Pound.factor() / Unit::Acre.factor()
}

/// How a report came by its organic matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrganicMethod {
    /// It does not say.
    Unknown,
    /// Loss on ignition, calibrated against carbon by the laboratory.
    LossCalibrated,
    /// Loss on ignition as weighed.
    LossAsWeighed,
    /// Organic carbon, by wet oxidation or combustion.
    Carbon,
    /// Organic matter that the laboratory computed from carbon by the old convention.
    FromCarbon,
}

/// What a value of a method that is not told may be off by, of itself (a choice).
const UNKNOWN_ERROR: f64 = 0.2;

/// Organic matter, % of dry fine earth, by what a report prints and how, in a soil with so much clay.
pub fn organic_matter_pct(printed_pct: f64, method: OrganicMethod, clay_pct: f64) -> Figure {
    let printed = within(sound(printed_pct), 0.0, 100.0);
    let over = super::nutrients::ORGANIC_OVER_CARBON;
    let (least, most) = ORGANIC_OVER_CARBON_ENDS;
    let of_carbon = |carbon: f64| {
        Figure::between(carbon * least, carbon * over, carbon * most).map(|value| value.min(100.0))
    };
    match method {
        OrganicMethod::LossCalibrated => Figure::exact(printed),
        OrganicMethod::Unknown => Figure::between(
            printed * (1.0 - UNKNOWN_ERROR),
            printed,
            (printed * (1.0 + UNKNOWN_ERROR)).min(100.0),
        ),
        OrganicMethod::LossAsWeighed => {
            let (from, to) = LOSS_CLAY_PCT;
            let (high, low) = LOSS_ON_CLAY;
            let way = within((sound(clay_pct) - from) / (to - from), 0.0, 1.0);
            Figure::between(
                (printed - (low + way * (high - low))).max(0.0),
                printed,
                (printed + low).min(100.0),
            )
        }
        OrganicMethod::Carbon => of_carbon(printed),
        OrganicMethod::FromCarbon => of_carbon(printed / ORGANIC_OVER_CARBON_OLD),
    }
}
