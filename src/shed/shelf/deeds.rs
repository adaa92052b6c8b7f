//! What can be done with the shelf. Each is one step of the page's undo, and is told with that.

use super::{Chosen, SHELF, part, with};
use crate::dom::{by_id, find, focus, set_hidden, window};
use crate::outcome::Outcome;
use crate::recipe::{Recipe, from_letters, to_letters, whole_text};
use crate::shed::page;
use crate::shed::section::{follow, put};
use crate::shelf::{
    Compared, ShelfFault, Shelved, by_figure, by_name, delete, duplicate, keep as kept, moved,
    rename as renamed, set_shelf, shelf_of,
};
use crate::words::{
    Done, error_text, kept_name, label_of_shelf, shelf_done_text, shelf_fault_text,
};
use wasm_bindgen::prelude::*;

/// Tells what a press has done, and lays Undo beside it.
pub(super) fn say_done(text: &str, can_undo: bool) {
    put(&part("done"), text);
    if let Some(undo) = find("#shelf-body [data-shelf=undo]") {
        set_hidden(&undo, !can_undo);
    }
}

/// The recipe on the page and its shelf; what is wrong with it is told.
fn here() -> Option<(Recipe, Vec<Shelved>)> {
    let recipe = from_letters(&page::recipe()).ok()?;
    match shelf_of(&recipe) {
        Ok(list) => Some((recipe, list)),
        Err(error) => {
            SHELF.says(&error_text(&error));
            None
        }
    }
}

/// Goes on with a recipe, and tells what was done.
fn go_on(recipe: &Recipe, done: &str) -> bool {
    let wrong = page::take(&to_letters(recipe), false);
    SHELF.says(&wrong);
    if wrong.is_empty() {
        with(|state| state.done = Some(page::recipe()));
        say_done(done, true);
    }
    follow();
    wrong.is_empty()
}

/// Goes on with another shelf, or tells why not.
fn change(
    mut recipe: Recipe,
    changed: Result<Vec<Shelved>, ShelfFault>,
    done: impl FnOnce(&[Shelved]) -> String,
) -> bool {
    match changed {
        Ok(list) => {
            set_shelf(&mut recipe, &list);
            go_on(&recipe, &done(&list))
        }
        Err(fault) => {
            say_done("", false);
            SHELF.says(&shelf_fault_text(fault));
            false
        }
    }
}

/// Keeps the blend on the page.
pub(super) fn keep() {
    let Some((recipe, list)) = here() else {
        return;
    };
    if let Err(error) = Outcome::of(&recipe) {
        SHELF.says(&[label_of_shelf("cannot"), &error_text(&error)].concat());
        return;
    }
    if let Some(there) = list.iter().find(|shelved| shelved.is_of(&recipe)) {
        SHELF.says("");
        with(|state| state.done = Some(page::recipe()));
        say_done(&shelf_done_text(Done::There(&there.name)), false);
        return;
    }
    let proposed = kept_name(&recipe);
    let changed = kept(&list, &recipe, &proposed);
    change(recipe, changed, |list| {
        let name = list.last().map_or("", |shelved| &shelved.name);
        shelf_done_text(Done::Kept(name))
    });
}

/// Gives a blend another name; what cannot be a name stays in its box.
pub(super) fn rename(index: usize, name: &str) {
    let Some((recipe, list)) = here() else {
        return;
    };
    let before = list.get(index).map(|shelved| shelved.name.clone());
    let changed = renamed(&list, index, name);
    if changed.as_ref() == Ok(&list) {
        SHELF.says("");
        return;
    }
    if let (Ok(list), Some(before)) = (&changed, before) {
        with(|state| {
            if state.chosen == Chosen::Kept(before) {
                state.chosen = Chosen::Kept(list[index].name.clone());
            }
        });
    }
    change(recipe, changed, |list| {
        shelf_done_text(Done::Renamed(&list[index].name))
    });
}

/// A button of the section was pressed.
pub(super) fn pressed(what: &str, value: &str) {
    if what == "undo" {
        // A click within a click would call what listens to clicks within itself.
        let press = Closure::once_into_js(|| by_id("undo").click());
        window().set_timeout(&press, 0);
        say_done("", false);
        return;
    }
    if what == "clear" {
        if let Ok(mut recipe) = from_letters(&page::recipe()) {
            recipe.shelf = None;
            go_on(&recipe, &shelf_done_text(Done::Cleared));
        }
        return;
    }
    let Some((recipe, list)) = here() else {
        return;
    };
    let index = value.parse().unwrap_or(usize::MAX);
    let Some(name) = list.get(index).map(|shelved| shelved.name.clone()) else {
        if what == "low" || what == "high" {
            sort(recipe, &list, what == "high");
        }
        return;
    };
    match what {
        "put" => match list[index].put_on(&recipe) {
            Ok(blend) => {
                go_on(&blend, &shelf_done_text(Done::Put(&name)));
            }
            Err(error) => SHELF.says(&error_text(&error)),
        },
        "double" => {
            let changed = duplicate(&list, index);
            if change(recipe, changed, |_| shelf_done_text(Done::Doubled(&name))) {
                go_to("put", index + 1);
            }
        }
        "delete" => {
            let left = list.len() - 1;
            if change(recipe, delete(&list, index), |_| {
                shelf_done_text(Done::Deleted(&name))
            }) {
                go_to("delete", index.min(left.saturating_sub(1)));
            }
        }
        "earlier" | "later" => {
            let to = match what {
                "earlier" => index.saturating_sub(1),
                _ => index + 1,
            };
            if change(recipe, moved(&list, index, to), |_| {
                shelf_done_text(Done::Moved(&name))
            }) {
                go_to(what, to);
            }
        }
        _ => {}
    }
}

/// Sorts the shelf by what is chosen.
fn sort(recipe: Recipe, list: &[Shelved], highest_first: bool) {
    let by = SHELF
        .field("sort")
        .map_or(String::new(), |field| field.value());
    let by = by.parse::<usize>().ok();
    let of = by.and_then(|by| Compared::ALL.get(by).copied());
    let sorted = match of {
        None => by_name(list, highest_first),
        Some(of) => {
            let figures = with(|state| {
                let typical = |column: &super::Column| {
                    let side = column.side()?;
                    Some(of.figure(&side.outcome)?.typical)
                };
                state.columns.iter().map(typical).collect::<Vec<_>>()
            });
            by_figure(list, &figures.unwrap_or_default(), highest_first)
        }
    };
    change(recipe, Ok(sorted), |_| shelf_done_text(Done::Sorted));
}

/// The focus goes on to a button once the list stands anew.
fn go_to(what: &str, index: usize) {
    let wanted = [
        "#shelf-body [data-shelf=",
        what,
        "][value=\"",
        &whole_text(index as u64),
        "\"]:not(:disabled)",
    ]
    .concat();
    let instead = [
        "#shelf-body [data-shelf=put][value=\"",
        &whole_text(index as u64),
        "\"]",
    ];
    let instead = instead.concat();
    let go = Closure::once_into_js(move || {
        let there = find(&wanted).or_else(|| find(&instead));
        let there = there.or_else(|| find("#shelf [data-shed=keep]"));
        if let Some(there) = there {
            focus(&there);
        }
    });
    // After the frame in which the list is written.
    window().request_animation_frame(&go);
}
