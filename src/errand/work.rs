//! What is to be done once everything is there, as numbers: how deep each addition lies when it is
//! spread, how high the blend stands before it settles, what it weighs once watered.

use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Addition, PlaceKind, Recipe, Soil};

/// Millimetres in a metre.
const MM_PER_M: f64 = 1000.0;
/// A layer that is spread and turned in is no thicker than this, mm (a choice: more goes in in
/// several goes).
pub const LAYER_MOST_MM: f64 = 100.0;

/// The work, as numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Where it is done.
    pub place: WorkPlace,
    /// Materials that are mixed in, in the recipe's order: the first addition of each, and how deep
    /// all of it lies spread over the area, mm, where there is an area.
    pub layers: Vec<(usize, Option<f64>)>,
    /// Mulches, in the same way.
    pub mulches: Vec<(usize, Option<f64>)>,
    /// Volume on the day, L.
    pub fresh_l: f64,
    /// Volume after a season of rain, L.
    pub settled_l: f64,
    /// What one container, or the bed, weighs once watered and drained, kg.
    pub watered_kg: Figure,
    /// Whether there is ground in it.
    pub has_ground: bool,
}

/// Where the work is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WorkPlace {
    /// In a bed that is dug where it lies.
    Bed {
        /// Its area, m2.
        area_m2: f64,
        /// How deep it is dug, m.
        depth_m: f64,
        /// How much higher than once settled it stands on the day, mm.
        sinks_mm: f64,
    },
    /// In containers, or a bed that is filled.
    Filled {
        /// How many.
        count: f64,
        /// Whether they are containers.
        pots: bool,
        /// Height of the room, m, where it is told.
        height_m: Option<f64>,
        /// How much higher than once settled the blend stands on the day, as a share of that.
        sinks: f64,
        /// How full each is once settled, where its room is told.
        full: Option<f64>,
        /// Where the ground is taken from, if that is told.
        from: Option<Dig>,
    },
}

/// Where ground is dug.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dig {
    /// Over which area, m2.
    pub area_m2: f64,
    /// How deep, m.
    pub depth_m: f64,
}

impl Dig {
    /// So many times the ground of a bed, dug as deep as the recipe says.
    pub(super) fn of(recipe: &Recipe, factor: f64) -> Option<Dig> {
        match &recipe.soil {
            Soil::Bed { area, depth, .. } => Some(Dig {
                area_m2: area.si() * factor,
                depth_m: depth.si(),
            }),
            Soil::Amount(_) => None,
        }
    }
}

/// In how many goes a layer is spread and turned in.
pub fn goes(mm: f64) -> u32 {
    // A hair, so that ten centimetres of rounding are one go.
    ((mm / LAYER_MOST_MM - 1e-6).ceil() as u32).max(1)
}

/// The work of a recipe; where it fills a volume with the ground of a bed, that is taken from there.
pub(super) fn work(recipe: &Recipe, outcome: &Outcome, from: Option<Dig>) -> Work {
    let barrow = &outcome.barrow;
    let fresh_l = outcome.volume_l.fresh.typical;
    let settled_l = outcome.volume_l.settled.typical;
    let place = recipe.place.as_ref();
    let count = place.and_then(|place| place.count).unwrap_or(1.0).max(1.0);
    let work_place = match &recipe.soil {
        Soil::Bed { area, depth, .. } if from.is_none() => WorkPlace::Bed {
            area_m2: area.si(),
            depth_m: depth.si(),
            sinks_mm: (fresh_l - settled_l) / LITRES_PER_M3 / area.si() * MM_PER_M,
        },
        Soil::Bed { .. } => WorkPlace::Filled {
            count: 1.0,
            pots: false,
            height_m: None,
            sinks: (fresh_l - settled_l) / settled_l,
            full: None,
            from,
        },
        Soil::Amount(_) => {
            let room_l = place
                .and_then(|place| place.volume.as_ref())
                .map(|volume| volume.si() * LITRES_PER_M3);
            WorkPlace::Filled {
                count,
                pots: place.and_then(|place| place.kind) != Some(PlaceKind::Bed),
                height_m: place
                    .and_then(|place| place.height.as_ref())
                    .map(|height| height.si()),
                sinks: (fresh_l - settled_l) / settled_l,
                full: room_l.map(|room_l| settled_l / count / room_l),
                from: None,
            }
        }
    };
    let area_m2 = barrow.whole_area_m2(recipe).filter(|area| *area > 0.0);
    let material = |at: usize| recipe.additions.get(at).map(of_material);
    let is_of = |one: usize, other: usize| material(one) == material(other);
    let spread = |on_top: bool| {
        let lines = barrow.lines.iter().enumerate();
        let mut layers: Vec<(usize, Option<f64>)> = Vec::new();
        for (at, line) in lines.filter(|(_, line)| line.on_top == on_top && line.moist_kg > 0.0) {
            let mm = area_m2.map(|area| line.loose_m3 / area * MM_PER_M);
            match layers.iter_mut().find(|(first, _)| is_of(*first, at)) {
                Some((_, all)) => *all = all.zip(mm).map(|(all, mm)| all + mm),
                None => layers.push((at, mm)),
            }
        }
        layers
    };
    let each = match work_place {
        WorkPlace::Bed { .. } => 1.0,
        WorkPlace::Filled { count, .. } => count,
    };
    Work {
        place: work_place,
        layers: spread(false),
        mulches: spread(true),
        fresh_l,
        settled_l,
        watered_kg: outcome.watered_kg.map(|kg| kg / each),
        has_ground: barrow.ground_dry_kg > 0.0,
    }
}

fn of_material(addition: &Addition) -> &str {
    &addition.material
}
