//! Small helpers over the browser's document.
//!
//! The browser's objects are bound here and not by `web-sys`, for size: that and `js-sys` leave
//! 3 kB of what nobody calls in the page, and answers that cannot come are answered there.

use crate::tongue::{Marks, marks, write_with};
use crate::words::with_mark;
use wasm_bindgen::prelude::*;

// The module is only ever loaded by a page, which has both.
#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(thread_local_v2, js_name = window)]
    static WINDOW: Window;
    #[wasm_bindgen(thread_local_v2, js_name = document)]
    static DOCUMENT: Document;
}

#[wasm_bindgen]
extern "C" {
    #[derive(Clone)]
    pub(crate) type Window;
    #[wasm_bindgen(method, getter, catch, js_name = localStorage)]
    pub(crate) fn local_storage(this: &Window) -> Result<Option<Storage>, JsValue>;
    #[wasm_bindgen(method, getter)]
    pub(crate) fn navigator(this: &Window) -> Navigator;

    pub(crate) type Storage;
    #[wasm_bindgen(method, catch, js_name = getItem)]
    pub(crate) fn get_item(this: &Storage, key: &str) -> Result<Option<String>, JsValue>;
    #[wasm_bindgen(method, catch, js_name = setItem)]
    pub(crate) fn set_item(this: &Storage, key: &str, text: &str) -> Result<(), JsValue>;

    pub(crate) type Navigator;
    /// Absent without a secure context.
    #[wasm_bindgen(method, getter)]
    pub(crate) fn clipboard(this: &Navigator) -> Option<Clipboard>;

    pub(crate) type Clipboard;
    #[wasm_bindgen(method, js_name = writeText)]
    pub(crate) fn write_text(this: &Clipboard, text: &str) -> Promise;

    pub(crate) type Promise;
    #[wasm_bindgen(method)]
    pub(crate) fn then(this: &Promise, done: &JsValue, refused: &JsValue) -> Promise;

    pub(crate) type Rect;
    #[wasm_bindgen(method, getter)]
    pub(crate) fn left(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    pub(crate) fn top(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    pub(crate) fn width(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    pub(crate) fn height(this: &Rect) -> f64;

    #[derive(Clone)]
    pub(crate) type Document;
    #[wasm_bindgen(method, js_name = getElementById)]
    pub(crate) fn get_element_by_id(this: &Document, id: &str) -> Option<Element>;
    #[wasm_bindgen(method, js_name = importNode)]
    pub(crate) fn import_node(this: &Document, node: &Element, deep: bool) -> Element;
    #[wasm_bindgen(method, js_name = createElement)]
    fn create_element(this: &Document, name: &str) -> Element;
    #[wasm_bindgen(method, getter, js_name = documentElement)]
    pub(crate) fn document_element(this: &Document) -> Element;

    /// An element of any kind, or a fragment: what only some have is asked of none else.
    #[derive(Clone, PartialEq)]
    pub(crate) type Element;
    #[wasm_bindgen(method, catch)]
    fn closest(this: &Element, selector: &str) -> Result<Option<Element>, JsValue>;
    #[wasm_bindgen(method, js_name = querySelector)]
    pub(crate) fn query_selector(this: &Element, selector: &str) -> Option<Element>;
    #[wasm_bindgen(method, js_name = querySelectorAll)]
    pub(crate) fn query_selector_all(this: &Element, selector: &str) -> Vec<Element>;
    #[wasm_bindgen(method, js_name = getAttribute)]
    pub(crate) fn get_attribute(this: &Element, name: &str) -> Option<String>;
    #[wasm_bindgen(method, js_name = setAttribute)]
    fn set_attribute(this: &Element, name: &str, value: &str);
    #[wasm_bindgen(method, js_name = removeAttribute)]
    pub(crate) fn remove_attribute(this: &Element, name: &str);
    #[wasm_bindgen(method, js_name = appendChild)]
    pub(crate) fn append_child(this: &Element, child: &Element);
    #[wasm_bindgen(method, getter, js_name = textContent)]
    pub(crate) fn text_content(this: &Element) -> String;
    #[wasm_bindgen(method, setter, js_name = textContent)]
    pub(crate) fn set_text_content(this: &Element, text: &str);
    #[wasm_bindgen(method, js_name = getBoundingClientRect)]
    pub(crate) fn get_bounding_client_rect(this: &Element) -> Rect;
    #[wasm_bindgen(method)]
    fn focus(this: &Element);
    /// Of a template.
    #[wasm_bindgen(method, getter)]
    pub(crate) fn content(this: &Element) -> Element;
    #[wasm_bindgen(method, getter, js_name = value)]
    fn value_if_any(this: &Element) -> Option<String>;
    #[wasm_bindgen(method, setter, js_name = value)]
    fn set_value_as_is(this: &Element, value: &str);
    #[wasm_bindgen(method, getter, js_name = type)]
    fn kind_if_any(this: &Element) -> Option<String>;

    pub(crate) type Event;
    #[wasm_bindgen(method, getter, js_name = ctrlKey)]
    pub(crate) fn ctrl_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter, js_name = metaKey)]
    pub(crate) fn meta_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter, js_name = altKey)]
    pub(crate) fn alt_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter, js_name = shiftKey)]
    pub(crate) fn shift_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter)]
    fn target(this: &Event) -> Option<Element>;
    #[wasm_bindgen(method, js_name = preventDefault)]
    pub(crate) fn prevent_default(this: &Event);
    /// None where a browser that fills in a form makes up a key.
    #[wasm_bindgen(method, getter)]
    pub(crate) fn key(this: &Event) -> Option<String>;

    type EventTarget;
    #[wasm_bindgen(method, js_name = addEventListener)]
    fn add_event_listener(this: &EventTarget, kind: &str, act: &JsValue);
}

impl Element {
    /// What a control holds; a slider's number as the language spoken writes it.
    pub(crate) fn value(&self) -> String {
        let text = self.value_if_any().unwrap_or_default();
        if self.is_foreign_slider() {
            with_mark(text)
        } else {
            text
        }
    }

    /// Sets it.
    pub(crate) fn set_value(&self, text: &str) {
        if self.is_foreign_slider() {
            let number: Vec<u8> = text
                .bytes()
                .map(|byte| if byte == b',' { b'.' } else { byte })
                .collect();
            self.set_value_as_is(&String::from_utf8(number).unwrap_or_default());
        } else {
            self.set_value_as_is(text);
        }
    }

    /// Browsers have a slider's number with a point, whatever the language.
    fn is_foreign_slider(&self) -> bool {
        marks().decimal != "." && self.kind_if_any().as_deref() == Some("range")
    }
}

pub(crate) fn window() -> Window {
    WINDOW.with(Clone::clone)
}

pub(crate) fn document() -> Document {
    DOCUMENT.with(Clone::clone)
}

/// Numbers are written from now on as the browser writes them in the language of the page.
pub(crate) fn take_marks() {
    let sample = root().get_attribute("data-number").unwrap_or_default();
    if let Some(marks) = Marks::of_sample(sample.leak()) {
        write_with(marks);
    }
}

/// The element that holds all others.
pub(crate) fn root() -> Element {
    document().document_element()
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
    root().query_selector(selector)
}

pub(crate) fn make(name: &str) -> Element {
    document().create_element(name)
}

pub(crate) fn set(element: &Element, name: &str, value: &str) {
    element.set_attribute(name, value);
}

pub(crate) fn set_hidden(element: &Element, hidden: bool) {
    if element.get_attribute("hidden").is_some() != hidden {
        mark(element, "hidden", hidden);
    }
}

pub(crate) fn set_disabled(element: &Element, disabled: bool) {
    mark(element, "disabled", disabled);
}

/// Gives an attribute that says yes by being there, or takes it.
pub(crate) fn mark(element: &Element, name: &str, there: bool) {
    if there {
        set(element, name, "");
    } else {
        element.remove_attribute(name);
    }
}

pub(crate) fn focus(element: &Element) {
    element.focus();
}

/// The nearest element around this, or this, of a selector.
pub(crate) fn around(element: &Element, selector: &str) -> Option<Element> {
    element.closest(selector).ok()?
}

/// The element that an event happened at, or the nearest one around it, of a selector.
pub(crate) fn closest(event: &Event, selector: &str) -> Option<Element> {
    // The document itself, which has no `closest`, throws and so is none.
    around(&event.target()?, selector)
}

/// What the browser calls when something happens, as long as the page lives.
pub(crate) fn act(act: impl FnMut(Event) + 'static) -> JsValue {
    Closure::<dyn FnMut(Event)>::new(act).into_js_value()
}

pub(crate) fn listen(target: &JsValue, kind: &str, act: impl FnMut(Event) + 'static) {
    target
        .unchecked_ref::<EventTarget>()
        .add_event_listener(kind, &self::act(act));
}

pub(crate) fn on(kind: &str, act: impl FnMut(Event) + 'static) {
    listen(&document(), kind, act);
}
