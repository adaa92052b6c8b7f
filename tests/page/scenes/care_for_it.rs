//! Cautions and the verdict on what is no use: seen, answered, followed.

use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use serde_json::{Value, json};

/// The cautions that stand open: how grave, about what, and whether they ask.
async fn open(page: &Browser) -> Result<Value, CmdError> {
    page.eval("[...document.querySelectorAll('#cares li')].map((i) => `${i.className} ${i.dataset.care}${i.querySelector('strong').textContent.endsWith('?') ? '?' : ''}`)")
        .await
}

pub(super) async fn grave_cautions_stand_open(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    assert_eq!(
        open(&page).await?,
        json!([
            "stop buried_lines",
            "warn lead?",
            "warn wet_clay",
            "warn herbicide",
            "warn silica"
        ]),
        "the demo is a bed of clay with sand and compost"
    );
    let folded = "[...document.querySelectorAll('.care .stop, .care .warn')].filter((i) => i.closest('details') || !i.offsetHeight).length";
    assert_eq!(page.number(folded).await?, 0.0, "none is folded");
    let notes =
        "[...document.querySelectorAll('.care .note')].filter((i) => i.closest('details')).length";
    assert!(page.number(notes).await? >= 3.0, "notes unfold");
    page.run("document.querySelector('#care-fold summary').click()")
        .await?;
    assert!(
        page.text("#care-notes").await?.contains("See a doctor"),
        "and say what to do"
    );
    assert!(
        page.text("#care-line").await?.contains("buried lines"),
        "beside the verdict"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_question_is_answered_by_the_place(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run("document.querySelectorAll('details').forEach((d) => d.open = true)")
        .await?;
    page.choose("#place-near", "old_building").await?;
    let now = open(&page).await?.to_string();
    assert!(now.contains("\"warn lead\""), "it is told: {now}");
    page.choose("#place-near", "slope").await?;
    let now = open(&page).await?.to_string();
    assert!(now.contains("\"warn lead?\""), "it is asked again: {now}");
    assert!(now.contains("run_off"), "and a slope has its own: {now}");
    page.choose("#place-kind", "container").await?;
    let now = open(&page).await?.to_string();
    assert!(
        now.contains("\"stop no_hole?\""),
        "a pot is asked about: {now}"
    );
    assert!(!now.contains("buried"), "and not dug: {now}");
    page.choose("#place-drains", "true").await?;
    page.choose("#place-on", "deck").await?;
    let now = open(&page).await?.to_string();
    assert!(!now.contains("no_hole"), "water leaves: {now}");
    assert!(
        now.contains("\"warn deck_load\""),
        "a deck has its load: {now}"
    );
    page.reload().await?;
    assert_eq!(page.value("#place-on").await?, "deck", "it is kept");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_line_names_its_cautions_and_leads_to_them(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.choose(
        "#additions li:first-child select[data-bind=material]",
        "wood_ash",
    )
    .await?;
    let line = "#additions li:first-child .cares";
    let told = page.text(line).await?;
    assert!(told.contains("burns") && told.contains("metals"), "{told}");
    assert!(
        open(&page).await?.to_string().contains("over_rate"),
        "200 kg are too much"
    );
    page.run(&format!("document.querySelector('{line}').click()"))
        .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("document.activeElement.id").await?,
        json!("care-heading"),
        "the focus goes along"
    );
    assert_eq!(
        page.eval("document.getElementById('link-says').hidden")
            .await?,
        json!(true),
        "no recipe is looked for in that address"
    );
    assert!(
        page.text("#cares [data-care=caustic]")
            .await?
            .contains("Wood ash"),
        "and names what raised it"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_does_nothing_is_said_to(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.choose(
        "#additions li:first-child select[data-bind=material]",
        "greensand",
    )
    .await?;
    page.type_into("#additions li:first-child input[type=text]", "0.7")
        .await?;
    let verdict = page.text("#verdict").await?;
    assert!(
        verdict.contains("Nothing that you could measure comes of greensand at this rate."),
        "{verdict}"
    );
    page.quiet().await?;
    page.close().await
}
