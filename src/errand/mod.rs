//! Before buying: what is on sale, what is wished for, and the cheapest whole bags that get there.

pub mod document;
pub mod invented;
pub mod list;
pub mod offer;
pub mod table;
pub mod wish;
pub mod work;

pub use document::{Errand, errand_of, set_errand};
pub use offer::{Lot, Offer};
