//! Sheets of records.

use super::{container, count, date, known_measure, text};
use crate::recipe::object::Object;
use crate::recipe::{Fault, Kept, Kind, Tree, number_of_text};
use crate::trial::date::Date;
use crate::trial::layout::CONTAINERS_LIMIT;
use crate::trial::measures::{OWN_LIMITS, OwnMeasure, find};
use crate::trial::records::{Censor, Missing, RECORDS_LIMIT, REPS_LIMIT, Record, TEXT_LIMIT};

/// What a sheet says of one container beyond its value.
struct More {
    container: usize,
    missing: Option<Missing>,
    reps: u32,
    note: String,
    kept: Kept,
}

fn more(mut object: Object) -> More {
    More {
        container: container(&mut object, "container"),
        missing: object.word("missing", Missing::ALL, Missing::spelling),
        reps: count(&mut object, "reps", f64::from(REPS_LIMIT)).unwrap_or(1) as u32,
        note: text(&mut object, "note", TEXT_LIMIT).unwrap_or_default(),
        kept: object.finish(),
    }
}

pub(super) fn records(root: &mut Object, own: &[OwnMeasure]) -> Vec<Record> {
    let mut out = Vec::new();
    for sheet in root.objects("records", RECORDS_LIMIT) {
        read_sheet(sheet, own, &mut out);
        if out.len() > RECORDS_LIMIT {
            let limit = RECORDS_LIMIT;
            root.wrong_field("records", Fault::TooMany { limit });
            out.truncate(limit);
        }
    }
    out
}

fn read_sheet(mut object: Object, own: &[OwnMeasure], out: &mut Vec<Record>) {
    let measure = object.text("measure").unwrap_or_else(|| {
        object.missing("measure");
        String::new()
    });
    known_measure(&object, "measure", own, &measure);
    let limits = find(own, &measure).map_or(OWN_LIMITS, |measure| measure.limits);
    let date = date(&mut object, "date").unwrap_or_else(|| {
        object.missing("date");
        // Never seen: the fault is told.
        Date::FIRST
    });
    let instrument = text(&mut object, "instrument", TEXT_LIMIT).unwrap_or_default();
    let scorer = text(&mut object, "scorer", TEXT_LIMIT).unwrap_or_default();
    let error = object.number("u", (0.0, OWN_LIMITS.1));
    let from = count(&mut object, "from", CONTAINERS_LIMIT as f64).unwrap_or(1) - 1;
    let values = match object.take("values") {
        Some(Tree::List(values)) => values,
        Some(_) => {
            object.wrong_field("values", Fault::Kind(Kind::List));
            Vec::new()
        }
        None => {
            object.missing("values");
            Vec::new()
        }
    };
    if from + values.len() > CONTAINERS_LIMIT {
        let limit = CONTAINERS_LIMIT;
        object.wrong_field("values", Fault::TooMany { limit });
    }
    let items = object.objects("more", CONTAINERS_LIMIT);
    let mut mores: Vec<More> = items.into_iter().map(more).collect();
    let first = out.len();
    for (index, value) in values.iter().take(CONTAINERS_LIMIT).enumerate() {
        let container = from + index;
        let of = mores.iter().position(|more| more.container == container);
        let more = of.map(|at| mores.swap_remove(at));
        let (value, censor) = match entry(value, limits) {
            Ok(entry) => entry,
            Err(fault) => {
                object.wrong_field("values", fault);
                continue;
            }
        };
        let missing = more.as_ref().and_then(|more| more.missing);
        if value.is_some() == missing.is_some() {
            if more.is_some() {
                object.wrong_field("more", Fault::OnlyOneOf(vec!["values", "missing"]));
            }
            if value.is_none() {
                continue;
            }
        }
        let mut record = Record {
            value,
            censor,
            missing,
            instrument: instrument.clone(),
            scorer: scorer.clone(),
            error,
            ..Record::of(container, date, measure.clone(), 0.0)
        };
        if let Some(more) = more {
            record.reps = more.reps;
            record.note = more.note;
            record.kept[0] = more.kept;
        }
        out.push(record);
    }
    // What is said of a container that has no place in the sheet would be lost.
    if !mores.is_empty() {
        object.wrong_field("more", Fault::UnknownField);
    }
    let kept = object.finish();
    if let Some(record) = out.get_mut(first) {
        record.kept[1] = kept;
    }
}

/// A value of a sheet.
fn entry(tree: &Tree, (low, high): (f64, f64)) -> Result<(Option<f64>, Censor), Fault> {
    let (value, censor) = match tree {
        Tree::Null => return Ok((None, Censor::None)),
        Tree::Number(text) => (number_of_text(text), Censor::None),
        Tree::Text(text) => {
            let censor = match text.as_bytes().first() {
                Some(b'>') => Censor::Above,
                Some(b'<') => Censor::Below,
                _ => return Err(Fault::Kind(Kind::Number)),
            };
            (number_of_text(text.get(1..).unwrap_or_default()), censor)
        }
        _ => return Err(Fault::Kind(Kind::Number)),
    };
    if !value.is_finite() {
        return Err(Fault::NotFinite { low, high });
    }
    if value < low || value > high {
        return Err(Fault::OutOfRange { value, low, high });
    }
    Ok((Some(value + 0.0), censor))
}
