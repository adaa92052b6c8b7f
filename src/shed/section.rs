//! Sections that open in place and follow the recipe for as long as one of them is open.
//!
//! The typical numbers come within the frame, from two draws; the ranges once the slider is let go,
//! or stands still. All open sections share one outcome.

use super::form;
use super::{page, speech, voice};
use crate::dom::{
    self, Document, Element, Event, by_id, document, find, make, set, set_hidden, window,
};
use crate::draws::Strata;
use crate::outcome::Outcome;
use crate::recipe::{Place, Recipe, from_letters, to_letters};
use crate::words::{Speech, Told};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Quiet time before the ranges are drawn, ms.
const RANGES_AFTER_MS: i32 = 150;
/// Draws of a typical evaluation: the fewest that go through the kernel.
const FEW: u32 = 2;
/// Events after which the recipe may be another one.
const EVENTS: [&str; 4] = ["input", "change", "click", "keyup"];

/// What an open section shows.
pub(super) struct Now<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) outcome: &'a Outcome,
    pub(super) speech: Speech,
    /// Whether all draws were made: else there is only what is typical.
    pub(super) with_ranges: bool,
}

/// A section of the page: its template has the id `ID`, its place `ID-body`, its button `ID-open`,
/// and what is wrong with a box of it is told in `ID-says`.
pub(super) struct Section {
    pub(super) id: &'static str,
    /// Its button: to open it, to fold it.
    pub(super) opens: [crate::tongue::Saying; 2],
    /// Whether its drawings have another size than when it was last asked.
    pub(super) resized: fn() -> bool,
    /// Shows the recipe in its boxes.
    pub(super) show: fn(&Recipe, Speech),
    /// Writes and draws all of it.
    pub(super) write: fn(&Now<'_>),
    /// Something in it was touched, or let go.
    pub(super) touched: fn(&Event, bool),
    /// What is told once nothing moves, where something of it was touched.
    pub(super) told: fn(&Outcome) -> String,
}

/// The recipe that all of them show.
struct Shown {
    sections: Vec<&'static Section>,
    letters: String,
    us: bool,
    /// Whether they have to be drawn in another size.
    resized: bool,
    recipe: Option<Recipe>,
    /// Whether the ranges are those of the recipe.
    ranges: bool,
    strata: Strata,
    few: Strata,
}

thread_local! {
    static SHOWN: RefCell<Shown> = RefCell::new(Shown {
        sections: Vec::new(),
        letters: String::new(),
        us: false,
        resized: false,
        recipe: None,
        ranges: false,
        strata: Strata::default(),
        few: Strata::of(FEW),
    });
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static TIMER: RefCell<Option<i32>> = const { RefCell::new(None) };
    /// Whether a control was let go since the last frame.
    static LET_GO: RefCell<bool> = const { RefCell::new(false) };
    static FRAME: Closure<dyn FnMut()> = Closure::new(frame);
    static RANGES: Closure<dyn FnMut()> = Closure::new(ranges);
}

fn with_shown(act: impl FnOnce(&mut Shown)) {
    SHOWN.with(|cell| {
        if let Ok(mut shown) = cell.try_borrow_mut() {
            act(&mut shown);
        }
    });
}

/// The units that are shown now.
pub(super) fn units_shown() -> Speech {
    speech()
}

/// Shows the recipe again with the next frame, though it is the same.
pub(super) fn again() {
    with_shown(|shown| shown.letters.clear());
}

impl Section {
    fn body(&self) -> Element {
        by_id(&[self.id, "-body"].concat())
    }

    fn is_open(&self) -> bool {
        !self.body().has_attribute("hidden")
    }

    /// Opens the section in place, or folds it.
    pub(super) fn toggle(&'static self, parts: Option<Document>) {
        let body = self.body();
        let opens = body.has_attribute("hidden");
        if opens && body.query_selector("*").is_none() {
            let template = parts.and_then(|parts| parts.get_element_by_id(self.id));
            let Some(template) = template else {
                return;
            };
            body.append_child(&document().import_node(&template.content(), true));
            let mut first = false;
            with_shown(|shown| {
                first = shown.sections.is_empty();
                shown.sections.push(self);
            });
            if first {
                listen();
            }
        }
        set_hidden(&body, !opens);
        let button = by_id(&[self.id, "-open"].concat());
        let expanded = if opens { "true" } else { "false" };
        set(&button, "aria-expanded", expanded);
        put(&button, self.opens[usize::from(opens)].text());
        if opens {
            let _ = (self.resized)();
            again();
            ranges();
        }
    }

    /// The part of a name.
    pub(super) fn part(&self, name: &str) -> Element {
        find(&["#", self.id, "-body [data-part=", name, "]"].concat())
            .unwrap_or_else(|| make("span"))
    }

    /// All parts of a name.
    pub(super) fn parts(&self, name: &str) -> Vec<Element> {
        let selector = ["[data-part=", name, "]"].concat();
        self.body().query_selector_all(&selector)
    }

    /// The box or list of a name.
    pub(super) fn field(&self, name: &str) -> Option<Element> {
        self.body().query_selector(&["[name=", name, "]"].concat())
    }

    pub(super) fn put_text(&self, name: &str, text: &str) {
        put(&self.part(name), text);
    }

    /// Writes a value, and its range where the draws were made.
    pub(super) fn put_told(&self, [value, range]: [&str; 2], told: &Told, with_ranges: bool) {
        self.put_text(value, &told.value);
        if with_ranges {
            self.put_text(range, &told.range);
        }
    }

    /// Tells what is wrong with a box, or that nothing is.
    pub(super) fn says(&self, text: &str) {
        put(&by_id(&[self.id, "-says"].concat()), text);
    }

    /// Goes on with a changed recipe; what is wrong with it is told.
    pub(super) fn change(&self, change: impl FnOnce(&mut Recipe)) {
        let Ok(mut recipe) = from_letters(&page::recipe()) else {
            return;
        };
        change(&mut recipe);
        let wrong = page::take(&to_letters(&recipe), false);
        self.says(&wrong);
    }

    /// Goes on with another place.
    pub(super) fn change_place(&self, change: impl FnOnce(&mut Place)) {
        self.change(|recipe| {
            let mut place = recipe.place.take().unwrap_or_default();
            change(&mut place);
            recipe.place = (place != Place::default()).then_some(place);
        });
    }
}

fn listen() {
    voice::listen();
    for kind in EVENTS {
        let lets_go = kind == "change";
        dom::on(kind, move |event| {
            for section in open() {
                let within = ["#", section.id, "-body"].concat();
                if dom::closest(&event, &within).is_some() {
                    (section.touched)(&event, lets_go);
                }
            }
            if lets_go {
                LET_GO.with(|let_go| let_go.replace(true));
            }
            follow();
        });
    }
    for kind in ["hashchange", "resize"] {
        let resized = kind == "resize";
        dom::listen(&window(), kind, move |_| {
            if resized {
                let mut any = false;
                for section in open() {
                    any |= (section.resized)();
                }
                with_shown(|shown| shown.resized |= any);
            }
            follow();
        });
    }
}

/// Those that are open.
fn open() -> Vec<&'static Section> {
    let mut open = Vec::new();
    with_shown(|shown| {
        open.extend(shown.sections.iter().filter(|section| section.is_open()));
    });
    open
}

/// Looks in the next frame whether the recipe has become another one.
pub(super) fn follow() {
    if open().is_empty() || ASKED.with(|asked| asked.replace(true)) {
        return;
    }
    FRAME.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

/// Draws the ranges after a while, unless something moves before.
fn later(ms: i32) {
    TIMER.with(|timer| {
        if let Some(old) = timer.take() {
            window().clear_timeout(old);
        }
        RANGES.with(|closure| {
            *timer.borrow_mut() = Some(window().set_timeout(closure.as_ref(), ms));
        });
    });
}

fn frame() {
    ASKED.with(|asked| asked.replace(false));
    let open = open();
    if open.is_empty() {
        return;
    }
    with_shown(|shown| {
        // A year that is shown is shown here too.
        let letters = super::seasons::shown().unwrap_or_else(page::recipe);
        let us = page::speaks_us();
        let let_go = LET_GO.with(|let_go| let_go.replace(false));
        let after_ms = if let_go { 0 } else { RANGES_AFTER_MS };
        let same = letters == shown.letters && us == shown.us;
        if same && !shown.resized {
            if let_go && !shown.ranges {
                later(after_ms);
            }
            return;
        }
        let resized = std::mem::take(&mut shown.resized);
        if resized && same && shown.ranges {
            shown.write_all(&open);
            return;
        }
        shown.letters = letters;
        shown.us = us;
        shown.ranges = false;
        shown.recipe = from_letters(&shown.letters).ok();
        let outcome = shown
            .recipe
            .as_ref()
            .and_then(|recipe| Outcome::drawn_from(recipe, &mut shown.few).ok());
        for section in &open {
            set_hidden(&section.part("stale"), outcome.is_some());
            if let Some(recipe) = &shown.recipe {
                (section.show)(recipe, speech());
            }
        }
        if let Some(outcome) = outcome {
            shown.write(&open, &outcome, false);
            later(after_ms);
        }
    });
}

fn ranges() {
    frame();
    let open = open();
    with_shown(|shown| {
        if !open.is_empty() && !shown.ranges {
            shown.write_all(&open);
        }
    });
}

impl Shown {
    /// Everything with its ranges.
    fn write_all(&mut self, open: &[&'static Section]) {
        let Some(recipe) = &self.recipe else {
            return;
        };
        if let Ok(outcome) = Outcome::drawn_from(recipe, &mut self.strata) {
            self.ranges = true;
            self.write(open, &outcome, true);
            for section in open {
                voice::tell(&section.part("told"), &(section.told)(&outcome));
            }
        }
    }

    fn write(&self, open: &[&'static Section], outcome: &Outcome, with_ranges: bool) {
        let Some(recipe) = &self.recipe else {
            return;
        };
        let now = Now {
            recipe,
            outcome,
            speech: speech(),
            with_ranges,
        };
        for section in open {
            // Ranges that belong to another recipe are not shown.
            let body = section.body();
            if with_ranges {
                body.remove_attribute("data-waits");
            } else if !body.has_attribute("data-waits") {
                set(&body, "data-waits", "");
            }
            (section.write)(&now);
        }
    }
}

/// Writes a text where it is another one; a number keeps its percent on its line.
pub(super) fn put(place: &Element, text: &str) {
    let text = &text.replace(" %", "\u{a0}%");
    if place.text_content() != *text {
        place.set_text_content(text);
    }
}

/// Items of a list, as many as there are texts.
pub(super) fn put_list(list: &Element, texts: &[String]) {
    let items = list.query_selector_all("li");
    for (item, text) in items.iter().zip(texts) {
        put(item, text);
    }
    for extra in items.iter().skip(texts.len()) {
        extra.remove();
    }
    for text in texts.iter().skip(items.len()) {
        put(&form::put(list, "li", ""), text);
    }
}
