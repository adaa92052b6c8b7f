//! What is being entered: of which measure, on which day, at which container.

use super::kit::Kit;
pub(super) use crate::shed::browser::today;
use crate::trial::date::Date;
use crate::trial::layout::Layout;
use crate::trial::measures::MEASURES;
use crate::trial::plan::Trial;
use crate::trial::records::Record;

/// What is being entered.
#[derive(Default)]
pub(super) struct Desk {
    /// Whether the section listens already.
    pub(super) listens: bool,
    pub(super) measure: String,
    pub(super) date: Option<Date>,
    /// Which step of the walk.
    pub(super) step: usize,
    /// Whether something of the container was touched and is not kept yet.
    pub(super) touched: bool,
    /// What the fields were filled with: container, day, measure.
    pub(super) filled: Option<(usize, Option<Date>, String)>,
    /// What was kept last.
    pub(super) kept: String,
    /// By what it is read, and how far one reading errs, until it is said otherwise.
    pub(super) kit: Kit,
}

impl Desk {
    /// Chooses what is not chosen, or no longer there.
    pub(super) fn settle(&mut self, trial: &Trial, layout: &Layout) {
        if trial.measure(&self.measure).is_none() {
            let primary = trial.primary.clone();
            let primary = primary.filter(|id| trial.measure(id).is_some());
            self.measure = primary.unwrap_or_else(|| MEASURES[0].id.to_owned());
        }
        if self.date.is_none() && self.filled.is_none() {
            self.date = today();
        }
        self.step = self.step.min(layout.spots.len().saturating_sub(1));
    }

    pub(super) fn container(&self, layout: &Layout) -> usize {
        layout.walk().get(self.step).copied().unwrap_or(0)
    }

    /// The records of a container, of the day and measure that are chosen.
    pub(super) fn records<'a>(&self, trial: &'a Trial, container: usize) -> Vec<&'a Record> {
        let of = trial.records.iter().filter(|record| {
            record.container == container
                && Some(record.date) == self.date
                && record.measure == self.measure
        });
        of.collect()
    }
}
