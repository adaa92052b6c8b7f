//! What was typed becomes a record, or it is told why not.

use super::shown::tell_wrong;
use super::{desk, here, text_of};
use crate::shed::trial::{change_with, with};
use crate::trial::date::Date;
use crate::trial::measures::Measure;
use crate::trial::plan::Trial;
use crate::trial::records::{Censor, Missing, Record, check};
use crate::words::trial::entry::{NO_DAY, kept_text, record_text, typed_value};
use crate::words::trial::page_record::{NOT_LOST, typed_text};
use crate::words::trial::records::record_fault_text;
use crate::words::{Typed, shown};

/// What stands in the fields, as a record; none where nothing does.
fn typed_record(
    measure: &Measure,
    date: Date,
    container: usize,
    before: Option<&Record>,
) -> Result<Option<Record>, String> {
    let (low, high) = measure.limits;
    let typed = typed_value(&text_of("value"));
    let missing = Missing::of_spelling(&text_of("missing"));
    let read = match typed {
        Typed::Number(value) => Some(value),
        Typed::Empty => None,
        other => return Err(typed_text(other, low, high, measure.unit)),
    };
    let reps = match typed_value(&text_of("reps")) {
        Typed::Empty => 1,
        Typed::Number(reps) if reps >= 1.0 && reps.fract() == 0.0 => reps as u32,
        other => return Err(typed_text(other, 1.0, 1000.0, "")),
    };
    let note = text_of("note");
    let record = match (read, missing) {
        // A reason alone; with a value it is told that both cannot be.
        (None, Some(missing)) => Record::without(container, date, measure.id, missing),
        (None, None) if note.is_empty() => return Ok(None),
        // A note without a value is no reading, and not lost either.
        (None, None) => Record::without(container, date, measure.id, Missing::NotMeasured),
        (Some(value), missing) => Record {
            missing,
            ..Record::of(container, date, measure.id, value)
        },
    };
    let kit = super::kit::typed(measure, before).map_err(|typed| {
        let (low, high) = super::kit::ERRORS;
        typed_text(typed, low, high, measure.unit)
    })?;
    let same = |of: &&Record| of.value.map(shown) == record.value.map(shown);
    let exact = before.filter(same).and_then(|of| of.value);
    let is_read = record.value.is_some();
    Ok(Some(Record {
        // What was filled in and not touched stays as it was, to the last digit.
        value: exact.or(record.value),
        censor: match Censor::of_sign(&text_of("censor")) {
            Some(censor) if is_read => censor,
            _ => Censor::None,
        },
        reps: if is_read { reps } else { 1 },
        note,
        instrument: kit.way,
        error: kit.error,
        scorer: before.map(|of| of.scorer.clone()).unwrap_or_default(),
        kept: before.map(|of| of.kept.clone()).unwrap_or_default(),
        ..record
    }))
}

/// Puts what was typed into the trial. False where it cannot be: then it stays in its box.
pub(super) fn keep() -> bool {
    if !desk(|desk| desk.touched).unwrap_or(false) {
        return true;
    }
    let made = with(|state| {
        let (Some(trial), Some(layout)) = (&state.trial, &state.layout) else {
            return Err(String::new());
        };
        desk(|desk| {
            let container = desk.container(layout);
            let measure = trial.measure(&desk.measure).ok_or_else(String::new)?;
            let date = desk.date.ok_or_else(|| NO_DAY.text().to_owned())?;
            let records = desk.records(trial, container);
            let before = match records.as_slice() {
                [one] => Some(*one),
                _ => None,
            };
            let record = typed_record(&measure, date, container, before)?;
            if let Some(record) = &record {
                check(trial, layout.spots.len(), record)
                    .map_err(|fault| sentence(&record_fault_text(&fault)))?;
            }
            let told = record
                .as_ref()
                .map_or(String::new(), |record| record_text(&[record], measure.unit));
            let several = records.len() > 1;
            let kept = kept_text(layout, container, &told);
            let containers = layout.spots.len();
            Ok((
                record,
                container,
                date,
                desk.measure.clone(),
                containers,
                kept,
                several,
            ))
        })
        .unwrap_or_else(|| Err(String::new()))
    });
    let Some(made) = made else {
        return false;
    };
    let (record, container, date, measure, containers, mut kept, several) = match made {
        Ok(made) => made,
        Err(wrong) => {
            tell_wrong(&wrong);
            return false;
        }
    };
    tell_wrong("");
    // An empty box beside sub-samples says nothing of them.
    if record.is_none() && several {
        desk(|desk| desk.touched = false);
        return true;
    }
    let done = change_with(|trial, _| {
        match record {
            Some(record) => {
                if record.value.is_some() && comes_back(trial, container, date) {
                    kept = [&kept, " ", NOT_LOST.text()].concat();
                }
                trial
                    .enter(containers, record)
                    .map_err(|fault| sentence(&record_fault_text(&fault)))?;
            }
            None => {
                trial.clear(container, date, &measure);
            }
        }
        Ok(())
    });
    if done {
        desk(|desk| {
            desk.touched = false;
            desk.kept = kept;
        });
    }
    done
}

/// What is read of a container after it was lost tells that it was not; what died of its addition may
/// have a yield all the same. Gives whether it was one of the lost.
fn comes_back(trial: &mut Trial, container: usize, date: Date) -> bool {
    let before = trial.lost.len();
    trial.lost.retain(|lost| {
        let since = lost.on.is_none_or(|on| on <= date);
        lost.container != container || lost.of_addition == Some(true) || !since
    });
    trial.lost.len() < before
}

/// A fault begins a sentence here.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).chain(['.']).collect(),
        None => String::new(),
    }
}

/// Takes all records of the container out.
pub(super) fn clear() {
    let Some(Some((container, date, measure))) = here() else {
        return;
    };
    desk(|desk| {
        desk.touched = false;
        desk.filled = None;
        desk.kept.clear();
    });
    change_with(|trial, _| {
        trial.clear(container, date, &measure);
        Ok(())
    });
}

/// Adds another reading of the container beside those that there are.
pub(super) fn sample() {
    if !keep() {
        return;
    }
    let Some(Some((container, date, measure))) = here() else {
        return;
    };
    let typed = typed_value(&text_of("sample"));
    let limits = with(|state| {
        let trial = state.trial.as_ref()?;
        trial.measure(&measure).map(|of| of.limits)
    });
    let (low, high) = limits.flatten().unwrap_or_default();
    let Typed::Number(read) = typed else {
        tell_wrong(&typed_text(typed, low, high, ""));
        return;
    };
    let containers = with(|state| state.layout.as_ref().map_or(0, |of| of.spots.len()));
    let record = Record::of(container, date, measure, read);
    let checked = with(|state| match &state.trial {
        Some(trial) => check(trial, containers.unwrap_or(0), &record)
            .map_err(|fault| sentence(&record_fault_text(&fault))),
        None => Err(String::new()),
    });
    if let Some(Err(wrong)) = checked {
        tell_wrong(&wrong);
        return;
    }
    tell_wrong("");
    desk(|desk| desk.filled = None);
    change_with(|trial, _| {
        // The very same value twice is two readings, since a hand has typed it twice.
        let mut record = record;
        if trial.records.contains(&record)
            && let Some(at) = trial.records.iter().position(|known| *known == record)
        {
            record = trial.records.remove(at);
            record.reps = record.reps.saturating_add(1);
        }
        trial
            .add(containers.unwrap_or(0), record)
            .map(|_| ())
            .map_err(|fault| sentence(&record_fault_text(&fault)))
    });
}
