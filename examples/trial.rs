//! Reads the containers of side-by-side trials and says what they show:
//! `cargo run --release --example trial -- DATA.csv`, or `-` for standard input.
//!
//! Columns, in any order: dataset, design (CRD, RCBD or LATIN), control, unit, treatment, block, row,
//! col, value; others are ignored, and a trial that is anywhere at random needs no block, row and col. Commas, semicolons or tabs stand between cells; where it is not
//! commas, decimals may have one. A container that stands in several rows is averaged first; one
//! without a value was lost. Where no control is named, nothing is compared with one. A column
//! `measure` names one of the measures of trials, and so does a dataset whose name ends in one; else
//! more is taken as better and logarithms are compared. A column `scale` says raw, log, log10(x+1) or
//! score, `better` more or less, `matters` the difference that matters: percent by logarithms and
//! where no measure is named, else in its unit.
//!
//! Records as the page saves them are read too: `-- RECORDS.csv CONTAINERS.csv`, the second its table
//! of containers, which says what is in each, or one table that has `treatment` and `block` besides.
//! Every measure is a data set, and every day of it where there are several. A square is read by its
//! blocks unless a column `design` says so. A value may begin with > or <: it lies beyond.
//!
//! A recipe in JSON that has a trial is read too: its plan from above, what goes into each container,
//! what it can find, and what its records show.
//!
//! Exit 1: the table has a fault; nothing on standard output, one line on standard error with row
//! and column. Exit 2: the file cannot be read, or none was named.

#[path = "trial/asked.rs"]
mod asked;
#[path = "trial/exported.rs"]
mod exported;
#[path = "trial/recipe.rs"]
mod recipe;

use asked::{Asked, OPTIONAL, Options};

use barrowmix::trial::analysis::{
    Analysis, Group, Judged, Limit, Limits, Measure, Reading, Scale, permutation,
};
use barrowmix::trial::layout::{Layout, Wanted};
use barrowmix::trial::permute::Question;
use barrowmix::trial::power::{Design, Plan, USUAL_POWER, log_spread};
use barrowmix::trial::verdict::{Matters, NoVerdict};
use barrowmix::words::trial::seen::SHUFFLED_TOGETHER;
use barrowmix::words::{
    RANGE_COVERS, blocking_text, chance_text, comparison_text, no_verdict_text, note_text,
    one_container_text, permutation_text, plan_text, refused_text, row_text, said_once,
    treatment_text_at, verdict_text_at, without_praise,
};
use std::fmt::Write as _;
use std::io::{Read as _, Write as _};
use std::process::ExitCode;

/// Seed of the shuffles.
const SEED: u64 = 20_260_401;
/// Spread where none was seen: home containers, one plant each less (common practice).
const USUAL_SPREAD: f64 = 0.2;

/// The containers of one trial.
struct Trial {
    name: String,
    measure: Measure,
    asked: Asked,
    /// The control as it is named, empty where it is not, and the row of the table that does.
    control: (String, usize),
    names: Vec<String>,
    units: Vec<String>,
    readings: Vec<Reading>,
    /// Rows of the table, for faults, and how many values were averaged.
    rows: Vec<usize>,
    counts: Vec<u32>,
}

struct Columns {
    needed: [usize; 9],
    optional: [Option<usize>; 4],
}

const NEEDED: [&str; 9] = [
    "dataset",
    "design",
    "control",
    "unit",
    "treatment",
    "block",
    "row",
    "col",
    "value",
];
/// Places in that list.
const DATASET: usize = 0;
const DESIGN: usize = 1;
const CONTROL: usize = 2;
const UNIT: usize = 3;
const TREATMENT: usize = 4;
const BLOCK: usize = 5;
const ROW: usize = 6;
const COL: usize = 7;
const VALUE: usize = 8;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(name), second, None) = (arguments.next(), arguments.next(), arguments.next()) else {
        eprintln!(
            "usage: trial DATA.csv, RECORDS.csv CONTAINERS.csv or RECIPE.json (or - for standard \
             input)"
        );
        return ExitCode::from(2);
    };
    let bytes = if name == "-" {
        let mut bytes = Vec::new();
        std::io::stdin().read_to_end(&mut bytes).map(|_| bytes)
    } else {
        std::fs::read(&name)
    };
    let bytes = match bytes {
        Ok(bytes) => bytes,
        Err(error) => {
            eprintln!("{}: {error}", name.display());
            return ExitCode::from(2);
        }
    };
    let containers = match second.as_ref().map(std::fs::read).transpose() {
        Ok(containers) => containers,
        Err(error) => {
            eprintln!("{}: {error}", second.unwrap_or_default().display());
            return ExitCode::from(2);
        }
    };
    // A recipe is an object; no table begins like one.
    let is_recipe = bytes.iter().find(|byte| !byte.is_ascii_whitespace()) == Some(&b'{');
    let told = if is_recipe {
        recipe::told(&bytes)
    } else {
        let sets = exported::as_data_sets(&bytes, containers.as_deref());
        sets.and_then(|sets| trials(&sets)).and_then(|trials| {
            let mut limits = Limits::default();
            trials.iter().map(|trial| trial.told(&mut limits)).collect()
        })
    };
    let told: String = match told {
        Ok(told) => told,
        Err(fault) => {
            eprintln!("{}: {fault}", name.display());
            return ExitCode::FAILURE;
        }
    };
    // A reader that has gone away is no fault of the table.
    if let Err(error) = std::io::stdout().write_all(told.as_bytes()) {
        eprintln!("standard output: {error}");
        return ExitCode::from(2);
    }
    ExitCode::SUCCESS
}

fn trials(bytes: &[u8]) -> Result<Vec<Trial>, String> {
    let separator = separator(bytes);
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .delimiter(separator)
        .flexible(true)
        .from_reader(bytes);
    let head = reader.headers().map_err(|error| error.to_string())?.clone();
    let columns = Columns::of(&head)?;
    let mut trials: Vec<Trial> = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| error.to_string())?;
        let row = record.position().map_or(0, |at| at.line() as usize);
        let cell = |which: usize| record.get(columns.needed[which]).unwrap_or("").trim();
        let at = match trials.iter().position(|trial| trial.name == cell(DATASET)) {
            Some(at) => at,
            None => {
                let own = |at: Option<usize>| {
                    at.and_then(|at| record.get(at))
                        .unwrap_or("")
                        .trim()
                        .to_owned()
                };
                let [scale, better, measure, matters] = columns.optional.map(own);
                let options = Options {
                    scale,
                    better,
                    measure,
                    matters,
                };
                trials.push(Trial::named(row, cell, &options)?);
                trials.len() - 1
            }
        };
        trials[at].add(row, separator, cell)?;
    }
    if trials.is_empty() {
        return Err("no rows".into());
    }
    for trial in &trials {
        let (control, row) = &trial.control;
        let has = |of: &Reading| of.treatment == 0;
        if !control.is_empty() && !trial.readings.iter().any(has) {
            let name = &trial.name;
            return Err(format!(
                "row {row}, control: {control:?} is no treatment of {name:?}"
            ));
        }
    }
    Ok(trials)
}

/// What stands between the cells of the head: comma, semicolon or tab, whichever is most.
fn separator(bytes: &[u8]) -> u8 {
    let mut lines = bytes.split(|byte| *byte == b'\n');
    let head = lines.find(|line| !line.starts_with(b"#") && !line.trim_ascii().is_empty());
    let count = |of: u8| {
        let head = head.unwrap_or_default().iter();
        head.filter(|byte| **byte == of).count()
    };
    // The last of those that are as many counts.
    let mut known = [b'\t', b';', b','];
    known.sort_by_key(|of| count(*of));
    known[2]
}

impl Columns {
    fn of(head: &csv::StringRecord) -> Result<Columns, String> {
        let find = |name: &str| {
            let mut names = head.iter();
            names.position(|known| known.trim().trim_start_matches('\u{feff}') == name)
        };
        let mut needed = [0; 9];
        for (place, (at, name)) in needed.iter_mut().zip(NEEDED).enumerate() {
            // Of containers anywhere at random no place need be told.
            if matches!(place, BLOCK | ROW | COL) {
                *at = find(name).unwrap_or(usize::MAX);
                continue;
            }
            *at = find(name).ok_or_else(|| {
                let found: Vec<&str> = head.iter().map(str::trim).collect();
                format!("{name}: no such column; the head is {}", found.join(", "))
            })?;
        }
        Ok(Columns {
            needed,
            optional: OPTIONAL.map(find),
        })
    }
}

impl Trial {
    fn named<'a>(
        row: usize,
        cell: impl Fn(usize) -> &'a str,
        options: &Options,
    ) -> Result<Trial, String> {
        let unknown = |column: &str, text: &str, known: &str| {
            Err(format!("row {row}, {column}: {text:?} is none of {known}"))
        };
        let design = match cell(DESIGN) {
            "CRD" => Design::Random,
            "RCBD" => Design::Blocks,
            "LATIN" => Design::Latin,
            other => return unknown("design", other, "CRD, RCBD, LATIN"),
        };
        let asked = Asked::of(row, cell(DATASET), options)?;
        let first = match cell(CONTROL) {
            // Without a control any treatment can stand first: nothing is compared with it.
            "" => cell(TREATMENT),
            control => control,
        };
        Ok(Trial {
            name: cell(DATASET).into(),
            measure: Measure {
                design,
                treatments: 1,
                control: 0,
                scale: asked.scale,
                matters: asked.matters,
                good: asked.good,
            },
            asked,
            control: (cell(CONTROL).into(), row),
            names: vec![first.into()],
            units: Vec::new(),
            readings: Vec::new(),
            rows: Vec::new(),
            counts: Vec::new(),
        })
    }

    fn add<'a>(
        &mut self,
        row: usize,
        separator: u8,
        cell: impl Fn(usize) -> &'a str,
    ) -> Result<(), String> {
        let (control, first) = &self.control;
        if cell(CONTROL) != control {
            return Err(format!(
                "row {row}, control: {:?}, and {control:?} in row {first}",
                cell(CONTROL)
            ));
        }
        let own = cell(TREATMENT);
        if own.is_empty() {
            return Err(format!("row {row}, treatment: nothing stands there"));
        }
        let treatment = match self.names.iter().position(|known| known == own) {
            Some(at) => at,
            None => {
                self.names.push(own.into());
                self.measure.treatments = self.names.len();
                self.names.len() - 1
            }
        };
        let label = |which: usize| -> Result<Option<u32>, String> {
            let text = cell(which);
            // "R3" is the third.
            let digits = text.trim_start_matches(|letter: char| !letter.is_ascii_digit());
            match digits.parse() {
                Ok(number) => Ok(Some(number)),
                Err(_) if text.is_empty() => Ok(None),
                Err(_) => Err(format!(
                    "row {row}, {}: {text:?} has no number",
                    NEEDED[which]
                )),
            }
        };
        let text = cell(VALUE);
        let (limit, text) = match text.split_at_checked(1) {
            Some((">", rest)) => (Limit::Above, rest.trim()),
            Some(("<", rest)) => (Limit::Below, rest.trim()),
            _ => (Limit::No, text),
        };
        // A comma that sets no cells apart is a decimal one.
        let is_comma = separator != b',' && text.matches(',').count() == 1 && !text.contains('.');
        let plain = if is_comma {
            text.replace(',', ".")
        } else {
            text.to_owned()
        };
        let value = match plain.parse::<f64>() {
            Ok(value) if value.is_finite() => value,
            _ if text.is_empty() => f64::NAN,
            _ => return Err(format!("row {row}, value: {text:?} is not a number")),
        };
        let reading = Reading {
            treatment,
            block: label(BLOCK)?,
            row: label(ROW)?,
            column: label(COL)?,
            value,
            limit,
        };
        let unit = cell(UNIT);
        let known = self.units.iter().position(|known| known == unit);
        if let Some(at) = known.filter(|_| !unit.is_empty()) {
            if self.readings[at].treatment != treatment {
                return Err(format!("row {row}, unit: {unit:?} had another treatment"));
            }
            let is_limit = limit != Limit::No || self.readings[at].limit != Limit::No;
            if is_limit && !value.is_nan() && self.counts[at] > 0 {
                return Err(format!("row {row}, value: a limit cannot be averaged"));
            }
            if is_limit && !value.is_nan() {
                self.readings[at].limit = limit;
            }
            // Several readings of one container are one: their mean.
            if !value.is_nan() {
                let count = f64::from(self.counts[at]);
                let before = self.readings[at].value;
                self.readings[at].value = if count > 0.0 {
                    (before * count + value) / (count + 1.0)
                } else {
                    value
                };
                self.counts[at] += 1;
            }
            return Ok(());
        }
        self.units.push(unit.into());
        self.readings.push(reading);
        self.rows.push(row);
        self.counts.push(u32::from(!value.is_nan()));
        Ok(())
    }

    /// The plan as it was: blocks, rows of a square, or containers of each at the least.
    fn plan(&self) -> Plan {
        let count = |of: usize| {
            let own = self.readings.iter().filter(|own| own.treatment == of);
            own.count() as u32
        };
        let distinct = |label: fn(&Reading) -> Option<u32>| {
            let mut labels: Vec<_> = self.readings.iter().map(label).collect();
            labels.sort_unstable();
            labels.dedup();
            labels.len() as u32
        };
        let each = match self.measure.design {
            Design::Random => (1..self.names.len()).map(count).min().unwrap_or(0),
            Design::Blocks => distinct(|own| own.block),
            Design::Latin => distinct(|own| own.row),
        };
        Plan {
            control: match self.measure.design {
                Design::Random => count(0),
                Design::Blocks | Design::Latin => each,
            },
            ..Plan::even(self.measure.design, self.names.len() as u32 - 1, each)
        }
    }

    fn told(&self, limits: &mut Limits) -> Result<String, String> {
        let analysis = Analysis::of(&self.measure, &self.readings, limits);
        let mut analysis = analysis.map_err(|refused| {
            let place = |at: usize| format!("row {}", self.rows.get(at).unwrap_or(&0));
            [&self.name, ": ", &refused_text(refused, place)].concat()
        })?;
        for row in analysis
            .comparisons
            .iter_mut()
            .filter(|row| row.is_of_one())
        {
            row.leave_range();
        }
        let mut out = String::new();
        self.layout(&mut out);
        let _ = writeln!(out, "  {}", self.asked.told);
        if self.has_control() {
            self.power(&analysis, limits, &mut out);
        }
        self.result(&analysis, &mut out);
        self.details(&analysis, &mut out);
        out.push('\n');
        Ok(out)
    }

    fn has_control(&self) -> bool {
        !self.control.0.is_empty()
    }

    fn layout(&self, out: &mut String) {
        let design = match self.measure.design {
            Design::Random => "anywhere at random".into(),
            Design::Blocks if self.plan().each == 1 => "in 1 block".into(),
            Design::Blocks => format!("in {} blocks", self.plan().each),
            Design::Latin => "in rows and columns".into(),
        };
        let count = self.readings.len();
        let _ = writeln!(out, "== {}: {count} containers, {design}", self.name);
        let repeated: u32 = self
            .counts
            .iter()
            .map(|count| count.saturating_sub(1))
            .sum();
        if repeated > 0 {
            let _ = writeln!(
                out,
                "  Further readings of a container, averaged: {repeated}."
            );
        }
        let plan = self.plan();
        let mut copies = vec![1; self.names.len()];
        // Spare containers of a random trial are the control's.
        if self.measure.design == Design::Random && plan.each > 0 {
            copies[0] = (plan.control / plan.each).max(1) as usize;
        }
        let wanted = Wanted {
            design: self.measure.design,
            copies,
            blocks: plan.each as usize,
            seed: SEED,
            columns: None,
        };
        // Some are larger than what is set out here.
        if let Ok(layout) = Layout::of(&wanted) {
            let _ = writeln!(out, "  {}", recipe::seeded(&layout, &self.names));
        }
    }

    fn power(&self, analysis: &Analysis, limits: &mut Limits, out: &mut String) {
        // Power is told of shares of the control.
        let Matters::Share(matters) = self.measure.matters else {
            return;
        };
        let plan = self.plan();
        let spread = analysis.cv.unwrap_or(USUAL_SPREAD);
        let text = if plan.each <= 1 {
            one_container_text(plan.treatments, USUAL_SPREAD, matters)
        } else {
            plan_text(&plan, analysis.scale, spread, matters)
        };
        let _ = writeln!(out, "  {text}");
        let curve: Vec<String> = (2..=12)
            .step_by(2)
            .filter_map(|each| {
                let plan = Plan::even(plan.design, plan.treatments, each);
                let by_logs = analysis.scale == Scale::Log;
                let own = if by_logs { log_spread(spread) } else { spread };
                let least = plan.smallest_found_by(limits, own, USUAL_POWER)?;
                let least = if by_logs { libm::expm1(least) } else { least };
                Some(format!("{each}: {:.0} %", 100.0 * least))
            })
            .collect();
        if !curve.is_empty() && plan.design != Design::Latin {
            let _ = writeln!(
                out,
                "  Found by four of five, by number of each: {}",
                curve.join(", ")
            );
        }
    }

    fn result(&self, analysis: &Analysis, out: &mut String) {
        for (name, group) in self.names.iter().zip(&analysis.groups) {
            let _ = writeln!(out, "  {name}: {}", self.group(group));
        }
        if !self.has_control() {
            let _ = writeln!(
                out,
                "  No control is named (row {}, control), so nothing is compared with one.",
                self.control.1
            );
        }
        let mut judged = false;
        let once = said_once(analysis).filter(|_| self.has_control());
        let against = once.and_then(|_| {
            let question = Question::AgainstControl;
            permutation(&self.measure, &self.readings, question, SEED)
        });
        let against = against.map(|all| all.run());
        if let Some(once) = once {
            let _ = writeln!(out, "  {once}");
        }
        for row in &analysis.comparisons {
            if !self.has_control() {
                break;
            }
            let name = &self.names[row.treatment];
            let size = comparison_text(row, analysis, &self.asked.unit);
            let verdict = match &row.verdict {
                Ok(of) => {
                    judged = true;
                    self.verdict(of)
                }
                Err(_) if once.is_some() => {
                    let p = against.as_ref();
                    let p = p.and_then(|all| all.against_control(row.treatment));
                    row_text(analysis, row.treatment, 0, p)
                }
                Err(why) => no_verdict_text(*why).into(),
            };
            let _ = writeln!(out, "  {name} against {}: {verdict}", self.names[0]);
            if !size.is_empty() {
                let _ = writeln!(out, "    {size}");
            }
        }
        if judged {
            let _ = writeln!(out, "  {}", RANGE_COVERS.text());
        }
        if let Some(blocking) = &analysis.blocking {
            let _ = writeln!(out, "  {}", blocking_text(blocking));
        }
        for note in &analysis.notes {
            let _ = writeln!(out, "  Note: {}", note_text(note));
        }
    }

    fn group(&self, group: &Group) -> String {
        treatment_text_at(group, &self.asked.unit, self.asked.decimals)
    }

    fn verdict(&self, of: &Judged) -> String {
        let Asked { unit, decimals, .. } = &self.asked;
        let text = verdict_text_at(of, self.measure.design, unit, *decimals);
        match self.asked.neither {
            true => without_praise(&text, self.asked.good, true),
            false => text,
        }
    }

    fn details(&self, analysis: &Analysis, out: &mut String) {
        if let Some(table) = &analysis.table
            && let Some([f, p]) = table.treatments.f
        {
            let degrees = [table.treatments.degrees, table.error_degrees];
            let p = chance_text(p);
            let _ = writeln!(
                out,
                "  Details: F {f:.4} on {} and {}, p {p}",
                degrees[0], degrees[1]
            );
        }
        for row in &analysis.comparisons {
            if let (Some(t), Some(p), true) = (row.t, row.p_together, self.has_control()) {
                let name = &self.names[row.treatment];
                let _ = writeln!(out, "    {name}: t {t:.4}, together p {}", chance_text(p));
            }
        }
        let alone = Err(NoVerdict::OneContainer);
        if analysis.comparisons.iter().all(|row| row.verdict == alone) {
            return;
        }
        let of = |question| permutation(&self.measure, &self.readings, question, SEED);
        if let Some(all) = of(Question::Overall).map(|all| all.run())
            && let Some(p) = all.overall()
        {
            let _ = writeln!(out, "    {}", permutation_text(&all, p));
        }
        let against = of(Question::AgainstControl).filter(|_| self.has_control());
        if let Some(all) = against.map(|all| all.run()) {
            let _ = writeln!(out, "    {}", SHUFFLED_TOGETHER.text());
            for (at, name) in self.names.iter().enumerate() {
                if let Some(p) = all.against_control(at) {
                    let _ = writeln!(
                        out,
                        "    {name} by shuffles, together: p {}",
                        chance_text(p)
                    );
                }
            }
        }
    }
}
