//! One container on the screen: what is measured and when, its boxes, and what was kept last.

use super::{Desk, ME, choices, press, today, write};
use crate::dom::{self, make, set, set_disabled, set_hidden};
use crate::shed::section::put;
use crate::trial::layout::Layout;
use crate::trial::measures::{MEASURES, Measure, Scale};
use crate::trial::plan::Trial;
use crate::trial::records::{Censor, Missing, Record};
use crate::words::date::date_text;
use crate::words::shown;
use crate::words::trial::entry::{several_text, step_text};
use crate::words::trial::labels::label_of_record;
use crate::words::trial::page_plan::odd_day_text;
use crate::words::trial::page_record::limits_text;
use crate::words::trial::plan::measure_with_unit;
use crate::words::trial::records::{censor_name, class_text, missing_name};

/// Most classes that a score is pressed by.
const CLASSES: f64 = 10.0;

pub(super) fn fill_measures(trial: &Trial, chosen: &str) {
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
pub(super) fn fill_days(trial: &Trial, desk: &Desk) {
    let mut odd = String::new();
    if let Some(date) = desk.date {
        write("date", &date.iso());
        odd = odd_day_text(date, today(), trial.start);
    }
    put(&ME.part("odd-day"), &odd);
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
        let button = press("record-day", &day.iso(), &date_text(*day));
        place.append_child(&button);
    }
}

impl Desk {
    pub(super) fn fill_entry(&mut self, trial: &Trial, layout: &Layout) {
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
        if let Some(button) = ME.panel().query_selector("[data-trial=record-previous]") {
            set_disabled(&button, self.step == 0);
        }
        if let (Some(mine), Some(page)) = (
            ME.panel().query_selector("[data-trial=record-undo]"),
            dom::find("#undo"),
        ) {
            let nothing = page.get_attribute("disabled").is_some();
            set_disabled(&mine, nothing && !self.touched);
        }
        let key = (container, self.date, self.measure.clone());
        self.filled = Some(key);
        // What is being typed is not written over, nor what is to be mended.
        if self.touched {
            return;
        }
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
        super::kit::fill(&measure, only, &self.kit);
        write("sample", "");
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

pub(super) fn tell_wrong(text: &str) {
    put(&ME.part("value-says"), text);
    if let Some(field) = ME.field("value") {
        if text.is_empty() {
            field.remove_attribute("aria-invalid");
        } else {
            set(&field, "aria-invalid", "true");
        }
    }
}
