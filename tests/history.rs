#![cfg(not(target_arch = "wasm32"))]
//! Undo and redo give back every recipe byte for byte.

mod support;

use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::material::Property;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{
    ADDITIONS_LIMIT, Addition, Amount, History, Place, Recipe, STEPS_LIMIT, Soil, from_letters,
    to_letters,
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
        // What a page keeps is letters; a person is told in words that count, so JSON is compared.
        let mut states = vec![first.to_json()];
        let mut history = History::new(to_letters(&first));
        let mut recipe = first;
        while states.len() <= EDITS {
            let next = edited(&recipe, &mut dice);
            let letters = to_letters(&next);
            // A page makes no recipe that could not be opened again.
            if from_letters(&letters).is_ok() && history.change(letters) {
                states.push(next.to_json());
                recipe = next;
            }
        }
        let told = |letters: Option<&str>| {
            let recipe = from_letters(letters.unwrap_or_default());
            recipe.map_or_else(|error| format!("{error:?}"), |recipe| recipe.to_json())
        };
        for state in states.iter().rev().skip(1) {
            prop_assert!(history.can_undo(), "a step is left");
            prop_assert_eq!(&told(history.undo()), state);
        }
        prop_assert!(!history.can_undo() && history.undo().is_none(), "nothing is left");
        prop_assert_eq!(&told(Some(history.now())), &states[0]);
        for state in states.iter().skip(1) {
            prop_assert_eq!(&told(history.redo()), state);
        }
        prop_assert!(!history.can_redo() && history.redo().is_none(), "nothing is left");
    }
}

fn start() -> History {
    History::new("first")
}

#[test]
fn no_change_is_no_step() {
    let mut history = start();
    history.change("first".into());
    history.change_along("first".into(), "title");
    assert!(!history.can_undo(), "nothing was changed");
}

#[test]
fn a_change_forgets_what_was_undone() {
    let mut history = start();
    history.change(String::from("a"));
    assert_eq!(history.undo(), Some("first"), "undone");
    history.change("first".into());
    assert!(history.can_redo(), "the same recipe is no change");
    history.change(String::from("b"));
    assert!(!history.can_redo(), "another way was taken");
    assert_eq!(history.undo(), Some("first"), "the other way undone");
}

#[test]
fn moves_of_one_control_are_one_step() {
    let mut history = start();
    for title in ["a", "ab", "abc"] {
        history.change_along(String::from(title), "title");
    }
    history.rest();
    history.change_along(String::from("abcd"), "title");
    history.change_along(String::from("other"), "ph");
    let before = |history: &mut History| history.undo().map(str::to_owned);
    assert_eq!(before(&mut history).as_deref(), Some("abcd"), "other key");
    assert_eq!(before(&mut history).as_deref(), Some("abc"), "settled");
    assert_eq!(history.undo(), Some("first"), "three moves in one");
    assert!(!history.can_undo(), "no more");
}

#[test]
fn a_control_that_came_back_leaves_no_step() {
    let mut history = start();
    history.change_along(String::from("a"), "title");
    history.change_along("first".into(), "title");
    assert!(!history.can_undo(), "back where it was");
    history.change_along(String::from("b"), "title");
    assert_eq!(history.undo(), Some("first"), "and away again");
}

#[test]
fn the_oldest_steps_are_forgotten() {
    let mut history = start();
    for step in 0..STEPS_LIMIT + 50 {
        history.change(step.to_string());
    }
    let mut undone = 0;
    while history.undo().is_some() {
        undone += 1;
    }
    assert_eq!(undone, STEPS_LIMIT, "steps kept");
    assert_eq!(history.now(), "49", "the oldest kept");
    const { assert!(STEPS_LIMIT >= 2000, "as many as were promised") };
}

#[test]
fn long_texts_do_not_fill_the_memory() {
    let mut history = start();
    for step in 0..100_u8 {
        history.change(char::from(b' ' + step % 64).to_string().repeat(1_000_000));
    }
    let mut undone = 0;
    while history.undo().is_some() {
        undone += 1;
    }
    assert!((10..=40).contains(&undone), "{undone} megabytes are kept");
}
