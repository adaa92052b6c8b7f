#![cfg(not(target_arch = "wasm32"))]
//! The convex pieces of the texture classes, and the least share at which grains touch.

use barrowmix::blend::threshold_proportion;
use barrowmix::errand::rows::{Side, least_threshold, pieces};
use barrowmix::texture::{Class, classify};

/// Steps of the grid in a percent.
const PER_PERCENT: u32 = 2;

/// The least by which a point is inside a piece, in percent of its side; below 0 it is outside.
fn inside(piece: &[Side], point: [f64; 3]) -> f64 {
    let by = piece.iter().map(|side| {
        let each = side.shares.iter().zip(point);
        each.map(|(share, pct)| share * pct).sum::<f64>() - side.least_pct
    });
    by.fold(f64::INFINITY, f64::min)
}

/// Whether a point is in a piece of a class, whose open edges are not of it.
fn is_within(class: Class, point: [f64; 3]) -> bool {
    pieces(class).iter().any(|piece| {
        piece.iter().all(|side| {
            let by = inside(&[*side], point);
            if side.is_open { by > 1e-9 } else { by > -1e-9 }
        })
    })
}

fn grid() -> impl Iterator<Item = [f64; 3]> {
    let steps = 100 * PER_PERCENT;
    (0..=steps).flat_map(move |clay| {
        (0..=steps - clay).map(move |silt| {
            let pct = |steps: u32| f64::from(steps) / f64::from(PER_PERCENT);
            [pct(steps - clay - silt), pct(silt), pct(clay)]
        })
    })
}

#[test]
fn every_point_of_the_grid_is_in_a_piece_of_its_class() {
    let mut seen = 0;
    for point in grid() {
        let class = classify(point);
        let best = pieces(class)
            .iter()
            .map(|piece| inside(piece, point))
            .fold(f64::NEG_INFINITY, f64::max);
        assert!(
            best >= -1e-9,
            "{point:?} is {class:?} and outside by {best}"
        );
        assert!(
            is_within(class, point),
            "{point:?} is {class:?} by its open edges too"
        );
        seen += 1;
    }
    assert_eq!(seen, 20_301, "the whole grid");
}

#[test]
fn what_is_a_hundredth_inside_a_piece_is_of_its_class() {
    for class in Class::ALL.iter().copied() {
        let mut of_it = 0;
        for piece in pieces(class) {
            for [sand, silt, clay] in grid() {
                // Off the grid, where edges cross it.
                for (more_silt, more_clay) in [(0.0, 0.0), (0.013, 0.011), (-0.017, 0.029)] {
                    let (silt, clay) = (silt + more_silt, clay + more_clay);
                    let point = [100.0 - silt - clay, silt, clay];
                    if point.iter().any(|pct| *pct < 0.0) || inside(&piece, point) < 0.01 {
                        continue;
                    }
                    of_it += 1;
                    assert_eq!(classify(point), class, "{point:?} near {sand} sand");
                }
            }
        }
        assert!(of_it > 100, "{class:?} has points");
    }
}

#[test]
fn every_point_of_the_grid_is_in_the_pieces_of_one_class() {
    for point in grid() {
        let all = Class::ALL.iter().copied();
        let within: Vec<Class> = all.filter(|class| is_within(*class, point)).collect();
        assert_eq!(within, [classify(point)], "{point:?}");
    }
}

#[test]
fn grains_never_touch_below_the_least_threshold() {
    for porosity in (0..=100).map(|pct| f64::from(pct) / 100.0) {
        let least = least_threshold(porosity);
        let mut lowest = f64::INFINITY;
        for step in 0..=10_000 {
            lowest = lowest.min(threshold_proportion(porosity, f64::from(step) / 10_000.0));
        }
        assert!(
            lowest >= least,
            "porosity {porosity}: {lowest} under {least}"
        );
        assert!(
            lowest < least + 0.01,
            "porosity {porosity}: {least} is far under {lowest}"
        );
    }
}
