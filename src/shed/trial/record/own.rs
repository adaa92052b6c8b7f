//! A measure of the user's own.

use super::{ME, choose_measure, text_of, write};
use crate::shed::section::put;
use crate::shed::trial::change_with;
use crate::trial::document::{NAME_LETTERS, OWN_MEASURES_LIMIT, TITLE_LETTERS};
use crate::trial::measures::{Good, OWN_LIMITS, OwnMeasure, Scale};
use crate::trial::plan::Trial;
use crate::words::Typed;
use crate::words::trial::entry::{
    OwnMeasureFault, id_of_name, own_measure_fault_text, typed_value,
};
use crate::words::trial::page_plan::letters_text;

/// Decimals of an own measure that is no count.
const DECIMALS: usize = 2;

/// Adds what is typed, and chooses it.
pub(super) fn add() {
    for (field, most) in [("own-name", TITLE_LETTERS), ("own-unit", NAME_LETTERS)] {
        if text_of(field).trim().chars().count() > most {
            put(&ME.part("own-says"), &letters_text(most));
            return;
        }
    }
    match typed() {
        Err(fault) => put(&ME.part("own-says"), &own_measure_fault_text(fault)),
        Ok(measure) => {
            put(&ME.part("own-says"), "");
            let (id, mut wrong) = (measure.id.clone(), None);
            let done = change_with(|trial, _| {
                wrong = refused(trial, &measure);
                if wrong.is_none() {
                    trial.own_measures.push(measure);
                }
                Ok(())
            });
            if let Some(fault) = wrong {
                put(&ME.part("own-says"), &own_measure_fault_text(fault));
            } else if done {
                for name in ["own-name", "own-unit", "own-low", "own-high", "own-matters"] {
                    write(name, "");
                }
                choose_measure(&id);
                if let Some(list) = ME.field("measure") {
                    crate::dom::focus(&list);
                }
            }
        }
    }
}

fn refused(trial: &Trial, measure: &OwnMeasure) -> Option<OwnMeasureFault> {
    if trial.measure(&measure.id).is_some() {
        return Some(OwnMeasureFault::Taken);
    }
    let most = OWN_MEASURES_LIMIT;
    (trial.own_measures.len() >= most).then_some(OwnMeasureFault::TooMany { most })
}

fn typed() -> Result<OwnMeasure, OwnMeasureFault> {
    let name = text_of("own-name").trim().to_owned();
    if name.is_empty() {
        return Err(OwnMeasureFault::NoName);
    }
    let chosen = text_of("own-scale");
    let mut scales = Scale::ALL.iter().copied();
    let scale = scales.find(|of| of.spelling() == chosen);
    let scale = scale.unwrap_or(Scale::Raw);
    let chosen = text_of("own-good");
    let mut goods = Good::ALL.iter().copied();
    let good = goods.find(|of| of.spelling() == chosen);
    let number = |field: &str| match typed_value(&text_of(field)) {
        Typed::Empty => Ok(None),
        Typed::Number(value) => Ok(Some(value)),
        Typed::Comma | Typed::Other => Err(OwnMeasureFault::NotNumber),
    };
    let least = match scale {
        Scale::Raw => OWN_LIMITS.0,
        Scale::Log | Scale::Count | Scale::Score => 0.0,
    };
    let most = match scale {
        Scale::Score => 10.0,
        Scale::Log | Scale::Raw | Scale::Count => OWN_LIMITS.1,
    };
    let limits = (
        number("own-low")?.unwrap_or(least),
        number("own-high")?.unwrap_or(most),
    );
    if limits.0 >= limits.1 {
        return Err(OwnMeasureFault::Limits);
    }
    Ok(OwnMeasure {
        id: id_of_name(&name),
        name: Some(name),
        unit: text_of("own-unit").trim().to_owned(),
        scale,
        good: good.unwrap_or(Good::More),
        matters: number("own-matters")?,
        error: None,
        limits,
        decimals: if matches!(scale, Scale::Count | Scale::Score) {
            0
        } else {
            DECIMALS
        },
        kept: Default::default(),
    })
}
