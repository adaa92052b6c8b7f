//! Errands as large as they come, searched in wasm: how long, and how long the longest step, during
//! which a page stands still.

use crate::browser::Browser;
use crate::steps::percentile;
use crate::support::dice::Dice;
use crate::support::errands::{LARGE, large};
use crate::{Done, judged};
use barrowmix::recipe::to_letters;
use serde_json::json;

/// Most time, 95 of 100, ms: of wishes about masses, of others, of a step.
const LINEAR_MS: f64 = 100.0;
const OTHERS_MS: f64 = 2000.0;
const STEP_MS: f64 = 50.0;
/// Errands at a time: a script may not take for ever.
const AT_A_TIME: usize = 5;

/// Searches each; the whole time, the longest step and where it was, and the cost.
const SCRIPT: &str = "const [letters, done] = arguments;
    const at = (name) => new URL(name, location).href;
    import(at('shed.js')).then(async ({ BenchErrand, default: start }) => {
      await start({ module_or_path: at('shed_bg.wasm') });
      const all = [];
      for (const each of letters) {
        const from = performance.now();
        const errand = new BenchErrand(each);
        let last = performance.now(), longest = last - from, where = 0, over = false;
        while (!over) {
          const where_now = errand.progress();
          over = errand.advance();
          const now = performance.now();
          if (now - last > longest) [longest, where] = [now - last, where_now];
          last = now;
        }
        all.push([last - from, longest, where, errand.cost()]);
        errand.free();
      }
      done(all);
    }).catch((error) => done(String(error)));";

/// In the module of the benches, whose page is open.
pub(super) async fn core(browser: &Browser) -> Done {
    println!("\nerrands of 30 materials in wasm, ms: median, 95 of 100, longest step");
    let mut dice = Dice::new(30);
    for (name, count, kind, odds_pct) in LARGE {
        let letters: Vec<String> = (0..count)
            .map(|_| to_letters(&large(&mut dice, kind, odds_pct).recipe))
            .collect();
        let mut told: Vec<[f64; 4]> = Vec::new();
        for some in letters.chunks(AT_A_TIME) {
            let value = browser
                .client
                .execute_async(SCRIPT, vec![json!(some)])
                .await?;
            let times: Vec<[f64; 4]> =
                serde_json::from_value(value.clone()).map_err(|_| format!("no times: {value}"))?;
            told.extend(times);
        }
        let mut times: Vec<f64> = told.iter().map(|of| of[0]).collect();
        times.sort_by(f64::total_cmp);
        let longest = told.iter().max_by(|a, b| a[1].total_cmp(&b[1]));
        let [_, step, share, _] = longest.copied().unwrap_or_default();
        let none = told.iter().filter(|of| of[3] < 0.0).count();
        let (half, most) = (percentile(&times, 0.5), percentile(&times, 0.95));
        let limit = if kind.linear { LINEAR_MS } else { OTHERS_MS };
        println!(
            "{count:>4} {name:<8} {half:>7.1} {most:>7.1} (limit {limit}: {}) {step:>6.1} at {:.0} % (limit {STEP_MS}: {}); {none} that nothing can",
            judged(most < limit),
            share * 100.0,
            judged(step < STEP_MS)
        );
    }
    Ok(())
}
