//! What a recipe was at some time, as whole fields of it: for the steps of the lectern and the
//! blends that are kept. What two of a list share is written once: `like` names an earlier one by
//! its number, from nothing.

use super::object::Object;
use super::{Fault, Kind, Recipe, RecipeError, Tree};

/// Fields of the recipe that may be otherwise.
pub(crate) const FIELDS: [&str; 7] = [
    "ground",
    "soil",
    "parts_of_soil",
    "additions",
    "place",
    "measured",
    "materials",
];
/// Fields that no moment has: they stand beside the blend.
const BESIDE: [&str; 4] = ["lectern", "trial", "shelf", "errand"];

/// Whole fields and what they are; `null` takes one away.
pub(crate) type Changes = Vec<(String, Tree)>;

/// These fields as a recipe has them; what it has not is `null`.
pub(crate) fn taken(recipe: &Recipe, fields: &[&str]) -> Changes {
    let tree = recipe.to_tree();
    let taken = fields.iter().map(|name| {
        let value = field(&tree, name).cloned().unwrap_or(Tree::Null);
        ((*name).to_owned(), value)
    });
    taken.collect()
}

/// A recipe with other fields, and nothing beside the blend.
///
/// # Errors
/// What is wrong with it, with the path in the recipe.
pub(crate) fn applied(base: &Recipe, changes: &[(String, Tree)]) -> Result<Recipe, RecipeError> {
    let mut pairs = match base.to_tree() {
        Tree::Object(pairs) => pairs,
        _ => Vec::new(),
    };
    pairs.retain(|(name, _)| !BESIDE.contains(&name.as_str()));
    for (name, value) in changes {
        pairs.retain(|(known, _)| known != name);
        if *value != Tree::Null {
            pairs.push((name.clone(), value.clone()));
        }
    }
    Recipe::from_tree(Tree::Object(pairs))
}

/// The changes of one that is like another.
pub(crate) fn over(like: &[(String, Tree)], own: &[(String, Tree)]) -> Changes {
    let mut changes = like.to_vec();
    for (name, value) in own {
        match changes.iter_mut().find(|(known, _)| known == name) {
            Some((_, known)) => known.clone_from(value),
            None => changes.push((name.clone(), value.clone())),
        }
    }
    changes
}

/// The earlier one that the last of these shares most with, if that can be told from it, and what
/// of the last is then left to write.
pub(crate) fn likest(all: &[&[(String, Tree)]]) -> Option<(usize, Changes)> {
    let (last, before) = all.split_last()?;
    let shared = |of: &[(String, Tree)]| of.iter().filter(|change| last.contains(change)).count();
    let fitting = before.iter().enumerate();
    let fitting = fitting.filter(|(_, of)| shared(of) > 0 && over(of, last) == *last);
    let (index, like) = fitting.max_by_key(|(_, of)| shared(of))?;
    let own = last.iter().filter(|change| !like.contains(change));
    Some((index, own.cloned().collect()))
}

/// The earlier one that one is like, if it says so.
pub(crate) fn like<'a, T>(object: &mut Object, before: &'a [T]) -> Option<&'a T> {
    let text = match object.take("like")? {
        Tree::Number(text) => text,
        _ => {
            object.wrong_field("like", Fault::Kind(Kind::Number));
            return None;
        }
    };
    let found = text.parse::<usize>().ok().and_then(|at| before.get(at));
    if found.is_none() {
        let (found, allowed) = (text, Vec::new());
        object.wrong_field("like", Fault::NotOneOf { found, allowed });
    }
    found
}

/// A fault of a field of the recipe as one of what it was found in.
pub(crate) fn within(path: &super::Path, error: RecipeError) -> RecipeError {
    RecipeError {
        path: [path.as_str(), ".", error.path.as_str()].concat().into(),
        fault: error.fault,
    }
}

fn field<'a>(tree: &'a Tree, name: &str) -> Option<&'a Tree> {
    let Tree::Object(pairs) = tree else {
        return None;
    };
    pairs
        .iter()
        .find_map(|(known, value)| (known == name).then_some(value))
}
