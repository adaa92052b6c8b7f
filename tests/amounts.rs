#![cfg(not(target_arch = "wasm32"))]
//! Every way to count an addition, and its cost, worked by hand.

mod support;

use barrowmix::blend::{Barrow, Line};
use serde_json::{Value, json};
use std::f64::consts::PI;
use support::{assert_relative, recipes};

/// Factors of units have seven digits.
const SEVEN_DIGITS: f64 = 1e-6;

/// Clay that lies at 1200 kg/m3, dug to 960, with 20 % water, and a sand of 1500 kg/m3 as sold
/// with 4 % water.
fn barrow(change: &Value) -> Barrow {
    let mut document = json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55, "organic_matter_pct": 0,
            "bulk_density_kg_m3": 1200, "water_per_dry_pct": 20 },
        "soil": { "value": 120, "unit": "kg" },
        "materials": [{ "id": "heap", "group": "sand", "loose_density_kg_m3": 1500,
            "water_per_wet_pct": 4, "bag": { "value": 40, "unit": "L" },
            "price": { "value": 6, "per": { "value": 1, "unit": "bag" } } }],
    });
    let fields = document.as_object_mut().expect("an object");
    for (name, value) in change.as_object().expect("an object") {
        fields.insert(name.clone(), value.clone());
    }
    let recipe = recipes::recipe(&document);
    Barrow::of(&recipe).unwrap_or_else(|error| panic!("{error:?} in {document}"))
}

/// The one addition of a barrow, with other fields on its line and in the recipe.
fn added(value: f64, unit: &str, more: Value, recipe: Value) -> (Barrow, Line) {
    let mut line = json!({ "material": "heap", "amount": { "value": value, "unit": unit } });
    let fields = line.as_object_mut().expect("an object");
    fields.extend(more.as_object().expect("an object").clone());
    let mut change = recipe;
    change["additions"] = json!([line]);
    let barrow = barrow(&change);
    let line = barrow.lines[0].clone();
    (barrow, line)
}

fn loose_litres(value: f64, unit: &str, more: Value, recipe: Value) -> f64 {
    1000.0 * added(value, unit, more, recipe).1.loose_m3
}

#[test]
fn the_ground() {
    for (soil, dry_kg) in [
        // A mass is moist as dug.
        (json!({ "value": 120, "unit": "kg" }), 100.0),
        (json!({ "value": 100, "unit": "L" }), 120.0),
        (
            json!({ "area": { "value": 2, "unit": "m2" }, "depth": { "value": 25, "unit": "cm" } }),
            600.0,
        ),
    ] {
        let barrow = barrow(&json!({ "soil": soil }));
        let what = soil.to_string();
        assert_relative(barrow.ground_dry_kg, dry_kg, SEVEN_DIGITS, &what);
        let dug_m3 = dry_kg / 960.0;
        assert_relative(barrow.ground_loose_m3(), dug_m3, SEVEN_DIGITS, &what);
    }
}

#[test]
fn masses_and_volumes() {
    let (_, line) = added(75.0, "kg", json!({}), json!({}));
    assert_relative(line.loose_m3, 0.05, SEVEN_DIGITS, "75 kg at 1500 kg/m3");
    assert_relative(line.dry_kg, 72.0, SEVEN_DIGITS, "75 kg with 4 % water");
    let (_, line) = added(50.0, "L", json!({}), json!({}));
    assert_relative(line.moist_kg, 75.0, SEVEN_DIGITS, "50 L at 1500 kg/m3");
    // A line's own moisture: as much as sold, with less dry matter.
    let (_, line) = added(50.0, "L", json!({ "water_per_wet_pct": 10 }), json!({}));
    assert_relative(line.moist_kg, 75.0, SEVEN_DIGITS, "50 L, wetter");
    assert_relative(line.dry_kg, 67.5, SEVEN_DIGITS, "50 L with 10 % water");
}

#[test]
fn shares_and_parts() {
    let ground_l = 1000.0 * 100.0 / 960.0;
    let (barrow, line) = added(25.0, "%v", json!({}), json!({}));
    assert_relative(
        1000.0 * line.loose_m3,
        ground_l / 3.0,
        SEVEN_DIGITS,
        "a quarter by volume",
    );
    assert_relative(
        barrow.loose_parts_m3(),
        ground_l / 750.0,
        SEVEN_DIGITS,
        "all of it",
    );
    let (_, line) = added(60.0, "%m", json!({}), json!({}));
    assert_relative(line.dry_kg, 150.0, SEVEN_DIGITS, "60 % of the dry mass");
    let litres = loose_litres(1.5, "part", json!({}), json!({}));
    assert_relative(
        litres,
        1.5 * ground_l,
        SEVEN_DIGITS,
        "one and a half parts to one",
    );
    let litres = loose_litres(1.0, "part", json!({}), json!({ "parts_of_soil": 4 }));
    assert_relative(litres, ground_l / 4.0, SEVEN_DIGITS, "one part to four");
    let (_, line) = added(3.0, "g/L", json!({}), json!({}));
    assert_relative(
        line.moist_kg,
        0.003 * ground_l,
        SEVEN_DIGITS,
        "3 g to a litre dug",
    );
}

#[test]
fn depths_and_rates() {
    let round = json!({ "place": { "top_width": { "value": 40, "unit": "cm" },
        "volume": { "value": 60, "unit": "L" }, "height": { "value": 30, "unit": "cm" } } });
    let litres = loose_litres(5.0, "cm", json!({}), round);
    assert_relative(
        litres,
        PI * 4.0 * 0.5,
        SEVEN_DIGITS,
        "5 cm over a circle of 40 cm, in dm",
    );
    let by_volume = json!({ "place": { "volume": { "value": 60, "unit": "L" },
        "height": { "value": 30, "unit": "cm" } } });
    let litres = loose_litres(5.0, "cm", json!({}), by_volume.clone());
    assert_relative(litres, 10.0, SEVEN_DIGITS, "5 cm over 60 L / 30 cm");
    let mut bed = by_volume;
    bed["soil"] =
        json!({ "area": { "value": 2, "unit": "m2" }, "depth": { "value": 25, "unit": "cm" } });
    let litres = loose_litres(5.0, "cm", json!({}), bed.clone());
    assert_relative(
        litres,
        100.0,
        SEVEN_DIGITS,
        "the bed's own area comes first",
    );
    let (_, line) = added(100.0, "g/m2", json!({}), bed);
    assert_relative(line.moist_kg, 0.2, SEVEN_DIGITS, "a rate is mass as sold");
}

#[test]
fn bags() {
    let bag = |bag: Value| loose_litres(3.0, "bag", json!({ "bag": bag }), json!({}));
    let own = loose_litres(3.0, "bag", json!({}), json!({}));
    assert_relative(own, 120.0, SEVEN_DIGITS, "the material's own bag of 40 L");
    for (size, litres) in [
        (json!({ "value": 20, "unit": "L" }), 60.0),
        (json!({ "value": 100, "unit": "L", "expands": 2 }), 600.0),
        // Sold loose: 25 kg at 1500 kg/m3.
        (json!({ "value": 25, "unit": "kg" }), 50.0),
        // Pressed: 11 loose litres to a printed kilogram.
        (json!({ "value": 5, "unit": "kg", "expands": 11 }), 165.0),
    ] {
        assert_relative(bag(size.clone()), litres, SEVEN_DIGITS, &size.to_string());
    }
}

#[test]
fn costs() {
    let cost = |more: Value| added(50.0, "L", more, json!({})).1.cost;
    let price = |value: f64, per: f64, unit: &str| json!({ "price": { "value": value, "per": { "value": per, "unit": unit } } });
    let assert_costs = |more: Value, expected: f64| {
        let what = more.to_string();
        let found = cost(more).expect("it has a price");
        assert_relative(found, expected, SEVEN_DIGITS, &what);
    };
    // 50 L are 75 kg.
    assert_costs(json!({}), 7.5);
    assert_costs(price(40.0, 1.0, "m3"), 2.0);
    assert_costs(price(30.0, 1.0, "t"), 2.25);
    assert_costs(price(9.0, 2.0, "bag"), 5.625);
    let mut small = price(4.0, 1.0, "bag");
    small["bag"] = json!({ "value": 25, "unit": "kg" });
    assert_costs(small, 12.0);
    let none = json!({ "additions": [{ "material": "play_sand", "amount": { "value": 1, "unit": "L" } }] });
    assert_eq!(
        barrow(&none).lines[0].cost,
        None,
        "the catalogue has no prices"
    );
}
