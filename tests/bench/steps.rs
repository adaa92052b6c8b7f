//! Steps of sliders on the real page, until they are painted.

use crate::browser::Browser;
use crate::{Done, judged};
use barrowmix::recipe::{Recipe, to_link};
use serde_json::{Value, json};
use std::time::Duration;

const DEMO: &str = include_str!("../../examples/recipes/willowbank.json");
const EIGHT: &str = include_str!("page/eight.json");
const STEPS: &str = include_str!("steps.js");

/// What is moved: a fraction of the ground, its organic matter, the first addition.
const SLIDERS: [(&str, &str); 3] = [
    ("sand", "#ground input[type=range][data-bind=sand_pct]"),
    (
        "organic matter",
        "#ground input[type=range][data-bind=organic_matter_pct]",
    ),
    ("first addition", "#additions li input[type=range]"),
];
const WARM_STEPS: usize = 50;
const STEPS_EACH: usize = 120;
/// Most time of 95 steps of 100, ms; and what it should be.
const LIMIT_MS: f64 = 16.0;
const AIM_MS: f64 = 8.0;
/// Longest bar of the histogram.
const BAR: usize = 60;

pub(super) async fn measure(browser: &Browser, home: &str) -> Done {
    for (name, text) in [("the demo", DEMO), ("8 additions", EIGHT)] {
        let recipe = Recipe::from_json(text).map_err(|error| format!("{error:?}"))?;
        let link = to_link(&recipe).map_err(|error| format!("{error:?}"))?;
        // From nowhere, so that the page starts anew.
        browser.client.goto("about:blank").await?;
        browser.open(&format!("{home}site/#{link}")).await?;
        println!("\nfrom a slider's step to its paint, {name}, 1280 x 800, ms");
        run(browser, SLIDERS[0].1, WARM_STEPS).await?;
        let mut all = Vec::new();
        let mut parts = [Vec::new(), Vec::new(), Vec::new()];
        for (slider, selector) in SLIDERS {
            let (mut times, of) = run(browser, selector, STEPS_EACH).await?;
            for (all, of) in parts.iter_mut().zip(of) {
                all.extend(of);
            }
            all.extend(&times);
            println!("{slider:<16} {}", summary(&mut times));
        }
        println!("{:<16} {}", "all", summary(&mut all));
        let [handler, frame, paint] = parts.map(|mut times| {
            times.sort_by(f64::total_cmp);
            percentile(&times, 0.5)
        });
        println!(
            "medians of its parts: event {handler:.1}, outcome and writing {frame:.1}, \
             style, layout and paint {paint:.1}"
        );
        histogram(&all);
        let slow = percentile(&all, 0.95);
        println!(
            "95 of 100 steps within {slow:.1} ms (limit {LIMIT_MS}: {}; aim {AIM_MS}: {})",
            judged(slow < LIMIT_MS),
            judged(slow < AIM_MS)
        );
        browser.quiet().await?;
    }
    Ok(())
}

/// Times of steps, and of their parts, ms.
type Times = (Vec<f64>, [Vec<f64>; 3]);

/// Moves a slider.
async fn run(
    browser: &Browser,
    selector: &str,
    steps: usize,
) -> Result<Times, Box<dyn std::error::Error>> {
    let patience = fantoccini::wd::TimeoutConfiguration::new(
        Some(Duration::from_secs(120)),
        Some(Duration::from_secs(60)),
        None,
    );
    browser.client.update_timeouts(patience).await?;
    let told = browser
        .client
        .execute_async(STEPS, vec![json!(selector), json!(steps)])
        .await?;
    let list = |of: &Value| of.as_array().cloned().unwrap_or_default();
    let times: Vec<f64> = list(&told["times"])
        .iter()
        .filter_map(Value::as_f64)
        .collect();
    let parts = [0, 1, 2].map(|at| {
        let all = list(&told["parts"]);
        all.iter().filter_map(|of| of[at].as_f64()).collect()
    });
    let changed = told["changed"].as_u64().unwrap_or(0) as usize;
    if times.len() < steps || changed < steps / 2 {
        return Err(format!("{selector}: {changed} of {steps} steps changed what is shown").into());
    }
    Ok((times, parts))
}

fn summary(times: &mut [f64]) -> String {
    times.sort_by(f64::total_cmp);
    let [median, slow, slowest] = [0.5, 0.95, 0.99].map(|share| percentile(times, share));
    let count = times.len();
    format!("{count:>4} steps: median {median:>5.1}  95 % {slow:>5.1}  99 % {slowest:>5.1}")
}

/// The value below which a share of the sorted values lies, straight between neighbours.
pub(super) fn percentile(sorted: &[f64], share: f64) -> f64 {
    let position = share * (sorted.len() - 1) as f64;
    let below = position as usize;
    let next = sorted[(below + 1).min(sorted.len() - 1)];
    sorted[below] + (next - sorted[below]) * (position - below as f64)
}

/// A line for each millisecond, the last for all that is longer.
fn histogram(sorted: &[f64]) {
    let most = percentile(sorted, 0.99).ceil().min(40.0) as usize;
    let mut counts = vec![0; most + 1];
    for time in sorted {
        counts[(*time as usize).min(most)] += 1;
    }
    let longest = counts.iter().copied().max().unwrap_or(1).max(1);
    let first = counts.iter().position(|count| *count > 0).unwrap_or(0);
    for (ms, count) in counts.iter().enumerate().skip(first) {
        let end = if ms == most { "+" } else { " " };
        println!(
            "{ms:>4}{end} {count:>4} {}",
            "#".repeat(count * BAR / longest)
        );
    }
}
