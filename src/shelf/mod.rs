//! The shelf: blends that are kept to lie side by side, as part of the recipe.
//!
//! A kept blend holds whole fields of the recipe as they were, so that it stays what it was
//! whatever becomes of the recipe. Every change here gives another list; the page's own undo brings
//! the one before back.
//!
//! ```
//! use barrowmix::recipe::Recipe;
//! use barrowmix::shelf;
//!
//! let text = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/recipes/sand-half.json"));
//! let mut recipe = Recipe::from_json(text)?;
//! let kept = shelf::keep(&[], &recipe, "Half sand").expect("there is room");
//! shelf::set_shelf(&mut recipe, &kept);
//! recipe.additions.clear();
//! let again = shelf::shelf_of(&recipe)?[0].put_on(&recipe)?;
//! assert_eq!(again.additions.len(), 1);
//! # Ok::<(), barrowmix::recipe::RecipeError>(())
//! ```

mod compare;
mod document;

pub use compare::{
    Against, Compared, Difference, Side, compare, joint, same_class, typical_difference,
};
pub use document::{set_shelf, shelf_of};

use crate::recipe::moment::{Changes, FIELDS, applied, taken};
use crate::recipe::{Kept, Recipe, RecipeError};

/// Most kept blends (a choice: more columns than eight are no longer compared but searched).
pub const SHELF_LIMIT: usize = 8;
/// Most letters of a name (a choice: two lines of a column's head).
pub const NAME_LIMIT: usize = 40;

/// A kept blend.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelved {
    /// What the user calls it; no other on the shelf is given this name, capitals like small
    /// letters.
    pub name: String,
    /// Every field of the blend, in their order; `null` where there is none.
    fields: Changes,
    /// Fields of a later release among them.
    fields_kept: Kept,
    /// Fields of a later release.
    kept: Kept,
}

/// Why a shelf does not change as it was asked to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ShelfFault {
    /// There is no room.
    Full {
        /// How many there may be.
        limit: usize,
    },
    /// A name of no letters.
    NoName,
    /// A name that is too long.
    LongName {
        /// How many letters it may have.
        limit: usize,
    },
    /// Another one has this name, or the same but for capitals.
    Taken,
    /// There is no such blend.
    NoSuch,
}

impl Shelved {
    /// A recipe as it is now, under a name.
    fn of(recipe: &Recipe, name: String) -> Shelved {
        Shelved {
            name,
            fields: taken(recipe, &FIELDS),
            fields_kept: Kept::new(),
            kept: Kept::new(),
        }
    }

    /// The kept blend as a recipe; title, currency and release are those of the one it is kept in.
    ///
    /// # Errors
    /// What is wrong with it, with the path in the recipe.
    pub fn recipe(&self, base: &Recipe) -> Result<Recipe, RecipeError> {
        applied(base, &self.fields)
    }

    /// The recipe that goes on with this blend, and keeps what stands beside it.
    ///
    /// # Errors
    /// What is wrong with it, with the path in the recipe.
    pub fn put_on(&self, base: &Recipe) -> Result<Recipe, RecipeError> {
        let blend = self.recipe(base)?;
        Ok(Recipe {
            lectern: base.lectern.clone(),
            trial: base.trial.clone(),
            shelf: base.shelf.clone(),
            errand: base.errand.clone(),
            ..blend
        })
    }

    /// Whether a recipe has just this blend.
    pub fn is_of(&self, recipe: &Recipe) -> bool {
        self.recipe(recipe)
            .is_ok_and(|own| taken(&own, &FIELDS) == taken(recipe, &FIELDS))
    }
}

/// A name without white space around it or doubled within, which is no more than a line.
fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a name can stand at a place of the list.
fn fits(list: &[Shelved], name: &str, but: Option<usize>) -> Result<(), ShelfFault> {
    if name.is_empty() {
        return Err(ShelfFault::NoName);
    }
    if name.chars().count() > NAME_LIMIT {
        return Err(ShelfFault::LongName { limit: NAME_LIMIT });
    }
    let mut others = list.iter().enumerate().filter(|(at, _)| Some(*at) != but);
    // Two that differ only in capitals are not told apart at a glance. A shelf that was kept with
    // such names still reads.
    let small = name.to_lowercase();
    if others.any(|(_, other)| other.name.to_lowercase() == small) {
        return Err(ShelfFault::Taken);
    }
    Ok(())
}

/// A name that no other one has: shortened where it is too long, with a number where it is taken.
fn unique(list: &[Shelved], proposed: &str) -> String {
    let proposed = plain(proposed);
    let cut = |room: usize| match proposed.char_indices().nth(room) {
        Some((end, _)) => {
            let short: String = proposed[..end].chars().take(room - 1).collect();
            short.trim_end_matches([' ', ',', ';']).to_owned() + "…"
        }
        None => proposed.clone(),
    };
    let mut number = 1;
    loop {
        let name = match number {
            1 => cut(NAME_LIMIT),
            _ => {
                let end = format!(" {number}");
                (cut(NAME_LIMIT - end.len()) + &end).trim().to_owned()
            }
        };
        // Of more numbers than names one is free.
        if number > SHELF_LIMIT + 1 || fits(list, &name, None).is_ok() {
            return name;
        }
        number += 1;
    }
}

fn has_room(list: &[Shelved]) -> Result<(), ShelfFault> {
    if list.len() >= SHELF_LIMIT {
        return Err(ShelfFault::Full { limit: SHELF_LIMIT });
    }
    Ok(())
}

fn at(list: &[Shelved], index: usize) -> Result<&Shelved, ShelfFault> {
    list.get(index).ok_or(ShelfFault::NoSuch)
}

/// The shelf with a recipe's blend at its end, under the proposed name or one like it.
///
/// # Errors
/// There is no room.
pub fn keep(list: &[Shelved], recipe: &Recipe, proposed: &str) -> Result<Vec<Shelved>, ShelfFault> {
    has_room(list)?;
    let mut list = list.to_vec();
    let name = unique(&list, proposed);
    list.push(Shelved::of(recipe, name));
    Ok(list)
}

/// The shelf with another name for one of its blends.
///
/// # Errors
/// The name cannot stand, or there is no such blend.
pub fn rename(list: &[Shelved], index: usize, name: &str) -> Result<Vec<Shelved>, ShelfFault> {
    at(list, index)?;
    let name = plain(name);
    fits(list, &name, Some(index))?;
    let mut list = list.to_vec();
    list[index].name = name;
    Ok(list)
}

/// The shelf with one of its blends twice, the second after the first under a name like it.
///
/// # Errors
/// There is no room, or no such blend.
pub fn duplicate(list: &[Shelved], index: usize) -> Result<Vec<Shelved>, ShelfFault> {
    let mut copy = at(list, index)?.clone();
    has_room(list)?;
    copy.name = unique(list, &copy.name);
    let mut list = list.to_vec();
    list.insert(index + 1, copy);
    Ok(list)
}

/// The shelf without one of its blends.
///
/// # Errors
/// There is no such blend.
pub fn delete(list: &[Shelved], index: usize) -> Result<Vec<Shelved>, ShelfFault> {
    at(list, index)?;
    let mut list = list.to_vec();
    list.remove(index);
    Ok(list)
}

/// The shelf with one of its blends at another place.
///
/// # Errors
/// There is no such blend or place.
pub fn moved(list: &[Shelved], from: usize, to: usize) -> Result<Vec<Shelved>, ShelfFault> {
    at(list, from)?;
    at(list, to)?;
    let mut list = list.to_vec();
    let blend = list.remove(from);
    list.insert(to, blend);
    Ok(list)
}

/// The shelf in the order of its names, capitals like small letters.
pub fn by_name(list: &[Shelved], backwards: bool) -> Vec<Shelved> {
    let mut list = list.to_vec();
    let key = |blend: &Shelved| blend.name.to_lowercase();
    list.sort_by(|one, other| {
        let order = key(one).cmp(&key(other));
        if backwards { order.reverse() } else { order }
    });
    list
}

/// The shelf in the order of a figure that each of its blends has or has not; those without come
/// last, equal ones stay as they were.
pub fn by_figure(list: &[Shelved], figures: &[Option<f64>], highest_first: bool) -> Vec<Shelved> {
    let figure = |index: usize| {
        let found = figures.get(index).copied().flatten();
        found.filter(|value| value.is_finite())
    };
    let mut order: Vec<usize> = (0..list.len()).collect();
    order.sort_by(|one, other| match (figure(*one), figure(*other)) {
        (Some(one), Some(other)) if highest_first => other.total_cmp(&one),
        (Some(one), Some(other)) => one.total_cmp(&other),
        (one, other) => other.is_some().cmp(&one.is_some()),
    });
    order.into_iter().map(|index| list[index].clone()).collect()
}
