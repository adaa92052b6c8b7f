#![cfg(not(target_arch = "wasm32"))]
//! Least squares, tests of spreads and ranks, and what blocks were worth, on the data of others.

mod support;

use barrowmix::trial::chance::{chi_square_above, f_above};
use barrowmix::trial::compare::{
    Pair, Sample, holm, lost_reading, welch_f, wilson, worth_of_blocks,
};
use barrowmix::trial::fit::{Dropped, Fit, NoFit, Point, Term};
use barrowmix::trial::power::Design;
use barrowmix::trial::ranks::{friedman, kruskal, mid_ranks};
use proptest::prelude::*;
use support::trials::{Set, Value, set, values};
use support::{assert_close, assert_relative};

fn fit(set: &Set) -> Fit {
    let measure = &set.measure;
    Fit::of(measure.design, &set.points(), measure.treatments, 0).expect("a fit")
}

#[test]
fn tables_of_variance_are_those_computed_elsewhere() {
    let (mut checked, mut printed, mut single) = (0, 0, 0);
    for value in values("anova", 284) {
        let set = set(&value.case);
        let fit = fit(&set);
        let (what, of) = value
            .quantity
            .split_once('_')
            .unwrap_or((&value.quantity, ""));
        let term = || match of {
            "trt" => fit.treatments,
            "err" => fit.error,
            "block" | "row" => fit.blocks.expect("blocks"),
            "col" => fit.columns.expect("columns"),
            other => panic!("{other} is a term"),
        };
        let f = |term: Term| term.f(&fit.error).expect("F");
        let computed = match what {
            "df" => term().degrees as f64,
            "SS" => term().squares,
            "MSE" => fit.error.mean_square().expect("a mean square"),
            "grand" => fit.mean,
            "CV" => 100.0 * fit.spread().expect("a spread") / fit.mean,
            "F" if of.contains("scipy") => {
                // What another program made of it, off the certified value by its rounding alone.
                let other: f64 = value.text().parse().expect("a number");
                assert_relative(f(fit.treatments)[0], other, 1e-9, &value.case);
                single += 1;
                continue;
            }
            "F" => f(term())[0],
            "p" => f(term())[1],
            other => panic!("{other} is known"),
        };
        value.check(computed);
        checked += 1;
        if value.is_published() {
            printed += usize::from(check_printed(&value, computed));
        }
    }
    assert_eq!(checked, 280, "rows that are checked");
    assert_eq!(single, 4, "rows of another program");
    assert_eq!(
        printed, 41,
        "printed values to their digits; 12 are certified ones"
    );
}

/// Printed values, of which some were cut off where they should be rounded.
fn check_printed(value: &Value, computed: f64) -> bool {
    if value.case.starts_with("nist") {
        value.check_printed_loosely(computed, 1e-9 * computed.abs().max(1e-9));
        return false;
    }
    value.check_printed_or_cut(computed);
    true
}

/// Certified values of NIST to nine digits, though seven are in common; one pass would lose all.
#[test]
fn digits_in_common_are_not_lost() {
    for (case, f) in [
        ("nist_SiRstv", 1.18046237440255),
        ("nist_SmLs01", 21.0),
        ("nist_SmLs04", 21.0),
        ("nist_AtmWtAg", 15.9467335677930),
    ] {
        let fit = fit(&set(case));
        let own = fit.treatments.f(&fit.error).expect("F")[0];
        // The readings of the last three, as doubles, are already off by a few of 1e-10.
        assert_relative(own, f, 2e-9, case);
    }
}

#[test]
fn a_lost_container_is_what_least_squares_says() {
    let set = set("synth_radish_missing");
    let fit = fit(&set);
    let compost = set.treatment("compost");
    let points = set.points();
    let sum = |of: &dyn Fn(&Point) -> bool| -> f64 {
        points.iter().filter(|p| of(p)).map(|p| p.value).sum()
    };
    let sums = [
        sum(&|point| point.treatment == compost),
        sum(&|point| point.block == 3),
        sum(&|_| true),
    ];
    let error = |variance: f64| (fit.error.mean_square().expect("a spread") * variance).sqrt();
    for value in values("missing", 4) {
        let computed = match value.quantity.as_str() {
            "Yates estimate of missing value" => lost_reading(4, 5, sums),
            "least-squares prediction of missing cell" => fit.predicted(compost, 3, 0),
            "SE(compost-control) exact LS" => Some(error(
                fit.differences[compost].expect("it is told").variance,
            )),
            _ => {
                let (b, t) = (4.0, 5.0);
                Some(error(2.0 / b + t / (b * (b - 1.0) * (t - 1.0))))
            }
        };
        value.check(computed.expect("a number"));
    }
    assert_eq!(fit.error.degrees, 11, "one less");
}

#[test]
fn blocks_were_worth_what_was_computed_elsewhere() {
    for value in values("blocking", 6) {
        let worth = worth_of_blocks(&fit(&set(&value.case))).expect("complete blocks");
        let computed = match value.quantity.as_str() {
            "relative efficiency" => worth.efficiency,
            _ => worth.adjusted,
        };
        value.check(computed);
        value.check_printed(computed);
    }
    let lost = fit(&set("synth_radish_missing"));
    assert!(worth_of_blocks(&lost).is_none(), "blocks are not complete");
    assert!(
        worth_of_blocks(&fit(&set("lettuce"))).is_none(),
        "no blocks"
    );
}

#[test]
fn spreads_of_their_own_and_ranks_are_those_computed_elsewhere() {
    for value in values("robust", 32) {
        let set = set(&value.case);
        let points = set.points();
        let samples: Vec<Sample> = (0..set.names.len())
            .map(|treatment| Sample::of(&set.values(treatment)).expect("readings"))
            .collect();
        let welch = || welch_f(&samples).expect("spreads");
        let computed = match value.quantity.as_str() {
            "welch_F" => welch().0,
            "welch_df2" => welch().1[1],
            "welch_p" => welch().2,
            "kruskal_H" => kruskal(&points).expect("ranks").statistic,
            "kruskal_p" => kruskal(&points).expect("ranks").p,
            "friedman_Q" => friedman(&points).expect("ranks").statistic,
            "friedman_p_chi2" => friedman(&points).expect("ranks").p,
            other => panic!("{other} is known"),
        };
        value.check(computed);
        value.check_printed(computed);
    }
}

#[test]
fn pairs_with_their_own_spreads_are_those_computed_elsewhere() {
    let mut checked = 0;
    for value in values("welch_t", 78) {
        let set = set(&value.case);
        let sample = |of: usize| Sample::of(&set.values(of)).expect("readings");
        let pair = |of: usize| Pair::of(&sample(of), &sample(0)).expect("a pair");
        let (name, rest) = value.quantity.split_once(" vs ").expect("two names");
        let (_, what) = rest.split_once(' ').expect("what of them");
        let own = set.treatment(name);
        let range = || pair(own).range(0.95).expect("a range");
        let computed = match what {
            "t" => pair(own).t(),
            "df" => pair(own).degrees,
            "p" => pair(own).p(),
            "lo95" => range()[0],
            "hi95" => range()[1],
            "p_holm" => {
                let all: Vec<f64> = (1..set.names.len()).map(|of| pair(of).p()).collect();
                holm(&all)[own - 1]
            }
            other => panic!("{other} is known"),
        };
        value.check(computed);
        checked += 1;
    }
    assert_eq!(checked, 78, "every row");
}

#[test]
fn shares_and_single_samples_are_those_computed_elsewhere() {
    for value in values("proportion", 10) {
        let (found, of) = value.case.split_once('/').expect("a share");
        let numbers = [found, of].map(|text| text.parse().expect("a number"));
        let [low, high] = wilson(numbers[0], numbers[1]).expect("a range");
        let is_low = value.quantity.ends_with("lo95");
        let computed = if is_low { low } else { high };
        value.check(computed);
    }
    for value in values("describe", 8) {
        let numbers: Vec<f64> = value
            .case
            .split(',')
            .map(|text| text.parse().expect("a number"))
            .collect();
        let logs: Vec<f64> = numbers.iter().map(|value| libm::log(*value)).collect();
        let [raw, log] = [&numbers, &logs].map(|of| Sample::of(of).expect("a sample"));
        let [range, logs] = [&raw, &log].map(|of| of.range(0.95).expect("a range"));
        value.check(match value.quantity.as_str() {
            "mean" => raw.mean,
            "sd" => raw.spread().expect("a spread"),
            "CV_pct" => 100.0 * raw.spread().expect("a spread") / raw.mean,
            "t_CI_lo95" => range[0],
            "t_CI_hi95" => range[1],
            "geometric mean" => libm::exp(log.mean),
            "geo CI_lo95" => libm::exp(logs[0]),
            "geo CI_hi95" => libm::exp(logs[1]),
            other => panic!("{other} is known"),
        });
    }
}

/// The tails behind those chances, from their definitions.
#[test]
fn ranks_of_ties_are_shared() {
    assert_eq!(
        mid_ranks(&[3.0, 1.0, 3.0, 2.0]),
        [3.5, 1.0, 3.5, 2.0],
        "ties"
    );
    assert_eq!(mid_ranks(&[]), [0.0; 0], "nothing");
    let ends = [f64::INFINITY, 1.0, f64::INFINITY, f64::NAN];
    assert_eq!(mid_ranks(&ends), [2.5, 1.0, 2.5, 4.0], "limits are ties");
    assert_close(chi_square_above(0.0, 3.0), 1.0, 0.0, "all");
    assert_close(f_above(0.0, [2.0, 3.0]), 1.0, 0.0, "all");
}

fn at(treatment: usize, block: usize, value: f64) -> Point {
    Point {
        treatment,
        block,
        column: 0,
        value,
    }
}

#[test]
fn what_is_not_told_is_said_to_be() {
    // Treatment 2 stands in a block of its own, 3 is lost, 4 and 5 share a block without control.
    let points = [
        at(0, 1, 1.0),
        at(1, 1, 2.0),
        at(0, 2, 2.0),
        at(1, 2, 3.5),
        at(2, 3, 9.0),
        at(4, 7, 5.0),
        at(5, 7, 6.0),
    ];
    let fit = Fit::of(Design::Blocks, &points, 6, 0).expect("a fit");
    let told: Vec<Option<Dropped>> = fit.differences.iter().map(|of| of.err()).collect();
    let apart = Some(Dropped::Apart);
    assert_eq!(
        told,
        [None, None, apart, Some(Dropped::Lost), apart, apart],
        "what is told"
    );
    let own = fit.differences[1].expect("it is told");
    assert_close(own.estimate, 1.25, 1e-12, "within the two blocks");
    assert_eq!(fit.error.degrees, 1, "one is left");
    // Through a chain of blocks 4 is compared.
    let chained = [&points[..], &[at(4, 1, 3.0)]].concat();
    let fit = Fit::of(Design::Blocks, &chained, 6, 0).expect("a fit");
    assert!(
        fit.differences[4].is_ok() && fit.differences[5].is_ok(),
        "a chain"
    );
    let estimate = fit.differences[5].expect("it is told").estimate;
    let before = fit.differences[4].expect("it is told").estimate;
    assert_close(estimate - before, 1.0, 1e-12, "as in their block");
    // Without a control nothing is compared, but treatments still differ.
    let fit = Fit::of(Design::Random, &points, 8, 7).expect("a fit");
    assert_eq!(fit.differences[1], Err(Dropped::NoControl), "no control");
    assert_eq!(fit.treatments.degrees, 4, "five treatments");
}

#[test]
fn bad_readings_are_named() {
    let random = |points: &[Point]| Fit::of(Design::Random, points, 2, 0).map(|_| ());
    assert_eq!(random(&[]), Err(NoFit::Empty), "none");
    for value in [f64::NAN, f64::INFINITY, f64::MAX] {
        let points = [at(0, 0, 1.0), at(1, 0, value)];
        assert_eq!(random(&points), Err(NoFit::NotANumber(1)), "{value}");
    }
    let points = [at(2, 0, 1.0)];
    assert_eq!(random(&points), Err(NoFit::NoSuchTreatment(0)), "beyond");
    let many: Vec<Point> = (0..3000)
        .map(|number| at(number, 0, number as f64))
        .collect();
    let fit = Fit::of(Design::Random, &many, 3000, 0).map(|_| ());
    assert_eq!(fit, Err(NoFit::TooLarge), "three thousand treatments");
    // Ten thousand containers in two thousand blocks are a large trial, but one.
    let many: Vec<Point> = (0..10_000)
        .map(|number| at(number % 5, number / 5, (number * 7919 % 101) as f64))
        .collect();
    let fit = Fit::of(Design::Blocks, &many, 5, 0).expect("a fit");
    assert_eq!(fit.error.degrees, 4 * 1999, "degrees");
    // One container each: nothing is left.
    let single = [at(0, 0, 1.0), at(1, 0, 2.0)];
    let fit = Fit::of(Design::Random, &single, 2, 0).expect("a fit");
    assert_eq!(fit.error.degrees, 0, "nothing left");
    assert!(fit.spread().is_none(), "no spread");
    let same = [at(0, 0, 5.1), at(0, 0, 5.1), at(1, 0, 6.3), at(1, 0, 6.3)];
    let fit = Fit::of(Design::Random, &same, 2, 0).expect("a fit");
    assert!(fit.is_exact, "no digit differs");
}

fn table() -> impl Strategy<Value = Vec<Point>> {
    (2_usize..6, 2_usize..6).prop_flat_map(|(treatments, blocks)| {
        let count = treatments * blocks;
        prop::collection::vec(-5.0_f64..5.0, count).prop_map(move |values| {
            let point = |(number, value): (usize, &f64)| Point {
                treatment: number % treatments,
                block: number / treatments,
                column: 0,
                value: *value + (number % treatments) as f64,
            };
            values.iter().enumerate().map(point).collect()
        })
    })
}

fn f_of(design: Design, points: &[Point]) -> f64 {
    let treatments = points
        .iter()
        .map(|point| point.treatment)
        .max()
        .unwrap_or(0)
        + 1;
    let fit = Fit::of(design, points, treatments, 0).expect("a fit");
    fit.treatments.f(&fit.error).expect("F")[0]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The sums of squares of complete blocks, by their formulas.
    #[test]
    fn complete_blocks_add_up(points in table()) {
        let treatments = points.iter().map(|point| point.treatment).max().unwrap_or(0) + 1;
        let blocks = points.len() / treatments;
        let fit = Fit::of(Design::Blocks, &points, treatments, 0).expect("a fit");
        let mean = points.iter().map(|p| p.value).sum::<f64>() / points.len() as f64;
        let squares = |of: &dyn Fn(&Point) -> usize, levels: usize, each: usize| -> f64 {
            let level = |level| {
                let own = points.iter().filter(|p| of(p) == level).map(|p| p.value);
                own.sum::<f64>() / each as f64 - mean
            };
            (0..levels).map(level).map(|off| off * off * each as f64).sum()
        };
        let treated = squares(&|p| p.treatment, treatments, blocks);
        let blocked = squares(&|p| p.block, blocks, treatments);
        prop_assert!((fit.treatments.squares - treated).abs() < 1e-9, "treatments");
        let own = fit.blocks.expect("blocks").squares;
        prop_assert!((own - blocked).abs() < 1e-9, "blocks {own} {blocked}");
        let left = fit.total_squares - treated - blocked;
        prop_assert!((fit.error.squares - left).abs() < 1e-9, "what is left");
        let off: f64 = fit.residuals.iter().map(|off| off * off).sum();
        prop_assert!((off - left).abs() < 1e-9, "residuals {off} {left}");
    }

    #[test]
    fn order_and_constants_change_nothing(
        points in table(),
        by in -1e3_f64..1e3,
        gone in 0_usize..4,
        turn in 0_usize..20,
    ) {
        // Some containers are lost, the rest come in another order.
        let mut points = points;
        if points.len() > 8 {
            points.remove(gone);
        }
        for design in [Design::Random, Design::Blocks] {
            let f = f_of(design, &points);
            let mut turned = points.clone();
            turned.rotate_left(turn % points.len());
            turned.reverse();
            let other = f_of(design, &turned);
            prop_assert!((f - other).abs() <= 1e-9 * f.max(1e-3), "order {f} {other}");
            for point in &mut turned {
                point.value += by;
            }
            let other = f_of(design, &turned);
            prop_assert!((f - other).abs() <= 1e-8 * f.max(1e-3), "constant {f} {other}");
        }
    }

    /// A container that reads what least squares expects of it changes no estimate.
    #[test]
    fn a_container_as_predicted_changes_nothing(points in table(), gone in 0_usize..100) {
        let treatments = points.iter().map(|point| point.treatment).max().unwrap_or(0) + 1;
        let mut points = points;
        let place = points.remove(gone % points.len());
        let fit = Fit::of(Design::Blocks, &points, treatments, 0).expect("a fit");
        if let Some(value) = fit.predicted(place.treatment, place.block, 0) {
            let expected = Point { value, ..place };
            points.push(expected);
            let again = Fit::of(Design::Blocks, &points, treatments, 0).expect("a fit");
            let squares = again.error.squares - fit.error.squares;
            prop_assert!(squares.abs() < 1e-9, "nothing more is left: {squares}");
            for (a, b) in fit.differences.iter().zip(&again.differences) {
                if let (Ok(a), Ok(b)) = (a, b) {
                    prop_assert!((a.estimate - b.estimate).abs() < 1e-9, "{a:?} {b:?}");
                }
            }
        }
    }

    #[test]
    fn nothing_panics(
        values in prop::collection::vec(any::<f64>(), 0..12),
        places in prop::collection::vec((0_usize..4, 0_usize..4, 0_usize..4), 12),
        control in 0_usize..6,
    ) {
        let points: Vec<Point> = values
            .iter()
            .zip(&places)
            .map(|(value, (treatment, block, column))| Point {
                treatment: *treatment,
                block: *block,
                column: *column,
                value: *value,
            })
            .collect();
        for design in [Design::Random, Design::Blocks, Design::Latin] {
            if let Ok(fit) = Fit::of(design, &points, 4, control) {
                let _ = (worth_of_blocks(&fit), fit.adjusted_mean(1), fit.predicted(9, 9, 9));
            }
        }
        let _ = (kruskal(&points), friedman(&points), holm(&values), Sample::of(&values));
        let _ = Pair::within(&values);
    }
}
