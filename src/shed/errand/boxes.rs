//! Controls of the section: what is typed into them, and how they show what is so without taking
//! from a hand what it is typing.

use super::{Part, says};
use crate::dom::{Element, around, document, find, set};
use crate::shed::form::option;
use crate::words::Typed;
use crate::words::trial::entry::typed_value;
use crate::words::trial::page_record::typed_text;

/// Whether a hand is in it.
pub(super) fn is_held(field: &Element) -> bool {
    document()
        .active_element()
        .is_some_and(|active| active == *field)
}

/// Shows a text in a box: not where a hand is, nor over what is to be mended.
pub(super) fn show_in(field: &Element, text: &str) {
    let wrong = field.has_attribute("aria-invalid");
    if !wrong && field.value() != text && !is_held(field) {
        field.set_value(text);
    }
}

/// The same in every control of a name.
pub(super) fn show(part: Part, name: &str, text: &str) {
    let selector = ["[name='", name, "']"].concat();
    for field in part.panel().query_selector_all(&selector) {
        show_in(&field, text);
    }
}

/// Fills a list of choices where it has others, and chooses one.
pub(super) fn choices(list: &Element, options: &[(String, String)], chosen: &str) {
    let key = |(value, text): &(String, String)| [value, "=", text, ";"].concat();
    let key: String = options.iter().map(key).collect();
    if list.get_attribute("data-key").as_deref() != Some(&key) {
        list.set_text_content("");
        for (value, text) in options {
            list.append_child(&option(value, text));
        }
        set(list, "data-key", &key);
    }
    if list.value() != chosen {
        list.set_value(chosen);
    }
}

/// The same by the name of the list.
pub(super) fn choose(part: Part, name: &str, options: &[(String, String)], chosen: &str) {
    if let Some(list) = part.field(name) {
        choices(&list, options, chosen);
    }
}

/// What a number box holds: a number between limits, or nothing. What is neither is told and
/// marked, and stays to be mended.
pub(super) fn number(
    field: &Element,
    (low, high): (f64, f64),
    unit: &str,
) -> Result<Option<f64>, ()> {
    let wrong = match typed_value(&field.value()) {
        Typed::Empty => None,
        Typed::Number(value) if value >= low && value <= high => {
            mend(field);
            return Ok(Some(value));
        }
        typed => Some(typed_text(typed, low, high, unit)),
    };
    match wrong {
        None => {
            mend(field);
            Ok(None)
        }
        Some(text) => {
            fault(field, &text);
            Err(())
        }
    }
}

/// The same where a number is needed.
pub(super) fn needed(field: &Element, limits: (f64, f64)) -> Result<f64, ()> {
    if let Some(value) = number(field, limits, "")? {
        return Ok(value);
    }
    fault(field, &typed_text(Typed::Empty, limits.0, limits.1, ""));
    Err(())
}

/// Marks a box whose text cannot be used, and tells why, with its name.
pub(super) fn fault(field: &Element, text: &str) {
    set(field, "aria-invalid", "true");
    let name = field.get_attribute("aria-label").or_else(|| {
        let label = around(field, "label")?;
        Some(label.query_selector("span")?.text_content())
    });
    let name = name.or_else(|| {
        let row = around(field, ".row")?;
        Some(row.query_selector("label")?.text_content())
    });
    let text = match name {
        Some(name) => [&name, ": ", text].concat(),
        None => text.to_owned(),
    };
    set(field, "data-wrong", &text);
    says(&text);
}

/// What is still wrong in the boxes of the part that is shown.
pub(super) fn still_wrong() -> String {
    let shown = "#errand-body [data-panel]:not([hidden]) [data-wrong]";
    let text = find(shown).and_then(|field| field.get_attribute("data-wrong"));
    text.unwrap_or_default()
}

/// Takes the mark away.
pub(super) fn mend(field: &Element) {
    if field.has_attribute("aria-invalid") {
        field.remove_attribute("aria-invalid");
        field.remove_attribute("data-wrong");
        says("");
    }
}
