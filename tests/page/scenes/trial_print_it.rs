//! A trial on paper and as a picture: each sheet, the report, and markup in what is typed.

use super::keep_it::until;
use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::{Recipe, to_link};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::{set_trial, trial_of};
use barrowmix::trial::plan::{Treatment, Trial};
use barrowmix::trial::records::Record;
use fantoccini::error::CmdError;
use fantoccini::wd::{PrintConfigurationBuilder, PrintSize};
use serde_json::json;

const PLAN: &str = include_str!("../../../examples/recipes/trial-plan.json");
const INVENTED: &str = include_str!("../../../examples/recipes/trial-invented.json");
const A4: [f64; 2] = [21.0, 29.7];
const LETTER: [f64; 2] = [21.59, 27.94];
/// What would break out of a text, were it taken for markup.
const MARKUP: &str = "<img src=x onerror=window.broken=1>\"'&";

fn recipe(text: &str, change: impl FnOnce(&mut Trial)) -> Recipe {
    let mut recipe = Recipe::from_json(text).expect("the recipe reads");
    let mut trial = trial_of(&recipe)
        .expect("the trial reads")
        .expect("it has one");
    change(&mut trial);
    set_trial(&mut recipe, Some(&trial));
    recipe
}

/// Opens a recipe, its section, and a part of that.
async fn open(stage: &Stage, page: &Browser, recipe: &Recipe, part: &str) -> Played {
    let link = to_link(recipe).expect("it fits into a link");
    page.client.goto("about:blank").await?;
    page.client.goto(&format!("{}#{link}", stage.home)).await?;
    page.ready().await?;
    page.run("window.printed = 0; window.print = () => { window.printed += 1; }")
        .await?;
    page.run("document.getElementById('trial-open').click()")
        .await?;
    until(
        page,
        "!!document.querySelector('#trial-body [name=trial-tab]')",
    )
    .await?;
    page.run(&format!(
        "document.querySelector('#trial-body [name=trial-tab][value={part}]').click()"
    ))
    .await?;
    until(
        page,
        &format!("!document.querySelector('#trial-body [data-panel={part}]').hidden"),
    )
    .await
}

/// Presses a button and waits until the browser was asked to print.
async fn press(page: &Browser, button: &str) -> Played {
    page.run("window.printed = 0").await?;
    page.run(&format!(
        "document.querySelector('#trial-body {button}').click()"
    ))
    .await?;
    until(page, "window.printed === 1").await
}

/// Pages of what would be printed.
async fn pages(page: &Browser, [width, height]: [f64; 2]) -> Result<usize, CmdError> {
    let size = PrintSize { width, height };
    let how = PrintConfigurationBuilder::default().size(size).build();
    let pdf = page.client.print(how.expect("paper of a size")).await?;
    if let Some(folder) = std::env::var_os("KEEP_PDF") {
        let count = page
            .eval("document.querySelectorAll('.trial-sheet').length")
            .await?;
        let name = page
            .eval("document.querySelector('.trial-sheet').className")
            .await?;
        let name = format!("{count}-{}-{width}.pdf", name.as_str().unwrap_or_default());
        let path = std::path::Path::new(&folder).join(name.replace(' ', "-"));
        std::fs::write(path, &pdf).expect("the folder is there");
    }
    let text = String::from_utf8_lossy(&pdf);
    let all = text.matches("/Type /Page").count();
    Ok(all - text.matches("/Type /Pages").count())
}

pub(super) async fn sheets_of_a_trial_fit_their_pages(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    open(&stage, &page, &recipe(PLAN, |_| ()), "layout").await?;
    // Twenty containers: labels by three in a row, the rest a page each, two where it is long.
    for (sheet, most, words) in [
        ("layout", 1, ["Photographs", "T1; seed 20260401"]),
        ("weigh", 2, ["Ground as dug", "To get"]),
        (
            "labels",
            2,
            ["T1|B1-01|1|", "Chard, Lucullus, sown 4 May 2026"],
        ),
        ("key", 1, ["What each letter stands for", "Green compost"]),
        ("record", 2, ["20 containers expected", "Fresh tops"]),
    ] {
        press(&page, &format!("[data-trial=print-sheets][value={sheet}]")).await?;
        let text = page
            .eval("document.getElementById('sheet-of-paper').textContent")
            .await?;
        let text = text.as_str().unwrap_or_default().to_owned();
        for word in words {
            assert!(text.contains(word), "{sheet}: {word} in {text}");
        }
        for paper in [A4, LETTER] {
            let count = pages(&page, paper).await?;
            assert!((1..=most).contains(&count), "{sheet}: {count} on {paper:?}");
        }
        // Whoever weighs needs no letters: only the key tells what they stand for.
        let heads = page
            .eval("[...document.querySelectorAll('#sheet-of-paper th')].map(h => h.textContent).join('|')")
            .await?;
        let heads = heads.as_str().unwrap_or_default().to_owned();
        assert_eq!(heads.contains("Letter"), sheet == "key", "{sheet}: {heads}");
        // What is hidden is on the key and the list for weighing alone.
        let tells = ["weigh", "key"].contains(&sheet);
        assert_eq!(text.contains("Green compost"), tells, "{sheet}: {text}");
    }
    // Sixteen leave no page with a footer or a label alone.
    let sixteen = recipe(PLAN, |trial| trial.treatments.truncate(4));
    open(&stage, &page, &sixteen, "layout").await?;
    for sheet in ["weigh", "labels"] {
        press(&page, &format!("[data-trial=print-sheets][value={sheet}]")).await?;
        for paper in [A4, LETTER] {
            assert_eq!(pages(&page, paper).await?, 1, "{sheet} on {paper:?}");
        }
    }
    open(&stage, &page, &recipe(PLAN, |_| ()), "layout").await?;
    press(&page, "[data-trial=print-sheets][value=record]").await?;
    let text = page
        .eval("document.getElementById('sheet-of-paper').textContent")
        .await?;
    let text = text.as_str().unwrap_or_default().to_owned();
    assert_eq!(text.matches("20260401").count(), 1, "the seed once: {text}");
    assert!(!text.contains("Trial Trial"), "{text}");
    press(&page, "[data-trial=print-sheets][value=all]").await?;
    let sheets = page
        .number("document.querySelectorAll('#sheet-of-paper .trial-sheet').length")
        .await?;
    assert_eq!(sheets, 5.0, "all of them");
    let count = pages(&page, A4).await?;
    assert!((5..=8).contains(&count), "{count} pages in all");
    page.run("document.dispatchEvent(new Event('pointerdown', {bubbles: true}))")
        .await?;
    assert_eq!(
        page.eval("[!!document.getElementById('sheet-of-paper'), document.documentElement.hasAttribute('data-paper')]")
            .await?,
        json!([false, false]),
        "then the browser prints the page"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_report_of_a_trial_is_one_page(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    open(&stage, &page, &recipe(INVENTED, |_| ()), "read").await?;
    press(&page, "[data-trial=print-report]").await?;
    let text = page
        .eval("document.getElementById('sheet-of-paper').textContent")
        .await?;
    let text = text.as_str().unwrap_or_default().to_owned();
    for word in [
        "What it does not show",
        "Every record here is invented",
        "Helped; how much is uncertain",
        "by the model",
        "You guessed",
        "seed 20260401",
        "every record",
    ] {
        assert!(text.contains(word), "{word} in {text}");
    }
    for paper in [A4, LETTER] {
        assert_eq!(pages(&page, paper).await?, 1, "on {paper:?} cm");
    }
    let link = page
        .eval("document.querySelector('#sheet-of-paper [data-part=link] a').href")
        .await?;
    let link = link.as_str().unwrap_or_default().to_owned();
    let letters = link.split('#').nth(1).unwrap_or_default();
    let back = barrowmix::recipe::from_letters(letters).expect("the link reads");
    let trial = trial_of(&back)
        .expect("the trial reads")
        .expect("it is there");
    assert_eq!(trial.records.len(), 59, "every record comes back");
    // Twelve treatments, four measures, and one container each still stand on one page.
    open(&stage, &page, &many(), "read").await?;
    press(&page, "[data-trial=print-report]").await?;
    for paper in [A4, LETTER] {
        assert_eq!(pages(&page, paper).await?, 1, "many on {paper:?} cm");
    }
    let alone = recipe(INVENTED, |trial| {
        trial.records.retain(|record| record.container < 5);
        trial.blocks = 1;
        trial.lost.clear();
    });
    open(&stage, &page, &alone, "read").await?;
    press(&page, "[data-trial=print-report]").await?;
    let text = page
        .eval("document.getElementById('sheet-of-paper').textContent")
        .await?;
    let text = text.as_str().unwrap_or_default().to_owned();
    let refused = text.matches("No verdict from one container each").count();
    assert_eq!(refused, 1, "it is said once: {text}");
    assert_eq!(pages(&page, LETTER).await?, 1, "one container each");
    page.quiet().await?;
    page.close().await
}

/// Twelve treatments in three blocks, read by four measures.
fn many() -> Recipe {
    recipe(PLAN, |trial| {
        let ids = [
            "gypsum",
            "biochar_ash",
            "perlite",
            "peat",
            "coir",
            "bark_fines",
            "leaf_mould",
            "expanded_shale",
            "pumice",
            "yard_compost",
            "concrete_sand",
        ];
        trial.treatments.truncate(1);
        trial.treatments.extend(ids.map(Treatment::of));
        trial.blocks = 3;
        let layout = trial.layout().expect("it can be set out");
        let day = Date::of(2026, 7, 1).expect("a day");
        for (at, spot) in layout.spots.iter().enumerate() {
            let by = (7 * spot.treatment + 3 * spot.block) % 5;
            for (measure, value) in [
                ("top_fresh_g", 190 + 10 * by + 4 * spot.treatment),
                ("emerged_count", 5 + by),
                ("vigour_1to5", 1 + by),
                ("height_cm", 20 + by),
            ] {
                let record = Record::of(at, day, measure, value as f64);
                trial.add(layout.spots.len(), record).expect("it goes in");
            }
        }
    })
}

pub(super) async fn a_trial_becomes_a_picture(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    open(&stage, &page, &recipe(INVENTED, |_| ()), "read").await?;
    page.run(
        "window.held = [];
         const make = URL.createObjectURL;
         URL.createObjectURL = (blob) => { window.last = blob; return make(blob); };
         HTMLAnchorElement.prototype.click = function () {
           const name = this.download;
           window.last.text().then((text) => window.held.push([name, window.last.type, text]));
         };",
    )
    .await?;
    page.run(
        "document.querySelector('#trial-body [data-panel=read] [value=\"trial.svg\"]').click()",
    )
    .await?;
    until(&page, "window.held.length === 1").await?;
    let held = page.eval("window.held[0]").await?;
    assert_eq!(held[1], json!("image/svg+xml"), "its kind");
    let name = held[0].as_str().unwrap_or_default();
    assert!(name.ends_with(".trial.svg"), "{name}");
    let text = held[2].as_str().unwrap_or_default();
    assert!(
        text.starts_with("<svg ") && text.contains("better →"),
        "{text}"
    );
    for words in [
        "What was compared",
        "What it does not show",
        "You guessed",
        "Seedlings up",
    ] {
        assert!(text.contains(words), "{words} in {text}");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn markup_on_the_sheets_stays_text(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let marked = recipe(INVENTED, |trial| {
        trial.title = Some(MARKUP.into());
        trial.crop = Some(MARKUP.into());
        trial.variety = Some(MARKUP.into());
        trial.notes = Some(MARKUP.into());
        trial.treatments[2].name = Some(MARKUP.into());
    });
    open(&stage, &page, &marked, "layout").await?;
    for sheet in ["all", "labels", "key"] {
        press(&page, &format!("[data-trial=print-sheets][value={sheet}]")).await?;
        let text = page
            .eval("document.getElementById('sheet-of-paper').textContent")
            .await?;
        let text = text.as_str().unwrap_or_default().to_owned();
        assert!(text.contains(MARKUP), "{sheet}: {text}");
    }
    page.run("document.querySelector('#trial-body [name=trial-tab][value=read]').click()")
        .await?;
    until(
        &page,
        "!document.querySelector('#trial-body [data-panel=read]').hidden",
    )
    .await?;
    press(&page, "[data-trial=print-report]").await?;
    let images = page
        .number("document.querySelectorAll('#sheet-of-paper img:not(.trial-picture)').length")
        .await?;
    assert_eq!(images, 0.0, "no image but ours");
    assert_eq!(
        page.eval("window.broken").await?,
        json!(null),
        "nothing ran"
    );
    let wide = page
        .number("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        .await?;
    assert_eq!(wide, 0.0, "nothing scrolls sideways on a phone");
    page.quiet().await?;
    page.close().await
}
