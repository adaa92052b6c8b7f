//! From what is typed or moved to the recipe. A number that cannot be is told beside its field and
//! stays as typed; the recipe keeps the last good one.

use super::form::{BED, bound_trait, change_soil_unit, refill_amounts, shown_factor, shown_in_box};
use super::lines::in_unit;
use super::{Page, address};
use crate::dom::{Element, Event, around, by_id, closest, find, set};
use crate::figure::{Figure, within};
use crate::ground::Trait;
use crate::quantity::{Dimension, Unit};
use crate::recipe::{
    AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Near, Place, PlaceKind, Soil, Support, whole_text,
};
use crate::words::{Speech, Typed, Units, parse_typed, typed_text};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, setter)]
    fn set_checked(this: &Element, checked: bool);
}

/// What a control holds.
enum Held {
    Number(f64),
    Empty,
    Fault(String),
}

/// Takes what a slider or a number box holds; whether the recipe may have changed.
pub(super) fn input(page: &mut Page, event: &Event) -> bool {
    let Some(target) = closest(event, "input[data-bind]") else {
        return false;
    };
    let bind = bind_of(&target);
    page.typing = true;
    if bind == "title" {
        let title = target.value();
        page.recipe.title = (!title.is_empty()).then_some(title);
        return false;
    }
    let fault = match bound_trait(&bind) {
        Some(of) => edit_trait(page, of, &target),
        None => edit_amount(page, &bind, &target),
    };
    tell(&target, fault.as_deref());
    if let Some(index) = page.lines.index_of(&target) {
        let kept = fault.as_ref().map(|fault| (target.value(), fault.clone()));
        page.lines.keep_fault(index, kept);
    }
    fault.is_none()
}

/// Takes a choice, and keeps what has been changed.
pub(super) fn change(page: &mut Page, event: &Event) {
    if let Some(radio) = closest(event, "input[name=units]") {
        let units = if radio.value() == "us" {
            Units::Us
        } else {
            Units::Metric
        };
        page.speech = Speech { units };
        address::remember_units(units);
        page.show();
        // What could not be a density in one unit may be one in the other.
        let density = super::form::input(Trait::BulkDensity.name());
        if super::form::is_faulty(&density) {
            let fault = edit_trait(page, Trait::BulkDensity, &density);
            tell(&density, fault.as_deref());
            page.settle();
        }
        return;
    }
    if let Some(target) = closest(event, "select[data-bind]") {
        choose(page, &bind_of(&target), &target, &target.value());
        page.settle();
    } else if let Some(target) = closest(event, "input[data-bind]") {
        if target.get_attribute("type").as_deref() == Some("range") {
            let place = page.lines.index_of(&target).unwrap_or(0);
            let bind = bind_of(&target);
            page.moved = Some([&bind, whole_text(place as u64).as_str()].concat());
        }
        page.settle();
        if let Some(outcome) = page.outcome.as_ref().filter(|_| page.fresh) {
            page.lines.limits(&page.recipe, outcome);
            page.lines.follow(&page.recipe, outcome, true, page.speech);
        }
    }
}

/// Shows which units are chosen.
pub(super) fn check_units(units: Units) {
    let value = match units {
        Units::Metric => "metric",
        Units::Us => "us",
    };
    if let Some(radio) = find(&["input[name=units][value=", value, "]"].concat()) {
        radio.set_checked(true);
    }
}

/// What a control stands for.
fn bind_of(control: &Element) -> String {
    control.get_attribute("data-bind").unwrap_or_default()
}

/// Reads a control against limits.
fn held(control: &Element, (low, high): (f64, f64), optional: bool) -> Held {
    match parse_typed(&control.value()) {
        Typed::Number(value) if value >= low && value <= high => Held::Number(value),
        Typed::Empty if optional => Held::Empty,
        typed => Held::Fault(typed_text(typed, low, high)),
    }
}

fn edit_trait(page: &mut Page, of: Trait, control: &Element) -> Option<String> {
    let factor = shown_factor(of, page.speech);
    let (low, high) = of.limits();
    let fraction = [Trait::Sand, Trait::Silt, Trait::Clay]
        .iter()
        .position(|known| *known == of);
    let limits = (low / factor, high / factor);
    let value = match held(control, limits, fraction.is_none()) {
        Held::Fault(fault) => return Some(fault),
        Held::Number(value) => Some(value),
        Held::Empty => None,
    };
    match (fraction, value) {
        (Some(moved), Some(value)) => {
            let is_typed = control.get_attribute("type").as_deref() == Some("text");
            let before = page.typed[0].filter(|before| is_typed && *before != moved);
            let stood = page.rest.fractions_pct();
            let linked = match before.filter(|before| stood[*before] + value <= 100.0) {
                // What was typed just before stays, so that three numbers can be typed.
                Some(before) => {
                    let mut linked = stood;
                    linked[moved] = value;
                    linked[3 - moved - before] = millionth(100.0 - value - stood[before]);
                    linked
                }
                None => linked_fractions(page.let_go, moved, value),
            };
            let typed = page.typed[0].filter(|_| is_typed);
            set_fractions(page, linked);
            page.typed = [typed, is_typed.then_some(moved)];
        }
        _ => {
            // What stood there stays what it was, though it is shown in fewer digits. The limits
            // hold in the unit stored too, whatever the way there and back did.
            let stood = page.rest.typical(of);
            let same = stood.filter(|stood| shown_in_box(of, stood / factor) == control.value());
            let stored = value.map(|value| same.unwrap_or(within(value * factor, low, high)));
            set_trait(page, of, stored);
        }
    }
    None
}

/// Sets sand, silt and clay; ranges that they have move along.
pub(super) fn set_fractions(page: &mut Page, fractions_pct: [f64; 3]) {
    page.typed = [None; 2];
    for (of, share) in [Trait::Sand, Trait::Silt, Trait::Clay]
        .into_iter()
        .zip(fractions_pct)
    {
        set_trait(page, of, Some(share));
    }
}

/// Sets a trait; a range that it has moves along.
fn set_trait(page: &mut Page, of: Trait, value: Option<f64>) {
    // From where it stood at rest, so that a range comes back with its value.
    let known = page.rest.get(of);
    let figure = value.map(|value| {
        let known = known.unwrap_or(Figure::exact(value));
        known.moved(value, of.limits())
    });
    page.recipe.ground.set(of, figure);
}

/// Moves one fraction; the other two share the rest in proportion to where they stood.
pub(super) fn linked_fractions(stood: [f64; 3], moved: usize, value: f64) -> [f64; 3] {
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    let (first, second) = match moved {
        0 => (1, 2),
        1 => (0, 2),
        _ => (0, 1),
    };
    let rest = 100.0 - value;
    let sum = stood[first] + stood[second];
    let share = if sum > 0.0 { stood[first] / sum } else { 0.5 };
    let mut linked = [0.0; 3];
    linked[moved] = value;
    linked[first] = within(tenth(rest * share), 0.0, rest);
    linked[second] = millionth(rest - linked[first]);
    linked
}

/// To a millionth, so that binary remainders do not show.
fn millionth(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn edit_amount(page: &mut Page, bind: &str, control: &Element) -> Option<String> {
    let optional = matches!(bind, "room" | "height" | "count");
    let limits = match bind {
        "height" => height_limits(&super::form::select("height-unit").value()),
        "count" => (1.0, AMOUNT_LIMIT),
        _ => (0.0, AMOUNT_LIMIT),
    };
    let value = match held(control, limits, optional) {
        Held::Fault(fault) => return Some(fault),
        Held::Number(value) => Some(value),
        Held::Empty => None,
    };
    match (bind, value) {
        ("amount", Some(value)) => {
            if let Some(index) = page.lines.index_of(control) {
                page.recipe.additions[index].amount.value = value;
            }
        }
        ("soil", Some(value)) => match &mut page.recipe.soil {
            Soil::Amount(amount) => amount.value = value,
            Soil::Bed { area, .. } => area.value = value,
        },
        ("depth", Some(value)) => {
            if let Soil::Bed { depth, .. } = &mut page.recipe.soil {
                depth.value = value;
            }
        }
        ("room" | "height", value) => {
            if bind == "room" && value.is_some_and(|value| value < AMOUNT_LEAST) {
                return Some(typed_text(Typed::Number(0.0), AMOUNT_LEAST, AMOUNT_LIMIT));
            }
            let unit = Unit::from_spelling(&super::form::select(&[bind, "-unit"].concat()).value());
            let amount = value
                .zip(unit)
                .map(|(value, unit)| Amount::new(value, unit));
            edit_place(page, |place| match bind {
                "room" => place.volume = amount,
                _ => place.height = amount,
            });
        }
        ("count", value) => {
            if value.is_some_and(|value| value.fract() != 0.0) {
                return Some(typed_text(Typed::Other, 1.0, AMOUNT_LIMIT));
            }
            edit_place(page, |place| place.count = value);
        }
        _ => {}
    }
    None
}

/// A place's height, 1 to 300 cm, in a unit.
fn height_limits(unit: &str) -> (f64, f64) {
    let factor = Unit::from_spelling(unit).map_or(0.01, Unit::factor);
    let round = |value: f64| crate::words::round_significant(value, 6);
    (round(0.01 / factor), round(3.0 / factor))
}

/// Changes the place; one that says nothing is taken out.
fn edit_place(page: &mut Page, change: impl FnOnce(&mut Place)) {
    let mut place = page.recipe.place.take().unwrap_or_default();
    change(&mut place);
    page.recipe.place = (!place.is_silent()).then_some(place);
}

fn choose(page: &mut Page, bind: &str, target: &Element, choice: &str) {
    let unit = Unit::from_spelling(choice);
    match bind {
        "soil-unit" => {
            change_soil_unit(&mut page.recipe, choice, page.speech);
            refill_amounts(&page.recipe, page.speech);
            if choice == BED {
                crate::dom::focus(&super::form::input("soil"));
            }
        }
        "depth-unit" => {
            if let (Soil::Bed { depth, .. }, Some(unit)) = (&mut page.recipe.soil, unit) {
                depth.value = crate::words::round_significant(depth.si() / unit.factor(), 3);
                depth.unit = unit;
            }
            refill_amounts(&page.recipe, page.speech);
        }
        "room-unit" | "height-unit" => {
            let Some(unit) = unit else {
                return;
            };
            let convert = |amount: &mut Amount| {
                amount.value = crate::words::round_significant(amount.si() / unit.factor(), 3);
                amount.unit = unit;
            };
            let mut known = false;
            edit_place(page, |place| {
                let amount = match bind {
                    "room-unit" => &mut place.volume,
                    _ => &mut place.height,
                };
                known = amount.is_some();
                amount.as_mut().map(convert);
            });
            if known {
                refill_amounts(&page.recipe, page.speech);
            }
            // The limits are others now: what was refused may be right.
            let name = if bind == "room-unit" {
                "room"
            } else {
                "height"
            };
            let field = super::form::input(name);
            if super::form::is_faulty(&field) {
                let fault = edit_amount(page, name, &field);
                tell(&field, fault.as_deref());
            }
        }
        "place-kind" => {
            let kind = PlaceKind::ALL
                .iter()
                .copied()
                .find(|kind| kind.spelling() == choice);
            edit_place(page, |place| place.kind = kind);
        }
        "place-drains" => {
            let drains = (!choice.is_empty()).then_some(choice == "true");
            edit_place(page, |place| place.drains = drains);
        }
        "place-on" => {
            let mut all = Support::ALL.iter().copied();
            let on = all.find(|on| on.spelling() == choice);
            edit_place(page, |place| place.on = on);
        }
        "place-near" => {
            let mut all = Near::ALL.iter().copied();
            let near = all.find(|near| near.spelling() == choice);
            edit_place(page, |place| place.near = near);
        }
        "unit" => {
            if let (Some(index), Some(unit)) = (page.lines.index_of(target), unit) {
                let now = page.outcome.as_ref().filter(|_| page.fresh);
                let amount = in_unit(&page.recipe, now, index, unit);
                page.recipe.additions[index].amount = amount;
                relist(page);
            }
        }
        "material" => {
            if let Some(index) = page.lines.index_of(target) {
                let addition = &mut page.recipe.additions[index];
                choice.clone_into(&mut addition.material);
                // Moisture, bag and price were those of the other material.
                addition.water_per_wet_pct = None;
                addition.water_kept.clear();
                addition.price = None;
                addition.bag = None;
                if addition.amount.unit.dimension() == Dimension::Bag {
                    page.recipe.additions[index].amount = page.recipe.first_amount();
                }
                relist(page);
            }
        }
        _ => {}
    }
}

/// After a choice in the list: sliders and boxes anew, the focus where it was.
fn relist(page: &mut Page) {
    let place = super::form::focused()
        .and_then(|element| Some((page.lines.index_of(&element)?, bind_of(&element))))
        .filter(|(_, bind)| !bind.is_empty());
    page.compute();
    page.lines
        .rebuild(&page.recipe, page.outcome.as_ref(), page.speech);
    if let Some((index, bind)) = place {
        page.lines.focus_on(index, &bind);
    }
}

/// Says a fault beside its field, or clears it.
pub(super) fn tell(target: &Element, fault: Option<&str>) {
    let Some(row) = around(target, ".row, .line") else {
        return;
    };
    // A slider speaks for the box beside it.
    let own = target.get_attribute("data-bind");
    let fields = row.query_selector_all("input[type=text]");
    for field in fields
        .iter()
        .filter(|field| field.get_attribute("data-bind") == own)
    {
        if fault.is_some() {
            set(field, "aria-invalid", "true");
        } else {
            field.remove_attribute("aria-invalid");
        }
    }
    let still_faulty = fault.is_none() && fields.iter().any(super::form::is_faulty);
    if let Some(says) = row.query_selector(".says")
        && !still_faulty
    {
        says.set_text_content(fault.unwrap_or_default());
        if let Some(fault) = fault {
            by_id("status").set_text_content(fault);
        }
    }
}
