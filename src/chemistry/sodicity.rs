//! Sodium against the salts that keep clay together: ratios, classes, and the case of magnesium.
//! Every function takes any number.

use super::amounts::sound;
use crate::figure::within;

/// Exchangeable over soluble sodium (US Salinity Laboratory 1954, Agriculture Handbook 60, page 26;
/// from memory, and in keeping with the pair of 13 and 15 %). It is 0 at a ratio of 0.854.
const EXCHANGE: (f64, f64) = (-0.0126, 0.01475);
/// Ratio to which that was fitted, with salts of an ordinary saturation extract.
pub const SAR_LIMIT: f64 = 30.0;
/// What observed shares differ from it by, points (Nile Delta, Soil Sci. 1977).
pub const ESP_OF_SAR_ERROR: f64 = 5.0;
/// Sodium from which clays that rain waters are to be watched, % (Northcote & Skene 1972, from memory).
pub const ESP_WATCH_PCT: f64 = 6.0;
/// Sodium from which a soil is sodic, % (Handbook 60).
pub const ESP_SODIC_PCT: f64 = 15.0;
/// Reaction above which it is sodium that makes a soil so basic, not lime alone (US Salinity Laboratory
/// 1954, Agriculture Handbook 60, has 8.5 for sodic soils; calcite in air holds 8.2 to 8.4).
pub const SODIC_PH: f64 = 8.4;
/// Salt of the saturation extract from which a soil is saline, dS/m (Handbook 60).
pub const EC_SALINE_DS_M: f64 = 4.0;
/// Conductivity at 1:5 over sodium below which clay is expected to disperse (McKenzie 1998, from
/// memory).
pub const ESI_DISPERSES: f64 = 0.05;
/// Magnesium of the capacity from which it makes clay disperse by itself, % (25 to 30, from memory).
pub const MAGNESIUM_PCT: (f64, f64) = (25.0, 30.0);
/// Calcium over magnesium, by charge, below which it does (1 to 2, from memory).
pub const CALCIUM_OVER_MAGNESIUM: (f64, f64) = (1.0, 2.0);

/// Sodium adsorption ratio of an extract, from meq/L.
pub fn sar(sodium: f64, calcium: f64, magnesium: f64) -> f64 {
    over_root(sound(sodium), sound(calcium) + sound(magnesium))
}

/// The same with what potassium and magnesium do as well (Rengasamy & Marchuk 2011, Soil Res. 49,
/// from memory).
pub fn cross(sodium: f64, potassium: f64, calcium: f64, magnesium: f64) -> f64 {
    over_root(
        sound(sodium) + 0.56 * sound(potassium),
        sound(calcium) + 0.60 * sound(magnesium),
    )
}

fn over_root(single: f64, double: f64) -> f64 {
    if single <= 0.0 {
        return 0.0;
    }
    // Without calcium at all it would be without end.
    sound(single / (double.max(1e-9) / 2.0).sqrt())
}

/// Sodium of the capacity, %, by the ratio of the extract; 0 below a ratio of 0.854. Beyond
/// [`SAR_LIMIT`] the equation was not fitted.
pub fn esp_of_sar_pct(sar: f64) -> f64 {
    let (at_none, for_each) = EXCHANGE;
    let ratio = (at_none + for_each * sound(sar)).max(0.0);
    100.0 * ratio / (1.0 + ratio)
}

/// The ratio of the extract by the sodium of the capacity, %.
pub fn sar_of_esp(esp_pct: f64) -> f64 {
    let (at_none, for_each) = EXCHANGE;
    let share = within(sound(esp_pct), 0.0, 99.999) / 100.0;
    (share / (1.0 - share) - at_none) / for_each
}

/// Electrochemical stability: conductivity at 1:5 over sodium of the capacity, %. None without
/// sodium, where nothing is to be kept together.
pub fn stability(ec_1to5_ds_m: f64, esp_pct: f64) -> Option<f64> {
    let esp = sound(esp_pct);
    (esp > 0.0).then(|| sound(sound(ec_1to5_ds_m) / esp))
}

/// What salt and sodium make of a soil (Handbook 60).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaltClass {
    /// Neither.
    Normal,
    /// Salt.
    Saline,
    /// Both.
    SalineSodic,
    /// Sodium.
    Sodic,
}

impl SaltClass {
    /// By the salt of the saturation extract and the sodium of the capacity.
    pub fn of(ec_paste_ds_m: f64, esp_pct: f64) -> SaltClass {
        match (
            ec_paste_ds_m > EC_SALINE_DS_M,
            sound(esp_pct) >= ESP_SODIC_PCT,
        ) {
            (false, false) => SaltClass::Normal,
            (true, false) => SaltClass::Saline,
            (true, true) => SaltClass::SalineSodic,
            (false, true) => SaltClass::Sodic,
        }
    }
}

/// How sodium alone is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SodiumClass {
    /// Below what is watched.
    Low,
    /// To be watched: clay that rain waters may disperse.
    Watch,
    /// Sodic.
    Sodic,
}

impl SodiumClass {
    /// By the sodium of the capacity, %.
    pub fn of(esp_pct: f64) -> SodiumClass {
        let esp = sound(esp_pct);
        if esp >= ESP_SODIC_PCT {
            SodiumClass::Sodic
        } else if esp >= ESP_WATCH_PCT {
            SodiumClass::Watch
        } else {
            SodiumClass::Low
        }
    }
}

/// Whether magnesium makes a clay worse than its sodium tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MagnesiumCase {
    /// It does not.
    No,
    /// It may.
    Maybe,
    /// It is likely to.
    Likely,
}

impl MagnesiumCase {
    /// By calcium and magnesium, % of the capacity.
    pub fn of(calcium_pct: f64, magnesium_pct: f64) -> MagnesiumCase {
        let (calcium, magnesium) = (sound(calcium_pct), sound(magnesium_pct));
        let (some, much) = MAGNESIUM_PCT;
        let (far, near) = CALCIUM_OVER_MAGNESIUM;
        // In an acid soil the acidity has the rest, and little magnesium is in no one's way.
        let counts = magnesium >= some / 2.0;
        if magnesium > much || (counts && calcium < far * magnesium) {
            MagnesiumCase::Likely
        } else if magnesium > some || (counts && calcium < near * magnesium) {
            MagnesiumCase::Maybe
        } else {
            MagnesiumCase::No
        }
    }
}
