//! Salt that water carries away: what must pass to keep it down, and what washes it out.

use super::extracts::EC_LIMITS_DS_M;
use crate::figure::{Ends, within};

/// Share of the water that has to pass below the roots so that a soil stays at a saturation extract,
/// of the water's own conductivity, both dS/m: `ECw / (5 ECe - ECw)` (FAO Irrigation and Drainage
/// Paper 29, from memory). `None` where no amount of this water does it.
pub fn requirement(water_ds_m: f64, paste_ds_m: f64) -> Option<f64> {
    let (low, high) = EC_LIMITS_DS_M;
    let water = within(water_ds_m, low, high);
    let over = 5.0 * within(paste_ds_m, low, high) - water;
    if over <= 0.0 {
        return None;
    }
    let share = water / over;
    (share < 1.0).then_some(share)
}

/// How the water is given, and to what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Washing {
    /// In several goes, with time to drain, in any soil.
    InGoes,
    /// Standing on sandy loam.
    StandingOnSandyLoam,
    /// Standing on clay.
    StandingOnClay,
    /// Standing on peat.
    StandingOnPeat,
}

impl Washing {
    /// How well it washes: what is left is this over the depth of water for a depth of soil (Hoffman
    /// 1980, from memory).
    pub fn factor(self) -> f64 {
        match self {
            Washing::InGoes | Washing::StandingOnSandyLoam => 0.1,
            Washing::StandingOnClay => 0.3,
            Washing::StandingOnPeat => 0.45,
        }
    }

    /// Share of the salt that is left when a depth of water has passed a depth of soil, in one unit,
    /// 0 to 1.
    pub fn left(self, water_depth: f64, soil_depth: f64) -> f64 {
        let soil = within(soil_depth, 0.0, DEEPEST);
        let water = within(water_depth, 0.0, DEEPEST);
        // Less than this much water does not reach the bottom.
        let least = self.factor() * soil;
        if water > least { least / water } else { 1.0 }
    }

    /// Depth of water that leaves a share of the salt, in the unit of the soil's depth. `None` where
    /// nothing is to be left, which no water does.
    pub fn water_depth(self, soil_depth: f64, left: f64) -> Option<f64> {
        let soil = within(soil_depth, 0.0, DEEPEST);
        if left >= 1.0 {
            return Some(0.0);
        }
        (left > LEAST_LEFT).then(|| self.factor() * soil / left)
    }
}

/// A depth beyond any, in any unit.
const DEEPEST: f64 = 1e6;
/// A share of salt that water does not get below (a choice).
const LEAST_LEFT: f64 = 1e-6;

/// Share that is left when as much water has passed as the soil is deep (common practice: a fifth; of
/// salt as a whole, not of sodium on the clay).
pub const LEFT_BY_ONE_DEPTH: f64 = 0.2;

/// Share of each watering that runs out of a container so that salt does not pile up in it (common
/// practice). It needs a hole, and what runs out has to be poured away.
pub const CONTAINER_DRAINS: Ends = Ends {
    low: 0.10,
    high: 0.20,
};

/// Water for one watering, in the unit of what the mix takes up, with a share that runs out.
pub fn container_watering(taken_up: f64, drains: f64) -> f64 {
    within(taken_up, 0.0, DEEPEST) / (1.0 - within(drains, 0.0, 0.9))
}
