//! Record: what is measured, container by container. The measure and the day are chosen once; then a
//! value, Next, a value, Next, in the order in which one walks. Every value goes into the recipe as
//! soon as it is left, one step of undo each.

mod lost;
mod own;
mod table;

use super::{Part, State, again, change_with, with};
use crate::dom::{self, Element, Event, by_id, focus, make, set, set_disabled, set_hidden};
use crate::shed::form::{option, set_value, value};
use crate::shed::section::put;
use crate::trial::date::Date;
use crate::trial::layout::Layout;
use crate::trial::measures::{MEASURES, Measure, Scale};
use crate::trial::plan::Trial;
use crate::trial::records::{Censor, Missing, Record, check};
use crate::words::trial::entry::{
    NO_DAY, filled_text, kept_text, limits_text, record_text, several_text, step_text, typed_value,
};
use crate::words::trial::labels::label_of_record;
use crate::words::trial::plan::{measure_name, measure_with_unit};
use crate::words::trial::records::{censor_name, class_text, missing_name, record_fault_text};
use crate::words::{Typed, shown, typed_text};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const ME: Part = Part::Record;
/// Most classes that a score is pressed by.
const CLASSES: f64 = 10.0;
/// Controls of one container.
const FIELDS: [&str; 5] = ["value", "censor", "reps", "missing", "note"];

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = Date)]
    type Today;
    #[wasm_bindgen(constructor, js_class = "Date")]
    fn new() -> Today;
    #[wasm_bindgen(method, js_class = "Date", js_name = getFullYear)]
    fn year(this: &Today) -> u32;
    #[wasm_bindgen(method, js_class = "Date", js_name = getMonth)]
    fn month(this: &Today) -> u32;
    #[wasm_bindgen(method, js_class = "Date", js_name = getDate)]
    fn day(this: &Today) -> u32;
    #[wasm_bindgen(method, js_name = scrollIntoView)]
    fn scroll_into_view(this: &Element);
}

/// What is being entered.
#[derive(Default)]
struct Desk {
    /// Whether the section listens already.
    listens: bool,
    measure: String,
    date: Option<Date>,
    /// Which step of the walk.
    step: usize,
    /// Whether something of the container was touched and is not kept yet.
    touched: bool,
    /// What the fields were filled with: container, day, measure.
    filled: Option<(usize, Option<Date>, String)>,
    /// What was kept last.
    kept: String,
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::new(Desk::default());
}

fn desk<R>(act: impl FnOnce(&mut Desk) -> R) -> Option<R> {
    DESK.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// The user's own day.
fn today() -> Option<Date> {
    let today = Today::new();
    Date::of(today.year(), today.month() + 1, today.day())
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

fn fill_measures(trial: &Trial, chosen: &str) {
    let Some(list) = ME.field("measure") else {
        return;
    };
    let own = trial.own_measures.iter().map(|own| own.id.clone());
    let ours = MEASURES.iter().map(|measure| measure.id.to_owned());
    let mut ids: Vec<String> = trial.primary.clone().into_iter().collect();
    for id in own.chain(ours) {
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
    let options: Vec<(String, String)> = ids
        .into_iter()
        .filter(|id| trial.measure(id).is_some())
        .map(|id| {
            let text = measure_with_unit(trial, &id);
            (id, text)
        })
        .collect();
    choices(&list, &options, chosen);
}

/// Other days on which the measure was read.
fn fill_days(trial: &Trial, desk: &Desk) {
    if let Some(date) = desk.date {
        write("date", &date.iso());
    }
    let place = ME.part("days");
    let days = trial.days_of(&desk.measure);
    let key: String = days.iter().map(|day| day.iso() + " ").collect();
    if place.get_attribute("data-holds").as_deref() == Some(&key) {
        return;
    }
    set(&place, "data-holds", &key);
    place.set_text_content("");
    // The last few: earlier ones can be chosen by the date.
    for day in days.iter().rev().take(4).rev() {
        let button = press("record-day", &day.iso(), &day.iso());
        place.append_child(&button);
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

impl Desk {
    /// Chooses what is not chosen, or no longer there.
    fn settle(&mut self, trial: &Trial, layout: &Layout) {
        if trial.measure(&self.measure).is_none() {
            let primary = trial.primary.clone();
            let primary = primary.filter(|id| trial.measure(id).is_some());
            self.measure = primary.unwrap_or_else(|| MEASURES[0].id.to_owned());
        }
        if self.date.is_none() && self.filled.is_none() {
            self.date = today();
        }
        self.step = self.step.min(layout.spots.len().saturating_sub(1));
    }

    fn container(&self, layout: &Layout) -> usize {
        layout.walk().get(self.step).copied().unwrap_or(0)
    }

    fn fill_entry(&mut self, trial: &Trial, layout: &Layout) {
        let Some(measure) = trial.measure(&self.measure) else {
            return;
        };
        let container = self.container(layout);
        put(
            &ME.part("code"),
            &layout.code(container).unwrap_or_default(),
        );
        put(&ME.part("step"), &step_text(layout, container, self.step));
        put(
            &ME.part("value-name"),
            &measure_with_unit(trial, measure.id),
        );
        let mut limits = limits_text(&measure);
        let records = self.records(trial, container);
        if records.len() > 1 {
            limits = several_text(records.len());
        }
        if trial.lost(container).is_some() {
            limits = [label_of_record("record_is_lost"), ". ", &limits].concat();
        }
        put(&ME.part("limits"), &limits);
        put(&ME.part("kept"), &self.kept);
        let by_class = fill_classes(&measure, &records);
        set_hidden(&ME.part("by-number"), by_class);
        let [first, last] = [self.step == 0, self.step + 1 >= layout.spots.len()];
        for (deed, off) in [("previous", first), ("next", last)] {
            let selector = ["[data-trial=record-", deed, "]"].concat();
            if let Some(button) = ME.panel().query_selector(&selector) {
                set_disabled(&button, off && deed == "previous");
            }
        }
        if let (Some(mine), Some(page)) = (
            ME.panel().query_selector("[data-trial=record-undo]"),
            dom::find("#undo"),
        ) {
            set_disabled(&mine, page.get_attribute("disabled").is_some());
        }
        let key = (container, self.date, self.measure.clone());
        let same = self.filled.as_ref() == Some(&key);
        // What is being typed is not written over.
        if same && self.touched {
            return;
        }
        self.filled = Some(key);
        self.touched = false;
        tell_wrong("");
        let only = match records.as_slice() {
            [one] => Some(*one),
            _ => None,
        };
        let read = only.and_then(|record| record.value);
        write("value", &read.map(shown).unwrap_or_default());
        let censors = [Censor::None, Censor::Above, Censor::Below];
        let options = censors.map(|of| (of.sign().to_owned(), censor_name(of).to_owned()));
        if let Some(list) = ME.field("censor") {
            let sign = only.map_or("", |record| record.censor.sign());
            choices(&list, &options, sign);
        }
        let reps = only.map_or(1, |record| record.reps);
        write("reps", &reps.to_string());
        let mut reasons = vec![(
            String::new(),
            label_of_record("record_not_missing").to_owned(),
        )];
        let all = Missing::ALL.iter();
        reasons.extend(all.map(|of| (of.spelling().to_owned(), missing_name(*of).to_owned())));
        if let Some(list) = ME.field("missing") {
            let missing = only.and_then(|record| record.missing);
            choices(&list, &reasons, missing.map_or("", Missing::spelling));
        }
        write("note", only.map_or("", |record| &record.note));
        write("sample", "");
    }

    /// The records of a container, of the day and measure that are chosen.
    fn records<'a>(&self, trial: &'a Trial, container: usize) -> Vec<&'a Record> {
        let of = trial.records.iter().filter(|record| {
            record.container == container
                && Some(record.date) == self.date
                && record.measure == self.measure
        });
        of.collect()
    }

    fn fill_list(&self, trial: &Trial, layout: &Layout) {
        let Some(measure) = trial.measure(&self.measure) else {
            return;
        };
        let walk = layout.walk();
        let mut each: Vec<Vec<&Record>> = vec![Vec::new(); layout.spots.len()];
        for record in &trial.records {
            if Some(record.date) == self.date
                && record.measure == self.measure
                && let Some(list) = each.get_mut(record.container)
            {
                list.push(record);
            }
        }
        let list = ME.part("list");
        let items = list.query_selector_all("li");
        for extra in items.iter().skip(walk.len()) {
            extra.remove();
        }
        let (mut filled, mut reasons) = (0, 0);
        for (step, container) in walk.iter().enumerate() {
            let records = &each[*container];
            let is_read = records.iter().any(|record| record.value.is_some());
            let lost = trial.lost(*container).is_some();
            let state = match (is_read, records.is_empty(), lost) {
                (true, ..) => "read",
                (false, false, _) | (false, true, true) => "reason",
                (false, true, false) => "open",
            };
            filled += usize::from(state == "read");
            reasons += usize::from(state == "reason");
            let told = match state {
                "open" => label_of_record("record_empty").to_owned(),
                _ if records.is_empty() => label_of_record("record_is_lost").to_owned(),
                _ => record_text(records, measure.unit),
            };
            let item = items.get(step).cloned().unwrap_or_else(|| {
                let item = make("li");
                let button = press("record-go", &step.to_string(), "");
                for name in ["b", "span"] {
                    button.append_child(&make(name));
                }
                item.append_child(&button);
                list.append_child(&item);
                item
            });
            let Some(button) = item.query_selector("button") else {
                continue;
            };
            if button.get_attribute("data-state").as_deref() != Some(state) {
                set(&button, "data-state", state);
            }
            let here = step == self.step;
            if here != button.get_attribute("aria-current").is_some() {
                if here {
                    set(&button, "aria-current", "true");
                } else {
                    button.remove_attribute("aria-current");
                }
            }
            if let Some(code) = button.query_selector("b") {
                put(&code, &layout.code(*container).unwrap_or_default());
            }
            if let Some(value) = button.query_selector("span") {
                put(&value, &told);
            }
        }
        put(
            &ME.part("filled"),
            &filled_text(filled, reasons, walk.len()),
        );
    }
}

/// Classes of a score to press; gives whether there are.
fn fill_classes(measure: &Measure, records: &[&Record]) -> bool {
    let place = ME.part("classes");
    let (low, high) = measure.limits;
    let few = measure.scale == Scale::Score && high - low <= CLASSES && low.fract() == 0.0;
    set_hidden(&place, !few);
    if !few {
        return false;
    }
    if place.get_attribute("data-holds").as_deref() != Some(measure.id) {
        place.set_text_content("");
        set(&place, "data-holds", measure.id);
        let mut class = low;
        while class <= high {
            let text = class_text(measure.id, class as u32).unwrap_or_default();
            let button = press("record-class", &shown(class), "");
            for (name, text) in [("b", shown(class).as_str()), ("span", text)] {
                let part = make(name);
                part.set_text_content(text);
                button.append_child(&part);
            }
            place.append_child(&button);
            class += 1.0;
        }
    }
    let now = match records {
        [one] => one.value.map(shown),
        _ => None,
    };
    for button in place.query_selector_all("button") {
        let is_it = button.get_attribute("value") == now;
        set(
            &button,
            "aria-pressed",
            if is_it { "true" } else { "false" },
        );
    }
    true
}

fn tell_wrong(text: &str) {
    put(&ME.part("value-says"), text);
    if let Some(field) = ME.field("value") {
        if text.is_empty() {
            field.remove_attribute("aria-invalid");
        } else {
            set(&field, "aria-invalid", "true");
        }
    }
}

/// What stands in the fields, as a record; none where nothing does.
fn typed_record(
    measure: &Measure,
    date: Date,
    container: usize,
    before: Option<&Record>,
) -> Result<Option<Record>, String> {
    let (low, high) = measure.limits;
    let typed = typed_value(&text_of("value"));
    let missing = Missing::of_spelling(&text_of("missing"));
    let read = match typed {
        Typed::Number(value) => Some(value),
        Typed::Empty => None,
        other => return Err(typed_text(other, low, high)),
    };
    let reps = match typed_value(&text_of("reps")) {
        Typed::Empty => 1,
        Typed::Number(reps) if reps >= 1.0 && reps.fract() == 0.0 => reps as u32,
        other => return Err(typed_text(other, 1.0, 1000.0)),
    };
    let note = text_of("note");
    let record = match (read, missing) {
        // A reason alone; with a value it is told that both cannot be.
        (None, Some(missing)) => Record::without(container, date, measure.id, missing),
        (None, None) if note.is_empty() => return Ok(None),
        // A note without a value is no reading, and not lost either.
        (None, None) => Record::without(container, date, measure.id, Missing::NotMeasured),
        (Some(value), missing) => Record {
            missing,
            ..Record::of(container, date, measure.id, value)
        },
    };
    let same = |of: &&Record| of.value.map(shown) == record.value.map(shown);
    let exact = before.filter(same).and_then(|of| of.value);
    let is_read = record.value.is_some();
    Ok(Some(Record {
        // What was filled in and not touched stays as it was, to the last digit.
        value: exact.or(record.value),
        censor: match Censor::of_sign(&text_of("censor")) {
            Some(censor) if is_read => censor,
            _ => Censor::None,
        },
        reps: if is_read { reps } else { 1 },
        note,
        instrument: before.map(|of| of.instrument.clone()).unwrap_or_default(),
        error: before.and_then(|of| of.error),
        scorer: before.map(|of| of.scorer.clone()).unwrap_or_default(),
        kept: before.map(|of| of.kept.clone()).unwrap_or_default(),
        ..record
    }))
}

/// Puts what was typed into the trial. False where it cannot be: then it stays in its box.
fn keep() -> bool {
    if !desk(|desk| desk.touched).unwrap_or(false) {
        return true;
    }
    let made = with(|state| {
        let (Some(trial), Some(layout)) = (&state.trial, &state.layout) else {
            return Err(String::new());
        };
        desk(|desk| {
            let container = desk.container(layout);
            let measure = trial.measure(&desk.measure).ok_or_else(String::new)?;
            let date = desk.date.ok_or_else(|| NO_DAY.to_owned())?;
            let records = desk.records(trial, container);
            let before = match records.as_slice() {
                [one] => Some(*one),
                _ => None,
            };
            let record = typed_record(&measure, date, container, before)?;
            if let Some(record) = &record {
                check(trial, layout.spots.len(), record)
                    .map_err(|fault| sentence(&record_fault_text(&fault)))?;
            }
            let told = record
                .as_ref()
                .map_or(String::new(), |record| record_text(&[record], measure.unit));
            let several = records.len() > 1;
            let kept = kept_text(layout, container, &told);
            let containers = layout.spots.len();
            Ok((
                record,
                container,
                date,
                desk.measure.clone(),
                containers,
                kept,
                several,
            ))
        })
        .unwrap_or_else(|| Err(String::new()))
    });
    let Some(made) = made else {
        return false;
    };
    let (record, container, date, measure, containers, kept, several) = match made {
        Ok(made) => made,
        Err(wrong) => {
            tell_wrong(&wrong);
            return false;
        }
    };
    tell_wrong("");
    // An empty box beside sub-samples says nothing of them.
    if record.is_none() && several {
        desk(|desk| desk.touched = false);
        return true;
    }
    let done = change_with(|trial, _| {
        match record {
            Some(record) => trial
                .enter(containers, record)
                .map_err(|fault| sentence(&record_fault_text(&fault)))?,
            None => {
                trial.clear(container, date, &measure);
            }
        }
        Ok(())
    });
    if done {
        desk(|desk| {
            desk.touched = false;
            desk.kept = kept;
        });
    }
    done
}

/// A fault begins a sentence here.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).chain(['.']).collect(),
        None => String::new(),
    }
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    match name.as_str() {
        "measure" | "date" if lets_go => {
            // What was typed belongs to the measure and the day before.
            if !keep() {
                again();
                return;
            }
            desk(|desk| {
                if name == "measure" {
                    desk.measure = value(&field);
                } else {
                    desk.date = Date::of_iso(&value(&field));
                    if desk.date.is_none() {
                        tell_wrong(NO_DAY);
                    }
                }
                desk.kept.clear();
            });
            again();
        }
        _ if FIELDS.contains(&name.as_str()) => {
            desk(|desk| desk.touched = true);
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
            if keep() {
                desk(|desk| desk.date = Date::of_iso(value));
                again();
            }
        }
        "undo" => {
            desk(|desk| {
                desk.touched = false;
                desk.filled = None;
                desk.kept.clear();
            });
            by_id("undo").click();
        }
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
                    desk(|desk| (desk.container(layout), desk.date))
                });
                if let Some(Some((container, date))) = container {
                    lost::lose(container, date);
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

/// Takes all records of the container out.
fn clear() {
    let Some(Some((container, date, measure))) = here() else {
        return;
    };
    desk(|desk| {
        desk.touched = false;
        desk.filled = None;
        desk.kept.clear();
    });
    change_with(|trial, _| {
        trial.clear(container, date, &measure);
        Ok(())
    });
}

/// The container, day and measure at hand.
fn here() -> Option<Option<(usize, Date, String)>> {
    with(|state| {
        let layout = state.layout.as_ref()?;
        desk(|desk| Some((desk.container(layout), desk.date?, desk.measure.clone())))?
    })
}

/// Adds another reading of the container beside those that there are.
fn sample() {
    if !keep() {
        return;
    }
    let Some(Some((container, date, measure))) = here() else {
        return;
    };
    let typed = typed_value(&text_of("sample"));
    let limits = with(|state| {
        let trial = state.trial.as_ref()?;
        trial.measure(&measure).map(|of| of.limits)
    });
    let (low, high) = limits.flatten().unwrap_or_default();
    let Typed::Number(read) = typed else {
        tell_wrong(&typed_text(typed, low, high));
        return;
    };
    let containers = with(|state| state.layout.as_ref().map_or(0, |of| of.spots.len()));
    let record = Record::of(container, date, measure, read);
    let checked = with(|state| match &state.trial {
        Some(trial) => check(trial, containers.unwrap_or(0), &record)
            .map_err(|fault| sentence(&record_fault_text(&fault))),
        None => Err(String::new()),
    });
    if let Some(Err(wrong)) = checked {
        tell_wrong(&wrong);
        return;
    }
    tell_wrong("");
    desk(|desk| desk.filled = None);
    change_with(|trial, _| {
        // The very same value twice is two readings, since a hand has typed it twice.
        let mut record = record;
        if trial.records.contains(&record)
            && let Some(at) = trial.records.iter().position(|known| *known == record)
        {
            record = trial.records.remove(at);
            record.reps = record.reps.saturating_add(1);
        }
        trial
            .add(containers.unwrap_or(0), record)
            .map(|_| ())
            .map_err(|fault| sentence(&record_fault_text(&fault)))
    });
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

/// What the measure that decides is called; for the name of a file.
fn title(trial: &Trial) -> String {
    let of = trial.title.clone();
    of.unwrap_or_else(|| [&trial.id, " ", &measure_name(trial, "records")].concat())
}
