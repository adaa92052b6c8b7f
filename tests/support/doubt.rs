//! Every figure of an outcome by name, and recipes with ranges as wide as can be.

// Each test file is a crate of its own and uses its own part of this; nothing reaches out of it.
#![allow(dead_code, unreachable_pub)]

use crate::support::dice::Dice;
use crate::support::recipes;
use barrowmix::document::document;
use barrowmix::figure::Figure;
use barrowmix::outcome::{Measure, Outcome};
use barrowmix::quantity::Dimension;
use barrowmix::recipe::{Amount, Fault, Recipe, Soil};
use barrowmix::words::METRIC;
use serde_json::{Value, json};

/// What every draw has, and whether it is a percentage.
pub const MEASURES: [(Measure, bool); 45] = [
    (Measure::Sand, true),
    (Measure::Silt, true),
    (Measure::Clay, true),
    (Measure::OrganicMatter, true),
    (Measure::OrganicMatterWithChar, true),
    (Measure::DryMass, false),
    (Measure::MoistMass, false),
    (Measure::OnTop, false),
    (Measure::LooseParts, false),
    (Measure::FreshVolume, false),
    (Measure::SettledVolume, false),
    (Measure::PuddledVolume, false),
    (Measure::FreshDensity, false),
    (Measure::SettledDensity, false),
    (Measure::PuddledDensity, false),
    (Measure::FreshPores, true),
    (Measure::SettledPores, true),
    (Measure::PuddledPores, true),
    (Measure::Share, false),
    (Measure::Threshold, false),
    (Measure::MoreToTouch, false),
    (Measure::Cost, false),
    (Measure::GroundOrganicMatter, true),
    (Measure::LyingDensity, false),
    (Measure::LyingPores, true),
    (Measure::DugDensity, false),
    (Measure::DugPores, true),
    (Measure::AloneDensity, false),
    (Measure::AlonePores, true),
    (Measure::Air, true),
    (Measure::Available, true),
    (Measure::Unavailable, true),
    (Measure::Closed, true),
    (Measure::Drainage, false),
    (Measure::WateredMass, false),
    (Measure::PotWater, true),
    (Measure::PotAir, true),
    (Measure::LyingAir, true),
    (Measure::LyingAvailable, true),
    (Measure::LyingUnavailable, true),
    (Measure::LyingFieldCapacity, true),
    (Measure::LyingDrainage, false),
    (Measure::AloneAir, true),
    (Measure::AloneAvailable, true),
    (Measure::AloneDrainage, false),
];

/// A figure or an odds by its name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Number {
    /// Low, typical, high.
    Figure([f64; 3]),
    /// A share of the draws.
    Odds(f64),
}

/// Every number of an outcome, by the names of its document and of its ground.
pub fn numbers(outcome: &Outcome) -> Vec<(String, Number)> {
    let mut document = serde_json::to_value(document(outcome, METRIC)).expect("a document");
    let fields = document.as_object_mut().expect("an object");
    fields.retain(|name, _| name != "verdict" && name != "notes");
    let mut out = Vec::new();
    collect("", &document, &mut out);
    let ground = &outcome.ground;
    for (name, figure) in [
        ("ground.organic_matter_pct", ground.organic_matter_pct),
        ("ground.lying_density", ground.lying_density_kg_m3),
        ("ground.lying_pore_space_pct", ground.lying_pore_space_pct),
        ("ground.dug_density", ground.dug_density_kg_m3),
        ("ground.dug_pore_space_pct", ground.dug_pore_space_pct),
        ("ground.settled_density", ground.settled_density_kg_m3),
        (
            "ground.settled_pore_space_pct",
            ground.settled_pore_space_pct,
        ),
    ] {
        out.push((name.into(), Number::Figure(three(figure))));
    }
    out
}

/// Low, typical and high of a figure.
pub fn three(figure: Figure) -> [f64; 3] {
    let ends = figure.ends();
    [ends.low, figure.typical, ends.high]
}

fn collect(name: &str, value: &Value, out: &mut Vec<(String, Number)>) {
    let Some(fields) = value.as_object() else {
        if let Some(odds) = value.as_f64() {
            out.push((name.into(), Number::Odds(odds)));
        }
        return;
    };
    if fields.contains_key("typical") {
        let of = |end: &str| {
            let number = value[end].as_f64();
            number.unwrap_or_else(|| panic!("{name} has no number as {end}: {value}"))
        };
        out.push((
            name.into(),
            Number::Figure([of("low"), of("typical"), of("high")]),
        ));
        return;
    }
    for (field, value) in fields {
        let name = if name.is_empty() {
            field.clone()
        } else {
            [name, field].join(".")
        };
        collect(&name, value, out);
    }
}

/// Asserts that two outcomes agree to the last bit, in their figures and in every draw.
pub fn assert_same_bits(one: &Outcome, other: &Outcome, what: &str) {
    let bits = |outcome: &Outcome| -> Vec<(String, Vec<u64>)> {
        numbers(outcome)
            .into_iter()
            .map(|(name, number)| match number {
                Number::Figure(ends) => (name, ends.map(f64::to_bits).to_vec()),
                Number::Odds(odds) => (name, vec![odds.to_bits()]),
            })
            .collect()
    };
    let (ones, others) = (bits(one), bits(other));
    for ((name, one), (_, other)) in ones.iter().zip(&others) {
        let number =
            |bits: &[u64]| -> Vec<f64> { bits.iter().copied().map(f64::from_bits).collect() };
        assert!(
            one == other,
            "{what}: {name} is {:?} and {:?}",
            number(one),
            number(other)
        );
    }
    assert_eq!(ones, others, "{what}: the same figures are there");
    for (of, _) in MEASURES {
        let (one, other) = (one.drawn.column(of), other.drawn.column(of));
        let same = one
            .iter()
            .zip(other)
            .position(|(one, other)| one.to_bits() != other.to_bits());
        if let Some(draw) = same {
            panic!(
                "{what}: draw {draw} of {of:?} is {} and {}",
                one[draw], other[draw]
            );
        }
    }
}

/// A recipe on one line.
pub fn brief(recipe: &Recipe) -> String {
    let tree: Value = serde_json::from_str(&recipe.to_json()).expect("JSON");
    tree.to_string()
}

/// A recipe with everything in it so many times as large, in a place of so much more room: as many
/// containers, as high.
pub fn scaled(recipe: &Recipe, by: f64) -> Recipe {
    let mut out = recipe.clone();
    let scale = |amount: &mut Amount| amount.value *= by;
    // A place without a width has the area that its volume and height make.
    let by_room = out
        .place
        .as_ref()
        .is_some_and(|place| place.volume.is_some() && place.top_width.is_none());
    let area_grows = match &mut out.soil {
        Soil::Amount(amount) => {
            scale(amount);
            by_room
        }
        Soil::Bed { area, .. } => {
            scale(area);
            true
        }
    };
    for addition in &mut out.additions {
        match addition.amount.unit.dimension() {
            Dimension::Mass | Dimension::Volume | Dimension::Bag => scale(&mut addition.amount),
            // The circle of a place's top has not grown.
            Dimension::Length | Dimension::MassPerArea if !area_grows => {
                scale(&mut addition.amount)
            }
            _ => {}
        }
    }
    if let Some(room) = out.place.as_mut().and_then(|place| place.volume.as_mut()) {
        scale(room);
    }
    out
}

/// So many random recipes with wide ranges that can be mixed, each with its outcome.
pub fn doubtful(seed: u64, count: usize, mut judge: impl FnMut(&Recipe, &Outcome, &mut Dice)) {
    let mut dice = Dice::new(seed);
    let (mut judged, mut refused) = (0, 0);
    while judged < count {
        let document = random(&mut dice);
        let mixed = Recipe::from_json(&document.to_string())
            .and_then(|recipe| Outcome::of(&recipe).map(|outcome| (recipe, outcome)));
        match mixed {
            Ok((recipe, outcome)) => {
                judge(&recipe, &outcome, &mut dice);
                judged += 1;
            }
            // What is likely in the whole may be impossible in its typical values.
            Err(error) => {
                let known = matches!(
                    error.fault,
                    Fault::Misfit(_) | Fault::Ground(_) | Fault::Shares { .. }
                );
                assert!(known, "{error:?} in {document}");
                refused += 1;
            }
        }
    }
    assert!(refused < count, "{refused} refused beside {count}");
}

fn range(low: f64, typical: f64, high: f64) -> Value {
    json!({ "low": low, "typical": typical, "high": high })
}

/// A range about a number: to both limits, to one, or part of the way.
fn about(dice: &mut Dice, typical: f64, low: f64, high: f64) -> Value {
    match dice.below(5) {
        0 => range(low, typical, high),
        1 => range(typical, typical, high),
        2 => range(low, typical, typical),
        _ => range(
            dice.between(low, typical),
            typical,
            dice.between(typical, high),
        ),
    }
}

/// A random recipe document with wide ranges, some of them across all that can be.
pub fn random(dice: &mut Dice) -> Value {
    let mut document = recipes::random(dice);
    for (name, typical, low, high) in [
        (
            "organic_matter_pct",
            [0.0, 2.5, 50.0][dice.below(3)],
            0.0,
            100.0,
        ),
        (
            "bulk_density_kg_m3",
            dice.typed(500.0, 1400.0),
            200.0,
            2200.0,
        ),
        ("gravel_pct", dice.typed(0.0, 60.0), 0.0, 100.0),
        ("water_per_dry_pct", dice.typed(0.0, 120.0), 0.0, 300.0),
        ("crumb", dice.typed(0.0, 1.0), 0.0, 1.0),
    ] {
        if dice.one_in(3) {
            document["ground"][name] = about(dice, typical, low, high);
        }
    }
    // None, one, two or all of the fractions.
    let ranged = dice.below(8);
    for (at, name) in ["sand_pct", "silt_pct", "clay_pct"].iter().enumerate() {
        if ranged >> at & 1 == 1 {
            let typical = document["ground"][*name].as_f64().expect("a number");
            document["ground"][*name] = about(dice, typical, 0.0, 100.0);
        }
    }
    if dice.one_in(2) {
        add_wild(dice, &mut document);
    }
    if dice.one_in(3) {
        // Shares of both kinds in one recipe.
        let (volume, mass) = (dice.typed(1.0, 30.0), dice.typed(1.0, 20.0));
        push(
            &mut document,
            "additions",
            json!({ "material": "yard_compost", "amount": { "value": volume, "unit": "%v" } }),
        );
        let second = *dice.pick(&["concrete_sand", "cattle_manure", "biochar_wood", "perlite"]);
        push(
            &mut document,
            "additions",
            json!({ "material": second, "amount": { "value": mass, "unit": "%m" } }),
        );
    }
    if dice.one_in(8) {
        document["soil"] = json!({ "value": 0, "unit": "L" });
        let lines = document["additions"].as_array_mut();
        for line in lines.into_iter().flatten() {
            let value = dice.typed(1.0, 200.0);
            line["amount"] = json!({ "value": value, "unit": *dice.pick(&["L", "kg"]) });
        }
        push(
            &mut document,
            "additions",
            json!({ "material": "sphagnum_peat", "amount": { "value": 20, "unit": "L" } }),
        );
    }
    document
}

fn push(document: &mut Value, list: &str, item: Value) {
    match document[list].as_array_mut() {
        Some(items) => items.push(item),
        None => document[list] = json!([item]),
    }
}

/// An own material of which hardly anything is known.
fn add_wild(dice: &mut Dice, document: &mut Value) {
    let group = *dice.pick(&[
        "sand",
        "grit",
        "porous_mineral",
        "char",
        "peat_coir",
        "compost_manure",
        "soil",
        "powder",
        "meal",
    ]);
    let loose = dice.typed(60.0, 900.0);
    let mut wild = json!({
        "id": "wild",
        "group": group,
        "loose_density_kg_m3": about(dice, loose, 20.0, 3000.0),
    });
    for (name, typical, low, high) in [
        ("water_per_wet_pct", dice.typed(0.0, 90.0), 0.0, 100.0),
        ("organic_matter_pct", dice.typed(0.0, 60.0), 0.0, 100.0),
        ("char_pct", dice.typed(0.0, 40.0), 0.0, 100.0),
        ("coarse_pct", dice.typed(0.0, 100.0), 0.0, 100.0),
        (
            "solid_density_kg_m3",
            dice.typed(1500.0, 2900.0),
            30.0,
            5000.0,
        ),
        (
            "grain_density_kg_m3",
            dice.typed(1100.0, 1500.0),
            30.0,
            5000.0,
        ),
    ] {
        if dice.one_in(2) {
            wild[name] = about(dice, typical, low, high);
        }
    }
    let ranged = dice.below(9);
    if ranged < 8 {
        let typical = dice.shares_pct();
        for (at, name) in ["sand_pct", "silt_pct", "clay_pct"].iter().enumerate() {
            wild[*name] = if ranged >> at & 1 == 1 {
                about(dice, typical[at], 0.0, 100.0)
            } else {
                json!(typical[at])
            };
        }
    }
    if dice.one_in(2) {
        wild["grain_mm"] = json!(dice.between_sizes(0.01, 20.0));
    }
    push(document, "materials", wild);
    let unit = *dice.pick(&["L", "kg", "%v", "%m"]);
    let value = dice.typed(1.0, 30.0);
    let mut line = json!({ "material": "wild", "amount": { "value": value, "unit": unit } });
    if dice.one_in(4) {
        let typical = dice.typed(0.0, 90.0);
        line["water_per_wet_pct"] = about(dice, typical, 0.0, 100.0);
    }
    push(document, "additions", line);
}
