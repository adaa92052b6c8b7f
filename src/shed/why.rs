//! Where a figure comes from.

use super::Tool;
use super::form::put;
use crate::dom::{make, set};
use crate::outcome::Outcome;
use crate::recipe::from_letters;
use crate::words::{Asked, error_text, why};

pub(super) fn fill(tool: &mut Tool, of: &str) {
    let form = &tool.form;
    let Some(of) = Asked::from_id(of) else {
        return;
    };
    // A year that is shown is explained as it is shown.
    let shown = super::seasons::shown().and_then(|letters| from_letters(&letters).ok());
    let recipe = shown.as_ref().unwrap_or(&tool.recipe);
    let outcome = match Outcome::of(recipe) {
        Ok(outcome) => outcome,
        Err(error) => {
            form.write("[data-part=made]", &error_text(&error));
            return;
        }
    };
    let why = why(of, recipe, &outcome, tool.speech);
    form.write("#shed-title", &why.title);
    form.write("[data-part=made]", &why.made);
    let list = form.list("equations");
    for equation in &why.equations {
        put(&list, "dt", &equation.name);
        put(&list, "dd", &equation.source);
        put(&list, "dd", &equation.holds);
    }
    let list = form.list("inputs");
    for (name, value) in &why.inputs {
        let row = make("tr");
        set(&put(&row, "th", name), "scope", "row");
        put(&row, "td", value);
        list.append_child(&row);
    }
    let list = form.list("limits");
    for limit in &why.limits {
        let item = put(&list, "li", &limit.text);
        if !limit.inside {
            set(&item, "class", "warn");
        }
    }
    form.write("[data-part=rests]", &why.rests_on);
}
