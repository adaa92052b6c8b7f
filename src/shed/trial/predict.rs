//! Predict first: what the model expects of each treatment, beside the gardener's own guess; both
//! stored before the first record.

use super::fields::{choices, choose, fault, list_box, number, number_box, rebuild, show_number};
use super::plan::{headings, settle_plan};
use super::{Part, State, again, tell, with};
use crate::caution::{Care, Severity};
use crate::dom::{Element, set, window};
use crate::recipe::{Recipe, to_letters};
use crate::shed::form::put;
use crate::shed::section::{put as put_text, put_list};
use crate::trial::doses::{Doses, Foretold};
use crate::trial::plan::{GUESS_LIMITS_PCT, Guess, Predicted, Stage, Trial, Way};
use crate::words::error_text;
use crate::words::trial::page_plan::{
    MEASURE_OF_ALL, NO_GUESS, NOT_KNOWN, TreatmentBox, WAY_FIRST, guess_head, of_treatment,
    treatment_care_text,
};
use crate::words::trial::plan::{
    measure_name, plan_fault_text, predicted_name, stage_text, treatment_name, way_name,
};
use crate::words::trial::section::{STALE, foretold_text};
use std::cell::RefCell;
use wasm_bindgen::prelude::*;

const PART: Part = Part::Plan;
/// Quiet time before the model is asked, ms.
const AFTER_MS: i32 = 200;

/// What the model says of one container's recipe, in letters.
pub(super) struct Known {
    letters: String,
    foretold: Foretold,
}

thread_local! {
    static TIMER: RefCell<Option<i32>> = const { RefCell::new(None) };
    static NEXT: Closure<dyn FnMut()> = Closure::new(next);
}

/// Asks the model for one treatment after a while, unless something moves before.
fn later(ms: i32) {
    TIMER.with(|timer| {
        if let Some(old) = timer.take() {
            window().clear_timeout(old);
        }
        NEXT.with(|closure| {
            *timer.borrow_mut() = Some(window().set_timeout(closure.as_ref(), ms));
        });
    });
}

fn next() {
    let asked = with(|state| {
        let trial = state.trial.clone()?;
        let doses = trial.doses(&state.recipe).ok()?;
        state.own.known.retain(|known| {
            let mut all = doses.each.iter();
            all.any(|one| to_letters(&one.recipe) == known.letters)
        });
        for (treatment, one) in doses.each.iter().enumerate() {
            let letters = to_letters(&one.recipe);
            if known(state, &letters).is_none() {
                let foretold = Foretold::of(&trial, treatment, one).ok()?;
                state.own.known.push(Known { letters, foretold });
                return Some(());
            }
        }
        None
    });
    if asked.flatten().is_some() {
        again();
        later(0);
    }
}

fn known<'a>(state: &'a State, letters: &str) -> Option<&'a Foretold> {
    let mut all = state.own.known.iter();
    let known = all.find(|known| known.letters == letters)?;
    Some(&known.foretold)
}

/// Writes all of it.
pub(super) fn fill(state: &mut State, trial: &Trial, doses: Option<Doses>) {
    let list: Vec<(String, String)> = Predicted::ALL
        .iter()
        .map(|of| (of.spelling().to_owned(), predicted_name(*of).to_owned()))
        .collect();
    choose(PART, "foretold", &list, state.own.foretold.spelling());
    let primary = trial.primary.as_deref().unwrap_or_default();
    let guess = guess_head(&measure_name(trial, primary));
    put_text(&PART.part("guess-name"), &guess);
    let name = |index: usize| treatment_name(trial, &state.recipe, index);
    let key: String = (0..trial.treatments.len())
        .map(|index| name(index) + "\n")
        .collect();
    let control = trial.control();
    rebuild(
        &PART.part("predict"),
        &[
            &key,
            "/",
            &crate::words::fixed(control.map_or(-1.0, |at| at as f64), 0),
        ]
        .concat(),
        |body| {
            for index in 0..trial.treatments.len() {
                row(body, index, &name(index), control == Some(index));
            }
        },
    );
    let measured = trial.may_change().is_err();
    let mut missing = false;
    let mut stale = false;
    for (index, treatment) in trial.treatments.iter().enumerate() {
        let letters = doses
            .as_ref()
            .and_then(|doses| doses.each.get(index))
            .map(|one| to_letters(&one.recipe));
        let now = letters.as_deref().and_then(|letters| known(state, letters));
        missing |= letters.is_some() && now.is_none();
        // What was stored stands once there are records.
        let stored = treatment.predicted.iter();
        let stored = stored.copied().find(|(of, _)| *of == state.own.foretold);
        let of_now = now.and_then(|now| {
            let mut figures = now.figures.iter().copied();
            figures.find(|(of, _)| *of == state.own.foretold)
        });
        if let (Some((_, stored)), Some((_, now))) = (stored, of_now) {
            let same = crate::quantity::round_significant(now.typical, 3)
                == crate::quantity::round_significant(stored.typical, 3);
            stale |= !same;
        }
        let figure = if measured { stored } else { of_now };
        let [value, range] = match figure {
            Some((of, figure)) => foretold_text(of, figure, state.speech),
            None if measured || now.is_some() => [NOT_KNOWN.text().into(), String::new()],
            None => ["…".into(), String::new()],
        };
        let row = PART.panel();
        let at = crate::words::fixed(index as f64, 0);
        let cell = |name: &str| {
            let selector = ["[data-part=", name, "-", &at, "]"].concat();
            row.query_selector(&selector)
        };
        if let Some(cell) = cell("expects") {
            put_text(&cell, &value);
        }
        if let Some(cell) = cell("within") {
            put_text(&cell, &range);
        }
        let way = treatment.guess.map_or("", |guess| guess.way.spelling());
        if let Some(list) = PART.field(&["way-", &at].concat()) {
            choices(&list, &ways(), way);
        }
        let by = treatment.guess.and_then(|guess| guess.by_pct);
        show_number(PART, &["by-", &at].concat(), by);
    }
    put_list(&PART.part("cares"), &cares(state, trial, doses.as_ref()));
    let stage = trial.stage();
    let text = if stage == Stage::Foretold && stale && !missing {
        STALE.text()
    } else {
        stage_text(stage)
    };
    put_text(&PART.part("stage"), text);
    if missing {
        later(AFTER_MS);
    }
}

/// What to beware of that the control does not raise, by treatment; the same is said once.
fn cares(state: &State, trial: &Trial, doses: Option<&Doses>) -> Vec<String> {
    let each = doses.map_or(&[][..], |doses| &doses.each);
    let of = |at: usize| known(state, &to_letters(&each.get(at)?.recipe));
    let control = trial.control().and_then(of);
    let anyhow = |care: Care| {
        let mut all = control.iter().flat_map(|control| &control.cautions);
        all.any(|known| known.of == care)
    };
    let mut told: Vec<(Vec<String>, String)> = Vec::new();
    for at in 0..each.len() {
        let own = of(at).into_iter().flat_map(|foretold| &foretold.cautions);
        let own = own.filter(|one| one.of.severity() != Severity::Note && !anyhow(one.of));
        for caution in own {
            let text = treatment_care_text(caution, state.speech);
            let name = treatment_name(trial, &state.recipe, at);
            match told.iter_mut().find(|(_, known)| *known == text) {
                Some((names, _)) => names.push(name),
                None => told.push((vec![name], text)),
            }
        }
    }
    let line = |(names, text): &(Vec<String>, String)| [&names.join(", "), ": ", text].concat();
    told.iter().map(line).collect()
}

fn ways() -> Vec<(String, String)> {
    let mut out = vec![(String::new(), NO_GUESS.text().to_owned())];
    let all = Way::ALL.iter();
    out.extend(all.map(|way| (way.spelling().to_owned(), way_name(*way).to_owned())));
    out
}

fn row(body: &Element, index: usize, name: &str, is_control: bool) {
    let at = crate::words::fixed(index as f64, 0);
    let line = put(body, "tr", "");
    set(&put(&line, "th", name), "scope", "row");
    let heads = headings(body);
    let labelled = |at: usize, text: &str| {
        let cell = put(&line, "td", text);
        set(
            &cell,
            "data-label",
            heads.get(at).map_or("", String::as_str),
        );
        cell
    };
    for (column, part) in ["expects", "within"].into_iter().enumerate() {
        let cell = labelled(column + 1, "");
        set(&cell, "data-part", &[part, "-", &at].concat());
        if part == "within" {
            set(&cell, "class", "within");
        }
    }
    if is_control {
        labelled(3, MEASURE_OF_ALL.text());
        put(&line, "td", "");
        return;
    }
    let cell = labelled(3, "");
    list_box(
        &cell,
        &["way-", &at].concat(),
        &of_treatment(TreatmentBox::Guess, name),
    );
    let cell = labelled(4, "");
    let called = of_treatment(TreatmentBox::GuessBy, name);
    number_box(&cell, &["by-", &at].concat(), &called);
}

/// A guess, or the figure that is shown; gives whether it was one of these.
pub(super) fn let_go(field: &Element, name: &str) -> bool {
    if name == "foretold" {
        let chosen = field.value();
        let mut all = Predicted::ALL.iter().copied();
        if let Some(of) = all.find(|of| of.spelling() == chosen) {
            with(|state| state.own.foretold = of);
            again();
        }
        return true;
    }
    let Some(at) = name
        .strip_prefix("way-")
        .or_else(|| name.strip_prefix("by-"))
    else {
        return false;
    };
    guess(at);
    true
}

fn guess(at: &str) {
    let (Some(list), Some(field)) = (
        PART.field(&["way-", at].concat()),
        PART.field(&["by-", at].concat()),
    ) else {
        return;
    };
    let chosen = list.value();
    let way = Way::ALL
        .iter()
        .copied()
        .find(|way| way.spelling() == chosen);
    let Ok(by_pct) = number(&field, GUESS_LIMITS_PCT) else {
        return;
    };
    if way.is_none() && by_pct.is_some() {
        fault(&field, WAY_FIRST.text());
        return;
    }
    let Ok(at) = at.parse() else {
        return;
    };
    let guess = way.map(|way| Guess { way, by_pct });
    settle_plan(|trial, _| {
        let set = trial.set_guess(at, guess);
        set.map_err(crate::words::trial::plan::locked_text)
    });
}

/// Stores what the model expects now.
fn foretell(trial: &mut Trial, recipe: &Recipe) -> Result<(), String> {
    let doses = trial
        .doses(recipe)
        .map_err(|fault| plan_fault_text(&fault, trial, recipe, crate::words::METRIC))?;
    let mut predicted = Vec::with_capacity(doses.each.len());
    for (treatment, one) in doses.each.iter().enumerate() {
        let letters = to_letters(&one.recipe);
        let said = with(|state| Some(known(state, &letters)?.figures.clone())).flatten();
        predicted.push(match said {
            Some(figures) => figures,
            None => {
                let foretold = Foretold::of(trial, treatment, one);
                foretold.map_err(|error| error_text(&error))?.figures
            }
        });
    }
    let stored = trial.foretell(predicted);
    stored.map_err(crate::words::trial::plan::locked_text)
}

/// Gives a trial with its first record what the model expected of the plan before it. Where the plan
/// comes to nothing, nothing was expected.
pub(super) fn before_the_first(trial: &mut Trial, mut before: Trial, recipe: &Recipe) {
    if foretell(&mut before, recipe).is_ok() {
        for (treatment, known) in trial.treatments.iter_mut().zip(before.treatments) {
            treatment.predicted = known.predicted;
        }
    }
}

/// The button.
pub(super) fn store() {
    if settle_plan(foretell) {
        tell(stage_text(Stage::Foretold));
    }
}
