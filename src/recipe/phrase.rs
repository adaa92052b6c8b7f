//! Amounts as people say them: "3 soil, 1 compost and half a bucket of sand".

use super::names::{self, Name, near_names};
pub use super::names::{without_accents, words_of};
use super::spoken::{counted_in, number, pieces};
use super::{ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Addition, Amount, Found, Recipe};
use crate::quantity::Unit;

/// Most letters of what was said that a fault carries.
const FOUND_LETTERS: usize = 60;

/// What a share is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// The ground.
    Ground,
    /// A material, by its id.
    Material(String),
}

/// So many parts of something.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// How many parts.
    pub parts: f64,
    /// Of what.
    pub what: What,
}

/// What is wrong with what was said.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum PhraseFault {
    /// Nothing was said.
    Nothing,
    /// No part of it is the ground.
    NoGround,
    /// Something without a number.
    NoNumber {
        /// What was said.
        found: String,
    },
    /// A number of nothing.
    NoName {
        /// What was said.
        found: String,
    },
    /// Counted in two sizes, such as buckets and barrows.
    Mixed {
        /// The one.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
    /// A weight or a volume, which are no parts.
    Measure {
        /// The word.
        found: String,
    },
    /// Parts outside their limits, such as none.
    Parts {
        /// How many.
        parts: f64,
        /// Least accepted.
        low: f64,
        /// Greatest accepted.
        high: f64,
    },
    /// A name that nothing here has.
    Unknown {
        /// The name.
        found: String,
        /// Names that are like it, at most three.
        near: Vec<String>,
    },
    /// One thing twice.
    Twice {
        /// Which.
        what: What,
    },
    /// More than a recipe can hold.
    TooMany {
        /// How many it can.
        limit: usize,
    },
}

/// Reads parts as people say them. Names are the recipe's own materials first, then those of the
/// catalogue; soil, ground, clay, earth and dirt are the ground.
///
/// # Errors
/// The first thing that is not understood.
pub fn parse_parts(recipe: &Recipe, text: &str) -> Result<Vec<Share>, PhraseFault> {
    let names = names::all(recipe);
    let mut said: Vec<(f64, Vec<String>)> = Vec::new();
    let mut first: Option<&str> = None;
    for piece in pieces(text) {
        if let Some(kind) = counted_in(&piece) {
            let known = *first.get_or_insert(kind);
            if known != kind {
                return Err(PhraseFault::Mixed {
                    first: known,
                    second: kind,
                });
            }
        }
        match number(&piece) {
            Some((parts, words)) => said.push((parts?, words)),
            // Part of a name that holds a comma or an "and", or else a thing without a number.
            None => match said.last_mut() {
                Some((_, words)) if names::go_on(&names, words, &piece.words) => {
                    words.extend(piece.words);
                }
                _ => {
                    return Err(PhraseFault::NoNumber {
                        found: piece.text(),
                    });
                }
            },
        }
    }
    let mut shares = Vec::with_capacity(said.len());
    for (parts, words) in said {
        let what = what(&names, &words)?;
        shares.push(Share { parts, what });
        if shares.len() > ADDITIONS_LIMIT + 1 {
            let limit = ADDITIONS_LIMIT;
            return Err(PhraseFault::TooMany { limit });
        }
    }
    check(&shares)?;
    Ok(shares)
}

/// The recipe with these parts in place of its additions. The amount of ground stays; a line whose
/// material stays keeps its moisture, bag and price; what lies on top stays, since it is no part.
///
/// # Errors
/// Shares that cannot be mixed so.
pub fn apply_parts(recipe: &Recipe, shares: &[Share]) -> Result<Recipe, PhraseFault> {
    check(shares)?;
    let mut additions = Vec::with_capacity(shares.len());
    let mut out = recipe.clone();
    for share in shares {
        let What::Material(id) = &share.what else {
            out.parts_of_soil = Some(share.parts);
            continue;
        };
        if recipe.find(id).is_none() {
            let near = near_names(&names::all(recipe), &words_of(id));
            let found = short(id);
            return Err(PhraseFault::Unknown { found, near });
        }
        let amount = Amount::new(share.parts, Unit::Part);
        let before = recipe
            .additions
            .iter()
            .find(|line| line.material == *id && !line.is_on_top());
        additions.push(match before {
            Some(line) => Addition {
                amount,
                ..line.clone()
            },
            None => Addition::new(id.as_str(), amount),
        });
    }
    additions.extend(
        recipe
            .additions
            .iter()
            .filter(|line| line.is_on_top())
            .cloned(),
    );
    if additions.len() > ADDITIONS_LIMIT {
        let limit = ADDITIONS_LIMIT;
        return Err(PhraseFault::TooMany { limit });
    }
    out.additions = additions;
    Ok(out)
}

impl What {
    /// The name of a material, none of the ground.
    pub fn name<'a>(&'a self, recipe: &'a Recipe) -> Option<&'a str> {
        match self {
            What::Ground => None,
            What::Material(id) => Some(recipe.find(id).map_or(id.as_str(), Found::name)),
        }
    }
}

/// What must hold of any shares.
fn check(shares: &[Share]) -> Result<(), PhraseFault> {
    if shares.is_empty() {
        return Err(PhraseFault::Nothing);
    }
    for (index, share) in shares.iter().enumerate() {
        within(share.parts)?;
        if shares[..index].iter().any(|other| other.what == share.what) {
            let what = share.what.clone();
            return Err(PhraseFault::Twice { what });
        }
    }
    if shares.iter().all(|share| share.what != What::Ground) {
        return Err(PhraseFault::NoGround);
    }
    Ok(())
}

pub(super) fn within(parts: f64) -> Result<f64, PhraseFault> {
    let (low, high) = (AMOUNT_LEAST, AMOUNT_LIMIT);
    if parts >= low && parts <= high {
        return Ok(parts);
    }
    Err(PhraseFault::Parts { parts, low, high })
}

/// A text that is not without end.
pub(super) fn short(text: &str) -> String {
    text.chars().take(FOUND_LETTERS).collect()
}

/// What a name means.
fn what(names: &[Name], said: &[String]) -> Result<What, PhraseFault> {
    let text = said.join(" ");
    names::find(names, &words_of(&text)).ok_or_else(|| PhraseFault::Unknown {
        near: near_names(names, &words_of(&text)),
        found: short(&text),
    })
}
