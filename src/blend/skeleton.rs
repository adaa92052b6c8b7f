//! Whether the coarse grains of a blend touch, judged settled and puddled.

use super::packing::threshold_proportion;
use super::{Barrow, Grains, Line, SETTLED_K, grains, packed_line, packed_volume};
use crate::ground::{Forms, GRAVEL_SOLID_KG_M3, PUDDLED_MM};
use libm::{exp, log};

/// Least size of a grain that can carry, mm: finer sand behaves as silt (common practice of turf work).
const LEAST_CARRYING_MM: f64 = 0.15;
/// Size of the ground's gravel, mm (common practice: 2 to 75, mostly fine).
const GRAVEL_MM: f64 = 10.0;
/// Settled density of gravel alone, kg/m3 (handling list, dry gravel of 6 to 50 mm).
const GRAVEL_SETTLED_KG_M3: f64 = 1680.0;
/// Doublings tried when asking how much more would make the grains touch: far beyond any trailer.
const DOUBLINGS: usize = 60;

/// Coarse grains: the ground's gravel and the additions that can carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skeleton {
    /// Coarse share of the room: packed alone, against all the rest packed alone.
    pub share: f64,
    /// Share at which the grains touch; none without coarse grains or without clay to float in.
    pub threshold: Option<f64>,
    /// Whether they touch; none without clay to float in.
    pub touching: Option<bool>,
    /// The largest coarse addition: its place in the recipe.
    pub largest: Option<usize>,
    /// How much more of it, kg as sold, would make the grains touch, when they do not.
    pub more_to_touch_kg: Option<f64>,
}

/// Coarse parts and the rest, and the logarithm of the coarse size.
struct Split {
    coarse: Vec<Grains>,
    rest: Vec<Grains>,
    coarse_kg: f64,
    log_size_kg: f64,
}

impl Skeleton {
    pub(super) fn of(barrow: &Barrow, forms: &Forms) -> Skeleton {
        let asks = forms.has_skeleton_question();
        let base = Split::of(barrow, None);
        if base.coarse.is_empty() {
            return Skeleton {
                share: 0.0,
                threshold: None,
                touching: asks.then_some(false),
                largest: None,
                more_to_touch_kg: None,
            };
        }
        let (share, threshold) = base.share_and_threshold();
        let touching = share >= threshold;
        let largest = largest(barrow);
        let more = (asks && !touching)
            .then(|| largest.and_then(|index| more_to_touch_kg(barrow, index)))
            .flatten();
        Skeleton {
            share,
            threshold: asks.then_some(threshold),
            touching: asks.then_some(touching),
            largest,
            more_to_touch_kg: more,
        }
    }
}

impl Split {
    /// Splits a barrow, with one line at another dry mass if wanted.
    fn of(barrow: &Barrow, changed: Option<(usize, f64)>) -> Split {
        let mut split = Split {
            coarse: Vec::new(),
            rest: Vec::new(),
            coarse_kg: 0.0,
            log_size_kg: 0.0,
        };
        split.add_ground(barrow);
        for (index, line) in barrow.lines.iter().enumerate() {
            let line = match changed {
                Some((at, dry_kg)) if at == index => &Line {
                    dry_kg,
                    ..line.clone()
                },
                _ => line,
            };
            if line.on_top {
                continue;
            }
            if let Some(part) = packed_line(line, true) {
                if carries(line) {
                    split.add_coarse(part, line.dry_kg);
                } else {
                    split.rest.push(part);
                }
            }
        }
        split
    }

    /// The ground's gravel counts as a part of its own; the rest keeps the room it has.
    fn add_ground(&mut self, barrow: &Barrow) {
        let ground = &barrow.ground;
        let gravel_kg = barrow.ground_dry_kg * ground.gravel;
        if gravel_kg > 0.0 {
            let part = grains(
                gravel_kg,
                GRAVEL_SETTLED_KG_M3,
                GRAVEL_SOLID_KG_M3,
                GRAVEL_MM,
            );
            self.add_coarse(part, gravel_kg);
        }
        let earth_kg = barrow.ground_dry_kg - gravel_kg;
        let volume =
            barrow.ground_dry_kg / ground.settled_density_kg_m3() - gravel_kg / GRAVEL_SOLID_KG_M3;
        if earth_kg > 0.0 && volume > 0.0 {
            self.rest.push(grains(
                earth_kg,
                earth_kg / volume,
                ground.fine_solid_density_kg_m3,
                PUDDLED_MM,
            ));
        }
    }

    fn add_coarse(&mut self, part: Grains, dry_kg: f64) {
        self.coarse_kg += dry_kg;
        self.log_size_kg += dry_kg * log(part.size_mm);
        self.coarse.push(part);
    }

    fn share_and_threshold(&self) -> (f64, f64) {
        let coarse = packed_volume(&self.coarse, SETTLED_K);
        let rest = packed_volume(&self.rest, SETTLED_K);
        let envelopes: f64 = self
            .coarse
            .iter()
            .map(|part| part.volume * (1.0 - part.porosity))
            .sum();
        let size_mm = exp(self.log_size_kg / self.coarse_kg);
        (
            coarse / (coarse + rest),
            threshold_proportion(1.0 - envelopes / coarse, PUDDLED_MM / size_mm),
        )
    }
}

/// Whether a line's grains can form a skeleton.
pub fn carries(line: &Line) -> bool {
    line.material.group.can_carry() && line.material.grain_mm >= LEAST_CARRYING_MM
}

/// The heaviest coarse addition; the first of equals. Lines of one material count together, so
/// that splitting a line changes nothing.
fn largest(barrow: &Barrow) -> Option<usize> {
    let counts = |line: &&Line| !line.on_top && line.dry_kg > 0.0 && carries(line);
    let mut largest: Option<(usize, f64)> = None;
    for (index, line) in barrow.lines.iter().enumerate() {
        if !counts(&line) {
            continue;
        }
        let same = barrow.lines.iter().filter(counts);
        let all_kg: f64 = same
            .filter(|other| other.material == line.material)
            .map(|other| other.dry_kg)
            .sum();
        if largest.is_none_or(|(_, most)| all_kg > most * (1.0 + 1e-9)) {
            largest = Some((index, all_kg));
        }
    }
    largest.map(|(index, _)| index)
}

/// How much more of a line, kg as sold, makes the grains touch.
fn more_to_touch_kg(barrow: &Barrow, index: usize) -> Option<f64> {
    let line = &barrow.lines[index];
    let touches = |dry_kg: f64| {
        let (share, threshold) = Split::of(barrow, Some((index, dry_kg))).share_and_threshold();
        share >= threshold
    };
    let mut floats_kg = line.dry_kg;
    let mut touches_kg = 2.0 * line.dry_kg;
    for _ in 0..DOUBLINGS {
        if touches(touches_kg) {
            break;
        }
        floats_kg = touches_kg;
        touches_kg *= 2.0;
    }
    if !touches(touches_kg) {
        return None;
    }
    while touches_kg - floats_kg > 1e-9 * touches_kg {
        let middle = 0.5 * (floats_kg + touches_kg);
        if touches(middle) {
            touches_kg = middle;
        } else {
            floats_kg = middle;
        }
    }
    let moist_per_dry = line.moist_kg / line.dry_kg;
    Some((touches_kg - line.dry_kg) * moist_per_dry)
}
