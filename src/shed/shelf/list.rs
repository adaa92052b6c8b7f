//! The list of the blends: their numbers, names and mixes, and what can be done with each.

use super::part;
use crate::dom::{Element, make, set, set_disabled};
use crate::recipe::whole_text;
use crate::shed::form::{put, set_value};
use crate::shelf::{NAME_LIMIT, Shelved};
use crate::words::label_of_shelf;

/// Writes the list anew.
pub(super) fn build(list: &[Shelved]) {
    let place = part("list");
    place.set_text_content("");
    let item = put(&place, "li", "");
    item.append_child(&number(None));
    put(&item, "strong", label_of_shelf("now"));
    mix(&item);
    let last = list.len().saturating_sub(1);
    for (index, shelved) in list.iter().enumerate() {
        let item = put(&place, "li", "");
        item.append_child(&number(Some(index)));
        let field = make("input");
        let called = [label_of_shelf("name_of"), " ", &digit(index)].concat();
        for (name, value) in [
            ("type", "text"),
            ("autocomplete", "off"),
            ("name", "blend-name"),
            ("data-at", &whole_text(index as u64)),
            ("maxlength", &whole_text(NAME_LIMIT as u64)),
            ("aria-describedby", "shelf-says"),
            ("aria-label", &called),
        ] {
            set(&field, name, value);
        }
        set_value(&field, &shelved.name);
        item.append_child(&field);
        mix(&item);
        let deeds = put(&item, "div", "");
        set(&deeds, "class", "shelf-deeds");
        // Both on one line, wherever it breaks.
        let moves = make("span");
        for (what, called, off) in [
            ("put", "put", false),
            ("double", "double", false),
            ("delete", "delete", false),
            ("earlier", "earlier_of", index == 0),
            ("later", "later_of", index == last),
        ] {
            let under = match what {
                "earlier" | "later" => &moves,
                _ => &deeds,
            };
            let button = put(under, "button", label_of_shelf(what));
            let called = [label_of_shelf(called), ": ", &shelved.name].concat();
            for (name, value) in [
                ("type", "button"),
                ("data-shelf", what),
                ("value", &whole_text(index as u64)),
                ("aria-label", &called),
            ] {
                set(&button, name, value);
            }
            set_disabled(&button, off);
        }
        deeds.append_child(&moves);
    }
}

fn digit(index: usize) -> String {
    whole_text(index as u64 + 1)
}

/// The ring with the number of a blend; a full one is the blend on the page.
pub(super) fn number(index: Option<usize>) -> Element {
    let ring = make("span");
    let class = match index {
        Some(_) => "shelf-number",
        None => "shelf-number of-now",
    };
    set(&ring, "class", class);
    if let Some(index) = index {
        ring.set_text_content(&digit(index));
    }
    ring
}

fn mix(item: &Element) {
    set(&put(item, "span", ""), "class", "shelf-mix");
}

/// What is in each: the blend on the page first.
pub(super) fn write_mix(at: usize, text: &str) {
    let places = part("list").query_selector_all(".shelf-mix");
    if let Some(place) = places.get(at) {
        crate::shed::section::put(place, text);
    }
}
