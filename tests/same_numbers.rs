//! The same numbers everywhere: this file runs natively and, compiled to wasm, in a browser. Both
//! must give the stored bits of 200 stored recipes, so they agree with each other to the last bit.
//! The bits are no check of truth; the other tests are.

#[cfg(target_arch = "wasm32")]
use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};

#[path = "support/fingerprint.rs"]
mod fingerprint;

use barrowmix::document::document;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Recipe, from_link, to_link};
use barrowmix::words::METRIC;

#[cfg(target_arch = "wasm32")]
wasm_bindgen_test_configure!(run_in_browser);

const RECIPES: &str = include_str!("reference/grid.jsonl");
const BITS: &str = include_str!("reference/grid_bits.txt");

fn recipes() -> Vec<Recipe> {
    let read = |line| Recipe::from_json(line).expect("a stored recipe has no fault");
    RECIPES.lines().map(read).collect()
}

#[test]
fn outcomes_have_the_stored_bits() {
    let recipes = recipes();
    assert_eq!(recipes.len(), 200, "two hundred recipes are stored");
    assert_eq!(BITS.lines().count(), 200, "and their bits");
    for (index, (recipe, bits)) in recipes.iter().zip(BITS.lines()).enumerate() {
        let outcome = Outcome::of(recipe).expect("a stored recipe can be mixed");
        let now = fingerprint::fingerprint(&outcome);
        assert_eq!(now, bits, "recipe {} of the grid", index + 1);
    }
}

#[test]
fn links_open_to_the_same_recipe() {
    for recipe in recipes() {
        let link = to_link(&recipe).expect("a stored recipe fits into a link");
        assert_eq!(from_link(&link), Ok(recipe), "{link}");
    }
}

#[test]
fn documents_hold_only_finite_numbers() {
    for recipe in recipes() {
        let outcome = Outcome::of(&recipe).expect("a stored recipe can be mixed");
        let text = serde_json::to_string(&document(&outcome, METRIC)).expect("it is plain data");
        // A number that is not finite would be written as null.
        assert!(!text.contains("null"), "{text}");
    }
}

#[test]
fn broken_bytes_are_faults_and_never_more() {
    for (index, line) in RECIPES.lines().enumerate() {
        let cut = line.len() * (index % 97) / 97;
        let mut bytes = line.as_bytes().to_vec();
        assert!(
            Recipe::from_bytes(&bytes[..cut]).is_err(),
            "cut after {cut} bytes"
        );
        bytes[cut] = bytes[cut].wrapping_add(index as u8 | 1);
        if let Ok(recipe) = Recipe::from_bytes(&bytes) {
            // Another recipe now; it mixes or says why not.
            let _ = Outcome::of(&recipe);
        }
    }
}
