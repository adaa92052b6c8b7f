//! The section on the years: a slider that moves all figures and no control.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use serde_json::{Value, json};
use std::time::Duration;

const LEFT: char = '\u{e012}';
const YEAR: &str = "#seasons-body input[type=range][name=year]";

fn part(name: &str) -> String {
    format!("#seasons-body [data-part={name}]")
}

/// Waits until the ranges are those of the recipe.
async fn settled(page: &Browser) -> Played {
    let there = "#seasons-body:not([hidden]):not([data-waits])";
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(there))
        .await?;
    page.frame().await
}

/// The same of the section on water.
async fn water_settled(page: &Browser) -> Played {
    let there = "#water-body:not([hidden]):not([data-waits])";
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(there))
        .await?;
    page.frame().await
}

async fn opened(page: &Browser) -> Played {
    page.run("document.getElementById('seasons-open').click()")
        .await?;
    settled(page).await
}

/// Puts a value into a control of the section, as a hand does.
async fn put(page: &Browser, selector: &str, value: &str) -> Played {
    page.client
        .execute(
            "const f = document.querySelector(`#seasons-body ${arguments[0]}`);
             f.focus(); f.value = arguments[1];
             f.dispatchEvent(new Event('input', { bubbles: true }));
             f.dispatchEvent(new Event('change', { bubbles: true })); f.blur();",
            vec![json!(selector), json!(value)],
        )
        .await?;
    page.frame().await?;
    page.frame().await
}

/// What the figures, the drawings and their tables show.
async fn figures(page: &Browser) -> Result<Value, CmdError> {
    page.eval(
        "['#figures tbody', '#column', '#triangle', '#column-rows', '#class-blend', '#class-odds', '#changes', '#strip-density']
           .map((s) => document.querySelector(s).innerHTML)",
    )
    .await
}

/// What the hand has set and what is said of it.
async fn controls(page: &Browser) -> Result<Value, CmdError> {
    page.eval(
        "[[...document.querySelectorAll('#ground input, #barrow input, #barrow select')].map((e) => e.value),
          ['#verdict', '#notes', '#additions'].map((s) => document.querySelector(s).textContent)]",
    )
    .await
}

pub(super) async fn a_year_moves_all_figures_and_no_control(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let (today, held) = (figures(&page).await?, controls(&page).await?);
    opened(&page).await?;
    assert_eq!(figures(&page).await?, today, "open, it is today");
    page.keys(YEAR, &times(RIGHT, 5)).await?;
    page.frame().await?;
    page.frame().await?;
    let then = figures(&page).await?;
    for (at, what) in [(0, "figures"), (1, "column"), (3, "numbers of the column")] {
        assert_ne!(then[at], today[at], "{what} move");
    }
    assert_eq!(controls(&page).await?, held, "the recipe stays");
    assert_eq!(page.text("#in-year").await?, "In year 5", "it is said");
    settled(&page).await?;
    let organic = "parseFloat(document.querySelector('[data-cell=organic-2]').textContent)";
    let row =
        "parseFloat(document.querySelector('#seasons-body tbody tr:nth-child(4) td').textContent)";
    assert_eq!(
        page.number(organic).await?,
        page.number(row).await?,
        "the page and the table tell one number"
    );
    let says = page.text(&part("says")).await?;
    assert!(
        says.contains("After 5 years") && says.contains("by settling") && says.contains("To hold"),
        "{says}"
    );
    page.keys(YEAR, &times(LEFT, 5)).await?;
    page.frame().await?;
    page.frame().await?;
    assert_eq!(figures(&page).await?, today, "and all the way back");
    assert_eq!(page.text("#in-year").await?, "", "nothing is said");
    // Nothing of this is a step of the recipe.
    let undo = page
        .eval("document.getElementById('undo').disabled")
        .await?;
    assert_eq!(undo, json!(true), "there is nothing to undo");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_year_follows_the_recipe_and_ends_with_the_section(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let today = figures(&page).await?;
    opened(&page).await?;
    put(&page, "input[type=range][name=year]", "5").await?;
    settled(&page).await?;
    let then = figures(&page).await?;
    page.run(
        "const s = document.querySelector('#additions li:last-child input[type=range]');
         s.value = 600; s.dispatchEvent(new Event('input', { bubbles: true }));
         s.dispatchEvent(new Event('change', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    page.frame().await?;
    let more = figures(&page).await?;
    assert_ne!(more[0], then[0], "more compost, in year 5");
    assert_eq!(page.text("#in-year").await?, "In year 5", "still");
    // The same as when the year comes after the compost.
    put(&page, "input[type=range][name=year]", "0").await?;
    let more_today = figures(&page).await?;
    assert_ne!(more_today[0], today[0], "more compost today");
    put(&page, "input[type=range][name=year]", "5").await?;
    assert_eq!(figures(&page).await?, more, "in either order");
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    page.frame().await?;
    assert_eq!(figures(&page).await?, then, "undo leads back, in year 5");
    page.run("document.getElementById('seasons-open').click()")
        .await?;
    page.frame().await?;
    assert_eq!(figures(&page).await?, today, "folded, it is today");
    assert_eq!(page.text("#in-year").await?, "", "and says so");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn top_ups_and_warmth_move_the_curve(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let last =
        "parseFloat(document.querySelector('#seasons-body tbody tr:last-child td').textContent)";
    let bare = page.number(last).await?;
    put(&page, "[name=amount]", "10").await?;
    settled(&page).await?;
    let topped = page.number(last).await?;
    assert!(topped > bare + 0.5, "{topped} % against {bare} %");
    put(&page, "[name=every]", "2").await?;
    settled(&page).await?;
    let seldom = page.number(last).await?;
    assert!(seldom < topped && seldom > bare, "{seldom} %");
    put(&page, "[name=amount]", "").await?;
    put(&page, "input[type=range][name=mean]", "20").await?;
    settled(&page).await?;
    let warm = page.number(last).await?;
    assert!(warm < bare, "{warm} % in a warm place, {bare} % before");
    // The temperature belongs to the place, so it is kept.
    page.reload().await?;
    opened(&page).await?;
    assert_eq!(page.value("#mean").await?, "20", "it is kept");
    assert_eq!(page.number(last).await?, warm, "and decides");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn nonsense_about_years_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    put(&page, "#year", "5").await?;
    settled(&page).await?;
    let then = figures(&page).await?;
    for (field, texts) in [
        ("#year", ["-1", "1e6", "soon"]),
        ("#mean", ["99", "-300", "warm"]),
        ("#surplus", ["1e9", "-1e9", "wet"]),
        ("[name=amount]", ["-3", "1e99", "a lot"]),
        ("[name=every]", ["0", "-2", "often"]),
        ("[name=level]", ["0", "100", "rich"]),
    ] {
        let before = page.value(&format!("#seasons-body {field}")).await?;
        for text in texts {
            put(&page, field, text).await?;
            let says = page.text("#seasons-says").await?;
            assert!(!says.is_empty(), "{text:?} in {field} is told");
            if field == "#year" {
                assert_eq!(says, "A year from 0 to 20.", "{text:?}");
            }
            assert_eq!(figures(&page).await?, then, "{text:?} in {field}");
        }
        put(&page, field, &before).await?;
        assert_eq!(page.text("#seasons-says").await?, "", "{field} mended");
    }
    // A depth needs an area.
    page.choose("#seasons-body [name=unit]", "mm").await?;
    let text = page.text("#seasons-body").await?;
    assert!(!text.contains("NaN"), "{text}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn years_fit_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    put(&page, "#year", "5").await?;
    settled(&page).await?;
    for width in [320, 360, 390, 600, 760, 1000, 1280, 1920] {
        page.size(width, 844).await?;
        page.frame().await?;
        page.frame().await?;
        let over = page
            .number("document.scrollingElement.scrollWidth - innerWidth")
            .await?;
        assert!(over <= 0.0, "{width} wide: {over} too much");
        let cut = page
            .eval(
                "[...document.querySelectorAll('#seasons-body svg text')].filter((t) => {
                   const a = t.getBoundingClientRect(), b = t.ownerSVGElement.getBoundingClientRect();
                   return a.left < b.left - 6 || a.right > b.right + 6; }).map((t) => t.textContent)",
            )
            .await?;
        assert_eq!(cut, json!([]), "no text leaves its drawing, {width} wide");
    }
    page.size(390, 844).await?;
    page.frame().await?;
    let small = page
        .eval("[...document.querySelectorAll('#seasons button, #seasons select, #seasons input:not([type=range], [type=checkbox])')].filter((e) => e.offsetHeight && e.offsetHeight < 44).map((e) => e.outerHTML)")
        .await?;
    assert_eq!(small, json!([]), "targets for a thumb");
    let nameless = page
        .eval(
            "[...document.querySelectorAll('#seasons input, #seasons select, #seasons button')].filter((e) =>
               !e.getAttribute('aria-label') && !e.textContent.trim() &&
               !(e.labels?.length && [...e.labels].some((l) => l.textContent.trim()))).map((e) => e.outerHTML)",
        )
        .await?;
    assert_eq!(nameless, json!([]), "every control has a name");
    // While the year is held, the strip shows what it does.
    page.quiet().await?;
    page.close().await
}

pub(super) async fn nothing_jumps_while_years_pass(stage: Stage) -> Played {
    for (width, height) in [(1280, 800), (390, 844)] {
        let page = stage.browser(width, height).await?;
        page.open(&stage.home).await?;
        opened(&page).await?;
        let places = "[...document.querySelectorAll('#figures tr, #column, #seasons-body h3, #seasons-body svg, #seasons-body table, #care-heading')].map((e) => Math.round(e.getBoundingClientRect().top + scrollY)).join(' ')";
        let start = page.eval(places).await?;
        for year in ["1", "2", "5", "12", "20", "0"] {
            put(&page, "input[type=range][name=year]", year).await?;
            assert_eq!(page.eval(places).await?, start, "year {year}, {width} wide");
            settled(&page).await?;
            assert_eq!(page.eval(places).await?, start, "year {year}, with ranges");
        }
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn water_goes_along_with_the_year(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run("document.getElementById('water-open').click()")
        .await?;
    water_settled(&page).await?;
    opened(&page).await?;
    let curve = "document.querySelector('#water-body [data-part=curve]').innerHTML";
    let today = page.eval(curve).await?;
    put(&page, "input[type=range][name=year]", "20").await?;
    page.frame().await?;
    water_settled(&page).await?;
    assert_ne!(page.eval(curve).await?, today, "another blend");
    put(&page, "input[type=range][name=year]", "0").await?;
    page.frame().await?;
    water_settled(&page).await?;
    assert_eq!(page.eval(curve).await?, today, "that of today");
    page.quiet().await?;
    page.close().await
}
