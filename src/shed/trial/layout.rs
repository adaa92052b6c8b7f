//! Lay out: where each container stands.

use super::fields::{choose, fault, number, show, show_number, tick};
use super::plan::{locked, settle_plan, table, told_fault};
use super::{Part, State, change};
use crate::dom::{Event, closest, mark, set, set_hidden};
use crate::plot::TrialPlan;
use crate::shed::ink::Ink;
use crate::shed::section::{put as put_text, put_list};
use crate::trial::layout::{CONTAINERS_LIMIT, Design, Layout, Site, advice, seed_of_text};
use crate::trial::plan::{Deed, Trial, Vessel};
use crate::words::fixed;
use crate::words::trial::page_plan::{HIDDEN, NO_SITE, WHOLE, order_text};
use crate::words::trial::plan::{
    design_name, layout_advice_text, seed_fault_text, site_name, treatment_name,
};
use crate::words::trial::section::{drawn_from, plan_sentence};

const PART: Part = Part::Layout;
/// Room around the drawing.
const EDGE: f64 = 2.0;

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
    let mut sites = vec![(String::new(), NO_SITE.text().to_owned())];
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

fn draw(trial: &Trial, state: &mut State, layout: &Layout) {
    let sentence = plan_sentence(layout, trial.site, trial.blind);
    put_text(&PART.part("map-says"), &sentence);
    put_text(&PART.part("drawn-from"), &drawn_from(layout));
    let names: Vec<String> = (0..layout.treatments)
        .map(|index| treatment_name(trial, &state.recipe, index))
        .collect();
    let letter = |treatment: usize| layout.letter(treatment).map_or(String::new(), String::from);
    map(trial, state, layout);
    let key: Vec<String> = names
        .iter()
        .enumerate()
        .map(|(index, name)| [letter(index).as_str(), ": ", name].concat())
        .collect();
    let mut sorted = key;
    sorted.sort();
    put_list(&PART.part("key"), &sorted);
    put_text(&PART.part("order"), &order_text(layout));
    // It folds as letters begin to hide what is in a container, and opens as they cease to.
    let fold = PART.part("key-fold");
    if fold.has_attribute("data-blind") != trial.blind || !fold.has_attribute("data-known") {
        mark(&fold, "data-blind", trial.blind);
        mark(&fold, "data-known", true);
        mark(&fold, "open", !trial.blind);
    }
    let rows: Vec<[String; 5]> = layout
        .walk()
        .into_iter()
        .filter_map(|at| {
            let spot = layout.spots.get(at)?;
            let name = if trial.blind {
                HIDDEN.text().to_owned()
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

/// The plan from above; the list below says the same aloud.
fn map(trial: &Trial, state: &mut State, layout: &Layout) {
    let place = PART.part("map");
    let width = f64::from(place.client_width().clamp(280, 720)) - 2.0 * EDGE;
    let plan = TrialPlan::of(layout, trial.site, width);
    let [wide, high] = plan.size;
    mark(&place, "data-wide", wide > width);
    let mut ink = Ink(String::with_capacity(8_000));
    for wedge in &plan.wedges {
        ink.path("trial-wedge", &wedge.corners, true);
        for hatch in &wedge.hatches {
            ink.path("ruler", hatch, false);
        }
    }
    for block in &plan.blocks {
        let ([x, y], [w, h]) = (block.at, block.size);
        let corners = [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
        ink.path("trial-block", &corners, true);
        let text = ["B", &fixed((block.block + 1) as f64, 0)].concat();
        ink.text("tick", [x - 4.0, y + 0.5 * h + 4.0], "end", &text);
    }
    let is_strip = matches!(trial.vessel, Vessel::Strip { .. });
    for (at, spot) in plan.places.iter().zip(&layout.spots) {
        let [x, y] = at.middle;
        let deed = trial.treatments.get(spot.treatment).map(|of| &of.deed);
        // Which are controls is not to be seen while letters hide it.
        let shows = !trial.blind && deed.is_some_and(Deed::is_control);
        let class = if shows {
            "trial-pot of-control"
        } else {
            "trial-pot"
        };
        if is_strip {
            ink.square(class, at.middle, 0.5 * plan.side);
        } else {
            ink.circle(class, at.middle, 0.5 * plan.side);
        }
        let letter = layout
            .letter(spot.treatment)
            .map_or(String::new(), String::from);
        ink.text("trial-letter", [x, y + 2.0], "middle", &letter);
        let code = layout.code(at.container).unwrap_or_default();
        ink.text("tick", [x, y + 15.0], "middle", &code);
    }
    if state.own.mapped != ink.0 {
        let whole = |value: f64| fixed(value, 0).replace(',', "");
        // Outlines are half outside of what they outline.
        let wide = if wide > width { wide } else { width } + 2.0 * EDGE;
        let high = high + 2.0 * EDGE;
        let edge = whole(-EDGE);
        let view = [&edge, " ", &edge, " ", &whole(wide), " ", &whole(high)].concat();
        set(&place, "viewBox", &view);
        place.set_inner_html(&ink.0);
        state.own.mapped = ink.0;
    }
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
                fault(&field, WHOLE.text());
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
