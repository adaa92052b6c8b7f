//! The lectern: a recipe shown to a room, step by step. It is a window over the page, computes and
//! draws by itself, and changes nothing of the page's recipe but its list of steps.

mod draw;

use super::form::{option, value};
use super::section::put;
use super::{form, page, speech};
use crate::dom::{
    self, Document, Element, Event, Promise, by_id, document, focus, make, set, set_disabled,
    set_hidden,
};
use crate::draws::Strata;
use crate::figure::within;
use crate::ground::Trait;
use crate::outcome::Outcome;
use crate::quantity::Dimension;
use crate::recipe::lectern::{FIGURES, Moved, STEPS_LIMIT, Shown, Step, set_steps, steps};
use crate::recipe::{Recipe, RecipeError, from_letters, to_letters};
use crate::words::{
    READY, Speech, error_text, guess_text, label_of_lectern, moved_name, moved_number,
    page_fault_text, round_significant, shown, shown_name, shown_sentence, shown_told, step_of,
};
use draw::{BARS, Guess, TRIANGLE};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter, js_name = clientX)]
    fn client_x(this: &Event) -> f64;
    #[wasm_bindgen(method, getter, js_name = clientY)]
    fn client_y(this: &Event) -> f64;
    #[wasm_bindgen(method, getter, js_name = ctrlKey)]
    fn ctrl_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter, js_name = metaKey)]
    fn meta_key(this: &Event) -> bool;
    #[wasm_bindgen(method, getter, js_name = altKey)]
    fn alt_key(this: &Event) -> bool;
    #[wasm_bindgen(method, js_name = getBoundingClientRect)]
    fn get_bounding_client_rect(this: &Element) -> Rect;
    type Rect;
    #[wasm_bindgen(method, getter)]
    fn left(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    fn top(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    fn width(this: &Rect) -> f64;
    #[wasm_bindgen(method, getter)]
    fn height(this: &Rect) -> f64;
    // A browser without it throws here.
    #[wasm_bindgen(method, catch, js_name = requestFullscreen)]
    fn request_fullscreen(this: &Element) -> Result<Promise, JsValue>;
    #[wasm_bindgen(method, catch, js_name = exitFullscreen)]
    fn exit_fullscreen(this: &Document) -> Result<Promise, JsValue>;
    #[wasm_bindgen(method, getter, js_name = fullscreenElement)]
    fn fullscreen_element(this: &Document) -> Option<Element>;
}

/// Size of the drawings, as the template has it.
const TRIANGLE_SIZE: [f64; 2] = [960.0, 800.0];
const COLUMN_SIZE: [f64; 2] = [660.0, 270.0];
/// Where a slider ends that has no number to go by.
const SOME: f64 = 10.0;
/// Moves of a slider from end to end.
const SLIDER_STEPS: f64 = 100.0;
/// The choice of the recipe's own steps.
const OWN: &str = "own";
/// Ends of the sliders of the ground.
const CLAY_ENDS_PCT: [f64; 2] = [0.0, 90.0];
const ORGANIC_ENDS_PCT: [f64; 2] = [0.0, 15.0];
const PH_ENDS: [f64; 2] = [4.0, 9.0];

struct Lectern {
    /// The sequence and whose it is.
    base: Recipe,
    id: String,
    steps: Vec<Step>,
    at: usize,
    /// The recipe as it is shown.
    recipe: Recipe,
    moved: Option<Moved>,
    outcome: Option<Outcome>,
    hidden: bool,
    guess: Guess,
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
        choices.append_child(&option(ready.id, ready.name));
    }
    dom::listen(&layer, "cancel", |event| {
        event.prevent_default();
        leave();
    });
    dom::on("keydown", |event| key(&event));
    dom::listen(&layer, "input", |event| input(&event));
    dom::listen(&layer, "click", |event| click(&event));
    Some(())
}

fn leave() {
    if document().fullscreen_element().is_some() {
        let _ = document().exit_fullscreen();
    }
    layer().close();
    // What opened it may lie in a menu that has closed.
    let lost = document().active_element();
    if lost.is_none_or(|element| element.query_selector("main").is_some())
        && let Some(summary) = dom::find(".menu summary")
    {
        focus(&summary);
    }
}

/// Begins a sequence.
fn begin(id: &str) {
    let ready = READY.iter().find(|ready| ready.id == id);
    let base = match ready {
        Some(ready) => Recipe::from_json(ready.json),
        None => from_letters(&page::recipe()),
    };
    let base = match base {
        Ok(base) => base,
        Err(error) => return put(&part("says"), &error_text(&error)),
    };
    let (steps, wrong) = match steps(&base) {
        Ok(steps) => (steps, None),
        Err(error) => (Vec::new(), Some(error)),
    };
    LECTERN.with(|cell| {
        if let Ok(mut cell) = cell.try_borrow_mut() {
            *cell = Some(Lectern {
                recipe: base.clone(),
                base,
                id: id.to_owned(),
                steps,
                at: 0,
                moved: None,
                outcome: None,
                hidden: false,
                guess: Guess::default(),
                speech: speech(),
                strata: Strata::default(),
            });
        }
    });
    field("sequence").set_value(id);
    set_hidden(&part("add"), ready.is_some());
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

    /// Goes to a step, if there is one.
    fn go(&mut self, at: usize) {
        self.at = at.min(self.steps.len().saturating_sub(1));
        let step = self.step();
        if let Ok(recipe) = step.recipe(&self.base) {
            self.recipe = recipe;
        }
        self.hidden = step.guess;
        self.guess = Guess::default();
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
        set_disabled(&part("back"), self.at == 0);
        set_disabled(&part("next"), self.at + 1 >= self.steps.len());
        self.fill_slider();
        self.compute();
        let told = [&count, " ", caption, " ", label_of_lectern("waits")].concat();
        let told = if self.hidden {
            told
        } else {
            [&count, " ", caption, " ", &self.told()].concat()
        };
        put(
            &part("says"),
            if self.hidden {
                label_of_lectern("waits")
            } else {
                ""
            },
        );
        put(&part("status"), told.trim());
    }

    fn turn(&mut self, forward: bool) {
        if forward && self.at + 1 < self.steps.len() {
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
            let [least, most] = self.ends(moved);
            let slider = field("slider");
            set(&slider, "min", &shown(least));
            set(&slider, "max", &shown(most));
            let step = round_significant((most - least) / SLIDER_STEPS, 1);
            set(&slider, "step", &shown(step));
            set(&slider, "aria-label", &moved_name(moved, &self.recipe));
        }
    }

    /// Least and most of a slider: the same in all steps of a sequence.
    fn ends(&self, moved: Moved) -> [f64; 2] {
        let index = match moved {
            Moved::Ground(Trait::Clay) => return CLAY_ENDS_PCT,
            Moved::Ground(Trait::Ph) => return PH_ENDS,
            Moved::Ground(_) => return ORGANIC_ENDS_PCT,
            Moved::Amount(index) => index,
        };
        let Some(now) = self.recipe.additions.get(index) else {
            return [0.0, SOME];
        };
        let unit = now.amount.unit;
        let mut most = now.amount.value;
        for step in &self.steps {
            let recipe = step.recipe(&self.base).ok();
            let addition = recipe.and_then(|recipe| recipe.additions.into_iter().nth(index));
            let amount = addition.map(|addition| addition.amount);
            if let Some(amount) = amount.filter(|amount| amount.unit == unit) {
                most = most.max(amount.value);
            }
        }
        let end = match unit.dimension() {
            Dimension::ShareOfVolume | Dimension::ShareOfMass => most.max(90.0),
            _ if most > 0.0 => round_significant(2.0 * most, 2),
            _ => SOME,
        };
        [0.0, end]
    }

    fn number(&self) -> f64 {
        match self.moved {
            Some(Moved::Amount(index)) => {
                let addition = self.recipe.additions.get(index);
                addition.map_or(0.0, |addition| addition.amount.value)
            }
            Some(Moved::Ground(of)) => self.recipe.ground.typical(of).unwrap_or_default(),
            None => 0.0,
        }
    }

    /// Moves what the slider moves.
    fn slide(&mut self, to: f64) {
        match self.moved {
            Some(Moved::Amount(index)) => {
                if let Some(addition) = self.recipe.additions.get_mut(index) {
                    addition.amount.value = to;
                }
            }
            Some(Moved::Ground(Trait::Clay)) => {
                let [sand, silt, _] = self.recipe.ground.fractions_pct();
                let rest = 100.0 - to;
                let share = if sand + silt > 0.0 {
                    sand / (sand + silt)
                } else {
                    0.5
                };
                let sand = (rest * share * 10.0).round() / 10.0;
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
        match Outcome::drawn_from(&self.recipe, &mut self.strata) {
            Ok(outcome) => self.outcome = Some(outcome),
            Err(error) => put(&part("says"), &error_text(&error)),
        }
        self.write();
    }

    /// Writes and draws everything that can be seen.
    fn write(&self) {
        set_hidden(&part("show"), !self.hidden);
        if let Some(moved) = self.moved {
            let number = moved_number(moved, &self.recipe);
            let (figure, unit) = number.split_once(' ').unwrap_or((&number, ""));
            put(&part("number"), figure);
            put(&part("number-unit"), unit);
            let slider = field("slider");
            let now = shown(self.number());
            if slider.value() != now {
                slider.set_value(&now);
            }
            set(&slider, "aria-valuetext", &number);
        }
        let Some(outcome) = &self.outcome else {
            return;
        };
        let figures = self.step().shown();
        let places = layer().query_selector_all(".lectern-figures > div");
        for index in 0..FIGURES {
            let Some(place) = places.get(index) else {
                continue;
            };
            let of = figures.get(index).copied();
            set_hidden(place, of.is_none());
            if let Some(of) = of {
                self.write_figure(place, of, outcome);
            }
        }
        let triangle = draw::triangle(outcome, self.guess, self.hidden);
        part("triangle").set_inner_html(&triangle);
        let column = draw::column(outcome, self.guess, self.hidden);
        part("column").set_inner_html(&column);
        let guess = guess_text(self.guess.texture, self.guess.pores_pct);
        put(&part("guessed"), &guess);
    }

    fn write_figure(&self, place: &Element, of: Shown, outcome: &Outcome) {
        let [lying, blend] = shown_told(of, outcome, self.speech);
        let (value, range) = match blend {
            _ if self.hidden => (label_of_lectern("hidden").to_owned(), String::new()),
            Some(told) => (told.value, told.range),
            None => (label_of_lectern("no_number").to_owned(), String::new()),
        };
        let lying = lying.map_or(String::new(), |told| {
            [label_of_lectern("ground"), " ", &told.value].concat()
        });
        // The unit is smaller than the number.
        let (number, unit) = value.rsplit_once([' ', '\u{a0}']).unwrap_or((&value, ""));
        let texts = [shown_name(of), number, unit, &range, &lying];
        for (name, text) in ["name", "value", "unit-of", "range", "before"]
            .into_iter()
            .zip(texts)
        {
            let selector = [".", name].concat();
            if let Some(place) = place.query_selector(&selector) {
                put(&place, text);
            }
        }
    }

    /// Lets the outcome be seen.
    fn show(&mut self) {
        self.hidden = false;
        self.write();
        put(&part("says"), "");
        put(&part("status"), &self.told());
    }

    /// Hides it for a guess, which begins at the ground.
    fn ask(&mut self) {
        self.hidden = true;
        let outcome = self.outcome.as_ref();
        self.guess.texture = outcome.and_then(|outcome| outcome.ground.fractions_pct);
        self.write();
        put(&part("says"), label_of_lectern("waits"));
        focus(&part("triangle"));
    }

    fn guess_texture(&mut self, texture: [f64; 3]) {
        self.guess.texture = Some(texture);
        self.write();
    }

    fn guess_pores(&mut self, pores_pct: f64) {
        self.guess.pores_pct = Some(within(pores_pct, 0.0, 100.0));
        self.write();
    }

    /// The recipe that is shown, with all steps of its sequence.
    fn whole(&self) -> Recipe {
        let mut recipe = self.recipe.clone();
        recipe.lectern = self.base.lectern.clone();
        recipe
    }
}

/// Where something happened, in units of a drawing.
fn spot(event: &Event, drawing: &Element, [wide, high]: [f64; 2]) -> [f64; 2] {
    let area = drawing.get_bounding_client_rect();
    // The drawing keeps its proportions and stands in the middle of its box.
    let scale = (area.width() / wide).min(area.height() / high);
    [
        (event.client_x() - area.left() - (area.width() - scale * wide) / 2.0) / scale,
        (event.client_y() - area.top() - (area.height() - scale * high) / 2.0) / scale,
    ]
}

/// The nearest texture, in whole percent.
fn texture_at(point: [f64; 2]) -> [f64; 3] {
    let [sand, _, clay] = TRIANGLE.fractions_pct(point);
    let whole = |share: f64, most: f64| within((share + 0.5).floor(), 0.0, most);
    let clay = whole(clay, 100.0);
    let sand = whole(sand, 100.0 - clay);
    [sand, 100.0 - sand - clay, clay]
}

fn click(event: &Event) {
    if let Some(drawing) = dom::closest(event, "[data-part=triangle]") {
        let texture = texture_at(spot(event, &drawing, TRIANGLE_SIZE));
        with_lectern(|lectern| lectern.guess_texture(texture));
        // The arrow keys go through the steps again.
        return focus(&part("stage"));
    }
    if let Some(drawing) = dom::closest(event, "[data-part=column]") {
        let [_, y] = spot(event, &drawing, COLUMN_SIZE);
        let pores_pct = ((y - BARS[0]) / BARS[1] * 100.0).round();
        with_lectern(|lectern| lectern.guess_pores(pores_pct));
        return focus(&part("stage"));
    }
    let Some(button) = dom::closest(event, "button") else {
        return;
    };
    act(&button.get_attribute("data-part").unwrap_or_default());
}

fn act(what: &str) {
    match what {
        "leave" => leave(),
        "back" => with_lectern(|lectern| lectern.turn(false)),
        "next" => with_lectern(|lectern| lectern.turn(true)),
        "show" => {
            with_lectern(Lectern::show);
            focus(&part("stage"));
        }
        "guess" => with_lectern(Lectern::ask),
        "full" => full_screen(),
        "add" => add(),
        "keep" => keep(),
        _ => {}
    }
}

/// Adds the moment to the recipe's own steps.
fn add() {
    let mut whole = None;
    with_lectern(|lectern| {
        if lectern.steps.len() >= STEPS_LIMIT {
            return put(&part("says"), label_of_lectern("too_many"));
        }
        let mut step = Step::of_moment(&lectern.recipe, "");
        step.moves = lectern.moved.map(Moved::path);
        step.figures = lectern.step().figures;
        lectern.steps.push(step);
        let mut recipe = lectern.base.clone();
        set_steps(&mut recipe, &lectern.steps);
        whole = Some((recipe, lectern.steps.len()));
    });
    if let Some((recipe, count)) = whole {
        let wrong = page::take(&to_letters(&recipe), false);
        begin(OWN);
        with_lectern(|lectern| lectern.go(count - 1));
        put(&part("says"), &wrong);
    }
}

/// The page goes on with what is shown here.
fn keep() {
    let mut whole = None;
    with_lectern(|lectern| whole = Some((lectern.whole(), lectern.id != OWN)));
    if let Some((recipe, another)) = whole {
        let wrong = page::take(&to_letters(&recipe), another);
        let done = if wrong.is_empty() {
            label_of_lectern("kept")
        } else {
            &wrong
        };
        put(&part("says"), done);
    }
}

fn full_screen() {
    if document().fullscreen_element().is_some() {
        let _ = document().exit_fullscreen();
        return;
    }
    let refused = || put(&part("says"), label_of_lectern("no_full"));
    match part("stage").request_fullscreen() {
        Ok(promise) => {
            let done = Closure::once_into_js(|_: JsValue| {});
            promise.then(&done, &Closure::once_into_js(move |_: JsValue| refused()));
        }
        Err(_) => refused(),
    }
}

fn input(event: &Event) {
    let Some(control) = dom::closest(event, "[name]") else {
        return;
    };
    let text = value(&control);
    match control.get_attribute("name").as_deref() {
        Some("lectern-sequence") => begin(&text),
        Some("lectern-moves") => with_lectern(|lectern| {
            lectern.moved = Moved::of_path(&text, &lectern.recipe);
            lectern.fill_slider();
            lectern.write();
        }),
        Some("lectern-slider") => {
            if let crate::words::Typed::Number(to) = crate::words::parse_typed(&text) {
                with_lectern(|lectern| lectern.slide(to));
            }
        }
        _ => {}
    }
}

/// Keys of a keyboard, and those that a presenter's remote sends.
fn key(event: &Event) {
    // A tool that lies over it has its own.
    let covered = form::dialog().is_some_and(|dialog| dialog.open());
    if covered || !layer().open() || event.ctrl_key() || event.meta_key() || event.alt_key() {
        return;
    }
    let Some(key) = event.key() else {
        return;
    };
    let within = |selector: &str| dom::closest(event, selector).is_some();
    let arrow = key.starts_with("Arrow");
    // Arrow keys belong to what has the focus.
    if arrow && within("input, select") {
        return;
    }
    if arrow && within("[data-part=triangle], [data-part=column]") {
        event.prevent_default();
        let in_triangle = within("[data-part=triangle]");
        return with_lectern(|lectern| lectern.nudge(&key, in_triangle));
    }
    match key.as_str() {
        "PageDown" | "ArrowRight" | "ArrowDown" => act("next"),
        "PageUp" | "ArrowLeft" | "ArrowUp" => act("back"),
        "Home" if !within("input") => with_lectern(|lectern| lectern.go(0)),
        "End" if !within("input") => with_lectern(|lectern| lectern.go(usize::MAX)),
        " " if !within("button, select") => {
            let mut hidden = false;
            with_lectern(|lectern| hidden = lectern.hidden);
            act(if hidden { "show" } else { "next" });
        }
        "g" | "G" if !within("select") => act("guess"),
        "f" | "F" if !within("select") => act("full"),
        _ => return,
    }
    event.prevent_default();
}

impl Lectern {
    /// Moves a guess by a key.
    fn nudge(&mut self, key: &str, in_triangle: bool) {
        let up = match key {
            "ArrowUp" | "ArrowRight" => 1.0,
            _ => -1.0,
        };
        if !in_triangle {
            // Pores reach from the top down.
            let now = self.guess.pores_pct.unwrap_or(50.0);
            return self.guess_pores(now - up);
        }
        let ground = self
            .outcome
            .as_ref()
            .and_then(|outcome| outcome.ground.fractions_pct);
        let start = ground.unwrap_or([40.0, 40.0, 20.0]);
        let [sand, silt, clay] = self.guess.texture.unwrap_or(start);
        let moved = if matches!(key, "ArrowUp" | "ArrowDown") {
            // Clay, the others in proportion.
            let to = within(clay + up, 0.0, 100.0);
            let share = if sand + silt > 0.0 {
                sand / (sand + silt)
            } else {
                0.5
            };
            let sand = (100.0 - to) * share;
            [sand, 100.0 - to - sand, to]
        } else {
            let silt = within(silt + up, 0.0, 100.0 - clay);
            [100.0 - clay - silt, silt, clay]
        };
        self.guess_texture(moved);
    }
}
