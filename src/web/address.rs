//! The recipe in the address, and the units in the browser's memory. Storage may be full, blocked
//! or throw; the page then goes on without it.

use crate::dom::{Promise, Window, document, window};
use crate::memory::{self, UNITS};
use crate::outcome::Outcome;
use crate::recipe::{RELEASE, Recipe, RecipeError, from_link, to_link};
use crate::words::Units;
use wasm_bindgen::prelude::*;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(method, getter)]
    fn location(this: &Window) -> Location;
    #[wasm_bindgen(method, getter)]
    fn history(this: &Window) -> History;

    type Location;
    #[wasm_bindgen(method, getter)]
    fn hash(this: &Location) -> String;
    #[wasm_bindgen(method, getter)]
    fn pathname(this: &Location) -> String;
    #[wasm_bindgen(method, getter)]
    fn search(this: &Location) -> String;
    #[wasm_bindgen(method, getter)]
    fn href(this: &Location) -> String;

    type History;
    // A browser refuses what comes too often.
    #[wasm_bindgen(method, catch, js_name = replaceState)]
    fn replace_state(
        this: &History,
        state: &JsValue,
        title: &str,
        address: &str,
    ) -> Result<(), JsValue>;
}

/// The recipe of the address, if it has one.
pub(super) fn read() -> Option<Result<Recipe, RecipeError>> {
    let fragment = window().location().hash();
    let link = fragment.strip_prefix('#')?;
    // An anchor of the page itself is no recipe.
    let is_anchor = document().get_element_by_id(link).is_some();
    (!link.is_empty() && !is_anchor).then(|| {
        let recipe = from_link(link)?;
        // One that cannot be mixed is as broken as one that cannot be read.
        Outcome::of(&recipe)?;
        Ok(recipe)
    })
}

/// Says which release wrote the recipe; one of a later release keeps its own.
pub(super) fn sign(recipe: &mut Recipe) {
    if !recipe.is_of_later_release() {
        recipe.made_by = Some(RELEASE.to_owned());
    }
}

/// Keeps the recipe in the address, without a new entry in the history.
pub(super) fn write(recipe: &mut Recipe) -> Result<(), RecipeError> {
    sign(recipe);
    put(&["#", &to_link(recipe)?].concat());
    Ok(())
}

/// Takes the recipe out of the address; how the page is shown stays in it.
pub(super) fn clear() {
    let location = window().location();
    put(&[location.pathname(), location.search()].concat());
}

fn put(address: &str) {
    let _ = window()
        .history()
        .replace_state(&JsValue::NULL, "", address);
}

/// Copies the address; the promise tells whether the browser allowed it. None without a secure
/// context.
pub(super) fn copy() -> Option<Promise> {
    let clipboard = window().navigator().clipboard()?;
    Some(clipboard.write_text(&window().location().href()))
}

/// The units chosen last time.
pub(super) fn remembered_units() -> Option<Units> {
    match memory::read(UNITS)?.as_str() {
        "us" => Some(Units::Us),
        _ => Some(Units::Metric),
    }
}

/// Remembers the units.
pub(super) fn remember_units(units: Units) {
    let name = match units {
        Units::Metric => "metric",
        Units::Us => "us",
    };
    memory::write(UNITS, name);
}
