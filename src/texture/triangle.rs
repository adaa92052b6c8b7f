//! The texture triangle as numbers: clay at the top, sand at the left, silt at the right.

use crate::figure::within;

/// Height of a triangle of side 1.
pub const HEIGHT: f64 = 0.866_025_403_784_438_6;

/// A place in the triangle of side 1: x to the right, y down, the top at y = 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// From the left corner.
    pub x: f64,
    /// From the top.
    pub y: f64,
}

/// The place of a texture, fractions in percent.
pub fn spot([sand, silt, clay]: [f64; 3]) -> Spot {
    let sum = sand + silt + clay;
    Spot {
        x: (silt + clay / 2.0) / sum,
        y: HEIGHT * (1.0 - clay / sum),
    }
}

/// The texture of a place, percent; a place outside gives its nearest by shares.
pub fn from_spot(spot: Spot) -> [f64; 3] {
    let clay = within(1.0 - spot.y / HEIGHT, 0.0, 1.0);
    let silt = within(spot.x - clay / 2.0, 0.0, 1.0 - clay);
    [1.0 - clay - silt, silt, clay].map(|share| share * 100.0)
}
