//! The list as comma-separated values (RFC 4180), numbers with a point and in the units that stand
//! in their names.

use super::list::{Buy, Item, List};
use crate::figure::Figure;
use crate::quantity::{LITRES_PER_M3, round_significant};
use crate::recipe::{Recipe, number_text};
use crate::table::guarded;

/// Digits of a mass or volume (a choice: a gram in a tonne).
const DIGITS: usize = 6;

/// The head of the table.
pub const LIST_COLUMNS: [&str; 18] = [
    "material",
    "name",
    "buy",
    "of",
    "of_unit",
    "needed_kg",
    "needed_l",
    "bought_kg",
    "bought_l",
    "left_kg",
    "left_l",
    "barrow_loads",
    "loads",
    "cost_low",
    "cost",
    "cost_high",
    "delivery",
    "currency",
];

/// The table of a list.
pub fn list_as_csv(recipe: &Recipe, list: &List) -> String {
    let mut table = String::new();
    row(&mut table, LIST_COLUMNS.map(str::to_owned));
    let currency = guarded(recipe.currency.as_deref().unwrap_or_default());
    for item in &list.items {
        row(&mut table, cells(recipe, item, &currency));
    }
    let none = String::new;
    if let Some(dug) = &list.ground {
        let mut all = LIST_COLUMNS.map(|_| none());
        all[0] = "ground".into();
        all[5] = measured(dug.moist_kg);
        all[6] = measured(dug.loose_m3 * LITRES_PER_M3);
        all[11] = number(dug.barrow_loads);
        row(&mut table, all);
    }
    let mut all = LIST_COLUMNS.map(|_| none());
    all[0] = "all".into();
    all[7] = measured(list.moist_kg);
    all[11] = number(list.barrow_loads);
    for (cell, text) in all[13..16].iter_mut().zip(money(list.cost)) {
        *cell = text;
    }
    all[16] = number(list.delivery);
    all[17] = currency;
    row(&mut table, all);
    table
}

fn cells(recipe: &Recipe, item: &Item, currency: &str) -> [String; LIST_COLUMNS.len()] {
    let found = recipe.find(&item.material);
    let name = found.map_or(item.material.as_str(), |found| found.name());
    let [buy, of, unit] = match &item.buy {
        Buy::Lots { count, size, .. } => [
            number(f64::from(*count)),
            number(size.size.value),
            size.size.unit.spelling().to_owned(),
        ],
        Buy::Mass(kg) => [measured(*kg), "1".into(), "kg".into()],
        Buy::Volume(m3) => [measured(m3 * LITRES_PER_M3), "1".into(), "L".into()],
    };
    let [low, typical, high] = money(item.cost);
    [
        guarded(&item.material),
        guarded(name),
        buy,
        of,
        unit,
        measured(item.need.moist_kg),
        measured(item.need.loose_m3 * LITRES_PER_M3),
        measured(item.moist_kg),
        measured(item.loose_m3 * LITRES_PER_M3),
        measured(item.left_kg),
        measured(item.left_m3 * LITRES_PER_M3),
        number(item.barrow_loads),
        match item.loads {
            0 => String::new(),
            loads => number(f64::from(loads)),
        },
        low,
        typical,
        high,
        number(item.delivery),
        currency.to_owned(),
    ]
}

/// The ends, where they are others, and the typical value between them.
fn money(cost: Option<Figure>) -> [String; 3] {
    let Some(cost) = cost else {
        return [String::new(), String::new(), String::new()];
    };
    let [low, high] = match cost.ends {
        Some(ends) => [ends.low, ends.high].map(number),
        None => [String::new(), String::new()],
    };
    [low, number(cost.typical), high]
}

/// A number as it can be measured; nothing for what is none.
fn measured(value: f64) -> String {
    number(round_significant(value, DIGITS))
}

/// A number in full; nothing for what is none.
fn number(value: f64) -> String {
    if value.is_finite() {
        number_text(value)
    } else {
        String::new()
    }
}

fn row(table: &mut String, cells: [String; LIST_COLUMNS.len()]) {
    for (at, cell) in cells.iter().enumerate() {
        if at > 0 {
            table.push(',');
        }
        if cell.contains(['"', ',', '\r', '\n']) {
            table.push('"');
            *table += &cell.replace('"', "\"\"");
            table.push('"');
        } else {
            *table += cell;
        }
    }
    *table += "\r\n";
}
