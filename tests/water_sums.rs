#![cfg(not(target_arch = "wasm32"))]
//! What grains hold inside, added a second time, and what lines cost.

mod support;

use barrowmix::blend::{Barrow, Blend, Water};
use serde_json::{Value, json};
use support::assert_relative;
use support::recipes;

/// Two codings.
const SECOND_WAY: f64 = 1e-9;
/// Pores inside wood, most of them, m3/kg: those of a light wood.
const WOOD_MOST: f64 = 0.0022;

/// A kind, what it is made of wholly, its grain density, and of the pores inside the shares that hold
/// at 33 and at 1500 kPa and that stay closed (from memory, as the table of the crate says).
type Porous = (&'static str, &'static str, f64, [f64; 3]);

const POROUS: [Porous; 7] = [
    ("porous_mineral", "coarse_pct", 800.0, [0.40, 0.16, 0.12]),
    ("char", "char_pct", 500.0, [0.70, 0.35, 0.0]),
    ("peat_coir", "organic_matter_pct", 300.0, [0.72, 0.30, 0.0]),
    (
        "compost_manure",
        "organic_matter_pct",
        500.0,
        [0.80, 0.40, 0.0],
    ),
    ("meal", "organic_matter_pct", 900.0, [0.80, 0.40, 0.0]),
    (
        "bark_wood_straw",
        "organic_matter_pct",
        600.0,
        [0.80, 0.50, 0.0],
    ),
    // More room than wood has inside.
    (
        "bark_wood_straw",
        "organic_matter_pct",
        250.0,
        [0.80, 0.50, 0.0],
    ),
];

fn blend(soil_l: f64, additions: &Value, materials: &Value) -> (Barrow, Blend) {
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50, "organic_matter_pct": 2,
                    "gravel_pct": 7 },
        "soil": { "value": soil_l, "unit": "L" }, "additions": additions,
        "materials": materials }));
    let barrow = Barrow::of(&recipe).expect("it can be mixed");
    let blend = Blend::of(&barrow, &recipe.soil);
    (barrow, blend)
}

/// Water at 33 and 1500 kPa and closed cells, m3, in a room so large that nothing is cut.
fn holds(blend: &Blend) -> [f64; 3] {
    let volume_m3 = 20.0 * blend.volumes.fresh_m3;
    let Water {
        field_capacity,
        wilting_point,
        closed,
        ..
    } = blend.water_in(volume_m3);
    [field_capacity, wilting_point, closed].map(|share| share * volume_m3)
}

fn own((group, made_of, grain, _): &Porous) -> Value {
    let mut material = json!({ "id": "own", "group": group, "loose_density_kg_m3": 0.4 * grain,
        "grain_density_kg_m3": grain, "organic_matter_pct": 0, "char_pct": 0, "grain_mm": 5,
        "water_per_wet_pct": 0 });
    material[*made_of] = json!(100);
    material
}

/// The pores inside are what a grain takes beyond its solids.
#[test]
fn grains_alone_hold_the_share_of_their_kind() {
    for porous in &POROUS {
        let (name, _, grain, shares) = porous;
        let line = json!([{ "material": "own", "amount": { "value": 30, "unit": "L" } }]);
        let (barrow, blend) = blend(0.0, &line, &json!([own(porous)]));
        let line = &barrow.lines[0];
        let solid = line.material.solid_density_kg_m3;
        let mut inside = 1.0 / grain - 1.0 / solid;
        if *name == "bark_wood_straw" {
            inside = inside.min(WOOD_MOST);
        }
        for (is, share) in holds(&blend).into_iter().zip(shares) {
            assert_relative(is, line.dry_kg * inside * share, SECOND_WAY, name);
        }
    }
}

/// Mineral grains and char change nothing of the ground's fine earth: its water and theirs add up.
#[test]
fn water_of_ground_and_of_grains_adds_up() {
    let (_, ground) = blend(20.0, &json!([]), &json!([]));
    for porous in POROUS.iter().take(2) {
        for litres in [1.0, 9.0, 40.0] {
            let line = json!([{ "material": "own", "amount": { "value": litres, "unit": "L" } }]);
            let (_, mixed) = blend(20.0, &line, &json!([own(porous)]));
            let (_, alone) = blend(0.0, &line, &json!([own(porous)]));
            let parts = holds(&ground).into_iter().zip(holds(&alone));
            for (is, (one, other)) in holds(&mixed).into_iter().zip(parts) {
                assert_relative(is, one + other, SECOND_WAY, porous.0);
            }
        }
    }
}

/// A tenth of the price of ten litres for one, and of two bags what two bags cost.
#[test]
fn lines_cost_what_they_are_of_what_is_sold() {
    let line = |value: f64, unit: &str, price: f64, per: f64, lot: &str| {
        json!({ "material": "pumice", "amount": { "value": value, "unit": unit },
                "price": { "value": price, "per": { "value": per, "unit": lot } },
                "bag": { "value": 40, "unit": "L" } })
    };
    let cost = |lines: Value| {
        let recipe = json!({ "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
            "soil": { "value": 20, "unit": "L" }, "additions": lines });
        let outcome = barrowmix::outcome::Outcome::of(&recipes::recipe(&recipe));
        outcome.expect("it can be mixed").cost
    };
    let first = line(4.0, "L", 9.0, 10.0, "L");
    let second = line(2.0, "bag", 6.5, 1.0, "bag");
    let third = line(3.0, "kg", 8.0, 2.0, "kg");
    for (lines, money) in [
        (json!([first]), 3.6),
        (json!([second]), 13.0),
        (json!([third]), 12.0),
        (json!([first, second, third]), 28.6),
    ] {
        let told = cost(lines.clone()).unwrap_or_else(|| panic!("no cost of {lines}"));
        assert_relative(told.typical, money, SECOND_WAY, "money");
    }
    let free = json!({ "material": "pumice", "amount": { "value": 1, "unit": "L" } });
    assert!(
        cost(json!([first, free])).is_none(),
        "one without a price leaves all without"
    );
}
