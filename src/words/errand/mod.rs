//! Sentences of the section on what to buy.

pub mod labels;
pub mod list;
pub mod sale;
pub mod sweep;

pub use labels::ERRAND_OPENS;
