//! What a measure shows, as the page and the report say it: the verdict of each treatment, what
//! stands beside it, and the footnotes.

use super::beside::{
    band_ends_text, chance_text, reading_at, refused_text, size_text, treatment_text_at, with_unit,
};
use super::plan::{predicted_name, treatment_name};
use super::section::matters_unit;
use super::verdict::{
    no_verdict_text, row_text, said_once, share, verdict_text_at, without_praise,
};
use crate::figure::Figure;
use crate::quantity::round_significant;
use crate::recipe::{Measurement, Recipe};
use crate::tongue::Saying;
use crate::trial::analysis::{Analysis, Back, Comparison, Group, Line, Refused, Scale};
use crate::trial::layout::Layout;
use crate::trial::measures::{Error, Measure};
use crate::trial::plan::{Predicted, Trial};
use crate::trial::seen::{Beside, Differences, Seen};
use crate::trial::verdict::{Good, NoVerdict};
use crate::words::{fixed, shown, significant};

/// Most containers that a sentence names.
const NAMED: usize = 6;
/// What differences of counts of so many sown are in.
pub const POINTS: Saying = said!("percentage points");

/// The unit of a measure's differences.
pub fn difference_unit<'a>(seen: &Seen, measure: &Measure<'a>) -> &'a str {
    if seen.of_sown {
        POINTS.text()
    } else {
        measure.unit
    }
}

/// What may be said of one treatment, without its name. Of what is neither good nor bad it is said
/// which way it went, and nothing of help.
pub fn seen_verdict_text(row: &Comparison, seen: &Seen, unit: &str) -> String {
    let judged = match &row.verdict {
        Ok(judged) => judged,
        Err(why) => return no_verdict_text(*why).to_owned(),
    };
    let text = verdict_text_at(judged, seen.asked.design, unit, Some(seen.decimals));
    let is_control = seen.controls.get(row.treatment) == Some(&true);
    if !seen.neither && !is_control {
        return text;
    }
    without_praise(&text, seen.asked.good, seen.neither)
}

/// What is said of each treatment, and what is true of all of them and said once.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SeenVerdicts {
    /// Treatment and sentence.
    pub each: Vec<(usize, String)>,
    /// Why there is a verdict of none.
    pub all: Option<&'static str>,
}

/// The verdicts of a measure; `unit` is that of its differences, `shuffled` how often chance alone
/// parts a treatment from the control as far, where that is known.
pub fn seen_verdicts(
    analysis: &Analysis,
    seen: &Seen,
    unit: &str,
    shuffled: impl Fn(usize) -> Option<f64>,
) -> SeenVerdicts {
    if !seen.has_control {
        return SeenVerdicts::default();
    }
    let all = said_once(analysis).filter(|_| analysis.comparisons.len() > 1);
    let rows = analysis.comparisons.iter();
    let each = rows.filter_map(|row| {
        let of = row.treatment;
        let is_ranked = matches!(row.verdict, Err(NoVerdict::Score | NoVerdict::Limits));
        let text = match all {
            _ if is_ranked => row_text(analysis, of, seen.asked.control, shuffled(of)),
            Some(_) => String::new(),
            None => seen_verdict_text(row, seen, unit),
        };
        // What lived is never praised in silence of what died.
        let said = [deaths_text(seen, of), nothing_text(seen, of), text];
        let said: Vec<String> = said.into_iter().filter(|text| !text.is_empty()).collect();
        (!said.is_empty()).then(|| (of, said.join(" ")))
    });
    let each = each.collect();
    SeenVerdicts { each, all }
}

/// How many containers of a treatment died, before anything is said of those that lived; empty where
/// none did.
fn deaths_text(seen: &Seen, treatment: usize) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    let [dead, all] = seen.deaths(treatment);
    if dead == 0 {
        return String::new();
    }
    let mut text = match (dead, all) {
        (1, 1) => tr!("Its only container died").into(),
        _ if dead == all => say!("All {} of its containers died", whole(all)),
        _ => say!("{} of its {} containers died", whole(dead), whole(all)),
    };
    let [dead, all] = seen.deaths(seen.asked.control);
    if dead > 0 {
        text += &say!(", and {} of {} of the control", whole(dead), whole(all));
    }
    text += match seen.values_of(treatment).count() {
        0 => ".",
        1 => tr!("; this is of the one that lived."),
        _ => tr!("; this is of those that lived."),
    };
    text
}

/// That all that was read of a treatment is nothing, as none of a mean says; empty where it is not.
fn nothing_text(seen: &Seen, treatment: usize) -> String {
    let Some(count) = seen.came_to_nothing(treatment) else {
        return String::new();
    };
    let who = match count {
        1 => tr!("The one that was read").into(),
        2 => tr!("Both").into(),
        count => say!("All {}", fixed(count as f64, 0)),
    };
    // Of what is good of less, nothing is no failure.
    let what = match seen.asked.good {
        Good::More if !seen.neither => tr!(" came to nothing."),
        Good::More | Good::Less => tr!(" read 0."),
    };
    [&who, what].concat()
}

/// A difference that matters that was said after its measure was read.
const SAID_LATE: Saying =
    said!(" It was said after this was measured, so these verdicts were not settled beforehand.");

/// What difference matters of a measure, and whether that was said in time.
pub fn matters_said_text(measure: &Measure, value: f64, late: bool) -> String {
    let unit = matters_unit(measure);
    let unit = if unit.is_empty() {
        String::new()
    } else {
        [" ", &unit].concat()
    };
    let mut text = say!("A difference of {}{} matters.", shown(value), unit);
    if late {
        text += SAID_LATE.text();
    }
    text
}

/// The mean of a treatment with its range, or its middle reading, as it stands above its dots.
pub fn mean_text(group: &Group, mean: Option<Back>, unit: &str, decimals: usize) -> String {
    let count = fixed(group.count as f64, 0);
    let reading = |value: f64| reading_at(value, Some(decimals));
    let amount = |value: f64, unit: &str| with_unit(&reading(value), unit);
    match (group.count, mean, group.median) {
        (0, ..) => tr!("no container read").into(),
        (1, Some(one), _) => say!("one, {}", amount(one.mean, unit)),
        (_, Some(Back { mean, range }), _) => {
            let mean = amount(mean, unit);
            let range = range.map(|[low, high]| {
                let [low, high] = [low, high].map(reading);
                say!(" ({} to {})", low, high)
            });
            say!("mean of {}: {}{}", count, mean, range.unwrap_or_default())
        }
        (_, None, Some(middle)) => {
            let middle = [&significant_trimmed(middle), " ", unit].concat();
            say!("middle of {}: {}", count, middle.trim_end())
        }
        (_, None, None) => say!("of {} the middle is a limit alone", count),
    }
}

/// A difference with its range, as it stands beside its bar.
pub fn difference_text(
    estimate: f64,
    range: Option<[f64; 2]>,
    in_percent: bool,
    unit: &str,
) -> String {
    size_text(estimate, range, in_percent, unit, None)
}

/// The same as differences of a measure are told: to the decimals of its instrument.
pub fn row_difference_text(
    estimate: f64,
    range: Option<[f64; 2]>,
    of: &Differences,
    unit: &str,
) -> String {
    size_text(estimate, range, of.in_percent, unit, Some(of.decimals))
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
        (true, _) => [tr!("← less"), tr!("more →")],
        (false, Good::More) => [tr!("← worse"), tr!("better →")],
        (false, Good::Less) => [tr!("← better"), tr!("worse →")],
    }
}

/// What the drawing of dots shows, for those who do not see it.
pub fn dots_text(
    trial: &Trial,
    recipe: &Recipe,
    groups: &[Group],
    unit: &str,
    decimals: usize,
) -> String {
    let each = groups.iter().enumerate().map(|(treatment, group)| {
        let name = treatment_name(trial, recipe, treatment);
        [
            &name,
            ": ",
            &treatment_text_at(group, unit, Some(decimals)),
            ".",
        ]
        .concat()
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
        let size = row_difference_text(*estimate, *range, differences, unit);
        [&name, ": ", &size, "."].concat()
    });
    each.collect::<Vec<_>>().join(" ")
}

/// How the drawing of dots is to be read.
pub fn dots_key(analysis: &Analysis) -> &'static str {
    let has_range = |group: &Group| group.own.is_some_and(|own| own.range.is_some());
    let has_limits = analysis.groups.iter().any(|group| group.limits > 0);
    if analysis.scale != Scale::Score && !has_limits && !analysis.groups.iter().any(has_range) {
        return tr!(
            "One dot is one container; the stroke is the mean of a treatment. So few tell no range."
        );
    }
    match analysis.scale {
        Scale::Score => tr!("One dot is one container; the stroke is the middle score."),
        _ if has_limits => {
            tr!(
                "One dot is one container; an open dot is known only to lie beyond. The stroke is the middle reading."
            )
        }
        Scale::Log => {
            tr!(
                "One dot is one container. The stroke is the mean, by logarithms, and the bar its 95 % range, for this treatment alone."
            )
        }
        Scale::Raw | Scale::LogOfOneMore => {
            tr!(
                "One dot is one container. The stroke is the mean and the bar its 95 % range, for this treatment alone."
            )
        }
    }
}

/// What matters, in words.
pub fn band_text(differences: &Differences, unit: &str, control: &str) -> String {
    let ends = band_ends_text(differences, unit);
    if ends.is_empty() {
        return String::new();
    }
    say!(
        "Against {}. In the band lies what does not matter, {}. A bar is the range for all comparisons together.",
        control,
        ends
    )
}

/// A list of containers by their codes.
pub fn codes_text(layout: &Layout, containers: &[usize]) -> String {
    let codes = containers.iter().filter_map(|of| layout.code(*of));
    let mut named: Vec<String> = codes.take(NAMED).collect();
    if containers.len() > NAMED {
        named.push(fixed((containers.len() - NAMED) as f64, 0) + tr!(" more"));
    }
    match named.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => say!("{} and {}", first.join(", "), last),
    }
}

/// Containers that died of what was added and have no value.
pub fn died_text(layout: &Layout, died: &[usize]) -> String {
    let codes = codes_text(layout, died);
    if died.len() == 1 {
        say!(
            "{} died of what was added: that is a result, and no gap. Enter what it yielded, 0 if it was nothing; until then it is left out, and the addition looks better than it was.",
            codes
        )
    } else {
        say!(
            "{} died of what was added: that is a result, and no gap. Enter what they yielded, 0 if it was nothing; until then they are left out, and the addition looks better than it was.",
            codes
        )
    }
}

/// Containers that were lost, of which nobody has said why.
pub fn unasked_text(layout: &Layout, unasked: &[usize]) -> String {
    let codes = codes_text(layout, unasked);
    let were = if unasked.len() == 1 {
        tr!("was")
    } else {
        tr!("were")
    };
    say!(
        "{} {} lost: say under Record whether the addition did it.",
        codes,
        were
    )
}

/// There is nothing to compare with.
pub const NO_CONTROL: Saying = said!(
    "There is no control in this trial, so nothing tells what an addition did: the dots show what was measured, and no more."
);

/// All that there is of a measure.
pub fn readings_text(count: usize, of: usize) -> String {
    let whole = |count: usize| fixed(count as f64, 0);
    if count == of {
        say!("All {} containers are read.", whole(of))
    } else {
        say!("{} of {} containers are read.", whole(count), whole(of))
    }
}

/// What the model expected of a treatment beside what happened.
pub fn beside_text(beside: &Beside, unit: &str) -> String {
    let number = |value: f64| reading_at(value, Some(beside.decimals));
    let told = |value: f64, range: Option<[f64; 2]>| {
        let value = with_unit(&number(value), unit);
        match range {
            Some([low, high]) => say!("{} ({} to {})", value, number(low), number(high)),
            None => value,
        }
    };
    let figure = |figure: Figure| {
        let ends = figure.ends.map(|ends| [ends.low, ends.high]);
        told(figure.typical, ends)
    };
    let happened = told(beside.mean, beside.range);
    let how = if beside.is_within() {
        tr!("within what the model expected")
    } else if beside.meets() {
        if beside.is_above() {
            tr!("above what the model expected, but the two ranges overlap, so both may be right")
        } else {
            tr!("below what the model expected, but the two ranges overlap, so both may be right")
        }
    } else {
        tr!("outside of what the model expected")
    };
    say!(
        "The model expected {}; measured {}: {}.",
        figure(beside.expected),
        happened,
        how
    )
}

/// The same in few words, without the unit.
pub fn beside_short_text(of: &Beside) -> String {
    let number = |value: f64| significant(value, 3);
    let ranged = |middle: f64, ends: Option<[f64; 2]>| match ends {
        Some([low, high]) => say!("{} ({} to {})", number(middle), number(low), number(high)),
        None => number(middle),
    };
    let ends = of.expected.ends.map(|ends| [ends.low, ends.high]);
    let how = if of.is_within() {
        tr!("within")
    } else if of.meets() {
        tr!("outside, but the two ranges overlap")
    } else {
        tr!("outside")
    };
    let expected = ranged(of.expected.typical, ends);
    say!(
        "{}, measured {}: {}",
        expected,
        ranged(of.mean, of.range),
        how
    )
}

/// Beside guesses where nothing of the model stands.
pub const GUESSES_STOOD: Saying =
    said!("Guesses are locked by the first record: these stood before it.");

/// What one reading may be wrong by, beside a comparison with the model.
pub fn kit_text(measure: &Measure, mean: f64) -> Option<String> {
    let error = measure.error?.at(mean);
    let size = match measure.error? {
        // Nobody knows an error to three figures.
        Error::By(_) => with_unit(&shown(round_significant(error, 2)), measure.unit),
        Error::Share(share_of) => share(share_of),
    };
    Some(say!(
        "One reading may be wrong by about {} either way. What all have in common cancels between treatments, but not against the model.",
        size
    ))
}

/// What the model says once it knows what was measured.
pub fn corrected_text(changed: &[(Predicted, Figure, Figure)]) -> String {
    let each = changed.iter().map(|(of, before, after)| {
        let number = |figure: &Figure| significant(figure.typical, 3);
        say!(
            "{} {}, was {}",
            predicted_name(*of).to_lowercase(),
            number(after),
            number(before)
        )
    });
    let all = each.collect::<Vec<_>>().join("; ");
    say!("Corrected by it, the model says: {}.", all)
}

/// What is written into a recipe.
pub fn measured_as_text(of: Measurement, value: f64) -> String {
    match of {
        Measurement::BulkDensity => say!("density {} g/cm³", significant(value / 1000.0, 3)),
        Measurement::Drained => say!("{} % air once drained", significant(value, 3)),
        Measurement::WaterPerDry => say!("{} % water of dry mass", significant(value, 3)),
        Measurement::Ring | Measurement::Hole => {
            say!("{} mm/h going in", significant(value, 3))
        }
    }
}

/// The table of variance, as a footnote.
pub fn variance_text(analysis: &Analysis) -> Option<String> {
    let table = analysis.table.as_ref()?;
    let line = |name: &str, line: &Line| {
        let [f, p] = line.f?;
        Some(say!(
            "{}: F {} on {} and {} degrees of freedom, p {}",
            name,
            significant(f, 3),
            line.degrees,
            table.error_degrees,
            chance_text(p)
        ))
    };
    let mut said = Vec::new();
    said.extend(line(tr!("Treatments"), &table.treatments));
    let has_columns = table.columns.is_some();
    let rows = if has_columns {
        tr!("Rows")
    } else {
        tr!("Blocks")
    };
    said.extend(table.blocks.as_ref().and_then(|of| line(rows, of)));
    said.extend(
        table
            .columns
            .as_ref()
            .and_then(|of| line(tr!("Columns"), of)),
    );
    if said.is_empty() {
        return None;
    }
    Some(say!(
        "Table of variance. {}. It says whether anything differs at all, and no comparison waits for it.",
        said.join("; ")
    ))
}

/// How far the shuffles have come.
pub fn shuffling_text(seen: u64, all: u64) -> String {
    let pct = if all == 0 {
        100.0
    } else {
        libm::floor(100.0 * seen as f64 / all as f64)
    };
    say!("Shuffling: {} %.", fixed(pct, 0))
}

/// What shuffles of all treatments do not tell of one.
pub const SHUFFLED_TOGETHER: Saying = said!(
    "All treatments are shuffled together, so where one of them differs much, the chances of the others come out too high."
);

/// Why a measure is not read, beside what was lost; `place` is where a reading stands.
pub fn unread_text(seen: &Seen, refused: Refused, place: impl Fn(usize) -> String) -> String {
    match refused {
        Refused::NoReadings if seen.is_all_lost() => all_lost_text(seen.taken.len()),
        refused => refused_text(refused, place),
    }
}

/// That all of so many containers were lost.
pub fn all_lost_text(count: usize) -> String {
    match count {
        1 => tr!("The only container was lost, so nothing is shown.").into(),
        count => {
            let count = fixed(count as f64, 0);
            say!("All {} containers were lost, so nothing is shown.", count)
        }
    }
}

/// The shuffles are not done of a square.
pub const NO_SHUFFLES: Saying =
    said!("No shuffles of this: containers stand in a square, or too few of them were read.");
