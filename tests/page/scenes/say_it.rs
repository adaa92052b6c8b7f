//! A person says what the ground is, and asks where a figure comes from.

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

pub(super) fn near(value: &Value, expected: f64, within: f64) {
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
    assert_eq!(figures.len(), 11, "nine rows, the class and the verdict");
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
