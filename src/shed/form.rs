//! The open tool as a form: what is typed into it, and where its lists stand.

use crate::dom::{Element, around, document, make, set};
use crate::figure::within;
use crate::quantity::Unit;
use crate::words::{Typed, parse_typed, round_significant, shown, typed_text};

/// What is wrong in a form, and at which of its fields.
pub(super) struct Wrong {
    pub(super) field: String,
    pub(super) text: String,
    /// Nothing is typed yet: a wish rather than a fault.
    pub(super) missing: bool,
}

impl Wrong {
    pub(super) fn at(field: &str, text: impl Into<String>) -> Wrong {
        Wrong {
            field: field.to_owned(),
            text: text.into(),
            missing: false,
        }
    }

    /// Of the form as a whole.
    pub(super) fn of(text: impl Into<String>) -> Wrong {
        Wrong::at("", text)
    }

    fn missing(field: &str, name: &str) -> Wrong {
        Wrong {
            field: field.to_owned(),
            text: crate::words::still_needed(name),
            missing: true,
        }
    }
}

/// What stands in the dialog.
#[derive(Clone)]
pub(super) struct Form {
    dialog: Element,
}

impl Form {
    pub(super) fn of(dialog: Element) -> Form {
        Form { dialog }
    }

    pub(super) fn find(&self, selector: &str) -> Option<Element> {
        self.dialog.query_selector(selector)
    }

    pub(super) fn all(&self, selector: &str) -> Vec<Element> {
        self.dialog.query_selector_all(selector)
    }

    /// A place for what the tool builds; a detached one if the form has none.
    pub(super) fn part(&self, selector: &str) -> Element {
        self.find(selector).unwrap_or_else(|| make("div"))
    }

    pub(super) fn write(&self, selector: &str, text: &str) {
        self.part(selector).set_text_content(text);
    }

    pub(super) fn list(&self, name: &str) -> Element {
        let list = self.part(&format!("[data-list={name}]"));
        list.set_text_content("");
        list
    }

    fn field(&self, name: &str) -> Option<Element> {
        self.find(&format!("[name='{name}']"))
    }

    /// The text of a field.
    pub(super) fn text(&self, name: &str) -> String {
        self.field(name)
            .map_or(String::new(), |field| value(&field))
    }

    pub(super) fn set(&self, name: &str, text: &str) {
        if let Some(field) = self.field(name) {
            set_value(&field, text);
        }
    }

    pub(super) fn is_ticked(&self, name: &str) -> bool {
        self.field(name).is_some_and(|field| field.checked())
    }

    pub(super) fn tick(&self, name: &str, ticked: bool) {
        if let Some(field) = self.field(name) {
            field.set_checked(ticked);
        }
    }

    /// The unit chosen beside a number.
    pub(super) fn unit(&self, name: &str) -> Option<Unit> {
        Unit::from_spelling(&self.text(name))
    }

    /// A number between limits, or nothing where nothing is typed.
    pub(super) fn number(&self, name: &str, (low, high): (f64, f64)) -> Result<Option<f64>, Wrong> {
        match parse_typed(&self.text(name)) {
            Typed::Empty => Ok(None),
            Typed::Number(value) if value >= low && value <= high => Ok(Some(value)),
            typed => Err(Wrong::at(
                name,
                [&self.name_of(name), ": ", &typed_text(typed, low, high)].concat(),
            )),
        }
    }

    /// The same, but what was filled in and not touched stays what it was, to the last digit.
    pub(super) fn number_or(
        &self,
        name: &str,
        limits: (f64, f64),
        was: Option<f64>,
    ) -> Result<Option<f64>, Wrong> {
        match was {
            Some(was) if self.text(name) == in_box(was) => Ok(Some(was)),
            _ => self.number(name, limits),
        }
    }

    /// The same for a number of a table, in a unit of which one is so many of the stored one.
    pub(super) fn number_in(
        &self,
        name: &str,
        (low, high): (f64, f64),
        was: Option<f64>,
        factor: f64,
    ) -> Result<Option<f64>, Wrong> {
        match was {
            Some(was) if self.text(name) == in_table(was / factor) => Ok(Some(was)),
            _ => {
                let typed = self.number(name, (low / factor, high / factor))?;
                // Twelve digits, so that the factor leaves no binary remainder.
                let stored = |value: f64| within(round_significant(value * factor, 12), low, high);
                Ok(typed.map(stored))
            }
        }
    }

    /// A number that is needed.
    pub(super) fn need(&self, name: &str, limits: (f64, f64)) -> Result<f64, Wrong> {
        self.number(name, limits)?
            .ok_or_else(|| Wrong::missing(name, &self.name_of(name)))
    }

    /// How a field is called on the page.
    pub(super) fn name_of(&self, name: &str) -> String {
        let Some(field) = self.field(name) else {
            return String::new();
        };
        if let Some(name) = field.get_attribute("aria-label") {
            return name;
        }
        let label = around(&field, "label");
        let name = label.and_then(|label| label.query_selector("span"));
        name.map_or(String::new(), |name| name.text_content())
    }

    /// Fills a list of choices.
    pub(super) fn options(&self, name: &str, options: &[(&str, &str)]) {
        let Some(field) = self.field(name) else {
            return;
        };
        field.set_text_content("");
        for (value, text) in options {
            field.append_child(&option(value, text));
        }
    }

    /// Shows the fields of the choices made, hides the others, and writes units that follow.
    pub(super) fn follow_choices(&self) {
        for field in self.all("[data-when]") {
            let when = field.get_attribute("data-when").unwrap_or_default();
            let fits = when.split(' ').any(|choice| {
                choice
                    .split_once('=')
                    .is_some_and(|(name, value)| self.text(name) == value)
            });
            crate::dom::set_hidden(&field, !fits);
        }
        for unit in self.all("[data-follow]") {
            let name = unit.get_attribute("data-follow").unwrap_or_default();
            unit.set_text_content(&self.text(&name));
        }
    }

    /// Marks the field that is at fault, and no other.
    pub(super) fn mark(&self, wrong: Option<&Wrong>) {
        for field in self.all("[aria-invalid]") {
            field.remove_attribute("aria-invalid");
        }
        let text = wrong.map_or("", |wrong| &wrong.text);
        self.write("#shed-says", text);
        if let Some(field) = wrong.and_then(|wrong| self.field(&wrong.field)) {
            set(&field, "aria-invalid", "true");
            set(&field, "aria-describedby", "shed-says");
        }
    }
}

/// A number as a box of a tool shows it.
pub(super) fn in_box(value: f64) -> String {
    shown(value)
}

/// A number as a box of a table shows it: four figures are more than anyone knows.
pub(super) fn in_table(value: f64) -> String {
    shown(round_significant(value, 4))
}

pub(super) fn option(value: &str, text: &str) -> Element {
    let option = make("option");
    set(&option, "value", value);
    option.set_text_content(text);
    option
}

/// A button of the open tool.
pub(super) fn button(tool: &str, value: &str, text: &str) -> Element {
    let button = make("button");
    set(&button, "type", "button");
    set(&button, "data-tool", tool);
    set(&button, "value", value);
    button.set_text_content(text);
    button
}

/// An element with a text, at the end of another.
pub(super) fn put(under: &Element, name: &str, text: &str) -> Element {
    let element = make(name);
    element.set_text_content(text);
    under.append_child(&element);
    element
}

/// A box for a number or a word, at the end of another element.
pub(super) fn put_box(under: &Element, name: &str, called: &str) -> Element {
    let field = make("input");
    for (attribute, value) in [
        ("type", "text"),
        ("inputmode", "decimal"),
        ("autocomplete", "off"),
        ("name", name),
        ("aria-label", called),
    ] {
        set(&field, attribute, value);
    }
    under.append_child(&field);
    field
}

pub(super) fn value(field: &Element) -> String {
    field.value()
}

pub(super) fn set_value(field: &Element, text: &str) {
    field.set_value(text);
}

/// The dialog that the page has for tools.
pub(super) fn dialog() -> Option<Element> {
    document().get_element_by_id("shed")
}
