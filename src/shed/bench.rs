//! Doors for the benches of `tests/bench`: a trial read over and over, an errand searched.

use crate::errand::{Search, errand_of};
use crate::recipe::from_letters;
use crate::trial::analysis::permutation;
use crate::trial::document::trial_of;
use crate::trial::layout::Layout;
use crate::trial::limits::Limits;
use crate::trial::permute::Question;
use crate::trial::plan::Trial;
use crate::trial::readings::When;
use crate::trial::seen::{Seen, measures_read};
use crate::words::error_text;
use wasm_bindgen::prelude::*;

/// A trial with its records.
#[wasm_bindgen]
#[derive(Debug)]
#[allow(unreachable_pub)]
pub struct BenchTrial {
    trial: Trial,
    layout: Layout,
}

#[wasm_bindgen]
#[allow(unreachable_pub)]
impl BenchTrial {
    /// Reads the trial of a recipe from the letters of its link.
    ///
    /// # Errors
    /// What is wrong with them, or that there is no trial.
    #[wasm_bindgen(constructor)]
    pub fn new(letters: &str) -> Result<BenchTrial, JsValue> {
        let fault = |error| JsValue::from_str(&error_text(&error));
        let recipe = from_letters(letters).map_err(fault)?;
        let trial = trial_of(&recipe).map_err(fault)?;
        let trial = trial.ok_or_else(|| JsValue::from_str("no trial"))?;
        let layout = trial.layout().map_err(|_| JsValue::from_str("no layout"))?;
        Ok(BenchTrial { trial, layout })
    }

    fn all(&self) -> impl Iterator<Item = Seen> {
        let read = measures_read(&self.trial).into_iter();
        read.filter_map(|(id, _)| Seen::of(&self.trial, &self.layout, &id, When::Usual).ok())
    }

    /// Analyses every measure, with no limit known before; how many it could.
    pub fn read(&self) -> usize {
        let mut limits = Limits::default();
        self.all()
            .filter(|seen| seen.analysed(&mut limits).is_ok())
            .count()
    }

    /// Shuffles the first measure; how many orders it looked at.
    pub fn shuffle(&self) -> u64 {
        let Some(seen) = self.all().next() else {
            return 0;
        };
        let question = Question::AgainstControl;
        permutation(&seen.asked, &seen.readings, question, self.trial.seed)
            .map_or(0, |all| all.run().seen())
    }
}

/// An errand that is searched.
#[wasm_bindgen]
#[derive(Debug)]
#[allow(unreachable_pub)]
pub struct BenchErrand {
    search: Search,
}

#[wasm_bindgen]
#[allow(unreachable_pub)]
impl BenchErrand {
    /// Reads the errand of a recipe from the letters of its link.
    ///
    /// # Errors
    /// What is wrong with them, or that there is no errand.
    #[wasm_bindgen(constructor)]
    pub fn new(letters: &str) -> Result<BenchErrand, JsValue> {
        let fault = |error| JsValue::from_str(&error_text(&error));
        let recipe = from_letters(letters).map_err(fault)?;
        let errand = errand_of(&recipe).map_err(fault)?;
        let errand = errand.ok_or_else(|| JsValue::from_str("no errand"))?;
        let search = Search::of(&recipe, &errand).map_err(fault)?;
        Ok(BenchErrand { search })
    }

    /// Does a little; true when it is over.
    pub fn advance(&mut self) -> bool {
        self.search.advance()
    }

    /// Which phase it is in, as a share of all.
    pub fn progress(&self) -> f64 {
        self.search.progress()
    }

    /// What the cheapest costs, and nothing below none.
    pub fn cost(&self) -> f64 {
        let cheapest = self.search.findings().cheapest.as_ref();
        cheapest.map_or(-1.0, |found| found.cost)
    }
}
