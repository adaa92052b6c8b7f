#![cfg(not(target_arch = "wasm32"))]
//! As one addition grows, no figure of water jumps; and what loosens heavy clay never tightens it.

mod support;

use barrowmix::outcome::Outcome;
use serde_json::json;
use support::recipes;

/// Steps of a share, % of the heap.
const STEP: f64 = 0.5;
/// More than this between two of them is a jump: percentage points, and a logarithm of base 10.
const JUMP_PCT: f64 = 1.5;
const JUMP_LOG10: f64 = 0.5;

const GROUNDS: [(&str, [f64; 3]); 6] = [
    ("clay", [20.0, 30.0, 50.0]),
    ("heavy clay", [10.0, 25.0, 65.0]),
    ("clay loam", [33.0, 33.0, 34.0]),
    ("loam", [42.0, 38.0, 20.0]),
    ("light loam", [45.0, 41.0, 14.0]),
    ("silt loam", [20.0, 65.0, 15.0]),
];

/// What is watched along a slider.
#[derive(Clone, Copy)]
struct Seen {
    pores: f64,
    air: f64,
    available: f64,
    pot_air: f64,
    log10_drainage: f64,
}

fn seen([sand, silt, clay]: [f64; 3], material: &str, share: f64) -> Seen {
    let recipe = recipes::recipe(&json!({
        "barrowmix": 1,
        "ground": { "sand_pct": sand, "silt_pct": silt, "clay_pct": clay },
        "soil": { "value": 40, "unit": "L" },
        "additions": [{ "material": material, "amount": { "value": share, "unit": "%v" } }],
        "place": { "kind": "container", "height": { "value": 20, "unit": "cm" } },
    }));
    let outcome = Outcome::of(&recipe).unwrap_or_else(|error| panic!("{error:?}"));
    Seen {
        pores: outcome.pore_space_pct.settled.typical,
        air: outcome.pores_pct.air.typical,
        available: outcome.pores_pct.available_water.typical,
        pot_air: outcome.container.expect("a pot").air_pct.typical,
        log10_drainage: libm::log10(outcome.drainage_mm_h.typical),
    }
}

/// The figures at every step from nothing to the most.
fn slide(ground: [f64; 3], material: &str, most: f64) -> Vec<(f64, Seen)> {
    let steps = (most / STEP).round() as u32;
    let shares = (0..=steps).map(|step| f64::from(step) * STEP);
    shares
        .map(|share| (share, seen(ground, material, share)))
        .collect()
}

#[test]
fn nothing_jumps_along_a_slider() {
    let mut jumps = Vec::new();
    for (name, ground) in GROUNDS {
        for material in ["yard_compost", "sphagnum_peat", "perlite", "concrete_sand"] {
            for pair in slide(ground, material, 90.0).windows(2) {
                let [(from, one), (to, other)] = [pair[0], pair[1]];
                for (what, one, other, most) in [
                    ("pores", one.pores, other.pores, JUMP_PCT),
                    ("air", one.air, other.air, JUMP_PCT),
                    ("water for plants", one.available, other.available, JUMP_PCT),
                    ("air in a pot", one.pot_air, other.pot_air, JUMP_PCT),
                    (
                        "log drainage",
                        one.log10_drainage,
                        other.log10_drainage,
                        JUMP_LOG10,
                    ),
                ] {
                    let jump = other - one;
                    if !jump.is_finite() || jump.abs() > most {
                        jumps.push(format!(
                            "{what} by {jump:.2} at {from} to {to} % of {material} in {name}"
                        ));
                    }
                }
            }
        }
    }
    assert!(
        jumps.is_empty(),
        "{} jump:\n{}",
        jumps.len(),
        jumps.join("\n")
    );
}

/// Between two steps anywhere, not only next to each other: a long slow fall is one too.
#[test]
fn organic_matter_never_tightens_heavy_clay() {
    const HAIR_PCT: f64 = 0.2;
    let hair_log10 = libm::log10(1.02);
    let mut falls = Vec::new();
    for (name, ground) in [
        ("clay", [20.0, 30.0, 50.0]),
        ("heavy clay", [10.0, 25.0, 65.0]),
        ("light clay", [25.0, 33.0, 42.0]),
        ("silty clay", [6.0, 47.0, 47.0]),
    ] {
        for material in ["yard_compost", "sphagnum_peat"] {
            let slide = slide(ground, material, 60.0);
            for (what, of, hair) in [
                (
                    "pores",
                    (|seen: &Seen| seen.pores) as fn(&Seen) -> f64,
                    HAIR_PCT,
                ),
                ("air", |seen: &Seen| seen.air, HAIR_PCT),
                (
                    "log drainage",
                    |seen: &Seen| seen.log10_drainage,
                    hair_log10,
                ),
            ] {
                let (mut most, mut at) = (f64::NEG_INFINITY, 0.0);
                let mut deepest = (0.0, 0.0, 0.0);
                for (share, seen) in &slide {
                    let value = of(seen);
                    if value > most {
                        (most, at) = (value, *share);
                    }
                    if most - value > deepest.0 {
                        deepest = (most - value, at, *share);
                    }
                }
                let (fall, from, to) = deepest;
                if fall > hair {
                    falls.push(format!(
                        "{what} by {fall:.3} from {from} to {to} % of {material} in {name}"
                    ));
                }
            }
        }
    }
    assert!(
        falls.is_empty(),
        "{} fall:\n{}",
        falls.len(),
        falls.join("\n")
    );
}
