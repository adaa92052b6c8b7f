//! Small helpers over the browser's document.

use wasm_bindgen::prelude::*;
use web_sys::{Document, Element, Event, EventTarget, HtmlElement, Window};

/// Namespace of SVG elements.
const SVG: &str = "http://www.w3.org/2000/svg";

/// The event that tells of another recipe.
pub(crate) const CHANGED: &str = "barrowmix";

pub(crate) fn window() -> Window {
    // The module is only ever loaded by a page.
    web_sys::window().expect("a page has a window")
}

pub(crate) fn document() -> Document {
    window().document().expect("a window has a document")
}

/// The element of an id that `index.html` has; a detached one if it has gone, so that nothing
/// breaks.
pub(crate) fn by_id(id: &str) -> Element {
    document()
        .get_element_by_id(id)
        .unwrap_or_else(|| make("span"))
}

/// The first element of a selector.
pub(crate) fn find(selector: &str) -> Option<Element> {
    document().query_selector(selector).ok().flatten()
}

/// Every element of a selector below another.
pub(crate) fn all(under: &Element, selector: &str) -> Vec<Element> {
    let Ok(list) = under.query_selector_all(selector) else {
        return Vec::new();
    };
    (0..list.length())
        .filter_map(|index| list.item(index)?.dyn_into().ok())
        .collect()
}

pub(crate) fn make(name: &str) -> Element {
    document()
        .create_element(name)
        .unwrap_or_else(|_| panic!("the name is one of HTML's"))
}

/// An SVG element with attributes, at the end of another.
pub(crate) fn svg(under: &Element, name: &str, attributes: &[(&str, &str)]) -> Element {
    let element = document()
        .create_element_ns(Some(SVG), name)
        .unwrap_or_else(|_| panic!("the name is one of SVG's"));
    for (name, value) in attributes {
        set(&element, name, value);
    }
    let _ = under.append_child(&element);
    element
}

pub(crate) fn set(element: &Element, name: &str, value: &str) {
    let _ = element.set_attribute(name, value);
}

pub(crate) fn set_hidden(element: &Element, hidden: bool) {
    if element.has_attribute("hidden") == hidden {
        return;
    }
    if hidden {
        set(element, "hidden", "");
    } else {
        let _ = element.remove_attribute("hidden");
    }
}

pub(crate) fn set_disabled(element: &Element, disabled: bool) {
    if disabled {
        set(element, "disabled", "");
    } else {
        let _ = element.remove_attribute("disabled");
    }
}

/// Tells the other module that the recipe may have changed.
pub(crate) fn announce() {
    if let Ok(event) = Event::new(CHANGED) {
        let _ = document().dispatch_event(&event);
    }
}

pub(crate) fn focus(element: &Element) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        let _ = element.focus();
    }
}

/// The element that an event happened at, or the nearest one around it, of a selector.
pub(crate) fn closest(event: &Event, selector: &str) -> Option<Element> {
    let target: Element = event.target()?.dyn_into().ok()?;
    target.closest(selector).ok().flatten()
}

fn listen(
    target: &EventTarget,
    kind: &str,
    act: impl FnMut(Event) + 'static,
) -> Result<(), JsValue> {
    let closure: Closure<dyn FnMut(Event)> = Closure::new(act);
    target.add_event_listener_with_callback(kind, closure.as_ref().unchecked_ref())?;
    // It listens as long as the page lives.
    closure.forget();
    Ok(())
}

pub(crate) fn on(kind: &str, act: impl FnMut(Event) + 'static) -> Result<(), JsValue> {
    listen(&document(), kind, act)
}

pub(crate) fn on_window(kind: &str, mut act: impl FnMut() + 'static) -> Result<(), JsValue> {
    listen(&window(), kind, move |_| act())
}

/// A text on the page that is written only when it changes.
pub(crate) struct Text {
    element: Element,
    now: String,
}

impl Text {
    pub(crate) fn of(element: Element) -> Text {
        let now = element.text_content().unwrap_or_default();
        Text { element, now }
    }

    pub(crate) fn write(&mut self, text: &str) {
        if self.now != text {
            self.element.set_text_content(Some(text));
            self.now.clear();
            self.now.push_str(text);
        }
    }
}

/// An attribute that is written only when it changes.
pub(crate) struct Attribute {
    element: Element,
    name: &'static str,
    now: String,
}

impl Attribute {
    pub(crate) fn of(element: Element, name: &'static str) -> Attribute {
        let now = element.get_attribute(name).unwrap_or_default();
        Attribute { element, name, now }
    }

    pub(crate) fn write(&mut self, value: &str) {
        if self.now != value {
            set(&self.element, self.name, value);
            self.now.clear();
            self.now.push_str(value);
        }
    }
}
