//! The recipe of one container.

use super::{PlanFault, VOLUME_LIMITS_M3};
use crate::blend::fill::{FillFault, filled};
use crate::blend::{Barrow, Blend};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{
    Addition, Amount, Kept, Measurement, Place, PlaceKind, Recipe, RecipeError, Sample, Soil,
};
use crate::trial::plan::{Trial, Vessel};

/// Steps at the most that find how much ground fills a container; some eight are usual, and the
/// second half of them halves, which always ends.
const STEPS: usize = 100;
/// How often the ground is doubled until there is enough.
const DOUBLINGS: usize = 16;
/// A container is full within this share of its volume: far below a grain.
const FULL: f64 = 1e-13;

/// The recipe of one container before it is filled: ground, own materials, place, nothing added.
pub(super) fn bare(base: &Recipe, trial: &Trial, [volume_m3, _]: [f64; 2]) -> Recipe {
    let mut recipe = base.clone();
    recipe.title = None;
    recipe.parts_of_soil = None;
    recipe.additions.clear();
    recipe.lectern = None;
    recipe.trial = None;
    // The ground stays what it was measured to be; the blend is another one.
    for of in Measurement::ALL.iter().copied() {
        recipe.set_measured(Sample::Blend, of, None);
    }
    let old = base.place.clone().unwrap_or_default();
    let mut place = Place {
        drains: old.drains,
        on: old.on,
        near: old.near,
        mean_temperature_c: old.mean_temperature_c,
        crop: trial.crop.clone().or(old.crop),
        ..Place::default()
    };
    match &trial.vessel {
        Vessel::Container { height, .. } => {
            place.kind = Some(PlaceKind::Container);
            place.volume = Some(Amount::new(volume_m3 * LITRES_PER_M3, Unit::Litre));
            place.height = Some(Amount::new(height.value, height.unit));
            // Water that cannot leave would be another trial.
            place.drains = Some(true);
            recipe.soil = Soil::Amount(Amount::new(volume_m3 * LITRES_PER_M3, Unit::Litre));
        }
        Vessel::Strip { area, depth, .. } => {
            place.kind = Some(PlaceKind::Bed);
            recipe.soil = Soil::Bed {
                area: Amount::new(area.value, area.unit),
                depth: Amount::new(depth.value, depth.unit),
                kept: Kept::new(),
            };
        }
    }
    recipe.place = Some(place);
    recipe
}

/// The line of a material as the recipe has it: moisture, bag and price stay.
pub(super) fn line(base: &Recipe, material: &str, amount: Amount) -> Addition {
    let mut all = base.additions.iter();
    let known = all.find(|addition| addition.material == material);
    let mut addition = match known {
        Some(known) => known.clone(),
        None => Addition::new(material, amount.clone()),
    };
    addition.amount = amount;
    addition.on_top = None;
    addition
}

fn settled_m3(recipe: &Recipe) -> Result<f64, RecipeError> {
    let barrow = Barrow::of(recipe)?;
    Ok(Blend::of(&barrow, &recipe.soil).volumes.settled_m3)
}

/// The recipe with as much ground as fills a volume together with what is added.
pub(super) fn filled_up(
    mut recipe: Recipe,
    treatment: usize,
    volume_m3: f64,
) -> Result<Recipe, PlanFault> {
    let of = |error| PlanFault::Recipe { treatment, error };
    let with = |recipe: &mut Recipe, ground_m3: f64| {
        recipe.soil = Soil::Amount(Amount::new(ground_m3 * LITRES_PER_M3, Unit::Litre));
        settled_m3(recipe).map_err(of)
    };
    // With next to no ground it is the addition alone.
    let mut low = volume_m3 * 1e-9;
    let mut under = with(&mut recipe, low)? - volume_m3;
    if under >= 0.0 {
        return Err(PlanFault::TooMuch {
            treatment,
            takes_l: (under + volume_m3) * LITRES_PER_M3,
            room_l: volume_m3 * LITRES_PER_M3,
        });
    }
    let mut high = volume_m3;
    let mut over = with(&mut recipe, high)? - volume_m3;
    // A ground packed by traffic lies denser than it settles, one that is loose lies looser.
    for _ in 0..DOUBLINGS {
        if over >= 0.0 {
            break;
        }
        (low, under) = (high, over);
        high *= 2.0;
        over = with(&mut recipe, high)? - volume_m3;
    }
    // Regula falsi after Illinois: an end that stays counts half the next time.
    let mut rose = None;
    for step in 0..STEPS {
        let middle = if step < STEPS / 2 {
            high - over * ((high - low) / (over - under))
        } else {
            (low + high) / 2.0
        };
        let off = with(&mut recipe, middle)? - volume_m3;
        if off.abs() <= FULL * volume_m3 {
            break;
        }
        if off < 0.0 {
            (low, under) = (middle, off);
            if rose == Some(true) {
                over /= 2.0;
            }
        } else {
            (high, over) = (middle, off);
            if rose == Some(false) {
                under /= 2.0;
            }
        }
        rose = Some(off < 0.0);
    }
    Ok(recipe)
}

/// The base recipe for one container: every amount as loose litres, scaled to fill it; in a strip
/// scaled to its ground.
pub(super) fn blend(
    base: &Recipe,
    bare: Recipe,
    treatment: usize,
    vessel: &Vessel,
    volume_m3: f64,
) -> Result<Recipe, PlanFault> {
    let of = |error| PlanFault::Recipe { treatment, error };
    let barrow = Barrow::of(base).map_err(of)?;
    if base.additions.iter().all(Addition::is_on_top) {
        return Err(PlanFault::EmptyBlend { treatment });
    }
    let lying_m3 = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3;
    if lying_m3.is_nan() || lying_m3 <= 0.0 {
        return Err(PlanFault::NoGround);
    }
    // Against one cubic metre of ground, so that no limit of amounts is near.
    let with = |ground_m3: f64, soil: Option<Soil>| {
        let mut recipe = bare.clone();
        let litres = |m3: f64| Amount::new(m3 * LITRES_PER_M3, Unit::Litre);
        recipe.soil = soil.unwrap_or_else(|| Soil::Amount(litres(ground_m3)));
        for (addition, line) in base.additions.iter().zip(&barrow.lines) {
            let mut addition = addition.clone();
            addition.amount = litres(line.loose_m3 / lying_m3 * ground_m3);
            recipe.additions.push(addition);
        }
        recipe
    };
    match vessel {
        Vessel::Strip { .. } => Ok(with(volume_m3, Some(bare.soil.clone()))),
        Vessel::Container { .. } => {
            let one = with(1.0, None);
            let settled = settled_m3(&one).map_err(of)?;
            let (scaled, found) = filled(&one, volume_m3).map_err(|fault| match fault {
                FillFault::Recipe(error) => of(error),
                // The target is checked, and one cubic metre can be scaled.
                _ => PlanFault::Volume {
                    m3: settled,
                    low_m3: VOLUME_LIMITS_M3.0,
                    high_m3: VOLUME_LIMITS_M3.1,
                },
            })?;
            let mut scaled = scaled;
            // A mulch goes with the ground: it would else lie as for a cubic metre.
            for addition in &mut scaled.additions {
                if addition.is_on_top() {
                    addition.amount.value *= found.factor;
                }
            }
            Ok(scaled)
        }
    }
}
