//! Undo and redo: the texts that a document went through.

/// Steps kept at the most; the oldest go first (a choice: more than anyone takes back one by one).
pub const STEPS_LIMIT: usize = 2_000;
/// Bytes of text kept at the most, however few steps that is: a long recipe must not fill the
/// memory of a phone.
const BYTES_LIMIT: usize = 32_000_000;

/// The texts of a document, of which one is now. Nothing is kept but texts, so what is undone is
/// what was, byte for byte.
#[derive(Clone, Debug)]
pub struct History {
    past: Vec<String>,
    now: String,
    /// The next one last.
    future: Vec<String>,
    /// What made the last change, while its moves count as one.
    along: Option<String>,
}

impl History {
    /// A history that begins.
    pub fn new(now: impl Into<String>) -> History {
        History {
            past: Vec::new(),
            now: now.into(),
            future: Vec::new(),
            along: None,
        }
    }

    /// The text as it stands.
    pub fn now(&self) -> &str {
        &self.now
    }

    /// Goes on to another text, one step; whether it is another. What had been undone is
    /// forgotten.
    pub fn change(&mut self, text: String) -> bool {
        self.along = None;
        if text == self.now {
            return false;
        }
        self.past.push(std::mem::replace(&mut self.now, text));
        self.future.clear();
        let mut bytes = 0;
        let fits = |step: &&String| {
            bytes += step.len();
            bytes <= BYTES_LIMIT
        };
        let kept = self.past.iter().rev().take(STEPS_LIMIT).take_while(fits);
        let kept = kept.count();
        self.past.drain(..self.past.len() - kept);
        true
    }

    /// The same, but moves of one control in a row are one step until [`History::rest`] or another
    /// control; moved back to where it was, it leaves none.
    pub fn change_along(&mut self, text: String, control: &str) -> bool {
        if self.along.as_deref() != Some(control) {
            let changed = self.change(text);
            self.along = changed.then(|| control.to_owned());
            return changed;
        }
        let changed = text != self.now;
        self.now = text;
        if self.past.last() == Some(&self.now) {
            self.past.pop();
            self.along = None;
        }
        changed
    }

    /// Ends a row of moves: the next one is a step of its own.
    pub fn rest(&mut self) {
        self.along = None;
    }

    /// Goes one step back, if there is one.
    pub fn undo(&mut self) -> Option<&str> {
        let text = self.past.pop()?;
        self.future.push(std::mem::replace(&mut self.now, text));
        self.along = None;
        Some(&self.now)
    }

    /// Goes one step forward again, if there is one.
    pub fn redo(&mut self) -> Option<&str> {
        let text = self.future.pop()?;
        self.past.push(std::mem::replace(&mut self.now, text));
        self.along = None;
        Some(&self.now)
    }

    /// Whether there is a step to go back.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is a step to go forward.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}
