//! One voice for all sections: of several that follow the same recipe only the one that was
//! touched last is heard, once, when nothing has moved for a while. What the page's own sliders do
//! the page tells by itself.

use crate::dom::{self, Element, window};
use std::cell::{Cell, RefCell};
use wasm_bindgen::prelude::*;

/// Quiet time before it speaks, ms: as long as the page waits.
const AFTER_MS: i32 = 800;
/// What is a touch.
const EVENTS: [&str; 3] = ["input", "change", "click"];

thread_local! {
    /// The body of the section that was touched last, by its id.
    static TOUCHED: RefCell<String> = const { RefCell::new(String::new()) };
    /// Where it is told, and what.
    static NEXT: RefCell<Option<(Element, String)>> = const { RefCell::new(None) };
    /// Where something was told last.
    static LAST: RefCell<Option<Element>> = const { RefCell::new(None) };
    static TIMER: Cell<Option<i32>> = const { Cell::new(None) };
    static HEARS: Cell<bool> = const { Cell::new(false) };
    static SPEAK: Closure<dyn FnMut()> = Closure::new(speak);
}

fn section_of(element: Option<Element>) -> String {
    let id = element.and_then(|body| body.get_attribute("id"));
    id.unwrap_or_default()
}

/// Begins to hear which section is touched.
pub(super) fn listen() {
    if HEARS.replace(true) {
        return;
    }
    for kind in EVENTS {
        dom::on(kind, |event| {
            let body = section_of(dom::closest(&event, ".water-body"));
            TOUCHED.with_borrow_mut(|touched| *touched = body);
        });
    }
}

/// Tells something in a place of a section, once nothing more comes.
pub(super) fn tell(place: &Element, text: &str) {
    let body = section_of(dom::around(place, ".water-body"));
    if TOUCHED.with_borrow(|touched| *touched != body) {
        return;
    }
    NEXT.with_borrow_mut(|next| *next = Some((place.clone(), text.to_owned())));
    if let Some(old) = TIMER.take() {
        window().clear_timeout(old);
    }
    SPEAK.with(|speak| {
        TIMER.set(Some(window().set_timeout(speak.as_ref(), AFTER_MS)));
    });
}

fn speak() {
    TIMER.set(None);
    if let Some((place, text)) = NEXT.take() {
        super::section::put(&place, &text);
        // What another section said is no longer true.
        let last = LAST.replace(Some(place.clone()));
        if let Some(last) = last.filter(|last| *last != place) {
            super::section::put(&last, "");
        }
    }
}
