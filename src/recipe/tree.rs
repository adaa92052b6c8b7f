//! JSON as a tree that keeps order, the text of every number, and what it does not know.

/// A JSON value.
#[derive(Clone, Debug, PartialEq)]
pub enum Tree {
    /// `null`
    Null,
    /// `true` or `false`
    Bool(bool),
    /// A number, as written.
    Number(String),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Tree>),
    /// Named values in the order written; a name may stand twice.
    Object(Vec<(String, Tree)>),
}

/// Where a text stops being JSON, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotJson {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Tree {
    /// A number's tree.
    pub fn number(value: f64) -> Tree {
        Tree::Number(super::number_text(value))
    }

    /// A text's tree.
    pub fn text(value: impl Into<String>) -> Tree {
        Tree::Text(value.into())
    }

    /// Writes the tree on many lines, two spaces a level.
    pub fn pretty(&self) -> String {
        let mut out = String::new();
        self.write(&mut out, Some(0));
        out.push('\n');
        out
    }

    /// Writes the tree without white space.
    pub fn compact(&self) -> String {
        let mut out = String::new();
        self.write(&mut out, None);
        out
    }

    fn write(&self, out: &mut String, indent: Option<usize>) {
        match self {
            Tree::Null => out.push_str("null"),
            Tree::Bool(value) => out.push_str(if *value { "true" } else { "false" }),
            Tree::Number(text) => out.push_str(text),
            Tree::Text(text) => write_text(text, out),
            Tree::List(items) => {
                let parts = items.iter().map(|item| (None, item));
                write_many(out, indent, ['[', ']'], parts);
            }
            Tree::Object(pairs) => {
                let parts = pairs.iter().map(|(name, item)| (Some(name.as_str()), item));
                write_many(out, indent, ['{', '}'], parts);
            }
        }
    }
}

fn write_many<'a>(
    out: &mut String,
    indent: Option<usize>,
    [open, close]: [char; 2],
    parts: impl Iterator<Item = (Option<&'a str>, &'a Tree)>,
) {
    let deeper = indent.map(|level| level + 1);
    let new_line = |out: &mut String, level: Option<usize>| {
        if let Some(level) = level {
            out.push('\n');
            out.extend(std::iter::repeat_n("  ", level));
        }
    };
    out.push(open);
    let mut empty = true;
    for (name, item) in parts {
        if !empty {
            out.push(',');
        }
        empty = false;
        new_line(out, deeper);
        if let Some(name) = name {
            write_text(name, out);
            out.push_str(if indent.is_some() { ": " } else { ":" });
        }
        item.write(out, deeper);
    }
    if !empty {
        new_line(out, indent);
    }
    out.push(close);
}

fn write_text(text: &str, out: &mut String) {
    out.push('"');
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            control if control < ' ' => {
                out.push_str("\\u00");
                for nibble in [control as u32 >> 4, control as u32 & 15] {
                    out.push(char::from_digit(nibble, 16).unwrap_or('0'));
                }
            }
            other => out.push(other),
        }
    }
    out.push('"');
}

/// Line and column, in letters, of a byte of a text.
pub(super) fn place(text: &[u8], offset: usize) -> NotJson {
    let before = text.get(..offset).unwrap_or(text);
    let line_start = before
        .iter()
        .rposition(|byte| *byte == b'\n')
        .map_or(0, |at| at + 1);
    // A letter starts with every byte that does not go on with one.
    let letters = before[line_start..]
        .iter()
        .filter(|byte| **byte & 0xc0 != 0x80)
        .count();
    NotJson {
        line: before.iter().filter(|byte| **byte == b'\n').count() + 1,
        column: letters + 1,
    }
}

/// Whether a text is what JSON calls a number.
pub(super) fn is_number(text: &str) -> bool {
    // A reader of its own: that of JSON would come into the page's module for this alone.
    let mut rest = text.as_bytes();
    let skip = |rest: &mut &[u8], of: &[u8]| {
        let first = rest.first().copied();
        let found = first.is_some_and(|first| of.contains(&first));
        if found {
            *rest = &rest[1..];
        }
        found
    };
    let digits = |rest: &mut &[u8]| {
        let mut any = false;
        while skip(rest, b"0123456789") {
            any = true;
        }
        any
    };
    skip(&mut rest, b"-");
    let whole = skip(&mut rest, b"0") || digits(&mut rest);
    let part = !skip(&mut rest, b".") || digits(&mut rest);
    let power = !skip(&mut rest, b"eE") || {
        skip(&mut rest, b"+-");
        digits(&mut rest)
    };
    whole && part && power && rest.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_what_the_reader_of_json_calls_one() {
        // Every text of up to five of these letters.
        const LETTERS: &[u8] = b"0 1-+.eEx";
        let mut texts = vec![String::new()];
        let mut from = 0;
        for _ in 0..5 {
            let to = texts.len();
            for index in from..to {
                for letter in LETTERS {
                    texts.push(format!("{}{}", texts[index], char::from(*letter)));
                }
            }
            from = to;
        }
        for text in &texts {
            let json = matches!(Tree::parse(text), Ok(Tree::Number(number)) if number == *text);
            assert_eq!(is_number(text), json, "{text:?}");
        }
        let numbers = texts.iter().filter(|text| is_number(text)).count();
        assert!(numbers > 300, "{numbers} numbers");
    }

    #[test]
    fn keeps_order_numbers_and_doubles() {
        let text = r#"{"b":1.50,"a":[1e400,-0.0,null,true],"b":"x\n\u0001\"é"}"#;
        let tree = Tree::parse(text).expect("it is JSON");
        assert_eq!(tree.compact(), text);
        assert_eq!(Tree::parse(&tree.pretty()), Ok(tree));
    }

    #[test]
    fn tells_where_it_stops_being_json() {
        assert_eq!(
            Tree::parse("{\n  \"a\": 1,\n  oops\n}").map_err(|e| e.line),
            Err(3)
        );
        assert_eq!(Tree::parse("").map_err(|e| (e.line, e.column)), Err((1, 1)));
        assert_eq!(
            Tree::parse("[1,\n \"\\ud800\"]").map_err(|e| (e.line, e.column)),
            Err((2, 2)),
            "half a surrogate"
        );
        assert_eq!(
            Tree::parse("{\"é\":NaN}").map_err(|e| (e.line, e.column)),
            Err((1, 6)),
            "columns count letters"
        );
        let deep = "[".repeat(100_000) + &"]".repeat(100_000);
        assert!(
            Tree::parse(&deep).is_err(),
            "too deep is an error, not a crash"
        );
    }
}
