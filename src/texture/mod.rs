//! Texture: which class a soil belongs to, and the triangle that shows it.

mod spread;
mod triangle;
mod usda;

pub use spread::{class_spread, felt_spread, share_an_edge, typical_fractions_pct};
pub use triangle::{HEIGHT, Spot, from_spot, spot};
pub use usda::{Class, REGIONS, Region, classify};
