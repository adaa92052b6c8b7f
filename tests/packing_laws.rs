#![cfg(not(target_arch = "wasm32"))]
// A second way takes the functions of the standard library, not those of the crate.
#![allow(clippy::disallowed_methods)]
//! Laws that any packing of parts must keep, tried on random parts.

mod support;

use barrowmix::blend::{FRESH_K, Grains, SETTLED_K, packed_volume, threshold_proportion};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use support::second_way::{DE_LARRARD, additive, by_loose_share, ideal, linear, packed};

/// Summation and root finding in binary fractions.
const ROUNDING: f64 = 1e-12;
/// The two packing indices in use, and the sharp limit.
const INDICES: [f64; 3] = [f64::INFINITY, SETTLED_K, FRESH_K];

fn config(cases: u32) -> Config {
    Config {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(1999),
        ..Config::default()
    }
}

/// A part inside the domain of the model at every index: pore space above 1/(1 + 4.75).
fn part() -> impl Strategy<Value = Grains> {
    (-3.0..3.0_f64, 0.18..0.95_f64, -3.0..1.9_f64).prop_map(|(volume, porosity, size)| Grains {
        volume: 10_f64.powf(volume),
        porosity,
        size_mm: 10_f64.powf(size),
    })
}

/// Parts of which some may have the same size.
fn parts(most: usize) -> impl Strategy<Value = Vec<Grains>> {
    prop::collection::vec((part(), any::<bool>()), 1..=most).prop_map(|parts| {
        let first = parts[0].0.size_mm;
        parts
            .into_iter()
            .map(|(part, like_first)| Grains {
                size_mm: if like_first { first } else { part.size_mm },
                ..part
            })
            .collect()
    })
}

fn pair() -> impl Strategy<Value = [Grains; 2]> {
    (
        0.001..0.999_f64,
        0.18..0.9_f64,
        0.18..0.9_f64,
        -4.0..0.0_f64,
    )
        .prop_map(|(share, coarse, fine, ratio)| {
            by_loose_share(share, [coarse, fine], [1.0, 10_f64.powf(ratio)])
        })
}

fn index() -> impl Strategy<Value = f64> {
    prop::sample::select(INDICES.to_vec())
}

fn relative(one: f64, other: f64) -> f64 {
    (one - other).abs() / one.abs().max(other.abs())
}

proptest! {
    #![proptest_config(config(2000))]

    #[test]
    fn a_part_alone_keeps_its_volume(part in part(), k in index()) {
        let volume = packed_volume(&[part], k);
        prop_assert!(relative(volume, part.volume) <= ROUNDING, "{volume} of {part:?}");
    }

    #[test]
    fn equal_sizes_add(parts in parts(6), k in index()) {
        let alike: Vec<Grains> = parts.iter().map(|part| Grains { size_mm: 0.5, ..*part }).collect();
        let volume = packed_volume(&alike, k);
        prop_assert!(relative(volume, additive(&alike)) <= ROUNDING, "{volume} of {alike:?}");
    }

    #[test]
    fn splitting_a_part_changes_nothing(parts in parts(6), at in 0..6_usize, share in 0.01..0.99_f64, k in index()) {
        let at = at % parts.len();
        let mut split = parts.clone();
        split[at].volume *= share;
        split.push(Grains { volume: parts[at].volume * (1.0 - share), ..parts[at] });
        let (whole, split) = (packed_volume(&parts, k), packed_volume(&split, k));
        prop_assert!(relative(whole, split) <= ROUNDING, "{whole} whole, {split} split");
    }

    #[test]
    fn order_is_irrelevant(parts in parts(6), turn in 1..6_usize, k in index()) {
        let mut turned = parts.clone();
        turned.rotate_left(turn % parts.len());
        turned.swap(0, parts.len() - 1);
        let (one, other) = (packed_volume(&parts, k), packed_volume(&turned, k));
        prop_assert!(relative(one, other) <= ROUNDING, "{one} and {other} in another order");
    }

    #[test]
    fn only_ratios_of_sizes_count(parts in parts(6), power in -6..=6_i32, k in index()) {
        // Powers of two, so that the ratios stay the same to the last bit.
        let by = 2_f64.powi(power);
        let scaled: Vec<Grains> =
            parts.iter().map(|part| Grains { size_mm: by * part.size_mm, ..*part }).collect();
        let (one, other) = (packed_volume(&parts, k), packed_volume(&scaled, k));
        prop_assert!(relative(one, other) <= ROUNDING, "{one}, and {other} with all sizes x {by}");
    }

    #[test]
    fn volumes_scale(parts in parts(6), by in 1e-3..1e3_f64, k in index()) {
        let scaled: Vec<Grains> =
            parts.iter().map(|part| Grains { volume: by * part.volume, ..*part }).collect();
        let (one, other) = (by * packed_volume(&parts, k), packed_volume(&scaled, k));
        prop_assert!(relative(one, other) <= ROUNDING, "{one}, and {other} with all volumes x {by}");
    }

    #[test]
    fn two_parts_pack_between_ideal_and_additive(pair in pair(), k in index()) {
        let (least, most) = (ideal(&pair), additive(&pair));
        let by_line = linear(&pair);
        let volume = packed_volume(&pair, k);
        prop_assert!(least <= by_line * (1.0 + ROUNDING), "linear {by_line} below ideal {least}");
        prop_assert!(by_line <= most * (1.0 + ROUNDING), "linear {by_line} above the sum {most}");
        prop_assert!(least <= volume * (1.0 + ROUNDING), "{volume} below ideal {least}");
        prop_assert!(volume <= most * (1.0 + ROUNDING), "{volume} above the sum {most}");
    }

    #[test]
    fn any_parts_pack_to_a_volume(parts in parts(12), k in index()) {
        let volume = packed_volume(&parts, k);
        let (least, most) = (ideal(&parts), additive(&parts));
        prop_assert!(volume.is_finite() && volume > 0.0, "{volume} of {parts:?}");
        prop_assert!(volume <= most * (1.0 + ROUNDING), "{volume} above the sum {most}");
        prop_assert!(least <= volume * (1.0 + ROUNDING), "{volume} below ideal {least}");
    }

    #[test]
    fn parts_without_volume_are_skipped(parts in parts(6), at in 0..7_usize, empty in part(), k in index()) {
        let mut more = parts.clone();
        more.insert(at.min(parts.len()), Grains { volume: 0.0, ..empty });
        let (one, other) = (packed_volume(&parts, k), packed_volume(&more, k));
        prop_assert!(relative(one, other) <= ROUNDING, "{one}, and {other} with an empty part");
    }

    #[test]
    fn at_the_threshold_two_sizes_pack_densest(
        coarse in 0.18..0.9_f64, fine in 0.18..0.9_f64, power in -4.0..-0.01_f64, step in 0.001..0.3_f64,
    ) {
        let ratio = 10_f64.powf(power);
        let threshold = threshold_proportion(coarse, ratio);
        let at = |share: f64| {
            let parts = by_loose_share(share.clamp(0.0, 1.0), [coarse, fine], [1.0, ratio]);
            packed_volume(&parts, f64::INFINITY)
        };
        prop_assert!((0.0..1.0).contains(&threshold), "threshold {threshold}");
        let densest = at(threshold);
        for beside in [at(threshold - step), at(threshold + step)] {
            prop_assert!(densest <= beside + ROUNDING, "{densest} at {threshold}, {beside} beside");
        }
    }
}

proptest! {
    #![proptest_config(config(500))]

    #[test]
    fn two_codings_agree(parts in parts(8), k in index()) {
        let (one, other) = (packed_volume(&parts, k), packed(&parts, k, DE_LARRARD));
        prop_assert!(relative(one, other) <= ROUNDING, "{one} and {other} by the second way");
    }
}

#[test]
fn nothing_packs_to_nothing() {
    for k in INDICES {
        assert_eq!(packed_volume(&[], k), 0.0, "no parts at K = {k}");
        let empty = Grains {
            volume: 0.0,
            porosity: 0.4,
            size_mm: 1.0,
        };
        assert_eq!(
            packed_volume(&[empty, empty], k),
            0.0,
            "empty parts at K = {k}"
        );
    }
}
