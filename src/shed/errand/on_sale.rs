//! On sale: what can be bought, how it is sold and what is asked for it.

use super::boxes::{choices, choose, fault, mend, needed, number, show, show_in};
use super::{Part, State, change_errand, says, tell, template};
use crate::dom::{self, Element, Event, around, closest, focus, set, set_disabled, set_hidden};
use crate::errand::document::Errand;
use crate::errand::invented::invented;
use crate::errand::offer::{LOTS_LIMIT, OFFERS_LIMIT, Offer, WASTE_LIMITS_PCT};
use crate::material::catalogue;
use crate::quantity::Unit;
use crate::recipe::{AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Path, Price, Recipe};
use crate::shed::form::in_box;
use crate::shed::section::put as put_text;
use crate::words::errand::sale::{
    ALREADY_INVENTED, FULL, INVENTED, LOT_UNITS, NO_PRICE, PER_LOT, SOLD_AS, box_name, dear_text,
    filled_in_text, lot_text, offer_name, one_unit, removed_text,
};
use crate::words::{error_text, unit_name};
use std::cell::RefCell;

const PART: Part = Part::Sale;
/// Limits of a size, of a load.
const SOMETHING: (f64, f64) = (AMOUNT_LEAST, AMOUNT_LIMIT);
/// Limits of money.
const MONEY: (f64, f64) = (0.0, AMOUNT_LIMIT);
/// Limits of moisture, % of the weight.
const WATER_PCT: (f64, f64) = (0.0, 99.0);

thread_local! {
    /// The materials that the rows are of: a row stays as long as its offer does, so that what is
    /// typed into it stays too.
    static ROWS: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
}

/// Shows what is on sale.
pub(super) fn fill(state: &State) {
    let (recipe, errand) = (&state.recipe, &state.errand);
    show(
        PART,
        "currency",
        recipe.currency.as_deref().unwrap_or_default(),
    );
    show(
        PART,
        "waste",
        &errand.waste_pct.map_or(String::new(), in_box),
    );
    let list = PART.field("material");
    let chosen = list.map(|list| list.value()).unwrap_or_default();
    let materials = materials(recipe);
    let known = materials.iter().any(|(id, _)| *id == chosen);
    let first = materials.first().map_or("", |(id, _)| id);
    let chosen = if known { &chosen } else { first };
    choose(PART, "material", &materials, chosen);
    set_hidden(&PART.part("none"), !errand.offers.is_empty());
    let full = errand.offers.len() >= OFFERS_LIMIT;
    put_text(&PART.part("full"), if full { FULL.text() } else { "" });
    if let Some(button) = PART.panel().query_selector("[data-errand=sale-add]") {
        set_disabled(&button, full);
    }
    let place = PART.part("offers");
    let materials = errand.offers.iter().map(|offer| offer.material.clone());
    set_rows(&place, materials.collect());
    let rows = place.query_selector_all("li");
    for (at, (row, offer)) in rows.iter().zip(&errand.offers).enumerate() {
        show_offer(row, at, offer, state);
    }
}

/// Makes a row for each offer; those of offers that stay are kept.
fn set_rows(place: &Element, materials: Vec<String>) {
    let before = ROWS.with(|rows| rows.replace(materials.clone()));
    let alike = |(one, other): &(&String, &String)| one == other;
    let first = before.iter().zip(&materials).take_while(alike).count();
    let ends = before.iter().rev().zip(materials.iter().rev());
    let last = ends
        .take_while(alike)
        .count()
        .min(before.len().min(materials.len()) - first);
    let rows = place.query_selector_all("li");
    let kept = rows.len().saturating_sub(last);
    let is_wrong = |row: &Element| row.query_selector("[aria-invalid]").is_some();
    let mut goes_wrong = false;
    if before.len() > first {
        // Otherwise they stay where they are, and so does a hand in one of them.
        place.set_text_content("");
        for row in rows.iter().take(first) {
            place.append_child(row);
        }
        goes_wrong = rows.iter().take(kept).skip(first).any(is_wrong);
    }
    for _ in first + last..materials.len() {
        if let Some(row) = template("errand-offer") {
            place.append_child(&row);
        }
    }
    if before.len() > first {
        for row in rows.iter().skip(kept) {
            place.append_child(row);
        }
    }
    if goes_wrong {
        // What was told of it goes along.
        says("");
    }
}

/// Materials that can be offered: those of the recipe first.
fn materials(recipe: &Recipe) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    let mut add = |id: &str| {
        if let Some(found) = recipe.find(id)
            && all.iter().all(|(known, _)| known != id)
        {
            all.push((id.to_owned(), found.name().to_owned()));
        }
    };
    for addition in &recipe.additions {
        add(&addition.material);
    }
    for own in &recipe.materials {
        add(&own.id);
    }
    for entry in catalogue() {
        add(entry.id);
    }
    all
}

fn show_offer(row: &Element, at: usize, offer: &Offer, state: &State) {
    let recipe = &state.recipe;
    let found = recipe.find(&offer.material);
    let name = found.map_or(offer.material.as_str(), |found| found.name());
    let offered = offer_name(recipe, offer);
    set(row, "data-offer", &at.to_string());
    let part = |name: &str| row.query_selector(&["[data-part=", name, "]"].concat());
    if let Some(place) = part("name") {
        put_text(&place, name);
    }
    if let Some(place) = part("invented") {
        put_text(&place, if offer.invented { INVENTED.text() } else { "" });
    }
    for field in row.query_selector_all("[name]") {
        let what = field.get_attribute("name").unwrap_or_default();
        set(&field, "aria-label", &box_name(&what, &offered));
        let units = |units: &[Unit]| -> Vec<(String, String)> {
            let choice = |unit: &Unit| (unit.spelling().to_owned(), unit_name(*unit).to_owned());
            units.iter().map(choice).collect()
        };
        let some = |value: Option<f64>| value.map_or(String::new(), in_box);
        match what.as_str() {
            "sold" => {
                let ways =
                    SOLD_AS.map(|(id, text)| (id.to_owned(), crate::tongue::tr(text).to_owned()));
                choices(&field, &ways, SOLD_AS[usize::from(offer.loose)].0);
            }
            "size" => show_in(&field, &in_box(offer.lot.size.value)),
            "unit" => {
                let mut known = LOT_UNITS.to_vec();
                if !known.contains(&offer.lot.size.unit) {
                    known.push(offer.lot.size.unit);
                }
                choices(&field, &units(&known), offer.lot.size.unit.spelling());
            }
            "price" => show_in(&field, &some(offer.price.as_ref().map(|price| price.value))),
            "per" => {
                let mut ways = vec![(Unit::Bag.spelling().to_owned(), PER_LOT.text().to_owned())];
                ways.extend(
                    LOT_UNITS
                        .iter()
                        .map(|unit| (unit.spelling().to_owned(), one_unit(*unit))),
                );
                let per = offer.price.as_ref().map(|price| &price.per);
                let mut chosen = per.map_or(Unit::Bag, |per| per.unit).spelling();
                let held = field.value();
                let is_wrong = row.query_selector("[name=price][aria-invalid]").is_some();
                // It belongs to the price that is still to be mended.
                if is_wrong && let Some(held) = Unit::from_spelling(&held) {
                    chosen = held.spelling();
                }
                // What another program wrote, such as for ten of them, is kept beside the rest.
                if let Some(per) = per.filter(|per| per.value != 1.0) {
                    let other = per.unit.spelling();
                    let text = [&in_box(per.value), " ", unit_name(per.unit)].concat();
                    ways.retain(|(id, _)| id != other);
                    ways.push((other.to_owned(), text));
                }
                choices(&field, &ways, chosen);
            }
            "expands" => show_in(&field, &some(offer.lot.expands)),
            "delivery" => show_in(&field, &some(offer.delivery)),
            "load" => show_in(&field, &some(offer.load.as_ref().map(|load| load.value))),
            "load-unit" => {
                let chosen = offer.load.as_ref().map(|load| load.unit);
                let held = field.value();
                let chosen = chosen.map_or(held, |unit| unit.spelling().to_owned());
                let known = LOT_UNITS.iter().any(|unit| unit.spelling() == chosen);
                let [first, ..] = LOT_UNITS.map(Unit::spelling);
                choices(
                    &field,
                    &units(&LOT_UNITS),
                    if known { &chosen } else { first },
                );
            }
            "most" => show_in(&field, &some(offer.most)),
            "water" => show_in(&field, &some(offer.water_per_wet_pct)),
            _ => {}
        }
    }
    if let Some(button) = row.query_selector("[data-errand=sale-remove]") {
        set(&button, "value", &at.to_string());
        set(&button, "aria-label", &box_name("remove", &offered));
    }
    let path = Path::from("errand").field("offers").item(at);
    let lot = if offer.price.is_some() {
        offer.lot(recipe, &path)
    } else {
        offer.contents(recipe, &path)
    };
    if let Some(place) = part("comes-to") {
        let text = match &lot {
            Ok(lot) => lot_text(recipe, offer, lot, state.speech),
            Err(error) => error_text(error),
        };
        put_text(&place, &text);
        dom::mark(&place, "data-wrong-offer", lot.is_err());
    }
    if let Some(place) = part("no-price") {
        put_text(
            &place,
            if offer.price.is_none() {
                NO_PRICE.text()
            } else {
                ""
            },
        );
    }
}

/// A control was let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    if !lets_go {
        return;
    }
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    match name.as_str() {
        "currency" => currency(&field),
        "waste" => {
            if let Ok(waste) = number(&field, WASTE_LIMITS_PCT, "%") {
                change_errand(|errand, _| errand.waste_pct = waste);
            }
        }
        "material" => {}
        _ => {
            let row = around(&field, "[data-offer]");
            let at =
                row.and_then(|row| Some((row.get_attribute("data-offer")?.parse().ok()?, row)));
            if let Some((at, row)) = at {
                offer_box(&row, &field, &name, at);
            }
        }
    }
}

fn currency(field: &Element) {
    let text = field.value();
    let text = text.trim().to_owned();
    super::change(|recipe| recipe.currency = (!text.is_empty()).then_some(text));
}

/// A box of an offer was let go.
fn offer_box(row: &Element, field: &Element, name: &str, at: usize) {
    let change = |act: &dyn Fn(&mut Offer)| {
        change_errand(|errand, _| {
            if let Some(offer) = errand.offers.get_mut(at) {
                act(offer);
            }
        });
    };
    let unit_of = |name: &str| {
        let list = row.query_selector(&["[name=", name, "]"].concat())?;
        Unit::from_spelling(&list.value())
    };
    match name {
        "sold" => {
            let loose = field.value() == SOLD_AS[1].0;
            change(&|offer| offer.loose = loose);
        }
        "size" => {
            if let Ok(value) = needed(field, SOMETHING) {
                change(&|offer| {
                    if offer.lot.size.value != value {
                        offer.lot.size.value = value;
                        offer.invented = false;
                    }
                });
            }
        }
        "unit" => {
            if let Some(unit) = unit_of("unit") {
                change(&|offer| {
                    offer.lot.size.unit = unit;
                    offer.invented = false;
                });
            }
        }
        "price" | "per" => {
            let boxed = row.query_selector("[name=price]");
            let Some(Ok(value)) = boxed.map(|boxed| number(&boxed, MONEY, "")) else {
                return;
            };
            let unit = unit_of("per").unwrap_or(Unit::Bag);
            let set = |offer: &mut Offer| {
                let was = offer.price.take();
                let per = match &was {
                    Some(price) if price.per.unit == unit => price.per.clone(),
                    _ => Amount::new(1.0, unit),
                };
                offer.price = value.map(|value| Price {
                    value,
                    per,
                    kept: was
                        .as_ref()
                        .map(|price| price.kept.clone())
                        .unwrap_or_default(),
                });
                if offer.price != was {
                    offer.invented = false;
                }
            };
            let dear = super::with(|state| {
                let mut offer = state.errand.offers.get(at)?.clone();
                set(&mut offer);
                let path = Path::from("errand").field("offers").item(at);
                dear_text(&state.recipe, &offer, &path)
            });
            match (dear.flatten(), row.query_selector("[name=price]")) {
                (Some(dear), Some(boxed)) => fault(&boxed, &dear),
                _ => change(&set),
            }
        }
        "expands" => {
            if let Ok(value) = number(field, SOMETHING, "L") {
                change(&|offer| offer.lot.expands = value);
            }
        }
        "delivery" => {
            if let Ok(value) = number(field, MONEY, "") {
                change(&|offer| offer.delivery = value);
            }
        }
        "load" | "load-unit" => {
            let boxed = row.query_selector("[name=load]");
            let Some(Ok(value)) = boxed.map(|boxed| number(&boxed, SOMETHING, "")) else {
                return;
            };
            let unit = unit_of("load-unit").unwrap_or(Unit::CubicMetre);
            change(&|offer| offer.load = value.map(|value| Amount::new(value, unit)));
        }
        "most" => {
            if let Ok(value) = number(field, (0.0, LOTS_LIMIT), "") {
                // A part of a bag is none.
                change(&|offer| offer.most = value.map(f64::floor));
            }
        }
        "water" => {
            if let Ok(value) = number(field, WATER_PCT, "%") {
                change(&|offer| offer.water_per_wet_pct = value);
            }
        }
        _ => {}
    }
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    match deed {
        "add" => add(),
        "invent" => invent(),
        "remove" => remove(value),
        _ => {}
    }
}

fn add() {
    let Some(id) = PART.field("material").map(|list| list.value()) else {
        return;
    };
    let mut at = 0;
    let added = change_errand(|errand, recipe| {
        if errand.offers.len() < OFFERS_LIMIT {
            at = errand.offers.len();
            errand.offers.push(first_offer(recipe, &id));
        }
    });
    if added {
        super::now();
        let price = format!("[data-offer='{at}'] [name=price]");
        if let Some(field) = PART.panel().query_selector(&price) {
            focus(&field);
        }
    }
}

/// An offer to begin with: the bag of the recipe's line, or what is usual for what is weighed and
/// what is measured.
fn first_offer(recipe: &Recipe, id: &str) -> Offer {
    let line = recipe
        .additions
        .iter()
        .find(|line| line.material == id && line.bag.is_some());
    if let Some(line) = line
        && let Some(bag) = &line.bag
    {
        let mut offer = Offer::new(id, bag.size.clone());
        offer.lot = bag.clone();
        offer.price = line.price.clone();
        return offer;
    }
    let organic = recipe
        .find(id)
        .is_some_and(|found| found.group().is_organic());
    let size = if organic {
        Amount::new(40.0, Unit::Litre)
    } else {
        Amount::new(25.0, Unit::Kilogram)
    };
    Offer::new(id, size)
}

fn invent() {
    let mut count = 0;
    let mut full = false;
    change_errand(|errand, recipe| {
        for offer in invented(recipe) {
            let same = |known: &Offer| {
                known.material == offer.material
                    && known.loose == offer.loose
                    && known.lot.size.unit.dimension() == offer.lot.size.unit.dimension()
            };
            if errand.offers.iter().any(same) {
                continue;
            }
            full = errand.offers.len() >= OFFERS_LIMIT;
            if full {
                break;
            }
            errand.offers.push(offer);
            count += 1;
        }
    });
    tell(&match (count, full) {
        (0, true) => FULL.text().to_owned(),
        (0, false) => ALREADY_INVENTED.text().to_owned(),
        _ => filled_in_text(count),
    });
}

fn remove(value: &str) {
    let Ok(at) = value.parse::<usize>() else {
        return;
    };
    // What was wrong with it goes along.
    for field in PART
        .panel()
        .query_selector_all(&format!("[data-offer='{at}'] [aria-invalid]"))
    {
        mend(&field);
    }
    let mut name = String::new();
    let removed = change_errand(|errand: &mut Errand, recipe| {
        if at < errand.offers.len() {
            let offer = errand.offers.remove(at);
            name = offer_name(recipe, &offer);
        }
    });
    if removed {
        // Its own row goes, whichever others are of the same material.
        let place = PART.part("offers");
        let rows = place.query_selector_all("li");
        place.set_text_content("");
        for (row, _) in rows.iter().zip(0..).filter(|(_, row)| *row != at) {
            place.append_child(row);
        }
        ROWS.with(|rows| {
            let mut rows = rows.borrow_mut();
            if at < rows.len() {
                rows.remove(at);
            }
        });
        super::now();
        says("");
        tell(&removed_text(&name));
        let buttons = PART.panel().query_selector_all("[data-errand=sale-remove]");
        let next = buttons.get(at).or_else(|| buttons.last()).cloned();
        if let Some(next) = next.or_else(|| PART.field("material")) {
            focus(&next);
        }
    }
}
