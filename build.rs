//! Checks `src/material/catalogue.csv` and `src/ground/presets.csv` and turns them into tables, so
//! that nothing is parsed at run time and a slip in the data stops the build with its line.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

// These files belong to the crate; here they are read for their tables alone.
#[macro_use]
#[path = "src/fields.rs"]
mod fields;
#[allow(dead_code, unreachable_pub)]
#[path = "src/material/group.rs"]
mod group;
/// The same for the presets of the ground.
#[path = "build/presets.rs"]
pub(crate) mod presets;
#[allow(dead_code, unreachable_pub)]
#[path = "src/material/property.rs"]
mod property;
#[allow(dead_code, unreachable_pub)]
#[path = "src/ground/traits.rs"]
mod traits;

use group::Group;
use property::Property;

const SOURCE: &str = "src/material/catalogue.csv";
const COLUMNS: [&str; 10] = [
    "id", "name", "group", "field", "low", "typical", "high", "source", "mark", "note",
];

pub(crate) struct Draft {
    line: u64,
    name: String,
    group: Group,
    values: BTreeMap<usize, [f64; 3]>,
}

fn main() {
    println!("cargo::rerun-if-changed={SOURCE}");
    println!("cargo::rerun-if-changed=src/fields.rs");
    println!("cargo::rerun-if-changed=src/material/group.rs");
    println!("cargo::rerun-if-changed=src/material/property.rs");
    println!("cargo::rerun-if-changed={}", presets::SOURCE);
    println!("cargo::rerun-if-changed=src/ground/traits.rs");
    if let Err(message) = catalogue().and_then(|()| grounds()) {
        eprintln!("{message}");
        std::process::exit(1);
    }
}

fn catalogue() -> Result<(), String> {
    write("catalogue.rs", &table(&read(&text(SOURCE)?)?));
    Ok(())
}

fn grounds() -> Result<(), String> {
    let grounds = presets::read(&text(presets::SOURCE)?)?;
    write("presets.rs", &presets::table(&grounds));
    Ok(())
}

fn text(path: &str) -> Result<String, String> {
    std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))
}

fn write(name: &str, table: &str) {
    let folder = std::env::var_os("OUT_DIR").expect("cargo sets OUT_DIR");
    std::fs::write(Path::new(&folder).join(name), table).expect("OUT_DIR can be written");
}

/// Every material with its rows, in the order of first appearance.
pub(crate) fn read(text: &str) -> Result<Vec<(String, Draft)>, String> {
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
    let mut drafts: Vec<(String, Draft)> = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| format!("{SOURCE}: {error}"))?;
        let line = record.position().map_or(0, csv::Position::line);
        row(&record, line, &mut drafts).map_err(|what| format!("{SOURCE}:{line}: {what}"))?;
    }
    for (id, draft) in &drafts {
        whole(draft).map_err(|what| format!("{SOURCE}:{}: {id}: {what}", draft.line))?;
    }
    Ok(drafts)
}

fn row(
    record: &csv::StringRecord,
    line: u64,
    drafts: &mut Vec<(String, Draft)>,
) -> Result<(), String> {
    let text = |column: usize| record.get(column).unwrap_or("").trim();
    let id = text(0);
    if id.is_empty()
        || !id
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
    {
        return Err(format!("id {id:?} must be of a-z, 0-9 and _"));
    }
    let group = Group::from_spelling(text(2)).ok_or(format!("no group {:?}", text(2)))?;
    let property = Property::ALL
        .iter()
        .copied()
        .find(|property| property.name() == text(3))
        .ok_or(format!("no field {:?}", text(3)))?;
    let number = |column: usize| {
        text(column)
            .parse::<f64>()
            .map_err(|_| format!("{} is not a number", COLUMNS[column]))
    };
    let figure = [number(4)?, number(5)?, number(6)?];
    let (low, high) = property.limits();
    if !(low <= figure[0] && figure[0] <= figure[1] && figure[1] <= figure[2] && figure[2] <= high)
    {
        return Err(format!(
            "{} needs {low} <= low <= typical <= high <= {high}",
            text(3)
        ));
    }
    if text(7).is_empty() {
        return Err("a number needs its source".into());
    }
    if !matches!(text(8), "verified" | "memory" | "practice") {
        return Err("mark is one of verified, memory, practice".into());
    }
    if !drafts.iter().any(|(known, _)| known == id) {
        let draft = Draft {
            line,
            name: text(1).into(),
            group,
            values: BTreeMap::new(),
        };
        drafts.push((id.into(), draft));
    }
    let (_, draft) = drafts
        .iter_mut()
        .find(|(known, _)| known == id)
        .expect("it was pushed above");
    if draft.name != text(1) || draft.group != group {
        return Err(format!(
            "{id} has another name or group on line {}",
            draft.line
        ));
    }
    if draft.values.insert(property as usize, figure).is_some() {
        return Err(format!("{id} has {} twice", text(3)));
    }
    Ok(())
}

/// What only the whole of a material can tell.
fn whole(draft: &Draft) -> Result<(), String> {
    let typical = |property: Property| draft.values.get(&(property as usize)).map(|f| f[1]);
    for needed in [
        Property::LooseDensity,
        Property::WaterPerWet,
        Property::Grain,
    ] {
        if typical(needed).is_none() {
            return Err(format!("{} is missing", needed.name()));
        }
    }
    let fractions = [Property::Sand, Property::Silt, Property::Clay].map(typical);
    if fractions.iter().any(Option::is_some) {
        let sum: f64 = fractions.iter().flatten().sum();
        if (sum - 100.0).abs() > 0.5 {
            return Err(format!("sand, silt and clay sum to {sum}, not 100"));
        }
    }
    Ok(())
}

fn table(drafts: &[(String, Draft)]) -> String {
    let mut out = String::from("/// Every material of the catalogue, in the order of its file.\n");
    out.push_str("pub static CATALOGUE: &[Entry] = &[\n");
    for (id, draft) in drafts {
        let _ = writeln!(
            out,
            "entry({id:?}, {:?}, Group::{:?}, [",
            draft.name, draft.group
        );
        for index in 0..Property::ALL.len() {
            let _ = match draft.values.get(&index) {
                Some([low, typical, high]) => {
                    writeln!(out, "between({low:?}, {typical:?}, {high:?}),")
                }
                None => writeln!(out, "None,"),
            };
        }
        out.push_str("]),\n");
    }
    out.push_str("];\n");
    out
}
