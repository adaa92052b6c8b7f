//! What was measured, container by container; what a record may hold; and which readings go into an
//! analysis.
//!
//! Two records of one container, day and measure are sub-samples of it, unless they are the same in
//! everything: then one of them is left out, since the same table read twice must not count twice.
//! Sub-samples are averaged before anything else, because the container is what was treated.

use super::date::Date;
use super::measures::{Measure, Taken};
use super::plan::Trial;
use crate::recipe::Kept;

/// Most records of a trial (a choice: 200 containers, 20 measures, five days).
pub const RECORDS_LIMIT: usize = 20_000;
/// Most letters of a note, an instrument or a scorer.
pub const TEXT_LIMIT: usize = 200;
/// Most sub-samples that one record averages.
pub const REPS_LIMIT: u32 = 1000;
/// Readings of one round lie at most so many days apart (a choice: a harvest over a long weekend).
pub const ROUND_DAYS: i32 = 3;

/// Whether a value is only known to lie beyond what was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Censor {
    /// It was read.
    #[default]
    None,
    /// It is more: water that had not gone in after eight hours.
    Above,
    /// It is less.
    Below,
}

impl Censor {
    /// Its sign in tables.
    pub fn sign(self) -> &'static str {
        match self {
            Censor::None => "",
            Censor::Above => ">",
            Censor::Below => "<",
        }
    }

    /// What a sign means.
    pub fn of_sign(sign: &str) -> Option<Censor> {
        match sign {
            "" => Some(Censor::None),
            ">" | ">=" => Some(Censor::Above),
            "<" | "<=" => Some(Censor::Below),
            _ => None,
        }
    }
}

/// Why a value is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Missing {
    /// The container or the sample is gone.
    Lost,
    /// Nobody measured.
    NotMeasured,
    /// An animal had it.
    Animal,
    /// The plants died.
    Died,
    /// Something else.
    Other,
}

impl Missing {
    /// All of them.
    pub const ALL: &'static [Missing] = &[
        Missing::Lost,
        Missing::NotMeasured,
        Missing::Animal,
        Missing::Died,
        Missing::Other,
    ];

    /// Its word in tables and in the document.
    pub fn spelling(self) -> &'static str {
        match self {
            Missing::Lost => "lost",
            Missing::NotMeasured => "not_measured",
            Missing::Animal => "animal",
            Missing::Died => "died",
            Missing::Other => "other",
        }
    }

    /// The reason of a word.
    pub fn of_spelling(text: &str) -> Option<Missing> {
        let mut all = Missing::ALL.iter().copied();
        all.find(|missing| missing.spelling() == text)
    }
}

/// A record.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// The container, in the order of labels, from 0.
    pub container: usize,
    /// The day.
    pub date: Date,
    /// The measure's name.
    pub measure: String,
    /// What was read, in the measure's unit.
    pub value: Option<f64>,
    /// Whether it is only known to lie beyond.
    pub censor: Censor,
    /// How many sub-samples it averages.
    pub reps: u32,
    /// With what.
    pub instrument: String,
    /// Standard error of one reading with it, in the measure's unit, where it is known.
    pub error: Option<f64>,
    /// By whom.
    pub scorer: String,
    /// Why nothing was read.
    pub missing: Option<Missing>,
    /// What else.
    pub note: String,
    /// Fields of a later release, of it and of the sheet that it begins.
    pub kept: [Kept; 2],
}

impl Record {
    /// A plain reading.
    pub fn of(container: usize, date: Date, measure: impl Into<String>, value: f64) -> Record {
        Record {
            container,
            date,
            measure: measure.into(),
            value: Some(value),
            censor: Censor::None,
            reps: 1,
            instrument: String::new(),
            error: None,
            scorer: String::new(),
            missing: None,
            note: String::new(),
            kept: [Kept::new(), Kept::new()],
        }
    }

    /// No reading, and why.
    pub fn without(
        container: usize,
        date: Date,
        measure: impl Into<String>,
        missing: Missing,
    ) -> Record {
        Record {
            value: None,
            missing: Some(missing),
            ..Record::of(container, date, measure, 0.0)
        }
    }

    /// Whether both are of one container, day and measure.
    pub fn is_beside(&self, other: &Record) -> bool {
        self.container == other.container
            && self.date == other.date
            && self.measure == other.measure
    }
}

/// A container that was lost.
#[derive(Clone, Debug, PartialEq)]
pub struct Lost {
    /// Which, in the order of labels.
    pub container: usize,
    /// Why.
    pub reason: Missing,
    /// Whether it died of what was added: then it is a result and not a gap. Nothing where nobody
    /// has said yet; it is to be asked.
    pub of_addition: Option<bool>,
    /// When.
    pub on: Option<Date>,
    /// What else.
    pub note: String,
    /// Fields of a later release.
    pub kept: Kept,
}

/// A text of a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RecordText {
    /// The instrument.
    Instrument,
    /// The scorer.
    Scorer,
    /// The note.
    Note,
}

/// Why a record cannot be.
#[derive(Clone, Debug, PartialEq)]
pub enum RecordFault {
    /// There is no such container.
    Container {
        /// As given, from 0.
        found: usize,
        /// How many there are.
        containers: usize,
    },
    /// Nobody knows the measure.
    Measure {
        /// As given.
        found: String,
    },
    /// A value outside its limits, or no number.
    Outside {
        /// As given.
        value: f64,
        /// Least accepted.
        low: f64,
        /// Greatest accepted.
        high: f64,
    },
    /// A count that is not whole.
    NotWhole {
        /// As given.
        value: f64,
    },
    /// More came up than was sown.
    MoreThanSown {
        /// As given.
        value: f64,
        /// Seeds sown.
        seeds: u32,
    },
    /// Neither a value nor a reason.
    Empty,
    /// A value and a reason why there is none.
    ValueAndReason,
    /// No value, so nothing beyond which it could lie.
    CensorAlone,
    /// Sub-samples outside their limits.
    Reps {
        /// As given.
        found: u32,
        /// Most.
        most: u32,
    },
    /// An error of a reading that cannot be.
    Error {
        /// As given.
        value: f64,
    },
    /// A text that is too long.
    TooLong {
        /// Which.
        which: RecordText,
        /// Most letters.
        most: usize,
    },
    /// Too many records.
    TooMany {
        /// Most.
        most: usize,
    },
}

/// Checks a record of a trial with so many containers.
///
/// # Errors
/// What is wrong with it.
pub fn check(trial: &Trial, containers: usize, record: &Record) -> Result<(), RecordFault> {
    if record.container >= containers {
        let found = record.container;
        return Err(RecordFault::Container { found, containers });
    }
    let Some(measure) = trial.measure(&record.measure) else {
        let found = record.measure.clone();
        return Err(RecordFault::Measure { found });
    };
    match (record.value, record.missing) {
        (None, None) => return Err(RecordFault::Empty),
        (Some(_), Some(_)) => return Err(RecordFault::ValueAndReason),
        (None, Some(_)) if record.censor != Censor::None => return Err(RecordFault::CensorAlone),
        (None, Some(_)) => {}
        (Some(value), None) => check_value(trial, &measure, record, value)?,
    }
    if record.reps == 0 || record.reps > REPS_LIMIT {
        let (found, most) = (record.reps, REPS_LIMIT);
        return Err(RecordFault::Reps { found, most });
    }
    if let Some(value) = record.error
        && !(value >= 0.0 && value.is_finite())
    {
        return Err(RecordFault::Error { value });
    }
    let most = TEXT_LIMIT;
    for (which, text) in [
        (RecordText::Instrument, &record.instrument),
        (RecordText::Scorer, &record.scorer),
        (RecordText::Note, &record.note),
    ] {
        if text.chars().count() > most {
            return Err(RecordFault::TooLong { which, most });
        }
    }
    Ok(())
}

fn check_value(
    trial: &Trial,
    measure: &Measure,
    record: &Record,
    value: f64,
) -> Result<(), RecordFault> {
    let (low, high) = measure.limits;
    // Also refuses what is no number.
    if !(value >= low && value <= high) {
        return Err(RecordFault::Outside { value, low, high });
    }
    // The mean of several need not be whole.
    if measure.whole && record.reps == 1 && value.fract() != 0.0 {
        return Err(RecordFault::NotWhole { value });
    }
    if measure.of_sown
        && let Some(seeds) = trial.seeds
        && value > f64::from(seeds)
    {
        return Err(RecordFault::MoreThanSown { value, seeds });
    }
    Ok(())
}

/// What became of a record that was added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Added {
    /// It is the first of its container, day and measure.
    First,
    /// There is another: both are sub-samples.
    SubSample,
    /// The very same was there already; nothing was added.
    Already,
}

impl Trial {
    /// Adds a record.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn add(&mut self, containers: usize, record: Record) -> Result<Added, RecordFault> {
        check(self, containers, &record)?;
        if self.records.len() >= RECORDS_LIMIT {
            let most = RECORDS_LIMIT;
            return Err(RecordFault::TooMany { most });
        }
        let mut added = Added::First;
        for known in &self.records {
            if *known == record {
                return Ok(Added::Already);
            }
            if known.is_beside(&record) {
                added = Added::SubSample;
            }
        }
        self.records.push(record);
        Ok(added)
    }

    /// Puts a record in place of all of its container, day and measure, as typing into a box does.
    ///
    /// # Errors
    /// What is wrong with it; then nothing is changed.
    pub fn enter(&mut self, containers: usize, record: Record) -> Result<(), RecordFault> {
        check(self, containers, &record)?;
        let mut at = None;
        let mut index = 0;
        self.records.retain(|known| {
            let beside = known.is_beside(&record);
            if beside && at.is_none() {
                at = Some(index);
            }
            if !beside {
                index += 1;
            }
            !beside
        });
        if at.is_none() && self.records.len() >= RECORDS_LIMIT {
            let most = RECORDS_LIMIT;
            return Err(RecordFault::TooMany { most });
        }
        let at = at.unwrap_or(self.records.len());
        self.records.insert(at.min(self.records.len()), record);
        Ok(())
    }

    /// Takes all records of a container, day and measure away; how many there were.
    pub fn clear(&mut self, container: usize, date: Date, measure: &str) -> usize {
        let before = self.records.len();
        self.records.retain(|known| {
            !(known.container == container && known.date == date && known.measure == measure)
        });
        before - self.records.len()
    }

    /// Whether a container was lost.
    pub fn lost(&self, container: usize) -> Option<&Lost> {
        self.lost.iter().find(|lost| lost.container == container)
    }

    /// Days on which a measure was read, the first one first.
    pub fn days_of(&self, measure: &str) -> Vec<Date> {
        let of = self.records.iter().filter(|of| of.measure == measure);
        let mut days: Vec<Date> = of.map(|of| of.date).collect();
        days.sort_unstable();
        days.dedup();
        days
    }
}

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
        let of: Vec<&Record> = records.iter().copied().filter(|of| of.date == day).collect();
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

/// Records in an order that takes little room in the document: by day, measure and container.
pub fn sort(records: &mut [Record]) {
    records.sort_by(|one, other| {
        let day = one.date.cmp(&other.date);
        day.then_with(|| one.measure.cmp(&other.measure))
            .then_with(|| one.instrument.cmp(&other.instrument))
            .then_with(|| one.scorer.cmp(&other.scorer))
            .then_with(|| one.container.cmp(&other.container))
    });
}
