#![doc = "temp"]
#[macro_use]
mod fields;
pub mod blend;
pub mod figure;
pub mod ground;
pub mod material;
pub mod outcome;
pub mod plot;
pub mod quantity;
pub mod recipe;
pub mod texture;
#[cfg(target_arch = "wasm32")]
mod web;
pub mod words;
