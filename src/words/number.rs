//! Numbers as people read and type them.

pub use crate::quantity::round_significant;
use crate::quantity::{magnitude, ten_to};
use crate::tongue::{Marks, marks};

/// A number with so many decimals, thousands set apart from 10,000 on. Minus zero is zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    digits(value, decimals, marks())
}

/// A number with so many decimals for attributes and drawings: a point, and nothing between thousands.
pub fn written(value: f64, decimals: usize) -> String {
    let plain = Marks {
        decimal: ".",
        group: "",
    };
    digits(value, decimals, plain)
}

fn digits(value: f64, decimals: usize, marks: Marks) -> String {
    let mut scale = 1.0;
    for _ in 0..decimals {
        scale *= 10.0;
    }
    let mut left = (value.abs() * scale).round() as u64;
    let negative = value < 0.0 && left > 0;
    // The last letter first.
    let mut letters = Vec::new();
    let mut place = decimals as i32;
    let mut grouped = false;
    loop {
        if place == 0 {
            if decimals > 0 {
                letters.extend(marks.decimal.bytes().rev());
            }
            grouped = left >= 10_000;
        } else if grouped && place % 3 == 0 {
            letters.extend(marks.group.bytes().rev());
        }
        letters.push(b'0' + (left % 10) as u8);
        left /= 10;
        place -= 1;
        if place < 0 && left == 0 {
            break;
        }
    }
    if negative {
        letters.push(b'-');
    }
    letters.reverse();
    String::from_utf8(letters).unwrap_or_default()
}

/// A number with so many significant digits, never in powers of ten.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let rounded = round_significant(value, digits);
    let decimals = digits as i32 - 1 - magnitude(rounded);
    fixed(rounded, decimals.clamp(0, 12) as usize)
}

/// The greatest power of ten that is not above a number.
pub fn power_of_ten(value: f64) -> f64 {
    ten_to(magnitude(value))
}

/// A number for a box that is typed into: no thousands, at most six figures.
pub fn shown(value: f64) -> String {
    with_mark(crate::recipe::number_text(round_significant(value, 6)))
}

/// A number as a limit is told: no more decimals than it has, thousands set apart, at most six figures.
pub fn bound(value: f64) -> String {
    let value = round_significant(value, 6);
    let text = crate::recipe::number_text(value);
    let (mut decimals, mut after_point) = (0, false);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => decimals += usize::from(after_point),
            b'-' => {}
            b'.' => after_point = true,
            // A power of ten, or no number.
            _ => return with_mark(text),
        }
    }
    fixed(value, decimals)
}

/// A number that is written with a point, with the mark for decimals.
pub fn with_mark(text: String) -> String {
    let mark = marks().decimal;
    if mark == "." {
        return text;
    }
    let mut out = Vec::with_capacity(text.len() + 1);
    for byte in text.bytes() {
        match byte {
            b'.' => out.extend_from_slice(mark.as_bytes()),
            byte => out.push(byte),
        }
    }
    String::from_utf8(out).unwrap_or_default()
}

/// What was typed into a number box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Typed {
    /// A number.
    Number(f64),
    /// Nothing.
    Empty,
    /// A number with the mark that is not the one for decimals, where thousands may be set apart: ask.
    Comma,
    /// Not a number.
    Other,
}

/// Reads a number as typed: digits with the mark for decimals, a sign and an exponent; nothing else.
/// Where that mark is a comma a point is taken for it too, unless three digits follow as after
/// thousands.
pub fn parse_typed(text: &str) -> Typed {
    // Without the white space around it.
    let (mut from, mut to) = (text.len(), 0);
    for (at, letter) in text.char_indices() {
        if !letter.is_whitespace() {
            from = from.min(at);
            to = at + letter.len_utf8();
        }
    }
    let text = text.get(from..to).unwrap_or_default();
    if text.is_empty() {
        return Typed::Empty;
    }
    let (mut comma, mut grouped, mut plain) = (false, true, true);
    for byte in text.bytes() {
        comma |= byte == b',';
        grouped &= matches!(byte, b'0'..=b'9' | b',' | b'.');
        plain &= is_plain(byte);
    }
    let mut own = String::new();
    let mut text = text;
    if marks().decimal == "," {
        // One comma, or one point that cannot be after thousands.
        let count = |mark| text.bytes().filter(|byte| *byte == mark).count();
        let (commas, points) = (count(b','), count(b'.'));
        let after_point = text.bytes().rev().position(|byte| byte == b'.');
        let below_one = text.starts_with("0.");
        if grouped && (commas + points > 1 || after_point == Some(3) && !below_one) {
            return Typed::Comma;
        }
        for byte in text.bytes().filter(|_| commas + points == 1) {
            own.push(if byte == b',' { '.' } else { char::from(byte) });
        }
        if commas + points == 1 {
            plain = own.bytes().all(is_plain);
            text = &own;
        }
    } else if comma && grouped {
        return Typed::Comma;
    }
    let value = crate::recipe::number_of_text(text);
    if plain && !value.is_nan() {
        Typed::Number(value)
    } else {
        Typed::Other
    }
}

fn is_plain(byte: u8) -> bool {
    matches!(byte, b'0'..=b'9' | b'+' | b'-' | b'.' | b'e' | b'E')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fixed_rounds_and_groups() {
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(fixed(9999.6, 0), "10,000");
        assert_eq!(fixed(1234.5, 1), "1234.5");
        assert_eq!(fixed(-1234567.0, 0), "-1,234,567");
    }

    #[test]
    fn significant_digits() {
        assert_eq!(significant(0.012345, 2), "0.012");
        assert_eq!(significant(9.96, 2), "10");
        assert_eq!(significant(1534.0, 2), "1500");
        assert_eq!(significant(1.5, 3), "1.50");
        assert_eq!(significant(0.0, 3), "0");
    }

    #[test]
    fn typed_numbers() {
        assert_eq!(parse_typed(" 1e3 "), Typed::Number(1000.0));
        assert_eq!(parse_typed(".5"), Typed::Number(0.5));
        assert_eq!(parse_typed("1,5"), Typed::Comma);
        assert_eq!(parse_typed(""), Typed::Empty);
        for odd in ["NaN", "inf", "-", "1.2.3", "e5", "twelve", "1 000", "0x10"] {
            assert_eq!(parse_typed(odd), Typed::Other, "{odd}");
        }
    }

    #[test]
    fn commas_for_decimals() {
        use crate::tongue::{Language, speak};
        speak(Language::Spanish);
        assert_eq!(fixed(1234.5, 1), "1234,5");
        assert_eq!(fixed(-1234567.0, 0), "-1.234.567");
        assert_eq!(shown(2.5), "2,5");
        for (typed, number) in [("2,5", 2.5), ("2.5", 2.5), ("-,5", -0.5), ("1e3", 1000.0)] {
            assert_eq!(parse_typed(typed), Typed::Number(number), "{typed}");
        }
        for ask in ["1.234", "1.234,5", "1,2,3", "1.2.3"] {
            assert_eq!(parse_typed(ask), Typed::Comma, "{ask}");
        }
        speak(Language::French);
        assert_eq!(fixed(10000.0, 0), "10\u{202f}000");
        speak(Language::English);
    }
}
