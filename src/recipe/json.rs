//! JSON text (RFC 8259) to a tree.
//!
//! Own code for its size: `json-event-parser` takes 11 kB of the page before compression.
//! `tests/json.rs` checks it against `serde_json`.

use super::tree::{NotJson, Tree, place};

/// How deep arrays and objects may stand in each other.
pub const DEPTH_LIMIT: usize = 129;

/// What stands next.
enum Token {
    /// One of `{}[],:`.
    Mark(u8),
    /// A text, a number, a word.
    Value(Tree),
    End,
}

/// The offset of a fault.
type Fault = usize;

struct Reader<'a> {
    text: &'a str,
    /// Offset of what is read next.
    at: usize,
    /// Offset of the last token.
    start: usize,
}

impl Tree {
    /// Reads a text.
    ///
    /// # Errors
    /// [`NotJson`] with the place of the first fault.
    pub fn parse(text: &str) -> Result<Tree, NotJson> {
        let mut reader = Reader {
            text,
            at: if text.starts_with('\u{feff}') { 3 } else { 0 },
            start: 0,
        };
        let fault = |offset| place(text.as_bytes(), offset);
        reader.document().map_err(fault)
    }
}

impl Reader<'_> {
    fn document(&mut self) -> Result<Tree, Fault> {
        let token = self.token()?;
        let tree = self.value(token, 0)?;
        match self.token()? {
            Token::End => Ok(tree),
            _ => Err(self.start),
        }
    }

    /// The value that starts with a token.
    fn value(&mut self, token: Token, depth: usize) -> Result<Tree, Fault> {
        match token {
            Token::Value(tree) => Ok(tree),
            Token::Mark(b'[') if depth < DEPTH_LIMIT => self.list(depth + 1),
            Token::Mark(b'{') if depth < DEPTH_LIMIT => self.object(depth + 1),
            _ => Err(self.start),
        }
    }

    fn list(&mut self, depth: usize) -> Result<Tree, Fault> {
        let mut items = Vec::new();
        loop {
            let token = self.token()?;
            if items.is_empty() && matches!(token, Token::Mark(b']')) {
                break;
            }
            items.push(self.value(token, depth)?);
            if self.ends(b']')? {
                break;
            }
        }
        Ok(Tree::List(items))
    }

    fn object(&mut self, depth: usize) -> Result<Tree, Fault> {
        let mut pairs = Vec::new();
        loop {
            let name = match self.token()? {
                Token::Mark(b'}') if pairs.is_empty() => break,
                Token::Value(Tree::Text(name)) => name,
                _ => return Err(self.start),
            };
            let Token::Mark(b':') = self.token()? else {
                return Err(self.start);
            };
            let token = self.token()?;
            pairs.push((name, self.value(token, depth)?));
            if self.ends(b'}')? {
                break;
            }
        }
        Ok(Tree::Object(pairs))
    }

    /// Whether a list or an object ends, or goes on after a comma.
    fn ends(&mut self, end: u8) -> Result<bool, Fault> {
        match self.token()? {
            Token::Mark(b',') => Ok(false),
            Token::Mark(mark) if mark == end => Ok(true),
            _ => Err(self.start),
        }
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn token(&mut self) -> Result<Token, Fault> {
        while let Some(b' ' | b'\t' | b'\n' | b'\r') = self.peek() {
            self.at += 1;
        }
        self.start = self.at;
        let Some(byte) = self.peek() else {
            return Ok(Token::End);
        };
        let value = match byte {
            b'{' | b'}' | b'[' | b']' | b',' | b':' => {
                self.at += 1;
                return Ok(Token::Mark(byte));
            }
            b'"' => Tree::Text(self.string()?),
            b'-' | b'0'..=b'9' => self.number()?,
            _ => self.word()?,
        };
        Ok(Token::Value(value))
    }

    fn word(&mut self) -> Result<Tree, Fault> {
        let (word, value) = match self.peek() {
            Some(b't') => ("true", Tree::Bool(true)),
            Some(b'f') => ("false", Tree::Bool(false)),
            Some(b'n') => ("null", Tree::Null),
            _ => return Err(self.start),
        };
        let end = self.at + word.len();
        if self.text.get(self.at..end) != Some(word) {
            return Err(self.start);
        }
        self.at = end;
        Ok(value)
    }

    fn number(&mut self) -> Result<Tree, Fault> {
        if self.peek() == Some(b'-') {
            self.at += 1;
        }
        if self.peek() == Some(b'0') {
            self.at += 1;
        } else {
            self.digits()?;
        }
        if self.peek() == Some(b'.') {
            self.at += 1;
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.peek() {
            self.at += 1;
            if let Some(b'+' | b'-') = self.peek() {
                self.at += 1;
            }
            self.digits()?;
        }
        let text = self.text.get(self.start..self.at).unwrap_or_default();
        Ok(Tree::Number(text.to_owned()))
    }

    /// At least one digit.
    fn digits(&mut self) -> Result<(), Fault> {
        match self.peek() {
            Some(b'0'..=b'9') => {}
            Some(_) => return Err(self.at),
            // What is cut short is at fault as a whole.
            None => return Err(self.start),
        }
        while let Some(b'0'..=b'9') = self.peek() {
            self.at += 1;
        }
        Ok(())
    }

    fn string(&mut self) -> Result<String, Fault> {
        let mut out = Vec::new();
        // The first fault inside; a text without end is at fault as a whole.
        let mut fault = None;
        self.at += 1;
        loop {
            let from = self.at;
            match self.next()? {
                b'"' => break,
                b'\\' => {
                    let letter = self.escape(&mut fault)?;
                    out.extend_from_slice(letter.encode_utf8(&mut [0; 4]).as_bytes());
                }
                0..=0x1f => note(&mut fault, from),
                byte => out.push(byte),
            }
        }
        match fault {
            Some(fault) => Err(fault),
            None => String::from_utf8(out).map_err(|_| self.start),
        }
    }

    /// The next byte of a text that must go on.
    fn next(&mut self) -> Result<u8, Fault> {
        let byte = self.peek().ok_or(self.start)?;
        self.at += 1;
        Ok(byte)
    }

    /// The letter of what follows a backslash.
    fn escape(&mut self, fault: &mut Option<Fault>) -> Result<char, Fault> {
        let from = self.at - 1;
        Ok(match self.next()? {
            byte @ (b'"' | b'\\' | b'/') => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let high = self.hex(fault, self.at)?;
                // Half of a pair is no letter by itself.
                char::from_u32(high).map_or_else(|| self.pair(fault, from, high), Ok)?
            }
            _ => {
                note(fault, from);
                ' '
            }
        })
    }

    /// The letter of two escapes, of which the first was read.
    fn pair(&mut self, fault: &mut Option<Fault>, from: usize, high: u32) -> Result<char, Fault> {
        if high >= 0xdc00 {
            note(fault, from);
        }
        let second = self.at;
        let escape = [self.next()?, self.next()?];
        let low = self.hex(fault, second)?;
        if &escape != b"\\u" || !(0xdc00..0xe000).contains(&low) {
            note(fault, second);
        }
        let code = 0x10000 + ((high & 0x3ff) << 10) + (low & 0x3ff);
        char::from_u32(code).ok_or(self.start)
    }

    /// Four hexadecimal digits, or a fault.
    fn hex(&mut self, fault: &mut Option<Fault>, from: usize) -> Result<u32, Fault> {
        let (mut code, mut good) = (0, true);
        for _ in 0..4 {
            let digit = char::from(self.next()?).to_digit(16);
            good &= digit.is_some();
            code = code * 16 + digit.unwrap_or(0);
        }
        if !good {
            note(fault, from);
            code = u32::from(char::REPLACEMENT_CHARACTER);
        }
        Ok(code)
    }
}

/// Keeps the first fault.
fn note(fault: &mut Option<Fault>, at: usize) {
    fault.get_or_insert(at);
}
