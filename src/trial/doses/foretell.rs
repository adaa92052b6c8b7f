//! What the model foretells of a container.

use super::One;
use crate::caution::Caution;
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::{Amount, RecipeError};
use crate::trial::convert::minutes_of;
use crate::trial::plan::{Deed, Predicted, Trial, Vessel};

/// Water poured on for the time of infiltration, mm.
pub const INFILTRATION_MM: f64 = 25.0;

/// What the model foretells of one container.
#[derive(Clone, Debug)]
pub struct Foretold {
    /// Figures with their ranges.
    pub figures: Vec<(Predicted, Figure)>,
    /// What one weighs as filled, with the empty container, kg.
    pub filled_kg: Figure,
    /// What one weighs watered and drained, kg.
    pub watered_kg: Figure,
    /// What to beware of in it.
    pub cautions: Vec<Caution>,
}

impl Foretold {
    /// Of one treatment.
    ///
    /// # Errors
    /// A fault of its recipe.
    pub fn of(trial: &Trial, treatment: usize, one: &One) -> Result<Foretold, RecipeError> {
        let outcome = Outcome::of(&one.recipe)?;
        let deed = trial.treatments.get(treatment).map(|of| &of.deed);
        let empty_kg = match &trial.vessel {
            Vessel::Container { empty, .. } => empty.as_ref().map_or(0.0, Amount::si),
            Vessel::Strip { .. } => 0.0,
        };
        let with_empty = |figure: Figure| figure.map(|kg| kg + empty_kg);
        let untouched = deed == Some(&Deed::Untouched);
        let watered_kg = with_empty(outcome.watered_kg);
        Ok(Foretold {
            figures: figures(&outcome, untouched, watered_kg, &trial.vessel),
            filled_kg: with_empty(outcome.moist_kg),
            watered_kg,
            cautions: outcome.cautions,
        })
    }
}

fn figures(
    outcome: &Outcome,
    untouched: bool,
    watered_kg: Figure,
    vessel: &Vessel,
) -> Vec<(Predicted, Figure)> {
    let ground = &outcome.ground;
    let share = |figure: Figure| figure.map(|pct| pct / 100.0);
    let in_container = matches!(vessel, Vessel::Container { .. });
    let mut out = Vec::new();
    let mut put = |of: Predicted, figure: Option<Figure>| {
        let sound = |figure: &Figure| figure.typical.is_finite();
        if let Some(figure) = figure.filter(sound) {
            out.push((of, figure));
        }
    };
    let pot_air = outcome.container.as_ref().map(|pot| pot.air_pct);
    // What stands in a pot untouched the model knows only as it lies in the ground.
    let air = match (untouched, in_container) {
        (true, true) => None,
        (true, false) => Some(ground.lying_pores_pct.air),
        (false, true) => pot_air,
        (false, false) => Some(outcome.pores_pct.air),
    };
    put(Predicted::AirSpace, air.map(share));
    let [pores, density, water, drains] = if untouched {
        [
            ground.lying_pore_space_pct,
            ground.lying_density_kg_m3,
            ground.lying_pores_pct.available_water,
            ground.drainage_mm_h[0],
        ]
    } else {
        [
            outcome.pore_space_pct.settled,
            outcome.bulk_density_kg_m3.settled,
            outcome.pores_pct.available_water,
            outcome.drainage_mm_h,
        ]
    };
    put(Predicted::PoreSpace, Some(share(pores)));
    put(
        Predicted::Density,
        Some(density.map(|kg_m3| kg_m3 / 1000.0)),
    );
    put(Predicted::PlantWater, Some(share(water)));
    put(Predicted::Drainage, Some(drains.map(|mm_h| mm_h / 10.0)));
    put(Predicted::Infiltration, infiltration(drains));
    put(Predicted::Ph, outcome.chemical.ph);
    put(Predicted::Salt, Some(outcome.chemical.ec_1to5_ds_m));
    // Untouched clods hold another water than the bed that the model settles.
    put(
        Predicted::Weight,
        (in_container && !untouched).then_some(watered_kg),
    );
    out
}

/// The time of a watering from how fast it drains: the fast end is the short one.
fn infiltration(drains_mm_h: Figure) -> Option<Figure> {
    let minutes = |mm_h: f64| minutes_of(INFILTRATION_MM, mm_h);
    let typical = minutes(drains_mm_h.typical)?;
    let Some(ends) = drains_mm_h.ends else {
        return Some(Figure::exact(typical));
    };
    Some(Figure::between(
        minutes(ends.high)?,
        typical,
        minutes(ends.low)?,
    ))
}
