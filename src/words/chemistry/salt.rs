//! Salts: seedlings, crops, and washing them out.

use super::super::{Speech, fixed, percent};
use super::{NEAR_PCT, Said, bracketed, decimals_of, in_brackets, water_depth, water_volume};
use crate::chemistry::crop::{BEET_GERMINATING_DS_M, Crop, crops, find};
use crate::chemistry::extracts::{SEEDLING_DS_M, SeedlingHarm};
use crate::chemistry::leaching::{CONTAINER_DRAINS, Washing};
use crate::chemistry::sodicity::{ESP_SODIC_PCT, ESP_WATCH_PCT, SODIC_PH};
use crate::figure::Ends;
use crate::ground::Trait;
use crate::outcome::{Layer, Measure, Outcome, Supplied, around};
use crate::recipe::{PlaceKind, Recipe};

/// Salt of gypsum that is worth telling apart, dS/m (a choice).
const GYPSUM_SHOWS_DS_M: f64 = 0.1;
/// Yield that is as good as full, % (a choice).
const FULL_PCT: f64 = 99.5;

/// Yield that is as good as none, % (a choice).
const NONE_PCT: f64 = 2.0;

/// What salt does to seedlings.
pub fn salt_said(outcome: &Outcome) -> Said {
    let salt = outcome.chemical.ec_stress_ds_m;
    let [value, range] = in_brackets(salt, decimals_of(salt), [" dS/m", ""]);
    let [from, most, _] = SEEDLING_DS_M.map(|limit| fixed(limit, 0));
    let (before, after) = match SeedlingHarm::of(salt.typical) {
        SeedlingHarm::None => (
            say!("Salt troubles no seedling here: about {}", value),
            say!(
                " in a saturated paste, and they begin to stall at {}.",
                from
            ),
        ),
        SeedlingHarm::Sensitive => (
            say!("Seedlings may stall in it: about {}", value),
            say!(
                " of salt in a saturated paste, and they want less than {}.",
                from
            ),
        ),
        SeedlingHarm::Most => (
            say!("It is too salty for most vegetables: about {}", value),
            say!(" in a saturated paste, where {} is much already.", most),
        ),
        SeedlingHarm::AllButTolerant => (
            say!(
                "So salty that only tolerant plants stand it: about {}",
                value
            ),
            tr!(" in a saturated paste.").into(),
        ),
    };
    Said {
        before,
        range,
        after,
    }
}

/// What a salty load might bring; nothing where that is no more than the typical one does.
pub fn salt_may_text(outcome: &Outcome) -> String {
    let salt = outcome.chemical.ec_stress_ds_m;
    let Ends { high, .. } = salt.ends();
    let [from, most, _] = SEEDLING_DS_M;
    let harm = SeedlingHarm::of(high);
    if harm == SeedlingHarm::of(salt.typical) || salt.typical > most {
        String::new()
    } else if salt.typical <= from && harm == SeedlingHarm::Sensitive {
        say!(
            "A salty load could bring {}, where they do: sow a few first.",
            fixed(high, 1)
        )
    } else {
        say!(
            "A salty load could bring {}, which is too salty for most vegetables: test it, or sow a few first.",
            fixed(high, 1)
        )
    }
}

/// The share of gypsum, which plants hardly feel.
pub fn gypsum_salt_text(outcome: &Outcome) -> String {
    let it = &outcome.chemistry;
    let gypsum = it.ec_paste_ds_m - it.ec_stress_ds_m;
    if gypsum < GYPSUM_SHOWS_DS_M {
        return String::new();
    }
    say!(
        "A test would read about {} dS/m: {} of it is gypsum, which plants hardly feel, so it is left out here.",
        fixed(it.ec_paste_ds_m, 1),
        fixed(gypsum, 1)
    )
}

/// What grows there, as far as salt goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Grown {
    /// Nothing is told.
    Untold,
    /// A crop of the table.
    Known(Crop),
    /// Another, as it was typed.
    Other(String),
}

impl Grown {
    /// What a recipe tells.
    pub fn of(recipe: &Recipe) -> Grown {
        let crop = recipe
            .place
            .as_ref()
            .and_then(|place| place.crop.as_deref());
        match crop {
            None => Grown::Untold,
            Some(text) if text.trim().is_empty() => Grown::Untold,
            Some(text) => match find(text) {
                Some(crop) => Grown::Known(crop),
                None => Grown::Other(text.trim().to_owned()),
            },
        }
    }
}

/// The crops that can be chosen, by name.
pub fn crop_choices() -> Vec<String> {
    let mut names: Vec<String> = crops().map(|crop| name_of(&crop)).collect();
    names.sort();
    names
}

fn name_of(crop: &Crop) -> String {
    crop.id.replace('_', " ")
}

/// With a great letter.
fn at_the_start(name: &str) -> String {
    let mut text = name.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// What salt leaves of a crop's yield.
pub fn crop_said(recipe: &Recipe, outcome: &Outcome) -> Said {
    let crop = match Grown::of(recipe) {
        Grown::Untold => {
            return Said::plain(tr!(
                "Choose a crop, and what this salt costs it is told here."
            ));
        }
        Grown::Other(text) => {
            return Said::plain(say!(
                "No numbers for “{}”: go by what is said of seedlings, or choose a crop that is like it.",
                text
            ));
        }
        Grown::Known(crop) => crop,
    };
    let name = at_the_start(&name_of(&crop));
    let Some(response) = crop.response else {
        return Said::plain(say!(
            "{} is known to be sensitive to salt, but there are no numbers for it.",
            name
        ));
    };
    let salt = outcome.chemical.ec_stress_ds_m.typical;
    let column = outcome.drawn.column(Measure::EcStress).iter();
    let yields: Vec<f64> = column.map(|salt| response.yield_pct(*salt)).collect();
    let left = around(response.yield_pct(salt), &yields, outcome.drawn.weights());
    let Ends { low, high } = left.ends();
    let range = bracketed(&fixed(low, 0), &fixed(high, 0), " %");
    let limit = fixed(response.threshold_ds_m, 1);
    let (before, mut after) = if left.typical >= FULL_PCT {
        (
            say!("{}: its full yield", name),
            say!(", as salt counts from {} dS/m on.", limit),
        )
    } else if left.typical < NONE_PCT {
        (
            say!("{}: next to no yield", name),
            say!(", since salt counts from {} dS/m on.", limit),
        )
    } else {
        (
            say!("{}: about {}", name, percent(left.typical)),
            say!(
                " of its yield without salt, which counts from {} dS/m on.",
                limit
            ),
        )
    };
    if crop.id == "beet" && salt > BEET_GERMINATING_DS_M && salt <= response.threshold_ds_m {
        after += tr!(" While it germinates it bears less.");
    }
    Said {
        before,
        range,
        after,
    }
}

/// Water that washes the salt down, where that is called for.
pub fn washing_text(
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
) -> String {
    let salt = outcome.chemistry.ec_stress_ds_m;
    let [seedlings, _, _] = SEEDLING_DS_M;
    let limit = match Grown::of(recipe) {
        Grown::Known(Crop {
            response: Some(response),
            ..
        }) => response.threshold_ds_m,
        _ => seedlings,
    };
    let place = recipe.place.as_ref();
    let is_pot = place.and_then(|place| place.kind) == Some(PlaceKind::Container);
    if salt <= limit {
        return String::new();
    }
    let drains = place.and_then(|place| place.drains);
    let esp_pct = outcome.chemistry.esp_pct;
    let mended = esp_pct - supplied.gypsum_replaces_pct(outcome) < ESP_WATCH_PCT + NEAR_PCT;
    let untold = recipe.ground.typical(Trait::SodiumShare).is_none();
    let too_basic = untold && recipe.ground.typical(Trait::Ph) > Some(SODIC_PH);
    if too_basic {
        return tr!("Have its sodium tested before you wash it: so basic a soil may fall apart without its salt.")
            .into();
    }
    if esp_pct >= ESP_SODIC_PCT && !mended {
        return tr!(
            "Do not wash it yet: without its salt, clay with so much sodium falls apart. See below."
        )
        .into();
    }
    if drains == Some(false) {
        return tr!("Washing would not help: water has no way out below, and takes no salt along.")
            .into();
    }
    let litres = outcome.volume_l.settled.typical;
    let Some(times) = Washing::InGoes.water_depth(1.0, limit / salt) else {
        return String::new();
    };
    // Less than its pores hold comes out nowhere.
    let times = times.max(outcome.pore_space_pct.settled.typical / 100.0);
    let layer = Layer::of(recipe, outcome);
    let depth = if layer.is_told {
        let mm = times * layer.slice.depth_m * 1000.0;
        say!(", {} deep", water_depth(mm, speech))
    } else {
        String::new()
    };
    let mut text = say!(
        "To wash it down to {} dS/m: about {} of clean water{}, in several goes, with a way out below.",
        fixed(limit, 1),
        water_volume(times * litres, speech),
        depth
    );
    if is_pot {
        let Ends { low, high } = CONTAINER_DRAINS;
        text += &say!(
            " Later let {} to {} of each watering run out.",
            fixed(100.0 * low, 0),
            percent(100.0 * high)
        );
    }
    text
}
