#![cfg(not(target_arch = "wasm32"))]
//! Organic matter that was added, against published pools and what materials say of their first
//! year; settling under rain.

mod support;

use barrowmix::figure::Figure;
use barrowmix::material::{Group, Property, catalogue};
use barrowmix::seasons::decay::{CHAR_RATES, Pools, char_pools, pools, warmth};
use barrowmix::seasons::settling::{density_after, height_ratio, settled_by_rain};
use support::{Row, table};

fn expected(row: &Row) -> Vec<f64> {
    let numbers = row.text("expected").split_whitespace();
    numbers
        .map(|number| number.parse().expect("a number"))
        .collect()
}

const fn of(fast_share: f64, fast_per_year: f64, slow_per_year: f64) -> Pools {
    Pools {
        fast_share,
        fast_per_year,
        slow_per_year,
    }
}

/// A square metre of 6 in of soil and 1 in of compost: mineral, the soil's organic matter, the
/// compost's, kg.
const MINERAL_KG: f64 = 190.5 * 0.98 + 8.89 * 0.55;
const SOIL_KG: f64 = 190.5 * 0.02;
const COMPOST_KG: f64 = 8.89 * 0.45;
const COMPOST: Pools = of(0.20, 1.5, 0.05);

/// Organic matter and mineral matter after so many years, kg.
fn bed(years: f64, topped: bool) -> [f64; 2] {
    let mut organic = SOIL_KG * of(0.0, 1.0, 0.015).left(years, 1.0);
    organic += COMPOST_KG * COMPOST.left(years, 1.0);
    let mut mineral = MINERAL_KG;
    let mut added = 1.0;
    while topped && added <= years {
        organic += 0.25 * COMPOST_KG * COMPOST.left(years - added, 1.0);
        mineral += 0.25 * 8.89 * 0.55;
        added += 1.0;
    }
    [organic, mineral]
}

fn share_pct([organic, mineral]: [f64; 2]) -> f64 {
    100.0 * organic / (organic + mineral)
}

fn solids_mm([organic, mineral]: [f64; 2]) -> f64 {
    organic / 1.3 + mineral / 2.65
}

fn computed(id: &str) -> Vec<f64> {
    match id {
        "char" => [0.5, 1.0, 10.0, 100.0]
            .map(|years| of(0.03, CHAR_RATES[0], CHAR_RATES[1]).left(years, 1.0))
            .to_vec(),
        // The rate at 30 C is `warmth(30)` times that at 12 C.
        "manure_slow" => [4e-4, 5e-4]
            .map(|a_day| a_day * 365.25 / warmth(30.0))
            .to_vec(),
        "mature_compost" => [1.0, 5.0, 10.0]
            .map(|years| 1.0 - of(0.15, 1.5, 0.05).left(years, 1.0))
            .to_vec(),
        "aged_manure" => [1.0, 5.0]
            .map(|years| 1.0 - of(0.35, 1.5, 0.06).left(years, 1.0))
            .to_vec(),
        "blend" => vec![share_pct(bed(0.0, false))],
        "single" => [1.0, 2.0, 5.0, 10.0]
            .map(|years| share_pct(bed(years, false)))
            .to_vec(),
        "topped" => [1.0, 2.0, 5.0, 10.0]
            .map(|years| share_pct(bed(years, true)))
            .to_vec(),
        "height" => {
            let solids = [0.0, 5.0].map(|years| solids_mm(bed(years, false)));
            let ratio = height_ratio(solids, [0.55; 2]);
            let today = solids[0] / 0.45;
            vec![today, today * ratio, 100.0 * (1.0 - ratio)]
        }
        "peat_pot" => {
            let perlite_dm3 = 0.2 * 0.1 / 2.3;
            let [organic, ash] = [0.8 * 0.1 * 0.95, 0.8 * 0.1 * 0.05];
            let solids = [0.0, 5.0].map(|years| {
                let left = of(0.0, 1.0, 0.05).left(years, 1.0);
                solids_mm([organic * left, ash]) + perlite_dm3
            });
            vec![100.0 * (1.0 - height_ratio(solids, [0.9; 2]))]
        }
        other => panic!("{other} is not known here"),
    }
}

#[test]
fn decay_is_as_published() {
    for row in table("decay", 9) {
        let id = row.text("id");
        let (expected, computed) = (expected(&row), computed(id));
        assert_eq!(computed.len(), expected.len(), "{id}");
        for (ours, theirs) in computed.iter().zip(&expected) {
            assert!(
                (ours - theirs).abs() <= row.number("tolerance"),
                "{id}: {ours}, not {theirs}"
            );
        }
    }
}

#[test]
fn the_first_year_is_as_each_material_says() {
    let mut seen = 0;
    for entry in catalogue() {
        let Some(kept) = entry.properties.get(Property::KeptAfterYear1) else {
            continue;
        };
        let pools = if entry.group == Group::Char {
            char_pools(entry.group, Some(kept))
        } else {
            pools(entry.group, Some(kept)).expect("organic matter that says what it keeps")
        };
        let ends = kept.ends();
        for (pool, pct) in pools.iter().zip([ends.low, kept.typical, ends.high]) {
            let left = pool.left(1.0, warmth(12.0));
            assert!(
                (left - pct * 0.01).abs() <= 1e-9,
                "{}: {left}, not {pct} %",
                entry.id
            );
            assert!(
                (0.0..=1.0).contains(&pool.fast_share) && pool.slow_per_year <= pool.fast_per_year,
                "{}: {pool:?}",
                entry.id
            );
        }
        // The ends stay in order for as long as anyone asks.
        for years in [0.1, 1.0, 3.0, 10.0, 100.0] {
            let [low, typical, high] = pools.map(|pool| pool.left(years, 1.3));
            assert!(
                low <= typical && typical <= high,
                "{} after {years} years: {low}, {typical}, {high}",
                entry.id
            );
        }
        seen += 1;
    }
    assert_eq!(seen, 22, "materials that say what they keep");
}

#[test]
fn nothing_and_everything_can_be_kept() {
    for group in Group::ALL {
        for pct in [0.0, 1e-9, 50.0, 100.0] {
            let Some(pools) = pools(*group, Some(Figure::exact(pct))) else {
                panic!("{group:?} says what it keeps");
            };
            if *group == Group::Char {
                continue;
            }
            for pool in pools {
                assert_eq!(pool.left(0.0, 1.0), 1.0, "{group:?}: today");
                let left = pool.left(1.0, 1.0);
                assert!(
                    (left - pct * 0.01).abs() <= 1e-9,
                    "{group:?} keeps {left}, not {pct} %"
                );
            }
        }
    }
    assert!(pools(Group::Sand, None).is_none(), "a sand holds humus");
}

#[test]
fn rain_settles_as_worked_out() {
    for row in table("settling_by_rain", 4) {
        let [rain, sand, depth] = row.three(["rain_mm", "sand_pct", "depth_m"]);
        let share = settled_by_rain(rain, sand, depth);
        let expected = row.number("expected");
        assert!(
            (share - expected).abs() <= 1e-6,
            "{}: {share}, not {expected}",
            row.text("id")
        );
        let twice = density_after([900.0, 1100.0], &[rain, rain], sand, depth);
        let rest = (1.0 - expected) * (1.0 - expected);
        assert!(
            (twice - (1100.0 - 200.0 * rest)).abs() < 1e-3,
            "two rains: {twice}"
        );
    }
    for (rain, sand, depth) in [(0.0, 0.0, 0.0), (-5.0, 100.0, 0.2), (1e9, 50.0, 1e-9)] {
        let share = settled_by_rain(rain, sand, depth);
        assert!((0.0..=1.0).contains(&share), "{rain} mm: {share}");
    }
}
