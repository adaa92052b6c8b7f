//! The rules by which a blend earns its verdict and its notes, all in one place.

use super::{Outcome, Remark, Standing};
use crate::blend::Blend;
use crate::ground::Trait;
use crate::material::{Group, Property};
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Found, Path, Recipe};

/// Pore space that must differ before two states are called different, percentage points: the
/// packing's own doubt for mineral mixes.
const SAME_PORES_PCT: f64 = 3.0;
/// The same where soft or sticky parts are in it.
const SAME_SOFT_PORES_PCT: f64 = 5.0;
/// Grains that take less than this much more room than they need only just touch: the packing's own
/// doubt on the threshold.
pub(crate) const ONLY_JUST: f64 = 0.05;
/// Mineral fines below this share of the dry mass say little about the blend, %.
pub(crate) const FEW_FINES_PCT: f64 = 5.0;
/// A place is called full within this share of its room.
const FULL_WITHIN: f64 = 0.03;
/// Organic matter and clay up to which the density rule was fitted (Saxton & Rawls 2006).
pub(crate) const DENSITY_RULE_LIMITS: (f64, f64) = (0.08, 0.60);

/// Two sentences: the skeleton's state, and density and pore space at both ends of `crumb`.
pub(super) fn verdict(recipe: &Recipe, outcome: &Outcome) -> Vec<Remark> {
    let ground = &outcome.ground;
    let lying = lying(outcome);
    if outcome.barrow.mixed().all(|line| line.dry_kg <= 0.0) {
        return vec![Remark::NothingAdded {
            lying,
            dug_pores_pct: ground.dug_pore_space_pct.typical,
            settled_pores_pct: ground.settled_pore_space_pct.typical,
        }];
    }
    if outcome.barrow.ground_dry_kg <= 0.0 {
        // Without ground there is no clay to float in and nothing to compare with.
        return vec![both_ends(outcome)];
    }
    vec![skeleton(recipe, outcome), both_ends(outcome)]
}

/// The ground as it lies: kg/m3 and %.
fn lying(outcome: &Outcome) -> (f64, f64) {
    let ground = &outcome.ground;
    (
        ground.lying_density_kg_m3.typical,
        ground.lying_pore_space_pct.typical,
    )
}

fn skeleton(recipe: &Recipe, outcome: &Outcome) -> Remark {
    let skeleton = &outcome.blend.skeleton;
    let share_pct = 100.0 * skeleton.share;
    let Some(touching) = skeleton.touching else {
        return Remark::LightGround {
            clay_pct: outcome.barrow.ground.clay_pct(),
        };
    };
    let threshold = match skeleton.threshold {
        // The ground's own gravel is worth a word only where it carries.
        Some(threshold) if touching || skeleton.largest.is_some() => threshold,
        _ => return Remark::NoCoarseGrains,
    };
    let threshold_pct = 100.0 * threshold;
    let touching_odds = outcome.skeleton.touching_odds.unwrap_or(0.0);
    let name = skeleton
        .largest
        .and_then(|index| name_of(recipe, index))
        .map(str::to_owned);
    if touching {
        return Remark::Touching {
            name,
            share_pct,
            threshold_pct,
            only_just: skeleton.share < threshold + ONLY_JUST,
            touching_odds,
        };
    }
    Remark::Floating {
        name,
        share_pct,
        threshold_pct,
        more_kg: skeleton.more_to_touch_kg,
        more: outcome.skeleton.more_to_touch_kg,
        more_cost: more_cost(recipe, outcome),
        parts_to_touch: parts_to_touch(outcome),
        pores_pct: outcome.pore_space_pct.settled.typical,
        pores_without_pct: pores_without_coarse(recipe, outcome),
        touching_odds,
    }
}

fn name_of(recipe: &Recipe, addition: usize) -> Option<&str> {
    let addition = recipe.additions.get(addition)?;
    recipe.find(&addition.material).map(Found::name)
}

fn more_cost(recipe: &Recipe, outcome: &Outcome) -> Option<(f64, Option<String>)> {
    let skeleton = &outcome.blend.skeleton;
    let line = &outcome.barrow.lines[skeleton.largest?];
    let cost = line.cost? * skeleton.more_to_touch_kg? / line.moist_kg;
    Some((cost, recipe.currency.clone()))
}

/// Loose parts of the largest coarse addition to one of ground once its grains touch.
fn parts_to_touch(outcome: &Outcome) -> Option<f64> {
    let skeleton = &outcome.blend.skeleton;
    let line = &outcome.barrow.lines[skeleton.largest?];
    let loose = line.loose_m3 + skeleton.more_to_touch_kg? / line.material.loose_density_kg_m3;
    let ground = outcome.barrow.ground_loose_m3();
    (ground > 0.0).then(|| loose / ground)
}

/// Settled pore space of the same barrow with its coarse additions left out, %.
fn pores_without_coarse(recipe: &Recipe, outcome: &Outcome) -> Option<f64> {
    outcome.blend.skeleton.largest?;
    let blend = Blend::without_coarse(&outcome.barrow, &recipe.soil)?;
    Some(100.0 * blend.pore_space(blend.volumes.settled_m3))
}

fn both_ends(outcome: &Outcome) -> Remark {
    let blend = &outcome.blend;
    let end = |volume: f64| {
        (
            blend.density_kg_m3(volume),
            100.0 * blend.pore_space(volume),
        )
    };
    let crumbly = end(blend.volumes.crumbly_m3);
    let puddled = end(blend.volumes.puddled_m3);
    if outcome.barrow.ground_dry_kg <= 0.0 {
        return Remark::BothEndsAlone { crumbly, puddled };
    }
    let ground = &outcome.ground;
    let lying = lying(outcome);
    let soft = outcome
        .barrow
        .mixed()
        .any(|line| line.material.group.is_organic() && line.dry_kg > 0.0);
    let same = if soft {
        SAME_SOFT_PORES_PCT
    } else {
        SAME_PORES_PCT
    };
    let stands = |pores: f64| {
        if pores > lying.1 + same {
            Standing::More
        } else if pores < lying.1 - same {
            Standing::Less
        } else {
            Standing::Same
        }
    };
    Remark::BothEnds {
        standing: [stands(crumbly.1), stands(puddled.1)],
        crumbly,
        puddled,
        lying,
        dug_pores_pct: ground.dug_pore_space_pct.typical,
        settled_pores_pct: ground.settled_pore_space_pct.typical,
    }
}

/// What was assumed, and what is outside its limits.
pub(super) fn notes(recipe: &Recipe, outcome: &Outcome) -> Vec<Remark> {
    let mut notes = Vec::new();
    ground_notes(recipe, outcome, &mut notes);
    material_notes(recipe, &mut notes);
    texture_notes(outcome, &mut notes);
    if outcome.blend.skeleton.share > 0.0 && outcome.blend.skeleton.touching.is_none() {
        notes.push(Remark::NoSkeletonQuestion);
    }
    notes.extend(fill_note(recipe, outcome));
    if recipe.keeps_unknown_fields() {
        notes.push(Remark::KeptFields);
    }
    notes
}

fn ground_notes(recipe: &Recipe, outcome: &Outcome, notes: &mut Vec<Remark>) {
    if outcome.barrow.ground_dry_kg <= 0.0 {
        return;
    }
    let ground = &outcome.barrow.ground;
    let absent = |of: Trait| recipe.ground.get(of).is_none();
    if absent(Trait::OrganicMatter) {
        notes.push(Remark::EstimatedOrganicMatter {
            organic_matter_pct: 100.0 * ground.organic,
        });
    }
    if absent(Trait::BulkDensity) {
        let (organic, clay) = DENSITY_RULE_LIMITS;
        notes.push(Remark::EstimatedDensity {
            density_kg_m3: ground.lying_density_kg_m3,
            outside: ground.organic > organic || ground.fractions[2] > clay,
        });
    }
    if absent(Trait::WaterPerDry) {
        notes.push(Remark::EstimatedWater {
            water_per_dry_pct: 100.0 * ground.water_per_dry,
        });
    }
    if absent(Trait::Crumb) {
        notes.push(Remark::EstimatedCrumb);
    }
    if absent(Trait::BulkDensity) {
        // An estimate is nothing to wonder at.
        return;
    }
    if ground.is_pressed() {
        notes.push(Remark::Pressed {
            lying_kg_m3: ground.lying_density_kg_m3,
            settled_kg_m3: ground.settled_density_kg_m3(),
        });
    }
    if ground.is_very_dense() {
        notes.push(Remark::VeryDense {
            lying_kg_m3: ground.lying_density_kg_m3,
            normal_kg_m3: ground.normal_density_kg_m3,
        });
    }
}

/// Own materials in use whose kind or grains were assumed.
fn material_notes(recipe: &Recipe, notes: &mut Vec<Remark>) {
    let used = |id: &str| {
        recipe
            .additions
            .iter()
            .any(|addition| addition.material == id)
    };
    for (index, own) in recipe.materials.iter().enumerate() {
        if !used(&own.id) {
            continue;
        }
        let name = own.name.clone().unwrap_or_else(|| own.id.clone());
        let path = Path::from("materials").item(index);
        let given = [Property::Sand, Property::Silt, Property::Clay]
            .iter()
            .any(|property| own.properties.get(*property).is_some());
        match own.group {
            None => notes.push(Remark::EstimatedGroup { name, path }),
            Some(Group::Soil) if !given => notes.push(Remark::EstimatedFractions { name, path }),
            Some(_) => {}
        }
    }
}

fn texture_notes(outcome: &Outcome, notes: &mut Vec<Remark>) {
    let masses = &outcome.blend.masses;
    let share_pct = 100.0 * masses.fines_kg.iter().sum::<f64>() / masses.dry_kg;
    if outcome.texture.is_none() {
        notes.push(Remark::NoTexture);
    } else if share_pct < FEW_FINES_PCT {
        notes.push(Remark::FewFines { share_pct });
    }
}

fn fill_note(recipe: &Recipe, outcome: &Outcome) -> Option<Remark> {
    let place = recipe.place.as_ref()?;
    let room = place.volume.as_ref()?;
    let unit = room.unit;
    let room_l = room.si() * LITRES_PER_M3;
    let settled_l = outcome.volume_l.settled.typical / place.count.unwrap_or(1.0);
    if settled_l > room_l * (1.0 + FULL_WITHIN) {
        Some(Remark::Overfull {
            settled_l,
            room_l,
            unit,
        })
    } else if settled_l < room_l * (1.0 - FULL_WITHIN) {
        Some(Remark::Underfull {
            settled_l,
            room_l,
            unit,
        })
    } else {
        None
    }
}
