//! The same of what lies over the page or stands elsewhere: tools, the lectern, the page within
//! another one, and a trial that was recorded.

use super::keep_it::until;
use super::reach::{READS, Reader, STANDS};
use super::trial_read_it;
use crate::browser::{Browser, Played, Stage};
use fantoccini::Locator;
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};
use std::time::Duration;

const LARGE: &[&str] = &["--blink-settings=defaultFontSize=32"];
/// Every tool with fields, lists or words of its own kind.
const TOOLS: [&str; 21] = [
    "usual",
    "jar",
    "feel",
    "class",
    "can",
    "ranges",
    "report",
    "crumbs",
    "parts",
    "dug",
    "fill",
    "dose",
    "[data-shed=line]",
    "measure",
    "own",
    "forget",
    "text",
    "choose",
    "paper",
    "steps",
    "[data-shed=why]",
];
const EMBEDDED: &str = "?embed&show=ground,barrow,verdict,figures,triangle,column";

fn key(key: Key) -> String {
    char::from(key).to_string()
}

/// What has the focus: the control that opened a tool, or the menu that it stands in.
async fn focus_is_back(page: &Browser, tool: &str) -> Result<Value, CmdError> {
    let selector = if tool.contains('[') {
        tool.to_owned()
    } else {
        format!("[data-shed={tool}]")
    };
    page.eval(&format!(
        "(b => document.activeElement === b || document.activeElement === b.closest('.menu')?.querySelector('summary'))
           (document.querySelector('{selector}'))"
    ))
    .await
}

pub(super) async fn reach_tools_and_come_back(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    for tool in TOOLS {
        page.tool(tool).await?;
        let places = reader.walk(tool).await?;
        assert!(!places.is_empty(), "{tool}: something in it is reached");
        let inside = page
            .eval("[document.body, document.documentElement].includes(document.activeElement) || !!document.activeElement.closest('dialog[open]')")
            .await?;
        assert_eq!(inside, json!(true), "{tool}: the focus stays in it");
        reader.unfold().await?;
        reader.ask(tool, READS).await?;
        reader.ask(tool, STANDS).await?;
        reader.names(tool).await?;
        page.client
            .active_element()
            .await?
            .send_keys(&key(Key::Escape))
            .await?;
        until(&page, "!document.querySelector('dialog[open]')").await?;
        let back = focus_is_back(&page, tool).await?;
        assert_eq!(
            back,
            json!(true),
            "{tool}: Escape closes it, and the focus comes back"
        );
    }
    reader.done();
    page.quiet().await?;
    page.close().await
}

pub(super) async fn reach_tools_on_narrow_screens(stage: Stage) -> Played {
    let page = stage.browser(320, 640).await?;
    page.open(&stage.home).await?;
    let mut reader = Reader::of(&page).await?;
    for spaced in [false, true] {
        if spaced {
            reader.space().await?;
        }
        for tool in TOOLS {
            page.tool(tool).await?;
            reader.unfold().await?;
            reader.ask(tool, STANDS).await?;
            page.run("document.querySelector('dialog[open]').close()")
                .await?;
        }
    }
    reader.done();
    page.close().await
}

pub(super) async fn reach_menus_and_leave_them(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let open = "document.querySelector('.menu').open";
    page.keys(".menu summary", &key(Key::Enter)).await?;
    assert_eq!(page.eval(open).await?, json!(true), "a key opens it");
    page.keys(".menu [data-shed=text]", &key(Key::Escape))
        .await?;
    assert_eq!(page.eval(open).await?, json!(false), "Escape closes it");
    let focus = page.eval("document.activeElement.localName").await?;
    assert_eq!(focus, json!("summary"), "and leads back to it");
    page.keys(".menu summary", &key(Key::Enter)).await?;
    page.keys(".menu a[hreflang=fr]", &key(Key::Tab)).await?;
    assert_eq!(
        page.eval(open).await?,
        json!(false),
        "left by Tab it lies over nothing"
    );
    page.close().await
}

/// Opens the lectern at a step that asks for a guess.
async fn at_the_lectern(stage: &Stage, page: &Browser) -> Played {
    page.open(&format!("{}?lectern=half_sand", stage.home))
        .await?;
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(Locator::Css("#lectern[open] .lectern-triangle path"))
        .await?;
    page.frame().await
}

pub(super) async fn reach_the_lectern(stage: Stage) -> Played {
    for (wide, high, more) in [
        (1920, 1080, &[] as &[&str]),
        (320, 640, &[]),
        (1280, 800, LARGE),
    ] {
        let at = format!("lectern {wide} by {high}");
        let page = stage.browser_with(wide, high, more).await?;
        at_the_lectern(&stage, &page).await?;
        let mut reader = Reader::of(&page).await?;
        let places = reader.walk(&at).await?;
        assert!(places.len() > 6, "{at}: {} stops", places.len());
        page.keys("#lectern [data-part=stage]", &key(Key::Right))
            .await?;
        reader.walk(&at).await?;
        page.keys(".lectern-more summary", &key(Key::Enter)).await?;
        page.keys(".lectern-more [data-part=full]", &key(Key::Tab))
            .await?;
        let open = page
            .eval("document.querySelector('.lectern-more').open")
            .await?;
        assert_eq!(open, json!(false), "{at}: a menu that is left is folded");
        page.run("document.querySelector('.lectern-more').open = true")
            .await?;
        reader.ask(&at, READS).await?;
        reader.ask(&at, STANDS).await?;
        reader.names(&at).await?;
        reader.wishes(&[("forced-colors", "active")]).await?;
        reader.ask(&at, &["forced", "moves"]).await?;
        reader.wishes(&[]).await?;
        page.run("document.querySelector('.lectern-more').open = false")
            .await?;
        reader.space().await?;
        reader.ask(&format!("{at}, spaced"), STANDS).await?;
        let read = page
            .eval("document.querySelectorAll('#lectern svg[role=application] > :not([aria-hidden])').length")
            .await?;
        assert_eq!(
            read,
            json!(0),
            "{at}: ticks and names of a drawing are not read one by one"
        );
        page.keys("#lectern [data-part=stage]", &key(Key::Escape))
            .await?;
        let open = page
            .eval("!!document.querySelector('#lectern[open]')")
            .await?;
        assert_eq!(open, json!(false), "{at}: Escape leaves it");
        reader.done();
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn reach_the_page_in_another(stage: Stage) -> Played {
    let page = stage.browser(700, 900).await?;
    let address = format!("{}{EMBEDDED}", stage.home);
    page.open(&address).await?;
    let mut reader = Reader::of(&page).await?;
    reader.walk("embed").await?;
    for wide in [700, 320] {
        page.size(wide, 900).await?;
        page.frame().await?;
        reader.unfold().await?;
        let at = format!("embed {wide}");
        reader.walk(&at).await?;
        reader.ask(&at, READS).await?;
        reader.ask(&at, STANDS).await?;
        reader.names(&at).await?;
        reader
            .wishes(&[
                ("forced-colors", "active"),
                ("prefers-reduced-motion", "reduce"),
            ])
            .await?;
        reader.ask(&at, &["forced", "moves"]).await?;
        reader.wishes(&[]).await?;
        reader.space().await?;
        reader.ask(&format!("{at}, spaced"), STANDS).await?;
        page.run("document.adoptedStyleSheets = [];").await?;
    }
    reader.done();
    page.quiet().await?;
    page.close().await?;
    let page = stage.browser_with(700, 900, LARGE).await?;
    page.open(&address).await?;
    let mut reader = Reader::of(&page).await?;
    reader.unfold().await?;
    reader.ask("embed, large", STANDS).await?;
    reader.done();
    page.close().await
}

pub(super) async fn reach_what_a_trial_shows(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    trial_read_it::open_one_that_is_read(&stage, &page).await?;
    let mut reader = Reader::of(&page).await?;
    reader.unfold().await?;
    for (wide, high) in [(1280, 800), (320, 640)] {
        page.size(wide, high).await?;
        page.frame().await?;
        let at = format!("a trial that is read, {wide}");
        reader.ask(&at, READS).await?;
        reader.ask(&at, STANDS).await?;
        reader.names(&at).await?;
        reader.walk(&at).await?;
    }
    reader.space().await?;
    reader.ask("a trial that is read, spaced", STANDS).await?;
    reader.wishes(&[("forced-colors", "active")]).await?;
    reader
        .ask("a trial that is read", &["forced", "moves"])
        .await?;
    reader.done();
    page.close().await
}
