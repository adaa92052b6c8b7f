//! Checks `src/material/catalogue.csv` and turns it into a table.

use super::fact::{Fact, Hazard};
use super::group::Group;
use super::property::Property;
use super::table::{Row, Sources, each};
use std::collections::BTreeMap;
use std::fmt::Write as _;

pub(crate) const SOURCE: &str = "src/material/catalogue.csv";
const COLUMNS: [&str; 11] = [
    "id", "name", "group", "field", "unit", "low", "typical", "high", "source", "mark", "note",
];

pub(crate) struct Draft {
    line: u64,
    name: String,
    group: Group,
    /// By the place of the property.
    values: BTreeMap<usize, [f64; 3]>,
    /// The names of all its rows.
    fields: Vec<String>,
    hazards: Vec<(Hazard, [f64; 3])>,
    /// Usual rate as a mass on an area, kg/m2.
    usual_kg_m2: Option<f64>,
    /// Every row, for the table of numbers.
    rows: String,
}

/// Every material with its rows, in the order of first appearance.
pub(crate) fn read(text: &str, sources: &Sources) -> Result<Vec<(String, Draft)>, String> {
    let mut drafts: Vec<(String, Draft)> = Vec::new();
    each(SOURCE, text, &COLUMNS, |line| {
        row(line, sources, &mut drafts)
    })?;
    for (id, draft) in &drafts {
        whole(draft).map_err(|what| format!("{SOURCE}:{}: {id}: {what}", draft.line))?;
    }
    Ok(drafts)
}

fn row(row: &Row, sources: &Sources, drafts: &mut Vec<(String, Draft)>) -> Result<(), String> {
    let (id, name) = (row.id()?, row.text("name"));
    let group = row.text("group");
    let group = Group::from_spelling(group).ok_or(format!("no group {group:?}"))?;
    let field = row.text("field");
    let property = Property::ALL.iter().position(|of| of.name() == field);
    let hazard = Hazard::ALL.iter().find(|of| of.name() == field);
    let fact = Fact::ALL.iter().find(|of| of.name() == field);
    let limits = match (property, hazard, fact) {
        (Some(place), ..) => Property::ALL[place].limits(),
        (_, Some(hazard), _) => hazard.limits(),
        (.., Some(fact)) => fact.limits(),
        _ => return Err(format!("no field {field:?}")),
    };
    let figure = row.figure(limits)?;
    row.sourced(sources)?;
    if name.is_empty() {
        return Err(format!("{id} needs a name"));
    }
    if !drafts.iter().any(|(known, _)| known == id) {
        let draft = Draft {
            line: row.line,
            name: name.into(),
            group,
            values: BTreeMap::new(),
            fields: Vec::new(),
            hazards: Vec::new(),
            usual_kg_m2: None,
            rows: String::new(),
        };
        drafts.push((id.into(), draft));
    }
    let (_, draft) = drafts
        .iter_mut()
        .find(|(known, _)| known == id)
        .expect("it was pushed above");
    if draft.name != name || draft.group != group {
        return Err(format!(
            "{id} has another name or group on line {}",
            draft.line
        ));
    }
    if draft.fields.iter().any(|known| known == field) {
        return Err(format!("{id} has {field} twice"));
    }
    draft.fields.push(field.into());
    let unit = row.text("unit");
    if let Some(place) = property {
        draft.values.insert(place, figure);
    } else if let Some(hazard) = hazard {
        if figure.iter().any(|level| level.fract() != 0.0) {
            return Err(format!("{field} has whole levels"));
        }
        draft.hazards.push((*hazard, figure));
    } else if unit.is_empty() {
        return Err(format!("{field} needs its unit"));
    } else if field == Fact::UsualRate.name() {
        draft.usual_kg_m2 = on_an_area(unit).map(|factor| figure[1] * factor);
    }
    draft.rows += &super::number_row(row, figure, unit);
    Ok(())
}

/// kg/m2 in one of a unit of mass on an area.
fn on_an_area(unit: &str) -> Option<f64> {
    /// kg/m2 in a pound on a thousand square feet.
    const POUND_PER_1000_FT2: f64 = 0.453_592_37 / 92.903_04;
    match unit.split(" (").next()? {
        "kg/m2" => Some(1.0),
        "lb/1000 ft2" => Some(POUND_PER_1000_FT2),
        // A liquid: a fluid ounce is taken as 29.57 g.
        "fl oz/1000 ft2" => Some(0.029_573_53 / 92.903_04),
        _ => None,
    }
}

/// What only the whole of a material can tell.
fn whole(draft: &Draft) -> Result<(), String> {
    let typical = |property: Property| draft.values.get(&(property as usize)).map(|f| f[1]);
    for needed in [Property::LooseDensity, Property::WaterPerWet] {
        if typical(needed).is_none() {
            return Err(format!("{} is missing", needed.name()));
        }
    }
    let fractions = [Property::Sand, Property::Silt, Property::Clay].map(typical);
    if fractions.iter().any(Option::is_some) {
        let sum: f64 = fractions.iter().flatten().sum();
        if (sum - 100.0).abs() > 0.5 {
            return Err(format!("sand, silt and clay sum to {sum}, not 100"));
        }
    }
    Ok(())
}

pub(crate) fn table(drafts: &[(String, Draft)]) -> String {
    let mut out = String::from("/// Every material of the catalogue, in the order of its file.\n");
    out.push_str("pub(super) static CATALOGUE: &[Entry] = &[\n");
    for (id, draft) in drafts {
        let _ = writeln!(
            out,
            "entry({id:?}, {:?}, Group::{:?}, [",
            draft.name, draft.group
        );
        for index in 0..Property::ALL.len() {
            let _ = match draft.values.get(&index) {
                Some([low, typical, high]) => {
                    writeln!(out, "between({low:?}, {typical:?}, {high:?}),")
                }
                None => writeln!(out, "None,"),
            };
        }
        let (mut typical, mut worst) = (0_u64, 0_u64);
        for (hazard, levels) in &draft.hazards {
            let at = |level: f64| (level as u64) << (2 * *hazard as u32);
            typical |= at(levels[1]);
            worst |= at(levels[2]);
        }
        let _ = writeln!(
            out,
            "], Hazards {{ typical: {typical}, worst: {worst} }}, {:?}),",
            draft.usual_kg_m2
        );
    }
    out.push_str("];\n");
    out
}

/// Every number with where it comes from.
pub(crate) fn numbers(drafts: &[(String, Draft)]) -> String {
    let mut out = String::from(
        "/// Every number of the catalogue with its source, by the id of its material.\n\
         pub static NUMBERS: &[(&str, &[Number])] = &[\n",
    );
    for (id, draft) in drafts {
        let _ = writeln!(out, "({id:?}, &[\n{}]),", draft.rows);
    }
    out.push_str("];\n");
    out
}
