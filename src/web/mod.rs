//! The page: what is typed goes into the recipe, what is computed goes onto the screen. It knows
//! nothing of soil.

mod address;
#[cfg(feature = "bench")]
mod bench;
mod dom;
mod draw;
mod edit;
mod form;
mod lines;
mod show;

use crate::draws::Strata;
use crate::outcome::Outcome;
use crate::recipe::{Recipe, RecipeError};
use crate::words::{METRIC, Speech, error_text, label};
use dom::{by_id, document, set_hidden, window};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;
use web_sys::{Element, Event};

/// The invented garden that a first visit opens with.
const DEMO: &str = include_str!("../../examples/recipes/willowbank.json");
/// Quiet time before the outcome is told to a screen reader, ms.
const TELL_AFTER_MS: i32 = 800;

/// Everything the page remembers. The recipe is its state; the rest follows from it.
struct Page {
    recipe: Recipe,
    /// The last outcome that could be computed.
    outcome: Option<Outcome>,
    /// Whether it is the outcome of the recipe as it stands.
    fresh: bool,
    /// The draws, shuffled once.
    strata: Strata,
    speech: Speech,
    /// Sand, silt and clay when the hand last let go: their proportion leads while one moves.
    let_go: [f64; 3],
    form: form::Form,
    lines: lines::Lines,
    screen: show::Screen,
    drawing: draw::Drawing,
    frame_asked: bool,
    told: String,
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

fn demo() -> Result<Recipe, RecipeError> {
    Recipe::from_json(DEMO)
}

/// Starts the page.
///
/// # Errors
/// When the page lacks a part that it is built of.
#[wasm_bindgen(start)]
#[allow(unreachable_pub)] // its caller is the glue
pub fn start() -> Result<(), JsValue> {
    std::panic::set_hook(Box::new(|info| {
        if let Some(root) = document().document_element() {
            let _ = root.set_attribute("data-trap", &info.to_string());
        }
    }));
    let fault = |error: RecipeError| JsValue::from_str(&error_text(&error));
    let (recipe, complaint) = match address::read() {
        None => (demo().map_err(fault)?, None),
        Some(Ok(recipe)) => (recipe, None),
        Some(Err(error)) => (demo().map_err(fault)?, Some(error)),
    };
    let let_go = recipe.ground.fractions_pct();
    let speech = address::remembered_units().map_or(METRIC, |units| Speech { units });
    let mut page = Page {
        recipe,
        outcome: None,
        fresh: false,
        strata: Strata::default(),
        speech,
        let_go,
        form: form::Form::new()?,
        lines: lines::Lines::new()?,
        screen: show::Screen::new()?,
        drawing: draw::Drawing::new()?,
        frame_asked: false,
        told: String::new(),
        tell_timer: None,
    };
    edit::check_units(page.speech.units);
    page.fill();
    page.complain(complaint.as_ref());
    PAGE.with(|cell| *cell.borrow_mut() = Some(page));
    listen()?;
    if let Some(root) = document().document_element() {
        root.set_attribute("data-ready", "")?;
    }
    Ok(())
}

impl Page {
    /// Shows a recipe anew: every control, then the outcome.
    fn fill(&mut self) {
        self.let_go = self.recipe.ground.fractions_pct();
        self.lines.forget_faults();
        self.compute();
        self.form
            .fill(&self.recipe, self.outcome.as_ref(), self.speech);
        self.lines
            .rebuild(&self.recipe, self.outcome.as_ref(), self.speech);
        self.show();
        self.show_sharpen();
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
        self.screen.show(&self.recipe, outcome, self.speech);
        self.drawing.show(outcome);
    }

    /// What would sharpen a figure: read at rest, so it waits until a slider is let go.
    fn show_sharpen(&mut self) {
        if let Some(outcome) = &self.outcome {
            self.screen.show_sharpen(&self.recipe, outcome);
        }
    }

    /// Asks for one frame, however many events come before it.
    fn ask_frame(&mut self) {
        if !self.frame_asked {
            self.frame_asked = true;
            FRAME.with(|frame| {
                let _ = window().request_animation_frame(frame.as_ref().unchecked_ref());
            });
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
        self.show_sharpen();
        let fractions = self.recipe.ground.fractions_pct();
        for (kept, now) in self.let_go.iter_mut().zip(fractions) {
            // A fraction at 0 keeps its old proportion, so that it can come back.
            if now > 0.0 {
                *kept = now;
            }
        }
        // A recipe with a fault stays out of the address: a link should open.
        if self.fresh {
            let written = address::write(&mut self.recipe);
            self.complain(written.err().as_ref());
        }
        self.tell_soon();
    }

    /// A fault of the whole, such as a broken link, at the top of the page.
    fn complain(&self, error: Option<&RecipeError>) {
        let line = by_id("link-says");
        if let Some(error) = error {
            line.set_text_content(Some(&crate::words::page_fault_text(&error.fault)));
        }
        set_hidden(&line, error.is_none());
    }

    fn tell_soon(&mut self) {
        if let Some(timer) = self.tell_timer.take() {
            window().clear_timeout_with_handle(timer);
        }
        TELL.with(|tell| {
            self.tell_timer = window()
                .set_timeout_with_callback_and_timeout_and_arguments_0(
                    tell.as_ref().unchecked_ref(),
                    TELL_AFTER_MS,
                )
                .ok();
        });
    }

    fn tell(&mut self) {
        self.tell_timer = None;
        let Some(outcome) = &self.outcome else {
            return;
        };
        let sentence = crate::words::told(outcome);
        if sentence != self.told {
            by_id("status").set_text_content(Some(&sentence));
            self.told = sentence;
        }
    }

    fn act(&mut self, what: &str, target: &Element) {
        match what {
            "demo" => {
                if let Ok(recipe) = demo() {
                    self.recipe = recipe;
                    self.fill();
                    self.settle();
                }
            }
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
            Ok(promise) => COPIED.with(|[done, refused]| {
                let _ = promise.then2(done, refused);
            }),
            Err(_) => say("copy_by_hand"),
        }
    }
}

/// Says something about what was asked for, where all can see and hear it.
fn say(key: &'static str) {
    for id in ["said", "status"] {
        by_id(id).set_text_content(Some(label(key)));
    }
}

thread_local! {
    static FRAME: Closure<dyn FnMut()> = Closure::new(|| with_page(Page::frame));
    static TELL: Closure<dyn FnMut()> = Closure::new(|| with_page(Page::tell));
    static COPIED: [Closure<dyn FnMut(JsValue)>; 2] = [
        Closure::new(|_| say("copied")),
        Closure::new(|_| say("copy_by_hand")),
    ];
}

/// One listener for each kind of event; what was touched says what it is bound to.
fn listen() -> Result<(), JsValue> {
    dom::on("input", |event| {
        with_page(|page| {
            if edit::input(page, &event) {
                page.ask_frame();
            }
        });
    })?;
    dom::on("change", |event| {
        with_page(|page| edit::change(page, &event))
    })?;
    dom::on("click", |event: Event| {
        let Some(button) = dom::closest(&event, "[data-do]") else {
            return;
        };
        if let Some(what) = button.get_attribute("data-do") {
            with_page(|page| page.act(&what, &button));
        }
    })?;
    for (kind, held) in [
        ("pointerdown", true),
        ("focusin", true),
        ("focusout", false),
    ] {
        dom::on(kind, move |event| show::hold(&event, held))?;
    }
    dom::on_window("hashchange", || {
        with_page(|page| match address::read() {
            Some(Ok(recipe)) => {
                page.recipe = recipe;
                page.complain(None);
                page.fill();
                page.tell_soon();
            }
            Some(Err(error)) => page.complain(Some(&error)),
            None => {}
        });
    })
}
