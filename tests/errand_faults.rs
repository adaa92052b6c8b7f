#![cfg(not(target_arch = "wasm32"))]
//! Errands that cannot be: each an error that names its field, or an honest answer that nothing can;
//! and never without end.

mod support;

use barrowmix::errand::{Search, errand_of, set_errand};
use barrowmix::recipe::{Fault, Recipe, RecipeError};
use proptest::prelude::*;
use serde_json::{Value, json};
use support::dice::Dice;
use support::errands::{Kind, random, run};
use support::spoil::spoiled;

/// A good errand, to be spoiled.
fn good() -> Value {
    json!({
        "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 30, "clay_pct": 50 },
        "soil": { "value": 200, "unit": "L" },
        "errand": {
            "offers": [
                {
                    "material": "concrete_sand", "bag": { "value": 25, "unit": "kg" }, "most": 40,
                    "price": { "value": 4.2, "per": { "value": 1, "unit": "bag" } },
                },
                {
                    "material": "yard_compost", "bag": { "value": 40, "unit": "L" }, "most": 20,
                    "price": { "value": 5.9, "per": { "value": 1, "unit": "bag" } },
                },
            ],
            "wish": { "organic_matter_pct": { "least": 6 } },
        },
    })
}

/// Puts a value at a path of names and numbers; null takes the field away.
fn with(path: &str, value: Value) -> Value {
    let mut document = good();
    let mut at = &mut document["errand"];
    let mut names: Vec<&str> = path.split('.').collect();
    let last = names.pop().unwrap_or_default();
    for name in names {
        at = match name.parse::<usize>() {
            Ok(index) => &mut at[index],
            Err(_) => &mut at[name],
        };
    }
    match value {
        Value::Null => drop(at.as_object_mut().expect("an object").remove(last)),
        value => at[last] = value,
    }
    document
}

fn searched(document: &Value) -> Result<barrowmix::errand::Findings, RecipeError> {
    let recipe = Recipe::from_json(&document.to_string())?;
    let errand = errand_of(&recipe)?.expect("there is one");
    let search = Search::of(&recipe, &errand)?;
    Ok(run(search, document))
}

fn refused(path: &str, value: Value) -> (String, Fault) {
    let document = with(path, value);
    match searched(&document) {
        Err(error) => (error.path.as_str().to_owned(), error.fault),
        Ok(findings) => panic!("{path} is taken: {findings:?}"),
    }
}

#[test]
fn the_good_one_is_good() {
    let findings = searched(&good()).expect("it is searched");
    assert!(findings.cheapest.is_some(), "compost is on sale");
}

#[test]
fn what_cannot_be_names_its_field() {
    for (path, value, told) in [
        ("offers.0.price", json!(null), "errand.offers[0].price"),
        (
            "offers.0.price.value",
            json!(-1),
            "errand.offers[0].price.value",
        ),
        (
            "offers.0.price.value",
            json!(1e9),
            "errand.offers[0].price.value",
        ),
        (
            "offers.0.price.per.value",
            json!(0),
            "errand.offers[0].price.per.value",
        ),
        ("offers.0.bag.value", json!(0), "errand.offers[0].bag.value"),
        (
            "offers.0.bag.value",
            json!(-25),
            "errand.offers[0].bag.value",
        ),
        ("offers.0.bag", json!(null), "errand.offers[0].bag"),
        (
            "offers.1.load",
            json!({ "value": 30, "unit": "L" }),
            "errand.offers[1].load.value",
        ),
        (
            "offers.1.load",
            json!({ "value": 0, "unit": "L" }),
            "errand.offers[1].load.value",
        ),
        (
            "offers.1.material",
            json!("moon_dust"),
            "errand.offers[1].material",
        ),
        (
            "offers.1.material",
            json!(null),
            "errand.offers[1].material",
        ),
        ("offers.1.material", json!(7), "errand.offers[1].material"),
        ("offers.1.most", json!(1.5), "errand.offers[1].most"),
        ("offers.1.most", json!(-1), "errand.offers[1].most"),
        ("offers.1.most", json!(1e9), "errand.offers[1].most"),
        ("offers.1.delivery", json!(-3), "errand.offers[1].delivery"),
        (
            "offers.1.water_per_wet_pct",
            json!(100),
            "errand.offers[1].water_per_wet_pct",
        ),
        ("offers", json!(null), "errand.offers"),
        ("offers", json!([]), "errand.offers"),
        ("offers", json!({}), "errand.offers"),
        ("offers", json!(7), "errand.offers"),
        ("offers", json!([7]), "errand.offers[0]"),
        ("wish", json!(null), "errand.wish"),
        ("wish", json!({}), "errand.wish"),
        ("wish", json!([]), "errand.wish"),
        ("wish", json!({ "organic_matter_pct": {} }), "errand.wish"),
        (
            "wish",
            json!({ "sand_pct": { "least": 60, "most": 50 } }),
            "errand.wish.sand_pct",
        ),
        (
            "wish",
            json!({ "sand_pct": { "least": 160 } }),
            "errand.wish.sand_pct.least",
        ),
        ("wish", json!({ "sand_pct": 60 }), "errand.wish.sand_pct"),
        (
            "wish",
            json!({ "fill": { "value": 0, "unit": "L" } }),
            "errand.wish.fill.value",
        ),
        (
            "wish",
            json!({ "fill": { "value": 5, "unit": "kg" } }),
            "errand.wish.fill.unit",
        ),
        ("wish", json!({ "ground": "to_fill" }), "errand.wish.fill"),
        ("wish", json!({ "ground": "some" }), "errand.wish.ground"),
        ("wish", json!({ "classes": ["mud"] }), "errand.wish.classes"),
        (
            "wish",
            json!({ "classes": ["clay", "clay"] }),
            "errand.wish.classes",
        ),
        ("wish", json!({ "classes": "clay" }), "errand.wish.classes"),
        ("wish", json!({ "skeleton": 1 }), "errand.wish.skeleton"),
        (
            "without",
            json!(["concrete_sand", "yard_compost"]),
            "errand.offers",
        ),
        ("without", json!([3]), "errand.without"),
        ("odds_pct", json!(100), "errand.odds_pct"),
        ("waste_pct", json!(90), "errand.waste_pct"),
        ("budget", json!(-1), "errand.budget"),
        ("budgget", json!(1), "errand.budgget"),
    ] {
        let (path_told, fault) = refused(path, value.clone());
        assert_eq!(path_told, told, "{path} as {value}: {fault:?}");
    }
}

#[test]
fn forty_one_offers_are_too_many() {
    let offer = good()["errand"]["offers"][0].clone();
    let (path, fault) = refused("offers", json!(vec![offer; 41]));
    assert_eq!(
        (path.as_str(), fault),
        ("errand.offers", Fault::TooMany { limit: 40 })
    );
}

#[test]
fn what_nothing_can_is_proved() {
    for wish in [
        json!({ "sand_pct": { "least": 60 }, "clay_pct": { "least": 60 } }),
        json!({ "organic_matter_pct": { "least": 99 } }),
        json!({ "classes": ["silt"] }),
        json!({ "organic_matter_pct": { "least": 6 }, "cost": { "most": 0 } }),
    ] {
        let findings = searched(&with("wish", wish.clone())).expect("it is searched");
        assert!(findings.cheapest.is_none(), "{wish}: {findings:?}");
        assert!(
            findings.proof.none_can,
            "{wish} is proved: {:?}",
            findings.proof
        );
    }
    for path in ["offers.0.most", "offers.1.most"] {
        let mut document = with(path, json!(0));
        document["errand"]["offers"][usize::from(path == "offers.0.most")]["most"] = json!(0);
        let findings = searched(&document).expect("it is searched");
        assert!(
            findings.proof.none_can && findings.cheapest.is_none(),
            "nothing is left to buy"
        );
    }
}

#[test]
fn nothing_can_is_proven_by_going_through_all() {
    // A pH of 2 is no sum over masses, but of two offers every purchase can be looked at.
    let wish = json!({ "ph": { "most": 2 } });
    let findings = searched(&with("wish", wish)).expect("it is searched");
    assert!(
        findings.cheapest.is_none() && findings.proof.none_can && findings.proof.all_of == 2,
        "{:?}",
        findings.proof
    );
    assert!(findings.nearest.is_some(), "what comes nearest is told");
}

#[test]
fn the_wish_in_the_way_is_named() {
    let wish = json!({ "organic_matter_pct": { "least": 6 }, "clay_pct": { "least": 60 } });
    let findings = searched(&with("wish", wish)).expect("it is searched");
    assert!(findings.proof.none_can, "no clay is on sale");
    let named: Vec<_> = findings.hindrances.iter().map(|of| of.wish).collect();
    let clay = barrowmix::errand::wish::OneWish::Figure(barrowmix::errand::wish::Wished::Clay);
    assert!(named.contains(&clay), "{named:?}");
    let nearest = findings
        .hindrances
        .iter()
        .find(|of| of.wish == clay)
        .expect("it is named");
    let had = nearest.nearest.values;
    let clay_pct = had.fractions_pct.expect("it has a texture")[2];
    assert!(
        clay_pct < 60.0 && clay_pct > 45.0,
        "near the ground's 50: {clay_pct}"
    );
    assert!(
        had.organic_matter_pct >= 6.0 - 1e-9,
        "with the other wish met: {had:?}"
    );
}

#[test]
fn huge_numbers_come_to_an_end() {
    for (path, value) in [
        ("offers.0.price.value", json!(1e6)),
        ("offers.0.price.value", json!(0)),
        ("offers.0.bag.value", json!(1e6)),
        ("offers.0.bag.value", json!(0.001)),
        ("offers.1.bag.value", json!(0.01)),
        ("offers.1.delivery", json!(1e6)),
        ("offers.1.load", json!({ "value": 1e6, "unit": "m3" })),
        ("wish", json!({ "fill": { "value": 1e6, "unit": "m3" } })),
        (
            "wish",
            json!({ "fill": { "value": 1e-6, "unit": "mL" }, "ground": "to_fill" }),
        ),
        (
            "wish",
            json!({ "fill": { "value": 1e6, "unit": "m3" }, "ground": "to_fill" }),
        ),
    ] {
        let mut document = with(path, value.clone());
        for offer in document["errand"]["offers"].as_array_mut().expect("a list") {
            offer.as_object_mut().expect("an object").remove("most");
        }
        if let Ok(findings) = searched(&document) {
            let bound = findings.proof.bound;
            assert!(!bound.is_nan(), "{path} as {value}: {bound}");
        }
    }
}

#[test]
fn an_errand_is_read_and_written_without_loss() {
    let mut dice = Dice::new(91);
    for round in 0..200 {
        let kind = Kind {
            offers: (3, 5),
            wishes: 1,
            purchases: 3000,
            linear: false,
            to_fill: round % 4 == 0,
        };
        let Some(case) = random(&mut dice, kind) else {
            continue;
        };
        let mut recipe = case.recipe.clone();
        set_errand(&mut recipe, Some(&case.errand));
        assert_eq!(
            errand_of(&recipe),
            Ok(Some(case.errand.clone())),
            "{}",
            case.document
        );
        let again = Recipe::from_json(&recipe.to_json()).expect("it reads");
        assert_eq!(
            errand_of(&again),
            Ok(Some(case.errand)),
            "{}",
            case.document
        );
        set_errand(&mut recipe, None);
        assert_eq!(errand_of(&recipe), Ok(None), "it is gone");
    }
}

#[test]
fn fields_of_a_later_release_are_kept() {
    let mut document = good();
    document["made_by"] = json!("99.0.0");
    document["errand"]["colour"] = json!([1, { "deep": null }]);
    document["errand"]["wish"]["taste"] = json!("sweet");
    document["errand"]["offers"][0]["shop"] = json!({ "by": "the river" });
    let recipe = Recipe::from_json(&document.to_string()).expect("it reads");
    let errand = errand_of(&recipe)
        .expect("a later release may")
        .expect("there is one");
    let mut other = recipe.clone();
    set_errand(&mut other, None);
    set_errand(&mut other, Some(&errand));
    let written: Value = serde_json::from_str(&other.to_json()).expect("JSON");
    for path in [
        "/errand/colour",
        "/errand/wish/taste",
        "/errand/offers/0/shop",
    ] {
        assert_eq!(written.pointer(path), document.pointer(path), "{path}");
    }
    assert!(Search::of(&recipe, &errand).is_ok(), "and it is searched");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever stands there instead of an errand, or in it.
    #[test]
    fn any_errand_is_an_answer_or_a_fault(seed: u64) {
        let mut dice = Dice::new(seed);
        let kind = Kind { offers: (3, 4), wishes: 1, purchases: 60, linear: seed % 2 == 0, to_fill: seed % 5 == 0 };
        let Some(case) = random(&mut dice, kind) else { return Ok(()) };
        let bytes = case.document["errand"].to_string();
        let bytes = spoiled(&mut dice, bytes.as_bytes());
        let Ok(errand) = serde_json::from_slice::<Value>(&bytes) else { return Ok(()) };
        let mut document = case.document.clone();
        document["errand"] = errand;
        let Ok(recipe) = Recipe::from_json(&document.to_string()) else { return Ok(()) };
        match errand_of(&recipe) {
            Err(error) => prop_assert!(error.path.as_str().starts_with("errand"), "{error:?}"),
            Ok(None) => {}
            Ok(Some(errand)) => {
                let mut other = recipe.clone();
                set_errand(&mut other, Some(&errand));
                prop_assert_eq!(errand_of(&other), Ok(Some(errand.clone())), "{}", document);
                if let Ok(search) = Search::of(&recipe, &errand) {
                    drop(run(search, &document));
                }
            }
        }
    }
}
