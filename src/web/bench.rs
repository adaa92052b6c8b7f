//! Doors for the benches of `tests/bench`: the draws of one recipe over and over, and what plain
//! JavaScript needs to do the same.

use crate::draws::{DRAWS, Strata, ends, quantile};
use crate::ground::EstimateErrors;
use crate::material::{Property, catalogue};
use crate::outcome::{Measure, Outcome};
use crate::recipe::Recipe;
use crate::texture::classify;
use crate::words::error_text;
use std::fmt::Write as _;
use wasm_bindgen::prelude::*;

/// The measures in the order in which [`Bench::ends`] tells them.
const MEASURES: [(&str, Measure); 45] = [
    ("sand_pct", Measure::Sand),
    ("silt_pct", Measure::Silt),
    ("clay_pct", Measure::Clay),
    ("organic_matter_pct", Measure::OrganicMatter),
    (
        "organic_matter_with_char_pct",
        Measure::OrganicMatterWithChar,
    ),
    ("dry_kg", Measure::DryMass),
    ("moist_kg", Measure::MoistMass),
    ("on_top_kg", Measure::OnTop),
    ("loose_parts_l", Measure::LooseParts),
    ("fresh_l", Measure::FreshVolume),
    ("settled_l", Measure::SettledVolume),
    ("puddled_l", Measure::PuddledVolume),
    ("fresh_kg_m3", Measure::FreshDensity),
    ("settled_kg_m3", Measure::SettledDensity),
    ("puddled_kg_m3", Measure::PuddledDensity),
    ("fresh_pores_pct", Measure::FreshPores),
    ("settled_pores_pct", Measure::SettledPores),
    ("puddled_pores_pct", Measure::PuddledPores),
    ("share", Measure::Share),
    ("threshold", Measure::Threshold),
    ("more_to_touch_kg", Measure::MoreToTouch),
    ("cost", Measure::Cost),
    ("ground_organic_matter_pct", Measure::GroundOrganicMatter),
    ("lying_kg_m3", Measure::LyingDensity),
    ("lying_pores_pct", Measure::LyingPores),
    ("dug_kg_m3", Measure::DugDensity),
    ("dug_pores_pct", Measure::DugPores),
    ("alone_kg_m3", Measure::AloneDensity),
    ("alone_pores_pct", Measure::AlonePores),
    ("air_pct", Measure::Air),
    ("available_pct", Measure::Available),
    ("unavailable_pct", Measure::Unavailable),
    ("closed_pct", Measure::Closed),
    ("drainage_mm_h", Measure::Drainage),
    ("watered_kg", Measure::WateredMass),
    ("pot_water_pct", Measure::PotWater),
    ("pot_air_pct", Measure::PotAir),
    ("lying_air_pct", Measure::LyingAir),
    ("lying_available_pct", Measure::LyingAvailable),
    ("lying_unavailable_pct", Measure::LyingUnavailable),
    ("lying_field_capacity_pct", Measure::LyingFieldCapacity),
    ("lying_drainage_mm_h", Measure::LyingDrainage),
    ("alone_air_pct", Measure::AloneAir),
    ("alone_available_pct", Measure::AloneAvailable),
    ("alone_drainage_mm_h", Measure::AloneDrainage),
];

/// A recipe and its strata, kept warm.
#[wasm_bindgen]
#[derive(Debug)]
#[allow(unreachable_pub)] // its caller is the glue
pub struct Bench {
    recipe: Recipe,
    strata: Strata,
}

#[wasm_bindgen]
#[allow(unreachable_pub)]
impl Bench {
    /// Reads a recipe and shuffles what it needs.
    ///
    /// # Errors
    /// The recipe's own fault, in words.
    #[wasm_bindgen(constructor)]
    pub fn new(json: &str) -> Result<Bench, JsValue> {
        let fault = |error| JsValue::from_str(&error_text(&error));
        let recipe = Recipe::from_json(json).map_err(fault)?;
        let mut strata = Strata::of(DRAWS);
        Outcome::drawn_from(&recipe, &mut strata).map_err(fault)?;
        Ok(Bench { recipe, strata })
    }

    /// Draws the outcome so many times; the sum of one figure's ends keeps the work from being
    /// left out.
    pub fn run(&mut self, times: u32) -> f64 {
        let mut sum = 0.0;
        for _ in 0..times {
            if let Ok(outcome) = Outcome::drawn_from(&self.recipe, &mut self.strata) {
                let ends = outcome.pore_space_pct.settled.ends();
                sum += ends.low + ends.high;
            }
        }
        sum
    }

    /// Names of what [`Bench::ends`] tells, in its order, between spaces.
    pub fn names() -> String {
        MEASURES.map(|(name, _)| name).join(" ")
    }

    /// The 5th and the 95th percentile of every measure; no number where there is none.
    pub fn ends(&mut self) -> Vec<f64> {
        let Ok(outcome) = Outcome::drawn_from(&self.recipe, &mut self.strata) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        for (_, of) in MEASURES {
            match ends(outcome.drawn.column(of)) {
                Some(ends) => out.extend([ends.low, ends.high]),
                None => out.extend([f64::NAN; 2]),
            }
        }
        out
    }

    /// Id of the heaviest coarse addition; empty without any.
    pub fn largest(&mut self) -> String {
        let outcome = Outcome::drawn_from(&self.recipe, &mut self.strata);
        let line = outcome.ok().and_then(|known| known.blend.skeleton.largest);
        line.map_or(String::new(), |line| {
            self.recipe.additions[line].material.clone()
        })
    }

    /// What the errors of the water equations are drawn from, which only the typical masses tell:
    /// the additions' share of the loose volumes, then for the ground and for the blend seven
    /// errors at 33 kPa, seven at 1500 kPa, seven of conductivity, and three correlations.
    pub fn water(&mut self) -> Vec<f64> {
        let Ok(outcome) = Outcome::drawn_from(&self.recipe, &mut self.strata) else {
            return Vec::new();
        };
        let barrow = &outcome.barrow;
        let added_m3: f64 = barrow.mixed().map(|line| line.loose_m3).sum();
        let mut out = vec![added_m3 / (added_m3 + barrow.ground_loose_m3())];
        for errors in outcome.blend.errors {
            out.extend(errors.theta_33);
            out.extend(errors.theta_1500);
            out.extend(errors.log10_conductivity);
            out.extend(errors.together);
        }
        out
    }

    /// What the outcome says of its draws beside figures: the share of them in each texture class,
    /// in which grains touch, and with more and with less than the ground in each comparison.
    pub fn odds(&mut self) -> Vec<f64> {
        let Ok(outcome) = Outcome::drawn_from(&self.recipe, &mut self.strata) else {
            return Vec::new();
        };
        let mut out = Vec::new();
        out.extend(outcome.texture.iter().flat_map(|known| known.class_odds));
        out.push(outcome.skeleton.touching_odds.unwrap_or(f64::NAN));
        if let Some(changes) = outcome.changes {
            let pairs = [changes.pore_space_pct, changes.bulk_density_kg_m3];
            let all = pairs.into_iter().flatten();
            for change in all.chain(changes.organic_matter_pct) {
                out.extend([change.odds_more, change.odds_less]);
            }
        }
        out
    }
}

/// The standard normal quantile of each stratum's middle.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn bench_scores() -> Vec<f64> {
    let share = |stratum: u32| (f64::from(stratum) + 0.5) / f64::from(DRAWS);
    (0..DRAWS).map(|stratum| quantile(share(stratum))).collect()
}

/// The errors of the estimates for a texture, %: seven of density, seven of water, and their
/// correlation.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn bench_errors(sand: f64, silt: f64, clay: f64) -> Vec<f64> {
    let errors = EstimateErrors::of(classify([sand, silt, clay]));
    let mut out = errors.density_kg_m3.to_vec();
    out.extend(errors.theta_33);
    out.push(errors.correlation);
    out
}

/// The catalogue as JSON: group and figures of each material.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn bench_catalogue() -> String {
    let mut out = String::from("{");
    for (index, entry) in catalogue().iter().enumerate() {
        let comma = if index > 0 { "," } else { "" };
        let group = entry.group.spelling();
        let _ = write!(out, "{comma}\"{}\":{{\"group\":\"{group}\"", entry.id);
        for property in Property::ALL {
            if let Some(figure) = entry.properties.get(*property) {
                let (name, ends, typical) = (property.name(), figure.ends(), figure.typical);
                let _ = write!(out, ",\"{name}\":{{\"low\":{:?},", ends.low);
                let _ = write!(out, "\"typical\":{typical:?},\"high\":{:?}}}", ends.high);
            }
        }
        out.push('}');
    }
    out.push('}');
    out
}
