//! A trial as large as they come: 20 measures of 200 containers, read and shuffled in wasm, and on
//! the real page, where no frame may be long meanwhile; and a step of the plan's slider.

use crate::browser::Browser;
use crate::steps::percentile;
use crate::{Done, judged};
use barrowmix::quantity::Unit;
use barrowmix::recipe::{Amount, Kept, Recipe, to_letters};
use barrowmix::trial::date::Date;
use barrowmix::trial::document::set_trial;
use barrowmix::trial::measures::MEASURES;
use barrowmix::trial::plan::{Deed, Treatment, Trial, Vessel};
use barrowmix::trial::records::Record;
use fantoccini::Locator;
use serde_json::{Value, json};
use std::error::Error;
use std::time::Duration;

const GROUND: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55,"organic_matter_pct":2.5,
        "bulk_density_kg_m3":1250,"water_per_dry_pct":24},
    "soil":{"value":100,"unit":"L"},
    "additions":[]}"#;
const ADDITIONS: [&str; 4] = ["yard_compost", "concrete_sand", "gypsum", "biochar_ash"];
const BLOCKS: usize = 10;
const COPIES: usize = 4;
const CONTAINERS: usize = 200;
const READ: usize = 20;
const ROUNDS: usize = 15;
/// Most time of all measures, of 20,000 shuffles, and of a frame, ms.
const READ_MS: f64 = 100.0;
const SHUFFLES_MS: f64 = 300.0;
const FRAME_MS: f64 = 50.0;
const STEP_MS: f64 = 16.0;

/// Invented records, of which each measure has some that differ.
fn recipe() -> Result<Recipe, Box<dyn Error>> {
    let vessel = Vessel::Container {
        volume: Amount::new(10.0, Unit::Litre),
        height: Amount::new(25.0, Unit::Centimetre),
        empty: None,
        kept: Kept::new(),
    };
    let mut treatments = vec![Treatment::new(Deed::Dug)];
    treatments.extend(ADDITIONS.map(Treatment::of));
    for treatment in &mut treatments {
        treatment.copies = Some(COPIES);
    }
    let mut trial = Trial::new(treatments, vessel, 20_260_401);
    trial.dose = Some(Amount::new(1.0, Unit::Litre));
    trial.blocks = BLOCKS;
    trial.seeds = Some(20);
    trial.start = Date::of(2026, 4, 6);
    let layout = trial.layout().map_err(|fault| format!("{fault:?}"))?;
    let day = Date::of(2026, 5, 4).ok_or("a day")?;
    for (of, measure) in MEASURES.iter().take(READ).enumerate() {
        let (low, high) = measure.limits;
        for (at, spot) in layout.spots.iter().enumerate() {
            let mut value = 1.0 + ((at * 7 + of * 3 + spot.treatment) % 9) as f64 / 10.0;
            if measure.whole || measure.unit.is_empty() {
                value = value.round() + 1.0;
            }
            let most = if high <= 1.0 { 0.9 } else { high };
            let record = Record::of(at, day, measure.id, value.max(low).min(most));
            trial.records.push(record);
        }
    }
    let mut recipe = Recipe::from_json(GROUND).map_err(|error| format!("{error:?}"))?;
    set_trial(&mut recipe, Some(&trial));
    Ok(recipe)
}

/// In the module of the benches, whose page is open.
pub(super) async fn core(browser: &Browser) -> Done {
    let script = "const [letters, rounds, done] = arguments;
        const timed = (act) => { const from = performance.now(); const told = Number(act());
          return [performance.now() - from, told]; };
        const at = (name) => new URL(name, location).href;
        import(at('shed.js')).then(async ({ BenchTrial, default: start }) => {
          await start({ module_or_path: at('shed_bg.wasm') });
          const trial = new BenchTrial(letters), all = [[], []];
          for (let round = 0; round < rounds; round += 1) {
            all[0].push(timed(() => trial.read()));
            all[1].push(timed(() => trial.shuffle()));
          }
          done(all);
        }).catch((error) => done(String(error)));";
    let letters = to_letters(&recipe()?);
    let told = browser
        .client
        .execute_async(script, vec![json!(letters), json!(ROUNDS)])
        .await?;
    let all: Vec<Vec<(f64, f64)>> =
        serde_json::from_value(told.clone()).map_err(|_| format!("no times: {told}"))?;
    println!("\na trial of {CONTAINERS} containers in wasm, medians of {ROUNDS}");
    for (rounds, what, limit_ms) in [
        (&all[0], "measures analysed", READ_MS),
        (&all[1], "shuffles", SHUFFLES_MS),
    ] {
        let mut times: Vec<f64> = rounds.iter().map(|(ms, _)| *ms).collect();
        times.sort_by(f64::total_cmp);
        let (ms, count) = (percentile(&times, 0.5), rounds[0].1);
        println!(
            "{count:>6.0} {what:<18} {ms:>7.1} ms (limit {limit_ms}: {})",
            judged(ms < limit_ms)
        );
    }
    if all[0][0].1 == READ as f64 {
        Ok(())
    } else {
        Err("not every measure was analysed".into())
    }
}

/// On the page as it is published.
pub(super) async fn page(browser: &Browser, home: &str) -> Done {
    let origin = home.trim_end_matches('/');
    browser.client.goto("about:blank").await?;
    let all = json!({ "origin": origin, "storageTypes": "all" });
    browser.tools("Storage.clearDataForOrigin", all).await?;
    browser.open(&format!("{home}site/")).await?;
    browser
        .run("document.querySelector('[data-shed=open]').click()")
        .await?;
    found(browser, "#shed-file").await?;
    let script = "const box = document.getElementById('shed-file'); const t = new DataTransfer();
        t.items.add(new File([arguments[0]], 'trial.json', { type: 'application/json' }));
        box.files = t.files; box.dispatchEvent(new Event('change'));";
    let file = json!(recipe()?.to_json());
    browser.client.execute(script, vec![file]).await?;
    tokio::time::sleep(Duration::from_secs(1)).await;
    println!("\nthe same on the page, ms");

    browser
        .run("document.querySelector('[data-shed=trial]').click()")
        .await?;
    found(browser, "#trial-body [data-panel=plan]").await?;
    let steps = watched(
        browser,
        "const slider = document.querySelector('#trial-body input[type=range][name=spread]');
         for (let at = 0; at < 40; at += 1) {
           slider.value = 10 + at % 20;
           const from = performance.now();
           slider.dispatchEvent(new Event('input', { bubbles: true }));
           const handled = performance.now() - from;
           await new Promise((next) => requestAnimationFrame(() => {
             const framed = performance.now();
             const channel = new MessageChannel();
             channel.port1.onmessage = () => { times.push(handled + performance.now() - framed); next(); };
             channel.port2.postMessage(null);
           }));
         }",
    )
    .await?;
    let slow = percentile(&steps.0, 0.95);
    println!(
        "power, from a step of the spread to its paint, 95 of 100: {slow:.1} (limit {STEP_MS}: {})",
        judged(slow < STEP_MS)
    );

    browser
        .run("document.querySelector('#trial-body input[type=radio][value=read]').click()")
        .await?;
    found(browser, "[data-panel=read] [name=measure] option").await?;
    let shuffled = watched(
        browser,
        "const from = performance.now();
         document.querySelector('[data-panel=read] [data-part=details]').open = true;
         while (!/^(?!Shuffling).+/.test(document.querySelector('[data-panel=read] [data-part=shuffled]').textContent)) {
           await new Promise(requestAnimationFrame);
         }
         times.push(performance.now() - from);",
    )
    .await?;
    println!(
        "shuffles in slices of frames: {:.0}; the longest frame meanwhile {:.0} (limit {FRAME_MS}: {})",
        shuffled.0[0],
        shuffled.1,
        judged(shuffled.1 < FRAME_MS)
    );
    Ok(())
}

/// Waits for a part of the page.
pub(super) async fn found(browser: &Browser, selector: &str) -> Done {
    let wait = browser.client.wait().at_most(Duration::from_secs(30));
    wait.for_element(Locator::Css(selector)).await?;
    Ok(())
}

/// Runs a script that fills `times`; these in order of length, and the longest time between frames.
pub(super) async fn watched(
    browser: &Browser,
    script: &str,
) -> Result<(Vec<f64>, f64), Box<dyn Error>> {
    let script = format!(
        "const done = arguments[arguments.length - 1];
         const times = []; let longest = 0, last, over = false;
         requestAnimationFrame(function tick(now) {{
           if (last !== undefined) longest = Math.max(longest, now - last);
           last = now; if (!over) requestAnimationFrame(tick);
         }});
         (async () => {{ {script} }})().then(() => {{ over = true; done([times, longest]); }},
           (error) => done(String(error)));"
    );
    let told: Value = browser.client.execute_async(&script, vec![]).await?;
    let (mut times, longest): (Vec<f64>, f64) =
        serde_json::from_value(told.clone()).map_err(|_| format!("no times: {told}"))?;
    times.sort_by(f64::total_cmp);
    if times.is_empty() {
        return Err("nothing was measured".into());
    }
    Ok((times, longest))
}
