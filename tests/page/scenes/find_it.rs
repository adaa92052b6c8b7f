//! A material is found, looked at, starred and added.

use super::keep_it::until;
use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};

/// Names that the list shows now.
async fn listed(page: &Browser) -> Result<Value, CmdError> {
    page.eval("[...document.querySelectorAll('.finds li')].filter((i) => i.offsetParent).map((i) => i.querySelector('strong').textContent)")
        .await
}

/// Ids of the additions.
async fn added(page: &Browser) -> Result<Value, CmdError> {
    page.eval("[...document.querySelectorAll('#additions select[data-bind=material]')].map((s) => s.value)")
        .await
}

/// What has the focus.
async fn focused(page: &Browser, what: &str) -> Result<Value, CmdError> {
    page.eval(&format!("document.activeElement.{what}")).await
}

/// Presses a button of the open tool that is about a material.
async fn press(page: &Browser, selector: &str) -> Played {
    page.run(&format!(
        "const b = document.querySelector(`#shed {selector}`); b.focus(); b.click();"
    ))
    .await?;
    page.frame().await
}

pub(super) async fn a_search_narrows_the_list(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("choose").await?;
    assert_eq!(
        focused(&page, "name").await?,
        json!("seek"),
        "one can type at once"
    );
    let place = "JSON.stringify(document.getElementById('shed').getBoundingClientRect()) + document.querySelector('.finds').getBoundingClientRect().top";
    let stands = page.eval(place).await?;
    assert_eq!(
        page.number("document.querySelectorAll('.finds li').length")
            .await?,
        42.0,
        "everything is there"
    );
    for (typed, names) in [
        ("worm castings", json!(["Worm compost"])),
        ("clay break", json!(["Gypsum", "Liquid conditioner"])),
        ("clay ca", json!(["Calcined clay", "Gypsum"])),
        ("manure chick", json!(["Poultry manure, composted"])),
        (
            "lime",
            json!([
                "Ground limestone",
                "Ground dolomite",
                "Wood ash",
                "Sharp sand",
                "Mushroom compost, fresh"
            ]),
        ),
        ("qwzx", json!([])),
    ] {
        page.enter("seek", "").await?;
        page.keys("[name=seek]", typed).await?;
        assert_eq!(listed(&page).await?, names, "{typed}");
        assert_eq!(page.eval(place).await?, stands, "nothing jumps at {typed}");
    }
    let none = page.find(".none").await?;
    assert!(none.is_displayed().await?, "it says so");
    assert!(
        none.text().await?.contains("of my own"),
        "and what else there is"
    );
    assert_eq!(page.text("#found").await?, "None found.", "told, too");
    page.enter("seek", "perlite").await?;
    page.keys("[name=seek]", &Key::Enter.to_string()).await?;
    assert_eq!(
        added(&page).await?,
        json!(["concrete_sand", "yard_compost"]),
        "Enter in the search adds nothing"
    );
    page.enter("seek", "qwzx").await?;
    press(&page, "[data-tool=own]").await?;
    page.opened("own").await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_found_becomes_a_line_by_keyboard(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.keys("[data-shed=choose]", &Key::Enter.to_string())
        .await?;
    page.opened("choose").await?;
    page.keys("[name=seek]", "pumice").await?;
    assert_eq!(listed(&page).await?, json!(["Pumice"]), "one is left");
    let tabs = Key::Tab.to_string().repeat(3);
    page.keys("[name=seek]", &tabs).await?;
    assert_eq!(
        focused(&page, "getAttribute('aria-label')").await?,
        json!("Add: Pumice"),
        "three steps on"
    );
    page.keys(
        "#shed li:not([hidden]) [data-tool=add]",
        &Key::Enter.to_string(),
    )
    .await?;
    assert_eq!(
        added(&page).await?,
        json!(["concrete_sand", "yard_compost", "pumice"]),
        "it is a line"
    );
    assert_eq!(
        page.eval("document.getElementById('shed').open").await?,
        json!(false),
        "the list has gone"
    );
    assert_eq!(
        page.eval("document.activeElement === document.querySelector('#additions li:last-child input[type=range]')").await?,
        json!(true),
        "the hand is on its slider"
    );
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    assert_eq!(
        added(&page).await?,
        json!(["concrete_sand", "yard_compost"]),
        "one step back"
    );
    page.tool("choose").await?;
    let escape = Key::Escape.to_string();
    page.keys("#shed [data-tool=close]", &escape).await?;
    assert_eq!(
        focused(&page, "dataset.shed").await?,
        json!("choose"),
        "Escape leads back"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn favourites_come_first_and_are_kept(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.copy_material("perlite").await?;
    page.enter("name", "Bob's mix").await?;
    page.run("document.querySelector('#shed .use').click()")
        .await?;
    page.opened("own").await?;
    page.close_tool().await?;
    page.tool("choose").await?;
    let first = "[...document.querySelectorAll('.finds section')].slice(0, 2).map((s) => [...s.querySelectorAll('h3, strong')].map((e) => e.textContent))";
    assert_eq!(
        page.eval(&format!("{first}[0]")).await?,
        json!(["Your own", "Bob's mix"]),
        "one's own stands first"
    );
    let star = ".star[value=vermiculite]";
    for id in ["vermiculite", "coir", "straw", "my_perlite"] {
        press(&page, &format!(".star[value={id}]")).await?;
    }
    press(&page, ".star[value=straw]").await?;
    let pressed = format!("document.querySelector('{star}').getAttribute('aria-pressed')");
    assert_eq!(page.eval(&pressed).await?, json!("true"), "it is one");
    page.close_tool().await?;
    let groups = "[...document.querySelector('#add').querySelectorAll('optgroup')].slice(0, 1).map((g) => [g.label, ...[...g.children].map((o) => o.value)])[0]";
    assert_eq!(
        page.eval(groups).await?,
        json!(["Favourites", "vermiculite", "coir", "my_perlite"]),
        "in the page's own list too"
    );
    page.reload().await?;
    page.tool("choose").await?;
    assert_eq!(
        page.eval(first).await?,
        json!([
            ["Favourites", "Bob's mix", "Coir", "Vermiculite"],
            [
                "Sand",
                "Play sand",
                "Masonry sand",
                "Concrete sand",
                "Sharp sand"
            ]
        ]),
        "first after a reload"
    );
    press(&page, star).await?;
    assert_eq!(page.eval(&pressed).await?, json!("false"), "no longer");
    page.close_tool().await?;
    page.tool("forget").await?;
    page.use_tool().await?;
    assert_eq!(
        page.eval("localStorage.getItem('barrowmix.favourites')")
            .await?,
        json!(null),
        "forgotten with all else"
    );
    page.tool("choose").await?;
    assert_eq!(
        page.eval(&format!("{first}[0][0]")).await?,
        json!("Sand"),
        "no favourites"
    );
    page.run("Storage.prototype.setItem = () => { throw new Error('full'); }")
        .await?;
    press(&page, star).await?;
    assert!(
        page.text("#shed-says").await?.contains("keeps nothing"),
        "a full storage is told"
    );
    assert_eq!(page.eval(&pressed).await?, json!("false"), "and seen");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_sheet_opens_and_leads_back(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("choose").await?;
    page.keys("[name=seek]", "gyps").await?;
    page.tool("#shed [data-of=gypsum]").await?;
    assert_eq!(page.text("#shed-title").await?, "Gypsum", "it has the name");
    let sheet = page.text("[data-part=sheet]").await?;
    assert!(
        sheet.contains(|letter: char| letter.is_ascii_digit()),
        "and numbers: {sheet}"
    );
    let shows = |kind: &str| {
        format!(
            "[...document.querySelectorAll('#shed .{kind}')].some((e) => {{ e.closest('details').open = true; return e.offsetParent; }})"
        )
    };
    assert_eq!(page.eval(&shows("metric")).await?, json!(true), "metric");
    assert_eq!(page.eval(&shows("us")).await?, json!(false), "and no US");
    press(&page, "[data-tool=return]").await?;
    page.opened("choose").await?;
    assert_eq!(page.value("[name=seek]").await?, "gyps", "as it was left");
    assert_eq!(
        focused(&page, "dataset.of").await?,
        json!("gypsum"),
        "and where"
    );
    page.tool("#shed [data-of=gypsum]").await?;
    press(&page, "[data-tool=add]").await?;
    assert_eq!(
        added(&page).await?,
        json!(["concrete_sand", "yard_compost", "gypsum"]),
        "added from its sheet"
    );
    page.run("document.querySelector('input[value=us]').click()")
        .await?;
    page.tool("#additions li:nth-child(2) [data-shed=line]")
        .await?;
    page.enter("price", "12").await?;
    page.tool("#shed [data-of=yard_compost]").await?;
    assert_eq!(
        page.text("#shed-title").await?,
        "Green compost",
        "of a line"
    );
    assert_eq!(
        page.eval(&shows("metric")).await?,
        json!(false),
        "no metric"
    );
    assert_eq!(page.eval(&shows("us")).await?, json!(true), "but US");
    press(&page, "[data-tool=return]").await?;
    page.opened("line").await?;
    assert_eq!(
        page.value("#shed [name=price]").await?,
        "12",
        "nothing lost"
    );
    page.close_tool().await?;
    assert_eq!(
        page.eval("document.activeElement === document.querySelector('#additions li:nth-child(2) [data-shed=line]')").await?,
        json!(true),
        "the focus is where it began"
    );
    // One's own has no sheet, and is opened itself.
    page.copy_material("perlite").await?;
    page.run("document.querySelector('#shed .use').click()")
        .await?;
    page.opened("own").await?;
    page.close_tool().await?;
    page.tool("choose").await?;
    page.tool("#shed [data-of=my_perlite]").await?;
    assert_eq!(
        page.value("#shed [name=name]").await?,
        "My perlite",
        "to be changed"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_sheet_that_cannot_be_fetched_is_told(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.tool("choose").await?;
    page.run("window.real = fetch; window.fetch = async () => new Response('', { status: 404 })")
        .await?;
    press(&page, "[data-of=gypsum]").await?;
    until(
        &page,
        "document.getElementById('shed-says').textContent.includes('could not be fetched')",
    )
    .await?;
    page.run("window.fetch = window.real").await?;
    page.tool("#shed [data-of=gypsum]").await?;
    assert_eq!(page.text("#shed-title").await?, "Gypsum", "the next time");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_list_fits_a_phone(stage: Stage) -> Played {
    for (width, height) in [(390, 844), (320, 568)] {
        let page = stage.browser(width, height).await?;
        page.open(&stage.home).await?;
        page.tool("choose").await?;
        let wide = "['#shed', '.finds', '.seek'].map((s) => document.querySelector(s)).some((e) => e.scrollWidth > e.clientWidth)";
        assert_eq!(page.eval(wide).await?, json!(false), "{width} wide");
        let small = "[...document.querySelectorAll('#shed button, #shed input')].filter((b) => b.offsetParent).filter((b) => { const r = b.getBoundingClientRect(); return r.width < 44 || r.height < 44; }).map((b) => b.outerHTML)";
        assert_eq!(page.eval(small).await?, json!([]), "all can be touched");
        page.close().await?;
    }
    Ok(())
}
