//! How fast grains fall through still water, for the jar.

use super::GRAVEL_SOLID_KG_M3;
use libm::{exp, log};

/// Standard gravity, m/s2 (BIPM, The International System of Units; verified).
const GRAVITY_M_S2: f64 = 9.80665;
/// Density of the grains, kg/m3: quartz, as for gravel.
const GRAIN_KG_M3: f64 = GRAVEL_SOLID_KG_M3;
/// Temperature of the water, Celsius: where both formulas for water hold.
pub const CELSIUS_LIMITS: (f64, f64) = (0.0, 40.0);
/// Height that grains fall through, mm (a choice: no jar is deeper).
pub const FALL_LIMITS_MM: (f64, f64) = (1.0, 1000.0);
/// Size of a grain, um: from the finest clay that settles by itself to the coarsest sand (a choice).
pub const SIZE_LIMITS_UM: (f64, f64) = (0.05, 2000.0);
/// Time of a reading, s: to 31 days (a choice).
pub const TIME_LIMITS_S: (f64, f64) = (1.0, 31.0 * 86_400.0);
/// Drag of natural grains in Ferguson & Church 2004 (J. Sediment. Res. 74:933; from memory): C1 for
/// slow fall, and C2 for fast fall, 0.4 (smooth spheres) to 1.2 (angular grains).
const DRAG: [f64; 2] = [18.0, 1.0];
/// Micrometres in a metre.
const UM_PER_M: f64 = 1e6;
/// Millimetres in a metre.
const MM_PER_M: f64 = 1e3;

/// Viscosity of water at 0.1 MPa, uPa s: coefficient and power of T / 300 K (Patek et al. 2009,
/// J. Phys. Chem. Ref. Data 38:21, equation for 253 to 383 K; from memory).
const VISCOSITY: [[f64; 2]; 4] = [
    [280.68, -1.9],
    [511.45, -7.7],
    [61.131, -19.6],
    [0.459_03, -40.0],
];

/// Density of water (Tanaka et al. 2001, Metrologia 38:301, equation 1, 0 to 40 C; from memory):
/// a1, a2 and a4 in C, a3 in C2, a5 in kg/m3.
const DENSITY: [f64; 5] = [-3.983_035, 301.797, 522_528.9, 69.348_81, 999.974_950];

/// What cannot be said of a fall through water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SettlingFault {
    /// The number lies outside its limits, or is none.
    Outside {
        /// Which number.
        which: SettlingNumber,
        /// As given.
        value: f64,
        /// The least accepted.
        low: f64,
        /// The greatest accepted.
        high: f64,
    },
}

/// A number that a fall through water depends on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettlingNumber {
    /// Temperature of the water, Celsius.
    Celsius,
    /// Height fallen through, mm.
    FallMm,
    /// Size of the grain, um.
    SizeUm,
    /// Time since the shaking, s.
    Seconds,
}

impl SettlingNumber {
    /// The least and the greatest value accepted.
    pub fn limits(self) -> (f64, f64) {
        match self {
            SettlingNumber::Celsius => CELSIUS_LIMITS,
            SettlingNumber::FallMm => FALL_LIMITS_MM,
            SettlingNumber::SizeUm => SIZE_LIMITS_UM,
            SettlingNumber::Seconds => TIME_LIMITS_S,
        }
    }

    fn checked(self, value: f64) -> Result<f64, SettlingFault> {
        let (low, high) = self.limits();
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(SettlingFault::Outside {
                which: self,
                value,
                low,
                high,
            })
        }
    }
}

/// Viscosity of water, Pa s.
///
/// # Errors
/// A temperature outside 0 to 40 C.
pub fn water_viscosity_pa_s(celsius: f64) -> Result<f64, SettlingFault> {
    let celsius = SettlingNumber::Celsius.checked(celsius)?;
    let log_warmth = log((celsius + 273.15) / 300.0);
    let terms = VISCOSITY.map(|[factor, power]| factor * exp(power * log_warmth));
    Ok(terms.iter().sum::<f64>() * 1e-6)
}

/// Density of water, kg/m3.
///
/// # Errors
/// A temperature outside 0 to 40 C.
pub fn water_density_kg_m3(celsius: f64) -> Result<f64, SettlingFault> {
    let t = SettlingNumber::Celsius.checked(celsius)?;
    let [a1, a2, a3, a4, a5] = DENSITY;
    Ok(a5 * (1.0 - (t + a1) * (t + a1) * (t + a2) / (a3 * (t + a4))))
}

/// Speed over the square of the size in Stokes' law, 1/(m s).
fn stokes_factor(celsius: f64) -> Result<f64, SettlingFault> {
    let excess = GRAIN_KG_M3 - water_density_kg_m3(celsius)?;
    Ok(GRAVITY_M_S2 * excess / (18.0 * water_viscosity_pa_s(celsius)?))
}

/// A size in metres, checked.
fn size(diameter_m: f64) -> Result<f64, SettlingFault> {
    SettlingNumber::SizeUm.checked(diameter_m * UM_PER_M)?;
    Ok(diameter_m)
}

/// Speed of a grain by Stokes' law, m/s. It holds below about 60 um and is far too high for sand.
///
/// # Errors
/// A size or a temperature outside its limits.
pub fn stokes_velocity_m_s(diameter_m: f64, celsius: f64) -> Result<f64, SettlingFault> {
    let diameter = size(diameter_m)?;
    Ok(stokes_factor(celsius)? * diameter * diameter)
}

/// Speed of a natural grain of any size, m/s (Ferguson & Church 2004): Stokes' law for the fine
/// ones, held back by drag for sand.
///
/// # Errors
/// A size or a temperature outside its limits.
pub fn settling_velocity_m_s(diameter_m: f64, celsius: f64) -> Result<f64, SettlingFault> {
    let d = size(diameter_m)?;
    let water = water_density_kg_m3(celsius)?;
    let kinematic_m2_s = water_viscosity_pa_s(celsius)? / water;
    let pull = (GRAIN_KG_M3 - water) / water * GRAVITY_M_S2;
    let [slow, fast] = DRAG;
    Ok(pull * d * d / (slow * kinematic_m2_s + (0.75 * fast * pull * d * d * d).sqrt()))
}

/// Time in which a grain falls through a height by Stokes' law, s.
///
/// # Errors
/// A size, height or temperature outside its limits.
pub fn settling_time_s(diameter_um: f64, fall_mm: f64, celsius: f64) -> Result<f64, SettlingFault> {
    let diameter = SettlingNumber::SizeUm.checked(diameter_um)? / UM_PER_M;
    let fall_m = SettlingNumber::FallMm.checked(fall_mm)? / MM_PER_M;
    Ok(fall_m / (stokes_factor(celsius)? * diameter * diameter))
}

/// Size of the grains that have just fallen through a height in a time, um: all coarser ones are
/// down. By Stokes' law, so above about 60 um the true size is greater.
///
/// # Errors
/// A height, time or temperature outside its limits.
pub fn cut_diameter_um(fall_mm: f64, seconds: f64, celsius: f64) -> Result<f64, SettlingFault> {
    let fall_m = SettlingNumber::FallMm.checked(fall_mm)? / MM_PER_M;
    let seconds = SettlingNumber::Seconds.checked(seconds)?;
    Ok((fall_m / (stokes_factor(celsius)? * seconds)).sqrt() * UM_PER_M)
}
