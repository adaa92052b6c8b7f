//! The doubt: ranges, odds, the cloud, what would sharpen a figure.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::words::{changes_text, class_odds_text};
use serde_json::json;

fn demo() -> (Recipe, Outcome) {
    let demo = include_str!("../../../examples/recipes/willowbank.json");
    let recipe = Recipe::from_json(demo).expect("the demo has no fault");
    let outcome = Outcome::of(&recipe).expect("the demo can be mixed");
    (recipe, outcome)
}

async fn dots(page: &Browser) -> Result<f64, fantoccini::error::CmdError> {
    page.number("document.querySelector('.cloud').getAttribute('d').split('M').length - 1")
        .await
}

pub(super) async fn doubt_stands_beside_the_figures(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let (_, outcome) = demo();
    let odds = page.text("#class-odds").await?;
    assert_eq!(odds, class_odds_text(&outcome), "odds of the class");
    let changes = page.text("#changes").await?;
    assert_eq!(changes, changes_text(&outcome), "odds of a change");
    assert_eq!(
        dots(&page).await?,
        1024.0,
        "a dot for each draw, in one path"
    );
    let marks = page
        .eval("[...document.querySelectorAll('#column .range')].filter((r) => r.getAttribute('d')).length")
        .await?;
    assert_eq!(marks, json!(5), "a range on each bar");
    // The outline holds the mark of the blend and nine in ten of the dots.
    let held = page
        .number(
            "(() => { const t = document.getElementById('triangle'); \
             const held = document.querySelector('.held'); \
             const at = (x, y) => { const p = t.createSVGPoint(); p.x = x; p.y = y; return held.isPointInFill(p); }; \
             const dots = document.querySelector('.cloud').getAttribute('d').split('M').slice(1) \
             .map((d) => d.replace('h0', '').split(' ').map((n) => n / 10)); \
             return dots.filter(([x, y]) => at(x, y)).length / dots.length; })()",
        )
        .await?;
    // The dots stand in tenths of a unit, and the outline is a polygon of 48 corners.
    assert!((held - 0.9).abs() < 0.02, "the outline holds {held}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_cloud_follows_a_slider(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let path = "document.querySelector('.cloud').getAttribute('d')";
    let outline = "document.querySelector('.held').getAttribute('d')";
    let (cloud, held) = (page.eval(path).await?, page.eval(outline).await?);
    let range = page.text("[data-cell=density-3]").await?;
    page.keys(
        "#additions li:first-child input[type=range]",
        &times(RIGHT, 20),
    )
    .await?;
    assert_ne!(page.eval(path).await?, cloud, "the cloud moved");
    assert_ne!(page.eval(outline).await?, held, "and its outline");
    assert_ne!(
        page.text("[data-cell=density-3]").await?,
        range,
        "and the range of the density"
    );
    assert_eq!(dots(&page).await?, 1024.0, "with as many dots");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_range_moves_along_with_its_slider(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let given = page.text("#ground-ranges").await?;
    assert!(given.contains("clay 47–57 %"), "{given}");
    page.keys(
        "#ground input[type=range][data-bind=clay_pct]",
        &times(RIGHT, 3),
    )
    .await?;
    let given = page.text("#ground-ranges").await?;
    assert!(given.contains("clay 50–60 %"), "{given}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_page_of_doubt_reads_and_leads_back(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    page.run("document.querySelector('a[href=\"sure.html\"]').click()")
        .await?;
    let there = "document.querySelector('main.reading h1') !== null";
    for _ in 0..100 {
        if page.eval(there).await? == json!(true) {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    let words = page
        .number("document.body.innerText.split(/\\s+/).length")
        .await?;
    assert!(words > 600.0, "it says what it has to: {words} words");
    let keys = page.eval("document.body.innerText.includes('{{')").await?;
    assert_eq!(keys, json!(false), "every word is in place");
    let over = page
        .number("document.scrollingElement.scrollWidth - innerWidth")
        .await?;
    assert!(over <= 0.0, "{over} too wide for a phone");
    page.run("document.querySelector('main a').click()").await?;
    page.ready().await?;
    page.close().await
}
