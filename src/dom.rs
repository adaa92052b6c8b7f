//! Small helpers over the browser's document.

use wasm_bindgen::prelude::*;
use web_sys::{Document, Element, Event, EventTarget, HtmlElement, Window};

// The module is only ever loaded by a page, which has both; `web_sys::window` looks for more.
#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(thread_local_v2, js_name = window)]
    static WINDOW: Window;
    #[wasm_bindgen(thread_local_v2, js_name = document)]
    static DOCUMENT: Document;
}

pub(crate) fn window() -> Window {
    WINDOW.with(Clone::clone)
}

pub(crate) fn document() -> Document {
    DOCUMENT.with(Clone::clone)
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

pub(crate) fn listen(
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
