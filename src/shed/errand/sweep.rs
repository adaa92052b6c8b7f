//! Sweep: one or two amounts across their range, computed in slices of frames.

mod draw;
mod shown;

use super::boxes::{fault, mend, number};
use super::{Part, State, again, change, is_seen, says, tell, tell_later};
use crate::dom::{self, Element, Event, closest, listen, set_hidden, window};
use crate::draws::Strata;
use crate::quantity::Unit;
use crate::recipe::{AMOUNT_LIMIT, Recipe, to_letters};
use crate::shed::section::put as put_text;
use crate::sweep::{
    Axis, AxisFault, Crossing, FEW, Point, Run, Stretch, Swept, crossings, stretches,
};
use crate::words::Speech;
use crate::words::errand::sweep::{
    Looked, axis_fault_text, progress_text, stopped_text, swept_unit, taken_text,
};
use draw::Drawing;
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const PART: Part = Part::Sweep;
/// Time that a sweep takes of a frame, ms: the rest is the page's.
const FRAME_MS: f64 = 8.0;
/// Quiet time before a sweep begins anew, ms: while a slider of the page moves there is none.
const AFTER_MS: i32 = 150;
/// Axes at the most.
const AXES: usize = 2;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = performance)]
    fn now() -> f64;
}

/// An amount that was chosen, and its range.
#[derive(Clone, Debug, PartialEq)]
struct Chosen {
    axis: Axis,
    /// What the addition was: another one has another range.
    material: String,
    unit: Unit,
}

impl Chosen {
    fn usual(recipe: &Recipe, line: usize) -> Option<Chosen> {
        let addition = recipe.additions.get(line)?;
        Some(Chosen {
            axis: Axis::usual(recipe, line)?,
            material: addition.material.clone(),
            unit: addition.amount.unit,
        })
    }

    fn is_of(&self, recipe: &Recipe) -> bool {
        let addition = recipe.additions.get(self.axis.line);
        addition.is_some_and(|addition| {
            addition.material == self.material && addition.amount.unit == self.unit
        })
    }
}

/// What the part shows and does not store.
struct Sweep {
    recipe: Recipe,
    speech: Speech,
    swept: Swept,
    /// The user's own thresholds, in stored units.
    own: Vec<(Swept, f64)>,
    chosen: [Option<Chosen>; AXES],
    /// The sweep, and what it is of.
    run: Option<Run>,
    key: String,
    stopped: bool,
    /// Where the curve meets its threshold, and the classes that it goes through.
    met: Vec<Crossing>,
    classes: Vec<Stretch>,
    full: Strata,
    few: Strata,
    /// What is looked at: amounts, and all figures there.
    here: Option<[f64; AXES]>,
    point: Option<Point>,
    drawing: Drawing,
}

thread_local! {
    static SWEEP: RefCell<Option<Sweep>> = const { RefCell::new(None) };
    static ASKED: RefCell<bool> = const { RefCell::new(false) };
    static TIMER: RefCell<Option<i32>> = const { RefCell::new(None) };
    static SLICE: Closure<dyn FnMut()> = Closure::new(slice);
    static BEGIN: Closure<dyn FnMut()> = Closure::new(ask);
}

fn with<R>(act: impl FnOnce(&mut Sweep) -> R) -> Option<R> {
    SWEEP.with(|cell| cell.try_borrow_mut().ok()?.as_mut().map(act))
}

/// Listens in the drawing.
pub(super) fn furnish() {
    let drawing = PART.part("drawing");
    for kind in ["pointermove", "click"] {
        let takes = kind == "click";
        listen(&drawing, kind, move |event| {
            let area = PART.part("drawing").get_bounding_client_rect();
            let at = [
                event.client_x() - area.left(),
                event.client_y() - area.top(),
            ];
            let seen = with(|sweep| {
                let there = sweep.drawing.amounts(at);
                sweep.look(there);
            });
            if takes && seen.is_some() {
                take();
            }
        });
    }
    // Enter on what moves along the amounts takes them; other keys move.
    listen(&PART.part("looks"), "keydown", |event| {
        if event.key().as_deref() == Some("Enter") && closest(&event, "input").is_some() {
            event.prevent_default();
            if let Some(field) = closest(&event, "input[type=text]") {
                moved(&field, false);
            }
            take();
        }
    });
}

/// Shows what is so now, and begins a sweep where there is none of it.
pub(super) fn fill(state: &State) {
    let is_new = SWEEP.with(|cell| cell.borrow().is_none());
    if is_new {
        SWEEP.with(|cell| {
            *cell.borrow_mut() = Some(Sweep {
                recipe: state.recipe.clone(),
                speech: state.speech,
                swept: Swept::Air,
                own: Vec::new(),
                chosen: [None, None],
                run: None,
                key: String::new(),
                stopped: false,
                met: Vec::new(),
                classes: Vec::new(),
                full: Strata::default(),
                few: Strata::of(FEW),
                here: None,
                point: None,
                drawing: Drawing::default(),
            });
        });
    }
    with(|sweep| {
        sweep.recipe = state.recipe.clone();
        sweep.speech = state.speech;
        let begins = sweep.settle();
        sweep.controls();
        sweep.written();
        if begins {
            later(if is_new { 0 } else { AFTER_MS });
        }
    });
}

/// Begins after a while, unless something moves before.
fn later(ms: i32) {
    TIMER.with(|timer| {
        if let Some(old) = timer.take() {
            window().clear_timeout(old);
        }
        BEGIN.with(|closure| {
            *timer.borrow_mut() = Some(window().set_timeout(closure.as_ref(), ms));
        });
    });
}

/// Asks for a frame of the sweep.
fn ask() {
    if ASKED.with(|asked| asked.replace(true)) {
        return;
    }
    SLICE.with(|closure| {
        window().request_animation_frame(closure.as_ref());
    });
}

fn slice() {
    ASKED.with(|asked| asked.replace(false));
    if !is_seen(PART) {
        return;
    }
    let more = with(|sweep| {
        if sweep.stopped {
            return false;
        }
        let Some(run) = &mut sweep.run else {
            return false;
        };
        if run.is_done() {
            return false;
        }
        let strata = if run.axes().len() > 1 {
            &mut sweep.few
        } else {
            &mut sweep.full
        };
        let until = now() + FRAME_MS;
        let mut more = true;
        while more && now() < until {
            more = run.step(strata);
        }
        if more {
            sweep.progress();
        } else {
            sweep.ended();
        }
        more
    });
    if more == Some(true) {
        ask();
    }
}

impl Sweep {
    fn axes(&self) -> Vec<Axis> {
        let chosen = self.chosen.iter().flatten();
        chosen.map(|chosen| chosen.axis).collect()
    }

    fn own(&self) -> Option<f64> {
        let own = self.own.iter().find(|(swept, _)| *swept == self.swept);
        own.map(|(_, value)| *value)
    }

    fn own_currency(&self) -> Option<String> {
        self.recipe.currency.clone()
    }

    /// Follows the recipe; gives whether a sweep has to begin.
    fn settle(&mut self) -> bool {
        for axis in 0..AXES {
            let is_of = |chosen: &Chosen| chosen.is_of(&self.recipe);
            if !self.chosen[axis].as_ref().is_some_and(is_of) {
                self.chosen[axis] = None;
            }
        }
        if self.chosen[0].is_none() {
            // The second becomes the first, or the last addition does: it was added last.
            let last = self.recipe.additions.len().checked_sub(1);
            self.chosen[0] = self.chosen[1]
                .take()
                .or_else(|| Chosen::usual(&self.recipe, last?));
            self.here = None;
        }
        let key = self.key();
        if key == self.key {
            return false;
        }
        self.key = key;
        self.stopped = false;
        self.met.clear();
        self.classes.clear();
        self.point = None;
        match Run::of(&self.recipe, &self.axes()) {
            Ok(run) => {
                self.run = Some(run);
                true
            }
            Err(_) => {
                self.run = None;
                false
            }
        }
    }

    /// What a sweep is of: the recipe but for what is swept, and the ranges.
    fn key(&self) -> String {
        let mut recipe = self.recipe.clone();
        recipe.lectern = None;
        recipe.trial = None;
        recipe.shelf = None;
        recipe.errand = None;
        let mut key = String::new();
        for axis in self.axes() {
            if let Some(addition) = recipe.additions.get_mut(axis.line) {
                addition.amount.value = 0.0;
            }
            key += &format!("{} {} {};", axis.line, axis.low, axis.high);
        }
        key + &to_letters(&recipe)
    }

    /// All points are there, or no more will come.
    fn ended(&mut self) {
        self.meet();
        // What it is usually held against is known now.
        self.controls();
        self.written();
        let looked = self.looked();
        let told = looked.map_or(String::new(), |looked| self.sentence(&looked));
        tell_later(&told);
    }

    /// Looks where the curve meets its threshold.
    fn meet(&mut self) {
        let own = self.own();
        self.met.clear();
        self.classes.clear();
        if let Some(run) = &mut self.run
            && run.axes().len() == 1
        {
            if self.swept == Swept::Class {
                self.classes = stretches(run, &mut self.few);
            } else {
                self.met = crossings(run, self.swept, own, &mut self.few);
            }
        }
    }

    fn sentence(&self, looked: &Looked<'_>) -> String {
        if looked.run.axes().len() > 1 {
            looked.map()
        } else {
            looked.curve(&self.met, &self.classes)
        }
    }

    fn looked(&self) -> Option<Looked<'_>> {
        Some(Looked {
            run: self.run.as_ref()?,
            swept: self.swept,
            own: self.own(),
            currency: self.recipe.currency.as_deref(),
            speech: self.speech,
        })
    }

    /// The amounts of the recipe.
    fn amounts_now(&self) -> [f64; AXES] {
        let mut amounts = [0.0; AXES];
        for (amount, axis) in amounts.iter_mut().zip(self.axes()) {
            let addition = self.recipe.additions.get(axis.line);
            *amount = addition.map_or(0.0, |addition| addition.amount.value);
        }
        amounts
    }

    /// Looks at other amounts, shares along the axes.
    fn look(&mut self, shares: [f64; AXES]) {
        let mut here = [0.0; AXES];
        for ((here, axis), share) in here.iter_mut().zip(self.axes()).zip(shares) {
            *here = axis.amount(share);
        }
        if self.here != Some(here) {
            self.here = Some(here);
            self.point = None;
            again();
        }
    }

    /// The figures at what is looked at.
    fn point_here(&mut self) -> Option<Point> {
        let here = self.here.unwrap_or_else(|| self.amounts_now());
        if let Some(point) = &self.point
            && point.amounts == here
        {
            return Some(point.clone());
        }
        let run = self.run.as_mut().filter(|run| run.is_done())?;
        let strata = if run.axes().len() > 1 {
            &mut self.few
        } else {
            &mut self.full
        };
        self.point = run.evaluate(here, strata).ok();
        self.point.clone()
    }

    fn progress(&self) {
        let Some(run) = &self.run else {
            return;
        };
        let (done, all) = (run.done(), run.all());
        let bar = PART.part("progress");
        let is_moving = done < all && !self.stopped;
        set_hidden(&bar, !is_moving);
        dom::set(&bar, "max", &all.to_string());
        dom::set(&bar, "value", &done.to_string());
        let text = if self.stopped {
            stopped_text(done, all)
        } else if is_moving {
            progress_text(done, all)
        } else {
            String::new()
        };
        put_text(&PART.part("progress-says"), &text);
        for (deed, there) in [("sweep-cancel", is_moving), ("sweep-go-on", self.stopped)] {
            let selector = ["[data-errand=", deed, "]"].concat();
            if let Some(button) = PART.panel().query_selector(&selector) {
                set_hidden(&button, !there);
            }
        }
    }
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    if name.starts_with("at-") {
        moved(&field, lets_go);
        return;
    }
    if !lets_go {
        return;
    }
    match name.as_str() {
        "swept" => {
            let swept = Swept::find(&field.value());
            with(|sweep| {
                sweep.swept = swept.unwrap_or(sweep.swept);
                if let Some(against) = PART.field("against") {
                    mend(&against);
                }
                sweep.meet();
            });
        }
        "against" => against(&field),
        _ => {
            let (kind, axis) = name.split_once('-').unwrap_or((&name, ""));
            if let Some(axis) = axis.parse().ok().filter(|axis| *axis < AXES) {
                match kind {
                    "line" => line(&field, axis),
                    _ => end(&field, axis, kind == "high"),
                }
            }
        }
    }
    again();
}

/// A threshold of the user's own, or none.
fn against(field: &Element) {
    let unit = with(|sweep| {
        let currency = sweep.own_currency();
        swept_unit(sweep.swept, sweep.speech, currency.as_deref())
    });
    let Some((factor, unit)) = unit else {
        return;
    };
    let Ok(value) = number(field, (0.0, AMOUNT_LIMIT), unit.trim()) else {
        return;
    };
    with(|sweep| {
        let swept = sweep.swept;
        sweep.own.retain(|(known, _)| *known != swept);
        sweep.own.extend(value.map(|value| (swept, value * factor)));
        sweep.meet();
    });
}

/// Another addition along an axis.
fn line(field: &Element, axis: usize) {
    let line = field.value().parse().ok();
    for end in ["low", "high"] {
        if let Some(field) = PART.field(&format!("{end}-{axis}")) {
            mend(&field);
        }
    }
    with(|sweep| {
        let chosen = line.and_then(|line| Chosen::usual(&sweep.recipe, line));
        let other = sweep.chosen[1 - axis].clone();
        let line_of = |chosen: &Option<Chosen>| chosen.as_ref().map(|chosen| chosen.axis.line);
        if chosen.is_some() && line_of(&chosen) == line_of(&other) {
            // They change places, or the second is none.
            sweep.chosen.swap(0, 1);
        } else if axis > 0 || chosen.is_some() {
            sweep.chosen[axis] = chosen;
        }
        sweep.here = None;
    });
}

/// Another end of a range.
fn end(field: &Element, axis: usize, is_high: bool) {
    let value = match number(field, (0.0, AMOUNT_LIMIT), "") {
        Ok(Some(value)) => value,
        Ok(None) => {
            // Emptied: the usual one again.
            let usual = with(|sweep| {
                let line = sweep.chosen[axis].as_ref()?.axis.line;
                let usual = Axis::usual(&sweep.recipe, line)?;
                Some(if is_high { usual.high } else { usual.low })
            });
            match usual.flatten() {
                Some(usual) => usual,
                None => return,
            }
        }
        Err(()) => return,
    };
    let refused = with(|sweep| {
        let recipe = sweep.recipe.clone();
        let chosen = sweep.chosen[axis].as_mut()?;
        let mut wanted = chosen.axis;
        if is_high {
            wanted.high = value;
        } else {
            wanted.low = value;
        }
        let refused: Option<AxisFault> = wanted.check(&recipe).err();
        if refused.is_none() {
            chosen.axis = wanted;
            sweep.here = None;
        }
        refused
    });
    match refused.flatten() {
        Some(refused) => fault(field, &axis_fault_text(refused)),
        None => {
            for end in ["low", "high"] {
                if let Some(field) = PART.field(&format!("{end}-{axis}")) {
                    mend(&field);
                }
            }
        }
    }
}

/// What is looked at was moved.
fn moved(field: &Element, lets_go: bool) {
    let name = field.get_attribute("name").unwrap_or_default();
    let Some(axis) = name
        .strip_prefix("at-")
        .and_then(|axis| axis.parse::<usize>().ok())
    else {
        return;
    };
    if axis >= AXES {
        return;
    }
    let limits = with(|sweep| {
        let chosen = sweep.chosen[axis].as_ref()?;
        Some((chosen.axis.low, chosen.axis.high))
    });
    let Some(limits) = limits.flatten() else {
        return;
    };
    let is_slider = field.get_attribute("type").as_deref() == Some("range");
    if !is_slider && !lets_go {
        return;
    }
    // A slider has a point in every language.
    let value = if is_slider {
        let value = crate::recipe::number_of_text(&field.value());
        (!value.is_nan()).then_some(value)
    } else {
        number(field, limits, "").ok().flatten()
    };
    if let Some(value) = value {
        with(|sweep| {
            let mut here = sweep.here.unwrap_or_else(|| sweep.amounts_now());
            here[axis] = if is_slider {
                crate::words::round_significant(value, 4)
            } else {
                value
            };
            sweep.here = Some(here);
            sweep.point = None;
        });
        again();
    }
}

/// A button was pressed.
pub(super) fn pressed(deed: &str) {
    match deed {
        "take" => take(),
        "cancel" => {
            with(|sweep| {
                sweep.stopped = sweep.run.as_ref().is_some_and(|run| !run.is_done());
                sweep.ended();
                sweep.progress();
            });
        }
        "go-on" => {
            with(|sweep| {
                sweep.stopped = false;
                sweep.progress();
            });
            ask();
        }
        _ => {}
    }
}

/// Puts the amounts that are looked at into the recipe.
fn take() {
    if PART
        .panel()
        .query_selector("[name^=at-][aria-invalid]")
        .is_some()
    {
        says("");
        return;
    }
    let wanted = with(|sweep| {
        let here = sweep.here?;
        Some((sweep.axes(), here))
    });
    let Some((axes, here)) = wanted.flatten() else {
        return;
    };
    let taken = change(|recipe| {
        for (axis, amount) in axes.iter().zip(here) {
            if let Some(addition) = recipe.additions.get_mut(axis.line) {
                addition.amount.value = amount;
            }
        }
    });
    if taken {
        let text = with(|sweep| {
            let point = sweep.point_here()?;
            Some(sweep.looked()?.point(&point))
        });
        tell(&taken_text(&text.flatten().unwrap_or_default()));
    }
}
