//! The controls of ground and place: from the recipe to what they show.

use super::written::Text;
use crate::blend::ground_dry_kg;
use crate::dom::{Document, Element, by_id, document, find, make, set, set_hidden};
use crate::ground::{Ground, Trait, Traits};
use crate::outcome::Outcome;
use crate::quantity::{Dimension, Unit};
use crate::recipe::{Amount, Recipe, Soil};
use crate::words::{
    self, Speech, Units, crumb_word, ranges_text, round_significant, shown, soil_text, unit_name,
    written,
};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter)]
    fn placeholder(this: &Element) -> String;
    #[wasm_bindgen(method, setter)]
    fn set_placeholder(this: &Element, text: &str);
    #[wasm_bindgen(method, getter, js_name = activeElement)]
    fn active_element(this: &Document) -> Option<Element>;
}

/// Ends of the density slider, kg/m3: from a loose peaty soil to one rolled hard; the box takes more.
const DENSITY_SLIDER_KG_M3: (f64, f64) = (600.0, 1900.0);
/// The value that stands for a bed in the list of the ground's units.
pub(super) const BED: &str = "bed";

/// A trait's slider and number box.
struct Pair {
    of: Trait,
    slider: Element,
    number: Element,
    /// The value shown, and whether it was given or estimated.
    now: Option<(f64, bool)>,
    told: String,
}

pub(super) struct Form {
    pairs: Vec<Pair>,
    crumb_word: Text,
    density_units: Vec<Element>,
    soil_is: Text,
    ranges: Text,
    speech: Option<Speech>,
}

/// The traits that have controls, by the name they are bound to.
const SHOWN: [Trait; 8] = [
    Trait::Sand,
    Trait::Silt,
    Trait::Clay,
    Trait::OrganicMatter,
    Trait::BulkDensity,
    Trait::Crumb,
    Trait::Gravel,
    Trait::WaterPerDry,
];

/// The trait of a binding.
pub(super) fn bound_trait(name: &str) -> Option<Trait> {
    SHOWN.into_iter().find(|of| of.name() == name)
}

/// One unit of a trait as shown, in the unit stored.
pub(super) fn shown_factor(of: Trait, speech: Speech) -> f64 {
    match of {
        Trait::BulkDensity => speech.units.density_factor(),
        _ => 1.0,
    }
}

impl Form {
    pub(super) fn new() -> Form {
        let mut pairs = Vec::new();
        for of in SHOWN {
            pairs.push(Pair {
                of,
                slider: control("range", of.name()),
                number: input(of.name()),
                now: None,
                told: String::new(),
            });
        }
        Form {
            pairs,
            crumb_word: Text::of(by_id("crumb-word")),
            density_units: by_id("ground").query_selector_all("[data-unit=density]"),
            soil_is: Text::of(by_id("soil-is")),
            ranges: Text::of(by_id("ground-ranges")),
            speech: None,
        }
    }

    /// Clears what was said of the traits that another ground has otherwise; without one, all that
    /// was said of ground and barrow.
    pub(super) fn forgive(&self, before: &Traits, after: Option<&Traits>) {
        for id in ["ground", "barrow"] {
            for field in by_id(id).query_selector_all("[aria-invalid]") {
                let bind = field.get_attribute("data-bind").unwrap_or_default();
                let stays = after.is_some_and(|after| {
                    bound_trait(&bind).is_none_or(|of| before.get(of) == after.get(of))
                });
                if !stays {
                    super::edit::tell(&field, None);
                }
            }
        }
    }

    /// Writes every control anew.
    pub(super) fn fill(&mut self, recipe: &Recipe, outcome: Option<&Outcome>, speech: Speech) {
        for pair in &mut self.pairs {
            pair.now = None;
        }
        self.speech = None;
        input("title").set_value(recipe.title.as_deref().unwrap_or(""));
        fill_soil(recipe);
        fill_place(recipe, speech);
        self.follow(recipe, outcome, speech);
    }

    /// Writes the controls whose value changed; the one that has the focus is left alone.
    pub(super) fn follow(&mut self, recipe: &Recipe, outcome: Option<&Outcome>, speech: Speech) {
        if self.speech != Some(speech) {
            self.speak(speech);
        }
        let estimate = Ground::of(&recipe.ground).ok();
        for pair in &mut self.pairs {
            pair.follow(recipe, estimate.as_ref(), speech);
        }
        let crumb = estimate.map_or(0.5, |ground| ground.crumb);
        self.crumb_word.write(crumb_word(crumb));
        self.ranges.write(&ranges_text(recipe, speech));
        if let Some(outcome) = outcome {
            self.soil_is.write(&soil_text(outcome, speech));
        }
    }

    /// Other units: limits and values of the density are shown in them.
    fn speak(&mut self, speech: Speech) {
        self.speech = Some(speech);
        let factor = shown_factor(Trait::BulkDensity, speech);
        for unit in &self.density_units {
            unit.set_text_content(speech.units.density_unit());
        }
        for pair in &mut self.pairs {
            if pair.of == Trait::BulkDensity {
                let decimals = speech.units.density_decimals();
                let (least, most) = DENSITY_SLIDER_KG_M3;
                let step = if decimals == 0 { "1" } else { "0.01" };
                set(&pair.slider, "min", &written(least / factor, decimals));
                set(&pair.slider, "max", &written(most / factor, decimals));
                set(&pair.slider, "step", step);
                pair.now = None;
            }
        }
    }
}

/// A trait as its box shows it. A density in other units comes out of a division: four figures
/// are enough.
pub(super) fn shown_in_box(of: Trait, value: f64) -> String {
    match of {
        Trait::BulkDensity => shown(round_significant(value, 4)),
        _ => shown(value),
    }
}

impl Pair {
    fn follow(&mut self, recipe: &Recipe, ground: Option<&Ground>, speech: Speech) {
        let given = recipe.ground.get(self.of).map(|figure| figure.typical);
        let factor = shown_factor(self.of, speech);
        let value = given.or_else(|| estimated(self.of, ground)).unwrap_or(0.0) / factor;
        let text = shown_in_box(self.of, value);
        write_number(&self.number, if given.is_some() { &text } else { "" });
        let now = (value, given.is_some());
        if self.now == Some(now) {
            return;
        }
        self.now = Some(now);
        if self.slider.value() != text {
            self.slider.set_value(&text);
        }
        let rounded = shown(round_significant(value, 3));
        let placeholder = [&rounded, " ", words::Text::Estimated.text()].concat();
        let hint = if given.is_some() { "" } else { &placeholder };
        if self.number.placeholder() != hint {
            self.number.set_placeholder(hint);
        }
        let unit = match self.of {
            Trait::BulkDensity => speech.units.density_unit(),
            Trait::Crumb => "",
            _ => "%",
        };
        let told = match self.of {
            Trait::Crumb => [&text, ", ", crumb_word(value)].concat(),
            _ => [&text, " ", unit].concat(),
        };
        if told != self.told {
            set(&self.slider, "aria-valuetext", &told);
            self.told = told;
        }
    }
}

/// What the ground takes where a trait is not given.
fn estimated(of: Trait, ground: Option<&Ground>) -> Option<f64> {
    let ground = ground?;
    Some(match of {
        Trait::OrganicMatter => 100.0 * ground.organic,
        Trait::BulkDensity => ground.lying_density_kg_m3,
        Trait::Crumb => ground.crumb,
        Trait::Gravel => 100.0 * ground.gravel,
        Trait::WaterPerDry => 100.0 * ground.water_per_dry,
        _ => return None,
    })
}

/// Writes a box, unless what was typed there is still to be mended.
fn write_box(bind: &str, text: &str) {
    let field = input(bind);
    if !is_faulty(&field) {
        field.set_value(text);
    }
}

/// Writes a number box that follows a slider; the one that is typed into is left alone.
pub(super) fn write_number(field: &Element, text: &str) {
    let typed_into = focused().as_ref() == Some(field);
    if !typed_into && !is_faulty(field) && field.value() != text {
        field.set_value(text);
    }
}

/// Whether what was typed there is still to be mended; it is then kept as typed.
pub(super) fn is_faulty(element: &Element) -> bool {
    element.get_attribute("aria-invalid").as_deref() == Some("true")
}

pub(super) fn select(bind: &str) -> Element {
    find(&["select[data-bind=", bind, "]"].concat()).unwrap_or_else(|| make("select"))
}

pub(super) fn input(bind: &str) -> Element {
    control("text", bind)
}

/// A slider or a box that stands for something.
fn control(kind: &str, bind: &str) -> Element {
    find(&["input[type=", kind, "][data-bind=", bind, "]"].concat())
        .unwrap_or_else(|| make("input"))
}

/// The control that has the focus.
pub(super) fn focused() -> Option<Element> {
    document().active_element()
}

/// The units of some dimensions as a list.
pub(super) fn fill_units(select: &Element, dimensions: &[Dimension]) {
    select.set_text_content("");
    for unit in Unit::ALL
        .iter()
        .filter(|unit| dimensions.contains(&unit.dimension()))
    {
        let option = make("option");
        set(&option, "value", unit.spelling());
        option.set_text_content(unit_name(*unit));
        select.append_child(&option);
    }
}

fn fill_soil(recipe: &Recipe) {
    let bed = matches!(recipe.soil, Soil::Bed { .. });
    set_hidden(&by_id("depth-part"), !bed);
    let areas: &[Dimension] = if bed { &[Dimension::Area] } else { &[] };
    let units = select("soil-unit");
    let mut dimensions = vec![Dimension::Volume, Dimension::Mass];
    dimensions.extend(areas);
    fill_units(&units, &dimensions);
    if !bed {
        let option = make("option");
        set(&option, "value", BED);
        option.set_text_content(words::Text::SoilBed.text());
        units.append_child(&option);
    }
    let show = |number: &str, unit: &str, amount: &Amount| {
        write_box(number, &shown(amount.value));
        select(unit).set_value(amount.unit.spelling());
    };
    match &recipe.soil {
        Soil::Amount(amount) => show("soil", "soil-unit", amount),
        Soil::Bed { area, depth, .. } => {
            show("soil", "soil-unit", area);
            show("depth", "depth-unit", depth);
        }
    }
}

fn fill_place(recipe: &Recipe, speech: Speech) {
    let place = recipe.place.as_ref();
    let kind = place.and_then(|place| place.kind);
    let on = place.and_then(|place| place.on);
    let near = place.and_then(|place| place.near);
    let drains = place.and_then(|place| place.drains);
    for (bind, value) in [
        ("place-kind", kind.map_or("", |kind| kind.spelling())),
        ("place-on", on.map_or("", |on| on.spelling())),
        ("place-near", near.map_or("", |near| near.spelling())),
        (
            "place-drains",
            drains.map_or("", |drains| if drains { "true" } else { "false" }),
        ),
    ] {
        select(bind).set_value(value);
    }
    let (room_unit, height_unit) = match speech.units {
        Units::Metric => (Unit::Litre, Unit::Centimetre),
        Units::Us => (Unit::Gallon, Unit::Inch),
    };
    let show = |number: &str, amount: Option<&Amount>, otherwise: Unit| {
        let text = amount.map_or(String::new(), |amount| shown(amount.value));
        write_box(number, &text);
        let unit = amount.map_or(otherwise, |amount| amount.unit);
        select(&[number, "-unit"].concat()).set_value(unit.spelling());
    };
    show(
        "room",
        place.and_then(|place| place.volume.as_ref()),
        room_unit,
    );
    show(
        "height",
        place.and_then(|place| place.height.as_ref()),
        height_unit,
    );
    let count = place.and_then(|place| place.count);
    write_box("count", &count.map_or(String::new(), shown));
}

/// The ground's amount turned from a bed into a volume or a mass, or back, keeping what it is.
pub(super) fn change_soil_unit(recipe: &mut Recipe, choice: &str, speech: Speech) {
    let Ok(ground) = Ground::of(&recipe.ground) else {
        return;
    };
    let dry_kg = ground_dry_kg(&ground, &recipe.soil);
    let lying_m3 = dry_kg / ground.lying_density_kg_m3;
    let round = round_significant;
    if choice == BED {
        // A bed of one square metre is where a user starts from.
        let (area, depth) = match speech.units {
            Units::Metric => (Amount::new(1.0, Unit::SquareMetre), Unit::Centimetre),
            Units::Us => (Amount::new(10.0, Unit::SquareFoot), Unit::Inch),
        };
        let deep = lying_m3 / area.si() / depth.factor();
        recipe.soil = Soil::Bed {
            area,
            depth: Amount::new(round(deep, 3), depth),
            kept: Vec::new(),
        };
        return;
    }
    let Some(unit) = Unit::from_spelling(choice) else {
        return;
    };
    match (&mut recipe.soil, unit.dimension()) {
        (Soil::Bed { area, .. }, Dimension::Area) => {
            area.value = round(area.si() / unit.factor(), 3);
            area.unit = unit;
        }
        (soil, Dimension::Mass) => {
            let moist_kg = dry_kg * (1.0 + ground.water_per_dry);
            *soil = Soil::Amount(Amount::new(round(moist_kg / unit.factor(), 3), unit));
        }
        (soil, Dimension::Volume) => {
            *soil = Soil::Amount(Amount::new(round(lying_m3 / unit.factor(), 3), unit));
        }
        _ => {}
    }
}

/// Shows the ground's amount and the place anew, after their units changed.
pub(super) fn refill_amounts(recipe: &Recipe, speech: Speech) {
    fill_soil(recipe);
    fill_place(recipe, speech);
}
