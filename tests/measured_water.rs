#![cfg(not(target_arch = "wasm32"))]
//! Measurements of water weigh the draws: their ranges hold nine of ten truths, and what says
//! nothing moves nothing.

// The second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]

#[path = "support/doubt.rs"]
mod doubt;
mod support;

use barrowmix::caution::Care;
use barrowmix::draws::Strata;
use barrowmix::figure::{Ends, Figure};
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::{Measurement, Recipe, Sample};
use doubt::{Number, numbers};
use serde_json::{Value, json};
use support::blends::outcome;
use support::dice::Dice;
use support::{assert_close, recipes};

/// Standard normal quantile of the 90th percentile, from scipy.
const Z90: f64 = 1.281_551_565_544_600_4;
/// Truths of each recipe and kind of measurement.
const CASES: usize = 120;
/// Draws that truths are taken from: another number than usual is another shuffle of everything.
const TRUTHS: u32 = 960;

fn line(material: &str, value: f64, unit: &str) -> Value {
    json!({ "material": material, "amount": { "value": value, "unit": unit } })
}

fn range(low: f64, typical: f64, high: f64) -> Value {
    json!({ "low": low, "typical": typical, "high": high })
}

/// Blends of each kind in pots, nothing measured.
fn blends() -> Vec<(&'static str, Recipe)> {
    let recipe = |ground: Value, cm: f64, additions: &[Value]| {
        recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": ground,
            "soil": { "value": 40, "unit": "L" },
            "additions": additions,
            "place": { "kind": "container", "drains": true, "height": { "value": cm, "unit": "cm" } },
        }))
    };
    vec![
        (
            "clay and compost",
            recipe(
                json!({ "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 }),
                25.0,
                &[line("yard_compost", 30.0, "%v")],
            ),
        ),
        (
            "peat and perlite",
            recipe(
                json!({ "sand_pct": 20, "silt_pct": 25, "clay_pct": range(48.0, 55.0, 60.0),
                    "organic_matter_pct": 2.5 }),
                15.0,
                &[
                    line("sphagnum_peat", 40.0, "%v"),
                    line("perlite", 30.0, "%v"),
                ],
            ),
        ),
        (
            "single grains",
            recipe(
                json!({ "sand_pct": 65, "silt_pct": 25, "clay_pct": 10,
                    "organic_matter_pct": range(1.0, 2.0, 3.0) }),
                30.0,
                &[
                    line("biochar_wood", 15.0, "%v"),
                    line("pine_bark", 20.0, "%v"),
                ],
            ),
        ),
        (
            "gravelly",
            recipe(
                json!({ "sand_pct": 30, "silt_pct": 30, "clay_pct": range(33.0, 40.0, 46.0),
                    "bulk_density_kg_m3": range(1400.0, 1600.0, 1750.0),
                    "gravel_pct": range(15.0, 25.0, 35.0) }),
                20.0,
                &[line("yard_compost", 25.0, "%v")],
            ),
        ),
        (
            "loam and sand",
            recipe(
                json!({ "sand_pct": 40, "silt_pct": 40, "clay_pct": 20 }),
                40.0,
                &[line("concrete_sand", 40.0, "%v")],
            ),
        ),
    ]
}

/// A standard normal number (Box & Muller 1958).
fn score(dice: &mut Dice) -> f64 {
    let size = (-2.0 * (1.0 - dice.unit()).ln()).sqrt();
    size * (2.0 * std::f64::consts::PI * dice.unit()).cos()
}

type Reading = fn(&Outcome) -> Figure;

/// What is judged.
const JUDGED: [(Measure, Reading); 16] = [
    (Measure::SettledDensity, |of| of.bulk_density_kg_m3.settled),
    (Measure::SettledPores, |of| of.pore_space_pct.settled),
    (Measure::Air, |of| of.pores_pct.air),
    (Measure::Available, |of| of.pores_pct.available_water),
    (Measure::Unavailable, |of| of.pores_pct.unavailable_water),
    (Measure::Drainage, |of| of.drainage_mm_h),
    (Measure::WateredMass, |of| of.watered_kg),
    (Measure::PotAir, |of| of.container.expect("a pot").air_pct),
    (Measure::PotWater, |of| {
        of.container.expect("a pot").water_pct
    }),
    (Measure::LyingDensity, |of| of.ground.lying_density_kg_m3),
    (Measure::LyingAir, |of| of.ground.lying_pores_pct.air),
    (Measure::LyingAvailable, |of| {
        of.ground.lying_pores_pct.available_water
    }),
    (Measure::LyingUnavailable, |of| {
        of.ground.lying_pores_pct.unavailable_water
    }),
    (Measure::LyingDrainage, |of| of.ground.drainage_mm_h[0]),
    (Measure::AloneAir, |of| of.ground.settled_air_pct),
    (Measure::AloneDrainage, |of| of.ground.drainage_mm_h[1]),
];

/// What one who measures reads of a truth, with the error of the method.
fn read(of: (Sample, Measurement), truth: &dyn Fn(Measure) -> f64, dice: &mut Dice) -> f64 {
    use Sample::{Blend, Ground};
    let [ground, blend] = [Measure::LyingDrainage, Measure::Drainage].map(truth);
    let through = if of.0 == Ground { ground } else { blend };
    let dry = truth(Measure::DryMass);
    // A hole drops so much faster than water goes through full soil, a ring reads too fast.
    let value = match of {
        (Ground, Measurement::BulkDensity) => truth(Measure::LyingDensity),
        (Blend, Measurement::BulkDensity) => truth(Measure::SettledDensity),
        (_, Measurement::Drained) => truth(Measure::PotAir),
        (_, Measurement::Hole) => through / 0.06,
        (_, Measurement::Ring) => through * 2.5,
        (Ground, Measurement::WaterPerDry) => {
            1000.0 * truth(Measure::LyingFieldCapacity) / truth(Measure::LyingDensity)
        }
        (Blend, Measurement::WaterPerDry) => 100.0 * (truth(Measure::WateredMass) - dry) / dry,
    };
    let Ends { high, .. } = of.1.with_error(Figure::exact(value)).ends();
    let score = score(dice) / Z90;
    if of.1.errs_by_factor() {
        value * (high / value).powf(score)
    } else {
        value + (high - value) * score
    }
}

/// Shares of truths held: of each kind of measurement, with what was asked.
fn held(kind: &[(Sample, Measurement)], dice: &mut Dice) -> ([f64; JUDGED.len()], f64) {
    let mut held = [0.0; JUDGED.len()];
    let mut cases = 0.0;
    for (_, recipe) in blends() {
        let truths = Outcome::drawn_from(&recipe, &mut Strata::of(TRUTHS)).expect("it can be");
        let mut strata = Strata::default();
        for _ in 0..CASES {
            let at = dice.below(TRUTHS as usize);
            let truth = |of: Measure| truths.drawn.column(of)[at];
            let mut recipe = recipe.clone();
            for (sample, of) in kind {
                let value = read((*sample, *of), &truth, dice);
                recipe.set_measured(*sample, *of, Some(Figure::exact(value)));
            }
            let outcome = Outcome::drawn_from(&recipe, &mut strata).expect("it can be");
            let measured = outcome.measured.as_ref().expect("it is measured");
            assert!(measured.unused.is_empty(), "{kind:?} is compared");
            for (held, (of, figure)) in held.iter_mut().zip(JUDGED) {
                let Ends { low, high } = figure(&outcome).ends();
                let truth = truth(of);
                let hair = 1e-9 * truth.abs();
                *held += f64::from(u8::from(low - hair <= truth && truth <= high + hair));
            }
            cases += 1.0;
        }
    }
    (held, cases)
}

/// Truths are draws of another shuffle, measured with the stated error: this judges the weights, as
/// `doubt_honesty.rs` judges the draws.
#[test]
fn weighed_ranges_hold_the_truth_whatever_was_measured() {
    use Measurement::{BulkDensity, Drained, Hole, Ring, WaterPerDry};
    use Sample::{Blend, Ground};
    let mut dice = Dice::new(81);
    let (mut all, mut asked) = (0.0, 0.0);
    let mut wrong = Vec::new();
    for kind in [
        &[(Blend, Drained)][..],
        &[(Blend, Hole)],
        &[(Blend, Ring)],
        &[(Blend, WaterPerDry)],
        &[(Ground, Hole)],
        &[(Ground, Ring)],
        &[(Ground, WaterPerDry)],
        &[(Blend, Drained), (Blend, BulkDensity)],
        &[(Ground, Ring), (Blend, WaterPerDry)],
        &[(Ground, BulkDensity), (Ground, WaterPerDry)],
    ] {
        let (held, cases) = held(kind, &mut dice);
        assert!(cases >= 500.0, "{cases} cases of {kind:?}");
        let share = held.iter().sum::<f64>() / cases / JUDGED.len() as f64;
        println!("{kind:?}: {share:.3}");
        for ((of, _), held) in JUDGED.iter().zip(held) {
            println!("    {of:?} {:.3}", held / cases);
        }
        if !(0.87..=0.93).contains(&share) {
            wrong.push(format!("{share:.3} of {kind:?}"));
        }
        all += share;
        asked += 1.0;
    }
    assert!(wrong.is_empty(), "held: {wrong:?}");
    let share = all / asked;
    assert!((0.88..=0.92).contains(&share), "{share} of all are held");
}

/// What is given exactly and measured as the same says nothing.
#[test]
fn what_says_nothing_moves_nothing() {
    for (name, mut recipe) in blends() {
        use barrowmix::ground::Trait;
        let density = outcome(&recipe).ground.lying_density_kg_m3.typical;
        recipe
            .ground
            .set(Trait::BulkDensity, Some(Figure::exact(density)));
        let plain = outcome(&recipe);
        recipe.set_measured(
            Sample::Ground,
            Measurement::BulkDensity,
            Some(Figure::exact(density)),
        );
        let other = outcome(&recipe);
        let measured = other.measured.as_ref().expect("it is measured");
        assert_close(measured.effective_draws, 1024.0, 1e-6, name);
        let (plain, other) = (numbers(&plain), numbers(&other));
        let other = other.iter().filter(|(of, _)| !of.starts_with("measured."));
        for ((of, one), (same, other)) in plain.iter().zip(other) {
            assert_eq!(of, same, "the same figures in {name}");
            let pairs: Vec<[f64; 2]> = match (one, other) {
                (Number::Figure(one), Number::Figure(other)) => {
                    (0..3).map(|at| [one[at], other[at]]).collect()
                }
                (Number::Odds(one), Number::Odds(other)) => vec![[*one, *other]],
                _ => panic!("{of} of {name}"),
            };
            for [one, other] in pairs {
                assert_close(
                    other,
                    one,
                    1e-9 * one.abs().max(1.0),
                    &format!("{of} of {name}"),
                );
            }
        }
    }
}

/// Air and the waters fill the pores, whatever was measured.
#[test]
fn parts_fill_the_pores_whatever_was_measured() {
    let mut dice = Dice::new(82);
    for (name, recipe) in blends() {
        let truths = outcome(&recipe);
        for (at, sample, of) in [
            (3, Sample::Blend, Measurement::Drained),
            (50, Sample::Blend, Measurement::Hole),
            (400, Sample::Blend, Measurement::Ring),
            (600, Sample::Blend, Measurement::WaterPerDry),
            (700, Sample::Blend, Measurement::BulkDensity),
            (800, Sample::Ground, Measurement::WaterPerDry),
            (900, Sample::Ground, Measurement::BulkDensity),
            (1000, Sample::Ground, Measurement::Ring),
        ] {
            let truth = |of: Measure| truths.drawn.column(of)[at];
            let value = read((sample, of), &truth, &mut dice);
            let mut recipe = recipe.clone();
            recipe.set_measured(sample, of, Some(Figure::exact(value)));
            let outcome = outcome(&recipe);
            let what = format!("{of:?} of the {sample:?}, {name}");
            for (parts, space) in [
                (outcome.pores_pct, outcome.pore_space_pct.settled),
                (
                    outcome.ground.lying_pores_pct,
                    outcome.ground.lying_pore_space_pct,
                ),
            ] {
                let parts = [
                    parts.air,
                    parts.available_water,
                    parts.unavailable_water,
                    parts.closed,
                ];
                let sum: f64 = parts.iter().map(|part| part.typical).sum();
                assert_close(sum, space.typical, 1e-9, &what);
                for part in parts {
                    let Ends { low, high } = part.ends();
                    assert!(
                        low >= 0.0 && low <= part.typical && part.typical <= high,
                        "{part:?}"
                    );
                }
            }
            let pot = outcome.container.expect("a pot");
            let sum = pot.water_pct.typical + pot.air_pct.typical;
            let open = outcome.pore_space_pct.settled.typical - outcome.pores_pct.closed.typical;
            assert_close(sum, open, 1e-9, &what);
        }
    }
}

#[test]
fn a_measurement_as_expected_hides_no_caution() {
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
        "soil": { "value": 300, "unit": "L" },
        "additions": [line("yard_compost", 85.0, "%v")],
        "place": { "kind": "bed" },
    }));
    let told = |recipe: &Recipe| {
        let outcome = outcome(recipe);
        let cautions = outcome
            .cautions
            .iter()
            .map(|caution| (caution.of, caution.asks));
        cautions.collect::<Vec<_>>()
    };
    let plain = told(&recipe);
    assert!(plain.contains(&(Care::BathTub, false)), "{plain:?}");
    let mut measured = recipe.clone();
    let lying = outcome(&recipe).ground.lying_density_kg_m3.typical;
    measured.set_measured(
        Sample::Ground,
        Measurement::BulkDensity,
        Some(Figure::exact(lying)),
    );
    assert_eq!(told(&measured), plain, "measured as it was estimated");
}
