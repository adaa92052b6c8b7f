#![cfg(not(target_arch = "wasm32"))]
//! What a trial can find before it is sown, and what luck does in single containers.

mod support;

use barrowmix::trial::chance::t_quantile;
use barrowmix::trial::power::{
    Design, LEAST_EACH, Plan, USUAL_POWER, alike_apart, best_by_luck, best_to_worst, each_needed,
    emergence_spread, log_spread, noncentral_t_below, power, rule_of_thumb, share_spread,
    shared_out, some_seems_to_work, variance_of_container_mean,
};
use proptest::prelude::*;
use support::assert_close;
use support::trials::values;

#[test]
fn two_means_have_the_power_computed_elsewhere() {
    for value in values("power_two_means", 336) {
        let [cv, difference, n] = ["CV", "diff", "n"].map(|name| value.given(name));
        let plan = Plan::even(Design::Random, 1, n as u32);
        value.check(plan.power(difference, cv).expect("a power"));
    }
}

#[test]
fn blocks_with_dunnett_have_the_power_computed_elsewhere() {
    for value in values("power_dunnett_k4_rcbd", 336) {
        let [cv, difference, n, nu] = ["CV", "diff", "n", "df"].map(|name| value.given(name));
        let plan = Plan::even(Design::Blocks, 4, n as u32);
        assert_eq!(plan.error_degrees(), nu, "degrees of {}", value.case);
        value.check(plan.power(difference, cv).expect("a power"));
    }
}

#[test]
fn numbers_needed_are_those_computed_elsewhere() {
    let mut checked = [0; 3];
    for value in values("n_for_80", 85) {
        let [cv, difference] = ["CV", "diff"].map(|name| value.given(name));
        let needed = |design, treatments| {
            let each = each_needed(design, treatments, difference, cv, USUAL_POWER);
            f64::from(each.unwrap_or_else(|| panic!("{} can be reached", value.case)))
        };
        let (kind, computed) = match value.quantity.as_str() {
            "two means exact n" => (0, needed(Design::Random, 1)),
            "16 CV^2/d^2" => (1, rule_of_thumb(cv, difference)),
            "Dunnett k=4 RCBD n blocks" => (2, needed(Design::Blocks, 4)),
            other => panic!("{other} is known"),
        };
        checked[kind] += 1;
        value.check(computed);
    }
    assert!(checked.iter().all(|count| *count > 20), "{checked:?}");
}

#[test]
fn smallest_differences_are_those_computed_elsewhere() {
    for value in values("mdd80", 84) {
        let [cv, n] = ["CV", "n"].map(|name| value.given(name));
        let plan = match value.quantity.as_str() {
            "two means, % of mean" => Plan::even(Design::Random, 1, n as u32),
            "Dunnett k=4 RCBD, % of mean" => Plan::even(Design::Blocks, 4, n as u32),
            other => panic!("{other} is known"),
        };
        value.check(plan.smallest_found(cv, USUAL_POWER).expect("a difference"));
    }
}

#[test]
fn spare_containers_do_what_was_computed_elsewhere() {
    for value in values("allocation", 12) {
        let plan = Plan {
            design: Design::Random,
            treatments: 4,
            each: value.given("n") as u32,
            control: value.given("n0") as u32,
        };
        let computed = match value.quantity.as_str() {
            "crit" => plan.critical(),
            "power at diff = 1.5 sd" => plan.power(1.5, 1.0),
            "CI half width in sd" => plan.half_range(),
            other => panic!("{other} is known"),
        };
        value.check(computed.expect("a number"));
    }
    assert_eq!(shared_out(20, 4), Some([3, 8]), "twenty");
    assert_eq!(shared_out(24, 4), Some([4, 8]), "twenty-four");
    assert_eq!(shared_out(4, 4), None, "no control left");
    assert_eq!(shared_out(5, 0), None, "no treatments");
}

#[test]
fn luck_in_single_containers_is_that_computed_elsewhere() {
    let mut checked = [0; 3];
    for value in values("one_container", 132) {
        let quantity = value.quantity.as_str();
        let (kind, computed) = if let Some(rest) = quantity.split_once(">=") {
            let percent: f64 = rest.1[..2].parse().expect("a number");
            let [cv, k] = ["CV", "k"].map(|name| value.given(name));
            (0, best_by_luck(k as u32, percent / cv))
        } else if quantity.starts_with("95% half-range") {
            (1, alike_apart(value.given("CV")))
        } else {
            assert!(quantity.starts_with('d'), "{quantity} is the mean range");
            (2, best_to_worst(value.given("n") as u32))
        };
        checked[kind] += 1;
        value.check(computed);
    }
    assert_eq!(checked, [120, 6, 6], "every kind");
}

#[test]
fn shares_of_the_noncentral_t_are_those_computed_elsewhere() {
    for value in values("noncentral_t_cdf", 5) {
        let [printed, nu, shift] = ["t", "df", "nc"].map(|name| value.given(name));
        // The case names six figures of what went in: quantiles, and twice the root of two.
        let dunnett = Plan::even(Design::Blocks, 4, 5).critical();
        let exact = [t_quantile(0.975, nu), dunnett].map(|limit| limit.expect("a limit"));
        let mut exact = exact.into_iter().flat_map(|limit| [limit, -limit]);
        let t = exact.find(|exact| (exact - printed).abs() < 5.1e-6);
        let t = t.unwrap_or(printed);
        let twice_root = 2.0 * std::f64::consts::SQRT_2;
        let shift = if (shift - twice_root).abs() < 5e-6 {
            twice_root
        } else {
            shift
        };
        value.check(noncentral_t_below(t, nu, shift).expect("a share"));
    }
}

#[test]
fn the_small_formulas_are_those_computed_elsewhere() {
    for value in values("pseudorep", 9) {
        let [alike, plants] = ["icc", "plants"].map(|name| value.given(name));
        value.check(variance_of_container_mean(alike, plants as u32));
    }
    for value in values("germination", 9) {
        let [rate, seeds] = ["p", "seeds"].map(|name| value.given(name));
        value.check(100.0 * emergence_spread(rate, seeds as u32));
    }
    for value in values("familywise", 6) {
        let [k, nu] = ["k", "nu"].map(|name| value.given(name));
        value.check(some_seems_to_work(k as u32, nu).expect("a chance"));
    }
    for value in values("lognormal", 6) {
        let cv = value.given("CV");
        value.check(log_spread(cv));
        assert_close(share_spread(log_spread(cv)), cv, 1e-12, "there and back");
    }
}

/// Sixteen times the square gives less than one container where the spread is a fifth of what is
/// looked for.
#[test]
fn the_rule_of_thumb_promises_too_much() {
    assert!(rule_of_thumb(10.0, 50.0) < 1.0, "0.64");
    let exact = each_needed(Design::Random, 1, 50.0, 10.0, USUAL_POWER);
    assert_eq!(exact, Some(LEAST_EACH), "three");
}

#[test]
fn what_cannot_be_planned_gives_none() {
    for (treatments, each) in [(0, 4), (4, 0), (4, 1)] {
        let plan = Plan::even(Design::Blocks, treatments, each);
        assert!(plan.power(0.2, 0.2).is_none(), "{plan:?}");
        assert!(plan.smallest_found(0.2, 0.8).is_none(), "{plan:?}");
    }
    let plan = Plan::even(Design::Blocks, 4, 4);
    for spread in [f64::NAN, 0.0, -1.0] {
        assert!(plan.smallest_found(spread, 0.8).is_none(), "{spread}");
    }
    assert!(plan.power(f64::NAN, 0.2).is_none(), "no difference");
    assert!(plan.power(0.2, f64::NAN).is_none(), "no spread");
    assert!(plan.smallest_found(0.2, 0.01).is_none(), "less than luck");
    assert!(
        each_needed(Design::Blocks, 4, 0.0, 0.2, 0.8).is_none(),
        "nothing is never found"
    );
    assert!(power(1.0, 2.0, f64::NAN).is_none(), "no degrees");
    let endless = Plan::even(Design::Blocks, u32::MAX, u32::MAX);
    assert!(endless.power(0.2, 0.2).is_none(), "no trial");
    assert!(
        each_needed(Design::Blocks, u32::MAX, 0.2, 0.2, 0.8).is_none(),
        "no trial"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn power_grows_with_number_and_difference(
        treatments in 1_u32..6,
        each in 2_u32..20,
        difference in 0.01_f64..1.0,
        more in 1.0_f64..2.0,
        spread in 0.05_f64..0.6,
    ) {
        let of = |each, difference| {
            let plan = Plan::even(Design::Blocks, treatments, each);
            plan.power(difference, spread).expect("a power")
        };
        let here = of(each, difference);
        // Of several comparisons the chance that one alone seems something falls with their number
        // (Dunnett's limits: 2.97 in 100 on 4 degrees of freedom, 2.78 on 12), so what grows is what
        // is found beyond it.
        let beyond = |each| of(each, difference) - of(each, 0.0);
        prop_assert!(beyond(each + 1) >= beyond(each) - 1e-12, "number");
        prop_assert!(of(each, difference * more) >= here - 1e-12, "difference");
        // With no difference it is the chance of one comparison, no more than 5 in 100.
        prop_assert!(of(each, 0.0) <= 0.05 + 1e-10, "no difference");
        prop_assert!((0.0..=1.0 + 1e-12).contains(&here), "{here} is a chance");
    }

    #[test]
    fn the_smallest_difference_is_found_with_that_chance(
        treatments in 1_u32..6,
        each in 2_u32..12,
        spread in 0.05_f64..0.6,
        chance in 0.1_f64..0.99,
    ) {
        let plan = Plan::even(Design::Random, treatments, each);
        let least = plan.smallest_found(spread, chance).expect("a difference");
        let found = plan.power(least, spread).expect("a power");
        prop_assert!((found - chance).abs() < 1e-9, "{found} for {chance}");
    }

    /// One comparison at 5 %: with nothing to find, 5 in 100 seem to be something.
    #[test]
    fn power_without_difference_is_the_level(nu in 1.0_f64..90.0) {
        let limit = t_quantile(0.975, nu).expect("a quantile");
        let found = power(0.0, limit, nu).expect("a power");
        prop_assert!((found - 0.05).abs() < 1e-11, "{found}");
    }
}
