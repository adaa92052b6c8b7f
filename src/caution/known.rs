//! What is known of a recipe, as far as cautions go.

use super::Becomes;
use crate::blend::{Barrow, CARBONATE_ABOVE_PH};
use crate::chemistry::sodicity::MAGNESIUM_PCT;
use crate::ground::Trait;
use crate::material::{Entry, Group, Hazard, Hazards};
use crate::recipe::{Near, Place, Recipe};

/// An addition that is used.
pub(super) struct Used<'a> {
    /// Its place in the recipe.
    pub(super) index: usize,
    pub(super) id: &'a str,
    pub(super) group: Group,
    pub(super) hazards: Hazards,
    /// The usual rate on an area, kg/m2, where there is one.
    pub(super) usual_kg_m2: Option<f64>,
    /// Loose volume as it is mixed in; none of what lies on top, m3.
    pub(super) mixed_m3: f64,
    pub(super) moist_kg: f64,
    pub(super) dry_kg: f64,
}

/// What is known of a ground's sodium.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Sodium {
    /// Nothing.
    Unknown,
    /// That nine in ten such grounds have less, % of the exchange.
    Below(f64),
}

pub(super) struct Known<'a> {
    pub(super) used: Vec<Used<'a>>,
    pub(super) place: Option<&'a Place>,
    /// What is known of the ground's sodium.
    pub(super) sodium: Sodium,
    /// Whether magnesium is so much of the exchange that it may disperse clay as sodium does.
    pub(super) much_magnesium: bool,
    /// Reaction of the ground, as given; 0 where it is not.
    pub(super) ground_ph: f64,
    /// Whether what lime there is, is only what is usual at its reaction.
    pub(super) lime_is_assumed: bool,
    /// The area of everything that is mixed, m2, where it is told.
    pub(super) area_m2: Option<f64>,
    pub(super) barrow: &'a Barrow,
    pub(super) becomes: Becomes,
    /// What one container weighs, or the whole bed, kg, watered and drained.
    pub(super) each_kg: f64,
    /// What all of them weigh, kg, watered and drained.
    pub(super) all_kg: f64,
}

impl<'a> Known<'a> {
    pub(super) fn of(recipe: &'a Recipe, barrow: &'a Barrow, becomes: Becomes) -> Known<'a> {
        let place = recipe.place.as_ref();
        let mut used = Vec::new();
        let mut on_top_kg = 0.0;
        for (index, line) in barrow.lines.iter().enumerate() {
            let Some(addition) = recipe.additions.get(index) else {
                continue;
            };
            if line.moist_kg <= 0.0 {
                continue;
            }
            if line.on_top {
                on_top_kg += line.moist_kg;
            }
            let id = addition.material.as_str();
            // An own material of the name and group of the catalogue's is a lot of that.
            let entry = Entry::find(id).filter(|entry| entry.group == line.material.group);
            used.push(Used {
                index,
                id,
                group: line.material.group,
                hazards: entry.map_or_else(|| of_own(line.material.group), |entry| entry.hazards),
                usual_kg_m2: entry.and_then(|entry| entry.usual_kg_m2),
                mixed_m3: if line.on_top { 0.0 } else { line.loose_m3 },
                moist_kg: line.moist_kg,
                dry_kg: line.dry_kg,
            });
        }
        Known {
            each_kg: (becomes.watered_kg + on_top_kg)
                / place.and_then(|place| place.count).unwrap_or(1.0),
            all_kg: becomes.watered_kg + on_top_kg,
            becomes,
            sodium: match recipe.ground.get(Trait::SodiumShare) {
                None => Sodium::Unknown,
                Some(figure) => Sodium::Below(figure.ends().high),
            },
            much_magnesium: {
                let share = |of: Trait| recipe.ground.typical(of);
                let magnesium_pct = share(Trait::MagnesiumShare).unwrap_or(0.0);
                let calcium_pct = share(Trait::CalciumShare);
                magnesium_pct > MAGNESIUM_PCT.1
                    || calcium_pct.is_some_and(|calcium_pct| calcium_pct < magnesium_pct)
            },
            ground_ph: recipe.ground.typical(Trait::Ph).unwrap_or(0.0),
            lime_is_assumed: recipe.ground.get(Trait::Carbonate).is_none()
                && recipe.ground.typical(Trait::Ph) > Some(CARBONATE_ABOVE_PH),
            area_m2: barrow.whole_area_m2(recipe),
            used,
            place,
            barrow,
        }
    }
}

impl Known<'_> {
    /// What is near, where it is known.
    pub(super) fn near(&self) -> Option<Near> {
        self.place?.near
    }
}

/// What an own material may be like: the usual worst of its kind, since nothing else is known.
fn of_own(group: Group) -> Hazards {
    let none = Hazards::default();
    match group {
        Group::Sand | Group::MineralMeal => none.with(Hazard::Silica, 2, 2),
        Group::PorousMineral => none.with(Hazard::Dust, 2, 3),
        Group::CompostManure => none
            .with(Hazard::Herbicide, 2, 3)
            .with(Hazard::Pathogen, 1, 2)
            .with(Hazard::Weed, 1, 2),
        Group::Soil => none
            .with(Hazard::Metals, 1, 2)
            .with(Hazard::Herbicide, 1, 2)
            .with(Hazard::Weed, 1, 3),
        Group::Powder => none.with(Hazard::Caustic, 1, 3).with(Hazard::Dust, 2, 3),
        Group::BarkWoodStraw => none.with(Hazard::Herbicide, 1, 2),
        Group::Meal => none.with(Hazard::Dust, 1, 2),
        Group::Grit | Group::Char | Group::PeatCoir | Group::Liquid => none,
    }
}
