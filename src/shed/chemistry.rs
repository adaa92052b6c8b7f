//! The section on chemistry: quiet unless something matters, a sentence first in each of its parts.

use super::form;
use super::section::{Now, Section, again, put};
use crate::dom::{self, Element, Event, document, make, set};
use crate::draws::Strata;
use crate::figure::Figure;
use crate::outcome::{Outcome, Supplied};
use crate::recipe::Recipe;
use crate::words::{
    CHEMISTRY_OPENS, FertileRow, Said, Speech, TARGET_PH, Typed, YearFrom, capacity_told,
    chemistry_told, crop_choices, crop_said, disperses_text, fertile_rows, gypsum_need_text,
    gypsum_salt_text, label_of_shed, magnesium_text, nitrogen_said, offset_text, parse_typed,
    ph_told, phosphorus_text, potassium_text, ratio_text, reaction_said, reaction_source_text,
    salt_may_text, salt_said, salt_told, sodium_said, sodium_told, target_text, typed_text,
    washing_text,
};
use std::cell::RefCell;

pub(super) static CHEMISTRY: Section = Section {
    id: "chemistry",
    opens: CHEMISTRY_OPENS,
    resized: || false,
    show,
    write,
    touched,
    told: chemistry_told,
};

thread_local! {
    /// Strata of the additions' ranges, kept between recipes.
    static STRATA: RefCell<Strata> = RefCell::new(Strata::default());
}

fn put_text(name: &str, text: &str) {
    CHEMISTRY.put_text(name, text);
}

/// Writes a sentence; its range where the draws were made.
fn put_said(name: &str, said: &Said, with_ranges: bool) {
    put_text(&[name, "-a"].concat(), &said.before);
    if with_ranges {
        put_text(&[name, "-b"].concat(), &said.range);
    }
    put_text(&[name, "-c"].concat(), &said.after);
}

/// A row of figures: the ground and the blend.
fn put_row(
    name: &str,
    told: fn(Figure) -> crate::words::Told,
    [ground, blend]: [Option<Figure>; 2],
    with_ranges: bool,
) {
    let ground = ground.map_or(String::new(), |figure| told(figure).value);
    put_text(&[name, "-0"].concat(), &ground);
    let blend = blend.map(told).unwrap_or_default();
    let cells = [[name, "-1"].concat(), [name, "-2"].concat()];
    CHEMISTRY.put_told([&cells[0], &cells[1]], &blend, with_ranges);
}

fn write(now: &Now<'_>) {
    let &Now {
        recipe,
        outcome,
        speech,
        with_ranges,
    } = now;
    let supplied = STRATA
        .with_borrow_mut(|strata| Supplied::of(recipe, outcome, with_ranges.then_some(strata)));
    let it = &outcome.chemical;
    let of_ground = |figure: Figure| (outcome.barrow.ground_dry_kg > 0.0).then_some(figure);
    let row = |name: &str, told: fn(Figure) -> crate::words::Told, figures: [Option<Figure>; 2]| {
        put_row(name, told, figures, with_ranges);
    };

    put_said(
        "ph",
        &reaction_said(recipe, outcome, &supplied),
        with_ranges,
    );
    row("ph", ph_told, [of_ground(it.ground_ph), it.ph]);
    put_text("ph-source", &reaction_source_text(recipe, outcome));
    write_target(recipe, outcome, &supplied, speech);

    put_said("salt", &salt_said(outcome), with_ranges);
    let salt = of_ground(it.ground_ec_paste_ds_m);
    row("felt", salt_told, [salt, Some(it.ec_stress_ds_m)]);
    row("paste", salt_told, [salt, Some(it.ec_paste_ds_m)]);
    if with_ranges {
        put_text("salt-may", &salt_may_text(outcome));
    }
    put_text("salt-gypsum", &gypsum_salt_text(outcome));
    put_said("crop", &crop_said(recipe, outcome), with_ranges);
    put_text("washing", &washing_text(recipe, outcome, &supplied, speech));

    put_said(
        "sodium",
        &sodium_said(recipe, outcome, &supplied),
        with_ranges,
    );
    let sodium = of_ground(it.ground_esp_pct);
    row("esp", sodium_told, [sodium, Some(it.esp_pct)]);
    row("cec", capacity_told, [None, Some(it.cec_cmol_kg)]);
    put_text("disperses", &disperses_text(recipe, outcome, &supplied));
    put_text(
        "gypsum",
        &gypsum_need_text(recipe, outcome, &supplied, speech),
    );
    put_text("magnesium", &magnesium_text(recipe));

    let year = if super::seasons::shown().is_some() {
        YearFrom::Then
    } else {
        YearFrom::Today
    };
    put_said(
        "nitrogen",
        &nitrogen_said(recipe, outcome, &supplied, speech, year),
        with_ranges,
    );
    write_feeds(
        &fertile_rows(recipe, outcome, &supplied, speech),
        with_ranges,
    );
    put_text("offset", &offset_text(outcome, speech));
    put_text("phosphorus", &phosphorus_text(recipe, outcome, speech));
    put_text("ratio", &ratio_text(outcome));
    put_text(
        "potassium",
        &potassium_text(recipe, outcome, &supplied, speech),
    );
}

/// What it takes to reach the reaction that is typed.
fn write_target(recipe: &Recipe, outcome: &Outcome, supplied: &Supplied, speech: Speech) {
    let text = match typed_target() {
        Some(Ok(ph)) => target_text(ph, recipe, outcome, supplied, speech),
        Some(Err(_)) => String::new(),
        None => label_of_shed("chem_target_none").to_owned(),
    };
    put_text("target", &text);
}

/// The reaction that is typed, or what is wrong with it; none where nothing is.
fn typed_target() -> Option<Result<f64, String>> {
    let field = CHEMISTRY.field("target")?;
    let (least, most) = TARGET_PH;
    match parse_typed(&form::value(&field)) {
        Typed::Empty => None,
        Typed::Number(ph) if (least..=most).contains(&ph) => Some(Ok(ph)),
        typed => Some(Err(typed_text(typed, least, most))),
    }
}

/// The rows of the nutrients, built anew where there are more or fewer.
fn write_feeds(rows: &[FertileRow], with_ranges: bool) {
    let body = CHEMISTRY.part("feeds");
    let mut lines = body.query_selector_all("tr");
    while lines.len() > rows.len() {
        if let Some(line) = lines.pop() {
            line.remove();
        }
    }
    while lines.len() < rows.len() {
        let line = make("tr");
        set(&form::put(&line, "th", ""), "scope", "row");
        for class in ["", "within", "", "within"] {
            set(&form::put(&line, "td", ""), "class", class);
        }
        body.append_child(&line);
        lines.push(line);
    }
    for (line, row) in lines.iter().zip(rows) {
        let texts: [(&str, bool); 5] = [
            (&row.name, true),
            (&row.nitrogen.value, true),
            (&row.nitrogen.range, with_ranges),
            (&row.phosphorus.value, true),
            (&row.phosphorus.range, with_ranges),
        ];
        let cells = line.query_selector_all("th, td");
        for (cell, (text, writes)) in cells.iter().zip(texts) {
            if writes {
                put(cell, text);
            }
        }
    }
}

/// Shows what grows in its list; a crop in other words has a choice of its own.
fn show(recipe: &Recipe, _: Speech) {
    let Some(list) = CHEMISTRY.field("crop") else {
        return;
    };
    let choices = crop_choices();
    if list.query_selector_all("option").len() < choices.len() {
        for (name, told) in &choices {
            choice(&list, name, told);
        }
    }
    let crop = recipe
        .place
        .as_ref()
        .and_then(|place| place.crop.as_deref());
    let crop = crop.unwrap_or_default();
    let own = list.query_selector("[data-own]");
    if crop.is_empty() || choices.iter().any(|(name, _)| name == crop) {
        if let Some(own) = own {
            own.remove();
        }
    } else {
        let own = own.unwrap_or_else(|| choice(&list, "", ""));
        set(&own, "data-own", "");
        set(&own, "value", crop);
        put(&own, crop);
    }
    if document().active_element().as_ref() != Some(&list) || form::value(&list) != crop {
        form::set_value(&list, crop);
    }
}

fn choice(list: &Element, name: &str, told: &str) -> Element {
    let option = form::put(list, "option", told);
    set(&option, "value", name);
    option
}

/// Something in the section was touched.
fn touched(event: &Event, lets_go: bool) {
    let Some(field) = dom::closest(event, "[name]") else {
        return;
    };
    match field.get_attribute("name").unwrap_or_default().as_str() {
        "target" if matches!(event.kind().as_str(), "input" | "change") => {
            match typed_target() {
                Some(Err(text)) => {
                    set(&field, "aria-invalid", "true");
                    CHEMISTRY.says(&text);
                }
                _ => {
                    field.remove_attribute("aria-invalid");
                    CHEMISTRY.says("");
                }
            }
            again();
        }
        "crop" if lets_go => {
            let crop = form::value(&field);
            CHEMISTRY.change_place(|place| {
                place.crop = (!crop.is_empty()).then_some(crop);
            });
        }
        _ => {}
    }
}
