//! Phosphorus that piles up, where to stop, and what dilutes a metal.

use crate::figure::within;

/// Share of a compost's phosphorus that a soil test finds later (a choice: half).
pub const EXTRACTABLE: f64 = 0.5;
/// Loads and masses over an area are held within these, kg/m2 (a choice: a metre of compost).
const LOAD_LIMITS_KG_M2: (f64, f64) = (0.0, 1e4);
/// Ground worked to no depth is not looked at, kg/m2 (a choice: a millimetre).
const LEAST_GROUND_KG_M2: f64 = 1.0;

fn load(kg_m2: f64) -> f64 {
    within(kg_m2, LOAD_LIMITS_KG_M2.0, LOAD_LIMITS_KG_M2.1)
}

/// Phosphorus of an addition, g/m2, of its dry matter in kg/m2 and its phosphorus as a fraction.
pub fn load_g_m2(dry_kg_m2: f64, phosphorus: f64) -> f64 {
    load(dry_kg_m2) * within(phosphorus, 0.0, 1.0) * 1000.0
}

/// Rise of a soil test, ppm: an addition of so much dry matter, kg/m2, worked into so much dry ground,
/// kg/m2, of whose phosphorus a share becomes extractable.
pub fn rise_ppm(dry_kg_m2: f64, phosphorus: f64, extractable: f64, ground_kg_m2: f64) -> f64 {
    let grams = load_g_m2(dry_kg_m2, phosphorus) * within(extractable, 0.0, 1.0);
    grams * 1000.0 / (load(ground_kg_m2).max(LEAST_GROUND_KG_M2) + load(dry_kg_m2))
}

/// What a laboratory extracts phosphorus with. They do not stand for each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extractant {
    /// Mehlich 3.
    Mehlich3,
    /// Bray P1.
    Bray1,
    /// Olsen, for soils with lime.
    Olsen,
}

impl Extractant {
    /// Where to stop giving phosphorus, ppm: no crop gains from more (common practice; Rutgers calls
    /// 68 ppm by Mehlich 3 very high; Olsen 30 to 40, the higher one here, from where no one gives more).
    pub fn stop_ppm(self) -> f64 {
        match self {
            Extractant::Mehlich3 => 70.0,
            Extractant::Bray1 => 50.0,
            Extractant::Olsen => 40.0,
        }
    }

    /// Whether a test says to stop; what is no number does not.
    pub fn says_stop(self, ppm: f64) -> bool {
        ppm >= self.stop_ppm()
    }
}

/// Where water that runs off carries too much, ppm by Mehlich 3 (from memory: 150 to 200).
pub const RUN_OFF_MEHLICH3_PPM: f64 = 150.0;

/// What a mix has of a metal or anything else that adds up by mass, in the unit of its parts, each
/// with its dry mass in any one unit; `None` where nothing is mixed.
pub fn diluted(parts: &[(f64, f64)]) -> Option<f64> {
    let (mut mass, mut sum) = (0.0, 0.0);
    for (dry_mass, content) in parts {
        let dry = within(*dry_mass, 0.0, 1e9);
        mass += dry;
        sum += dry * within(*content, 0.0, 1e6);
    }
    (mass > 0.0).then(|| sum / mass)
}
