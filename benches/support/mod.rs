//! Recipes of any length for the benches: the eight additions that the page is measured with,
//! then what else the catalogue has, then own materials with ranges.

use barrowmix::material::catalogue;
use barrowmix::recipe::Recipe;
use serde_json::{Value, json};

const EIGHT: &str = include_str!("../../tests/bench/page/eight.json");

/// A recipe with so many additions, no two of one material.
pub(crate) fn with_additions(count: usize) -> Recipe {
    let mut document: Value = serde_json::from_str(EIGHT).expect("the file is JSON");
    let mut additions = document["additions"]
        .as_array()
        .cloned()
        .unwrap_or_default();
    let named =
        |additions: &[Value], id: &str| additions.iter().any(|known| known["material"] == id);
    for entry in catalogue() {
        if !named(&additions, entry.id) {
            additions.push(ten_litres(entry.id));
        }
    }
    let own: Vec<Value> = (additions.len()..count).map(own_material).collect();
    for material in &own {
        additions.push(ten_litres(material["id"].as_str().unwrap_or_default()));
    }
    additions.truncate(count);
    document["additions"] = Value::Array(additions);
    document["materials"] = Value::Array(own);
    let text = document.to_string();
    Recipe::from_json(&text).unwrap_or_else(|error| panic!("{error:?} in {text}"))
}

fn ten_litres(id: &str) -> Value {
    json!({ "material": id, "amount": { "value": 10, "unit": "L" } })
}

/// A material of its own size; kinds take turns.
fn own_material(number: usize) -> Value {
    let (group, water, loose, grain, organic) = [
        ("sand", 4.0, 1500.0, 2650.0, 0.3),
        ("compost_manure", 42.0, 560.0, 900.0, 45.0),
        ("soil", 15.0, 1150.0, 2600.0, 4.0),
        ("porous_mineral", 3.0, 420.0, 950.0, 0.2),
    ][number % 4];
    let around =
        |typical: f64| json!({ "low": 0.8 * typical, "typical": typical, "high": 1.2 * typical });
    json!({
        "id": format!("own_{number}"),
        "group": group,
        "water_per_wet_pct": around(water),
        "loose_density_kg_m3": { "low": 0.95 * loose, "typical": loose, "high": 1.05 * loose },
        "grain_density_kg_m3": grain,
        "solid_density_kg_m3": 2650,
        "grain_mm": 0.2 + 0.06 * number as f64,
        "organic_matter_pct": around(organic),
        "sand_pct": 70, "silt_pct": 20, "clay_pct": around(10.0),
        "coarse_pct": around(5.0),
    })
}
