#![cfg(not(target_arch = "wasm32"))]
//! Packing against worked cases, against a second coding, and against linear packing.

mod support;

use barrowmix::blend::{Grains, loosening, packed_volume, threshold_proportion, wall};
use support::second_way::{
    self, DE_LARRARD, NONE, by_grain_share, by_loose_share, ideal, linear, pores, yu_f, yu_g,
};
use support::{Row, assert_close, assert_printed, root_mean_square, table};

/// Two codings of one model agree to what bisection and summation leave.
const SECOND_WAY: f64 = 1e-12;
/// At the smallest size ratio, 1e-4, loosening is 0.0101 and not 0, so pore space is at most this
/// much above that of sizes that differ without end.
const SMALLEST_RATIO: f64 = 0.0101;

type Model = fn(&[Grains]) -> f64;

/// The numbers of `name=[...]` or `name=...` in the inputs of a case.
fn input(inputs: &str, name: &str) -> Option<Vec<f64>> {
    let key = format!("{name}=");
    let at = inputs
        .match_indices(&key)
        .find(|(at, _)| *at == 0 || inputs.as_bytes()[at - 1] == b' ')?
        .0;
    let rest = &inputs[at + key.len()..];
    let list = match rest.strip_prefix('[') {
        Some(list) => list.split(']').next()?,
        None => rest.split(' ').next()?,
    };
    let number = |text: &str| {
        text.trim()
            .parse()
            .unwrap_or_else(|_| panic!("{text:?} is not a number"))
    };
    Some(list.split(',').map(number).collect())
}

fn one(row: &Row, name: &str) -> f64 {
    let inputs = row.text("inputs");
    input(inputs, name).unwrap_or_else(|| panic!("{name} is not in {inputs:?}"))[0]
}

fn many(row: &Row, name: &str) -> Vec<f64> {
    let inputs = row.text("inputs");
    input(inputs, name).unwrap_or_else(|| panic!("{name} is not in {inputs:?}"))
}

fn parts(volumes: &[f64], porosities: &[f64], sizes: &[f64]) -> Vec<Grains> {
    volumes
        .iter()
        .zip(porosities)
        .zip(sizes)
        .map(|((volume, porosity), size_mm)| Grains {
            volume: *volume,
            porosity: *porosity,
            size_mm: *size_mm,
        })
        .collect()
}

/// What a worked case asks for, in the order of its printed values.
fn case(row: &Row) -> Vec<f64> {
    let function = row.text("function");
    match function {
        "a(r);b(r)" => vec![loosening(one(row, "r")), wall(one(row, "r"))],
        "f_LPM(r);g_LPM(r)" => vec![yu_f(one(row, "r")), yu_g(one(row, "r"))],
        "Vmix;n_inter" | "Vmix" | "Vmix (L)" => {
            let parts = parts(&many(row, "X"), &many(row, "n"), &many(row, "d"));
            let volume = packed_volume(&parts, one(row, "K"));
            assert_close(
                volume / second_way::packed(&parts, one(row, "K"), DE_LARRARD),
                1.0,
                SECOND_WAY,
                "two codings",
            );
            vec![volume, pores(&parts, volume)]
        }
        "c* (grain fraction), x* (loose)" => {
            let (coarse, fine) = (one(row, "n_c"), one(row, "n_f"));
            let loose = threshold_proportion(coarse, 0.0);
            let [solid_c, solid_f] = [loose * (1.0 - coarse), (1.0 - loose) * (1.0 - fine)];
            vec![solid_c / (solid_c + solid_f), loose]
        }
        "n_min" | "n" => vec![without_disturbance(row)],
        "x* = (1-a)/((1-a)+n_c(1-b))" => {
            vec![threshold_proportion(one(row, "n_c"), one(row, "r"))]
        }
        "Vmix L;BD;total porosity;inter;intra;shrink" => porous(row),
        "Adams BD" | "Federer BD" => vec![by_equal_sizes(
            one(row, "w_om"),
            one(row, "rho_o"),
            one(row, "rho_m"),
        )],
        other => panic!("{} asks for {other:?}", row.text("id")),
    }
}

/// Pore space of sizes that differ without end. The crate holds the ratio at 1e-4 and more, so it
/// is asked only to come close, and the second way to give the digits.
fn without_disturbance(row: &Row) -> f64 {
    let (coarse, fine) = (0.40, 0.55);
    let inputs = row.text("inputs");
    let share = if inputs.contains("c=c*") {
        (1.0 - coarse) / (1.0 - coarse * fine)
    } else {
        one(row, "c")
    };
    let k = one(row, "K");
    let parts = by_grain_share(share, [coarse, fine], [100.0, 0.001]);
    let exact = pores(&parts, second_way::packed(&parts, k, NONE));
    let crate_has = pores(&parts, packed_volume(&parts, k));
    assert!(
        crate_has >= exact && crate_has <= exact + SMALLEST_RATIO,
        "{inputs}: pore space {crate_has} at the smallest ratio, {exact} without end"
    );
    exact
}

/// Parts with pores inside their grains.
fn porous(row: &Row) -> Vec<f64> {
    let (volumes, sizes) = (many(row, "X"), many(row, "d"));
    let (bulk, envelope, solid) = (many(row, "rho_b"), many(row, "rho_env"), many(row, "rho_s"));
    let porosities: Vec<f64> = bulk
        .iter()
        .zip(&envelope)
        .map(|(b, e)| 1.0 - b / e)
        .collect();
    let volume = packed_volume(&parts(&volumes, &porosities, &sizes), one(row, "K"));
    let masses: Vec<f64> = volumes.iter().zip(&bulk).map(|(x, b)| x * b).collect();
    let taken = |by: &[f64]| masses.iter().zip(by).map(|(m, d)| m / d).sum::<f64>();
    let total = 1.0 - taken(&solid) / volume;
    let inter = 1.0 - taken(&envelope) / volume;
    vec![
        volume,
        masses.iter().sum::<f64>() / volume,
        total,
        inter,
        total - inter,
        1.0 - volume / volumes.iter().sum::<f64>(),
    ]
}

/// Density of two parts of one size by mass share of the first.
fn by_equal_sizes(share: f64, first: f64, second: f64) -> f64 {
    let volumes = [share / first, (1.0 - share) / second];
    1.0 / packed_volume(&parts(&volumes, &[0.5, 0.5], &[1.0, 1.0]), 9.0)
}

#[test]
fn worked_cases() {
    for row in table("packing_check_cases", 71) {
        let computed = case(&row);
        let printed: Vec<&str> = row.text("expected").split(';').collect();
        assert!(
            computed.len() >= printed.len(),
            "{} prints more than is asked for",
            row.text("id")
        );
        for (computed, printed) in computed.iter().zip(printed) {
            assert_printed(*computed, printed, row.text("id"));
        }
    }
}

#[test]
fn spheres_by_rod_mapping() {
    let rows = table("packing_spheres", 48);
    let mut errors: [Vec<f64>; 5] = Default::default();
    for row in &rows {
        let one_size = row.number("porosity_one_size");
        let ratio = row.number("size_ratio_coarse_to_fine");
        let share = row.number("coarse_fraction_solid_volume");
        let parts = by_grain_share(share, [one_size, one_size], [ratio, 1.0]);
        let computed = [
            packed_volume(&parts, 9.0),
            packed_volume(&parts, f64::INFINITY),
            linear(&parts),
            ideal(&parts),
            second_way::additive(&parts),
        ]
        .map(|volume| pores(&parts, volume));
        let what = format!("ratio {ratio}, share {share}");
        assert_printed(computed[0], row.text("cpm_K9"), &what);
        assert_printed(computed[1], row.text("cpm_Kinf"), &what);
        assert_printed(computed[2], row.text("lpm_Kinf"), &what);
        for (errors, computed) in errors.iter_mut().zip(computed) {
            errors.push(computed - row.number("porosity"));
        }
    }
    let stated = table("mixture_errors", 5);
    let stated = stated.iter().find(|row| row.text("set") == "spheres");
    let stated = stated.expect("the spheres have a row");
    for (column, errors) in ["cpm_K9", "cpm_Kinf", "lpm_Kinf", "ideal", "additive"]
        .iter()
        .zip(&errors)
    {
        assert_printed(root_mean_square(errors), stated.text(column), column);
    }
}

#[test]
fn sand_in_clay() {
    let (soil_bulk, sand_bulk, solid) = (1.15, 1.59, 2.65);
    for row in table("sand_in_clay", 11) {
        let share = row.number("sand_share_of_loose_volume");
        let mix = |envelope: f64, soil_mm: f64, sand_mm: f64| {
            let porosity = [1.0 - sand_bulk / solid, 1.0 - soil_bulk / envelope];
            let parts = by_loose_share(share, porosity, [sand_mm, soil_mm]);
            let volume = packed_volume(&parts, 9.0);
            let density = (share * sand_bulk + (1.0 - share) * soil_bulk) / volume;
            [100.0 * (1.0 - volume), density, 1.0 - density / solid]
        };
        let what = |column: &str| format!("{column} at a share of {share}");
        let sand_kg = share * sand_bulk;
        let column = "sand_share_of_mass";
        let by_mass = sand_kg / (sand_kg + (1.0 - share) * soil_bulk);
        assert_printed(by_mass, row.text(column), &what(column));
        let states = [
            ("slaked", mix(solid, 0.01, 0.35)),
            ("crumbs", mix(1.60, 3.0, 0.35)),
        ];
        for (state, [shrink, density, pores]) in states {
            for (name, value) in [("shrink", shrink), ("bd", density), ("tp", pores)] {
                let column = format!("{state}_{name}");
                assert_printed(value, row.text(&column), &what(&column));
            }
        }
        let [_, density, pores] = mix(1.60, 3.0, 0.8);
        assert_printed(
            density,
            row.text("crumbs_coarse_sand_bd"),
            &what("coarse sand"),
        );
        assert_printed(
            pores,
            row.text("crumbs_coarse_sand_tp"),
            &what("coarse sand"),
        );
        let [fine, coarse] = [0.35, 0.8].map(|sand_mm| mix(solid, 0.01, sand_mm)[2]);
        assert_close(
            coarse,
            fine,
            0.010,
            &what("slaked pore space with 0.8 mm sand"),
        );
    }
}

#[test]
fn pairs_of_materials() {
    for row in table("packing_pairs", 6) {
        let porosity = ["first_porosity", "second_porosity"].map(|name| row.number(name));
        let size_mm = ["first_mm", "second_mm"].map(|name| row.number(name));
        for (share, column) in [(0.25, "shrink_25"), (0.5, "shrink_50"), (0.75, "shrink_75")] {
            let volume = packed_volume(&by_loose_share(share, porosity, size_mm), 9.0);
            let what = format!("{} in {} at {share}", row.text("first"), row.text("second"));
            assert_printed(100.0 * (1.0 - volume), row.text(column), &what);
        }
    }
}

#[test]
fn largest_shrinkage() {
    // Any pore space of the fine part: it takes no part in the shrinkage of two sizes.
    for fine in [0.45, 0.55] {
        let models: [(&str, Model); 3] = [
            ("cpm_Kinf", |parts| packed_volume(parts, f64::INFINITY)),
            ("cpm_K9", |parts| packed_volume(parts, 9.0)),
            ("lpm_Kinf", linear),
        ];
        for row in table("packing_largest_shrinkage", 10) {
            let ratio = row.number("ratio");
            for (column, model) in models {
                let most = (1..10_000)
                    .map(|step| {
                        let share = f64::from(step) / 10_000.0;
                        1.0 - model(&by_loose_share(share, [0.40, fine], [1.0, ratio]))
                    })
                    .fold(0.0, f64::max);
                assert_printed(
                    most,
                    row.text(column),
                    &format!("{column} at ratio {ratio}"),
                );
            }
        }
    }
}

/// Of grains of one size, and of "fines" that are larger, nothing fills and nothing is displaced: as
/// of fines that are nothing, the coarse pores hold the share that is left, 1/(1 + pores).
#[test]
fn equal_grains_meet_at_the_plain_threshold() {
    for pores in [0.2, 0.4, 0.7] {
        for ratio in [1.0, 3.0] {
            let is = threshold_proportion(pores, ratio);
            assert_close(is, 1.0 / (1.0 + pores), 1e-12, "threshold of equal grains");
        }
    }
}
