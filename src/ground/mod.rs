//! The starting soil: what is given, what is estimated in its place, and how it lies and digs.

pub mod can;
pub mod dispersion;
mod error;
pub mod feel;
mod form;
pub mod jar;
mod preset;
pub mod report;
pub mod settling;
mod traits;

pub use error::EstimateErrors;
pub(crate) use form::{CRUMB_CLAY_PCT, GRAIN_CLAY_PCT};
pub use form::{CRUMB_MM, Form, Forms, PUDDLED_MM, mean_grain_mm};
pub use preset::{PRESETS, Preset};
pub use traits::Trait;

use crate::figure::Figure;
use crate::lane::{Lane, Pair};
use crate::material::{SETTLED_SHARE_OF_GRAIN, solid_density_kg_m3};
use crate::texture::{Class, classify};
use crate::water::saxton_rawls::{CLAY_LIMIT, Normal, density_coefficient};

/// Density of gravel, kg/m3 (quartz and common rock; handbook value).
pub const GRAVEL_SOLID_KG_M3: f64 = 2650.0;
/// Density of pure organic matter in a soil, kg/m3 (Adams 1973, J. Soil Sci. 24:10).
const ORGANIC_BULK_KG_M3: f64 = 244.0;
/// Organic matter where it is not given, % (common practice for garden soil, and so its spread).
pub const ORGANIC_MATTER_DEFAULT: Figure = Figure::between(1.0, 2.5, 5.0);
/// Estimated density as it lies stays within these, kg/m3.
const ESTIMATED_DENSITY_LIMITS: (f64, f64) = (900.0, 1600.0);
/// A soil settles to at most this multiple of its normal density; denser is the work of traffic
/// (a choice: about half of the doubt on normal density).
pub(crate) const SETTLED_OVER_NORMAL: f64 = 1.10;
/// Above this multiple of normal density a soil is told to be very dense (a choice, beyond the 95th
/// percentile of measured over normal density).
const DENSE_OVER_NORMAL: f64 = 1.375;
/// Digging loosens a soil by this factor (tilled layers stand 20-30 % deeper; common practice).
pub(crate) const DUG_OVER_LYING: f64 = 1.25;
/// And by at least this factor against its settled state (common practice).
pub(crate) const DUG_OVER_SETTLED: f64 = 1.10;
/// Crumb where it is not given: an ordinary bed, from cloddy to a garden crumb (a choice).
pub const CRUMB_DEFAULT: Figure = Figure::between(0.3, 0.5, 0.8);
/// Most water per dry mass accepted, as the recipe's limit.
const WATER_PER_DRY_LIMIT: f64 = 3.0;

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

    pub(crate) fn typical(&self, of: Trait) -> Option<f64> {
        self.get(of).map(|figure| figure.typical)
    }
}

/// The ground with every number that mixing needs, SI units and mass fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground<L = f64> {
    /// Sand, silt and clay of the mineral fines; sums to 1.
    pub fractions: [L; 3],
    /// Organic matter, of dry fine earth.
    pub organic: L,
    /// Gravel, of the whole dry soil.
    pub gravel: L,
    /// Mass of water over dry mass.
    pub water_per_dry: L,
    /// Where the clay stands between puddled (0) and crumbs (1).
    pub crumb: L,
    /// Dry density as it lies, kg/m3.
    pub lying_density_kg_m3: L,
    /// Dry density of this texture and organic matter as soils usually lie, kg/m3.
    pub normal_density_kg_m3: L,
    /// Density of its solids, gravel included, kg/m3.
    pub solid_density_kg_m3: L,
    /// Density of the solids of the fine earth, kg/m3.
    pub fine_solid_density_kg_m3: L,
}

/// What a ground is completed from: its traits as one draw has them.
#[derive(Clone, Copy, Debug)]
pub struct Given<L> {
    /// Sand, silt and clay, in any unit; not all zero.
    pub fractions: [L; 3],
    /// Organic matter, of dry fine earth.
    pub organic: L,
    /// Gravel, of the whole dry soil.
    pub gravel: L,
    /// Where the clay stands between puddled (0) and crumbs (1).
    pub crumb: L,
    /// Density as it lies, kg/m3, or the error of its estimate.
    pub lying_density_kg_m3: Measured<L>,
    /// Mass of water over dry mass, or the error of the water held at 33 kPa, by volume.
    pub water_per_dry: Measured<L>,
}

/// A number that is given, or estimated with an error.
#[derive(Clone, Copy, Debug)]
pub enum Measured<L> {
    /// As given.
    Given(L),
    /// To be estimated, and what to add to the estimate.
    Estimated(L),
}

/// A ground that cannot be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GroundFault {
    /// Denser than 0.88 of its solids.
    DenserThanSolids {
        /// As it lies or was measured, kg/m3.
        lying_kg_m3: f64,
        /// 0.88 of the solid density, kg/m3.
        limit_kg_m3: f64,
        /// The solid density, kg/m3.
        solid_kg_m3: f64,
    },
}

/// Sand, silt and clay of one draw, %, from the typical ones and those drawn. Clay keeps its draw;
/// other drawn ones keep theirs as far as there is room, and if all are drawn they share it. Those
/// without a range share the rest in their typical proportion.
pub fn drawn_fractions<L: Lane>(typical_pct: [f64; 3], drawn_pct: [Option<L>; 3]) -> [L; 3] {
    let (zero, hundred) = (L::all(0.0), L::all(100.0));
    let [sand, silt, clay] = drawn_pct;
    let [is_sand, is_silt, is_clay] = [sand.is_some(), silt.is_some(), clay.is_some()];
    let [sand_pct, silt_pct, clay_pct] = typical_pct;
    if !(is_sand || is_silt || is_clay) {
        return [L::all(sand_pct), L::all(silt_pct), L::all(clay_pct)];
    }
    // A hair keeps the proportions of nothings.
    let hair = L::all(1e-9);
    let or_none = |part: Option<L>| part.map_or(zero, |part| part.at_least(hair));
    let (sand, silt, clay) = (or_none(sand), or_none(silt), clay.unwrap_or(zero));
    let room = hundred - clay;
    let fits = room / (sand + silt).at_least(hair);
    let fits = if is_sand && is_silt && is_clay {
        fits
    } else {
        fits.at_most(L::all(1.0))
    };
    let (sand, silt) = (sand * fits, silt * fits);
    let rest = (room - sand - silt).at_least(zero);
    let open = |is_drawn: bool, weight: f64| if is_drawn { 0.0 } else { weight };
    let weights = |sand_pct, silt_pct, clay_pct| {
        [
            open(is_sand, sand_pct),
            open(is_silt, silt_pct),
            open(is_clay, clay_pct),
        ]
    };
    let mut weight = weights(sand_pct, silt_pct, clay_pct);
    if weight[0] + weight[1] + weight[2] <= 0.0 {
        weight = weights(1.0, 1.0, 1.0);
    }
    let sum = weight[0] + weight[1] + weight[2];
    let part = |is_drawn: bool, drawn: L, weight: f64| {
        if is_drawn {
            drawn
        } else {
            rest * (weight / sum)
        }
    };
    [
        part(is_sand, sand, weight[0]),
        part(is_silt, silt, weight[1]),
        part(is_clay, clay, weight[2]),
    ]
}

impl Ground {
    /// Completes the typical traits by the stated rules. The fractions must not all be zero.
    ///
    /// # Errors
    /// A [`GroundFault`] when the density cannot be true.
    pub fn of(traits: &Traits) -> Result<Ground, GroundFault> {
        let given = |of: Trait| traits.typical(of);
        let share = |of: Trait, otherwise: f64| Pair::all(given(of).unwrap_or(otherwise) * 0.01);
        let measured = |of: Trait, factor: f64| {
            given(of).map_or(Measured::Estimated(Pair::all(0.0)), |value| {
                Measured::Given(Pair::all(value * factor))
            })
        };
        let ground = Ground::complete(&Given {
            fractions: traits.fractions_pct().map(Pair::all),
            organic: share(Trait::OrganicMatter, ORGANIC_MATTER_DEFAULT.typical),
            gravel: share(Trait::Gravel, 0.0),
            crumb: Pair::all(given(Trait::Crumb).unwrap_or(CRUMB_DEFAULT.typical)),
            lying_density_kg_m3: measured(Trait::BulkDensity, 1.0),
            water_per_dry: measured(Trait::WaterPerDry, 0.01),
        })
        .map(Pair::first);
        let solid = ground.solid_density_kg_m3;
        let limit = SETTLED_SHARE_OF_GRAIN * solid;
        let lying = given(Trait::BulkDensity).unwrap_or(ground.lying_density_kg_m3);
        if lying > limit {
            return Err(GroundFault::DenserThanSolids {
                lying_kg_m3: lying,
                limit_kg_m3: limit,
                solid_kg_m3: solid,
            });
        }
        Ok(ground)
    }

    /// Sand, silt and clay, %; none where all of it is gravel or organic matter.
    pub fn fractions_pct(&self) -> Option<[f64; 3]> {
        (self.gravel < 1.0 && self.organic < 1.0).then(|| self.fractions.map(|share| 100.0 * share))
    }

    /// Its texture class.
    pub fn class(&self) -> Option<Class> {
        self.fractions_pct().map(classify)
    }

    /// Clay of the mineral fines, %.
    pub fn clay_pct(&self) -> f64 {
        self.fractions[2] * 100.0
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

impl<L: Lane> Ground<L> {
    /// Completes what is given by the stated rules. A density that its solids cannot have is cut.
    pub fn complete(given: &Given<L>) -> Ground<L> {
        let [sand, silt, clay] = given.fractions;
        let sum = sand + silt + clay;
        let fractions = [sand / sum, silt / sum, clay / sum];
        let Given {
            organic, gravel, ..
        } = *given;
        let fine_solid = solid_density_kg_m3(organic, L::all(0.0), fractions);
        let solid = with_gravel(fine_solid, gravel);
        let normal = with_gravel(normal_fine_density_kg_m3(fractions, organic), gravel);
        let lying = match given.lying_density_kg_m3 {
            Measured::Given(density) => density,
            Measured::Estimated(error) => {
                let (least, most) = ESTIMATED_DENSITY_LIMITS;
                let estimate = normal.at_least(L::all(least)).at_most(L::all(most));
                let (least, most) = Trait::BulkDensity.limits();
                (estimate + error)
                    .at_least(L::all(least))
                    .at_most(L::all(most))
            }
        };
        let lying = lying.at_most(solid * SETTLED_SHARE_OF_GRAIN);
        let water_per_dry = match given.water_per_dry {
            Measured::Given(water) => water,
            Measured::Estimated(error) => {
                let [sand, _, clay] = fractions;
                let theta = Normal::of(sand, clay, organic * 100.0)
                    .theta_33_at(lying, density_coefficient(clay));
                ((theta + error) * 1000.0 / lying)
                    .at_least(L::all(0.0))
                    .at_most(L::all(WATER_PER_DRY_LIMIT))
            }
        };
        Ground {
            fractions,
            organic,
            gravel,
            water_per_dry,
            crumb: given.crumb,
            lying_density_kg_m3: lying,
            normal_density_kg_m3: normal,
            solid_density_kg_m3: solid,
            fine_solid_density_kg_m3: fine_solid,
        }
    }

    /// The same ground with other lanes.
    pub fn map<M>(&self, of: impl Fn(L) -> M) -> Ground<M> {
        Ground {
            fractions: self.fractions.map(&of),
            organic: of(self.organic),
            gravel: of(self.gravel),
            water_per_dry: of(self.water_per_dry),
            crumb: of(self.crumb),
            lying_density_kg_m3: of(self.lying_density_kg_m3),
            normal_density_kg_m3: of(self.normal_density_kg_m3),
            solid_density_kg_m3: of(self.solid_density_kg_m3),
            fine_solid_density_kg_m3: of(self.fine_solid_density_kg_m3),
        }
    }

    /// Dry density after a season of rain, kg/m3.
    pub fn settled_density_kg_m3(&self) -> L {
        self.lying_density_kg_m3
            .at_most(self.normal_density_kg_m3 * SETTLED_OVER_NORMAL)
    }

    /// Dry density on digging day, kg/m3.
    pub fn fresh_density_kg_m3(&self) -> L {
        (self.lying_density_kg_m3 * (1.0 / DUG_OVER_LYING))
            .at_most(self.settled_density_kg_m3() * (1.0 / DUG_OVER_SETTLED))
    }
}

/// A density of the fine earth, with gravel added by mass fraction.
fn with_gravel<L: Lane>(fine_kg_m3: L, gravel: L) -> L {
    L::all(1.0) / ((L::all(1.0) - gravel) / fine_kg_m3 + gravel * (1.0 / GRAVEL_SOLID_KG_M3))
}

/// Density at which a soil of this texture and organic matter usually lies, kg/m3: Adams 1973 with
/// the mineral density of Saxton & Rawls 2006 (equation 6 at no organic matter, clay to 60 %). The
/// best of six published rules on 4,145 measured topsoils; half-width of 90 % about 250.
pub fn normal_fine_density_kg_m3<L: Lane>(fractions: [L; 3], organic: L) -> L {
    let [sand, _, clay] = fractions;
    let mineral = Normal::of(sand, clay.at_most(L::all(CLAY_LIMIT)), L::all(0.0)).density_kg_m3();
    L::all(1.0) / (organic * (1.0 / ORGANIC_BULK_KG_M3) + (L::all(1.0) - organic) / mineral)
}
