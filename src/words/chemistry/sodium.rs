//! Sodium, and whether gypsum has anything to do.

use super::super::{Speech, fixed, percent, significant};
use super::{
    Said, decimals_of, in_brackets, is_guessed, mass_said, on_area, soil_word, water_depth,
};
use crate::chemistry::gypsum::{Reason, Requirement, RestsOn};
use crate::chemistry::sodicity::{
    ESI_DISPERSES, ESP_SODIC_PCT, ESP_WATCH_PCT, MagnesiumCase, SaltClass, stability,
};
use crate::figure::Ends;
use crate::ground::Trait;
use crate::outcome::{Layer, Outcome};
use crate::recipe::Recipe;

/// Calcium and magnesium where they are not told: nothing that makes clay worse.
const UNTOLD_PCT: [f64; 2] = [100.0, 0.0];

/// Calcium and magnesium of the ground, %, where both are told.
fn bases_pct(recipe: &Recipe) -> Option<[f64; 2]> {
    let typical = |of: Trait| recipe.ground.get(of).map(|figure| figure.typical);
    Some([
        typical(Trait::CalciumShare)?,
        typical(Trait::MagnesiumShare)?,
    ])
}

fn requirement(recipe: &Recipe, outcome: &Outcome) -> Requirement {
    let it = &outcome.chemistry;
    let [calcium, magnesium] = bases_pct(recipe).unwrap_or(UNTOLD_PCT);
    let rests_on = if is_guessed(recipe, outcome, &[Trait::SodiumShare]) {
        RestsOn::Estimated
    } else {
        RestsOn::Given
    };
    Requirement::to_watch(
        Layer::of(outcome).slice,
        it.cec_cmol_kg,
        [calcium, magnesium, it.esp_pct],
        rests_on,
    )
}

/// Whether sodium makes trouble, and whether gypsum would mend it.
pub fn sodium_said(recipe: &Recipe, outcome: &Outcome) -> Said {
    let sodium = outcome.chemical.esp_pct;
    let [value, range] = in_brackets(sodium, decimals_of(sodium), [" %", " %"]);
    let soil = soil_word(outcome);
    let it = requirement(recipe, outcome);
    let (before, after) = match it.reason {
        Reason::NoneNeeded if it.rests_on == RestsOn::Given => (
            format!("No sign that gypsum would loosen {soil}: sodium {value}"),
            "; a jar test settles it.".into(),
        ),
        Reason::NoneNeeded => (
            format!("Sodium of your ground is not told. At what is usual, {value}"),
            format!(
                ", there is no sign that gypsum would loosen {soil}; a jar test settles it."
            ),
        ),
        Reason::Magnesium => (
            format!("Sodium is {value}"),
            ", too little to do harm; the magnesium beside it may.".into(),
        ),
        Reason::Watch => (
            format!("Sodium is about {value}"),
            ": watered by rain, clay may fall apart from 6 % on. Drop crumbs in water before you buy \
             gypsum, then try it in one place."
                .into(),
        ),
        Reason::Sodic => (
            format!("Sodium is about {value}"),
            match SaltClass::of(outcome.chemistry.ec_stress_ds_m, sodium.typical) {
                SaltClass::SalineSodic => {
                    ": from 15 % on a soil is called sodic, and this one is salty as well. Calcium \
                     first, then water; the other way round the clay falls apart."
                        .into()
                }
                _ => {
                    ": from 15 % on a soil is called sodic, and rain makes its clay fall apart. \
                     Calcium first, then water."
                        .into()
                }
            },
        ),
    };
    Said {
        before,
        range,
        after,
    }
}

/// How much gypsum, why, and what it needs.
pub fn gypsum_need_text(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> String {
    let it = requirement(recipe, outcome);
    let layer = Layer::of(outcome);
    let added = outcome.chemistry.gypsum_kg > 0.0;
    if it.pure_kg_m2 <= 0.0 {
        return if added && it.reason == Reason::NoneNeeded {
            "Here gypsum is a fertiliser of calcium and sulfur: it leaves pH and tilth as they are."
                .into()
        } else {
            String::new()
        };
    }
    let [all, range] = mass_said(it.product_kg_m2.map(|kg| kg * layer.area_m2), speech);
    let water = it.dissolves_mm.max(it.leaches_mm);
    let Ends { low, high } = it.seasons.ends();
    let seasons = [low, high].map(|seasons| significant(seasons.max(0.1), 1));
    let mut text = format!(
        "To bring sodium below {}: about {all} of gypsum for all of it{range}, {}",
        percent(ESP_WATCH_PCT),
        on_area(it.product_kg_m2.typical, speech)
    );
    if it.doses > 1 {
        text += &format!(", in {} parts", it.doses);
    }
    text += &format!(
        ". It takes {} of water to dissolve and to carry the sodium away below; rain alone needs {} \
         to {} seasons. Without a way out it only adds salt.",
        water_depth(water, speech),
        seasons[0],
        seasons[1]
    );
    if it.rests_on == RestsOn::Estimated {
        text += " Have sodium tested before you buy any.";
    }
    text
}

/// Whether the clay is expected to fall apart in rain.
pub fn disperses_text(outcome: &Outcome) -> String {
    let it = &outcome.chemistry;
    if it.esp_pct < ESP_WATCH_PCT {
        return String::new();
    }
    match stability(it.ec_1to5_ds_m, it.esp_pct) {
        Some(ratio) if ratio < ESI_DISPERSES => format!(
            "It holds too little salt for so much sodium (conductivity over sodium {}, and {} is \
             about where clay stays together): expect milky puddles and a crust.",
            fixed(ratio, 3),
            fixed(ESI_DISPERSES, 2)
        ),
        Some(_) if it.esp_pct >= ESP_SODIC_PCT => {
            "Its salt still keeps the clay together. Washed out by rain, it would not.".into()
        }
        _ => "Its salt keeps the clay together for now.".into(),
    }
}

/// What magnesium adds; a balance of cations is never aimed at.
pub fn magnesium_text(recipe: &Recipe) -> String {
    let Some([calcium, magnesium]) = bases_pct(recipe) else {
        return String::new();
    };
    match MagnesiumCase::of(calcium, magnesium) {
        MagnesiumCase::No => String::new(),
        MagnesiumCase::Maybe => format!(
            "Magnesium holds {} of the exchange, which can make clay a little worse than its sodium \
             tells. The jar test shows it.",
            percent(magnesium)
        ),
        MagnesiumCase::Likely => format!(
            "Magnesium holds {} of the exchange, calcium {}: so much can make clay fall apart like \
             sodium does. If crumbs go milky in water, gypsum is worth a trial in one place.",
            percent(magnesium),
            percent(calcium)
        ),
    }
}
