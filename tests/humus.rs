#![cfg(not(target_arch = "wasm32"))]
//! A soil's own organic matter, against published tables.

mod support;

use barrowmix::seasons::humus::{
    CLAY_SLOWS, STABLE_SHARE, active_rate, clay_factor, halving_years, holding, humus_after,
    humus_in_the_end, lime_factor, loss_1974, retained, temperature_factor, water_factor,
};
use support::{Row, table};

fn expected(row: &Row) -> Vec<f64> {
    let numbers = row.text("expected").split_whitespace();
    numbers
        .map(|number| number.parse().expect("a number"))
        .collect()
}

/// Pounds of soil on an acre, to the depth of a furrow slice.
const ACRE_LB: f64 = 2_000_000.0;

fn computed(id: &str) -> Vec<f64> {
    let pct = |lb: f64| 100.0 * lb / ACRE_LB;
    match id {
        "table_3_2" | "in_the_end" => vec![
            pct(humus_in_the_end(0.2 * 5000.0, 0.03)),
            pct(humus_in_the_end(0.2 * 7500.0, 0.05)),
        ],
        "yearly" => [1.0, 5.0, 10.0, 30.0]
            .map(|years| pct(humus_after(40_000.0, 0.2 * 5000.0, 0.03, years)))
            .to_vec(),
        "halving" => [0.01, 0.02, 0.03, 0.05].map(halving_years).to_vec(),
        // What a year must bring in to make up for all of it at once.
        "share_of_soil" => vec![holding(0.01 * ACRE_LB, 1.0, 1.0) / 90.0],
        "clay_v1" => [100.0, 300.0, 500.0]
            .map(|clay| clay_factor(clay, CLAY_SLOWS[0]))
            .to_vec(),
        "clay_v2" => [100.0, 300.0, 500.0]
            .map(|clay| clay_factor(clay, CLAY_SLOWS[1]))
            .to_vec(),
        "warmth" => [5.0, 10.0, 15.0, 20.0].map(temperature_factor).to_vec(),
        "retained" => [5.0, 20.0, 30.0, 50.0].map(retained).to_vec(),
        "loss_1974" => [100.0, 300.0, 500.0]
            .map(|clay| loss_1974(12.0, clay, 0.0))
            .to_vec(),
        "factors" => vec![
            temperature_factor(12.0),
            water_factor(100.0),
            clay_factor(300.0, CLAY_SLOWS[0]),
            active_rate(12.0, 100.0, 30.0, 0.0),
        ],
        "whole" => STABLE_SHARE
            .map(|stable| (1.0 - stable) * active_rate(12.0, 100.0, 30.0, 0.0))
            .to_vec(),
        "holding" => {
            let organic = holding(186.69 * 0.04 / 0.96, 0.02, 0.5);
            vec![organic, organic / 0.45, organic / 0.45 / 0.350]
        }
        other => panic!("{other} is not known here"),
    }
}

#[test]
fn humus_is_as_published() {
    for row in table("humus", 13) {
        let id = row.text("id");
        let (expected, computed) = (expected(&row), computed(id));
        assert_eq!(computed.len(), expected.len(), "{id}");
        for (ours, theirs) in computed.iter().zip(&expected) {
            assert!(
                (ours - theirs).abs() <= row.number("tolerance"),
                "{id}: {ours}, not {theirs}"
            );
        }
    }
}

#[test]
fn frost_stops_decay_and_lime_slows_it() {
    assert_eq!(temperature_factor(0.0), 0.0, "frost");
    assert_eq!(temperature_factor(-12.0), 0.0, "deep frost");
    assert!(temperature_factor(0.1) > 0.0, "thaw");
    assert!(
        lime_factor(0.0) == 1.0 && lime_factor(100.0) < 0.9,
        "lime slows"
    );
    assert!(water_factor(-300.0) < water_factor(300.0), "drought slows");
}
