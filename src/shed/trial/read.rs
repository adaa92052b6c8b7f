//! Read: what a measure shows and what it cannot. Figures come with the frame; shuffles run in slices
//! of frames once their pane is opened, so that the page never stands still.

mod chances;
mod draw;
mod model;

use super::fields::number;
use super::record::choices;
use super::{Part, State, again, change_with};
use crate::dom::{self, Element, Event, make, set_hidden};
use crate::shed::form::value;
use crate::shed::section::{put, put_list};
use crate::trial::analysis::{Analysis, Scale};
use crate::trial::date::Date;
use crate::trial::document::MATTERS_LIMITS;
use crate::trial::measures::{Measure, Taken};
use crate::trial::plan::Trial;
use crate::trial::readings::When;
use crate::trial::seen::{Differences, Seen, measures_read};
use crate::words::trial::entry::measure_option;
use crate::words::trial::labels::label_of_record;
use crate::words::trial::plan::treatment_name;
use crate::words::trial::section::{matters_fault_text, matters_unit};
use crate::words::trial::seen::{
    NO_CONTROL, band_text, died_text, difference_unit, dots_key, matters_said_text, readings_text,
    seen_verdicts, unasked_text, unread_text,
};
use crate::words::{RANGE_COVERS, blocking_text};
use std::cell::RefCell;

const ME: Part = Part::Read;
/// What is being read.
#[derive(Default)]
struct Book {
    listens: bool,
    measure: String,
    /// A day, or as the measure wants it.
    when: Option<Date>,
}

thread_local! {
    static BOOK: RefCell<Book> = RefCell::new(Book::default());
}

fn book<R>(act: impl FnOnce(&mut Book) -> R) -> Option<R> {
    BOOK.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// Everything of one measure.
struct Page<'a> {
    trial: &'a Trial,
    state: &'a State,
    measure: Measure<'a>,
    seen: Seen,
    analysis: Analysis,
    differences: Differences,
    names: Vec<String>,
}

/// Writes all of it.
pub(super) fn fill(state: &mut State) {
    listen();
    let mut limits = std::mem::take(&mut state.limits);
    fill_with(state, &mut limits);
    state.limits = limits;
}

fn listen() {
    if book(|book| std::mem::replace(&mut book.listens, true)).unwrap_or(true) {
        return;
    }
    // It opens after the click; and what opens it does not bubble.
    dom::listen(&ME.part("details"), "toggle", |_| again());
}

fn fill_with(state: &State, limits: &mut crate::trial::limits::Limits) {
    let (Some(trial), Some(layout)) = (&state.trial, &state.layout) else {
        return;
    };
    let read = measures_read(trial);
    set_hidden(&ME.part("none"), !read.is_empty());
    let known = |id: &str| read.iter().any(|(of, _)| of == id);
    let chosen = book(|book| {
        if !known(&book.measure) {
            book.measure = read.first().map(|(id, _)| id.clone()).unwrap_or_default();
            book.when = None;
        }
        (book.measure.clone(), book.when)
    });
    let (id, when) = chosen.unwrap_or_default();
    if let Some(list) = ME.field("measure") {
        let options: Vec<(String, String)> = read
            .iter()
            .map(|(id, count)| (id.clone(), measure_option(trial, id, *count)))
            .collect();
        choices(&list, &options, &id);
        set_hidden(&panel_part(".trial-what"), read.is_empty());
    }
    let Some(measure) = trial.measure(&id) else {
        set_hidden(&ME.part("shown"), true);
        return;
    };
    fill_days(trial, &measure, when);
    let when = when.map_or(When::Usual, When::On);
    let Ok(seen) = Seen::of(trial, layout, &id, when) else {
        set_hidden(&ME.part("shown"), true);
        return;
    };
    set_hidden(&ME.part("shown"), false);
    put(
        &ME.part("count"),
        &readings_text(seen.count(), layout.spots.len()),
    );
    let mut warns = Vec::new();
    if !seen.has_control {
        warns.push(NO_CONTROL.text().to_owned());
    }
    if !seen.died.is_empty() {
        warns.push(died_text(layout, &seen.died));
    }
    if !seen.unasked.is_empty() {
        warns.push(unasked_text(layout, &seen.unasked));
    }
    let analysis = match seen.analysed(limits) {
        Ok(analysis) => analysis,
        Err(refused) => {
            let place = |at: usize| layout.code(at).unwrap_or_default();
            warns.push(unread_text(&seen, refused, place));
            put_list(&ME.part("warns"), &warns);
            for part in [
                "verdicts-all",
                "bars-all",
                "details",
                "beside-all",
                "matters-row",
            ] {
                set_hidden(&ME.part(part), true);
            }
            for part in ["dots", "dots-key", "blocks", "matters-says"] {
                ME.part(part).set_text_content("");
            }
            return;
        }
    };
    put_list(&ME.part("warns"), &warns);
    let differences = seen.differences(&analysis);
    let names = (0..trial.treatments.len())
        .map(|of| treatment_name(trial, &state.recipe, of))
        .collect();
    let page = Page {
        trial,
        state,
        measure,
        seen,
        analysis,
        differences,
        names,
    };
    page.write();
    chances::write(&page);
}

/// Days to read by.
fn fill_days(trial: &Trial, measure: &Measure, when: Option<Date>) {
    let Some(list) = ME.field("when") else {
        return;
    };
    let usual = match measure.taken {
        Taken::Last => "read_usual",
        Taken::Sum => "read_sum",
    };
    let mut options = vec![(String::new(), label_of_record(usual).to_owned())];
    let days = trial.days_of(measure.id);
    options.extend(days.iter().map(|day| (day.iso(), day.iso())));
    choices(
        &list,
        &options,
        &when.map_or(String::new(), |day| day.iso()),
    );
}

/// A place of the panel by a selector.
fn panel_part(selector: &str) -> Element {
    let place = ME.panel().query_selector(selector);
    place.unwrap_or_else(|| make("div"))
}

impl Page<'_> {
    fn control(&self) -> &str {
        let name = self.names.get(self.seen.asked.control);
        name.map_or("", String::as_str)
    }

    fn write(&self) {
        let compares = self.seen.has_control;
        let unit = difference_unit(&self.seen, &self.measure);
        set_hidden(&ME.part("verdicts-all"), !compares);
        let told = seen_verdicts(&self.analysis, &self.seen, unit, |of| {
            chances::against(self, of)
        });
        let refused = ME.part("refused");
        set_hidden(&refused, told.all.is_none());
        put(&refused, told.all.unwrap_or_default());
        let name = |of: usize| self.names.get(of).cloned().unwrap_or_default();
        let each = told.each.into_iter();
        let verdicts: Vec<_> = each.map(|(of, text)| (name(of), text)).collect();
        write_pairs(&ME.part("verdicts"), &verdicts);
        let mut rows = self.analysis.comparisons.iter();
        let judged = compares && rows.any(|row| row.verdict.is_ok());
        put(
            &ME.part("covers"),
            if judged { RANGE_COVERS.text() } else { "" },
        );
        self.matters();
        draw::dots(self);
        put(&ME.part("dots-key"), dots_key(&self.analysis));
        // Without a range a bar would look like a finding.
        let mut rows = self.differences.rows.iter();
        let bars = compares && rows.any(|(.., range)| range.is_some());
        set_hidden(&ME.part("bars-all"), !bars);
        if bars {
            draw::bars(self);
            put(
                &ME.part("bars-key"),
                &band_text(&self.differences, unit, self.control()),
            );
        }
        let blocks = self.analysis.blocking.as_ref().map(blocking_text);
        put(&ME.part("blocks"), &blocks.unwrap_or_default());
        model::write(self);
    }

    /// What difference matters; it can be said here where nobody said it.
    fn matters(&self) {
        let id = self.measure.id;
        let (said, late) = (self.trial.matters_for(id), self.trial.is_matters_late(id));
        let asks = said.is_none() && self.trial.may_set_matters(id).is_ok();
        let is_score = self.analysis.scale == Scale::Score;
        let row = ME.part("matters-row");
        set_hidden(&row, !asks || is_score || !self.seen.has_control);
        put(&ME.part("matters-unit"), &matters_unit(&self.measure));
        let text = match said {
            Some(said) if !is_score && self.seen.has_control => {
                matters_said_text(&self.measure, said, late)
            }
            _ => String::new(),
        };
        put(&ME.part("matters-says"), &text);
    }
}

/// Names with what is said of them.
fn write_pairs(list: &Element, pairs: &[(String, String)]) {
    let old = list.query_selector_all("dt, dd");
    if old.len() == 2 * pairs.len() {
        for (place, text) in old.iter().zip(pairs.iter().flat_map(|(a, b)| [a, b])) {
            put(place, text);
        }
        return;
    }
    list.set_text_content("");
    for (name, text) in pairs {
        for (kind, text) in [("dt", name), ("dd", text)] {
            let place = make(kind);
            put(&place, text);
            list.append_child(&place);
        }
    }
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    if !lets_go {
        return;
    }
    let name = field.get_attribute("name").unwrap_or_default();
    if name == "read-matters" {
        return say_matters(&field);
    }
    book(|book| match name.as_str() {
        "measure" => {
            book.measure = value(&field);
            book.when = None;
        }
        "when" => book.when = Date::of_iso(&value(&field)),
        _ => {}
    });
    again();
}

/// The difference that matters was typed, for a measure of which nobody had said it.
fn say_matters(field: &Element) {
    let Ok(Some(value)) = number(field, MATTERS_LIMITS) else {
        return;
    };
    let id = book(|book| book.measure.clone()).unwrap_or_default();
    if change_with(|trial, _| {
        let set = trial.set_matters(&id, Some(value));
        set.map_err(|fault| matters_fault_text(&fault))
    }) {
        field.set_value("");
    }
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let chosen = book(|book| (book.measure.clone(), book.when));
    if let Some((id, when)) = chosen {
        model::pressed(deed, value, &id, when.map_or(When::Usual, When::On));
    }
}
