//! The table: a column for each blend, a row for each figure. Each text on the page remembers what
//! it holds.

use super::{Chosen, Filled, State, draw, list, part, settled};
use crate::dom::{Element, by_id, make, set, set_hidden};
use crate::figure::Figure;
use crate::outcome::Outcome;
use crate::recipe::whole_text;
use crate::shed::form::{option, put, set_value};
use crate::shed::section::Now;
use crate::shelf::{
    Against, Compared, SHELF_LIMIT, Shelved, compare, same_class, typical_difference,
};
use crate::texture::classify;
use crate::words::{
    Told, class_told, compared_name, compared_told, difference_told, label_of_shelf, mix_text,
    odds_told, same_class_told, shelf_classes,
};

/// A text on the page and what it holds.
#[derive(Clone)]
struct Text {
    place: Element,
    holds: String,
}

impl Text {
    fn under(cell: &Element, class: &str) -> Text {
        let place = put(cell, "span", "");
        set(&place, "class", class);
        Text {
            place,
            holds: String::new(),
        }
    }

    fn write(&mut self, text: &str) {
        if self.holds != text {
            self.place.set_text_content(&text.replace(' ', "\u{a0}"));
            text.clone_into(&mut self.holds);
        }
    }
}

/// A cell: the value and its range, the difference and its range, the odds.
#[derive(Clone)]
struct Cell {
    place: Element,
    value: Text,
    range: Text,
    apart: Text,
    apart_range: Text,
    odds: Text,
}

impl Cell {
    fn write_told(&mut self, told: Option<&Told>, with_range: bool) {
        let none = label_of_shelf("none");
        self.value.write(told.map_or(none, |told| &told.value));
        if with_range {
            self.range.write(told.map_or("", |told| &told.range));
        }
    }

    fn write_apart(&mut self, told: &Told, odds: &str) {
        self.apart.write(&told.value);
        self.apart_range.write(&told.range);
        self.odds.write(odds);
    }

    fn clear_apart(&mut self) {
        self.write_apart(&Told::default(), "");
    }
}

/// A column's head and cells: the class, then the figures.
struct Shown {
    head: Element,
    /// Says that the others are compared with it.
    mark: Text,
    pores: Element,
    drawn: String,
    cells: Vec<Cell>,
}

#[derive(Default)]
pub(super) struct Table {
    columns: Vec<Shown>,
    rows: Vec<Element>,
    points: String,
}

impl Table {
    /// Builds the table for a shelf.
    pub(super) fn build(&mut self, list: &[Shelved]) {
        let (heads, body) = (part("heads"), part("rows"));
        heads.set_text_content("");
        body.set_text_content("");
        self.points.clear();
        put(&heads, "td", "");
        self.columns.clear();
        for at in 0..=list.len() {
            let head = put(&heads, "th", "");
            set(&head, "scope", "col");
            head.set_inner_html(
                "<svg class=\"shelf-pores\" viewBox=\"0 0 44 108\" aria-hidden=\"true\"></svg>",
            );
            let pores = head.query_selector("svg").unwrap_or_else(|| make("svg"));
            let index = at.checked_sub(1);
            if index.is_none() {
                set(&head, "class", "of-now");
            } else {
                head.append_child(&list::number(index));
            }
            let name = index.map_or(label_of_shelf("now"), |index| &list[index].name);
            set(&put(&head, "span", name), "class", "shelf-name");
            self.columns.push(Shown {
                mark: Text::under(&head, "shelf-mark"),
                head,
                pores,
                drawn: String::new(),
                cells: Vec::new(),
            });
        }
        self.rows.clear();
        let figures = Compared::ALL.map(compared_name);
        for name in std::iter::once(label_of_shelf("class")).chain(figures) {
            let row = put(&body, "tr", "");
            set(&put(&row, "th", name), "scope", "row");
            for (at, column) in self.columns.iter_mut().enumerate() {
                let place = put(&row, "td", "");
                if at == 0 {
                    set(&place, "class", "of-now");
                }
                let text = |class: &str| Text::under(&place, class);
                column.cells.push(Cell {
                    value: text("shelf-value"),
                    range: text("shelf-range"),
                    apart: text("shelf-apart"),
                    apart_range: text("shelf-apart-range"),
                    odds: text("shelf-odds"),
                    place,
                });
            }
            self.rows.push(row);
        }
    }

    fn draw(&mut self, at: usize, outcome: &Outcome) {
        let Some(column) = self.columns.get_mut(at) else {
            return;
        };
        let drawn = draw::pores(settled(outcome));
        if drawn != column.drawn {
            column.pores.set_inner_html(&drawn);
            column.drawn = drawn;
        }
    }
}

impl State {
    /// Writes the values of one column.
    fn write_column(&mut self, at: usize, outcome: &Outcome, with_ranges: bool) {
        let (speech, currency) = (self.speech, self.currency.clone());
        self.table.draw(at, outcome);
        let Some(column) = self.table.columns.get_mut(at) else {
            return;
        };
        let mut cells = column.cells.iter_mut();
        if let Some(cell) = cells.next() {
            cell.write_told(class_told(outcome).as_ref(), with_ranges);
        }
        for (cell, of) in cells.zip(Compared::ALL) {
            let told = compared_told(of, outcome, currency.as_deref(), speech);
            cell.write_told(told.as_ref(), with_ranges);
        }
    }

    /// Writes the kept blends.
    pub(super) fn write_kept(&mut self) {
        let columns = std::mem::take(&mut self.columns);
        for (index, column) in columns.iter().enumerate() {
            match &column.filled {
                Filled::Ready(side) => self.write_column(index + 1, &side.outcome, true),
                waits => {
                    let text = match waits {
                        Filled::Waits => label_of_shelf("waits"),
                        _ => label_of_shelf("none"),
                    };
                    for cell in &mut self.table.columns[index + 1].cells {
                        cell.value.write(text);
                        cell.range.write("");
                        cell.clear_apart();
                    }
                }
            }
        }
        self.columns = columns;
    }

    /// Writes the blend on the page, and what is told beside all of them.
    pub(super) fn write_now(&mut self, now: &Now<'_>) {
        if self.list.is_empty() {
            return;
        }
        self.write_column(0, now.outcome, now.with_ranges);
        // A year that is shown is shown here too.
        let year = by_id("in-year").text_content();
        if let Some(name) = self.table.columns[0].head.query_selector(".shelf-name") {
            let now = label_of_shelf("now");
            let name_now = if year.is_empty() {
                now.to_owned()
            } else {
                [now, ", ", &year.to_lowercase()].concat()
            };
            crate::shed::section::put(&name, &name_now);
        }
        list::write_mix(0, &mix_text(now.recipe));
        for (index, column) in self.columns.iter().enumerate() {
            let text = match &column.filled {
                Filled::Cannot(why) => [label_of_shelf("cannot"), why].concat(),
                _ if year.is_empty() && column.recipe.ground != now.recipe.ground => {
                    [&mix_text(&column.recipe), label_of_shelf("other_ground")].concat()
                }
                _ => mix_text(&column.recipe),
            };
            list::write_mix(index + 1, &text);
        }
        let kept: Vec<Option<&Outcome>> = self
            .columns
            .iter()
            .map(|column| column.side().map(|side| &side.outcome))
            .collect();
        let points = draw::points(now.outcome, &kept);
        if points != self.table.points {
            part("points").set_inner_html(&points);
            self.table.points = points;
        }
        let class = |outcome: &Outcome| outcome.texture.map(|texture| texture.class);
        let ground = now.outcome.ground.fractions_pct.map(classify);
        let classes: Vec<_> = kept.iter().map(|outcome| class((*outcome)?)).collect();
        let says = shelf_classes(ground, class(now.outcome), &classes);
        crate::shed::section::put(&part("triangle-says"), &says);
        // A figure that no blend has is no row.
        for (row, of) in self.table.rows.iter().skip(1).zip(Compared::ALL) {
            let mut all = kept.iter().copied().flatten().chain([now.outcome]);
            set_hidden(row, !all.any(|outcome| of.figure(outcome).is_some()));
        }
    }

    /// The column that the others are compared with, if it is one.
    fn reference(&self) -> Option<usize> {
        match &self.chosen {
            Chosen::Ground => None,
            Chosen::Now => Some(0),
            Chosen::Kept(name) => {
                let at = self.list.iter().position(|shelved| shelved.name == *name);
                at.map(|at| at + 1)
            }
        }
    }

    /// The typical differences that follow a slider: of the blend on the page, or from it.
    pub(super) fn compare_typical(&mut self, now: &Outcome) {
        let reference = self.reference();
        let outcome = |at: usize| match at {
            0 => Some(now),
            at => Some(&self.columns.get(at - 1)?.side()?.outcome),
        };
        let last = if reference == Some(0) {
            self.columns.len()
        } else {
            0
        };
        let (speech, currency) = (self.speech, self.currency.as_deref());
        for at in 0..=last {
            let Some(shown) = self.table.columns.get_mut(at) else {
                continue;
            };
            let from = reference.and_then(outcome);
            for (cell, of) in shown.cells.iter_mut().skip(1).zip(Compared::ALL) {
                let typical = outcome(at)
                    .filter(|_| reference != Some(at) && reference.is_some() == from.is_some())
                    .and_then(|outcome| typical_difference(of, outcome, from));
                let told = typical.map(|typical| {
                    difference_told(of, Figure::exact(typical), currency, speech).value
                });
                cell.apart.write(told.as_deref().unwrap_or_default());
            }
        }
    }

    /// All differences, with ranges and odds.
    pub(super) fn compare(&mut self) {
        let Some(now) = &self.now else {
            return;
        };
        let reference = self.reference();
        let side = |at: usize| match at {
            0 => Some(now),
            at => self.columns.get(at - 1)?.side(),
        };
        let (speech, currency) = (self.speech, self.currency.as_deref());
        for (at, shown) in self.table.columns.iter_mut().enumerate() {
            let is_reference = reference == Some(at);
            let mark = if is_reference {
                label_of_shelf("measure")
            } else {
                ""
            };
            shown.mark.write(mark);
            let against = match reference {
                None => Some(Against::Ground),
                Some(at) => side(at).map(Against::Other),
            };
            let both = side(at).zip(against).filter(|_| !is_reference);
            for (row, cell) in shown.cells.iter_mut().enumerate() {
                let class = if is_reference { "shelf-reference" } else { "" };
                let class = [if at == 0 { "of-now " } else { "" }, class].concat();
                set(&cell.place, "class", class.trim());
                let Some((side, against)) = both else {
                    cell.clear_apart();
                    continue;
                };
                let Some(of) = row.checked_sub(1).and_then(|row| Compared::ALL.get(row)) else {
                    let share = same_class(side, against);
                    let told = share.map(same_class_told).unwrap_or_default();
                    cell.write_apart(&Told::default(), &told);
                    continue;
                };
                match compare(*of, side, against) {
                    Some(difference) => {
                        let told = difference_told(*of, difference.difference, currency, speech);
                        cell.write_apart(&told, &odds_told(*of, &difference));
                    }
                    None => cell.clear_apart(),
                }
            }
        }
        let value = self.value_of(&self.chosen);
        if let Some(table) = crate::dom::find("#shelf-body .shelf-table") {
            set(&table, "data-against", &value);
        }
    }

    /// The word of a choice in the list of what to compare with.
    pub(super) fn value_of(&self, chosen: &Chosen) -> String {
        match chosen {
            Chosen::Ground => "ground".to_owned(),
            Chosen::Now => "now".to_owned(),
            Chosen::Kept(name) => {
                let at = self.list.iter().position(|shelved| shelved.name == *name);
                whole_text(at.unwrap_or(SHELF_LIMIT) as u64)
            }
        }
    }

    /// What such a word means.
    pub(super) fn of_value(&self, value: &str) -> Chosen {
        if value == "now" {
            return Chosen::Now;
        }
        let index = value.parse::<usize>().ok();
        let found = index.and_then(|index| self.list.get(index));
        found.map_or(Chosen::Ground, |shelved| Chosen::Kept(shelved.name.clone()))
    }

    /// The lists of what to compare with and what to sort by.
    pub(super) fn fill_choices(&self) {
        if let Some(field) = super::SHELF.field("against") {
            field.set_text_content("");
            field.append_child(&option("ground", label_of_shelf("shelf_ground")));
            field.append_child(&option("now", label_of_shelf("now")));
            for (index, shelved) in self.list.iter().enumerate() {
                let text = [&whole_text(index as u64 + 1), " ", &*shelved.name].concat();
                field.append_child(&option(&whole_text(index as u64), &text));
            }
            set_value(&field, &self.value_of(&self.chosen));
        }
        if let Some(field) = super::SHELF.field("sort")
            && field.query_selector_all("option").len() == 1
        {
            for (index, of) in Compared::ALL.into_iter().enumerate() {
                field.append_child(&option(&whole_text(index as u64), compared_name(of)));
            }
        }
    }
}
