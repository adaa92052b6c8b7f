#![cfg(not(target_arch = "wasm32"))]
//! The orders of the draws: published vectors of their generators, and that no two inputs go together.

mod support;

use barrowmix::draws::{DRAWS, SplitMix64, Strata, fnv1a};
use barrowmix::ground::Trait;
use barrowmix::material::{Property, catalogue};
use support::dice::Dice;
use support::{assert_close, table};

#[test]
fn published_vectors() {
    let letters = ["A", "B", "C", "D", "E"];
    for row in table("draws_sequence", 14) {
        let (kind, of) = (row.text("kind"), row.text("of"));
        let expected = row.text("expected");
        let count = expected.split(' ').count();
        let computed: Vec<String> = if kind == "fnv1a64" {
            vec![format!("{:016x}", fnv1a(of))]
        } else {
            let mut numbers = SplitMix64::new(of.parse().expect("a seed"));
            match kind {
                "splitmix64" => (0..count).map(|_| numbers.next_u64().to_string()).collect(),
                "below5" => (0..count).map(|_| numbers.below(5).to_string()).collect(),
                _ => numbers
                    .order(5)
                    .iter()
                    .map(|at| letters[*at as usize].to_string())
                    .collect(),
            }
        };
        assert_eq!(computed.join(" "), expected, "{kind} of {of:?}");
    }
}

#[test]
fn numbers_below_a_limit_favour_none() {
    let rejected = |n: u64| {
        let mut numbers = SplitMix64::new(n);
        let mut bits = Dice::new(n);
        // The greatest whole multiple of n, which may be 2^64 itself.
        let whole = ((1_u128 << 64) / u128::from(n)) * u128::from(n);
        let mut rejected = 0;
        for _ in 0..1000 {
            let value = loop {
                let value = bits.bits();
                if u128::from(value) < whole {
                    break value;
                }
                rejected += 1;
            };
            assert_eq!(numbers.below(n), value % n, "below {n}");
        }
        rejected
    };
    for n in [1, 2, 5, 1024, 1 << 63] {
        assert_eq!(rejected(n), 0, "nothing to speak of is rejected below {n}");
    }
    let half = rejected((1 << 63) + 1);
    assert!((900..1100).contains(&half), "about half: {half}");
    assert_eq!(rejected(u64::MAX), 0, "one number of 2^64");
}

#[test]
fn orders_as_another_program_has_them() {
    let mut strata = Strata::default();
    for row in table("draws_strata", 36) {
        let id = row.text("id");
        assert_eq!(
            format!("{:016x}", fnv1a(id)),
            row.text("fnv1a64_hex"),
            "{id}"
        );
        let at: usize = row.text("k").parse().expect("a draw");
        assert_eq!(
            strata.strata_of(id)[at].to_string(),
            row.text("stratum"),
            "draw {at} of {id}"
        );
    }
}

#[test]
fn each_input_visits_every_stratum_once() {
    for draws in [DRAWS, 4096] {
        let mut strata = Strata::of(draws);
        assert_eq!(strata.draws(), draws as usize, "as many as asked for");
        for id in inputs() {
            let mut seen = vec![0_u32; draws as usize];
            for stratum in strata.strata_of(&id) {
                seen[*stratum as usize] += 1;
            }
            assert!(seen.iter().all(|times| *times == 1), "{id} of {draws}");
        }
    }
}

/// More orders than are remembered, asked for again in another order.
#[test]
fn what_is_remembered_changes_no_order() {
    let mut kept = Strata::default();
    let ids: Vec<String> = (0..700).map(|at| format!("own_{at}/sand_pct")).collect();
    for id in ids.iter().chain(ids.iter().rev()) {
        let alone = SplitMix64::new(fnv1a(id)).order(DRAWS);
        assert_eq!(kept.strata_of(id), alone, "{id}");
    }
}

/// Every input that the catalogue and a ground can bring.
fn inputs() -> Vec<String> {
    let mut out: Vec<String> = Trait::ALL
        .iter()
        .map(|of| format!("ground/{}", of.name()))
        .collect();
    for entry in catalogue() {
        for of in Property::ALL {
            let figure = entry.properties.get(*of);
            if figure.is_some_and(|figure| figure.is_in_doubt()) {
                out.push(format!("{}/{}", entry.id, of.name()));
            }
        }
    }
    out.extend(["blend/half_mixed".into(), "blend/pore_space_pct".into()]);
    out
}

#[test]
fn no_two_inputs_go_together() {
    // Of so many independent orders this share of the pairs passes 0.12 (3.84 sigma, two-sided
    // normal tail), and of a quarter of a million pairs hardly one the next.
    const NOTABLE: f64 = 0.12;
    const NOTABLE_SHARE: f64 = 1.24e-4;
    const TOO_MUCH: f64 = 0.16;
    let mut strata = Strata::default();
    let middle = f64::from(DRAWS - 1) / 2.0;
    let mut column = |id: &String| -> Vec<f64> {
        let strata = strata.strata_of(id).iter();
        strata.map(|stratum| f64::from(*stratum) - middle).collect()
    };
    let ids = inputs();
    let columns: Vec<Vec<f64>> = ids.iter().map(&mut column).collect();
    let square: f64 = columns[0].iter().map(|from| from * from).sum();
    let (mut notable, mut squares, mut pairs) = (0.0, 0.0, 0.0);
    for at in 0..ids.len() {
        for before in 0..at {
            let both = columns[at].iter().zip(&columns[before]);
            let correlation = both.map(|(one, other)| one * other).sum::<f64>() / square;
            let what = [ids[before].as_str(), ids[at].as_str()];
            assert!(correlation.abs() < TOO_MUCH, "{what:?}: {correlation}");
            if correlation.abs() > NOTABLE {
                notable += 1.0;
            }
            squares += correlation * correlation;
            pairs += 1.0;
        }
    }
    let by_chance: f64 = pairs * NOTABLE_SHARE;
    assert!(
        (notable - by_chance).abs() < 4.0 * by_chance.sqrt(),
        "{notable} of {pairs} pairs go together, and {by_chance} by chance"
    );
    // Orders of chance: the mean square is 1/(draws - 1), here known to 0.3 % (one sigma).
    let expected = 1.0 / f64::from(DRAWS - 1);
    assert_close(squares / pairs, expected, 0.012 * expected, "mean square");
}
