//! From a recipe to the tree that is saved, in document order; what came is what goes.

use super::{Addition, Amount, Bag, Kept, OwnMaterial, Place, Price, Recipe, Soil, Tree, VERSION};
use crate::figure::Figure;
use crate::ground::Trait;
use crate::material::Property;

/// An object while it is written.
#[derive(Default)]
pub(crate) struct Fields(Vec<(String, Tree)>);

impl Fields {
    pub(crate) fn put(&mut self, name: &str, value: Option<Tree>) {
        if let Some(value) = value {
            self.0.push((name.to_owned(), value));
        }
    }

    pub(crate) fn text(&mut self, name: &str, value: Option<&str>) {
        self.put(name, value.map(Tree::text));
    }

    pub(crate) fn number(&mut self, name: &str, value: Option<f64>) {
        self.put(name, value.map(Tree::number));
    }

    pub(crate) fn figure(&mut self, name: &str, value: Option<Figure>, kept: &[(String, Tree)]) {
        self.put(name, value.map(|value| figure(value, kept)));
    }

    pub(crate) fn amount(&mut self, name: &str, value: Option<&Amount>) {
        self.put(name, value.map(amount));
    }

    pub(crate) fn list(&mut self, name: &str, items: Vec<Tree>) {
        self.put(name, (!items.is_empty()).then_some(Tree::List(items)));
    }

    /// An object that is only there if it holds something.
    pub(crate) fn filled(&mut self, name: &str, fields: Fields, kept: &[(String, Tree)]) {
        if !fields.0.is_empty() || !kept.is_empty() {
            self.put(name, Some(fields.end(kept)));
        }
    }

    pub(crate) fn end(mut self, kept: &[(String, Tree)]) -> Tree {
        self.0.extend(kept.iter().cloned());
        Tree::Object(self.0)
    }
}

impl Recipe {
    /// The tree of this recipe.
    pub fn to_tree(&self) -> Tree {
        let mut out = Fields::default();
        out.number("barrowmix", Some(f64::from(VERSION)));
        out.text("title", self.title.as_deref());
        let mut ground = Fields::default();
        for of in Trait::ALL.iter().copied() {
            ground.figure(
                of.name(),
                self.ground.get(of),
                kept_of(&self.ground_ranges_kept, of),
            );
        }
        out.put("ground", Some(ground.end(&self.ground_kept)));
        out.put("soil", Some(soil(&self.soil)));
        out.number("parts_of_soil", self.parts_of_soil);
        out.list("additions", self.additions.iter().map(addition).collect());
        out.put("place", self.place.as_ref().map(place));
        self.measured.write(&mut out);
        out.text("currency", self.currency.as_deref());
        out.text("made_by", self.made_by.as_deref());
        out.list(
            "materials",
            self.materials.iter().map(own_material).collect(),
        );
        out.put("lectern", self.lectern.clone());
        out.put("trial", self.trial.clone());
        out.put("shelf", self.shelf.clone());
        out.put("errand", self.errand.clone());
        out.end(&self.kept)
    }
}

/// The tree of a file of materials alone.
pub(super) fn material_list_tree(materials: &[OwnMaterial], made_by: &str) -> Tree {
    let mut out = Fields::default();
    out.number("barrowmix", Some(f64::from(VERSION)));
    out.text("made_by", Some(made_by));
    out.list("materials", materials.iter().map(own_material).collect());
    out.end(&Kept::new())
}

/// What is kept for one of many.
fn kept_of<T: Copy + PartialEq>(all: &[(T, Kept)], of: T) -> &[(String, Tree)] {
    let found = all.iter().find(|(known, _)| *known == of);
    found.map_or(&[], |(_, kept)| kept)
}

fn figure(value: Figure, kept: &[(String, Tree)]) -> Tree {
    match value.ends {
        None => Tree::number(value.typical),
        Some(ends) => {
            let mut out = Fields::default();
            out.number("low", Some(ends.low));
            out.number("typical", Some(value.typical));
            out.number("high", Some(ends.high));
            out.end(kept)
        }
    }
}

fn amount(value: &Amount) -> Tree {
    let mut out = Fields::default();
    out.number("value", Some(value.value));
    out.text("unit", Some(value.unit.spelling()));
    out.end(&value.kept)
}

fn soil(soil: &Soil) -> Tree {
    match soil {
        Soil::Amount(value) => amount(value),
        Soil::Bed { area, depth, kept } => {
            let mut out = Fields::default();
            out.amount("area", Some(area));
            out.amount("depth", Some(depth));
            out.end(kept)
        }
    }
}

fn addition(addition: &Addition) -> Tree {
    let mut out = Fields::default();
    out.text("material", Some(&addition.material));
    out.amount("amount", Some(&addition.amount));
    out.figure(
        Property::WaterPerWet.name(),
        addition.water_per_wet_pct,
        &addition.water_kept,
    );
    out.put("on_top", addition.on_top.map(Tree::Bool));
    out.put("bag", addition.bag.as_ref().map(bag));
    out.put("price", addition.price.as_ref().map(price));
    out.end(&addition.kept)
}

pub(crate) fn bag(bag: &Bag) -> Tree {
    let mut out = Fields::default();
    out.number("value", Some(bag.size.value));
    out.text("unit", Some(bag.size.unit.spelling()));
    out.number("expands", bag.expands);
    out.end(&bag.size.kept)
}

pub(crate) fn price(price: &Price) -> Tree {
    let mut out = Fields::default();
    out.number("value", Some(price.value));
    out.amount("per", Some(&price.per));
    out.end(&price.kept)
}

fn place(place: &Place) -> Tree {
    let mut out = Fields::default();
    out.text("kind", place.kind.map(|kind| kind.spelling()));
    out.amount("volume", place.volume.as_ref());
    out.amount("height", place.height.as_ref());
    out.amount("top_width", place.top_width.as_ref());
    out.amount("bottom_width", place.bottom_width.as_ref());
    out.number("count", place.count);
    out.put("drains", place.drains.map(Tree::Bool));
    out.text("on", place.on.map(|on| on.spelling()));
    out.text("near", place.near.map(|near| near.spelling()));
    out.text("crop", place.crop.as_deref());
    out.number("mean_temperature_c", place.mean_temperature_c);
    out.end(&place.kept)
}

fn own_material(own: &OwnMaterial) -> Tree {
    let mut out = Fields::default();
    out.text("id", Some(&own.id));
    out.text("name", own.name.as_deref());
    out.text("group", own.group.map(|group| group.spelling()));
    for property in Property::ALL.iter().copied() {
        out.figure(
            property.name(),
            own.properties.get(property),
            kept_of(&own.ranges_kept, property),
        );
    }
    out.put("bag", own.bag.as_ref().map(bag));
    out.put("price", own.price.as_ref().map(price));
    out.end(&own.kept)
}
