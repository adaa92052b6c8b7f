//! The rules by which a blend earns its verdict and its notes, all in one place.

use super::measured::FEW_DRAWS;
use super::rules::{
    ENOUGH_SHARE, HEAVY_CLAY_PCT, INSTEAD_SHARE, NO_DENSITY_KG_M3, NO_ORGANIC_MATTER_PCT,
    NO_PORES_PCT, NO_TEXTURE_PCT, ONLY_JUST, SAME_PORES_PCT, SAME_SOFT_PORES_PCT, SAME_WATER_PCT,
    SMALL_SHARE, TOO_MUCH_PARTS, TOO_MUCH_TIMES,
};
use super::{Outcome, Remark, Standing};
use crate::blend::{Barrow, Blend, Line, carries};
use crate::ground::Trait;
use crate::material::{Entry, Group, Hazard, Property};
use crate::quantity::LITRES_PER_M3;
use crate::recipe::{Found, Measurement, Path, PlaceKind, Recipe, Sample};
use crate::water::curve::Beyond;

/// Mineral fines below this share of the dry mass say little about the blend, %.
pub(crate) const FEW_FINES_PCT: f64 = 5.0;
/// What is told instead of grains that float.
const INSTEAD: &str = "yard_compost";
/// Less water added than this, by volume, is not told: half a point.
const LEAST_ADDED: f64 = 0.005;
/// A place is called full within this share of its room.
const FULL_WITHIN: f64 = 0.03;
/// Organic matter and clay up to which the density rule was fitted (Saxton & Rawls 2006).
pub(crate) const DENSITY_RULE_LIMITS: (f64, f64) = (0.08, 0.60);

/// What carries the bed, density and pore space at both ends of `crumb`, the blend beside digging
/// alone, and what is no use, does harm, or would do better.
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
    let carries = skeleton(recipe, outcome);
    let idle = idle(recipe, outcome);
    // Of what changes nothing it is not told whether it carries.
    let is_idle = |name: &str| match &idle {
        Some(Remark::Idle { names, .. }) => names.iter().any(|idle| idle == name),
        _ => false,
    };
    let all_idle =
        firsts(&outcome.barrow).all(|(index, _)| name_of(recipe, index).is_some_and(is_idle));
    let floats_idle = match &carries {
        Remark::Floating { name, .. } => name.as_deref().is_some_and(is_idle),
        _ => false,
    };
    let mut says = Vec::with_capacity(6);
    if !all_idle && !floats_idle {
        says.push(carries);
    }
    if all_idle {
        says.extend(idle.clone());
    }
    says.extend([both_ends(outcome), beside_digging(outcome)]);
    let count = says.len();
    if !all_idle && !floats_idle {
        says.extend(instead(recipe, outcome, &says[0]));
    }
    if says.len() == count {
        says.extend(holds(outcome));
    }
    says.extend(tightens(recipe, outcome));
    if !all_idle {
        says.extend(idle);
    }
    says
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
    let parts_to_touch = parts_to_touch(outcome);
    let pores_pct = outcome.pore_space_pct.settled.typical;
    let pores_without_pct = pores_without_largest(outcome);
    Remark::Floating {
        name,
        share_pct,
        threshold_pct,
        more_kg: skeleton.more_to_touch_kg,
        more: outcome.skeleton.more_to_touch_kg,
        more_cost: more_cost(recipe, outcome),
        parts_to_touch,
        pores_pct,
        pores_without_pct,
        harms: pores_without_pct.is_some_and(|without| without >= pores_pct + NO_PORES_PCT),
        too_much: parts_to_touch.is_some_and(|parts| parts > TOO_MUCH_PARTS),
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

/// Settled pore space of the same barrow with its largest coarse addition left out, %.
fn pores_without_largest(outcome: &Outcome) -> Option<f64> {
    let largest = outcome.blend.skeleton.largest?;
    let blend = without(outcome, &outcome.barrow.lines[largest])?;
    Some(settled_pores_pct(&blend))
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
    let lying = lying(outcome);
    let stands = |pores: f64| stands(pores, lying.1, outcome);
    Remark::BothEnds {
        standing: [stands(crumbly.1), stands(puddled.1)],
        crumbly,
        puddled,
        lying,
    }
}

/// How one pore space stands to another, within what the packing knows of such a mix.
fn stands(pores: f64, beside: f64, outcome: &Outcome) -> Standing {
    let same = same_pores_pct(outcome);
    if pores > beside + same {
        Standing::More
    } else if pores < beside - same {
        Standing::Less
    } else {
        Standing::Same
    }
}

fn same_pores_pct(outcome: &Outcome) -> f64 {
    let mut mixed = outcome.barrow.mixed();
    if mixed.any(|line| line.material.group.is_organic() && line.dry_kg > 0.0) {
        SAME_SOFT_PORES_PCT
    } else {
        SAME_PORES_PCT
    }
}

fn settled_pores_pct(blend: &Blend) -> f64 {
    100.0 * blend.pore_space(blend.volumes.settled_m3)
}

fn beside_digging(outcome: &Outcome) -> Remark {
    let pores_pct = outcome.pore_space_pct.settled.typical;
    let settled_pores_pct = outcome.ground.settled_pore_space_pct.typical;
    Remark::BesideDigging {
        standing: stands(pores_pct, settled_pores_pct, outcome),
        pores_pct,
        settled_pores_pct,
    }
}

/// Water for plants beside digging alone, where it differs, or where organic matter in heavy clay
/// bought air instead.
fn holds(outcome: &Outcome) -> Option<Remark> {
    let ground = &outcome.ground;
    let air_pct = [ground.settled_air_pct, outcome.pores_pct.air].map(|figure| figure.typical);
    let available_pct = [
        ground.settled_available_water_pct,
        outcome.pores_pct.available_water,
    ]
    .map(|figure| figure.typical);
    let takes_up = |line: &Line| {
        let group = line.material.group;
        (group.is_organic() || group == Group::PorousMineral) && line.dry_kg > 0.0
    };
    let standing = match available_pct[1] - available_pct[0] {
        // Sand holds no water that clay did not: such a step lies between two equations.
        more if more >= SAME_WATER_PCT && outcome.barrow.mixed().any(takes_up) => Standing::More,
        less if less <= -SAME_WATER_PCT => Standing::Less,
        _ => Standing::Same,
    };
    let is_organic = |line: &Line| line.material.group.is_organic() && line.dry_kg > 0.0;
    let buys_air = standing == Standing::Same
        && air_pct[1] - air_pct[0] >= SAME_WATER_PCT
        && outcome.barrow.ground.clay_pct() >= HEAVY_CLAY_PCT
        && outcome.barrow.mixed().any(is_organic);
    (standing != Standing::Same || buys_air).then_some(Remark::Holds {
        standing,
        buys_air,
        air_pct,
        available_pct,
    })
}

/// Compost, a quarter of the heap, where grains float and it takes too many of them.
fn instead(recipe: &Recipe, outcome: &Outcome, skeleton: &Remark) -> Option<Remark> {
    if !matches!(skeleton, Remark::Floating { too_much: true, .. }) {
        return None;
    }
    let barrow = &outcome.barrow;
    let organic = barrow
        .mixed()
        .filter(|line| line.material.group.is_organic());
    let organic_m3: f64 = organic.map(|line| line.loose_m3).sum();
    if organic_m3 >= ENOUGH_SHARE * barrow.loose_parts_m3() {
        return None;
    }
    let compost = recipe.find(INSTEAD)?;
    let material = compost.material().ok()?;
    let loose_m3 = barrow.ground_loose_m3() * INSTEAD_SHARE / (1.0 - INSTEAD_SHARE);
    let line = Line::of(material, loose_m3, false);
    let mut lines = recipe.additions.iter().zip(&barrow.lines);
    let priced = lines.find(|(addition, _)| addition.material == INSTEAD);
    let cost = priced.and_then(|(_, priced)| Some(priced.cost? / priced.moist_kg * line.moist_kg));
    let blend = Blend::with_lines(barrow, &|_| false, Some(&line))?;
    let pores_pct = settled_pores_pct(&blend);
    if pores_pct < outcome.pore_space_pct.settled.typical + NO_PORES_PCT {
        return None;
    }
    Some(Remark::Instead {
        name: compost.name().to_owned(),
        litres: loose_m3 * LITRES_PER_M3,
        kg: line.moist_kg,
        cost: cost.map(|cost| (cost, recipe.currency.clone())),
        pores_pct,
        buys_air: barrow.ground.clay_pct() >= HEAVY_CLAY_PCT,
    })
}

/// The addition that takes most of the pores, where the bed is tighter than digging alone leaves
/// it; grains that float are told elsewhere.
fn tightens(recipe: &Recipe, outcome: &Outcome) -> Option<Remark> {
    let pores_pct = outcome.pore_space_pct.settled.typical;
    let alone = outcome.ground.settled_pore_space_pct.typical;
    if stands(pores_pct, alone, outcome) != Standing::Less {
        return None;
    }
    let floats = outcome.blend.skeleton.touching == Some(false);
    let mut worst: Option<(usize, f64)> = None;
    for (index, line) in firsts(&outcome.barrow) {
        if floats && carries(line) {
            continue;
        }
        let Some(blend) = without(outcome, line) else {
            continue;
        };
        let without_pct = settled_pores_pct(&blend);
        if without_pct >= pores_pct + same_pores_pct(outcome)
            && worst.is_none_or(|(_, most)| without_pct > most)
        {
            worst = Some((index, without_pct));
        }
    }
    let (index, without_pct) = worst?;
    Some(Remark::Tightens {
        name: name_of(recipe, index)?.to_owned(),
        pores_pct,
        without_pct,
    })
}

/// The first line of each material that is mixed in.
fn firsts(barrow: &Barrow) -> impl Iterator<Item = (usize, &Line)> {
    let lines = barrow.lines.iter().enumerate();
    lines.filter(|(index, line)| {
        let same = |other: &Line| !other.on_top && other.material == line.material;
        !line.on_top && line.moist_kg > 0.0 && !barrow.lines[..*index].iter().any(same)
    })
}

/// The blend without the lines of one material.
fn without(outcome: &Outcome, line: &Line) -> Option<Blend> {
    let other = |other: &Line| other.material != line.material;
    Blend::with_lines(&outcome.barrow, &other, None)
}

/// Additions that could be left out and nobody would find it out.
fn idle(recipe: &Recipe, outcome: &Outcome) -> Option<Remark> {
    let barrow = &outcome.barrow;
    let heap_m3 = barrow.loose_parts_m3();
    let mut names = Vec::new();
    let mut found: Vec<&Line> = Vec::new();
    let (mut dry_kg, mut needed_kg, mut needed_cost) = (0.0, None, None);
    let (mut chemical, mut unproven) = (0, 0);
    for (index, line) in firsts(barrow) {
        let same = |other: &&Line| other.material == line.material;
        let sum = |of: fn(&Line) -> f64| barrow.mixed().filter(same).map(of).sum::<f64>();
        let loose_m3 = sum(|line| line.loose_m3);
        // A liquid takes no room, however much of it there is.
        if line.material.packs() && loose_m3 >= SMALL_SHARE * heap_m3 {
            continue;
        }
        let times =
            without(outcome, line).map_or(0.0, |blend| times_to_show(&outcome.blend, &blend));
        if times <= 1.0 {
            continue;
        }
        let moist_kg = sum(|line| line.moist_kg);
        let is_chemical = matches!(line.material.group, Group::Powder | Group::Meal);
        let too_much =
            times > TOO_MUCH_TIMES || loose_m3 * times > TOO_MUCH_PARTS * barrow.ground_loose_m3();
        // Of what burns or feeds nobody is told how much would show.
        let tells = !too_much && !is_chemical;
        needed_kg = tells.then_some(moist_kg * times);
        let cost = line.cost.filter(|_| tells);
        needed_cost = cost.map(|cost| {
            let each = cost / line.moist_kg;
            (each * moist_kg * times, recipe.currency.clone())
        });
        dry_kg += sum(|line| line.dry_kg);
        chemical += usize::from(is_chemical);
        let addition = &recipe.additions[index].material;
        let is_unproven =
            Entry::find(addition).is_some_and(|entry| entry.hazards.typical(Hazard::Unproven) >= 2);
        unproven += usize::from(is_unproven);
        names.extend(name_of(recipe, index).map(str::to_owned));
        found.push(line);
    }
    if names.len() > 1 {
        // Many little ones may show together.
        let other = |line: &Line| found.iter().all(|idle| idle.material != line.material);
        let blend = Blend::with_lines(barrow, &other, None)?;
        if times_to_show(&outcome.blend, &blend) <= 1.0 {
            return None;
        }
        // Which of them would be needed more of is not told of several.
        (needed_kg, needed_cost) = (None, None);
    }
    let count = names.len();
    (count > 0).then_some(Remark::Idle {
        names,
        share_pct: 100.0 * dry_kg / outcome.blend.masses.dry_kg,
        needed_kg,
        needed_cost,
        is_chemical: chemical == count,
        loosens_clay: chemical == 0 && outcome.blend.skeleton.touching.is_some(),
        is_unproven: unproven == count,
    })
}

/// How many times as much of what makes two blends differ would show; at most 1 where it shows.
fn times_to_show(with: &Blend, without: &Blend) -> f64 {
    let density = |blend: &Blend| blend.density_kg_m3(blend.volumes.settled_m3);
    let organic = |blend: &Blend| {
        let masses = &blend.masses;
        100.0 * masses.organic_kg / (masses.dry_kg - masses.coarse_kg)
    };
    let mut most: f64 = 0.0;
    let mut differ = |one: f64, other: f64, least: f64| {
        let share = (one - other).abs() / least;
        if share > most {
            most = share;
        }
    };
    differ(
        settled_pores_pct(with),
        settled_pores_pct(without),
        NO_PORES_PCT,
    );
    differ(density(with), density(without), NO_DENSITY_KG_M3);
    differ(organic(with), organic(without), NO_ORGANIC_MATTER_PCT);
    let fines = |blend: &Blend| {
        let fines = blend.masses.fines_kg;
        let sum = fines[0] + fines[1] + fines[2];
        [fines[0] / sum, fines[1] / sum, fines[2] / sum]
    };
    let (one, other) = (fines(with), fines(without));
    for index in 0..3 {
        differ(100.0 * one[index], 100.0 * other[index], NO_TEXTURE_PCT);
    }
    if most > 0.0 {
        1.0 / most
    } else {
        f64::INFINITY
    }
}

/// What was assumed, and what is outside its limits.
pub(super) fn notes(recipe: &Recipe, outcome: &Outcome) -> Vec<Remark> {
    let mut notes = Vec::new();
    measured_notes(outcome, &mut notes);
    ground_notes(recipe, outcome, &mut notes);
    material_notes(recipe, &mut notes);
    texture_notes(outcome, &mut notes);
    water_notes(recipe, outcome, &mut notes);
    #[cfg(not(feature = "page"))]
    super::chemical::notes(recipe, outcome, &mut notes);
    if outcome.blend.skeleton.share > 0.0 && outcome.blend.skeleton.touching.is_none() {
        notes.push(Remark::NoSkeletonQuestion);
    }
    notes.extend(fill_note(recipe, outcome));
    if recipe.keeps_unknown_fields() {
        notes.push(Remark::KeptFields);
    }
    notes
}

fn measured_notes(outcome: &Outcome, notes: &mut Vec<Remark>) {
    let Some(measured) = &outcome.measured else {
        return;
    };
    for (sample, measurement) in &measured.unused {
        notes.push(Remark::NotCompared(*sample, *measurement));
    }
    for disagreement in &measured.disagreements {
        notes.push(Remark::Disagrees(*disagreement));
    }
    let effective_draws = measured.effective_draws;
    if effective_draws < FEW_DRAWS {
        notes.push(Remark::FewAgree { effective_draws });
    }
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
    let by_can = recipe.measured(Sample::Ground, Measurement::BulkDensity);
    if absent(Trait::BulkDensity) && by_can.is_none() {
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

fn water_notes(recipe: &Recipe, outcome: &Outcome, notes: &mut Vec<Remark>) {
    let masses = &outcome.blend.masses;
    if masses.fractions_pct().is_some() {
        let [wet, _] = outcome.blend.errors[1].middle;
        let fines_kg: f64 = masses.fines_kg.iter().sum();
        if wet >= LEAST_ADDED && 100.0 * fines_kg >= FEW_FINES_PCT * masses.dry_kg {
            notes.push(Remark::WaterAdded {
                points: 100.0 * wet,
            });
        }
    }
    let ground = &outcome.barrow.ground;
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let of_ground = if has_ground { ground.clay_pct() } else { 0.0 };
    let clay_pct = masses
        .fractions_pct()
        .map_or(of_ground, |[_, _, clay]| clay.max(of_ground));
    let organic_pct = outcome
        .organic_matter_pct
        .map_or(0.0, |organic| organic.typical);
    let factor = outcome.blend.density_factor;
    let beyond = Beyond::of(0.01 * clay_pct, organic_pct, factor);
    if beyond.clay || beyond.organic_matter || (has_ground && beyond.density) {
        notes.push(Remark::WaterOutside);
    }
    let place = recipe.place.as_ref();
    if place.is_some_and(|place| place.kind == Some(PlaceKind::Container) && place.height.is_none())
    {
        notes.push(Remark::NoHeight);
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
