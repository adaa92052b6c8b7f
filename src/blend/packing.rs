//! Compressible packing of any number of parts: the volume that they take together.
//!
//! Structure after Stovall, de Larrard & Buil 1986 and de Larrard 1999, written in unmixed bulk
//! volumes. Two sizes: fine grains fill between coarse ones, coarse grains displace fine ones.
//! On natural grains with fines that do not stick, the error in pore space is about 0.02.

use crate::figure::within;
use libm::pow;

/// Packing index of a settled bed (de Larrard 1999: vibration with 10 kPa; from memory). It only
/// sets how round the corner at the densest mix is.
pub const SETTLED_K: f64 = 9.0;
/// Packing index of a blend freshly turned (de Larrard 1999: vibration; from memory).
pub const FRESH_K: f64 = 4.75;
/// Smallest size ratio that still matters.
const SMALLEST_RATIO: f64 = 1e-4;

/// One part, as the packing sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grains {
    /// Its bulk volume alone, in any unit; more than zero.
    pub volume: f64,
    /// Its pore space between grains alone; more than 1/(1 + K).
    pub porosity: f64,
    /// One characteristic size, mm.
    pub size_mm: f64,
}

/// How much fine grains disturb the packing of coarse ones at a size ratio of `r` = fine/coarse
/// (de Larrard 1999, natural grains; from memory).
pub fn loosening(r: f64) -> f64 {
    (1.0 - pow(1.0 - r, 1.02)).max(0.0).sqrt()
}

/// How much the wall of a coarse grain disturbs the packing of fine ones (same source).
pub fn wall(r: f64) -> f64 {
    let rest = 1.0 - r;
    1.0 - rest * rest.sqrt()
}

/// Volume of the parts together, in the unit of theirs. `k` may be infinite: the sharp limit.
/// Parts without volume are skipped; without any the volume is 0. Never more than the sum.
pub fn packed_volume(parts: &[Grains], k: f64) -> f64 {
    let total: f64 = parts.iter().map(|part| part.volume).sum();
    if total <= 0.0 {
        return 0.0;
    }
    let s = if k.is_infinite() { 1.0 } else { k / (1.0 + k) };
    let limits: Vec<[f64; 2]> = parts
        .iter()
        .filter(|part| part.volume > 0.0)
        .map(|part| [part.volume / total, virtual_volume(part, parts, total, s)])
        .collect();
    total * root(&limits, s, k).min(1.0)
}

/// The volume, for a sum of one, at which a part's grains would carry all the others.
fn virtual_volume(carrier: &Grains, parts: &[Grains], total: f64, s: f64) -> f64 {
    parts
        .iter()
        .map(|part| {
            let solid = 1.0 - part.porosity;
            let weight = if part.size_mm > carrier.size_mm {
                solid + wall(ratio(carrier.size_mm, part.size_mm)) * (s - solid)
            } else if part.size_mm < carrier.size_mm {
                loosening(ratio(part.size_mm, carrier.size_mm)) * s
            } else {
                s
            };
            weight * part.volume / total
        })
        .sum()
}

fn ratio(small: f64, large: f64) -> f64 {
    (small / large).max(SMALLEST_RATIO)
}

/// The V above every T at which the sum of x S/(V - T) is K, by Newton's rule from the left, where
/// the falling, hollow curve lets it only approach.
fn root(limits: &[[f64; 2]], s: f64, k: f64) -> f64 {
    let sharp = limits.iter().fold(0.0, |most: f64, [_, t]| most.max(*t));
    if k.is_infinite() {
        return sharp;
    }
    let mut v = limits
        .iter()
        .fold(0.0, |most: f64, [x, t]| most.max(t + x * s / k));
    for _ in 0..100 {
        let (mut sum, mut slope) = (0.0, 0.0);
        for [x, t] in limits {
            let term = x * s / (v - t);
            sum += term;
            slope += term / (v - t);
        }
        let step = (sum - k) / slope;
        if step.is_nan() || step <= v * 1e-16 {
            break;
        }
        v += step;
    }
    v
}

/// Coarse share of the summed unmixed volumes at which the coarse grains just touch, for their
/// own porosity and the size ratio fine/coarse.
pub fn threshold_proportion(coarse_porosity: f64, r: f64) -> f64 {
    let (a, b) = if r > 0.0 {
        let r = within(r, SMALLEST_RATIO, 1.0);
        (loosening(r), wall(r))
    } else {
        (0.0, 0.0)
    };
    if a >= 1.0 {
        // Grains of one size: nothing fills and nothing is displaced.
        return 1.0 / (1.0 + coarse_porosity);
    }
    (1.0 - a) / ((1.0 - a) + coarse_porosity * (1.0 - b))
}
