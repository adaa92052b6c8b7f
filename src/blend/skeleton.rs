//! Whether the coarse grains of a blend touch, judged settled and puddled.

use super::{Barrow, Line};
use crate::ground::{GRAVEL_SOLID_KG_M3, Ground};
use crate::lane::Lane;
use libm::log;

/// Least size of a grain that can carry, mm: finer sand behaves as silt (common practice of turf work).
pub(crate) const LEAST_CARRYING_MM: f64 = 0.15;
/// Size of the ground's gravel, mm (common practice: 2 to 75, mostly fine).
pub(crate) const GRAVEL_MM: f64 = 10.0;
/// Settled density of gravel alone, kg/m3 (handling list, dry gravel of 6 to 50 mm).
const GRAVEL_SETTLED_KG_M3: f64 = 1680.0;

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

/// How the coarse grains of a draw stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Touch<L> {
    pub(crate) share: L,
    pub(crate) threshold: L,
    /// Settled volume of the largest coarse part that is missing, m3; 0 where they touch.
    pub(crate) more_m3: L,
    /// Pores of the coarse set packed alone, as a fraction.
    pub(crate) porosity: L,
    /// Logarithm of its mean size, mm.
    pub(crate) log_mm: L,
    /// Volume of its grains, m3.
    pub(crate) grains_m3: L,
}

impl<L: Lane> Touch<L> {
    pub(super) fn map<M>(&self, of: impl Fn(L) -> M) -> Touch<M> {
        Touch {
            share: of(self.share),
            threshold: of(self.threshold),
            more_m3: of(self.more_m3),
            porosity: of(self.porosity),
            log_mm: of(self.log_mm),
            grains_m3: of(self.grains_m3),
        }
    }
}

/// Unmixed settled volume of the ground's gravel and of its grains, m3.
pub(super) fn gravel_room<L: Lane>(kg: L) -> [L; 2] {
    [
        kg * (1.0 / GRAVEL_SETTLED_KG_M3),
        kg * (1.0 / GRAVEL_SOLID_KG_M3),
    ]
}

/// How the gravel of a kilogram of ground stands in the rest of it, where it lies at a density.
pub(crate) fn gravel_touch<L: Lane>(ground: &Ground<L>, density_kg_m3: L) -> Touch<L> {
    let [gravel_m3, grains_m3] = gravel_room(ground.gravel);
    let rest_m3 = (L::all(1.0) / density_kg_m3 - grains_m3).at_least(L::all(0.0));
    Touch {
        share: gravel_m3 / (gravel_m3 + rest_m3),
        threshold: L::all(1.0),
        more_m3: L::all(0.0),
        porosity: L::all(1.0 - GRAVEL_SETTLED_KG_M3 / GRAVEL_SOLID_KG_M3),
        log_mm: L::all(log_gravel_mm()),
        grains_m3,
    }
}

/// Logarithm of the gravel's size.
pub(super) fn log_gravel_mm() -> f64 {
    log(GRAVEL_MM)
}

impl Skeleton {
    /// What the typical values say; the question is asked only where there is clay to float in.
    pub(super) fn of(barrow: &Barrow, asks: bool, more_kg: f64, touch: Touch<f64>) -> Skeleton {
        let coarse = touch.share > 0.0;
        let touching = coarse && touch.share >= touch.threshold;
        let largest = barrow.largest();
        Skeleton {
            share: touch.share,
            threshold: (asks && coarse).then_some(touch.threshold),
            touching: asks.then_some(touching),
            largest,
            more_to_touch_kg: (asks && !touching && largest.is_some() && more_kg.is_finite())
                .then_some(more_kg),
        }
    }
}

/// Whether a line's grains can form a skeleton.
pub fn carries(line: &Line) -> bool {
    line.material.group.can_carry() && line.material.grain_mm >= LEAST_CARRYING_MM
}

/// The heaviest coarse addition: its place in the recipe; of equals the first in the order of the
/// parts. Lines of one material count together, so that splitting a line changes nothing.
pub(super) fn largest(barrow: &Barrow) -> Option<usize> {
    let mut largest: Option<(usize, f64)> = None;
    for part in barrow.parts.iter().filter(|part| part.is_coarse()) {
        let material = &barrow.lines[part.line].material;
        let same = barrow.mixed().filter(|line| line.material == *material);
        let all_kg: f64 = same.map(|line| line.dry_kg).sum();
        if all_kg > largest.map_or(0.0, |(_, most)| most * (1.0 + 1e-9)) {
            largest = Some((part.line, all_kg));
        }
    }
    largest.map(|(index, _)| index)
}
