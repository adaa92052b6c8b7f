//! How the page stands and moves: frames, widths, names, large text, any folder.

use super::{RIGHT, times};
use crate::browser::{Played, Stage};
use serde_json::json;

pub(super) async fn many_events_make_one_frame(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let asked = page
        .run(
            "const real = window.requestAnimationFrame; let asked = 0;
             window.requestAnimationFrame = (f) => { asked++; return real(f); };
             const slider = document.querySelector('input[type=range][data-bind=clay_pct]');
             for (let i = 0; i < 40; i++) {
               slider.value = 30 + i; slider.dispatchEvent(new Event('input', { bubbles: true }));
             }
             window.requestAnimationFrame = real;
             return asked;",
        )
        .await?;
    assert_eq!(asked, json!(1), "forty events ask for one frame");
    page.frame().await?;
    assert_eq!(page.value("#clay").await?, "69", "and the last one counts");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_did_not_change_is_not_written(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run(
        "window.seen = [];
         new MutationObserver((list) => list.forEach((m) => window.seen.push(m.target.id || m.target.className?.baseVal || m.target.nodeName)))
           .observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });",
    )
    .await?;
    page.run(
        "const s = document.querySelector('input[type=range][data-bind=crumb]');
         s.dispatchEvent(new Event('input', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("window.seen").await?,
        json!([]),
        "the same value writes nothing"
    );
    page.run(
        "const s = document.querySelector('input[type=range][data-bind=crumb]');
         s.value = 0.9; s.dispatchEvent(new Event('input', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    let seen = page.eval("window.seen").await?;
    let seen = seen.as_array().cloned().unwrap_or_default();
    assert!(!seen.is_empty(), "another value writes something");
    let texture = seen.iter().any(|name| {
        name.as_str()
            .is_some_and(|name| name.contains("region") || name.contains("mark"))
    });
    assert!(!texture, "crumb does not touch the triangle: {seen:?}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn everything_in_sight_at_1280_by_800(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    for selector in [
        "#clay",
        "#crumb",
        "#additions li:last-child input[type=range]",
        "#add",
        "#verdict",
        "#class-blend",
        "[data-cell=pores-2]",
        "[data-cell=weight-2]",
        "#triangle",
        "#column",
    ] {
        let bottom = page
            .number(&format!(
                "document.querySelector('{selector}').getBoundingClientRect().bottom"
            ))
            .await?;
        assert!(
            bottom <= 800.0 && bottom > 0.0,
            "{selector} ends at {bottom}"
        );
    }
    page.close().await
}

pub(super) async fn nothing_scrolls_sideways(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    for width in [
        320, 358, 360, 390, 600, 759, 760, 1000, 1179, 1180, 1280, 1599, 1600, 1920,
    ] {
        page.size(width, 800).await?;
        page.frame().await?;
        let over = page
            .number("document.scrollingElement.scrollWidth - innerWidth")
            .await?;
        assert!(over <= 0.0, "{width} wide: {over} too much");
    }
    page.close().await
}

pub(super) async fn nothing_jumps_while_a_slider_moves(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let places = "['#figures', '#triangle', '#column', '#add', '#additions', '#class-blend'].map((s) => Math.round(document.querySelector(s).getBoundingClientRect().top)).join(' ')";
    let start = page.eval(places).await?;
    for (selector, values) in [
        (
            "#additions li:first-child input[type=range]",
            "[0, 400, 900, 1500, 2500]",
        ),
        (
            "input[type=range][data-bind=clay_pct]",
            "[0, 12, 22, 45, 70, 100]",
        ),
        ("input[type=range][data-bind=crumb]", "[0, 0.25, 0.5, 1]"),
    ] {
        let count = page.number(&format!("{values}.length")).await? as usize;
        for index in 0..count {
            page.run(&format!(
                "const s = document.querySelector('{selector}'); s.value = {values}[{index}];
                 s.dispatchEvent(new Event('input', {{ bubbles: true }}));"
            ))
            .await?;
            page.frame().await?;
            assert_eq!(
                page.eval(places).await?,
                start,
                "{selector} at step {index}"
            );
        }
    }
    page.close().await
}

pub(super) async fn controls_have_names_and_drawings_have_tables(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let nameless = page
        .eval(
            "[...document.querySelectorAll('input, select, button, textarea')].filter((e) =>
               !(e.labels?.length && [...e.labels].some((l) => l.textContent.trim())) &&
               !e.getAttribute('aria-label') && !(e.tagName === 'BUTTON' && e.textContent.trim())).map((e) => e.outerHTML)",
        )
        .await?;
    assert_eq!(nameless, json!([]), "every control has a name");
    let without = page
        .eval("[...document.querySelectorAll('figure svg[role=img]')].filter((s) => !s.closest('figure').querySelector('table tbody tr')).length")
        .await?;
    assert_eq!(without, json!(0), "each drawing has its table");
    let sliders = page
        .eval("[...document.querySelectorAll('input[type=range]')].filter((s) => !s.getAttribute('aria-valuetext')).length")
        .await?;
    assert_eq!(
        sliders,
        json!(0),
        "each slider says its value with its unit"
    );
    let keys = page
        .eval("[...document.querySelectorAll('*')].some((e) => e.textContent.includes('{{'))")
        .await?;
    assert_eq!(keys, json!(false), "no label is missing");
    assert_eq!(
        page.eval("document.querySelectorAll('[style], script:not([src])').length")
            .await?,
        json!(0),
        "nothing inline"
    );
    page.close().await
}

pub(super) async fn a_held_slider_shows_the_strip_on_a_phone(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    let strip = page.find("#strip").await?;
    assert!(!strip.is_displayed().await?, "out of the way at first");
    page.keys(
        "#additions li:first-child input[type=range]",
        &times(RIGHT, 3),
    )
    .await?;
    assert!(strip.is_displayed().await?, "there while a slider is held");
    assert_eq!(
        page.text("#strip-class").await?,
        page.text("#class-blend").await?,
        "it says the class"
    );
    let clear = page.eval("document.activeElement.getBoundingClientRect().bottom <= document.getElementById('strip').getBoundingClientRect().top").await?;
    assert_eq!(clear, json!(true), "and does not hide the slider");
    page.run("document.activeElement.blur()").await?;
    assert!(!strip.is_displayed().await?, "gone when let go");
    page.close().await
}

pub(super) async fn text_twice_as_large_still_fits(stage: Stage) -> Played {
    let page = stage
        .browser_with(1280, 800, &["--blink-settings=defaultFontSize=32"])
        .await?;
    page.open(&stage.home).await?;
    let size = page
        .number("parseFloat(getComputedStyle(document.body).fontSize)")
        .await?;
    assert!(size >= 32.0, "the text is twice as large: {size}");
    let over = page
        .number("document.scrollingElement.scrollWidth - innerWidth")
        .await?;
    assert!(over <= 0.0, "{over} too wide");
    let cut = page
        .eval("[...document.querySelectorAll('label, h2, .hint, .figures th')].filter((e) => e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 1).map((e) => e.textContent)")
        .await?;
    assert_eq!(cut, json!([]), "no text is cut");
    page.close().await
}

pub(super) async fn works_from_a_folder_of_a_static_host(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.folder).await?;
    assert_eq!(
        page.text("#class-ground").await?,
        "silty clay",
        "it runs below another folder"
    );
    let elsewhere = page
        .eval("performance.getEntriesByType('resource').map((e) => e.name).filter((n) => !n.startsWith(location.href.split('#')[0]))")
        .await?;
    assert_eq!(
        elsewhere,
        json!([]),
        "and fetches nothing from anywhere else"
    );
    page.quiet().await?;
    page.close().await
}
