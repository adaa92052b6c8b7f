//! Saxton & Rawls 2006 (Soil Sci. Soc. Am. J. 70:1569-1578), equations 1 to 3, 5 to 9, 15, 16 and
//! 18, numbered as in the paper: what the draws need, so over lanes. The rest is in
//! [`curve`](super::curve). Fitted on topsoils with at most 8 % organic matter and 60 % clay; the
//! published standard errors (0.05 at 33 kPa) are too small, on measured soils they are larger.
//!
//! Sand and clay are mass fractions, organic matter is percent by mass, water a fraction of volume,
//! tension positive.

use crate::lane::Lane;
use libm::{exp, log};

/// Particle density of the equations, kg/m3.
pub(super) const PARTICLE_KG_M3: f64 = 2650.0;
/// Range of the density factor (same paper).
pub const FACTOR_LIMITS: (f64, f64) = (0.9, 1.3);
/// Most organic matter that the equations were fitted on, % (same paper, from memory).
pub const ORGANIC_MATTER_LIMIT_PCT: f64 = 8.0;
/// Most clay that the equations were fitted on, a mass fraction (same paper, from memory).
pub const CLAY_LIMIT: f64 = 0.60;
/// ln(1500/33), what the logarithms of the two waters are apart on a line of slope 1.
const LOG_TENSIONS: f64 = 3.816_712_825_623_82;
/// Least water at 1500 kPa, a volume fraction (a choice: clean coarse sand; equation 1 falls below
/// zero there).
const THETA_1500_LEAST: f64 = 0.005;
/// Least water between 33 and 1500 kPa, a volume fraction (a choice: below any measured soil).
const AVAILABLE_LEAST: f64 = 0.002;
/// Effective pore space that equation 16 is given at the least, a volume fraction. Measured clays
/// conduct five to seven times more than it predicts; 0.06 is our compromise on them.
pub const EFFECTIVE_PORES_LEAST: f64 = 0.06;
/// Conductivity at an effective pore space of 1, mm/h (equation 16).
const CONDUCTIVITY_MM_H: f64 = 1930.0;
/// Clay fraction from which on the rules for clay come in, and the stretch to where they hold in
/// full: from 40 % on measured clays behave otherwise than the equations, loams do not.
const CLAY_RULE_FROM_OVER: (f64, f64) = (0.35, 0.05);
/// Organic matter that clay is given in equations 1 to 3, %: that of the published table. More
/// acts on its water through density alone.
const CLAY_ORGANIC_MATTER_PCT: f64 = 2.5;

/// A sum of coefficients times the terms s, c, om, s om, c om, s c, and a constant.
fn sum<L: Lane>([s, c, om]: [L; 3], by: [f64; 6], constant: f64) -> L {
    s * by[0]
        + c * by[1]
        + om * by[2]
        + s * om * by[3]
        + c * om * by[4]
        + s * c * by[5]
        + L::all(constant)
}

/// Water of a soil at its normal density, as volume fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Normal<L = f64> {
    /// Water held at 33 kPa.
    pub theta_33: L,
    /// Water at saturation.
    pub theta_s: L,
}

impl<L: Lane> Normal<L> {
    /// Equations 2, 3 and 5. `sand` and `clay` are mass fractions, `organic_matter_pct` is percent
    /// by mass.
    pub fn of(sand: L, clay: L, organic_matter_pct: L) -> Normal<L> {
        let soil = [sand, clay, organic_matter_pct];
        let t33 = sum(soil, [-0.251, 0.195, 0.011, 0.006, -0.027, 0.452], 0.299);
        let theta_33 = t33 + (t33 * t33 * 1.283 - t33 * 0.374 - L::all(0.015));
        let ts33 = sum(soil, [0.278, 0.034, 0.022, -0.018, -0.027, -0.584], 0.078);
        let theta_s33 = ts33 + (ts33 * 0.636 - L::all(0.107));
        Normal {
            theta_33,
            theta_s: theta_33 + theta_s33 - sand * 0.097 + L::all(0.043),
        }
    }

    /// Equation 6: density at that saturation, kg/m3.
    pub fn density_kg_m3(self) -> L {
        (L::all(1.0) - self.theta_s) * PARTICLE_KG_M3
    }

    /// Equations 7 to 9: water at 33 kPa of the soil at another density, with the density factor
    /// held in its published range. `coefficient` is 0.2 in the paper.
    pub fn theta_33_at(self, density_kg_m3: L, coefficient: L) -> L {
        let (least, most) = FACTOR_LIMITS;
        let factor = (density_kg_m3 / self.density_kg_m3())
            .at_least(L::all(least))
            .at_most(L::all(most));
        let theta_s = L::all(1.0) - self.density_kg_m3() * factor * (1.0 / PARTICLE_KG_M3);
        self.theta_33 - coefficient * (self.theta_s - theta_s)
    }
}

/// Equation 1: water held at 1500 kPa, a volume fraction; density does not change it.
pub fn theta_1500<L: Lane>(sand: L, clay: L, organic_matter_pct: L) -> L {
    let soil = [sand, clay, organic_matter_pct];
    let t = sum(soil, [-0.024, 0.487, 0.006, 0.005, -0.013, 0.068], 0.031);
    (t + (t * 0.14 - L::all(0.02))).at_least(L::all(THETA_1500_LEAST))
}

/// Equations 15 and 18: slope of the logarithms of tension and water, lambda.
pub fn slope_lambda<L: Lane>(theta_33: L, theta_1500: L) -> L {
    let theta_1500 = theta_1500.at_least(L::all(THETA_1500_LEAST));
    let theta_33 = theta_33.at_least(theta_1500 + L::all(AVAILABLE_LEAST));
    (theta_33 / theta_1500).each(log) * (1.0 / LOG_TENSIONS)
}

/// Equation 16, saturated conductivity, mm/h. `effective_pores` are those that 33 kPa empty, a
/// volume fraction, held at [`EFFECTIVE_PORES_LEAST`].
pub fn conductivity_mm_h<L: Lane>(effective_pores: L, lambda: L) -> L {
    conductivity_as_published_mm_h(
        effective_pores.at_least(L::all(EFFECTIVE_PORES_LEAST)),
        lambda,
    )
}

/// Equation 16 as it is printed; without effective pores nothing moves.
pub fn conductivity_as_published_mm_h<L: Lane>(effective_pores: L, lambda: L) -> L {
    let pores = effective_pores.at_least(L::all(0.0)).each(log);
    ((L::all(3.0) - lambda) * pores).each(exp) * CONDUCTIVITY_MM_H
}

/// How far a soil behaves as a clay: from 0 at 35 % clay and less to 1 at 40 % and more.
pub fn as_clay<L: Lane>(clay: L) -> L {
    let (from, over) = CLAY_RULE_FROM_OVER;
    ((clay - L::all(from)) * (1.0 / over))
        .at_least(L::all(0.0))
        .at_most(L::all(1.0))
}

/// Density coefficient of equation 9 by clay fraction: 0.9 at 40 % clay and more, as measured
/// clays have it, 0.2 at 35 % and less, as published; linear between.
pub fn density_coefficient<L: Lane>(clay: L) -> L {
    L::all(0.2) + as_clay(clay) * (0.9 - 0.2)
}

/// Organic matter that equations 1 to 3 are given, %, by clay fraction: from 40 % clay on that of
/// the published table, since in clay it acts through density; at 35 % and less the soil's own, at
/// most 8 %; linear between.
pub fn organic_matter_for_water_pct<L: Lane>(clay: L, organic_matter_pct: L) -> L {
    let own = organic_matter_pct.at_most(L::all(ORGANIC_MATTER_LIMIT_PCT));
    own + as_clay(clay) * (L::all(CLAY_ORGANIC_MATTER_PCT) - own)
}
