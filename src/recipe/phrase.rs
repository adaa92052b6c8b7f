//! Amounts as people say them: "3 soil, 1 compost and half a bucket of sand".

use super::names::{self, Name, near_names, words_of};
use super::{
    ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Addition, Amount, Found, Recipe, number_of_text,
};
use crate::quantity::Unit;

/// Most letters of what was said that a fault carries.
const FOUND_LETTERS: usize = 60;
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

/// What a share is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// The ground.
    Ground,
    /// A material, by its id.
    Material(String),
}

/// So many parts of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// How many parts.
    pub parts: f64,
    /// Of what.
    pub what: What,
}

/// What is wrong with what was said.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum PhraseFault {
    /// Nothing was said.
    Nothing,
    /// No part of it is the ground.
    NoGround,
    /// Something without a number.
    NoNumber {
        /// What was said.
        found: String,
    },
    /// A number of nothing.
    NoName {
        /// What was said.
        found: String,
    },
    /// A weight or a volume, which are no parts.
    Measure {
        /// The word.
        found: String,
    },
    /// Parts outside their limits, such as none.
    Parts {
        /// How many.
        parts: f64,
        /// Least accepted.
        low: f64,
        /// Greatest accepted.
        high: f64,
    },
    /// A name that nothing here has.
    Unknown {
        /// The name.
        found: String,
        /// Names that are like it, at most three.
        near: Vec<String>,
    },
    /// One thing twice.
    Twice {
        /// Which.
        what: What,
    },
    /// More than a recipe can hold.
    TooMany {
        /// How many it can.
        limit: usize,
    },
}

/// One piece of what was said, between two separators.
#[derive(Default)]
struct Piece {
    words: Vec<String>,
}

impl Piece {
    fn text(&self) -> String {
        short(&self.words.join(" "))
    }
}

/// Reads parts as people say them. Names are the recipe's own materials first, then those of the
/// catalogue; soil, ground, clay, earth and dirt are the ground.
///
/// # Errors
/// The first thing that is not understood.
pub fn parse_parts(recipe: &Recipe, text: &str) -> Result<Vec<Share>, PhraseFault> {
    let names = names::all(recipe);
    let mut said: Vec<(f64, Vec<String>)> = Vec::new();
    for piece in pieces(text) {
        match number(&piece) {
            Some((parts, words)) => said.push((parts?, words)),
            // Part of a name that holds a comma or an "and", or else a thing without a number.
            None => match said.last_mut() {
                Some((_, words)) if names::go_on(&names, words, &piece.words) => {
                    words.extend(piece.words);
                }
                _ => {
                    return Err(PhraseFault::NoNumber {
                        found: piece.text(),
                    });
                }
            },
        }
    }
    let mut shares = Vec::with_capacity(said.len());
    for (parts, words) in said {
        let what = what(&names, &words)?;
        shares.push(Share { parts, what });
        if shares.len() > ADDITIONS_LIMIT + 1 {
            let limit = ADDITIONS_LIMIT;
            return Err(PhraseFault::TooMany { limit });
        }
    }
    check(&shares)?;
    Ok(shares)
}

/// The recipe with these parts in place of its additions. The amount of ground stays; a line whose
/// material stays keeps its moisture, bag and price; what lies on top stays, since it is no part.
///
/// # Errors
/// Shares that cannot be mixed so.
pub fn apply_parts(recipe: &Recipe, shares: &[Share]) -> Result<Recipe, PhraseFault> {
    check(shares)?;
    let mut additions = Vec::with_capacity(shares.len());
    let mut out = recipe.clone();
    for share in shares {
        let What::Material(id) = &share.what else {
            out.parts_of_soil = Some(share.parts);
            continue;
        };
        if recipe.find(id).is_none() {
            let near = near_names(&names::all(recipe), &words_of(id));
            let found = short(id);
            return Err(PhraseFault::Unknown { found, near });
        }
        let amount = Amount::new(share.parts, Unit::Part);
        let before = recipe
            .additions
            .iter()
            .find(|line| line.material == *id && !line.is_on_top());
        additions.push(match before {
            Some(line) => Addition {
                amount,
                ..line.clone()
            },
            None => Addition::new(id.as_str(), amount),
        });
    }
    additions.extend(
        recipe
            .additions
            .iter()
            .filter(|line| line.is_on_top())
            .cloned(),
    );
    if additions.len() > ADDITIONS_LIMIT {
        let limit = ADDITIONS_LIMIT;
        return Err(PhraseFault::TooMany { limit });
    }
    out.additions = additions;
    Ok(out)
}

impl What {
    /// The name of a material, none of the ground.
    pub fn name<'a>(&'a self, recipe: &'a Recipe) -> Option<&'a str> {
        match self {
            What::Ground => None,
            What::Material(id) => Some(recipe.find(id).map_or(id.as_str(), Found::name)),
        }
    }
}

/// What must hold of any shares.
fn check(shares: &[Share]) -> Result<(), PhraseFault> {
    if shares.is_empty() {
        return Err(PhraseFault::Nothing);
    }
    for (index, share) in shares.iter().enumerate() {
        within(share.parts)?;
        if shares[..index].iter().any(|other| other.what == share.what) {
            let what = share.what.clone();
            return Err(PhraseFault::Twice { what });
        }
    }
    if shares.iter().all(|share| share.what != What::Ground) {
        return Err(PhraseFault::NoGround);
    }
    Ok(())
}

fn within(parts: f64) -> Result<f64, PhraseFault> {
    let (low, high) = (AMOUNT_LEAST, AMOUNT_LIMIT);
    if parts >= low && parts <= high {
        return Ok(parts);
    }
    Err(PhraseFault::Parts { parts, low, high })
}

/// A text that is not without end.
fn short(text: &str) -> String {
    text.chars().take(FOUND_LETTERS).collect()
}

/// What lies between commas, plus signs, semicolons, ends of lines and the word "and".
fn pieces(text: &str) -> Vec<Piece> {
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
            if word == "and" && !is_half {
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

/// The number that a piece starts with, and the words of the name after it; none if there is none.
fn number(piece: &Piece) -> Option<(Result<f64, PhraseFault>, Vec<String>)> {
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
        None => return None,
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

/// What a name means.
fn what(names: &[Name], said: &[String]) -> Result<What, PhraseFault> {
    let text = said.join(" ");
    names::find(names, &words_of(&text)).ok_or_else(|| PhraseFault::Unknown {
        near: near_names(names, &words_of(&text)),
        found: short(&text),
    })
}
