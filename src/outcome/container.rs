//! The mix in its container: how high it stands, and what that leaves of air.

use crate::figure::Figure;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Amount, Place, PlaceKind, Support};
use crate::water::pot::Pot;
use std::f64::consts::PI;

/// Centimetres in a metre.
const CM_PER_M: f64 = 100.0;

/// The settled mix in its container, watered and drained.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Container {
    /// Shape of the mix.
    pub pot: Pot,
    /// Water it keeps, % of its volume.
    pub water_pct: Figure,
    /// Air left, % of its volume.
    pub air_pct: Figure,
    /// Height from the bottom up to which less than a tenth is air, cm.
    pub wet_layer_cm: f64,
}

/// The settled mix in a place that keeps its water to itself: a container, or a bed on something
/// that no root enters. None where there is no such place, or its height is not told.
pub fn pot(place: Option<&Place>, settled_l: f64) -> Option<Pot> {
    let place = place?;
    let stands = place.kind == Some(PlaceKind::Container)
        || matches!(place.on, Some(Support::Deck | Support::Roof));
    let height_m = place
        .height
        .as_ref()
        .map(Amount::si)
        .filter(|height| *height > 0.0 && stands && place.drains != Some(false))?;
    let top = place.top_width.as_ref().map(Amount::si);
    let bottom = place.bottom_width.as_ref().map(Amount::si);
    let (top_width, bottom_width) = match (top, bottom) {
        (Some(top), Some(bottom)) => (top, bottom),
        _ => (1.0, 1.0),
    };
    let room_m3 = place.volume.as_ref().map(Amount::si).or_else(|| {
        let (top, bottom) = (top?, bottom.or(top)?);
        // A cone cut off.
        Some(PI / 12.0 * height_m * (top * top + top * bottom + bottom * bottom))
    });
    let each_m3 = settled_l / LITRES_PER_M3 / place.count.unwrap_or(1.0).max(1.0);
    let filled = room_m3.map_or(1.0, |room| each_m3 / room);
    let full = Pot {
        height_cm: height_m * CM_PER_M,
        top_width,
        bottom_width,
    };
    Some(if filled < 1.0 {
        partly(full, filled)
    } else {
        full
    })
}

/// A pot filled to a share of its room.
fn partly(pot: Pot, filled: f64) -> Pot {
    let (bottom, top) = (pot.bottom_width, pot.top_width);
    let wider = top - bottom;
    let cubed = |width: f64| width * width * width;
    // Of a cone cut off, by the cubes of its widths.
    let height = if wider.abs() > 1e-9 * top {
        let cube = cubed(bottom) + filled * (cubed(top) - cubed(bottom));
        // The cube root; libm's own would bring 1 kB that nothing else needs.
        (libm::exp(libm::log(cube) / 3.0) - bottom) / wider
    } else {
        filled
    };
    Pot {
        height_cm: pot.height_cm * height,
        top_width: bottom + wider * height,
        bottom_width: bottom,
    }
}
