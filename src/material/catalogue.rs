//! The catalogue: `catalogue.csv`, checked and turned into this table when the crate is built. The
//! page's module is built without the table; it reads one from the page instead (feature `page`).

use super::{Group, Hazards, Properties};

/// A material of the catalogue.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its id in a recipe.
    pub id: &'static str,
    /// Its name in English, as the trade says it.
    pub name: &'static str,
    /// What kind of thing it is.
    pub group: Group,
    /// Its properties with their spread.
    pub properties: Properties,
    /// What can be wrong with it.
    pub hazards: Hazards,
    /// The usual rate of what is given by mass on an area, kg/m2 as sold.
    pub usual_kg_m2: Option<f64>,
}

impl Entry {
    /// Its name in the language that is spoken.
    pub fn told(&self) -> &'static str {
        crate::tongue::tr(self.name)
    }

    /// The entry of an id, or none.
    pub fn find(id: &str) -> Option<&'static Entry> {
        catalogue().iter().find(|entry| entry.id == id)
    }
}

/// Every material, in the order of `catalogue.csv`.
#[cfg(not(feature = "page"))]
pub fn catalogue() -> &'static [Entry] {
    table::CATALOGUE
}

#[cfg(feature = "page")]
thread_local! {
    static LENT: std::cell::Cell<&'static [Entry]> = const { std::cell::Cell::new(&[]) };
}

/// Every material that was lent, in the order of `catalogue.csv`.
#[cfg(feature = "page")]
pub fn catalogue() -> &'static [Entry] {
    LENT.get()
}

/// Lends the catalogue.
#[cfg(feature = "page")]
pub(crate) fn lend(entries: Vec<Entry>) {
    LENT.set(entries.leak());
}

#[cfg(not(feature = "page"))]
mod table {
    use super::super::{Group, Hazards, PROPERTIES, Properties};
    use super::Entry;
    use crate::figure::Figure;
    use crate::source::{Mark, Number};

    const fn between(low: f64, typical: f64, high: f64) -> Option<Figure> {
        Some(Figure::between(low, typical, high))
    }

    const fn entry(
        id: &'static str,
        name: &'static str,
        group: Group,
        values: [Option<Figure>; PROPERTIES],
        hazards: Hazards,
        usual_kg_m2: Option<f64>,
    ) -> Entry {
        Entry {
            id,
            name,
            group,
            properties: Properties { values },
            hazards,
            usual_kg_m2,
        }
    }

    include!(concat!(env!("OUT_DIR"), "/catalogue.rs"));
    include!(concat!(env!("OUT_DIR"), "/numbers.rs"));
}

#[cfg(not(feature = "page"))]
pub use table::NUMBERS;
