//! The lectern: a recipe shown to a room, step by step. It is a window over the page, computes and
//! draws by itself, and changes nothing of the page's recipe but its list of steps.

mod bars;
mod draw;
mod events;
mod keys;
mod labels;
mod write;

use super::form::option;
use super::section::put;
use super::{page, speech};
use crate::dom::{self, Document, Element, by_id, document, focus, make, set, set_hidden};
use crate::draws::Strata;
use crate::figure::within;
use crate::ground::Trait;
use crate::outcome::Outcome;
use crate::recipe::lectern::{Asked, Moved, Shown, Step, ends, steps};
use crate::recipe::{Recipe, RecipeError, from_letters};
use crate::tongue::{tr, tr_of};
use crate::words::{
    READY, Speech, error_text, label_of_lectern, moved_name, page_fault_text, shown_sentence,
    step_of,
};
use draw::Guess;
use std::cell::RefCell;

/// The choice of the recipe's own steps.
const OWN: &str = "own";

/// What the audience has seen of a step.
#[derive(Clone, Copy, Default)]
struct Seen {
    /// Whether the outcome was shown.
    shown: bool,
    guess: Guess,
}

struct Lectern {
    /// The sequence and whose it is.
    base: Recipe,
    id: String,
    steps: Vec<Step>,
    /// Of each step; one where there are none.
    seen: Vec<Seen>,
    at: usize,
    /// The recipe as it is shown.
    recipe: Recipe,
    moved: Option<Moved>,
    outcome: Option<Outcome>,
    /// What is wrong with the recipe, if it cannot be shown.
    fault: Option<String>,
    hidden: bool,
    speech: Speech,
    strata: Strata,
}

thread_local! {
    static LECTERN: RefCell<Option<Lectern>> = const { RefCell::new(None) };
}

fn with_lectern(act: impl FnOnce(&mut Lectern)) {
    LECTERN.with(|cell| {
        if let Ok(mut lectern) = cell.try_borrow_mut()
            && let Some(lectern) = lectern.as_mut()
        {
            act(lectern);
        }
    });
}

fn layer() -> Element {
    by_id("lectern")
}

fn part(name: &str) -> Element {
    let selector = ["[data-part=", name, "]"].concat();
    layer()
        .query_selector(&selector)
        .unwrap_or_else(|| make("span"))
}

fn field(name: &str) -> Element {
    let selector = ["[name=lectern-", name, "]"].concat();
    layer()
        .query_selector(&selector)
        .unwrap_or_else(|| make("input"))
}

/// Opens the lectern with the sequence of an id, or with the recipe's own.
pub(super) fn open(parts: Option<Document>, id: &str) {
    if document().get_element_by_id("lectern").is_none() && furnish(parts).is_none() {
        return;
    }
    let layer = layer();
    if !layer.open() {
        layer.show_modal();
    }
    let known = READY.iter().any(|ready| ready.id == id);
    begin(if known { id } else { OWN });
    focus(&part("stage"));
}

fn furnish(parts: Option<Document>) -> Option<()> {
    let parts = parts?;
    let template = parts.get_element_by_id("lectern-template")?;
    let layer = make("dialog");
    set(&layer, "id", "lectern");
    set(&layer, "aria-labelledby", "lectern-name");
    layer.append_child(&document().import_node(&template.content(), true));
    by_id("shed").parent_element()?.append_child(&layer);
    let choices = field("sequence");
    choices.append_child(&option(OWN, label_of_lectern("own_sequence")));
    for ready in &READY {
        choices.append_child(&option(ready.id, tr(ready.name)));
    }
    events::listen(&layer);
    Some(())
}

fn leave() {
    events::keep_caption();
    if document().fullscreen_element().is_some() {
        let _ = document().exit_fullscreen();
    }
    layer().close();
    // What opened it may lie in a menu that has closed: it has the focus still, and will lose it.
    let lost = |element: Element| {
        element.query_selector("main").is_some() || dom::around(&element, ".menu").is_some()
    };
    if document().active_element().is_none_or(lost)
        && let Some(summary) = dom::find(".menu summary")
    {
        focus(&summary);
    }
}

/// A ready sequence under its title in the language that is spoken.
fn told(mut ready: Recipe) -> Recipe {
    ready.title = ready.title.map(|title| tr_of(&title).into_owned());
    ready
}

/// Begins a sequence.
fn begin(id: &str) {
    let ready = READY.iter().find(|ready| ready.id == id);
    let base = match ready {
        Some(ready) => Recipe::from_json(ready.json).map(told),
        None => from_letters(&page::recipe()),
    };
    field("sequence").set_value(id);
    set_hidden(&part("add"), ready.is_some());
    let base = match base {
        Ok(base) => base,
        Err(error) => {
            LECTERN.with(|cell| {
                if let Ok(mut cell) = cell.try_borrow_mut() {
                    *cell = None;
                }
            });
            for name in ["caption", "count"] {
                put(&part(name), "");
            }
            for name in ["back", "next", "move"] {
                set_hidden(&part(name), true);
            }
            return write::fault(Some(&error_text(&error)));
        }
    };
    let (steps, wrong) = match steps(&base) {
        Ok(mut steps) => {
            // Of a ready one only: what one has written stays.
            for step in steps.iter_mut().filter(|_| ready.is_some()) {
                step.caption = tr_of(&step.caption).into_owned();
            }
            (steps, None)
        }
        Err(error) => (Vec::new(), Some(error)),
    };
    LECTERN.with(|cell| {
        if let Ok(mut cell) = cell.try_borrow_mut() {
            *cell = Some(Lectern {
                recipe: base.clone(),
                base,
                id: id.to_owned(),
                seen: vec![Seen::default(); steps.len().max(1)],
                steps,
                at: 0,
                moved: None,
                outcome: None,
                fault: None,
                hidden: false,
                speech: speech(),
                strata: Strata::default(),
            });
        }
    });
    with_lectern(|lectern| lectern.go(0));
    if let Some(RecipeError { path, fault }) = wrong {
        let text = [path.as_str(), ": ", &page_fault_text(&fault)].concat();
        put(&part("says"), &text);
    }
}

impl Lectern {
    fn step(&self) -> Step {
        self.steps.get(self.at).cloned().unwrap_or_default()
    }

    fn seen(&self) -> Seen {
        self.seen.get(self.at).copied().unwrap_or_default()
    }

    fn guess(&mut self, change: impl FnOnce(&mut Guess)) {
        if let Some(seen) = self.seen.get_mut(self.at) {
            change(&mut seen.guess);
        }
        self.write();
    }

    /// The figure that the step asks for.
    fn asked(&self) -> Option<Shown> {
        match self.step().guess {
            Asked::Figure(of) => Some(of),
            _ => None,
        }
    }

    /// Goes to a step, if there is one.
    fn go(&mut self, at: usize) {
        self.at = at.min(self.steps.len().saturating_sub(1));
        let step = self.step();
        self.fault = None;
        match step.recipe(&self.base) {
            Ok(recipe) => self.recipe = recipe,
            Err(error) => self.fault = Some(error_text(&error)),
        }
        // What was shown once stays shown, with its guess.
        self.hidden = step.guess.is_any() && !self.seen().shown;
        self.moved = step.moved(&self.recipe);
        let title = self.recipe.title.clone().unwrap_or_default();
        let caption = if self.steps.is_empty() {
            &title
        } else {
            &step.caption
        };
        put(&part("caption"), caption);
        let many = self.steps.len() > 1;
        let count = match many {
            true => step_of(self.at, self.steps.len()),
            false => String::new(),
        };
        put(&part("count"), &count);
        set_hidden(&part("back"), !many);
        set_hidden(&part("next"), !many);
        put(&part("says"), "");
        set_hidden(&part("captioned"), true);
        self.fill_slider();
        self.compute();
        let told = match &self.fault {
            Some(fault) => fault.clone(),
            None if self.hidden => self.wish(),
            None => self.told(),
        };
        let told = [&count, " ", caption, " ", &told].concat();
        put(&part("status"), told.trim());
    }

    /// What is asked for, in words.
    fn wish(&self) -> String {
        match self.asked() {
            Some(of) => [
                label_of_lectern("lectern_guess_of"),
                ": ",
                crate::words::shown_name(of),
            ]
            .concat(),
            None => label_of_lectern("waits").to_owned(),
        }
    }

    /// Forward is first what is hidden, then the next step.
    fn turn(&mut self, forward: bool) {
        if forward && self.hidden && self.fault.is_none() {
            self.show();
            focus(&part("stage"));
        } else if forward && self.at + 1 < self.steps.len() {
            self.go(self.at + 1);
        } else if !forward && self.at > 0 {
            self.go(self.at - 1);
        }
    }

    fn told(&self) -> String {
        self.outcome.as_ref().map_or(String::new(), |outcome| {
            shown_sentence(&self.step().shown(), outcome, self.speech)
        })
    }

    /// The choice of what the slider moves, and its ends.
    fn fill_slider(&self) {
        let choices = field("moves");
        choices.set_text_content("");
        for moved in Moved::all(&self.recipe) {
            let name = moved_name(moved, &self.recipe);
            choices.append_child(&option(&moved.path(), &name));
        }
        set_hidden(&part("move"), self.moved.is_none());
        if let Some(moved) = self.moved {
            choices.set_value(&moved.path());
            let ends = ends(moved, &self.recipe, &self.base, &self.steps);
            let slider = field("slider");
            set(&slider, "min", &crate::recipe::number_text(ends.least));
            set(&slider, "max", &crate::recipe::number_text(ends.most));
            let step = ends
                .step
                .map_or("any".to_owned(), crate::recipe::number_text);
            set(&slider, "step", &step);
            set(&slider, "aria-label", &moved_name(moved, &self.recipe));
        }
    }

    /// Moves what the slider moves.
    fn slide(&mut self, to: f64) {
        self.fault = None;
        match self.moved {
            Some(Moved::Amount(index)) => {
                if let Some(addition) = self.recipe.additions.get_mut(index) {
                    addition.amount.value = to;
                }
            }
            Some(Moved::Ground(Trait::Clay)) => {
                let [sand, silt, _] = self.recipe.ground.fractions_pct();
                let rest = 100.0 - to;
                let sand = (rest * share(sand, silt) * 10.0).round() / 10.0;
                for (of, value) in [
                    (Trait::Clay, to),
                    (Trait::Sand, sand),
                    (Trait::Silt, rest - sand),
                ] {
                    self.set(of, value);
                }
            }
            Some(Moved::Ground(of)) => self.set(of, to),
            None => {}
        }
        self.compute();
    }

    fn set(&mut self, of: Trait, value: f64) {
        let ground = &mut self.recipe.ground;
        let moved = ground
            .get(of)
            .map(|figure| figure.moved(value, of.limits()));
        ground.set(of, moved);
    }

    fn compute(&mut self) {
        self.outcome = None;
        if self.fault.is_none() {
            match Outcome::drawn_from(&self.recipe, &mut self.strata) {
                Ok(outcome) => self.outcome = Some(outcome),
                Err(error) => self.fault = Some(error_text(&error)),
            }
        }
        self.write();
    }

    /// Lets the outcome be seen.
    fn show(&mut self) {
        self.hidden = false;
        if let Some(seen) = self.seen.get_mut(self.at) {
            seen.shown = true;
        }
        self.write();
        put(&part("says"), "");
        let guess = self.guess_text();
        put(&part("status"), [&self.told(), " ", &guess].concat().trim());
    }

    /// Hides it for a guess, which begins at the ground if there is none yet.
    fn ask(&mut self) {
        if self.fault.is_some() {
            return;
        }
        self.hidden = true;
        let asked = self.asked();
        if asked.is_none() && self.seen().guess.texture.is_none() {
            let outcome = self.outcome.as_ref();
            let ground = outcome.and_then(|outcome| outcome.ground.fractions_pct);
            self.guess(|guess| guess.texture = ground);
        } else {
            self.write();
        }
        match asked {
            Some(_) => focus(&field("guess")),
            None => focus(&part("triangle")),
        }
    }

    /// Takes a guess of the figure that is asked for.
    fn guess_figure(&mut self, value: f64) {
        let Some(of) = self.asked().filter(|_| self.hidden) else {
            return;
        };
        let Some(ends) = of.guess_ends() else {
            return;
        };
        let value = Some(within(value, ends.least, ends.most));
        self.guess(|guess| match of {
            // The bar's pores are the same guess.
            Shown::Pores => guess.pores_pct = value,
            _ => guess.figure = value,
        });
    }

    /// The guess of the figure that is asked for.
    fn figure_guess(&self) -> Option<(Shown, f64)> {
        let of = self.asked()?;
        let guess = self.seen().guess;
        let value = match of {
            Shown::Pores => guess.pores_pct,
            _ => guess.figure,
        };
        value.map(|value| (of, value))
    }

    /// The recipe that is shown, with all steps of its sequence.
    fn whole(&self) -> Recipe {
        let mut recipe = self.recipe.clone();
        recipe.lectern = self.base.lectern.clone();
        recipe
    }
}

/// Where the slider of a guess stands before it is moved: at the ground, or in the middle.
fn guess_start(of: Shown, outcome: &Outcome) -> f64 {
    let ends = of.guess_ends();
    let [least, most] = ends.map_or([0.0, 0.0], |ends| [ends.least, ends.most]);
    let ground = &outcome.ground;
    let start = match of {
        Shown::Pores => ground.lying_pore_space_pct.typical,
        Shown::Organic => ground.organic_matter_pct.typical,
        Shown::Air => ground.lying_pores_pct.air.typical,
        Shown::PlantWater => ground.lying_pores_pct.available_water.typical,
        Shown::Ph => outcome.chemical.ground_ph.typical,
        Shown::Sodium => outcome.chemical.ground_esp_pct.typical,
        Shown::Salt => outcome.chemical.ground_ec_paste_ds_m.typical,
        _ => (least + most) / 2.0,
    };
    let step = ends.and_then(|ends| ends.step).unwrap_or(1.0);
    crate::words::round_significant(within((start / step).round() * step, least, most), 4)
}

/// The first's share of two.
fn share(first: f64, second: f64) -> f64 {
    if first + second > 0.0 {
        first / (first + second)
    } else {
        0.5
    }
}
