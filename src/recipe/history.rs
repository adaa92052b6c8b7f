//! Undo and redo: the states that a document went through.

/// Steps kept at the most; the oldest go first.
pub const STEPS_LIMIT: usize = 2_000;

/// The states of a document, of which one is now. A state is whatever gives the document back,
/// such as its text.
#[derive(Clone, Debug)]
pub struct History<State> {
    past: Vec<State>,
    now: State,
    /// The next one last.
    future: Vec<State>,
    /// What made the last change, while its moves count as one.
    along: Option<String>,
}

impl<State: PartialEq> History<State> {
    /// A history that begins.
    pub fn new(now: State) -> History<State> {
        History {
            past: Vec::new(),
            now,
            future: Vec::new(),
            along: None,
        }
    }

    /// The state as it stands.
    pub fn now(&self) -> &State {
        &self.now
    }

    /// Goes on to another state, one step; whether it is another. What had been undone is
    /// forgotten.
    pub fn change(&mut self, state: State) -> bool {
        if state == self.now {
            return false;
        }
        self.along = None;
        if self.past.len() >= STEPS_LIMIT {
            self.past.remove(0);
        }
        self.past.push(std::mem::replace(&mut self.now, state));
        self.future.clear();
        true
    }

    /// The same, but moves of one control in a row are one step until [`History::rest`].
    pub fn change_along(&mut self, state: State, control: &str) -> bool {
        if self.along.as_deref() == Some(control) && !self.past.is_empty() {
            let changed = state != self.now;
            self.now = state;
            self.future.clear();
            return changed;
        }
        let changed = self.change(state);
        if changed {
            self.along = Some(control.to_owned());
        }
        changed
    }

    /// Ends a row of moves: the next one is a step of its own.
    pub fn rest(&mut self) {
        self.along = None;
    }

    /// Goes one step back, if there is one.
    pub fn undo(&mut self) -> Option<&State> {
        let state = self.past.pop()?;
        self.future.push(std::mem::replace(&mut self.now, state));
        self.along = None;
        Some(&self.now)
    }

    /// Goes one step forward again, if there is one.
    pub fn redo(&mut self) -> Option<&State> {
        let state = self.future.pop()?;
        self.past.push(std::mem::replace(&mut self.now, state));
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
