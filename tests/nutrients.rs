#![cfg(not(target_arch = "wasm32"))]
//! Nitrogen set free and locked up, phosphorus that piles up, metals thinned.

mod support;

use barrowmix::chemistry::nitrogen::{
    GREENSAND_POTASSIUM_PCT, Release, Stock, TARGET_RATIO, balance_kg, carbon_to_nitrogen,
    native_kg_m2, of_compost_pct, to_offset_kg, to_target_kg,
};
use barrowmix::chemistry::phosphorus::{
    EXTRACTABLE, Extractant, RUN_OFF_MEHLICH3_PPM, diluted, load_g_m2, rise_ppm,
};
use proptest::prelude::*;
use support::{assert_close, assert_relative, table};

fn stock(dry_kg: f64, carbon_pct: f64, ratio: f64, decayed_pct: f64) -> Stock {
    let carbon_kg = dry_kg * carbon_pct / 100.0;
    Stock {
        carbon_kg,
        nitrogen_kg: carbon_kg / ratio,
        decayed: decayed_pct / 100.0,
    }
}

#[test]
fn nitrogen_balances() {
    for row in table("nitrogen_examples", 3) {
        let [dry_kg, carbon, ratio] = row.three(["dry_kg", "carbon_pct", "ratio"]);
        let one = stock(dry_kg, carbon, ratio, row.number("decayed_pct"));
        let taken_up = row.number("taken_up_kg");
        assert_close(-one.freed_kg(), taken_up, 1e-6, row.text("what"));
        assert_close(
            to_offset_kg(&[one]),
            taken_up.max(0.0),
            1e-6,
            row.text("what"),
        );
    }
    // The compost frees 7.5 % of its nitrogen.
    let compost = stock(10.0, 25.0, 12.0, 15.0);
    assert_close(
        compost.freed_kg() / compost.nitrogen_kg,
        0.075,
        1e-9,
        "its share",
    );
}

#[test]
fn ratio_of_a_blend_is_that_of_its_sums() {
    let parts = [
        stock(10.0, 45.0, 400.0, 30.0),
        stock(10.0, 25.0, 12.0, 15.0),
    ];
    let ratio = carbon_to_nitrogen(&parts).expect("there is nitrogen");
    // 4.5 kg and 2.5 kg of carbon, 0.01125 kg and 0.208333 kg of nitrogen.
    assert_close(ratio, 31.878_558, 1e-5, "of both");
    let added = to_target_kg(&parts);
    let sums = [7.0, 0.01125 + 2.5 / 12.0];
    assert_relative(
        sums[0] / (sums[1] + added),
        TARGET_RATIO,
        1e-9,
        "with what is added",
    );
    assert_eq!(carbon_to_nitrogen(&[]), None, "nothing");
    assert_eq!(
        to_target_kg(&[stock(1.0, 40.0, 10.0, 0.0)]),
        0.0,
        "rich enough"
    );
}

#[test]
fn release_falls_with_the_years() {
    // Colorado State University GardenNotes, second-hand.
    for (kind, years) in [
        (
            Release::FreshManure,
            [[30.0, 50.0], [15.0, 25.0], [7.0, 12.0], [3.0, 6.0]].as_slice(),
        ),
        (
            Release::Compost,
            [[5.0, 25.0], [3.0, 12.0], [1.0, 6.0]].as_slice(),
        ),
    ] {
        for (year, [low, high]) in (1..).zip(years) {
            let told = kind.of_year_pct(year);
            assert_eq!([told.low, told.high], [*low, *high], "{kind:?}, {year}");
        }
        let late = kind.of_year_pct(u32::MAX);
        assert!(late.high <= 6.0, "{kind:?} gives little later");
        assert_eq!(kind.of_year_pct(0), kind.of_year_pct(1), "{kind:?}");
    }
}

#[test]
fn composts_by_their_ratio() {
    // Oregon State University EM 9217, from memory.
    for (ratio, expected) in [
        (9.9, Some([15.0, 25.0])),
        (10.0, Some([5.0, 15.0])),
        (15.0, Some([0.0, 5.0])),
        (20.0, Some([-5.0, 0.0])),
        (30.0, Some([-5.0, 0.0])),
        (31.0, None),
        (-1.0, None),
        (f64::NAN, None),
        (f64::INFINITY, None),
    ] {
        let told = of_compost_pct(ratio).map(|ends| [ends.low, ends.high]);
        assert_eq!(told, expected, "{ratio}");
    }
}

#[test]
fn ground_gives_its_own() {
    // 10 and 20 lb to an acre for a percent: 1.12 and 2.24 g/m2.
    let told = native_kg_m2(3.0);
    let pound_acre = 0.453_592_37 / (43_560.0 * 0.092_903_04);
    assert_relative(told.low, 30.0 * pound_acre, 1e-6, "low");
    assert_relative(told.high, 60.0 * pound_acre, 1e-6, "high");
    let greensand = GREENSAND_POTASSIUM_PCT;
    // 5 to 7 % of K2O is 4.2 to 5.8 % of potassium; a fortieth of it at most.
    assert!(greensand.high <= 4.2 / 42.0 + 1e-9, "next to none");
}

#[test]
fn an_inch_of_compost_moves_phosphorus() {
    // 25.4 mm at 0.35 kg/L and 0.4 % of phosphorus, over 15 cm at 1250 kg/m3.
    let dry_kg_m2 = 0.0254 * 350.0;
    assert_close(load_g_m2(dry_kg_m2, 0.004), 35.56, 1e-4, "load");
    let rise = rise_ppm(dry_kg_m2, 0.004, EXTRACTABLE, 0.15 * 1250.0);
    assert_close(rise, 90.534_141, 1e-4, "rise");
    for extractant in [Extractant::Mehlich3, Extractant::Bray1, Extractant::Olsen] {
        assert!(extractant.says_stop(rise), "{extractant:?}");
        assert!(!extractant.says_stop(20.0), "{extractant:?}");
        assert!(!extractant.says_stop(f64::NAN), "{extractant:?}");
    }
    // Rutgers: 137 lb to an acre by Mehlich 3 is very high, and that is 68 ppm.
    let very_high = 137.0 / 2.0;
    assert!(
        (Extractant::Mehlich3.stop_ppm() - very_high).abs() < 2.0,
        "very high"
    );
    assert!(
        RUN_OFF_MEHLICH3_PPM > Extractant::Mehlich3.stop_ppm(),
        "later"
    );
}

#[test]
fn metals_are_thinned_by_dry_mass() {
    // 40 % of topsoil at 300 ppm, 60 % of compost at 30 ppm.
    let lead = diluted(&[(0.4, 300.0), (0.6, 30.0)]).expect("a mix");
    assert_close(lead, 138.0, 1e-6, "lead");
    assert_eq!(diluted(&[]), None, "nothing");
    assert_eq!(diluted(&[(f64::NAN, 3.0)]), None, "no number");
}

proptest! {
    #[test]
    fn no_input_gives_no_number(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        let stocks = [Stock { carbon_kg: a, nitrogen_kg: b, decayed: c }];
        prop_assert!(balance_kg(&stocks).is_finite(), "{stocks:?}");
        prop_assert!(to_target_kg(&stocks).is_finite(), "{stocks:?}");
        prop_assert!(carbon_to_nitrogen(&stocks).is_none_or(|ratio| !ratio.is_nan()), "{stocks:?}");
        prop_assert!(native_kg_m2(a).high.is_finite(), "{a}");
        prop_assert!(load_g_m2(a, b).is_finite(), "{a} {b}");
        prop_assert!(rise_ppm(a, b, c, a).is_finite(), "{a} {b} {c}");
        prop_assert!(diluted(&[(a, b)]).is_none_or(f64::is_finite), "{a} {b}");
    }

    /// What two additions free together is the sum, in any order; what is taken up is offset.
    #[test]
    fn balances_add_up(
        carbon in proptest::array::uniform2(0.0..100.0), ratios in proptest::array::uniform2(5.0..500.0),
        decayed in 0.0..1.0,
    ) {
        let of = |at: usize| Stock {
            carbon_kg: carbon[at], nitrogen_kg: carbon[at] / ratios[at], decayed,
        };
        let both = balance_kg(&[of(0), of(1)]);
        let apart = of(1).freed_kg() + of(0).freed_kg();
        prop_assert!((both - apart).abs() < 1e-9, "{both} and {apart}");
        prop_assert!(both + to_offset_kg(&[of(0), of(1)]) >= -1e-9, "{both}");
        // A ratio that a mix has lies between those of its parts.
        if let Some(ratio) = carbon_to_nitrogen(&[of(0), of(1)]) {
            let [one, two]: [f64; 2] = ratios;
            let [low, high] = [one.min(two), one.max(two)];
            prop_assert!(ratio >= low - 1e-9 && ratio <= high + 1e-9, "{ratio}");
        }
    }

    /// Phosphorus is conserved: the rise over everything there is what was given.
    #[test]
    fn phosphorus_is_conserved(dry in 0.01..50.0, share in 0.0001..0.05, ground in 10.0..500.0) {
        let rise = rise_ppm(dry, share, 1.0, ground);
        let given = dry * share;
        prop_assert!((rise * 1e-6 * (ground + dry) - given).abs() < 1e-9 * given, "{rise}");
    }
}
