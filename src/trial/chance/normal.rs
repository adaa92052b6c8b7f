//! The standard normal distribution, by a true complementary error function.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// The density.
pub fn normal_density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / (2.0 * PI).sqrt()
}

/// The share below.
pub fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// The share above, exact in its tail.
pub fn normal_above(z: f64) -> f64 {
    0.5 * libm::erfc(z * FRAC_1_SQRT_2)
}
