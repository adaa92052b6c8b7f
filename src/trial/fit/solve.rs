//! The first factor is taken out by centring, which is exact; the rest is solved by the reflections
//! of Householder on centred values, so that readings with many digits in common keep the others.

use super::TAKES_PLACE;

/// Multiplications at the most; a trial takes a hundred thousand.
const MOST_WORK: f64 = 4e8;
/// What is left of a column of zeros and ones, for each one of it, below which it says nothing that
/// others did not.
const NOTHING_LEFT: f64 = 1e-7;

/// The mean by two passes: what the first leaves is added by the second.
pub(super) fn two_pass_mean(values: impl Iterator<Item = f64> + Clone) -> f64 {
    let count = values.clone().count() as f64;
    let rough = values.clone().sum::<f64>() / count;
    rough + values.map(|value| value - rough).sum::<f64>() / count
}

/// Which level of a factor each reading has; levels stand in the order of their labels.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    pub(super) of: Vec<usize>,
    pub(super) labels: Vec<usize>,
}

impl Factor {
    pub(super) fn of(labelled: Vec<usize>) -> Factor {
        let mut labels = labelled.clone();
        labels.sort_unstable();
        labels.dedup();
        let level = |label: &usize| labels.binary_search(label).unwrap_or(0);
        Factor {
            of: labelled.iter().map(level).collect(),
            labels,
        }
    }

    pub(super) fn levels(&self) -> usize {
        self.labels.len()
    }

    pub(super) fn level_of(&self, label: usize) -> Option<usize> {
        self.labels.binary_search(&label).ok()
    }
}

/// Columns and readings, centred within the levels of a factor.
pub(super) struct Model<'a> {
    absorbed: &'a Factor,
    counts: Vec<f64>,
    columns: Vec<Vec<f64>>,
    ones: Vec<f64>,
    readings: Vec<f64>,
    too_large: bool,
}

/// What came of it, by column.
pub(super) struct Solved {
    /// Columns that say something, in order.
    pub(super) kept: Vec<usize>,
    /// What each adds; nothing where it was left out.
    pub(super) coefficients: Vec<f64>,
    /// Variance of each over that of a reading; none where what was left out could take its place.
    pub(super) variances: Vec<Option<f64>>,
    /// Squares that nothing explains.
    pub(super) rest: f64,
    explained: Vec<f64>,
}

impl Solved {
    /// Squares that columns explain, from one on, beyond those before it.
    pub(super) fn squares_from(&self, first: usize) -> f64 {
        let kept = self.kept.iter().zip(&self.explained);
        let from = kept.filter(|(at, _)| **at >= first);
        from.map(|(_, value)| value * value).sum()
    }
}

impl<'a> Model<'a> {
    pub(super) fn new(absorbed: &'a Factor, readings: &[f64]) -> Model<'a> {
        let mut counts = vec![0.0; absorbed.levels()];
        for level in &absorbed.of {
            counts[*level] += 1.0;
        }
        let mut readings = readings.to_vec();
        // Twice, as for the mean.
        for _ in 0..2 {
            let mut sums = vec![0.0; absorbed.levels()];
            for (value, level) in readings.iter().zip(&absorbed.of) {
                sums[*level] += value;
            }
            for (value, level) in readings.iter_mut().zip(&absorbed.of) {
                *value -= sums[*level] / counts[*level];
            }
        }
        Model {
            absorbed,
            counts,
            columns: Vec::new(),
            ones: Vec::new(),
            readings,
            too_large: false,
        }
    }

    pub(super) fn count(&self) -> usize {
        self.columns.len()
    }

    /// A column for each level of a factor but the base.
    pub(super) fn add(&mut self, factor: &Factor, base: usize) {
        let columns = (self.columns.len() + factor.levels()) as f64;
        if columns * columns * factor.of.len() as f64 > MOST_WORK {
            self.too_large = true;
            return;
        }
        for level in (0..factor.levels()).filter(|level| *level != base) {
            let mut shares = vec![0.0; self.absorbed.levels()];
            let mut ones = 0.0;
            for (own, within) in factor.of.iter().zip(&self.absorbed.of) {
                if *own == level {
                    shares[*within] += 1.0 / self.counts[*within];
                    ones += 1.0;
                }
            }
            let both = factor.of.iter().zip(&self.absorbed.of);
            let column =
                both.map(|(own, within)| f64::from(u8::from(*own == level)) - shares[*within]);
            self.columns.push(column.collect());
            self.ones.push(ones);
        }
    }

    /// None if it would take too long.
    pub(super) fn solve(self) -> Option<Solved> {
        if self.too_large {
            return None;
        }
        let count = self.columns.len();
        let mut readings = self.readings;
        let mut kept: Vec<usize> = Vec::new();
        let mut upper: Vec<Vec<f64>> = Vec::new();
        let mut left_out: Vec<Vec<f64>> = Vec::new();
        let mut mirrors: Vec<Vec<f64>> = Vec::new();
        for (at, mut column) in self.columns.into_iter().enumerate() {
            for (from, mirror) in mirrors.iter().enumerate() {
                reflect(mirror, column.get_mut(from..).unwrap_or_default());
            }
            let rank = mirrors.len();
            let below = column.get(rank..).unwrap_or_default();
            let norm = below.iter().map(|value| value * value).sum::<f64>().sqrt();
            if norm <= NOTHING_LEFT * self.ones[at].sqrt() {
                column.truncate(rank);
                left_out.push(column);
                continue;
            }
            let mut mirror = below.to_vec();
            // Away from what is already there, so that nothing cancels.
            let size = if mirror[0] > 0.0 { -norm } else { norm };
            mirror[0] -= size;
            let length = mirror.iter().map(|value| value * value).sum::<f64>().sqrt();
            for value in &mut mirror {
                *value /= length;
            }
            column.truncate(rank);
            column.push(size);
            reflect(&mirror, readings.get_mut(rank..).unwrap_or_default());
            upper.push(column);
            mirrors.push(mirror);
            kept.push(at);
        }
        let rank = kept.len();
        let (explained, rest) = readings.split_at(rank.min(readings.len()));
        let rest = rest.iter().map(|value| value * value).sum();
        let solved = back(&upper, explained);
        let taken: Vec<Vec<f64>> = left_out.iter().map(|column| back(&upper, column)).collect();
        let variances = row_norms(&upper);
        let mut coefficients = vec![0.0; count];
        let mut told = vec![None; count];
        for (number, at) in kept.iter().enumerate() {
            coefficients[*at] = solved[number];
            let alone = taken
                .iter()
                .all(|column| column[number].abs() < TAKES_PLACE);
            told[*at] = alone.then_some(variances[number]);
        }
        Some(Solved {
            kept,
            coefficients,
            variances: told,
            rest,
            explained: explained.to_vec(),
        })
    }
}

/// Turns a column over at a mirror of length 1.
fn reflect(mirror: &[f64], column: &mut [f64]) {
    let along: f64 = mirror.iter().zip(&*column).map(|(a, b)| a * b).sum();
    for (value, normal) in column.iter_mut().zip(mirror) {
        *value -= 2.0 * along * normal;
    }
}

/// Solves a triangle whose columns are given.
fn back(upper: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; upper.len()];
    let mut left = right.to_vec();
    left.resize(upper.len(), 0.0);
    for at in (0..upper.len()).rev() {
        let value = left[at] / upper[at][at];
        out[at] = value;
        for (rest, factor) in left.iter_mut().zip(&upper[at]) {
            *rest -= factor * value;
        }
    }
    out
}

/// Squares of the rows of the inverse of a triangle, summed.
fn row_norms(upper: &[Vec<f64>]) -> Vec<f64> {
    let mut out = vec![0.0; upper.len()];
    for at in 0..upper.len() {
        let mut unit = vec![0.0; at + 1];
        unit[at] = 1.0;
        let column = back(&upper[..=at], &unit);
        for (sum, value) in out.iter_mut().zip(&column) {
            *sum += value * value;
        }
    }
    out
}
