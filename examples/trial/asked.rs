//! What a table says of its measure, and what is taken where it says nothing.

use barrowmix::trial::analysis::Scale;
use barrowmix::trial::measures::{self, MEASURES};
use barrowmix::trial::verdict::{Good, Matters, YIELD_MATTERS};

/// How a measure is read.
pub(crate) struct Asked {
    pub(crate) scale: Scale,
    pub(crate) good: Good,
    pub(crate) matters: Matters,
    /// Whether more is neither good nor bad.
    pub(crate) neither: bool,
    pub(crate) unit: String,
    /// Decimals that differences are told with, where the measure is known.
    pub(crate) decimals: Option<usize>,
    /// The same in words.
    pub(crate) told: String,
}

/// Cells of the columns that need not be there.
#[derive(Default)]
pub(crate) struct Options {
    pub(crate) scale: String,
    pub(crate) better: String,
    pub(crate) measure: String,
    pub(crate) matters: String,
}

/// The names of those columns.
pub(crate) const OPTIONAL: [&str; 4] = ["scale", "better", "measure", "matters"];

impl Asked {
    /// Of what a row says. A table whose name is or ends in that of a measure is of that measure.
    pub(crate) fn of(row: usize, dataset: &str, says: &Options) -> Result<Asked, String> {
        let unknown = |column: &str, text: &str, known: &str| {
            Err(format!("row {row}, {column}: {text:?} is none of {known}"))
        };
        let known = if says.measure.is_empty() {
            MEASURES.iter().copied().find(|measure| {
                let rest = dataset.strip_suffix(measure.id);
                rest.is_some_and(|rest| rest.is_empty() || rest.ends_with('_'))
            })
        } else {
            let found = measures::find(&[], &says.measure);
            if found.is_none() {
                let all: Vec<&str> = MEASURES.iter().map(|measure| measure.id).collect();
                return unknown("measure", &says.measure, &all.join(", "));
            }
            found
        };
        let scale = match (says.scale.as_str(), known.map(|known| known.scale)) {
            ("", Some(measures::Scale::Raw)) | ("raw", _) => Scale::Raw,
            ("", Some(measures::Scale::Score)) | ("score", _) => Scale::Score,
            ("", Some(measures::Scale::Count)) | ("log10(x+1)", _) => Scale::LogOfOneMore,
            ("", Some(measures::Scale::Log) | None) | ("log", _) => Scale::Log,
            (other, _) => return unknown("scale", other, "raw, log, log10(x+1), score"),
        };
        let neither = known.is_some_and(|known| known.good == measures::Good::Neither);
        let good = match (says.better.as_str(), known.map(|known| known.good)) {
            ("", Some(measures::Good::Less)) | ("less", _) => Good::Less,
            ("" | "more", _) => Good::More,
            (other, _) => return unknown("better", other, "more, less"),
        };
        let own = match says.matters.trim_end_matches('%').trim() {
            "" => None,
            text => match text.replace(',', ".").parse::<f64>() {
                Ok(value) if value > 0.0 && value.is_finite() => Some(value),
                _ => {
                    let text = &says.matters;
                    return Err(format!("row {row}, matters: {text:?} is not above nothing"));
                }
            },
        };
        // Of seeds whose number no table says there is no percentage.
        let usual = known.and_then(|known| known.matters.filter(|_| !known.of_sown));
        let by_unit = known.is_some() && scale != Scale::Log;
        let matters = match (own.or(usual), by_unit) {
            (Some(value), true) => Matters::Difference(value),
            (Some(value), false) => Matters::Share(value / 100.0),
            (None, true) => Matters::Difference(0.0),
            (None, false) => Matters::Share(YIELD_MATTERS),
        };
        let unit = known.map_or("", |known| known.unit);
        let told = told(
            known.map(|known| known.id),
            scale,
            (good, neither),
            matters,
            unit,
        );
        Ok(Asked {
            scale,
            good,
            matters,
            neither: neither && says.better.is_empty(),
            unit: unit.to_owned(),
            decimals: known.map(|known| known.decimals),
            told,
        })
    }
}

fn told(
    known: Option<&str>,
    scale: Scale,
    (good, neither): (Good, bool),
    matters: Matters,
    unit: &str,
) -> String {
    let of = match known {
        Some(id) => format!("Read as {id}: "),
        None => "No measure is named: ".into(),
    };
    let better = match good {
        _ if neither => "more is neither better nor worse",
        Good::More => "more is taken as better",
        Good::Less => "less is taken as better",
    };
    let compared = match scale {
        Scale::Log => "logarithms are compared",
        Scale::Raw => "readings are compared as they are",
        Scale::LogOfOneMore => "logarithms of one more are compared",
        Scale::Score => "scores are compared by their order",
    };
    let matters = match matters {
        _ if scale == Scale::Score => String::new(),
        Matters::Share(share) => format!(", and {:.3} % matters", 100.0 * share),
        Matters::Difference(value) if value > 0.0 => format!(", and {value} {unit} matters"),
        Matters::Difference(_) => String::new(),
    };
    // A whole number of percent has no decimals.
    let matters = matters.replace(".000 %", " %").replace("  ", " ");
    format!("{of}{better}, {compared}{matters}.")
}
