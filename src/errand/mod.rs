//! Before buying: what is on sale, what is wished for, and the cheapest whole bags that get there.
//!
//! ```no_run
//! use barrowmix::errand::{Search, errand_of};
//! use barrowmix::recipe::Recipe;
//!
//! let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/loam-wish.json"));
//! let recipe = Recipe::from_json(text)?;
//! let errand = errand_of(&recipe)?.expect("it has one");
//! // Some seconds; a page calls `advance` in each of its frames instead.
//! let findings = Search::of(&recipe, &errand)?.finish();
//! println!("{:?} for the cheapest", findings.cheapest.map_or(f64::NAN, |found| found.cost));
//! # Ok::<(), barrowmix::recipe::RecipeError>(())
//! ```

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
