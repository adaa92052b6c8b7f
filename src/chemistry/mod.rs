//! Soil chemistry as equations: exchange and sodium, reaction, salts, nutrients. Everything adds up
//! on dry mass; reaction, shares and C:N do not, and are computed from what does.

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
