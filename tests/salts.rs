#![cfg(not(target_arch = "wasm32"))]
//! Salts: what one extract says of another, how they add up, and what washes them out.

mod support;

use barrowmix::chemistry::crop::find;
use barrowmix::chemistry::extracts::{
    Coarseness, EXTRACT_DOUBT, PLANTING_COMPOST_DS_M, PottedSalt, SEEDLING_DS_M, Salted,
    SeedlingHarm, dissolved_mg_l, ec_1to5_of_1to2_by_volume_ds_m, ec_1to5_of_1to20_ds_m,
    mixed_paste_ds_m, paste_of_1to1_ds_m, paste_of_1to2_ds_m,
};
use barrowmix::chemistry::leaching::{
    CONTAINER_DRAINS, LEFT_BY_ONE_DEPTH, Washing, container_watering, requirement,
};
use barrowmix::chemistry::salt::paste_factor;
use proptest::prelude::*;
use support::{assert_close, assert_printed, table};

#[test]
fn factors_of_the_paste() {
    for row in table("paste_factors", 6) {
        let factor = paste_factor(row.number("saturation"));
        let tolerance = row.number("tolerance");
        if row.text("factor").is_empty() {
            let paste = factor * row.number("ec_1to5");
            assert_close(paste, row.number("paste"), tolerance, "paste");
        } else {
            assert_close(factor, row.number("factor"), tolerance, "factor");
        }
    }
}

#[test]
fn factors_are_those_of_common_tables() {
    for row in table("paste_of_textures", 6) {
        let factor = paste_factor(row.number("saturation"));
        let [low, high] = ["low", "high"].map(|end| row.number(end));
        // As near as such a table prints.
        assert!(
            factor >= low - 0.15 && factor <= high + 0.15,
            "{}: {factor}",
            row.text("texture")
        );
    }
}

#[test]
fn lines_between_extracts() {
    for row in table("extracts", 6) {
        let texture = match row.text("texture") {
            "coarse" => Coarseness::Coarse,
            "medium" => Coarseness::Medium,
            _ => Coarseness::Fine,
        };
        let paste = |ds_m: f64| match row.text("dilution") {
            "1:1" => paste_of_1to1_ds_m(ds_m, texture),
            _ => paste_of_1to2_ds_m(ds_m, texture),
        };
        let [slope, offset] = ["slope", "offset"].map(|name| row.number(name));
        let what = [row.text("dilution"), row.text("texture")].join(" ");
        for ds_m in [1.0, 3.0, 8.0] {
            assert_close(paste(ds_m), slope * ds_m + offset, 1e-9, &what);
        }
        if !row.text("of_1_5").is_empty() {
            assert_printed(paste(1.5), row.text("of_1_5"), &what);
        }
        // A paste is never thinner than a thin extract.
        assert!(paste(0.1) >= 0.1, "{what}");
    }
}

#[test]
fn dilutions_by_the_water_in_them() {
    // The same salt in another water: 2 L for 1.2 kg is 1.667 L/kg, and 5 L/kg is three times that.
    assert_close(
        ec_1to5_of_1to2_by_volume_ds_m(1.5, 1.2),
        1.5 / 3.0,
        1e-12,
        "1:2",
    );
    assert_close(ec_1to5_of_1to20_ds_m(0.4), 1.6, 1e-12, "1:20");
    assert_close(dissolved_mg_l(2.0), 1280.0, 1e-9, "dissolved salt");
}

#[test]
fn blends_add_salt_by_mass() {
    for row in table("salty_blends", 2) {
        let share = match row.text("fifth_of") {
            "mass" => 0.2,
            _ => 0.2 * 0.35 / (0.2 * 0.35 + 0.8 * 1.20),
        };
        let what = row.text("fifth_of");
        assert_printed(share, row.text("dry_share"), what);
        let mixed = |soil: f64, compost: f64| (1.0 - share) * soil + share * compost;
        let [thin, saturation] = [mixed(0.15, 3.0), mixed(0.50, 1.20)];
        assert_printed(thin, row.text("ec_1to5"), what);
        assert_printed(saturation, row.text("saturation"), what);
        let paste = paste_factor(saturation) * thin;
        assert_printed(paste, row.text("paste"), what);
        let part = |dry_mass: f64, saturation: f64, thin: f64| Salted {
            dry_mass,
            saturation,
            paste_ds_m: paste_factor(saturation) * thin,
        };
        let parts = [part(1.0 - share, 0.50, 0.15), part(share, 1.20, 3.0)];
        let second = mixed_paste_ds_m(&parts).expect("something is mixed");
        if !row.text("second_way").is_empty() {
            assert_printed(second, row.text("second_way"), what);
        }
        assert!((second / paste - 1.0).abs() < EXTRACT_DOUBT, "{what}");
    }
    assert_eq!(mixed_paste_ds_m(&[]), None, "nothing is mixed");
}

#[test]
fn a_fifth_of_salty_compost_hurts_beans_by_mass_more_than_by_volume() {
    let bean = find("bean").and_then(|crop| crop.response).expect("known");
    let rows = table("salty_blends", 2);
    let left: Vec<f64> = rows
        .iter()
        .map(|row| bean.yield_pct(row.number("paste")))
        .collect();
    assert_close(left[0], 20.58, 0.01, "by mass");
    assert_close(left[1], 66.80, 0.01, "by volume");
}

#[test]
fn classes_of_salt() {
    let harms = [2.0, 2.1, 4.0, 4.1, 8.0, 8.1, 50.0].map(SeedlingHarm::of);
    use SeedlingHarm::{AllButTolerant, Most, None, Sensitive};
    let expected = [
        None,
        Sensitive,
        Sensitive,
        Most,
        Most,
        AllButTolerant,
        AllButTolerant,
    ];
    assert_eq!(harms, expected, "seedlings");
    assert_eq!(SEEDLING_DS_M, [2.0, 4.0, 8.0], "as published");
    let classes = [
        PottedSalt::VeryLow,
        PottedSalt::Low,
        PottedSalt::Normal,
        PottedSalt::High,
        PottedSalt::VeryHigh,
        PottedSalt::Extreme,
    ];
    for (row, pair) in table("potted_salt", 5).iter().zip(classes.windows(2)) {
        let [paste, thin] = ["paste", "one_to_two"].map(|name| row.number(name));
        for (reads, begins) in [
            (PottedSalt::of_paste as fn(f64) -> PottedSalt, paste),
            (PottedSalt::of_1to2, thin),
        ] {
            let [below, from] = [reads(begins - 1e-9), reads(begins)];
            assert_eq!([below, from], [pair[0], pair[1]], "{}", row.text("class"));
        }
    }
    let [paste, one, two] = PLANTING_COMPOST_DS_M;
    assert!(paste > one && one > two, "thinner extracts read less");
}

#[test]
fn water_that_carries_salt_away() {
    // 0.8 / (5 x 1.5 - 0.8).
    let share = requirement(0.8, 1.5).expect("enough water");
    assert_close(share, 0.119_403, 1e-6, "share that has to pass");
    assert_eq!(requirement(5.0, 1.0), None, "too salty");
    assert_eq!(requirement(3.0, 1.0), None, "more than all of it");
    assert_eq!(requirement(0.0, 0.0), None, "nothing to compare");
    let way = Washing::InGoes;
    for (water, left) in [(0.5, 0.2), (1.0, 0.1), (0.05, 1.0), (0.0, 1.0)] {
        assert_close(way.left(water, 1.0), left, 1e-9, "salt that is left");
    }
    // Clay on which water stands needs three times as much; a depth for a depth leaves a third.
    let clay = Washing::StandingOnClay;
    assert_close(clay.left(1.0, 1.0), 0.3, 1e-12, "clay");
    let needed = [clay, way].map(|way| way.water_depth(1.0, 0.2).expect("a depth"));
    assert_close(needed[0] / needed[1], 3.0, 1e-9, "clay over others");
    assert_eq!(way.water_depth(1.0, 0.0), None, "no water takes all");
    assert_eq!(way.water_depth(1.0, 1.0), Some(0.0), "nothing to do");
    // The rule of thumb lies among the ways.
    let by_one = [way, clay].map(|way| way.left(1.0, 1.0));
    assert!(
        by_one[0] < LEFT_BY_ONE_DEPTH && LEFT_BY_ONE_DEPTH < by_one[1],
        "{by_one:?}"
    );
    // Of 1 L in nine tenths, a tenth runs out.
    assert_close(
        container_watering(0.9, CONTAINER_DRAINS.low),
        1.0,
        1e-12,
        "a pot",
    );
}

proptest! {
    #[test]
    fn no_input_gives_no_number(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        for texture in [Coarseness::Coarse, Coarseness::Medium, Coarseness::Fine] {
            prop_assert!(paste_of_1to1_ds_m(a, texture).is_finite(), "{a}");
            prop_assert!(paste_of_1to2_ds_m(a, texture).is_finite(), "{a}");
        }
        prop_assert!(ec_1to5_of_1to2_by_volume_ds_m(a, b).is_finite(), "{a} {b}");
        prop_assert!(ec_1to5_of_1to20_ds_m(a).is_finite(), "{a}");
        let part = Salted { dry_mass: a, saturation: b, paste_ds_m: c };
        prop_assert!(mixed_paste_ds_m(&[part]).is_none_or(f64::is_finite), "{part:?}");
        prop_assert!(requirement(a, b).is_none_or(|share| (0.0..1.0).contains(&share)), "{a} {b}");
        for way in [Washing::InGoes, Washing::StandingOnClay, Washing::StandingOnPeat] {
            let left = way.left(a, b);
            prop_assert!((0.0..=1.0).contains(&left), "{a} {b}: {left}");
            prop_assert!(way.water_depth(a, b).is_none_or(f64::is_finite), "{a} {b}");
        }
        prop_assert!(container_watering(a, b).is_finite(), "{a} {b}");
    }

    #[test]
    fn water_is_found_back(soil in 0.01..10.0, left in 0.001..0.999) {
        for way in [Washing::InGoes, Washing::StandingOnClay, Washing::StandingOnPeat] {
            let water = way.water_depth(soil, left).expect("a depth");
            let back = way.left(water, soil);
            prop_assert!((back - left).abs() < 1e-9, "{back}");
        }
    }

    /// A mix lies between its parts, and a mix of likes is that.
    #[test]
    fn a_mix_lies_between(
        masses in proptest::array::uniform2(0.01..10.0), salts in proptest::array::uniform2(0.0..50.0),
        held in proptest::array::uniform2(0.2..5.0),
    ) {
        let part = |at: usize| Salted { dry_mass: masses[at], saturation: held[at], paste_ds_m: salts[at] };
        let mixed = mixed_paste_ds_m(&[part(0), part(1)]).expect("a mix");
        let [one, two]: [f64; 2] = salts;
        let [low, high] = [one.min(two), one.max(two)];
        prop_assert!(mixed >= low - 1e-9 && mixed <= high + 1e-9, "{mixed}");
    }
}
