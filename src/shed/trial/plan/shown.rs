//! The plan in its boxes and lists.

use super::PART;
use super::deeds::KINDS;
use crate::dom::{set, set_disabled, set_hidden};
use crate::material::catalogue;
use crate::quantity::{Dimension, Unit};
use crate::recipe::{Amount, Recipe};
use crate::shed::form::{button, put};
use crate::shed::section::{put as put_text, put_list};
use crate::shed::trial::State;
use crate::shed::trial::fields::{
    choices, choose, classed, list_box, number_box, rebuild, show, show_number, tick, unit_choice,
    units,
};
use crate::trial::crops::{CROPS, TestCrop};
use crate::trial::date::Date;
use crate::trial::doses::dose_units;
use crate::trial::layout::{Design, TREATMENTS};
use crate::trial::measures::{MEASURES, Scale};
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::words::trial::page_plan::{self, TreatmentBox, of_treatment, plain_name};
use crate::words::trial::plan::{control_reason, crop_name, measure_with_unit, treatment_name};
use crate::words::trial::section::{
    crop_lines, crop_sources, is_by_mass, matters_unit, usual_spread_text,
};

pub(super) fn number_of(index: usize) -> String {
    crate::words::fixed(index as f64, 0)
}

pub(super) fn treatments(trial: &Trial, state: &State) {
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
                let called = of_treatment(TreatmentBox::Dose, &name(index));
                let number = number_of(index);
                let field = number_box(&amount, &["dose-", &number].concat(), &called);
                set(&field, "placeholder", page_plan::AS_ALL.text());
                let unit = ["dose-unit-", &number].concat();
                list_box(
                    &amount,
                    &unit,
                    &of_treatment(TreatmentBox::Unit, &name(index)),
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
                &of_treatment(TreatmentBox::Remove, &name(index)),
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

/// What the user calls the trial and its treatments.
pub(super) fn names(trial: &Trial, state: &State) {
    show(PART, "title", trial.title.as_deref().unwrap_or_default());
    let plain = |index: usize| plain_name(trial, &state.recipe, index);
    let count = trial.treatments.len();
    let key: String = (0..count).map(|index| plain(index) + "\n").collect();
    rebuild(&PART.part("names"), &key, |place| {
        for index in 0..count {
            let field = put(place, "label", "");
            set(&field, "class", "field");
            put(&field, "span", &plain(index));
            let input = put(&field, "input", "");
            let name = ["name-", &number_of(index)].concat();
            for (attribute, value) in [
                ("type", "text"),
                ("class", "words"),
                ("autocomplete", "off"),
                ("name", &name),
                ("aria-describedby", "trial-says"),
            ] {
                set(&input, attribute, value);
            }
        }
    });
    for (index, treatment) in trial.treatments.iter().enumerate() {
        let name = ["name-", &number_of(index)].concat();
        show(PART, &name, treatment.name.as_deref().unwrap_or_default());
    }
}

/// What the plan itself leaves no choice of.
pub(super) fn settled(trial: &Trial) {
    let full = trial.treatments.len() >= TREATMENTS.1;
    if full {
        for deed in ["add", "two", "blend"] {
            let selector = ["[data-trial=plan-", deed, "]"].concat();
            if let Some(button) = PART.panel().query_selector(&selector) {
                set_disabled(&button, true);
            }
        }
    }
    let text = if full {
        page_plan::full_text()
    } else {
        String::new()
    };
    put_text(&PART.part("full"), &text);
    let control = trial.control();
    let control = control.and_then(|at| trial.treatments.get(at));
    let spare = control.filter(|_| trial.design != Design::Latin);
    set_hidden(&PART.part("spare"), spare.is_none());
    put_text(
        &PART.part("spare-name"),
        page_plan::spare_name(trial.design),
    );
    let copies = control.map(|of| of.copies.unwrap_or(1) as f64);
    show_number(PART, "copies", copies);
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

pub(super) fn vessel(trial: &Trial) {
    let is_strip = matches!(trial.vessel, Vessel::Strip { .. });
    let mut kind = "own";
    match &trial.vessel {
        Vessel::Container {
            volume,
            height,
            empty,
            ..
        } => {
            let same = |known: &&(&str, f64, f64)| {
                let (_, litres, cm) = **known;
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
        .zip(page_plan::KINDS)
        .map(|((id, ..), name)| ((*id).to_owned(), name.text().to_owned()))
        .collect();
    kinds.push(("own".into(), page_plan::OTHER_KIND.text().into()));
    kinds.push(("strip".into(), page_plan::STRIP_KIND.text().into()));
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

pub(super) fn crop(trial: &Trial) {
    let id = trial.crop.as_deref().unwrap_or_default();
    let known = TestCrop::find(id);
    let mut crops: Vec<(String, String)> = CROPS
        .iter()
        .map(|crop| (crop.id.to_owned(), crop_name(crop.id).to_owned()))
        .collect();
    crops.push((String::new(), page_plan::NO_CROP.text().into()));
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
    show(PART, "photos", &page_plan::days_list(&trial.photo_days));
    let dates = page_plan::photo_dates_text(&trial.photo_dates());
    put_text(&PART.part("photo-dates"), &dates);
    let lines = known.map_or(Vec::new(), |crop| crop_lines(crop, trial.area_cm2()));
    put_list(&PART.part("crop"), &lines);
    put_list(
        &PART.part("crop-from"),
        &known.map_or(Vec::new(), crop_sources),
    );
}

pub(super) fn measure(trial: &Trial) {
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
