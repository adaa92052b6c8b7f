//! What Record says beside its boxes and its list.

use crate::tongue::Saying;
use crate::trial::date::Date;
use crate::trial::measures::{Measure, least_difference};
use crate::words::date::date_text;
use crate::words::{Typed, bound, fixed, round_significant, significant};

/// Labels beside those of [`super::labels`].
pub(in crate::words) const LABELS: &[(&str, &str)] = &[
    ("record_way", "Read with"),
    ("record_error", "One reading errs by ±"),
];

/// A way to read pH by name.
pub fn way_name(id: &str) -> &str {
    match id {
        "" => tr!("not said"),
        "meter" => tr!("a meter set that day"),
        "strip" => tr!("a test strip"),
        "dye_kit" => tr!("a kit of dyes"),
        "poor_dye_kit" => tr!("an old kit of dyes"),
        other => other,
    }
}

/// What two single readings can tell apart, by the standard error of one.
pub fn kit_text(error: Option<f64>, unit: &str) -> String {
    let Some(error) = error.filter(|error| *error > 0.0) else {
        return String::new();
    };
    let space = if unit.is_empty() { "" } else { " " };
    say!(
        "Two single readings of it that lie less than {}{}{} apart may be of the same soil.",
        significant(least_difference(error), 2),
        space,
        unit
    )
}

/// What was typed and could not be kept is gone.
pub const TAKEN_BACK: Saying = said!("What was typed is taken back.");

/// A value of a lost container says that it is there.
pub const NOT_LOST: Saying = said!("It no longer counts as lost.");

/// How far a measure of a day has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Filled {
    /// Containers with a value.
    pub read: usize,
    /// With a reason in its place.
    pub reasons: usize,
    /// Lost ones.
    pub lost: usize,
    /// All of them.
    pub of: usize,
}

/// How many containers are measured on a day; where none is, on which day the last ones were.
pub fn filled_text(filled: &Filled, on: Option<Date>, last: Option<Date>) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    let left = filled
        .of
        .saturating_sub(filled.read + filled.reasons + filled.lost);
    let day = on.map_or(String::new(), |on| [&date_text(on), ": "].concat());
    let mut text = say!(
        "{}{} of {} measured",
        day,
        whole(filled.read),
        whole(filled.of)
    );
    if filled.reasons > 0 {
        text += &say!(", {} with a reason why not", whole(filled.reasons));
    }
    if filled.lost > 0 {
        text += &say_many!(
            filled.lost as f64,
            ", {} lost",
            ", {} lost",
            whole(filled.lost)
        );
    }
    text += &match left {
        0 => tr!(". Nothing is left to measure.").to_owned(),
        left => say!(", {} not measured yet.", whole(left)),
    };
    let elsewhere = last.filter(|last| filled.read == 0 && Some(*last) != on);
    if let Some(last) = elsewhere {
        text += &say!(
            " What was measured before is kept, the last on {}.",
            date_text(last)
        );
    }
    text
}

/// A container counts as lost from now on, and what was taken out by it.
pub fn lost_told(code: &str, taken: usize) -> String {
    match taken {
        0 => say!("{} counts as lost.", code),
        1 => say!(
            "{} counts as lost; its value is taken out. Undo brings it back.",
            code
        ),
        many => say!(
            "{} counts as lost; {} values of it are taken out. Undo brings them back.",
            code,
            fixed(many as f64, 0)
        ),
    }
}

/// Limits as a sentence begins with them; the least as it is, or none where it only means more than
/// nothing.
pub fn between_text(low: f64, high: f64, unit: &str) -> String {
    /// Below this a limit says only that it must be something.
    const NOTHING: f64 = 1e-5;
    let number = |value: f64| bound(round_significant(value, 3));
    let space = if unit.is_empty() { "" } else { " " };
    let most = [number(high).as_str(), space, unit].concat();
    if low > 0.0 && low < NOTHING {
        say!("More than 0, at most {}", most)
    } else {
        say!("From {} to {}", number(low), most)
    }
}

/// What a value can be.
pub fn limits_text(measure: &Measure) -> String {
    let (low, high) = measure.limits;
    let between = between_text(low, high, measure.unit);
    if measure.whole {
        say!("{}, a whole number.", between)
    } else {
        between + "."
    }
}

/// Why what was typed cannot be used. A single comma is read as a point, unless it could set
/// thousands apart.
pub fn typed_text(typed: Typed, low: f64, high: f64, unit: &str) -> String {
    let limits = between_text(low, high, unit);
    match typed {
        Typed::Comma => {
            tr!("A thousand, or decimals? Write it as 1234 or as 1.234, without a comma.").into()
        }
        Typed::Empty => say!("A number is needed here. {}.", limits),
        Typed::Other => say!("This is not a number. {}.", limits),
        Typed::Number(_) => say!("This is outside its limits. {}.", limits),
    }
}
