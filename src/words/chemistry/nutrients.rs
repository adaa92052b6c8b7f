//! Nitrogen that is freed or taken up, phosphorus that piles up, and greensand.

use super::super::{Speech, Told, in_sentence, significant};
use super::{Said, bracketed, has_ground, mass_ends, mass_said, on_area};
use crate::caution::{LOCKED_NITROGEN, PHOSPHORUS};
use crate::chemistry::nutrients::{ORGANIC_OVER_CARBON, freed_nitrogen};
use crate::chemistry::phosphorus::{EXTRACTABLE, Extractant};
use crate::figure::{Ends, Figure};
use crate::material::{Entry, Property};
use crate::outcome::{Layer, Outcome, Supplied};
use crate::recipe::{Found, Recipe};
use crate::seasons::{Climate, ground_nitrogen_kg};

/// Nitrogen of the dry mass that nothing notices, as a fraction (a choice: a quarter of what a
/// percent of organic matter gives in a year).
const IDLE: f64 = 2e-6;
/// Rise of a phosphorus test that is worth a word, mg/kg (a choice).
const RISE_PPM: f64 = 5.0;
/// Meal by which nitrogen is told.
const MEAL: &str = "cottonseed_meal";

/// When the year begins that is told of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Today: the additions' first year.
    Today,
    /// A later year that is shown.
    Then,
}

impl From {
    fn year(self) -> &'static str {
        match self {
            From::Today => tr!("their first year"),
            From::Then => tr!("the year from then"),
        }
    }
}

/// What the additions do to nitrogen in their first year, or in the year from the one that is shown.
pub fn nitrogen_said(
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
    from: From,
) -> Said {
    let year = from.year();
    if supplied.supplies.is_empty() {
        return Said::plain(tr!(
            "Nothing is mixed in that would feed plants or rob them."
        ));
    }
    let freed = outcome.chemical.freed_nitrogen_kg;
    if freed.typical.abs() < IDLE * outcome.chemistry.fine_kg {
        return Said::plain(say!(
            "In {} the additions hardly give nitrogen, nor do they take up any.",
            year
        ));
    }
    let area = |kg: f64| {
        let layer = Layer::of(recipe, outcome);
        if layer.is_told {
            [", ", &on_area(kg.abs() / layer.area_m2, speech)].concat()
        } else {
            String::new()
        }
    };
    if freed.typical > 0.0 {
        let [value, range] = mass_said(freed, speech);
        return Said {
            before: say!("In {} the additions set free about {}", year, value),
            range,
            after: say!(" of nitrogen{}.", area(freed.typical)),
        };
    }
    let Ends { low, high } = freed.ends();
    let taken = Figure::between(-high, -freed.typical, -low);
    let [value, range] = mass_said(taken, speech);
    let short = freed.typical < -LOCKED_NITROGEN * outcome.chemistry.fine_kg;
    Said {
        before: say!("While they rot, the additions take up about {}", value),
        range,
        after: say!(
            " of nitrogen in {}{}{}",
            year,
            area(freed.typical),
            if short {
                tr!(": plants go short of it.")
            } else {
                tr!(": less than most soil gives meanwhile.")
            }
        ),
    }
}

/// Nitrogen that a kilogram of the meal frees in its first year, kg.
fn freed_by_meal() -> Option<(f64, String)> {
    let entry = Entry::find(MEAL)?;
    let typical = |of: Property| entry.properties.get(of).map(|figure| figure.typical);
    let dry = 1.0 - typical(Property::WaterPerWet)? / 100.0;
    let nitrogen = typical(Property::Nitrogen)? / 100.0;
    let organic = typical(Property::OrganicMatter).unwrap_or(90.0) / 100.0;
    let carbon = typical(Property::Carbon).map_or(organic / ORGANIC_OVER_CARBON, |pct| pct / 100.0);
    let decayed = 1.0 - typical(Property::KeptAfterYear1)? / 100.0;
    let freed = dry * freed_nitrogen(carbon, nitrogen, decayed);
    (freed > 0.0).then(|| (freed, in_sentence(entry.name)))
}

/// What would offset nitrogen that is taken up.
pub fn offset_text(outcome: &Outcome, speech: Speech) -> String {
    let taken = -outcome.chemical.freed_nitrogen_kg.typical;
    if taken <= LOCKED_NITROGEN * outcome.chemistry.fine_kg {
        return String::new();
    }
    let meal = freed_by_meal().map_or(String::new(), |(freed, name)| {
        let [kg, _] = mass_said(Figure::exact(taken / freed), speech);
        say!(", about what {} of {} frees meanwhile", kg, name)
    });
    say!(
        "Give as much beside what you feed anyway{}; or let it rot a season before you plant, or lay the woody part on top instead.",
        meal
    )
}

/// A row of the table: what it is, nitrogen with its range, phosphorus.
#[derive(Clone, Debug, PartialEq)]
pub struct FertileRow {
    /// The name.
    pub name: String,
    /// Nitrogen set free in the first year; with a minus: taken up.
    pub nitrogen: Told,
    /// Phosphorus that it brings.
    pub phosphorus: Told,
}

/// Nitrogen that the ground gives in a year by itself, kg: as the years tell it.
fn of_ground(recipe: &Recipe) -> Figure {
    ground_nitrogen_kg(recipe, &Climate::of(recipe)).unwrap_or(Figure::exact(0.0))
}

fn signed(figure: Figure, speech: Speech) -> Told {
    let [low, typical, high, unit] = mass_ends(figure, speech);
    let plus = if figure.typical > 0.0 && typical != "0" {
        "+"
    } else {
        ""
    };
    Told {
        value: [plus, &typical, &unit].concat(),
        range: if low == high {
            String::new()
        } else {
            say!("{} to {}", low, high)
        },
    }
}

/// The ground and each addition.
pub fn fertile_rows(
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
) -> Vec<FertileRow> {
    let mut rows = Vec::new();
    if has_ground(outcome) {
        rows.push(FertileRow {
            name: tr!("Your ground itself").into(),
            nitrogen: signed(of_ground(recipe), speech),
            phosphorus: Told::default(),
        });
    }
    for supply in &supplied.supplies {
        let addition = recipe.additions.get(supply.line);
        let found = addition.and_then(|addition| recipe.find(&addition.material));
        let [low, typical, high, unit] = mass_ends(supply.phosphorus_kg, speech);
        rows.push(FertileRow {
            name: found.map_or("", Found::name).to_owned(),
            nitrogen: signed(supply.nitrogen_kg, speech),
            phosphorus: Told {
                value: [&*typical, &unit].concat(),
                range: if low == high {
                    String::new()
                } else {
                    say!("{} to {}", low, high)
                },
            },
        });
    }
    rows
}

/// Phosphorus that piles up, and where to stop.
pub fn phosphorus_text(recipe: &Recipe, outcome: &Outcome, speech: Speech) -> String {
    let phosphorus = outcome.chemical.phosphorus_kg;
    let rise = 1e6 * EXTRACTABLE * phosphorus.typical / outcome.chemistry.fine_kg.max(1e-12);
    if rise < RISE_PPM {
        return String::new();
    }
    let [low, value, high, unit] = mass_ends(phosphorus, speech);
    let range = bracketed(&low, &high, &unit);
    let layer = Layer::of(recipe, outcome);
    let area = if layer.is_told {
        [", ", &on_area(phosphorus.typical / layer.area_m2, speech)].concat()
    } else {
        String::new()
    };
    let stop = Extractant::Mehlich3.stop_ppm();
    let olsen = significant(Extractant::Olsen.stop_ppm(), 2);
    say!(
        "The additions bring about {}{}{} of phosphorus{}. A soil test would rise by some {} mg/kg, and at {} (Mehlich 3; {} by Olsen) no crop gains from more: {}. {}",
        value,
        unit,
        range,
        area,
        significant(rise, 1),
        significant(stop, 2),
        olsen,
        if rise > 1e6 * PHOSPHORUS {
            tr!("one such dose takes any soil past that, so no more compost or manure for years")
        } else {
            tr!("stop compost and manure there")
        },
        if has_ground(outcome) {
            tr!("Type a test of your ground into the report tool.")
        } else {
            tr!("The report tool reads tests of it.")
        }
    )
}

/// Carbon over nitrogen, where there is something to compare.
pub fn ratio_text(outcome: &Outcome) -> String {
    let it = &outcome.chemical;
    let (Some(all), Some(added)) = (it.carbon_to_nitrogen, it.carbon_to_nitrogen_added) else {
        return String::new();
    };
    let char = if outcome.blend.masses.char_kg > 0.0 {
        tr!(" Char rots so slowly that it takes little nitrogen for its carbon.")
    } else {
        ""
    };
    say!(
        "Carbon to nitrogen: about {} in what is added, {} in all of it; below 24 nitrogen is set free.{}",
        significant(added.typical, 2),
        significant(all.typical, 2),
        char
    )
}

/// Potassium that the additions hold, and how slow that of greensand is.
pub fn potassium_text(
    recipe: &Recipe,
    outcome: &Outcome,
    supplied: &Supplied,
    speech: Speech,
) -> String {
    let kg: f64 = supplied.supplies.iter().map(|it| it.potassium_kg).sum();
    let slow = greensand_text(recipe);
    if kg <= IDLE * outcome.chemistry.fine_kg {
        return slow.to_owned();
    }
    let [all, _] = mass_said(Figure::exact(kg), speech);
    let layer = Layer::of(recipe, outcome);
    let area = if layer.is_told {
        [", ", &on_area(kg / layer.area_m2, speech)].concat()
    } else {
        String::new()
    };
    let gap = if slow.is_empty() { "" } else { " " };
    say!(
        "They hold about {} of potassium in all{}.{}{}",
        all,
        area,
        gap,
        slow
    )
}

/// What greensand does, where there is some.
fn greensand_text(recipe: &Recipe) -> &'static str {
    let has = recipe
        .additions
        .iter()
        .any(|addition| addition.material == "greensand");
    if has {
        tr!(
            "Greensand holds much potassium and gives next to none of it in a year: count on decades."
        )
    } else {
        ""
    }
}
