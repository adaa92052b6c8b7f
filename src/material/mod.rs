//! What can be added to the ground: its properties, their limits, and the catalogue.

mod catalogue;
#[cfg(not(feature = "page"))]
mod evidence;
mod fact;
mod group;
mod property;

#[cfg(not(feature = "page"))]
pub use catalogue::NUMBERS;
#[cfg(feature = "page")]
pub(crate) use catalogue::lend;
pub use catalogue::{Entry, catalogue};
#[cfg(not(feature = "page"))]
pub use evidence::{ABOUT, About, EVIDENCE, Finding};
pub use fact::{Fact, Hazard, Hazards};
pub use group::Group;
pub use property::Property;

use crate::figure::Figure;
use crate::lane::{Lane, Pair};

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

    pub(crate) fn typical(&self, property: Property) -> Option<f64> {
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

/// A material with every number that mixing needs, SI units and mass fractions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material<L = f64> {
    /// What kind of thing it is.
    pub group: Group,
    /// Mass of water over moist mass.
    pub water_per_wet: L,
    /// Moist mass over loose volume as sold, kg/m3.
    pub loose_density_kg_m3: L,
    /// Oven-dry mass over loose volume, kg/m3.
    pub fresh_dry_density_kg_m3: L,
    /// Oven-dry mass over settled volume, kg/m3.
    pub settled_dry_density_kg_m3: L,
    /// Density of one grain with its inner pores, kg/m3.
    pub grain_density_kg_m3: L,
    /// Density of the solid matter, kg/m3.
    pub solid_density_kg_m3: L,
    /// One characteristic grain size, mm. Sizes are not drawn.
    pub grain_mm: f64,
    /// Organic matter without char, of dry mass.
    pub organic: L,
    /// Char, of dry mass.
    pub char: L,
    /// Sand, silt and clay of the mineral part under 2 mm; sums to 1.
    pub fractions: [L; 3],
    /// Share over 2 mm of the mineral part.
    pub coarse: L,
}

/// Density of solid matter, kg/m3, of organic matter, char and the three mineral fractions, as
/// mass fractions of the whole: the harmonic mean (Ruehlmann & Korschens; char by the same rule).
pub fn solid_density_kg_m3<L: Lane>(organic: L, char: L, fractions: [L; 3]) -> L {
    let [sand, silt, clay] = fractions;
    let mineral = sand * (1.0 / SAND_SOLID_KG_M3)
        + silt * (1.0 / SILT_SOLID_KG_M3)
        + clay * (1.0 / CLAY_SOLID_KG_M3);
    L::all(1.0)
        / (organic * (1.0 / ORGANIC_SOLID_KG_M3)
            + char * (1.0 / CHAR_SOLID_KG_M3)
            + (L::all(1.0) - organic - char) * mineral)
}

impl Material {
    /// Completes the typical properties of a material by the stated rules.
    ///
    /// # Errors
    /// A [`Misfit`] when the properties cannot be true together.
    pub fn of(group: Group, properties: &Properties) -> Result<Material, Misfit> {
        let given = |property| properties.typical(property);
        if given(Property::LooseDensity).is_none() {
            return Err(Misfit::NoLooseDensity);
        }
        let sum_pct =
            given(Property::OrganicMatter).unwrap_or(0.0) + given(Property::Char).unwrap_or(0.0);
        if sum_pct > 100.0 * (1.0 + 1e-9) {
            return Err(Misfit::OrganicAndChar { sum_pct });
        }
        let fractions = [Property::Sand, Property::Silt, Property::Clay].map(given);
        if fractions.iter().any(Option::is_some) && fractions.iter().flatten().all(|f| *f <= 0.0) {
            return Err(Misfit::NoFractions);
        }
        let material =
            Material::<Pair>::complete(group, None, |property| given(property).map(Pair::all))
                .map(Pair::first);
        if let (Some(grain_kg_m3), Some(solid_kg_m3)) =
            (given(Property::GrainDensity), given(Property::SolidDensity))
            && grain_kg_m3 > solid_kg_m3
        {
            return Err(Misfit::GrainAboveSolid {
                grain_kg_m3,
                solid_kg_m3,
            });
        }
        material.checked()
    }

    /// The same material with another moisture, as one line of a barrow has it: fresh and settled
    /// density move together. A line that is not packed, such as a mulch, is not checked for it.
    ///
    /// # Errors
    /// A [`Misfit`] when the drier or wetter density cannot be.
    pub fn with_water(self, water_per_wet: f64, packed: bool) -> Result<Material, Misfit> {
        let fresh = self.loose_density_kg_m3 * (1.0 - water_per_wet);
        let wetted = Material {
            water_per_wet,
            fresh_dry_density_kg_m3: fresh,
            settled_dry_density_kg_m3: fresh * self.settling(),
            ..self
        };
        if packed { wetted.checked() } else { Ok(wetted) }
    }

    /// Settled over fresh dry density.
    pub fn settling(&self) -> f64 {
        if self.fresh_dry_density_kg_m3 > 0.0 {
            self.settled_dry_density_kg_m3 / self.fresh_dry_density_kg_m3
        } else {
            self.group.settling_gain()
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

impl<L: Lane> Material<L> {
    /// Completes what is given by the stated rules, without asking whether it can be true. With a
    /// `settling` the settled density is the fresh one times it, as in every draw.
    pub fn complete(
        group: Group,
        settling: Option<f64>,
        given: impl Fn(Property) -> Option<L>,
    ) -> Material<L> {
        let zero = L::all(0.0);
        let one = L::all(1.0);
        let share = |property| given(property).map_or(zero, |percent| percent * 0.01);
        let loose_density_kg_m3 = given(Property::LooseDensity).unwrap_or(zero);
        let water_per_wet = share(Property::WaterPerWet);
        let (organic, char) = (share(Property::OrganicMatter), share(Property::Char));
        let both = (organic + char).at_least(one);
        let (organic, char) = (organic / both, char / both);
        let fractions = fractions(
            group,
            [
                given(Property::Sand),
                given(Property::Silt),
                given(Property::Clay),
            ],
        );
        let solid = given(Property::SolidDensity)
            .unwrap_or_else(|| solid_density_kg_m3(organic, char, fractions));
        let fresh = loose_density_kg_m3 * (one - water_per_wet);
        let settled = match (settling, given(Property::SettledDryDensity)) {
            (Some(settling), _) => fresh * settling,
            (None, Some(settled)) => settled,
            (None, None) => {
                let settled = fresh * group.settling_gain();
                if group == Group::Sand {
                    settled.at_most(L::all(SAND_SETTLED_LIMIT_KG_M3))
                } else {
                    settled
                }
            }
        };
        let grain = given(Property::GrainDensity).unwrap_or_else(|| {
            if group.is_organic() {
                settled * (1.0 / ORGANIC_SETTLED_SHARE)
            } else {
                solid
            }
        });
        Material {
            group,
            water_per_wet,
            loose_density_kg_m3,
            fresh_dry_density_kg_m3: fresh,
            settled_dry_density_kg_m3: settled,
            // A grain is never denser than what it is made of.
            grain_density_kg_m3: grain.at_most(solid),
            solid_density_kg_m3: solid,
            grain_mm: given(Property::Grain).map_or(GRAIN_DEFAULT_MM, L::first),
            organic,
            char,
            fractions,
            coarse: share(Property::Coarse),
        }
    }

    /// The same material inside the packing's domain, whatever was drawn: grains as dense as its
    /// bulk asks for, as far as its solids allow, and a bulk no denser than its grains allow.
    #[must_use]
    pub fn cut(self) -> Material<L> {
        let fresh = self.fresh_dry_density_kg_m3;
        let settled = self.settled_dry_density_kg_m3;
        let grain = self
            .grain_density_kg_m3
            .at_least(settled * (1.0 / SETTLED_SHARE_OF_GRAIN))
            .at_least(fresh * (1.0 / FRESH_SHARE_OF_GRAIN))
            .at_most(self.solid_density_kg_m3);
        Material {
            grain_density_kg_m3: grain,
            settled_dry_density_kg_m3: settled.at_most(grain * SETTLED_SHARE_OF_GRAIN),
            ..self
        }
    }

    /// The same material with other lanes.
    pub fn map<M>(&self, of: impl Fn(L) -> M) -> Material<M> {
        Material {
            group: self.group,
            water_per_wet: of(self.water_per_wet),
            loose_density_kg_m3: of(self.loose_density_kg_m3),
            fresh_dry_density_kg_m3: of(self.fresh_dry_density_kg_m3),
            settled_dry_density_kg_m3: of(self.settled_dry_density_kg_m3),
            grain_density_kg_m3: of(self.grain_density_kg_m3),
            solid_density_kg_m3: of(self.solid_density_kg_m3),
            grain_mm: self.grain_mm,
            organic: of(self.organic),
            char: of(self.char),
            fractions: self.fractions.map(&of),
            coarse: of(self.coarse),
        }
    }

    /// Whether the part takes room of its own; a liquid only wets the others.
    pub fn packs(&self) -> bool {
        self.group != Group::Liquid
    }

    /// Mineral part, of dry mass, that counts for texture and gravel. Powders and liquids keep
    /// their mass but give none.
    pub fn mineral(&self) -> L {
        if self.group.gives_fines() {
            (L::all(1.0) - self.organic - self.char).at_least(L::all(0.0))
        } else {
            L::all(0.0)
        }
    }
}

/// Sand, silt and clay as given, rescaled to 1, or the group's usual ones.
fn fractions<L: Lane>(group: Group, given: [Option<L>; 3]) -> [L; 3] {
    let [sand, silt, clay] = given;
    let none = sand.is_none() && silt.is_none() && clay.is_none();
    let usual = match group.is_organic() {
        _ if !none => [0.0; 3],
        true => ORGANIC_ASH_PCT,
        false => [100.0, 0.0, 0.0],
    };
    let or = |value: Option<L>, usual: f64| value.unwrap_or(L::all(usual));
    let (sand, silt, clay) = (or(sand, usual[0]), or(silt, usual[1]), or(clay, usual[2]));
    // A draw may have cut all three to nothing: sand then, so that no mass is lost.
    let sum = (sand + silt + clay).at_least(L::all(1e-9));
    let (silt, clay) = (silt / sum, clay / sum);
    [
        (L::all(1.0) - silt - clay).at_least(L::all(0.0)),
        silt,
        clay,
    ]
}
