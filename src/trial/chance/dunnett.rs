//! Several treatments against one control (Dunnett 1955): the chance that the largest of their t
//! stays below a value. The one-factor form is that of Curnow & Dunnett 1962.

use super::normal::{normal_below, normal_density};
use super::scale::Scale;
use super::smooth::Smooth;
use super::{least_reaching, normal_above};
use crate::trial::power::MOST_TREATMENTS;
use std::rc::Rc;

/// How far the sum over the control's deviation goes, and its step.
const FAR_Z: f64 = 9.0;
const STEP_Z: f64 = 0.25;
/// The step is at most so large a part of the narrowest bend.
const STEP_OVER_BEND: f64 = 0.85;
/// Halvings of the step at the most: unequal numbers by more than 1 to 1000.
const HALVINGS: u32 = 5;
/// Beyond so many standard deviations there is nothing a double tells from certainty.
const FAR_X: f64 = 9.0;
/// Pieces of width 1 up to there.
const PIECES: u32 = 9;

/// Whether both directions count, or one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// |t|.
    Two,
    /// t.
    One,
}

/// The largest t of several treatments against one control.
#[derive(Clone, Debug)]
pub struct Dunnett {
    sides: Sides,
    /// How many treatments share a lambda.
    groups: Rc<[(f64, u32)]>,
    /// The chance where the spread is known, by the limit.
    known: Rc<Smooth>,
    scale: Rc<Scale>,
}

/// sqrt(n / (n + n0)): two treatments' t are correlated by the product of theirs.
pub fn lambda(n: f64, n_control: f64) -> f64 {
    (n / (n + n_control)).sqrt()
}

impl Dunnett {
    /// Treatments by their [`lambda`], and the degrees of freedom, which may be infinite; none
    /// without treatments, without degrees of freedom, or if a lambda is not between 0 and 1.
    pub fn new(lambdas: &[f64], nu: f64, sides: Sides) -> Option<Dunnett> {
        let mut sorted = lambdas.to_vec();
        sorted.sort_by(f64::total_cmp);
        let mut groups: Vec<(f64, u32)> = Vec::new();
        for lambda in sorted {
            if !(lambda > 0.0 && lambda < 1.0) {
                return None;
            }
            match groups.last_mut() {
                Some((known, count)) if *known == lambda => *count += 1,
                _ => groups.push((lambda, 1)),
            }
        }
        if groups.is_empty() {
            return None;
        }
        let scale = Rc::new(Scale::of(nu)?);
        let (from, pieces) = match sides {
            Sides::Two => (0.0, PIECES),
            Sides::One => (-FAR_X, 2 * PIECES),
        };
        let known = Smooth::of(from, pieces, |x| known_spread(&groups, sides, x));
        Some(Dunnett {
            sides,
            groups: groups.into(),
            known: Rc::new(known),
            scale,
        })
    }

    /// The same treatments with other degrees of freedom, which takes a fraction of the time.
    pub fn with_degrees(&self, nu: f64) -> Option<Dunnett> {
        Some(Dunnett {
            sides: self.sides,
            groups: Rc::clone(&self.groups),
            known: Rc::clone(&self.known),
            scale: Rc::new(Scale::of(nu)?),
        })
    }

    /// So many treatments with as many containers each as the control.
    pub fn equal(treatments: u32, nu: f64, sides: Sides) -> Option<Dunnett> {
        if treatments as usize > MOST_TREATMENTS {
            return None;
        }
        Dunnett::new(&vec![lambda(1.0, 1.0); treatments as usize], nu, sides)
    }

    /// The spread's doubt that it rests on.
    pub(in crate::trial) fn scale(&self) -> &Scale {
        &self.scale
    }

    /// The chance that all t stay at or below a value: by absolute value if both sides count.
    pub fn below(&self, q: f64) -> f64 {
        if q.is_nan() {
            return f64::NAN;
        }
        self.scale.mean(|s| self.at(q * s)).clamp_share()
    }

    fn at(&self, x: f64) -> f64 {
        if x >= FAR_X {
            return 1.0;
        }
        self.known.at(x).unwrap_or(0.0)
    }

    /// The same by the plain sum for every point of the spread, without the polynomials between.
    pub fn below_slowly(&self, q: f64) -> f64 {
        let of = |s: f64| known_spread(&self.groups, self.sides, q * s);
        self.scale.mean(of)
    }

    /// The chance that some t goes beyond a value.
    pub fn p(&self, t: f64) -> f64 {
        let t = match self.sides {
            Sides::Two => t.abs(),
            Sides::One => t,
        };
        (1.0 - self.below(t)).clamp_share()
    }

    /// The value that all t stay below with so large a chance.
    pub fn critical(&self, share: f64) -> Option<f64> {
        if !(share > 0.0 && share < 1.0) {
            return None;
        }
        let low = match self.sides {
            Sides::Two => 0.0,
            Sides::One => -40.0,
        };
        least_reaching(low, 40.0, share, |q| self.below(q))
    }
}

/// What rounding leaves outside of 0 to 1.
trait Share {
    fn clamp_share(self) -> f64;
}

impl Share for f64 {
    fn clamp_share(self) -> f64 {
        crate::figure::within(self, 0.0, 1.0)
    }
}

/// The chance where the spread is known: the mean, over the control's own deviation z, of the
/// product of the treatments' chances given it; a plain trapezoid.
fn known_spread(groups: &[(f64, u32)], sides: Sides, x: f64) -> f64 {
    let bend = |(lambda, _): &(f64, u32)| (1.0 - lambda * lambda).sqrt();
    let narrowest = groups.iter().map(bend).fold(1.0, f64::min);
    let (mut step, mut steps) = (STEP_Z, FAR_Z / STEP_Z);
    for _ in 0..HALVINGS {
        if step > STEP_OVER_BEND * narrowest {
            (step, steps) = (0.5 * step, 2.0 * steps);
        }
    }
    let steps = steps as i32;
    let at = |number: i32| {
        let z = f64::from(number) * step;
        let mut product = normal_density(z) * step;
        for (lambda, count) in groups {
            let bend = (1.0 - lambda * lambda).sqrt();
            let (up, down) = ((lambda * z + x) / bend, (lambda * z - x) / bend);
            let one = match sides {
                Sides::One => normal_below(up),
                // By the tails where both lie on one side.
                Sides::Two if down > 0.0 => normal_above(down) - normal_above(up),
                Sides::Two => normal_below(up) - normal_below(down),
            };
            for _ in 0..*count {
                product *= one;
            }
        }
        product
    };
    match sides {
        Sides::One => (-steps..=steps).map(at).sum(),
        // Even in z.
        Sides::Two => at(0) + 2.0 * (1..=steps).map(at).sum::<f64>(),
    }
}
