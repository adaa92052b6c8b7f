//! What people do with the page, and what they must see.

use crate::browser::{Played, Stage};
use fantoccini::key::Key;
use serde_json::json;
use std::future::Future;
use std::pin::Pin;

type Scene = fn(Stage) -> Pin<Box<dyn Future<Output = Played>>>;

macro_rules! scenes {
    ($($name:ident)*) => {
        /// Every scene with its name.
        pub(crate) const ALL: &[(&str, Scene)] = &[$((stringify!($name), |stage| Box::pin($name(stage))),)*];
    };
}

scenes! {
    opens_with_the_demo_computed
    a_slider_by_keyboard_moves_class_point_and_figures
    fractions_stay_at_a_hundred
    reload_finds_the_state
    a_link_gives_the_same_outcome_in_a_clean_profile
    nonsense_is_told_and_kept
    faults_of_the_whole_recipe_are_told
    broken_links_are_told
    additions_are_added_moved_and_removed_by_keyboard
    the_list_ends_at_its_limit
    units_of_display_change_nothing_stored
    units_of_an_amount_keep_what_it_is
    the_ground_by_bed_mass_and_volume
    many_events_make_one_frame
    what_did_not_change_is_not_written
    everything_in_sight_at_1280_by_800
    nothing_scrolls_sideways
    nothing_jumps_while_a_slider_moves
    controls_have_names_and_drawings_have_tables
    a_held_slider_shows_the_strip_on_a_phone
    text_twice_as_large_still_fits
    works_from_a_folder_of_a_static_host
    lives_without_storage
    what_is_to_be_mended_outlives_other_edits
    units_are_not_taken_from_an_old_outcome
    a_refused_copy_is_told_and_breaks_nothing
    without_ground_nothing_is_said_of_it
}

const RIGHT: char = '\u{e014}';

fn times(key: char, count: usize) -> String {
    std::iter::repeat_n(key, count).collect()
}

async fn opens_with_the_demo_computed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    assert_eq!(
        page.text("#class-ground").await?,
        "silty clay",
        "the demo lies on silty clay"
    );
    assert!(
        page.text("#verdict").await?.contains("do not touch"),
        "the verdict is there"
    );
    assert!(
        page.text("[data-cell=pores-2]").await?.ends_with('%'),
        "figures are there"
    );
    assert_eq!(
        page.eval("document.querySelectorAll('#column rect.seg').length")
            .await?,
        json!(20),
        "five bars of four parts"
    );
    page.quiet().await?;
    page.close().await
}

async fn a_slider_by_keyboard_moves_class_point_and_figures(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let class = page.text("#class-blend").await?;
    let point = page
        .eval("document.querySelector('.blend-mark').getAttribute('transform')")
        .await?;
    let pores = page.text("[data-cell=pores-2]").await?;
    let bar = page
        .eval("document.querySelectorAll('#column rect.seg')[12].getAttribute('height')")
        .await?;
    page.keys(
        "#additions li:first-child input[type=range]",
        &times(RIGHT, 60),
    )
    .await?;
    assert_ne!(page.text("#class-blend").await?, class, "the class changes");
    assert_ne!(
        page.eval("document.querySelector('.blend-mark').getAttribute('transform')")
            .await?,
        point,
        "the point moves"
    );
    assert_ne!(
        page.text("[data-cell=pores-2]").await?,
        pores,
        "the figures change"
    );
    assert_ne!(
        page.eval("document.querySelectorAll('#column rect.seg')[12].getAttribute('height')")
            .await?,
        bar,
        "the column changes"
    );
    let slider = page
        .value("#additions li:first-child input[type=range]")
        .await?;
    assert_eq!(
        page.value("#additions li:first-child input[type=text]")
            .await?,
        slider,
        "slider and box agree"
    );
    page.quiet().await?;
    page.close().await
}

async fn fractions_stay_at_a_hundred(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let sum = "['sand', 'silt', 'clay'].map((id) => +document.getElementById(id).value).reduce((a, b) => a + b)";
    for (name, keys) in [("sand", 37), ("silt", 20), ("clay", 60)] {
        page.keys(
            &format!("input[type=range][data-bind={name}_pct]"),
            &times(RIGHT, keys),
        )
        .await?;
        assert!(
            (page.number(sum).await? - 100.0).abs() < 1e-9,
            "after {name}"
        );
    }
    page.type_into("#clay", "100").await?;
    assert_eq!(page.value("#sand").await?, "0", "nothing is left for sand");
    page.type_into("#clay", "33.3").await?;
    assert!(
        (page.number(sum).await? - 100.0).abs() < 1e-9,
        "typed with decimals"
    );
    assert!(
        page.number("+document.getElementById('sand').value")
            .await?
            > 0.0,
        "sand comes back in its proportion"
    );
    page.quiet().await?;
    page.close().await
}

async fn reload_finds_the_state(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#clay", "61.5").await?;
    page.type_into("[data-bind=title]", "Bed <2> & \"more\"")
        .await?;
    page.type_into("#additions li:nth-child(2) input[type=text]", "333")
        .await?;
    let shown = page.shown().await?;
    let link = page.eval("location.hash").await?;
    assert!(
        link.as_str()
            .is_some_and(|link| link.len() > 20 && link.len() < 400),
        "the address holds it: {link}"
    );
    page.reload().await?;
    assert_eq!(page.shown().await?, shown, "the outcome is the same");
    assert_eq!(page.value("#clay").await?, "61.5", "the box is the same");
    assert_eq!(
        page.value("[data-bind=title]").await?,
        "Bed <2> & \"more\"",
        "and the name"
    );
    page.quiet().await?;
    page.close().await
}

async fn a_link_gives_the_same_outcome_in_a_clean_profile(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.keys("input[type=range][data-bind=crumb]", &times(RIGHT, 6))
        .await?;
    page.choose(
        "#additions li:first-child select[data-bind=material]",
        "perlite",
    )
    .await?;
    let shown = page.shown().await?;
    let address = page.eval("location.href").await?;
    let other = stage.browser(1280, 800).await?;
    other.open(address.as_str().unwrap_or_default()).await?;
    assert_eq!(other.shown().await?, shown, "both see the same");
    other.quiet().await?;
    other.close().await?;
    page.close().await
}

async fn nonsense_is_told_and_kept(stage: Stage) -> Played {
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

async fn faults_of_the_whole_recipe_are_told(stage: Stage) -> Played {
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

async fn broken_links_are_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let demo = page.shown().await?;
    page.keys("input[type=range][data-bind=crumb]", &times(RIGHT, 2))
        .await?;
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
        assert_eq!(page.shown().await?, demo, "and the demo is there");
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

async fn additions_are_added_moved_and_removed_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let names = "[...document.querySelectorAll('#additions select[data-bind=material]')].map((s) => s.value)";
    page.choose("#add", "perlite").await?;
    page.keys("[data-do=add]", &Key::Enter.to_string()).await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["concrete_sand", "yard_compost", "perlite"]),
        "added at the end"
    );
    assert_eq!(
        page.eval("document.activeElement.type").await?,
        json!("range"),
        "the focus is on its slider"
    );
    page.keys(
        "#additions li:nth-child(3) [data-do=up]",
        &Key::Enter.to_string(),
    )
    .await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["concrete_sand", "perlite", "yard_compost"]),
        "moved up"
    );
    assert_eq!(
        page.eval("document.activeElement.dataset.do").await?,
        json!("up"),
        "the focus goes with it"
    );
    page.keys(
        "#additions li:nth-child(1) [data-do=down]",
        &Key::Enter.to_string(),
    )
    .await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["perlite", "concrete_sand", "yard_compost"]),
        "moved down"
    );
    page.keys(
        "#additions li:nth-child(2) [data-do=remove]",
        &Key::Enter.to_string(),
    )
    .await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["perlite", "yard_compost"]),
        "removed"
    );
    for _ in 0..2 {
        page.keys(
            "#additions li:first-child [data-do=remove]",
            &Key::Enter.to_string(),
        )
        .await?;
    }
    assert!(
        page.text("#verdict")
            .await?
            .contains("Nothing is added yet"),
        "the verdict says so"
    );
    assert_eq!(
        page.eval("document.getElementById('barrow-empty').hidden")
            .await?,
        json!(false),
        "the empty barrow says what to do"
    );
    page.keys("[data-do=demo]", &Key::Enter.to_string()).await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["concrete_sand", "yard_compost"]),
        "back to the demo"
    );
    page.quiet().await?;
    page.close().await
}

async fn the_list_ends_at_its_limit(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    for _ in 0..70 {
        page.run(
            "const add = document.querySelector('[data-do=add]'); if (!add.disabled) add.click();",
        )
        .await?;
    }
    page.frame().await?;
    assert_eq!(
        page.eval("document.querySelectorAll('#additions li').length")
            .await?,
        json!(64),
        "no more than 64"
    );
    assert_eq!(
        page.eval("document.querySelector('[data-do=add]').disabled")
            .await?,
        json!(true),
        "and no way to add one"
    );
    assert_eq!(
        page.eval("document.getElementById('stale').hidden").await?,
        json!(true),
        "the outcome is good"
    );
    page.quiet().await?;
    page.close().await
}

async fn units_of_display_change_nothing_stored(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#density", "1.237").await?;
    let link = page.eval("location.hash").await?;
    let metric = page.shown().await?;
    for _ in 0..50 {
        page.run("document.querySelector('input[value=us]').click()")
            .await?;
        page.run("document.querySelector('input[value=metric]').click()")
            .await?;
    }
    page.frame().await?;
    assert_eq!(page.shown().await?, metric, "metric again, to the letter");
    page.run("document.querySelector('input[value=us]').click()")
        .await?;
    page.frame().await?;
    assert!(
        page.text("[data-cell=density-2]").await?.contains("lb/ft³"),
        "US units are shown"
    );
    assert_eq!(
        page.text("[data-unit=density]").await?,
        "lb/ft³",
        "beside the box too"
    );
    assert!(
        (page
            .number("+document.getElementById('density').value")
            .await?
            - 77.2)
            .abs()
            < 0.1,
        "1.237 kg/L is 77.2 lb/ft3"
    );
    assert_eq!(
        page.eval("location.hash").await?,
        link,
        "what is stored is the same"
    );
    page.reload().await?;
    assert!(
        page.text("[data-cell=density-2]").await?.contains("lb/ft³"),
        "the choice is remembered"
    );
    assert_eq!(
        page.eval("location.hash").await?,
        link,
        "and still nothing has changed"
    );
    page.quiet().await?;
    page.close().await
}

async fn units_of_an_amount_keep_what_it_is(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let pores = page.text("[data-cell=pores-2]").await?;
    let class = page.text("#class-blend").await?;
    for unit in [
        "lb", "L", "ft3", "%v", "%m", "part", "mm", "kg/m2", "g/L", "kg",
    ] {
        page.choose("#additions li:first-child select[data-bind=unit]", unit)
            .await?;
        assert_eq!(page.text("[data-cell=pores-2]").await?, pores, "in {unit}");
        assert_eq!(page.text("#class-blend").await?, class, "in {unit}");
    }
    let kg = page
        .number("+document.querySelector('#additions li:first-child input[type=text]').value")
        .await?;
    assert!(
        (kg - 200.0).abs() < 4.0,
        "200 kg again, within three figures each way: {kg}"
    );
    page.quiet().await?;
    page.close().await
}

async fn the_ground_by_bed_mass_and_volume(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    assert!(
        page.find("#depth").await?.is_displayed().await?,
        "a bed asks for its depth"
    );
    page.choose("select[data-bind=soil-unit]", "L").await?;
    assert_eq!(
        page.value("#soil").await?,
        "576",
        "2.88 m2 by 20 cm are 576 L"
    );
    assert!(
        !page.find("#depth").await?.is_displayed().await?,
        "a volume does not"
    );
    page.choose("select[data-bind=soil-unit]", "lb").await?;
    let lb = page
        .number("+document.getElementById('soil').value")
        .await?;
    // 576 L at 1.28 kg/L dry with 30 % water, in pounds of 0.45359237 kg.
    assert!(
        (lb - 576.0 * 1.28 * 1.3 / 0.45359237).abs() < 6.0,
        "moist as dug: {lb}"
    );
    page.choose("select[data-bind=soil-unit]", "bed").await?;
    assert_eq!(
        page.value("#soil").await?,
        "1",
        "a bed starts from a square metre"
    );
    page.type_into("#depth", "30").await?;
    assert!(
        page.text("#soil-is").await?.contains("300 L in place"),
        "and says what that is"
    );
    page.quiet().await?;
    page.close().await
}

async fn many_events_make_one_frame(stage: Stage) -> Played {
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

async fn what_did_not_change_is_not_written(stage: Stage) -> Played {
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

async fn everything_in_sight_at_1280_by_800(stage: Stage) -> Played {
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

async fn nothing_scrolls_sideways(stage: Stage) -> Played {
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

async fn nothing_jumps_while_a_slider_moves(stage: Stage) -> Played {
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

async fn controls_have_names_and_drawings_have_tables(stage: Stage) -> Played {
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

async fn a_held_slider_shows_the_strip_on_a_phone(stage: Stage) -> Played {
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

async fn text_twice_as_large_still_fits(stage: Stage) -> Played {
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

async fn works_from_a_folder_of_a_static_host(stage: Stage) -> Played {
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

async fn lives_without_storage(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    // A sandboxed frame without its own origin: storage throws, and module files need the
    // server's leave, so the page says that it could not start or starts; it never breaks.
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

async fn what_is_to_be_mended_outlives_other_edits(stage: Stage) -> Played {
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

async fn units_are_not_taken_from_an_old_outcome(stage: Stage) -> Played {
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

async fn a_refused_copy_is_told_and_breaks_nothing(stage: Stage) -> Played {
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
    page.run("Object.defineProperty(Navigator.prototype, 'x', { value: 1 });")
        .await?;
    page.quiet().await?;
    page.close().await
}

async fn without_ground_nothing_is_said_of_it(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.paste_into("#soil", "0").await?;
    let verdict = page.text("#verdict").await?;
    assert!(
        verdict.contains("no ground"),
        "the verdict says so: {verdict}"
    );
    assert!(
        !verdict.contains("clay"),
        "and speaks of no clay: {verdict}"
    );
    assert!(
        !page
            .find("#triangle .ground-mark")
            .await?
            .is_displayed()
            .await?,
        "its point is gone"
    );
    assert_eq!(
        page.text("#column-rows tr:first-child td").await?,
        "0 %",
        "its bar is gone"
    );
    page.choose("#add", "perlite").await?;
    page.keys("[data-do=add]", &Key::Enter.to_string()).await?;
    assert_eq!(
        page.value("#additions li:last-child select[data-bind=unit]")
            .await?,
        "L",
        "litres, since a share would have nothing to count against"
    );
    page.quiet().await?;
    page.close().await
}
