//! Files, the clipboard, and what this browser keeps.

use super::browser::{Blob, Bytes, File, create_object_url, revoke_object_url};
use super::form::{button, put};
use super::{Tool, page, say, systems};
use crate::dom::{by_id, listen, make, set, window};
use crate::memory::{self, BETWEEN, KEPT, OURS};
use crate::outcome::Outcome;
use crate::recipe::lectern::steps;
use crate::recipe::own::materials_from_json;
use crate::recipe::{Path, Recipe, RecipeError, from_letters, to_letters};
use crate::words::{
    error_text, file_name, label_of_shed, outcome_as_text, page_fault_text, too_large_text,
};
use wasm_bindgen::prelude::*;

/// Largest file that is read, bytes (a choice: 64 additions and as many materials with ranges for
/// all their numbers stay below it).
const FILE_LIMIT: f64 = 1_000_000.0;
/// Lets the user choose a file: a recipe, or materials for this one.
pub(super) fn choose(materials: bool) {
    let chooser = make("input");
    set(&chooser, "type", "file");
    set(&chooser, "accept", ".json,application/json");
    let chosen = chooser.clone();
    listen(&chooser, "change", move |_| {
        if let Some(file) = chosen.files().item(0) {
            open(&file, materials);
        }
    });
    // Some browsers open it only for an element of the page, and tests look for it there.
    set(&chooser, "class", "unseen");
    set(&chooser, "id", "shed-file");
    if let Some(old) = crate::dom::find("#shed-file") {
        old.remove();
    }
    if let Some(body) = by_id("shed").parent_element() {
        body.append_child(&chooser);
    }
    chooser.click();
}

/// Reads a file, and goes on with what it holds.
pub(super) fn open(file: &File, materials: bool) {
    if file.size() > FILE_LIMIT {
        say(label_of_shed("open_title"), &too_large_text(file.size()));
        return;
    }
    let read = Closure::once_into_js(move |bytes: JsValue| {
        taken(&Bytes::new(&bytes).slice(), materials);
    });
    let refused = Closure::once_into_js(move |_: JsValue| {
        say(label_of_shed("open_title"), label_of_shed("unreadable"));
    });
    file.array_buffer().then(&read, &refused);
}

fn taken(bytes: &[u8], materials: bool) {
    let recipe = Recipe::from_bytes(bytes);
    let text = std::str::from_utf8(bytes).unwrap_or_default();
    let has_materials = materials_from_json(text);
    match (recipe, has_materials) {
        (Ok(recipe), _) if !materials => {
            if let Err(error) = steps(&recipe) {
                return say(label_of_shed("open_title"), &error_text(&error));
            }
            let wrong = page::take(&to_letters(&recipe), true);
            if !wrong.is_empty() {
                say(label_of_shed("open_title"), &wrong);
            } else if let Some(dialog) = super::form::dialog() {
                dialog.close();
            }
        }
        (_, Ok(list)) => super::own::take_in(list),
        // A list of materials has no ground: what is wrong with it is what its own reader says.
        (Err(error), Err(_)) if !materials && text.contains("\"ground\"") => {
            say(label_of_shed("open_title"), &told(&error));
        }
        (_, Err(error)) => say(label_of_shed("open_title"), &told(&error)),
    }
}

/// What is wrong with a file; the path of the whole says nothing.
fn told(error: &RecipeError) -> String {
    if error.path == Path::root() {
        page_fault_text(&error.fault)
    } else {
        error_text(error)
    }
}

/// Hands the recipe to the browser as a file.
pub(super) fn save() {
    if let Ok(recipe) = from_letters(&page::recipe()) {
        let name = file_name(recipe.title.as_deref(), "barrowmix.json");
        download(&name, &recipe.to_json());
    }
}

/// Hands a text to the browser as a file.
pub(super) fn download(name: &str, text: &str) {
    download_blob(name, &Blob::new(vec![JsValue::from_str(text)]));
}

/// Hands what a blob holds to the browser as a file.
pub(super) fn download_blob(name: &str, blob: &Blob) {
    let Ok(url) = create_object_url(blob) else {
        not_saved();
        return;
    };
    let link = make("a");
    set(&link, "href", &url);
    set(&link, "download", name);
    link.click();
    revoke_object_url(&url);
}

/// Says that the browser let no file be saved.
pub(super) fn not_saved() {
    say(label_of_shed("save_title"), label_of_shed("not_saved"));
}

/// The result as text, shown and copied.
pub(super) fn fill_text(tool: &Tool) {
    let text = match Outcome::of(&tool.recipe) {
        Ok(outcome) => {
            let text = outcome_as_text(&tool.recipe, &outcome, tool.speech);
            match systems::line(&outcome) {
                Some(line) => [text.trim_end(), "\n\n", &line, "\n"].concat(),
                None => text,
            }
        }
        Err(error) => error_text(&error),
    };
    tool.form.set("text", &text);
    if let Some(clipboard) = window().navigator().clipboard() {
        let quiet = Closure::once_into_js(|_: JsValue| {});
        clipboard.write_text(&text).then(&JsValue::NULL, &quiet);
    }
}

fn kept() -> Vec<String> {
    let text = memory::read(KEPT).unwrap_or_default();
    let texts = memory::items(&text);
    let texts = texts.into_iter().filter(|text| !text.is_empty());
    texts.map(str::to_owned).collect()
}

pub(super) fn fill_kept(tool: &Tool) {
    let list = tool.form.list("kept");
    let kept = kept();
    if kept.is_empty() {
        put(&list, "li", label_of_shed("kept_none"));
    }
    for (index, text) in kept.iter().enumerate() {
        let item = make("li");
        let recipe = from_letters(text);
        let name = match &recipe {
            Ok(recipe) => crate::words::recipe_in_a_line(recipe),
            // Not lost, though it cannot be opened here: the file has it as it was.
            Err(_) => label_of_shed("kept_broken").to_owned(),
        };
        put(&item, "span", &name);
        let index = index.to_string();
        item.append_child(&button(
            "open-kept",
            &index,
            label_of_shed(if recipe.is_ok() {
                "kept_open"
            } else {
                "kept_file"
            }),
        ));
        item.append_child(&button("delete-kept", &index, label_of_shed("delete")));
        list.append_child(&item);
    }
}

pub(super) fn open_kept(value: &str) {
    let kept = kept();
    let Some(text) = value
        .parse::<usize>()
        .ok()
        .and_then(|index| kept.get(index))
    else {
        return;
    };
    match from_letters(text) {
        Ok(_) => {
            page::take(text, true);
            super::close();
        }
        Err(_) => download(&file_name(None, "txt"), text),
    }
}

pub(super) fn delete_kept(value: &str) {
    let mut kept = kept();
    if let Some(index) = value
        .parse::<usize>()
        .ok()
        .filter(|index| *index < kept.len())
    {
        kept.remove(index);
    }
    memory::write(KEPT, &kept.join(BETWEEN));
}

/// Takes everything of this page out of the browser's memory.
pub(super) fn forget() {
    if let Some(storage) = memory::storage() {
        let keys: Vec<String> = (0..storage.length().unwrap_or(0))
            .filter_map(|index| storage.key(index).ok()?)
            .filter(|key| key.starts_with(OURS))
            .collect();
        for key in keys {
            let _ = storage.remove_item(&key);
        }
    }
    super::draft::forget();
    page::forget();
}
