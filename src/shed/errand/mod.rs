//! The section on what to buy: opened in place, in parts. What of it is kept stands in the recipe;
//! what is looked at in a part is kept there until the page is left.

mod boxes;
mod find;
mod list;
mod on_sale;
mod sweep;

use super::{page, speech, voice};
use crate::dom::{self, Document, Element, by_id, document, find, make, set, set_hidden, window};
use crate::errand::{Errand, errand_of, set_errand};
use crate::recipe::{Recipe, from_letters, to_letters};
use crate::shed::section::put;
use crate::words::errand::ERRAND_OPENS;
use crate::words::{Speech, error_text};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

/// Events after which the recipe may be another one.
const EVENTS: [&str; 4] = ["input", "change", "click", "keyup"];

/// The parts of the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Sale,
    Find,
    Sweep,
    List,
}

impl Part {
    const ALL: [Part; 4] = [Part::Sale, Part::Find, Part::Sweep, Part::List];

    fn name(self) -> &'static str {
        match self {
            Part::Sale => "sale",
            Part::Find => "find",
            Part::Sweep => "sweep",
            Part::List => "list",
        }
    }

    /// Where it stands.
    pub(super) fn panel(self) -> Element {
        find(&["#errand-body [data-panel=", self.name(), "]"].concat())
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

/// What the section shows.
pub(super) struct State {
    letters: String,
    us: bool,
    /// Whether it has to be filled though the recipe is the same.
    again: bool,
    pub(super) recipe: Recipe,
    /// What the recipe says of it; nothing where it says nothing that reads.
    pub(super) errand: Errand,
    pub(super) speech: Speech,
    part: Part,
}

thread_local! {
    static STATE: RefCell<Option<State>> = const { RefCell::new(None) };
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static PARTS: RefCell<Option<Document>> = const { RefCell::new(None) };
    static FRAME: Closure<dyn FnMut()> = Closure::new(frame);
}

fn with<R>(act: impl FnOnce(&mut State) -> R) -> Option<R> {
    STATE.with(|cell| cell.try_borrow_mut().ok()?.as_mut().map(act))
}

/// Tells what is wrong, or that nothing is: then what a box still holds that cannot be used.
pub(super) fn says(text: &str) {
    let still = if text.is_empty() {
        boxes::still_wrong()
    } else {
        String::new()
    };
    let text = if text.is_empty() { &still } else { text };
    put(&by_id("errand-says"), text);
}

/// Tells a screen reader what has become of a press.
pub(super) fn tell(text: &str) {
    if let Some(place) = find("#errand-body > [data-part=told]") {
        put(&place, text);
    }
}

/// The same once nothing moves any more.
pub(super) fn tell_later(text: &str) {
    if let Some(place) = find("#errand-body > [data-part=told]") {
        voice::tell(&place, text);
    }
}

/// Fills the part again with the next frame.
pub(super) fn again() {
    with(|state| state.again = true);
    follow();
}

/// Fills the part again at once, so that what was added can be focused.
pub(super) fn now() {
    with(|state| state.again = true);
    frame();
}

/// A template of `shed.html` by its id.
pub(super) fn template(id: &str) -> Option<Element> {
    let parts = PARTS.with(|cell| cell.borrow().clone())?;
    let template = parts.get_element_by_id(id)?;
    Some(document().import_node(&template.content(), true))
}

/// Goes on with a changed recipe; what is wrong with it is told. Gives whether nothing was.
pub(super) fn change(act: impl FnOnce(&mut Recipe)) -> bool {
    // The recipe may be newer than the last frame.
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return false;
    };
    act(&mut recipe);
    go_on(&recipe)
}

/// Changes the errand and goes on with its recipe; what is wrong is told, and then nothing changes.
pub(super) fn change_errand(act: impl FnOnce(&mut Errand, &mut Recipe)) -> bool {
    let Ok(mut recipe) = from_letters(&page::recipe()) else {
        return false;
    };
    let mut errand = match errand_of(&recipe) {
        Ok(errand) => errand.unwrap_or_default(),
        Err(error) => {
            says(&error_text(&error));
            return false;
        }
    };
    act(&mut errand, &mut recipe);
    let is_empty = errand == Errand::default();
    set_errand(&mut recipe, (!is_empty).then_some(&errand));
    // What could not be read again is not written.
    if let Err(error) = errand_of(&recipe) {
        says(&error_text(&error));
        again();
        return false;
    }
    go_on(&recipe)
}

fn go_on(recipe: &Recipe) -> bool {
    let wrong = page::take(&to_letters(recipe), false);
    says(&wrong);
    again();
    wrong.is_empty()
}

fn body() -> Element {
    by_id("errand-body")
}

/// Whether the section is open and a part of it is seen.
pub(super) fn is_seen(part: Part) -> bool {
    is_open() && !part.panel().has_attribute("hidden")
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
    let button = by_id("errand-open");
    set(
        &button,
        "aria-expanded",
        if opens { "true" } else { "false" },
    );
    put(&button, ERRAND_OPENS[usize::from(opens)].text());
    if opens {
        with(|state| state.again = true);
        frame();
    }
}

fn furnish(body: &Element) -> Option<()> {
    body.append_child(&template("errand")?);
    for part in Part::ALL {
        if let Some(inner) = template(&["errand-", part.name()].concat()) {
            part.panel().append_child(&inner);
        }
    }
    find::furnish();
    sweep::furnish();
    list::furnish();
    let recipe = from_letters(&page::recipe()).ok()?;
    let [first, ..] = Part::ALL;
    STATE.with(|cell| {
        *cell.borrow_mut() = Some(State {
            letters: String::new(),
            us: false,
            again: true,
            recipe,
            errand: Errand::default(),
            speech: speech(),
            part: first,
        });
    });
    voice::listen();
    for kind in EVENTS {
        let lets_go = kind == "change";
        dom::on(kind, move |event| {
            if dom::closest(&event, "#errand-body").is_some() {
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
        let Some(button) = dom::closest(event, "[data-errand]") else {
            return;
        };
        let what = button.get_attribute("data-errand").unwrap_or_default();
        let value = button.get_attribute("value").unwrap_or_default();
        pressed(&what, &value);
        return;
    }
    if kind == "keyup" {
        return;
    }
    if let Some(tab) = dom::closest(event, "input[name=errand-tab]") {
        let name = tab.value();
        if let Some(part) = Part::ALL.into_iter().find(|part| part.name() == name) {
            with(|state| state.part = part);
            again();
        }
        return;
    }
    let within = |part: Part| {
        let selector = ["[data-panel=", part.name(), "]"].concat();
        dom::closest(event, &selector).is_some()
    };
    match Part::ALL.into_iter().find(|part| within(*part)) {
        Some(Part::Sale) => on_sale::touched(event, lets_go),
        Some(Part::Find) => find::touched(event, lets_go),
        Some(Part::Sweep) => sweep::touched(event, lets_go),
        Some(Part::List) => list::touched(event, lets_go),
        None => {}
    }
}

/// A button with `data-errand` was pressed. Each part takes its own words, with its name in front.
fn pressed(what: &str, value: &str) {
    let (part, deed) = what.split_once('-').unwrap_or((what, ""));
    match part {
        "sale" => on_sale::pressed(deed, value),
        "find" => find::pressed(deed, value),
        "sweep" => sweep::pressed(deed),
        "list" => list::pressed(deed),
        _ => {}
    }
}

/// Looks in the next frame whether the recipe has become another one.
pub(super) fn follow() {
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
            if let Ok(recipe) = from_letters(&state.letters) {
                state.recipe = recipe;
            }
            state.read();
        }
        state.fill();
    });
}

impl State {
    /// Reads what the recipe says of the errand.
    fn read(&mut self) {
        match errand_of(&self.recipe) {
            Ok(errand) => self.errand = errand.unwrap_or_default(),
            Err(error) => {
                self.errand = Errand::default();
                says(&error_text(&error));
            }
        }
    }

    fn fill(&self) {
        // What was told of a box of another part is told there.
        let comes = self.part.panel().has_attribute("hidden");
        for part in Part::ALL {
            set_hidden(&part.panel(), part != self.part);
            let tab = ["#errand-body [name=errand-tab][value=", part.name(), "]"].concat();
            if let Some(tab) = find(&tab) {
                tab.set_checked(part == self.part);
            }
        }
        if comes {
            says("");
        }
        match self.part {
            Part::Sale => on_sale::fill(self),
            Part::Find => find::fill(self),
            Part::Sweep => sweep::fill(self),
            Part::List => list::fill(self),
        }
    }
}
