//! The section on texture in other systems.

use crate::browser::{Browser, Played, Stage};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use barrowmix::texture::{Placed, System};
use barrowmix::words::{class_name, conversion_text, percent, system_class_name};
use fantoccini::Locator;
use fantoccini::key::Key;
use serde_json::json;
use std::time::Duration;

const BODY: &str = "#systems-body";
const LIST: &str = "#systems-which";

fn part(name: &str) -> String {
    format!("{BODY} [data-part={name}]")
}

/// Waits until the ranges are those of the recipe.
async fn settled(page: &Browser) -> Played {
    let there = "#systems-body:not([hidden]):not([data-waits])";
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(there))
        .await?;
    page.frame().await
}

/// What the core says of the demo's blend.
fn demo() -> Outcome {
    let demo = include_str!("../../../examples/recipes/willowbank.json");
    let recipe = Recipe::from_json(demo).expect("the demo has no fault");
    Outcome::of(&recipe).expect("it can be mixed")
}

fn blend(outcome: &Outcome, system: System) -> Placed {
    let texture = outcome.texture.expect("the demo has a texture");
    let fractions = texture.fractions_pct.map(|figure| figure.typical);
    Placed::of(fractions, system).expect("it is a texture")
}

/// The blend of the demo as the core has it stands in the table.
async fn shows(page: &Browser, system: System) -> Played {
    let outcome = demo();
    let blend = blend(&outcome, system);
    let class = page.text(&part("class-1")).await?;
    assert_eq!(class, system_class_name(blend.class), "{}", system.id());
    let usda = outcome.texture.map(|texture| class_name(texture.class));
    let text = page.text(&part("usda-1")).await?;
    assert_eq!(Some(text.as_str()), usda, "beside the usual class");
    for (name, pct) in ["sand", "silt", "clay"]
        .iter()
        .zip(blend.converted.fractions_pct)
    {
        let text = page.text(&part(&format!("{name}-1"))).await?;
        let told = percent(pct).replace(' ', "\u{a0}");
        assert_eq!(text, told, "{name} of {}", system.id());
    }
    let conversion = page.text(&part("conversion")).await?;
    assert_eq!(conversion, conversion_text(&blend), "{}", system.id());
    let regions = page.number("document.querySelectorAll('#systems-body .region').length");
    assert_eq!(regions.await?, system.classes().len() as f64, "every class");
    let rows = page.number("document.querySelectorAll('#systems-body [data-part=rows] tr').length");
    assert_eq!(rows.await?, system.classes().len() as f64, "and its row");
    Ok(())
}

pub(super) async fn texture_elsewhere_by_mouse(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.find("#systems-open").await?.click().await?;
    settled(&page).await?;
    assert_eq!(page.value(LIST).await?, "usda", "the usual one first");
    for system in System::ALL {
        page.choose(LIST, system.id()).await?;
        settled(&page).await?;
        shows(&page, system).await?;
        let mark = page.text(&part("mark")).await?;
        let remembered = [System::Uk, System::International, System::Brazil].contains(&system);
        assert_eq!(mark.contains("from memory"), remembered, "{mark}");
        let odds = page.text(&part("odds")).await?;
        assert!(odds.starts_with("Odds ") && odds.ends_with('.'), "{odds}");
    }
    // It is remembered, follows a slider, and stands in the text.
    page.choose(LIST, "germany").await?;
    settled(&page).await?;
    let before = page.text(&part("sand-1")).await?;
    let amount = "#additions li:first-child input[type=text]";
    let stood = page.value(amount).await?;
    page.run(
        "const s = document.querySelector('#additions li:first-child input[type=range]');
         s.value = s.max; s.dispatchEvent(new Event('input', { bubbles: true }));
         s.dispatchEvent(new Event('change', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    settled(&page).await?;
    assert_ne!(page.text(&part("sand-1")).await?, before, "it follows");
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    settled(&page).await?;
    assert_eq!(page.text(&part("sand-1")).await?, before, "and back");
    assert_eq!(page.value(amount).await?, stood, "the recipe is the same");
    page.tool("text").await?;
    let text = page.value("#shed [name=text]").await?;
    let class = system_class_name(blend(&demo(), System::Germany).class);
    assert!(text.contains("Germany") && text.contains(class), "{text}");
    page.close_tool().await?;
    page.reload().await?;
    page.find("#systems-open").await?.click().await?;
    settled(&page).await?;
    assert_eq!(page.value(LIST).await?, "germany", "remembered");
    shows(&page, System::Germany).await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn texture_elsewhere_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let below = "document.getElementById('systems-open').getBoundingClientRect().top + scrollY";
    let at = page.number(below).await?;
    let enter = char::from(Key::Enter).to_string();
    page.keys("#systems-open", &enter).await?;
    settled(&page).await?;
    assert_eq!(page.number(below).await?, at, "nothing above it moves");
    page.keys(LIST, "g").await?;
    page.frame().await?;
    settled(&page).await?;
    assert_eq!(page.value(LIST).await?, "germany", "by its letter");
    shows(&page, System::Germany).await?;
    page.keys("#systems-body summary", &enter).await?;
    let open = page.eval("document.querySelector('#systems-body details').open");
    assert_eq!(open.await?, json!(true), "the table unfolds");
    let row = page
        .text("#systems-body [data-part=rows] tr:first-child")
        .await?;
    assert!(
        row.contains("pure sand") && row.contains("clay < 5"),
        "{row}"
    );
    page.keys("#systems-open", &enter).await?;
    let hidden = page.eval("document.getElementById('systems-body').hidden");
    assert_eq!(hidden.await?, json!(true), "folded");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn texture_elsewhere_by_address(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}?system=UK", stage.home)).await?;
    settled(&page).await?;
    assert_eq!(page.value(LIST).await?, "uk", "as the address says");
    shows(&page, System::Uk).await?;
    let kept = page
        .eval("localStorage.getItem('barrowmix.system')")
        .await?;
    assert_eq!(kept, json!(null), "what a link says is not kept");
    for nonsense in ["mars", "", "%3Cb%3E", "usda,uk", "%00", "__proto__"] {
        page.open(&format!("{}?system={nonsense}", stage.home))
            .await?;
        page.frame().await?;
        let hidden = page.eval("document.getElementById('systems-body').hidden");
        assert_eq!(hidden.await?, json!(true), "{nonsense:?} asks for nothing");
        page.quiet().await?;
    }
    page.run("localStorage.setItem('barrowmix.system', '<b>')")
        .await?;
    page.open(&stage.home).await?;
    page.find("#systems-open").await?.click().await?;
    settled(&page).await?;
    assert_eq!(page.value(LIST).await?, "usda", "nor does a spoilt memory");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn texture_elsewhere_on_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.size(390, 844).await?;
    page.open(&format!("{}?system=germany", stage.home)).await?;
    settled(&page).await?;
    for system in System::ALL {
        page.choose(LIST, system.id()).await?;
        settled(&page).await?;
        let wide = page.number("document.documentElement.scrollWidth").await?;
        assert!(wide <= 390.0, "{}: {wide} px", system.id());
        // Names stand inside the drawing and not on each other.
        let told = page
            .run(
                "const all = [...document.querySelectorAll('#systems-body .class-name')].map((t) => t.getBBox());
                 const svg = document.querySelector('#systems-body svg').viewBox.baseVal;
                 const out = all.filter((b) => b.x < 0 || b.x + b.width > svg.width || b.y < 0 || b.y + b.height > svg.height);
                 const over = all.filter((b, i) => all.some((c, j) => i < j &&
                   Math.min(b.x + b.width, c.x + c.width) - Math.max(b.x, c.x) > 1 &&
                   Math.min(b.y + b.height, c.y + c.height) - Math.max(b.y, c.y) > 6));
                 return [all.length, out.length, over.length];",
            )
            .await?;
        assert!(
            told[0].as_f64().unwrap_or(0.0) >= 3.0,
            "{}: {told}",
            system.id()
        );
        assert_eq!(told[1], json!(0), "{}: within the drawing", system.id());
        assert_eq!(told[2], json!(0), "{}: not on each other", system.id());
    }
    page.quiet().await?;
    page.close().await
}
