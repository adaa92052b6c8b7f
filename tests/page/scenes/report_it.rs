//! A soil report is read, vinegar and crumbs in water are asked, and the ground knows more.

use super::keep_it::undo;
use crate::browser::{Browser, Played, Stage};
use barrowmix::figure::Figure;
use barrowmix::ground::Trait;
use barrowmix::recipe::{Recipe, from_letters};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::json;

/// The recipe as the browser keeps it.
async fn kept(page: &Browser) -> Result<Recipe, CmdError> {
    let letters = page
        .eval("localStorage.getItem('barrowmix.recipe')")
        .await?;
    Ok(from_letters(letters.as_str().unwrap_or_default()).expect("it keeps a recipe"))
}

async fn figure(page: &Browser, of: Trait) -> Result<Option<Figure>, CmdError> {
    Ok(kept(page).await?.ground.get(of))
}

/// Presses one of the drawn choices.
async fn draw(page: &Browser, name: &str, value: &str) -> Played {
    page.run(&format!(
        "document.querySelector(\"#shed [name='{name}'][value='{value}']\").click()"
    ))
    .await?;
    page.frame().await
}

async fn says(page: &Browser, what: &str) -> Played {
    let told = page.text("#shed-answer").await?;
    assert!(told.contains(what), "{what:?} is told: {told}");
    Ok(())
}

pub(super) async fn a_report_in_ppm_is_read(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#crumb", "0.6").await?;
    let before = kept(&page).await?;
    page.tool("report").await?;
    assert_eq!(
        page.text("#shed-title").await?,
        "Read a soil report",
        "its name"
    );
    assert_eq!(
        page.text("#shed-answer").await?,
        "",
        "nothing is told of nothing"
    );
    for (name, value) in [
        ("ph", "6.4"),
        ("cec", "26"),
        ("ca", "3600"),
        ("mg", "450"),
        ("k", "200"),
        ("na", "46"),
        ("organic", "3.1"),
        ("ec", "0.4"),
        ("ec-by", "5"),
        ("p", "95"),
        ("wanted", "7"),
    ] {
        page.enter(name, value).await?;
    }
    page.enter("organic-by", "loss").await?;
    says(
        &page,
        "No sign that gypsum would loosen this clay (sodium 0.77 %",
    )
    .await?;
    says(&page, "crumbs in a jar of rain water settle it").await?;
    says(&page, "Phosphorus 95 ppm is past 70 ppm").await?;
    says(&page, "Ground lime to bring the top 20 cm to pH 7").await?;
    says(&page, "Will be written: pH 6.4").await?;
    page.use_tool().await?;
    let after = kept(&page).await?;
    for (of, value) in [
        (Trait::Ph, 6.4),
        (Trait::Cec, 26.0),
        (Trait::CalciumShare, 69.1),
        (Trait::MagnesiumShare, 14.24),
        (Trait::SodiumShare, 0.7696),
        (Trait::OrganicMatter, 3.1),
        (Trait::Ec1To5, 0.4),
    ] {
        let typical = after.ground.get(of).expect("it is written").typical;
        assert!(
            (typical - value).abs() <= 1e-3 * value,
            "{}: {typical}",
            of.name()
        );
    }
    for of in [
        Trait::Sand,
        Trait::Clay,
        Trait::BulkDensity,
        Trait::Carbonate,
    ] {
        assert_eq!(
            after.ground.get(of),
            before.ground.get(of),
            "{} was not filled in",
            of.name()
        );
    }
    assert_eq!(page.value("#organic").await?, "3.1", "the page shows it");
    // Another salt takes the place of the first.
    page.tool("report").await?;
    assert_eq!(
        page.value("#shed [name=ca]").await?,
        "3600",
        "what was typed stays"
    );
    page.enter("ec-by", "paste").await?;
    page.use_tool().await?;
    assert_eq!(figure(&page, Trait::Ec1To5).await?, None, "only one stands");
    assert!(
        figure(&page, Trait::EcSaturatedPaste).await?.is_some(),
        "the paste's"
    );
    undo(&page).await?;
    undo(&page).await?;
    assert_eq!(kept(&page).await?.ground, before.ground, "two steps back");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_report_that_does_not_sum_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("report").await?;
    page.enter("unit", "share").await?;
    assert_eq!(
        page.text("#shed [data-part=cation-unit]").await?,
        "%",
        "the unit follows"
    );
    for (name, value) in [
        ("ca", "68"),
        ("mg", "28"),
        ("k", "3"),
        ("na", "2"),
        ("h", "9"),
    ] {
        page.enter(name, value).await?;
    }
    says(&page, "The shares come to 110 %").await?;
    assert_eq!(
        page.eval("document.querySelector('#shed .use').disabled")
            .await?,
        json!(true),
        "there is nothing to use"
    );
    page.enter("mg", "18").await?;
    let told = page.text("#shed-answer").await?;
    assert!(!told.contains("110"), "mended: {told}");
    // Pounds on an acre, typed as ppm.
    page.enter("unit", "ppm").await?;
    for (name, value) in [
        ("cec", "20"),
        ("ca", "6000"),
        ("mg", "900"),
        ("k", "300"),
        ("na", "50"),
        ("h", ""),
    ] {
        page.enter(name, value).await?;
    }
    says(&page, "are they in lb/acre?").await?;
    page.enter("unit", "pounds").await?;
    let told = page.text("#shed-answer").await?;
    assert!(!told.contains("lb/acre?"), "the unit settles it: {told}");
    page.enter("ec", "450").await?;
    assert_eq!(
        page.eval("document.querySelector('#shed [name=ec]').getAttribute('aria-invalid')")
            .await?,
        json!("true"),
        "450 dS/m is no soil"
    );
    page.enter("ec", "50").await?;
    says(&page, "did the report say µS/cm?").await?;
    page.enter("ec-unit", "us").await?;
    let told = page.text("#shed-answer").await?;
    assert!(!told.contains("did the report"), "{told}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn vinegar_tells_of_free_lime(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("report").await?;
    page.enter("ph", "7.8").await?;
    page.enter("wanted", "6.5").await?;
    says(&page, "Ask vinegar before you buy sulfur").await?;
    draw(&page, "fizz", "weak").await?;
    says(&page, "No sulfur: the free lime").await?;
    says(&page, "free lime 1 (0.5–2) %").await?;
    // What was drawn stays for another look.
    page.close_tool().await?;
    page.tool("report").await?;
    assert_eq!(
        page.eval("document.querySelector('#shed [name=fizz]:checked').value")
            .await?,
        json!("weak"),
        "as it was left"
    );
    page.use_tool().await?;
    assert_eq!(
        figure(&page, Trait::Carbonate).await?,
        Some(Figure::between(0.5, 1.0, 2.0)),
        "with its range"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn crumbs_in_water_tell_of_sodium(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("crumbs").await?;
    let hidden = "document.querySelector('#shed [data-part=worked]').hidden";
    assert_eq!(page.eval(hidden).await?, json!(true), "not asked yet");
    draw(&page, "natural-2h", "0").await?;
    draw(&page, "natural-20h", "0").await?;
    assert_eq!(page.eval(hidden).await?, json!(false), "now worked wet");
    says(&page, "Clear after 20 hours").await?;
    draw(&page, "worked-2h", "0").await?;
    draw(&page, "worked-20h", "1").await?;
    says(&page, "1 of 16: it holds together").await?;
    says(&page, "No sign that gypsum would loosen it").await?;
    draw(&page, "natural-2h", "2").await?;
    draw(&page, "natural-20h", "2").await?;
    says(&page, "12 of 16: it goes milky by itself").await?;
    says(&page, "Will be written: sodium 9 % (5–15) of the CEC").await?;
    page.use_tool().await?;
    assert_eq!(
        figure(&page, Trait::SodiumShare).await?,
        Some(Figure::between(5.0, 9.0, 15.0)),
        "as the glass says"
    );
    // A report knows more than a glass.
    page.tool("report").await?;
    page.enter("unit", "share").await?;
    page.enter("na", "1.5").await?;
    page.use_tool().await?;
    page.tool("crumbs").await?;
    says(&page, "which stays").await?;
    assert_eq!(
        page.eval("document.querySelector('#shed .use').disabled")
            .await?,
        json!(true),
        "the laboratory's number stays"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_report_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#crumb", "0.6").await?;
    page.keys("[data-shed=report]", &Key::Enter.to_string())
        .await?;
    page.opened("report").await?;
    let tab = Key::Tab.to_string();
    // pH, its way, the buffer's pH.
    page.keys("#shed [name=ph]", &format!("5.9{tab}{tab}6.5"))
        .await?;
    assert_eq!(
        page.value("#shed [name=buffer-ph]").await?,
        "6.5",
        "in order"
    );
    // The drawings are one stop, and arrows choose among them.
    let right = Key::Right.to_string();
    page.keys("#shed [name=fizz]:checked", &right).await?;
    assert_eq!(
        page.eval("document.querySelector('#shed [name=fizz]:checked').value")
            .await?,
        json!("none"),
        "round to the first"
    );
    page.keys("#shed [name=cec]", "18").await?;
    page.keys("#shed [name=cec]", &Key::Enter.to_string())
        .await?;
    assert_eq!(
        page.eval("document.getElementById('shed').open").await?,
        json!(false),
        "Enter uses it"
    );
    assert_eq!(
        figure(&page, Trait::Ph).await?,
        Some(Figure::exact(5.9)),
        "as typed"
    );
    assert_eq!(
        figure(&page, Trait::Carbonate).await?,
        Some(Figure::between(0.0, 0.0, 0.3)),
        "it does not fizz"
    );
    assert_eq!(
        page.eval("document.activeElement.dataset.shed").await?,
        json!("report"),
        "the focus is where it began"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn nonsense_in_a_report_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#crumb", "0.6").await?;
    let before = kept(&page).await?;
    page.tool("report").await?;
    for (name, value) in [
        ("ph", "15"),
        ("ph", "seven"),
        ("ph", "-1"),
        ("buffer-ph", "99"),
        ("cec", "1e9"),
        ("na", "NaN"),
        ("organic", "101"),
        ("ec", "-0.1"),
        ("carbonate", "lots"),
        ("p", "<b>1</b>"),
        ("sar", "1/0"),
        ("wanted", "20"),
    ] {
        page.enter(name, value).await?;
        let what = format!("{name} {value}");
        assert_eq!(
            page.eval(&format!(
                "document.querySelector(\"#shed [name='{name}']\").getAttribute('aria-invalid')"
            ))
            .await?,
            json!("true"),
            "{what} is marked"
        );
        assert_ne!(page.text("#shed-says").await?, "", "{what} is told");
        assert_eq!(
            page.eval("document.querySelector('#shed .use').disabled")
                .await?,
            json!(true),
            "{what} is not used"
        );
        page.enter(name, "").await?;
        assert_eq!(page.text("#shed-says").await?, "", "{what} is mended");
    }
    for (name, value, told) in [
        ("ph", "0", "hardly found in any soil"),
        ("ph", "14", "hardly found in any soil"),
        ("ph", "6.2", "Only pH is given"),
    ] {
        page.enter(name, value).await?;
        says(&page, told).await?;
    }
    page.enter("ph", "").await?;
    page.enter("cec", "0").await?;
    says(&page, "hardly found in any soil").await?;
    page.enter("cec", "").await?;
    page.enter("unit", "share").await?;
    page.enter("na", "100").await?;
    says(&page, "is called sodic").await?;
    let told = page.text("#shed-answer").await?;
    assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
    page.close_tool().await?;
    assert_eq!(kept(&page).await?, before, "nothing was written");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_report_fits_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    for tool in ["report", "crumbs"] {
        page.tool(tool).await?;
        let over = page
            .number("(d => d.scrollWidth - d.clientWidth)(document.getElementById('shed'))")
            .await?;
        assert!(over <= 0.0, "{tool} is {over} px too wide");
        let unnamed = page
            .eval("[...document.querySelectorAll('#shed input, #shed select')].filter(f => !f.getAttribute('aria-label') && !f.closest('label')).length")
            .await?;
        assert_eq!(unnamed, json!(0), "{tool}: every field has a name");
        page.close_tool().await?;
    }
    page.quiet().await?;
    page.close().await
}
