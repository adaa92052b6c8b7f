//! Sentences of the side-by-side trial.

mod verdict;

pub use verdict::{
    RANGE_COVERS, blocking_text, chance_text, comparison_text, no_verdict_text, note_text,
    one_container_text, permutation_text, plan_text, refused_text, treatment_text, verdict_text,
};
