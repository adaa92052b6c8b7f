//! What is said at the lectern: its labels, the names of its figures, and ready sequences of an
//! invented school garden.

use super::{
    Speech, Told, Units, class_name, drains_told, fixed, percent, shown, trait_name, unit_name,
};
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::Recipe;
use crate::recipe::lectern::{Moved, Shown};

/// Labels of the lectern and of the list of its steps.
pub(super) const LECTERN: &[(&str, &str)] = &[
    ("lectern_title", "At the lectern"),
    (
        "lectern_triangle",
        "Texture triangle. Arrow keys move the guess.",
    ),
    ("lectern_column", "Pore space. Up and down move the guess."),
    ("lectern_moves", "What the slider moves"),
    ("lectern_sequence", "Sequence"),
    ("lectern_back", "Back"),
    ("lectern_next", "Next"),
    ("lectern_guess", "Guess (G)"),
    ("lectern_show", "Show (space)"),
    ("lectern_more", "More"),
    (
        "lectern_fault",
        "This recipe cannot be shown. Mend its fields on the page: Leave (Esc) goes back to it.",
    ),
    ("lectern_caption", "Caption"),
    ("lectern_guess_of", "Your guess"),
    ("lectern_full", "Full screen (F)"),
    ("lectern_add", "Add this moment"),
    ("lectern_keep", "Keep this"),
    ("lectern_leave", "Leave (Esc)"),
    ("steps_title", "Steps for the lectern"),
    (
        "steps_intro",
        "Each step shows the recipe as it was when the step was added, with its caption. They are saved with the recipe. At the lectern, arrow keys or a presenter’s remote go through them.",
    ),
    ("steps_add", "Add the recipe as it is now as a step"),
];

/// Labels that are written while it runs.
const RUNNING: &[(&str, &str)] = &[
    ("own_sequence", "This recipe"),
    ("ground", "Ground"),
    ("blend", "Blend"),
    ("your_guess", "Guess"),
    ("hidden", "?"),
    ("waits", "Guess: press the triangle and the bar."),
    ("no_number", "–"),
    ("caption", "Caption"),
    ("asks", "Asks first for"),
    ("asks_nothing", "no guess"),
    ("asks_drawings", "a guess of texture and pores"),
    ("asks_figure", "a guess: "),
    ("moves", "The slider moves"),
    ("moves_last", "the last addition"),
    ("figure", "Figure"),
    ("figure_none", "none"),
    ("more_of_step", "Figures and slider"),
    ("renew", "Take the recipe as it is now"),
    ("renewed", "This step holds the recipe as it is now."),
    ("alone", "Ground alone"),
    ("cannot", "This step cannot be read."),
    ("step", "Step"),
    ("added", "Added. Its caption:"),
    ("up", "↑"),
    ("down", "↓"),
    ("remove", "×"),
    ("up_step", "Move this step up"),
    ("down_step", "Move this step down"),
    ("remove_step", "Remove this step"),
    ("none", "There are no steps yet."),
    ("clear", "Remove all steps"),
    ("too_many", "There is room for 40 steps."),
    ("no_full", "This browser does not go full screen here."),
    ("kept", "The page goes on with this recipe."),
    ("of_guess", "guess"),
    ("in_bed", "Bed"),
    ("in_pot", "Pot"),
    ("all_water", "Water"),
    ("air", "Air"),
    ("taken", "Water for plants"),
    ("left", "Water held back"),
    ("closed", "Closed pores"),
    ("organic", "Organic matter"),
    ("mineral", "Mineral grains"),
];

/// A label that the lectern writes.
pub fn label_of_lectern(key: &'static str) -> &'static str {
    let all = RUNNING.iter().chain(LECTERN);
    all.copied()
        .find_map(|(known, text)| (known == key).then(|| crate::tongue::tr(text)))
        .unwrap_or(key)
}

/// A sequence that is ready: its id, its name, and the recipe with its steps.
pub struct Ready {
    /// Its id, as in `?lectern=half_sand`.
    pub id: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// The document.
    pub json: &'static str,
}

/// The ready sequences.
pub const READY: [Ready; 6] = [
    Ready {
        id: "bucket_of_sand",
        name: mark!("A bucket of sand"),
        json: include_str!("lectern/bucket_of_sand.json"),
    },
    Ready {
        id: "half_sand",
        name: mark!("Half sand"),
        json: include_str!("lectern/half_sand.json"),
    },
    Ready {
        id: "compost_by_the_barrow",
        name: mark!("Compost by the barrow"),
        json: include_str!("lectern/compost_by_the_barrow.json"),
    },
    Ready {
        id: "who_needs_gypsum",
        name: mark!("Who needs gypsum"),
        json: include_str!("lectern/who_needs_gypsum.json"),
    },
    Ready {
        id: "peat_and_ph",
        name: mark!("Peat and pH"),
        json: include_str!("lectern/peat_and_ph.json"),
    },
    Ready {
        id: "pot_that_stays_wet",
        name: mark!("The pot that stays wet"),
        json: include_str!("lectern/pot_that_stays_wet.json"),
    },
];

/// A figure's name.
pub fn shown_name(of: Shown) -> &'static str {
    match of {
        Shown::Pores => tr!("Pore space"),
        Shown::Density => tr!("Density"),
        Shown::Organic => tr!("Organic matter"),
        Shown::Air => tr!("Air, drained"),
        Shown::PlantWater => tr!("Water for plants"),
        Shown::Drainage => tr!("Drains"),
        Shown::Ph => "pH",
        Shown::Sodium => tr!("Sodium share"),
        Shown::Salt => tr!("Salt"),
        Shown::PotWater => tr!("Water in the pot"),
        Shown::PotAir => tr!("Air in the pot"),
        Shown::WetLayer => tr!("Stays wet"),
    }
}

/// A guess of a figure as it is shown: the number and its unit.
pub fn guess_told(of: Shown, guess: f64) -> [String; 2] {
    match of {
        Shown::Ph => [fixed(guess, 1), String::new()],
        Shown::Salt => [shown(guess), "dS/m".to_owned()],
        _ => [shown(guess), "%".to_owned()],
    }
}

/// The ground's class and the blend's, with its odds; the blend's may be hidden.
pub fn classes_told(outcome: &Outcome, hidden: bool) -> String {
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    let before = outcome.ground.class.filter(|_| has_ground);
    let after = outcome.texture.map(|texture| texture.class);
    let blend = match outcome.texture {
        _ if hidden => label_of_lectern(tr!("hidden")).to_owned(),
        Some(texture) => {
            let odds = super::odds(texture.class_odds[texture.class as usize]);
            [class_name(texture.class), ", ", &odds].concat()
        }
        None => label_of_lectern("no_number").to_owned(),
    };
    match before {
        Some(before) if hidden || after != Some(before) => {
            [class_name(before), " → ", &blend].concat()
        }
        _ => blend,
    }
}

/// What a recipe has beside its ground, on one line.
pub fn mix_text(recipe: &Recipe) -> String {
    let told: Vec<String> = (0..recipe.additions.len())
        .map(|index| {
            let moved = Moved::Amount(index);
            [
                &moved_name(moved, recipe),
                " ",
                &moved_number(moved, recipe),
            ]
            .concat()
        })
        .collect();
    if told.is_empty() {
        return label_of_lectern(tr!("alone")).to_owned();
    }
    told.join("; ")
}

/// A figure of the ground as it lies and of the blend, where there is one.
pub fn shown_told(of: Shown, outcome: &Outcome, speech: Speech) -> [Option<Told>; 2] {
    let ground = &outcome.ground;
    let chemical = &outcome.chemical;
    let container = outcome.container;
    let whole = |figure: Figure| Told::percent(figure, 1.0);
    let tenths = |figure: Figure| Told::percent(figure, 0.1);
    let density = |figure: Figure| speech.density_told(figure);
    let [lying, blend] = match of {
        Shown::Pores => [
            Some(whole(ground.lying_pore_space_pct)),
            Some(whole(outcome.pore_space_pct.settled)),
        ],
        Shown::Density => [
            Some(density(ground.lying_density_kg_m3)),
            Some(density(outcome.bulk_density_kg_m3.settled)),
        ],
        Shown::Organic => [
            Some(tenths(ground.organic_matter_pct)),
            outcome.organic_matter_pct.map(tenths),
        ],
        Shown::Air => [
            Some(whole(ground.lying_pores_pct.air)),
            Some(whole(outcome.pores_pct.air)),
        ],
        Shown::PlantWater => [
            Some(whole(ground.lying_pores_pct.available_water)),
            Some(whole(outcome.pores_pct.available_water)),
        ],
        Shown::Drainage => [
            Some(drains_told(ground.drainage_mm_h[0])),
            Some(drains_told(outcome.drainage_mm_h)),
        ],
        Shown::Ph => [
            Some(super::ph_told(chemical.ground_ph)),
            chemical.ph.map(super::ph_told),
        ],
        Shown::Sodium => [
            Some(super::sodium_told(chemical.ground_esp_pct)),
            Some(super::sodium_told(chemical.esp_pct)),
        ],
        Shown::Salt => [
            Some(super::salt_told(chemical.ground_ec_paste_ds_m)),
            Some(super::salt_told(chemical.ec_paste_ds_m)),
        ],
        Shown::PotWater => [None, container.map(|pot| whole(pot.water_pct))],
        Shown::PotAir => [None, container.map(|pot| whole(pot.air_pct))],
        Shown::WetLayer => [
            None,
            container.map(|pot| Told {
                value: wet_layer(pot.wet_layer_cm, speech),
                range: String::new(),
            }),
        ],
    };
    let has_ground = outcome.barrow.ground_dry_kg > 0.0;
    [lying.filter(|_| has_ground), blend]
}

/// Centimetres in an inch (exact).
const INCH_CM: f64 = 2.54;

fn wet_layer(cm: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric => [&fixed(cm, 0), " cm"].concat(),
        Units::Us => [&fixed(cm / INCH_CM, 1), " in"].concat(),
    }
}

/// What a slider moves, by name.
pub fn moved_name(of: Moved, recipe: &Recipe) -> String {
    match of {
        Moved::Amount(index) => {
            let addition = recipe.additions.get(index);
            let found = addition.and_then(|addition| recipe.find(&addition.material));
            found.map_or("", |found| found.name()).to_owned()
        }
        Moved::Ground(of) => say!("Ground: {}", trait_name(of, super::METRIC).0),
    }
}

/// Its number with the unit.
pub fn moved_number(of: Moved, recipe: &Recipe) -> String {
    match of {
        Moved::Amount(index) => recipe
            .additions
            .get(index)
            .map_or(String::new(), |addition| {
                let amount = &addition.amount;
                [&shown(amount.value), " ", unit_name(amount.unit)].concat()
            }),
        Moved::Ground(of) => {
            let value = recipe.ground.typical(of).unwrap_or_default();
            match of {
                crate::ground::Trait::Ph => fixed(value, 1),
                _ => [&shown(value), " %"].concat(),
            }
        }
    }
}

/// Which step of how many.
pub fn step_of(at: usize, count: usize) -> String {
    say!("{} of {}", at + 1, count)
}

/// A guess in words, for who cannot see its mark.
pub fn guess_text(
    texture: Option<[f64; 3]>,
    pores_pct: Option<f64>,
    figure: Option<(Shown, f64)>,
) -> String {
    let mut said = Vec::new();
    if let Some([sand, silt, clay]) = texture {
        said.push(say!(
            "sand {}, silt {}, clay {}",
            percent(sand),
            percent(silt),
            percent(clay)
        ));
    }
    if let Some(pores) = pores_pct {
        said.push(say!("pores {}", percent(pores)));
    }
    if let Some((of, guess)) = figure {
        let [number, unit] = guess_told(of, guess);
        said.push(
            format!("{} {number} {unit}", shown_name(of))
                .trim()
                .to_owned(),
        );
    }
    if said.is_empty() {
        return String::new();
    }
    say!("Guess: {}.", said.join("; "))
}

/// The outcome in a sentence, for who cannot see it.
pub fn shown_sentence(shown: &[Shown], outcome: &Outcome, speech: Speech) -> String {
    let mut said = Vec::new();
    if let Some(texture) = outcome.texture {
        said.push(class_name(texture.class).to_owned());
    }
    for of in shown {
        let [_, blend] = shown_told(*of, outcome, speech);
        if let Some(blend) = blend {
            said.push(format!("{} {}", shown_name(*of), blend.value));
        }
    }
    said.join(", ") + "."
}
