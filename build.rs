//! Checks the tables of data and turns them into Rust, so that nothing is parsed at run time and a
//! slip in the data stops the build with its file and line.

use std::path::Path;

// These files belong to the crate; here they are read for their tables alone.
#[macro_use]
#[path = "src/fields.rs"]
mod fields;
#[allow(dead_code, unreachable_pub)]
#[path = "src/material/fact.rs"]
mod fact;
#[allow(dead_code, unreachable_pub)]
#[path = "src/material/group.rs"]
mod group;
#[allow(dead_code, unreachable_pub)]
#[path = "src/material/property.rs"]
mod property;
#[allow(dead_code, unreachable_pub)]
#[path = "src/ground/traits.rs"]
mod traits;

/// The materials.
#[path = "build/catalogue.rs"]
pub(crate) mod catalogue;
/// What trials found, and what the materials are.
#[path = "build/evidence.rs"]
pub(crate) mod evidence;
/// The presets of the ground.
#[path = "build/presets.rs"]
pub(crate) mod presets;
/// What all numbers are cited by.
#[path = "build/sources.rs"]
pub(crate) mod sources;
/// Systems of texture classes.
#[path = "build/systems.rs"]
pub(crate) mod systems;
/// What the tables have in common.
#[path = "build/table.rs"]
pub(crate) mod table;
/// The texts in other languages.
#[path = "build/tongues.rs"]
pub(crate) mod tongues;

fn main() {
    for file in [
        catalogue::SOURCE,
        evidence::ABOUT,
        evidence::FINDINGS,
        presets::SOURCE,
        sources::SOURCE,
        systems::ASKS,
        systems::CORNERS,
        "src/fields.rs",
        "src/material/fact.rs",
        "src/material/group.rs",
        "src/material/property.rs",
        "src/ground/traits.rs",
        "src/words/es",
        "src/words/fr",
    ] {
        println!("cargo::rerun-if-changed={file}");
    }
    if let Err(message) = tables() {
        eprintln!("{message}");
        std::process::exit(1);
    }
}

fn tables() -> Result<(), String> {
    let sources = sources::read(&text(sources::SOURCE)?)?;
    write("sources.rs", &sources::table(&sources));
    let materials = catalogue::read(&text(catalogue::SOURCE)?, &sources)?;
    write("catalogue.rs", &catalogue::table(&materials));
    write("numbers.rs", &catalogue::numbers(&materials));
    let known: Vec<&str> = materials.iter().map(|(id, _)| id.as_str()).collect();
    let findings = evidence::findings(&text(evidence::FINDINGS)?, &known, &sources)?;
    write("evidence.rs", &findings);
    let about = evidence::about(&text(evidence::ABOUT)?, &known)?;
    write("about.rs", &about);
    let grounds = presets::read(&text(presets::SOURCE)?, &sources)?;
    write("presets.rs", &presets::table(&grounds));
    let classes = systems::read(&text(systems::CORNERS)?, &text(systems::ASKS)?)?;
    write("systems.rs", &systems::table(&classes));
    write("es.txt", &tongues::table("src/words/es")?);
    write("fr.txt", &tongues::table("src/words/fr")?);
    Ok(())
}

fn text(path: &str) -> Result<String, String> {
    std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))
}

fn write(name: &str, table: &str) {
    let folder = std::env::var_os("OUT_DIR").expect("cargo sets OUT_DIR");
    std::fs::write(Path::new(&folder).join(name), table).expect("OUT_DIR can be written");
}

/// A number of a table with where it comes from, as an item of a Rust list.
pub(crate) fn number_row(row: &table::Row, [low, typical, high]: [f64; 3], unit: &str) -> String {
    format!(
        "Number {{ field: {:?}, unit: {unit:?}, low: {low:?}, typical: {typical:?}, high: {high:?}, \
         source: {:?}, mark: Mark::{}, note: {:?} }},\n",
        row.text("field"),
        row.text("source"),
        row.mark(),
        row.text("note"),
    )
}
