//! A trial is planned, laid out and foretold.

use super::keep_it::until;
use crate::browser::{Browser, Played, Stage};
use barrowmix::recipe::{Recipe, to_letters};
use serde_json::json;

/// Opens the section and, where the recipe has no trial, begins one.
async fn begun(page: &Browser) -> Played {
    page.run("document.getElementById('trial-open').click()")
        .await?;
    let there = "#trial-body [data-panel]";
    page.client
        .wait()
        .for_element(fantoccini::Locator::Css(there))
        .await?;
    page.frame().await?;
    page.run(
        "const b = document.querySelector('#trial-body [data-trial=begin]');
         if (b.offsetParent) b.click();",
    )
    .await?;
    page.frame().await?;
    page.frame().await
}

async fn tab(page: &Browser, name: &str) -> Played {
    let script = format!("document.querySelector('[name=trial-tab][value={name}]').click()");
    page.run(&script).await?;
    page.frame().await?;
    page.frame().await
}

/// Puts a value into a control of a part, as a hand does, and lets it go.
async fn put(page: &Browser, selector: &str, value: &str) -> Played {
    page.client
        .execute(
            "const f = document.querySelector(`#trial-body ${arguments[0]}`);
             f.focus();
             if (f.type === 'checkbox') f.checked = arguments[1] === 'on';
             else f.value = arguments[1];
             f.dispatchEvent(new Event('input', { bubbles: true }));
             f.dispatchEvent(new Event('change', { bubbles: true })); f.blur();",
            vec![json!(selector), json!(value)],
        )
        .await?;
    page.frame().await?;
    page.frame().await
}

fn plan(name: &str) -> String {
    format!("#trial-body [data-panel=plan] [data-part={name}]")
}

fn layout(name: &str) -> String {
    format!("#trial-body [data-panel=layout] [data-part={name}]")
}

async fn treatments(page: &Browser) -> Result<f64, fantoccini::error::CmdError> {
    page.number("document.querySelectorAll('#trial-body [data-part=treatments] li').length")
        .await
}

pub(super) async fn a_trial_is_planned_and_laid_out(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    let first = page.text(&plan("treatments")).await?;
    assert!(first.starts_with("Dug, nothing added"), "{first}");
    assert!(first.contains("The blend"), "{first}");
    let why = page.text(&plan("untouched-why")).await?;
    assert!(why.contains("digging alone"), "the reason: {why}");
    assert!((treatments(&page).await? - 4.0).abs() < 0.1, "four");
    put(&page, "[name=untouched]", "on").await?;
    let count = page.text(&plan("count")).await?;
    assert!(count.starts_with("20 containers in 4 blocks"), "{count}");
    let takes = page.text(&plan("takes")).await?;
    assert!(takes.contains("2.00 L"), "a fifth of 10 L: {takes}");
    let equality = page.text(&plan("equality")).await?;
    assert!(equality.contains("equal by volume"), "{equality}");
    page.run("document.querySelector('#trial-body [name=equal][value=mass]').click()")
        .await?;
    page.frame().await?;
    page.frame().await?;
    let equality = page.text(&plan("equality")).await?;
    assert!(equality.contains("equal by weight"), "{equality}");

    tab(&page, "layout").await?;
    put(&page, "[name=seed]", "20260401").await?;
    let key = page.text(&layout("key")).await?;
    // The published vector of this seed, five treatments in four blocks: ADBCE BDCAE ECDBA ADBEC.
    // By numbers, since letters hide what is in a container.
    let order = page.text(&layout("order")).await?;
    assert!(
        order.contains("1 4 2 3 5; 2 4 3 1 5; 5 3 4 2 1; 1 4 2 5 3"),
        "{order}"
    );
    assert_eq!(
        key.matches("A: ").count(),
        1,
        "a letter means one thing: {key}"
    );
    let drawn = page.text(&layout("drawn-from")).await?;
    assert!(
        drawn.contains("20260401") && drawn.contains("SplitMix64"),
        "{drawn}"
    );
    let pots = "document.querySelectorAll('#trial-body .trial-pot').length";
    assert!((page.number(pots).await? - 20.0).abs() < 0.1, "20 drawn");
    let rows = "document.querySelectorAll('#trial-body [data-part=list] tr').length";
    assert!((page.number(rows).await? - 20.0).abs() < 0.1, "20 told");
    assert!(
        !page.text(&layout("list")).await?.contains("Dug"),
        "blind, the list hides it"
    );
    put(&page, "[name=blind]", "").await?;
    assert!(
        page.text(&layout("list")).await?.contains("Dug"),
        "and tells it when it may"
    );
    put(&page, "[name=site]", "one_way").await?;
    put(&page, "[name=design]", "random").await?;
    let advice = page.text(&layout("advice")).await?;
    assert!(advice.contains("blocks"), "another suits: {advice}");
    put(&page, "[name=seed]", "twelve").await?;
    assert!(
        page.text("#trial-says").await?.contains("digits"),
        "no seed"
    );
    assert_eq!(
        page.value("#trial-body [name=seed]").await?,
        "twelve",
        "what was typed stays"
    );

    // It is a part of the recipe: undo, and a new visit.
    page.run("document.getElementById('undo').click()").await?;
    page.frame().await?;
    page.frame().await?;
    assert_eq!(
        page.value("#trial-body [name=design]").await?,
        "blocks",
        "undone"
    );
    page.reload().await?;
    begun(&page).await?;
    assert!((treatments(&page).await? - 5.0).abs() < 0.1, "found again");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_makes_no_trial_is_told(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    put(&page, "[name=dug]", "").await?;
    let fault = page.text(&plan("fault")).await?;
    assert!(fault.contains("There is no control"), "{fault}");
    assert!((treatments(&page).await? - 3.0).abs() < 0.1, "others stay");
    put(&page, "[name=dug]", "on").await?;
    assert_eq!(page.text(&plan("fault")).await?, "", "mended");
    put(&page, "input[type=text][name=blocks]", "1").await?;
    let firm = page.text(&plan("power-says")).await?;
    assert!(
        firm.contains("No verdict from one container each"),
        "{firm}"
    );
    put(&page, "[name=volume]", "ten").await?;
    let says = page.text("#trial-says").await?;
    assert!(says.contains("Holds"), "{says}");
    assert_eq!(
        page.value("#trial-body [name=volume]").await?,
        "ten",
        "what was typed stays"
    );
    put(&page, "[name=volume]", "12").await?;
    assert_eq!(page.text("#trial-says").await?, "", "mended");
    put(&page, "[name=dose]", "150").await?;
    let says = page.text("#trial-says").await?;
    assert!(says.contains("at most 100"), "{says}");
    put(&page, "[name=dose]", "20").await?;
    let wide = "document.documentElement.scrollWidth";
    for part in ["plan", "layout"] {
        tab(&page, part).await?;
        assert!(page.number(wide).await? <= 390.0, "{part} fits a phone");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn power_follows_within_a_frame(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    put(&page, "[name=untouched]", "on").await?;
    put(&page, "[name=primary]", "ph").await?;
    put(&page, "input[type=text][name=spread]", "20").await?;
    put(&page, "input[type=text][name=difference]", "50").await?;
    // Four treatments beside the control in blocks, 20 % against 50 %: two, four, six and eight
    // blocks find it in 26, 75, 94 and 99 of 100 trials.
    let row = |each: usize| format!("#trial-body [data-part=power-rows] tr:nth-child({each}) td");
    for (each, found) in [
        (1, "cannot tell"),
        (2, "26"),
        (4, "75"),
        (6, "94"),
        (8, "99"),
    ] {
        assert_eq!(page.text(&row(each)).await?, found, "{each} blocks");
    }
    // Not let go: drawn in the next frame.
    let before = page.text(&plan("power-says")).await?;
    page.run(
        "const s = document.querySelector('#trial-body input[type=range][name=blocks]');
         s.value = 6; s.dispatchEvent(new Event('input', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    let after = page.text(&plan("power-says")).await?;
    assert_ne!(before, after, "it moved");
    assert!(after.contains("94 of 100"), "{after}");
    assert!(
        page.text(&plan("count"))
            .await?
            .starts_with("30 containers"),
        "and what it takes"
    );
    // A spread belongs to its measure, and scores have no percentages.
    put(&page, "[name=primary]", "infiltration_min").await?;
    let spread = "#trial-body input[type=text][name=spread]";
    assert_eq!(page.value(spread).await?, "60", "usual of minutes");
    put(&page, "[name=primary]", "vigour_1to5").await?;
    assert_eq!(page.value(spread).await?, "20", "not that of minutes");
    let says = page.text(&plan("power-says")).await?;
    assert!(says.contains("an order and no sizes"), "{says}");
    assert_eq!(page.text(&row(4)).await?, "cannot tell", "of scores");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_guess_is_locked_by_the_first_record(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    put(&page, "[name=way-1]", "more").await?;
    put(&page, "[name=by-1]", "30").await?;
    page.run("document.querySelector('#trial-body [data-trial=plan-foretell]').click()")
        .await?;
    page.frame().await?;
    page.frame().await?;
    let stage_says = page.text(&plan("stage")).await?;
    assert!(stage_says.contains("stored"), "{stage_says}");
    // One treatment a frame is foretold.
    until(
        &page,
        "[...document.querySelectorAll('#trial-body [data-part=expects-1]')].every((cell) => cell.textContent.includes('%'))",
    )
    .await?;
    let expects = page.text(&plan("expects-1")).await?;
    assert!(expects.contains('%'), "{expects}");

    let recipe = include_str!("../../../examples/recipes/trial-invented.json");
    let recipe = Recipe::from_json(recipe).expect("the invented trial reads");
    page.close().await?;
    let page = stage.browser(1280, 800).await?;
    page.open(&format!("{}#{}", stage.home, to_letters(&recipe)))
        .await?;
    begun(&page).await?;
    let locked = page.text(&plan("locked")).await?;
    assert!(locked.contains("stay as they are"), "{locked}");
    let open = "document.querySelectorAll('#trial-body [data-panel=plan] [data-lock]:not(:disabled)').length";
    assert!(page.number(open).await? < 0.5, "nothing of it can change");
    put(&page, "[name=start]", "2027-06-01").await?;
    let says = page.text("#trial-says").await?;
    assert!(says.contains("was measured on"), "sown after it: {says}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn each_box_of_a_plan_is_read_by_itself(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    put(&page, "[name=volume]", "abc").await?;
    put(&page, "[name=height]", "31").await?;
    put(&page, "[name=empty]", "0,5").await?;
    let says = page.text("#trial-says").await?;
    assert!(
        says.contains("Holds") && says.contains("From 0.01 to 100,000 L"),
        "what is still wrong is told: {says}"
    );
    put(&page, "[name=variety]", "Long Scarlet").await?;
    for (name, value) in [("volume", "abc"), ("height", "31"), ("empty", "0.5")] {
        assert_eq!(
            page.value(&format!("#trial-body [name={name}]")).await?,
            value,
            "{name} stays"
        );
    }
    put(&page, "[name=volume]", "12,5").await?;
    assert_eq!(page.text("#trial-says").await?, "", "a comma is a point");
    put(&page, "[name=volume]", "1,234").await?;
    let says = page.text("#trial-says").await?;
    assert!(says.contains("A thousand, or decimals?"), "{says}");
    put(&page, "[name=volume]", "12.5").await?;
    put(&page, "[name=dose]", "-1").await?;
    let says = page.text("#trial-says").await?;
    assert!(says.contains("More than 0, at most 100"), "{says}");
    put(&page, "[name=dose]", "20").await?;
    // What is told lies over the page and shoves nothing.
    let top = "document.querySelector('#trial-body [name=volume]').offsetTop";
    let before = page.number(top).await?;
    put(&page, "[name=height]", "-").await?;
    assert_eq!(page.number(top).await?, before, "nothing moves");
    put(&page, "[name=height]", "31").await?;
    // Names, days of photographs.
    page.run("document.querySelector('.trial-names').open = true")
        .await?;
    put(&page, "[name=title]", "Willow bed").await?;
    put(&page, "[name=name-1]", "Sand from the river").await?;
    assert!(
        page.text(&plan("treatments"))
            .await?
            .contains("Sand from the river"),
        "renamed"
    );
    put(&page, "[name=start]", "2026-04-06").await?;
    put(&page, "[name=photos]", "28 0, 14").await?;
    assert_eq!(
        page.value("#trial-body [name=photos]").await?,
        "0, 14, 28",
        "in order"
    );
    assert_eq!(
        page.text(&plan("photo-dates")).await?,
        "6 April 2026, 20 April 2026, 4 May 2026",
        "as days"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_plan_without_a_control_has_no_power(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    begun(&page).await?;
    put(&page, "[name=dug]", "").await?;
    let says = page.text(&plan("power-says")).await?;
    assert!(
        says.contains("Without a control nothing is found"),
        "{says}"
    );
    let hidden = "[...document.querySelectorAll('[data-part=power], [data-part=power-all]')].every((e) => !e.checkVisibility())";
    assert_eq!(page.eval(hidden).await?, json!(true), "and no figure");
    let count = page.text(&plan("count")).await?;
    assert!(count.ends_with("no control among them."), "{count}");
    let none = page.text(&plan("takes-none")).await?;
    assert!(none.contains("There is no control"), "{none}");
    put(&page, "[name=untouched]", "on").await?;
    let advice = page.text(&plan("advice")).await?;
    assert!(advice.contains("cannot be told apart"), "{advice}");
    let count = page.text(&plan("count")).await?;
    assert!(count.ends_with("one of them the control."), "{count}");
    put(&page, "[name=untouched]", "").await?;
    put(&page, "[name=dug]", "on").await?;
    // Spare controls: more containers, and more is found.
    let found = "#trial-body [data-part=power-rows] tr:nth-child(4) td";
    let before: f64 = page.text(found).await?.parse().unwrap_or(0.0);
    put(&page, "[name=copies]", "2").await?;
    let after: f64 = page.text(found).await?.parse().unwrap_or(0.0);
    assert!(after > before, "{before} of 100 become {after}");
    let count = page.text(&plan("count")).await?;
    assert!(count.starts_with("20 containers in 4 blocks"), "{count}");
    put(&page, "[name=copies]", "1").await?;
    // In a square the number of rows is no choice.
    page.run("document.querySelector('[data-trial=plan-remove][value=\"3\"]').click()")
        .await?;
    page.frame().await?;
    page.frame().await?;
    tab(&page, "layout").await?;
    put(&page, "[name=design]", "latin").await?;
    tab(&page, "plan").await?;
    let off =
        "[...document.querySelectorAll('#trial-body [name=blocks]')].every((e) => e.disabled)";
    assert_eq!(page.eval(off).await?, json!(true), "the slider is off");
    let advice = page.text(&plan("layout-advice")).await?;
    assert!(advice.contains("A Latin square of three"), "{advice}");
    tab(&page, "layout").await?;
    put(&page, "[name=design]", "blocks").await?;
    tab(&page, "plan").await?;
    put(&page, "[name=kind]", "strip").await?;
    let count = page.text(&plan("count")).await?;
    assert!(count.starts_with("12 strips in 4 blocks"), "{count}");
    let takes = page.text(&plan("takes")).await?;
    assert!(takes.contains('–'), "a strip is not weighed: {takes}");
    // At most twelve.
    for _ in 0..12 {
        page.run("document.querySelector('[data-trial=plan-blend]').click()")
            .await?;
        page.frame().await?;
    }
    page.frame().await?;
    assert!((treatments(&page).await? - 12.0).abs() < 0.1, "and no more");
    let full = page.text(&plan("full")).await?;
    assert!(full.contains("at most 12 treatments"), "{full}");
    page.quiet().await?;
    page.close().await
}
