//! Boxes of the plan that need more than a number: sliders, names, days.

use super::settle_plan;
use crate::dom::Element;
use crate::shed::trial::fields::{fault, mend, moving, needed};
use crate::shed::trial::{adjust, change, with};
use crate::trial::date::Date;
use crate::trial::document::{CV_LIMITS_PCT, DAYS_LIMIT, PHOTO_DAYS_LIMIT, TITLE_LETTERS};
use crate::trial::layout::{CONTAINERS_LIMIT, COPIES_LIMIT};
use crate::trial::measures::Scale;
use crate::trial::plan::Trial;
use crate::words::trial::page_plan::{WHOLE, days_fault_text, letters_text, sown_late_text};

/// A slider and its box: drawn while it moves, written when it is let go.
pub(super) fn slide(field: &Element, name: &str, lets_go: bool) {
    let limits = match name {
        "blocks" => (1.0, CONTAINERS_LIMIT as f64),
        "spread" => CV_LIMITS_PCT,
        _ => (1.0, 1000.0),
    };
    let value = if lets_go {
        needed(field, limits).ok()
    } else {
        moving(field, limits)
    };
    let Some(value) = value else {
        return;
    };
    // Whole containers.
    if name == "blocks" && value.fract() != 0.0 {
        if lets_go {
            fault(field, WHOLE.text());
        }
        return;
    }
    let own = match name {
        "difference" => with(|state| {
            state.own.difference_pct = value;
            let trial = state.trial.as_ref()?;
            let measure = trial.primary_measure()?;
            Some(measure.scale == Scale::Log && trial.may_change().is_ok())
        })
        .flatten()
        .unwrap_or(false),
        _ => true,
    };
    let act = |trial: &mut Trial| match name {
        "blocks" => trial.blocks = value as usize,
        "spread" => trial.expected_cv_pct = Some(value),
        _ if own => trial.matters = Some(value),
        _ => {}
    };
    if lets_go && (own || name == "spread") {
        change(act);
    } else {
        adjust(act);
    }
}

/// A name of the user's; none where nothing is typed.
pub(super) fn typed_name(field: &Element) -> Result<Option<String>, ()> {
    let text = field.value();
    let text = text.trim();
    if text.chars().count() > TITLE_LETTERS {
        fault(field, &letters_text(TITLE_LETTERS));
        return Err(());
    }
    mend(field);
    Ok((!text.is_empty()).then(|| text.to_owned()))
}

pub(super) fn photos(field: &Element) -> Result<(), ()> {
    let Some(days) = typed_days(&field.value()) else {
        fault(field, &days_fault_text(PHOTO_DAYS_LIMIT, DAYS_LIMIT));
        return Err(());
    };
    mend(field);
    change(|trial| trial.photo_days = days);
    Ok(())
}

/// Days as typed, in order; none where they are none.
fn typed_days(text: &str) -> Option<Vec<u32>> {
    let mut days = Vec::new();
    let apart = |letter: char| letter.is_whitespace() || matches!(letter, ',' | ';');
    for day in text.split(apart).filter(|day| !day.is_empty()) {
        let day: u32 = day.parse().ok()?;
        if f64::from(day) > DAYS_LIMIT {
            return None;
        }
        days.push(day);
    }
    days.sort_unstable();
    days.dedup();
    (days.len() <= PHOTO_DAYS_LIMIT).then_some(days)
}

/// How many containers of the control stand in a block.
pub(super) fn copies(field: &Element) -> Result<(), ()> {
    let copies = needed(field, (1.0, COPIES_LIMIT as f64))?;
    if copies.fract() != 0.0 {
        fault(field, WHOLE.text());
        return Err(());
    }
    let copies = copies as usize;
    settle_plan(|trial, _| {
        let control = trial.control();
        if let Some(control) = control.and_then(|at| trial.treatments.get_mut(at)) {
            control.copies = (copies > 1).then_some(copies);
        }
        Ok(())
    });
    Ok(())
}

/// The day of sowing, not after the first record.
pub(super) fn start(field: &Element) -> Result<(), ()> {
    let day = Date::of_iso(&field.value());
    let first = with(|state| {
        let records = &state.trial.as_ref()?.records;
        records.iter().map(|record| record.date).min()
    });
    if let (Some(day), Some(Some(first))) = (day, first)
        && day > first
    {
        fault(field, &sown_late_text(first));
        return Err(());
    }
    mend(field);
    change(|trial| trial.start = day);
    Ok(())
}
