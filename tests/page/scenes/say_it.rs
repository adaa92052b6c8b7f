//! A person says what there is: a jar, feel, a can, parts, buckets, a pot, a bag.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::from_letters;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};

/// The recipe that the page keeps.
pub(super) async fn kept(page: &Browser) -> Result<Value, CmdError> {
    let letters = page
        .eval("localStorage.getItem('barrowmix.recipe')")
        .await?;
    let recipe = from_letters(letters.as_str().unwrap_or_default());
    let recipe = recipe.unwrap_or_else(|error| panic!("{letters}: {error:?}"));
    Ok(serde_json::from_str(&recipe.to_json()).expect("a recipe is JSON"))
}

fn near(value: &Value, expected: f64, within: f64) {
    let number = value.as_f64().unwrap_or(f64::NAN);
    assert!(
        (number - expected).abs() <= within,
        "{value} is not {expected} within {within}"
    );
}

pub(super) async fn a_usual_soil_comes_with_its_spread(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("usual").await?;
    assert_eq!(
        page.eval("document.querySelector('#shed .use').disabled")
            .await?,
        json!(true),
        "nothing is chosen yet"
    );
    page.run("document.querySelector('#shed [value=heavy_clay]').click()")
        .await?;
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("Clay 60 (48–79) %"), "{answer}");
    page.use_tool().await?;
    // Heavy clay of the open soil collection named in src/ground/presets.csv.
    let ground = kept(&page).await?["ground"].clone();
    assert_eq!(
        ground["clay_pct"],
        json!({"low": 48, "typical": 60, "high": 79}),
        "a usual soil comes with its spread"
    );
    assert_eq!(
        page.text("#class-ground").await?,
        "clay",
        "a usual soil comes with its spread"
    );
    assert_eq!(
        page.value("input[type=text][data-bind=clay_pct]").await?,
        "60",
        "a usual soil comes with its spread"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_jar_gives_both_answers_and_the_band(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("jar").await?;
    // Stokes, 12 cm at 20 degrees: 1.2 times the 10 cm of settling_20C.csv, 44.5 s and 7.73 h.
    let times = page.text("#jar-times").await?;
    assert!(times.contains("53 s"), "{times}");
    assert!(times.contains("9 h"), "{times}");
    for (layer, height) in [("sand", "30"), ("silt", "25"), ("clay", "45")] {
        page.enter(layer, height).await?;
    }
    // Deposit densities of Lara & Pemberton 1963: 30/25/45 by height is 49.9/30.0/20.1 by mass.
    let answer = page.text("#shed-answer").await?;
    assert!(
        answer.contains("clay") && answer.contains("loam"),
        "{answer}"
    );
    let tall = page
        .number("Number(document.querySelector('#shed .layer.clay').getAttribute('height'))")
        .await?;
    assert!(tall > 30.0, "the jar is drawn: {tall}");
    page.use_tool().await?;
    let ground = kept(&page).await?["ground"].clone();
    near(&ground["sand_pct"]["typical"], (30.0 + 49.9) / 2.0, 0.11);
    near(&ground["clay_pct"]["typical"], (45.0 + 20.1) / 2.0, 0.11);
    assert!(
        ground["clay_pct"]["low"].as_f64() < Some(20.1)
            && ground["clay_pct"]["high"].as_f64() > Some(45.0),
        "the band holds both answers: {ground}"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_jar_refuses_what_cannot_be(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.tool("jar").await?;
    let cases = [
        ("30", "25", "45", "130", "sum to"),
        ("0", "0", "0", "", ""),
        ("-5", "25", "45", "", ""),
        ("lots", "25", "45", "", "not a number"),
    ];
    for (sand, silt, clay, total, said) in cases {
        for (name, value) in [
            ("sand", sand),
            ("silt", silt),
            ("clay", clay),
            ("total", total),
        ] {
            page.enter(name, value).await?;
        }
        let says = page.text("#shed-says").await?;
        assert!(!says.is_empty() && says.contains(said), "{sand}: {says}");
        assert_eq!(
            page.eval("document.querySelector('#shed .use').disabled")
                .await?,
            json!(true),
            "{sand} cannot be used"
        );
        assert_eq!(
            page.value("#shed [name=sand]").await?,
            sand,
            "what was typed stays"
        );
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn feel_asks_and_answers(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.tool("feel").await?;
    // Ball holds, ribbon forms, over 5 cm, smooth: silty clay (Thien 1979).
    let mut asked = Vec::new();
    for said in ["it holds", "yes", "over 5 cm", "very smooth"] {
        asked.push(page.text("#shed .question").await?);
        let pressed = page
            .run(&format!(
                "const b = [...document.querySelectorAll('#shed [data-list=answers] button')]
                     .filter((b) => b.textContent.toLowerCase().includes('{said}')).pop();
                 if (b) b.click(); return !!b;"
            ))
            .await?;
        assert_eq!(pressed, json!(true), "{said} after {asked:?}");
    }
    asked.dedup();
    assert_eq!(asked.len(), 4, "each answer leads on: {asked:?}");
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("silty clay"), "{answer}");
    page.run("document.querySelector('#shed [data-tool=back]').click()")
        .await?;
    assert_eq!(page.text("#shed .question").await?, asked[3], "one back");
    assert_eq!(page.text("#shed-answer").await?, "", "and no answer");
    page.run("[...document.querySelectorAll('#shed [data-list=answers] button')].forEach((b) => b.isConnected && b.textContent.toLowerCase().includes('very smooth') && b.click())")
        .await?;
    page.use_tool().await?;
    assert_eq!(
        page.text("#class-ground").await?,
        "silty clay",
        "feel asks and answers"
    );
    let clay = kept(&page).await?["ground"]["clay_pct"].clone();
    assert!(clay["low"].as_f64() < Some(40.0), "one class off: {clay}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_class_by_its_name(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("class").await?;
    page.enter("class", "clay_loam").await?;
    page.use_tool().await?;
    // Midpoint of clay loam, Cosby et al. 1984.
    let ground = kept(&page).await?["ground"].clone();
    assert_eq!(
        ground["sand_pct"]["typical"],
        json!(32),
        "a class by its name"
    );
    assert_eq!(
        ground["clay_pct"]["typical"],
        json!(34),
        "a class by its name"
    );
    assert_eq!(
        page.text("#class-ground").await?,
        "clay loam",
        "a class by its name"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_can_weighs_the_ground(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("can").await?;
    for (name, value) in [
        ("width", "7.3"),
        ("height", "9.8"),
        ("empty", "0"),
        ("moist", "641"),
        ("dry", "512"),
    ] {
        page.enter(name, value).await?;
    }
    page.use_tool().await?;
    // 512 g in 410.17 mL: 1248 kg/m3; 129 g of water in 512: 25.2 %.
    let ground = kept(&page).await?["ground"].clone();
    near(&ground["bulk_density_kg_m3"]["typical"], 1248.0, 0.6);
    near(&ground["water_per_dry_pct"], 25.2, 0.06);
    assert_eq!(
        page.value("input[type=text][data-bind=bulk_density_kg_m3]")
            .await?,
        "1.248",
        "a can weighs the ground"
    );
    page.tool("can").await?;
    for (name, value) in [
        ("width", "7.3"),
        ("height", "9.8"),
        ("empty", "700"),
        ("moist", "641"),
        ("dry", "512"),
    ] {
        page.enter(name, value).await?;
    }
    assert_ne!(page.text("#shed-says").await?, "", "lighter than its can");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_triangle_takes_presses_and_keys(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let press = |x: f64, y: f64| {
        format!(
            "(() => {{ const t = document.getElementById('triangle'), m = t.getScreenCTM();
             const p = new DOMPoint({x}, {y}).matrixTransform(m);
             t.dispatchEvent(new MouseEvent('click', {{ bubbles: true, clientX: p.x, clientY: p.y }})); }})()"
        )
    };
    // The drawing's triangle: top at (230, 24), side 376. Half way up its middle line clay is 50.
    let height = 376.0 * 3.0_f64.sqrt() / 2.0;
    page.run(&press(230.0, 24.0 + height / 2.0)).await?;
    page.frame().await?;
    let fraction = |page: &Browser, name: &str| {
        let selector = format!("input[type=text][data-bind={name}]");
        let client = page.client.clone();
        async move {
            let script = format!("return document.querySelector('{selector}').value");
            client.execute(&script, vec![]).await
        }
    };
    assert_eq!(
        fraction(&page, "clay_pct").await?,
        json!("50"),
        "the triangle takes presses and keys"
    );
    assert_eq!(
        fraction(&page, "sand_pct").await?,
        json!("25"),
        "the triangle takes presses and keys"
    );
    assert_eq!(
        fraction(&page, "silt_pct").await?,
        json!("25"),
        "the triangle takes presses and keys"
    );
    page.run(&press(10.0, 30.0)).await?;
    page.frame().await?;
    assert_eq!(
        fraction(&page, "clay_pct").await?,
        json!("50"),
        "a press far outside is none"
    );
    let up = char::from(Key::Up);
    page.keys("#triangle", &times(up, 4)).await?;
    assert_eq!(
        fraction(&page, "clay_pct").await?,
        json!("54"),
        "the triangle takes presses and keys"
    );
    page.keys("#triangle", &times(RIGHT, 3)).await?;
    assert_eq!(
        fraction(&page, "clay_pct").await?,
        json!("54"),
        "clay stays"
    );
    assert_eq!(
        fraction(&page, "silt_pct").await?,
        json!("26"),
        "the triangle takes presses and keys"
    );
    assert_eq!(
        fraction(&page, "sand_pct").await?,
        json!("20"),
        "the triangle takes presses and keys"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn ranges_are_typed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("ranges").await?;
    for (name, value) in [
        ("clay_pct.low", "48"),
        ("clay_pct", "52"),
        ("clay_pct.high", "60"),
        ("organic_matter_pct.low", ""),
        ("organic_matter_pct", ""),
        ("organic_matter_pct.high", ""),
        ("ph", "7.2"),
    ] {
        page.enter(name, value).await?;
    }
    page.use_tool().await?;
    let ground = kept(&page).await?["ground"].clone();
    assert_eq!(
        ground["clay_pct"],
        json!({"low": 48, "typical": 52, "high": 60}),
        "ranges are typed"
    );
    assert_eq!(ground["organic_matter_pct"], Value::Null, "not known");
    assert_eq!(ground["ph"], json!(7.2), "ranges are typed");
    page.tool("ranges").await?;
    page.enter("clay_pct.low", "55").await?;
    let says = page.text("#shed-says").await?;
    assert!(says.contains("Clay"), "low above typical is told: {says}");
    page.quiet().await?;
    page.close().await
}

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
    page.tool("own").await?;
    page.enter("of", "yard_compost").await?;
    page.run("document.querySelector('#shed [data-tool=copy-material]').click()")
        .await?;
    page.opened("material").await?;
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
    page.run("document.querySelector('#shed [data-tool=close]').click()")
        .await?;
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
    page.run("document.querySelector('#shed [data-tool=close]').click()")
        .await?;
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

pub(super) async fn every_figure_opens_its_source(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let figures = page
        .eval("[...document.querySelectorAll('[data-shed=why]')].map((b) => b.dataset.of)")
        .await?;
    let figures: Vec<&str> = figures
        .as_array()
        .map(|list| list.iter().filter_map(Value::as_str).collect())
        .unwrap_or_default();
    assert_eq!(figures.len(), 10, "eight rows, the class and the verdict");
    for of in figures {
        page.tool(&format!("[data-shed=why][data-of={of}]")).await?;
        for part in [
            "[data-part=made]",
            "[data-list=inputs]",
            "[data-part=rests]",
        ] {
            let text = page.text(&format!("#shed {part}")).await?;
            assert!(text.len() > 10, "{of}: {part} says {text}");
            assert!(!text.contains("NaN"), "{of}: {text}");
        }
        assert_ne!(page.text("#shed-title").await?, "", "{of}");
        let escape = char::from(Key::Escape).to_string();
        page.find("#shed").await?.send_keys(&escape).await?;
        let back = page.eval("document.activeElement.dataset.of").await?;
        assert_eq!(back, json!(of), "Escape leads back to the figure");
    }
    page.quiet().await?;
    page.close().await
}
