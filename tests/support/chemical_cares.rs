//! Recipes that raise the cautions of chemistry, and recipes that do not.

use barrowmix::caution::Care;
use serde_json::{Value, json};

/// Thirty kilograms of a clay with what its report says, an addition and a place.
fn mix(report: Value, material: &str, amount: [Value; 2], place: Value) -> Value {
    let mut ground = json!({ "sand_pct": 20, "silt_pct": 30, "clay_pct": 50,
        "bulk_density_kg_m3": 1300, "water_per_dry_pct": 20 });
    for (name, value) in report.as_object().expect("an object") {
        ground[name] = value.clone();
    }
    let [value, unit] = amount;
    json!({
        "barrowmix": 1,
        "ground": ground,
        "soil": { "value": 30, "unit": "kg" },
        "additions": [{ "material": material, "amount": { "value": value, "unit": unit } }],
        "place": place,
    })
}

fn share(report: Value, material: &str, share: f64, place: Value) -> Value {
    mix(report, material, [json!(share), json!("%v")], place)
}

fn kilograms(report: Value, material: &str, kg: f64, place: Value) -> Value {
    mix(report, material, [json!(kg), json!("kg")], place)
}

/// Of a caution: recipes that raise it, with whether it then asks, and recipes that do not.
pub(crate) fn cases(of: Care) -> (Vec<(Value, bool)>, Vec<Value>) {
    let none = || json!({});
    let told = |recipe: Value| (recipe, false);
    let sodium = |pct: f64| json!({ "sodium_share_pct": pct });
    let drains = |drains: bool| json!({ "kind": "container", "drains": drains });
    match of {
        Care::SaltHigh => (
            vec![told(share(none(), "smc_fresh", 50.0, none()))],
            vec![
                share(none(), "smc_fresh", 4.0, none()),
                // Gypsum has salt, but none that crops feel.
                kilograms(none(), "gypsum", 3.0, none()),
            ],
        ),
        Care::SaltSeedling => (
            vec![told(share(none(), "smc_fresh", 18.0, none()))],
            vec![
                share(none(), "smc_fresh", 3.0, none()),
                // Then it is worse.
                share(none(), "smc_fresh", 50.0, none()),
            ],
        ),
        Care::SodicFirst => (
            vec![
                told(kilograms(sodium(20.0), "play_sand", 3.0, none())),
                // More than lime alone makes; peat takes no sodium out.
                (
                    share(json!({ "ph": 8.8 }), "sphagnum_peat", 20.0, none()),
                    true,
                ),
                (
                    kilograms(json!({ "ph": 8.8 }), "play_sand", 3.0, none()),
                    true,
                ),
            ],
            vec![
                kilograms(sodium(3.0), "play_sand", 3.0, none()),
                kilograms(none(), "play_sand", 3.0, none()),
            ],
        ),
        Care::GypsumLeach => (
            vec![
                told(kilograms(sodium(10.0), "gypsum", 0.1, drains(false))),
                (kilograms(sodium(10.0), "gypsum", 0.1, none()), true),
            ],
            vec![
                kilograms(sodium(10.0), "gypsum", 0.1, drains(true)),
                kilograms(sodium(2.0), "gypsum", 0.1, drains(false)),
                kilograms(sodium(10.0), "play_sand", 0.1, drains(false)),
            ],
        ),
        Care::NitrogenLockup => (
            vec![told(kilograms(none(), "sawdust", 3.0, none()))],
            vec![
                kilograms(none(), "cottonseed_meal", 1.0, none()),
                kilograms(none(), "yard_compost", 3.0, none()),
                {
                    let mut mulch = kilograms(none(), "sawdust", 3.0, none());
                    mulch["additions"][0]["on_top"] = json!(true);
                    mulch
                },
            ],
        ),
        Care::PhLow => (
            vec![
                told(kilograms(json!({ "ph": 4.9 }), "play_sand", 1.0, none())),
                told(share(json!({ "ph": 6.0 }), "sphagnum_peat", 50.0, none())),
            ],
            vec![
                kilograms(json!({ "ph": 6.8 }), "play_sand", 1.0, none()),
                share(
                    json!({ "ph": 7.8, "carbonate_pct": 4 }),
                    "sphagnum_peat",
                    50.0,
                    none(),
                ),
            ],
        ),
        Care::GypsumIdle => (
            vec![
                told(kilograms(sodium(1.0), "gypsum", 0.1, none())),
                (kilograms(none(), "gypsum", 0.1, none()), true),
                // A guess that may be sodic is no answer.
                (
                    kilograms(
                        json!({ "sodium_share_pct": { "low": 1, "typical": 5, "high": 14 } }),
                        "gypsum",
                        0.1,
                        none(),
                    ),
                    true,
                ),
            ],
            vec![
                kilograms(sodium(8.0), "gypsum", 0.1, none()),
                // Magnesium may do what sodium does, and so may what makes it this basic.
                kilograms(
                    json!({ "sodium_share_pct": 1, "magnesium_share_pct": 38 }),
                    "gypsum",
                    0.1,
                    none(),
                ),
                kilograms(json!({ "ph": 8.8 }), "gypsum", 0.1, none()),
                kilograms(sodium(1.0), "play_sand", 0.1, none()),
            ],
        ),
        Care::PhHigh => (
            vec![
                told(kilograms(
                    json!({ "ph": 7.9, "carbonate_pct": 3 }),
                    "sulfur",
                    0.01,
                    none(),
                )),
                // Only usual at this reaction.
                (
                    kilograms(json!({ "ph": 7.9 }), "play_sand", 1.0, none()),
                    true,
                ),
            ],
            vec![
                kilograms(json!({ "ph": 7.0 }), "yard_compost", 1.0, none()),
                // Vinegar was silent.
                kilograms(
                    json!({ "ph": 8.2, "carbonate_pct": 0 }),
                    "yard_compost",
                    1.0,
                    none(),
                ),
                // Lime that does not act is told in a note.
                kilograms(
                    json!({ "ph": 5.5, "carbonate_pct": 2 }),
                    "play_sand",
                    1.0,
                    none(),
                ),
                // It is sodium that makes it so basic.
                kilograms(
                    json!({ "ph": 8.6, "carbonate_pct": 0, "sodium_share_pct": 20 }),
                    "gypsum",
                    0.1,
                    none(),
                ),
            ],
        ),
        Care::SaltCrop => (
            vec![told(share(
                none(),
                "smc_fresh",
                30.0,
                json!({ "crop": "broad beans" }),
            ))],
            vec![
                share(none(), "smc_fresh", 3.0, json!({ "crop": "asparagus" })),
                share(none(), "smc_fresh", 30.0, json!({ "crop": "roses" })),
                share(none(), "smc_fresh", 30.0, none()),
            ],
        ),
        Care::Phosphorus => (
            vec![told(kilograms(none(), "yard_compost", 12.0, none()))],
            vec![
                kilograms(none(), "yard_compost", 1.0, none()),
                kilograms(none(), "sphagnum_peat", 3.0, none()),
                // The tests are for soil.
                {
                    let mut alone = kilograms(none(), "sphagnum_peat", 30.0, none());
                    alone["soil"]["value"] = json!(0);
                    alone
                },
            ],
        ),
        Care::Sinks => (
            vec![told(share(none(), "sphagnum_peat", 60.0, none()))],
            vec![
                share(none(), "sphagnum_peat", 40.0, none()),
                share(none(), "perlite", 60.0, none()),
            ],
        ),
        _ => (Vec::new(), Vec::new()),
    }
}
