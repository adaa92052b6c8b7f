//! What an outcome costs: `cargo bench --bench outcome`.

mod support;

use barrowmix::blend::{Grains, SETTLED_K, packed_volume};
use barrowmix::draws::{DRAWS, SplitMix64, Strata, ends, fnv1a};
use barrowmix::outcome::Outcome;
use criterion::{BatchSize, BenchmarkId, Criterion, Throughput};
use std::hint::black_box;
use std::time::Duration;
use support::with_additions;

/// By additions, strata kept from move to move; and once as a first visit has it.
fn additions(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("additions");
    for count in [1, 2, 4, 8, 16, 32, 64] {
        let recipe = with_additions(count);
        let mut strata = Strata::default();
        group.bench_with_input(BenchmarkId::new("warm", count), &recipe, |bench, recipe| {
            bench.iter(|| Outcome::drawn_from(black_box(recipe), &mut strata));
        });
    }
    let recipe = with_additions(8);
    group.bench_with_input(BenchmarkId::new("cold", 8), &recipe, |bench, recipe| {
        bench.iter(|| Outcome::of(black_box(recipe)));
    });
    group.finish();
}

/// By draws, with eight additions.
fn draws(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("draws");
    let recipe = with_additions(8);
    for count in [1_024, 4_096, 16_384, 65_536] {
        let mut strata = Strata::of(count);
        group.throughput(Throughput::Elements(count.into()));
        group.bench_with_input(
            BenchmarkId::from_parameter(count),
            &recipe,
            |bench, recipe| {
                bench.iter(|| Outcome::drawn_from(black_box(recipe), &mut strata));
            },
        );
    }
    group.finish();
}

fn parts(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("parts");
    let grains: Vec<Grains> = (0..9)
        .map(|number| Grains {
            volume: 1.0 + f64::from(number),
            porosity: 0.35 + 0.03 * f64::from(number),
            size_mm: 0.01 * f64::from(1 << number),
        })
        .collect();
    group.bench_function("packed_volume of 9", |bench| {
        bench.iter(|| packed_volume(black_box(&grains), SETTLED_K));
    });
    let mut chance = SplitMix64::new(fnv1a("bench"));
    let values: Vec<f64> = (0..DRAWS).map(|_| chance.next_u64() as f64).collect();
    group.bench_function("ends of 1024", |bench| {
        bench.iter_batched_ref(
            || values.clone(),
            |values| ends(values),
            BatchSize::SmallInput,
        );
    });
    group.bench_function("order of 1024", |bench| {
        bench.iter(|| SplitMix64::new(fnv1a(black_box("ground/clay_pct"))).order(DRAWS));
    });
    group.finish();
}

fn main() {
    let mut criterion = Criterion::default()
        .without_plots()
        .sample_size(20)
        .warm_up_time(Duration::from_millis(400))
        .measurement_time(Duration::from_millis(1500))
        .configure_from_args();
    additions(&mut criterion);
    draws(&mut criterion);
    parts(&mut criterion);
    criterion.final_summary();
}
