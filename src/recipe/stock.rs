//! The catalogue as a text, for a page that holds it beside its module: what a recipe computes
//! with, and no more.
//!
//! A line for each material: id, name and group, then numbers: low, typical and high of the
//! properties that mixing needs, hazards, usual rate, typical values of what the chemistry needs. Between them stands `;`, and nothing for what
//! is not known.

use super::{number_of_text, number_text};
use crate::figure::Figure;
use crate::material::{Entry, Group, Hazards, Properties, Property};

/// The properties that mixing needs; the first of all.
const MIXED: usize = Property::Coarse as usize + 1;

/// The catalogue as a text.
pub fn stock_text(entries: &[Entry]) -> String {
    let mut out = String::new();
    for entry in entries {
        let known = |number: Option<f64>| number.map(number_text).unwrap_or_default();
        let mut items = vec![
            entry.id.to_owned(),
            entry.told().to_owned(),
            entry.group.spelling().to_owned(),
        ];
        for property in &Property::ALL[..MIXED] {
            let figure = entry.properties.get(*property);
            items.push(known(figure.map(|figure| figure.ends().low)));
            items.push(known(figure.map(|figure| figure.typical)));
            items.push(known(figure.map(|figure| figure.ends().high)));
        }
        items.push(entry.hazards.typical.to_string());
        items.push(entry.hazards.worst.to_string());
        items.push(known(entry.usual_kg_m2));
        for property in &Property::ALL[MIXED..] {
            items.push(known(entry.properties.typical(*property)));
        }
        out += &items.join(";");
        out.push('\n');
    }
    out
}

/// The catalogue of such a text; a line that is not of it ends it.
pub fn stock_of_text(text: &'static str) -> Vec<Entry> {
    let mut items = Items { text, at: 0 };
    let mut out = Vec::new();
    loop {
        let (id, name) = (items.next(), items.next());
        let Some(group) = Group::from_spelling(items.next()) else {
            return out;
        };
        let mut properties = Properties::NONE;
        for property in &Property::ALL[..MIXED] {
            let (low, typical, high) = (items.number(), items.number(), items.number());
            if let (Some(low), Some(typical), Some(high)) = (low, typical, high) {
                properties.set(*property, Some(Figure::between(low, typical, high)));
            }
        }
        let typical = items.number().unwrap_or(0.0) as u64;
        let worst = items.number().unwrap_or(0.0) as u64;
        let usual_kg_m2 = items.number();
        for property in &Property::ALL[MIXED..] {
            properties.set(*property, items.number().map(Figure::exact));
        }
        out.push(Entry {
            id,
            name,
            group,
            properties,
            hazards: Hazards { typical, worst },
            usual_kg_m2,
        });
    }
}

/// The items of a text, one after the other; nothing when they are at an end.
struct Items {
    text: &'static str,
    at: usize,
}

impl Items {
    fn next(&mut self) -> &'static str {
        let bytes = self.text.as_bytes();
        let from = self.at.min(bytes.len());
        let mut to = from;
        while to < bytes.len() && bytes[to] != b';' && bytes[to] != b'\n' {
            to += 1;
        }
        self.at = to + 1;
        self.text.get(from..to).unwrap_or_default()
    }

    fn number(&mut self) -> Option<f64> {
        let text = self.next();
        (!text.is_empty()).then(|| number_of_text(text))
    }
}
