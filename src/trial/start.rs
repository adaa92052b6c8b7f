//! A plan to begin with, from what a recipe has.

use super::crops::{TestCrop, USUAL};
use super::layout::{TREATMENTS, USUAL_BLOCKS};
use super::measures::{find, usual_spread};
use super::plan::{Deed, Treatment, Trial, Vessel, usual_photo_days};
use crate::blend::Barrow;
use crate::caution::CAPS_KG_M2;
use crate::material::{Entry, Group};
use crate::quantity::{Unit, round_significant};
use crate::recipe::{Amount, Kept, PlaceKind, Recipe, Soil};

/// The container where the recipe has none: a pail of 10 L, 25 cm high (a choice).
const PAIL: (f64, f64) = (10.0, 25.0);
/// The usual dose, % of the container's volume (common practice: a fifth).
const DOSE_PCT: f64 = 20.0;
/// The measure that decides where none is chosen.
const PRIMARY: &str = "root_fresh_g";
/// Digits of a dose that is taken from the recipe.
const DOSE_DIGITS: usize = 3;
/// A second dose is so many times the first (common practice).
pub const SECOND_DOSE: f64 = 2.0;

impl Trial {
    /// A plan to begin with: the dug control, every addition of the recipe alone at one dose, and
    /// the recipe itself where it mixes several; in the recipe's containers, or usual ones.
    pub fn of_recipe(recipe: &Recipe, seed: u64) -> Trial {
        let mut treatments = vec![Treatment::new(Deed::Dug)];
        let mixed = recipe
            .additions
            .iter()
            .filter(|addition| !addition.is_on_top());
        for addition in mixed {
            let mut one = Treatment::of(addition.material.as_str());
            one.dose = first_dose(recipe, &addition.material);
            // The blend keeps a place.
            if treatments.len() + 1 < TREATMENTS.1 && !treatments.contains(&one) {
                treatments.push(one);
            }
        }
        let single = treatments.len() - 1;
        if single > 1 {
            treatments.push(Treatment::new(Deed::Blend));
        }
        let mut trial = Trial::new(treatments, vessel(recipe), seed);
        trial.blocks = USUAL_BLOCKS.0;
        trial.dose = Some(Amount::new(DOSE_PCT, Unit::VolumePercent));
        trial.crop = Some(USUAL.to_owned());
        trial.primary = Some(PRIMARY.to_owned());
        trial.matters = find(&[], PRIMARY).and_then(|measure| measure.matters);
        trial.expected_cv_pct = usual_spread(PRIMARY).map(|spread| spread.cv_pct[1]);
        if let Some(crop) = TestCrop::find(USUAL) {
            trial.photo_days = usual_photo_days(crop.harvest_days.value[1]);
            let plants = trial.area_cm2().map(|area| crop.plants(area));
            trial.plants = plants.filter(|plants| *plants > 0);
        }
        trial
    }

    /// Surface of one container or strip, cm2; none where there is none.
    pub fn area_cm2(&self) -> Option<f64> {
        const CM2_PER_M2: f64 = 1e4;
        let area_m2 = match &self.vessel {
            Vessel::Container { volume, height, .. } => volume.si() / height.si(),
            Vessel::Strip { area, .. } => area.si(),
        };
        let sound = area_m2.is_finite() && area_m2 > 0.0;
        sound.then_some(area_m2 * CM2_PER_M2)
    }
}

impl Treatment {
    /// The same at a dose and at [`SECOND_DOSE`] times as much.
    pub fn at_two(self, dose: &Amount) -> [Treatment; 2] {
        let second = Amount::new(dose.value * SECOND_DOSE, dose.unit);
        [self.clone().at(dose.clone()), self.at(second)]
    }
}

/// The dose to begin with of what is never added by the fifth: powders, meals and liquids at the
/// rate that the recipe has, for each litre of its ground, else at their usual one over the surface.
/// None of others, which have the trial's.
pub fn first_dose(recipe: &Recipe, material: &str) -> Option<Amount> {
    let found = recipe.find(material)?;
    if !matches!(found.group(), Group::Powder | Group::Meal | Group::Liquid) {
        return None;
    }
    own_dose(recipe, material).or_else(|| {
        let usual = Entry::find(material)?.usual_kg_m2?;
        // No more than is advised at once.
        let cap = CAPS_KG_M2.iter().find(|(id, _)| *id == material);
        let usual = cap.map_or(usual, |(_, cap)| usual.min(*cap));
        let rate = round_significant(usual, DOSE_DIGITS);
        Some(Amount::new(rate, Unit::KilogramPerSquareMetre))
    })
}

fn own_dose(recipe: &Recipe, material: &str) -> Option<Amount> {
    let barrow = Barrow::of(recipe).ok()?;
    let lying_m3 = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3;
    let both = recipe.additions.iter().zip(&barrow.lines);
    let of = both.filter(|(addition, _)| addition.material == material && !addition.is_on_top());
    let kg: f64 = of.map(|(_, line)| line.moist_kg).sum();
    // kg/m3 are g/L.
    let rate = kg / lying_m3;
    let sound = rate > 0.0 && rate.is_finite();
    sound.then(|| Amount::new(round_significant(rate, DOSE_DIGITS), Unit::GramPerLitre))
}

/// The recipe's own containers, where it tells volume and height; else the usual pail.
fn vessel(recipe: &Recipe) -> Vessel {
    let place = recipe.place.as_ref();
    let bed = place.is_none_or(|place| place.kind != Some(PlaceKind::Container));
    let own = place.and_then(|place| place.volume.clone().zip(place.height.clone()));
    let own = own.filter(|(volume, height)| !bed && volume.value > 0.0 && height.value > 0.0);
    let (volume, height) = own.unwrap_or((
        Amount::new(PAIL.0, Unit::Litre),
        Amount::new(PAIL.1, Unit::Centimetre),
    ));
    Vessel::Container {
        volume,
        height,
        empty: None,
        kept: Kept::new(),
    }
}

/// A strip of the recipe's bed, one for each container of a trial: its area shared out; none where
/// it is no bed.
pub fn strip_of(recipe: &Recipe, containers: usize) -> Option<Vessel> {
    let Soil::Bed { area, depth, .. } = &recipe.soil else {
        return None;
    };
    let each = area.value / containers as f64;
    let some = each > 0.0 && each.is_finite() && depth.value > 0.0;
    some.then(|| Vessel::Strip {
        area: Amount::new(each, area.unit),
        depth: Amount::new(depth.value, depth.unit),
        kept: Kept::new(),
    })
}
