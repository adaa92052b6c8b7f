//! Humus as one pool, and how fast a soil's own organic matter is lost by temperature, water, clay
//! and lime.

/// Share of a soil's organic matter that hardly decays: arable land, and old grass (AMG, after
/// Saffih-Hdadi & Mary 2008, Soil Biol. Biochem. 40:594).
pub const STABLE_SHARE: [f64; 2] = [0.65, 0.40];
/// Loss of the active share a year at 15 C, moist, without clay and lime (the same).
const ACTIVE_RATE: f64 = 0.165;
/// Clay slows decay: the exponent for a gram in a kilogram, in AMG's first and second version.
pub const CLAY_SLOWS: [f64; 2] = [2.720e-3, 2.519e-3];

/// Humus after so many years, where a year's losses come first and what is added stays (Hénin &
/// Dupuis 1945). `made` is what a year adds as humus, in the unit of `humus`.
pub fn humus_after(humus: f64, made: f64, lost_a_year: f64, years: f64) -> f64 {
    let stays = libm::pow(1.0 - lost_a_year, years);
    humus * stays + humus_in_the_end(made, lost_a_year) * (1.0 - stays)
}

/// Humus at which losses equal what a year adds.
pub fn humus_in_the_end(made: f64, lost_a_year: f64) -> f64 {
    made / lost_a_year
}

/// What must be added each year so that so much humus stays: `becomes` is the share of it that
/// turns into humus.
pub fn holding(humus: f64, lost_a_year: f64, becomes: f64) -> f64 {
    humus * lost_a_year / becomes
}

/// Years until half is lost, at a continuous rate.
pub fn halving_years(rate: f64) -> f64 {
    core::f64::consts::LN_2 / rate
}

/// AMG: temperature, 1 at 15 C; nothing decays in frost.
pub fn temperature_factor(mean_c: f64) -> f64 {
    if mean_c <= 0.0 {
        return 0.0;
    }
    25.0 / (1.0 + 24.0 * libm::exp(0.12 * 15.0) * libm::exp(-0.12 * mean_c))
}

/// AMG: water, by rain and watering less what evaporates, mm a year.
pub fn water_factor(surplus_mm: f64) -> f64 {
    1.0 / (1.0 + 0.03 * libm::exp(-5.247 * surplus_mm / 1000.0))
}

/// AMG: clay, g/kg, by one of [`CLAY_SLOWS`].
pub fn clay_factor(clay_g_kg: f64, slows: f64) -> f64 {
    libm::exp(-slows * clay_g_kg)
}

/// AMG: lime, g/kg.
pub fn lime_factor(carbonate_g_kg: f64) -> f64 {
    1.0 / (1.0 + 1.67e-3 * carbonate_g_kg)
}

/// AMG, first version: share of the active organic matter that is lost a year.
pub fn active_rate(mean_c: f64, surplus_mm: f64, clay_pct: f64, carbonate_pct: f64) -> f64 {
    ACTIVE_RATE
        * temperature_factor(mean_c)
        * water_factor(surplus_mm)
        * clay_factor(10.0 * clay_pct, CLAY_SLOWS[0])
        * lime_factor(10.0 * carbonate_pct)
}

/// Share of decaying carbon that a soil retains (RothC-26.3, Coleman & Jenkinson 1999): a check on
/// how far clay slows, not used for a figure.
pub fn retained(clay_pct: f64) -> f64 {
    1.0 / (1.0 + 1.67 * (1.85 + 1.60 * libm::exp(-0.0786 * clay_pct)))
}

/// Loss of all humus a year by another rule (Remy & Marin-Laflèche 1974, from memory): a check.
pub fn loss_1974(mean_c: f64, clay_g_kg: f64, carbonate_g_kg: f64) -> f64 {
    1200.0 * 0.2 * (mean_c - 5.0) / ((200.0 + clay_g_kg) * (200.0 + 0.3 * carbonate_g_kg))
}
