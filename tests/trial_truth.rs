#![cfg(not(target_arch = "wasm32"))]
//! Trials whose truth is known: how often the whole verdict errs where nothing does anything, and
//! how often it finds what is there, against what is stated before. Seeded, so that it is repeated.

mod support;

use barrowmix::draws::{SplitMix64, fnv1a, quantile};
use barrowmix::trial::analysis::{Analysis, Limit, Limits, Measure, Reading, Scale, permutation};
use barrowmix::trial::permute::Question;
use barrowmix::trial::power::{Design, Plan, log_spread};
use barrowmix::trial::verdict::{Good, Matters};

const TRIALS: u32 = 4_000;
/// Errors of a counted share that are allowed: one in a thousand tests would be off by chance.
const ERRORS: f64 = 3.3;
/// Spread between containers, as a share.
const CV: f64 = 0.2;

/// A measure in containers of `each` for four treatments and a control; the first does something.
fn trial(chance: &mut SplitMix64, design: Design, each: u32, effect: f64) -> Vec<Reading> {
    let mut normal = || {
        // 53 bits, never 0 or 1.
        let share = ((chance.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
        quantile(share)
    };
    let spread = log_spread(CV);
    let mut readings = Vec::new();
    for block in 0..each {
        // Blocks differ more than containers do.
        let shade = if design == Design::Random {
            0.0
        } else {
            0.4 * normal()
        };
        for treatment in 0..5 {
            let own = if treatment == 1 { effect } else { 0.0 };
            readings.push(Reading {
                treatment,
                block: Some(block),
                row: None,
                column: None,
                value: 100.0 * libm::exp(own + shade + spread * normal()),
                limit: Limit::No,
            });
        }
    }
    readings
}

fn measure(design: Design) -> Measure {
    Measure {
        design,
        treatments: 5,
        control: 0,
        scale: Scale::Log,
        matters: Matters::Share(0.2),
        good: Good::More,
    }
}

fn share_of_trials(
    name: &str,
    design: Design,
    each: u32,
    effect: f64,
    holds: impl Fn(&Analysis, &[Reading]) -> bool,
) -> f64 {
    let mut chance = SplitMix64::new(fnv1a(name));
    let mut limits = Limits::default();
    let mut found = 0;
    for _ in 0..TRIALS {
        let readings = trial(&mut chance, design, each, effect);
        let analysis = Analysis::of(&measure(design), &readings, &mut limits).expect("analysed");
        found += u32::from(holds(&analysis, &readings));
    }
    f64::from(found) / f64::from(TRIALS)
}

fn assert_share(share: f64, stated: f64, what: &str) {
    let error = (stated * (1.0 - stated) / f64::from(TRIALS)).sqrt();
    assert!(
        (share - stated).abs() <= ERRORS * error,
        "{what}: {share} of trials, stated {stated} within {}",
        ERRORS * error
    );
}

/// Any verdict that a treatment did something, of four that did nothing.
fn tells_any(analysis: &Analysis) -> bool {
    let mut verdicts = analysis
        .comparisons
        .iter()
        .map(|row| row.verdict.expect("a verdict"));
    verdicts.any(|judged| judged.verdict.tells_an_effect())
}

#[test]
fn idle_treatments_seem_to_work_in_one_trial_of_twenty() {
    for (name, design, each) in [
        ("idle in blocks", Design::Blocks, 4),
        ("idle at random", Design::Random, 5),
    ] {
        let share = share_of_trials(name, design, each, 0.0, |analysis, _| tells_any(analysis));
        assert_share(share, 0.05, name);
    }
}

/// A treatment that is told apart by its range, as often as was stated before sowing.
#[test]
fn the_stated_power_is_reached() {
    for (name, design, each, effect) in [
        ("power in blocks", Design::Blocks, 4, 0.5),
        ("power in more blocks", Design::Blocks, 6, 0.3),
        ("power at random", Design::Random, 5, 0.4),
    ] {
        let share = share_of_trials(name, design, each, effect, |analysis, _| {
            let row = &analysis.comparisons[0];
            let [low, high] = row.range.expect("a range");
            low > 0.0 || high < 0.0
        });
        let plan = Plan::even(design, 4, each);
        let stated = plan.power(effect, log_spread(CV)).expect("a power");
        assert!(
            (0.2..0.95).contains(&stated),
            "{name} asks something: {stated}"
        );
        assert_share(share, stated, name);
    }
}

/// All ranges together hold the truth in nineteen trials of twenty, whatever it is.
#[test]
fn ranges_hold_the_truth() {
    let effect = 0.35;
    let share = share_of_trials("truth", Design::Blocks, 4, effect, |analysis, _| {
        analysis.comparisons.iter().all(|row| {
            let truth = if row.treatment == 1 { effect } else { 0.0 };
            let [low, high] = row.range.expect("a range");
            low <= truth && truth <= high
        })
    });
    assert_share(share, 0.95, "ranges");
}

/// Shuffles of the containers err as often as they say: the chance of three treatments in three
/// blocks is at or below a height in no more of the trials than that.
#[test]
fn shuffles_err_as_they_say() {
    let mut chance = SplitMix64::new(fnv1a("shuffles"));
    let mut low = 0;
    for _ in 0..TRIALS {
        let mut readings = trial(&mut chance, Design::Blocks, 3, 0.0);
        readings.retain(|reading| reading.treatment < 3);
        let of = Measure {
            treatments: 3,
            ..measure(Design::Blocks)
        };
        let all = permutation(&of, &readings, Question::Overall, 1).expect("shuffled");
        assert!(all.is_exact(), "36 arrangements");
        low += u32::from(all.run().overall().expect("a chance") < 6.5 / 36.0);
    }
    // The first six of 36 orders of size, all equally likely.
    assert_share(f64::from(low) / f64::from(TRIALS), 6.0 / 36.0, "shuffles");
}
