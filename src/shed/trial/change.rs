//! The trial is changed: within the recipe, which the page goes on with.

use super::{again, predict, says, with};
use crate::recipe::{Recipe, from_letters, to_letters};
use crate::shed::page;
use crate::trial::document::{set_trial, trial_of};
use crate::trial::plan::Trial;
use crate::words::error_text;

/// Changes the trial and goes on with its recipe; what is wrong is told, and then nothing changes.
/// Not to be called within [`with`].
pub(super) fn change(act: impl FnOnce(&mut Trial)) -> bool {
    change_with(|trial, _| {
        act(trial);
        Ok(())
    })
}

/// The same where the change may be refused, in words, and needs the recipe.
pub(super) fn change_with(act: impl FnOnce(&mut Trial, &Recipe) -> Result<(), String>) -> bool {
    // The recipe may be newer than the last frame.
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return false;
    };
    let mut trial = match trial_of(&recipe) {
        Ok(Some(trial)) => trial,
        Ok(None) => return false,
        Err(error) => {
            says(&error_text(&error));
            return false;
        }
    };
    let before = trial.clone();
    if let Err(wrong) = act(&mut trial, &recipe) {
        says(&wrong);
        again();
        return false;
    }
    if trial == before {
        says("");
        again();
        return true;
    }
    // Whoever adds the first record: what the model expects is stored before it.
    if before.records.is_empty() && !trial.records.is_empty() {
        predict::before_the_first(&mut trial, before, &recipe);
    }
    set_trial(&mut recipe, Some(&trial));
    // What could not be read again is not written.
    if let Err(error) = trial_of(&recipe) {
        says(&error_text(&error));
        again();
        return false;
    }
    go_on(&recipe)
}

/// Shows the trial as it would be, while a slider moves; [`change`] writes it once it is let go.
pub(super) fn adjust(act: impl FnOnce(&mut Trial)) {
    with(|state| {
        if let Some(trial) = &mut state.trial {
            act(trial);
        }
        state.settle();
    });
    again();
}

pub(super) fn go_on(recipe: &Recipe) -> bool {
    let wrong = page::take(&to_letters(recipe), false);
    says(&wrong);
    again();
    wrong.is_empty()
}
