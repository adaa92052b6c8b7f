//! Lay out: where each container stands.

use super::fields::{choose, fault, number, rebuild, show, show_number, tick};
use super::plan::{locked, settle_plan, table, told_fault};
use super::{Part, State, change};
use crate::dom::{Event, closest, set, set_hidden};
use crate::shed::form::put;
use crate::shed::section::{put as put_text, put_list};
use crate::trial::layout::{CONTAINERS_LIMIT, Design, Layout, Site, advice, seed_of_text};
use crate::trial::plan::{Deed, Trial};
use crate::words::fixed;
use crate::words::trial::plan::{
    design_name, layout_advice_text, seed_fault_text, site_name, treatment_name,
};
use crate::words::trial::section::{drawn_from, plan_sentence};

const PART: Part = Part::Layout;

/// Writes all of it.
pub(super) fn fill(state: &mut State) {
    let Some(trial) = state.trial.clone() else {
        return;
    };
    let doses = trial.doses(&state.recipe);
    locked(PART, &trial);
    told_fault(PART, &trial, state, &doses);
    let designs: Vec<(String, String)> = Design::ALL
        .iter()
        .map(|of| (of.spelling().to_owned(), design_name(*of).to_owned()))
        .collect();
    choose(PART, "design", &designs, trial.design.spelling());
    let mut sites = vec![(String::new(), "not known".to_owned())];
    let all = Site::ALL.iter();
    sites.extend(all.map(|of| (of.spelling().to_owned(), site_name(*of).to_owned())));
    choose(PART, "site", &sites, trial.site.map_or("", Site::spelling));
    show(PART, "seed", &trial.seed.to_string());
    show_number(PART, "columns", trial.columns.map(|columns| columns as f64));
    tick(PART, "blind", trial.blind);
    let said = advice(&trial.wanted(), trial.site);
    let said = said.into_iter().map(layout_advice_text);
    put_list(&PART.part("advice"), &said.collect::<Vec<_>>());
    let figure = PART.panel().query_selector("figure");
    if let Some(figure) = figure {
        set_hidden(&figure, state.layout.is_none());
    }
    if let Some(layout) = state.layout.clone() {
        draw(&trial, state, &layout);
    }
}

fn draw(trial: &Trial, state: &State, layout: &Layout) {
    let sentence = plan_sentence(layout, trial.site, trial.blind);
    put_text(&PART.part("map-says"), &sentence);
    put_text(&PART.part("drawn-from"), &drawn_from(layout));
    let [far, near] = match trial.site {
        Some(Site::OneWay) => ["↑ the wall or hedge: less light", "↓ more light"],
        Some(Site::TwoWays) => [
            "↑ less light; it changes along the rows as well",
            "↓ more light",
        ],
        Some(Site::Even) | None => ["", ""],
    };
    put_text(&PART.part("light-far"), far);
    put_text(&PART.part("light-near"), near);
    let names: Vec<String> = (0..layout.treatments)
        .map(|index| treatment_name(trial, &state.recipe, index))
        .collect();
    let letter = |treatment: usize| layout.letter(treatment).map_or(String::new(), String::from);
    map(trial, layout, &names);
    let key: Vec<String> = names
        .iter()
        .enumerate()
        .map(|(index, name)| [letter(index).as_str(), ": ", name].concat())
        .collect();
    let mut sorted = key;
    sorted.sort();
    put_list(&PART.part("key"), &sorted);
    set_hidden(&PART.part("key-fold"), !trial.blind);
    let rows: Vec<[String; 5]> = layout
        .walk()
        .into_iter()
        .filter_map(|at| {
            let spot = layout.spots.get(at)?;
            let name = if trial.blind {
                "hidden".to_owned()
            } else {
                names.get(spot.treatment)?.clone()
            };
            Some([
                layout.code(at)?,
                fixed((spot.row + 1) as f64, 0),
                fixed((spot.column + 1) as f64, 0),
                letter(spot.treatment),
                name,
            ])
        })
        .collect();
    table(&PART.part("list"), &rows);
}

/// The plan from above, as a table that is read aloud too.
fn map(trial: &Trial, layout: &Layout, names: &[String]) {
    let (rows, columns) = layout.grid();
    let blind = if trial.blind { "blind" } else { "" };
    let key = [layout.hash(), fixed(columns as f64, 0), names.join("|")].concat() + blind;
    rebuild(&PART.part("map"), &key, |body| {
        for row in 0..rows {
            let line = put(body, "tr", "");
            for column in 0..columns {
                let cell = put(&line, "td", "");
                let mut all = layout.spots.iter();
                let at = all.position(|spot| spot.row == row && spot.column == column);
                let spot = at.and_then(|at| layout.spots.get(at));
                let Some((at, spot)) = at.zip(spot) else {
                    set(&cell, "class", "empty");
                    continue;
                };
                let letter = layout.letter(spot.treatment);
                put(&cell, "b", &letter.map_or(String::new(), String::from));
                put(&cell, "span", &layout.code(at).unwrap_or_default());
                if !trial.blind {
                    let deed = trial.treatments.get(spot.treatment).map(|of| &of.deed);
                    if deed.is_some_and(Deed::is_control) {
                        set(&cell, "class", "of-control");
                    }
                    let name = names.get(spot.treatment);
                    put(&cell, "span", name.map_or("", String::as_str));
                }
            }
        }
    });
}

/// A control was touched, or let go.
pub(super) fn touched(event: &Event, lets_go: bool) {
    let Some(field) = closest(event, "[name]") else {
        return;
    };
    if !lets_go {
        return;
    }
    let value = field.value();
    match field.get_attribute("name").unwrap_or_default().as_str() {
        "design" => {
            let mut all = Design::ALL.iter().copied();
            if let Some(design) = all.find(|design| design.spelling() == value) {
                settle_plan(|trial, _| {
                    trial.design = design;
                    Ok(())
                });
            }
        }
        "site" => {
            let mut all = Site::ALL.iter().copied();
            let site = all.find(|site| site.spelling() == value);
            settle_plan(|trial, _| {
                trial.site = site;
                Ok(())
            });
        }
        "columns" => {
            let Ok(typed) = number(&field, (1.0, CONTAINERS_LIMIT as f64)) else {
                return;
            };
            if typed.is_some_and(|typed| typed.fract() != 0.0) {
                fault(&field, "A whole number, please.");
                return;
            }
            settle_plan(|trial, _| {
                trial.columns = typed.map(|typed| typed as usize);
                Ok(())
            });
        }
        "seed" => match seed_of_text(&value) {
            Ok(seed) => {
                super::fields::mend(&field);
                settle_plan(|trial, _| {
                    trial.seed = seed;
                    Ok(())
                });
            }
            Err(wrong) => fault(&field, &seed_fault_text(wrong)),
        },
        "blind" => {
            let blind = field.checked();
            change(|trial| trial.blind = blind);
        }
        _ => {}
    }
}

/// A button was pressed.
pub(super) fn pressed(_deed: &str, _value: &str) {}
