//! Days of the calendar. Nothing here knows what day it is.

/// A day of the Gregorian calendar, as days since 1970-01-01.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(i32);

/// Years that a trial can be in (a choice: no slip of the finger passes it).
pub const YEARS: (u32, u32) = (1900, 2199);

const DAYS_IN: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/// Days in four centuries, which repeat.
const DAYS_IN_400_YEARS: i32 = 146_097;
/// From 0000-03-01 to 1970-01-01.
const DAYS_TO_1970: i32 = 719_468;

fn days_in(year: u32, month: u32) -> u32 {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let index = month.wrapping_sub(1) as usize;
    let days = DAYS_IN.get(index).copied().unwrap_or(0);
    if month == 2 && leap { days + 1 } else { days }
}

impl Date {
    /// 1970-01-01.
    pub const FIRST: Date = Date(0);

    /// A day, or none where the calendar has no such or its year is outside [`YEARS`].
    pub fn of(year: u32, month: u32, day: u32) -> Option<Date> {
        if !(YEARS.0..=YEARS.1).contains(&year) || day == 0 || day > days_in(year, month) {
            return None;
        }
        // Years that begin in March end with the leap day.
        let (year, month, day) = (year as i32, month as i32, day as i32);
        let year = if month <= 2 { year - 1 } else { year };
        let of_400 = year % 400;
        let month = (month + 9) % 12;
        let of_year = (153 * month + 2) / 5 + day - 1;
        let days = of_400 * 365 + of_400 / 4 - of_400 / 100 + of_year;
        Some(Date(year / 400 * DAYS_IN_400_YEARS + days - DAYS_TO_1970))
    }

    /// Year, month and day.
    pub fn parts(self) -> (u32, u32, u32) {
        let days = self.0 + DAYS_TO_1970;
        let era = days / DAYS_IN_400_YEARS;
        let of_era = days % DAYS_IN_400_YEARS;
        let of_400 = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * of_400 + of_400 / 4 - of_400 / 100);
        let month = (5 * of_year + 2) / 153;
        let day = of_year - (153 * month + 2) / 5 + 1;
        let month = if month < 10 { month + 3 } else { month - 9 };
        let year = of_400 + era * 400 + i32::from(month <= 2);
        (year as u32, month as u32, day as u32)
    }

    /// A day as the standard writes it, `2026-05-04`, or none.
    pub fn of_iso(text: &str) -> Option<Date> {
        let bytes = text.as_bytes();
        let shape = bytes.len() == 10 && bytes[4] == b'-' && bytes[7] == b'-';
        if !shape {
            return None;
        }
        let year = whole(text.get(..4)?)?;
        let month = whole(text.get(5..7)?)?;
        Date::of(year, month, whole(text.get(8..)?)?)
    }

    /// The day as the standard writes it.
    pub fn iso(self) -> String {
        let (year, month, day) = self.parts();
        format!("{year:04}-{month:02}-{day:02}")
    }

    /// Days since another.
    pub fn days_since(self, other: Date) -> i32 {
        self.0 - other.0
    }

    /// So many days later, or none past the years of a trial.
    pub fn later(self, days: i32) -> Option<Date> {
        let (first, last) = YEARS;
        let date = Date(self.0.checked_add(days)?);
        let within = Date::of(first, 1, 1)? <= date && date <= Date::of(last, 12, 31)?;
        within.then_some(date)
    }
}

/// A whole number in plain digits, at most nine.
pub(super) fn whole(text: &str) -> Option<u32> {
    let plain = !text.is_empty() && text.len() <= 9;
    if !plain || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    Some(
        text.bytes()
            .fold(0, |sum, byte| sum * 10 + u32::from(byte - b'0')),
    )
}
