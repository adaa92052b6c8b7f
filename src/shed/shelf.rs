//! The shelf: blends that are kept, side by side. It is a part of the recipe, so that files, links,
//! undo and the memory of the page carry it. A kept blend is drawn once; while a slider moves only
//! the blend on the page is computed and written anew.

mod deeds;
mod draw;
mod list;
mod table;

use super::page;
use super::section::{Now, Section, again, follow, put};
use crate::dom::{self, Document, Element, Event, by_id, find, make, set_hidden, window};
use crate::draws::Strata;
use crate::outcome::Outcome;
use crate::plot::{ColumnState, Parts, column_parts};
use crate::recipe::{Recipe, Tree};
use crate::shelf::{SHELF_LIMIT, Shelved, Side, shelf_of};
use crate::words::{METRIC, SHELF_OPENS, Speech, error_text, label_of_shelf, shelf_told};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use table::Table;
use wasm_bindgen::prelude::*;

/// Kept blends that are drawn within one frame: the first time there may be eight.
const AT_ONCE: usize = 2;
/// Grounds that are remembered at the most: those of a full shelf and the page's.
const GROUNDS: usize = SHELF_LIMIT + 1;

pub(super) static SHELF: Section = Section {
    id: "shelf",
    opens: SHELF_OPENS,
    resized: || false,
    show: |_, _| {},
    write,
    touched,
    told: shelf_told,
};

/// What is told of a column.
enum Filled {
    Waits,
    Ready(Box<Side>),
    Cannot(String),
}

/// A kept blend as it is shown.
struct Column {
    recipe: Recipe,
    filled: Filled,
}

impl Column {
    fn side(&self) -> Option<&Side> {
        match &self.filled {
            Filled::Ready(side) => Some(side),
            _ => None,
        }
    }
}

/// What the differences are from.
#[derive(Clone, Debug, PartialEq)]
enum Chosen {
    Ground,
    Now,
    Kept(String),
}

struct State {
    /// The shelf as it was read, and the release that wrote it.
    read: Option<(Option<Tree>, Option<String>)>,
    list: Vec<Shelved>,
    columns: Vec<Column>,
    strata: Strata,
    /// Grounds with nothing added, and what they are.
    grounds: Vec<(Recipe, Rc<Outcome>)>,
    chosen: Chosen,
    /// The blend on the page, once all its draws were made.
    now: Option<Side>,
    speech: Speech,
    currency: Option<String>,
    table: Table,
    /// The recipe that the last press has left, in letters: after another step Undo would take back
    /// that one.
    done: Option<String>,
}

thread_local! {
    static STATE: RefCell<State> = RefCell::new(State {
        read: None,
        list: Vec::new(),
        columns: Vec::new(),
        strata: Strata::default(),
        grounds: Vec::new(),
        chosen: Chosen::Ground,
        now: None,
        speech: METRIC,
        currency: None,
        table: Table::default(),
        done: None,
    });
    static LISTENS: Cell<bool> = const { Cell::new(false) };
    static MORE: Closure<dyn FnMut()> = Closure::new(|| {
        again();
        follow();
    });
}

fn with<R>(act: impl FnOnce(&mut State) -> R) -> Option<R> {
    STATE.with(|cell| Some(act(&mut *cell.try_borrow_mut().ok()?)))
}

/// Opens the section in place, or folds it.
pub(super) fn toggle(parts: Option<Document>) {
    if !LISTENS.replace(true) {
        // Before the section looks what has become of the recipe.
        dom::on("click", |event| {
            if let Some(button) = dom::closest(&event, "#shelf-body [data-shelf]") {
                let what = button.get_attribute("data-shelf").unwrap_or_default();
                deeds::pressed(&what, &button.get_attribute("value").unwrap_or_default());
                follow();
            }
        });
    }
    SHELF.toggle(parts);
}

/// Keeps the blend on the page; what becomes of it is seen on the open shelf.
pub(super) fn keep(parts: Option<Document>) {
    if by_id("shelf-body").get_attribute("hidden").is_some() {
        toggle(parts);
    }
    deeds::keep();
    again();
    follow();
}

/// The part of a name in this section; a detached one if there is none.
fn part(name: &str) -> Element {
    find(&["#shelf-body [data-part=", name, "]"].concat()).unwrap_or_else(|| make("span"))
}

fn write(now: &Now<'_>) {
    let more = with(|state| state.write(now)).unwrap_or(false);
    if more {
        // Not within this frame, so that the page stays at hand.
        MORE.with(|closure| window().set_timeout(closure.as_ref(), 0));
    }
}

fn touched(event: &Event, lets_go: bool) {
    if !lets_go {
        return;
    }
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    match field.get_attribute("name").unwrap_or_default().as_str() {
        "against" => {
            let value = field.value();
            with(|state| {
                state.chosen = state.of_value(&value);
                state.compare();
            });
        }
        "blend-name" => {
            let index = field.get_attribute("data-at").unwrap_or_default();
            deeds::rename(index.parse().unwrap_or(usize::MAX), &field.value());
        }
        _ => {}
    }
}

impl State {
    /// Shows the recipe; gives whether kept blends wait to be drawn.
    fn write(&mut self, now: &Now<'_>) -> bool {
        if self
            .done
            .as_ref()
            .is_some_and(|left| *left != page::recipe())
        {
            self.done = None;
            deeds::say_done("", false);
        }
        let is_another = self.read(now.recipe);
        if is_another {
            self.table.build(&self.list);
            list::build(&self.list);
            self.fill_choices();
        }
        let units = self.speech != now.speech || self.currency != now.recipe.currency;
        self.speech = now.speech;
        self.currency.clone_from(&now.recipe.currency);
        let before = self.waiting();
        self.draw_some();
        if is_another || units || before != self.waiting() {
            self.write_kept();
        }
        self.now = now.with_ranges.then(|| Side {
            outcome: now.outcome.clone(),
            alone: self.alone(now.recipe, now.outcome),
        });
        self.write_now(now);
        self.compare_typical(now.outcome);
        if now.with_ranges {
            self.compare();
        }
        self.waiting() > 0
    }

    /// Reads the shelf where it is another one than before; gives whether it is.
    fn read(&mut self, recipe: &Recipe) -> bool {
        let same = self
            .read
            .as_ref()
            .is_some_and(|(shelf, made_by)| *shelf == recipe.shelf && *made_by == recipe.made_by);
        if same {
            return false;
        }
        self.read = Some((recipe.shelf.clone(), recipe.made_by.clone()));
        let mut fault = String::new();
        self.list = shelf_of(recipe).unwrap_or_else(|error| {
            fault = error_text(&error);
            Vec::new()
        });
        SHELF.says(&fault);
        set_hidden(&part("broken"), fault.is_empty());
        set_hidden(&part("empty"), recipe.shelf.is_some());
        set_hidden(&part("all"), self.list.is_empty());
        set_hidden(&part("full"), self.list.len() < SHELF_LIMIT);
        put(&part("full"), label_of_shelf("full"));
        let mut known = std::mem::take(&mut self.columns);
        for shelved in &self.list {
            // It was read already, so it reads.
            let Ok(mut own) = shelved.recipe(recipe) else {
                continue;
            };
            own.title = None;
            own.currency = None;
            let at = known.iter().position(|column| column.recipe == own);
            self.columns.push(match at {
                Some(at) => known.swap_remove(at),
                None => Column {
                    recipe: own,
                    filled: Filled::Waits,
                },
            });
        }
        if let Chosen::Kept(name) = &self.chosen
            && !self.list.iter().any(|shelved| shelved.name == *name)
        {
            self.chosen = Chosen::Ground;
        }
        true
    }

    fn waiting(&self) -> usize {
        let waits = |column: &&Column| matches!(column.filled, Filled::Waits);
        self.columns.iter().filter(waits).count()
    }

    /// Draws a few of the kept blends that were not drawn yet.
    fn draw_some(&mut self) {
        let mut columns = std::mem::take(&mut self.columns);
        let waits = columns
            .iter_mut()
            .filter(|column| matches!(column.filled, Filled::Waits));
        for column in waits.take(AT_ONCE) {
            let drawn = Outcome::drawn_from(&column.recipe, &mut self.strata);
            column.filled = match drawn {
                Ok(outcome) => Filled::Ready(Box::new(Side {
                    alone: self.alone(&column.recipe, &outcome),
                    outcome,
                })),
                Err(error) => Filled::Cannot(error_text(&error)),
            };
        }
        self.columns = columns;
    }

    /// The ground of a blend with nothing added.
    fn alone(&mut self, recipe: &Recipe, outcome: &Outcome) -> Option<Rc<Outcome>> {
        let alone = Side::ground_alone(recipe, outcome)?;
        if let Some((_, known)) = self.grounds.iter().find(|(of, _)| *of == alone) {
            return Some(Rc::clone(known));
        }
        let outcome = Rc::new(Outcome::drawn_from(&alone, &mut self.strata).ok()?);
        if self.grounds.len() >= GROUNDS {
            self.grounds.remove(0);
        }
        self.grounds.push((alone, Rc::clone(&outcome)));
        Some(outcome)
    }
}

/// What fills the settled blend.
fn settled(outcome: &Outcome) -> Parts {
    column_parts(outcome)[ColumnState::Settled as usize]
}
