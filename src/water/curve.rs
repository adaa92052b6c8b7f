//! Saxton & Rawls 2006 (Soil Sci. Soc. Am. J. 70:1569-1578), the rest of their equations: the curve
//! of tension and water, conductivity below saturation, gravel, salt, and their limits.

use super::saxton_rawls::{
    CLAY_LIMIT, FACTOR_LIMITS, Normal, ORGANIC_MATTER_LIMIT_PCT, PARTICLE_KG_M3, slope_lambda,
    theta_1500,
};
use crate::figure::within;
use libm::{exp, log};

/// Tension at field capacity, kPa, the wet end of the dry branch (convention).
pub const FIELD_KPA: f64 = 33.0;
/// Osmotic tension at saturation by conductivity of the extract, kPa per dS/m (equation 23).
const OSMOTIC_KPA_M_DS: f64 = 36.0;
/// Density coefficient of equation 9 as published.
pub const PUBLISHED_DENSITY_COEFFICIENT: f64 = 0.2;

/// Which limits of the equations a soil is beyond.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Beyond {
    /// More than 8 % organic matter.
    pub organic_matter: bool,
    /// More than 60 % clay.
    pub clay: bool,
    /// A density factor outside 0.9 to 1.3.
    pub density: bool,
}

impl Beyond {
    /// `clay` is a mass fraction, the density factor density over normal density.
    pub fn of(clay: f64, organic_matter_pct: f64, density_factor: f64) -> Beyond {
        let (least, most) = FACTOR_LIMITS;
        Beyond {
            organic_matter: organic_matter_pct > ORGANIC_MATTER_LIMIT_PCT,
            clay: clay > CLAY_LIMIT,
            density: !(least..=most).contains(&density_factor),
        }
    }
}

/// The curve of tension and water that the paper draws. Between 0 and 33 kPa it is a straight line,
/// far too wet for sands: for pots there is [`Retention`](super::retention::Retention).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    /// Water at saturation, a volume fraction.
    pub theta_s: f64,
    /// Water at 33 kPa.
    pub theta_33: f64,
    /// Water at 1500 kPa.
    pub theta_1500: f64,
    /// Tension at which air enters, kPa, at least 0: equation 4 falls below that for sands.
    pub air_entry_kpa: f64,
}

impl Curve {
    /// Equations 1 to 10, as published, with the density factor held in its range.
    pub fn of(sand: f64, clay: f64, organic_matter_pct: f64, density_factor: f64) -> Curve {
        let (least, most) = FACTOR_LIMITS;
        let normal = Normal::of(sand, clay, organic_matter_pct);
        let density_kg_m3 = normal.density_kg_m3() * within(density_factor, least, most);
        Curve {
            theta_s: 1.0 - density_kg_m3 / PARTICLE_KG_M3,
            theta_33: normal.theta_33_at(density_kg_m3, PUBLISHED_DENSITY_COEFFICIENT),
            theta_1500: theta_1500(sand, clay, organic_matter_pct),
            air_entry_kpa: air_entry_unheld_kpa(sand, clay, organic_matter_pct).max(0.0),
        }
    }

    /// Equations 15 and 18, lambda.
    pub fn lambda(&self) -> f64 {
        slope_lambda(self.theta_33, self.theta_1500)
    }

    /// Equations 14 and 15: A, kPa, and B of the dry branch, tension = A theta^-B.
    pub fn dry_branch(&self) -> (f64, f64) {
        let b = 1.0 / self.lambda();
        (exp(log(FIELD_KPA) + b * log(self.theta_33)), b)
    }

    /// Equations 11 to 13: tension at a water content, kPa; 0 at saturation.
    pub fn tension_kpa(&self, theta: f64) -> f64 {
        if theta >= self.theta_s {
            0.0
        } else if theta >= self.theta_33 {
            FIELD_KPA
                - (theta - self.theta_33) * (FIELD_KPA - self.air_entry_kpa)
                    / (self.theta_s - self.theta_33)
        } else {
            FIELD_KPA * exp((log(self.theta_33) - log(theta.max(0.0))) / self.lambda())
        }
    }

    /// Equations 11 to 13 the other way: water at a tension, a volume fraction.
    pub fn theta_at(&self, tension_kpa: f64) -> f64 {
        if tension_kpa <= self.air_entry_kpa {
            self.theta_s
        } else if tension_kpa <= FIELD_KPA {
            self.theta_33
                + (FIELD_KPA - tension_kpa) * (self.theta_s - self.theta_33)
                    / (FIELD_KPA - self.air_entry_kpa)
        } else {
            self.theta_33 * exp(-self.lambda() * log(tension_kpa / FIELD_KPA))
        }
    }

    /// Equation 17: conductivity at a water content, mm/h, from that at saturation.
    pub fn conductivity_at_mm_h(&self, theta: f64, saturated_mm_h: f64) -> f64 {
        let share = within(theta / self.theta_s, 0.0, 1.0);
        saturated_mm_h * exp((3.0 + 2.0 / self.lambda()) * log(share))
    }
}

/// Equation 4 as it is printed: tension at which air enters, kPa; below 0 for sands.
pub fn air_entry_unheld_kpa(sand: f64, clay: f64, organic_matter_pct: f64) -> f64 {
    let soil = Normal::of(sand, clay, organic_matter_pct);
    // Water between saturation and 33 kPa as equation 3 has it, before equation 5 adds to it.
    let held = soil.theta_s - soil.theta_33 + 0.097 * sand - 0.043;
    let t = -21.67 * sand - 27.93 * clay - 81.97 * held
        + 71.12 * sand * held
        + 8.29 * clay * held
        + 14.05 * sand * clay
        + 27.16;
    t + (0.02 * t * t - 0.113 * t - 0.70)
}

/// Gravel in a soil: equations 19 to 22. Nothing of it holds or carries water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gravel {
    /// Share of the mass.
    mass: f64,
    /// Density of the fine earth over that of gravel.
    ratio: f64,
}

impl Gravel {
    /// A mass fraction of gravel in fine earth of a density.
    pub fn of(mass_fraction: f64, fine_density_kg_m3: f64) -> Gravel {
        Gravel {
            mass: within(mass_fraction, 0.0, 1.0),
            ratio: fine_density_kg_m3.max(0.0) / PARTICLE_KG_M3,
        }
    }

    /// Equation 19: its share of the volume. All gravel is the whole volume.
    pub fn volume_fraction(self) -> f64 {
        if self.mass < 1.0 {
            self.ratio * self.mass / (1.0 - self.mass * (1.0 - self.ratio))
        } else {
            1.0
        }
    }

    /// Equation 20: density of the whole soil, kg/m3.
    pub fn density_kg_m3(self) -> f64 {
        let share = self.volume_fraction();
        PARTICLE_KG_M3 * (self.ratio * (1.0 - share) + share)
    }

    /// Equation 21: available water of the whole soil from that of its fine earth.
    pub fn available_water(self, of_fine_earth: f64) -> f64 {
        of_fine_earth * (1.0 - self.volume_fraction())
    }

    /// Equation 22: conductivity of the whole soil over that of its fine earth (as Peck & Watson
    /// 1979 have it).
    pub fn conductivity_share(self) -> f64 {
        if self.mass < 1.0 {
            (1.0 - self.mass) / (1.0 - self.mass * (1.0 - 1.5 * self.ratio))
        } else {
            0.0
        }
    }
}

/// Equation 23: osmotic tension at saturation, kPa, by the conductivity of the extract of the paste.
pub fn osmotic_kpa(ec_saturated_paste_ds_m: f64) -> f64 {
    OSMOTIC_KPA_M_DS * ec_saturated_paste_ds_m
}

/// Equation 24: osmotic tension at a water content below saturation, kPa.
pub fn osmotic_at_kpa(ec_saturated_paste_ds_m: f64, theta: f64, theta_s: f64) -> f64 {
    osmotic_kpa(ec_saturated_paste_ds_m) * theta_s / within(theta, 1e-6, theta_s)
}
