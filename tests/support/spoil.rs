//! Documents and links with mistakes in them.

use super::dice::Dice;

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
pub fn spoiled(dice: &mut Dice, document: &[u8]) -> Vec<u8> {
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
