//! Controls of the section: what is typed into them, and how they show the trial without taking
//! from a hand what it is typing.

use super::{Part, says};
use crate::dom::{Element, document, make, set};
use crate::quantity::{Dimension, Unit};
use crate::shed::form::{in_box, option};
use crate::words::Typed;
use crate::words::trial::entry::typed_value;
use crate::words::trial::page_plan::unit_shown;
use crate::words::trial::page_record::typed_text;

/// Whether a hand is in it.
fn is_held(field: &Element) -> bool {
    document()
        .active_element()
        .is_some_and(|active| active == *field)
}

/// Shows a text in every control of a name: not where a hand is, nor over what is to be mended.
pub(super) fn show(part: Part, name: &str, text: &str) {
    let selector = ["[name='", name, "']"].concat();
    for field in part.panel().query_selector_all(&selector) {
        let wrong = field.has_attribute("aria-invalid");
        if !wrong && field.value() != text && !is_held(&field) {
            field.set_value(text);
        }
    }
}

/// The same of a number that may be none.
pub(super) fn show_number(part: Part, name: &str, value: Option<f64>) {
    show(part, name, &value.map_or(String::new(), in_box));
}

pub(super) fn tick(part: Part, name: &str, ticked: bool) {
    if let Some(field) = part.field(name) {
        field.set_checked(ticked);
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

/// Units of some dimensions, as lists show them.
pub(super) fn units(of: &[Dimension]) -> Vec<(String, String)> {
    let all = Unit::ALL.iter().copied();
    let some = all.filter(|unit| of.contains(&unit.dimension()));
    some.map(unit_choice).collect()
}

/// A unit as a choice.
pub(super) fn unit_choice(unit: Unit) -> (String, String) {
    (unit.spelling().to_owned(), unit_shown(unit))
}

/// What a number box holds: a number between limits, or nothing. What is neither is told and
/// marked, and stays to be mended.
pub(super) fn number(field: &Element, limits: (f64, f64)) -> Result<Option<f64>, ()> {
    number_in(field, limits, "")
}

/// The same of a number in a unit, with which the limits are told.
pub(super) fn number_in(
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
    if let Some(value) = number(field, limits)? {
        return Ok(value);
    }
    fault(field, &typed_text(Typed::Empty, limits.0, limits.1, ""));
    Err(())
}

/// A number while it is typed or moved: nothing is told yet.
pub(super) fn moving(field: &Element, (low, high): (f64, f64)) -> Option<f64> {
    match typed_value(&field.value()) {
        Typed::Number(value) if value >= low && value <= high => Some(value),
        _ => None,
    }
}

/// Marks a box whose text cannot be used, and tells why, with its name.
pub(super) fn fault(field: &Element, text: &str) {
    set(field, "aria-invalid", "true");
    let name = field.get_attribute("aria-label").or_else(|| {
        let label = crate::dom::around(field, "label")?;
        Some(label.query_selector("span")?.text_content())
    });
    let name = name.or_else(|| {
        let row = crate::dom::around(field, ".row")?;
        Some(row.query_selector("label")?.text_content())
    });
    let text = match name {
        Some(name) => [&name, ": ", text].concat(),
        None => text.to_owned(),
    };
    says(&text);
    set(field, "data-wrong", &text);
}

/// What is still wrong in the boxes of the part that is shown.
pub(super) fn still_wrong() -> String {
    let shown = "#trial-body [data-panel]:not([hidden]) [data-wrong]";
    let field = crate::dom::find(shown);
    let text = field.and_then(|field| field.get_attribute("data-wrong"));
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

/// Builds the children of a place anew where they are others than before; what was focused is
/// focused again.
pub(super) fn rebuild(place: &Element, key: &str, build: impl FnOnce(&Element)) {
    if place.get_attribute("data-key").as_deref() == Some(key) {
        return;
    }
    let held = document().active_element();
    let held = held.filter(|held| place.contains(held));
    let again = held.and_then(|held| {
        let name = held.get_attribute("name");
        let press = held
            .get_attribute("data-trial")
            .zip(held.get_attribute("value"));
        name.map(|name| ["[name='", &name, "']"].concat())
            .or_else(|| {
                let (press, value) = press?;
                Some(["[data-trial='", &press, "'][value='", &value, "']"].concat())
            })
    });
    place.set_text_content("");
    build(place);
    set(place, "data-key", key);
    if let Some(field) = again.and_then(|again| place.query_selector(&again)) {
        crate::dom::focus(&field);
    }
}

/// An element with a text and a class.
pub(super) fn classed(under: &Element, name: &str, class: &str, text: &str) -> Element {
    let element = make(name);
    set(&element, "class", class);
    element.set_text_content(text);
    under.append_child(&element);
    element
}

/// A box for a number in a table or list, that is locked with the plan.
pub(super) fn number_box(under: &Element, name: &str, called: &str) -> Element {
    let field = crate::shed::form::put_box(under, name, called);
    set(&field, "aria-describedby", "trial-says");
    set(&field, "data-lock", "");
    field
}

/// A list of choices in a table or list.
pub(super) fn list_box(under: &Element, name: &str, called: &str) -> Element {
    let list = make("select");
    for (attribute, value) in [("name", name), ("aria-label", called), ("data-lock", "")] {
        set(&list, attribute, value);
    }
    under.append_child(&list);
    list
}
