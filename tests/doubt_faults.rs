#![cfg(not(target_arch = "wasm32"))]
//! Ranges that cannot be are refused with their field; draws that cannot be are cut, not refused.

mod support;

use barrowmix::ground::{Trait, drawn_fractions};
use barrowmix::material::Property;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::recipe::{Fault, Recipe, RecipeError};
use barrowmix::words::error_text;
use serde_json::{Value, json};
use support::blends::{ROUNDING, outcome};
use support::dice::Dice;
use support::{assert_close, recipes};

fn range(low: f64, typical: f64, high: f64) -> Value {
    json!({ "low": low, "typical": typical, "high": high })
}

fn good() -> Value {
    json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" },
        "additions": [ { "material": "own", "amount": { "value": 10, "unit": "L" } } ],
        "materials": [ { "id": "own", "group": "compost_manure", "loose_density_kg_m3": 500 } ],
    })
}

/// Every place where a range can stand: its path, and its limits.
fn places() -> Vec<(String, (f64, f64))> {
    let ground = Trait::ALL
        .iter()
        .map(|of| (format!("ground.{}", of.name()), of.limits()));
    let material = Property::ALL
        .iter()
        .map(|of| (format!("materials[0].{}", of.name()), of.limits()));
    let line = (
        "additions[0].water_per_wet_pct".to_string(),
        Property::WaterPerWet.limits(),
    );
    ground.chain(material).chain([line]).collect()
}

/// A good recipe with a value at a path.
fn with(path: &str, value: Value) -> Value {
    let mut document = good();
    let pointer = path.replace("[0]", ".0").replace('.', "/");
    let (owner, field) = pointer.rsplit_once('/').expect("a field of an object");
    let owner = document
        .pointer_mut(&format!("/{owner}"))
        .unwrap_or_else(|| panic!("no {path}"));
    owner[field] = value;
    document
}

fn mixed(document: &Value) -> Result<Outcome, RecipeError> {
    Recipe::from_json(&document.to_string()).and_then(|recipe| Outcome::of(&recipe))
}

/// The fault of a document, told with its path first.
fn refused(document: &Value, path: &str) -> (Fault, String) {
    let error = match mixed(document) {
        Ok(_) => panic!("{document} is taken"),
        Err(error) => error,
    };
    assert_eq!(error.path.as_str(), path, "{error:?} of {document}");
    let text = error_text(&error);
    assert!(text.starts_with(path), "{text} names {path}");
    (error.fault, text)
}

#[test]
fn a_range_beyond_a_limit_is_refused_with_both_limits() {
    let places = places();
    assert_eq!(places.len(), 44, "18 traits, 25 properties, a line's water");
    for (path, (low, high)) in places {
        let middle = 0.5 * (low + high);
        let step = 0.01 * (high - low);
        for (end, value, range) in [
            ("low", low - step, range(low - step, middle, high)),
            ("typical", high + step, range(low, high + step, high)),
            ("high", high + step, range(low, middle, high + step)),
        ] {
            let (fault, text) = refused(&with(&path, range), &format!("{path}.{end}"));
            assert_eq!(fault, Fault::OutOfRange { value, low, high }, "{path}");
            assert!(
                text.contains(&low.to_string()) && text.contains(&high.to_string()),
                "{text:?} names {low} and {high}"
            );
        }
    }
}

#[test]
fn a_range_out_of_order_is_refused() {
    for (path, (low, high)) in places() {
        let at = |share: f64| low + share * (high - low);
        for (name, range) in [
            ("low above high", range(at(0.6), at(0.5), at(0.4))),
            ("low above typical", range(at(0.6), at(0.5), at(0.7))),
            ("high below typical", range(at(0.4), at(0.5), at(0.45))),
            (
                "all in a row, but not the typical",
                range(at(0.4), at(0.7), at(0.5)),
            ),
        ] {
            let (fault, _) = refused(&with(&path, range), &path);
            assert_eq!(fault, Fault::RangeOrder, "{name} of {path}");
        }
    }
}

#[test]
fn a_range_needs_all_three() {
    for (path, (low, high)) in places() {
        let middle = 0.5 * (low + high);
        for missing in ["low", "typical", "high"] {
            let mut range = range(low, middle, high);
            range.as_object_mut().expect("an object").remove(missing);
            let (fault, _) = refused(&with(&path, range), &format!("{path}.{missing}"));
            assert_eq!(fault, Fault::Missing, "{missing} of {path}");
        }
    }
}

#[test]
fn fractions_sum_to_a_hundred_at_typical_only() {
    let all = |sand: f64| {
        let mut document = good();
        document["ground"] = json!({
            "sand_pct": range(0.0, sand, 100.0),
            "silt_pct": range(20.0, 25.0, 90.0),
            "clay_pct": range(50.0, 55.0, 95.0),
        });
        document
    };
    let (fault, _) = refused(&all(21.0), "ground");
    assert!(
        matches!(fault, Fault::Fractions { sum_pct } if (sum_pct - 101.0).abs() < 1e-9),
        "{fault:?}"
    );
    let outcome = mixed(&all(20.0)).expect("all fractions may have a range");
    let [sand, silt, clay] =
        [Measure::Sand, Measure::Silt, Measure::Clay].map(|of| outcome.drawn.column(of).to_vec());
    for draw in 0..sand.len() {
        let sum = sand[draw] + silt[draw] + clay[draw];
        assert_close(sum, 100.0, 1e-9, &format!("fractions of draw {draw}"));
    }
}

#[test]
fn fractions_of_a_draw() {
    let mut dice = Dice::new(71);
    for case in 0..20_000 {
        let typical = match case % 4 {
            0 => [
                [0.0, 0.0, 100.0],
                [0.0, 100.0, 0.0],
                [100.0, 0.0, 0.0],
                [0.0, 40.0, 60.0],
            ][dice.below(4)],
            _ => dice.shares_pct(),
        };
        let drawn = [0, 1, 2].map(|_| {
            let value = match dice.below(4) {
                0 => *dice.pick(&[0.0, 100.0]),
                _ => dice.between(0.0, 100.0),
            };
            dice.one_in(2).then_some(value)
        });
        let fractions = drawn_fractions(typical, drawn);
        let what = format!("{typical:?} with {drawn:?} gives {fractions:?}");
        assert!(
            fractions
                .iter()
                .all(|part| (0.0..=100.0 + 1e-9).contains(part)),
            "{what}"
        );
        assert_close(fractions.iter().sum(), 100.0, 1e-6, &what);
        if let Some(clay) = drawn[2] {
            assert_close(
                fractions[2],
                clay,
                1e-6,
                &format!("clay keeps its draw: {what}"),
            );
        }
        let open: Vec<usize> = (0..3).filter(|at| drawn[*at].is_none()).collect();
        let drawn_sum: f64 = drawn.iter().flatten().sum();
        if let ([one, other], true) = (open.as_slice(), drawn_sum <= 100.0) {
            // Crosswise, so that nothings have a proportion too.
            assert_close(
                fractions[*one] * typical[*other],
                fractions[*other] * typical[*one],
                1e-6,
                &format!("the rest keeps its proportion: {what}"),
            );
        }
        if let ([_], true) = (open.as_slice(), drawn_sum <= 100.0) {
            for (kept, fraction) in drawn.iter().zip(fractions) {
                if let Some(kept) = kept {
                    assert_close(fraction, *kept, 1e-6, &format!("there is room: {what}"));
                }
            }
        }
    }
}

/// Every draw of every figure of volume and mass is a number, and its pore space one that can be.
fn assert_finite(document: &Value) -> Outcome {
    let outcome = outcome(&recipes::recipe(document));
    for of in [
        Measure::DryMass,
        Measure::MoistMass,
        Measure::LooseParts,
        Measure::FreshVolume,
        Measure::SettledVolume,
        Measure::PuddledVolume,
        Measure::FreshDensity,
        Measure::SettledDensity,
        Measure::Share,
    ] {
        let column = outcome.drawn.column(of);
        let lost = column.iter().position(|value| !value.is_finite());
        assert_eq!(lost, None, "draw of {of:?} that is no number in {document}");
    }
    for of in [
        Measure::FreshPores,
        Measure::SettledPores,
        Measure::PuddledPores,
    ] {
        for pores in outcome.drawn.column(of) {
            assert!(
                (0.0..100.0).contains(pores),
                "{of:?} of {pores} in {document}"
            );
        }
    }
    outcome
}

fn with_own(own: &Value, amount: &Value) -> Value {
    let mut document = good();
    document["materials"] = json!([own]);
    document["additions"][0]["amount"] = amount.clone();
    document
}

#[test]
fn draws_beyond_the_packing_are_cut() {
    let amounts = [
        json!({ "value": 10, "unit": "L" }),
        json!({ "value": 300, "unit": "kg" }),
        json!({ "value": 60, "unit": "%v" }),
        json!({ "value": 60, "unit": "%m" }),
    ];
    let materials = [
        // Settled almost at 0.88 of its grains, and as likely far above.
        json!({ "id": "own", "group": "porous_mineral", "loose_density_kg_m3": range(300.0, 780.0, 2900.0),
            "settled_dry_density_kg_m3": 879, "grain_density_kg_m3": 1000, "solid_density_kg_m3": 2600 }),
        // Hardly any solid left.
        json!({ "id": "own", "group": "sand", "loose_density_kg_m3": range(20.0, 1450.0, 3000.0),
            "solid_density_kg_m3": range(30.0, 2650.0, 5000.0) }),
        json!({ "id": "own", "group": "peat_coir", "loose_density_kg_m3": range(20.0, 150.0, 3000.0),
            "water_per_wet_pct": range(0.0, 40.0, 80.0), "solid_density_kg_m3": range(30.0, 1500.0, 1600.0),
            "grain_density_kg_m3": range(30.0, 300.0, 5000.0) }),
        json!({ "id": "own", "group": "char", "loose_density_kg_m3": range(30.0, 260.0, 800.0),
            "organic_matter_pct": range(0.0, 30.0, 100.0), "char_pct": range(0.0, 60.0, 100.0) }),
        json!({ "id": "own", "group": "soil", "loose_density_kg_m3": range(900.0, 1100.0, 1300.0),
            "sand_pct": range(0.0, 10.0, 20.0), "silt_pct": range(0.0, 10.0, 60.0), "clay_pct": range(0.0, 0.0, 30.0) }),
    ];
    for own in &materials {
        for amount in &amounts {
            assert_finite(&with_own(own, amount));
        }
    }
    let tight = assert_finite(&with_own(&materials[0], &amounts[1]));
    let pores = tight.pore_space_pct.settled.ends();
    assert!(pores.low < pores.high, "its doubt stays: {pores:?}");
}

/// In the draws, water may reach 100 %: such a share of mass would need room without end.
#[test]
fn draws_of_nothing_but_water_are_cut() {
    for (material, unit) in [
        ("cattle_manure", "%m"),
        ("cattle_manure", "%v"),
        ("yard_compost", "%m"),
    ] {
        let mut document = good();
        document["additions"] = json!([
            { "material": material, "amount": { "value": 30, "unit": unit },
              "water_per_wet_pct": range(40.0, 70.0, 100.0) },
            { "material": "perlite", "amount": { "value": 20, "unit": "%v" } },
        ]);
        assert_finite(&document);
    }
}

/// Solids of 20 % organic matter weigh 1/(0.2/1430 + 0.8 (0.20/2660 + 0.25/2690 + 0.55/2760)),
/// 2,307 kg/m3 (Ruehlmann & Korschens), and 0.88 of it is the most that can lie.
#[test]
fn a_ground_that_may_be_too_dense_is_cut() {
    let solid = 1.0 / (0.2 / 1430.0 + 0.8 * (0.20 / 2660.0 + 0.25 / 2690.0 + 0.55 / 2760.0));
    let limit = 0.88 * solid;
    let ground = |typical: f64| {
        let mut document = good();
        document["ground"]["organic_matter_pct"] = json!(20);
        document["ground"]["bulk_density_kg_m3"] = range(1500.0, typical, 2200.0);
        document
    };
    let outcome = assert_finite(&ground(1950.0));
    let lying = outcome.drawn.column(Measure::LyingDensity);
    let cut = lying
        .iter()
        .filter(|density| (**density - limit).abs() <= limit * ROUNDING)
        .count();
    let above = lying
        .iter()
        .filter(|density| **density > limit * (1.0 + ROUNDING));
    assert_eq!(above.count(), 0, "draws above {limit}");
    // 80 kg/m3 above the typical value with an arm of 250 at 1.28: 34 % lie above.
    let share = 0.5 * libm::erfc((limit - 1950.0) / (250.0 / 1.281_551_6) / 2.0_f64.sqrt());
    assert_close(cut as f64, 1024.0 * share, 1.5, "draws that are cut");
    let high = outcome.ground.lying_density_kg_m3.ends().high;
    assert_close(
        high,
        limit,
        1e-9 * limit,
        "the high end stands at the limit",
    );
    let pores = outcome.ground.lying_pore_space_pct.ends().low;
    assert_close(pores, 12.0, 1e-9, "and leaves 12 % of pores");
    // Only the typical value is judged.
    let (fault, _) = refused(&ground(limit + 1.0), "ground.bulk_density_kg_m3");
    assert!(matches!(fault, Fault::Ground(_)), "{fault:?}");
}

/// What a draw leaves nothing of, other draws still have.
#[test]
fn draws_without_fines_or_fine_earth_are_left_out() {
    let mut document = good();
    document["additions"] = json!([]);
    document["ground"]["gravel_pct"] = range(20.0, 60.0, 100.0);
    let outcome = assert_finite(&document);
    let lost = |of: Measure| {
        let column = outcome.drawn.column(of);
        column.iter().filter(|value| value.is_nan()).count()
    };
    // The top tenth of the draws is all gravel.
    assert_eq!(lost(Measure::Sand), 102, "no texture");
    assert_eq!(lost(Measure::OrganicMatter), 102, "no fine earth");
    let texture = outcome.texture.expect("the others have fines");
    let ends = texture.fractions_pct[2].ends();
    assert_close(ends.low, 55.0, 1e-9, "clay without doubt");
    assert_close(ends.high, 55.0, 1e-9, "clay without doubt");
}
