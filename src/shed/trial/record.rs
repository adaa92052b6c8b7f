//! Record: what is measured, container by container. The measure and the day are chosen once; then a
//! value, Next, a value, Next, in the order in which one walks. Every value goes into the recipe as
//! soon as it is left, one step of undo each.

mod desk;
mod keep;
mod kit;
mod list;
mod lost;
mod own;
mod shown;
mod table;

use super::{Part, State, again, with};
use crate::dom::{self, Element, Event, by_id, focus, make, set, set_disabled, set_hidden, window};
use crate::shed::form::{option, set_value, value};
use crate::trial::date::Date;
use crate::trial::plan::Trial;
use crate::words::trial::entry::NO_DAY;
use crate::words::trial::page_record::TAKEN_BACK;
use crate::words::trial::plan::measure_name;
use desk::{Desk, today};
use keep::{clear, keep, sample};
use shown::{fill_days, fill_measures, tell_wrong};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const ME: Part = Part::Record;
/// Controls of one container.
const FIELDS: [&str; 7] = ["value", "censor", "reps", "missing", "note", "way", "error"];

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, js_name = scrollIntoView)]
    fn scroll_into_view(this: &Element);
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::new(Desk::default());
}

fn desk<R>(act: impl FnOnce(&mut Desk) -> R) -> Option<R> {
    DESK.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// Writes all of it.
pub(super) fn fill(state: &mut State) {
    let Some(trial) = &state.trial else {
        return;
    };
    let there = state.layout.is_some();
    for place in ["code", "list"] {
        set_hidden(&ME.part(place), !there);
    }
    let Some(layout) = &state.layout else {
        return;
    };
    listen();
    desk(|desk| {
        desk.settle(trial, layout);
        fill_measures(trial, &desk.measure);
        fill_days(trial, desk);
        desk.fill_entry(trial, layout);
        desk.fill_list(trial, layout);
    });
    lost::fill(trial, layout);
    table::fill();
}

/// What the section itself does not tell the parts: keys, and that the page is left.
fn listen() {
    if desk(|desk| std::mem::replace(&mut desk.listens, true)).unwrap_or(true) {
        return;
    }
    dom::on("keydown", |event| {
        let of_value = dom::closest(&event, "[data-panel=record] .trial-entry input");
        if let Some(field) = of_value
            && event.key().as_deref() == Some("Enter")
        {
            event.prevent_default();
            if field.get_attribute("name").as_deref() == Some("sample") {
                pressed("sample", "");
            } else {
                pressed("next", "");
            }
        }
    });
    // A phone that is locked or a tab that is closed has left the value too.
    dom::on("visibilitychange", |_| {
        keep();
    });
}

fn text_of(name: &str) -> String {
    ME.field(name).map_or(String::new(), |field| value(&field))
}

fn write(name: &str, text: &str) {
    if let Some(field) = ME.field(name)
        && value(&field) != text
    {
        set_value(&field, text);
    }
}

/// Writes a list of choices where it is another one.
pub(super) fn choices(list: &Element, options: &[(String, String)], chosen: &str) {
    let key: String = options
        .iter()
        .flat_map(|(value, text)| [value.as_str(), "\u{1}", text.as_str(), "\u{2}"])
        .collect();
    if list.get_attribute("data-holds").as_deref() != Some(&key) {
        list.set_text_content("");
        for (value, text) in options {
            list.append_child(&option(value, text));
        }
        set(list, "data-holds", &key);
    }
    if value(list) != chosen {
        set_value(list, chosen);
    }
}

/// A button of the part.
fn press(deed: &str, value: &str, text: &str) -> Element {
    let button = make("button");
    set(&button, "type", "button");
    set(&button, "data-trial", deed);
    set(&button, "value", value);
    button.set_text_content(text);
    button
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    match name.as_str() {
        "measure" | "date" if lets_go => {
            // What was typed belongs to the measure and the day before. What cannot be kept stays in
            // its box and is told; the choice counts all the same, so that the page shows where a
            // value goes.
            let kept = keep();
            let mut no_day = false;
            desk(|desk| {
                if name == "measure" {
                    desk.measure = value(&field);
                } else {
                    desk.date = Date::of_iso(&value(&field));
                    no_day = desk.date.is_none();
                }
                desk.kept.clear();
            });
            refill();
            if no_day && kept {
                tell_wrong(NO_DAY.text());
            }
        }
        _ if FIELDS.contains(&name.as_str()) => {
            kit::touched(&name, &field, lets_go);
            desk(|desk| desk.touched = true);
            // At once: whoever presses it next leaves the box by that press.
            if let Some(undo) = ME.panel().query_selector("[data-trial=record-undo]") {
                set_disabled(&undo, false);
            }
            if lets_go {
                keep();
            }
        }
        "slashes" | "decimals" => table::said(),
        _ => {}
    }
}

/// Goes to a step of the walk, when what was typed could be kept.
fn go(to: impl FnOnce(usize, usize) -> usize) {
    if !keep() {
        if let Some(field) = ME.field("value") {
            focus(&field);
        }
        return;
    }
    let count = with(|state| state.layout.as_ref().map_or(0, |of| of.spots.len()));
    let count = count.unwrap_or(0);
    desk(|desk| {
        desk.step = to(desk.step, count).min(count.saturating_sub(1));
        desk.filled = None;
        desk.touched = false;
    });
    refill();
    let by_class = ME.part("by-number").has_attribute("hidden");
    if by_class {
        focus(&ME.part("code"));
    } else if let Some(field) = ME.field("value") {
        focus(&field);
    }
}

/// Fills at once, so that a phone keeps its keypad open.
fn refill() {
    with(fill);
    again();
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    match deed {
        "next" => go(|step, _| step + 1),
        "previous" => go(|step, _| step.saturating_sub(1)),
        "go" => {
            let to = value.parse().unwrap_or(0);
            go(|_, _| to);
            if let Some(entry) = ME.panel().query_selector(".trial-entry") {
                entry.scroll_into_view();
            }
        }
        "class" => {
            write("value", value);
            write("missing", "");
            desk(|desk| desk.touched = true);
            go(|step, _| step + 1);
        }
        "day" => {
            keep();
            desk(|desk| desk.date = Date::of_iso(value));
            refill();
        }
        "undo" => undo(),
        "sample" => sample(),
        "clear" => {
            for name in ["value", "missing", "note", "censor"] {
                write(name, "");
            }
            clear();
        }
        "lose" => {
            if keep() {
                let container = with(|state| {
                    let layout = state.layout.as_ref()?;
                    let (container, date) = desk(|desk| (desk.container(layout), desk.date))?;
                    Some((container, layout.code(container)?, date))
                });
                if let Some(Some((container, code, date))) = container {
                    lost::lose(container, &code, date);
                }
            }
        }
        "own" => own::add(),
        _ => {
            lost::pressed(deed, value);
            table::pressed(deed);
        }
    }
}

/// Takes back what was typed and could not be kept; else the last step.
fn undo() {
    let typed = desk(|desk| {
        desk.filled = None;
        desk.kept.clear();
        let typed = std::mem::take(&mut desk.touched);
        if typed {
            TAKEN_BACK.text().clone_into(&mut desk.kept);
        }
        typed
    });
    if typed.unwrap_or(false) {
        refill();
        return;
    }
    // A click within a click would call what listens to clicks within itself.
    let press = Closure::once_into_js(|| by_id("undo").click());
    window().set_timeout(&press, 0);
}

/// The container, day and measure at hand.
fn here() -> Option<Option<(usize, Date, String)>> {
    with(|state| {
        let layout = state.layout.as_ref()?;
        desk(|desk| Some((desk.container(layout), desk.date?, desk.measure.clone())))?
    })
}

/// Chooses a measure, as one that was just made.
fn choose_measure(id: &str) {
    desk(|desk| {
        id.clone_into(&mut desk.measure);
        desk.filled = None;
        desk.kept.clear();
    });
    again();
}

/// Goes to the day and the measure of what was just read.
fn go_to(date: Date, measure: &str) {
    desk(|desk| {
        measure.clone_into(&mut desk.measure);
        desk.date = Some(date);
        desk.step = 0;
        desk.filled = None;
        desk.touched = false;
        desk.kept.clear();
    });
    refill();
}

/// What the measure that decides is called; for the name of a file.
fn title(trial: &Trial) -> String {
    let of = trial.title.clone();
    of.unwrap_or_else(|| [&trial.id, " ", &measure_name(trial, "records")].concat())
}
