#![cfg(not(target_arch = "wasm32"))]
//! A recipe's own materials: copied, put, deleted, carried to other recipes.

mod support;

use barrowmix::figure::Figure;
use barrowmix::material::{Entry, Group, Property, catalogue};
use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::own::{
    BucketFault, OwnFault, add, copy_of, delete, fresh_id, import, k2o_pct, materials_from_json,
    materials_to_json, p2o5_pct, phosphorus_pct, potassium_pct, put, recipe_materials_to_json,
    uses, weighed_bucket, with_loose_density,
};
use barrowmix::recipe::{Addition, Amount, Bag, Fault, OwnMaterial, Recipe, RecipeError, Soil};
use proptest::prelude::*;
use support::dice::Dice;
use support::{assert_relative, recipes, table};

fn full() -> Recipe {
    recipes::read(recipes::FULL)
}

fn own(id: &str) -> OwnMaterial {
    OwnMaterial {
        id: id.to_owned(),
        ..full().materials[0].clone()
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn files_of_materials_hold_everything(seed in any::<u64>()) {
        let mut dice = Dice::new(seed);
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let alone = materials_to_json(&recipe.materials);
        prop_assert_eq!(materials_from_json(&alone), Ok(recipe.materials.clone()));
        let whole = recipe.to_json();
        prop_assert_eq!(materials_from_json(&whole), Ok(recipe.materials.clone()));
        let again = materials_from_json(&alone).map(|list| materials_to_json(&list));
        prop_assert_eq!(again, Ok(alone));
    }

    #[test]
    fn ids_are_fresh_and_plain(name in any::<String>(), seed in any::<u64>()) {
        let mut dice = Dice::new(seed);
        let mut recipe = recipes::recipe(&recipes::random(&mut dice));
        for _ in 0..3 {
            let id = fresh_id(&recipe, &name);
            let plain = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_';
            prop_assert!(!id.is_empty() && id.len() < 60 && id.bytes().all(plain), "{id}");
            prop_assert!(recipe.find(&id).is_none(), "{id} is taken");
            recipe = add(&recipe, own(&id)).expect("a good material");
        }
    }

    #[test]
    fn copies_are_alike(seed in any::<u64>(), name in any::<String>()) {
        let mut dice = Dice::new(seed);
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let mut ids: Vec<&str> = catalogue().iter().map(|entry| entry.id).collect();
        ids.extend(recipe.materials.iter().map(|own| own.id.as_str()));
        for id in ids {
            let copy = copy_of(&recipe, id, &name).expect("it is there");
            prop_assert_eq!(copy.name.as_ref(), Some(&name));
            let more = add(&recipe, copy.clone()).expect("as good as the first");
            let (first, second) = (recipe.find(id), more.find(&copy.id));
            let (first, second) = (first.expect("it is there"), second.expect("it was added"));
            prop_assert_eq!(first.group(), second.group());
            prop_assert_eq!(first.properties(), second.properties());
            prop_assert_eq!(first.material(), second.material());
            if let Some(own) = recipe.materials.iter().find(|own| own.id == id) {
                prop_assert_eq!((&own.bag, &own.price), (&copy.bag, &copy.price));
            }
            prop_assert_eq!(delete(&more, &copy.id), Ok(recipe.clone()));
            prop_assert_eq!(&recipes::read(&more.to_json()), &more);
        }
    }

    #[test]
    fn any_text_is_materials_or_a_fault(text in any::<String>()) {
        let _ = materials_from_json(&text);
    }

    #[test]
    fn a_bucket_weighs_within_limits(
        full in any::<f64>(), empty in any::<f64>(), m3 in any::<f64>(),
    ) {
        if let Ok(density) = weighed_bucket(full, empty, m3) {
            prop_assert!((20.0..=3000.0).contains(&density), "{density}");
        }
    }
}

#[test]
fn oxides_are_elements() {
    let row = &table("oxides", 1)[0];
    for (value, column) in [
        (phosphorus_pct(1.0), "p_of_p2o5"),
        (potassium_pct(1.0), "k_of_k2o"),
        (p2o5_pct(1.0), "p2o5_of_p"),
        (k2o_pct(1.0), "k2o_of_k"),
    ] {
        assert_relative(value, row.number(column), row.number("tolerance"), column);
    }
    assert_relative(p2o5_pct(phosphorus_pct(7.0)), 7.0, 1e-12, "and back");
    assert_relative(k2o_pct(potassium_pct(7.0)), 7.0, 1e-12, "and back");
}

#[test]
fn a_bucket_is_weighed() {
    let density = weighed_bucket(12.7, 0.7, 0.010).expect("a bucket of 10 L");
    assert_relative(density, 1200.0, 1e-12, "12 kg in 10 L");
    let zero = BucketFault::NotPositive { value: 0.0 };
    assert_eq!(weighed_bucket(1.0, 0.5, 0.0), Err(zero), "no volume");
    assert_eq!(weighed_bucket(0.0, 0.0, 0.01), Err(zero), "no weight");
    let less = BucketFault::NotPositive { value: -0.1 };
    assert_eq!(
        weighed_bucket(1.0, -0.1, 0.01),
        Err(less),
        "a floating bucket"
    );
    let fault = weighed_bucket(0.5, 0.7, 0.01);
    let (full_kg, empty_kg) = (0.5, 0.7);
    let expected = BucketFault::FullNotHeavier { full_kg, empty_kg };
    assert_eq!(fault, Err(expected), "changed places");
    for (full, kg_m3) in [(40.0, 4000.0), (0.0625, 6.25)] {
        let expected = BucketFault::OutOfRange {
            kg_m3,
            low_kg_m3: 20.0,
            high_kg_m3: 3000.0,
        };
        assert_eq!(weighed_bucket(full, 0.0, 0.01), Err(expected), "{full} kg");
    }
}

#[test]
fn ids_come_from_names() {
    let recipe = full();
    assert_eq!(
        fresh_id(&recipe, "Heap by the gate!"),
        "heap_by_the_gate",
        "words"
    );
    assert_eq!(
        fresh_id(&recipe, "Pit  sand"),
        "pit_sand_2",
        "the recipe has it"
    );
    assert_eq!(
        fresh_id(&recipe, "Perlite"),
        "perlite_2",
        "the catalogue has it"
    );
    assert_eq!(fresh_id(&recipe, "土"), "own", "no letters");
    // Forty letters, of a text without end too; and the number after those that are taken.
    for letters in [39, 40, 41, 300] {
        let id = fresh_id(&recipe, &"Q".repeat(letters));
        assert_eq!(id, "q".repeat(letters.min(40)), "{letters} letters");
    }
    let mut many = recipe.clone();
    for number in 2..5 {
        let copy = copy_of(&many, "pit_sand", "Pit sand").expect("it is known");
        assert_eq!(copy.id, format!("pit_sand_{number}"), "one more");
        many.materials.push(copy);
    }
}

#[test]
fn deleting_is_refused_while_in_use() {
    let mut recipe = full();
    assert_eq!(uses(&recipe, "pit_sand"), [1], "the second line");
    recipe.additions.push(recipe.additions[1].clone());
    let (id, lines) = ("pit_sand".to_owned(), vec![1, 3]);
    let expected = Err(OwnFault::InUse { id, lines });
    assert_eq!(delete(&recipe, "pit_sand"), expected, "in use");
    // Also where the catalogue has the id: the line would become something else.
    recipe = add(&recipe, own("yard_compost")).expect("own ones may have any id");
    let fault = delete(&recipe, "yard_compost").expect_err("in use");
    assert!(
        matches!(fault, OwnFault::InUse { ref lines, .. } if lines == &[0]),
        "{fault:?}"
    );
    let id = "nothing".to_owned();
    assert_eq!(
        delete(&recipe, "nothing"),
        Err(OwnFault::Unknown { id }),
        "not there"
    );
    recipe.additions.clear();
    assert!(
        delete(&recipe, "pit_sand")
            .expect("unused")
            .find("pit_sand")
            .is_none(),
        "gone"
    );
}

#[test]
fn putting_edits_or_adds() {
    let recipe = full();
    let mut sand = recipe.materials[0].clone();
    sand.properties.set(
        Property::LooseDensity,
        Some(Figure::between(1300.0, 1400.0, 1500.0)),
    );
    let edited = put(&recipe, sand.clone()).expect("a good one");
    assert_eq!(edited.materials, [sand.clone()], "in its place");
    let id = sand.id.clone();
    assert_eq!(
        add(&recipe, sand.clone()),
        Err(OwnFault::Twice { id }),
        "it has that id"
    );
    let mut two = recipe.clone();
    two.materials.push(sand.clone());
    let id = sand.id.clone();
    assert_eq!(
        put(&two, sand),
        Err(OwnFault::Twice { id }),
        "two of one id"
    );
}

/// What cannot be told, with the path of the field.
fn refused(change: impl Fn(&mut OwnMaterial)) -> (String, Fault) {
    let mut material = own("heap");
    change(&mut material);
    match put(&full(), material) {
        Err(OwnFault::Material(error)) => (error.path.as_str().to_owned(), error.fault),
        other => panic!("{other:?}"),
    }
}

#[test]
fn bad_properties_are_refused_as_by_the_reader() {
    let bale = |expands| Bag {
        size: Amount::new(3.8, Unit::CubicFoot),
        expands: Some(expands),
    };
    let (path, fault) = refused(|own| own.bag = Some(bale(0.0)));
    assert_eq!(path, "materials[1].bag.expands", "a bale of nothing");
    let (low, high) = (1e-9, 1e6);
    assert_eq!(
        fault,
        Fault::OutOfRange {
            value: 0.0,
            low,
            high
        },
        "a bale of nothing"
    );
    let (path, fault) = refused(|own| own.bag = Some(bale(f64::NAN)));
    assert_eq!(path, "materials[1].bag.expands", "a bale of who knows what");
    assert_eq!(
        fault,
        Fault::NotFinite { low, high },
        "a bale of who knows what"
    );
    let (path, fault) = refused(|own| own.properties.set(Property::LooseDensity, None));
    assert_eq!(
        (path.as_str(), fault),
        ("materials[1].loose_density_kg_m3", Fault::Missing),
        "none"
    );
    let (path, fault) = refused(|own| {
        own.properties
            .set(Property::OrganicMatter, Some(Figure::exact(80.0)));
        own.properties
            .set(Property::Char, Some(Figure::exact(30.0)));
    });
    assert_eq!(path, "materials[1]", "too much of everything");
    assert!(matches!(fault, Fault::Misfit(_)), "{fault:?}");
    let (path, fault) = refused(|own| own.id.clear());
    assert_eq!(
        (path.as_str(), fault),
        ("materials[1].id", Fault::Missing),
        "no id"
    );
    let mut recipe = full();
    for index in 0..255 {
        recipe = put(&recipe, own(&format!("heap_{index}"))).expect("there is room");
    }
    let fault = put(&recipe, own("one_more")).expect_err("there is none");
    let OwnFault::Material(error) = fault else {
        panic!("{fault:?}");
    };
    assert_eq!(error.fault, Fault::TooMany { limit: 256 }, "too many");
}

fn of_file(text: &str) -> (String, Fault) {
    let error = materials_from_json(text).expect_err("it has a fault");
    (error.path.as_str().to_owned(), error.fault)
}

#[test]
fn faults_of_a_file_are_told() {
    let file = |materials: &str| format!(r#"{{"barrowmix":1,"materials":[{materials}]}}"#);
    let heap = r#"{"id":"heap","loose_density_kg_m3":700}"#;
    let told = of_file(&file(&[heap, heap].join(",")));
    assert_eq!(
        told,
        ("materials[1].id".into(), Fault::Twice),
        "two of one id"
    );
    let told = of_file(r#"{"barrowmix":2,"materials":[]}"#);
    assert_eq!(
        told,
        ("barrowmix".into(), Fault::Version { newest: 1 }),
        "newer"
    );
    let told = of_file(&file(
        r#"{"id":"heap","loose_density_kg_m3":700,"smell":1}"#,
    ));
    assert_eq!(
        told,
        ("materials[0].smell".into(), Fault::UnknownField),
        "unknown"
    );
    let told = of_file(r#"{"barrowmix":1,"materials":[],"colour":1}"#);
    assert_eq!(told, ("colour".into(), Fault::UnknownField), "unknown");
    let told = of_file(r#"{"materials":[]}"#);
    assert_eq!(told, ("barrowmix".into(), Fault::Missing), "no version");
    let bale =
        r#"{"id":"bale","loose_density_kg_m3":100,"bag":{"value":3.8,"unit":"ft3","expands":0}}"#;
    let (low, high) = (1e-9, 1e6);
    let fault = Fault::OutOfRange {
        value: 0.0,
        low,
        high,
    };
    assert_eq!(
        of_file(&file(bale)),
        ("materials[0].bag.expands".into(), fault),
        "a bale"
    );
    assert_eq!(
        of_file("[1,"),
        ("$".into(), Fault::NotJson { line: 1, column: 4 }),
        "cut"
    );
    assert!(materials_from_json(&file(heap)).is_ok(), "a good one");
}

#[test]
fn names_are_kept_as_they_are() {
    let name = "<b>Heap</b> & \"sons\" <script>alert(1)</script>\n\u{202e}x";
    let mut material = own("heap");
    material.name = Some(name.to_owned());
    let list = materials_from_json(&materials_to_json(&[material])).expect("a good file");
    assert_eq!(list[0].name.as_deref(), Some(name), "verbatim");
}

#[test]
fn a_later_release_is_kept_by_the_recipes_own_file() {
    let later = recipes::FULL.replace(r#""group":"sand""#, r#""group":"sand","smell":"earthy""#);
    let recipe = recipes::read(&later);
    let text = recipe_materials_to_json(&recipe);
    assert_eq!(
        materials_from_json(&text),
        Ok(recipe.materials.clone()),
        "kept"
    );
    let known = materials_from_json(&materials_to_json(&recipe.materials));
    assert_eq!(known, Ok(full().materials), "without what it does not know");
}

#[test]
fn importing_renames_what_is_taken() {
    let recipe = full();
    let mut other = own("pit_sand");
    other.name = Some("Sand from another pit".into());
    let peat = own("sphagnum_peat");
    let heap = own("heap");
    let same = recipe.materials[0].clone();
    let imported = import(&recipe, vec![other, peat, heap, same]).expect("good ones");
    let ids: Vec<&str> = imported
        .recipe
        .materials
        .iter()
        .map(|own| own.id.as_str())
        .collect();
    assert_eq!(
        ids,
        ["pit_sand", "pit_sand_2", "sphagnum_peat_2", "heap"],
        "ids"
    );
    let renamed: Vec<(&str, &str)> = imported
        .renamed
        .iter()
        .map(|renamed| (renamed.from.as_str(), renamed.to.as_str()))
        .collect();
    let expected = [
        ("pit_sand", "pit_sand_2"),
        ("sphagnum_peat", "sphagnum_peat_2"),
    ];
    assert_eq!(renamed, expected, "told");
    assert_eq!(imported.had, ["pit_sand"], "already there");
    assert_eq!(
        imported.recipe.additions, recipe.additions,
        "no line was touched"
    );
    assert!(
        Entry::find("sphagnum_peat").is_some(),
        "the catalogue's still means itself"
    );
    assert_eq!(
        recipes::read(&imported.recipe.to_json()),
        imported.recipe,
        "saved"
    );
}

#[test]
fn another_loose_weight_takes_the_settled_one_along() {
    let recipe = recipes::read(recipes::FULL);
    let settled_l = |own: &OwnMaterial| {
        let mut alone = recipe.clone();
        alone.materials = vec![own.clone()];
        alone.soil = Soil::Amount(Amount::new(0.0, Unit::Litre));
        let amount = Amount::new(150.0, Unit::Litre);
        alone.additions = vec![Addition::new(own.id.clone(), amount)];
        let outcome = Outcome::of(&alone)?;
        Ok(outcome.volume_l.settled.typical)
    };
    for entry in catalogue()
        .iter()
        .filter(|entry| entry.group != Group::Liquid)
    {
        let own = copy_of(&recipe, entry.id, "copy").expect("it is in the catalogue");
        let loose = own
            .properties
            .get(Property::LooseDensity)
            .expect("it has one");
        for factor in [0.4, 0.7, 1.0, 1.3] {
            let other = with_loose_density(&own, loose.map(|value| value * factor));
            // A grain of what is organic is as much lighter as all of it; one of stone is stone.
            let of = |own: &OwnMaterial| Some(own.properties.get(Property::GrainDensity)?.typical);
            if let (Some(before), Some(after)) = (of(&own), of(&other))
                && entry.group.is_organic()
                && factor < 1.0
            {
                let (low, _) = Property::GrainDensity.limits();
                let should = (before * factor).max(low);
                assert!(
                    (after / should - 1.0).abs() < 6e-4,
                    "{} at {factor}: {after}",
                    entry.id
                );
            }
            // 150 L poured settle by the same share, whatever they weigh.
            let before = settled_l(&own);
            let before = before.unwrap_or_else(|error| panic!("{}: {error:?}", entry.id));
            let after: Result<f64, RecipeError> = settled_l(&other);
            if factor > 1.0
                && matches!(&after, Err(error) if matches!(error.fault, Fault::Misfit(_)))
            {
                // Denser than its grains allow, and told so.
                continue;
            }
            let after = after.unwrap_or_else(|error| panic!("{}: {error:?}", entry.id));
            assert!(
                (after / before - 1.0).abs() < 2e-3,
                "{} at {factor}: {before} and {after} L",
                entry.id
            );
        }
    }
}
