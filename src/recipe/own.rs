//! A recipe's own materials: made from others, edited, deleted, carried from recipe to recipe.

pub use super::label::{
    BucketFault, k2o_pct, p2o5_pct, phosphorus_pct, potassium_pct, weighed_bucket,
};
use super::read::material_list;
use super::write::material_list_tree;
use super::{Addition, Found, Kept, OwnMaterial, RELEASE, Recipe, RecipeError, Tree, is_later};
use crate::figure::{Figure, within};
use crate::material::{Entry, FRESH_SHARE_OF_GRAIN, Group, Property, SETTLED_SHARE_OF_GRAIN};
use crate::quantity::round_significant;

/// Most letters of an id made from a name.
const ID_LENGTH: usize = 40;
/// The id of a material whose name has no letter that an id takes.
const ID_WITHOUT_LETTERS: &str = "own";

/// What cannot be done with an own material.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum OwnFault {
    /// No material has this id.
    Unknown {
        /// The id.
        id: String,
    },
    /// A material of this recipe's own has this id already, or two have.
    Twice {
        /// The id.
        id: String,
    },
    /// Lines of the recipe use it.
    InUse {
        /// The id.
        id: String,
        /// Those lines, from 0.
        lines: Vec<usize>,
    },
    /// The material has a fault that the reader would refuse.
    Material(RecipeError),
}

impl From<RecipeError> for OwnFault {
    fn from(error: RecipeError) -> OwnFault {
        OwnFault::Material(error)
    }
}

/// An id for a name: its letters and digits in small, and a number where that is taken by a
/// material of the recipe or of the catalogue.
pub fn fresh_id(recipe: &Recipe, name: &str) -> String {
    fresh_id_beside(&recipe.materials, name)
}

fn fresh_id_beside(materials: &[OwnMaterial], name: &str) -> String {
    let mut stem = String::new();
    for letter in name.chars() {
        if letter.is_ascii_alphanumeric() && stem.len() < ID_LENGTH {
            stem.push(letter.to_ascii_lowercase());
        } else if !stem.is_empty() && !stem.ends_with('_') && stem.len() < ID_LENGTH {
            stem.push('_');
        }
    }
    let stem = stem.trim_end_matches('_');
    let stem = if stem.is_empty() {
        ID_WITHOUT_LETTERS
    } else {
        stem
    };
    let taken =
        |id: &str| Entry::find(id).is_some() || materials.iter().any(|material| material.id == id);
    let mut id = stem.to_owned();
    let mut number = 2_usize;
    while taken(&id) {
        id = format!("{stem}_{number}");
        number += 1;
    }
    id
}

/// A material with everything that is known of another one, to be changed: an id of its own and a
/// new name. It is not yet in the recipe.
///
/// # Errors
/// [`OwnFault::Unknown`] where there is no such material.
pub fn copy_of(recipe: &Recipe, id: &str, new_name: &str) -> Result<OwnMaterial, OwnFault> {
    let found = recipe
        .find(id)
        .ok_or_else(|| OwnFault::Unknown { id: id.to_owned() })?;
    let copy = match found {
        Found::Own(own, _) => own.clone(),
        Found::Catalogue(entry) => OwnMaterial {
            id: String::new(),
            name: None,
            group: Some(entry.group),
            properties: entry.properties.clone(),
            ranges_kept: Vec::new(),
            bag: None,
            price: None,
            kept: Kept::new(),
        },
    };
    Ok(OwnMaterial {
        id: fresh_id(recipe, new_name),
        name: Some(new_name.to_owned()),
        ..copy
    })
}

/// A material with another loose weight as sold. What was known of it at the old weight moves
/// along: the settled weight keeps its proportion to the loose one, as in every draw, and so does
/// the grain density of an organic material, which is estimated from it. A grain is at least as
/// dense as its bulk asks for, as far as its solids allow.
pub fn with_loose_density(own: &OwnMaterial, loose_kg_m3: Figure) -> OwnMaterial {
    let mut out = own.clone();
    let given = |of: Property| own.properties.typical(of);
    let ratio = given(Property::LooseDensity).map_or(1.0, |old| loose_kg_m3.typical / old);
    let mut put = |of: Property, figure: Figure| {
        let (low, high) = of.limits();
        let neat = |value: f64| within(round_significant(value, 4), low, high);
        out.properties.set(of, Some(figure.map(neat)));
    };
    put(Property::LooseDensity, loose_kg_m3);
    let settled = own.properties.get(Property::SettledDryDensity);
    let settled = settled.map(|figure| figure.map(|value| value * ratio));
    if let Some(settled) = settled {
        put(Property::SettledDryDensity, settled);
    }
    let group = own.group.unwrap_or(Group::Sand);
    if let Some(grain) = own.properties.get(Property::GrainDensity) {
        let grain = if group.is_organic() {
            grain.map(|value| value * ratio)
        } else {
            grain
        };
        let water = given(Property::WaterPerWet).unwrap_or(0.0) * 0.01;
        let fresh = loose_kg_m3.typical * (1.0 - water);
        let settled = settled.map_or(fresh * group.settling_gain(), |figure| figure.typical);
        // A hair more, so that rounding does not fall below it.
        let least = (settled / SETTLED_SHARE_OF_GRAIN).max(fresh / FRESH_SHARE_OF_GRAIN) * 1.001;
        let most = given(Property::SolidDensity).unwrap_or(f64::MAX);
        put(
            Property::GrainDensity,
            grain.map(|value| value.max(least).min(most)),
        );
    }
    out
}

/// The lines of a recipe that name a material, from 0.
pub fn uses(recipe: &Recipe, id: &str) -> Vec<usize> {
    let names_it =
        |(index, addition): (usize, &Addition)| (addition.material == id).then_some(index);
    recipe
        .additions
        .iter()
        .enumerate()
        .filter_map(names_it)
        .collect()
}

/// The recipe without one of its own materials.
///
/// # Errors
/// Refused while a line uses it, also where the catalogue has that id: the line would silently
/// become something else. [`OwnFault::Unknown`] where the recipe has no such material.
pub fn delete(recipe: &Recipe, id: &str) -> Result<Recipe, OwnFault> {
    let index = recipe.materials.iter().position(|own| own.id == id);
    let index = index.ok_or_else(|| OwnFault::Unknown { id: id.to_owned() })?;
    let lines = uses(recipe, id);
    if !lines.is_empty() {
        let id = id.to_owned();
        return Err(OwnFault::InUse { id, lines });
    }
    let mut out = recipe.clone();
    out.materials.remove(index);
    Ok(out)
}

/// The recipe with a new material of its own.
///
/// # Errors
/// [`OwnFault::Twice`] where one has its id, and what the reader would refuse.
pub fn add(recipe: &Recipe, own: OwnMaterial) -> Result<Recipe, OwnFault> {
    if recipe.materials.iter().any(|other| other.id == own.id) {
        return Err(OwnFault::Twice { id: own.id });
    }
    put(recipe, own)
}

/// The recipe with a material of its own as it is now: in place of the one with its id, or new.
///
/// # Errors
/// [`OwnFault::Twice`] where two have its id, and what the reader would refuse.
pub fn put(recipe: &Recipe, own: OwnMaterial) -> Result<Recipe, OwnFault> {
    let mut out = recipe.clone();
    let mut places = (0..out.materials.len()).filter(|at| out.materials[*at].id == own.id);
    let (place, second) = (places.next(), places.next());
    if second.is_some() {
        return Err(OwnFault::Twice { id: own.id });
    }
    match place {
        Some(at) => out.materials[at] = own,
        None => out.materials.push(own),
    }
    // As if it came from a file, so that what is put is what can be opened again.
    material_list(material_list_tree(&out.materials, made_by(recipe)))?;
    Ok(out)
}

/// The release to name as the writer of a recipe's materials: the later one, where they hold what
/// only it knows.
fn made_by(recipe: &Recipe) -> &str {
    let later = recipe
        .made_by
        .as_deref()
        .filter(|release| is_later(release));
    later.unwrap_or(RELEASE)
}

/// Materials as a file of their own. What a later release put into them is left out, since the
/// list does not know that release; [`recipe_materials_to_json`] keeps it.
pub fn materials_to_json(materials: &[OwnMaterial]) -> String {
    let mut known = materials.to_vec();
    for own in &mut known {
        own.kept.clear();
        own.ranges_kept.clear();
        if let Some(bag) = &mut own.bag {
            bag.size.kept.clear();
        }
        if let Some(price) = &mut own.price {
            price.kept.clear();
            price.per.kept.clear();
        }
    }
    material_list_tree(&known, RELEASE).pretty()
}

/// A recipe's own materials as a file of their own, with everything that is in them.
pub fn recipe_materials_to_json(recipe: &Recipe) -> String {
    material_list_tree(&recipe.materials, made_by(recipe)).pretty()
}

/// Materials from a file of their own, or from a whole recipe.
///
/// # Errors
/// The first fault, with the path of its field.
pub fn materials_from_json(text: &str) -> Result<Vec<OwnMaterial>, RecipeError> {
    let tree = super::tree_of_text(text)?;
    let is_recipe = match &tree {
        Tree::Object(pairs) => pairs
            .iter()
            .any(|(name, _)| name == "ground" || name == "soil"),
        _ => false,
    };
    if is_recipe {
        return Recipe::from_tree(tree).map(|recipe| recipe.materials);
    }
    material_list(tree)
}

/// A material that got another id on its way into a recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    /// The id it had.
    pub from: String,
    /// The id it has now.
    pub to: String,
}

/// A recipe with materials of another.
#[derive(Clone, Debug, PartialEq)]
pub struct Imported {
    /// The recipe with them.
    pub recipe: Recipe,
    /// Those that got another id, since theirs was taken.
    pub renamed: Vec<Renamed>,
    /// Ids of those that the recipe had already, in everything alike; they were not added again.
    pub had: Vec<String>,
}

/// Adds materials to a recipe's own. One whose id is taken, also by the catalogue, gets another, so
/// that no line comes to mean something else.
///
/// # Errors
/// What the reader would refuse, such as too many of them; then nothing is added.
pub fn import(recipe: &Recipe, materials: Vec<OwnMaterial>) -> Result<Imported, OwnFault> {
    let mut out = Imported {
        recipe: recipe.clone(),
        renamed: Vec::new(),
        had: Vec::new(),
    };
    let own = &mut out.recipe.materials;
    for mut material in materials {
        let same = own.iter().find(|other| other.id == material.id);
        if same == Some(&material) {
            out.had.push(material.id);
            continue;
        }
        if same.is_some() || Entry::find(&material.id).is_some() {
            let to = fresh_id_beside(own, &material.id);
            out.renamed.push(Renamed {
                from: material.id,
                to: to.clone(),
            });
            material.id = to;
        }
        own.push(material);
    }
    material_list(material_list_tree(
        &out.recipe.materials,
        made_by(&out.recipe),
    ))?;
    Ok(out)
}
