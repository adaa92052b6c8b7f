//! How cost grows with draws and with additions: `cargo bench --bench growth`. It prints the
//! exponents beside their limits and asserts nothing.

mod support;

use barrowmix::draws::{DRAWS, Strata};
use barrowmix::outcome::Outcome;
use barrowmix::recipe::Recipe;
use std::hint::black_box;
use std::time::{Duration, Instant};
use support::with_additions;

/// Time given to each size.
const EACH: Duration = Duration::from_millis(1200);
/// Runs at the least, however slow.
const LEAST_RUNS: usize = 7;

fn main() {
    let eight = with_additions(8);
    let by_draws = [1_024, 4_096, 16_384, 65_536].map(|draws| (draws, median_ms(&eight, draws)));
    print("draws, with 8 additions", &by_draws);
    judge("draws", exponent(&by_draws), 1.1);

    let by_additions = [1, 2, 4, 8, 16, 32, 64]
        .map(|count| (count, median_ms(&with_additions(count as usize), DRAWS)));
    print("additions, with 1024 draws", &by_additions);
    judge("additions, 1 to 16", exponent(&by_additions[..5]), 1.3);
    println!(
        "exponent in additions, 16 to 64: {:.2} (no limit)",
        exponent(&by_additions[4..])
    );
    println!(
        "exponent in additions, 1 to 64: {:.2} (no limit)",
        exponent(&by_additions)
    );
}

/// Median time of an outcome, its strata warm.
fn median_ms(recipe: &Recipe, draws: u32) -> f64 {
    let mut strata = Strata::of(draws);
    let mut run = || {
        let start = Instant::now();
        let outcome = Outcome::drawn_from(black_box(recipe), &mut strata);
        black_box(&outcome).as_ref().expect("it can be mixed");
        start.elapsed().as_secs_f64() * 1e3
    };
    run();
    let until = Instant::now() + EACH;
    let mut times = Vec::new();
    while times.len() < LEAST_RUNS || Instant::now() < until {
        times.push(run());
    }
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Slope of the straight line of least squares through the logarithms.
fn exponent(points: &[(u32, f64)]) -> f64 {
    let logs: Vec<[f64; 2]> = points
        .iter()
        .map(|(size, ms)| [libm::log(f64::from(*size)), libm::log(*ms)])
        .collect();
    let mean = |at: usize| logs.iter().map(|log| log[at]).sum::<f64>() / logs.len() as f64;
    let [x, y] = [mean(0), mean(1)];
    let sum = |of: fn([f64; 2]) -> f64| -> f64 {
        logs.iter().map(|log| of([log[0] - x, log[1] - y])).sum()
    };
    sum(|[x, y]| x * y) / sum(|[x, _]| x * x)
}

fn print(name: &str, points: &[(u32, f64)]) {
    println!("\n{name}: median ms of an outcome");
    for (size, ms) in points {
        println!("{size:>8} {ms:>10.3}");
    }
}

fn judge(name: &str, exponent: f64, limit: f64) {
    let word = if exponent <= limit { "met" } else { "missed" };
    println!("exponent in {name}: {exponent:.2} (limit {limit}: {word})");
}
