//! What was measured, container by container, and what a record may hold.
//!
//! Two records of one container, day and measure are sub-samples of it, unless they are the same in
//! everything: then one of them is left out, since the same table read twice must not count twice.

use super::date::Date;
use super::measures::Measure;
use super::plan::Trial;
use crate::recipe::Kept;

/// Most records of a trial (a choice: 200 containers, 20 measures, five days).
pub const RECORDS_LIMIT: usize = 20_000;
/// Most letters of a note, an instrument or a scorer.
pub const TEXT_LIMIT: usize = 200;
/// Most sub-samples that one record averages.
pub const REPS_LIMIT: u32 = 1000;

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
    /// The container was lost before that day, and not of what was added.
    Lost {
        /// When.
        on: Date,
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
    // A container that has a value was there when it was read, so a value counts, and being lost
    // speaks of what was not read. A value of a later day than the loss contradicts it, and one of
    // both must be taken back; but what died of what was added yielded what it yielded.
    if let Some(lost) = trial.lost(record.container)
        && let Some(on) = lost.on
        && record.value.is_some()
        && record.date > on
        && lost.of_addition != Some(true)
    {
        return Err(RecordFault::Lost { on });
    }
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
        let at = self.place_of(&record);
        self.records.insert(at, record);
        Ok(added)
    }

    /// Where a record goes: beside those of its measure and day, in the order of labels, whatever
    /// the order they come in, so that they lie in one sheet and a link to them stays short.
    fn place_of(&self, record: &Record) -> usize {
        let is_like = |known: &Record| known.date == record.date && known.measure == record.measure;
        let before = |known: &Record| is_like(known) && known.container <= record.container;
        let after = self.records.iter().rposition(before).map(|at| at + 1);
        let first = || self.records.iter().position(is_like);
        after.or_else(first).unwrap_or(self.records.len())
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
        let at = at.unwrap_or_else(|| self.place_of(&record));
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

    /// Says how many seeds were sown in each container. That is a fact and no guess, so it can be
    /// said late, as the day of sowing can.
    ///
    /// # Errors
    /// More came up than that.
    pub fn tell_seeds(&mut self, seeds: Option<u32>) -> Result<(), RecordFault> {
        let before = std::mem::replace(&mut self.seeds, seeds);
        let fault = self.records.iter().find_map(|record| {
            let measure = self.measure(&record.measure)?;
            check_value(self, &measure, record, record.value?).err()
        });
        match fault {
            Some(fault @ RecordFault::MoreThanSown { .. }) => {
                self.seeds = before;
                Err(fault)
            }
            _ => Ok(()),
        }
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
