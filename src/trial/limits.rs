//! Limits that were computed, for many measures of one trial, or for a plan that is moved about.

use super::chance::{Dunnett, Sides, t_quantile};
use super::power::SURE;

/// Remembered at the most.
const MOST: usize = 256;

/// Distributions and limits that were asked for once.
#[derive(Clone, Debug, Default)]
pub struct Limits {
    /// By lambdas and degrees of freedom.
    together: Vec<(Vec<f64>, f64, Dunnett, f64)>,
    alone: Vec<(f64, f64)>,
}

impl Limits {
    /// The distribution of the largest of several |t|, and its limit.
    pub fn together(&mut self, lambdas: &[f64], nu: f64) -> Option<(&Dunnett, f64)> {
        let mut sorted = lambdas.to_vec();
        sorted.sort_by(f64::total_cmp);
        let known = self.together.iter();
        let same = |(of, degrees, ..): &(Vec<f64>, f64, _, _)| *degrees == nu && *of == sorted;
        let at = match known.clone().position(same) {
            Some(at) => at,
            None => {
                // Of the same numbers with other degrees of freedom the most is done.
                let near = known.clone().find(|(of, ..)| *of == sorted);
                let dunnett = match near {
                    Some((_, _, near, _)) => near.with_degrees(nu)?,
                    None => Dunnett::new(&sorted, nu, Sides::Two)?,
                };
                let limit = dunnett.critical(SURE)?;
                if self.together.len() >= MOST {
                    self.together.clear();
                }
                self.together.push((sorted, nu, dunnett, limit));
                self.together.len() - 1
            }
        };
        let (_, _, dunnett, limit) = self.together.get(at)?;
        Some((dunnett, *limit))
    }

    /// The limit of |t| of one comparison.
    pub fn alone(&mut self, nu: f64) -> Option<f64> {
        if let Some((_, limit)) = self.alone.iter().find(|(known, _)| *known == nu) {
            return Some(*limit);
        }
        let limit = t_quantile(0.5 + 0.5 * SURE, nu)?;
        if self.alone.len() >= MOST {
            self.alone.clear();
        }
        self.alone.push((nu, limit));
        Some(limit)
    }
}
