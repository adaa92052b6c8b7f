//! The tables of other languages: PO files, as translators have programs for them. One lies beside
//! each file of sentences, under the name of its language.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// One text of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Entry {
    /// The English text.
    pub(crate) key: String,
    /// The English text for many, where it counts.
    pub(crate) many: Option<String>,
    /// What stands in its place: one text, or one for each form. Empty where nobody wrote one.
    pub(crate) texts: Vec<String>,
    /// What translators wrote beside it: lines that begin `# `.
    pub(crate) notes: Vec<String>,
}

/// Reads a PO file: comments, `msgid`, `msgid_plural`, `msgstr`, `msgstr[n]`, each a text in quotes
/// that may go on in lines of quotes. The head (an empty `msgid`) is passed over.
pub(crate) fn read(text: &str, name: &str) -> Result<Vec<Entry>, String> {
    enum At {
        Nothing,
        Key,
        Many,
        Text,
    }
    let mut entries = Vec::new();
    let mut entry = Entry::default();
    let mut at = At::Nothing;
    let lines = text.lines().chain([""]);
    for (number, line) in lines.enumerate().map(|(at, line)| (at + 1, line.trim())) {
        let wrong = |what: &str| format!("{name}:{number}: {what}");
        if line.is_empty() || line.starts_with("#") {
            if !matches!(at, At::Nothing) {
                entries.push(std::mem::take(&mut entry));
                at = At::Nothing;
            }
            if line.starts_with("# ") {
                entry.notes.push(line[2..].to_owned());
            }
            continue;
        }
        let (word, quoted) = match line.find('"') {
            Some(0) => ("", line),
            Some(from) => (line[..from].trim(), &line[from..]),
            None => return Err(wrong("a text in quotes is missing")),
        };
        let inner = quoted
            .strip_prefix('"')
            .and_then(|text| text.strip_suffix('"'));
        let inner = inner.ok_or_else(|| wrong("the quotes are not closed"))?;
        let inner = plain(inner).ok_or_else(|| wrong("only \\\" and \\\\ are known"))?;
        match word {
            "" => match at {
                At::Nothing => return Err(wrong("a text of nothing")),
                At::Key => entry.key += &inner,
                At::Many => *entry.many.get_or_insert_default() += &inner,
                At::Text => match entry.texts.last_mut() {
                    Some(text) => *text += &inner,
                    None => return Err(wrong("a text of nothing")),
                },
            },
            "msgid" => {
                if !matches!(at, At::Nothing) {
                    entries.push(std::mem::take(&mut entry));
                }
                entry.key = inner;
                at = At::Key;
            }
            "msgid_plural" => {
                entry.many = Some(inner);
                at = At::Many;
            }
            word if word == "msgstr" || word.starts_with("msgstr[") => {
                entry.texts.push(inner);
                at = At::Text;
            }
            _ => return Err(wrong("not known here")),
        }
    }
    entries.retain(|entry| !entry.key.is_empty());
    Ok(entries)
}

fn plain(text: &str) -> Option<String> {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        if letter == '\\' {
            out.push(letters.next().filter(|next| matches!(next, '"' | '\\'))?);
        } else if letter == '"' {
            return None;
        } else {
            out.push(letter);
        }
    }
    Some(out)
}

/// Every PO file of a folder and those within it, in order.
pub(crate) fn files(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let mut found = Vec::new();
    let entries = fs::read_dir(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    for entry in entries {
        let path = entry.map_err(|error| error.to_string())?.path();
        if path.is_dir() {
            found.extend(files(&path)?);
        } else if path.extension().is_some_and(|end| end == "po") {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

/// A language as one list: key, tab, text, a line for each, by key; forms are parted by U+001F.
pub(crate) fn table(folder: &str) -> Result<String, String> {
    let mut rows: BTreeMap<String, (String, String)> = BTreeMap::new();
    for path in files(Path::new(folder))? {
        let name = path.display().to_string();
        let text = fs::read_to_string(&path).map_err(|error| format!("{name}: {error}"))?;
        for entry in read(&text, &name)? {
            if entry.texts.iter().any(String::is_empty) || entry.texts.is_empty() {
                continue;
            }
            let told = entry.texts.join("\u{1f}");
            if let Some((other, before)) = rows.get(&entry.key)
                && *other != told
            {
                return Err(format!(
                    "{name}: {:?} stands in {before} with another text",
                    entry.key
                ));
            }
            rows.insert(entry.key, (told, name.clone()));
        }
    }
    let rows = rows.iter();
    Ok(rows
        .map(|(key, (told, _))| format!("{key}\t{told}\n"))
        .collect())
}
