//! Faults of records and tables as sentences, with row and column.

use crate::recipe::quoted;
use crate::tongue::Saying;
use crate::trial::plan::DayAdvice;
use crate::trial::records::{Censor, Missing, RecordFault, RecordText};
use crate::trial::table::{Read, Slashes, TableFault, Wrong};
use crate::words::date::date_text;
use crate::words::{bound, fixed};

/// Why a value is missing, as a choice.
pub fn missing_name(missing: Missing) -> &'static str {
    match missing {
        Missing::Lost => tr!("lost or tipped over"),
        Missing::NotMeasured => tr!("not measured"),
        Missing::Animal => tr!("an animal had it"),
        Missing::Died => tr!("the plants died"),
        Missing::Other => tr!("another reason"),
    }
}

/// Whether a value lies beyond, as a choice.
pub fn censor_name(censor: Censor) -> &'static str {
    match censor {
        Censor::None => tr!("as read"),
        Censor::Above => tr!("more than"),
        Censor::Below => tr!("less than"),
    }
}

/// What a class of a score means: of vigour, of crumbs in water (Herrick and others, Catena 44:27-35)
/// and of their milky halo; none where there is no such class.
pub fn class_text(measure: &str, class: u32) -> Option<&'static str> {
    let texts: &[&'static str] = match measure {
        "vigour_1to5" => &[
            "",
            tr!("dying"),
            tr!("clearly poor"),
            tr!("ordinary"),
            tr!("good"),
            tr!("outstanding"),
        ],
        "slake_0to6" => &[
            tr!("too loose to sample"),
            tr!("half the shape lost within 5 seconds"),
            tr!("half lost in 5 to 30 seconds"),
            tr!("half lost in 30 seconds to 5 minutes, or less than 10 % left after 5 dips"),
            tr!("10 to 25 % left after 5 dips"),
            tr!("25 to 75 % left"),
            tr!("75 to 100 % left"),
        ],
        "halo_0to4" => &[
            tr!("clear after 2 hours"),
            tr!("a trace of milk"),
            tr!("a thin halo"),
            tr!("a wide halo"),
            tr!("milky throughout"),
        ],
        _ => return None,
    };
    let text = texts.get(class as usize).copied();
    text.filter(|text| !text.is_empty())
}

/// What is odd about a day. It is told and not refused: soil is read before sowing, too.
pub fn day_advice_text(advice: DayAdvice) -> String {
    match advice {
        DayAdvice::BeforeSowing { days } => say_many!(
            f64::from(days),
            "This is {} day before the day of sowing.",
            "This is {} days before the day of sowing.",
            fixed(f64::from(days), 0)
        ),
        DayAdvice::LongAfter { days } => say_many!(
            f64::from(days),
            "This is {} day after the day of sowing: is the year right?",
            "This is {} days after the day of sowing: is the year right?",
            fixed(f64::from(days), 0)
        ),
        DayAdvice::ToCome => tr!("This day is still to come.").into(),
        DayAdvice::SownAfter { first } => say!(
            "The first record is of {}, before this day of sowing.",
            date_text(first)
        ),
    }
}

/// What is asked of a container that was lost.
pub const LOST_QUESTION: Saying =
    said!("Did it die of what was added? Then that is a result of the trial, not a gap in it.");

/// A number as it stands.
fn told(value: f64) -> String {
    if value.is_finite() {
        bound(value)
    } else {
        tr!("no number").into()
    }
}

/// What is wrong with a record.
pub fn record_fault_text(fault: &RecordFault) -> String {
    match fault {
        RecordFault::Container { containers, .. } => {
            say!("there is no such container; there are {}", containers)
        }
        RecordFault::Measure { found } => say!("nobody knows the measure {}", quoted(found)),
        RecordFault::Outside { value, low, high } => say!(
            "{} is outside of what it can be, {} to {}",
            told(*value),
            bound(*low),
            bound(*high)
        ),
        RecordFault::NotWhole { value } => {
            say!("{} is not whole, and this is a count", told(*value))
        }
        RecordFault::MoreThanSown { value, seeds } => {
            say!("{} came up of {} that were sown", told(*value), seeds)
        }
        RecordFault::Empty => tr!("there is neither a value nor a reason why there is none").into(),
        RecordFault::ValueAndReason => {
            tr!("there is a value and a reason why there is none").into()
        }
        RecordFault::CensorAlone => tr!("there is no value for it to lie beyond").into(),
        RecordFault::Reps { most, .. } => {
            say!("a reading averages from 1 to {} sub-samples", most)
        }
        RecordFault::Error { value } => say!("{} is no error of a reading", told(*value)),
        RecordFault::TooLong { which, most } => {
            let what = match which {
                RecordText::Instrument => tr!("the instrument"),
                RecordText::Scorer => tr!("the scorer"),
                RecordText::Note => tr!("the note"),
            };
            say!("{} has more than {} letters", what, most)
        }
        RecordFault::Lost { on } => say!(
            "this container was lost on {}; say first that it is not lost, or mend the day",
            date_text(*on)
        ),
        RecordFault::TooMany { most } => {
            say!("a trial holds at most {} records", fixed(*most as f64, 0))
        }
    }
}

/// Why so many seeds cannot have been sown.
pub fn seeds_fault_text(fault: &RecordFault) -> String {
    say!(
        "By the records, {}: mend one of both.",
        record_fault_text(fault)
    )
}

/// What is wrong with a table, with its place as a spreadsheet counts.
pub fn table_fault_text(fault: &TableFault) -> String {
    let cell = quoted(&fault.cell);
    let other = |row: &Option<usize>| match row {
        Some(row) => say!("row {}", row),
        None => tr!("the trial").to_owned(),
    };
    let wrong = match &fault.wrong {
        Wrong::NotUtf8 => tr!("it is not UTF-8; read as Western European").into(),
        Wrong::Nothing => return tr!("Nothing is pasted, or the file is empty.").into(),
        Wrong::NoColumns { missing, found } => {
            let found: Vec<String> = found.iter().map(|name| quoted(name)).collect();
            return say_many!(
                missing.len() as f64,
                "The first row must name the columns unit_id, date, measure and value, in any order; others may stand beside them. {} is not there. Found: {}.",
                "The first row must name the columns unit_id, date, measure and value, in any order; others may stand beside them. {} are not there. Found: {}.",
                missing.join(", "),
                if found.is_empty() {
                    tr!("nothing").into()
                } else {
                    found.join(", ")
                }
            );
        }
        Wrong::BothOrders { row } => say!(
            "{} can only be read the other way round than row {}: this column has days that begin with the day and days that begin with the month. What can be one day only is read as that",
            cell,
            row
        ),
        Wrong::OtherOrder { expected } => {
            let order = match expected {
                Slashes::DayFirst => tr!("the day"),
                Slashes::MonthFirst => tr!("the month"),
            };
            say!(
                "{} is no day that begins with {}, as the others do",
                cell,
                order
            )
        }
        Wrong::ColumnTwice => tr!("this column stands twice; the first one counts").into(),
        Wrong::UnknownColumn => tr!("nobody knows this column; it is left out").into(),
        Wrong::TooManyColumns { most } => say!("only the first {} columns are read", most),
        Wrong::OpenQuote => {
            tr!("a quotation mark is never closed; the row was read as it stands").into()
        }
        Wrong::ExtraCells => say!("{} stands beyond the last column; it is left out", cell),
        Wrong::OtherTrial { expected } => {
            say!(
                "{} is another trial; this one is {}",
                cell,
                quoted(expected)
            )
        }
        Wrong::UnknownContainer => say!("no container of this trial is called {}", cell),
        Wrong::NotDate => {
            say!("{} is no day; write 2026-05-04 or 4.5.2026", cell)
        }
        Wrong::AmbiguousDate => say!(
            "{} could be day and month or month and day; say which, or write 2026-05-04",
            cell
        ),
        Wrong::NoDate => tr!("there is no day").into(),
        Wrong::NotNumber => say!("{} is no number", cell),
        Wrong::AmbiguousNumber => say!(
            "{} could be a thousand or have three decimals; say which, or write it with a point and without thousands",
            cell
        ),
        Wrong::BothSigns { row } => say!(
            "{} could be a thousand or have three decimals, for row {} has the other sign, and points and commas stand in one column; say which, or write all with a point and without thousands",
            cell,
            row
        ),
        Wrong::OtherUnit { expected } if expected.is_empty() => {
            say!("{}: this measure has no unit", cell)
        }
        Wrong::OtherUnit { expected } => {
            say!(
                "{} is another unit; this measure is in {}",
                cell,
                quoted(expected)
            )
        }
        Wrong::NotCensor => say!("{}: only > or < can stand here, or nothing", cell),
        Wrong::NotReason => {
            let all: Vec<&str> = Missing::ALL.iter().map(|of| of.spelling()).collect();
            say!("{} is none of the reasons {}", cell, all.join(", "))
        }
        Wrong::NotWhole => say!("{} is no whole number", cell),
        Wrong::Record(fault) => record_fault_text(fault),
        Wrong::Duplicate { row } => {
            say!("the very same stands in {}; it counts once", other(row))
        }
        Wrong::SubSample { row } => say!(
            "row {} has another value of this container, day and measure; they are averaged",
            row
        ),
        Wrong::Replaces { values: 1 } => {
            tr!("the trial has another value of this container, day and measure; it is replaced")
                .into()
        }
        Wrong::Replaces { values } => say!(
            "the trial has {} other values of this container, day and measure; they are replaced",
            fixed(*values as f64, 0)
        ),
        Wrong::TooManyRows { most } => say!(
            "only {} rows are read; this and all below are left out",
            fixed(*most as f64, 0)
        ),
    };
    say!("{}: {}.", place(fault), wrong)
}

/// Row and column in words.
fn place(fault: &TableFault) -> String {
    let row = match fault.row {
        0 => tr!("The table").to_owned(),
        row => say!("Row {}", row),
    };
    match (fault.column, fault.name.is_empty()) {
        (None, true) => row,
        (None, false) => say!("{}, column {}", row, quoted(&fault.name)),
        (Some(column), true) => say!("{}, column {}", row, letters(column)),
        (Some(column), false) => {
            say!(
                "{}, column {} ({})",
                row,
                letters(column),
                quoted(&fault.name)
            )
        }
    }
}

/// A column's letters, as spreadsheets have them.
fn letters(mut column: usize) -> String {
    let mut out = Vec::new();
    while column > 0 {
        column -= 1;
        out.push(b'A' + (column % 26) as u8);
        column /= 26;
    }
    out.reverse();
    String::from_utf8(out).unwrap_or_default()
}

/// Faults of a table that are listed; how many there are is told.
pub const FAULTS_LISTED: usize = 100;

/// How many values of the trial give way, as a sentence to follow another; nothing where none does.
pub fn replaced_text(replaced: usize) -> String {
    match replaced {
        0 => String::new(),
        1 => tr!(" 1 value that the trial had is replaced.").into(),
        many => say!(
            " {} values that the trial had are replaced.",
            fixed(many as f64, 0)
        ),
    }
}

/// What a table came to, in few sentences.
pub fn table_text(read: &Read) -> String {
    match (read.records.len(), read.replaced.len()) {
        // Rows that the trial has already, of more that it has.
        (0, 1..) => replaced_text(read.replaced.len()).trim().to_owned(),
        (_, replaced) => records_text(read) + &replaced_text(replaced),
    }
}

/// How many records there are, and how many rows are left out.
fn records_text(read: &Read) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    let grave = read.faults.iter().filter(|fault| !fault.wrong.is_notice());
    let told = match grave.count() {
        all if read.faults.len() > FAULTS_LISTED => say!(
            "with {} faults; the first {} of all that is to be said are told below",
            whole(all),
            whole(FAULTS_LISTED)
        ),
        _ => tr!("told below").into(),
    };
    let left = read
        .faults
        .iter()
        .filter(|fault| !fault.wrong.is_notice() && fault.row > 0)
        .map(|fault| fault.row);
    let mut rows: Vec<usize> = left.collect();
    rows.dedup();
    let records = whole(read.records.len());
    match (read.records.len(), rows.len()) {
        (_, 0) if read.faults.iter().any(|fault| !fault.wrong.is_notice()) => {
            tr!("Nothing could be read.").into()
        }
        (1, 0) => tr!("1 record is read.").into(),
        (_, 0) => say!("{} records are read.", records),
        (1, 1) => say!("1 record is read; 1 row is left out, {}.", told),
        (_, 1) => say!("{} records are read; 1 row is left out, {}.", records, told),
        (1, left) => say!(
            "1 record is read; {} rows are left out, {}.",
            whole(left),
            told
        ),
        (_, left) => say!(
            "{} records are read; {} rows are left out, {}.",
            records,
            whole(left),
            told
        ),
    }
}
