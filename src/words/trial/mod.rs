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
    chance_text, comparison_text, note_text, permutation_text, refused_text, treatment_text,
};
pub use labels::TRIAL_OPENS;
pub use verdict::{
    RANGE_COVERS, blocking_text, no_verdict_text, one_container_text, plan_text, plan_text_by,
    verdict_text,
};
