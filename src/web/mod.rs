//! The page: what is typed goes into the recipe, what is computed goes onto the screen. It knows
//! nothing of soil.

mod address;
#[cfg(feature = "bench")]
mod bench;

mod cares;
mod draw;
mod edit;
mod form;
mod keep;
mod lines;
mod press;
mod show;
mod written;

use crate::dom::{self, Element, Window, by_id, root, set_hidden, window};
use crate::draws::Strata;
use crate::ground::Traits;
use crate::outcome::Outcome;
use crate::recipe::{History, Recipe, RecipeError, from_letters, to_letters};
use crate::words::{METRIC, Speech, Text, error_text};
use keep::Saved;
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, js_name = requestAnimationFrame)]
    fn request_animation_frame(this: &Window, act: &JsValue);
    #[wasm_bindgen(method, js_name = setTimeout)]
    fn set_timeout(this: &Window, act: &JsValue, ms: i32) -> i32;
    #[wasm_bindgen(method, js_name = clearTimeout)]
    fn clear_timeout(this: &Window, timer: i32);
}

/// Quiet time before the outcome is told to a screen reader, ms.
const TELL_AFTER_MS: i32 = 800;

/// Everything the page remembers. The recipe is its state; the rest follows from it.
struct Page {
    recipe: Recipe,
    /// Its texts, before and after every step.
    history: History,
    /// The control that is being moved by keys: its moves in a row are one step.
    moved: Option<String>,
    /// The text in the browser's memory, as far as this page knows.
    known: Option<String>,
    /// The last outcome that could be computed.
    outcome: Option<Outcome>,
    /// Whether it is the outcome of the recipe as it stands.
    fresh: bool,
    /// That of another recipe, which the figures show in place of it.
    shown: Option<Outcome>,
    shown_strata: Strata,
    /// The draws, shuffled once.
    strata: Strata,
    speech: Speech,
    /// Sand, silt and clay when the hand last let go: their proportion leads while one moves.
    let_go: [f64; 3],
    /// The ground when the hand last let go: its ranges move from there.
    rest: Traits,
    /// Whether a box is being typed into.
    typing: bool,
    form: form::Form,
    lines: lines::Lines,
    screen: show::Screen,
    drawing: draw::Drawing,
    frame_asked: bool,
    told: String,
    /// Which of sand, silt and clay was typed before, and which is being typed.
    typed: [Option<usize>; 2],
    tell_timer: Option<i32>,
}

thread_local! {
    static PAGE: RefCell<Option<Page>> = const { RefCell::new(None) };
}

/// Runs with the page, unless it is being changed already.
fn with_page(act: impl FnOnce(&mut Page)) {
    PAGE.with(|cell| {
        if let Ok(mut page) = cell.try_borrow_mut()
            && let Some(page) = page.as_mut()
        {
            act(page);
        }
    });
}

/// The invented garden that a first visit opens with; it stands in the page.
fn demo() -> Result<Recipe, RecipeError> {
    from_letters(&by_id("demo").text_content())
}

/// Starts the page.
///
/// # Errors
/// When the page lacks a part that it is built of.
#[wasm_bindgen(start)]
#[allow(unreachable_pub)] // its caller is the glue
pub fn start() -> Result<(), JsValue> {
    #[cfg(feature = "page")]
    {
        let lent = |id: &str| -> &'static str { by_id(id).text_content().leak() };
        crate::material::lend(crate::recipe::stock_of_text(lent("stock")));
        crate::recipe::lend_words(lent("words"));
        crate::words::lend(lent("texts"));
    }
    dom::take_marks();
    let fault = |error: RecipeError| JsValue::from_str(&error_text(&error));
    let known = keep::saved();
    let own = known.as_deref().map(from_letters);
    let is_read = !matches!(own, Some(Err(_)));
    let own = own.and_then(Result::ok);
    let (recipe, complaint) = match address::read() {
        Some(Ok(recipe)) => (Some(recipe), None),
        Some(Err(error)) => (own, Some(error)),
        None => (own, None),
    };
    let mut recipe = recipe.map_or_else(demo, Ok).map_err(fault)?;
    address::sign(&mut recipe);
    let text = to_letters(&recipe);
    // What was kept here gives way to a link: it is laid by, and waits one step back.
    let own = known.as_ref().filter(|own| **own != text);
    let before = own.filter(|_| is_read).unwrap_or(&text);
    let mut history = History::new(before.as_str());
    history.change(text);
    if let Some(own) = own {
        keep::lay_by(own);
        say(if is_read { Text::Opened } else { Text::Unread });
    }
    let let_go = recipe.ground.fractions_pct();
    let rest = recipe.ground.clone();
    let speech = address::remembered_units().map_or(METRIC, |units| Speech { units });
    let mut page = Page {
        recipe,
        history,
        moved: None,
        known,
        outcome: None,
        fresh: false,
        shown: None,
        shown_strata: Strata::default(),
        strata: Strata::default(),
        speech,
        let_go,
        rest,
        typing: false,
        form: form::Form::new(),
        lines: lines::Lines::new(),
        screen: show::Screen::new(),
        drawing: draw::Drawing::new(),
        frame_asked: false,
        told: String::new(),
        typed: [None; 2],
        tell_timer: None,
    };
    edit::check_units(page.speech.units);
    page.fill();
    page.complain(complaint.as_ref());
    page.show_steps();
    PAGE.with(|cell| *cell.borrow_mut() = Some(page));
    listen();
    dom::set(&root(), "data-ready", "");
    Ok(())
}

impl Page {
    /// Shows a recipe anew: every control, then the outcome.
    fn fill(&mut self) {
        self.lines.forget_faults();
        self.form.forgive(&Traits::NONE, None);
        self.refill();
    }

    /// The same, but what is still to be mended stays.
    fn refill(&mut self) {
        self.let_go = self.recipe.ground.fractions_pct();
        self.rest = self.recipe.ground.clone();
        self.compute();
        self.form
            .fill(&self.recipe, self.outcome.as_ref(), self.speech);
        self.lines
            .rebuild(&self.recipe, self.outcome.as_ref(), self.speech);
        self.show();
        if !self.fresh {
            // Its line in the list is there only now.
            self.compute();
        }
    }

    /// Computes the outcome; on a fault the last good one stays and the field is told.
    fn compute(&mut self) {
        let fault = match Outcome::drawn_from(&self.recipe, &mut self.strata) {
            Ok(outcome) => {
                self.outcome = Some(outcome);
                None
            }
            Err(error) => Some(error),
        };
        self.fresh = fault.is_none();
        self.screen.fault(fault.as_ref(), &self.recipe, &self.lines);
    }

    /// Writes what changed.
    fn show(&mut self) {
        self.form
            .follow(&self.recipe, self.outcome.as_ref(), self.speech);
        let Some(outcome) = &self.outcome else {
            return;
        };
        self.lines
            .follow(&self.recipe, outcome, self.fresh, self.speech);
        let shown = self.shown.as_ref().unwrap_or(outcome);
        self.screen.show(&self.recipe, outcome, shown, self.speech);
        self.drawing.show(shown);
    }

    /// Asks for one frame, however many events come before it.
    fn ask_frame(&mut self) {
        if !self.frame_asked {
            self.frame_asked = true;
            FRAME.with(|frame| window().request_animation_frame(frame));
        }
    }

    fn frame(&mut self) {
        self.frame_asked = false;
        self.compute();
        self.show();
    }

    /// After a change has ended: keeps it in the address and tells it, once.
    fn settle(&mut self) {
        self.compute();
        self.show();
        let fractions = self.recipe.ground.fractions_pct();
        for (kept, now) in self.let_go.iter_mut().zip(fractions) {
            // A fraction at 0 keeps its old proportion, so that it can come back.
            if now > 0.0 {
                *kept = now;
            }
        }
        self.rest = self.recipe.ground.clone();
        self.typing = false;
        self.typed = [self.typed[1].or(self.typed[0]), None];
        self.keep();
        // A recipe with a fault stays out of the address: a link should open. What the address
        // cannot hold is in the memory, and an older recipe must not stand in its way.
        let written = if self.fresh {
            address::write(&mut self.recipe)
        } else {
            Ok(())
        };
        if (written.is_err() || !self.fresh) && self.known.as_deref() == Some(self.history.now()) {
            address::clear();
        }
        self.complain(written.err().as_ref());
        self.tell_soon();
    }

    /// Makes the recipe as it stands a step of the history, if it is another one, and saves it.
    fn keep(&mut self) {
        address::sign(&mut self.recipe);
        let text = to_letters(&self.recipe);
        let changed = match self.moved.take() {
            Some(control) => self.history.change_along(text, &control),
            None => self.history.change(text),
        };
        if changed {
            self.save();
        }
        self.show_steps();
    }

    fn save(&mut self) {
        let saved = keep::save(self.history.now(), &mut self.known);
        set_hidden(&by_id("other-tab"), saved != Saved::Elsewhere);
        set_hidden(&by_id("not-kept"), saved != Saved::Refused);
    }

    /// Whether there is something to undo and redo.
    fn show_steps(&self) {
        dom::set_disabled(&by_id("undo"), !self.history.can_undo());
        dom::set_disabled(&by_id("redo"), !self.history.can_redo());
    }

    /// Goes one step back or forward.
    fn step(&mut self, back: bool) {
        let history = &mut self.history;
        let state = if back { history.undo() } else { history.redo() };
        if let Some(Ok(recipe)) = state.map(from_letters) {
            self.recipe = recipe;
            self.fill();
            self.settle();
            self.save();
        }
    }

    /// Shows another recipe in place of this one, which is laid by.
    fn take(&mut self, recipe: Recipe) {
        keep::lay_by(self.history.now());
        self.recipe = recipe;
        self.fill();
        self.settle();
    }

    /// Two tabs: goes on with this one's recipe, or with the one saved elsewhere. The other is
    /// laid by.
    fn choose_tab(&mut self, ours: bool) {
        self.known = keep::saved();
        let theirs = self.known.clone();
        if ours {
            if let Some(theirs) = &theirs {
                keep::lay_by(theirs);
            }
        } else if let Ok(recipe) = theirs.as_deref().map_or_else(demo, from_letters) {
            self.take(recipe);
        }
        self.save();
    }

    /// A fault of the whole, such as a broken link, at the top of the page.
    fn complain(&self, error: Option<&RecipeError>) {
        let line = by_id("link-says");
        if let Some(error) = error {
            line.set_text_content(&crate::words::page_fault_text(&error.fault));
        }
        set_hidden(&line, error.is_none());
    }

    fn tell_soon(&mut self) {
        if let Some(timer) = self.tell_timer.take() {
            window().clear_timeout(timer);
        }
        let timer = TELL.with(|tell| window().set_timeout(tell, TELL_AFTER_MS));
        self.tell_timer = Some(timer);
    }

    fn tell(&mut self) {
        self.tell_timer = None;
        let Some(outcome) = &self.outcome else {
            return;
        };
        let mut sentence = crate::words::told(outcome);
        let focused = form::focused().and_then(|element| element.get_attribute("id"));
        if focused.as_deref() == Some("triangle") {
            sentence = [crate::words::ground_text(&self.recipe), sentence].concat();
        }
        // What is told twice must differ to be heard twice.
        if sentence == self.told {
            sentence += "\u{a0}";
        }
        by_id("status").set_text_content(&sentence);
        self.told = sentence;
    }

    fn act(&mut self, what: &str, target: &Element) {
        match what {
            "demo" => {
                if let Ok(recipe) = demo() {
                    self.take(recipe);
                }
            }
            "undo" => self.step(true),
            "redo" => self.step(false),
            "keep-mine" => self.choose_tab(true),
            "take-theirs" => self.choose_tab(false),
            "copy-link" => self.copy_link(),
            "add" | "remove" | "up" | "down" if self.lines.act(what, target, &mut self.recipe) => {
                self.compute();
                self.lines
                    .rebuild(&self.recipe, self.outcome.as_ref(), self.speech);
                self.settle();
                self.lines.focus_after();
            }
            _ => {}
        }
    }

    fn copy_link(&mut self) {
        // With a fault to mend the address still holds the last good recipe.
        if self.fresh
            && let Err(error) = address::write(&mut self.recipe)
        {
            self.complain(Some(&error));
            return;
        }
        match address::copy() {
            // The browser answers later whether it did.
            Some(promise) => COPIED.with(|[done, refused]| {
                promise.then(done, refused);
            }),
            None => say(Text::CopyByHand),
        }
    }
}

/// The recipe as it stands, for the tools of the shed.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn recipe() -> String {
    let mut text = String::new();
    with_page(|page| text = to_letters(&page.recipe));
    text
}

/// Goes on with a recipe from the shed; gives what is wrong with it, if anything is. Another one
/// than that in hand takes its place, and that is laid by.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn take(text: &str, another: bool) -> String {
    match from_letters(text) {
        Err(error) => error_text(&error),
        Ok(recipe) => {
            with_page(|page| {
                if another {
                    page.take(recipe);
                } else {
                    page.form.forgive(&page.recipe.ground, Some(&recipe.ground));
                    if page.recipe.additions.len() != recipe.additions.len() {
                        page.lines.forget_faults();
                    }
                    page.recipe = recipe;
                    page.refill();
                    page.settle();
                }
            });
            String::new()
        }
    }
}

/// Shows the outcome of another recipe in figures and drawings, such as this one in later years; what
/// is said and asked stays this one's. Letters of no recipe end it.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn shows(text: &str) {
    with_page(|page| {
        page.shown = from_letters(text)
            .and_then(|recipe| Outcome::drawn_from(&recipe, &mut page.shown_strata))
            .ok();
        page.show();
    });
}

/// Forgets everything: the demo, and a history that begins.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn forget() {
    with_page(|page| {
        if let Ok(recipe) = demo() {
            page.recipe = recipe;
            address::sign(&mut page.recipe);
            page.history = History::new(to_letters(&page.recipe));
            page.known = None;
            page.fill();
            page.settle();
            set_hidden(&by_id("other-tab"), true);
            address::clear();
        }
    });
}

/// Whether figures are shown in US units.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn speaks_us() -> bool {
    let mut us = false;
    with_page(|page| us = page.speech.units == crate::words::Units::Us);
    us
}

/// Says something about what was asked for, where all can see and hear it.
fn say(text: Text) {
    for id in ["said", "status"] {
        by_id(id).set_text_content(text.text());
    }
}

thread_local! {
    static FRAME: JsValue = dom::act(|_| with_page(Page::frame));
    static TELL: JsValue = dom::act(|_| with_page(Page::tell));
    static COPIED: [JsValue; 2] = [
        dom::act(|_| say(Text::Copied)),
        dom::act(|_| say(Text::CopyByHand)),
    ];
}

/// One listener for each kind of event; what was touched says what it is bound to.
fn listen() {
    dom::on("input", |event| {
        with_page(|page| {
            if edit::input(page, &event) {
                page.ask_frame();
            }
        });
    });
    dom::on("change", |event| {
        with_page(|page| edit::change(page, &event))
    });
    dom::on("click", |event| {
        let Some(button) = dom::closest(&event, "[data-do]") else {
            return;
        };
        if let Some(what) = button.get_attribute("data-do") {
            with_page(|page| page.act(&what, &button));
        }
    });
    for (kind, held) in [
        ("pointerdown", true),
        ("focusin", true),
        ("focusout", false),
        ("visibilitychange", false),
    ] {
        dom::on(kind, move |event| {
            show::hold(&event, held);
            with_page(|page| match kind {
                "focusin" => {}
                // What is being typed when the page is left counts as typed.
                "visibilitychange" => page.settle(),
                _ => page.history.rest(),
            });
        });
    }
    press::listen();
    dom::listen(&window(), "hashchange", |_| {
        with_page(|page| match address::read() {
            Some(Ok(recipe)) => {
                page.take(recipe);
                say(Text::Opened);
            }
            Some(Err(error)) => page.complain(Some(&error)),
            None => {}
        });
    });
}
