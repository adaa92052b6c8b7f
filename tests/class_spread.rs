#![cfg(not(target_arch = "wasm32"))]
//! What a class says of sand, silt and clay.

mod support;

use barrowmix::figure::Figure;
use barrowmix::texture::{
    Class, class_spread, classify, felt_spread, share_an_edge, typical_fractions_pct,
};
use support::dice::Dice;
use support::{assert_close, class_of_code, table};

/// The grid has steps of 0.5 %, and the middles of its triangles stand for their whole area.
const GRID: f64 = 0.2;

fn near(class: Class) -> Vec<Class> {
    let near = |other: &Class| share_an_edge(class, *other);
    Class::ALL.iter().copied().filter(near).collect()
}

#[test]
fn typical_textures_are_those_of_the_tables() {
    for row in table("usda_class_centroids", 12) {
        let class = class_of_code(row.text("class_code"));
        let columns = if row.text("cosby1984_sand").is_empty() {
            [
                "saxton_rawls_t3_sand",
                "saxton_rawls_t3_silt",
                "saxton_rawls_t3_clay",
            ]
        } else {
            ["cosby1984_sand", "cosby1984_silt", "cosby1984_clay"]
        };
        let typical = typical_fractions_pct(class);
        assert_eq!(typical, row.three(columns), "{class:?}");
        assert_eq!(typical.iter().sum::<f64>(), 100.0, "{class:?}");
        assert_eq!(classify(typical), class);
    }
}

#[test]
fn ends_bracket_what_is_typical() {
    for class in Class::ALL {
        for spread in [class_spread(*class), felt_spread(*class)] {
            for (figure, typical) in spread.iter().zip(typical_fractions_pct(*class)) {
                let ends = figure.ends();
                assert_eq!(figure.typical, typical);
                assert!(
                    0.0 <= ends.low && ends.low < typical,
                    "{class:?}: {figure:?}"
                );
                assert!(
                    typical < ends.high && ends.high <= 100.0,
                    "{class:?}: {figure:?}"
                );
            }
        }
    }
}

/// In a triangle, a fraction measured from a side to the opposite corner has the distribution
/// 1 - (1 - t)^2.
#[test]
fn ends_of_triangular_classes_follow_the_formula() {
    let from_side = |low: f64, high: f64| {
        [0.1_f64, 0.9].map(|share| low + (high - low) * (1.0 - (1.0 - share).sqrt()))
    };
    let check = |figure: Figure, [low, high]: [f64; 2], what: &str| {
        assert_close(figure.ends().low, low, GRID, what);
        assert_close(figure.ends().high, high, GRID, what);
    };
    let [_, silt, clay] = class_spread(Class::Sand);
    check(silt, from_side(0.0, 15.0), "silt of sand");
    check(clay, from_side(0.0, 10.0), "clay of sand");
    let [sand, silt, clay] = class_spread(Class::SandyClay);
    check(sand, from_side(45.0, 65.0), "sand of sandy clay");
    check(silt, from_side(0.0, 20.0), "silt of sandy clay");
    check(clay, from_side(35.0, 55.0), "clay of sandy clay");
    let [sand, silt, clay] = class_spread(Class::SiltyClay);
    check(sand, from_side(0.0, 20.0), "sand of silty clay");
    check(silt, from_side(40.0, 60.0), "silt of silty clay");
    check(clay, from_side(40.0, 60.0), "clay of silty clay");
    // Clay loam and silty clay loam: sheared boxes, even in clay.
    let [sand, _, clay] = class_spread(Class::ClayLoam);
    check(clay, [27.0 + 1.3, 40.0 - 1.3], "clay of clay loam");
    check(sand, [20.0 + 2.5, 45.0 - 2.5], "sand of clay loam");
}

/// The second way: dice, and values sorted.
#[test]
fn ends_are_those_of_thrown_textures() {
    let mut dice = Dice::new(5);
    let mut thrown: Vec<Vec<[f64; 3]>> = vec![Vec::new(); Class::ALL.len()];
    for _ in 0..600_000 {
        let (mut a, mut b) = (dice.between(0.0, 100.0), dice.between(0.0, 100.0));
        if a > b {
            (a, b) = (b, a);
        }
        let texture = [a, b - a, 100.0 - b];
        thrown[classify(texture) as usize].push(texture);
    }
    for class in Class::ALL {
        let mut parts = vec![(*class, 1.0)];
        check_thrown(class_spread(*class), &parts, &thrown, 0.5);
        let others = near(*class);
        let weight = 0.5 / others.len() as f64;
        parts = others.iter().map(|other| (*other, weight)).collect();
        parts.push((*class, 0.5));
        check_thrown(felt_spread(*class), &parts, &thrown, 0.7);
    }
}

fn check_thrown(
    spread: [Figure; 3],
    parts: &[(Class, f64)],
    thrown: &[Vec<[f64; 3]>],
    tolerance: f64,
) {
    for (index, figure) in spread.iter().enumerate() {
        let mut values: Vec<(f64, f64)> = Vec::new();
        for (class, weight) in parts {
            let of = &thrown[*class as usize];
            values.extend(of.iter().map(|t| (t[index], weight / of.len() as f64)));
        }
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let end = |share: f64| {
            let mut sum = 0.0;
            let reached = values.iter().find(|(_, weight)| {
                sum += weight;
                sum >= share
            });
            reached.map_or(100.0, |(value, _)| *value)
        };
        let what = format!("{parts:?} fraction {index}");
        let (low, high) = (end(0.1).min(figure.typical), end(0.9).max(figure.typical));
        assert_close(figure.ends().low, low, tolerance, &what);
        assert_close(figure.ends().high, high, tolerance, &what);
    }
}

/// The second way: neighbours on a fine grid. Classes that meet in a corner only touch in a few
/// places, the shortest common edge is 3 % long.
#[test]
fn classes_with_a_common_edge_are_neighbours_on_a_grid() {
    const STEPS: usize = 1000;
    let mut meetings = [[0; 12]; 12];
    let class = |silt: usize, clay: usize| {
        let [silt, clay] = [silt, clay].map(|steps| (steps as f64 + 0.25) * 100.0 / STEPS as f64);
        classify([100.0 - silt - clay, silt, clay])
    };
    for clay in 0..STEPS {
        for silt in 0..STEPS - clay {
            let here = class(silt, clay);
            let mut others = Vec::new();
            if silt + clay + 1 < STEPS {
                others = vec![class(silt + 1, clay), class(silt, clay + 1)];
            }
            for other in others {
                if here != other {
                    meetings[here as usize][other as usize] += 1;
                    meetings[other as usize][here as usize] += 1;
                }
            }
        }
    }
    for one in Class::ALL {
        for other in Class::ALL {
            let meet = meetings[*one as usize][*other as usize];
            assert!(
                meet == 0 || !(4..15).contains(&meet),
                "{one:?} {other:?}: {meet}"
            );
            assert_eq!(
                share_an_edge(*one, *other),
                meet >= 15,
                "{one:?} {other:?}: {meet}"
            );
        }
    }
    assert_eq!(near(Class::Sand), [Class::LoamySand]);
    assert_eq!(near(Class::Silt), [Class::SiltLoam]);
}

#[test]
fn a_felt_class_is_less_sure() {
    let width = |figure: &Figure| figure.ends().high - figure.ends().low;
    for class in Class::ALL {
        let known: f64 = class_spread(*class).iter().map(width).sum();
        let felt: f64 = felt_spread(*class).iter().map(width).sum();
        assert!(felt > known, "{class:?}: {felt} > {known}");
    }
}
