//! Tests by ranks, for what has no spread worth the name: scores, and readings with a limit.

use super::chance::chi_square_above;
use super::fit::Point;

/// A rank test by its chi-square, which is crude below five containers of each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RankTest {
    /// The statistic, corrected for ties.
    pub statistic: f64,
    /// Its degrees of freedom.
    pub degrees: usize,
    /// The chance of one as large.
    pub p: f64,
}

/// Ranks from 1 on; equals share the mean of theirs. What is no number comes last.
pub fn mid_ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|a, b| values[*a].total_cmp(&values[*b]));
    let mut out = vec![0.0; values.len()];
    let mut from = 0;
    while from < order.len() {
        let same = |at: &usize| values[*at] == values[order[from]];
        let equals = order[from..]
            .iter()
            .take_while(|at| same(at))
            .count()
            .max(1);
        let rank = from as f64 + 0.5 * (equals as f64 + 1.0);
        for at in &order[from..from + equals] {
            out[*at] = rank;
        }
        from += equals;
    }
    out
}

/// Containers that stand at random (Kruskal & Wallis 1952); none where fewer than two treatments
/// have readings, or all are equal.
pub fn kruskal(points: &[Point]) -> Option<RankTest> {
    let values: Vec<f64> = points.iter().map(|point| point.value).collect();
    if values.iter().any(|value| value.is_nan()) {
        return None;
    }
    let ranks = mid_ranks(&values);
    let middle = 0.5 * (values.len() as f64 + 1.0);
    let mut sums: Vec<(usize, f64, f64)> = Vec::new();
    for (point, rank) in points.iter().zip(&ranks) {
        match sums
            .iter_mut()
            .find(|(known, ..)| *known == point.treatment)
        {
            Some((_, sum, count)) => {
                *sum += rank - middle;
                *count += 1.0;
            }
            None => sums.push((point.treatment, rank - middle, 1.0)),
        }
    }
    let between: f64 = sums.iter().map(|(_, sum, count)| sum * sum / count).sum();
    let all: f64 = ranks
        .iter()
        .map(|rank| (rank - middle) * (rank - middle))
        .sum();
    // The variance of the ranks as they are, so that ties correct themselves.
    test((values.len() as f64 - 1.0) * between / all, sums.len())
}

/// Complete blocks, each treatment once (Friedman 1937); none where they are not, or where all are
/// equal in every block.
pub fn friedman(points: &[Point]) -> Option<RankTest> {
    let blocks = complete_blocks(points)?;
    let treatments = blocks.first()?.len();
    let middle = 0.5 * (treatments as f64 + 1.0);
    let mut sums = vec![0.0; treatments];
    let mut all = 0.0;
    for block in &blocks {
        if block.iter().any(|value| value.is_nan()) {
            return None;
        }
        for (sum, rank) in sums.iter_mut().zip(mid_ranks(block)) {
            *sum += rank - middle;
            all += (rank - middle) * (rank - middle);
        }
    }
    let between: f64 = sums.iter().map(|sum| sum * sum).sum();
    test((treatments as f64 - 1.0) * between / all, treatments)
}

fn test(statistic: f64, groups: usize) -> Option<RankTest> {
    if groups < 2 || !statistic.is_finite() {
        return None;
    }
    Some(RankTest {
        statistic,
        degrees: groups - 1,
        p: chi_square_above(statistic, groups as f64 - 1.0),
    })
}

/// The readings of each block in the order of treatments; none unless every block has each of them
/// once.
pub(super) fn complete_blocks(points: &[Point]) -> Option<Vec<Vec<f64>>> {
    let mut sorted = points.to_vec();
    sorted.sort_by_key(|point| (point.block, point.treatment));
    let first = sorted.first()?.block;
    let treatments: Vec<usize> = sorted
        .iter()
        .take_while(|point| point.block == first)
        .map(|point| point.treatment)
        .collect();
    if treatments.windows(2).any(|pair| pair[0] == pair[1]) {
        return None;
    }
    let blocks = sorted.chunks(treatments.len()).map(|block| {
        let own = block.first()?.block;
        let is_whole = block.len() == treatments.len()
            && block.iter().all(|point| point.block == own)
            && block
                .iter()
                .zip(&treatments)
                .all(|(point, of)| point.treatment == *of);
        is_whole.then(|| block.iter().map(|point| point.value).collect())
    });
    blocks.collect()
}
