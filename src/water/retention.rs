//! What a soil holds at a tension: van Genuchten 1980 (Soil Sci. Soc. Am. J. 44:892) with
//! m = 1 - 1/n, and beside it the open pores between crumbs or coarse grains.

use crate::lane::Lane;
use libm::{exp, log};

/// Height of a column of water by its pressure, cm per kPa (at 20 C and standard gravity).
pub const CM_PER_KPA: f64 = 10.197;
/// Equivalent diameter of the widest pores that stay filled, um, times tension in kPa (Jurin, water
/// at 20 C).
const PORE_UM_KPA: f64 = 291.0;
/// The same times tension in cm.
const PORE_UM_CM: f64 = 2970.0;
/// Hole between six equal spheres over their diameter: sqrt(2) - 1.
const HOLE_SHARE: f64 = 0.414;
/// Tensions of the two points that a curve passes through, cm, and their logarithms: 33 kPa.
pub const FIELD_CM: f64 = 336.5;
const LOG_FIELD_CM: f64 = 5.818_598_149_084_782;
/// And 1500 kPa.
pub const WILTING_CM: f64 = 15_296.0;
const LOG_RATIO: f64 = 3.816_748_486_206_4;
/// n is at least 1 and this: flatter curves are not told apart (the contract's 1.02).
const STEEPNESS_LEAST: f64 = 0.02;
/// A saturation between the two points is held off 0 and 1 by these, so that logarithms stay finite.
const OFF_EMPTY: f64 = 1e-6;
const OFF_FULL: f64 = 1e-5;
/// Steps that find n: it is then right to 1e-9, see `through`.
const STEPS: usize = 3;
/// Sand that holds water which no tension here empties, and the ramp to all of it, mass fractions
/// (fitted on measured cores, as the next).
const RESIDUAL_FROM: f64 = 0.70;
const RAMP_OF_SAND: f64 = 0.15;
/// That water over the water at 1500 kPa, in sand.
const RESIDUAL_OVER_WILTING: f64 = 0.8;
/// Pores that fill, as a share, where air stays trapped (loams and silts; measured cores).
const FILLED_LEAST: f64 = 0.93;
/// Clay from which on fewer pores trap air, and from which on none does, mass fractions.
const FILLED_CLAY_FROM_TO: (f64, f64) = (0.27, 0.40);

/// A curve of tension and water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Retention<L = f64> {
    /// Water that no tension empties, a volume fraction.
    pub theta_r: L,
    /// Water at no tension.
    pub theta_s: L,
    /// Scale of tension, 1/cm.
    pub alpha_per_cm: L,
    /// Steepness, above 1.
    pub n: L,
}

impl<L: Lane> Retention<L> {
    /// The curve through the waters at 33 and 1500 kPa. n is at least 1.02; where that is too steep
    /// it passes through the first alone. Points that cannot be are held just inside.
    ///
    /// With v = n - 1, x = 1 + 1/v, a = -ln S33 and b = -ln S1500, n is where
    /// D(x) = ln((e^bx - 1)/(e^ax - 1)) = n ln(h1500/h33). D is convex, so its tangent solved
    /// for v exactly (a quadratic) closes in from any start.
    pub fn through(theta_r: L, theta_s: L, theta_33: L, theta_1500: L) -> Retention<L> {
        let one = L::all(1.0);
        let room = (theta_s - theta_r).at_least(L::all(OFF_EMPTY));
        let held = |theta: L| {
            ((theta - theta_r) / room)
                .at_least(L::all(OFF_EMPTY))
                .at_most(L::all(1.0 - OFF_FULL))
                .each(log)
        };
        let a = held(theta_33) * -1.0;
        let b = (held(theta_1500) * -1.0).at_least(a);
        let least = L::all(STEEPNESS_LEAST);
        // Twice where the tangent at infinity has it: close over the whole range.
        let mut v = ((b - a) * (2.0 / LOG_RATIO)).at_least(least);
        for _ in 0..STEPS {
            let x = one + one / v;
            let below_a = one - (a * x * -1.0).each(exp);
            let below_b = one - (b * x * -1.0).each(exp);
            let slope = b / below_b - a / below_a;
            let d = (b - a) * x + (below_b / below_a).each(log);
            let q = d - slope / v - L::all(LOG_RATIO);
            let root = (q * q + slope * (4.0 * LOG_RATIO)).each(f64::sqrt);
            v = ((q + root) * (0.5 / LOG_RATIO)).at_least(least);
        }
        let n = one + v;
        let x = one + one / v;
        // ln(e^ax - 1) in a form that cannot overflow.
        let log_33 = a * x + (one - (a * x * -1.0).each(exp)).each(log);
        Retention {
            theta_r,
            theta_s,
            alpha_per_cm: (log_33 / n - L::all(LOG_FIELD_CM)).each(exp),
            n,
        }
    }

    /// Share of what tension can empty that is filled, by the logarithms of alpha and tension.
    pub(super) fn filled(&self, log_alpha: L, log_cm: f64) -> L {
        let one = L::all(1.0);
        let power = (self.n * (log_alpha + L::all(log_cm))).each(exp);
        ((one / self.n - one) * (one + power).each(log)).each(exp)
    }

    /// Water at a tension in cm, between `theta_r` and `theta_s`.
    pub fn theta_at(&self, tension_cm: f64) -> L {
        let log_cm = log(if tension_cm > 0.0 { tension_cm } else { 0.0 });
        let filled = self.filled(self.alpha_per_cm.each(log), log_cm);
        self.theta_r + (self.theta_s - self.theta_r) * filled
    }
}

/// Everything that holds water in a soil: its fine pores, and open ones between crumbs or coarse
/// grains, which a hand's breadth of height empties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Store<L = f64> {
    /// The fine pores; their fractions are of the whole volume.
    pub fine: Retention<L>,
    /// The open pores, a fraction of the whole volume.
    pub open: L,
    /// Tension that empties most of them, cm, above 0: see [`open_cm`].
    pub open_cm: L,
}

impl<L: Lane> Store<L> {
    /// Share of the open pores that stays filled: half of their water gone at 1.3 times
    /// [`Store::open_cm`], nearly all at three times (a choice of form: pores of one size, a
    /// little spread).
    pub(super) fn open_filled(&self, tension_cm: f64) -> L {
        let over = (L::all(1.0) / self.open_cm) * tension_cm;
        let square = over * over;
        L::all(1.0) / (L::all(1.0) + square * square).each(f64::sqrt)
    }

    /// Water at a tension in cm.
    pub fn theta_at(&self, tension_cm: f64) -> L {
        self.fine.theta_at(tension_cm) + self.open * self.open_filled(tension_cm)
    }

    /// Water at no tension.
    pub fn theta_s(&self) -> L {
        self.fine.theta_s + self.open
    }
}

/// Tension that empties the pores between grains or crumbs of a size, cm: that of the hole between
/// six spheres, 0.414 of their diameter.
pub fn open_cm<L: Lane>(grain_mm: L) -> L {
    L::all(PORE_UM_CM / (1000.0 * HOLE_SHARE)) / grain_mm
}

/// Equivalent diameter of the widest pores still filled at a tension, um.
pub fn pore_um(tension_kpa: f64) -> f64 {
    PORE_UM_KPA / tension_kpa
}

/// Tension at which pores of an equivalent diameter empty, kPa.
pub fn tension_of_pore_kpa(pore_um: f64) -> f64 {
    PORE_UM_KPA / pore_um
}

/// From 0 to 1 over a stretch.
fn ramp<L: Lane>(value: L, from: f64, length: f64) -> L {
    ((value - L::all(from)) * (1.0 / length))
        .at_least(L::all(0.0))
        .at_most(L::all(1.0))
}

/// Water that no tension here empties, by the water at 1500 kPa and the mass fraction of sand.
pub fn residual<L: Lane>(theta_1500: L, sand: L) -> L {
    theta_1500 * ramp(sand, RESIDUAL_FROM, RAMP_OF_SAND) * RESIDUAL_OVER_WILTING
}

/// Share of the pores that water fills, by mass fractions: 0.93, since some air stays trapped, and
/// 1 in clays and sands.
pub fn filled_share<L: Lane>(sand: L, clay: L) -> L {
    let (from, to) = FILLED_CLAY_FROM_TO;
    let of_clay = ramp(clay, from, to - from);
    let of_sand = ramp(sand, RESIDUAL_FROM, RAMP_OF_SAND);
    L::all(FILLED_LEAST) + of_clay.at_least(of_sand) * (1.0 - FILLED_LEAST)
}
