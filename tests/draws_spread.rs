#![cfg(not(target_arch = "wasm32"))]
//! How inputs spread, and where the ends of what is drawn lie, against other programs and ways.

mod support;

use barrowmix::draws::{DRAWS, NINETIETH, NINETY_FIFTH, Spread, Strata, TABULATED, ends, quantile};
use barrowmix::figure::Figure;
use barrowmix::ground::EstimateErrors;
use barrowmix::texture::Class;
use support::dice::Dice;
use support::{Row, assert_close, assert_relative, mean, table};

/// Two programs that are each good to about 1e-15.
const ALGORITHM: f64 = 5e-15;
/// A product and a sum on top of that.
const ROUNDING: f64 = 1e-13;

#[test]
fn normal_quantile() {
    let mut judged = 0;
    for row in table("normal_scipy", 80) {
        if row.text("kind") == "ppf" {
            let u = row.number("x");
            let what = format!("normal quantile at {u}");
            assert_relative(quantile(u), row.number("value"), ALGORITHM, &what);
            judged += 1;
        }
    }
    assert_eq!(judged, 55, "quantiles");
    assert_relative(NINETIETH, quantile(0.90), ALGORITHM, "90th percentile");
    assert_relative(NINETY_FIFTH, quantile(0.95), ALGORITHM, "95th percentile");
}

#[test]
fn normal_quantile_rises_and_is_odd() {
    let mut before = f64::NEG_INFINITY;
    for at in 1..100_000 {
        let u = f64::from(at) / 100_000.0;
        let z = quantile(u);
        assert!(z > before, "{z} at {u} after {before}");
        before = z;
    }
    for at in 1..512 {
        let u = f64::from(at) / 1024.0;
        assert_eq!(quantile(u), -quantile(1.0 - u), "both sides of {u}");
    }
}

/// Between the strata a share lies straight: off by at most a quarter stratum where they are dense,
/// by half of one at the ends.
#[test]
fn shares_below_a_score() {
    let strata = Strata::default();
    let stratum = 1.0 / f64::from(DRAWS);
    let mut judged = 0;
    for row in table("normal_scipy", 80) {
        if row.text("kind") == "cdf" {
            let (z, share) = (row.number("x"), row.number("value"));
            let room = if z.abs() > 3.0 { 0.5 } else { 0.25 } * stratum;
            let what = format!("share below {z}");
            assert_close(strata.share_below(z), share, room, &what);
            judged += 1;
        }
    }
    assert_eq!(judged, 25, "shares");
    for at in 0..strata.draws() {
        let z = quantile(strata.share(at));
        let what = format!("share of stratum {at}");
        assert_close(strata.share_below(z), strata.share(at), ROUNDING, &what);
    }
}

fn two_piece(row: &Row) -> Spread {
    let [low, typical, high] = row.three(["low", "typical", "high"]);
    Spread::TwoPiece {
        figure: Figure::between(low, typical, high),
        limits: (row.number("least"), row.number("most")),
    }
}

#[test]
fn two_piece_quantiles() {
    for row in table("spread_scipy", 176) {
        let u = row.number("u");
        let [low, typical, high] = row.three(["low", "typical", "high"]);
        let size = typical.abs().max(5.0 * (high - low));
        assert_close(
            two_piece(&row).value(u, quantile(u)),
            row.number("value"),
            ROUNDING * size,
            &format!("{low} to {typical} to {high} at {u}"),
        );
    }
}

/// The middles of 1,024 strata miss a little of what the outer tails hold: with s the standard
/// deviation of an arm and h = 1/1024, z^2 is near -2 ln u there, so each tail loses
/// (2 - 2 ln 2 + 0.08) h s^2 of the variance, 0.07 % of it, and 1e-4 s of the mean. A cut that falls
/// inside a stratum adds at most 6e-5 s.
#[test]
fn moments_of_the_strata() {
    for row in table("spread_moments_scipy", 32) {
        let mut strata = Strata::default();
        let column = strata.column("ground/clay_pct", two_piece(&row));
        let [low, typical, high] = row.three(["low", "typical", "high"]);
        let arms = [typical - low, high - typical].map(|arm| arm / NINETIETH);
        let what = format!("{low} to {typical} to {high} from {}", row.text("least"));
        let middle = mean(&column);
        let room = 2e-4 * (arms[0] + arms[1]);
        assert_close(middle, row.number("mean"), room, &format!("mean of {what}"));
        let squares: Vec<f64> = column
            .iter()
            .map(|value| (value - middle) * (value - middle))
            .collect();
        assert_close(
            mean(&squares).sqrt(),
            row.number("sd"),
            1.5e-3 * arms[0].max(arms[1]),
            &format!("standard deviation of {what}"),
        );
    }
}

#[test]
fn a_column_holds_its_strata_in_order() {
    let mut strata = Strata::default();
    let figure = Figure::between(1.0, 2.5, 5.0);
    let limits = (0.0, 100.0);
    let spread = Spread::TwoPiece { figure, limits };
    let column = strata.column("ground/organic_matter_pct", spread);
    let order = strata.strata_of("ground/organic_matter_pct").to_vec();
    for (value, stratum) in column.iter().zip(order) {
        let u = strata.share(stratum as usize);
        assert_eq!(*value, spread.value(u, quantile(u)), "stratum {stratum}");
    }
    // So many lie below each of the three numbers, by what they mean.
    let below = |limit: f64| column.iter().filter(|value| **value < limit).count();
    assert_eq!(
        [1.0, 2.5, 5.0].map(below),
        [102, 512, 922],
        "10, 50 and 90 % of 1,024"
    );
}

/// A texture class of each group among which errors were counted.
fn class_of_group(group: &str) -> Class {
    match group {
        "sandy" => Class::LoamySand,
        "sandy loam" => Class::SandyLoam,
        "loamy" => Class::SandyClayLoam,
        "silty" => Class::Silt,
        "clay loam" => Class::SiltyClayLoam,
        "clayey" => Class::SandyClay,
        other => panic!("no group {other}"),
    }
}

#[test]
fn measured_errors() {
    let mut judged = 0;
    for row in table("quantile_errors", 117) {
        let group = row.text("texture_group");
        let figure = row.text("figure");
        let clayey = group == "clayey";
        let errors = EstimateErrors::of(class_of_group(group));
        let (quantiles, factor) = match figure {
            "bulk_density" => (errors.density_kg_m3, 1000.0),
            // In clay the estimate uses another density coefficient, and so has other errors.
            "theta33" if clayey => continue,
            _ => (errors.theta_33, 1.0),
        };
        let u = row.number("u");
        assert_close(
            Spread::Errors(quantiles).value(u, quantile(u)),
            factor * row.number("error"),
            1e-12 * factor,
            &format!("{figure} of {group} at {u}"),
        );
        judged += 1;
    }
    assert_eq!(judged, 108, "errors");
}

/// What is drawn is what was counted, to the last printed digit.
#[test]
fn tabulated_errors_are_those_counted() {
    let mut judged = 0;
    for row in table("error_quantiles", 32) {
        let group = row.text("texture_group");
        let errors = EstimateErrors::of(class_of_group(group));
        let figure = row.text("figure");
        let (ours, factor) = match figure {
            "bulk_density" => (errors.density_kg_m3, 1000.0),
            // In clay the estimate uses another density coefficient, and so has other errors.
            "theta33" if group == "clayey" => continue,
            "theta33" | "theta33_clay_coefficient_0.9" => (errors.theta_33, 1.0),
            "theta1500" => (errors.theta_1500, 1.0),
            "log10_ksat_floor_0.06" => (errors.log10_conductivity, 1.0),
            // Not drawn: the difference of two waters that go together.
            _ => {
                assert!(figure.starts_with("available_water"), "{figure} is drawn");
                continue;
            }
        };
        for (ours, share) in ours.into_iter().zip(TABULATED) {
            let column = format!("q{:02.0}", 100.0 * share);
            let what = format!("{figure} of {group}, {column}");
            assert_eq!(ours, factor * row.number(&column), "{what}");
        }
        judged += 1;
    }
    assert_eq!(judged, 24, "rows");
}

#[test]
fn measured_errors_are_those_of_their_group() {
    for (class, like) in [
        (Class::Sand, Class::LoamySand),
        (Class::Loam, Class::SandyClayLoam),
        (Class::SiltLoam, Class::Silt),
        (Class::ClayLoam, Class::SiltyClayLoam),
        (Class::Clay, Class::SandyClay),
        (Class::SiltyClay, Class::SandyClay),
    ] {
        let of = EstimateErrors::of;
        assert_eq!(of(class), of(like), "{class:?} as {like:?}");
    }
    let errors = EstimateErrors::of(Class::Clay).theta_33;
    let spread = Spread::Errors(errors);
    let mut before = f64::NEG_INFINITY;
    for at in 0..1000 {
        let u = (f64::from(at) + 0.5) / 1000.0;
        let error = spread.value(u, quantile(u));
        assert!(error >= before, "{error} at {u} after {before}");
        before = error;
    }
    assert_eq!(
        spread.value(TABULATED[3], 0.0),
        errors[3],
        "the middle stays where it was measured"
    );
}

/// Percentiles by sorting.
fn by_sorting(values: &[f64]) -> Option<[f64; 2]> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let last = sorted.len().checked_sub(1)?;
    Some([0.05, 0.95].map(|share| {
        let at = share * last as f64;
        let (below, above) = (at.floor() as usize, at.ceil() as usize);
        sorted[below] + (at - at.floor()) * (sorted[above] - sorted[below])
    }))
}

fn assert_ends(values: &[f64], what: &str) {
    let expected = by_sorting(values);
    let computed = ends(values).map(|ends| [ends.low, ends.high]);
    let sizes = values.iter().filter(|value| value.is_finite());
    let room = 1e-15 * sizes.fold(0.0, |most: f64, value| most.max(value.abs()));
    match (computed, expected) {
        (Some(computed), Some(expected)) => {
            for (computed, expected) in computed.iter().zip(expected) {
                assert_close(*computed, expected, 4.0 * room, what);
            }
        }
        (computed, expected) => assert_eq!(computed, expected, "{what}"),
    }
}

#[test]
fn ends_as_by_sorting() {
    let mut dice = Dice::new(31);
    for case in 0..6000 {
        let count = match case % 3 {
            0 => dice.below(12),
            1 => dice.below(200),
            _ => DRAWS as usize,
        };
        // Few different values, many, or all the same.
        let kinds = *dice.pick(&[1, 2, 3, 10, 1 << 40]);
        let scale = dice.between_sizes(1e-9, 1e9);
        let mut values: Vec<f64> = (0..count)
            .map(|_| (dice.below(kinds) as f64 - 1.0) * scale)
            .collect();
        let order = dice.below(5);
        if order > 0 {
            values.sort_by(f64::total_cmp);
        }
        match order {
            2 => values.reverse(),
            // Up and down again.
            3 => {
                let half = values.len() / 2;
                values[half..].reverse();
            }
            // Nearly in order.
            4 if count > 1 => {
                let (one, other) = (dice.below(count), dice.below(count));
                values.swap(one, other);
            }
            _ => {}
        }
        if dice.one_in(3) {
            let holes = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
            for _ in 0..dice.below(count + 1) {
                values[dice.below(count)] = *dice.pick(&holes);
            }
        }
        assert_ends(&values, &format!("case {case}: {count} values"));
    }
}

#[test]
fn ends_of_few_values() {
    let of = |values: &[f64]| ends(values).map(|ends| [ends.low, ends.high]);
    assert_eq!(of(&[]), None, "of nothing");
    assert_eq!(of(&[f64::NAN, f64::INFINITY]), None, "of no number");
    assert_eq!(of(&[7.5]), Some([7.5, 7.5]), "of one");
    assert_eq!(of(&[0.1; 1024]), Some([0.1, 0.1]), "of one, many times");
    // By hand: position 0.05 and 0.95 of the way.
    let [low, high] = of(&[20.0, f64::NAN, 10.0]).expect("two numbers");
    assert_close(low, 10.5, 1e-14, "low of two");
    assert_close(high, 19.5, 1e-14, "high of two");
    let hundred: Vec<f64> = (0..=100).map(f64::from).collect();
    assert_eq!(of(&hundred), Some([5.0, 95.0]), "of 0 to 100");
}
