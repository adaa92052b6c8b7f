//! What can be asked.

use super::{Answer, Issue, LETTERS_LIMIT, Strange};
use crate::document::document;
use crate::outcome::Outcome;
use crate::recipe::{
    Fault, NotJson, Path, Recipe, RecipeError, Tree, from_link, lectern, number_of_text, to_link,
};
use crate::words::Speech;
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

/// The outcome of a recipe as its document ([`document`]), its sentences in these units. Its numbers
/// are what their names say.
///
/// In metric units it is the document of the program `examples/outcome.rs`, number for number.
pub fn evaluate(given: Given, speech: Speech) -> Answer<impl Serialize + use<>> {
    let outcome = recipe_of(given).and_then(|recipe| Outcome::of(&recipe).map_err(one));
    Answer::new("outcome", outcome.map(|outcome| document(&outcome, speech)))
}

/// Whether a recipe reads, with every fault of every field; then whether it can be mixed, and whether
/// what stands beside the blend reads (its `lectern`, `trial`, `shelf` and `errand`), with the first
/// fault of each. Answers the recipe as it is written, fields in their order.
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

/// The recipe of such letters, or of the whole address that ends with them. White space, as it comes
/// along where one pastes, is passed over.
pub fn decode(letters: &str) -> Answer<impl Serialize + use<>> {
    let letters = letters.rsplit('#').next().unwrap_or_default();
    let letters: String = letters.split_whitespace().collect();
    let recipe = from_link(&letters).map_err(one);
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
