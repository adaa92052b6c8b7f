//! How many of each: what a trial of so many can find, drawn again within the frame.

use super::fields::{rebuild, show_number};
use super::plan::difference_pct;
use super::{Part, State};
use crate::dom::{set, set_disabled, set_hidden};
use crate::recipe::number_text;
use crate::shed::form::{in_box, put};
use crate::shed::ink::Ink;
use crate::shed::section::put as put_text;
use crate::trial::analysis::Scale;
use crate::trial::layout::Design;
use crate::trial::measures;
use crate::trial::plan::Trial;
use crate::trial::power::{Plan, USUAL_POWER, each_needed, log_spread};
use crate::words::trial::page_plan::{
    CANNOT_TELL, NO_CONTROL, SCORE_DECIDES, SQUARE, difference_name, each_name,
};
use crate::words::trial::section::needed_text;
use crate::words::{fixed, one_container_text, plan_text_by};

const PART: Part = Part::Plan;
/// Numbers of each that are drawn.
const SHOWN: u32 = 12;
/// Height of the drawing in ems, as `style.css` has it.
const HIGH_EM: f64 = 12.0;
/// Spread and difference where nothing is known, %.
pub(super) const USUAL_PCT: f64 = 20.0;

/// What a slider says of its value.
fn speaks(name: &str, value: f64, unit: &str) {
    let selector = ["input[type=range][name=", name, "]"].concat();
    if let Some(slider) = PART.panel().query_selector(&selector) {
        set(
            &slider,
            "aria-valuetext",
            &[&in_box(value), " ", unit].concat(),
        );
    }
}

/// Writes all of it.
pub(super) fn fill(state: &mut State, trial: &Trial) {
    let spread_pct = trial.expected_cv_pct.unwrap_or(USUAL_PCT);
    let difference_pct = difference_pct(state, trial);
    let is_square = trial.design == Design::Latin;
    let blocks = if is_square {
        trial.treatments.len()
    } else {
        trial.blocks
    };
    show_number(PART, "blocks", Some(blocks as f64));
    show_number(PART, "spread", Some(spread_pct));
    show_number(PART, "difference", Some(difference_pct));
    let each = each_name(trial.design);
    put_text(&PART.part("blocks-name"), each);
    speaks("blocks", blocks as f64, &each.to_lowercase());
    speaks("spread", spread_pct, "%");
    speaks("difference", difference_pct, "%");
    let scale_of = trial.primary_measure().map(|measure| measure.scale);
    let log = scale_of == Some(measures::Scale::Log);
    put_text(&PART.part("difference-name"), difference_name(log));
    let scale = if log { Scale::Log } else { Scale::Raw };
    // Without a control nothing is told from it.
    let control = trial.control().and_then(|at| trial.treatments.get(at));
    let is_score = scale_of == Some(measures::Scale::Score);
    let others = match control {
        Some(_) if !is_score => trial.treatments.len().saturating_sub(1) as u32,
        _ => 0,
    };
    // Spare controls narrow every comparison. In blocks they also free degrees that are not counted
    // here, so that the chance is told a little too low.
    let copies = control.map_or(1, |of| of.copies.unwrap_or(1)) as u32;
    let of_each = |each: u32| {
        let even = Plan::even(trial.design, others, each);
        let spare = if is_square { 1 } else { copies };
        Plan {
            control: each.saturating_mul(spare),
            ..even
        }
    };
    let (spread, difference) = (spread_pct / 100.0, difference_pct / 100.0);
    let now = if is_square {
        trial.treatments.len() as u32
    } else {
        trial.blocks.min(u32::MAX as usize) as u32
    };
    let says = PART.part("power-says");
    let firm = now <= 1;
    let text = if control.is_none() {
        NO_CONTROL.text().to_owned()
    } else if is_score {
        SCORE_DECIDES.text().to_owned()
    } else if others == 0 {
        String::new()
    } else if firm {
        one_container_text(others, spread, difference)
    } else {
        plan_text_by(&mut state.limits, &of_each(now), scale, spread, difference)
    };
    if firm || control.is_none() || is_score {
        set(&says, "class", "trial-firm");
    } else {
        says.remove_attribute("class");
    }
    put_text(&says, &text);

    let needed = if others == 0 || copies > 1 {
        String::new()
    } else {
        let (difference, spread) = if log {
            (libm::log1p(difference), log_spread(spread))
        } else {
            (difference, spread)
        };
        let key = (trial.design, others, difference, spread);
        let needed = match state.own.needed {
            Some((known, needed)) if known == key => needed,
            _ => each_needed(trial.design, others, difference, spread, USUAL_POWER),
        };
        state.own.needed = Some((key, needed));
        needed_text(trial.design, needed, difference_pct)
    };
    put_text(&PART.part("needed"), &needed);

    let most = if now > SHOWN { now } else { SHOWN };
    let mut found: Vec<(u32, Option<f64>)> = Vec::new();
    let numbers = (1..=SHOWN).chain((most > SHOWN).then_some(most));
    for each in numbers {
        let plan = of_each(each);
        let chance = if others == 0 || (is_square && each != now) {
            None
        } else if scale == Scale::Log {
            let (difference, spread) = (libm::log1p(difference), log_spread(spread));
            plan.power_by(&mut state.limits, difference, spread)
        } else {
            plan.power_by(&mut state.limits, difference, spread)
        };
        found.push((each, chance));
    }
    // A figure of what cannot be found would be one.
    for place in ["power", "power-all"] {
        set_hidden(&PART.part(place), is_square || others == 0);
    }
    draw(state, &found, now);
    put_text(&PART.part("power-each"), each_name(trial.design));
    let key: String = found
        .iter()
        .map(|(each, chance)| row_key(*each, *chance))
        .collect();
    rebuild(&PART.part("power-rows"), &key, |body| {
        for (each, chance) in &found {
            let row = put(body, "tr", "");
            set(&put(&row, "th", &fixed((*each).into(), 0)), "scope", "row");
            put(&row, "td", &told(*chance));
        }
    });
}

/// Sliders that nothing follows are off: in a square there are as many rows as treatments.
pub(super) fn settled(trial: &Trial) {
    let is_square = trial.design == Design::Latin;
    if is_square {
        for field in PART.panel().query_selector_all("[name=blocks]") {
            set_disabled(&field, true);
        }
    }
    put_text(
        &PART.part("blocks-why"),
        if is_square { SQUARE.text() } else { "" },
    );
    // By logarithms it is the difference that decides, which records have settled.
    let scale = trial.primary_measure().map(|measure| measure.scale);
    let decides = scale == Some(measures::Scale::Log);
    for field in PART.panel().query_selector_all("[name=difference]") {
        set_disabled(&field, decides && trial.may_change().is_err());
    }
}

fn told(chance: Option<f64>) -> String {
    chance.map_or_else(
        || CANNOT_TELL.text().into(),
        |chance| fixed(100.0 * chance, 0),
    )
}

fn row_key(each: u32, chance: Option<f64>) -> String {
    [&fixed(each.into(), 0), " ", &told(chance), ";"].concat()
}

fn draw(state: &mut State, found: &[(u32, Option<f64>)], now: u32) {
    let place = PART.part("power");
    let width = f64::from(place.client_width().max(240));
    let height = f64::from(place.client_height().max(60));
    let em = height / HIGH_EM;
    let (left, top, bottom) = (2.8 * em, 1.4 * em, height - 2.2 * em);
    let step = (width - left - 0.4 * em) / found.len() as f64;
    let y = |chance: f64| bottom - chance * (bottom - top);
    let mut ink = Ink(String::with_capacity(3_000));
    let usual = y(USUAL_POWER);
    for (at, (each, chance)) in found.iter().enumerate() {
        let x = left + at as f64 * step;
        let class = if *each == now {
            "power-bar here"
        } else {
            "power-bar"
        };
        let middle = x + 0.5 * step;
        if let Some(chance) = chance {
            let (from, to) = (x + 0.15 * step, x + 0.85 * step);
            let high = y(*chance);
            let corners = [[from, bottom], [from, high], [to, high], [to, bottom]];
            ink.path(class, &corners, true);
            if *each == now {
                let text = fixed(100.0 * chance, 0);
                ink.text(
                    "of-blend haloed",
                    [middle, high - 0.3 * em],
                    "middle",
                    &text,
                );
            }
        }
        let text = fixed((*each).into(), 0);
        ink.text("tick", [middle, bottom + 1.2 * em], "middle", &text);
    }
    ink.line("wet-line", [left, usual], [width, usual]);
    ink.line("full-line", [left, bottom], [width, bottom]);
    for chance in [0.0, USUAL_POWER, 1.0] {
        let text = fixed(100.0 * chance, 0);
        ink.text(
            "tick",
            [left - 0.4 * em, y(chance) + 0.3 * em],
            "end",
            &text,
        );
    }
    let whole = |value: f64| number_text(value.round());
    set(
        &place,
        "viewBox",
        &["0 0 ", &whole(width), " ", &whole(height)].concat(),
    );
    if state.own.drawn != ink.0 {
        place.set_inner_html(&ink.0);
        state.own.drawn = ink.0;
    }
}
