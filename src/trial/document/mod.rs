//! The trial in the saved recipe: its field `trial`, which the page keeps unread.
//!
//! Records stand in sheets: one measure, one day, the values of the containers from a number on, in
//! the order of labels. So a hundred readings take a few hundred letters of a link. Containers count
//! from 1; `null` is no record, `">480"` a value that is only known to lie above. What else is to be
//! said of a container stands in `more`.

mod read;
mod write;

use super::plan::Trial;
use crate::recipe::object::{Object, Reading};
use crate::recipe::{Path, Recipe, RecipeError};

/// Most letters of the trial's own name on labels.
pub const NAME_LETTERS: usize = 20;
/// Most letters of a title, a treatment's name, a crop or a variety.
pub const TITLE_LETTERS: usize = 120;
/// Most letters of the notes.
pub const NOTES_LETTERS: usize = 4000;
/// Most measures of the user's own.
pub const OWN_MEASURES_LIMIT: usize = 20;
/// Most days for photographs.
pub const PHOTO_DAYS_LIMIT: usize = 50;
/// The last day of a trial, from sowing.
pub const DAYS_LIMIT: f64 = 4000.0;
/// Limits of the difference that matters, in % or the measure's unit.
pub const MATTERS_LIMITS: (f64, f64) = (1e-6, 1e6);
/// Limits of a spread that is expected, %.
pub const CV_LIMITS_PCT: (f64, f64) = (0.1, 300.0);
/// Most seeds or plants in a container.
pub const PLANTS_LIMIT: f64 = 10_000.0;
/// The trial of a recipe, if it has one.
///
/// # Errors
/// The first fault, with its path below `trial`.
pub fn trial_of(recipe: &Recipe) -> Result<Option<Trial>, RecipeError> {
    let Some(tree) = &recipe.trial else {
        return Ok(None);
    };
    let reading = Reading::new(recipe.is_of_later_release());
    let root = Object::of(&reading, tree.clone(), Path::from("trial"));
    let trial = read::trial(root);
    match reading.fault() {
        None => Ok(Some(trial)),
        Some(fault) => Err(fault),
    }
}

/// Gives a recipe a trial; none takes the field away.
pub fn set_trial(recipe: &mut Recipe, trial: Option<&Trial>) {
    recipe.trial = trial.map(write::tree);
}
