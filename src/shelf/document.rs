//! The recipe's field `shelf`: a list of `{name, blend, like}`, of which `blend` holds whole fields
//! of the recipe and `like` names an earlier one whose fields it has beside its own.

use super::{NAME_LIMIT, SHELF_LIMIT, Shelved};
use crate::recipe::moment::{Changes, FIELDS, like, likest, over, within};
use crate::recipe::object::{Object, Reading};
use crate::recipe::{Fault, Kept, Path, Recipe, RecipeError, Tree};

/// The blends that a recipe keeps, each of which reads as a recipe.
///
/// # Errors
/// The first fault, with its path below `shelf`.
pub fn shelf_of(recipe: &Recipe) -> Result<Vec<Shelved>, RecipeError> {
    let Some(tree) = &recipe.shelf else {
        return Ok(Vec::new());
    };
    let reading = Reading::new(recipe.is_of_later_release());
    let pairs = vec![("shelf".to_owned(), tree.clone())];
    let mut root = Object::of(&reading, Tree::Object(pairs), Path::root());
    let mut list: Vec<Shelved> = Vec::new();
    for object in root.objects("shelf", SHELF_LIMIT) {
        let shelved = shelved(object, &list);
        list.push(shelved);
    }
    if let Some(fault) = reading.fault() {
        return Err(fault);
    }
    for (index, shelved) in list.iter().enumerate() {
        let path = Path::from("shelf").item(index).field("blend");
        let read = shelved.recipe(recipe);
        read.map_err(|error| within(&path, error))?;
    }
    Ok(list)
}

/// Gives a recipe a shelf; one without blends takes the field away.
pub fn set_shelf(recipe: &mut Recipe, list: &[Shelved]) {
    let all: Vec<&[(String, Tree)]> = list.iter().map(|shelved| &*shelved.fields).collect();
    let tree = |index: usize| list[index].tree(likest(&all[..=index]));
    let trees = || Tree::List((0..list.len()).map(tree).collect());
    recipe.shelf = (!list.is_empty()).then(trees);
}

impl Shelved {
    /// As it is written, with what it shares with an earlier one.
    fn tree(&self, like: Option<(usize, Changes)>) -> Tree {
        let mut pairs = vec![("name".to_owned(), Tree::text(&*self.name))];
        let mut own = match like {
            Some((index, own)) => {
                pairs.push(("like".to_owned(), Tree::number(index as f64)));
                own
            }
            None => {
                let there = self.fields.iter().filter(|(_, value)| *value != Tree::Null);
                there.cloned().collect()
            }
        };
        own.extend(self.fields_kept.iter().cloned());
        if !own.is_empty() {
            pairs.push(("blend".to_owned(), Tree::Object(own)));
        }
        pairs.extend(self.kept.iter().cloned());
        Tree::Object(pairs)
    }
}

fn shelved(mut object: Object, before: &[Shelved]) -> Shelved {
    let name = object.text("name").unwrap_or_else(|| {
        object.missing("name");
        // Not blank, so that the first fault stays the only one.
        "?".to_owned()
    });
    if name.trim().is_empty() {
        object.missing("name");
    }
    if name.chars().count() > NAME_LIMIT {
        let limit = NAME_LIMIT;
        object.wrong_field("name", Fault::TooMany { limit });
    }
    if before.iter().any(|other| other.name == name) {
        object.wrong_field("name", Fault::Twice);
    }
    let is_like = like(&mut object, before);
    let (mut own, mut fields_kept) = (Changes::new(), Kept::new());
    match object.object("blend") {
        Some(mut blend) => {
            for field in FIELDS {
                own.extend(blend.take(field).map(|value| (field.to_owned(), value)));
            }
            fields_kept = blend.finish();
        }
        None if is_like.is_none() => object.missing("blend"),
        None => {}
    }
    let nothing: Changes = FIELDS
        .iter()
        .map(|name| ((*name).to_owned(), Tree::Null))
        .collect();
    let base = is_like.map_or(&nothing, |like| &like.fields);
    Shelved {
        name,
        fields: over(base, &own),
        fields_kept,
        kept: object.finish(),
    }
}
