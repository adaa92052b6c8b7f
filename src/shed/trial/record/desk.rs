//! What is being entered: of which measure, on which day, at which container.

use super::kit::Kit;
use crate::trial::date::Date;
use crate::trial::layout::Layout;
use crate::trial::measures::MEASURES;
use crate::trial::plan::Trial;
use crate::trial::records::Record;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = Date)]
    type Today;
    #[wasm_bindgen(constructor, js_class = "Date")]
    fn new() -> Today;
    #[wasm_bindgen(method, js_class = "Date", js_name = getFullYear)]
    fn year(this: &Today) -> u32;
    #[wasm_bindgen(method, js_class = "Date", js_name = getMonth)]
    fn month(this: &Today) -> u32;
    #[wasm_bindgen(method, js_class = "Date", js_name = getDate)]
    fn day(this: &Today) -> u32;
}

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

/// The user's own day.
pub(super) fn today() -> Option<Date> {
    let today = Today::new();
    Date::of(today.year(), today.month() + 1, today.day())
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
