//! Ways to say how much: parts, buckets, bags and bales, a place to fill, a bucket weighed.

use super::Answer;
use super::Tool;
use super::form::{Form, Wrong, in_box, option};
use crate::blend::fill::{FILL_DIGITS, FillTarget, filled, rounded};
use crate::figure::Figure;
use crate::ground::Ground;
use crate::material::Property;
use crate::memory::{self, SIZES};
use crate::quantity::pots::{
    COMMON_BAGS, SIDE_LIMITS_M, TRADE_POTS, TradePot, boxed, round_tapered,
};
use crate::quantity::{Dimension, LITRES_PER_M3, Unit};
use crate::recipe::dug::buckets_as_they_lay;
use crate::recipe::own::{copy_of, put, weighed_bucket, with_loose_density};
use crate::recipe::phrase::{apply_parts, parse_parts};
use crate::recipe::{
    AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Bag, Found, Kept, PlaceKind, Price, Recipe, Soil,
};
use crate::words::{
    Units, bag_name, bucket_fault_text, dug_fault_text, fill_fault_text, filled_line_text,
    label_of_shed, own_fault_text, page_fault_text, parts_text, phrase_fault_text,
    round_significant, shape_fault_text, shown, trade_pot_name, unit_name,
};

/// Numbers of a form, in their unit.
const ANY: (f64, f64) = (AMOUNT_LEAST, AMOUNT_LIMIT);
/// How much a bale may fluff up: from pressed to nothing to more than any trade bale.
const EXPANDS: (f64, f64) = (0.01, 100.0);
/// What they hold before anyone says so, L (common practice).
const USUAL_SIZES_L: [f64; 2] = [12.0, 85.0];

/// A size that can be chosen: its name, what it holds, and how it fluffs up.
struct Size {
    name: String,
    value: f64,
    unit: Unit,
    expands: Option<f64>,
}

/// What the user's bucket and barrow hold.
pub(super) fn own_sizes() -> [(f64, Unit); 2] {
    let mut sizes = USUAL_SIZES_L.map(|litres| (litres, Unit::Litre));
    let kept = memory::read(SIZES);
    for (size, text) in sizes.iter_mut().zip(kept.unwrap_or_default().split(';')) {
        if let Some((value, unit)) = text.split_once(' ')
            && let Some(unit) = Unit::from_spelling(unit)
            && let value = crate::recipe::number_of_text(value)
            && value >= ANY.0
            && value <= ANY.1
            && unit.dimension() == Dimension::Volume
        {
            *size = (value, unit);
        }
    }
    sizes
}

/// Keeps the size of the bucket or barrow that was used.
pub(super) fn remember_sizes(form: &Form) {
    let mut sizes = own_sizes();
    let chosen = form.text("size").parse::<usize>().ok();
    if let (Some(size), Ok(Some(value)), Some(unit)) = (
        chosen.and_then(|chosen| sizes.get_mut(chosen)),
        form.number("holds", ANY),
        form.unit("unit")
            .filter(|unit| unit.dimension() == Dimension::Volume),
    ) {
        *size = (value, unit);
    }
    let text = sizes.map(|(value, unit)| [&shown(value), " ", unit.spelling()].concat());
    memory::write(SIZES, &text.join(";"));
}

fn sizes() -> Vec<Size> {
    let [bucket, barrow] = own_sizes();
    let own = [("my_bucket", bucket), ("my_barrow", barrow)];
    let own = own.into_iter().map(|(key, (value, unit))| Size {
        name: label_of_shed(key).to_owned(),
        value,
        unit,
        expands: None,
    });
    let bags = COMMON_BAGS.iter().map(|bag| Size {
        name: bag_name(bag),
        value: bag.value,
        unit: bag.unit,
        expands: bag.expands.map(|figure| figure.typical),
    });
    own.chain(bags).collect()
}

/// Fills the list of sizes; those of soil can only be volumes.
fn fill_sizes(form: &Form, with_bags: bool) {
    let list = form.part("[name=size]");
    list.set_text_content("");
    for (index, size) in sizes()
        .iter()
        .enumerate()
        .take(if with_bags { 99 } else { 2 })
    {
        list.append_child(&option(&index.to_string(), &size.name));
    }
    list.append_child(&option("", label_of_shed("another_size")));
}

fn fill_units(form: &Form, name: &str, dimensions: &[Dimension]) {
    let units = Unit::ALL
        .iter()
        .filter(|unit| dimensions.contains(&unit.dimension()));
    let options: Vec<_> = units
        .map(|unit| (unit.spelling(), unit_name(*unit)))
        .collect();
    form.options(name, &options);
}

/// Writes what a chosen size holds.
pub(super) fn chose(tool: &Tool, name: &str) {
    let form = &tool.form;
    if name != "size" {
        return;
    }
    let chosen = form.text("size").parse::<usize>().ok();
    if let Some(size) = chosen.and_then(|chosen| sizes().into_iter().nth(chosen)) {
        form.set("holds", &shown(size.value));
        form.set("unit", size.unit.spelling());
        form.set("expands", &size.expands.map_or(String::new(), shown));
    }
}

pub(super) fn fill(tool: &Tool) {
    let form = &tool.form;
    match tool.name.as_str() {
        "parts" => form.set("phrase", &parts_text(&tool.recipe)),
        "dug" => {
            fill_sizes(form, false);
            fill_units(form, "unit", &[Dimension::Volume]);
            chose(tool, "size");
        }
        "fill" => fill_place(tool),
        _ => fill_line(tool),
    }
}

fn fill_place(tool: &Tool) {
    let form = &tool.form;
    fill_units(form, "unit", &[Dimension::Volume]);
    let pots: Vec<_> = TRADE_POTS
        .iter()
        .map(|pot| (pot.class.to_string(), trade_pot_name(pot, tool.speech)))
        .collect();
    let pots: Vec<_> = pots
        .iter()
        .map(|(class, name)| (class.as_str(), name.as_str()))
        .collect();
    form.options("pot", &pots);
    let us = tool.speech.units == Units::Us;
    form.set("unit", if us { "gal" } else { "L" });
    form.set("length", if us { "in" } else { "cm" });
    let Some(place) = &tool.recipe.place else {
        return;
    };
    if let Some(volume) = &place.volume {
        form.set("volume", &shown(volume.value));
        form.set("unit", volume.unit.spelling());
    }
    form.set("count", &shown(place.count.unwrap_or(1.0)));
}

fn fill_line(tool: &Tool) {
    let form = &tool.form;
    let sold = [Dimension::Volume, Dimension::Mass];
    fill_sizes(form, true);
    fill_units(form, "unit", &sold);
    fill_units(
        form,
        "per-unit",
        &[Dimension::Bag, Dimension::Volume, Dimension::Mass],
    );
    fill_units(form, "bucket-unit", &[Dimension::Volume]);
    let [(value, unit), _] = own_sizes();
    form.set("bucket", &in_box(value));
    form.set("bucket-unit", unit.spelling());
    form.set("size", "");
    if tool.speech.units == Units::Us {
        form.set("mass", "lb");
    }
    let Some(addition) = tool.recipe.additions.get(tool.line) else {
        return;
    };
    let found = tool.recipe.find(&addition.material);
    if let Some(found) = found {
        form.write("#shed-title", found.name());
        let is_own = matches!(found, Found::Own(..));
        let about = form.part("[data-part=about]");
        super::choose::point(&about, &addition.material, is_own);
    }
    if addition.amount.unit == Unit::Bag {
        form.set("count", &in_box(addition.amount.value));
    }
    if let Some(bag) = &addition.bag {
        form.set("holds", &in_box(bag.size.value));
        form.set("unit", bag.size.unit.spelling());
        form.set("expands", &bag.expands.map_or(String::new(), in_box));
    } else {
        form.set("unit", Unit::Litre.spelling());
    }
    let own = addition.water_per_wet_pct;
    if let Some(water) = own {
        form.set("wet", &in_box(water.typical));
        if let Some(ends) = water.ends {
            form.set("wet-low", &in_box(ends.low));
            form.set("wet-high", &in_box(ends.high));
        }
    } else if let Some(usual) =
        found.and_then(|found| found.properties().get(Property::WaterPerWet))
    {
        let hint = [&in_box(usual.typical), " ", label_of_shed("usual")].concat();
        crate::dom::set(&form.part("[name=wet]"), "placeholder", &hint);
    }
    if let Some(price) = &addition.price {
        form.set("price", &in_box(price.value));
        form.set("per", &in_box(price.per.value));
        form.set("per-unit", price.per.unit.spelling());
    }
    form.set("currency", tool.recipe.currency.as_deref().unwrap_or(""));
    form.tick("on-top", addition.is_on_top());
}

pub(super) fn answer(tool: &Tool) -> Result<Answer, Wrong> {
    match tool.name.as_str() {
        "parts" => in_parts(tool),
        "dug" => dug(tool),
        "fill" => filling(tool),
        _ => line(tool),
    }
}

fn in_parts(tool: &Tool) -> Result<Answer, Wrong> {
    let phrase = tool.form.text("phrase");
    let wrong = |fault| {
        let mut wrong = Wrong::at("phrase", phrase_fault_text(&tool.recipe, &fault));
        wrong.missing = phrase.trim().is_empty();
        wrong
    };
    let shares = parse_parts(&tool.recipe, &phrase).map_err(wrong)?;
    let recipe = apply_parts(&tool.recipe, &shares).map_err(wrong)?;
    Ok(Answer {
        lines: vec![crate::words::understood_text(&recipe, &shares)],
        recipe: Some(recipe),
    })
}

fn dug(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let count = form.need("count", ANY)?;
    let holds = form.need("holds", ANY)?;
    let size = Amount::new(holds, form.unit("unit").unwrap_or(Unit::Litre));
    let ground =
        Ground::of(&tool.recipe.ground).map_err(|_| Wrong::of(label_of_shed("mend_ground")))?;
    let amount = if form.text("state") == "lying" {
        Amount::new(count * holds, size.unit)
    } else {
        buckets_as_they_lay(&ground, count, &size)
            .map_err(|fault| Wrong::at("count", dug_fault_text(fault)))?
    };
    let amount = Amount::new(round_significant(amount.value, 4), amount.unit);
    let mut recipe = tool.recipe.clone();
    recipe.soil = Soil::Amount(amount.clone());
    checked(&recipe)?;
    Ok(Answer {
        lines: vec![crate::words::dug_text(&ground, &amount, tool.speech)],
        recipe: Some(recipe),
    })
}

/// A recipe that can be mixed.
pub(super) fn checked(recipe: &Recipe) -> Result<(), Wrong> {
    crate::blend::Barrow::of(recipe)
        .map(|_| ())
        .map_err(|error| Wrong::of(page_fault_text(&error.fault)))
}

fn filling(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let length = form.unit("length").map_or(0.01, Unit::factor);
    let (least, most) = SIDE_LIMITS_M;
    let sides = (least / length, most / length);
    let shape = form.text("shape");
    let mut height = None;
    let mut top = None;
    let mut bottom = None;
    let length_unit = form.unit("length").unwrap_or(Unit::Centimetre);
    let room_m3 = match shape.as_str() {
        "box" => {
            let long = form.need("long", sides)?;
            let wide = form.need("wide", sides)?;
            let deep = form.need("deep", sides)?;
            height = Some(Amount::new(deep, length_unit));
            boxed(long * length, wide * length, deep * length)
        }
        "round" => {
            let wide = form.need("top", sides)?;
            let narrow = form.number("bottom", sides)?.unwrap_or(wide);
            let deep = form.need("deep", sides)?;
            height = Some(Amount::new(deep, length_unit));
            top = Some(Amount::new(wide, length_unit));
            bottom = Some(Amount::new(narrow, length_unit));
            round_tapered(wide * length, narrow * length, deep * length)
        }
        "class" => {
            let class = form.text("pot").parse().unwrap_or(1);
            Ok(TradePot::of_class(class).map_or(0.0, TradePot::volume_m3))
        }
        _ => {
            let unit = form.unit("unit").unwrap_or(Unit::Litre);
            Ok(form.need("volume", ANY)? * unit.factor())
        }
    };
    let room_m3 = room_m3.map_err(|fault| Wrong::of(shape_fault_text(fault)))?;
    let count = form.number("count", (1.0, AMOUNT_LIMIT))?.unwrap_or(1.0);
    if count.fract() != 0.0 {
        return Err(Wrong::at("count", label_of_shed("whole")));
    }
    let share = form.number("share", (1.0, 150.0))?.unwrap_or(100.0) / 100.0;
    let wrong = |fault| Wrong::of(fill_fault_text(&fault, tool.speech));
    let target = FillTarget::of(room_m3 * count)
        .filled_to(share)
        .m3()
        .map_err(wrong)?;
    let mut recipe = tool.recipe.clone();
    let mut place = recipe.place.take().unwrap_or_default();
    if shape == "volume" {
        let unit = form.unit("unit").unwrap_or(Unit::Litre);
        let was = place.volume.as_ref().map(|volume| volume.value);
        let value = form.number_or("volume", ANY, was)?.unwrap_or(0.0);
        let volume = Some(Amount::new(value, unit));
        if place.volume != volume {
            // Widths and height were those of another place.
            (place.height, place.top_width, place.bottom_width) = (None, None, None);
        }
        place.volume = volume;
    } else {
        place.volume = Some(Amount::new(
            round_significant(room_m3 * LITRES_PER_M3, 4),
            Unit::Litre,
        ));
        place.height = height;
        place.top_width = top;
        place.bottom_width = bottom;
        place.kind = Some(if shape == "box" {
            PlaceKind::Bed
        } else {
            PlaceKind::Container
        });
    }
    place.count = Some(count);
    recipe.place = (!place.is_silent()).then_some(place);
    let (exact, _) = filled(&recipe, target).map_err(wrong)?;
    let (recipe, filled) = rounded(&exact, FILL_DIGITS).map_err(wrong)?;
    let mut lines = vec![crate::words::filled_text(&filled, target, tool.speech)];
    let ground = crate::words::filled_ground_text(&filled, tool.speech);
    lines.extend(ground);
    for (line, addition) in filled.lines.iter().zip(&recipe.additions) {
        if !line.on_top {
            lines.push(filled_line_text(&recipe, addition, line, tool.speech));
        }
    }
    Ok(Answer {
        lines,
        recipe: Some(recipe),
    })
}

fn line(tool: &Tool) -> Result<Answer, Wrong> {
    let form = &tool.form;
    let mut recipe = tool.recipe.clone();
    let Some(addition) = recipe.additions.get_mut(tool.line) else {
        return Ok(Answer::default());
    };
    let in_bags = (addition.amount.unit == Unit::Bag).then_some(addition.amount.value);
    addition.bag = bag_of(form, addition.bag.as_ref())?;
    if let Some(count) = form.number_or("count", (0.0, AMOUNT_LIMIT), in_bags)? {
        if addition.bag.is_none() {
            form.need("holds", ANY)?;
        }
        addition.amount = Amount {
            value: count,
            unit: Unit::Bag,
            kept: kept_of(Some(&addition.amount)),
        };
    }
    let percent = Property::WaterPerWet.limits();
    let was = addition.water_per_wet_pct;
    let ends = was.and_then(|was| was.ends);
    let water = [
        form.number_or("wet-low", percent, ends.map(|ends| ends.low))?,
        form.number_or("wet", percent, was.map(|was| was.typical))?,
        form.number_or("wet-high", percent, ends.map(|ends| ends.high))?,
    ];
    addition.water_per_wet_pct = match water {
        [None, None, None] => None,
        [None, Some(typical), None] => Some(Figure::exact(typical)),
        [Some(low), Some(typical), Some(high)] if low <= typical && typical <= high => {
            Some(Figure::between(low, typical, high))
        }
        _ => {
            let name = label_of_shed("moisture_name");
            return Err(Wrong::at("wet", crate::words::range_needs_all(name)));
        }
    };
    addition.price = price_of(form, addition.price.as_ref())?;
    let on_top = form.is_ticked("on-top");
    if on_top != addition.is_on_top() {
        addition.on_top = on_top.then_some(true);
    }
    let currency = form.text("currency");
    recipe.currency = (!currency.trim().is_empty()).then_some(currency);
    // What is typed in part is told, not passed over.
    for (name, limits) in [
        ("empty", (0.0, AMOUNT_LIMIT)),
        ("bucket", ANY),
        ("per", ANY),
    ] {
        form.number(name, limits)?;
    }
    if form.number("empty", (0.0, AMOUNT_LIMIT))?.is_some() {
        form.need("full", ANY)?;
    }
    if form.number("expands", EXPANDS)?.is_some() {
        form.need("holds", ANY)?;
    }
    if in_bags.is_some() {
        form.need("count", (0.0, AMOUNT_LIMIT))?;
    }
    let weighed = form.number("full", ANY)?;
    if let Some(full) = weighed {
        let mass = form.unit("mass").map_or(1.0, Unit::factor);
        let empty = form.need("empty", (0.0, AMOUNT_LIMIT))?;
        let bucket = form.need("bucket", ANY)?;
        let unit = form.unit("bucket-unit").map_or(0.001, Unit::factor);
        let density = weighed_bucket(full * mass, empty * mass, bucket * unit)
            .map_err(|fault| Wrong::at("full", bucket_fault_text(fault, tool.speech)))?;
        recipe = weighed_material(&recipe, tool.line, density)?;
    }
    checked(&recipe)?;
    let lines = crate::words::addition_text(&recipe, tool.line, tool.speech);
    Ok(Answer {
        lines: vec![lines],
        recipe: Some(recipe),
    })
}

/// The bag as the form has it.
pub(super) fn bag_of(form: &Form, was: Option<&Bag>) -> Result<Option<Bag>, Wrong> {
    let size = was.map(|bag| bag.size.value);
    let Some(value) = form.number_or("holds", ANY, size)? else {
        return Ok(None);
    };
    Ok(Some(Bag {
        size: Amount {
            value,
            unit: form.unit("unit").unwrap_or(Unit::Litre),
            kept: kept_of(was.map(|bag| &bag.size)),
        },
        expands: form.number_or("expands", EXPANDS, was.and_then(|bag| bag.expands))?,
    }))
}

/// The price as the form has it.
pub(super) fn price_of(form: &Form, was: Option<&Price>) -> Result<Option<Price>, Wrong> {
    let value = was.map(|price| price.value);
    let Some(value) = form.number_or("price", (0.0, AMOUNT_LIMIT), value)? else {
        return Ok(None);
    };
    let per = was.map(|price| price.per.value);
    Ok(Some(Price {
        value,
        per: Amount {
            value: form.number_or("per", ANY, per)?.unwrap_or(1.0),
            unit: form.unit("per-unit").unwrap_or(Unit::Bag),
            kept: kept_of(was.map(|price| &price.per)),
        },
        kept: was.map_or(Kept::new(), |price| price.kept.clone()),
    }))
}

fn kept_of(amount: Option<&Amount>) -> Kept {
    amount.map_or(Kept::new(), |amount| amount.kept.clone())
}

/// The line's material with the weight that was found: an own one takes it, another is copied.
fn weighed_material(recipe: &Recipe, line: usize, kg_m3: f64) -> Result<Recipe, Wrong> {
    let density = Figure::exact(round_significant(kg_m3, 4));
    let id = recipe.additions[line].material.clone();
    let wrong = |fault| Wrong::of(own_fault_text(recipe, &fault));
    let mut own = match recipe.materials.iter().find(|own| own.id == id) {
        Some(own) => own.clone(),
        None => {
            let name = recipe.find(&id).map_or("", |found| found.name());
            copy_of(recipe, &id, &crate::words::my_material_name(name)).map_err(wrong)?
        }
    };
    own = with_loose_density(&own, density);
    let new_id = own.id.clone();
    let mut out = put(recipe, own).map_err(wrong)?;
    out.additions[line].material = new_id;
    Ok(out)
}
