//! A person breaks it: nonsense, faults, broken links, blocked storage.

use super::{RIGHT, times};
use crate::browser::{Played, Stage};
use fantoccini::key::Key;
use serde_json::json;

pub(super) async fn nonsense_is_told_and_kept(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    let amount = "#additions li:first-child input[type=text]";
    let amount_says = "#additions li:first-child .says";
    for (field, says) in [
        ("#sand", "#sand-says"),
        ("#organic", "#organic-says"),
        ("#density", "#density-says"),
        ("#soil", "#soil-says"),
        (amount, amount_says),
    ] {
        for typed in [
            "abc", "1,5", "-3", "1e308", "NaN", "Infinity", "1e999", "<b>x</b>", "2.5.1",
        ] {
            page.paste_into(field, typed).await?;
            assert!(
                !page.text(says).await?.is_empty(),
                "{typed} in {field} is told"
            );
            assert_eq!(
                page.value(field).await?,
                typed,
                "what was typed in {field} is kept"
            );
            assert_eq!(
                page.shown().await?,
                shown,
                "the last good outcome stays, {typed} in {field}"
            );
        }
        // The same key by key: the good numbers on the way count, the last text stays.
        page.type_into(field, "12x").await?;
        assert!(!page.text(says).await?.is_empty(), "12x in {field} is told");
        assert_eq!(page.value(field).await?, "12x", "and kept");
        let good = if field == "#density" { "1.3" } else { "10" };
        page.type_into(field, good).await?;
        assert!(page.text(says).await?.is_empty(), "mended: {field}");
        page.run("localStorage.clear()").await?;
        page.client.goto("about:blank").await?;
        page.open(&stage.home).await?;
    }
    // The three fractions and amounts are needed; the rest falls back to an estimate.
    page.type_into("#sand", "").await?;
    assert!(
        !page.text("#sand-says").await?.is_empty(),
        "an empty fraction is told"
    );
    page.type_into("#organic", "").await?;
    assert!(
        page.text("#organic-says").await?.is_empty(),
        "an empty organic matter is estimated"
    );
    assert!(
        page.text("#notes").await?.contains("Organic matter"),
        "and said to be"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn faults_of_the_whole_recipe_are_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    page.choose("#additions li:first-child select[data-bind=unit]", "%v")
        .await?;
    page.type_into("#additions li:first-child input[type=text]", "120")
        .await?;
    assert!(
        page.text("#additions li:first-child .says")
            .await?
            .contains("100"),
        "too large a share is told beside it"
    );
    assert_eq!(
        page.eval("document.getElementById('stale').hidden").await?,
        json!(false),
        "the outcome is said to be the last good one"
    );
    assert!(!page.shown().await?.is_empty(), "an outcome is still there");
    page.type_into("#additions li:first-child input[type=text]", "10")
        .await?;
    assert!(
        page.text("#additions li:first-child .says")
            .await?
            .is_empty(),
        "mended"
    );
    assert_eq!(
        page.eval("document.getElementById('stale').hidden").await?,
        json!(true),
        "and fresh again"
    );
    page.type_into("#density", "2.2").await?;
    page.type_into("#organic", "80").await?;
    assert!(
        page.text("#density-says").await?.contains("kg/m3"),
        "a density that cannot be is told"
    );
    page.type_into("#organic", "2.6").await?;
    page.type_into("#density", "1.28").await?;
    // Nothing at all to mix.
    page.type_into("#soil", "0").await?;
    for _ in 0..2 {
        page.keys("#additions li:first-child [data-do=remove]", " ")
            .await?;
    }
    assert!(
        !page.text("#soil-says").await?.is_empty(),
        "everything at zero is told"
    );
    assert_ne!(shown, "", "there was something to lose");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn broken_links_are_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.keys("input[type=range][data-bind=crumb]", &times(RIGHT, 2))
        .await?;
    let kept = page.shown().await?;
    let link = page.eval("location.hash").await?;
    let link = link.as_str().unwrap_or_default();
    let cut = &link[..link.len() - 9];
    for bad in [cut, "#1", "#2abc", "#%00%ff", "#1AAAA", "#nonsense"] {
        page.client.goto("about:blank").await?;
        page.open(&format!("{}{bad}", stage.home)).await?;
        assert_eq!(
            page.eval("document.getElementById('link-says').hidden")
                .await?,
            json!(false),
            "{bad} is told"
        );
        assert_eq!(page.shown().await?, kept, "and what was kept is there");
    }
    page.type_into("#clay", "50").await?;
    assert_eq!(
        page.eval("document.getElementById('link-says').hidden")
            .await?,
        json!(true),
        "gone once something is changed"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_to_be_mended_outlives_other_edits(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let first = "#additions li:first-child input[type=text]";
    let says = "#additions li:first-child .says";
    page.paste_into(first, "abc").await?;
    page.keys("[data-do=add]", &Key::Enter.to_string()).await?;
    assert_eq!(
        page.value(first).await?,
        "abc",
        "kept when a material is added"
    );
    page.choose("#additions li:nth-child(2) select[data-bind=unit]", "kg")
        .await?;
    page.choose(
        "#additions li:first-child select[data-bind=material]",
        "perlite",
    )
    .await?;
    assert_eq!(
        page.value(first).await?,
        "abc",
        "kept when units and materials change"
    );
    assert!(!page.text(says).await?.is_empty(), "and still told");
    page.keys(
        "#additions li:first-child [data-do=down]",
        &Key::Enter.to_string(),
    )
    .await?;
    let second = "#additions li:nth-child(2) input[type=text]";
    assert_eq!(page.value(second).await?, "abc", "it moves with its line");
    page.paste_into(second, "5").await?;
    assert!(
        page.text("#additions li:nth-child(2) .says")
            .await?
            .is_empty(),
        "a good number ends the message"
    );
    // Two boxes share a line: mending one leaves the other's message.
    page.paste_into("#depth", "abc").await?;
    page.paste_into("#soil", "3").await?;
    assert_eq!(page.value("#depth").await?, "abc", "the depth is kept");
    assert!(!page.text("#soil-says").await?.is_empty(), "and still told");
    page.paste_into("#depth", "25").await?;
    assert!(
        page.text("#soil-says").await?.is_empty(),
        "until it is mended"
    );
    // A density out of bounds in one unit is judged anew in the other.
    page.paste_into("#density", "80").await?;
    assert!(
        !page.text("#density-says").await?.is_empty(),
        "80 kg/L cannot be"
    );
    page.run("document.querySelector('input[value=us]').click()")
        .await?;
    page.frame().await?;
    assert!(
        page.text("#density-says").await?.is_empty(),
        "80 lb/ft3 can"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn units_are_not_taken_from_an_old_outcome(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.choose("#additions li:first-child select[data-bind=unit]", "%v")
        .await?;
    page.paste_into("#additions li:first-child input[type=text]", "101")
        .await?;
    page.paste_into("#soil", "10").await?;
    page.choose("select[data-bind=soil-unit]", "L").await?;
    assert_eq!(
        page.value("#soil").await?,
        "2000",
        "10 m2 by 20 cm, whatever the additions say"
    );
    page.choose("#additions li:nth-child(2) select[data-bind=unit]", "kg")
        .await?;
    assert_eq!(
        page.value("#additions li:nth-child(2) input[type=text]")
            .await?,
        "150",
        "a number that cannot be converted stays"
    );
    assert_eq!(
        page.text("#additions li:nth-child(2) .hint").await?,
        "",
        "and nothing old is said of it"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_refused_copy_is_told_and_breaks_nothing(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run(
        "Object.defineProperty(navigator, 'clipboard', { value: { writeText: () => Promise.reject(new Error('no')) } });
         document.querySelector('[data-do=copy-link]').click();",
    )
    .await?;
    page.frame().await?;
    assert!(
        page.text("#said").await?.contains("did not allow"),
        "it is said that the browser refused"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn lives_without_storage(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    // As in a sandboxed frame, where storage throws.
    page.run(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('blocked'); } });
         document.querySelector('input[value=us]').click();",
    )
    .await?;
    page.frame().await?;
    assert!(
        page.text("[data-cell=density-2]").await?.contains("lb/ft³"),
        "the choice counts all the same"
    );
    page.quiet().await?;
    page.close().await
}
