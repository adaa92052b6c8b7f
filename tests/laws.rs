#![cfg(not(target_arch = "wasm32"))]
//! Laws of mass, order and size that every blend must keep, tried on random recipes.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::quantity::Dimension;
use barrowmix::recipe::{Amount, Recipe, Soil};
use support::assert_relative;
use support::blends::{ROUNDING, assert_same, character, mixed, outcome, size};

/// Two amounts instead of one: a share of a share rounds once more.
const SPLIT: f64 = 1e-9;
/// How close the search for a touching skeleton ends.
const SEARCH: f64 = 1e-6;

#[test]
fn mass_closes() {
    mixed(1, 10_000, |recipe, outcome, _| {
        let (barrow, masses) = (&outcome.barrow, &outcome.blend.masses);
        let lines: f64 = barrow.mixed().map(|line| line.dry_kg).sum();
        let whole = barrow.ground_dry_kg + lines;
        assert_relative(
            outcome.dry_kg.typical,
            whole,
            ROUNDING,
            "dry mass of the parts",
        );
        let kinds = masses.organic_kg
            + masses.char_kg
            + masses.fines_kg.iter().sum::<f64>()
            + masses.coarse_kg
            + masses.other_kg;
        assert_relative(kinds, whole, ROUNDING, "each kilogram is of one kind");
        let water = barrow.ground_dry_kg * barrow.ground.water_per_dry
            + barrow
                .mixed()
                .map(|line| line.moist_kg * line.material.water_per_wet)
                .sum::<f64>();
        assert_relative(
            outcome.moist_kg.typical,
            whole + water,
            ROUNDING,
            "moist mass",
        );
        for (line, addition) in barrow.lines.iter().zip(&recipe.additions) {
            match addition.amount.unit.dimension() {
                Dimension::Mass => {
                    assert_relative(
                        line.moist_kg,
                        addition.amount.si(),
                        ROUNDING,
                        "mass as typed",
                    );
                }
                Dimension::Volume => {
                    assert_relative(
                        line.loose_m3,
                        addition.amount.si(),
                        ROUNDING,
                        "volume as typed",
                    );
                }
                Dimension::ShareOfVolume if !line.on_top => {
                    let share = line.loose_m3 / barrow.loose_parts_m3();
                    assert_relative(
                        share,
                        addition.amount.si(),
                        SPLIT,
                        "share of volume as typed",
                    );
                }
                Dimension::ShareOfMass if !line.on_top => {
                    let share = line.dry_kg / whole;
                    assert_relative(share, addition.amount.si(), SPLIT, "share of mass as typed");
                }
                _ => {}
            }
        }
    });
}

#[test]
fn order_of_additions_is_irrelevant() {
    mixed(2, 1000, |recipe, one, dice| {
        let mut other = recipe.clone();
        for index in (1..other.additions.len()).rev() {
            other.additions.swap(index, dice.below(index + 1));
        }
        let other = outcome(&other);
        assert_same(&size(one), &size(&other), 1.0, ROUNDING, "in another order");
        assert_same(
            &character(one),
            &character(&other),
            1.0,
            ROUNDING,
            "in another order",
        );
        assert_eq!(
            one.verdict[0].id(),
            other.verdict[0].id(),
            "what is said first"
        );
    });
}

#[test]
fn splitting_an_addition_changes_nothing() {
    mixed(3, 1000, |recipe, one, dice| {
        if recipe.additions.is_empty() {
            return;
        }
        let mut other = recipe.clone();
        let at = dice.below(other.additions.len());
        let mut second = other.additions[at].clone();
        let share = dice.between(0.1, 0.9);
        second.amount.value *= 1.0 - share;
        other.additions[at].amount.value *= share;
        other.additions.push(second);
        let other = outcome(&other);
        assert_same(&size(one), &size(&other), 1.0, SPLIT, "split in two");
        assert_same(
            &character(one),
            &character(&other),
            1.0,
            SPLIT,
            "split in two",
        );
        assert_eq!(one.skeleton.touching, other.skeleton.touching, "touching");
    });
}

/// A recipe with everything in it so many times as large.
fn scaled(recipe: &Recipe, by: f64) -> Recipe {
    let mut out = recipe.clone();
    let scale = |amount: &mut Amount| amount.value *= by;
    let has_bed = match &mut out.soil {
        Soil::Amount(amount) => {
            scale(amount);
            false
        }
        Soil::Bed { area, .. } => {
            scale(area);
            true
        }
    };
    for addition in &mut out.additions {
        match addition.amount.unit.dimension() {
            Dimension::Mass | Dimension::Volume | Dimension::Bag => scale(&mut addition.amount),
            // The area of a bed has grown; the area of a place has not.
            Dimension::Length | Dimension::MassPerArea if !has_bed => scale(&mut addition.amount),
            _ => {}
        }
    }
    out
}

#[test]
fn only_proportions_make_the_character() {
    mixed(4, 1000, |recipe, one, dice| {
        let by = dice.between_sizes(0.01, 100.0);
        let other = outcome(&scaled(recipe, by));
        assert_same(&size(one), &size(&other), by, ROUNDING, "scaled");
        assert_same(&character(one), &character(&other), 1.0, ROUNDING, "scaled");
        let more = |outcome: &Outcome| outcome.skeleton.more_to_touch_kg.map(|more| more.typical);
        if let (Some(one), Some(other)) = (more(one), more(&other)) {
            assert_relative(other, by * one, SEARCH, "how much more to touch");
        }
    });
}
