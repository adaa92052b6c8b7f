//! The list: what to buy, carry and do, on the page, on paper and as a table.

use super::boxes::{choose, number, show};
use super::{Part, State, again, says, tell};
use crate::dom::{self, Element, Event, by_id, closest, find, make, mark, root, set, set_hidden};
use crate::draws::Strata;
use crate::errand::list::List;
use crate::errand::table::list_as_csv;
use crate::quantity::Unit;
use crate::recipe::{AMOUNT_LEAST, AMOUNT_LIMIT, Amount, Recipe};
use crate::shed::browser::{print, today_told};
use crate::shed::form::{in_box, put};
use crate::shed::paper::{self, PRINTED, save_table};
use crate::shed::section::{put as put_text, put_list};
use crate::words::errand::list::{
    LIST_HEADS, LIST_LAID, LIST_SAVED, ListTold, ORDER, SHEET_TITLE, fill_units, for_what,
    list_fault_text, list_told, made_text,
};
use crate::words::{Speech, file_name, unit_name};
use std::cell::RefCell;

const PART: Part = Part::List;
/// The class of what lies on paper, so that a tool's sheet is left alone.
const LAID: &str = "errand-sheet";

/// What the part shows and does not store.
struct Own {
    strata: Strata,
    /// The volume that is filled; none where the recipe stands as it is.
    fill: Option<Amount>,
    /// What is shown, to print and to save.
    shown: Option<Shown>,
}

struct Shown {
    recipe: Recipe,
    list: List,
    told: ListTold,
    fill: Option<Amount>,
}

thread_local! {
    static OWN: RefCell<Option<Own>> = const { RefCell::new(None) };
}

fn with<R>(act: impl FnOnce(&mut Own) -> R) -> Option<R> {
    OWN.with(|cell| {
        let mut cell = cell.try_borrow_mut().ok()?;
        Some(act(cell.get_or_insert_with(|| Own {
            strata: Strata::default(),
            fill: None,
            shown: None,
        })))
    })
}

/// What lies for the printer goes as soon as something else is pressed.
pub(super) fn furnish() {
    for kind in ["pointerdown", "keydown"] {
        dom::on(kind, |_| {
            if find(&["#", PRINTED, ".", LAID].concat()).is_some() {
                paper::clear();
            }
        });
    }
}

/// Writes the list.
pub(super) fn fill(state: &State) {
    with(|own| {
        let fill = own.fill.clone();
        boxes(state.speech, fill.as_ref());
        own.shown = None;
        let wanted = fill.as_ref().map(Amount::si);
        let list = List::of(&state.recipe, &state.errand, wanted, &mut own.strata);
        for button in PART.panel().query_selector_all("[data-errand^=list-]") {
            let has_items = list.as_ref().is_ok_and(|list| !list.items.is_empty());
            dom::set_disabled(&button, !has_items);
        }
        match list {
            Ok(list) => {
                put_text(&PART.part("fault"), "");
                let told = list_told(&state.recipe, &state.errand, &list, state.speech);
                write(&told);
                own.shown = Some(Shown {
                    recipe: state.recipe.clone(),
                    list,
                    told,
                    fill,
                });
            }
            Err(fault) => {
                put_text(
                    &PART.part("fault"),
                    &list_fault_text(&fault, &state.recipe, &state.errand, state.speech),
                );
                write(&ListTold::default());
            }
        }
    });
}

fn boxes(speech: Speech, fill: Option<&Amount>) {
    if let Some(field) = PART.field("for") {
        let held = field.value();
        let chosen = if fill.is_some() { "fill" } else { "as-is" };
        // While the box beside it is still empty, the choice stays.
        if fill.is_some() || held != "fill" {
            field.set_value(chosen);
        }
        let is_fill = field.value() == "fill";
        set_hidden(&PART.part("volume"), !is_fill);
    }
    show(
        PART,
        "volume",
        &fill.map_or(String::new(), |fill| in_box(fill.value)),
    );
    let mut units = fill_units(speech).to_vec();
    if let Some(fill) = fill
        && !units.contains(&fill.unit)
    {
        units.push(fill.unit);
    }
    let choice = |unit: &Unit| (unit.spelling().to_owned(), unit_name(*unit).to_owned());
    let choices: Vec<(String, String)> = units.iter().map(choice).collect();
    let held = PART.field("volume-unit").map(|list| list.value());
    let chosen = fill.map(|fill| fill.unit.spelling().to_owned()).or(held);
    let chosen = chosen.filter(|held| choices.iter().any(|(id, _)| id == held));
    let first = choices
        .first()
        .map(|(id, _)| id.clone())
        .unwrap_or_default();
    choose(PART, "volume-unit", &choices, &chosen.unwrap_or(first));
}

fn write(told: &ListTold) {
    set_hidden(&PART.part("table"), told.rows.is_empty());
    let body = PART.part("rows");
    let key = told
        .rows
        .iter()
        .flatten()
        .cloned()
        .collect::<Vec<_>>()
        .join("|");
    if body.get_attribute("data-key").as_deref() != Some(&key) {
        set(&body, "data-key", &key);
        body.set_text_content("");
        rows(&body, told);
    }
    put_list(&PART.part("sums"), &told.sums);
    put_list(&PART.part("notes"), &told.notes);
    let work = PART.part("work");
    put_list(&work, &told.work);
    if let Some(section) = work.parent_element() {
        set_hidden(&section, told.work.is_empty());
    }
}

fn rows(body: &Element, told: &ListTold) {
    for cells in &told.rows {
        let row = put(body, "tr", "");
        for (cell, head) in cells.iter().zip(LIST_HEADS) {
            let is_name = head == LIST_HEADS[0];
            let place = put(&row, if is_name { "th" } else { "td" }, "");
            put_text(&place, cell);
            if is_name {
                set(&place, "scope", "row");
            } else {
                set(&place, "data-label", head.text());
            }
        }
    }
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    if !lets_go {
        return;
    }
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    let is_choice = field.get_attribute("name").as_deref() == Some("for");
    if is_choice && field.value() != "fill" {
        if let Some(volume) = PART.field("volume") {
            volume.set_value("");
            super::boxes::mend(&volume);
        }
        with(|own| own.fill = None);
        says("");
        again();
        return;
    }
    let unit = PART.field("volume-unit").map(|list| list.value());
    let unit = unit
        .and_then(|unit| Unit::from_spelling(&unit))
        .unwrap_or(Unit::Litre);
    let boxed = PART.field("volume");
    if let Some(Ok(value)) = boxed.map(|boxed| number(&boxed, (AMOUNT_LEAST, AMOUNT_LIMIT), "")) {
        with(|own| own.fill = value.map(|value| Amount::new(value, unit)));
    }
    again();
}

/// A button was pressed.
pub(super) fn pressed(deed: &str) {
    match deed {
        "print" => {
            with(|own| {
                if let Some(shown) = &own.shown {
                    lay(shown);
                    tell(LIST_LAID.text());
                    print();
                }
            });
        }
        "csv" => {
            with(|own| {
                if let Some(shown) = &own.shown {
                    let name = file_name(shown.recipe.title.as_deref(), "list.csv");
                    save_table(&name, &list_as_csv(&shown.recipe, &shown.list));
                    tell(LIST_SAVED.text());
                }
            });
        }
        _ => {}
    }
}

/// Lays the sheet where the printer finds it.
fn lay(shown: &Shown) {
    paper::clear();
    let section = make("section");
    set(&section, "id", PRINTED);
    set(&section, "class", LAID);
    let Some(body) = by_id("shed").parent_element() else {
        return;
    };
    body.append_child(&section);
    mark(&root(), "data-paper", true);
    let page = put(&section, "article", "");
    set(&page, "class", "paper errand-paper");
    put(&page, "h2", SHEET_TITLE.text());
    let what = for_what(&shown.recipe, shown.fill.as_ref());
    let date = today_told();
    let line = if what.is_empty() {
        date
    } else {
        [&what, ", ", &*date].concat()
    };
    put(&page, "p", &line);
    let told = &shown.told;
    if !told.rows.is_empty() {
        let table = put(&page, "table", "");
        set(&table, "class", "plain");
        let head = put(&put(&table, "thead", ""), "tr", "");
        for name in LIST_HEADS {
            set(&put(&head, "th", name.text()), "scope", "col");
        }
        rows(&put(&table, "tbody", ""), told);
    }
    for text in told.sums.iter().chain(&told.notes) {
        put(&page, "p", text);
    }
    put(&page, "h3", ORDER.text());
    let list = put(&page, "ol", "");
    for text in &told.work {
        put(&list, "li", text);
    }
    set(&put(&page, "p", &made_text()), "class", "fine");
}
