//! Decimal text to the nearest `f64`, ties to even.
//!
//! Own code for its size: `lexical-parse-float` and the standard library take 14 kB and more of the
//! page before compression. `tests/decimal.rs` checks it against the standard library.

#[cfg(not(all(feature = "page", target_arch = "wasm32")))]
mod long;
/// The browser reads what takes more code than is worth a download; it reads to the nearest too.
#[cfg(all(feature = "page", target_arch = "wasm32"))]
mod long {
    pub(super) fn size(text: &[u8]) -> f64 {
        crate::lent::number_of(std::str::from_utf8(text).unwrap_or_default())
    }
}

/// No exponent matters past this, and no text is that long.
const EXPONENT_LIMIT: i64 = 1_000_000_000_000;
/// So many digits and such a power of ten are exact, and so one operation rounds once.
const EXACT_DIGITS: i64 = 15;
const EXACT_POWER: i64 = 22;
/// The number of a text that JSON would call one, or of one with a plus or a bare point; not a
/// number where it is none. Too large gives infinity.
pub fn number_of_text(text: &str) -> f64 {
    let (negative, text) = sign(text.as_bytes());
    let size = size(text).unwrap_or(f64::NAN);
    if negative { -size } else { size }
}

fn sign(text: &[u8]) -> (bool, &[u8]) {
    match text.split_first() {
        Some((b'-', rest)) => (true, rest),
        Some((b'+', rest)) => (false, rest),
        _ => (false, text),
    }
}

/// The number of a text without sign.
fn size(text: &[u8]) -> Option<f64> {
    // The first digits, how many there are in all, and the power of ten of the last.
    let (mut whole, mut count, mut power) = (0_u64, 0, 0);
    let (mut any, mut point) = (false, false);
    for (index, byte) in text.iter().copied().enumerate() {
        match byte {
            b'0'..=b'9' => {
                any = true;
                count += i64::from(count > 0 || byte > b'0');
                if count <= EXACT_DIGITS {
                    whole = whole * 10 + u64::from(byte - b'0');
                }
                power -= i64::from(point);
            }
            b'.' if !point => point = true,
            b'e' | b'E' if any => {
                power += exponent_of(&text[index + 1..])?;
                break;
            }
            _ => return None,
        }
    }
    if count > EXACT_DIGITS || power.abs() > EXACT_POWER {
        return any.then(|| long::size(text));
    }
    let mut tens = 1.0;
    for _ in 0..power.abs() {
        tens *= 10.0;
    }
    let size = whole as f64;
    any.then_some(if power < 0 { size / tens } else { size * tens })
}

/// A whole number with a sign, held where it no longer matters.
pub(super) fn exponent_of(text: &[u8]) -> Option<i64> {
    let (negative, digits) = sign(text);
    let mut size = 0;
    for byte in digits {
        if !byte.is_ascii_digit() {
            return None;
        }
        if size < EXPONENT_LIMIT {
            size = size * 10 + i64::from(byte - b'0');
        }
    }
    let signed = if negative { -size } else { size };
    (!digits.is_empty()).then_some(signed)
}
