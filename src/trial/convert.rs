//! From what is weighed and timed in a trial to what is compared. What reads a can, a dilution or a
//! crop's loss by salt stands where it stood: `ground::can`, `chemistry::salt`,
//! `chemistry::extracts`, `chemistry::crop`.

use crate::chemistry::extracts::{
    Coarseness, EC_LIMITS_DS_M, EXTRACT_DOUBT, SATURATION_LIMITS, paste_of_1to1_ds_m,
    paste_of_1to2_ds_m,
};
use crate::chemistry::salt::paste_factor;
use crate::figure::Figure;
use crate::ground::GRAVEL_SOLID_KG_M3;

/// Density of soil grains that a porosity is judged by, g/mL.
const GRAINS_G_ML: f64 = GRAVEL_SOLID_KG_M3 / 1000.0;
/// Molar masses, g/mol, as commonly printed: of water, and of gypsum with its two.
const WATER_G_MOL: f64 = 18.015;
const GYPSUM_G_MOL: f64 = 172.17;

/// A surface sinks at most by this share of the depth (a choice).
const SUNK_MOST: f64 = 0.8;

/// Minutes in an hour.
const MIN_IN_H: f64 = 60.0;
/// Seconds in an hour.
const S_IN_H: f64 = 3600.0;

/// A number that nothing follows from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConvertFault {
    /// Of what.
    pub of: Entry,
    /// As given.
    pub value: f64,
    /// Least accepted.
    pub low: f64,
    /// Greatest accepted.
    pub high: f64,
}

/// What is typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// Volume of the soil, mL.
    VolumeMl,
    /// Dry mass, g.
    DryG,
    /// Water that fills it, beyond dry, g.
    SaturatingG,
    /// Water that ran out, mL.
    DrainedMl,
    /// Water poured in, mL.
    PouredMl,
    /// Water that was in it, mL.
    WaterBeforeMl,
    /// Dry density, g/mL.
    DensityGMl,
    /// Water over dry mass, g/g.
    WaterGG,
    /// Inner diameter of the ring, cm.
    DiameterCm,
    /// Depth of water, mm.
    DepthMm,
    /// Time, min.
    Minutes,
    /// Time, s.
    Seconds,
    /// Depth of the soil, cm.
    SoilCm,
    /// Depth of water above it at first, cm.
    FirstCm,
    /// And at the end, cm.
    LastCm,
    /// Gypsum in the dry mix, %.
    GypsumPct,
    /// How far the surface sank, cm.
    SunkCm,
    /// Conductivity, dS/m.
    EcDsM,
    /// Temperature, Celsius.
    Celsius,
    /// Water in the saturated paste, g/g.
    SaturationGG,
}

impl Entry {
    /// Least and greatest value accepted (a choice: a thimble to a bed).
    pub fn limits(self) -> (f64, f64) {
        match self {
            Entry::VolumeMl => (1.0, 1e7),
            Entry::DryG => (0.1, 1e8),
            Entry::SaturatingG | Entry::DrainedMl | Entry::PouredMl | Entry::WaterBeforeMl => {
                (0.0, 1e7)
            }
            Entry::DensityGMl => (0.02, 2.6),
            Entry::WaterGG => (0.0, 10.0),
            Entry::DiameterCm => (1.0, 200.0),
            Entry::DepthMm => (0.1, 1000.0),
            Entry::Minutes => (0.01, 100_000.0),
            Entry::Seconds => (0.1, 1e7),
            Entry::SoilCm => (0.5, 300.0),
            Entry::FirstCm => (0.01, 300.0),
            Entry::LastCm => (0.0, 300.0),
            Entry::GypsumPct => (0.0, 100.0),
            Entry::SunkCm => (-300.0, 300.0),
            Entry::EcDsM => EC_LIMITS_DS_M,
            Entry::Celsius => (0.0, 50.0),
            Entry::SaturationGG => SATURATION_LIMITS,
        }
    }

    fn of(self, value: f64) -> Result<f64, ConvertFault> {
        self.within(value, self.limits())
    }

    fn within(self, value: f64, (low, high): (f64, f64)) -> Result<f64, ConvertFault> {
        // Also refuses what is no number.
        if value >= low && value <= high {
            return Ok(value);
        }
        let of = self;
        Err(ConvertFault {
            of,
            value,
            low,
            high,
        })
    }
}

/// What a container that was filled with water and let drain tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drained {
    /// Pores that water filled, of the volume.
    pub total_porosity: f64,
    /// Air once it stopped draining, of the volume. It belongs to this height of soil.
    pub air_space: f64,
    /// Water left, of the volume.
    pub capacity: f64,
    /// Dry density, g/mL.
    pub density_g_ml: f64,
    /// Porosity by density; what the first falls short of it is air that was caught.
    pub porosity_of_density: f64,
}

/// Pores of a container by weighing it dry, full and drained.
///
/// # Errors
/// A number outside its limits; water that ran out and was not in it.
pub fn drained(
    volume_ml: f64,
    dry_g: f64,
    saturating_g: f64,
    drained_ml: f64,
) -> Result<Drained, ConvertFault> {
    let volume = Entry::VolumeMl.of(volume_ml)?;
    let density_g_ml = Entry::DensityGMl.of(Entry::DryG.of(dry_g)? / volume)?;
    let saturating = Entry::SaturatingG.within(saturating_g, (0.0, volume))?;
    let drained = Entry::DrainedMl.within(drained_ml, (0.0, saturating))?;
    Ok(Drained {
        total_porosity: saturating / volume,
        air_space: drained / volume,
        capacity: (saturating - drained) / volume,
        density_g_ml,
        porosity_of_density: porosity(density_g_ml),
    })
}

/// Air once drained, of the volume, from the water that ran out: no drying needed.
///
/// # Errors
/// A number outside its limits.
pub fn air_space(volume_ml: f64, drained_ml: f64) -> Result<f64, ConvertFault> {
    let volume = Entry::VolumeMl.of(volume_ml)?;
    Ok(Entry::DrainedMl.within(drained_ml, (0.0, volume))? / volume)
}

/// Pores by pouring water in until it stands. The water that was in it counts; forgotten, a moist
/// clay seems a third less open.
///
/// # Errors
/// A number outside its limits.
pub fn poured_porosity(
    volume_ml: f64,
    poured_ml: f64,
    before_ml: f64,
) -> Result<f64, ConvertFault> {
    let volume = Entry::VolumeMl.of(volume_ml)?;
    let before = Entry::WaterBeforeMl.within(before_ml, (0.0, volume))?;
    let poured = Entry::PouredMl.within(poured_ml, (0.0, volume - before))?;
    Ok((poured + before) / volume)
}

/// Pore space by dry density, of the volume.
fn porosity(density_g_ml: f64) -> f64 {
    1.0 - density_g_ml / GRAINS_G_ML
}

/// Water of the volume from water over dry mass and dry density, and the share of the pores it fills.
///
/// # Errors
/// A number outside its limits.
pub fn water_by_volume(water_g_g: f64, density_g_ml: f64) -> Result<[f64; 2], ConvertFault> {
    let density = Entry::DensityGMl.of(density_g_ml)?;
    let water = Entry::WaterGG.of(water_g_g)? * density;
    Ok([water, water / porosity(density)])
}

/// Water for a depth in a ring, mL: compute it from the ring that you have.
///
/// # Errors
/// A number outside its limits.
pub fn ring_water_ml(diameter_cm: f64, depth_mm: f64) -> Result<f64, ConvertFault> {
    let diameter = Entry::DiameterCm.of(diameter_cm)?;
    Ok(super::crops::round_area_cm2(diameter) * Entry::DepthMm.of(depth_mm)? / 10.0)
}

/// How fast water went in, mm/h.
///
/// # Errors
/// A number outside its limits.
pub fn infiltration_mm_h(depth_mm: f64, minutes: f64) -> Result<f64, ConvertFault> {
    Ok(Entry::DepthMm.of(depth_mm)? / Entry::Minutes.of(minutes)? * MIN_IN_H)
}

/// How long a depth of water takes at a rate, min; none where nothing goes in.
pub fn minutes_of(depth_mm: f64, mm_h: f64) -> Option<f64> {
    let minutes = depth_mm / mm_h * MIN_IN_H;
    (mm_h > 0.0 && minutes.is_finite()).then_some(minutes)
}

/// Conductivity of the container as a column full of water that drains freely, cm/h: Darcy's law
/// with a falling head. Water that runs down the wall makes nonsense of it.
///
/// # Errors
/// A number outside its limits, or water that did not fall.
pub fn column_cm_h(
    soil_cm: f64,
    first_cm: f64,
    last_cm: f64,
    seconds: f64,
) -> Result<f64, ConvertFault> {
    let soil = Entry::SoilCm.of(soil_cm)?;
    let first = Entry::FirstCm.of(first_cm)?;
    let last = Entry::LastCm.within(last_cm, (0.0, first))?;
    let hours = Entry::Seconds.of(seconds)? / S_IN_H;
    Ok(soil / hours * libm::log((first + soil) / (last + soil)))
}

/// What gypsum loses of its mass when all the water of its crystals is dried out, %.
pub fn gypsum_loss_pct() -> f64 {
    100.0 * 2.0 * WATER_G_MOL / GYPSUM_G_MOL
}

/// False moisture from gypsum dried in an oven, percentage points, by gypsum in the dry mix, %. Dried
/// at 60 C it keeps its water.
///
/// # Errors
/// More than all of it is gypsum.
pub fn false_moisture_pct(gypsum_pct: f64) -> Result<f64, ConvertFault> {
    Ok(Entry::GypsumPct.of(gypsum_pct)? / 100.0 * gypsum_loss_pct())
}

/// Dry density of a container by what was filled in and how far the surface sank since, g/mL: no can
/// that would ruin it. Walls are taken as straight.
///
/// # Errors
/// A number outside its limits.
pub fn sunk_density_g_ml(
    dry_g: f64,
    volume_ml: f64,
    soil_cm: f64,
    sunk_cm: f64,
) -> Result<f64, ConvertFault> {
    let soil = Entry::SoilCm.of(soil_cm)?;
    // A surface that rose has swollen.
    let sunk = Entry::SunkCm.within(sunk_cm, (-soil / 2.0, soil * SUNK_MOST))?;
    let volume = Entry::VolumeMl.of(volume_ml)? * (1.0 - sunk / soil);
    Entry::DensityGMl.of(Entry::DryG.of(dry_g)? / volume)
}

/// How a slurry was made up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slurry {
    /// One part in five of water by mass; of a soil with so much water in its saturated paste, g/g.
    OneToFive {
        /// Water in the paste, g/g.
        saturation: f64,
    },
    /// One part in one by mass.
    OneToOne(Coarseness),
    /// One part in two by mass.
    OneToTwo(Coarseness),
}

/// Conductivity at 25 C of a reading at another temperature, dS/m: 1.9 % a degree (common tables).
///
/// # Errors
/// A number outside its limits.
pub fn ec_at_25_c(ds_m: f64, celsius: f64) -> Result<f64, ConvertFault> {
    let warmer = Entry::Celsius.of(celsius)? - 25.0;
    Ok(Entry::EcDsM.of(ds_m)? / (1.0 + 0.019 * warmer))
}

/// Conductivity of the saturation extract from a slurry, dS/m, with what the ways leave open.
///
/// # Errors
/// A number outside its limits.
pub fn paste_ds_m(ds_m: f64, slurry: Slurry) -> Result<Figure, ConvertFault> {
    let ds_m = Entry::EcDsM.of(ds_m)?;
    let paste = match slurry {
        Slurry::OneToFive { saturation } => {
            ds_m * paste_factor(Entry::SaturationGG.of(saturation)?)
        }
        Slurry::OneToOne(texture) => paste_of_1to1_ds_m(ds_m, texture),
        Slurry::OneToTwo(texture) => paste_of_1to2_ds_m(ds_m, texture),
    };
    let arm = EXTRACT_DOUBT * paste;
    Ok(Figure::between(paste - arm, paste, paste + arm))
}

/// What a container lost between two weighings is water that plants and air took, kg.
pub fn water_used_kg(full_kg: f64, before_kg: f64) -> Option<f64> {
    let used = full_kg - before_kg;
    (used.is_finite() && used >= 0.0).then_some(used)
}
