//! Numbers of a material from a label or a weighed bucket.

use crate::material::Property;

/// Atomic mass of phosphorus, g/mol (IUPAC 2007, Wieser & Berglund 2009; from memory),
const PHOSPHORUS_G_MOL: f64 = 30.973_762;
/// of potassium,
const POTASSIUM_G_MOL: f64 = 39.0983;
/// and of oxygen (same source; later tables give 15.999).
const OXYGEN_G_MOL: f64 = 15.9994;
/// Phosphorus in P2O5, by mass.
const P_IN_P2O5: f64 = 2.0 * PHOSPHORUS_G_MOL / (2.0 * PHOSPHORUS_G_MOL + 5.0 * OXYGEN_G_MOL);
/// Potassium in K2O, by mass.
const K_IN_K2O: f64 = 2.0 * POTASSIUM_G_MOL / (2.0 * POTASSIUM_G_MOL + OXYGEN_G_MOL);
/// A bucket that weighs nothing that could be soil or anything else mixed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BucketFault {
    /// A mass or volume that is no positive number, or an empty bucket with a negative mass.
    NotPositive {
        /// The number, kg or m3.
        value: f64,
    },
    /// The full bucket is not heavier than the empty one.
    FullNotHeavier {
        /// Full, kg.
        full_kg: f64,
        /// Empty, kg.
        empty_kg: f64,
    },
    /// A density outside its limits.
    OutOfRange {
        /// The density, kg/m3.
        kg_m3: f64,
        /// Least accepted, kg/m3.
        low_kg_m3: f64,
        /// Greatest accepted, kg/m3.
        high_kg_m3: f64,
    },
}

/// Phosphorus, %, of a material sold by its P2O5.
pub fn phosphorus_pct(p2o5_pct: f64) -> f64 {
    p2o5_pct * P_IN_P2O5
}

/// P2O5, %, of a material with so much phosphorus.
pub fn p2o5_pct(phosphorus_pct: f64) -> f64 {
    phosphorus_pct / P_IN_P2O5
}

/// Potassium, %, of a material sold by its K2O.
pub fn potassium_pct(k2o_pct: f64) -> f64 {
    k2o_pct * K_IN_K2O
}

/// K2O, %, of a material with so much potassium.
pub fn k2o_pct(potassium_pct: f64) -> f64 {
    potassium_pct / K_IN_K2O
}

/// Loose density of what fills a bucket, kg/m3.
///
/// # Errors
/// Masses or a volume that cannot be, or a density outside the limits of
/// [`Property::LooseDensity`].
pub fn weighed_bucket(full_kg: f64, empty_kg: f64, volume_m3: f64) -> Result<f64, BucketFault> {
    for (value, least) in [
        (full_kg, f64::MIN_POSITIVE),
        (empty_kg, 0.0),
        (volume_m3, f64::MIN_POSITIVE),
    ] {
        if !(value >= least && value.is_finite()) {
            return Err(BucketFault::NotPositive { value });
        }
    }
    if full_kg <= empty_kg {
        return Err(BucketFault::FullNotHeavier { full_kg, empty_kg });
    }
    let kg_m3 = (full_kg - empty_kg) / volume_m3;
    let (low_kg_m3, high_kg_m3) = Property::LooseDensity.limits();
    if kg_m3 >= low_kg_m3 && kg_m3 <= high_kg_m3 {
        return Ok(kg_m3);
    }
    Err(BucketFault::OutOfRange {
        kg_m3,
        low_kg_m3,
        high_kg_m3,
    })
}
