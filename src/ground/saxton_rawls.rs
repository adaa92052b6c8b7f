//! Saxton & Rawls 2006 (Soil Sci. Soc. Am. J. 70:1569-1578): the equations that density and
//! moisture of the ground rest on. Fitted on topsoils with at most 8 % organic matter and 60 %
//! clay; their published standard error at 33 kPa is 0.05, on measured soils it is larger.

use crate::figure::within;

/// Water of a soil at its normal density, as volume fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Normal {
    /// Water held at 33 kPa.
    pub theta_33: f64,
    /// Water at saturation.
    pub theta_s: f64,
}

impl Normal {
    /// Equations 2, 3 and 5. `sand` and `clay` are mass fractions, `organic_matter_pct` is percent
    /// by mass.
    pub fn of(sand: f64, clay: f64, organic_matter_pct: f64) -> Normal {
        let (s, c, om) = (sand, clay, organic_matter_pct);
        let t33 = -0.251 * s + 0.195 * c + 0.011 * om + 0.006 * s * om - 0.027 * c * om
            + 0.452 * s * c
            + 0.299;
        let theta_33 = t33 + (1.283 * t33 * t33 - 0.374 * t33 - 0.015);
        let ts33 =
            0.278 * s + 0.034 * c + 0.022 * om - 0.018 * s * om - 0.027 * c * om - 0.584 * s * c
                + 0.078;
        let theta_s33 = ts33 + (0.636 * ts33 - 0.107);
        Normal {
            theta_33,
            theta_s: theta_33 + theta_s33 - 0.097 * s + 0.043,
        }
    }

    /// Equation 6: density at that saturation, kg/m3.
    pub fn density_kg_m3(self) -> f64 {
        (1.0 - self.theta_s) * PARTICLE_KG_M3
    }

    /// Equations 7 to 9: water at 33 kPa of the soil at another density, with the density factor
    /// held in its published range. `coefficient` is 0.2 in the paper.
    pub fn theta_33_at(self, density_kg_m3: f64, coefficient: f64) -> f64 {
        let (least, most) = FACTOR_LIMITS;
        let factor = within(density_kg_m3 / self.density_kg_m3(), least, most);
        let theta_s = 1.0 - self.density_kg_m3() * factor / PARTICLE_KG_M3;
        self.theta_33 - coefficient * (self.theta_s - theta_s)
    }
}

/// Particle density of the equations, kg/m3.
const PARTICLE_KG_M3: f64 = 2650.0;
/// Range of the density factor (same paper).
const FACTOR_LIMITS: (f64, f64) = (0.9, 1.3);

/// Density coefficient of equation 9 by clay fraction: 0.9 at 40 % clay and more, as measured
/// clays have it, 0.2 at 35 % and less, as published; linear between.
pub fn density_coefficient(clay: f64) -> f64 {
    let share = within((clay - 0.35) / 0.05, 0.0, 1.0);
    0.2 + share * (0.9 - 0.2)
}
