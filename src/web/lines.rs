//! The additions: one item of the list each, with material, slider, number box and unit.

use super::form::{fill_units, write_number};
use super::written::Text;
use crate::blend::{Barrow, Line};
use crate::caution::Caution;
use crate::dom::{
    Element, around, by_id, document, find, focus, make, set, set_disabled, set_hidden,
};
use crate::material::{Group, catalogue};
use crate::memory::{FAVOURITES, items, read};
use crate::outcome::Outcome;
use crate::quantity::{Dimension, Unit};
use crate::recipe::{ADDITIONS_LIMIT, Addition, Amount, Recipe, whole_text};
use crate::words::{
    self, Speech, care_line, group_name, line_text, number_in_words, power_of_ten,
    round_significant, shown,
};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter, js_name = lastElementChild)]
    fn last_element_child(this: &Element) -> Option<Element>;
}

/// What an addition can be counted in on the page; bags where the line has one.
const COUNTED: [Dimension; 8] = [
    Dimension::Volume,
    Dimension::Mass,
    Dimension::ShareOfVolume,
    Dimension::ShareOfMass,
    Dimension::Part,
    Dimension::Length,
    Dimension::MassPerArea,
    Dimension::MassPerVolume,
];
/// Steps from end to end of a slider, about.
const SLIDER_STEPS: f64 = 200.0;

struct Item {
    element: Element,
    slider: Element,
    number: Element,
    hint: Text,
    cares: Text,
    now: Option<(f64, Unit)>,
    told: String,
}

pub(super) struct Lines {
    list: Element,
    template: Element,
    items: Vec<Item>,
    focus_after: Option<(String, usize)>,
    /// What was typed and could not be, and what was said of it, for each addition.
    faults: Vec<Option<(String, String)>>,
}

impl Lines {
    pub(super) fn new() -> Lines {
        Lines {
            list: by_id("additions"),
            template: by_id("addition-template"),
            items: Vec::new(),
            focus_after: None,
            faults: Vec::new(),
        }
    }

    /// Builds the list anew.
    pub(super) fn rebuild(&mut self, recipe: &Recipe, outcome: Option<&Outcome>, speech: Speech) {
        self.list.set_text_content("");
        self.items.clear();
        self.faults.resize(recipe.additions.len(), None);
        for index in 0..recipe.additions.len() {
            let item = self.build(recipe, index);
            self.items.push(item);
        }
        set_hidden(&by_id("barrow-empty"), !recipe.additions.is_empty());
        let chooser = by_id("add");
        let chosen = chooser.value();
        fill_materials(&chooser, recipe);
        chooser.set_value(if chosen.is_empty() {
            "yard_compost"
        } else {
            &chosen
        });
        let full = recipe.additions.len() >= ADDITIONS_LIMIT;
        if let Some(button) = find("[data-do=add]") {
            set_disabled(&button, full);
        }
        if let Some(outcome) = outcome {
            self.limits(recipe, outcome);
            self.follow(recipe, outcome, false, speech);
        }
    }

    fn build(&self, recipe: &Recipe, index: usize) -> Item {
        let addition = &recipe.additions[index];
        let copy = document().import_node(&self.template.content(), true);
        self.list.append_child(&copy);
        let child = self.list.last_element_child();
        let element = child.unwrap_or_else(|| make("li"));
        let part = |selector: &str| {
            let part = element.query_selector(selector);
            part.unwrap_or_else(|| make("span"))
        };
        let materials = part("[data-bind=material]");
        fill_materials(&materials, recipe);
        materials.set_value(&addition.material);
        let units = part("[data-bind=unit]");
        let has_bag = addition.bag.is_some()
            || recipe
                .materials
                .iter()
                .any(|own| own.id == addition.material && own.bag.is_some());
        let mut dimensions = COUNTED.to_vec();
        if has_bag {
            dimensions.push(Dimension::Bag);
        }
        fill_units(&units, &dimensions);
        units.set_value(addition.amount.unit.spelling());
        let slider = part("input[type=range]");
        let number = part("input[type=text]");
        let name = recipe
            .find(&addition.material)
            .map_or("", |found| found.name());
        let unit = units.get_attribute("aria-label").unwrap_or_default();
        set(&units, "aria-label", &[&unit, ": ", name].concat());
        for control in [&slider, &number] {
            set(control, "aria-label", name);
        }
        let says = ["addition-", &whole_text(index as u64), "-says"].concat();
        set(&part(".says"), "id", &says);
        set(&number, "aria-describedby", &says);
        number.set_value(&shown(addition.amount.value));
        if let Some((typed, said)) = self.faults.get(index).and_then(Option::as_ref) {
            number.set_value(typed);
            set(&number, "aria-invalid", "true");
            part(".says").set_text_content(said);
        }
        for (place, selector) in [
            "[data-do=up]",
            "[data-do=down]",
            "[data-do=remove]",
            "[data-shed]",
        ]
        .into_iter()
        .enumerate()
        {
            let button = part(selector);
            let title = words::Text::after(words::Text::Up, place).text();
            let told = [title, ": ", name].concat();
            set(&button, "aria-label", &told);
            set(&button, "title", &told);
            let at_end = [0, recipe.additions.len() - 1].get(place) == Some(&index);
            if at_end {
                set(&button, "disabled", "");
            }
        }
        Item {
            hint: Text::of(part(".hint")),
            cares: Text::of(part(".cares")),
            element,
            slider,
            number,
            now: None,
            told: String::new(),
        }
    }

    /// Sets the ends of every slider; not while one moves.
    pub(super) fn limits(&mut self, recipe: &Recipe, outcome: &Outcome) {
        for (index, item) in self.items.iter_mut().enumerate() {
            let Some(addition) = recipe.additions.get(index) else {
                continue;
            };
            let most = slider_end(&addition.amount, &outcome.barrow, index);
            set(&item.slider, "max", &crate::recipe::number_text(most));
            set(
                &item.slider,
                "step",
                &crate::recipe::number_text(nice(most / SLIDER_STEPS)),
            );
            item.now = None;
        }
    }

    /// Writes what changed in each item; the control that has the focus is left alone.
    pub(super) fn follow(
        &mut self,
        recipe: &Recipe,
        outcome: &Outcome,
        fresh: bool,
        speech: Speech,
    ) {
        let all = self.items.iter_mut().zip(&recipe.additions).enumerate();
        for (index, (item, addition)) in all {
            match outcome.barrow.lines.get(index) {
                // Of a recipe with a fault these numbers would be another line's.
                Some(line) if fresh => {
                    let currency = recipe.currency.as_deref();
                    item.hint
                        .write(&line_text(line, &outcome.barrow, currency, speech));
                }
                _ => item.hint.write(""),
            }
            if fresh {
                let of_this = |caution: &Caution| caution.additions.contains(&index);
                item.cares.write(&care_line(&outcome.cautions, of_this));
            }
            let text = shown(addition.amount.value);
            write_number(&item.number, &text);
            let now = (addition.amount.value, addition.amount.unit);
            if item.now == Some(now) {
                continue;
            }
            item.now = Some(now);
            if item.slider.value() != text {
                item.slider.set_value(&text);
            }
            let told = number_in_words(&addition.amount);
            if told != item.told {
                set(&item.slider, "aria-valuetext", &told);
                item.told = told;
            }
        }
    }

    /// Keeps what was typed into an addition's box and could not be, or forgets it.
    pub(super) fn keep_fault(&mut self, index: usize, fault: Option<(String, String)>) {
        if let Some(kept) = self.faults.get_mut(index) {
            *kept = fault;
        }
    }

    /// Forgets all of them: another recipe is shown.
    pub(super) fn forget_faults(&mut self) {
        self.faults.clear();
    }

    /// The place in the list of an element inside an item.
    pub(super) fn index_of(&self, element: &Element) -> Option<usize> {
        let item = around(element, ".addition")?;
        self.items.iter().position(|known| known.element == item)
    }

    /// Where the fault of an addition is told.
    pub(super) fn says(&self, index: usize) -> Option<Element> {
        self.items.get(index)?.element.query_selector(".says")
    }

    /// Puts the focus on a control of an item.
    pub(super) fn focus_on(&self, index: usize, bind: &str) {
        let item = self.items.get(index);
        let selector = ["[data-bind=", bind, "]"].concat();
        if let Some(control) = item.and_then(|item| item.element.query_selector(&selector)) {
            focus(&control);
        }
    }

    /// Adds, removes or moves an addition; whether anything changed.
    pub(super) fn act(&mut self, what: &str, target: &Element, recipe: &mut Recipe) -> bool {
        let additions = &mut recipe.additions;
        if what == "add" {
            let chooser = by_id("add");
            let id = chooser.value();
            if additions.len() >= ADDITIONS_LIMIT || recipe.find(&id).is_none() {
                return false;
            }
            let amount = recipe.first_amount();
            recipe.additions.push(Addition::new(id, amount));
            self.focus_after = None;
            return true;
        }
        let Some(index) = self.index_of(target) else {
            return false;
        };
        match what {
            "remove" => {
                additions.remove(index);
                self.faults.remove(index);
            }
            "up" if index > 0 => {
                additions.swap(index, index - 1);
                self.faults.swap(index, index - 1);
            }
            "down" if index + 1 < additions.len() => {
                additions.swap(index, index + 1);
                self.faults.swap(index, index + 1);
            }
            _ => return false,
        }
        self.focus_after = Some((what.to_owned(), index));
        true
    }

    /// After a rebuild: puts the focus where the hand was.
    pub(super) fn focus_after(&mut self) {
        let Some((what, index)) = self.focus_after.take() else {
            if let Some(item) = self.items.last() {
                focus(&item.slider);
            }
            return;
        };
        let index = match what.as_str() {
            "up" => index.saturating_sub(1),
            "down" => index + 1,
            _ => index,
        };
        let Some(item) = self.items.get(index).or(self.items.last()) else {
            focus(&by_id("add"));
            return;
        };
        let buttons = item.element.query_selector_all("button:not([disabled])");
        let of = |what: &str| {
            let mut all = buttons.iter();
            all.find(|button| button.get_attribute("data-do").as_deref() == Some(what))
        };
        // Where it can be moved no further, pressing again moves it back and removes nothing.
        let back = if what == "up" { "down" } else { "up" };
        if let Some(button) = of(&what).or(of(back)).or(buttons.last()) {
            focus(button);
        }
    }
}

/// Every material in groups: favourites, the recipe's own, then the catalogue's.
fn fill_materials(select: &Element, recipe: &Recipe) {
    select.set_text_content("");
    let mut last = "";
    let mut under = make("optgroup");
    let mut option = |heading: &'static str, id: &str, name: &str| {
        if heading != last {
            last = heading;
            under = make("optgroup");
            set(&under, "label", heading);
            select.append_child(&under);
        }
        let option = make("option");
        set(&option, "value", id);
        option.set_text_content(name);
        under.append_child(&option);
    };
    for id in items(&read(FAVOURITES).unwrap_or_default()) {
        if let Some(found) = recipe.find(id) {
            option(words::Text::Favourites.text(), id, found.name());
        }
    }
    for own in &recipe.materials {
        option(
            words::Text::OwnGroup.text(),
            &own.id,
            own.name.as_deref().unwrap_or(&own.id),
        );
    }
    for group in Group::ALL {
        for entry in catalogue() {
            if entry.group == *group {
                option(group_name(*group), entry.id, entry.name);
            }
        }
    }
}

/// A round number at or above a value: 1, 2 or 5 times a power of ten.
fn nice(value: f64) -> f64 {
    if value.is_nan() || value <= 0.0 {
        return 1.0;
    }
    let power = power_of_ten(value);
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|step| step * power)
        .find(|step| *step >= value * (1.0 - 1e-9))
        .map_or(value, |step| round_significant(step, 3))
}

/// Where a slider ends: enough to go past the point where sand touches.
fn slider_end(amount: &Amount, barrow: &Barrow, index: usize) -> f64 {
    let most = match amount.unit.dimension() {
        Dimension::ShareOfVolume | Dimension::ShareOfMass => {
            // Shares that already stand leave less for this one.
            return 90.0_f64.max(amount.value);
        }
        Dimension::Part => 5.0,
        Dimension::Bag => 20.0,
        _ => match barrow.lines.get(index) {
            Some(line) => {
                let loose = 3.0 * barrow.ground_loose_m3().max(line.loose_m3 / 3.0);
                counted(&Line::of(line.material, loose, false), barrow, amount.unit)
                    .unwrap_or(amount.value)
            }
            None => amount.value,
        },
    };
    nice(most.max(amount.value))
}

/// How many of a unit a line is, or none where it cannot be counted so.
fn counted(line: &Line, barrow: &Barrow, unit: Unit) -> Option<f64> {
    let whole_kg = barrow.ground_dry_kg + barrow.mixed().map(|line| line.dry_kg).sum::<f64>();
    let si = match unit.dimension() {
        Dimension::Mass => line.moist_kg,
        Dimension::Volume => line.loose_m3,
        Dimension::Length => line.loose_m3 / barrow.area_m2?,
        Dimension::MassPerArea => line.moist_kg / barrow.area_m2?,
        Dimension::ShareOfVolume => line.loose_m3 / barrow.loose_parts_m3(),
        Dimension::ShareOfMass => line.dry_kg / whole_kg,
        Dimension::Part => line.loose_m3 / barrow.ground_loose_m3(),
        Dimension::MassPerVolume => line.moist_kg / barrow.ground_loose_m3(),
        Dimension::Area | Dimension::Bag => return None,
    };
    let value = si / unit.factor();
    value.is_finite().then_some(value)
}

/// The same amount in another unit, to three figures; the number stays where it cannot be told.
pub(super) fn in_unit(
    recipe: &Recipe,
    outcome: Option<&Outcome>,
    index: usize,
    unit: Unit,
) -> Amount {
    let amount = &recipe.additions[index].amount;
    let barrow = outcome.map(|outcome| &outcome.barrow);
    let value = barrow
        .and_then(|barrow| counted(barrow.lines.get(index)?, barrow, unit))
        .map(|value| match unit.dimension() {
            Dimension::Part => value * recipe.parts_of_soil.unwrap_or(1.0),
            _ => value,
        })
        .map_or(amount.value, |value| round_significant(value, 3));
    Amount {
        value,
        unit,
        kept: amount.kept.clone(),
    }
}
