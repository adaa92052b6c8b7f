#![cfg(not(target_arch = "wasm32"))]
//! Least cost of whole lots against HiGHS 1.12.0, the mixed integer solver of scipy 1.17.1.
//!
//! `reference/errand_highs.jsonl` was made by a program of its own in Python, from the catalogue's
//! numbers and the published definitions (dry mass, organic matter of all that is under 2 mm, class
//! limits of Agriculture Handbook 18 of 2017, whole lots, loads that are begun, what there is of each,
//! no more than nine times the ground): one line for a recipe with its errand and the least cost, or
//! null where HiGHS proved that nothing can; money of each line is rounded to the cent once. Every case was solved twice, with all limits 0.004 %
//! wider and narrower; those whose answer hangs on that were left out. No gap was allowed.

mod support;

use barrowmix::errand::{Search, errand_of};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use serde_json::Value;
use support::errands::run;

const CASES: &str = include_str!("reference/errand_highs.jsonl");
const CENT: f64 = 0.01;

#[test]
fn the_least_cost_is_that_of_another_solver() {
    let (mut had, mut none) = (0, 0);
    for (at, line) in CASES.lines().enumerate() {
        let case: Value = serde_json::from_str(line).expect("a line is JSON");
        let text = case["recipe"].to_string();
        let recipe = Recipe::from_json(&text).unwrap_or_else(|error| panic!("{error:?}"));
        let errand = errand_of(&recipe).expect("it reads").expect("there is one");
        let search = Search::of(&recipe, &errand).unwrap_or_else(|error| panic!("{error:?}"));
        let judge = search.judge().clone();
        let findings = run(search, &case["recipe"]);
        let proof = findings.proof;
        match (case["cost"].as_f64(), findings.cheapest) {
            (None, found) => {
                none += 1;
                assert!(found.is_none(), "case {at}: {found:?} where nothing can");
                assert!(proof.none_can, "case {at}: it is proved: {proof:?}");
            }
            (Some(least), Some(found)) => {
                had += 1;
                let lines = found.lots.iter().filter(|lots| **lots > 0).count();
                assert!(
                    // Two purchases of one cost may be rounded otherwise, line by line.
                    (found.cost - least).abs() < CENT / 2.0 * (1 + lines) as f64,
                    "case {at}: {} and not {least}: {text}",
                    found.cost
                );
                assert!(proof.exact && !proof.none_can, "case {at}: {proof:?}");
                assert!(
                    (proof.bound - found.cost).abs() < CENT,
                    "case {at}: {proof:?}"
                );
                meets(
                    &judge.recipe(&found.lots).expect("a recipe"),
                    &case["recipe"]["errand"]["wish"],
                    at,
                );
            }
            (Some(least), None) => panic!("case {at}: none, and {least} would do: {text}"),
        }
    }
    assert!(had > 100 && none > 30, "both kinds: {had} and {none}");
}

/// That the full outcome of a purchase is what was wished for.
fn meets(recipe: &Recipe, wish: &Value, at: usize) {
    let outcome = Outcome::of(recipe).expect("it can be mixed");
    let texture = outcome.texture.expect("it has a texture");
    let [sand, silt, clay] = texture.fractions_pct.map(|of| of.typical);
    let organic = outcome
        .organic_matter_pct
        .expect("it has organic matter")
        .typical;
    for (name, value) in [
        ("sand_pct", sand),
        ("silt_pct", silt),
        ("clay_pct", clay),
        ("organic_matter_pct", organic),
    ] {
        let least = wish[name]["least"].as_f64().unwrap_or(0.0);
        let most = wish[name]["most"].as_f64().unwrap_or(100.0);
        let hair = 1e-6;
        assert!(
            value >= least - hair && value <= most + hair,
            "case {at}: {name} is {value}, wished {least} to {most}"
        );
    }
    if let Some(classes) = wish["classes"].as_array() {
        let class = texture.class.id();
        assert!(classes.iter().any(|id| id == class), "case {at}: {class}");
    }
}
