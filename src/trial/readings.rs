//! Which readings go into an analysis: one for each container, sub-samples averaged before anything
//! else, because the container is what was treated.

use super::date::Date;
use super::measures::{Measure, Taken};
use super::plan::Trial;
use super::records::{Censor, Missing, Record, RecordFault};

/// Readings of one round lie at most so many days apart (a choice: a harvest over a long weekend).
pub const ROUND_DAYS: i32 = 3;

/// Which days count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// As the measure wants it: the last round, or the sum of all pickings.
    Usual,
    /// One day.
    On(Date),
}

/// One container in an analysis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The container, in the order of labels.
    pub container: usize,
    /// Its value: sub-samples averaged, on logarithms where those spread by factors. Emergence is a
    /// count; divide by `of`.
    pub value: Option<f64>,
    /// Whether the value is only known to lie beyond. A mean of which one part lies above is above.
    pub censor: Censor,
    /// Of how many seeds, for what counts them.
    pub of: Option<u32>,
    /// Sub-samples that it averages.
    pub reps: u32,
    /// Why there is none; never without a reason where the value is none.
    pub missing: Option<Missing>,
    /// It died of what was added: a result, and no gap.
    pub died_of_addition: bool,
}

/// The readings of a measure, one for each container, in the order of labels. The order of the
/// records does not matter.
///
/// # Errors
/// Nobody knows the measure.
pub fn readings(
    trial: &Trial,
    containers: usize,
    measure: &str,
    when: When,
) -> Result<Vec<Reading>, RecordFault> {
    let Some(known) = trial.measure(measure) else {
        let found = measure.to_owned();
        return Err(RecordFault::Measure { found });
    };
    let mut of: Vec<Vec<&Record>> = vec![Vec::new(); containers];
    for record in trial.records.iter().filter(|of| of.measure == measure) {
        if let Some(list) = of.get_mut(record.container) {
            list.push(record);
        }
    }
    let last = of.iter().flatten().map(|record| record.date).max();
    let each = of.iter_mut().enumerate().map(|(container, records)| {
        // One order, so that sums know no order of the records.
        records.sort_by(|one, other| {
            let key = one.date.cmp(&other.date);
            key.then_with(|| rank(one).total_cmp(&rank(other)))
                .then_with(|| one.reps.cmp(&other.reps))
                .then_with(|| one.censor.sign().cmp(other.censor.sign()))
        });
        let mut reading = container_reading(&known, records, when, last);
        reading.container = container;
        reading.of = trial.seeds.filter(|_| known.of_sown);
        if let Some(lost) = trial.lost(container) {
            reading.died_of_addition = lost.of_addition == Some(true);
            // What was read before it was lost counts; of a later day there is nothing.
            if reading.value.is_none() {
                reading.missing = Some(lost.reason);
            }
        }
        reading
    });
    Ok(each.collect())
}

/// By what sub-samples of a day are ordered.
fn rank(record: &Record) -> f64 {
    record.value.unwrap_or(f64::NEG_INFINITY)
}

/// A reading of nothing.
fn nothing(missing: Missing) -> Reading {
    Reading {
        container: 0,
        value: None,
        censor: Censor::None,
        of: None,
        reps: 0,
        missing: Some(missing),
        died_of_addition: false,
    }
}

fn container_reading(
    measure: &Measure,
    records: &[&Record],
    when: When,
    last: Option<Date>,
) -> Reading {
    let mut days: Vec<Date> = records.iter().map(|record| record.date).collect();
    days.dedup();
    let of_day = |day: Date| {
        let of: Vec<&Record> = records
            .iter()
            .copied()
            .filter(|of| of.date == day)
            .collect();
        averaged(measure, &of)
    };
    match (when, measure.taken) {
        (When::On(day), _) => of_day(day),
        (When::Usual, Taken::Last) => {
            let Some((day, last)) = days.last().copied().zip(last) else {
                return nothing(Missing::NotMeasured);
            };
            if last.days_since(day) > ROUND_DAYS {
                return nothing(Missing::NotMeasured);
            }
            of_day(day)
        }
        (When::Usual, Taken::Sum) => {
            let mut all = days.into_iter().map(of_day);
            let Some(first) = all.next() else {
                return nothing(Missing::NotMeasured);
            };
            all.fold(first, added)
        }
    }
}

/// Two pickings together: one that is missing leaves no sum.
fn added(one: Reading, other: Reading) -> Reading {
    let missing = one.missing.or(other.missing);
    let (Some(first), Some(second), None) = (one.value, other.value, missing) else {
        return nothing(missing.unwrap_or(Missing::Other));
    };
    let Some(censor) = both(one.censor, other.censor) else {
        return nothing(Missing::Other);
    };
    Reading {
        value: Some(first + second),
        censor,
        reps: one.reps.saturating_add(other.reps),
        ..one
    }
}

/// What two values together lie beyond; none where one is above and one below.
fn both(one: Censor, other: Censor) -> Option<Censor> {
    match (one, other) {
        (Censor::None, censor) | (censor, Censor::None) => Some(censor),
        _ if one == other => Some(one),
        _ => None,
    }
}

/// The sub-samples of a day as one.
fn averaged(measure: &Measure, records: &[&Record]) -> Reading {
    let read = || records.iter().filter(|record| record.value.is_some());
    if read().next().is_none() {
        let missing = records.iter().find_map(|record| record.missing);
        return nothing(missing.unwrap_or(Missing::NotMeasured));
    }
    let by_logs = measure.averages_logs();
    let (mut sum, mut weight, mut reps) = (0.0, 0.0, 0_u32);
    let mut censor = Some(Censor::None);
    let mut only = None;
    for record in read() {
        let value = record.value.unwrap_or_default();
        let share = f64::from(record.reps);
        sum += share * if by_logs { libm::log(value) } else { value };
        weight += share;
        reps = reps.saturating_add(record.reps);
        censor = censor.and_then(|known| both(known, record.censor));
        only = Some(value);
    }
    let Some(censor) = censor else {
        return nothing(Missing::Other);
    };
    let mean = sum / weight;
    let several = read().count() > 1;
    let value = match (several, by_logs) {
        // A single reading stays as it was read, to the last bit.
        (false, _) => only.unwrap_or(mean),
        (true, true) => libm::exp(mean),
        (true, false) => mean,
    };
    Reading {
        value: Some(value),
        censor,
        reps,
        missing: None,
        ..nothing(Missing::NotMeasured)
    }
}
