#![cfg(not(target_arch = "wasm32"))]
//! What was measured weighs the draws: ranges narrow and still hold the truth, and what does not
//! agree is said.

// The second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]

#[path = "support/doubt.rs"]
mod doubt;
mod support;
#[path = "support/truth.rs"]
mod truth;

use barrowmix::document::document;
use barrowmix::draws::{Strata, effective, ends, weighted};
use barrowmix::figure::{Ends, Figure};
use barrowmix::ground::GroundFault;
use barrowmix::outcome::{Measure, Outcome, Remark};
use barrowmix::recipe::{
    Fault, Kind, Measured, Measurement, Recipe, RecipeError, Sample, from_link, to_link,
};
use barrowmix::texture::{Class, classify};
use barrowmix::words::{
    METRIC, Speech, Units, agree_text, error_text, outcome_as_text, remark_text,
};
use doubt::{MEASURES, Number, assert_same_bits, brief, numbers, three};
use serde_json::{Value, json};
use support::blends::{ROUNDING, outcome};
use support::dice::Dice;
use support::{assert_close, assert_relative, recipes};
use truth::{FIGURES, by_chance, stated};

/// Standard normal quantile of the 90th percentile, from scipy.
const Z90: f64 = 1.281_551_565_544_600_4;
/// Error of a density by can or core, 10th to 90th percentile.
const DENSITY_ERROR: f64 = 0.06;
/// True cases of each recipe.
const CASES: usize = 400;

fn line(material: &str, value: f64, unit: &str) -> Value {
    json!({ "material": material, "amount": { "value": value, "unit": unit } })
}

fn range(low: f64, typical: f64, high: f64) -> Value {
    json!({ "low": low, "typical": typical, "high": high })
}

fn recipe_of(ground: &Value, litres: f64, additions: &[Value], measured: &Value) -> Recipe {
    recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": ground,
        "soil": { "value": litres, "unit": "L" },
        "additions": additions,
        "measured": measured,
    }))
}

/// Blends of each kind, nothing measured.
fn blends() -> Vec<(&'static str, Recipe)> {
    let recipe = |ground: Value, litres: f64, additions: &[Value]| {
        let mut recipe = recipe_of(&ground, litres, additions, &json!({}));
        recipe.measured = Measured::default();
        recipe
    };
    vec![
        (
            "clay of which only the texture is known",
            recipe(
                json!({ "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 }),
                100.0,
                &[
                    line("concrete_sand", 120.0, "kg"),
                    line("yard_compost", 30.0, "L"),
                ],
            ),
        ),
        (
            "a third of peat",
            recipe(
                json!({ "sand_pct": 20, "silt_pct": 25, "clay_pct": range(48.0, 55.0, 60.0),
                    "organic_matter_pct": 2.5, "crumb": range(0.1, 0.3, 0.5) }),
                40.0,
                &[line("sphagnum_peat", 33.3, "%v")],
            ),
        ),
        (
            "single grains",
            recipe(
                json!({ "sand_pct": 65, "silt_pct": 25, "clay_pct": 10,
                    "organic_matter_pct": range(1.0, 2.0, 3.0) }),
                80.0,
                &[
                    line("biochar_wood", 15.0, "L"),
                    line("smc_weathered", 20.0, "L"),
                ],
            ),
        ),
        (
            "gravelly",
            recipe(
                json!({ "sand_pct": 30, "silt_pct": range(24.0, 30.0, 38.0),
                    "clay_pct": range(33.0, 40.0, 46.0),
                    "organic_matter_pct": range(1.0, 2.0, 4.0),
                    "bulk_density_kg_m3": range(1400.0, 1600.0, 1750.0),
                    "gravel_pct": range(25.0, 40.0, 55.0) }),
                150.0,
                &[line("yard_compost", 25.0, "%v")],
            ),
        ),
        (
            "perhaps crumbs, perhaps grains",
            recipe(
                json!({ "sand_pct": 40, "silt_pct": 40, "clay_pct": range(13.0, 20.0, 27.0) }),
                200.0,
                &[
                    line("sharp_sand", 420.0, "kg"),
                    line("smc_fresh", 30.0, "L"),
                ],
            ),
        ),
    ]
}

fn blend() -> Recipe {
    blends().remove(0).1
}

fn measuring(recipe: &Recipe, sample: Sample, kg_m3: f64) -> Recipe {
    let mut out = recipe.clone();
    out.set_measured(sample, Measurement::BulkDensity, Some(Figure::exact(kg_m3)));
    out
}

/// A standard normal number (Box & Muller 1958).
fn score(dice: &mut Dice) -> f64 {
    let size = (-2.0 * (1.0 - dice.unit()).ln()).sqrt();
    size * (2.0 * std::f64::consts::PI * dice.unit()).cos()
}

fn width(figure: Figure) -> f64 {
    let Ends { low, high } = figure.ends();
    high - low
}

/// A known truth is measured with the stated error, and the ranges of everything else must hold it.
#[test]
fn weighed_ranges_hold_the_truth() {
    let mut dice = Dice::new(71);
    let mut held = vec![0.0; FIGURES.len() + 1];
    let mut asked = vec![0.0; FIGURES.len() + 1];
    let (mut narrower, mut cases) = (0.0, 0.0);
    for (_, recipe) in blends() {
        let mut strata = Strata::default();
        let plain = outcome(&recipe).bulk_density_kg_m3.settled;
        for _ in 0..CASES {
            let truth = by_chance(&recipe, &mut dice);
            let at = FIGURES
                .iter()
                .position(|(of, _)| *of == Measure::SettledDensity)
                .expect("it is judged");
            let error = 1.0 + score(&mut dice) * DENSITY_ERROR / Z90;
            let recipe = measuring(&recipe, Sample::Blend, truth.figures[at] * error);
            let outcome = Outcome::drawn_from(&recipe, &mut strata).expect("it can be mixed");
            let mut figures = stated(&outcome).to_vec();
            figures.push(outcome.ground.lying_density_kg_m3);
            let truths = truth.figures.into_iter().chain([truth.lying_density]);
            for (index, (figure, truth)) in figures.iter().zip(truths).enumerate() {
                let Ends { low, high } = figure.ends();
                // What is certain needs no luck.
                if high - low > 1e-9 * high.abs() {
                    asked[index] += 1.0;
                    // Many a truth lies on an end, but for the rounding of another way.
                    let hair = 1e-9 * truth.abs();
                    let holds = low - hair <= truth && truth <= high + hair;
                    held[index] += f64::from(u8::from(holds));
                }
            }
            narrower += f64::from(u8::from(width(figures[at]) < width(plain)));
            cases += 1.0;
        }
    }
    assert_eq!(cases, 2000.0, "cases");
    assert!(
        narrower > 0.99 * cases,
        "{narrower} of {cases} are narrower"
    );
    for (index, (held, asked)) in held.iter().zip(&asked).enumerate() {
        let name = FIGURES.get(index).map_or("ground", |(_, name)| *name);
        assert!(*asked >= 400.0, "{asked} cases of {name}");
        // 400 cases show 90 % give or take 1.5 % (one sigma), the draws of a recipe 1 % more.
        assert_close(held / asked, 0.90, 0.04, name);
    }
    let all = held.iter().sum::<f64>() / asked.iter().sum::<f64>();
    assert!((0.88..=0.92).contains(&all), "{all} of all are held");
}

/// The same by the ground, which a blend follows.
#[test]
fn a_can_of_the_ground_narrows_the_blend() {
    for (name, recipe) in blends() {
        let plain = outcome(&recipe);
        let lying = plain.ground.lying_density_kg_m3;
        let known = outcome(&measuring(&recipe, Sample::Ground, lying.typical));
        let narrower = |of: fn(&Outcome) -> Figure| width(of(&known)) / width(of(&plain));
        let ground = narrower(|outcome| outcome.ground.lying_density_kg_m3);
        assert!(ground < 0.95, "the ground of {name}: {ground}");
        let mass = narrower(|outcome| outcome.dry_kg);
        assert!(mass < 1.0, "dry mass of {name}: {mass}");
        let measured = known.measured.expect("it is measured");
        assert!(measured.disagreements.is_empty(), "{name} agrees");
        assert!(
            measured.effective_draws > 100.0 && measured.effective_draws < 1024.0,
            "{} draws of {name}",
            measured.effective_draws
        );
    }
}

#[test]
fn nothing_measured_changes_no_bit() {
    for (name, recipe) in blends() {
        let plain = outcome(&recipe);
        assert!(plain.measured.is_none(), "nothing is measured in {name}");
        assert!(plain.drawn.weights().is_empty(), "nothing weighs in {name}");
        for measured in [
            json!({}),
            json!({ "ground": {} }),
            json!({ "ground": {}, "blend": {} }),
        ] {
            let mut document: Value = serde_json::from_str(&recipe.to_json()).expect("JSON");
            document["measured"] = measured;
            let other = outcome(&recipes::recipe(&document));
            assert_same_bits(&plain, &other, name);
            assert_eq!(plain.notes, other.notes, "notes of {name}");
        }
    }
}

/// Everything that is weighed, on a second way.
#[test]
fn weights_and_what_is_weighed() {
    for (name, recipe) in blends() {
        let plain = outcome(&recipe);
        let density = plain.bulk_density_kg_m3.settled;
        let lying = plain.ground.lying_density_kg_m3;
        let mut recipe = measuring(&recipe, Sample::Ground, lying.typical * 1.04);
        let (low, typical, high) = (0.85, 0.97, 1.02);
        let blend = [low, typical, high].map(|share| share * density.typical);
        recipe.set_measured(
            Sample::Blend,
            Measurement::BulkDensity,
            Some(Figure::between(blend[0], blend[1], blend[2])),
        );
        let outcome = outcome(&recipe);
        let column = |of: Measure| outcome.drawn.column(of);
        let likely = |value: f64, [low, typical, high]: [f64; 3]| {
            let sigma = if value < typical {
                typical - low
            } else {
                high - typical
            } / Z90;
            (-0.5 * ((value - typical) / sigma).powi(2)).exp()
        };
        let lying = lying.typical * 1.04;
        let can = [lying * 0.94, lying, lying * 1.06];
        let weights: Vec<f64> = column(Measure::LyingDensity)
            .iter()
            .zip(column(Measure::SettledDensity))
            .map(|(ground, settled)| likely(*ground, can) * likely(*settled, blend))
            .collect();
        let total: f64 = weights.iter().sum();
        let best = weights.iter().copied().fold(0.0, f64::max);
        let share = |fits: &dyn Fn(usize) -> bool| -> f64 {
            let each = weights.iter().enumerate();
            each.filter(|(draw, _)| fits(*draw))
                .map(|(_, weight)| weight)
                .sum::<f64>()
                / total
        };
        for (weight, stated) in weights.iter().zip(outcome.drawn.weights()) {
            assert_close(*stated, weight / best, 1e-9, name);
        }
        let squares: f64 = weights.iter().map(|weight| weight * weight).sum();
        let measured = outcome.measured.as_ref().expect("it is measured");
        let agree = total * total / squares;
        assert!(agree > 100.0, "{agree} draws agree, in {name}");
        assert_relative(measured.effective_draws, agree, 1e-9, name);
        assert_eq!((measured.of, measured.widened), (1024.0, 1.0), "{name}");
        // The typical value goes as the median does, and stays within the ends.
        let moved = |typical: f64, values: &[f64]| {
            let [low, median, high] = brute(values, &weights).expect("numbers");
            let [_, before, _] = brute(values, &vec![1.0; values.len()]).expect("numbers");
            let moved = if before > 0.0 && median > 0.0 {
                typical * median / before
            } else {
                typical + median - before
            };
            [low, moved.clamp(low, high), high]
        };
        let typicals = stated(&plain).map(|figure| figure.typical);
        let figures = FIGURES.iter().zip(stated(&outcome)).zip(typicals);
        for (((of, _), figure), typical) in figures {
            let of = *of;
            let [low, median, high] = moved(typical, column(of));
            let hair = 1e-9 * median.abs() + 1e-9;
            let stated = three(figure);
            for (stated, expected) in stated.into_iter().zip([low, median, high]) {
                assert_close(stated, expected, hair, &format!("{of:?} of {name}"));
            }
        }
        let changes = outcome.changes.expect("there is ground");
        let [pores, alone] = [Measure::SettledPores, Measure::AlonePores].map(column);
        let more = share(&|draw| pores[draw] - alone[draw] > 1.0);
        let change = changes.pore_space_pct[1];
        assert_close(change.odds_more, more, 1e-9, name);
        let differences: Vec<f64> = pores.iter().zip(alone).map(|(a, b)| a - b).collect();
        let before = plain.changes.expect("there is ground").pore_space_pct[1];
        // It moves once: as the median of the differences, or as the two figures do.
        let [low, once, high] = moved(before.difference.typical, &differences);
        let of_both =
            outcome.pore_space_pct.settled.typical - outcome.ground.settled_pore_space_pct.typical;
        let stated = change.difference.typical;
        assert!(
            [once, of_both.clamp(low, high)]
                .iter()
                .any(|one| (stated - one).abs() < 1e-9),
            "{name}: {stated} is neither {once} nor {of_both}"
        );
        let fractions = [Measure::Sand, Measure::Silt, Measure::Clay].map(column);
        let texture = outcome.texture.expect("fines");
        for class in Class::ALL.iter().copied() {
            let odds = share(&|draw| classify(fractions.map(|part| part[draw])) == class);
            assert_close(texture.class_odds[class as usize], odds, 1e-9, name);
        }
        if let Some(odds) = outcome.skeleton.touching_odds {
            let [coarse, least] = [Measure::Share, Measure::Threshold].map(column);
            let asked = share(&|draw| least[draw].is_finite());
            let touching = share(&|draw| coarse[draw] > 0.0 && coarse[draw] >= least[draw]);
            assert_close(odds, touching / asked, 1e-9, name);
        }
    }
}

/// A cause that a measurement settles explains less than before.
#[test]
fn causes_are_weighed() {
    let recipe = blend();
    let before = outcome(&recipe);
    let share = |outcome: &Outcome| -> f64 {
        let causes = outcome.drawn.causes(Measure::LyingPores);
        causes.iter().map(|(_, share)| share).sum()
    };
    assert!(share(&before) > 0.9, "{} before", share(&before));
    let lying = before.ground.lying_density_kg_m3.typical;
    let mut exact = recipe;
    exact.set_measured(
        Sample::Ground,
        Measurement::BulkDensity,
        Some(Figure::between(lying * 0.985, lying, lying * 1.015)),
    );
    let after = outcome(&exact);
    let width = |outcome: &Outcome| width(outcome.ground.lying_pore_space_pct);
    assert!(width(&after) < 0.5 * width(&before), "pores are known");
    assert!(share(&after) < share(&before), "{} after", share(&after));
}

/// Percentiles of weighed values, each at the share of the others' weight that is below it.
fn brute(values: &[f64], weights: &[f64]) -> Option<[f64; 3]> {
    let mut pairs: Vec<(f64, f64)> = values
        .iter()
        .copied()
        .zip(weights.iter().copied())
        .filter(|(value, _)| value.is_finite())
        .collect();
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
    let total: f64 = pairs.iter().map(|(_, weight)| weight).sum();
    (total > 0.0).then(|| {
        [0.05, 0.5, 0.95].map(|share| {
            let places: Vec<f64> = (0..pairs.len())
                .map(|at| {
                    let below: f64 = pairs[..at].iter().map(|(_, weight)| weight).sum();
                    below / (total - pairs[at].1)
                })
                .collect();
            let above = places.iter().position(|place| *place > share);
            let Some(above) = above.filter(|at| *at > 0) else {
                return pairs[pairs.len() - 1].0;
            };
            let part = (share - places[above - 1]) / (places[above] - places[above - 1]);
            pairs[above - 1].0 + part * (pairs[above].0 - pairs[above - 1].0)
        })
    })
}

#[test]
fn weighed_percentiles() {
    let mut dice = Dice::new(72);
    for case in 0..400 {
        let count = 2 + dice.below(1023);
        let value = |dice: &mut Dice| match case % 5 {
            0 => dice.unit(),
            1 => dice.below(9) as f64,
            2 => score(dice).exp().powi(6),
            3 if dice.one_in(7) => f64::NAN,
            _ => -1e6 * dice.unit(),
        };
        let values: Vec<f64> = (0..count).map(|_| value(&mut dice)).collect();
        let weights: Vec<f64> = (0..count)
            .map(|_| match case % 3 {
                0 => dice.unit(),
                1 => (-8.0 * dice.unit()).exp(),
                _ => f64::from(u8::from(!dice.one_in(3))) + 1e-3 * dice.unit(),
            })
            .collect();
        let (Some(stated), Some(expected)) =
            (weighted(&values, &weights), brute(&values, &weights))
        else {
            panic!("{count} values of case {case}");
        };
        let known = values.iter().copied().filter(|value| value.is_finite());
        let size = known.clone().map(f64::abs).fold(0.0, f64::max);
        for (stated, expected) in stated.iter().zip(expected) {
            assert_close(*stated, expected, 1e-9 * size, &format!("case {case}"));
        }
        // Whatever the way between neighbours: as much weight lies below as should.
        let weight = |fits: &dyn Fn(f64) -> bool| -> f64 {
            let pairs = values.iter().zip(&weights);
            pairs
                .filter(|(value, _)| value.is_finite() && fits(**value))
                .map(|(_, weight)| weight)
                .sum()
        };
        let heaviest = weights.iter().copied().fold(0.0, f64::max);
        for (stated, share) in stated.into_iter().zip([0.05, 0.5, 0.95]) {
            let aim = share * weight(&|_| true);
            let below = weight(&|value| value < stated);
            let up_to = weight(&|value| value <= stated);
            assert!(
                below <= aim + heaviest && up_to >= aim - heaviest,
                "case {case}: {below} to {up_to} for {aim}"
            );
        }
    }
}

#[test]
fn equal_weights_are_none() {
    let mut dice = Dice::new(73);
    for case in 0..300 {
        let count = 1 + dice.below(1100);
        let values: Vec<f64> = (0..count)
            .map(|_| match case % 3 {
                0 => dice.unit(),
                1 => dice.below(20) as f64,
                _ => score(&mut dice).exp(),
            })
            .collect();
        let Ends { low, high } = ends(&values).expect("numbers");
        for weight in [1.0, 0.3, 1e-7] {
            let stated = weighted(&values, &vec![weight; count]).expect("numbers");
            assert_close(stated[0], low, 1e-12 * high.max(1.0), "the low end");
            assert_close(stated[2], high, 1e-12 * high.max(1.0), "the high end");
        }
    }
}

#[test]
fn odd_weights() {
    let nan = f64::NAN;
    assert_eq!(weighted(&[], &[]), None, "no values");
    assert_eq!(weighted(&[nan, nan], &[1.0, 1.0]), None, "no numbers");
    assert_eq!(weighted(&[1.0, 2.0], &[0.0, 0.0]), None, "no weight");
    assert_eq!(weighted(&[3.0], &[0.2]), Some([3.0; 3]), "one value");
    assert_eq!(
        weighted(&[3.0, nan], &[1.0, 9.0]),
        Some([3.0; 3]),
        "one number"
    );
    let alone = weighted(&[1.0, 2.0, 3.0], &[0.0, 5.0, 0.0]);
    assert_eq!(alone, Some([2.0; 3]), "all weight on one");
    let zeros = weighted(&[1.0, 5.0, 6.0, 9.0], &[0.0, 1.0, 1.0, 0.0]).expect("numbers");
    assert_relative(zeros[1], 5.5, 1e-12, "the middle of two");
    assert_eq!(effective(&[]), 0.0, "of nothing");
    assert_eq!(effective(&[0.0; 4]), 0.0, "of no weight");
    assert_relative(effective(&[0.3; 40]), 40.0, 1e-12, "of equals");
    // (3 + 1)^2 / (9 + 1)
    assert_relative(effective(&[3.0, 1.0, 0.0]), 1.6, 1e-12, "of unequals");
}

#[test]
fn few_draws_are_said() {
    for (name, recipe) in blends() {
        let plain = outcome(&recipe);
        let Ends { low, .. } = plain.bulk_density_kg_m3.settled.ends();
        let mut last = f64::INFINITY;
        for (times, few) in [(1.1, false), (0.75, true), (0.55, true)] {
            let kg_m3 = low * times;
            let known = outcome(&measuring(&recipe, Sample::Blend, kg_m3));
            let measured = known.measured.as_ref().expect("it is measured");
            let agree = measured.effective_draws;
            assert!(
                agree >= 1.0 && agree < last,
                "{agree} after {last} in {name}"
            );
            last = agree;
            let said = known
                .notes
                .iter()
                .any(|note| note.id() == "few_draws_agree");
            assert_eq!(
                said,
                agree < 100.0,
                "{agree} draws of {name}, {times} times"
            );
            assert_eq!(said, few, "{agree} draws of {name}, {times} times");
            assert_eq!(measured.widened > 1.0, few, "{name}, {times} times");
            if few {
                // It was widened just so far that a hundred agree.
                let now = effective(known.drawn.weights());
                assert_close(now, 100.0, 1.0, name);
                let settled = known.bulk_density_kg_m3.settled;
                assert!(width(settled) > 0.0, "a range is left: {settled:?}");
                assert!(settled.typical < plain.bulk_density_kg_m3.settled.typical);
            }
        }
    }
}

/// A measurement disagrees where its own range does not reach that of the draws.
#[test]
fn disagreement_on_both_sides() {
    for (name, recipe) in blends() {
        let plain = outcome(&recipe);
        for (sample, of) in [
            (Sample::Ground, Measure::LyingDensity),
            (Sample::Blend, Measure::SettledDensity),
        ] {
            let Ends { low, high } = ends(plain.drawn.column(of)).expect("numbers");
            for (edge, side) in [
                (low / (1.0 + DENSITY_ERROR), -1.0),
                (high / (1.0 - DENSITY_ERROR), 1.0),
            ] {
                for (hair, disagrees) in [(-1e-9, false), (1e-9, true)] {
                    let kg_m3 = edge * (1.0 + side * hair);
                    let other = outcome(&measuring(&recipe, sample, kg_m3));
                    let found = other
                        .notes
                        .iter()
                        .find(|note| matches!(note, Remark::Disagrees(_)));
                    assert_eq!(found.is_some(), disagrees, "{name}, {of:?} of {kg_m3}");
                    let measured = other.measured.as_ref().expect("it is measured");
                    assert_eq!(measured.disagreements.len(), usize::from(disagrees));
                    let Some(note) = found else {
                        continue;
                    };
                    assert_eq!(measured.disagreements[0].expected, Ends { low, high });
                    let path = note.field().expect("a field").to_string();
                    let expected = format!("measured.{}.bulk_density_kg_m3", sample.spelling());
                    assert_eq!(path, expected);
                    let text = remark_text(note, METRIC);
                    for told in [kg_m3, low, high] {
                        let told = format!("{:.2} kg/L", told / 1000.0);
                        assert!(text.contains(&told), "{told} in {text}");
                    }
                    let us = remark_text(note, Speech { units: Units::Us });
                    assert!(us.contains("lb/ft³"), "{us}");
                }
            }
        }
    }
}

#[test]
fn what_is_measured_is_told() {
    let recipe = measuring(&blend(), Sample::Blend, 1200.0);
    let known = outcome(&recipe);
    let measured = known.measured.as_ref().expect("it is measured");
    let told = agree_text(measured);
    let agree = format!("{:.0}", measured.effective_draws);
    assert!(told.contains(&agree) && told.contains("1024"), "{told}");
    assert!(outcome_as_text(&recipe, &known, METRIC).contains(&told));
    let value = serde_json::to_value(document(&known, METRIC)).expect("a document");
    assert_eq!(
        value["measured"]["effective_draws"],
        measured.effective_draws
    );
    let plain = serde_json::to_value(document(&outcome(&blend()), METRIC)).expect("a document");
    assert!(plain.get("measured").is_none(), "absent, not null");
    // A can of the ground stands in for its estimate, so nothing is said to be estimated.
    let estimated = |outcome: &Outcome| {
        let mut notes = outcome.notes.iter();
        notes.any(|note| note.id() == "estimated_density")
    };
    assert!(estimated(&known), "the ground was not measured");
    let ground = outcome(&measuring(&blend(), Sample::Ground, 1200.0));
    assert!(!estimated(&ground), "it was measured");
}

#[test]
fn a_measurement_has_the_error_of_its_method() {
    let error = |of: Measurement, value: f64| three(of.with_error(Figure::exact(value)));
    assert_eq!(error(Measurement::Drained, 12.0), [9.0, 12.0, 15.0]);
    assert_eq!(error(Measurement::WaterPerDry, 30.0), [27.5, 30.0, 32.5]);
    // A hole's walls add to what one reading misses.
    assert_eq!(error(Measurement::Hole, 36.0), [10.0, 36.0, 129.6]);
    assert_eq!(error(Measurement::Ring, 3.0), [1.0, 3.0, 9.0]);
    let [low, _, high] = error(Measurement::BulkDensity, 1000.0);
    assert_relative(low, 940.0, 1e-12, "density less 6 %");
    assert_relative(high, 1060.0, 1e-12, "density and 6 %");
    // A range is taken as it is, and an end that states no doubt is no end.
    let of = Measurement::Drained;
    assert_eq!(
        three(of.with_error(Figure::between(11.0, 12.0, 20.0))),
        [11.0, 12.0, 20.0]
    );
    assert_eq!(
        three(of.with_error(Figure::between(12.0, 12.0, 20.0))),
        [9.0, 12.0, 20.0]
    );
    assert_eq!(
        three(of.with_error(Figure::between(12.0, 12.0, 12.0))),
        [9.0, 12.0, 15.0]
    );
}

const GOOD: &str = r#"{"barrowmix":1,
"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
"soil":{"value":40,"unit":"L"},
"additions":[{"material":"yard_compost","amount":{"value":20,"unit":"%v"}}],
"measured":{"ground":{"bulk_density_kg_m3":1300},"blend":{"ring_mm_h":14}}}"#;

fn changed(from: &str, to: &str) -> Result<Outcome, RecipeError> {
    assert_eq!(GOOD.matches(from).count(), 1, "{from:?} stands once");
    Recipe::from_json(&GOOD.replace(from, to)).and_then(|recipe| Outcome::of(&recipe))
}

#[test]
fn faults() {
    const GROUND: &str = r#""bulk_density_kg_m3":1300"#;
    const RING: &str = r#""ring_mm_h":14"#;
    const ALL: &str = r#"{"ground":{"bulk_density_kg_m3":1300},"blend":{"ring_mm_h":14}}"#;
    let limits = [
        ("bulk_density_kg_m3", 200.0, 2200.0),
        ("drained_pct", 0.0, 100.0),
        ("hole_mm_h", 0.01, 10_000.0),
        ("ring_mm_h", 0.01, 10_000.0),
        ("water_per_dry_pct", 0.0, 300.0),
    ];
    let refused = |from: &str, to: &str, path: &str| -> Fault {
        let error = match changed(from, to) {
            Ok(_) => panic!("{to} is taken"),
            Err(error) => error,
        };
        assert_eq!(error.path.as_str(), path, "{to}: {error:?}");
        let text = error_text(&error);
        assert!(text.starts_with(path) && !text.contains('\n'), "{text}");
        error.fault
    };
    for sample in ["ground", "blend"] {
        for (name, low, high) in limits {
            let path = format!("measured.{sample}.{name}");
            let with = |value: &str| format!(r#"{{"{sample}":{{"{name}":{value}}}}}"#);
            for (number, is_in) in [
                (low, true),
                (high, true),
                (low - 0.001, false),
                (high * 1.001, false),
            ] {
                let text = GOOD.replace(ALL, &with(&number.to_string()));
                let read = Recipe::from_json(&text);
                assert_eq!(read.is_ok(), is_in, "{number} as {path}");
                if !is_in {
                    let fault = refused(ALL, &with(&number.to_string()), &path);
                    assert_eq!(
                        fault,
                        Fault::OutOfRange {
                            value: number,
                            low,
                            high
                        },
                        "{path}"
                    );
                }
            }
            let fault = refused(ALL, &with("1e400"), &path);
            assert_eq!(fault, Fault::NotFinite { low, high }, "{path}");
            for odd in ["null", "\"7\"", "[7]", "true"] {
                let fault = refused(ALL, &with(odd), &path);
                assert_eq!(fault, Fault::Kind(Kind::NumberOrRange), "{path} {odd}");
            }
            let turned = with(r#"{"low":900,"typical":300,"high":901}"#);
            if high > 901.0 {
                assert_eq!(refused(ALL, &turned, &path), Fault::RangeOrder, "{path}");
            }
            let path = format!("{path}.high");
            let half = with(r#"{"low":20,"typical":21}"#);
            if low < 20.0 {
                assert_eq!(refused(ALL, &half, &path), Fault::Missing, "{path}");
            }
        }
    }
    assert_eq!(refused(ALL, "5", "measured"), Fault::Kind(Kind::Object));
    assert_eq!(
        refused(r#"{"ring_mm_h":14}"#, "[]", "measured.blend"),
        Fault::Kind(Kind::Object)
    );
    for (from, to, path, fault) in [
        (
            RING,
            r#""rings":14"#,
            "measured.blend.rings",
            Fault::UnknownField,
        ),
        (
            r#""blend":{"#,
            r#""blends":{"#,
            "measured.blends",
            Fault::UnknownField,
        ),
        (
            RING,
            r#""ring_mm_h":1,"ring_mm_h":2"#,
            "measured.blend.ring_mm_h",
            Fault::Twice,
        ),
        (
            GROUND,
            r#""bulk_density_kg_m3":{"low":1200,"typical":1300,"high":1400,"by":2}"#,
            "measured.ground.bulk_density_kg_m3.by",
            Fault::UnknownField,
        ),
    ] {
        assert_eq!(refused(from, to, path), fault, "{to}");
    }
}

#[test]
fn denser_than_its_solids() {
    let plain = outcome(&blend());
    let masses = &plain.blend.masses;
    let solids = [
        plain.barrow.ground.solid_density_kg_m3,
        masses.dry_kg / masses.solid_m3,
    ];
    for (sample, solid) in Sample::ALL.iter().zip(solids) {
        let most = 0.88 * solid;
        let at = |kg_m3: f64| Outcome::of(&measuring(&blend(), *sample, kg_m3));
        assert!(at(most * (1.0 - 1e-9)).is_ok(), "{most} of the {sample:?}");
        let error = at(most * (1.0 + 1e-9)).expect_err("it cannot be");
        let path = format!("measured.{}.bulk_density_kg_m3", sample.spelling());
        assert_eq!(error.path.as_str(), path);
        let Fault::Ground(GroundFault::DenserThanSolids {
            limit_kg_m3,
            solid_kg_m3,
            ..
        }) = error.fault
        else {
            panic!("{error:?}");
        };
        assert_relative(solid_kg_m3, solid, 1e-9, "its solids");
        assert_relative(limit_kg_m3, most, 1e-9, "its limit");
        let text = error_text(&error);
        for told in [most, solid] {
            let told = format!("{told:.0} kg/m3");
            assert!(text.contains(&told), "{told} in {text}");
        }
    }
}

#[test]
fn files_and_links_keep_measurements() {
    let mut recipe = blend();
    let mut dice = Dice::new(74);
    for sample in Sample::ALL.iter().copied() {
        for of in Measurement::ALL.iter().copied() {
            let (low, high) = of.limits();
            let typical = dice.between(low, high.min(1900.0));
            let figure = if dice.one_in(2) {
                Figure::exact(typical)
            } else {
                Figure::between(
                    dice.between(low, typical),
                    typical,
                    dice.between(typical, high),
                )
            };
            recipe.set_measured(sample, of, Some(figure));
            assert_eq!(recipe.measured(sample, of), Some(figure), "it is set");
            assert_eq!(recipes::read(&recipe.to_json()), recipe, "by file");
            let link = to_link(&recipe).expect("it fits");
            assert_eq!(from_link(&link).as_ref(), Ok(&recipe), "by link");
        }
    }
    for sample in Sample::ALL.iter().copied() {
        for of in Measurement::ALL.iter().copied() {
            assert_ne!(recipe.measured, Measured::default(), "something is left");
            recipe.set_measured(sample, of, None);
        }
    }
    assert_eq!(recipe, blend(), "cleared, nothing is left");
}

/// A link with measurements is hardly longer: all its words are known.
#[test]
fn words_of_measurements_are_short_in_links() {
    let recipe = recipes::read(GOOD);
    let with = to_link(&recipe).expect("it fits").len();
    let mut without = recipe;
    without.measured = Measured::default();
    let without = to_link(&without).expect("it fits").len();
    assert!(with - without < 36, "{} letters more", with - without);
}

#[test]
fn order_of_fields_changes_no_bit() {
    let turned = r#"{"measured":{"blend":{"water_per_dry_pct":31,"bulk_density_kg_m3":{"high":1150,"low":950,"typical":1040}},"ground":{"bulk_density_kg_m3":1300}},
        "soil":{"unit":"L","value":40},"barrowmix":1,"ground":{"clay_pct":55,"silt_pct":25,"sand_pct":20},
        "additions":[{"amount":{"unit":"%v","value":20},"material":"yard_compost"}]}"#;
    let straight = GOOD.replace(
        r#""ring_mm_h":14"#,
        r#""bulk_density_kg_m3":{"low":950,"typical":1040,"high":1150},"water_per_dry_pct":31"#,
    );
    let (one, other) = (recipes::read(&straight), recipes::read(turned));
    assert_eq!(one, other, "the same recipe");
    let (one, other) = (outcome(&one), outcome(&other));
    assert!(one.measured.is_some(), "it is measured");
    assert_same_bits(&one, &other, "in another order");
    assert_eq!(one.measured, other.measured);
    assert_eq!(one.drawn.weights(), other.drawn.weights());
}

/// Laws that weighed outcomes keep too, whatever was measured.
#[test]
fn laws_of_weighed_outcomes() {
    let mut dice = Dice::new(75);
    let (mut judged, mut few, mut alone) = (0, 0, 0);
    while judged < 150 {
        let mut document = doubt::random(&mut dice);
        document["measured"] = recipes::random_measured(&mut dice)["measured"].clone();
        let Ok(recipe) = Recipe::from_json(&document.to_string()) else {
            continue;
        };
        let Ok(one) = Outcome::of(&recipe) else {
            continue;
        };
        let Some(measured) = &one.measured else {
            continue;
        };
        let what = brief(&recipe);
        judged += 1;
        few += usize::from(measured.effective_draws < 100.0);
        let weights = one.drawn.weights();
        if weights.is_empty() {
            // Nothing that was measured could be compared.
            assert!(!measured.unused.is_empty(), "unused in {what}");
            assert_eq!(measured.effective_draws, measured.of, "{what}");
            alone += 1;
            continue;
        }
        let fits = weights.iter().all(|weight| *weight >= 0.0);
        assert!(fits, "weights of {what}");
        assert!(weights.contains(&1.0), "the best draw of {what}");
        for (name, number) in numbers(&one) {
            match number {
                Number::Figure([low, typical, high]) => assert!(
                    low.is_finite() && high.is_finite() && low <= typical && typical <= high,
                    "{name} is {low} to {typical} to {high} in {what}"
                ),
                Number::Odds(odds) => assert!(
                    (0.0..=1.0 + ROUNDING).contains(&odds) || name == "measured.effective_draws",
                    "{name} is {odds} in {what}"
                ),
            }
        }
        if let Some(texture) = one.texture {
            let sum: f64 = texture.class_odds.iter().sum();
            assert_close(sum, 1.0, 1e-9, &what);
        }
        for (of, _) in MEASURES {
            let causes = one.drawn.causes(of);
            let fits = |share: f64| (0.0..=1.0 + 1e-9).contains(&share);
            assert!(
                causes.iter().all(|(_, share)| fits(*share)),
                "{of:?} of {what}"
            );
        }
        let mut other = recipe.clone();
        for index in (1..other.additions.len()).rev() {
            other.additions.swap(index, dice.below(index + 1));
        }
        assert_same_bits(&one, &outcome(&other), &format!("turned: {what}"));
    }
    assert!(
        few > 10 && few < 140,
        "{few} of {judged} measure another soil"
    );
    assert!(alone > 0, "none had nothing to compare");
}
