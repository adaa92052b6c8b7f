//! Sentences of the second module's tools.

use super::{Speech, Units, fixed, in_sentence, shown, significant, unit_name};
use crate::blend::Barrow;
use crate::blend::fill::{Filled, FilledLine};
use crate::figure::Figure;
use crate::ground::{Ground, Trait};
use crate::material::{Group, Property};
use crate::outcome::Outcome;
use crate::quantity::pots::CommonBag;
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::own::uses;
use crate::recipe::phrase::{Share, What};
use crate::recipe::{Addition, Amount, OwnMaterial, Recipe};

/// Centimetres in an inch (exact).
const INCH_CM: f64 = 2.54;
/// Most letters of a file's name.
const NAME_LENGTH: usize = 60;

/// Labels that the tools write while they run.
const RUNNING: &[(&str, &str)] = &[
    ("forget_do", "Delete it all"),
    ("open_title", "Open a file"),
    ("save_title", "Save a file"),
    ("unreadable", "The browser could not read this file."),
    (
        "not_saved",
        "The browser did not allow a file to be saved. Copy the link instead; it holds the whole recipe.",
    ),
    (
        "paper_no_link",
        "The recipe is too long for a link: hand it on as a file.",
    ),
    (
        "paper_from_file",
        "This page was opened from a file, so it has no address that others could open: hand the recipe on as a file.",
    ),
    ("kept_none", "Nothing is kept yet."),
    ("kept_broken", "A recipe that cannot be read"),
    ("kept_open", "Open"),
    ("kept_file", "Save as text"),
    ("delete", "Delete"),
    ("edit", "Edit"),
    ("export_one", "Export"),
    ("own_none", "There are none yet."),
    ("my_bucket", "my bucket"),
    ("my_barrow", "my barrow"),
    ("another_size", "another size"),
    ("usual", "usual"),
    ("mend_ground", "Mend the ground first."),
    ("whole", "How many: a whole number."),
    (
        "changed_meanwhile",
        "The recipe has changed since this was opened. Close it and open it again.",
    ),
    (
        "dry_or_moisture",
        "Give the dry weight or the moisture, not both.",
    ),
    ("moisture_name", "Moisture"),
    ("p2o5", "Phosphate P₂O₅, as printed"),
    ("k2o", "Potash K₂O, as printed"),
    ("favourite", "Favourite"),
    ("favourites", "Favourites"),
    (
        "favourite_not_kept",
        "This browser keeps nothing for this page, so no favourite either: its storage is full or blocked.",
    ),
    ("own_group", "Your own"),
    ("about", "About"),
    ("add", "Add"),
    ("no_sheet", "There is no sheet of this material."),
    (
        "chem_target_none",
        "Type a pH to aim at, and what it takes is told here.",
    ),
];

impl Speech {
    /// A length of a pot, from cm.
    pub fn length(self, cm: f64) -> String {
        let (value, unit) = match self.units {
            Units::Metric => (cm, " cm"),
            Units::Us => (cm / INCH_CM, " in"),
        };
        let digits = if value < 10.0 { 1 } else { 0 };
        let text = fixed(value, digits);
        text.strip_suffix(".0").unwrap_or(&text).to_owned() + unit
    }
}

/// A label that the tools write.
pub fn label_of_shed(key: &'static str) -> &'static str {
    RUNNING
        .iter()
        .find(|(known, _)| *known == key)
        .map_or(key, |(_, text)| crate::tongue::tr(text))
}

/// What is still to be typed.
pub fn still_needed(name: &str) -> String {
    say!("Still needed: {}.", in_sentence(name))
}

/// A range with one end missing, or ends that do not rise.
pub fn range_needs_all(name: &str) -> String {
    say!(
        "{}: a range needs low, typical and high, none below the one before. For an exact number leave low and high empty.",
        name
    )
}

/// Sand, silt and clay.
pub fn fractions_text([sand, silt, clay]: [f64; 3]) -> String {
    say!(
        "sand {}, silt {}, clay {} %",
        fixed(sand, 0),
        fixed(silt, 0),
        fixed(clay, 0)
    )
}

/// Sand, silt and clay with their ends.
pub fn fractions_spread_text([sand, silt, clay]: [Figure; 3]) -> String {
    let told = |figure: Figure| {
        let ends = figure.ends();
        format!(
            "{} % ({}–{})",
            fixed(figure.typical, 0),
            fixed(ends.low, 0),
            fixed(ends.high, 0)
        )
    };
    say!(
        "Sand {}, silt {}, clay {}; eight in ten such soils lie between.",
        told(sand),
        told(silt),
        told(clay)
    )
}

/// A number with its ends, in a unit of which one is so many of the stored one.
pub fn figure_text(name: &str, figure: Figure, factor: f64, unit: &str) -> String {
    let number = |value: f64| shown(super::round_significant(value / factor, 3));
    let mut text = format!("{name} {}", number(figure.typical));
    if let Some(ends) = figure.ends {
        text += &format!(" ({}–{})", number(ends.low), number(ends.high));
    }
    format!("{text} {unit}").trim_end().to_owned()
}

/// A trait of the ground, the unit that it is shown in, and one of that unit in the stored one.
pub fn trait_name(of: Trait, speech: Speech) -> (&'static str, &'static str, f64) {
    let (name, unit) = match of {
        Trait::Sand => (tr!("Sand"), "%"),
        Trait::Silt => (tr!("Silt"), "%"),
        Trait::Clay => (tr!("Clay"), "%"),
        Trait::OrganicMatter => (tr!("Organic matter"), "%"),
        Trait::BulkDensity => {
            let unit = speech.units.density_unit();
            return (
                tr!("Density as it lies"),
                unit,
                speech.units.density_factor(),
            );
        }
        Trait::Gravel => (tr!("Gravel"), "%"),
        Trait::WaterPerDry => (tr!("Moisture, of dry mass"), "%"),
        Trait::Crumb => (tr!("Crumb, 0 to 1"), ""),
        Trait::Ph => ("pH", ""),
        Trait::EcSaturatedPaste => (tr!("Salt, EC of the paste"), "dS/m"),
        Trait::Ec1To5 => (tr!("or EC 1:5"), "dS/m"),
        Trait::Ec1To2 => (tr!("or EC 1:2"), "dS/m"),
        Trait::Cec => (tr!("CEC"), tr!("cmol/kg")),
        Trait::CalciumShare => (tr!("Calcium, of the CEC"), "%"),
        Trait::MagnesiumShare => (tr!("Magnesium, of the CEC"), "%"),
        Trait::PotassiumShare => (tr!("Potassium, of the CEC"), "%"),
        Trait::SodiumShare => (tr!("Sodium, of the CEC"), "%"),
        Trait::Carbonate => (tr!("Free lime"), "%"),
    };
    (name, unit, 1.0)
}

/// A property of a material, the unit that it is shown in, and one of that unit in the stored one.
pub fn property_name(of: Property, speech: Speech) -> (&'static str, &'static str, f64) {
    let density = |name| {
        let units = speech.units;
        (name, units.density_unit(), units.density_factor())
    };
    let (name, unit) = match of {
        Property::WaterPerWet => (tr!("Moisture, of the moist weight"), "%"),
        Property::LooseDensity => return density(tr!("Loose weight as sold")),
        Property::SettledDryDensity => return density(tr!("Dry weight, settled")),
        Property::GrainDensity => return density(tr!("Density of a grain")),
        Property::SolidDensity => return density(tr!("Density of its solids")),
        Property::Grain => (tr!("Grain size"), "mm"),
        Property::OrganicMatter => (tr!("Organic matter, of dry mass"), "%"),
        Property::Char => (tr!("Char, of dry mass"), "%"),
        Property::Sand => (tr!("Sand, of the minerals"), "%"),
        Property::Silt => (tr!("Silt, of the minerals"), "%"),
        Property::Clay => (tr!("Clay, of the minerals"), "%"),
        Property::Coarse => (tr!("Over 2 mm, of the minerals"), "%"),
        Property::Ph => ("pH", ""),
        Property::Ec1To5 => (tr!("Salt, EC 1:5"), "dS/m"),
        Property::Cec => (tr!("CEC"), tr!("cmol/kg")),
        Property::Buffer => (tr!("Buffering"), tr!("cmol/kg per pH")),
        Property::CarbonateEquivalent => (tr!("Lime value"), tr!("% CaCO₃")),
        Property::Gypsum => (tr!("Gypsum"), "%"),
        Property::Sulfur => (tr!("Sulfur"), "%"),
        Property::Nitrogen => (tr!("Nitrogen N"), "%"),
        Property::Phosphorus => (tr!("Phosphorus P"), "%"),
        Property::Potassium => (tr!("Potassium K"), "%"),
        Property::Sodium => (tr!("Sodium Na"), "%"),
        Property::Carbon => (tr!("Carbon C"), "%"),
        Property::KeptAfterYear1 => (tr!("Left after a year"), "%"),
    };
    (name, unit, 1.0)
}

/// A bag that shops have.
pub fn bag_name(bag: &CommonBag) -> String {
    let kind = super::bag_kind_name(bag.kind);
    let mut text = format!("{kind}, {} {}", shown(bag.value), unit_name(bag.unit));
    if let Some(expands) = bag.expands {
        text += &say!(", fluffs up {} times", shown(expands.typical));
    }
    text
}

/// What a filled place settles to.
pub fn filled_text(filled: &Filled, target_m3: f64, speech: Speech) -> String {
    say!(
        "To fill {}, settled. Fresh it stands at {}.",
        speech.volume(target_m3 * LITRES_PER_M3),
        speech.volume(filled.fresh_m3 * LITRES_PER_M3)
    )
}

/// The ground that it takes.
pub fn filled_ground_text(filled: &Filled, speech: Speech) -> Option<String> {
    (filled.ground_moist_kg > 0.0).then(|| {
        say!(
            "Ground: {} once dug, {} moist.",
            speech.volume(filled.ground_loose_m3 * LITRES_PER_M3),
            speech.mass(filled.ground_moist_kg)
        )
    })
}

/// One addition that it takes.
pub fn filled_line_text(
    recipe: &Recipe,
    addition: &Addition,
    line: &FilledLine,
    speech: Speech,
) -> String {
    let name = recipe
        .find(&addition.material)
        .map_or("", |found| found.name());
    let mut text = say!(
        "{}: {} loose, {}",
        name,
        speech.volume(line.loose_m3 * LITRES_PER_M3),
        speech.mass(line.moist_kg)
    );
    if addition.amount.unit == Unit::Bag {
        let count = addition.amount.value;
        text += &say!(
            "; {} bags, so buy {}",
            significant(count, 3),
            fixed((count - 1e-9).ceil(), 0)
        );
    }
    text + "."
}

/// The recipe's parts as one would say them; nothing where it is not in parts.
pub fn parts_text(recipe: &Recipe) -> String {
    let in_parts =
        |addition: &&Addition| addition.amount.unit == Unit::Part && !addition.is_on_top();
    if !recipe.additions.iter().any(|addition| in_parts(&addition)) {
        return String::new();
    }
    let mut text = say!("{} soil", shown(recipe.parts_of_soil.unwrap_or(1.0)));
    for addition in recipe.additions.iter().filter(in_parts) {
        text += &format!(", {} {}", shown(addition.amount.value), addition.material);
    }
    text
}

/// How a phrase was understood.
pub fn understood_text(recipe: &Recipe, shares: &[Share]) -> String {
    let mut text = String::from(tr!("Understood:"));
    for (index, share) in shares.iter().enumerate() {
        let name = match &share.what {
            What::Ground => tr!("your ground").to_owned(),
            What::Material(id) => in_sentence(recipe.find(id).map_or(id, |found| found.name())),
        };
        let comma = if index == 0 { "" } else { "," };
        text += &say!("{} {} of {}", comma, shown(share.parts), name);
    }
    text + tr!(". Other additions make way.")
}

/// What an amount of ground is, dug and as it lies.
pub fn dug_text(ground: &Ground, amount: &Amount, speech: Speech) -> String {
    let lying_m3 = amount.si();
    let dry_kg = lying_m3 * ground.lying_density_kg_m3;
    say!(
        "{} as it lies, {} once dug, {} moist.",
        speech.volume(lying_m3 * LITRES_PER_M3),
        speech.volume(dry_kg / ground.fresh_density_kg_m3() * LITRES_PER_M3),
        speech.mass(dry_kg * (1.0 + ground.water_per_dry))
    )
}

/// What an addition comes to.
pub fn addition_text(recipe: &Recipe, index: usize, speech: Speech) -> String {
    let Ok(barrow) = Barrow::of(recipe) else {
        return String::new();
    };
    let currency = recipe.currency.as_deref();
    barrow.lines.get(index).map_or(String::new(), |line| {
        super::line_text(line, &barrow, currency, speech) + "."
    })
}

/// The name of a material made from another.
pub fn my_material_name(name: &str) -> String {
    say!("My {}", in_sentence(name))
}

/// What an own material is, as far as it is known.
pub fn own_kind_text(group: Option<Group>) -> String {
    let kind = super::group_name(group.unwrap_or(Group::Sand));
    say!("A material of your own: {}.", in_sentence(kind))
}

/// How many materials a search has found.
pub fn found_text(count: usize, all: usize) -> String {
    match count {
        0 => tr!("None found.").to_owned(),
        _ if count == all => say!("{} materials.", all),
        _ => say!("{} of {} materials.", count, all),
    }
}

/// An own material in a list, with where it is used.
pub fn own_line_text(recipe: &Recipe, own: &OwnMaterial) -> String {
    let name = own.name.as_deref().unwrap_or(&own.id);
    match uses(recipe, &own.id).len() {
        0 => say!("{} (not in use)", name),
        1 => name.to_owned(),
        times => say!("{} (used {} times)", name, times),
    }
}

/// A recipe in a list.
pub fn recipe_in_a_line(recipe: &Recipe) -> String {
    let title = recipe
        .title
        .as_deref()
        .filter(|title| !title.trim().is_empty());
    let names: Vec<String> = recipe
        .additions
        .iter()
        .take(3)
        .filter_map(|addition| Some(in_sentence(recipe.find(&addition.material)?.name())))
        .collect();
    let class = Outcome::of(recipe)
        .ok()
        .and_then(|outcome| outcome.ground.class);
    let class = class.map_or(tr!("ground"), super::class_name);
    let mut text = title.map_or(String::from(tr!("Without a name")), str::to_owned);
    text += &format!(": {class}");
    if !names.is_empty() {
        text += &say!(" with {}", names.join(", "));
    }
    if recipe.additions.len() > 3 {
        text += tr!(" and more");
    }
    text
}

/// A name for a file: what every system takes, from the title.
pub fn file_name(title: Option<&str>, end: &str) -> String {
    let mut name = String::new();
    for letter in title.unwrap_or_default().chars().take(NAME_LENGTH) {
        if letter.is_alphanumeric() {
            name.extend(letter.to_lowercase());
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    let name = if name.is_empty() { tr!("recipe") } else { name };
    format!("{name}.{end}")
}

/// A file that no recipe could fill.
pub fn too_large_text(bytes: f64) -> String {
    say!(
        "This file holds {} MB, and no recipe comes to 1 MB. Nothing was changed.",
        significant(bytes / 1e6, 2)
    )
}
