//! Checks `src/ground/presets.csv` and turns it into a table, as the catalogue.

use super::traits::Trait;
use std::collections::BTreeMap;
use std::fmt::Write as _;

pub(crate) const SOURCE: &str = "src/ground/presets.csv";
const COLUMNS: [&str; 9] = [
    "id", "name", "field", "low", "typical", "high", "source", "mark", "note",
];

#[derive(Debug)]
pub(crate) struct Preset {
    line: u64,
    id: String,
    name: String,
    /// By the place of the trait.
    values: BTreeMap<usize, [f64; 3]>,
}

/// Every preset with its rows, in the order of first appearance.
pub(crate) fn read(text: &str) -> Result<Vec<Preset>, String> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader
        .headers()
        .map_err(|error| format!("{SOURCE}: {error}"))?;
    if header.iter().ne(COLUMNS) {
        return Err(format!(
            "{SOURCE}: the columns must be {}",
            COLUMNS.join(",")
        ));
    }
    let mut presets: Vec<Preset> = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| format!("{SOURCE}: {error}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        row(&record, line, &mut presets).map_err(|what| format!("{SOURCE}:{line}: {what}"))?;
    }
    for preset in &presets {
        whole(preset).map_err(|what| format!("{SOURCE}:{}: {}: {what}", preset.line, preset.id))?;
    }
    Ok(presets)
}

fn row(record: &csv::StringRecord, line: u64, presets: &mut Vec<Preset>) -> Result<(), String> {
    let text = |column: usize| record.get(column).unwrap_or("").trim();
    let (id, name, field) = (text(0), text(1), text(2));
    if id.is_empty()
        || !id
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
    {
        return Err(format!("id {id:?} must be of a-z, 0-9 and _"));
    }
    if name.is_empty() {
        return Err(format!("{id} needs a name"));
    }
    let place = Trait::ALL
        .iter()
        .position(|of| of.name() == field)
        .ok_or(format!("no field {field:?}"))?;
    let number = |column: usize| {
        text(column)
            .parse::<f64>()
            .map_err(|_| format!("{} is not a number", COLUMNS[column]))
    };
    let figure = [number(3)?, number(4)?, number(5)?];
    let (low, high) = Trait::ALL[place].limits();
    if !(low <= figure[0] && figure[0] <= figure[1] && figure[1] <= figure[2] && figure[2] <= high)
    {
        return Err(format!(
            "{field} needs {low} <= low <= typical <= high <= {high}"
        ));
    }
    if text(6).is_empty() {
        return Err("a number needs its source".into());
    }
    if !matches!(text(7), "verified" | "memory" | "practice") {
        return Err("mark is one of verified, memory, practice".into());
    }
    let known = presets.iter().position(|preset| preset.id == id);
    let index = known.unwrap_or(presets.len());
    if known.is_none() {
        presets.push(Preset {
            line,
            id: id.into(),
            name: name.into(),
            values: BTreeMap::new(),
        });
    }
    let preset = &mut presets[index];
    if preset.name != name {
        return Err(format!("{id} has another name on line {}", preset.line));
    }
    if preset.values.insert(place, figure).is_some() {
        return Err(format!("{id} has {field} twice"));
    }
    Ok(())
}

/// What only the whole of a preset can tell.
fn whole(preset: &Preset) -> Result<(), String> {
    let mut sum = 0.0;
    for needed in ["sand_pct", "silt_pct", "clay_pct"] {
        let place = Trait::ALL.iter().position(|of| of.name() == needed);
        let figure = place.and_then(|place| preset.values.get(&place));
        sum += figure.ok_or(format!("{needed} is missing"))?[1];
    }
    if (sum - 100.0).abs() > 0.5 {
        return Err(format!("sand, silt and clay sum to {sum}, not 100"));
    }
    Ok(())
}

pub(crate) fn table(presets: &[Preset]) -> String {
    let mut out = String::from("/// Every preset, in the order of its file.\n");
    out.push_str("pub static PRESETS: &[Preset] = &[\n");
    for Preset {
        id, name, values, ..
    } in presets
    {
        let _ = writeln!(out, "Preset {{ id: {id:?}, name: {name:?}, traits: &[");
        for (place, [low, typical, high]) in values {
            let _ = writeln!(
                out,
                "(Trait::{:?}, Figure::between({low:?}, {typical:?}, {high:?})),",
                Trait::ALL[*place]
            );
        }
        out.push_str("] },\n");
    }
    out.push_str("];\n");
    out
}
