//! Salt as laboratories report it: other dilutions, the other way to add it up, and what a reading
//! means for seedlings and for pots.

use crate::figure::within;

/// Conductivities are held within these, dS/m (a choice: sea water has some 50).
pub const EC_LIMITS_DS_M: (f64, f64) = (0.0, 200.0);
/// Water in a saturated paste is held within these, kg/kg (a choice: coarse sand to raw peat).
pub const SATURATION_LIMITS: (f64, f64) = (0.15, 10.0);
/// Dry bulk densities are held within these, kg/L (a choice: perlite to packed gravel).
const DENSITY_LIMITS_KG_L: (f64, f64) = (0.02, 2.7);
/// How far two ways to a saturation extract lie apart, as a share of either (a choice: they are 24 %
/// apart for a fifth of compost in clay loam).
pub const EXTRACT_DOUBT: f64 = 0.3;
/// Dissolved salt, mg/L for a dS/m (from memory; an extension sheet has 650).
const SALT_MG_L: f64 = 640.0;

/// Texture as the regressions between extracts know it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coarseness {
    /// Sands.
    Coarse,
    /// Loams.
    Medium,
    /// Clays.
    Fine,
}

fn conductivity(ds_m: f64) -> f64 {
    within(ds_m, EC_LIMITS_DS_M.0, EC_LIMITS_DS_M.1)
}

/// A straight line that never says less than the thinner extract.
fn regression(ds_m: f64, [slope, offset]: [f64; 2]) -> f64 {
    let ds_m = conductivity(ds_m);
    (slope * ds_m + offset).max(ds_m)
}

/// Conductivity of the saturation extract from one part of soil in one of water by mass, dS/m (PLOS
/// ONE 13(6):e0198290, 2018, table 2).
pub fn paste_of_1to1_ds_m(ds_m: f64, texture: Coarseness) -> f64 {
    let line = match texture {
        Coarseness::Coarse => [3.01, -0.06],
        Coarseness::Medium => [3.01, -0.77],
        Coarseness::Fine => [2.66, -0.97],
    };
    regression(ds_m, line)
}

/// The same from one part in two of water by mass (same table).
pub fn paste_of_1to2_ds_m(ds_m: f64, texture: Coarseness) -> f64 {
    let line = match texture {
        Coarseness::Coarse => [2.79, 0.71],
        Coarseness::Medium => [2.35, -0.36],
        Coarseness::Fine => [2.16, 0.03],
    };
    regression(ds_m, line)
}

/// One part by volume in two of water, as 1:5 by mass, dS/m: the same salt in 2.5 times the water,
/// of a litre that weighs so much dry, kg/L.
pub fn ec_1to5_of_1to2_by_volume_ds_m(ds_m: f64, dry_kg_l: f64) -> f64 {
    let (light, heavy) = DENSITY_LIMITS_KG_L;
    conductivity(ds_m) * (2.0 / 5.0) / within(dry_kg_l, light, heavy)
}

/// One part by mass in twenty of water, as 1:5, dS/m: the same salt in a quarter of the water.
pub fn ec_1to5_of_1to20_ds_m(ds_m: f64) -> f64 {
    conductivity(ds_m) * (20.0 / 5.0)
}

/// Salt dissolved in a water of a conductivity, mg/L.
pub fn dissolved_mg_l(ds_m: f64) -> f64 {
    conductivity(ds_m) * SALT_MG_L
}

/// One of several that are mixed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Salted {
    /// Share of the dry mass, in any one unit.
    pub dry_mass: f64,
    /// Water in its saturated paste, kg/kg.
    pub saturation: f64,
    /// Conductivity of its saturation extract, dS/m.
    pub paste_ds_m: f64,
}

/// Conductivity of a mix's saturation extract where its parts are known as such, dS/m: salt adds up
/// as conductivity times the water that held it. It differs from the way over 1:5 by up to
/// [`EXTRACT_DOUBT`]. `None` where nothing is mixed.
pub fn mixed_paste_ds_m(parts: &[Salted]) -> Option<f64> {
    let (mut salt, mut water) = (0.0, 0.0);
    for part in parts {
        let mass = within(part.dry_mass, 0.0, 1e9);
        let held = mass * within(part.saturation, SATURATION_LIMITS.0, SATURATION_LIMITS.1);
        water += held;
        salt += held * conductivity(part.paste_ds_m);
    }
    (water > 0.0).then(|| salt / water)
}

/// What salt does to seedlings, by the saturation extract.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeedlingHarm {
    /// Almost none is hurt.
    None,
    /// Sensitive plants are, and seedlings of others may be.
    Sensitive,
    /// Most plants without tolerance are.
    Most,
    /// Only tolerant plants stand it.
    AllButTolerant,
}

/// Above which the classes of [`SeedlingHarm`] begin, dS/m (M. H. Ali, Practices of Irrigation & On-farm
/// Water Management, table 8.6; they are those of the US Salinity Laboratory).
pub const SEEDLING_DS_M: [f64; 3] = [2.0, 4.0, 8.0];

impl SeedlingHarm {
    /// The class of a saturation extract, dS/m.
    pub fn of(paste_ds_m: f64) -> SeedlingHarm {
        let [sensitive, most, all] = SEEDLING_DS_M;
        match conductivity(paste_ds_m) {
            ds_m if ds_m <= sensitive => SeedlingHarm::None,
            ds_m if ds_m <= most => SeedlingHarm::Sensitive,
            ds_m if ds_m <= all => SeedlingHarm::Most,
            _ => SeedlingHarm::AllButTolerant,
        }
    }
}

/// Salt in a potting mix without soil that is fed, on a scale of its own: the same reading means less
/// there than in a soil, so the two are never compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PottedSalt {
    /// Hardly fed.
    VeryLow,
    /// For seedlings.
    Low,
    /// For most plants.
    Normal,
    /// For those that feed heavily.
    High,
    /// Growth suffers.
    VeryHigh,
    /// Most plants are burnt.
    Extreme,
}

/// Where the classes of [`PottedSalt`] begin by the saturated media extract, dS/m (table of the
/// University of Massachusetts, second-hand).
const POTTED_PASTE_DS_M: [f64; 5] = [0.8, 2.0, 3.5, 5.0, 6.0];
/// The same by one part in two of water by volume, dS/m (same table).
const POTTED_1TO2_DS_M: [f64; 5] = [0.3, 0.8, 1.3, 1.8, 2.3];

impl PottedSalt {
    const ALL: [PottedSalt; 6] = [
        PottedSalt::VeryLow,
        PottedSalt::Low,
        PottedSalt::Normal,
        PottedSalt::High,
        PottedSalt::VeryHigh,
        PottedSalt::Extreme,
    ];

    fn on(scale: [f64; 5], ds_m: f64) -> PottedSalt {
        let passed = scale.iter().filter(|limit| conductivity(ds_m) >= **limit);
        let class = PottedSalt::ALL.get(passed.count());
        class.copied().unwrap_or(PottedSalt::Extreme)
    }

    /// By the saturated media extract, dS/m.
    pub fn of_paste(ds_m: f64) -> PottedSalt {
        PottedSalt::on(POTTED_PASTE_DS_M, ds_m)
    }

    /// By one part in two of water by volume, dS/m.
    pub fn of_1to2(ds_m: f64) -> PottedSalt {
        PottedSalt::on(POTTED_1TO2_DS_M, ds_m)
    }
}

/// How salty a compost may be that goes into a planting mix: saturated paste, 1:1 and 1:2, dS/m
/// (University of Missouri extension).
pub const PLANTING_COMPOST_DS_M: [f64; 3] = [4.0, 2.5, 1.5];
