//! The table of figures, read by the reader of the `csv` crate and held against the document.
#![cfg(not(target_arch = "wasm32"))]

use barrowmix::document::document;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::table::{COLUMNS, outcome_as_csv};
use barrowmix::words::METRIC;
use serde_json::Value;
use std::collections::BTreeMap;

const RECIPES: [&str; 5] = [
    include_str!("../examples/recipes/willowbank.json"),
    include_str!("../examples/recipes/measured.json"),
    include_str!("../examples/recipes/own-material.json"),
    include_str!("../examples/recipes/peat-half-in-lime.json"),
    include_str!("../examples/recipes/gypsum-on-sodic-clay.json"),
];

fn recipe(text: &str) -> (Recipe, Outcome) {
    let recipe = Recipe::from_json(text).expect("the recipe reads");
    let outcome = Outcome::of(&recipe).expect("it can be mixed");
    (recipe, outcome)
}

/// The rows below the head, each by its name.
fn rows(text: &str) -> BTreeMap<String, [String; 4]> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head: Vec<String> = reader
        .headers()
        .expect("a head")
        .iter()
        .map(str::to_owned)
        .collect();
    assert_eq!(head, COLUMNS, "the head");
    let mut rows = BTreeMap::new();
    for record in reader.records() {
        let record = record.expect("a row of five cells");
        let cell = |at: usize| record[at].to_owned();
        let known = rows.insert(cell(0), [cell(1), cell(2), cell(3), cell(4)]);
        assert!(known.is_none(), "{} stands twice", &record[0]);
    }
    rows
}

/// Every number of a document under its path, with its ends; sentences are not of the table.
fn leaves(value: &Value, path: &str, out: &mut BTreeMap<String, [Option<f64>; 3]>) {
    let Value::Object(map) = value else {
        if let Some(number) = value.as_f64() {
            out.insert(path.to_owned(), [None, Some(number), None]);
        }
        return;
    };
    if let Some(typical) = map.get("typical").and_then(Value::as_f64) {
        let end = |name: &str| map.get(name).and_then(Value::as_f64);
        out.insert(path.to_owned(), [end("low"), Some(typical), end("high")]);
        return;
    }
    for (name, below) in map {
        let path = if path.is_empty() {
            name.clone()
        } else {
            format!("{path}.{name}")
        };
        leaves(below, &path, out);
    }
}

#[test]
fn the_table_holds_every_number_of_the_document() {
    for text in RECIPES {
        let (recipe, outcome) = recipe(text);
        let rows = rows(&outcome_as_csv(&recipe, &outcome));
        let document = serde_json::to_value(document(&outcome, METRIC)).expect("it is a document");
        let mut numbers = BTreeMap::new();
        leaves(&document, "", &mut numbers);
        assert!(numbers.len() > 30, "{} numbers", numbers.len());
        for (path, expected) in &numbers {
            let row = rows
                .get(path)
                .unwrap_or_else(|| panic!("{path} is not in the table"));
            let read = |at: usize| row[at].parse::<f64>().ok();
            // What has no doubt may stand without its ends.
            let [low, typical, high] = [read(1), read(2), read(3)];
            assert_eq!(typical, expected[1], "{path}");
            assert_eq!(low.or(typical), expected[0].or(expected[1]), "low {path}");
            assert_eq!(high.or(typical), expected[2].or(expected[1]), "high {path}");
        }
        for (name, row) in &rows {
            let is_ours = name == "title"
                || name == "texture.class"
                || name.starts_with("ground.")
                || name.starts_with("additions.");
            assert!(
                is_ours || numbers.contains_key(name),
                "{name} is not of the document"
            );
            let ends = [&row[1], &row[2], &row[3]].map(|text| text.parse::<f64>());
            if let [Ok(low), Ok(typical), Ok(high)] = ends {
                assert!(low <= typical && typical <= high, "{name}");
            }
        }
    }
}

#[test]
fn units_are_those_of_the_names() {
    let (recipe, outcome) = recipe(RECIPES[0]);
    for (name, [unit, ..]) in rows(&outcome_as_csv(&recipe, &outcome)) {
        let last = name.rsplit('.').next().unwrap_or_default();
        let name = if name.ends_with(".difference") {
            continue;
        } else if name.contains("kg_m3") {
            "kg_m3"
        } else {
            last
        };
        for (end, expected) in [
            ("_kg", "kg"),
            ("_ds_m", "dS/m"),
            ("_mm_h", "mm/h"),
            ("_cm", "cm"),
        ] {
            // Charge is per kg of soil.
            if name.ends_with(end) && name != "cec_cmol_kg" {
                assert_eq!(unit, expected, "{name}");
            }
        }
        if name == "kg_m3" && !last.starts_with("odds") {
            assert_eq!(unit, "kg/m3", "{last}");
        }
    }
}

#[test]
fn odd_names_stay_text_in_their_cells() {
    let titles = [
        "=HYPERLINK(\"https://a.example\",\"press\")",
        "+1+1",
        "-2+3",
        "@SUM(A1)",
        "\t=1+1",
        "\r=1+1",
        "\n=1",
        "a, \"b\"\r\nc\nd",
        "<script>alert(1)</script>",
        "Großer Gemüsegarten \u{1f331}",
        "",
        "'",
        ",",
        "\"",
    ];
    for title in titles {
        let (mut recipe, outcome) = recipe(RECIPES[2]);
        recipe.title = Some(title.to_owned());
        for own in &mut recipe.materials {
            own.name = Some(title.to_owned());
        }
        let rows = rows(&outcome_as_csv(&recipe, &outcome));
        let formula = title.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
        let expected = if formula {
            format!("'{title}")
        } else {
            title.to_owned()
        };
        assert_eq!(rows["title"][2], expected, "{title:?}");
        let named = rows
            .iter()
            .filter(|(name, row)| name.ends_with(".material") && row[2] == expected);
        assert!(named.count() > 0, "its own material is named {title:?}");
    }
}

#[test]
fn rows_end_as_the_standard_wants() {
    let (recipe, outcome) = recipe(RECIPES[0]);
    let text = outcome_as_csv(&recipe, &outcome);
    assert!(text.ends_with("\r\n"), "the last row ends too");
    for row in text.split_terminator("\r\n") {
        assert!(!row.contains(['\r', '\n']), "{row}");
        assert!(row.split(',').count() >= COLUMNS.len(), "{row}");
    }
}
