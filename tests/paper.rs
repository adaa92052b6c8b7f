//! The print sheet in words.
#![cfg(not(target_arch = "wasm32"))]

use barrowmix::outcome::Outcome;
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Recipe};
use barrowmix::words::{METRIC, Paper, Speech, Units, care_text, paper, too_long_for_a_code};

const US: Speech = Speech { units: Units::Us };
const DEMO: &str = include_str!("../examples/recipes/willowbank.json");
/// Ten pots of equal parts by volume, and a mulch: 100 L of ground as it lies.
const POTS: &str = r#"{ "barrowmix": 1, "title": "Ten pots",
    "ground": { "sand_pct": 40, "silt_pct": 40, "clay_pct": 20, "bulk_density_kg_m3": 1300 },
    "soil": { "value": 100, "unit": "L" },
    "additions": [
        { "material": "concrete_sand", "amount": { "value": 160, "unit": "kg" } },
        { "material": "yard_compost", "amount": { "value": 24, "unit": "L" } },
        { "material": "yard_compost", "amount": { "value": 12, "unit": "L" }, "on_top": true }
    ],
    "place": { "kind": "container", "count": 10 } }"#;

fn sizes() -> [Amount; 2] {
    [12.0, 85.0].map(|litres| Amount::new(litres, Unit::Litre))
}

fn told(text: &str, speech: Speech) -> (Recipe, Outcome, Paper) {
    let recipe = Recipe::from_json(text).expect("the recipe reads");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let paper = paper(&recipe, &outcome, &sizes(), speech);
    (recipe, outcome, paper)
}

/// The number that a cell begins with.
fn number(cell: &str) -> f64 {
    let end = cell
        .find(|letter: char| !letter.is_ascii_digit() && letter != '.' && letter != ',')
        .unwrap_or(cell.len());
    let digits = cell[..end].trim_end_matches(',').replace(',', "");
    digits
        .parse()
        .unwrap_or_else(|_| panic!("no number in {cell:?}"))
}

#[test]
fn every_pot_takes_its_share() {
    let (_, _, paper) = told(POTS, METRIC);
    assert_eq!(
        paper.weigh_head,
        [
            "What",
            "As entered",
            "For each pot",
            "For all 10",
            "Buckets of 12\u{a0}L",
            "Barrows of 85\u{a0}L"
        ]
    );
    assert_eq!(paper.weigh.len(), 5, "ground, three additions, the sum");
    for row in &paper.weigh {
        assert_eq!(row.len(), paper.weigh_head.len(), "{row:?}");
    }
    let sand = &paper.weigh[1];
    assert_eq!(sand[1], "160 kg", "as typed");
    assert_eq!(sand[2].split(',').next(), Some("16.0 kg"), "a tenth");
    assert_eq!(sand[3].split(',').next(), Some("160 kg"), "all of it");
    let compost = &paper.weigh[2];
    assert_eq!(compost[1], "24 L");
    assert!(compost[2].ends_with(", 2.40 L"), "{compost:?}");
    assert_eq!(compost[4], "2.0", "two buckets of 12 L");
    assert_eq!(compost[5], "0.28", "24 of 85 L");
    assert!(paper.weigh[3][0].ends_with(", on top"), "the mulch says so");
    // The sum leaves out what lies on top: 160 kg of sand, the compost, and the ground by its row.
    let all = number(&paper.weigh[4][3]);
    let sum: f64 = paper.weigh[..3].iter().map(|row| number(&row[3])).sum();
    assert!((all - sum).abs() <= 1.5, "{all} and {sum} kg");
}

#[test]
fn beds_share_what_lies_under_their_area() {
    let text = POTS
        .replace(
            r#""soil": { "value": 100, "unit": "L" }"#,
            r#""soil": { "area": { "value": 2, "unit": "m2" }, "depth": { "value": 20, "unit": "cm" } }"#,
        )
        .replace("\"container\"", "\"bed\"");
    let (_, _, paper) = told(&text, METRIC);
    assert_eq!(paper.weigh_head[2..4], ["For each", "For all 10"]);
    assert!(paper.weigh[0][1].contains("20 cm"), "{:?}", paper.weigh[0]);
    assert!(
        paper.weigh[1][2].starts_with("16.0 kg"),
        "a tenth of the sand"
    );
}

/// What the ground is besides its texture, and where it goes, stand on paper as they were given.
#[test]
fn the_whole_recipe_is_told() {
    let text = POTS
        .replace(
            r#""bulk_density_kg_m3": 1300"#,
            r#""bulk_density_kg_m3": 1300, "gravel_pct": 12, "ph": 7.4, "crumb": 0.8, "sodium_share_pct": 3,
               "ec_1to5_ds_m": 0.3"#,
        )
        .replace(
            r#""count": 10"#,
            r#""count": 10, "volume": { "value": 12, "unit": "L" }, "height": { "value": 25, "unit": "cm" },
               "drains": true, "on": "deck", "crop": "chard\n" "#,
        );
    let (_, _, paper) = told(&text, METRIC);
    let ground = paper.ground.join("\n");
    for said in [
        "gravel 12 %",
        "pH 7.4",
        "crumb 0.8 (garden crumb",
        "sodium 3 % of the CEC",
        "EC 1:5 0.3 dS/m",
        "Where it goes: 10 containers, 12 L each, 25 cm high inside, water can leave at the bottom, on a \
         deck or balcony, for chard.",
    ] {
        assert!(ground.contains(said), "{said} in {ground}");
    }
    let (_, _, stones) = told(
        &POTS.replace(r#""clay_pct": 20"#, r#""clay_pct": 20, "gravel_pct": 100"#),
        METRIC,
    );
    assert!(!stones.ground[0].contains("clay 20"), "{:?}", stones.ground);
    assert!(
        stones.ground[0].contains("gravel without"),
        "{:?}",
        stones.ground
    );
    let (_, _, us) = told(POTS, US);
    assert!(
        us.weigh_head.iter().all(|head| !head.ends_with(" L")),
        "{:?}",
        us.weigh_head
    );
}

#[test]
fn little_is_told_by_weight_alone() {
    let text = POTS.replace(r#""value": 24, "unit": "L""#, r#""value": 1, "unit": "L""#);
    let (_, _, paper) = told(&text, METRIC);
    assert_eq!(paper.weigh[2][4..], ["–", "–"], "a litre is no bucket");
}

#[test]
fn us_units_are_told_throughout() {
    let (_, _, paper) = told(POTS, US);
    // 160 kg are 352.74 lb (0.45359237 kg exactly).
    assert!(
        paper.weigh[1][3].starts_with("353 lb, "),
        "{:?}",
        paper.weigh[1]
    );
    assert!(paper.weigh[1][3].ends_with(" gal"), "{:?}", paper.weigh[1]);
    assert_eq!(paper.weigh[1][1], "160 kg", "what was typed stays as typed");
    let density = paper
        .figures
        .iter()
        .find(|row| row[0].starts_with("Dry density"));
    assert!(
        density.is_some_and(|row| row[2].ends_with("lb/ft³")),
        "{density:?}"
    );
}

#[test]
fn figures_come_with_their_ranges() {
    let (_, outcome, paper) = told(DEMO, METRIC);
    let pores = &paper.figures[0];
    let expected = outcome.pore_space_pct.settled;
    assert_eq!(number(&pores[2]), expected.typical.round());
    let (low, high) = pores[3].split_once('–').expect("a range");
    assert_eq!(number(low), expected.ends().low.round());
    assert_eq!(number(high), expected.ends().high.round());
    assert!(!pores[1].is_empty(), "the ground beside it");
    assert!(!paper.class.is_empty(), "the class");
    assert!(!paper.verdict.is_empty(), "the verdict");
}

#[test]
fn all_cautions_are_whole_and_the_grave_come_first() {
    let (_, outcome, paper) = told(DEMO, METRIC);
    let mut grave = 0;
    for caution in &outcome.cautions {
        let text = care_text(caution, METRIC);
        let stands = paper.cautions.iter().any(|[_, _, told]| *told == text);
        if caution.of.severity().id() == "note" {
            let noted = paper.notes.iter().any(|note| note.ends_with(&text));
            assert!(!stands && noted, "{text} is among what is also true");
        } else {
            grave += 1;
            assert!(stands, "{text}");
        }
    }
    assert!(grave > 0, "the demo has some");
}

#[test]
fn sources_are_named_by_author_and_year() {
    let (recipe, _, paper) = told(DEMO, METRIC);
    let all: String = paper
        .rests
        .iter()
        .flatten()
        .map(|text| text.as_str())
        .collect();
    // Whose equation the ground's water is.
    assert!(all.contains("Saxton & Rawls 2006"), "{all}");
    for addition in &recipe.additions {
        let name = recipe
            .find(&addition.material)
            .map_or("", |found| found.name());
        assert!(all.contains(name), "{name} in {all}");
    }
    for [name, sources] in &paper.rests {
        assert!(!name.is_empty() && !sources.is_empty(), "{name}: {sources}");
        assert!(sources.len() < 300, "short: {sources}");
    }
}

#[test]
fn text_of_others_stays_on_its_line() {
    let own = include_str!("../examples/recipes/own-material.json");
    let mut recipe = Recipe::from_json(own).expect("the recipe reads");
    let odd = "<b>\n=1+1\r\n\u{0}\u{1b}x";
    recipe.title = Some(odd.into());
    recipe.currency = Some(odd.into());
    for material in &mut recipe.materials {
        material.name = Some(odd.into());
    }
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    let paper = paper(&recipe, &outcome, &sizes(), METRIC);
    assert_eq!(paper.title, "<b> =1+1 x");
    let cells = paper.weigh.iter().flatten();
    let others = paper
        .figures
        .iter()
        .flatten()
        .chain(paper.rests.iter().flatten());
    for text in cells.chain(others).chain(&paper.notes) {
        assert!(!text.chars().any(char::is_control), "{text:?}");
    }
}

#[test]
fn nothing_mixed_in_and_no_ground_are_told() {
    let bare = r#"{ "barrowmix": 1,
        "ground": { "sand_pct": 20, "silt_pct": 25, "clay_pct": 55 },
        "soil": { "value": 40, "unit": "L" } }"#;
    let (_, _, bare) = told(bare, METRIC);
    assert_eq!(bare.weigh.len(), 2, "the ground and the sum");
    assert_eq!(bare.title, "A blend without a name");
    let none = POTS.replace(r#""value": 100, "unit": "L""#, r#""value": 0, "unit": "L""#);
    let (_, _, none) = told(&none, METRIC);
    assert_eq!(none.ground[0], "No ground in it.");
    assert_eq!(none.figures[0][1], "", "no ground beside it");
    assert!(none.weigh[0][0] != "Ground, dug", "{:?}", none.weigh);
}

#[test]
fn sizes_of_nothing_break_nothing() {
    let (recipe, outcome, _) = told(POTS, METRIC);
    let nothing = [
        Amount::new(0.0, Unit::Litre),
        Amount::new(f64::NAN, Unit::Litre),
    ];
    let paper = paper(&recipe, &outcome, &nothing, METRIC);
    assert_eq!(paper.weigh[1][4..], ["–", "–"]);
}

#[test]
fn a_link_without_a_code_says_so() {
    assert!(too_long_for_a_code(4321).contains("4321 letters"));
}
