//! Soil chemistry as equations: exchange and sodium, reaction, salts, nutrients. Everything adds up
//! on dry mass; reaction, shares and C:N do not, and are computed from what does.
//!
//! ```
//! use barrowmix::chemistry::crop;
//! use barrowmix::chemistry::sodicity::{esp_of_sar_pct, sar};
//!
//! // A saturation extract, mmol of charge to the litre.
//! let ratio = sar(10.0, 4.0, 4.0);
//! assert!((ratio - 5.0).abs() < 1e-12);
//! assert!(esp_of_sar_pct(ratio) < 15.0);
//! assert!(crop::find("tomato").is_some());
//! ```

pub mod amounts;
pub mod crop;
pub mod exchange;
pub mod extracts;
pub mod gypsum;
pub mod leaching;
pub mod liming;
pub mod nitrogen;
pub mod nutrients;
pub mod phosphorus;
pub mod reaction;
pub mod salt;
pub mod sodicity;
