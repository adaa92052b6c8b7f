//! Exchangeable cations: capacity, shares, sodium.

use crate::lane::Lane;

/// Grams in a mole of charge of sodium (IUPAC atomic mass 22.990).
pub const SODIUM_G_MOL: f64 = 22.990;

/// Exchange capacity where it is not given, cmol/kg for a percent of clay and of organic matter
/// (a choice; clay of mixed minerals holds 30-70 cmol/kg, humus 150-250: common practice).
const CEC_OF_CLAY: f64 = 0.5;
const CEC_OF_ORGANIC: f64 = 2.0;

/// Exchange capacity estimated from clay and organic matter, as fractions, cmol/kg.
pub fn estimated_cec_cmol_kg<L: Lane>(clay: L, organic: L) -> L {
    clay * (100.0 * CEC_OF_CLAY) + organic * (100.0 * CEC_OF_ORGANIC)
}

/// Sodium, % of the exchange capacity; 0 where there is no capacity.
pub fn esp_pct<L: Lane>(sodium_cmol_kg: L, cec_cmol_kg: L) -> L {
    let hundred = L::all(100.0);
    let share = sodium_cmol_kg * 100.0 / cec_cmol_kg.at_least(L::all(1e-9));
    cec_cmol_kg
        .where_above(L::all(0.0), share, L::all(0.0))
        .at_most(hundred)
}
