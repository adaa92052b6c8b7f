//! In the page the browser reads long decimals and finds the shortest: both against the standard
//! library, to the last bit.
#![cfg(all(target_arch = "wasm32", feature = "page"))]

#[path = "support/dice.rs"]
#[allow(dead_code, unreachable_pub)]
mod dice;

use barrowmix::recipe::{number_of_text, number_text};
use dice::Dice;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// The digits of a text without zeros at its ends.
fn digits(text: &str) -> String {
    let size = text.split('e').next().unwrap_or_default();
    let digits: String = size.chars().filter(char::is_ascii_digit).collect();
    digits.trim_matches('0').to_owned()
}

#[wasm_bindgen_test]
fn reads_and_writes_as_the_standard_library() {
    let mut dice = Dice::new(20_260_726);
    for count in 0..40_000 {
        let mut value = f64::from_bits(dice.bits());
        if count % 2 == 0 {
            value = dice.between(0.0, 1.0) * [1e-6, 1.0, 1e3, 1e15, 1e22][count % 5];
        }
        if !value.is_finite() {
            continue;
        }
        let text = number_text(value);
        assert_eq!(number_of_text(&text).to_bits(), value.to_bits(), "{text}");
        // As few digits. Of two that are as near the standard library takes the upper one.
        let (ours, theirs) = (digits(&text), digits(&format!("{value:e}")));
        let whole = |digits: &str| digits.parse::<u64>().expect("they are digits");
        assert_eq!(ours.len(), theirs.len(), "{text}");
        assert!(whole(&theirs) - whole(&ours) <= 1, "{text}");
        assert_eq!(text.parse(), Ok(value), "{text}");
        // Seventeen digits and more, which are not the shortest.
        for text in [format!("{value:.17e}"), format!("{value:.24e}")] {
            let expected: f64 = text.parse().expect("it is a number");
            assert_eq!(
                number_of_text(&text).to_bits(),
                expected.to_bits(),
                "{text}"
            );
        }
    }
}

#[wasm_bindgen_test]
fn refuses_what_is_none() {
    for text in [
        "",
        ".",
        "e5",
        "1e",
        "1 0",
        "0x10",
        "Infinity",
        "12345678901234567890x",
    ] {
        assert!(number_of_text(text).is_nan(), "{text:?}");
    }
    for (text, value) in [
        ("5.", 5.0),
        (".5", 0.5),
        ("+1234567890123456789", 1_234_567_890_123_456_789.0),
        ("-0.00000000000000000000000001", -1e-26),
        ("1e400", f64::INFINITY),
        ("0e400", 0.0),
        ("1e-400", 0.0),
    ] {
        assert_eq!(number_of_text(text), value, "{text:?}");
    }
}
