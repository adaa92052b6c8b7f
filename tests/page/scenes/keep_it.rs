//! Nothing is lost: undo, saving, files, tabs, and what the browser may refuse.

use super::say_it::kept;
use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use serde_json::{Value, json};

/// Gives the page a file by its chooser, or drops one on it.
async fn give(page: &Browser, script_of_bytes: &str, name: &str, drop: bool) -> Played {
    let hand = if drop {
        "document.body.dispatchEvent(new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer: data }));"
    } else {
        "const chooser = document.getElementById('shed-file'); chooser.files = data.files;
         chooser.dispatchEvent(new Event('change'));"
    };
    page.run(&format!(
        "const data = new DataTransfer();
         data.items.add(new File([{script_of_bytes}], '{name}'));
         {hand}"
    ))
    .await?;
    Ok(())
}

/// Waits until something is true.
pub(super) async fn until(page: &Browser, what: &str) -> Played {
    for _ in 0..200 {
        if page.eval(what).await? == json!(true) {
            return Ok(());
        }
        tokio::time::sleep(std::time::Duration::from_millis(25)).await;
    }
    panic!("never: {what}");
}

pub(super) async fn undo(page: &Browser) -> Played {
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await
}

/// What the page holds: its link says every digit.
async fn state(page: &Browser) -> Result<Value, CmdError> {
    page.eval("location.hash").await
}

pub(super) async fn everything_is_undone_and_redone(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    let mut states = Vec::new();
    page.keys(
        "#ground input[type=range][data-bind=clay_pct]",
        &times(RIGHT, 1),
    )
    .await?;
    states.push(state(&page).await?);
    page.type_into("#additions li:first-child input[type=text]", "321")
        .await?;
    states.push(state(&page).await?);
    page.run("document.querySelector('[data-do=add]').click()")
        .await?;
    states.push(state(&page).await?);
    page.choose("#additions li:last-child [data-bind=unit]", "L")
        .await?;
    states.push(state(&page).await?);
    page.run("document.querySelector('#additions li:last-child [data-do=up]').click()")
        .await?;
    states.push(state(&page).await?);
    page.run("document.querySelector('#additions li:first-child [data-do=remove]').click()")
        .await?;
    states.push(state(&page).await?);
    page.type_into(".title", "Another <i>name</i>").await?;
    states.push(state(&page).await?);
    page.choose("#place-kind", "container").await?;
    states.push(state(&page).await?);
    let mut different = states.clone();
    different.dedup();
    assert_eq!(different.len(), 8, "each is another state");
    for expected in states.iter().rev().skip(1) {
        undo(&page).await?;
        assert_eq!(
            &state(&page).await?,
            expected,
            "everything is undone and redone"
        );
    }
    undo(&page).await?;
    assert_eq!(page.shown().await?, shown, "back at the demo");
    assert_eq!(
        page.eval("document.getElementById('undo').disabled")
            .await?,
        json!(true),
        "everything is undone and redone"
    );
    for expected in &states {
        page.run("document.getElementById('redo').click()").await?;
        page.frame().await?;
        assert_eq!(
            &state(&page).await?,
            expected,
            "everything is undone and redone"
        );
    }
    assert_eq!(
        page.value(".title").await?,
        "Another <i>name</i>",
        "everything is undone and redone"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn keys_held_on_a_slider_are_one_step(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    page.keys(
        "#ground input[type=range][data-bind=clay_pct]",
        &times(RIGHT, 7),
    )
    .await?;
    page.run("document.activeElement.blur()").await?;
    page.run(
        "document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'z', ctrlKey: true, bubbles: true }))",
    )
    .await?;
    page.frame().await?;
    assert_eq!(
        page.shown().await?,
        shown,
        "one step back is before them all"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_bare_visit_finds_what_was_kept(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#additions li:first-child input[type=text]", "123.25")
        .await?;
    let shown = page.shown().await?;
    page.open("about:blank").await.ok();
    page.open(&stage.home).await?;
    assert_eq!(page.shown().await?, shown, "without a link in the address");
    // A link takes its place, and undo brings it back.
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.frame().await?;
    let demo = page.eval("location.href").await?;
    undo(&page).await?;
    assert_eq!(
        page.shown().await?,
        shown,
        "a bare visit finds what was kept"
    );
    page.open("about:blank").await.ok();
    page.open(demo.as_str().unwrap_or_default()).await?;
    assert_ne!(page.shown().await?, shown, "the link is opened");
    assert!(
        page.text("#said").await?.contains("Undo"),
        "and what was kept is spoken of"
    );
    undo(&page).await?;
    assert_eq!(page.shown().await?, shown, "what was kept is back");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn two_tabs_do_not_overwrite_each_other(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into("#additions li:first-child input[type=text]", "111")
        .await?;
    let first = page.client.window().await?;
    let second = page.client.new_window(true).await?.handle;
    page.client.switch_to_window(second.clone()).await?;
    page.open(&stage.home).await?;
    page.type_into("#additions li:first-child input[type=text]", "222")
        .await?;
    page.client.switch_to_window(first).await?;
    page.type_into("#additions li:first-child input[type=text]", "333")
        .await?;
    assert_eq!(
        page.eval("document.getElementById('other-tab').hidden")
            .await?,
        json!(false),
        "it is told"
    );
    let amount = |recipe: Value| recipe["additions"][0]["amount"]["value"].clone();
    assert_eq!(
        amount(kept(&page).await?),
        json!(222),
        "nothing is overwritten"
    );
    page.run("document.querySelector('[data-do=keep-mine]').click()")
        .await?;
    assert_eq!(amount(kept(&page).await?), json!(333), "as chosen");
    assert_eq!(
        page.eval("document.getElementById('other-tab').hidden")
            .await?,
        json!(true),
        "two tabs do not overwrite each other"
    );
    // The other one is laid by, and can be opened.
    page.tool("kept").await?;
    page.run("document.querySelector('#shed [data-tool=open-kept]').click()")
        .await?;
    page.frame().await?;
    assert_eq!(
        amount(kept(&page).await?),
        json!(222),
        "the other one is there"
    );
    // And the second tab, which knows of none of this, takes what is kept.
    page.client.switch_to_window(second).await?;
    page.type_into("#additions li:first-child input[type=text]", "444")
        .await?;
    let told = page
        .eval("!document.getElementById('other-tab').hidden")
        .await?;
    if told == json!(true) {
        page.run("document.querySelector('[data-do=take-theirs]').click()")
            .await?;
        page.frame().await?;
        assert_eq!(
            page.value("#additions li:first-child input[type=text]")
                .await?,
            "222",
            "two tabs do not overwrite each other"
        );
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn storage_that_is_full_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }")
        .await?;
    page.type_into("#additions li:first-child input[type=text]", "77")
        .await?;
    assert_eq!(
        page.eval("document.getElementById('not-kept').hidden")
            .await?,
        json!(false),
        "it is told"
    );
    let shown = page.shown().await?;
    page.reload().await?;
    assert_eq!(page.shown().await?, shown, "the address still holds it");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_file_is_saved_and_opened(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(".title", "Bed / 7: \"north\"").await?;
    page.type_into("#additions li:first-child input[type=text]", "250.125")
        .await?;
    // What the browser would write to disk.
    page.run(
        "window.saved = []; const make = URL.createObjectURL;
         URL.createObjectURL = (blob) => { blob.text().then((t) => saved.push(t)); return make(blob); };
         HTMLAnchorElement.prototype.click = function () { window.savedAs = this.download; };",
    )
    .await?;
    page.run("document.querySelector('[data-shed=save]').click()")
        .await?;
    until(&page, "saved.length === 1").await?;
    assert_eq!(
        page.eval("savedAs").await?,
        json!("bed-7-north.barrowmix.json"),
        "a file is saved and opened"
    );
    let shown = page.shown().await?;
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.frame().await?;
    assert_ne!(page.shown().await?, shown, "a file is saved and opened");
    for drop in [false, true] {
        if !drop {
            page.run("document.querySelector('[data-shed=open]').click()")
                .await?;
            until(&page, "!!document.getElementById('shed-file')").await?;
        }
        give(&page, "saved[0]", "any.json", drop).await?;
        until(
            &page,
            "document.querySelector('.title').value.startsWith('Bed')",
        )
        .await?;
        assert_eq!(page.shown().await?, shown, "all of it, drop {drop}");
        undo(&page).await?;
        assert_ne!(page.shown().await?, shown, "opening is a step too");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn files_that_are_none_change_nothing(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    for (bytes, said) in [
        ("new Uint8Array(10e6)", "10 MB"),
        ("'{\"barrowmix\": 2}'", "barrowmix"),
        ("'{'", "line"),
        ("new Uint8Array([255, 254, 0, 1])", "line"),
        ("'<html></html>'", "line"),
        ("''", "line"),
    ] {
        give(&page, bytes, "odd.barrowmix.json", true).await?;
        until(
            &page,
            "document.getElementById('shed').open && document.querySelector('.shed-body').textContent !== ''",
        )
        .await?;
        let told = page.text("#shed .shed-body").await?;
        assert!(told.contains(said), "{bytes}: {told}");
        assert_eq!(page.shown().await?, shown, "{bytes} changed nothing");
        page.run(
            "document.querySelector('#shed [data-tool=close]').click();
                  document.querySelector('.shed-body').textContent = ''",
        )
        .await?;
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn materials_travel_by_file(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let list = r#"'{"barrowmix":1,"materials":[{"id":"pit_sand","name":"Pit","loose_density_kg_m3":1450},{"id":"gypsum","name":"Mine","group":"powder","loose_density_kg_m3":900}]}'"#;
    give(&page, list, "two.materials.json", true).await?;
    page.opened("own").await?;
    let own = kept(&page).await?["materials"].clone();
    assert_eq!(own.as_array().map(Vec::len), Some(2), "{own}");
    assert_ne!(own[1]["id"], json!("gypsum"), "a name that was taken");
    page.close_tool().await?;
    let twice = r#"'{"barrowmix":1,"materials":[{"id":"a","loose_density_kg_m3":1450},{"id":"a","loose_density_kg_m3":900}]}'"#;
    give(&page, twice, "twice.json", true).await?;
    until(
        &page,
        "document.getElementById('shed').open && document.getElementById('shed').dataset.toolOpen === 'say'",
    )
    .await?;
    assert_eq!(
        kept(&page).await?["materials"].as_array().map(Vec::len),
        Some(2),
        "nothing is taken from it"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_result_as_text(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("text").await?;
    let text = page.value("#shed [name=text]").await?;
    for part in [
        "Willowbank",
        "silty clay",
        "Concrete sand",
        "pores",
        "1.25 kg/L",
    ] {
        assert!(
            text.to_lowercase().contains(&part.to_lowercase()),
            "{part} in {text}"
        );
    }
    assert!(!text.contains('<'), "plain text");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn my_data_are_deleted(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let shown = page.shown().await?;
    page.run(
        "document.querySelector('input[value=us]').click(); localStorage.setItem('other', 'club')",
    )
    .await?;
    page.type_into("#additions li:first-child input[type=text]", "9")
        .await?;
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.run("document.querySelector('input[value=metric]').click()")
        .await?;
    assert_ne!(
        page.eval("Object.keys(localStorage).filter((k) => k.startsWith('barrowmix')).length")
            .await?,
        json!(0),
        "my data are deleted"
    );
    page.tool("forget").await?;
    page.use_tool().await?;
    assert_eq!(
        page.eval("Object.keys(localStorage)").await?,
        json!(["other"]),
        "ours are gone, another's stay"
    );
    assert_eq!(
        page.eval("location.hash").await?,
        json!(""),
        "my data are deleted"
    );
    assert_eq!(page.shown().await?, shown, "the demo");
    assert_eq!(
        page.eval("document.getElementById('undo').disabled")
            .await?,
        json!(true),
        "nothing to go back to"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn markup_in_every_field_stays_text(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let markup = "<img src=x onerror=\"document.title='broken'\"><b>x</b>";
    page.paste_into(".title", markup).await?;
    let fields = page
        .number("document.querySelectorAll('main input[type=text]').length")
        .await? as usize;
    for index in 0..fields {
        page.client
            .execute(
                "const f = document.querySelectorAll('main input[type=text]')[arguments[0]];
                 f.value = arguments[1]; f.dispatchEvent(new Event('input', { bubbles: true }));
                 f.dispatchEvent(new Event('change', { bubbles: true }));",
                vec![json!(index), json!(markup)],
            )
            .await?;
    }
    for tool in [
        "jar", "can", "ranges", "parts", "dug", "fill", "line", "own", "text", "kept",
    ] {
        page.tool(tool).await?;
        page.client
            .execute(
                "for (const f of document.querySelectorAll('#shed input[type=text], #shed textarea')) {
                     f.value = arguments[0]; f.dispatchEvent(new Event('input', { bubbles: true })); }",
                vec![json!(markup)],
            )
            .await?;
        page.close_tool().await?;
    }
    assert_eq!(
        page.eval("document.querySelectorAll('img, main b').length")
            .await?,
        json!(0),
        "markup in every field stays text"
    );
    assert_ne!(
        page.eval("document.title").await?,
        json!("broken"),
        "markup in every field stays text"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_hundred_turns_of_units_move_no_digit(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(
        "#additions li:first-child input[type=text]",
        "200.123456789",
    )
    .await?;
    page.type_into("input[type=text][data-bind=bulk_density_kg_m3]", "1.2345")
        .await?;
    let before = kept(&page).await?;
    for _ in 0..50 {
        page.run("document.querySelector('input[value=us]').click(); document.querySelector('input[value=metric]').click()")
            .await?;
    }
    page.frame().await?;
    assert_eq!(
        kept(&page).await?,
        before,
        "a hundred turns of units move no digit"
    );
    page.reload().await?;
    page.type_into(".title", "x").await?;
    let mut after = kept(&page).await?;
    after["title"] = before["title"].clone();
    assert_eq!(after, before, "nor does a reload");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_being_typed_is_not_lost(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    // Typed, and the page left without leaving the box.
    page.run(
        "const f = document.querySelector('#additions li:first-child input[type=text]');
         f.focus(); f.value = '234'; f.dispatchEvent(new Event('input', { bubbles: true }));
         document.dispatchEvent(new Event('visibilitychange'));",
    )
    .await?;
    assert_eq!(
        kept(&page).await?["additions"][0]["amount"]["value"],
        json!(234),
        "kept when the page is hidden"
    );
    // A tool closed by mistake has what was typed when it is opened again.
    page.tool("jar").await?;
    page.enter("sand", "31").await?;
    page.enter("silt", "22").await?;
    page.close_tool().await?;
    page.tool("jar").await?;
    assert_eq!(page.value("#shed [name=sand]").await?, "31", "still there");
    page.enter("clay", "40").await?;
    page.use_tool().await?;
    page.tool("parts").await?;
    page.enter("phrase", "2 soil, 1 bark").await?;
    page.close_tool().await?;
    page.tool("parts").await?;
    assert_eq!(
        page.value("#shed [name=phrase]").await?,
        "2 soil, 1 bark",
        "of the same recipe"
    );
    page.close_tool().await?;
    page.run("document.querySelector('[data-do=demo]').click()")
        .await?;
    page.tool("parts").await?;
    assert_eq!(
        page.value("#shed [name=phrase]").await?,
        "",
        "not of another one"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_tool_used_without_a_change_changes_nothing(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.type_into(
        "#additions li:first-child input[type=text]",
        "200.123456789",
    )
    .await?;
    page.type_into(
        "input[type=text][data-bind=bulk_density_kg_m3]",
        "1.23456789",
    )
    .await?;
    let before = kept(&page).await?;
    for tool in [
        "ranges",
        "#additions li:nth-child(1) [data-shed=line]",
        "#additions li:nth-child(2) [data-shed=line]",
    ] {
        page.tool(tool).await?;
        page.use_tool().await?;
        assert_eq!(kept(&page).await?, before, "{tool}");
    }
    page.quiet().await?;
    page.close().await
}
