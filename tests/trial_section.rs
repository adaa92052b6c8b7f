#![cfg(not(target_arch = "wasm32"))]
//! What the section on the trial says of crops, containers and what is foretold.

use barrowmix::figure::Figure;
use barrowmix::recipe::Recipe;
use barrowmix::trial::crops::{CROPS, TestCrop, round_area_cm2};
use barrowmix::trial::layout::{Design, Layout, Wanted};
use barrowmix::trial::plan::{Predicted, Trial};
use barrowmix::trial::power::each_needed;
use barrowmix::words::METRIC;
use barrowmix::words::trial::section::{
    added_text, bought_lines, crop_lines, crop_sources, drawn_from, filled_kg, foretold_text,
    ground_text, needed_text, usual_spread_text,
};

fn demo() -> Recipe {
    let text = include_str!("../examples/recipes/willowbank.json");
    Recipe::from_json(text).expect("the demo reads")
}

#[test]
fn a_crop_is_told_with_its_sources() {
    let radish = TestCrop::find("radish").expect("radish");
    // A bucket 28 cm wide, 5 cm apart: half of the 24 that fit.
    let lines = crop_lines(radish, Some(round_area_cm2(28.0))).join(" ");
    for told in [
        "21 to 35 days",
        "11 days at 10 °C",
        "thin to 12 in each",
        "1.2 dS/m",
        "13 %",
    ] {
        assert!(lines.contains(told), "{told}: {lines}");
    }
    let bean = TestCrop::find("bean").expect("bean");
    let lines = crop_lines(bean, None).join(" ");
    assert!(lines.contains("never at 10 °C"), "{lines}");
    assert!(lines.contains("very sensitive"), "{lines}");
    for crop in &CROPS {
        for source in crop_sources(crop) {
            assert!(source.ends_with('.'), "{source}");
            assert!(
                !source.contains("common practice (common practice"),
                "told once: {source}"
            );
        }
    }
}

#[test]
fn weights_add_up_to_what_is_bought() {
    let recipe = demo();
    let trial = Trial::of_recipe(&recipe, 1);
    let doses = trial.doses(&recipe).expect("doses");
    let ground: f64 = doses
        .each
        .iter()
        .zip(&doses.containers)
        .map(|(one, count)| one.ground_moist_kg * *count as f64)
        .sum();
    assert!(
        (ground - doses.ground_moist_kg).abs() < 1e-9 * ground,
        "ground"
    );
    let first = &doses.each[1];
    let weighs = filled_kg(first, 0.5);
    let parts = first.ground_moist_kg + first.added[0].moist_kg + 0.5;
    assert!((weighs - parts).abs() < 1e-12, "{weighs} of {parts}");
    assert_eq!(added_text(&doses.each[0], METRIC), "nothing", "the control");
    assert!(ground_text(first, METRIC).contains(" L)"), "its volume too");
    let lines = bought_lines(&doses, None, METRIC);
    assert!(lines[0].starts_with("Ground to dig"), "{lines:?}");
    assert!(lines.len() > doses.bought.len(), "each is told: {lines:?}");
}

#[test]
fn a_layout_is_told_without_its_key() {
    let wanted = Wanted {
        design: Design::Blocks,
        copies: vec![1; 5],
        blocks: 4,
        seed: 20_260_401,
        columns: None,
    };
    let layout = Layout::of(&wanted).expect("a layout");
    let said = drawn_from(&layout);
    assert!(
        said.contains("20260401") && said.contains("SplitMix64"),
        "{said}"
    );
    assert!(!said.contains("ADBCE"), "blind, it tells no order: {said}");
}

#[test]
fn what_is_needed_is_told() {
    // Spread 20 %, difference 50 %, four treatments beside the control: five blocks.
    let needed = each_needed(Design::Blocks, 4, 50.0, 20.0, 0.8);
    let text = needed_text(Design::Blocks, needed, 50.0);
    assert!(
        text.contains("50 %") && text.contains("takes 5 blocks"),
        "{text}"
    );
    assert_eq!(
        needed_text(Design::Latin, None, 50.0),
        "",
        "a square has its own number"
    );
    let spread = usual_spread_text("root_fresh_g").expect("known");
    assert!(spread.contains("15 to 35 %"), "{spread}");
    assert!(!spread.contains("practice; common"), "told once: {spread}");
}

#[test]
fn what_is_foretold_has_its_range() {
    let [value, range] = foretold_text(
        Predicted::AirSpace,
        Figure::between(0.05, 0.12, 0.2),
        METRIC,
    );
    assert_eq!(
        [value.as_str(), range.as_str()],
        ["12 %", "5–20"],
        "a share"
    );
    let [value, range] = foretold_text(Predicted::Ph, Figure::exact(6.54), METRIC);
    assert_eq!([value.as_str(), range.as_str()], ["6.5", ""], "exact");
}
