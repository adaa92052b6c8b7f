//! Read: what a measure shows and what it cannot. Figures come with the frame; shuffles run in slices
//! of frames once their pane is opened, so that the page never stands still.

mod draw;
mod model;

use super::record::choices;
use super::{Part, State, again};
use crate::dom::{self, Element, Event, make, set, set_hidden, window};
use crate::shed::form::value;
use crate::shed::section::{put, put_list};
use crate::trial::analysis::{Analysis, permutation};
use crate::trial::date::Date;
use crate::trial::measures::{Measure, Taken};
use crate::trial::permute::{Permutation, Question};
use crate::trial::plan::Trial;
use crate::trial::readings::When;
use crate::trial::seen::{Differences, Seen, measures_read};
use crate::words::trial::entry::measure_option;
use crate::words::trial::labels::label_of_record;
use crate::words::trial::plan::treatment_name;
use crate::words::trial::seen::{
    NO_CONTROL, NO_SHUFFLES, band_text, died_text, difference_unit, dots_key, readings_text,
    row_difference_text, seen_verdict_text, shuffling_text, unasked_text, variance_text,
};
use crate::words::{
    RANGE_COVERS, blocking_text, chance_text, note_text, permutation_text, refused_text,
};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const ME: Part = Part::Read;
/// Shuffles between two looks at the clock.
const SLICE: u64 = 250;
/// Time that shuffles take of a frame, ms: the rest is the page's.
const FRAME_MS: f64 = 8.0;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = performance)]
    fn now() -> f64;
}

/// What is being read.
#[derive(Default)]
struct Book {
    listens: bool,
    measure: String,
    /// A day, or as the measure wants it.
    when: Option<Date>,
    /// What the shuffles belong to.
    key: String,
    shuffles: Option<Shuffles>,
    asked: bool,
}

/// Both questions, one after the other.
struct Shuffles {
    overall: Option<Permutation>,
    against: Option<Permutation>,
}

thread_local! {
    static BOOK: RefCell<Book> = RefCell::new(Book::default());
    static SHUFFLE: Closure<dyn FnMut()> = Closure::new(shuffle);
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
        warns.push(NO_CONTROL.to_owned());
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
            warns.push(refused_text(refused, place));
            put_list(&ME.part("warns"), &warns);
            for part in ["verdicts-all", "bars-all", "details", "beside-all"] {
                set_hidden(&ME.part(part), true);
            }
            for part in ["dots", "dots-key", "blocks"] {
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
    page.details();
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
        let mut verdicts = Vec::new();
        let mut judged = false;
        if compares {
            for row in &self.analysis.comparisons {
                judged |= row.verdict.is_ok();
                let text = seen_verdict_text(row, &self.seen, unit);
                let name = self.names.get(row.treatment).cloned().unwrap_or_default();
                verdicts.push((name, text));
            }
        }
        write_pairs(&ME.part("verdicts"), &verdicts);
        put(&ME.part("covers"), if judged { RANGE_COVERS } else { "" });
        draw::dots(self);
        put(&ME.part("dots-key"), dots_key(&self.analysis));
        let bars = compares && !self.differences.rows.is_empty();
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

    fn details(&self) {
        let pane = ME.part("details");
        set_hidden(&pane, false);
        let compares = self.seen.has_control;
        let notes: Vec<String> = self.analysis.notes.iter().map(note_text).collect();
        put_list(&ME.part("notes"), &notes);
        put(
            &ME.part("variance"),
            &variance_text(&self.analysis).unwrap_or_default(),
        );
        let table = ME.part("chances");
        table.set_text_content("");
        let unit = difference_unit(&self.seen, &self.measure);
        for row in &self.analysis.comparisons {
            if !compares {
                break;
            }
            let line = make("tr");
            let head = make("th");
            set(&head, "scope", "row");
            head.set_text_content(self.names.get(row.treatment).map_or("", String::as_str));
            line.append_child(&head);
            let of = self.differences.rows.iter();
            let size = of.clone().find(|(of, ..)| *of == row.treatment);
            let size = size.map_or(String::new(), |(_, estimate, range)| {
                row_difference_text(*estimate, *range, &self.differences, unit)
            });
            let together = row.p_together.map(chance_text).unwrap_or_default();
            for (text, of) in [(size, ""), (together, ""), (String::new(), "shuffled")] {
                let cell = make("td");
                cell.set_text_content(&text);
                if !of.is_empty() {
                    set(&cell, "data-of", &row.treatment.to_string());
                }
                line.append_child(&cell);
            }
            table.append_child(&line);
        }
        if pane.get_attribute("open").is_none() {
            put(&ME.part("shuffled"), "");
            return;
        }
        // The same readings need no other shuffles.
        let mut key = [self.measure.id, " "].concat();
        for reading in &self.seen.readings {
            key += &crate::recipe::number_text(reading.value);
            key += if reading.limit == crate::trial::analysis::Limit::No {
                " "
            } else {
                "! "
            };
        }
        key += &format!("{} {:?}", self.seen.asked.control, self.seen.asked.scale);
        let of = |question| {
            let seen = &self.seen;
            permutation(&seen.asked, &seen.readings, question, self.trial.seed)
        };
        book(|book| {
            if book.key != key || book.shuffles.is_none() {
                book.key = key;
                book.shuffles = Some(Shuffles {
                    overall: of(Question::Overall),
                    against: of(Question::AgainstControl).filter(|_| compares),
                });
            }
            book.tell();
        });
        ask();
    }
}

/// Asks for a frame of shuffles.
fn ask() {
    if book(|book| std::mem::replace(&mut book.asked, true)).unwrap_or(true) {
        return;
    }
    SHUFFLE.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

fn shuffle() {
    let more = book(|book| {
        book.asked = false;
        let until = now() + FRAME_MS;
        let mut more = false;
        if let Some(shuffles) = &mut book.shuffles {
            let both = [&mut shuffles.overall, &mut shuffles.against];
            for one in both.into_iter().flatten() {
                while !one.is_done() && now() < until {
                    one.step(SLICE);
                }
                more |= !one.is_done();
            }
        }
        book.tell();
        more
    });
    let open = ME.part("details").get_attribute("open").is_some();
    if more == Some(true) && open && !ME.panel().has_attribute("hidden") {
        ask();
    }
}

impl Book {
    /// Tells how far the shuffles have come, or what they came to.
    fn tell(&self) {
        let Some(shuffles) = &self.shuffles else {
            return;
        };
        let place = ME.part("shuffled");
        let both = [&shuffles.overall, &shuffles.against];
        let sum = |of: fn(&Permutation) -> u64| both.into_iter().flatten().map(of).sum::<u64>();
        let (seen, all) = (sum(Permutation::seen), sum(Permutation::len));
        let text = match &shuffles.overall {
            None => NO_SHUFFLES.to_owned(),
            Some(_) if seen < all => shuffling_text(seen, all),
            Some(overall) => match overall.overall() {
                Some(p) => permutation_text(overall, p),
                None => String::new(),
            },
        };
        put(&place, &text);
        for cell in ME.panel().query_selector_all("[data-of]") {
            let of = cell.get_attribute("data-of").unwrap_or_default();
            let p = shuffles.against.as_ref().and_then(|against| {
                let treatment = of.parse().ok()?;
                against.against_control(treatment)
            });
            put(&cell, &p.map(chance_text).unwrap_or_default());
        }
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

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let chosen = book(|book| (book.measure.clone(), book.when));
    if let Some((id, when)) = chosen {
        model::pressed(deed, value, &id, when.map_or(When::Usual, When::On));
    }
}
