//! What must hold of any recipe, however odd: a finite outcome, or an error with its field.

use barrowmix::document::document;
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Recipe, RecipeError, from_link, to_link};
use barrowmix::words::{METRIC, error_text};
use serde_json::Value;

/// What must hold of any outcome: it is written without a number that JSON cannot hold.
fn assert_finite(outcome: &Outcome, source: &str) {
    let text = serde_json::to_string(&document(outcome, METRIC)).expect("a document");
    // A number that is not finite is written as null.
    let value: Value = serde_json::from_str(&text).expect("JSON");
    assert!(
        !has_null(&value),
        "a figure is not finite: {text}\nof {source}"
    );
    assert!(!outcome.verdict.is_empty(), "a verdict on {source}");
}

fn has_null(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(items) => items.iter().any(has_null),
        Value::Object(fields) => fields.values().any(has_null),
        _ => false,
    }
}

fn assert_told(error: &RecipeError, source: &str) {
    let text = error_text(error);
    let path = error.path.as_str();
    assert!(
        !path.is_empty() && text.starts_with(path) && !text.contains(['\n', '\r']),
        "one line with the path first: {text:?} of {source}"
    );
}

/// Reads, mixes and saves; true if it could be mixed.
pub fn judge(read: Result<Recipe, RecipeError>, source: &str) -> bool {
    let recipe = match read {
        Ok(recipe) => recipe,
        Err(error) => {
            assert_told(&error, source);
            return false;
        }
    };
    let saved = recipe.to_json();
    assert_eq!(
        Recipe::from_json(&saved).as_ref(),
        Ok(&recipe),
        "saved from {source}"
    );
    if let Ok(link) = to_link(&recipe) {
        assert_eq!(
            from_link(&link).as_ref(),
            Ok(&recipe),
            "by link from {source}"
        );
    }
    match Outcome::of(&recipe) {
        Ok(outcome) => {
            assert_finite(&outcome, source);
            true
        }
        Err(error) => {
            assert_told(&error, source);
            false
        }
    }
}

/// A link with the checksum that its bytes should have (Fletcher 1982, modulo 255).
pub fn signed(link: &[u8]) -> Vec<u8> {
    let value = |letter: u8| match letter {
        b'A'..=b'Z' => letter - b'A',
        b'a'..=b'z' => letter - b'a' + 26,
        b'0'..=b'9' => letter - b'0' + 52,
        b'-' => 62,
        _ => 63,
    };
    let bits: Vec<u8> = link
        .iter()
        .skip(1)
        .flat_map(|letter| (0..6).rev().map(move |bit| value(*letter) >> bit & 1))
        .collect();
    let mut bytes: Vec<u8> = bits
        .chunks_exact(8)
        .map(|bits| bits.iter().fold(0, |sum, bit| sum << 1 | bit))
        .collect();
    bytes.truncate(bytes.len().saturating_sub(2));
    let (mut first, mut second) = (0_u32, 0_u32);
    for byte in &bytes {
        first = (first + u32::from(*byte)) % 255;
        second = (second + first) % 255;
    }
    bytes.extend([first as u8, second as u8]);
    let letters = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut bits: Vec<u8> = bytes
        .iter()
        .flat_map(|byte| (0..8).rev().map(move |bit| byte >> bit & 1))
        .collect();
    bits.resize(bits.len().div_ceil(6) * 6, 0);
    let coded = bits
        .chunks(6)
        .map(|bits| bits.iter().fold(0_u8, |sum, bit| sum << 1 | bit));
    std::iter::once(b'1')
        .chain(coded.map(|index| letters[usize::from(index)]))
        .collect()
}
