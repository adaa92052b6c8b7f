#![cfg(not(target_arch = "wasm32"))]
//! Notes on what was assumed of water and on what could not be compared, on both sides.

mod support;

use barrowmix::ground::EstimateErrors;
use barrowmix::outcome::{Outcome, Remark};
use barrowmix::recipe::{Measurement, Sample};
use barrowmix::texture::classify;
use barrowmix::water::saxton_rawls::FACTOR_LIMITS;
use barrowmix::words::{METRIC, remark_text};
use serde_json::{Value, json};
use support::{assert_close, recipes};

fn outcome(recipe: &Value) -> Outcome {
    Outcome::of(&recipes::recipe(recipe)).unwrap_or_else(|error| panic!("{error:?}: {recipe}"))
}

fn recipe(fractions: [f64; 3], litres: f64, additions: &[(&str, f64)]) -> Value {
    let lines = additions
        .iter()
        .map(|(id, litres)| json!({ "material": id, "amount": { "value": litres, "unit": "L" } }));
    json!({
        "barrowmix": 1,
        "ground": { "sand_pct": fractions[0], "silt_pct": fractions[1], "clay_pct": fractions[2] },
        "soil": { "value": litres, "unit": "L" },
        "additions": lines.collect::<Vec<_>>(),
    })
}

fn with(mut recipe: Value, name: &str, value: Value) -> Value {
    match name.split_once('.') {
        Some((whole, part)) => recipe[whole][part] = value,
        None => recipe[name] = value,
    }
    recipe
}

/// The notes of an id, each with its field.
fn noted(recipe: &Value, id: &str) -> Vec<Option<String>> {
    let outcome = outcome(recipe);
    let notes = outcome.notes.iter().filter(|note| note.id() == id);
    notes
        .map(|note| {
            let text = remark_text(note, METRIC);
            assert!(text.len() > 30 && !text.contains("{}"), "{text}");
            note.field().map(|path| path.to_string())
        })
        .collect()
}

const LOAM: [f64; 3] = [42.0, 38.0, 20.0];
const CLAY: [f64; 3] = [20.0, 30.0, 50.0];

#[test]
fn water_is_added_to_light_soils_only() {
    for (fractions, added) in [
        ([92.0, 4.0, 4.0], true),
        ([65.0, 24.0, 11.0], true),
        (LOAM, true),
        ([20.0, 65.0, 15.0], false),
        ([10.0, 56.0, 34.0], false),
        ([33.0, 33.0, 34.0], false),
        ([6.0, 47.0, 47.0], false),
        (CLAY, false),
    ] {
        let plain = recipe(fractions, 100.0, &[]);
        let found = noted(&plain, "water_added");
        assert_eq!(found.len(), usize::from(added), "{fractions:?}");
        let points = outcome(&plain).notes.iter().find_map(|note| match note {
            Remark::WaterAdded { points } => Some(*points),
            _ => None,
        });
        if let Some(points) = points {
            // Far from every border it is that of its own class.
            let [wet, _] = EstimateErrors::of(classify(fractions)).middle;
            assert_close(points, 100.0 * wet, 0.2 * 100.0 * wet, "points");
        }
    }
    // It is the blend that counts, and fines that are not there hold nothing.
    let told = |recipe: &Value| !noted(recipe, "water_added").is_empty();
    assert!(
        told(&recipe(CLAY, 20.0, &[("concrete_sand", 100.0)])),
        "sandy by now"
    );
    assert!(
        told(&recipe(LOAM, 50.0, &[("sphagnum_peat", 50.0)])),
        "half of it is loam"
    );
    assert!(
        !told(&recipe(LOAM, 0.0, &[("sphagnum_peat", 50.0)])),
        "no fines in peat"
    );
    assert!(
        !told(&recipe(LOAM, 0.0, &[("pea_gravel", 50.0)])),
        "no fines in gravel"
    );
}

#[test]
fn water_outside_of_the_equations() {
    let told = |recipe: &Value| !noted(recipe, "water_outside").is_empty();
    let clay = |clay: f64, litres: f64, additions: &[(&str, f64)]| {
        // As dense as the equations take such a clay: its own estimate is looser.
        let recipe = recipe([20.0, 80.0 - clay, clay], litres, additions);
        with(recipe, "ground.bulk_density_kg_m3", json!(1270))
    };
    assert!(
        told(&clay(60.01, 100.0, &[])) && !told(&clay(59.99, 100.0, &[])),
        "clay"
    );
    let organic = |pct: f64| {
        with(
            recipe(LOAM, 100.0, &[]),
            "ground.organic_matter_pct",
            json!(pct),
        )
    };
    assert!(
        told(&organic(8.01)) && !told(&organic(7.99)),
        "organic matter"
    );
    // What the additions make of it counts, and the ground beside it.
    assert!(
        told(&recipe(LOAM, 50.0, &[("sphagnum_peat", 80.0)])),
        "peaty"
    );
    assert!(
        !told(&recipe(LOAM, 100.0, &[("sphagnum_peat", 5.0)])),
        "hardly peaty"
    );
    assert!(
        told(&clay(70.0, 50.0, &[("concrete_sand", 50.0)])),
        "its ground is"
    );
    assert!(
        !told(&clay(70.0, 0.0, &[("concrete_sand", 50.0)])),
        "there is no ground"
    );
    // So loose that the equations do not reach; they take a loam as within 3 % of its estimate.
    let usual = outcome(&recipe(LOAM, 100.0, &[]))
        .ground
        .settled_density_kg_m3
        .typical;
    let (least, _) = FACTOR_LIMITS;
    let lying = |share: f64| {
        with(
            recipe(LOAM, 100.0, &[]),
            "ground.bulk_density_kg_m3",
            json!(share * usual),
        )
    };
    assert!(
        told(&lying(least - 0.03)) && !told(&lying(least + 0.03)),
        "loose"
    );
    assert!(!told(&lying(1.0)), "usual");
}

#[test]
fn a_container_without_a_height() {
    let place = |place: Value| with(recipe(LOAM, 30.0, &[]), "place", place);
    let field = vec![Some("place.height".to_owned())];
    let height = json!({ "value": 20, "unit": "cm" });
    for (given, told) in [
        (json!({ "kind": "container" }), true),
        (
            json!({ "kind": "container", "volume": { "value": 30, "unit": "L" } }),
            true,
        ),
        (json!({ "kind": "container", "height": height }), false),
        (json!({ "kind": "bed" }), false),
        (json!({}), false),
    ] {
        let found = noted(&place(given.clone()), "no_height");
        assert_eq!(found, if told { field.clone() } else { vec![] }, "{given}");
    }
    assert_eq!(
        noted(&recipe(LOAM, 30.0, &[]), "no_height"),
        [],
        "no place at all"
    );
}

#[test]
fn what_nothing_can_be_compared_with() {
    let pot = json!({ "kind": "container", "height": { "value": 20, "unit": "cm" } });
    let measured = |sample: Sample, of: Measurement, place: &Value, litres: f64| {
        let mut recipe = recipe(LOAM, litres, &[("sphagnum_peat", 20.0)]);
        recipe["place"] = place.clone();
        recipe["measured"][sample.spelling()][of.name()] = json!(match of {
            Measurement::BulkDensity => 900.0,
            _ => 20.0,
        });
        recipe
    };
    let check = |recipe: &Value, sample: Sample, of: Measurement, told: bool| {
        let field = format!("measured.{}.{}", sample.spelling(), of.name());
        let expected = if told { vec![Some(field)] } else { vec![] };
        assert_eq!(noted(recipe, "not_compared"), expected, "{recipe}");
        let outcome = outcome(recipe);
        assert_eq!(
            outcome.drawn.weights().is_empty(),
            told,
            "it weighs or not: {recipe}"
        );
    };
    for of in Measurement::ALL {
        // No ground lies in a pot.
        let never = *of == Measurement::Drained;
        check(
            &measured(Sample::Ground, *of, &pot, 50.0),
            Sample::Ground,
            *of,
            never,
        );
        check(
            &measured(Sample::Ground, *of, &pot, 0.0),
            Sample::Ground,
            *of,
            true,
        );
        check(
            &measured(Sample::Blend, *of, &pot, 50.0),
            Sample::Blend,
            *of,
            false,
        );
        check(
            &measured(Sample::Blend, *of, &pot, 0.0),
            Sample::Blend,
            *of,
            false,
        );
        // Only what drained needs to know the pot.
        for place in [
            json!({}),
            json!({ "kind": "container" }),
            json!({ "kind": "bed", "height": { "value": 20, "unit": "cm" } }),
            json!({ "kind": "container", "drains": false, "height": { "value": 20, "unit": "cm" } }),
        ] {
            check(
                &measured(Sample::Blend, *of, &place, 50.0),
                Sample::Blend,
                *of,
                never,
            );
        }
    }
}
