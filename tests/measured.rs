#![cfg(not(target_arch = "wasm32"))]
//! The model against measured mixtures and soils, with its error stated and none left out.
//!
//! `cargo test --test measured -- --nocapture` prints every row with its error.

mod support;

use barrowmix::blend::{Grains, packed_volume};
use support::second_way::{additive, by_grain_share, by_loose_share, ideal, linear, pores};
use support::{Row, assert_close, assert_printed, mean, root_mean_square, table};

/// Error in pore space that mixes of hard grains stay within.
const HARD_GRAINS: f64 = 0.03;
/// Stated errors have three decimals, but were worked from shares and pore spaces that are rounded
/// again in the tables here: one unit of the last digit, not half.
const ROUNDED_TWICE: f64 = 0.001;

type Model = fn(&[Grains]) -> f64;

/// The models that are compared, by their columns.
const MODELS: [(&str, Model); 5] = [
    ("cpm_K9", |parts| packed_volume(parts, 9.0)),
    ("cpm_Kinf", |parts| packed_volume(parts, f64::INFINITY)),
    ("lpm_Kinf", linear),
    ("ideal", ideal),
    ("additive", additive),
];

fn of_set<'a>(rows: &'a [Row], set: &str) -> Vec<&'a Row> {
    rows.iter().filter(|row| row.text("set") == set).collect()
}

fn porosity_of(void_ratio: f64) -> f64 {
    void_ratio / (1.0 + void_ratio)
}

/// Measured and modelled pore space of a set of sand and silt, row by row, end members left out.
fn sand_and_silt(rows: &[Row], set: &str, model: Model) -> Vec<[f64; 2]> {
    let rows_of = of_set(rows, set);
    let end = |set: &str, share: f64| {
        let of = of_set(rows, set);
        let row = of.iter().find(|row| row.number("coarse_share") == share);
        porosity_of(
            row.unwrap_or_else(|| panic!("{set} lacks share {share}"))
                .number("value"),
        )
    };
    // The pure silt of the second set was never published; that of the first stands in.
    let silt_set = set.replace("salgado", "thevanayagam");
    let porosity = [end(set, 1.0), end(&silt_set, 0.0)];
    rows_of
        .iter()
        .filter(|row| !matches!(row.number("coarse_share"), 0.0 | 1.0))
        .map(|row| {
            let sizes = [row.number("coarse_mm"), row.number("fine_mm")];
            let parts = by_grain_share(row.number("coarse_share"), porosity, sizes);
            let measured = porosity_of(row.number("value"));
            [measured, pores(&parts, model(&parts))]
        })
        .collect()
}

#[test]
fn sand_with_silt() {
    let rows = table("measured_mixtures", 37);
    for stated in table("mixture_errors", 5) {
        let set = stated.text("set");
        if set == "spheres" {
            // Computed packings, not measured mixtures: they stand with the packing tests.
            continue;
        }
        for (column, model) in MODELS {
            let mixes = sand_and_silt(&rows, set, model);
            assert_eq!(
                mixes.len() as f64,
                stated.number("points"),
                "mixes of {set}"
            );
            let errors: Vec<f64> = mixes.iter().map(|[m, c]| c - m).collect();
            let what = format!("error of {column} on {set}");
            let found = root_mean_square(&errors);
            assert_close(found, stated.number(column), ROUNDED_TWICE, &what);
        }
        for [measured, model] in sand_and_silt(&rows, set, MODELS[0].1) {
            let error = model - measured;
            println!("{set}: measured {measured:.3}, model {model:.3}, error {error:+.3}");
            if set != "thevanayagam_loosest" {
                assert_close(model, measured, HARD_GRAINS, set);
            }
        }
    }
}

/// Loose silt sticks and does not fill pores as the model assumes: it comes out too tight, by 0.04
/// on the mean and by 0.025 with the index of a fresh blend.
#[test]
fn loose_silt_is_the_known_failure() {
    let rows = table("measured_mixtures", 37);
    for (k, stated, tolerance) in [(9.0, -0.04, 0.005), (4.75, -0.025, ROUNDED_TWICE)] {
        let model: Model = if k == 9.0 {
            MODELS[0].1
        } else {
            |parts| packed_volume(parts, 4.75)
        };
        let errors: Vec<f64> = sand_and_silt(&rows, "thevanayagam_loosest", model)
            .iter()
            .map(|[measured, model]| model - measured)
            .collect();
        println!("loosest sand and silt at K = {k}: errors {errors:+.3?}");
        assert_close(
            mean(&errors),
            stated,
            tolerance,
            &format!("bias at K = {k}"),
        );
    }
}

/// The sizes and mass shares in a `parts` cell.
fn classes(parts: &str) -> Vec<[f64; 2]> {
    let each = parts.contains("each").then_some(0.25);
    parts
        .split('+')
        .map(|class| {
            let mut numbers = class
                .split(|c: char| !(c.is_ascii_digit() || c == '.'))
                .filter(|word| !word.is_empty())
                .map(|word| word.parse::<f64>().expect("a size or share"));
            let size = numbers.next().expect("a size");
            [
                size,
                each.unwrap_or_else(|| numbers.next().expect("a share")),
            ]
        })
        .collect()
}

/// Pore space of size classes that all have one pore space alone.
fn of_classes(classes: &[[f64; 2]], alone: f64) -> f64 {
    let parts: Vec<Grains> = classes
        .iter()
        .map(|[size_mm, share]| Grains {
            volume: share / (1.0 - alone),
            porosity: alone,
            size_mm: *size_mm,
        })
        .collect();
    pores(&parts, packed_volume(&parts, 9.0))
}

/// Pore space of one class alone that makes a first mix come out as measured; then a second mix of
/// other sizes of the same grains is foretold by it.
fn foretold(first: &Row, second: &Row) -> [f64; 2] {
    let measured = porosity_of(first.number("value"));
    let first = classes(first.text("parts"));
    let (mut low, mut high) = (0.1, 0.9);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if of_classes(&first, middle) < measured {
            low = middle;
        } else {
            high = middle;
        }
    }
    [
        porosity_of(second.number("value")),
        of_classes(&classes(second.text("parts")), low),
    ]
}

#[test]
fn one_grading_foretells_another() {
    let rows = table("measured_mixtures", 37);
    // Angular sand: foretold 0.3546 and 0.5026 in an independent calculation.
    let mut errors = Vec::new();
    for (state, independent) in [("densest", "0.3546"), ("loosest", "0.5026")] {
        let first = of_set(&rows, &format!("CB-Mix-No.1_{state}"))[0];
        let second = of_set(&rows, &format!("CB-Mix-No.2_{state}"))[0];
        let [measured, model] = foretold(first, second);
        println!("angular sand {state}: measured {measured:.3}, model {model:.3}");
        assert_printed(model, independent, &format!("angular sand, {state}"));
        errors.push(model - measured);
    }
    assert_printed(root_mean_square(&errors), "0.019", "error on angular sand");
    // Gravel from 1.3 to 17 mm. Its finest class is itself a wide grading of sizes not published:
    // split in six it was foretold as 0.226 and 0.316, and as one size it must pack looser.
    for (state, split) in [("densest", 0.226), ("loosest", 0.316)] {
        let first = of_set(&rows, &format!("G2-8_{state}"))[0];
        let second = of_set(&rows, &format!("G1-1_{state}"))[0];
        let [measured, model] = foretold(first, second);
        println!("gravel {state}: measured {measured:.3}, model {model:.3}, split {split}");
        assert!(
            model > split && model < porosity_of(first.number("value")),
            "gravel, {state}: {model} as one size, {split} split in six"
        );
    }
}

#[test]
fn sand_with_compost_and_topsoil() {
    let rows = table("measured_mixtures", 37);
    let rows = of_set(&rows, "liu");
    let sand_pores = rows[0].number("value");
    // Settled densities of common practice, g/cm3: bulk, envelope, solid; and the size, mm.
    let sand = [(1.0 - sand_pores) * 2.65, 2.65, 2.65, 0.3];
    let compost = [0.50, 0.75, 1.9, 2.0];
    let topsoil = [1.15, 1.60, 2.65, 3.0];
    let model = |shares: [f64; 3]| {
        let materials = [sand, compost, topsoil];
        let parts: Vec<Grains> = shares
            .iter()
            .zip(materials)
            .map(|(share, [bulk, envelope, _, size_mm])| Grains {
                volume: *share,
                porosity: 1.0 - bulk / envelope,
                size_mm,
            })
            .collect();
        let solid: f64 = shares
            .iter()
            .zip(materials)
            .map(|(x, [b, _, s, _])| x * b / s)
            .sum();
        1.0 - solid / packed_volume(&parts, 9.0)
    };
    let mixes = [[0.9, 0.1, 0.0], [0.8, 0.2, 0.0], [0.6, 0.2, 0.2]];
    for ((row, shares), error) in rows[1..]
        .iter()
        .zip(mixes)
        .zip(["0.010", "0.000", "-0.002"])
    {
        let what = row.text("parts");
        let found = model(shares) - row.number("value");
        println!("{what}: error {found:+.3}");
        assert_printed(found, error, what);
    }
}

#[test]
fn glass_with_dredged_sand_shrinks() {
    let rows = table("measured_mixtures", 37);
    let density = |parts: &str| {
        let row = rows.iter().find(|row| row.text("parts") == parts);
        row.unwrap_or_else(|| panic!("no {parts}")).number("value")
    };
    let sand = density("river-dredge sand alone");
    for (glass, mix, stated, glass_pores) in [
        (
            "broad coarse crushed glass alone",
            "broad glass : dredge sand 1:1",
            "2.5",
            0.419,
        ),
        (
            "mid coarse crushed glass alone",
            "mid glass : dredge sand 1:1",
            "6.5",
            0.49,
        ),
    ] {
        let unmixed = 0.5 * (density(glass) + sand);
        let measured = 100.0 * (1.0 - unmixed / density(mix));
        assert_printed(measured, stated, "measured shrinkage, %");
        // Sizes were not given: near sizes must shrink by a few percent, a ratio of two by 8 to 9.
        for ratio in [0.5, 0.6, 0.7, 0.8, 0.9] {
            let parts = by_loose_share(0.5, [glass_pores, 0.43], [1.0, ratio]);
            let model = 100.0 * (1.0 - packed_volume(&parts, 9.0));
            let most = if ratio == 0.5 { 9.5 } else { 8.5 };
            assert!(
                model > 0.0 && model < most,
                "{mix}: the model shrinks by {model} % at a ratio of {ratio}, measured {measured} %"
            );
        }
    }
}
