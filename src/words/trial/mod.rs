//! Sentences of the side-by-side trial.

mod beside;
pub mod entry;
pub mod labels;
pub mod page_plan;
pub mod page_record;
pub mod plan;
pub mod print;
pub mod records;
pub mod report;
pub mod section;
pub mod seen;
mod verdict;

pub use beside::{
    band_ends_text, chance_text, comparison_text, guessed_text, note_text, permutation_text,
    refused_text, size_text, treatment_text, treatment_text_at,
};
pub use labels::TRIAL_OPENS;
pub use verdict::{
    Praise, RANGE_COVERS, blocking_text, no_verdict_text, one_container_text, plan_text,
    plan_text_by, row_text, said_once, verdict_text, verdict_text_by,
};
