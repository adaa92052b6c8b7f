//! Sentences of the page that follow the numbers.

use super::{Speech, Text, Typed, bound, class_name, fixed, round_significant};
use crate::blend::{Barrow, Line};
use crate::outcome::Outcome;
use crate::plot::{ColumnState, Parts};
use crate::quantity::{LITRES_PER_M3, Unit};
use crate::recipe::{AMOUNT_LEAST, Amount, Fault, Recipe};
use crate::texture::Class;

/// A unit's name in a list.
pub fn unit_name(unit: Unit) -> &'static str {
    Text::after(Text::UnitGram, unit as usize).text()
}

/// An amount as it is read aloud.
pub fn number_in_words(amount: &Amount) -> String {
    [&super::shown(amount.value), " ", unit_name(amount.unit)].concat()
}

/// What an addition comes to: its weight, loose volume, share and cost.
pub fn line_text(line: &Line, barrow: &Barrow, currency: Option<&str>, speech: Speech) -> String {
    let mut text = Text::Line.with(&[
        &speech.mass(line.moist_kg),
        &speech.volume(line.loose_m3 * LITRES_PER_M3),
    ]);
    if line.on_top {
        text += Text::LineOnTop.text();
    } else {
        let share = 100.0 * line.loose_m3 / barrow.loose_parts_m3();
        text += &Text::LineShare.with(&[&fixed(share, 0)]);
    }
    if let Some(cost) = line.cost {
        text += Text::Between.text();
        text += &super::cost_text(cost, currency);
    }
    text
}

/// What the ground's amount comes to.
pub fn soil_text(outcome: &Outcome, speech: Speech) -> String {
    let barrow = &outcome.barrow;
    let kg = barrow.ground_dry_kg * (1.0 + barrow.ground.water_per_dry);
    let lying = barrow.ground_dry_kg / barrow.ground.lying_density_kg_m3 * LITRES_PER_M3;
    let dug = barrow.ground_loose_m3() * LITRES_PER_M3;
    Text::SoilAmount.with(&[&speech.mass(kg), &speech.volume(lying), &speech.volume(dug)])
}

/// Sand, silt and clay of the ground, before another sentence.
pub fn ground_text(recipe: &Recipe) -> String {
    let [sand, silt, clay] = recipe.ground.fractions_pct().map(super::shown);
    [
        Text::Sand.text(),
        " ",
        &sand,
        " %, ",
        Text::Silt.text(),
        " ",
        &silt,
        " %, ",
        Text::Clay.text(),
        " ",
        &clay,
        " %. ",
    ]
    .concat()
}

/// The name of a state in the pore column.
pub fn state_name(state: ColumnState) -> &'static str {
    Text::after(Text::StateLying, state as usize).text()
}

/// A class's name on as many lines as its region has room for: one, or two.
pub fn class_lines(class: Class) -> (&'static str, Option<&'static str>) {
    let name = Text::after(Text::LinesSand, class as usize).text();
    let at = name.bytes().position(|letter| letter == b'/');
    match at.map(|at| (name.get(..at), name.get(at + 1..))) {
        Some((Some(first), second)) => (first, second),
        _ => (name, None),
    }
}

/// What the triangle shows.
pub fn triangle_sentence(outcome: &Outcome) -> String {
    let Some(after) = outcome.texture.map(|texture| class_name(texture.class)) else {
        return Text::TriangleNone.text().into();
    };
    match outcome.ground.class.map(class_name) {
        Some(before) if outcome.barrow.ground_dry_kg > 0.0 => {
            if before == after {
                Text::TriangleStays.with(&[before])
            } else {
                Text::TriangleGoes.with(&[before, after])
            }
        }
        _ => Text::TriangleIs.with(&[after]),
    }
}

/// What the pore column shows.
pub fn column_sentence(outcome: &Outcome, parts: &[Parts; 5]) -> String {
    let pores = |state: ColumnState| fixed(parts[state as usize].pores_pct(), 0);
    let settled = pores(ColumnState::Settled);
    if outcome.barrow.ground_dry_kg <= 0.0 {
        return Text::ColumnAlone.with(&[&settled]);
    }
    Text::Column.with(&[&pores(ColumnState::Lying), &settled])
}

/// What a screen reader is told once a change has ended.
pub fn told(outcome: &Outcome) -> String {
    let class = outcome
        .texture
        .map_or(Text::NoClass.text(), |texture| class_name(texture.class));
    let organic = outcome.organic_matter_pct.map_or(String::new(), |figure| {
        Text::ToldOrganic.with(&[&fixed(figure.typical, 1)])
    });
    let pores = fixed(outcome.pore_space_pct.settled.typical, 0);
    Text::Told.with(&[class, &pores, &organic])
}

/// A fault of the recipe in the words of the page, which has boxes and no field names.
pub fn page_fault_text(fault: &Fault) -> String {
    match fault {
        Fault::NoArea => Text::PageNoArea,
        Fault::NoGround => Text::PageNoGround,
        Fault::Empty => Text::PageEmpty,
        other => return super::fault_text(other),
    }
    .text()
    .into()
}

/// What is wrong with a number as typed.
pub fn typed_text(typed: Typed, low: f64, high: f64) -> String {
    let limits = if low == AMOUNT_LEAST {
        Text::TypedMoreThan.with(&[&bound(high)])
    } else {
        // Limits shown in other units are rounded, for people.
        let end = |value: f64| {
            let whole = value.fract() == 0.0;
            bound(if whole {
                value
            } else {
                round_significant(value, 3)
            })
        };
        Text::TypedFrom.with(&[&end(low), &end(high)])
    };
    let text = match typed {
        Typed::Comma => Text::TypedComma,
        Typed::Empty => Text::TypedEmpty,
        Typed::Other => Text::TypedOther,
        Typed::Number(_) => Text::TypedOutside,
    };
    text.with(&[&limits])
}
