#![cfg(not(target_arch = "wasm32"))]
//! Any bytes are an outcome of finite numbers or an error that names a field, never a crash.

mod support;

use barrowmix::recipe::{Recipe, RecipeError, from_link, to_link};
use std::panic::catch_unwind;
use support::dice::Dice;
use support::judge::{judge, signed};
use support::recipes;
use support::spoil::spoiled;

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
