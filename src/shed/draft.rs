//! What was typed into a tool that was closed without being used: it is there when the tool is
//! opened again.

use super::Tool;
use super::form::{set_value, value};
use crate::dom::Element;
use std::cell::RefCell;

/// Tools whose numbers are measurements: they stay true whatever becomes of the recipe.
const MEASURED: [&str; 6] = ["jar", "can", "fill", "dug", "report", "crumbs"];
/// Tools that begin with what the recipe holds: theirs is kept while that is the same.
const OF_RECIPE: [&str; 6] = ["ranges", "parts", "line", "material", "measure", "dose"];

struct Draft {
    tool: String,
    /// The recipe that it was typed for.
    recipe: String,
    values: Vec<String>,
}

thread_local! {
    static DRAFTS: RefCell<Vec<Draft>> = const { RefCell::new(Vec::new()) };
}

/// Whether a tool begins with what the recipe holds.
pub(super) fn is_of_recipe(tool: &str) -> bool {
    OF_RECIPE.contains(&tool)
}

fn is_choice(field: &Element) -> bool {
    field.get_attribute("type").as_deref() == Some("radio")
}

/// What a field holds; of a drawn choice, whether it is the one.
fn kept(field: &Element) -> String {
    if !is_choice(field) {
        return value(field);
    }
    String::from(if field.checked() { "1" } else { "" })
}

fn put(field: &Element, kept: &str) {
    if is_choice(field) {
        field.set_checked(!kept.is_empty());
    } else {
        set_value(field, kept);
    }
}

/// Keeps what the open tool holds now.
pub(super) fn keep(tool: &Tool) {
    let name = tool.name.as_str();
    if name == "steps" {
        return super::steps::keep(tool);
    }
    if !MEASURED.contains(&name) && !OF_RECIPE.contains(&name) {
        return;
    }
    let fields = tool.form.all("[name]");
    let draft = Draft {
        tool: tool.key.clone(),
        recipe: tool.letters.clone(),
        values: fields.iter().map(kept).collect(),
    };
    DRAFTS.with(|drafts| {
        let mut drafts = drafts.borrow_mut();
        drafts.retain(|known| known.tool != draft.tool);
        drafts.push(draft);
    });
}

/// Fills the open tool with what was typed before; whether there was something.
pub(super) fn fill(tool: &Tool) -> bool {
    let measured = MEASURED.contains(&tool.name.as_str());
    DRAFTS.with(|drafts| {
        let drafts = drafts.borrow();
        let fits =
            |draft: &&Draft| draft.tool == tool.key && (measured || draft.recipe == tool.letters);
        let Some(draft) = drafts.iter().find(fits) else {
            return false;
        };
        let fields = tool.form.all("[name]");
        if fields.len() != draft.values.len() {
            return false;
        }
        for (field, value) in fields.iter().zip(&draft.values) {
            put(field, value);
        }
        true
    })
}

/// What was used stands in the recipe now; measurements stay for another look.
pub(super) fn used(tool: &Tool) {
    if MEASURED.contains(&tool.name.as_str()) {
        return;
    }
    if tool.name == "steps" {
        super::steps::forget();
    }
    DRAFTS.with(|drafts| drafts.borrow_mut().retain(|known| known.tool != tool.key));
}

/// Forgets everything.
pub(super) fn forget() {
    super::steps::forget();
    DRAFTS.with(|drafts| drafts.borrow_mut().clear());
}
