//! Numbers and names as they are said, before anyone asks what the names mean.

use super::number_of_text;
use super::phrase::{PhraseFault, short, within};
use crate::quantity::Unit;

/// Words that count one of something, beside the number; they add nothing.
const MEASURES: &[&str] = &[
    "part",
    "parts",
    "bucket",
    "buckets",
    "bucketful",
    "bucketfuls",
    "pail",
    "pails",
    "barrow",
    "barrows",
    "wheelbarrow",
    "wheelbarrows",
    "barrowload",
    "barrowloads",
    "shovel",
    "shovels",
    "shovelful",
    "shovelfuls",
    "scoop",
    "scoops",
    "percent",
];
/// What such words begin with, by what they count. Two of them in one phrase have no common size.
const KINDS: [&str; 6] = ["part", "bucket", "pail", "barrow", "shovel", "scoop"];

/// What a piece counts in, if it says so.
pub(super) fn counted_in(piece: &Piece) -> Option<&'static str> {
    let word = piece
        .words
        .iter()
        .find(|word| MEASURES.contains(&word.as_str()))?;
    let word = word.trim_start_matches("wheel");
    KINDS.iter().copied().find(|kind| word.starts_with(kind))
}

/// Words between the number and the name.
const FILLERS: &[&str] = &["of", "the", "my", "a", "an"];
/// Units that are no parts: kilograms of one thing and litres of another have no common measure.
const NO_PARTS: &[&str] = &[
    "kilo",
    "kilos",
    "kilogram",
    "kilograms",
    "gram",
    "grams",
    "kgs",
    "gr",
    "tonne",
    "tonnes",
    "ton",
    "tons",
    "pound",
    "pounds",
    "lbs",
    "ounce",
    "ounces",
    "litre",
    "litres",
    "liter",
    "liters",
    "gallon",
    "gallons",
    "quart",
    "quarts",
    "qt",
    "cups",
    "bag",
    "bags",
    "sack",
    "sacks",
    "bale",
    "bales",
    "yard",
    "yards",
    "bushel",
    "bushels",
    "l",
    "ml",
];
/// Numbers as words.
const NUMBERS: &[(&str, f64)] = &[
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("eleven", 11.0),
    ("twelve", 12.0),
    ("half", 0.5),
];

/// One piece of what was said, between two separators.
#[derive(Default)]
pub(super) struct Piece {
    pub(super) words: Vec<String>,
}

impl Piece {
    pub(super) fn text(&self) -> String {
        short(&self.words.join(" "))
    }
}

/// What lies between commas, plus signs, semicolons, ends of lines and the words
/// "and", "plus", and "to" or "with" before a number.
pub(super) fn pieces(text: &str) -> Vec<Piece> {
    let mut out = Vec::new();
    for part in text.split([',', ';', '+', '\n', '\r', '&']) {
        let mut piece = Piece::default();
        let words: Vec<String> = part.split_whitespace().map(str::to_lowercase).collect();
        for (at, word) in words.iter().enumerate() {
            // "two and a half" is one number.
            let after = |by: usize| words.get(at + by).map(String::as_str);
            let is_half = piece.words.len() == 1
                && plain_number(&piece.words[0]).is_some()
                && (after(1) == Some("half") || after(1) == Some("a") && after(2) == Some("half"));
            // "3 parts of soil to 1 of compost".
            let is_to = matches!(word.as_str(), "to" | "with")
                && after(1).is_some_and(|next| plain_number(next).is_some());
            if (word == "and" && !is_half) || word == "plus" || is_to {
                out.push(std::mem::take(&mut piece));
            } else {
                piece.words.push(word.clone());
            }
        }
        out.push(piece);
    }
    out.retain(|piece| !piece.words.is_empty());
    out
}

/// A number in digits, a fraction, or a word.
fn plain_number(word: &str) -> Option<f64> {
    if let Some((_, value)) = NUMBERS.iter().find(|(name, _)| *name == word) {
        return Some(*value);
    }
    // "1½".
    for (sign, value) in [('½', 0.5), ('¼', 0.25), ('¾', 0.75)] {
        if let Some(whole) = word.strip_suffix(sign) {
            let whole = if whole.is_empty() {
                Some(0.0)
            } else {
                digits(whole)
            };
            return whole.map(|whole| whole + value);
        }
    }
    if let Some((above, below)) = word.split_once('/') {
        return Some(digits(above)? / digits(below)?);
    }
    digits(word)
}

fn digits(word: &str) -> Option<f64> {
    let is_plain = word
        .bytes()
        .all(|b| b.is_ascii_digit() || b == b'.' || b == b'-');
    let value = number_of_text(word);
    (is_plain && !value.is_nan()).then_some(value)
}

/// The number that a piece ends with, as in "soil 3".
fn number_after(piece: &Piece) -> Option<(Result<f64, PhraseFault>, Vec<String>)> {
    let (last, name) = piece.words.split_last()?;
    let parts = plain_number(last)?;
    let mut name = name.to_vec();
    if let Some(word) = name.last_mut() {
        *word = word.trim_end_matches([':', '=']).to_owned();
    }
    name.retain(|word| !word.is_empty());
    (!name.is_empty()).then(|| (within(parts), name))
}

/// The number that a piece starts with, and the words of the name after it; none if there is none.
pub(super) fn number(piece: &Piece) -> Option<(Result<f64, PhraseFault>, Vec<String>)> {
    let mut words = piece.words.iter().map(String::as_str).peekable();
    // "60 %" and "3x" are numbers too: parts are shares.
    let first = words.next()?.trim_end_matches(['%', 'x', '×', ':']);
    let mut parts = match plain_number(first) {
        Some(value) => value,
        // "a bucket of sand", "a half"; but "a compost heap" has no number.
        None if first == "a" || first == "an" => match words.peek() {
            Some(&"half") => words.next().and_then(plain_number)?,
            Some(next) if MEASURES.contains(next) => 1.0,
            _ => return None,
        },
        None => return number_after(piece),
    };
    // "1 1/2" and "two and a half".
    if let Some(next) = words.peek().copied() {
        if let Some(more) = plain_number(next).filter(|_| next.contains('/')) {
            parts += more;
            words.next();
        } else if next == "and" {
            parts += 0.5;
            words.find(|word| *word == "half");
        }
    }
    let mut name: Vec<String> = Vec::new();
    for word in words {
        let is_start = name.is_empty();
        let is_sign = matches!(word, "%" | "x" | "×");
        if is_start && (is_sign || MEASURES.contains(&word) || FILLERS.contains(&word)) {
            continue;
        }
        if is_start && is_measure(word) {
            let found = short(word);
            return Some((Err(PhraseFault::Measure { found }), name));
        }
        name.push(word.to_owned());
    }
    if name.is_empty() {
        let found = piece.text();
        return Some((Err(PhraseFault::NoName { found }), name));
    }
    Some((within(parts), name))
}

fn is_measure(word: &str) -> bool {
    let word = word.trim_end_matches('.');
    let is_unit = |unit: &Unit| unit.spelling().eq_ignore_ascii_case(word);
    NO_PARTS.contains(&word) || Unit::ALL.iter().any(is_unit)
}
