#![cfg(not(target_arch = "wasm32"))]
//! Decimal text against the standard library, to the last bit.

mod support;

use barrowmix::recipe::{number_of_text, number_text};
use support::dice::Dice;

fn judge(text: &str) {
    let expected: f64 = text
        .parse()
        .unwrap_or_else(|_| panic!("{text:?} is no number"));
    let found = number_of_text(text);
    assert_eq!(
        found.to_bits(),
        expected.to_bits(),
        "{text} read as {found:e} and not {expected:e}"
    );
}

/// Of all sizes alike, also of those that have few bits left.
fn any_finite(dice: &mut Dice) -> f64 {
    loop {
        let mut bits = dice.bits();
        if dice.one_in(4) {
            bits &= !(0x7ff << 52);
            bits >>= dice.below(52);
        }
        let value = f64::from_bits(bits);
        if value.is_finite() {
            return value;
        }
    }
}

/// The exact decimals of the middle between a positive number and the next.
fn middle(value: f64) -> String {
    let next = f64::from_bits(value.to_bits() + 1);
    let digits = |value: f64| format!("{value:0>1500.1100}").into_bytes();
    let (one, other) = (digits(value), digits(next));
    let mut twice = vec![b'0'; one.len()];
    let mut carry = 0;
    for at in (0..one.len()).rev() {
        if one[at] == b'.' {
            twice[at] = b'.';
            continue;
        }
        let sum = one[at] - b'0' + other[at] - b'0' + carry;
        (twice[at], carry) = (b'0' + sum % 10, sum / 10);
    }
    let mut rest = 0;
    for digit in &mut twice {
        if *digit != b'.' {
            let ten = rest * 10 + *digit - b'0';
            (*digit, rest) = (b'0' + ten / 2, ten % 2);
        }
    }
    String::from_utf8(twice).expect("digits")
}

#[test]
fn printed_numbers() {
    let mut dice = Dice::new(81);
    for _ in 0..20_000 {
        let value = any_finite(&mut dice);
        judge(&format!("{value}"));
        judge(&format!("{value:e}"));
        judge(&format!("{value:E}"));
        let digits = 14 + dice.below(20);
        judge(&format!("{value:.digits$e}"));
    }
    for _ in 0..300 {
        let value = any_finite(&mut dice);
        let digits = 17 + dice.below(784);
        judge(&format!("{value:.digits$e}"));
        judge(&format!("{value:.1100}"));
    }
}

#[test]
fn any_digits() {
    let mut dice = Dice::new(82);
    for round in 0..60_000 {
        let most = if round % 100 == 0 { 2000 } else { 24 };
        let length = 1 + dice.below(most);
        let mut text: String = (0..length)
            .map(|_| char::from(b'0' + dice.below(10) as u8))
            .collect();
        if dice.one_in(2) {
            text.insert(dice.below(length + 1), '.');
        }
        if dice.one_in(2) {
            let power = dice.below(800) as i64 - 400;
            text += &format!("e{power}");
        }
        if dice.one_in(3) {
            text.insert(0, *dice.pick(&['+', '-']));
        }
        judge(&text);
    }
}

#[test]
fn half_way_and_a_hair_beside() {
    let mut dice = Dice::new(83);
    let ends = [
        0.0,
        5e-324,
        f64::MIN_POSITIVE,
        f64::from_bits(f64::MIN_POSITIVE.to_bits() - 1),
        1.0,
        f64::from_bits(1.0_f64.to_bits() - 1),
        9007199254740992.0,
        f64::from_bits(f64::MAX.to_bits() - 1),
    ];
    let random = (0..400).map(|_| any_finite(&mut dice).abs());
    let random: Vec<f64> = random.filter(|value| *value < f64::MAX).collect();
    for value in ends.into_iter().chain(random) {
        let exact = middle(value);
        let last = exact
            .rfind(|digit| matches!(digit, '1'..='9'))
            .expect("more than 0");
        let less = exact.as_bytes()[last] - 1;
        let nines = exact[last + 1..].replace('0', "9");
        let below = format!("{}{}{nines}", &exact[..last], char::from(less));
        let above = format!("{exact}1");
        let far_above = format!("{exact}{}1", "0".repeat(3000));
        for text in [&exact, &below, &above, &far_above] {
            judge(text);
            judge(&format!("-{text}"));
            judge(text.trim_start_matches('0'));
        }
        assert!(
            number_of_text(&below) < number_of_text(&above),
            "{value:e} and the next are apart"
        );
    }
}

#[test]
fn ends_of_the_range() {
    for text in [
        "1e308",
        "1e309",
        "1.7976931348623157e308",
        "1.7976931348623158e308",
        "1.7976931348623159e308",
        "17976931348623157e292",
        "2e308",
        "4.9406564584124654e-324",
        "2.4703282292062327e-324",
        "2.4703282292062328e-324",
        "2.2250738585072014e-308",
        "2.225073858507201e-308",
        "1e-323",
        "1e-324",
        "1e-325",
        "1e22",
        "1e23",
        "123456789012345e22",
        "123456789012345e-22",
        "999999999999999e23",
        "0e999999999999999999999",
        "1e999999999999999999999",
        "1e-999999999999999999999",
        "-0",
        "-0.0e5",
        "+7",
        "7.",
        ".7",
        "7.e1",
        "007",
        "1e+05",
    ] {
        judge(text);
    }
    for zeros in [10, 300, 330, 900, 5000] {
        let zeros_text = "0".repeat(zeros);
        judge(&format!("0.{zeros_text}1"));
        judge(&format!("0.{zeros_text}123456789012345678901e{zeros}"));
        judge(&format!("1{zeros_text}"));
        judge(&format!("1{zeros_text}e-{zeros}"));
        judge(&format!("12345{zeros_text}1e-{zeros}"));
        judge(&"9".repeat(zeros));
        judge(&format!("{}e-{zeros}", "9".repeat(zeros)));
    }
}

#[test]
fn what_is_no_number() {
    let mut dice = Dice::new(84);
    for _ in 0..50_000 {
        let length = dice.below(7);
        let text: String = (0..length)
            .map(|_| char::from(*dice.pick(b"0123.e+-E ,x")))
            .collect();
        match text.parse::<f64>() {
            Ok(_) => judge(&text),
            Err(_) => assert!(number_of_text(&text).is_nan(), "{text:?} is a number"),
        }
    }
    for text in ["NaN", "inf", "-inf", "Infinity", "nan", "٣", "1é", "1_0"] {
        assert!(number_of_text(text).is_nan(), "{text:?} is a number");
    }
}

/// The digits and the exponent as the standard library finds them, in our way of writing.
fn as_std_writes(value: f64) -> String {
    let text = format!("{value:e}");
    let (digits, exponent) = text.split_once('e').expect("it has an exponent");
    let exponent: i32 = exponent.parse().expect("a whole number");
    if (-5..=15).contains(&exponent) {
        // Plain, as the standard library writes it without an exponent.
        format!("{value}")
    } else {
        format!("{digits}e{exponent}")
    }
}

#[test]
fn the_shortest_text() {
    let mut dice = Dice::new(85);
    let judge = |value: f64| {
        let text = number_text(value);
        let theirs = as_std_writes(value);
        let digits = |text: &str| text.bytes().filter(u8::is_ascii_digit).count();
        if digits(&theirs) < 16 {
            assert_eq!(text, theirs, "{value:e}");
        } else {
            // Several texts of so many digits read back; any of them will do.
            assert_eq!(digits(&text), digits(&theirs), "{text} and {theirs}");
        }
        assert_eq!(number_of_text(&text).to_bits(), value.to_bits(), "{text}");
    };
    for value in [
        0.1,
        0.2,
        0.3,
        1.0,
        10.0,
        1e15,
        1e16,
        1e21,
        1e22,
        1e23,
        1e-5,
        1e-6,
        123_456.789,
        5e-324,
        f64::MAX,
        f64::MIN_POSITIVE,
        9_007_199_254_740_993.0,
        2.0 / 3.0,
        0.1 + 0.2,
        100.0 / 3.0,
        9.5,
        99.95,
        1.7976931348623157e308,
        4.35,
        2.225073858507201e-308,
        -0.5,
        -1e300,
    ] {
        judge(value);
    }
    for power in -300..300 {
        let text = format!("1e{power}");
        judge(text.parse().expect("a number"));
    }
    // What people type.
    for _ in 0..20_000 {
        judge(dice.below(1_000_000) as f64 / libm::exp10(dice.below(7) as f64));
    }
    // And anything.
    let mut judged = 0;
    while judged < 3000 {
        let bits = dice.below(1 << 32) << 32 | dice.below(1 << 32);
        let value = f64::from_bits(bits as u64);
        if value.is_finite() {
            judge(value);
            judged += 1;
        }
    }
}
