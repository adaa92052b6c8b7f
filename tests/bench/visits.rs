//! First visits until the outcome is painted, and presses of keys until the next paint, as the
//! browser itself counts them: with the processor as it is, and slowed four times.

use crate::browser::Browser;
use crate::steps::percentile;
use crate::{Done, judged};
use serde_json::{Value, json};
use std::error::Error;
use std::time::Duration;

const WATCH: &str = include_str!("watch.js");
const VISITS: usize = 12;
/// Keys pressed on each control.
const PRESSES: usize = 30;
const SLIDERS: [&str; 3] = [
    "#ground input[type=range][data-bind=clay_pct]",
    "#ground input[type=range][data-bind=organic_matter_pct]",
    "#additions li input[type=range]",
];
const RIGHT: &str = "\u{e014}";
const LEFT: &str = "\u{e012}";
/// Most time to the first outcome, ms.
const FIRST_MS: f64 = 500.0;
/// What the browser tells of no press that was quicker, ms.
const LEAST_MS: f64 = 16.0;

pub(super) async fn measure(browser: &Browser, home: &str) -> Done {
    browser.first_run(WATCH).await?;
    let (origin, home) = (home.trim_end_matches('/'), format!("{home}site/"));
    for (slowed, limit_ms) in [(1, 50.0), (4, 100.0)] {
        browser
            .tools("Emulation.setCPUThrottlingRate", json!({ "rate": slowed }))
            .await?;
        println!("\nprocessor slowed {slowed} times");
        let mut times = Vec::new();
        for _ in 0..VISITS {
            times.push(first_visit(browser, origin, &home).await?);
        }
        times.sort_by(f64::total_cmp);
        let (median, slowest) = (percentile(&times, 0.5), times[VISITS - 1]);
        print!("first outcome painted after {median:.0} ms, the slowest {slowest:.0}");
        if slowed == 1 {
            print!(" (limit {FIRST_MS}: {})", judged(slowest < FIRST_MS));
        }
        println!();
        presses(browser, slowed, limit_ms).await?;
    }
    browser
        .tools("Emulation.setCPUThrottlingRate", json!({ "rate": 1 }))
        .await?;
    Ok(())
}

/// A visit by somebody who was never here; ms until the outcome is painted.
async fn first_visit(browser: &Browser, origin: &str, home: &str) -> Result<f64, Box<dyn Error>> {
    browser.client.goto("about:blank").await?;
    let all = json!({ "origin": origin, "storageTypes": "all" });
    browser.tools("Storage.clearDataForOrigin", all).await?;
    browser
        .tools("Network.clearBrowserCache", json!({}))
        .await?;
    browser.open(home).await?;
    for _ in 0..100 {
        let painted = browser.number("window.seen.painted").await?;
        if painted > 0.0 {
            return Ok(painted);
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    Err("the outcome was never painted".into())
}

/// Keys on the sliders of the page as it stands.
async fn presses(browser: &Browser, slowed: u32, limit_ms: f64) -> Done {
    // What starts the page and what keeps it for later is over.
    tokio::time::sleep(Duration::from_secs(3)).await;
    let from = browser.number("performance.now()").await?;
    browser
        .run("for (const id in window.seen.presses) delete window.seen.presses[id]")
        .await?;
    for slider in SLIDERS {
        let control = browser.find(slider).await?;
        for press in 0..PRESSES {
            // Back and forth, as a hand does that looks for a place.
            let key = if press % 12 < 8 { RIGHT } else { LEFT };
            control.send_keys(key).await?;
            browser.frame().await?;
        }
    }
    tokio::time::sleep(Duration::from_secs(1)).await;
    let seen = browser.eval("window.seen").await?;
    let mut times: Vec<f64> = seen["presses"]
        .as_object()
        .map(|all| all.values().filter_map(Value::as_f64).collect())
        .unwrap_or_default();
    let told = times.len();
    let all = SLIDERS.len() * PRESSES;
    times.resize(told.max(all), LEAST_MS);
    times.sort_by(f64::total_cmp);
    let slow = percentile(&times, 0.95);
    println!(
        "{all} keys until the next paint: median at most {:.0} ms, 95 % {slow:.0} (limit {limit_ms}: {}), \
         the slowest {:.0}; {} below {LEAST_MS} ms",
        percentile(&times, 0.5),
        judged(slow < limit_ms),
        percentile(&times, 1.0),
        all.saturating_sub(told),
    );
    let tasks: Vec<f64> = seen["tasks"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|task| task[0].as_f64().is_some_and(|start| start > from))
        .filter_map(|task| task[1].as_f64())
        .collect();
    let longest = tasks.iter().copied().fold(0.0, f64::max);
    print!("tasks of over 50 ms while they moved: {}", tasks.len());
    if longest > 0.0 {
        print!(", the longest {longest:.0} ms");
    }
    if slowed == 1 {
        print!(" (limit 0: {})", judged(tasks.is_empty()));
    }
    println!();
    let shift = seen["shift"].as_f64().unwrap_or(f64::NAN);
    println!(
        "layout shift {shift:.4} (limit 0: {})",
        judged(shift == 0.0)
    );
    Ok(())
}
