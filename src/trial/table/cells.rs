//! The cells of a text, row by row.

use super::{QUOTED_LIMIT, Separator};

/// The text of bytes: UTF-8, UTF-16 by its mark, else one letter a byte; and whether it was text.
pub(super) fn text_of(bytes: &[u8]) -> (String, bool) {
    let wide = |rest: &[u8], of: fn([u8; 2]) -> u16| {
        let units = rest.chunks_exact(2).map(|pair| of([pair[0], pair[1]]));
        let letters = char::decode_utf16(units);
        letters
            .map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER))
            .collect()
    };
    match bytes {
        [0xff, 0xfe, rest @ ..] => return (wide(rest, u16::from_le_bytes), true),
        [0xfe, 0xff, rest @ ..] => return (wide(rest, u16::from_be_bytes), true),
        _ => {}
    }
    let rest = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match std::str::from_utf8(rest) {
        Ok(text) => (text.to_owned(), true),
        Err(_) => (rest.iter().map(|byte| char::from(*byte)).collect(), false),
    }
}

/// Spreadsheets put `sep=;` before the head; it is a row to them.
pub(super) fn without_sep_line(text: &str) -> (&str, usize) {
    let line = text.split(['\r', '\n']).next().unwrap_or_default();
    if line.trim().len() == 5 && line.trim().to_ascii_lowercase().starts_with("sep=") {
        let rest = text.get(line.len()..).unwrap_or_default();
        let rest = rest.strip_prefix("\r\n").unwrap_or(rest);
        return (rest.trim_start_matches(['\r', '\n']), 2);
    }
    (text, 1)
}

/// What separates the cells of the head: whatever stands there most.
pub(super) fn separator_of(text: &str) -> Separator {
    let mut lines = text.split(['\r', '\n']);
    let head = lines.find(|line| !line.trim().is_empty());
    let head = head.unwrap_or_default();
    let count = |of: Separator| {
        let mut inside = false;
        let mut found = 0;
        for byte in head.bytes() {
            inside ^= byte == b'"';
            if byte == of.byte() && !inside {
                found += 1;
            }
        }
        found
    };
    let mut best = Separator::Comma;
    for other in [Separator::Semicolon, Separator::Tab] {
        if count(other) > count(best) {
            best = other;
        }
    }
    best
}

/// A row and its cells.
pub(super) struct Row {
    pub(super) number: usize,
    pub(super) cells: Vec<String>,
    pub(super) open_quote: bool,
}

/// The rows of a text.
pub(super) struct Rows<'a> {
    rest: &'a str,
    separator: u8,
    number: usize,
}

impl<'a> Rows<'a> {
    pub(super) fn of(text: &'a str, separator: u8, first: usize) -> Rows<'a> {
        Rows {
            rest: text,
            separator,
            number: first,
        }
    }

    /// The next row from here, and what is left; none where its quotes do not close.
    fn cells(&self, quotes: bool) -> Option<(Vec<String>, &'a str)> {
        let bytes = self.rest.as_bytes();
        let mut cells = Vec::new();
        let mut at = 0;
        loop {
            let mut cell = String::new();
            if quotes && bytes.get(at) == Some(&b'"') {
                at = self.quoted(at + 1, &mut cell)?;
            } else {
                let from = at;
                while let Some(byte) = bytes.get(at) {
                    if *byte == self.separator || matches!(byte, b'\r' | b'\n') {
                        break;
                    }
                    at += 1;
                }
                // Separators and ends of lines are letters of their own.
                cell += self.rest.get(from..at).unwrap_or_default();
            }
            cells.push(cell);
            match bytes.get(at) {
                Some(byte) if *byte == self.separator => at += 1,
                Some(b'\r') if bytes.get(at + 1) == Some(&b'\n') => {
                    return Some((cells, self.rest.get(at + 2..).unwrap_or_default()));
                }
                Some(_) => return Some((cells, self.rest.get(at + 1..).unwrap_or_default())),
                None => return Some((cells, "")),
            }
        }
    }

    /// The cell in quotes that begins here, and where it ends.
    fn quoted(&self, from: usize, cell: &mut String) -> Option<usize> {
        let bytes = self.rest.as_bytes();
        let (mut at, mut start) = (from, from);
        loop {
            if at - from > QUOTED_LIMIT {
                return None;
            }
            if *bytes.get(at)? != b'"' {
                at += 1;
                continue;
            }
            *cell += self.rest.get(start..at)?;
            if bytes.get(at + 1) == Some(&b'"') {
                cell.push('"');
                at += 2;
                start = at;
                continue;
            }
            let after = bytes.get(at + 1);
            let ends =
                after.is_none_or(|byte| *byte == self.separator || matches!(byte, b'\r' | b'\n'));
            return ends.then_some(at + 1);
        }
    }
}

impl Iterator for Rows<'_> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        if self.rest.is_empty() {
            return None;
        }
        let closed = self.cells(true);
        let open_quote = closed.is_none();
        let (cells, rest) = closed.or_else(|| self.cells(false))?;
        self.rest = rest;
        let number = self.number;
        self.number += 1;
        Some(Row {
            number,
            cells,
            open_quote,
        })
    }
}
