//! Before buying: what is on sale, what is wished for, and the cheapest whole bags that get there.

pub mod document;
pub mod offer;
pub mod wish;

pub use document::{Errand, errand_of, set_errand};
pub use offer::{Lot, Offer};
