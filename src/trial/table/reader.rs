//! From rows to records.

use super::cells::Row;
use super::told::{Day, Numeral, after_sign, by, day, numeral};
use super::write::{plain_unit, unguarded};
use super::{
    ALSO, COLUMNS, COLUMNS_LIMIT, Column, Decimals, HEADS_SHOWN, SHOWN, Said, Separator, Slashes,
    TableFault, Wrong, whole_table,
};
use crate::trial::date::{Date, whole};
use crate::trial::layout::Layout;
use crate::trial::plan::Trial;
use crate::trial::records::{Censor, Missing, Record, RecordFault, RecordText, check};
use std::collections::BTreeMap;

/// What reads the rows of one table.
pub(super) struct Reader<'a> {
    trial: &'a Trial,
    layout: &'a Layout,
    /// What stands in each column of the table.
    pub(super) columns: Vec<Option<Column>>,
    names: Vec<String>,
    slashes: Option<Slashes>,
    decimals: Option<Decimals>,
    /// Where numbers have points and commas and nothing tells which are decimals: the first row with
    /// each.
    mixed: Option<[usize; 2]>,
    /// Whether a point alone could be a thousand's as well.
    point_in_doubt: bool,
    pub(super) faults: Vec<TableFault>,
}

impl<'a> Reader<'a> {
    pub(super) fn of(
        trial: &'a Trial,
        layout: &'a Layout,
        said: Said,
        faults: Vec<TableFault>,
    ) -> Reader<'a> {
        Reader {
            trial,
            layout,
            columns: Vec::new(),
            names: Vec::new(),
            slashes: said.slashes,
            decimals: said.decimals,
            mixed: None,
            point_in_doubt: false,
            faults,
        }
    }

    /// Takes the head; whether all columns that must be there are.
    pub(super) fn head(&mut self, head: Row) -> bool {
        let count = head.cells.len();
        // Its own names come before what people call them.
        let own: Vec<Column> = head
            .cells
            .iter()
            .filter_map(|cell| own_name(cell))
            .collect();
        for (index, cell) in head.cells.into_iter().take(COLUMNS_LIMIT).enumerate() {
            let name = name_of(&cell);
            let known = COLUMNS.iter().position(|column| *column == name);
            let also = || ALSO.iter().find(|(also, _)| *also == name);
            let column = known
                .map(|at| Column::ALL[at])
                .or_else(|| Some(also()?.1).filter(|column| !own.contains(column)));
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
            self.fault(
                head.number,
                COLUMNS_LIMIT,
                "",
                Wrong::TooManyColumns { most },
            );
        }
        // Without a column of containers, one called a unit holds them, for none is needed of the
        // units of measures.
        if self.place(Column::Unit).is_none()
            && let Some(at) = self.place(Column::UnitOf)
        {
            self.columns[at] = Some(Column::Unit);
        }
        let has = |column: Column| self.columns.contains(&Some(column));
        // A day counts from sowing where that is known.
        let dated = has(Column::Date) || (has(Column::Day) && self.trial.start.is_some());
        dated && has(Column::Unit) && has(Column::Measure) && has(Column::Value)
    }

    /// The head as it stands, as far as it is shown.
    pub(super) fn head_found(&self) -> Vec<String> {
        let shown = self.names.iter().filter(|name| !name.is_empty());
        let cut = |name: &String| name.chars().take(SHOWN).collect();
        shown.take(HEADS_SHOWN).map(cut).collect()
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
    pub(super) fn look(&mut self, rows: &[Row], separator: Separator) {
        // The first row of each order.
        let mut first: [Option<(usize, String)>; 2] = [None, None];
        let (mut point, mut comma) = (false, false);
        // By point and comma: the first row with that sign, whether it could be a thousand's there,
        // and whether a number with both signs shows that it stands before decimals.
        let mut sign_row: [Option<usize>; 2] = [None, None];
        let (mut could_be, mut shown) = ([false; 2], [false; 2]);
        let date_at = self.place(Column::Date);
        let numbers = [Column::Value, Column::Error].map(|column| self.place(column));
        for row in rows {
            let cell = |at: Option<usize>| {
                let cell = at.and_then(|at| row.cells.get(at));
                cell.map(|cell| cell.trim()).unwrap_or_default()
            };
            if let Day::Either([one, two, _]) = day(cell(date_at)) {
                for (at, tells) in [one > 12 && two <= 12, two > 12 && one <= 12]
                    .into_iter()
                    .enumerate()
                {
                    if tells && first[at].is_none() {
                        first[at] = Some((row.number, cell(date_at).to_owned()));
                    }
                }
            }
            for at in numbers {
                let text = after_sign(cell(at)).1;
                let sign = match numeral(text) {
                    Numeral::Plain(_, Some(sign)) => {
                        point |= sign == Decimals::Point;
                        comma |= sign == Decimals::Comma;
                        shown[sign as usize] |= text.matches(['.', ',']).count() > 1;
                        sign
                    }
                    Numeral::Either { sign, .. } => {
                        could_be[sign as usize] = true;
                        sign
                    }
                    _ => continue,
                };
                sign_row[sign as usize].get_or_insert(row.number);
            }
        }
        if let (None, [Some(one), Some(other)]) = (self.slashes, &first) {
            let (later, sooner) = if one.0 > other.0 {
                (one, other)
            } else {
                (other, one)
            };
            let wrong = Wrong::BothOrders { row: sooner.0 };
            let (row, text) = later.clone();
            self.fault(row, date_at.unwrap_or_default(), &text, wrong);
        }
        let [day_first, month_first] = first.map(|row| row.is_some());
        self.slashes = self.slashes.or(match (day_first, month_first) {
            (true, false) => Some(Slashes::DayFirst),
            (false, true) => Some(Slashes::MonthFirst),
            _ => None,
        });
        if self.decimals.is_some() {
            return;
        }
        self.decimals = match (point, comma) {
            (true, false) => Some(Decimals::Point),
            (false, true) => Some(Decimals::Comma),
            // Where commas are decimals, cells are set apart by semicolons.
            (false, false) if separator == Separator::Semicolon => {
                // But where points alone stand, 1.234 may be either.
                self.point_in_doubt = could_be[Decimals::Point as usize];
                Some(Decimals::Comma).filter(|_| !self.point_in_doubt)
            }
            _ => None,
        };
        // 1.234 beside 12,5 is a thousand of one program or a decimal of another's.
        let other_could_be = |known: Decimals| match known {
            Decimals::Point => could_be[Decimals::Comma as usize],
            Decimals::Comma => could_be[Decimals::Point as usize],
        };
        if let [Some(of_point), Some(of_comma)] = sign_row
            && self
                .decimals
                .is_none_or(|known| other_could_be(known) && !shown[known as usize])
        {
            self.decimals = None;
            self.mixed = Some([of_point, of_comma]);
        }
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
                None if self.mixed.is_some() => Err(Wrong::BothSigns {
                    row: self.mixed.unwrap_or_default()[match sign {
                        Decimals::Point => Decimals::Comma,
                        Decimals::Comma => Decimals::Point,
                    } as usize],
                }),
                // A point alone is a decimal to this table's own standard.
                None if sign == Decimals::Point && !self.point_in_doubt => Ok(decimal),
                None => Err(Wrong::AmbiguousNumber),
            },
        }
    }

    fn date(&self, cell: &str) -> Result<Date, Wrong> {
        match day(cell) {
            Day::None => Err(Wrong::NotDate),
            Day::Some(date) => Ok(date),
            Day::Either(three) => match self.slashes {
                Some(expected) => by(expected, three).ok_or_else(|| {
                    let other = [Slashes::DayFirst, Slashes::MonthFirst];
                    let is_other = other.iter().any(|of| by(*of, three).is_some());
                    if is_other {
                        Wrong::OtherOrder { expected }
                    } else {
                        Wrong::NotDate
                    }
                }),
                None => {
                    let both = [Slashes::DayFirst, Slashes::MonthFirst].map(|of| by(of, three));
                    match both {
                        [Some(one), Some(other)] if one == other => Ok(one),
                        [None, None] => Err(Wrong::NotDate),
                        // What can be one day only is that, whatever stands elsewhere.
                        [Some(only), None] | [None, Some(only)] => Ok(only),
                        _ => Err(Wrong::AmbiguousDate),
                    }
                }
            },
        }
    }

    /// The record of a row, or its first fault.
    pub(super) fn row(&mut self, row: Row) -> Option<(usize, Record)> {
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
        let mut wrongs = Vec::new();
        let record = self.record(&row, &mut wrongs);
        for (column, wrong) in wrongs {
            // What has no column of its own is told at that of the value.
            let at = self.place(column).or_else(|| self.place(Column::Value));
            let at = at.unwrap_or_default();
            let cell = row.cells.get(at).cloned().unwrap_or_default();
            self.fault(row.number, at, &cell, wrong);
        }
        Some((row.number, record?))
    }

    /// The record of a row; whatever is wrong with its cells goes into the list, and then there is
    /// none.
    fn record(&self, row: &Row, wrongs: &mut Vec<(Column, Wrong)>) -> Option<Record> {
        let raw = |column: Column| {
            let cell = self.place(column).and_then(|at| row.cells.get(at));
            cell.map(String::as_str).unwrap_or_default()
        };
        let cell = |column: Column| raw(column).trim();
        let text = |column: Column| unguarded(raw(column)).to_owned();
        let mut wrong = |column: Column, wrong: Wrong| wrongs.push((column, wrong));
        let trial = unguarded(cell(Column::Trial)).trim();
        if !trial.is_empty() && trial != self.trial.id.trim() {
            let expected = self.trial.id.clone();
            wrong(Column::Trial, Wrong::OtherTrial { expected });
        }
        let container = self.layout.container_of(cell(Column::Unit));
        if container.is_none() {
            wrong(Column::Unit, Wrong::UnknownContainer);
        }
        let date = self.date_of(cell(Column::Date), cell(Column::Day));
        let date = date.map_err(|(column, what)| wrong(column, what)).ok();
        let id = unguarded(cell(Column::Measure)).to_owned();
        let known = self.trial.measure(&id);
        let known = known.or_else(|| self.trial.measure(&id.to_ascii_lowercase()));
        let unit = unguarded(cell(Column::UnitOf));
        match known {
            None => {
                let fault = RecordFault::Measure { found: id };
                wrong(Column::Measure, Wrong::Record(fault));
            }
            Some(measure)
                if !unit.is_empty()
                    && !plain_unit(unit).eq_ignore_ascii_case(&plain_unit(measure.unit)) =>
            {
                let expected = measure.unit.to_owned();
                wrong(Column::UnitOf, Wrong::OtherUnit { expected });
            }
            Some(_) => {}
        }
        let (sign, number) = after_sign(unguarded(cell(Column::Value)));
        let value = match number {
            "" | "NA" | "na" | "n/a" | "N/A" if sign.is_empty() => None,
            number => match self.number(number) {
                Ok(value) => Some(value + 0.0),
                Err(what) => {
                    wrong(Column::Value, what);
                    None
                }
            },
        };
        let told = unguarded(cell(Column::Censor));
        let sign = match if told.is_empty() { sign } else { told } {
            "≥" => ">",
            "≤" => "<",
            sign => sign,
        };
        let censor = Censor::of_sign(sign);
        if censor.is_none() {
            wrong(Column::Censor, Wrong::NotCensor);
        }
        let word = cell(Column::Missing);
        let missing = Missing::of_spelling(&word.to_ascii_lowercase());
        if missing.is_none() && !word.is_empty() {
            wrong(Column::Missing, Wrong::NotReason);
        }
        let reps = match cell(Column::Reps) {
            "" => Some(1),
            cell => whole(cell),
        };
        if reps.is_none() {
            wrong(Column::Reps, Wrong::NotWhole);
        }
        let error = match cell(Column::Error) {
            "" => None,
            cell => match self.number(cell) {
                Ok(error) => Some(error),
                Err(what) => {
                    wrong(Column::Error, what);
                    None
                }
            },
        };
        if !wrongs.is_empty() {
            return None;
        }
        let record = Record {
            value,
            censor: censor?,
            reps: reps?,
            instrument: text(Column::Instrument),
            error,
            scorer: text(Column::Scorer),
            missing,
            note: text(Column::Note),
            ..Record::of(container?, date?, known?.id, 0.0)
        };
        match check(self.trial, self.layout.spots.len(), &record) {
            Ok(()) => Some(record),
            Err(fault) => {
                wrongs.push((column_of(&fault), Wrong::Record(fault)));
                None
            }
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
        let column = if day.is_empty() {
            Column::Date
        } else {
            Column::Day
        };
        date.ok_or((column, Wrong::NoDate))
    }

    /// Every record once, and what stands beside another; then those of the trial whose place the
    /// rows take: of a container, day and measure that the table has, its rows are what counts, so
    /// that a value that was mended is not averaged with what it was.
    pub(super) fn once(
        &mut self,
        records: Vec<(usize, Record)>,
    ) -> (Vec<(usize, Record)>, Vec<Record>) {
        let key = |record: &Record| (record.container, record.date, record.measure.clone());
        let mut own: BTreeMap<(usize, Date, String), Vec<&Record>> = BTreeMap::new();
        for record in &self.trial.records {
            own.entry(key(record)).or_default().push(record);
        }
        let mut seen: BTreeMap<(usize, Date, String), Vec<(usize, Record)>> = BTreeMap::new();
        let unit = self.place(Column::Unit).unwrap_or_default();
        let mut out = Vec::with_capacity(records.len());
        for (row, record) in records {
            let list = seen.entry(key(&record)).or_default();
            let twice = list.iter().find(|(_, known)| *known == record);
            let twice = twice.map(|(row, _)| *row);
            let first = list.first().map(|(row, _)| *row);
            let is_own = own
                .get(&key(&record))
                .is_some_and(|own| own.iter().any(|own| is_same(own, &record)));
            let wrong = match (twice, first) {
                (Some(row), _) => Some(Wrong::Duplicate { row: Some(row) }),
                (None, _) if is_own => Some(Wrong::Duplicate { row: None }),
                (None, Some(row)) => Some(Wrong::SubSample { row }),
                (None, None) => None,
            };
            if twice.is_none() {
                list.push((row, record.clone()));
            }
            if let Some(wrong) = wrong {
                let code = self.layout.code(record.container).unwrap_or_default();
                self.fault(row, unit, &code, wrong);
            }
            if twice.is_none() && !is_own {
                out.push((row, record));
            }
        }
        let mut replaced = Vec::new();
        for (key, rows) in &seen {
            let own = own.get(key).map(Vec::as_slice).unwrap_or_default();
            let gone = own
                .iter()
                .filter(|own| !rows.iter().any(|(_, record)| is_same(own, record)));
            let before = replaced.len();
            replaced.extend(gone.map(|own| (*own).clone()));
            let values = replaced.len() - before;
            if let (Some((row, record)), 1..) = (rows.first(), values) {
                let code = self.layout.code(record.container).unwrap_or_default();
                self.fault(*row, unit, &code, Wrong::Replaces { values });
            }
        }
        (out, replaced)
    }
}

/// Whether a row says what the trial has, which may bear fields of a later release besides.
fn is_same(own: &Record, row: &Record) -> bool {
    let kept = own.kept.clone();
    *own == Record {
        kept,
        ..row.clone()
    }
}

/// A name of a head as it is compared.
fn name_of(cell: &str) -> String {
    let name = unguarded(cell.trim()).trim().to_ascii_lowercase();
    name.replace(' ', "_")
}

/// The column of a name of the table's own.
fn own_name(cell: &str) -> Option<Column> {
    let name = name_of(cell);
    let known = COLUMNS.iter().position(|column| *column == name);
    known.map(|at| Column::ALL[at])
}

/// The column that a fault of a record is of.
fn column_of(fault: &RecordFault) -> Column {
    match fault {
        RecordFault::Container { .. } | RecordFault::Lost { .. } => Column::Unit,
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
