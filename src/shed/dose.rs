//! A label's rate for a pot, pail, bag or bed: read three ways, one of them written into the recipe.

use super::barrow::checked;
use super::form::{Form, Wrong, in_box};
use super::{Answer, Tool};
use crate::dom::{set, set_hidden};
use crate::dose::{Deed, DoseFault, Given, Label, RATE_UNITS, Rate, Reading, Soil};
use crate::draws::Strata;
use crate::material::Entry;
use crate::outcome::Outcome;
use crate::quantity::pots::{SIDE_LIMITS_M, USUAL_CONTAINERS, round_straight};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::{ADDITIONS_LIMIT, AMOUNT_LEAST, AMOUNT_LIMIT, Addition, Recipe};
use crate::words::{
    Speech, Units, dose_advice, dose_back_text, dose_cautions, dose_depth_text, dose_fault_text,
    dose_mismatch_text, dose_room_text, dose_use_text, label_of_dose, label_of_shed,
    rate_unit_name, shape_fault_text, usual_container_name,
};

/// Numbers of the form, in their unit; what a dose can be computed with is checked behind them.
const ANY: (f64, f64) = (AMOUNT_LEAST, AMOUNT_LIMIT);
/// Draws of a typical evaluation: the fewest that go through the kernel.
const FEW: u32 = 2;
/// The recipe and the dose are for the same soil up to this, as a share (a choice).
const SAME_VOLUME: f64 = 0.1;

/// The soil that a dose is for, of one container or bed.
struct Room {
    area_m2: f64,
    volume_m3: f64,
}

/// What is chosen: a line of the recipe, or a material for a new one.
enum What {
    Line(usize),
    New(String),
}

/// The recipe's own figures that a dose rests on.
struct Mixed {
    outcome: Option<Outcome>,
}

impl Mixed {
    fn of(recipe: &Recipe) -> Mixed {
        Mixed {
            outcome: Outcome::drawn_from(recipe, &mut Strata::of(FEW)).ok(),
        }
    }

    /// Dry density, settled, kg/m3.
    fn density_kg_m3(&self) -> Option<f64> {
        let outcome = self.outcome.as_ref()?;
        Some(outcome.bulk_density_kg_m3.settled.typical)
    }

    /// Volume, settled, m3.
    fn volume_m3(&self) -> Option<f64> {
        let outcome = self.outcome.as_ref()?;
        Some(outcome.volume_l.settled.typical / LITRES_PER_M3)
    }

    /// The recipe's place: of one, with its own volume, else with what the blend comes to.
    fn room(&self, recipe: &Recipe) -> Option<Room> {
        let outcome = self.outcome.as_ref()?;
        let place = recipe.place.as_ref();
        let count = place.and_then(|place| place.count).unwrap_or(1.0).max(1.0);
        let area = outcome.barrow.area_m2?;
        // A bed's area is that of all of them; a container's is its own.
        let is_bed = matches!(recipe.soil, crate::recipe::Soil::Bed { .. });
        let area_m2 = if is_bed { area / count } else { area };
        let own = place.and_then(|place| place.volume.as_ref());
        let volume_m3 = match own {
            Some(volume) => volume.si(),
            None => self.volume_m3()? / count,
        };
        Some(Room { area_m2, volume_m3 })
    }
}

pub(super) fn fill(tool: &Tool, of: &str) {
    let form = &tool.form;
    let recipe = &tool.recipe;
    fill_materials(form, recipe);
    let chosen = if of == "line" {
        Some(tool.line)
    } else {
        first_to_dose(recipe)
    };
    form.set(
        "what",
        &chosen.map_or("gypsum".to_owned(), |line| format!("#{line}")),
    );
    let us = tool.speech.units == Units::Us;
    let rates: Vec<_> = RATE_UNITS
        .iter()
        .map(|rate| (*rate, rate_unit_name(rate)))
        .collect();
    form.options("rate-unit", &rates);
    form.set("rate-unit", if us { "lb/1000ft2" } else { "g/m2" });
    for name in ["depth-unit", "across-unit", "length"] {
        form.set(name, if us { "in" } else { "cm" });
    }
    form.set("side", if us { "ft" } else { "m" });
    form.set("given-unit", if us { "oz" } else { "g" });
    form.set("holds-unit", if us { "gal" } else { "L" });
    let mixed = Mixed::of(recipe);
    fill_places(tool, mixed.room(recipe).is_some());
    let place = recipe.place.as_ref();
    let count = place.and_then(|place| place.count).unwrap_or(1.0);
    form.set("count", &in_box(count));
    for part in form.all("[data-part=density-unit]") {
        part.set_text_content(tool.speech.units.density_unit());
    }
    if let Some(density) = mixed.density_kg_m3() {
        form.set("density", &shown_density(density, tool.speech));
    }
    let usual = shown_density(crate::dose::furrow_slice_kg_m3(), tool.speech);
    set(&form.part("[name=label-density]"), "placeholder", &usual);
    chose(tool, "what");
}

fn shown_density(kg_m3: f64, speech: Speech) -> String {
    let decimals = speech.units.density_decimals();
    crate::words::fixed(speech.units.density(kg_m3), decimals)
}

/// The first addition that is dosed rather than mixed in by the share, else the first.
fn first_to_dose(recipe: &Recipe) -> Option<usize> {
    let dosed = |addition: &Addition| {
        let group = recipe.find(&addition.material).map(|found| found.group());
        group.is_some_and(|group| Deed::of(group, addition.is_on_top()) != Deed::Fills)
    };
    let first = recipe.additions.iter().position(dosed);
    first.or((!recipe.additions.is_empty()).then_some(0))
}

fn fill_materials(form: &Form, recipe: &Recipe) {
    let mut options = Vec::new();
    for (index, addition) in recipe.additions.iter().enumerate() {
        let name = recipe
            .find(&addition.material)
            .map_or("", |found| found.name());
        let text = [name, " (", label_of_dose("in-recipe"), ")"].concat();
        options.push((format!("#{index}"), text));
    }
    for own in &recipe.materials {
        let name = own.name.as_deref().unwrap_or(&own.id);
        options.push((own.id.clone(), name.to_owned()));
    }
    let mut entries: Vec<&Entry> = crate::material::catalogue().iter().collect();
    entries.sort_by_cached_key(|entry| crate::recipe::phrase::without_accents(entry.told()));
    for entry in entries {
        options.push((entry.id.to_owned(), entry.told().to_owned()));
    }
    let options: Vec<_> = options
        .iter()
        .map(|(value, text)| (value.as_str(), text.as_str()))
        .collect();
    form.options("what", &options);
}

fn fill_places(tool: &Tool, has_place: bool) {
    let mut options = vec![("place".to_owned(), label_of_dose("place").to_owned())];
    for (index, usual) in USUAL_CONTAINERS.iter().enumerate() {
        options.push((index.to_string(), usual_container_name(usual, tool.speech)));
    }
    for key in ["round", "bed"] {
        options.push((key.to_owned(), label_of_dose(key).to_owned()));
    }
    let options: Vec<_> = options
        .iter()
        .map(|(value, text)| (value.as_str(), text.as_str()))
        .collect();
    tool.form.options("where", &options);
    tool.form
        .set("where", if has_place { "place" } else { "0" });
}

/// Writes what a chosen line already says.
pub(super) fn chose(tool: &Tool, name: &str) {
    let form = &tool.form;
    if name != "what" {
        return;
    }
    let What::Line(line) = what(form) else {
        form.tick("on-top", false);
        return;
    };
    let Some(addition) = tool.recipe.additions.get(line) else {
        return;
    };
    form.tick("on-top", addition.is_on_top());
    let amount = &addition.amount;
    if amount.unit.dimension() == Dimension::MassPerArea {
        form.set("rate", &in_box(amount.value));
        form.set("rate-unit", amount.unit.spelling());
    }
}

fn what(form: &Form) -> What {
    let chosen = form.text("what");
    match chosen.strip_prefix('#').map(str::parse) {
        Some(Ok(line)) => What::Line(line),
        _ => What::New(chosen),
    }
}

/// The soil of one container or bed, as the form has it.
fn room(tool: &Tool, mixed: &Mixed) -> Result<Room, Wrong> {
    let form = &tool.form;
    let chosen = form.text("where");
    let sides = |name: &str, factor: f64| {
        let (least, most) = SIDE_LIMITS_M;
        Ok(form.need(name, (least / factor, most / factor))? * factor)
    };
    match chosen.as_str() {
        "place" => mixed
            .room(&tool.recipe)
            .ok_or_else(|| Wrong::at("where", label_of_dose("no-place"))),
        "round" => {
            let across = form.unit("across-unit").map_or(0.01, Unit::factor);
            let holds = form.unit("holds-unit").map_or(0.001, Unit::factor);
            let across = sides("across", across)?;
            let area_m2 = round_straight(across, 1.0)
                .map_err(|fault| Wrong::at("across", shape_fault_text(fault)))?;
            Ok(Room {
                area_m2,
                volume_m3: form.need("holds", ANY)? * holds,
            })
        }
        "bed" => {
            let side = form.unit("side").map_or(1.0, Unit::factor);
            let length = form.unit("length").map_or(0.01, Unit::factor);
            let area_m2 = sides("long", side)? * sides("wide", side)?;
            Ok(Room {
                area_m2,
                volume_m3: area_m2 * sides("deep", length)?,
            })
        }
        index => {
            let usual = index.parse().ok();
            let usual = usual.and_then(|index: usize| USUAL_CONTAINERS.get(index));
            let usual = usual.ok_or_else(|| Wrong::of(label_of_dose("no-place")))?;
            Ok(Room {
                area_m2: usual.area_m2(),
                volume_m3: usual.volume_m3(),
            })
        }
    }
}

/// The field of a number that a dose cannot be computed with.
fn field(of: Given) -> &'static str {
    match of {
        Given::Rate => "rate",
        Given::LabelDepth => "depth",
        Given::LabelDensity => "label-density",
        Given::Density => "density",
        Given::Area | Given::Volume => "where",
        Given::Dose => "given",
    }
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    // What no longer holds is not left standing.
    for cell in form.all("[data-cell]") {
        cell.set_text_content("");
    }
    for part in ["room", "back-says"] {
        form.write(&format!("[data-part={part}]"), "");
    }
    let mixed = Mixed::of(&tool.recipe);
    let room = room(tool, &mixed)?;
    form.write(
        "[data-part=room]",
        &dose_room_text(room.area_m2, room.volume_m3, tool.speech),
    );
    let count = form.number("count", (1.0, AMOUNT_LIMIT))?.unwrap_or(1.0);
    if count.fract() != 0.0 {
        return Err(Wrong::at("count", label_of_shed("whole")));
    }
    let unit = form.text("rate-unit");
    let Some(rate) = Rate::of(form.need("rate", ANY)?, &unit) else {
        return Ok(Answer::default());
    };
    let is_of_volume = matches!(rate, Rate::Volume(_));
    let wrong = |fault: DoseFault| {
        let text = dose_fault_text(fault, is_of_volume, tool.speech);
        Wrong::at(field(fault.of), text)
    };
    let depth = form.unit("depth-unit").map_or(0.01, Unit::factor);
    let depth = form.number("depth", ANY)?.map(|typed| typed * depth);
    let in_si = tool.speech.units.density_factor();
    let of_label = form.number("label-density", ANY)?;
    let label = Label::of(rate, depth, of_label.map(|typed| typed * in_si)).map_err(wrong)?;
    let was = mixed.density_kg_m3().filter(|was| {
        // What was filled in and not touched stays what it was.
        form.text("density") == shown_density(*was, tool.speech)
    });
    let density = match was {
        Some(was) => was,
        None => form.need("density", ANY)? * in_si,
    };
    let soil = Soil::of(room.area_m2, room.volume_m3, density).map_err(wrong)?;

    let what = what(form);
    let (id, was) = match &what {
        What::Line(line) => {
            let addition = tool.recipe.additions.get(*line);
            let id = addition.map_or("", |addition| addition.material.as_str());
            (id, addition.map(|addition| &addition.amount))
        }
        What::New(id) => (id.as_str(), None),
    };
    let Some(found) = tool.recipe.find(id) else {
        return Ok(Answer::default());
    };
    let on_top = form.is_ticked("on-top");
    let deed = Deed::of(found.group(), on_top);
    let advised = label.reading(deed);
    let taken = match form.text("reading").as_str() {
        "area" => Reading::Area,
        "volume" => Reading::Volume,
        "mass" => Reading::Mass,
        _ => advised,
    };
    let readings = label.readings(&soil);
    for (reading, key) in [
        (Reading::Area, "area"),
        (Reading::Volume, "volume"),
        (Reading::Mass, "mass"),
    ] {
        let kg = readings.of(reading);
        let texts = [
            ("one", tool.speech.dose(kg)),
            ("all", tool.speech.dose(kg * count)),
            (
                "taken",
                if reading == taken {
                    label_of_dose("taken")
                } else {
                    ""
                }
                .to_owned(),
            ),
        ];
        for (column, text) in texts {
            form.write(&format!("[data-cell={key}-{column}]"), &text);
        }
    }
    for all in form.all("[data-all]") {
        set_hidden(&all, count <= 1.0);
    }
    back(tool, &label, is_of_volume, &soil)?;
    if !deed.allows(taken) {
        return Err(Wrong::at("reading", label_of_dose("share")));
    }

    let kg = readings.of(taken);
    let material = found.material().ok();
    let share = material
        .filter(|material| material.loose_density_kg_m3 > 0.0)
        .map(|material| kg / material.loose_density_kg_m3 / room.volume_m3);
    let mut lines = vec![
        dose_advice(is_of_volume, deed, share),
        dose_use_text(found.name(), taken, kg * count, was, tool.speech),
    ];
    if !label.depth_said && !is_of_volume {
        lines.push(dose_depth_text(tool.speech));
    }
    let dosed_m3 = room.volume_m3 * count;
    if let Some(recipe_m3) = mixed.volume_m3()
        && (recipe_m3 / dosed_m3 - 1.0).abs() > SAME_VOLUME
    {
        lines.push(dose_mismatch_text(recipe_m3, dosed_m3, tool.speech));
    }
    lines.extend(dose_cautions(kg, label.times_per_area(kg, &soil), deed));

    let amount = tool.speech.dose_amount(kg * count);
    let mut recipe = tool.recipe.clone();
    match what {
        What::Line(line) => {
            if let Some(addition) = recipe.additions.get_mut(line) {
                addition.amount = amount;
                if on_top != addition.is_on_top() {
                    addition.on_top = on_top.then_some(true);
                }
            }
        }
        What::New(id) => {
            if recipe.additions.len() >= ADDITIONS_LIMIT {
                return Err(Wrong::at("what", label_of_dose("full")));
            }
            let mut addition = Addition::new(id, amount);
            addition.on_top = on_top.then_some(true);
            recipe.additions.push(addition);
        }
    }
    checked(&recipe)?;
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}

/// Writes what label a given dose would be.
fn back(tool: &Tool, label: &Label, is_of_volume: bool, soil: &Soil) -> Result<(), Wrong> {
    let form = &tool.form;
    let Some(given) = form.number("given", ANY)? else {
        return Ok(());
    };
    let unit = form.text("rate-unit");
    let one = Rate::of(1.0, &unit).map_or(1.0, Rate::value);
    let kg = given * form.unit("given-unit").map_or(0.001, Unit::factor);
    let mut rates = Vec::new();
    for reading in Reading::ALL {
        let rate = label.rate_of(kg, reading, soil).map_err(|fault| {
            Wrong::at("given", dose_fault_text(fault, is_of_volume, tool.speech))
        })?;
        rates.push((reading, rate / one));
    }
    form.write(
        "[data-part=back-says]",
        &dose_back_text(kg, &rates, rate_unit_name(&unit), tool.speech),
    );
    Ok(())
}
