//! One measure of a trial, from its records to what it shows: which scale, which way is good, what
//! matters, which control; and what the model expected beside what happened.

use super::analysis::{self, Analysis, Back, Limit, Limits, Note, Refused};
use super::convert::infiltration_mm_h;
use super::doses::INFILTRATION_MM;
use super::layout::Layout;
use super::measures::{self, Good, Measure, Scale};
use super::permute::Question;
use super::plan::{Predicted, Trial};
use super::readings::{Reading, When, readings};
use super::records::{Censor, Missing, RecordFault};
use super::verdict::{self, NoVerdict};
use crate::figure::{Figure, within};
use crate::recipe::Measurement;

/// One of all, as the unit of a share of those sown.
const PERCENT: f64 = 100.0;

/// A measure with its containers.
#[derive(Clone, Debug)]
pub struct Seen {
    /// As the analysis takes it.
    pub asked: analysis::Measure,
    /// As the analysis takes them, in the order of labels.
    pub readings: Vec<analysis::Reading>,
    /// As they were taken from the records, in the order of labels.
    pub taken: Vec<Reading>,
    /// Whether values are percentages of what was sown.
    pub of_sown: bool,
    /// Whether they should be, and nobody said how many were sown: then there is no verdict, since
    /// what matters of them is in percentages of those sown.
    pub not_sown: bool,
    /// Whether the difference that matters was said after the measure was read.
    pub is_late: bool,
    /// What a mean can be.
    pub possible: [f64; 2],
    /// Decimals that differences are told with, in the unit of values as they are shown: those of
    /// the instrument, and as many as what matters needs.
    pub decimals: usize,
    /// Which treatments are controls: of these nothing helps or harms.
    pub controls: Vec<bool>,
    /// Whether more is neither good nor bad.
    pub neither: bool,
    /// Whether there is a control; without one nothing is compared.
    pub has_control: bool,
    /// Containers that died of what was added and have no value: a result, and not a gap.
    pub died: Vec<usize>,
    /// Containers that were lost and have no value, of which nobody has said whether the addition did
    /// it. One that has a value was there when it was read, and is not asked about.
    pub unasked: Vec<usize>,
}

impl Seen {
    /// Of a measure of a trial.
    ///
    /// # Errors
    /// Nobody knows the measure.
    pub fn of(trial: &Trial, layout: &Layout, id: &str, when: When) -> Result<Seen, RecordFault> {
        let containers = layout.spots.len();
        let taken = readings(trial, containers, id, when)?;
        let Some(known) = trial.measure_here(id) else {
            let found = id.to_owned();
            return Err(RecordFault::Measure { found });
        };
        let of_sown = known.of_sown && trial.seeds.is_some_and(|seeds| seeds > 0);
        let not_sown = known.of_sown && !of_sown;
        let value = |of: &Reading| match (of.value, of.of.filter(|_| of_sown)) {
            (Some(value), Some(seeds)) => PERCENT * value / f64::from(seeds),
            (Some(value), None) => value,
            // Never nothing: a container that is gone yielded nothing that anybody knows.
            (None, _) => f64::NAN,
        };
        let spots = layout.spots.iter().zip(&taken);
        let of_spots = spots.map(|(spot, of)| analysis::Reading {
            treatment: spot.treatment,
            block: Some(spot.block as u32),
            row: Some(spot.row as u32),
            column: Some(spot.column as u32),
            value: value(of),
            limit: match of.censor {
                Censor::None => Limit::No,
                Censor::Above => Limit::Above,
                Censor::Below => Limit::Below,
            },
        });
        let died = |of: &&Reading| of.died_of_addition && of.value.is_none();
        let control = trial.control();
        Ok(Seen {
            asked: analysis::Measure {
                design: layout.design,
                treatments: layout.treatments,
                control: control.unwrap_or(0),
                scale: scale_of(&known, of_sown, &taken),
                matters: matters_of(&known, not_sown),
                good: match known.good {
                    Good::Less => verdict::Good::Less,
                    Good::More | Good::Neither => verdict::Good::More,
                },
            },
            readings: of_spots.collect(),
            of_sown,
            not_sown,
            is_late: trial.is_matters_late(id),
            possible: if of_sown {
                [0.0, PERCENT]
            } else {
                [known.limits.0, known.limits.1]
            },
            decimals: decimals_of(&known, of_sown),
            controls: trial
                .treatments
                .iter()
                .map(|treatment| treatment.deed.is_control())
                .collect(),
            neither: known.good == Good::Neither,
            has_control: control.is_some(),
            died: taken.iter().filter(died).map(|of| of.container).collect(),
            unasked: taken
                .iter()
                .filter(|of| {
                    let lost = trial.lost(of.container);
                    of.value.is_none() && lost.is_some_and(|lost| lost.of_addition.is_none())
                })
                .map(|of| of.container)
                .collect(),
            taken,
        })
    }

    /// What it shows.
    ///
    /// # Errors
    /// It cannot be analysed.
    pub fn analysed(&self, limits: &mut Limits) -> Result<Analysis, Refused> {
        let mut analysis = Analysis::of(&self.asked, &self.readings, limits)?;
        self.tell_unread(&mut analysis);
        self.keep_possible(&mut analysis);
        if self.is_late {
            analysis.notes.push(Note::SaidLate);
        }
        if self.not_sown {
            for row in &mut analysis.comparisons {
                if row.verdict == Err(NoVerdict::NothingMatters) {
                    row.verdict = Err(NoVerdict::NotSown);
                }
            }
        }
        // A range beside a refusal would be a verdict after all.
        for row in &mut analysis.comparisons {
            let not_sown = row.verdict == Err(NoVerdict::NotSown);
            if row.is_of_one() || not_sown || !self.has_control {
                row.leave_range();
            }
        }
        Ok(analysis)
    }

    /// What is not measured yet is not lost.
    fn tell_unread(&self, analysis: &mut Analysis) {
        let unread = |of: &&Reading| {
            of.value.is_none() && matches!(of.missing, None | Some(Missing::NotMeasured))
        };
        let count = self.taken.iter().filter(unread).count();
        if count == 0 {
            return;
        }
        analysis.notes.retain_mut(|note| match note {
            Note::Lost(lost) => {
                *lost = lost.saturating_sub(count);
                *lost > 0
            }
            _ => true,
        });
        analysis.notes.insert(0, Note::NotRead(count));
        let only_unread = |treatment: usize| {
            let mut own = self.readings.iter().zip(&self.taken);
            own.all(|(reading, of)| reading.treatment != treatment || unread(&of))
        };
        let control = only_unread(self.asked.control);
        for row in &mut analysis.comparisons {
            match row.verdict {
                Err(NoVerdict::Lost) if only_unread(row.treatment) => {
                    row.verdict = Err(NoVerdict::NotRead);
                }
                Err(NoVerdict::NoControl) if control => {
                    row.verdict = Err(NoVerdict::ControlNotRead);
                }
                _ => {}
            }
        }
    }

    /// No range goes beyond what a mean can be: more than all that was sown cannot come up.
    fn keep_possible(&self, analysis: &mut Analysis) {
        let [low, high] = self.possible;
        let keep = |back: &mut Option<Back>| {
            if let Some(range) = back.as_mut().and_then(|back| back.range.as_mut()) {
                *range = range.map(|end| within(end, low, high));
            }
        };
        for group in &mut analysis.groups {
            keep(&mut group.own);
            keep(&mut group.geometric);
            keep(&mut group.model);
        }
        if !self.of_sown {
            return;
        }
        let keep = |range: &mut [f64; 2]| {
            *range = range.map(|end| within(end, -PERCENT, PERCENT));
        };
        for row in &mut analysis.comparisons {
            row.range.iter_mut().for_each(keep);
            row.change_range.iter_mut().for_each(keep);
            if let Ok(judged) = &mut row.verdict
                && !judged.is_ratio
            {
                keep(&mut judged.range);
            }
        }
    }

    /// How many containers have a value.
    pub fn count(&self) -> usize {
        let has = |of: &&analysis::Reading| !of.value.is_nan();
        self.readings.iter().filter(has).count()
    }

    /// How many containers of a treatment died and have no value, whatever they died of; and how many
    /// it has.
    pub fn deaths(&self, treatment: usize) -> [usize; 2] {
        let both = self.readings.iter().zip(&self.taken);
        let own = both.filter(|(reading, _)| reading.treatment == treatment);
        own.fold([0, 0], |[dead, all], (_, of)| {
            let died = of.died_of_addition || of.missing == Some(Missing::Died);
            [dead + usize::from(died && of.value.is_none()), all + 1]
        })
    }

    /// What the containers of a treatment read, of those that have a value.
    pub fn values_of(&self, treatment: usize) -> impl Iterator<Item = f64> {
        let own = self
            .readings
            .iter()
            .filter(move |of| of.treatment == treatment);
        own.map(|of| of.value).filter(|value| !value.is_nan())
    }

    /// Whether no container has a value, and each was lost or died.
    pub fn is_all_lost(&self) -> bool {
        let lost = |of: &Reading| {
            let unread = matches!(of.missing, None | Some(Missing::NotMeasured));
            of.value.is_none() && !unread
        };
        !self.taken.is_empty() && self.taken.iter().all(lost)
    }

    /// How many containers of a treatment were read, where all of them read nothing and some of the
    /// control did not.
    pub fn came_to_nothing(&self, treatment: usize) -> Option<usize> {
        let nothing = self.asked.scale != analysis::Scale::Score
            && self.values_of(treatment).all(|value| value == 0.0)
            && self.values_of(self.asked.control).any(|value| value != 0.0);
        let count = self.values_of(treatment).count();
        (nothing && count > 0).then_some(count)
    }

    /// The unit of values as they are shown.
    pub fn unit<'a>(&self, measure: &Measure<'a>) -> &'a str {
        if self.of_sown { "%" } else { measure.unit }
    }
}

/// Differences from the control as they are drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Differences {
    /// Whether they are percent of the control; else in the unit of the measure.
    pub in_percent: bool,
    /// Treatment, estimate and range, of those that can be told.
    pub rows: Vec<(usize, f64, Option<[f64; 2]>)>,
    /// Between what nothing matters, the lower end first. Of ratios the ends are not as far from no
    /// difference: a loss is the gain undone.
    pub band: Option<[f64; 2]>,
    /// What no difference can lie below.
    pub least: f64,
    /// Decimals that they are told with, where they are not percent.
    pub decimals: usize,
}

impl Seen {
    /// Differences of an analysis, as they are drawn: in the terms of the verdict.
    pub fn differences(&self, analysis: &Analysis) -> Differences {
        let in_percent = !matches!(self.asked.matters, verdict::Matters::Difference(_));
        // What turned back from logarithms misses no difference by a last digit is none.
        let percent = |ratio: f64| match PERCENT * (ratio - 1.0) {
            tiny if tiny.abs() < 1e-9 => 0.0,
            percent => percent,
        };
        let rows = analysis.comparisons.iter().filter_map(|row| {
            let (estimate, range) = if in_percent {
                let range = row.ratio_range.map(|range| range.map(percent));
                (percent(row.ratio?), range)
            } else {
                (row.change?, row.change_range)
            };
            Some((row.treatment, estimate, range))
        });
        let mut judged = analysis.comparisons.iter();
        let band = judged.find_map(|row| {
            let judged = row.verdict.as_ref().ok()?;
            let ends = judged.plain_band();
            Some(if in_percent { ends.map(percent) } else { ends })
        });
        Differences {
            in_percent,
            rows: rows.collect(),
            band,
            least: if in_percent {
                -PERCENT
            } else {
                f64::NEG_INFINITY
            },
            decimals: self.decimals,
        }
    }

    /// How often shuffles part each treatment as far from the control as it stands, gone through to
    /// the end: none of the control, and none where nothing can be shuffled. The page does the same
    /// in steps.
    pub fn shuffled(&self, seed: u64) -> Vec<Option<f64>> {
        let question = Question::AgainstControl;
        let all = analysis::permutation(&self.asked, &self.readings, question, seed);
        let all = all.filter(|_| self.has_control).map(|all| all.run());
        let of = |treatment: usize| all.as_ref()?.against_control(treatment);
        (0..self.asked.treatments).map(of).collect()
    }
}

/// Decimals of a measure's differences.
fn decimals_of(measure: &Measure, of_sown: bool) -> usize {
    let own = match measure.scale {
        _ if of_sown => 0,
        // A mean of what is counted is seldom whole.
        Scale::Count => measure.decimals.max(1),
        _ => measure.decimals,
    };
    // As many as the first figure of what matters has.
    let matters = measure.matters.filter(|of| *of > 0.0 && *of < 1.0);
    let needed = matters.map_or(0, |of| -libm::floor(libm::log10(of)) as usize);
    own.max(needed)
}

/// Counts that hold a zero are compared as one more than was counted.
fn scale_of(measure: &Measure, of_sown: bool, taken: &[Reading]) -> analysis::Scale {
    match measure.scale {
        Scale::Log => analysis::Scale::Log,
        Scale::Raw => analysis::Scale::Raw,
        Scale::Score => analysis::Scale::Score,
        Scale::Count if of_sown => analysis::Scale::Raw,
        Scale::Count if taken.iter().any(|of| of.value == Some(0.0)) => {
            analysis::Scale::LogOfOneMore
        }
        Scale::Count => analysis::Scale::Log,
    }
}

/// What matters; nothing where nobody has said, so that there is no verdict. Percentages of seeds
/// whose number is not known say nothing of their count.
fn matters_of(measure: &Measure, not_sown: bool) -> verdict::Matters {
    let matters = measure.matters.filter(|_| !not_sown).unwrap_or(0.0);
    match measure.scale {
        Scale::Log => verdict::Matters::Share(matters / PERCENT),
        Scale::Raw | Scale::Score | Scale::Count => verdict::Matters::Difference(matters),
    }
}

/// What the model expected beside what happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// Which treatment.
    pub treatment: usize,
    /// What was expected, in the unit of the measure.
    pub expected: Figure,
    /// The mean that was measured; of logarithms where these are compared.
    pub mean: f64,
    /// Its range by the spread of this treatment alone.
    pub range: Option<[f64; 2]>,
    /// Containers that were read.
    pub count: usize,
    /// Decimals that the instrument gives.
    pub decimals: usize,
}

impl Beside {
    /// Whether the mean lies within what was expected.
    pub fn is_within(&self) -> bool {
        let ends = self.expected.ends();
        self.mean >= ends.low && self.mean <= ends.high
    }

    /// Whether the mean lies above what was expected.
    pub fn is_above(&self) -> bool {
        self.mean > self.expected.ends().high
    }

    /// Whether mean and expectation may be one: their ranges meet.
    pub fn meets(&self) -> bool {
        let ends = self.expected.ends();
        let [low, high] = self.range.unwrap_or([self.mean; 2]);
        low <= ends.high && high >= ends.low
    }
}

/// The mean that is shown of a treatment, and that corrects the model: of logarithms where these are
/// compared.
pub fn shown_mean(analysis: &Analysis, group: &analysis::Group) -> Option<Back> {
    let by_logs = analysis.scale == analysis::Scale::Log;
    group.geometric.filter(|_| by_logs).or(group.own)
}

/// What was foretold of a measure, beside what was read of it.
pub fn beside(trial: &Trial, id: &str, analysis: &Analysis) -> Vec<Beside> {
    let decimals = trial.measure(id).map_or(0, |measure| measure.decimals);
    let rows = trial.treatments.iter().zip(&analysis.groups).enumerate();
    rows.filter_map(|(treatment, (of, group))| {
        let mut predicted = of.predicted.iter();
        let (_, expected) = predicted.find(|(of, _)| of.spelling() == id)?;
        let back = shown_mean(analysis, group)?;
        Some(Beside {
            treatment,
            expected: *expected,
            mean: back.mean,
            range: back.range,
            count: group.count,
            decimals,
        })
    })
    .collect()
}

/// As what a measure can be written into a recipe, so that the model is corrected by it.
pub fn measured_as(id: &str) -> Option<Measurement> {
    match id {
        "bulk_density_g_cm3" => Some(Measurement::BulkDensity),
        "air_space" => Some(Measurement::Drained),
        "water_g_g" => Some(Measurement::WaterPerDry),
        "infiltration_min" => Some(Measurement::Ring),
        _ => None,
    }
}

/// A value of a measure as the recipe holds it; none outside of what a recipe takes.
pub fn as_measured(id: &str, value: f64) -> Option<(Measurement, f64)> {
    let of = measured_as(id)?;
    let value = match of {
        Measurement::BulkDensity => 1000.0 * value,
        Measurement::Drained | Measurement::WaterPerDry => PERCENT * value,
        Measurement::Ring | Measurement::Hole => infiltration_mm_h(INFILTRATION_MM, value).ok()?,
    };
    let (low, high) = of.limits();
    (value >= low && value <= high).then_some((of, value))
}

/// Whether the model foretells a measure at all.
pub fn is_foretold(id: &str) -> bool {
    Predicted::ALL.iter().any(|of| of.spelling() == id)
}

/// The measures that have a record, with how many containers; the primary first, then as listed.
pub fn measures_read(trial: &Trial) -> Vec<(String, usize)> {
    let mut known: Vec<(String, Vec<usize>)> = Vec::new();
    for record in &trial.records {
        let at = match known.iter().position(|(id, _)| *id == record.measure) {
            Some(at) => at,
            None => {
                known.push((record.measure.clone(), Vec::new()));
                known.len() - 1
            }
        };
        if record.value.is_some() {
            known[at].1.push(record.container);
        }
    }
    let rank = |id: &str| {
        let mut all = measures::MEASURES.iter();
        let listed = all.position(|measure| measure.id == id);
        (
            trial.primary.as_deref() != Some(id),
            listed.unwrap_or(usize::MAX),
        )
    };
    known.sort_by_key(|(id, _)| rank(id));
    let count = |(id, mut containers): (String, Vec<usize>)| {
        containers.sort_unstable();
        containers.dedup();
        (id, containers.len())
    };
    known.into_iter().map(count).collect()
}
