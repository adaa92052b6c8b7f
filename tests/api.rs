#![cfg(not(target_arch = "wasm32"))]
//! What JavaScript is answered, natively: its shape, its issues, and the types that are told of it.

mod support;
#[path = "support/typescript.rs"]
mod typescript;

use barrowmix::api::{
    self, Answer, ClassTold, Issue, LETTERS_LIMIT, Strange, check, classify, convert, decode,
    encode, evaluate, read,
};
use barrowmix::document::document;
use barrowmix::ground::Trait;
use barrowmix::material::{Group, Property};
use barrowmix::outcome::Outcome;
use barrowmix::quantity::{Dimension, Unit};
use barrowmix::recipe::lectern::Shown;
use barrowmix::recipe::{Measurement, Path, Recipe};
use barrowmix::texture::{Class, System};
use barrowmix::tongue::{Language, speak};
use barrowmix::words::{METRIC, READY, Speech, Units};
use serde::Serialize;
use serde_json::{Value, json};
use support::dice::Dice;
use support::judge::signed;
use support::recipes::{FULL, random_measured};
use support::spoil::spoiled;
use typescript::{Met, Types};

/// A recipe with every field that the types declare, each form of it somewhere.
const EVERYTHING: &str = include_str!("reference/api_everything.json");

fn value(answer: &impl Serialize) -> Value {
    serde_json::to_value(answer).expect("it is plain data")
}

fn examples() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes");
    let files = std::fs::read_dir(folder).expect("the examples are there");
    let mut out: Vec<(String, String)> = files
        .map(|file| {
            let path = file.expect("it can be listed").path();
            let text = std::fs::read_to_string(&path).expect("it can be read");
            (path.display().to_string(), text)
        })
        .collect();
    out.sort();
    assert!(out.len() >= 14, "{} recipes", out.len());
    out
}

fn issues<T>(answer: &Answer<T>) -> Vec<(&'static str, String)> {
    let issues = answer.as_ref().err().unwrap_or_default();
    issues
        .iter()
        .map(|issue| (issue.code, issue.path.clone()))
        .collect()
}

#[test]
fn the_document_is_that_of_the_library() {
    for (name, text) in examples() {
        let recipe = Recipe::from_json(&text).expect("an example has no fault");
        let outcome = Outcome::of(&recipe).expect("it can be mixed");
        let answer = value(&evaluate(read(&text), METRIC));
        let expected = json!({ "ok": true, "outcome": document(&outcome, METRIC) });
        assert_eq!(answer.to_string(), expected.to_string(), "{name}");
    }
}

#[test]
fn sentences_are_told_in_units_and_languages() {
    let (_, text) = examples()
        .into_iter()
        .find(|(name, _)| name.contains("sand-half"))
        .expect("it is there");
    let recipe = Recipe::from_json(&text).expect("an example has no fault");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let us = Speech { units: Units::Us };
    let answer = value(&evaluate(read(&text), us));
    assert_eq!(
        answer["outcome"],
        value(&document(&outcome, us)),
        "in pounds"
    );
    let metric = value(&evaluate(read(&text), METRIC));
    assert_ne!(answer, metric, "some sentence has a unit");
    // No number is another one.
    let without_texts = |mut told: Value| {
        for list in ["verdict", "notes", "cautions"] {
            for remark in told["outcome"][list].as_array_mut().expect("a list") {
                remark["text"] = Value::Null;
            }
        }
        told
    };
    assert_eq!(
        without_texts(answer),
        without_texts(metric.clone()),
        "numbers"
    );
    speak(Language::Spanish);
    let spanish = value(&evaluate(read(&text), METRIC));
    let class = classify([Some(0.0), Some(0.0), Some(100.0)], None);
    assert_eq!(
        class.as_ref().map(|class| class.name),
        Ok("arcilla"),
        "clay"
    );
    let sand = api::materials()
        .into_iter()
        .find(|one| one.id == "concrete_sand");
    assert_eq!(
        sand.map(|sand| sand.name),
        Some("Arena para hormigón"),
        "sand"
    );
    speak(Language::English);
    assert_ne!(spanish, metric, "the sentences");
    assert_eq!(
        without_texts(spanish),
        without_texts(metric),
        "nothing else"
    );
}

#[test]
fn every_field_at_fault_is_told_and_no_other() {
    let typed = r#"{"barrowmix":1,"ground":{"sand_pct":"","silt_pct":25,"clay_pct":155},
        "soil":{"unit":"L"},"additions":[{"material":"concrete_sand","amount":{"value":2}},
        {"amount":[],"price":{"value":-1,"per":{"value":0,"unit":"bag"}}}],"what":1}"#;
    let told = issues(&check(read(typed)));
    // A sum of fractions that are at fault, a unit in no object: they follow, and are not told.
    let expected = [
        ("kind", "ground.sand_pct"),
        ("out_of_range", "ground.clay_pct"),
        ("missing", "soil.value"),
        ("missing", "additions[0].amount.unit"),
        ("missing", "additions[1].material"),
        ("kind", "additions[1].amount"),
        ("out_of_range", "additions[1].price.value"),
        ("out_of_range", "additions[1].price.per.value"),
        ("unknown_field", "what"),
    ];
    let expected = expected.map(|(code, path)| (code, path.to_owned()));
    assert_eq!(told, expected, "all faults of {typed}");
    let answer = check(read(typed));
    let of_clay = &answer.as_ref().err().expect("it has faults")[1];
    assert_eq!(
        (of_clay.low, of_clay.high),
        (Some(0.0), Some(100.0)),
        "its limits"
    );
    assert!(of_clay.text.contains("155"), "{}", of_clay.text);
    assert_eq!(
        issues(&check(read("[]"))),
        [("kind", "$".to_owned())],
        "no object, no more"
    );
    assert_eq!(
        issues(&check(read("{"))),
        [("not_json", "$".to_owned())],
        "no JSON"
    );
    let long = format!("\"{}\"", "a".repeat(LETTERS_LIMIT));
    assert_eq!(
        issues(&check(read(&long))),
        [("too_large", "$".to_owned())],
        "too long"
    );
}

#[test]
fn the_first_issue_is_the_fault_of_the_library() {
    let mut dice = Dice::new(401);
    let (mut good, mut bad) = (0, 0);
    for _ in 0..3000 {
        let text = random_measured(&mut dice).to_string().into_bytes();
        let text = String::from_utf8_lossy(&spoiled(&mut dice, &text)).into_owned();
        let library = Recipe::from_json(&text).and_then(|recipe| Outcome::check(&recipe));
        let answer = check(read(&text));
        match (library, answer.as_ref()) {
            (Ok(()), Ok(_)) => good += 1,
            (Err(error), Err(issues)) => {
                bad += 1;
                assert_eq!(issues[0], Issue::from(error), "of {text}");
                for (index, issue) in issues.iter().enumerate() {
                    let twice = issues[..index].iter().any(|other| other.path == issue.path);
                    assert!(!twice, "{} is told once of {text}", issue.path);
                }
            }
            (library, answer) => panic!("{library:?} but {:?} of {text}", answer.err()),
        }
    }
    assert!(good > 100 && bad > 1000, "{good} good, {bad} bad");
}

#[test]
fn what_is_checked_can_be_evaluated() {
    let mut dice = Dice::new(402);
    for _ in 0..150 {
        let text = random_measured(&mut dice).to_string();
        let (checked, evaluated) = (check(read(&text)), evaluate(read(&text), METRIC));
        assert_eq!(issues(&checked), issues(&evaluated), "of {text}");
    }
    // What stands beside the blend is checked too, and no part of an outcome.
    let beside = FULL.replacen('{', r#"{"errand":{"offers":5},"#, 1);
    assert_eq!(
        issues(&check(read(&beside))),
        [("kind", "errand.offers".to_owned())],
        "errand"
    );
    assert_eq!(issues(&evaluate(read(&beside), METRIC)), [], "the outcome");
}

/// Faults that do not follow from each other are told together.
#[test]
fn names_that_nobody_knows_are_told_together() {
    let typed = r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":60,"colour":1,"smell":2},
        "soil":{"value":-1,"unit":"L"},"what":1,
        "additions":[{"material":"moon","amount":{"value":2,"unit":"L"}},
        {"material":"mars","amount":{"value":2,"unit":"L"}}]}"#;
    let expected = [
        ("out_of_range", "soil.value"),
        ("unknown_field", "ground.colour"),
        ("unknown_field", "ground.smell"),
        ("unknown_field", "what"),
        ("unknown_material", "additions[0].material"),
        ("unknown_material", "additions[1].material"),
    ];
    let expected = expected.map(|(code, path)| (code, path.to_owned()));
    let mut told = issues(&check(read(typed)));
    told.retain(|(code, _)| *code != "fractions");
    assert_eq!(told, expected, "each in its turn");
    // A material that does not read may be the one that is looked for.
    let own = r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
        "soil":{"value":4,"unit":"L"},"materials":[{"id":7}],
        "additions":[{"material":"mine","amount":{"value":2,"unit":"L"}}]}"#;
    let told = issues(&check(read(own)));
    assert!(
        told.iter()
            .all(|(_, path)| path.starts_with("materials[0]"))
            && !told.is_empty(),
        "{told:?}"
    );
}

#[test]
fn links_go_out_and_come_back() {
    for (name, text) in examples() {
        let answer = encode(read(&text));
        let letters = match answer.as_ref() {
            Ok(letters) => letters,
            Err(issues) => {
                assert_eq!(issues[0].code, "link_too_long", "{name}");
                continue;
            }
        };
        let written = value(&check(read(&text)));
        let (head, tail) = letters.split_at(letters.len() / 2);
        for link in [
            letters.clone(),
            format!(" {head}\r\n{tail}\n"),
            format!("https://soil.example/?embed#{letters}"),
        ] {
            assert_eq!(value(&decode(&link)), written, "{name}");
        }
        assert_eq!(
            issues(&decode(&letters[..letters.len() - 1])),
            [("link", "$".to_owned())],
            "cut"
        );
    }
    assert_eq!(issues(&decode("")), [("link", "$".to_owned())], "nothing");
    let long = String::from_utf8(signed(&b"1".repeat(9000))).expect("letters");
    assert_eq!(
        issues(&decode(&long)),
        [("link_too_long", "$".to_owned())],
        "too long"
    );
}

#[test]
fn classes_are_told_by_numbers_alone() {
    for system in api::systems() {
        let mut seen = Vec::new();
        for sand in 0..=100 {
            for silt in 0..=100 - sand {
                let parts = [sand, silt, 100 - sand - silt].map(f64::from);
                let answer = classify(parts.map(Some), Some(system.id));
                let class = *answer.as_ref().expect("they sum to a hundred");
                assert_eq!(class.system, system.id, "{parts:?}");
                if system.id == "usda" {
                    assert_eq!(
                        class.id,
                        barrowmix::texture::classify(parts).id(),
                        "{parts:?}"
                    );
                    let usual = classify(parts.map(Some), None);
                    assert_eq!(usual.as_ref(), Ok(&class), "the usual system, {parts:?}");
                }
                let told = ClassTold {
                    id: class.id,
                    name: class.name,
                };
                assert!(system.classes.contains(&told), "{class:?}");
                if !seen.contains(&class.id) {
                    seen.push(class.id);
                }
            }
        }
        assert_eq!(
            seen.len(),
            system.classes.len(),
            "every class of {} is one of something",
            system.id
        );
    }
    let refused = |parts: [f64; 3], system| issues(&classify(parts.map(Some), system));
    let path = |code, path: &str| vec![(code, path.to_owned())];
    assert_eq!(
        refused([20.0, 30.0, f64::NAN], None),
        path("not_finite", "clay"),
        "NaN"
    );
    assert_eq!(
        refused([-1.0, 51.0, 50.0], None),
        path("out_of_range", "sand"),
        "too little"
    );
    assert_eq!(
        refused([20.0, 30.0, 40.0], None),
        path("fractions", "$"),
        "their sum"
    );
    assert_eq!(
        refused([20.0, 30.0, 50.0], Some("mars")),
        path("not_one_of", "system"),
        "where"
    );
}

/// The answer is that of the crate, to the last bit; the worked example is told in
/// `texture_systems.rs`.
#[test]
fn fractions_are_told_by_other_limits() {
    for from in System::ALL {
        for to in System::ALL {
            for parts in [[30.0, 40.0, 30.0], [5.0, 85.0, 10.0], [0.0, 0.0, 100.0]] {
                let answer = convert(parts.map(Some), from.id(), to.id());
                let told = *answer.as_ref().expect("they sum to a hundred");
                let held = barrowmix::texture::convert(parts, from, to).expect("they do");
                let fractions = [told.sand_pct, told.silt_pct, told.clay_pct];
                assert_eq!(fractions, held.fractions_pct, "{parts:?}");
                assert_eq!(told.doubt_pct, held.doubt_pct, "{parts:?}");
                assert_eq!(told.system, to.id(), "{parts:?}");
                let same = from.silt_um() == to.silt_um();
                assert_eq!(told.way == "same", same, "{} to {}", from.id(), to.id());
            }
        }
    }
    let told = issues(&convert(
        [Some(20.0), None, Some(f64::INFINITY)],
        "moon",
        "mars",
    ));
    let expected = [
        ("kind", "silt"),
        ("not_finite", "clay"),
        ("not_one_of", "from"),
        ("not_one_of", "to"),
    ];
    assert_eq!(
        told,
        expected.map(|(code, path)| (code, path.to_owned())),
        "all faults at once"
    );
    let short = convert([Some(20.0), Some(30.0), Some(40.0)], "usda", "uk");
    assert_eq!(issues(&short), [("fractions", "$".to_owned())], "their sum");
}

#[test]
fn the_types_tell_the_words_of_the_library() {
    let types = Types::read(api::TYPES);
    let units = |of: &[Dimension]| -> Vec<String> {
        let all = Unit::ALL
            .iter()
            .filter(|unit| of.contains(&unit.dimension()));
        all.map(|unit| unit.spelling().to_owned()).collect()
    };
    for (name, words) in [
        ("MassUnit", units(&[Dimension::Mass])),
        ("VolumeUnit", units(&[Dimension::Volume])),
        ("LengthUnit", units(&[Dimension::Length])),
        ("AreaUnit", units(&[Dimension::Area])),
        (
            "RateUnit",
            units(&[Dimension::MassPerArea, Dimension::MassPerVolume]),
        ),
        (
            "ShareUnit",
            units(&[
                Dimension::ShareOfVolume,
                Dimension::ShareOfMass,
                Dimension::Part,
                Dimension::Bag,
            ]),
        ),
        (
            "Group",
            Group::ALL
                .iter()
                .map(|of| of.spelling().to_owned())
                .collect(),
        ),
        (
            "TextureClass",
            Class::ALL.iter().map(|of| of.id().to_owned()).collect(),
        ),
        (
            "Language",
            Language::ALL.iter().map(|of| of.tag().to_owned()).collect(),
        ),
        (
            "Guessed",
            Shown::guessable()
                .iter()
                .map(|of| of.spelling().to_owned())
                .collect(),
        ),
        (
            "System",
            api::systems().iter().map(|of| of.id.to_owned()).collect(),
        ),
    ] {
        assert_eq!(types.words_of(name), words, "{name}");
    }
    let names = |all: &[&str]| {
        all.iter()
            .map(|name| (*name).to_owned())
            .collect::<Vec<_>>()
    };
    let traits: Vec<&str> = Trait::ALL.iter().map(|of| of.name()).collect();
    let properties: Vec<&str> = Property::ALL.iter().map(|of| of.name()).collect();
    let measurements: Vec<&str> = Measurement::ALL.iter().map(|of| of.name()).collect();
    assert_eq!(types.fields_of("Ground"), names(&traits), "the ground");
    assert_eq!(
        types.fields_of("Properties"),
        names(&properties),
        "a material"
    );
    assert_eq!(
        types.fields_of("Measurements"),
        names(&measurements),
        "what is measured"
    );
}

/// Both ways: nothing in a document that is not declared or lacks what is declared as there, and
/// nothing declared that no document has. What goes in is read by the library itself.
#[test]
fn the_types_are_those_of_the_documents() {
    let types = Types::read(api::TYPES);
    let mut met = Met::new();
    let mut hold = |document: &Value, name: &str, of: &str| {
        let held = types.hold(document, name, &mut met);
        assert_eq!(held, Ok(()), "{of}");
    };
    let mut texts = examples();
    texts.extend(
        READY
            .iter()
            .map(|ready| (ready.id.to_owned(), ready.json.to_owned())),
    );
    texts.push(("everything".to_owned(), EVERYTHING.to_owned()));
    texts.push(("a bed".to_owned(), FULL.to_owned()));
    texts.push(("a trial in a bed".to_owned(), in_a_bed(EVERYTHING)));
    let mut dice = Dice::new(403);
    texts.extend(
        (0..120).map(|number| (number.to_string(), random_measured(&mut dice).to_string())),
    );
    for (name, text) in &texts {
        let recipe: Value = serde_json::from_str(text).expect("it is JSON");
        hold(&recipe, "Recipe", name);
        let checked = value(&check(read(text)));
        hold(&checked, "RecipeAnswer", name);
        if number_of(name).is_none() {
            assert_eq!(checked["ok"], true, "{name}: {checked}");
        }
        hold(&value(&evaluate(read(text), METRIC)), "OutcomeAnswer", name);
        hold(&value(&encode(read(text))), "LettersAnswer", name);
    }
    let clays = (0..=100).map(|clay| {
        [
            Some(100.0 - f64::from(clay)),
            Some(0.0),
            Some(f64::from(clay)),
        ]
    });
    for parts in clays {
        hold(&value(&classify(parts, None)), "ClassAnswer", "a class");
        for [from, to] in [
            ["usda", "fao"],
            ["uk", "fao"],
            ["usda", "international"],
            ["international", "usda"],
        ] {
            let there = value(&convert(parts, from, to));
            hold(&there, "FractionsAnswer", "fractions");
        }
    }
    hold(
        &value(&classify([None; 3], Some("?"))),
        "ClassAnswer",
        "no class",
    );
    for material in api::materials() {
        hold(&value(&material), "Material", material.id);
    }
    for system in api::systems() {
        hold(&value(&system), "SystemOfClasses", system.id);
    }
    for strange in [
        Strange::NoData,
        Strange::Unreadable,
        Strange::TooDeep,
        Strange::HalfLetter,
    ] {
        hold(
            &value(&strange.at(&Path::root())),
            "Issue",
            "a strange value",
        );
    }
    for _ in 0..1000 {
        let text = random_measured(&mut dice).to_string().into_bytes();
        let text = spoiled(&mut dice, &text);
        let answer = value(&check(read(&String::from_utf8_lossy(&text))));
        if answer["ok"] == false {
            hold(&answer, "RecipeAnswer", "spoiled");
        }
    }
    let fields = types.fields();
    let never: Vec<_> = fields
        .difference(&met)
        .filter(|(name, _)| name != "Properties")
        .collect();
    assert!(never.is_empty(), "declared, and in no document: {never:?}");
}

/// The same with strips of a bed in place of containers.
fn in_a_bed(text: &str) -> String {
    let mut recipe: Value = serde_json::from_str(text).expect("it is JSON");
    let trial = recipe["trial"].as_object_mut().expect("it has a trial");
    trial.remove("container");
    trial.insert("strip".to_owned(), recipe_bed());
    recipe.to_string()
}

fn recipe_bed() -> Value {
    json!({ "area": { "value": 2, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } })
}

fn number_of(name: &str) -> Option<u32> {
    name.parse().ok()
}
