//! The catalogue: `catalogue.csv`, checked and turned into this table when the crate is built.

use super::{Group, PROPERTIES, Properties};
use crate::figure::Figure;

/// A material of the catalogue.
#[derive(Debug)]
pub struct Entry {
    /// Its id in a recipe.
    pub id: &'static str,
    /// Its name in English, as the trade says it.
    pub name: &'static str,
    /// What kind of thing it is.
    pub group: Group,
    /// Its properties with their spread.
    pub properties: Properties,
}

impl Entry {
    /// The entry of an id, or none.
    pub fn find(id: &str) -> Option<&'static Entry> {
        CATALOGUE.iter().find(|entry| entry.id == id)
    }
}

const fn between(low: f64, typical: f64, high: f64) -> Option<Figure> {
    Some(Figure::between(low, typical, high))
}

const fn entry(
    id: &'static str,
    name: &'static str,
    group: Group,
    values: [Option<Figure>; PROPERTIES],
) -> Entry {
    Entry {
        id,
        name,
        group,
        properties: Properties { values },
    }
}

include!(concat!(env!("OUT_DIR"), "/catalogue.rs"));
