//! What can be asked.

use super::{Answer, Issue, LETTERS_LIMIT, Strange};
use crate::document::document;
use crate::outcome::Outcome;
use crate::recipe::{
    Fault, Kind, NotJson, Path, Recipe, RecipeError, Tree, from_link, lectern, number_of_text,
    to_link,
};
use crate::texture::Class;
use crate::words::{METRIC, class_name};
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};

/// What came in as a document, or why it is none.
type Given = Result<Tree, Issue>;

/// Reads a text of JSON.
///
/// # Errors
/// It is none, or longer than any recipe.
pub fn read(text: &str) -> Result<Tree, Issue> {
    if text.len() > LETTERS_LIMIT {
        return Err(Strange::TooLarge.at(&Path::root()));
    }
    Tree::parse(text).map_err(|NotJson { line, column }| {
        Fault::NotJson { line, column }.at(Path::root()).into()
    })
}

/// The outcome of a recipe as its document ([`document`]), in metric units.
///
/// The document is that of the program `examples/outcome.rs`, number for number.
pub fn evaluate(given: Given) -> Answer<impl Serialize + use<>> {
    let outcome = recipe_of(given).and_then(|recipe| Outcome::of(&recipe).map_err(one));
    Answer::new("outcome", outcome.map(|outcome| document(&outcome, METRIC)))
}

/// Whether a recipe reads and can be mixed, with every fault of every field, and whether what stands
/// beside the blend reads too: its `lectern`, `trial`, `shelf` and `errand`. Answers the recipe as it
/// is written, fields in their order.
pub fn check(given: Given) -> Answer<impl Serialize + use<>> {
    let read = recipe_of(given).and_then(|recipe| {
        let mut issues: Vec<Issue> = [
            Outcome::check(&recipe).err(),
            lectern::steps(&recipe).err(),
            crate::trial::document::trial_of(&recipe).err(),
            crate::shelf::shelf_of(&recipe).err(),
            crate::errand::errand_of(&recipe).err(),
        ]
        .into_iter()
        .flatten()
        .map(Issue::from)
        .collect();
        issues.dedup();
        if issues.is_empty() {
            Ok(Plain(recipe.to_tree()))
        } else {
            Err(issues)
        }
    });
    Answer::new("recipe", read)
}

/// The letters that stand for a recipe in a link.
pub fn encode(given: Given) -> Answer<String> {
    let link = recipe_of(given).and_then(|recipe| to_link(&recipe).map_err(one));
    Answer::new("letters", link)
}

/// The recipe of such letters, or of the whole address that ends with them.
pub fn decode(letters: &str) -> Answer<impl Serialize + use<>> {
    let letters = letters.rsplit('#').next().unwrap_or_default();
    let recipe = from_link(letters).map_err(one);
    Answer::new("recipe", recipe.map(|recipe| Plain(recipe.to_tree())))
}

/// Reads a recipe and tells every fault.
///
/// # Errors
/// At least one issue.
pub fn recipe_of(given: Given) -> Result<Recipe, Vec<Issue>> {
    let tree = given.map_err(|issue| vec![issue])?;
    let read = Recipe::from_tree_with_all_faults(tree);
    read.map_err(|faults| faults.into_iter().map(Issue::from).collect())
}

fn one(error: RecipeError) -> Vec<Issue> {
    vec![error.into()]
}

/// A tree as plain values; its numbers as what they are nearest to.
struct Plain(Tree);

impl Serialize for Plain {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Part(&self.0).serialize(serializer)
    }
}

struct Part<'a>(&'a Tree);

impl Serialize for Part<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Tree::Null => serializer.serialize_unit(),
            Tree::Bool(value) => serializer.serialize_bool(*value),
            Tree::Number(text) => serializer.serialize_f64(number_of_text(text)),
            Tree::Text(text) => serializer.serialize_str(text),
            Tree::List(items) => {
                let mut list = serializer.serialize_seq(Some(items.len()))?;
                for item in items {
                    list.serialize_element(&Part(item))?;
                }
                list.end()
            }
            Tree::Object(pairs) => {
                let mut map = serializer.serialize_map(Some(pairs.len()))?;
                for (name, value) in pairs {
                    map.serialize_entry(name, &Part(value))?;
                }
                map.end()
            }
        }
    }
}

/// A class of a system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Classified {
    /// The system.
    pub system: &'static str,
    /// The class's id in it.
    pub id: &'static str,
    /// Its name.
    pub name: &'static str,
}

/// A system of texture classes.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct SystemTold {
    /// Its id.
    pub id: &'static str,
    /// Ids of its classes.
    pub classes: Vec<&'static str>,
}

/// The systems that [`classify`] knows, the usual one first.
pub fn systems() -> Vec<SystemTold> {
    vec![SystemTold {
        id: USUAL_SYSTEM,
        classes: Class::ALL.iter().map(|class| class.id()).collect(),
    }]
}

/// The system where none is named.
const USUAL_SYSTEM: &str = "usda";
/// How far sand, silt and clay may sum from 100, %, as in a recipe.
const SUM_SLACK_PCT: f64 = 0.5;

/// The class of sand, silt and clay in percent that sum to 100, in a system; of none of them that is
/// no number.
///
/// ```
/// use barrowmix::api::classify;
///
/// let class = classify([Some(20.0), Some(25.0), Some(55.0)], None);
/// assert_eq!(class.as_ref().map(|class| class.id), Ok("clay"));
/// let short = classify([Some(20.0), Some(25.0), None], None);
/// assert_eq!(short.as_ref().map_err(|issues| issues[0].path.clone()), Err("clay".to_owned()));
/// ```
pub fn classify(fractions_pct: [Option<f64>; 3], system: Option<&str>) -> Answer<Classified> {
    Answer::new("class", class_of(fractions_pct, system))
}

fn class_of(given: [Option<f64>; 3], system: Option<&str>) -> Result<Classified, Vec<Issue>> {
    let mut issues: Vec<Issue> = Vec::new();
    let (low, high) = (0.0, 100.0);
    for (value, name) in given.into_iter().zip(["sand", "silt", "clay"]) {
        let fault = match value {
            None => Fault::Kind(Kind::Number),
            Some(value) if !value.is_finite() => Fault::NotFinite { low, high },
            Some(value) if value < low || value > high => Fault::OutOfRange { value, low, high },
            Some(_) => continue,
        };
        issues.push(fault.at(name).into());
    }
    let found = system.unwrap_or(USUAL_SYSTEM);
    if found != USUAL_SYSTEM {
        let (found, allowed) = (found.to_owned(), systems().iter().map(|of| of.id).collect());
        issues.push(Fault::NotOneOf { found, allowed }.at("system").into());
    }
    let fractions_pct = given.map(Option::unwrap_or_default);
    let sum_pct: f64 = fractions_pct.iter().sum();
    if issues.is_empty() && (sum_pct - 100.0).abs() > SUM_SLACK_PCT + 1e-9 {
        issues.push(Fault::Fractions { sum_pct }.at(Path::root()).into());
    }
    if !issues.is_empty() {
        return Err(issues);
    }
    // The class is judged by shares of their sum.
    let class = crate::texture::classify(fractions_pct.map(|part| part / sum_pct * 100.0));
    Ok(Classified {
        system: USUAL_SYSTEM,
        id: class.id(),
        name: class_name(class),
    })
}
