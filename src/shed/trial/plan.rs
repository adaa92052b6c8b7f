//! Plan: treatments, containers, doses, crop, how many of each.

mod boxes;
mod deeds;
mod shown;
mod takes;

use super::fields::{fault, number};
use super::{Part, State, change, change_with, power, predict, take_out, tell};
use crate::dom::{Element, Event, closest, set_disabled, set_hidden};
use crate::recipe::Recipe;
use crate::shed::section::put as put_text;
use crate::trial::crops::TestCrop;
use crate::trial::document::{MATTERS_LIMITS, PLANTS_LIMIT};
use crate::trial::doses::{Doses, PlanFault};
use crate::trial::measures::{Measure, Scale, usual_spread};
use crate::trial::plan::{Deed, Treatment, Trial, usual_photo_days};
use crate::trial::start::{SECOND_DOSE, first_dose};
use crate::words::trial::page_plan::{ADDED, NO_DOSE_YET, WHOLE, added_two, count_text};
use crate::words::trial::plan::{locked_text, plan_fault_text};
use crate::words::trial::records::seeds_fault_text;
use boxes::{copies, photos, slide, start, typed_name};
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
                fault(field, WHOLE.text());
                return Err(());
            }
            let value = value.map(|value| value as u32);
            if name == "seeds" {
                // A fact, as the day of sowing is, so it can be told late.
                change_with(|trial, _| {
                    trial
                        .tell_seeds(value)
                        .map_err(|fault| seeds_fault_text(&fault))
                });
            } else {
                settle_plan(|trial, _| {
                    trial.plants = value;
                    Ok(())
                });
            }
        }
        "start" => start(field)?,
        "primary" => {
            let id = field.value();
            settle_plan(|trial, _| {
                trial.matters = trial.matters_for(&id);
                // A spread belongs to its measure.
                trial.expected_cv_pct = usual_spread(&id).map(|spread| spread.cv_pct[1]);
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

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let chosen = PART
        .field("material")
        .map_or(String::new(), |list| list.value());
    match deed {
        "add" => {
            let added = add(|_, recipe| {
                let mut one = Treatment::of(chosen.as_str());
                one.dose = first_dose(recipe, &chosen);
                Ok(vec![one])
            });
            if added {
                tell(ADDED.text());
            }
        }
        "two" => {
            let added = add(|trial, recipe| {
                let dose = first_dose(recipe, &chosen).or_else(|| trial.dose.clone());
                let dose = dose.ok_or(NO_DOSE_YET.text())?;
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
            add(|_, _| Ok(vec![Treatment::new(Deed::Blend)]));
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
