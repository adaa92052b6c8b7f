//! Sentences of the side-by-side trial.

pub mod plan;
pub mod records;
