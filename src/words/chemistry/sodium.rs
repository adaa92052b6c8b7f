//! Sodium, and whether gypsum has anything to do.

use super::super::{Speech, fixed, percent};
use super::{
    LEAST_SODIUM_PCT, NEAR_PCT, NO_SODIUM, Said, decimals_of, has_ground, in_brackets, is_guessed,
    mass_said, on_area, soil_word, water_depth, years_of_rain,
};
use crate::blend::SODIUM_SHARE_DEFAULT;
use crate::chemistry::gypsum::{
    DISSOLVES_MM, Reason, Requirement, RestsOn, WASHES, rain_half_years,
};
use crate::chemistry::sodicity::{
    ESI_DISPERSES, ESP_SODIC_PCT, ESP_WATCH_PCT, MagnesiumCase, SODIC_PH, SaltClass, stability,
};
use crate::figure::Ends;
use crate::ground::Trait;
use crate::ground::dispersion::Dispersion;
use crate::outcome::{Layer, Outcome, Supplied};
use crate::recipe::Recipe;

/// Calcium where it is not told: nothing that makes clay worse, %.
const UNTOLD_CALCIUM_PCT: f64 = 100.0;
/// From the ends of a range, where eight in ten lie, to where nine in ten do (normal distribution).
const WIDER: f64 = 1.6449 / 1.2816;

/// Calcium and magnesium of the ground, %, where magnesium is told.
fn bases_pct(recipe: &Recipe) -> Option<[Option<f64>; 2]> {
    let typical = |of: Trait| recipe.ground.get(of).map(|figure| figure.typical);
    let magnesium = typical(Trait::MagnesiumShare)?;
    Some([typical(Trait::CalciumShare), Some(magnesium)])
}

/// The same for those who reckon, with what stands for what is not told.
fn bases(recipe: &Recipe) -> [f64; 2] {
    let [calcium, magnesium] = bases_pct(recipe).unwrap_or_default();
    [
        calcium.unwrap_or(UNTOLD_CALCIUM_PCT),
        magnesium.unwrap_or(0.0),
    ]
}

/// What the sodium of the ground is known from.
#[derive(Clone, Copy, PartialEq)]
enum Known {
    /// A test, or there is no ground.
    Tested,
    /// Crumbs in a jar.
    Jar,
    /// A range that leaves open whether it matters.
    Wide,
    /// Nothing.
    Untold,
}

impl Known {
    fn of(recipe: &Recipe, outcome: &Outcome) -> Known {
        if !has_ground(outcome) {
            return Known::Tested;
        }
        match recipe.ground.get(Trait::SodiumShare) {
            None => Known::Untold,
            Some(figure) if Dispersion::of_sodium(figure).is_some() => Known::Jar,
            Some(figure) => {
                let Ends { low, high } = figure.ends();
                let is_open = low < ESP_WATCH_PCT && high >= ESP_WATCH_PCT;
                if figure.is_in_doubt() && is_open {
                    Known::Wide
                } else {
                    Known::Tested
                }
            }
        }
    }
}

/// Sodium of the mix that one in twenty such mixes passes, %. From the ground's own range, so that it
/// stands before all draws are made.
fn high_pct(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> f64 {
    let sodium = outcome.chemical.esp_pct;
    let ground = recipe.ground.get(Trait::SodiumShare);
    let Ends { high, .. } = ground.map_or(SODIUM_SHARE_DEFAULT.ends(), |it| it.ends());
    let ground = ground.map_or(SODIUM_SHARE_DEFAULT.typical, |it| it.typical);
    let more = WIDER * (high - ground).max(0.0) * supplied.ground_capacity;
    (sodium.typical + more).max(sodium.ends().high)
}

/// What is said of sodium.
struct Judged {
    known: Known,
    reason: Reason,
    /// Whether it may be enough to matter though it is likely not.
    may_matter: bool,
    /// Whether so high a reaction speaks of sodium that is not told.
    too_basic: bool,
}

impl Judged {
    fn of(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> Judged {
        let known = Known::of(recipe, outcome);
        let [calcium, magnesium] = bases(recipe);
        // Mixing takes no sodium out.
        let ph = recipe.ground.typical(Trait::Ph).unwrap_or(0.0);
        Judged {
            known,
            reason: Reason::of(outcome.chemistry.esp_pct, calcium, magnesium),
            may_matter: high_pct(recipe, outcome, supplied) >= ESP_WATCH_PCT,
            too_basic: known == Known::Untold && ph > SODIC_PH,
        }
    }

    /// Whether a test is called for before anything is bought.
    fn wants_test(&self) -> bool {
        self.known != Known::Tested
    }
}

/// What it takes to bring a share of sodium, %, to where it is watched from.
fn requirement(recipe: &Recipe, outcome: &Outcome, sodium_pct: f64) -> Requirement {
    let [calcium, magnesium] = bases(recipe);
    let rests_on = if is_guessed(recipe, outcome, &[Trait::SodiumShare]) {
        RestsOn::Estimated
    } else {
        RestsOn::Given
    };
    Requirement::to_watch(
        Layer::of(recipe, outcome).slice,
        outcome.chemistry.cec_cmol_kg,
        [calcium, magnesium, sodium_pct],
        rests_on,
    )
}

/// Whether sodium makes trouble, and whether gypsum would mend it.
pub fn sodium_said(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> Said {
    let sodium = outcome.chemical.esp_pct;
    let [mut value, range] = in_brackets(sodium, decimals_of(sodium), [" %", " %"]);
    if sodium.typical < LEAST_SODIUM_PCT {
        value = NO_SODIUM.text().into();
    }
    let soil = soil_word(outcome);
    let it = Judged::of(recipe, outcome, supplied);
    let watch = percent(ESP_WATCH_PCT);
    let (before, after) = match it.reason {
        Reason::NoneNeeded if it.too_basic => (
            say!("Have sodium tested: it is not told, {}", value),
            tr!(" is only what is usual, and lime alone does not make a soil so basic.").into(),
        ),
        Reason::NoneNeeded if it.may_matter && it.known == Known::Untold => (
            say!("Sodium of your ground is not told. At what is usual, {}", value),
            tr!(", gypsum has probably nothing to do; a jar test settles it.").into(),
        ),
        Reason::NoneNeeded if it.may_matter => (
            say!("Gypsum has probably nothing to do here: sodium is about {}", value),
            say!(", but may pass {}. Have it tested before you buy any.", watch),
        ),
        Reason::NoneNeeded if it.known == Known::Jar => (
            say!("The jar stayed clear: no sign that gypsum would loosen {}. Sodium is taken as {}", soil, value),
            ".".into(),
        ),
        Reason::NoneNeeded if it.known == Known::Untold => (
            say!("Sodium of your ground is not told. At what is usual, {}", value),
            say!(", there is no sign that gypsum would loosen {}; a jar test settles it.", soil),
        ),
        Reason::NoneNeeded => (
            say!("No sign that gypsum would loosen {}: sodium {}", soil, value),
            tr!("; a jar test settles it.").into(),
        ),
        Reason::Magnesium if it.known == Known::Untold => (
            say!("Sodium of your ground is not told. At what is usual, {}", value),
            tr!(", too little to do harm; the magnesium beside it may. Have both tested.").into(),
        ),
        Reason::Magnesium => (
            say!("Sodium is {}", value),
            tr!(", too little to do harm; the magnesium beside it may.").into(),
        ),
        Reason::Watch if it.wants_test() => (
            say!("Sodium may be about {}", value),
            say!(": watered by rain, clay may fall apart from {} on. Have it tested before you buy gypsum.", watch),
        ),
        Reason::Sodic if it.wants_test() => (
            say!("Sodium may be about {}", value),
            say!(", and from {} on a soil is called sodic. Have it tested before you buy gypsum or wash it.", percent(ESP_SODIC_PCT)),
        ),
        Reason::Watch => (
            say!("Sodium is about {}", value),
            say!(": watered by rain, clay may fall apart from {} on. Drop crumbs in water before you buy gypsum, then try it in one place.", watch),
        ),
        Reason::Sodic => (
            say!("Sodium is about {}", value),
            match SaltClass::of(outcome.chemistry.ec_stress_ds_m, sodium.typical) {
                SaltClass::SalineSodic => {
                    tr!(": from 15 % on a soil is called sodic, and this one is salty as well. Calcium first, then water; the other way round the clay falls apart.")
                        .into()
                }
                _ => tr!(": from 15 % on a soil is called sodic, and rain makes its clay fall apart. Calcium first, then water.")
                    .into(),
            },
        ),
    };
    Said {
        before,
        range,
        after,
    }
}

/// How much gypsum, why, and what it needs; what is in counts.
pub fn gypsum_need_text(
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
) -> String {
    let judged = Judged::of(recipe, outcome, supplied);
    let sodium = outcome.chemistry.esp_pct;
    let replaces = supplied.gypsum_replaces_pct(outcome);
    if !matches!(judged.reason, Reason::Watch | Reason::Sodic) {
        let surely_none =
            judged.reason == Reason::NoneNeeded && !judged.may_matter && !judged.too_basic;
        return if outcome.chemistry.gypsum_kg > 0.0 && surely_none {
            tr!("Here gypsum is a fertiliser of calcium and sulfur: it leaves pH and tilth as they are.")
                .into()
        } else {
            String::new()
        };
    }
    let layer = Layer::of(recipe, outcome);
    let share = |pct: f64| fixed(pct, usize::from(pct < 9.95));
    let left = (sodium - replaces).max(0.0);
    let mut text = String::new();
    if replaces > 0.0 {
        let much = if left <= NEAR_PCT {
            tr!("all").into()
        } else {
            say!("about {}", share(replaces))
        };
        text += &say!(
            "The gypsum that is in could replace {} of these {} % once it is washed through. ",
            much,
            share(sodium)
        );
        if left < ESP_WATCH_PCT + NEAR_PCT {
            let in_kg: f64 = supplied
                .supplies
                .iter()
                .map(|supply| supply.gypsum_kg)
                .sum();
            let dissolves_mm = DISSOLVES_MM * in_kg / layer.area_m2.max(1e-12);
            let water_mm = dissolves_mm + leaches_mm(layer);
            return text + tr!("No more is wanted. ") + &water_text(water_mm, speech);
        }
    }
    let it = requirement(recipe, outcome, left);
    let [all, range] = mass_said(it.product_kg_m2.map(|kg| kg * layer.area_m2), speech);
    let more = if replaces > 0.0 { tr!("more ") } else { "" };
    text += &if judged.wants_test() {
        say!(
            "If a test finds {} %: about {} {}of gypsum",
            share(sodium),
            all,
            more
        )
    } else {
        say!(
            "To bring sodium below {}: about {} {}of gypsum",
            percent(ESP_WATCH_PCT),
            all,
            more
        )
    };
    text += &say!(
        " for all of it{}, {}",
        range,
        on_area(it.product_kg_m2.typical, speech)
    );
    if it.doses > 1 {
        text += &say!(", in {} parts", it.doses);
    }
    text + ". " + &water_text(it.water_mm(), speech)
}

/// Water that a layer takes to be washed, mm.
fn leaches_mm(layer: Layer) -> f64 {
    WASHES * layer.slice.depth_m * 1000.0
}

fn water_text(water_mm: f64, speech: Speech) -> String {
    say!(
        "It takes {} of water to dissolve and to carry the sodium away below; rain alone needs {}. Without a way out it only adds salt.",
        water_depth(water_mm, speech),
        years_of_rain(rain_half_years(water_mm))
    )
}

/// Whether the clay is expected to fall apart in rain.
pub fn disperses_text(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied) -> String {
    let it = &outcome.chemistry;
    if it.esp_pct < ESP_WATCH_PCT {
        return String::new();
    }
    let it_holds = if Known::of(recipe, outcome) == Known::Tested {
        tr!("It holds")
    } else {
        tr!("If so, it holds")
    };
    let replaces = supplied.gypsum_replaces_pct(outcome);
    let is_mended = replaces > 0.0 && it.esp_pct - replaces < ESP_WATCH_PCT + NEAR_PCT;
    match stability(it.ec_1to5_ds_m, it.esp_pct) {
        Some(ratio) if ratio < ESI_DISPERSES && is_mended => {
            tr!("Until its gypsum has gone down with water, puddles may be milky.").into()
        }
        Some(ratio) if ratio < ESI_DISPERSES => say!(
            "{} too little salt for so much sodium (conductivity over sodium {}, and {} is about where clay stays together): expect milky puddles and a crust.",
            it_holds,
            fixed(ratio, 3),
            fixed(ESI_DISPERSES, 2)
        ),
        _ if is_mended => {
            tr!("Its gypsum keeps the clay together while water carries the sodium off.").into()
        }
        Some(_) if it.esp_pct >= ESP_SODIC_PCT => {
            tr!("Its salt still keeps the clay together. Washed out by rain, it would not.").into()
        }
        _ => tr!("Its salt keeps the clay together for now.").into(),
    }
}

/// What magnesium adds; a balance of cations is never aimed at.
pub fn magnesium_text(recipe: &Recipe) -> String {
    let Some([told, Some(magnesium)]) = bases_pct(recipe) else {
        return String::new();
    };
    let beside = told.map_or(String::new(), |calcium| {
        say!(", calcium {}", percent(calcium))
    });
    match MagnesiumCase::of(told.unwrap_or(UNTOLD_CALCIUM_PCT), magnesium) {
        MagnesiumCase::No => String::new(),
        MagnesiumCase::Maybe => say!(
            "Magnesium holds {} of the exchange, which can make clay a little worse than its sodium tells. The jar test shows it.",
            percent(magnesium)
        ),
        MagnesiumCase::Likely => say!(
            "Magnesium holds {} of the exchange{}: so much can make clay fall apart like sodium does. If crumbs go milky in water, gypsum is worth a trial in one place.",
            percent(magnesium),
            beside
        ),
    }
}
