#![cfg(not(target_arch = "wasm32"))]
//! Grounds to start from: all can be mixed, and a slip in their file is told with the line.

use barrowmix::ground::{Ground, PRESETS, Preset, Trait};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::source::{Mark, Source};
use barrowmix::texture::{Class, classify};

/// The script that checks the file when the crate is built.
#[allow(dead_code, unreachable_pub)]
#[path = "../build.rs"]
mod build;

use build::presets;

const HEADER: &str = "id,name,field,low,typical,high,source,mark,note\n";

#[test]
fn every_preset_can_be_mixed() {
    assert_eq!(PRESETS.len(), 6, "six presets");
    for preset in PRESETS {
        let traits = preset.traits();
        let ground = Ground::of(&traits);
        assert!(ground.is_ok(), "{}: {ground:?}", preset.id);
        let sum: f64 = traits.fractions_pct().iter().sum();
        assert!((sum - 100.0).abs() <= 0.5, "{}: {sum}", preset.id);
        let mut recipe = Recipe::from_json(
            r#"{ "barrowmix": 1, "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
                 "soil": { "value": 40, "unit": "L" },
                 "additions": [{ "material": "yard_compost", "amount": { "value": 20, "unit": "%v" } }] }"#,
        )
        .expect("a good recipe");
        recipe.ground = traits;
        let outcome = Outcome::of(&recipe);
        assert!(outcome.is_ok(), "{}: {:?}", preset.id, outcome.err());
        // It is also a good document, ranges and all.
        let again = Recipe::from_json(&recipe.to_json());
        let again = again.unwrap_or_else(|faults| panic!("{}: {faults:?}", preset.id));
        assert_eq!(again.ground, recipe.ground, "{}", preset.id);
    }
}

#[test]
fn presets_are_what_they_are_called() {
    for (id, name, class) in [
        ("heavy_clay", "Heavy clay", Class::Clay),
        ("silty_clay", "Silty clay", Class::SiltyClay),
        ("clay_loam", "Clay loam", Class::ClayLoam),
        ("sodic_clay", "Sodic clay", Class::Clay),
        ("sandy_loam", "Sandy loam", Class::SandyLoam),
        ("builders_subsoil", "Builder's subsoil", Class::ClayLoam),
    ] {
        let preset = Preset::find(id).unwrap_or_else(|| panic!("{id} is known"));
        assert_eq!(preset.name, name);
        assert_eq!(classify(preset.traits().fractions_pct()), class, "{id}");
    }
    assert!(Preset::find("gold").is_none());
}

#[test]
fn numbers_are_those_of_the_file() {
    let text = include_str!("../src/ground/presets.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut rows = 0;
    for row in reader.records() {
        let row = row.expect("a row");
        let preset = Preset::find(&row[0]).unwrap_or_else(|| panic!("{} is known", &row[0]));
        let of = Trait::ALL.iter().find(|of| of.name() == &row[2]);
        let of = of.unwrap_or_else(|| panic!("{} is known", &row[2]));
        let figure = preset.traits().get(*of);
        let figure = figure.unwrap_or_else(|| panic!("{} has {}", &row[0], &row[2]));
        let ends = figure.ends();
        for (value, column) in [(ends.low, 3), (figure.typical, 4), (ends.high, 5)] {
            assert_eq!(Ok(value), row[column].parse(), "{} {}", &row[0], &row[2]);
        }
        let number = preset.numbers.iter().find(|known| known.field == &row[2]);
        let number = number.unwrap_or_else(|| panic!("{} holds {}", &row[0], &row[2]));
        assert_eq!(
            (number.source, number.mark.id(), number.note),
            (&row[6], &row[7], &row[8]),
            "{} {}",
            &row[0],
            &row[2]
        );
        assert!(
            Source::find(&row[6]).is_some(),
            "{} {}: source {}",
            &row[0],
            &row[2],
            &row[6]
        );
        assert!(
            Mark::ALL.iter().any(|mark| mark.id() == &row[7]),
            "{} {}: mark {}",
            &row[0],
            &row[2],
            &row[7]
        );
        rows += 1;
    }
    let count: usize = PRESETS.iter().map(|preset| preset.traits.len()).sum();
    assert_eq!(rows, count, "every row is a trait");
    let numbers: usize = PRESETS.iter().map(|preset| preset.numbers.len()).sum();
    assert_eq!(rows, numbers, "every row is kept with its source");
}

/// A source of the name S.
fn sources() -> build::table::Sources {
    [("S".to_owned(), "Somebody 1999".to_owned())].into()
}

#[test]
fn a_slip_in_the_file_is_told_with_its_line() {
    let read = |rows: &str| presets::read(&format!("{HEADER}{rows}"), &sources()).err();
    let good = "a,A,sand_pct,10,20,30,S,practice,\n\
                a,A,silt_pct,10,30,40,S,practice,\n\
                a,A,clay_pct,40,50,60,S,practice,\n";
    assert_eq!(read(good), None, "a good file");
    for (row, says) in [
        ("a,A,ph,5,6,7,,practice,", "source"),
        ("a,A,ph,7,6,5,S,practice,", "low <= typical"),
        ("a,A,ph,5,6,15,S,practice,", "<= 14"),
        ("a,A,ph,5,x,7,S,practice,", "typical is not a number"),
        ("a,A,ph,5,NaN,7,S,practice,", "typical is not a number"),
        ("a,A,ph,5,6,7,NOBODY,practice,", "no source"),
        ("a,A,sourness,5,6,7,S,practice,", "no field"),
        ("a,A,ph,5,6,7,S,hearsay,", "mark"),
        ("a,B,ph,5,6,7,S,practice,", "another name"),
        ("a,,ph,5,6,7,S,practice,", "name"),
        ("a,A,clay_pct,5,6,7,S,practice,", "twice"),
        ("A b,A,ph,5,6,7,S,practice,", "a-z"),
    ] {
        let fault = read(&format!("{good}{row}\n"));
        let fault = fault.unwrap_or_else(|| panic!("{row} is a slip"));
        assert!(fault.starts_with("src/ground/presets.csv:5: "), "{fault}");
        assert!(fault.contains(says), "{fault}: {says}");
    }
    let missing = read("b,B,sand_pct,10,20,30,S,practice,\n").expect("silt is missing");
    assert!(
        missing.starts_with("src/ground/presets.csv:2: b: silt_pct"),
        "{missing}"
    );
    let sum = read(&good.replace("40,50,60", "40,49,60")).expect("the sum is 99");
    assert!(sum.starts_with("src/ground/presets.csv:2: a: "), "{sum}");
}
