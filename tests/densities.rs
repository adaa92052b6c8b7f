#![cfg(not(target_arch = "wasm32"))]
//! Densities of mixtures of organic and mineral matter.

mod support;

use barrowmix::blend::{Grains, packed_volume};
use barrowmix::material::solid_density_kg_m3;
use support::{assert_close, assert_printed, table};

#[test]
fn organic_matter_by_equal_sizes() {
    for row in table("organic_density", 24) {
        let organic = row.number("organic_pct") / 100.0;
        for pure in ["0.224", "0.244", "0.11"] {
            let pure_density: f64 = pure.parse().expect("a density");
            let volumes = [
                organic / pure_density,
                (1.0 - organic) / row.number("mineral"),
            ];
            let parts = volumes.map(|volume| Grains {
                volume,
                porosity: 0.5,
                size_mm: 0.01,
            });
            let column = format!("organic_{pure}");
            let density = 1.0 / packed_volume(&parts, 9.0);
            assert_printed(
                density,
                row.text(&column),
                &format!("{column} at {organic}"),
            );
        }
    }
}

/// Ruehlmann & Korschens, as cited by Robinson et al. 2022, Scientific Reports. [verified]
#[test]
fn density_of_solids() {
    for (organic, fractions, density) in [
        (1.0, [1.0, 0.0, 0.0], 1430.0),
        (0.0, [1.0, 0.0, 0.0], 2660.0),
        (0.0, [0.0, 1.0, 0.0], 2690.0),
        (0.0, [0.0, 0.0, 1.0], 2760.0),
    ] {
        let found = solid_density_kg_m3(organic, 0.0, fractions);
        assert_close(
            found,
            density,
            1e-9,
            &format!("{organic} organic, {fractions:?}"),
        );
    }
    // Half organic matter at 0.30 g/cm3: 1.86 and 83.9 %, where 2.65 for all would give 88.7 %.
    let half = solid_density_kg_m3(0.5, 0.0, [1.0, 0.0, 0.0]) / 1000.0;
    assert_printed(half, "1.86", "solid density of half organic matter, g/cm3");
    assert_printed(100.0 * (1.0 - 0.30 / half), "83.9", "pore space, %");
    assert_printed(100.0 * (1.0 - 0.30 / 2.65), "88.7", "pore space by 2.65, %");
}
