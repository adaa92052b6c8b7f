//! The report of a trial on one page: how it stood, what each got, what was seen, what that shows and
//! what it does not.

use super::beside::{guessed_text, note_text};
use super::plan::{
    crop_name, measure_name, measure_with_unit, stage_text, treatment_name, way_name,
};
use super::print::{PaperTable, added_text, set_out_text, trial_title, vessel_text};
use super::seen::{
    GUESSES_STOOD, beside_short_text, died_text, difference_unit, readings_text,
    row_difference_text, seen_verdicts, unasked_text,
};
use super::verdict::{RANGE_COVERS, amount, blocking_text, share};
use crate::recipe::{RELEASE, Recipe};
use crate::tongue::Saying;
use crate::trial::analysis::{Analysis, Comparison, Scale, permutation};
use crate::trial::doses::Doses;
use crate::trial::guessed::guessed;
use crate::trial::layout::{GENERATOR, Layout};
use crate::trial::limits::Limits;
use crate::trial::permute::{Permutation, Question};
use crate::trial::plan::{Deed, Stage, Trial};
use crate::trial::readings::When;
use crate::trial::seen::{Seen, beside, measures_read};
use crate::trial::verdict::{Matters, NoVerdict};
use crate::words::keep::one_line;
use crate::words::{Speech, fixed};

/// Letters that the page has room for of measures beside the first.
const MORE_LETTERS: usize = 1000;
/// Letters of what was expected that it has room for.
const EXPECTED_LETTERS: usize = 720;
/// Verdicts that go on with what their range says.
const SHORTENED: [Saying; 2] = [said!("Cannot tell"), said!("how much is uncertain")];
/// Notes that the user wrote are cut here.
const NOTE_LETTERS: usize = 320;
/// From so many treatments each has one line in place of several.
pub const MANY_TREATMENTS: usize = 7;

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
    /// Each treatment that is held against the control, with its verdict.
    pub table: PaperTable,
    /// Each treatment with its difference from the control and its verdict.
    pub each: Vec<String>,
    /// Why there is a verdict of none; empty where there is one.
    pub all: &'static str,
    /// What must be said beside.
    pub notes: Vec<String>,
}

impl ReportMeasure {
    /// All of it in one paragraph.
    pub fn line(&self) -> String {
        let mut parts = vec![[&self.name, ":"].concat()];
        parts.extend(self.each.iter().cloned());
        parts.extend(Some(self.all.to_owned()).filter(|all| !all.is_empty()));
        parts.join(" ")
    }

    /// Leaves what the ranges beside the verdicts say as well.
    fn shorten(&mut self) {
        let cells = self.table.rows.iter_mut().filter_map(|row| row.last_mut());
        for text in cells.chain(&mut self.each) {
            for word in SHORTENED.map(Saying::text) {
                if let Some((head, _)) = text.split_once(&[word, ": "].concat()) {
                    *text = [head, word, "."].concat();
                }
            }
        }
    }

    /// All of it as sentences, where no table goes.
    pub fn told(&self) -> Vec<String> {
        let mut out = self.each.clone();
        out.extend(Some(self.all.to_owned()).filter(|all| !all.is_empty()));
        out.push(self.notes.join(" "));
        out
    }
}

/// Heads of its parts.
pub const REPORT_HEADS: [Saying; 5] = [
    said!("What was compared"),
    said!("What it shows"),
    said!("What it does not show"),
    said!("Expected beside what happened"),
    said!("Back to this trial"),
];

/// What the code beside a report opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Code {
    /// All of it.
    All,
    /// The plan, without its records.
    Plan,
    /// There is none.
    None,
}

/// What stands beside the code and the link.
pub fn back_text(code: Code, letters: usize) -> String {
    let letters = fixed(letters as f64, 0);
    match code {
        Code::All => tr!("The code and the link open this trial with every record.").into(),
        Code::Plan => tr!("The code opens the plan; with every record it is in the recipe’s file, and behind the link where this is read as a file.")
            .into(),
        Code::None => say!("It is in the recipe’s file with every record, and behind the link where this is read as a file: its {} letters are too many for a code on paper.", letters),
    }
}

/// A link on paper: one that nobody types is told by where it leads.
pub fn link_text(link: &str) -> String {
    const TYPED: usize = 120;
    let page = link.split('#').next().unwrap_or_default();
    if link.chars().count() <= TYPED {
        link.to_owned()
    } else {
        [page, "#…"].concat()
    }
}

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
    /// What else was read and has no room; empty where there is nothing else.
    pub also: Vec<String>,
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
        let mut all = 0..layout.spots.len();
        if all.all(|of| trial.lost(of).is_some()) {
            tr!("Every container was lost, so nothing is shown.")
        } else {
            tr!("Nothing is measured yet, so nothing is shown.")
        }
    } else {
        ""
    };
    let notes = trial.notes.as_deref().map(one_line);
    let notes = notes.filter(|notes| !notes.is_empty());
    let mut made = say!("{} Barrowmix {}.", drawn_from_text(layout), RELEASE);
    if let Some(notes) = notes {
        let mut shown: String = notes.chars().take(NOTE_LETTERS).collect();
        if shown.len() < notes.len() {
            shown.push('…');
        }
        made = say!("Notes: {} {}", shown, made);
    }
    let (measures, also) = measures(trial, recipe, layout, read);
    TrialReport {
        title: trial_title(trial),
        question: question(trial, recipe, layout),
        doses: dose_table(trial, recipe, layout, doses, speech),
        measures,
        also,
        nothing,
        expected: expected(trial, recipe, read),
        not: not_shown(trial, read),
        made,
    }
}

/// How the plan is drawn again.
pub fn drawn_from_text(layout: &Layout) -> String {
    say!(
        "Drawn by {} from seed {}; plan {}.",
        GENERATOR,
        layout.seed,
        layout.hash()
    )
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
        out.push(say!("What each addition does, held against “{}”.", control));
    }
    if let Some(id) = trial.primary.as_deref() {
        let name = measure_name(trial, id);
        let mut said = say!("Decided by one measure, named before sowing: {}", name);
        let matters = trial.primary_measure().and_then(|measure| {
            let matters = measure.matters.filter(|matters| *matters > 0.0)?;
            Some(match measure.scale {
                crate::trial::measures::Scale::Log => share(matters / 100.0),
                _ if measure.of_sown => amount(matters, super::seen::POINTS.text()),
                _ => amount(matters, measure.unit),
            })
        });
        if let Some(matters) = matters {
            said += &say!("; a difference of {} matters", matters);
        }
        out.push(said + ".");
    }
    out.push(set_out_text(trial, layout));
    out.push(vessel_text(trial));
    let mut grown: Vec<String> = Vec::new();
    grown.extend(trial.crop.as_deref().map(|crop| one_line(crop_name(crop))));
    grown.extend(trial.variety.as_deref().map(one_line));
    grown.extend(trial.start.map(|start| say!("sown {}", start.iso())));
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
        let letter = layout.letter(treatment).map(String::from);
        vec![
            letter.unwrap_or_default(),
            treatment_name(trial, recipe, treatment),
            one.map(|one| added_text(trial, treatment, one, speech))
                .unwrap_or_else(|| "–".into()),
            fixed(count as f64, 0),
        ]
    });
    PaperTable {
        head: ["", tr!("Treatment"), tr!("Added to each"), tr!("How many")]
            .map(str::to_owned)
            .to_vec(),
        rows: rows.collect(),
    }
}

/// The first measure, those beside it that the page has room for, and the names of the rest.
fn measures(
    trial: &Trial,
    recipe: &Recipe,
    layout: &Layout,
    read: &[ReadMeasure],
) -> (Vec<ReportMeasure>, Vec<String>) {
    let first = primary(trial, read);
    let rest = read
        .iter()
        .filter(|read| Some(read.id.as_str()) != first.map(|of| of.id.as_str()));
    let mut out: Vec<ReportMeasure> = Vec::new();
    let mut names = Vec::new();
    let mut room = MORE_LETTERS;
    let mut refusals: Vec<&str> = Vec::new();
    for of in first.into_iter().chain(rest) {
        let mut told = measure(trial, recipe, layout, of);
        // A refusal is said once, of whichever measure comes first.
        if layout.treatments >= MANY_TREATMENTS || !out.is_empty() {
            told.shorten();
        }
        if refusals.contains(&told.all) {
            told.all = "";
        } else if !told.all.is_empty() {
            refusals.push(told.all);
        }
        let letters = told.line().chars().count();
        if out.is_empty() {
            out.push(told);
        } else if letters <= room && layout.treatments < MANY_TREATMENTS {
            room -= letters;
            out.push(told);
        } else {
            names.push(measure_name(trial, &of.id));
        }
    }
    let also = if names.is_empty() {
        Vec::new()
    } else {
        let all = names.join(", ");
        vec![say!(
            "Also measured, with no room for it here: {}. The recipe’s file holds it.",
            all
        )]
    };
    (out, also)
}

fn measure(trial: &Trial, recipe: &Recipe, layout: &Layout, read: &ReadMeasure) -> ReportMeasure {
    let ReadMeasure { id, seen, analysis } = read;
    let known = trial.measure(id);
    let apart = known.map_or("", |known| difference_unit(seen, &known));
    let differences = seen.differences(analysis);
    // Scores have no sizes: what chance does to them is told by shuffles alone.
    let is_ranked =
        |row: &Comparison| matches!(row.verdict, Err(NoVerdict::Score | NoVerdict::Limits));
    let shuffles = analysis
        .comparisons
        .iter()
        .any(is_ranked)
        .then(|| {
            permutation(
                &seen.asked,
                &seen.readings,
                Question::AgainstControl,
                trial.seed,
            )
        })
        .flatten()
        .map(Permutation::run);
    let shuffled = |of: usize| shuffles.as_ref()?.against_control(of);
    let verdicts = seen_verdicts(analysis, seen, apart, shuffled);
    let verdict = |treatment: usize| {
        let mut each = verdicts.each.iter();
        each.find(|(of, _)| *of == treatment)
            .map(|(_, text)| text.as_str())
    };
    let rows = verdicts
        .each
        .iter()
        .map(|(treatment, said)| vec![treatment_name(trial, recipe, *treatment), said.clone()]);
    let each = analysis.comparisons.iter().filter(|_| seen.has_control);
    let each = each.filter_map(|row| {
        let treatment = row.treatment;
        let mut of = differences.rows.iter();
        let against = of
            .find(|(of, ..)| *of == treatment)
            .map(|(_, by, range)| row_difference_text(*by, *range, &differences, apart) + ".");
        let mut said: Vec<String> = against.into_iter().collect();
        said.extend(verdict(treatment).map(str::to_owned));
        let name = treatment_name(trial, recipe, treatment);
        (!said.is_empty()).then(|| [&name, " ", &said.join(" ")].concat())
    });
    let mut notes = vec![readings_text(seen.count(), layout.spots.len())];
    if !seen.has_control {
        notes.push(super::seen::NO_CONTROL.text().into());
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
            head: [tr!("Treatment"), tr!("Verdict")]
                .map(str::to_owned)
                .to_vec(),
            rows: rows.collect(),
        },
        each: each.collect(),
        all: verdicts.all.unwrap_or_default(),
        notes,
    }
}

/// What the user guessed and what the model expected, beside what happened.
fn expected(trial: &Trial, recipe: &Recipe, read: &[ReadMeasure]) -> Vec<String> {
    let mut out = Vec::new();
    let name = |treatment: usize| treatment_name(trial, recipe, treatment);
    let mut is_held = false;
    for ReadMeasure { id, seen, analysis } in read {
        let Some(known) = trial.measure(id) else {
            continue;
        };
        let unit = difference_unit(seen, &known);
        for of in guessed(trial, id, seen, analysis) {
            is_held = true;
            out.push([&name(of.treatment), ": ", &guessed_text(&of, unit)].concat());
        }
    }
    for (treatment, of) in trial.treatments.iter().enumerate() {
        let Some(guess) = of.guess.filter(|_| !is_held) else {
            continue;
        };
        let by = guess.by_pct.filter(|by| *by > 0.0);
        let by = by.map(|by| say!(", by about {}", share(by / 100.0)));
        out.push(say!(
            "Guessed of {}: {}{}. What decides is not measured yet.",
            name(treatment),
            way_name(guess.way),
            by.unwrap_or_default()
        ));
    }
    for ReadMeasure { id, analysis, .. } in read {
        let rows = beside(trial, id, analysis);
        let each = rows
            .iter()
            .map(|of| [&name(of.treatment), " ", &beside_short_text(of)].concat());
        let each: Vec<String> = each.collect();
        if !each.is_empty() {
            let measure = measure_with_unit(trial, id);
            out.push(say!("{}, by the model: {}.", measure, each.join("; ")));
        }
    }
    let mut room = EXPECTED_LETTERS;
    let whole = out.len();
    let fits = |text: &String| {
        let letters = text.chars().count();
        room = room.saturating_sub(letters);
        room > 0
    };
    let fit = out.iter().take_while({
        let mut fits = fits;
        move |text| fits(text)
    });
    let fit = fit.count().max(1).min(whole);
    out.truncate(fit);
    if whole > fit {
        let more = fixed((whole - fit) as f64, 0);
        out.push(say!("{} more stand under Read.", more));
    }
    // When it was stored is worth nothing where nothing was.
    let foretold = trial.treatments.iter().any(|of| !of.predicted.is_empty());
    if !out.is_empty() && trial.stage() == Stage::Measured && foretold {
        out.insert(0, stage_text(Stage::Measured).to_owned());
    } else if is_held {
        out.insert(0, GUESSES_STOOD.text().to_owned());
    }
    out
}

/// What a trial does not show, whatever it read.
fn not_shown(trial: &Trial, read: &[ReadMeasure]) -> Vec<String> {
    let mut out = Vec::new();
    let has = |deed: &Deed| trial.treatments.iter().any(|of| of.deed == *deed);
    if has(&Deed::Dug) && !has(&Deed::Untouched) {
        out.push(
            tr!("What digging alone does: no ground was left untouched beside the others.")
                .to_owned(),
        );
    }
    if !has(&Deed::Dug) && has(&Deed::Untouched) {
        out.push(
            tr!("Additions apart from the digging: the control was not dug, so both are in each difference.")
                .to_owned(),
        );
    }
    let mut ids = read.iter().map(|read| read.id.as_str());
    let (named, count) = (trial.primary.as_deref(), read.len());
    match named {
        Some(named) if ids.any(|id| id == named) && count > 1 => out.push(say!("Much by its other measures: {} of them, and the more are looked at, the oftener one differs by luck. They support; the one named before decides.", fixed(count as f64 - 1.0, 0))),
        Some(named) if count > 0 && !read.iter().any(|read| read.id == named) => out.push(say!("What was to decide: {} is not measured yet.", measure_name(trial, named))),
        None if count > 1 => out.push(
            tr!("By which measure it was to be decided: none was named before, and the more are looked at, the oftener one differs by luck.")
                .into(),
        ),
        _ => {}
    }
    if !trial.blind && read.iter().any(|read| read.analysis.scale == Scale::Score) {
        out.push(
            tr!("What an eye that did not know would have scored: the labels hid nothing.").into(),
        );
    }
    let unsaid = |read: &ReadMeasure| {
        let (Matters::Share(matters) | Matters::Difference(matters)) = read.seen.asked.matters;
        matters <= 0.0 && !read.seen.not_sown && read.analysis.scale != Scale::Score
    };
    if read.iter().any(|read| trial.is_matters_late(&read.id)) {
        out.push(
            tr!("Verdicts that were settled beforehand, where what matters was said afterwards.")
                .into(),
        );
    }
    if read.iter().any(unsaid) {
        out.push(tr!("Verdicts of measures of which nobody said what difference matters.").into());
    }
    let judged = |read: &ReadMeasure| {
        let mut rows = read.analysis.comparisons.iter();
        rows.any(|row| row.verdict.is_ok())
    };
    if read.iter().any(judged) {
        out.push(RANGE_COVERS.text().to_owned());
    }
    out
}
