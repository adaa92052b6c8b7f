//! The tables of other languages: every text is there, with the same places and the same numbers, and
//! what is told in them has nothing of English left.

#[path = "support/sentences.rs"]
mod sentences;
#[allow(dead_code)]
#[path = "../build/tongues.rs"]
mod tongues;

use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::tongue::{self, Language, Marks, fill, speak, tr_many};
use barrowmix::words::{METRIC, Typed, bound, error_text, parse_typed, remark_text};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use tongues::Entry;

const OTHERS: [Language; 2] = [Language::Spanish, Language::French];

fn folder(language: Language) -> std::path::PathBuf {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    root.join("src/words").join(language.tag())
}

/// Every entry with its file.
fn entries(language: Language) -> Vec<(String, Entry)> {
    let mut out = Vec::new();
    for path in tongues::files(&folder(language)).expect("the folder is there") {
        let name = path.display().to_string();
        let text = fs::read_to_string(&path).expect("a table can be read");
        let read = tongues::read(&text, &name).expect("a table has its form");
        out.extend(read.into_iter().map(|entry| (name.clone(), entry)));
    }
    out
}

#[test]
fn every_text_is_in_every_language() {
    let told: BTreeSet<String> = sentences::all().into_iter().map(|text| text.key).collect();
    assert!(told.len() > 3000, "texts are found: {}", told.len());
    for language in OTHERS {
        let written = entries(language);
        let mut seen = BTreeSet::new();
        for (name, entry) in &written {
            let forms = if entry.many.is_some() { 2 } else { 1 };
            assert_eq!(entry.texts.len(), forms, "{name}: forms of {:?}", entry.key);
            for text in &entry.texts {
                assert!(
                    !text.trim().is_empty(),
                    "{name}: {:?} has no text",
                    entry.key
                );
            }
            assert!(
                seen.insert(entry.key.as_str()),
                "{name}: {:?} twice",
                entry.key
            );
            assert!(
                told.contains(&entry.key),
                "{name}: nothing says {:?}",
                entry.key
            );
        }
        let missing: Vec<&String> = told
            .iter()
            .filter(|key| !seen.contains(key.as_str()))
            .collect();
        assert!(
            missing.is_empty(),
            "{}: run `cargo run --example sentences`: {missing:?}",
            language.tag()
        );
    }
}

/// The English text of a form.
fn english_of(entry: &Entry, form: usize) -> &String {
    match (&entry.many, form) {
        (Some(many), 1) => many,
        _ => &entry.key,
    }
}

/// Where something is told, in order: `{}` counts on, `{1}` names its place.
fn places(text: &str) -> Vec<usize> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some((_, after)) = rest.split_once('{') {
        let (place, after) = after.split_once('}').expect("a brace that is closed");
        let next = out.len();
        out.push(if place.is_empty() {
            next
        } else {
            place.parse().expect("a place")
        });
        rest = after;
    }
    out.sort_unstable();
    out
}

#[test]
fn places_are_the_same_in_every_language() {
    for language in OTHERS {
        for (name, entry) in entries(language) {
            for (form, text) in entry.texts.iter().enumerate() {
                let english = english_of(&entry, form);
                let (own, other) = (places(english), places(text));
                // One of a thing may be told without its number.
                let is_one = entry.many.is_some() && form == 0;
                let fits = own == other || is_one && other.iter().all(|place| own.contains(place));
                assert!(fits, "{name}: {english:?} and {text:?}");
            }
        }
    }
}

/// The numbers of a text, without what sets thousands and decimals apart.
fn numbers(text: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut number = String::new();
    let letters: Vec<char> = text.chars().collect();
    let mut inside = false;
    for (at, letter) in letters.iter().enumerate() {
        inside = match letter {
            '{' => true,
            '}' => false,
            _ => inside,
        };
        let next_is_digit = letters.get(at + 1).is_some_and(char::is_ascii_digit);
        if inside {
        } else if letter.is_ascii_digit() {
            number.push(*letter);
        } else if !(number.is_empty() || matches!(letter, '.' | ',' | '\u{202f}') && next_is_digit)
        {
            out.push(std::mem::take(&mut number));
        }
    }
    if !number.is_empty() {
        out.push(number);
    }
    out.sort();
    out
}

#[test]
fn numbers_are_the_same_in_every_language() {
    for language in OTHERS {
        for (name, entry) in entries(language) {
            for (form, text) in entry.texts.iter().enumerate() {
                let english = english_of(&entry, form);
                let english = tongue::english(english.clone().leak());
                assert_eq!(
                    numbers(english),
                    numbers(text),
                    "{name}: {english:?} and {text:?}"
                );
            }
        }
    }
}

/// Words of English that neither Spanish nor French has.
const ENGLISH: [&str; 24] = [
    "the", "of", "with", "and", "from", "what", "where", "which", "this", "that", "these", "your",
    "you", "is", "are", "was", "were", "been", "than", "but", "for", "more", "less", "not",
];

fn english_words(text: &str) -> Vec<String> {
    let words = text.split(|letter: char| !letter.is_alphabetic());
    let words = words.filter(|word| ENGLISH.contains(&word.to_lowercase().as_str()));
    words.map(str::to_owned).collect()
}

#[test]
fn no_table_has_english_left() {
    for language in OTHERS {
        for (name, entry) in entries(language) {
            for text in &entry.texts {
                let left = english_words(text);
                // Titles of papers and names of institutes stay as they are.
                assert!(left.len() < 2, "{name}: {left:?} in {text:?}");
            }
        }
    }
}

/// A form by Unicode's plural rules (CLDR 44, cardinals of en, es, fr; from memory, without the form
/// for millions).
#[test]
fn forms_follow_the_number() {
    for (language, one) in [
        (Language::English, &[1.0][..]),
        (Language::Spanish, &[1.0]),
        (Language::French, &[0.0, 0.5, 1.0, 1.5, 1.9]),
    ] {
        for number in [0.0, 0.5, 1.0, 1.5, 1.9, 2.0, 5.0, 11.0, 21.0, 100.0] {
            let form = usize::from(!one.contains(&number));
            assert_eq!(language.form(number), form, "{} {number}", language.tag());
        }
    }
    speak(Language::English);
    assert_eq!(tr_many(1.0, "{} bag", "{} bags"), "{} bag", "one");
    assert_eq!(tr_many(0.0, "{} bag", "{} bags"), "{} bags", "none");
}

#[test]
fn templates_are_filled_in_any_order() {
    assert_eq!(
        fill("{} and {}", &[&1, &"two"]),
        "1 and two",
        "one after the other"
    );
    assert_eq!(fill("{1} y {0}", &[&1, &"dos"]), "dos y 1", "by place");
    assert_eq!(fill("{", &[&1]), "{", "no place");
    assert_eq!(fill("{} {}", &[&1]), "1 ", "told too little");
    assert_eq!(fill("{9}é{x}", &[&1]), "é", "no such place");
}

#[test]
fn tags_and_marks_are_read() {
    for (tag, language) in [
        ("es", Some(Language::Spanish)),
        ("ES-mx", Some(Language::Spanish)),
        ("fr-CA", Some(Language::French)),
        ("en", Some(Language::English)),
        ("est", None),
        ("e", None),
        ("", None),
        ("ñandú", None),
    ] {
        assert_eq!(Language::of_tag(tag), language, "{tag}");
    }
    let marks = |decimal, group| Some(Marks { decimal, group });
    for (sample, found) in [
        ("1,234,567.5", marks(".", ",")),
        ("1.234.567,5", marks(",", ".")),
        ("1\u{202f}234\u{202f}567,5", marks(",", "\u{202f}")),
        ("1’234’567.5", marks(".", "’")),
        ("1234567.5", None),
        ("12,34,567.5", marks(".", ",")),
        ("", None),
        ("x", None),
    ] {
        assert_eq!(Marks::of_sample(sample), found, "{sample}");
    }
}

/// A point before three digits may stand after thousands where commas are decimals (common practice),
/// but for one after a lone nought.
#[test]
fn numbers_are_typed_and_limits_told_as_the_language_has_them() {
    let typed = |text: &str| match parse_typed(text) {
        Typed::Number(value) => Ok(value),
        Typed::Comma => Err("ask"),
        Typed::Empty => Err("nothing"),
        Typed::Other => Err("no number"),
    };
    for (language, rows) in [
        (
            Language::English,
            [
                ("0.125", Ok(0.125)),
                ("0,125", Err("ask")),
                ("100.000", Ok(100.0)),
                ("1,234.5", Err("ask")),
                (" -2.5 ", Ok(-2.5)),
                ("1e3", Ok(1000.0)),
            ],
        ),
        (
            Language::Spanish,
            [
                ("0.125", Ok(0.125)),
                ("0,125", Ok(0.125)),
                ("100.000", Err("ask")),
                ("1.234,5", Err("ask")),
                (" -2,5 ", Ok(-2.5)),
                ("1e3", Ok(1000.0)),
            ],
        ),
    ] {
        speak(language);
        for (text, expected) in rows {
            assert_eq!(typed(text), expected, "{text} in {}", language.tag());
        }
        assert_eq!(typed(" "), Err("nothing"), "nothing");
        assert_eq!(typed("12 L"), Err("no number"), "with a unit");
    }
    for (language, told) in [
        (
            Language::English,
            ["0", "0.01", "-1,000,000", "2.5", "9999", "33.3333"],
        ),
        (
            Language::Spanish,
            ["0", "0,01", "-1.000.000", "2,5", "9999", "33,3333"],
        ),
    ] {
        speak(language);
        let limits = [0.0, 0.01, -1e6, 2.5, 9999.0, 100.0 / 3.0];
        assert_eq!(limits.map(bound), told, "{}", language.tag());
    }
    speak(Language::English);
}

/// What an outcome says, of every example recipe.
#[test]
fn an_outcome_speaks_its_language() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/recipes");
    for language in Language::ALL {
        speak(language);
        let mut said = 0;
        for entry in fs::read_dir(&folder).expect("examples are there") {
            let path = entry.expect("an entry").path();
            let text = fs::read_to_string(&path).expect("a recipe can be read");
            let Ok(recipe) = Recipe::from_json(&text) else {
                continue;
            };
            let outcome = Outcome::of(&recipe).expect("an outcome");
            for remark in outcome.verdict.iter().chain(&outcome.notes) {
                let mut text = remark_text(remark, METRIC);
                // What the user calls a thing stays.
                for own in &recipe.materials {
                    let name = own.name.as_deref().unwrap_or(&own.id);
                    for name in [name.to_owned(), name.to_lowercase()] {
                        text = text.replace(&name, "");
                    }
                }
                said += 1;
                let left = english_words(&text);
                assert!(
                    language == Language::English || left.is_empty(),
                    "{left:?} in {text:?}"
                );
            }
        }
        assert!(said > 20, "sentences are told: {said}");
    }
    speak(Language::Spanish);
    let error = Recipe::from_json("{").expect_err("no recipe");
    assert!(
        english_words(&error_text(&error)).is_empty(),
        "{}",
        error_text(&error)
    );
    speak(Language::English);
}

/// Every text differs from the English one, unless it is a name, a unit or so short a word that
/// languages share it.
#[test]
fn texts_are_translated() {
    for language in OTHERS {
        let mut same: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        for (_, entry) in entries(language) {
            if entry.texts[0] == entry.key {
                // Names, symbols and numbers are the same everywhere.
                let is_word = |word: &&str| word.len() > 2 && word.chars().all(char::is_lowercase);
                let words = entry.key.split_whitespace().filter(is_word).count();
                same.entry(words).or_default().push(entry.key);
            }
        }
        let long: Vec<&String> = same.range(4..).flat_map(|(_, keys)| keys).collect();
        assert!(long.is_empty(), "{}: {long:?}", language.tag());
    }
}
