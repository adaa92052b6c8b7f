//! What the sweep writes: controls, sentences, tables.

use super::super::boxes::{choose, show, show_in};
use super::super::tell_later;
use super::{PART, Sweep};
use crate::dom::{Element, make, mark, set, set_hidden};
use crate::shed::form::{in_box, put};
use crate::shed::section::{put as put_text, put_list};
use crate::sweep::{Run, Swept};
use crate::words::errand::sweep::{
    ALONE, CLASS_HEADS, CURVE_HEADS, EVERY_THIRD, Looked, NO_MEASUREMENTS, addition_name,
    swept_name, swept_unit, usual_text,
};
use crate::words::unit_name;

/// Steps of a slider along a range.
const SLIDER_STEPS: f64 = 240.0;
/// Squares of a map from one to the next in its table.
const EVERY: [usize; 2] = [3, 2];

impl Sweep {
    /// Boxes and lists.
    pub(super) fn controls(&mut self) {
        let none = self.recipe.additions.is_empty();
        set_hidden(&PART.part("empty"), !none);
        set_hidden(&PART.part("all"), none);
        let figures: Vec<(String, String)> = Swept::ALL
            .iter()
            .map(|swept| (swept.id().to_owned(), swept_name(*swept).to_owned()))
            .collect();
        choose(PART, "swept", &figures, self.swept.id());
        let currency = self.own_currency();
        let (factor, unit) = swept_unit(self.swept, self.speech, currency.as_deref());
        let own = self.own().map_or(String::new(), |own| in_box(own / factor));
        show(PART, "against", &own);
        put_text(&PART.part("against-unit"), unit.trim());
        if let Some(field) = PART.field("against") {
            let usual = self.run.as_ref().and_then(|run| {
                let mut points = run.points().iter().flatten();
                points.find_map(|point| point.threshold(self.swept, None))
            });
            let text = usual_text(self.swept, usual, self.speech);
            set(&field, "placeholder", &text);
            mark(&field, "disabled", self.swept == Swept::Class);
        }
        let mut additions: Vec<(String, String)> = Vec::new();
        for (at, addition) in self.recipe.additions.iter().enumerate() {
            let mut name = addition_name(&self.recipe, addition);
            // Two lines of one material are told apart by their place.
            if additions.iter().any(|(_, known)| *known == name) {
                name += &format!(" ({})", at + 1);
            }
            additions.push((at.to_string(), name));
        }
        let chosen = |axis: usize| {
            let chosen = self.chosen[axis].as_ref();
            chosen.map_or(String::new(), |chosen| chosen.axis.line.to_string())
        };
        choose(PART, "line-0", &additions, &chosen(0));
        let mut second = vec![(String::new(), ALONE.text().to_owned())];
        second.extend(additions);
        choose(PART, "line-1", &second, &chosen(1));
        let has_second = self.chosen[1].is_some();
        for part in PART.panel().query_selector_all("[data-second]") {
            set_hidden(&part, !has_second);
        }
        let here = self.here.unwrap_or_else(|| self.amounts_now());
        for (axis, here) in here.into_iter().enumerate() {
            let Some(chosen) = &self.chosen[axis] else {
                put_text(&PART.part(&format!("unit-{axis}")), "");
                continue;
            };
            let unit = unit_name(chosen.unit);
            show(PART, &format!("low-{axis}"), &in_box(chosen.axis.low));
            show(PART, &format!("high-{axis}"), &in_box(chosen.axis.high));
            put_text(&PART.part(&format!("unit-{axis}")), unit);
            put_text(&PART.part(&format!("at-unit-{axis}")), unit);
            let addition = self.recipe.additions.get(chosen.axis.line);
            let name = addition.map_or(String::new(), |addition| {
                addition_name(&self.recipe, addition)
            });
            put_text(&PART.part(&format!("name-{axis}")), &name);
            self.slider(axis, &name, here, unit);
        }
    }

    fn slider(&self, axis: usize, name: &str, here: f64, unit: &str) {
        let Some(chosen) = &self.chosen[axis] else {
            return;
        };
        let selector = format!("[name=at-{axis}]");
        for field in PART.panel().query_selector_all(&selector) {
            set(&field, "aria-label", &[name, ", ", unit].concat());
            if field.get_attribute("type").as_deref() == Some("range") {
                let step = (chosen.axis.high - chosen.axis.low) / SLIDER_STEPS;
                set(&field, "min", &chosen.axis.low.to_string());
                set(&field, "max", &chosen.axis.high.to_string());
                set(&field, "step", &step.to_string());
                let text = here.to_string();
                if field.value() != text {
                    field.set_value(&text);
                }
                set(
                    &field,
                    "aria-valuetext",
                    &[&in_box(here), " ", unit].concat(),
                );
            } else {
                show_in(&field, &in_box(here));
            }
        }
    }

    /// Sentences, drawing, tables.
    pub(super) fn written(&mut self) {
        self.progress();
        let point = self.point_here();
        let waits = self
            .run
            .as_ref()
            .is_some_and(|run| !run.is_done() && !self.stopped);
        mark(&PART.part("all"), "data-waits", waits);
        if waits {
            return;
        }
        let mut drawing = std::mem::take(&mut self.drawing);
        if let Some(looked) = self.looked() {
            put_text(&PART.part("says"), &self.sentence(&looked));
            let text = point.as_ref().map(|point| looked.point(point));
            let text = text.unwrap_or_default();
            put_text(&PART.part("here"), &text);
            tell_later(&text);
            let mut notes = Vec::new();
            notes.extend(Some(looked.gaps()).filter(|text| !text.is_empty()));
            if looked.run.leaves_measured {
                notes.push(NO_MEASUREMENTS.text().to_owned());
            }
            put_list(&PART.part("notes"), &notes);
            drawing.draw(&looked, &self.classes, self.amounts_now(), self.here);
            table(&looked);
        }
        self.drawing = drawing;
    }
}

/// The numbers of a drawing.
fn table(looked: &Looked<'_>) {
    let run: &Run = looked.run;
    put_text(&PART.part("caption"), &looked.caption());
    let (heads, rows) = if run.axes().len() > 1 {
        map_rows(looked)
    } else {
        let heads = if looked.swept == Swept::Class {
            CLASS_HEADS
        } else {
            CURVE_HEADS
        };
        let points = run.points().iter().flatten();
        let rows: Vec<Vec<String>> = points.map(|point| looked.row(point).to_vec()).collect();
        (heads.map(|head| head.text().to_owned()).to_vec(), rows)
    };
    let key = heads.join("|") + &rows.iter().flatten().cloned().collect::<Vec<_>>().join("|");
    let body = PART.part("rows");
    if body.get_attribute("data-key").as_deref() == Some(&key) {
        return;
    }
    set(&body, "data-key", &key);
    let head = PART.part("heads");
    head.set_text_content("");
    for text in &heads {
        set(&put(&head, "th", text), "scope", "col");
    }
    body.set_text_content("");
    for cells in rows {
        let row = make("tr");
        for (at, cell) in cells.iter().enumerate() {
            if at == 0 {
                set(&put(&row, "th", cell), "scope", "row");
            } else {
                put(&row, "td", cell);
            }
        }
        body.append_child(&row);
    }
}

/// A map's table: the second amount down, the first to the right.
fn map_rows(looked: &Looked<'_>) -> (Vec<String>, Vec<Vec<String>>) {
    let run = looked.run;
    let [columns, rows] = run.size();
    let [first, second] = [0, 1].map(|axis| run.axes().get(axis).copied());
    let (Some(first), Some(second)) = (first, second) else {
        return (Vec::new(), Vec::new());
    };
    let mut heads = vec![EVERY_THIRD.text().to_owned()];
    for column in (0..columns).step_by(EVERY[0]) {
        heads.push(looked.amount(0, first.at(column, columns - 1)));
    }
    let mut table = Vec::new();
    for row in (0..rows).rev().step_by(EVERY[1]) {
        let mut cells = vec![looked.amount(1, second.at(row, rows - 1))];
        for column in (0..columns).step_by(EVERY[0]) {
            cells.push(looked.cell(run.point(column, row)));
        }
        table.push(cells);
    }
    (heads, table)
}

/// A mark of the key with its name.
pub(super) fn key_item(under: &Element, class: &str, text: &str) {
    let item = put(under, "li", "");
    let mark = make("span");
    set(&mark, "class", class);
    set(&mark, "aria-hidden", "true");
    item.append_child(&mark);
    put(&item, "span", text);
}
