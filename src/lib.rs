#![doc = "temp"]
#[macro_use]
mod fields;
pub mod blend;
pub mod figure;
pub mod ground;
pub mod material;
pub mod outcome;
pub mod quantity;
pub mod recipe;
pub mod texture;
pub mod words;
