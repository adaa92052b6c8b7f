//! What is pressed, dragged and typed at the lectern.

use super::bars::{SIZE, pores_at};
use super::draw::frame;
use super::write::room_of;
use super::{Lectern, OWN, begin, field, layer, leave, part, with_lectern};
use crate::dom::{self, Document, Element, Event, Promise, document, focus, set_hidden};
use crate::figure::within;
use crate::recipe::lectern::{Moved, STEPS_LIMIT, Step, set_steps, shortened};
use crate::recipe::to_letters;
use crate::shed::form::value;
use crate::shed::page;
use crate::shed::section::put;
use crate::words::{Typed, label_of_lectern, parse_typed};
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter, js_name = clientX)]
    pub(in crate::shed) fn client_x(this: &Event) -> f64;
    #[wasm_bindgen(method, getter, js_name = clientY)]
    pub(in crate::shed) fn client_y(this: &Event) -> f64;
    // A browser without it throws here.
    #[wasm_bindgen(method, catch, js_name = requestFullscreen)]
    fn request_fullscreen(this: &Element) -> Result<Promise, JsValue>;
    #[wasm_bindgen(method, catch, js_name = exitFullscreen)]
    pub(super) fn exit_fullscreen(this: &Document) -> Result<Promise, JsValue>;
    #[wasm_bindgen(method, getter, js_name = fullscreenElement)]
    pub(super) fn fullscreen_element(this: &Document) -> Option<Element>;
}

/// How far outside the triangle a press still counts.
const NEAR: f64 = 24.0;

pub(super) fn listen(layer: &Element) {
    dom::listen(layer, "cancel", |event| {
        event.prevent_default();
        leave();
    });
    dom::on("keydown", |event| super::keys::key(&event));
    dom::listen(layer, "input", |event| input(&event));
    dom::listen(layer, "change", |event| {
        if dom::closest(&event, "[name=lectern-caption]").is_some() {
            keep_caption();
        }
    });
    dom::listen(layer, "click", |event| click(&event));
    // The drawings have the size of their room.
    dom::listen(&dom::window(), "resize", |_| {
        if layer_is_open() {
            with_lectern(|lectern| lectern.write());
        }
    });
}

fn layer_is_open() -> bool {
    layer().open()
}

/// Where something happened, in units of a drawing of this size that stands in the middle of its box.
fn spot(event: &Event, drawing: &Element, [wide, high]: [f64; 2]) -> [f64; 2] {
    let area = drawing.get_bounding_client_rect();
    let scale = (area.width() / wide).min(area.height() / high);
    [
        (event.client_x() - area.left() - (area.width() - scale * wide) / 2.0) / scale,
        (event.client_y() - area.top() - (area.height() - scale * high) / 2.0) / scale,
    ]
}

/// The nearest texture, in whole percent; none beside the triangle.
fn texture_at(point: [f64; 2], size: [f64; 2]) -> Option<[f64; 3]> {
    // A point outside has the texture of the nearest one inside.
    let frame = frame(size);
    let all = frame.fractions_pct(point);
    let [x, y] = frame.point(all);
    if (x - point[0]).abs().max((y - point[1]).abs()) > NEAR {
        return None;
    }
    let [sand, _, clay] = all;
    let whole = |share: f64, most: f64| within((share + 0.5).floor(), 0.0, most);
    let clay = whole(clay, 100.0);
    let sand = whole(sand, 100.0 - clay);
    Some([sand, 100.0 - sand - clay, clay])
}

fn click(event: &Event) {
    if let Some(drawing) = dom::closest(event, "[data-part=triangle]") {
        let size = room_of(&drawing);
        let texture = texture_at(spot(event, &drawing, size), size);
        with_lectern(|lectern| {
            // Who points at what is shown does not guess.
            if let Some(texture) = texture.filter(|_| lectern.hidden) {
                lectern.guess(|guess| guess.texture = Some(texture));
            }
        });
        // The arrow keys go through the steps again.
        return focus(&part("stage"));
    }
    if let Some(drawing) = dom::closest(event, "[data-part=column]") {
        let pores_pct = pores_at(spot(event, &drawing, SIZE));
        with_lectern(|lectern| {
            if let Some(pores_pct) = pores_pct.filter(|_| lectern.hidden) {
                lectern.guess(|guess| guess.pores_pct = Some(pores_pct));
            }
        });
        return focus(&part("stage"));
    }
    let Some(button) = dom::closest(event, "button") else {
        return;
    };
    // A menu closes once something of it is chosen.
    if let Some(menu) = dom::around(&button, "details") {
        menu.remove_attribute("open");
    }
    act(&button.get_attribute("data-part").unwrap_or_default());
}

pub(super) fn act(what: &str) {
    keep_caption();
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

/// Adds the moment to the recipe's own steps, and asks for its caption.
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
    let Some((recipe, count)) = whole else {
        return;
    };
    let wrong = page::take(&to_letters(&recipe), false);
    begin(OWN);
    with_lectern(|lectern| lectern.go(count - 1));
    put(&part("says"), &wrong);
    if wrong.is_empty() {
        put(&part("status"), label_of_lectern("added"));
        set_hidden(&part("captioned"), false);
        let caption = field("caption");
        caption.set_value("");
        focus(&caption);
    }
}

/// Keeps the caption that was typed for a moment just added.
pub(super) fn keep_caption() {
    let caption = shortened(&value(&field("caption")));
    let is_shown = part("captioned").get_attribute("hidden").is_none();
    let mut whole = None;
    with_lectern(|lectern| {
        let Some(step) = lectern.steps.get_mut(lectern.at) else {
            return;
        };
        if lectern.id == OWN && is_shown && step.caption != caption {
            step.caption.clone_from(&caption);
            let mut recipe = lectern.base.clone();
            set_steps(&mut recipe, &lectern.steps);
            lectern.base.lectern.clone_from(&recipe.lectern);
            whole = Some(recipe);
        }
    });
    if let Some(recipe) = whole {
        let wrong = page::take(&to_letters(&recipe), false);
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
        put(&part("status"), done);
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
    let number = match parse_typed(&text) {
        Typed::Number(number) => Some(number),
        _ => None,
    };
    match (control.get_attribute("name").as_deref(), number) {
        (Some("lectern-sequence"), _) => begin(&text),
        (Some("lectern-moves"), _) => with_lectern(|lectern| {
            lectern.moved = Moved::of_path(&text, &lectern.recipe);
            lectern.fill_slider();
            lectern.write();
        }),
        (Some("lectern-slider"), Some(to)) => with_lectern(|lectern| lectern.slide(to)),
        (Some("lectern-guess" | "lectern-guess-number"), Some(to)) => {
            with_lectern(|lectern| lectern.guess_figure(to));
        }
        (Some("lectern-caption"), _) => put(&part("caption"), &text),
        _ => {}
    }
}
