//! Sentences of the section on what to buy.

pub mod find;
pub mod labels;
pub mod sweep;

pub use labels::ERRAND_OPENS;
