//! Records as comma-separated values, out and in: one row for each container, day and measure.
//!
//! Reading takes what people's spreadsheets make of it: another order of columns, semicolons or tabs,
//! decimal commas, other dates. Whatever is wrong is told by row and column as a spreadsheet counts
//! them, and every row that is right comes back beside the faults. What could mean two things (5/4,
//! 1,234) is decided by the rest of the column, else asked, never guessed.
//!
//! Own code and not the crate `csv`, which the tests read the same tables with: a quote that is never
//! closed must cost its own row and not the rest of the table, and rows count as in a spreadsheet.

mod cells;
mod reader;
mod told;
mod write;

use super::layout::Layout;
use super::plan::Trial;
use super::records::{RECORDS_LIMIT, Record, RecordFault};
use cells::{Rows, separator_of, text_of, without_sep_line};
use reader::Reader;
use std::collections::BTreeMap;
pub use write::{CONTAINER_COLUMNS, container_table, table};

/// The head of the table.
pub const COLUMNS: [&str; 14] = [
    "trial_id",
    "unit_id",
    "date",
    "day",
    "measure",
    "value",
    "unit",
    "censor",
    "reps",
    "instrument",
    "u",
    "scorer",
    "missing_reason",
    "note",
];

/// A column that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// The trial.
    Trial,
    /// The container's code.
    Unit,
    /// The day.
    Date,
    /// Days from sowing; for people, unless there is no date.
    Day,
    /// The measure.
    Measure,
    /// The value.
    Value,
    /// Its unit.
    UnitOf,
    /// Whether it lies beyond.
    Censor,
    /// Sub-samples.
    Reps,
    /// With what.
    Instrument,
    /// Its standard error.
    Error,
    /// By whom.
    Scorer,
    /// Why there is none.
    Missing,
    /// What else.
    Note,
}

impl Column {
    /// All of them, in the order of [`COLUMNS`].
    pub const ALL: [Column; COLUMNS.len()] = [
        Column::Trial,
        Column::Unit,
        Column::Date,
        Column::Day,
        Column::Measure,
        Column::Value,
        Column::UnitOf,
        Column::Censor,
        Column::Reps,
        Column::Instrument,
        Column::Error,
        Column::Scorer,
        Column::Missing,
        Column::Note,
    ];

    /// Its name in the head.
    pub fn name(self) -> &'static str {
        COLUMNS[self as usize]
    }
}

/// Columns without which there is no record.
const NEEDED: [Column; 4] = [Column::Unit, Column::Date, Column::Measure, Column::Value];
/// Most letters of a cell in quotes: more is a quote that was never closed.
const QUOTED_LIMIT: usize = 10_000;
/// Letters of a cell that a fault shows.
const SHOWN: usize = 60;
/// Names of columns that a fault shows.
const HEADS_SHOWN: usize = 14;

/// What people call the columns that must be there, and some others.
const ALSO: [(&str, Column); 26] = [
    ("container", Column::Unit),
    ("container_id", Column::Unit),
    ("code", Column::Unit),
    ("label", Column::Unit),
    ("pot", Column::Unit),
    ("plot", Column::Unit),
    ("when", Column::Date),
    ("date_measured", Column::Date),
    ("what", Column::Measure),
    ("measured", Column::Measure),
    ("variable", Column::Measure),
    ("trait", Column::Measure),
    ("reading", Column::Value),
    ("result", Column::Value),
    ("trial", Column::Trial),
    ("days", Column::Day),
    ("units", Column::UnitOf),
    ("censored", Column::Censor),
    ("censoring", Column::Censor),
    ("error", Column::Error),
    ("by", Column::Scorer),
    ("who", Column::Scorer),
    ("reason", Column::Missing),
    ("missing", Column::Missing),
    ("notes", Column::Note),
    ("comment", Column::Note),
];
/// Most columns of a table.
const COLUMNS_LIMIT: usize = 200;

/// What separates cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl Separator {
    fn byte(self) -> u8 {
        match self {
            Separator::Comma => b',',
            Separator::Semicolon => b';',
            Separator::Tab => b'\t',
        }
    }
}

/// How a day with strokes is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slashes {
    /// Day, month, year.
    DayFirst,
    /// Month, day, year.
    MonthFirst,
}

/// What stands before the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decimals {
    /// A point.
    Point,
    /// A comma.
    Comma,
}

/// What the user has said of a table that could mean two things.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// Of days with strokes.
    pub slashes: Option<Slashes>,
    /// Of decimals.
    pub decimals: Option<Decimals>,
}

/// What is wrong with a cell, a row or the table.
#[derive(Clone, Debug, PartialEq)]
pub enum Wrong {
    /// The bytes are no UTF-8; they were read as Western European.
    NotUtf8,
    /// Nothing is there.
    Nothing,
    /// Columns that must be there are not.
    NoColumns {
        /// Their names.
        missing: Vec<&'static str>,
        /// What the head has.
        found: Vec<String>,
    },
    /// A day with strokes that can be read one way alone, and another row that can be read the other
    /// way alone: the column has both orders.
    BothOrders {
        /// The other row.
        row: usize,
    },
    /// A day with strokes that cannot be read in the order of the others.
    OtherOrder {
        /// The order of the others.
        expected: Slashes,
    },
    /// A column stands twice; the first counts.
    ColumnTwice,
    /// A column that nobody knows; it is left out.
    UnknownColumn,
    /// More columns than are read.
    TooManyColumns {
        /// Most.
        most: usize,
    },
    /// A quote that is never closed.
    OpenQuote,
    /// More cells than the head.
    ExtraCells,
    /// Another trial.
    OtherTrial {
        /// This one.
        expected: String,
    },
    /// No container has this code.
    UnknownContainer,
    /// Not a day.
    NotDate,
    /// Day or month first? Nothing in the column tells.
    AmbiguousDate,
    /// No day at all.
    NoDate,
    /// Not a number.
    NotNumber,
    /// A decimal or a thousand? Nothing in the table tells.
    AmbiguousNumber,
    /// The same, where another row has the other sign, and nothing tells which stands before decimals.
    BothSigns {
        /// The first of those.
        row: usize,
    },
    /// A unit other than the measure's.
    OtherUnit {
        /// The measure's.
        expected: String,
    },
    /// A sign that is none of those that tell a value lies beyond.
    NotCensor,
    /// A reason that is none of those known.
    NotReason,
    /// Not a whole number.
    NotWhole,
    /// The record cannot be.
    Record(RecordFault),
    /// The very same row stands in another row, or in the trial already where that is none; it counts
    /// once.
    Duplicate {
        /// The other row.
        row: Option<usize>,
    },
    /// Another row has a value of the same container, day and measure: both count, as sub-samples.
    SubSample {
        /// The other row.
        row: usize,
    },
    /// What the trial has of that container, day and measure gives way to what the table has.
    Replaces {
        /// How many values give way.
        values: usize,
    },
    /// The rest of the table was not read.
    TooManyRows {
        /// Most.
        most: usize,
    },
}

impl Wrong {
    /// Whether the row was taken all the same.
    pub fn is_notice(&self) -> bool {
        matches!(
            self,
            Wrong::NotUtf8
                | Wrong::BothOrders { .. }
                | Wrong::UnknownColumn
                | Wrong::ColumnTwice
                | Wrong::TooManyColumns { .. }
                | Wrong::SubSample { .. }
                | Wrong::Replaces { .. }
                | Wrong::OpenQuote
                | Wrong::ExtraCells
        )
    }
}

/// A fault with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct TableFault {
    /// The row as a spreadsheet counts: the head is 1. 0 is the whole table.
    pub row: usize,
    /// The column as a spreadsheet counts, from 1, where it is one column's.
    pub column: Option<usize>,
    /// Its name as the head has it, or as it should.
    pub name: String,
    /// What stands there.
    pub cell: String,
    /// What is wrong.
    pub wrong: Wrong,
}

/// What a table came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// The records of all rows that are right, in the order of the rows, each with its row.
    pub records: Vec<(usize, Record)>,
    /// Records of the trial that give way to them.
    pub replaced: Vec<Record>,
    /// What was wrong, by rows.
    pub faults: Vec<TableFault>,
    /// What separated the cells.
    pub separator: Separator,
    /// Rows that held something, without the head.
    pub rows: usize,
}

impl Trial {
    /// Takes the records of a table that was read; how many went in. What they replace gives them its
    /// place, so that a mended value stands where it stood.
    pub fn take(&mut self, read: &Read) -> usize {
        let key = |record: &Record| (record.container, record.date, record.measure.clone());
        let mut waiting = BTreeMap::new();
        let mut new: Vec<Option<&Record>> = Vec::with_capacity(read.records.len());
        let mut gone: BTreeMap<_, Vec<&Record>> = BTreeMap::new();
        for record in &read.replaced {
            gone.entry(key(record)).or_default().push(record);
        }
        for (index, (_, record)) in read.records.iter().enumerate() {
            new.push(Some(record));
            let list: &mut Vec<usize> = waiting.entry(key(record)).or_default();
            list.push(index);
        }
        let mut count = 0;
        let mut kept = Vec::with_capacity(self.records.len() + new.len());
        for record in std::mem::take(&mut self.records) {
            let key = key(&record);
            let goes = gone.get(&key).is_some_and(|gone| gone.contains(&&record));
            if !goes {
                kept.push(record);
                continue;
            }
            let next = waiting.get_mut(&key).filter(|list| !list.is_empty());
            let next = next.map(|list| list.remove(0));
            if let Some(next) = next.and_then(|at| new.get_mut(at)?.take()) {
                kept.push(Record {
                    kept: record.kept,
                    ..next.clone()
                });
                count += 1;
            }
        }
        let room = RECORDS_LIMIT.saturating_sub(kept.len());
        let before = kept.len();
        kept.extend(new.into_iter().flatten().take(room).cloned());
        count += kept.len() - before;
        self.records = kept;
        count
    }
}

/// Reads a table of a trial. Records that the trial has already are told as such.
pub fn read(trial: &Trial, layout: &Layout, bytes: &[u8], said: Said) -> Read {
    let (text, is_utf8) = text_of(bytes);
    let mut faults = Vec::new();
    if !is_utf8 {
        faults.push(whole_table(Wrong::NotUtf8, ""));
    }
    let (text, first_row) = without_sep_line(&text);
    let separator = separator_of(text);
    let mut reader = Reader::of(trial, layout, said, faults);
    let mut rows = Rows::of(text, separator.byte(), first_row);
    let head = rows.next();
    let known = head.is_some_and(|head| reader.head(head));
    let mut all = Vec::new();
    let mut too_many = None;
    for row in rows.by_ref() {
        if row.cells.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        if all.len() >= RECORDS_LIMIT {
            too_many = Some(row.number);
            break;
        }
        all.push(row);
    }
    let count = all.len();
    let mut records = Vec::new();
    if known {
        reader.look(&all, separator);
        for row in all {
            records.extend(reader.row(row));
        }
    } else {
        let missing = NEEDED.into_iter();
        let missing = missing.filter(|column| !reader.columns.contains(&Some(*column)));
        let wrong = Wrong::NoColumns {
            missing: missing.map(Column::name).collect(),
            found: reader.head_found(),
        };
        // One line says it all, and not one for each column.
        reader.faults.retain(|fault| fault.wrong == Wrong::NotUtf8);
        let empty = text.trim_start_matches('\u{feff}').trim().is_empty();
        let wrong = if empty { Wrong::Nothing } else { wrong };
        reader.faults.push(whole_table(wrong, ""));
    }
    if let Some(row) = too_many {
        let most = RECORDS_LIMIT;
        let mut fault = whole_table(Wrong::TooManyRows { most }, "");
        fault.row = row;
        reader.faults.push(fault);
    }
    let (records, replaced) = reader.once(records);
    let mut faults = reader.faults;
    faults.sort_by_key(|fault| fault.row);
    Read {
        records,
        replaced,
        faults,
        separator,
        rows: count,
    }
}

fn whole_table(wrong: Wrong, name: &str) -> TableFault {
    TableFault {
        row: 0,
        column: None,
        name: name.to_owned(),
        cell: String::new(),
        wrong,
    }
}
