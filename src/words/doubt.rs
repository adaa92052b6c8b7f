//! Doubt in words: figures with no more digits than they bear, odds, what changes, what a test
//! would sharpen.

use super::{Speech, Text, Units, class_name, cost_text, fixed, in_sentence, power_of_ten};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::Property;
use crate::outcome::{Cause, Change, Measure, Outcome};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{Found, Measurement, Recipe, Sample};
use crate::texture::Class;
use crate::water::drainage::ConductivityClass;

/// A figure as it is shown: its value with the unit, and its ends where they differ from it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Told {
    /// The typical value.
    pub value: String,
    /// The ends, or nothing.
    pub range: String,
}

impl Told {
    /// A figure times a factor, with a unit, in steps no finer than `step` and than half of the
    /// half-width of its range, but of two digits at least.
    fn of(figure: Figure, factor: f64, mut step: f64, unit: &str) -> Told {
        let ends = figure.ends();
        let digits = power_of_ten(figure.typical * factor) / 10.0;
        let room = ((ends.high - ends.low) * factor / 4.0).min(digits * 1.000_001);
        while step * 10.0 <= room {
            step *= 10.0;
        }
        let mut decimals = 0;
        let mut unit_step = step;
        while unit_step < 0.99 {
            unit_step *= 10.0;
            decimals += 1;
        }
        let number = |value: f64| {
            if step > 1.5 {
                fixed((value * factor / step).round() * step, 0)
            } else {
                fixed(value * factor, decimals)
            }
        };
        let (low, high) = (number(ends.low), number(ends.high));
        Told {
            value: [&number(figure.typical), unit].concat(),
            range: if low == high {
                String::new()
            } else {
                [&low, "–", &high].concat()
            },
        }
    }

    /// A share in percent.
    pub fn percent(figure: Figure, step: f64) -> Told {
        Told::of(figure, 1.0, step, " %")
    }
}

/// How fast water goes through, as a class: no more is known of it.
pub fn drains_told(figure: Figure) -> Told {
    let class = |mm_h: f64| {
        let class = ConductivityClass::of_mm_h(mm_h);
        Text::after(Text::DrainsVeryLow, class as usize).text()
    };
    let ends = figure.ends();
    let (low, high) = (class(ends.low), class(ends.high));
    let range = if low == high {
        String::new()
    } else {
        [low, "–", high].concat()
    };
    Told {
        value: class(figure.typical).into(),
        range,
    }
}

impl Speech {
    /// A density.
    pub fn density_told(self, figure: Figure) -> Told {
        let (step, unit) = match self.units {
            Units::Metric => (0.01, " kg/L"),
            Units::Us => (1.0, " lb/ft³"),
        };
        Told::of(figure, 1.0 / self.units.density_factor(), step, unit)
    }

    /// A mass in kg.
    pub fn mass_told(self, figure: Figure) -> Told {
        let (factor, unit) = match self.units {
            Units::Metric if figure.typical < 1.0 => (1000.0, " g"),
            Units::Metric => (1.0, " kg"),
            Units::Us => (1.0 / Unit::Pound.factor(), " lb"),
        };
        let step = power_of_ten(figure.typical * factor) / 100.0;
        Told::of(figure, factor, step, unit)
    }

    /// A volume in litres.
    pub fn volume_told(self, figure: Figure) -> Told {
        let (factor, unit) = match self.units {
            Units::Metric => (1.0, " L"),
            Units::Us => (1.0 / LITRES_PER_M3 / Unit::Gallon.factor(), " gal"),
        };
        let step = power_of_ten(figure.typical * factor) / 100.0;
        Told::of(figure, factor, step, unit)
    }
}

/// Money, to the cent where it is exact.
pub fn cost_told(figure: Figure, currency: Option<&str>) -> Told {
    Told {
        value: cost_text(figure.typical, currency),
        range: Told::of(figure, 1.0, 0.01, "").range,
    }
}

/// Odds in tenths.
pub fn odds(share: f64) -> String {
    let tenths = (share * 10.0).round();
    let text = if tenths >= 10.0 {
        if share > 0.995 {
            Text::OddsOverHundred
        } else {
            Text::OddsOverTen
        }
    } else if tenths >= 1.0 {
        Text::OddsTenths
    } else if share < 0.005 {
        Text::OddsUnderHundred
    } else {
        Text::OddsUnderTen
    };
    text.with(&[&fixed(tenths, 0)])
}

/// The odds of the class, and of the next if it has any to speak of.
pub fn class_odds_text(outcome: &Outcome) -> String {
    let Some(texture) = outcome.texture else {
        return String::new();
    };
    let share_of = |class: Class| texture.class_odds[class as usize];
    let best = share_of(texture.class);
    let mut next = (0.0, texture.class);
    for class in Class::ALL.iter().copied() {
        if class != texture.class && share_of(class) > next.0 {
            next = (share_of(class), class);
        }
    }
    let stays = outcome.barrow.ground_dry_kg > 0.0 && outcome.ground.class == Some(texture.class);
    let first = if stays { Text::OddsStays } else { Text::OddsIs };
    let mut text = first.with(&[&odds(best), class_name(texture.class)]);
    let (share, class) = next;
    if share >= 0.05 {
        // Each is rounded, but together they are no more than ten.
        let left = 1.0 - (best * 10.0).round() / 10.0;
        let share = share.min(left.max(0.05));
        text += &Text::OddsNext.with(&[&odds(share), class_name(class)]);
    }
    text
}

/// What the blend changes, each with its odds, against the ground as it lies and against digging.
pub fn changes_text(outcome: &Outcome) -> String {
    let Some(changes) = outcome.changes else {
        return String::new();
    };
    let [pores, pores_dug] = changes.pore_space_pct;
    let [density, density_dug] = changes.bulk_density_kg_m3;
    let mut text = String::new();
    for (before, change, words) in [
        (Text::ChangesLying, Some(pores), Text::PoresMore),
        (Text::Between, Some(density), Text::DensityMore),
        (Text::Between, changes.organic_matter_pct, Text::OrganicMore),
        (Text::ChangesDigging, Some(pores_dug), Text::PoresMore),
        (Text::Between, Some(density_dug), Text::DensityMore),
    ] {
        if let Some(change) = change {
            text += before.text();
            push_change(&mut text, change, words);
        }
    }
    text.push('.');
    text
}

/// What is likeliest of more, about the same and less, with its odds; their words follow each other.
fn push_change(text: &mut String, change: Change, words: Text) {
    let Change {
        odds_more,
        odds_less,
        ..
    } = change;
    let odds_same = 1.0 - odds_more - odds_less;
    let (which, share) = if odds_same >= odds_more && odds_same >= odds_less {
        (1, odds_same)
    } else if odds_more >= odds_less {
        (0, odds_more)
    } else {
        (2, odds_less)
    };
    *text += Text::after(words, which).text();
    text.push(' ');
    *text += &odds(share);
}

/// Which inputs most of a measure's doubt comes from, and what would narrow it.
pub fn sharpen_text(recipe: &Recipe, outcome: &Outcome, of: Measure) -> String {
    let column = outcome.drawn.column(of);
    let first = column.first().copied().unwrap_or(f64::NAN);
    if column.iter().all(|value| value.is_nan()) {
        return tr!("This blend has no such figure.").into();
    }
    let still = |value: &f64| (value - first).abs() <= 1e-12 * first.abs();
    if column.iter().all(still) {
        return tr!("There is no doubt in it: it follows exactly from what is entered.").into();
    }
    let causes = outcome.drawn.causes(of);
    if causes.is_empty() {
        return tr!("Its doubt comes from many small things; no single test would narrow it much.")
            .into();
    }
    let all: f64 = causes.iter().map(|(_, share)| share).sum();
    let mut names: Vec<String> = Vec::new();
    let mut tests: Vec<&str> = Vec::new();
    for (cause, _) in &causes {
        let (name, test) = cause_text(recipe, *cause);
        // Two causes may bear one name, or ask for one test.
        if !names.contains(&name) {
            names.push(name);
        }
        if !tests.contains(&test) && !is_measured(recipe, *cause) {
            tests.push(test);
        }
    }
    let last = names.pop().unwrap_or_default();
    let what = if names.is_empty() {
        last
    } else {
        say!("{} and {}", names.join(", "), last)
    };
    let much = match all {
        share if share >= 0.8 => tr!("Nearly all"),
        share if share >= 0.5 => tr!("Most"),
        _ => tr!("Much"),
    };
    if tests.is_empty() {
        return say!(
            "{} of its doubt comes from {}, although you measured; a second measurement would narrow it a little.",
            much,
            what
        );
    }
    let tests = tests.join("; ");
    say!(
        "{} of its doubt comes from {}. To narrow it: {}.",
        much,
        what,
        tests
    )
}

/// Whether the test that would settle an input was made.
fn is_measured(recipe: &Recipe, cause: Cause) -> bool {
    let (sample, of) = match cause {
        Cause::Ground(Trait::BulkDensity) => (Sample::Ground, Measurement::BulkDensity),
        Cause::HalfMixed
        | Cause::Packing
        | Cause::Material(_, Property::GrainDensity | Property::SolidDensity) => {
            (Sample::Blend, Measurement::BulkDensity)
        }
        Cause::Water | Cause::InnerWater | Cause::OpenPores => {
            (Sample::Blend, Measurement::Drained)
        }
        _ => return false,
    };
    recipe.measured(sample, of).is_some()
}

/// A trait of the ground in words, and the test that would settle it.
fn trait_text(of: Trait) -> (&'static str, &'static str) {
    let jar = tr!("a jar test or a laboratory's texture");
    let report = tr!("a soil laboratory's report");
    match of {
        Trait::BulkDensity => (
            tr!("density as it lies"),
            tr!("a ring or hole of known volume dried and weighed"),
        ),
        Trait::OrganicMatter => (tr!("organic matter"), tr!("a laboratory's organic matter")),
        Trait::WaterPerDry => (
            tr!("moisture"),
            tr!("a sample weighed before and after drying"),
        ),
        Trait::Gravel => (tr!("gravel"), tr!("a sieve of 2 mm")),
        Trait::Crumb => (tr!("crumb"), tr!("crumbs laid in water for an hour")),
        Trait::Sand => (tr!("sand"), jar),
        Trait::Silt => (tr!("silt"), jar),
        Trait::Ph => ("pH", report),
        Trait::EcSaturatedPaste | Trait::Ec1To5 | Trait::Ec1To2 => (tr!("salts"), report),
        Trait::Cec => (tr!("exchange capacity"), report),
        Trait::SodiumShare => (tr!("sodium"), report),
        Trait::Carbonate => (
            tr!("lime"),
            tr!("a drop of vinegar, or a laboratory's report"),
        ),
        _ => (tr!("clay"), jar),
    }
}

/// An input in words, and the test that would settle it.
fn cause_text(recipe: &Recipe, cause: Cause) -> (String, &'static str) {
    let bucket = tr!("a bucketful mixed, settled and weighed");
    let owned = |what: &str, line: usize| {
        let addition = recipe.additions.get(line);
        let found = addition.and_then(|addition| recipe.find(&addition.material));
        say!("{} of {}", what, in_sentence(found.map_or("", Found::name)))
    };
    match cause {
        Cause::Ground(of) => {
            let (what, test) = trait_text(of);
            (say!("your ground's {}", what), test)
        }
        Cause::Material(line, of) => {
            let sheet = tr!("the seller's analysis");
            let (what, test) = match of {
                Property::WaterPerWet => (
                    tr!("the moisture"),
                    tr!("a sample weighed before and after drying"),
                ),
                Property::LooseDensity => (tr!("the loose weight"), tr!("a pailful weighed")),
                Property::GrainDensity | Property::SolidDensity => {
                    (tr!("the grain density"), bucket)
                }
                Property::OrganicMatter => (tr!("the organic matter"), sheet),
                Property::Char => (tr!("the char"), sheet),
                Property::Ph => (tr!("the pH"), sheet),
                Property::Ec1To5 => (tr!("the salts"), sheet),
                Property::Cec => (tr!("the exchange capacity"), sheet),
                Property::Buffer => (tr!("the buffering"), sheet),
                Property::CarbonateEquivalent => {
                    (tr!("the lime"), tr!("a drop of vinegar, or the label"))
                }
                Property::Gypsum => (tr!("the gypsum"), tr!("the label")),
                Property::Sulfur => (tr!("the sulfur"), tr!("the label")),
                Property::Nitrogen => (tr!("the nitrogen"), sheet),
                Property::Phosphorus => (tr!("the phosphorus"), sheet),
                Property::Potassium => (tr!("the potassium"), sheet),
                Property::Sodium => (tr!("the sodium"), sheet),
                Property::Carbon => (tr!("the carbon"), sheet),
                Property::KeptAfterYear1 => (tr!("how fast it decays"), tr!("a season's wait")),
                _ => (tr!("the grain sizes"), sheet),
            };
            (owned(what, line), test)
        }
        Cause::HalfMixed => (tr!("how far a natural bed packs").into(), bucket),
        Cause::Packing => (tr!("how well the packing is known").into(), bucket),
        Cause::Water => (
            tr!("how soils of one texture differ in water").into(),
            tr!("a pot soaked, drained and measured"),
        ),
        Cause::InnerWater => (
            tr!("what the pores inside grains hold").into(),
            tr!("a pot soaked, drained and measured"),
        ),
        Cause::Chemistry => (
            tr!("how soils of one kind differ in buffering and exchange").into(),
            tr!("a soil laboratory's report"),
        ),
        Cause::OpenPores => (
            tr!("how wide the pores between grains are").into(),
            tr!("a pot soaked, drained and measured"),
        ),
    }
}

/// Traits of the ground that are drawn, so that a range of them counts; others have no name here.
const DRAWN: [Trait; 8] = [
    Trait::Sand,
    Trait::Silt,
    Trait::Clay,
    Trait::OrganicMatter,
    Trait::BulkDensity,
    Trait::Gravel,
    Trait::WaterPerDry,
    Trait::Crumb,
];

/// The ranges that a ground is given with; nothing where it has none.
pub fn ranges_text(recipe: &Recipe, speech: Speech) -> String {
    let mut text = String::new();
    for (index, of) in DRAWN.into_iter().enumerate() {
        let Some(figure) = recipe.ground.get(of).filter(Figure::is_in_doubt) else {
            continue;
        };
        let (told, unit) = match of {
            Trait::BulkDensity => (speech.density_told(figure), speech.units.density_unit()),
            Trait::Crumb => (Told::of(figure, 1.0, 0.01, ""), ""),
            _ => (Told::percent(figure, 0.1), "%"),
        };
        text += if text.is_empty() {
            Text::RangesGiven
        } else {
            Text::Between
        }
        .text();
        // Their names stand in the same order.
        let name = Text::after(Text::RangeSand, index).text();
        text += &[name, " ", &told.range, " ", unit].concat();
    }
    text
}
