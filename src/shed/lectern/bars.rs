//! The bars of the lectern: what fills the ground and the blend, with the key.

use super::draw::{Guess, diamond};
use crate::outcome::Outcome;
use crate::plot::{FILLINGS, Parts, Point, column_parts};
use crate::shed::ink::Ink;
use crate::words::{label_of_lectern, percent};

/// Size of the drawing.
pub(super) const SIZE: [f64; 2] = [620.0, 270.0];
/// Top and height of the bars, and their places.
pub(super) const BARS: [f64; 2] = [44.0, 186.0];
pub(super) const BAR_X: [f64; 2] = [8.0, 184.0];
pub(super) const BAR_WIDTH: f64 = 136.0;
const KEY_X: f64 = 356.0;
const KEY_LINE: f64 = 38.0;
const SWATCH: f64 = 30.0;
/// Less than this share of a bar is not named, %.
const LEAST_PCT: f64 = 0.5;
/// How far from the line of a guess its number stands.
const NUMBER_OFF: f64 = 14.0;
/// The parts of a bar from the top, as classes and labels.
const PARTS: [&str; FILLINGS] = ["air", "taken", "left", "closed", "organic", "mineral"];

/// What fills the ground as it lies and the blend. In a container it is the water that stays there
/// that counts, whoever can take it; the ground's is put together likewise.
pub(super) fn filled(outcome: &Outcome) -> [Parts; 2] {
    let [lying, _, _, settled, _] = column_parts(outcome);
    let Some(pot) = &outcome.container else {
        return [lying, settled];
    };
    let [air, taken, left, closed, organic, mineral] = lying.from_top_pct;
    let lying = [air, taken + left, 0.0, closed, organic, mineral];
    let [_, _, _, closed, organic, mineral] = settled.from_top_pct;
    let air = pot.air_pct.typical;
    let water = (100.0 - air - closed - organic - mineral).max(0.0);
    let blend = [air, water, 0.0, closed, organic, mineral];
    [lying, blend].map(|from_top_pct| Parts { from_top_pct })
}

/// Ground and blend as bars, with the key of what is in them.
pub(super) fn column(outcome: &Outcome, guess: Guess, hidden: bool) -> String {
    let mut ink = Ink(String::with_capacity(4_000));
    let [top, height] = BARS;
    let foot = top + height;
    let in_pot = outcome.container.is_some();
    let names = if in_pot {
        ["in_bed", "in_pot"]
    } else {
        ["ground", "blend"]
    };
    let mut named = [false; FILLINGS];
    for (index, parts) in filled(outcome).into_iter().enumerate() {
        let (x, middle) = (BAR_X[index], BAR_X[index] + BAR_WIDTH / 2.0);
        let class = ["of-ground", "of-blend"][index];
        let name = label_of_lectern(names[index]);
        ink.text(class, [middle, foot + 36.0], "middle", name);
        let is_hidden = hidden && index == 1;
        let mut y = top;
        if !is_hidden {
            for (part, share) in parts.from_top_pct.into_iter().enumerate() {
                let tall = share.max(0.0) / 100.0 * height;
                if tall > 0.0 {
                    rect(&mut ink, PARTS[part], [x, y], [BAR_WIDTH, tall]);
                    named[part] |= share >= LEAST_PCT;
                }
                y += tall;
            }
        }
        let corners = [
            [x, top],
            [x + BAR_WIDTH, top],
            [x + BAR_WIDTH, foot],
            [x, foot],
        ];
        ink.path("bar-edge", &corners, true);
        if is_hidden {
            let at = [middle, top + height / 2.0 + 24.0];
            ink.text("unknown", at, "middle", label_of_lectern("hidden"));
        } else if y > top {
            let pores = percent(parts.pores_pct());
            ink.text("bar-pores", [middle, top - 12.0], "middle", &pores);
            let level = top + parts.pores_pct() / 100.0 * height;
            ink.line("level", [x - 8.0, level], [x + BAR_WIDTH + 8.0, level]);
        }
    }
    if let Some(pores_pct) = guess.pores_pct {
        let level = top + pores_pct / 100.0 * height;
        let right = BAR_X[1] + BAR_WIDTH;
        ink.line("guess-line", [BAR_X[1] - 8.0, level], [right, level]);
        diamond(&mut ink, [right, level]);
        // Within the bar, whose name and number stand below and above it.
        let below = level < top + height / 2.0;
        let y = level
            + if below {
                NUMBER_OFF + 22.0
            } else {
                -NUMBER_OFF
            };
        let at = [BAR_X[1] + BAR_WIDTH / 2.0, y];
        ink.text("of-guess", at, "middle", &percent(pores_pct));
    }
    let mut y = top;
    for (part, name) in PARTS.into_iter().enumerate() {
        if named[part] {
            rect(&mut ink, name, [KEY_X, y], [SWATCH, SWATCH]);
            let at = [KEY_X + SWATCH + 12.0, y + SWATCH - 6.0];
            let name = if in_pot && name == "taken" {
                "all_water"
            } else {
                name
            };
            ink.text("tick", at, "start", label_of_lectern(name));
            y += KEY_LINE;
        }
    }
    ink.0
}

/// The pores that a press on the blend's bar means, in whole percent.
pub(super) fn pores_at([x, y]: Point) -> Option<f64> {
    const NEAR: f64 = 14.0;
    let [top, height] = BARS;
    let over = |at: f64, from: f64, long: f64| (from - NEAR..=from + long + NEAR).contains(&at);
    if !over(x, BAR_X[1], BAR_WIDTH) || !over(y, top, height) {
        return None;
    }
    let share = (y - top) / height * 100.0;
    Some(crate::figure::within(share.round(), 0.0, 100.0))
}

fn rect(ink: &mut Ink, part: &str, [x, y]: Point, [width, height]: [f64; 2]) {
    ink.open("rect", &["seg ", part].concat());
    for (name, value) in [("x", x), ("y", y), ("width", width), ("height", height)] {
        ink.attribute(name, value);
    }
    ink.0 += "/>";
}
