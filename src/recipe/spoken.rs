//! Numbers and names as they are said, before anyone asks what the names mean.

use super::besides::besides;
use super::names::without_accents;
use super::number_of_text;
use super::phrase::{PhraseFault, short, within};
use crate::quantity::Unit;
use crate::tongue::marks;

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
    let word = piece.words.iter().find(|word| counts(word))?;
    let plain = without_accents(word);
    let other = besides().measures.iter().find(|(known, _)| *known == plain);
    let word = other.map_or(word.trim_start_matches("wheel"), |(_, kind)| kind);
    KINDS.iter().copied().find(|kind| word.starts_with(kind))
}

/// Whether a word counts one of something.
fn counts(word: &str) -> bool {
    let plain = without_accents(word);
    MEASURES.contains(&word) || besides().measures.iter().any(|(known, _)| *known == plain)
}

/// Whether a word is one of these, or of those of the language that is spoken.
fn is_one(word: &str, of: &[&str], besides: &[&str]) -> bool {
    of.contains(&word) || besides.contains(&without_accents(word).as_str())
}

fn is_and(word: &str) -> bool {
    is_one(word, &["and"], besides().and)
}

fn is_half(word: &str) -> bool {
    is_one(word, &["half"], besides().half)
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
        short(&self.words.join(" ").replace(DECIMAL, ","))
    }
}

/// Stands for a comma before decimals.
const DECIMAL: char = '\u{66b}';

/// A text as it is read: a comma between two digits is for decimals where those have one.
fn as_read(text: &str) -> String {
    let mut out = text.replace('’', "'");
    for (said, read) in besides().instead {
        out = out.replace(said, read);
    }
    if marks().decimal != "," {
        return out;
    }
    let is_digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let mut decimal = String::with_capacity(out.len());
    let mut letters = out.chars().peekable();
    while let Some(letter) = letters.next() {
        let is_mark = letter == ','
            && is_digit(decimal.chars().next_back())
            && is_digit(letters.peek().copied());
        decimal.push(if is_mark { DECIMAL } else { letter });
    }
    decimal
}

/// What lies between commas, plus signs, semicolons, ends of lines and the words
/// "and", "plus", and "to" or "with" before a number.
pub(super) fn pieces(text: &str) -> Vec<Piece> {
    let text = as_read(text);
    let mut out = Vec::new();
    for part in text.split([',', ';', '+', '\n', '\r', '&']) {
        let mut piece = Piece::default();
        let words: Vec<String> = part.split_whitespace().map(str::to_lowercase).collect();
        for (at, word) in words.iter().enumerate() {
            // "two and a half" is one number, and so is "two buckets and a half".
            let after = |by: usize| words.get(at + by).map(String::as_str);
            let is_number = match piece.words.as_slice() {
                [number] => plain_number(number).is_some(),
                [number, of] => plain_number(number).is_some() && counts(of),
                _ => false,
            };
            let is_half = is_number
                && (after(1).is_some_and(is_half)
                    || after(1) == Some("a") && after(2).is_some_and(is_half));
            // "3 parts of soil to 1 of compost".
            let is_to = is_one(word, &["to", "with"], besides().to)
                && after(1).is_some_and(|next| plain_number(next).is_some());
            let is_plus = is_one(word, &["plus"], besides().plus);
            if (is_and(word) && !is_half) || is_plus || is_to {
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
    let plain = without_accents(word);
    let mut numbers = NUMBERS.iter().chain(besides().numbers);
    if let Some((_, value)) = numbers.find(|(name, _)| *name == plain) {
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
    // A point before three digits may stand after thousands.
    let after_point = word.rsplit_once('.').map(|(_, digits)| digits.len());
    if marks().decimal == "," && after_point == Some(3) {
        return None;
    }
    let word = &word.replace(DECIMAL, ".");
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
    let whole = words.next()?;
    let first = whole.trim_end_matches(['%', 'x', '×', ':']);
    let mut parts = match plain_number(whole).or_else(|| plain_number(first)) {
        Some(value) => value,
        // "a bucket of sand", "a half"; but "a compost heap" has no number.
        None if first == "a" || first == "an" => match words.peek() {
            Some(&"half") => words.next().and_then(plain_number)?,
            Some(next) if counts(next) => 1.0,
            _ => return None,
        },
        None => return number_after(piece),
    };
    // "1 1/2" and "two and a half".
    if let Some(next) = words.peek().copied() {
        if let Some(more) = plain_number(next).filter(|_| next.contains('/')) {
            parts += more;
            words.next();
        } else if parts == 1.0 && is_half(next) {
            // "one half".
            parts = 0.5;
            words.next();
        }
    }
    let mut name: Vec<String> = Vec::new();
    while let Some(word) = words.next() {
        let is_start = name.is_empty();
        let is_sign = matches!(word, "%" | "x" | "×");
        let is_filler = is_one(word, FILLERS, besides().fillers);
        if is_start && (is_sign || counts(word) || is_filler) {
            continue;
        }
        if is_start && is_and(word) {
            parts += 0.5;
            words.find(|word| is_half(word));
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
    is_one(word, NO_PARTS, besides().no_parts) || Unit::ALL.iter().any(is_unit)
}
