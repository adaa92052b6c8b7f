//! What was measured is told to the page, and the ranges narrow.

use super::keep_it::undo;
use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::{Measurement, Recipe, Sample, from_letters};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::json;

const BLEND: &str = "[data-shed=measure][data-of=blend]";
const GROUND: &str = "[data-shed=measure][data-of=ground]";

/// The recipe as the browser keeps it.
async fn kept(page: &Browser) -> Result<Recipe, CmdError> {
    let letters = page
        .eval("localStorage.getItem('barrowmix.recipe')")
        .await?;
    Ok(from_letters(letters.as_str().unwrap_or_default()).expect("it keeps a recipe"))
}

async fn measured(
    page: &Browser,
    sample: Sample,
    of: Measurement,
) -> Result<Option<f64>, CmdError> {
    let recipe = kept(page).await?;
    Ok(recipe.measured(sample, of).map(|figure| figure.typical))
}

/// A cell of the table of what it does: the width of its range.
async fn width(page: &Browser, row: usize, column: usize) -> Result<f64, CmdError> {
    page.number(&format!(
        "(([low, high]) => high - low)(document.querySelectorAll('.compared tbody tr')[{row}].querySelectorAll('td')[{column}].textContent.match(/\\((.*)–(.*)\\)/).slice(1).map(Number))"
    ))
    .await
}

pub(super) async fn measuring_by_keyboard_narrows_the_figures(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    // Without it the ground's density is an estimate, which has much to gain.
    page.type_into("#density", "").await?;
    let range = page.text("[data-cell=density-3]").await?;
    page.keys(BLEND, &Key::Enter.to_string()).await?;
    page.opened("measure").await?;
    assert_eq!(page.text("#shed-title").await?, "Measure it", "its name");
    assert_eq!(
        page.eval("document.querySelector('[data-part=does]').hidden")
            .await?,
        json!(true),
        "nothing is compared yet"
    );
    let tab = Key::Tab.to_string();
    let typed = format!("1000{tab}{tab}1130");
    page.keys("[name='blend.room']", &typed).await?;
    assert_eq!(
        page.text("[data-list=blend] [data-way=bulk_density_kg_m3] .comes")
            .await?,
        "1.13 kg/L (1.06–1.20)",
        "what it comes to, and within what"
    );
    let how = page.text("[data-list=blend] .errs").await?;
    assert_eq!(how, "Counted as right within 6 %.", "its usual error");
    let says = page.text("#shed-answer").await?;
    assert!(says.contains("of 1024 draws agree"), "{says}");
    for row in 0..2 {
        let (before, after) = (width(&page, row, 0).await?, width(&page, row, 1).await?);
        assert!(after < before, "row {row}: {before} narrows to {after}");
    }
    // The next ways are opened by the keyboard too.
    page.keys(
        "[data-list=blend] [data-way=ring_mm_h] summary",
        &Key::Enter.to_string(),
    )
    .await?;
    page.keys("[name='blend.gone']", "60").await?;
    page.keys("[name='blend.gone']", &Key::Enter.to_string())
        .await?;
    assert_eq!(
        page.eval("document.getElementById('shed').open").await?,
        json!(false),
        "Enter uses it"
    );
    assert_eq!(
        measured(&page, Sample::Blend, Measurement::BulkDensity).await?,
        Some(1130.0),
        "as measured"
    );
    assert_eq!(
        measured(&page, Sample::Blend, Measurement::Ring).await?,
        Some(25.0),
        "25 mm in an hour"
    );
    assert_ne!(
        page.text("[data-cell=density-3]").await?,
        range,
        "the page's range"
    );
    assert_eq!(
        page.eval("document.activeElement.dataset.of").await?,
        json!("blend"),
        "the focus is where it began"
    );
    // Both were one step.
    undo(&page).await?;
    assert_eq!(
        page.text("[data-cell=density-3]").await?,
        range,
        "one step back"
    );
    assert_eq!(
        kept(&page).await?.measured,
        Default::default(),
        "nothing measured"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn measuring_again_shows_what_was_measured(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool(GROUND).await?;
    assert_eq!(
        page.value("[name=sample]").await?,
        "ground",
        "of the ground"
    );
    assert_eq!(
        page.eval("document.querySelector('[data-list=ground] [data-way=drained_pct]')")
            .await?,
        json!(null),
        "a ground as it lies is in no pot"
    );
    for (name, value) in [
        ("ground.fell", "30"),
        ("ground.minutes", "45"),
        ("ground.moist", "132"),
        ("ground.dried", "100"),
    ] {
        page.enter(name, value).await?;
    }
    page.use_tool().await?;
    let before = kept(&page).await?;
    assert_eq!(
        measured(&page, Sample::Ground, Measurement::Hole).await?,
        Some(40.0),
        "mm in an hour"
    );
    assert_eq!(
        measured(&page, Sample::Ground, Measurement::WaterPerDry).await?,
        Some(32.0),
        "of the dry mass"
    );
    page.tool(BLEND).await?;
    assert_eq!(
        page.value("[name=sample]").await?,
        "blend",
        "asked for the blend"
    );
    assert_eq!(
        page.value("[name='ground.fell']").await?,
        "40",
        "what falls"
    );
    assert_eq!(
        page.value("[name='ground.minutes']").await?,
        "60",
        "in an hour"
    );
    page.use_tool().await?;
    assert_eq!(kept(&page).await?, before, "used without a change");
    page.tool(GROUND).await?;
    page.enter("ground.fell", "").await?;
    page.enter("ground.minutes", "").await?;
    page.use_tool().await?;
    assert_eq!(
        measured(&page, Sample::Ground, Measurement::Hole).await?,
        None,
        "an empty box clears"
    );
    page.tool(GROUND).await?;
    page.run("[...document.querySelectorAll('[data-tool=clear-measured]')].find((b) => b.offsetParent).click()")
        .await?;
    assert_eq!(
        page.value("[name='ground.water_per_dry_pct']").await?,
        "",
        "emptied"
    );
    assert_eq!(
        kept(&page).await?.measured,
        Default::default(),
        "and taken away"
    );
    page.close_tool().await?;
    undo(&page).await?;
    assert_eq!(
        measured(&page, Sample::Ground, Measurement::WaterPerDry).await?,
        Some(32.0),
        "which can be undone"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn measuring_nonsense_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool(BLEND).await?;
    let disabled = "document.querySelector('#shed .use').disabled";
    for (fields, at, says) in [
        (&[("blend.room", "five")][..], "blend.room", "The can holds"),
        (
            &[("blend.room", "1000"), ("blend.dry", "9000")],
            "blend.dry",
            "lies between",
        ),
        (
            &[("blend.room", "0"), ("blend.dry", "900")],
            "blend.room",
            "nothing",
        ),
        (
            &[
                ("blend.room", "1000"),
                ("blend.dry", "900"),
                ("blend.bulk_density_kg_m3", "1.2"),
            ],
            "blend.bulk_density_kg_m3",
            "not both",
        ),
        (
            &[("blend.ran", "3000"), ("blend.mix", "2")],
            "blend.ran",
            "More ran out",
        ),
        (
            &[("blend.fell", "-2"), ("blend.minutes", "10")],
            "blend.fell",
            "It fell by",
        ),
        (&[("blend.gone", "0")], "blend.gone", "Second time"),
        (
            &[("blend.moist", "90"), ("blend.dried", "100")],
            "blend.dried",
            "cannot weigh more",
        ),
    ] {
        for (name, value) in fields {
            page.enter(name, value).await?;
        }
        let told = page.text("#shed-says").await?;
        assert!(told.contains(says), "{at}: {told:?}");
        assert_eq!(
            page.eval(disabled).await?,
            json!(true),
            "{at}: not to be used"
        );
        let marked = page
            .eval("document.querySelector('#shed [aria-invalid]').name")
            .await?;
        assert_eq!(marked, json!(at), "the box is marked");
        let seen = page
            .eval("!!document.querySelector('#shed [aria-invalid]').offsetParent")
            .await?;
        assert_eq!(seen, json!(true), "{at} stands open");
        for (name, _) in fields {
            page.enter(name, "").await?;
        }
    }
    page.enter("blend.room", "1000").await?;
    assert!(
        page.text("#shed-answer").await?.contains("Still needed"),
        "half of it"
    );
    page.enter("blend.room", "").await?;
    // It belongs to the sample that is not shown.
    page.enter("blend.moist", "x").await?;
    page.enter("sample", "ground").await?;
    let told = page.text("#shed-says").await?;
    assert!(told.starts_with("Of the blend: "), "{told:?}");
    page.enter("blend.moist", "").await?;
    // Possible, but not of this blend.
    page.enter("blend.bulk_density_kg_m3", "0.3").await?;
    let says = page.text("#shed-answer").await?;
    assert!(says.contains("disagree about the blend"), "{says}");
    assert!(says.contains("Fewer than 100 draws agree"), "{says}");
    assert_eq!(
        page.eval(disabled).await?,
        json!(false),
        "one may know better"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn measuring_a_pot_needs_its_height(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.tool(BLEND).await?;
    page.run("document.querySelector('[data-list=blend] [data-way=drained_pct]').open = true")
        .await?;
    let bed = page.find("[data-list=blend] [data-part=bed]").await?;
    assert!(bed.is_displayed().await?, "the demo goes into a bed");
    page.enter("blend.drained_pct", "18").await?;
    let says = page.text("#shed-answer").await?;
    assert!(says.contains("to compare it"), "{says}");
    page.close_tool().await?;
    page.choose("#place-kind", "").await?;
    page.run("document.getElementById('height').closest('details').open = true")
        .await?;
    page.type_into("#height", "").await?;
    page.tool(BLEND).await?;
    for (name, value) in [("blend.ran", "360"), ("blend.mix", "2")] {
        page.enter(name, value).await?;
    }
    let comes = "[data-list=blend] [data-way=drained_pct] .comes";
    assert_eq!(page.text(comes).await?, "18 % (15–21)", "of the volume");
    page.enter("blend.height", "20").await?;
    let says = page.text("#shed-answer").await?;
    assert!(says.contains("draws agree"), "{says}");
    assert!(!says.contains("could not"), "{says}");
    let over = page
        .number("document.getElementById('shed').scrollWidth - innerWidth")
        .await?;
    assert!(over <= 0.0, "{over} too wide for a phone");
    page.use_tool().await?;
    assert_eq!(page.value("#height").await?, "20", "under where it goes");
    assert_eq!(page.value("#place-kind").await?, "container", "a pot");
    assert_eq!(
        measured(&page, Sample::Blend, Measurement::Drained).await?,
        Some(18.0),
        "as measured"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn measuring_in_us_units(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run("document.querySelector('input[value=us]').click()")
        .await?;
    page.tool(BLEND).await?;
    for (name, unit) in [("room", "fl_oz"), ("dry", "oz"), ("fell", "in")] {
        let select = format!("[name='blend.{name}-unit']");
        assert_eq!(page.value(&select).await?, unit, "{name}");
    }
    for (name, value) in [
        ("blend.room", "32"),
        ("blend.dry", "38"),
        ("blend.fell", "1"),
        ("blend.minutes", "30"),
        ("blend.gone", "60"),
    ] {
        page.enter(name, value).await?;
    }
    let comes = |way: &str| format!("[data-list=blend] [data-way={way}] .comes");
    // 38 oz over 32 fl oz: 28.349523125 g and 29.5735295625 mL to one; the unit has seven digits.
    assert_eq!(
        page.text(&comes("bulk_density_kg_m3")).await?,
        "71 lb/ft³ (67–75)",
        "lb/ft³"
    );
    assert_eq!(
        page.text(&comes("hole_mm_h")).await?,
        "2.0 in/h (0.56–7.2)",
        "in/h"
    );
    assert_eq!(
        page.text(&comes("ring_mm_h")).await?,
        "1.0 in/h (0.33–3.0)",
        "an inch"
    );
    let table = page.text(".compared tbody").await?;
    assert!(
        table.contains("lb/ft³") && !table.contains("kg/L"),
        "{table}"
    );
    page.use_tool().await?;
    let density = measured(&page, Sample::Blend, Measurement::BulkDensity).await?;
    let expected = 38.0 * 28.349_523_125 / (32.0 * 29.573_529_562_5) * 1000.0;
    assert!(
        density.is_some_and(|found| (found - expected).abs() < 1e-3),
        "{density:?}"
    );
    assert_eq!(
        measured(&page, Sample::Blend, Measurement::Hole).await?,
        Some(50.8),
        "two inches in an hour"
    );
    let before = kept(&page).await?;
    page.tool(BLEND).await?;
    assert_eq!(page.value("[name='blend.fell']").await?, "2", "in inches");
    assert_eq!(
        page.value("[name='blend.gone']").await?,
        "60",
        "an inch again"
    );
    page.use_tool().await?;
    assert_eq!(kept(&page).await?, before, "no digit moved");
    page.quiet().await?;
    page.close().await
}
