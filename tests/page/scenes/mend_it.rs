//! What was found broken once, so that it stays mended.

use super::say_it::kept;
use crate::browser::{Played, Stage};
use fantoccini::key::Key;
use serde_json::{Value, json};

const FIRST: &str = "#additions li:first-child input[type=text]";

pub(super) async fn the_memory_wins_over_an_old_address(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(FIRST, "222").await?;
    // Too long for a link.
    let long = "x".repeat(9000);
    page.paste_into(".title", &long).await?;
    assert_eq!(page.eval("location.hash").await?, json!(""), "no old one");
    page.reload().await?;
    assert_eq!(page.value(".title").await?, long, "the memory holds it");
    page.paste_into(".title", "short").await?;
    // With a fault: two shares of too much.
    page.choose("#additions li:first-child [data-bind=unit]", "%v")
        .await?;
    page.type_into(FIRST, "120").await?;
    page.reload().await?;
    assert_eq!(page.value(FIRST).await?, "120", "as it was left");
    assert!(
        page.text("#additions li:first-child .says")
            .await?
            .contains("100"),
        "and still told"
    );
    page.type_into(FIRST, "10").await?;
    assert!(
        page.text("[data-cell=pores-2]").await?.ends_with('%'),
        "mended, it has an outcome"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_range_comes_back_with_its_value(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(".title", "kept").await?;
    let before = kept(&page).await?;
    // To the end of the slider and back in one go, where the range has no room.
    page.run(
        "const s = document.querySelector('input[type=range][data-bind=clay_pct]');
         for (const v of [99, 100, 52]) { s.value = v; s.dispatchEvent(new Event('input', { bubbles: true })); }
         s.dispatchEvent(new Event('change', { bubbles: true }));",
    )
    .await?;
    assert_eq!(
        kept(&page).await?["ground"]["clay_pct"],
        before["ground"]["clay_pct"],
        "its range is what it was"
    );
    // Undone from inside the box.
    page.type_into("#sand", "60").await?;
    let control = char::from(Key::Control);
    page.find("#sand")
        .await?
        .send_keys(&format!("{control}z{control}"))
        .await?;
    page.frame().await?;
    assert_eq!(kept(&page).await?["ground"], before["ground"], "undone");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn other_units_take_no_digits(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(".title", "kept").await?;
    let before = kept(&page).await?;
    page.run("document.querySelector('input[value=us]').click()")
        .await?;
    let shown = page.value("#density").await?;
    page.type_into("#density", &format!("{shown}1")).await?;
    page.type_into("#density", &shown).await?;
    page.run("document.getElementById('undo').click(); document.getElementById('undo').click()")
        .await?;
    let back = char::from(Key::Backspace);
    let field = page.find("#density").await?;
    field
        .send_keys(&format!(
            "{}1{back}{}",
            char::from(Key::End),
            char::from(Key::Tab)
        ))
        .await?;
    page.frame().await?;
    assert_eq!(kept(&page).await?["ground"], before["ground"], "{shown}");
    page.tool("ranges").await?;
    assert_eq!(
        page.value("#shed [name=bulk_density_kg_m3]").await?,
        "78.03",
        "1250 kg/m3 in lb/ft3 (0.45359237 kg, 0.3048 m)"
    );
    page.use_tool().await?;
    assert_eq!(kept(&page).await?["ground"], before["ground"], "by a tool");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn oxides_that_are_none_are_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.copy_material("yard_compost").await?;
    page.enter("p2o5", "2").await?;
    let element = page.value("#shed [name=total_phosphorus_pct]").await?;
    for odd in ["abc", "150", "-1", "2.3 %"] {
        page.enter("p2o5", odd).await?;
        assert_ne!(page.text("#shed-says").await?, "", "{odd} is told");
        assert_eq!(
            page.value("#shed [name=total_phosphorus_pct]").await?,
            element,
            "{odd} deletes nothing"
        );
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_heavier_load_settles_as_before(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.copy_material("yard_compost").await?;
    for (end, value) in [(".low", ""), ("", "0.9"), (".high", "")] {
        page.enter(&format!("loose_density_kg_m3{end}"), value)
            .await?;
    }
    let answer = page.text("#shed-answer").await?;
    assert!(answer.contains("moves along"), "{answer}");
    page.run("document.querySelector('#shed .use').click()")
        .await?;
    page.opened("own").await?;
    let own = kept(&page).await?["materials"][0].clone();
    // Green compost: 600 loose, 450 settled; 900 loose gives 675.
    let typical = |value: &Value| {
        value["typical"]
            .as_f64()
            .or(value.as_f64())
            .unwrap_or(f64::NAN)
    };
    assert_eq!(typical(&own["settled_dry_density_kg_m3"]), 675.0, "{own}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn an_open_tool_sees_what_changed_behind_it(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(".title", "mine").await?;
    let link = page.eval("location.href").await?;
    page.type_into(".title", "other").await?;
    page.tool("class").await?;
    // A link takes the recipe's place while the tool is open.
    page.run(&format!("location.href = {link}")).await?;
    page.frame().await?;
    page.enter("class", "loam").await?;
    page.use_tool().await?;
    assert_eq!(kept(&page).await?["title"], json!("mine"), "of the link");
    // What began with the old recipe says so.
    page.tool("ranges").await?;
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.frame().await?;
    page.run("document.querySelector('#shed .use').click()")
        .await?;
    assert_ne!(page.text("#shed-says").await?, "", "it says why");
    page.close_tool().await?;
    // Undo is not for what lies behind a tool.
    page.tool("class").await?;
    let now = kept(&page).await?;
    page.run("document.getElementById('shed').dispatchEvent(new KeyboardEvent('keydown', { key: 'z', ctrlKey: true, bubbles: true }))")
        .await?;
    assert_eq!(kept(&page).await?, now, "nothing moves behind it");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn corners_of_the_triangle_by_keys(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#sand", "100").await?;
    let texture = "['sand', 'silt', 'clay'].map((id) => Number(document.getElementById(id).value))";
    page.keys("#triangle", &char::from(Key::Up).to_string())
        .await?;
    assert_eq!(page.eval(texture).await?, json!([99, 0, 1]), "one step up");
    page.keys("#triangle", &char::from(Key::Down).to_string())
        .await?;
    assert_eq!(page.eval(texture).await?, json!([100, 0, 0]), "and down");
    page.keys("#triangle", &char::from(Key::Down).to_string())
        .await?;
    page.keys("#triangle", &char::from(Key::Left).to_string())
        .await?;
    assert_eq!(page.eval(texture).await?, json!([100, 0, 0]), "the corner");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_to_be_mended_outlives_a_tool(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.paste_into("#organic", "2.x").await?;
    page.paste_into("#clay", "abc").await?;
    page.tool("class").await?;
    page.enter("class", "loam").await?;
    page.use_tool().await?;
    assert_eq!(page.value("#organic").await?, "2.x", "still to be mended");
    assert_ne!(page.text("#organic-says").await?, "", "and told");
    assert_eq!(page.value("#clay").await?, "18", "this one the tool set");
    assert_eq!(page.text("#clay-says").await?, "", "so nothing is to mend");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn enter_uses_and_escape_leads_back(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("dug").await?;
    page.enter("count", "10").await?;
    page.find("#shed [name=count]")
        .await?
        .send_keys(&char::from(Key::Enter).to_string())
        .await?;
    page.frame().await?;
    assert_eq!(
        page.eval("document.getElementById('shed').open").await?,
        json!(false),
        "used by the keyboard"
    );
    assert_eq!(
        page.eval("document.activeElement.dataset.shed").await?,
        json!("dug"),
        "the focus is where it was"
    );
    page.tool("kept").await?;
    page.find("#shed")
        .await?
        .send_keys(&char::from(Key::Escape).to_string())
        .await?;
    assert_eq!(
        page.eval("document.activeElement.tagName").await?,
        json!("SUMMARY"),
        "on the menu that it came from"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn three_numbers_can_be_typed(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let texture = "['sand', 'silt', 'clay'].map((id) => Number(document.getElementById(id).value))";
    for (box_id, number) in [("#sand", "20"), ("#silt", "30"), ("#clay", "50")] {
        page.type_into(box_id, number).await?;
    }
    let stood = page.eval(texture).await?;
    assert_eq!(stood, json!([20, 30, 50]), "as a laboratory told them");
    // What was typed before gives way where there is no room for it.
    page.type_into("#silt", "90").await?;
    let [sand, silt, clay] = [0, 1, 2].map(|at| format!("({texture})[{at}]"));
    assert_eq!(page.number(&silt).await?, 90.0, "what is typed counts");
    let rest = page.number(&format!("{sand} + {clay}")).await?;
    assert!((rest - 10.0).abs() < 1e-6, "{rest} is left");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn moving_a_line_by_keys_removes_nothing(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let lines = "[...document.querySelectorAll('#additions li select')].map((of) => of.value)";
    let before = page.eval(lines).await?;
    let enter = char::from(Key::Enter).to_string();
    page.keys("#additions li:last-child [data-do=up]", &enter)
        .await?;
    let moved = page.eval(lines).await?;
    assert_ne!(moved, before, "it moves");
    let at = page.eval("document.activeElement.dataset.do").await?;
    assert_ne!(at, json!("remove"), "the key does not lie on Remove");
    page.client
        .active_element()
        .await?
        .send_keys(&enter)
        .await?;
    page.frame().await?;
    assert_eq!(page.eval(lines).await?, before, "and back");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_choice_is_taken_wherever_the_focus_is(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let choose = "document.querySelector('#additions [data-do=remove]').focus();
        const list = document.querySelector('#additions li select[data-bind=material]');
        list.value = 'sharp_sand';
        list.dispatchEvent(new Event('change', { bubbles: true }));";
    page.run(choose).await?;
    page.frame().await?;
    let taken = "document.querySelector('#additions li select[data-bind=material]').value";
    assert_eq!(page.eval(taken).await?, json!("sharp_sand"), "it is taken");
    let alive = "document.getElementById('status') && document.querySelector('#verdict').textContent !== ''";
    assert_eq!(page.eval(alive).await?, json!(true), "the page goes on");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_told_again_is_heard_again(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run(
        "window.told = []; new MutationObserver(() => told.push(document.getElementById('status').textContent))
            .observe(document.getElementById('status'), { childList: true, characterData: true, subtree: true });",
    )
    .await?;
    let right = '\u{e014}'.to_string();
    for step in 1..=2 {
        page.keys("[data-bind=crumb]", &right).await?;
        let heard = format!("told.length >= {step}");
        let soon = std::time::Instant::now() + std::time::Duration::from_secs(20);
        while page.eval(&heard).await? != json!(true) && std::time::Instant::now() < soon {
            page.frame().await?;
        }
        assert_eq!(
            page.eval("told.length").await?,
            json!(step),
            "once a change"
        );
    }
    // From the keys of the triangle the fractions are told, since its drawing cannot be heard.
    page.keys("#triangle", &char::from(Key::Up).to_string())
        .await?;
    let soon = std::time::Instant::now() + std::time::Duration::from_secs(20);
    while page.eval("told.length >= 3").await? != json!(true) && std::time::Instant::now() < soon {
        page.frame().await?;
    }
    let told = page.eval("told.at(-1)").await?;
    let told = told.as_str().unwrap_or_default();
    assert!(
        told.starts_with("Sand ") && told.contains("Clay "),
        "{told}"
    );
    page.quiet().await?;
    page.close().await
}
