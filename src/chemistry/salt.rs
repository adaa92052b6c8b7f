//! Dissolved salts: conductivity at several dilutions, and what gypsum has of it.

use crate::lane::Lane;

/// Conductivity of a saturated solution of gypsum, dS/m (from memory).
const GYPSUM_DS_M: f64 = 2.2;
/// Gypsum that a litre dissolves, g (2.4 to 2.6, from memory).
const GYPSUM_G_L: f64 = 2.4;

/// Conductivity of the saturation extract over that at 1:5 by mass (Slavich & Petterson 1993, Aust.
/// J. Soil Res. 31:73-81), of the water that a saturated paste holds, kg/kg.
pub fn paste_factor<L: Lane>(saturation: L) -> L {
    L::all(2.46) + L::all(3.03) / saturation.at_least(L::all(SATURATION_LEAST))
}

/// Water in a saturated paste that no material has less of, kg/kg.
const SATURATION_LEAST: f64 = 0.15;

/// Water that a saturated paste of a soil holds, kg/kg, by clay in percent: sand, sandy loam, loam,
/// clay loam, light and heavy clay (a choice; used with the factors of Australian tables).
const SATURATION_OF_CLAY: [[f64; 2]; 6] = [
    [5.0, 0.21],
    [10.0, 0.27],
    [20.0, 0.43],
    [33.0, 0.49],
    [45.0, 0.60],
    [65.0, 0.91],
];

/// Water that a saturated paste of a soil holds, kg/kg, from clay as a fraction.
pub fn saturation_of_clay<L: Lane>(clay: L) -> L {
    let [[mut from_pct, mut from], rest @ ..] = SATURATION_OF_CLAY;
    let mut sum = L::all(from);
    for [to_pct, to] in rest {
        let way = (clay * 100.0 - L::all(from_pct)) * (1.0 / (to_pct - from_pct));
        sum += way.at_least(L::all(0.0)).at_most(L::all(1.0)) * (to - from);
        (from_pct, from) = (to_pct, to);
    }
    sum
}

/// What gypsum adds to conductivity, dS/m, by the grams of it for a litre of the water: no more than
/// dissolves.
pub fn gypsum_ds_m<L: Lane>(grams_per_litre: L) -> L {
    grams_per_litre.at_most(L::all(GYPSUM_G_L)) * (GYPSUM_DS_M / GYPSUM_G_L)
}

/// The same at 1:5, by the mass fraction of gypsum.
pub fn gypsum_1to5_ds_m<L: Lane>(gypsum: L) -> L {
    gypsum_ds_m(gypsum * (1000.0 / 5.0))
}

/// The same in the saturation extract.
pub fn gypsum_paste_ds_m<L: Lane>(gypsum: L, saturation: L) -> L {
    gypsum_ds_m(gypsum * 1000.0 / saturation.at_least(L::all(SATURATION_LEAST)))
}
