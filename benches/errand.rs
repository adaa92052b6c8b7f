//! What a search for the cheapest whole bags costs: `cargo bench --bench errand`. A page has a tenth of
//! a second for wishes about masses, two seconds for others.

#[path = "../tests/support/mod.rs"]
mod support;

use barrowmix::errand::Search;
use criterion::Criterion;
use std::hint::black_box;
use std::time::{Duration, Instant};
use support::dice::Dice;
use support::errands::{Case, LARGE, large};

fn searched(case: &Case) -> (f64, f64) {
    let from = Instant::now();
    let search = Search::of(&case.recipe, &case.errand);
    let mut search = search.unwrap_or_else(|error| panic!("{error:?}"));
    let mut longest = 0.0_f64;
    loop {
        let step = Instant::now();
        let over = black_box(search.advance());
        longest = longest.max(step.elapsed().as_secs_f64() * 1e3);
        if over {
            return (from.elapsed().as_secs_f64() * 1e3, longest);
        }
    }
}

fn main() {
    let mut criterion = Criterion::default()
        .without_plots()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(400))
        .measurement_time(Duration::from_millis(1500))
        .configure_from_args();
    let mut dice = Dice::new(30);
    let mut group = criterion.benchmark_group("errand, 30 materials");
    for (name, count, kind, odds_pct) in LARGE {
        let cases: Vec<Case> = (0..count)
            .map(|_| large(&mut dice, kind, odds_pct))
            .collect();
        // One by one: a page waits for the slow ones.
        let mut times: Vec<(f64, f64)> = cases.iter().map(searched).collect();
        times.sort_by(|a, b| a.0.total_cmp(&b.0));
        let at = |share: f64| times[(share * (times.len() - 1) as f64).round() as usize].0;
        let longest = times.iter().map(|of| of.1).fold(0.0, f64::max);
        println!(
            "{count} {name}: median {:.1} ms, 95 of 100 {:.1} ms, most {:.1} ms, longest step {longest:.1} ms",
            at(0.5),
            at(0.95),
            at(1.0)
        );
        if kind.linear {
            group.bench_function(format!("{count} {name} wishes"), |bench| {
                bench.iter(|| cases.iter().map(searched).count());
            });
        }
    }
    group.finish();
    criterion.final_summary();
}
