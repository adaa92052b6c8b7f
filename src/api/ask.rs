//! What can be asked.

use super::{Answer, Issue, LETTERS_LIMIT, Strange};
use crate::document::document;
use crate::outcome::Outcome;
use crate::recipe::{
    Fault, NotJson, Path, Recipe, RecipeError, Tree, from_link, lectern, number_of_text, to_link,
};
use crate::words::{Speech, Units};
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
    Tree::parse(text)
        .map_err(|NotJson { line, column }| Fault::NotJson { line, column }.at(Path::root()).into())
}

/// Words for the units that sentences are told in.
pub const UNITS: [(&str, Units); 2] = [("metric", Units::Metric), ("us", Units::Us)];

/// The outcome of a recipe as its document ([`document`]). Its sentences are told in metric units, or
/// those of the United States (`us`); its numbers are what their names say.
///
/// The document is that of the program `examples/outcome.rs`, number for number.
pub fn evaluate(given: Given, units: Option<&str>) -> Answer<impl Serialize + use<>> {
    let found = units.unwrap_or(UNITS[0].0);
    let units = UNITS.iter().find(|(word, _)| *word == found);
    let units = units.ok_or_else(|| {
        let (found, allowed) = (found.to_owned(), UNITS.map(|(word, _)| word).into());
        one(Fault::NotOneOf { found, allowed }.at("units"))
    });
    let outcome = units.and_then(|(_, units)| {
        let outcome = Outcome::of(&recipe_of(given)?).map_err(one)?;
        Ok(document(&outcome, Speech { units: *units }))
    });
    Answer::new("outcome", outcome)
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

pub(super) fn one(error: RecipeError) -> Vec<Issue> {
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
                let mut map = serializer.serialize_map(None)?;
                // To set it would give the object of JavaScript another prototype.
                let plain = pairs.iter().filter(|(name, _)| name != "__proto__");
                for (name, value) in plain {
                    map.serialize_entry(name, &Part(value))?;
                }
                map.end()
            }
        }
    }
}
