//! Tables of a trial.

use super::COLUMNS;
use crate::quantity::{LITRES_PER_M3, round_significant};
use crate::recipe::number_text;
use crate::trial::doses::{Doses, Weighed};
use crate::trial::layout::Layout;
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::trial::records::Missing;

/// A unit in plain letters, as spreadsheets keep it.
pub(super) fn plain_unit(unit: &str) -> String {
    unit.replace('³', "3")
}

/// The table of a trial's records.
pub fn table(trial: &Trial, layout: &Layout) -> String {
    let mut out = COLUMNS.join(",") + "\r\n";
    for record in &trial.records {
        let measure = trial.measure(&record.measure);
        let number = |value: Option<f64>| value.map(number_text).unwrap_or_default();
        let day = trial.start.map(|start| record.date.days_since(start));
        let cells = [
            guarded(&trial.id),
            layout.code(record.container).unwrap_or_default(),
            record.date.iso(),
            day.map(|day| day.to_string()).unwrap_or_default(),
            guarded(&record.measure),
            number(record.value),
            guarded(&plain_unit(measure.map_or("", |measure| measure.unit))),
            record.censor.sign().to_owned(),
            record.reps.to_string(),
            guarded(&record.instrument),
            number(record.error),
            guarded(&record.scorer),
            record.missing.map_or("", Missing::spelling).to_owned(),
            guarded(&record.note),
        ];
        push_row(&cells, &mut out);
    }
    out
}

/// The head of the table of containers.
pub const CONTAINER_COLUMNS: [&str; 19] = [
    "trial_id",
    "unit_id",
    "block",
    "row",
    "col",
    "position",
    "treatment",
    "is_control",
    "crop",
    "variety",
    "container_litres",
    "soil_depth_cm",
    "clay_kg",
    "amendment",
    "amendment_kg",
    "amendment_litres",
    "filled_date",
    "sown_date",
    "seeds_sown",
];

/// Figures of masses and volumes that are computed.
const COMPUTED_DIGITS: usize = 4;
/// Figures of what was told, without the rounding of its unit.
const TOLD_DIGITS: usize = 6;

/// The table of containers, to go with that of records: what is in each, which opens the key. Of a
/// blend of several, what is added is told together. Nobody has told when they were filled.
pub fn container_table(trial: &Trial, layout: &Layout, doses: &Doses) -> String {
    let mut out = CONTAINER_COLUMNS.join(",") + "\r\n";
    // What is computed bears no more figures; what was told keeps its own.
    let number = |value: f64| number_text(round_significant(value, COMPUTED_DIGITS));
    let [litres, depth_cm] = match &trial.vessel {
        Vessel::Container { volume, height, .. } => {
            [volume.si() * LITRES_PER_M3, height.si() * 100.0]
        }
        Vessel::Strip { area, depth, .. } => {
            [area.si() * depth.si() * LITRES_PER_M3, depth.si() * 100.0]
        }
    };
    for (container, spot) in layout.spots.iter().enumerate() {
        let one = doses.each.get(spot.treatment);
        let added = one.map(|one| one.added.as_slice()).unwrap_or_default();
        let names: Vec<&str> = added.iter().map(|of| of.material.as_str()).collect();
        let sum = |of: fn(&Weighed) -> f64| {
            let sum = added.iter().map(of).sum();
            if added.is_empty() {
                String::new()
            } else {
                number(sum)
            }
        };
        let of = trial.treatments.get(spot.treatment);
        let is_control = of.is_some_and(|of| of.deed.is_control());
        let cells = [
            guarded(&trial.id),
            layout.code(container).unwrap_or_default(),
            (spot.block + 1).to_string(),
            (spot.row + 1).to_string(),
            (spot.column + 1).to_string(),
            (spot.position + 1).to_string(),
            guarded(&trial.treatment_id(spot.treatment)),
            is_control.to_string(),
            guarded(trial.crop.as_deref().unwrap_or_default()),
            guarded(trial.variety.as_deref().unwrap_or_default()),
            number_text(round_significant(litres, TOLD_DIGITS)),
            number_text(round_significant(depth_cm, TOLD_DIGITS)),
            one.map(|one| number(one.ground_moist_kg))
                .unwrap_or_default(),
            guarded(&names.join(" + ")),
            sum(|of| of.moist_kg),
            sum(|of| of.loose_l),
            String::new(),
            trial.start.map(|date| date.iso()).unwrap_or_default(),
            trial
                .seeds
                .map(|seeds| seeds.to_string())
                .unwrap_or_default(),
        ];
        push_row(&cells, &mut out);
    }
    out
}

impl Trial {
    /// A treatment's name in tables: what is done or added; the second dose of a material has `_2`
    /// after it.
    pub fn treatment_id(&self, treatment: usize) -> String {
        let name = |of: &Deed| match of {
            Deed::Addition { material } => material.clone(),
            deed => deed.spelling().to_owned(),
        };
        let Some(of) = self.treatments.get(treatment) else {
            return String::new();
        };
        let id = name(&of.deed);
        let before = self.treatments.iter().take(treatment);
        match before.filter(|before| name(&before.deed) == id).count() {
            0 => id,
            others => format!("{id}_{}", others + 1),
        }
    }
}

fn push_row(cells: &[String], out: &mut String) {
    for (index, cell) in cells.iter().enumerate() {
        if index > 0 {
            out.push(',');
        }
        let odd = cell.contains(['"', ',', ';', '\t', '\r', '\n'])
            || cell.starts_with(char::is_whitespace)
            || cell.ends_with(char::is_whitespace);
        if odd {
            out.push('"');
            *out += &cell.replace('"', "\"\"");
            out.push('"');
        } else {
            *out += cell;
        }
    }
    *out += "\r\n";
}

/// Whether a spreadsheet would compute a text that begins so, or drop its apostrophe.
fn is_bait(first: Option<char>) -> bool {
    matches!(
        first,
        Some('=' | '+' | '-' | '@' | '\'' | '\t' | '\r' | '\n')
    )
}

/// A text as a cell that a spreadsheet takes for one.
fn guarded(text: &str) -> String {
    if is_bait(text.chars().next()) {
        ["'", text].concat()
    } else {
        text.to_owned()
    }
}

/// The text of a guarded cell.
pub(super) fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if is_bait(text.chars().next()) => text,
        _ => cell,
    }
}
