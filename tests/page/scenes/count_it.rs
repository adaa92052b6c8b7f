//! A person says how much: parts, buckets, a pot, bags, materials of their own.

use super::say_it::{kept, near};
use crate::browser::{Played, Stage};
use serde_json::{Value, json};

pub(super) async fn a_mix_said_in_parts(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("parts").await?;
    page.enter("phrase", "3 soil, 1 compost and 1 sand").await?;
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("1 of concrete sand"), "{answer}");
    page.use_tool().await?;
    let recipe = kept(&page).await?;
    assert_eq!(recipe["parts_of_soil"], json!(3), "a mix said in parts");
    assert_eq!(
        recipe["additions"][0]["amount"],
        json!({"value": 1, "unit": "part"}),
        "a mix said in parts"
    );
    // 3 parts of ground to 1 and 1: each addition is a fifth of the heap.
    let hints = page
        .eval("[...document.querySelectorAll('#additions .hint')].map((h) => h.textContent).join()")
        .await?;
    assert_eq!(
        hints
            .as_str()
            .unwrap_or_default()
            .matches("20 % of the heap")
            .count(),
        2,
        "a mix said in parts"
    );
    page.tool("parts").await?;
    assert_eq!(
        page.value("#shed [name=phrase]").await?,
        "3 soil, 1 yard_compost, 1 concrete_sand",
        "it is there to be changed"
    );
    for nonsense in ["0 soil, 1 sand", "3 soil, 1 <b>gold</b>", "sand", "3"] {
        page.enter("phrase", nonsense).await?;
        assert_ne!(page.text("#shed-says").await?, "", "{nonsense}");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn ground_by_the_bucket(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("dug").await?;
    page.enter("count", "10").await?;
    page.enter("holds", "15").await?;
    page.use_tool().await?;
    // The demo's ground digs to 1.25 of its volume as it lies, so 150 L dug were 120 L.
    assert_eq!(
        kept(&page).await?["soil"],
        json!({"value": 120, "unit": "L"}),
        "ground by the bucket"
    );
    page.tool("dug").await?;
    assert_eq!(page.value("#shed [name=holds]").await?, "15", "remembered");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_pot_says_how_much_it_takes(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("fill").await?;
    for (name, value) in [
        ("shape", "round"),
        ("length", "in"),
        ("top", "11.25"),
        ("bottom", "10.25"),
        ("deep", "13.75"),
        ("count", "4"),
    ] {
        page.enter(name, value).await?;
    }
    let answer = page.text("#shed-answer").await?;
    // A pail of these inside sizes holds 20.47 L; four of them 81.9 L.
    assert!(answer.contains("81.9 L"), "{answer}");
    page.use_tool().await?;
    let settled = page.text("[data-cell=volume-2]").await?;
    assert!(
        settled.starts_with("82") || settled.starts_with("81"),
        "{settled}"
    );
    let place = kept(&page).await?["place"].clone();
    assert_eq!(place["count"], json!(4), "a pot says how much it takes");
    near(&place["volume"]["value"], 20.47, 0.01);
    page.tool("fill").await?;
    page.enter("shape", "volume").await?;
    page.enter("volume", "0").await?;
    assert_ne!(
        page.text("#shed-says").await?,
        "",
        "a pot that holds nothing"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_bale_a_wet_load_and_a_mulch(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("#additions li:nth-child(2) [data-shed=line]")
        .await?;
    for (name, value) in [
        ("count", "2"),
        ("holds", "3.8"),
        ("unit", "ft3"),
        ("expands", "2"),
        ("wet", "55"),
    ] {
        page.enter(name, value).await?;
    }
    page.use_tool().await?;
    let line = kept(&page).await?["additions"][1].clone();
    assert_eq!(
        line["amount"],
        json!({"value": 2, "unit": "bag"}),
        "a bale a wet load and a mulch"
    );
    assert_eq!(
        line["bag"],
        json!({"value": 3.8, "unit": "ft3", "expands": 2}),
        "a bale a wet load and a mulch"
    );
    assert_eq!(
        line["water_per_wet_pct"],
        json!(55),
        "a bale a wet load and a mulch"
    );
    // 2 x 3.8 ft3 x 2 = 15.2 ft3 = 430.4 L.
    let hint = page.text("#additions li:nth-child(2) .hint").await?;
    assert!(hint.contains("430 L loose"), "{hint}");
    page.tool("#additions li:nth-child(2) [data-shed=line]")
        .await?;
    page.enter("expands", "0").await?;
    assert_ne!(page.text("#shed-says").await?, "", "a bale of nothing");
    page.enter("expands", "2").await?;
    page.run("document.querySelector('#shed [name=on-top]').click()")
        .await?;
    page.use_tool().await?;
    assert_eq!(
        kept(&page).await?["additions"][1]["on_top"],
        json!(true),
        "a mulch"
    );
    let hint = page.text("#additions li:nth-child(2) .hint").await?;
    assert!(hint.contains("on top"), "{hint}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_bucket_of_it_weighed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("#additions li:nth-child(2) [data-shed=line]")
        .await?;
    for (name, value) in [("full", "9"), ("empty", "0.6"), ("bucket", "12")] {
        page.enter(name, value).await?;
    }
    page.use_tool().await?;
    let recipe = kept(&page).await?;
    // 8.4 kg in 12 L.
    assert_eq!(
        recipe["materials"][0]["loose_density_kg_m3"],
        json!(700),
        "a bucket of it weighed"
    );
    assert_eq!(
        recipe["additions"][1]["material"], recipe["materials"][0]["id"],
        "the line uses it"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_material_of_ones_own(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.copy_material("yard_compost").await?;
    let name = "Ours <b>\"&amp;</b>";
    page.enter("name", name).await?;
    page.enter("loose_density_kg_m3", "0.65").await?;
    page.enter("loose_density_kg_m3.low", "0.6").await?;
    page.enter("loose_density_kg_m3.high", "0.7").await?;
    // P2O5 1 % is 0.4364 % P, K2O 1 % is 0.8302 % K (atomic masses).
    page.enter("p2o5", "1").await?;
    page.enter("k2o", "1").await?;
    assert_eq!(
        page.value("#shed [name=total_phosphorus_pct]").await?,
        "0.4364",
        "a material of ones own"
    );
    assert_eq!(
        page.value("#shed [name=total_potassium_pct]").await?,
        "0.8301",
        "a material of ones own"
    );
    page.run("document.querySelector('#shed .use').click()")
        .await?;
    page.opened("own").await?;
    let list = page.text("#shed [data-list=own]").await?;
    assert!(list.contains(name), "as typed, not as markup: {list}");
    assert_eq!(
        page.eval("document.querySelector('#shed b')").await?,
        Value::Null,
        "no markup came of it"
    );
    let own = kept(&page).await?["materials"][0].clone();
    assert_eq!(
        own["loose_density_kg_m3"],
        json!({"low": 600, "typical": 650, "high": 700}),
        "typed in kg/L"
    );
    assert_eq!(own["name"], json!(name), "a material of ones own");
    assert_eq!(
        own["total_phosphorus_pct"],
        json!(0.4364),
        "a material of ones own"
    );
    // Used by a line it cannot be deleted.
    page.close_tool().await?;
    let id = own["id"].as_str().unwrap_or_default().to_owned();
    page.choose("#additions li:nth-child(2) [data-bind=material]", &id)
        .await?;
    page.tool("own").await?;
    page.run("document.querySelector('#shed [data-tool=delete-material]').click()")
        .await?;
    assert_ne!(page.text("#shed-says").await?, "", "it is in use");
    assert_eq!(
        kept(&page).await?["materials"][0]["id"],
        json!(id),
        "a material of ones own"
    );
    page.close_tool().await?;
    page.choose(
        "#additions li:nth-child(2) [data-bind=material]",
        "yard_compost",
    )
    .await?;
    page.tool("own").await?;
    page.run("document.querySelector('#shed [data-tool=delete-material]').click()")
        .await?;
    page.opened("own").await?;
    assert_eq!(kept(&page).await?["materials"], Value::Null, "gone");
    page.quiet().await?;
    page.close().await
}
