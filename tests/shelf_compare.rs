#![cfg(not(target_arch = "wasm32"))]
//! Two blends side by side: differences and odds against a loop of its own, and against what is
//! known without one.

use barrowmix::figure::Figure;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Addition, Amount, Measurement, Recipe, Sample};
use barrowmix::shelf::{
    Against, Compared, Difference, Side, compare, joint, same_class, typical_difference,
};
use barrowmix::texture::classify;
use barrowmix::words::{
    METRIC, Speech, Units, compared_name, compared_told, difference_told, odds_told,
};
use proptest::prelude::*;
use std::rc::Rc;

const CLAY: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"ph":7.1},
    "soil":{"value":40,"unit":"L"},
    "place":{"kind":"container","volume":{"value":60,"unit":"L"},"height":{"value":30,"unit":"cm"}}}"#;

fn clay() -> Recipe {
    Recipe::from_json(CLAY).expect("it is right")
}

fn with(additions: &[(&str, f64)]) -> Recipe {
    let mut recipe = clay();
    for (material, litres) in additions {
        let amount = Amount::new(*litres, Unit::Litre);
        recipe.additions.push(Addition::new(*material, amount));
    }
    recipe
}

fn side(recipe: &Recipe) -> Side {
    let outcome = Outcome::of(recipe).expect("it can be mixed");
    let alone = Side::ground_alone(recipe, &outcome);
    let alone = alone.map(|alone| Rc::new(Outcome::of(&alone).expect("a ground can be alone")));
    Side { outcome, alone }
}

/// The weights of two blends that share no measurement, multiplied.
fn product(one: &[f64], other: &[f64], draws: usize) -> Vec<f64> {
    let of = |all: &[f64], at: usize| if all.is_empty() { 1.0 } else { all[at] };
    (0..draws).map(|at| of(one, at) * of(other, at)).collect()
}

/// Share of more, same and less, and the ends, counted one by one and sorted by hand.
fn brute(to: &[f64], from: &[f64], weights: &[f64], ratio: bool) -> ([f64; 3], [f64; 2]) {
    let mut all: Vec<(f64, f64)> = Vec::new();
    let mut counts = [0.0; 3];
    for at in 0..to.len() {
        let apart = if ratio {
            to[at] / from[at]
        } else {
            to[at] - from[at]
        };
        if !apart.is_finite() {
            continue;
        }
        all.push((apart, weights[at]));
        let near = (to[at] - from[at]).abs() <= 1e-12 * (to[at].abs() + from[at].abs());
        let which = if near {
            1
        } else if to[at] > from[at] {
            0
        } else {
            2
        };
        counts[which] += weights[at];
    }
    let sum: f64 = counts.iter().sum();
    all.sort_by(|one, other| one.0.total_cmp(&other.0));
    // With equal weights, straight between neighbours.
    let end = |share: f64| {
        let position = share * (all.len() - 1) as f64;
        let below = position as usize;
        let above = (below + 1).min(all.len() - 1);
        all[below].0 + (position - below as f64) * (all[above].0 - all[below].0)
    };
    (counts.map(|count| count / sum), [end(0.05), end(0.95)])
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * (1.0 + one.abs() + other.abs())
}

#[test]
fn differences_are_those_of_a_loop_of_its_own() {
    let pairs = [
        (vec![("yard_compost", 10.0)], vec![("concrete_sand", 10.0)]),
        (vec![("yard_compost", 10.0)], vec![("yard_compost", 20.0)]),
        (
            vec![("concrete_sand", 60.0)],
            vec![("concrete_sand", 30.0), ("yard_compost", 5.0)],
        ),
        (vec![], vec![("biochar_ash", 8.0)]),
    ];
    for (one, other) in pairs {
        let [first, second] = [side(&with(&one)), side(&with(&other))];
        for of in Compared::ALL {
            let told = compare(of, &first, Against::Other(&second));
            let [to, from] = [&first, &second].map(|side| side.outcome.drawn.column(of.measure()));
            let Some(told) = told else {
                assert!(
                    to.iter().chain(from).any(|value| value.is_nan()),
                    "{of:?} is there"
                );
                continue;
            };
            let weights = vec![1.0; to.len()];
            let (odds, ends) = brute(to, from, &weights, of.is_by_ratio());
            let told_odds = [told.more, told.same, told.less];
            for (one, other) in told_odds.into_iter().zip(odds) {
                assert!(near(one, other), "{of:?}: {told_odds:?}, counted {odds:?}");
            }
            let difference = told.difference;
            let stated = difference.ends();
            let low = ends[0].min(difference.typical);
            let high = ends[1].max(difference.typical);
            assert!(
                near(stated.low, low) && near(stated.high, high),
                "{of:?}: {stated:?}, counted {ends:?}"
            );
        }
    }
}

#[test]
fn the_ground_is_compared_as_the_outcome_compares_it() {
    let first = side(&with(&[("yard_compost", 15.0), ("concrete_sand", 10.0)]));
    let changes = first.outcome.changes.expect("there is a ground");
    for (of, change) in [
        (Compared::Pores, changes.pore_space_pct[0]),
        (Compared::Density, changes.bulk_density_kg_m3[0]),
        (
            Compared::OrganicMatter,
            changes.organic_matter_pct.expect("it has some"),
        ),
    ] {
        let told = compare(of, &first, Against::Ground).expect("it has it");
        assert_eq!(told.difference, change.difference, "{of:?}: one difference");
        // The outcome counts small differences as none.
        assert!(
            told.more >= change.odds_more && told.less >= change.odds_less,
            "{of:?}"
        );
    }
    for (of, ground) in [
        (Compared::Air, Measure::LyingAir),
        (Compared::Ph, Measure::GroundPh),
        (Compared::Salt, Measure::GroundEcPaste),
        (Compared::PlantWater, Measure::LyingAvailable),
        (Compared::Drainage, Measure::LyingDrainage),
    ] {
        let told = compare(of, &first, Against::Ground).expect("it has it");
        let drawn = &first.outcome.drawn;
        let weights = vec![1.0; drawn.column(ground).len()];
        let (odds, _) = brute(
            drawn.column(of.measure()),
            drawn.column(ground),
            &weights,
            of.is_by_ratio(),
        );
        assert!(
            near(told.more, odds[0]) && near(told.less, odds[2]),
            "{of:?}"
        );
    }
    for of in [Compared::Weight, Compared::Cost] {
        assert_eq!(
            compare(of, &first, Against::Ground),
            None,
            "a ground has no {of:?}"
        );
    }
}

#[test]
fn the_ground_alone_has_the_fractions_of_the_ground() {
    // Peat brings hardly any fines, and gravel none: the fractions stay in every draw.
    let first = side(&with(&[("pea_gravel", 10.0)]));
    for of in [Compared::Sand, Compared::Silt, Compared::Clay] {
        let told = compare(of, &first, Against::Ground).expect("it has it");
        assert!(told.difference.typical.abs() < 2.0, "{of:?}: {told:?}");
    }
    let nothing = side(&clay());
    for of in [
        Compared::Sand,
        Compared::Silt,
        Compared::Clay,
        Compared::OrganicMatter,
    ] {
        let told = compare(of, &nothing, Against::Ground).expect("it has it");
        assert_eq!(
            told.same, 1.0,
            "{of:?} of nothing added is the ground's: {told:?}"
        );
    }
    assert_eq!(
        same_class(&nothing, Against::Ground),
        Some(1.0),
        "so is the class"
    );
}

#[test]
fn a_blend_is_as_itself_in_every_draw() {
    let recipe = with(&[("yard_compost", 10.0), ("concrete_sand", 20.0)]);
    let first = side(&recipe);
    let mut turned = recipe.clone();
    turned.additions.reverse();
    let mut split = recipe.clone();
    split.additions[0].amount.value = 4.0;
    split
        .additions
        .push(Addition::new("yard_compost", Amount::new(6.0, Unit::Litre)));
    for other in [recipe, turned, split] {
        let second = side(&other);
        for of in Compared::ALL {
            let Some(told) = compare(of, &first, Against::Other(&second)) else {
                continue;
            };
            let nothing = if of.is_by_ratio() { 1.0 } else { 0.0 };
            assert_eq!(
                told,
                Difference {
                    difference: Figure::between(nothing, nothing, nothing),
                    more: 0.0,
                    same: 1.0,
                    less: 0.0
                },
                "{of:?}: a tie everywhere"
            );
        }
        assert_eq!(
            same_class(&first, Against::Other(&second)),
            Some(1.0),
            "the class too"
        );
    }
}

#[test]
fn what_is_shared_cancels() {
    let [less, more] = [10.0, 14.0].map(|litres| side(&with(&[("yard_compost", litres)])));
    let told = compare(Compared::OrganicMatter, &more, Against::Other(&less)).expect("both have");
    // Hardly any compost that is drawn is as poor as the ground that is drawn with it.
    assert!(
        told.more > 0.99,
        "more compost is more organic matter: {told:?}"
    );
    let width = |figure: Figure| figure.ends().high - figure.ends().low;
    let own = more.outcome.organic_matter_pct.expect("it has some");
    assert!(
        width(told.difference) < 0.5 * width(own),
        "the difference is surer than the figure: {told:?}, {own:?}"
    );
}

/// How likely each draw is by what was measured, the better the nearer.
fn measured(additions: &[(&str, f64)], sample: Sample, density: f64) -> Recipe {
    let mut recipe = with(additions);
    let figure = Some(Figure::exact(density));
    recipe.set_measured(sample, Measurement::BulkDensity, figure);
    recipe
}

#[test]
fn measurements_of_both_count_once_each() {
    let plain = side(&with(&[("yard_compost", 10.0)]));
    let of_ground = side(&measured(&[("yard_compost", 10.0)], Sample::Ground, 1250.0));
    let other_of_ground = side(&measured(
        &[("concrete_sand", 20.0)],
        Sample::Ground,
        1250.0,
    ));
    let of_blend = side(&measured(&[("yard_compost", 10.0)], Sample::Blend, 900.0));
    let other_of_blend = side(&measured(&[("concrete_sand", 20.0)], Sample::Blend, 1300.0));
    let weights = |side: &Side| side.outcome.drawn.weights().to_vec();
    assert!(weights(&plain).is_empty(), "nothing was measured");
    assert!(!weights(&of_ground).is_empty(), "the ground was");
    assert_eq!(
        joint(&of_ground, &other_of_ground),
        weights(&of_ground),
        "the same measurement of the same ground counts once"
    );
    assert_eq!(
        joint(&plain, &of_blend),
        weights(&of_blend),
        "one side's, if the other has none"
    );
    assert_eq!(
        joint(&of_blend, &plain),
        weights(&of_blend),
        "whichever it is"
    );
    let both = joint(&of_blend, &other_of_blend);
    let expected = product(&weights(&of_blend), &weights(&other_of_blend), both.len());
    for (draw, (is, expected)) in both.iter().zip(&expected).enumerate() {
        assert!(near(*is, *expected), "draw {draw}: {is} and not {expected}");
    }
    // The ground of both was measured, and the blend of one.
    let mut more = measured(&[("yard_compost", 10.0)], Sample::Ground, 1250.0);
    more.set_measured(
        Sample::Blend,
        Measurement::BulkDensity,
        Some(Figure::exact(950.0)),
    );
    let more = side(&more);
    let both = joint(&more, &other_of_ground);
    for (draw, (is, own)) in both.iter().zip(weights(&more)).enumerate() {
        assert!(
            *is <= own,
            "draw {draw} counts {is}, and {own} in its own blend"
        );
    }
    let told = compare(
        Compared::Density,
        &of_blend,
        Against::Other(&other_of_blend),
    );
    let told = told.expect("both have it");
    let [to, from] =
        [&of_blend, &other_of_blend].map(|side| side.outcome.drawn.column(Measure::SettledDensity));
    let (odds, _) = brute(to, from, &expected, false);
    assert!(near(told.less, odds[2]), "{told:?}, counted {odds:?}");
}

#[test]
fn the_typical_difference_is_that_of_what_is_told() {
    let [first, second] = [
        side(&measured(&[("yard_compost", 10.0)], Sample::Ground, 1250.0)),
        side(&with(&[("concrete_sand", 20.0)])),
    ];
    for of in Compared::ALL {
        let Some(told) = compare(of, &first, Against::Other(&second)) else {
            continue;
        };
        let [one, other] = [&first, &second].map(|side| {
            of.figure(&side.outcome)
                .expect("it is compared, so it is there")
                .typical
        });
        let expected = if of.is_by_ratio() {
            one / other
        } else {
            one - other
        };
        assert!(near(told.difference.typical, expected), "{of:?}: {told:?}");
        let typical = typical_difference(of, &first.outcome, Some(&second.outcome));
        assert_eq!(
            typical,
            Some(told.difference.typical),
            "{of:?} while a slider moves"
        );
    }
}

#[test]
fn classes_are_counted_draw_by_draw() {
    let [first, second] = [
        side(&with(&[("concrete_sand", 12.0)])),
        side(&with(&[("concrete_sand", 20.0)])),
    ];
    let columns = |side: &Side| {
        [Measure::Sand, Measure::Silt, Measure::Clay]
            .map(|of| side.outcome.drawn.column(of).to_vec())
    };
    let [one, other] = [columns(&first), columns(&second)];
    let same = (0..one[0].len())
        .filter(|at| {
            let class = |all: &[Vec<f64>; 3]| classify([all[0][*at], all[1][*at], all[2][*at]]);
            class(&one) == class(&other)
        })
        .count();
    let told = same_class(&first, Against::Other(&second)).expect("both have a texture");
    assert!(
        near(told, same as f64 / one[0].len() as f64),
        "{told}, counted {same}"
    );
}

#[test]
fn without_ground_or_fines_nothing_is_made_up() {
    let mut no_ground = with(&[("yard_compost", 20.0)]);
    if let barrowmix::recipe::Soil::Amount(amount) = &mut no_ground.soil {
        amount.value = 0.0;
    }
    let alone = side(&no_ground);
    assert!(alone.alone.is_none(), "there is no ground");
    for of in Compared::ALL {
        assert_eq!(typical_difference(of, &alone.outcome, None), None, "{of:?}");
    }
    assert_eq!(same_class(&alone, Against::Ground), None, "no class of it");
    let other = side(&with(&[("yard_compost", 20.0)]));
    assert!(
        compare(Compared::Cost, &alone, Against::Other(&other)).is_none(),
        "no prices"
    );
    assert!(
        compare(Compared::Pores, &alone, Against::Other(&other)).is_some(),
        "pores both have"
    );
}

#[test]
fn words_have_no_blanks() {
    let first = side(&with(&[("yard_compost", 10.0), ("concrete_sand", 10.0)]));
    let second = side(&with(&[("concrete_sand", 20.0)]));
    for speech in [METRIC, Speech { units: Units::Us }] {
        for of in Compared::ALL {
            let name = compared_name(of);
            assert!(!name.is_empty(), "{of:?} has a name");
            let Some(told) = compare(of, &first, Against::Other(&second)) else {
                continue;
            };
            let figure = compared_told(of, &first.outcome, Some("EUR"), speech);
            let difference = difference_told(of, told.difference, Some("EUR"), speech);
            for text in [
                figure.expect("it has it").value,
                difference.value,
                odds_told(of, &told),
            ] {
                assert!(
                    !text.trim().is_empty() && !text.contains("{}") && !text.contains("NaN"),
                    "{name}: {text:?}"
                );
            }
        }
    }
    let density = Figure::between(-200.0, -100.0, 16.0);
    let told = difference_told(Compared::Density, density, None, METRIC);
    assert_eq!(
        [told.value, told.range],
        ["−0.10 kg/L", "−0.20 to +0.02"],
        "signs"
    );
    let one = difference_told(Compared::Air, Figure::exact(1.2), None, METRIC);
    assert_eq!(one.value, "+1 point", "one of it");
    let none = difference_told(Compared::Air, Figure::exact(-0.2), None, METRIC);
    assert_eq!(none.value, "0 points", "no minus nothing");
    let fast = Figure::between(1.5, 2.0, 4.0);
    let told = difference_told(Compared::Drainage, fast, None, METRIC);
    assert_eq!(
        [told.value, told.range],
        ["2.0 times as fast", "1.5–4.0"],
        "a factor"
    );
    let cost = difference_told(Compared::Cost, Figure::exact(3.5), Some("EUR"), METRIC);
    assert_eq!(cost.value, "+3.50 EUR", "money");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// A against B is B against A the other way round, and odds sum to one.
    #[test]
    fn the_other_way_round(one in 0.5_f64..60.0, other in 0.5_f64..60.0, sand in 0.0_f64..40.0) {
        let first = side(&with(&[("yard_compost", one), ("concrete_sand", sand)]));
        let second = side(&with(&[("yard_compost", other)]));
        for of in Compared::ALL {
            let (Some(there), Some(back)) = (
                compare(of, &first, Against::Other(&second)),
                compare(of, &second, Against::Other(&first)),
            ) else {
                continue;
            };
            prop_assert!((there.more + there.same + there.less - 1.0).abs() < 1e-9, "{of:?}");
            prop_assert!(near(there.more, back.less) && near(there.same, back.same), "{of:?}");
            let [ends, mirrored] = [there.difference.ends(), back.difference.ends()];
            prop_assert!(ends.low <= there.difference.typical, "{of:?}");
            prop_assert!(there.difference.typical <= ends.high, "{of:?}");
            if !of.is_by_ratio() {
                prop_assert!(near(ends.low, -mirrored.high), "{of:?}: {there:?} {back:?}");
            }
        }
    }
}
