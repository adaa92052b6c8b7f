#![cfg(not(target_arch = "wasm32"))]
//! The invented school measured its bed: the figures are closer than without.

mod support;

use barrowmix::figure::Figure;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::{Measured, Recipe};
use barrowmix::words::sharpen_text;
use support::recipes;

fn with_and_without() -> [(Recipe, Outcome); 2] {
    let with = recipes::read(include_str!("../examples/recipes/measured.json"));
    let mut without = with.clone();
    without.measured = Measured::default();
    [with, without].map(|recipe| {
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        (recipe, outcome)
    })
}

fn width(figure: Figure) -> f64 {
    figure.ends().high - figure.ends().low
}

#[test]
fn measuring_narrows_density_pores_and_air() {
    let [(_, with), (_, without)] = with_and_without();
    assert!(without.measured.is_none(), "nothing was measured");
    let measured = with.measured.as_ref().expect("something was");
    assert!(measured.disagreements.is_empty(), "{measured:?}");
    assert!(measured.unused.is_empty(), "{measured:?}");
    let enough = measured.effective_draws;
    assert!((100.0..900.0).contains(&enough), "{enough} draws agree");
    type Read = fn(&Outcome) -> Figure;
    let figures: [(&str, Read, f64); 5] = [
        ("density", |of| of.bulk_density_kg_m3.settled, 0.9),
        ("pores", |of| of.pore_space_pct.settled, 0.9),
        ("air", |of| of.pores_pct.air, 0.9),
        (
            "density as it lies",
            |of| of.ground.lying_density_kg_m3,
            0.7,
        ),
        ("pores as it lies", |of| of.ground.lying_pore_space_pct, 0.7),
    ];
    for (name, read, most) in figures {
        let (after, before) = (read(&with), read(&without));
        let share = width(after) / width(before);
        println!("{name}: {before:?} to {after:?}, {share:.2}");
        assert!(share < most, "{name}: {share} of its range is left");
        let (after, before) = (after.ends(), before.ends());
        assert!(
            after.low > before.low && after.high < before.high,
            "{name}: {after:?} lies within {before:?}"
        );
    }
}

#[test]
fn no_test_is_advised_twice() {
    let [(with, measured), (without, plain)] = with_and_without();
    let can = "a ring or hole of known volume";
    let bucket = "a bucketful mixed";
    let before = sharpen_text(&without, &plain, Measure::LyingDensity);
    assert!(before.contains(can), "{before}");
    let after = sharpen_text(&with, &measured, Measure::LyingDensity);
    assert!(!after.contains(can), "{after}");
    let after = sharpen_text(&with, &measured, Measure::SettledDensity);
    assert!(!after.contains(can) && !after.contains(bucket), "{after}");
}
