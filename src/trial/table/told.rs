//! What a cell of a number or a day can mean.

use super::{Decimals, Slashes};
use crate::recipe::number_of_text;
use crate::trial::date::{Date, whole};

/// A numeral by what its signs can mean.
pub(super) enum Numeral {
    /// It is none.
    None,
    /// It means one thing, and perhaps tells how decimals are written.
    Plain(f64, Option<Decimals>),
    /// A thousand, or three decimals after this sign: what it is as such.
    Either {
        sign: Decimals,
        decimal: f64,
        thousand: f64,
    },
}

pub(super) fn numeral(text: &str) -> Numeral {
    let plain = |byte: u8| matches!(byte, b'0'..=b'9' | b'.' | b',' | b'+' | b'-' | b'e' | b'E');
    if text.is_empty() || !text.bytes().all(plain) {
        return Numeral::None;
    }
    let count = |sign: char| text.matches(sign).count();
    let value = |text: &str| {
        let value = number_of_text(text);
        value.is_finite().then_some(value)
    };
    let found = match (count(','), count('.')) {
        (0, 0) => value(text).map(|value| Numeral::Plain(value, None)),
        (1, 0) | (0, 1) => {
            let sign = if text.contains(',') { ',' } else { '.' };
            let of = if sign == ',' {
                Decimals::Comma
            } else {
                Decimals::Point
            };
            let decimal = value(&text.replace(sign, "."));
            let (before, after) = text.split_once(sign).unwrap_or((text, ""));
            let before = before.trim_start_matches(['+', '-']);
            let could_be = after.len() == 3
                && after.bytes().all(|byte| byte.is_ascii_digit())
                && (1..=3).contains(&before.len())
                && !before.starts_with('0');
            match (decimal, value(&text.replace(sign, ""))) {
                (Some(decimal), Some(thousand)) if could_be => Some(Numeral::Either {
                    sign: of,
                    decimal,
                    thousand,
                }),
                (Some(decimal), _) => Some(Numeral::Plain(decimal, Some(of))),
                (None, _) => None,
            }
        }
        // Several of one sign are thousands; the other, once and after them, is the decimal.
        (commas, points) => {
            let last = text.rfind([',', '.']).unwrap_or_default();
            let sign_is_comma = text.get(last..=last) == Some(",");
            let (of, thousands) = match (commas, points) {
                (_, 0) => (Decimals::Point, ','),
                (0, _) => (Decimals::Comma, '.'),
                (1, _) if sign_is_comma => (Decimals::Comma, '.'),
                (_, 1) if !sign_is_comma => (Decimals::Point, ','),
                _ => return Numeral::None,
            };
            let decimal_sign = if of == Decimals::Comma { ',' } else { '.' };
            let whole = text.split(decimal_sign).next().unwrap_or_default();
            let mut groups = whole.trim_start_matches(['+', '-']).split(thousands);
            let first = groups
                .next()
                .is_some_and(|group| (1..=3).contains(&group.len()));
            if !first || groups.any(|group| group.len() != 3) {
                return Numeral::None;
            }
            let text = text.replace(thousands, "").replace(decimal_sign, ".");
            value(&text).map(|value| Numeral::Plain(value, Some(of)))
        }
    };
    found.unwrap_or(Numeral::None)
}

/// A number in front of which may stand what tells that the value lies beyond.
pub(super) fn after_sign(cell: &str) -> (&str, &str) {
    let rest = cell.trim_start_matches(['<', '>', '=', '≥', '≤']);
    let sign = cell.get(..cell.len() - rest.len()).unwrap_or_default();
    // A guarded sign is none.
    (sign, rest.trim())
}

/// A cell of a day.
pub(super) enum Day {
    None,
    Some(Date),
    /// Day and month could change places.
    Either([u32; 3]),
}

pub(super) fn day(cell: &str) -> Day {
    if let Some(date) = Date::of_iso(cell) {
        return Day::Some(date);
    }
    let three = |sign: char| -> Option<[u32; 3]> {
        let mut parts = cell.split(sign);
        let mut next = || whole(parts.next()?.trim());
        let three = [next()?, next()?, next()?];
        parts.next().is_none().then_some(three)
    };
    if let Some([day, month, year]) = three('.') {
        return Date::of(year, month, day).map_or(Day::None, Day::Some);
    }
    match three('/') {
        Some(three) => Day::Either(three),
        None => Day::None,
    }
}

pub(super) fn by(slashes: Slashes, [one, two, year]: [u32; 3]) -> Option<Date> {
    match slashes {
        Slashes::DayFirst => Date::of(year, two, one),
        Slashes::MonthFirst => Date::of(year, one, two),
    }
}
