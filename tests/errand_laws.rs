#![cfg(not(target_arch = "wasm32"))]
//! Laws of the least cost: more on sale is never dearer, less of it and tighter wishes never cheaper.

mod support;

use proptest::prelude::*;
use serde_json::{Value, json};
use support::dice::Dice;
use support::errands::{Kind, random, read, search};

const HALF_A_CENT: f64 = 0.005;

/// The least cost of a document, and infinite where nothing can.
fn cost(document: &Value) -> f64 {
    let findings = search(&read(document.clone()));
    findings.cheapest.map_or(f64::INFINITY, |found| found.cost)
}

/// A case of wishes about masses, which are solved exactly, with its dice.
fn exact(seed: u64) -> Option<(Value, Dice)> {
    let mut dice = Dice::new(seed);
    let kind = Kind {
        offers: (4, 8),
        wishes: 1,
        purchases: 100_000,
        linear: true,
        to_fill: false,
    };
    let case = random(&mut dice, kind)?;
    Some((case.document, dice))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn one_more_offer_is_never_dearer(seed: u64) {
        let Some((document, mut dice)) = exact(seed) else { return Ok(()) };
        let all = cost(&document);
        let mut less = document.clone();
        let offers = less["errand"]["offers"].as_array_mut().expect("a list");
        let at = dice.below(offers.len());
        offers.remove(at);
        let fewer = cost(&less);
        prop_assert!(all <= fewer + HALF_A_CENT, "{} with, {} without offer {}: {}", all, fewer, at, document);
    }

    #[test]
    fn refusing_a_material_is_never_cheaper(seed: u64) {
        let Some((mut document, mut dice)) = exact(seed) else { return Ok(()) };
        let before = cost(&document);
        let offers = document["errand"]["offers"].as_array().expect("a list");
        let refused = offers[dice.below(offers.len())]["material"].clone();
        if offers.iter().all(|offer| offer["material"] == refused) { return Ok(()) }
        document["errand"]["without"] = json!([refused]);
        let findings = search(&read(document.clone()));
        let after = findings.cheapest.map_or(f64::INFINITY, |found| found.cost);
        prop_assert!(after >= before - HALF_A_CENT, "{} before, {} after: {}", before, after, document);
    }

    #[test]
    fn a_tighter_wish_is_never_cheaper(seed: u64) {
        let Some((mut document, mut dice)) = exact(seed) else { return Ok(()) };
        let before = cost(&document);
        let wish = document["errand"]["wish"].as_object_mut().expect("an object");
        for (name, band) in wish.iter_mut() {
            if name == "cost" || !band.is_object() { continue }
            let by = dice.unit() * 2.0;
            let most = band["most"].as_f64().unwrap_or(100.0);
            let least = band["least"].as_f64().unwrap_or(0.0);
            if let Some(limit) = band.get_mut("least") { *limit = json!((least + by).min(most)); }
            let least = band["least"].as_f64().unwrap_or(0.0);
            if let Some(limit) = band.get_mut("most") { *limit = json!((most - by).max(least)); }
        }
        let after = cost(&document);
        prop_assert!(after >= before - HALF_A_CENT, "{} before, {} after: {}", before, after, document);
    }

    #[test]
    fn the_order_of_offers_changes_no_cost(seed: u64) {
        let Some((mut document, mut dice)) = exact(seed) else { return Ok(()) };
        let before = cost(&document);
        let offers = document["errand"]["offers"].as_array_mut().expect("a list");
        for at in (1..offers.len()).rev() {
            offers.swap(at, dice.below(at + 1));
        }
        let after = cost(&document);
        let same = before == after || (before - after).abs() < HALF_A_CENT;
        prop_assert!(same, "{} before, {} after: {}", before, after, document);
    }

    #[test]
    fn a_dearer_lot_never_makes_it_cheaper(seed: u64) {
        let Some((mut document, mut dice)) = exact(seed) else { return Ok(()) };
        let before = cost(&document);
        let offers = document["errand"]["offers"].as_array_mut().expect("a list");
        let at = dice.below(offers.len());
        let value = &mut offers[at]["price"]["value"];
        *value = json!(value.as_f64().expect("a price") * 1.3);
        let after = cost(&document);
        prop_assert!(after >= before - HALF_A_CENT, "{} before, {} after: {}", before, after, document);
    }
}
