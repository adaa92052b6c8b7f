//! A number as the shortest text that reads back as the same number.
//!
//! In the page the browser finds the digits. Elsewhere own code tries one digit more after the other
//! until the exact reader gives the number back, which is slow for sixteen digits and quick for what
//! people type. `tests/decimal.rs` and `tests/lent_decimals.rs` check both against the standard
//! library.

/// Exponents up to which a number is written without one.
const PLAIN: std::ops::RangeInclusive<i32> = -5..=15;

/// The shortest text that reads back as the same number.
#[inline(never)]
pub fn number_text(value: f64) -> String {
    if value == 0.0 {
        return if value.is_sign_negative() { "-0" } else { "0" }.into();
    }
    if !value.is_finite() {
        return if value.is_nan() {
            "NaN"
        } else if value > 0.0 {
            "inf"
        } else {
            "-inf"
        }
        .into();
    }
    let (digits, exponent) = shortest(value.abs());
    let mut out = String::with_capacity(24);
    if value < 0.0 {
        out.push('-');
    }
    let plain = PLAIN.contains(&exponent);
    if plain && exponent < 0 {
        out += "0.";
        push_zeros(&mut out, -exponent - 1);
        out += &digits;
        return out;
    }
    let whole = if plain { exponent as usize + 1 } else { 1 };
    for (place, digit) in digits.bytes().enumerate() {
        if place == whole {
            out.push('.');
        }
        out.push(char::from(digit));
    }
    push_zeros(&mut out, whole as i32 - digits.len() as i32);
    if !plain {
        out.push('e');
        if exponent < 0 {
            out.push('-');
        }
        out += &whole_text(u64::from(exponent.unsigned_abs()));
    }
    out
}

/// A whole number in digits.
pub(crate) fn whole_text(mut value: u64) -> String {
    let mut digits = Vec::new();
    loop {
        digits.push(b'0' + (value % 10) as u8);
        value /= 10;
        if value == 0 {
            break;
        }
    }
    digits.reverse();
    String::from_utf8(digits).unwrap_or_default()
}

fn push_zeros(out: &mut String, count: i32) {
    for _ in 0..count {
        out.push('0');
    }
}

/// The digits, and the power of ten of the first: the browser knows them.
#[cfg(all(feature = "page", target_arch = "wasm32"))]
fn shortest(value: f64) -> (String, i32) {
    let text = crate::lent::text_of(value);
    let (mut digits, mut exponent, mut point) = (String::new(), -1, false);
    let bytes = text.as_bytes();
    for (index, byte) in bytes.iter().copied().enumerate() {
        match byte {
            b'0'..=b'9' => {
                if byte > b'0' || !digits.is_empty() {
                    digits.push(char::from(byte));
                    exponent += i32::from(!point);
                } else {
                    exponent -= i32::from(point);
                }
            }
            b'.' => point = true,
            _ => {
                exponent +=
                    super::decimal::exponent_of(&bytes[index + 1..]).unwrap_or_default() as i32;
                break;
            }
        }
    }
    while digits.ends_with('0') {
        digits.pop();
    }
    (digits, exponent)
}

#[cfg(not(all(feature = "page", target_arch = "wasm32")))]
use search::shortest;

#[cfg(not(all(feature = "page", target_arch = "wasm32")))]
mod search {
    use super::super::number_of_text;
    use super::whole_text;

    /// Digits that always suffice.
    const DIGITS: i32 = 17;

    /// The digits, and the power of ten of the first.
    #[inline(never)]
    pub(super) fn shortest(value: f64) -> (String, i32) {
        let mut exponent = 0;
        while exponent < 308 && scaled(value, -exponent) >= 10.0 {
            exponent += 1;
        }
        while scaled(value, -exponent) < 1.0 {
            exponent -= 1;
        }
        for digits in 1..DIGITS {
            let reach = if digits < 16 { 1 } else { 20 };
            if let Some(found) = with_digits(value, digits, exponent, reach) {
                return found;
            }
        }
        // Doubles stand further apart than what scaling may have missed.
        with_digits(value, DIGITS, exponent, 60).unwrap_or_default()
    }

    /// A number times a power of ten, good to a few roundings.
    #[inline(never)]
    fn scaled(value: f64, power: i32) -> f64 {
        let (mut value, mut left) = (value, power);
        while left != 0 {
            let step = left.clamp(-22, 22);
            let mut ten = 1.0;
            for _ in 0..step.abs() {
                ten *= 10.0;
            }
            value = if step > 0 { value * ten } else { value / ten };
            left -= step;
        }
        value
    }

    /// So many digits that read back as the value: of those within reach the middle one, which lies
    /// nearest.
    #[inline(never)]
    fn with_digits(value: f64, digits: i32, exponent: i32, reach: u64) -> Option<(String, i32)> {
        let power = exponent + 1 - digits;
        let middle = scaled(value, -power).round() as u64;
        let mut found: Option<[u64; 2]> = None;
        for candidate in middle.saturating_sub(reach)..=middle + reach {
            let minus = if power < 0 { "e-" } else { "e" };
            let power = whole_text(u64::from(power.unsigned_abs()));
            let text = [&whole_text(candidate), minus, &power].concat();
            if number_of_text(&text) == value {
                found = Some([found.map_or(candidate, |[first, _]| first), candidate]);
            }
        }
        let [first, last] = found?;
        let mut text = whole_text(u64::midpoint(first, last));
        let exponent = power + text.len() as i32 - 1;
        while text.len() > 1 && text.ends_with('0') {
            text.pop();
        }
        Some((text, exponent))
    }
}
