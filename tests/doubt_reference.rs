#![cfg(not(target_arch = "wasm32"))]
//! The 1,024 draws against a million of another program, and against the same 1,024 of it.

#[path = "support/doubt.rs"]
mod doubt;
mod support;

use doubt::{Number, numbers};
use std::collections::BTreeMap;
use support::blends::outcome;
use support::{Row, assert_close, mean, recipes, root_mean_square, table};

/// Rows of the table.
const ROWS: usize = 319;
/// Those of figures; the others are odds.
const FIGURES: usize = 252;

/// The table by recipe, each with what the crate says of it.
fn by_recipe() -> BTreeMap<String, (BTreeMap<String, Number>, Vec<Row>)> {
    let mut out: BTreeMap<String, (BTreeMap<String, Number>, Vec<Row>)> = BTreeMap::new();
    for row in table("drawn", ROWS) {
        let name = row.text("recipe").to_string();
        let read = || {
            let root = env!("CARGO_MANIFEST_DIR");
            let path = format!("{root}/tests/reference/drawn/{name}.json");
            let text = std::fs::read_to_string(&path);
            let text = text.unwrap_or_else(|error| panic!("{path}: {error}"));
            let outcome = outcome(&recipes::read(&text));
            (numbers(&outcome).into_iter().collect(), Vec::new())
        };
        out.entry(name.clone()).or_insert_with(read).1.push(row);
    }
    out
}

/// Every figure of the table with ours: low, typical, high.
fn figures(mut judge: impl FnMut(&Row, [f64; 3], &str)) {
    let mut judged = 0;
    for (recipe, (ours, rows)) in by_recipe() {
        for row in rows {
            let name = row.text("figure");
            let what = format!("{name} of {recipe}");
            if let Some(Number::Figure(ends)) = ours.get(name) {
                judge(&row, *ends, &what);
                judged += 1;
            }
        }
    }
    assert_eq!(judged, FIGURES, "figures that both have");
}

/// Every share of draws of the table with ours.
fn odds(mut judge: impl FnMut(&Row, f64, &str)) {
    let mut judged = 0;
    for (recipe, (ours, rows)) in by_recipe() {
        for row in rows {
            let name = row.text("figure");
            // A class in which no draw falls is not there.
            let odds = match ours.get(name) {
                Some(Number::Odds(odds)) => *odds,
                None if name.starts_with("texture.class_odds.") => 0.0,
                _ => continue,
            };
            judge(&row, odds, &format!("{name} of {recipe}"));
            judged += 1;
        }
    }
    assert_eq!(judged, ROWS - FIGURES, "odds that both have");
}

/// The other program has pounds to seven digits, and the normal distribution itself where ours lies
/// straight between the strata.
#[test]
fn the_same_draws_as_another_program_has_them() {
    figures(|row, ours, what| {
        let theirs = row.three(["low", "typical", "high"]);
        let room = 1e-5 * (theirs[2] - theirs[0]) + 1e-7 * theirs[2].abs();
        for (ours, theirs) in ours.iter().zip(theirs) {
            assert_close(*ours, theirs, room, what);
        }
    });
    odds(|row, ours, what| assert_close(ours, row.number("low"), 1e-9, what));
}

/// Of 1,024 draws 5 % lie below an end, give or take 0.7 % (one sigma of a binomial count; strata
/// make it less). Four sigmas are 2 to 8 %, whatever the distribution.
#[test]
fn ends_lie_where_a_million_draws_put_them() {
    let mut aside = [Vec::new(), Vec::new()];
    figures(|row, [low, typical, high], what| {
        let room = 1e-6 * typical.abs();
        let within = |value: f64, least: f64, most: f64| {
            assert!(
                least - room <= value && value <= most + room,
                "{what}: {value} between {least} and {most}"
            );
        };
        // An end never passes the typical value.
        let below = |of: &str| row.number(of).min(typical);
        let above = |of: &str| row.number(of).max(typical);
        within(low, below("p02"), below("p08"));
        within(high, above("p92"), above("p98"));
        let width = above("p95") - below("p05");
        // Of a tail that only just begins at an end the width says nothing.
        let tails = (above("p98") - above("p92")).max(below("p08") - below("p02"));
        if width > 1e-4 * typical.abs() && tails < 0.5 * width {
            aside[0].push((low - below("p05")) / width);
            aside[1].push((high - above("p95")) / width);
        }
    });
    // For a normal figure 0.7 % of the draws are 2 % of its width; all figures together say more
    // than each: they err as such a count does, and to neither side.
    for aside in aside {
        assert!(aside.len() > 200, "{} figures in doubt", aside.len());
        let typically = root_mean_square(&aside);
        assert!(typically < 0.02, "{typically} of the width, typically");
        assert_close(mean(&aside), 0.0, 0.01, "on average, of the width");
    }
}

/// Shares of 1,024 draws err by 1.6 % at the worst (one sigma).
#[test]
fn odds_are_those_of_a_million_draws() {
    odds(|row, ours, what| assert_close(ours, row.number("typical"), 0.04, what));
}
