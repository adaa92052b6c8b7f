//! The page by eyes, hands and ears of many kinds: the acceptance list of WCAG 2.2 AA, on the page
//! with everything folded, unfolded, and every section open.

use super::reach::{READS, Reader, STANDS};
use crate::browser::{Browser, Played, Stage};
use serde_json::json;

/// Twice the browser's own size of text, as its settings have it.
const LARGE: &[&str] = &["--blink-settings=defaultFontSize=32"];
/// What each is asked in every view.
type Questions = &'static [&'static str];

/// Asks the same of the page as it opens, unfolded, and with all sections in all their parts.
async fn everywhere(reader: &mut Reader<'_>, questions: Questions) -> Played {
    reader.ask("as it opens", questions).await?;
    reader.unfold().await?;
    reader.ask("unfolded", questions).await?;
    reader.fill().await?;
    reader.unfold().await?;
    reader.ask("all sections", questions).await?;
    let mut at = 0;
    while let Some(tab) = reader.turn(at).await? {
        reader.ask(tab, questions).await?;
        at += 1;
    }
    Ok(())
}

pub(super) async fn reach_all_of_it_by_tab(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    reader.walk("as it opens").await?;
    reader.unfold().await?;
    let places = reader.walk("unfolded").await?;
    assert!(places.len() > 80, "{} stops", places.len());
    reader.walk_back("unfolded", places.len() / 2).await?;
    // Inputs, results, plots, tables.
    let groups = page
        .eval(
            "['#ground', '#barrow', '.words', '#triangle', '#water', '#care-fold'].map((s) => document.querySelector(s))
               .map((e, i, all) => !i || !!(all[i - 1].compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING))",
        )
        .await?;
    let in_order = groups
        .as_array()
        .is_some_and(|all| all.iter().all(|is| is == &json!(true)));
    assert!(in_order, "inputs, results, plots and tables: {groups}");
    reader.fill().await?;
    reader.unfold().await?;
    let places = reader.walk("all sections").await?;
    assert!(places.len() > 300, "{} stops", places.len());
    let mut at = 0;
    while let Some(tab) = reader.turn(at).await? {
        reader.walk(tab).await?;
        at += 1;
    }
    // Back from the end, past bars that stick.
    reader.walk_back("all sections", 60).await?;
    // On a phone the strip of a held slider hides no stop.
    page.size(390, 844).await?;
    page.frame().await?;
    reader.walk("on a phone").await?;
    reader.done();
    page.quiet().await?;
    page.close().await
}

pub(super) async fn reach_a_name_for_everything(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let language = page
        .eval("document.documentElement.lang + ' ' + (document.title.length > 3)")
        .await?;
    assert_eq!(language, json!("en true"), "the page says its language");
    let mut reader = Reader::of(&page).await?;
    reader.names("as it opens").await?;
    everywhere_named(&mut reader).await?;
    reader.done();
    page.close().await
}

async fn everywhere_named(reader: &mut Reader<'_>) -> Played {
    reader.ask("as it opens", READS).await?;
    reader.fill().await?;
    reader.unfold().await?;
    reader.ask("all sections", READS).await?;
    reader.names("all sections").await?;
    let mut at = 0;
    while let Some(tab) = reader.turn(at).await? {
        reader.ask(tab, READS).await?;
        reader.names(tab).await?;
        at += 1;
    }
    Ok(())
}

pub(super) async fn reach_320_pixels(stage: Stage) -> Played {
    let page = stage.browser(320, 640).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    everywhere(&mut reader, STANDS).await?;
    reader.space().await?;
    reader.ask("spaced", STANDS).await?;
    page.size(1280, 800).await?;
    page.frame().await?;
    reader.ask("spaced and wide", STANDS).await?;
    reader.done();
    page.close().await
}

pub(super) async fn reach_text_twice_as_large(stage: Stage) -> Played {
    let page = stage.browser_with(1280, 1024, LARGE).await?;
    page.open(&stage.home).await?;
    let size = page
        .number("parseFloat(getComputedStyle(document.body).fontSize)")
        .await?;
    assert!(size >= 32.0, "the text is twice as large: {size}");
    let mut reader = Reader::of(&page).await?;
    everywhere(&mut reader, STANDS).await?;
    reader.done();
    page.close().await
}

pub(super) async fn reach_text_in_its_own_space(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    reader.space().await?;
    everywhere(&mut reader, STANDS).await?;
    reader.done();
    page.close().await
}

pub(super) async fn reach_colours_of_the_readers_own(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    let wishes = [
        ("forced-colors", "active"),
        ("prefers-reduced-motion", "reduce"),
    ];
    reader.wishes(&wishes).await?;
    let active = page
        .eval("matchMedia('(forced-colors: active)').matches")
        .await?;
    assert_eq!(active, json!(true), "the colours are the reader's");
    everywhere(&mut reader, &["forced", "moves"]).await?;
    page.tool("jar").await?;
    for layer in ["sand", "silt", "clay"] {
        page.enter(layer, "30").await?;
    }
    reader.ask("jar", &["forced", "moves"]).await?;
    reader.done();
    page.close().await
}

pub(super) async fn reach_boxes_that_are_told_nonsense(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    reader.unfold().await?;
    reader.refuses("main").await?;
    reader.fill().await?;
    reader.unfold().await?;
    for section in ["water", "chemistry", "seasons", "trial"] {
        reader.refuses(&format!("#{section}-body")).await?;
    }
    let mut at = 0;
    while let Some(tab) = reader.turn(at).await? {
        if tab == "find" || tab == "sweep" {
            reader.refuses(&format!("[data-panel={tab}]")).await?;
        }
        at += 1;
    }
    reader.done();
    page.quiet().await?;
    page.close().await
}

/// Drags a slider across some values, as quickly as frames come, and waits until all is told.
async fn dragged(
    page: &Browser,
    slider: &str,
    values: &str,
) -> Result<Vec<String>, fantoccini::error::CmdError> {
    // What was told before is not of this.
    tokio::time::sleep(std::time::Duration::from_millis(1200)).await;
    let script = "const [slider, values, done] = arguments;
        const field = document.querySelector(slider);
        reach.listen();
        const tell = (kind) => field.dispatchEvent(new Event(kind, { bubbles: true }));
        const step = () => {
          if (!values.length) { tell('change'); setTimeout(() => done(reach.told()), 2500); return; }
          field.value = values.shift(); tell('input'); requestAnimationFrame(step);
        };
        step();";
    let values: serde_json::Value = serde_json::from_str(values).expect("numbers");
    let told = page
        .client
        .execute_async(script, vec![json!(slider), values])
        .await?;
    let told = told.as_array().cloned().unwrap_or_default();
    Ok(told
        .iter()
        .filter_map(|text| text.as_str().map(str::to_owned))
        .collect())
}

pub(super) async fn reach_ears_with_one_sentence(stage: Stage) -> Played {
    const CLAY: &str = "input[type=range][data-bind=clay_pct]";
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let reader = Reader::of(&page).await?;
    let told = dragged(&page, CLAY, "[50, 45, 40, 35, 30, 25, 20, 15, 10]").await?;
    assert_eq!(told.len(), 1, "a drag is one sentence: {told:?}");
    let told = dragged(&page, CLAY, "[10]").await?;
    assert!(told.is_empty(), "what did not change is not told: {told:?}");
    reader.fill().await?;
    for (at, values) in ["[20, 30, 40, 50, 60, 70]", "[60, 50, 40, 30, 20, 12]"]
        .iter()
        .enumerate()
    {
        let told = dragged(&page, CLAY, values).await?;
        assert_eq!(
            told.len(),
            1,
            "with all sections open it is one as well: {told:?}"
        );
        reader.turn(at).await?;
    }
    let swept = "document.querySelector('#errand-body > [data-part=told]').textContent !== ''";
    super::keep_it::until(&page, swept).await?;
    // A section's own slider speaks for the section, and once.
    for (slider, values) in [
        (
            "[data-panel=sweep] input[type=range][name=at-0]",
            "[20, 40, 60, 90, 120]",
        ),
        (
            "#seasons-body input[type=range][name=year]",
            "[1, 2, 4, 6, 9, 12]",
        ),
        (
            "#seasons-body input[type=range][name=mean]",
            "[12, 14, 18, 22, 25]",
        ),
    ] {
        let told = dragged(&page, slider, values).await?;
        assert_eq!(told.len(), 1, "{slider} is told once: {told:?}");
    }
    page.quiet().await?;
    page.close().await
}
