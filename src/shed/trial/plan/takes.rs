//! What is to be said of the plan, and what its containers take.

use super::PART;
use super::shown::number_of;
use crate::dom::{Element, set, set_hidden};
use crate::recipe::Amount;
use crate::shed::form::put;
use crate::shed::section::{put as put_text, put_list};
use crate::shed::trial::State;
use crate::shed::trial::fields::rebuild;
use crate::trial::doses::{Doses, PlanAdvice};
use crate::trial::layout::{LayoutAdvice, advice as layout_advice};
use crate::trial::plan::{Trial, Vessel};
use crate::words::trial::page_plan::{NOT_WEIGHED, UNTOUCHED_ONLY};
use crate::words::trial::plan::{layout_advice_text, plan_advice_text, treatment_name};
use crate::words::trial::section::{added_text, bought_lines, filled_kg, ground_text};

pub(super) fn advice(trial: &Trial, state: &State, doses: Option<&Doses>) {
    let all = doses.map_or(Vec::new(), |doses| trial.plan_advice(doses));
    let is_equality = |advice: &PlanAdvice| {
        matches!(
            advice,
            PlanAdvice::MassDiffers { .. }
                | PlanAdvice::VolumeDiffers { .. }
                | PlanAdvice::NeitherEqual { .. }
        )
    };
    // Controls are offered where they are ticked.
    let is_offer =
        |advice: &PlanAdvice| matches!(advice, PlanAdvice::OfferDug | PlanAdvice::OfferUntouched);
    let text = |advice: &PlanAdvice| plan_advice_text(*advice, trial, &state.recipe);
    let rest = all.iter().filter(|one| !is_equality(one) && !is_offer(one));
    let mut told: Vec<String> = rest.map(text).collect();
    if all.contains(&PlanAdvice::OfferDug) && trial.control().is_some() {
        told.insert(0, UNTOUCHED_ONLY.text().to_owned());
    }
    put_list(&PART.part("advice"), &told);
    // What one container of each means is said beside the figure.
    let of_layout = layout_advice(&trial.wanted(), trial.site).into_iter();
    let of_layout = of_layout.filter(|one| *one != LayoutAdvice::OneEach);
    put_list(
        &PART.part("layout-advice"),
        &of_layout.map(layout_advice_text).collect::<Vec<_>>(),
    );
    let equality = all.iter().find(|one| is_equality(one));
    put_text(
        &PART.part("equality"),
        &equality.map_or(String::new(), text),
    );
}

pub(super) fn takes(trial: &Trial, state: &State, doses: Option<&Doses>) {
    // Nobody weighs a strip of bed.
    let empty_kg = match &trial.vessel {
        Vessel::Container { empty, .. } => Some(empty.as_ref().map_or(0.0, Amount::si)),
        Vessel::Strip { .. } => None,
    };
    let mut rows: Vec<[String; 5]> = Vec::new();
    if let Some(doses) = doses {
        for (index, (one, count)) in doses.each.iter().zip(&doses.containers).enumerate() {
            rows.push([
                treatment_name(trial, &state.recipe, index),
                number_of(*count),
                ground_text(one, state.speech),
                added_text(one, state.speech),
                empty_kg.map_or(NOT_WEIGHED.to_owned(), |empty_kg| {
                    state.speech.mass(filled_kg(one, empty_kg))
                }),
            ]);
        }
    }
    table(&PART.part("takes"), &rows);
    // Why there is nothing is told at the top, and here where one looks for it.
    let why = PART.part("fault").text_content();
    put_text(&PART.part("takes-none"), &why);
    for place in ["takes-all", "bought-all"] {
        set_hidden(&PART.part(place), doses.is_none());
    }
    let currency = state.recipe.currency.as_deref();
    let bought = doses.map_or(Vec::new(), |doses| {
        bought_lines(doses, currency, state.speech)
    });
    put_list(&PART.part("bought"), &bought);
}

/// The headings of a table, by a body of it.
pub(in crate::shed::trial) fn headings(body: &Element) -> Vec<String> {
    let table = crate::dom::around(body, "table");
    let all = table.map_or(Vec::new(), |table| table.query_selector_all("thead th"));
    all.iter().map(Element::text_content).collect()
}

/// Rows of a table, the first cell of each a heading. A narrow screen shows each as a card, for which
/// the cells carry their headings.
pub(in crate::shed::trial) fn table<const N: usize>(body: &Element, rows: &[[String; N]]) {
    let key: String = rows
        .iter()
        .flatten()
        .map(|cell| [cell, "|"].concat())
        .collect();
    rebuild(body, &key, |body| {
        let heads = headings(body);
        for row in rows {
            let line = put(body, "tr", "");
            for (index, cell) in row.iter().enumerate() {
                if index == 0 {
                    set(&put(&line, "th", cell), "scope", "row");
                } else {
                    let head = heads.get(index).map_or("", String::as_str);
                    set(&put(&line, "td", cell), "data-label", head);
                }
            }
        }
    });
}
