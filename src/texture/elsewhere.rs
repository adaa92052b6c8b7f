//! A blend by another system than that of the United States: fractions by its limits, the class,
//! and how likely each class is over the draws.

use super::convert::{Converted, convert};
use super::systems::{System, SystemClass, TextureFault, classify_in};
use crate::figure::within;

/// Steps from the typical silt to the end of the conversion's doubt, on either side.
const STEPS: u8 = 10;

/// A texture in a system.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Its fractions by the limits of the system.
    pub converted: Converted,
    /// Its class.
    pub class: &'static SystemClass,
    /// Other classes within the doubt of the conversion, those with less silt first.
    pub within_doubt: Vec<&'static SystemClass>,
}

impl Placed {
    /// Places sand, silt and clay, %, as they are in the United States (2, 50, 2000 um).
    ///
    /// ```
    /// use barrowmix::texture::{Placed, System};
    ///
    /// let loam = Placed::of([30.0, 40.0, 30.0], System::Germany).expect("it sums to 100");
    /// assert_eq!(loam.class.id, "slightly_clayey_loam");
    /// assert!(loam.within_doubt.is_empty()); // 3 points of silt lead into no other class
    /// ```
    pub fn of(usda_pct: [f64; 3], system: System) -> Result<Placed, TextureFault> {
        let converted = convert(usda_pct, System::Usda, system)?;
        let class = classify_in(converted.fractions_pct, system)?;
        let [_, silt, clay] = converted.fractions_pct;
        let mut within_doubt: Vec<&'static SystemClass> = Vec::new();
        if converted.doubt_pct > 0.0 {
            for step in 0..=2 * STEPS {
                let moved = f64::from(step) / f64::from(STEPS) - 1.0;
                let silt = within(silt + moved * converted.doubt_pct, 0.0, 100.0 - clay);
                let other = classify_in([100.0 - clay - silt, silt, clay], system)?;
                if other.id != class.id && !within_doubt.iter().any(|known| known.id == other.id) {
                    within_doubt.push(other);
                }
            }
        }
        Ok(Placed {
            converted,
            class,
            within_doubt,
        })
    }
}

/// What the draws come to in a system.
#[derive(Clone, Debug, Default)]
pub struct DrawnIn {
    /// Sand, silt and clay of each draw by the limits of the system, %; no numbers where a draw has
    /// no texture.
    pub columns: [Vec<f64>; 3],
    /// The share of the draws in each class that any falls in, the likeliest first.
    pub shares: Vec<(&'static SystemClass, f64)>,
}

impl DrawnIn {
    /// Counts draws of sand, silt and clay, % as in the United States; each counts as its weight
    /// says, or all the same where there are none.
    pub fn of(usda_pct: [&[f64]; 3], weights: &[f64], system: System) -> DrawnIn {
        let mut out = DrawnIn::default();
        let mut counted = 0.0;
        let [sand, silt, clay] = usda_pct;
        for (draw, ((sand, silt), clay)) in sand.iter().zip(silt).zip(clay).enumerate() {
            let there = convert([*sand, *silt, *clay], System::Usda, system)
                .and_then(|there| Ok((there, classify_in(there.fractions_pct, system)?)));
            let fractions = there.map_or([f64::NAN; 3], |(there, _)| there.fractions_pct);
            for (column, pct) in out.columns.iter_mut().zip(fractions) {
                column.push(pct);
            }
            let Ok((_, class)) = there else { continue };
            let weight = weights.get(draw).copied().unwrap_or(1.0);
            counted += weight;
            match out
                .shares
                .iter_mut()
                .find(|(known, _)| known.id == class.id)
            {
                Some((_, share)) => *share += weight,
                None => out.shares.push((class, weight)),
            }
        }
        out.shares
            .retain(|(_, share)| *share > 0.0 && counted > 0.0);
        for (_, share) in &mut out.shares {
            *share /= counted;
        }
        out.shares
            .sort_by(|(_, one), (_, other)| other.total_cmp(one));
        out
    }

    /// The share of the draws in a class.
    pub fn share(&self, class: &SystemClass) -> f64 {
        let found = self.shares.iter().find(|(known, _)| known.id == class.id);
        found.map_or(0.0, |(_, share)| *share)
    }
}
