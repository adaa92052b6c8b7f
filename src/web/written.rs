//! What the page writes: only what changed.

use crate::dom::{Element, set};

/// A text on the page that is written only when it changes.
pub(super) struct Text {
    element: Element,
    now: String,
}

impl Text {
    pub(super) fn of(element: Element) -> Text {
        let now = element.text_content();
        Text { element, now }
    }

    pub(super) fn write(&mut self, text: &str) {
        if self.now != text {
            self.element.set_text_content(text);
            self.now.clear();
            self.now.push_str(text);
        }
    }
}

/// An attribute that is written only when it changes.
pub(super) struct Attribute {
    element: Element,
    name: &'static str,
    now: String,
}

impl Attribute {
    pub(super) fn of(element: Element, name: &'static str) -> Attribute {
        let now = element.get_attribute(name).unwrap_or_default();
        Attribute { element, name, now }
    }

    pub(super) fn write(&mut self, value: &str) {
        if self.now != value {
            set(&self.element, self.name, value);
            self.now.clear();
            self.now.push_str(value);
        }
    }
}
