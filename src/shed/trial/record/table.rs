//! Records as tables: out as a file, in from a file or what is pasted. What could mean two things is
//! asked; what is wrong is told by row and column; nothing goes in before it is seen.

use super::{ME, text_of};
use crate::dom::{by_id, find, focus, listen, make, set, set_disabled, set_hidden};
use crate::shed::browser::{Bytes, File};
use crate::shed::file::download;
use crate::shed::section::{put, put_list};
use crate::shed::trial::{change_with, says, with};
use crate::trial::table::{Decimals, Read, Said, Slashes, Wrong, container_table, read, table};
use crate::words::file_name;
use crate::words::trial::entry::{more_faults_text, table_too_large_text, take_text, taken_text};
use crate::words::trial::labels::label_of_record;
use crate::words::trial::plan::plan_fault_text;
use crate::words::trial::records::{FAULTS_LISTED, table_fault_text, table_text};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Largest table that is read, bytes (a choice: 20,000 records with notes stay below it).
const TABLE_LIMIT: f64 = 8_000_000.0;
/// Faults that are listed.
const LISTED: usize = FAULTS_LISTED;

/// A table that was read and is not taken yet.
#[derive(Default)]
struct Waiting {
    bytes: Vec<u8>,
    said: Said,
    /// What may mean two things: once asked, it stays to be answered otherwise.
    asks: [bool; 2],
    /// The trial that it was read for, as the recipe's letters.
    read: Option<Read>,
    /// How many went in, where they did.
    taken: Option<usize>,
}

thread_local! {
    static WAITING: RefCell<Waiting> = RefCell::new(Waiting::default());
}

fn waiting<R>(act: impl FnOnce(&mut Waiting) -> R) -> Option<R> {
    WAITING.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

pub(super) fn pressed(deed: &str) {
    match deed {
        "save" => save(),
        "key" => save_key(),
        "open" => choose(),
        "read" => {
            let text = text_of("table");
            begin(text.into_bytes());
        }
        "take" => take(),
        _ => {}
    }
}

fn save() {
    let made = with(|state| {
        let (trial, layout) = (state.trial.as_ref()?, state.layout.as_ref()?);
        Some((
            file_name(Some(&super::title(trial)), "csv"),
            table(trial, layout),
        ))
    });
    if let Some(Some((name, text))) = made {
        download(&name, &text);
    }
}

fn save_key() {
    let made = with(|state| {
        let (trial, layout) = (state.trial.as_ref()?, state.layout.as_ref()?);
        let made = match trial.doses(&state.recipe) {
            Ok(doses) => Ok((
                file_name(Some(&[&super::title(trial), " containers"].concat()), "csv"),
                container_table(trial, layout, &doses),
            )),
            Err(fault) => Err(plan_fault_text(&fault, trial, &state.recipe, state.speech)),
        };
        Some(made)
    });
    match made {
        Some(Some(Ok((name, text)))) => download(&name, &text),
        Some(Some(Err(wrong))) => says(&wrong),
        _ => {}
    }
}

/// Lets the user choose a file.
fn choose() {
    let chooser = make("input");
    set(&chooser, "type", "file");
    set(
        &chooser,
        "accept",
        ".csv,.tsv,.txt,text/csv,text/tab-separated-values",
    );
    let chosen = chooser.clone();
    listen(&chooser, "change", move |_| {
        if let Some(file) = chosen.files().item(0) {
            open(&file);
        }
    });
    // Some browsers open it only for an element of the page, and tests look for it there.
    set(&chooser, "class", "unseen");
    set(&chooser, "id", "trial-file");
    set(&chooser, "aria-hidden", "true");
    set(&chooser, "tabindex", "-1");
    if let Some(old) = find("#trial-file") {
        old.remove();
    }
    if let Some(body) = by_id("shed").parent_element() {
        body.append_child(&chooser);
    }
    chooser.click();
}

fn open(file: &File) {
    if file.size() > TABLE_LIMIT {
        says(&table_too_large_text(file.size(), TABLE_LIMIT));
        return;
    }
    let read = Closure::once_into_js(move |bytes: JsValue| {
        begin(Bytes::new(&bytes).slice());
    });
    let refused = Closure::once_into_js(move |_: JsValue| {
        says(label_of_record("record_unreadable"));
    });
    file.array_buffer().then(&read, &refused);
}

fn begin(bytes: Vec<u8>) {
    says("");
    waiting(|waiting| {
        *waiting = Waiting {
            bytes,
            ..Waiting::default()
        };
    });
    look();
    focus(&ME.part("table-says"));
}

/// An answer to what may mean two things.
pub(super) fn said() {
    let chosen = |name: &str, value: &str| {
        let selector = ["[name=", name, "][value=", value, "]"].concat();
        let field = ME.panel().query_selector(&selector);
        field.is_some_and(|field| field.checked())
    };
    waiting(|waiting| {
        if chosen("slashes", "day") {
            waiting.said.slashes = Some(Slashes::DayFirst);
        } else if chosen("slashes", "month") {
            waiting.said.slashes = Some(Slashes::MonthFirst);
        }
        if chosen("decimals", "point") {
            waiting.said.decimals = Some(Decimals::Point);
        } else if chosen("decimals", "comma") {
            waiting.said.decimals = Some(Decimals::Comma);
        }
    });
    look();
}

/// Reads the table for the trial as it is now.
fn look() {
    with(|state| {
        let (Some(trial), Some(layout)) = (&state.trial, &state.layout) else {
            return;
        };
        waiting(|waiting| {
            let read = read(trial, layout, &waiting.bytes, waiting.said);
            for fault in &read.faults {
                waiting.asks[0] |= fault.wrong == Wrong::AmbiguousDate;
                waiting.asks[1] |= matches!(
                    fault.wrong,
                    Wrong::AmbiguousNumber | Wrong::BothSigns { .. }
                );
            }
            waiting.read = Some(read);
        });
    });
    fill();
}

pub(super) fn fill() {
    waiting(|waiting| {
        set_hidden(
            &ME.part("table-read"),
            waiting.read.is_none() && waiting.taken.is_none(),
        );
        let records = waiting.read.as_ref().map_or(0, |read| read.records.len());
        let replaced = waiting.read.as_ref().map_or(0, |read| read.replaced.len());
        let text = match (waiting.taken, &waiting.read) {
            (Some(taken), _) => taken_text(taken, replaced),
            (None, Some(read)) => table_text(read),
            (None, None) => String::new(),
        };
        put(&ME.part("table-says"), &text);
        for (at, (part, name)) in [("ask-slashes", "slashes"), ("ask-decimals", "decimals")]
            .into_iter()
            .enumerate()
        {
            set_hidden(&ME.part(part), !waiting.asks[at] || waiting.taken.is_some());
            let is_said = match at {
                0 => waiting.said.slashes.is_some(),
                _ => waiting.said.decimals.is_some(),
            };
            if !is_said {
                let selector = ["[name=", name, "]"].concat();
                for field in ME.panel().query_selector_all(&selector) {
                    field.set_checked(false);
                }
            }
        }
        if let Some(button) = ME.panel().query_selector("[data-trial=record-take]") {
            put(&button, &take_text(records));
            let nothing = records + replaced == 0;
            set_disabled(&button, nothing);
            set_hidden(&button, waiting.taken.is_some() || nothing);
        }
        let faults = waiting.read.as_ref().map(|read| read.faults.as_slice());
        let faults = faults.unwrap_or_default();
        let listed: Vec<String> = faults.iter().take(LISTED).map(table_fault_text).collect();
        put_list(&ME.part("faults"), &listed);
        let more = faults.len().saturating_sub(LISTED);
        put(&ME.part("faults-more"), &more_faults_text(more));
    });
}

/// Puts the records that are right into the trial.
fn take() {
    // Read once more: the trial may have got some of them since.
    look();
    let taken = waiting(|waiting| waiting.read.take()).flatten();
    let Some(read) = taken else {
        return;
    };
    let mut count = 0;
    let done = change_with(|trial, _| {
        count = trial.take(&read);
        Ok(())
    });
    // The page goes where they went: to the last day, and to the measure that decides where it is
    // among them.
    let to = with(|state| {
        let primary = state.trial.as_ref()?.primary.as_deref();
        let of = || read.records.iter().map(|(_, record)| record);
        let last = of().map(|record| record.date).max()?;
        let of = || of().filter(|of| of.date == last);
        let record = of().find(|of| Some(of.measure.as_str()) == primary);
        record.or_else(|| of().next()).cloned()
    });
    waiting(|waiting| {
        if done {
            waiting.taken = Some(count);
            waiting.asks = [false; 2];
        }
        waiting.read = Some(read);
    });
    fill();
    if done && let Some(Some(record)) = to {
        super::go_to(record.date, &record.measure);
    }
    focus(&ME.part("table-says"));
}
