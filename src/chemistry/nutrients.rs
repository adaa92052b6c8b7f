//! Nitrogen that is set free or taken up, and phosphorus that piles up.

use crate::lane::Lane;

/// Organic matter over organic carbon (Pribyl 2010, Geoderma 156:75-83: median of measurements).
pub const ORGANIC_OVER_CARBON: f64 = 1.9;
/// Carbon over nitrogen of a soil's own organic matter (common practice: 10 to 12).
pub const SOIL_CARBON_TO_NITROGEN: f64 = 11.0;
/// Carbon over nitrogen at which what microbes take equals what they free: their own, 8, over the
/// third of the carbon that they keep (common practice: about 24).
pub const BREAK_EVEN: f64 = 24.0;

/// Nitrogen that decay frees (less than nothing: that it takes up), of carbon and nitrogen, and the
/// share of both that decays, in one unit of mass.
pub fn freed_nitrogen<L: Lane>(carbon: L, nitrogen: L, decayed: L) -> L {
    (nitrogen - carbon * (1.0 / BREAK_EVEN)) * decayed
}
