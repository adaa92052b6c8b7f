#![cfg(not(target_arch = "wasm32"))]
//! Any bytes are an outcome of finite numbers or an error that names a field, never a crash.

mod support;

use barrowmix::recipe::own::materials_from_json;
use barrowmix::recipe::{Recipe, RecipeError, from_link, to_link};
use std::panic::catch_unwind;
use support::dice::Dice;
use support::judge::{judge, signed};
use support::recipes;
use support::spoil::spoiled;

/// Cases of each kind.
const BYTES: usize = 30_000;
const LETTERS: usize = 20_000;
const DOCUMENTS: usize = 3000;
const SPOILS: usize = 8;
const LINKS: usize = 1000;
const LINK_SPOILS: usize = 6;
const CUTS: usize = 2000;
const NUMBERS: usize = 600;
const NESTS: usize = 300;
/// Random bytes, spoiled links and nests are tried twice each.
const _: () = assert!(
    2 * BYTES + LETTERS + DOCUMENTS * SPOILS + 2 * LINKS * LINK_SPOILS + CUTS + NUMBERS + 2 * NESTS
        >= 100_000,
    "as many cases as were promised"
);

/// Judges a case; a panic names it.
fn case(bytes: &[u8], read: fn(&[u8]) -> Result<Recipe, RecipeError>) -> bool {
    let source = String::from_utf8_lossy(bytes).into_owned();
    match catch_unwind(|| judge(read(bytes), &source)) {
        Ok(mixed) => mixed,
        Err(_) => panic!("it crashed on {source}"),
    }
}

fn file(bytes: &[u8]) -> bool {
    // The same bytes as a file of materials: a list or a fault, whatever they are.
    let text = String::from_utf8_lossy(bytes);
    assert!(
        catch_unwind(|| drop(materials_from_json(&text))).is_ok(),
        "it crashed on {text}"
    );
    case(bytes, Recipe::from_bytes)
}

fn link(bytes: &[u8]) -> bool {
    case(bytes, |bytes| from_link(&String::from_utf8_lossy(bytes)))
}

#[test]
fn any_bytes() {
    let mut dice = Dice::new(20);
    for _ in 0..BYTES {
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
    for _ in 0..LETTERS {
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
    for _ in 0..DOCUMENTS {
        let document = recipes::random_measured(&mut dice).to_string().into_bytes();
        for _ in 0..SPOILS {
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
    for _ in 0..LINKS {
        let recipe = recipes::recipe(&recipes::random_measured(&mut dice));
        let good = to_link(&recipe).expect("it fits").into_bytes();
        for _ in 0..LINK_SPOILS {
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
        let recipe = recipes::recipe(&recipes::random_measured(&mut dice));
        let link = to_link(&recipe).expect("it fits").into_bytes();
        assert_eq!(
            signed(&link),
            link,
            "the checksum of the tests is that of the links"
        );
    }
}

#[test]
fn cut_files_and_links() {
    let mut dice = Dice::new(25);
    for _ in 0..CUTS / 2 {
        let document = recipes::random_measured(&mut dice);
        let text = document.to_string().into_bytes();
        assert!(
            !file(&text[..dice.below(text.len())]),
            "a file that was cut"
        );
        let whole = to_link(&recipes::recipe(&document))
            .expect("it fits")
            .into_bytes();
        let cut = &whole[..dice.below(whole.len())];
        assert!(!link(cut), "a link that was cut");
        link(&signed(cut));
    }
}

/// Numbers with more digits and exponents than any number has.
#[test]
fn huge_numbers() {
    let mut dice = Dice::new(26);
    let long = |letter: &str, count: usize| letter.repeat(count);
    for _ in 0..NUMBERS {
        let count = dice.below(3000);
        let number = match dice.below(6) {
            0 => format!("1{}", long("0", count)),
            1 => format!("0.{}1", long("0", count)),
            2 => format!("1e{}", long("9", 1 + count % 40)),
            3 => format!("-1e-{}", long("9", 1 + count % 40)),
            4 => format!("1{}e-{count}", long("0", count)),
            _ => format!("0.{}e{count}", long("123456789", 1 + count % 90)),
        };
        let text = recipes::random_measured(&mut dice).to_string();
        let places: Vec<usize> = text.match_indices("\":").map(|(at, _)| at + 2).collect();
        let from = *dice.pick(&places);
        let end = text[from..]
            .find([',', '}', ']'])
            .map_or(text.len(), |at| from + at);
        let spoiled = [&text[..from], &number, &text[end..]].concat();
        file(spoiled.as_bytes());
    }
}

/// Lists in lists and objects in objects, deeper than anyone needs.
#[test]
fn deep_nesting() {
    let mut dice = Dice::new(27);
    for _ in 0..NESTS {
        let deepest = if dice.one_in(20) { 200_000 } else { 300 };
        let depth = 1 + dice.below(deepest);
        let (open, close) = *dice.pick(&[("[", "]"), ("{\"a\":", "}"), ("[{\"kept\":[", "]}]")]);
        let nest = [&open.repeat(depth), "1", &close.repeat(depth)].concat();
        let document = recipes::random_measured(&mut dice).to_string();
        let later = document.replacen('{', &format!("{{\"made_by\":\"99.0.0\",\"x\":{nest},"), 1);
        file(if dice.one_in(2) {
            later.as_bytes()
        } else {
            nest.as_bytes()
        });
        // Bytes of a link that open lists (2) or objects (1) and never close them.
        let letters = if dice.one_in(2) { "AgIC" } else { "AQIB" };
        let link_text = format!("1{}", letters.repeat(1 + depth % 1900));
        link(&signed(link_text.as_bytes()));
    }
}
