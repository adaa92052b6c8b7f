//! From the tree to a recipe: every field known, every number inside its limits.

use super::object::{Object, Reading};
use super::{
    ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Addition, Amount, Bag, Fault, Kept, Kind,
    Measured, Near, OwnMaterial, Path, Place, PlaceKind, Price, Recipe, RecipeError, Soil, Support,
    Tree, VERSION, is_later,
};
use crate::ground::{Trait, Traits};
use crate::material::{Group, Properties, Property};
use crate::quantity::{Dimension, Unit};

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
/// What a price is for.
const PRICED: &[Dimension] = &[Dimension::Mass, Dimension::Volume, Dimension::Bag];
const LENGTH: &[Dimension] = &[Dimension::Length];
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
        let reading = Reading::new(later);
        let recipe = recipe(Object::of(&reading, tree, Path::root()));
        if let Some(fault) = reading.fault() {
            return Err(fault);
        }
        references(&recipe, &reading);
        reading.fault().map_or(Ok(recipe), Err)
    }

    /// The same with every fault that was found and not the first alone, for forms.
    ///
    /// # Errors
    /// At least one fault, with the path of its field; one field has one.
    #[cfg(not(feature = "page"))]
    pub fn from_tree_with_all_faults(tree: Tree) -> Result<Recipe, Vec<RecipeError>> {
        let later = release_of(&tree).is_some_and(is_later);
        let reading = Reading::new(later);
        let recipe = recipe(Object::of(&reading, tree, Path::root()));
        references(&recipe, &reading);
        let faults = reading.faults();
        if faults.is_empty() {
            Ok(recipe)
        } else {
            Err(faults)
        }
    }
}

fn recipe(mut root: Object) -> Recipe {
    version(&mut root);
    let title = root.text("title");
    let ground = root.object("ground");
    if ground.is_none() {
        root.missing("ground");
    }
    let (mut traits, mut ground_ranges_kept) = (Traits::NONE, Vec::new());
    let ground = ground.map(|mut ground| {
        (traits, ground_ranges_kept) = read_traits(&mut ground);
        ground
    });
    Recipe {
        title,
        ground: traits,
        ground_ranges_kept,
        soil: soil(&mut root),
        parts_of_soil: root.number("parts_of_soil", (AMOUNT_LEAST, AMOUNT_LIMIT)),
        additions: additions(&mut root),
        ground_kept: ground.map(Object::finish).unwrap_or_default(),
        place: root.object("place").map(place),
        measured: Measured::read(&mut root),
        currency: root.text("currency"),
        made_by: root.text("made_by"),
        materials: own_materials(&mut root),
        lectern: root.take("lectern"),
        trial: root.take("trial"),
        shelf: root.take("shelf"),
        errand: root.take("errand"),
        kept: root.finish(),
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

fn version(root: &mut Object) {
    match root.take("barrowmix") {
        None => root.missing("barrowmix"),
        Some(Tree::Number(text)) if super::number_of_text(&text) == f64::from(VERSION) => {}
        Some(_) => root.wrong_field("barrowmix", Fault::Version { newest: VERSION }),
    }
}

/// Zero where only more than zero will do.
fn positive(value: f64) -> Fault {
    Fault::OutOfRange {
        value,
        low: AMOUNT_LEAST,
        high: AMOUNT_LIMIT,
    }
}

fn read_traits(ground: &mut Object) -> (Traits, Vec<(Trait, Kept)>) {
    let mut traits = Traits::NONE;
    let mut ranges_kept = Vec::new();
    for of in Trait::ALL.iter().copied() {
        let (figure, kept) = ground.figure(of.name(), of.limits());
        traits.set(of, figure);
        if !kept.is_empty() {
            ranges_kept.push((of, kept));
        }
    }
    let mut sum_pct = 0.0;
    for of in [Trait::Sand, Trait::Silt, Trait::Clay] {
        match traits.typical(of) {
            Some(share_pct) => sum_pct += share_pct,
            None => ground.missing(of.name()),
        }
    }
    // A hair more, so that 33.3 + 33.3 + 32.9 is judged as written and not as binary has it.
    if (sum_pct - 100.0).abs() > FRACTIONS_SLACK_PCT + 1e-9 {
        ground.wrong(Fault::Fractions { sum_pct });
    }
    let conductivities = [Trait::EcSaturatedPaste, Trait::Ec1To5, Trait::Ec1To2];
    let mut names = Vec::new();
    let mut given = 0;
    for of in conductivities {
        names.push(of.name());
        given += usize::from(traits.get(of).is_some());
    }
    if given > 1 {
        ground.wrong(Fault::OnlyOneOf(names));
    }
    (traits, ranges_kept)
}

fn soil(root: &mut Object) -> Soil {
    let Some(mut object) = root.object("soil") else {
        root.missing("soil");
        return Soil::Amount(Amount::new(0.0, Unit::ALL[0]));
    };
    let area = object.amount("area", &[Dimension::Area]);
    let depth = object.amount("depth", LENGTH);
    match (area, depth) {
        (Some(area), Some(depth)) => Soil::Bed {
            area,
            depth,
            kept: object.finish(),
        },
        (None, Some(_)) => {
            object.missing("area");
            Soil::Amount(Amount::new(0.0, Unit::ALL[0]))
        }
        (Some(_), None) => {
            object.missing("depth");
            Soil::Amount(Amount::new(0.0, Unit::ALL[0]))
        }
        (None, None) => Soil::Amount(object.into_amount(MASS_OR_VOLUME)),
    }
}

fn additions(root: &mut Object) -> Vec<Addition> {
    let mut additions = Vec::new();
    for mut object in root.objects("additions", ADDITIONS_LIMIT) {
        let water = Property::WaterPerWet;
        let (water_per_wet_pct, water_kept) = object.figure(water.name(), water.limits());
        additions.push(Addition {
            material: need_text(&mut object, "material"),
            amount: object.need_amount("amount", ADDED),
            water_per_wet_pct,
            water_kept,
            on_top: object.bool("on_top"),
            bag: bag(&mut object),
            price: price(&mut object),
            kept: object.finish(),
        });
    }
    additions
}

fn need_text(object: &mut Object, name: &'static str) -> String {
    object.text(name).unwrap_or_else(|| {
        object.missing(name);
        String::new()
    })
}

#[inline(never)]
pub(crate) fn bag(object: &mut Object) -> Option<Bag> {
    let mut bag = object.object("bag")?;
    let (value, unit) = bag.value_and_unit(MASS_OR_VOLUME);
    if value < AMOUNT_LEAST {
        bag.wrong_field("value", positive(value));
    }
    let expands = bag.number("expands", (AMOUNT_LEAST, AMOUNT_LIMIT));
    let kept = bag.finish();
    Some(Bag {
        size: Amount { value, unit, kept },
        expands,
    })
}

#[inline(never)]
pub(crate) fn price(object: &mut Object) -> Option<Price> {
    let mut price = object.object("price")?;
    let value = price.need_number("value", (0.0, AMOUNT_LIMIT));
    let per = price.need_amount("per", PRICED);
    if per.value < AMOUNT_LEAST {
        price.wrong_value("per", positive(per.value));
    }
    Some(Price {
        value,
        per,
        kept: price.finish(),
    })
}

fn place(mut object: Object) -> Place {
    let height = object.amount("height", LENGTH);
    if let Some(height) = &height {
        let (low, high) = HEIGHT_LIMITS_M;
        let unit = height.unit.factor();
        // Compared in the unit typed, so that 300 cm is on the right side of its own limit.
        let in_unit = |metres: f64| (metres / unit * 1e9).round() / 1e9;
        let (low, high) = (in_unit(low), in_unit(high));
        let value = height.value;
        if value < low || value > high {
            object.wrong_value("height", Fault::OutOfRange { value, low, high });
        }
    }
    let count = object.number("count", (1.0, AMOUNT_LIMIT));
    if count.is_some_and(|count| count.fract() != 0.0) {
        object.wrong_field("count", Fault::Kind(Kind::Whole));
    }
    Place {
        kind: object.word("kind", PlaceKind::ALL, PlaceKind::spelling),
        volume: positive_amount(&mut object, "volume", &[Dimension::Volume]),
        height,
        top_width: positive_amount(&mut object, "top_width", LENGTH),
        bottom_width: object.amount("bottom_width", LENGTH),
        count,
        drains: object.bool("drains"),
        on: object.word("on", Support::ALL, Support::spelling),
        near: object.word("near", Near::ALL, Near::spelling),
        crop: object.text("crop"),
        mean_temperature_c: object.number("mean_temperature_c", TEMPERATURE_LIMITS_C),
        kept: object.finish(),
    }
}

#[inline(never)]
fn positive_amount(
    object: &mut Object,
    name: &'static str,
    dimensions: &[Dimension],
) -> Option<Amount> {
    let amount = object.amount(name, dimensions)?;
    if amount.value == 0.0 {
        object.wrong_value(name, positive(0.0));
    }
    Some(amount)
}

/// Reads a file of materials alone.
pub(super) fn material_list(tree: Tree) -> Result<Vec<OwnMaterial>, RecipeError> {
    let reading = Reading::new(release_of(&tree).is_some_and(is_later));
    let mut root = Object::of(&reading, tree, Path::root());
    version(&mut root);
    root.text("made_by");
    let materials = own_materials(&mut root);
    root.finish();
    if let Some(fault) = reading.fault() {
        return Err(fault);
    }
    misfits(&materials, &reading);
    reading.fault().map_or(Ok(materials), Err)
}

fn own_materials(root: &mut Object) -> Vec<OwnMaterial> {
    let mut materials = Vec::new();
    for object in root.objects("materials", MATERIALS_LIMIT) {
        materials.push(own_material(object));
    }
    materials
}

fn own_material(mut object: Object) -> OwnMaterial {
    let id = need_text(&mut object, "id");
    if id.is_empty() {
        object.missing("id");
    }
    let name = object.text("name");
    let group = object.word("group", Group::ALL, Group::spelling);
    let mut properties = Properties::NONE;
    let mut ranges_kept = Vec::new();
    for property in Property::ALL.iter().copied() {
        let (figure, kept) = object.figure(property.name(), property.limits());
        properties.set(property, figure);
        if !kept.is_empty() {
            ranges_kept.push((property, kept));
        }
    }
    if properties.get(Property::LooseDensity).is_none() {
        object.missing(Property::LooseDensity.name());
    }
    OwnMaterial {
        id,
        name,
        group,
        properties,
        ranges_kept,
        bag: bag(&mut object),
        price: price(&mut object),
        kept: object.finish(),
    }
}

/// Notes ids that stand twice and materials whose numbers cannot be true together.
fn misfits(materials: &[OwnMaterial], reading: &Reading) {
    for (index, own) in materials.iter().enumerate() {
        let path = Path::from("materials").item(index);
        if materials[..index].iter().any(|other| other.id == own.id) {
            reading.note(path.field("id"), Fault::Twice);
        }
        if let Err(misfit) = super::Found::Own(own, index).material() {
            reading.note(path, Fault::Misfit(misfit));
        }
    }
}

/// Notes what one part of the recipe says wrongly of another: ids, numbers of a material.
fn references(recipe: &Recipe, reading: &Reading) {
    misfits(&recipe.materials, reading);
    // A material at fault may be the one that is looked for.
    #[cfg(not(feature = "page"))]
    if reading.is_wrong_in(&Path::from("materials")) {
        return;
    }
    for (index, addition) in recipe.additions.iter().enumerate() {
        if recipe.find(&addition.material).is_none() {
            let path = Path::from("additions").item(index).field("material");
            let found = addition.material.clone();
            reading.note(path, Fault::UnknownMaterial { found });
        }
    }
}
