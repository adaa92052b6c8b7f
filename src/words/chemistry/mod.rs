//! Sentences of the section on chemistry.

mod nutrients;
mod reaction;
mod salt;
mod sodium;

pub use nutrients::{
    FertileRow, From, fertile_rows, nitrogen_said, offset_text, phosphorus_text, potassium_text,
    ratio_text,
};
pub use reaction::{TARGET_PH, reaction_said, reaction_source_text, target_text};
pub use salt::{
    Grown, crop_choices, crop_said, gypsum_salt_text, salt_may_text, salt_said, washing_text,
};
pub use sodium::{disperses_text, gypsum_need_text, magnesium_text, sodium_said};

use super::report::{water_depth, years_of_rain};
use super::{Speech, Told, Units, fixed, significant};
use crate::figure::{Ends, Figure};
use crate::ground::Trait;
use crate::outcome::Outcome;
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::Recipe;
use crate::tongue::Saying;

/// What the button says while the section is folded, and while it is open.
pub const CHEMISTRY_OPENS: [Saying; 2] = [said!("Open chemistry"), said!("Fold chemistry away")];

/// A sentence with a range in its midst, which is shown once the draws are made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Said {
    /// What comes before the range.
    pub before: String,
    /// The range, in brackets; nothing where there is none.
    pub range: String,
    /// The rest.
    pub after: String,
}

impl Said {
    fn plain(text: impl Into<String>) -> Said {
        Said {
            before: text.into(),
            ..Said::default()
        }
    }

    /// All of it.
    pub fn text(&self) -> String {
        [&*self.before, &self.range, &self.after].concat()
    }
}

/// A range in brackets, from its ends as they are told.
fn bracketed(low: &str, high: &str, unit: &str) -> String {
    if low == high {
        String::new()
    } else {
        say!(" ({} to {}{})", low, high, unit)
    }
}

/// A figure with so many decimals and its unit, and its range in brackets.
fn in_brackets(figure: Figure, decimals: usize, [unit, behind]: [&str; 2]) -> [String; 2] {
    let Ends { low, high } = figure.ends();
    let number = |value: f64| fixed(value, decimals);
    [
        [&number(figure.typical), unit].concat(),
        bracketed(&number(low), &number(high), behind),
    ]
}

/// Decimals of a share or of a conductivity: two figures from ten on are enough.
fn decimals_of(figure: Figure) -> usize {
    usize::from(figure.typical < 9.95)
}

/// A figure for a table, with so many decimals.
fn told_as(figure: Figure, decimals: usize, unit: &str) -> Told {
    let Ends { low, high } = figure.ends();
    let [low, typical, high] = [low, figure.typical, high].map(|value| fixed(value, decimals));
    Told {
        value: [&typical, unit].concat(),
        range: if low == high {
            String::new()
        } else {
            [&low, "–", &high].concat()
        },
    }
}

/// A reaction for a table.
pub fn ph_told(figure: Figure) -> Told {
    told_as(figure, 1, "")
}

/// A conductivity for a table.
pub fn salt_told(figure: Figure) -> Told {
    told_as(figure, decimals_of(figure), " dS/m")
}

/// Sodium for a table.
pub fn sodium_told(figure: Figure) -> Told {
    let mut told = told_as(figure, decimals_of(figure), " %");
    if figure.typical < LEAST_SODIUM_PCT {
        told.value = NO_SODIUM.text().into();
    }
    told
}

/// Sodium that is told as less than a tenth, %.
const LEAST_SODIUM_PCT: f64 = 0.05;
const NO_SODIUM: Saying = said!("under 0.1 %");

/// An exchange capacity for a table.
pub fn capacity_told(figure: Figure) -> Told {
    told_as(figure, 0, tr!(" cmol/kg"))
}

/// The unit of a mass, kg, and what to multiply by.
fn mass_unit(kg: f64, speech: Speech) -> (f64, &'static str) {
    match speech.units {
        Units::Metric if kg < 1.0 => (1.0 / Unit::Gram.factor(), " g"),
        Units::Metric => (1.0, " kg"),
        Units::Us if kg < Unit::Pound.factor() => (1.0 / Unit::Ounce.factor(), " oz"),
        Units::Us => (1.0 / Unit::Pound.factor(), " lb"),
    }
}

/// Ground limestone, gypsum, sulfur: mass in one unit for all of its ends, two figures each.
fn mass_ends(figure: Figure, speech: Speech) -> [String; 4] {
    let Ends { low, high } = figure.ends();
    let (factor, unit) = mass_unit(low.abs().max(high.abs()), speech);
    let number = |kg: f64| {
        let text = significant((kg * factor).abs(), 2);
        if kg < 0.0 && text != "0" {
            ["−", &text].concat()
        } else {
            text
        }
    };
    [
        number(low),
        number(figure.typical),
        number(high),
        unit.to_owned(),
    ]
}

/// A mass that a cap holds for, so that rounding passes it by next to nothing.
fn mass_in_part(kg: f64, speech: Speech) -> String {
    let (factor, unit) = mass_unit(kg, speech);
    significant(kg * factor, 3) + unit
}

/// A mass, and its range in brackets.
fn mass_said(figure: Figure, speech: Speech) -> [String; 2] {
    let [low, typical, high, unit] = mass_ends(figure, speech);
    [[&*typical, &unit].concat(), bracketed(&low, &high, &unit)]
}

/// A mass on an area, from kg/m2.
fn on_area(kg_m2: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric if kg_m2 < 1.0 => significant(kg_m2 * 1000.0, 2) + " g/m²",
        Units::Metric => significant(kg_m2, 2) + tr!(" kg/m²"),
        Units::Us => {
            significant(kg_m2 / Unit::PoundPer100SquareFeet.factor(), 2) + tr!(" lb/100 ft²")
        }
    }
}

/// Water by volume, from litres.
fn water_volume(litres: f64, speech: Speech) -> String {
    match speech.units {
        Units::Metric => significant(litres, 2) + " L",
        Units::Us => significant(litres / LITRES_PER_M3 / Unit::Gallon.factor(), 2) + " gal",
    }
}

/// Clay of the ground from which it is spoken of as clay, % (common practice: clay loams and up).
const CLAY_PCT: f64 = 25.0;

fn soil_word(outcome: &Outcome) -> &'static str {
    let clay = outcome.texture.map(|texture| {
        let [_, _, clay] = texture.fractions_pct;
        clay.typical
    });
    if clay.unwrap_or(0.0) >= CLAY_PCT {
        tr!("this clay")
    } else {
        tr!("this soil")
    }
}

fn has_ground(outcome: &Outcome) -> bool {
    outcome.barrow.ground_dry_kg > 0.0
}

/// Sodium that is as good as what is aimed at, points (a choice).
const NEAR_PCT: f64 = 0.5;

/// Whether the ground lacks a trait that there is ground for.
fn is_guessed(recipe: &Recipe, outcome: &Outcome, of: &[Trait]) -> bool {
    has_ground(outcome) && of.iter().all(|of| recipe.ground.get(*of).is_none())
}

/// What is told once a slider is let go.
pub fn chemistry_told(outcome: &Outcome) -> String {
    let it = &outcome.chemistry;
    let ph = match outcome.chemical.ph {
        Some(ph) => say!("pH about {}, ", fixed(ph.typical, 1)),
        None => String::new(),
    };
    say!("{}salt about {} dS/m.", ph, fixed(it.ec_stress_ds_m, 1))
}
