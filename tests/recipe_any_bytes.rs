#![cfg(not(target_arch = "wasm32"))]
//! Any bytes are an outcome of finite numbers or an error that names a field, never a crash.

mod support;

use barrowmix::recipe::{Recipe, RecipeError, from_link, to_link};
use std::panic::catch_unwind;
use support::dice::Dice;
use support::judge::{judge, signed};
use support::recipes;

/// Numbers that break things: borders, the smallest and largest, and what is no number.
const NUMBERS: [&str; 22] = [
    "0",
    "-0",
    "0.0",
    "1",
    "-1",
    "100",
    "99.99999999",
    "1e6",
    "1000000",
    "1e-3",
    "1e-9",
    "1e-300",
    "5e-324",
    "1e308",
    "1e400",
    "-1e400",
    "2e5",
    "14",
    "0.001",
    "NaN",
    "1,5",
    "\"7\"",
];
/// Pieces of a document that may stand anywhere by mistake.
const PIECES: [&str; 20] = [
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    "\"",
    "null",
    "true",
    "{}",
    "[]",
    "\"\"",
    "%v",
    "part",
    "\\u0000",
    "\\ud800",
    "\u{feff}",
    "\"made_by\":\"99.0.0\",",
    "\"on_top\":true,",
    "\"unit\":\"bag\",",
];

/// Judges a case; a panic names it.
fn case(bytes: &[u8], read: fn(&[u8]) -> Result<Recipe, RecipeError>) -> bool {
    let source = String::from_utf8_lossy(bytes).into_owned();
    match catch_unwind(|| judge(read(bytes), &source)) {
        Ok(mixed) => mixed,
        Err(_) => panic!("it crashed on {source}"),
    }
}

fn file(bytes: &[u8]) -> bool {
    case(bytes, Recipe::from_bytes)
}

fn link(bytes: &[u8]) -> bool {
    case(bytes, |bytes| from_link(&String::from_utf8_lossy(bytes)))
}

/// Where numbers stand in a document.
fn numbers(text: &[u8]) -> Vec<(usize, usize)> {
    let part = |b: u8| b.is_ascii_digit() || matches!(b, b'.' | b'-');
    let mut out = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let before = at.checked_sub(1).map(|at| text[at]);
        if part(text[at]) && matches!(before, Some(b':' | b',' | b'[')) {
            let end = (at..text.len())
                .find(|at| !part(text[*at]))
                .unwrap_or(text.len());
            out.push((at, end));
            at = end;
        }
        at += 1;
    }
    out
}

/// A document with a few mistakes in it.
fn spoiled(dice: &mut Dice, document: &[u8]) -> Vec<u8> {
    let mut out = document.to_vec();
    for _ in 0..=dice.below(3) {
        let at = dice.below(out.len() + 1);
        match dice.below(9) {
            0 if at < out.len() => out[at] = dice.bits() as u8,
            1 if at < out.len() => drop(out.remove(at)),
            2 => out.truncate(at),
            3 => {
                let end = (at + dice.below(40)).min(out.len());
                let piece = out[at..end].to_vec();
                let to = dice.below(out.len() + 1);
                out.splice(to..to, piece);
            }
            4 => {
                let piece = dice.pick(&PIECES).bytes();
                out.splice(at..at, piece);
            }
            _ => {
                let places = numbers(&out);
                if !places.is_empty() {
                    let (from, to) = *dice.pick(&places);
                    out.splice(from..to, dice.pick(&NUMBERS).bytes());
                }
            }
        }
    }
    out
}

#[test]
fn any_bytes() {
    let mut dice = Dice::new(20);
    for _ in 0..30_000 {
        let length = dice.below(80);
        let mut bytes: Vec<u8> = (0..length).map(|_| dice.bits() as u8).collect();
        file(&bytes);
        bytes.insert(0, b'1');
        link(&bytes);
    }
}

#[test]
fn any_letters_of_a_link() {
    let letters = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let mut dice = Dice::new(21);
    for _ in 0..20_000 {
        let length = dice.below(60);
        let mut text = vec![b'1'];
        text.extend((0..length).map(|_| *dice.pick(letters)));
        link(&text);
    }
}

#[test]
fn spoiled_documents() {
    let mut dice = Dice::new(22);
    let mut mixed = 0;
    for _ in 0..3000 {
        let document = recipes::random(&mut dice).to_string().into_bytes();
        for _ in 0..8 {
            mixed += usize::from(file(&spoiled(&mut dice, &document)));
        }
    }
    assert!(
        mixed > 1000,
        "only {mixed} spoiled documents could still be mixed"
    );
}

/// Links with a right checksum whose content is spoiled: the reader of the letters, not the check,
/// must hold.
#[test]
fn spoiled_links() {
    let mut dice = Dice::new(23);
    for _ in 0..1000 {
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let good = to_link(&recipe).expect("it fits").into_bytes();
        for _ in 0..6 {
            let bad = spoiled(&mut dice, &good);
            link(&bad);
            link(&signed(&bad));
        }
    }
}

#[test]
fn a_good_link_signs_as_it_is() {
    let mut dice = Dice::new(24);
    for _ in 0..50 {
        let recipe = recipes::recipe(&recipes::random(&mut dice));
        let link = to_link(&recipe).expect("it fits").into_bytes();
        assert_eq!(
            signed(&link),
            link,
            "the checksum of the tests is that of the links"
        );
    }
}
