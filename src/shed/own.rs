//! Materials of the user's own.

use super::barrow::{bag_of, price_of};
use super::figures::Entry;
use super::file::download;
use super::form::{Wrong, button, in_box, put, put_box, set_value};
use super::{Answer, Tool, page, say, show, with_tool};
use crate::dom::{make, set};
use crate::material::{Group, Property, catalogue};
use crate::quantity::{Dimension, Unit};
use crate::recipe::own::{
    add, copy_of, delete as delete_own, import, k2o_pct, materials_to_json, p2o5_pct,
    phosphorus_pct, potassium_pct, put as put_own, with_loose_density,
};
use crate::recipe::{OwnMaterial, from_letters, to_letters};
use crate::words::{
    Speech, figure_text, file_name, group_name, imported_text, label_of_shed, my_material_name,
    own_fault_text, own_line_text, page_fault_text, property_name, round_significant, shown,
    unit_name,
};

/// Oxides as printed on a bag, beside the element that is stored.
type Turn = fn(f64) -> f64;
const PRINTED: [(&str, Property, Turn, Turn); 2] = [
    ("p2o5", Property::Phosphorus, phosphorus_pct, p2o5_pct),
    ("k2o", Property::Potassium, potassium_pct, k2o_pct),
];

pub(super) fn fill_list(tool: &Tool) {
    let list = tool.form.list("own");
    if tool.recipe.materials.is_empty() {
        put(&list, "li", label_of_shed("own_none"));
    }
    for own in &tool.recipe.materials {
        let item = make("li");
        put(&item, "span", &own_line_text(&tool.recipe, own));
        for (what, key) in [
            ("edit", "edit"),
            ("export", "export_one"),
            ("delete-material", "delete"),
        ] {
            let button = button(what, &own.id, label_of_shed(key));
            let name = own.name.as_deref().unwrap_or(&own.id);
            set(
                &button,
                "aria-label",
                &[label_of_shed(key), ": ", name].concat(),
            );
            item.append_child(&button);
        }
        list.append_child(&item);
    }
    let mut options: Vec<(&str, &str)> = Vec::new();
    for own in &tool.recipe.materials {
        options.push((&own.id, own.name.as_deref().unwrap_or(&own.id)));
    }
    let known = catalogue().iter().map(|entry| (entry.id, entry.told()));
    options.extend(known);
    tool.form.options("of", &options);
}

/// Opens the editor with a material, or with the copy of one that is not yet kept.
pub(super) fn fill_material(tool: &mut Tool, id: &str) {
    let (id, is_copy) = match id.strip_prefix('+') {
        Some(of) => (of, true),
        None => (id, false),
    };
    let own = if is_copy {
        let name = tool.recipe.find(id).map_or("", |found| found.name());
        copy_of(&tool.recipe, id, &my_material_name(name)).ok()
    } else {
        tool.recipe
            .materials
            .iter()
            .find(|own| own.id == id)
            .cloned()
    };
    let Some(own) = own else {
        return;
    };
    let form = &tool.form;
    form.set("name", own.name.as_deref().unwrap_or(&own.id));
    let groups: Vec<_> = Group::ALL
        .iter()
        .map(|group| (group.spelling(), group_name(*group)))
        .collect();
    form.options("group", &groups);
    form.set("group", own.group.unwrap_or(Group::Sand).spelling());
    let list = form.list("properties");
    for of in Property::ALL {
        let figure = own.properties.get(*of);
        entry(*of, tool.speech).put(&list, figure);
        for (key, _, _, back) in PRINTED.iter().filter(|(_, property, ..)| property == of) {
            let row = make("tr");
            let name = label_of_shed(key);
            set(&put(&row, "th", name), "scope", "row");
            put(&row, "td", "");
            let field = put_box(&put(&row, "td", ""), key, name);
            let printed = figure.map(|figure| shown(round_significant(back(figure.typical), 3)));
            set_value(&field, &printed.unwrap_or_default());
            put(&row, "td", "");
            put(&row, "td", "%");
            list.append_child(&row);
        }
    }
    let units = |dimensions: &[Dimension]| -> Vec<(&str, &str)> {
        let units = Unit::ALL
            .iter()
            .filter(|unit| dimensions.contains(&unit.dimension()));
        units
            .map(|unit| (unit.spelling(), unit_name(*unit)))
            .collect()
    };
    form.options("unit", &units(&[Dimension::Volume, Dimension::Mass]));
    form.options(
        "per-unit",
        &units(&[Dimension::Bag, Dimension::Volume, Dimension::Mass]),
    );
    if let Some(bag) = &own.bag {
        form.set("holds", &in_box(bag.size.value));
        form.set("unit", bag.size.unit.spelling());
        form.set("expands", &bag.expands.map_or(String::new(), in_box));
    }
    if let Some(price) = &own.price {
        form.set("price", &in_box(price.value));
        form.set("per", &in_box(price.per.value));
        form.set("per-unit", price.per.unit.spelling());
    }
    tool.material = Some(own);
}

/// A property as it is typed.
fn entry(of: Property, speech: Speech) -> Entry {
    Entry::new(of.name(), of.limits(), property_name(of, speech))
}

/// Turns what a bag prints into the element, and back.
pub(super) fn typed(tool: &Tool, name: &str) {
    let form = &tool.form;
    for (key, property, turn, back) in PRINTED {
        let (from, to, turn) = match name {
            _ if name == key => (key, property.name(), turn),
            _ if name == property.name() => (property.name(), key, back),
            _ => continue,
        };
        let text = match form.number(from, (0.0, 100.0)) {
            Ok(Some(value)) => shown(round_significant(turn(value), 4)),
            Ok(None) => String::new(),
            // Told, and what stood there stays.
            Err(_) => continue,
        };
        form.set(to, &text);
        if to == property.name() {
            // A range would be that of another number.
            form.set(&[to, ".low"].concat(), "");
            form.set(&[to, ".high"].concat(), "");
        }
    }
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let Some(mut own) = tool.material.clone() else {
        return Ok(Answer::default());
    };
    let form = &tool.form;
    let name = form.text("name");
    // What it did not say it need not say now.
    if own.name.is_some() || name != own.id {
        own.name = (!name.trim().is_empty()).then_some(name);
    }
    let group = form.text("group");
    let group = Group::ALL
        .iter()
        .copied()
        .find(|known| known.spelling() == group);
    if own.group.is_some() || group != Some(Group::Sand) {
        own.group = group;
    }
    for (key, ..) in PRINTED {
        form.number(key, (0.0, 100.0))?;
    }
    let old = own.clone();
    for of in Property::ALL {
        let was = own.properties.get(*of);
        let figure = entry(*of, tool.speech).read(form, was)?;
        if figure != was {
            own.properties.set(*of, figure);
            own.ranges_kept.retain(|(kept, _)| kept != of);
        }
    }
    if own.properties.get(Property::LooseDensity).is_none() {
        // Its limits are judged above; here it is only missed.
        form.need(Property::LooseDensity.name(), (0.0, f64::MAX))?;
    }
    let mut lines = Vec::new();
    let weight = own.properties.get(Property::LooseDensity);
    if let Some(weight) = weight
        && !stays(&own, &old, Property::LooseDensity)
        && stays(&own, &old, Property::SettledDryDensity)
        && stays(&own, &old, Property::GrainDensity)
        && old.properties.get(Property::SettledDryDensity).is_some()
    {
        let moved = with_loose_density(&old, weight);
        for of in [Property::SettledDryDensity, Property::GrainDensity] {
            own.properties.set(of, moved.properties.get(of));
            if let Some(figure) = moved.properties.get(of).filter(|_| !stays(&own, &old, of)) {
                let (name, unit, factor) = property_name(of, tool.speech);
                lines.push(figure_text(name, figure, factor, unit) + ": moves along.");
            }
        }
    }
    own.bag = bag_of(form, own.bag.as_ref())?;
    own.price = price_of(form, own.price.as_ref())?;
    let is_new = !tool.recipe.materials.iter().any(|known| known.id == own.id);
    let kept = if is_new {
        add(&tool.recipe, own)
    } else {
        put_own(&tool.recipe, own)
    };
    let recipe = kept.map_err(|fault| Wrong::of(own_fault_text(&tool.recipe, &fault)))?;
    if let Err(error) = crate::blend::Barrow::of(&recipe) {
        return Err(Wrong::of(page_fault_text(&error.fault)));
    }
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}

/// Whether a property is what it was.
fn stays(own: &OwnMaterial, old: &OwnMaterial, of: Property) -> bool {
    own.properties.get(of) == old.properties.get(of)
}

/// Copies the material that is chosen, and opens the copy.
pub(super) fn copy() {
    let mut id = String::new();
    with_tool(|tool| id = tool.form.text("of"));
    show("material", &["+", &id].concat(), 0);
}

/// Deletes a material that no line uses.
pub(super) fn delete(id: &str) {
    let Ok(recipe) = from_letters(&page::recipe()) else {
        return;
    };
    match delete_own(&recipe, id) {
        Ok(recipe) => {
            page::take(&to_letters(&recipe), false);
            show("own", "", 0);
        }
        Err(fault) => with_tool(|tool| {
            tool.form
                .mark(Some(&Wrong::of(own_fault_text(&recipe, &fault))));
        }),
    }
}

/// Hands one material, or all of them, to the browser as a file.
pub(super) fn export(id: &str) {
    let Ok(recipe) = from_letters(&page::recipe()) else {
        return;
    };
    let chosen: Vec<OwnMaterial> = recipe
        .materials
        .iter()
        .filter(|own| id.is_empty() || own.id == id)
        .cloned()
        .collect();
    if chosen.is_empty() {
        with_tool(|tool| tool.form.mark(Some(&Wrong::of(label_of_shed("own_none")))));
        return;
    }
    let name = if id.is_empty() {
        recipe.title.as_deref()
    } else {
        Some(id)
    };
    download(
        &file_name(name, "materials.json"),
        &materials_to_json(&chosen),
    );
}

/// Takes the materials of a file into the recipe.
pub(super) fn take_in(list: Vec<OwnMaterial>) {
    let Ok(recipe) = from_letters(&page::recipe()) else {
        return;
    };
    match import(&recipe, list) {
        Ok(imported) => {
            let wrong = page::take(&to_letters(&imported.recipe), false);
            show("own", "", 0);
            with_tool(|tool| {
                if wrong.is_empty() {
                    tool.form.write("#shed-answer", &imported_text(&imported));
                } else {
                    tool.form.mark(Some(&Wrong::of(wrong)));
                }
            });
        }
        Err(fault) => say(
            label_of_shed("open_title"),
            &own_fault_text(&recipe, &fault),
        ),
    }
}
