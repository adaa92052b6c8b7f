//! Plan: treatments, containers, doses, crop, how many of each.

use super::fields::{
    choices, choose, classed, fault, list_box, moving, needed, number, number_box, rebuild, show,
    show_number, tick, unit_choice, units,
};
use super::{Part, State, adjust, change, change_with, power, predict, take_out, tell};
use crate::dom::{Element, Event, closest, set, set_disabled, set_hidden};
use crate::material::catalogue;
use crate::quantity::{Dimension, Unit, round_significant};
use crate::recipe::{AMOUNT_LIMIT, Amount, Kept, Recipe};
use crate::shed::form::{button, put};
use crate::shed::section::{put as put_text, put_list};
use crate::trial::crops::{CROPS, TestCrop};
use crate::trial::date::Date;
use crate::trial::document::{CV_LIMITS_PCT, MATTERS_LIMITS, PLANTS_LIMIT};
use crate::trial::doses::{Doses, PlanAdvice, PlanFault, dose_units};
use crate::trial::layout::{CONTAINERS_LIMIT, Design};
use crate::trial::measures::{MEASURES, Measure, Scale, usual_spread};
use crate::trial::plan::{Deed, Treatment, Trial, Vessel, usual_photo_days};
use crate::trial::start::{SECOND_DOSE, strip_of};
use crate::words::trial::plan::{
    control_reason, crop_name, locked_text, measure_with_unit, plan_advice_text, plan_fault_text,
    treatment_name,
};
use crate::words::trial::section::{
    added_text, bought_lines, containers_text_of, crop_lines, crop_sources, filled_kg, ground_text,
    is_by_mass, matters_unit, usual_spread_text,
};
use crate::words::typed_text;

const PART: Part = Part::Plan;
/// Amounts that a box takes: more than nothing.
const AMOUNTS: (f64, f64) = (1e-6, AMOUNT_LIMIT);
/// Containers of some kinds: name, litres, height in cm (a choice; the volume is to be measured).
const KINDS: [(&str, &str, f64, f64); 4] = [
    ("pail", "a pail of 10 L", 10.0, 25.0),
    ("bucket", "a bucket 28 cm wide", 15.0, 25.0),
    ("pot", "a pot of 5 L", 5.0, 18.0),
    ("trough", "a trough 30 by 60 cm", 36.0, 20.0),
];
/// A strip of bed where the recipe has none: m2 and cm (a choice).
const STRIP: (f64, f64) = (1.0, 20.0);
/// Digits of a dose that is turned from volume to weight.
const DOSE_DIGITS: usize = 2;

/// Writes all of it.
pub(super) fn fill(state: &mut State) {
    let Some(trial) = state.trial.clone() else {
        return;
    };
    let doses = trial.doses(&state.recipe);
    locked(PART, &trial);
    told_fault(PART, &trial, state, &doses);
    treatments(&trial, state);
    vessel(&trial);
    crop(&trial);
    measure(&trial);
    advice(&trial, state, doses.as_ref().ok());
    takes(&trial, state, doses.as_ref().ok());
    let of = |layout| containers_text_of(&trial, layout);
    let count = state.layout.as_ref().map_or(String::new(), of);
    put_text(&PART.part("count"), &count);
    power::fill(state, &trial);
    predict::fill(state, &trial, doses.ok());
    // What was just built is locked, too.
    locked(PART, &trial);
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

fn number_of(index: usize) -> String {
    crate::words::fixed(index as f64, 0)
}

fn treatments(trial: &Trial, state: &State) {
    let name = |index: usize| treatment_name(trial, &state.recipe, index);
    let key: String = (0..trial.treatments.len())
        .map(|index| name(index) + "\n")
        .collect();
    rebuild(&PART.part("treatments"), &key, |list| {
        for (index, treatment) in trial.treatments.iter().enumerate() {
            let item = put(list, "li", "");
            put(&item, "strong", &name(index));
            if matches!(treatment.deed, Deed::Addition { .. }) {
                let amount = classed(&item, "span", "amount", "");
                let called = ["Dose of ", &name(index)].concat();
                let number = number_of(index);
                let field = number_box(&amount, &["dose-", &number].concat(), &called);
                set(&field, "placeholder", "as all");
                let unit = ["dose-unit-", &number].concat();
                list_box(
                    &amount,
                    &unit,
                    &["Unit of the dose of ", &name(index)].concat(),
                );
            }
            let remove = button("", &number_of(index), "×");
            remove.remove_attribute("data-tool");
            set(&remove, "class", "small");
            set(&remove, "data-trial", "plan-remove");
            set(&remove, "data-lock", "");
            set(
                &remove,
                "aria-label",
                &["Take out: ", &name(index)].concat(),
            );
            item.append_child(&remove);
        }
    });
    let dose_unit = trial.dose.as_ref().map_or(Unit::Litre, |dose| dose.unit);
    let all: Vec<(String, String)> = dose_units().map(unit_choice).collect();
    for (index, treatment) in trial.treatments.iter().enumerate() {
        if matches!(treatment.deed, Deed::Addition { .. }) {
            let dose = treatment.dose.as_ref();
            let number = number_of(index);
            show_number(
                PART,
                &["dose-", &number].concat(),
                dose.map(|dose| dose.value),
            );
            let unit = dose.map_or(dose_unit, |dose| dose.unit);
            choose(
                PART,
                &["dose-unit-", &number].concat(),
                &all,
                unit.spelling(),
            );
        }
    }
    let list = PART.field("material");
    if let Some(list) = list {
        let chosen = list.value();
        let materials = materials(&state.recipe);
        let known = materials.iter().any(|(id, _)| *id == chosen);
        let first = materials.first().map_or("", |(id, _)| id);
        let chosen = if known { chosen.as_str() } else { first };
        choices(&list, &materials, chosen);
    }
    let has = |deed: &Deed| trial.treatments.iter().any(|of| of.deed == *deed);
    tick(PART, "dug", has(&Deed::Dug));
    tick(PART, "untouched", has(&Deed::Untouched));
    put_text(&PART.part("dug-why"), control_reason(&Deed::Dug));
    put_text(
        &PART.part("untouched-why"),
        control_reason(&Deed::Untouched),
    );
}

/// What can be added: the recipe's first, then its own, then all.
fn materials(recipe: &Recipe) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    let mut add = |id: &str| {
        if out.iter().all(|(known, _)| known != id)
            && let Some(found) = recipe.find(id)
        {
            out.push((id.to_owned(), found.name().to_owned()));
        }
    };
    for addition in &recipe.additions {
        add(&addition.material);
    }
    for own in &recipe.materials {
        add(&own.id);
    }
    for entry in catalogue() {
        add(entry.id);
    }
    out
}

fn vessel(trial: &Trial) {
    let is_strip = matches!(trial.vessel, Vessel::Strip { .. });
    let mut kind = "own";
    match &trial.vessel {
        Vessel::Container {
            volume,
            height,
            empty,
            ..
        } => {
            let same = |known: &&(&str, &str, f64, f64)| {
                let (litres, cm) = (known.2, known.3);
                volume.unit == Unit::Litre
                    && height.unit == Unit::Centimetre
                    && volume.value == litres
                    && height.value == cm
            };
            if let Some(known) = KINDS.iter().find(same) {
                kind = known.0;
            }
            amount("volume", Dimension::Volume, Some(volume), Unit::Litre);
            amount("height", Dimension::Length, Some(height), Unit::Centimetre);
            amount("empty", Dimension::Mass, empty.as_ref(), Unit::Kilogram);
        }
        Vessel::Strip { area, depth, .. } => {
            kind = "strip";
            amount("area", Dimension::Area, Some(area), Unit::SquareMetre);
            amount("depth", Dimension::Length, Some(depth), Unit::Centimetre);
        }
    }
    let mut kinds: Vec<(String, String)> = KINDS
        .iter()
        .map(|(id, name, ..)| ((*id).to_owned(), (*name).to_owned()))
        .collect();
    kinds.push(("own".into(), "another container".into()));
    kinds.push(("strip".into(), "a strip of bed".into()));
    choose(PART, "kind", &kinds, kind);
    for field in PART.panel().query_selector_all("[data-vessel]") {
        let for_strip = field.get_attribute("data-vessel").as_deref() == Some("strip");
        set_hidden(&field, for_strip != is_strip);
    }
    let all: Vec<(String, String)> = dose_units().map(unit_choice).collect();
    let unit = trial
        .dose
        .as_ref()
        .map_or(Unit::VolumePercent, |dose| dose.unit);
    choose(PART, "dose-unit", &all, unit.spelling());
    show_number(PART, "dose", trial.dose.as_ref().map(|dose| dose.value));
    let by_mass = is_by_mass(unit);
    for radio in PART.panel().query_selector_all("[name=equal]") {
        radio.set_checked((radio.value() == "mass") == by_mass);
    }
}

fn amount(name: &str, of: Dimension, amount: Option<&Amount>, usual: Unit) {
    show_number(PART, name, amount.map(|amount| amount.value));
    let unit = amount.map_or(usual, |amount| amount.unit);
    let list = [name, "-unit"].concat();
    choose(PART, &list, &units(&[of]), unit.spelling());
}

fn crop(trial: &Trial) {
    let id = trial.crop.as_deref().unwrap_or_default();
    let known = TestCrop::find(id);
    let mut crops: Vec<(String, String)> = CROPS
        .iter()
        .map(|crop| (crop.id.to_owned(), crop_name(crop.id).to_owned()))
        .collect();
    crops.push((String::new(), "no crop, or another".into()));
    if known.is_none() && !id.is_empty() {
        crops.push((id.to_owned(), id.to_owned()));
    }
    choose(PART, "crop", &crops, id);
    show(
        PART,
        "variety",
        trial.variety.as_deref().unwrap_or_default(),
    );
    show_number(PART, "seeds", trial.seeds.map(f64::from));
    show_number(PART, "plants", trial.plants.map(f64::from));
    show(PART, "start", &trial.start.map_or(String::new(), Date::iso));
    let lines = known.map_or(Vec::new(), |crop| crop_lines(crop, trial.area_cm2()));
    put_list(&PART.part("crop"), &lines);
    put_list(
        &PART.part("crop-from"),
        &known.map_or(Vec::new(), crop_sources),
    );
}

fn measure(trial: &Trial) {
    let own = trial.own_measures.iter().map(|own| own.id.as_str());
    let all = own.chain(MEASURES.iter().map(|measure| measure.id));
    let list: Vec<(String, String)> = all
        .map(|id| (id.to_owned(), measure_with_unit(trial, id)))
        .collect();
    let primary = trial.primary.as_deref().unwrap_or_default();
    choose(PART, "primary", &list, primary);
    let measure = trial.primary_measure();
    // By logarithms it is the slider's own number.
    let own_box = measure.is_some_and(|measure| measure.scale != Scale::Log);
    set_hidden(&PART.part("matters-row"), !own_box);
    show_number(PART, "matters", measure.and_then(|measure| measure.matters));
    let unit = measure.as_ref().map_or(String::new(), matters_unit);
    put_text(&PART.part("matters-unit"), &unit);
    let from = usual_spread_text(primary).unwrap_or_default();
    put_text(&PART.part("spread-from"), &from);
}

fn advice(trial: &Trial, state: &State, doses: Option<&Doses>) {
    let all = doses.map_or(Vec::new(), |doses| trial.plan_advice(doses));
    let is_equality = |advice: &PlanAdvice| {
        matches!(
            advice,
            PlanAdvice::MassDiffers { .. }
                | PlanAdvice::VolumeDiffers { .. }
                | PlanAdvice::NeitherEqual { .. }
        )
    };
    // Controls are offered where they are ticked.
    let is_offer =
        |advice: &PlanAdvice| matches!(advice, PlanAdvice::OfferDug | PlanAdvice::OfferUntouched);
    let text = |advice: &PlanAdvice| plan_advice_text(*advice, trial, &state.recipe);
    let rest = all.iter().filter(|one| !is_equality(one) && !is_offer(one));
    put_list(&PART.part("advice"), &rest.map(text).collect::<Vec<_>>());
    let equality = all.iter().find(|one| is_equality(one));
    put_text(
        &PART.part("equality"),
        &equality.map_or(String::new(), text),
    );
}

fn takes(trial: &Trial, state: &State, doses: Option<&Doses>) {
    let empty_kg = match &trial.vessel {
        Vessel::Container { empty, .. } => empty.as_ref().map_or(0.0, Amount::si),
        Vessel::Strip { .. } => 0.0,
    };
    let mut rows: Vec<[String; 5]> = Vec::new();
    if let Some(doses) = doses {
        for (index, (one, count)) in doses.each.iter().zip(&doses.containers).enumerate() {
            rows.push([
                treatment_name(trial, &state.recipe, index),
                number_of(*count),
                ground_text(one, state.speech),
                added_text(one, state.speech),
                state.speech.mass(filled_kg(one, empty_kg)),
            ]);
        }
    }
    table(&PART.part("takes"), &rows);
    let currency = state.recipe.currency.as_deref();
    let bought = doses.map_or(Vec::new(), |doses| {
        bought_lines(doses, currency, state.speech)
    });
    put_list(&PART.part("bought"), &bought);
}

/// The headings of a table, by a body of it.
pub(super) fn headings(body: &Element) -> Vec<String> {
    let table = crate::dom::around(body, "table");
    let all = table.map_or(Vec::new(), |table| table.query_selector_all("thead th"));
    all.iter().map(Element::text_content).collect()
}

/// Rows of a table, the first cell of each a heading. A narrow screen shows each as a card, for which
/// the cells carry their headings.
pub(super) fn table<const N: usize>(body: &Element, rows: &[[String; N]]) {
    let key: String = rows
        .iter()
        .flatten()
        .map(|cell| [cell, "|"].concat())
        .collect();
    rebuild(body, &key, |body| {
        let heads = headings(body);
        for row in rows {
            let line = put(body, "tr", "");
            for (index, cell) in row.iter().enumerate() {
                if index == 0 {
                    set(&put(&line, "th", cell), "scope", "row");
                } else {
                    let head = heads.get(index).map_or("", String::as_str);
                    set(&put(&line, "td", cell), "data-label", head);
                }
            }
        }
    });
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
            fault(field, "A whole number, please.");
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

fn unit_of(name: &str) -> Option<Unit> {
    Unit::from_spelling(&PART.field(&[name, "-unit"].concat())?.value())
}

/// The amount of a box with its unit; none where it is empty.
fn typed_amount(name: &str) -> Result<Option<Amount>, ()> {
    let field = PART.field(name).ok_or(())?;
    let value = number(&field, AMOUNTS)?;
    Ok(value
        .zip(unit_of(name))
        .map(|(value, unit)| Amount::new(value, unit)))
}

fn needed_amount(name: &str) -> Result<Amount, ()> {
    let Some(amount) = typed_amount(name)? else {
        if let Some(field) = PART.field(name) {
            fault(
                &field,
                &typed_text(crate::words::Typed::Empty, AMOUNTS.0, AMOUNTS.1),
            );
        }
        return Err(());
    };
    Ok(amount)
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
    if predict::let_go(field, name) {
        return Ok(());
    }
    match name {
        "dug" => control(Deed::Dug, field.checked()),
        "untouched" => control(Deed::Untouched, field.checked()),
        "kind" => kind(&field.value()),
        "volume" | "volume-unit" | "height" | "height-unit" | "empty" | "empty-unit" => {
            let (volume, height) = (needed_amount("volume")?, needed_amount("height")?);
            let empty = typed_amount("empty")?;
            settle_plan(|trial, _| {
                let kept = match &trial.vessel {
                    Vessel::Container { kept, .. } => kept.clone(),
                    Vessel::Strip { .. } => Kept::new(),
                };
                trial.vessel = Vessel::Container {
                    volume,
                    height,
                    empty,
                    kept,
                };
                replant(trial);
                Ok(())
            });
        }
        "area" | "area-unit" | "depth" | "depth-unit" => {
            let (area, depth) = (needed_amount("area")?, needed_amount("depth")?);
            settle_plan(|trial, _| {
                let kept = match &trial.vessel {
                    Vessel::Strip { kept, .. } => kept.clone(),
                    Vessel::Container { .. } => Kept::new(),
                };
                trial.vessel = Vessel::Strip { area, depth, kept };
                replant(trial);
                Ok(())
            });
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
        "variety" => {
            let text = field.value();
            change(|trial| trial.variety = (!text.trim().is_empty()).then_some(text));
        }
        "seeds" | "plants" => {
            let value = number(field, (1.0, PLANTS_LIMIT))?;
            if value.is_some_and(|value| value.fract() != 0.0) {
                fault(field, "A whole number, please.");
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
            change(|trial| trial.start = day);
        }
        "primary" => {
            let id = field.value();
            settle_plan(|trial, _| {
                trial.matters = trial.matters_for(&id);
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

/// Plants follow the room for them.
fn replant(trial: &mut Trial) {
    let known = trial.crop.as_deref().and_then(TestCrop::find);
    if let Some((crop, area)) = known.zip(trial.area_cm2()) {
        trial.plants = Some(crop.plants(area)).filter(|plants| *plants > 0);
    }
}

fn own_dose(index: &str) -> Result<(), ()> {
    let at: usize = index.parse().map_err(|_| ())?;
    let name = ["dose-", index].concat();
    let field = PART.field(&name).ok_or(())?;
    let value = number(&field, AMOUNTS)?;
    let unit = PART.field(&["dose-unit-", index].concat()).ok_or(())?;
    let unit = Unit::from_spelling(&unit.value()).ok_or(())?;
    settle_plan(|trial, _| {
        if let Some(treatment) = trial.treatments.get_mut(at) {
            treatment.dose = value.map(|value| Amount::new(value, unit));
        }
        Ok(())
    });
    Ok(())
}

fn control(deed: Deed, wanted: bool) {
    settle_plan(|trial, _| {
        let known = trial.treatments.iter().position(|of| of.deed == deed);
        match (known, wanted) {
            (None, true) => {
                // Controls stand first, the dug one at the top.
                let dug = trial.treatments.iter().any(|of| of.deed == Deed::Dug);
                let at = usize::from(dug && deed == Deed::Untouched);
                trial
                    .treatments
                    .insert(at.min(trial.treatments.len()), Treatment::new(deed));
            }
            (Some(at), false) => {
                trial.treatments.remove(at);
            }
            _ => {}
        }
        Ok(())
    });
}

fn kind(kind: &str) {
    settle_plan(|trial, recipe| {
        let known = KINDS.iter().find(|known| known.0 == kind);
        let containers = trial.wanted().containers();
        trial.vessel = match (known, kind, &trial.vessel) {
            (Some((.., litres, cm)), ..) => Vessel::Container {
                volume: Amount::new(*litres, Unit::Litre),
                height: Amount::new(*cm, Unit::Centimetre),
                empty: None,
                kept: Kept::new(),
            },
            (None, "strip", Vessel::Container { .. }) => {
                strip_of(recipe, containers).unwrap_or(Vessel::Strip {
                    area: Amount::new(STRIP.0, Unit::SquareMetre),
                    depth: Amount::new(STRIP.1, Unit::Centimetre),
                    kept: Kept::new(),
                })
            }
            (None, "own", Vessel::Strip { .. }) => Vessel::Container {
                volume: Amount::new(KINDS[0].2, Unit::Litre),
                height: Amount::new(KINDS[0].3, Unit::Centimetre),
                empty: None,
                kept: Kept::new(),
            },
            (None, _, vessel) => vessel.clone(),
        };
        replant(trial);
        Ok(())
    });
    if kind == "own"
        && let Some(field) = PART.field("volume")
    {
        crate::dom::focus(&field);
    }
}

/// Doses of one volume become doses of one weight, or back: of their mean, so that about as much
/// is added as before.
fn equal(by_mass: bool) {
    settle_plan(|trial, recipe| {
        let doses = trial
            .doses(recipe)
            .map_err(|fault| plan_fault_text(&fault, trial, recipe, crate::words::METRIC))?;
        let both = trial.treatments.iter().zip(&doses.each);
        let of_all = both.filter(|(treatment, _)| {
            matches!(treatment.deed, Deed::Addition { .. }) && treatment.dose.is_none()
        });
        let added: Vec<f64> = of_all
            .filter_map(|(_, one)| one.added.first())
            .map(|added| {
                if by_mass {
                    added.moist_kg
                } else {
                    added.loose_l
                }
            })
            .collect();
        if added.is_empty() {
            return Err(
                "No addition takes the dose of all, so there is nothing to make equal.".into(),
            );
        }
        let mean = added.iter().sum::<f64>() / added.len() as f64;
        let (value, unit) = match by_mass {
            true if mean < 1.0 => (mean * 1000.0, Unit::Gram),
            true => (mean, Unit::Kilogram),
            false => (mean, Unit::Litre),
        };
        trial.dose = Some(Amount::new(round_significant(value, DOSE_DIGITS), unit));
        Ok(())
    });
}

/// A button was pressed.
pub(super) fn pressed(deed: &str, value: &str) {
    let chosen = PART
        .field("material")
        .map_or(String::new(), |list| list.value());
    match deed {
        "add" => {
            let added = settle_plan(|trial, _| {
                trial.treatments.push(Treatment::of(chosen));
                Ok(())
            });
            if added {
                tell("Added.");
            }
        }
        "two" => {
            let added = settle_plan(|trial, _| {
                let dose = trial.dose.clone();
                let dose = dose.ok_or("First say how much of each addition goes in.")?;
                let of = Treatment::of(chosen);
                let known = trial.treatments.iter().position(|known| {
                    known.deed == of.deed && known.dose.as_ref().is_none_or(|own| *own == dose)
                });
                let [first, second] = of.at_two(&dose);
                match known {
                    // The single dose is there: the other comes beside it.
                    Some(at) => trial.treatments.insert(at + 1, second),
                    None => trial.treatments.extend([first, second]),
                }
                Ok(())
            });
            if added {
                let times = crate::words::shown(SECOND_DOSE);
                tell(&["Added at the dose and at ", &times, " times as much."].concat());
            }
        }
        "blend" => {
            settle_plan(|trial, _| {
                trial.treatments.push(Treatment::new(Deed::Blend));
                Ok(())
            });
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

/// How the number of each is called.
pub(super) fn each_name(design: Design) -> &'static str {
    match design {
        Design::Blocks => "Blocks",
        Design::Random => "Containers of each",
        Design::Latin => "Rows and columns",
    }
}
