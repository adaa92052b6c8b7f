//! What the page writes: only what changed, and drawings.

use crate::dom::{document, listen, set, window};
use wasm_bindgen::prelude::*;
use web_sys::Element;

/// Namespace of SVG elements.
const SVG: &str = "http://www.w3.org/2000/svg";

/// An SVG element with attributes, at the end of another.
pub(super) fn svg(under: &Element, name: &str, attributes: &[(&str, &str)]) -> Element {
    let element = document()
        .create_element_ns(Some(SVG), name)
        .unwrap_or_else(|_| panic!("the name is one of SVG's"));
    for (name, value) in attributes {
        set(&element, name, value);
    }
    let _ = under.append_child(&element);
    element
}

pub(super) fn on_window(kind: &str, mut act: impl FnMut() + 'static) -> Result<(), JsValue> {
    listen(&window(), kind, move |_| act())
}

/// A text on the page that is written only when it changes.
pub(super) struct Text {
    element: Element,
    now: String,
}

impl Text {
    pub(super) fn of(element: Element) -> Text {
        let now = element.text_content().unwrap_or_default();
        Text { element, now }
    }

    pub(super) fn write(&mut self, text: &str) {
        if self.now != text {
            self.element.set_text_content(Some(text));
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
