//! The trial of a saved recipe: its plan from above, what goes into each container, what it can find,
//! and what was read of it.

use barrowmix::recipe::Recipe;
use barrowmix::trial::document::trial_of;
use barrowmix::trial::layout::Layout;
use barrowmix::trial::limits::Limits;
use barrowmix::trial::measures::Scale as MeasureScale;
use barrowmix::trial::plan::Trial;
use barrowmix::words::trial::plan::{layout_fault_text, plan_fault_text};
use barrowmix::words::trial::print::sheets;
use barrowmix::words::trial::report::{read_measures, report};
use barrowmix::words::{METRIC, error_text, one_container_text, plan_text};
use std::fmt::Write as _;

/// All of it, or what is wrong.
pub(crate) fn told(bytes: &[u8]) -> Result<String, String> {
    let text = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
    let recipe = Recipe::from_json(text).map_err(|error| error_text(&error))?;
    let trial = trial_of(&recipe).map_err(|error| error_text(&error))?;
    let trial = trial.ok_or_else(|| "there is no trial in this recipe".to_owned())?;
    let fault = |fault| plan_fault_text(&fault, &trial, &recipe, METRIC);
    let doses = trial.doses(&recipe).map_err(fault)?;
    let layout = trial.layout().map_err(|fault| layout_fault_text(&fault))?;
    let sheets = sheets(&trial, &recipe, &layout, &doses, None, METRIC);
    let mut out = String::new();
    let _ = writeln!(out, "== {}", sheets.title);
    for line in &sheets.layout {
        let _ = writeln!(out, "  {line}");
    }
    drawn(&mut out, &layout);
    for row in &sheets.key.rows {
        let _ = writeln!(out, "  {} {}: {}; {}", row[0], row[1], row[2], row[3]);
    }
    for note in &sheets.key_notes {
        let _ = writeln!(out, "  {note}");
    }
    power(&mut out, &trial);
    let mut limits = Limits::default();
    let read = read_measures(&trial, &layout, &mut limits);
    let report = report(&trial, &recipe, &layout, Some(&doses), &read, METRIC);
    let _ = writeln!(out, "  {}", report.nothing.trim());
    for measure in &report.measures {
        let decides = if measure.is_primary {
            ", which decides"
        } else {
            ""
        };
        let _ = writeln!(out, "  -- {}{decides}", measure.name);
        for row in &measure.table.rows {
            let _ = writeln!(out, "  {}", row.join(": "));
        }
        for note in &measure.notes {
            let _ = writeln!(out, "  Note: {note}");
        }
    }
    for line in &report.expected {
        let _ = writeln!(out, "  {line}");
    }
    for line in &report.not {
        let _ = writeln!(out, "  Not shown: {line}");
    }
    let _ = writeln!(out, "  {}", report.made);
    Ok(out
        .lines()
        .map(|line| line.trim_end().to_owned() + "\n")
        .collect())
}

/// The plan from above, in the letters of the labels.
fn drawn(out: &mut String, layout: &Layout) {
    let (rows, columns) = layout.grid();
    let _ = writeln!(out, "  From above:");
    for row in 0..rows {
        let cell = |column: usize| {
            let mut spots = layout.spots.iter().enumerate();
            let (at, spot) = spots.find(|(_, spot)| (spot.row, spot.column) == (row, column))?;
            let letter = layout.letter(spot.treatment)?;
            Some(format!("{letter} {:7}", layout.code(at)?))
        };
        let cells = (0..columns).map(|column| cell(column).unwrap_or_default());
        let _ = writeln!(
            out,
            "    {}",
            cells.collect::<Vec<_>>().join(" ").trim_end()
        );
    }
}

/// What it can find, by the spread that is expected.
fn power(out: &mut String, trial: &Trial) {
    let (Some(measure), Some(cv_pct)) = (trial.primary_measure(), trial.expected_cv_pct) else {
        return;
    };
    let Some(matters) = measure
        .matters
        .filter(|_| measure.scale == MeasureScale::Log)
    else {
        return;
    };
    let Some(plan) = trial.power_plan() else {
        return;
    };
    let (spread, difference) = (cv_pct / 100.0, matters / 100.0);
    let text = if plan.each <= 1 {
        one_container_text(plan.treatments, spread, difference)
    } else {
        let scale = barrowmix::trial::analysis::Scale::Log;
        plan_text(&plan, scale, spread, difference)
    };
    let _ = writeln!(out, "  {text}");
}

/// A layout by its words, for a table that says no seed: what is drawn for such a trial.
pub(crate) fn seeded(layout: &Layout, names: &[String]) -> String {
    let order = (0..layout.treatments).map(|treatment| {
        let letter = char::from(b'A'.saturating_add(treatment as u8));
        let name = names.get(treatment).map_or("", String::as_str);
        format!("{letter} {name}")
    });
    format!(
        "Such a trial drawn from seed {}: {}; plan {}, of {}.",
        layout.seed,
        layout.plan_text(),
        layout.hash(),
        order.collect::<Vec<_>>().join(", ")
    )
}
