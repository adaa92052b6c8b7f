#![cfg(not(target_arch = "wasm32"))]
//! How high a mix stands in a pot that it does not fill, against slices of the pot.

mod support;

use barrowmix::outcome::{Outcome, pot};
use barrowmix::recipe::Place;
use serde_json::{Value, json};
use support::dice::Dice;
use support::{assert_close, assert_relative, recipes};

/// Slices of a pot's height.
const SLICES: u32 = 20_000;

/// Volume of a round pot up to a share of its height, litres, by slices; lengths in cm.
fn sliced_l(height: f64, [top, bottom]: [f64; 2], share: f64) -> f64 {
    let step = height * share / f64::from(SLICES);
    let slices = (0..SLICES).map(|at| {
        let up = (f64::from(at) + 0.5) * step;
        let radius = 0.5 * (bottom + (top - bottom) * up / height);
        std::f64::consts::PI * radius * radius * step
    });
    slices.sum::<f64>() / 1000.0
}

fn place(value: &Value) -> Place {
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 40, "silt_pct": 40, "clay_pct": 20 },
        "soil": { "value": 1, "unit": "L" },
        "place": value,
    }));
    recipe.place.expect("a place")
}

fn cm(value: f64) -> Value {
    json!({ "value": value, "unit": "cm" })
}

#[test]
fn the_height_fills_the_volume() {
    let mut dice = Dice::new(91);
    for case in 0..60 {
        let height = dice.between(5.0, 60.0);
        let top = dice.between(8.0, 60.0);
        let bottom = match case % 4 {
            0 => top,
            1 => dice.between(top, 1.5 * top),
            _ => dice.between(0.3 * top, top),
        };
        let widths = [top, bottom];
        let whole = sliced_l(height, widths, 1.0);
        let share = dice.between(0.02, 0.98);
        let count = 1 + dice.below(5);
        let each = sliced_l(height, widths, share);
        let mut given = json!({ "kind": "container", "height": cm(height), "count": count,
            "top_width": cm(top), "bottom_width": cm(bottom) });
        // Its room by its widths, or told.
        if case % 2 == 0 {
            given["volume"] = json!({ "value": whole, "unit": "L" });
        }
        let stands = pot(Some(&place(&given)), each * count as f64).expect("a pot");
        let what = format!("{share} of {given}");
        assert_relative(stands.height_cm, share * height, 1e-6, &what);
        // Told in any unit, widths stand to each other.
        let at_top = bottom + (top - bottom) * share;
        let ratio = stands.top_width / stands.bottom_width;
        assert_relative(ratio, at_top / bottom, 1e-6, &what);
        for over in [1.0, 1.0 + 1e-9, 3.0] {
            let full = pot(
                Some(&place(&given)),
                whole * over * count as f64 * (1.0 + 1e-8),
            );
            assert_close(
                full.expect("a pot").height_cm,
                height,
                1e-6,
                "full to the rim",
            );
        }
    }
}

#[test]
fn a_pot_of_which_less_is_told() {
    let stands = |given: Value, litres: f64| pot(Some(&place(&given)), litres);
    let volume = json!({ "value": 20, "unit": "L" });
    // Straight where no widths are told.
    let half = json!({ "kind": "container", "height": cm(30.0), "volume": volume });
    let found = stands(half, 10.0).expect("a pot");
    assert_close(found.height_cm, 15.0, 1e-9, "half full");
    assert_close(found.top_width, found.bottom_width, 1e-12, "straight");
    // With one width it is a cylinder of it: 20 cm wide and 30 high is 9.42 L.
    let one = json!({ "kind": "container", "height": cm(30.0), "top_width": cm(20.0) });
    let whole = sliced_l(30.0, [20.0, 20.0], 1.0);
    let found = stands(one, whole / 3.0).expect("a pot");
    assert_close(found.height_cm, 10.0, 1e-6, "a third full");
    // Without volume and widths it is full, however little is in it.
    let unsaid = json!({ "kind": "container", "height": cm(30.0) });
    assert_close(
        stands(unsaid, 0.1).expect("a pot").height_cm,
        30.0,
        1e-12,
        "full",
    );
    // A pot that ends in a point.
    let cone = json!({ "kind": "container", "height": cm(30.0), "top_width": cm(20.0),
                       "bottom_width": cm(0.0) });
    let found = stands(cone, sliced_l(30.0, [20.0, 0.0], 0.5)).expect("a pot");
    assert_relative(found.height_cm, 15.0, 1e-6, "half of a cone");
}

#[test]
fn less_mix_in_a_pot_has_less_air() {
    let air = |litres: f64| {
        let recipe = recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 40, "silt_pct": 40, "clay_pct": 20 },
            "soil": { "value": 0, "unit": "L" },
            "additions": [
                { "material": "sphagnum_peat", "amount": { "value": litres / 2.0, "unit": "L" } },
                { "material": "perlite", "amount": { "value": litres / 2.0, "unit": "L" } },
            ],
            "place": { "kind": "container", "height": cm(30.0), "top_width": cm(32.0),
                       "bottom_width": cm(25.0) },
        }));
        let container = Outcome::of(&recipe)
            .expect("it can be")
            .container
            .expect("a pot");
        (container.pot.height_cm, container.air_pct.typical)
    };
    let (mut height, mut least) = (0.0, 0.0);
    for litres in [3.0, 6.0, 9.0, 12.0, 15.0, 18.0] {
        let (now, more) = air(litres);
        assert!(
            now > height && more > least,
            "{litres} L stand {now} cm high with {more} % air"
        );
        (height, least) = (now, more);
    }
}

#[test]
fn what_has_no_holes_has_no_figures() {
    let given = |place: &Value| {
        let recipe = recipes::recipe(&json!({
            "barrowmix": 1,
            "ground": { "sand_pct": 40, "silt_pct": 40, "clay_pct": 20 },
            "soil": { "value": 10, "unit": "L" },
            "place": place,
        }));
        Outcome::of(&recipe).expect("it can be").container.is_some()
    };
    for (kind, on, drains, told) in [
        ("container", "ground", json!(true), true),
        ("container", "ground", Value::Null, true),
        ("container", "ground", json!(false), false),
        ("container", "roof", json!(false), false),
        ("bed", "roof", json!(true), true),
        ("bed", "deck", json!(false), false),
        ("bed", "ground", json!(true), false),
    ] {
        let mut place = json!({ "kind": kind, "on": on, "height": cm(20.0) });
        if !drains.is_null() {
            place["drains"] = drains;
        }
        assert_eq!(given(&place), told, "{place}");
        place.as_object_mut().expect("a place").remove("height");
        assert!(!given(&place), "no height: {place}");
    }
    let none: Option<&Place> = None;
    assert_eq!(pot(none, 10.0), None, "no place");
}
