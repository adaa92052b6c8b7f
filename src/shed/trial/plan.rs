//! Plan: treatments, containers, doses, crop, how many of each.

mod deeds;
mod shown;
mod takes;

use super::fields::{fault, mend, moving, needed, number};
use super::{Part, State, adjust, change, change_with, power, predict, take_out, tell};
use crate::dom::{Element, Event, closest, set_disabled, set_hidden};
use crate::recipe::Recipe;
use crate::shed::section::put as put_text;
use crate::trial::crops::TestCrop;
use crate::trial::date::Date;
use crate::trial::document::{
    CV_LIMITS_PCT, DAYS_LIMIT, MATTERS_LIMITS, PHOTO_DAYS_LIMIT, PLANTS_LIMIT, TITLE_LETTERS,
};
use crate::trial::doses::{Doses, PlanFault};
use crate::trial::layout::{CONTAINERS_LIMIT, COPIES_LIMIT};
use crate::trial::measures::{Measure, Scale, find, usual_spread};
use crate::trial::plan::{Deed, Treatment, Trial, usual_photo_days};
use crate::trial::start::SECOND_DOSE;
use crate::words::trial::page_plan::{
    ADDED, NO_DOSE_YET, WHOLE, added_two, count_text, days_fault_text, letters_text, sown_late_text,
};
use crate::words::trial::plan::{locked_text, plan_fault_text};
use deeds::{add, control, equal, kind, own_dose, replant, typed_amount, vessel_box};
use shown::{crop, measure, names, treatments, vessel};
use takes::{advice, takes};
pub(super) use takes::{headings, table};

const PART: Part = Part::Plan;

/// Writes all of it.
pub(super) fn fill(state: &mut State) {
    let Some(trial) = state.trial.clone() else {
        return;
    };
    let doses = trial.doses(&state.recipe);
    told_fault(PART, &trial, state, &doses);
    treatments(&trial, state);
    names(&trial, state);
    vessel(&trial);
    crop(&trial);
    measure(&trial);
    advice(&trial, state, doses.as_ref().ok());
    takes(&trial, state, doses.as_ref().ok());
    let count = state.layout.as_ref();
    let count = count.map_or(String::new(), |layout| count_text(&trial, layout));
    put_text(&PART.part("count"), &count);
    power::fill(state, &trial);
    predict::fill(state, &trial, doses.ok());
    // What was just built is locked, too; then what the plan itself leaves no choice of.
    locked(PART, &trial);
    power::settled(&trial);
    shown::settled(&trial);
}

/// Locks what records have settled, and says so.
pub(super) fn locked(part: Part, trial: &Trial) {
    let locked = trial.may_change();
    let place = part.part("locked");
    set_hidden(&place, locked.is_ok());
    if let Err(why) = locked {
        put_text(&place, &locked_text(why));
    }
    for field in part.panel().query_selector_all("[data-lock]") {
        set_disabled(&field, locked.is_err());
    }
}

/// What makes no trial, at the top, until it is mended.
pub(super) fn told_fault(
    part: Part,
    trial: &Trial,
    state: &State,
    doses: &Result<Doses, PlanFault>,
) {
    let text = doses.as_ref().err().map_or(String::new(), |fault| {
        plan_fault_text(fault, trial, &state.recipe, state.speech)
    });
    put_text(&part.part("fault"), &text);
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    let name = field.get_attribute("name").unwrap_or_default();
    if matches!(name.as_str(), "blocks" | "spread" | "difference") {
        slide(&field, &name, lets_go);
        return;
    }
    if !lets_go {
        return;
    }
    let _ = let_go(&field, &name);
}

/// A slider and its box: drawn while it moves, written when it is let go.
fn slide(field: &Element, name: &str, lets_go: bool) {
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
            fault(field, WHOLE);
        }
        return;
    }
    let own = match name {
        "difference" => super::with(|state| {
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

/// Changes the plan, as long as nothing is measured.
pub(super) fn settle_plan(act: impl FnOnce(&mut Trial, &Recipe) -> Result<(), String>) -> bool {
    change_with(|trial, recipe| {
        trial.may_change().map_err(locked_text)?;
        act(trial, recipe)
    })
}

fn let_go(field: &Element, name: &str) -> Result<(), ()> {
    if let Some(rest) = name
        .strip_prefix("dose-unit-")
        .or_else(|| name.strip_prefix("dose-"))
    {
        return own_dose(rest);
    }
    if let Some(at) = name.strip_prefix("name-") {
        let at: usize = at.parse().map_err(|_| ())?;
        let text = typed_name(field)?;
        change(|trial| {
            if let Some(treatment) = trial.treatments.get_mut(at) {
                treatment.name = text;
            }
        });
        return Ok(());
    }
    if predict::let_go(field, name) {
        return Ok(());
    }
    match name {
        "dug" => control(Deed::Dug, field.checked()),
        "untouched" => control(Deed::Untouched, field.checked()),
        "kind" => kind(&field.value()),
        "volume" | "volume-unit" | "height" | "height-unit" | "empty" | "empty-unit" | "area"
        | "area-unit" | "depth" | "depth-unit" => {
            vessel_box(name.trim_end_matches("-unit"))?;
        }
        "dose" | "dose-unit" => {
            let dose = typed_amount("dose")?;
            settle_plan(|trial, _| {
                trial.dose = dose;
                Ok(())
            });
        }
        "equal" => equal(field.value() == "mass"),
        "crop" => {
            let crop = field.value();
            settle_plan(|trial, _| {
                trial.crop = (!crop.is_empty()).then_some(crop);
                if let Some(known) = trial.crop.as_deref().and_then(TestCrop::find) {
                    trial.photo_days = usual_photo_days(known.harvest_days.value[1]);
                }
                replant(trial);
                Ok(())
            });
        }
        "variety" | "title" => {
            let text = typed_name(field)?;
            let is_title = name == "title";
            change(|trial| {
                let of = if is_title {
                    &mut trial.title
                } else {
                    &mut trial.variety
                };
                *of = text;
            });
        }
        "photos" => photos(field)?,
        "copies" => copies(field)?,
        "seeds" | "plants" => {
            let value = number(field, (1.0, PLANTS_LIMIT))?;
            if value.is_some_and(|value| value.fract() != 0.0) {
                fault(field, WHOLE);
                return Err(());
            }
            let value = value.map(|value| value as u32);
            let seeds = name == "seeds";
            settle_plan(|trial, _| {
                let of = if seeds {
                    &mut trial.seeds
                } else {
                    &mut trial.plants
                };
                *of = value;
                Ok(())
            });
        }
        "start" => {
            let day = Date::of_iso(&field.value());
            let first = super::with(|state| {
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
        }
        "primary" => {
            let id = field.value();
            settle_plan(|trial, _| {
                let measure = find(&trial.own_measures, &id);
                trial.matters = measure.and_then(|measure| measure.matters);
                trial.expected_cv_pct = usual_spread(&id)
                    .map(|spread| spread.cv_pct[1])
                    .or(trial.expected_cv_pct);
                trial.primary = Some(id);
                Ok(())
            });
        }
        "matters" => {
            let value = number(field, MATTERS_LIMITS)?;
            settle_plan(|trial, _| {
                trial.matters = value;
                Ok(())
            });
        }
        _ => {}
    }
    Ok(())
}

/// A name of the user's; none where nothing is typed.
fn typed_name(field: &Element) -> Result<Option<String>, ()> {
    let text = field.value();
    let text = text.trim();
    if text.chars().count() > TITLE_LETTERS {
        fault(field, &letters_text(TITLE_LETTERS));
        return Err(());
    }
    mend(field);
    Ok((!text.is_empty()).then(|| text.to_owned()))
}

fn photos(field: &Element) -> Result<(), ()> {
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
fn copies(field: &Element) -> Result<(), ()> {
    let copies = needed(field, (1.0, COPIES_LIMIT as f64))?;
    if copies.fract() != 0.0 {
        fault(field, WHOLE);
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

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let chosen = PART
        .field("material")
        .map_or(String::new(), |list| list.value());
    match deed {
        "add" => {
            let added = add(|_| Ok(vec![Treatment::of(chosen)]));
            if added {
                tell(ADDED);
            }
        }
        "two" => {
            let added = add(|trial| {
                let dose = trial.dose.clone().ok_or(NO_DOSE_YET)?;
                let of = Treatment::of(chosen);
                let known = trial.treatments.iter().position(|known| {
                    known.deed == of.deed && known.dose.as_ref().is_none_or(|own| *own == dose)
                });
                // The single dose may be there: then both come in its place.
                if let Some(at) = known {
                    trial.treatments.remove(at);
                }
                Ok(of.at_two(&dose).to_vec())
            });
            if added {
                tell(&added_two(SECOND_DOSE));
            }
        }
        "blend" => {
            add(|_| Ok(vec![Treatment::new(Deed::Blend)]));
        }
        "remove" => {
            let at = value.parse().unwrap_or(usize::MAX);
            settle_plan(|trial, _| {
                if at < trial.treatments.len() {
                    trial.treatments.remove(at);
                }
                Ok(())
            });
        }
        "remove-trial" => take_out(),
        "foretell" => predict::store(),
        _ => {}
    }
}

/// The difference to plan for, % of the control.
pub(super) fn difference_pct(state: &State, trial: &Trial) -> f64 {
    let log = |measure: &Measure<'_>| measure.scale == Scale::Log;
    let own = trial.primary_measure().filter(log);
    own.and_then(|measure| measure.matters)
        .unwrap_or(state.own.difference_pct)
}
