//! The cautions, under the desk: the graver ones open, the others to unfold.

use super::written::Text;
use crate::caution::{Caution, Severity};
use crate::dom::{Element, by_id, make, set, set_hidden};
use crate::outcome::Outcome;
use crate::recipe::Recipe;
use crate::words::{
    Speech, Text as Words, care_head, care_line, care_text, chemistry_line, severity_word,
};

pub(super) struct Cares {
    /// The graver ones, and the notes.
    lists: [Element; 2],
    /// What unfolds the notes.
    fold: Element,
    /// Beside the verdict: what to take care of.
    line: Text,
    /// Over the section on chemistry: what it raises.
    chemistry: Text,
    /// What stands there now.
    now: Vec<[String; 4]>,
}

impl Cares {
    pub(super) fn new() -> Cares {
        Cares {
            lists: [by_id("cares"), by_id("care-notes")],
            fold: by_id("care-fold"),
            line: Text::of(by_id("care-line")),
            chemistry: Text::of(by_id("chem-line")),
            now: Vec::new(),
        }
    }

    pub(super) fn follow(&mut self, recipe: &Recipe, outcome: &Outcome, speech: Speech) {
        self.line.write(&care_line(&outcome.cautions, |_| true));
        self.chemistry.write(&chemistry_line(&outcome.cautions));
        let mut texts = Vec::with_capacity(outcome.cautions.len());
        for caution in &outcome.cautions {
            texts.push(told(caution, recipe, speech));
        }
        if texts == self.now {
            return;
        }
        for list in &self.lists {
            list.set_text_content("");
        }
        let mut notes = false;
        for (texts, caution) in texts.iter().zip(&outcome.cautions) {
            let severity = caution.of.severity();
            let is_note = severity == Severity::Note;
            notes |= is_note;
            let item = make("li");
            set(&item, "class", severity.id());
            set(&item, "data-care", caution.of.id());
            for (text, tag) in texts.iter().zip(["b", "strong", "small", "span"]) {
                let part = make(tag);
                part.set_text_content(text);
                item.append_child(&part);
            }
            self.lists[usize::from(is_note)].append_child(&item);
        }
        set_hidden(&self.fold, !notes);
        self.now = texts;
    }
}

/// How grave, about what, of which additions, and what it says.
fn told(caution: &Caution, recipe: &Recipe, speech: Speech) -> [String; 4] {
    let mut names = String::new();
    for index in &caution.additions {
        // Of a recipe with a fault the outcome is an older one's.
        let Some(addition) = recipe.additions.get(*index) else {
            continue;
        };
        let name = recipe.find(&addition.material);
        let name = name.map_or("", |found| found.name());
        if !names.is_empty() {
            names += Words::Between.text();
        }
        names += name;
    }
    let mut head = care_head(caution).to_owned();
    if caution.asks {
        head = Words::Asks.with(&[&head]);
    }
    [
        severity_word(caution.of.severity()).to_owned(),
        head,
        names,
        care_text(caution, speech),
    ]
}
