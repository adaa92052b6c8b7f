//! Treatments against the control.

use super::super::chance::{lambda, t_quantile, t_two_sided};
use super::super::compare::{Pair, holm};
use super::super::fit::{Dropped, Fit};
use super::super::power::{Design, SURE};
use super::super::ranks::complete_blocks;
use super::super::verdict::{Matters, NoVerdict, Verdict};
use super::apart::{pair, spreads_differ};
use super::judge::{Judged, judge, more_needed, of_control};
use super::{Analysis, Limits, Measure, Note, Read, Scale};

/// How a range was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// One spread for all treatments, all comparisons together (Dunnett 1955).
    Together,
    /// Each pair with its own spreads (Welch 1947), a part of the chance for each.
    Apart,
}

/// One treatment against the control, on the scale that is compared unless it says otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Which treatment.
    pub treatment: usize,
    /// By least squares; none where it cannot be told.
    pub difference: Option<f64>,
    /// Its error.
    pub error: Option<f64>,
    /// The difference over its error.
    pub t: Option<f64>,
    /// The chance of one as large, for this comparison alone.
    pub p_alone: Option<f64>,
    /// The chance that any would be as large.
    pub p_together: Option<f64>,
    /// The chance adjusted by steps.
    pub p_steps: Option<f64>,
    /// The range that holds for all comparisons together.
    pub range: Option<[f64; 2]>,
    /// The treatment over the control.
    pub ratio: Option<f64>,
    /// And its range.
    pub ratio_range: Option<[f64; 2]>,
    /// The difference in the unit of the measure, with the control's level as it came out.
    pub change: Option<f64>,
    /// And its range.
    pub change_range: Option<[f64; 2]>,
    /// How the range was come by.
    pub method: Method,
    /// By the spreads of the two alone: Welch at random, differences within blocks.
    pub pair: Option<Pair>,
    /// The chance of the pair, adjusted by steps.
    pub p_pair: Option<f64>,
    /// What may be said.
    pub verdict: Result<Judged, NoVerdict>,
}

pub(super) fn compare(
    analysis: &mut Analysis,
    measure: &Measure,
    read: &Read,
    fit: Option<&Fit>,
    limits: &mut Limits,
) {
    let others = (0..measure.treatments).filter(|treatment| *treatment != measure.control);
    let Some(fit) = fit else {
        let why = if read.limits > 0 {
            NoVerdict::Limits
        } else {
            NoVerdict::Score
        };
        let is_one = |of: usize| {
            analysis
                .groups
                .get(of)
                .is_some_and(|group| group.count == 1)
        };
        let why = |treatment: usize| {
            if is_one(treatment) || is_one(measure.control) {
                NoVerdict::OneContainer
            } else {
                why
            }
        };
        let rows = others.map(|treatment| empty(treatment, why(treatment)));
        analysis.comparisons = rows.collect();
        return;
    };
    let counts: Vec<f64> = analysis
        .groups
        .iter()
        .map(|group| group.count as f64)
        .collect();
    let control = counts[measure.control];
    let single = counts.iter().all(|count| *count <= 1.0);
    let nu = fit.error.degrees as f64;
    let mut rows: Vec<Comparison> = Vec::new();
    let mut lambdas = Vec::new();
    for treatment in others {
        let difference = match fit.differences[treatment] {
            Ok(difference) => difference,
            Err(Dropped::Apart) if single => {
                rows.push(empty(treatment, NoVerdict::OneContainer));
                continue;
            }
            Err(dropped) => {
                rows.push(empty(treatment, no_verdict(dropped)));
                continue;
            }
        };
        let mut row = empty(treatment, NoVerdict::NoDegrees);
        row.difference = Some(difference.estimate);
        lambdas.push(lambda(counts[treatment], control));
        if let Some(spread) = analysis.spread {
            let error = spread * difference.variance.sqrt();
            row.error = Some(error);
            row.t = Some(difference.estimate / error);
            row.p_alone = row.t.map(|t| t_two_sided(t, nu));
        } else if fit.is_exact && fit.error.degrees > 0 {
            let nothing = read.raw.iter().all(|value| *value == 0.0);
            row.verdict = Err(if nothing {
                NoVerdict::AllNothing
            } else {
                NoVerdict::NoSpread
            });
        }
        row.pair = pair(measure, read, treatment);
        rows.push(row);
    }
    let count = lambdas.len() as f64;
    if analysis.spread.is_some()
        && let Some((dunnett, critical)) = limits.together(&lambdas, nu)
    {
        analysis.critical = Some(critical);
        for row in &mut rows {
            let (Some(difference), Some(error), Some(alone)) =
                (row.difference, row.error, row.p_alone)
            else {
                continue;
            };
            // No less than alone, no more than so many times; which keeps the digits of small ones.
            let together = dunnett.p(difference / error);
            row.p_together = Some(together.max(alone).min((count * alone).min(1.0)));
            let half = critical * error;
            row.range = Some([difference - half, difference + half]);
        }
        let is_whole = match measure.design {
            Design::Random => true,
            Design::Blocks => complete_blocks(&read.points).is_some(),
            Design::Latin => read.points.len() == measure.treatments * measure.treatments,
        };
        if !is_whole {
            analysis.notes.push(Note::Approximate);
        }
    }
    adjust(&mut rows, |row| row.p_alone, |row, p| row.p_steps = p);
    let own = |row: &Comparison| row.pair.map(|pair| pair.p());
    adjust(&mut rows, own, |row, p| row.p_pair = p);
    if let Some(ratio) = spreads_differ(measure, read) {
        analysis.notes.push(Note::SpreadsDiffer(ratio));
        for row in &mut rows {
            row.take_pair(count);
        }
    }
    let level = fit.adjusted_mean(measure.control);
    let is_share = matches!(measure.matters, Matters::Share(_));
    if read.scale == Scale::Raw && is_share && rows.iter().any(|row| row.range.is_some()) {
        analysis.notes.push(Note::ControlTakenAsExact);
    }
    for row in &mut rows {
        row.turn_back(read, level);
        if row.range.is_some() {
            let is_single = counts[row.treatment] < 2.0 || control < 2.0;
            row.verdict = if is_single {
                Err(NoVerdict::OneContainer)
            } else {
                judge(row, measure)
            };
        } else if row.verdict == Err(NoVerdict::NoDegrees) && single {
            row.verdict = Err(NoVerdict::OneContainer);
        }
    }
    let more = more_needed(analysis, measure, &rows, level, &counts, limits);
    for row in &mut rows {
        if let Ok(judged) = &mut row.verdict
            && judged.verdict == Verdict::CannotTell
        {
            judged.more = more;
        }
    }
    analysis.comparisons = rows;
}

impl Comparison {
    /// Leaves the range and the chances, where no verdict can rest on them.
    pub fn leave_range(&mut self) {
        *self = Comparison {
            difference: self.difference,
            ratio: self.ratio,
            verdict: self.verdict,
            ..empty(self.treatment, NoVerdict::NoDegrees)
        };
    }

    /// Whether its verdict is refused for one container alone: then no range is told beside it.
    pub fn is_of_one(&self) -> bool {
        self.verdict == Err(NoVerdict::OneContainer)
    }

    /// A range by the spreads of the two alone; the chance is shared out evenly, since steps have
    /// no ranges.
    fn take_pair(&mut self, count: f64) {
        let Some(pair) = self.pair else {
            return;
        };
        let Some(limit) = t_quantile(1.0 - 0.5 * (1.0 - SURE) / count, pair.degrees) else {
            return;
        };
        let half = limit * pair.error;
        self.range = Some([pair.difference - half, pair.difference + half]);
        self.method = Method::Apart;
    }

    /// Ratios, where the scale has them.
    fn turn_back(&mut self, read: &Read, level: Option<f64>) {
        // What cannot be below nothing cannot be less than none of the control.
        let least = if read.raw.iter().all(|value| *value >= 0.0) {
            0.0
        } else {
            f64::NEG_INFINITY
        };
        let turned = |difference: f64| match read.scale {
            Scale::Log => Some(libm::exp(difference)),
            Scale::LogOfOneMore => Some(libm::exp(difference * std::f64::consts::LN_10)),
            Scale::Raw => {
                let level = level.filter(|level| *level > 0.0)?;
                Some((1.0 + difference / level).max(least))
            }
            Scale::Score => None,
        };
        let of_level = of_control(read.scale, level);
        let changed = |difference: f64| match read.scale {
            Scale::Raw => Some(difference),
            Scale::Log | Scale::LogOfOneMore => Some(of_level * (turned(difference)? - 1.0)),
            Scale::Score => None,
        };
        let both = |of: &dyn Fn(f64) -> Option<f64>| {
            let [low, high] = self.range?;
            Some([of(low)?, of(high)?])
        };
        let (ratios, changes) = (both(&turned), both(&changed));
        self.ratio = self.difference.and_then(turned);
        self.change = self.difference.and_then(changed);
        (self.ratio_range, self.change_range) = (ratios, changes);
    }
}

fn empty(treatment: usize, why: NoVerdict) -> Comparison {
    Comparison {
        treatment,
        difference: None,
        error: None,
        t: None,
        p_alone: None,
        p_together: None,
        p_steps: None,
        range: None,
        ratio: None,
        ratio_range: None,
        change: None,
        change_range: None,
        method: Method::Together,
        pair: None,
        p_pair: None,
        verdict: Err(why),
    }
}

fn no_verdict(dropped: Dropped) -> NoVerdict {
    match dropped {
        Dropped::Lost => NoVerdict::Lost,
        Dropped::NoControl => NoVerdict::NoControl,
        Dropped::Apart => NoVerdict::Apart,
    }
}

/// Sets chances adjusted by steps, of those rows that have one.
fn adjust(
    rows: &mut [Comparison],
    of: impl Fn(&Comparison) -> Option<f64>,
    set: impl Fn(&mut Comparison, Option<f64>),
) {
    let own: Vec<f64> = rows.iter().filter_map(&of).collect();
    let mut adjusted = holm(&own).into_iter();
    for row in rows {
        if of(row).is_some() {
            set(row, adjusted.next());
        }
    }
}
