#![cfg(not(target_arch = "wasm32"))]
//! Buckets of dug ground against what a recipe makes of the same ground.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::ground::Ground;
use barrowmix::quantity::Unit;
use barrowmix::recipe::dug::{DugFault, buckets_as_they_lay, dug_m3, dug_over_lying, lying_m3};
use barrowmix::recipe::{AMOUNT_LIMIT, Amount, Soil};
use proptest::prelude::*;
use support::dice::Dice;
use support::{assert_relative, recipes};

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// The barrow of a recipe with that amount as it lies holds just those buckets, loose.
    #[test]
    fn buckets_fill_again(seed in any::<u64>(), buckets in 0.5_f64..40.0) {
        let mut dice = Dice::new(seed);
        let mut recipe = recipes::recipe(&recipes::random(&mut dice));
        recipe.additions.clear();
        let Ok(ground) = Ground::of(&recipe.ground) else { return Ok(()) };
        // Digging loosens by a tenth at least, and even a pressed ground to less than thrice.
        let ratio = dug_over_lying(&ground);
        prop_assert!((1.1 - 1e-12..3.0).contains(&ratio), "{ratio}");
        let amount = buckets_as_they_lay(&ground, buckets, &Amount::new(12.0, Unit::Litre))
            .expect("a bucket");
        prop_assert_eq!(amount.unit, Unit::Litre);
        recipe.soil = Soil::Amount(amount.clone());
        let barrow = Barrow::of(&recipe).expect("ground alone");
        assert_relative(barrow.ground_loose_m3(), buckets * 0.012, 1e-12, "loose");
        assert_relative(lying_m3(&ground, buckets * 0.012), amount.si(), 1e-12, "as it lies");
        assert_relative(dug_m3(&ground, amount.si()), buckets * 0.012, 1e-12, "and back");
    }
}

#[test]
fn what_is_no_bucket_is_told() {
    let recipe = recipes::read(recipes::FULL);
    let ground = Ground::of(&recipe.ground).expect("a ground");
    let litres = Amount::new(12.0, Unit::Litre);
    let kilograms = Amount::new(12.0, Unit::Kilogram);
    let fault = buckets_as_they_lay(&ground, 3.0, &kilograms).err();
    let unit = Unit::Kilogram;
    assert_eq!(fault, Some(DugFault::NotAVolume { unit }), "a mass");
    for value in [-1.0, 2e6, f64::INFINITY] {
        let (low, high) = (0.0, AMOUNT_LIMIT);
        let expected = Some(DugFault::OutOfRange { value, low, high });
        let fault = buckets_as_they_lay(&ground, value, &litres).err();
        assert_eq!(fault, expected, "{value} buckets");
        let size = Amount::new(value, Unit::Litre);
        let fault = buckets_as_they_lay(&ground, 1.0, &size).err();
        assert_eq!(fault, expected, "{value} litres");
    }
    assert!(
        buckets_as_they_lay(&ground, f64::NAN, &litres).is_err(),
        "NaN"
    );
    let many = Amount::new(1e5, Unit::Litre);
    assert!(
        buckets_as_they_lay(&ground, 1e5, &many).is_err(),
        "together too many"
    );
}
