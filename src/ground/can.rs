//! Density of the ground as it lies, by a can of known volume pressed into it.

use super::Trait;
use crate::figure::{Figure, within};

/// Error of the inner diameter, measured at three places, cm (common practice).
const DIAMETER_ERROR_CM: f64 = 0.05;
/// Error of the height, measured at three places, cm (common practice).
const HEIGHT_ERROR_CM: f64 = 0.1;
/// Error of the dry mass, g (common practice: a kitchen scale).
const MASS_ERROR_G: f64 = 1.0;
/// Error of a given volume, as a share of it (a choice: a little more than what the errors of
/// diameter and height make of a can of 7 by 10 cm).
const VOLUME_ERROR: f64 = 0.02;
/// Spread of cans taken side by side in one bed, kg/m3 (common practice: 0.06 g/cm3).
const FIELD_ERROR_KG_M3: f64 = 60.0;
/// The 90th percentile of a normal spread, in standard errors.
const NINETIETH: f64 = 1.2816;
/// kg/m3 in 1 g/cm3.
const KG_M3: f64 = 1000.0;

/// A number of the can.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CanNumber {
    /// Volume, cm3.
    VolumeCm3,
    /// Inner diameter, cm.
    DiameterCm,
    /// Height, cm.
    HeightCm,
    /// Mass of the empty can, g.
    CanG,
    /// Mass of the can full of soil as it lies, g.
    MoistGrossG,
    /// Mass of the can with the dried soil, g.
    DryGrossG,
    /// Mass of water over dry mass, %.
    WaterPerDryPct,
}

impl CanNumber {
    /// The least and the greatest value accepted: no can is larger (a choice).
    pub fn limits(self) -> (f64, f64) {
        match self {
            CanNumber::VolumeCm3 | CanNumber::CanG => (0.0, 100_000.0),
            CanNumber::DiameterCm | CanNumber::HeightCm => (0.0, 100.0),
            CanNumber::MoistGrossG | CanNumber::DryGrossG => (0.0, 300_000.0),
            CanNumber::WaterPerDryPct => Trait::WaterPerDry.limits(),
        }
    }

    fn checked(self, value: f64) -> Result<f64, CanFault> {
        let (low, high) = self.limits();
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(CanFault::Outside {
                which: self,
                value,
                low,
                high,
            })
        }
    }
}

/// How large the can is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CanSize {
    /// By its volume, for instance as the grams of water that fill it.
    Volume {
        /// Volume, cm3.
        volume_cm3: f64,
    },
    /// By its inner measures.
    Measures {
        /// Inner diameter, cm.
        diameter_cm: f64,
        /// Height, cm.
        height_cm: f64,
    },
}

/// What was weighed, always with the can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CanWeighing {
    /// The soil as it lies, and dried.
    MoistAndDry {
        /// Can and moist soil, g.
        moist_gross_g: f64,
        /// Can and dried soil, g.
        dry_gross_g: f64,
    },
    /// Only the dried soil.
    Dry {
        /// Can and dried soil, g.
        dry_gross_g: f64,
    },
    /// The soil as it lies; its moisture is known otherwise and taken as exact.
    MoistWithWater {
        /// Can and moist soil, g.
        moist_gross_g: f64,
        /// Mass of water over dry mass, %.
        water_per_dry_pct: f64,
    },
}

/// A can of soil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Can {
    /// How large it is.
    pub size: CanSize,
    /// Mass of the empty can, g.
    pub can_g: f64,
    /// What was weighed.
    pub weighing: CanWeighing,
}

/// Why a can says nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CanFault {
    /// A number lies outside its limits, or is none.
    Outside {
        /// Which number.
        which: CanNumber,
        /// As given.
        value: f64,
        /// The least accepted.
        low: f64,
        /// The greatest accepted.
        high: f64,
    },
    /// The can holds nothing.
    NoVolume,
    /// The full can is not heavier than the empty one.
    NoSoil {
        /// Which weighing.
        which: CanNumber,
        /// The full can, g.
        gross_g: f64,
        /// The empty can, g.
        can_g: f64,
    },
    /// The soil became heavier by drying.
    DryAboveMoist {
        /// Dried, g.
        dry_gross_g: f64,
        /// Moist, g.
        moist_gross_g: f64,
    },
    /// No soil is so light or so heavy.
    DensityOutside {
        /// As computed, kg/m3.
        density_kg_m3: f64,
        /// The least accepted, kg/m3.
        low_kg_m3: f64,
        /// The greatest accepted, kg/m3.
        high_kg_m3: f64,
    },
    /// No soil is so wet.
    WaterOutside {
        /// As computed, % of the dry mass.
        water_per_dry_pct: f64,
        /// The least accepted, %.
        low_pct: f64,
        /// The greatest accepted, %.
        high_pct: f64,
    },
}

/// What a can says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CanReading {
    /// Volume of the soil, cm3.
    pub volume_cm3: f64,
    /// Dry mass over volume, kg/m3. The ends hold what the instruments leave open and how cans from
    /// one bed differ.
    pub bulk_density_kg_m3: Figure,
    /// Standard error of the instruments alone, kg/m3.
    pub instrument_error_kg_m3: f64,
    /// Mass of water over dry mass, %; none if the moist soil was not weighed.
    pub water_per_dry_pct: Option<Figure>,
}

impl Can {
    /// Density and moisture.
    ///
    /// # Errors
    /// Numbers that cannot be, alone or together.
    pub fn read(&self) -> Result<CanReading, CanFault> {
        let (volume_cm3, volume_error) = self.size.volume()?;
        let can_g = CanNumber::CanG.checked(self.can_g)?;
        let net = |which: CanNumber, gross: f64| {
            let gross_g = which.checked(gross)?;
            if gross_g > can_g {
                Ok(gross_g - can_g)
            } else {
                Err(CanFault::NoSoil {
                    which,
                    gross_g,
                    can_g,
                })
            }
        };
        let (dry_g, water_pct) = match self.weighing {
            CanWeighing::MoistAndDry {
                moist_gross_g,
                dry_gross_g,
            } => {
                let moist_g = net(CanNumber::MoistGrossG, moist_gross_g)?;
                let dry_g = net(CanNumber::DryGrossG, dry_gross_g)?;
                if dry_g > moist_g {
                    return Err(CanFault::DryAboveMoist {
                        dry_gross_g,
                        moist_gross_g,
                    });
                }
                (dry_g, Some((moist_g - dry_g) / dry_g * 100.0))
            }
            CanWeighing::Dry { dry_gross_g } => (net(CanNumber::DryGrossG, dry_gross_g)?, None),
            CanWeighing::MoistWithWater {
                moist_gross_g,
                water_per_dry_pct,
            } => {
                let moist_g = net(CanNumber::MoistGrossG, moist_gross_g)?;
                let water_pct = CanNumber::WaterPerDryPct.checked(water_per_dry_pct)?;
                (moist_g / (1.0 + water_pct / 100.0), Some(water_pct))
            }
        };
        if let Some(water_per_dry_pct) = water_pct {
            let (low_pct, high_pct) = Trait::WaterPerDry.limits();
            if !(low_pct..=high_pct).contains(&water_per_dry_pct) {
                return Err(CanFault::WaterOutside {
                    water_per_dry_pct,
                    low_pct,
                    high_pct,
                });
            }
        }
        let density = dry_g / volume_cm3 * KG_M3;
        let (low, high) = Trait::BulkDensity.limits();
        if !(low..=high).contains(&density) {
            return Err(CanFault::DensityOutside {
                density_kg_m3: density,
                low_kg_m3: low,
                high_kg_m3: high,
            });
        }
        let instrument = density * length(MASS_ERROR_G / dry_g, volume_error);
        let half = NINETIETH * length(instrument, FIELD_ERROR_KG_M3);
        Ok(CanReading {
            volume_cm3,
            bulk_density_kg_m3: Figure::between(
                within(density - half, low, density),
                density,
                within(density + half, density, high),
            ),
            instrument_error_kg_m3: instrument,
            water_per_dry_pct: water_pct.map(Figure::exact),
        })
    }
}

impl CanSize {
    /// The volume, cm3, and its error as a share of it.
    fn volume(self) -> Result<(f64, f64), CanFault> {
        let (volume, error) = match self {
            CanSize::Volume { volume_cm3 } => {
                (CanNumber::VolumeCm3.checked(volume_cm3)?, VOLUME_ERROR)
            }
            CanSize::Measures {
                diameter_cm,
                height_cm,
            } => {
                let diameter = CanNumber::DiameterCm.checked(diameter_cm)?;
                let height = CanNumber::HeightCm.checked(height_cm)?;
                (
                    core::f64::consts::FRAC_PI_4 * diameter * diameter * height,
                    length(2.0 * DIAMETER_ERROR_CM / diameter, HEIGHT_ERROR_CM / height),
                )
            }
        };
        if volume > 0.0 {
            Ok((volume, error))
        } else {
            Err(CanFault::NoVolume)
        }
    }
}

/// The root of the sum of two squares.
fn length(one: f64, other: f64) -> f64 {
    (one * one + other * other).sqrt()
}
