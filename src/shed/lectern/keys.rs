//! Keys of a keyboard at the lectern, and those that a presenter's remote sends.

use super::events::act;
use super::{Lectern, layer, part, share, with_lectern};
use crate::dom::{self, Event, focus};
use crate::figure::within;
use crate::shed::form;

/// Where the guess of the pores begins, %.
const START_PORES_PCT: f64 = 50.0;

pub(super) fn key(event: &Event) {
    // A tool that lies over it has its own.
    let covered = form::dialog().is_some_and(|dialog| dialog.open());
    if covered || !layer().open() || event.ctrl_key() || event.meta_key() || event.alt_key() {
        return;
    }
    let Some(key) = event.key() else {
        return;
    };
    let within = |selector: &str| dom::closest(event, selector).is_some();
    let arrow = key.starts_with("Arrow");
    if within("input[type=text]") && key != "Enter" && !key.starts_with("Page") {
        return;
    }
    // Arrow keys belong to what has the focus.
    if arrow && within("input, select") {
        return;
    }
    let mut hidden = false;
    with_lectern(|lectern| hidden = lectern.hidden);
    let drawing = within("[data-part=triangle], [data-part=column]");
    if arrow && drawing && hidden {
        event.prevent_default();
        let in_triangle = within("[data-part=triangle]");
        return with_lectern(|lectern| lectern.nudge(&key, in_triangle));
    }
    match key.as_str() {
        // A guess is marked: keys go through the steps again.
        "Enter" if drawing || within("input") => focus(&part("stage")),
        "PageDown" | "ArrowRight" | "ArrowDown" => act("next"),
        "PageUp" | "ArrowLeft" | "ArrowUp" => act("back"),
        "Home" if !within("input") => with_lectern(|lectern| lectern.go(0)),
        "End" if !within("input") => with_lectern(|lectern| lectern.go(usize::MAX)),
        " " if !within("button, select, summary") => {
            act(if event.shift_key() { "back" } else { "next" });
        }
        "g" | "G" if !within("select") => act("guess"),
        "f" | "F" if !within("select") => act("full"),
        _ => return,
    }
    event.prevent_default();
}

impl Lectern {
    /// Moves a guess by a key.
    fn nudge(&mut self, key: &str, in_triangle: bool) {
        let up = match key {
            "ArrowUp" | "ArrowRight" => 1.0,
            _ => -1.0,
        };
        let now = self.seen().guess;
        if !in_triangle {
            // Pores reach from the top down.
            let now = now.pores_pct.unwrap_or(START_PORES_PCT);
            let to = within(now - up, 0.0, 100.0);
            return self.guess(|guess| guess.pores_pct = Some(to));
        }
        let ground = self
            .outcome
            .as_ref()
            .and_then(|outcome| outcome.ground.fractions_pct);
        let start = ground.unwrap_or([40.0, 40.0, 20.0]);
        let [sand, silt, clay] = now.texture.unwrap_or(start);
        let moved = if matches!(key, "ArrowUp" | "ArrowDown") {
            // Clay, the others in proportion.
            let to = within(clay + up, 0.0, 100.0);
            let sand = (100.0 - to) * share(sand, silt);
            [sand, 100.0 - to - sand, to]
        } else {
            let silt = within(silt + up, 0.0, 100.0 - clay);
            [100.0 - clay - silt, silt, clay]
        };
        self.guess(|guess| guess.texture = Some(moved));
    }
}
