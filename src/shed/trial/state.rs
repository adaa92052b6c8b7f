//! What the section shows, read from the recipe.

use super::{Part, layout, plan, predict, print, read, record, says};
use crate::dom::{find, set_hidden};
use crate::recipe::{Recipe, from_letters};
use crate::trial::document::trial_of;
use crate::trial::layout::{Design, Layout};
use crate::trial::limits::Limits;
use crate::trial::plan::{Predicted, Trial};
use crate::words::{Speech, error_text};

/// What the section shows.
pub(in crate::shed) struct State {
    pub(super) letters: String,
    pub(super) us: bool,
    /// Whether it has to be filled though the recipe is the same.
    pub(super) again: bool,
    pub(super) recipe: Recipe,
    pub(super) speech: Speech,
    /// The trial, where the recipe has one that reads.
    pub(super) trial: Option<Trial>,
    /// Where each container stands; none while the plan cannot be set out.
    pub(super) layout: Option<Layout>,
    pub(super) limits: Limits,
    pub(super) part: Part,
    /// What the plan shows and does not store.
    pub(super) own: Own,
}

/// Design, treatments beside the control, difference and spread.
pub(super) type Asked = (Design, u32, f64, f64);

/// What the plan shows and does not store.
pub(super) struct Own {
    /// The difference to plan for where the measure is not compared by ratios, % of the control.
    pub(super) difference_pct: f64,
    /// What is shown of what the model foretells.
    pub(super) foretold: Predicted,
    /// What the model said, recipe by recipe.
    pub(super) known: Vec<predict::Known>,
    /// The drawing of power as it stands.
    pub(super) drawn: String,
    /// How many of each were found to be needed, and for what.
    pub(super) needed: Option<(Asked, Option<u32>)>,
    /// The plan from above as it stands.
    pub(super) mapped: String,
}

impl State {
    /// Reads the trial anew.
    pub(super) fn read(&mut self) {
        let Ok(recipe) = from_letters(&self.letters) else {
            return;
        };
        self.recipe = recipe;
        match trial_of(&self.recipe) {
            Ok(trial) => {
                self.trial = trial;
                if self.trial.is_none() {
                    says("");
                }
            }
            Err(error) => {
                self.trial = None;
                says(&error_text(&error));
            }
        }
        self.settle();
    }

    /// Sets out what the trial says now.
    pub(super) fn settle(&mut self) {
        self.layout = self.trial.as_ref().and_then(|trial| trial.layout().ok());
    }

    pub(super) fn fill(&mut self) {
        let some = self.trial.is_some();
        if let Some(begin) = find("#trial-body [data-part=begin]") {
            set_hidden(&begin, self.recipe.trial.is_some());
        }
        if let Some(tabs) = find("#trial-body [data-part=tabs]") {
            set_hidden(&tabs, !some);
        }
        // What was told of a box of another part is told there.
        let comes = self.part.panel().has_attribute("hidden");
        for part in Part::ALL {
            set_hidden(&part.panel(), !some || part != self.part);
            let tab = ["#trial-body [name=trial-tab][value=", part.name(), "]"].concat();
            if let Some(tab) = find(&tab) {
                tab.set_checked(part == self.part);
            }
        }
        if !some {
            return;
        }
        if comes {
            says("");
        }
        print::fill(self);
        match self.part {
            Part::Plan => plan::fill(self),
            Part::Layout => layout::fill(self),
            Part::Record => record::fill(self),
            Part::Read => read::fill(self),
        }
    }
}
