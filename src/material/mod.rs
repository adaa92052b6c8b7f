//! What can be added to the ground: its properties, their limits, and the catalogue.

mod catalogue;
mod group;
mod property;

pub use catalogue::{CATALOGUE, Entry};
pub use group::Group;
pub use property::Property;

use crate::figure::Figure;

/// Density of humified organic matter, kg/m3 (Ruehlmann & Korschens, as cited by Robinson et al.
/// 2022, Scientific Reports).
pub const ORGANIC_SOLID_KG_M3: f64 = 1430.0;
/// Density of sand grains, kg/m3 (same source).
pub const SAND_SOLID_KG_M3: f64 = 2660.0;
/// Density of silt grains, kg/m3 (same source).
pub const SILT_SOLID_KG_M3: f64 = 2690.0;
/// Density of clay particles, kg/m3 (same source).
pub const CLAY_SOLID_KG_M3: f64 = 2760.0;
/// Density of the solid matter of char, kg/m3 (from memory: Brewer et al. 2014, 1350-1900).
pub const CHAR_SOLID_KG_M3: f64 = 1600.0;

/// Highest share of its grain density that a settled material can reach: above it the packing
/// model leaves its domain (porosity 0.12 against the limit 0.10 at K = 9).
pub const SETTLED_SHARE_OF_GRAIN: f64 = 0.88;
/// The same for a freshly poured material (porosity 0.20 against 0.174 at K = 4.75).
pub const FRESH_SHARE_OF_GRAIN: f64 = 0.80;
/// Settled dry density that no sand passes, kg/m3 (common practice).
const SAND_SETTLED_LIMIT_KG_M3: f64 = 1750.0;
/// Grain density of organic groups where it is not known: settled density over this share.
const ORGANIC_SETTLED_SHARE: f64 = 0.65;
/// Grain size where it is not known, mm.
const GRAIN_DEFAULT_MM: f64 = 1.0;
/// Sand, silt and clay of the ash of organic groups where they are not known, % (sandy loam,
/// picked-up soil; common practice).
const ORGANIC_ASH_PCT: [f64; 3] = [60.0, 25.0, 15.0];

/// How many properties a material can have.
pub const PROPERTIES: usize = Property::ALL.len();

/// The properties of a material as given; what is absent is estimated by [`Material::of`].
#[derive(Clone, Debug, PartialEq)]
pub struct Properties {
    values: [Option<Figure>; PROPERTIES],
}

impl Properties {
    /// No property given.
    pub const NONE: Properties = Properties {
        values: [None; PROPERTIES],
    };

    /// The figure given for a property, if any.
    pub fn get(&self, property: Property) -> Option<Figure> {
        self.values[property as usize]
    }

    /// Sets or clears a property.
    pub fn set(&mut self, property: Property, figure: Option<Figure>) {
        self.values[property as usize] = figure;
    }

    fn typical(&self, property: Property) -> Option<f64> {
        self.get(property).map(|figure| figure.typical)
    }
}

/// What does not fit in a material's properties. Each names the two fields at odds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Misfit {
    /// `loose_density_kg_m3` is required.
    NoLooseDensity,
    /// Organic matter and char together pass 100 %.
    OrganicAndChar {
        /// Their sum, %.
        sum_pct: f64,
    },
    /// Fractions are all zero.
    NoFractions,
    /// Settled dry density above 0.88 of the grain density.
    SettledAboveGrain {
        /// Settled dry density, kg/m3.
        settled_kg_m3: f64,
        /// Its limit, kg/m3.
        limit_kg_m3: f64,
    },
    /// Grain density above the solid density, both given.
    GrainAboveSolid {
        /// Grain density, kg/m3.
        grain_kg_m3: f64,
        /// Solid density, kg/m3.
        solid_kg_m3: f64,
    },
    /// Fresh dry density above 0.80 of the grain density.
    FreshAboveGrain {
        /// Fresh dry density, kg/m3.
        fresh_kg_m3: f64,
        /// Its limit, kg/m3.
        limit_kg_m3: f64,
    },
}

/// A material with every number that mixing needs, typical values, SI units and mass fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// What kind of thing it is.
    pub group: Group,
    /// Mass of water over moist mass.
    pub water_per_wet: f64,
    /// Moist mass over loose volume as sold, kg/m3.
    pub loose_density_kg_m3: f64,
    /// Oven-dry mass over loose volume, kg/m3.
    pub fresh_dry_density_kg_m3: f64,
    /// Oven-dry mass over settled volume, kg/m3.
    pub settled_dry_density_kg_m3: f64,
    /// Density of one grain with its inner pores, kg/m3.
    pub grain_density_kg_m3: f64,
    /// Density of the solid matter, kg/m3.
    pub solid_density_kg_m3: f64,
    /// One characteristic grain size, mm.
    pub grain_mm: f64,
    /// Organic matter without char, of dry mass.
    pub organic: f64,
    /// Char, of dry mass.
    pub char: f64,
    /// Sand, silt and clay of the mineral part under 2 mm; sums to 1.
    pub fractions: [f64; 3],
    /// Share over 2 mm of the mineral part.
    pub coarse: f64,
}

/// Density of solid matter, kg/m3, of organic matter, char and the three mineral fractions, as
/// mass fractions of the whole: the harmonic mean (Ruehlmann & Korschens; char by the same rule).
pub fn solid_density_kg_m3(organic: f64, char: f64, fractions: [f64; 3]) -> f64 {
    let [sand, silt, clay] = fractions;
    let mineral = sand / SAND_SOLID_KG_M3 + silt / SILT_SOLID_KG_M3 + clay / CLAY_SOLID_KG_M3;
    1.0 / (organic / ORGANIC_SOLID_KG_M3
        + char / CHAR_SOLID_KG_M3
        + (1.0 - organic - char) * mineral)
}

impl Material {
    /// Completes the typical properties of a material by the stated rules.
    ///
    /// # Errors
    /// A [`Misfit`] when the properties cannot be true together.
    pub fn of(group: Group, properties: &Properties) -> Result<Material, Misfit> {
        let given = |property| properties.typical(property);
        let share = |property| given(property).unwrap_or(0.0) / 100.0;
        let loose_density_kg_m3 = given(Property::LooseDensity).ok_or(Misfit::NoLooseDensity)?;
        let water_per_wet = share(Property::WaterPerWet);
        let organic = share(Property::OrganicMatter);
        let char = share(Property::Char);
        if organic + char > 1.0 + 1e-9 {
            return Err(Misfit::OrganicAndChar {
                sum_pct: (organic + char) * 100.0,
            });
        }
        let fractions = fractions(group, properties)?;
        let solid_density_kg_m3 = given(Property::SolidDensity)
            .unwrap_or_else(|| solid_density_kg_m3(organic, char, fractions));
        let fresh = loose_density_kg_m3 * (1.0 - water_per_wet);
        let settled = given(Property::SettledDryDensity).unwrap_or_else(|| {
            let settled = fresh * group.settling_gain();
            if group == Group::Sand {
                settled.min(SAND_SETTLED_LIMIT_KG_M3)
            } else {
                settled
            }
        });
        let grain_density_kg_m3 = given(Property::GrainDensity).unwrap_or_else(|| {
            if group.is_organic() {
                settled / ORGANIC_SETTLED_SHARE
            } else {
                solid_density_kg_m3
            }
        });
        let grain_density_kg_m3 = if grain_density_kg_m3 <= solid_density_kg_m3 {
            grain_density_kg_m3
        } else if given(Property::SolidDensity).is_some() && given(Property::GrainDensity).is_some()
        {
            return Err(Misfit::GrainAboveSolid {
                grain_kg_m3: grain_density_kg_m3,
                solid_kg_m3: solid_density_kg_m3,
            });
        } else {
            // One of them is an estimate: a grain is never denser than what it is made of.
            solid_density_kg_m3
        };
        let material = Material {
            group,
            water_per_wet,
            loose_density_kg_m3,
            fresh_dry_density_kg_m3: fresh,
            settled_dry_density_kg_m3: settled,
            grain_density_kg_m3,
            solid_density_kg_m3,
            grain_mm: given(Property::Grain).unwrap_or(GRAIN_DEFAULT_MM),
            organic,
            char,
            fractions,
            coarse: share(Property::Coarse),
        };
        material.checked()
    }

    /// The same material with another moisture, as one line of a barrow has it: fresh and settled
    /// density move together. A line that is not packed, such as a mulch, is not checked for it.
    ///
    /// # Errors
    /// A [`Misfit`] when the drier or wetter density cannot be.
    pub fn with_water(self, water_per_wet: f64, packed: bool) -> Result<Material, Misfit> {
        let fresh = self.loose_density_kg_m3 * (1.0 - water_per_wet);
        let settling = if self.fresh_dry_density_kg_m3 > 0.0 {
            self.settled_dry_density_kg_m3 / self.fresh_dry_density_kg_m3
        } else {
            self.group.settling_gain()
        };
        let wetted = Material {
            water_per_wet,
            fresh_dry_density_kg_m3: fresh,
            settled_dry_density_kg_m3: fresh * settling,
            ..self
        };
        if packed { wetted.checked() } else { Ok(wetted) }
    }

    /// Whether the part takes room of its own; a liquid only wets the others.
    pub fn packs(&self) -> bool {
        self.group != Group::Liquid
    }

    /// Mineral part, of dry mass, that counts for texture and gravel. Powders and liquids keep
    /// their mass but give none.
    pub fn mineral(&self) -> f64 {
        if self.group.gives_fines() {
            (1.0 - self.organic - self.char).max(0.0)
        } else {
            0.0
        }
    }

    fn checked(self) -> Result<Material, Misfit> {
        if !self.packs() {
            return Ok(self);
        }
        let settled_limit = SETTLED_SHARE_OF_GRAIN * self.grain_density_kg_m3;
        let fresh_limit = FRESH_SHARE_OF_GRAIN * self.grain_density_kg_m3;
        // A hair of tolerance, so that a density computed to sit on the limit passes.
        let above = |value: f64, limit: f64| value > limit * (1.0 + 1e-9);
        if above(self.settled_dry_density_kg_m3, settled_limit) {
            return Err(Misfit::SettledAboveGrain {
                settled_kg_m3: self.settled_dry_density_kg_m3,
                limit_kg_m3: settled_limit,
            });
        }
        if above(self.fresh_dry_density_kg_m3, fresh_limit) {
            return Err(Misfit::FreshAboveGrain {
                fresh_kg_m3: self.fresh_dry_density_kg_m3,
                limit_kg_m3: fresh_limit,
            });
        }
        Ok(self)
    }
}

/// Sand, silt and clay as given, rescaled to 1, or the group's usual ones.
fn fractions(group: Group, properties: &Properties) -> Result<[f64; 3], Misfit> {
    let given = [Property::Sand, Property::Silt, Property::Clay]
        .map(|property| properties.typical(property));
    let values = if given.iter().all(Option::is_none) {
        if group.is_organic() {
            ORGANIC_ASH_PCT
        } else {
            [100.0, 0.0, 0.0]
        }
    } else {
        given.map(|value| value.unwrap_or(0.0))
    };
    let sum: f64 = values.iter().sum();
    if sum <= 0.0 {
        return Err(Misfit::NoFractions);
    }
    Ok(values.map(|value| value / sum))
}
