//! From the tree to a recipe: every field known, every number inside its limits.

use super::object::Object;
use super::{
    ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Addition, Amount, Bag, Fault, Kept, Kind, Near,
    OwnMaterial, Path, Place, PlaceKind, Price, Recipe, RecipeError, Soil, Support, Tree, VERSION,
    is_later,
};
use crate::ground::{Trait, Traits};
use crate::material::{Group, Properties, Property};
use crate::quantity::Dimension;

/// How far sand, silt and clay may sum from 100, %.
const FRACTIONS_SLACK_PCT: f64 = 0.5;
/// Limits of a place's height, m.
const HEIGHT_LIMITS_M: (f64, f64) = (0.01, 3.0);
/// Limits of the mean temperature of a year, degrees Celsius (coldest and hottest lived-in places).
const TEMPERATURE_LIMITS_C: (f64, f64) = (-30.0, 40.0);
/// Most own materials in a recipe.
const MATERIALS_LIMIT: usize = 256;
/// What bags and prices are counted in.
const MASS_OR_VOLUME: &[Dimension] = &[Dimension::Mass, Dimension::Volume];
/// What an addition is counted in.
const ADDED: &[Dimension] = &[
    Dimension::Mass,
    Dimension::Volume,
    Dimension::Length,
    Dimension::ShareOfVolume,
    Dimension::ShareOfMass,
    Dimension::Part,
    Dimension::MassPerArea,
    Dimension::MassPerVolume,
    Dimension::Bag,
];

impl Recipe {
    /// Reads a recipe from a tree.
    ///
    /// # Errors
    /// The first fault, with the path of its field.
    pub fn from_tree(tree: Tree) -> Result<Recipe, RecipeError> {
        let later = release_of(&tree).is_some_and(is_later);
        let mut root = Object::of(tree, Path::root(), later)?;
        version(&mut root)?;
        let title = root.text("title")?;
        let mut ground = root
            .object("ground")?
            .ok_or_else(|| Fault::Missing.at("ground"))?;
        let (traits, ground_ranges_kept) = traits(&mut ground)?;
        let soil = soil(&mut root)?;
        let parts_of_soil = root.number("parts_of_soil", (AMOUNT_LEAST, AMOUNT_LIMIT))?;
        let additions = root
            .objects("additions", ADDITIONS_LIMIT)?
            .into_iter()
            .map(addition)
            .collect::<Result<_, _>>()?;
        let recipe = Recipe {
            title,
            ground: traits,
            ground_kept: ground.finish()?,
            ground_ranges_kept,
            soil,
            parts_of_soil,
            additions,
            place: root.object("place")?.map(place).transpose()?,
            currency: root.text("currency")?,
            made_by: root.text("made_by")?,
            materials: root
                .objects("materials", MATERIALS_LIMIT)?
                .into_iter()
                .map(own_material)
                .collect::<Result<_, _>>()?,
            kept: root.finish()?,
        };
        references(&recipe)?;
        Ok(recipe)
    }
}

fn release_of(tree: &Tree) -> Option<&str> {
    let Tree::Object(pairs) = tree else {
        return None;
    };
    pairs.iter().find_map(|(name, value)| match value {
        Tree::Text(release) if name == "made_by" => Some(release.as_str()),
        _ => None,
    })
}

fn version(root: &mut Object) -> Result<(), RecipeError> {
    match root.need("barrowmix")? {
        Tree::Number(text) if super::number_of_text(&text) == f64::from(VERSION) => Ok(()),
        _ => Err(Fault::Version { newest: VERSION }.at("barrowmix")),
    }
}

/// Zero where only more than zero will do.
fn positive(value: f64, high: f64) -> Fault {
    Fault::OutOfRange {
        value,
        low: AMOUNT_LEAST,
        high,
    }
}

fn traits(ground: &mut Object) -> Result<(Traits, Vec<(Trait, Kept)>), RecipeError> {
    let mut traits = Traits::NONE;
    let mut ranges_kept = Vec::new();
    for of in Trait::ALL.iter().copied() {
        let (figure, kept) = ground.figure(of.name(), of.limits())?;
        traits.set(of, figure);
        if !kept.is_empty() {
            ranges_kept.push((of, kept));
        }
    }
    for of in [Trait::Sand, Trait::Silt, Trait::Clay] {
        if traits.get(of).is_none() {
            return Err(Fault::Missing.at(ground.path.field(of.name())));
        }
    }
    let sum_pct: f64 = traits.fractions_pct().iter().sum();
    // A hair more, so that 33.3 + 33.3 + 32.9 is judged as written and not as binary has it.
    if (sum_pct - 100.0).abs() > FRACTIONS_SLACK_PCT + 1e-9 {
        return Err(Fault::Fractions { sum_pct }.at(ground.path.clone()));
    }
    let conductivities = [Trait::EcSaturatedPaste, Trait::Ec1To5, Trait::Ec1To2];
    if conductivities
        .iter()
        .filter(|of| traits.get(**of).is_some())
        .count()
        > 1
    {
        let names = conductivities.iter().map(|of| of.name()).collect();
        return Err(Fault::OnlyOneOf(names).at(ground.path.clone()));
    }
    Ok((traits, ranges_kept))
}

fn soil(root: &mut Object) -> Result<Soil, RecipeError> {
    let missing = Fault::Missing.at("soil");
    let mut object = root.object("soil")?.ok_or(missing)?;
    let area = object.amount("area", &[Dimension::Area])?;
    let depth = object.amount("depth", &[Dimension::Length])?;
    match (area, depth) {
        (None, None) => Ok(Soil::Amount(object.into_amount(MASS_OR_VOLUME)?)),
        (Some(area), Some(depth)) => Ok(Soil::Bed {
            area,
            depth,
            kept: object.finish()?,
        }),
        (None, Some(_)) => Err(Fault::Missing.at("soil.area")),
        (Some(_), None) => Err(Fault::Missing.at("soil.depth")),
    }
}

fn addition(mut object: Object) -> Result<Addition, RecipeError> {
    let path = object.path.clone();
    let need = |name| Fault::Missing.at(path.field(name));
    let water = Property::WaterPerWet;
    let (water_per_wet_pct, water_kept) = object.figure(water.name(), water.limits())?;
    Ok(Addition {
        material: object.text("material")?.ok_or_else(|| need("material"))?,
        amount: object
            .amount("amount", ADDED)?
            .ok_or_else(|| need("amount"))?,
        water_per_wet_pct,
        water_kept,
        on_top: object.bool("on_top")?,
        bag: bag(&mut object)?,
        price: price(&mut object)?,
        kept: object.finish()?,
    })
}

fn bag(object: &mut Object) -> Result<Option<Bag>, RecipeError> {
    let Some(mut bag) = object.object("bag")? else {
        return Ok(None);
    };
    let path = bag.path.clone();
    let (value, unit) = bag.value_and_unit(MASS_OR_VOLUME)?;
    if value < AMOUNT_LEAST {
        return Err(positive(value, AMOUNT_LIMIT).at(path.field("value")));
    }
    let expands = bag.number("expands", (AMOUNT_LEAST, AMOUNT_LIMIT))?;
    let kept = bag.finish()?;
    Ok(Some(Bag {
        size: Amount { value, unit, kept },
        expands,
    }))
}

fn price(object: &mut Object) -> Result<Option<Price>, RecipeError> {
    let Some(mut price) = object.object("price")? else {
        return Ok(None);
    };
    let path = price.path.clone();
    let missing = |name| Fault::Missing.at(path.field(name));
    let value = price
        .number("value", (0.0, AMOUNT_LIMIT))?
        .ok_or_else(|| missing("value"))?;
    let per = price
        .amount("per", &[Dimension::Mass, Dimension::Volume, Dimension::Bag])?
        .ok_or_else(|| missing("per"))?;
    if per.value < AMOUNT_LEAST {
        return Err(positive(per.value, AMOUNT_LIMIT).at(path.field("per").field("value")));
    }
    Ok(Some(Price {
        value,
        per,
        kept: price.finish()?,
    }))
}

fn place(mut object: Object) -> Result<Place, RecipeError> {
    let path = object.path.clone();
    let height = object.amount("height", &[Dimension::Length])?;
    if let Some(height) = &height {
        let (low, high) = HEIGHT_LIMITS_M;
        let unit = height.unit.factor();
        // Compared in the unit typed, so that 300 cm is on the right side of its own limit.
        let in_unit = |metres: f64| (metres / unit * 1e9).round() / 1e9;
        let (low, high) = (in_unit(low), in_unit(high));
        if height.value < low || height.value > high {
            let value = height.value;
            return Err(
                Fault::OutOfRange { value, low, high }.at(path.field("height").field("value"))
            );
        }
    }
    let count = object.number("count", (1.0, AMOUNT_LIMIT))?;
    if count.is_some_and(|count| count.fract() != 0.0) {
        return Err(Fault::Kind(Kind::Whole).at(path.field("count")));
    }
    let positive_amount = |amount: Option<Amount>, name: &str| match amount {
        Some(amount) if amount.value == 0.0 => {
            Err(positive(0.0, AMOUNT_LIMIT).at(path.field(name).field("value")))
        }
        amount => Ok(amount),
    };
    Ok(Place {
        kind: object.word("kind", PlaceKind::ALL, PlaceKind::spelling)?,
        volume: positive_amount(object.amount("volume", &[Dimension::Volume])?, "volume")?,
        height,
        top_width: positive_amount(
            object.amount("top_width", &[Dimension::Length])?,
            "top_width",
        )?,
        bottom_width: object.amount("bottom_width", &[Dimension::Length])?,
        count,
        drains: object.bool("drains")?,
        on: object.word("on", Support::ALL, Support::spelling)?,
        near: object.word("near", Near::ALL, Near::spelling)?,
        crop: object.text("crop")?,
        mean_temperature_c: object.number("mean_temperature_c", TEMPERATURE_LIMITS_C)?,
        kept: object.finish()?,
    })
}

fn own_material(mut object: Object) -> Result<OwnMaterial, RecipeError> {
    let path = object.path.clone();
    let id = object
        .text("id")?
        .filter(|id| !id.is_empty())
        .ok_or_else(|| Fault::Missing.at(path.field("id")))?;
    let name = object.text("name")?;
    let group = object.word("group", Group::ALL, Group::spelling)?;
    let mut properties = Properties::NONE;
    let mut ranges_kept = Vec::new();
    for property in Property::ALL.iter().copied() {
        let (figure, kept) = object.figure(property.name(), property.limits())?;
        properties.set(property, figure);
        if !kept.is_empty() {
            ranges_kept.push((property, kept));
        }
    }
    if properties.get(Property::LooseDensity).is_none() {
        return Err(Fault::Missing.at(path.field(Property::LooseDensity.name())));
    }
    Ok(OwnMaterial {
        id,
        name,
        group,
        properties,
        ranges_kept,
        bag: bag(&mut object)?,
        price: price(&mut object)?,
        kept: object.finish()?,
    })
}

/// What one part of the recipe says of another: ids, bags, numbers of a material.
fn references(recipe: &Recipe) -> Result<(), RecipeError> {
    for (index, own) in recipe.materials.iter().enumerate() {
        let path = Path::from("materials").item(index);
        if recipe.materials[..index]
            .iter()
            .any(|other| other.id == own.id)
        {
            return Err(Fault::Twice.at(path.field("id")));
        }
        super::Found::Own(own, index)
            .material()
            .map_err(|misfit| Fault::Misfit(misfit).at(path))?;
    }
    for (index, addition) in recipe.additions.iter().enumerate() {
        let path = Path::from("additions").item(index);
        if recipe.find(&addition.material).is_none() {
            let found = addition.material.clone();
            return Err(Fault::UnknownMaterial { found }.at(path.field("material")));
        }
    }
    Ok(())
}
