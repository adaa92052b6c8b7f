//! Before buying: what the blend should be is said, and the cheapest whole bags are found.

use super::errand_it::{opened, part, press, put};
use super::keep_it::{undo, until};
use crate::browser::{Browser, Played, Stage};
use barrowmix::errand::{Findings, Search, errand_of};
use barrowmix::recipe::{Recipe, to_letters};
use barrowmix::words::errand::find::money;

/// The recipe of the example, perhaps with something in it otherwise.
fn recipe(from: &str, to: &str) -> Recipe {
    let text = include_str!("../../../examples/recipes/loam-wish.json");
    assert!(text.contains(from), "the example has {from}");
    Recipe::from_json(&text.replace(from, to)).expect("a recipe")
}

/// What the core finds for it.
fn findings(recipe: &Recipe) -> Findings {
    let errand = errand_of(recipe).expect("an errand").expect("one");
    Search::of(recipe, &errand).expect("it can begin").finish()
}

async fn begun(stage: &Stage, page: &Browser, recipe: &Recipe) -> Played {
    page.open(&[&stage.home, "#", &to_letters(recipe)].concat())
        .await?;
    opened(page, "find").await
}

async fn looked(page: &Browser) -> Played {
    press(page, "find-look").await?;
    until(
        page,
        &format!(
            "!document.querySelector('{}').hidden",
            part("find", "found")
        ),
    )
    .await?;
    page.frame().await
}

pub(super) async fn the_cheapest_is_found_and_taken(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    let recipe = recipe("", "");
    let expected = findings(&recipe);
    begun(&stage, &page, &recipe).await?;
    looked(&page).await?;
    let cheapest = expected.cheapest.expect("there is one");
    let cost = page
        .text("#errand-body .errand-card:first-child .errand-cost")
        .await?;
    assert_eq!(cost, money(cheapest.cost, Some("EUR")), "as the core finds");
    let proof = page.text(&part("find", "proof")).await?;
    assert!(proof.contains("this is proven"), "{proof}");
    let cards = page.text(&part("find", "found")).await?;
    assert!(cards.contains("9 bags of 25 kg Concrete sand"), "{cards}");
    assert!(cards.contains("an invented price"), "{cards}");
    assert!(cards.contains("Best odds for the money"), "{cards}");
    assert!(!cards.contains("peat"), "it was refused: {cards}");

    let before = page.number("document.querySelectorAll('#additions .addition').length");
    assert!(before.await?.abs() < 0.1, "nothing is added yet");
    press(&page, "find-take").await?;
    let lots = cheapest.lots.iter().filter(|lots| **lots > 0).count() as f64;
    let now = page.number("document.querySelectorAll('#additions .addition').length");
    assert!((now.await? - lots).abs() < 0.1, "it is in the recipe");
    let class = page.shown().await?;
    assert!(class.contains("clay loam"), "{class}");
    undo(&page).await?;
    let now = page.number("document.querySelectorAll('#additions .addition').length");
    assert!(now.await?.abs() < 0.1, "and out of it");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn wishes_are_typed_and_kept(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "find").await?;
    press(&page, "find-look").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.contains("Nothing is on sale yet"), "{says}");
    // Nonsense is told, by name, and stays to be mended.
    put(&page, "[name=least-air_pct]", "plenty").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.contains("number"), "{says}");
    assert_eq!(
        page.value("#errand-body [name=least-air_pct]").await?,
        "plenty",
        "it stays"
    );
    put(&page, "[name=least-air_pct]", "120").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.contains("100"), "{says}");
    put(&page, "[name=least-air_pct]", "12").await?;
    assert_eq!(page.text("#errand-says").await?, "", "mended");
    put(&page, "[name=most-air_pct]", "10").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.contains("Air cannot be at least 12"), "{says}");
    put(&page, "[name=most-air_pct]", "").await?;
    page.run("document.querySelector('#errand-body [name=class][value=loam]').click()")
        .await?;
    put(&page, "[name=most-bulk_density_kg_m3]", "1.2").await?;
    put(&page, "[name=ground]", "to_fill").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.contains("which volume"), "{says}");
    put(&page, "[name=fill]", "50").await?;
    put(&page, "[name=ground]", "to_fill").await?;
    put(&page, "[name=odds]", "80").await?;
    page.reload().await?;
    opened(&page, "find").await?;
    for (name, value) in [
        ("least-air_pct", "12"),
        ("most-air_pct", ""),
        ("most-bulk_density_kg_m3", "1.2"),
        ("fill", "50"),
        ("ground", "to_fill"),
        ("odds", "80"),
    ] {
        let kept = page.value(&format!("#errand-body [name={name}]")).await?;
        assert_eq!(kept, value, "{name} is kept");
    }
    let ticked = page.number(
        "document.querySelectorAll('#errand-body [name=class]:checked[value=loam]').length",
    );
    assert!((ticked.await? - 1.0).abs() < 0.1, "so is the class");
    // In other units the same, stored as before.
    page.run("document.querySelector('[name=units][value=us]')?.click()")
        .await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_cannot_be_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    // A texture that no blend can have.
    let never = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""sand_pct": { "least": 60 }, "clay_pct": { "least": 60 }"#,
    );
    assert!(findings(&never).proof.none_can, "the core proves it");
    begun(&stage, &page, &never).await?;
    looked(&page).await?;
    let proof = page.text(&part("find", "proof")).await?;
    assert!(proof.contains("this is proven"), "{proof}");
    let found = page.text(&part("find", "found")).await?;
    assert!(found.contains("stands in the way"), "{found}");

    // A price that is missing is named.
    let priceless = recipe(
        r#""price": { "value": 24.5, "per": { "value": 1, "unit": "bag" } }, "#,
        "",
    );
    begun(&stage, &page, &priceless).await?;
    press(&page, "find-look").await?;
    let says = page.text("#errand-says").await?;
    assert!(says.starts_with("Perlite, price"), "{says}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_search_is_cancelled_and_the_page_lives(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    // Wishes that are no sums, with odds: the longest kind.
    let long = recipe(
        r#""classes": ["loam", "clay_loam"]"#,
        r#""air_pct": { "least": 22 }, "ph": { "most": 6.9 }, "bulk_density_kg_m3": { "most": 1150 }"#,
    );
    begun(&stage, &page, &long).await?;
    put(&page, "[name=odds]", "95").await?;
    // Pressed and cancelled within one frame: nothing goes on.
    page.run(
        "document.querySelector('#errand-body [data-errand=find-look]').click();
         document.querySelector('#errand-body [data-errand=find-cancel]').click()",
    )
    .await?;
    page.frame().await?;
    let hidden = format!(
        "document.querySelector('{}').hidden",
        part("find", "progress")
    );
    assert_eq!(page.eval(&hidden).await?, true, "no progress is told");
    let found = format!("document.querySelector('{}').hidden", part("find", "found"));
    assert_eq!(page.eval(&found).await?, true, "nothing is found");
    // While one runs, the page takes a number: the search was of what stood there before.
    press(&page, "find-look").await?;
    put(&page, "[name=least-air_pct]", "23").await?;
    until(&page, &format!("!{found}")).await?;
    page.frame().await?;
    let old = page.text(&part("find", "outdated")).await?;
    assert!(old.contains("look for it again"), "{old}");
    looked(&page).await?;
    until(
        &page,
        &format!(
            "document.querySelector('{}').textContent === ''",
            part("find", "outdated")
        ),
    )
    .await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn finding_fits_a_phone_and_keys(stage: Stage) -> Played {
    let page = stage.browser(320, 800).await?;
    let recipe = recipe("", "");
    begun(&stage, &page, &recipe).await?;
    page.keys("#errand-body [data-errand=find-look]", "\u{e007}")
        .await?;
    until(
        &page,
        &format!(
            "!document.querySelector('{}').hidden",
            part("find", "found")
        ),
    )
    .await?;
    let wide = page
        .number("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        .await?;
    assert!(wide < 1.0, "nothing is wider than the page: {wide}");
    let told = page.text("#errand-body > [data-part=told]").await?;
    assert!(told.contains("The cheapest that was found costs"), "{told}");
    page.quiet().await?;
    page.close().await
}
