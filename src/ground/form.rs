//! The structural forms in which a ground packs: crumbs, puddled, or single grains.

use super::Ground;
use crate::figure::within;
use libm::{exp, log};

/// Clay from which a ground has crumbs, %.
const CRUMB_CLAY_PCT: f64 = 25.0;
/// Clay up to which a ground is single grains, %.
const GRAIN_CLAY_PCT: f64 = 15.0;
/// Size of a crumb, mm (wet-stable aggregates of tilled clay 2-5; common practice).
const CRUMB_MM: f64 = 3.0;
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
pub struct Form {
    /// Size of its pieces, mm.
    pub grain_mm: f64,
    /// Density of one piece with its inner pores, kg/m3.
    pub envelope_kg_m3: f64,
}

/// The forms of a ground and how much the two-form reading counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forms {
    /// The clay's crumbs.
    pub crumbs: Form,
    /// The clay slaked.
    pub puddled: Form,
    /// Single grains, for a ground of little clay.
    pub grains: Form,
    /// Weight of the two clay forms: 0 at 15 % clay and less, 1 at 25 % and more.
    pub clay_weight: f64,
}

impl Forms {
    /// The forms of a ground.
    pub fn of(ground: &Ground) -> Forms {
        let solid = ground.solid_density_kg_m3;
        let log_size: f64 = ground
            .fractions
            .iter()
            .zip(FRACTION_MM)
            .map(|(share, size)| share * log(size))
            .sum();
        Forms {
            crumbs: Form {
                grain_mm: CRUMB_MM,
                envelope_kg_m3: CRUMB_ENVELOPE_KG_M3
                    .max(ground.lying_density_kg_m3 / LYING_SHARE_OF_CRUMB)
                    .min(solid),
            },
            puddled: Form {
                grain_mm: PUDDLED_MM,
                envelope_kg_m3: solid,
            },
            grains: Form {
                grain_mm: exp(log_size),
                envelope_kg_m3: solid,
            },
            clay_weight: within(
                (ground.clay_pct() - GRAIN_CLAY_PCT) / (CRUMB_CLAY_PCT - GRAIN_CLAY_PCT),
                0.0,
                1.0,
            ),
        }
    }

    /// Whether grains that touch mean anything here: they do where there is clay to float in.
    pub fn has_skeleton_question(&self) -> bool {
        self.clay_weight > 0.0
    }
}
