//! Student's t, F and chi-square: shares below and above, and quantiles. What no distribution has
//! (no degrees of freedom, something that is no number) gives NaN, and no quantile.

use super::beta::{beta_below, gamma_shares};
use super::least_reaching;
use super::normal::normal_above;

/// Share of t with `nu` degrees of freedom above a value, exact in its tail; the normal
/// distribution where `nu` is infinite.
pub fn t_above(t: f64, nu: f64) -> f64 {
    let half = 0.5 * t_two_sided(t, nu);
    if t < 0.0 { 1.0 - half } else { half }
}

/// Share of t below a value.
pub fn t_below(t: f64, nu: f64) -> f64 {
    t_above(-t, nu)
}

/// Chance that t lies as far from 0 as this value, on either side.
pub fn t_two_sided(t: f64, nu: f64) -> f64 {
    if nu == f64::INFINITY {
        return 2.0 * normal_above(t.abs());
    }
    let square = t * t;
    if nu.is_nan() || nu <= 0.0 || square.is_nan() {
        return f64::NAN;
    }
    if square == f64::INFINITY {
        return 0.0;
    }
    let sum = nu + square;
    beta_below(0.5 * nu, 0.5, nu / sum, square / sum)
}

/// Where t has so large a share below.
pub fn t_quantile(share: f64, nu: f64) -> Option<f64> {
    if !(share > 0.0 && share < 1.0 && nu > 0.0) {
        return None;
    }
    if share < 0.5 {
        return t_quantile(1.0 - share, nu).map(|t| -t);
    }
    // By the small share, which keeps its digits.
    let above = 1.0 - share;
    least_reaching(0.0, 8.0, -above, |t| -t_above(t, nu))
}

/// Share of F with these degrees of freedom above a value, exact in its tail.
pub fn f_above(f: f64, [over, under]: [f64; 2]) -> f64 {
    if !(over > 0.0 && under > 0.0) || f.is_nan() {
        return f64::NAN;
    }
    if f <= 0.0 {
        return 1.0;
    }
    if f == f64::INFINITY {
        return 0.0;
    }
    let sum = over * f + under;
    beta_below(0.5 * under, 0.5 * over, under / sum, over * f / sum)
}

/// Where F has so large a share below.
pub fn f_quantile(share: f64, degrees: [f64; 2]) -> Option<f64> {
    if !(share > 0.0 && share < 1.0) {
        return None;
    }
    least_reaching(0.0, 8.0, share - 1.0, |f| -f_above(f, degrees))
}

/// Share of chi-square above a value, exact in its tail.
pub fn chi_square_above(value: f64, nu: f64) -> f64 {
    gamma_shares(0.5 * nu, 0.5 * value)[1]
}

/// Share of chi-square below a value.
pub fn chi_square_below(value: f64, nu: f64) -> f64 {
    gamma_shares(0.5 * nu, 0.5 * value)[0]
}

/// Where chi-square has so large a share below.
pub fn chi_square_quantile(share: f64, nu: f64) -> Option<f64> {
    if !(share > 0.0 && share < 1.0) {
        return None;
    }
    least_reaching(0.0, 8.0, share, |value| chi_square_below(value, nu))
}
