#![cfg(not(target_arch = "wasm32"))]
//! Chance by changing places: exact values counted elsewhere, floors, and laws.

mod support;

use barrowmix::trial::analysis::{Limit, Reading, Scale, permutation};
use barrowmix::trial::fit::Point;
use barrowmix::trial::permute::{
    Permutation, Question, SHUFFLES, least_of_blocks, least_of_sign_flips, least_of_two, sign_flips,
};
use barrowmix::trial::power::Design;
use proptest::prelude::*;
use support::assert_close;
use support::trials::{Set, set, values};

/// A seed of no meaning.
const SEED: u64 = 20_260_401;

fn gone_through(set: &Set, question: Question, shuffles: u32) -> Permutation {
    let design = set.measure.design;
    Permutation::with(design, &set.points(), 0, question, SEED, shuffles)
        .expect("it can be shuffled")
        .run()
}

#[test]
fn chances_are_those_counted_elsewhere() {
    let (mut exact, mut shuffled) = (0, 0);
    for value in values("permutation", 12) {
        let set = set(&value.case);
        let name = value.quantity.split(" vs ").next().unwrap_or_default();
        if value.quantity.contains("sign-flip") {
            let own = set.values(set.treatment(name));
            let differences: Vec<f64> = own.iter().zip(set.values(0)).map(|(a, b)| a - b).collect();
            value.check(sign_flips(&differences).expect("a chance"));
        } else if value.quantity.contains("single-step") {
            let all = gone_through(&set, Question::AgainstControl, SHUFFLES);
            // The control in each place of the first block, everything in the other four.
            assert!(
                all.is_exact() && all.len() == 4 * 24_u64.pow(4),
                "{}",
                all.len()
            );
            value.check(all.against_control(set.treatment(name)).expect("a chance"));
        } else if value.quantity.contains("exact") {
            let all = gone_through(&set, Question::Overall, SHUFFLES);
            assert!(all.is_exact(), "{} is few", all.len());
            value.check(all.overall().expect("a chance"));
            exact += 1;
        } else {
            let all = gone_through(&set, Question::Overall, 200_000);
            // Five treatments in four blocks have 120^3 arrangements, which are all looked at.
            assert_eq!(
                all.is_exact(),
                value.case == "synth_radish",
                "{}",
                all.len()
            );
            value.check(all.overall().expect("a chance"));
            shuffled += 1;
        }
    }
    assert_eq!((exact, shuffled), (3, 3), "kinds");
}

#[test]
fn floors_are_those_computed_elsewhere() {
    for value in values("min_p", 17) {
        let case = &value.case;
        let computed = if case.starts_with("CRD") {
            least_of_two(value.given("n") as u32)
        } else if case.starts_with("paired") {
            least_of_sign_flips(value.given("b") as u32)
        } else {
            let [t, b] = ["t", "b"].map(|name| value.given(name) as u32);
            least_of_blocks(t, b)
        };
        value.check(computed);
    }
}

/// Four blocks of one treatment against a control never come below an eighth by signs.
#[test]
fn four_blocks_cannot_show_one_treatment_by_signs() {
    let least = sign_flips(&[9.0, 12.0, 7.0, 30.0]).expect("a chance");
    assert_eq!(least, 0.125, "all of one sign");
    assert_eq!(least, least_of_sign_flips(4), "the floor");
}

fn points(values: &[(usize, usize, f64)]) -> Vec<Point> {
    let point = |(treatment, block, value): &(usize, usize, f64)| Point {
        treatment: *treatment,
        block: *block,
        column: 0,
        value: *value,
    };
    values.iter().map(point).collect()
}

/// The smallest chances, by going through all: the best order of all that there are.
#[test]
fn floors_are_reached() {
    let mut two = Vec::new();
    let mut blocks = Vec::new();
    for number in 0..3 {
        two.push((0, 0, f64::from(number)));
        two.push((1, 0, 10.0 + f64::from(number)));
        for treatment in 0..3 {
            // Powers, so that no two sums are equal.
            let value = [1.0, 10.0, 100.0][treatment] + 0.01 * f64::from(number);
            blocks.push((treatment, number as usize, value));
        }
    }
    let of = |design, values: &[_]| {
        let all = Permutation::of(design, &points(values), 0, Question::Overall, SEED);
        all.expect("it can be shuffled").run()
    };
    let two = of(Design::Random, &two);
    assert_eq!(two.len(), 20, "six over three");
    assert_close(
        two.overall().expect("a chance"),
        least_of_two(3),
        1e-15,
        "two",
    );
    let blocks = of(Design::Blocks, &blocks);
    assert_eq!(blocks.len(), 36, "the first block stands still");
    assert_close(
        blocks.overall().expect("a chance"),
        least_of_blocks(3, 3),
        1e-15,
        "blocks",
    );
}

/// Steps of any size come to the same, and nothing is told before the end.
#[test]
fn steps_come_to_the_same() {
    for (case, question) in [
        ("synth_infiltration_min/ln", Question::Overall),
        ("synth_infiltration_min/ln", Question::AgainstControl),
        ("gomez_seedrate", Question::AgainstControl),
        ("lettuce", Question::AgainstControl),
    ] {
        let set = set(case);
        let whole = gone_through(&set, question, 3_000);
        let design = set.measure.design;
        let mut slices = Permutation::with(design, &set.points(), 0, question, SEED, 3_000)
            .expect("it can be shuffled");
        let mut size = 1;
        loop {
            assert!(slices.against_control(1).is_none(), "not before the end");
            assert!(slices.overall().is_none(), "not before the end");
            if slices.step(size) {
                break;
            }
            size = size * 3 % 1_009;
        }
        assert_eq!(slices.seen(), whole.len(), "all were seen");
        assert_eq!(slices.overall(), whole.overall(), "{case}");
        for treatment in 0..set.names.len() {
            let [a, b] = [&slices, &whole].map(|of| of.against_control(treatment));
            assert_eq!(a, b, "{case} {treatment}");
        }
        assert!(slices.step(5), "it stays at the end");
    }
}

/// Where there are too many arrangements, shuffles of a seed; what stands is one of them.
#[test]
fn shuffles_stand_for_all() {
    let lettuce = set("lettuce");
    let all = gone_through(&lettuce, Question::AgainstControl, SHUFFLES);
    assert!(!all.is_exact(), "28 containers at random");
    assert_eq!(all.len(), u64::from(SHUFFLES), "shuffles");
    let of = |name| {
        all.against_control(lettuce.treatment(name))
            .expect("a chance")
    };
    assert!(of("compost") < 0.001, "compost does something");
    assert!(of("biochar") > 0.5, "biochar does not show");
    assert!(
        all.against_control(0).is_none(),
        "the control is not compared"
    );
}

#[test]
fn limits_are_ties_at_the_end() {
    let set = set("synth_infiltration_min");
    let mut readings = set.readings.clone();
    let mut measure = set.measure;
    measure.scale = Scale::Log;
    let slowest = 150.0;
    let mut count = 0;
    for reading in &mut readings {
        if reading.value > slowest {
            *reading = Reading {
                value: slowest,
                limit: Limit::Above,
                ..*reading
            };
            count += 1;
        }
    }
    let of = |readings: &[Reading]| {
        permutation(&measure, readings, Question::Overall, SEED)
            .expect("it can be shuffled")
            .run()
            .overall()
            .expect("a chance")
    };
    let with_limits = of(&readings);
    // A greater limit is no other reading.
    for reading in &mut readings {
        if reading.limit == Limit::Above {
            reading.value = 1e6;
        }
    }
    assert_eq!(with_limits, of(&readings), "{count} limits");
    assert!(with_limits < 0.05, "compost still shows: {with_limits}");
}

#[test]
fn what_cannot_change_places_gives_none() {
    let of = |design, values: &[_], control| {
        Permutation::of(
            design,
            &points(values),
            control,
            Question::AgainstControl,
            1,
        )
    };
    let two = [(0, 0, 1.0), (1, 0, 2.0)];
    assert!(of(Design::Random, &[], 0).is_none(), "nothing");
    assert!(of(Design::Random, &two[..1], 0).is_none(), "one treatment");
    assert!(of(Design::Random, &two, 5).is_none(), "no control");
    assert!(of(Design::Latin, &two, 0).is_none(), "a square");
    let no_number = [(0, 0, 1.0), (1, 0, f64::NAN)];
    assert!(of(Design::Random, &no_number, 0).is_none(), "no number");
    let endless = [(0, 0, 1.0), (usize::MAX, 0, 2.0)];
    assert!(of(Design::Random, &endless, 0).is_none(), "no trial");
    for differences in [&[][..], &[1.0; 21], &[f64::NAN]] {
        assert!(sign_flips(differences).is_none(), "{differences:?}");
    }
    // All readings equal: every arrangement comes to the same.
    let same = [
        (0, 0, 3.3),
        (1, 0, 3.3),
        (2, 0, 3.3),
        (0, 1, 3.1),
        (1, 1, 3.1),
        (2, 1, 3.1),
    ];
    let all = of(Design::Blocks, &same, 0)
        .expect("it can be shuffled")
        .run();
    assert_eq!(all.against_control(1), Some(1.0), "no difference");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Scores with many ties: order, a constant and a factor change no chance.
    #[test]
    fn ties_do_not_drop_out(
        scores in prop::collection::vec(1_u8..6, 12),
        by in -50.0_f64..50.0,
        factor in 0.1_f64..30.0,
        turn in 0_usize..12,
    ) {
        let own: Vec<(usize, usize, f64)> = scores
            .iter()
            .enumerate()
            .map(|(at, score)| (at % 4, at / 4, f64::from(*score)))
            .collect();
        let mut other: Vec<_> = own
            .iter()
            .map(|(treatment, block, score)| (*treatment, *block, score * factor + by))
            .collect();
        other.rotate_left(turn);
        for question in [Question::Overall, Question::AgainstControl] {
            let [one, two] = [&own, &other].map(|values| {
                Permutation::of(Design::Blocks, &points(values), 0, question, SEED)
                    .expect("it can be shuffled")
                    .run()
            });
            prop_assert_eq!(one.overall(), two.overall());
            for treatment in 1..4 {
                let [a, b] = [&one, &two].map(|of| of.against_control(treatment));
                prop_assert_eq!(a, b);
                // What stands is one of all.
                let least = 1.0 / one.len() as f64;
                prop_assert!(a.is_none_or(|p| p >= least && p <= 1.0), "{a:?}");
            }
        }
    }

    /// Incomplete blocks and unequal numbers: all are gone through, and the chance is one.
    #[test]
    fn every_arrangement_is_one(
        places in prop::collection::vec((0_usize..3, 0_usize..3, -4.0_f64..4.0), 2..9),
        in_blocks in any::<bool>(),
    ) {
        let design = if in_blocks { Design::Blocks } else { Design::Random };
        for question in [Question::Overall, Question::AgainstControl] {
            if let Some(all) = Permutation::of(design, &points(&places), 0, question, SEED) {
                prop_assert!(all.is_exact(), "few");
                let all = all.run();
                let chances = (0..3).filter_map(|at| all.against_control(at)).chain(all.overall());
                for p in chances {
                    prop_assert!(p > 0.0 && p <= 1.0, "{p}");
                }
            }
        }
    }
}
