//! The side-by-side trial: a row of containers or strips, one addition each, and what they show.
//!
//! | room | what it holds |
//! |---|---|
//! | [`date`] | days of the calendar, without a clock |
//! | [`measures`] | what can be measured: unit, scale, limits, error |
//! | [`crops`] | test crops |
//! | [`layout`] | where each container stands, drawn from a seed |
//! | [`plan`] | treatments, controls, guesses, and how far the trial has come |
//! | [`doses`] | a recipe for each container, what is weighed out and bought, what the model foretells |
//! | [`start`] | a plan to begin with, from a recipe |
//! | [`records`] | what was measured |
//! | [`readings`] | which of it goes into an analysis |
//! | [`convert`] | from what is weighed and timed to what is compared |
//! | [`table`] | records as comma-separated values, out and in |
//! | [`document`] | the trial in the saved recipe |

pub mod convert;
pub mod crops;
pub mod date;
pub mod document;
pub mod doses;
pub mod layout;
pub mod measures;
pub mod plan;
pub mod readings;
pub mod records;
pub mod start;
pub mod table;
