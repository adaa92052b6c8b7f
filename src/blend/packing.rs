//! Compressible packing of any number of parts: the volume that they take together.
//!
//! Structure after Stovall, de Larrard & Buil 1986 and de Larrard 1999, written in unmixed bulk
//! volumes. Two sizes: fine grains fill between coarse ones, coarse grains displace fine ones.
//! On natural grains with fines that do not stick, the error in pore space is about 0.02.

use crate::figure::within;
use crate::lane::Lane;
use libm::{exp, log};

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
    // The power as the page can afford it: pow alone would take more than the packing.
    (1.0 - exp(1.02 * log(1.0 - r))).max(0.0).sqrt()
}

/// How much the wall of a coarse grain disturbs the packing of fine ones (same source).
pub fn wall(r: f64) -> f64 {
    let rest = 1.0 - r;
    1.0 - rest * rest.sqrt()
}

/// How parts of given sizes fill one another. Sizes are not drawn, so one table serves all draws.
#[derive(Clone, Debug)]
pub(super) struct Filling {
    /// For a carrier (row) and a part (column): what the part's volume counts, of the full share
    /// S, and what its solids count.
    table: Box<[[f64; 2]]>,
    count: usize,
}

impl Filling {
    /// The table of sizes in mm.
    pub(super) fn of(sizes_mm: &[f64]) -> Filling {
        let row = |carrier: &f64| {
            let carrier = *carrier;
            sizes_mm.iter().map(move |part| influence(carrier, *part))
        };
        Filling {
            table: sizes_mm.iter().flat_map(row).collect(),
            count: sizes_mm.len(),
        }
    }

    /// What one part adds to the volume at which the grains of a carrier would carry all the
    /// others, for its unmixed volume and that of its solids.
    #[inline(always)]
    pub(super) fn weigh<L: Lane>(
        &self,
        carrier: usize,
        part: usize,
        [volume, solid]: [L; 2],
        s: f64,
    ) -> L {
        let [of_volume, of_solid] = self.table[carrier * self.count + part];
        volume * (of_volume * s) + solid * of_solid
    }

    /// The sum of that over neighbouring parts, from a place on.
    #[inline(always)]
    pub(super) fn weigh_all<L: Lane>(
        &self,
        carrier: usize,
        from: usize,
        parts: &[[L; 2]],
        s: f64,
    ) -> L {
        let start = carrier * self.count + from;
        let mut by_volume = L::all(0.0);
        let mut by_solid = L::all(0.0);
        if let Some(row) = self.table.get(start..start + parts.len()) {
            for ([of_volume, of_solid], [volume, solid]) in row.iter().zip(parts) {
                by_volume += *volume * *of_volume;
                by_solid += *solid * *of_solid;
            }
        }
        by_volume * s + by_solid
    }
}

/// Fine grains fill and loosen, coarse ones displace and make walls, equal ones do neither.
fn influence(carrier_mm: f64, part_mm: f64) -> [f64; 2] {
    let ratio = |small: f64, large: f64| (small / large).max(SMALLEST_RATIO);
    if part_mm > carrier_mm {
        let wall = wall(ratio(carrier_mm, part_mm));
        [wall, 1.0 - wall]
    } else if part_mm < carrier_mm {
        [loosening(ratio(part_mm, carrier_mm)), 0.0]
    } else {
        [1.0, 0.0]
    }
}

/// The full share of a packing index: K/(1 + K).
pub(super) fn full_share(k: f64) -> f64 {
    if k.is_infinite() { 1.0 } else { k / (1.0 + k) }
}

/// Volume of the parts together, in the unit of theirs. `k` may be infinite: the sharp limit.
/// Parts without volume are skipped; without any the volume is 0. Never more than the sum.
pub fn packed_volume(parts: &[Grains], k: f64) -> f64 {
    let sizes: Vec<f64> = parts.iter().map(|part| part.size_mm).collect();
    let volumes: Vec<[f64; 2]> = parts
        .iter()
        .map(|part| [part.volume, part.volume * (1.0 - part.porosity)])
        .collect();
    let filling = Filling::of(&sizes);
    let s = full_share(k);
    let limits: Vec<[f64; 2]> = volumes
        .iter()
        .enumerate()
        .map(|(carrier, [volume, _])| [*volume, filling.weigh_all(carrier, 0, &volumes, s)])
        .collect();
    root(&limits, s, k)
}

/// The V above every T at which the sum of X S/(V - T) is K; each limit is an unmixed volume X and
/// its T. Never more than the sum of the X.
///
/// By Newton's rule from the left on the reciprocal of the sum: a harmonic mean of straight lines,
/// so nearly straight itself and hollow downwards, which lets the rule only approach. One part is
/// solved at once, and several in about half of the steps that the sum itself would take.
pub(super) fn root<L: Lane>(limits: &[[L; 2]], s: f64, k: f64) -> L {
    let zero = L::all(0.0);
    let mut v = zero;
    let mut total = zero;
    for [x, t] in limits {
        // What has no volume carries nothing.
        v = v.at_least((*x).where_above(zero, *t + *x * (s / k), zero));
        total += *x;
    }
    if k.is_infinite() {
        return v.at_most(total);
    }
    let mut going = L::all(1.0);
    for _ in 0..100 {
        let (mut sum, mut slope) = (zero, zero);
        for [x, t] in limits {
            let gap = (*x).where_above(zero, v - *t, L::all(1.0));
            let near = L::all(1.0) / gap;
            let term = *x * s * near;
            sum += term;
            slope += term * near;
        }
        let step = (sum - L::all(k)) / slope * sum * (1.0 / k);
        let step = step.where_above(v * 1e-16, step, zero) * going;
        v += step;
        // A step leaves an error of about its square over the gap. Below a rounding it was the last
        // of its lane, whatever the others do.
        going = (step * step * slope).where_above(v * (k * 1e-17), going, zero);
        if !going.any_above(zero) {
            break;
        }
    }
    v.at_most(total)
}

/// Coarse share of the summed unmixed volumes at which the coarse grains just touch, for their
/// own porosity and the size ratio fine/coarse.
pub fn threshold_proportion(coarse_porosity: f64, r: f64) -> f64 {
    threshold_of(coarse_porosity, opening(r))
}

/// What fine grains of a size ratio leave undisturbed: of the coarse packing, and of their own.
pub(super) fn opening<L: Lane>(r: L) -> [L; 2] {
    let held = |r: f64, of: fn(f64) -> f64| {
        if r > 0.0 {
            of(within(r, SMALLEST_RATIO, 1.0))
        } else {
            0.0
        }
    };
    let one = L::all(1.0);
    [
        one - r.each(|r| held(r, loosening)),
        one - r.each(|r| held(r, wall)),
    ]
}

/// The threshold proportion, from what the fine grains leave undisturbed.
pub(super) fn threshold_of<L: Lane>(coarse_porosity: L, [free, open]: [L; 2]) -> L {
    let one = L::all(1.0);
    let threshold = free / (free + coarse_porosity * open);
    // Grains of one size: nothing fills and nothing is displaced.
    free.where_above(L::all(0.0), threshold, one / (one + coarse_porosity))
}
