//! Texture: which class a soil belongs to, and the triangle that shows it.
//!
//! ```
//! use barrowmix::texture::{Class, System, classify, classify_in};
//!
//! assert_eq!(classify([20.0, 25.0, 55.0]), Class::Clay);
//! let class = classify_in([20.0, 25.0, 55.0], System::Canada);
//! assert_eq!(class.map(|class| class.name), Ok("clay"));
//! ```

#[cfg(not(feature = "page"))]
mod convert;
#[cfg(not(feature = "page"))]
mod elsewhere;
mod spread;
#[cfg(not(feature = "page"))]
mod systems;
mod triangle;
mod usda;

#[cfg(not(feature = "page"))]
pub use convert::{Converted, Way, convert, regression_pct};
#[cfg(not(feature = "page"))]
pub use elsewhere::{DrawnIn, Placed};
pub use spread::{class_spread, felt_spread, share_an_edge, typical_fractions_pct};
#[cfg(not(feature = "page"))]
pub use systems::{
    Ask, CLAY_UM, End, FINE_EARTH_UM, Quantity, SUM_SLACK_PCT, System, SystemClass, TextureFault,
    checked, classify_in,
};
pub use triangle::{HEIGHT, Spot, from_spot, spot};
pub use usda::{Class, REGIONS, Region, classify};
