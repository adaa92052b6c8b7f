#![cfg(not(target_arch = "wasm32"))]
//! Amounts as people say them.

mod support;

use barrowmix::blend::Barrow;
use barrowmix::material::catalogue;
use barrowmix::quantity::Unit;
use barrowmix::recipe::phrase::{
    PhraseFault, Share, What, apply_parts, parse_parts, without_accents,
};
use barrowmix::recipe::{ADDITIONS_LIMIT, Recipe, Soil};
use barrowmix::tongue::{Language, speak};
use proptest::prelude::*;
use serde_json::json;
use support::dice::Dice;
use support::{assert_relative, recipes};

fn full() -> Recipe {
    recipes::read(recipes::FULL)
}

/// What was understood, as `3 ground, 1 yard_compost`.
fn heard(recipe: &Recipe, text: &str) -> String {
    let shares = parse_parts(recipe, text).unwrap_or_else(|fault| panic!("{fault:?} in {text:?}"));
    let told: Vec<String> = shares
        .iter()
        .map(|Share { parts, what }| match what {
            What::Ground => format!("{parts} ground"),
            What::Material(id) => format!("{parts} {id}"),
        })
        .collect();
    told.join(", ")
}

fn fault(text: &str) -> PhraseFault {
    parse_parts(&full(), text).expect_err("it has a fault")
}

#[test]
fn phrases_are_understood() {
    let recipe = recipes::read(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":20,"clay_pct":60},"soil":{"value":40,"unit":"L"}}"#,
    );
    let plain = "3 ground, 1 yard_compost, 1 concrete_sand";
    for (text, expected) in [
        ("3 soil, 1 compost, 1 sand", plain),
        ("3 soil + 1 compost + 1 sand", plain),
        ("3 soil; 1 compost; 1 sand;", plain),
        (
            "8 soil, 1 worm castings, 1 ash",
            "8 ground, 1 vermicompost, 1 wood_ash",
        ),
        ("3 soil\n1 compost\r\n1 sand\n", plain),
        (
            "Three parts of Clay, one part Compost and one part SAND",
            plain,
        ),
        (
            "3 buckets of my garden soil, a bucket of compost and 1 bucket of sand",
            plain,
        ),
        ("3 ground and 1 green compost and 1 concrete sand", plain),
        (
            "60% earth, 20 % compost, 20% sand",
            "60 ground, 20 yard_compost, 20 concrete_sand",
        ),
        (
            "1 1/2 dirt, 1/2 peat moss, .25 bark",
            "1.5 ground, 0.5 sphagnum_peat, 0.25 pine_bark",
        ),
        (
            "two and a half heavy clay, half a barrow of manure",
            "2.5 ground, 0.5 cattle_manure",
        ),
        ("half soil and half compost", "0.5 ground, 0.5 yard_compost"),
        ("1 soil, a half compost", "1 ground, 0.5 yard_compost"),
        ("twelve soil, 2x play sand", "12 ground, 2 play_sand"),
        (
            "4 soil, 1 mushroom compost, weathered",
            "4 ground, 1 smc_weathered",
        ),
        ("4 soil, 1 mushroom compost", "4 ground, 1 smc_fresh"),
        ("4 soil, 1 char", "4 ground, 1 biochar_wood"),
        (
            "4 soil, 1 horticultural perlite, 1 coarse sand",
            "4 ground, 1 perlite, 1 concrete_sand",
        ),
        ("3 parts of soil to 1 part compost plus one sand", plain),
        ("4 soil, 1 expanded_shale", "4 ground, 1 expanded_shale"),
    ] {
        assert_eq!(heard(&recipe, text), expected, "{text:?}");
    }
}

/// Each name and id of the catalogue means itself.
#[test]
fn names_mean_themselves() {
    let mut recipe = full();
    recipe.materials.clear();
    for entry in catalogue() {
        for said in [
            entry.name.to_owned(),
            entry.id.to_owned(),
            entry.name.to_uppercase(),
        ] {
            let text = format!("3 soil, 2 {said}");
            assert_eq!(
                heard(&recipe, &text),
                format!("3 ground, 2 {}", entry.id),
                "{text:?}"
            );
        }
    }
}

/// What is heard in a language.
fn heard_in(language: Language, said: &[(&str, &str)]) {
    let recipe = recipes::read(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":20,"clay_pct":60},"soil":{"value":40,"unit":"L"}}"#,
    );
    speak(language);
    for (text, expected) in said {
        assert_eq!(heard(&recipe, text), *expected, "{text:?}");
    }
    for entry in catalogue() {
        for name in [entry.told().to_owned(), entry.told().to_uppercase()] {
            let text = format!("3 soil, 2 {name}");
            let expected = format!("3 ground, 2 {}", entry.id);
            assert_eq!(heard(&recipe, &text), expected, "{text:?}");
        }
    }
    for text in ["1.500 soil", "soil, 1 sand"] {
        let odd = parse_parts(&recipe, text);
        assert!(matches!(odd, Err(PhraseFault::NoNumber { .. })), "{odd:?}");
    }
    speak(Language::English);
}

#[test]
fn spanish_is_understood() {
    let plain = "3 ground, 1 yard_compost, 1 concrete_sand";
    heard_in(
        Language::Spanish,
        &[
            ("3 partes de tierra, 1 de compost, 1 de arena", plain),
            (
                "Tres partes de arcilla, una parte de compost y una de ARENA",
                plain,
            ),
            (
                "3 cubos de tierra de mi jardín, un cubo de compost más 1 cubo de arena",
                plain,
            ),
            ("3 de tierra por 1 de compost con 1 de arena", plain),
            ("3 soil, 1 compost, 1 sand", plain),
            (
                "2,5 de tierra, 0,5 de turba",
                "2.5 ground, 0.5 sphagnum_peat",
            ),
            ("2.5 de tierra,1 de perlita", "2.5 ground, 1 perlite"),
            (
                "dos y media de arcilla pesada y media carretilla de estiércol",
                "2.5 ground, 0.5 cattle_manure",
            ),
            (
                "dos cubos y medio de tierra, un cubo de yeso",
                "2.5 ground, 1 gypsum",
            ),
            (
                "mitad tierra y mitad compost",
                "0.5 ground, 0.5 yard_compost",
            ),
            (
                "60 por ciento de tierra, 20 % de humus de lombriz, 20% gravilla",
                "60 ground, 20 vermicompost, 20 pea_gravel",
            ),
            (
                "4 tierra, 1 tierra vegetal, 1 ceniza",
                "4 ground, 1 topsoil, 1 wood_ash",
            ),
        ],
    );
}

#[test]
fn french_is_understood() {
    let plain = "3 ground, 1 yard_compost, 1 concrete_sand";
    heard_in(
        Language::French,
        &[
            ("3 parts de terre, 1 de compost, 1 de sable", plain),
            (
                "Trois parts d’argile, une part de compost et une de SABLE",
                plain,
            ),
            (
                "3 seaux de terre de mon jardin, un seau de compost plus 1 seau de sable",
                plain,
            ),
            ("3 de terre pour 1 de compost avec 1 de sable", plain),
            ("3 soil, 1 compost, 1 sand", plain),
            (
                "2,5 de terre, 0,5 de tourbe",
                "2.5 ground, 0.5 sphagnum_peat",
            ),
            (
                "deux et demie d'argile lourde et une demi-brouette de fumier",
                "2.5 ground, 0.5 cattle_manure",
            ),
            (
                "deux seaux et demi de terre, un seau de gypse",
                "2.5 ground, 1 gypsum",
            ),
            ("six de terre, dix de paille", "6 ground, 10 straw"),
            (
                "moitié terre et moitié compost",
                "0.5 ground, 0.5 yard_compost",
            ),
            (
                "60 pour cent de terre, 20 % de lombricompost, 20% gravillon",
                "60 ground, 20 vermicompost, 20 pea_gravel",
            ),
            (
                "4 terre, 1 écorce de pin, 1 terre végétale",
                "4 ground, 1 pine_bark, 1 topsoil",
            ),
        ],
    );
}

#[test]
fn own_materials_come_first() {
    let mut recipe = full();
    assert_eq!(
        heard(&recipe, "1 soil, 1 sand"),
        "1 ground, 1 pit_sand",
        "by a word"
    );
    assert_eq!(
        heard(&recipe, "1 soil, 1 SAND FROM THE PIT"),
        "1 ground, 1 pit_sand",
        "by name"
    );
    assert_eq!(
        heard(&recipe, "1 soil, 1 pit_sand"),
        "1 ground, 1 pit_sand",
        "by id"
    );
    assert_eq!(
        heard(&recipe, "1 soil, 1 play sand"),
        "1 ground, 1 play_sand",
        "more words"
    );
    recipe.materials[0].name = Some("Sand and gravel".into());
    let both = heard(&recipe, "1 soil, 1 sand and gravel and 1 compost");
    assert_eq!(
        both, "1 ground, 1 pit_sand, 1 yard_compost",
        "a name with an and"
    );
    recipe.materials[0].name = Some("Heap 1, \"by the gate\"".into());
    let heap = heard(&recipe, "1 soil, 2 heap 1, by the gate, 1 sand");
    assert_eq!(
        heap, "1 ground, 2 pit_sand, 1 concrete_sand",
        "a name with a comma"
    );
    recipe.materials[0].name = Some("Potting soil".into());
    assert_eq!(
        heard(&recipe, "1 soil, 2 potting soil"),
        "1 ground, 2 pit_sand",
        "not the ground"
    );
}

#[test]
fn what_is_not_understood_is_told() {
    assert_eq!(fault(""), PhraseFault::Nothing, "nothing");
    assert_eq!(
        fault(" ,;+\n and "),
        PhraseFault::Nothing,
        "only separators"
    );
    assert_eq!(fault("1 compost"), PhraseFault::NoGround, "no soil");
    for (text, said) in [("soil, 1 sand", "soil"), ("1 soil, compost", "compost")] {
        let found = said.to_owned();
        assert_eq!(fault(text), PhraseFault::NoNumber { found }, "{text:?}");
    }
    for (text, said) in [("1,5 soil", "1"), ("3 parts of, 1 sand", "3 parts of")] {
        let found = said.to_owned();
        assert_eq!(fault(text), PhraseFault::NoName { found }, "{text:?}");
    }
    for (text, said) in [
        ("3 kg soil", "kg"),
        ("12 L soil", "l"),
        ("2 bags of compost", "bags"),
    ] {
        let found = said.to_owned();
        assert_eq!(fault(text), PhraseFault::Measure { found }, "{text:?}");
    }
    for (text, said) in [("0 soil", 0.0), ("-2 soil", -2.0), ("2e6 soil", f64::NAN)] {
        match fault(text) {
            PhraseFault::Parts { parts, low, high } => {
                assert_eq!((parts, low, high), (said, 1e-9, 1e6), "{text:?}");
            }
            PhraseFault::NoNumber { .. } => assert!(said.is_nan(), "{text:?}"),
            other => panic!("{other:?} in {text:?}"),
        }
    }
    assert!(
        matches!(fault("1/0 soil"), PhraseFault::Parts { .. }),
        "one in none"
    );
    let what = What::Ground;
    assert_eq!(
        fault("1 soil, 2 clay"),
        PhraseFault::Twice { what },
        "soil twice"
    );
    let what = What::Material("yard_compost".into());
    assert_eq!(
        fault("1 soil, 2 compost, 1 green compost"),
        PhraseFault::Twice { what },
        "twice"
    );
}

#[test]
fn strange_names_come_with_near_ones() {
    let near = |text: &str| match fault(&format!("3 soil, 1 {text}")) {
        PhraseFault::Unknown { found, near } => {
            assert_eq!(found, text, "carried");
            assert!(near.len() <= 3, "{near:?}");
            near
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(
        near("perlit").first().map(String::as_str),
        Some("Perlite"),
        "a slip"
    );
    assert_eq!(
        near("gipsum").first().map(String::as_str),
        Some("Gypsum"),
        "a slip"
    );
    assert_eq!(near("mud"), Vec::<String>::new(), "nothing like it");
    // Of two things none is dropped.
    near("bark compost");
    near("sand for clay");
    // Bought soil is not the ground, and a kind alone is no material.
    near("potting soil");
    near("expanded glass");
    near("pine cones");
}

#[test]
fn parts_are_mixed() {
    let recipe = full();
    let shares = parse_parts(&recipe, "6 soil, 2 compost, 1 sand from the pit, 1 perlite")
        .expect("it is understood");
    let mixed = apply_parts(&recipe, &shares).expect("it can be");
    assert_eq!(mixed.parts_of_soil, Some(6.0), "parts of soil");
    assert_eq!(mixed.soil, recipe.soil, "the amount of soil stays");
    let ids: Vec<&str> = mixed
        .additions
        .iter()
        .map(|line| line.material.as_str())
        .collect();
    assert_eq!(
        ids,
        ["yard_compost", "pit_sand", "perlite", "pine_bark"],
        "lines"
    );
    let (compost, was) = (&mixed.additions[0], &recipe.additions[0]);
    assert_eq!(
        (compost.amount.value, compost.amount.unit),
        (2.0, Unit::Part),
        "amount"
    );
    assert_eq!(
        compost.water_per_wet_pct, was.water_per_wet_pct,
        "moisture stays"
    );
    assert_eq!(compost.price, was.price, "price stays");
    assert_eq!(mixed.additions[1].bag, recipe.additions[1].bag, "bag stays");
    assert_eq!(
        mixed.additions[3], recipe.additions[2],
        "what lies on top stays"
    );
    // A second way: by loose volume each part is a sixth of the ground.
    let barrow = Barrow::of(&mixed).expect("it can be mixed");
    let part_m3 = barrow.ground_loose_m3() / 6.0;
    for (line, parts) in barrow.lines.iter().zip([2.0, 1.0, 1.0]) {
        assert_relative(line.loose_m3, parts * part_m3, 1e-12, "a part");
    }
}

#[test]
fn shares_by_hand_are_checked() {
    let recipe = full();
    let share = |parts, id: &str| Share {
        parts,
        what: What::Material(id.into()),
    };
    let ground = Share {
        parts: 1.0,
        what: What::Ground,
    };
    assert_eq!(apply_parts(&recipe, &[]), Err(PhraseFault::Nothing), "none");
    let only = [share(1.0, "perlite")];
    assert_eq!(
        apply_parts(&recipe, &only),
        Err(PhraseFault::NoGround),
        "no ground"
    );
    for parts in [0.0, -1.0, f64::INFINITY, f64::NAN] {
        let odd = apply_parts(&recipe, &[ground.clone(), share(parts, "perlite")]);
        assert!(matches!(odd, Err(PhraseFault::Parts { .. })), "{odd:?}");
    }
    let odd = apply_parts(&recipe, &[ground.clone(), share(1.0, "gold")]);
    let Err(PhraseFault::Unknown { found, .. }) = odd else {
        panic!("{odd:?}");
    };
    assert_eq!(found, "gold", "unknown");
    let twice = apply_parts(&recipe, &[ground.clone(), ground]);
    assert_eq!(
        twice,
        Err(PhraseFault::Twice { what: What::Ground }),
        "twice"
    );
}

/// Pieces that phrases are made of, so that random ones come near to sense.
const PIECES: [&str; 26] = [
    "1", "2.5", "1/2", "half", "a", "and", ",", "+", "\n", "soil", "clay", "sand", "compost",
    "mushroom", "fresh", "parts", "of", "bucket", "%", "-", "own_0", "heap", "0", "kg", "/", "ſ",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_shares_or_a_fault(text in any::<String>(), seed in any::<u64>()) {
        let mut dice = Dice::new(seed);
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let made: Vec<&str> = (0..dice.below(14)).map(|_| *dice.pick(&PIECES)).collect();
        for text in [text, made.join(" "), made.concat()] {
            match parse_parts(&recipe, &text) {
                Ok(shares) => {
                    let mixed = apply_parts(&recipe, &shares).expect("what was heard can be mixed");
                    prop_assert!(mixed.additions.len() <= ADDITIONS_LIMIT);
                    prop_assert_eq!(&mixed.soil, &recipe.soil);
                    prop_assert_eq!(&recipes::read(&mixed.to_json()), &mixed);
                }
                Err(PhraseFault::Unknown { found, near }) => {
                    prop_assert!(found.chars().count() <= 60 && near.len() <= 3);
                }
                Err(_) => {}
            }
        }
    }

    /// Shares said in any of the ways are heard as they were.
    #[test]
    fn what_is_said_is_heard(
        parts in prop::collection::vec(1_u32..400, 1..6), separator in 0_usize..5,
    ) {
        let separator = [", ", " + ", "; ", "\n", " and "][separator];
        let mut recipe = full();
        recipe.materials.clear();
        recipe.soil = Soil::Amount(barrowmix::recipe::Amount::new(10.0, Unit::Litre));
        let value = |index: usize| f64::from(parts[index]) / 4.0;
        let mut said = vec![format!("{} soil", value(0))];
        let mut expected = vec![format!("{} ground", value(0))];
        for index in 1..parts.len() {
            let entry = &catalogue()[index * 2 % catalogue().len()];
            said.push(format!("{} parts of {}", value(index), entry.name));
            expected.push(format!("{} {}", value(index), entry.id));
        }
        prop_assert_eq!(heard(&recipe, &said.join(separator)), expected.join(", "));
    }
}

#[test]
fn two_sizes_have_no_common_measure() {
    let recipe = recipes::read(recipes::FULL);
    for said in [
        "3 buckets of soil, 1 barrow of compost",
        "3 wheelbarrows soil, 1 bucket sand",
        "3 parts soil and a shovel of compost",
    ] {
        assert!(
            matches!(parse_parts(&recipe, said), Err(PhraseFault::Mixed { .. })),
            "{said}"
        );
    }
    // One size, or one that is not said again, is meant throughout (common practice).
    for said in [
        "3 buckets of soil, 1 bucket of compost",
        "3 buckets soil, 1 compost",
    ] {
        assert!(parse_parts(&recipe, said).is_ok(), "{said}");
    }
}

#[test]
fn numbers_stand_behind_too_and_as_fractions() {
    let recipe = recipes::read(recipes::FULL);
    let parts = |said: &str| -> Vec<f64> {
        let shares = parse_parts(&recipe, said).unwrap_or_else(|fault| panic!("{said}: {fault:?}"));
        shares.iter().map(|share| share.parts).collect()
    };
    assert_eq!(parts("soil 3, compost: 1"), [3.0, 1.0], "behind");
    assert_eq!(parts("1½ soil, ¼ sand"), [1.5, 0.25], "signs");
}

/// The letters of Spanish, French and their neighbours, large and small, as one types them in haste.
#[test]
fn accents_may_be_left_out() {
    for (with, without) in [
        ("ÀÁÂÄÃ àáâäã", "aaaaa aaaaa"),
        ("Çç Ññ", "cc nn"),
        ("ÈÉÊË èéêë", "eeee eeee"),
        ("ÌÍÎÏ ìíîï", "iiii iiii"),
        ("ÒÓÔÖÕ òóôöõ", "ooooo ooooo"),
        ("ÙÚÛÜ ùúûü", "uuuu uuuu"),
        ("Œuf bœuf", "oeuf boeuf"),
        ("Kompost 3/4", "kompost 3/4"),
    ] {
        assert_eq!(without_accents(with), without, "{with}");
    }
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 20, "clay_pct": 60 },
        "soil": { "value": 40, "unit": "L" },
        "materials": [{ "id": "own", "name": "Sœur Zoë Argüeñú", "group": "sand",
            "loose_density_kg_m3": 1500 }] }));
    let said = "3 soil, 1 soeur zoe arguenu";
    assert_eq!(heard(&recipe, said), "3 ground, 1 own", "{said}");
}

/// A half goes on with the number before it, and a bucket of something else does not.
#[test]
fn a_bucket_of_something_is_no_half() {
    let recipe = recipes::recipe(&json!({ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 20, "clay_pct": 60 },
        "soil": { "value": 40, "unit": "L" } }));
    let half = heard(&recipe, "3 soil, 2 and a half compost");
    assert_eq!(half, "3 ground, 2.5 yard_compost", "two and a half");
    for (said, found) in [
        ("3 soil, 2 and a bucket of compost", "2"),
        ("3 soil, 2 buckets and a bucket of compost", "2 buckets"),
    ] {
        let found = found.to_owned();
        let fault = Err(PhraseFault::NoName { found });
        assert_eq!(parse_parts(&recipe, said), fault, "{said}");
    }
    let heap = parse_parts(&recipe, "a compost heap");
    assert!(
        matches!(heap, Err(PhraseFault::NoNumber { .. })),
        "no number: {heap:?}"
    );
}

/// A bucket and a barrow have no common measure in any language.
#[test]
fn two_sizes_have_none_elsewhere_either() {
    let recipe = full();
    for (language, said) in [
        (
            Language::Spanish,
            "2 cubos de tierra, 1 carretilla de compost",
        ),
        (Language::Spanish, "2 palas de tierra, 1 balde de compost"),
        (Language::French, "2 seaux de terre, 1 brouette de compost"),
        (Language::French, "2 pelles de terre, 1 seau de compost"),
    ] {
        speak(language);
        let mixed = parse_parts(&recipe, said);
        speak(Language::English);
        assert!(
            matches!(mixed, Err(PhraseFault::Mixed { .. })),
            "{said}: {mixed:?}"
        );
    }
}
