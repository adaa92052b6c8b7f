//! How far containers treated alike differ.

use super::{From, PRACTICE};
use crate::source::Mark;

/// Spread of a count that chance alone makes, % of it: of so many seeds, each of which comes up with
/// a probability (binomial). None where nothing is sown or nothing can come up.
pub fn count_cv_pct(probability: f64, seeds: f64) -> Option<f64> {
    let possible = probability > 0.0 && probability <= 1.0 && seeds > 0.0 && seeds.is_finite();
    possible.then(|| 100.0 * libm::sqrt((1.0 - probability) / (probability * seeds)))
}

/// A spread between containers treated alike that can be planned with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UsualSpread {
    /// Of what.
    pub of: Spreads,
    /// Standard deviation over mean, %: least, usual, most.
    pub cv_pct: [f64; 3],
    /// Where it comes from.
    pub from: From,
}

/// Of what a usual spread is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spreads {
    /// Mass of a crop, four plants or more in a container.
    ManyPlants,
    /// Mass of a crop, one plant in each.
    OnePlant,
    /// Mass of a leafy crop in pots under glass.
    UnderGlass,
    /// Conductivity of soil full of water.
    Conductivity,
    /// Time of a ring or a flooded container.
    RingTime,
    /// Density.
    Density,
}

/// Spreads to plan with where the user knows none.
pub const USUAL_SPREADS: [UsualSpread; 6] = [
    spread(Spreads::ManyPlants, [15.0, 20.0, 35.0], PRACTICE),
    spread(Spreads::OnePlant, [30.0, 35.0, 40.0], PRACTICE),
    spread(
        Spreads::UnderGlass,
        [11.1, 11.1, 11.1],
        From {
            source: "lettuce in four mixes, seven pots each, open data; computed here",
            mark: Mark::Verified,
        },
    ),
    spread(
        Spreads::Conductivity,
        [70.0, 70.0, 100.0],
        From {
            source: "Kargas et al. 2021, Geosciences 11:105: 76 cores of one loam, over 70",
            mark: Mark::Verified,
        },
    ),
    spread(Spreads::RingTime, [40.0, 60.0, 80.0], PRACTICE),
    spread(Spreads::Density, [5.0, 7.0, 10.0], PRACTICE),
];

const fn spread(of: Spreads, cv_pct: [f64; 3], from: From) -> UsualSpread {
    UsualSpread { of, cv_pct, from }
}

/// The spread to plan with for a measure, where something is known.
pub fn usual_spread(id: &str) -> Option<UsualSpread> {
    let of = match id {
        "top_fresh_g" | "root_fresh_g" | "marketable_g" | "height_cm" => Spreads::ManyPlants,
        "ksat_cm_h" => Spreads::Conductivity,
        "infiltration_min" => Spreads::RingTime,
        "bulk_density_g_cm3" => Spreads::Density,
        _ => return None,
    };
    USUAL_SPREADS.iter().copied().find(|known| known.of == of)
}
