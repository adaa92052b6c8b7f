//! The structural forms in which a ground packs: crumbs, puddled, or single grains.

use super::Ground;
use crate::lane::Lane;
use libm::{exp, log};

/// Clay from which a ground has crumbs, %.
pub(crate) const CRUMB_CLAY_PCT: f64 = 25.0;
/// Clay up to which a ground is single grains, %.
pub(crate) const GRAIN_CLAY_PCT: f64 = 15.0;
/// Size of a crumb, mm (wet-stable aggregates of tilled clay 2-5; common practice).
pub const CRUMB_MM: f64 = 3.0;
/// Size of the pieces of slaked clay, mm (0.002-0.02; common practice).
pub const PUDDLED_MM: f64 = 0.01;
/// Least density of one crumb with its inner pores, kg/m3 (half-dry middle of measured clods,
/// 1250 moist smectite to 1820 oven-dry).
const CRUMB_ENVELOPE_KG_M3: f64 = 1600.0;
/// Highest share of its crumbs' density that a bed reaches.
const LYING_SHARE_OF_CRUMB: f64 = 0.88;
/// Mean sizes of sand, silt and clay, mm (Shirazi & Boersma 1984, Soil Sci. Soc. Am. J. 48:142).
const FRACTION_MM: [f64; 3] = [1.025, 0.026, 0.001];

/// One way in which the ground packs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Form<L = f64> {
    /// Size of its pieces, mm. Sizes are not drawn.
    pub grain_mm: f64,
    /// Density of one piece with its inner pores, kg/m3.
    pub envelope_kg_m3: L,
}

/// The forms of a ground and how much the two-form reading counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forms<L = f64> {
    /// The clay's crumbs.
    pub crumbs: Form<L>,
    /// The clay slaked.
    pub puddled: Form<L>,
    /// Single grains, for a ground of little clay.
    pub grains: Form<L>,
    /// Weight of the two clay forms: 0 at 15 % clay and less, 1 at 25 % and more.
    pub clay_weight: L,
}

/// Geometric mean grain size of sand, silt and clay, mm.
pub fn mean_grain_mm(fractions: [f64; 3]) -> f64 {
    let log_size: f64 = fractions
        .iter()
        .zip(FRACTION_MM)
        .map(|(share, size)| share * log(size))
        .sum();
    exp(log_size)
}

impl<L: Lane> Forms<L> {
    /// The forms of a ground, whose single grains have a size in mm.
    pub fn of(ground: &Ground<L>, grain_mm: f64) -> Forms<L> {
        let solid = ground.solid_density_kg_m3;
        let form = |grain_mm, envelope_kg_m3| Form {
            grain_mm,
            envelope_kg_m3,
        };
        let crumb = (ground.lying_density_kg_m3 * (1.0 / LYING_SHARE_OF_CRUMB))
            .at_least(L::all(CRUMB_ENVELOPE_KG_M3))
            .at_most(solid);
        let clay_pct = ground.fractions[2] * 100.0;
        let weight =
            (clay_pct - L::all(GRAIN_CLAY_PCT)) * (1.0 / (CRUMB_CLAY_PCT - GRAIN_CLAY_PCT));
        Forms {
            crumbs: form(CRUMB_MM, crumb),
            puddled: form(PUDDLED_MM, solid),
            grains: form(grain_mm, solid),
            clay_weight: weight.at_least(L::all(0.0)).at_most(L::all(1.0)),
        }
    }
}
