//! The estimated spread over the true one, as points with weights.

/// The step of the sum, over the width of its middle.
const STEP: f64 = 0.25;
/// Weights below so large a part of the greatest are nothing.
const NOTHING: f64 = 1e-17;
/// More degrees of freedom than this leave no doubt of the spread.
const CERTAIN: f64 = 1e7;

/// S = sqrt(chi-square / nu) with `nu` degrees of freedom. The integral over its density is a plain
/// trapezoid in u = ln s, of step 0.25 / sqrt(2 nu), from the mode outwards; the density is even
/// in neither direction but analytic and gone at both ends, so the sum converges geometrically.
#[derive(Clone, Debug)]
pub(in crate::trial) struct Scale(Vec<[f64; 2]>);

impl Scale {
    /// None without degrees of freedom.
    pub(in crate::trial) fn of(nu: f64) -> Option<Scale> {
        if nu.is_nan() || nu <= 0.0 {
            return None;
        }
        if nu > CERTAIN {
            return Some(Scale(vec![[1.0, 1.0]]));
        }
        let step = STEP / (2.0 * nu).sqrt();
        // The density over its value at the mode; the factor before both is the sum of all.
        let weight = |u: f64| libm::exp(nu * (u - 0.5 * libm::expm1(2.0 * u)));
        let mut points = vec![[1.0, 1.0]];
        for side in [step, -step] {
            for number in 1.. {
                let u = side * f64::from(number);
                let here = weight(u);
                if here.is_nan() || here < NOTHING {
                    break;
                }
                points.push([libm::exp(u), here]);
            }
        }
        let sum: f64 = points.iter().map(|[_, weight]| weight).sum();
        for [_, weight] in &mut points {
            *weight /= sum;
        }
        Some(Scale(points))
    }

    /// The mean of a function of S.
    pub(in crate::trial) fn mean(&self, of: impl Fn(f64) -> f64) -> f64 {
        self.0.iter().map(|[s, weight]| weight * of(*s)).sum()
    }
}
