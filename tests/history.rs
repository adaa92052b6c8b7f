#![cfg(not(target_arch = "wasm32"))]
//! Undo and redo give back every recipe byte for byte.

mod support;

use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::material::Property;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{
    ADDITIONS_LIMIT, Addition, Amount, History, Place, Recipe, STEPS_LIMIT, Soil,
};
use proptest::prelude::*;
use support::dice::Dice;
use support::recipes;

/// Edits that are all undone.
const EDITS: usize = 1000;

/// The recipe after one edit of the kind that a page makes.
fn edited(recipe: &Recipe, dice: &mut Dice) -> Recipe {
    let mut out = recipe.clone();
    let count = out.additions.len();
    match dice.below(10) {
        0 => out.soil = Soil::Amount(Amount::new(dice.typed(1.0, 900.0), Unit::Litre)),
        1 => {
            let crumb = Some(Figure::between(0.1, dice.between(0.1, 0.9), 0.9));
            out.ground.set(Trait::Crumb, crumb);
        }
        2 if count < ADDITIONS_LIMIT => {
            let amount = Amount::new(dice.typed(0.0, 30.0), Unit::VolumePercent);
            let at = dice.below(count + 1);
            out.additions.insert(at, Addition::new("pumice", amount));
        }
        3 if count > 0 => drop(out.additions.remove(dice.below(count))),
        4 if count > 1 => {
            let line = out.additions.remove(dice.below(count));
            let to = dice.below(count);
            out.additions.insert(to, line);
        }
        5 if count > 0 => out.additions[dice.below(count)].amount.value = dice.typed(0.0, 50.0),
        6 => out.title = dice.one_in(3).then(|| format!("Bed {}", dice.below(5))),
        7 => {
            let count = Some(1.0 + dice.below(9) as f64);
            let place = out.place.get_or_insert_with(Place::default);
            place.count = count;
        }
        8 if !out.materials.is_empty() => {
            let at = dice.below(out.materials.len());
            let density = Some(Figure::exact(dice.typed(300.0, 1500.0)));
            out.materials[at]
                .properties
                .set(Property::LooseDensity, density);
        }
        _ => {
            let from = recipes::recipe(&recipes::random(dice));
            out.materials = from.materials;
            out.place = from.place;
        }
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn all_undone_is_the_first_and_all_redone_the_last(seed in any::<u64>()) {
        let mut dice = Dice::new(seed);
        let first = recipes::recipe(&recipes::random(&mut dice));
        let mut states = vec![first.to_json()];
        let mut history = History::new(first);
        for _ in 0..EDITS {
            let next = edited(history.now(), &mut dice);
            let is_change = next != *history.now();
            history.change(next);
            if is_change {
                states.push(history.now().to_json());
            }
        }
        for state in states.iter().rev().skip(1) {
            prop_assert!(history.can_undo(), "a step is left");
            let back = history.undo().map(Recipe::to_json);
            prop_assert_eq!(back.as_ref(), Some(state));
        }
        prop_assert!(!history.can_undo() && history.undo().is_none(), "nothing is left");
        prop_assert_eq!(&history.now().to_json(), &states[0]);
        for state in states.iter().skip(1) {
            let on = history.redo().map(Recipe::to_json);
            prop_assert_eq!(on.as_ref(), Some(state));
        }
        prop_assert!(!history.can_redo() && history.redo().is_none(), "nothing is left");
    }
}

fn titled(recipe: &Recipe, title: &str) -> Recipe {
    Recipe {
        title: Some(title.to_owned()),
        ..recipe.clone()
    }
}

fn start() -> (Recipe, History) {
    let first = recipes::read(recipes::FULL);
    (first.clone(), History::new(first))
}

#[test]
fn no_change_is_no_step() {
    let (first, mut history) = start();
    history.change(first.clone());
    history.change_along(first, "title");
    assert!(!history.can_undo(), "nothing was changed");
}

#[test]
fn a_change_forgets_what_was_undone() {
    let (first, mut history) = start();
    history.change(titled(&first, "a"));
    assert_eq!(history.undo(), Some(&first), "undone");
    history.change(first.clone());
    assert!(history.can_redo(), "the same recipe is no change");
    history.change(titled(&first, "b"));
    assert!(!history.can_redo(), "another way was taken");
    assert_eq!(history.undo(), Some(&first), "the other way undone");
}

#[test]
fn moves_of_one_control_are_one_step() {
    let (first, mut history) = start();
    for title in ["a", "ab", "abc"] {
        history.change_along(titled(&first, title), "title");
    }
    history.settle();
    history.change_along(titled(&first, "abcd"), "title");
    history.change_along(titled(&first, "other"), "ph");
    let before = |history: &mut History| history.undo().and_then(|recipe| recipe.title.clone());
    assert_eq!(before(&mut history).as_deref(), Some("abcd"), "other key");
    assert_eq!(before(&mut history).as_deref(), Some("abc"), "settled");
    assert_eq!(history.undo(), Some(&first), "three moves in one");
    assert!(!history.can_undo(), "no more");
}

#[test]
fn a_control_that_came_back_leaves_no_step() {
    let (first, mut history) = start();
    history.change_along(titled(&first, "a"), "title");
    history.change_along(first.clone(), "title");
    assert!(!history.can_undo(), "back where it was");
    history.change_along(titled(&first, "b"), "title");
    assert_eq!(history.undo(), Some(&first), "and away again");
}

#[test]
fn the_oldest_steps_are_forgotten() {
    let (first, mut history) = start();
    for step in 0..STEPS_LIMIT + 50 {
        history.change(titled(&first, &step.to_string()));
    }
    let mut undone = 0;
    while history.undo().is_some() {
        undone += 1;
    }
    assert_eq!(undone, STEPS_LIMIT, "steps kept");
    assert_eq!(
        history.now().title.as_deref(),
        Some("49"),
        "the oldest kept"
    );
    const { assert!(STEPS_LIMIT >= 2000, "as many as were promised") };
}
