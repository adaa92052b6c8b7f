//! Incomplete beta and gamma functions: continued fractions by the method of Lentz, and a series.

/// Terms at the most; what is asked of a trial takes a hundred.
const TERMS: u32 = 20_000;
/// In place of a denominator that vanishes.
const TINY: f64 = 1e-300;

fn nonzero(value: f64) -> f64 {
    if value.abs() < TINY { TINY } else { value }
}

/// Share of the beta distribution of `a` and `b` below `x`; `rest` is 1 - x, given apart so that
/// nothing is lost near 1.
pub(super) fn beta_below(a: f64, b: f64, x: f64, rest: f64) -> f64 {
    if !(a > 0.0 && b > 0.0 && (0.0..=1.0).contains(&x)) {
        return f64::NAN;
    }
    if x == 0.0 {
        return 0.0;
    }
    if rest == 0.0 {
        return 1.0;
    }
    let front = libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b)
        + a * libm::log(x)
        + b * libm::log(rest);
    let front = libm::exp(front);
    // The fraction converges fast on this side of the mean.
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(a, b, x) / a
    } else {
        1.0 - front * beta_fraction(b, a, rest) / b
    }
}

fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    let mut c = 1.0;
    let mut d = 1.0 / nonzero(1.0 - (a + b) * x / (a + 1.0));
    let mut value = d;
    for term in 1..TERMS {
        let m = f64::from(term);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / nonzero(1.0 + even * d);
        c = nonzero(1.0 + even / c);
        value *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / nonzero(1.0 + odd * d);
        c = nonzero(1.0 + odd / c);
        let step = d * c;
        value *= step;
        if (step - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    value
}

/// Shares of the gamma distribution of shape `a` below and above `x`.
pub(super) fn gamma_shares(a: f64, x: f64) -> [f64; 2] {
    if !(a > 0.0 && x >= 0.0) {
        return [f64::NAN; 2];
    }
    if x == 0.0 {
        return [0.0, 1.0];
    }
    if x == f64::INFINITY {
        return [1.0, 0.0];
    }
    let front = libm::exp(a * libm::log(x) - x - libm::lgamma(a));
    if x < a + 1.0 {
        let (mut term, mut sum) = (1.0 / a, 1.0 / a);
        for number in 1..TERMS {
            term *= x / (a + f64::from(number));
            sum += term;
            if term <= sum * f64::EPSILON {
                break;
            }
        }
        let below = front * sum;
        return [below, 1.0 - below];
    }
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / nonzero(b);
    let mut value = d;
    for number in 1..TERMS {
        let m = f64::from(number);
        let over = -m * (m - a);
        b += 2.0;
        d = 1.0 / nonzero(over * d + b);
        c = nonzero(b + over / c);
        let step = d * c;
        value *= step;
        if (step - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    let above = front * value;
    [1.0 - above, above]
}
