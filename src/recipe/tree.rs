//! JSON as a tree that keeps order, the text of every number, and what it does not know.

use serde::de::{Error as _, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;
use std::fmt;

/// How deep arrays and objects may stand in each other.
const DEPTH_LIMIT: usize = 64;

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
    /// Reads a text.
    ///
    /// # Errors
    /// [`NotJson`] with the place of the first fault.
    pub fn parse(text: &str) -> Result<Tree, NotJson> {
        let raw: &RawValue = serde_json::from_str(text).map_err(|error| NotJson {
            line: error.line().max(1),
            column: error.column().max(1),
        })?;
        // The grammar is right by now; what can still fail is a text with half a surrogate, or
        // lists in lists without end. Both are told with the place of the innermost value.
        of_raw(raw, 0).map_err(|part| place(text, part))
    }

    /// A number's tree.
    pub fn number(value: f64) -> Tree {
        Tree::Number(number_text(value))
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

/// The shortest text that reads back as the same number.
pub fn number_text(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 || (1e-5..1e15).contains(&size) {
        value.to_string()
    } else {
        format!("{value:e}")
    }
}

fn place(text: &str, part: &str) -> NotJson {
    let offset = (part.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    let before = text.get(..offset).unwrap_or("");
    NotJson {
        line: before.matches('\n').count() + 1,
        column: before
            .rsplit('\n')
            .next()
            .map_or(0, |line| line.chars().count())
            + 1,
    }
}

fn of_raw(raw: &RawValue, depth: usize) -> Result<Tree, &str> {
    let text = raw.get();
    if depth > DEPTH_LIMIT {
        return Err(text);
    }
    Ok(match text.as_bytes().first() {
        Some(b'{') => {
            let pairs: Pairs = serde_json::from_str(text).map_err(|_| text)?;
            let mut out = Vec::with_capacity(pairs.0.len());
            for (name, value) in pairs.0 {
                out.push((name, of_raw(value, depth + 1)?));
            }
            Tree::Object(out)
        }
        Some(b'[') => {
            let items: Vec<&RawValue> = serde_json::from_str(text).map_err(|_| text)?;
            let mut out = Vec::with_capacity(items.len());
            for item in items {
                out.push(of_raw(item, depth + 1)?);
            }
            Tree::List(out)
        }
        Some(b'"') => Tree::Text(serde_json::from_str(text).map_err(|_| text)?),
        Some(b't') => Tree::Bool(true),
        Some(b'f') => Tree::Bool(false),
        Some(b'n') => Tree::Null,
        _ => Tree::Number(text.to_owned()),
    })
}

/// The members of an object in order, values unread.
struct Pairs<'a>(Vec<(String, &'a RawValue)>);

impl<'de: 'a, 'a> serde::Deserialize<'de> for Pairs<'a> {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct InOrder;
        impl<'de> Visitor<'de> for InOrder {
            type Value = Pairs<'de>;
            fn expecting(&self, out: &mut fmt::Formatter) -> fmt::Result {
                out.write_str("an object")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut pairs = Vec::new();
                while let Some(name) = map.next_key::<String>()? {
                    pairs.push((name, map.next_value()?));
                }
                Ok(Pairs(pairs))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, _: A) -> Result<Self::Value, A::Error> {
                Err(A::Error::custom("a list"))
            }
        }
        deserializer.deserialize_map(InOrder)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_order_numbers_and_doubles() {
        let text = r#"{"b":1.50,"a":[1e400,-0.0,null,true],"b":"x\n\u0001\"é"}"#;
        let tree = Tree::parse(text).expect("it is JSON");
        assert_eq!(tree.compact(), text.replace("\\u0001", "\\u0001"));
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
        let deep = "[".repeat(100_000) + &"]".repeat(100_000);
        assert!(
            Tree::parse(&deep).is_err(),
            "too deep is an error, not a crash"
        );
    }

    #[test]
    fn number_text_reads_back() {
        for value in [
            0.0,
            0.1,
            1.0 / 3.0,
            1e-300,
            1.7976931348623157e308,
            123456.789,
            5e-324,
        ] {
            assert_eq!(number_text(value).parse(), Ok(value), "{value:e}");
        }
    }
}
