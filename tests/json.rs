#![cfg(not(target_arch = "wasm32"))]
//! Reading and writing of JSON against `serde_json` and the standard library.

mod support;

use barrowmix::recipe::{Tree, number_of_text, number_text};
use serde_json::Value;
use support::dice::Dice;
use support::recipes;
use support::spoil::spoiled;

/// The same tree by the other reader's values.
fn same(tree: &Tree, value: &Value) -> bool {
    match (tree, value) {
        (Tree::Null, Value::Null) => true,
        (Tree::Bool(one), Value::Bool(other)) => one == other,
        (Tree::Text(one), Value::String(other)) => one == other,
        // `serde_json` rounds to a hair; the last bit is asked of the standard library below.
        (Tree::Number(one), Value::Number(other)) => {
            let (one, other) = (number_of_text(one), other.as_f64().unwrap_or(f64::NAN));
            (one - other).abs() <= 1e-15 * one.abs()
        }
        (Tree::List(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same(one, other))
        }
        // A name that stands twice is one field there, with its last value.
        (Tree::Object(pairs), Value::Object(fields)) => fields.iter().all(|(name, value)| {
            let last = pairs.iter().rev().find(|(known, _)| known == name);
            last.is_some_and(|(_, tree)| same(tree, value))
        }),
        _ => false,
    }
}

#[test]
fn reads_what_others_read() {
    let mut dice = Dice::new(31);
    let (mut taken, mut refused) = (0, 0);
    for _ in 0..1000 {
        let document = recipes::random(&mut dice).to_string().into_bytes();
        for _ in 0..6 {
            let bytes = spoiled(&mut dice, &document);
            let Ok(text) = std::str::from_utf8(&bytes) else {
                continue;
            };
            match (Tree::parse(text), serde_json::from_str::<Value>(text)) {
                (Ok(tree), Ok(value)) => {
                    assert!(same(&tree, &value), "read otherwise: {text}");
                    taken += 1;
                }
                (Err(place), Err(_)) => {
                    let lines = text.matches(['\n', '\r']).count() + 1;
                    assert!((1..=lines).contains(&place.line), "{place:?} in {text}");
                    assert!(place.column >= 1, "{place:?} in {text}");
                    refused += 1;
                }
                // A number too large is no fault of the text; the field that holds it says so.
                (Ok(_), Err(error)) => {
                    let large = error.to_string().contains("out of range");
                    assert!(large, "taken, but elsewhere {error}: {text}");
                }
                (Err(place), Ok(_)) => panic!("refused at {place:?}, but it is JSON: {text}"),
            }
        }
    }
    assert!(
        taken > 500 && refused > 500,
        "{taken} taken, {refused} refused: both are tried"
    );
}

/// Both readers take a text and read the same, or both refuse it.
fn agree(text: &str) -> bool {
    match (Tree::parse(text), serde_json::from_str::<Value>(text)) {
        (Ok(tree), Ok(value)) => {
            assert!(same(&tree, &value), "read otherwise: {text:?}");
            true
        }
        (Err(_), Err(_)) => false,
        // A number too large, and the mark of byte order that RFC 8259 lets a reader pass over.
        (Ok(_), Err(error)) => {
            let known = error.to_string().contains("out of range") || text.starts_with('\u{feff}');
            assert!(known, "taken, but elsewhere {error}: {text:?}");
            true
        }
        (Err(place), Ok(_)) => panic!("refused at {place:?}, but it is JSON: {text:?}"),
    }
}

#[test]
fn reads_any_pieces_as_others_do() {
    let pieces = [
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        "\"a\"",
        "\"é\"",
        "1",
        "-0.5e3",
        "01",
        "-",
        "1.",
        "1e",
        "1e999",
        "true",
        "false",
        "null",
        "nul",
        "\"",
        "\\",
        "\"\\u00e9\"",
        "\"\\ud83c\\udf31\"",
        "\"\\ud83c",
        "\\u",
        "\"\\ud800\\",
        "d",
        "\"\\udc00x",
        "12\"",
        "\"\\u12",
        "\n",
        "\r",
        " ",
        "\t",
        "\u{1}",
        "é",
        "\u{feff}",
        "0",
        "e",
        "\\n",
        "\\x",
        "\\é",
        "\"k\":",
        "1,",
        "[1,2]",
        "{}",
    ];
    let letters = [
        "\\", "\\u", "u", "\"", "d8", "3", "c", "dc", "D", "01", "/", "b", "\u{1f}",
    ];
    let mut dice = Dice::new(33);
    let mut taken = 0;
    for _ in 0..200_000 {
        let count = 1 + dice.below(9);
        let text: String = (0..count).map(|_| *dice.pick(&pieces)).collect();
        taken += usize::from(agree(&text));
        let text: String = (0..count).map(|_| *dice.pick(&letters)).collect();
        taken += usize::from(agree(&format!("[\"{text}\"]")));
    }
    assert!(taken > 10_000, "only {taken} taken");
}

fn random_document(dice: &mut Dice, depth: usize, out: &mut String) {
    let scalars = [
        "null",
        "true",
        "-1.50e3",
        "0",
        "\"\"",
        "\"\\u00e9\\n\\ud83c\\udf31é\"",
    ];
    if depth > 4 || dice.one_in(2) {
        out.push_str(dice.pick::<&str>(&scalars));
        return;
    }
    let named = dice.one_in(2);
    *out += if named { "{" } else { "[ " };
    for index in 0..dice.below(4) {
        if index > 0 {
            *out += ",\r\n";
        }
        if named {
            *out += &format!("\"{index}\" :");
        }
        random_document(dice, depth + 1, out);
    }
    *out += if named { "\t}" } else { "]" };
}

#[test]
fn reads_any_document_as_others_do() {
    let mut dice = Dice::new(34);
    for _ in 0..20_000 {
        let mut text = String::new();
        random_document(&mut dice, 0, &mut text);
        assert!(agree(&text), "not taken: {text}");
        let bytes = spoiled(&mut dice, text.as_bytes());
        if let Ok(text) = std::str::from_utf8(&bytes) {
            agree(text);
        }
    }
}

#[test]
fn tells_the_place_of_the_first_fault() {
    for (text, line, column) in [
        // A token out of place, at its start.
        ("[1 2]", 1, 4),
        ("[1,]", 1, 4),
        ("{\"a\":1,}", 1, 8),
        ("{\"a\" 1}", 1, 6),
        ("{1:2}", 1, 2),
        ("[1}", 1, 3),
        ("[]\r\n []", 2, 2),
        ("[nulL]", 1, 2),
        // A number, at the letter that should be a digit.
        ("[1.x]", 1, 4),
        ("[-]", 1, 3),
        ("[1e+]", 1, 5),
        ("[01]", 1, 3),
        // A text, at the fault in it, but at its start where it has no end.
        ("[\"é\\x\"]", 1, 4),
        ("[\"é\\u12g4\"]", 1, 6),
        ("[\"\\udc00\\udc00\"]", 1, 3),
        ("[\"\\ud800 abcdef\"]", 1, 9),
        ("[\"a\u{1}\"]", 1, 4),
        ("[\"\\x", 1, 2),
        ("\n[\"abc", 2, 2),
        // Cut short: where the end is, or the start of what is cut.
        ("[1,\n", 2, 1),
        ("{\"a\":tru", 1, 6),
        ("[12, 1.", 1, 6),
    ] {
        let place = Tree::parse(text).expect_err(text);
        assert_eq!((place.line, place.column), (line, column), "{text:?}");
    }
}

#[test]
fn depth_has_a_limit() {
    let nested = |depth: usize| {
        [
            "[".repeat(depth) + &"]".repeat(depth),
            "{\"a\":".repeat(depth - 1) + "{}" + &"}".repeat(depth - 1),
        ]
    };
    for text in [nested(100), nested(129)].as_flattened() {
        assert!(Tree::parse(text).is_ok(), "{text}");
    }
    let [list, object] = nested(130);
    assert_eq!(Tree::parse(&list).map_err(|e| e.column), Err(130), "lists");
    let last = 129 * "{\"a\":".len() + 1;
    assert_eq!(
        Tree::parse(&object).map_err(|e| e.column),
        Err(last),
        "objects"
    );
}

#[test]
fn reads_the_whole_grammar() {
    for text in [
        "null",
        " true\r\n\t",
        "[ ]",
        "{ }",
        "[[],[[]],{}]",
        "\"\"",
        "\"\\u00e9\\uD83C\\uDF31\\/\\b\\f\\n\\r\\t\\\"\\\\\"",
        "\"\u{7f}\u{2028}\"",
        "-0",
        "0.5",
        "-12.25e-3",
        "1E+2",
        "1e2",
        "[1,2.50,-3]",
        "{\"\":{\"\":1}}",
    ] {
        let tree = Tree::parse(text).unwrap_or_else(|place| panic!("{place:?} in {text:?}"));
        let value: Value = serde_json::from_str(text).expect("it is JSON");
        assert!(same(&tree, &value), "{text:?} is read as {tree:?}");
        for written in [tree.compact(), tree.pretty()] {
            assert_eq!(
                Tree::parse(&written).as_ref(),
                Ok(&tree),
                "written as {written:?}"
            );
            let again: Value = serde_json::from_str(&written).expect("what is written is JSON");
            assert_eq!(again, value, "written as {written:?}");
        }
    }
    for text in [
        "",
        " ",
        "nul",
        "True",
        "[1,]",
        "{\"a\":1,}",
        "{a:1}",
        "{\"a\" 1}",
        "{\"a\":}",
        "[1 2]",
        "01",
        "1.",
        ".5",
        "+1",
        "1e",
        "--1",
        "0x10",
        "NaN",
        "Infinity",
        "'a'",
        "\"a",
        "\"\n\"",
        "\"\\x\"",
        "\"\\u12\"",
        "\"\\ud800\"",
        "[",
        "]",
        "{",
        "}",
        "1 2",
        "[] []",
        "// no\n1",
        "\u{a0}1",
    ] {
        assert!(
            serde_json::from_str::<Value>(text).is_err(),
            "{text:?} is no JSON"
        );
        assert!(Tree::parse(text).is_err(), "{text:?} is taken");
    }
}

#[test]
fn numbers_there_and_back() {
    let mut dice = Dice::new(32);
    let judge = |value: f64| {
        let text = number_text(value);
        let read: f64 = text
            .parse()
            .unwrap_or_else(|_| panic!("{text:?} is no number"));
        assert_eq!(
            read.to_bits(),
            value.to_bits(),
            "{value:e} written as {text}"
        );
        assert!(
            serde_json::from_str::<Value>(&text).is_ok(),
            "{text:?} is no JSON number"
        );
        for text in [
            text,
            format!("{value}"),
            format!("{value:e}"),
            format!("{value:.30e}"),
        ] {
            let found = number_of_text(&text);
            assert_eq!(found.to_bits(), value.to_bits(), "{text} read as {found:e}");
        }
    };
    for value in [
        0.0,
        0.1,
        1.0,
        100.0,
        1e15,
        1e21,
        1e22,
        1e23,
        5e-324,
        f64::MIN_POSITIVE,
        f64::MAX,
        1.0 / 3.0,
    ] {
        judge(value);
        judge(-value - 1.0);
    }
    for _ in 0..20_000 {
        let value = f64::from_bits(dice.bits());
        if value.is_finite() {
            judge(value);
        }
    }
    // Half way between two binary fractions, and a hair beside.
    for text in [
        "9007199254740993",
        "9007199254740992.9999999999",
        "9007199254740993.0000000001",
        "2.4703282292062327208e-324",
        "2.47032822920623272e-324",
        "1.7976931348623158e308",
        "1.7976931348623159e308",
        "0.1e-400",
        "1e400",
        "-1e400",
    ] {
        let expected: f64 = text.parse().expect("a number");
        assert_eq!(number_of_text(text).to_bits(), expected.to_bits(), "{text}");
    }
    for text in [
        "", "NaN", "inf", "infinity", "-", "1e", "abc", "1,5", " 1", "1 ",
    ] {
        assert!(
            !number_of_text(text).is_finite(),
            "{text:?} is read as a number"
        );
    }
}

/// On one line and on many, letter by letter; names stand in order, since the other sorts them.
#[test]
fn writes_what_others_write() {
    let text = r#"{"a":[],"b":{},"c":[1,[2,[3,{"d":null}]],{}],"e":{"f":{"g":[true,false]},"h k":"a b\u0001\u001f\n\r\t\"\\é"},"i":""}"#;
    let tree = Tree::parse(text).expect("it is JSON");
    let value: Value = serde_json::from_str(text).expect("it is JSON");
    assert_eq!(tree.compact(), value.to_string(), "on one line");
    let many = serde_json::to_string_pretty(&value).expect("it can be written");
    assert_eq!(tree.pretty(), many + "\n", "on many");
}
