//! Brings the tables of other languages up to the sentences of the code: what is new is added
//! without a text, what nothing says any more is taken out, and what is written stays.
//!
//! `cargo run --example sentences`

#[path = "../tests/support/sentences.rs"]
mod sentences;
#[allow(dead_code)]
#[path = "../build/tongues.rs"]
mod tongues;

use barrowmix::tongue::Language;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;

fn main() -> Result<(), String> {
    let sentences = sentences::all();
    // English is the text of the code.
    for language in Language::ALL.into_iter().skip(1).map(Language::tag) {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("src/words")
            .join(language);
        let mut written = BTreeMap::new();
        for path in tongues::files(&folder)? {
            let text = fs::read_to_string(&path).map_err(|error| error.to_string())?;
            for entry in tongues::read(&text, &path.display().to_string())? {
                written.insert(entry.key.clone(), entry);
            }
            fs::remove_file(&path).map_err(|error| error.to_string())?;
        }
        // Each text in the first file that tells it.
        let mut seen = BTreeSet::new();
        let mut tables: BTreeMap<String, String> = BTreeMap::new();
        let mut without = 0;
        for sentence in &sentences {
            if !seen.insert(&sentence.key) {
                continue;
            }
            let name = table_of(&sentence.file);
            let table = tables
                .entry(name)
                .or_insert_with(|| head(language, &sentence.file));
            let known = written.get(&sentence.key).cloned().unwrap_or_default();
            without += usize::from(known.texts.iter().all(String::is_empty));
            table.push('\n');
            for note in &known.notes {
                let _ = writeln!(table, "# {note}");
            }
            if !sentence.told.is_empty() {
                let _ = writeln!(table, "#. {}", sentence.told);
            }
            let _ = writeln!(table, "msgid {}", quoted(&sentence.key));
            if let Some(many) = &sentence.many {
                let _ = writeln!(table, "msgid_plural {}", quoted(many));
                for form in 0..2 {
                    let text = known.texts.get(form).map_or("", String::as_str);
                    let _ = writeln!(table, "msgstr[{form}] {}", quoted(text));
                }
            } else {
                let text = known.texts.first().map_or("", String::as_str);
                let _ = writeln!(table, "msgstr {}", quoted(text));
            }
        }
        for (name, text) in &tables {
            let path = folder.join(name);
            let parent = path.parent().unwrap_or(&folder);
            fs::create_dir_all(parent).map_err(|error| error.to_string())?;
            fs::write(&path, text).map_err(|error| error.to_string())?;
        }
        let gone = written.keys().filter(|key| !seen.contains(key)).count();
        println!(
            "{language}: {} texts, {without} without one, {gone} taken out",
            seen.len()
        );
    }
    Ok(())
}

fn table_of(file: &str) -> String {
    let name = file.strip_prefix("src/words/").unwrap_or_else(|| {
        file.strip_prefix("src/")
            .or_else(|| file.strip_prefix("examples/recipes/"))
            .unwrap_or(file)
    });
    let name = if name == "text/en.rs" {
        "text.rs"
    } else {
        name
    };
    match name.rsplit_once('.') {
        Some((name, _)) => format!("{name}.po"),
        None => format!("{name}.po"),
    }
}

fn head(language: &str, file: &str) -> String {
    format!(
        "# Texts of {file}.\nmsgid \"\"\nmsgstr \"\"\n\"Language: {language}\"\n\"Content-Type: text/plain; charset=UTF-8\"\n"
    )
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
