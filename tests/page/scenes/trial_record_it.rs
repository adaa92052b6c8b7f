//! The trial's records and what they show: by thumb, by table, and the known verdict.

use crate::browser::{Browser, Played, Stage};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe, to_letters};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::set_trial;
use barrowmix::trial::layout::Layout;
use barrowmix::trial::measures::MEASURES;
use barrowmix::trial::plan::{Deed, Treatment, Trial, Vessel};
use barrowmix::trial::records::Record;
use serde_json::json;
use std::fmt::Write as _;
use std::time::Duration;

/// The invented radishes: their names in the table, and what stands for them here.
const NAMES: [(&str, &str); 5] = [
    ("control", ""),
    ("compost", "yard_compost"),
    ("sand", "concrete_sand"),
    ("gypsum", "gypsum"),
    ("biochar", "biochar_ash"),
];
const GROUND: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5,
        "bulk_density_kg_m3":1250,"water_per_dry_pct":24},
    "soil":{"value":100,"unit":"L"},
    "additions":[]}"#;

fn trial(blocks: usize, copies: usize) -> (Trial, Layout) {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments = vec![Treatment::new(Deed::Dug)];
    treatments.extend(NAMES[1..].iter().map(|(_, id)| Treatment::of(*id)));
    for treatment in &mut treatments {
        treatment.copies = (copies > 1).then_some(copies);
    }
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.dose = Some(Amount::new(1.0, Unit::Litre));
    trial.blocks = blocks;
    trial.seeds = Some(20);
    trial.start = Date::of(2026, 4, 6);
    trial.primary = Some("root_fresh_g".to_owned());
    trial.matters = Some(20.0);
    let layout = trial.layout().expect("it can be set out");
    (trial, layout)
}

/// What the invented radishes weighed, by treatment and block.
fn radish() -> Vec<Vec<f64>> {
    let table = include_str!("../../reference/trial_data.csv");
    let mut all = vec![vec![0.0; 4]; NAMES.len()];
    for row in table.lines().filter(|row| row.starts_with("synth_radish,")) {
        let cells: Vec<&str> = row.split(',').collect();
        let of = NAMES.iter().position(|(name, _)| *name == cells[4]);
        let block: usize = cells[5].parse().expect("a block");
        all[of.expect("a name")][block - 1] = cells[8].parse().expect("a mass");
    }
    all
}

fn address(stage: &Stage, trial: &Trial) -> String {
    let mut recipe = Recipe::from_json(GROUND).expect("it is right");
    set_trial(&mut recipe, Some(trial));
    format!("{}#{}", stage.home, to_letters(&recipe))
}

async fn opened(page: &Browser, part: &str) -> Played {
    page.run(
        "const b = document.getElementById('trial-open');
              if (b.getAttribute('aria-expanded') !== 'true') b.click();",
    )
    .await?;
    page.client
        .wait()
        .at_most(Duration::from_secs(20))
        .for_element(fantoccini::Locator::Css(
            "#trial-body input[name=trial-tab]",
        ))
        .await?;
    tab(page, part).await
}

async fn tab(page: &Browser, part: &str) -> Played {
    page.run(&format!(
        "document.querySelector('#trial-body [name=trial-tab][value={part}]').click()"
    ))
    .await?;
    page.frame().await?;
    page.frame().await
}

async fn press(page: &Browser, deed: &str) -> Played {
    page.run(&format!(
        "const b = document.querySelector('[data-trial={deed}]'); b.focus(); b.click()"
    ))
    .await?;
    page.frame().await?;
    page.frame().await
}

fn record(name: &str) -> String {
    format!("[data-panel=record] [data-part={name}]")
}

fn read(name: &str) -> String {
    format!("[data-panel=read] [data-part={name}]")
}

pub(super) async fn a_trial_is_recorded_on_a_phone_and_read(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    page.size(390, 844).await?;
    let (trial, layout) = trial(4, 1);
    let radish = radish();
    page.open(&address(&stage, &trial)).await?;
    opened(&page, "record").await?;
    // All but the last three on the walk come as a table, in another order of columns, with
    // semicolons, and days that could be read two ways.
    let walk = layout.walk();
    let (pasted, thumbed) = walk.split_at(walk.len() - 3);
    let value = |at: usize| {
        let spot = layout.spots[at];
        radish[spot.treatment][spot.block]
    };
    let mut table = "value;measure;unit_id;date\n".to_owned();
    for at in pasted {
        let code = layout.code(*at).expect("a code");
        let _ = writeln!(table, "{};root_fresh_g;{code};4/5/2026", value(*at));
    }
    table += "much;root_fresh_g;B1-01;4/5/2026\n";
    page.run("document.querySelector('[data-part=table-all]').open = true")
        .await?;
    page.paste_into("[name=table]", &table).await?;
    press(&page, "record-read").await?;
    let faults = page.text(&record("faults")).await?;
    assert!(
        faults.contains("could be day and month") && faults.contains("Row 19"),
        "{faults}"
    );
    let asks = "!document.querySelector('[data-part=ask-slashes]').hidden";
    assert_eq!(
        page.eval(asks).await?,
        json!(true),
        "which is the day, is asked"
    );
    page.run("document.querySelector('[name=slashes][value=day]').click()")
        .await?;
    page.frame().await?;
    let faults = page.text(&record("faults")).await?;
    assert!(
        faults.contains("Row 19, column A") && faults.contains("\"much\" is no number"),
        "{faults}"
    );
    let says = page.text(&record("table-says")).await?;
    assert!(
        says.starts_with("17 records are read; 1 row is left out"),
        "{says}"
    );
    press(&page, "record-take").await?;
    let says = page.text(&record("table-says")).await?;
    assert!(says.starts_with("17 records went in"), "{says}");
    // The page goes to their day. The rest by thumb: value, Next, value, Next.
    let filled = page.text(&record("filled")).await?;
    assert_eq!(
        filled, "4 May 2026: 17 of 20 measured, 3 not measured yet.",
        "what was read is seen"
    );
    assert_eq!(
        page.value("[data-panel=record] [name=date]").await?,
        "2026-05-04",
        "the day of the table"
    );
    page.run("document.querySelector('[data-trial=record-go][value=\"17\"]').click()")
        .await?;
    page.frame().await?;
    for (at, container) in thumbed.iter().enumerate() {
        let code = layout.code(*container).expect("a code");
        assert_eq!(page.text(&record("code")).await?, code, "in walking order");
        let mode = page
            .eval("document.activeElement.getAttribute('inputmode')")
            .await?;
        assert_eq!(mode, json!("decimal"), "the keypad stays open");
        let field = page.find("[data-panel=record] [name=value]").await?;
        // The first is mistyped, and taken back.
        if at == 0 {
            field.send_keys("many").await?;
            press(&page, "record-next").await?;
            let wrong = page.text(&record("value-says")).await?;
            assert!(!wrong.is_empty(), "a text in a number is told");
            assert_eq!(page.text(&record("code")).await?, code, "it stays there");
            page.run("document.querySelector('[data-panel=record] [name=value]').value = ''")
                .await?;
        }
        field.send_keys(&value(*container).to_string()).await?;
        press(&page, "record-next").await?;
        page.frame().await?;
    }
    let filled = page.text(&record("filled")).await?;
    assert_eq!(
        filled, "4 May 2026: 20 of 20 measured. Nothing is left to measure.",
        "by table and by thumb"
    );
    press(&page, "record-undo").await?;
    page.frame().await?;
    let filled = page.text(&record("filled")).await?;
    assert_eq!(
        filled, "4 May 2026: 19 of 20 measured, 1 not measured yet.",
        "a step of undo each"
    );
    page.run("document.getElementById('redo').click()").await?;
    page.frame().await?;
    page.frame().await?;
    let small = page
        .eval(
            "[...document.querySelectorAll('.trial-entry button, .trial-list button')]
               .filter((e) => e.offsetParent && e.getBoundingClientRect().height < 44)
               .map((e) => e.textContent)",
        )
        .await?;
    assert_eq!(small, json!([]), "a thumb hits every button");
    page.reload().await?;
    opened(&page, "read").await?;
    let verdicts = page
        .eval("[...document.querySelectorAll('[data-part=verdicts] dd')].map((e) => e.textContent.replaceAll('\\u00a0', ' '))")
        .await?;
    assert_eq!(
        verdicts,
        json!([
            "Helped, by at least 20 %.",
            "No difference that matters, either way.",
            "No difference that matters, either way.",
            "Helped; how much is uncertain: between 0.1 % and 26 %."
        ]),
        "after a reload too"
    );
    let dots = page
        .number("document.querySelectorAll('[data-part=dots] circle').length")
        .await?;
    assert_eq!(dots, 20.0, "every container has its dot");
    let seen = page
        .eval("document.querySelector('[data-panel=read]').innerText")
        .await?;
    let seen = seen.as_str().unwrap_or_default();
    assert!(
        !seen.contains("p, ") && !seen.contains('*'),
        "no p and no stars: {seen}"
    );
    let wide = page.number("document.documentElement.scrollWidth").await?;
    assert!(wide <= 390.0, "{wide} px");
    page.run("document.querySelector('[data-part=details]').open = true")
        .await?;
    page.client
        .wait()
        .at_most(Duration::from_secs(30))
        .for_element(fantoccini::Locator::Css("[data-of='4']:not(:empty)"))
        .await?;
    let shuffled = format!(
        "!document.querySelector(\"{}\").textContent.startsWith('Shuffling')",
        read("shuffled")
    );
    super::keep_it::until(&page, &shuffled).await?;
    let told = page.text(&read("shuffled")).await?;
    assert!(told.contains("fewer than 1 in 1000"), "{told}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn lost_containers_and_own_measures(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (trial, layout) = trial(4, 1);
    page.open(&address(&stage, &trial)).await?;
    opened(&page, "record").await?;
    let first = layout.code(layout.walk()[0]).expect("a code");
    press(&page, "record-lose").await?;
    let lost = page.text(&record("lost")).await?;
    assert!(
        lost.starts_with(&first) && lost.contains("Did what was added do it?"),
        "{lost}"
    );
    press(&page, "record-lost-yes").await?;
    let lost = page.text(&record("lost")).await?;
    assert!(
        lost.contains("It died of what was added: a result"),
        "{lost}"
    );
    page.run("document.querySelector('[data-part=own-all]').open = true")
        .await?;
    press(&page, "record-own").await?;
    let says = page.text(&record("own-says")).await?;
    assert_eq!(says, "Say what the measure is called.", "nothing was typed");
    page.type_into("[name=own-name]", "Worms per pail").await?;
    page.choose("[name=own-scale]", "count").await?;
    press(&page, "record-own").await?;
    assert_eq!(
        page.value("[data-panel=record] [name=measure]").await?,
        "worms_per_pail",
        "it is chosen"
    );
    page.run("document.querySelector('[data-trial=record-go][value=\"1\"]').click()")
        .await?;
    page.frame().await?;
    let field = page.find("[data-panel=record] [name=value]").await?;
    field.send_keys("2,5").await?;
    press(&page, "record-next").await?;
    let wrong = page.text(&record("value-says")).await?;
    assert!(
        wrong.contains("is not whole"),
        "a keypad's comma is read: {wrong}"
    );
    // Classes of a score are pressed.
    page.run("document.querySelector('[data-panel=record] [name=value]').value = '3'")
        .await?;
    page.choose("[data-panel=record] [name=measure]", "vigour_1to5")
        .await?;
    page.frame().await?;
    press(&page, "record-class").await?;
    let listed = page.text(&record("list")).await?;
    assert!(listed.contains('1'), "{listed}");
    tab(&page, "read").await?;
    let none = page.text(&read("warns")).await?;
    assert!(none.contains("died of what was added"), "{none}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_kit_and_its_error_are_told_once(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (trial, _) = trial(4, 1);
    page.open(&address(&stage, &trial)).await?;
    opened(&page, "record").await?;
    page.choose("[data-panel=record] [name=measure]", "ph")
        .await?;
    page.frame().await?;
    page.choose("[data-panel=record] [name=way]", "strip")
        .await?;
    page.frame().await?;
    assert_eq!(
        page.value("[data-panel=record] [name=error]").await?,
        "0.4",
        "its usual error"
    );
    // 1.96 times the square root of two times 0.4.
    let says = page.text(&record("kit-says")).await?;
    assert!(says.contains("less than 1.1 apart"), "{says}");
    for value in ["6.5", "7"] {
        page.find(VALUE).await?.send_keys(value).await?;
        hit(&page, "[data-trial=record-next]").await?;
    }
    let saved = page
        .eval("location.hash.length > 1 || !document.getElementById('undo').disabled")
        .await?;
    assert_eq!(saved, json!(true), "stored");
    page.reload().await?;
    opened(&page, "record").await?;
    page.choose("[data-panel=record] [name=measure]", "ph")
        .await?;
    page.frame().await?;
    hit(&page, "[data-trial=record-go][value='1']").await?;
    assert_eq!(page.value(VALUE).await?, "7", "read again");
    assert_eq!(
        page.value("[data-panel=record] [name=way]").await?,
        "strip",
        "with what it was read"
    );
    assert_eq!(
        page.value("[data-panel=record] [name=error]").await?,
        "0.4",
        "and how far that errs"
    );
    // Days that can hardly be meant.
    for (day, says) in [("2099-12-31", "still to come"), ("2026-04-01", "sowing")] {
        page.run(&format!(
            "const d = document.querySelector('[data-panel=record] [name=date]');
             d.value = '{day}'; d.dispatchEvent(new Event('change', {{ bubbles: true }}));"
        ))
        .await?;
        page.frame().await?;
        let odd = page.text(&record("odd-day")).await?;
        assert!(odd.contains(says), "{day}: {odd}");
    }
    // A name that is too long is told.
    page.run(
        "document.querySelector('[data-part=own-all]').open = true;
         document.querySelector('[name=own-name]').value = 'x'.repeat(300);",
    )
    .await?;
    press(&page, "record-own").await?;
    let says = page.text(&record("own-says")).await?;
    assert!(says.contains("more than 120 letters"), "{says}");
    let wide = page.number("document.documentElement.scrollWidth").await?;
    assert!(wide <= 390.0, "{wide} px");
    page.quiet().await?;
    page.close().await
}

/// A hand presses a button where it stands.
async fn hit(page: &Browser, selector: &str) -> Played {
    page.find(selector).await?.click().await?;
    page.frame().await?;
    page.frame().await
}

const VALUE: &str = "[data-panel=record] [name=value]";
const UNDO: &str = "[data-trial=record-undo]";

pub(super) async fn a_press_after_typing_is_not_lost(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (trial, layout) = trial(4, 1);
    let walk = layout.walk();
    let code = |step: usize| layout.code(walk[step]).expect("a code");
    page.open(&address(&stage, &trial)).await?;
    opened(&page, "record").await?;
    // Undo straight out of the box, with a real press: the value is kept as the box is left, and
    // taken back.
    page.find(VALUE).await?.send_keys("5").await?;
    hit(&page, UNDO).await?;
    page.frame().await?;
    assert_eq!(page.value(VALUE).await?, "", "taken back");
    page.quiet().await?;
    // What is no number is told without moving the buttons, so that the press hits.
    page.find(VALUE).await?.send_keys("7").await?;
    hit(&page, "[data-trial=record-next]").await?;
    page.find(VALUE).await?.send_keys("ab").await?;
    let top = "document.querySelector('[data-trial=record-undo]').getBoundingClientRect().top";
    let before = page.number(top).await?;
    page.run("document.activeElement.blur()").await?;
    page.frame().await?;
    assert!(
        !page.text(&record("value-says")).await?.is_empty(),
        "it is told"
    );
    assert_eq!(page.number(top).await?, before, "and nothing moves");
    hit(&page, UNDO).await?;
    assert_eq!(page.value(VALUE).await?, "", "what was typed is taken back");
    let list = page.text(&record("list")).await?;
    assert!(list.contains("7 g"), "what was kept stays: {list}");
    // The alert vanishes as well, and the tap elsewhere counts.
    page.find(VALUE).await?.send_keys("ab").await?;
    page.run("document.activeElement.blur()").await?;
    page.frame().await?;
    page.find(VALUE).await?.clear().await?;
    page.find(VALUE).await?.send_keys("55").await?;
    hit(&page, "[data-trial=record-go][value='4']").await?;
    assert_eq!(page.text(&record("code")).await?, code(4), "the tap counts");
    let list = page.text(&record("list")).await?;
    assert!(list.contains("55 g"), "and the value is kept: {list}");
    // Another day while the box holds no number: the page shows where the next value goes.
    page.find(VALUE).await?.send_keys("abc").await?;
    page.run(
        "const d = document.querySelector('[data-panel=record] [name=date]');
         d.focus(); d.value = '2026-05-04';
         d.dispatchEvent(new Event('change', { bubbles: true }));",
    )
    .await?;
    page.frame().await?;
    page.frame().await?;
    assert_eq!(
        page.value("[data-panel=record] [name=date]").await?,
        "2026-05-04",
        "the day is the chosen one"
    );
    assert_eq!(page.value(VALUE).await?, "abc", "what was typed stays");
    page.find(VALUE).await?.clear().await?;
    page.find(VALUE).await?.send_keys("12,5").await?;
    hit(&page, "[data-trial=record-next]").await?;
    let filled = page.text(&record("filled")).await?;
    assert_eq!(
        filled, "4 May 2026: 1 of 20 measured, 19 not measured yet.",
        "stored under the day that is shown"
    );
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_lost_container_has_one_truth(stage: Stage) -> Played {
    let page = stage.browser(390, 844).await?;
    let (trial, layout) = trial(4, 1);
    let first = layout.code(layout.walk()[0]).expect("a code");
    page.open(&address(&stage, &trial)).await?;
    opened(&page, "record").await?;
    page.find(VALUE).await?.send_keys("55").await?;
    hit(&page, "[data-trial=record-next]").await?;
    press(&page, "record-previous").await?;
    press(&page, "record-lose").await?;
    let kept = page.text(&record("kept")).await?;
    assert!(
        kept.starts_with(&first) && kept.contains("its value is taken out"),
        "{kept}"
    );
    let filled = page.text(&record("filled")).await?;
    assert!(
        filled.ends_with("0 of 20 measured, 1 lost, 19 not measured yet."),
        "{filled}"
    );
    // It was there after all.
    page.find(VALUE).await?.send_keys("56").await?;
    hit(&page, "[data-trial=record-next]").await?;
    let kept = page.text(&record("kept")).await?;
    assert!(kept.ends_with("It no longer counts as lost."), "{kept}");
    let shown = page
        .eval("document.querySelector('[data-part=lost-all]').hidden")
        .await?;
    assert_eq!(shown, json!(true), "none is lost");
    // What died of its addition has a yield all the same.
    press(&page, "record-lose").await?;
    press(&page, "record-lost-yes").await?;
    page.find(VALUE).await?.send_keys("0").await?;
    hit(&page, "[data-trial=record-next]").await?;
    let lost = page.text(&record("lost")).await?;
    assert!(lost.contains("It died of what was added"), "{lost}");
    page.quiet().await?;
    page.close().await
}

pub(super) async fn a_large_trial_stays_smooth(stage: Stage) -> Played {
    let page = stage.browser(1280, 800).await?;
    let (mut trial, layout) = trial(10, 4);
    let count = layout.spots.len();
    assert_eq!(count, 200, "as large as they come");
    let day = Date::of(2026, 5, 4).expect("a day");
    for (of, measure) in MEASURES.iter().take(20).enumerate() {
        let (low, high) = measure.limits;
        for (at, spot) in layout.spots.iter().enumerate() {
            let value = 1.0 + ((at * 7 + of * 3 + spot.treatment) % 9) as f64 / 10.0;
            let value = if measure.whole || measure.unit.is_empty() {
                value.round() + 1.0
            } else {
                value
            };
            let value =
                value
                    .max(low)
                    .min(high.min(20.0))
                    .min(if high <= 1.0 { 0.9 } else { high });
            trial.records.push(Record::of(at, day, measure.id, value));
        }
    }
    page.open(&stage.home).await?;
    let mut recipe = Recipe::from_json(GROUND).expect("it is right");
    set_trial(&mut recipe, Some(&trial));
    let json = recipe.to_json();
    // Dropped, since a chooser opens for a hand alone.
    page.client
        .execute(
            "const t = new DataTransfer();
             t.items.add(new File([arguments[0]], 'trial.json', { type: 'application/json' }));
             window.dispatchEvent(new DragEvent('drop', { dataTransfer: t, cancelable: true }));",
            vec![json!(json)],
        )
        .await?;
    super::keep_it::until(
        &page,
        "!document.getElementById('undo').hasAttribute('disabled')",
    )
    .await?;
    tokio_sleep(&page).await?;
    opened(&page, "read").await?;
    // Frames go on while shuffles run, and in the end all is shuffled.
    page.run(
        "window.drawn = 0;
         const says = () => document.querySelector('[data-panel=read] [data-part=shuffled]').textContent;
         const tick = () => { if (says().startsWith('Shuffling')) window.drawn += 1; requestAnimationFrame(tick); };
         requestAnimationFrame(tick);
         document.querySelector('[data-part=details]').open = true;",
    )
    .await?;
    let shuffled = format!(
        "/^(?!Shuffling).+/.test(document.querySelector('{}').textContent)",
        read("shuffled")
    );
    super::keep_it::until(&page, &shuffled).await?;
    let drawn = page.number("window.drawn").await?;
    assert!(drawn >= 5.0, "{drawn} frames while it shuffled");
    let list = "[data-panel=read] [name=measure]";
    let last = page
        .eval(&format!(
            "[...document.querySelector('{list}').options].at(-1).value"
        ))
        .await?;
    page.choose(list, last.as_str().unwrap_or_default()).await?;
    page.frame().await?;
    let options = page
        .number(&format!("document.querySelector('{list}').options.length"))
        .await?;
    assert_eq!(options, 20.0, "every measure can be read");
    let dots = page
        .number("document.querySelectorAll('[data-part=dots] circle').length")
        .await?;
    assert_eq!(dots, 200.0, "every container has its dot");
    page.quiet().await?;
    page.close().await
}

/// Time for a file to be read.
async fn tokio_sleep(page: &Browser) -> Played {
    for _ in 0..10 {
        page.frame().await?;
    }
    Ok(())
}
