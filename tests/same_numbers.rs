//! The same numbers everywhere: this file runs natively and, compiled to wasm, in a browser. Both
//! must give the stored bits of 200 stored recipes, so they agree with each other to the last bit.
//! The bits are no check of truth; the other tests are.

#[cfg(target_arch = "wasm32")]
use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};

#[path = "support/fingerprint.rs"]
mod fingerprint;

use barrowmix::document::document;
use barrowmix::draws::{SplitMix64, fnv1a, quantile};
use barrowmix::errand::wish::GroundUse;
use barrowmix::errand::{Search, errand_of};
use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Recipe, from_link, to_link};
use barrowmix::trial::analysis::{Analysis, Limit, Limits, Measure, Reading, Scale, permutation};
use barrowmix::trial::permute::Question;
use barrowmix::trial::power::{Design, Plan};
use barrowmix::trial::verdict::{Good, Matters};
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

/// Everything that three errands came to, as one hash: masses alone, a volume to fill, and odds.
const ERRANDS: u64 = 11_886_002_908_623_422_862;

#[test]
fn errands_have_the_stored_bits() {
    let wish = include_str!("reference/errand_same.json");
    let recipe = Recipe::from_json(wish).expect("the recipe reads");
    let errand = errand_of(&recipe).expect("it reads").expect("there is one");
    let mut to_fill = errand.clone();
    to_fill.wish.ground = GroundUse::ToFill;
    to_fill.wish.fill = Some(Amount::new(500.0, Unit::Litre));
    let mut odds = errand.clone();
    odds.offers.truncate(4);
    odds.odds_pct = Some(70.0);
    let mut text = String::new();
    for errand in [errand, to_fill, odds] {
        let search = Search::of(&recipe, &errand).expect("it can be searched");
        // Debug prints the shortest decimals that are these bits.
        text += &format!("{:?}", search.finish());
    }
    assert_eq!(fnv1a(&text), ERRANDS, "the bits of three errands: {text}");
}

/// Every number of twelve trials of chance, with a container lost in each, as one hash.
const TRIALS: u64 = 16_268_912_819_998_942_984;

#[test]
fn trials_have_the_stored_bits() {
    let mut chance = SplitMix64::new(fnv1a("trials"));
    let mut limits = Limits::default();
    let mut text = String::new();
    for number in 0..12_u32 {
        let designs = [Design::Random, Design::Blocks, Design::Latin];
        let measure = Measure {
            design: designs[number as usize % 3],
            treatments: 4,
            control: 0,
            scale: if number % 2 == 0 {
                Scale::Log
            } else {
                Scale::Raw
            },
            matters: Matters::Share(0.2),
            good: Good::More,
        };
        let readings: Vec<Reading> = (0..16_u32)
            .map(|place| {
                let share = ((chance.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
                let [row, column] = [place / 4, place % 4];
                Reading {
                    treatment: ((row + column) % 4) as usize,
                    block: Some(row),
                    row: Some(row),
                    column: Some(column),
                    value: if place == number {
                        f64::NAN
                    } else {
                        50.0 + 12.0 * quantile(share)
                    },
                    limit: Limit::No,
                }
            })
            .collect();
        let analysis = Analysis::of(&measure, &readings, &mut limits).expect("it is analysed");
        // Debug prints the shortest decimals that are these bits.
        text += &format!("{analysis:?}");
        if let Some(all) = permutation(&measure, &readings, Question::AgainstControl, 1) {
            text += &format!("{:?}", all.run().against_control(1));
        }
        let plan = Plan::even(measure.design, 3, 4);
        let power = plan.power(0.2, 0.15 + 0.01 * f64::from(number));
        text += &format!("{power:?}");
    }
    assert!(!text.contains("NaN"), "{text}");
    assert_eq!(fnv1a(&text), TRIALS, "the bits of twelve trials");
}
