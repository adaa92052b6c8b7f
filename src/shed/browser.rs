//! What only tools ask of the browser.

use crate::dom::{Document, Element, Event, Storage, Window};
use crate::tongue::{Language, spoken};
use crate::trial::date;
use crate::words::date::date_text;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter)]
    pub(super) fn checked(this: &Element) -> bool;
    #[wasm_bindgen(method, setter)]
    pub(super) fn set_checked(this: &Element, checked: bool);
    #[wasm_bindgen(method, getter, js_name = scrollTop)]
    pub(super) fn scroll_top(this: &Element) -> f64;
    #[wasm_bindgen(method, setter, js_name = scrollTop)]
    pub(super) fn set_scroll_top(this: &Element, top: f64);
    #[wasm_bindgen(method, getter, js_name = childElementCount)]
    pub(super) fn child_element_count(this: &Element) -> u32;
    #[wasm_bindgen(method, getter, js_name = parentElement)]
    pub(super) fn parent_element(this: &Element) -> Option<Element>;
    #[wasm_bindgen(method, getter, js_name = isConnected)]
    pub(super) fn is_connected(this: &Element) -> bool;
    #[wasm_bindgen(method)]
    pub(super) fn contains(this: &Element, other: &Element) -> bool;
    #[wasm_bindgen(method)]
    pub(super) fn remove(this: &Element);
    #[wasm_bindgen(method)]
    pub(super) fn click(this: &Element);

    #[wasm_bindgen(method, setter, js_name = innerHTML)]
    pub(super) fn set_inner_html(this: &Element, html: &str);
    /// What happened.
    #[wasm_bindgen(method, getter, js_name = type)]
    pub(super) fn kind(this: &Event) -> String;
    #[wasm_bindgen(method, js_name = hasAttribute)]
    pub(super) fn has_attribute(this: &Element, name: &str) -> bool;
    #[wasm_bindgen(method, getter, js_name = clientWidth)]
    pub(super) fn client_width(this: &Element) -> i32;
    #[wasm_bindgen(method, getter, js_name = clientHeight)]
    pub(super) fn client_height(this: &Element) -> i32;
    #[wasm_bindgen(method, getter, js_name = activeElement)]
    pub(super) fn active_element(this: &Document) -> Option<Element>;
    #[wasm_bindgen(method, js_name = requestAnimationFrame)]
    pub(super) fn request_animation_frame(this: &Window, act: &JsValue) -> i32;
    #[wasm_bindgen(method, js_name = setTimeout)]
    pub(super) fn set_timeout(this: &Window, act: &JsValue, ms: i32) -> i32;
    #[wasm_bindgen(method, js_name = clearTimeout)]
    pub(super) fn clear_timeout(this: &Window, id: i32);

    // Of a dialog.
    #[wasm_bindgen(method, getter)]
    pub(super) fn open(this: &Element) -> bool;
    #[wasm_bindgen(method, js_name = showModal)]
    pub(super) fn show_modal(this: &Element);
    #[wasm_bindgen(method)]
    pub(super) fn close(this: &Element);

    // Of an input for files.
    #[wasm_bindgen(method, getter)]
    pub(super) fn files(this: &Element) -> Files;

    pub(super) type Files;
    #[wasm_bindgen(method)]
    pub(super) fn item(this: &Files, index: u32) -> Option<File>;

    pub type File;
    #[wasm_bindgen(method, getter)]
    pub(super) fn size(this: &File) -> f64;
    #[wasm_bindgen(method, js_name = arrayBuffer)]
    pub(super) fn array_buffer(this: &File) -> crate::dom::Promise;

    #[wasm_bindgen(js_name = Uint8Array)]
    pub(super) type Bytes;
    #[wasm_bindgen(constructor, js_class = "Uint8Array")]
    pub(super) fn new(buffer: &JsValue) -> Bytes;
    /// All of them, copied.
    #[wasm_bindgen(method, js_class = "Uint8Array")]
    pub(super) fn slice(this: &Bytes) -> Vec<u8>;

    pub(super) type Blob;
    #[wasm_bindgen(constructor)]
    pub(super) fn new(parts: Vec<JsValue>) -> Blob;
    #[wasm_bindgen(constructor)]
    pub(super) fn of_kind(parts: Vec<JsValue>, options: &Options) -> Blob;

    /// What a blob is made with.
    #[wasm_bindgen(js_name = Object)]
    pub(super) type Options;
    #[wasm_bindgen(constructor, js_class = "Object")]
    pub(super) fn new() -> Options;
    #[wasm_bindgen(method, setter, js_class = "Object", js_name = type)]
    pub(super) fn set_kind(this: &Options, kind: &str);

    // Of a canvas; what none else has is asked of none else.
    #[wasm_bindgen(method, js_name = getContext)]
    pub(super) fn get_context(this: &Element, kind: &str) -> Option<Context>;
    #[wasm_bindgen(method, catch, js_name = toBlob)]
    fn to_blob_of(this: &Element, take: &JsValue, kind: &str) -> Result<(), JsValue>;

    pub(super) type Context;
    #[wasm_bindgen(method, js_name = drawImage)]
    pub(super) fn draw_image(
        this: &Context,
        image: &Element,
        x: f64,
        y: f64,
        width: f64,
        height: f64,
    );

    #[wasm_bindgen(js_namespace = window)]
    pub(super) fn print();
    #[wasm_bindgen(method, getter)]
    fn location(this: &Window) -> Location;
    pub(super) type Location;

    type Date;
    #[wasm_bindgen(constructor)]
    fn new() -> Date;
    /// The day, as the user's browser writes it.
    #[wasm_bindgen(method, js_name = toLocaleDateString)]
    fn to_locale_date_string(this: &Date) -> String;
    #[wasm_bindgen(method, js_name = getFullYear)]
    fn year(this: &Date) -> u32;
    #[wasm_bindgen(method, js_name = getMonth)]
    fn month(this: &Date) -> u32;
    #[wasm_bindgen(method, js_name = getDate)]
    fn day(this: &Date) -> u32;
    #[wasm_bindgen(method, getter)]
    pub(super) fn href(this: &Location) -> String;
    #[wasm_bindgen(catch, js_namespace = URL, js_name = createObjectURL)]
    pub(super) fn create_object_url(blob: &Blob) -> Result<String, JsValue>;
    #[wasm_bindgen(js_namespace = URL, js_name = revokeObjectURL)]
    pub(super) fn revoke_object_url(url: &str);

    // A memory may begin to throw after it was given.
    #[wasm_bindgen(method, getter, catch)]
    pub(super) fn length(this: &Storage) -> Result<u32, JsValue>;
    #[wasm_bindgen(method, catch)]
    pub(super) fn key(this: &Storage, index: u32) -> Result<Option<String>, JsValue>;
    #[wasm_bindgen(method, catch, js_name = removeItem)]
    pub(super) fn remove_item(this: &Storage, key: &str) -> Result<(), JsValue>;
}

/// Where the page stands.
pub(super) fn location() -> Location {
    crate::dom::window().location()
}

/// Turns a canvas into a file; the browser refuses a canvas that it does not trust.
pub(super) fn to_blob(canvas: &Element, take: &JsValue, kind: &str) -> Result<(), JsValue> {
    canvas.to_blob_of(take, kind)
}

/// The user's own day.
pub(super) fn today() -> Option<date::Date> {
    let today = Date::new();
    date::Date::of(today.year(), today.month() + 1, today.day())
}

/// The same as it is told: in English as the user's browser writes it.
pub(super) fn today_told() -> String {
    match today() {
        Some(today) if spoken() != Language::English => date_text(today),
        _ => Date::new().to_locale_date_string(),
    }
}
