//! Saxton & Rawls 2006 (Soil Sci. Soc. Am. J. 70:1569-1578): the equations that density and
//! moisture of the ground rest on. Fitted on topsoils with at most 8 % organic matter and 60 %
//! clay; their published standard error at 33 kPa is 0.05, on measured soils it is larger.

use crate::lane::Lane;

/// Particle density of the equations, kg/m3.
const PARTICLE_KG_M3: f64 = 2650.0;
/// Range of the density factor (same paper).
const FACTOR_LIMITS: (f64, f64) = (0.9, 1.3);

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
        let (s, c, om) = (sand, clay, organic_matter_pct);
        // A sum of coefficients times the terms s, c, om, s om, c om, s c, and a constant.
        let sum = |by: [f64; 6], constant: f64| {
            s * by[0]
                + c * by[1]
                + om * by[2]
                + s * om * by[3]
                + c * om * by[4]
                + s * c * by[5]
                + L::all(constant)
        };
        let t33 = sum([-0.251, 0.195, 0.011, 0.006, -0.027, 0.452], 0.299);
        let theta_33 = t33 + (t33 * t33 * 1.283 - t33 * 0.374 - L::all(0.015));
        let ts33 = sum([0.278, 0.034, 0.022, -0.018, -0.027, -0.584], 0.078);
        let theta_s33 = ts33 + (ts33 * 0.636 - L::all(0.107));
        Normal {
            theta_33,
            theta_s: theta_33 + theta_s33 - s * 0.097 + L::all(0.043),
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

/// Density coefficient of equation 9 by clay fraction: 0.9 at 40 % clay and more, as measured
/// clays have it, 0.2 at 35 % and less, as published; linear between.
pub fn density_coefficient<L: Lane>(clay: L) -> L {
    let share = ((clay - L::all(0.35)) * (1.0 / 0.05))
        .at_least(L::all(0.0))
        .at_most(L::all(1.0));
    L::all(0.2) + share * (0.9 - 0.2)
}
