//! The page's own tables: records as they are saved, and the table of containers that tells what is
//! in each.

use super::separator;
use barrowmix::trial::measures;
use std::collections::{BTreeMap, BTreeSet};

/// What is told of a container: treatment, block, row, column, whether it is a control.
const OF_CONTAINER: [&str; 5] = ["treatment", "block", "row", "col", "is_control"];
/// Names of controls in the page's tables, the one that is compared with first.
const CONTROLS: [&str; 2] = ["dug", "untouched"];

/// The rows of a table by the names of its head.
struct Table {
    head: Vec<String>,
    rows: Vec<(usize, csv::StringRecord)>,
}

impl Table {
    fn of(bytes: &[u8]) -> Result<Table, String> {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .delimiter(separator(bytes))
            .flexible(true)
            .from_reader(bytes);
        let head = reader.headers().map_err(|error| error.to_string())?;
        let name = |cell: &str| cell.trim().trim_start_matches('\u{feff}').to_owned();
        let head = head.iter().map(name).collect();
        let mut rows = Vec::new();
        for row in reader.records() {
            let row = row.map_err(|error| error.to_string())?;
            let line = row.position().map_or(0, |at| at.line() as usize);
            rows.push((line, row));
        }
        Ok(Table { head, rows })
    }

    fn has(&self, name: &str) -> bool {
        self.head.iter().any(|known| known == name)
    }

    fn cell<'a>(&self, row: &'a csv::StringRecord, name: &str) -> &'a str {
        let at = self.head.iter().position(|known| known == name);
        let cell = at.and_then(|at| row.get(at)).unwrap_or_default();
        cell.trim().trim_start_matches('\'')
    }
}

/// A table of the page's own as one of data sets, one for each measure (and day, where there are
/// several); any other as it is.
pub(crate) fn as_data_sets(bytes: &[u8], containers: Option<&[u8]>) -> Result<Vec<u8>, String> {
    let table = Table::of(bytes)?;
    let needed = ["unit_id", "measure", "value"];
    let is_own = !table.has("dataset") && needed.iter().all(|name| table.has(name));
    if !is_own {
        return match containers {
            Some(_) => Err("only saved records go with a table of containers".into()),
            None => Ok(bytes.to_vec()),
        };
    }
    let key = containers.map(Table::of).transpose()?;
    let key = key.as_ref().unwrap_or(&table);
    if !key.has("treatment") {
        return Err(
            "treatment: no such column; name the saved table of containers after that of records"
                .into(),
        );
    }
    let mut of_unit: BTreeMap<&str, [&str; 5]> = BTreeMap::new();
    for (_, row) in &key.rows {
        let unit = key.cell(row, "unit_id");
        of_unit.insert(unit, OF_CONTAINER.map(|name| key.cell(row, name)));
    }
    let distinct = |at: usize| of_unit.values().map(|of| of[at]).collect::<BTreeSet<_>>();
    // All in one block, or in none: anywhere at random.
    let usual_design = if distinct(1).len() > 1 { "RCBD" } else { "CRD" };
    let treatments = distinct(0);
    let named = CONTROLS.into_iter().find(|of| treatments.contains(of));
    let told = || of_unit.values().find(|of| of[4] == "true");
    let usual_control = named.or_else(|| Some(told()?[0])).unwrap_or_default();
    let mut days: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for (_, row) in &table.rows {
        let of = days.entry(table.cell(row, "measure")).or_default();
        of.insert(table.cell(row, "date"));
    }
    let mut out = csv::WriterBuilder::new()
        .delimiter(separator(bytes))
        .from_writer(Vec::new());
    let mut write = |cells: [&str; 10]| out.write_record(cells).map_err(|error| error.to_string());
    let [a, b, c, d, e, f, g, h, i] = super::NEEDED;
    write([a, b, c, d, e, f, g, h, i, "measure"])?;
    for (line, row) in &table.rows {
        let cell = |name: &str| table.cell(row, name);
        let (unit, measure) = (cell("unit_id"), cell("measure"));
        let Some([treatment, block, place, column, _]) = of_unit.get(unit).copied() else {
            return Err(format!(
                "row {line}, unit_id: {unit:?} is no container that is told of"
            ));
        };
        let several = days.get(measure).is_some_and(|days| days.len() > 1);
        let day = if several { cell("date") } else { "" };
        let set = [cell("trial_id"), measure, day];
        let set: Vec<&str> = set.into_iter().filter(|text| !text.is_empty()).collect();
        let or = |name: &str, usual| match cell(name) {
            "" => usual,
            own => own,
        };
        let value = [cell("censor"), cell("value")].concat();
        let known = measures::find(&[], measure).map_or("", |known| known.id);
        write([
            &set.join(" "),
            or("design", usual_design),
            or("control", usual_control),
            unit,
            treatment,
            block,
            place,
            column,
            &value,
            known,
        ])?;
    }
    out.into_inner().map_err(|error| error.to_string())
}
