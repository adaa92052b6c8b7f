//! The catalogue as a document.

use crate::figure::Figure;
use crate::material::{NUMBERS, Property, catalogue};
use crate::source::{Number, Source};
use serde::ser::{Serialize, SerializeMap, Serializer};

/// A material of the catalogue.
#[derive(Clone, Debug, serde::Serialize)]
pub struct MaterialTold {
    /// Its id in a recipe.
    pub id: &'static str,
    /// Its name in the language that is spoken.
    pub name: &'static str,
    /// What kind of thing it is.
    pub group: &'static str,
    /// The usual rate of what is given by mass on an area, kg/m2 as sold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub usual_kg_m2: Option<f64>,
    /// What is computed with.
    pub properties: PropertiesTold,
    /// Every number that is known of it, as it was read, with where it comes from.
    pub numbers: Vec<NumberTold>,
}

/// Properties by their names in a recipe.
#[derive(Clone, Debug)]
pub struct PropertiesTold(Vec<(&'static str, Figure)>);

impl Serialize for PropertiesTold {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, figure) in &self.0 {
            map.serialize_entry(name, figure)?;
        }
        map.end()
    }
}

/// A number with its source.
#[derive(Clone, Debug, serde::Serialize)]
pub struct NumberTold {
    /// What it is.
    pub field: &'static str,
    /// Its unit, where the field does not say it.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub unit: &'static str,
    /// About the 10th percentile.
    pub low: f64,
    /// What is usual.
    pub typical: f64,
    /// About the 90th percentile.
    pub high: f64,
    /// The key of its source.
    pub source: &'static str,
    /// Author, year, title, where.
    pub citation: &'static str,
    /// How it was come by.
    pub mark: &'static str,
    /// How it was measured or computed.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub note: &'static str,
}

impl From<&Number> for NumberTold {
    fn from(number: &Number) -> NumberTold {
        NumberTold {
            field: number.field,
            unit: number.unit,
            low: number.low,
            typical: number.typical,
            high: number.high,
            source: number.source,
            citation: Source::find(number.source).map_or("", |source| source.citation),
            mark: number.mark.id(),
            note: number.note,
        }
    }
}

/// Every material of the catalogue, in its order.
///
/// ```
/// let sand = barrowmix::api::materials().into_iter().find(|one| one.id == "concrete_sand");
/// let sand = sand.expect("it is in the catalogue");
/// assert_eq!(sand.group, "sand");
/// assert!(sand.numbers.iter().all(|number| !number.citation.is_empty()));
/// ```
pub fn materials() -> Vec<MaterialTold> {
    let told = catalogue().iter().map(|entry| {
        let numbers = NUMBERS.iter().find(|(id, _)| *id == entry.id);
        let given = Property::ALL.iter().copied();
        let given = given.filter_map(|of| Some((of.name(), entry.properties.get(of)?)));
        MaterialTold {
            id: entry.id,
            name: entry.told(),
            group: entry.group.spelling(),
            usual_kg_m2: entry.usual_kg_m2,
            properties: PropertiesTold(given.collect()),
            numbers: numbers
                .map(|(_, numbers)| numbers.iter().map(NumberTold::from).collect())
                .unwrap_or_default(),
        }
    });
    told.collect()
}
