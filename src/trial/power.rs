//! What a trial of so many containers can find, before it is sown; and what luck alone does where
//! there is one container of each.

use super::chance::{
    Dunnett, Scale, Sides, lambda, least_reaching, normal_above, normal_below, normal_density,
    t_quantile,
};
pub use super::layout::Design;
use super::limits::Limits;
use crate::draws::quantile;

/// The chance of finding that is usually aimed at.
pub const USUAL_POWER: f64 = 0.8;
/// What the ranges and chances together are held to.
pub const SURE: f64 = 0.95;
/// The normal quantile of 97.5 %.
const Z_975: f64 = 1.959_963_984_540_054;
/// Containers of each treatment at the most in a search.
const MOST: u32 = 4_096;
/// Treatments at the most: more are no trial.
pub const MOST_TREATMENTS: usize = 4_096;
/// Containers of each treatment at the least: fewer leave next to no degrees of freedom.
pub const LEAST_EACH: u32 = 3;

/// A trial as it is planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plan {
    /// How containers stand.
    pub design: Design,
    /// Treatments beside the control.
    pub treatments: u32,
    /// Containers of each.
    pub each: u32,
    /// Containers of the control; only at random may they be more.
    pub control: u32,
}

impl Plan {
    /// As many of the control as of the others.
    pub fn even(design: Design, treatments: u32, each: u32) -> Plan {
        Plan {
            design,
            treatments,
            each,
            control: each,
        }
    }

    /// Degrees of freedom that the spread is told by.
    pub fn error_degrees(&self) -> f64 {
        let [k, n, n0] = [self.treatments, self.each, self.control].map(f64::from);
        match self.design {
            Design::Random => k * (n - 1.0) + n0 - 1.0,
            Design::Blocks => k * (n - 1.0),
            Design::Latin => k * (k - 1.0),
        }
    }

    /// The limit of t for all comparisons with the control together: none if nothing tells the
    /// spread.
    pub fn critical(&self) -> Option<f64> {
        self.critical_by(&mut Limits::default())
    }

    /// The same by limits that may be known, which a plan that is moved about needs.
    pub fn critical_by(&self, limits: &mut Limits) -> Option<f64> {
        let is_trial = (1..MOST_TREATMENTS).contains(&(self.treatments as usize));
        if !is_trial || self.each == 0 || self.control == 0 {
            return None;
        }
        let nu = self.error_degrees();
        if self.treatments == 1 {
            return limits.alone(nu);
        }
        let lambda = lambda(self.each.into(), self.control.into());
        let lambdas = vec![lambda; self.treatments as usize];
        limits.together(&lambdas, nu).map(|(_, limit)| limit)
    }

    /// The error of a difference, in spreads between containers.
    pub fn error(&self) -> f64 {
        (1.0 / f64::from(self.each) + 1.0 / f64::from(self.control)).sqrt()
    }

    /// Half the range around a difference, in spreads between containers.
    pub fn half_range(&self) -> Option<f64> {
        Some(self.critical()? * self.error())
    }

    /// The chance of telling one named treatment from the control by a difference; difference and
    /// spread in the same unit, such as per cent of the control, or logarithms.
    pub fn power(&self, difference: f64, spread: f64) -> Option<f64> {
        self.power_by(&mut Limits::default(), difference, spread)
    }

    /// The same by limits that may be known.
    pub fn power_by(&self, limits: &mut Limits, difference: f64, spread: f64) -> Option<f64> {
        let critical = self.critical_by(limits)?;
        let shift = difference / (spread * self.error());
        power(shift, critical, self.error_degrees())
    }

    /// The smallest difference that is found with so large a chance.
    pub fn smallest_found(&self, spread: f64, chance: f64) -> Option<f64> {
        self.smallest_found_by(&mut Limits::default(), spread, chance)
    }

    /// The same by limits that may be known.
    pub fn smallest_found_by(&self, limits: &mut Limits, spread: f64, chance: f64) -> Option<f64> {
        let critical = self.critical_by(limits)?;
        let scale = Scale::of(self.error_degrees())?;
        if !(spread > 0.0 && chance > 1.0 - SURE && chance < 1.0) {
            return None;
        }
        let of = |shift| power_with(&scale, shift, critical);
        Some(least_reaching(0.0, 8.0, chance, of)? * spread * self.error())
    }
}

/// The chance that |t| goes beyond a limit where the true difference is so many of its errors:
/// the mean of two normal shares over the estimated spread, which needs no noncentral t.
pub fn power(shift: f64, critical: f64, nu: f64) -> Option<f64> {
    let power = power_with(&Scale::of(nu)?, shift, critical);
    power.is_finite().then_some(power)
}

fn power_with(scale: &Scale, shift: f64, critical: f64) -> f64 {
    scale.mean(|s| normal_below(shift - critical * s) + normal_below(-shift - critical * s))
}

/// Share of the noncentral t below a value, by the same mean.
pub fn noncentral_t_below(t: f64, nu: f64, shift: f64) -> Option<f64> {
    let scale = Scale::of(nu)?;
    let share = scale.mean(|s| normal_below(t * s - shift));
    share.is_finite().then_some(share)
}

/// The fewest containers of each treatment, from 2 on, that find a difference with so large a
/// chance; a square has as many as treatments. None if 4,096 are too few.
pub fn each_needed(
    design: Design,
    treatments: u32,
    difference: f64,
    spread: f64,
    chance: f64,
) -> Option<u32> {
    let known = Dunnett::equal(treatments, f64::INFINITY, Sides::Two)?;
    let limit = |nu: f64| {
        let dunnett = known.with_degrees(nu)?;
        let limit = dunnett.critical(SURE)?;
        Some((dunnett, limit))
    };
    each_needed_by(design, treatments, difference / spread, chance, limit)
}

/// The same by limits that may be known already, each with its distribution.
pub(super) fn each_needed_by(
    design: Design,
    treatments: u32,
    difference: f64,
    chance: f64,
    mut limit: impl FnMut(f64) -> Option<(Dunnett, f64)>,
) -> Option<u32> {
    if !(chance > 0.0 && chance < 1.0) {
        return None;
    }
    // With the spread known it would be this many; with it estimated they are hardly more.
    let (_, least) = limit(f64::INFINITY)?;
    let sum = (least + quantile(chance)) / difference;
    let start = (2.0 * sum * sum).ceil().max(2.0);
    if start.is_nan() || start > f64::from(MOST) {
        return None;
    }
    let mut reaches = |each: u32| {
        let plan = Plan::even(design, treatments, each);
        let (dunnett, critical) = limit(plan.error_degrees())?;
        let power = power_with(dunnett.scale(), difference / plan.error(), critical);
        Some(power >= chance)
    };
    let mut each = start as u32;
    if reaches(each)? {
        while each > 2 && reaches(each - 1)? {
            each -= 1;
        }
        return Some(each);
    }
    while each < MOST {
        each += 1;
        if reaches(each)? {
            return Some(each);
        }
    }
    None
}

/// The rule of thumb for 80 %: 16 (spread / difference)^2 of each, after Lehr. It promises too
/// much where it gives few: plan one more, and no fewer than [`LEAST_EACH`].
pub fn rule_of_thumb(spread: f64, difference: f64) -> f64 {
    let ratio = spread / difference;
    16.0 * ratio * ratio
}

/// How a number of spare containers is best given: (of each treatment, of the control), near the
/// ratio sqrt(k) (Dunnett 1955), by the narrowest ranges. None if they do not reach for one each.
pub fn shared_out(containers: u32, treatments: u32) -> Option<[u32; 2]> {
    let mut best: Option<(f64, [u32; 2])> = None;
    let most = containers.checked_div(treatments)?.min(MOST);
    for each in 1..=most {
        let Some(control) = containers
            .checked_sub(each * treatments)
            .filter(|left| *left > 0)
        else {
            continue;
        };
        let error = 1.0 / f64::from(each) + 1.0 / f64::from(control);
        if best.is_none_or(|(known, _)| error < known) {
            best = Some((error, [each, control]));
        }
    }
    best.map(|(_, shared)| shared)
}

/// The spread of natural logarithms where values have this one, as a share of their mean.
pub fn log_spread(cv: f64) -> f64 {
    libm::log1p(cv * cv).sqrt()
}

/// And back: the spread as a share of the mean where logarithms have this one.
pub fn share_spread(log_spread: f64) -> f64 {
    libm::expm1(log_spread * log_spread).sqrt()
}

/// The chance that the best of so many treatments, none of which does anything, beats the control
/// by at least a difference, with one container of each.
pub fn best_by_luck(treatments: u32, difference_over_spread: f64) -> f64 {
    // 1 - (1 - q)^k, so that small chances keep their digits.
    over_normal(|z| {
        let above = normal_above(z + difference_over_spread);
        -libm::expm1(f64::from(treatments) * libm::log1p(-above))
    })
}

/// How far two single containers treated alike lie apart at the most, in 95 of 100 pairs.
pub fn alike_apart(spread: f64) -> f64 {
    Z_975 * std::f64::consts::SQRT_2 * spread
}

/// The mean gap between best and worst of so many containers treated alike, in spreads.
pub fn best_to_worst(containers: u32) -> f64 {
    let count = f64::from(containers);
    // The mean of the greatest, twice.
    let density = |z: f64| {
        let below = normal_below(z);
        if below > 0.0 {
            count * libm::exp((count - 1.0) * libm::log(below)) * z
        } else {
            0.0
        }
    };
    2.0 * over_normal(density)
}

/// The chance that one of so many idle treatments, each tested by itself at 5 %, seems to do
/// something.
pub fn some_seems_to_work(treatments: u32, nu: f64) -> Option<f64> {
    let each = t_quantile(0.5 + 0.5 * SURE, nu)?;
    Some(Dunnett::equal(treatments, nu, Sides::Two)?.p(each))
}

/// Variance of the mean of so many plants of one container over that of a plant, where plants of
/// one container are alike by a share of it: the container is what was treated, so ten plants are
/// not ten observations.
pub fn variance_of_container_mean(alike: f64, plants: u32) -> f64 {
    let plants = f64::from(plants);
    (1.0 + (plants - 1.0) * alike) / plants
}

/// The least spread of a count of seeds that come up, as a share of its mean.
pub fn emergence_spread(rate: f64, seeds: u32) -> f64 {
    ((1.0 - rate) / (rate * f64::from(seeds))).sqrt()
}

/// The mean of a function of a standard normal number, by a plain trapezoid.
fn over_normal(of: impl Fn(f64) -> f64) -> f64 {
    const STEP: f64 = 0.125;
    const STEPS: i32 = 80;
    let at = |number: i32| {
        let z = f64::from(number) * STEP;
        normal_density(z) * STEP * of(z)
    };
    (-STEPS..=STEPS).map(at).sum()
}
