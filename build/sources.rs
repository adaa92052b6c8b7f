//! Checks `src/sources.csv`, which every other table names its sources by.

use super::table::{Sources, each};
use std::fmt::Write as _;

pub(crate) const SOURCE: &str = "src/sources.csv";

/// Every source by its key.
pub(crate) fn read(text: &str) -> Result<Sources, String> {
    let mut sources = Sources::new();
    each(SOURCE, text, &["key", "citation"], |row| {
        let (key, citation) = (row.text("key"), row.text("citation"));
        if key.is_empty()
            || !key
                .bytes()
                .all(|b| b.is_ascii_uppercase() || b.is_ascii_digit())
        {
            return Err(format!("key {key:?} must be of A-Z and 0-9"));
        }
        if citation.is_empty() {
            return Err(format!("{key} needs its citation"));
        }
        if sources.insert(key.into(), citation.into()).is_some() {
            return Err(format!("{key} stands twice"));
        }
        Ok(())
    })?;
    Ok(sources)
}

pub(crate) fn table(sources: &Sources) -> String {
    let mut out =
        String::from("/// Every source, by its key.\npub static SOURCES: &[Source] = &[\n");
    for (key, citation) in sources {
        let _ = writeln!(out, "Source {{ key: {key:?}, citation: {citation:?} }},");
    }
    out.push_str("];\n");
    out
}
