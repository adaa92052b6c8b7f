//! What reading a trial costs: `cargo bench --bench trial`. A page has a frame for a plan, a tenth
//! of a second for all measures, three for the shuffles.

use barrowmix::draws::{SplitMix64, fnv1a, quantile};
use barrowmix::trial::analysis::{Analysis, Limit, Limits, Measure, Reading, Scale, permutation};
use barrowmix::trial::permute::Question;
use barrowmix::trial::power::{Design, Plan, USUAL_POWER, each_needed};
use barrowmix::trial::verdict::{Good, Matters};
use criterion::Criterion;
use std::hint::black_box;
use std::time::Duration;

const TREATMENTS: usize = 5;
const BLOCKS: u32 = 40;
const MEASURES: usize = 20;

/// Twenty measures of 200 containers; of each another container is lost, so that no limit serves
/// twice.
fn measures(chance: &mut SplitMix64) -> Vec<Vec<Reading>> {
    let mut measure = |lost: usize| -> Vec<Reading> {
        let mut readings = Vec::new();
        for block in 0..BLOCKS {
            for treatment in 0..TREATMENTS {
                let share = ((chance.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
                let is_lost = readings.len() < lost * 7 && readings.len() % 7 == 0;
                readings.push(Reading {
                    treatment,
                    block: Some(block),
                    row: None,
                    column: None,
                    value: if is_lost {
                        f64::NAN
                    } else {
                        100.0 * libm::exp(0.05 * treatment as f64 + 0.3 * quantile(share))
                    },
                    limit: Limit::No,
                });
            }
        }
        readings
    };
    (0..MEASURES).map(&mut measure).collect()
}

const MEASURE: Measure = Measure {
    design: Design::Blocks,
    treatments: TREATMENTS,
    control: 0,
    scale: Scale::Log,
    matters: Matters::Share(0.2),
    good: Good::More,
};

fn main() {
    let mut criterion = Criterion::default()
        .without_plots()
        .sample_size(20)
        .warm_up_time(Duration::from_millis(400))
        .measurement_time(Duration::from_millis(1500))
        .configure_from_args();
    let mut chance = SplitMix64::new(fnv1a("trial"));
    let measures = measures(&mut chance);

    let mut group = criterion.benchmark_group("trial");
    group.bench_function("20 measures of 200 containers", |bench| {
        bench.iter(|| {
            let mut limits = Limits::default();
            for readings in &measures {
                black_box(Analysis::of(&MEASURE, black_box(readings), &mut limits))
                    .expect("it is analysed");
            }
        });
    });
    group.bench_function("20,000 shuffles of 200 containers", |bench| {
        bench.iter(|| {
            let all = permutation(&MEASURE, &measures[0], Question::AgainstControl, 1);
            black_box(all.expect("it is shuffled").run())
        });
    });
    let few: Vec<Reading> = measures[0]
        .iter()
        .filter(|reading| reading.block < Some(4))
        .copied()
        .collect();
    group.bench_function("1,728,000 arrangements of 20 containers", |bench| {
        bench.iter(|| {
            let all = permutation(&MEASURE, &few, Question::Overall, 1).expect("it is shuffled");
            assert!(all.is_exact(), "all of them");
            black_box(all.run())
        });
    });
    group.bench_function("power and smallest difference, 2 to 12 blocks", |bench| {
        bench.iter(|| {
            let mut limits = Limits::default();
            for each in 2..=12 {
                let plan = Plan::even(Design::Blocks, 4, each);
                black_box(plan.power_by(&mut limits, black_box(0.2), 0.2));
                black_box(plan.smallest_found_by(&mut limits, 0.2, USUAL_POWER));
            }
        });
    });
    group.bench_function("blocks needed", |bench| {
        bench.iter(|| each_needed(Design::Blocks, 4, black_box(0.2), 0.2, USUAL_POWER));
    });
    group.finish();
    criterion.final_summary();
}
