//! The ground's texture by pressing the triangle, and by the arrow keys on it.

use super::edit::{linked_fractions, set_fractions};
use super::{Page, with_page};
use crate::dom::{self, Element, Event, closest};
use crate::figure::within;
use crate::plot::TRIANGLE;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter, js_name = clientX)]
    fn client_x(this: &Event) -> i32;
    #[wasm_bindgen(method, getter, js_name = clientY)]
    fn client_y(this: &Event) -> i32;
}

/// How far outside the triangle a press still counts, in units of the drawing.
const NEAR: f64 = 12.0;
/// The drawing's width in its own units.
const WIDE: f64 = 460.0;

pub(super) fn listen() {
    dom::on("click", |event| {
        if let Some(triangle) = closest(&event, "#triangle") {
            with_page(|page| press(page, &event, &triangle));
        }
    });
    dom::on("keydown", |event| key(&event));
}

/// Takes the texture under the pointer, in whole percent.
fn press(page: &mut Page, event: &Event, triangle: &Element) {
    let area = triangle.get_bounding_client_rect();
    // The drawing keeps its proportions and stands in the middle of its box.
    let scale = (area.width() / WIDE).min(area.height() / 372.0);
    let left = area.left() + (area.width() - scale * WIDE) / 2.0;
    let top = area.top() + (area.height() - scale * 372.0) / 2.0;
    let at = [
        (f64::from(event.client_x()) - left) / scale,
        (f64::from(event.client_y()) - top) / scale,
    ];
    let [sand, _, clay] = TRIANGLE.fractions_pct(at);
    let whole = |share: f64| (share + 0.5).floor();
    let (sand, clay) = (whole(sand), whole(clay));
    let texture = [sand, 100.0 - sand - clay, clay];
    let [x, y] = TRIANGLE.point(texture);
    let (dx, dy) = (x - at[0], y - at[1]);
    if texture[1] >= 0.0 && dx * dx + dy * dy < NEAR * NEAR {
        set_fractions(page, texture);
        page.settle();
    }
}

/// Up and down for clay, left for sand, right for silt; undo and redo anywhere but in a text.
fn key(event: &Event) {
    let Some(key) = event.key() else {
        return;
    };
    let with_control = event.ctrl_key() || event.meta_key();
    let steps = match key.as_str() {
        "z" | "Z" | "y" | "Y" if with_control => {
            // What is being typed is the browser's to undo, and so is a tool that is open.
            let in_text = closest(event, "input[type=text], textarea").is_some();
            with_page(|page| {
                if !(in_text && page.typing) && dom::find("dialog[open]").is_none() {
                    event.prevent_default();
                    page.step(matches!(key.as_str(), "z" | "Z") && !event.shift_key());
                }
            });
            return;
        }
        _ if with_control || event.alt_key() => return,
        "ArrowUp" => (2, 1.0),
        "ArrowDown" => (2, -1.0),
        "ArrowLeft" => (1, -1.0),
        "ArrowRight" => (1, 1.0),
        _ => return,
    };
    if closest(event, "#triangle").is_none() {
        return;
    }
    event.prevent_default();
    with_page(|page| {
        let now = page.recipe.ground.fractions_pct();
        let (moved, step) = steps;
        let texture = if moved == 2 {
            linked_fractions(now, 2, within(now[2] + step, 0.0, 100.0))
        } else {
            // Clay stays: silt against sand.
            let silt = within(now[1] + step, 0.0, 100.0 - now[2]);
            [100.0 - now[2] - silt, silt, now[2]]
        };
        set_fractions(page, texture);
        page.moved = Some("triangle".to_owned());
        page.settle();
    });
}
