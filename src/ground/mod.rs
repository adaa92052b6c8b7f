//! The starting soil: what is given, what is estimated in its place, and how it lies and digs.

mod form;
pub mod saxton_rawls;

pub use form::{Form, Forms, PUDDLED_MM};

use crate::figure::{Figure, within};
use crate::material::{SETTLED_SHARE_OF_GRAIN, solid_density_kg_m3};
use saxton_rawls::{Normal, density_coefficient};

/// Density of gravel, kg/m3 (quartz and common rock; handbook value).
pub const GRAVEL_SOLID_KG_M3: f64 = 2650.0;
/// Density of pure organic matter in a soil, kg/m3 (Adams 1973, J. Soil Sci. 24:10).
const ORGANIC_BULK_KG_M3: f64 = 244.0;
/// Clay above which the density equation does not reach (Saxton & Rawls 2006).
const CLAY_LIMIT: f64 = 0.60;
/// Organic matter where it is not given, % (common practice for garden soil).
const ORGANIC_MATTER_DEFAULT_PCT: f64 = 2.5;
/// Estimated density as it lies stays within these, kg/m3.
const ESTIMATED_DENSITY_LIMITS: (f64, f64) = (900.0, 1600.0);
/// A soil settles to at most this multiple of its normal density; denser is the work of traffic
/// (a choice: about half of the doubt on normal density).
const SETTLED_OVER_NORMAL: f64 = 1.10;
/// Above this multiple of normal density a soil is told to be very dense (a choice, beyond the 95th
/// percentile of measured over normal density).
const DENSE_OVER_NORMAL: f64 = 1.375;
/// Digging loosens a soil by this factor (tilled layers stand 20-30 % deeper; common practice).
const DUG_OVER_LYING: f64 = 1.25;
/// And by at least this factor against its settled state (common practice).
const DUG_OVER_SETTLED: f64 = 1.10;
/// Room for crumb where it is not given: an ordinary bed.
const CRUMB_DEFAULT: f64 = 0.5;
/// Most water per dry mass accepted, as the recipe's limit.
const WATER_PER_DRY_LIMIT: f64 = 3.0;

fields! {
    /// A number that describes the ground.
    Trait {
        /// Sand, % of mineral fines.
        Sand "sand_pct" 0.0 .. 100.0;
        /// Silt, % of mineral fines.
        Silt "silt_pct" 0.0 .. 100.0;
        /// Clay, % of mineral fines.
        Clay "clay_pct" 0.0 .. 100.0;
        /// Organic matter, % of dry fine earth.
        OrganicMatter "organic_matter_pct" 0.0 .. 100.0;
        /// Oven-dry mass over the volume of the whole soil as it lies, kg/m3.
        BulkDensity "bulk_density_kg_m3" 200.0 .. 2200.0;
        /// Gravel, % of the whole dry soil.
        Gravel "gravel_pct" 0.0 .. 100.0;
        /// Mass of water over dry mass, %.
        WaterPerDry "water_per_dry_pct" 0.0 .. 300.0;
        /// Where the clay stands between puddled (0) and crumbs (1).
        Crumb "crumb" 0.0 .. 1.0;
        /// Reaction in water.
        Ph "ph" 0.0 .. 14.0;
        /// Electrical conductivity of the saturation extract, dS/m.
        EcSaturatedPaste "ec_saturated_paste_ds_m" 0.0 .. 200.0;
        /// Electrical conductivity at 1:5 by mass, dS/m.
        Ec1To5 "ec_1to5_ds_m" 0.0 .. 200.0;
        /// Electrical conductivity at 1:2 by volume, dS/m.
        Ec1To2 "ec_1to2_ds_m" 0.0 .. 200.0;
        /// Cation exchange capacity, cmol/kg of fine earth.
        Cec "cec_cmol_kg" 0.0 .. 300.0;
        /// Calcium, % of the exchange capacity.
        CalciumShare "calcium_share_pct" 0.0 .. 100.0;
        /// Magnesium, % of the exchange capacity.
        MagnesiumShare "magnesium_share_pct" 0.0 .. 100.0;
        /// Potassium, % of the exchange capacity.
        PotassiumShare "potassium_share_pct" 0.0 .. 100.0;
        /// Sodium, % of the exchange capacity.
        SodiumShare "sodium_share_pct" 0.0 .. 100.0;
        /// Carbonate, % of dry fine earth.
        Carbonate "carbonate_pct" 0.0 .. 100.0;
    }
}

/// The traits of a ground as given.
#[derive(Clone, Debug, PartialEq)]
pub struct Traits {
    values: [Option<Figure>; Trait::ALL.len()],
}

impl Traits {
    /// Nothing given.
    pub const NONE: Traits = Traits {
        values: [None; Trait::ALL.len()],
    };

    /// The figure given for a trait, if any.
    pub fn get(&self, of: Trait) -> Option<Figure> {
        self.values[of as usize]
    }

    /// Sets or clears a trait.
    pub fn set(&mut self, of: Trait, figure: Option<Figure>) {
        self.values[of as usize] = figure;
    }

    /// Sand, silt and clay, %, absent ones as 0.
    pub fn fractions_pct(&self) -> [f64; 3] {
        [Trait::Sand, Trait::Silt, Trait::Clay].map(|of| self.typical(of).unwrap_or(0.0))
    }

    fn typical(&self, of: Trait) -> Option<f64> {
        self.get(of).map(|figure| figure.typical)
    }
}

/// The ground with every number that mixing needs, typical values, SI units and mass fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Sand, silt and clay of the mineral fines; sums to 1.
    pub fractions: [f64; 3],
    /// Organic matter, of dry fine earth.
    pub organic: f64,
    /// Gravel, of the whole dry soil.
    pub gravel: f64,
    /// Mass of water over dry mass.
    pub water_per_dry: f64,
    /// Where the clay stands between puddled (0) and crumbs (1).
    pub crumb: f64,
    /// Dry density as it lies, kg/m3.
    pub lying_density_kg_m3: f64,
    /// Dry density of this texture and organic matter as soils usually lie, kg/m3.
    pub normal_density_kg_m3: f64,
    /// Density of its solids, gravel included, kg/m3.
    pub solid_density_kg_m3: f64,
    /// Density of the solids of the fine earth, kg/m3.
    pub fine_solid_density_kg_m3: f64,
}

/// A ground that cannot be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GroundFault {
    /// Denser than 0.88 of its solids.
    DenserThanSolids {
        /// As it lies, kg/m3.
        lying_kg_m3: f64,
        /// 0.88 of the solid density, kg/m3.
        limit_kg_m3: f64,
        /// The solid density, kg/m3.
        solid_kg_m3: f64,
    },
}

impl Ground {
    /// Completes the typical traits by the stated rules. The fractions must not all be zero.
    ///
    /// # Errors
    /// A [`GroundFault`] when the density cannot be true.
    pub fn of(traits: &Traits) -> Result<Ground, GroundFault> {
        let fractions_pct = traits.fractions_pct();
        let sum: f64 = fractions_pct.iter().sum();
        let fractions = fractions_pct.map(|part| part / sum);
        let share = |of: Trait, otherwise: f64| traits.typical(of).unwrap_or(otherwise) / 100.0;
        let organic = share(Trait::OrganicMatter, ORGANIC_MATTER_DEFAULT_PCT);
        let gravel = share(Trait::Gravel, 0.0);
        let fine_solid = solid_density_kg_m3(organic, 0.0, fractions);
        let solid = with_gravel(fine_solid, gravel);
        let normal = with_gravel(normal_fine_density_kg_m3(fractions, organic), gravel);
        let (least, most) = ESTIMATED_DENSITY_LIMITS;
        let lying = traits
            .typical(Trait::BulkDensity)
            .unwrap_or(within(normal, least, most));
        let limit = SETTLED_SHARE_OF_GRAIN * solid;
        if lying > limit {
            return Err(GroundFault::DenserThanSolids {
                lying_kg_m3: lying,
                limit_kg_m3: limit,
                solid_kg_m3: solid,
            });
        }
        Ok(Ground {
            fractions,
            organic,
            gravel,
            water_per_dry: traits.typical(Trait::WaterPerDry).map_or_else(
                || estimated_water_per_dry(fractions, organic, lying),
                |percent| percent / 100.0,
            ),
            crumb: traits.typical(Trait::Crumb).unwrap_or(CRUMB_DEFAULT),
            lying_density_kg_m3: lying,
            normal_density_kg_m3: normal,
            solid_density_kg_m3: solid,
            fine_solid_density_kg_m3: fine_solid,
        })
    }

    /// Clay of the mineral fines, %.
    pub fn clay_pct(&self) -> f64 {
        self.fractions[2] * 100.0
    }

    /// Dry density after a season of rain, kg/m3.
    pub fn settled_density_kg_m3(&self) -> f64 {
        self.lying_density_kg_m3
            .min(SETTLED_OVER_NORMAL * self.normal_density_kg_m3)
    }

    /// Dry density on digging day, kg/m3.
    pub fn fresh_density_kg_m3(&self) -> f64 {
        (self.lying_density_kg_m3 / DUG_OVER_LYING)
            .min(self.settled_density_kg_m3() / DUG_OVER_SETTLED)
    }

    /// Pore space as it lies, as a fraction.
    pub fn lying_pore_space(&self) -> f64 {
        1.0 - self.lying_density_kg_m3 / self.solid_density_kg_m3
    }

    /// Whether traffic would be needed to press the dug ground back to how it lies.
    pub fn is_pressed(&self) -> bool {
        SETTLED_OVER_NORMAL * self.normal_density_kg_m3 < 0.95 * self.lying_density_kg_m3
    }

    /// Whether it lies denser than almost any soil of its kind.
    pub fn is_very_dense(&self) -> bool {
        self.lying_density_kg_m3 > DENSE_OVER_NORMAL * self.normal_density_kg_m3
    }
}

/// A density of the fine earth, with gravel added by mass fraction.
fn with_gravel(fine_kg_m3: f64, gravel: f64) -> f64 {
    1.0 / ((1.0 - gravel) / fine_kg_m3 + gravel / GRAVEL_SOLID_KG_M3)
}

/// Density at which a soil of this texture and organic matter usually lies, kg/m3: Adams 1973 with
/// the mineral density of Saxton & Rawls 2006 (equation 6 at no organic matter, clay to 60 %). The
/// best of six published rules on 4,145 measured topsoils; half-width of 90 % about 250.
pub fn normal_fine_density_kg_m3(fractions: [f64; 3], organic: f64) -> f64 {
    let [sand, _, clay] = fractions;
    let mineral = Normal::of(sand, clay.min(CLAY_LIMIT), 0.0).density_kg_m3();
    1.0 / (organic / ORGANIC_BULK_KG_M3 + (1.0 - organic) / mineral)
}

/// Water over dry mass at field capacity (33 kPa) for a ground whose moisture is not given.
fn estimated_water_per_dry(fractions: [f64; 3], organic: f64, lying_kg_m3: f64) -> f64 {
    let [sand, _, clay] = fractions;
    let normal = Normal::of(sand, clay, organic * 100.0);
    let theta = normal.theta_33_at(lying_kg_m3, density_coefficient(clay));
    within(1000.0 * theta / lying_kg_m3, 0.0, WATER_PER_DRY_LIMIT)
}
