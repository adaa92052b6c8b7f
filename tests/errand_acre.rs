#![cfg(not(target_arch = "wasm32"))]
//! Common practice: one percent more organic matter in an acre's furrow slice takes about 20,000 lb.

mod support;

use serde_json::json;
use support::errands::{judge, read, search};

/// A furrow slice of an acre, dry, lb (common practice), and what one percent of it takes.
const SLICE_LB: f64 = 2_000_000.0;
const ONE_PERCENT_LB: f64 = 20_000.0;
const LB_PER_TON: f64 = 2000.0;
/// What is added is itself part of what the share is of: with 1 to 4 % there already, a percent more
/// takes a hundredth of the slice over a hundred less the share that is reached, 2 to 6 % more. One bag
/// of 100 lb is the least step.
const MORE: f64 = 0.06;
const BAG_LB: f64 = 100.0;

#[test]
fn one_percent_more_takes_twenty_thousand_pounds() {
    for start_pct in [1.0, 2.0, 3.0, 4.0] {
        let case = read(json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
                "organic_matter_pct": start_pct, "water_per_dry_pct": 0, "bulk_density_kg_m3": 1200 },
            "soil": { "value": SLICE_LB / LB_PER_TON, "unit": "ton_us" },
            "materials": [{ "id": "pure", "group": "compost_manure", "loose_density_kg_m3": 300,
                "water_per_wet_pct": 0, "organic_matter_pct": 100 }],
            "errand": {
                "offers": [{ "material": "pure", "bag": { "value": BAG_LB, "unit": "lb" },
                    "price": { "value": 1, "per": { "value": 1, "unit": "bag" } } }],
                "wish": { "organic_matter_pct": { "least": start_pct + 1.0 } },
            },
        }));
        let findings = search(&case);
        let found = findings.cheapest.expect("it can be bought");
        let bought_lb = f64::from(found.lots[0]) * BAG_LB;
        // By hand: (s S + x) / (S + x) = s + 1 %.
        let exactly = SLICE_LB * 0.01 / (1.0 - (start_pct + 1.0) / 100.0);
        assert!(
            bought_lb >= exactly - 1e-6 && bought_lb < exactly + BAG_LB,
            "{bought_lb} for {exactly}"
        );
        assert!(
            (ONE_PERCENT_LB..=ONE_PERCENT_LB * (1.0 + MORE)).contains(&bought_lb),
            "{bought_lb} lb from {start_pct} %"
        );
        assert!(findings.proof.exact, "nothing costs less");
        assert_eq!(
            judge(&case).cost(&found.lots),
            f64::from(found.lots[0]),
            "one for a bag"
        );
    }
}
