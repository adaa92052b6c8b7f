#![cfg(not(target_arch = "wasm32"))]
//! Every fault of a recipe is told with its field.

mod support;

use barrowmix::ground::{GroundFault, Trait};
use barrowmix::material::Misfit;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{
    ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Fault, Kind, Recipe, RecipeError, Tree, VERSION,
};
use barrowmix::words::error_text;

/// A good recipe; each case changes one text in it.
const GOOD: &str = r#"{"barrowmix":1,
"ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"bulk_density_kg_m3":1300},
"soil":{"value":40,"unit":"L"},
"additions":[{"material":"pit_sand","amount":{"value":10,"unit":"L"}}],
"place":{"kind":"bed","count":2},
"materials":[{"id":"pit_sand","group":"sand","loose_density_kg_m3":1450}]}"#;

fn outcome(text: &str) -> Result<Outcome, RecipeError> {
    Recipe::from_json(text).and_then(|recipe| Outcome::of(&recipe))
}

fn changed(from: &str, to: &str) -> String {
    assert_eq!(
        GOOD.matches(from).count(),
        1,
        "{from:?} stands once in the good recipe"
    );
    GOOD.replace(from, to)
}

/// The error of a changed recipe: its path, and its sentence on one line after the path.
fn refused(from: &str, to: &str, path: &str) -> Fault {
    let text = changed(from, to);
    let error = match outcome(&text) {
        Ok(_) => panic!("{to:?} in place of {from:?} is taken"),
        Err(error) => error,
    };
    assert_eq!(
        error.path.as_str(),
        path,
        "{to:?} in place of {from:?}: {error:?}"
    );
    let sentence = error_text(&error);
    assert!(
        sentence.starts_with(path)
            && !sentence.contains(['\n', '\r'])
            && sentence.len() > path.len() + 5,
        "one line with the path first: {sentence:?}"
    );
    error.fault
}

/// Asserts path and fault of changed recipes.
macro_rules! refused {
    ($($from:expr => $to:expr, $path:expr, $fault:pat $(if $guard:expr)?),* $(,)?) => {
        $(
            let fault = refused($from, $to, $path);
            assert!(
                matches!(fault, $fault $(if $guard)?),
                "{:?} in place of {:?}: {fault:?}", $to, $from
            );
        )*
    };
}

const SAND: &str = r#""sand_pct":20"#;
const CLAY: &str = r#""clay_pct":55"#;
const SOIL: &str = r#""soil":{"value":40,"unit":"L"}"#;
const AMOUNT: &str = r#""amount":{"value":10,"unit":"L"}"#;
const LINE: &str = r#"{"material":"pit_sand","amount":{"value":10,"unit":"L"}}"#;
const LOOSE: &str = r#""loose_density_kg_m3":1450"#;

#[test]
fn the_good_recipe_is_good() {
    if let Err(error) = outcome(GOOD) {
        panic!("{error:?}");
    }
}

#[test]
fn numbers() {
    let loose = |more: String| format!(r#""loose_density_kg_m3":1450,{more}"#);
    let bag = |value: &str| loose(format!(r#""bag":{{"value":{value},"unit":"kg"}}"#));
    let per = |value: &str| format!(r#"{{"value":5,"per":{{"value":{value},"unit":"kg"}}}}"#);
    let price = |value: &str| loose(format!(r#""price":{}"#, per(value)));
    refused! {
        CLAY => r#""clay_pct":55.6"#, "ground", Fault::Fractions { sum_pct } if (sum_pct - 100.6).abs() < 1e-9,
        CLAY => r#""clay_pct":54.4"#, "ground", Fault::Fractions { .. },
        CLAY => r#""clay_pct":-1"#, "ground.clay_pct", Fault::OutOfRange { value: -1.0, low: 0.0, high: 100.0 },
        CLAY => r#""clay_pct":100.1"#, "ground.clay_pct", Fault::OutOfRange { .. },
        CLAY => r#""clay_pct":1e308"#, "ground.clay_pct", Fault::OutOfRange { value: 1e308, .. },
        CLAY => r#""clay_pct":1e400"#, "ground.clay_pct", Fault::NotFinite { low: 0.0, high: 100.0 },
        CLAY => r#""clay_pct":-1e400"#, "ground.clay_pct", Fault::NotFinite { .. },
        CLAY => r#""clay_pct":"NaN""#, "ground.clay_pct", Fault::Kind(Kind::NumberOrRange),
        CLAY => r#""clay_pct":"55""#, "ground.clay_pct", Fault::Kind(Kind::NumberOrRange),
        CLAY => r#""clay_pct":"55,0""#, "ground.clay_pct", Fault::Kind(Kind::NumberOrRange),
        CLAY => r#""clay_pct":null"#, "ground.clay_pct", Fault::Kind(Kind::NumberOrRange),
        CLAY => r#""clay_pct":[55]"#, "ground.clay_pct", Fault::Kind(Kind::NumberOrRange),
        CLAY => r#""clay":55"#, "ground.clay_pct", Fault::Missing,
        r#""sand_pct":20,"silt_pct":25,"clay_pct":55"# => r#""sand_pct":0,"silt_pct":0,"clay_pct":0"#,
            "ground", Fault::Fractions { sum_pct: 0.0 },
        AMOUNT => r#""amount":{"value":-0.1,"unit":"L"}"#, "additions[0].amount.value", Fault::OutOfRange { .. },
        AMOUNT => r#""amount":{"value":1000001,"unit":"L"}"#, "additions[0].amount.value",
            Fault::OutOfRange { high, .. } if high == AMOUNT_LIMIT,
        AMOUNT => r#""amount":{"value":"10","unit":"L"}"#, "additions[0].amount.value", Fault::Kind(Kind::Number),
        AMOUNT => r#""amount":{"value":{"low":1,"typical":2,"high":3},"unit":"L"}"#,
            "additions[0].amount.value", Fault::Kind(Kind::Number),
        SAND => r#""sand_pct":20,"crumb":1.01"#, "ground.crumb", Fault::OutOfRange { high: 1.0, .. },
        SAND => r#""sand_pct":20,"water_per_dry_pct":301"#, "ground.water_per_dry_pct", Fault::OutOfRange { .. },
        SAND => r#""sand_pct":20,"ph":14.5"#, "ground.ph", Fault::OutOfRange { .. },
        "1300" => "199", "ground.bulk_density_kg_m3", Fault::OutOfRange { low: 200.0, high: 2200.0, .. },
        LOOSE => r#""loose_density_kg_m3":19"#, "materials[0].loose_density_kg_m3", Fault::OutOfRange { low: 20.0, high: 3000.0, .. },
        LOOSE => r#""loose_density_kg_m3":1450,"grain_mm":0"#, "materials[0].grain_mm", Fault::OutOfRange { low: 0.001, high: 75.0, .. },
        r#""count":2"# => r#""count":2.5"#, "place.count", Fault::Kind(Kind::Whole),
        r#""count":2"# => r#""count":0"#, "place.count", Fault::OutOfRange { .. },
        SOIL => r#""parts_of_soil":0,"soil":{"value":40,"unit":"L"}"#, "parts_of_soil", Fault::OutOfRange { .. },
        LOOSE => &bag("0"), "materials[0].bag.value", Fault::OutOfRange { low: AMOUNT_LEAST, .. },
        LOOSE => &bag("9e-10"), "materials[0].bag.value", Fault::OutOfRange { .. },
        LOOSE => &price("0"), "materials[0].price.per.value", Fault::OutOfRange { low: AMOUNT_LEAST, .. },
        LOOSE => &price("9e-10"), "materials[0].price.per.value", Fault::OutOfRange { .. },
    }
    for least in [&bag("1e-9"), &price("1e-9")] {
        let taken = outcome(&changed(LOOSE, least));
        assert!(taken.is_ok(), "{least}: {:?}", taken.err());
    }
    let zero = Recipe::from_json(&changed(SAND, r#""sand_pct":20,"gravel_pct":-0.0"#));
    let zero = zero.expect("minus zero is zero").ground.get(Trait::Gravel);
    assert_eq!(
        zero.map(|figure| figure.typical.to_bits()),
        Some(0.0_f64.to_bits()),
        "without a sign"
    );
}

#[test]
fn heights_of_a_place() {
    refused! {
        r#""count":2"# => r#""height":{"value":301,"unit":"cm"}"#, "place.height.value",
            Fault::OutOfRange { low: 1.0, high: 300.0, .. },
        r#""count":2"# => r#""height":{"value":9,"unit":"mm"}"#, "place.height.value",
            Fault::OutOfRange { low: 10.0, high: 3000.0, .. },
    }
    for (value, unit) in [(300, "cm"), (3, "m"), (1, "cm"), (10, "mm")] {
        let limit = format!(r#""height":{{"value":{value},"unit":"{unit}"}}"#);
        let taken = outcome(&changed(r#""count":2"#, &limit));
        assert!(taken.is_ok(), "{value} {unit} are taken: {:?}", taken.err());
    }
}

#[test]
fn ranges() {
    let clay = |range: &str| format!(r#""clay_pct":{range}"#);
    refused! {
        CLAY => &clay(r#"{"low":56,"typical":55,"high":60}"#), "ground.clay_pct", Fault::RangeOrder,
        CLAY => &clay(r#"{"low":50,"typical":55,"high":54}"#), "ground.clay_pct", Fault::RangeOrder,
        CLAY => &clay(r#"{"low":60,"typical":55,"high":50}"#), "ground.clay_pct", Fault::RangeOrder,
        CLAY => &clay(r#"{"low":50,"typical":55}"#), "ground.clay_pct.high", Fault::Missing,
        CLAY => &clay(r#"{"typical":55}"#), "ground.clay_pct.low", Fault::Missing,
        CLAY => &clay(r#"{"low":-1,"typical":55,"high":60}"#), "ground.clay_pct.low", Fault::OutOfRange { .. },
        CLAY => &clay(r#"{"low":50,"typical":55,"high":1e999}"#), "ground.clay_pct.high", Fault::NotFinite { .. },
        CLAY => &clay(r#"{"low":50,"typical":55,"high":60,"mode":55}"#), "ground.clay_pct.mode", Fault::UnknownField,
    }
    let good = clay(r#"{"low":50,"typical":55,"high":60}"#);
    assert!(
        outcome(&changed(CLAY, &good)).is_ok(),
        "a range in order is taken"
    );
}

#[test]
fn words() {
    let names = |fault: &Fault, word: &str| match fault {
        Fault::NotOneOf { found, allowed } => found == word && !allowed.is_empty(),
        _ => false,
    };
    for unit in ["litre", "l", "LB", "", "m2", "lb/ft2", "L\n"] {
        let to = format!(r#""amount":{{"value":10,"unit":{unit:?}}}"#);
        let fault = refused(AMOUNT, &to, "additions[0].amount.unit");
        assert!(names(&fault, unit), "{unit:?}: {fault:?}");
    }
    for unit in ["%v", "part", "g/L", "bag", "cm", "lb/1000ft2"] {
        let to = format!(r#""soil":{{"value":40,"unit":{unit:?}}}"#);
        let fault = refused(SOIL, &to, "soil.unit");
        assert!(names(&fault, unit), "soil in {unit:?}: {fault:?}");
    }
    let fault = refused(r#""kind":"bed""#, r#""kind":"pond""#, "place.kind");
    assert!(names(&fault, "pond"), "{fault:?}");
    let fault = refused(
        r#""group":"sand""#,
        r#""group":"Sand""#,
        "materials[0].group",
    );
    assert!(names(&fault, "Sand"), "{fault:?}");
    refused! {
        r#""material":"pit_sand""# => r#""material":"pitsand""#, "additions[0].material",
            Fault::UnknownMaterial { ref found } if found == "pitsand",
        r#""material":"pit_sand""# => r#""material":"a\nb""#, "additions[0].material", Fault::UnknownMaterial { .. },
        r#""material":"pit_sand""# => r#""material":7"#, "additions[0].material", Fault::Kind(Kind::Text),
        r#""barrowmix":1"# => r#""barrowmix":2"#, "barrowmix", Fault::Version { newest: VERSION },
        r#""barrowmix":1"# => r#""barrowmix":0"#, "barrowmix", Fault::Version { .. },
        r#""barrowmix":1"# => r#""barrowmix":"1""#, "barrowmix", Fault::Version { .. },
        r#""barrowmix":1,"# => "", "barrowmix", Fault::Missing,
        r#""kind":"bed""# => r#""kind":"bed","drains":"yes""#, "place.drains", Fault::Kind(Kind::Bool),
        r#""barrowmix":1"# => r#""barrowmix":1,"title":5"#, "title", Fault::Kind(Kind::Text),
    }
}

#[test]
fn shape() {
    let many = |count: usize| format!("[{}]", vec![LINE; count].join(","));
    let lines = format!("[{LINE}]");
    refused! {
        SOIL => r#""soil_l":40"#, "soil", Fault::Missing,
        SOIL => r#""soil":40"#, "soil", Fault::Kind(Kind::Object),
        SOIL => r#""soil":{"value":40}"#, "soil.unit", Fault::Missing,
        SOIL => r#""soil":{"unit":"L"}"#, "soil.value", Fault::Missing,
        SOIL => r#""soil":{"depth":{"value":20,"unit":"cm"}}"#, "soil.area", Fault::Missing,
        SOIL => r#""soil":{"area":{"value":2,"unit":"m2"}}"#, "soil.depth", Fault::Missing,
        SOIL => r#""soil":{"area":{"value":2,"unit":"m"},"depth":{"value":20,"unit":"cm"}}"#,
            "soil.area.unit", Fault::NotOneOf { .. },
        SAND => r#""sand_pct":20,"sand_pct":20"#, "ground.sand_pct", Fault::Twice,
        SAND => r#""sand_pct":20,"Sand_pct":20"#, "ground.Sand_pct", Fault::UnknownField,
        SAND => r#""sand_pct":20,"a b\n":20"#, r#"ground["a b\n"]"#, Fault::UnknownField,
        &lines => &many(ADDITIONS_LIMIT + 1), "additions", Fault::TooMany { limit: 64 },
        &lines => LINE, "additions", Fault::Kind(Kind::List),
        &lines => "[5]", "additions[0]", Fault::Kind(Kind::Object),
        r#""id":"pit_sand","# => "", "materials[0].id", Fault::Missing,
        LOOSE => r#""grain_mm":1"#, "materials[0].loose_density_kg_m3", Fault::Missing,
        r#"{"id":"pit_sand","# => r#"{"id":"pit_sand","loose_density_kg_m3":1400},{"id":"pit_sand","#,
            "materials[1].id", Fault::Twice,
        SAND => r#""sand_pct":20,"ec_1to5_ds_m":0.2,"ec_saturated_paste_ds_m":1"#, "ground",
            Fault::OnlyOneOf(ref names) if names.len() == 3,
    }
    let all = outcome(&changed(&lines, &many(ADDITIONS_LIMIT)));
    assert!(all.is_ok(), "64 additions are taken: {:?}", all.err());
}

/// Every fault is told once, those that only follow from another are not, and no more than a hundred.
#[test]
fn all_faults_are_told() {
    let all = |from: &str, to: &str| -> Vec<(String, Fault)> {
        let tree = Tree::parse(&changed(from, to)).expect("it is JSON");
        let faults = Recipe::from_tree_with_all_faults(tree).expect_err("it has faults");
        faults
            .into_iter()
            .map(|error| (error.path.as_str().to_owned(), error.fault))
            .collect()
    };
    assert_eq!(
        all(SOIL, r#""soil":40,"soil_l":40"#),
        [
            ("soil".to_owned(), Fault::Kind(Kind::Object)),
            ("soil_l".to_owned(), Fault::UnknownField),
        ],
        "one name begins as another does"
    );
    assert_eq!(
        all(SAND, r#""sand_pct":"20","sand":20"#),
        [
            (
                "ground.sand_pct".to_owned(),
                Fault::Kind(Kind::NumberOrRange)
            ),
            ("ground.sand".to_owned(), Fault::UnknownField),
        ],
        "their sum only follows"
    );
    // Sixty-four lines of which neither material nor amount is told.
    let lines = vec!["{}"; ADDITIONS_LIMIT].join(",");
    assert_eq!(all(LINE, &lines).len(), 100, "of 128 faults");
    let lines = vec!["{}"; 50].join(",");
    assert_eq!(all(LINE, &lines).len(), 100, "of a hundred");
    let lines = vec!["{}"; 49].join(",");
    assert_eq!(all(LINE, &lines).len(), 98, "of fewer");
}

/// A strange name is told as it is up to 60 letters, and quoted beyond.
#[test]
fn long_names_are_quoted() {
    let of = |letters: usize| {
        let to = format!(r#"{SAND},"{}":20"#, "q".repeat(letters));
        let error = Recipe::from_json(&changed(SAND, &to)).expect_err("an unknown field");
        assert_eq!(error.fault, Fault::UnknownField, "{letters} letters");
        error.path.as_str().to_owned()
    };
    for letters in [59, 60] {
        assert_eq!(
            of(letters),
            format!("ground.{}", "q".repeat(letters)),
            "plain"
        );
    }
    for letters in [61, 62, 500] {
        let path = of(letters);
        let quoted = path.starts_with("ground[\"qqq") && path.ends_with("\"]");
        assert!(quoted && path.len() < 80, "{letters} letters: {path}");
    }
}

#[test]
fn amounts_that_count_against_nothing() {
    let none = r#""soil":{"value":0,"unit":"L"}"#;
    let amount =
        |unit: &str, value: f64| format!(r#""amount":{{"value":{value},"unit":"{unit}"}}"#);
    for unit in ["part", "g/L", "%v", "%m"] {
        let text = changed(AMOUNT, &amount(unit, 10.0)).replace(SOIL, none);
        let error = outcome(&text).expect_err("there is no ground to count against");
        assert_eq!(error.path.as_str(), "additions[0].amount.unit", "{unit}");
        assert_eq!(error.fault, Fault::NoGround, "{unit}");
    }
    let text = changed(AMOUNT, &amount("L", 0.0)).replace(SOIL, none);
    let error = outcome(&text).expect_err("there is nothing");
    assert_eq!(
        (error.path.as_str(), error.fault),
        ("soil", Fault::Empty),
        "an empty blend"
    );
    let sand_only = changed(SOIL, none);
    assert!(
        outcome(&sand_only).is_ok(),
        "a blend without ground is a blend"
    );
    let top = format!(r#"{},"on_top":true"#, amount("%v", 10.0));
    let top_mass = format!(r#"{},"on_top":true"#, amount("%m", 10.0));
    let top_part = format!(r#"{},"on_top":true"#, amount("part", 1.0));
    let two = |unit: &str| {
        let line = format!(r#"{{"material":"pit_sand",{}}}"#, amount(unit, 50.0));
        format!("{line},{line}")
    };
    refused! {
        AMOUNT => &amount("%v", 100.0), "additions[0].amount.value", Fault::Shares { .. },
        AMOUNT => &amount("%v", 250.0), "additions[0].amount.value", Fault::Shares { .. },
        AMOUNT => &amount("%m", 100.0), "additions[0].amount.value", Fault::Shares { .. },
        LINE => &two("%v"), "additions[0].amount.value", Fault::Shares { volume_pct, .. } if (volume_pct - 100.0).abs() < 1e-9,
        LINE => &two("%m"), "additions[0].amount.value", Fault::Shares { .. },
        AMOUNT => &amount("bag", 2.0), "additions[0].amount.unit", Fault::NoBag,
        AMOUNT => &top, "additions[0].amount.unit", Fault::MulchShare,
        AMOUNT => &top_mass, "additions[0].amount.unit", Fault::MulchShare,
        AMOUNT => &top_part, "additions[0].amount.unit", Fault::MulchShare,
        AMOUNT => &amount("cm", 5.0), "soil.area", Fault::NoArea,
        AMOUNT => &amount("lb/1000ft2", 40.0), "soil.area", Fault::NoArea,
    }
}

#[test]
fn densities_that_cannot_be() {
    let fault = refused(
        r#""bulk_density_kg_m3":1300"#,
        r#""bulk_density_kg_m3":2200,"organic_matter_pct":30"#,
        "ground.bulk_density_kg_m3",
    );
    let Fault::Ground(GroundFault::DenserThanSolids {
        lying_kg_m3,
        limit_kg_m3,
        solid_kg_m3,
    }) = fault
    else {
        panic!("{fault:?}");
    };
    assert_eq!(lying_kg_m3, 2200.0, "the density that was given");
    // Ruehlmann & Korschens: 1/(0.3/1430 + 0.7 (0.20/2660 + 0.25/2690 + 0.55/2760)), by hand 2141.
    support::assert_printed(solid_kg_m3, "2141", "density of the solids");
    support::assert_relative(limit_kg_m3, 0.88 * solid_kg_m3, 1e-12, "its limit");
    let heavy = |more: &str| format!(r#""loose_density_kg_m3":1450,{more}"#);
    refused! {
        LOOSE => &heavy(r#""settled_dry_density_kg_m3":2400"#), "materials[0]", Fault::Misfit(Misfit::SettledAboveGrain { .. }),
        LOOSE => r#""settled_dry_density_kg_m3":1500,"loose_density_kg_m3":2200"#, "materials[0]", Fault::Misfit(Misfit::FreshAboveGrain { .. }),
        LOOSE => &heavy(r#""organic_matter_pct":60,"char_pct":41"#), "materials[0]", Fault::Misfit(Misfit::OrganicAndChar { .. }),
        LOOSE => &heavy(r#""sand_pct":0,"silt_pct":0,"clay_pct":0"#), "materials[0]", Fault::Misfit(Misfit::NoFractions),
    }
}

/// A line that is drier than its grains allow is refused where it is packed, and not as a mulch.
#[test]
fn a_dry_mulch_is_not_packed() {
    let of = |water: f64, on_top: bool| {
        let line = format!(
            r#"{{"material":"pit_sand","amount":{{"value":10,"unit":"L"}},"water_per_wet_pct":{water},"on_top":{on_top}}}"#
        );
        let loose = r#""loose_density_kg_m3":2300,"water_per_wet_pct":20"#;
        outcome(&changed(LINE, &line).replace(LOOSE, loose)).err()
    };
    // Of 2300 kg/m3 a fifth is water, and 1840 are sand; 2300 of grains of 2650 would fill more than
    // eight tenths of the room.
    for on_top in [false, true] {
        assert_eq!(of(20.0, on_top), None, "as it is sold");
    }
    let error = of(0.0, false).expect("too dense");
    assert_eq!(
        error.path.as_str(),
        "additions[0].water_per_wet_pct",
        "{error:?}"
    );
    assert!(matches!(error.fault, Fault::Misfit(_)), "{error:?}");
    assert_eq!(of(0.0, true), None, "a mulch takes the room it takes");
}

#[test]
fn not_json() {
    for (text, line, column) in [
        ("", 1, 1),
        ("{", 1, 2),
        ("{\"barrowmix\":1,\n \"ground\":{\"clay_pct\":NaN}}", 2, 23),
        ("{\"barrowmix\":1,\n \"ground\":{\"clay_pct\":55,5}}", 2, 26),
        ("{\"barrowmix\":1,}", 1, 16),
        ("{'barrowmix':1}", 1, 2),
    ] {
        let error = Recipe::from_json(text).expect_err("it is not JSON");
        assert_eq!(error.path.as_str(), "$", "{text:?}");
        assert_eq!(error.fault, Fault::NotJson { line, column }, "{text:?}");
    }
    let error = Recipe::from_bytes(b"{\"barrowmix\":1,\n\"title\":\"\xff\"}").expect_err("no text");
    assert_eq!(
        error.fault,
        Fault::NotJson {
            line: 2,
            column: 10
        },
        "bytes that are no text"
    );
    for text in ["5", "[]", "null", "\"barrowmix\""] {
        let error = Recipe::from_json(text).expect_err("no object");
        assert_eq!(error.fault, Fault::Kind(Kind::Object), "{text}");
        assert_eq!(error.path.as_str(), "$", "{text}");
    }
    let deep = "[".repeat(200_000);
    assert!(
        Recipe::from_json(&deep).is_err(),
        "lists without end are an error"
    );
}
