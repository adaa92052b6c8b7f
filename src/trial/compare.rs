//! Treatments compared by spreads of their own, adjusted chances, proportions, and what blocks and
//! lost containers come to.

use super::chance::{f_above, t_quantile, t_two_sided};
use super::fit::Fit;

/// Number, mean and variance of readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// How many.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their variance; none of a single one.
    pub variance: Option<f64>,
}

impl Sample {
    /// By two passes; none of no readings.
    pub fn of(values: &[f64]) -> Option<Sample> {
        if values.is_empty() {
            return None;
        }
        let count = values.len() as f64;
        let rough = values.iter().sum::<f64>() / count;
        let mean = rough + values.iter().map(|value| value - rough).sum::<f64>() / count;
        let squares: f64 = values
            .iter()
            .map(|value| (value - mean) * (value - mean))
            .sum();
        Some(Sample {
            count: values.len(),
            mean,
            variance: (values.len() > 1).then(|| squares / (count - 1.0)),
        })
    }

    /// The spread.
    pub fn spread(&self) -> Option<f64> {
        self.variance.map(f64::sqrt)
    }

    /// The range of the mean by this spread alone.
    pub fn range(&self, share: f64) -> Option<[f64; 2]> {
        let count = self.count as f64;
        let t = t_quantile(0.5 + 0.5 * share, count - 1.0)?;
        let half = t * (self.variance? / count).sqrt();
        Some([self.mean - half, self.mean + half])
    }
}

/// Two treatments compared by themselves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The first less the second.
    pub difference: f64,
    /// Its error.
    pub error: f64,
    /// Degrees of freedom, mostly no whole number.
    pub degrees: f64,
}

impl Pair {
    /// Each with its own spread (Welch 1947); none where neither has one.
    pub fn of(one: &Sample, other: &Sample) -> Option<Pair> {
        let part = |of: &Sample| Some((of.variance? / of.count as f64, of.count as f64 - 1.0));
        let ((a, a_degrees), (b, b_degrees)) = (part(one)?, part(other)?);
        let sum = a + b;
        let degrees = sum * sum / (a * a / a_degrees + b * b / b_degrees);
        (sum > 0.0 && degrees.is_finite()).then(|| Pair {
            difference: one.mean - other.mean,
            error: sum.sqrt(),
            degrees,
        })
    }

    /// By differences within blocks.
    pub fn within(differences: &[f64]) -> Option<Pair> {
        let sample = Sample::of(differences)?;
        let count = sample.count as f64;
        let error = (sample.variance? / count).sqrt();
        (error > 0.0).then_some(Pair {
            difference: sample.mean,
            error,
            degrees: count - 1.0,
        })
    }

    /// The difference over its error.
    pub fn t(&self) -> f64 {
        self.difference / self.error
    }

    /// The chance of one as large, for this pair alone.
    pub fn p(&self) -> f64 {
        t_two_sided(self.t(), self.degrees)
    }

    /// The range of the difference.
    pub fn range(&self, share: f64) -> Option<[f64; 2]> {
        let half = t_quantile(0.5 + 0.5 * share, self.degrees)? * self.error;
        Some([self.difference - half, self.difference + half])
    }
}

/// Several treatments, each with its own spread (Welch 1951): F, both degrees of freedom, and the
/// chance of one as large. None where a treatment has no spread.
pub fn welch_f(samples: &[Sample]) -> Option<(f64, [f64; 2], f64)> {
    let groups = samples.len() as f64;
    if samples.len() < 2 {
        return None;
    }
    let mut weights = Vec::with_capacity(samples.len());
    for sample in samples {
        let variance = sample.variance.filter(|variance| *variance > 0.0)?;
        weights.push(sample.count as f64 / variance);
    }
    let sum: f64 = weights.iter().sum();
    let both = || samples.iter().zip(&weights);
    let mean = both().map(|(of, weight)| weight * of.mean).sum::<f64>() / sum;
    let between = both().map(|(of, weight)| weight * (of.mean - mean) * (of.mean - mean));
    let between = between.sum::<f64>() / (groups - 1.0);
    let doubt = both().map(|(of, weight)| {
        let rest = 1.0 - weight / sum;
        rest * rest / (of.count as f64 - 1.0)
    });
    let doubt: f64 = doubt.sum::<f64>() / (groups * groups - 1.0);
    let f = between / (1.0 + 2.0 * (groups - 2.0) * doubt);
    let degrees = [groups - 1.0, 1.0 / (3.0 * doubt)];
    Some((f, degrees, f_above(f, degrees)))
}

/// Chances adjusted for their number by the steps of Holm 1979, whatever hangs together.
pub fn holm(chances: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|a, b| chances[*a].total_cmp(&chances[*b]));
    let mut out = chances.to_vec();
    let mut least = 0.0_f64;
    for (rank, at) in order.iter().enumerate() {
        let left = (chances.len() - rank) as f64;
        least = least.max((left * chances[*at]).min(1.0));
        out[*at] = least;
    }
    out
}

/// The range of a share of so many, after Wilson 1927; none of none, or of more than all.
pub fn wilson(found: u32, of: u32) -> Option<[f64; 2]> {
    /// The normal quantile of 97.5 %.
    const Z: f64 = 1.959_963_984_540_054;
    if of == 0 || found > of {
        return None;
    }
    let (count, share) = (f64::from(of), f64::from(found) / f64::from(of));
    let over = Z * Z / count;
    let middle = (share + 0.5 * over) / (1.0 + over);
    let half = Z * (share * (1.0 - share) / count + over / (4.0 * count)).sqrt() / (1.0 + over);
    // At none and all one end is exact.
    let low = if found == 0 { 0.0 } else { middle - half };
    let high = if found == of { 1.0 } else { middle + half };
    Some([low, high])
}

/// What blocks were worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blocking {
    /// Containers that a trial without blocks needs for each of one with them, to tell as much
    /// (Gomez & Gomez 1984).
    pub efficiency: f64,
    /// The same, for the degrees of freedom that blocks cost.
    pub adjusted: f64,
}

/// What complete blocks were worth; none if a container is missing or there is no spread.
pub fn worth_of_blocks(fit: &Fit) -> Option<Blocking> {
    let blocks = fit.blocks?;
    let [b, t] = [blocks.degrees, fit.treatments.degrees].map(|degrees| degrees as f64 + 1.0);
    let nu = fit.error.degrees as f64;
    if fit.residuals.len() as f64 != b * t || nu != (b - 1.0) * (t - 1.0) {
        return None;
    }
    let (between, left) = (blocks.mean_square()?, fit.error.mean_square()?);
    if fit.is_exact || left <= 0.0 {
        return None;
    }
    let efficiency = ((b - 1.0) * between + b * (t - 1.0) * left) / ((b * t - 1.0) * left);
    let without = t * (b - 1.0);
    let cost = ((nu + 1.0) * (without + 3.0)) / ((nu + 3.0) * (without + 1.0));
    Some(Blocking {
        efficiency,
        adjusted: efficiency * cost,
    })
}

/// What a lost container of complete blocks would have read (Yates 1933), by the sums of what is
/// left: of its treatment, of its block, of all. Least squares says the same.
pub fn lost_reading(blocks: u32, treatments: u32, [own, block, all]: [f64; 3]) -> Option<f64> {
    let [b, t] = [blocks, treatments].map(f64::from);
    let degrees = (b - 1.0) * (t - 1.0);
    (degrees > 0.0).then(|| (t * own + b * block - all) / degrees)
}
