#![cfg(not(target_arch = "wasm32"))]
//! The catalogue that a page lends its module: to the last bit what the program holds.

use barrowmix::figure::Figure;
use barrowmix::material::{Entry, Properties, Property, catalogue};
use barrowmix::recipe::{stock_of_text, stock_text};

/// What a page computes with: what mixing needs, with its range, and typical values of the rest.
fn mixed(entry: &Entry) -> Entry {
    let mut properties = Properties::NONE;
    for property in Property::ALL {
        let given = entry.properties.get(*property);
        let is_mixed = *property as usize <= Property::Coarse as usize;
        let typical = given.map(|figure| Figure::exact(figure.typical));
        properties.set(*property, if is_mixed { given } else { typical });
    }
    Entry {
        properties,
        ..entry.clone()
    }
}

#[test]
fn what_is_lent_is_what_is_held() {
    let lent = stock_of_text(stock_text(catalogue()).leak());
    let held: Vec<Entry> = catalogue().iter().map(mixed).collect();
    assert_eq!(lent.len(), 42, "every material is lent");
    for (lent, held) in lent.iter().zip(&held) {
        assert_eq!(lent, held, "{}", held.id);
    }
}

#[test]
fn a_text_that_is_none_lends_nothing() {
    for text in ["", "\n", ";;;", "a;b", "a;b;no such kind;1;2;3", "€;€;sand"] {
        let lent = stock_of_text(text);
        assert!(lent.len() <= 1, "{text:?} lends {lent:?}");
    }
    let whole = stock_text(catalogue());
    for end in (0..whole.len()).step_by(97) {
        let Some(cut) = whole.get(..end) else {
            continue;
        };
        let lent = stock_of_text(cut.to_owned().leak());
        assert!(lent.len() <= 42, "cut at {end}");
    }
}
