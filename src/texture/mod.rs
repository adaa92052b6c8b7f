//! Texture: which class a soil belongs to, and the triangle that shows it.

mod triangle;
mod usda;

pub use triangle::{HEIGHT, Spot, from_spot, spot};
pub use usda::{Class, REGIONS, Region, classify};
