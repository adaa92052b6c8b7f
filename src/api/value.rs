//! Any value of JavaScript as a tree. Reading one runs code of others (getters, proxies), so all of
//! it is caught; and it can be endless, so depth, number and letters are counted.

use super::{Issue, LETTERS_LIMIT, Strange, VALUES_LIMIT};
use crate::recipe::{DEPTH_LIMIT, Fault, Kind, Path, Tree};
use js_sys::{Array, JsString, Reflect};
use wasm_bindgen::prelude::*;

// Bound here since `js-sys` lets these throw.
#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(catch, js_namespace = Object, js_name = keys)]
    fn keys(of: &JsValue) -> Result<Array, JsValue>;
    #[wasm_bindgen(catch, js_namespace = Array, js_name = isArray)]
    fn is_list(value: &JsValue) -> Result<bool, JsValue>;
    #[wasm_bindgen(catch, js_namespace = ["Object", "prototype", "toString"], js_name = call)]
    fn kind(value: &JsValue) -> Result<JsString, JsValue>;
}

/// The document in a value: an object, or a text of JSON.
pub(super) fn tree(value: &JsValue) -> Result<Tree, Issue> {
    if value.is_string() {
        return super::read(&text(value, &Path::root())?);
    }
    if !value.is_object() {
        return Err(Fault::Kind(Kind::Object).at(Path::root()).into());
    }
    let mut reader = Reader {
        values: VALUES_LIMIT,
        letters: LETTERS_LIMIT,
    };
    reader.tree(value, &Path::root(), DEPTH_LIMIT)
}

/// A text that is one.
pub(super) fn text(value: &JsValue, path: &Path) -> Result<String, Issue> {
    let mut letters = LETTERS_LIMIT;
    text_of(value, path, &mut letters)
}

fn text_of(value: &JsValue, path: &Path, letters: &mut usize) -> Result<String, Issue> {
    let Some(value) = value.dyn_ref::<JsString>() else {
        return Err(Fault::Kind(Kind::Text).at(path.clone()).into());
    };
    let left = letters.checked_sub(value.length() as usize);
    *letters = left.ok_or_else(|| Strange::TooLarge.at(path))?;
    let text = String::from(value);
    // What stands in place of half a letter may have stood there itself.
    if text.contains('\u{fffd}') && !value.is_valid_utf16() {
        return Err(Strange::HalfLetter.at(path));
    }
    Ok(text)
}

/// How much more may come.
struct Reader {
    values: usize,
    letters: usize,
}

impl Reader {
    fn tree(&mut self, value: &JsValue, path: &Path, depth: usize) -> Result<Tree, Issue> {
        self.values = self
            .values
            .checked_sub(1)
            .ok_or_else(|| Strange::TooLarge.at(path))?;
        if let Some(value) = value.as_f64() {
            return Ok(number(value));
        }
        if let Some(value) = value.as_bool() {
            return Ok(Tree::Bool(value));
        }
        if value.is_string() {
            return text_of(value, path, &mut self.letters).map(Tree::Text);
        }
        // As in JSON: nothing in a list is null.
        if value.is_null() || value.is_undefined() {
            return Ok(Tree::Null);
        }
        if !value.is_object() || value.is_function() {
            return Err(Strange::NoData.at(path));
        }
        let Some(depth) = depth.checked_sub(1) else {
            return Err(Strange::TooDeep.at(path));
        };
        let unreadable = |_| Strange::Unreadable.at(path);
        if is_list(value).map_err(unreadable)? {
            return self.list(value, path, depth);
        }
        if !is_plain(value).map_err(unreadable)? {
            return Err(Strange::NoData.at(path));
        }
        self.object(value, path, depth)
    }

    fn list(&mut self, value: &JsValue, path: &Path, depth: usize) -> Result<Tree, Issue> {
        let length = Reflect::get(value, &"length".into());
        let length = length.map_err(|_| Strange::Unreadable.at(path))?;
        // The length of a proxy may be anything; what is no number is nothing.
        let length = length.as_f64().unwrap_or(0.0);
        if length > self.values as f64 {
            return Err(Strange::TooLarge.at(path));
        }
        let mut items = Vec::new();
        for index in 0..length as u32 {
            let path = path.item(index as usize);
            let item = Reflect::get_u32(value, index);
            let item = item.map_err(|_| Strange::Unreadable.at(&path))?;
            items.push(self.tree(&item, &path, depth)?);
        }
        Ok(Tree::List(items))
    }

    fn object(&mut self, value: &JsValue, path: &Path, depth: usize) -> Result<Tree, Issue> {
        let keys = keys(value).map_err(|_| Strange::Unreadable.at(path))?;
        let mut pairs = Vec::new();
        for key in keys.iter() {
            let name = text_of(&key, path, &mut self.letters)?;
            let path = path.field(&name);
            let item = Reflect::get(value, &key).map_err(|_| Strange::Unreadable.at(&path))?;
            // As in JSON: a field that holds nothing is none.
            if !item.is_undefined() {
                pairs.push((name, self.tree(&item, &path, depth)?));
            }
        }
        Ok(Tree::Object(pairs))
    }
}

/// Whether a value says that it is an object and nothing beside: no map, date, promise or the like.
fn is_plain(value: &JsValue) -> Result<bool, JsValue> {
    const PLAIN: &str = "[object Object]";
    let kind = kind(value)?;
    Ok(kind.length() as usize == PLAIN.len() && kind == PLAIN)
}

/// What is no finite number is told with its limits, as a number too large to be one is.
fn number(value: f64) -> Tree {
    if value.is_finite() {
        Tree::number(value)
    } else {
        Tree::Number("1e999".to_owned())
    }
}
