//! Figures in a table: low, typical and high, in the unit that the user chose.

use super::form::{Form, Wrong, in_table, put, put_box, set_value};
use crate::dom::{Element, around, make, set};
use crate::figure::Figure;
use crate::words::range_needs_all;

/// What the names of the boxes for low, typical and high end in.
const ENDS: [&str; 3] = [".low", "", ".high"];

/// A figure that can be typed.
pub(super) struct Entry {
    /// The field's name in a recipe, and of its boxes.
    field: &'static str,
    /// What it is called.
    name: &'static str,
    /// Its unit as shown.
    unit: &'static str,
    /// One of that unit in the stored one.
    factor: f64,
    /// Limits, as stored.
    limits: (f64, f64),
}

impl Entry {
    /// A field with its limits, and its name, unit and factor as told.
    pub(super) fn new(
        field: &'static str,
        limits: (f64, f64),
        (name, unit, factor): (&'static str, &'static str, f64),
    ) -> Entry {
        Entry {
            field,
            name,
            unit,
            factor,
            limits,
        }
    }

    fn of_box(&self, end: &str) -> String {
        [self.field, end].concat()
    }

    /// Its row, at the end of a table.
    pub(super) fn put(&self, list: &Element, figure: Option<Figure>) {
        let row = make("tr");
        set(&put(&row, "th", self.name), "scope", "row");
        let ends = figure.and_then(|figure| figure.ends);
        let values = [
            ends.map(|ends| ends.low),
            figure.map(|figure| figure.typical),
            ends.map(|ends| ends.high),
        ];
        let heads = around(list, "table").map(|table| table.query_selector_all("thead th"));
        let heads = heads.unwrap_or_default();
        for (at, (end, value)) in ENDS.into_iter().zip(values).enumerate() {
            let head = heads
                .get(at)
                .map_or(String::new(), |head| head.text_content());
            let called = [self.name, ", ", &head].concat();
            let field = put_box(&put(&row, "td", ""), &self.of_box(end), &called);
            let text = value.map(|value| in_table(value / self.factor));
            set_value(&field, &text.unwrap_or_default());
        }
        put(&row, "td", self.unit);
        list.append_child(&row);
    }

    /// What is typed; nothing where typical is not.
    pub(super) fn read(&self, form: &Form, was: Option<Figure>) -> Result<Option<Figure>, Wrong> {
        let ends = was.and_then(|was| was.ends);
        let number =
            |end: &str, was| form.number_in(&self.of_box(end), self.limits, was, self.factor);
        let low = number(ENDS[0], ends.map(|ends| ends.low))?;
        let typical = number(ENDS[1], was.map(|was| was.typical))?;
        let high = number(ENDS[2], ends.map(|ends| ends.high))?;
        match (low, typical, high) {
            (None, None, None) => Ok(None),
            (None, Some(typical), None) => Ok(Some(Figure::exact(typical))),
            (Some(low), Some(typical), Some(high)) if low <= typical && typical <= high => {
                Ok(Some(Figure::between(low, typical, high)))
            }
            _ => Err(Wrong::at(self.field, range_needs_all(self.name))),
        }
    }
}
