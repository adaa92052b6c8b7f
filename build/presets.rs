//! Checks `src/ground/presets.csv` and turns it into a table, as the catalogue.

use super::table::{Row, Sources, each};
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
    /// Every row, for the table of numbers.
    rows: String,
}

/// Every preset with its rows, in the order of first appearance.
pub(crate) fn read(text: &str, sources: &Sources) -> Result<Vec<Preset>, String> {
    let mut presets: Vec<Preset> = Vec::new();
    each(SOURCE, text, &COLUMNS, |line| {
        row(line, sources, &mut presets)
    })?;
    for preset in &presets {
        whole(preset).map_err(|what| format!("{SOURCE}:{}: {}: {what}", preset.line, preset.id))?;
    }
    Ok(presets)
}

fn row(row: &Row, sources: &Sources, presets: &mut Vec<Preset>) -> Result<(), String> {
    let (id, name, field) = (row.id()?, row.text("name"), row.text("field"));
    if name.is_empty() {
        return Err(format!("{id} needs a name"));
    }
    let place = Trait::ALL
        .iter()
        .position(|of| of.name() == field)
        .ok_or(format!("no field {field:?}"))?;
    let figure = row.figure(Trait::ALL[place].limits())?;
    row.sourced(sources)?;
    let known = presets.iter().position(|preset| preset.id == id);
    let index = known.unwrap_or(presets.len());
    if known.is_none() {
        presets.push(Preset {
            line: row.line,
            id: id.into(),
            name: name.into(),
            values: BTreeMap::new(),
            rows: String::new(),
        });
    }
    let preset = &mut presets[index];
    if preset.name != name {
        return Err(format!("{id} has another name on line {}", preset.line));
    }
    if preset.values.insert(place, figure).is_some() {
        return Err(format!("{id} has {field} twice"));
    }
    preset.rows += &super::number_row(row, figure, "");
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
        id,
        name,
        values,
        rows,
        ..
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
        let _ = writeln!(out, "], numbers: &[\n{rows}] }},");
    }
    out.push_str("];\n");
    out
}
