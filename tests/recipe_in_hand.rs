#![cfg(not(target_arch = "wasm32"))]
//! What the page and its tools ask of a recipe in hand: how much of a new addition to begin with,
//! whether a place says anything, what was measured set and taken away, shares without a ground, and
//! words of others in quotes.

mod support;

use barrowmix::blend::fill::{FillTarget, filled};
use barrowmix::figure::Figure;
use barrowmix::material::Property;
use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::own::with_loose_density;
use barrowmix::recipe::{
    Addition, Amount, Fault, Measurement, Place, RELEASE, Recipe, Sample, Soil,
};
use barrowmix::words::error_text;
use serde_json::{Value, json};
use support::recipes::{self, FULL, read};

fn litres(value: f64) -> Soil {
    Soil::Amount(Amount::new(value, Unit::Litre))
}

/// A recipe of forty litres with these amounts.
fn with(amounts: &[(f64, Unit)]) -> Recipe {
    let mut recipe = read(FULL);
    recipe.soil = litres(40.0);
    recipe.additions = amounts
        .iter()
        .map(|(value, unit)| Addition::new("pumice", Amount::new(*value, *unit)))
        .collect();
    recipe
}

#[test]
fn a_new_addition_begins_with_a_tenth_of_the_heap_where_it_can() {
    let share = Amount::new(10.0, Unit::VolumePercent);
    let plain = Amount::new(10.0, Unit::Litre);
    for (amounts, first) in [
        (&[][..], &share),
        (&[(500.0, Unit::Litre), (70.0, Unit::Kilogram)], &share),
        (&[(60.0, Unit::VolumePercent)], &share),
        (&[(20.0, Unit::VolumePercent); 3], &share),
        // Little is left.
        (&[(61.0, Unit::VolumePercent)], &plain),
        (&[(31.0, Unit::VolumePercent); 2], &plain),
        // Shares of mass and of volume are not mixed.
        (&[(1.0, Unit::MassPercent)], &plain),
        (&[(1.0, Unit::Litre), (1.0, Unit::MassPercent)], &plain),
    ] {
        assert_eq!(with(amounts).first_amount(), *first, "after {amounts:?}");
    }
    let mut recipe = with(&[]);
    let bed = |area: f64, depth: f64| Soil::Bed {
        area: Amount::new(area, Unit::SquareMetre),
        depth: Amount::new(depth, Unit::Centimetre),
        kept: Vec::new(),
    };
    for (soil, first) in [
        (bed(4.0, 20.0), &share),
        (litres(0.001), &share),
        // Nothing to count against.
        (litres(0.0), &plain),
        (bed(0.0, 20.0), &plain),
        (bed(4.0, 0.0), &plain),
    ] {
        recipe.soil = soil;
        assert_eq!(recipe.first_amount(), *first, "with {:?}", recipe.soil);
    }
}

/// One field of a place says something, whichever it is.
#[test]
fn a_place_is_silent_only_without_any_field() {
    assert!(Place::default().is_silent(), "nothing is said");
    let full: Value = serde_json::from_str(FULL).expect("a document");
    let fields = full["place"].as_object().expect("a place");
    assert_eq!(fields.len(), 11, "every field of a place: {fields:?}");
    for (name, value) in fields {
        let mut document = full.clone();
        document["place"] = json!({ name: value });
        let place = recipes::recipe(&document).place.expect("a place");
        assert!(!place.is_silent(), "{name} is said");
    }
    let mut document = full.clone();
    document["place"] = json!({ "frost_days": 3 });
    let place = recipes::recipe(&document).place.expect("a place");
    assert!(!place.is_silent(), "what a later release said is kept");
}

#[test]
fn only_a_later_release_is_later() {
    for (made_by, later) in [
        (None, false),
        (Some(RELEASE), false),
        (Some("0.0.9"), false),
        (Some("99.0.0"), true),
        (Some("soon"), false),
    ] {
        let mut recipe = read(FULL);
        recipe.made_by = made_by.map(str::to_owned);
        assert_eq!(recipe.is_of_later_release(), later, "made by {made_by:?}");
    }
}

/// Each figure has a place of its own, and takes and leaves it alone.
#[test]
fn what_was_measured_is_set_and_taken_away() {
    let mut recipe = read(FULL);
    let mut each = Vec::new();
    for sample in Sample::ALL {
        each.extend(Measurement::ALL.iter().map(|of| (*sample, *of)));
    }
    for (sample, of) in &each {
        recipe.set_measured(*sample, *of, None);
    }
    for (index, (sample, of)) in each.iter().enumerate() {
        recipe.set_measured(*sample, *of, Some(Figure::exact(index as f64)));
    }
    for (index, (sample, of)) in each.iter().enumerate() {
        let figure = recipe.measured(*sample, *of).expect("it was set");
        assert_eq!(figure.typical, index as f64, "{sample:?} {of:?}");
    }
    for (index, (sample, of)) in each.iter().enumerate() {
        recipe.set_measured(*sample, *of, None);
        let left = each
            .iter()
            .filter(|(sample, of)| recipe.measured(*sample, *of).is_some());
        assert_eq!(left.count(), each.len() - index - 1, "one was taken away");
    }
}

/// A heap without ground, of these additions.
fn without_ground(additions: &Value) -> Result<Outcome, (String, Fault)> {
    let document = json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 0, "unit": "L" }, "additions": additions,
        "materials": [{ "id": "water", "group": "liquid", "loose_density_kg_m3": 1000,
                        "water_per_wet_pct": 100 }] });
    Outcome::of(&recipes::recipe(&document))
        .map_err(|error| (error.path.as_str().to_owned(), error.fault))
}

#[test]
fn shares_count_against_what_is_mixed_and_not_against_what_lies_on_top() {
    let line = |unit: &str| json!({ "material": "pumice", "amount": { "value": 8, "unit": unit } });
    let share = json!({ "material": "yard_compost", "amount": { "value": 20, "unit": "%v" } });
    for unit in ["L", "kg"] {
        let outcome = without_ground(&json!([line(unit), share]));
        let outcome = outcome.unwrap_or_else(|error| panic!("{unit}: {error:?}"));
        let [pumice, compost] = &outcome.barrow.lines[..] else {
            panic!("two lines");
        };
        // A fifth of all is a quarter of the rest.
        support::assert_relative(
            compost.loose_m3,
            pumice.loose_m3 / 4.0,
            1e-12,
            "a fifth of the heap",
        );
        let mut mulch = line(unit);
        mulch["on_top"] = json!(true);
        let error = without_ground(&json!([mulch, share])).expect_err("a mulch is not in the heap");
        assert_eq!(
            error,
            ("additions[1].amount.unit".into(), Fault::NoGround),
            "a mulch of 8 {unit}"
        );
    }
}

#[test]
fn what_has_no_dry_matter_is_no_share_of_mass() {
    let pumice = json!({ "material": "pumice", "amount": { "value": 8, "unit": "L" } });
    let water = |unit: &str| json!({ "material": "water", "amount": { "value": 2, "unit": unit } });
    let error = without_ground(&json!([pumice, water("%m")])).expect_err("it has none");
    assert_eq!(
        error,
        ("additions[1].amount.unit".into(), Fault::NoDryMatter),
        "a share of dry mass"
    );
    for unit in ["L", "kg", "%v"] {
        let outcome = without_ground(&json!([pumice, water(unit)]));
        assert!(
            outcome.is_ok(),
            "by {unit} it can be mixed: {:?}",
            outcome.err()
        );
    }
}

/// Escapes of the language that the crate is written in, as its reference prints them.
#[test]
fn words_of_others_stay_on_one_line() {
    for (id, quoted) in [
        ("mud", r#""mud""#),
        ("a\"b\\c", r#""a\"b\\c""#),
        ("a\nb\rc\td", r#""a\nb\rc\td""#),
        (
            "\u{0}\u{1}\u{f}\u{10}\u{1f}\u{7f}\u{9f}",
            r#""\u{0}\u{1}\u{f}\u{10}\u{1f}\u{7f}\u{9f}""#,
        ),
        ("erde 土 é", "\"erde 土 é\""),
    ] {
        let mut recipe = with(&[(1.0, Unit::Litre)]);
        recipe.additions[0].material = id.into();
        let error = Outcome::of(&recipe).expect_err("nobody knows it");
        let text = error_text(&error);
        assert!(text.contains(quoted), "{quoted} in {text}");
        assert!(!text.contains(char::is_control), "{text:?}");
    }
}

/// A share of the volume and one of the mass stand beside each other: both hold in the heap.
#[test]
fn shares_of_volume_and_of_mass_hold_together() {
    for (volume, mass) in [(20.0, 15.0), (5.0, 60.0), (50.0, 10.0)] {
        let recipe = recipes::recipe(&json!({ "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
            "soil": { "value": 40, "unit": "L" },
            "additions": [
                { "material": "yard_compost", "amount": { "value": volume, "unit": "%v" } },
                { "material": "concrete_sand", "amount": { "value": mass, "unit": "%m" } }] }));
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        let barrow = &outcome.barrow;
        let [compost, sand] = &barrow.lines[..] else {
            panic!("two lines");
        };
        let all_m3 = barrow.ground_loose_m3() + compost.loose_m3 + sand.loose_m3;
        let all_kg = barrow.ground_dry_kg + compost.dry_kg + sand.dry_kg;
        support::assert_relative(100.0 * compost.loose_m3 / all_m3, volume, 1e-12, "volume");
        support::assert_relative(100.0 * sand.dry_kg / all_kg, mass, 1e-12, "mass");
    }
}

#[test]
fn shares_that_leave_nothing_are_told_as_they_were_typed() {
    for shares in [[30.0, 70.0], [80.0, 45.0]] {
        for unit in ["%v", "%m"] {
            let lines = shares.map(
                |value| json!({ "material": "pumice", "amount": { "value": value, "unit": unit } }),
            );
            let recipe = recipes::recipe(&json!({ "barrowmix": 1,
                "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
                "soil": { "value": 40, "unit": "L" }, "additions": lines }));
            let error = Outcome::of(&recipe).expect_err("nothing is left for the ground");
            let Fault::Shares {
                volume_pct,
                mass_pct,
            } = error.fault
            else {
                panic!("{error:?}");
            };
            let sum = shares[0] + shares[1];
            let told = if unit == "%v" { [sum, 0.0] } else { [0.0, sum] };
            support::assert_close(volume_pct, told[0], 1e-9, "shares of volume");
            support::assert_close(mass_pct, told[1], 1e-9, "shares of mass");
        }
    }
}

/// The ground to fetch for a place is its dry matter and the water in it.
#[test]
fn ground_for_a_place_is_told_as_it_is_dug() {
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55, "water_per_dry_pct": 25 },
        "soil": { "value": 50, "unit": "kg" }, "additions": [] }));
    let target = FillTarget::of(0.1).m3().expect("a room");
    let (recipe, told) = filled(&recipe, target).expect("it can be filled");
    let Soil::Amount(amount) = &recipe.soil else {
        panic!("an amount");
    };
    support::assert_relative(told.ground_moist_kg, amount.value, 1e-12, "kg as dug");
    support::assert_relative(told.ground_moist_kg, 50.0 * told.factor, 1e-12, "kg as dug");
}

/// A bulk takes at most 0.88 of its grains settled and 0.80 fresh, and a hair of a thousandth is
/// kept: the grain that another weight asks for is that dense, to four figures.
#[test]
fn a_heavier_lot_has_grains_that_can_bear_it() {
    for (settled, loose, grain) in [(360.0, 600.0, 819.0), (310.0, 610.0, 763.3)] {
        let recipe = recipes::recipe(&json!({ "barrowmix": 1,
            "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
            "soil": { "value": 40, "unit": "L" }, "additions": [],
            "materials": [{ "id": "own", "group": "porous_mineral", "water_per_wet_pct": 0,
                "loose_density_kg_m3": 300, "settled_dry_density_kg_m3": settled,
                "grain_density_kg_m3": 500 }] }));
        let moved = with_loose_density(&recipe.materials[0], Figure::exact(loose));
        let figure = moved.properties.get(Property::GrainDensity);
        let is = figure.expect("it was told").typical;
        support::assert_close(is, grain, 0.051, "grain density");
    }
}
