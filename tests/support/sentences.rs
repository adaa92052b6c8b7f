//! Every text that is told, read from the sources of the words and from the tables of data: what a
//! table of another language has to have.

use std::fs;
use std::path::{Path, PathBuf};

use barrowmix::ground::PRESETS;
use barrowmix::material::{About, EVIDENCE, NUMBERS, catalogue};

/// A text and where it is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sentence {
    /// The file, from the root of the package.
    pub(crate) file: String,
    /// The English text.
    pub(crate) key: String,
    /// The English text for many, where it counts.
    pub(crate) many: Option<String>,
    /// What stands in its places, as the code has it.
    pub(crate) told: String,
}

/// All of them, by file; a text that stands twice comes twice.
pub(crate) fn all() -> Vec<Sentence> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["src/words", "src/texture"] {
        rust_files(&root.join(folder), &mut files);
    }
    let mut out = Vec::new();
    for path in files {
        let text = fs::read_to_string(&path).expect("a source can be read");
        let file = path.strip_prefix(root).expect("it lies within the package");
        of_source(
            &file.display().to_string().replace('\\', "/"),
            &text,
            &mut out,
        );
    }
    of_data(&mut out);
    out
}

fn rust_files(folder: &Path, files: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder)
        .expect("a folder can be read")
        .map(|entry| entry.expect("an entry can be read").path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|end| end == "rs") {
            files.push(path);
        }
    }
}

fn of_data(out: &mut Vec<Sentence>) {
    let mut add = |file: &str, text: &str| {
        if !text.is_empty() {
            out.push(Sentence {
                file: file.to_owned(),
                key: text.to_owned(),
                many: None,
                told: String::new(),
            });
        }
    };
    for entry in catalogue() {
        add("src/material/catalogue.csv", entry.name);
        let numbers = NUMBERS.iter().find(|(id, _)| *id == entry.id);
        for number in numbers.map_or(&[][..], |(_, numbers)| numbers) {
            add("src/material/catalogue.csv", number.note);
        }
        if let Some(about) = About::find(entry.id) {
            for text in [about.what, about.clay, about.rate] {
                add("src/material/about.csv", text);
            }
        }
    }
    for found in EVIDENCE {
        for text in [found.outcome, found.effect, found.spread, found.soils] {
            add("src/material/evidence.csv", text);
        }
    }
    for preset in PRESETS {
        add("src/ground/presets.csv", preset.name);
        for number in preset.numbers {
            add("src/ground/presets.csv", number.note);
        }
    }
    for ready in &barrowmix::words::READY {
        let document: serde_json::Value = serde_json::from_str(ready.json).expect("JSON");
        let file = format!("src/words/lectern/{}.json", ready.id);
        add(&file, document["title"].as_str().unwrap_or_default());
        for step in document["lectern"].as_array().into_iter().flatten() {
            add(&file, step["caption"].as_str().unwrap_or_default());
        }
    }
    let demo = include_str!("../../examples/recipes/willowbank.json");
    let demo: serde_json::Value = serde_json::from_str(demo).expect("JSON");
    add(
        "examples/recipes/willowbank.json",
        demo["title"].as_str().unwrap_or_default(),
    );
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    /// A word with where it ends, and with its `!` where it has one.
    Word(String),
    Text(String),
    Sign(char),
}

/// Rust without comments and white space, as far as texts need it.
fn tokens(source: &str) -> Vec<(Token, usize)> {
    let letters: Vec<char> = source.chars().collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < letters.len() {
        let letter = letters[at];
        let next = letters.get(at + 1).copied().unwrap_or(' ');
        if letter == '/' && next == '/' {
            while at < letters.len() && letters[at] != '\n' {
                at += 1;
            }
        } else if letter == '"' {
            let from = at;
            at += 1;
            let mut text = String::new();
            while letters[at] != '"' {
                if letters[at] == '\\' {
                    at += 1;
                    match letters[at] {
                        '\n' => {
                            while letters[at + 1].is_whitespace() {
                                at += 1;
                            }
                        }
                        'n' => text.push('\n'),
                        't' => text.push('\t'),
                        'u' => {
                            let from = at + 2;
                            let to =
                                from + letters[from..].iter().position(|c| *c == '}').expect("}");
                            let code: String = letters[from..to].iter().collect();
                            let code = u32::from_str_radix(&code, 16).expect("a code");
                            text.push(char::from_u32(code).expect("a letter"));
                            at = to;
                        }
                        other => text.push(other),
                    }
                } else {
                    text.push(letters[at]);
                }
                at += 1;
            }
            at += 1;
            out.push((Token::Text(text), from));
        } else if letter == '\'' {
            // A letter in quotes, or a lifetime.
            at += match (next, letters.get(at + 2)) {
                ('\\', _) => {
                    2 + letters[at + 2..]
                        .iter()
                        .position(|c| *c == '\'')
                        .unwrap_or(0)
                }
                (_, Some('\'')) => 3,
                _ => 1,
            };
            if next == '\\' {
                at += 1;
            }
        } else if letter.is_alphabetic() || letter == '_' {
            let from = at;
            while at < letters.len() && (letters[at].is_alphanumeric() || letters[at] == '_') {
                at += 1;
            }
            let mut word: String = letters[from..at].iter().collect();
            if letters.get(at) == Some(&'!') && letters.get(at + 1) != Some(&'=') {
                word.push('!');
                at += 1;
            }
            out.push((Token::Word(word), from));
        } else {
            if !letter.is_whitespace() {
                out.push((Token::Sign(letter), at));
            }
            at += 1;
        }
    }
    out
}

fn of_source(file: &str, source: &str, out: &mut Vec<Sentence>) {
    let source = source
        .split("#[cfg(test)]\nmod tests")
        .next()
        .unwrap_or(source);
    let letters: Vec<char> = source.chars().collect();
    let tokens = tokens(source);
    let mut add = |key: &str, many: Option<&str>, told: String| {
        if key.is_empty() {
            return;
        }
        out.push(Sentence {
            file: file.to_owned(),
            key: key.to_owned(),
            many: many.map(str::to_owned),
            told,
        });
    };
    let sign = |at: usize| match tokens.get(at) {
        Some((Token::Sign(sign), _)) => *sign,
        _ => ' ',
    };
    for (at, (token, _)) in tokens.iter().enumerate() {
        let Token::Word(word) = token else { continue };
        match word.as_str() {
            "say!" | "tr!" | "said!" | "mark!" => {
                if let Some((Token::Text(key), _)) = tokens.get(at + 2) {
                    let told = told(&letters, &tokens, at + 1);
                    add(key, None, told);
                }
            }
            "say_many!" => {
                let within = parts(&tokens, at + 1);
                let texts: Vec<&str> = within
                    .iter()
                    .filter_map(|from| match &tokens[*from].0 {
                        Token::Text(text) => Some(text.as_str()),
                        _ => None,
                    })
                    .collect();
                if let [one, many, ..] = texts[..] {
                    add(one, Some(many), told(&letters, &tokens, at + 1));
                }
            }
            // texts! { Name "text"; }
            "texts!" => {
                for pair in tokens[at..].windows(2) {
                    if let [(Token::Word(_), _), (Token::Text(text), _)] = pair {
                        add(text, None, String::new());
                    }
                }
            }
            // const LABELS: &[(&str, &str)] = &[("key", "text")];
            "const" => {
                let Some(equals) = (at..at + 20).find(|at| sign(*at) == '=') else {
                    continue;
                };
                let kind: String = tokens[at + 2..equals]
                    .iter()
                    .map(|(token, _)| match token {
                        Token::Word(word) => word.clone(),
                        Token::Text(_) => String::new(),
                        Token::Sign(sign) => sign.to_string(),
                    })
                    .collect();
                if kind != ":&[(&str,&str)]" {
                    continue;
                }
                let mut from = equals;
                while sign(from) != ';' {
                    if sign(from) == '('
                        && let Some((Token::Text(_), _)) = tokens.get(from + 1)
                        && let Some((Token::Text(text), _)) = tokens.get(from + 3)
                    {
                        add(text, None, String::new());
                    }
                    from += 1;
                }
            }
            _ => {}
        }
    }
}

/// Where the arguments of a macro begin.
fn parts(tokens: &[(Token, usize)], open: usize) -> Vec<usize> {
    let mut out = vec![open + 1];
    let mut depth = 0;
    for (at, (token, _)) in tokens.iter().enumerate().skip(open) {
        match token {
            Token::Sign('(' | '[' | '{') => depth += 1,
            Token::Sign(')' | ']' | '}') => {
                depth -= 1;
                if depth == 0 {
                    break;
                }
            }
            Token::Sign(',') if depth == 1 => out.push(at + 1),
            _ => {}
        }
    }
    out
}

/// What is told, as the code has it.
fn told(letters: &[char], tokens: &[(Token, usize)], open: usize) -> String {
    let mut out = Vec::new();
    let starts = parts(tokens, open);
    for (index, from) in starts.iter().enumerate() {
        if matches!(tokens[*from].0, Token::Text(_)) {
            continue;
        }
        let start = tokens[*from].1;
        let end = match starts.get(index + 1) {
            Some(next) => tokens[next - 1].1,
            None => {
                let mut depth = 1;
                let mut at = *from;
                while depth > 0 {
                    match tokens[at].0 {
                        Token::Sign('(' | '[' | '{') => depth += 1,
                        Token::Sign(')' | ']' | '}') => depth -= 1,
                        _ => {}
                    }
                    at += 1;
                }
                tokens[at - 1].1
            }
        };
        let text: String = letters[start..end].iter().collect();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if !text.is_empty() {
            out.push(text);
        }
    }
    out.join(" | ")
}
