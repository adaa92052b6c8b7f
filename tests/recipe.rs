#![cfg(not(target_arch = "wasm32"))]
//! A recipe saved is the recipe opened: as a file, as a link, and with fields it does not know.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Fault, Measurement, RELEASE, Recipe, Tree, from_link, to_link};
use support::dice::Dice;
use support::recipes::{self, FULL, read};

/// Most letters that the link of a recipe without materials of its own should have.
const SHORT_LINK: usize = 400;
/// Letters of one with ten offers, their prices and deliveries.
const ERRAND_LINK: usize = 800;
/// The same with a trial and its records.
const TRIAL_LINK: usize = 8000;

/// What a later release might write: numbers as written, nothing, lists, objects, texts.
const FROM_LATER: &str = r#"{"a":1.50,"b":[1e400,-0.0,null,true,{"c":"\u00fc\"\\\n"}],"c":{}}"#;

fn tree(text: &str) -> Tree {
    Tree::parse(text).unwrap_or_else(|place| panic!("{place:?} in {text}"))
}

/// The same tree with the fields of every object by name: their order has no meaning.
fn sorted(tree: &Tree) -> Tree {
    match tree {
        Tree::List(items) => Tree::List(items.iter().map(sorted).collect()),
        Tree::Object(pairs) => {
            let mut pairs: Vec<(String, Tree)> = pairs
                .iter()
                .map(|(name, value)| (name.clone(), sorted(value)))
                .collect();
            pairs.sort_by(|one, other| one.0.cmp(&other.0));
            Tree::Object(pairs)
        }
        other => other.clone(),
    }
}

type Visit<'a> = dyn FnMut(&mut Vec<(String, Tree)>, &str) + 'a;

/// Calls with every object of the document and its path.
fn each_object(tree: &mut Tree, path: &str, visit: &mut Visit) {
    match tree {
        Tree::Object(pairs) => {
            for (name, value) in pairs.iter_mut() {
                let inner = if path.is_empty() {
                    name.clone()
                } else {
                    format!("{path}.{name}")
                };
                each_object(value, &inner, visit);
            }
            visit(pairs, path);
        }
        Tree::List(items) => {
            for (index, item) in items.iter_mut().enumerate() {
                each_object(item, &format!("{path}[{index}]"), visit);
            }
        }
        _ => {}
    }
}

/// Paths of all objects of [`FULL`] but the ranges, which hold three numbers and nothing else.
fn places() -> Vec<String> {
    let mut places = Vec::new();
    each_object(&mut tree(FULL), "", &mut |_, path| {
        places.push(path.to_owned());
    });
    places
}

/// [`FULL`] with an unknown field at one place, made by a release.
fn with_unknown(place: &str, made_by: &str) -> Tree {
    let mut document = tree(&FULL.replace("99.0.0", made_by));
    each_object(&mut document, "", &mut |pairs, path| {
        if path == place {
            pairs.insert(1, ("frost_days".into(), tree(FROM_LATER)));
        }
    });
    document
}

#[test]
fn files_hold_everything() {
    let mut dice = Dice::new(8);
    for _ in 0..1000 {
        let document = recipes::random_measured(&mut dice);
        let recipe = recipes::recipe(&document);
        let saved = recipe.to_json();
        assert_eq!(read(&saved), recipe, "opened again from {saved}");
        assert_eq!(read(&saved).to_json(), saved, "saved again");
        let compact = recipe.to_tree().compact();
        assert_eq!(read(&compact), recipe, "opened again from {compact}");
    }
}

#[test]
fn numbers_keep_their_last_digit() {
    for typed in [
        "0.1",
        "33.333333333333336",
        "7.000000000000001",
        "1e-7",
        "0.000012345678901234567",
        "999999.9999999999",
    ] {
        let text = FULL.replace(
            r#""value":3,"unit":"bag""#,
            &format!(r#""value":{typed},"unit":"bag""#),
        );
        let value = |recipe: &Recipe| recipe.additions[1].amount.value;
        let recipe = read(&text);
        let expected: f64 = typed.parse().expect("a number");
        assert_eq!(
            value(&recipe).to_bits(),
            expected.to_bits(),
            "{typed} as read"
        );
        assert_eq!(
            value(&read(&recipe.to_json())).to_bits(),
            expected.to_bits(),
            "{typed} in a file"
        );
        let link = to_link(&recipe).expect("it fits");
        let opened = from_link(&link).expect("the link is good");
        assert_eq!(
            value(&opened).to_bits(),
            expected.to_bits(),
            "{typed} in a link"
        );
    }
}

#[test]
fn example_recipes_open() {
    let folder = format!("{}/examples/recipes", env!("CARGO_MANIFEST_DIR"));
    let mut opened = 0;
    for entry in std::fs::read_dir(folder).expect("there are example recipes") {
        let path = entry.expect("a file").path();
        let text = std::fs::read_to_string(&path).expect("a text");
        let recipe = read(&text);
        let name = path.display();
        if let Err(error) = Outcome::of(&recipe) {
            panic!("{name}: {error:?}");
        }
        let link = to_link(&recipe).unwrap_or_else(|error| panic!("{name}: {error:?}"));
        assert_eq!(from_link(&link), Ok(recipe.clone()), "{name} by its link");
        let most = if recipe.trial.is_some() {
            TRIAL_LINK
        } else if recipe.errand.is_some() {
            ERRAND_LINK
        } else {
            SHORT_LINK
        };
        let short = !recipe.materials.is_empty() || link.len() < most;
        assert!(short, "{name}: {} letters", link.len());
        opened += 1;
    }
    assert!(opened >= 3, "{opened} example recipes");
}

#[test]
fn fields_of_a_later_release_are_kept() {
    let places = places();
    assert_eq!(places.len(), 31, "objects in the document: {places:?}");
    for place in &places {
        let document = with_unknown(place, "99.0.0");
        let recipe = Recipe::from_tree(document.clone());
        let recipe = recipe.unwrap_or_else(|error| panic!("at {place:?}: {error:?}"));
        assert!(recipe.keeps_unknown_fields(), "at {place:?} it is noted");
        assert_eq!(
            sorted(&recipe.to_tree()),
            sorted(&document),
            "saved again, at {place:?}"
        );
        assert_eq!(read(&recipe.to_json()), recipe, "by file, at {place:?}");
        let link = to_link(&recipe).expect("it fits");
        assert_eq!(
            from_link(&link),
            Ok(recipe.clone()),
            "by link, at {place:?}"
        );
        let outcome = Outcome::of(&recipe).unwrap_or_else(|error| panic!("{error:?}"));
        let noted = outcome.notes.iter().any(|note| note.id() == "kept_fields");
        assert!(noted, "at {place:?} the outcome says so");
    }
    let none = read(FULL);
    assert!(
        !none.keeps_unknown_fields(),
        "a later release alone is nothing unknown"
    );
}

#[test]
fn unknown_fields_of_other_releases_are_refused() {
    for place in places() {
        for made_by in [RELEASE, "0.0.9", "soon", ""] {
            let error = Recipe::from_tree(with_unknown(&place, made_by));
            let error = error.expect_err("an unknown field");
            let path = if place.is_empty() {
                "frost_days".into()
            } else {
                format!("{place}.frost_days")
            };
            assert_eq!(error.path.as_str(), path, "made by {made_by:?}");
            assert_eq!(
                error.fault,
                Fault::UnknownField,
                "made by {made_by:?} at {path}"
            );
        }
    }
}

/// Each in its own place, where every object and every range has one.
#[test]
fn fields_of_a_later_release_stay_where_they_were() {
    let range = |of: Measurement| {
        let value = if of == Measurement::BulkDensity {
            "1200"
        } else {
            "20"
        };
        let ends = ["low", "typical", "high"].map(|end| format!(r#""{end}":{value}"#));
        format!(r#""{}":{{{}}}"#, of.name(), ends.join(","))
    };
    let ranges: Vec<String> = Measurement::ALL.iter().copied().map(range).collect();
    let ranges = ranges.join(",");
    let measured = tree(&format!(
        r#"{{"ground":{{{ranges}}},"blend":{{{ranges}}}}}"#
    ));
    let mut document = tree(FULL);
    let Tree::Object(pairs) = &mut document else {
        panic!("it is an object");
    };
    let (_, of) = pairs
        .iter_mut()
        .find(|(name, _)| name == "measured")
        .expect("measured");
    *of = measured;
    let mut count = 0;
    each_object(&mut document, "", &mut |pairs, _| {
        count += 1;
        pairs.push(("frost_days".into(), Tree::Number(count.to_string())));
    });
    assert!(count >= 30 + 2 * Measurement::ALL.len(), "{count} objects");
    let recipe = Recipe::from_tree(document.clone());
    let recipe = recipe.unwrap_or_else(|error| panic!("{error:?}"));
    assert_eq!(sorted(&recipe.to_tree()), sorted(&document), "saved again");
    assert_eq!(read(&recipe.to_json()), recipe, "by file");
}
