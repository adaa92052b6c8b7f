//! Answers for programs in JavaScript, as plain data: what [`evaluate`], [`check`], [`classify`],
//! [`convert`], [`encode`], [`decode`], [`materials()`] and [`systems`] give natively is what the
//! functions of the same names give in a browser, with the feature `api` (`cargo site -- --api DIR`
//! builds it).
//!
//! Sentences and names are told in the language that [`crate::tongue::speak`] was given last.
//!
//! What can fail is answered in one shape: `{ "ok": true, … }` or `{ "ok": false, "issues": […] }`,
//! each [`Issue`] with a code, the path of its field, and a sentence. Half-typed input is normal:
//! nothing here is thrown, whatever comes in. The types of all of it stand in [`TYPES`].
//!
//! ```
//! use barrowmix::api;
//! use barrowmix::recipe::Tree;
//!
//! let half_typed = r#"{"barrowmix": 1, "ground": {"sand_pct": 20, "silt_pct": 25, "clay_pct": -5},
//!                      "soil": {"value": 40}}"#;
//! let answer = api::check(api::read(half_typed));
//! let issues = answer.as_ref().err().expect("it has faults");
//! let told: Vec<_> = issues.iter().map(|issue| (issue.code, issue.path.as_str())).collect();
//! assert_eq!(told, [("out_of_range", "ground.clay_pct"), ("missing", "soil.unit")]);
//! ```

mod answer;
mod ask;
mod issue;
mod materials;
mod textures;

#[cfg(all(target_arch = "wasm32", feature = "api"))]
mod door;
#[cfg(all(target_arch = "wasm32", feature = "api"))]
mod value;

pub use answer::Answer;
pub use ask::{check, decode, encode, evaluate, read, recipe_of};
pub use issue::{Issue, Strange};
pub use materials::{MaterialTold, NumberTold, materials};
pub use textures::{ClassTold, Classified, ConvertedTold, SystemTold, classify, convert, systems};

/// Most letters of all texts of a document, and of its JSON where it comes as a text.
pub const LETTERS_LIMIT: usize = 4_000_000;
/// Most values in a document, lists and objects among them.
pub const VALUES_LIMIT: usize = 100_000;
/// The types of all documents and functions, in TypeScript.
pub const TYPES: &str = include_str!("types.d.ts");
