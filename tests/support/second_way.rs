//! Packing coded a second time and in another way, to hold the crate's own against.
//!
//! Compressible packing here is written in shares of grain volume and solved by bisection (Stovall,
//! de Larrard & Buil 1986; de Larrard 1999); linear packing is its sharp limit with the functions
//! of Yu, Zou & Standish 1996; ideal filling is Furnas 1931; additive is Adams 1973.

// The second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]

use barrowmix::blend::Grains;

/// How two sizes disturb each other, by their ratio fine/coarse.
#[derive(Clone, Copy)]
pub struct Disturbance {
    /// Of coarse grains by fine ones.
    pub loosening: fn(f64) -> f64,
    /// Of fine grains by the wall of coarse ones.
    pub wall: fn(f64) -> f64,
}

/// The functions of de Larrard 1999, from memory.
pub const DE_LARRARD: Disturbance = Disturbance {
    loosening: |r| (1.0 - (1.0 - r).powf(1.02)).sqrt(),
    wall: |r| 1.0 - (1.0 - r).powf(1.5),
};

/// The functions of Yu, Zou & Standish 1996, from memory: f and g are what is left of filling.
pub const YU: Disturbance = Disturbance {
    loosening: |r| 1.0 - yu_f(r),
    wall: |r| 1.0 - yu_g(r),
};

/// No disturbance: sizes that differ without end.
pub const NONE: Disturbance = Disturbance {
    loosening: |_| 0.0,
    wall: |_| 0.0,
};

/// f of Yu, Zou & Standish 1996.
pub fn yu_f(r: f64) -> f64 {
    (1.0 - r).powf(3.3) + 2.8 * r * (1.0 - r).powf(2.7)
}

/// g of Yu, Zou & Standish 1996.
pub fn yu_g(r: f64) -> f64 {
    (1.0 - r).powf(2.0) + 0.4 * r * (1.0 - r).powf(3.7)
}

/// Volume of the parts together.
pub fn packed(parts: &[Grains], k: f64, disturbance: Disturbance) -> f64 {
    let parts: Vec<&Grains> = parts.iter().filter(|part| part.volume > 0.0).collect();
    let grain_volume = |part: &Grains| part.volume * (1.0 - part.porosity);
    let whole: f64 = parts.iter().map(|part| grain_volume(part)).sum();
    let s = if k.is_infinite() { 1.0 } else { k / (1.0 + k) };
    // Shares y of grain volume, and the room v that a unit of grain takes at the virtual packing.
    let y: Vec<f64> = parts
        .iter()
        .map(|part| grain_volume(part) / whole)
        .collect();
    let v: Vec<f64> = parts.iter().map(|part| s / (1.0 - part.porosity)).collect();
    let limit = |i: usize| -> f64 {
        let mut sum = 0.0;
        for j in 0..parts.len() {
            let (own, other) = (parts[i].size_mm, parts[j].size_mm);
            sum += y[j]
                * if other > own {
                    1.0 + (disturbance.wall)((own / other).max(1e-4)) * (v[j] - 1.0)
                } else if other < own {
                    (disturbance.loosening)((other / own).max(1e-4)) * v[j]
                } else {
                    v[j]
                };
        }
        sum
    };
    let limits: Vec<f64> = (0..parts.len()).map(limit).collect();
    let sharp = limits.iter().fold(0.0_f64, |most, limit| most.max(*limit));
    if k.is_infinite() {
        return whole * sharp;
    }
    let index = |volume: f64| -> f64 {
        (0..parts.len())
            .map(|i| y[i] * v[i] / (volume - limits[i]))
            .sum()
    };
    // Unmixed, the parts take less than this.
    let (mut low, mut high) = (sharp, 2.0 * v.iter().sum::<f64>() * (1.0 + 1.0 / k));
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if index(middle) > k {
            low = middle;
        } else {
            high = middle;
        }
    }
    whole * high
}

/// Sum of the unmixed volumes.
pub fn additive(parts: &[Grains]) -> f64 {
    parts.iter().map(|part| part.volume).sum()
}

/// Ideal filling of any number of sizes: each size carries alone, and all coarser grains stand in
/// it as solid pieces.
pub fn ideal(parts: &[Grains]) -> f64 {
    packed(parts, f64::INFINITY, NONE)
}

/// Linear packing.
pub fn linear(parts: &[Grains]) -> f64 {
    packed(parts, f64::INFINITY, YU)
}

/// Pore space between the grains of parts in a volume.
pub fn pores(parts: &[Grains], volume: f64) -> f64 {
    let solid: f64 = parts
        .iter()
        .map(|part| part.volume * (1.0 - part.porosity))
        .sum();
    1.0 - solid / volume
}

/// Two parts by the coarse share of the grain volume.
pub fn by_grain_share(share: f64, porosity: [f64; 2], size_mm: [f64; 2]) -> [Grains; 2] {
    let part = |share: f64, at: usize| Grains {
        volume: share / (1.0 - porosity[at]),
        porosity: porosity[at],
        size_mm: size_mm[at],
    };
    [part(share, 0), part(1.0 - share, 1)]
}

/// Two parts by the coarse share of the unmixed volumes.
pub fn by_loose_share(share: f64, porosity: [f64; 2], size_mm: [f64; 2]) -> [Grains; 2] {
    let part = |volume: f64, at: usize| Grains {
        volume,
        porosity: porosity[at],
        size_mm: size_mm[at],
    };
    [part(share, 0), part(1.0 - share, 1)]
}
