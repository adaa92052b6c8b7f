//! The section on water and pots: opened in place, and alive.

use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::json;
use std::time::Duration;

const BODY: &str = "#water-body";

fn part(name: &str) -> String {
    format!("{BODY} [data-part={name}]")
}

/// Waits until the ranges are those of the recipe.
async fn settled(page: &Browser) -> Played {
    let there = "#water-body:not([hidden]):not([data-waits])";
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css(there))
        .await?;
    page.frame().await
}

async fn opened(page: &Browser) -> Played {
    page.run("document.getElementById('water-open').click()")
        .await?;
    settled(page).await
}

/// Puts a value into a box or list of the section and leaves it.
async fn enter(page: &Browser, name: &str, value: &str) -> Played {
    page.client
        .execute(
            "const f = document.querySelector(`#water-body [name=${arguments[0]}]`);
             f.focus(); f.value = arguments[1];
             f.dispatchEvent(new Event('input', { bubbles: true }));
             f.dispatchEvent(new Event('change', { bubbles: true })); f.blur();",
            vec![json!(name), json!(value)],
        )
        .await?;
    page.frame().await
}

async fn pot(page: &Browser, cm: &str) -> Played {
    enter(page, "home", "container").await?;
    enter(page, "height", cm).await?;
    settled(page).await
}

async fn drawing(page: &Browser, name: &str) -> Result<String, CmdError> {
    let inner = format!("document.querySelector('{}').innerHTML", part(name));
    let value = page.eval(&inner).await?;
    Ok(value.as_str().unwrap_or_default().to_owned())
}

pub(super) async fn water_opens_by_press_and_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let fetched =
        "performance.getEntriesByType('resource').filter((e) => e.name.includes('shed')).length";
    assert_eq!(
        page.number(fetched).await?,
        0.0,
        "nothing is fetched before"
    );
    opened(&page).await?;
    assert_eq!(
        page.eval("document.getElementById('shed').open").await?,
        json!(false),
        "it opens in place"
    );
    let says = page.text(&part("pot-says")).await?;
    assert!(says.contains("A bed on the ground drains"), "{says}");
    assert!(!page.text(&part("air-2")).await?.is_empty(), "with ranges");
    let expanded = "document.getElementById('water-open').getAttribute('aria-expanded')";
    assert_eq!(page.eval(expanded).await?, json!("true"), "and is said to");
    // Folded and opened again by keys.
    let enter = char::from(Key::Enter).to_string();
    page.keys("#water-open", &enter).await?;
    assert_eq!(page.eval(expanded).await?, json!("false"), "folded");
    let hidden = page.eval("document.getElementById('water-body').hidden");
    assert_eq!(hidden.await?, json!(true), "away");
    page.keys("#water-open", &enter).await?;
    settled(&page).await?;
    assert_eq!(page.eval(expanded).await?, json!("true"), "open again");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_follows_a_slider(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let (air, curve, range) = (
        page.text(&part("air-1")).await?,
        drawing(&page, "curve").await?,
        page.text(&part("kept-2")).await?,
    );
    page.run(
        "const s = document.querySelector('#additions li:first-child input[type=range]');
         s.value = 2500; s.dispatchEvent(new Event('input', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    assert_ne!(drawing(&page, "curve").await?, curve, "within the frame");
    assert_ne!(page.text(&part("air-1")).await?, air, "and its number");
    settled(&page).await?;
    assert_ne!(page.text(&part("kept-2")).await?, range, "then the ranges");
    page.run(
        "document.querySelector('#additions li:first-child input[type=range]').dispatchEvent(new Event('change', { bubbles: true }))",
    )
    .await?;
    // The keys of a slider, undo, and the units.
    let curve = drawing(&page, "curve").await?;
    page.keys("input[type=range][data-bind=clay_pct]", &times(RIGHT, 5))
        .await?;
    settled(&page).await?;
    assert_ne!(drawing(&page, "curve").await?, curve, "keys move it");
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    settled(&page).await?;
    assert_eq!(drawing(&page, "curve").await?, curve, "undo leads back");
    // A slider that does not touch the recipe writes nothing.
    page.run(
        "window.seen = 0;
         new MutationObserver((list) => window.seen += list.length).observe(document.getElementById('water-body'), { subtree: true, childList: true, attributes: true, characterData: true });
         document.querySelector('h1').click();",
    )
    .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("window.seen").await?,
        json!(0),
        "nothing is written"
    );
    // A recipe that cannot be mixed leaves the last one, and says so.
    page.type_into("#soil", "0").await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_in_a_pot_follows_its_height(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let bed = drawing(&page, "pot").await?;
    pot(&page, "12").await?;
    let low = drawing(&page, "pot").await?;
    assert_ne!(low, bed, "a pot is no bed");
    let air = "parseFloat(document.querySelector('#water-body [data-part=air-1]').textContent)";
    let in_low = page.number(air).await?;
    pot(&page, "60").await?;
    assert_ne!(drawing(&page, "pot").await?, low, "another drawing");
    assert!(
        page.number(air).await? > in_low,
        "a taller one has more air"
    );
    assert_eq!(page.value("#height").await?, "60", "the page has it too");
    assert_eq!(
        page.value("#place-kind").await?,
        "container",
        "and the kind"
    );
    let points = page.text(&part("points")).await?;
    assert!(
        points.contains("gravel") && points.contains("half as high again"),
        "{points}"
    );
    // Widths make it taper.
    let straight = drawing(&page, "pot").await?;
    enter(&page, "top", "50").await?;
    enter(&page, "bottom", "35").await?;
    settled(&page).await?;
    assert_ne!(drawing(&page, "pot").await?, straight, "it tapers");
    page.reload().await?;
    opened(&page).await?;
    let kept = page.value("#water-body [name=bottom]").await?;
    assert_eq!(kept, "35", "it is kept");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_speaks_us_units(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    pot(&page, "30").await?;
    page.run("document.querySelector('input[name=units][value=us]').click()")
        .await?;
    page.frame().await?;
    settled(&page).await?;
    let height = page.value("#water-body [name=height]").await?;
    assert!(height.starts_with("11.8"), "shown in inches: {height}");
    let text = page.text(BODY).await?;
    for metric in [" cm", " mm", " kg"] {
        assert!(!text.contains(metric), "{metric} in {text}");
    }
    assert!(text.contains("An inch of rain"), "{text}");
    assert_eq!(page.value("#height").await?, "30", "what is stored stays");
    enter(&page, "height", "10").await?;
    settled(&page).await?;
    assert_eq!(page.value("#height").await?, "10", "typed in inches");
    assert_eq!(
        page.value("#height + select, [data-bind=height-unit]")
            .await?,
        "in",
        "kept in inches"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_tells_nonsense(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    pot(&page, "30").await?;
    let before = drawing(&page, "pot").await?;
    for nonsense in ["tall", "0", "-4", "1e9", "3,5", "NaN"] {
        enter(&page, "height", nonsense).await?;
        let says = page.text("#water-says").await?;
        assert!(!says.is_empty(), "{nonsense} is told");
        assert_eq!(
            page.value("#water-body [name=height]").await?,
            nonsense,
            "what was typed stays"
        );
        let invalid =
            "document.querySelector('#water-body [name=height]').getAttribute('aria-invalid')";
        assert_eq!(page.eval(invalid).await?, json!("true"), "and is marked");
        assert_eq!(
            page.value("#height").await?,
            "30",
            "the recipe keeps its own"
        );
        assert_eq!(
            drawing(&page, "pot").await?,
            before,
            "and so does the drawing"
        );
    }
    enter(&page, "height", "45").await?;
    settled(&page).await?;
    assert_eq!(page.text("#water-says").await?, "", "mended");
    assert_ne!(drawing(&page, "pot").await?, before, "and drawn");
    enter(&page, "height", "").await?;
    settled(&page).await?;
    let says = page.text(&part("pot-says")).await?;
    assert!(says.contains("how high"), "it asks for the height: {says}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn nothing_jumps_while_water_follows(stage: Stage) -> Played {
    for (width, height) in [(1280, 800), (1920, 1080), (390, 844)] {
        let page = stage.browser(width, height).await?;
        page.open(&stage.home).await?;
        opened(&page).await?;
        for home in ["container", "bed"] {
            enter(&page, "home", home).await?;
            settled(&page).await?;
            let places = "[...document.querySelectorAll('#water-body h3, #water-body svg, #water-body table, #water-body .hint, #care-heading')].map((e) => Math.round(e.getBoundingClientRect().top + scrollY - document.getElementById('water').getBoundingClientRect().top - scrollY)).join(' ')";
            let start = page.eval(places).await?;
            for (selector, values) in [
                (
                    "#additions li:first-child input[type=range]",
                    [0.0, 400.0, 1500.0, 2500.0],
                ),
                (
                    "#additions li:last-child input[type=range]",
                    [0.0, 200.0, 800.0, 2000.0],
                ),
                (
                    "input[type=range][data-bind=clay_pct]",
                    [0.0, 12.0, 45.0, 100.0],
                ),
                ("input[type=range][data-bind=crumb]", [0.0, 0.25, 0.5, 1.0]),
            ] {
                for value in values {
                    page.run(&format!(
                        "const s = document.querySelector('{selector}'); s.value = {value};
                         s.dispatchEvent(new Event('input', {{ bubbles: true }}));"
                    ))
                    .await?;
                    page.frame().await?;
                    let at = format!("{selector} at {value}, {home}, {width} wide");
                    assert_eq!(page.eval(places).await?, start, "{at}");
                    settled(&page).await?;
                    assert_eq!(page.eval(places).await?, start, "{at}, with ranges");
                }
            }
        }
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn water_fits_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    pot(&page, "25").await?;
    for width in [320, 360, 390, 600, 760, 1000, 1180, 1280, 1920] {
        page.size(width, 844).await?;
        page.frame().await?;
        page.frame().await?;
        let over = page
            .number("document.scrollingElement.scrollWidth - innerWidth")
            .await?;
        assert!(over <= 0.0, "{width} wide: {over} too much");
        // Every text of a drawing lies within it.
        let cut = page
            .eval(
                "[...document.querySelectorAll('#water-body svg text')].filter((t) => {
                   const a = t.getBoundingClientRect(), b = t.ownerSVGElement.getBoundingClientRect();
                   return a.left < b.left - 6 || a.right > b.right + 6; }).map((t) => t.textContent)",
            )
            .await?;
        assert_eq!(cut, json!([]), "no text leaves its drawing, {width} wide");
    }
    page.size(390, 844).await?;
    page.frame().await?;
    let small = page
        .eval("[...document.querySelectorAll('#water button, #water select, #water input')].filter((e) => e.offsetHeight && e.offsetHeight < 44).map((e) => e.outerHTML)")
        .await?;
    assert_eq!(small, json!([]), "targets for a thumb");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_has_names_tables_and_sources(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    pot(&page, "25").await?;
    let nameless = page
        .eval(
            "[...document.querySelectorAll('#water input, #water select, #water button')].filter((e) =>
               !(e.labels?.length && [...e.labels].some((l) => l.textContent.trim())) &&
               !(e.tagName === 'BUTTON' && e.textContent.trim())).map((e) => e.outerHTML)",
        )
        .await?;
    assert_eq!(nameless, json!([]), "every control has a name");
    let drawings = page
        .eval("[...document.querySelectorAll('#water svg[role=img]')].map((s) => document.getElementById(s.getAttribute('aria-labelledby')).textContent.length > 20)")
        .await?;
    assert_eq!(drawings, json!([true, true, true]), "drawings are told");
    assert_eq!(
        page.eval("document.querySelectorAll('[style], script:not([src])').length")
            .await?,
        json!(0),
        "nothing inline"
    );
    let ids = page
        .eval("[...document.querySelectorAll('[id]')].map((e) => e.id).filter((id, at, all) => all.indexOf(id) !== at)")
        .await?;
    assert_eq!(ids, json!([]), "each id once");
    for of in ["air", "pot", "available", "drainage"] {
        page.tool(&format!("#water-body .from [data-of={of}]"))
            .await?;
        let made = page.text("#shed [data-part=made]").await?;
        assert!(made.len() > 40, "{of}: {made}");
        page.close_tool().await?;
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn water_in_every_home(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    opened(&page).await?;
    let days = page.text(&part("days")).await?;
    assert!(days.contains("day"), "a bed lasts: {days}");
    enter(&page, "use", "hot").await?;
    settled(&page).await?;
    assert_ne!(page.text(&part("days")).await?, days, "less when it is hot");
    enter(&page, "height", "").await?;
    enter(&page, "home", "container").await?;
    settled(&page).await?;
    assert_eq!(page.text(&part("days")).await?, "–", "no height, no days");
    let ghosts = page.number("document.querySelectorAll('#water-body .ghost').length");
    assert_eq!(ghosts.await?, 2.0, "pots are only hinted at");
    pot(&page, "20").await?;
    // Many pots share the weight.
    let weight = "parseFloat(document.querySelector('#water-body [data-part=watered-0]').textContent.replace(',', ''))";
    let all = page.number(weight).await?;
    page.run("document.querySelectorAll('details').forEach((d) => d.open = true)")
        .await?;
    page.type_into("#count", "10").await?;
    settled(&page).await?;
    let each = page.number(weight).await?;
    assert!((all / each - 10.0).abs() < 0.6, "a tenth: {each} of {all}");
    assert!(
        page.text(&part("weights-of")).await?.contains("One of 10"),
        "and it says so"
    );
    // Without ground nothing is said of it.
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.frame().await?;
    settled(&page).await?;
    page.quiet().await?;
    page.close().await
}
