#![cfg(not(target_arch = "wasm32"))]
//! The panel of a figure: never empty, judged against the blend, and with the outcome's numbers.

mod support;

use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::Recipe;
use barrowmix::words::{Asked, Equation, METRIC, Speech, Units, Why, equations, sharpen_text, why};
use serde_json::{Value, json};
use support::blends::{self, outcome};
use support::{assert_close, recipes, table};

const US: Speech = Speech { units: Units::Us };

fn demo() -> Recipe {
    recipes::read(include_str!("../examples/recipes/willowbank.json"))
}

fn of(document: &Value) -> (Recipe, Outcome) {
    let recipe = recipes::recipe(document);
    let outcome = outcome(&recipe);
    (recipe, outcome)
}

fn ground(sand: f64, silt: f64, clay: f64) -> Value {
    json!({ "sand_pct": sand, "silt_pct": silt, "clay_pct": clay })
}

fn blend(ground: &Value, additions: &Value) -> (Recipe, Outcome) {
    of(&json!({
        "barrowmix": 1, "ground": ground, "soil": { "value": 100, "unit": "L" },
        "additions": additions,
    }))
}

fn litres(material: &str, value: f64) -> Value {
    json!({ "material": material, "amount": { "value": value, "unit": "L" } })
}

/// Every text of a panel.
fn texts(why: &Why) -> Vec<&str> {
    let mut out = vec![why.title.as_str(), &why.made, &why.rests_on];
    for equation in &why.equations {
        out.extend([equation.name.as_str(), &equation.source, &equation.holds]);
    }
    for (name, value) in &why.inputs {
        out.extend([name.as_str(), value]);
    }
    out.extend(why.limits.iter().map(|limit| limit.text.as_str()));
    out
}

fn has_year(text: &str) -> bool {
    let is_year = |word: &str| {
        word.len() == 4 && (1900..2100).contains(&word.parse::<u32>().unwrap_or_default())
    };
    text.split(|c: char| !c.is_ascii_digit()).any(is_year)
}

fn is_number_slip(text: &str) -> bool {
    let mut words = text.split(|c: char| !c.is_ascii_alphanumeric());
    words.any(|word| matches!(word, "NaN" | "inf"))
}

/// What holds for every panel.
fn judge(asked: Asked, recipe: &Recipe, outcome: &Outcome) {
    for speech in [METRIC, US] {
        let why = why(asked, recipe, outcome, speech);
        let at = || format!("{} of {}: {why:#?}", asked.id(), recipe.to_json());
        for text in texts(&why) {
            assert!(!text.trim().is_empty(), "an empty text in {}", at());
            assert!(!is_number_slip(text), "{text:?} in {}", at());
            assert!(!text.contains("  "), "{text:?} in {}", at());
        }
        let of_year = |equation: &&Equation| has_year(&equation.source);
        assert!(
            why.equations.iter().any(|e| of_year(&e)),
            "no year in {}",
            at()
        );
        assert_eq!(
            why.rests_on,
            sharpen_text(recipe, outcome, asked.measure()),
            "{}",
            at()
        );
        let known = equations();
        for equation in &why.equations {
            let is_it = |of: &Equation| of.name == equation.name && of.source == equation.source;
            assert!(
                known.iter().any(is_it),
                "{:?} is in the list of all equations",
                equation.name
            );
        }
        let (ours, theirs) = match speech.units {
            Units::Metric => ("kg/L", "lb/ft³"),
            Units::Us => ("lb/ft³", "kg/L"),
        };
        let all = texts(&why).join("\n");
        assert!(!all.contains(theirs), "{theirs} in {}", at());
        if matches!(
            asked,
            Asked::Pores | Asked::FreshPores | Asked::PuddledPores
        ) {
            assert!(all.contains(ours), "no {ours} in {}", at());
        }
        for limit in &why.limits {
            let says = |word: &str| limit.text.contains(word);
            assert!(
                !(limit.inside && says("outside")),
                "{:?} in {}",
                limit,
                at()
            );
        }
    }
}

fn judge_all(recipe: &Recipe, outcome: &Outcome) {
    for asked in Asked::ALL {
        judge(*asked, recipe, outcome);
    }
}

/// The number that a value starts with.
fn leading(text: &str) -> f64 {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    let number = text[..end].trim_end_matches(',').replace(',', "");
    number
        .parse()
        .unwrap_or_else(|_| panic!("{text:?} starts with no number"))
}

fn input<'a>(why: &'a Why, name: &str) -> &'a str {
    let found = why.inputs.iter().find(|(known, _)| known == name);
    &found
        .unwrap_or_else(|| panic!("no {name:?} in {:#?}", why.inputs))
        .1
}

/// The limit that starts so.
fn limit(why: &Why, start: &str) -> (String, bool) {
    let found = why.limits.iter().find(|l| l.text.starts_with(start));
    let limit = found.unwrap_or_else(|| panic!("no {start:?} in {:#?}", why.limits));
    (limit.text.clone(), limit.inside)
}

fn has_equation(why: &Why, part: &str) -> bool {
    why.equations
        .iter()
        .any(|e| e.source.contains(part) || e.name.contains(part))
}

#[test]
fn ids_are_each_their_own() {
    let ids: Vec<&str> = Asked::ALL.iter().map(|asked| asked.id()).collect();
    let expected = [
        "class",
        "pores",
        "density",
        "organic",
        "fresh",
        "puddled",
        "volume",
        "weight",
        "cost",
        "skeleton",
        "air",
        "available",
        "drainage",
        "pot",
        "ph",
        "salts",
        "sodium",
        "nitrogen",
    ];
    assert_eq!(ids, expected, "ids in the order of the figures");
    for asked in Asked::ALL {
        assert_eq!(Asked::from_id(asked.id()), Some(*asked), "{asked:?} by id");
    }
    for id in ["", "Class", "pores ", "colour"] {
        assert_eq!(Asked::from_id(id), None, "{id:?} is none");
    }
}

#[test]
fn special_blends_have_whole_panels() {
    let clay = ground(5.0, 40.0, 55.0);
    let sand = litres("concrete_sand", 50.0);
    let mut documents = vec![
        json!({ "barrowmix": 1, "ground": clay, "soil": { "value": 0, "unit": "L" },
            "additions": [sand, litres("yard_compost", 20.0)] }),
        json!({ "barrowmix": 1, "ground": clay, "soil": { "value": 0, "unit": "L" },
            "additions": [sand] }),
        json!({ "barrowmix": 1, "soil": { "value": 100, "unit": "kg" },
            "ground": { "sand_pct": 5, "silt_pct": 40, "clay_pct": 55, "gravel_pct": 100 } }),
        json!({ "barrowmix": 1, "soil": { "value": 10, "unit": "L" }, "ground": clay,
            "additions": [litres("sphagnum_peat", 500.0)] }),
        json!({ "barrowmix": 1, "soil": { "value": 10, "unit": "L" }, "ground": clay,
            "additions": [] }),
        json!({ "barrowmix": 1, "soil": { "value": 10, "unit": "L" },
            "ground": { "sand_pct": 20, "silt_pct": 20, "clay_pct": 60, "organic_matter_pct": 100 } }),
    ];
    // The gravel with something in it, and a mulch on a ground.
    let mut mixed = documents[2].clone();
    mixed["additions"] = json!([sand]);
    documents.push(mixed);
    let mut mulched = documents[4].clone();
    mulched["additions"] =
        json!([{ "material": "pine_bark", "amount": { "value": 5, "unit": "L" }, "on_top": true }]);
    documents.push(mulched);
    for document in &documents {
        let (recipe, outcome) = of(document);
        judge_all(&recipe, &outcome);
    }
    let demo = demo();
    judge_all(&demo, &outcome(&demo));
}

#[test]
fn random_blends_have_whole_panels() {
    blends::mixed(0x57_48_59, 200, |recipe, outcome, _| {
        judge_all(recipe, outcome);
    });
}

/// Every input of the demo that the outcome holds, read back.
#[test]
fn inputs_are_the_numbers_of_the_outcome() {
    let recipe = demo();
    let outcome = outcome(&recipe);
    let barrow = &outcome.barrow;
    let close = |text: &str, value: f64, step: f64, what: &str| {
        assert_close(leading(text), value, step, &format!("{what}: {text}"));
    };
    let pores = why(Asked::Pores, &recipe, &outcome, METRIC);
    let read = |name: &str| input(&pores, name);
    close(read("Ground: dry mass"), barrow.ground_dry_kg, 0.5, "kg");
    close(
        read("Ground: usual density of its texture"),
        barrow.ground.normal_density_kg_m3 / 1000.0,
        0.005,
        "usual",
    );
    close(
        read("Ground: density once dug and settled"),
        outcome.ground.settled_density_kg_m3.typical / 1000.0,
        0.005,
        "settled",
    );
    close(
        read("Ground: density of its solids"),
        barrow.ground.solid_density_kg_m3 / 1000.0,
        0.005,
        "solids",
    );
    let material = &barrow.lines[0].material;
    let name = recipe.find("concrete_sand").expect("it is known").name();
    let sand = |what: &str| read(&format!("{name}: {what}")).to_owned();
    close(&sand("dry mass"), barrow.lines[0].dry_kg, 0.5, "sand");
    close(&sand("grain size as used"), material.grain_mm, 0.0005, "mm");
    close(
        &sand("settled density, dry"),
        material.settled_dry_density_kg_m3 / 1000.0,
        0.005,
        "sand settled",
    );
    close(
        read("Blend: volume, settled"),
        outcome.volume_l.settled.typical,
        0.5,
        "litres",
    );
    assert!(
        read("Ground: density as it lies").contains("given, eight in ten within 1.15–1.35"),
        "{}",
        read("Ground: density as it lies")
    );
    assert!(
        read("Ground: clay").contains("52 %, given, eight in ten within 47–57"),
        "{}",
        read("Ground: clay")
    );

    let us = why(Asked::Pores, &recipe, &outcome, US);
    let pound = Unit::Pound.factor();
    close(
        input(&us, "Ground: dry mass"),
        barrow.ground_dry_kg / pound,
        5.0,
        "lb",
    );
    assert!(input(&us, "Ground: dry mass").ends_with(" lb"), "pounds");
    assert!(
        input(&us, "Blend: volume of solids").ends_with(" gal"),
        "gallons"
    );

    let cost = why(Asked::Cost, &recipe, &outcome, METRIC);
    assert_eq!(
        input(&cost, &format!("{name}: comes to")),
        "EUR 12.00",
        "a fifth of a tonne"
    );
    let weight = why(Asked::Weight, &recipe, &outcome, METRIC);
    close(
        input(&weight, "Blend: water"),
        outcome.blend.masses.water_kg,
        0.5,
        "water",
    );
}

#[test]
fn an_estimate_is_called_one_and_brings_its_rule() {
    let clay = ground(5.0, 40.0, 55.0);
    let (recipe, outcome) = blend(&clay, &json!([litres("concrete_sand", 50.0)]));
    let weight = why(Asked::Weight, &recipe, &outcome, METRIC);
    assert!(
        input(&weight, "Ground: water, of its dry mass").contains("estimated"),
        "water is estimated"
    );
    assert!(has_equation(&weight, "2, 3, 5 to 9"), "water has its rule");
    assert!(has_equation(&weight, "Adams 1973"), "litres need a density");
    let recipe = demo();
    let demo = blends::outcome(&recipe);
    let weight = why(Asked::Weight, &recipe, &demo, METRIC);
    assert!(!has_equation(&weight, "Saxton"), "all of it is given");
    let class = why(Asked::Class, &recipe, &demo, METRIC);
    assert!(!has_equation(&class, "Adams"), "all of it is given");
    let pores = why(Asked::Pores, &recipe, &demo, METRIC);
    for part in [
        "Adams 1973",
        "de Larrard 1999",
        "Gupta et al. 2021",
        "Robinson",
    ] {
        assert!(
            has_equation(&pores, part),
            "{part} in {:#?}",
            pores.equations
        );
    }
    let puddled = why(Asked::PuddledPores, &recipe, &demo, METRIC);
    assert!(!has_equation(&puddled, "Gupta"), "packed in full");
}

#[test]
fn limits_are_told_inside_and_outside() {
    let sand = json!([litres("concrete_sand", 50.0)]);
    let (recipe, outcome) = blend(&ground(5.0, 40.0, 55.0), &sand);
    let pores = why(Asked::Pores, &recipe, &outcome, METRIC);
    let clay = limit(&pores, "Clay 55 %: inside 0 to 60 %");
    assert!(clay.1, "{clay:?}");

    let mut heavy = ground(5.0, 20.0, 75.0);
    heavy["organic_matter_pct"] = json!(30);
    let (recipe, outcome) = blend(&heavy, &sand);
    for asked in [Asked::Pores, Asked::Density, Asked::Volume, Asked::Weight] {
        let told = why(asked, &recipe, &outcome, METRIC);
        let clay = limit(&told, "Clay 75 %: outside 0 to 60 %");
        let organic = limit(&told, "Organic matter 30 %: outside 0 to 8 %");
        assert!(!clay.1 && !organic.1, "{asked:?}: {clay:?} {organic:?}");
    }

    // A hair over a limit is told as over it.
    let (recipe, outcome) = blend(&ground(5.0, 34.99, 60.01), &sand);
    let told = why(Asked::Pores, &recipe, &outcome, METRIC);
    let clay = limit(&told, "Clay 60.01 %: outside 0 to 60 %");
    assert!(!clay.1, "{clay:?}");
    let (recipe, outcome) = blend(&ground(5.0, 35.0, 60.0), &sand);
    let told = why(Asked::Pores, &recipe, &outcome, METRIC);
    assert!(
        limit(&told, "Clay 60 %: inside").1,
        "on the limit is inside"
    );

    // Little clay: single grains, and no question of touching.
    let (recipe, outcome) = blend(&ground(60.0, 28.0, 12.0), &sand);
    let told = why(Asked::Skeleton, &recipe, &outcome, METRIC);
    assert!(told.made.contains("12 % clay"), "{}", told.made);
    assert!(!limit(&told, "Clay 12 %: 15 % or less").1, "not asked");
    let told = why(Asked::Pores, &recipe, &outcome, METRIC);
    assert!(limit(&told, "Clay 12 %: 15 % or less").1, "single grains");
    assert!(has_equation(&told, "Shirazi & Boersma 1984"), "their size");

    // A density that no rain leaves.
    let mut pressed = ground(5.0, 40.0, 55.0);
    pressed["bulk_density_kg_m3"] = json!(1600);
    let (recipe, outcome) = blend(&pressed, &sand);
    assert!(
        outcome.barrow.ground.is_pressed(),
        "1.60 in clay is pressed"
    );
    let told = why(Asked::Density, &recipe, &outcome, METRIC);
    assert!(!limit(&told, "Density as it lies 1.60 kg/L").1, "outside");
}

#[test]
fn texture_limits_follow_the_masses() {
    let clay = ground(5.0, 40.0, 55.0);
    let (recipe, outcome) = blend(&clay, &json!([litres("sphagnum_peat", 400_000.0)]));
    let told = why(Asked::Class, &recipe, &outcome, METRIC);
    let fines = limit(&told, "Sand, silt and clay");
    let masses = &outcome.blend.masses;
    let share = 100.0 * masses.fines_kg.iter().sum::<f64>() / masses.dry_kg;
    assert!(share < 5.0 && !fines.1, "{share} {fines:?}");
    let mut stony = clay;
    stony["gravel_pct"] = json!(60);
    let (recipe, outcome) = blend(&stony, &json!([]));
    let told = why(Asked::Class, &recipe, &outcome, METRIC);
    assert!(!limit(&told, "Grains over 2 mm").1, "a gravelly class");
}

#[test]
fn an_absent_figure_is_said_to_be_absent() {
    let gravel = json!({ "sand_pct": 5, "silt_pct": 40, "clay_pct": 55, "gravel_pct": 100 });
    let (recipe, outcome) = blend(&gravel, &json!([]));
    assert!(outcome.texture.is_none(), "gravel has no texture");
    let told = why(Asked::Class, &recipe, &outcome, METRIC);
    assert!(told.made.contains("no texture class"), "{}", told.made);
    assert!(
        told.rests_on.contains("no such figure"),
        "{}",
        told.rests_on
    );
    let told = why(Asked::OrganicMatter, &recipe, &outcome, METRIC);
    assert!(told.made.contains("nothing to tell"), "{}", told.made);

    let clay = ground(5.0, 40.0, 55.0);
    let (recipe, outcome) = blend(&clay, &json!([litres("concrete_sand", 50.0)]));
    let told = why(Asked::Cost, &recipe, &outcome, METRIC);
    assert!(told.made.contains("no price"), "{}", told.made);
    assert!(!limit(&told, "0 of 1 additions").1, "no price");
    let (recipe, outcome) = blend(&clay, &json!([]));
    let told = why(Asked::Skeleton, &recipe, &outcome, METRIC);
    assert!(told.made.contains("no coarse grains"), "{}", told.made);
}

#[test]
fn bags_are_counted_as_shops_sell_them() {
    let line = |litres: f64| {
        json!([{ "material": "yard_compost", "amount": { "value": litres, "unit": "L" },
            "bag": { "value": 40, "unit": "L" },
            "price": { "value": 6, "per": { "value": 1, "unit": "bag" } } }])
    };
    let clay = ground(5.0, 40.0, 55.0);
    for (litres, bags, inside) in [(100.0, 2.5, false), (120.0, 3.0, true)] {
        let (recipe, outcome) = blend(&clay, &line(litres));
        let told = why(Asked::Cost, &recipe, &outcome, METRIC);
        let name = recipe.find("yard_compost").expect("it is known").name();
        let used = input(&told, &format!("{name}: bags used"));
        assert_close(leading(used), bags, 1e-9, used);
        let whole = limit(&told, &format!("{name}: {bags} bags"));
        assert_eq!(whole.1, inside, "{whole:?}");
    }
}

/// The largest shrinkage among the measured mixtures of two kinds of natural grains.
#[test]
fn the_largest_measured_shrinkage_is_that_of_the_table() {
    let rows = table("measured_mixtures", 37);
    let specific = |set: &str, share: f64| {
        let mut of = rows
            .iter()
            .filter(|row| row.text("set") == set && row.number("coarse_share") == share);
        1.0 + of.next().expect("an end member").number("value")
    };
    let mut largest: f64 = 0.0;
    for row in rows
        .iter()
        .filter(|row| row.text("quantity") == "void_ratio")
    {
        let set = row.text("set");
        if !set.starts_with("thev") && !set.starts_with("salgado") {
            continue;
        }
        // The pure silt of the second set was never published; that of the first stands in.
        let silt = set.replace("salgado", "thevanayagam");
        let share = row.number("coarse_share");
        let unmixed = share * specific(set, 1.0) + (1.0 - share) * specific(&silt, 0.0);
        largest = largest.max(100.0 * (1.0 - (1.0 + row.number("value")) / unmixed));
    }
    assert_close(largest, 20.7, 0.1, "largest shrinkage, %");

    // Sand at its tightest in slaked clay shrinks by more than that was ever measured.
    let clay = ground(5.0, 40.0, 55.0);
    for (litres_of_sand, inside) in [(10.0, true), (200.0, false)] {
        let (recipe, outcome) = blend(&clay, &json!([litres("concrete_sand", litres_of_sand)]));
        let told = why(Asked::PuddledPores, &recipe, &outcome, METRIC);
        let shrinks = limit(&told, "Shrinkage by mixing");
        assert_eq!(shrinks.1, inside, "{shrinks:?}");
    }
}
