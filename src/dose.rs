//! A label's rate for a pot, pail, bag or bed: three readings of it, which to use, and the way back.
//!
//! A label gives a mass for an area, worked into a depth. Where the soil is as deep as that, all
//! readings agree; in a deep pot they part by as much as it is deeper.
//!
//! ```
//! use barrowmix::dose::{Deed, Label, Rate, Soil};
//! use barrowmix::material::Group;
//!
//! // "50 lb to 1000 square feet", dug in 6 inches deep; a pail of 0.06 m2 with 10 L.
//! let rate = Rate::of(50.0, "lb/1000ft2").expect("a unit of labels");
//! let label = Label::of(rate, Some(0.1524), None)?;
//! let pail = Soil::of(0.06, 0.010, 1000.0)?;
//! let readings = label.readings(&pail);
//! let advised = readings.of(label.reading(Deed::of(Group::Powder, false)));
//! assert!((readings.area_kg - 0.0146).abs() < 0.0001);
//! assert!(advised > 0.0 && advised < 0.05);
//! # Ok::<(), barrowmix::dose::DoseFault>(())
//! ```

use crate::figure::{Figure, within};
use crate::material::Group;
use crate::quantity::{Dimension, Unit};

/// Depth that a label means when it does not say, in: that of the furrow slice of soil tests (common
/// practice; gardeners also take 6).
pub const UNSAID_DEPTH_IN: f64 = 20.0 / 3.0;
/// Dry mass of an acre's furrow slice, lb: the convention of soil tests.
const FURROW_SLICE_LB: f64 = 2_000_000.0;
/// So many times a label's rate for an area are warned of (a choice).
pub const OVER_LABEL: f64 = 3.0;
/// Less than this is weighed, kg: spoons of powders differ twofold (common practice).
pub const WEIGHED_BELOW_KG: f64 = 0.005;
/// Volume of a mix over the sum of its loose parts (common practice: 0.98 where grains are alike,
/// 0.85 for sand in coarse bark).
pub const SHRINKS_TO: Figure = Figure::between(0.80, 0.90, 0.98);

/// Rates for an area, kg/m2 (a choice: from a trace element to a hand's depth of compost).
pub const AREA_RATE_LIMITS: (f64, f64) = (1e-6, 1e3);
/// Rates for a volume, kg/m3 (a choice).
pub const VOLUME_RATE_LIMITS: (f64, f64) = (1e-6, 2e3);
/// Depths, m (a choice: from raking in to double digging).
pub const DEPTH_LIMITS_M: (f64, f64) = (0.005, 2.0);
/// Dry bulk densities, kg/m3 (a choice: from perlite to packed gravel).
pub const DENSITY_LIMITS_KG_M3: (f64, f64) = (20.0, 2700.0);
/// Surfaces, m2 (a choice: from a plug to a field).
pub const AREA_LIMITS_M2: (f64, f64) = (1e-4, 1e5);
/// Volumes of soil, m3 (a choice).
pub const VOLUME_LIMITS_M3: (f64, f64) = (1e-6, 1e5);
/// Doses, kg (a choice).
pub const DOSE_LIMITS_KG: (f64, f64) = (1e-9, 1e6);

/// Dry bulk density that the convention of soil tests implies, kg/m3: some 1324.
pub fn furrow_slice_kg_m3() -> f64 {
    let slice_m3 = Unit::Acre.factor() * UNSAID_DEPTH_IN * Unit::Inch.factor();
    FURROW_SLICE_LB * Unit::Pound.factor() / slice_m3
}

/// A number that a dose cannot be computed with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoseFault {
    /// Of what.
    pub of: Given,
    /// As given, in SI.
    pub value: f64,
    /// Least accepted.
    pub low: f64,
    /// Greatest accepted.
    pub high: f64,
}

/// What a dose is computed from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    /// The label's rate, kg/m2 or kg/m3.
    Rate,
    /// The depth that the label means, m.
    LabelDepth,
    /// The dry bulk density of the soil that it means, kg/m3.
    LabelDensity,
    /// The surface of one container, m2.
    Area,
    /// The soil in it, m3.
    Volume,
    /// Its dry bulk density, kg/m3.
    Density,
    /// A dose, kg.
    Dose,
}

fn checked(of: Given, value: f64, (low, high): (f64, f64)) -> Result<f64, DoseFault> {
    // Also refuses what is no number.
    if value >= low && value <= high {
        return Ok(value);
    }
    Err(DoseFault {
        of,
        value,
        low,
        high,
    })
}

/// A rate as a label prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rate {
    /// For an area, kg/m2.
    Area(f64),
    /// For a volume of mix, kg/m3.
    Volume(f64),
}

/// A pound to a cubic yard of mix, as growers' labels have it; no unit of a recipe.
pub const POUND_PER_YARD: &str = "lb/yd3";
/// Units in which labels print their rates, by their spelling.
pub const RATE_UNITS: [&str; 6] = [
    "lb/1000ft2",
    "lb/100ft2",
    "g/m2",
    "kg/m2",
    "g/L",
    POUND_PER_YARD,
];

impl Rate {
    /// So many of a unit of [`RATE_UNITS`], or none.
    pub fn of(value: f64, spelling: &str) -> Option<Rate> {
        if spelling == POUND_PER_YARD {
            let one = Unit::Pound.factor() / Unit::CubicYard.factor();
            return Some(Rate::Volume(value * one));
        }
        let unit = Unit::from_spelling(spelling)?;
        let value = value * unit.factor();
        match unit.dimension() {
            Dimension::MassPerArea => Some(Rate::Area(value)),
            Dimension::MassPerVolume => Some(Rate::Volume(value)),
            _ => None,
        }
    }

    /// The number in SI, kg/m2 or kg/m3.
    pub fn value(self) -> f64 {
        match self {
            Rate::Area(value) | Rate::Volume(value) => value,
        }
    }
}

/// What a label says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Label {
    rate: Rate,
    depth_m: f64,
    density_kg_m3: f64,
    /// Whether it says how deep the rate is worked in; else [`UNSAID_DEPTH_IN`] is taken.
    pub depth_said: bool,
}

impl Label {
    /// A label with its rate, the depth to which that is worked in, m, and the dry density of the
    /// soil that it means, kg/m3; without them those of soil tests are taken.
    ///
    /// # Errors
    /// The number that is outside its limits.
    pub fn of(
        rate: Rate,
        depth_m: Option<f64>,
        density_kg_m3: Option<f64>,
    ) -> Result<Label, DoseFault> {
        let (value, limits) = match rate {
            Rate::Area(value) => (value, AREA_RATE_LIMITS),
            Rate::Volume(value) => (value, VOLUME_RATE_LIMITS),
        };
        checked(Given::Rate, value, limits)?;
        let depth = depth_m.unwrap_or(UNSAID_DEPTH_IN * Unit::Inch.factor());
        let density = density_kg_m3.unwrap_or_else(furrow_slice_kg_m3);
        Ok(Label {
            rate,
            depth_m: checked(Given::LabelDepth, depth, DEPTH_LIMITS_M)?,
            density_kg_m3: checked(Given::LabelDensity, density, DENSITY_LIMITS_KG_M3)?,
            depth_said: depth_m.is_some(),
        })
    }

    /// The rate for an area, kg/m2.
    pub fn per_area_kg_m2(&self) -> f64 {
        match self.rate {
            Rate::Area(rate) => rate,
            Rate::Volume(rate) => rate * self.depth_m,
        }
    }

    /// The rate for a volume, kg/m3.
    pub fn per_volume_kg_m3(&self) -> f64 {
        match self.rate {
            Rate::Area(rate) => rate / self.depth_m,
            Rate::Volume(rate) => rate,
        }
    }

    /// The three readings for the soil of one container.
    pub fn readings(&self, soil: &Soil) -> Readings {
        let per_volume = self.per_volume_kg_m3();
        Readings {
            area_kg: self.per_area_kg_m2() * soil.area_m2,
            volume_kg: per_volume * soil.volume_m3,
            mass_kg: per_volume / self.density_kg_m3 * soil.dry_kg(),
        }
    }

    /// The reading to use. A rate for a volume of mix is taken by volume: it means a mix, not a soil.
    pub fn reading(&self, deed: Deed) -> Reading {
        match self.rate {
            Rate::Area(_) => deed.reading(),
            Rate::Volume(_) => Reading::Volume,
        }
    }

    /// What a label with this depth and density would have to say for a dose in one container, by one
    /// of the readings, kg/m2 or kg/m3 as its own rate.
    ///
    /// # Errors
    /// A dose outside its limits.
    pub fn rate_of(&self, dose_kg: f64, reading: Reading, soil: &Soil) -> Result<f64, DoseFault> {
        let dose = checked(Given::Dose, dose_kg, DOSE_LIMITS_KG)?;
        Ok(self.rate.value() * (dose / self.readings(soil).of(reading)))
    }

    /// How many times the label's rate for an area a dose in one container is.
    pub fn times_per_area(&self, dose_kg: f64, soil: &Soil) -> f64 {
        dose_kg / (self.per_area_kg_m2() * soil.area_m2)
    }
}

/// The soil of one container, or of a bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soil {
    area_m2: f64,
    volume_m3: f64,
    density_kg_m3: f64,
}

impl Soil {
    /// A surface, m2, the soil below it, m3, and its dry bulk density, kg/m3.
    ///
    /// # Errors
    /// The number that is outside its limits.
    pub fn of(area_m2: f64, volume_m3: f64, density_kg_m3: f64) -> Result<Soil, DoseFault> {
        Ok(Soil {
            area_m2: checked(Given::Area, area_m2, AREA_LIMITS_M2)?,
            volume_m3: checked(Given::Volume, volume_m3, VOLUME_LIMITS_M3)?,
            density_kg_m3: checked(Given::Density, density_kg_m3, DENSITY_LIMITS_KG_M3)?,
        })
    }

    /// Its dry mass, kg.
    pub fn dry_kg(&self) -> f64 {
        self.volume_m3 * self.density_kg_m3
    }

    /// How deep it would be with straight walls, m.
    pub fn depth_m(&self) -> f64 {
        self.volume_m3 / self.area_m2
    }
}

/// What a rate for an area is taken to mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// So much for every surface.
    Area,
    /// So much for every volume that the label works it into.
    Volume,
    /// So much for every mass of dry soil that is in that volume.
    Mass,
}

impl Reading {
    /// All of them.
    pub const ALL: [Reading; 3] = [Reading::Area, Reading::Volume, Reading::Mass];
}

/// One rate, read three ways, for one container.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// By its surface, kg.
    pub area_kg: f64,
    /// By its volume, kg.
    pub volume_kg: f64,
    /// By its dry mass, kg.
    pub mass_kg: f64,
}

impl Readings {
    /// One of them, kg.
    pub fn of(&self, reading: Reading) -> f64 {
        match reading {
            Reading::Area => self.area_kg,
            Reading::Volume => self.volume_kg,
            Reading::Mass => self.mass_kg,
        }
    }
}

/// What an addition does to a soil, which decides how its rate is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// Lime, sulfur, gypsum, ash: what there is to react with counts, so mass.
    Reacts,
    /// Spread on top and left there: the surface counts.
    OnTop,
    /// Meals mixed through: the room that roots have counts, so volume.
    Feeds,
    /// Sand, perlite, compost, char, peat: its share of the volume counts, never the surface.
    Fills,
}

impl Deed {
    /// Of a kind of material.
    pub fn of(group: Group, on_top: bool) -> Deed {
        match group {
            _ if on_top => Deed::OnTop,
            Group::Powder => Deed::Reacts,
            Group::Liquid => Deed::OnTop,
            Group::Meal | Group::MineralMeal => Deed::Feeds,
            Group::Sand
            | Group::Grit
            | Group::PorousMineral
            | Group::Char
            | Group::PeatCoir
            | Group::CompostManure
            | Group::BarkWoodStraw
            | Group::Soil => Deed::Fills,
        }
    }

    /// The reading to use. By volume, an addition keeps its share.
    pub fn reading(self) -> Reading {
        match self {
            Deed::Reacts => Reading::Mass,
            Deed::OnTop => Reading::Area,
            Deed::Feeds | Deed::Fills => Reading::Volume,
        }
    }

    /// Whether a reading can be used at all.
    pub fn allows(self, reading: Reading) -> bool {
        self != Deed::Fills || reading == Reading::Volume
    }
}

/// US cups in a US gallon of mix of an addition with a share of its volume, 0 to 1.
pub fn cups_per_gallon(share: f64) -> f64 {
    within(share, 0.0, 1.0) * (Unit::Gallon.factor() / Unit::Cup.factor())
}

/// Loose parts together that fill a volume, in its unit, when mixing takes them to a share of their
/// sum, which is held between a half and all of it.
pub fn loose_to_fill(volume: f64, shrinks_to: f64) -> f64 {
    within(volume, 0.0, VOLUME_LIMITS_M3.1) / within(shrinks_to, 0.5, 1.0)
}
