//! Before buying: what is on sale, what is wished for, and the cheapest whole bags that get there.

mod bought;
pub mod document;
pub mod invented;
pub mod judge;
pub mod list;
mod moves;
pub mod offer;
mod program;
pub mod rows;
pub mod search;
pub mod table;
pub mod wish;
pub mod work;

pub use document::{Errand, errand_of, set_errand};
pub use offer::{Lot, Offer};
pub use search::{Findings, Found, Hindrance, Proof, Search};
