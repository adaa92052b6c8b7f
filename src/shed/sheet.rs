//! The sheet of a material, out of the page of all materials.

use super::Tool;
use super::form::button;
use crate::dom::{Document, document, set, set_hidden};
use crate::words::{Units, label_of_shed};

/// Shows the sheet of a material, with the way back to the tool that it was opened from; whether
/// there is one.
pub(super) fn fill(tool: &Tool, sheets: Option<&Document>, of: &str, from: Option<&str>) -> bool {
    let form = &tool.form;
    let name = tool.recipe.find(of).map_or("", |found| found.name());
    form.write("#shed-title", name);
    let units = match tool.speech.units {
        Units::Metric => "metric",
        Units::Us => "us",
    };
    let place = form.part("[data-part=sheet]");
    set(&place, "data-units", units);
    set_hidden(&form.part("[data-tool=return]"), from.is_none());
    // A line that asks what it holds has it already.
    if from != Some("line") {
        let add = button("add", of, label_of_shed("add"));
        form.part("[data-part=do]").append_child(&add);
    }
    let sheet = sheets.and_then(|sheets| sheets.get_element_by_id(&["m-", of].concat()));
    let Some(sheet) = sheet.map(|sheet| document().import_node(&sheet, true)) else {
        return false;
    };
    place.append_child(&sheet);
    // The dialog bears the name, and the page has ids of its own.
    if let Some(heading) = form.find(".sheet > h3") {
        heading.remove();
    }
    for with_id in form.all("[data-part=sheet] [id]") {
        with_id.remove_attribute("id");
    }
    true
}
