#![cfg(not(target_arch = "wasm32"))]
//! Sentences of the section on chemistry, at the amounts where they turn.

mod support;

use barrowmix::draws::Strata;
use barrowmix::outcome::{Outcome, Supplied};
use barrowmix::recipe::Recipe;
use barrowmix::words::*;
use serde_json::{Value, json};
use support::blends::outcome;
use support::recipes;

#[test]
fn print() {
    for (ground, additions, place) in [
        (json!({}), json!([]), json!({})),
        (
            json!({"ph": 7.0, "carbonate_pct": 0}),
            json!([["sphagnum_peat", 50.0]]),
            json!({"crop":"broad beans"}),
        ),
        (
            json!({"ph": 7.8, "carbonate_pct": 2}),
            json!([["sphagnum_peat", 50.0]]),
            json!({"crop":"mizuna"}),
        ),
        (
            json!({"sodium_share_pct": 1, "cec_cmol_kg": 26}),
            json!([["gypsum", 2.0]]),
            json!({}),
        ),
        (
            json!({"sodium_share_pct": 14, "cec_cmol_kg": 26}),
            json!([["gypsum", 2.0]]),
            json!({"drains": false}),
        ),
        (
            json!({"sodium_share_pct": 18, "cec_cmol_kg": 26}),
            json!([]),
            json!({}),
        ),
        (
            json!({"sodium_share_pct": 1, "magnesium_share_pct": 35, "calcium_share_pct": 50}),
            json!([]),
            json!({}),
        ),
        (
            json!({}),
            json!([["smc_fresh", 20.0]]),
            json!({"crop": "bean"}),
        ),
        (
            json!({}),
            json!([["smc_fresh", 50.0]]),
            json!({"crop": "bean", "kind": "container"}),
        ),
        (
            json!({"ph": 6.4}),
            json!([["sawdust", 20.0], ["greensand", 1.0]]),
            json!({"crop": "okra"}),
        ),
        (
            json!({"ph": 6.4}),
            json!([["yard_compost", 25.0], ["concrete_sand", 20.0]]),
            json!({"crop": "lettuce"}),
        ),
    ] {
        let mut g =
            json!({ "sand_pct": 18, "silt_pct": 27, "clay_pct": 55, "organic_matter_pct": 2.4 });
        for (key, value) in ground.as_object().unwrap() {
            g[key] = value.clone();
        }
        let adds: Vec<Value> = additions
            .as_array()
            .unwrap()
            .iter()
            .map(|a| json!({"material": a[0], "amount": {"value": a[1], "unit": "%v"}}))
            .collect();
        let doc = json!({"barrowmix": 1, "ground": g, "soil": {"value": 100, "unit": "L"}, "additions": adds, "place": place});
        let recipe = recipes::recipe(&doc);
        let o = outcome(&recipe);
        let s = Supplied::of(&recipe, &o, Some(&mut Strata::default()));
        println!("== {ground} {additions} {place}");
        println!(
            "{}\n {}",
            reaction_said(&recipe, &o, &s).text(),
            reaction_source_text(&recipe, &o)
        );
        println!(
            " 6.5? {}\n 5?: {}",
            target_text(6.5, &recipe, &o, &s, METRIC),
            target_text(5.0, &recipe, &o, &s, METRIC)
        );
        println!(
            "{} {}\n {}",
            salt_said(&o).text(),
            salt_may_text(&o),
            gypsum_salt_text(&o)
        );
        println!(
            "{}\n {}",
            crop_said(&recipe, &o).text(),
            washing_text(&recipe, &o, METRIC)
        );
        println!(
            "{}\n {}\n {}\n {}",
            sodium_said(&recipe, &o).text(),
            gypsum_need_text(&recipe, &o, METRIC),
            disperses_text(&o),
            magnesium_text(&recipe)
        );
        println!(
            "{}\n {}\n {}\n {}",
            nitrogen_said(&o, &s, METRIC).text(),
            offset_text(&o, METRIC),
            phosphorus_text(&o, METRIC),
            greensand_text(&recipe)
        );
        for row in fertile_rows(&recipe, &o, &s, METRIC) {
            println!("   {row:?}");
        }
    }
}
