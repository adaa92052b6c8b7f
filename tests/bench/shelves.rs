//! A shelf of eight on the real page: a step of a slider to its paint while the shelf is open, when
//! only the blend on the page is drawn, and until all differences stand once the slider is let go.

use crate::browser::Browser;
use crate::steps::percentile;
use crate::trials::{found, watched};
use crate::{Done, judged};
use barrowmix::recipe::{Recipe, to_letters};
use barrowmix::shelf::{SHELF_LIMIT, keep, set_shelf};
use std::time::Duration;

const CLAY: &str = r#"{"barrowmix":1,
    "ground":{"sand_pct":20,"silt_pct":25,"clay_pct":55},
    "soil":{"value":40,"unit":"L"},
    "additions":[{"material":"yard_compost","amount":{"value":10,"unit":"L"}},
        {"material":"concrete_sand","amount":{"value":10,"unit":"L"}}]}"#;
/// Most time of a step to its paint, ms.
const STEP_MS: f64 = 30.0;
/// Longest task that the page may be busy with, ms.
const TASK_MS: f64 = 50.0;

pub(super) async fn page(browser: &Browser, home: &str) -> Done {
    let mut recipe = Recipe::from_json(CLAY).map_err(|error| format!("{error:?}"))?;
    let mut list = Vec::new();
    for at in 0..SHELF_LIMIT {
        recipe.additions[at % 2].amount.value = 4.0 + 3.0 * at as f64;
        list = keep(&list, &recipe, "Blend").map_err(|fault| format!("{fault:?}"))?;
    }
    set_shelf(&mut recipe, &list);
    browser.client.goto("about:blank").await?;
    browser
        .open(&format!("{home}site/#{}", to_letters(&recipe)))
        .await?;
    browser
        .run("document.getElementById('shelf-open').click()")
        .await?;
    found(browser, "#shelf-body .shelf-table td").await?;
    tokio::time::sleep(Duration::from_secs(3)).await;
    for against in ["ground", "now"] {
        browser
            .choose("#shelf-body [name=against]", against)
            .await?;
        let (steps, longest) = watched(
            browser,
            "const slider = document.querySelector('#additions input[type=range]');
             for (let at = 0; at < 60; at += 1) {
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
        let slow = percentile(&steps, 0.95);
        println!(
            "\na shelf of {SHELF_LIMIT}, differences from {against}: a step of a slider to its paint, 95 of 100: {slow:.1} (limit {STEP_MS}: {}); the longest frame {longest:.0}",
            judged(slow < STEP_MS)
        );
        let (times, longest) = watched(
            browser,
            "const slider = document.querySelector('#additions input[type=range]');
             const body = document.getElementById('shelf-body');
             for (let at = 0; at < 10; at += 1) {
               slider.value = 10 + at % 20;
               slider.dispatchEvent(new Event('input', { bubbles: true }));
               await new Promise(requestAnimationFrame);
               await new Promise(requestAnimationFrame);
               const from = performance.now();
               slider.dispatchEvent(new Event('change', { bubbles: true }));
               while (body.matches('[data-waits]')) await new Promise(requestAnimationFrame);
               times.push(performance.now() - from);
             }",
        )
        .await?;
        println!(
            "let go, until all differences stand, 95 of 100: {:.0}; the longest frame {longest:.0} (limit {TASK_MS}: {})",
            percentile(&times, 0.95),
            judged(longest < TASK_MS)
        );
    }
    Ok(())
}
