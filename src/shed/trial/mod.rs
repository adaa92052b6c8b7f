//! The section on the side-by-side trial: opened in place, in four parts. The trial stands in the
//! recipe, so that files, links, undo and the memory of the page carry it; what is read of it here
//! follows the recipe.

mod change;
mod fields;
mod layout;
mod plan;
mod power;
mod predict;
mod print;
mod read;
mod record;
mod state;

use super::{page, speech};
use crate::dom::{self, Document, Element, by_id, document, find, make, set, set_hidden, window};
use crate::recipe::from_letters;
use crate::shed::section::put;
use crate::trial::document::set_trial;
use crate::trial::limits::Limits;
use crate::trial::plan::{Predicted, Trial};
use crate::words::trial::TRIAL_OPENS;
use change::{adjust, change, change_with, go_on};
use state::{Own, State};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Events after which the recipe may be another one.
const EVENTS: [&str; 4] = ["input", "change", "click", "keyup"];
/// Digits of a seed that is not chosen: enough for no two trials of a gardener to be alike.
const SEEDS: f64 = 100_000_000.0;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = Math)]
    fn random() -> f64;
}

/// The parts of the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Plan,
    Layout,
    Record,
    Read,
}

impl Part {
    const ALL: [Part; 4] = [Part::Plan, Part::Layout, Part::Record, Part::Read];

    fn name(self) -> &'static str {
        match self {
            Part::Plan => "plan",
            Part::Layout => "layout",
            Part::Record => "record",
            Part::Read => "read",
        }
    }

    /// Where it stands.
    pub(super) fn panel(self) -> Element {
        find(&["#trial-body [data-panel=", self.name(), "]"].concat())
            .unwrap_or_else(|| make("div"))
    }

    /// A place in it, `data-part`; a detached one if there is none.
    pub(super) fn part(self, name: &str) -> Element {
        let selector = ["[data-part=", name, "]"].concat();
        let place = self.panel().query_selector(&selector);
        place.unwrap_or_else(|| make("span"))
    }

    /// A control in it by its name.
    pub(super) fn field(self, name: &str) -> Option<Element> {
        let selector = ["[name='", name, "']"].concat();
        self.panel().query_selector(&selector)
    }
}

thread_local! {
    static STATE: RefCell<Option<State>> = const { RefCell::new(None) };
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static PARTS: RefCell<Option<Document>> = const { RefCell::new(None) };
    static FRAME: Closure<dyn FnMut()> = Closure::new(frame);
}

/// Reads the state, or changes what of it is not in the recipe.
pub(super) fn with<R>(act: impl FnOnce(&mut State) -> R) -> Option<R> {
    STATE.with(|cell| cell.try_borrow_mut().ok()?.as_mut().map(act))
}

/// Tells what is wrong, or that nothing is: then what a box still holds that cannot be used.
pub(super) fn says(text: &str) {
    let still = if text.is_empty() {
        fields::still_wrong()
    } else {
        String::new()
    };
    let text = if text.is_empty() { &still } else { text };
    put(&by_id("trial-says"), text);
}

/// Tells a screen reader what has become of a press.
pub(super) fn tell(text: &str) {
    if let Some(place) = find("#trial-body > [data-part=told]") {
        put(&place, text);
    }
}

/// Fills the part again with the next frame.
pub(super) fn again() {
    with(|state| state.again = true);
    follow();
}

/// A template of `shed.html` by its id.
pub(super) fn template(id: &str) -> Option<Element> {
    let parts = PARTS.with(|cell| cell.borrow().clone())?;
    let template = parts.get_element_by_id(id)?;
    Some(document().import_node(&template.content(), true))
}

fn body() -> Element {
    by_id("trial-body")
}

fn is_open() -> bool {
    !body().has_attribute("hidden")
}

/// Opens the section in place, or folds it.
pub(super) fn toggle(parts: Option<Document>) {
    let body = body();
    let opens = body.has_attribute("hidden");
    if opens && STATE.with(|cell| cell.borrow().is_none()) {
        let Some(parts) = parts else {
            return;
        };
        PARTS.with(|cell| *cell.borrow_mut() = Some(parts));
        if furnish(&body).is_none() {
            return;
        }
    }
    set_hidden(&body, !opens);
    let button = by_id("trial-open");
    set(
        &button,
        "aria-expanded",
        if opens { "true" } else { "false" },
    );
    put(&button, TRIAL_OPENS[usize::from(opens)].text());
    if opens {
        with(|state| state.again = true);
        frame();
    }
}

fn furnish(body: &Element) -> Option<()> {
    body.append_child(&template("trial")?);
    for part in Part::ALL {
        if let Some(inner) = template(&["trial-", part.name()].concat()) {
            part.panel().append_child(&inner);
        }
    }
    print::furnish();
    let recipe = from_letters(&page::recipe()).ok()?;
    STATE.with(|cell| {
        *cell.borrow_mut() = Some(State {
            letters: String::new(),
            us: false,
            again: true,
            recipe,
            speech: speech(),
            trial: None,
            layout: None,
            limits: Limits::default(),
            part: Part::Plan,
            own: Own {
                difference_pct: power::USUAL_PCT,
                foretold: Predicted::AirSpace,
                known: Vec::new(),
                drawn: String::new(),
                needed: None,
                mapped: String::new(),
            },
        });
    });
    for kind in EVENTS {
        let lets_go = kind == "change";
        dom::on(kind, move |event| {
            if dom::closest(&event, "#trial-body").is_some() {
                happened(&event, kind, lets_go);
            }
            follow();
        });
    }
    for kind in ["hashchange", "resize"] {
        let resized = kind == "resize";
        dom::listen(&window(), kind, move |_| {
            if resized {
                again();
            }
            follow();
        });
    }
    Some(())
}

/// Something in the section was touched, pressed or let go.
fn happened(event: &dom::Event, kind: &str, lets_go: bool) {
    if kind == "click" {
        let Some(button) = dom::closest(event, "[data-trial]") else {
            return;
        };
        let what = button.get_attribute("data-trial").unwrap_or_default();
        let value = button.get_attribute("value").unwrap_or_default();
        pressed(&what, &value);
        return;
    }
    if kind == "keyup" {
        return;
    }
    if let Some(tab) = dom::closest(event, "input[name=trial-tab]") {
        let name = tab.value();
        if let Some(part) = Part::ALL.into_iter().find(|part| part.name() == name) {
            show(part);
        }
        return;
    }
    let within = |part: Part| {
        let selector = ["[data-panel=", part.name(), "]"].concat();
        dom::closest(event, &selector).is_some()
    };
    match Part::ALL.into_iter().find(|part| within(*part)) {
        Some(Part::Plan) => plan::touched(event, lets_go),
        Some(Part::Layout) => layout::touched(event, lets_go),
        Some(Part::Record) => record::touched(event, lets_go),
        Some(Part::Read) => read::touched(event, lets_go),
        None => {}
    }
}

/// A button with `data-trial` was pressed. Each part takes its own words, with its name in front.
fn pressed(what: &str, value: &str) {
    let (part, deed) = what.split_once('-').unwrap_or((what, ""));
    match part {
        "begin" => begin(),
        "plan" => plan::pressed(deed, value),
        "layout" => layout::pressed(deed, value),
        "record" => record::pressed(deed, value),
        "read" => read::pressed(deed, value),
        "print" => print::pressed(deed, value),
        _ => {}
    }
}

/// Shows a part.
pub(super) fn show(part: Part) {
    with(|state| state.part = part);
    again();
}

/// A seed that nobody chose.
pub(super) fn any_seed() -> u64 {
    (random() * SEEDS) as u64
}

fn begin() {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return;
    };
    // What is there and does not read is never written over.
    if recipe.trial.is_none() {
        let trial = Trial::of_recipe(&recipe, any_seed());
        set_trial(&mut recipe, Some(&trial));
        go_on(&recipe);
        frame();
        if let Some(tab) = find("#trial-body input[name=trial-tab][value=plan]") {
            dom::focus(&tab);
        }
    }
}

/// Takes the trial out of the recipe; undo brings it back.
pub(super) fn take_out() {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return;
    };
    set_trial(&mut recipe, None);
    go_on(&recipe);
}

/// Looks in the next frame whether the recipe has become another one.
fn follow() {
    if !is_open() || ASKED.with(|asked| asked.replace(true)) {
        return;
    }
    FRAME.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

fn frame() {
    ASKED.with(|asked| asked.replace(false));
    if !is_open() {
        return;
    }
    with(|state| {
        let (letters, us) = (page::recipe(), page::speaks_us());
        let is_another = letters != state.letters || us != state.us;
        if !is_another && !state.again {
            return;
        }
        state.again = false;
        if is_another {
            state.letters = letters;
            state.us = us;
            state.speech = speech();
            state.read();
        }
        state.fill();
    });
}
