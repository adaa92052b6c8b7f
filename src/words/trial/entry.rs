//! What is said while records are entered, container by container.

use super::plan::measure_name;
use super::records::replaced_text;
use crate::recipe::number_text;
use crate::tongue::Saying;
use crate::trial::document::{MATTERS_LIMITS, NAME_LETTERS, OWN_MEASURES_LIMIT, TITLE_LETTERS};
use crate::trial::layout::Layout;
use crate::trial::measures::{OWN_LIMITS, OwnMeasure};
use crate::trial::plan::Trial;
use crate::trial::records::{Lost, Record};
use crate::words::keep::one_line;
use crate::words::{Typed, fixed, parse_typed, significant};

/// Where a container stands: which of the walk, which block.
pub fn step_text(layout: &Layout, container: usize, step: usize) -> String {
    let of = fixed(layout.spots.len() as f64, 0);
    let step = fixed(step as f64 + 1.0, 0);
    match layout.spots.get(container) {
        Some(spot) if layout.blocks > 1 => {
            say!("{} of {} on the walk, block {}", step, of, spot.block + 1)
        }
        _ => say!("{} of {} on the walk", step, of),
    }
}

/// A record as it stands in the list: the value, or why there is none.
pub fn record_text(records: &[&Record], unit: &str) -> String {
    let unit = if unit.is_empty() {
        String::new()
    } else {
        [" ", &one_line(unit)].concat()
    };
    let one = |record: &&Record| match (record.value, record.missing) {
        (Some(value), _) => {
            let sign = record.censor.sign();
            let space = if sign.is_empty() { "" } else { " " };
            [sign, space, &number_text(value)].concat()
        }
        (None, Some(missing)) => super::records::missing_name(missing).to_owned(),
        (None, None) => String::new(),
    };
    let has_value = records.iter().any(|record| record.value.is_some());
    let all: Vec<String> = records.iter().map(one).collect();
    let unit = if has_value { unit.as_str() } else { "" };
    [&all.join(", "), unit].concat()
}

/// What was just kept, for those who do not see it.
pub fn kept_text(layout: &Layout, container: usize, told: &str) -> String {
    let code = layout.code(container).unwrap_or_default();
    if told.is_empty() {
        say!("{}: taken out.", code)
    } else {
        say!("{}: {}, kept.", code, told)
    }
}

/// What was typed as a value. A keypad may have no point: one comma is a point, unless it could set
/// thousands apart.
pub fn typed_value(text: &str) -> Typed {
    let typed = parse_typed(text);
    if typed != Typed::Comma {
        return typed;
    }
    match text.trim().split_once(',') {
        Some((whole, part)) if part.len() != 3 && !part.contains([',', '.']) => {
            parse_typed(&[whole, ".", part].concat())
        }
        _ => typed,
    }
}

/// What is to be done with a table that was read.
pub fn take_text(records: usize) -> String {
    match records {
        0 => tr!("Take what the table has").into(),
        1 => tr!("Take this record").into(),
        many => say!("Take these {} records", fixed(many as f64, 0)),
    }
}

/// What became of it.
pub fn taken_text(records: usize, replaced: usize) -> String {
    let went = match records {
        1 => tr!("1 record went in.").to_owned(),
        many => fixed(many as f64, 0) + tr!(" records went in."),
    };
    let undo = match (records, replaced) {
        (_, 1..) => tr!(" Undo brings back what was."),
        (1, 0) => tr!(" Undo takes it out again."),
        (_, 0) => tr!(" Undo takes them out again."),
    };
    [&went, &replaced_text(replaced), undo].concat()
}

/// Faults that are not shown.
pub fn more_faults_text(more: usize) -> String {
    match more {
        0 => String::new(),
        more => say!(
            "And {} more of them. Nothing of the table is lost: what is left out stays in it.",
            fixed(more as f64, 0)
        ),
    }
}

/// A file that is no table of a trial.
pub fn table_too_large_text(bytes: f64, most: f64) -> String {
    say!(
        "This file holds {} MB; a table of a trial comes to {} MB at most. Nothing was changed.",
        significant(bytes / 1e6, 2),
        significant(most / 1e6, 2)
    )
}

/// A container that was lost, with what is known of it.
pub fn lost_text(layout: &Layout, lost: &Lost) -> String {
    let code = layout.code(lost.container).unwrap_or_default();
    let on = lost
        .on
        .map_or(String::new(), |on| [", ", &on.iso()].concat());
    let why = super::records::missing_name(lost.reason);
    let so = match lost.of_addition {
        None => "",
        Some(true) => tr!(". It died of what was added: a result."),
        Some(false) => tr!(". Not of what was added: a gap."),
    };
    format!("{code}: {why}{on}{so}")
}

/// No day is chosen.
pub const NO_DAY: Saying = said!("Choose the day on which this was measured.");

/// A container that has several sub-samples of the day.
pub fn several_text(count: usize) -> String {
    say!(
        "{} sub-samples of this container and day are kept; they count as their mean. Typing a value here puts one in their place.",
        fixed(count as f64, 0)
    )
}

/// A measure with how many containers have it, in the list to choose from.
pub fn measure_option(trial: &Trial, id: &str, count: usize) -> String {
    say!(
        "{} · {} read",
        measure_name(trial, id),
        fixed(count as f64, 0)
    )
}

/// Why a measure of the user's own cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OwnMeasureFault {
    /// It has no name.
    NoName,
    /// There is one of that name.
    Taken,
    /// Its name is too long.
    LongName {
        /// Most letters.
        most: usize,
    },
    /// Its unit is too long.
    LongUnit {
        /// Most letters.
        most: usize,
    },
    /// The difference that matters is not above nothing, or beyond what it can be.
    Matters,
    /// The least is not below the greatest.
    Limits,
    /// Something typed is no number.
    NotNumber,
    /// More than there can be.
    TooMany {
        /// Most.
        most: usize,
    },
}

/// Whether a measure of the user's own can go into a trial.
///
/// # Errors
/// What is wrong with it, so that nothing fails without a word.
pub fn check_own_measure(trial: &Trial, measure: &OwnMeasure) -> Result<(), OwnMeasureFault> {
    let letters = |text: &str| text.chars().count();
    let name = measure.name.as_deref().unwrap_or_default();
    if name.trim().is_empty() {
        return Err(OwnMeasureFault::NoName);
    }
    if letters(name) > TITLE_LETTERS {
        let most = TITLE_LETTERS;
        return Err(OwnMeasureFault::LongName { most });
    }
    if letters(&measure.unit) > NAME_LETTERS {
        let most = NAME_LETTERS;
        return Err(OwnMeasureFault::LongUnit { most });
    }
    let (low, high) = measure.limits;
    // Also refuses what is no number.
    if !(low < high && low >= OWN_LIMITS.0 && high <= OWN_LIMITS.1) {
        return Err(OwnMeasureFault::Limits);
    }
    let (least, most) = MATTERS_LIMITS;
    if measure
        .matters
        .is_some_and(|of| !(of >= least && of <= most))
    {
        return Err(OwnMeasureFault::Matters);
    }
    if trial.measure(&measure.id).is_some() {
        return Err(OwnMeasureFault::Taken);
    }
    let most = OWN_MEASURES_LIMIT;
    if trial.own_measures.len() >= most {
        return Err(OwnMeasureFault::TooMany { most });
    }
    Ok(())
}

/// The same in words.
pub fn own_measure_fault_text(fault: OwnMeasureFault) -> String {
    match fault {
        OwnMeasureFault::NoName => tr!("Say what the measure is called.").into(),
        OwnMeasureFault::Taken => tr!("There is a measure of that name already.").into(),
        OwnMeasureFault::LongName { most } => {
            say!(
                "The name has more than {} letters; a shorter one will do.",
                most
            )
        }
        OwnMeasureFault::LongUnit { most } => {
            say!(
                "The unit has more than {} letters; a shorter one will do.",
                most
            )
        }
        OwnMeasureFault::Matters => say!(
            "The difference that matters: {}",
            super::section::limits_text(MATTERS_LIMITS, "")
        ),
        OwnMeasureFault::Limits => tr!("The least value must be below the greatest.").into(),
        OwnMeasureFault::NotNumber => tr!("A limit is no number.").into(),
        OwnMeasureFault::TooMany { most } => {
            say!("A trial has at most {} measures of its own.", most)
        }
    }
}

/// A name in tables for what the user calls a measure: its letters and digits, joined by `_`.
pub fn id_of_name(name: &str) -> String {
    let mut id = String::new();
    for letter in name.chars() {
        if letter.is_ascii_alphanumeric() {
            id.push(letter.to_ascii_lowercase());
        } else if !id.is_empty() && !id.ends_with('_') {
            id.push('_');
        }
        if id.len() >= 36 {
            break;
        }
    }
    let id = id.trim_end_matches('_').to_owned();
    if id.is_empty() {
        tr!("measure").to_owned()
    } else {
        id
    }
}
