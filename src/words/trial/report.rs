//! The report of a trial on one page: how it stood, what each got, what was seen, what that shows and
//! what it does not.

use super::beside::{note_text, treatment_text_at};
use super::plan::{
    crop_name, measure_name, measure_with_unit, stage_text, treatment_name, way_name,
};
use super::print::{PaperTable, added_text, set_out_text, trial_title, vessel_text, vessels};
use super::seen::{
    beside_text, died_text, difference_unit, readings_text, row_difference_text, seen_verdict_text,
    unasked_text,
};
use super::verdict::{RANGE_COVERS, amount, blocking_text, share};
use crate::recipe::{RELEASE, Recipe};
use crate::trial::analysis::{Analysis, Scale};
use crate::trial::doses::Doses;
use crate::trial::layout::{GENERATOR, Layout};
use crate::trial::limits::Limits;
use crate::trial::plan::{Deed, Stage, Trial};
use crate::trial::readings::When;
use crate::trial::seen::{Seen, beside, measures_read};
use crate::trial::verdict::Matters;
use crate::words::keep::one_line;
use crate::words::{Speech, fixed};

/// Measures beside the primary one that the page has room for.
const MORE_MEASURES: usize = 3;

/// A measure that was read, with what it shows.
#[derive(Clone, Debug)]
pub struct ReadMeasure {
    /// Its name in tables.
    pub id: String,
    /// Its containers.
    pub seen: Seen,
    /// What they show.
    pub analysis: Analysis,
}

/// The measures of a trial that can be read, the one that decides first.
pub fn read_measures(trial: &Trial, layout: &Layout, limits: &mut Limits) -> Vec<ReadMeasure> {
    let ids = measures_read(trial).into_iter().map(|(id, _)| id);
    ids.filter_map(|id| {
        let seen = Seen::of(trial, layout, &id, When::Usual).ok()?;
        let analysis = seen.analysed(limits).ok()?;
        Some(ReadMeasure { id, seen, analysis })
    })
    .collect()
}

/// What a measure shows, on paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReportMeasure {
    /// Its name with its unit.
    pub name: String,
    /// Whether it is the one that decides.
    pub is_primary: bool,
    /// Each treatment: what was read, how it differs from the control, the verdict.
    pub table: PaperTable,
    /// What must be said beside.
    pub notes: Vec<String>,
}

/// Heads of its parts.
pub const REPORT_HEADS: [&str; 5] = [
    "What was compared",
    "What it shows",
    "What it does not show",
    "Expected beside what happened",
    "Back to this trial",
];

/// What stands beside the code where records leave no room in it: with the plan in it, and without.
pub const LINK_OF_PLAN: [&str; 2] = [
    "The code opens the plan. The records are too many for it: they are in the recipe's file and in the table.",
    "This trial is too large for a code: keep the recipe's file and the table beside this page.",
];

/// The report.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TrialReport {
    /// The trial by name.
    pub title: String,
    /// What was asked, and by which measure.
    pub question: Vec<String>,
    /// What each treatment got.
    pub doses: PaperTable,
    /// What was read, the measure that decides first.
    pub measures: Vec<ReportMeasure>,
    /// Why nothing was read; empty where something was.
    pub nothing: &'static str,
    /// What was expected beside what happened.
    pub expected: Vec<String>,
    /// What it does not show.
    pub not: Vec<String>,
    /// How it was made and how it is made again.
    pub made: String,
}

/// The report of a trial. `doses` are there where the plan comes to something.
pub fn report(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    doses: Option<&Doses>,
    read: &[ReadMeasure],
    speech: Speech,
) -> TrialReport {
    let nothing = if read.is_empty() {
        "Nothing is measured yet, so nothing is shown."
    } else {
        ""
    };
    let notes = trial.notes.as_deref().map(one_line);
    let notes = notes.filter(|notes| !notes.is_empty());
    let mut made = format!(
        "Drawn by {GENERATOR} from seed {}; plan {}. Barrowmix {RELEASE}.",
        layout.seed,
        layout.hash()
    );
    if let Some(notes) = notes {
        made = format!("Notes: {notes} {made}");
    }
    TrialReport {
        title: trial_title(trial),
        question: question(trial, recipe, layout),
        doses: dose_table(trial, recipe, layout, doses, speech),
        measures: measures(trial, recipe, layout, read),
        nothing,
        expected: expected(trial, recipe, read),
        not: not_shown(trial, read),
        made,
    }
}

/// The measure that decides, where it was read; else the first.
pub fn primary<'a>(trial: &Trial, read: &'a [ReadMeasure]) -> Option<&'a ReadMeasure> {
    let named = trial.primary.as_deref();
    let of = read.iter().find(|read| Some(read.id.as_str()) == named);
    of.or_else(|| read.first())
}

fn question(trial: &Trial, recipe: &Recipe, layout: &Layout) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(control) = trial.control() {
        let control = treatment_name(trial, recipe, control);
        out.push(format!(
            "What each addition does, held against “{control}”."
        ));
    }
    if let Some(id) = trial.primary.as_deref() {
        let name = measure_name(trial, id);
        let mut said = format!("Decided by one measure, named before sowing: {name}");
        let matters = trial.primary_measure().and_then(|measure| {
            let matters = measure.matters.filter(|matters| *matters > 0.0)?;
            Some(match measure.scale {
                crate::trial::measures::Scale::Log => share(matters / 100.0),
                _ if measure.of_sown => amount(matters, super::seen::POINTS),
                _ => amount(matters, measure.unit),
            })
        });
        if let Some(matters) = matters {
            said += &format!("; a difference of {matters} matters");
        }
        out.push(said + ".");
    }
    out.push(set_out_text(trial, layout));
    out.push(vessel_text(trial));
    let mut grown: Vec<String> = Vec::new();
    grown.extend(trial.crop.as_deref().map(|crop| one_line(crop_name(crop))));
    grown.extend(trial.variety.as_deref().map(one_line));
    grown.extend(trial.start.map(|start| ["sown ", &start.iso()].concat()));
    if !grown.is_empty() {
        out.push([&grown.join(", "), "."].concat());
    }
    out
}

fn dose_table(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    doses: Option<&Doses>,
    speech: Speech,
) -> PaperTable {
    let rows = (0..layout.treatments).map(|treatment| {
        let one = doses.and_then(|doses| doses.each.get(treatment));
        let spots = layout.spots.iter();
        let count = spots.filter(|spot| spot.treatment == treatment).count();
        vec![
            treatment_name(trial, recipe, treatment),
            one.map(|one| added_text(trial, treatment, one, speech))
                .unwrap_or_else(|| "–".into()),
            vessels(trial, count),
        ]
    });
    PaperTable {
        head: ["Treatment", "Added to each", "How many"]
            .map(str::to_owned)
            .to_vec(),
        rows: rows.collect(),
    }
}

fn measures(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    read: &[ReadMeasure],
) -> Vec<ReportMeasure> {
    let named = trial.primary.as_deref();
    let (mut first, rest): (Vec<_>, Vec<_>) = read
        .iter()
        .partition(|read| Some(read.id.as_str()) == named);
    first.extend(rest.into_iter().take(MORE_MEASURES));
    let each = first.into_iter();
    each.map(|read| measure(trial, recipe, layout, read))
        .collect()
}

fn measure(trial: &Trial, recipe: &Recipe, layout: &Layout, read: &ReadMeasure) -> ReportMeasure {
    let ReadMeasure { id, seen, analysis } = read;
    let known = trial.measure(id);
    let unit = known.as_ref().map_or("", |known| seen.unit(known));
    let apart = known
        .as_ref()
        .map_or("", |known| difference_unit(seen, known));
    let differences = seen.differences(analysis);
    let row = |(treatment, group): (usize, &crate::trial::analysis::Group)| {
        let difference = differences.rows.iter().find(|(of, _, _)| *of == treatment);
        let against = difference.map(|(_, estimate, range)| {
            row_difference_text(*estimate, *range, &differences, apart)
        });
        let mut compared = analysis.comparisons.iter();
        let compared = compared.find(|row| row.treatment == treatment);
        let verdict = compared.map(|row| seen_verdict_text(row, seen, apart));
        let is_control = seen.has_control && treatment == seen.asked.control;
        vec![
            treatment_name(trial, recipe, treatment),
            treatment_text_at(group, unit, Some(seen.decimals)),
            match against {
                _ if is_control => "the control".into(),
                Some(against) if seen.has_control => against,
                _ => "–".into(),
            },
            match verdict {
                Some(verdict) if seen.has_control => verdict,
                _ => String::new(),
            },
        ]
    };
    let rows = analysis.groups.iter().enumerate().map(row);
    let mut notes = vec![readings_text(seen.count(), layout.spots.len())];
    if !seen.has_control {
        notes.push(super::seen::NO_CONTROL.into());
    }
    notes.extend(analysis.blocking.as_ref().map(blocking_text));
    notes.extend(analysis.notes.iter().map(note_text));
    if !seen.died.is_empty() {
        notes.push(died_text(layout, &seen.died));
    }
    if !seen.unasked.is_empty() {
        notes.push(unasked_text(layout, &seen.unasked));
    }
    ReportMeasure {
        name: measure_with_unit(trial, id),
        is_primary: trial.primary.as_deref() == Some(id.as_str()),
        table: PaperTable {
            head: ["Treatment", "Read", "Against the control", "Verdict"]
                .map(str::to_owned)
                .to_vec(),
            rows: rows.collect(),
        },
        notes,
    }
}

fn expected(trial: &Trial, recipe: &Recipe, read: &[ReadMeasure]) -> Vec<String> {
    let mut out = Vec::new();
    let stage = trial.stage();
    if matches!(stage, Stage::Measured | Stage::MeasuredUnforetold) {
        out.push(stage_text(stage).to_owned());
    }
    for ReadMeasure { id, analysis, .. } in read {
        let Some(known) = trial.measure(id) else {
            continue;
        };
        for beside in beside(trial, id, analysis) {
            out.push(format!(
                "{}, {}: {}",
                measure_name(trial, id),
                treatment_name(trial, recipe, beside.treatment),
                beside_text(&beside, known.unit)
            ));
        }
    }
    for (treatment, of) in trial.treatments.iter().enumerate() {
        let Some(guess) = of.guess else { continue };
        let by = guess.by_pct.filter(|by| *by > 0.0);
        let by = by.map(|by| [", by about ", &share(by / 100.0)].concat());
        out.push(format!(
            "Guessed of {}: {}{}.",
            treatment_name(trial, recipe, treatment),
            way_name(guess.way),
            by.unwrap_or_default()
        ));
    }
    out
}

/// What a trial does not show, whatever it read.
fn not_shown(trial: &Trial, read: &[ReadMeasure]) -> Vec<String> {
    let mut out = Vec::new();
    let has = |deed: &Deed| trial.treatments.iter().any(|of| of.deed == *deed);
    if has(&Deed::Dug) && !has(&Deed::Untouched) {
        out.push(
            "What digging alone does: no ground was left untouched beside the others.".to_owned(),
        );
    }
    if !has(&Deed::Dug) && has(&Deed::Untouched) {
        out.push(
            "Additions apart from the digging: the control was not dug, so both are in each \
             difference."
                .to_owned(),
        );
    }
    let mut ids = read.iter().map(|read| read.id.as_str());
    let (named, count) = (trial.primary.as_deref(), read.len());
    match named {
        Some(named) if ids.any(|id| id == named) && count > 1 => out.push(format!(
            "Much by its other measures: {} of them, and the more are looked at, the oftener one \
             differs by luck. They support; the one named before decides.",
            fixed(count as f64 - 1.0, 0)
        )),
        Some(named) if count > 0 && !read.iter().any(|read| read.id == named) => out.push(format!(
            "What was to decide: {} is not measured yet.",
            measure_name(trial, named)
        )),
        None if count > 1 => out.push(
            "By which measure it was to be decided: none was named before, and the more are looked \
             at, the oftener one differs by luck."
                .into(),
        ),
        _ => {}
    }
    if !trial.blind && read.iter().any(|read| read.analysis.scale == Scale::Score) {
        out.push("What an eye that did not know would have scored: the labels hid nothing.".into());
    }
    let unsaid = |read: &ReadMeasure| {
        let (Matters::Share(matters) | Matters::Difference(matters)) = read.seen.asked.matters;
        matters <= 0.0 && !read.seen.not_sown && read.analysis.scale != Scale::Score
    };
    if read.iter().any(unsaid) {
        out.push("Verdicts of measures of which nobody said what difference matters.".into());
    }
    let judged = |read: &ReadMeasure| {
        let mut rows = read.analysis.comparisons.iter();
        rows.any(|row| row.verdict.is_ok())
    };
    if read.iter().any(judged) {
        out.push(RANGE_COVERS.to_owned());
    }
    out
}
