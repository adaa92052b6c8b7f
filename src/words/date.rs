//! Days of the calendar as they are told. Tables keep the standard's way, [`Date::iso`].

use std::cell::RefCell;

use crate::tongue::{Language, fill, spoken, tr};
use crate::trial::date::Date;

thread_local! {
    static LENT: RefCell<Option<[String; 12]>> = const { RefCell::new(None) };
}

/// From now on days are told by these patterns, one for each month with the day as `{0}` and the
/// year as `{1}`; by none as the language has it.
pub fn set_dates(months: Option<[String; 12]>) {
    LENT.set(months);
}

/// The patterns where nobody lends others.
const MONTHS: [&str; 12] = [
    mark!("{0} January {1}"),
    mark!("{0} February {1}"),
    mark!("{0} March {1}"),
    mark!("{0} April {1}"),
    mark!("{0} May {1}"),
    mark!("{0} June {1}"),
    mark!("{0} July {1}"),
    mark!("{0} August {1}"),
    mark!("{0} September {1}"),
    mark!("{0} October {1}"),
    mark!("{0} November {1}"),
    mark!("{0} December {1}"),
];

/// A day as it is told: in English, while no patterns are lent, as the standard writes it.
pub fn date_text(date: Date) -> String {
    let (year, month, day) = date.parts();
    let of_month = month.wrapping_sub(1) as usize;
    let lent = LENT.with_borrow(|lent| {
        let pattern = lent.as_ref()?.get(of_month)?;
        Some(fill(pattern, &[&day, &year]))
    });
    if let Some(lent) = lent {
        return lent;
    }
    match MONTHS.get(of_month) {
        Some(pattern) if spoken() != Language::English => {
            let first = tr!("1##of a month");
            let told: &dyn std::fmt::Display = if day == 1 { &first } else { &day };
            fill(tr(pattern), &[told, &year])
        }
        _ => date.iso(),
    }
}
