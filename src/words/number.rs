//! Numbers as people read and type them.

/// A number with so many decimals, thousands set apart from 10,000 on. Minus zero is zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest,
        _ => &text,
    };
    let (whole, part) = text
        .split_once('.')
        .map_or((text, None), |(a, b)| (a, Some(b)));
    let mut out = String::new();
    let digits = whole.trim_start_matches('-').len();
    let sign = whole.len() - digits;
    for (index, letter) in whole.chars().enumerate() {
        let left = whole.len() - index;
        if digits > 4 && index > sign && left.is_multiple_of(3) {
            out.push(',');
        }
        out.push(letter);
    }
    if let Some(part) = part {
        out.push('.');
        out.push_str(part);
    }
    out
}

/// A number with so many significant digits, never in powers of ten.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return fixed(0.0, 0);
    }
    let mut magnitude = libm::floor(libm::log10(value.abs())) as i32;
    // 9.96 with two digits is 10, one place up.
    let step = libm::pow(10.0, f64::from(magnitude - digits as i32 + 1));
    let rounded = (value / step).round() * step;
    magnitude = magnitude.max(libm::floor(libm::log10(rounded.abs()) + 1e-12) as i32);
    let decimals = (digits as i32 - 1 - magnitude).clamp(0, 12);
    fixed(rounded, decimals as usize)
}

/// What was typed into a number box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Typed {
    /// A number.
    Number(f64),
    /// Nothing.
    Empty,
    /// A number with a comma, where a point is meant or thousands are set apart: ask.
    Comma,
    /// Not a number.
    Other,
}

/// Reads a number as typed: digits with a point, a sign and an exponent; nothing else.
pub fn parse_typed(text: &str) -> Typed {
    let text = text.trim();
    if text.is_empty() {
        return Typed::Empty;
    }
    let is_digit = |b: u8| b.is_ascii_digit();
    if text.contains(',') && text.bytes().all(|b| is_digit(b) || b == b',' || b == b'.') {
        return Typed::Comma;
    }
    let plain = text.bytes().all(|b| is_digit(b) || b"+-.eE".contains(&b));
    match text.parse::<f64>() {
        Ok(value) if plain && text.bytes().any(is_digit) => Typed::Number(value),
        _ => Typed::Other,
    }
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
}
