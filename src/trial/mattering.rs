//! What difference matters, measure by measure: said before it is measured, and kept from then on,
//! since a difference that is chosen to suit what was read says nothing.

use super::document::MATTERS_LIMITS;
use super::measures::Measure;
use super::plan::Trial;

/// A difference that matters, as it was said of a measure.
#[derive(Clone, Debug, PartialEq)]
pub struct SaidMatters {
    /// Of which measure.
    pub measure: String,
    /// How much, in the way of [`Measure::matters`](field@Measure::matters).
    pub value: f64,
    /// Whether it was said after the measure was read: then the verdict was not fixed beforehand.
    pub late: bool,
}

/// Why a difference that matters cannot be said.
#[derive(Clone, Debug, PartialEq)]
pub enum MattersFault {
    /// Nobody knows the measure.
    Measure {
        /// As given.
        found: String,
    },
    /// It is no number, or outside of what it can be.
    Outside {
        /// As given.
        value: f64,
        /// Least accepted.
        low: f64,
        /// Greatest accepted.
        high: f64,
    },
    /// The measure is read already, so the difference stays.
    Read {
        /// How many records of it there are.
        records: usize,
    },
}

impl Trial {
    /// The difference that matters of a measure, in the way of [`Measure::matters`](field@Measure::matters): as it was said,
    /// else what is usual. None of measures of the user's own of which nothing was said.
    pub fn matters_for(&self, id: &str) -> Option<f64> {
        self.own_matters(id).or_else(|| self.measure(id)?.matters)
    }

    /// The same where the user said it.
    fn own_matters(&self, id: &str) -> Option<f64> {
        let primary = self.primary.as_deref() == Some(id);
        self.matters
            .filter(|_| primary)
            .or_else(|| self.said_matters(id).map(|said| said.value))
    }

    fn said_matters(&self, id: &str) -> Option<&SaidMatters> {
        self.said_matters.iter().find(|said| said.measure == id)
    }

    /// A measure with the difference that matters in this trial.
    pub fn measure_here(&self, id: &str) -> Option<Measure<'_>> {
        let mut measure = self.measure(id)?;
        if let Some(own) = self.own_matters(id) {
            measure.matters = Some(own);
            measure.matters_from = None;
        }
        Some(measure)
    }

    /// Whether the difference that matters of a measure can still be said or changed: until it is
    /// read. Where there is none even then, it can be said late, or there would never be a verdict.
    ///
    /// # Errors
    /// It cannot, or nobody knows the measure.
    pub fn may_set_matters(&self, id: &str) -> Result<(), MattersFault> {
        if self.measure(id).is_none() {
            let found = id.to_owned();
            return Err(MattersFault::Measure { found });
        }
        let of = |record: &&super::records::Record| record.measure == id;
        match self.records.iter().filter(of).count() {
            0 => Ok(()),
            _ if self.matters_for(id).is_none() => Ok(()),
            records => Err(MattersFault::Read { records }),
        }
    }

    /// Says the difference that matters of a measure, or takes it back to what is usual. Of the
    /// measure that decides it is [`Trial::matters`].
    ///
    /// # Errors
    /// It is locked, or cannot be.
    pub fn set_matters(&mut self, id: &str, value: Option<f64>) -> Result<(), MattersFault> {
        self.may_set_matters(id)?;
        let (low, high) = MATTERS_LIMITS;
        if let Some(value) = value
            && !(value >= low && value <= high)
        {
            return Err(MattersFault::Outside { value, low, high });
        }
        let late = self.records.iter().any(|record| record.measure == id);
        self.said_matters.retain(|said| said.measure != id);
        if self.primary.as_deref() == Some(id) && !late {
            self.matters = value;
        } else if let Some(value) = value {
            let measure = id.to_owned();
            self.said_matters.push(SaidMatters {
                measure,
                value,
                late,
            });
            // In the order in which they are written.
            self.said_matters.sort_by_key(|said| said.late);
        }
        Ok(())
    }

    /// Whether the difference that matters of a measure was said after it was read.
    pub fn is_matters_late(&self, id: &str) -> bool {
        self.said_matters(id).is_some_and(|said| said.late)
    }
}
