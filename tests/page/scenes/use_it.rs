//! A person uses the page: sliders, links, lists, units.

use super::{RIGHT, times};
use crate::browser::{Played, Stage};
use barrowmix::figure::Figure;
use barrowmix::outcome::Outcome;
use barrowmix::plot::column_parts;
use barrowmix::recipe::Recipe;
use barrowmix::words::{METRIC, Told, cost_told, drains_told, fixed, remark_parts};
use fantoccini::key::Key;
use serde_json::json;

pub(super) async fn opens_with_the_demo_computed(stage: Stage) -> Played {
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
        json!(30),
        "five bars of six parts"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_page_shows_the_numbers_of_the_core(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let demo = include_str!("../../../examples/recipes/willowbank.json");
    let recipe = Recipe::from_json(demo).expect("the demo has no fault");
    let outcome = Outcome::of(&recipe).expect("the demo can be mixed");
    let percent = |value: f64, decimals| format!("{} %", fixed(value, decimals));
    let whole = |figure: Figure| Told::percent(figure, 1.0);
    let ground = &outcome.ground;
    let pores = &outcome.pore_space_pct;
    let organic = outcome.organic_matter_pct.expect("there is earth in it");
    let cost = outcome.cost.expect("the demo has prices");
    let density = |figure: Figure| METRIC.density_told(figure);
    for (cell, told) in [
        ("pores-0", whole(ground.lying_pore_space_pct)),
        ("pores-1", whole(ground.settled_pore_space_pct)),
        ("pores-2", whole(pores.settled)),
        ("density-0", density(ground.lying_density_kg_m3)),
        ("density-1", density(ground.settled_density_kg_m3)),
        ("density-2", density(outcome.bulk_density_kg_m3.settled)),
        ("organic-0", Told::percent(ground.organic_matter_pct, 0.1)),
        ("organic-2", Told::percent(organic, 0.1)),
        ("air-0", whole(ground.lying_pores_pct.air)),
        ("air-1", whole(ground.settled_air_pct)),
        ("air-2", whole(outcome.pores_pct.air)),
        ("available-0", whole(ground.lying_pores_pct.available_water)),
        ("available-1", whole(ground.settled_available_water_pct)),
        ("available-2", whole(outcome.pores_pct.available_water)),
        ("drainage-0", drains_told(ground.drainage_mm_h[0])),
        ("drainage-1", drains_told(ground.drainage_mm_h[1])),
        ("drainage-2", drains_told(outcome.drainage_mm_h)),
        // 2.88 m2 by 20 cm as it lies.
        ("volume-0", METRIC.volume_told(Figure::exact(576.0))),
        ("volume-2", METRIC.volume_told(outcome.volume_l.settled)),
        ("weight-2", METRIC.mass_told(outcome.moist_kg)),
        ("cost-2", cost_told(cost, Some("EUR"))),
    ] {
        let shown = page.text(&format!("[data-cell={cell}]")).await?;
        assert_eq!(shown, told.value, "{cell}");
        if let Some(row) = cell.strip_suffix("-2") {
            let shown = page.text(&format!("[data-cell={row}-3]")).await?;
            assert_eq!(shown, told.range, "the range of {row}");
        }
    }
    let verdict = page.text("#verdict").await?;
    for remark in &outcome.verdict {
        let (head, rest) = remark_parts(remark, METRIC);
        assert!(
            verdict.contains(&head) && verdict.contains(&rest),
            "{head} {rest}"
        );
    }
    for (row, parts) in column_parts(&outcome).iter().enumerate() {
        let cells = format!(
            "[...document.querySelectorAll('#column-rows tr:nth-child({}) td')].map((c) => c.textContent)",
            row + 1
        );
        // Of the ground as it lies and the settled blend the doubt is told too.
        let known = match row {
            0 => Some(ground.lying_pores_pct),
            3 => Some(outcome.pores_pct),
            _ => None,
        };
        let known = known.map(|pores| {
            let waters = [pores.available_water, pores.unavailable_water];
            [pores.air, waters[0], waters[1], pores.closed]
        });
        let cell = |(at, part): (usize, &f64)| {
            let figure = known.and_then(|figures| figures.get(at).copied());
            match figure.map(|figure| whole(figure).range) {
                Some(range) if !range.is_empty() => format!("{} ({range})", percent(*part, 0)),
                _ => percent(*part, 0),
            }
        };
        let parts = parts.from_top_pct.iter().enumerate();
        let expected: Vec<String> = parts.map(cell).collect();
        assert_eq!(page.eval(&cells).await?, json!(expected), "bar {row}");
    }
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_slider_by_keyboard_moves_class_point_and_figures(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    page.open(&stage.home).await?;
    let class = page.text("#class-blend").await?;
    let point = page
        .eval("document.querySelector('.blend-mark').getAttribute('transform')")
        .await?;
    let pores = page.text("[data-cell=pores-2]").await?;
    let bar = page
        .eval("document.querySelectorAll('#column rect.seg')[18].getAttribute('height')")
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
        page.eval("document.querySelectorAll('#column rect.seg')[18].getAttribute('height')")
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

pub(super) async fn fractions_stay_at_a_hundred(stage: Stage) -> Played {
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

pub(super) async fn reload_finds_the_state(stage: Stage) -> Played {
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

pub(super) async fn a_link_gives_the_same_outcome_in_a_clean_profile(stage: Stage) -> Played {
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

pub(super) async fn additions_are_added_moved_and_removed_by_keyboard(stage: Stage) -> Played {
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
            .contains("Nothing is mixed in yet"),
        "the verdict says so"
    );
    assert_eq!(
        page.eval("document.getElementById('barrow-empty').hidden")
            .await?,
        json!(false),
        "the empty barrow says what to do"
    );
    page.run("document.querySelector('.menu').open = true")
        .await?;
    page.keys("[data-do=demo]", &Key::Enter.to_string()).await?;
    assert_eq!(
        page.eval(names).await?,
        json!(["concrete_sand", "yard_compost"]),
        "back to the demo"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn the_list_ends_at_its_limit(stage: Stage) -> Played {
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

pub(super) async fn units_of_display_change_nothing_stored(stage: Stage) -> Played {
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

pub(super) async fn units_of_an_amount_keep_what_it_is(stage: Stage) -> Played {
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

pub(super) async fn the_ground_by_bed_mass_and_volume(stage: Stage) -> Played {
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
    // 576 L at 1.25 kg/L dry with 30 % water, in pounds of 0.45359237 kg.
    assert!(
        (lb - 576.0 * 1.25 * 1.3 / 0.45359237).abs() < 6.0,
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

pub(super) async fn without_ground_nothing_is_said_of_it(stage: Stage) -> Played {
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
