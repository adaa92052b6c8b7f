//! Blends are kept, compared, renamed, doubled, deleted and put back.

use super::keep_it::{undo, until};
use super::{RIGHT, times};
use crate::browser::{Browser, Played, Stage};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::{Recipe, from_link, to_letters};
use barrowmix::shelf::{
    Against, Compared, SHELF_LIMIT, Shelved, Side, compare, keep, set_shelf, shelf_of,
};
use barrowmix::words::{METRIC, class_told, compared_told, difference_told, odds_told};
use fantoccini::error::CmdError;
use fantoccini::key::Key;
use serde_json::{Value, json};
use std::rc::Rc;

const CLAY: &str = r#"{"barrowmix":1,"title":"Bed",
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
    "soil":{"value":40,"unit":"L"},
    "additions":[{"material":"yard_compost","amount":{"value":10,"unit":"L"}}]}"#;
const NAMES: &str =
    "[...document.querySelectorAll('#shelf-body [name=blend-name]')].map((e) => e.value)";
const FIRST: &str = "#additions li:first-child input[type=range]";

/// The clay with so many litres of compost.
fn with(litres: f64) -> Recipe {
    let mut recipe = Recipe::from_json(CLAY).expect("it is right");
    recipe.additions[0].amount.value = litres;
    recipe
}

/// The clay with kept blends of more and more compost.
fn kept(count: usize) -> Recipe {
    let mut list: Vec<Shelved> = Vec::new();
    for at in 0..count {
        list = keep(&list, &with(4.0 * (at + 1) as f64), &format!("Blend {at}"))
            .expect("there is room");
    }
    let mut recipe = with(10.0);
    set_shelf(&mut recipe, &list);
    recipe
}

async fn opened_with(page: &Browser, stage: &Stage, recipe: &Recipe) -> Played {
    page.open(&format!("{}#{}", stage.home, to_letters(recipe)))
        .await?;
    page.run("document.getElementById('shelf-open').click()")
        .await?;
    settled(page).await
}

/// Waits until every blend is drawn and compared.
async fn settled(page: &Browser) -> Played {
    page.frame().await?;
    page.frame().await?;
    until(
        page,
        "document.getElementById('shelf-body').matches(':not([hidden]):not([data-waits])') &&
         ![...document.querySelectorAll('.shelf-value')].some((e) => e.textContent === '…')",
    )
    .await?;
    page.frame().await
}

async fn press(page: &Browser, what: &str, index: usize) -> Played {
    let script = format!(
        "const b = document.querySelector('#shelf-body [data-shelf={what}][value=\"{index}\"]');
         b.focus(); b.click();"
    );
    page.run(&script).await?;
    settled(page).await
}

async fn done(page: &Browser) -> Result<String, CmdError> {
    page.text("#shelf-body [data-part=done]").await
}

/// The texts of a cell, without what holds words together.
async fn cell(page: &Browser, row: usize, column: usize) -> Result<Vec<String>, CmdError> {
    let script = format!(
        "[...document.querySelectorAll('.shelf-table tbody tr')[{row}]
            .querySelectorAll('td')[{column}].querySelectorAll('span')]
            .map((e) => e.textContent.replaceAll('\\u00a0', ' '))"
    );
    let texts: Value = page.eval(&script).await?;
    Ok(serde_json::from_value(texts).unwrap_or_default())
}

fn side(recipe: &Recipe) -> Side {
    let outcome = Outcome::of(recipe).expect("it can be mixed");
    let alone = Side::ground_alone(recipe, &outcome)
        .map(|alone| Rc::new(Outcome::of(&alone).expect("a ground can be alone")));
    Side { outcome, alone }
}

/// The recipe that the page's address holds.
async fn in_address(page: &Browser) -> Result<Recipe, CmdError> {
    let hash = page.eval("location.hash.slice(1)").await?;
    Ok(from_link(hash.as_str().unwrap_or_default()).expect("the address holds a recipe"))
}

pub(super) async fn a_blend_is_kept_and_stays(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    page.run("document.getElementById('shelf-open').click()")
        .await?;
    until(&page, "!document.getElementById('shelf-body').hidden").await?;
    page.frame().await?;
    let empty = page.text("#shelf-body [data-part=empty]").await?;
    assert!(
        empty.contains("Keep a blend"),
        "it says what it is for: {empty}"
    );
    assert_eq!(
        page.eval("document.querySelector('#shelf-body [data-part=all]').hidden")
            .await?,
        json!(true),
        "and shows nothing else"
    );
    page.run("document.querySelector('[data-shed=keep]').click()")
        .await?;
    settled(&page).await?;
    let first = page.eval(NAMES).await?;
    assert_eq!(first.as_array().map(Vec::len), Some(1), "one is kept");
    assert!(done(&page).await?.starts_with("Kept as “"), "it is told");
    page.run("document.querySelector('[data-shed=keep]').click()")
        .await?;
    settled(&page).await?;
    assert!(done(&page).await?.contains("already"), "not twice");
    let before = cell(&page, 5, 1).await?;
    page.keys(FIRST, &times(RIGHT, 12)).await?;
    settled(&page).await?;
    assert_eq!(cell(&page, 5, 1).await?, before, "the kept one stays");
    assert_ne!(
        cell(&page, 5, 0).await?[..1],
        before[..1],
        "the page's moves"
    );
    page.run("document.querySelector('[data-shed=keep]').click()")
        .await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?.as_array().map(Vec::len),
        Some(2),
        "another one beside it"
    );
    let names = page.eval(NAMES).await?;
    page.reload().await?;
    page.run("document.getElementById('shelf-open').click()")
        .await?;
    settled(&page).await?;
    assert_eq!(page.eval(NAMES).await?, names, "a reload finds both");
    assert_eq!(cell(&page, 5, 1).await?[..2], before[..2], "as they were");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_shows_the_numbers_of_the_core(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    let recipe = kept(3);
    opened_with(&page, &stage, &recipe).await?;
    let mut sides = vec![side(&recipe)];
    for shelved in shelf_of(&recipe).expect("it reads") {
        sides.push(side(&shelved.recipe(&recipe).expect("it reads")));
    }
    for (choice, against) in [("ground", None), ("1", Some(2)), ("now", Some(0))] {
        page.choose("#shelf-body [name=against]", choice).await?;
        settled(&page).await?;
        for (column, side) in sides.iter().enumerate() {
            let class = class_told(&side.outcome).expect("it has a class");
            assert_eq!(
                cell(&page, 0, column).await?[..2],
                [class.value, class.range],
                "the class, column {column}"
            );
            for (row, of) in Compared::ALL.into_iter().enumerate() {
                let shown = cell(&page, row + 1, column).await?;
                let told = compared_told(of, &side.outcome, None, METRIC).unwrap_or_default();
                if !told.value.is_empty() {
                    assert_eq!(
                        shown[..2],
                        [told.value, told.range],
                        "{of:?}, column {column}"
                    );
                }
                let apart = match against {
                    Some(at) if at == column => None,
                    Some(at) => compare(of, side, Against::Other(&sides[at])),
                    None => compare(of, side, Against::Ground),
                };
                let expected = apart.map_or(<[String; 3]>::default(), |apart| {
                    let told = difference_told(of, apart.difference, None, METRIC);
                    [told.value, told.range, odds_told(of, &apart)]
                });
                assert_eq!(
                    shown[2..],
                    expected,
                    "{of:?}, column {column}, from {choice}"
                );
            }
        }
    }
    assert_eq!(
        page.number("document.querySelectorAll('.shelf-triangle .shelf-ring').length")
            .await?,
        3.0,
        "the kept ones are on the triangle"
    );
    assert_eq!(
        page.eval("[...document.querySelectorAll('.shelf-triangle .shelf-digit')].map((e) => e.textContent)")
            .await?,
        json!(["1", "2", "3"]),
        "by their numbers"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_is_changed_and_undone(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened_with(&page, &stage, &kept(3)).await?;
    let box_of = |at: usize| format!("#shelf-body [data-at=\"{at}\"]");
    page.type_into(&box_of(1), "Thick").await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 0", "Thick", "Blend 2"]),
        "renamed"
    );
    assert!(done(&page).await?.contains("“Thick”"), "it is told");
    page.type_into(&box_of(2), "Thick").await?;
    page.frame().await?;
    let says = page.text("#shelf-says").await?;
    assert!(
        says.contains("has this name"),
        "a name that is taken: {says}"
    );
    assert_eq!(
        page.value(&box_of(2)).await?,
        "Thick",
        "what was typed stays"
    );
    page.type_into(&box_of(2), " ").await?;
    page.frame().await?;
    let says = page.text("#shelf-says").await?;
    assert!(says.contains("needs a name"), "no name: {says}");
    page.type_into(&box_of(2), "Blend 2").await?;
    page.frame().await?;
    assert_eq!(page.text("#shelf-says").await?, "", "mended");

    press(&page, "double", 1).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 0", "Thick", "Thick 2", "Blend 2"]),
        "doubled"
    );
    press(&page, "delete", 0).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Thick", "Thick 2", "Blend 2"]),
        "deleted"
    );
    let told = done(&page).await?;
    assert!(
        told.contains("Undo brings it back"),
        "it says how to take it back: {told}"
    );
    page.run("document.querySelector('#shelf-body [data-shelf=undo]').click()")
        .await?;
    tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 0", "Thick", "Thick 2", "Blend 2"]),
        "and it is back"
    );
    press(&page, "later", 0).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Thick", "Blend 0", "Thick 2", "Blend 2"]),
        "moved"
    );
    // Organic matter, the fourth of what is compared.
    page.choose("#shelf-body [name=sort]", "3").await?;
    page.run("document.querySelector('#shelf-body [data-shelf=high]').click()")
        .await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 2", "Thick", "Thick 2", "Blend 0"]),
        "sorted, the highest first; equals stay"
    );
    page.choose("#shelf-body [name=sort]", "name").await?;
    page.run("document.querySelector('#shelf-body [data-shelf=low]').click()")
        .await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 0", "Blend 2", "Thick", "Thick 2"]),
        "by name"
    );
    press(&page, "put", 1).await?;
    let recipe = in_address(&page).await?;
    assert_eq!(recipe.additions[0].amount.value, 12.0, "it is on the page");
    assert_eq!(
        recipe.title.as_deref(),
        Some("Bed"),
        "under the page's title"
    );
    assert_eq!(
        shelf_of(&recipe).map(|list| list.len()),
        Ok(4),
        "with its shelf"
    );
    assert_eq!(
        page.value("#additions li:first-child input[type=text]")
            .await?,
        "12",
        "its slider shows it"
    );
    undo(&page).await?;
    settled(&page).await?;
    assert_eq!(
        in_address(&page).await?.additions[0].amount.value,
        10.0,
        "undo brings back what was there"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_goes_with_the_file_and_the_link(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    let recipe = kept(4);
    opened_with(&page, &stage, &recipe).await?;
    press(&page, "delete", 3).await?;
    page.run(
        "window.saved = []; const make = URL.createObjectURL;
         URL.createObjectURL = (blob) => { blob.text().then((t) => saved.push(t)); return make(blob); };
         HTMLAnchorElement.prototype.click = function () {};",
    )
    .await?;
    page.run("document.querySelector('[data-shed=save]').click()")
        .await?;
    until(&page, "saved.length === 1").await?;
    let file = page.eval("saved[0]").await?;
    let saved = Recipe::from_json(file.as_str().unwrap_or_default()).expect("the file reads");
    let names = |recipe: &Recipe| -> Vec<String> {
        let list = shelf_of(recipe).expect("it reads");
        list.into_iter().map(|shelved| shelved.name).collect()
    };
    assert_eq!(
        names(&saved),
        ["Blend 0", "Blend 1", "Blend 2"],
        "the file has it"
    );
    assert_eq!(
        names(&in_address(&page).await?),
        names(&saved),
        "so has the link"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_full_shelf_and_a_broken_one_say_so(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened_with(&page, &stage, &kept(SHELF_LIMIT)).await?;
    assert_eq!(
        page.eval("document.querySelector('#shelf-body [data-part=full]').hidden")
            .await?,
        json!(false),
        "it is full"
    );
    page.run("document.querySelector('[data-shed=keep]').click()")
        .await?;
    settled(&page).await?;
    let says = page.text("#shelf-says").await?;
    assert!(says.contains("full"), "no ninth: {says}");
    assert_eq!(
        page.eval(NAMES).await?.as_array().map(Vec::len),
        Some(SHELF_LIMIT),
        "nothing is lost"
    );
    let json = CLAY.replace("\"title\"", "\"shelf\":[{\"name\":\"\"}],\"title\"");
    let broken = Recipe::from_json(&json).expect("the page reads it");
    let other = stage.browser(1280, 800).await?;
    other
        .open(&format!("{}#{}", stage.home, to_letters(&broken)))
        .await?;
    other
        .run("document.getElementById('shelf-open').click()")
        .await?;
    until(
        &other,
        "document.getElementById('shelf-says')?.textContent.includes('shelf[0]')",
    )
    .await?;
    other
        .run("document.querySelector('#shelf-body [data-shelf=clear]').click()")
        .await?;
    other.frame().await?;
    other.frame().await?;
    assert_eq!(
        in_address(&other).await?.shelf,
        None,
        "it can be taken away"
    );
    undo(&other).await?;
    assert_eq!(
        in_address(&other).await?.shelf,
        broken.shelf,
        "and brought back"
    );
    other.quiet().await?;
    other.close().await?;
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_by_keyboard_alone(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}#{}", stage.home, to_letters(&kept(2))))
        .await?;
    let enter = Key::Enter.to_string();
    page.keys("#shelf-open", &enter).await?;
    settled(&page).await?;
    page.keys("#shelf [data-shed=keep]", &enter).await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?.as_array().map(Vec::len),
        Some(3),
        "kept"
    );
    page.keys("#shelf-body [data-shelf=delete][value=\"1\"]", &enter)
        .await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?.as_array().map(Vec::len),
        Some(2),
        "deleted"
    );
    assert_eq!(
        page.eval("[document.activeElement.dataset.shelf, document.activeElement.value]")
            .await?,
        json!(["delete", "1"]),
        "the focus is on the next one's"
    );
    page.keys("#shelf-body [data-shelf=undo]", &enter).await?;
    tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?.as_array().map(Vec::len),
        Some(3),
        "undone"
    );
    let order = page
        .eval("[...document.querySelectorAll('.shelf-table th')].every((th) => ['row', 'col'].includes(th.scope))")
        .await?;
    assert_eq!(order, json!(true), "every head says what it heads");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_has_room_on_every_screen(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    opened_with(&page, &stage, &kept(SHELF_LIMIT)).await?;
    for width in [320, 360, 390, 600, 760, 1000, 1280, 1920] {
        page.size(width, 844).await?;
        page.frame().await?;
        page.frame().await?;
        let over = page
            .number("document.scrollingElement.scrollWidth - innerWidth")
            .await?;
        assert!(over <= 0.0, "{width} wide: {over} too much");
        let out = page
            .eval(
                "[...document.querySelectorAll('.shelf-table td')].filter((td) => {
                   const cell = td.getBoundingClientRect();
                   return [...td.querySelectorAll('span')].some((e) =>
                     e.getBoundingClientRect().right > cell.right + 1); }).map((td) => td.textContent)",
            )
            .await?;
        assert_eq!(out, json!([]), "no text leaves its cell, {width} wide");
    }
    page.size(390, 844).await?;
    page.frame().await?;
    let sticks = page
        .eval(
            "(() => { const box = document.querySelector('.shelf-scroll'); box.scrollLeft = 400;
               const th = document.querySelector('.shelf-table tbody th').getBoundingClientRect();
               return box.scrollLeft > 0 && Math.abs(th.left - box.getBoundingClientRect().left) < 1; })()",
        )
        .await?;
    assert_eq!(sticks, json!(true), "the names of the rows stay in sight");
    let small = page
        .eval("[...document.querySelectorAll('#shelf button, #shelf select, #shelf input')].filter((e) => e.offsetHeight && e.offsetHeight < 44).map((e) => e.outerHTML)")
        .await?;
    assert_eq!(small, json!([]), "targets for a thumb");
    let nameless = page
        .eval(
            "[...document.querySelectorAll('#shelf input, #shelf select, #shelf button')].filter((e) =>
               !e.getAttribute('aria-label') && !e.textContent.trim() &&
               !(e.labels?.length && [...e.labels].some((l) => l.textContent.trim()))).map((e) => e.outerHTML)",
        )
        .await?;
    assert_eq!(nameless, json!([]), "every control has a name");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_speaks_the_units_shown(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened_with(&page, &stage, &kept(2)).await?;
    // Density and weight, the eighth and the twelfth of what is compared.
    assert!(cell(&page, 8, 1).await?[0].ends_with("kg/L"), "metric");
    let held = in_address(&page).await?;
    page.run("document.querySelector('input[name=units][value=us]').click()")
        .await?;
    settled(&page).await?;
    for (row, unit) in [(8, "lb/ft³"), (12, "lb")] {
        for column in 0..3 {
            let told = cell(&page, row, column).await?;
            assert!(told[0].ends_with(unit), "{told:?}");
            assert!(told[2].is_empty() || told[2].ends_with(unit), "{told:?}");
        }
    }
    assert_eq!(in_address(&page).await?, held, "nothing stored has changed");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_shelf_names_the_year_that_is_shown(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened_with(&page, &stage, &kept(2)).await?;
    let head = "#shelf-body thead th.of-now .shelf-name";
    let [now, kept] = [cell(&page, 4, 0).await?, cell(&page, 4, 1).await?];
    assert_eq!(page.text(head).await?, "On the page now", "today");
    page.run("document.getElementById('seasons-open').click()")
        .await?;
    until(&page, "!!document.querySelector('#year')").await?;
    page.type_into("#year", "5").await?;
    settled(&page).await?;
    assert_eq!(
        page.text(head).await?,
        "On the page now, in year 5",
        "in year 5"
    );
    assert_ne!(cell(&page, 4, 0).await?, now, "with less organic matter");
    assert_eq!(
        cell(&page, 4, 1).await?[..2],
        kept[..2],
        "the kept ones are as they were kept"
    );
    page.type_into("#year", "0").await?;
    settled(&page).await?;
    assert_eq!(cell(&page, 4, 0).await?, now, "and back");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn undo_beside_what_was_done_takes_back_that_alone(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    opened_with(&page, &stage, &kept(2)).await?;
    press(&page, "delete", 0).await?;
    assert!(done(&page).await?.contains("deleted"), "it is told");
    page.keys(FIRST, &times(RIGHT, 3)).await?;
    page.run("document.activeElement.blur()").await?;
    settled(&page).await?;
    assert_eq!(done(&page).await?, "", "after another step no more");
    assert_eq!(
        page.eval("document.querySelector('#shelf-body [data-shelf=undo]').hidden")
            .await?,
        json!(true),
        "nor is Undo beside it, which would take back that step"
    );
    undo(&page).await?;
    undo(&page).await?;
    settled(&page).await?;
    assert_eq!(
        page.eval(NAMES).await?,
        json!(["Blend 0", "Blend 1"]),
        "the page's own does both"
    );
    press(&page, "put", 1).await?;
    assert!(done(&page).await?.contains("on the page now"), "it is told");
    undo(&page).await?;
    settled(&page).await?;
    assert_eq!(done(&page).await?, "", "taken back, it is no longer told");
    page.quiet().await?;
    page.close().await
}
