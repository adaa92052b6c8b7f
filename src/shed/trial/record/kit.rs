//! By what pH and salt are read, and how far one reading of it errs: told once, it holds for all that
//! follow until it is told otherwise.

use super::{ME, choices, desk, text_of, write};
use crate::dom::{Element, set_hidden};
use crate::shed::form::value;
use crate::shed::section::put;
use crate::trial::measures::{Error, Measure, PH_WAYS};
use crate::trial::records::Record;
use crate::words::trial::entry::typed_value;
use crate::words::trial::page_record::{kit_text, way_name};
use crate::words::{Typed, shown};

/// How far a reading may err (a choice: what errs by more tells nothing).
pub(super) const ERRORS: (f64, f64) = (0.0, 20.0);

/// What it is read with.
#[derive(Clone, Default)]
pub(super) struct Kit {
    /// An instrument; of pH one of [`PH_WAYS`].
    pub(super) way: String,
    /// Standard error of one reading, in the unit of the measure.
    pub(super) error: Option<f64>,
    /// Of which measure.
    of: String,
}

/// Whether the error of what it is read with is worth telling, as that of slurries is.
fn is_by_kit(measure: &Measure) -> bool {
    matches!(measure.id, "ph" | "ec_ds_m")
}

/// What the measure errs by where nobody says otherwise; none where that goes with the value.
fn usual(measure: &Measure) -> Option<f64> {
    match measure.error? {
        Error::By(error) => Some(error),
        Error::Share(_) => None,
    }
}

pub(super) fn fill(measure: &Measure, record: Option<&Record>, known: &Kit) {
    let by_kit = is_by_kit(measure);
    set_hidden(&ME.part("kit-all"), !by_kit);
    if !by_kit {
        return;
    }
    set_hidden(&ME.part("way-all"), measure.id != "ph");
    let known = if known.of == measure.id {
        known.clone()
    } else {
        Kit::default()
    };
    let (way, error) = match record {
        Some(record) => (record.instrument.clone(), record.error),
        None => (known.way, known.error),
    };
    let ids = std::iter::once("").chain(PH_WAYS.iter().map(|(id, _)| *id));
    let mut options: Vec<(String, String)> = ids
        .map(|id| (id.to_owned(), way_name(id).to_owned()))
        .collect();
    if options.iter().all(|(id, _)| *id != way) {
        options.push((way.clone(), way.clone()));
    }
    if let Some(list) = ME.field("way") {
        choices(&list, &options, &way);
    }
    write("error", &error.map(shown).unwrap_or_default());
    put(&ME.part("error-unit"), measure.unit);
    let error = error.or(usual(measure));
    put(&ME.part("kit-says"), &kit_text(error, measure.unit));
}

/// A way brings its usual error.
pub(super) fn touched(name: &str, field: &Element, lets_go: bool) {
    if !lets_go || !matches!(name, "way" | "error") {
        return;
    }
    if name == "way" {
        let way = value(field);
        let usual = PH_WAYS.iter().find(|(id, _)| *id == way);
        if let Some((_, error)) = usual {
            write("error", &shown(*error));
        }
    }
    let error = match typed_value(&text_of("error")) {
        Typed::Number(error) if error >= ERRORS.0 && error <= ERRORS.1 => Some(error),
        _ => None,
    };
    desk(|desk| {
        desk.kit = Kit {
            way: text_of("way"),
            error,
            of: desk.measure.clone(),
        };
    });
    let said = super::with(|state| {
        let trial = state.trial.as_ref()?;
        let measure = trial.measure(&desk(|desk| desk.measure.clone())?)?;
        Some(kit_text(error.or(usual(&measure)), measure.unit))
    });
    if let Some(Some(said)) = said {
        put(&ME.part("kit-says"), &said);
    }
}

/// What stands there; of a measure that is read without a kit, what its record had.
pub(super) fn typed(measure: &Measure, before: Option<&Record>) -> Result<Kit, Typed> {
    if !is_by_kit(measure) {
        return Ok(Kit {
            way: before.map(|of| of.instrument.clone()).unwrap_or_default(),
            error: before.and_then(|of| of.error),
            of: String::new(),
        });
    }
    let error = match typed_value(&text_of("error")) {
        Typed::Empty => None,
        Typed::Number(error) if error >= ERRORS.0 && error <= ERRORS.1 => Some(error),
        typed => return Err(typed),
    };
    Ok(Kit {
        way: text_of("way"),
        error,
        of: measure.id.to_owned(),
    })
}
