//! Before buying: one amount or two are swept, offers are typed, the list is read, printed, saved.

use super::keep_it::until;
use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use fantoccini::error::CmdError;
use fantoccini::wd::{PrintConfigurationBuilder, PrintSize};
use serde_json::{Value, json};

const A4: (f64, f64) = (21.0, 29.7);
const ENTER: char = '\u{e007}';

/// Opens the section and a part of it.
pub(super) async fn opened(page: &Browser, part: &str) -> Played {
    page.run("document.getElementById('errand-open').click()")
        .await?;
    until(
        page,
        "!!document.querySelector('#errand-body [name=errand-tab]')",
    )
    .await?;
    tab(page, part).await
}

async fn tab(page: &Browser, part: &str) -> Played {
    page.run(&format!(
        "document.querySelector('#errand-body [name=errand-tab][value={part}]').click()"
    ))
    .await?;
    until(
        page,
        &format!("!document.querySelector('#errand-body [data-panel={part}]').hidden"),
    )
    .await?;
    if part == "sweep" {
        swept(page).await?;
    }
    page.frame().await
}

/// Waits until a sweep is drawn.
async fn swept(page: &Browser) -> Played {
    page.frame().await?;
    page.frame().await?;
    until(
        page,
        "!document.querySelector('#errand-body [data-panel=sweep] [data-part=all]').hasAttribute('data-waits')",
    )
    .await?;
    page.frame().await
}

/// Puts a value into a control, as a hand does, and lets it go.
pub(super) async fn put(page: &Browser, selector: &str, value: &str) -> Played {
    page.client
        .execute(
            "const f = document.querySelector(`#errand-body [data-panel]:not([hidden]) ${arguments[0]}`);
             f.focus();
             f.value = arguments[1];
             f.dispatchEvent(new Event('input', { bubbles: true }));
             f.dispatchEvent(new Event('change', { bubbles: true })); f.blur();",
            vec![json!(selector), json!(value)],
        )
        .await?;
    page.frame().await?;
    page.frame().await
}

pub(super) fn part(panel: &str, name: &str) -> String {
    format!("#errand-body [data-panel={panel}] [data-part={name}]")
}

pub(super) async fn press(page: &Browser, button: &str) -> Played {
    page.run(&format!(
        "document.querySelector('#errand-body [data-errand={button}]').click()"
    ))
    .await?;
    page.frame().await?;
    page.frame().await
}

async fn count(page: &Browser, selector: &str) -> Result<f64, CmdError> {
    page.number(&format!(
        "document.querySelectorAll('#errand-body {selector}').length"
    ))
    .await
}

async fn undo(page: &Browser) -> Played {
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    page.frame().await
}

/// The amount of an addition, as the page has it.
async fn amount(page: &Browser, line: usize) -> Result<String, CmdError> {
    let value = page
        .eval(&format!(
            "document.querySelectorAll('#additions .addition')[{line}].querySelector('input[type=text]').value"
        ))
        .await?;
    Ok(value.as_str().unwrap_or_default().to_owned())
}

pub(super) async fn a_sweep_of_one_amount(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "sweep").await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(
        says.starts_with("From 0 L to 300 L of green compost, air goes"),
        "{says}"
    );
    let drawn = part("sweep", "drawing");
    let unnamed = count(&page, "[type=range]:not([aria-label])").await?;
    assert!(unnamed < 0.5, "every slider has a name, hidden or not");
    let paths = page
        .number(&format!(
            "document.querySelectorAll('{drawn} .curve-line').length"
        ))
        .await?;
    assert!(paths > 0.5, "a curve is drawn");
    assert!(
        (count(&page, ".sweep-table tbody tr").await? - 25.0).abs() < 0.1,
        "and told"
    );

    let usual = page
        .eval("document.querySelector('#errand-body [name=against]').placeholder")
        .await?;
    assert_eq!(usual, Value::from("10"), "a tenth of air");

    // Another figure needs no other sweep; its threshold is the user's own.
    put(&page, "[name=swept]", "organic_matter").await?;
    put(&page, "[name=against]", "4").await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(
        says.contains("Organic matter reaches 4\u{a0}%, your threshold, at "),
        "{says}"
    );
    put(&page, "[name=against]", "90").await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(says.contains("stays below 90\u{a0}%"), "{says}");

    // A point that is looked at, by its box and by its slider, goes into the recipe by Enter.
    page.type_into("#sweep-at-0", "120").await?;
    page.keys("#sweep-at-0", &ENTER.to_string()).await?;
    page.frame().await?;
    page.frame().await?;
    assert_eq!(amount(&page, 1).await?, "120", "it is in the recipe");
    page.keys(
        "#errand-body input[type=range][name=at-0]",
        &times(RIGHT, 4),
    )
    .await?;
    page.frame().await?;
    page.frame().await?;
    let here = page.text(&part("sweep", "here")).await?;
    assert!(here.starts_with("125 L of green compost"), "{here}");
    press(&page, "sweep-take").await?;
    assert_eq!(amount(&page, 1).await?, "125", "by the button");
    undo(&page).await?;
    assert_eq!(amount(&page, 1).await?, "120", "undone");

    // Ends that cannot be are told, and stay as typed.
    put(&page, "[name=high-0]", "-5").await?;
    let told = page.text("#errand-says").await?;
    assert!(told.contains("limits"), "{told}");
    assert_eq!(
        page.value("#errand-body [name=high-0]").await?,
        "-5",
        "it stays"
    );
    put(&page, "[name=high-0]", "0").await?;
    assert!(
        page.text("#errand-says").await?.contains("must end above"),
        "no range"
    );
    put(&page, "[name=high-0]", "600").await?;
    swept(&page).await?;
    assert_eq!(page.text("#errand-says").await?, "", "mended");
    let says = page.text(&part("sweep", "says")).await?;
    assert!(says.contains("to 600 L"), "{says}");

    // The class on the way.
    put(&page, "[name=swept]", "class").await?;
    put(&page, "[name=line-0]", "0").await?;
    put(&page, "[name=high-0]", "1500").await?;
    swept(&page).await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(
        says.contains("of concrete sand it is silty clay; from "),
        "{says}"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_sweep_of_two_amounts(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "sweep").await?;
    put(&page, "[name=line-1]", "0").await?;
    put(&page, "[name=swept]", "pore_space").await?;
    put(&page, "[name=against]", "50").await?;
    swept(&page).await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(
        says.contains("The line is 50\u{a0}%, your threshold."),
        "{says}"
    );
    assert!(count(&page, ".sweep-drawing .tone").await? > 16.0, "tones");
    assert!(
        (count(&page, ".sweep-drawing .sweep-contour").await? - 1.0).abs() < 0.1,
        "a line"
    );
    assert!(
        (count(&page, ".sweep-drawing .sweep-now").await? - 1.0).abs() < 0.1,
        "the blend now"
    );
    assert!(
        (count(&page, ".sweep-table tbody tr").await? - 9.0).abs() < 0.1,
        "a table"
    );

    // A press on the map puts both amounts into the recipe.
    page.run(
        "const d = document.querySelector('#errand-body .sweep-drawing');
         d.scrollIntoView({ block: 'center' });
         const a = d.getBoundingClientRect();
         const at = { bubbles: true, clientX: a.left + a.width * 0.3, clientY: a.top + a.height * 0.3 };
         d.dispatchEvent(new PointerEvent('pointermove', at));",
    )
    .await?;
    page.frame().await?;
    page.frame().await?;
    let here = page.text(&part("sweep", "here")).await?;
    assert!(
        here.contains(" of green compost ") && here.contains("pore space"),
        "{here}"
    );
    let before = [amount(&page, 0).await?, amount(&page, 1).await?];
    page.run(
        "const d = document.querySelector('#errand-body .sweep-drawing');
         const a = d.getBoundingClientRect();
         d.dispatchEvent(new MouseEvent('click', { bubbles: true,
             clientX: a.left + a.width * 0.3, clientY: a.top + a.height * 0.3 }));",
    )
    .await?;
    page.frame().await?;
    page.frame().await?;
    let after = [amount(&page, 0).await?, amount(&page, 1).await?];
    assert!(
        before[0] != after[0] && before[1] != after[1],
        "{before:?}, {after:?}"
    );
    undo(&page).await?;
    assert_eq!(
        [amount(&page, 0).await?, amount(&page, 1).await?],
        before,
        "undone at once"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_sweep_is_cancelled_and_replaced(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "sweep").await?;
    // Before its first slice is over.
    page.run(
        "window.longest = 0; let last = performance.now();
        (function tick(now) { window.longest = Math.max(window.longest, now - last); last = now;
            requestAnimationFrame(tick); })(last);",
    )
    .await?;
    page.run(
        "const f = document.querySelector('#errand-body [name=high-0]');
         f.value = '500'; f.dispatchEvent(new Event('change', { bubbles: true }));
         requestAnimationFrame(() => requestAnimationFrame(() =>
             document.querySelector('[data-errand=sweep-cancel]').click()));",
    )
    .await?;
    until(
        &page,
        "!document.querySelector('[data-errand=sweep-go-on]').hidden",
    )
    .await?;
    let told = page.text(&part("sweep", "progress-says")).await?;
    assert!(told.starts_with("Stopped after "), "{told}");
    press(&page, "sweep-go-on").await?;
    swept(&page).await?;
    until(
        &page,
        "document.querySelectorAll('#errand-body .sweep-table tbody tr').length === 25",
    )
    .await?;
    // A new choice replaces it, and the page goes on meanwhile.
    put(&page, "[name=high-0]", "400").await?;
    put(&page, "[name=high-0]", "450").await?;
    swept(&page).await?;
    let says = page.text(&part("sweep", "says")).await?;
    assert!(says.contains("to 450 L"), "{says}");
    let longest = page.number("window.longest").await?;
    assert!(longest < 250.0, "no frame took long: {longest} ms");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_is_on_sale_is_typed(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "sale").await?;
    let none = part("sale", "none");
    assert!(
        page.text(&none)
            .await?
            .starts_with("Nothing is on sale yet"),
        "none"
    );
    put(&page, "[name=material]", "yard_compost").await?;
    press(&page, "sale-add").await?;
    assert!(
        (count(&page, "[data-offer]").await? - 1.0).abs() < 0.1,
        "one"
    );
    let held = page.eval("document.activeElement.name").await?;
    assert_eq!(held, Value::from("price"), "the price is asked for");
    let row = "[data-offer='0']";
    let no_price = format!("#errand-body {row} [data-part=no-price]");
    assert!(
        page.text(&no_price).await?.starts_with("No price yet"),
        "told"
    );
    for (field, value, word) in [
        ("price", "-3", "Price"),
        ("price", "9999999", "Price"),
        ("price", "ten", "Price"),
        ("size", "0", "Size"),
        ("size", "", "Size"),
        ("water", "120", "Moisture"),
    ] {
        let selector = format!("{row} [name={field}]");
        put(&page, &selector, value).await?;
        let told = page.text("#errand-says").await?;
        assert!(told.starts_with(word), "{field} {value}: {told}");
        assert_eq!(
            page.value(&format!("#errand-body {selector}")).await?,
            value,
            "it stays"
        );
        let good = match field {
            "price" => "5.99",
            "size" => "40",
            _ => "",
        };
        put(&page, &selector, good).await?;
        assert_eq!(page.text("#errand-says").await?, "", "mended");
    }
    put(&page, "[name=currency]", "CHF").await?;
    let comes_to = format!("#errand-body {row} [data-part=comes-to]");
    let told = page.text(&comes_to).await?;
    assert!(
        told.starts_with("40 L loose, 24 kg; CHF 5.99 each"),
        "{told}"
    );
    put(&page, &format!("{row} [name=delivery]"), "15").await?;
    put(&page, &format!("{row} [name=load]"), "10").await?;
    let told = page.text(&comes_to).await?;
    assert!(
        told.contains("errand.offers[0].load.value"),
        "no bag in a load: {told}"
    );
    put(&page, &format!("{row} [name=load]"), "").await?;

    // What is wrong stays to be mended when rows come and go.
    let price = "#errand-body [data-offer='0'] [name=price]";
    put(&page, &format!("{row} [name=price]"), "-3").await?;
    // Invented ones are marked until they are changed.
    press(&page, "sale-invent").await?;
    assert_eq!(page.value(price).await?, "-3", "it stays");
    let told = page.text("#errand-says").await?;
    assert!(told.starts_with("Price"), "and is told: {told}");
    put(&page, &format!("{row} [name=price]"), "5.99").await?;
    assert_eq!(page.text("#errand-says").await?, "", "mended");
    let all = count(&page, "[data-offer]").await?;
    assert!(all > 10.0, "{all} offers");
    let first = page
        .text("#errand-body [data-offer='1'] [data-part=invented]")
        .await?;
    assert_eq!(first, "invented", "marked");
    put(&page, "[data-offer='1'] [name=price]", "31").await?;
    let first = page
        .text("#errand-body [data-offer='1'] [data-part=invented]")
        .await?;
    assert_eq!(first, "", "the user's own");
    put(&page, "[data-offer='1'] [name=price]", "-31").await?;
    press(&page, "sale-remove][value=\"0\"").await?;
    assert_eq!(page.value(price).await?, "-31", "it goes with its row");
    let told = page.text("#errand-says").await?;
    assert!(told.starts_with("Price"), "and is told: {told}");
    put(&page, "[data-offer='0'] [name=price]", "31").await?;
    assert!(
        (count(&page, "[data-offer]").await? - (all - 1.0)).abs() < 0.1,
        "removed"
    );
    undo(&page).await?;
    assert!(
        (count(&page, "[data-offer]").await? - all).abs() < 0.1,
        "undone"
    );
    assert_eq!(page.value(price).await?, "5.99", "in its own row");
    page.reload().await?;
    opened(&page, "sale").await?;
    assert!(
        (count(&page, "[data-offer]").await? - all).abs() < 0.1,
        "kept"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_list_is_read_printed_and_saved(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    page.run(
        "window.printed = 0; window.print = () => { window.printed += 1; };
         window.saved = []; const make = URL.createObjectURL;
         URL.createObjectURL = blob => { blob.text().then(text => window.saved.push(text)); return make(blob); };",
    )
    .await?;
    opened(&page, "sale").await?;
    put(&page, "[name=material]", "yard_compost").await?;
    press(&page, "sale-add").await?;
    put(&page, "[data-offer='0'] [name=price]", "5.99").await?;
    tab(&page, "list").await?;
    let rows = page.text(&part("list", "rows")).await?;
    // 150 L in bags of 40: four for 23.96, ten litres left.
    assert!(
        rows.contains("4 bags of 40 L") && rows.contains("23.96"),
        "{rows}"
    );
    assert!(rows.contains("10.0 L") || rows.contains("10 L"), "{rows}");
    let work = page.text(&part("list", "work")).await?;
    assert!(work.contains("crumbles and does not smear"), "{work}");
    assert!(
        work.contains("52\u{a0}mm") || work.contains("52 mm"),
        "150 L over 2.88 m2: {work}"
    );

    // The sand has its price from the line, by the tonne: 200 kg at 60.
    assert!(rows.contains("EUR 12.00"), "{rows}");
    let sums = page.text(&part("list", "sums")).await?;
    assert!(sums.contains("In all EUR 35.96"), "{sums}");

    // To fill a bed once settled.
    put(&page, "[name=for]", "fill").await?;
    put(&page, "[name=volume]", "1300").await?;
    let sums = page.text(&part("list", "sums")).await?;
    assert!(sums.contains("To fill 1300 L once settled"), "{sums}");
    let work = page.text(&part("list", "work")).await?;
    assert!(
        work.contains("Fill the bed with") && !work.contains("Turn it in"),
        "it is filled: {work}"
    );
    put(&page, "[name=volume]", "-1").await?;
    assert!(
        page.text("#errand-says")
            .await?
            .starts_with("Settled volume"),
        "told"
    );
    put(&page, "[name=for]", "as-is").await?;
    assert_eq!(page.text("#errand-says").await?, "", "mended");

    press(&page, "list-csv").await?;
    until(&page, "window.saved.length === 1").await?;
    let saved = page.eval("window.saved[0]").await?;
    let saved = saved.as_str().unwrap_or_default();
    assert!(
        saved.contains("yard_compost,Green compost,4,40,L,"),
        "{saved}"
    );

    press(&page, "list-print").await?;
    until(&page, "window.printed === 1").await?;
    let sheet = page.text("#sheet-of-paper").await?;
    assert!(
        sheet.contains("4 bags of 40 L") && sheet.contains("In this order"),
        "{sheet}"
    );
    let (width, height) = A4;
    let size = PrintSize { width, height };
    let how = PrintConfigurationBuilder::default().size(size).build();
    let pdf = page.client.print(how.expect("paper of a size")).await?;
    let text = String::from_utf8_lossy(&pdf);
    let pages = text.matches("/Type /Page").count() - text.matches("/Type /Pages").count();
    assert_eq!(pages, 1, "one page");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn an_errand_fits_a_phone(stage: Stage) -> Played {
    for width in [390, 320] {
        let page = stage.browser(width, 844).await?;
        page.open(&stage.home).await?;
        opened(&page, "sale").await?;
        press(&page, "sale-invent").await?;
        for name in ["sale", "sweep", "list"] {
            tab(&page, name).await?;
            if name == "sweep" {
                put(&page, "[name=line-1]", "0").await?;
                swept(&page).await?;
            }
            let wide = page.number("document.documentElement.scrollWidth").await?;
            assert!(wide <= f64::from(width), "{name}: {wide} of {width}");
        }
        let nameless = page
            .number(
                "[...document.querySelectorAll('#errand-body :is(input, select, button)')].filter(f =>
                    !f.labels?.length && !f.getAttribute('aria-label') && !f.getAttribute('aria-labelledby') && !f.textContent.trim()).length",
            )
            .await?;
        assert!(nameless < 0.5, "{nameless} controls have no name");
        page.quiet().await?;
        page.close().await?;
    }
    Ok(())
}

pub(super) async fn markup_on_sale_stays_text(stage: Stage) -> Played {
    let page = stage.browser(1280, 900).await?;
    page.open(&stage.home).await?;
    opened(&page, "sale").await?;
    put(
        &page,
        "[name=currency]",
        "<img src=x onerror=window.broken=1>",
    )
    .await?;
    press(&page, "sale-invent").await?;
    for name in ["sweep", "list"] {
        tab(&page, name).await?;
    }
    tab(&page, "sweep").await?;
    put(&page, "[name=swept]", "cost").await?;
    let broken = page.eval("window.broken === undefined").await?;
    assert_eq!(broken, Value::from(true), "nothing ran");
    let images = count(&page, "img").await?;
    assert!(images < 0.5, "{images} images");
    page.quiet().await?;
    page.close().await
}
