//! A person scales a label to a pot, and takes what comes of it.

use super::say_it::{kept, near};
use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};

/// The page's own control; every line of the recipe leads here too.
const DOSE: &str = ".ways [data-shed=dose]";
/// 15 US gallons, 18 in across: its place in the list of containers.
const BAG: &str = "3";

/// The number of a cell, without its unit.
async fn cell(page: &Browser, name: &str) -> Result<f64, CmdError> {
    let text = page.text(&format!("#shed [data-cell={name}]")).await?;
    let number = text.split(' ').next().unwrap_or_default();
    Ok(number.parse().unwrap_or(f64::NAN))
}

/// 40 lb to 1000 square feet, 6 in deep, for a bag of 15 gallons.
async fn a_bag(page: &Browser, of: &str, density: &str) -> Played {
    for (name, value) in [
        ("what", of),
        ("rate", "40"),
        ("rate-unit", "lb/1000ft2"),
        ("depth", "6"),
        ("depth-unit", "in"),
        ("where", BAG),
        ("count", "1"),
        ("density", density),
    ] {
        page.enter(name, value).await?;
    }
    Ok(())
}

pub(super) async fn a_label_is_scaled_to_a_bag(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool(DOSE).await?;
    assert_eq!(page.text("#shed-title").await?, "Scale a label", "its name");
    a_bag(&page, "gypsum", "0.70").await?;
    for (name, grams) in [("area-one", 32.1), ("volume-one", 72.8), ("mass-one", 38.5)] {
        assert_eq!(cell(&page, name).await?, grams, "{name}");
    }
    let taken = page.text("#shed [data-cell=mass-taken]").await?;
    assert_eq!(taken, "taken", "it reacts, so by dry weight");
    let answer = page.text("#shed-answer").await?;
    for part in ["38.5 g of gypsum", "as a new line", "soil test", "wins"] {
        assert!(answer.contains(part), "{part}: {answer}");
    }
    assert!(!answer.contains("No depth"), "it was stated: {answer}");
    // Denser soil takes more of it.
    page.enter("density", "1.2").await?;
    near(&json!(cell(&page, "mass-one").await?), 66.0, 0.05);
    page.enter("density", "0.70").await?;
    // What was given, as a label: 32.0626 g is 40 by surface.
    page.enter("given", "32.06").await?;
    let back = page.text("#shed [data-part=back-says]").await?;
    assert!(back.contains("lb/1000 ft²: 40.0 by surface"), "{back}");
    // Three bags take three times as much.
    page.enter("count", "3").await?;
    assert_eq!(cell(&page, "mass-one").await?, 38.5, "in one");
    assert_eq!(cell(&page, "mass-all").await?, 115.0, "in all");
    page.enter("count", "1").await?;
    page.use_tool().await?;
    let recipe = kept(&page).await?;
    let last = recipe["additions"].as_array().and_then(|all| all.last());
    let last = last.cloned().unwrap_or_default();
    assert_eq!(last["material"], json!("gypsum"), "a new line");
    assert_eq!(
        last["amount"],
        json!({"value": 38.5, "unit": "g"}),
        "as a mass"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_line_takes_its_dose(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    // The demo's second line, from its own tool.
    page.tool("#additions li:nth-child(2) [data-shed=line]")
        .await?;
    page.run("document.querySelector('#shed [data-shed=dose]').click()")
        .await?;
    page.opened("dose").await?;
    assert_eq!(page.value("#shed [name=what]").await?, "#1", "that line");
    // The demo is a bed of 2.88 m2.
    assert_eq!(page.value("#shed [name=where]").await?, "place", "its own");
    let room = page.text("#shed [data-part=room]").await?;
    assert!(room.contains("a surface of 2.88 m²"), "{room}");
    a_bag(&page, "#1", "0.70").await?;
    // It works by its share of the volume, so never by surface.
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("in place of"), "{answer}");
    assert!(answer.contains("share of the volume"), "{answer}");
    page.enter("reading", "area").await?;
    assert!(
        page.text("#shed-says").await?.contains("share"),
        "refused by surface"
    );
    page.enter("reading", "").await?;
    page.use_tool().await?;
    let after = kept(&page).await?["additions"].clone();
    assert_eq!(
        after[1]["amount"],
        json!({"value": 72.8, "unit": "g"}),
        "by volume"
    );
    assert_eq!(after[1]["material"], json!("yard_compost"), "the same");
    assert_eq!(
        after[0]["amount"],
        json!({"value": 200, "unit": "kg"}),
        "another line"
    );
    assert_eq!(after.as_array().map(Vec::len), Some(2), "no new line");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn doses_warn_of_too_much_and_too_little(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool(DOSE).await?;
    a_bag(&page, "gypsum", "0.70").await?;
    let answer = page.text("#shed-answer").await?;
    assert!(!answer.contains("several goes"), "{answer}");
    // 1.9 kg/L of sand 34 cm deep against a label of 2 in: 8.5 times as much as by surface.
    page.enter("depth", "2").await?;
    page.enter("density", "1.9").await?;
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("several goes"), "{answer}");
    page.enter("depth", "").await?;
    page.enter("rate", "3").await?;
    page.enter("density", "0.7").await?;
    let answer = page.text("#shed-answer").await?;
    for part in ["has to be weighed", "No depth is stated: 17 cm"] {
        assert!(answer.contains(part), "{part}: {answer}");
    }
    // On top counts by surface.
    page.run("document.querySelector('#shed [name=on-top]').click()")
        .await?;
    let taken = page.text("#shed [data-cell=area-taken]").await?;
    assert_eq!(taken, "taken", "on top");
    // In a bed as deep as the label says both are one.
    for (name, value) in [
        ("where", "bed"),
        ("side", "ft"),
        ("long", "10"),
        ("wide", "10"),
        ("length", "in"),
        ("deep", "6"),
        ("depth", "6"),
        ("depth-unit", "in"),
        ("rate", "40"),
    ] {
        page.enter(name, value).await?;
    }
    for name in ["area-one", "volume-one"] {
        assert_eq!(cell(&page, name).await?, 1.81, "{name}");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn doses_of_nonsense_are_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool(DOSE).await?;
    assert_eq!(page.text("#shed-says").await?, "", "nothing is wrong yet");
    for (name, values, good) in [
        ("rate", ["forty", "-1", "0", "1e9", "NaN"], "40"),
        ("depth", ["-6", "0", "1e5", "six", "1e-7"], "6"),
        ("density", ["0", "99", "-1", "x", "1e-9"], "0.7"),
        ("count", ["0", "1.5", "-1", "x", "1e7"], "1"),
        ("given", ["0", "-3", "x", "1e9", "1,5"], "5"),
        ("label-density", ["0", "99", "-1", "x", "1e-9"], "1.3"),
    ] {
        a_bag(&page, "gypsum", "0.70").await?;
        for value in values {
            page.enter(name, value).await?;
            let says = page.text("#shed-says").await?;
            assert_ne!(says, "", "{name} {value}");
            let marked = page
                .eval("document.querySelector('#shed [aria-invalid]')?.name")
                .await?;
            assert_eq!(marked, json!(name), "{name} {value}: {says}");
            let shut = page
                .eval("document.querySelector('#shed .use').disabled")
                .await?;
            assert_eq!(shut, json!(true), "{name} {value}");
        }
        page.enter(name, good).await?;
        assert_eq!(page.text("#shed-says").await?, "", "{name} {good}");
    }
    // A container of no width, and a bed of no length, are still to be said.
    page.enter("where", "round").await?;
    assert!(
        page.text("#shed-answer").await?.starts_with("Still needed"),
        "a width"
    );
    let text = page.text("#shed").await?;
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
    let kept = page
        .eval("localStorage.getItem('barrowmix.recipe')")
        .await?;
    assert_eq!(kept, Value::Null, "nothing was changed");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn doses_by_keyboard_in_us_units(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.run("document.querySelector('[name=units][value=us]').click()")
        .await?;
    page.keys(DOSE, &Key::Enter.to_string()).await?;
    page.opened("dose").await?;
    let [tab, enter] = [Key::Tab, Key::Enter].map(|key| key.to_string());
    // Material, on top, rate, its unit, depth.
    page.keys("#shed [name=what]", "Gypsum").await?;
    let typed = format!("40{tab}{tab}6");
    page.keys("#shed [name=rate]", &typed).await?;
    page.keys("#shed [name=where]", "cloth bag of 15").await?;
    assert_eq!(page.value("#shed [name=where]").await?, BAG, "by its name");
    assert_eq!(page.value("#shed [name=depth]").await?, "6", "by tabs");
    assert_eq!(
        page.value("#shed [name=rate-unit]").await?,
        "lb/1000ft2",
        "as labels there print"
    );
    // 32.06 g in ounces of 28.3495 g.
    near(&json!(cell(&page, "area-one").await?), 1.13, 0.005);
    let room = page.text("#shed [data-part=room]").await?;
    assert!(
        room.contains("15.0 gal") && room.contains("1.77 ft²"),
        "{room}"
    );
    let wide = page
        .number("document.querySelector('#shed').scrollWidth - document.querySelector('#shed').clientWidth")
        .await?;
    assert!(wide <= 0.0, "nothing scrolls sideways: {wide}");
    let nameless = page
        .eval("[...document.querySelectorAll('#shed input, #shed select')].filter((f) => !f.labels.length && !f.ariaLabel).map((f) => f.name).join()")
        .await?;
    assert_eq!(nameless, json!(""), "every field has a name");
    page.keys("#shed [name=rate]", &enter).await?;
    let open = page.eval("document.getElementById('shed').open").await?;
    assert_eq!(open, json!(false), "Enter uses it");
    let recipe = kept(&page).await?;
    let last = recipe["additions"].as_array().and_then(|all| all.last());
    let last = last.cloned().unwrap_or_default();
    assert_eq!(last["amount"]["unit"], json!("oz"), "{last}");
    page.quiet().await?;
    page.close().await
}
