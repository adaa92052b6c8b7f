//! What a trial shows on the page, by data sets of which the answer is known: guesses beside what
//! happened, refusals said once, what matters said where nobody had, scores by shuffles.

use super::keep_it::until;
use crate::browser::{Browser, Played, Stage};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe, to_letters};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::set_trial;
use barrowmix::trial::layout::{Design, Layout};
use barrowmix::trial::measures::{Good, OWN_LIMITS, OwnMeasure, Scale};
use barrowmix::trial::plan::{Deed, Guess, Treatment, Trial, Vessel, Way};
use barrowmix::trial::records::Record;
use serde_json::json;

const GROUND: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5,
        "bulk_density_kg_m3":1250,"water_per_dry_pct":24},
    "soil":{"value":100,"unit":"L"},
    "additions":[]}"#;
const ADDITIONS: [&str; 4] = ["yard_compost", "concrete_sand", "gypsum", "biochar_ash"];

fn trial(additions: usize, design: Design, blocks: usize) -> (Trial, Layout) {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments = vec![Treatment::new(Deed::Dug)];
    treatments.extend(ADDITIONS[..additions].iter().map(|id| Treatment::of(*id)));
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.design = design;
    trial.dose = Some(Amount::new(1.0, Unit::Litre));
    trial.blocks = blocks;
    trial.primary = Some("root_fresh_g".to_owned());
    trial.matters = Some(20.0);
    let layout = trial.layout().expect("it can be set out");
    (trial, layout)
}

/// What a set reads, by its treatments as they are named there; in blocks, or one after another.
fn set(name: &str, treatments: &[&str], trial: &mut Trial, layout: &Layout, measure: &str) {
    let table = include_str!("../../reference/trial_data.csv");
    let rows = table.lines().map(|row| row.split(',').collect::<Vec<_>>());
    let rows: Vec<_> = rows.filter(|row| row[0] == name).collect();
    let mut next = vec![0; treatments.len()];
    for (at, spot) in layout.spots.iter().enumerate() {
        let own = || {
            rows.iter()
                .filter(|row| row[4] == treatments[spot.treatment])
        };
        let block = (spot.block + 1).to_string();
        let row = if layout.design == Design::Blocks {
            own().find(|row| row[5] == block)
        } else {
            next[spot.treatment] += 1;
            own().nth(next[spot.treatment] - 1)
        };
        let value = row.expect("a row for each")[8].parse().expect("a number");
        add(trial, layout, at, measure, value);
    }
}

fn add(trial: &mut Trial, layout: &Layout, at: usize, measure: &str, value: f64) {
    let day = Date::of(2026, 5, 4).expect("a day");
    let record = Record::of(at, day, measure, value);
    trial.add(layout.spots.len(), record).expect("it goes in");
}

async fn open(stage: &Stage, page: &Browser, trial: &Trial) -> Played {
    let mut recipe = Recipe::from_json(GROUND).expect("it is right");
    set_trial(&mut recipe, Some(trial));
    page.client.goto("about:blank").await?;
    page.open(&format!("{}#{}", stage.home, to_letters(&recipe)))
        .await?;
    page.run("document.getElementById('trial-open').click()")
        .await?;
    until(
        page,
        "!!document.querySelector('#trial-body [name=trial-tab]')",
    )
    .await?;
    page.run("document.querySelector('#trial-body [name=trial-tab][value=read]').click()")
        .await?;
    until(
        page,
        "!document.querySelector('#trial-body [data-panel=read]').hidden",
    )
    .await
}

/// A trial of three additions whose records are read.
pub(super) async fn open_one_that_is_read(stage: &Stage, page: &Browser) -> Played {
    let (mut lettuce, layout) = trial(3, Design::Random, 7);
    let names = ["control", "biochar", "compost", "compost+biochar"];
    set("lettuce", &names, &mut lettuce, &layout, "root_fresh_g");
    open(stage, page, &lettuce).await
}

async fn choose(page: &Browser, measure: &str) -> Played {
    page.run(&format!(
        "const s = document.querySelector('[data-panel=read] [name=measure]');
         s.value = '{measure}'; s.dispatchEvent(new Event('change', {{bubbles: true}}));"
    ))
    .await?;
    page.frame().await?;
    page.frame().await
}

/// The text of a part, empty where it is hidden.
async fn part(page: &Browser, name: &str) -> Result<String, fantoccini::error::CmdError> {
    let text = page
        .eval(&format!(
            "(p => p.checkVisibility() ? p.textContent : '')
               (document.querySelector('[data-panel=read] [data-part={name}]'))"
        ))
        .await?;
    // A number keeps its unit on its line.
    Ok(text.as_str().unwrap_or_default().replace('\u{a0}', " "))
}

pub(super) async fn a_guess_is_held_beside_what_happened(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    let (mut trial, layout) = trial(4, Design::Blocks, 4);
    trial.treatments[1].guess = Some(Guess {
        way: Way::Less,
        by_pct: None,
    });
    trial.treatments[2].guess = Some(Guess {
        way: Way::More,
        by_pct: Some(30.0),
    });
    let names = ["control", "compost", "sand", "gypsum", "biochar"];
    set("synth_radish", &names, &mut trial, &layout, "root_fresh_g");
    open(&stage, &page, &trial).await?;
    let beside = part(&page, "beside").await?;
    for words in [
        "You guessed less; it came out +40 % (+25 to +57): the other way.",
        "You guessed more, by about 30 %; it came out −3 % (−13 to +9): no difference that matters",
    ] {
        assert!(beside.contains(words), "{words} in {beside}");
    }
    // The band of ratios is not alike on both sides, and no line strikes through letters.
    let key = part(&page, "bars-key").await?;
    assert!(key.contains("−17 % to +20 %"), "{key}");
    let struck = page
        .number(
            "(svg => {
             const boxes = [...svg.querySelectorAll('text.name, text.amount')]
               .map(text => text.getBoundingClientRect());
             return [...svg.querySelectorAll('.control-line, .tick')].filter(line => {
               const l = line.getBoundingClientRect();
               return boxes.some(b => l.left > b.left && l.left < b.right
                 && l.bottom > b.top + 4 && l.top < b.bottom - 4);
             }).length; })(document.querySelector('[data-panel=read] [data-part=bars]'))",
        )
        .await?;
    assert_eq!(struck, 0.0, "lines through letters");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn known_sets_read_as_they_should(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    // Lettuce of seven pots each: compost yields half as much again, biochar nothing.
    let (mut lettuce, layout) = trial(3, Design::Random, 7);
    let names = ["control", "biochar", "compost", "compost+biochar"];
    set("lettuce", &names, &mut lettuce, &layout, "root_fresh_g");
    open(&stage, &page, &lettuce).await?;
    let verdicts = part(&page, "verdicts").await?;
    let helped = verdicts.matches("Helped, by at least 20 %.").count();
    assert_eq!(helped, 2, "both with compost: {verdicts}");
    assert!(!verdicts.contains("Harmed"), "{verdicts}");
    // Plants of 1983: neither of two treatments can be told from the control.
    let (mut plants, layout) = trial(2, Design::Random, 10);
    let names = ["ctrl", "trt1", "trt2"];
    set("plantgrowth", &names, &mut plants, &layout, "root_fresh_g");
    open(&stage, &page, &plants).await?;
    let verdicts = part(&page, "verdicts").await?;
    assert!(!verdicts.contains("elped"), "{verdicts}");
    let all = page.text("#trial-body").await?;
    assert!(!all.contains('*'), "no stars");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn one_container_each_is_refused_once(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    let (mut trial, layout) = trial(4, Design::Blocks, 1);
    for at in 0..layout.spots.len() {
        add(
            &mut trial,
            &layout,
            at,
            "root_fresh_g",
            80.0 + 9.0 * at as f64,
        );
    }
    open(&stage, &page, &trial).await?;
    let whole = page
        .eval("document.querySelector('[data-panel=read]').textContent")
        .await?;
    let whole = whole.as_str().unwrap_or_default().to_owned();
    let refused = whole.matches("No verdict from one container each").count();
    assert_eq!(refused, 1, "{whole}");
    assert_eq!(part(&page, "bars").await?, "", "no bars without ranges");
    page.run("document.querySelector('[data-panel=read] [data-part=details]').open = true")
        .await?;
    page.frame().await?;
    page.frame().await?;
    let shuffled = part(&page, "shuffled").await?;
    assert!(shuffled.starts_with("No shuffles"), "{shuffled}");
    let chances = part(&page, "chances").await?;
    assert!(!chances.contains("0."), "no chance is told: {chances}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn what_matters_is_said_where_nobody_had(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (mut trial, layout) = trial(2, Design::Blocks, 4);
    trial.own_measures.push(OwnMeasure {
        id: "worms".into(),
        name: Some("Worms".into()),
        unit: "in a spade".into(),
        scale: Scale::Raw,
        good: Good::More,
        matters: None,
        error: None,
        limits: OWN_LIMITS,
        decimals: 0,
        kept: Kept::new(),
    });
    for (at, spot) in layout.spots.iter().enumerate() {
        let value = 5.0 + 10.0 * spot.treatment as f64 + (at % 3) as f64;
        add(&mut trial, &layout, at, "worms", value);
    }
    open(&stage, &page, &trial).await?;
    choose(&page, "worms").await?;
    let refused = part(&page, "refused").await?;
    assert!(
        refused.contains("say what difference would matter"),
        "{refused}"
    );
    page.run(
        "const b = document.querySelector('[data-panel=read] [name=read-matters]');
         b.value = '4'; b.dispatchEvent(new Event('change', {bubbles: true}));",
    )
    .await?;
    until(
        &page,
        "document.querySelector('[data-panel=read] [data-part=verdicts]').textContent
           .includes('Helped, by at least 4')",
    )
    .await?;
    let said = part(&page, "matters-says").await?;
    assert!(
        said.contains("A difference of 4 in a spade matters") && said.contains("after this was"),
        "{said}"
    );
    assert_eq!(part(&page, "matters-row").await?, "", "it is said");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn scores_are_told_by_middles_and_shuffles(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (mut trial, layout) = trial(4, Design::Blocks, 4);
    for (at, spot) in layout.spots.iter().enumerate() {
        let value = if spot.treatment == 1 {
            5.0
        } else {
            2.0 + (at % 2) as f64
        };
        add(&mut trial, &layout, at, "vigour_1to5", value);
    }
    // Half of them, so that the rest is not measured yet.
    for at in 0..6 {
        add(&mut trial, &layout, at, "root_fresh_g", 80.0 + at as f64);
    }
    open(&stage, &page, &trial).await?;
    choose(&page, "vigour_1to5").await?;
    until(
        &page,
        "document.querySelector('[data-panel=read] [data-part=verdicts]').textContent
           .includes('by shuffles such a gap comes in')",
    )
    .await?;
    let verdicts = part(&page, "verdicts").await?;
    assert!(verdicts.contains("Middle 5 against"), "{verdicts}");
    let whole = page
        .eval("document.querySelector('[data-panel=read]').textContent")
        .await?;
    let whole = whole.as_str().unwrap_or_default().to_owned();
    let once = whole.matches("Scores have an order and no sizes").count();
    assert_eq!(once, 1, "{whole}");
    choose(&page, "root_fresh_g").await?;
    let notes = page
        .eval("document.querySelector('[data-panel=read] [data-part=notes]').textContent")
        .await?;
    assert_eq!(
        json!(
            notes
                .as_str()
                .unwrap_or_default()
                .contains("14 containers are not measured yet")
        ),
        json!(true),
        "{notes}"
    );
    page.quiet().await?;
    page.close().await
}
