//! Records as comma-separated values, out and in: one row for each container, day and measure.
//!
//! Reading takes what people's spreadsheets make of it: another order of columns, semicolons or tabs,
//! decimal commas, other dates. Whatever is wrong is told by row and column as a spreadsheet counts
//! them, and every row that is right comes back beside the faults. What could mean two things (5/4,
//! 1,234) is decided by the rest of the column, else asked, never guessed.
//!
//! Own code and not the crate `csv`, which the tests read the same tables with: a quote that is never
//! closed must cost its own row and not the rest of the table, and rows count as in a spreadsheet.

use super::date::{Date, whole};
use super::layout::Layout;
use super::plan::Trial;
use super::records::{Censor, Missing, RECORDS_LIMIT, Record, RecordFault, RecordText, check};
use crate::recipe::{number_of_text, number_text};
use std::collections::BTreeMap;

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
    /// A column that must be there is not.
    NoColumn,
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
    /// Another row, or the trial where that is none, has a value of the same container, day and
    /// measure: both count, as sub-samples.
    SubSample {
        /// The other row.
        row: Option<usize>,
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
                | Wrong::UnknownColumn
                | Wrong::ColumnTwice
                | Wrong::TooManyColumns { .. }
                | Wrong::SubSample { .. }
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
    /// What was wrong, by rows.
    pub faults: Vec<TableFault>,
    /// What separated the cells.
    pub separator: Separator,
    /// Rows that held something, without the head.
    pub rows: usize,
}

/// The table of a trial's records.
pub fn table(trial: &Trial, layout: &Layout) -> String {
    let mut out = COLUMNS.join(",") + "\r\n";
    for record in &trial.records {
        let measure = trial.measure(&record.measure);
        let number = |value: Option<f64>| value.map(number_text).unwrap_or_default();
        let day = trial.start.map(|start| record.date.days_since(start));
        let cells = [
            guarded(&trial.id),
            layout.code(record.container).unwrap_or_default(),
            record.date.iso(),
            day.map(|day| day.to_string()).unwrap_or_default(),
            guarded(&record.measure),
            number(record.value),
            guarded(measure.map_or("", |measure| measure.unit)),
            record.censor.sign().to_owned(),
            record.reps.to_string(),
            guarded(&record.instrument),
            number(record.error),
            guarded(&record.scorer),
            record.missing.map_or("", Missing::spelling).to_owned(),
            guarded(&record.note),
        ];
        push_row(&cells, &mut out);
    }
    out
}

pub(super) fn push_row(cells: &[String], out: &mut String) {
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            out.push(',');
        }
        let odd = cell.contains(['"', ',', ';', '\t', '\r', '\n'])
            || cell.starts_with(char::is_whitespace)
            || cell.ends_with(char::is_whitespace);
        if odd {
            out.push('"');
            *out += &cell.replace('"', "\"\"");
            out.push('"');
        } else {
            *out += cell;
        }
    }
    *out += "\r\n";
}

/// Whether a spreadsheet would compute a text that begins so, or drop its apostrophe.
fn is_bait(first: Option<char>) -> bool {
    matches!(
        first,
        Some('=' | '+' | '-' | '@' | '\'' | '\t' | '\r' | '\n')
    )
}

/// A text as a cell that a spreadsheet takes for one.
pub(super) fn guarded(text: &str) -> String {
    if is_bait(text.chars().next()) {
        ["'", text].concat()
    } else {
        text.to_owned()
    }
}

/// The text of a guarded cell.
fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if is_bait(text.chars().next()) => text,
        _ => cell,
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
    let mut reader = Reader {
        trial,
        layout,
        columns: Vec::new(),
        names: Vec::new(),
        slashes: said.slashes,
        decimals: said.decimals,
        faults,
    };
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
        for column in NEEDED {
            if !reader.columns.contains(&Some(column)) {
                reader.faults.push(whole_table(Wrong::NoColumn, column.name()));
            }
        }
    }
    if let Some(row) = too_many {
        let most = RECORDS_LIMIT;
        let mut fault = whole_table(Wrong::TooManyRows { most }, "");
        fault.row = row;
        reader.faults.push(fault);
    }
    let records = reader.once(records);
    let mut faults = reader.faults;
    faults.sort_by_key(|fault| fault.row);
    Read {
        records,
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

/// The text of bytes: UTF-8, UTF-16 by its mark, else one letter a byte; and whether it was text.
fn text_of(bytes: &[u8]) -> (String, bool) {
    let wide = |rest: &[u8], of: fn([u8; 2]) -> u16| {
        let units = rest.chunks_exact(2).map(|pair| of([pair[0], pair[1]]));
        let letters = char::decode_utf16(units);
        letters
            .map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER))
            .collect()
    };
    match bytes {
        [0xff, 0xfe, rest @ ..] => return (wide(rest, u16::from_le_bytes), true),
        [0xfe, 0xff, rest @ ..] => return (wide(rest, u16::from_be_bytes), true),
        _ => {}
    }
    let rest = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match std::str::from_utf8(rest) {
        Ok(text) => (text.to_owned(), true),
        Err(_) => (rest.iter().map(|byte| char::from(*byte)).collect(), false),
    }
}

/// Spreadsheets put `sep=;` before the head; it is a row to them.
fn without_sep_line(text: &str) -> (&str, usize) {
    let line = text.split(['\r', '\n']).next().unwrap_or_default();
    if line.trim().len() == 5 && line.trim().to_ascii_lowercase().starts_with("sep=") {
        let rest = text.get(line.len()..).unwrap_or_default();
        let rest = rest.strip_prefix("\r\n").unwrap_or(rest);
        return (rest.trim_start_matches(['\r', '\n']), 2);
    }
    (text, 1)
}

/// What separates the cells of the head: whatever stands there most.
fn separator_of(text: &str) -> Separator {
    let mut lines = text.split(['\r', '\n']);
    let head = lines.find(|line| !line.trim().is_empty());
    let head = head.unwrap_or_default();
    let count = |of: Separator| {
        let mut inside = false;
        let mut found = 0;
        for byte in head.bytes() {
            inside ^= byte == b'"';
            if byte == of.byte() && !inside {
                found += 1;
            }
        }
        found
    };
    let mut best = Separator::Comma;
    for other in [Separator::Semicolon, Separator::Tab] {
        if count(other) > count(best) {
            best = other;
        }
    }
    best
}

/// A row and its cells.
struct Row {
    number: usize,
    cells: Vec<String>,
    open_quote: bool,
}

/// The rows of a text.
struct Rows<'a> {
    rest: &'a str,
    separator: u8,
    number: usize,
}

impl<'a> Rows<'a> {
    fn of(text: &'a str, separator: u8, first: usize) -> Rows<'a> {
        Rows {
            rest: text,
            separator,
            number: first,
        }
    }

    /// The next row from here, and what is left; none where its quotes do not close.
    fn cells(&self, quotes: bool) -> Option<(Vec<String>, &'a str)> {
        let bytes = self.rest.as_bytes();
        let mut cells = Vec::new();
        let mut at = 0;
        loop {
            let mut cell = String::new();
            if quotes && bytes.get(at) == Some(&b'"') {
                at = self.quoted(at + 1, &mut cell)?;
            } else {
                let from = at;
                while let Some(byte) = bytes.get(at) {
                    if *byte == self.separator || matches!(byte, b'\r' | b'\n') {
                        break;
                    }
                    at += 1;
                }
                // Separators and ends of lines are letters of their own.
                cell += self.rest.get(from..at).unwrap_or_default();
            }
            cells.push(cell);
            match bytes.get(at) {
                Some(byte) if *byte == self.separator => at += 1,
                Some(b'\r') if bytes.get(at + 1) == Some(&b'\n') => {
                    return Some((cells, self.rest.get(at + 2..).unwrap_or_default()));
                }
                Some(_) => return Some((cells, self.rest.get(at + 1..).unwrap_or_default())),
                None => return Some((cells, "")),
            }
        }
    }

    /// The cell in quotes that begins here, and where it ends.
    fn quoted(&self, from: usize, cell: &mut String) -> Option<usize> {
        let bytes = self.rest.as_bytes();
        let (mut at, mut start) = (from, from);
        loop {
            if at - from > QUOTED_LIMIT {
                return None;
            }
            if *bytes.get(at)? != b'"' {
                at += 1;
                continue;
            }
            *cell += self.rest.get(start..at)?;
            if bytes.get(at + 1) == Some(&b'"') {
                cell.push('"');
                at += 2;
                start = at;
                continue;
            }
            let after = bytes.get(at + 1);
            let ends = after.is_none_or(|byte| {
                *byte == self.separator || matches!(byte, b'\r' | b'\n')
            });
            return ends.then_some(at + 1);
        }
    }
}

impl Iterator for Rows<'_> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        if self.rest.is_empty() {
            return None;
        }
        let closed = self.cells(true);
        let open_quote = closed.is_none();
        let (cells, rest) = closed.or_else(|| self.cells(false))?;
        self.rest = rest;
        let number = self.number;
        self.number += 1;
        Some(Row {
            number,
            cells,
            open_quote,
        })
    }
}

struct Reader<'a> {
    trial: &'a Trial,
    layout: &'a Layout,
    /// What stands in each column of the table.
    columns: Vec<Option<Column>>,
    names: Vec<String>,
    slashes: Option<Slashes>,
    decimals: Option<Decimals>,
    faults: Vec<TableFault>,
}

/// A numeral by what its signs can mean.
enum Numeral {
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

fn numeral(text: &str) -> Numeral {
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
            let first = groups.next().is_some_and(|group| (1..=3).contains(&group.len()));
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
fn after_sign(cell: &str) -> (&str, &str) {
    let rest = cell.trim_start_matches(['<', '>', '=', '≥', '≤']);
    let sign = cell.get(..cell.len() - rest.len()).unwrap_or_default();
    // A guarded sign is none.
    (sign, rest.trim())
}

/// A cell of a day.
enum Day {
    None,
    Some(Date),
    /// Day and month could change places.
    Either([u32; 3]),
}

fn day(cell: &str) -> Day {
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

fn by(slashes: Slashes, [one, two, year]: [u32; 3]) -> Option<Date> {
    match slashes {
        Slashes::DayFirst => Date::of(year, two, one),
        Slashes::MonthFirst => Date::of(year, one, two),
    }
}

impl Reader<'_> {
    /// Takes the head; whether all columns that must be there are.
    fn head(&mut self, head: Row) -> bool {
        let count = head.cells.len();
        for (index, cell) in head.cells.into_iter().take(COLUMNS_LIMIT).enumerate() {
            let name = unguarded(cell.trim()).trim().to_ascii_lowercase().replace(' ', "_");
            let known = COLUMNS.iter().position(|column| *column == name);
            let column = known.map(|at| Column::ALL[at]);
            let wrong = match column {
                Some(column) if self.columns.contains(&Some(column)) => Some(Wrong::ColumnTwice),
                Some(_) => None,
                None if name.is_empty() => None,
                None => Some(Wrong::UnknownColumn),
            };
            self.names.push(cell.trim().to_owned());
            self.columns.push(column.filter(|_| wrong.is_none()));
            if let Some(wrong) = wrong {
                self.fault(head.number, index, "", wrong);
            }
        }
        if count > COLUMNS_LIMIT {
            let most = COLUMNS_LIMIT;
            self.fault(head.number, COLUMNS_LIMIT, "", Wrong::TooManyColumns { most });
        }
        let has = |column: Column| self.columns.contains(&Some(column));
        // A day counts from sowing where that is known.
        let dated = has(Column::Date) || (has(Column::Day) && self.trial.start.is_some());
        dated && has(Column::Unit) && has(Column::Measure) && has(Column::Value)
    }

    fn fault(&mut self, row: usize, index: usize, cell: &str, wrong: Wrong) {
        self.faults.push(TableFault {
            row,
            column: Some(index + 1),
            name: self.names.get(index).cloned().unwrap_or_default(),
            cell: cell.chars().take(SHOWN).collect(),
            wrong,
        });
    }

    /// The place of a column.
    fn place(&self, column: Column) -> Option<usize> {
        self.columns.iter().position(|known| *known == Some(column))
    }

    /// What the cells tell of how days and decimals are written, where the user has not.
    fn look(&mut self, rows: &[Row], separator: Separator) {
        let (mut day_first, mut month_first) = (false, false);
        let (mut point, mut comma) = (false, false);
        let date_at = self.place(Column::Date);
        let numbers = [Column::Value, Column::Error].map(|column| self.place(column));
        for row in rows {
            let cell = |at: Option<usize>| {
                let cell = at.and_then(|at| row.cells.get(at));
                cell.map(|cell| cell.trim()).unwrap_or_default()
            };
            if let Day::Either([one, two, _]) = day(cell(date_at)) {
                day_first |= one > 12;
                month_first |= two > 12;
            }
            for at in numbers {
                match numeral(after_sign(cell(at)).1) {
                    Numeral::Plain(_, Some(Decimals::Point)) => point = true,
                    Numeral::Plain(_, Some(Decimals::Comma)) => comma = true,
                    _ => {}
                }
            }
        }
        self.slashes = self.slashes.or(match (day_first, month_first) {
            (true, false) => Some(Slashes::DayFirst),
            (false, true) => Some(Slashes::MonthFirst),
            _ => None,
        });
        self.decimals = self.decimals.or(match (point, comma) {
            (true, false) => Some(Decimals::Point),
            (false, true) => Some(Decimals::Comma),
            // Where commas are decimals, cells are set apart by semicolons.
            (false, false) if separator == Separator::Semicolon => Some(Decimals::Comma),
            _ => None,
        });
    }

    fn number(&self, text: &str) -> Result<f64, Wrong> {
        match numeral(text) {
            Numeral::None => Err(Wrong::NotNumber),
            // What can be one thing only is that, whatever stands elsewhere.
            Numeral::Plain(value, _) => Ok(value),
            Numeral::Either {
                sign,
                decimal,
                thousand,
            } => match self.decimals {
                Some(known) if known == sign => Ok(decimal),
                Some(_) => Ok(thousand),
                // A point alone is a decimal to this table's own standard.
                None if sign == Decimals::Point => Ok(decimal),
                None => Err(Wrong::AmbiguousNumber),
            },
        }
    }

    fn date(&self, cell: &str) -> Result<Date, Wrong> {
        match day(cell) {
            Day::None => Err(Wrong::NotDate),
            Day::Some(date) => Ok(date),
            Day::Either(three) => match self.slashes {
                Some(slashes) => by(slashes, three).ok_or(Wrong::NotDate),
                None => {
                    let both = [Slashes::DayFirst, Slashes::MonthFirst].map(|of| by(of, three));
                    match both {
                        [Some(one), Some(other)] if one == other => Ok(one),
                        [None, None] => Err(Wrong::NotDate),
                        _ => Err(Wrong::AmbiguousDate),
                    }
                }
            },
        }
    }

    /// The record of a row, or its first fault.
    fn row(&mut self, row: Row) -> Option<(usize, Record)> {
        if row.open_quote {
            let mut fault = whole_table(Wrong::OpenQuote, "");
            fault.row = row.number;
            self.faults.push(fault);
        }
        let extra = row.cells.iter().skip(self.columns.len());
        if let Some(cell) = extra.into_iter().find(|cell| !cell.trim().is_empty()) {
            let cell = cell.clone();
            self.fault(row.number, self.columns.len(), &cell, Wrong::ExtraCells);
        }
        match self.record(&row) {
            Ok(record) => Some((row.number, record)),
            Err((column, wrong)) => {
                // What has no column of its own is told at that of the value.
                let at = self.place(column).or_else(|| self.place(Column::Value));
                let at = at.unwrap_or_default();
                let cell = row.cells.get(at).cloned().unwrap_or_default();
                self.fault(row.number, at, &cell, wrong);
                None
            }
        }
    }

    fn record(&self, row: &Row) -> Result<Record, (Column, Wrong)> {
        let cell = |column: Column| {
            let at = self.place(column);
            let cell = at.and_then(|at| row.cells.get(at));
            cell.map(|cell| cell.trim()).unwrap_or_default()
        };
        let text = |column: Column| {
            let at = self.place(column);
            let cell = at.and_then(|at| row.cells.get(at));
            unguarded(cell.map(String::as_str).unwrap_or_default()).to_owned()
        };
        let trial = text(Column::Trial);
        if !trial.trim().is_empty() && trial.trim() != self.trial.id.trim() {
            let expected = self.trial.id.clone();
            return Err((Column::Trial, Wrong::OtherTrial { expected }));
        }
        let container = self.layout.container_of(cell(Column::Unit));
        let container = container.ok_or((Column::Unit, Wrong::UnknownContainer))?;
        let date = self.date_of(cell(Column::Date), cell(Column::Day))?;
        let id = unguarded(cell(Column::Measure)).to_owned();
        let known = self.trial.measure(&id);
        let known = known.or_else(|| self.trial.measure(&id.to_ascii_lowercase()));
        let Some(measure) = known else {
            let fault = RecordFault::Measure { found: id };
            return Err((Column::Measure, Wrong::Record(fault)));
        };
        let unit = unguarded(cell(Column::UnitOf));
        if !unit.is_empty() && !unit.eq_ignore_ascii_case(measure.unit) {
            let expected = measure.unit.to_owned();
            return Err((Column::UnitOf, Wrong::OtherUnit { expected }));
        }
        let (sign, number) = after_sign(unguarded(cell(Column::Value)));
        let value = match number {
            "" | "NA" | "na" | "n/a" | "N/A" if sign.is_empty() => None,
            number => Some(self.number(number).map_err(|wrong| (Column::Value, wrong))?),
        };
        let told = unguarded(cell(Column::Censor));
        let sign = match if told.is_empty() { sign } else { told } {
            "≥" => ">",
            "≤" => "<",
            sign => sign,
        };
        let censor = Censor::of_sign(sign).ok_or((Column::Censor, Wrong::NotCensor))?;
        let missing = match cell(Column::Missing) {
            "" => None,
            word => {
                let missing = Missing::of_spelling(&word.to_ascii_lowercase());
                Some(missing.ok_or((Column::Missing, Wrong::NotReason))?)
            }
        };
        let reps = match cell(Column::Reps) {
            "" => 1,
            cell => whole(cell).ok_or((Column::Reps, Wrong::NotWhole))?,
        };
        let error = match cell(Column::Error) {
            "" => None,
            cell => Some(self.number(cell).map_err(|wrong| (Column::Error, wrong))?),
        };
        let record = Record {
            value: value.map(|value| value + 0.0),
            censor,
            reps,
            instrument: text(Column::Instrument),
            error,
            scorer: text(Column::Scorer),
            missing,
            note: text(Column::Note),
            ..Record::of(container, date, measure.id, 0.0)
        };
        match check(self.trial, self.layout.spots.len(), &record) {
            Ok(()) => Ok(record),
            Err(fault) => Err((column_of(&fault), Wrong::Record(fault))),
        }
    }

    /// The day of a row: its date, or so many days from sowing.
    fn date_of(&self, date: &str, day: &str) -> Result<Date, (Column, Wrong)> {
        if !date.is_empty() {
            return self.date(date).map_err(|wrong| (Column::Date, wrong));
        }
        let days = day.parse().ok();
        let both = self.trial.start.zip(days);
        let date = both.and_then(|(start, days)| start.later(days));
        let column = if day.is_empty() { Column::Date } else { Column::Day };
        date.ok_or((column, Wrong::NoDate))
    }

    /// Every record once, and what stands beside another.
    fn once(&mut self, records: Vec<(usize, Record)>) -> Vec<(usize, Record)> {
        let mut seen: BTreeMap<(usize, Date, String), Vec<(Option<usize>, Record)>> = BTreeMap::new();
        let key = |record: &Record| (record.container, record.date, record.measure.clone());
        for record in &self.trial.records {
            let list = seen.entry(key(record)).or_default();
            list.push((None, record.clone()));
        }
        let unit = self.place(Column::Unit).unwrap_or_default();
        let mut out = Vec::with_capacity(records.len());
        for (row, record) in records {
            let list = seen.entry(key(&record)).or_default();
            let same = list.iter().find(|(_, known)| *known == record);
            let wrong = match (same, list.first()) {
                (Some((row, _)), _) => Some(Wrong::Duplicate { row: *row }),
                (None, Some((row, _))) => Some(Wrong::SubSample { row: *row }),
                (None, None) => None,
            };
            let again = same.is_some();
            if !again {
                list.push((Some(row), record.clone()));
            }
            if let Some(wrong) = wrong {
                let code = self.layout.code(record.container).unwrap_or_default();
                self.fault(row, unit, &code, wrong);
            }
            if !again {
                out.push((row, record));
            }
        }
        out
    }
}

/// The column that a fault of a record is of.
fn column_of(fault: &RecordFault) -> Column {
    match fault {
        RecordFault::Container { .. } => Column::Unit,
        RecordFault::Measure { .. } => Column::Measure,
        RecordFault::Outside { .. }
        | RecordFault::NotWhole { .. }
        | RecordFault::MoreThanSown { .. }
        | RecordFault::Empty
        | RecordFault::TooMany { .. } => Column::Value,
        RecordFault::ValueAndReason => Column::Missing,
        RecordFault::CensorAlone => Column::Censor,
        RecordFault::Reps { .. } => Column::Reps,
        RecordFault::Error { .. } => Column::Error,
        RecordFault::TooLong { which, .. } => match which {
            RecordText::Instrument => Column::Instrument,
            RecordText::Scorer => Column::Scorer,
            RecordText::Note => Column::Note,
        },
    }
}
