//! What a measure shows, as the page and the report say it: the verdict of each treatment, what
//! stands beside it, and the footnotes.

use super::beside::{chance_text, treatment_text};
use super::plan::{predicted_name, treatment_name};
use super::verdict::{amount, no_verdict_text, share, verdict_text};
use crate::figure::Figure;
use crate::recipe::{Measurement, Recipe};
use crate::trial::analysis::{Analysis, Back, Comparison, Group, Line, Scale};
use crate::trial::layout::Layout;
use crate::trial::measures::{Error, Measure};
use crate::trial::plan::{Predicted, Trial};
use crate::trial::seen::{Beside, Differences, Seen};
use crate::trial::verdict::{Good, NoVerdict};
use crate::words::{fixed, significant};

/// Most containers that a sentence names.
const NAMED: usize = 6;
/// What differences of counts of so many sown are in.
pub const POINTS: &str = "percentage points";

/// The unit of a measure's differences.
pub fn difference_unit<'a>(seen: &Seen, measure: &Measure<'a>) -> &'a str {
    if seen.of_sown { POINTS } else { measure.unit }
}

/// What may be said of one treatment, without its name. Of what is neither good nor bad it is said
/// which way it went, and nothing of help.
pub fn seen_verdict_text(row: &Comparison, seen: &Seen, unit: &str) -> String {
    let judged = match &row.verdict {
        Ok(judged) => judged,
        Err(why) => return no_verdict_text(*why).to_owned(),
    };
    let text = verdict_text(judged, seen.asked.design, unit);
    if !seen.neither {
        return text;
    }
    let words = [
        ("Helped", "Higher"),
        ("Harmed", "Lower"),
        ("a gain of", "a rise of"),
        ("a loss of", "a fall of"),
    ];
    words
        .iter()
        .fold(text, |text, (from, to)| text.replace(from, to))
}

/// What is said of each treatment, and what is true of all of them and said once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SeenVerdicts {
    /// Treatment and sentence.
    pub each: Vec<(usize, String)>,
    /// Why there is a verdict of none.
    pub all: Option<&'static str>,
}

/// The verdicts of a measure; `unit` is that of its differences.
pub fn seen_verdicts(analysis: &Analysis, seen: &Seen, unit: &str) -> SeenVerdicts {
    if !seen.has_control {
        return SeenVerdicts::default();
    }
    let rows = || analysis.comparisons.iter();
    let first = rows().next().and_then(|row| row.verdict.as_ref().err());
    let is_one = rows().all(|row| row.verdict.as_ref().err() == first);
    if let Some(why) = first.filter(|_| is_one && analysis.comparisons.len() > 1) {
        let control = analysis.groups.get(seen.asked.control);
        let against = control.and_then(|group| group.median);
        let each = rows().filter_map(|row| {
            let is_ranked = matches!(why, NoVerdict::Score | NoVerdict::Limits);
            let own = analysis.groups.get(row.treatment)?.median;
            let text = middles_text(own.filter(|_| is_ranked)?, against?, seen);
            Some((row.treatment, text))
        });
        return SeenVerdicts {
            each: each.collect(),
            all: Some(no_verdict_text(*why)),
        };
    }
    let each = rows().map(|row| (row.treatment, seen_verdict_text(row, seen, unit)));
    SeenVerdicts {
        each: each.collect(),
        all: None,
    }
}

/// The middle reading of a treatment and of the control.
fn middles_text(own: f64, control: f64, _seen: &Seen) -> String {
    let number = significant_trimmed;
    format!("Middle {} against {}.", number(own), number(control))
}

/// The mean of a treatment with its range, or its middle reading, as it stands above its dots.
pub fn mean_text(group: &Group, mean: Option<Back>, unit: &str) -> String {
    let count = fixed(group.count as f64, 0);
    match (group.count, mean, group.median) {
        (0, ..) => "no container read".into(),
        (1, Some(one), _) => ["one, ", &amount(one.mean, unit)].concat(),
        (_, Some(Back { mean, range }), _) => {
            let mean = amount(mean, unit);
            let range = range.map(|[low, high]| {
                let [low, high] = [low, high].map(|end| significant(end, 3));
                format!(" ({low} to {high})")
            });
            format!("mean of {count}: {mean}{}", range.unwrap_or_default())
        }
        (_, None, Some(middle)) => {
            let middle = [&significant_trimmed(middle), " ", unit].concat();
            format!("middle of {count}: {}", middle.trim_end())
        }
        (_, None, None) => format!("of {count} the middle is a limit alone"),
    }
}

/// A difference with its range, as it stands beside its bar.
pub fn difference_text(
    estimate: f64,
    range: Option<[f64; 2]>,
    in_percent: bool,
    unit: &str,
) -> String {
    let unit = if in_percent { "%" } else { unit };
    let signed = |value: f64| {
        let sign = if value < 0.0 { "−" } else { "+" };
        let size = if in_percent {
            // Below one percent a tenth tells on which side of nothing it is.
            fixed(value.abs(), usize::from(value.abs() < 1.0 && value != 0.0))
        } else {
            significant(value.abs(), 3)
        };
        [sign, &size].concat()
    };
    let of_unit = if unit.is_empty() {
        String::new()
    } else {
        [" ", unit].concat()
    };
    match range {
        Some([low, high]) => format!(
            "{}{of_unit} ({} to {})",
            signed(estimate),
            signed(low),
            signed(high)
        ),
        None => format!("{}{of_unit}, no range", signed(estimate)),
    }
}

/// A tick of the scale of differences.
pub fn difference_tick(value: f64, in_percent: bool) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let sign = if value < 0.0 { "−" } else { "+" };
    let per = if in_percent { " %" } else { "" };
    [sign, &tick_text(value.abs()), per].concat()
}

/// A round number at a tick.
pub fn tick_text(value: f64) -> String {
    let sign = if value < 0.0 { "−" } else { "" };
    [sign, &significant_trimmed(value.abs())].concat()
}

fn significant_trimmed(value: f64) -> String {
    if value >= 1000.0 {
        fixed(value, 0)
    } else {
        crate::recipe::number_text(value)
    }
}

/// What the ends of the scale of differences mean: to the left, to the right.
pub fn difference_ends(seen: &Seen) -> [&'static str; 2] {
    match (seen.neither, seen.asked.good) {
        (true, _) => ["← less", "more →"],
        (false, Good::More) => ["← worse", "better →"],
        (false, Good::Less) => ["← better", "worse →"],
    }
}

/// What the drawing of dots shows, for those who do not see it.
pub fn dots_text(trial: &Trial, recipe: &Recipe, groups: &[Group], unit: &str) -> String {
    let each = groups.iter().enumerate().map(|(treatment, group)| {
        let name = treatment_name(trial, recipe, treatment);
        [&name, ": ", &treatment_text(group, unit), "."].concat()
    });
    each.collect::<Vec<_>>().join(" ")
}

/// What the drawing of differences shows.
pub fn differences_text(
    trial: &Trial,
    recipe: &Recipe,
    differences: &Differences,
    unit: &str,
) -> String {
    let each = differences.rows.iter().map(|(treatment, estimate, range)| {
        let name = treatment_name(trial, recipe, *treatment);
        let size = difference_text(*estimate, *range, differences.in_percent, unit);
        [&name, ": ", &size, "."].concat()
    });
    each.collect::<Vec<_>>().join(" ")
}

/// How the drawing of dots is to be read.
pub fn dots_key(analysis: &Analysis) -> &'static str {
    match analysis.scale {
        Scale::Score => "One dot is one container; the stroke is the middle score.",
        _ if analysis.groups.iter().any(|group| group.limits > 0) => {
            "One dot is one container; an open dot is known only to lie beyond. The stroke is the \
             middle reading."
        }
        Scale::Log => {
            "One dot is one container. The stroke is the mean, by logarithms, and the bar its 95 % \
             range, for this treatment alone."
        }
        Scale::Raw | Scale::LogOfOneMore => {
            "One dot is one container. The stroke is the mean and the bar its 95 % range, for this \
             treatment alone."
        }
    }
}

/// What matters, in words.
pub fn band_text(differences: &Differences, unit: &str, control: &str) -> String {
    let Some([_, high]) = differences.band else {
        return String::new();
    };
    let matters = if differences.in_percent {
        share(high / 100.0)
    } else {
        amount(high, unit)
    };
    format!(
        "Against {control}. In the band lies what does not matter: less than {matters} either \
         way. A bar is the range for all comparisons together."
    )
}

/// A list of containers by their codes.
pub fn codes_text(layout: &Layout, containers: &[usize]) -> String {
    let codes = containers.iter().filter_map(|of| layout.code(*of));
    let mut named: Vec<String> = codes.take(NAMED).collect();
    if containers.len() > NAMED {
        named.push(fixed((containers.len() - NAMED) as f64, 0) + " more");
    }
    match named.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => [&first.join(", "), " and ", last].concat(),
    }
}

/// Containers that died of what was added and have no value.
pub fn died_text(layout: &Layout, died: &[usize]) -> String {
    let codes = codes_text(layout, died);
    if died.len() == 1 {
        format!(
            "{codes} died of what was added: that is a result, and no gap. Enter what it yielded, \
             0 if it was nothing; until then it is left out, and the addition looks better than \
             it was."
        )
    } else {
        format!(
            "{codes} died of what was added: that is a result, and no gap. Enter what they \
             yielded, 0 if it was nothing; until then they are left out, and the addition looks \
             better than it was."
        )
    }
}

/// Containers that were lost, of which nobody has said why.
pub fn unasked_text(layout: &Layout, unasked: &[usize]) -> String {
    let codes = codes_text(layout, unasked);
    let were = if unasked.len() == 1 { "was" } else { "were" };
    format!("{codes} {were} lost: say under Record whether the addition did it.")
}

/// There is nothing to compare with.
pub const NO_CONTROL: &str = "There is no control in this trial, so nothing tells what an addition did: the dots show what was measured, and no more.";

/// All that there is of a measure.
pub fn readings_text(count: usize, of: usize) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    if count == of {
        format!("All {} containers are read.", whole(of))
    } else {
        format!("{} of {} containers are read.", whole(count), whole(of))
    }
}

/// What the model expected of a treatment beside what happened.
pub fn beside_text(beside: &Beside, unit: &str) -> String {
    let figure = |figure: Figure| match figure.ends {
        Some(ends) => format!(
            "{} ({} to {})",
            amount(figure.typical, unit),
            significant(ends.low, 3),
            significant(ends.high, 3)
        ),
        None => amount(figure.typical, unit),
    };
    let happened = match beside.range {
        Some([low, high]) => format!(
            "{} ({} to {})",
            amount(beside.mean, unit),
            significant(low, 3),
            significant(high, 3)
        ),
        None => amount(beside.mean, unit),
    };
    let how = if beside.is_within() {
        "within what the model expected"
    } else if beside.meets() {
        "beside what the model expected, but their ranges meet"
    } else {
        "outside of what the model expected"
    };
    format!(
        "The model expected {}; measured {happened}: {how}.",
        figure(beside.expected)
    )
}

/// What one reading may be wrong by, beside a comparison with the model.
pub fn kit_text(measure: &Measure, mean: f64) -> Option<String> {
    let error = measure.error?.at(mean);
    let size = match measure.error? {
        Error::By(_) => amount(error, measure.unit),
        Error::Share(share_of) => share(share_of),
    };
    Some(format!(
        "One reading may be wrong by about {size} either way. What all have in common cancels \
         between treatments, but not against the model."
    ))
}

/// What the model says once it knows what was measured.
pub fn corrected_text(changed: &[(Predicted, Figure, Figure)]) -> String {
    let each = changed.iter().map(|(of, before, after)| {
        let number = |figure: &Figure| significant(figure.typical, 3);
        format!(
            "{} {}, was {}",
            predicted_name(*of).to_lowercase(),
            number(after),
            number(before)
        )
    });
    let all = each.collect::<Vec<_>>().join("; ");
    format!("Corrected by it, the model says: {all}.")
}

/// What is written into a recipe.
pub fn measured_as_text(of: Measurement, value: f64) -> String {
    match of {
        Measurement::BulkDensity => format!("density {} g/cm³", significant(value / 1000.0, 3)),
        Measurement::Drained => format!("{} % air once drained", significant(value, 3)),
        Measurement::WaterPerDry => format!("{} % water of dry mass", significant(value, 3)),
        Measurement::Ring | Measurement::Hole => {
            format!("{} mm/h going in", significant(value, 3))
        }
    }
}

/// The table of variance, as a footnote.
pub fn variance_text(analysis: &Analysis) -> Option<String> {
    let table = analysis.table.as_ref()?;
    let line = |name: &str, line: &Line| {
        let [f, p] = line.f?;
        Some(format!(
            "{name}: F {} on {} and {} degrees of freedom, p {}",
            significant(f, 3),
            line.degrees,
            table.error_degrees,
            chance_text(p)
        ))
    };
    let mut said = Vec::new();
    said.extend(line("Treatments", &table.treatments));
    let has_columns = table.columns.is_some();
    let rows = if has_columns { "Rows" } else { "Blocks" };
    said.extend(table.blocks.as_ref().and_then(|of| line(rows, of)));
    said.extend(table.columns.as_ref().and_then(|of| line("Columns", of)));
    if said.is_empty() {
        return None;
    }
    Some(
        [
            "Table of variance. ",
            &said.join("; "),
            ". It says whether anything differs at all, and no comparison waits for it.",
        ]
        .concat(),
    )
}

/// How far the shuffles have come.
pub fn shuffling_text(seen: u64, all: u64) -> String {
    let pct = if all == 0 {
        100.0
    } else {
        libm::floor(100.0 * seen as f64 / all as f64)
    };
    format!("Shuffling: {} %.", fixed(pct, 0))
}

/// The shuffles are not done of a square.
pub const NO_SHUFFLES: &str =
    "No shuffles of this: containers stand in a square, or too few of them were read.";
