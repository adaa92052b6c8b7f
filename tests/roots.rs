#![cfg(not(target_arch = "wasm32"))]
//! Densities that trouble roots, against the printed tables.

mod support;

use barrowmix::source::Mark;
use barrowmix::texture::Class;
use barrowmix::water::roots::{Limits, ROWS, Roots, Table};
use support::table;

/// A cell in g/cm3 as kg/m3.
fn kg_m3(text: &str) -> Option<f64> {
    let grams: Option<f64> = text.parse().ok();
    grams.map(|grams| (1000.0 * grams).round())
}

fn classes_of(group: &str) -> (&'static [Class], f64) {
    use Class::*;
    // The classes of a printed group and a clay, %, that it is for.
    match group {
        "sand, loamy sand" | "loamy sand, sand" | "sand and loamy sand except very fine" => {
            (&[Sand, LoamySand], 5.0)
        }
        "sandy loam, loam" => (&[SandyLoam, Loam], 15.0),
        "sandy clay loam, clay loam" => (&[SandyClayLoam, ClayLoam], 30.0),
        "silt, silt loam" => (&[Silt, SiltLoam], 10.0),
        "silt loam, silty clay loam" => (&[SiltLoam, SiltyClayLoam], 27.0),
        "sandy clay, silty clay, clay loam with 35-45 % clay" => {
            (&[SandyClay, SiltyClay, ClayLoam], 38.0)
        }
        "clay above 45 % clay" => (&[Clay], 50.0),
        "sandy (three-group version)" => (&[Sand, LoamySand], 5.0),
        "silty (three-group version)" => (&[Silt, SiltLoam, SiltyClayLoam], 20.0),
        "clayey (three-group version)" => (&[SandyClay, SiltyClay, Clay], 48.0),
        "clay, silt loam" => (&[Clay, SiltLoam], 48.0),
        "silty clay, silty clay loam, silt" => (&[SiltyClay, SiltyClayLoam, Silt], 35.0),
        "clay loam" => (&[ClayLoam], 30.0),
        "loam" => (&[Loam], 20.0),
        "sandy clay" => (&[SandyClay], 40.0),
        "sandy clay loam" => (&[SandyClayLoam], 25.0),
        "sandy loam" => (&[SandyLoam], 10.0),
        "loam, sandy clay loam" => (&[Loam, SandyClayLoam], 22.0),
        "silty clay loam" => (&[SiltyClayLoam], 35.0),
        "silty clay" => (&[SiltyClay], 45.0),
        "clay" => (&[Clay], 50.0),
        // Not a class of the twelve.
        "very fine sand, loamy very fine sand" => (&[], 5.0),
        other => panic!("no group {other:?}"),
    }
}

fn table_of(source: &str) -> Table {
    match source {
        "USDA NRCS soil quality bulk-density table" => Table::Detailed,
        "USDA NRCS three-group table" => Table::ThreeGroups,
        source if source.starts_with("Univ. Florida") => Table::Critical,
        source if source.starts_with("university soil-physics") => Table::Lecture,
        other => panic!("no table {other:?}"),
    }
}

fn holds(row: &Limits, class: Class, clay_pct: f64) -> bool {
    row.classes.contains(&class) && clay_pct > row.clay_pct[0] && clay_pct <= row.clay_pct[1]
}

/// Every printed number is in the rows, for each class that the table names, and nothing else is.
#[test]
fn rows_are_as_printed() {
    let mut pairs = 0;
    for printed in table("bulk_density_root_limits", 28) {
        let (classes, clay_pct) = classes_of(printed.text("texture_group"));
        let of = table_of(printed.text("source"));
        let numbers = [
            "ideal_below_g_cm3",
            "affects_roots_g_cm3",
            "restricts_roots_above_g_cm3",
        ]
        .map(|column| kg_m3(printed.text(column)));
        for class in classes {
            let found = ROWS
                .iter()
                .filter(|row| row.table == of && holds(row, *class, clay_pct));
            let found: Vec<_> = found
                .map(|row| [row.ideal_kg_m3, row.affected_kg_m3, row.restricted_kg_m3])
                .collect();
            assert!(
                found.contains(&numbers),
                "{class:?}: {numbers:?} among {found:?}"
            );
            pairs += 1;
        }
        assert_eq!(
            of.mark().id(),
            printed.text("mark"),
            "{}",
            printed.text("source")
        );
    }
    let ours: usize = ROWS.iter().map(|row| row.classes.len()).sum();
    // Clay of at most 45 % is ours: put with sandy and silty clay.
    assert_eq!(ours, pairs + 1, "classes in rows");
    assert_eq!(
        Table::Detailed.mark(),
        Mark::Memory,
        "the detailed table is from memory"
    );
}

#[test]
fn bands_of_classes() {
    let of = |class, clay| {
        let roots = Roots::of(class, clay);
        (
            roots.ideal_kg_m3,
            roots.affected_kg_m3,
            roots.restricted_kg_m3,
        )
    };
    assert_eq!(
        of(Class::Clay, 50.0),
        (1100.0, [1390.0, 1400.0], [1400.0, 1550.0]),
        "clay"
    );
    assert_eq!(
        of(Class::Clay, 42.0),
        (1100.0, [1400.0, 1490.0], [1400.0, 1580.0]),
        "light clay"
    );
    assert_eq!(
        of(Class::Loam, 20.0),
        (1400.0, [1450.0, 1630.0], [1600.0, 1800.0]),
        "loam"
    );
    assert_eq!(
        of(Class::Sand, 3.0),
        (1600.0, [1690.0, 1750.0], [1800.0, 1800.0]),
        "sand"
    );
    assert_eq!(
        of(Class::ClayLoam, 30.0),
        (1400.0, [1450.0, 1600.0], [1550.0, 1750.0]),
        "clay loam"
    );
    assert_eq!(
        of(Class::ClayLoam, 38.0),
        (1100.0, [1450.0, 1490.0], [1550.0, 1650.0]),
        "heavy clay loam"
    );
    assert_eq!(
        Roots::of(Class::Clay, 50.0).band_kg_m3(),
        [1390.0, 1550.0],
        "clay"
    );
}

#[test]
fn every_class_has_a_band() {
    for class in Class::ALL {
        for clay in [f64::NAN, -5.0, 0.0, 35.0, 45.0, 45.1, 100.0, 300.0] {
            let roots = Roots::of(*class, clay);
            let [low, high] = roots.band_kg_m3();
            assert!(
                roots.ideal_kg_m3 <= low && low < high && high < 2000.0,
                "{class:?}: {roots:?}"
            );
            assert!(
                roots.affected_kg_m3[0] <= roots.affected_kg_m3[1],
                "{class:?}"
            );
            assert!(
                roots.restricted_kg_m3[0] <= roots.restricted_kg_m3[1],
                "{class:?}"
            );
        }
    }
}
