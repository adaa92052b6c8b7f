//! The section on chemistry: a line while it is folded, four parts once it is open.

use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::{Recipe, to_letters};
use fantoccini::Locator;
use fantoccini::key::Key;
use serde_json::json;
use std::time::Duration;

const BODY: &str = "#chemistry-body";
const FIRST: &str = "#additions li:first-child input[type=range]";

fn part(name: &str) -> String {
    format!("{BODY} [data-part={name}]")
}

/// Waits until the ranges are those of the recipe.
async fn settled(page: &Browser) -> Played {
    let there = "#chemistry-body:not([hidden]):not([data-waits])";
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(there))
        .await?;
    page.frame().await
}

async fn opened(page: &Browser) -> Played {
    page.run("document.getElementById('chemistry-open').click()")
        .await?;
    settled(page).await
}

async fn slide(page: &Browser, selector: &str, value: f64) -> Played {
    page.run(&format!(
        "const s = document.querySelector('{selector}'); s.value = {value};
         s.dispatchEvent(new Event('input', {{ bubbles: true }}));"
    ))
    .await?;
    page.frame().await
}

/// A sentence of the section, all its parts.
async fn says(page: &Browser, name: &str) -> Result<String, fantoccini::error::CmdError> {
    let mut text = String::new();
    for at in ["a", "b", "c"] {
        text += &page.text(&part(&format!("{name}-{at}"))).await?;
    }
    Ok(text)
}

pub(super) async fn chemistry_has_a_line_while_folded(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let line = page.text("#chem-line").await?;
    assert!(!line.contains("gypsum") && !line.is_empty(), "{line}");
    let below = "Math.round(document.getElementById('care-heading').getBoundingClientRect().top - document.getElementById('chemistry-heading').getBoundingClientRect().top)";
    let at = page.eval(below).await?;
    page.choose(
        "#additions li:first-child select[data-bind=material]",
        "gypsum",
    )
    .await?;
    let line = page.text("#chem-line").await?;
    assert!(
        line.starts_with("Look at: ") && line.contains("gypsum with nothing to do"),
        "{line}"
    );
    assert_eq!(page.eval(below).await?, at, "its room was kept");
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    assert!(!page.text("#chem-line").await?.contains("gypsum"), "undone");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn chemistry_opens_in_place(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let open = page.eval("document.getElementById('shed').open").await?;
    assert_eq!(open, json!(false), "it opens in place");
    let ph = says(&page, "ph").await?;
    assert!(ph.starts_with("pH ") && ph.contains(" to "), "{ph}");
    let sodium = says(&page, "sodium").await?;
    assert!(sodium.contains("a jar test settles it"), "{sodium}");
    assert!(says(&page, "salt").await?.contains("seedling"), "salts");
    let rows =
        page.number("document.querySelectorAll('#chemistry-body [data-part=feeds] tr').length");
    assert!(rows.await? >= 3.0, "the ground and each addition");
    // Folded and opened again by keys; water beside it goes on.
    page.run("document.getElementById('water-open').click()")
        .await?;
    page.frame().await?;
    let enter = char::from(Key::Enter).to_string();
    page.keys("#chemistry-open", &enter).await?;
    let hidden = page.eval("document.getElementById('chemistry-body').hidden");
    assert_eq!(hidden.await?, json!(true), "folded");
    page.keys("#chemistry-open", &enter).await?;
    settled(&page).await?;
    let rows = page.number("document.querySelectorAll('#chemistry-body > .chem').length");
    assert_eq!(rows.await?, 1.0, "built once");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn chemistry_follows_a_slider(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    page.run("document.getElementById('water-open').click()")
        .await?;
    settled(&page).await?;
    let compost = "#additions li:last-child input[type=range]";
    let (salt, range) = (
        page.text(&part("felt-1")).await?,
        page.text(&part("felt-2")).await?,
    );
    let air = page.text("#water-body [data-part=air-1]").await?;
    slide(&page, compost, 1500.0).await?;
    assert_ne!(page.text(&part("felt-1")).await?, salt, "within the frame");
    assert_ne!(
        page.text("#water-body [data-part=air-1]").await?,
        air,
        "and the open water with it"
    );
    settled(&page).await?;
    assert_ne!(page.text(&part("felt-2")).await?, range, "then the range");
    // A press that touches nothing writes nothing.
    page.run(
        "window.seen = 0;
         new MutationObserver((list) => window.seen += list.length).observe(document.getElementById('chemistry-body'), { subtree: true, childList: true, attributes: true, characterData: true });
         document.querySelector('h1').click();",
    )
    .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("window.seen").await?,
        json!(0),
        "nothing is written"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn chemistry_takes_a_crop_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    assert!(
        says(&page, "crop").await?.contains("Choose a crop"),
        "none yet"
    );
    page.keys("#chemistry-body [name=crop]", "lett").await?;
    page.keys(
        "#chemistry-body [name=crop]",
        &char::from(Key::Tab).to_string(),
    )
    .await?;
    settled(&page).await?;
    let lettuce = says(&page, "crop").await?;
    assert!(lettuce.starts_with("Lettuce:"), "{lettuce}");
    page.reload().await?;
    opened(&page).await?;
    let kept = page.value("#chemistry-body [name=crop]").await?;
    assert_eq!(kept, "lettuce", "it is in the recipe");
    page.choose("#chemistry-body [name=crop]", "").await?;
    settled(&page).await?;
    assert!(
        says(&page, "crop").await?.contains("Choose a crop"),
        "taken back"
    );
    // Words of one's own stay.
    let recipe = Recipe::from_json(
        r#"{"barrowmix":1,"ground":{"sand_pct":20,"silt_pct":30,"clay_pct":50},
            "soil":{"value":40,"unit":"L"},"additions":[],"place":{"crop":"mizuna"}}"#,
    )
    .expect("a recipe without fault");
    page.open(&format!("{}#{}", stage.home, to_letters(&recipe)))
        .await?;
    page.reload().await?;
    opened(&page).await?;
    let says = says(&page, "crop").await?;
    assert!(says.contains("No numbers for “mizuna”"), "{says}");
    let kept = page.value("#chemistry-body [name=crop]").await?;
    assert_eq!(kept, "mizuna", "as it was written");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn chemistry_takes_a_target_and_tells_nonsense(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let target = "#chemistry-body [name=target]";
    page.type_into(target, "7.8").await?;
    settled(&page).await?;
    let told = page.text(&part("target")).await?;
    assert!(told.contains("ground limestone"), "{told}");
    page.type_into(target, "5.5").await?;
    settled(&page).await?;
    let sour = page.text(&part("target")).await?;
    assert!(sour.contains("sulfur"), "{sour}");
    for nonsense in ["sour", "0", "-4", "14", "6,5", "NaN", "1e9"] {
        page.type_into(target, nonsense).await?;
        assert!(
            !page.text("#chemistry-says").await?.is_empty(),
            "{nonsense} is told"
        );
        assert_eq!(page.value(target).await?, nonsense, "and stays as typed");
        let invalid = format!("document.querySelector('{target}').getAttribute('aria-invalid')");
        assert_eq!(page.eval(&invalid).await?, json!("true"), "and is marked");
    }
    page.type_into(target, "6.5").await?;
    assert_eq!(page.text("#chemistry-says").await?, "", "mended");
    page.type_into(target, "").await?;
    settled(&page).await?;
    let asks = page.text(&part("target")).await?;
    assert!(asks.contains("Type a pH"), "{asks}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn nothing_jumps_while_chemistry_follows(stage: Stage) -> Played {
    for (width, height) in [(1280, 800), (390, 844)] {
        let page = stage.browser(width, height).await?;
        page.open(&stage.home).await?;
        opened(&page).await?;
        let places = "[...document.querySelectorAll('#chemistry-body h3, #chemistry-body table')].map((e) => Math.round(e.getBoundingClientRect().top - document.getElementById('chemistry-heading').getBoundingClientRect().top)).join(' ')";
        let start = page.eval(places).await?;
        for (selector, values) in [
            (FIRST, [0.0, 400.0, 1500.0, 2500.0]),
            (
                "#additions li:last-child input[type=range]",
                [0.0, 200.0, 800.0, 2000.0],
            ),
            (
                "input[type=range][data-bind=clay_pct]",
                [0.0, 12.0, 45.0, 100.0],
            ),
        ] {
            for value in values {
                slide(&page, selector, value).await?;
                let at = format!("{selector} at {value}, {width} wide");
                assert_eq!(page.eval(places).await?, start, "{at}");
                settled(&page).await?;
                assert_eq!(page.eval(places).await?, start, "{at}, with ranges");
            }
        }
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn chemistry_fits_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    page.type_into("#chemistry-body [name=target]", "6.0")
        .await?;
    for width in [320, 360, 390, 600, 760, 1000, 1180, 1280, 1920] {
        page.size(width, 844).await?;
        page.frame().await?;
        let over = page
            .number("document.scrollingElement.scrollWidth - innerWidth")
            .await?;
        assert!(over <= 0.0, "{width} wide: {over} too much");
    }
    page.size(390, 844).await?;
    page.frame().await?;
    let small = page
        .eval("[...document.querySelectorAll('#chemistry-body button, #chemistry-body select, #chemistry-body input, #chemistry-open')].filter((e) => e.offsetHeight && e.offsetHeight < 44).map((e) => e.outerHTML)")
        .await?;
    assert_eq!(small, json!([]), "targets for a thumb");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn chemistry_has_names_sources_and_a_dark_look(stage: Stage) -> Played {
    let page = stage
        .browser_with(
            1280,
            800,
            &[
                "--force-prefers-color-scheme=dark",
                "--blink-settings=preferredColorScheme=0",
            ],
        )
        .await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    // Light letters on dark ground: their sums of red, green and blue.
    let bright = |of: &str, what: &str| {
        format!(
            "getComputedStyle(document.querySelector('{of}')).{what}.match(/\\d+/g).slice(0, 3).reduce((a, b) => +a + +b)"
        )
    };
    assert_eq!(
        page.eval("matchMedia('(prefers-color-scheme: dark)').matches")
            .await?,
        json!(true),
        "the browser asks for it"
    );
    let paper = page.number(&bright("html", "backgroundColor")).await?;
    for of in [
        ".chem-says",
        ".chem .within",
        ".chem .figures tbody td",
        ".chem .hint",
    ] {
        let ink = page.number(&bright(of, "color")).await?;
        assert!(ink > paper + 200.0, "{of}: {ink} on {paper}");
    }
    let nameless = page
        .eval(
            "[...document.querySelectorAll('#chemistry-body input, #chemistry-body select, #chemistry-body button')].filter((e) =>
               !(e.labels?.length && [...e.labels].some((l) => l.textContent.trim())) &&
               !(e.tagName === 'BUTTON' && e.textContent.trim())).map((e) => e.outerHTML)",
        )
        .await?;
    assert_eq!(nameless, json!([]), "every control has a name");
    let ids = page
        .eval("[...document.querySelectorAll('[id]')].map((e) => e.id).filter((id, at, all) => all.indexOf(id) !== at)")
        .await?;
    assert_eq!(ids, json!([]), "each id once");
    for of in ["ph", "salts", "sodium", "nitrogen"] {
        page.tool(&format!("#chemistry-body [data-of={of}]"))
            .await?;
        let made = page.text("#shed [data-part=made]").await?;
        assert!(made.len() > 40, "{of}: {made}");
        page.close_tool().await?;
    }
    for tool in ["crumbs", "report", "dose"] {
        page.tool(&format!("#chemistry-body [data-shed={tool}]"))
            .await?;
        page.close_tool().await?;
    }
    page.quiet().await?;
    page.close().await
}
