#![cfg(not(target_arch = "wasm32"))]
//! A recipe scaled to a place fills it, and stays the blend that it was.

mod support;

use barrowmix::blend::fill::{
    FILL_DIGITS, FillFault, FillTarget, TARGET_LIMITS_M3, filled, rounded,
};
use barrowmix::blend::{Barrow, Blend};
use barrowmix::outcome::Outcome;
use barrowmix::quantity::{Dimension, Unit};
use barrowmix::recipe::{AMOUNT_LIMIT, Amount, Recipe, Soil};
use proptest::prelude::*;
use support::blends::character;
use support::dice::Dice;
use support::{assert_relative, recipes};

/// How near the settled volume comes to what was wanted.
const NEAR: f64 = 1e-9;

fn settled_m3(recipe: &Recipe) -> f64 {
    let barrow = Barrow::of(recipe).expect("it can be mixed");
    Blend::of(&barrow, &recipe.soil).volumes.settled_m3
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn it_fills_and_stays_the_same_blend(seed in any::<u64>(), size in -3.0_f64..1.0) {
        let mut dice = Dice::new(seed);
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let Ok(before) = Outcome::of(&recipe) else { return Ok(()) };
        let target_m3 = libm::exp10(size);
        let (scaled, told) = match filled(&recipe, target_m3) {
            Ok(done) => done,
            Err(FillFault::Amount { value, limit, .. }) => {
                prop_assert!(value > limit && limit == AMOUNT_LIMIT, "{value} is past {limit}");
                return Ok(());
            }
            Err(other) => panic!("{other:?} of {}", recipe.to_json()),
        };
        assert_relative(settled_m3(&scaled), target_m3, NEAR, "settled volume");
        assert_relative(told.settled_m3, target_m3, NEAR, "settled volume told");
        prop_assert_eq!(&recipes::read(&scaled.to_json()), &scaled);
        let after = Outcome::of(&scaled).expect("it is the same blend");
        for ((name, was), (_, is)) in character(&before).into_iter().zip(character(&after)) {
            assert_relative(is, was, NEAR, name);
        }
        prop_assert_eq!(before.texture.map(|texture| texture.class), after.texture.map(|t| t.class));
        assert_relative(told.fresh_m3, before.blend.volumes.fresh_m3 * told.factor, NEAR, "fresh");
        // Every part grows by the one factor, however it is counted; what lies on top stays.
        let lines = before.barrow.lines.iter().zip(&told.lines);
        for ((line, filled), addition) in lines.zip(&recipe.additions) {
            let counts_on_ground = addition.amount.unit.dimension() == Dimension::MassPerVolume;
            let factor = if line.on_top && !counts_on_ground { 1.0 } else { told.factor };
            assert_relative(filled.moist_kg, line.moist_kg * factor, NEAR, "mass of a line");
            assert_relative(filled.loose_m3, line.loose_m3 * factor, NEAR, "volume of a line");
        }
        let ground_m3 = before.barrow.ground_loose_m3() * told.factor;
        assert_relative(told.ground_loose_m3, ground_m3, NEAR, "ground");

        let (typed, near) = rounded(&scaled, FILL_DIGITS).expect("it is a good recipe");
        // Three digits are within half a percent each; how the parts pack may add as much again.
        assert_relative(near.settled_m3, target_m3, 0.015, "rounded");
        for (fine, coarse) in scaled.additions.iter().zip(&typed.additions) {
            assert_relative(coarse.amount.value, fine.amount.value, 0.005 * 1.000_001, "digits");
        }
        prop_assert_eq!(rounded(&typed, FILL_DIGITS).expect("as before").0, typed);
    }
}

#[test]
fn the_place_is_all_its_containers() {
    let mut recipe = recipes::read(recipes::FULL);
    let target = FillTarget::of_place(&recipe).expect("it has room");
    assert_relative(target.m3().expect("within limits"), 3.6, 1e-12, "4 x 900 L");
    let less = target.filled_to(0.93).m3().expect("within limits");
    assert_relative(less, 3.348, 1e-12, "0.93 of it");
    if let Some(place) = &mut recipe.place {
        place.count = None;
    }
    let one = FillTarget::of_place(&recipe).and_then(FillTarget::m3);
    assert_relative(one.expect("one of them"), 0.9, 1e-12, "900 L");
}

#[test]
fn area_stays_and_depth_grows() {
    let recipe = recipes::read(recipes::FULL);
    let target_m3 = 2.0 * settled_m3(&recipe);
    let (double, told) = filled(&recipe, target_m3).expect("it can be");
    assert_relative(told.factor, 2.0, NEAR, "factor");
    let (Soil::Bed { area, depth, .. }, Soil::Bed { area: was, .. }) = (&double.soil, &recipe.soil)
    else {
        panic!("a bed stays a bed");
    };
    assert_eq!(area, was, "area");
    assert_relative(depth.value, 40.0, NEAR, "depth, cm");
    let values: Vec<f64> = double
        .additions
        .iter()
        .map(|line| line.amount.value)
        .collect();
    assert_eq!(values[0], 20.0, "a share stays");
    assert_relative(values[1], 6.0, NEAR, "bags");
    assert_eq!(values[2], 2.0, "a mulch stays");
    assert_eq!(double.place, recipe.place, "the place stays");
}

#[test]
fn what_cannot_be_filled_is_told() {
    let recipe = recipes::read(recipes::FULL);
    let (low_m3, high_m3) = TARGET_LIMITS_M3;
    for m3 in [0.0, -1.0, 1e-7, 2e6, f64::INFINITY] {
        let fault = FillFault::Volume {
            m3,
            low_m3,
            high_m3,
        };
        assert_eq!(filled(&recipe, m3).err(), Some(fault.clone()), "{m3} m3");
        assert_eq!(
            FillTarget::of(m3).m3().err(),
            Some(fault),
            "{m3} m3 of room"
        );
    }
    assert!(filled(&recipe, f64::NAN).is_err(), "not a number");
    for value in [0.0, -0.5, 1.6, f64::INFINITY] {
        let fault = FillTarget::of(1.0).filled_to(value).m3().err();
        assert!(
            matches!(fault, Some(FillFault::Share { value: told, .. }) if told == value),
            "{value} gave {fault:?}"
        );
    }
    let mut nowhere = recipe.clone();
    nowhere.place = None;
    assert_eq!(
        FillTarget::of_place(&nowhere),
        Err(FillFault::NoRoom),
        "no place"
    );
    let mut grams = recipe.clone();
    grams.soil = Soil::Amount(Amount::new(500_000.0, Unit::Gram));
    grams.additions.clear();
    let fault = filled(&grams, 10.0).expect_err("more grams than can be typed");
    let FillFault::Amount { path, value, limit } = fault else {
        panic!("{fault:?}");
    };
    assert_eq!(
        (path.as_str(), limit),
        ("soil.value", AMOUNT_LIMIT),
        "which"
    );
    assert!(value > limit, "{value} is past it");
    grams.soil = Soil::Amount(Amount::new(0.0, Unit::Gram));
    assert!(
        matches!(filled(&grams, 1.0), Err(FillFault::Recipe(_))),
        "nothing to mix"
    );
}
