//! Treatments against the control, and what may be said of each.

use super::super::chance::{f_above, lambda, t_quantile, t_two_sided};
use super::super::compare::{Pair, Sample, holm};
use super::super::fit::{Dropped, Fit};
use super::super::power::{Design, SURE, USUAL_POWER, each_needed_by};
use super::super::ranks::complete_blocks;
use super::super::verdict::{Band, Good, Matters, NoVerdict, Verdict, good_difference, good_ratio};
use super::{Analysis, Limits, Measure, Note, Read, Scale};

/// Spreads that differ by more than this are not taken as one (common practice).
const SPREADS_APART: f64 = 3.0;
/// Containers of each below which spreads are not compared.
const SPREADS_FROM: usize = 4;

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
    /// How the range was come by.
    pub method: Method,
    /// By the spreads of the two alone: Welch at random, differences within blocks.
    pub pair: Option<Pair>,
    /// The chance of the pair, adjusted by steps.
    pub p_pair: Option<f64>,
    /// What may be said.
    pub verdict: Result<Judged, NoVerdict>,
}

/// A verdict with the numbers that it says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// The verdict.
    pub verdict: Verdict,
    /// The range in the good direction: ratios, or differences in the unit of the measure.
    pub range: [f64; 2],
    /// Whether they are ratios.
    pub is_ratio: bool,
    /// What matters, in the same terms: a share, or a difference.
    pub matters: f64,
    /// Where it cannot be told, what would.
    pub more: Option<More>,
}

/// What would tell a difference that matters in four trials of five, with the spread that was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum More {
    /// So many more blocks, or containers of each.
    About(u32),
    /// The plan was large enough for that; chance or a small effect stands in the way.
    Enough,
    /// More than can be grown.
    Beyond,
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
        analysis.comparisons = others.map(|treatment| empty(treatment, why)).collect();
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
            row.verdict = Err(NoVerdict::NoSpread);
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
            Design::Square => read.points.len() == measure.treatments * measure.treatments,
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
                judge(row, measure, read.scale, level)
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
        self.ratio = self.difference.and_then(turned);
        self.ratio_range = self
            .range
            .and_then(|[low, high]| Some([turned(low)?, turned(high)?]));
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

/// The two by themselves; in blocks by the differences within those that have each once.
fn pair(measure: &Measure, read: &Read, treatment: usize) -> Option<Pair> {
    match measure.design {
        Design::Random => {
            let sample = |of| Sample::of(&read.of_treatment(of));
            Pair::of(&sample(treatment)?, &sample(measure.control)?)
        }
        Design::Blocks => {
            let only = |block: usize, of: usize| {
                let mut found = read
                    .points
                    .iter()
                    .filter(|point| point.block == block && point.treatment == of);
                let first = found.next()?.value;
                found.next().is_none().then_some(first)
            };
            let own = read
                .points
                .iter()
                .filter(|point| point.treatment == treatment);
            let differences: Vec<f64> = own
                .filter_map(|point| {
                    let own = only(point.block, treatment)?;
                    Some(own - only(point.block, measure.control)?)
                })
                .collect();
            Pair::within(&differences)
        }
        Design::Square => None,
    }
}

/// How many times the widest spread is the narrowest, where containers stand at random, there are
/// enough of each, and it is both more than threefold and more than chance does.
fn spreads_differ(measure: &Measure, read: &Read) -> Option<f64> {
    if measure.design != Design::Random {
        return None;
    }
    let mut spreads: Vec<(f64, f64)> = Vec::new();
    for treatment in 0..measure.treatments {
        let values = read.of_treatment(treatment);
        if values.is_empty() {
            continue;
        }
        if values.len() < SPREADS_FROM {
            return None;
        }
        let sample = Sample::of(&values)?;
        spreads.push((sample.variance?, values.len() as f64 - 1.0));
    }
    let by_variance = |a: &&(f64, f64), b: &&(f64, f64)| a.0.total_cmp(&b.0);
    let narrow = spreads.iter().min_by(by_variance)?;
    let wide = spreads.iter().max_by(by_variance)?;
    let ratio = (wide.0 / narrow.0).sqrt();
    let pairs = (spreads.len() * spreads.len().saturating_sub(1)) as f64;
    let chance = pairs * f_above(ratio * ratio, [wide.1, narrow.1]);
    (ratio > SPREADS_APART && ratio.is_finite() && chance < 1.0 - SURE).then_some(ratio)
}

fn judge(
    row: &Comparison,
    measure: &Measure,
    scale: Scale,
    level: Option<f64>,
) -> Result<Judged, NoVerdict> {
    let (range, band, matters, is_ratio) = match measure.matters {
        Matters::Difference(matters) if scale == Scale::Raw => {
            let range = row.range.ok_or(NoVerdict::NoDegrees)?;
            let range = good_difference(range, measure.good);
            (range, Band::of_difference(matters), matters, false)
        }
        matters => {
            let matters = match matters {
                Matters::Share(share) => share,
                Matters::Difference(difference) => difference / of_control(scale, level),
            };
            let range = row.ratio_range.ok_or(NoVerdict::ControlNotAboveZero)?;
            let range = good_ratio(range, measure.good);
            (range, Band::of_ratio(matters), matters, true)
        }
    };
    let band = band.ok_or(NoVerdict::NothingMatters)?;
    Ok(Judged {
        verdict: Verdict::of(range, band).ok_or(NoVerdict::NoDegrees)?,
        range,
        is_ratio,
        matters,
        more: None,
    })
}

/// The control's level, in the unit of the measure.
fn of_control(scale: Scale, level: Option<f64>) -> f64 {
    match (scale, level) {
        (_, None) => f64::NAN,
        (Scale::Log, Some(level)) => libm::exp(level),
        // Ratios are of one more.
        (Scale::LogOfOneMore, Some(level)) => libm::exp(level * std::f64::consts::LN_10),
        (Scale::Raw | Scale::Score, Some(level)) => level,
    }
}

/// Blocks, or containers of each, that are missing to tell what matters.
fn more_needed(
    analysis: &Analysis,
    measure: &Measure,
    rows: &[Comparison],
    level: Option<f64>,
    counts: &[f64],
    limits: &mut Limits,
) -> Option<More> {
    let open = rows.iter().find_map(|row| match &row.verdict {
        Ok(judged) if judged.verdict == Verdict::CannotTell => Some(judged),
        _ => None,
    })?;
    let difference = match (analysis.scale, open.is_ratio) {
        (Scale::Raw, false) => open.matters,
        (Scale::Raw, true) => {
            let share = match measure.good {
                Good::More => open.matters,
                Good::Less => 1.0 - 1.0 / (1.0 + open.matters),
            };
            share * level?
        }
        (Scale::LogOfOneMore, _) => libm::log1p(open.matters) / std::f64::consts::LN_10,
        (Scale::Log | Scale::Score, _) => libm::log1p(open.matters),
    };
    // More of a square is another square: told as blocks.
    let design = match measure.design {
        Design::Random => Design::Random,
        Design::Blocks | Design::Square => Design::Blocks,
    };
    let treatments = rows.iter().filter(|row| row.range.is_some()).count() as u32;
    let most = counts.iter().fold(0.0_f64, |most, count| most.max(*count));
    let lambdas = vec![lambda(1.0, 1.0); treatments as usize];
    let limit = |nu: f64| {
        let (dunnett, limit) = limits.together(&lambdas, nu)?;
        Some((dunnett.clone(), limit))
    };
    let needed = difference / analysis.spread?;
    Some(
        match each_needed_by(design, treatments, needed, USUAL_POWER, limit) {
            None => More::Beyond,
            Some(each) => match each.checked_sub(most as u32).filter(|more| *more > 0) {
                Some(more) => More::About(more),
                None => More::Enough,
            },
        },
    )
}
