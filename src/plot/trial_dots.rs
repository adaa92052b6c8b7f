//! The drawings of what a trial shows: dots of containers by treatment, and differences from the
//! control as bars.

use crate::figure::within;

/// Most ticks of a scale.
const TICKS: usize = 6;
/// Fewest decades of a scale of logarithms from which only 1, 2 and 5 of each are marked.
const WIDE_DECADES: f64 = 1.0;
/// Most decades of which 2 and 5 are marked too.
const DENSE_DECADES: f64 = 2.5;
/// What a scale spans where all values are one, over the value.
const ALONE: f64 = 0.2;
/// Values that spread by more than this are drawn by logarithms, where these are compared (a choice).
const SPREADS: f64 = 20.0;
/// A range is drawn up to so many times the farthest estimate or the band; beyond it is cut.
const FARTHEST: f64 = 4.0;
/// A spread below so much of the values is none.
const DUST: f64 = 1e-9;
/// Ranges of means are drawn so far beyond all containers, of what these span; beyond it they are cut.
const BEYOND: f64 = 0.5;
/// Least factor of powers of ten in ticks.
const STEPS: [f64; 5] = [1.0, 2.0, 5.0, 10.0, 20.0];

/// A scale from left to right that holds all it is given; its ticks are round.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialScale {
    /// Left edge.
    pub left: f64,
    /// Width.
    pub width: f64,
    /// The value at the left edge.
    pub low: f64,
    /// The value at the right edge.
    pub high: f64,
    /// Whether it goes by factors.
    pub by_logs: bool,
    /// Round values that are marked, the smallest first.
    pub ticks: Vec<f64>,
}

impl TrialScale {
    /// A scale that holds values; numbers without end are left out. `by_logs` is heeded where all
    /// are above nothing and spread far.
    pub fn holding(values: &[f64], by_logs: bool, left: f64, width: f64) -> TrialScale {
        let known = || values.iter().copied().filter(|value| value.is_finite());
        let (mut low, mut high) = (
            known().fold(f64::INFINITY, f64::min),
            known().fold(f64::NEG_INFINITY, f64::max),
        );
        if low > high {
            (low, high) = (0.0, 1.0);
        }
        // What differs by the dust of binary fractions is one value.
        if high - low <= DUST * high.abs().max(low.abs()) {
            (low, high) = (round(low), round(low));
        }
        let by_logs = by_logs && low > 0.0 && high > SPREADS * low;
        // What is all on one side of nothing and not far from it shows nothing too.
        if !by_logs && low > 0.0 && low < 0.5 * high {
            low = 0.0;
        }
        if low == high {
            let half = if low == 0.0 { 1.0 } else { ALONE * low.abs() };
            (low, high) = (low - half, high + half);
        }
        let ticks = if by_logs {
            decades(&mut low, &mut high)
        } else {
            steps(&mut low, &mut high)
        };
        TrialScale {
            left,
            width,
            low,
            high,
            by_logs,
            ticks,
        }
    }

    /// Where a value is, held at the edges.
    pub fn x(&self, value: f64) -> f64 {
        let share = if self.by_logs {
            let log = |value: f64| libm::log(value.max(f64::MIN_POSITIVE));
            (log(value) - log(self.low)) / (log(self.high) - log(self.low))
        } else {
            (value - self.low) / (self.high - self.low)
        };
        let share = if share.is_nan() { 0.0 } else { share };
        self.left + within(share, 0.0, 1.0) * self.width
    }

    /// Whether a value lies on it.
    pub fn holds(&self, value: f64) -> bool {
        value >= self.low && value <= self.high
    }
}

/// Moves the ends out to round numbers and marks those between.
fn steps(low: &mut f64, high: &mut f64) -> Vec<f64> {
    let rough = (*high - *low) / (TICKS - 1) as f64;
    let power = libm::exp10(libm::floor(libm::log10(rough)));
    let mut ticks = vec![round(*low), round(*high)];
    for factor in STEPS {
        let step = factor * power;
        let (first, last) = (libm::floor(*low / step), libm::ceil(*high / step));
        // Ends that no step can tell apart: huge values that lie close together.
        if !(last - first >= 1.0 && last.abs().max(first.abs()) < 1e15) {
            continue;
        }
        let count = (last - first) as usize;
        if count < TICKS {
            // A product, and not a sum of steps: 0.30000000000000004 is not round.
            ticks = (0..=count)
                .map(|at| round((first + at as f64) * step))
                .collect();
            break;
        }
    }
    (*low, *high) = (ticks[0].min(*low), ticks[ticks.len() - 1].max(*high));
    ticks
}

/// Moves the ends out to 1, 2 or 5 of a power of ten and marks those between.
fn decades(low: &mut f64, high: &mut f64) -> Vec<f64> {
    let (from, to) = (
        libm::floor(libm::log10(*low)) as i32,
        libm::ceil(libm::log10(*high)) as i32,
    );
    let all = |factors: &[f64]| -> Vec<f64> {
        let powers = from..=to;
        powers
            .flat_map(|power| {
                let factors = factors.iter();
                factors.map(move |factor| round(factor * libm::exp10(f64::from(power))))
            })
            .collect()
    };
    let round_numbers = all(&[1.0, 2.0, 5.0]);
    let below = round_numbers.iter().copied().filter(|tick| *tick <= *low);
    let above = round_numbers.iter().copied().filter(|tick| *tick >= *high);
    *low = below.fold(*low, |_, tick| tick);
    *high = above.fold(f64::INFINITY, f64::min).max(*high);
    let span = libm::log10(*high / *low);
    let factors: &[f64] = if span <= WIDE_DECADES {
        &[1.0, 2.0, 3.0, 5.0, 7.0]
    } else if span <= DENSE_DECADES {
        &[1.0, 2.0, 5.0]
    } else {
        &[1.0]
    };
    let mut ticks: Vec<f64> = all(factors)
        .into_iter()
        .filter(|tick| *tick >= *low && *tick <= *high)
        .collect();
    // Of many decades every second or third is enough.
    let every = ticks.len().div_ceil(TICKS + 2).max(1);
    if factors.len() == 1 {
        ticks = ticks.into_iter().step_by(every).collect();
    }
    ticks
}

/// Without the dust of binary fractions.
fn round(value: f64) -> f64 {
    crate::quantity::round_significant(value, 12)
}

/// How far below or above the middle of its row each dot stands, so that dots do not cover each
/// other: in the order given. Where there is no more room they do, within the row.
pub fn swarm(xs: &[f64], radius: f64, half_height: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..xs.len()).collect();
    order.sort_by(|one, other| xs[*one].total_cmp(&xs[*other]));
    let mut offsets = vec![0.0; xs.len()];
    let mut placed: Vec<usize> = Vec::new();
    let room = (half_height - radius).max(0.0);
    let step = 0.5 * radius;
    let tries = if step > 0.0 {
        (room / step) as usize
    } else {
        0
    };
    for at in order {
        let free = |offset: f64| {
            placed
                .iter()
                .rev()
                .take_while(|other| xs[at] - xs[**other] < 2.0 * radius)
                .all(|other| {
                    let (dx, dy) = (xs[at] - xs[*other], offset - offsets[*other]);
                    dx * dx + dy * dy >= 4.0 * radius * radius * (1.0 - 1e-9)
                })
        };
        let mut candidates = (0..=tries).flat_map(|try_of| {
            let offset = try_of as f64 * step;
            [-offset, offset]
        });
        offsets[at] = candidates.find(|offset| free(*offset)).unwrap_or_else(|| {
            // Dense: spread over the row by turns.
            let turns = (2 * tries + 1) as f64;
            let turn = placed.len() as f64 % turns;
            (turn - tries as f64) * step
        });
        placed.push(at);
    }
    offsets
}

/// What the scale of containers is made for: what they read, ranges of their means, and the classes
/// of a score from the least to the most. Few containers have ranges that would flatten all dots, so
/// these are cut.
pub fn dots_scale(
    readings: &[f64],
    ranges: &[[f64; 2]],
    classes: Option<[f64; 2]>,
    by_logs: bool,
    left: f64,
    width: f64,
) -> TrialScale {
    let mut values: Vec<f64> = readings.iter().copied().filter(|v| v.is_finite()).collect();
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let reach = BEYOND * (most - least).max(0.0);
    let floor = if least >= 0.0 { 0.0 } else { f64::NEG_INFINITY };
    for [low, high] in ranges {
        values.push(low.max(least - reach).max(floor));
        values.push(high.min(most + reach));
    }
    values.extend(classes.into_iter().flatten());
    let mut scale = TrialScale::holding(&values, by_logs, left, width);
    // Nothing that is counted or weighed reads less than nothing.
    if least >= 0.0 && scale.low < 0.0 {
        scale.low = 0.0;
        scale.ticks.retain(|tick| *tick >= 0.0);
    }
    scale
}

/// A difference from the control as a bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrialBar {
    /// Where the estimate is.
    pub x: f64,
    /// Where its range begins and ends.
    pub from: f64,
    /// And ends.
    pub to: f64,
    /// Whether the range goes on to the left of the drawing.
    pub cut_left: bool,
    /// Whether it goes on to the right.
    pub cut_right: bool,
}

/// What the scale of differences is made for: estimates with their ranges, and the band of what does
/// not matter. Ranges far beyond both are cut, so that one of no use does not flatten the others.
pub fn difference_scale(
    rows: &[(f64, Option<[f64; 2]>)],
    band: Option<[f64; 2]>,
    least: f64,
    left: f64,
    width: f64,
) -> TrialScale {
    let finite = |value: &f64| value.is_finite();
    let mut values: Vec<f64> = vec![0.0];
    values.extend(band.into_iter().flatten().filter(finite));
    values.extend(rows.iter().map(|(estimate, _)| *estimate).filter(finite));
    let far = values
        .iter()
        .fold(0.0_f64, |far, value| far.max(value.abs()));
    let reach = if far > 0.0 {
        FARTHEST * far
    } else {
        f64::INFINITY
    };
    for range in rows.iter().filter_map(|(_, range)| *range) {
        values.extend(
            range
                .into_iter()
                .filter(finite)
                .map(|end| within(end, -reach, reach)),
        );
    }
    let mut scale = TrialScale::holding(&values, false, left, width);
    // Nothing can be less than none of the control.
    if scale.low < least {
        scale.low = least;
        scale.ticks.retain(|tick| *tick >= least);
    }
    scale
}

impl TrialScale {
    /// A bar on this scale.
    pub fn bar(&self, estimate: f64, [low, high]: [f64; 2]) -> TrialBar {
        TrialBar {
            x: self.x(estimate),
            from: self.x(low),
            to: self.x(high),
            cut_left: low < self.low,
            cut_right: high > self.high,
        }
    }
}
