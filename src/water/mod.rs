//! Water of a soil, as equations: what it holds at a tension, in a pot, how fast it drains, and the
//! densities that stop roots. Nothing here knows of recipes or blends.
//!
//! Water is a fraction of the volume, tension positive, in kPa or in cm of water. Sand, clay and
//! gravel are mass fractions, organic matter is percent by mass.
//!
//! ```
//! use barrowmix::water::saxton_rawls::theta_1500;
//!
//! // Water that plants leave in a clay: a volume fraction.
//! let left = theta_1500(0.20, 0.55, 2.5);
//! assert!(left > 0.30 && left < 0.36, "{left}");
//! ```

pub mod curve;
pub mod drainage;
pub mod pot;
pub mod retention;
pub mod roots;
pub mod saxton_rawls;
