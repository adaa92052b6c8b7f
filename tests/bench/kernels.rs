//! The draws of an outcome, in wasm and in plain JavaScript.

use crate::browser::Browser;
use crate::{Done, judged};
use fantoccini::Locator;
use std::time::Duration;

/// Most time of the draws of an outcome with eight additions, ms.
const WASM_LIMIT_MS: f64 = 4.0;
/// How much faster than plain JavaScript it must be, and should be.
const RATIO_LIMIT: f64 = 1.5;
const RATIO_AIM: f64 = 2.0;

pub(super) async fn measure(browser: &Browser, home: &str) -> Done {
    let page = format!("{home}kernel/bench.html");
    browser.client.goto(&page).await?;
    browser
        .client
        .wait()
        .at_most(Duration::from_secs(300))
        .for_element(Locator::Css("html[data-done]"))
        .await?;
    let fault = browser
        .eval("document.documentElement.dataset.fault || ''")
        .await?;
    if let Some(fault) = fault.as_str().filter(|fault| !fault.is_empty()) {
        return Err(fault.into());
    }
    println!("\n1,024 draws of an outcome, medians of rounds in turns; both tell the same ends");
    println!(
        "{:<18} {:>6} {:>10} {:>10} {:>7}",
        "recipe", "rounds", "wasm ms", "script ms", "ratio"
    );
    let rows = browser
        .eval("[...document.querySelectorAll('#results [data-recipe]')].map((row) => ({ ...row.dataset }))")
        .await?;
    let rows = rows.as_array().cloned().unwrap_or_default();
    for row in &rows {
        let text = |name: &str| row[name].as_str().unwrap_or_default().to_owned();
        let number = |name: &str| text(name).parse().unwrap_or(f64::NAN);
        let (wasm, script, ratio): (f64, f64, f64) =
            (number("wasm"), number("script"), number("ratio"));
        println!(
            "{:<18} {:>6} {wasm:>10.3} {script:>10.3} {ratio:>7.2}",
            text("recipe"),
            text("rounds")
        );
        if text("recipe") == "eight.json" {
            println!(
                "wasm, 8 additions: {wasm:.2} ms (limit {WASM_LIMIT_MS}: {})",
                judged(wasm < WASM_LIMIT_MS)
            );
            println!(
                "JavaScript over wasm, 8 additions: {ratio:.2} (limit {RATIO_LIMIT}: {}; aim {RATIO_AIM}: {})",
                judged(ratio >= RATIO_LIMIT),
                judged(ratio >= RATIO_AIM)
            );
        }
    }
    if rows.len() == 2 {
        Ok(())
    } else {
        Err("the page measured nothing".into())
    }
}
