//! What the tables of data have in common: a header, an id, three numbers in order inside their
//! limits, a source that is known, and a mark.

use std::collections::BTreeMap;

/// The sources by their key.
pub(crate) type Sources = BTreeMap<String, String>;

/// A checked row, as far as all tables go.
pub(crate) struct Row<'a> {
    pub line: u64,
    columns: &'a [&'a str],
    record: &'a csv::StringRecord,
}

impl Row<'_> {
    /// The text of a column.
    pub(crate) fn text(&self, column: &str) -> &str {
        let place = self.columns.iter().position(|known| *known == column);
        place
            .and_then(|place| self.record.get(place))
            .unwrap_or("")
            .trim()
    }

    fn number(&self, column: &str) -> Result<f64, String> {
        let text = self.text(column);
        let number: f64 = text
            .parse()
            .map_err(|_| format!("{column} is not a number"))?;
        if number.is_finite() {
            Ok(number)
        } else {
            Err(format!("{column} is not a number"))
        }
    }

    /// Low, typical and high, in order and inside the limits of the field.
    pub(crate) fn figure(&self, (low, high): (f64, f64)) -> Result<[f64; 3], String> {
        let figure = [
            self.number("low")?,
            self.number("typical")?,
            self.number("high")?,
        ];
        if low <= figure[0] && figure[0] <= figure[1] && figure[1] <= figure[2] && figure[2] <= high
        {
            Ok(figure)
        } else {
            let field = self.text("field");
            Err(format!(
                "{field} needs {low} <= low <= typical <= high <= {high}"
            ))
        }
    }

    /// The id, of letters that a recipe can hold.
    pub(crate) fn id(&self) -> Result<&str, String> {
        let id = self.text("id");
        let good = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_';
        if !id.is_empty() && id.bytes().all(good) {
            Ok(id)
        } else {
            Err(format!("id {id:?} must be of a-z, 0-9 and _"))
        }
    }

    /// The mark, as it is called in Rust.
    pub(crate) fn mark(&self) -> &'static str {
        match self.text("mark") {
            "verified" => "Verified",
            "memory" => "Memory",
            _ => "Practice",
        }
    }

    /// Whether source and mark are good.
    pub(crate) fn sourced(&self, sources: &Sources) -> Result<(), String> {
        match self.text("source") {
            "" => return Err("a number needs its source".into()),
            key if !sources.contains_key(key) => {
                return Err(format!("no source {key:?} in src/sources.csv"));
            }
            _ => {}
        }
        if !matches!(self.text("mark"), "verified" | "memory" | "practice") {
            return Err("mark is one of verified, memory, practice".into());
        }
        Ok(())
    }
}

/// Reads a table row by row; a fault is told with the line.
pub(crate) fn each(
    file: &str,
    text: &str,
    columns: &[&str],
    mut row: impl FnMut(&Row) -> Result<(), String>,
) -> Result<(), String> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader
        .headers()
        .map_err(|error| format!("{file}: {error}"))?;
    if header.iter().ne(columns.iter().copied()) {
        return Err(format!("{file}: the columns must be {}", columns.join(",")));
    }
    for record in reader.records() {
        let record = record.map_err(|error| format!("{file}: {error}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        let read = Row {
            line,
            columns,
            record: &record,
        };
        row(&read).map_err(|what| format!("{file}:{line}: {what}"))?;
    }
    Ok(())
}
