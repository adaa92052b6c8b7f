//! Checks `src/material/evidence.csv` and `src/material/about.csv` and turns them into tables.

use super::table::{Sources, each};
use std::fmt::Write as _;

pub(crate) const FINDINGS: &str = "src/material/evidence.csv";
pub(crate) const ABOUT: &str = "src/material/about.csv";
const FINDING_COLUMNS: [&str; 8] = [
    "id",
    "materials",
    "outcome",
    "effect",
    "spread",
    "soils",
    "source",
    "mark",
];
const ABOUT_COLUMNS: [&str; 4] = ["id", "what", "clay", "rate"];
/// What stands where a finding fits no material of the catalogue.
const NONE: &str = "-";

/// The findings as a table, of materials with these ids.
pub(crate) fn findings(text: &str, known: &[&str], sources: &Sources) -> Result<String, String> {
    let mut ids: Vec<String> = Vec::new();
    let mut rows = String::new();
    each(FINDINGS, text, &FINDING_COLUMNS, |row| {
        let id = row.id()?;
        if ids.iter().any(|earlier| earlier == id) {
            return Err(format!("{id} stands twice"));
        }
        ids.push(id.into());
        let list = row.text("materials");
        if list.is_empty() {
            return Err(format!("{id} needs its materials, or {NONE}"));
        }
        let mut materials: Vec<&str> = Vec::new();
        for material in list.split(' ').filter(|material| *material != NONE) {
            if !known.contains(&material) {
                return Err(format!("no material {material:?}"));
            }
            if materials.contains(&material) {
                return Err(format!("{id} names {material} twice"));
            }
            materials.push(material);
        }
        for needed in ["outcome", "effect"] {
            if row.text(needed).is_empty() {
                return Err(format!("{id} needs its {needed}"));
            }
        }
        row.sourced(sources)?;
        let _ = writeln!(
            rows,
            "Finding {{ id: {id:?}, materials: &{materials:?}, outcome: {:?}, effect: {:?}, \
             spread: {:?}, soils: {:?}, source: {:?}, mark: Mark::{} }},",
            row.text("outcome"),
            row.text("effect"),
            row.text("spread"),
            row.text("soils"),
            row.text("source"),
            row.mark(),
        );
        Ok(())
    })?;
    Ok(format!(
        "/// Every finding, in the order of its file.\npub static EVIDENCE: &[Finding] = &[\n{rows}];\n"
    ))
}

/// What every material is, as a table in the order of the catalogue.
pub(crate) fn about(text: &str, known: &[&str]) -> Result<String, String> {
    let mut rows: Vec<Option<[String; 2]>> = vec![None; known.len()];
    each(ABOUT, text, &ABOUT_COLUMNS, |row| {
        let id = row.id()?;
        let place = known.iter().position(|material| *material == id);
        let place = place.ok_or(format!("no material {id:?}"))?;
        for needed in ["what", "clay", "rate"] {
            if row.text(needed).is_empty() {
                return Err(format!("{id} needs its {needed}"));
            }
        }
        let text = format!(
            "About {{ id: {id:?}, what: {:?}, clay: {:?}, rate: {:?} }},\n",
            row.text("what"),
            row.text("clay"),
            row.text("rate"),
        );
        let line = format!("({id:?}, {:?}),\n", row.text("what"));
        match rows[place].replace([text, line]) {
            Some(_) => Err(format!("{id} stands twice")),
            None => Ok(()),
        }
    })?;
    let mut out = String::from(
        "/// What every material is, in the order of the catalogue.\npub static ABOUT: &[About] = &[\n",
    );
    // Apart, so that who asks for the line alone does not carry the rest.
    let mut lines = String::from("static LINES: &[(&str, &str)] = &[\n");
    for (row, id) in rows.iter().zip(known) {
        let [text, line] = row.as_ref().ok_or(format!("{ABOUT}: {id} has no row"))?;
        out += text;
        lines += line;
    }
    Ok(out + "];\n" + &lines + "];\n")
}
