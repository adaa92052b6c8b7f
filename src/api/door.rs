//! The functions that JavaScript calls. What comes in is read by [`super::value`], what goes out is
//! written by `serde-wasm-bindgen`; what lies between is that of the rooms beside.

use super::{Issue, TYPES, value};
use crate::recipe::{Fault, Path, RELEASE};
use crate::texture::System;
use crate::tongue::{Language, speak as speak_in};
use crate::words::{METRIC, Speech, Units};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use std::cell::Cell;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(typescript_custom_section)]
const _: &'static str = TYPES;

/// As plain objects and lists. Only what is told twice under one name could not be written.
fn told(answer: &impl Serialize) -> JsValue {
    let serializer = Serializer::json_compatible();
    answer.serialize(&serializer).unwrap_or(JsValue::UNDEFINED)
}

/// Words for units.
const UNITS: [(&str, Units); 2] = [("metric", Units::Metric), ("us", Units::Us)];

thread_local! {
    static SPEECH: Cell<Speech> = const { Cell::new(METRIC) };
}

/// What a recipe becomes.
#[wasm_bindgen(unchecked_return_type = "OutcomeAnswer")]
#[allow(unreachable_pub)] // its caller is the glue
pub fn evaluate(
    #[wasm_bindgen(unchecked_param_type = "Recipe | string")] recipe: &JsValue,
) -> JsValue {
    told(&super::evaluate(value::tree(recipe), SPEECH.get()))
}

/// Whether a recipe reads and can be mixed: every issue of its fields, then the first that stands in the
/// way of mixing; or the recipe as it is written.
#[wasm_bindgen(unchecked_return_type = "RecipeAnswer")]
#[allow(unreachable_pub)]
pub fn check(
    #[wasm_bindgen(unchecked_param_type = "Recipe | string")] recipe: &JsValue,
) -> JsValue {
    told(&super::check(value::tree(recipe)))
}

/// The letters that stand for a recipe behind the `#` of an address.
#[wasm_bindgen(unchecked_return_type = "LettersAnswer")]
#[allow(unreachable_pub)]
pub fn encode(
    #[wasm_bindgen(unchecked_param_type = "Recipe | string")] recipe: &JsValue,
) -> JsValue {
    told(&super::encode(value::tree(recipe)))
}

/// The recipe of such letters, or of a whole address.
#[wasm_bindgen(unchecked_return_type = "RecipeAnswer")]
#[allow(unreachable_pub)]
pub fn decode(#[wasm_bindgen(unchecked_param_type = "string")] letters: &JsValue) -> JsValue {
    match value::text(letters, &Path::root()) {
        Ok(letters) => told(&super::decode(&letters)),
        Err(issue) => refused("recipe", issue),
    }
}

/// The texture class of sand, silt and clay in percent that sum to 100.
#[wasm_bindgen(unchecked_return_type = "ClassAnswer")]
#[allow(unreachable_pub)]
pub fn classify(
    #[wasm_bindgen(unchecked_param_type = "number")] sand: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "number")] silt: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "number")] clay: &JsValue,
    #[wasm_bindgen(unchecked_optional_param_type = "System")] system: &JsValue,
) -> JsValue {
    let fractions_pct = [sand, silt, clay].map(JsValue::as_f64);
    match word_at("system", system) {
        Ok(system) => told(&super::classify(fractions_pct, system.as_deref())),
        Err(issue) => refused("class", issue),
    }
}

/// Sand, silt and clay in percent that sum to 100, by the limits of size of another system.
#[wasm_bindgen(unchecked_return_type = "FractionsAnswer")]
#[allow(unreachable_pub)]
pub fn convert(
    #[wasm_bindgen(unchecked_param_type = "number")] sand: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "number")] silt: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "number")] clay: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "System")] to: &JsValue,
    #[wasm_bindgen(unchecked_optional_param_type = "System")] from: &JsValue,
) -> JsValue {
    let fractions_pct = [sand, silt, clay].map(JsValue::as_f64);
    let systems = needed("to", to).and_then(|to| Ok((to, word_at("from", from)?)));
    match systems {
        Ok((to, from)) => {
            let from = from.as_deref().unwrap_or(System::Usda.id());
            told(&super::convert(fractions_pct, from, &to))
        }
        Err(issue) => refused("fractions", issue),
    }
}

/// From now on sentences and names are told in a language. Where that is not English, what
/// `barrowmix_api.es.txt` or another such file holds is given with it, once.
#[wasm_bindgen(unchecked_return_type = "LanguageAnswer")]
#[allow(unreachable_pub)]
pub fn speak(
    #[wasm_bindgen(unchecked_param_type = "Language")] language: &JsValue,
    #[wasm_bindgen(unchecked_optional_param_type = "string")] texts: &JsValue,
) -> JsValue {
    told(&super::Answer::new("language", spoken(language, texts)))
}

fn spoken(language: &JsValue, texts: &JsValue) -> Result<&'static str, Vec<Issue>> {
    let found = needed("language", language).map_err(|issue| vec![issue])?;
    let texts = word_at("texts", texts).map_err(|issue| vec![issue])?;
    let Some(language) = Language::ALL.into_iter().find(|of| of.tag() == found) else {
        return Err(none_of(
            "language",
            found,
            Language::ALL.map(Language::tag).into(),
        ));
    };
    if !speak_in(language, texts.as_deref()) {
        return Err(vec![Fault::Missing.at("texts").into()]);
    }
    Ok(language.tag())
}

/// From now on sentences are told in these units. Numbers stay what their names say.
#[wasm_bindgen(unchecked_return_type = "UnitsAnswer")]
#[allow(unreachable_pub)]
pub fn measure_in(#[wasm_bindgen(unchecked_param_type = "Units")] units: &JsValue) -> JsValue {
    let found = needed("units", units).map_err(|issue| vec![issue]);
    let told_in = found.and_then(|found| {
        let Some((word, units)) = UNITS.iter().find(|(word, _)| *word == found) else {
            return Err(none_of("units", found, UNITS.map(|(word, _)| word).into()));
        };
        SPEECH.set(Speech { units: *units });
        Ok(*word)
    });
    told(&super::Answer::new("units", told_in))
}

fn none_of(field: &str, found: String, allowed: Vec<&'static str>) -> Vec<Issue> {
    vec![Fault::NotOneOf { found, allowed }.at(field).into()]
}

fn refused(name: &'static str, issue: Issue) -> JsValue {
    told(&super::Answer::<()>::new(name, Err(vec![issue])))
}

/// A text; none where nothing was given.
fn word_at(field: &str, given: &JsValue) -> Result<Option<String>, Issue> {
    if given.is_undefined() {
        return Ok(None);
    }
    value::text(given, &Path::from(field)).map(Some)
}

/// A text that must be there.
fn needed(field: &str, given: &JsValue) -> Result<String, Issue> {
    word_at(field, given)?.ok_or_else(|| Fault::Missing.at(field).into())
}

/// Every material of the catalogue.
#[wasm_bindgen(unchecked_return_type = "Material[]")]
#[allow(unreachable_pub)]
pub fn materials() -> JsValue {
    told(&super::materials())
}

/// The systems of texture classes, the usual one first.
#[wasm_bindgen(unchecked_return_type = "SystemOfClasses[]")]
#[allow(unreachable_pub)]
pub fn systems() -> JsValue {
    told(&super::systems())
}

/// The release of this library.
#[wasm_bindgen]
#[allow(unreachable_pub)]
pub fn release() -> String {
    RELEASE.to_owned()
}
