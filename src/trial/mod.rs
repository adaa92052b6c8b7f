//! The side-by-side trial: a row of containers or strips, one addition each, and what they show.
//!
//! | room | what it holds |
//! |---|---|
//! | [`date`] | days of the calendar, without a clock |
//! | [`measures`] | what can be measured: unit, scale, limits, error |
//! | [`mattering`] | what difference matters, measure by measure |
//! | [`crops`] | test crops |
//! | [`layout`] | where each container stands, drawn from a seed |
//! | [`plan`] | treatments, controls, guesses, and how far the trial has come |
//! | [`doses`] | a recipe for each container, what is weighed out and bought, what the model foretells |
//! | [`start`] | a plan to begin with, from a recipe |
//! | [`records`] | what was measured |
//! | [`readings`] | which of it goes into an analysis |
//! | [`convert`] | from what is weighed and timed to what is compared |
//! | [`seen`] | one measure of a trial, from its records to what it shows |
//! | [`guessed`] | the user's own guess beside what happened |
//! | [`table`] | records as comma-separated values, out and in |
//! | [`document`] | the trial in the saved recipe |
//! | [`chance`] | normal, t, F and chi-square; several treatments against one control |
//! | [`power`] | what a trial of so many containers can find, and what luck alone does |
//! | [`limits`] | limits that were computed once |
//! | [`fit`] | means by least squares: random, in blocks, in a square; containers may be missing |
//! | [`permute`] | chance by shuffling the treatments of the containers that were measured |
//! | [`ranks`] | tests by ranks, for scores and readings with a limit |
//! | [`compare`] | pairs of treatments with spreads of their own; adjusted chances; proportions |
//! | [`verdict`] | a range and the difference that matters in, a verdict out |
//! | [`analysis`] | one measure in, everything out |
//!
//! ```
//! use barrowmix::recipe::Recipe;
//! use barrowmix::trial::plan::Trial;
//!
//! let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/sand-half.json"));
//! let recipe = Recipe::from_json(text).expect("it reads");
//! let trial = Trial::of_recipe(&recipe, 11);
//! let layout = trial.layout().expect("it can be laid out");
//! assert!(layout.walk().len() >= 2 * trial.treatments.len());
//! ```

pub mod analysis;
pub mod chance;
pub mod compare;
pub mod convert;
pub mod crops;
pub mod date;
pub mod document;
pub mod doses;
pub mod fit;
pub mod guessed;
pub mod layout;
pub mod limits;
pub mod mattering;
pub mod measures;
pub mod permute;
pub mod plan;
pub mod power;
pub mod ranks;
pub mod readings;
pub mod records;
pub mod seen;
pub mod start;
pub mod table;
pub mod verdict;
